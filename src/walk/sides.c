/* Which half-sides lie on each other, which line runs there, and where it is
 * open. */
#include "walk/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "geo/points.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* An opening's end so near to a corner is there. */
static const double same_m = FW_TOLERANCE(1e-6);

enum fw_status fw_walk__make_room(struct fw_walk_ground *ground,
                                  size_t triangles, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&ground->triangles, &ground->triangle_capacity,
                         triangles, sizeof *ground->triangles, err);
    return status ? status
                  : fw_array_reserve(&ground->sides, &ground->side_capacity,
                                     FW_WALK__SIDES * triangles,
                                     sizeof *ground->sides, err);
}

enum fw_status fw_walk__add_triangle(struct fw_walk_ground *ground, size_t cell,
                                     const size_t points[FW_WALK__SIDES],
                                     size_t *out, struct fw_error *err)
{
    const size_t number = ground->triangle_count;
    const enum fw_status status = fw_walk__make_room(ground, number + 1, err);
    if (status)
        return status;
    for (size_t i = 0; i < FW_WALK__SIDES; i++)
        ground->sides[FW_WALK__SIDES * number + i] =
            (struct fw_walk__side){.point = points[i],
                                   .beyond = FW_NONE,
                                   .line = FW_NONE,
                                   .next = FW_NONE};
    ground->triangles[number] = (struct fw_walk__triangle){
        .cell = cell, .next = ground->first_of_cell[cell]};
    ground->first_of_cell[cell] = number;
    ground->triangle_count++;
    *out = number;
    return FW_OK;
}

/* ---- sides by their ends ---- */

struct table {
    const struct fw_walk_ground *ground;
    size_t *of;  /* half-sides; FW_NONE: nothing is here */
    size_t room; /* a power of two */
};

static uint64_t bits(double x)
{
    uint64_t of;
    const double plain = x + 0.0; /* no minus before nothing */
    memcpy(&of, &plain, sizeof of);
    return of;
}

static size_t place_of(const struct table *table, struct fw_point from,
                       struct fw_point to)
{
    uint64_t key = bits(from.x_m);
    key = (key ^ (key >> 29)) * 0x9e3779b97f4a7c15U + bits(from.y_m);
    key = (key ^ (key >> 32)) * 0xbf58476d1ce4e5b9U + bits(to.x_m);
    key = (key ^ (key >> 29)) * 0x9e3779b97f4a7c15U + bits(to.y_m);
    key = (key ^ (key >> 32)) * 0x94d049bb133111ebU;
    return (size_t)(key ^ (key >> 31)) & (table->room - 1);
}

static bool is_same(struct fw_point a, struct fw_point b)
{
    return a.x_m == b.x_m && a.y_m == b.y_m;
}

static bool is_at(const struct fw_walk_ground *ground, size_t side,
                  struct fw_point from, struct fw_point to)
{
    return is_same(fw_walk__at(ground, side), from) &&
           is_same(fw_walk__at(ground, fw_walk__after(side)), to);
}

/* Where it is, or belongs. */
static size_t *find(const struct table *table, struct fw_point from,
                    struct fw_point to)
{
    size_t at = place_of(table, from, to);
    while (table->of[at] != FW_NONE &&
           !is_at(table->ground, table->of[at], from, to))
        at = (at + 1) & (table->room - 1);
    return &table->of[at];
}

static enum fw_status make_table(struct table *table, size_t count,
                                 struct fw_error *err)
{
    table->room = 2;
    while (table->room < 2 * (count + 1))
        table->room *= 2;
    table->of = fw_alloc(table->room, sizeof *table->of);
    if (!table->of)
        return fw_fail_memory(err);
    for (size_t i = 0; i < table->room; i++)
        table->of[i] = FW_NONE;
    return FW_OK;
}

static void take_rings(const struct table *table, const size_t *ring_side,
                       size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (ring_side[i] != FW_NONE)
            *find(table, fw_walk__at(table->ground, ring_side[i]),
                  fw_walk__at(table->ground, fw_walk__after(ring_side[i]))) =
                ring_side[i];
}

static void join(struct fw_walk_ground *ground, size_t line, size_t a, size_t b,
                 double from_m, double to_m)
{
    struct fw_walk__side *ahead = &ground->sides[a], *back = &ground->sides[b];
    ahead->beyond = b;
    back->beyond = a;
    ahead->line = back->line = line;
    ahead->from_m = back->to_m = from_m;
    ahead->to_m = back->from_m = to_m;
    ahead->next = ground->first_of_line[line];
    ground->first_of_line[line] = a;
}

