#include "crs/crs.h"
#include "farm_help.h"
#include "io/io.h"

#include <time.h>

/* ---- maps made for one test ---- */

/* A square of side_deg with its south-west corner there. */
static void square(char *out, size_t room, const char *name, double lon,
                   double lat, double side_deg)
{
    const double e = lon + side_deg, n = lat + side_deg;
    snprintf(out, room,
             "{\"type\":\"Feature\",\"properties\":{\"name\":%s},\"geometry\":"
             "{\"type\":\"Polygon\",\"coordinates\":[[[%.7f,%.7f],[%.7f,%.7f],"
             "[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f]]]}}",
             name, lon, lat, e, lat, e, n, lon, n, lon, lat);
}

/* Squares of about 100 m in a row, by name (with quotes, or null). */
static void put_row(const char *path, const char *const *names, size_t count)
{
    char *text = calloc(count + 1, 400);
    strcpy(text, "{\"type\":\"FeatureCollection\",\"features\":[");
    size_t length = strlen(text);
    for (size_t i = 0; i < count; i++) {
        if (i > 0)
            text[length++] = ',';
        square(text + length, 400, names[i], 9 + 0.002 * (double)i, 51, 0.001);
        length += strlen(text + length);
    }
    strcpy(text + length, "]}");
    put_text(path, text);
    free(text);
}

struct reading {
    struct fw_farm *farm;
    struct fw_notes notes;
    struct fw_error err;
    enum fw_status status;
    size_t bad;
};

static void read_maps(struct reading *out, const char *const *sources,
                      size_t count, const struct fw_farm_setting *settings,
                      size_t setting_count, bool every_field)
{
    *out = (struct reading){0};
    const struct fw_farm_request request = {.field_sources = sources,
                                            .field_source_count = count,
                                            .settings = settings,
                                            .setting_count = setting_count,
                                            .fields_only = true,
                                            .every_field = every_field};
    out->status =
        fw_farm_read(&request, &out->farm, &out->bad, &out->notes, &out->err);
}

static void read_map(struct reading *out, const char *source, bool every_field)
{
    read_maps(out, &source, 1, NULL, 0, every_field);
}

static void done(struct reading *reading)
{
    fw_farm_free(reading->farm);
    fw_notes_release(&reading->notes);
}

static void assert_good(const struct reading *reading)
{
    if (reading->status)
        fail_msg("%s", reading->err.text);
}

static void assert_names(const struct fw_farm *farm, const char *const *names,
                         size_t count)
{
    assert_int_equal(farm->field_count, count);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(farm->fields[i].shape->name, names[i]);
}

static const struct fw_note *find_note(const struct fw_notes *notes,
                                       const char *piece)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, piece))
            return &notes->items[i];
    return NULL;
}

/* ---- names ---- */

static void names_are_made_unique_and_the_first_keeps_its_own(void **state)
{
    (void)state;
    static const char *const given[] = {"\"Hill\"", "\"Hill\"",
                                        "null",     "\"Hill 2\"",
                                        "\"Hill\"", "\"field 3\""};
    static const char *const wanted[] = {"Hill",   "Hill 3", "field 3",
                                         "Hill 2", "Hill 4", "field 3 2"};
    struct reading reading;
    put_row("row.geojson", given, 6);
    read_map(&reading, "row.geojson", false);
    assert_good(&reading);
    assert_names(reading.farm, wanted, 6);
    done(&reading);
}

/* 4,000 fields of one name: were each tried against all, this would take
 * minutes. */
static void many_fields_of_one_name_take_no_longer_than_others(void **state)
{
    (void)state;
    enum { many = 4000 };
    static const char *names[many];
    for (size_t i = 0; i < many; i++)
        names[i] = "\"Same\"";
    put_row("same.geojson", names, many);
    struct reading reading;
    const clock_t start = clock();
    read_map(&reading, "same.geojson", false);
    const double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    assert_good(&reading);
    assert_int_equal(reading.farm->field_count, many);
    assert_string_equal(reading.farm->fields[many - 1].shape->name,
                        "Same 4000");
    assert_true(seconds < 20);
    done(&reading);
}

