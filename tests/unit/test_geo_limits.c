/* What geo/ meets at its limits: ties, empty and bent shapes, systems of every
 * kind, and each side of each refusal. */
#include "ground_help.h"

#include "geo/herbage_inner.h"
#include "geo/inner.h"

#include "geo/ways.h"

/* ---- corners where several are as good ---- */

/* Points of the corners, whichever way the ring runs and begins. */
static void corners_are(const struct fw_point *ring, size_t count,
                        const struct fw_point *wanted, size_t wanted_count)
{
    for (size_t start = 0; start < count; start++) {
        struct fw_point turned[32];
        size_t corners[32], found = 0;
        for (size_t i = 0; i < count; i++)
            turned[i] = ring[(start + i) % count];
        assert_int_equal(fw_corners_find(turned, count, corners, &found, NULL),
                         FW_OK);
        assert_int_equal(found, wanted_count);
        for (size_t i = 0; i < found; i++) {
            const struct fw_point at = turned[corners[i]];
            if (fabs(at.x_m - wanted[i].x_m) > 0 ||
                fabs(at.y_m - wanted[i].y_m) > 0)
                fail_msg("start %zu: corner %zu at %g, %g", start, i, at.x_m,
                         at.y_m);
        }
    }
}

static void ties_between_corners_do_not_hang_on_the_start(void **state)
{
    (void)state;
    /* Clockwise from the north-west. */
    const struct fw_point square[] = {{0, 0}, {64, 0}, {64, 64}, {0, 64}};
    const struct fw_point of_square[] = {{0, 64}, {64, 64}, {64, 0}, {0, 0}};
    corners_are(square, 4, of_square, 4);
    const struct fw_point diamond[] = {{0, -64}, {64, 0}, {0, 64}, {-64, 0}};
    const struct fw_point of_diamond[] = {{0, 64}, {64, 0}, {0, -64}, {-64, 0}};
    corners_are(diamond, 4, of_diamond, 4);
    /* Half a metre off is as far north; beyond that it is not. */
    const struct fw_point level[] = {{0, 0}, {64, 0}, {64, 64.5}, {0, 64}};
    const struct fw_point of_level[] = {{0, 64}, {64, 64.5}, {64, 0}, {0, 0}};
    corners_are(level, 4, of_level, 4);
    const struct fw_point higher[] = {{0, 0}, {64, 0}, {64, 64.75}, {0, 64}};
    const struct fw_point of_higher[] = {{64, 64.75}, {64, 0}, {0, 0}, {0, 64}};
    corners_are(higher, 4, of_higher, 4);
    /* One above the other: the northern one of two as far west. */
    const struct fw_point tower[] = {
        {0, 0}, {64, 0}, {64, 64}, {1, 64}, {0, 63.75}};
    const struct fw_point of_tower[] = {{0, 63.75}, {64, 64}, {64, 0}, {0, 0}};
    corners_are(tower, 5, of_tower, 4);
    /* A comb, all teeth of which are as far off. */
    const struct fw_point comb[] = {{0, 0},   {96, 0},  {96, 32},
                                    {80, 64}, {64, 32}, {48, 64},
                                    {32, 32}, {16, 64}, {0, 32}};
    const struct fw_point of_comb[] = {{16, 64}, {32, 32}, {48, 64},
                                       {64, 32}, {80, 64}, {96, 32},
                                       {96, 0},  {0, 0},   {0, 32}};
    corners_are(comb, 9, of_comb, 9);
    /* A sliver has no third corner by the rule; its widest place is one. */
    const struct fw_point sliver[] = {{0, 0}, {40, -0.1}, {100, 0}, {50, 0.2}};
    const struct fw_point of_sliver[] = {{0, 0}, {50, 0.2}, {100, 0}};
    corners_are(sliver, 4, of_sliver, 3);
    const struct fw_point other[] = {{0, 0}, {40, -0.3}, {100, 0}, {50, 0.2}};
    const struct fw_point of_other[] = {{0, 0}, {100, 0}, {40, -0.3}};
    corners_are(other, 4, of_other, 3);
}

/* ---- fields ---- */

static const struct fw_point oblong[] = {
    {-100, -50}, {100, -50}, {100, 50}, {-100, 50}};

static void fields_run_one_way_and_have_an_end(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs(
        "+proj=laea +lat_0=51 +lon_0=9 +datum=WGS84 +units=m +type=crs");
    /* Both rings the wrong way round. */
    const struct fw_xy points[] = {{0, 0},   {0, 100}, {200, 100}, {200, 0},
                                   {50, 50}, {60, 50}, {60, 60}};
    struct fw_shape shape = shape_of(points, 4, 3, 0);
    struct fw_field *field = NULL;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_field_new(&shape, NULL, crs, &field, &err), FW_OK);
    assert_string_equal(field->name, "");
    assert_relative(field->area_m2, 20000 - 50, 1e-5);
    const size_t *start = field->ring_start;
    struct fw_point ring[64];
    for (size_t r = 0; r < 2; r++) {
        for (size_t i = start[r]; i < start[r + 1]; i++)
            ring[i - start[r]] = field->vertices[i].plane;
        const double m2 = fw_ring_area_m2(ring, start[r + 1] - start[r]);
        assert_relative(m2, r ? -50 : 20000, 1e-5);
    }
    assert_near(fw_field_side_m(field, 3), 100, 1e-3);
    assert_near(fw_field_side_m(field, 4), 0, 0);
    fw_field_free(field);
    fw_shape_release(&shape);
    shape = shape_of(points, 2, 0, 0);
    assert_int_equal(fw_field_new(&shape, "", crs, &field, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "shape is empty"));
    shape.ring_count = 0;
    assert_int_equal(fw_field_new(&shape, "", crs, &field, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "shape is empty"));
    fw_shape_release(&shape);
    fw_crs_free(crs);
}

