/* Round a pond a place is seen from several corners, and the shortest of the
 * ways over them counts. A triangle is parted among the corners: each takes,
 * of what others have, what it sees and is the nearer one of. There a
 * hyperbola is the border, and what lies within its bow, about the corner that
 * is farther from the water, is convex. So the polygon is cut along chords of
 * it. What lies between a chord and the bow is counted by the way that is a
 * little longer: by no more than the tangents at the chord's ends tell, and
 * the chord is halved until that is little enough. All parts together have the
 * triangle's area, whatever rounding does. */
#include "walk/bow.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    marked_most = FW_EFFORT(16),   /* corners: a part, cut by two rays */
    halvings_most = FW_EFFORT(24), /* of a ring, along chords */
    finer_most = FW_EFFORT(4)
};

/* Of the cell's area times the longest way; and of the longest way. */
static const double near_enough = FW_TOLERANCE(1e-9);
static const double finer_by = FW_TOLERANCE(1e-3);
static const double longest_enough = FW_TOLERANCE(2e-7);
static const double none_share = FW_TOLERANCE(1e-15); /* of a triangle */

struct part {
    struct fw_point of[FW_WALK__RING_MOST];
    size_t count; /* 0: the part is gone */
    size_t owner; /* sight; FW_NONE: nobody sees it */
};

struct fw_walk__parting {
    const struct fw_walk_ground *ground;
    struct fw_walk__sight *seen;
    size_t count, capacity;
    struct part *parts;
    size_t part_count, part_capacity;
    double least_m2;  /* less is no part */
    double enough_m3; /* between a chord and its bow */
};

static struct fw_walk__pair pair_of(const struct fw_walk__parting *parting,
                                    size_t a, size_t b)
{
    const struct fw_walk__sight *one = &parting->seen[a],
                                *other = &parting->seen[b];
    return one->walked_m >= other->walked_m
               ? (struct fw_walk__pair){one, other}
               : (struct fw_walk__pair){other, one};
}

/* ---- parts ---- */

static double area_m2(const struct fw_point *ring, size_t count)
{
    double twice_m2 = 0;
    for (size_t i = 2; i < count; i++)
        twice_m2 += fw_point_cross(fw_point_minus(ring[i - 1], ring[0]),
                                   fw_point_minus(ring[i], ring[0]));
    return twice_m2 / 2;
}

static enum fw_status put_part(struct fw_walk__parting *parting,
                               const struct fw_walk__ring *ring, size_t owner,
                               struct fw_error *err)
{
    const size_t most = FW_WALK__RING_MOST - 1;
    for (size_t first = 1; first + 1 < ring->count; first += most - 1) {
        const enum fw_status status = fw_array_reserve(
            &parting->parts, &parting->part_capacity, parting->part_count + 1,
            sizeof *parting->parts, err);
        if (status)
            return status;
        struct part *part = &parting->parts[parting->part_count];
        const size_t left = ring->count - first;
        const size_t count = left < most ? left : most;
        part->owner = owner;
        part->of[0] = ring->of[0];
        memcpy(part->of + 1, ring->of + first, count * sizeof *ring->of);
        part->count = count + 1;
        if (area_m2(part->of, part->count) > parting->least_m2)
            parting->part_count++;
    }
    return FW_OK;
}

static enum fw_status put_marked(struct fw_walk__parting *parting,
                                 const struct fw_walk__pair *pair,
                                 const struct fw_walk__crossings *marks,
                                 struct fw_error *err)
{
    const size_t inner = (size_t)(pair->inner - parting->seen);
    const size_t outer = (size_t)(pair->outer - parting->seen);
    struct fw_walk__ring ring = {.count = 0};
    for (size_t i = 0; i < marks->count; i++)
        if (marks->place[i] != FW_WALK__BEYOND)
            ring.of[ring.count++] = marks->at[i];
    enum fw_status status = put_part(parting, &ring, inner, err);
    for (size_t i = 0; !status && i < marks->count; i++)
        if (fw_walk__begins_run(marks, i)) {
            fw_walk__take_run(marks, i, &ring);
            status = put_part(parting, &ring, outer, err);
        }
    return status;
}

/* A line across the middle of a chord that is too far from its bow. */
static bool is_coarse(const struct fw_walk__parting *parting,
                      const struct fw_walk__pair *pair,
                      const struct fw_walk__crossings *marks,
                      struct fw_walk__ray *across)
{
    for (size_t i = 0; i < marks->count; i++) {
        struct fw_walk__ring run;
        if (!fw_walk__begins_run(marks, i))
            continue;
        const size_t count = fw_walk__take_run(marks, i, &run);
        const struct fw_point from = run.of[0], to = run.of[count - 1];
        if (fw_walk__between_m3(pair, from, to) <= parting->enough_m3)
            continue;
        across->a = fw_point_between(from, to, 1 / 2.0);
        across->b = (struct fw_point){across->a.x_m + from.y_m - to.y_m,
                                      across->a.y_m + to.x_m - from.x_m};
        return true;
    }
    return false;
}

