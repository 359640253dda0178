#include "choice/walk_map.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <string.h>

/* A front's places and the corners of what lies behind it are the same ones. */
static const double same_m = FW_TOLERANCE(1e-6);

struct making {
    const struct fw_land *land;
    size_t field;
    const struct fw_farm *farm;
    size_t farm_field;
    struct fw_plan__walk_map *out;
    size_t point_count, ring_count, line_count, line_point_count;
};

/* ---- what lies behind a front: the pieces that the farm knows, and the parts
 * of the same field that are grazed before ---- */

static const struct fw_field *earlier_part(const struct making *making,
                                           size_t index)
{
    const struct fw_farm_field *here =
        &making->farm->fields[making->farm_field];
    const struct fw_farm_field *other = &making->farm->fields[index];
    return here->border.whole && other->border.whole == here->border.whole
               ? other->grazed
               : NULL;
}

/* NULL: it is no piece of that. */
static const struct fw_field *behind(const struct making *making, size_t index)
{
    const struct fw_farm_front *front =
        &making->farm->fields[making->farm_field].front;
    return index < front->behind_count
               ? front->behind[index]
               : earlier_part(making, index - front->behind_count);
}

static size_t behind_count(const struct making *making)
{
    return making->farm
               ? making->farm->fields[making->farm_field].front.behind_count +
                     making->farm_field
               : 0;
}

static bool is_same(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(a, b) <= same_m;
}

static void put_point(struct making *making, struct fw_point at)
{
    making->out->points[making->point_count++] = at;
}

static void end_ring(struct making *making)
{
    making->out->ring_start[++making->ring_count] = making->point_count;
}

/* The front's own place where it runs through a corner, to the last bit; and
 * the places on it up to the next corner, where lines of the layout end. */
static void put_side(struct making *making, const struct fw_cell *grazed,
                     struct fw_point from, struct fw_point to)
{
    const struct fw_land *land = making->land;
    for (size_t r = grazed->first_ring;
         r < grazed->first_ring + grazed->ring_count; r++)
        for (size_t i = land->ring_start[r]; i < land->ring_start[r + 1]; i++) {
            if (!is_same(land->ring_points[i], from))
                continue;
            put_point(making, land->ring_points[i]);
            size_t end = i + 1;
            while (end < land->ring_start[r + 1] &&
                   !is_same(land->ring_points[end], to) &&
                   fw_segment_distance_m(land->ring_points[end], from, to) <=
                       same_m)
                end++;
            if (end == land->ring_start[r + 1] ||
                !is_same(land->ring_points[end], to))
                return;
            while (++i < end)
                put_point(making, land->ring_points[i]);
            return;
        }
    put_point(making, from);
}

static void put_piece(struct making *making, const struct fw_cell *grazed,
                      const struct fw_field *piece)
{
    for (size_t r = 0; r < piece->ring_count; r++) {
        const size_t first = piece->ring_start[r];
        const size_t end = piece->ring_start[r + 1];
        for (size_t i = first; i < end; i++)
            put_side(making, grazed, piece->vertices[i].plane,
                     piece->vertices[i + 1 < end ? i + 1 : first].plane);
        end_ring(making);
    }
}

static bool put_behind(struct making *making, const struct fw_cell *grazed)
{
    bool any = false;
    for (size_t i = 0; i < behind_count(making); i++) {
        const struct fw_field *piece = behind(making, i);
        if (piece)
            put_piece(making, grazed, piece);
        any |= piece != NULL;
    }
    return any;
}

/* ---- cells ---- */

static void put_rings(struct making *making, const struct fw_cell *cell)
{
    const struct fw_land *land = making->land;
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        for (size_t i = land->ring_start[r]; i < land->ring_start[r + 1]; i++)
            put_point(making, land->ring_points[i]);
        end_ring(making);
    }
}

static void put_cells(struct making *making)
{
    const size_t cells = fw_land_cell_count(making->land, making->field);
    for (size_t k = 0; k < cells; k++) {
        const struct fw_cell *cell =
            &making->land->cells[fw_land_cell(making->land, making->field, k)];
        if (cell->kind != FW_CELL_GRAZED || !put_behind(making, cell))
            put_rings(making, cell);
        making->out->cell_ring[k + 1] = making->ring_count;
    }
}

/* ---- lines ---- */

static void put_line(struct making *making, const struct fw_point *points,
                     size_t count)
{
    struct fw_plan__walk_map *out = making->out;
    memcpy(out->line_points + making->line_point_count, points,
           count * sizeof *points);
    making->line_point_count += count;
    out->line_start[++making->line_count] = making->line_point_count;
}

/* Parts behind that border on each other: no fence is left there. */
static void put_borders(struct making *making, const struct fw_farm_field *part)
{
    const struct fw_field *shape = part->shape;
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
             v++) {
            const size_t next =
                v + 1 < shape->ring_start[r + 1] ? v + 1 : shape->ring_start[r];
            const struct fw_point ends[] = {shape->vertices[v].plane,
                                            shape->vertices[next].plane};
            if (part->border.beyond[v] > part->border.number)
                put_line(making, ends, 2);
        }
}