/* A field with so many ponds of 1 m2, in rows of 25. */
static enum fw_status with_ponds(size_t ponds, struct fw_error *err)
{
    struct fw_crs *crs = open_crs(
        "+proj=laea +lat_0=51 +lon_0=9 +datum=WGS84 +units=m +type=crs");
    struct fw_shape shape = {.point_count = 4 + 3 * ponds,
                             .ring_count = 1 + ponds};
    shape.points = fw_alloc(shape.point_count, sizeof *shape.points);
    shape.ring_start = fw_alloc(ponds + 2, sizeof *shape.ring_start);
    const struct fw_xy outer[] = {{0, 0}, {200, 0}, {200, 200}, {0, 200}};
    memcpy(shape.points, outer, sizeof outer);
    shape.ring_start[1] = 4;
    for (size_t i = 0; i < ponds; i++) {
        const double x = 4 + 6 * (double)(i % 25), y = 4 + 6 * (double)(i / 25);
        struct fw_xy *pond = shape.points + 4 + 3 * i;
        pond[0] = (struct fw_xy){x, y};
        pond[1] = (struct fw_xy){x, y + 1};
        pond[2] = (struct fw_xy){x + 2, y};
        shape.ring_start[i + 2] = 4 + 3 * (i + 1);
    }
    struct fw_field *field = NULL;
    const enum fw_status status = fw_field_new(&shape, "", crs, &field, err);
    if (!status)
        assert_relative(field->area_m2, 40000 - (double)ponds, 1e-5);
    fw_field_free(field);
    fw_shape_release(&shape);
    fw_crs_free(crs);
    return status;
}

static void five_hundred_ponds_are_as_many_as_may_be(void **state)
{
    (void)state;
    struct fw_error err = {.text = ""};
    assert_int_equal(with_ponds(500, &err), FW_OK);
    assert_int_equal(with_ponds(501, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "field has 501 ponds and other places"));
    assert_non_null(strstr(err.text, "expected at most 500"));
}

/* Four points about the 180th meridian that run anticlockwise there, and
 * clockwise round the rest of the earth: as which they are read is told by
 * whether they were turned. 12 km are 0.12 degrees of the equator. */
static void rings_over_the_antimeridian_are_known_by_their_places(void **state)
{
    (void)state;
    static const struct {
        double west, east, south, north;
        bool over;
    } rows[] = {
        {179.9, -179.9, 0, 0.1, true},
        {179.89, -179.89, 0, 0.1, true},
        {179.87, -179.9, 0, 0.1, false},
        {179.9, -179.87, 0, 0.1, false},
        {179.77, -179.77, 60, 60.01, true},
        {179.75, -179.8, 60, 60.01, false},
        {179.77, -179.77, -60.01, -60, true},
        {179.9, -179.9, 89.99, 90, true},
        {179.9, -179.9, -90, -89.99, true},
        {179.9, -179.9, 90, 90.01, false},
        {179.9, -179.9, -90.01, -90, false},
        {180.01, -179.9, 0, 0.1, false},
        {91, -91, 89.98, 89.99, true},
        {89, -91, 89.98, 89.99, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct fw_xy ring[] = {{rows[i].west, rows[i].south},
                                     {rows[i].east, rows[i].south},
                                     {rows[i].east, rows[i].north},
                                     {rows[i].west, rows[i].north}};
        struct fw_shape shape = shape_of(ring, 4, 0, 0);
        struct fw_notes notes = {0};
        struct fw_error err = {.text = ""};
        assert_int_equal(fw_shape_repair(&shape, "it", &notes, &err), FW_OK);
        if ((shape.turned_rings == 0) != rows[i].over)
            fail_msg("row %zu is %s over it", i, rows[i].over ? "not" : "read");
        fw_notes_release(&notes);
        fw_shape_release(&shape);
    }
    /* Two sides cross at 180.0125 degrees: where that is on a map. */
    const struct fw_xy tie[] = {
        {179.95, 0}, {-179.95, 0.1}, {-179.95, 0}, {179.95, 1 / 6.0}};
    struct fw_shape tied = shape_of(tie, 4, 0, 0);
    struct fw_notes none = {0};
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_shape_repair(&tied, "it", &none, &err), FW_EINPUT);
    if (!strstr(err.text, "at x -179.9875, y 0.0625 "))
        fail_msg("%s", err.text);
    fw_shape_release(&tied);
    /* On one side alone it is a ring like any other. */
    for (int side = -1; side <= 1; side += 2) {
        const struct fw_xy ring[] = {
            {side * 179.9, 0}, {side * 179.95, 0}, {side * 179.95, 0.1}};
        struct fw_shape shape = shape_of(ring, 3, 0, 0);
        struct fw_notes notes = {0};
        assert_int_equal(fw_shape_repair(&shape, "it", &notes, NULL), FW_OK);
        assert_int_equal(shape.turned_rings, side < 0);
        fw_notes_release(&notes);
        fw_shape_release(&shape);
    }
}