static enum fw_status share(struct fw_walk__parting *parting,
                            const struct fw_walk__pair *pair,
                            const struct fw_walk__ring *ring, int halvings,
                            struct fw_error *err)
{
    struct fw_walk__crossings marks;
    struct fw_walk__ring left, right;
    struct fw_walk__ray across = {ring->of[0], ring->of[ring->count / 2]};
    if (ring->count <= marked_most) {
        fw_walk__mark_ring(pair, ring, &marks);
        if (marks.of[FW_WALK__BEYOND] == 0 ||
            marks.of[FW_WALK__BEYOND] == marks.count)
            return put_part(parting, ring,
                            (size_t)((marks.of[FW_WALK__BEYOND] ? pair->outer
                                                                : pair->inner) -
                                     parting->seen),
                            err);
        if (halvings == halvings_most ||
            !is_coarse(parting, pair, &marks, &across))
            return put_marked(parting, pair, &marks, err);
    }
    fw_walk__part(ring->of, ring->count, &across, &left, &right);
    const enum fw_status status =
        share(parting, pair, &left, halvings + 1, err);
    return status ? status : share(parting, pair, &right, halvings + 1, err);
}

/* ---- one more corner ---- */

/* Is it the nearer one anywhere in a ring that another has? */
static bool wins(const struct fw_walk__parting *parting,
                 const struct fw_point *ring, size_t count, size_t owner,
                 size_t index)
{
    const struct fw_walk__pair pair = pair_of(parting, owner, index);
    const bool is_inner = pair.inner == &parting->seen[index];
    struct fw_walk__gain a = fw_walk__gain_at(&pair, ring[0]);
    for (size_t i = 0; i < count; i++) {
        const struct fw_walk__gain b =
            fw_walk__gain_at(&pair, ring[i + 1 < count ? i + 1 : 0]);
        struct fw_walk__gain middle;
        if (is_inner ? a.m > 0 || fw_walk__bulges(&pair, a, b, &middle)
                     : a.m < 0)
            return true;
        a = b;
    }
    return false;
}

static bool is_rival(const struct fw_walk__sight *owner,
                     const struct fw_walk__sight *seen)
{
    return seen->walked_m < fw_walk__way_m(owner, seen->root);
}

/* Of a part what it sees and is the nearer one of. */
static enum fw_status take(struct fw_walk__parting *parting, size_t index,
                           size_t at, struct fw_error *err)
{
    struct part *part = &parting->parts[at];
    const size_t owner = part->owner;
    const struct fw_walk__piece *piece = parting->seen[index].piece;
    struct fw_walk__ring seen, rest, right = {.count = 0}, left = {.count = 0};
    if (owner != FW_NONE &&
        (!is_rival(&parting->seen[owner], &parting->seen[index]) ||
         !wins(parting, part->of, part->count, owner, index)))
        return FW_OK;
    if (piece->whole) {
        seen.count = part->count;
        memcpy(seen.of, part->of, part->count * sizeof *part->of);
    } else {
        const struct fw_walk__ray back = {piece->left.b, piece->left.a};
        fw_walk__part(part->of, part->count, &piece->right, &rest, &right);
        fw_walk__part(rest.of, rest.count, &back, &seen, &left);
    }
    if (!(area_m2(seen.of, seen.count) > parting->least_m2) ||
        (owner != FW_NONE && right.count + left.count > 0 &&
         !wins(parting, seen.of, seen.count, owner, index)))
        return FW_OK;
    part->count = 0;
    enum fw_status status = put_part(parting, &right, owner, err);
    if (!status)
        status = put_part(parting, &left, owner, err);
    if (status || owner == FW_NONE)
        return status ? status : put_part(parting, &seen, index, err);
    const struct fw_walk__pair pair = pair_of(parting, owner, index);
    return share(parting, &pair, &seen, 0, err);
}

static void leave_gone(struct fw_walk__parting *parting)
{
    size_t kept = 0;
    for (size_t i = 0; i < parting->part_count; i++)
        if (parting->parts[i].count > 0) {
            if (kept < i)
                parting->parts[kept] = parting->parts[i];
            kept++;
        }
    parting->part_count = kept;
}

static enum fw_status part_all(struct fw_walk__parting *parting,
                               const struct fw_walk__ring *triangle,
                               struct fw_error *err)
{
    parting->part_count = 0;
    enum fw_status status = put_part(parting, triangle, FW_NONE, err);
    for (size_t i = 0; !status && i < parting->count; i++) {
        const size_t count = parting->part_count;
        for (size_t at = 0; !status && at < count; at++)
            status = take(parting, i, at, err);
        leave_gone(parting);
    }
    return status;
}

/* ---- a triangle ---- */

static int by_way(const void *a, const void *b)
{
    const struct fw_walk__sight *x = a, *y = b;
    if (x->away_m != y->away_m)
        return x->away_m < y->away_m ? -1 : 1;
    return (x->piece > y->piece) - (x->piece < y->piece);
}

