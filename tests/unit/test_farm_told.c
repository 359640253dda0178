/* What is told of one thing in several places, and which of them holds: columns
 * and maps, a field's grass over the farm's, the data sheet of an energizer;
 * and what is never shown. */
#include "forms_maps.h"

#include "mapped/voltage.h"

#include <sys/stat.h>

#define FIELDS "fields: {source: field.geojson}\n"
#define GRASS "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 75 %}\n"

/* ---- columns ---- */

struct column {
    const char *role, *properties;
    size_t offset; /* of the feature */
    double value;  /* NaN: it is refused */
    const char *says;
};

#define OF(member) offsetof(struct fw_farm_feature, member)
#define NONE_ 0, (double)NAN

static const struct column columns[] = {
    {"zone", "\"mass\":30000", OF(zone.mass_kg_ha), 30000, ""},
    {"zone", "\"mass\":30001", NONE_, "0 to 30000 kg/ha"},
    {"zone", "\"mass\":-1", NONE_, "0 to 30000 kg/ha"},
    {"zone", "\"mass_kg_ha\":2100", OF(zone.mass_kg_ha), 2100, ""},
    {"zone", "\"mass\":\"2.1 t/ha\"", OF(zone.mass_kg_ha), 2100, ""},
    {"zone", "\"residual\":1300", OF(zone.residual_kg_ha), 1300, ""},
    {"zone", "\"residual_kg_ha\":1200", OF(zone.residual_kg_ha), 1200, ""},
    {"zone", "\"residual\":30001", NONE_, "residual: \"30001\""},
    {"zone", "\"height\":3", OF(zone.height_m), 3, ""},
    {"zone", "\"height\":\"30 cm\"", OF(zone.height_m), 0.3, ""},
    {"zone", "\"height\":3.01", NONE_, "expected 0 to 3 m"},
    {"zone", "\"leave\":\"9 cm\"", OF(zone.leave_m), 0.09, ""},
    {"zone", "\"leave\":3.01", NONE_, "expected 0 to 3 m"},
    {"zone", "\"use\":1", OF(zone.use), 1, ""},
    {"zone", "\"use\":\"60 %\"", OF(zone.use), 0.6, ""},
    {"zone", "\"use\":1.01", NONE_, "a share from 0 to 1, or 75 %"},
    {"zone", "\"quality\":0.25", OF(zone.quality), 0.25, ""},
    {"zone", "\"quality\":1.01", NONE_, "a share from 0 to 1, or 75 %"},
    {"pond", "\"setback\":30", OF(setback_m), 30, ""},
    {"pond", "\"setback_m\":4", OF(setback_m), 4, ""},
    {"pond", "\"setback\":151", NONE_, "setback: \"151\""},
    {"pond", "\"width\":150", OF(width_m), 150, ""},
    {"pond", "\"width_m\":3", OF(width_m), 3, ""},
    {"pond", "\"width\":150.1", NONE_, "0 to 150 m"},
    {"hard-going", "\"minutes\":600", OF(minutes), 600, ""},
    {"hard-going", "\"minutes\":\"1 h\"", OF(minutes), 60, ""},
    {"hard-going", "\"minutes\":\"90 s\"", OF(minutes), 1.5, ""},
    {"hard-going", "\"minutes\":601", NONE_, "0 to 600 min"},
    {"hard-going", "\"posts\":1000", OF(posts), 1000, ""},
    {"hard-going", "\"posts\":1001", NONE_, "expected 0 to 1000"},
    {"hard-going", "\"sheep_cross\":\"yes\"", OF(sheep_cross), 1, ""},
    {"hard-going", "\"sheep_cross\":\"true\"", OF(sheep_cross), 1, ""},
    {"hard-going", "\"sheep_cross\":1", OF(sheep_cross), 1, ""},
    {"hard-going", "\"sheep_cross\":\"no\"", OF(sheep_cross), 0, ""},
    {"hard-going", "\"sheep_cross\":\"false\"", OF(sheep_cross), 0, ""},
    {"hard-going", "\"sheep_cross\":0", OF(sheep_cross), 0, ""},
    {"hard-going", "\"sheep_cross\":\"maybe\"", NONE_, "is no answer"},
    /* of another role it is a column like any */
    {"road", "\"setback\":30", OF(setback_m), -1, ""},
    {"building", "\"minutes\":9", OF(minutes), -1, ""},
    {"pond", "\"mass\":9", OF(zone.mass_kg_ha), -1, ""},
    {"pond", "\"posts\":9", OF(posts), -1, ""},
    {"hard-going", "\"width\":9", OF(width_m), -1, ""},
};

