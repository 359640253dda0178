/* Which fields are grazed, in which order, and where the flock comes in: by
 * lists of names, by gates, by fronts that maps and earlier plans tell. */
#include "forms_maps.h"
#include "plan_on_paper.h"

#define FIELDS "fields: {source: field.geojson}\n"

static void refuses(const char *text, const char *piece)
{
    struct fw_error err = {0};
    struct fw_farm *farm = farm_of(text, true, &err);
    if (farm || !strstr(err.text, piece))
        fail_msg("\"%s\"; expected \"%s\" of:\n%s", err.text, piece, text);
}

static struct fw_farm *noting(const char *text, struct fw_notes *notes)
{
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, notes, &err))
        fail_msg("%s", err.text);
    return farm;
}

static bool is_noted(const struct fw_notes *notes, const char *piece)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, piece))
            return true;
    return false;
}

/* Twenty fields in a row, called A to T: their western edges 120 m apart. */
static void draw_row(void)
{
    static char text[8000];
    size_t length = (size_t)snprintf(
        text, sizeof text, "{\"type\":\"FeatureCollection\",\"features\":[");
    for (int i = 0; i < 20; i++) {
        const double w = 120. * i, e = w + 100;
        length += (size_t)snprintf(
            text + length, sizeof text - length,
            "%s{\"type\":\"Feature\",\"properties\":{\"name\":\"%c\"},"
            "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[%.9f,%.9f],"
            "[%.9f,%.9f],[%.9f,%.9f],[%.9f,%.9f],[%.9f,%.9f]]]}}",
            i ? "," : "", 'A' + i, east(w), north(0), east(e), north(0),
            east(e), north(80), east(w), north(80), east(w), north(0));
    }
    snprintf(text + length, sizeof text - length, "]}");
    put_text("row.geojson", text);
}

/* ---- which fields, in which order ---- */

/* Those of fields.each come first, as it has them; then the others as the map
 * has them; of all only those that are asked for. */
static void fields_come_as_they_are_told(void **state)
{
    (void)state;
    static const struct {
        const char *only, *each, *order;
    } rows[] = {
        {"", "", "ABCDEFGHIJKLMNOPQRST"},
        {"", "T", "TABCDEFGHIJKLMNOPQRS"},
        {"", "CA", "CABDEFGHIJKLMNOPQRST"},
        {"ACD", "", "ACD"},
        {"DCA", "", "ACD"},
        {"ACD", "CA", "CAD"},
        {"ACD", "BC", "CAD"},
        {"T", "", "T"},
        {"B", "A", "B"},
        {"BB", "", "B"},
    };
    draw_row();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[700], only[100] = "", each[400] = "";
        for (const char *c = rows[i].only; *c; c++)
            snprintf(only + strlen(only), sizeof only - strlen(only), "%s%c",
                     *only ? ", " : "", *c);
        for (const char *c = rows[i].each; *c; c++)
            snprintf(each + strlen(each), sizeof each - strlen(each),
                     "%s{field: %c, gate: side:1@%dm}", *each ? ", " : "", *c,
                     10 + (*c - 'A'));
        snprintf(text, sizeof text,
                 "fields: {source: row.geojson%s%s%s, each: [%s]}\n",
                 *only ? ", only: [" : "", only, *only ? "]" : "", each);
        struct fw_farm *farm = good_farm(text);
        assert_int_equal(farm->field_count, strlen(rows[i].order));
        for (size_t f = 0; f < farm->field_count; f++) {
            const struct fw_farm_field *field = &farm->fields[f];
            const char name = field->shape->name[0];
            char gate[32];
            assert_int_equal(name, rows[i].order[f]);
            /* and each has kept what was told of it */
            snprintf(gate, sizeof gate, "side:1@%dm", 10 + (name - 'A'));
            assert_int_equal(field->gate.given,
                             strchr(rows[i].each, name) != NULL);
            if (field->gate.given)
                assert_string_equal(field->gate.text, gate);
        }
        fw_farm_free(farm);
    }
    refuses("fields: {source: row.geojson, each: [{field: C}, {field: A}, "
            "{field: A}]}\n",
            "fields.each[2].field: \"A\" is told twice, first as "
            "fields.each[1]");
    refuses("fields: {source: row.geojson, each: [{field: C}, {gate: "
            "corner:1}]}\n",
            "fields.each[1].field: is missing; expected the name of a field, "
            "such as \"A\"");
    refuses("fields: {source: row.geojson, each: [{field: Hollow}]}\n",
            "fields.each[0].field: there is no field \"Hollow\"; check shows "
            "the names of all 20");
    refuses("fields: {source: row.geojson, only: [A, Hollow]}\n",
            "fields.only: there is no field \"Hollow\"");
}