static void join_line(struct fw_walk_ground *ground,
                      const struct fw_walk_map *map, const struct table *table,
                      size_t line)
{
    double at_m = 0;
    for (size_t i = map->line_start[line]; i + 1 < map->line_start[line + 1];
         i++) {
        const struct fw_point from = map->line_points[i];
        const struct fw_point to = map->line_points[i + 1];
        const double end_m = at_m + fw_point_apart_m(from, to);
        const size_t a = *find(table, from, to);
        const size_t b = *find(table, to, from);
        if (a != FW_NONE && b != FW_NONE &&
            ground->sides[a].beyond == FW_NONE &&
            ground->sides[b].beyond == FW_NONE)
            join(ground, line, a, b, at_m, end_m);
        at_m = end_m;
    }
}

enum fw_status fw_walk__join(struct fw_walk_ground *ground,
                             const struct fw_walk_map *map,
                             const size_t *ring_side, struct fw_error *err)
{
    struct table table = {.ground = ground};
    const size_t count = map->ring_start[map->cell_ring[map->cell_count]];
    const enum fw_status status = make_table(&table, count, err);
    if (status)
        return status;
    take_rings(&table, ring_side, count);
    for (size_t l = 0; l < map->line_count; l++)
        join_line(ground, map, &table, l);
    fw_free(table.of);
    return FW_OK;
}

/* ---- what is open ---- */

static bool is_open(const struct fw_walk_ground *ground,
                    const struct fw_walk__side *side)
{
    const double middle_m = (side->from_m + side->to_m) / 2;
    for (size_t i = ground->open_of_line[side->line]; i != FW_NONE;
         i = ground->openings[i].next)
        if (middle_m > ground->openings[i].from_m &&
            middle_m < ground->openings[i].to_m)
            return true;
    return false;
}

static void change(struct fw_walk_ground *ground, size_t line)
{
    if (!ground->changed[line])
        ground->changes[ground->change_count++] = line;
    ground->changed[line] = true;
}

static bool is_let_through(const struct fw_walk_ground *ground, size_t side)
{
    const struct fw_walk__side *of = &ground->sides[side];
    return !ground->stands[of->line] || is_open(ground, of);
}

bool fw_walk__is_seen(const struct fw_walk_ground *ground, size_t corner)
{
    size_t at = corner;
    do {
        if (fw_walk__first(ground, at / FW_WALK__SIDES) != FW_NONE)
            return true;
        at = fw_walk__turn_left(ground, at);
    } while (at != FW_NONE && at != corner);
    for (at = corner; at != FW_NONE; at = fw_walk__turn_right(ground, at)) {
        if (fw_walk__first(ground, at / FW_WALK__SIDES) != FW_NONE)
            return true;
        if (fw_walk__turn_right(ground, at) == corner)
            break;
    }
    return false;
}

/* A line that goes up where nobody comes takes nothing from what was found. */
static bool shuts_off(const struct fw_walk_ground *ground, size_t line)
{
    for (size_t s = ground->first_of_line[line]; s != FW_NONE;
         s = ground->sides[s].next)
        if (ground->sides[s].open && !is_let_through(ground, s) &&
            (fw_walk__is_seen(ground, s) ||
             fw_walk__is_seen(ground, fw_walk__after(s))))
            return true;
    return false;
}

static enum fw_status settle_line(struct fw_walk_ground *ground, size_t line,
                                  struct fw_error *err)
{
    for (size_t s = ground->first_of_line[line]; s != FW_NONE;
         s = ground->sides[s].next) {
        struct fw_walk__side *of = &ground->sides[s];
        const bool open = is_let_through(ground, s);
        const enum fw_status status = fw_array_reserve(
            &ground->opened, &ground->opened_capacity, ground->opened_count + 1,
            sizeof *ground->opened, err);
        if (status)
            return status;
        if (open && !of->open)
            ground->opened[ground->opened_count++] = s;
        of->open = ground->sides[of->beyond].open = open;
    }
    ground->changed[line] = false;
    return FW_OK;
}

enum fw_status fw_walk__settle(struct fw_walk_ground *ground, bool *shrunk,
                               struct fw_error *err)
{
    *shrunk = false;
    ground->opened_count = 0;
    for (size_t i = 0; i < ground->change_count && !*shrunk; i++)
        *shrunk = shuts_off(ground, ground->changes[i]);
    for (; ground->change_count > 0; ground->change_count--) {
        const enum fw_status status =
            settle_line(ground, ground->changes[ground->change_count - 1], err);
        if (status)
            return status;
    }
    return FW_OK;
}