/* ---- what is taken off a field ---- */

struct left {
    struct fw_field **pieces;
    size_t count;
    double m2;
};

static struct left less(const struct fw_bar *bars, size_t count)
{
    struct fw_field *whole = field_of(oblong, 4);
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_error err = {.text = ""};
    struct left left = {.count = 0};
    if (fw_field_less(whole, bars, count, crs, &left.pieces, &left.count,
                      &left.m2, &err))
        fail_msg("%s", err.text);
    left.m2 = whole->area_m2 - left.m2; /* what is gone */
    fw_field_free(whole);
    fw_crs_free(crs);
    return left;
}

static void points_and_thin_areas_bar_what_they_should(void **state)
{
    (void)state;
    const struct fw_point at[] = {{10, 0},  {20, 0},  {20, 10},  {10, 10},
                                  {12, 2},  {14, 2},  {-60, -9}, {-40, -9},
                                  {-40, 9}, {-60, 9}, {-55, -2}, {-55, 2},
                                  {-45, 2}, {-45, -2}};
    /* A hole that sticks out of its area takes nothing beyond it. */
    const struct fw_point out[] = {{10, 0}, {20, 0}, {20, 10}, {10, 10},
                                   {15, 2}, {15, 8}, {25, 8},  {25, 2}};
    static const size_t four[] = {0, 4, 8};
    static const size_t one[] = {0, 1}, two[] = {0, 2}, thin[] = {0, 4, 6},
                        ring[] = {6, 10, 14};
    const double disc = 16 * sin(2 * PI / 16) / 2; /* a 16-gon of radius 1 */
    const struct {
        struct fw_bar bar;
        double gone_m2;
    } rows[] = {
        {{at, one, 1, false, 3}, 9 * disc}, /* a well */
        {{at, one, 1, false, 0}, 0},
        {{at, two, 1, false, 3}, 9 * disc + 60},
        {{at, two, 1, false, 0}, 0},
        {{at, two, 1, true, 0}, 0},    /* an area of two corners */
        {{at, thin, 2, true, 0}, 100}, /* its hole has no area */
        {{at, ring, 2, true, 0}, 20 * 18 - 10 * 4},
        {{out, four, 2, true, 0}, 100 - 5 * 6},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct left left = less(&rows[i].bar, 1);
        if (fabs(left.m2 - rows[i].gone_m2) > 1e-6)
            fail_msg("row %zu: %.9g m2 gone, not %.9g", i, left.m2,
                     rows[i].gone_m2);
        fw_fields_free(left.pieces, left.count);
    }
    /* All of them at once, less what they share. */
    const struct fw_bar all[] = {rows[5].bar, rows[6].bar};
    struct left left = less(all, 2);
    assert_near(left.m2, 100 + 360 - 40, 1e-6);
    fw_fields_free(left.pieces, left.count);
}

/* Halves of one size come from the north, then from the west. */
static void pieces_of_one_size_have_an_order(void **state)
{
    (void)state;
    const struct fw_point bars[2][2] = {{{-200, 0}, {200, 0}},
                                        {{0, -200}, {0, 200}}};
    static const size_t start[] = {0, 2};
    for (size_t way = 0; way < 2; way++) {
        const struct fw_bar bar = {bars[way], start, 1, false, 1};
        struct left left = less(&bar, 1);
        assert_int_equal(left.count, 2);
        double x_m[2] = {0}, y_m[2] = {0};
        for (size_t i = 0; i < 2; i++)
            for (size_t k = 0; k < left.pieces[i]->vertex_count; k++) {
                x_m[i] += left.pieces[i]->vertices[k].plane.x_m;
                y_m[i] += left.pieces[i]->vertices[k].plane.y_m;
            }
        if (fabs(left.pieces[0]->area_m2 - left.pieces[1]->area_m2) > 0)
            assert_true(left.pieces[0]->area_m2 > left.pieces[1]->area_m2);
        else if (way == 0)
            assert_true(y_m[0] > y_m[1]);
        else
            assert_true(x_m[0] < x_m[1]);
        fw_fields_free(left.pieces, left.count);
    }
}

/* ---- coordinate systems ---- */

