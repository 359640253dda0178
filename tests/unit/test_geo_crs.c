/* Coordinate systems. */
#include "geo_help.h"

#include <ogr_srs_api.h>
#include <pthread.h>
#include <stdbool.h>

static void wgs84_is_taken_as_it_stands(void **state)
{
    (void)state;
    const char *const same[] = {"EPSG:4326", "OGC:CRS84",
                                "+proj=longlat +datum=WGS84 +no_defs"};
    for (size_t i = 0; i < 3; i++) {
        struct fw_crs *crs = open_crs(same[i]);
        assert_true(fw_crs_is_wgs84_lonlat(crs));
        assert_true(fw_crs_is_geographic(crs));
        assert_string_equal(fw_crs_definition(crs), same[i]);
        assert_true(fw_crs_accuracy_m(crs) == 0);
        const struct fw_xy in = {9.123456789012345, 50.123456789012345};
        struct fw_lonlat out;
        assert_int_equal(fw_crs_to_lonlat(crs, &in, &out, 1, NULL, NULL),
                         FW_OK);
        assert_true(out.lon_deg == in.x && out.lat_deg == in.y);
        struct fw_xy back;
        assert_int_equal(fw_crs_from_lonlat(crs, &out, &back, 1, NULL), FW_OK);
        assert_true(back.x == in.x && back.y == in.y);
        fw_crs_free(crs);
    }
}

static void central_meridian_of_utm_is_its_false_easting(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("EPSG:32632");
    assert_string_equal(fw_crs_name(crs), "WGS 84 / UTM zone 32N");
    assert_false(fw_crs_is_wgs84_lonlat(crs));
    assert_false(fw_crs_is_geographic(crs));
    const struct fw_xy in[] = {{500000, 0}, {500000, 5500000}};
    struct fw_lonlat out[2];
    assert_int_equal(fw_crs_to_lonlat(crs, in, out, 2, NULL, NULL), FW_OK);
    assert_near(out[0].lon_deg, 9, 1e-12);
    assert_near(out[0].lat_deg, 0, 1e-12);
    assert_near(out[1].lon_deg, 9, 1e-12);
    /* The meridian's arc, scaled by 0.9996. */
    assert_near(fw_geo_distance_m(out[0], out[1]), 5500000 / 0.9996, 1e-5);
    assert_true(fw_crs_accuracy_m(crs) == 0); /* no shift of datum */
    fw_crs_free(crs);
}

static void northing_first_and_grads_come_out_as_lonlat(void **state)
{
    (void)state;
    /* Axes of EPSG:4258 are latitude, longitude; of EPSG:4807 grads from
     * Paris, 2 deg 20' 14.025'' east (the meridian's value in the EPSG
     * dataset). */
    struct fw_crs *crs = open_crs("EPSG:4258");
    struct fw_xy in = {9, 50};
    struct fw_lonlat out;
    assert_int_equal(fw_crs_to_lonlat(crs, &in, &out, 1, NULL, NULL), FW_OK);
    assert_near(out.lon_deg, 9, 1e-7);
    assert_near(out.lat_deg, 50, 1e-7);
    fw_crs_free(crs);

    crs = open_crs("EPSG:4807");
    in = (struct fw_xy){2, 50};
    assert_int_equal(fw_crs_to_lonlat(crs, &in, &out, 1, NULL, NULL), FW_OK);
    assert_near(out.lon_deg, 1.8 + 2.33722917, 2e-3); /* a shift of datum */
    assert_near(out.lat_deg, 45, 2e-3);
    assert_true(fw_crs_accuracy_m(crs) > 0);
    fw_crs_free(crs);
}

static void there_and_back_through_a_grid_is_within_a_centimetre(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("EPSG:28992");
    const struct fw_xy in[] = {{130000, 495000}, {131000.5, 494000.25}};
    struct fw_lonlat places[2];
    struct fw_xy out[2];
    assert_int_equal(fw_crs_to_lonlat(crs, in, places, 2, NULL, NULL), FW_OK);
    assert_int_equal(fw_crs_from_lonlat(crs, places, out, 2, NULL), FW_OK);
    for (int i = 0; i < 2; i++)
        assert_near(hypot(out[i].x - in[i].x, out[i].y - in[i].y), 0, 0.01);
    assert_true(fw_crs_accuracy_m(crs) > 0 && fw_crs_accuracy_m(crs) < 10);
    fw_crs_free(crs);
}

static OGRSpatialReferenceH gis_system(const char *definition)
{
    OGRSpatialReferenceH system = OSRNewSpatialReference(NULL);
    assert_int_equal(OSRSetFromUserInput(system, definition), OGRERR_NONE);
    OSRSetAxisMappingStrategy(system, OAMS_TRADITIONAL_GIS_ORDER);
    return system;
}

/* What ogr2ogr -t_srs EPSG:4326 makes of the same corner: a map must not lie
 * elsewhere for having been read here. 1e-10 degree is 0.01 mm. */
