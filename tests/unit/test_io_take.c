/* From a geometry to parts of our own, and which columns speak of a voltage:
 * geometries that are built by hand, whatever file they might stand in. */
#include "test.h"

#include "base/alloc.h"
#include "io/map.h"
#include "io/map_volts.h"

#include <string.h>

struct taken {
    struct fw_map map;
    struct fw_notes notes;
};

/* Takes the geometry. */
static struct taken take_as(OGRGeometryH geometry, struct fw_io__taker taker)
{
    static struct taken taken; /* the taker points at it */
    struct fw_error err = {0};
    const struct fw_feature feature = {.fid = 7, .row = 3};
    taken = (struct taken){.map = {.feature_count = 0}};
    taker.map = &taken.map;
    taker.notes = &taken.notes;
    taker.source = "drawn by hand";
    if (fw_io__take(&taker, geometry, &feature, "North", &err))
        fail_msg("%s", err.text);
    OGR_G_DestroyGeometry(geometry);
    for (size_t i = 0; i < taken.map.feature_count; i++) {
        assert_int_equal(taken.map.features[i].fid, 7);
        assert_int_equal(taken.map.features[i].row, 3);
        assert_string_equal(taken.map.features[i].name, "North");
    }
    return taken;
}

static struct taken take(OGRGeometryH geometry)
{
    return take_as(geometry, (struct fw_io__taker){.tracks = false});
}

static void release(struct taken *taken)
{
    for (size_t i = 0; i < taken->map.feature_count; i++) {
        fw_free(taken->map.features[i].name);
        fw_shape_release(&taken->map.features[i].shape);
    }
    fw_free(taken->map.features);
    fw_notes_release(&taken->notes);
}

static OGRGeometryH wkt(const char *text)
{
    OGRGeometryH made = NULL;
    char room[2000];
    char *at = room;
    snprintf(room, sizeof room, "%s", text);
    assert_int_equal(OGR_G_CreateFromWkt(&at, NULL, &made), OGRERR_NONE);
    return made;
}

/* ---- parts ---- */