static void systems_of_every_kind_are_read(void **state)
{
    (void)state;
    /* Each puts (x, y) at 9 degrees east and 48 north, within the accuracy of
     * its shift. */
    static const struct {
        const char *definition;
        struct fw_xy at;
        bool geographic, same;
        double within_deg;
    } rows[] = {
        {"EPSG:4326", {9, 48}, true, true, 0},
        {"EPSG:4979", {9, 48}, true, false, 1e-9}, /* with heights */
        {"OGC:CRS84", {9, 48}, true, true, 0},
        {"+proj=longlat +datum=WGS84", {9, 48}, true, true, 0},
        {"+proj=longlat +datum=WGS84 +type=crs", {9, 48}, true, true, 0},
        {"+proj=longlat +ellps=bessel +towgs84=598,74,418,0.2,0.05,-2.5,6.7",
         {9, 48},
         true,
         false,
         2e-3},
        {"+proj=tmerc +lat_0=48 +lon_0=9 +x_0=7 +y_0=3 +ellps=bessel "
         "+towgs84=598,74,418,0.2,0.05,-2.5,6.7",
         {7, 3},
         false,
         false,
         2e-3},
        {"+proj=laea +lat_0=48 +lon_0=9 +datum=WGS84",
         {0, 0},
         false,
         false,
         1e-9},
        {"EPSG:4258", {9, 48}, true, false, 1e-9},
        {"EPSG:7423", {9, 48}, true, false, 1e-9}, /* and EVRF heights */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_crs *crs = open_crs(rows[i].definition);
        struct fw_lonlat there;
        struct fw_xy back;
        struct fw_error err = {.text = ""};
        if (fw_crs_to_lonlat(crs, &rows[i].at, &there, 1, NULL, &err))
            fail_msg("%s: %s", rows[i].definition, err.text);
        assert_near(there.lon_deg, 9, rows[i].within_deg);
        assert_near(there.lat_deg, 48, rows[i].within_deg);
        if (fw_crs_is_geographic(crs) != rows[i].geographic)
            fail_msg("%s", rows[i].definition);
        if (rows[i].same)
            assert_true(fw_crs_is_wgs84_lonlat(crs));
        assert_int_equal(fw_crs_from_lonlat(crs, &there, &back, 1, &err),
                         FW_OK);
        const double within = rows[i].geographic ? 1e-8 : 1e-3;
        assert_near(back.x, rows[i].at.x, within);
        assert_near(back.y, rows[i].at.y, within);
        assert_int_equal(fw_crs_from_lonlat(crs, NULL, NULL, 0, NULL), FW_OK);
        assert_int_equal(fw_crs_to_lonlat(crs, NULL, NULL, 0, NULL, NULL),
                         FW_OK);
        fw_crs_free(crs);
    }
}

/* OSGB36 to WGS 84 (6), EPSG 1314, is stated to be good to 2 m; which shift is
 * taken is known once there is a place. */
static void accuracy_is_known_once_a_place_is(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("EPSG:4277");
    const struct fw_xy at = {-2, 52};
    struct fw_lonlat there;
    assert_true(fw_crs_accuracy_m(crs) < 0);
    assert_int_equal(fw_crs_to_lonlat(crs, &at, &there, 1, NULL, NULL), FW_OK);
    assert_near(fw_crs_accuracy_m(crs), 2, 1e-9);
    fw_crs_free(crs);
}

static void places_that_are_none_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *crs;
        struct fw_lonlat at;
        const char *said; /* NULL: it is a place */
    } rows[] = {
        {"EPSG:4326", {360, 90}, NULL},
        {"EPSG:4326", {-360, -90}, NULL},
        {"EPSG:4326", {360.5, 0}, "is no place"},
        {"EPSG:4326", {-360.5, 0}, "is no place"},
        {"EPSG:4326", {0, 90.5}, "is no place"},
        {"EPSG:4326", {0, -90.5}, "is no place"},
        {"EPSG:4326", {(double)NAN, 0}, "is no place"},
        {"EPSG:4326", {0, (double)NAN}, "is no place"},
        /* The other side of the earth has no place in that view. */
        {"+proj=ortho +lat_0=0 +lon_0=0 +datum=WGS84", {170, 0}, "is outside"},
        {"+proj=ortho +lat_0=0 +lon_0=0 +datum=WGS84", {10, 0}, NULL},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_crs *crs = open_crs(rows[i].crs);
        struct fw_error err = {.text = ""};
        /* The first is good, so that the bad one is told by itself. */
        const struct fw_lonlat in[2] = {{1, 2}, rows[i].at};
        struct fw_xy out[2] = {{-7, -7}, {-7, -7}};
        const enum fw_status status = fw_crs_from_lonlat(crs, in, out, 2, &err);
        assert_int_equal(status, rows[i].said ? FW_EINPUT : FW_OK);
        if (rows[i].said) {
            assert_non_null(strstr(err.text, rows[i].said));
            assert_near(out[0].x, -7, 0);
            char place[60];
            snprintf(place, sizeof place, "longitude %.10g, latitude %.10g",
                     rows[i].at.lon_deg, rows[i].at.lat_deg);
            assert_non_null(strstr(err.text, place));
        }
        fw_crs_free(crs);
    }
}

/* Goode's map is torn along 40 degrees west: a field across the tear has sides
 * that run through nothing. */
