/* The files of the plan made by hand, read back member by member: the tables of
 * plan.gpkg, plan.geojson, fence.gpx and both CSV. */
#include "plan_in_hand.h"
#include "read_back.h"

#include "export/export.h"
#include "io/io.h"
#include "report/reports.h"

#include "export/layers.h"
#include "report/report.h"

#include <stdlib.h>

/* ---- tables ---- */

static struct fw_table tables[FW_REPORT_LAYERS];

static void make_tables(const struct fw_plan *plan, const char *crs)
{
    struct fw_error err;
    if (fw_report_tables(plan, crs, tables, &err))
        fail_msg("%s", err.text);
}

static void release_tables(void)
{
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
}

static const struct fw_table *table_of(const char *name)
{
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        if (strcmp(tables[i].name, name) == 0)
            return &tables[i];
    fail_msg("no table %s", name);
    return tables;
}

static const struct fw_value *value_of(const char *table, size_t row,
                                       const char *column)
{
    const struct fw_table *from = table_of(table);
    assert_true(row < from->row_count);
    for (size_t i = 0; i < from->column_count; i++)
        if (strcmp(from->columns[i].name, column) == 0)
            return &from->rows[row].values[i];
    fail_msg("no column %s in %s", column, table);
    return NULL;
}

/* A cell: a text, or a number, or neither. */
struct cell {
    const char *column;
    const char *text;
    double number;
};
#define NONE ((double)NAN)

static void row_is(const char *table, size_t row, const struct cell *cells,
                   size_t count)
{
    assert_int_equal(table_of(table)->column_count, count);
    for (size_t i = 0; i < count; i++) {
        const struct fw_value *got = value_of(table, row, cells[i].column);
        const bool wanted = cells[i].text || !isnan(cells[i].number);
        if (got->present != wanted)
            fail_msg("%s %zu: %s is there: %d", table, row, cells[i].column,
                     (int)got->present);
        if (cells[i].text)
            assert_string_equal(got->text, cells[i].text);
        else if (wanted && got->number != cells[i].number)
            fail_msg("%s %zu: %s is %g; expected %g", table, row,
                     cells[i].column, got->number, cells[i].number);
    }
}
#define ROW_IS(table, row, ...)                                                \
    do {                                                                       \
        const struct cell cells_[] = {__VA_ARGS__};                            \
        row_is(table, row, cells_, sizeof cells_ / sizeof *cells_);            \
    } while (0)

static const char low[] = "Low \"meadow\"";

