/* Feed on a field: even, by zones, by cells. GEOS is the judge of areas. */
#include "ground_help.h"

#include <time.h>

/* ---- even ---- */

static void an_even_ground_is_density_times_area(void **state)
{
    (void)state;
    struct fw_herbage *ground = NULL;
    const struct fw_point ring[] = {{0, 0}, {40, 0}, {40, 30}, {0, 30}};
    const size_t start[] = {0, 4};
    assert_int_equal(fw_herbage_even(0.12, &ground, NULL), FW_OK);
    assert_true(fw_herbage_is_even(ground));
    assert_near(fw_herbage_mass_kg(ground, ring, start, 1), 144, 1e-12);
    assert_near(fw_herbage_chord_kg_m(ground, ring[0], ring[2]), 6, 1e-12);
    assert_near(fw_herbage_base_kg_m2(ground), 0.12, 0);
    fw_herbage_free(ground);
}

static void no_ground_is_even_and_bears_nothing(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0}, {40, 0}, {40, 30}};
    const size_t start[] = {0, 3};
    assert_true(fw_herbage_is_even(NULL));
    assert_near(fw_herbage_mass_kg(NULL, ring, start, 1), 0, 0);
    assert_near(fw_herbage_chord_kg_m(NULL, ring[0], ring[1]), 0, 0);
    assert_near(fw_herbage_base_kg_m2(NULL), 0, 0);
}

static void a_density_that_is_none_is_refused(void **state)
{
    (void)state;
    const double bad[] = {-0.1, (double)NAN, HUGE_VAL};
    for (size_t i = 0; i < COUNT(bad); i++) {
        struct fw_herbage *ground = NULL;
        struct fw_error err = {0};
        assert_int_equal(fw_herbage_even(bad[i], &ground, &err), FW_EINPUT);
        assert_null(ground);
        assert_non_null(strstr(err.text, "density"));
    }
}

/* ---- zones ---- */

/* 200 m by 100 m about the plane's centre. */
static const struct fw_point oblong[] = {
    {-100, -50}, {100, -50}, {100, 50}, {-100, 50}};

static const struct fw_point great_square[] = {
    {-300, -300}, {300, -300}, {300, 300}, {-300, 300}};

static struct fw_herbage *zones_on(const struct fw_field *field, double base,
                                   const struct fw_herbage_zone *zones,
                                   size_t count, struct fw_herbage_told *cover)
{
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    if (fw_herbage_zones(field, base, zones, count, &ground, cover, &err))
        fail_msg("%s", err.text);
    return ground;
}

static const size_t one_ring[] = {0, 4};

/* Of all the field, with the points that keep its sides straight in the file.
 */
static double whole_mass(const struct fw_herbage *ground,
                         const struct fw_field *field)
{
    struct fw_point points[64];
    assert_true(field->vertex_count <= COUNT(points));
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    const double kg = fw_herbage_mass_kg(ground, points, field->ring_start,
                                         field->ring_count);
    assert_relative(fw_herbage_field_kg(ground, field), kg, 1e-12);
    return kg;
}

static void the_later_of_two_zones_holds_where_they_overlap(void **state)
{
    (void)state;
    struct fw_field *field = field_of(oblong, 4);
    const struct fw_point west[] = {
        {-100, -60}, {20, -60}, {20, 60}, {-100, 60}};
    const struct fw_point east[] = {
        {-20, -60}, {300, -60}, {300, 60}, {-20, 60}};
    const struct fw_herbage_zone zones[] = {{west, one_ring, 1, 0.3},
                                            {east, one_ring, 1, 0.1}};
    struct fw_herbage_told cover;
    struct fw_herbage *ground = zones_on(field, 9, zones, 2, &cover);
    assert_false(fw_herbage_is_even(ground));
    assert_relative(cover.told_m2, field->area_m2, 1e-12);
    assert_near(cover.overlap_m2, 4000, 0.1); /* the sides bow by 1 mm */
    assert_near(cover.gap_m2, 0, 1e-8);
    const struct fw_point across[] = {
        {-40, -40}, {40, -40}, {40, 40}, {-40, 40}};
    assert_relative(fw_herbage_mass_kg(ground, across, one_ring, 1),
                    80 * (0.3 * 20 + 0.1 * 60), 1e-12);
    fw_herbage_free(ground);
    fw_field_free(field);
}

