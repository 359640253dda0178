/* Fields in memory against the same ones in a file. */
#include "farm_help.h"

static const struct fw_lonlat outer[] = {{8.9992875, 50.9996405},
                                         {9.0007125, 50.9996405},
                                         {9.0007125, 51.0003595},
                                         {8.9992875, 51.0003595}};
static const size_t one_ring[] = {0, 4};

static enum fw_status read_rings(const struct fw_farm_rings *rings,
                                 size_t count, struct fw_farm **out,
                                 struct fw_error *err)
{
    const struct fw_farm_request request = {
        .rings = rings, .rings_count = count, .fields_only = true};
    return fw_farm_read(&request, out, NULL, NULL, err);
}

/* Every vertex to the last bit: both are read by the same rules. */
static void rings_are_the_field_that_a_file_has(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    const struct fw_farm_rings rings = {"Long Bottom", outer, one_ring, 1};
    assert_int_equal(read_rings(&rings, 1, &farm, &err), FW_OK);
    struct fw_farm *filed = good_farm("fields: {source: field.geojson}\n");
    assert_int_equal(farm->field_count, 1);
    const struct fw_field *a = farm->fields[0].shape;
    const struct fw_field *b = filed->fields[0].shape;
    assert_string_equal(a->name, b->name);
    assert_int_equal(a->vertex_count, b->vertex_count);
    assert_memory_equal(a->vertices, b->vertices,
                        a->vertex_count * sizeof *a->vertices);
    assert_int_equal(farm->inputs.count, 0);
    assert_string_equal(farm->fields_source, "rings");
    fw_farm_free(filed);
    fw_farm_free(farm);
}

/* A pond comes off, whichever way its ring runs; each field keeps its name. */
static void holes_and_several_fields_come_with_them(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    struct fw_lonlat points[8];
    for (size_t i = 0; i < 4; i++) {
        points[i] = outer[i];
        /* a quarter as long and as wide about the middle */
        points[4 + i] = (struct fw_lonlat){9 + (outer[i].lon_deg - 9) / 4,
                                           51 + (outer[i].lat_deg - 51) / 4};
    }
    static const size_t two_rings[] = {0, 4, 8};
    const struct fw_farm_rings rings[] = {{"whole", points, two_rings, 1},
                                          {"pond", points, two_rings, 2}};
    assert_int_equal(read_rings(rings, 2, &farm, &err), FW_OK);
    assert_int_equal(farm->field_count, 2);
    const double whole_m2 = farm->fields[0].shape->area_m2;
    assert_string_equal(farm->fields[1].shape->name, "pond");
    assert_int_equal(farm->fields[1].shape->ring_count, 2);
    assert_near(farm->fields[1].shape->area_m2, whole_m2 * 15 / 16, 1e-3);
    fw_farm_free(farm);
}

static void what_is_no_field_is_refused(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    static const size_t too_few[] = {0, 2};
    struct fw_lonlat points[4];
    for (size_t i = 0; i < 4; i++)
        points[i] = outer[i];
    struct fw_farm_rings rings = {NULL, points, too_few, 1};
    assert_int_equal(read_rings(&rings, 1, &farm, &err), FW_EINPUT);
    assert_says(&err, "rings: feature 1");
    rings.ring_start = one_ring;
    points[2].lat_deg = (double)NAN;
    assert_int_equal(read_rings(&rings, 1, &farm, &err), FW_EINPUT);
    rings.ring_count = 0;
    assert_int_equal(read_rings(&rings, 1, &farm, &err), FW_EINPUT);
    assert_null(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(rings_are_the_field_that_a_file_has,
                                        farm_set_up, farm_tear_down),
        cmocka_unit_test_setup_teardown(holes_and_several_fields_come_with_them,
                                        farm_set_up, farm_tear_down),
        cmocka_unit_test(what_is_no_field_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