static void fields_and_paddocks_are_rows(void)
{
    ROW_IS("fields", 0, {"field", low, 0}, {"part_of", NULL, NONE},
           {"area_ha", NULL, 2.01}, {"grazed_ha", NULL, 1.99},
           {"perimeter_m", NULL, 400.5}, {"paddocks", NULL, 2},
           {"rotation_days", NULL, 12.5}, {"usable_kg_ha", NULL, 800.25},
           {"left_kg", NULL, 12.75}, {"source_layer", "meadows", 0},
           {"source_fid", NULL, 17});
    ROW_IS("fields", 2, {"field", "Top", 0}, {"part_of", "Long Top", 0},
           {"area_ha", NULL, 3.25}, {"grazed_ha", NULL, NONE},
           {"perimeter_m", NULL, 0}, {"paddocks", NULL, 0},
           {"rotation_days", NULL, NONE}, {"usable_kg_ha", NULL, 0},
           {"left_kg", NULL, 0}, {"source_layer", NULL, NONE},
           {"source_fid", NULL, NONE});
    ROW_IS("paddocks", 0, {"paddock", "A01", 0}, {"field", low, 0},
           {"block", "A-1", 0}, {"seq", NULL, 1}, {"enter", NULL, 20577},
           {"leave", NULL, 20578}, {"stay_days", NULL, 1.5},
           {"area_ha", NULL, 0.161}, {"usable_kg", NULL, 130.5},
           {"demand_kg", NULL, 130.25}, {"today_kg", NULL, 101.5},
           {"third_kg", NULL, 113.75}, {"head_per_ha", NULL, 559.5},
           {"liveweight_kg_ha", NULL, 34000.5}, {"perimeter_m", NULL, 161.25},
           {"elongation", NULL, 1.625}, {"pieces", NULL, 1},
           {"narrow_m", NULL, 3.375}, {"walk_mean_m", NULL, 30.5},
           {"walk_fed_m", NULL, 31.125}, {"walk_max_m", NULL, 61.75},
           {"climb_to_m", NULL, 4.125}, {"climb_back_m", NULL, 2.875},
           {"water", "water A", 0}, {"walk_untold", NULL, NONE},
           {"keep", "heat", 0}, {"soft_share", NULL, 0.3125},
           {"shade", "yes", 0}, {"shelter", "no", 0});
    ROW_IS("paddocks", 1, {"paddock", "A02", 0}, {"field", low, 0},
           {"block", NULL, NONE}, {"seq", NULL, 2}, {"enter", NULL, 20578},
           {"leave", NULL, 20580}, {"stay_days", NULL, 0}, {"area_ha", NULL, 0},
           {"usable_kg", NULL, 0}, {"demand_kg", NULL, 0},
           {"today_kg", NULL, 0}, {"third_kg", NULL, 0},
           {"head_per_ha", NULL, 0}, {"liveweight_kg_ha", NULL, 0},
           {"perimeter_m", NULL, 0}, {"elongation", NULL, 0},
           {"pieces", NULL, 0}, {"narrow_m", NULL, NONE},
           {"walk_mean_m", NULL, NONE}, {"walk_fed_m", NULL, NONE},
           {"walk_max_m", NULL, NONE}, {"climb_to_m", NULL, 0},
           {"climb_back_m", NULL, 0}, {"walk_untold", NULL, NONE},
           {"water", NULL, NONE}, {"keep", NULL, NONE}, {"soft_share", NULL, 0},
           {"shade", NULL, NONE}, {"shelter", NULL, NONE});
    ROW_IS("lanes", 0, {"lane", "A-lane-1", 0}, {"field", low, 0},
           {"kind_of", "lane", 0}, {"area_ha", NULL, 0.0125});
    ROW_IS("lanes", 1, {"lane", "A-apron-1", 0}, {"field", low, 0},
           {"kind_of", "apron", 0}, {"area_ha", NULL, 0.0375});
}

static void fences_and_posts_are_rows(void)
{
    ROW_IS("fences", 0, {"fence", "A01-02", 0}, {"field", low, 0},
           {"role", "moved", 0}, {"length_m", NULL, 80.5},
           {"ground_m", NULL, 81.25}, {"strands", NULL, 2},
           {"wire_m", NULL, 166.5}, {"posts", NULL, 10}, {"reels", NULL, 3},
           {"up", NULL, 20577}, {"down", NULL, 20581}, {"open_v", NULL, 4321.5},
           {"touched_v", NULL, 2123.5}, {"lay_min", NULL, 2.25});
    ROW_IS("fences", 1, {"fence", "A-side-2", 0}, {"field", low, 0},
           {"role", "perimeter", 0}, {"length_m", NULL, 100.5},
           {"ground_m", NULL, 101.5}, {"strands", NULL, NONE},
           {"wire_m", NULL, NONE}, {"posts", NULL, NONE}, {"reels", NULL, NONE},
           {"up", NULL, NONE}, {"down", NULL, NONE}, {"open_v", NULL, NONE},
           {"touched_v", NULL, NONE}, {"lay_min", NULL, NONE});
    assert_string_equal(value_of("fences", 2, "role")->text, "standing");
    assert_string_equal(value_of("fences", 3, "role")->text, "lane");
    ROW_IS("posts", 0, {"post", "A01-02/1", 0}, {"fence", "A01-02", 0},
           {"at_m", NULL, 0.25}, {"why", "tie", 0});
    ROW_IS("posts", 1, {"post", "A01-02/2", 0}, {"fence", "A01-02", 0},
           {"at_m", NULL, 8.25}, {"why", "gap", 0});
}

