/* Whether rings whose vertices moved are still polygons, against GEOS; and
 * lines beside a line, against their distance from it. */
#include "figures/layout.h"
#include "random_plot.h"

#include "cutting/lane_line.h"
#include "cutting/station.h"
#include "layout/pattern.h"
#include "unit/subdivision_help.h"

/* ---- is it plain? ---- */

/* A star with a ring in it, or beside it, or across it, far from the origin. */
static void draw_rings(struct plot *plot, uint64_t *seed)
{
    const struct fw_point centre = {draw(seed, 500, 900),
                                    draw(seed, -900, -500)};
    const double away_m = draw(seed, 0, 250), way = draw(seed, 0, 2 * PI);
    *plot = (struct plot){.ring_start = {0}};
    add_star(plot, seed, centre, 100, draw_count(seed, 3, 14), false);
    if (draw(seed, 0, 1) < 0.2)
        return;
    add_star(plot, seed,
             (struct fw_point){centre.x_m + away_m * cos(way),
                               centre.y_m + away_m * sin(way)},
             draw(seed, 5, 60), draw_count(seed, 3, 9), true);
}

static bool is_plain(const struct plot *plot, size_t own, size_t rings,
                     const struct fw_point *moved)
{
    size_t vertices[most_points], piece_ring[] = {0, rings};
    const struct fw_layout layout = {.vertex_count = own,
                                     .ring_vertices = vertices,
                                     .ring_start = (size_t *)plot->ring_start,
                                     .ring_count = rings,
                                     .piece_ring = piece_ring,
                                     .piece_count = 1};
    for (size_t i = 0; i < plot->field.vertex_count; i++)
        vertices[i] = i;
    return fw_layout__is_plain(&layout, &plot->field, moved);
}

/* Some of the vertices are the field's own; the others have moved. */
static void rings_are_plain_when_geos_takes_them(void **state)
{
    (void)state;
    uint64_t seed = seeded(2321);
    size_t plain = 0, not_plain = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 4000; i++) {
        struct plot plot;
        struct fw_point moved[most_points];
        draw_rings(&plot, &seed);
        const size_t count = plot.field.vertex_count;
        const size_t own = draw_count(&seed, 0, plot.ring_start[1] / 2);
        for (size_t v = own; v < count; v++) {
            struct fw_point *p = &plot.vertices[v].plane;
            if (i % 3 && draw(&seed, 0, 1) < 0.15) {
                p->x_m += draw(&seed, -80, 80);
                p->y_m += draw(&seed, -80, 80);
            }
            moved[v - own] = *p;
        }
        GEOSGeometry *field = geos_field(geos, &plot.field);
        const bool wanted = GEOSisValid_r(geos, field) == 1;
        GEOSGeom_destroy_r(geos, field);
        /* What is the field's own must not be read from the others. */
        for (size_t v = own; v < count; v++)
            plot.vertices[v].plane = (struct fw_point){0, 0};
        if (is_plain(&plot, own, plot.field.ring_count, moved) != wanted)
            fail_msg("rings %d are %s", i, wanted ? "plain" : "not plain");
        *(wanted ? &plain : &not_plain) += 1;
    }
    GEOS_finish_r(geos);
    printf("# %zu plain, %zu not\n", plain, not_plain);
    assert_true(plain > 500 && not_plain > 500);
}

/* ---- beside a line ---- */

static double to_line_m(struct fw_point p, struct fw_point a, struct fw_point b)
{
    return ((b.x_m - a.x_m) * (p.y_m - a.y_m) -
            (b.y_m - a.y_m) * (p.x_m - a.x_m)) /
           map_apart_m(a, b);
}

static struct fw_point on_side(const struct plot *plot, size_t side, double t)
{
    size_t r = 0;
    while (side >= plot->ring_start[r + 1])
        r++;
    const size_t next =
        side + 1 < plot->ring_start[r + 1] ? side + 1 : plot->ring_start[r];
    const struct fw_point a = plot->vertices[side].plane;
    const struct fw_point b = plot->vertices[next].plane;
    return (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                             a.y_m + (b.y_m - a.y_m) * t};
}

/* A square of 400 m with a bay from the north, 40 m wide and 300 deep, whose
 * western arm is the wider one. */
static void make_bay(struct plot *plot)
{
    const struct fw_point ring[] = {{0, 0},     {400, 0},   {400, 400},
                                    {260, 400}, {260, 100}, {220, 100},
                                    {220, 400}, {0, 400}};
    *plot = (struct plot){.ring_start = {0}};
    add_ring(plot, ring, COUNT(ring));
}