static void places_are_those_of_a_gis(void **state)
{
    (void)state;
    const struct {
        const char *definition;
        struct fw_xy at;
    } known[] = {
        {"EPSG:28992", {130000, 495000}},  {"EPSG:2154", {652000, 6862000}},
        {"EPSG:27700", {400000, 300000}},  {"EPSG:2193", {1570000, 5180000}},
        {"EPSG:25832", {500000, 5500000}}, {"EPSG:3301", {550000, 6580000}},
    };
    OGRSpatialReferenceH wgs84 = gis_system("EPSG:4326");
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        struct fw_crs *crs = open_crs(known[i].definition);
        struct fw_lonlat out;
        assert_int_equal(
            fw_crs_to_lonlat(crs, &known[i].at, &out, 1, NULL, NULL), FW_OK);
        OGRSpatialReferenceH from = gis_system(known[i].definition);
        OGRCoordinateTransformationH way =
            OCTNewCoordinateTransformation(from, wgs84);
        double x = known[i].at.x, y = known[i].at.y;
        assert_true(OCTTransform(way, 1, &x, &y, NULL));
        assert_near(out.lon_deg, x, 1e-10);
        assert_near(out.lat_deg, y, 1e-10);
        OCTDestroyCoordinateTransformation(way);
        OSRDestroySpatialReference(from);
        fw_crs_free(crs);
    }
    OSRDestroySpatialReference(wgs84);
}

static void is_refused(const char *definition, struct fw_xy at,
                       const char *word)
{
    struct fw_crs *crs = open_crs(definition);
    const struct fw_xy in[] = {{at.x, at.y}, {at.x, at.y}};
    struct fw_lonlat out[] = {{1, 2}, {3, 4}};
    struct fw_error err = {.text = ""};
    size_t bad = 9;
    assert_int_equal(fw_crs_to_lonlat(crs, in, out, 2, &bad, &err), FW_EINPUT);
    if (!strstr(err.text, word))
        fail_msg("\"%s\" does not say \"%s\"", err.text, word);
    assert_true(bad < 2);
    assert_true(out[0].lon_deg == 1 && out[1].lat_deg == 4);
    fw_crs_free(crs);
}

/* What GDAL makes of an empty .prj. */
static const char no_datum[] =
    "GEOGCS[\"undefined\",DATUM[\"unknown\",SPHEROID[\"unknown\",6378137,"
    "298.257223563]],PRIMEM[\"Greenwich\",0],"
    "UNIT[\"degree\",0.0174532925199433]]";

static void coordinates_outside_their_system_are_refused(void **state)
{
    (void)state;
    is_refused("EPSG:4326", (struct fw_xy){9, 90.5}, "outside its CRS");
    is_refused("EPSG:4326", (struct fw_xy){500000, 50}, "outside its CRS");
    is_refused("EPSG:4326", (struct fw_xy){(double)NAN, 50}, "not finite");
    is_refused("EPSG:25832", (struct fw_xy){5e5, HUGE_VAL}, "not finite");
    is_refused("EPSG:25832", (struct fw_xy){1e9, 1e9}, "outside its CRS");
    is_refused("EPSG:28992", (struct fw_xy){1e8, -1e8}, "outside its CRS");
    is_refused(no_datum, (struct fw_xy){412345, 5712345}, "outside its CRS");
    is_refused(no_datum, (struct fw_xy){120.5, 330.25}, "outside its CRS");
}

static void what_is_no_map_system_is_refused(void **state)
{
    (void)state;
    const char *const bad[] = {NULL,
                               "",
                               "EPSG:999999",
                               "a field",
                               "EPSG:4978",
                               "EPSG:5783",
                               "LOCAL_CS[\"site\",UNIT[\"metre\",1]]",
                               "+proj=utm"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct fw_crs *crs = NULL;
        struct fw_error err = {.text = ""};
        if (fw_crs_new(bad[i], &crs, &err) != FW_EINPUT)
            fail_msg("%s is taken", bad[i] ? bad[i] : "NULL");
        assert_null(crs);
        assert_true(strlen(err.text) > 20);
    }
}

static void heights_are_no_hindrance(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("EPSG:5555"); /* UTM 32 with heights */
    const struct fw_xy in = {500000, 5500000};
    struct fw_lonlat out;
    assert_int_equal(fw_crs_to_lonlat(crs, &in, &out, 1, NULL, NULL), FW_OK);
    assert_near(out.lon_deg, 9, 1e-9);
    fw_crs_free(crs);
}

