/* A polygon with holes cut into triangles: each hole is joined to what lies
 * around it by a bridge, and then ears are clipped. Every corner that is found
 * is turned the right way, exactly, and together they have the rings' area: so
 * they lie side by side, whatever order they were found in. */
#include "walk/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "geo/points.h"

#include <math.h>

static const double same_share = FW_TOLERANCE(1e-9);

/* Ground with more is not cut: it would take seconds. */
static const size_t corners_most = FW_EFFORT(5000);

enum kind { of_ring, of_triangle, of_bridge };

struct node { /* a corner of what is still to be cut */
    size_t point, before, after;
    bool reflex;    /* no ear; flat ones too */
    enum kind kind; /* of the side to the next one */
    size_t value;   /* the half-side beyond, or the bridge */
};

struct cutting {
    struct fw_walk_ground *ground;
    size_t cell;
    struct node *nodes;
    size_t node_capacity, node_count, left;
    size_t
        *bridge_side; /* by bridge: the half-side that is on one side of it */
    size_t bridge_capacity, bridge_count;
    size_t *holes; /* of one outer ring: a node of each */
    size_t hole_capacity;
    size_t *ring_side;
    double area_m2;
};

static struct fw_point at(const struct cutting *cutting, size_t node)
{
    return cutting->ground->points[cutting->nodes[node].point];
}

static bool is_same(struct fw_point a, struct fw_point b)
{
    return a.x_m == b.x_m && a.y_m == b.y_m;
}

static double along(struct fw_point from, struct fw_point a, struct fw_point b)
{
    const struct fw_point p = fw_point_minus(a, from);
    const struct fw_point q = fw_point_minus(b, from);
    return p.x_m * q.x_m + p.y_m * q.y_m;
}

/* A whole turn, at the end of a spike into the ground, is reflex too. */
static bool is_reflex(const struct cutting *cutting, size_t node)
{
    const struct node *of = &cutting->nodes[node];
    return !(fw_walk__left(at(cutting, of->before), at(cutting, node),
                           at(cutting, of->after)) > 0);
}

/* ---- rings ---- */

static size_t take_ring(struct cutting *cutting, size_t first, size_t count)
{
    const size_t base = cutting->node_count;
    for (size_t i = 0; i < count; i++)
        cutting->nodes[base + i] =
            (struct node){.point = first + i,
                          .before = base + (i > 0 ? i : count) - 1,
                          .after = base + (i + 1 < count ? i + 1 : 0),
                          .kind = of_ring};
    cutting->node_count += count;
    cutting->left += count;
    return base;
}

/* ---- bridges ---- */

static bool is_between(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return fw_walk__left(a, b, p) == 0 && along(p, a, b) <= 0;
}

static bool is_end(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return is_same(p, a) || is_same(p, b);
}

/* Is it on the line, and at no end of it? */
static bool is_amid(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return !is_end(a, b, p) && is_between(a, b, p);
}

/* Do the two have a point in common, but for ends in the same place? */
static bool meet(struct fw_point a, struct fw_point b, struct fw_point p,
                 struct fw_point q)
{
    const bool at_p = is_end(a, b, p), at_q = is_end(a, b, q);
    if (at_p || at_q)
        return is_amid(a, b, p) || is_amid(a, b, q) ||
               (!(at_p && at_q) && (is_amid(p, q, a) || is_amid(p, q, b)));
    const double p_left = fw_walk__left(a, b, p),
                 q_left = fw_walk__left(a, b, q);
    const double a_left = fw_walk__left(p, q, a),
                 b_left = fw_walk__left(p, q, b);
    if ((p_left > 0 && q_left > 0) || (p_left < 0 && q_left < 0) ||
        (a_left > 0 && b_left > 0) || (a_left < 0 && b_left < 0))
        return false;
    if (p_left == 0 && q_left == 0) /* on one line */
        return is_between(a, b, p) || is_between(a, b, q) ||
               is_between(p, q, a);
    return true;
}

