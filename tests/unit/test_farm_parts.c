/* Fields in parts, for the condition of the grass that zones tell: names, what
 * is told for a part and for its whole field, sides, order, and what is left
 * in one. */
#include "forms_maps.h"

#define GRASS                                                                  \
    "forage: {mass: 2600 kg/ha, residual: 1200 kg/ha, condition: fresh}\n"
#define FARM                                                                   \
    "fields: {source: field.geojson}\nmaps: [{role: zone, source: "            \
    "zones.geojson}]\n" GRASS
#define EACH(rows)                                                             \
    "fields:\n  source: field.geojson\n  each:\n" rows                         \
    "maps: [{role: zone, source: zones.geojson}]\n" GRASS

static struct fw_farm *read_all(const char *text, struct fw_notes *notes,
                                struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {
        .farm_path = "farm.yaml", .fields_only = true, .every_field = true};
    (void)fw_farm_read(&request, &farm, NULL, notes, err);
    return farm;
}

static struct fw_farm *parted(const char *text)
{
    struct fw_error err = {0};
    struct fw_farm *farm = read_all(text, NULL, &err);
    if (!farm)
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    return farm;
}

/* The eastern 40 m of 100 m by 80 m. */
static const struct drawn east_end = {"\"condition\":\"rank\"",
                                      BOX(60, -5, 120, 85), 0};

static void name_is(const struct fw_farm *farm, size_t field, const char *name)
{
    assert_true(field < farm->field_count);
    assert_string_equal(farm->fields[field].shape->name, name);
}

static double share_of(const struct fw_farm *farm, size_t field)
{
    return farm->fields[field].shape->area_m2 / farm->wholes[0]->area_m2;
}

static void a_zone_of_another_condition_is_a_part(void **state)
{
    (void)state;
    draw_map("zones.geojson", &east_end, 1);
    struct fw_farm *farm = parted(FARM);
    assert_int_equal(farm->field_count, 2);
    name_is(farm, 0, "Long Bottom/fresh");
    name_is(farm, 1, "Long Bottom/rank");
    assert_relative(share_of(farm, 0), 0.6, 1e-6);
    assert_relative(share_of(farm, 1), 0.4, 1e-6);
    assert_int_equal(farm->fields[0].sward.condition, FW_CONDITION_FRESH);
    assert_int_equal(farm->fields[1].sward.condition, FW_CONDITION_RANK);
    fw_farm_free(farm);
}

/* One of the same condition is a zone and no more; the perimeter of a bare
 * field is that of the whole one. */
static void others_are_whole(void **state)
{
    (void)state;
    const struct drawn same = {"\"condition\":\"fresh\"", BOX(60, -5, 120, 85),
                               0};
    draw_map("zones.geojson", &same, 1);
    struct fw_farm *farm = parted(FARM);
    assert_int_equal(farm->field_count, 1);
    assert_null(farm->fields[0].border.whole);
    fw_farm_free(farm);
    draw_map("zones.geojson", &east_end, 1);
    farm = good_farm(FARM);
    assert_int_equal(farm->field_count, 1);
    fw_farm_free(farm);
}