static void names_stay_unique_over_several_files(void **state)
{
    (void)state;
    static const char *const hill[] = {"\"Hill\""};
    static const char *const sources[] = {"a.geojson", "b.geojson"};
    static const char *const wanted[] = {"Hill", "Hill 2"};
    struct reading reading;
    put_row("a.geojson", hill, 1);
    put_row("b.geojson", hill, 1);
    read_maps(&reading, sources, 2, NULL, 0, false);
    assert_good(&reading);
    assert_names(reading.farm, wanted, 2);
    assert_string_equal(reading.farm->fields_source, "a.geojson");
    assert_string_equal(reading.farm->fields[1].source, "b.geojson");
    done(&reading);
}

/* ---- parts ---- */

#define SQUARE(w, s, e, n)                                                     \
    "[[[" w "," s "],[" e "," s "],[" e "," n "],[" w "," n "],[" w "," s "]]" \
    "]"
#define MULTI(parts) "{\"type\":\"MultiPolygon\",\"coordinates\":[" parts "]}"
#define BIG_PART SQUARE("9", "51", "9.001", "51.001")
#define OTHER_PART SQUARE("9.002", "51", "9.003", "51.001")
#define TINY_PART SQUARE("9.004", "51", "9.00401", "51.00001") /* 0.8 m2 */

static void
parts_of_a_feature_are_fields_and_tiny_ones_are_left_out(void **state)
{
    (void)state;
    static const char *const wanted[] = {"Hill part 1", "Hill part 3"};
    struct reading reading;
    put_text("parts.geojson",
             COLLECTION(FEATURE("Hill",
                                MULTI(BIG_PART "," TINY_PART "," OTHER_PART))));
    read_map(&reading, "parts.geojson", true);
    assert_good(&reading);
    assert_names(reading.farm, wanted, 2);
    assert_int_equal(reading.bad, 0);
    const struct fw_note *note = find_note(&reading.notes, "left out");
    assert_non_null(note);
    assert_string_equal(note->where,
                        "parts.geojson: feature 1 (FID 0, Hill) part 2");
    done(&reading);
}

/* Each part has what its feature has. */
static void parts_know_their_feature_and_its_columns(void **state)
{
    (void)state;
    put_text(
        "parts.geojson",
        COLLECTION("{\"type\":\"Feature\",\"id\":70,\"properties\":{"
                   "\"name\":\"Hill\",\"parcel\":\"F 12\",\"owner\":"
                   "null},\"geometry\":" MULTI(BIG_PART "," OTHER_PART) "}"));
    struct fw_farm *farm = good_farm("fields: {source: parts.geojson, copy: "
                                     "[owner, parcel]}\n");
    assert_int_equal(farm->field_count, 2);
    for (size_t i = 0; i < 2; i++) {
        const struct fw_origin *origin = &farm->fields[i].origin;
        assert_int_equal(origin->fid, 70);
        assert_string_equal(origin->layer, "parts");
        assert_int_equal(origin->copied_count, 2);
        assert_string_equal(origin->copied[0].column, "owner");
        assert_null(origin->copied[0].value);
        assert_string_equal(origin->copied[1].value, "F 12");
    }
    fw_farm_free(farm);
    struct fw_error err = {0};
    assert_null(farm_of("fields: {source: parts.geojson, copy: parcell}\n",
                        true, &err));
    assert_says(&err, "did you mean \"parcel\"?");
}

static void ring_directions_and_repeated_points_are_counted(void **state)
{
    (void)state;
    struct reading reading;
    put_text("turned.geojson",
             COLLECTION(FEATURE(
                 "Hill", "{\"type\":\"Polygon\",\"coordinates\":[[[9,51],[9,"
                         "51.001],[9,51.001],[9.001,51.001],[9.001,51],[9,51]"
                         "]]}")));
    read_map(&reading, "turned.geojson", true);
    assert_good(&reading);
    assert_int_equal(reading.notes.count, 0);
    assert_int_equal(reading.farm->turned_rings, 1);
    assert_int_equal(reading.farm->repeated_points, 1);
    done(&reading);
}