/* From west to east over the bay: the longer stretch is the western arm's. */
static void assert_beside(const struct plot *plot, bool back, double left_m)
{
    const struct fw_point line[] = {{-20, 210}, {80, 240},  {80, 240},
                                    {150, 220}, {300, 250}, {420, 230}};
    const struct fw_point way[] = {line[0], line[1], line[3], line[4]};
    struct fw_lane_way lane;
    struct fw_point by[16];
    struct fw_lane_line out = {.by = by};
    bool inside = false;
    assert_int_equal(fw_lane_way_init(&lane, &plot->field, line, COUNT(line),
                                      back, &inside, NULL),
                     FW_OK);
    assert_true(inside);
    /* in at x = 0, out at x = 220 */
    const double in_y_m = 210 + 30 * 0.2, out_y_m = 220 + 30 * 70 / 150.0;
    const double deg = atan2(out_y_m - in_y_m, 220) * 180 / PI;
    assert_near(remainder(lane.deg - deg - (back ? 180 : 0), 360), 0, 1e-9);
    assert_int_equal(fw_lane_line_at(&lane, back ? -left_m : left_m, &out),
                     FW_LANE_FOUND);
    const size_t west = back ? out.to_side : out.from_side;
    const size_t east = back ? out.from_side : out.to_side;
    assert_int_equal(west, 7);
    assert_int_equal(east, 5);
    assert_int_equal(out.by_count, 2);
    const struct fw_point first =
        on_side(plot, west, back ? out.to_t : out.from_t);
    const struct fw_point last =
        on_side(plot, east, back ? out.from_t : out.to_t);
    const struct fw_point all[] = {first, by[back ? 1 : 0], by[back ? 0 : 1],
                                   last};
    for (size_t i = 0; i + 1 < COUNT(all); i++) {
        assert_near(to_line_m(all[i], way[i], way[i + 1]), left_m, 1e-9);
        assert_near(to_line_m(all[i + 1], way[i], way[i + 1]), left_m, 1e-9);
    }
    fw_lane_way_release(&lane);
}

static void line_beside_is_as_far_off_all_along(void **state)
{
    (void)state;
    struct plot plot;
    make_bay(&plot);
    for (int back = 0; back < 2; back++)
        for (int i = -8; i <= 8; i++)
            assert_beside(&plot, back == 1, 6.5 * i);
}

/* Straight from west to east at y = 200, and beside it. */
static void line_beside_meets_edge_bay_and_pond(void **state)
{
    (void)state;
    static const struct {
        double left_m;
        enum fw_lane_found found;
        size_t to_side;
    } wanted[] = {{0, FW_LANE_FOUND, 5},      {150, FW_LANE_FOUND, 5},
                  {195, FW_LANE_FOUND, 5},    {201, FW_LANE_OUTSIDE, 0},
                  {-90, FW_LANE_FOUND, 5},    {-110, FW_LANE_FOUND, 1},
                  {-150, FW_LANE_BLOCKED, 0}, {-190, FW_LANE_FOUND, 1},
                  {-205, FW_LANE_OUTSIDE, 0}};
    struct plot plot;
    const struct fw_point pond[] = {{30, 30}, {30, 70}, {60, 70}, {60, 30}};
    make_bay(&plot);
    add_ring(&plot, pond, COUNT(pond));
    for (size_t i = 0; i < COUNT(wanted); i++) {
        const struct fw_point line[] = {{10, 200}, {300, 200}};
        struct fw_point by[8];
        struct fw_lane_line out = {.by = by};
        struct fw_lane_way lane;
        bool inside = false;
        assert_int_equal(
            fw_lane_way_init(&lane, &plot.field, line, 2, false, &inside, NULL),
            FW_OK);
        assert_true(inside);
        assert_near(lane.deg, 0, 1e-9);
        const enum fw_lane_found got =
            fw_lane_line_at(&lane, wanted[i].left_m, &out);
        if (got != wanted[i].found)
            fail_msg("%g m to the left: %d", wanted[i].left_m, got);
        if (wanted[i].found == FW_LANE_FOUND) {
            assert_int_equal(out.from_side, 7);
            assert_int_equal(out.to_side, wanted[i].to_side);
            assert_near(on_side(&plot, out.from_side, out.from_t).y_m,
                        200 + wanted[i].left_m, 1e-9);
            assert_near(on_side(&plot, out.to_side, out.to_t).y_m,
                        200 + wanted[i].left_m, 1e-9);
            assert_int_equal(out.by_count, out.to_side == 1 ? 2 : 1);
        }
        fw_lane_way_release(&lane);
    }
}

