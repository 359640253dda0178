/* The search itself: from the place on, and then from every corner about which
 * a way can turn, the nearest first. From each only that ground is passed which
 * lies behind the corner for whoever comes along the shortest way to it. */
#include "walk/inner.h"

#include "base/array.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* ---- the heap ---- */

static bool is_nearer(const struct fw_walk__next *a,
                      const struct fw_walk__next *b)
{
    return a->walked_m != b->walked_m ? a->walked_m < b->walked_m
                                      : a->corner < b->corner;
}

static enum fw_status push(struct fw_walk_ground *ground,
                           struct fw_walk__next next, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&ground->heap, &ground->heap_capacity,
                         ground->heap_count + 1, sizeof *ground->heap, err);
    if (status)
        return status;
    size_t at = ground->heap_count++;
    while (at > 0 && is_nearer(&next, &ground->heap[(at - 1) / 2])) {
        ground->heap[at] = ground->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    ground->heap[at] = next;
    return FW_OK;
}

static struct fw_walk__next pop(struct fw_walk_ground *ground)
{
    struct fw_walk__next *heap = ground->heap;
    const struct fw_walk__next first = heap[0];
    const struct fw_walk__next last = heap[--ground->heap_count];
    const size_t count = ground->heap_count;
    size_t at = 0;
    for (;;) {
        size_t child = 2 * at + 1;
        if (child >= count)
            break;
        if (child + 1 < count && is_nearer(&heap[child + 1], &heap[child]))
            child++;
        if (!is_nearer(&heap[child], &last))
            break;
        heap[at] = heap[child];
        at = child;
    }
    heap[at] = last;
    return first;
}

/* ---- corners: all those of triangles that no wall parts ---- */

/* The next one anticlockwise about the same point; FW_NONE: a wall. */
static size_t turn_left(const struct fw_walk_ground *ground, size_t corner)
{
    const size_t side = fw_walk__before(corner);
    return fw_walk__passable(ground, side) ? ground->sides[side].beyond
                                           : FW_NONE;
}

static size_t turn_right(const struct fw_walk_ground *ground, size_t corner)
{
    return fw_walk__passable(ground, corner)
               ? fw_walk__after(ground->sides[corner].beyond)
               : FW_NONE;
}

/* Does the ground take up more than half a turn about the point between the
 * wall to the right of one corner and that to the left of the other? */
static bool can_turn(const struct fw_walk_ground *ground, size_t right,
                     size_t left)
{
    const struct fw_point here = fw_walk__at(ground, right);
    const struct fw_point from = fw_walk__at(ground, fw_walk__before(left));
    const struct fw_point to = fw_walk__at(ground, fw_walk__after(right));
    const double turn = fw_walk__left(from, here, to);
    const struct fw_point a = fw_point_minus(from, here);
    const struct fw_point b = fw_point_minus(to, here);
    return turn < 0 || (turn == 0 && a.x_m * b.x_m + a.y_m * b.y_m > 0);
}

/* FW_NONE: no way turns there. */
static size_t first_corner(struct fw_walk_ground *ground, size_t corner)
{
    if (ground->turns[corner].search == ground->search)
        return ground->turns[corner].first;
    size_t right = corner, next = turn_right(ground, corner);
    while (next != FW_NONE && next != corner) {
        right = next;
        next = turn_right(ground, right);
    }
    const bool walled = next == FW_NONE;
    size_t left = right;
    for (next = turn_left(ground, left); next != FW_NONE && next != right;
         next = turn_left(ground, left))
        left = next;
    const size_t first =
        walled && can_turn(ground, right, left) ? right : FW_NONE;
    for (next = right; next != FW_NONE;
         next = next == left ? FW_NONE : turn_left(ground, next))
        ground->turns[next] = (struct fw_walk__corner){ground->search, first};
    return first;
}