static void one_part_that_is_left_keeps_the_plain_name(void **state)
{
    (void)state;
    static const char *const wanted[] = {"Hill"};
    struct reading reading;
    put_text("parts.geojson",
             COLLECTION(FEATURE("Hill", MULTI(TINY_PART "," BIG_PART))));
    read_map(&reading, "parts.geojson", false);
    assert_good(&reading);
    assert_names(reading.farm, wanted, 1);
    done(&reading);
}

static void a_feature_of_tiny_parts_only_is_refused(void **state)
{
    (void)state;
    struct reading reading;
    put_text("parts.geojson",
             COLLECTION(FEATURE("Hill", MULTI(TINY_PART "," TINY_PART))));
    read_map(&reading, "parts.geojson", false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err,
                "parts.geojson: feature 1 (FID 0, Hill): has no part "
                "of 50 m2 or more");
    done(&reading);
}

/* ---- what is refused ---- */

#define BOW                                                                    \
    "{\"type\":\"Polygon\",\"coordinates\":[[[9,51],[9.001,51.001],"           \
    "[9.001,51],[9,51.001],[9,51]]]}"
#define MIXED                                                                       \
    COLLECTION(FEATURE("A", POLYGON(FIELD_RING)) "," FEATURE("B", BOW) "," FEATURE( \
        "C",                                                                        \
        "{\"type\":\"Point\",\"coordinates\":[9,51]"                                \
        "}") "," FEATURE("D",                                                       \
                         "null") "," FEATURE("E",                                   \
                                             "{\"ty"                                \
                                             "pe\":"                                \
                                             "\"Lin"                                \
                                             "eStri"                                \
                                             "ng\","                                \
                                             "\"coo"                                \
                                             "rdina"                                \
                                             "tes\""                                \
                                             ":"                                    \
                                             "[[9,"                                 \
                                             "51],["                                \
                                             "9.1,"                                 \
                                             "51.1]"                                \
                                             "]}") "," FEATURE("F",                 \
                                                               POLYGON(             \
                                                                   FIELD_RING)))

static void the_first_bad_feature_ends_the_reading(void **state)
{
    (void)state;
    struct reading reading;
    put_text("mixed.geojson", MIXED);
    read_map(&reading, "mixed.geojson", false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_null(reading.farm);
    assert_says(&reading.err, "mixed.geojson: feature 2 (FID 1, B): ");
    assert_says(&reading.err, "leave it out with fields.where (--where)");
    assert_int_equal(reading.bad, 1);
    done(&reading);
}

static void
each_bad_feature_is_noted_and_counted_when_all_are_wanted(void **state)
{
    (void)state;
    static const char *const wanted[] = {"A", "F"};
    static const char *const reasons[] = {"is a point, not a polygon",
                                          "is empty: it has no geometry",
                                          "is a line, not a polygon"};
    struct reading reading;
    put_text("mixed.geojson", MIXED);
    read_map(&reading, "mixed.geojson", true);
    assert_good(&reading);
    assert_names(reading.farm, wanted, 2);
    assert_int_equal(reading.bad, 4);
    for (size_t i = 0; i < 3; i++) {
        const struct fw_note *note = find_note(&reading.notes, reasons[i]);
        assert_non_null(note);
        assert_int_equal(note->level, FW_LEVEL_WARNING);
        assert_non_null(strstr(note->where, "mixed.geojson: feature "));
    }
    done(&reading);
}

static void a_map_of_bad_features_only_is_an_error_all_the_same(void **state)
{
    (void)state;
    struct reading reading;
    put_text("bad.geojson",
             COLLECTION(FEATURE("B", BOW) "," FEATURE("D", "null")));
    read_map(&reading, "bad.geojson", true);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "no field can be used; the first of 2 reasons: "
                              "bad.geojson: feature 1 (FID 0, B): ");
    done(&reading);
}

static void a_map_that_cannot_be_read_is_one_note_among_several(void **state)
{
    (void)state;
    static const char *const sources[] = {"none.geojson", "field.geojson"};
    struct reading reading;
    read_maps(&reading, sources, 2, NULL, 0, true);
    assert_good(&reading);
    assert_int_equal(reading.bad, 1);
    assert_non_null(find_note(&reading.notes, "none.geojson: no such file"));
    done(&reading);
    read_maps(&reading, sources, 2, NULL, 0, false);
    assert_int_equal(reading.status, FW_EINPUT);
    done(&reading);
}

