/* Rings, geodesics and the local plane. */
#include "geo_help.h"
#include "table.h"

#include <proj.h>
#include <stdbool.h>

/* ---- rings ---- */

static void area_of_a_far_square_keeps_every_digit(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{5e6, 5e6},
                                    {5e6 + 0.5, 5e6},
                                    {5e6 + 0.5, 5e6 + 0.25},
                                    {5e6, 5e6 + 0.25}};
    assert_true(fw_ring_area_m2(ring, 4) == 0.125);
    const struct fw_point back[] = {ring[3], ring[2], ring[1], ring[0]};
    assert_true(fw_ring_area_m2(back, 4) == -0.125);
    assert_true(fw_ring_area_m2(ring, 0) == 0);
}

static void length_counts_the_closing_side_when_asked(void **state)
{
    (void)state;
    const struct fw_point line[] = {{0, 0}, {3, 4}, {3, 0}};
    assert_near(fw_line_length_m(line, 3, false), 9, 0);
    assert_near(fw_line_length_m(line, 3, true), 12, 0);
    assert_near(fw_line_length_m(line, 1, true), 0, 0);
}

static void every_point_lies_in_one_half_of_a_square(void **state)
{
    (void)state;
    struct random random = seeded();
    const struct fw_point low[] = {{0, 0}, {10, 0}, {10, 7}};
    const struct fw_point high[] = {{0, 0}, {10, 7}, {0, 7}};
    for (int i = 0; i < 20000; i++) {
        struct fw_point point = {draw(&random, 0, 10), draw(&random, 0, 7)};
        if (i % 2) /* on the side that both share, give or take a last digit */
            point.y_m = point.x_m * 0.7;
        assert_int_equal(fw_ring_contains(low, 3, point) +
                             fw_ring_contains(high, 3, point),
                         1);
    }
    assert_false(fw_ring_contains(low, 3, (struct fw_point){11, 3}));
    assert_false(fw_ring_contains(low, 3, (struct fw_point){-1, 0}));
}

static void distance_to_a_segment_ends_at_its_ends(void **state)
{
    (void)state;
    const struct fw_point a = {0, 0}, b = {10, 0};
    assert_near(fw_segment_distance_m((struct fw_point){5, -3}, a, b), 3, 0);
    assert_near(fw_segment_distance_m((struct fw_point){-3, 4}, a, b), 5, 0);
    assert_near(fw_segment_distance_m((struct fw_point){13, 4}, a, b), 5, 0);
    assert_near(fw_segment_distance_m((struct fw_point){3, 4}, a, a), 5, 0);
}

/* ---- straight walks ---- */

static const struct fw_point paddock[] = {
    {0, 0}, {300, 0}, {300, 200}, {0, 200}};

/* Mean distance from a corner of an a by b rectangle: the integral over two
 * right triangles, sqrt(a2 + b2)/3 + a2/6b asinh(b/a) + b2/6a asinh(a/b). */
static double corner_mean(double a, double b)
{
    return hypot(a, b) / 3 + a * a / (6 * b) * asinh(b / a) +
           b * b / (6 * a) * asinh(a / b);
}

static void walk_in_a_rectangle_has_its_closed_form(void **state)
{
    (void)state;
    double mean_m, longest_m;
    assert_true(fw_ring_straight_walk(paddock, 4, (struct fw_point){0, 0},
                                      &mean_m, &longest_m));
    assert_near(mean_m, 193.621220027, 1e-9);
    assert_near(mean_m, corner_mean(300, 200), 1e-10);
    assert_near(longest_m, hypot(300, 200), 1e-12);
    assert_true(fw_ring_straight_walk(paddock, 4, (struct fw_point){150, 0},
                                      &mean_m, &longest_m));
    assert_near(mean_m, 134.738855104, 1e-9);
    assert_near(longest_m, 250, 1e-12);
    assert_true(fw_ring_straight_walk(paddock, 4, (struct fw_point){150, 100},
                                      &mean_m, &longest_m));
    assert_near(mean_m, 96.810610013, 1e-9);
    assert_near(longest_m, hypot(150, 100), 1e-12);
}

