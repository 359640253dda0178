/* Each side of each limit on places and maps: gates, water, the energizer, what
 * lies near, what is taken off and what is said of it. */
#include "forms_maps.h"

#include "plan/plan.h"

#define FIELDS "fields: {source: field.geojson}\n"

/* ---- what is said ---- */

static struct fw_farm *read_noting(const char *text, struct fw_notes *notes,
                                   struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    *err = (struct fw_error){.text = ""};
    (void)fw_farm_read(&request, &farm, NULL, notes, err);
    return farm;
}

static const struct fw_note *note_of(const struct fw_notes *notes,
                                     const char *piece)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, piece))
            return &notes->items[i];
    return NULL;
}

/* It is read, and says so; NULL: it says nothing of the kind. */
static void says(const char *text, const char *piece, const char *wanted)
{
    struct fw_notes notes = {0};
    struct fw_error err;
    struct fw_farm *farm = read_noting(text, &notes, &err);
    if (!farm)
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    const struct fw_note *note = note_of(&notes, piece);
    if ((note != NULL) != (wanted != NULL) ||
        (note && !strstr(note->text, wanted)))
        fail_msg("\"%s\"; expected \"%s\" of:\n%s", note ? note->text : "",
                 wanted ? wanted : "nothing", text);
    fw_notes_release(&notes);
    fw_farm_free(farm);
}

static void refuses(const char *text, enum fw_status status, const char *piece)
{
    struct fw_error err;
    struct fw_farm *farm = read_noting(text, NULL, &err);
    if (farm || err.status != status || !strstr(err.text, piece))
        fail_msg("status %d, \"%s\"; expected \"%s\" of:\n%s", (int)err.status,
                 err.text, piece, text);
}

static const char *with_place(const char *key, double x, double y,
                              const char *rest)
{
    static char text[512];
    snprintf(text, sizeof text, "%s\"%.9f,%.9f\"%s\n%s", key, east(x), north(y),
             strchr(key, '{') ? "}" : "", rest);
    return text;
}

/* ---- gates ---- */

static void a_gate_far_inside_is_doubted(void **state)
{
    (void)state;
    const char *piece = "inside the field; a gate";
    says(with_place("gate: ", 50, 24.8, FIELDS), piece, NULL);
    says(with_place("gate: ", 50, 25.6, FIELDS), piece,
         "the gate stands 26 m inside");
    says(with_place("gate: ", 70, 40, FIELDS), piece,
         "the gate stands 30 m inside");
    says(with_place("gate: ", 20, 40, FIELDS), piece, NULL);
    says(with_place("gate: ", 0, 40, FIELDS), piece, NULL);
}

static void a_gate_at_a_pond_is_doubted(void **state)
{
    (void)state;
    const char *fields = "fields: {source: pond.geojson}\n";
    const char *piece = "at the edge of a pond";
    says(with_place("gate: ", 55, 40, fields), piece, piece);
    says(with_place("gate: ", 50, 35, fields), piece, piece);
    says(with_place("gate: ", 80, 40, fields), piece, NULL);
    says(with_place("gate: ", 0, 40, fields), piece, NULL);
    /* 37 m to the northern side, 38 to the pond's eastern edge. */
    says(with_place("gate: ", 50, 20.5, fields), piece, piece);
    says(with_place("gate: ", 50, 15, fields), piece, NULL);
}

/* Of a yard that is 15 m wide, 30 m north of the field's lower side. */
static void a_gate_opens_onto_what_is_grazed(void **state)
{
    (void)state;
    const struct drawn yard = {"\"name\":\"Yard\"", BOX(-5, 30, 10, 60), 0};
    const char *rest = FIELDS "maps: {role: exclusion, source: yard.geojson}\n";
    draw_map("yard.geojson", &yard, 1);
    fw_farm_free(good_farm(with_place("gate: ", 0, 29, rest)));
    fw_farm_free(good_farm(with_place("gate: ", 0, 30.8, rest)));
    refuses(with_place("gate: ", 0, 31.6, rest), FW_EPLAN,
            "the gate lies in a pond, an exclusion or its setback, 2 m from");
    refuses(with_place("gate: ", 0, 45, rest), FW_EPLAN, "10 m from land");
    /* Outside by as much as it is from what is grazed. */
    fw_farm_free(good_farm(with_place("gate: ", -10, 20, rest)));
}

/* ---- places out of reach ---- */