static void places_are_rows(void)
{
    ROW_IS("water", 0, {"water", "trough A01", 0}, {"field", low, 0},
           {"kind_of", "trough", 0}, {"from", NULL, 20577}, {"to", NULL, 20578},
           {"litres_day", NULL, 123.5}, {"hot_l_day", NULL, 234.75},
           {"on_hand_l", NULL, 235.5}, {"opening", "opening A02", 0},
           {"paces", NULL, 33}, {"bearing_deg", NULL, 44.5},
           {"fence", "A01-02", 0});
    ROW_IS("water", 1, {"water", "water A", 0}, {"field", low, 0},
           {"kind_of", "fixed", 0}, {"from", NULL, NONE}, {"to", NULL, NONE},
           {"litres_day", NULL, 456.25}, {"hot_l_day", NULL, 567.5},
           {"on_hand_l", NULL, 568.75}, {"opening", NULL, NONE},
           {"paces", NULL, NONE}, {"bearing_deg", NULL, NONE},
           {"fence", NULL, NONE});
    ROW_IS("gates", 0, {"gate", "gate A", 0}, {"field", low, 0},
           {"kind_of", "gate", 0}, {"on", NULL, NONE}, {"from", NULL, NONE},
           {"to", NULL, NONE}, {"width_m", NULL, 3.5}, {"room_m", NULL, NONE});
    ROW_IS("gates", 2, {"gate", "opening A02", 0}, {"field", low, 0},
           {"kind_of", "opening", 0}, {"on", NULL, 20578}, {"from", "A01", 0},
           {"to", "A02", 0}, {"width_m", NULL, 5.25}, {"room_m", NULL, 2.5});
    ROW_IS("energizer", 0, {"energizer", "energizer", 0}, {"joules", NULL, 1.5},
           {"open_v", NULL, 9060.5}, {"earth_rods", NULL, 3});
    ROW_IS("findings", 0, {"finding", "finding 1", 0},
           {"about", "A01-02, power line", 0}, {"level", "danger", 0},
           {"distance_m", NULL, 3.75}, {"wanted_m", NULL, 4.25},
           {"text", "keep away", 0}, {"source", "somebody's code", 0},
           {"rule", "power-line-middle", 0}, {"feature", "power line", 0},
           {"field", low, 0}, {"fence", "A-line-1", 0});
    ROW_IS("findings", 1, {"finding", "finding 2", 0},
           {"about", "A-side-1, road", 0}, {"level", "warning", 0},
           {"distance_m", NULL, NONE}, {"wanted_m", NULL, NONE},
           {"text", "signs", 0}, {"source", "another", 0},
           {"rule", "road-near", 0}, {"feature", "road", 0},
           {"field", NULL, NONE}, {"fence", NULL, NONE});
}

static void times_are_rows(void)
{
    ROW_IS("stays", 0, {"stay_number", NULL, 1}, {"paddock", "A01", 0},
           {"field", low, 0}, {"enter", NULL, 20577}, {"leave", NULL, 20578},
           {"target_kg", NULL, 130.125}, {"round", NULL, 1});
    ROW_IS("stays", 2, {"stay_number", NULL, 3}, {"paddock", "B01", 0},
           {"field", "Low \"meadow\" (2)", 0}, {"enter", NULL, 20581},
           {"leave", NULL, 20583}, {"target_kg", NULL, 270.5},
           {"round", NULL, 1});
    ROW_IS("standings", 0, {"fence", "B-front", 0},
           {"field", "Low \"meadow\" (2)", 0}, {"up", NULL, NONE},
           {"up_move_number", NULL, NONE}, {"up_step_number", NULL, NONE},
           {"down", NULL, 20583}, {"down_move_number", NULL, 4},
           {"down_step_number", NULL, 4});
    ROW_IS("standings", 3, {"fence", "A-side-lane", 0}, {"field", low, 0},
           {"up", NULL, 20578}, {"up_move_number", NULL, 2},
           {"up_step_number", NULL, 5}, {"down", NULL, NONE},
           {"down_move_number", NULL, NONE}, {"down_step_number", NULL, NONE});
    ROW_IS("cautions", 0, {"caution", "heart", 0}, {"for", "people", 0},
           {"when", "before you begin", 0},
           {"text", "Nobody with a pacemaker.", 0}, {"source", "a law", 0},
           {"tried", "kept", 0});
}

