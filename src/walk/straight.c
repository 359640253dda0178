/* Ground that is seen from one place, all of it: ways are straight there, so no
 * triangles are needed, and what lies about it does not matter. */
#include "walk/inner.h"

#include "geo/points.h"

/* A place beside a side is on it. */
static const double beside_m = FW_TOLERANCE(1e-7);

/* Twice the area between the place and that side; under 0 where it is seen from
 * behind. */
static double seen_m2(const struct fw_point *ring, size_t count, size_t side,
                      struct fw_point from)
{
    const struct fw_point a = ring[side];
    const struct fw_point b = ring[side + 1 < count ? side + 1 : 0];
    return fw_point_cross(fw_point_minus(a, from), fw_point_minus(b, from));
}

static bool is_seen(const struct fw_point *ring, size_t count,
                    struct fw_point from)
{
    for (size_t i = 0; i < count; i++) {
        const double m2 = seen_m2(ring, count, i, from);
        if (m2 < 0 &&
            m2 < -beside_m *
                     fw_point_apart_m(ring[i], ring[i + 1 < count ? i + 1 : 0]))
            return false;
    }
    return count > 2;
}

/* Feed wants convex parts: the triangles between the place and the sides. */
static void add_triangles(const struct fw_herbage *feed,
                          const struct fw_point *ring, size_t count,
                          struct fw_point from, struct fw_walk__sum *sum)
{
    for (size_t i = 0; i < count; i++) {
        const struct fw_point triangle[] = {from, ring[i],
                                            ring[i + 1 < count ? i + 1 : 0]};
        fw_walk__add(seen_m2(ring, count, i, from) > 0 ? feed : NULL, from, 0,
                     triangle, FW_WALK__SIDES, sum);
    }
}

bool fw_walk_seen(const struct fw_point *ring, size_t count,
                  struct fw_point from, const struct fw_herbage *feed,
                  struct fw_walk_sums *out)
{
    struct fw_walk__sum sum = {0};
    if (!is_seen(ring, count, from))
        return false;
    if (feed)
        add_triangles(feed, ring, count, from, &sum);
    else
        fw_walk__add(NULL, from, 0, ring, count, &sum);
    if (!(sum.area_m2 > 0))
        return false;
    *out = fw_walk__sums(&sum, 1);
    return true;
}