static void a_map_without_a_coordinate_system_asks_for_one(void **state)
{
    (void)state;
    const char *source = "plain.csv";
    const struct fw_farm_setting crs = {"fields.crs", "EPSG:25832", "--crs"};
    struct reading reading;
    put_text(source, "WKT,name\n\"POLYGON ((500000 5650000,500100 5650000,"
                     "500100 5650080,500000 5650080,500000 5650000))\",Hill\n");
    read_map(&reading, source, false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "plain.csv: names no coordinate system; say "
                              "which, such as fields.crs: EPSG:2157 "
                              "(--crs EPSG:2157)");
    done(&reading);
    read_maps(&reading, &source, 1, &crs, 1, false);
    assert_good(&reading);
    assert_string_equal(reading.farm->fields[0].crs, "EPSG:25832");
    /* UTM on its central meridian: 0.9996 along both axes. */
    assert_relative(reading.farm->fields[0].shape->ellipsoid_m2,
                    100 * 80 / (0.9996 * 0.9996), 1e-5);
    done(&reading);
}

static void a_map_without_features_holds_no_fields(void **state)
{
    (void)state;
    struct reading reading;
    put_text("empty.geojson", COLLECTION(""));
    read_map(&reading, "empty.geojson", true);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "empty.geojson: holds no fields");
    done(&reading);
}

static void nothing_to_read_is_said(void **state)
{
    (void)state;
    struct reading reading;
    read_maps(&reading, NULL, 0, NULL, 0, false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "no farm file and no map of fields");
    done(&reading);
}

/* ---- order ---- */

static void
fields_are_grazed_in_the_order_told_then_that_of_the_map(void **state)
{
    (void)state;
    static const char *const given[] = {"\"A\"", "\"B\"", "\"C\"", "\"D\""};
    static const char *const wanted[] = {"C", "B", "A", "D"};
    put_row("four.geojson", given, 4);
    struct fw_farm *farm =
        good_farm("fields: {source: four.geojson, each: [{field: C}, "
                  "{field: B, forage: {mass: 2400 kg/ha}}]}\n"
                  "forage: {sward: ryegrass-clover, height: 20 cm, "
                  "leave: 8 cm}\n");
    assert_names(farm, wanted, 4);
    assert_near(farm->fields[1].sward.mass_kg_ha, 2400, 1e-9);
    assert_near(farm->fields[1].sward.height_m, 0, 0);
    assert_near(farm->fields[1].sward.leave_m, 0.08, 1e-12);
    assert_near(farm->fields[0].sward.mass_kg_ha, 0, 0);
    assert_near(farm->fields[0].sward.height_m, 0.2, 1e-12);
    fw_farm_free(farm);
}

static void only_the_fields_that_are_asked_for_are_taken(void **state)
{
    (void)state;
    static const char *const given[] = {"\"A\"", "\"B, low\"", "\"C\""};
    static const char *const wanted[] = {"C", "B, low"};
    put_row("three.geojson", given, 3);
    struct fw_farm *farm =
        good_farm("fields: {source: three.geojson, only: ['B, low', C], each: "
                  "[{field: C}, {field: A}]}\n");
    assert_names(farm, wanted, 2);
    fw_farm_free(farm);
}

/* ---- places ---- */

static void a_gate_by_numbers_goes_to_the_fields_in_reach(void **state)
{
    (void)state;
    static const char *const given[] = {"\"A\"", "\"B\"", "\"C\""};
    const char *source = "three.geojson";
    /* On the western edge of B, 70 m from A and C. */
    const struct fw_farm_setting gate = {"gate", "9.002,51.0005", "--gate"};
    const struct fw_farm_setting far = {"gate", "9.0015,51.0005", "--gate"};
    const struct fw_farm_setting corner = {"gate", "corner:2", "--gate"};
    struct reading reading;
    put_row(source, given, 3);
    read_maps(&reading, &source, 1, &gate, 1, false);
    assert_good(&reading);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(reading.farm->fields[i].gate.given, i == 1);
    assert_near(reading.farm->fields[1].gate.lonlat.lon_deg, 9.002, 0);
    done(&reading);

    read_maps(&reading, &source, 1, &far, 1, false);
    assert_int_equal(reading.status, FW_EPLAN);
    assert_says(&reading.err, "--gate: the gate is 35 m from the nearest "
                              "field,");
    done(&reading);

    read_maps(&reading, &source, 1, &corner, 1, false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "--gate: \"corner:2\" is on one field, and there "
                              "are 3");
    done(&reading);
}

