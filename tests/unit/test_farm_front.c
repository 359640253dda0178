/* A front fence that stands already: how it is told, and what is refused. The
 * field is 100 m by 80 m; corner 1 is its north-western one. */
#include "farm_help.h"

#define FIELDS "fields: {source: field.geojson}\n"

static void a_front_leaves_what_lies_beyond_it(void **state)
{
    (void)state;
    struct fw_farm *farm =
        good_farm(FIELDS "gate: corner:1\nfront: side:1@30m to side:3@50m\n");
    const struct fw_farm_field *field = &farm->fields[0];
    /* 30 m from the west in the north, 50 m from it in the south. */
    assert_true(field->front.given);
    assert_near(field->front.behind_m2, (30 + 50) * 80 / 2., 2);
    assert_near(field->grazed->area_m2, (70 + 50) * 80 / 2., 2);
    assert_near(field->grazed->area_m2 + field->front.behind_m2,
                field->shape->area_m2, 1e-6);
    assert_string_equal(field->front.text, "side:1@30m to side:3@50m");
    size_t runs = 0;
    for (size_t i = 0; i < field->grazed->vertex_count; i++)
        runs += field->front.runs[i];
    assert_int_equal(runs, 1);
    fw_farm_free(farm);

    farm =
        good_farm(FIELDS "water: corner:2\nfront: side:1@30m to side:3@50m\n");
    assert_near(farm->fields[0].front.behind_m2, (70 + 50) * 80 / 2., 2);
    fw_farm_free(farm);
}

static void a_front_bends_at_its_places(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(
        FIELDS "gate: side:1\nfront: corner:1 to 9.0,51.0 to  side:2@40m\n");
    const struct fw_farm_field *field = &farm->fields[0];
    /* The upper half less the triangle over the middle of the west side. */
    assert_near(field->front.behind_m2, 100 * 40 - 50 * 40 / 2., 3);
    size_t runs = 0;
    for (size_t i = 0; i < field->grazed->vertex_count; i++)
        runs += field->front.runs[i];
    assert_int_equal(runs, 2);
    fw_farm_free(farm);
}

static void what_is_taken_off_comes_before_the_front(void **state)
{
    (void)state;
    put_text("wood.geojson",
             COLLECTION(FEATURE(
                 "Wood", POLYGON("[[9.0002,50.999],[9.001,50.999],[9.001,51.0],"
                                 "[9.0002,51.0],[9.0002,50.999]]"))));
    struct fw_farm *farm =
        good_farm(FIELDS "gate: corner:1\n"
                         "front: side:1@30m to side:3@50m\n"
                         "maps: [{role: exclusion, source: wood.geojson}]\n");
    const struct fw_farm_field *field = &farm->fields[0];
    assert_true(field->excluded_m2 > 1000);
    assert_near(field->grazed->area_m2 + field->front.behind_m2 +
                    field->excluded_m2,
                field->shape->area_m2, 1e-6);
    fw_farm_free(farm);
}

static void a_map_may_show_the_front(void **state)
{
    (void)state;
    put_text("front.geojson",
             COLLECTION(FEATURE("", "{\"type\":\"LineString\","
                                    "\"coordinates\":"
                                    "[[9.0,51.0003595],[9.0,50.9996405]]"
                                    "}") "," FEATURE("elsewhere",
                                                     "{\"type\":"
                                                     "\"LineString\","
                                                     "\"coordinates\":"
                                                     "[[9.001,51.0003595]"
                                                     ",[9.001,50.9996405]"
                                                     "]}")));
    struct fw_farm *farm =
        good_farm(FIELDS "gate: corner:1\n"
                         "maps: [{role: front, source: front.geojson}]\n");
    assert_near(farm->fields[0].front.behind_m2, 50 * 80, 2);
    assert_string_equal(farm->fields[0].front.text,
                        "feature 1 of front.geojson");
    fw_farm_free(farm);

    struct fw_error err = {0};
    assert_null(farm_of(FIELDS "gate: corner:1\n"
                               "front: side:1@30m to side:3@50m\n"
                               "maps: [{role: front, source: front.geojson}]\n",
                        true, &err));
    assert_says(&err, "there are two fronts on it");
    assert_says(&err, "side:1@30m to side:3@50m");
}

/* Across the lower left corner: of s m on both sides it has 1.41 s m inside. A
 * line with less than 5 m on a field is the neighbour's. */
static void a_line_that_only_grazes_a_corner_is_no_front(void **state)
{
    (void)state;
    for (int i = 0; i < 2; i++) {
        const double s = i ? 3.7 : 3.4;
        const double east = s * 0.001425 / 100, north = s * 0.000719 / 80;
        char text[400];
        snprintf(text, sizeof text,
                 COLLECTION(FEATURE("", "{\"type\":\"LineString\","
                                        "\"coordinates\":[[%.9f,%.9f],"
                                        "[%.9f,%.9f]]}")),
                 8.9992875 + 2 * east, 50.9996405 - north, 8.9992875 - east,
                 50.9996405 + 2 * north);
        put_text("front.geojson", text);
        struct fw_farm *farm =
            good_farm(FIELDS "gate: \"8.9992875,50.9996405\"\n"
                             "maps: [{role: front, source: front.geojson}]\n");
        assert_int_equal(farm->fields[0].front.given, i);
        fw_farm_free(farm);
    }
}

