/* GEOS as the judge of layouts: every paddock is a valid polygon, no two of
 * them overlap, and together they are the field. On fields at random, with
 * ponds, and on every tenth of the real ones. */
#include "layout_fields.h"
#include "random_farm.h"
#include "random_plot.h"

struct tally {
    size_t fields, none, candidates, wrong;
};

/* Of a paddock, or of the field, as GEOS rounds. */
static const double alike = 1e-6;

static bool are_valid(GEOSContextHandle_t geos, GEOSGeometry **grounds,
                      size_t count, const struct fw_layout *layout)
{
    for (size_t i = 0; i < count; i++) {
        if (GEOSisValid_r(geos, grounds[i]) != 1) {
            char *reason = GEOSisValidReason_r(geos, grounds[i]);
            print_message("# %s: ground %zu: %s\n", layout->name, i, reason);
            GEOSFree_r(geos, reason);
            return false;
        }
        const double m2 = geos_area(geos, grounds[i]);
        if (!(fabs(m2 / layout->paddock_m2[i] - 1) <= 1e-9)) {
            print_message("# %s: ground %zu: %.15g m2, by GEOS %.15g\n",
                          layout->name, i, layout->paddock_m2[i], m2);
            return false;
        }
    }
    return true;
}

static bool are_apart(GEOSContextHandle_t geos, GEOSGeometry **grounds,
                      size_t count, const struct fw_layout *layout)
{
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < i; k++) {
            if (GEOSDisjoint_r(geos, grounds[i], grounds[k]) == 1)
                continue;
            GEOSGeometry *both =
                GEOSIntersection_r(geos, grounds[i], grounds[k]);
            const double m2 = geos_area(geos, both);
            GEOSGeom_destroy_r(geos, both);
            if (!(m2 <= alike * layout->paddock_m2[i])) {
                print_message("# %s: grounds %zu and %zu share %g m2\n",
                              layout->name, i, k, m2);
                return false;
            }
        }
    return true;
}

/* Takes the grounds. On a grid: without one, GEOS 3.11 can find two polygons
 * that agree to the last digits to have nothing in common. */
static bool are_the_field(GEOSContextHandle_t geos, const GEOSGeometry *field,
                          GEOSGeometry **grounds, size_t count,
                          const struct fw_layout *layout)
{
    const double grid_m = 1e-6, field_m2 = geos_area(geos, field);
    GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON,
                                                    grounds, (unsigned)count);
    GEOSGeometry *one = GEOSUnaryUnionPrec_r(geos, all, grid_m);
    GEOSGeometry *off = GEOSSymDifferencePrec_r(geos, one, field, grid_m);
    const double off_m2 = geos_area(geos, off), m2 = geos_area(geos, one);
    GEOSGeom_destroy_r(geos, off);
    GEOSGeom_destroy_r(geos, one);
    GEOSGeom_destroy_r(geos, all);
    if (off_m2 <= alike * field_m2 && fabs(m2 / field_m2 - 1) <= alike)
        return true;
    print_message("# %s: %g m2 of %g lie elsewhere\n", layout->name, off_m2,
                  field_m2);
    return false;
}

static bool is_right(GEOSContextHandle_t geos, const struct fw_field *field,
                     const struct fw_layout *layout)
{
    const size_t count = layout->paddock_count + layout->common_count;
    GEOSGeometry **grounds = calloc(count, sizeof *grounds);
    GEOSGeometry *whole = geos_field(geos, field);
    for (size_t i = 0; i < count; i++)
        grounds[i] = geos_ground(geos, field, layout, i);
    const bool valid = are_valid(geos, grounds, count, layout);
    bool right = valid && are_apart(geos, grounds, count, layout);
    if (valid)
        right &= are_the_field(geos, whole, grounds, count, layout);
    for (size_t i = 0; !valid && i < count; i++)
        GEOSGeom_destroy_r(geos, grounds[i]);
    GEOSGeom_destroy_r(geos, whole);
    free(grounds);
    return right;
}

static void try_field(GEOSContextHandle_t geos, const struct fw_field *field,
                      size_t paddocks, bool bends, long long number,
                      struct tally *tally)
{
    const double target = field->area_m2 / ((double)paddocks - 0.4);
    const struct fw_point water = {0, 0};
    const struct fw_layout_request request = {
        .field = field,
        .target = &target,
        .target_count = 1,
        .last = paddocks % 2 ? FW_LAST_EVEN : FW_LAST_SHORT,
        .start = &field->vertices[0].plane,
        .water = &water,
        .bends = bends};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    tally->fields++;
    if (status && status != FW_EPLAN)
        fail_msg("field %lld: %s", number, err.text);
    tally->none += status != FW_OK;
    if (status)
        print_message("# field %lld in %zu: %s\n", number, paddocks, err.text);
    for (size_t i = 0; i < list.count; i++) {
        tally->candidates++;
        if (is_right(geos, field, &list.items[i]))
            continue;
        print_message("# field %lld in %zu\n", number, paddocks);
        tally->wrong++;
    }
    fw_layout_list_release(&list);
}

static void tell(const struct tally *tally)
{
    print_message("# %zu layouts of %zu fields judged, %zu wrong; %zu fields "
                  "without one\n",
                  tally->candidates, tally->fields, tally->wrong, tally->none);
    assert_int_equal(tally->wrong, 0);
}

static void layouts_of_random_fields_are_maps(void **state)
{
    (void)state;
    const char *wanted = getenv("FW_FIELDS");
    const size_t fields = wanted ? strtoul(wanted, NULL, 10) : 80;
    uint64_t seed = seeded(20260511);
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    for (size_t i = 0; i < fields; i++) {
        struct plot plot;
        draw_plot(geos, &plot, &seed);
        try_field(geos, &plot.field, draw_count(&seed, 1, 40), i % 2,
                  (long long)i, &tally);
    }
    GEOS_finish_r(geos);
    assert_true(tally.candidates > 2 * fields);
    tell(&tally);
}

static void layouts_of_fields_of_our_own_are_maps(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    uint64_t seed = seeded(20260512);
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++)
            try_field(geos, own.fields[i], 3 + i % 8, i % 2, own.fids[i],
                      &tally);
        release_fields(&own);
    }
    GEOS_finish_r(geos);
    assert_true(tally.candidates > 2 * tally.fields);
    tell(&tally);
}

static void layouts_of_real_fields_are_maps(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    for (size_t m = 0; m < COUNT(chosen_maps); m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i += 10)
            for (int bends = 0; bends < 2; bends++)
                try_field(geos, real.fields[i], 30, bends, real.fids[i],
                          &tally);
        release_fields(&real);
    }
    GEOS_finish_r(geos);
    tell(&tally);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(layouts_of_random_fields_are_maps),
        cmocka_unit_test(layouts_of_fields_of_our_own_are_maps),
        data_test(layouts_of_real_fields_are_maps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