static void sides_through_a_tear_of_the_map_are_refused(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("+proj=igh +datum=WGS84");
    for (int across = 0; across < 2; across++) {
        const double east = across ? -39.97 : -40.01;
        const struct fw_lonlat places[] = {
            {-40.01, 60.02}, {-40.03, 60.02}, {-40.03, 60}, {east, 60}};
        struct fw_xy points[4];
        struct fw_error err = {.text = ""};
        struct fw_field *field = NULL;
        assert_int_equal(fw_crs_from_lonlat(crs, places, points, 4, &err),
                         FW_OK);
        struct fw_shape shape = shape_of(points, 4, 0, 0);
        assert_int_equal(fw_field_new(&shape, "", crs, &field, &err),
                         across ? FW_EINPUT : FW_OK);
        if (across)
            assert_non_null(
                strstr(err.text, "side after vertex 3 leaves its CRS at x "));
        fw_field_free(field);
        fw_shape_release(&shape);
    }
    fw_crs_free(crs);
}

/* Eight are kept: the last that was given back goes when a ninth comes, and
 * what is out is not forgotten. */
static void the_shelf_keeps_the_last_eight(void **state)
{
    (void)state;
    struct fw_crs *kept[9], *again;
    for (int i = 0; i < 9; i++) {
        char code[20];
        snprintf(code, sizeof code, "EPSG:%d", 25828 + i);
        assert_int_equal(fw_crs_lend(code, &kept[i], NULL), FW_OK);
        if (i != 2)
            fw_crs_give_back(kept[i]);
    }
    /* 25828 went, 25829 to 25836 are there. */
    for (int i = 8; i > 0; i--) {
        char code[20];
        snprintf(code, sizeof code, "EPSG:%d", 25828 + i);
        assert_int_equal(fw_crs_lend(code, &again, NULL), FW_OK);
        assert_ptr_equal(again, kept[i]);
        fw_crs_give_back(again);
    }
    /* All but the one that is out are forgotten, and it stays whole. */
    fw_crs_forget();
    assert_int_equal(fw_crs_lend("EPSG:25830", &again, NULL), FW_OK);
    assert_ptr_equal(again, kept[2]);
    const struct fw_xy at = {500000, 5000000};
    struct fw_lonlat there;
    assert_int_equal(fw_crs_to_lonlat(again, &at, &there, 1, NULL, NULL),
                     FW_OK);
    assert_near(there.lon_deg, -3, 1e-9);
    fw_crs_give_back(again);
    fw_crs_give_back(kept[2]);
    fw_crs_forget();
    fw_crs_forget();
}

/* ---- rasters ---- */

enum { wide = 7, high = 5 };

/* Lines that bend by up to a third of a cell. */
static struct fw_raster *bent(void)
{
    struct fw_raster *raster = fw_alloc(1, sizeof *raster);
    raster->columns = wide;
    raster->rows = high;
    raster->corners =
        fw_alloc((wide + 1) * (high + 1), sizeof *raster->corners);
    raster->values = fw_alloc(wide * high, sizeof *raster->values);
    for (size_t j = 0; j <= high; j++)
        for (size_t i = 0; i <= wide; i++)
            raster->corners[j * (wide + 1) + i] =
                (struct fw_point){10 * ((double)i * (1 + 0.12 * (double)i) +
                                        0.3 * sin(1.3 * (double)j)),
                                  10 * ((double)j * (1 + 0.2 * (double)j) +
                                        0.3 * cos(0.9 * (double)i))};
    for (size_t i = 0; i < wide * high; i++)
        raster->values[i] = 7 + 3 * (double)(i % wide);
    return raster;
}

static void cells_of_a_bent_raster_are_found(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_raster *raster = bent();
    size_t found = 0;
    assert_int_equal(fw_raster_columns(raster), wide);
    assert_int_equal(fw_raster_rows(raster), high);
    for (int n = 0; n < 4000; n++) {
        const struct fw_point at = {draw(&random, 0, 130),
                                    draw(&random, 0, 100)};
        for (size_t j = 0; j < high; j++)
            for (size_t i = 0; i < wide; i++) {
                const struct fw_point cell[] = {
                    fw_raster_corner(raster, i, j),
                    fw_raster_corner(raster, i + 1, j),
                    fw_raster_corner(raster, i + 1, j + 1),
                    fw_raster_corner(raster, i, j + 1)};
                if (!fw_ring_contains(cell, 4, at))
                    continue;
                const struct fw_cell got = fw_raster_cell(raster, at);
                if (got.i != i || got.j != j)
                    fail_msg("%g, %g is in cell %zu, %zu, not %zu, %zu", at.x_m,
                             at.y_m, i, j, got.i, got.j);
                const struct fw_point in = fw_cell_within(raster, got, at);
                assert_true(in.x_m >= 0 && in.x_m <= 1 && in.y_m >= 0 &&
                            in.y_m <= 1);
                /* Each value lies between those of its neighbours. */
                const double here = fw_raster_at_point(raster, at);
                const double own = fw_raster_value(raster, i, j);
                assert_near(own, 7 + 3 * (double)i, 0);
                assert_true(fabs(here - own) <= 1.5 + 1e-9);
                found++;
            }
    }
    assert_true(found > 2000);
    fw_raster_free(raster);
}