/* Does a way from this corner towards that place begin inside? */
static bool leads_in(const struct cutting *cutting, size_t node,
                     struct fw_point to)
{
    const struct node *of = &cutting->nodes[node];
    const struct fw_point before = at(cutting, of->before);
    const struct fw_point here = at(cutting, node);
    const struct fw_point after = at(cutting, of->after);
    const bool in = fw_walk__left(before, here, to) > 0;
    const bool out = fw_walk__left(here, after, to) > 0;
    return fw_walk__left(before, here, after) >= 0 ? in && out : in || out;
}

static bool is_free(const struct cutting *cutting, size_t from, size_t to)
{
    const struct fw_point a = at(cutting, from), b = at(cutting, to);
    if (is_same(a, b) || !leads_in(cutting, from, b) ||
        !leads_in(cutting, to, a))
        return false;
    for (size_t i = 0; i < cutting->node_count; i++)
        if (meet(a, b, at(cutting, i), at(cutting, cutting->nodes[i].after)))
            return false;
    return true;
}

/* There and back: the hole becomes part of the way round. */
static void bridge(struct cutting *cutting, size_t outer, size_t hole)
{
    struct node *nodes = cutting->nodes;
    const size_t outer_again = cutting->node_count++;
    const size_t hole_again = cutting->node_count++;
    nodes[outer_again] = nodes[outer];
    nodes[hole_again] = nodes[hole];
    nodes[nodes[outer].after].before = outer_again;
    nodes[nodes[hole].before].after = hole_again;
    nodes[hole_again].before = nodes[hole].before;
    nodes[hole_again].after = outer_again;
    nodes[outer_again].before = hole_again;
    nodes[outer].after = hole;
    nodes[hole].before = outer;
    nodes[outer].kind = nodes[hole_again].kind = of_bridge;
    nodes[outer].value = nodes[hole_again].value = cutting->bridge_count;
    cutting->bridge_side[cutting->bridge_count++] = FW_NONE;
    cutting->left += 2;
}

/* Where a hole touches what lies around it no bridge is needed: the way round
 * goes on along the one where it came along the other. */
static void splice(struct cutting *cutting, size_t outer, size_t hole)
{
    struct node *nodes = cutting->nodes;
    const struct node was = nodes[outer];
    nodes[outer] = nodes[hole];
    nodes[outer].before = was.before;
    nodes[hole].point = was.point;
    nodes[hole].after = was.after;
    nodes[hole].kind = was.kind;
    nodes[hole].value = was.value;
    nodes[nodes[outer].after].before = outer;
    nodes[nodes[hole].after].before = hole;
}

static bool splice_hole(struct cutting *cutting, size_t start, size_t first)
{
    size_t hole = first;
    do {
        size_t outer = start;
        do {
            if (is_same(at(cutting, outer), at(cutting, hole)) &&
                leads_in(cutting, outer,
                         at(cutting, cutting->nodes[hole].after))) {
                splice(cutting, outer, hole);
                return true;
            }
            outer = cutting->nodes[outer].after;
        } while (outer != start);
        hole = cutting->nodes[hole].after;
    } while (hole != first);
    return false;
}

/* To the nearest corner around that the hole's first one sees: nothing but what
 * is joined already lies further west than that, so that there is one. */
static bool bridge_hole(struct cutting *cutting, size_t start, size_t hole)
{
    double last_m = -1;
    size_t last = 0;
    for (;;) {
        size_t best = FW_NONE, outer = start;
        double best_m = HUGE_VAL;
        do {
            const double apart_m =
                fw_point_apart_m(at(cutting, outer), at(cutting, hole));
            if ((apart_m > last_m || (apart_m == last_m && outer > last)) &&
                (apart_m < best_m || (apart_m == best_m && outer < best))) {
                best = outer;
                best_m = apart_m;
            }
            outer = cutting->nodes[outer].after;
        } while (outer != start);
        if (best == FW_NONE)
            return false;
        if (is_free(cutting, best, hole)) {
            bridge(cutting, best, hole);
            return true;
        }
        last = best;
        last_m = best_m;
    }
}