static void places_are_near_their_field(void **state)
{
    (void)state;
    static const struct {
        const char *key, *name;
        double reach_m;
    } rows[] = {{"gate: ", "gate", 25},
                {"water: ", "water", 2000},
                {"park: ", "vehicle", 2000}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char piece[120];
        const double reach_m = rows[i].reach_m;
        fw_farm_free(good_farm(
            with_place(rows[i].key, 50, 80 + 0.99 * reach_m, FIELDS)));
        fw_farm_free(
            good_farm(with_place(rows[i].key, -0.99 * reach_m, 40, FIELDS)));
        snprintf(piece, sizeof piece,
                 "the %s is %.0f m from field \"Long "
                 "Bottom\"; expected at most %.0f m",
                 rows[i].name, 1.04 * reach_m, reach_m);
        refuses(with_place(rows[i].key, 50, -1.04 * reach_m, FIELDS), FW_EPLAN,
                piece);
        snprintf(piece, sizeof piece, "fields.each[0].%.*s: the %s",
                 (int)strcspn(rows[i].key, ":"), rows[i].key, rows[i].name);
        char each[400];
        snprintf(each, sizeof each,
                 "fields:\n  source: field.geojson\n  each:\n    - {field: "
                 "Long Bottom, %s\"%.9f,%.9f\"}\n",
                 rows[i].key, east(100 + 1.03 * reach_m), north(40));
        refuses(each, FW_EPLAN, piece);
    }
}

static void the_energizer_is_near_some_field(void **state)
{
    (void)state;
    const char *key = "energizer: {at: ";
    struct fw_farm *farm = good_farm(with_place(key, 50, 2060, FIELDS));
    assert_true(farm->energizer.given);
    assert_near(farm->energizer.point.y_m, 2020, 2);
    fw_farm_free(farm);
    fw_farm_free(good_farm(with_place(key, 50, 40, FIELDS)));
    refuses(with_place(key, 50, 2100, FIELDS), FW_EPLAN,
            "the energizer is 2020 m from the nearest field, \"Long Bottom\"; "
            "expected at most 2000 m");
    refuses(with_place(key, 2150, 40, FIELDS), FW_EPLAN, "2051 m from");
    /* The second one is the nearer. */
    refuses(with_place(key, 2300, 40, "fields: {source: two.geojson}\n"),
            FW_EPLAN, "2081 m from the nearest field, \"Top\"");
}

/* ---- what lies near ---- */

static size_t features_at(const char *properties, bool area,
                          const double (*xy)[2], size_t count)
{
    struct drawn thing = {
        .properties = properties, .area = area, .count = count};
    memcpy(thing.xy, xy, count * sizeof *xy);
    draw_map("thing.geojson", &thing, 1);
    struct fw_farm *farm =
        good_farm(FIELDS "maps: {role: building, source: thing.geojson}\n");
    const size_t kept = farm->feature_count;
    fw_farm_free(farm);
    return kept;
}

/* Looked at are those within 200 m; a box of degrees is not quite of metres. */
static void what_is_within_two_hundred_metres_is_kept(void **state)
{
    (void)state;
    static const struct {
        double x, y;
    } ways[] = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}};
    for (size_t i = 0; i < 4; i++)
        for (int far = 0; far < 2; far++) {
            const double m = far ? 212 : 196;
            const double x = ways[i].x < 0   ? -m - 5
                             : ways[i].x > 0 ? 100 + m
                                             : 50;
            const double y = ways[i].y < 0   ? -m - 5
                             : ways[i].y > 0 ? 80 + m
                                             : 40;
            const double xy[4][2] = {
                {x, y}, {x + 5, y}, {x + 5, y + 5}, {x, y + 5}};
            assert_int_equal(features_at("\"name\":\"Barn\"", true, xy, 4),
                             !far);
        }
}

/* Its box covers the field and none of its edges comes near. */
static void a_line_round_the_field_far_off_is_left(void **state)
{
    (void)state;
    const double round[4][2] = {
        {-900, -900}, {-900, 900}, {900, 900}, {900, -900}};
    const double near[4][2] = {
        {-900, -900}, {-900, 900}, {900, 900}, {40, -900}};
    const double through[4][2] = {
        {-900, -900}, {-900, 900}, {900, 900}, {50, 40}};
    assert_int_equal(features_at("", false, round, 4), 0);
    assert_int_equal(features_at("", true, round, 4), 1);
    assert_int_equal(features_at("", false, through, 4), 1);
    assert_int_equal(features_at("", false, near, 4), 1);
}

