/* Round a pond a place is seen from several corners, and the shortest of the
 * ways over them counts. What is nearest by one corner is star-shaped about it:
 * along a ray from there another corner becomes the nearer one once and for
 * all, where a hyperbola crosses the ray. So area and ways are sums over rays,
 * each up to that place in closed form, parted where something else ends the
 * ray, and taken at Gauss's places until halves and whole agree. The sum of the
 * areas says whether all was counted. The longest way is looked for by halves
 * too: no way grows faster than the ground walked. */
#include "walk/inner.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "geo/points.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

enum {
    gauss_count = FW_EFFORT(8),
    depth_most = FW_EFFORT(30),
    depth_mixed = FW_EFFORT(1),
    cuts_most = FW_EFFORT(400), /* of a piece */
    bisections = FW_EFFORT(48), /* of less than a turn: to 1e-14 */
    beaten_depth = FW_EFFORT(8),
    finer_most = FW_EFFORT(5), /* times, each with so many parts for one */
    finer_by = FW_EFFORT(2),
    tries_most = FW_EFFORT(20000),
    stack_room = FW_EFFORT(64)
};

/* Of the cell's area, and of the longest way. */
static const double near_enough = FW_TOLERANCE(1e-8);
static const double whole_enough = FW_TOLERANCE(1e-7);
static const double longest_enough = FW_TOLERANCE(2e-7);
static const double touch_m = FW_TOLERANCE(1e-9);
static const double hair_rad = FW_TOLERANCE(1e-11);
static const double newton_enough = FW_TOLERANCE(1e-15);

struct sight { /* a piece, as seen from its root */
    struct fw_point corners[FW_WALK__CORNERS];
    size_t count;
    struct fw_point root;
    double walked_m;
    const struct fw_walk__piece *piece;
};

struct nearest {
    const struct fw_walk_ground *ground;
    struct sight *seen;
    size_t *rivals; /* that may be nearer somewhere in it */
    size_t rival_count;
    size_t count, of;      /* the one that rays are sent from */
    struct fw_point ahead; /* of its rays' angles, 0 */
    double places[gauss_count], weights[gauss_count];
    int cuts; /* that may still be made */
    double enough_m2, enough_m3;
};

struct pair {
    double area_m2, way_m3;
};

struct ray {
    struct pair pair;
    size_t state; /* what ends it: while that is the same, it changes smoothly
                   */
};

/* ---- Gauss's places from -1 to 1: where Legendre's polynomial is 0 ---- */

static void find_places(struct nearest *nearest)
{
    const double n = gauss_count;
    for (int i = 0; i < gauss_count; i++) {
        double x = -cos(FW_PI * (i + FW_FORMULA(3 / 4.0)) / (n + 1 / 2.0));
        double slope = 1;
        for (double step = 1; fabs(step) > newton_enough;) {
            double before = 1, here = x;
            for (int k = 2; k <= gauss_count; k++) {
                const double next =
                    ((2 * k - 1) * x * here - (k - 1) * before) / k;
                before = here;
                here = next;
            }
            slope = n * (x * here - before) / (x * x - 1);
            step = here / slope;
            x -= step;
        }
        nearest->places[i] = x;
        nearest->weights[i] = 2 / ((1 - x * x) * slope * slope);
    }
}

/* ---- one ray ---- */

struct stretch {
    double from_m, to_m; /* of the ray; from_m over to_m: none */
};

/* Of the ray from that place, what lies in a piece. */
static struct stretch stretch_in(const struct sight *seen, struct fw_point root,
                                 struct fw_point way)
{
    struct stretch in = {0, HUGE_VAL};
    for (size_t i = 0; i < seen->count; i++) {
        const struct fw_point a = seen->corners[i];
        const struct fw_point side =
            fw_point_minus(seen->corners[i + 1 < seen->count ? i + 1 : 0], a);
        const double begin = fw_point_cross(side, fw_point_minus(root, a));
        const double grows = fw_point_cross(side, way);
        if (grows > 0)
            in.from_m = fmax(in.from_m, -begin / grows);
        else if (grows < 0)
            in.to_m = fmin(in.to_m, -begin / grows);
        else if (begin < 0)
            in.to_m = -1;
    }
    return in;
}