/* Too narrow, too small, in the midst: told, and left with the rest. */
static void what_cannot_be_fenced_is_told(void **state)
{
    (void)state;
    static const struct drawn zones[] = {
        {"\"condition\":\"rank\"", BOX(0, 0, 5, 80), 0},
        {"\"condition\":\"rank\"", BOX(-1, -1, 6, 6), 0},
        {"\"condition\":\"rank\"", BOX(30, 30, 70, 50), 0}};
    static const char *const said[] = {"400 m2 of grass", NULL,
                                       "800 m2 of grass"};
    for (size_t i = 0; i < 3; i++) {
        struct fw_notes notes = {0};
        struct fw_error err = {0};
        bool told = false;
        draw_map("zones.geojson", &zones[i], 1);
        struct fw_farm *farm = read_all(FARM, &notes, &err);
        assert_non_null(farm);
        assert_int_equal(farm->field_count, 1);
        for (size_t k = 0; said[i] && k < notes.count; k++)
            told |= strstr(notes.items[k].text, said[i]) != NULL;
        assert_true(told == (said[i] != NULL));
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

/* A strip across makes three parts; they are grazed from the gate on, each
 * beside one before it. */
static void parts_follow_from_the_gate(void **state)
{
    (void)state;
    const struct drawn strip = {"\"condition\":\"aged\"", BOX(40, -5, 60, 85),
                                0};
    draw_map("zones.geojson", &strip, 1);
    struct fw_farm *farm = parted(FARM "gate: side:2@40m\n"); /* in the east */
    assert_int_equal(farm->field_count, 3);
    name_is(farm, 1, "Long Bottom/aged");
    const struct fw_field *first = farm->fields[0].shape;
    const struct fw_field *last = farm->fields[2].shape;
    assert_true(first->vertices[first->corners[0]].plane.x_m >
                last->vertices[last->corners[0]].plane.x_m);
    assert_false(farm->fields[0].front.given);
    assert_true(farm->fields[1].front.given && farm->fields[2].front.given);
    for (size_t i = 0; i < 3; i++) /* told once, for the whole */
        assert_true(farm->fields[i].gate.given);
    size_t runs = 0;
    const struct fw_farm_field *middle = &farm->fields[1];
    for (size_t v = 0; v < middle->shape->vertex_count; v++)
        runs += middle->front.runs[v];
    assert_int_equal(runs, 1); /* not on the west, which comes after it */
    fw_farm_free(farm);
}

/* Sides are told by the numbers of the whole field, or for one part by its
 * own; a border holds what a moved line holds. */
static void sides_go_with_the_whole_or_the_part(void **state)
{
    (void)state;
    draw_map("zones.geojson", &east_end, 1);
    struct fw_farm *farm =
        parted(FARM "perimeter: {holds: sheep, sides: [{side: 2, holds: "
                    "nothing}]}\n");
    assert_int_equal(farm->fields[0].shape->corner_count, 4);
    assert_int_equal(farm->fields[0].sides[0].holds, FW_HOLDS_SHEEP);
    assert_int_equal(farm->fields[0].sides[1].holds, FW_HOLDS_LAMBS);
    assert_int_equal(farm->fields[0].sides[1].hot, FW_YES);
    assert_int_equal(farm->fields[0].sides[3].holds, FW_HOLDS_SHEEP);
    assert_int_equal(farm->fields[1].sides[1].holds, FW_HOLDS_NOTHING);
    assert_int_equal(farm->fields[1].sides[2].holds, FW_HOLDS_SHEEP);
    assert_int_equal(farm->fields[1].sides[3].holds, FW_HOLDS_LAMBS);
    fw_farm_free(farm);
    farm = parted(
        EACH("    - {field: Long Bottom, perimeter: {holds: sheep}}\n"
             "    - {field: Long Bottom/rank, perimeter: {sides: [{side: 3, "
             "holds: lambs}]}, forage: {mass: 4000 kg/ha}}\n"));
    assert_int_equal(farm->fields[0].sides[0].holds, FW_HOLDS_SHEEP);
    assert_int_equal(farm->fields[1].sides[0].holds, FW_HOLDS_UNTOLD);
    assert_int_equal(farm->fields[1].sides[2].holds, FW_HOLDS_LAMBS);
    assert_near(farm->fields[0].sward.mass_kg_ha, 2600, 1e-9);
    assert_near(farm->fields[1].sward.mass_kg_ha, 4000, 1e-9);
    fw_farm_free(farm);
}

/* One part by its name: what lies beyond its border was grazed before; where
 * the gate is its own, they come by that. */
static void one_part_alone(void **state)
{
    (void)state;
    draw_map("zones.geojson", &east_end, 1);
    static const char only[] =
        "fields: {source: field.geojson, only: [Long Bottom%s]}\n"
        "maps: [{role: zone, source: zones.geojson}]\n" GRASS
        "gate: side:4@40m\n"; /* in the west */
    char text[600];
    snprintf(text, sizeof text, only, "/rank");
    struct fw_farm *farm = parted(text);
    assert_int_equal(farm->field_count, 1);
    assert_true(farm->fields[0].front.given);
    fw_farm_free(farm);
    snprintf(text, sizeof text, only, "");
    farm = parted(text); /* the whole one's name means both */
    assert_int_equal(farm->field_count, 2);
    fw_farm_free(farm);
    struct fw_error err = {0};
    snprintf(text, sizeof text, only, "/old");
    assert_null(read_all(text, NULL, &err));
    assert_says(&err, "there is no field \"Long Bottom/old\"");
}

static void what_cannot_be_told_for_the_whole_is_refused(void **state)
{
    (void)state;
    struct fw_error err = {0};
    draw_map("zones.geojson", &east_end, 1);
    assert_null(read_all(
        EACH("    - {field: Long Bottom, gate: side:4@40m, front: side:1@20m "
             "to side:3@80m}\n"),
        NULL, &err));
    assert_says(&err, "is in parts by the condition of its grass; tell the "
                      "front for one of them, such as field: Long Bottom");
    assert_null(read_all(EACH("    - {field: Long Bottom, gate: side:4@40m}\n"
                              "    - {field: Long Bottom, gate: side:4@40m}\n"),
                         NULL, &err));
    assert_says(&err, "is told twice");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_zone_of_another_condition_is_a_part),
        cmocka_unit_test(others_are_whole),
        cmocka_unit_test(what_cannot_be_fenced_is_told),
        cmocka_unit_test(parts_follow_from_the_gate),
        cmocka_unit_test(sides_go_with_the_whole_or_the_part),
        cmocka_unit_test(one_part_alone),
        cmocka_unit_test(what_cannot_be_told_for_the_whole_is_refused),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