static const char track[] =
    "<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"test\" "
    "xmlns=\"http://www.topografix.com/GPX/1/1\">"
    "<wpt lat=\"51.0\" lon=\"9.0\"><name>gate</name></wpt>"
    "<wpt lat=\"51.0005\" lon=\"9.0005\"><name>spring</name></wpt>"
    "<trk><name>Walked</name><trkseg>"
    "<trkpt lat=\"51\" lon=\"9\"/><trkpt lat=\"51\" lon=\"9.001\"/>"
    "<trkpt lat=\"51.001\" lon=\"9.001\"/><trkpt lat=\"51.001\" lon=\"9\"/>"
    "</trkseg></trk></gpx>";

static void a_waypoint_is_a_place_by_its_name(void **state)
{
    (void)state;
    const char *source = "walk.gpx";
    const struct fw_farm_setting settings[] = {{"gate", "gate", "--gate"},
                                               {"water", "spring", "--water"}};
    const struct fw_farm_setting wrong = {"gate", "gaet", "--gate"};
    const struct fw_farm_setting unknown = {"gate", "the old oak", "--gate"};
    struct reading reading;
    put_text(source, track);
    read_maps(&reading, &source, 1, settings, 2, false);
    assert_good(&reading);
    const struct fw_farm_field *field = &reading.farm->fields[0];
    assert_string_equal(field->shape->name, "Walked");
    assert_near(field->gate.lonlat.lon_deg, 9, 1e-12);
    assert_near(field->water.lonlat.lat_deg, 51.0005, 1e-12);
    done(&reading);

    read_maps(&reading, &source, 1, &wrong, 1, false);
    assert_int_equal(reading.status, FW_EINPUT);
    assert_says(&reading.err, "--gate: \"gaet\" is no place; did you mean "
                              "\"gate\"?");
    done(&reading);
    read_maps(&reading, &source, 1, &unknown, 1, false);
    assert_says(&reading.err, "(here: gate, spring)");
    done(&reading);
}

/* ---- sides ---- */

static void a_fields_own_answers_go_over_the_farms(void **state)
{
    (void)state;
    static const char *const given[] = {"\"A\"", "\"B\""};
    put_row("two.geojson", given, 2);
    struct fw_farm *farm =
        good_farm("perimeter: {holds: sheep, hot: yes, ponds: sheep}\n"
                  "fields:\n  source: two.geojson\n  each:\n"
                  "    - field: A\n"
                  "    - field: B\n"
                  "      perimeter:\n"
                  "        holds: lambs\n"
                  "        sides: [{side: 4, holds: nothing, hot: no}]\n");
    for (size_t i = 0; i < 4; i++) {
        const struct fw_farm_side *a = &farm->fields[0].sides[i];
        const struct fw_farm_side *b = &farm->fields[1].sides[i];
        assert_int_equal(a->holds, FW_HOLDS_SHEEP);
        assert_int_equal(a->hot, FW_YES);
        assert_int_equal(b->holds, i == 3 ? FW_HOLDS_NOTHING : FW_HOLDS_LAMBS);
        assert_int_equal(b->hot, i == 3 ? FW_NO : FW_YES);
    }
    assert_int_equal(farm->fields[1].hole_holds, FW_HOLDS_SHEEP);
    fw_farm_free(farm);
}

static void sides_of_several_fields_are_told_field_by_field(void **state)
{
    (void)state;
    static const char *const given[] = {"\"A\"", "\"B\""};
    struct fw_error err = {0};
    put_row("two.geojson", given, 2);
    assert_null(farm_of("fields: {source: two.geojson}\n"
                        "perimeter: {sides: [{side: 1, hot: no}]}\n",
                        true, &err));
    assert_says(&err, "farm.yaml:2: perimeter.sides: sides are numbered field "
                      "by field, and there are 2 fields");
}