/* In a row the shortest round goes out and back, whatever the list has. */
static void the_nearest_goes_next(void **state)
{
    (void)state;
    draw_row();
    refuses("field-order: nearest\nfields: {source: row.geojson, only: [A, B], "
            "each: [{field: B, gate: corner:1}]}\n",
            "farm.yaml:1: field-order: \"nearest\" goes from gate to gate, and "
            "field \"A\" has none; tell it under fields.each, or "
            "field-order: given");
    struct fw_farm *farm = good_farm(
        "field-order: nearest\nfields: {source: row.geojson, only: [A, C, T], "
        "each: [{field: A, gate: corner:1}, {field: T, gate: corner:2}, "
        "{field: C, gate: corner:3}]}\n");
    assert_string_equal(farm->fields[0].shape->name, "A");
    assert_int_equal(farm->field_count, 3);
    for (size_t i = 0; i < 3; i++) {
        static const char *const gates[] = {"corner:1", "corner:3", "corner:2"};
        const char name = farm->fields[i].shape->name[0];
        assert_string_equal(farm->fields[i].gate.text,
                            gates[name == 'A'   ? 0
                                  : name == 'C' ? 1
                                                : 2]);
    }
    fw_farm_free(farm);
    /* One alone needs no gate. */
    fw_farm_free(good_farm(
        "field-order: nearest\nfields: {source: row.geojson, only: [A]}\n"));
}

/* ---- fronts ---- */

static void a_named_front_finds_its_field(void **state)
{
    (void)state;
    draw_row();
    struct fw_plan *before = plan_with(
        "fields: {source: row.geojson, only: [A, B], each: [{field: A, gate: "
        "corner:1, water: corner:1}, {field: B, gate: corner:1, water: "
        "corner:1}]}\nstart: 2027-06-07\n",
        "strips", 40);
    keep_plan(before, "before.json");
    static const char two[] =
        "fields: {source: row.geojson, only: [A, B]}\nearlier: before.json\n";
    char text[300];
    struct fw_farm *farm;
    snprintf(text, sizeof text, "%sfront: A01-02\n", two);
    farm = good_farm(text);
    assert_true(farm->fields[0].front.named);
    assert_false(farm->fields[1].front.named || farm->fields[1].front.given);
    fw_farm_free(farm);
    snprintf(text, sizeof text, "%sfront: B01-02\n", two);
    refuses(text, "front: the flock stands at B01-02 in field \"B\"");
    snprintf(text, sizeof text, "%sfront: A01-99\n", two);
    refuses(text, "front: before.json has no fence A01-99");
    snprintf(text, sizeof text, "%sfront: side:1@3m to side:3@3m\n", two);
    refuses(text, "front: it is the front of one field, and there are 2; tell "
                  "it under fields.each for its field");
    refuses("fields: {source: row.geojson, only: [C, D]}\nearlier: "
            "before.json\nfront: A01-02\n",
            "front: A01-02 is a fence of field \"A\"; expected one of \"C\"");
    /* And a map shows another one. */
    const struct drawn line = {"\"name\":\"\"", WAY({{50, -9}, {50, 89}}), 0};
    draw_map("front.geojson", &line, 1);
    snprintf(text, sizeof text,
             "%sfront: A01-02\nmaps: {role: front, source: front.geojson}\n",
             two);
    refuses(text, "maps[0]: A: there are two fronts on it, this one and "
                  "A01-02; expected one");
    fw_plan_free(before);
}