static enum fw_status reach(struct fw_walk_ground *ground, size_t corner,
                            size_t root, struct fw_error *err)
{
    const size_t first = first_corner(ground, corner);
    if (first == FW_NONE)
        return FW_OK;
    struct fw_walk__reach *reached = &ground->reached[first];
    const double walked_m =
        ground->roots[root].walked_m +
        fw_point_apart_m(ground->roots[root].at, fw_walk__at(ground, corner));
    if (reached->search == ground->search && reached->walked_m <= walked_m)
        return FW_OK;
    *reached = (struct fw_walk__reach){.search = ground->search,
                                       .walked_m = walked_m,
                                       .root = root,
                                       .corner = corner};
    return push(ground, (struct fw_walk__next){walked_m, first}, err);
}

/* ---- what is seen ---- */

static enum fw_status see(struct fw_walk_ground *ground, size_t triangle,
                          size_t root, const struct fw_walk__ray *right,
                          const struct fw_walk__ray *left, struct fw_error *err)
{
    if (ground->goal != FW_NONE &&
        ground->triangles[triangle].cell != ground->goal)
        return FW_OK;
    const enum fw_status status =
        fw_array_reserve(&ground->pieces, &ground->piece_capacity,
                         ground->piece_count + 1, sizeof *ground->pieces, err);
    if (status)
        return status;
    struct fw_walk__piece *piece = &ground->pieces[ground->piece_count++];
    *piece = (struct fw_walk__piece){
        .triangle = triangle, .root = root, .whole = !right};
    if (right) {
        piece->right = *right;
        piece->left = *left;
    }
    return FW_OK;
}

static enum fw_status look_through(struct fw_walk_ground *ground, size_t side,
                                   size_t root, struct fw_walk__ray right,
                                   struct fw_walk__ray left,
                                   struct fw_error *err)
{
    if (!fw_walk__passable(ground, side))
        return FW_OK;
    const enum fw_status status =
        fw_array_reserve(&ground->wedges, &ground->wedge_capacity,
                         ground->wedge_count + 1, sizeof *ground->wedges, err);
    if (!status)
        ground->wedges[ground->wedge_count++] =
            (struct fw_walk__wedge){side, root, right, left};
    return status;
}

/* Into the triangle behind one side, and on towards its other two. */
static enum fw_status pass(struct fw_walk_ground *ground,
                           struct fw_walk__wedge wedge, struct fw_error *err)
{
    const size_t near = ground->sides[wedge.side].beyond;
    const size_t to_right = fw_walk__after(near);
    const size_t to_left = fw_walk__after(to_right); /* from the far corner */
    const struct fw_point far = fw_walk__at(ground, to_left);
    const double past_right = fw_walk__left(wedge.right.a, wedge.right.b, far);
    const double past_left = fw_walk__left(wedge.left.a, wedge.left.b, far);
    const struct fw_walk__ray middle = {ground->roots[wedge.root].at, far};
    enum fw_status status = see(ground, near / FW_WALK__SIDES, wedge.root,
                                &wedge.right, &wedge.left, err);
    if (!status && past_right >= 0 && past_left <= 0)
        status = reach(ground, to_left, wedge.root, err);
    if (!status && past_right > 0)
        status = look_through(ground, to_right, wedge.root, wedge.right,
                              past_left < 0 ? middle : wedge.left, err);
    if (!status && past_left < 0)
        status = look_through(ground, to_left, wedge.root,
                              past_right > 0 ? middle : wedge.right, wedge.left,
                              err);
    return status;
}

static enum fw_status pass_all(struct fw_walk_ground *ground,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    while (!status && ground->wedge_count > 0)
        status = pass(ground, ground->wedges[--ground->wedge_count], err);
    return status;
}

/* ---- from a corner on ---- */

/* One triangle at the corner, between two ways out of it. */
static enum fw_status see_at_corner(struct fw_walk_ground *ground,
                                    size_t corner, size_t root,
                                    struct fw_walk__ray right,
                                    struct fw_walk__ray left,
                                    struct fw_error *err)
{
    const size_t across = fw_walk__after(corner);
    enum fw_status status =
        see(ground, corner / FW_WALK__SIDES, root, &right, &left, err);
    const size_t ends[] = {across, fw_walk__after(across)};
    for (int e = 0; !status && e < 2; e++) {
        const struct fw_point end = fw_walk__at(ground, ends[e]);
        if (fw_walk__left(right.a, right.b, end) >= 0 &&
            fw_walk__left(left.a, left.b, end) <= 0)
            status = reach(ground, ends[e], root, err);
    }
    return status ? status
                  : look_through(ground, across, root, right, left, err);
}