static double member(const struct fw_farm_feature *feature, size_t offset)
{
    double value;
    memcpy(&value, (const char *)feature + offset, sizeof value);
    return value;
}

static void each_column_goes_to_its_place(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        const struct column *column = &columns[i];
        const struct drawn thing = {column->properties, BOX(10, 10, 20, 20), 0};
        struct fw_error err = {0};
        char text[256];
        draw_map("thing.geojson", &thing, 1);
        snprintf(text, sizeof text,
                 "%smaps: {role: %s, source: thing.geojson%s}\n", GRASS FIELDS,
                 column->role,
                 strstr(column->properties, "leave") ||
                         strstr(column->properties, "height")
                     ? ", forage: {sward: ryegrass-clover}"
                     : "");
        struct fw_farm *farm = farm_of(text, true, &err);
        if (isnan(column->value)) {
            assert_null(farm);
            assert_says(&err, column->says);
            assert_says(&err, "thing.geojson: feature 1 (FID 0): ");
            continue;
        }
        if (!farm)
            fail_msg("%s: %s", column->properties, err.text);
        assert_near(member(&farm->features[0], column->offset), column->value,
                    1e-9);
        assert_int_equal(farm->features[0].row, 1);
        assert_int_equal(farm->features[0].map, 0);
        fw_farm_free(farm);
    }
}

/* A column of the map goes over what the file says of all its features. */
static void what_a_map_is_told_holds_where_no_column_does(void **state)
{
    (void)state;
    const struct drawn things[] = {
        {"\"setback\":4,\"width\":5", BOX(10, 10, 20, 20), 0},
        {"\"other\":1", BOX(30, 10, 40, 20), 0}};
    draw_map("thing.geojson", things, 2);
    struct fw_farm *farm =
        good_farm(FIELDS "setback: 2 m\nmaps:\n"
                         "  - {role: pond, source: thing.geojson, width: 7 m}\n"
                         "  - {role: pond, source: thing.geojson, setback: "
                         "3 m}\n"
                         "  - {role: road, source: thing.geojson}\n");
    const double setbacks_m[] = {4, 2, 4, 3, -1, -1};
    const double widths_m[] = {5, 7, 5, -1, -1, -1};
    assert_int_equal(farm->feature_count, 6);
    for (size_t i = 0; i < 6; i++) {
        assert_near(farm->features[i].setback_m, setbacks_m[i], 1e-12);
        assert_near(farm->features[i].width_m, widths_m[i], 1e-12);
        assert_int_equal(farm->features[i].map, i / 2);
        assert_int_equal(farm->features[i].row, 1 + i % 2);
    }
    fw_farm_free(farm);
}

/* ---- grass: what the field's own says in place of the farm's ---- */

struct grass {
    const char *farm, *own;
    double mass, residual, height_cm, leave_cm, use, legume;
    const char *name;
};

