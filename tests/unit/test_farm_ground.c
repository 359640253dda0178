/* Zones, rasters and what is not grazed, from the maps onto the fields. */
#include "forms_maps.h"

#include "forage/forage.h"
#include "forage/growth.h"

#include <math.h>

/* A part of the field of farm_help.h: metres east and north of its lower left
 * corner, to within two parts in ten thousand. */
static const char *rect(double west, double south, double east, double north)
{
    static char rooms[4][400];
    static int turn;
    char *room = rooms[turn++ % 4];
    const double x[] = {west, east, east, west, west};
    const double y[] = {south, south, north, north, south};
    size_t length = (size_t)snprintf(
        room, sizeof rooms[0], "{\"type\":\"Polygon\",\"coordinates\":[[");
    for (size_t i = 0; i < 5; i++)
        length += (size_t)snprintf(room + length, sizeof rooms[0] - length,
                                   "%s[%.9f,%.9f]", i ? "," : "",
                                   8.9992875 + x[i] * 0.001425 / 100,
                                   50.9996405 + y[i] * 0.000719 / 80);
    snprintf(room + length, sizeof rooms[0] - length, "]]}");
    return room;
}

struct part {
    double west, south, east, north;
    const char *properties;
};

static void put_parts(const char *path, const struct part *parts, size_t count)
{
    char text[4096];
    size_t length = (size_t)snprintf(
        text, sizeof text, "{\"type\":\"FeatureCollection\",\"features\":[");
    for (size_t i = 0; i < count; i++)
        length += (size_t)snprintf(
            text + length, sizeof text - length,
            "%s{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":%s}",
            i ? "," : "", parts[i].properties,
            rect(parts[i].west, parts[i].south, parts[i].east, parts[i].north));
    snprintf(text + length, sizeof text - length, "]}");
    put_text(path, text);
}

/* 2600 kg/ha less 1400, three quarters of it: 900 kg/ha. */
#define GRASS "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 75 %}\n"
#define FIELDS "fields: {source: field.geojson}\n"

static double mass_of(const struct fw_farm_field *field)
{
    return fw_herbage_field_kg(field->ground, field->grazed);
}

/* ---- zones ---- */

static void a_zone_has_the_grass_that_its_columns_tell(void **state)
{
    (void)state;
    const struct part parts[] = {
        {0, 0, 20, 80, "\"mass\":3000"},
        {20, 0, 40, 80, "\"mass\":\"2300 kg/ha\",\"residual\":1100"},
        {40, 0, 60, 80, "\"use\":0.5"},
        {60, 0, 80, 80, "\"quality\":\"40 %\""},
        {80, 0, 90, 80, "\"mass\":1200"}, /* below what must stay */
    };
    put_parts("zones.geojson", parts, 5);
    struct fw_farm *farm =
        good_farm(GRASS FIELDS "maps: {role: zone, source: zones.geojson}\n");
    const struct fw_farm_field *field = &farm->fields[0];
    const double part = field->grazed->area_m2 / 10 / 1e4; /* ha in 10 m */
    assert_non_null(field->ground);
    assert_relative(mass_of(field),
                    part * (2 * 1600 * 0.75 + 2 * 1200 * 0.75 + 2 * 1200 * 0.5 +
                            2 * 900 * 0.4 + 0 + 900),
                    1e-5);
    assert_near(fw_herbage_base_kg_m2(field->ground), 0.09, 1e-12);
    fw_farm_free(farm);
}

static void what_columns_do_not_tell_the_map_or_the_field_tells(void **state)
{
    (void)state;
    const struct part parts[] = {
        {0, 0, 50, 80, "\"mass\":3000"},
        {50, 0, 100, 80, "\"name\":\"rushes\""},
    };
    put_parts("zones.geojson", parts, 2);
    struct fw_farm *farm = good_farm(
        GRASS FIELDS "maps: {role: zone, source: zones.geojson, forage: "
                     "{mass: 2000 kg/ha, use: 50 %}}\n");
    const struct fw_farm_field *field = &farm->fields[0];
    assert_relative(mass_of(field),
                    field->grazed->area_m2 / 2e4 * (1600 * 0.5 + 600 * 0.5),
                    1e-5);
    fw_farm_free(farm);
}

/* Shares as they are printed are not scaled to a whole year, and how much they
 * come to is said, once, of those tables that lack some. */
