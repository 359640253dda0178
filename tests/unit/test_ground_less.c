/* Fields less what is not grazed. */
#include "ground_help.h"

/* 200 m by 100 m about the plane's centre. */
static const struct fw_point oblong[] = {
    {-100, -50}, {100, -50}, {100, 50}, {-100, 50}};
static const size_t one_ring[] = {0, 4};

struct less {
    struct fw_field *whole;
    struct fw_crs *crs;
    struct fw_field **pieces;
    size_t count;
    double left_m2;
};

static struct less take(const struct fw_bar *bars, size_t count)
{
    struct less less = {.whole = field_of(oblong, 4),
                        .crs = open_crs("OGC:CRS84")};
    struct fw_error err = {0};
    if (fw_field_less(less.whole, bars, count, less.crs, &less.pieces,
                      &less.count, &less.left_m2, &err))
        fail_msg("%s", err.text);
    return less;
}

static void release(struct less *less)
{
    fw_fields_free(less->pieces, less->count);
    fw_field_free(less->whole);
    fw_crs_free(less->crs);
}

static double taken_m2(const struct less *less)
{
    return less->whole->area_m2 - less->pieces[0]->area_m2;
}

static void a_pond_inside_becomes_a_hole_with_its_setback(void **state)
{
    (void)state;
    const struct fw_point pond[] = {{0, 0}, {20, 0}, {20, 10}, {0, 10}};
    struct fw_bar bar = {pond, one_ring, 1, true, 0};
    struct less less = take(&bar, 1);
    assert_int_equal(less.count, 1);
    assert_int_equal(less.pieces[0]->ring_count, 2);
    assert_near(taken_m2(&less), 200, 1e-8);
    assert_near(less.left_m2, less.pieces[0]->area_m2, 1e-8);
    assert_relative(less.pieces[0]->holes_m, 60, 1e-6);
    release(&less);

    bar.setback_m = 3; /* and a 16-gon for the four corners */
    less = take(&bar, 1);
    const double polygon = 16 * 9 * sin(2 * PI / 16) / 2;
    assert_near(taken_m2(&less), 200 + 60 * 3 + polygon, 1e-8);
    release(&less);
}

static bool is_same(const struct fw_vertex *a, const struct fw_vertex *b)
{
    return a->kind == b->kind && a->file.x == b->file.x &&
           a->file.y == b->file.y && a->lonlat.lon_deg == b->lonlat.lon_deg &&
           a->lonlat.lat_deg == b->lonlat.lat_deg &&
           a->plane.x_m == b->plane.x_m && a->plane.y_m == b->plane.y_m;
}

/* Corners of the field that are left are the file's own, bit by bit. */
static void corners_that_are_left_keep_their_coordinates(void **state)
{
    (void)state;
    const struct fw_point wood[] = {{60, 20}, {150, 20}, {150, 80}, {60, 80}};
    const struct fw_bar bar = {wood, one_ring, 1, true, 0};
    struct less less = take(&bar, 1);
    const struct fw_field *left = less.pieces[0];
    size_t same = 0;
    assert_int_equal(less.count, 1);
    assert_string_equal(left->name, "Long Bottom");
    for (size_t i = 0; i < left->vertex_count; i++)
        for (size_t k = 0; k < less.whole->vertex_count; k++)
            same += is_same(&left->vertices[i], &less.whole->vertices[k]);
    assert_int_equal(same, less.whole->vertex_count - 1);
    assert_int_equal(left->corner_count, 6);
    assert_memory_equal(&left->plane, &less.whole->plane, sizeof left->plane);
    release(&less);
}

static void new_corners_stand_where_the_file_has_them(void **state)
{
    (void)state;
    const struct fw_point wood[] = {{60, 20}, {150, 20}, {150, 80}, {60, 80}};
    const struct fw_bar bar = {wood, one_ring, 1, true, 2};
    struct less less = take(&bar, 1);
    const struct fw_field *left = less.pieces[0];
    for (size_t i = 0; i < left->vertex_count; i++) {
        const struct fw_vertex *vertex = &left->vertices[i];
        const struct fw_point back = fw_plane_forward(
            &left->plane, (struct fw_lonlat){vertex->file.x, vertex->file.y});
        assert_near(back.x_m, vertex->plane.x_m, 2e-9);
        assert_near(back.y_m, vertex->plane.y_m, 2e-9);
    }
    release(&less);
}

static void a_ditch_across_the_field_makes_two_of_it(void **state)
{
    (void)state;
    const struct fw_point ditch[] = {{-30, -80}, {-30, 80}};
    const size_t start[] = {0, 2};
    const struct fw_bar bar = {ditch, start, 1, false, 1.5};
    struct less less = take(&bar, 1);
    assert_int_equal(less.count, 2);
    assert_near(less.pieces[0]->area_m2, 128.5 * 100, 1);
    assert_near(less.pieces[1]->area_m2, 68.5 * 100, 1);
    assert_near(less.pieces[0]->area_m2 + less.pieces[1]->area_m2, less.left_m2,
                1e-8);
    release(&less);
}

static void small_pieces_are_dropped_and_counted_as_left(void **state)
{
    (void)state;
    const struct fw_point ditch[] = {{-99.8, -80}, {-99.8, 80}};
    const size_t start[] = {0, 2};
    const struct fw_bar bar = {ditch, start, 1, false, 0.01};
    struct less less = take(&bar, 1);
    assert_int_equal(less.count, 1);
    assert_near(less.left_m2 - less.pieces[0]->area_m2, 19, 0.5);
    release(&less);
}

