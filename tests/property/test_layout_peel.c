/* Paddocks cut off one after the other: each holds its own, and lies beside
 * the one before. */
#include "random_plot.h"

#include "cutting/peel.h"
#include "unit/subdivision_help.h"

enum { most_plots = 9 };

static bool share_a_fence(const struct fw_region *a, const struct fw_region *b,
                          size_t given)
{
    for (size_t i = 0; i < a->ring_start[1]; i++)
        for (size_t k = 0; k < b->ring_start[1]; k++)
            if (a->supports[i] >= given && a->supports[i] == b->supports[k])
                return true;
    return false;
}

/* Is it whole? */
static bool peel(const struct plot *plot, size_t count)
{
    struct fw_region whole, paddocks[most_plots];
    double behind[most_plots];
    struct fw_plots plots = {
        .behind = behind, .count = count, .regions = paddocks, .whole = true};
    begin(&plots.subdivision, &whole, plot, NULL);
    for (size_t k = 0; k < count; k++)
        behind[k] = plot->field.area_m2 * (double)((k + 1) * (k + 2)) /
                    (double)(count * (count + 1));
    assert_int_equal(fw_layout__peel(NULL, &plots, NULL), FW_OK);
    assert_int_equal(plots.common_count, 0);
    for (size_t k = 0; plots.whole && k < count; k++) {
        assert_relative(holds(&plots.subdivision, &paddocks[k]),
                        behind[k] - (k > 0 ? behind[k - 1] : 0), 1e-9);
        if (k > 0)
            assert_true(share_a_fence(&paddocks[k - 1], &paddocks[k],
                                      plot->field.vertex_count));
    }
    if (plots.whole) {
        struct fw_layout out = finish(&plots.subdivision, paddocks, count, 0);
        assert_true(out.line_count >= count - 1);
        assert_near(out.moved_m, 0, 0); /* later ones end on them */
        fw_layout_release(&out);
    } else {
        fw_subdivision_release(&plots.subdivision);
    }
    fw_region_release(&whole);
    return plots.whole;
}

static void paddocks_are_cut_off_beside_each_other(void **state)
{
    (void)state;
    uint64_t seed = seeded(2341);
    size_t whole = 0, not_whole = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 40; i++) {
        struct plot plot;
        do
            draw_plot(geos, &plot, &seed);
        while (plot.field.vertex_count > 60);
        *(peel(&plot, draw_count(&seed, 2, most_plots)) ? &whole
                                                        : &not_whole) += 1;
    }
    GEOS_finish_r(geos);
    printf("# %zu whole, %zu not\n", whole, not_whole);
    assert_true(whole >= 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paddocks_are_cut_off_beside_each_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