static void shares_that_make_less_than_a_year_are_told(void **state)
{
    (void)state;
    size_t count, short_of_it = 0, whole = 0;
    const struct fw_growth_table *tables = fw_growth_tables(&count);
    for (size_t i = 0; i < count; i++) {
        char text[300], words[100];
        struct fw_notes notes = {0};
        struct fw_farm *farm = NULL;
        struct fw_error err = {0};
        double sum = 0;
        for (size_t k = 0; tables[i].shares && k < tables[i].count; k++)
            sum += tables[i].values[k];
        snprintf(text, sizeof text,
                 "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, growth: "
                 "%s}\n" FIELDS,
                 tables[i].word);
        put_text("farm.yaml", text);
        const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                                .fields_only = true};
        if (fw_farm_read(&request, &farm, NULL, &notes, &err))
            fail_msg("%s", err.text);
        snprintf(words, sizeof words,
                 "the shares of its months make %ld %% of a year, as printed",
                 lround(100 * sum));
        size_t said = 0;
        for (size_t k = 0; k < notes.count; k++)
            said += strstr(notes.items[k].text, words) != NULL;
        const bool lacks = tables[i].shares && sum < 1 - 1e-6;
        assert_int_equal(said, lacks);
        short_of_it += lacks;
        whole += !lacks;
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
    assert_true(short_of_it > 0 && whole > 0);
}

/* A zone's condition says how much of its grass they take, whatever share was
 * told for the field: as where the field has that condition and no share. */
static void a_zones_condition_goes_over_the_fields_share(void **state)
{
    (void)state;
    static const char *const shares[] = {"", "", ", use: 75 %", ", use: 20 %"};
    double kg[4];
    for (int i = 0; i < 4; i++) {
        char text[300];
        const struct part part = {
            0, 0, 100, 80, i ? "\"condition\":\"aged\"" : "\"quality\":1"};
        put_parts("zones.geojson", &part, 1);
        snprintf(text, sizeof text,
                 "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, condition: "
                 "aged%s}\n" FIELDS
                 "maps: {role: zone, source: zones.geojson}\n",
                 shares[i]);
        struct fw_farm *farm = good_farm(text);
        kg[i] = mass_of(&farm->fields[0]);
        assert_relative(kg[i], kg[0], 1e-12);
        fw_farm_free(farm);
    }
}

static void zones_that_tell_all_masses_need_none_of_the_field(void **state)
{
    (void)state;
    const struct part parts[] = {
        {-1, -1, 50, 81, "\"mass\":3000"},
        {50, -1, 101, 81, "\"mass\":2000"},
    };
    put_parts("zones.geojson", parts, 2);
    struct fw_farm *farm =
        good_farm("forage: {residual: 1400 kg/ha, use: 75 %}\n" FIELDS
                  "maps: {role: zone, source: zones.geojson}\n");
    assert_relative(farm->fields[0].sward.mass_kg_ha, 2500, 1e-5);
    assert_relative(mass_of(&farm->fields[0]),
                    farm->fields[0].grazed->area_m2 / 1e4 * 1100 * 0.75, 1e-5);
    fw_farm_free(farm);
}

static void a_zone_elsewhere_leaves_the_ground_even(void **state)
{
    (void)state;
    const struct part part = {130, 0, 150, 80, "\"mass\":3000"};
    put_parts("zones.geojson", &part, 1);
    struct fw_farm *farm =
        good_farm(GRASS FIELDS "maps: {role: zone, source: zones.geojson}\n");
    assert_int_equal(farm->feature_count, 1);
    assert_null(farm->fields[0].ground);
    fw_farm_free(farm);
}