static void a_front_of_places_may_be_spaced_out(void **state)
{
    (void)state;
    struct fw_farm *farm = good_farm(
        FIELDS "gate: corner:1\nfront: '  side:1@30m   to   side:3@50m  '\n");
    assert_near(farm->fields[0].front.behind_m2, (30 + 50) * 80 / 2., 2);
    fw_farm_free(farm);
    refuses(FIELDS "gate: corner:1\nfront: side:1@30m to  to side:3@50m\n",
            "front: ");
    refuses(FIELDS "gate: corner:1\nfront: side:1@30m to 9.0,51.0\n",
            "expected a line from edge to edge; or, for a fence of a plan made "
            "before, its name: earlier: out/plan.json and front: A07-08");
    refuses(FIELDS "water: side:1@30m\nfront: side:1@30m to side:3@50m\n",
            "the water stands on it, so that nothing tells which side of it is "
            "grazed; give the water a place off the line");
    refuses(FIELDS "gate: side:1@30m\nwater: side:3@50m\n"
                   "front: side:1@30m to side:3@50m\n",
            "the water stands on it");
    struct fw_notes notes = {0};
    farm = noting(FIELDS "front: side:1@30m to side:3@50m\n", &notes);
    assert_true(is_noted(&notes, "its front says nothing yet: neither gate nor "
                                 "water tells which side of it is grazed"));
    fw_notes_release(&notes);
    fw_farm_free(farm);
}