/* Round to one side, from where they came until the wall: what lies beyond the
 * way straight on was hidden. */
static enum fw_status go_round(struct fw_walk_ground *ground, size_t corner,
                               size_t root, struct fw_point from,
                               bool leftwards, struct fw_error *err)
{
    const struct fw_point here = ground->roots[root].at;
    const struct fw_walk__ray on = {from, here};
    bool hidden = false;
    enum fw_status status = FW_OK;
    for (size_t at = corner; !status && at != FW_NONE;
         at = leftwards ? turn_left(ground, at) : turn_right(ground, at)) {
        const struct fw_walk__ray right = {
            here, fw_walk__at(ground, fw_walk__after(at))};
        const struct fw_walk__ray left = {
            here, fw_walk__at(ground, fw_walk__before(at))};
        const double past =
            fw_walk__left(from, here, leftwards ? left.b : right.b);
        if (hidden)
            status = see_at_corner(ground, at, root, right, left, err);
        else if (leftwards ? past > 0 : past < 0) {
            status = see_at_corner(ground, at, root, leftwards ? on : right,
                                   leftwards ? left : on, err);
            hidden = true;
        }
    }
    return status;
}

static enum fw_status new_root(struct fw_walk_ground *ground,
                               struct fw_point at, double walked_m,
                               struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&ground->roots, &ground->root_capacity,
                         ground->root_count + 1, sizeof *ground->roots, err);
    if (!status)
        ground->roots[ground->root_count++] =
            (struct fw_walk__root){at, walked_m};
    return status;
}

static enum fw_status go_on(struct fw_walk_ground *ground,
                            struct fw_walk__next next, struct fw_error *err)
{
    struct fw_walk__reach *reached = &ground->reached[next.corner];
    if (reached->done || next.walked_m > reached->walked_m)
        return FW_OK;
    reached->done = true;
    const size_t root = ground->root_count;
    const struct fw_point from = ground->roots[reached->root].at;
    const size_t corner = reached->corner;
    enum fw_status status =
        new_root(ground, fw_walk__at(ground, next.corner), next.walked_m, err);
    if (!status)
        status = go_round(ground, corner, root, from, true, err);
    if (!status)
        status = go_round(ground, corner, root, from, false, err);
    return status ? status : pass_all(ground, err);
}

/* ---- from the place ---- */

static bool is_in(const struct fw_walk_ground *ground, size_t triangle,
                  struct fw_point at)
{
    for (size_t i = 0; i < FW_WALK__SIDES; i++) {
        const size_t side = FW_WALK__SIDES * triangle + i;
        if (fw_walk__left(fw_walk__at(ground, side),
                          fw_walk__at(ground, fw_walk__after(side)), at) < 0)
            return false;
    }
    return true;
}

static enum fw_status begin_in(struct fw_walk_ground *ground, size_t triangle,
                               struct fw_error *err)
{
    const struct fw_point at = ground->roots[0].at;
    enum fw_status status = see(ground, triangle, 0, NULL, NULL, err);
    for (size_t i = 0; !status && i < FW_WALK__SIDES; i++) {
        const size_t side = FW_WALK__SIDES * triangle + i;
        const struct fw_walk__ray right = {at, fw_walk__at(ground, side)};
        const struct fw_walk__ray left = {
            at, fw_walk__at(ground, fw_walk__after(side))};
        status = reach(ground, side, 0, err);
        if (!status && fw_walk__left(at, right.b, left.b) > 0)
            status = look_through(ground, side, 0, right, left, err);
    }
    return status;
}

struct nearest {
    struct fw_point at;
    double away_m;
    size_t triangle;
};