static void line_that_misses_the_field_is_not_inside(void **state)
{
    (void)state;
    struct plot plot;
    make_bay(&plot);
    const struct fw_point beside[] = {{-10, 500}, {410, 480}};
    const struct fw_point point[] = {{100, 100}, {100, 100}};
    const struct fw_point across[] = {{350, 500}, {350, 450}};
    for (int back = 0; back < 2; back++) {
        struct fw_lane_way lane;
        bool inside = true;
        assert_int_equal(fw_lane_way_init(&lane, &plot.field, beside, 2,
                                          back == 1, &inside, NULL),
                         FW_OK);
        assert_false(inside);
        assert_int_equal(fw_lane_way_init(&lane, &plot.field, point, 2,
                                          back == 1, &inside, NULL),
                         FW_OK);
        assert_false(inside);
        /* drawn out straight it crosses the eastern arm, all of it */
        assert_int_equal(fw_lane_way_init(&lane, &plot.field, across, 2,
                                          back == 1, &inside, NULL),
                         FW_OK);
        assert_true(inside);
        assert_near(lane.deg, back ? 90 : -90, 1e-9);
        fw_lane_way_release(&lane);
    }
}

/* To its left a bend is closed up sooner or later. */
static void line_beside_does_not_turn_back(void **state)
{
    (void)state;
    struct plot plot;
    struct fw_lane_way lane;
    struct fw_point by[8];
    struct fw_lane_line out = {.by = by};
    bool inside = false;
    const struct fw_point ring[] = {{0, 0}, {400, 0}, {400, 400}, {0, 400}};
    /* legs of 100 m with two left turns of 45 degrees: the one between is
     * gone when tan(22.5) * 2 * d = 100 */
    const double leg = 100 / sqrt(2);
    const struct fw_point line[] = {
        {100, 100}, {200, 100}, {200 + leg, 100 + leg}, {200 + leg, 300}};
    const double gone_m = 50 / tan(PI / 8);
    plot = (struct plot){.ring_start = {0}};
    add_ring(&plot, ring, 4);
    assert_int_equal(
        fw_lane_way_init(&lane, &plot.field, line, 4, false, &inside, NULL),
        FW_OK);
    assert_true(inside);
    assert_int_equal(fw_lane_line_at(&lane, gone_m - 0.01, &out),
                     FW_LANE_FOUND);
    assert_int_equal(out.by_count, 4);
    assert_int_equal(fw_lane_line_at(&lane, gone_m + 0.01, &out),
                     FW_LANE_BLOCKED);
    assert_int_equal(fw_lane_line_at(&lane, -90, &out), FW_LANE_FOUND);
    fw_lane_way_release(&lane);
}

/* ---- places of sides in pieces ---- */

/* Any place of the field's sides, on what is left after cuts across them. */
static void place_is_where_it_is_on_what_is_left(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_subdivision subdivision;
    struct fw_region whole, strips[4];
    bool is_whole = false;
    const double cuts[] = {20, 50, 85};
    make_rectangle(&plot, 100, 60, 0);
    begin(&subdivision, &whole, &plot, NULL);
    assert_int_equal(
        fw_subdivision_cut(&subdivision, &whole,
                           &(struct fw_cuts){0, NULL, cuts, 3, FW_LINE_MOVED},
                           strips, &is_whole, NULL),
        FW_OK);
    assert_true(is_whole);
    for (size_t s = 0; s < 4; s++) {
        const double from = s ? cuts[s - 1] : 0, to = s < 3 ? cuts[s] : 100;
        for (int i = 1; i < 10; i++)
            for (size_t side = 0; side <= 2; side += 2) {
                const double x_m = from + (to - from) * i / 10;
                const double t = side ? 1 - x_m / 100 : x_m / 100;
                const struct fw_region_station place =
                    fw_layout__station(&subdivision, &strips[s], side, t);
                const size_t n = fw_region_size(&strips[s]);
                const struct fw_point a =
                    subdivision.vertices[strips[s].vertices[place.side]].point;
                const struct fw_point b =
                    subdivision
                        .vertices[strips[s].vertices[(place.side + 1) % n]]
                        .point;
                assert_int_equal(strips[s].supports[place.side], side);
                assert_near(a.x_m + (b.x_m - a.x_m) * place.t, x_m, 1e-9);
                assert_near(a.y_m + (b.y_m - a.y_m) * place.t, side ? 60 : 0,
                            1e-9);
            }
        fw_region_release(&strips[s]);
    }
    fw_region_release(&whole);
    fw_subdivision_release(&subdivision);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rings_are_plain_when_geos_takes_them),
        cmocka_unit_test(line_beside_is_as_far_off_all_along),
        cmocka_unit_test(line_beside_meets_edge_bay_and_pond),
        cmocka_unit_test(line_that_misses_the_field_is_not_inside),
        cmocka_unit_test(line_beside_does_not_turn_back),
        cmocka_unit_test(place_is_where_it_is_on_what_is_left),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
