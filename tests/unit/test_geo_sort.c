/* The sweep's own sorting against the C library's: orders that are nearly
 * right, wrong all through, full of equals, and crowded in one place. And where
 * rings touch, against every side and every vertex. */
#include "geo_help.h"

#include "geo/sweep.h"

enum { most = 600 };

/* ---- vertices by u, then by index ---- */

static const double *keys;

static int by_key(const void *left, const void *right)
{
    const uint32_t a = *(const uint32_t *)left, b = *(const uint32_t *)right;
    if (keys[a] < keys[b] || keys[a] > keys[b])
        return keys[a] < keys[b] ? -1 : 1;
    return (a > b) - (a < b);
}

/* Twice, since how the last one went chooses the way of the next. */
static void sort_and_compare(double *u, uint32_t count, uint32_t *order)
{
    static uint32_t spare[most], buckets[most + 1], wanted[most];
    struct fw_sweep sweep = {.count = count,
                             .u = u,
                             .order = order,
                             .spare = spare,
                             .first_crossing = buckets};
    for (uint32_t i = 0; i < count; i++)
        wanted[i] = i;
    keys = u;
    qsort(wanted, count, sizeof *wanted, by_key);
    for (int turn = 0; turn < 2; turn++) {
        fw_sweep__sort(&sweep);
        for (uint32_t i = 0; i < count; i++)
            if (order[i] != wanted[i])
                fail_msg("%u vertices, turn %d: %u stands at %u, not %u", count,
                         turn, order[i], i, wanted[i]);
        for (uint32_t i = 0; i < count; i++)
            order[i] = count - 1 - i;
    }
}

enum manner { RISING, FALLING, RANDOM, FEW, ONE, OUTLIERS, STEPS, MANNERS };

static double key_of(enum manner manner, uint32_t i, struct random *random)
{
    switch (manner) {
    case RISING:
        return i;
    case FALLING:
        return -(double)i;
    case RANDOM:
        return draw(random, -5, 5);
    case FEW:
        return floor(draw(random, 0, 4));
    case ONE:
        return 7;
    case OUTLIERS: /* all but two in one bucket, and wrong all through */
        return i < 2 ? 1e9 * (i ? 1 : -1) : -(double)i;
    default: /* crowds at both ends */
        return (i & 1 ? 1e6 : 0) + draw(random, 0, 1e-3);
    }
}

static void vertices_come_in_order_whatever_stood_before(void **state)
{
    (void)state;
    static const uint32_t counts[] = {1,  2,  3,  7,   24,  63,  64,
                                      65, 66, 90, 127, 128, 129, most};
    struct random random = seeded();
    for (size_t c = 0; c < COUNT(counts); c++)
        for (int manner = 0; manner < MANNERS; manner++) {
            double u[most];
            uint32_t order[most];
            for (uint32_t i = 0; i < counts[c]; i++) {
                u[i] = key_of((enum manner)manner, i, &random);
                order[i] = i;
            }
            sort_and_compare(u, counts[c], order);
        }
}

/* ---- ends of a cut by v, then by crossing ---- */

static int by_end(const void *left, const void *right)
{
    const struct fw_sweep_end *a = left, *b = right;
    if (a->v < b->v || a->v > b->v)
        return a->v < b->v ? -1 : 1;
    return (a->crossing > b->crossing) - (a->crossing < b->crossing);
}

static void ends_of_a_cut_come_in_order(void **state)
{
    (void)state;
    struct random random = seeded();
    for (uint32_t count = 0; count <= 100; count++)
        for (int manner = 0; manner < MANNERS; manner++) {
            struct fw_sweep_end ends[100], wanted[100], spare[100];
            for (uint32_t i = 0; i < count; i++)
                ends[i] = wanted[i] = (struct fw_sweep_end){
                    key_of((enum manner)manner, i, &random), (7 * i) % 101};
            qsort(wanted, count, sizeof *wanted, by_end);
            fw_sweep__sort_ends(ends, count, spare);
            for (uint32_t i = 0; i < count; i++)
                assert_int_equal(ends[i].crossing, wanted[i].crossing);
        }
}

/* ---- touching rings ---- */

enum { corners = 40, holes = 30, all = corners + 3 * holes };

static const double reach_m = 1e-6;

/* In the middle of a side of another ring, away from both ends? */
static bool is_touch(const struct fw_point *points, size_t side, size_t vertex)
{
    const struct fw_point a = points[side], p = points[vertex];
    const struct fw_point b =
        points[side < corners
                   ? (side + 1) % corners
                   : side - (side - corners) % 3 + (side - corners + 1) % 3];
    const double m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    const bool own = side < corners
                         ? vertex < corners
                         : vertex >= corners &&
                               (vertex - corners) / 3 == (side - corners) / 3;
    const double to_a = hypot(p.x_m - a.x_m, p.y_m - a.y_m);
    const double to_b = hypot(p.x_m - b.x_m, p.y_m - b.y_m);
    return !own && fabs(to_a + to_b - m) < 1e-9 && to_a > reach_m &&
           to_b > reach_m;
}

/* So that points on a side are exact. */
static double round_to_even(double share)
{
    return rint(share * 16) / 16;
}

/* A round field of whole metres, each hole with its tip on one of its sides. */
static void every_touch_is_found_in_order(void **state)
{
    (void)state;
    struct random random = seeded();
    for (int round = 0; round < 20; round++) {
        struct fw_point points[all];
        size_t start[holes + 2] = {0, corners};
        for (size_t i = 0; i < corners; i++) {
            const double turn = 2 * PI * (double)i / corners;
            points[i] = (struct fw_point){1024 * round_to_even(cos(turn)),
                                          1024 * round_to_even(sin(turn))};
        }
        for (size_t h = 0; h < holes; h++) {
            const size_t side = (size_t)draw(&random, 0, corners - 0.001);
            const struct fw_point a = points[side];
            const struct fw_point b = points[(side + 1) % corners];
            const double share = floor(draw(&random, 1, 63.9)) / 64;
            struct fw_point *hole = points + corners + 3 * h;
            hole[0] = (struct fw_point){a.x_m + share * (b.x_m - a.x_m),
                                        a.y_m + share * (b.y_m - a.y_m)};
            hole[1] = (struct fw_point){hole[0].x_m * 0.5, hole[0].y_m * 0.4};
            hole[2] = (struct fw_point){hole[0].x_m * 0.4, hole[0].y_m * 0.5};
            start[h + 2] = start[h + 1] + 3;
        }
        struct fw_sweep_touches touches;
        assert_int_equal(fw_sweep__find_touches(points, start, holes + 1,
                                                reach_m, &touches, NULL),
                         FW_OK);
        size_t wanted = 0;
        for (size_t side = 0; side < all; side++)
            for (size_t vertex = 0; vertex < all; vertex++)
                wanted += is_touch(points, side, vertex);
        assert_int_equal(touches.count, wanted);
        assert_true(wanted >= holes);
        for (size_t i = 0; i < touches.count; i++) {
            const struct fw_sweep_touch *now = &touches.items[i];
            assert_true(is_touch(points, now->side, now->vertex));
            if (i == 0)
                continue;
            const struct fw_sweep_touch *before = &touches.items[i - 1];
            assert_true(before->side < now->side ||
                        (before->side == now->side && before->t <= now->t));
        }
        fw_free(touches.items);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(vertices_come_in_order_whatever_stood_before),
        cmocka_unit_test(ends_of_a_cut_come_in_order),
        cmocka_unit_test(every_touch_is_found_in_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