static bool is_further_west(struct fw_point a, struct fw_point b)
{
    return a.x_m != b.x_m ? a.x_m < b.x_m : a.y_m < b.y_m;
}

static size_t westernmost(const struct cutting *cutting, size_t hole)
{
    size_t best = hole;
    for (size_t node = cutting->nodes[hole].after; node != hole;
         node = cutting->nodes[node].after)
        if (is_further_west(at(cutting, node), at(cutting, best)))
            best = node;
    return best;
}

/* From the west on. */
static bool join_holes(struct cutting *cutting, size_t start, size_t *holes,
                       size_t count)
{
    for (size_t i = 0; i < count; i++) {
        holes[i] = westernmost(cutting, holes[i]);
        const size_t hole = holes[i];
        size_t k = i;
        for (; k > 0 &&
               is_further_west(at(cutting, hole), at(cutting, holes[k - 1]));
             k--)
            holes[k] = holes[k - 1];
        holes[k] = hole;
    }
    for (size_t i = 0; i < count; i++)
        if (!splice_hole(cutting, start, holes[i]) &&
            !bridge_hole(cutting, start, holes[i]))
            return false;
    return true;
}

/* ---- ears ---- */

/* How far `to` lies within the ways from here to those two places,
 * anticlockwise from the first to the last: over 0 between them, 0 on one of
 * them. */
static double depth_between(struct fw_point here, struct fw_point first,
                            struct fw_point last, struct fw_point to)
{
    return fmin(fw_walk__left(here, first, to), fw_walk__left(last, here, to));
}

/* Does a side at this corner begin between those two ways, or both along them?
 */
static bool begins_between(const struct cutting *cutting, size_t node,
                           struct fw_point first, struct fw_point last)
{
    const struct node *of = &cutting->nodes[node];
    const struct fw_point here = at(cutting, node);
    const double before =
        depth_between(here, first, last, at(cutting, of->before));
    const double after =
        depth_between(here, first, last, at(cutting, of->after));
    return before > 0 || after > 0 || (before == 0 && after == 0);
}

/* Ponds that touch have corners in one place: such a one is in the way where
 * its sides lead into the triangle. */
static bool is_in_way(const struct cutting *cutting, size_t node,
                      struct fw_point a, struct fw_point b, struct fw_point c)
{
    const struct fw_point p = at(cutting, node);
    if (is_same(p, a))
        return begins_between(cutting, node, b, c);
    if (is_same(p, b))
        return begins_between(cutting, node, c, a);
    if (is_same(p, c))
        return begins_between(cutting, node, a, b);
    if ((p.x_m < a.x_m && p.x_m < b.x_m && p.x_m < c.x_m) ||
        (p.x_m > a.x_m && p.x_m > b.x_m && p.x_m > c.x_m) ||
        (p.y_m < a.y_m && p.y_m < b.y_m && p.y_m < c.y_m) ||
        (p.y_m > a.y_m && p.y_m > b.y_m && p.y_m > c.y_m))
        return false;
    return fw_walk__left(a, b, p) >= 0 && fw_walk__left(b, c, p) >= 0 &&
           fw_walk__left(c, a, p) >= 0;
}

/* Where ponds touch a strip without width can be left along a triangle: its
 * end. Between two sides of a ring it is a wall. */
static bool is_tip(const struct cutting *cutting, size_t node)
{
    const struct node *of = &cutting->nodes[node];
    return is_same(at(cutting, of->before), at(cutting, of->after)) &&
           (of->kind != of_ring || cutting->nodes[of->before].kind != of_ring);
}