/* From where on the other's way is the shorter one along this one's ray. */
static double other_from_m(const struct sight *of, const struct sight *other,
                           struct fw_point way)
{
    const struct fw_point apart = fw_point_minus(other->root, of->root);
    const double more_m = other->walked_m - of->walked_m;
    const double square =
        apart.x_m * apart.x_m + apart.y_m * apart.y_m - more_m * more_m;
    const double towards = apart.x_m * way.x_m + apart.y_m * way.y_m - more_m;
    if (square <= 0)
        return more_m < 0 ? 0 : HUGE_VAL;
    return towards > 0 ? square / (2 * towards) : HUGE_VAL;
}

static struct ray along_ray(const struct nearest *nearest, double angle)
{
    const struct sight *of = &nearest->seen[nearest->of];
    const double c = cos(angle), s = sin(angle);
    const struct fw_point way = {
        nearest->ahead.x_m * c - nearest->ahead.y_m * s,
        nearest->ahead.x_m * s + nearest->ahead.y_m * c};
    struct stretch in = stretch_in(of, of->root, way);
    struct ray ray = {{0, 0}, 0};
    for (size_t n = 0; n < nearest->rival_count && in.from_m < in.to_m; n++) {
        const size_t k = nearest->rivals[n];
        const double from_m = other_from_m(of, &nearest->seen[k], way);
        if (from_m >= in.to_m)
            continue;
        const struct stretch other =
            stretch_in(&nearest->seen[k], of->root, way);
        const double first_m = fmax(from_m, other.from_m);
        /* Where pieces only touch, neither takes from the other. */
        if (first_m < other.to_m - touch_m && first_m < in.to_m) {
            /* Of two that are as near either will do: no change. */
            if (ray.state == 0 || first_m < in.to_m - touch_m)
                ray.state = 2 * k + 2 + (first_m > from_m);
            in.to_m = first_m;
        }
    }
    if (!(in.from_m < in.to_m - touch_m))
        return (struct ray){{0, 0}, 1};
    const double p = in.from_m, q = in.to_m;
    const double area_m2 = (q - p) * (q + p) / 2;
    const double cubes = (q - p) * (q * q + q * p + p * p) / FW_FORMULA(3);
    ray.pair = (struct pair){area_m2, of->walked_m * area_m2 + cubes};
    return ray;
}

/* ---- all rays of a piece ---- */

struct rays { /* of rays between two angles */
    struct pair sum;
    bool mixed;       /* not all end at the same */
    double low, high; /* then: between these another end takes over */
    size_t state;     /* at low */
};

static struct rays sum_rays(const struct nearest *nearest, double from,
                            double to)
{
    struct rays rays = {{0, 0}, false, from, to, 0};
    const double half = (to - from) / 2;
    for (int i = 0; i < gauss_count; i++) {
        const double angle = from + half * (1 + nearest->places[i]);
        const struct ray ray = along_ray(nearest, angle);
        rays.sum.area_m2 += nearest->weights[i] * half * ray.pair.area_m2;
        rays.sum.way_m3 += nearest->weights[i] * half * ray.pair.way_m3;
        if (rays.mixed)
            continue;
        rays.mixed = i > 0 && ray.state != rays.state;
        *(rays.mixed ? &rays.high : &rays.low) = angle;
        if (!rays.mixed)
            rays.state = ray.state;
    }
    return rays;
}

/* Where another end takes over. */
static double find_change(const struct nearest *nearest,
                          const struct rays *rays)
{
    double low = rays->low, high = rays->high;
    for (int i = 0; i < bisections; i++) {
        const double middle = low + (high - low) / 2;
        if (along_ray(nearest, middle).state == rays->state)
            low = middle;
        else
            high = middle;
    }
    return high;
}

static void add_between(struct nearest *nearest, double from, double to,
                        struct rays whole, int depth, struct pair *total);

