/* The way to water over feed that lies unevenly: closed forms, counting places,
 * and the mass that the parts of a polygon have together. */
#include "ground_help.h"
#include "walk/walk.h"

static struct fw_herbage *zones_on(const struct fw_field *field, double base,
                                   const struct fw_herbage_zone *zones,
                                   size_t count)
{
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    if (fw_herbage_zones(field, base, zones, count, &ground, NULL, &err))
        fail_msg("%s", err.text);
    return ground;
}

/* Values of a turned grid about the plane's centre, in WGS 84. */
static struct fw_herbage *cells_on(const struct fw_field *field,
                                   struct random *random, struct fw_grid *grid)
{
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_raster *raster = NULL;
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    const double lat = draw(random, 10, 20) / 111000, lon = 1.6 * lat;
    const double turn = draw(random, 0, 2 * PI);
    *grid = (struct fw_grid){
        .affine = {9, lon * cos(turn), -lon * sin(turn), 51, lat * sin(turn),
                   lat * cos(turn)},
        .columns = 90,
        .rows = 90,
        .values = fw_alloc(90 * 90, sizeof(double)),
    };
    for (size_t k = 0; k < 6; k += 3)
        grid->affine[k] -= 45 * (grid->affine[k + 1] + grid->affine[k + 2]);
    for (size_t i = 0; i < 90 * 90; i++)
        grid->values[i] = draw(random, 0, 0.4);
    if (fw_raster_new(grid, crs, &field->plane, &raster, &err) ||
        fw_herbage_cells(field, 0, raster, &ground, NULL, &err))
        fail_msg("%s", err.text);
    fw_crs_free(crs);
    return ground;
}

/* By the file's own sum. */
static double cell_kg_m2(const struct fw_field *field,
                         const struct fw_grid *grid, struct fw_point at)
{
    const struct fw_lonlat place = fw_plane_inverse(&field->plane, at);
    const double *a = grid->affine;
    const double x = place.lon_deg - a[0], y = place.lat_deg - a[3];
    const double all = a[1] * a[5] - a[2] * a[4];
    const double i = (x * a[5] - y * a[2]) / all;
    const double j = (y * a[1] - x * a[4]) / all;
    return grid->values[(size_t)j * grid->columns + (size_t)i];
}

static struct fw_walk_sums walk_over(const struct fw_point *points,
                                     const size_t *ring_start, size_t rings,
                                     struct fw_point water,
                                     const struct fw_herbage *feed,
                                     struct fw_walk_ground **kept)
{
    const size_t cell_ring[] = {0, rings}, no_line[] = {0}, here = 0;
    const struct fw_walk_map map = {.points = points,
                                    .ring_start = ring_start,
                                    .cell_ring = cell_ring,
                                    .cell_count = 1,
                                    .line_start = no_line};
    struct fw_walk_ground *ground = NULL;
    struct fw_walk_sums sums;
    assert_int_equal(fw_walk_new(&map, &ground, NULL), FW_OK);
    fw_walk_feed(ground, feed);
    assert_int_equal(fw_walk_search(ground,
                                    &(struct fw_walk_start){water, &here, 1, 1},
                                    NULL),
                     FW_OK);
    assert_int_equal(fw_walk_sum(ground, 0, &sums, NULL), FW_OK);
    if (kept)
        *kept = ground;
    else
        fw_walk_free(ground);
    return sums;
}

/* From the corner of a rectangle. */
static double corner_mean_m(double a, double b)
{
    return sqrt(a * a + b * b) / 3 + a * a / (6 * b) * asinh(b / a) +
           b * b / (6 * a) * asinh(a / b);
}

static const struct fw_point oblong[] = {
    {-100, -50}, {100, -50}, {100, 50}, {-100, 50}};
static const size_t whole[] = {0, 4};
static const struct fw_point great[] = {
    {-200, -200}, {200, -200}, {200, 200}, {-200, 200}};

/* The half at the water has 0.3 kg on a square metre, the other 0.1. */
static void half_the_feed_near_the_water_has_its_closed_form(void **state)
{
    (void)state;
    struct fw_field *field = field_of(great, 4);
    const struct fw_point west[] = {{-300, -90}, {0, -90}, {0, 90}, {-300, 90}};
    const struct fw_herbage_zone zone = {west, whole, 1, 0.3};
    struct fw_herbage *feed = zones_on(field, 0.1, &zone, 1);
    const struct fw_walk_sums sums =
        walk_over(oblong, whole, 1, oblong[0], feed, NULL);
    const double all_m3 = 200 * 100 * corner_mean_m(200, 100);
    const double near_m3 = 100 * 100 * corner_mean_m(100, 100);
    assert_true(sums.known);
    assert_near(sums.mean_m, all_m3 / 2e4, 1e-9);
    assert_near(sums.fed_m,
                (0.3 * near_m3 + 0.1 * (all_m3 - near_m3)) / (0.4 * 1e4), 1e-6);
    assert_near(sums.most_m, hypot(200, 100), 1e-9);
    struct fw_walk_sums seen;
    assert_true(fw_walk_seen(oblong, 4, oblong[0], feed, &seen));
    assert_near(seen.mean_m, sums.mean_m, 1e-10);
    assert_near(seen.fed_m, sums.fed_m, 1e-10);
    fw_herbage_free(feed);
    fw_field_free(field);
}