static void what_a_zone_says_wrong_is_said_with_its_column(void **state)
{
    (void)state;
    static const struct {
        const char *properties, *says;
    } rows[] = {
        {"\"mass\":-1", "feature 1 (FID 0): mass: \"-1\" is out of range"},
        {"\"mass\":\"much\"", "feature 1 (FID 0): mass: \"much\""},
        {"\"use\":75", "use: \"75\" is out of range; expected a share"},
        {"\"quality\":\"1.2\"", "quality: \"1.2\" is out of range"},
        {"\"residual\":\"9 cm\"", "feature 1 (FID 0): residual: \"9 cm\""},
        {"\"crop\":\"rye\"", "tells nothing of its grass"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct part part = {0, 0, 50, 80, rows[i].properties};
        struct fw_error err = {0};
        put_parts("zones.geojson", &part, 1);
        assert_null(farm_of(GRASS FIELDS
                            "maps: {role: zone, source: zones.geojson}\n",
                            true, &err));
        assert_int_equal(err.status, FW_EINPUT);
        assert_says(&err, rows[i].says);
        assert_says(&err, "zones.geojson");
    }
}

/* ---- rasters ---- */

/* Cells of 20 m by 20 m, five wide and four high, on the field and one around
 * it: the value grows by 100 to the east from 2000 kg/ha. */
static void put_raster(const char *path, const char *middle)
{
    char text[2048];
    size_t length = (size_t)snprintf(
        text, sizeof text,
        "ncols 7\nnrows 6\nxllcorner %.9f\nyllcorner %.9f\ndx %.12f\n"
        "dy %.12f\nNODATA_value -9999\n",
        8.9992875 - 0.001425 / 5, 50.9996405 - 0.000719 / 4, 0.001425 / 5,
        0.000719 / 4);
    for (int j = 0; j < 6; j++)
        length +=
            (size_t)snprintf(text + length, sizeof text - length,
                             "1900 2000 2100 %s 2300 2400 2500\n", middle);
    put_text(path, text);
}

#define RASTER FIELDS "forage-map: {source: mass.asc, crs: EPSG:4326}\n"

static void a_raster_tells_the_mass_of_each_cell(void **state)
{
    (void)state;
    put_raster("mass.asc", "2200");
    struct fw_farm *farm =
        good_farm("forage: {residual: 1400 kg/ha, use: 75 %}\n" RASTER);
    const struct fw_farm_field *field = &farm->fields[0];
    assert_relative(field->sward.mass_kg_ha, 2200, 1e-5);
    assert_relative(mass_of(field), field->grazed->area_m2 / 1e4 * 800 * 0.75,
                    1e-5);
    fw_farm_free(farm);
}

static void scale_and_offset_make_masses_of_numbers(void **state)
{
    (void)state;
    put_raster("mass.asc", "2200");
    struct fw_farm *farm =
        good_farm("forage: {residual: 1400 kg/ha, use: 75 %}\n" FIELDS
                  "forage-map: {source: mass.asc, crs: EPSG:4326, band: 1, "
                  "scale: 0.5, offset: 1000}\n");
    assert_relative(farm->fields[0].sward.mass_kg_ha, 2100, 1e-5);
    fw_farm_free(farm);
}

static void where_a_raster_has_no_data_the_field_holds(void **state)
{
    (void)state;
    put_raster("mass.asc", "-9999");
    struct fw_farm *farm = good_farm(GRASS RASTER);
    const struct fw_farm_field *field = &farm->fields[0];
    assert_near(field->sward.mass_kg_ha, 2600, 0);
    assert_relative(mass_of(field),
                    field->grazed->area_m2 / 5e4 *
                        ((600 + 700 + 900 + 1000) * 0.75 + 900),
                    1e-5);
    fw_farm_free(farm);
}

static void zones_and_a_raster_on_one_field_are_refused(void **state)
{
    (void)state;
    const struct part part = {0, 0, 50, 80, "\"mass\":3000"};
    struct fw_error err = {0};
    put_parts("zones.geojson", &part, 1);
    put_raster("mass.asc", "2200");
    assert_null(farm_of(GRASS RASTER
                        "maps: {role: zone, source: zones.geojson}\n",
                        true, &err));
    assert_says(&err, "by zones and by a raster as well");
}

static void masses_beyond_belief_are_refused(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"scale: 20", "masses of up to 50000 kg/ha"},
        {"offset: -2250", "negative masses, down to -350 kg/ha"},
        {"scale: many", "forage-map.scale: \"many\" is not a plain number"},
        {"band: 2", "has no band 2"},
    };
    put_raster("mass.asc", "2200");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[400];
        struct fw_error err = {0};
        snprintf(text, sizeof text,
                 "%sforage-map: {source: mass.asc, crs: EPSG:4326, %s}\n",
                 GRASS FIELDS, rows[i][0]);
        assert_null(farm_of(text, true, &err));
        assert_int_equal(err.status, FW_EINPUT);
        assert_says(&err, rows[i][1]);
    }
}