/* As long as rays end at the same, what is summed is smooth, and Gauss's places
 * have it in few steps: so they are cut apart where that changes. */
static bool add_parted(struct nearest *nearest, double from, double to,
                       const struct rays *whole, int depth, struct pair *total)
{
    if (!whole->mixed || nearest->cuts == 0)
        return false;
    const double cut = find_change(nearest, whole);
    if (!(cut > from && cut < to))
        return false;
    nearest->cuts--;
    add_between(nearest, from, cut, sum_rays(nearest, from, cut), depth, total);
    add_between(nearest, cut, to, sum_rays(nearest, cut, to), depth, total);
    return true;
}

/* What ends rays at one end may end none in between, though halves and whole
 * agree: while they are mixed, a few halvings are made in any case. */
static void add_between(struct nearest *nearest, double from, double to,
                        struct rays whole, int depth, struct pair *total)
{
    if (to - from <= hair_rad) {
        total->area_m2 += whole.sum.area_m2;
        total->way_m3 += whole.sum.way_m3;
        return;
    }
    if (add_parted(nearest, from, to, &whole, depth, total))
        return;
    const double middle = from + (to - from) / 2;
    const struct rays a = sum_rays(nearest, from, middle);
    const struct rays b = sum_rays(nearest, middle, to);
    const double area_m2 = a.sum.area_m2 + b.sum.area_m2;
    const double way_m3 = a.sum.way_m3 + b.sum.way_m3;
    const bool agree =
        fabs(area_m2 - whole.sum.area_m2) <= nearest->enough_m2 &&
        fabs(way_m3 - whole.sum.way_m3) <= nearest->enough_m3;
    const bool mixed = whole.mixed || a.mixed || b.mixed;
    if (depth == depth_most || (agree && (depth >= depth_mixed || !mixed))) {
        total->area_m2 += area_m2;
        total->way_m3 += way_m3;
        return;
    }
    add_between(nearest, from, middle, a, depth + 1, total);
    add_between(nearest, middle, to, b, depth + 1, total);
}

/* ---- who may be nearer ---- */

/* Has the other no more than a hair of what lies to the left of a side? */
static bool is_beside(const struct sight *sight, const struct sight *other)
{
    for (size_t i = 0; i < sight->count; i++) {
        const struct fw_point a = sight->corners[i];
        const struct fw_point b =
            sight->corners[i + 1 < sight->count ? i + 1 : 0];
        const struct fw_point side = fw_point_minus(b, a);
        const double hair = touch_m * fw_length(side.x_m, side.y_m);
        bool outside = true;
        for (size_t k = 0; k < other->count && outside; k++)
            outside = fw_point_cross(
                          side, fw_point_minus(other->corners[k], a)) <= hair;
        if (outside)
            return true;
    }
    return false;
}

/* Who walks on from there is never nearer than from there itself. */
static bool is_rival(const struct sight *sight, const struct sight *other)
{
    return other->walked_m < sight->walked_m +
                                 fw_point_apart_m(sight->root, other->root) -
                                 touch_m &&
           !is_beside(sight, other) && !is_beside(other, sight);
}

