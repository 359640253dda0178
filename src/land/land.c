/* From rings and lines to cells and doors. Who lies beside a piece of line is
 * found by the rings' sides, sorted: the ground to the left of a piece has it
 * as a side in the same direction. */
#include "land/land.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>

/* A gate or a trough so near to a ring belongs to it: common practice. */
static const double reach_m = 1;

struct side {
    size_t from, to, cell;
};

/* What serves while one field is taken over. */
struct taking {
    const struct fw_land_map *map;
    size_t field;
    size_t *cell_of; /* of each of the map's cells, its number in the land */
    struct side *sides;
    size_t side_count;
    size_t *host; /* of each point, from 1, the line that passes it; 0: none */
};

/* ---- room ---- */

static bool is_paddock(const struct fw_land_map *map, size_t cell)
{
    return map->kinds[cell] == FW_CELL_PADDOCK;
}

static enum fw_status make_room(const struct fw_land_map *maps, size_t count,
                                struct fw_land *land, struct fw_error *err)
{
    size_t rings = 0, ring_points = 0, line_points = 0;
    for (size_t f = 0; f < count; f++) {
        const struct fw_land_map *map = &maps[f];
        land->cell_count += map->cell_count;
        land->line_count += map->line_count;
        rings += map->cell_ring[map->cell_count];
        ring_points += map->ring_start[map->cell_ring[map->cell_count]];
        for (size_t l = 0; l < map->line_count; l++)
            line_points += map->lines[l].count;
    }
    land->field_count = count;
    land->fields = fw_alloc(count, sizeof *land->fields);
    land->cells = fw_alloc(land->cell_count, sizeof *land->cells);
    land->lines = fw_alloc(land->line_count, sizeof *land->lines);
    land->doors = fw_alloc(line_points, sizeof *land->doors);
    land->doors_of = fw_alloc(2 * line_points, sizeof *land->doors_of);
    land->line_points = fw_alloc(line_points, sizeof *land->line_points);
    land->line_at_m = fw_alloc(line_points, sizeof *land->line_at_m);
    land->ring_points = fw_alloc(ring_points, sizeof *land->ring_points);
    land->ring_start = fw_alloc(rings + 1, sizeof *land->ring_start);
    return land->fields && land->cells && land->lines && land->doors &&
                   land->doors_of && land->line_points && land->line_at_m &&
                   land->ring_points && land->ring_start
               ? FW_OK
               : fw_fail_memory(err);
}

/* ---- cells ---- */

/* Even-odd over all rings, so that a pond is no ground. */
static bool is_at(const struct fw_land *land, const struct fw_cell *cell,
                  struct fw_point at)
{
    bool inside = false;
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const size_t end = land->ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = land->ring_start[r]; i < end; before = i++) {
            const struct fw_point a = land->ring_points[before];
            const struct fw_point b = land->ring_points[i];
            if (fw_segment_distance_m(at, a, b) <= reach_m)
                return true;
            if ((a.y_m > at.y_m) != (b.y_m > at.y_m) &&
                at.x_m < a.x_m + (at.y_m - a.y_m) * (b.x_m - a.x_m) /
                                     (b.y_m - a.y_m))
                inside = !inside;
        }
    }
    return inside;
}

static void take_cell(struct fw_land *land, const struct fw_land_map *map,
                      size_t field, size_t k, size_t number, size_t *rings)
{
    struct fw_cell *cell = &land->cells[number];
    *cell = (struct fw_cell){
        .field = field,
        .kind = map->kinds[k],
        .first_ring = *rings,
        .ring_count = map->cell_ring[k + 1] - map->cell_ring[k],
    };
    for (size_t r = map->cell_ring[k]; r < map->cell_ring[k + 1]; r++) {
        size_t at = land->ring_start[*rings];
        for (size_t i = map->ring_start[r]; i < map->ring_start[r + 1]; i++)
            land->ring_points[at++] = map->points[map->ring_vertices[i]];
        land->ring_start[++*rings] = at;
    }
    cell->at_gate = map->gate && is_at(land, cell, *map->gate);
    cell->at_water = map->water && is_at(land, cell, *map->water);
}

/* All paddocks of all fields, then all that is common. */
static void take_cells(struct fw_land *land, const struct fw_land_map *maps,
                       size_t count, size_t **cell_of)
{
    size_t number = 0, rings = 0;
    for (int common = 0; common < 2; common++)
        for (size_t f = 0; f < count; f++) {
            struct fw_land_field *field = &land->fields[f];
            const size_t first = number;
            for (size_t k = 0; k < maps[f].cell_count; k++)
                if (is_paddock(&maps[f], k) == (common == 0)) {
                    cell_of[f][k] = number;
                    take_cell(land, &maps[f], f, k, number++, &rings);
                }
            *(common ? &field->first_common : &field->first_paddock) = first;
            *(common ? &field->common_count : &field->paddock_count) =
                number - first;
        }
}

/* ---- sides ---- */