static void a_fields_grass_goes_over_the_farms(void **state)
{
    (void)state;
    static const char height[] =
        "sward: ryegrass-clover, height: 22 cm, leave: 9 cm, legume: 20 %";
    static const char mass[] = "mass: 2600 kg/ha, residual: 1400 kg/ha";
    static const struct grass rows[] = {
        {height, "", 0, 0, 22, 9, 0, 0.2, "ryegrass-clover"},
        {height, "mass: 2500 kg/ha", 2500, 0, 0, 9, 0, 0.2, "ryegrass-clover"},
        {height, "residual: 1300 kg/ha", 0, 1300, 22, 0, 0, 0.2,
         "ryegrass-clover"},
        {height, "height: 18 cm", 0, 0, 18, 9, 0, 0.2, "ryegrass-clover"},
        {height, "leave: 7 cm", 0, 0, 22, 7, 0, 0.2, "ryegrass-clover"},
        {height, "sward: timothy-legume", 0, 0, 22, 9, 0, 0.2,
         "timothy-legume"},
        {height, "use: 60 %", 0, 0, 22, 9, 0.6, 0.2, "ryegrass-clover"},
        {height, "legume: 5 %", 0, 0, 22, 9, 0, 0.05, "ryegrass-clover"},
        {mass, "", 2600, 1400, 0, 0, 0, -1, ""},
        {mass, "height: 20 cm, sward: timothy-legume", 0, 1400, 20, 0, 0, -1,
         "timothy-legume"},
        {mass, "leave: 6 cm", 2600, 0, 0, 6, 0, -1, ""},
        {mass, "mass: 2400 kg/ha", 2400, 1400, 0, 0, 0, -1, ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "forage: {%s}\nfields:\n  source: field.geojson\n  each:\n"
                 "    - {field: Long Bottom%s%s%s}\n",
                 rows[i].farm, *rows[i].own ? ", forage: {" : "", rows[i].own,
                 *rows[i].own ? "}" : "");
        struct fw_farm *farm = good_farm(text);
        const struct fw_sward *sward = &farm->fields[0].sward;
        assert_near(sward->mass_kg_ha, rows[i].mass, 1e-9);
        assert_near(sward->residual_kg_ha, rows[i].residual, 1e-9);
        assert_near(100 * sward->height_m, rows[i].height_cm, 1e-9);
        assert_near(100 * sward->leave_m, rows[i].leave_cm, 1e-9);
        assert_near(sward->use, rows[i].use, 1e-12);
        assert_near(sward->legume, rows[i].legume, 1e-12);
        assert_string_equal(sward->name, rows[i].name);
        fw_farm_free(farm);
    }
}

/* A weight by height that was measured on other grass is not this one's. */
static void a_density_goes_with_its_sward(void **state)
{
    (void)state;
    static const struct {
        const char *farm, *own;
        enum fw_density word;
        double kg_ha_cm;
    } rows[] = {
        {"density: 210 kg/ha per cm", "", FW_DENSITY_THIN, 210},
        {"density: 210 kg/ha per cm", "sward: mixed", FW_DENSITY_GOOD, 0},
        {"density: 210 kg/ha per cm", "density: thick", FW_DENSITY_THICK, 0},
        {"density: thin", "sward: mixed", FW_DENSITY_THIN, 0},
        {"density: thick", "use: 50 %", FW_DENSITY_THICK, 0},
        {"use: 50 %", "density: thin", FW_DENSITY_THIN, 0},
        {"use: 50 %", "", FW_DENSITY_GOOD, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "forage: {%s}\nfields:\n  source: field.geojson\n  each:\n"
                 "    - {field: Long Bottom%s%s%s}\n",
                 rows[i].farm, *rows[i].own ? ", forage: {" : "", rows[i].own,
                 *rows[i].own ? "}" : "");
        struct fw_farm *farm = good_farm(text);
        const struct fw_sward *sward = &farm->fields[0].sward;
        assert_near(sward->density_kg_ha_cm, rows[i].kg_ha_cm, 1e-9);
        if (!(rows[i].kg_ha_cm > 0))
            assert_int_equal(sward->density, rows[i].word);
        fw_farm_free(farm);
    }
}

/* ---- the energizer's data sheet ---- */

/* Volts without a load, and at 500 ohm: Ohm's law. Joules: of 100 us into 500
 * ohm. */
static void a_data_sheet_is_ohms_law(void **state)
{
    (void)state;
    const double joule_v = sqrt(3 * 500 / 1e-4);
    const struct {
        const char *told;
        double open_v, internal_ohm;
    } rows[] = {
        {"joules: 3 J", 0, 0},
        {"open: 9 kV", 9000, 0},
        {"open: 9 kV, internal: 400 ohm", 9000, 400},
        {"open: 9 kV, loaded: 6 kV", 9000, 500 * (9.0 / 6 - 1)},
        {"open: 9 kV, loaded: 4 kV, joules: 3 J", 9000, 500 * (9.0 / 4 - 1)},
        {"open: 8 kV, joules: 3 J", 8000, 500 * (8000 / joule_v - 1)},
        {"open: 8 kV, joules: 3 J, internal: 250 ohm", 8000, 250},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[256];
        snprintf(text, sizeof text, "energizer: {%s}\n" FIELDS, rows[i].told);
        struct fw_farm *farm = good_farm(text);
        assert_near(farm->wiring.open_v, rows[i].open_v, 1e-6);
        assert_relative(farm->wiring.internal_ohm, rows[i].internal_ohm, 1e-9);
        fw_farm_free(farm);
    }
}