/* Cells of 10 m from 0, 0; the value is the column and ten times the row. */
static struct fw_raster *even(void)
{
    struct fw_raster *raster = bent();
    for (size_t j = 0; j <= high; j++)
        for (size_t i = 0; i <= wide; i++)
            raster->corners[j * (wide + 1) + i] =
                (struct fw_point){10 * (double)i, 10 * (double)j};
    for (size_t j = 0; j < high; j++)
        for (size_t i = 0; i < wide; i++)
            raster->values[j * wide + i] = (double)i + 10 * (double)j;
    return raster;
}

static void values_end_with_the_raster(void **state)
{
    (void)state;
    struct fw_raster *raster = even();
    static const struct {
        struct fw_point at;
        double value; /* NaN: there is none */
    } rows[] = {
        {{5, 5}, 0},
        {{10, 5}, 0.5},
        {{5, 10}, 5},
        {{65, 45}, 46},
        {{69, 49}, 46},
        {{0, 0}, 0},
        {{1, 1}, 0},
        {{70, 50}, 46},
        {{30, 30}, 27.5},
        {{32, 25}, 22.7},
        {{25, 33}, 30},
        {{-0.01, 25}, (double)NAN},
        {{70.01, 25}, (double)NAN},
        {{35, -0.01}, (double)NAN},
        {{35, 50.01}, (double)NAN},
        {{-50, 25}, (double)NAN},
        {{35, 500}, (double)NAN},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double got = fw_raster_at_point(raster, rows[i].at);
        if (isnan(rows[i].value) ? !isnan(got)
                                 : !(fabs(got - rows[i].value) <= 1e-9))
            fail_msg("%g at %g, %g, not %g", got, rows[i].at.x_m,
                     rows[i].at.y_m, rows[i].value);
    }
    assert_near(fw_raster_cell_m(raster), 10, 1e-9);
    const struct fw_point centre = fw_raster_centre(raster, 2, 3);
    assert_near(centre.x_m, 25, 1e-9);
    assert_near(centre.y_m, 35, 1e-9);
    fw_raster_free(raster);
}

/* Of one cell all points are the cell's. */
static void one_cell_has_all_points(void **state)
{
    (void)state;
    struct fw_raster *raster = even();
    raster->columns = raster->rows = 1;
    raster->corners[2] = (struct fw_point){0, 10};
    raster->corners[3] = (struct fw_point){10, 10};
    for (int n = 0; n < 25; n++) {
        const struct fw_point at = {5.0 * (n % 5) - 5, 5.0 * (n / 5) - 5};
        const struct fw_cell cell = fw_raster_cell(raster, at);
        assert_int_equal(cell.i + cell.j, 0);
        const bool in = n % 5 > 0 && n % 5 < 4 && n / 5 > 0 && n / 5 < 4;
        assert_int_equal(isnan(fw_raster_at_point(raster, at)), !in);
    }
    fw_raster_free(raster);
}

/* A field with its four corners there, in a plane of metres about 9, 51. */
static struct fw_field *box_field(double west, double south, double east,
                                  double north)
{
    const struct fw_point ring[] = {
        {west, south}, {east, south}, {east, north}, {west, north}};
    struct fw_field *field = field_of(ring, 4);
    for (size_t i = 0; i < 4; i++) /* its own plane is about its own middle */
        for (size_t k = 0; k < field->vertex_count; k++)
            if (hypot(field->vertices[k].plane.x_m - ring[i].x_m +
                          (west + east) / 2,
                      field->vertices[k].plane.y_m - ring[i].y_m +
                          (south + north) / 2) < 0.1)
                field->vertices[k].plane = ring[i];
    return field;
}

static void
cells_under_a_field_are_those_it_meets_and_their_neighbours(void **state)
{
    (void)state;
    struct fw_raster *raster = even();
    static const struct {
        double west, south, east, north;
        size_t i[2], j[2]; /* cells that count, first and last */
    } rows[] = {
        {21, 21, 39, 29, {1, 4}, {1, 3}}, {1, 1, 19, 9, {0, 2}, {0, 1}},
        {61, 41, 69, 49, {5, 6}, {3, 4}}, {1, 1, 69, 49, {0, 6}, {0, 4}},
        {51, 1, 59, 19, {4, 6}, {0, 2}},  {21, 21, 69, 29, {1, 6}, {1, 3}},
    };
    for (size_t n = 0; n < COUNT(rows); n++) {
        bool under[wide * high];
        struct fw_field *field =
            box_field(rows[n].west, rows[n].south, rows[n].east, rows[n].north);
        assert_int_equal(fw_raster_under(raster, field, under, NULL), FW_OK);
        for (size_t j = 0; j < high; j++)
            for (size_t i = 0; i < wide; i++) {
                const bool in = i >= rows[n].i[0] && i <= rows[n].i[1] &&
                                j >= rows[n].j[0] && j <= rows[n].j[1];
                if (under[j * wide + i] != in)
                    fail_msg("row %zu: cell %zu, %zu", n, i, j);
            }
        fw_field_free(field);
    }
    fw_raster_free(raster);
}