static void take_pieces(struct fw_walk__parting *parting, size_t triangle,
                        struct fw_point middle)
{
    const struct fw_walk_ground *ground = parting->ground;
    parting->count = 0;
    for (size_t i = fw_walk__first(ground, triangle); i != FW_NONE;
         i = ground->pieces[i].next) {
        const struct fw_walk__piece *piece = &ground->pieces[i];
        const struct fw_walk__root *root = &ground->roots[piece->root];
        struct fw_walk__sight *seen = &parting->seen[parting->count];
        if (root->beaten)
            continue;
        *seen = (struct fw_walk__sight){root->at, root->walked_m, 0, piece};
        seen->away_m = fw_walk__way_m(seen, middle);
        parting->count++;
    }
    qsort(parting->seen, parting->count, sizeof *parting->seen, by_way);
}

static struct fw_walk__sum sum_parts(const struct fw_walk__parting *parting)
{
    struct fw_walk__sum sum = {0};
    for (size_t i = 0; i < parting->part_count; i++) {
        const struct part *part = &parting->parts[i];
        if (part->owner == FW_NONE)
            continue;
        const struct fw_walk__sight *owner = &parting->seen[part->owner];
        fw_walk__add(parting->ground->feed, owner->root, owner->walked_m,
                     part->of, part->count, &sum);
    }
    return sum;
}

/* The longest way from a corner of a part: where three meet the chords make it
 * seem longer than it is. */
static double longest_m(const struct fw_walk__parting *parting, double most_m)
{
    for (size_t i = 0; i < parting->part_count; i++) {
        const struct part *part = &parting->parts[i];
        for (size_t k = 0; part->owner != FW_NONE && k < part->count; k++) {
            const struct fw_point at = part->of[k];
            double least_m = fw_walk__way_m(&parting->seen[part->owner], at);
            for (size_t n = 0; n < parting->count && least_m > most_m; n++) {
                const double here_m = fw_walk__way_m(&parting->seen[n], at);
                if (here_m < least_m &&
                    fw_walk__has(parting->ground, parting->seen[n].piece, at))
                    least_m = here_m;
            }
            most_m = fmax(most_m, least_m);
        }
    }
    return most_m;
}

/* A way along the bow is the longest at its ends, so that what is longest is
 * so at a corner of the parts, but for what chords make longer. */
static enum fw_status sum_finely(struct fw_walk__parting *parting,
                                 const struct fw_walk__ring *triangle,
                                 double most_m, struct fw_walk__sum *out,
                                 struct fw_error *err)
{
    for (int i = 0; i < finer_most; i++) {
        const enum fw_status status = part_all(parting, triangle, err);
        if (status)
            return status;
        *out = sum_parts(parting);
        if (out->most_m <= most_m * (1 + longest_enough))
            break;
        most_m = longest_m(parting, most_m);
        if (out->most_m <= most_m * (1 + longest_enough))
            break;
        parting->enough_m3 *= finer_by;
    }
    out->most_m = most_m;
    return FW_OK;
}

static enum fw_status make_room(struct fw_walk__parting *parting,
                                size_t triangle, struct fw_error *err)
{
    const struct fw_walk_ground *ground = parting->ground;
    size_t count = 0;
    for (size_t i = fw_walk__first(ground, triangle); i != FW_NONE;
         i = ground->pieces[i].next)
        count++;
    return fw_array_reserve(&parting->seen, &parting->capacity, count,
                            sizeof *parting->seen, err);
}

enum fw_status fw_walk__nearest(const struct fw_walk_ground *ground,
                                size_t triangle, double cell_m2, double most_m,
                                struct fw_walk__sum *out, struct fw_error *err)
{
    struct fw_walk__parting *parting = ground->parting;
    struct fw_walk__ring ring = {.count = FW_WALK__SIDES};
    struct fw_point middle = {0, 0};
    parting->ground = ground;
    const enum fw_status status = make_room(parting, triangle, err);
    if (status)
        return status;
    for (size_t i = 0; i < FW_WALK__SIDES; i++) {
        ring.of[i] = fw_walk__at(ground, FW_WALK__SIDES * triangle + i);
        middle.x_m += ring.of[i].x_m / FW_WALK__SIDES;
        middle.y_m += ring.of[i].y_m / FW_WALK__SIDES;
    }
    take_pieces(parting, triangle, middle);
    parting->least_m2 = none_share * area_m2(ring.of, ring.count);
    parting->enough_m3 =
        near_enough * cell_m2 *
        fmax(1, parting->count > 0 ? parting->seen[0].away_m : 0);
    return sum_finely(parting, &ring, most_m, out, err);
}

struct fw_walk__parting *fw_walk__parting_new(void)
{
    return fw_alloc(1, sizeof(struct fw_walk__parting));
}

void fw_walk__parting_free(struct fw_walk__parting *parting)
{
    if (!parting)
        return;
    fw_free(parting->seen);
    fw_free(parting->parts);
    fw_free(parting);
}
