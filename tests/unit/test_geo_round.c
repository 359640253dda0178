/* Rounds through places, against the least of all by another way of finding it
 * (subset by subset), and against what is known of rounds. */
#include "test.h"

#include "crs/crs.h"
#include "geo/geo.h"

#include <stdbool.h>
#include <stdlib.h>

enum { most = 60 };

static unsigned long long seed;

static double chance(void)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static void scatter(struct fw_lonlat *places, size_t count)
{
    for (size_t i = 0; i < count; i++)
        places[i] = (struct fw_lonlat){7 + chance() / 50, 46.5 + chance() / 70};
}

/* least[set][last]: from the first through the set to the last of it. */
static double least_round_m(const struct fw_lonlat *places, size_t count)
{
    const size_t others = count - 1, sets = (size_t)1 << others;
    double *least = calloc(sets * (others + 1), sizeof *least);
    for (size_t set = 1; set < sets; set++)
        for (size_t last = 0; last < others; last++) {
            double *here = &least[set * (others + 1) + last];
            *here = HUGE_VAL;
            if (!(set >> last & 1))
                continue;
            const size_t rest = set & ~((size_t)1 << last);
            if (rest == 0)
                *here = fw_geo_distance_m(places[0], places[last + 1]);
            for (size_t before = 0; before < others; before++)
                if (rest >> before & 1)
                    *here =
                        fmin(*here, least[rest * (others + 1) + before] +
                                        fw_geo_distance_m(places[before + 1],
                                                          places[last + 1]));
        }
    double best = count == 1 ? 0 : HUGE_VAL;
    for (size_t last = 0; last < others; last++)
        best = fmin(best, least[(sets - 1) * (others + 1) + last] +
                              fw_geo_distance_m(places[last + 1], places[0]));
    free(least);
    return best;
}

static double round_of(const struct fw_lonlat *places, size_t count,
                       size_t *order)
{
    double told_m = -1, sum = 0;
    bool seen[most] = {false};
    assert_int_equal(fw_geo_tour(places, count, order, &told_m, NULL), FW_OK);
    assert_int_equal(order[0], 0);
    assert_true(fw_geo_distance_m(places[0], places[order[1 % count]]) <=
                fw_geo_distance_m(places[0], places[order[count - 1]]) + 1e-5);
    for (size_t i = 0; i < count; i++) {
        assert_true(order[i] < count && !seen[order[i]]);
        seen[order[i]] = true;
        sum +=
            fw_geo_distance_m(places[order[i]], places[order[(i + 1) % count]]);
    }
    assert_near(told_m, sum, 1e-6);
    return told_m;
}

static void up_to_eight_places_have_the_shortest_round(void **state)
{
    (void)state;
    for (size_t count = 1; count <= 8; count++)
        for (int go = 0; go < 12; go++) {
            struct fw_lonlat places[most];
            size_t order[most];
            scatter(places, count);
            assert_near(round_of(places, count, order),
                        least_round_m(places, count), 1e-3);
        }
}

/* Not the least for certain, but not a quarter longer, and no two legs are
 * shorter the other way round. */
static void more_places_have_a_good_round(void **state)
{
    (void)state;
    for (size_t count = 9; count <= 13; count++) {
        struct fw_lonlat places[most];
        size_t order[most];
        scatter(places, count);
        const double m = round_of(places, count, order);
        const double least_m = least_round_m(places, count);
        assert_true(m >= least_m - 1e-3 && m <= 1.25 * least_m);
        for (size_t a = 0; a < count; a++)
            for (size_t b = a + 2; b < count; b++) {
                const struct fw_lonlat p = places[order[a]],
                                       q = places[order[(a + 1) % count]],
                                       r = places[order[b]],
                                       s = places[order[(b + 1) % count]];
                assert_true(fw_geo_distance_m(p, q) + fw_geo_distance_m(r, s) <=
                            fw_geo_distance_m(p, r) + fw_geo_distance_m(q, s) +
                                1e-5);
            }
    }
}

/* On a circle the only round without crossings goes round it. */
static void places_on_a_circle_come_in_turn(void **state)
{
    (void)state;
    const double pi = acos(-1);
    struct fw_lonlat places[most];
    size_t order[most], turn[most];
    for (size_t i = 0; i < most; i++)
        turn[i] = i * 23 % most; /* 23 and 60 have no common factor */
    for (size_t i = 0; i < most; i++) {
        const double at = 2 * pi * (double)turn[i] / most;
        places[i] = (struct fw_lonlat){0.01 * cos(at), 0.01 * sin(at)};
    }
    round_of(places, most, order);
    for (size_t i = 0; i < most; i++) {
        const size_t a = turn[order[i]], b = turn[order[(i + 1) % most]];
        assert_true((a + 1) % most == b || (b + 1) % most == a);
    }
}

static void none_or_too_many_places_are_refused(void **state)
{
    (void)state;
    struct fw_lonlat *places = calloc(1001, sizeof *places);
    size_t *order = calloc(1001, sizeof *order);
    struct fw_error err = {0};
    assert_int_equal(fw_geo_tour(places, 0, order, NULL, &err), FW_EINPUT);
    assert_int_equal(fw_geo_tour(places, 1001, order, NULL, &err), FW_EINPUT);
    assert_int_equal(fw_geo_tour(places, 12, order, NULL, &err), FW_OK);
    free(places);
    free(order);
}

int main(void)
{
    const char *told = getenv("FW_SEED");
    seed = told ? strtoull(told, NULL, 10) : 20260504;
    print_message("# seed %llu\n", seed);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(up_to_eight_places_have_the_shortest_round),
        cmocka_unit_test(more_places_have_a_good_round),
        cmocka_unit_test(places_on_a_circle_come_in_turn),
        cmocka_unit_test(none_or_too_many_places_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