/* There must be a cell beyond the field on each side. */
static void a_rim_of_cells_is_wanted_on_each_side(void **state)
{
    (void)state;
    static const struct {
        double west, south, east, north;
        bool good;
    } rows[] = {{11, 11, 59, 39, true},
                {9, 11, 59, 39, false},
                {11, 9, 59, 39, false},
                {11, 11, 61, 39, false},
                {11, 11, 59, 41, false}};
    for (size_t n = 0; n < COUNT(rows); n++) {
        struct fw_raster *raster = even();
        struct fw_herbage *ground = NULL;
        struct fw_error err = {.text = ""};
        struct fw_field *field =
            box_field(rows[n].west, rows[n].south, rows[n].east, rows[n].north);
        const enum fw_status status =
            fw_herbage_cells(field, 0, raster, &ground, NULL, &err);
        if (status != (rows[n].good ? FW_OK : FW_EUSAGE))
            fail_msg("row %zu: %s", n, err.text);
        if (status)
            fw_raster_free(raster);
        fw_herbage_free(ground);
        fw_field_free(field);
    }
}

static void grids_without_cells_or_area_are_refused(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_plane plane;
    double values[4] = {1, 2, 3, 4};
    assert_int_equal(fw_plane_init(&plane, (struct fw_lonlat){9, 51}, NULL),
                     FW_OK);
    static const struct {
        size_t columns, rows;
        double across, up;
        const char *said;
    } rows[] = {
        {2, 2, 1e-4, 1e-4, NULL},
        {2, 2, 1e-4, -1e-4, NULL},
        {0, 2, 1e-4, 1e-4, "the raster has no cells"},
        {2, 0, 1e-4, 1e-4, "the raster has no cells"},
        {2, 2, 0, 1e-4, "the raster's cells have no area"},
        {2, 2, 1e-4, 0, "the raster's cells have no area"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct fw_grid grid = {
            .affine = {9, rows[i].across, 0, 51, 0, rows[i].up},
            .columns = rows[i].columns,
            .rows = rows[i].rows,
            .values = values};
        struct fw_raster *raster = NULL;
        struct fw_error err = {.text = ""};
        const enum fw_status status =
            fw_raster_new(&grid, crs, &plane, &raster, &err);
        assert_int_equal(status, rows[i].said ? FW_EINPUT : FW_OK);
        if (rows[i].said)
            assert_non_null(strstr(err.text, rows[i].said));
        else /* south at the bottom, whichever way the grid ran */
            assert_near(fw_raster_value(raster, 1, 0), rows[i].up > 0 ? 2 : 4,
                        0);
        fw_raster_free(raster);
    }
    fw_crs_free(crs);
}

/* ---- rings, lines and ways ---- */

static void lines_and_bearings_at_their_ends(void **state)
{
    (void)state;
    const struct fw_lonlat one[] = {{9, 48}, {9, 48.001}};
    assert_near(fw_geo_length_m(one, 1, true), 0, 0);
    assert_near(fw_geo_length_m(one, 2, true), 2 * fw_geo_length_m(one, 2, 0),
                1e-9);
    const struct fw_point flat[] = {{0, 0}, {3, 4}};
    assert_near(fw_line_length_m(flat, 1, true), 0, 0);
    assert_near(fw_line_length_m(flat, 2, true), 10, 1e-12);
    assert_near(fw_line_length_m(flat, 2, false), 5, 1e-12);
    assert_near(fw_geo_bearing_deg((struct fw_lonlat){0, 0},
                                   (struct fw_lonlat){-1e-30, 1}),
                0, 0);
    /* A corner given twice changes nothing; a ring without an area has no
     * inside to walk in. */
    const struct fw_point twice[] = {
        {0, 0}, {30, 0}, {30, 0}, {30, 40}, {0, 40}};
    const struct fw_point once[] = {{0, 0}, {30, 0}, {30, 40}, {0, 40}};
    double mean_m = 0, longest_m = 0, mean_once_m = 0, longest_once_m = 0;
    assert_true(fw_ring_straight_walk(twice, 5, once[0], &mean_m, &longest_m));
    assert_true(
        fw_ring_straight_walk(once, 4, once[0], &mean_once_m, &longest_once_m));
    assert_near(mean_m, mean_once_m, 1e-12);
    assert_near(longest_m, 50, 1e-12);
    const struct fw_point line[] = {{0, 0}, {30, 0}, {60, 0}};
    assert_false(fw_ring_straight_walk(line, 3, line[0], &mean_m, &longest_m));
    assert_false(fw_ring_straight_walk(once, 2, once[0], &mean_m, &longest_m));
    assert_near(longest_m, 50, 1e-12);
}

/* Arms of 4 m with a square where they meet: a disc that reaches its corners
 * has 2.83 m, and fits nowhere else. */
static void a_crossing_has_room_between_its_corners(void **state)
{
    (void)state;
    const double w = 2, l = 30;
    const struct fw_point cross[] = {{-w, -l}, {w, -l}, {w, -w},  {l, -w},
                                     {l, w},   {w, w},  {w, l},   {-w, l},
                                     {-w, w},  {-l, w}, {-l, -w}, {-w, -w}};
    static const size_t start[] = {0, 12};
    const double widest = 4 * sqrt(2);
    const struct {
        double wide_m;
        bool fits;
    } rows[] = {{3.9, true},
                {4.1, true},
                {5, true},
                {widest - 0.01, true},
                {widest + 0.01, false},
                {7, false}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_neck neck = {.found = true};
        assert_int_equal(
            fw_ways_neck(cross, start, 1, rows[i].wide_m, &neck, NULL), FW_OK);
        if (neck.fits != rows[i].fits || neck.found)
            fail_msg("%g m", rows[i].wide_m);
    }
    /* Holes of less than three corners are none; a ring that ends as it begins
     * is as one that does not. */
    const struct fw_point box[] = {{0, 0}, {40, 0}, {40, 20}, {0, 20},
                                   {0, 0}, {0, 0},  {20, 0},  {20, 20}};
    static const size_t with_line[] = {0, 6, 8};
    struct fw_neck neck = {.found = true};
    assert_int_equal(fw_ways_neck(box, with_line, 2, 3, &neck, NULL), FW_OK);
    assert_true(neck.fits && !neck.found);
    const struct fw_point low = {15, 0}, far = {19, 0};
    assert_near(fw_ways_room_m(low, far, box, with_line, 2, 30), 20, 1e-9);
    assert_near(fw_ways_room_m(low, far, box, with_line, 2, 5), 5, 1e-9);
}

static void numbers_that_are_none_are_refused(void **state)
{
    (void)state;
    static const size_t start[] = {0, 4}, late[] = {1, 4};
    struct fw_sweep *sweep = NULL;
    struct fw_error err;
    const double bad[] = {(double)NAN, (double)INFINITY};
    for (size_t k = 0; k < 4; k++) {
        struct fw_point ring[4];
        struct fw_neck neck;
        memcpy(ring, oblong, sizeof ring);
        *(k & 1 ? &ring[3].x_m : &ring[0].y_m) = bad[k / 2];
        assert_int_equal(fw_sweep_new(ring, start, 1, &sweep, &err), FW_EINPUT);
        assert_non_null(strstr(err.text, k & 1 ? "vertex 3" : "vertex 0"));
        assert_int_equal(fw_ways_neck(ring, start, 1, 3, &neck, NULL),
                         FW_EFAULT);
        struct fw_xy points[4];
        for (size_t i = 0; i < 4; i++)
            points[i] = (struct fw_xy){ring[i].x_m, ring[i].y_m};
        struct fw_shape shape = shape_of(points, 4, 0, 0);
        struct fw_notes notes = {0};
        assert_int_equal(fw_shape_repair(&shape, "it", &notes, &err),
                         FW_EINPUT);
        assert_non_null(strstr(err.text, k & 1 ? "point 4" : "point 1"));
        fw_shape_release(&shape);
    }
    assert_int_equal(fw_sweep_new(oblong, late, 1, &sweep, NULL), FW_EINPUT);
    assert_int_equal(fw_sweep_new(oblong, start, 0, &sweep, NULL), FW_EINPUT);
    assert_null(sweep);
    /* A direction that is none is east. */
    assert_int_equal(fw_sweep_new(oblong, start, 1, &sweep, NULL), FW_OK);
    const double half_m2 = 5000;
    double at_m = 0, length_m = 0;
    fw_sweep_turn(sweep, (double)NAN);
    assert_near(fw_sweep_cut(sweep, &half_m2, 1, &at_m, &length_m), 100, 1e-9);
    assert_near(at_m, -50, 1e-9);
    fw_sweep_free(sweep);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ties_between_corners_do_not_hang_on_the_start),
        cmocka_unit_test(fields_run_one_way_and_have_an_end),
        cmocka_unit_test(five_hundred_ponds_are_as_many_as_may_be),
        cmocka_unit_test(rings_over_the_antimeridian_are_known_by_their_places),
        cmocka_unit_test(points_and_thin_areas_bar_what_they_should),
        cmocka_unit_test(pieces_of_one_size_have_an_order),
        cmocka_unit_test(systems_of_every_kind_are_read),
        cmocka_unit_test(accuracy_is_known_once_a_place_is),
        cmocka_unit_test(places_that_are_none_are_refused),
        cmocka_unit_test(sides_through_a_tear_of_the_map_are_refused),
        cmocka_unit_test(the_shelf_keeps_the_last_eight),
        cmocka_unit_test(cells_of_a_bent_raster_are_found),
        cmocka_unit_test(values_end_with_the_raster),
        cmocka_unit_test(one_cell_has_all_points),
        cmocka_unit_test(
            cells_under_a_field_are_those_it_meets_and_their_neighbours),
        cmocka_unit_test(a_rim_of_cells_is_wanted_on_each_side),
        cmocka_unit_test(grids_without_cells_or_area_are_refused),
        cmocka_unit_test(lines_and_bearings_at_their_ends),
        cmocka_unit_test(a_crossing_has_room_between_its_corners),
        cmocka_unit_test(numbers_that_are_none_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