/* In metres or in degrees. */
static void a_map_means_the_same_places_in_any_system(void **state)
{
    (void)state;
    struct fw_farm *farms[2];
    in_metres("one.geojson", "one.gpkg");
    in_metres("woods.geojson", "woods.gpkg");
    for (int i = 0; i < 2; i++) {
        char text[200];
        const char *end = i ? "gpkg" : "geojson";
        snprintf(text, sizeof text,
                 "fields: {source: one.%s}\n"
                 "maps: {role: exclusion, source: woods.%s, setback: 1 m}\n",
                 end, end);
        farms[i] = good_farm(text);
    }
    const struct fw_farm_feature *a = farms[0]->features;
    const struct fw_farm_feature *b = farms[1]->features;
    assert_int_equal(farms[0]->feature_count, 2);
    assert_int_equal(farms[1]->feature_count, 2);
    for (size_t i = 0; i < 2; i++) {
        assert_string_equal(a[i].name, b[i].name);
        assert_int_equal(a[i].ring_start[1], 4);
        assert_int_equal(b[i].ring_start[1], 4);
        for (size_t k = 0; k < 4; k++) {
            assert_near(a[i].points[k].lon_deg, b[i].points[k].lon_deg, 1e-8);
            assert_near(a[i].points[k].lat_deg, b[i].points[k].lat_deg, 1e-8);
        }
    }
    assert_relative(farms[0]->fields[0].excluded_m2,
                    farms[1]->fields[0].excluded_m2, 1e-4);
    assert_string_not_equal(farms[0]->fields[0].crs, farms[1]->fields[0].crs);
    fw_farm_free(farms[0]);
    fw_farm_free(farms[1]);
}

static void a_map_without_anything_near_says_so(void **state)
{
    (void)state;
    const struct drawn far[] = {
        {"\"name\":\"Barn\"", BOX(3000, 0, 3010, 10), 0},
        {"\"name\":\"Shed\"", BOX(4000, 0, 4010, 10), 0}};
    const char *text = FIELDS "maps: {role: building, source: thing.geojson}\n";
    draw_map("thing.geojson", far, 2);
    says(text, "lies within",
         "none of its 2 features lies within 200 m of a "
         "field, as building");
    draw_map("thing.geojson", far, 0);
    says(text, "lies within", NULL);
}

static void what_is_drawn_otherwise_is_told(void **state)
{
    (void)state;
    const struct drawn things[] = {
        {"\"name\":\"Way\"", BOX(10, 10, 20, 20), 0},
        {"\"title\":\"Drive\"", BOX(30, 10, 40, 20), 0},
        {"\"name\":\"Row\"", WAY({{0, -5}, {100, -5}}), 0}};
    const char *hedge =
        FIELDS "maps: {role: existing-fence, source: thing.geojson}\n";
    draw_map("thing.geojson", things, 3);
    says(hedge, "was expected as",
         "2 near a field are drawn as areas (the first: Way); a "
         "existing-fence was expected as lines. Distances are taken");
    draw_map("thing.geojson", things + 1, 2);
    says(hedge, "was expected as",
         "1 near a field is drawn as areas (the first: number 1, FID 0)");
    draw_map("thing.geojson", things + 2, 1);
    says(hedge, "was expected as", NULL);
    says(FIELDS "maps: {role: building, source: thing.geojson}\n",
         "was expected as",
         "is drawn as lines (the first: Row); a building "
         "was expected as areas");
    says(FIELDS "maps: {role: water, source: thing.geojson}\n",
         "was expected as", "expected as points or areas. Distances");
    draw_map("thing.geojson", things, 1);
    says(FIELDS "maps: {role: road, source: thing.geojson}\n",
         "was expected as", NULL);
}

/* ---- what is taken off ---- */

struct bar {
    const char *role, *kind, *width, *setback;
    double taken_m2; /* negative: it is refused */
    const char *piece;
};

/* A line of 60 m, an area of 20 by 30 m, a point. Corners are rounded by a
 * ring of sixteen sides. */
static void put_bar(const char *kind)
{
    const struct drawn line = {"\"name\":\"Bar\"", WAY({{20, 40}, {80, 40}}),
                               0};
    const struct drawn area = {"\"name\":\"Bar\"", BOX(40, 20, 60, 50), 0};
    if (strcmp(kind, "point") == 0)
        put_text("bar.geojson",
                 COLLECTION(FEATURE(
                     "Bar", "{\"type\":\"Point\",\"coordinates\":[9,51]}")));
    else
        draw_map("bar.geojson", *kind == 'l' ? &line : &area, 1);
}