static void find_rivals(struct nearest *nearest)
{
    nearest->rival_count = 0;
    for (size_t k = 0; k < nearest->count; k++)
        if (k != nearest->of &&
            is_rival(&nearest->seen[nearest->of], &nearest->seen[k]))
            nearest->rivals[nearest->rival_count++] = k;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double angle_of(const struct nearest *nearest, struct fw_point at)
{
    const struct fw_point to =
        fw_point_minus(at, nearest->seen[nearest->of].root);
    return atan2(fw_point_cross(nearest->ahead, to),
                 nearest->ahead.x_m * to.x_m + nearest->ahead.y_m * to.y_m);
}

/* Towards the middle of the piece; false: it lies about the root. */
static bool look_ahead(struct nearest *nearest)
{
    const struct sight *of = &nearest->seen[nearest->of];
    struct fw_point middle = {0, 0};
    bool about = true;
    for (size_t i = 0; i < of->count; i++) {
        const struct fw_point a = of->corners[i];
        const struct fw_point b = of->corners[i + 1 < of->count ? i + 1 : 0];
        middle.x_m += a.x_m / (double)of->count;
        middle.y_m += a.y_m / (double)of->count;
        about = about && fw_walk__left(a, b, of->root) > 0;
    }
    const struct fw_point to = fw_point_minus(middle, of->root);
    const double way_m = fw_length(to.x_m, to.y_m);
    nearest->ahead = about || !(way_m > 0)
                         ? (struct fw_point){1, 0}
                         : (struct fw_point){to.x_m / way_m, to.y_m / way_m};
    return !about;
}

static void add_angle(const struct nearest *nearest, struct fw_point at,
                      double low, double high, double *angles, size_t *count)
{
    const double angle = angle_of(nearest, at);
    if (angle > low && angle < high)
        angles[(*count)++] = angle;
}

static void sum_piece(struct nearest *nearest, size_t index, double *angles,
                      size_t parts, struct pair *total)
{
    nearest->of = index;
    nearest->cuts = cuts_most;
    find_rivals(nearest);
    if (nearest->rival_count == 0) {
        const struct sight *alone = &nearest->seen[index];
        struct fw_walk__sum sum = {0};
        fw_walk__add(alone->root, alone->walked_m, alone->corners, alone->count,
                     &sum);
        total->area_m2 += sum.area_m2;
        total->way_m3 += sum.way_m3;
        return;
    }
    const struct sight *of = &nearest->seen[index];
    const bool apart = look_ahead(nearest);
    const double half_turn = FW_PI;
    double low = apart ? half_turn : -half_turn, high = -low;
    for (size_t i = 0; apart && i < of->count; i++)
        if (fw_point_apart_m(of->corners[i], of->root) > 0) {
            low = fmin(low, angle_of(nearest, of->corners[i]));
            high = fmax(high, angle_of(nearest, of->corners[i]));
        }
    size_t count = 0;
    angles[count++] = low;
    angles[count++] = high;
    for (size_t i = 0; i < of->count; i++)
        add_angle(nearest, of->corners[i], low, high, angles, &count);
    for (size_t n = 0; n < nearest->rival_count; n++) {
        const struct sight *rival = &nearest->seen[nearest->rivals[n]];
        for (size_t i = 0; i < rival->count; i++)
            add_angle(nearest, rival->corners[i], low, high, angles, &count);
    }
    qsort(angles, count, sizeof *angles, by_size);
    for (size_t i = 0; i + 1 < count; i++) {
        const double wide = angles[i + 1] - angles[i];
        for (size_t k = 0; wide > 0 && k < parts; k++) {
            const double from = angles[i] + wide * (double)k / (double)parts;
            const double to =
                angles[i] + wide * (double)(k + 1) / (double)parts;
            add_between(nearest, from, to, sum_rays(nearest, from, to), 0,
                        total);
        }
    }
}

/* What is nearest by some corner may be so narrow that no ray meets it: then
 * area is missing. */
static struct pair sum_pieces(struct nearest *nearest, double *angles,
                              double triangle_m2, double cell_m2)
{
    struct pair sum = {0, 0};
    size_t parts = 1;
    for (int turn = 0; turn <= finer_most; turn++) {
        sum = (struct pair){0, 0};
        for (size_t k = 0; k < nearest->count; k++)
            sum_piece(nearest, k, angles, parts, &sum);
        if (fabs(sum.area_m2 - triangle_m2) <= whole_enough * cell_m2)
            break;
        parts *= finer_by;
    }
    return sum;
}

/* ---- the longest way ---- */

struct corner {
    struct fw_point at;
    double way_m;
};

struct part {
    struct corner of[FW_WALK__SIDES];
    int halvings;
};

static double way_m(const struct nearest *nearest, struct fw_point at)
{
    double least_m = HUGE_VAL;
    for (size_t k = 0; k < nearest->count; k++) {
        const struct sight *seen = &nearest->seen[k];
        const double here_m = seen->walked_m + fw_point_apart_m(seen->root, at);
        if (here_m < least_m && fw_walk__has(nearest->ground, seen->piece, at))
            least_m = here_m;
    }
    return least_m == HUGE_VAL ? 0 : least_m;
}

/* Nowhere in the part is it longer than the ends of one root that sees all of
 * it, nor than from a corner and on. */
static double bound_m(const struct nearest *nearest, const struct part *part)
{
    double least_m = HUGE_VAL, longest_m = 0;
    for (size_t i = 0; i < FW_WALK__SIDES; i++)
        for (size_t k = 0; k < i; k++)
            longest_m = fmax(longest_m,
                             fw_point_apart_m(part->of[i].at, part->of[k].at));
    for (size_t i = 0; i < FW_WALK__SIDES; i++)
        least_m = fmin(least_m, part->of[i].way_m + longest_m);
    for (size_t k = 0; k < nearest->count; k++) {
        const struct sight *seen = &nearest->seen[k];
        double most_m = 0;
        for (size_t i = 0; i < FW_WALK__SIDES && most_m < least_m; i++)
            most_m = fw_walk__has(nearest->ground, seen->piece, part->of[i].at)
                         ? fmax(most_m, seen->walked_m +
                                            fw_point_apart_m(seen->root,
                                                             part->of[i].at))
                         : HUGE_VAL;
        least_m = fmin(least_m, most_m);
    }
    return least_m;
}

static size_t longest_side(const struct part *part)
{
    size_t longest = 0;
    double longest_m = -1;
    for (size_t i = 0; i < FW_WALK__SIDES; i++) {
        const double side_m = fw_point_apart_m(
            part->of[i].at, part->of[(i + 1) % FW_WALK__SIDES].at);
        if (side_m > longest_m) {
            longest_m = side_m;
            longest = i;
        }
    }
    return longest;
}

static double find_longest(const struct nearest *nearest, size_t triangle,
                           double most_m)
{
    struct part open[stack_room];
    size_t count = 1;
    for (size_t i = 0; i < FW_WALK__SIDES; i++) {
        const struct fw_point at =
            fw_walk__at(nearest->ground, FW_WALK__SIDES * triangle + i);
        open[0].of[i] = (struct corner){at, way_m(nearest, at)};
        most_m = fmax(most_m, open[0].of[i].way_m);
    }
    open[0].halvings = 0;
    for (int tries = 0; count > 0 && tries < tries_most; tries++) {
        const struct part part = open[--count];
        if (!(bound_m(nearest, &part) > most_m * (1 + longest_enough)))
            continue;
        const size_t a = longest_side(&part), b = (a + 1) % FW_WALK__SIDES;
        const struct fw_point middle =
            fw_point_between(part.of[a].at, part.of[b].at, 1 / 2.0);
        const struct corner corner = {middle, way_m(nearest, middle)};
        most_m = fmax(most_m, corner.way_m);
        if (count + 2 > stack_room || part.halvings + 2 > stack_room)
            continue;
        open[count] = open[count + 1] = part;
        open[count].halvings = open[count + 1].halvings = part.halvings + 1;
        open[count++].of[a] = corner;
        open[count++].of[b] = corner;
    }
    return most_m;
}

/* ---- a triangle ---- */

static double area_m2(const struct fw_point *corners, size_t count)
{
    double twice_m2 = 0;
    for (size_t i = 2; i < count; i++)
        twice_m2 += fw_point_cross(fw_point_minus(corners[i - 1], corners[0]),
                                   fw_point_minus(corners[i], corners[0]));
    return twice_m2 / 2;
}

static double walked_m(const struct sight *seen, struct fw_point at)
{
    return seen->walked_m + fw_point_apart_m(seen->root, at);
}

/* Is `other` the nearer one all along? The difference of two ways grows by no
 * more than two metres a metre. */
static bool is_nearer_along(const struct sight *other, const struct sight *seen,
                            struct fw_point a, struct fw_point b, int depth)
{
    const struct fw_point middle = fw_point_between(a, b, 1 / 2.0);
    const double more_m = walked_m(other, middle) - walked_m(seen, middle);
    if (more_m > 0 ||
        (more_m + fw_point_apart_m(a, b) > 0 && depth == beaten_depth))
        return false;
    return more_m + fw_point_apart_m(a, b) <= 0 ||
           (is_nearer_along(other, seen, a, middle, depth + 1) &&
            is_nearer_along(other, seen, middle, b, depth + 1));
}

/* Does the other see all of it, and is nearer everywhere? If so at the edge,
 * then inside. */
static bool is_beaten(const struct nearest *nearest, const struct sight *seen,
                      const struct sight *other)
{
    for (size_t i = 0; i < seen->count; i++)
        if (walked_m(other, seen->corners[i]) >
                walked_m(seen, seen->corners[i]) ||
            !fw_walk__has(nearest->ground, other->piece, seen->corners[i]))
            return false;
    for (size_t i = 0; i < seen->count; i++)
        if (!is_nearer_along(other, seen, seen->corners[i],
                             seen->corners[i + 1 < seen->count ? i + 1 : 0], 0))
            return false;
    return true;
}

static void leave_out(struct nearest *nearest)
{
    for (size_t k = nearest->count; k-- > 0;)
        for (size_t i = 0; i < nearest->count; i++)
            if (i != k &&
                is_beaten(nearest, &nearest->seen[k], &nearest->seen[i])) {
                for (size_t n = k + 1; n < nearest->count; n++)
                    nearest->seen[n - 1] = nearest->seen[n];
                nearest->count--;
                break;
            }
}

/* A side without a length has no direction: of its ends one is enough. */
static size_t tidy(struct fw_point *corners, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (fw_point_apart_m(corners[i], corners[(i + 1) % count]) > touch_m)
            corners[kept++] = corners[i];
    return kept > 2 ? kept : 0;
}

static void take_pieces(struct nearest *nearest, size_t triangle)
{
    const struct fw_walk_ground *ground = nearest->ground;
    const struct fw_walk__triangle *of = &ground->triangles[triangle];
    for (size_t i = 0; i < of->count; i++) {
        const struct fw_walk__piece *piece = &ground->pieces[of->first + i];
        struct sight *seen = &nearest->seen[nearest->count];
        seen->count =
            tidy(seen->corners, fw_walk__corners(ground, piece, seen->corners));
        seen->root = ground->roots[piece->root].at;
        seen->walked_m = ground->roots[piece->root].walked_m;
        seen->piece = piece;
        nearest->count += seen->count > 0;
    }
}

enum fw_status fw_walk__nearest(const struct fw_walk_ground *ground,
                                size_t triangle, double cell_m2, double most_m,
                                struct fw_walk__sum *out, struct fw_error *err)
{
    const size_t count = ground->triangles[triangle].count;
    struct nearest nearest = {.ground = ground};
    double *angles = fw_alloc(2 + FW_WALK__CORNERS * count, sizeof *angles);
    nearest.seen = fw_alloc(count, sizeof *nearest.seen);
    nearest.rivals = fw_alloc(count, sizeof *nearest.rivals);
    enum fw_status status =
        angles && nearest.seen && nearest.rivals ? FW_OK : fw_fail_memory(err);
    if (!status) {
        struct fw_point corners[FW_WALK__SIDES];
        for (size_t i = 0; i < FW_WALK__SIDES; i++)
            corners[i] = fw_walk__at(ground, FW_WALK__SIDES * triangle + i);
        const double here_m2 = area_m2(corners, FW_WALK__SIDES);
        take_pieces(&nearest, triangle);
        leave_out(&nearest);
        find_places(&nearest);
        most_m = find_longest(&nearest, triangle, most_m);
        nearest.enough_m2 = near_enough * cell_m2;
        nearest.enough_m3 = near_enough * cell_m2 * fmax(most_m, 1);
        const struct pair sum = sum_pieces(&nearest, angles, here_m2, cell_m2);
        *out = (struct fw_walk__sum){sum.area_m2, sum.way_m3, most_m};
    }
    fw_free(angles);
    fw_free(nearest.seen);
    fw_free(nearest.rivals);
    return status;
}