static bool is_ear(const struct cutting *cutting, size_t node)
{
    const struct node *of = &cutting->nodes[node];
    if (is_tip(cutting, node))
        return true;
    if (of->reflex)
        return false;
    const struct fw_point a = at(cutting, of->before), b = at(cutting, node);
    const struct fw_point c = at(cutting, of->after);
    for (size_t i = cutting->nodes[of->after].after; i != of->before;
         i = cutting->nodes[i].after)
        if (cutting->nodes[i].reflex && is_in_way(cutting, i, a, b, c))
            return false;
    return true;
}

/* The half-side `side` lies where the side of what was to be cut was. */
static void attach(struct cutting *cutting, const struct node *of, size_t side)
{
    struct fw_walk__side *sides = cutting->ground->sides;
    size_t beyond = FW_NONE;
    if (of->kind == of_ring) {
        cutting->ring_side[of->point] = side;
        return;
    }
    if (of->kind == of_triangle)
        beyond = of->value;
    else if (cutting->bridge_side[of->value] == FW_NONE)
        cutting->bridge_side[of->value] = side;
    else
        beyond = cutting->bridge_side[of->value];
    sides[side].beyond = beyond;
    if (beyond != FW_NONE)
        sides[beyond].beyond = side;
}

static enum fw_status clip(struct cutting *cutting, size_t node,
                           struct fw_error *err)
{
    struct node *of = &cutting->nodes[node];
    struct node *before = &cutting->nodes[of->before];
    struct node *after = &cutting->nodes[of->after];
    const size_t points[] = {before->point, of->point, after->point};
    size_t triangle;
    const enum fw_status status = fw_walk__add_triangle(
        cutting->ground, cutting->cell, points, &triangle, err);
    if (status)
        return status;
    const size_t side = FW_WALK__SIDES * triangle;
    cutting->area_m2 +=
        fw_point_cross(
            fw_point_minus(at(cutting, node), at(cutting, of->before)),
            fw_point_minus(at(cutting, of->after), at(cutting, of->before))) /
        2;
    attach(cutting, before, side);
    attach(cutting, of, side + 1);
    if (cutting->left == FW_WALK__SIDES) {
        attach(cutting, after, side + 2);
        cutting->left = 0;
        return FW_OK;
    }
    before->kind = of_triangle;
    before->value = side + 2;
    const size_t first = of->before, second = of->after;
    before->after = second;
    after->before = first;
    before->reflex = is_reflex(cutting, first);
    after->reflex = is_reflex(cutting, second);
    cutting->left--;
    return FW_OK;
}

/* The next ear from there on; one in whose way something lies where there is no
 * other; FW_NONE: none is left. */
static size_t next_ear(const struct cutting *cutting, size_t from)
{
    size_t node = from, doubtful = FW_NONE;
    for (size_t i = 0; i < cutting->left; i++) {
        if (is_ear(cutting, node))
            return node;
        if (doubtful == FW_NONE && !cutting->nodes[node].reflex)
            doubtful = node;
        node = cutting->nodes[node].after;
    }
    for (size_t i = 0; doubtful == FW_NONE && i < cutting->left; i++) {
        const struct node *of = &cutting->nodes[node];
        if (fw_walk__left(at(cutting, of->before), at(cutting, node),
                          at(cutting, of->after)) == 0)
            doubtful = node;
        node = of->after;
    }
    return doubtful;
}

static enum fw_status clip_all(struct cutting *cutting, size_t start,
                               struct fw_error *err)
{
    size_t node = start, seen = start;
    do {
        cutting->nodes[seen].reflex = is_reflex(cutting, seen);
        seen = cutting->nodes[seen].after;
    } while (seen != start);
    while (cutting->left >= FW_WALK__SIDES) {
        node = next_ear(cutting, node);
        if (node == FW_NONE)
            return FW_OK; /* the area tells */
        /* Not always at the same corner: that would make a fan of needles. */
        const size_t next = cutting->nodes[cutting->nodes[node].after].after;
        const enum fw_status status = clip(cutting, node, err);
        if (status)
            return status;
        node = next;
    }
    return FW_OK;
}