static void every_column_has_its_own(void **state)
{
    (void)state;
    static const size_t rows[] = {3, 3, 2, 5, 2, 2, 5, 1, 2, 3, 4, 1, 9};
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[0].origin.layer = (char *)"meadows";
    hand.fields[0].origin.fid = 17;
    hand.fields[1].origin.fid = hand.fields[2].origin.fid = FW_NO_FID;
    hand.paddocks[0].narrow_m = 3.375;
    hand.fences[0].lay_min = 2.25;
    make_tables(&hand.plan, "OGC:CRS84");
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        assert_int_equal(tables[i].row_count, rows[i]);
    fields_and_paddocks_are_rows();
    fences_and_posts_are_rows();
    places_are_rows();
    times_are_rows();
    release_tables();
}

static void words_of_files_are_these(void **state)
{
    (void)state;
    static const char *const why[] = {"end",  "bend", "gap",   "tie",
                                      "sign", "dip",  "crest", "crossing"};
    struct hand hand;
    take_in_hand(&hand);
    for (size_t i = 0; i < 8; i++) {
        hand.posts[0].why = (enum fw_post_why)i;
        make_tables(&hand.plan, "OGC:CRS84");
        assert_string_equal(value_of("posts", 0, "why")->text, why[i]);
        release_tables();
    }
}

/* ---- where things are ---- */

static void is_lonlat(struct fw_xy got, struct fw_lonlat wanted)
{
    assert_near(got.x, wanted.lon_deg, 1e-12);
    assert_near(got.y, wanted.lat_deg, 1e-12);
}

static void shapes_are_their_rings(void **state)
{
    (void)state;
    static const size_t ring[] = {0, 1, 2, 3, 4, 3, 2};
    struct hand hand;
    take_in_hand(&hand);
    make_tables(&hand.plan, "OGC:CRS84");
    const struct fw_row *row = &table_of("fields")->rows[0];
    assert_int_equal(row->kind, FW_FEATURE_POLYGON);
    assert_int_equal(row->point_count, 7);
    assert_int_equal(row->ring_count, 2);
    assert_int_equal(row->ring_start[1], 4);
    assert_int_equal(row->ring_start[2], 7);
    assert_int_equal(row->piece_count, 1);
    assert_int_equal(row->piece_ring[1], 2);
    for (size_t i = 0; i < 7; i++)
        is_lonlat(row->points[i], vertices[ring[i]].lonlat);
    row = &table_of("paddocks")->rows[1];
    assert_int_equal(row->piece_count, 2);
    assert_int_equal(row->piece_ring[1], 1);
    row = &table_of("lanes")->rows[0];
    assert_int_equal(row->ring_count, 1);
    assert_int_equal(row->point_count, 4);
    row = &table_of("fences")->rows[0];
    assert_int_equal(row->kind, FW_FEATURE_LINE);
    assert_int_equal(row->point_count, 3);
    for (size_t i = 0; i < 3; i++)
        is_lonlat(row->points[i], vertices[line[i]].lonlat);
    static const struct {
        const char *table;
        size_t row;
        double lon, lat;
    } spots[] = {
        {"posts", 0, 11.3, 11.4},    {"posts", 1, 12.3, 12.4},
        {"water", 0, 21.3, 21.4},    {"water", 1, 22.3, 22.4},
        {"gates", 3, 35.3, 35.4},    {"energizer", 0, 51.3, 51.4},
        {"findings", 0, 41.3, 41.4},
    };
    for (size_t i = 0; i < sizeof spots / sizeof *spots; i++) {
        row = &table_of(spots[i].table)->rows[spots[i].row];
        assert_int_equal(row->kind, FW_FEATURE_POINT);
        assert_int_equal(row->point_count, 1);
        assert_near(row->points[0].x, spots[i].lon, 1e-12);
        assert_near(row->points[0].y, spots[i].lat, 1e-12);
    }
    assert_int_equal(table_of("findings")->rows[1].point_count, 0);
    release_tables();
}

/* In its own system a field keeps its numbers, and no bow is written; the
 * others are brought there from longitude and latitude. */