static void put_lines(struct making *making)
{
    const struct fw_land *land = making->land;
    const struct fw_land_field *field = &land->fields[making->field];
    for (size_t l = 0; l < field->line_count; l++) {
        const struct fw_land_line *line = &land->lines[field->first_line + l];
        put_line(making, land->line_points + line->first, line->count);
    }
    making->out->land_lines = making->line_count;
    for (size_t i = 0; making->farm && i < making->farm_field; i++)
        if (earlier_part(making, i))
            put_borders(making, &making->farm->fields[i]);
}

/* ---- room ---- */

struct room {
    size_t cells, rings, points, lines, line_points;
};

static enum fw_status make_room(const struct room *room,
                                struct fw_plan__walk_map *out,
                                struct fw_error *err)
{
    *out = (struct fw_plan__walk_map){
        .points = fw_alloc(room->points, sizeof *out->points),
        .line_points = fw_alloc(room->line_points, sizeof *out->line_points),
        .ring_start = fw_alloc(room->rings + 1, sizeof(size_t)),
        .cell_ring = fw_alloc(room->cells + 1, sizeof(size_t)),
        .line_start = fw_alloc(room->lines + 1, sizeof(size_t)),
    };
    if (out->points && out->line_points && out->ring_start && out->cell_ring &&
        out->line_start)
        return FW_OK;
    fw_plan__walk_map_release(out);
    return fw_fail_memory(err);
}

static void count_cell(const struct fw_land *land, size_t index,
                       struct room *room)
{
    const struct fw_cell *cell = &land->cells[index];
    room->cells++;
    room->rings += cell->ring_count;
    room->points += land->ring_start[cell->first_ring + cell->ring_count] -
                    land->ring_start[cell->first_ring];
}

/* As much as there may be. */
static struct room count(const struct making *making)
{
    const struct fw_land *land = making->land;
    const struct fw_land_field *field = &land->fields[making->field];
    struct room room = {.lines = field->line_count};
    for (size_t k = 0; k < fw_land_cell_count(land, making->field); k++)
        count_cell(land, fw_land_cell(land, making->field, k), &room);
    for (size_t l = 0; l < field->line_count; l++)
        room.line_points += land->lines[field->first_line + l].count;
    for (size_t i = 0; i < behind_count(making); i++) {
        const struct fw_field *piece = behind(making, i);
        if (!piece)
            continue;
        room.rings += piece->ring_count;
        room.points += piece->vertex_count;
        room.lines += piece->vertex_count;
        room.line_points += 2 * piece->vertex_count;
    }
    return room;
}

static struct fw_walk_map made(const struct fw_plan__walk_map *of, size_t cells,
                               size_t lines)
{
    return (struct fw_walk_map){
        .points = of->points,
        .ring_start = of->ring_start,
        .cell_ring = of->cell_ring,
        .cell_count = cells,
        .line_points = of->line_points,
        .line_start = of->line_start,
        .line_count = lines,
    };
}

enum fw_status fw_plan__walk_map(const struct fw_land *land, size_t field,
                                 const struct fw_farm *farm, size_t farm_field,
                                 struct fw_plan__walk_map *out,
                                 struct fw_error *err)
{
    struct making making = {.land = land,
                            .field = field,
                            .farm = farm,
                            .farm_field = farm_field,
                            .out = out};
    const struct room room = count(&making);
    const enum fw_status status = make_room(&room, out, err);
    if (status)
        return status;
    put_cells(&making);
    put_lines(&making);
    out->map = made(out, room.cells, making.line_count);
    return FW_OK;
}

enum fw_status fw_plan__walk_map_of_cell(const struct fw_land *land,
                                         size_t cell,
                                         struct fw_plan__walk_map *out,
                                         struct fw_error *err)
{
    struct making making = {.land = land, .out = out};
    struct room room = {.cells = 0};
    count_cell(land, cell, &room);
    const enum fw_status status = make_room(&room, out, err);
    if (status)
        return status;
    put_rings(&making, &land->cells[cell]);
    out->cell_ring[1] = making.ring_count;
    out->map = made(out, 1, 0);
    return FW_OK;
}

void fw_plan__walk_map_release(struct fw_plan__walk_map *map)
{
    fw_free(map->points);
    fw_free(map->line_points);
    fw_free(map->ring_start);
    fw_free(map->cell_ring);
    fw_free(map->line_start);
    *map = (struct fw_plan__walk_map){.land_lines = 0};
}

bool fw_plan__rings_have(const struct fw_point *points,
                         const size_t *ring_start, size_t ring_count,
                         struct fw_point at, double reach_m)
{
    bool inside = false;
    for (size_t r = 0; r < ring_count; r++) {
        const struct fw_point *ring = points + ring_start[r];
        const size_t count = ring_start[r + 1] - ring_start[r];
        if (fw_ring_contains(ring, count, at))
            inside = !inside;
        for (size_t i = 0; i < count; i++)
            if (fw_segment_distance_m(at, ring[i], ring[(i + 1) % count]) <=
                reach_m)
                return true;
    }
    return inside;
}

bool fw_plan__walk_map_has(const struct fw_plan__walk_map *map, size_t cell,
                           struct fw_point at, double reach_m)
{
    const size_t first = map->cell_ring[cell];
    return fw_plan__rings_have(map->points, map->ring_start + first,
                               map->cell_ring[cell + 1] - first, at, reach_m);
}