/* 9 by 8 cells of 20 m, two of them beyond the field on each side, all `even`
 * but one, counted from the north-west; no value is declared as no data. */
static void put_heights(double even, size_t column, size_t row, double odd)
{
    char text[2048];
    size_t length = (size_t)snprintf(
        text, sizeof text,
        "ncols 9\nnrows 8\nxllcorner %.9f\nyllcorner %.9f\ndx %.12f\n"
        "dy %.12f\n",
        8.9992875 - 2 * 0.001425 / 5, 50.9996405 - 2 * 0.000719 / 4,
        0.001425 / 5, 0.000719 / 4);
    for (size_t j = 0; j < 8; j++)
        for (size_t i = 0; i < 9; i++)
            length += (size_t)snprintf(
                text + length, sizeof text - length, "%.9g%s",
                i == column && j == row ? odd : even, i == 8 ? "\n" : " ");
    put_text("heights.asc", text);
}

#define HEIGHTS FIELDS "dem: {source: heights.asc, crs: EPSG:4326}\n"

static void heights_come_with_the_field(void **state)
{
    (void)state;
    put_heights(320, 5, 3, 330); /* 20 m east and 10 m north of the middle */
    struct fw_farm *farm = good_farm(HEIGHTS);
    const struct fw_raster *heights = farm->fields[0].heights;
    assert_non_null(heights);
    assert_near(fw_raster_at(heights, (struct fw_lonlat){9, 51}), 320, 1e-3);
    assert_near(fw_raster_at_point(heights, (struct fw_point){20, 10}), 330,
                0.05);
    assert_near(fw_raster_at_point(heights, (struct fw_point){10, 10}), 325,
                0.05);
    fw_farm_free(farm);
}

/* Of several fields each has them. */
static void heights_come_with_every_field(void **state)
{
    (void)state;
    const struct drawn halves[] = {
        {"\"name\":\"west\"", BOX(0, 0, 48, 80), 0},
        {"\"name\":\"east\"", BOX(52, 0, 100, 80), 0}};
    draw_map("halves.geojson", halves, 2);
    put_heights(320, 5, 3, 330);
    struct fw_farm *farm =
        good_farm("fields: {source: halves.geojson}\n"
                  "dem: {source: heights.asc, crs: EPSG:4326}\n");
    assert_int_equal(farm->field_count, 2);
    for (size_t i = 0; i < 2; i++) {
        assert_non_null(farm->fields[i].heights);
        assert_near(
            fw_raster_at(farm->fields[i].heights,
                         (struct fw_lonlat){east(i ? 90 : 10), north(10)}),
            320, 1e-3);
    }
    fw_farm_free(farm);
}

static void a_height_that_is_none_is_refused_with_its_place(void **state)
{
    (void)state;
    static const double odd[] = {-9999, -32768, -32767, -999, 32767,
                                 65535, 1e30,   -3e38,  9001, -501};
    for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
        struct fw_error err = {0};
        char value[60];
        put_heights(320, 4, 3, odd[i]);
        assert_null(farm_of(HEIGHTS, true, &err));
        snprintf(value, sizeof value, "a height of %g m at ",
                 (double)(float)odd[i]);
        assert_says(&err, value);
        /* The fifth cell from the west is the field's third: its middle. */
        assert_says(&err, "at 9.000000,51.000090");
        assert_says(&err, "Long Bottom");
        assert_says(&err, "-500 to 9000 m");
    }
}

static void both_ends_of_the_range_are_heights(void **state)
{
    (void)state;
    static const double even[] = {-500, 9000};
    for (size_t i = 0; i < 2; i++) {
        put_heights(even[i], 0, 0, even[i]);
        fw_farm_free(good_farm(HEIGHTS));
    }
}

static void a_jump_is_refused_where_no_ground_could_be(void **state)
{
    (void)state;
    struct fw_error err = {0};
    put_heights(320, 5, 4, 390); /* 70 m up in 20 */
    assert_null(farm_of(HEIGHTS, true, &err));
    assert_says(&err, "320 m to 390 m within 20 m");
    put_heights(320, 5, 4, 370); /* 50 m: steep, and ground */
    fw_farm_free(good_farm(HEIGHTS));
}