static void feed_that_is_even_or_none_is_as_the_ground(void **state)
{
    (void)state;
    struct fw_field *field = field_of(great, 4);
    const struct fw_herbage_zone bare = {great, whole, 1, 0};
    struct fw_herbage *even = NULL, *none = zones_on(field, 0.2, &bare, 1);
    assert_int_equal(fw_herbage_even(0.2, &even, NULL), FW_OK);
    const struct fw_herbage *feeds[] = {NULL, even, none};
    for (size_t i = 0; i < COUNT(feeds); i++) {
        const struct fw_walk_sums sums =
            walk_over(oblong, whole, 1, oblong[0], feeds[i], NULL);
        assert_near(sums.fed_m, sums.mean_m, 1e-9);
        assert_near(sums.mean_m, corner_mean_m(200, 100), 1e-9);
    }
    fw_herbage_free(even);
    fw_herbage_free(none);
    fw_field_free(field);
}

/* Round a pond, over three zones that overlap or over cells: the ways of a net
 * of places, each with what lies there. */
static double counted_m(const struct fw_walk_ground *ground,
                        const struct fw_field *field, const struct star *zones,
                        const double *kg_m2, const struct fw_grid *grid)
{
    enum { net = 500 };
    double sum = 0, kg = 0;
    for (size_t i = 0; i < net * net; i++) {
        const struct fw_point at = {
            -150 + 300 * ((double)(i % net) + 0.5) / net,
            -150 + 300 * ((double)(i / net) + 0.5) / net};
        const double way_m = fw_walk_at(ground, 0, at);
        double here = 0.1;
        if (isinf(way_m))
            continue;
        for (size_t k = 0; zones && k < 3; k++)
            if (fw_ring_contains(zones[k].points, zones[k].count, at))
                here = kg_m2[k];
        if (grid)
            here = cell_kg_m2(field, grid, at);
        kg += here;
        sum += here * way_m;
    }
    return sum / kg;
}

static void the_mean_round_a_pond_is_that_of_places_by_their_feed(void **state)
{
    (void)state;
    struct random random = seeded();
    double worst = 0, apart = 0;
    for (int run = 0; run < 16; run++) {
        struct fw_point points[28];
        const size_t rings[] = {0, 20, 28};
        const struct star outer =
            star(&random, (struct fw_point){0, 0}, 150, 20);
        const struct star pond = star(&random, (struct fw_point){0, 0}, 50, 8);
        for (size_t i = 0; i < 20; i++)
            points[i] = outer.points[i];
        for (size_t i = 0; i < 8; i++)
            points[20 + i] = pond.points[7 - i];
        struct fw_field *field = field_of(great, 4);
        struct star zones[3];
        struct fw_herbage_zone told[3];
        const double kg_m2[] = {0.3, 0.02, 0.5};
        for (size_t k = 0; k < 3; k++) {
            zones[k] = star(&random,
                            (struct fw_point){draw(&random, -90, 90),
                                              draw(&random, -90, 90)},
                            100, 9);
            told[k] = (struct fw_herbage_zone){zones[k].points, zones[k].start,
                                               1, kg_m2[k]};
        }
        struct fw_grid grid = {.values = NULL};
        struct fw_herbage *feed = run % 2 ? cells_on(field, &random, &grid)
                                          : zones_on(field, 0.1, told, 3);
        struct fw_walk_ground *ground;
        const struct fw_walk_sums sums =
            walk_over(points, rings, 2, points[0], feed, &ground);
        const double mean_m = counted_m(ground, field, run % 2 ? NULL : zones,
                                        kg_m2, run % 2 ? &grid : NULL);
        assert_true(sums.known);
        worst = fmax(worst, fabs(sums.fed_m / mean_m - 1));
        apart = fmax(apart, fabs(sums.mean_m / mean_m - 1));
        fw_walk_free(ground);
        fw_herbage_free(feed);
        fw_grid_release(&grid);
        fw_field_free(field);
    }
    print_message("off by up to %.1e, by area by %.1e\n", worst, apart);
    assert_true(worst < 1e-3);
    assert_true(apart > 2e-2);
}

/* ---- parts of a polygon ---- */

static void weigh(void *to, const struct fw_point *ring, size_t count,
                  double kg_m2)
{
    double *kg = to;
    *kg += kg_m2 * fw_ring_area_m2(ring, count);
}

static void parts_have_the_mass_of_the_whole(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(great, 4);
    for (int run = 0; run < 200; run++) {
        const struct star zone = star(
            &random,
            (struct fw_point){draw(&random, -90, 90), draw(&random, -90, 90)},
            120, 11);
        const struct fw_herbage_zone told = {zone.points, zone.start, 1, 0.4};
        struct fw_grid grid = {.values = NULL};
        struct fw_herbage *feed = run % 4 == 0
                                      ? cells_on(field, &random, &grid)
                                      : zones_on(field, 0.15, &told, 1);
        /* Round a circle, so that it is convex. */
        struct fw_point ring[9];
        const size_t start[] = {0, COUNT(ring)};
        const double east_m = draw(&random, -60, 60);
        for (size_t i = 0; i < COUNT(ring); i++) {
            const double turn =
                2 * PI * ((double)i + draw(&random, 0, 0.9)) / COUNT(ring);
            ring[i] =
                (struct fw_point){east_m + 110 * cos(turn), 110 * sin(turn)};
        }
        double kg = 0;
        fw_herbage_parts(feed, ring, COUNT(ring), weigh, &kg);
        const double wanted = fw_herbage_mass_kg(feed, ring, start, 1);
        assert_near(kg, wanted, 1e-9 * wanted);
        fw_herbage_free(feed);
        fw_grid_release(&grid);
    }
    fw_field_free(field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_the_feed_near_the_water_has_its_closed_form),
        cmocka_unit_test(feed_that_is_even_or_none_is_as_the_ground),
        cmocka_unit_test(the_mean_round_a_pond_is_that_of_places_by_their_feed),
        cmocka_unit_test(parts_have_the_mass_of_the_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
