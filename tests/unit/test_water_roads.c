/* Tracks as a network: shortest ways against every pair relaxed over a graph
 * that the test has made itself (Floyd and Warshall), and gaps by hand. */
#include "test.h"

#include "water/roads.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

static struct fw_roads_way way_of(const struct fw_roads *roads,
                                  struct fw_point from, struct fw_point to)
{
    struct fw_roads_way way;
    struct fw_error err;
    if (fw_water_roads_way(roads, &from, 1, to, &way, &err))
        fail_msg("%s", err.text);
    return way;
}

static void add(struct fw_roads *roads, const struct fw_point *points,
                size_t count)
{
    assert_int_equal(fw_water_roads_add(roads, points, count, NULL), FW_OK);
}

static uint32_t next(uint32_t *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 8;
}

enum { across = 7, nodes = across * across };

/* Crossings of a bent grid 100 m apart, no two legs of one length. */
static struct fw_point node_at(size_t i, uint32_t *seed)
{
    const size_t column = i % across, row = i / across;
    return (struct fw_point){100.0 * (double)column + next(seed) % 400 / 10.0,
                             100.0 * (double)row + next(seed) % 400 / 10.0};
}

static void relax(double way[nodes][nodes])
{
    for (size_t k = 0; k < nodes; k++)
        for (size_t i = 0; i < nodes; i++)
            for (size_t j = 0; j < nodes; j++)
                way[i][j] = fmin(way[i][j], way[i][k] + way[k][j]);
}

/* Legs between neighbours, three of five of them, each a track of its own or
 * a track along a row from one gap to the next. */
static void make(uint32_t *seed, struct fw_point at[nodes],
                 double way[nodes][nodes], struct fw_roads *roads)
{
    for (size_t i = 0; i < nodes; i++)
        at[i] = node_at(i, seed);
    for (size_t i = 0; i < nodes; i++)
        for (size_t j = 0; j < nodes; j++)
            way[i][j] = i == j ? 0 : HUGE_VAL;
    for (size_t i = 0; i < nodes; i++) {
        const size_t beside[2] = {i % across + 1 < across ? i + 1 : nodes,
                                  i + across};
        for (int k = 0; k < 2; k++) {
            if (beside[k] >= nodes || next(seed) % 5 > 2)
                continue;
            const struct fw_point a = at[i], b = at[beside[k]];
            /* By way of a point between, so that it bends. */
            const struct fw_point m = {(a.x_m + b.x_m) / 2 + (k ? 7 : 0),
                                       (a.y_m + b.y_m) / 2 + (k ? 0 : 7)};
            const struct fw_point forth[] = {a, m, b}, back[] = {b, m, a};
            add(roads, next(seed) % 2 ? forth : back, 3);
            way[i][beside[k]] = way[beside[k]][i] =
                hypot(m.x_m - a.x_m, m.y_m - a.y_m) +
                hypot(b.x_m - m.x_m, b.y_m - m.y_m);
        }
    }
    relax(way);
}

static bool same(struct fw_point a, struct fw_point b)
{
    return a.x_m == b.x_m && a.y_m == b.y_m;
}

static bool has_track(const struct fw_roads *roads, struct fw_point place)
{
    for (size_t k = 0; k < roads->count; k++)
        if (same(roads->pieces[k].a, place) || same(roads->pieces[k].b, place))
            return true;
    return false;
}

/* True: they meet. */
static bool judge(const struct fw_roads *roads, struct fw_point from,
                  struct fw_point to, double way_m)
{
    const struct fw_roads_way got = way_of(roads, from, to);
    assert_true(got.known);
    if (isinf(way_m)) { /* it is reached over a gap */
        assert_true(got.to_gap_m > 5);
        return false;
    }
    assert_near(got.way_m, way_m, 1e-6);
    assert_near(got.to_gap_m, 0, 1e-9);
    return true;
}