static void own_numbers_stay(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.findings = NULL;
    hand.plan.finding_count = 0;
    hand.plan.field_count = 2;
    for (size_t i = 0; i < 5; i++)
        hand.gates[i].field = i % 2;
    hand.gates[1].place.lonlat = (struct fw_lonlat){9, 0};
    hand.fields[1].rings =
        (struct fw_plan_rings){ring_vertices, ring_start, 1, one_piece, 0};
    make_tables(&hand.plan, NULL);
    const struct fw_row *row = &table_of("fields")->rows[0];
    static const size_t kept[] = {0, 2, 3, 4, 3, 2};
    assert_int_equal(row->point_count, 6);
    assert_int_equal(row->ring_start[1], 3);
    assert_int_equal(row->ring_start[2], 6);
    for (size_t i = 0; i < 6; i++) {
        assert_true(row->points[i].x == vertices[kept[i]].file.x);
        assert_true(row->points[i].y == vertices[kept[i]].file.y);
    }
    assert_int_equal(table_of("fences")->rows[0].point_count, 2);
    row = &table_of("fields")->rows[1];
    assert_int_equal(row->point_count, 4); /* its bow is written */
    row = &table_of("gates")->rows[0];
    assert_true(row->points[0].x == hand.gates[0].place.file.x);
    assert_true(row->points[0].y == hand.gates[0].place.file.y);
    /* On the central meridian of UTM 32 and the equator. */
    row = &table_of("gates")->rows[1];
    assert_near(row->points[0].x, 500000, 1e-6);
    assert_near(row->points[0].y, 0, 1e-6);
    release_tables();
}

/* ---- plan.geojson ---- */

static struct json_object *geojson_of(const struct fw_plan *plan)
{
    struct fw_error err;
    char *text = NULL;
    size_t count = 0;
    if (fw_report_geojson(plan, &text, &count, &err))
        fail_msg("%s", err.text);
    struct json_object *root = parsed(text);
    assert_int_equal(strlen(text), count);
    fw_bytes_free(text);
    return root;
}

static struct json_object *feature_of(struct json_object *root,
                                      const char *kind, size_t number)
{
    struct json_object *list = of(root, "features");
    for (size_t i = 0; i < json_object_array_length(list); i++) {
        struct json_object *kind_of = of(of(at(list, i), "properties"), "kind");
        if (!strcmp(json_object_get_string(kind_of), kind) && number-- == 0)
            return at(list, i);
    }
    fail_msg("no feature %s", kind);
    return NULL;
}

static void is_point(struct json_object *point, struct fw_lonlat wanted)
{
    assert_int_equal(json_object_array_length(point), 2);
    assert_near(json_object_get_double(at(point, 0)), wanted.lon_deg, 6e-10);
    assert_near(json_object_get_double(at(point, 1)), wanted.lat_deg, 6e-10);
}

/* Closed, as RFC 7946 wants it. */
static void is_ring(struct json_object *ring, const size_t *wanted,
                    size_t count)
{
    assert_int_equal(json_object_array_length(ring), count + 1);
    for (size_t i = 0; i <= count; i++)
        is_point(at(ring, i), vertices[wanted[i % count]].lonlat);
}

static void is_type(struct json_object *geometry, const char *type)
{
    is_text(geometry, "type", type);
}