static void longitudes_past_180_come_back_into_the_circle(void **state)
{
    (void)state;
    struct fw_crs *crs = open_crs("EPSG:4326");
    const struct fw_xy in[] = {{190, 0}, {-181, 0}, {180, 0}};
    struct fw_lonlat out[3];
    assert_int_equal(fw_crs_to_lonlat(crs, in, out, 3, NULL, NULL), FW_OK);
    assert_true(out[0].lon_deg == -170 && out[1].lon_deg == 179 &&
                out[2].lon_deg == 180);
    const struct fw_lonlat nowhere = {0, 91};
    struct fw_xy back;
    assert_int_equal(fw_crs_from_lonlat(crs, &nowhere, &back, 1, NULL),
                     FW_EINPUT);
    fw_crs_free(crs);
}

/* ---- lent systems ---- */

static const char *const ten[] = {
    "EPSG:25828", "EPSG:25829", "EPSG:25830", "EPSG:25831", "EPSG:25832",
    "EPSG:25833", "EPSG:25834", "EPSG:25835", "EPSG:25836", "EPSG:25837"};

static struct fw_crs *lend(const char *definition)
{
    struct fw_crs *crs;
    struct fw_error err;
    if (fw_crs_lend(definition, &crs, &err))
        fail_msg("%s", err.text);
    assert_string_equal(fw_crs_definition(crs), definition);
    return crs;
}

static void a_system_is_kept_and_lent_again(void **state)
{
    (void)state;
    struct fw_crs *first = lend(ten[0]), *again = lend(ten[0]);
    assert_ptr_equal(first, again);
    fw_crs_give_back(again);
    fw_crs_give_back(first);
    assert_ptr_equal(lend(ten[0]), first);
    /* What is out stays whole while others come and go, and with all out too.
     */
    struct fw_crs *all[10];
    for (int i = 1; i < 10; i++)
        all[i] = lend(ten[i]);
    for (int i = 1; i < 10; i++) {
        struct fw_xy in = {500000, 5000000};
        struct fw_lonlat out;
        assert_int_equal(fw_crs_to_lonlat(all[i], &in, &out, 1, NULL, NULL),
                         FW_OK);
        assert_near(out.lon_deg, -15 + 6.0 * i, 1e-9);
    }
    assert_ptr_equal(lend(ten[0]), first);
    for (int i = 1; i < 10; i++)
        fw_crs_give_back(all[i]);
    fw_crs_give_back(first);
    fw_crs_give_back(first);
    fw_crs_forget();
    fw_crs_give_back(NULL);
    struct fw_crs *crs = NULL;
    assert_int_equal(fw_crs_lend("nonsense", &crs, NULL), FW_EINPUT);
    assert_int_equal(fw_crs_lend(NULL, &crs, NULL), FW_EINPUT);
    assert_null(crs);
}

/* As one that is made anew would have it: PROJ takes another shift in another
 * place. */
static void accuracy_is_of_the_places_since_it_was_lent(void **state)
{
    (void)state;
    const struct fw_xy places[] = {{-100, 40}, {-150, 62}, {-157, 21}};
    for (int i = 0; i < 3; i++) {
        struct fw_crs *lent = lend("EPSG:4267"), *made = open_crs("EPSG:4267");
        struct fw_lonlat out[2];
        assert_int_equal(fw_crs_to_lonlat(lent, &places[i], out, 1, NULL, NULL),
                         FW_OK);
        assert_int_equal(
            fw_crs_to_lonlat(made, &places[i], out + 1, 1, NULL, NULL), FW_OK);
        assert_memory_equal(out, out + 1, sizeof *out);
        assert_true(fw_crs_accuracy_m(lent) == fw_crs_accuracy_m(made));
        fw_crs_give_back(lent);
        fw_crs_free(made);
    }
}

static void *lend_elsewhere(void *out)
{
    struct fw_crs *crs = NULL;
    if (fw_crs_lend(ten[0], &crs, NULL) == FW_OK)
        fw_crs_give_back(crs);
    *(struct fw_crs **)out = crs;
    return NULL;
}

static void threads_keep_their_own(void **state)
{
    (void)state;
    struct fw_crs *here = lend(ten[0]), *there = NULL;
    pthread_t thread;
    assert_int_equal(pthread_create(&thread, NULL, lend_elsewhere, &there), 0);
    pthread_join(thread, NULL);
    assert_true(there && there != here);
    fw_crs_give_back(here);
    fw_crs_forget();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wgs84_is_taken_as_it_stands),
        cmocka_unit_test(central_meridian_of_utm_is_its_false_easting),
        cmocka_unit_test(northing_first_and_grads_come_out_as_lonlat),
        cmocka_unit_test(there_and_back_through_a_grid_is_within_a_centimetre),
        cmocka_unit_test(places_are_those_of_a_gis),
        cmocka_unit_test(coordinates_outside_their_system_are_refused),
        cmocka_unit_test(what_is_no_map_system_is_refused),
        cmocka_unit_test(heights_are_no_hindrance),
        cmocka_unit_test(longitudes_past_180_come_back_into_the_circle),
        cmocka_unit_test(a_system_is_kept_and_lent_again),
        cmocka_unit_test(accuracy_is_of_the_places_since_it_was_lent),
        cmocka_unit_test(threads_keep_their_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