static int by_ends(const void *left, const void *right)
{
    const struct side *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

static enum fw_status sort_sides(struct taking *taking, struct fw_error *err)
{
    const struct fw_land_map *map = taking->map;
    const size_t all = map->ring_start[map->cell_ring[map->cell_count]];
    taking->sides = fw_alloc(all, sizeof *taking->sides);
    taking->host = fw_alloc(map->point_count, sizeof *taking->host);
    if (!taking->sides || !taking->host)
        return fw_fail_memory(err);
    for (size_t k = 0; k < map->cell_count; k++)
        for (size_t r = map->cell_ring[k]; r < map->cell_ring[k + 1]; r++) {
            const size_t first = map->ring_start[r];
            const size_t end = map->ring_start[r + 1];
            /* Of ground behind a front nothing is known but the front: its ring
             * is not closed. That of two points would lie on both sides. */
            const bool open = map->kinds[k] == FW_CELL_GRAZED;
            for (size_t i = first; i + open < end; i++)
                taking->sides[taking->side_count++] = (struct side){
                    map->ring_vertices[i],
                    map->ring_vertices[i + 1 < end ? i + 1 : first],
                    taking->cell_of[k]};
        }
    if (taking->side_count > 0)
        qsort(taking->sides, taking->side_count, sizeof *taking->sides,
              by_ends);
    return FW_OK;
}

static size_t left_of(const struct taking *taking, size_t from, size_t to)
{
    const struct side key = {from, to, 0};
    const struct side *found =
        bsearch(&key, taking->sides, taking->side_count, sizeof key, by_ends);
    return found ? found->cell : FW_NONE;
}

/* ---- lines and their doors ---- */

static void add_door(struct fw_land *land, const struct fw_door *door)
{
    struct fw_land_line *line = &land->lines[door->line];
    if (line->door_count > 0) {
        struct fw_door *last = &land->doors[land->door_count - 1];
        if (last->a == door->a && last->b == door->b) {
            last->to_m = door->to_m;
            return;
        }
    }
    land->doors[land->door_count++] = *door;
    line->door_count++;
}

static void take_line(struct fw_land *land, const struct taking *taking,
                      size_t k, size_t number, size_t *points)
{
    const struct fw_land_map_line *from = &taking->map->lines[k];
    struct fw_land_line *line = &land->lines[number];
    *line = (struct fw_land_line){
        .field = taking->field,
        .role = from->role,
        .first = *points,
        .count = from->count,
        .host = {FW_NONE, FW_NONE},
        .feeds = {from->feeds[0], from->feeds[1]},
        .first_door = land->door_count,
        .work = from->work,
    };
    for (size_t i = 0; i < from->count; i++)
        land->line_points[(*points)++] = taking->map->points[from->vertices[i]];
    const struct fw_point *at = land->line_points + line->first;
    double *at_m = land->line_at_m + line->first;
    for (size_t i = 0; i + 1 < from->count; i++) {
        const double from_m = line->length_m;
        line->length_m += fw_point_apart_m(at[i], at[i + 1]);
        at_m[i + 1] = line->length_m;
        const size_t a =
            left_of(taking, from->vertices[i], from->vertices[i + 1]);
        const size_t b =
            left_of(taking, from->vertices[i + 1], from->vertices[i]);
        if (a != FW_NONE && b != FW_NONE && a != b)
            add_door(land,
                     &(struct fw_door){number, a, b, from_m, line->length_m});
    }
}

/* Where a line passes, others can end: not at its ends, unless they are one. */
static void mark_hosts(struct taking *taking)
{
    const struct fw_land_map *map = taking->map;
    for (size_t k = 0; k < map->line_count; k++) {
        const struct fw_land_map_line *line = &map->lines[k];
        if (line->role == FW_LAND_EDGE || line->count < 2)
            continue;
        const size_t last = line->count - 1;
        const size_t from = line->vertices[0] != line->vertices[last];
        for (size_t i = from; i < last; i++)
            taking->host[line->vertices[i]] = k + 1;
    }
}

/* Lines of one field are numbered one after the other from `first` on. */
static void find_hosts(struct fw_land *land, struct taking *taking,
                       size_t first)
{
    const struct fw_land_map *map = taking->map;
    mark_hosts(taking);
    for (size_t k = 0; k < map->line_count; k++) {
        const struct fw_land_map_line *line = &map->lines[k];
        if (line->role == FW_LAND_EDGE || line->count < 2)
            continue;
        const size_t ends[2] = {line->vertices[0],
                                line->vertices[line->count - 1]};
        for (int e = 0; e < 2; e++)
            if (taking->host[ends[e]] && taking->host[ends[e]] != k + 1)
                land->lines[first + k].host[e] =
                    first + taking->host[ends[e]] - 1;
    }
}

/* ---- depths ---- */

enum mark { unseen, on_the_way, done };

/* On to a line that holds this one and was not seen. One that is on the way
 * holds this line in a ring, and no line can wait for itself: there this end is
 * left to an anchor. */
static size_t next_host(struct fw_land *land, const enum mark *marks,
                        size_t index)
{
    struct fw_land_line *line = &land->lines[index];
    for (int e = 0; e < 2; e++) {
        if (line->host[e] == FW_NONE)
            continue;
        if (marks[line->host[e]] == unseen)
            return line->host[e];
        if (marks[line->host[e]] == on_the_way)
            line->host[e] = FW_NONE;
    }
    return FW_NONE;
}

static void settle_depth(struct fw_land *land, size_t index)
{
    struct fw_land_line *line = &land->lines[index];
    for (int e = 0; e < 2; e++)
        if (line->host[e] != FW_NONE &&
            line->depth <= land->lines[line->host[e]].depth)
            line->depth = land->lines[line->host[e]].depth + 1;
}

/* Each line once, after those that hold it. */
static enum fw_status find_depths(struct fw_land *land, struct fw_error *err)
{
    enum mark *marks = fw_alloc(land->line_count, sizeof *marks);
    size_t *way = fw_alloc(land->line_count, sizeof *way);
    enum fw_status status = marks && way ? FW_OK : fw_fail_memory(err);
    for (size_t l = 0; !status && l < land->line_count; l++) {
        size_t count = 0;
        if (marks[l] == unseen)
            way[count++] = l;
        while (count > 0) {
            const size_t line = way[count - 1];
            marks[line] = on_the_way;
            const size_t host = next_host(land, marks, line);
            if (host != FW_NONE) {
                way[count++] = host;
                continue;
            }
            settle_depth(land, line);
            marks[line] = done;
            count--;
        }
    }
    fw_free(marks);
    fw_free(way);
    return status;
}

static void take_lines(struct fw_land *land, struct taking *taking,
                       size_t *lines, size_t *points)
{
    const size_t first = *lines;
    land->fields[taking->field].first_line = first;
    land->fields[taking->field].line_count = taking->map->line_count;
    for (size_t k = 0; k < taking->map->line_count; k++)
        take_line(land, taking, k, (*lines)++, points);
    find_hosts(land, taking, first);
}

/* ---- all of it ---- */

static void take_spot(const struct fw_point *from, bool *given,
                      struct fw_point *to)
{
    *given = from != NULL;
    if (from)
        *to = *from;
}

static void index_doors(struct fw_land *land)
{
    for (size_t d = 0; d < land->door_count; d++) {
        land->cells[land->doors[d].a].door_count++;
        land->cells[land->doors[d].b].door_count++;
    }
    size_t at = 0;
    for (size_t c = 0; c < land->cell_count; c++) {
        land->cells[c].first_door = at;
        at += land->cells[c].door_count;
        land->cells[c].door_count = 0;
    }
    for (size_t d = 0; d < land->door_count; d++) {
        const size_t both[2] = {land->doors[d].a, land->doors[d].b};
        for (int k = 0; k < 2; k++) {
            struct fw_cell *cell = &land->cells[both[k]];
            land->doors_of[cell->first_door + cell->door_count++] = d;
        }
    }
}

static enum fw_status fill(const struct fw_land_map *maps, size_t count,
                           struct fw_land *land, size_t **cell_of,
                           struct fw_error *err)
{
    enum fw_status status = FW_OK;
    size_t lines = 0, points = 0;
    take_cells(land, maps, count, cell_of);
    for (size_t f = 0; !status && f < count; f++) {
        struct taking taking = {
            .map = &maps[f], .field = f, .cell_of = cell_of[f]};
        struct fw_land_field *field = &land->fields[f];
        field->whole = maps[f].whole;
        take_spot(maps[f].gate, &field->gate_given, &field->gate);
        take_spot(maps[f].water, &field->water_given, &field->water);
        take_spot(maps[f].park, &field->park_given, &field->park);
        take_spot(maps[f].come, &field->come_given, &field->come);
        status = sort_sides(&taking, err);
        if (!status)
            take_lines(land, &taking, &lines, &points);
        fw_free(taking.sides);
        fw_free(taking.host);
    }
    if (!status)
        status = find_depths(land, err);
    if (!status)
        index_doors(land);
    return status;
}

enum fw_status fw_land_new(const struct fw_land_map *maps, size_t count,
                           struct fw_land *out, struct fw_error *err)
{
    struct fw_land land = {0};
    enum fw_status status = make_room(maps, count, &land, err);
    size_t **cell_of = fw_alloc(count, sizeof *cell_of);
    size_t *room = fw_alloc(land.cell_count, sizeof *room);
    if (!status && (!cell_of || !room))
        status = fw_fail_memory(err);
    for (size_t f = 0, at = 0; !status && f < count; f++) {
        cell_of[f] = room + at;
        at += maps[f].cell_count;
    }
    if (!status)
        status = fill(maps, count, &land, cell_of, err);
    fw_free(cell_of);
    fw_free(room);
    if (status)
        fw_land_release(&land);
    else
        *out = land;
    return status;
}

void fw_land_release(struct fw_land *land)
{
    fw_free(land->fields);
    fw_free(land->cells);
    fw_free(land->lines);
    fw_free(land->doors);
    fw_free(land->doors_of);
    fw_free(land->line_points);
    fw_free(land->line_at_m);
    fw_free(land->ring_points);
    fw_free(land->ring_start);
    *land = (struct fw_land){0};
}