static void walk_in_a_many_sided_ring_nears_the_disc(void **state)
{
    (void)state;
    enum { sides = 20000 };
    static struct fw_point ring[sides];
    for (int i = 0; i < sides; i++)
        ring[i] = (struct fw_point){50 + 30 * cos(2 * PI * i / sides),
                                    -20 + 30 * sin(2 * PI * i / sides)};
    double mean_m, longest_m;
    assert_true(fw_ring_straight_walk(ring, sides, (struct fw_point){50, -20},
                                      &mean_m, &longest_m));
    assert_near(mean_m, 20, 1e-6); /* two thirds of the radius */
    assert_near(longest_m, 30, 1e-12);
}

static void walk_is_the_same_whichever_way_the_ring_runs(void **state)
{
    (void)state;
    const struct fw_point back[] = {paddock[3], paddock[2], paddock[1],
                                    paddock[0]};
    double mean_m, longest_m;
    assert_true(fw_ring_straight_walk(back, 4, (struct fw_point){150, 0},
                                      &mean_m, &longest_m));
    assert_near(mean_m, 134.738855104, 1e-9);
}

static void walk_from_where_a_side_is_hidden_is_refused(void **state)
{
    (void)state;
    const struct fw_point l[] = {{0, 0},   {200, 0},  {200, 50},
                                 {50, 50}, {50, 200}, {0, 200}};
    double mean_m = 7, longest_m = 8;
    assert_false(fw_ring_straight_walk(l, 6, (struct fw_point){190, 10},
                                       &mean_m, &longest_m));
    assert_false(fw_ring_straight_walk(paddock, 4, (struct fw_point){400, 10},
                                       &mean_m, &longest_m));
    assert_false(fw_ring_straight_walk(paddock, 2, (struct fw_point){0, 0},
                                       &mean_m, &longest_m));
    assert_true(mean_m == 7 && longest_m == 8);
    /* From the inner corner all of it is seen: three squares. */
    assert_true(fw_ring_straight_walk(l, 6, (struct fw_point){50, 50}, &mean_m,
                                      &longest_m));
    const double parts =
        2 * 7500 * corner_mean(150, 50) + 2500 * corner_mean(50, 50);
    assert_near(mean_m, parts / 17500, 1e-10);
}

/* ---- geodesics ---- */

static size_t read_places(const char *text, struct fw_lonlat *places,
                          size_t room)
{
    size_t count = 0;
    char *end = (char *)(uintptr_t)text;
    while (*end) {
        assert_true(count < room);
        places[count].lat_deg = strtod(end, &end);
        assert_int_equal(*end++, ',');
        places[count++].lon_deg = strtod(end, &end);
        while (*end == ' ')
            end++;
    }
    return count;
}

static void published_lengths_and_areas_are_met(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "geodesy.tsv");
    while (table_next(&table, 7)) {
        struct fw_lonlat places[32];
        const size_t count = read_places(table.cells[1], places, 32);
        const bool closed = strcmp(table.cells[0], "area") == 0;
        assert_near(fw_geo_length_m(places, count, closed),
                    table_number(&table, 2), table_number(&table, 3));
        if (closed)
            assert_near(fw_geo_area_m2(places, count), table_number(&table, 4),
                        table_number(&table, 5));
    }
    table_close(&table);
}

static void known_geodesics_are_met(void **state)
{
    (void)state;
    const char *folder = getenv("FW_TEST_DATA");
    char path[4096];
    snprintf(path, sizeof path, "%s/geodesic/GeodTest-100.dat",
             folder ? folder : "");
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char line[1024];
    int rows = 0;
    while (fgets(line, sizeof line, file)) {
        double cells[7];
        char *end = line;
        for (int i = 0; i < 7; i++)
            cells[i] = strtod(end, &end);
        const struct fw_lonlat a = {cells[1], cells[0]};
        const struct fw_lonlat b = {cells[4], cells[3]};
        assert_near(fw_geo_distance_m(a, b), cells[6], 2e-8);
        if (cells[6] > 1e3 && cells[6] < 1.9e7) {
            const double turned =
                remainder(fw_geo_bearing_deg(a, b) - cells[2], 360);
            assert_near(turned, 0, 1e-9);
        }
        rows++;
    }
    fclose(file);
    assert_true(rows >= 100);
}