#define GON 3.0614674589207183 /* 8 sin(45 degrees / 2): of radius 1 */

static void each_kind_of_bar_takes_its_reach(void **state)
{
    (void)state;
    static const struct bar bars[] = {
        {"exclusion", "area", "", "3 m", 600 + 2 * 3 * 50 + 9 * GON, ""},
        {"exclusion", "area", "", "", 600, ""},
        {"exclusion", "area", "8 m", "", 600, ""},
        {"pond", "area", "", "1 m", 600 + 2 * 50 + GON, ""},
        {"watercourse", "area", "", "2 m", 600 + 2 * 2 * 50 + 4 * GON, ""},
        {"watercourse", "line", "4 m", "1 m", 60 * 6 + 9 * GON, ""},
        {"watercourse", "line", "4 m", "", 60 * 4 + 4 * GON, ""},
        {"watercourse", "line", "", "2 m", 0, ""},
        {"pond", "line", "2 m", "", 60 * 2 + GON, ""},
        {"pond", "line", "", "2 m", 0, ""},
        {"exclusion", "line", "2 m", "", 60 * 2 + GON, ""},
        {"exclusion", "line", "", "2 m", 60 * 4 + 4 * GON, ""},
        {"exclusion", "line", "", "", -1,
         "feature 1 (FID 0, Bar) is a line; an exclusion is an area, or has a "
         "width: tell it in a column, or as maps[].width"},
        {"exclusion", "point", "", "5 m", 25 * GON, ""},
        {"exclusion", "point", "", "", -1,
         "is a point; an exclusion is an area, or has a setback"},
        {"pond", "point", "", "5 m", 0, ""},
        {"watercourse", "point", "4 m", "", 0, ""},
        {"building", "area", "", "3 m", 0, ""},
        {"keep-clear", "area", "", "3 m", 0, ""},
    };
    for (size_t i = 0; i < sizeof bars / sizeof bars[0]; i++) {
        const struct bar *bar = &bars[i];
        char text[300];
        put_bar(bar->kind);
        snprintf(text, sizeof text,
                 FIELDS "maps: {role: %s, source: bar.geojson%s%s%s%s}\n",
                 bar->role, *bar->width ? ", width: " : "", bar->width,
                 *bar->setback ? ", setback: " : "", bar->setback);
        if (bar->taken_m2 < 0) {
            refuses(text, FW_EINPUT, bar->piece);
            continue;
        }
        struct fw_farm *farm = good_farm(text);
        const struct fw_farm_field *field = &farm->fields[0];
        assert_near(field->excluded_m2, bar->taken_m2,
                    0.001 * bar->taken_m2 + 0.2 * (bar->taken_m2 > 0));
        assert_int_equal(field->grazed != field->shape, bar->taken_m2 > 0);
        fw_farm_free(farm);
    }
}