static void look_for_side(const struct fw_walk_ground *ground, size_t triangle,
                          struct fw_point from, struct nearest *nearest)
{
    for (size_t i = 0; i < FW_WALK__SIDES; i++) {
        const size_t side = FW_WALK__SIDES * triangle + i;
        const struct fw_point a = fw_walk__at(ground, side);
        const struct fw_point b = fw_walk__at(ground, fw_walk__after(side));
        const struct fw_point way = fw_point_minus(b, a);
        const double square = way.x_m * way.x_m + way.y_m * way.y_m;
        const struct fw_point to = fw_point_minus(from, a);
        const double t =
            square > 0
                ? fmin(1,
                       fmax(0, (to.x_m * way.x_m + to.y_m * way.y_m) / square))
                : 0;
        const struct fw_point at = t >= 1 ? b : fw_point_between(a, b, t);
        const double away_m = fw_point_apart_m(from, at);
        if (away_m < nearest->away_m)
            *nearest = (struct nearest){at, away_m, triangle};
    }
}

static enum fw_status begin_at(struct fw_walk_ground *ground,
                               struct fw_point from, const size_t *cells,
                               size_t count, double reach_m,
                               struct fw_error *err)
{
    struct nearest nearest = {.away_m = HUGE_VAL, .triangle = FW_NONE};
    enum fw_status status = new_root(ground, from, 0, err);
    bool any = false;
    for (size_t k = 0; k < count; k++)
        for (size_t t = ground->first_of_cell[cells[k]];
             !status && t != FW_NONE; t = ground->triangles[t].next) {
            if (is_in(ground, t, from)) {
                any = true;
                status = begin_in(ground, t, err);
            } else if (!any) {
                look_for_side(ground, t, from, &nearest);
            }
        }
    if (status || any || !(nearest.away_m <= reach_m))
        return status;
    ground->roots[0] = (struct fw_walk__root){nearest.at, nearest.away_m};
    return begin_in(ground, nearest.triangle, err);
}

/* ---- all of it ---- */

/* Found by triangle, in the order in which they were. */
static enum fw_status sort_pieces(struct fw_walk_ground *ground,
                                  struct fw_error *err)
{
    for (size_t t = 0; t < ground->triangle_count; t++)
        ground->triangles[t].count = 0;
    for (size_t i = 0; i < ground->piece_count; i++)
        ground->triangles[ground->pieces[i].triangle].count++;
    size_t first = ground->piece_count;
    for (size_t t = 0; t < ground->triangle_count; t++) {
        ground->triangles[t].first = first;
        first += ground->triangles[t].count;
        ground->triangles[t].count = 0;
    }
    const enum fw_status status =
        fw_array_reserve(&ground->pieces, &ground->piece_capacity,
                         2 * ground->piece_count, sizeof *ground->pieces, err);
    if (status)
        return status;
    for (size_t i = 0; i < ground->piece_count; i++) {
        struct fw_walk__triangle *of =
            &ground->triangles[ground->pieces[i].triangle];
        ground->pieces[of->first + of->count++] = ground->pieces[i];
    }
    return FW_OK;
}

static enum fw_status make_room(struct fw_walk_ground *ground,
                                struct fw_error *err)
{
    const size_t sides = FW_WALK__SIDES * ground->triangle_count;
    const enum fw_status status =
        fw_array_reserve(&ground->turns, &ground->turn_capacity, sides,
                         sizeof *ground->turns, err);
    return status
               ? status
               : fw_array_reserve(&ground->reached, &ground->reached_capacity,
                                  sides, sizeof *ground->reached, err);
}

enum fw_status fw_walk_search(struct fw_walk_ground *ground,
                              const struct fw_walk_start *start, size_t goal,
                              struct fw_error *err)
{
    ground->search++;
    ground->goal = goal;
    ground->root_count = ground->piece_count = 0;
    ground->wedge_count = ground->heap_count = 0;
    enum fw_status status = make_room(ground, err);
    if (!status)
        status = begin_at(ground, start->at, start->cells, start->count,
                          start->reach_m, err);
    if (!status)
        status = pass_all(ground, err);
    while (!status && ground->heap_count > 0)
        status = go_on(ground, pop(ground), err);
    return status ? status : sort_pieces(ground, err);
}
