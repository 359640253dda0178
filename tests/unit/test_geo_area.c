/* Areas inside edges that are straight in their file's system, against closed
 * forms: an equal-area system says them itself, whatever it does to shapes, and
 * between two parallels the ellipsoid has an integral. */
#include "test.h"

#include "crs/crs.h"
#include "geo/geo.h"

/* Paddocks are known to a hundred-thousandth; the sum is better than that. */
static const double wanted = 2e-7;

static double area_m2(const char *system, const struct fw_xy *ring,
                      size_t count, struct fw_lonlat centre)
{
    struct fw_crs *crs;
    struct fw_plane plane;
    double m2 = 0;
    assert_int_equal(fw_crs_new(system, &crs, NULL), FW_OK);
    assert_int_equal(fw_plane_init(&plane, centre, NULL), FW_OK);
    assert_int_equal(fw_crs_area_m2(crs, &plane, ring, count, &m2, NULL),
                     FW_OK);
    fw_crs_free(crs);
    return m2;
}

/* b^2/2 (lon2 - lon1) (f(lat2) - f(lat1)): Snyder 1987, p. 16, q / 2. */
static double zone_m2(double lon_deg, double low_deg, double high_deg)
{
    const double a = 6378137, f = 1 / 298.257223563;
    const double e2 = f * (2 - f), e = sqrt(e2), radian = 57.29577951308232;
    double sum = 0;
    for (int i = 0; i < 2; i++) {
        const double s = sin((i ? high_deg : low_deg) / radian);
        const double q = s / (1 - e2 * s * s) + atanh(e * s) / e;
        sum += i ? q : -q;
    }
    return a * a * (1 - e2) / 2 * (lon_deg / radian) * sum;
}

static void strips_along_parallels_are_zones_of_the_ellipsoid(void **state)
{
    (void)state;
    static const double lats[] = {-64, -35, 0.001, 51, 58.3, 70};
    for (size_t i = 0; i < sizeof lats / sizeof lats[0]; i++) {
        const double lat = lats[i], wide = 0.003, high = 0.00003;
        const struct fw_xy ring[] = {{25, lat},
                                     {25 + wide, lat},
                                     {25 + wide, lat + high},
                                     {25, lat + high}};
        assert_relative(
            area_m2("EPSG:4326", ring, 4,
                    (struct fw_lonlat){25 + wide / 2, lat + high / 2}),
            zone_m2(wide, lat, lat + high), 1e-7);
        /* Down from it one slanting half of the box, whose long edge bows. */
        const double third =
            area_m2("EPSG:4326", ring, 3,
                    (struct fw_lonlat){25 + wide / 2, lat + high / 2});
        const double other = area_m2(
            "EPSG:4326", (const struct fw_xy[]){ring[0], ring[2], ring[3]}, 3,
            (struct fw_lonlat){25 + wide / 2, lat + high / 2});
        assert_relative(third + other, zone_m2(wide, lat, lat + high), 1e-7);
    }
}

/* At 64 degrees a cylinder that is true at the equator makes north and south a
 * fifth of what east and west become: its areas are plain. */
static void distorted_but_equal_areas_are_the_ellipsoids(void **state)
{
    (void)state;
    static const char system[] = "+proj=cea +lat_ts=0 +datum=WGS84 +units=m";
    struct fw_crs *crs;
    struct fw_xy origin;
    const struct fw_lonlat centre = {25, 64};
    assert_int_equal(fw_crs_new(system, &crs, NULL), FW_OK);
    assert_int_equal(fw_crs_from_lonlat(crs, &centre, &origin, 1, NULL), FW_OK);
    fw_crs_free(crs);
    for (int k = 0; k < 36; k++) {
        /* A slice of some 500 m2, 100 m long, turned about. */
        const double turn = k / 5.7, c = cos(turn), s = sin(turn);
        const double u[] = {-110, 110, 105, -120}, v[] = {-1, -1.5, 1, 1.4};
        struct fw_xy ring[4];
        double twice = 0;
        for (int i = 0; i < 4; i++)
            ring[i] = (struct fw_xy){origin.x + c * u[i] - s * v[i],
                                     origin.y + s * u[i] + c * v[i]};
        for (int i = 0; i < 4; i++) {
            const struct fw_xy a = ring[i], b = ring[(i + 1) % 4];
            twice += (a.x - origin.x) * (b.y - origin.y) -
                     (b.x - origin.x) * (a.y - origin.y);
        }
        assert_relative(area_m2(system, ring, 4, centre), twice / 2, wanted);
    }
}

static void a_ring_over_the_antimeridian_is_a_plain_one(void **state)
{
    (void)state;
    const struct fw_xy over[] = {{179.999, -17},
                                 {-179.999, -17},
                                 {-179.999, -16.999},
                                 {179.999, -16.999}};
    const struct fw_xy beside[] = {
        {9.999, -17}, {10.001, -17}, {10.001, -16.999}, {9.999, -16.999}};
    assert_relative(
        area_m2("EPSG:4326", over, 4, (struct fw_lonlat){180, -16.9995}),
        area_m2("EPSG:4326", beside, 4, (struct fw_lonlat){10, -16.9995}),
        1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_along_parallels_are_zones_of_the_ellipsoid),
        cmocka_unit_test(distorted_but_equal_areas_are_the_ellipsoids),
        cmocka_unit_test(a_ring_over_the_antimeridian_is_a_plain_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