/* Two arms of a comb, 100 m deep, beyond a front across both. */
static void what_a_front_cuts_off_is_told(void **state)
{
    (void)state;
    static const double widths[] = {2, 30};
    for (int i = 0; i < 2; i++) {
        const double w = widths[i];
        const struct drawn comb = {"\"name\":\"Comb\"",
                                   true,
                                   8,
                                   {{0, 0},
                                    {200, 0},
                                    {200, 120},
                                    {200 - w, 120},
                                    {200 - w, 20},
                                    {100, 20},
                                    {100, 120},
                                    {0, 120}},
                                   0};
        struct fw_notes notes = {0};
        char text[300];
        draw_map("comb.geojson", &comb, 1);
        snprintf(text, sizeof text,
                 "fields: {source: comb.geojson}\ngate: \"%.9f,%.9f\"\n"
                 "front: \"%.9f,%.9f to %.9f,%.9f\"\n",
                 east(0), north(0), east(0), north(30), east(200), north(30));
        struct fw_farm *farm = noting(text, &notes);
        assert_true(farm->fields[0].front.given);
        assert_near(farm->fields[0].front.apart_m2, 90 * w, 0.01 * 90 * w + 1);
        assert_near(farm->fields[0].grazed->area_m2, 90 * 100, 20);
        char piece[100];
        snprintf(piece, sizeof piece,
                 "%.0f m2 beyond the front do not join the rest",
                 farm->fields[0].front.apart_m2);
        assert_true(is_noted(&notes, piece));
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

/* ---- what lies around many fields ---- */

enum { points = 120, fields = 21 };

/* A number below most, the same each time. */
static double drawn_by_lot(unsigned *seed, double most)
{
    *seed = *seed * 1103515245U + 12345U;
    return most * (double)(*seed >> 8 & 0xFFFF) / 65536;
}

static double beyond(double at, double least, double most)
{
    return at < least ? least - at : at > most ? at - most : 0;
}

/* Kept is what lies within 200 m of the box of some field, looked for here in
 * all of them; a margin is left to what a degree has of metres. */
static void what_is_near_any_of_many_fields_is_kept(void **state)
{
    (void)state;
    static char text[30000];
    static double boxes[fields][4], at[points][2];
    unsigned seed = 7;
    size_t length = (size_t)snprintf(
        text, sizeof text, "{\"type\":\"FeatureCollection\",\"features\":[");
    for (int i = 0; i < fields; i++) {
        /* The first is wide, and lies north of all others. */
        const double w = i ? drawn_by_lot(&seed, 9000) : 1000;
        const double s = i ? 500. * i : 11500, wide = i ? 60 : 5000;
        const double box[4] = {w, w + wide, s, s + 60};
        memcpy(boxes[i], box, sizeof box);
        length += (size_t)snprintf(
            text + length, sizeof text - length,
            "%s{\"type\":\"Feature\",\"properties\":{\"name\":\"F%d\"},"
            "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[%.9f,%.9f]"
            ",[%.9f,%.9f],[%.9f,%.9f],[%.9f,%.9f],[%.9f,%.9f]]]}}",
            i ? "," : "", i, east(w), north(s), east(w + wide), north(s),
            east(w + wide), north(s + 60), east(w), north(s + 60), east(w),
            north(s));
    }
    snprintf(text + length, sizeof text - length, "]}");
    put_text("many.geojson", text);
    length = (size_t)snprintf(text, sizeof text,
                              "{\"type\":\"FeatureCollection\",\"features\":[");
    for (int i = 0; i < points; i++) {
        const double *box = boxes[i % fields];
        at[i][0] = box[0] - 400 + drawn_by_lot(&seed, box[1] - box[0] + 800);
        at[i][1] = box[2] - 400 + drawn_by_lot(&seed, 860);
        length += (size_t)snprintf(
            text + length, sizeof text - length,
            "%s{\"type\":\"Feature\",\"properties\":{\"name\":\"P%d\"},"
            "\"geometry\":{\"type\":\"Point\",\"coordinates\":[%.9f,%.9f]}}",
            i ? "," : "", i, east(at[i][0]), north(at[i][1]));
    }
    snprintf(text + length, sizeof text - length, "]}");
    put_text("points.geojson", text);
    struct fw_farm *farm =
        good_farm("fields: {source: many.geojson}\n"
                  "maps: {role: building, source: points.geojson}\n");
    size_t near = 0, far = 0;
    for (int i = 0; i < points; i++) {
        char name[8];
        double least = 1e9;
        bool kept = false;
        snprintf(name, sizeof name, "P%d", i);
        for (int f = 0; f < fields; f++)
            least =
                fmin(least, fmax(beyond(at[i][0], boxes[f][0], boxes[f][1]),
                                 beyond(at[i][1], boxes[f][2], boxes[f][3])));
        for (size_t k = 0; k < farm->feature_count; k++)
            kept |= strcmp(farm->features[k].name, name) == 0;
        if (least < 197 && !kept)
            fail_msg("%s is %.0f m off, and gone", name, least);
        if (least > 203 && kept)
            fail_msg("%s is %.0f m off, and kept", name, least);
        near += least < 197;
        far += least > 203;
    }
    assert_true(near > 30 && far > 30);
    fw_farm_free(farm);
}

static void a_map_around_says_its_coordinate_system(void **state)
{
    (void)state;
    put_text("barn.csv", "WKT,name\n\"POINT (9.0005 51.0)\",Barn\n");
    refuses(FIELDS "maps: {role: building, source: barn.csv}\n",
            "farm.yaml:2: maps[0].crs: barn.csv: names no coordinate system; "
            "say which, such as maps[0].crs: EPSG:2157");
    struct fw_farm *farm = good_farm(
        FIELDS "maps: {role: building, source: barn.csv, crs: EPSG:4326}\n");
    assert_int_equal(farm->feature_count, 1);
    fw_farm_free(farm);
}

/* Drawn as a line that ends where it began, what has an inside is an area; with
 * its last side left open it is none. */
static void a_closed_line_is_the_area_within_it(void **state)
{
    (void)state;
    for (int closed = 0; closed < 2; closed++) {
        char text[600];
        snprintf(text, sizeof text,
                 COLLECTION(FEATURE("Yard", "{\"type\":\"LineString\","
                                            "\"coordinates\":[[%.9f,%.9f],"
                                            "[%.9f,%.9f],[%.9f,%.9f],"
                                            "[%.9f,%.9f]%s%.9f,%.9f]]}")),
                 east(40), north(20), east(60), north(20), east(60), north(50),
                 east(40), north(50), ",[", east(40), north(closed ? 20 : 21));
        put_text("yard.geojson", text);
        struct fw_farm *farm =
            good_farm(FIELDS "maps: {role: building, source: yard.geojson}\n");
        assert_int_equal(farm->feature_count, 1);
        assert_int_equal(farm->features[0].kind,
                         closed ? FW_FEATURE_POLYGON : FW_FEATURE_LINE);
        assert_int_equal(farm->features[0].ring_start[1], closed ? 4 : 5);
        fw_farm_free(farm);
    }
}

/* ---- what is all pond ---- */

/* One of several is left out when all are to be heard of; else it ends it. */
static void a_field_that_is_all_pond_is_one_reason_of_several(void **state)
{
    (void)state;
    static const struct {
        bool every;
        size_t left, bad;
    } rows[] = {{true, 2, 1}, {false, 0, 1}};
    const struct drawn pond = {"\"name\":\"Pond\"", BOX(110, -9, 230, 99), 0};
    draw_map("pond.geojson", &pond, 1);
    const struct drawn three[] = {{"\"name\":\"A\"", BOX(0, 0, 100, 80), 0},
                                  {"\"name\":\"B\"", BOX(120, 0, 220, 80), 0},
                                  {"\"name\":\"C\"", BOX(240, 0, 340, 80), 0}};
    draw_map("three.geojson", three, 3);
    for (size_t i = 0; i < 2; i++) {
        struct fw_farm *farm = NULL;
        struct fw_notes notes = {0};
        struct fw_error err = {0};
        size_t bad = 0;
        put_text("farm.yaml", "fields: {source: three.geojson}\n"
                              "maps: {role: pond, source: pond.geojson}\n");
        const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                                .every_field = rows[i].every,
                                                .fields_only = true};
        const enum fw_status status =
            fw_farm_read(&request, &farm, &bad, &notes, &err);
        assert_int_equal(status, rows[i].left ? FW_OK : FW_EPLAN);
        assert_int_equal(bad, rows[i].bad);
        if (farm) {
            assert_int_equal(farm->field_count, rows[i].left);
            assert_string_equal(farm->fields[0].shape->name, "A");
            assert_string_equal(farm->fields[1].shape->name, "C");
            assert_true(is_noted(&notes, "B: ponds, exclusions and their "
                                         "setbacks leave nothing of it"));
        } else {
            assert_says(&err, "B: ponds, exclusions and their setbacks leave "
                              "nothing of it to graze");
        }
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
    /* One alone is an error however it is asked. */
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    draw_map("three.geojson", three + 1, 1);
    const struct fw_farm_request request = {
        .farm_path = "farm.yaml", .every_field = true, .fields_only = true};
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err), FW_EPLAN);
    assert_null(farm);
}

