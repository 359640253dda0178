/* What lies near a field, by the radii of the ellipsoid, and what is said of
 * features that do not. */
#include "farm_help.h"

#include "figures/farm.h"
#include "mapped/near.h"

#include <math.h>

/* ---- boxes ---- */

/* Metres of a degree to the north and to the east, on the WGS 84 ellipsoid. */
static void degree_m(double lat_deg, double *north_m, double *east_m)
{
    const double a_m = 6378137, e2 = 0.00669437999014, rad = acos(-1.0) / 180,
                 s = sin(lat_deg * rad);
    const double w2 = 1 - e2 * s * s;
    *north_m = a_m * (1 - e2) / pow(w2, 1.5) * rad;
    *east_m = a_m / sqrt(w2) * cos(lat_deg * rad) * rad;
}

/* To each side of a field: what is nearer than asked meets it, what is a tenth
 * farther does not. */
static void boxes_meet_within_so_many_metres(void **state)
{
    (void)state;
    const double reach_m = 250;
    for (int lat_deg = -70; lat_deg <= 70; lat_deg += 10) {
        const struct fw_farm__near field = {5, 5.002, lat_deg - 0.001,
                                            lat_deg + 0.001};
        double north_m, east_m;
        degree_m(lat_deg, &north_m, &east_m);
        for (int side = 0; side < 4; side++)
            for (int far = 0; far < 2; far++) {
                const double m = reach_m * (far ? 1.1 : 0.99);
                const double lon = m / east_m, lat = m / north_m;
                struct fw_farm__near other = field;
                if (side == 0)
                    other.west = other.east = field.west - lon;
                if (side == 1)
                    other.west = other.east = field.east + lon;
                if (side == 2)
                    other.south = other.north = field.south - lat;
                if (side == 3)
                    other.south = other.north = field.north + lat;
                assert_int_equal(fw_farm__near_meets(&field, &other, reach_m),
                                 !far);
            }
    }
}

/* What touches is nothing away. */
static void boxes_that_touch_meet(void **state)
{
    (void)state;
    const struct fw_farm__near field = {5, 6, 50, 51};
    const struct fw_farm__near beside[] = {
        {4, 5, 50, 51}, {6, 7, 50, 51}, {5, 6, 49, 50}, {5, 6, 51, 52}};
    for (int i = 0; i < 4; i++) {
        assert_true(fw_farm__near_meets(&field, &beside[i], 0));
        struct fw_farm__near apart = beside[i];
        apart.west += i == 1 ? 1e-9 : 0;
        apart.east -= i == 0 ? 1e-9 : 0;
        apart.south += i == 3 ? 1e-9 : 0;
        apart.north -= i == 2 ? 1e-9 : 0;
        assert_false(fw_farm__near_meets(&field, &apart, 0));
    }
}

static void a_box_holds_all_its_points(void **state)
{
    (void)state;
    struct fw_lonlat points[] = {{5, 50}, {7, 49}, {6, 52}, {4, 51}, {5, 51}};
    size_t starts[] = {0, 3, 5};
    const struct fw_farm_feature feature = {
        .points = points, .ring_start = starts, .ring_count = 2};
    const struct fw_farm__near box = fw_farm__near_feature(&feature);
    assert_true(box.west == 4 && box.east == 7);
    assert_true(box.south == 49 && box.north == 52);
    static struct fw_vertex vertices[5];
    for (int i = 0; i < 5; i++)
        vertices[i].lonlat = points[i];
    const struct fw_field field = {.vertices = vertices,
                                   .vertex_count = 5,
                                   .ring_start = starts,
                                   .ring_count = 2};
    /* A hole lies within its field. */
    const struct fw_farm__near outer = fw_farm__near_field(&field);
    assert_true(outer.west == 5 && outer.east == 7);
    assert_true(outer.south == 49 && outer.north == 52);
}

/* ---- features ---- */

static struct fw_farm *farm_with(const char *features, const char *crs,
                                 struct fw_notes *notes)
{
    char text[400];
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    put_text("roads.geojson", features);
    snprintf(text, sizeof text,
             "fields: {source: field.geojson}\n"
             "maps: [{role: road, source: roads.geojson%s%s}]\n",
             *crs ? ", crs: " : "", crs);
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    if (fw_farm_read(&request, &farm, NULL, notes, &err))
        fail_msg("%s", err.text);
    return farm;
}

