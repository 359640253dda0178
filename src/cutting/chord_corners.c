/* The corners that fences start from. A drawn field has few that jut in; of a
 * rough outline's thousands the one that juts in most on each stretch stands
 * for the others near it. */
#include "cutting/chord.h"

#include "figures/layout.h"
#include "geo/points.h"

#include <math.h>

static double cross(struct fw_point o, struct fw_point a, struct fw_point b)
{
    return (a.x_m - o.x_m) * (b.y_m - o.y_m) -
           (a.y_m - o.y_m) * (b.x_m - o.x_m);
}

static bool juts_in(const struct fw_point *ring, size_t count, size_t i)
{
    const struct fw_point before = ring[i > 0 ? i - 1 : count - 1];
    const struct fw_point at = ring[i];
    const struct fw_point after = ring[i + 1 < count ? i + 1 : 0];
    const double turn = cross(before, at, after);
    return turn < -FW_JUTTING_SINE * fw_point_apart_m(before, at) *
                      fw_point_apart_m(at, after);
}

/* Of the corners from first to before end the one that lies farthest to the
 * inside of the line from end to end; `count`: none juts in. */
static size_t farthest_in(const struct fw_point *ring, size_t count,
                          size_t first, size_t end)
{
    size_t best = count;
    double most = -HUGE_VAL;
    for (size_t i = first; i < end; i++) {
        const double in = cross(ring[first], ring[end % count], ring[i]);
        if (in > most && juts_in(ring, count, i)) {
            most = in;
            best = i;
        }
    }
    return best;
}

size_t fw_chord_corners(const struct fw_point *ring, size_t count,
                        size_t out[FW_MOST_CORNERS])
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        if (juts_in(ring, count, i)) {
            if (found < FW_MOST_CORNERS)
                out[found] = i;
            found++;
        }
    if (found <= FW_MOST_CORNERS)
        return found;
    found = 0;
    for (size_t s = 0; s < FW_MOST_CORNERS; s++) {
        const size_t corner =
            farthest_in(ring, count, s * count / FW_MOST_CORNERS,
                        (s + 1) * count / FW_MOST_CORNERS);
        if (corner < count)
            out[found++] = corner;
    }
    return found;
}