static void geometries_are_of_rfc_7946(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct json_object *root = geojson_of(&hand.plan);
    is_text(root, "type", "FeatureCollection");
    assert_int_equal(json_object_array_length(of(root, "features")),
                     3 + 3 + 2 + 5 + 2 + 2 + 5 + 1 + 2);
    struct json_object *feature = feature_of(root, "field", 0);
    is_text(feature, "type", "Feature");
    struct json_object *geometry = of(feature, "geometry");
    is_type(geometry, "Polygon");
    struct json_object *rings = of(geometry, "coordinates");
    assert_int_equal(json_object_array_length(rings), 2);
    is_ring(at(rings, 0), ring_vertices, 4);
    is_ring(at(rings, 1), ring_vertices + 4, 3);
    geometry = of(feature_of(root, "field", 1), "geometry");
    is_type(geometry, "MultiPolygon");
    struct json_object *pieces = of(geometry, "coordinates");
    assert_int_equal(json_object_array_length(pieces), 2);
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(json_object_array_length(at(pieces, i)), 1);
        is_ring(at(at(pieces, i), 0), ring_vertices + 4 * i, i ? 3 : 4);
    }
    geometry = of(feature_of(root, "fence", 0), "geometry");
    is_type(geometry, "LineString");
    struct json_object *points = of(geometry, "coordinates");
    assert_int_equal(json_object_array_length(points), 3);
    for (size_t i = 0; i < 3; i++)
        is_point(at(points, i), vertices[line[i]].lonlat);
    geometry = of(feature_of(root, "water", 1), "geometry");
    is_type(geometry, "Point");
    is_point(of(geometry, "coordinates"), waters[1].place.lonlat);
    assert_null(of(feature_of(root, "finding", 1), "geometry"));
    struct json_object *caution = at(of(root, "cautions"), 0);
    assert_int_equal(json_object_array_length(of(root, "cautions")), 1);
    is_text(caution, "for", "people");
    is_text(caution, "when", "before you begin");
    is_text(caution, "text", "Nobody with a pacemaker.");
    is_text(caution, "source", "a law");
    is_text(caution, "tried", "kept");
    json_object_put(root);
    /* 9 decimals of a degree are 0.1 mm. */
    struct fw_error err;
    char *text = NULL;
    size_t count;
    hand.waters[1].place.lonlat.lon_deg = 22.12345678949;
    assert_int_equal(fw_report_geojson(&hand.plan, &text, &count, &err), FW_OK);
    has_words(text, "[22.123456789,22.4]");
    fw_bytes_free(text);
}

/* A line and an area over the 180th meridian are in two parts each. */
static void what_runs_over_the_meridian_is_cut(void **state)
{
    (void)state;
    static struct fw_vertex over[] = {
        {.lonlat = {179.5, 10}},    {.lonlat = {180.5, 10}},
        {.lonlat = {180.5, 11}},    {.lonlat = {179.5, 11}},
        {.lonlat = {179.75, 10.5}},
    };
    struct hand hand;
    take_in_hand(&hand);
    for (size_t i = 0; i < 3; i++) {
        hand.fields[i].vertices = over;
        hand.fields[i].crs = NULL;
        hand.fields[i].rings =
            (struct fw_plan_rings){ring_vertices, ring_start, 1, two_pieces, 1};
    }
    for (size_t i = 0; i < 3; i++)
        hand.paddocks[i].rings = hand.fields[i].rings;
    hand.waters[0].place.lonlat.lon_deg = 180.5;
    hand.waters[1].place.lonlat.lon_deg = 180;
    hand.plan.lane_count = 0;
    struct json_object *root = geojson_of(&hand.plan);
    struct json_object *geometry = of(feature_of(root, "field", 0), "geometry");
    is_type(geometry, "MultiPolygon");
    geometry = of(feature_of(root, "fence", 1), "geometry");
    is_type(geometry, "LineString"); /* both at 180.5 east: 179.5 west */
    is_point(at(of(geometry, "coordinates"), 0),
             (struct fw_lonlat){-179.5, 10});
    geometry = of(feature_of(root, "fence", 0), "geometry");
    is_type(geometry, "MultiLineString");
    struct json_object *parts = of(geometry, "coordinates");
    assert_int_equal(json_object_array_length(parts), 2);
    is_point(at(at(parts, 0), 0), (struct fw_lonlat){-179.5, 10});
    is_point(at(at(parts, 1), 1), (struct fw_lonlat){179.75, 10.5});
    geometry = of(feature_of(root, "water", 0), "geometry");
    assert_near(json_object_get_double(at(of(geometry, "coordinates"), 0)),
                -179.5, 1e-9);
    geometry = of(feature_of(root, "water", 1), "geometry");
    assert_near(json_object_get_double(at(of(geometry, "coordinates"), 0)), 180,
                1e-9);
    json_object_put(root);
}

