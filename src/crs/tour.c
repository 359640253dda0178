/* The shortest round through a few places: all orders tried where they are few,
 * else a good one: from each to the nearest that is left, then any two legs
 * that are shorter the other way round are turned. */
#include "base/alloc.h"
#include "base/fail.h"

#include "crs/crs.h"
#include "geo/geo.h"

#include <math.h>
#include <string.h>

/* Seven places after the first have 5,040 orders. */
enum { most_tried = 8, most_places = 1000 };

static const double same_m = 1e-6;

struct tour {
    size_t count;
    double *away_m; /* count x count */
    size_t *order;
};

static double leg_m(const struct tour *round, size_t a, size_t b)
{
    return round->away_m[a * round->count + b];
}

static double length_m(const struct tour *round, const size_t *order)
{
    double sum = 0;
    for (size_t i = 0; i < round->count; i++)
        sum += leg_m(round, order[i], order[(i + 1) % round->count]);
    return sum;
}

/* The next order of the places after the first; false after the last. */
static bool next_order(size_t *order, size_t count)
{
    size_t i = count - 1;
    while (i > 1 && order[i - 1] > order[i])
        i--;
    if (i <= 1)
        return false;
    size_t k = count - 1;
    while (order[k] < order[i - 1])
        k--;
    const size_t pivot = order[i - 1];
    order[i - 1] = order[k];
    order[k] = pivot;
    for (size_t a = i, b = count - 1; a < b; a++, b--) {
        const size_t kept = order[a];
        order[a] = order[b];
        order[b] = kept;
    }
    return true;
}

static void try_all(struct tour *round)
{
    size_t order[most_tried];
    for (size_t i = 0; i < round->count; i++)
        order[i] = i;
    double least_m = HUGE_VAL;
    do {
        const double m = length_m(round, order);
        if (m < least_m - same_m) {
            least_m = m;
            memcpy(round->order, order, round->count * sizeof *order);
        }
    } while (next_order(order, round->count));
}

static void go_to_the_nearest(struct tour *round)
{
    size_t *order = round->order;
    for (size_t i = 0; i < round->count; i++)
        order[i] = i;
    for (size_t i = 1; i < round->count; i++) {
        size_t best = i;
        for (size_t k = i + 1; k < round->count; k++) {
            const double gain_m = leg_m(round, order[i - 1], order[best]) -
                                  leg_m(round, order[i - 1], order[k]);
            if (gain_m > same_m)
                best = k;
        }
        const size_t kept = order[i];
        order[i] = order[best];
        order[best] = kept;
    }
}

static bool turn_one(struct tour *round)
{
    size_t *order = round->order;
    const size_t count = round->count;
    for (size_t a = 1; a + 1 < count; a++)
        for (size_t b = a + 1; b < count; b++) {
            const size_t before = order[a - 1], after = order[(b + 1) % count];
            const double gain_m =
                leg_m(round, before, order[a]) + leg_m(round, order[b], after) -
                leg_m(round, before, order[b]) - leg_m(round, order[a], after);
            if (!(gain_m > same_m))
                continue;
            for (size_t i = a, k = b; i < k; i++, k--) {
                const size_t kept = order[i];
                order[i] = order[k];
                order[k] = kept;
            }
            return true;
        }
    return false;
}

/* Both ways round are as long; the one with the shorter leg first comes sooner
 * to all of them. */
static void point_forward(struct tour *round)
{
    size_t *order = round->order;
    const size_t last = round->count - 1;
    if (round->count < 3)
        return;
    const double more_m =
        leg_m(round, 0, order[1]) - leg_m(round, 0, order[last]);
    if (more_m < -same_m || (more_m <= same_m && order[1] < order[last]))
        return;
    for (size_t i = 1, k = last; i < k; i++, k--) {
        const size_t kept = order[i];
        order[i] = order[k];
        order[k] = kept;
    }
}

enum fw_status fw_geo_tour(const struct fw_lonlat *places, size_t count,
                           size_t *order, double *round_m, struct fw_error *err)
{
    if (count < 1 || count > most_places)
        return fw_fail(err, FW_EINPUT,
                       "a round through %zu places; expected 1 to %d", count,
                       (int)most_places);
    struct tour round = {count, fw_alloc(count * count, sizeof(double)), order};
    if (!round.away_m)
        return fw_fail_memory(err);
    for (size_t a = 0; a < count; a++)
        for (size_t b = 0; b < a; b++)
            round.away_m[a * count + b] = round.away_m[b * count + a] =
                fw_geo_distance_m(places[a], places[b]);
    if (count <= most_tried) {
        try_all(&round);
    } else {
        go_to_the_nearest(&round);
        while (turn_one(&round))
            ;
    }
    point_forward(&round);
    if (round_m)
        *round_m = length_m(&round, order);
    fw_free(round.away_m);
    return FW_OK;
}