/* ---- options ---- */

static void the_last_of_two_options_holds(void **state)
{
    (void)state;
    static const struct fw_farm_setting settings[] = {
        {"forage.density", "210 kg/ha/cm", NULL},
        {"forage.density", "thick", NULL},
        {"farm", "Hill", NULL},
        {"farm", "Ridge", NULL},
        {"flock[].weight", "0.05 ton", NULL},
        {"units", "metric", NULL},
        {"units", "us", NULL}};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("farm.yaml", FIELDS);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = settings,
                                            .setting_count = 7,
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(farm->fields[0].sward.density, FW_DENSITY_THICK);
    assert_near(farm->fields[0].sward.density_kg_ha_cm, 0, 0);
    assert_string_equal(farm->name, "Ridge");
    assert_int_equal(farm->units, FW_US);
    /* units hold for what stands before them */
    assert_near(farm->classes[0].weight_kg, 0.05 * 907.18474, 1e-9);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_come_as_they_are_told),
        cmocka_unit_test(the_nearest_goes_next),
        cmocka_unit_test(a_named_front_finds_its_field),
        cmocka_unit_test(a_front_of_places_may_be_spaced_out),
        cmocka_unit_test(what_a_front_cuts_off_is_told),
        cmocka_unit_test(what_is_near_any_of_many_fields_is_kept),
        cmocka_unit_test(a_map_around_says_its_coordinate_system),
        cmocka_unit_test(a_closed_line_is_the_area_within_it),
        cmocka_unit_test(a_field_that_is_all_pond_is_one_reason_of_several),
        cmocka_unit_test(the_last_of_two_options_holds),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