static void what_lies_beyond_the_field_is_not_looked_at(void **state)
{
    (void)state;
    put_heights(320, 0, 3, -9999);
    fw_farm_free(good_farm(HEIGHTS));
}

static void zero_among_hills_is_no_height_and_by_the_sea_is_one(void **state)
{
    (void)state;
    struct fw_error err = {0};
    put_heights(40, 4, 3, 0);
    assert_null(farm_of(HEIGHTS, true, &err));
    assert_says(&err, "exactly 0 m");
    put_heights(12, 4, 3, 0);
    fw_farm_free(good_farm(HEIGHTS));
    put_heights(0, 4, 3, 3);
    fw_farm_free(good_farm(HEIGHTS));
}

/* ---- what is not grazed ---- */

static void a_pond_with_a_setback_comes_off_the_field(void **state)
{
    (void)state;
    const struct part parts[] = {
        {40, 30, 60, 50, "\"setback\":\"2 m\""},
        {10, 10, 20, 20, "\"name\":\"small\""},
    };
    put_parts("ponds.geojson", parts, 2);
    struct fw_farm *farm = good_farm(
        FIELDS "setback: 1 m\nmaps: {role: pond, source: ponds.geojson}\n");
    const struct fw_farm_field *field = &farm->fields[0];
    const double gon = 16 * sin(2 * 3.14159265358979 / 16) / 2;
    assert_true(field->grazed != field->shape);
    assert_int_equal(field->shape->ring_count, 1);
    assert_int_equal(field->grazed->ring_count, 3);
    assert_near(field->excluded_m2, 400 + 80 * 2 + 4 * gon + 100 + 40 * 1 + gon,
                0.2);
    assert_near(field->shape->area_m2 - field->grazed->area_m2,
                field->excluded_m2, 1e-9);
    assert_near(farm->features[0].setback_m, 2, 0);
    assert_near(farm->features[1].setback_m, 1, 0);
    fw_farm_free(farm);
}

static void without_bars_the_field_is_grazed_as_it_is(void **state)
{
    (void)state;
    const struct part part = {120, 30, 150, 50, "\"setback\":\"2 m\""};
    put_parts("ponds.geojson", &part, 1);
    struct fw_farm *farm =
        good_farm(FIELDS "maps: {role: pond, source: ponds.geojson}\n");
    assert_true(farm->fields[0].grazed == farm->fields[0].shape);
    assert_near(farm->fields[0].excluded_m2, 0, 0);
    fw_farm_free(farm);
}

static void a_field_cut_in_two_is_two_fields(void **state)
{
    (void)state;
    const struct part part = {60, -5, 62, 85, "\"crop\":\"hedge\""};
    put_parts("hedge.geojson", &part, 1);
    struct fw_farm *farm =
        good_farm("fields:\n  source: field.geojson\n  each:\n"
                  "    - {field: Long Bottom/2, gate: corner:1}\n"
                  "maps: {role: exclusion, source: hedge.geojson}\n");
    assert_int_equal(farm->field_count, 2);
    const struct fw_farm_field *small = &farm->fields[0];
    const struct fw_farm_field *great = &farm->fields[1];
    assert_string_equal(small->shape->name, "Long Bottom/2");
    assert_string_equal(great->shape->name, "Long Bottom");
    assert_near(great->shape->area_m2, 60 * 80, 1);
    assert_near(small->shape->area_m2, 38 * 80, 1);
    assert_near(great->excluded_m2, 2 * 80, 1);
    assert_true(small->gate.given);
    assert_false(great->gate.given);
    fw_farm_free(farm);
}

static void a_crumb_beside_the_field_is_given_up(void **state)
{
    (void)state;
    const struct part part = {98, -5, 99, 85, "\"crop\":\"hedge\""};
    put_parts("hedge.geojson", &part, 1);
    struct fw_farm *farm =
        good_farm(FIELDS "maps: {role: exclusion, source: hedge.geojson}\n");
    assert_int_equal(farm->field_count, 1);
    assert_near(farm->fields[0].grazed->area_m2, 98 * 80, 2);
    assert_near(farm->fields[0].excluded_m2, 2 * 80, 2);
    fw_farm_free(farm);
}