/* What only touches it, or is just half the earth wide, stays as it is. */
static void what_touches_the_meridian_stays(void **state)
{
    (void)state;
    static const double wide[][2] = {{-180, -179}, {179, 180}, {-90, 90}};
    for (size_t i = 0; i < 3; i++) {
        struct fw_xy corners_of[] = {
            {wide[i][0], 1}, {wide[i][1], 1}, {wide[i][1], 2}, {wide[i][0], 2}};
        size_t starts[] = {0, 4}, pieces[] = {0, 1};
        struct fw_row row = {.kind = FW_FEATURE_POLYGON,
                             .points = corners_of,
                             .point_count = 4,
                             .ring_start = starts,
                             .ring_count = 1,
                             .piece_ring = pieces,
                             .piece_count = 1};
        const struct fw_row before = row;
        assert_int_equal(fw_export__cut(&row, NULL), FW_OK);
        assert_memory_equal(&row, &before, sizeof row);
        assert_near(row.points[0].x, wide[i][0], 0);
        assert_near(row.points[2].x, wide[i][1], 0);
    }
    static const double lon[][2] = {
        {190, -170}, {-190, 170}, {540.5, -179.5}, {-180, -180}, {181, -179}};
    for (size_t i = 0; i < 5; i++) {
        struct fw_xy place = {lon[i][0], 1};
        struct fw_row row = {
            .kind = FW_FEATURE_POINT, .points = &place, .point_count = 1};
        assert_int_equal(fw_export__cut(&row, NULL), FW_OK);
        assert_near(place.x, lon[i][1], 1e-12);
    }
}

/* ---- fence.gpx ---- */

static char *gpx_of(const struct fw_plan *plan, size_t move)
{
    struct fw_error err;
    static char *text;
    size_t count = 0;
    if (fw_report_gpx(plan, move, &text, &count, &err))
        fail_msg("%s", err.text);
    assert_int_equal(strlen(text), count);
    return text;
}

static void a_phone_gets_lines_and_posts(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.farm_name = (char *)"Hill <& \"Dale\">";
    snprintf(hand.posts[1].id, sizeof hand.posts[1].id, "a<b>&c");
    hand.posts[1].fence = 2;
    hand.posts[1].place.lonlat = (struct fw_lonlat){12.123456789, 12.4};
    char *text = gpx_of(&hand.plan, 0);
    has_words(text, "<metadata><name>Hill &lt;&amp; \"Dale\"&gt;, "
                    "2026-05-04</name><desc>Local codes, ");
    has_words(text, "</desc></metadata>\n"
                    "  <wpt lat=\"11.4\" lon=\"11.3\"><name>"
                    "A01-02/1</name></wpt>\n"
                    "  <wpt lat=\"12.4\" lon=\"12.12345679\"><name>"
                    "a&lt;b&gt;&amp;c</name></wpt>\n"
                    "  <wpt lat=\"31.4\" lon=\"31.3\"><name>"
                    "gate A</name></wpt>\n"
                    "  <trk><name>A01-02</name><trkseg>"
                    "<trkpt lat=\"46.2\" lon=\"10.2\"></trkpt>"
                    "<trkpt lat=\"46.3\" lon=\"10.3\"></trkpt>"
                    "<trkpt lat=\"0.3\" lon=\"0\"></trkpt>"
                    "</trkseg></trk>\n"
                    "  <trk><name>A-line-1</name><trkseg>");
    assert_int_equal(times(text, "<trk>"), 2);
    fw_bytes_free(text);
    hand.gates[0].place.given = false;
    text = gpx_of(&hand.plan, 0);
    has_not(text, "gate A");
    fw_bytes_free(text);
    hand.posts[0].fence = 4;      /* not of this move */
    text = gpx_of(&hand.plan, 3); /* nothing is set or opened */
    has_not(text, "<wpt");
    has_not(text, "<trk");
    has_words(text, ", 2026-05-10</name>");
    fw_bytes_free(text);
    text = gpx_of(&hand.plan, 1);
    has_not(text, "A01-02/1");
    has_words(text, "<trk><name>A-side-lane</name>");
    has_words(text, "<name>opening A02</name>");
    fw_bytes_free(text);
}

/* ---- moves.csv, materials.csv ---- */