static void ways_are_the_shortest(void **state)
{
    (void)state;
    uint32_t seed = 20270512;
    static double way[nodes][nodes];
    struct fw_point at[nodes];
    size_t met = 0, apart = 0;
    for (int again = 0; again < 12; again++) {
        struct fw_roads roads = {0};
        make(&seed, at, way, &roads);
        for (size_t i = 0; i < nodes; i += 3)
            for (size_t j = 0; j < nodes; j++) {
                if (!has_track(&roads, at[i]) || !has_track(&roads, at[j]))
                    continue;
                const bool meet = judge(&roads, at[i], at[j], way[i][j]);
                met += meet;
                apart += !meet;
            }
        fw_water_roads_release(&roads);
    }
    assert_true(met > 500 && apart > 50);
}

/* Places between the corners, and tracks that cross with none there. */
static void tracks_that_cross_are_one_network(void **state)
{
    (void)state;
    static const struct fw_point east[] = {{0, 0}, {100, 0}},
                                 north[] = {{60, -50}, {60, 50}},
                                 lone[] = {{0, 300}, {100, 300}};
    struct fw_roads roads = {0};
    add(&roads, east, 2);
    add(&roads, north, 2);
    add(&roads, lone, 2);
    struct fw_roads_way way =
        way_of(&roads, (struct fw_point){10, 3}, (struct fw_point){64, 30});
    assert_near(way.from_gap_m, 3, 1e-9);
    assert_near(way.to_gap_m, 4, 1e-9);
    assert_near(way.way_m, 3 + 50 + 30 + 4, 1e-9);
    /* On one piece, past no crossing, and beyond the end of one. */
    way = way_of(&roads, (struct fw_point){10, 0}, (struct fw_point){40, 0});
    assert_near(way.way_m, 30, 1e-9);
    way = way_of(&roads, (struct fw_point){10, 0}, (struct fw_point){130, 40});
    assert_near(way.to_gap_m, 50, 1e-9);
    assert_near(way.leaves.x_m, 100, 1e-9);
    assert_near(way.way_m, 90 + 50, 1e-9);
    /* A nearer track that is not reached is none. */
    way = way_of(&roads, (struct fw_point){10, 0}, (struct fw_point){60, 299});
    assert_near(way.to_gap_m, 249, 1e-9);
    assert_near(way.way_m, 50 + 50 + 249, 1e-9);
    fw_water_roads_release(&roads);
}

/* Up to 5 m two tracks meet. */
static void tracks_meet_where_they_come_near(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        const double gap_m = k ? 5.01 : 4.99;
        const struct fw_point one[] = {{0, 0}, {100, 0}},
                              two[] = {{50, gap_m}, {50, 90}};
        struct fw_roads roads = {0};
        add(&roads, one, 2);
        add(&roads, two, 2);
        const struct fw_roads_way way =
            way_of(&roads, one[0], (struct fw_point){50, 90});
        assert_near(way.to_gap_m, k ? 90 : 0, 1e-9);
        assert_near(way.way_m, 50 + 90, 1e-9);
        fw_water_roads_release(&roads);
    }
}

static void the_nearest_source_counts(void **state)
{
    (void)state;
    static const struct fw_point line[] = {{0, 0}, {100, 0}},
                                 sources[] = {{0, 0}, {90, 8}, {100, 20}};
    struct fw_roads roads = {0};
    struct fw_roads_way way = {.known = true};
    const struct fw_point gate = {70, 0};
    assert_int_equal(fw_water_roads_way(&roads, sources, 3, gate, &way, NULL),
                     FW_OK);
    assert_false(way.known);
    add(&roads, line, 2);
    assert_int_equal(fw_water_roads_way(&roads, sources, 0, gate, &way, NULL),
                     FW_OK);
    assert_false(way.known);
    assert_int_equal(fw_water_roads_way(&roads, sources, 3, gate, &way, NULL),
                     FW_OK);
    assert_int_equal(way.source, 1);
    assert_near(way.way_m, 28, 1e-9);
    fw_water_roads_release(&roads);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ways_are_the_shortest),
        cmocka_unit_test(tracks_that_cross_are_one_network),
        cmocka_unit_test(tracks_meet_where_they_come_near),
        cmocka_unit_test(the_nearest_source_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