/* ---- what stands around ---- */

/* The field is 100 m by 80 m about 9 E, 51 N. A road runs past it 100 m to the
 * south and on over 30 km; another, as long, comes nowhere near though its box
 * covers the field; a pond holds the field inside; a barn is 1 km off. */
static const char around[] = COLLECTION(FEATURE(
    "near",
    "{\"type\":\"LineString\",\"coordinates\":"
    "[[8.8,50.9987],[9.2,50.9987]]}") "," FEATURE("far",
                                                  "{\"type\":\"LineString\","
                                                  "\"coordinates\":"
                                                  "[[8.8,50.9],[9.2,50.9],[9.2,"
                                                  "51.1]]}") "," FEATURE("lake",
                                                                         "{\"ty"
                                                                         "pe\":"
                                                                         "\"Pol"
                                                                         "ygon"
                                                                         "\","
                                                                         "\"coo"
                                                                         "rdina"
                                                                         "tes\""
                                                                         ":[[["
                                                                         "8.9,"
                                                                         "50.9]"
                                                                         ","
                                                                         "[9.1,"
                                                                         "50.9]"
                                                                         ",[9."
                                                                         "1,51."
                                                                         "1],["
                                                                         "8.9,"
                                                                         "51.1]"
                                                                         ",[8."
                                                                         "9,50."
                                                                         "9]]]"
                                                                         "}") "," FEATURE("post",
                                                                                          "{\"type\":\"Point\",\"coordinates\":[9.0005,51]}") "," FEATURE("barn",
                                                                                                                                                          "{\"type\":\"Point\",\"coordinates\":[9.0142,51]}") "," FEATURE("gone",
                                                                                                                                                                                                                          "null"));

static void features_near_a_field_are_kept_with_their_role(void **state)
{
    (void)state;
    static const char *const wanted[] = {"near", "lake", "post"};
    put_text("around.geojson", around);
    struct fw_farm *farm =
        good_farm("fields: {source: field.geojson}\nmaps: "
                  "[{role: power-line, source: around.geojson, kv: 20 kV}]\n");
    assert_int_equal(farm->feature_count, 3);
    for (size_t i = 0; i < 3; i++) {
        assert_string_equal(farm->features[i].name, wanted[i]);
        assert_int_equal(farm->features[i].role, FW_ROLE_POWER_LINE);
        assert_near(farm->features[i].kv, 20, 1e-12);
        assert_int_equal(farm->features[i].ring_count, 1);
    }
    assert_int_equal(farm->features[0].kind, FW_FEATURE_LINE);
    const size_t last = farm->features[0].ring_start[1] - 1;
    assert_near(farm->features[0].points[last].lon_deg, 9.2, 1e-12);
    assert_true(farm->features[1].ring_start[1] > 4);
    fw_farm_free(farm);
}

/* Straight in its file, a line from west to east bows from the shortest way:
 * every point that is put in between lies on the file's line, and no chord is
 * over a millimetre from it. Straight down to the middle of a chord of c m the
 * parallel lies c^2 tan(lat) / 8 R off: closed form. */
static void long_edges_stay_straight_in_their_file(void **state)
{
    (void)state;
    put_text("around.geojson", around);
    struct fw_farm *farm =
        good_farm("fields: {source: field.geojson}\nmaps: "
                  "[{role: power-line, source: around.geojson, kv: 20 kV}]\n");
    const struct fw_farm_feature *line = &farm->features[0];
    for (size_t i = 1; i < line->ring_start[1]; i++) {
        assert_near(line->points[i].lat_deg, 50.9987, 1e-11);
        const double chord_m =
            fw_geo_distance_m(line->points[i - 1], line->points[i]);
        assert_true(chord_m * chord_m * tan(50.9987 / 57.29577951) / 8 /
                        6371000 <
                    0.001);
    }
    fw_farm_free(farm);
}