static void bearing_stays_under_360(void **state)
{
    (void)state;
    const struct fw_lonlat here = {10, 50};
    assert_near(fw_geo_bearing_deg(here, (struct fw_lonlat){10, 51}), 0, 1e-12);
    assert_near(fw_geo_bearing_deg(here, (struct fw_lonlat){10, 49}), 180,
                1e-12);
    const double west = fw_geo_bearing_deg(here, (struct fw_lonlat){9.99, 50});
    assert_true(west > 269 && west < 271);
    assert_true(fw_geo_bearing_deg(here, (struct fw_lonlat){10 - 1e-13, 50.5}) <
                360);
}

/* "The ellipsoid minus A" would lose 0.06 m2 here. */
static void area_of_a_reversed_ring_is_its_negative(void **state)
{
    (void)state;
    const struct fw_lonlat ring[] = {
        {9, 50}, {9.001, 50}, {9.001, 50.001}, {9, 50.001}};
    const struct fw_lonlat back[] = {ring[3], ring[2], ring[1], ring[0]};
    const double area = fw_geo_area_m2(ring, 4);
    assert_true(area > 7900 && area < 8000);
    assert_near(fw_geo_area_m2(back, 4), -area, 1e-6);
}

/* ---- the plane ---- */

static void plane_agrees_with_sixty_digits(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "plane.tsv");
    while (table_next(&table, 6)) {
        struct fw_plane plane;
        const struct fw_lonlat centre = {table_number(&table, 0),
                                         table_number(&table, 1)};
        const struct fw_lonlat place = {table_number(&table, 2),
                                        table_number(&table, 3)};
        assert_int_equal(fw_plane_init(&plane, centre, NULL), FW_OK);
        const struct fw_point point = fw_plane_forward(&plane, place);
        assert_near(point.x_m, table_number(&table, 4), 1e-11);
        assert_near(point.y_m, table_number(&table, 5), 1e-11);
    }
    table_close(&table);
}

static double metres_apart(struct fw_lonlat a, struct fw_lonlat b)
{
    const double degree_m = 111319.4908;
    const double dx = remainder(a.lon_deg - b.lon_deg, 360);
    return degree_m *
           hypot(dx * cos(a.lat_deg * PI / 180), a.lat_deg - b.lat_deg);
}

static struct fw_plane random_plane(struct random *random, int round)
{
    struct fw_lonlat centre = {draw(random, -180, 180), draw(random, -90, 90)};
    if (round % 4 == 0)
        centre.lat_deg = round % 8 ? -90 : 90;
    if (round % 4 == 1) /* the pole lies in the field */
        centre.lat_deg = copysign(90 - draw(random, 0, 0.05), centre.lat_deg);
    if (round % 5 == 0)
        centre.lon_deg = copysign(180, centre.lon_deg);
    struct fw_plane plane;
    assert_int_equal(fw_plane_init(&plane, centre, NULL), FW_OK);
    return plane;
}

static void there_and_back_is_within_a_nanometre(void **state)
{
    (void)state;
    struct random random = seeded();
    for (int i = 0; i < 40000; i++) {
        const struct fw_plane plane = random_plane(&random, i);
        const double away_m = 8000 * sqrt(draw(&random, 0, 1));
        const double turn = draw(&random, 0, 2 * PI);
        const struct fw_point point = {away_m * cos(turn), away_m * sin(turn)};
        const struct fw_lonlat place = fw_plane_inverse(&plane, point);
        const struct fw_point again = fw_plane_forward(&plane, place);
        const struct fw_lonlat back = fw_plane_inverse(&plane, again);
        assert_true(fabs(place.lon_deg) <= 180 && fabs(place.lat_deg) <= 90);
        assert_near(metres_apart(place, back), 0, 1e-9);
        /* A longitude over 128 degrees has 2.8e-14 of a degree to its last
         * digit: 1.6 nm to the nearest at the equator. */
        assert_near(hypot(again.x_m - point.x_m, again.y_m - point.y_m), 0,
                    1.8e-9);
    }
}