static bool is_said(const struct fw_notes *notes, const char *words)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strstr(notes->items[i].text, words))
            return true;
    return false;
}

#define LINE(points) "{\"type\":\"LineString\",\"coordinates\":[" points "]}"
#define NEAR_LINE LINE("[8.99,50.999],[9.01,50.999]")
#define FAR_LINE LINE("[18.99,40.999],[19.01,40.999]")

/* Far off is no fault of a feature; where it has no place on earth it is left
 * out, and that is said. */
static void what_is_far_is_passed_by_and_what_is_nowhere_is_said(void **state)
{
    (void)state;
    static const struct {
        const char *features;
        size_t kept, left_out;
    } rows[] = {
        {COLLECTION(FEATURE("a", NEAR_LINE)), 1, 0},
        {COLLECTION(FEATURE("a", NEAR_LINE) "," FEATURE("b", FAR_LINE)), 1, 0},
        {COLLECTION(FEATURE("a", NEAR_LINE) "," FEATURE("b", "null")), 1, 1},
        {COLLECTION(FEATURE("a", "null") "," FEATURE("b", "null") "," FEATURE(
             "c", NEAR_LINE) "," FEATURE("d", NEAR_LINE)),
         2, 2},
        {COLLECTION(FEATURE("a", FAR_LINE) "," FEATURE(
             "b", LINE("[9,95],[9.1,99]")) "," FEATURE("c", NEAR_LINE)),
         1, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_notes notes = {0};
        char words[100];
        struct fw_farm *farm = farm_with(rows[i].features, "", &notes);
        assert_int_equal(farm->feature_count, rows[i].kept);
        snprintf(words, sizeof words,
                 "%zu features without a usable geometry are left out",
                 rows[i].left_out);
        if (is_said(&notes, words) != (rows[i].left_out > 0))
            fail_msg("row %zu: %s", i, words);
        assert_int_equal(is_said(&notes, "are left out"), rows[i].left_out > 0);
        fw_notes_release(&notes);
        fw_farm_free(farm);
    }
}

/* A parallel is no straight line: it bows by L^2 tan(lat) / 8 R, a mean radius
 * of 6,371 km. One of 20 km is cut until none of its pieces, of which the bow
 * goes with the square of the length, is off by more than the half a millimetre
 * of the register; what bows by a kilometre jumps from one side of its map to
 * the other, and is left as it is. */
static void an_edge_that_bows_is_cut_unless_it_jumps(void **state)
{
    (void)state;
    static const double degrees[] = {0.002, 0.05, 0.285, 2.5, 7};
    const double rad = acos(-1.0) / 180, earth_m = 6.371e6;
    for (size_t i = 0; i < sizeof degrees / sizeof *degrees; i++) {
        char text[500];
        snprintf(text, sizeof text,
                 COLLECTION(FEATURE("a", LINE("[%.6f,51],[%.6f,51]"))),
                 9 - degrees[i] / 2, 9 + degrees[i] / 2);
        struct fw_farm *farm = farm_with(text, "", NULL);
        const double m = degrees[i] * rad * earth_m * cos(51 * rad);
        const double bow_m = m * m * tan(51 * rad) / (8 * earth_m);
        const double pieces =
            bow_m > 1000 ? 1 : ceil(sqrt(bow_m / FW_EDGE_BOW_M));
        assert_int_equal(farm->feature_count, 1);
        const size_t points = farm->features[0].ring_start[1];
        if (pieces <= 1)
            assert_int_equal(points, 2);
        else
            assert_near((double)points, pieces + 1, 0.02 * pieces + 1);
        for (size_t k = 1; k < points; k++)
            assert_near(farm->features[0].points[k].lon_deg -
                            farm->features[0].points[k - 1].lon_deg,
                        degrees[i] / (double)(points - 1), 1e-9);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(boxes_meet_within_so_many_metres),
        cmocka_unit_test(boxes_that_touch_meet),
        cmocka_unit_test(a_box_holds_all_its_points),
        cmocka_unit_test(an_edge_that_bows_is_cut_unless_it_jumps),
        cmocka_unit_test(what_is_far_is_passed_by_and_what_is_nowhere_is_said),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