static void a_gate_into_a_pond_makes_no_plan(void **state)
{
    (void)state;
    const struct part part = {85, 65, 120, 90, "\"crop\":\"yard\""};
    struct fw_error err = {0};
    put_parts("yard.geojson", &part, 1);
    assert_null(farm_of(FIELDS
                        "gate: corner:2\n"
                        "maps: {role: exclusion, source: yard.geojson}\n",
                        true, &err));
    assert_int_equal(err.status, FW_EPLAN);
    assert_says(&err, "Long Bottom: the gate lies in a pond");
}

static void feed_lies_on_what_is_grazed(void **state)
{
    (void)state;
    const struct part pond = {40, 20, 60, 60, "\"name\":\"pond\""};
    const struct part zone = {0, 0, 50, 80, "\"mass\":3000"};
    put_parts("ponds.geojson", &pond, 1);
    put_parts("zones.geojson", &zone, 1);
    struct fw_farm *farm = good_farm(
        GRASS FIELDS "maps:\n  - {role: pond, source: ponds.geojson}\n"
                     "  - {role: zone, source: zones.geojson}\n");
    assert_relative(mass_of(&farm->fields[0]),
                    (3600 * 1600 * 0.75 + 3600 * 900) / 1e4, 3e-4);
    fw_farm_free(farm);
}

static void hard_going_says_what_a_crossing_costs(void **state)
{
    (void)state;
    const struct part parts[] = {
        {40, 0, 42, 80, "\"minutes\":4,\"posts\":2,\"sheep_cross\":\"no\""},
        {70, 0, 72, 80, "\"name\":\"bank\""},
    };
    put_parts("bank.geojson", parts, 2);
    struct fw_farm *farm = good_farm(
        FIELDS "maps: {role: hard-going, source: bank.geojson, minutes: "
               "90 s, sheep-cross: yes}\n");
    assert_int_equal(farm->feature_count, 2);
    const struct fw_farm_feature *ditch = &farm->features[0];
    const struct fw_farm_feature *bank = &farm->features[1];
    assert_near(ditch->minutes, 4, 0);
    assert_near(ditch->posts, 2, 0);
    assert_near(ditch->sheep_cross, 0, 0);
    assert_near(bank->minutes, 1.5, 1e-12);
    assert_true(bank->posts < 0);
    assert_near(bank->sheep_cross, 1, 0);
    assert_true(farm->fields[0].grazed == farm->fields[0].shape);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_zone_has_the_grass_that_its_columns_tell),
        cmocka_unit_test(what_columns_do_not_tell_the_map_or_the_field_tells),
        cmocka_unit_test(shares_that_make_less_than_a_year_are_told),
        cmocka_unit_test(a_zones_condition_goes_over_the_fields_share),
        cmocka_unit_test(zones_that_tell_all_masses_need_none_of_the_field),
        cmocka_unit_test(a_zone_elsewhere_leaves_the_ground_even),
        cmocka_unit_test(what_a_zone_says_wrong_is_said_with_its_column),
        cmocka_unit_test(a_raster_tells_the_mass_of_each_cell),
        cmocka_unit_test(scale_and_offset_make_masses_of_numbers),
        cmocka_unit_test(where_a_raster_has_no_data_the_field_holds),
        cmocka_unit_test(zones_and_a_raster_on_one_field_are_refused),
        cmocka_unit_test(masses_beyond_belief_are_refused),
        cmocka_unit_test(heights_come_with_the_field),
        cmocka_unit_test(heights_come_with_every_field),
        cmocka_unit_test(a_height_that_is_none_is_refused_with_its_place),
        cmocka_unit_test(both_ends_of_the_range_are_heights),
        cmocka_unit_test(a_jump_is_refused_where_no_ground_could_be),
        cmocka_unit_test(what_lies_beyond_the_field_is_not_looked_at),
        cmocka_unit_test(zero_among_hills_is_no_height_and_by_the_sea_is_one),
        cmocka_unit_test(a_pond_with_a_setback_comes_off_the_field),
        cmocka_unit_test(without_bars_the_field_is_grazed_as_it_is),
        cmocka_unit_test(a_field_cut_in_two_is_two_fields),
        cmocka_unit_test(a_crumb_beside_the_field_is_given_up),
        cmocka_unit_test(a_gate_into_a_pond_makes_no_plan),
        cmocka_unit_test(feed_lies_on_what_is_grazed),
        cmocka_unit_test(hard_going_says_what_a_crossing_costs),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