/* ---- a cell ---- */

/* An outer ring and the holes that follow it. */
static enum fw_status cut_part(struct cutting *cutting,
                               const struct fw_walk_map *map, size_t first,
                               size_t end, struct fw_error *err)
{
    cutting->node_count = cutting->left = cutting->bridge_count = 0;
    for (size_t r = first; r < end; r++) {
        const size_t base =
            take_ring(cutting, map->ring_start[r],
                      map->ring_start[r + 1] - map->ring_start[r]);
        if (r > first)
            cutting->holes[r - first - 1] = base;
    }
    if (!join_holes(cutting, 0, cutting->holes, end - first - 1))
        return FW_OK;
    return clip_all(cutting, 0, err);
}

/* Triangles that do not fit are no ground. */
static void forget(struct cutting *cutting, const struct fw_walk_map *map)
{
    struct fw_walk_ground *ground = cutting->ground;
    while (ground->first_of_cell[cutting->cell] != FW_NONE) {
        ground->triangle_count = ground->first_of_cell[cutting->cell];
        ground->first_of_cell[cutting->cell] =
            ground->triangles[ground->triangle_count].next;
    }
    for (size_t i = map->ring_start[map->cell_ring[cutting->cell]];
         i < map->ring_start[map->cell_ring[cutting->cell + 1]]; i++)
        cutting->ring_side[i] = FW_NONE;
    ground->broken[cutting->cell] = true;
}

static double ring_m2(const struct fw_walk_map *map, size_t ring)
{
    return fw_ring_area_m2(map->points + map->ring_start[ring],
                           map->ring_start[ring + 1] - map->ring_start[ring]);
}

/* Room for that cell; what is there from the cells before is used again. */
static enum fw_status make_room(struct cutting *cutting, size_t points,
                                size_t rings, struct fw_error *err)
{
    enum fw_status status =
        fw_array_reserve(&cutting->nodes, &cutting->node_capacity,
                         points + 2 * rings, sizeof *cutting->nodes, err);
    if (!status)
        status =
            fw_array_reserve(&cutting->bridge_side, &cutting->bridge_capacity,
                             rings, sizeof *cutting->bridge_side, err);
    return status ? status
                  : fw_array_reserve(&cutting->holes, &cutting->hole_capacity,
                                     rings, sizeof *cutting->holes, err);
}

static enum fw_status cut(struct cutting *cutting,
                          const struct fw_walk_map *map, struct fw_error *err)
{
    const size_t first = map->cell_ring[cutting->cell];
    const size_t end = map->cell_ring[cutting->cell + 1];
    const size_t points = map->ring_start[end] - map->ring_start[first];
    enum fw_status status = make_room(cutting, points, end - first, err);
    double area_m2 = 0;
    cutting->area_m2 = 0;
    for (size_t r = first; !status && r < end && points <= corners_most;) {
        double next_m2 = ring_m2(map, r);
        size_t next = r;
        do {
            area_m2 += next_m2;
            next_m2 = ++next < end ? ring_m2(map, next) : 0;
        } while (next_m2 < 0);
        status = cut_part(cutting, map, r, next, err);
        r = next;
    }
    if (!status && !(area_m2 > 0 &&
                     fabs(cutting->area_m2 - area_m2) <= same_share * area_m2))
        forget(cutting, map);
    return status;
}

enum fw_status fw_walk__cut(struct fw_walk_ground *ground,
                            const struct fw_walk_map *map, size_t *ring_side,
                            struct fw_error *err)
{
    struct cutting cutting = {.ground = ground, .ring_side = ring_side};
    enum fw_status status = FW_OK;
    for (size_t c = 0; !status && c < map->cell_count; c++) {
        cutting.cell = c;
        status = cut(&cutting, map, err);
    }
    fw_free(cutting.nodes);
    fw_free(cutting.bridge_side);
    fw_free(cutting.holes);
    return status;
}
