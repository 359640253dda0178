/* The search itself: from the place on, and then from every corner about which
 * a way can turn, the nearest first. From each only that ground is passed which
 * lies behind the corner for whoever comes along the shortest way to it. */
#include "walk/inner.h"

#include "base/array.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* ---- what is reached ---- */

/* Whatever was seen from that corner is nearer by another root. */
static void beat(struct fw_walk_ground *ground,
                 const struct fw_walk__reach *reached)
{
    if (reached->as_root != FW_NONE)
        ground->roots[reached->as_root].beaten = true;
}

/* Corners about which no way turns are reached too: they may when the ground
 * has grown. */
static enum fw_status reach(struct fw_walk_ground *ground, size_t corner,
                            size_t root, struct fw_error *err)
{
    const struct fw_walk__corner here = fw_walk__about(ground, corner);
    if (here.first == FW_NONE)
        return FW_OK;
    struct fw_walk__reach *reached = &ground->reached[here.first];
    const double walked_m =
        ground->roots[root].walked_m +
        fw_point_apart_m(ground->roots[root].at, fw_walk__at(ground, corner));
    const bool known = reached->search == ground->search;
    if (known && reached->walked_m <= walked_m)
        return FW_OK;
    if (known)
        beat(ground, reached);
    *reached = (struct fw_walk__reach){.search = ground->search,
                                       .walked_m = walked_m,
                                       .root = root,
                                       .corner = corner,
                                       .as_root = FW_NONE};
    return here.turns
               ? fw_walk__push(
                     ground, (struct fw_walk__next){walked_m, here.first}, err)
               : FW_OK;
}

/* ---- what is seen ---- */

static enum fw_status see(struct fw_walk_ground *ground, size_t triangle,
                          size_t root, const struct fw_walk__ray *right,
                          const struct fw_walk__ray *left, struct fw_error *err)
{
    struct fw_walk__triangle *of = &ground->triangles[triangle];
    const size_t index = ground->piece_count;
    const enum fw_status status =
        fw_array_reserve(&ground->pieces, &ground->piece_capacity, index + 1,
                         sizeof *ground->pieces, err);
    if (status)
        return status;
    struct fw_walk__piece *piece = &ground->pieces[ground->piece_count++];
    *piece = (struct fw_walk__piece){
        .triangle = triangle, .root = root, .next = FW_NONE, .whole = !right};
    if (right) {
        piece->right = *right;
        piece->left = *left;
    }
    if (of->search == ground->search)
        ground->pieces[of->last].next = index;
    else
        of->first = index;
    of->search = ground->search;
    of->last = index;
    ground->passed++;
    return FW_OK;
}

static enum fw_status add_wedge(struct fw_walk__wedge **wedges, size_t *count,
                                size_t *capacity, struct fw_walk__wedge wedge,
                                struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(wedges, capacity, *count + 1, sizeof **wedges, err);
    if (!status)
        (*wedges)[(*count)++] = wedge;
    return status;
}

/* What a line holds up goes on when it is taken down. */
static enum fw_status hold(struct fw_walk_ground *ground,
                           struct fw_walk__wedge wedge, struct fw_error *err)
{
    struct fw_walk__held *held = &ground->held[wedge.side];
    wedge.next = held->search == ground->search ? held->first : FW_NONE;
    *held = (struct fw_walk__held){ground->search, ground->waiting_count};
    return add_wedge(&ground->waiting, &ground->waiting_count,
                     &ground->waiting_capacity, wedge, err);
}

static enum fw_status look_through(struct fw_walk_ground *ground, size_t side,
                                   size_t root, struct fw_walk__ray right,
                                   struct fw_walk__ray left,
                                   struct fw_error *err)
{
    const struct fw_walk__wedge wedge = {side, root, FW_NONE, right, left};
    if (ground->sides[side].beyond == FW_NONE)
        return FW_OK;
    return fw_walk__passable(ground, side)
               ? add_wedge(&ground->wedges, &ground->wedge_count,
                           &ground->wedge_capacity, wedge, err)
               : hold(ground, wedge, err);
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
         at = leftwards ? fw_walk__turn_left(ground, at)
                        : fw_walk__turn_right(ground, at)) {
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
                               struct fw_point at, double walked_m, size_t from,
                               struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&ground->roots, &ground->root_capacity,
                         ground->root_count + 1, sizeof *ground->roots, err);
    if (!status)
        ground->roots[ground->root_count++] =
            (struct fw_walk__root){at, walked_m, from, false};
    return status;
}

static enum fw_status go_on(struct fw_walk_ground *ground,
                            struct fw_walk__next next, struct fw_error *err)
{
    struct fw_walk__reach *reached = &ground->reached[next.corner];
    if (reached->search != ground->search || reached->as_root != FW_NONE ||
        next.walked_m > reached->walked_m)
        return FW_OK;
    const size_t root = ground->root_count;
    reached->as_root = root;
    const struct fw_point from = ground->roots[reached->root].at;
    const size_t corner = reached->corner;
    enum fw_status status = new_root(ground, fw_walk__at(ground, next.corner),
                                     next.walked_m, reached->root, err);
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
                               const struct fw_walk_start *start,
                               struct fw_error *err)
{
    struct nearest nearest = {.away_m = HUGE_VAL, .triangle = FW_NONE};
    const struct fw_point from = start->at;
    enum fw_status status = new_root(ground, from, 0, FW_NONE, err);
    bool any = false;
    for (size_t k = 0; k < start->count; k++)
        for (size_t t = ground->first_of_cell[start->cells[k]];
             !status && t != FW_NONE; t = ground->triangles[t].next) {
            if (is_in(ground, t, from)) {
                any = true;
                status = begin_in(ground, t, err);
            } else if (!any) {
                look_for_side(ground, t, from, &nearest);
            }
        }
    if (status || any || !(nearest.away_m <= start->reach_m))
        return status;
    ground->roots[0] =
        (struct fw_walk__root){nearest.at, nearest.away_m, FW_NONE, false};
    return begin_in(ground, nearest.triangle, err);
}