static void what_contradicts_itself_is_refused_by_its_key(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"energizer: {internal: 300 ohm}", "energizer.internal: means"},
        {"energizer: {loaded: 5 kV, joules: 2 J}", "energizer.loaded: means"},
        {"energizer: {open: 9 kV, loaded: 5 kV, internal: 300 ohm}",
         "energizer.internal: says the same thing as energizer.loaded"},
        {"energizer: {loaded: 5 kV, internal: 300 ohm}",
         "energizer.internal: says the same"},
        {"earth: {return: yes}\nfence: {strands: 1}",
         "earth.return: one strand cannot be hot and earth"},
        {"earth: {return: yes}\nfence: {strands: 2, reel-use: out-and-back}",
         "earth.return: out and back two strands are one wire"},
        {"fence: {owns: {reels: 6, posts: 90}}", "fence.owns: expected reels"},
        {"fence: {owns: {reels: 6, wire: 9 m}}", "fence.owns: expected reels"},
        {"fence: {owns: {posts: 6, wire: 9 m}}", "fence.owns: expected reels"},
        {"fence: {owns: {wire: 9 m}}", "fence.owns: expected reels"},
        {"fence: {top: 34 cm}",
         "fence.top: the highest wire is at 34 cm, below "
         "the lowest at 35 cm"},
        {"perimeter: {sides: [{holds: lambs}]}",
         "perimeter.sides: the side's number is missing"},
        {"perimeter: {sides: [{hot: no}]}",
         "perimeter.sides: the side's number is missing"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        char text[256];
        snprintf(text, sizeof text, "%s\n" FIELDS, rows[i][0]);
        assert_null(farm_of(text, true, &err));
        assert_says(&err, rows[i][1]);
    }
    fw_farm_free(
        good_farm("earth: {return: no}\nfence: {strands: 1}\n" FIELDS));
    fw_farm_free(
        good_farm("earth: {return: yes}\nfence: {strands: 2}\n" FIELDS));
    fw_farm_free(good_farm("fence: {top: 35 cm}\n" FIELDS));
    struct fw_farm *farm =
        good_farm("fence: {owns: {reels: 0, posts: 0, wire: 0 m}}\n" FIELDS);
    assert_true(farm->kit_given);
    fw_farm_free(farm);
}

static void refuses(const char *text, enum fw_status status, const char *piece)
{
    struct fw_error err = {0};
    assert_null(farm_of(text, true, &err));
    assert_int_equal(err.status, status);
    assert_says(&err, piece);
}

static void one_fence_has_one_energizer(void **state)
{
    (void)state;
    const char *one = "{\"type\":\"FeatureCollection\",\"features\":["
                      "{\"type\":\"Feature\",\"properties\":{},\"geometry\":"
                      "{\"type\":\"Point\",\"coordinates\":[9.0005,51]}}]}";
    const char *two = "{\"type\":\"FeatureCollection\",\"features\":["
                      "{\"type\":\"Feature\",\"properties\":{},\"geometry\":"
                      "{\"type\":\"MultiPoint\",\"coordinates\":[[9.0005,51],"
                      "[9.0006,51]]}}]}";
    const char *maps = FIELDS "maps: {role: energizer, source: e.geojson}\n";
    char text[300];
    put_text("e.geojson", one);
    struct fw_farm *farm = good_farm(maps);
    assert_true(farm->energizer.given);
    assert_string_equal(farm->energizer.text, "on the map");
    assert_near(farm->energizer.lonlat.lon_deg, 9.0005, 1e-12);
    fw_farm_free(farm);
    snprintf(text, sizeof text, "energizer: {moves: yes}\n%s", maps);
    refuses(text, FW_EINPUT,
            "energizer.moves: two energizers on one fence: one goes with the "
            "flock, and the map shows 1");
    snprintf(text, sizeof text, "energizer: {at: corner:1}\n%s", maps);
    refuses(text, FW_EINPUT,
            "energizer.at: two energizers on one fence: one stands at "
            "\"corner:1\", and the map shows 1");
    put_text("e.geojson", two);
    refuses(maps, FW_EINPUT,
            "the map shows 2, and nothing says which is meant");
    farm = good_farm("energizer: {moves: no}\n" FIELDS);
    assert_false(farm->energizer.given || farm->wiring.moves);
    fw_farm_free(farm);
}