static void parts_are_counted_from_one(void **state)
{
    (void)state;
    static const struct {
        const char *wkt;
        size_t parts, points;
        enum fw_feature_kind kind;
    } rows[] = {
        {"POINT (1 2)", 1, 1, FW_FEATURE_POINT},
        {"MULTIPOINT (1 2,3 4,5 6)", 3, 1, FW_FEATURE_POINT},
        {"LINESTRING (1 2,3 4,5 7)", 1, 3, FW_FEATURE_LINE},
        {"MULTILINESTRING ((1 2,3 4),(5 6,7 9))", 2, 2, FW_FEATURE_LINE},
        {"POLYGON ((0 0,4 0,4 4,0 0))", 1, 3, FW_FEATURE_POLYGON},
        {"TRIANGLE ((0 0,4 0,4 4,0 0))", 1, 3, FW_FEATURE_POLYGON},
        {"MULTIPOLYGON (((0 0,4 0,4 4,0 0)),((8 0,9 0,9 1,8 0)))", 2, 3,
         FW_FEATURE_POLYGON},
        {"GEOMETRYCOLLECTION (POINT (1 2),MULTIPOINT (3 4,5 6))", 3, 1,
         FW_FEATURE_POINT},
        {"GEOMETRYCOLLECTION (LINESTRING EMPTY,POINT (1 2))", 1, 1,
         FW_FEATURE_POINT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct taken taken = take(wkt(rows[i].wkt));
        if (taken.map.feature_count != rows[i].parts)
            fail_msg("%s: %zu parts", rows[i].wkt, taken.map.feature_count);
        for (size_t k = 0; k < rows[i].parts; k++) {
            const struct fw_feature *part = &taken.map.features[k];
            assert_int_equal(part->part, k + 1);
            assert_int_equal(part->parts, rows[i].parts);
            assert_int_equal(part->kind, rows[i].kind);
            assert_int_equal(part->shape.point_count, rows[i].points);
            assert_null(part->odd);
        }
        release(&taken);
    }
}

static void rings_begin_where_the_one_before_ends(void **state)
{
    (void)state;
    /* The second ring is not closed; the third has no point. */
    OGRGeometryH polygon = wkt("POLYGON ((0 0,9 0,9 9,0 9,0 0))");
    OGRGeometryH open = OGR_G_CreateGeometry(wkbLinearRing);
    OGR_G_AddPoint_2D(open, 1, 1);
    OGR_G_AddPoint_2D(open, 1, 2);
    OGR_G_AddPoint_2D(open, 2, 2);
    OGR_G_AddGeometryDirectly(polygon, open);
    OGR_G_AddGeometryDirectly(polygon, OGR_G_CreateGeometry(wkbLinearRing));
    OGRGeometryH last = OGR_G_CreateGeometry(wkbLinearRing);
    const double xy[][2] = {{5, 5}, {5, 6}, {6, 6}, {6, 5}, {5, 5}};
    for (size_t i = 0; i < 5; i++)
        OGR_G_AddPoint_2D(last, xy[i][0], xy[i][1]);
    OGR_G_AddGeometryDirectly(polygon, last);
    struct taken taken = take(polygon);
    const struct fw_shape *shape = &taken.map.features[0].shape;
    assert_int_equal(shape->ring_count, 3);
    static const size_t starts[] = {0, 4, 7, 11};
    for (size_t r = 0; r <= 3; r++)
        assert_int_equal(shape->ring_start[r], starts[r]);
    assert_int_equal(shape->point_count, 11);
    assert_near(shape->points[6].x, 2, 0);
    assert_near(shape->points[7].x, 5, 0);
    assert_near(shape->points[10].y, 5, 0);
    release(&taken);
}

static void axes_change_places_when_they_are_swapped(void **state)
{
    (void)state;
    for (int swapped = 0; swapped < 2; swapped++) {
        struct taken taken = take_as(wkt("LINESTRING (1 20,3 40)"),
                                     (struct fw_io__taker){.swapped = swapped});
        const struct fw_xy *points = taken.map.features[0].shape.points;
        assert_near(points[0].x, swapped ? 20 : 1, 0);
        assert_near(points[0].y, swapped ? 1 : 20, 0);
        assert_near(points[1].x, swapped ? 40 : 3, 0);
        assert_near(points[1].y, swapped ? 3 : 40, 0);
        release(&taken);
    }
}

/* ---- odd ones ---- */

/* Collections in collections about a point, so many deep. */
static OGRGeometryH nested(int deep)
{
    OGRGeometryH inside = wkt("POINT (1 2)");
    for (int i = 0; i < deep; i++) {
        OGRGeometryH around = OGR_G_CreateGeometry(wkbGeometryCollection);
        OGR_G_AddGeometryDirectly(around, inside);
        inside = around;
    }
    return inside;
}

static void assert_odd(OGRGeometryH geometry, enum fw_feature_kind kind,
                       const char *odd)
{
    struct taken taken = take(geometry);
    assert_int_equal(taken.map.feature_count, 1);
    const struct fw_feature *part = &taken.map.features[0];
    assert_int_equal(part->part, 1);
    assert_int_equal(part->parts, 1);
    assert_int_equal(part->kind, kind);
    if (odd)
        assert_string_equal(part->odd, odd);
    else
        assert_null(part->odd);
    release(&taken);
}

static OGRGeometryH point_at(double x, double y)
{
    OGRGeometryH line = wkt("LINESTRING (0 0,1 1)");
    OGR_G_AddPoint_2D(line, x, y);
    return line;
}

static void odd_ones_say_why(void **state)
{
    (void)state;
    static const char no_number[] =
        "a geometry with a coordinate that is no number";
    static const char different[] = "a collection of different geometries";
    static const char in_space[] = "a surface in space, not on the ground";
    assert_odd(NULL, FW_FEATURE_NONE, "no geometry");
    assert_odd(wkt("POLYGON EMPTY"), FW_FEATURE_NONE, "an empty geometry");
    assert_odd(wkt("GEOMETRYCOLLECTION (POINT EMPTY)"), FW_FEATURE_NONE,
               "an empty geometry");
    assert_odd(wkt("GEOMETRYCOLLECTION (POINT (1 2),POINT (1 2),"
                   "LINESTRING (0 0,1 1))"),
               FW_FEATURE_OTHER, different);
    assert_odd(wkt("GEOMETRYCOLLECTION (LINESTRING (0 0,1 1),POINT (1 2),"
                   "LINESTRING (0 0,1 1))"),
               FW_FEATURE_OTHER, different);
    assert_odd(wkt("TIN Z (((0 0 0,0 0 1,0 1 0,0 0 0)))"), FW_FEATURE_OTHER,
               in_space);
    assert_odd(wkt("POLYHEDRALSURFACE Z (((0 0 0,0 0 1,0 1 0,0 0 0)))"),
               FW_FEATURE_OTHER, in_space);
    assert_odd(point_at((double)NAN, 1), FW_FEATURE_OTHER, no_number);
    assert_odd(point_at(1, (double)INFINITY), FW_FEATURE_OTHER, no_number);
    assert_odd(point_at(1, 2), FW_FEATURE_LINE, NULL);
    assert_odd(nested(1), FW_FEATURE_POINT, NULL);
    assert_odd(nested(32), FW_FEATURE_POINT, NULL);
    assert_odd(nested(33), FW_FEATURE_OTHER,
               "a collection of collections without end");
    assert_odd(nested(40), FW_FEATURE_OTHER,
               "a collection of collections without end");
}

/* ---- lines that are to be fields ---- */

static void lines_become_fields_when_they_close(void **state)
{
    (void)state;
    static const struct {
        const char *wkt;
        bool close, tracks;
        enum fw_feature_kind kind;
        size_t points;
    } rows[] = {
        {"LINESTRING (0 0,1 0,1 1,0 0)", true, false, FW_FEATURE_POLYGON, 3},
        {"LINESTRING (0 0,1 0,1 1,0 0)", true, true, FW_FEATURE_POLYGON, 3},
        {"LINESTRING (0 0,1 0,1 1,0 0)", false, true, FW_FEATURE_LINE, 4},
        /* There and back is no ground. */
        {"LINESTRING (0 0,1 0,0 0)", true, true, FW_FEATURE_LINE, 3},
        {"LINESTRING (0 0,1 0)", true, true, FW_FEATURE_LINE, 2},
        {"LINESTRING (0 0,1 0,1 1)", true, true, FW_FEATURE_POLYGON, 3},
        {"LINESTRING (0 0,1 0,1 1)", true, false, FW_FEATURE_LINE, 3},
        {"MULTIPOINT (0 0)", true, true, FW_FEATURE_POINT, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct taken taken =
            take_as(wkt(rows[i].wkt),
                    (struct fw_io__taker){.close_lines = rows[i].close,
                                          .tracks = rows[i].tracks});
        const struct fw_feature *part = &taken.map.features[0];
        if (part->kind != rows[i].kind ||
            part->shape.point_count != rows[i].points ||
            part->shape.ring_start[1] != rows[i].points)
            fail_msg("row %zu: kind %d of %zu points", i, (int)part->kind,
                     part->shape.point_count);
        release(&taken);
    }
}

/* A walk round 100 m squares of the equator, which ends so far short of its
 * start: 111,319.49 m a degree there (6,378,137 m pi / 180). */
static void a_gap_in_a_walk_is_told_by_its_length(void **state)
{
    (void)state;
    const double degree_m = 111319.4907932736;
    static const struct {
        double gap_m;
        int level; /* negative: nothing is said */
    } rows[] = {{14.9, -1},
                {15.1, FW_LEVEL_NOTE},
                {34, FW_LEVEL_NOTE},
                {38, FW_LEVEL_WARNING}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        /* 300 m and 100 m less the gap: it is a tenth of them at 36.4 m. */
        const double xy[][2] = {
            {0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, rows[i].gap_m}};
        OGRGeometryH line = OGR_G_CreateGeometry(wkbLineString);
        for (size_t k = 0; k < 5; k++)
            OGR_G_AddPoint_2D(line, xy[k][0] / degree_m, xy[k][1] / 110574.3);
        struct taken taken = take_as(
            line, (struct fw_io__taker){.close_lines = true, .tracks = true});
        assert_int_equal(taken.map.features[0].kind, FW_FEATURE_POLYGON);
        assert_int_equal(taken.notes.count, rows[i].level >= 0);
        if (rows[i].level >= 0) {
            char wanted[80];
            snprintf(wanted, sizeof wanted,
                     "track 3: the walk stops %.0f m from", rows[i].gap_m);
            assert_int_equal(taken.notes.items[0].level, rows[i].level);
            assert_string_equal(taken.notes.items[0].where, "drawn by hand");
            if (strncmp(taken.notes.items[0].text, wanted, strlen(wanted)) != 0)
                fail_msg("%s", taken.notes.items[0].text);
        }
        release(&taken);
    }
}

/* ---- columns of voltages ---- */

static void columns_of_voltages_are_known_by_their_names(void **state)
{
    (void)state;
    static const char *const told[] = {
        "voltage", "Voltage", "VOLT",    "Nennspannung", "tension_max",
        "kv",      "kV",      "line_kV", "kv_line",      "KV2",
        "kv kvar", "volts",   "xkvkv"};
    static const char *const none[] = {"",    "v",     "k",    "kvar",
                                       "kva", "vol",   "kw",   "vk",
                                       "ten", "spann", "skvo", "tensio"};
    for (size_t i = 0; i < sizeof told / sizeof *told; i++)
        if (!fw_io__is_of_voltage(told[i]))
            fail_msg("%s speaks of a voltage", told[i]);
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        if (fw_io__is_of_voltage(none[i]))
            fail_msg("%s speaks of no voltage", none[i]);
}

static void tags_of_voltages_are_taken_out_of_the_rest(void **state)
{
    (void)state;
    static const struct {
        const char *tags, *values;
        size_t room;
    } rows[] = {
        {"", "", 20},
        {"\"voltage\"=>\"20000\"", "20000", 20},
        {"\"a\"=>\"1\",\"voltage\"=>\"20000\",\"b\"=>\"2\"", "20000", 20},
        {"\"voltage\"=>\"400\",\"kv\"=>\"20\"", "400;20", 20},
        {"\"voltage\"=>\"4\\\"0\",\"kv\"=>\"20\"", "4\\\"0;20", 20},
        {"\"voltage\"=>\"4\\\\\",\"kv\"=>\"20\"", "4\\\\;20", 20},
        /* Cut off, or not in pairs. */
        {"\"voltage\"", "", 20},
        {"\"voltage\"=>\"20", "20", 20},
        {"\"voltage\"=>\"20\\", "20\\", 20},
        {"voltage=>20", "", 20},
        /* With its NUL and what parts two; what does not fit is left out. */
        {"\"voltage\"=>\"400\",\"kv\"=>\"20\"", "400;20", 8},
        {"\"voltage\"=>\"400\",\"kv\"=>\"20\"", "400", 6},
        {"\"voltage\"=>\"400\",\"kv\"=>\"20\"", "400", 5},
        {"\"voltage\"=>\"400\",\"kv\"=>\"20\"", "20", 4},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char room[40];
        memset(room, '#', sizeof room);
        fw_io__tags_of_voltage(rows[i].tags, room, rows[i].room);
        if (strcmp(room, rows[i].values) != 0)
            fail_msg("row %zu: \"%s\", not \"%s\"", i, room, rows[i].values);
        for (size_t k = rows[i].room; k < sizeof room; k++)
            assert_int_equal(room[k], '#');
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_are_counted_from_one),
        cmocka_unit_test(rings_begin_where_the_one_before_ends),
        cmocka_unit_test(axes_change_places_when_they_are_swapped),
        cmocka_unit_test(odd_ones_say_why),
        cmocka_unit_test(lines_become_fields_when_they_close),
        cmocka_unit_test(a_gap_in_a_walk_is_told_by_its_length),
        cmocka_unit_test(columns_of_voltages_are_known_by_their_names),
        cmocka_unit_test(tags_of_voltages_are_taken_out_of_the_rest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