static void a_fields_own_front_is_named_by_its_place_in_the_list(void **state)
{
    (void)state;
    struct fw_error err = {0};
    put_text(
        "two.geojson",
        COLLECTION(FEATURE("A", POLYGON(FIELD_RING)) "," FEATURE(
            "B", POLYGON("[[9.1,51],[9.101,51],[9.101,51.001],[9.1,51.001],"
                         "[9.1,51]]"))));
    assert_null(farm_of("fields:\n  source: two.geojson\n  each:\n"
                        "    - {field: A, gate: corner:1}\n"
                        "    - {field: B, gate: corner:1, front: corner:2}\n",
                        true, &err));
    assert_says(&err, "farm.yaml:5: fields.each[1].front: \"corner:2\"");
}

static void refused(const char *rest, const char *piece)
{
    struct fw_error err = {0};
    char text[512];
    snprintf(text, sizeof text, FIELDS "%s", rest);
    assert_null(farm_of(text, true, &err));
    assert_int_equal(err.status, FW_EINPUT);
    assert_says(&err, piece);
    assert_says(&err, "front: ");
}

static void bad_fronts_are_refused_in_clear_words(void **state)
{
    (void)state;
    refused("gate: corner:1\nfront: side:1@30m\n",
            "farm.yaml:3: front: \"side:1@30m\" is no line; expected two "
            "places or more");
    refused("gate: corner:1\nfront: side:1@30m to side:9\n",
            "there is no corner 9");
    refused("gate: corner:1\nfront: side:1@30m to oak\n",
            "\"oak\" is no place");
    refused("gate: corner:1\nfront: side:1@30m to 9.0,51.0\n",
            "Long Bottom: its last end lies 40 m from the edge; expected a "
            "line from edge to edge");
    refused("gate: corner:1\nfront: side:1@30m to side:1@60m\n",
            "does not part the field");
    refused("gate: side:1@30m\nfront: side:1@30m to side:3@50m\n",
            "the gate stands on it");
}

/* A look at the fields says so; a plan cannot do without. */
static void something_must_tell_which_side_is_grazed(void **state)
{
    (void)state;
    struct fw_error err = {0};
    const char *text = FIELDS "front: side:1@30m to side:3@50m\n";
    assert_null(farm_of(text, false, &err));
    assert_says(&err, "front: Long Bottom: neither gate nor water is told");
    struct fw_farm *farm = good_farm(text);
    assert_false(farm->fields[0].front.given);
    assert_near(farm->fields[0].grazed->area_m2, farm->fields[0].shape->area_m2,
                0);
    fw_farm_free(farm);
}

/* The water tells it where the gate cannot. */
static void the_water_tells_the_side_when_the_gate_stands_on_it(void **state)
{
    (void)state;
    struct fw_farm *farm =
        good_farm(FIELDS "gate: side:1@30m\nwater: corner:1\n"
                         "front: side:1@30m to side:3@50m\n");
    assert_near(farm->fields[0].front.behind_m2, (30 + 50) * 80 / 2., 2);
    fw_farm_free(farm);
}

static void each_field_has_its_own_front(void **state)
{
    (void)state;
    put_text("two.geojson",
             COLLECTION(FEATURE("Long Bottom", POLYGON(FIELD_RING)) "," FEATURE(
                 "Top", POLYGON("[[9.01,51.0],[9.012,51.0],[9.012,51.001],"
                                "[9.01,51.001],[9.01,51.0]]"))));
    struct fw_farm *farm = good_farm(
        "fields: {source: two.geojson, each: [{field: Long Bottom, gate: "
        "corner:1, front: side:1@30m to side:3@50m}]}\n");
    assert_true(farm->fields[0].front.given);
    assert_false(farm->fields[1].front.given);
    fw_farm_free(farm);
    struct fw_error err = {0};
    assert_null(farm_of("fields: {source: two.geojson}\n"
                        "front: side:1@30m to side:3@50m\n",
                        true, &err));
    assert_says(&err, "tell it under fields.each");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_front_leaves_what_lies_beyond_it),
        cmocka_unit_test(a_front_bends_at_its_places),
        cmocka_unit_test(what_is_taken_off_comes_before_the_front),
        cmocka_unit_test(a_map_may_show_the_front),
        cmocka_unit_test(a_line_that_only_grazes_a_corner_is_no_front),
        cmocka_unit_test(a_fields_own_front_is_named_by_its_place_in_the_list),
        cmocka_unit_test(bad_fronts_are_refused_in_clear_words),
        cmocka_unit_test(something_must_tell_which_side_is_grazed),
        cmocka_unit_test(the_water_tells_the_side_when_the_gate_stands_on_it),
        cmocka_unit_test(each_field_has_its_own_front),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