static void rows_of_moves_read_back(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_error err;
    char *text = NULL;
    size_t count = 0;
    assert_int_equal(fw_report_moves_csv(&hand.plan, &text, &count, &err),
                     FW_OK);
    assert_int_equal(strlen(text), count);
    has_words(text,
              "\r\n2026-05-04,\"Low \"\"meadow\"\"\",,A01,1,1.5,0.161,"
              "A01-02;A-line-1,223.5,201,417,25,5,A01-02,,16,7,,17,0.03125,"
              "gate A,,set A01-02+A-line-1;hook A01-02+A-line-1;read "
              "A01-02+A-line-1;carry;open gate A;walk;count;close gate A,5.5,"
              "water A,456.25,567.5,26.870057685088806,30.5,61.75,"
              "4.125,2.875,,\"Local codes, the maker's");
    has_words(text,
              "\r\n2026-05-05,\"Low \"\"meadow\"\"\",A01,A02,1,0,0,A-side-lane,"
              "313.5,90.5,190.5,12,6,0,9,18,7,,19,,opening A02,,");
    has_words(text,
              "\r\n2026-05-08,\"Low \"\"meadow\"\" (2)\",A02,B01,1,0,0,,,,,,,,,"
              ",,,,,gate B;way out A01,A01-02;A-line-1,open gate B;open "
              "way out A01;walk;count;close way out A01;close gate "
              "B;take-down A01-02+A-line-1,7.5,trough A01,123.5,234.75,"
              "25.45584412271571,,,0,0,,\r\n");
    has_words(text,
              "\r\n2026-05-10,\"Low \"\"meadow\"\" (2)\",B01,,,,,,,,,,,,,,,,,,"
              "opening B01,B-front,open opening B01;count;close opening "
              "B01;take-down B-front,9.5,,,,,,,,,,\r\n");
    fw_bytes_free(text);
    /* An end on a line counts along it; one that is not known says nothing. */
    hand.fences[3].a = fences[0].b;
    hand.fences[3].b = fences[1].b;
    assert_int_equal(fw_report_moves_csv(&hand.plan, &text, &count, &err),
                     FW_OK);
    has_words(text, ",12,6,A-line-1,A,75,,,,,opening A02,");
    fw_bytes_free(text);
    hand.fences[3].a.far_end = false;
    assert_int_equal(fw_report_moves_csv(&hand.plan, &text, &count, &err),
                     FW_OK);
    has_words(text, ",12,6,A-line-1,B,75,,,,,opening A02,");
    fw_bytes_free(text);
}

static void rows_of_materials_read_back(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_error err;
    char *text = NULL;
    size_t count = 0;
    snprintf(hand.materials[1].item, sizeof hand.materials[1].item,
             "wire\nof \"two\"");
    assert_int_equal(fw_report_materials_csv(&hand.plan, &text, &count, &err),
                     FW_OK);
    assert_int_equal(strlen(text), count);
    /* 21 and 2 to spare at 2.25. */
    has_words(text, "item,ware,unit,quantity,spare,owned,pack,packs,bought,"
                    "price,cost,note\r\n"
                    "step-in post,post,each,21,2,12,0,,23,2.25,51.75,"
                    "\"Local codes, the");
    has_words(text,
              "can still hurt. two lines and a spare\"\r\n"
              "\"wire\nof \"\"two\"\"\",wire,m,332.5,0,0,175,2,350,,,\r\n");
    fw_bytes_free(text);
    hand.materials[0].price = 0; /* free, and told so */
    hand.materials[0].note[0] = '\0';
    assert_int_equal(fw_report_materials_csv(&hand.plan, &text, &count, &err),
                     FW_OK);
    has_words(text,
              "step-in post,post,each,21,2,12,0,,23,0,0,\"Local codes, the");
    has_words(text, "can still hurt.\"\r\n");
    fw_bytes_free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_column_has_its_own),
        cmocka_unit_test(words_of_files_are_these),
        cmocka_unit_test(shapes_are_their_rings),
        cmocka_unit_test(own_numbers_stay),
        cmocka_unit_test(geometries_are_of_rfc_7946),
        cmocka_unit_test(what_runs_over_the_meridian_is_cut),
        cmocka_unit_test(what_touches_the_meridian_stays),
        cmocka_unit_test(a_phone_gets_lines_and_posts),
        cmocka_unit_test(rows_of_moves_read_back),
        cmocka_unit_test(rows_of_materials_read_back),
    };
    return cmocka_run_group_tests_name("report_layers", tests, NULL, NULL);
}