/* ---- over ground that has grown ---- */

/* Corners that were parted are one now: of the ways to them the shortest
 * counts, and what is seen from there is more. */
static enum fw_status merge(struct fw_walk_ground *ground, size_t corner,
                            struct fw_error *err)
{
    ground->turns[corner].search = 0;
    const struct fw_walk__corner here = fw_walk__about(ground, corner);
    struct fw_walk__reach best = {.walked_m = HUGE_VAL};
    for (size_t at = here.first; at != FW_NONE;
         at = fw_walk__turn_left(ground, at)) {
        struct fw_walk__reach *reached = &ground->reached[at];
        if (reached->search != ground->search)
            continue;
        if (here.turns)
            beat(ground, reached);
        if (reached->walked_m < best.walked_m)
            best = *reached;
        reached->search = 0;
    }
    if (best.walked_m == HUGE_VAL)
        return FW_OK;
    if (here.turns)
        best.as_root = FW_NONE;
    ground->reached[here.first] = best;
    return here.turns
               ? fw_walk__push(
                     ground, (struct fw_walk__next){best.walked_m, here.first},
                     err)
               : FW_OK;
}

static enum fw_status resume(struct fw_walk_ground *ground, size_t side,
                             struct fw_error *err)
{
    struct fw_walk__held *held = &ground->held[side];
    enum fw_status status = FW_OK;
    size_t next = held->search == ground->search ? held->first : FW_NONE;
    held->search = 0;
    while (!status && next != FW_NONE) {
        const struct fw_walk__wedge wedge = ground->waiting[next];
        if (!ground->roots[wedge.root].beaten)
            status = look_through(ground, side, wedge.root, wedge.right,
                                  wedge.left, err);
        next = wedge.next;
    }
    return status;
}

static enum fw_status go_further(struct fw_walk_ground *ground,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < ground->opened_count; i++) {
        const size_t ends[] = {ground->opened[i],
                               fw_walk__after(ground->opened[i])};
        for (int e = 0; !status && e < 2; e++)
            if (fw_walk__is_seen(ground, ends[e]))
                status = merge(ground, ends[e], err);
    }
    for (size_t i = 0; !status && i < ground->opened_count; i++) {
        const size_t side = ground->opened[i];
        status = resume(ground, side, err);
        if (!status)
            status = resume(ground, ground->sides[side].beyond, err);
    }
    return status;
}

/* ---- all of it ---- */

static enum fw_status make_room(struct fw_walk_ground *ground,
                                struct fw_error *err)
{
    const size_t sides = FW_WALK__SIDES * ground->triangle_count;
    enum fw_status status =
        fw_array_reserve(&ground->turns, &ground->turn_capacity, sides,
                         sizeof *ground->turns, err);
    if (!status)
        status = fw_array_reserve(&ground->reached, &ground->reached_capacity,
                                  sides, sizeof *ground->reached, err);
    return status ? status
                  : fw_array_reserve(&ground->held, &ground->held_capacity,
                                     sides, sizeof *ground->held, err);
}

static bool is_same_start(const struct fw_walk_start *a,
                          const struct fw_walk_start *b)
{
    return a->at.x_m == b->at.x_m && a->at.y_m == b->at.y_m &&
           a->reach_m == b->reach_m && a->count == b->count &&
           (a->count == 0 ||
            memcmp(a->cells, b->cells, a->count * sizeof *a->cells) == 0);
}

static enum fw_status begin(struct fw_walk_ground *ground,
                            const struct fw_walk_start *start,
                            struct fw_error *err)
{
    enum fw_status status =
        fw_array_reserve(&ground->start_cells, &ground->start_capacity,
                         start->count, sizeof *ground->start_cells, err);
    if (!status)
        status = make_room(ground, err);
    if (status)
        return status;
    if (start->count > 0)
        memcpy(ground->start_cells, start->cells,
               start->count * sizeof *start->cells);
    ground->start = *start;
    ground->start.cells = ground->start_cells;
    ground->search++;
    ground->root_count = ground->piece_count = ground->waiting_count = 0;
    return begin_at(ground, start, err);
}

enum fw_status fw_walk_search(struct fw_walk_ground *ground,
                              const struct fw_walk_start *start,
                              struct fw_error *err)
{
    bool shrunk;
    const bool found = ground->found;
    ground->found = false;
    ground->wedge_count = ground->heap_count = 0;
    enum fw_status status = fw_walk__settle(ground, &shrunk, err);
    if (!status)
        status = found && !shrunk && is_same_start(&ground->start, start)
                     ? go_further(ground, err)
                     : begin(ground, start, err);
    if (!status)
        status = pass_all(ground, err);
    while (!status && ground->heap_count > 0)
        status = go_on(ground, fw_walk__pop(ground), err);
    ground->found = !status;
    return status;
}