static void what_covers_the_field_leaves_nothing(void **state)
{
    (void)state;
    const struct fw_point lake[] = {{-90, -45}, {90, -45}, {90, 45}, {-90, 45}};
    const struct fw_bar bar = {lake, one_ring, 1, true, 20};
    struct less less = take(&bar, 1);
    assert_int_equal(less.count, 0);
    assert_near(less.left_m2, 0, 0);
    release(&less);
}

static void nothing_to_take_leaves_the_field_as_it_is(void **state)
{
    (void)state;
    const struct fw_point line[] = {{-30, -80}, {-30, 80}};
    const size_t start[] = {0, 2};
    const struct fw_bar bar = {line, start, 1, false, 0};
    struct less less = take(&bar, 1);
    assert_int_equal(less.count, 1);
    assert_near(less.pieces[0]->area_m2, less.whole->area_m2, 0);
    assert_int_equal(less.pieces[0]->vertex_count, less.whole->vertex_count);
    assert_int_equal(less.pieces[0]->corner_count, less.whole->corner_count);
    release(&less);
}

/* Ponds at random: what is left is what GEOS leaves, overlaps taken once. */
static void what_is_left_is_what_geos_leaves(void **state)
{
    (void)state;
    struct random random = seeded();
    for (int run = 0; run < 50; run++) {
        struct star stars[4];
        struct fw_bar bars[4];
        for (size_t i = 0; i < 4; i++) {
            stars[i] = star(&random,
                            (struct fw_point){draw(&random, -90, 90),
                                              draw(&random, -40, 40)},
                            30, 12);
            bars[i] =
                (struct fw_bar){stars[i].points, stars[i].start, 1, true, 0};
        }
        struct less less = take(bars, 4);
        GEOSContextHandle_t geos = GEOS_init_r();
        struct fw_point ring[64];
        for (size_t i = 0; i < less.whole->vertex_count; i++)
            ring[i] = less.whole->vertices[i].plane;
        GEOSGeometry *left = judge_ring(geos, ring, less.whole->vertex_count);
        GEOSGeometry *all = judge_ring(geos, stars[0].points, 12);
        for (size_t i = 1; i < 4; i++) {
            GEOSGeometry *pond = judge_ring(geos, stars[i].points, 12);
            GEOSGeometry *more = GEOSUnion_r(geos, all, pond);
            GEOSGeom_destroy_r(geos, pond);
            GEOSGeom_destroy_r(geos, all);
            all = more;
        }
        assert_relative(less.left_m2,
                        less.whole->area_m2 - judged_area(geos, left, all),
                        1e-12);
        GEOSGeom_destroy_r(geos, left);
        GEOSGeom_destroy_r(geos, all);
        GEOS_finish_r(geos);
        release(&less);
    }
}

/* What the second greatest part has that a bar leaves of the oblong. */
static double apart_m2(const struct fw_point *points, size_t count,
                       bool is_area, double setback_m)
{
    const size_t start[] = {0, count};
    const struct fw_bar bar = {points, start, 1, is_area, setback_m};
    struct fw_error err = {0};
    double m2 = -1;
    if (fw_herbage_apart_m2(oblong, one_ring, 1, &bar, &m2, &err))
        fail_msg("%s", err.text);
    return m2;
}

/* Strips of the oblong, 100 m high: what a bar leaves on its two sides. */
static void what_a_bar_parts_off_is_the_second_greatest_part(void **state)
{
    (void)state;
    const struct fw_point across[] = {{40, -60}, {40, 60}};
    /* A line takes a centimetre by itself, and its setback on either side. */
    assert_near(apart_m2(across, 2, false, 0), 100 * (60 - 0.005), 1e-6);
    assert_near(apart_m2(across, 2, false, 0.001), 100 * (60 - 0.005), 1e-6);
    assert_near(apart_m2(across, 2, false, 0.006), 100 * (60 - 0.006), 1e-6);
    assert_near(apart_m2(across, 2, false, 7), 100 * (60 - 7), 1e-6);
    const struct fw_point band[] = {{40, -60}, {42, -60}, {42, 60}, {40, 60}};
    assert_near(apart_m2(band, 4, true, 0), 100 * (60 - 2), 1e-6);
    assert_near(apart_m2(band, 4, true, 3), 100 * (60 - 5), 1e-6);
    const struct fw_point half[] = {{40, -60}, {40, 10}};
    assert_near(apart_m2(half, 2, false, 1), 0, 0);
    /* Of three parts, whichever of them that is. */
    const struct {
        double one_m, other_m, second_m;
    } rows[] = {{20, 50, 50}, {-60, 50, 50}, {-60, -20, 40}, {-90, -20, 70}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct fw_point round[] = {{rows[i].one_m, -60},
                                         {rows[i].one_m, 60},
                                         {rows[i].other_m, 60},
                                         {rows[i].other_m, -60}};
        const double least_m = rows[i].second_m == 70 ? 0.01 : 0.005;
        assert_near(apart_m2(round, 4, false, 0),
                    100 * (rows[i].second_m - least_m), 1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pond_inside_becomes_a_hole_with_its_setback),
        cmocka_unit_test(corners_that_are_left_keep_their_coordinates),
        cmocka_unit_test(new_corners_stand_where_the_file_has_them),
        cmocka_unit_test(a_ditch_across_the_field_makes_two_of_it),
        cmocka_unit_test(small_pieces_are_dropped_and_counted_as_left),
        cmocka_unit_test(what_covers_the_field_leaves_nothing),
        cmocka_unit_test(nothing_to_take_leaves_the_field_as_it_is),
        cmocka_unit_test(what_a_bar_parts_off_is_the_second_greatest_part),
        cmocka_unit_test(what_is_left_is_what_geos_leaves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
