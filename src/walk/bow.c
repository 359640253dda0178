/* The border between what is nearer by one corner and what is by another: a
 * hyperbola, whose bow about the corner that is farther from the water has
 * convex ground within. */
#include "walk/bow.h"

#include "geo/points.h"

#include <math.h>

enum { steps_most = FW_EFFORT(60) }; /* to a crossing */

static const double crossed_m = FW_TOLERANCE(1e-12);

/* What lies to the left of the ray, and to its right. A ray without a length
 * has all to its left. */
void fw_walk__part(const struct fw_point *ring, size_t count,
                   const struct fw_walk__ray *ray, struct fw_walk__ring *left,
                   struct fw_walk__ring *right)
{
    const struct fw_point way = fw_point_minus(ray->b, ray->a);
    bool any_left = false, any_right = false;
    left->count = right->count = 0;
    if (count == 0)
        return;
    double q = fw_point_cross(way, fw_point_minus(ring[0], ray->a));
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = ring[i], b = ring[i + 1 < count ? i + 1 : 0];
        const double p = q;
        q = fw_point_cross(way, fw_point_minus(b, ray->a));
        if (p >= 0)
            left->of[left->count++] = a;
        if (p <= 0)
            right->of[right->count++] = a;
        any_left |= p > 0;
        any_right |= p < 0;
        if ((p > 0 && q < 0) || (p < 0 && q > 0))
            left->of[left->count++] = right->of[right->count++] =
                fw_point_between(a, b, p / (p - q));
    }
    if (!any_right)
        right->count = 0;
    else if (!any_left)
        left->count = 0;
}

/* Between two places on either side of the bow. */
static struct fw_point crossing(const struct fw_walk__pair *pair,
                                struct fw_walk__gain a, struct fw_walk__gain b)
{
    double low = 0, high = 1, t = 0;
    int kept = 0;
    for (int i = 0; i < steps_most; i++) {
        t = low + (high - low) * a.m / (a.m - b.m);
        const double gain =
            fw_walk__gain_m(pair, fw_point_between(a.at, b.at, t));
        if (fabs(gain) <= crossed_m)
            break;
        /* An end that stays counts half, so that it does not for ever. */
        const int side = (gain < 0) == (a.m < 0) ? 1 : -1;
        if (side > 0) {
            low = t;
            a.m = gain;
            b.m = kept == side ? b.m / 2 : b.m;
        } else {
            high = t;
            b.m = gain;
            a.m = kept == side ? a.m / 2 : a.m;
        }
        kept = side;
    }
    return fw_point_between(a.at, b.at, t);
}

/* Neither end is within the bow; is any place between them? The two ends of
 * what is within lie as far from its middle: a square equation has them. */
bool fw_walk__bulges(const struct fw_walk__pair *pair, struct fw_walk__gain a,
                     struct fw_walk__gain b, struct fw_walk__gain *out)
{
    const struct fw_point way = fw_point_minus(b.at, a.at);
    const double square = way.x_m * way.x_m + way.y_m * way.y_m;
    /* No way grows by more than what is walked. */
    if (a.m + b.m + 2 * sqrt(square) < 0)
        return false;
    const double more_m = pair->inner->walked_m - pair->outer->walked_m;
    const struct fw_point p = fw_point_minus(a.at, pair->outer->root);
    const struct fw_point q = fw_point_minus(a.at, pair->inner->root);
    const double along_p = p.x_m * way.x_m + p.y_m * way.y_m;
    const double along_q = q.x_m * way.x_m + q.y_m * way.y_m;
    const double alpha = p.x_m * p.x_m + p.y_m * p.y_m -
                         (q.x_m * q.x_m + q.y_m * q.y_m) - more_m * more_m;
    const double beta = 2 * (along_p - along_q);
    const double twice_m = 2 * more_m, most = twice_m * twice_m;
    const double t =
        -(alpha * beta - most * along_q) / (beta * beta - most * square);
    if (!(t > 0 && t < 1))
        return false;
    *out = fw_walk__gain_at(pair, fw_point_between(a.at, b.at, t));
    return out->m > 0;
}

static void mark(struct fw_walk__crossings *marks, struct fw_point at,
                 enum fw_walk__place place)
{
    marks->at[marks->count] = at;
    marks->place[marks->count++] = place;
    marks->of[place]++;
}

void fw_walk__mark_ring(const struct fw_walk__pair *pair,
                        const struct fw_walk__ring *ring,
                        struct fw_walk__crossings *marks)
{
    struct fw_walk__gain a = fw_walk__gain_at(pair, ring->of[0]);
    *marks = (struct fw_walk__crossings){.count = 0};
    for (size_t i = 0; i < ring->count; i++) {
        const struct fw_walk__gain b =
            fw_walk__gain_at(pair, ring->of[i + 1 < ring->count ? i + 1 : 0]);
        struct fw_walk__gain middle;
        mark(marks, a.at, a.m >= 0 ? FW_WALK__WITHIN : FW_WALK__BEYOND);
        if ((a.m >= 0) != (b.m >= 0)) {
            mark(marks, crossing(pair, a, b), FW_WALK__ON_BOW);
        } else if (a.m < 0 && fw_walk__bulges(pair, a, b, &middle)) {
            mark(marks, crossing(pair, a, middle), FW_WALK__ON_BOW);
            mark(marks, crossing(pair, middle, b), FW_WALK__ON_BOW);
        }
        a = b;
    }
}

/* How steep the bow leaves the chord at a place; within is to the left. */
static double slope(const struct fw_walk__pair *pair, struct fw_point at,
                    struct fw_point chord)
{
    const struct fw_point p = fw_point_minus(at, pair->outer->root);
    const struct fw_point q = fw_point_minus(at, pair->inner->root);
    const double p_m = fw_length(p.x_m, p.y_m), q_m = fw_length(q.x_m, q.y_m);
    const struct fw_point grows = {p.x_m / p_m - q.x_m / q_m,
                                   p.y_m / p_m - q.y_m / q_m};
    const double up = fw_point_cross(chord, grows);
    const double along = fabs(chord.x_m * grows.x_m + chord.y_m * grows.y_m);
    return up > 0 ? along / up : HUGE_VAL;
}

/* At most: an area of half the chord times the height that the tangents give,
 * by a way that is longer by twice that height. */
double fw_walk__between_m3(const struct fw_walk__pair *pair,
                           struct fw_point from, struct fw_point to)
{
    const struct fw_point chord = fw_point_minus(to, from);
    const double chord_m = fw_length(chord.x_m, chord.y_m);
    const double a = slope(pair, from, chord), b = slope(pair, to, chord);
    if (chord_m <= crossed_m || a == 0 || b == 0)
        return 0;
    const double high_m = chord_m / (1 / a + 1 / b);
    return chord_m * high_m * high_m;
}

/* What lies beyond the bow: from one crossing to the next. */
size_t fw_walk__take_run(const struct fw_walk__crossings *marks, size_t first,
                         struct fw_walk__ring *run)
{
    size_t i = first;
    run->count = 0;
    do {
        run->of[run->count++] = marks->at[i];
        i = i + 1 < marks->count ? i + 1 : 0;
    } while (marks->place[i] == FW_WALK__BEYOND);
    run->of[run->count++] = marks->at[i];
    return run->count;
}

bool fw_walk__begins_run(const struct fw_walk__crossings *marks, size_t i)
{
    return marks->place[i] == FW_WALK__ON_BOW &&
           marks->place[i + 1 < marks->count ? i + 1 : 0] == FW_WALK__BEYOND;
}
