/* The shape of what a root sees of a triangle. */
#include "walk/inner.h"

#include "geo/points.h"

#include <math.h>

/* So near to a piece a place is in it: ways do not jump at its edge. */
static const double hair_m = FW_TOLERANCE(1e-7);

static double past(const struct fw_walk__ray *ray, struct fw_point at)
{
    return fw_point_cross(fw_point_minus(ray->b, ray->a),
                          fw_point_minus(at, ray->a));
}

/* What lies to the left of the ray, or with sign -1 to its right. */
static size_t clip(const struct fw_walk__ray *ray, double sign,
                   const struct fw_point *in, size_t count,
                   struct fw_point *out)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = in[i], b = in[(i + 1) % count];
        const double p = sign * past(ray, a), q = sign * past(ray, b);
        if (p >= 0)
            out[n++] = a;
        /* From the lesser side on, so that two neighbours find the same. */
        if (p > 0 && q < 0)
            out[n++] = fw_point_between(b, a, q / (q - p));
        else if (p < 0 && q > 0)
            out[n++] = fw_point_between(a, b, p / (p - q));
    }
    return n;
}

size_t fw_walk__corners(const struct fw_walk_ground *ground,
                        const struct fw_walk__piece *piece,
                        struct fw_point out[FW_WALK__CORNERS])
{
    const size_t side = FW_WALK__SIDES * piece->triangle;
    struct fw_point part[FW_WALK__CORNERS];
    for (size_t i = 0; i < FW_WALK__SIDES; i++)
        out[i] = fw_walk__at(ground, side + i);
    if (piece->whole)
        return FW_WALK__SIDES;
    const size_t count = clip(&piece->right, 1, out, FW_WALK__SIDES, part);
    const size_t left =
        count > 2 ? clip(&piece->left, -1, part, count, out) : 0;
    return left > 2 ? left : 0;
}

static bool is_left(struct fw_point a, struct fw_point b, struct fw_point at)
{
    const struct fw_walk__ray ray = {a, b};
    return past(&ray, at) >= -hair_m * fw_point_apart_m(a, b);
}

bool fw_walk__has(const struct fw_walk_ground *ground,
                  const struct fw_walk__piece *piece, struct fw_point at)
{
    const size_t side = FW_WALK__SIDES * piece->triangle;
    for (size_t i = 0; i < FW_WALK__SIDES; i++)
        if (!is_left(fw_walk__at(ground, side + i),
                     fw_walk__at(ground, fw_walk__after(side + i)), at))
            return false;
    return piece->whole || (is_left(piece->right.a, piece->right.b, at) &&
                            is_left(piece->left.b, piece->left.a, at));
}

/* asinh(to / high) - asinh(from / high), with the ways to both ends: of one
 * logarithm, and of sums that lose nothing. */
static double bend(double high, double from, double from_m, double to,
                   double to_m)
{
    const double square = high * high;
    const double over = to > 0 ? to + to_m : square / (to_m - to);
    const double under = from > 0 ? from + from_m : square / (from_m - from);
    return log(over / under);
}

/* The way from a root over a triangle with that side, less where it turns to
 * the right: a third of the height times what the side's ends give. */
static void add_side(struct fw_point p, double p_m, struct fw_point q,
                     double q_m, double walked_m, struct fw_walk__sum *total)
{
    const struct fw_point way = fw_point_minus(q, p);
    const double cross = fw_point_cross(p, q);
    const double side_m = fw_length(way.x_m, way.y_m);
    if (!(side_m > 0) || cross == 0)
        return;
    const double high = cross / side_m;
    const double from = (p.x_m * way.x_m + p.y_m * way.y_m) / side_m;
    const double to = (q.x_m * way.x_m + q.y_m * way.y_m) / side_m;
    const double ends = to * q_m - from * p_m;
    total->area_m2 += cross / 2;
    total->way_m3 += walked_m * cross / 2 +
                     high *
                         (ends + high * high * bend(high, from, p_m, to, q_m)) /
                         (2 * FW_FORMULA(3));
}

/* The area and the ways over it. */
static void add_ring(struct fw_point root, double walked_m,
                     const struct fw_point *ring, size_t count,
                     struct fw_walk__sum *total)
{
    struct fw_point p = fw_point_minus(ring[count - 1], root);
    double p_m = fw_length(p.x_m, p.y_m);
    for (size_t i = 0; i < count; i++) {
        const struct fw_point q = fw_point_minus(ring[i], root);
        const double q_m = fw_length(q.x_m, q.y_m);
        add_side(p, p_m, q, q_m, walked_m, total);
        total->most_m = fmax(total->most_m, walked_m + q_m);
        p = q;
        p_m = q_m;
    }
}

struct feeding {
    struct fw_point root;
    double walked_m;
    struct fw_walk__sum *total;
};

static void add_feed(void *to, const struct fw_point *ring, size_t count,
                     double kg_m2)
{
    const struct feeding *feeding = to;
    struct fw_walk__sum part = {0};
    add_ring(feeding->root, feeding->walked_m, ring, count, &part);
    feeding->total->feed_kg += kg_m2 * part.area_m2;
    feeding->total->way_kg_m += kg_m2 * part.way_m3;
}

void fw_walk__add(const struct fw_herbage *feed, struct fw_point root,
                  double walked_m, const struct fw_point *ring, size_t count,
                  struct fw_walk__sum *total)
{
    struct feeding feeding = {root, walked_m, total};
    if (count == 0)
        return;
    add_ring(root, walked_m, ring, count, total);
    if (feed)
        fw_herbage_parts(feed, ring, count, add_feed, &feeding);
}
