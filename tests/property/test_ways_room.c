/* The room behind openings into random ground, with GEOS as the slow judge: the
 * strip before the opening lies inside, and would not if it were deeper.
 * FW_SEED chooses others, FW_FIELDS how many. */
#include "ways_help.h"

/* The strip before the opening, from a hand's breadth off it to so deep, less
 * so much at either end. */
static bool strip_is_inside(const struct judge *judge, struct fw_point a,
                            struct fw_point b, double deep_m, double less_m)
{
    const double width_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    const struct fw_point u = {(b.x_m - a.x_m) / width_m,
                               (b.y_m - a.y_m) / width_m};
    const double at[4][2] = {{less_m, 0.02},
                             {width_m - less_m, 0.02},
                             {width_m - less_m, deep_m},
                             {less_m, deep_m}};
    const size_t start[] = {0, 4};
    struct fw_point ring[4];
    for (int i = 0; i < 4; i++)
        ring[i] =
            (struct fw_point){a.x_m + at[i][0] * u.x_m - at[i][1] * u.y_m,
                              a.y_m + at[i][0] * u.y_m + at[i][1] * u.x_m};
    GEOSGeometry *strip = geos_polygon(judge->geos, ring, start, 1);
    const bool inside = GEOSContains_r(judge->geos, judge->ground, strip) == 1;
    GEOSGeom_destroy_r(judge->geos, strip);
    return inside;
}

static const double deep_m = 60;

/* 4 m somewhere on a side of the outer ring, which runs anticlockwise: the
 * ground is on the left. False where the side is short. */
static bool draw_opening(const struct judge *judge, uint64_t *seed,
                         struct fw_point *a, struct fw_point *b)
{
    const size_t count = judge->ring_start[1];
    const size_t edge = draw_count(seed, 0, count - 1);
    const struct fw_point p = judge->points[edge];
    const struct fw_point q = judge->points[(edge + 1) % count];
    const double side_m = hypot(q.x_m - p.x_m, q.y_m - p.y_m);
    if (side_m <= 6)
        return false;
    const double from = draw(seed, 0.1, side_m - 4.1) / side_m;
    const double to = from + 4 / side_m;
    *a = (struct fw_point){p.x_m + from * (q.x_m - p.x_m),
                           p.y_m + from * (q.y_m - p.y_m)};
    *b = (struct fw_point){p.x_m + to * (q.x_m - p.x_m),
                           p.y_m + to * (q.y_m - p.y_m)};
    return true;
}

static double assert_room(const struct judge *judge, struct fw_point a,
                          struct fw_point b, size_t round)
{
    const double room_m = fw_ways_room_m(a, b, judge->points, judge->ring_start,
                                         judge->ring_count, deep_m);
    if (room_m > 0.03 && !strip_is_inside(judge, a, b, room_m - 1e-4, 2e-6))
        fail_msg("round %zu: %.9g m of room; there is less", round, room_m);
    if (room_m < deep_m &&
        strip_is_inside(judge, a, b, fmax(room_m + 1e-4, 0.03), 0))
        fail_msg("round %zu: %.9g m of room; there is more", round, room_m);
    return room_m;
}

static void rooms_of_random_ground_are_those_of_geos(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(5);
    size_t shallow = 0, judged = 0;
    for (size_t i = 0; i < rounds(1000); i++) {
        struct plot plot;
        struct judge judge;
        struct fw_point points[most_points], a, b;
        draw_jagged(geos, &plot, &seed);
        plot.field.vertices = plot.vertices;
        points_of(&plot.field, points);
        start_judge(&judge, geos, points, plot.ring_start,
                    plot.field.ring_count, 1);
        if (draw_opening(&judge, &seed, &a, &b)) {
            shallow += assert_room(&judge, a, b, i) < deep_m;
            judged++;
        }
        end_judge(&judge);
    }
    print_message("# %zu judged, %zu of them less than %g m deep\n", judged,
                  shallow, deep_m);
    assert_true(shallow > judged / 10);
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rooms_of_random_ground_are_those_of_geos),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