static void forward_agrees_with_proj(void **state)
{
    (void)state;
    struct random random = seeded();
    PJ_CONTEXT *context = proj_context_create();
    for (int i = 0; i < 400; i++) {
        const struct fw_plane plane = random_plane(&random, i);
        /* PROJ loses up to 5 mm about a pole: there plane.tsv is the judge. */
        if (fabs(plane.centre.lat_deg) > 89)
            continue;
        char text[200];
        snprintf(text, sizeof text,
                 "+proj=laea +lat_0=%.17g +lon_0=%.17g +ellps=WGS84",
                 plane.centre.lat_deg, plane.centre.lon_deg);
        PJ *laea = proj_create(context, text);
        assert_non_null(laea);
        const struct fw_lonlat place = fw_plane_inverse(
            &plane, (struct fw_point){draw(&random, -6000, 6000),
                                      draw(&random, -6000, 6000)});
        const struct fw_point ours = fw_plane_forward(&plane, place);
        const PJ_COORD theirs =
            proj_trans(laea, PJ_FWD,
                       proj_coord(place.lon_deg * PI / 180,
                                  place.lat_deg * PI / 180, 0, 0));
        assert_near(ours.x_m, theirs.xy.x, 1e-6);
        assert_near(ours.y_m, theirs.xy.y, 1e-6);
        proj_destroy(laea);
    }
    proj_context_destroy(context);
}

static void centre_that_is_no_place_is_refused(void **state)
{
    (void)state;
    struct fw_plane plane;
    struct fw_error err;
    assert_int_equal(fw_plane_init(&plane, (struct fw_lonlat){0, 90.1}, &err),
                     FW_EINPUT);
    assert_int_equal(
        fw_plane_init(&plane, (struct fw_lonlat){(double)NAN, 0}, &err),
        FW_EINPUT);
    /* Once round either way, and no farther; from pole to pole. */
    for (int turn = -1; turn <= 1; turn += 2) {
        assert_int_equal(
            fw_plane_init(&plane, (struct fw_lonlat){360.0 * turn, 5}, &err),
            FW_OK);
        assert_int_equal(
            fw_plane_init(&plane, (struct fw_lonlat){360.1 * turn, 5}, &err),
            FW_EINPUT);
        assert_int_equal(
            fw_plane_init(&plane, (struct fw_lonlat){5, 90.0 * turn}, &err),
            FW_OK);
        assert_int_equal(
            fw_plane_init(&plane, (struct fw_lonlat){5, 90.1 * turn}, &err),
            FW_EINPUT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(area_of_a_far_square_keeps_every_digit),
        cmocka_unit_test(length_counts_the_closing_side_when_asked),
        cmocka_unit_test(every_point_lies_in_one_half_of_a_square),
        cmocka_unit_test(distance_to_a_segment_ends_at_its_ends),
        cmocka_unit_test(walk_in_a_rectangle_has_its_closed_form),
        cmocka_unit_test(walk_in_a_many_sided_ring_nears_the_disc),
        cmocka_unit_test(walk_is_the_same_whichever_way_the_ring_runs),
        cmocka_unit_test(walk_from_where_a_side_is_hidden_is_refused),
        cmocka_unit_test(published_lengths_and_areas_are_met),
        data_test(known_geodesics_are_met),
        cmocka_unit_test(bearing_stays_under_360),
        cmocka_unit_test(area_of_a_reversed_ring_is_its_negative),
        cmocka_unit_test(plane_agrees_with_sixty_digits),
        cmocka_unit_test(there_and_back_is_within_a_nanometre),
        cmocka_unit_test(forward_agrees_with_proj),
        cmocka_unit_test(centre_that_is_no_place_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