static void maps_come_as_options_with_role_and_layer(void **state)
{
    (void)state;
    const char *source = "field.geojson";
    const struct fw_farm_setting settings[] = {
        {"maps", "building:around=around.geojson", "--map"},
        {"maps[+]", "road=around.geojson", "--map"}};
    struct reading reading;
    put_text("around.geojson", around);
    read_maps(&reading, &source, 1, settings, 2, false);
    assert_good(&reading);
    assert_int_equal(reading.farm->feature_count, 6);
    assert_int_equal(reading.farm->features[0].role, FW_ROLE_BUILDING);
    assert_int_equal(reading.farm->features[3].role, FW_ROLE_ROAD);
    assert_true(reading.farm->features[0].kv < 0);
    assert_non_null(find_note(&reading.notes, "without a usable geometry"));
    done(&reading);
}

/* ---- beside the farm file ---- */

/* A farm file by a way round, and a map by a long name beside it. */
static void a_path_that_is_too_long_is_said(void **state)
{
    (void)state;
    enum { steps = 1700, letters = 990 };
    static char path[2 * steps + 16], text[letters + 40];
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    const struct fw_farm_request request = {.farm_path = path,
                                            .fields_only = true};
    for (size_t i = 0; i < steps; i++)
        memcpy(path + 2 * i, "./", 2);
    strcpy(path + (size_t)2 * steps, "farm.yaml");
    strcpy(text, "fields: {source: ");
    memset(text + strlen(text), 'm', letters);
    strcat(text, "}\n");
    put_text("farm.yaml", text);
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                     FW_EINPUT);
    assert_says(&err, "the path is too long");
}

static void maps_stand_beside_the_farm_file(void **state)
{
    (void)state;
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    assert_int_equal(fw_folder_make("hill", NULL), FW_OK);
    put_text("hill/fields.geojson",
             COLLECTION(FEATURE("Hill", POLYGON(FIELD_RING))));
    put_text("hill/farm.yaml", "fields: {source: fields.geojson}\n");
    const struct fw_farm_request request = {.farm_path = "hill/farm.yaml",
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    assert_string_equal(farm->fields_source, "fields.geojson");
    assert_string_equal(farm->name, "farm");
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(names_are_made_unique_and_the_first_keeps_its_own),
        cmocka_unit_test(many_fields_of_one_name_take_no_longer_than_others),
        cmocka_unit_test(names_stay_unique_over_several_files),
        cmocka_unit_test(
            parts_of_a_feature_are_fields_and_tiny_ones_are_left_out),
        cmocka_unit_test(parts_know_their_feature_and_its_columns),
        cmocka_unit_test(ring_directions_and_repeated_points_are_counted),
        cmocka_unit_test(one_part_that_is_left_keeps_the_plain_name),
        cmocka_unit_test(a_feature_of_tiny_parts_only_is_refused),
        cmocka_unit_test(the_first_bad_feature_ends_the_reading),
        cmocka_unit_test(
            each_bad_feature_is_noted_and_counted_when_all_are_wanted),
        cmocka_unit_test(a_map_of_bad_features_only_is_an_error_all_the_same),
        cmocka_unit_test(a_map_that_cannot_be_read_is_one_note_among_several),
        cmocka_unit_test(a_map_without_a_coordinate_system_asks_for_one),
        cmocka_unit_test(a_map_without_features_holds_no_fields),
        cmocka_unit_test(nothing_to_read_is_said),
        cmocka_unit_test(
            fields_are_grazed_in_the_order_told_then_that_of_the_map),
        cmocka_unit_test(only_the_fields_that_are_asked_for_are_taken),
        cmocka_unit_test(a_gate_by_numbers_goes_to_the_fields_in_reach),
        cmocka_unit_test(a_waypoint_is_a_place_by_its_name),
        cmocka_unit_test(a_fields_own_answers_go_over_the_farms),
        cmocka_unit_test(sides_of_several_fields_are_told_field_by_field),
        cmocka_unit_test(features_near_a_field_are_kept_with_their_role),
        cmocka_unit_test(long_edges_stay_straight_in_their_file),
        cmocka_unit_test(maps_come_as_options_with_role_and_layer),
        cmocka_unit_test(a_path_that_is_too_long_is_said),
        cmocka_unit_test(maps_stand_beside_the_farm_file),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