/* ---- names ---- */

static void a_farm_is_called_as_its_file(void **state)
{
    (void)state;
    static const char *const rows[][2] = {{"hill.yaml", "hill"},
                                          {"low.meadow.yaml", "low.meadow"},
                                          {".yaml", ".yaml"},
                                          {"plain", "plain"},
                                          {"./up.yml", "up"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_farm_request request = {.farm_path = rows[i][0],
                                                .fields_only = true};
        struct fw_farm *farm = NULL;
        struct fw_error err;
        put_text(rows[i][0], FIELDS);
        if (fw_farm_read(&request, &farm, NULL, NULL, &err))
            fail_msg("%s", err.text);
        assert_string_equal(farm->name, rows[i][1]);
        assert_string_equal(farm->path, rows[i][0]);
        fw_farm_free(farm);
    }
    const char *sources[] = {"field.geojson", "top.geojson"};
    const struct fw_farm_request request = {
        .field_sources = sources, .field_source_count = 2, .fields_only = true};
    struct fw_farm *farm = NULL;
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, NULL), FW_OK);
    assert_string_equal(farm->name, "field");
    assert_null(farm->path);
    fw_farm_free(farm);
}

/* ---- what was told on the command line ---- */

/* Read again from elsewhere: maps of fields and of what is around count from
 * the folder where they were typed, and all of it is told once more. */
static void what_was_told_is_read_again_from_its_folder(void **state)
{
    (void)state;
    const struct drawn road = {"\"name\":\"Lane\"", WAY({{0, 0}, {9, 9}}), 0};
    const char *source = "../field.geojson";
    const struct fw_farm_setting settings[] = {
        {"maps", "road=../told-road.geojson", NULL}, {"units", "us", NULL}};
    struct fw_farm_request request = {.field_sources = &source,
                                      .field_source_count = 1,
                                      .settings = settings,
                                      .setting_count = 2,
                                      .folder = "typed-here",
                                      .fields_only = true};
    struct fw_farm *farm = NULL;
    struct fw_error err;
    draw_map("told-road.geojson", &road, 1);
    assert_int_equal(mkdir("typed-here", 0700), 0);
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(farm->field_count, 1);
    assert_int_equal(farm->feature_count, 1);
    assert_string_equal(farm->told.folder, "typed-here");
    assert_int_equal(farm->told.count, 3);
    assert_string_equal(farm->told.values[0].key, FW_TOLD_FIELDS);
    assert_string_equal(farm->told.values[0].value, source);
    assert_string_equal(farm->told.values[1].value, settings[0].value);
    assert_string_equal(farm->told.values[2].key, "units");
    fw_farm_free(farm);
    /* Nobody is sent to a network by a plan that somebody else wrote. */
    const char *const far[][2] = {
        {"http://127.0.0.1:9/a.geojson", "road=../told-road.geojson"},
        {"/vsicurl/http://127.0.0.1:9/a.geojson", "road=../told-road.geojson"},
        {"../field.geojson", "road=PG:dbname=roads password=said"}};
    for (size_t i = 0; i < sizeof far / sizeof far[0]; i++) {
        const struct fw_farm_setting map = {"maps", far[i][1], NULL};
        struct fw_farm_request other = request;
        other.field_sources = &far[i][0];
        other.settings = &map;
        other.setting_count = 1;
        assert_int_equal(fw_farm_read(&other, &farm, NULL, NULL, &err),
                         FW_EINPUT);
        assert_says(&err, "sends nobody to a network");
        assert_null(strstr(err.text, "said"));
    }
    request.folder = NULL;
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                     FW_EINPUT);
    assert_int_equal(rmdir("typed-here"), 0);
}

/* ---- the first of what is wrong ---- */