/* Of 8,000 m2. */
static void what_is_not_grazed_is_told_by_its_share(void **state)
{
    (void)state;
    static const struct {
        double west, east, m2;
        enum fw_level level;
    } rows[] = {{2, 51, 49 * 80, FW_LEVEL_NOTE},
                {2, 53.2, 51.2 * 80, FW_LEVEL_WARNING},
                {90, 110, 10 * 80, FW_LEVEL_NOTE}};
    for (size_t i = 0; i < 3; i++) {
        const struct drawn yard = {"\"name\":\"Yard\"",
                                   BOX(rows[i].west, -5, rows[i].east, 85), 0};
        struct fw_notes notes = {0};
        struct fw_error err;
        char piece[80];
        draw_map("yard.geojson", &yard, 1);
        struct fw_farm *farm = read_noting(
            FIELDS "maps: {role: exclusion, source: yard.geojson}\n", &notes,
            &err);
        assert_non_null(farm);
        const struct fw_note *note = note_of(&notes, "are not grazed");
        assert_non_null(note);
        assert_int_equal(note->level, rows[i].level);
        assert_near(strtod(note->text, NULL), rows[i].m2, 3);
        snprintf(piece, sizeof piece, "m2 of %.0f are not grazed",
                 farm->fields[0].shape->area_m2);
        if (i == 2) /* it is whole */
            assert_non_null(strstr(note->text, piece));
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

/* Hedges of a metre: pieces of 1 % and 3 % of 8,000 m2 beside the rest. */
static void pieces_are_kept_by_their_share(void **state)
{
    (void)state;
    const struct drawn hedges[] = {
        {"\"name\":\"Thin\"", BOX(1, -5, 2, 85), 0},
        {"\"name\":\"Low\"", BOX(96, -5, 97, 85), 0},
        {"\"name\":\"Mid\"", BOX(50, -5, 51, 85), 0}};
    const char *text =
        FIELDS "maps: {role: exclusion, source: hedges.geojson}\n";
    draw_map("hedges.geojson", hedges, 1);
    struct fw_farm *farm = good_farm(text);
    assert_int_equal(farm->field_count, 1);
    assert_near(farm->fields[0].excluded_m2, 2 * 80, 1);
    fw_farm_free(farm);
    says(text, "too small to plan", "pieces of 80 m2 in all");
    says(text, "they cut it into", NULL);
    draw_map("hedges.geojson", hedges + 1, 1);
    says(text, "too small to plan", NULL);
    says(text, "they cut it into",
         "they cut it into 2; each is a field of its own: Long Bottom, the "
         "greatest, and Long Bottom/2");
    says(text, "and so on", NULL);
    draw_map("hedges.geojson", hedges, 3);
    says(text, "they cut it into 3", "and so on");
    farm = good_farm(text);
    assert_int_equal(farm->field_count, 3);
    static const char *const names[] = {"Long Bottom", "Long Bottom/2",
                                        "Long Bottom/3"};
    const double areas_m2[] = {48 * 80, 45 * 80, 3 * 80};
    for (size_t i = 0; i < 3; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        assert_string_equal(field->shape->name, names[i]);
        assert_near(field->shape->area_m2, areas_m2[i], 2);
        assert_near(field->excluded_m2, i == 0 ? 4 * 80 : 0, 2);
        assert_string_equal(field->source, "field.geojson");
        assert_int_equal(field->origin.fid, 0);
    }
    fw_farm_free(farm);
}

static void a_field_that_is_all_pond_is_said(void **state)
{
    (void)state;
    const struct drawn lake = {"\"name\":\"Lake\"", BOX(-9, -9, 109, 89), 0};
    draw_map("lake.geojson", &lake, 1);
    refuses(FIELDS "maps: {role: pond, source: lake.geojson}\n", FW_EPLAN,
            "Long Bottom: ponds, exclusions and their setbacks leave nothing");
    const struct drawn sea = {"\"name\":\"Sea\"", BOX(-9, -9, 300, 89), 0};
    const char *source = "two.geojson";
    const struct fw_farm_setting map = {"maps", "pond=lake.geojson", "--map"};
    const struct fw_farm_request request = {.field_sources = &source,
                                            .field_source_count = 1,
                                            .settings = &map,
                                            .setting_count = 1,
                                            .fields_only = true,
                                            .every_field = true};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    size_t bad = 0;
    draw_map("lake.geojson", &sea, 1);
    assert_int_equal(fw_farm_read(&request, &farm, &bad, NULL, &err), FW_EPLAN);
    assert_int_equal(bad, 2);
    assert_says(&err, "Low: ponds, exclusions");
}

static int set_up(void **state)
{
    const int status = farm_set_up(state);
    draw_maps();
    return status;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_gate_far_inside_is_doubted),
        cmocka_unit_test(a_gate_at_a_pond_is_doubted),
        cmocka_unit_test(a_gate_opens_onto_what_is_grazed),
        cmocka_unit_test(places_are_near_their_field),
        cmocka_unit_test(the_energizer_is_near_some_field),
        cmocka_unit_test(what_is_within_two_hundred_metres_is_kept),
        cmocka_unit_test(a_line_round_the_field_far_off_is_left),
        cmocka_unit_test(a_map_means_the_same_places_in_any_system),
        cmocka_unit_test(a_map_without_anything_near_says_so),
        cmocka_unit_test(what_is_drawn_otherwise_is_told),
        cmocka_unit_test(each_kind_of_bar_takes_its_reach),
        cmocka_unit_test(what_is_not_grazed_is_told_by_its_share),
        cmocka_unit_test(pieces_are_kept_by_their_share),
        cmocka_unit_test(a_field_that_is_all_pond_is_said),
    };
    return cmocka_run_group_tests(tests, set_up, farm_tear_down);
}
