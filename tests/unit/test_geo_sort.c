/* The sweep's own sorting against the C library's: orders that are nearly
 * right, wrong all through, full of equals, and crowded in one place. */
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(vertices_come_in_order_whatever_stood_before),
        cmocka_unit_test(ends_of_a_cut_come_in_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
