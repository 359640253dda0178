/* The same field moved, turned, mirrored, grown, or begun at another corner
 * gets the same layouts: as much line of every pattern, and as large
 * paddocks. */
#include "random_plot.h"

enum { most_patterns = 16 };

struct result {
    double least_m[most_patterns]; /* of each pattern; infinite: none */
    size_t paddocks, full;
};

/* A field that is twice as large has a lane of twice the width. */
static struct result lay_out(const struct plot *plot, double target,
                             double scale)
{
    struct result result = {.paddocks = 0};
    struct fw_error err = {0};
    const char *name;
    for (size_t p = 0; (name = fw_layout_pattern(p, NULL)); p++) {
        const struct fw_layout_request request = {.field = &plot->field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_EVEN,
                                                  .pattern = name,
                                                  .lane_width_m = 6 * scale};
        struct fw_layout_list list = {0};
        const enum fw_status status =
            fw_layout_candidates(&request, &list, &err);
        if (status && status != FW_EPLAN)
            fail_msg("%s", err.text);
        result.least_m[p] = list.count ? least_line(&list)->line_m : HUGE_VAL;
        for (size_t i = 0; i < list.count; i++) {
            if (list.items[i].common_count)
                continue;
            result.paddocks = list.items[i].paddock_count;
            result.full = list.items[i].full_count;
            for (size_t k = 0; k < result.paddocks; k++)
                assert_relative(list.items[i].holds[k],
                                plot->field.area_m2 / (double)result.paddocks,
                                1e-9);
        }
        fw_layout_list_release(&list);
    }
    return result;
}

/* Whole degrees turn the grid of directions into itself; the coarser grids of
 * limbs want 15. */
static const struct way {
    const char *what;
    double deg, scale;
    bool mirrored;
    size_t first;
    struct fw_point by;
} ways[] = {
    {"turned by 15", 15, 1, false, 0, {0, 0}},
    {"turned by 90", 90, 1, false, 0, {0, 0}},
    {"turned by 225", 225, 1, false, 0, {0, 0}},
    {"mirrored", 0, 1, true, 0, {0, 0}},
    {"mirrored and turned by 30", 30, 1, true, 0, {0, 0}},
    {"grown", 0, 2.5, false, 0, {0, 0}},
    {"begun at another corner", 0, 1, false, 3, {0, 0}},
    {"moved", 0, 1, false, 0, {1234.5, -777.25}},
};

/* Sweeps are alike in all of them. The other patterns go by the field's corners
 * one after the other, stop when they have looked at enough, and take the
 * first of what is equally good but for rounding; a flock's 4 m do not grow
 * with the field. They come near. */
static double tolerance(const char *pattern)
{
    return strcmp(pattern, "strips") == 0 || strcmp(pattern, "blocks") == 0
               ? 1e-9
               : 0.03;
}

static void change(const struct plot *from, const struct way *way,
                   struct plot *to)
{
    *to = (struct plot){.ring_start = {0}};
    for (size_t r = 0; r < from->field.ring_count; r++) {
        struct fw_point points[most_points];
        const size_t start = from->ring_start[r];
        const size_t count = from->ring_start[r + 1] - start;
        for (size_t i = 0; i < count; i++) {
            struct fw_point p =
                from->vertices[start + (i + way->first) % count].plane;
            if (way->mirrored)
                p.y_m = -p.y_m;
            p = turned(p, way->deg);
            p.x_m = p.x_m * way->scale + way->by.x_m;
            p.y_m = p.y_m * way->scale + way->by.y_m;
            /* mirrored, the ring has to run the other way */
            points[way->mirrored ? count - 1 - i : i] = p;
        }
        add_ring(to, points, count);
    }
}

static void symmetries_give_the_same_layouts(void **state)
{
    (void)state;
    uint64_t seed = seeded(20260518);
    GEOSContextHandle_t geos = GEOS_init_r();
    size_t compared = 0, off = 0, loosely_off = 0;
    for (size_t i = 0; i < 40; i++) {
        struct plot plot;
        draw_plot(geos, &plot, &seed);
        const double n = (double)draw_count(&seed, 2, 40);
        const struct result plain = lay_out(&plot, plot.field.area_m2 / n, 1);
        for (size_t w = 0; w < COUNT(ways); w++) {
            struct plot other;
            change(&plot, &ways[w], &other);
            const struct result changed =

                lay_out(&other, other.field.area_m2 / n, ways[w].scale);
            assert_int_equal(changed.paddocks, plain.paddocks);
            assert_int_equal(changed.full, plain.full);
            const char *name;
            for (size_t p = 0; (name = fw_layout_pattern(p, NULL)); p++) {
                const double wanted = plain.least_m[p] * ways[w].scale;
                const double got = changed.least_m[p];
                const bool loose = tolerance(name) > 1e-9;
                compared++;
                if (isinf(wanted) || isinf(got)
                        ? isinf(got) == isinf(wanted)
                        : fabs(got - wanted) <= tolerance(name) * wanted)
                    continue;
                *(loose ? &loosely_off : &off) += 1;
                print_message("# field %zu in %g, %s, %s: %.10g m of line; "
                              "expected %.10g\n",
                              i, n, ways[w].what, name, got, wanted);
            }
        }
    }
    GEOS_finish_r(geos);
    print_message("# %zu lines compared, %zu off, %zu of patterns that go by "
                  "corners\n",
                  compared, off, loosely_off);
    assert_int_equal(off, 0);
    assert_true(loosely_off <= compared / 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(symmetries_give_the_same_layouts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