void fw_walk_stand(struct fw_walk_ground *ground, size_t line, bool stands)
{
    if (ground->stands[line] == stands)
        return;
    ground->stands[line] = stands;
    change(ground, line);
}

void fw_walk_shut(struct fw_walk_ground *ground)
{
    for (size_t i = 0; i < ground->opening_count; i++) {
        ground->open_of_line[ground->openings[i].line] = FW_NONE;
        change(ground, ground->openings[i].line);
    }
    ground->opening_count = 0;
}

/* The triangle of that half-side becomes two; the new one has the half-side's
 * second part. */
static enum fw_status halve(struct fw_walk_ground *ground, size_t side,
                            size_t point, double at_m, size_t *out,
                            struct fw_error *err)
{
    const size_t after = fw_walk__after(side), before = fw_walk__before(side);
    const size_t cell = ground->triangles[side / FW_WALK__SIDES].cell;
    const size_t points[] = {point, ground->sides[after].point,
                             ground->sides[before].point};
    size_t triangle;
    const enum fw_status status =
        fw_walk__add_triangle(ground, cell, points, &triangle, err);
    if (status)
        return status;
    struct fw_walk__side *sides = ground->sides;
    const size_t second = FW_WALK__SIDES * triangle;
    const size_t far = fw_walk__after(second), inner = fw_walk__before(second);
    struct fw_walk__side *moved = &sides[far];
    const size_t kept = moved->point;
    *moved = sides[after]; /* with its line; what is chained is mended below */
    moved->point = kept;
    if (moved->beyond != FW_NONE)
        sides[moved->beyond].beyond = far;
    if (moved->line != FW_NONE)
        for (size_t *at = &ground->first_of_line[moved->line]; *at != FW_NONE;
             at = &sides[*at].next)
            if (*at == after) {
                *at = far;
                break;
            }
    sides[after] = (struct fw_walk__side){
        .point = point, .beyond = inner, .line = FW_NONE, .next = FW_NONE};
    sides[inner].beyond = after;
    sides[second].line = sides[side].line;
    sides[second].from_m = at_m;
    sides[second].to_m = sides[side].to_m;
    sides[side].to_m = at_m;
    *out = second;
    return FW_OK;
}

/* Both of the triangles at a half-side, at that place along its line. */
static enum fw_status split(struct fw_walk_ground *ground, size_t side,
                            double at_m, struct fw_error *err)
{
    const struct fw_walk__side *of = &ground->sides[side];
    const double share = (at_m - of->from_m) / (of->to_m - of->from_m);
    const size_t beyond = of->beyond, line = of->line;
    const size_t point = ground->point_count;
    size_t second, other;
    ground->found = false; /* pieces are of whole triangles */
    enum fw_status status =
        fw_array_reserve(&ground->points, &ground->point_capacity, point + 1,
                         sizeof *ground->points, err);
    if (status)
        return status;
    ground->points[ground->point_count++] =
        fw_point_between(fw_walk__at(ground, side),
                         fw_walk__at(ground, fw_walk__after(side)), share);
    status = halve(ground, side, point, at_m, &second, err);
    if (!status)
        status = halve(ground, beyond, point, at_m, &other, err);
    if (status)
        return status;
    ground->sides[side].beyond = other;
    ground->sides[other].beyond = side;
    ground->sides[second].beyond = beyond;
    ground->sides[beyond].beyond = second;
    ground->sides[second].next = ground->first_of_line[line];
    ground->first_of_line[line] = second;
    return FW_OK;
}

static enum fw_status part_at(struct fw_walk_ground *ground, size_t line,
                              double at_m, struct fw_error *err)
{
    for (size_t s = ground->first_of_line[line]; s != FW_NONE;
         s = ground->sides[s].next)
        if (at_m > ground->sides[s].from_m + same_m &&
            at_m < ground->sides[s].to_m - same_m)
            return split(ground, s, at_m, err);
    return FW_OK;
}

enum fw_status fw_walk_open(struct fw_walk_ground *ground, size_t line,
                            double from_m, double to_m, struct fw_error *err)
{
    enum fw_status status = fw_array_reserve(
        &ground->openings, &ground->opening_capacity, ground->opening_count + 1,
        sizeof *ground->openings, err);
    if (!status)
        status = part_at(ground, line, from_m, err);
    if (!status)
        status = part_at(ground, line, to_m, err);
    if (status)
        return status;
    ground->openings[ground->opening_count] =
        (struct fw_walk__opening){.line = line,
                                  .from_m = from_m,
                                  .to_m = to_m,
                                  .next = ground->open_of_line[line]};
    ground->open_of_line[line] = ground->opening_count++;
    change(ground, line);
    return FW_OK;
}
