/* A new fence is straight where the map was walked or drawn by hand: it follows
 * the map's line as closely as was asked, and no closer. By Douglas and
 * Peucker's way: of what lies between two posts the farthest point stays, as
 * long as it is farther off than that. */
#include "fence/line.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "geo/points.h"
#include <math.h>

/* Of a point from the stretch between two others. */
static double off_m(struct fw_point p, struct fw_point a, struct fw_point b)
{
    const struct fw_point along = fw_point_minus(b, a),
                          to = fw_point_minus(p, a);
    const double square = along.x_m * along.x_m + along.y_m * along.y_m;
    const double t =
        square > 0
            ? fmax(0,
                   fmin(1, (to.x_m * along.x_m + to.y_m * along.y_m) / square))
            : 0;
    return fw_point_apart_m(p, fw_point_between(a, b, t));
}

struct ring {
    const struct fw_point *points;
    size_t count;
    bool *kept;
};

static struct fw_point at(const struct ring *ring, size_t index)
{
    return ring->points[index % ring->count];
}

static size_t farthest(const struct ring *ring, struct fw_point from)
{
    size_t best = 0;
    for (size_t i = 1; i < ring->count; i++)
        if (fw_point_apart_m(ring->points[i], from) >
            fw_point_apart_m(ring->points[best], from))
            best = i;
    return best;
}

/* Between two that are kept, the second maybe a round on. Ends are kept on a
 * stack of their own, so that a long outline needs no deep calls. */
static enum fw_status keep_between(const struct ring *ring, size_t first,
                                   size_t last, double tolerance_m,
                                   struct fw_error *err)
{
    size_t *ends = fw_alloc(ring->count + 2, sizeof *ends);
    size_t open = 0;
    if (!ends)
        return fw_fail_memory(err);
    ends[open++] = last;
    while (open > 0) {
        const size_t end = ends[open - 1];
        size_t worst = first;
        double most_m = tolerance_m;
        for (size_t i = first + 1; i < end; i++) {
            const double here_m =
                off_m(at(ring, i), at(ring, first), at(ring, end));
            if (here_m > most_m) {
                most_m = here_m;
                worst = i;
            }
        }
        if (worst == first) {
            first = end;
            open--;
            continue;
        }
        ring->kept[worst % ring->count] = true;
        ends[open++] = worst;
    }
    fw_free(ends);
    return FW_OK;
}

enum fw_status fw_fence__follow(const struct fw_point *points, size_t count,
                                double tolerance_m, struct fw_point *out,
                                size_t *kept, struct fw_error *err)
{
    struct ring ring = {points, count, fw_alloc(count, sizeof *ring.kept)};
    struct fw_point middle = {0, 0};
    if (!ring.kept)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        middle.x_m += points[i].x_m / (double)count;
        middle.y_m += points[i].y_m / (double)count;
    }
    /* Two that lie far out, wherever the ring begins. */
    const size_t one = farthest(&ring, middle);
    const size_t other = farthest(&ring, points[one]);
    const size_t first = one < other ? one : other;
    const size_t second = one < other ? other : one;
    ring.kept[first] = ring.kept[second] = true;
    enum fw_status status =
        keep_between(&ring, first, second, tolerance_m, err);
    if (!status)
        status = keep_between(&ring, second, first + count, tolerance_m, err);
    *kept = 0;
    for (size_t i = 0; !status && i < count; i++)
        if (ring.kept[i])
            out[(*kept)++] = points[i];
    fw_free(ring.kept);
    return status;
}