static void where_no_zone_lies_the_base_holds(void **state)
{
    (void)state;
    struct fw_field *field = field_of(oblong, 4);
    const struct fw_point patch[] = {{0, 0}, {0, 20}, {10, 20}, {10, 0}};
    const struct fw_herbage_zone zone = {patch, one_ring, 1, 0};
    struct fw_herbage_told cover;
    struct fw_herbage *ground = zones_on(field, 0.2, &zone, 1, &cover);
    assert_relative(cover.told_m2, 200, 1e-12);
    assert_relative(cover.gap_m2, field->area_m2 - 200, 1e-12);
    assert_relative(whole_mass(ground, field), 0.2 * (field->area_m2 - 200),
                    1e-12);
    fw_herbage_free(ground);
    fw_field_free(field);
}

static void a_chord_takes_each_zone_for_the_length_inside_it(void **state)
{
    (void)state;
    struct fw_field *field = field_of(oblong, 4);
    const struct fw_point patch[] = {{0, 0}, {40, 0}, {40, 40}, {0, 40}};
    const struct fw_herbage_zone zone = {patch, one_ring, 1, 0.5};
    struct fw_herbage *ground = zones_on(field, 0.1, &zone, 1, NULL);
    const struct {
        struct fw_point a, b;
        double kg_m;
    } rows[] = {
        {{-50, 20}, {50, 20}, 0.1 * 60 + 0.5 * 40}, /* level */
        {{20, -50}, {20, 50}, 0.1 * 60 + 0.5 * 40}, /* upright */
        {{20, 50}, {20, 30}, 0.1 * 10 + 0.5 * 10},  /* ends inside, down */
        {{-10, -10}, {10, 10}, 0.3 * 20 * sqrt(2)},
        {{5, 35}, {15, 5}, 0.5 * sqrt(1000)}, /* all of it inside */
        {{-5, 5}, {-5, 45}, 0.1 * 40},        /* beside it */
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_relative(fw_herbage_chord_kg_m(ground, rows[i].a, rows[i].b),
                        rows[i].kg_m, 1e-12);
    fw_herbage_free(ground);
    fw_field_free(field);
}

static void a_zone_that_crosses_itself_still_gives_an_answer(void **state)
{
    (void)state;
    struct fw_field *field = field_of(oblong, 4);
    const struct fw_point bow[] = {{0, 0}, {20, 20}, {20, 0}, {0, 20}};
    const struct fw_herbage_zone zone = {bow, one_ring, 1, 0.5};
    struct fw_herbage *ground = zones_on(field, 0, &zone, 1, NULL);
    assert_relative(fw_herbage_mass_kg(ground, oblong, one_ring, 1), 100,
                    1e-12);
    fw_herbage_free(ground);
    fw_field_free(field);
}

/* Zones at random over a wavy field, rings at random in it. */
static void masses_over_zones_agree_with_geos_intersections(void **state)
{
    (void)state;
    struct random random = seeded();
    double worst = 0;
    struct fw_field *field = field_of(great_square, 4);
    for (int run = 0; run < 60; run++) {
        struct star stars[6];
        struct fw_herbage_zone zones[6];
        for (size_t i = 0; i < 6; i++) {
            const struct fw_point at = {draw(&random, -300, 300),
                                        draw(&random, -300, 300)};
            stars[i] = star(&random, at, 200, 18);
            zones[i] = (struct fw_herbage_zone){stars[i].points, stars[i].start,
                                                1, draw(&random, 0, 0.4)};
        }
        struct fw_herbage *ground = zones_on(field, 0.15, zones, 6, NULL);
        for (int n = 0; n < 10; n++) {
            const struct star paddock =
                star(&random,
                     (struct fw_point){draw(&random, -150, 150),
                                       draw(&random, -150, 150)},
                     60, 20);
            const double got =
                fw_herbage_mass_kg(ground, paddock.points, paddock.start, 1);
            const double wanted = judged_mass(0.15, zones, 6, &paddock);
            worst = fmax(worst, fabs(got - wanted) / wanted);
        }
        fw_herbage_free(ground);
    }
    fw_field_free(field);
    printf("# zones against GEOS: worst %.2g\n", worst);
    assert_true(worst <= 1e-12);
}

/* Moving a fence by h adds h times its chord. */
static void the_chord_is_the_derivative_of_the_mass(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct star patch = star(&random, (struct fw_point){10, 5}, 60, 30);
    const struct fw_herbage_zone zone = {patch.points, patch.start, 1, 0.4};
    struct fw_herbage *ground = zones_on(field, 0.1, &zone, 1, NULL);
    for (int n = 0; n < 25; n++) {
        const double x = -90 + 7.3 * n, h = 1e-4;
        const struct fw_point strip[] = {
            {x - h, -50}, {x + h, -50}, {x + h, 50}, {x - h, 50}};
        const struct fw_point low = {x, -50}, high = {x, 50};
        assert_relative(fw_herbage_chord_kg_m(ground, low, high),
                        fw_herbage_mass_kg(ground, strip, one_ring, 1) / 2 / h,
                        1e-6);
    }
    fw_herbage_free(ground);
    fw_field_free(field);
}

static void a_ring_of_20_corners_over_100_zone_sides_is_quick(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(great_square, 4);
    struct star stars[5];
    struct fw_herbage_zone zones[5];
    for (size_t i = 0; i < 5; i++) {
        const struct fw_point at = {draw(&random, -100, 100),
                                    draw(&random, -100, 100)};
        stars[i] = star(&random, at, 150, 20);
        zones[i] = (struct fw_herbage_zone){stars[i].points, stars[i].start, 1,
                                            0.1 * (double)i};
    }
    struct fw_herbage *ground = zones_on(field, 0.1, zones, 5, NULL);
    const struct star ring = star(&random, (struct fw_point){0, 0}, 150, 20);
    double sum = 0;
    const clock_t start = clock();
    for (int i = 0; i < 10000; i++)
        sum += fw_herbage_mass_kg(ground, ring.points, ring.start, 1);
    const double us = (double)(clock() - start) / CLOCKS_PER_SEC * 1e6 / 10000;
    printf("# one mass: %.2f us (%g kg)\n", us, sum / 10000);
    assert_true(sum > 0);
    fw_herbage_free(ground);
    fw_field_free(field);
}

/* ---- cells ---- */

/* A turned grid of cells about the plane's centre, in WGS 84. */
static struct fw_grid grid_of(struct random *random, size_t columns,
                              size_t rows, double cell_m, double turn_deg,
                              bool down)
{
    const double lat = cell_m / 111000, lon = lat / cos(51 * PI / 180);
    const double c = cos(turn_deg * PI / 180), s = sin(turn_deg * PI / 180);
    const double sign = down ? -1 : 1;
    struct fw_grid grid = {
        .affine = {0, lon * c, -lon * s * sign, 0, lat * s, lat * c * sign},
        .columns = columns,
        .rows = rows,
        .values = fw_alloc(columns * rows, sizeof(double)),
    };
    assert_non_null(grid.values);
    const double i = (double)columns / 2, j = (double)rows / 2;
    grid.affine[0] = 9 - grid.affine[1] * i - grid.affine[2] * j;
    grid.affine[3] = 51 - grid.affine[4] * i - grid.affine[5] * j;
    for (size_t n = 0; n < columns * rows; n++)
        grid.values[n] = draw(random, 0, 0.4);
    return grid;
}

static struct fw_raster *raster_of(const struct fw_grid *grid,
                                   const struct fw_field *field)
{
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_raster *raster = NULL;
    struct fw_error err = {0};
    if (fw_raster_new(grid, crs, &field->plane, &raster, &err))
        fail_msg("%s", err.text);
    fw_crs_free(crs);
    return raster;
}

static struct fw_herbage *cells_on(const struct fw_field *field, double base,
                                   const struct fw_grid *grid,
                                   struct fw_herbage_told *cover)
{
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    if (fw_herbage_cells(field, base, raster_of(grid, field), &ground, cover,
                         &err))
        fail_msg("%s", err.text);
    return ground;
}

static void cells_of_one_density_are_density_times_area(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    for (int run = 0; run < 40; run++) {
        struct fw_grid grid = grid_of(&random, 40, 40, draw(&random, 8, 20),
                                      draw(&random, 0, 360), run % 2);
        for (size_t i = 0; i < 1600; i++)
            grid.values[i] = 0.17;
        struct fw_herbage_told cover;
        struct fw_herbage *ground = cells_on(field, 3, &grid, &cover);
        assert_relative(cover.told_m2, field->area_m2, 1e-12);
        const struct star ring =
            star(&random, (struct fw_point){20, -10}, 35, 20);
        assert_relative(fw_herbage_mass_kg(ground, ring.points, ring.start, 1),
                        0.17 * fw_ring_area_m2(ring.points, ring.count), 1e-12);
        assert_relative(
            fw_herbage_chord_kg_m(ground, ring.points[0], ring.points[9]),
            0.17 * hypot(ring.points[0].x_m - ring.points[9].x_m,
                         ring.points[0].y_m - ring.points[9].y_m),
            1e-12);
        fw_herbage_free(ground);
        fw_grid_release(&grid);
    }
    fw_field_free(field);
}

/* Each cell as a polygon of its four corners, cut with the ring by GEOS. */
static void masses_over_cells_agree_with_geos_intersections(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    double worst = 0;
    for (int run = 0; run < 30; run++) {
        struct fw_grid grid = grid_of(&random, 40, 40, draw(&random, 8, 20),
                                      draw(&random, 0, 360), run % 2);
        if (run % 3 == 0) /* no data here and there */
            for (size_t i = 0; i < 1600; i += 7)
                grid.values[i] = (double)NAN;
        struct fw_herbage *ground = cells_on(field, 0.11, &grid, NULL);
        const struct star ring = star(
            &random,
            (struct fw_point){draw(&random, -50, 50), draw(&random, -10, 10)},
            35, 20);
        const double wanted = judged_cells(field, &grid, "OGC:CRS84", 1, 0.11,
                                           ring.points, ring.count);
        const double got =
            fw_herbage_mass_kg(ground, ring.points, ring.start, 1);
        worst = fmax(worst, fabs(got - wanted) / wanted);
        fw_herbage_free(ground);
        fw_grid_release(&grid);
    }
    printf("# cells against GEOS: worst %.2g\n", worst);
    assert_true(worst <= 1e-11);
    fw_field_free(field);
}

/* Corners of a ring on corners and lines of the grid, sides along its lines. */
static void a_ring_along_the_lines_of_the_grid_is_exact(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct fw_grid grid = grid_of(&random, 30, 20, 12, 0, true);
    struct fw_crs *crs = open_crs("OGC:CRS84");
    struct fw_herbage *ground = cells_on(field, 0, &grid, NULL);
    for (size_t i = 8; i < 20; i++) {
        const size_t at[][2] = {{i, 7}, {i + 3, 7}, {i + 3, 12}, {i, 12}};
        struct fw_point ring[4];
        for (size_t k = 0; k < 4; k++) {
            const size_t n = 3 - k; /* rows run down: turn it round */
            ring[k] = fw_plane_forward(
                &field->plane,
                (struct fw_lonlat){
                    grid.affine[0] + grid.affine[1] * (double)at[n][0],
                    grid.affine[3] + grid.affine[5] * (double)at[n][1]});
        }
        const double wanted =
            judged_cells(field, &grid, "OGC:CRS84", 1, 0, ring, 4);
        assert_relative(fw_herbage_mass_kg(ground, ring, one_ring, 1), wanted,
                        1e-9);
    }
    fw_herbage_free(ground);
    fw_crs_free(crs);
    fw_grid_release(&grid);
    fw_field_free(field);
}

static void a_field_in_two_parts_has_the_mass_of_both(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct fw_grid grid = grid_of(&random, 30, 20, 12, 17, true);
    struct fw_herbage *ground = cells_on(field, 0, &grid, NULL);
    const double all = fw_herbage_mass_kg(ground, oblong, one_ring, 1);
    for (int n = 0; n < 53; n++) {
        const double x = -99.5 + 3.7 * n;
        const struct fw_point west[] = {
            {-100, -50}, {x, -50}, {x + 0.3, 50}, {-100, 50}};
        const struct fw_point east[] = {
            {x, -50}, {100, -50}, {100, 50}, {x + 0.3, 50}};
        assert_relative(fw_herbage_mass_kg(ground, west, one_ring, 1) +
                            fw_herbage_mass_kg(ground, east, one_ring, 1),
                        all, 1e-13);
    }
    fw_herbage_free(ground);
    fw_grid_release(&grid);
    fw_field_free(field);
}

static void a_raster_that_ends_at_the_field_is_refused(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct fw_grid grid = grid_of(&random, 10, 10, 12, 0, true);
    struct fw_raster *raster = raster_of(&grid, field);
    struct fw_herbage *ground = NULL;
    assert_int_equal(fw_herbage_cells(field, 0, raster, &ground, NULL, NULL),
                     FW_EUSAGE);
    assert_null(ground);
    fw_raster_free(raster); /* still ours */
    fw_grid_release(&grid);
    fw_field_free(field);
}

/* ---- heights ---- */

/* Bilinear sums give a plane exactly, up to how even the cells are. */
static void a_slope_is_read_between_the_centres_of_the_cells(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct fw_grid grid = grid_of(&random, 30, 20, 12, 0, true);
    for (size_t j = 0; j < 20; j++)
        for (size_t i = 0; i < 30; i++)
            grid.values[j * 30 + i] = 100 + 0.5 * (double)i - 2 * (double)j;
    struct fw_raster *raster = raster_of(&grid, field);
    for (int n = 0; n < 200; n++) {
        const double i = draw(&random, 0.5, 29.5), j = draw(&random, 0.5, 19.5);
        const struct fw_lonlat at = {grid.affine[0] + grid.affine[1] * i,
                                     grid.affine[3] + grid.affine[5] * j};
        assert_near(fw_raster_at(raster, at),
                    100 + 0.5 * (i - 0.5) - 2 * (j - 0.5), 1e-4);
    }
    const struct fw_lonlat outside = {8, 51};
    assert_true(isnan(fw_raster_at(raster, outside)));
    fw_raster_free(raster);
    fw_grid_release(&grid);
    fw_field_free(field);
}

static void a_neighbour_without_data_does_not_count(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_field *field = field_of(oblong, 4);
    struct fw_grid grid = grid_of(&random, 3, 3, 100, 0, true);
    for (size_t i = 0; i < 9; i++)
        grid.values[i] = i == 5 ? (double)NAN : 40;
    struct fw_raster *raster = raster_of(&grid, field);
    const double lon = grid.affine[1];
    assert_near(fw_raster_at(raster, (struct fw_lonlat){9 + 0.3 * lon, 51}), 40,
                1e-12);
    assert_true(
        isnan(fw_raster_at(raster, (struct fw_lonlat){9 + 0.7 * lon, 51})));
    fw_raster_free(raster);
    fw_grid_release(&grid);
    fw_field_free(field);
}

/* ---- which cells count ---- */

/* GEOS judges: a cell that the field reaches counts, one that lies over two
 * cells off does not. */
static void cells_count_that_the_field_reaches(void **state)
{
    (void)state;
    struct random random = seeded();
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int round = 0; round < 30; round++) {
        const double cell_m = draw(&random, 3, 40);
        const struct star ring = star(&random, (struct fw_point){0, 0}, 100,
                                      (size_t)draw(&random, 4, 30));
        struct fw_field *field = field_of(ring.points, ring.count);
        const size_t wide = (size_t)(150 / cell_m) * 2 + 8;
        const double turn_deg = draw(&random, 0, 90);
        struct fw_grid grid =
            grid_of(&random, wide, wide, cell_m, turn_deg, round % 2);
        struct fw_raster *raster = raster_of(&grid, field);
        bool *under = fw_alloc(wide * wide, sizeof *under);
        assert_int_equal(fw_raster_under(raster, field, under, NULL), FW_OK);
        struct fw_point
            own[64]; /* in the field's plane, about its own middle */
        for (size_t i = 0; i < field->vertex_count; i++)
            own[i] = field->vertices[i].plane;
        GEOSGeometry *area = judge_ring(geos, own, field->vertex_count);
        for (size_t j = 0; j < wide; j++)
            for (size_t i = 0; i < wide; i++) {
                const struct fw_point at = fw_raster_centre(raster, i, j);
                GEOSGeometry *centre =
                    GEOSGeom_createPointFromXY_r(geos, at.x_m, at.y_m);
                double away_m = 0;
                GEOSDistance_r(geos, area, centre, &away_m);
                GEOSGeom_destroy_r(geos, centre);
                if (away_m < 0.49 * cell_m)
                    assert_true(under[j * wide + i]);
                if (away_m > 2.2 * cell_m)
                    assert_false(under[j * wide + i]);
            }
        GEOSGeom_destroy_r(geos, area);
        fw_free(under);
        fw_raster_free(raster);
        fw_grid_release(&grid);
        fw_field_free(field);
    }
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_even_ground_is_density_times_area),
        cmocka_unit_test(no_ground_is_even_and_bears_nothing),
        cmocka_unit_test(a_density_that_is_none_is_refused),
        cmocka_unit_test(the_later_of_two_zones_holds_where_they_overlap),
        cmocka_unit_test(where_no_zone_lies_the_base_holds),
        cmocka_unit_test(a_chord_takes_each_zone_for_the_length_inside_it),
        cmocka_unit_test(a_zone_that_crosses_itself_still_gives_an_answer),
        cmocka_unit_test(masses_over_zones_agree_with_geos_intersections),
        cmocka_unit_test(the_chord_is_the_derivative_of_the_mass),
        cmocka_unit_test(a_ring_of_20_corners_over_100_zone_sides_is_quick),
        cmocka_unit_test(cells_of_one_density_are_density_times_area),
        cmocka_unit_test(masses_over_cells_agree_with_geos_intersections),
        cmocka_unit_test(a_ring_along_the_lines_of_the_grid_is_exact),
        cmocka_unit_test(a_field_in_two_parts_has_the_mass_of_both),
        cmocka_unit_test(a_raster_that_ends_at_the_field_is_refused),
        cmocka_unit_test(a_slope_is_read_between_the_centres_of_the_cells),
        cmocka_unit_test(a_neighbour_without_data_does_not_count),
        cmocka_unit_test(cells_count_that_the_field_reaches),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
