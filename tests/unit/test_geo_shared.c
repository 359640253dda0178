/* The area that two shapes share, and what lies at a piece of ground: closed
 * forms, and GEOS for a thousand random shapes. */
#include "test.h"

#include "crs/geos.h"
#include "geo/geo.h"

#include <math.h>
#include <string.h>

#define AREA(points, starts)                                                   \
    {                                                                          \
        points, starts, sizeof starts / sizeof *starts - 1                     \
    }

static double shared(const struct fw_area *a, const struct fw_area *b)
{
    double m2 = -1;
    assert_int_equal(fw_area_shared(a, b, &m2, NULL), FW_OK);
    double other_m2 = -1;
    assert_int_equal(fw_area_shared(b, a, &other_m2, NULL), FW_OK);
    assert_near(m2, other_m2, 1e-9 * (1 + m2));
    return m2;
}

static const size_t one[] = {0, 4};

static void squares_share_what_both_have(void **state)
{
    (void)state;
    static const struct {
        double x, y, size, wanted;
    } rows[] = {
        {0, 0, 10, 100}, {5, 5, 10, 25},    {10, 0, 10, 0}, {20, 20, 10, 0},
        {2, 3, 4, 16},   {-5, -5, 30, 100}, {0, 5, 10, 50}, {5, 0, 10, 50},
        {0, 0, 5, 25},   {-3, 8, 5, 4},
    };
    const struct fw_point square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    const struct fw_area a = AREA(square, one);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const double x = rows[i].x, y = rows[i].y, s = rows[i].size;
        /* the other way round, too */
        const struct fw_point other[2][4] = {
            {{x, y}, {x + s, y}, {x + s, y + s}, {x, y + s}},
            {{x, y}, {x, y + s}, {x + s, y + s}, {x + s, y}}};
        for (int turn = 0; turn < 2; turn++) {
            const struct fw_area b = AREA(other[turn], one);
            assert_near(shared(&a, &b), rows[i].wanted, 1e-9);
        }
    }
}

/* Two squares of side 2, one turned by 45 degrees: a regular octagon,
 * 8 (sqrt 2 - 1). */
static void a_turned_square_shares_an_octagon(void **state)
{
    (void)state;
    const double r = sqrt(2);
    const struct fw_point square[] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    const struct fw_point turned[] = {{r, 0}, {0, r}, {-r, 0}, {0, -r}};
    const struct fw_area a = AREA(square, one), b = AREA(turned, one);
    assert_near(shared(&a, &b), 8 * (r - 1), 1e-12);
}

/* A pond in one, and an island in that, however they run. */
static void rings_within_rings_are_holes(void **state)
{
    (void)state;
    const struct fw_point rings[] = {{0, 0},  {20, 0}, {20, 20}, {0, 20},
                                     {5, 5},  {15, 5}, {15, 15}, {5, 15},
                                     {8, 8},  {8, 12}, {12, 12}, {12, 8},
                                     {0, 30}, {5, 30}, {5, 35},  {0, 35}};
    const size_t starts[] = {0, 4, 8, 12, 16};
    const struct fw_point half[] = {{-5, -5}, {10, -5}, {10, 40}, {-5, 40}};
    const struct fw_area a = AREA(rings, starts), b = AREA(half, one);
    assert_near(shared(&a, &a), 400 - 100 + 16 + 25, 1e-9);
    assert_near(shared(&a, &b), 200 - 50 + 8 + 25, 1e-9);
}

static unsigned next(unsigned *seed)
{
    return (*seed = *seed * 1664525U + 1013904223U) >> 8;
}

/* Rings about a place that see it from all their corners. */
static size_t star(unsigned *seed, struct fw_point *points)
{
    const size_t count = 3 + next(seed) % 20;
    const double x = next(seed) % 100, y = next(seed) % 100;
    const bool clockwise = next(seed) % 2;
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * 3.14159265358979323846 * (double)i /
                             (double)count * (clockwise ? -1 : 1);
        const double r = 5 + next(seed) % 60;
        points[i] = (struct fw_point){x + r * cos(angle), y + r * sin(angle)};
    }
    return count;
}

static void geos_has_the_same_areas(void **state)
{
    (void)state;
    unsigned seed = 15;
    GEOSContextHandle_t geos = GEOS_init_r();
    double most_m2 = 0;
    for (int run = 0; run < 1000; run++) {
        struct fw_point points[2][32];
        size_t starts[2][2] = {{0}};
        starts[0][1] = star(&seed, points[0]);
        starts[1][1] = star(&seed, points[1]);
        const struct fw_area a = {points[0], starts[0], 1};
        const struct fw_area b = {points[1], starts[1], 1};
        GEOSGeometry *one_shape =
            fw_geos_shape(geos, points[0], starts[0], 1, true);
        GEOSGeometry *other =
            fw_geos_shape(geos, points[1], starts[1], 1, true);
        GEOSGeometry *both = GEOSIntersection_r(geos, one_shape, other);
        const double wanted_m2 = fw_geos_area_m2(geos, both);
        assert_near(shared(&a, &b), wanted_m2, 1e-6);
        most_m2 = fmax(most_m2, wanted_m2);
        GEOSGeom_destroy_r(geos, one_shape);
        GEOSGeom_destroy_r(geos, other);
        GEOSGeom_destroy_r(geos, both);
    }
    assert_true(most_m2 > 1000);
    GEOS_finish_r(geos);
}

static void what_comes_within_reach_is_there(void **state)
{
    (void)state;
    const struct fw_point ground[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    const size_t point[] = {0, 1}, line[] = {0, 2};
    static const struct {
        struct fw_point at;
        double reach_m;
        bool there;
    } rows[] = {
        {{5, 5}, 0, true},     {{12, 5}, 1.9, false},  {{12, 5}, 2.1, true},
        {{13, 14}, 5.1, true}, {{13, 14}, 4.9, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_area mark = {&rows[i].at, point, 1};
        assert_int_equal(
            fw_area_is_at(&mark, false, ground, 4, rows[i].reach_m),
            rows[i].there);
    }
    const struct fw_point across[] = {{-5, 5}, {15, 6}};
    const struct fw_area way = {across, line, 1};
    assert_true(fw_area_is_at(&way, false, ground, 4, 0));
    const struct fw_point wood[] = {{-9, -9}, {29, -9}, {29, 29}, {-9, 29}};
    const struct fw_area about = AREA(wood, one);
    assert_true(fw_area_is_at(&about, true, ground, 4, 0));
    assert_false(fw_area_is_at(&about, false, ground, 4, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(squares_share_what_both_have),
        cmocka_unit_test(a_turned_square_shares_an_octagon),
        cmocka_unit_test(rings_within_rings_are_holes),
        cmocka_unit_test(geos_has_the_same_areas),
        cmocka_unit_test(what_comes_within_reach_is_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