static void of_several_reasons_the_first_is_said(void **state)
{
    (void)state;
    const char *sources[] = {"no-a.geojson", "no-b.geojson", "no-c.geojson"};
    const struct fw_farm_request request = {.field_sources = sources,
                                            .field_source_count = 3,
                                            .fields_only = true,
                                            .every_field = true};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    struct fw_notes notes = {0};
    size_t bad = 0;
    assert_int_equal(fw_farm_read(&request, &farm, &bad, &notes, &err),
                     FW_EINPUT);
    assert_int_equal(bad, 3);
    assert_int_equal(notes.count, 3);
    assert_says(&err, "the first of 3 reasons: no-a.geojson");
    fw_notes_release(&notes);
    const struct drawn lines[] = {
        {"\"name\":\"Up\"", WAY({{0, 0}, {9, 9}}), 0},
        {"\"name\":\"Down\"", WAY({{0, 0}, {9, 9}}), 0}};
    const char *source = "ways.geojson";
    const struct fw_farm_request one = {.field_sources = &source,
                                        .field_source_count = 1,
                                        .fields_only = true,
                                        .every_field = true};
    draw_map(source, lines, 2);
    assert_int_equal(fw_farm_read(&one, &farm, &bad, &notes, &err), FW_EINPUT);
    assert_int_equal(bad, 2);
    assert_says(&err, "the first of 2 reasons");
    assert_says(&err, "Up");
    fw_notes_release(&notes);
}

/* ---- what is never shown ---- */

static void no_password_is_said_whatever_names_the_source(void **state)
{
    (void)state;
    static const char source[] =
        "\"PG:host=127.0.0.1 port=1 dbname=farm password=geheim\"";
    static const char *const rows[] = {
        "fields: {source: %s}\n", FIELDS "dem: {source: %s}\n",
        GRASS FIELDS "forage-map: {source: %s}\n",
        FIELDS "maps: {role: road, source: %s}\n",
        FIELDS "maps:\n  - {role: road, source: road.geojson}\n"
               "  - {role: pond, source: %s}\n"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_error err = {0};
        char text[400];
        const char *at = strstr(rows[i], "%s");
        snprintf(text, sizeof text, "%.*s%s%s", (int)(at - rows[i]), rows[i],
                 source, at + 2);
        assert_null(farm_of(text, true, &err));
        if (strstr(err.text, "geheim") || !strstr(err.text, "dbname"))
            fail_msg("row %zu: %s", i, err.text);
    }
}

/* ---- units of columns ---- */

static void units_of_columns_go_by_their_names(void **state)
{
    (void)state;
    static const struct {
        const char *column;
        enum fw_farm__volt_unit unit;
    } rows[] = {
        {"kv", FW_FARM__KILOVOLTS},
        {"KV", FW_FARM__KILOVOLTS},
        {"voltage_kv", FW_FARM__KILOVOLTS},
        {"kv_max", FW_FARM__KILOVOLTS},
        {"kilovolts", FW_FARM__KILOVOLTS},
        {"line_kilovolts", FW_FARM__KILOVOLTS},
        {"Kilovolts_of", FW_FARM__KILOVOLTS},
        {"kva", FW_FARM__EITHER},
        {"kilovolt", FW_FARM__EITHER},
        {"volts", FW_FARM__VOLTS},
        {"Volts", FW_FARM__VOLTS},
        {"volts_of", FW_FARM__EITHER},
        {"u_v", FW_FARM__VOLTS},
        {"U_V", FW_FARM__VOLTS},
        {"_v", FW_FARM__EITHER},
        {"u_volt", FW_FARM__EITHER},
        {"voltage", FW_FARM__EITHER},
        {"v", FW_FARM__EITHER},
        {"", FW_FARM__EITHER},
        {"k", FW_FARM__EITHER},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (fw_farm__volt_unit_of(rows[i].column) != rows[i].unit)
            fail_msg("%s: unit %d", rows[i].column,
                     (int)fw_farm__volt_unit_of(rows[i].column));
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
        cmocka_unit_test(each_column_goes_to_its_place),
        cmocka_unit_test(what_a_map_is_told_holds_where_no_column_does),
        cmocka_unit_test(a_fields_grass_goes_over_the_farms),
        cmocka_unit_test(a_density_goes_with_its_sward),
        cmocka_unit_test(a_data_sheet_is_ohms_law),
        cmocka_unit_test(what_contradicts_itself_is_refused_by_its_key),
        cmocka_unit_test(one_fence_has_one_energizer),
        cmocka_unit_test(a_farm_is_called_as_its_file),
        cmocka_unit_test(what_was_told_is_read_again_from_its_folder),
        cmocka_unit_test(of_several_reasons_the_first_is_said),
        cmocka_unit_test(no_password_is_said_whatever_names_the_source),
        cmocka_unit_test(units_of_columns_go_by_their_names),
    };
    return cmocka_run_group_tests(tests, set_up, farm_tear_down);
}
