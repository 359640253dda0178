/* Cells, lines and doors of a candidate layout, or of the plan. Both are asked
 * the same questions, so both are made here. */
#include "choice/land.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <string.h>

/* Shorter than this is no fence: the cut only touches the boundary there. */
static const double least_run_m = FW_TOLERANCE(1e-6);

/* Room for one field's map. */
struct scratch {
    struct fw_point *points;
    size_t *ring_vertices, *ring_start, *cell_ring, *line_vertices;
    enum fw_cell_kind *kinds;
    struct fw_land_map_line *lines;
    size_t vertex_count, ring_count, cell_count, line_count, line_vertex_count;
};

static void scratch_release(struct scratch *room)
{
    fw_free(room->points);
    fw_free(room->ring_vertices);
    fw_free(room->ring_start);
    fw_free(room->cell_ring);
    fw_free(room->line_vertices);
    fw_free(room->kinds);
    fw_free(room->lines);
}

static enum fw_status scratch_make(struct scratch *room, size_t points,
                                   size_t vertices, size_t rings, size_t cells,
                                   size_t lines, size_t line_vertices,
                                   struct fw_error *err)
{
    *room = (struct scratch){
        .points = fw_alloc(points, sizeof *room->points),
        .ring_vertices = fw_alloc(vertices, sizeof(size_t)),
        .ring_start = fw_alloc(rings + 1, sizeof(size_t)),
        .cell_ring = fw_alloc(cells + 1, sizeof(size_t)),
        .line_vertices = fw_alloc(line_vertices, sizeof(size_t)),
        .kinds = fw_alloc(cells, sizeof *room->kinds),
        .lines = fw_alloc(lines, sizeof *room->lines),
    };
    return room->points && room->ring_vertices && room->ring_start &&
                   room->cell_ring && room->line_vertices && room->kinds &&
                   room->lines
               ? FW_OK
               : fw_fail_memory(err);
}

static void begin_cell(struct scratch *room, enum fw_cell_kind kind)
{
    room->kinds[room->cell_count++] = kind;
    room->cell_ring[room->cell_count] = room->ring_count;
}

static void add_ring(struct scratch *room, const size_t *vertices, size_t count)
{
    memcpy(room->ring_vertices + room->vertex_count, vertices,
           count * sizeof *vertices);
    room->vertex_count += count;
    room->ring_start[++room->ring_count] = room->vertex_count;
    room->cell_ring[room->cell_count] = room->ring_count;
}

/* Does a ring of the room's run along there? */
static bool has_side(const struct scratch *room, size_t from, size_t to)
{
    for (size_t r = 0; r < room->ring_count; r++) {
        const size_t first = room->ring_start[r], end = room->ring_start[r + 1];
        for (size_t i = first; i < end; i++)
            if (room->ring_vertices[i] == from &&
                room->ring_vertices[i + 1 < end ? i + 1 : first] == to)
                return true;
    }
    return false;
}

/* What was grazed before the first day lies along a front's other side. Nothing
 * else of it is known, so its ring runs along the front and no more. */
static void add_back(struct scratch *room, const size_t *line, size_t count)
{
    const bool back = has_side(room, line[0], line[1]);
    for (size_t i = 0; i < count; i++)
        room->ring_vertices[room->vertex_count++] =
            line[back ? count - 1 - i : i];
    room->ring_start[++room->ring_count] = room->vertex_count;
    room->cell_ring[room->cell_count] = room->ring_count;
}

static struct fw_land_map map_of(const struct scratch *room, size_t points)
{
    return (struct fw_land_map){
        .points = room->points,
        .point_count = points,
        .ring_vertices = room->ring_vertices,
        .ring_start = room->ring_start,
        .cell_ring = room->cell_ring,
        .kinds = room->kinds,
        .cell_count = room->cell_count,
        .lines = room->lines,
        .line_count = room->line_count,
    };
}

/* The gate and what was told of the water lie on the side that was grazed. */
static void settle_grazed(struct fw_land *land, size_t field, bool water_ahead)
{
    bool any = false;
    for (size_t k = 0; k < land->fields[field].common_count; k++)
        any |= land->cells[land->fields[field].first_common + k].kind ==
               FW_CELL_GRAZED;
    for (size_t k = 0; any && k < fw_land_cell_count(land, field); k++) {
        struct fw_cell *cell = &land->cells[fw_land_cell(land, field, k)];
        cell->at_gate = cell->kind == FW_CELL_GRAZED;
        if (cell->kind == FW_CELL_GRAZED)
            cell->at_water = land->fields[field].water_given && !water_ahead;
    }
}

/* ---- of a layout ---- */

static enum fw_cell_kind common_kind(const char *pattern)
{
    return strcmp(pattern, "wedges") == 0 ? FW_CELL_APRON : FW_CELL_LANE;
}

static enum fw_land_role role_of(enum fw_line_role role)
{
    return role == FW_LINE_STANDING ? FW_LAND_STANDING
           : role == FW_LINE_LANE   ? FW_LAND_LANE
                                    : FW_LAND_MOVED;
}

static enum fw_feeds feeds_at(const struct fw_plan_job *job, size_t field,
                              const struct fw_layout *layout, size_t vertex)
{
    const enum fw_feeds *edges = job->edge_feeds[field];
    const struct fw_field *shape = fw_plan__grazed(&job->farm->fields[field]);
    if (vertex >= layout->vertex_count) {
        const size_t edge = layout->added[vertex - layout->vertex_count].edge;
        return edge == FW_INSIDE ? FW_FEEDS_NOTHING : edges[edge];
    }
    size_t ring = 0;
    while (vertex >= shape->ring_start[ring + 1])
        ring++;
    const size_t before = vertex > shape->ring_start[ring]
                              ? vertex - 1
                              : shape->ring_start[ring + 1] - 1;
    return edges[vertex] > edges[before] ? edges[vertex] : edges[before];
}

static void take_layout_cells(const struct fw_layout *layout,
                              struct scratch *room)
{
    for (size_t p = 0; p < layout->paddock_count + layout->common_count; p++) {
        begin_cell(room, p < layout->paddock_count
                             ? FW_CELL_PADDOCK
                             : common_kind(layout->pattern));
        for (size_t r = layout->piece_ring[layout->paddock_piece[p]];
             r < layout->piece_ring[layout->paddock_piece[p + 1]]; r++)
            add_ring(room, layout->ring_vertices + layout->ring_start[r],
                     layout->ring_start[r + 1] - layout->ring_start[r]);
    }
    bool begun = false;
    for (size_t l = 0; l < layout->line_count; l++) {
        const struct fw_layout_line *line = &layout->lines[l];
        if (line->role != FW_LINE_FRONT)
            continue;
        if (!begun)
            begin_cell(room, FW_CELL_GRAZED);
        begun = true;
        add_back(room, layout->line_vertices + line->first, line->count);
    }
}

static enum fw_status take_layout_lines(const struct fw_plan_job *job,
                                        size_t field,
                                        const struct fw_layout *layout,
                                        const struct fw_plan__line_work *work,
                                        struct scratch *room, size_t *of)
{
    for (size_t l = 0; l < layout->line_count; l++) {
        const struct fw_layout_line *line = &layout->lines[l];
        const size_t *vertices = layout->line_vertices + line->first;
        of[l] = FW_NONE;
        if (!(line->length_m > least_run_m))
            continue;
        of[l] = room->line_count;
        room->lines[room->line_count++] = (struct fw_land_map_line){
            .role = role_of(line->role),
            .vertices = vertices,
            .count = line->count,
            .feeds = {feeds_at(job, field, layout, vertices[0]),
                      feeds_at(job, field, layout, vertices[line->count - 1])},
            .work = work[l].takes,
        };
    }
    return FW_OK;
}

static const struct fw_point *spot(const struct fw_spot *spot)
{
    return spot->given ? &spot->point : NULL;
}

/* From the energizer, else from the gate or the water. */
static const struct fw_point *comes_from(const struct fw_farm *farm,
                                         size_t field)
{
    const struct fw_farm_field *from = &farm->fields[field];
    if (farm->energizer.given && field == 0)
        return &farm->energizer.point;
    return from->gate.given ? &from->gate.point : spot(&from->water);
}

enum fw_status fw_plan__land_of(const struct fw_plan_job *job, size_t field,
                                const struct fw_layout *layout,
                                const struct fw_plan__line_work *work,
                                struct fw_land *out, size_t *line_of,
                                struct fw_error *err)
{
    const struct fw_farm_field *from = &job->farm->fields[field];
    const size_t points = layout->vertex_count + layout->added_count;
    size_t vertices = layout->ring_start[layout->ring_count];
    size_t line_vertices = 0;
    for (size_t l = 0; l < layout->line_count; l++)
        line_vertices += layout->lines[l].count;
    struct scratch room;
    enum fw_status status =
        scratch_make(&room, points, vertices + line_vertices,
                     layout->ring_count + layout->line_count,
                     layout->paddock_count + layout->common_count + 1,
                     layout->line_count, 0, err);
    if (!status) {
        for (size_t i = 0; i < points; i++)
            room.points[i] = fw_plan__layout_at(from, layout, i);
        take_layout_cells(layout, &room);
        status = take_layout_lines(job, field, layout, work, &room, line_of);
    }
    struct fw_land_map map = map_of(&room, points);
    map.gate = spot(&from->gate);
    map.water = spot(&from->water);
    map.park = spot(&from->park);
    map.come = comes_from(job->farm, field);
    if (!status)
        status = fw_land_new(&map, 1, out, err);
    scratch_release(&room);
    if (!status)
        settle_grazed(
            out, 0,
            from->water.given &&
                fw_field_contains(fw_plan__grazed(from), from->water.point, 1));
    return status;
}

/* ---- of a plan ---- */

/* The better of two sides at a corner; the edge of a pond feeds nothing. */
static enum fw_feeds plan_feeds(const struct fw_plan *plan,
                                const struct fw_plan_field *field,
                                size_t vertex)
{
    enum fw_feeds best = FW_FEEDS_NOTHING;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role != FW_FENCE_PERIMETER || fence->side == FW_NONE)
            continue;
        const enum fw_answer hot = field->sides[fence->side].hot;
        const enum fw_feeds here = hot == FW_YES  ? FW_FEEDS_SURELY
                                   : hot == FW_NO ? FW_FEEDS_NOTHING
                                                  : FW_FEEDS_PERHAPS;
        for (size_t v = 0; here > best && v < fence->line_count; v++)
            if (fence->line[v] == vertex)
                best = here;
    }
    return best;
}

static void take_plan_rings(struct scratch *room,
                            const struct fw_plan_rings *rings)
{
    for (size_t r = 0; r < rings->ring_count; r++)
        add_ring(room, rings->vertices + rings->ring_start[r],
                 rings->ring_start[r + 1] - rings->ring_start[r]);
}

static void take_plan_cells(const struct fw_plan *plan, size_t index,
                            struct scratch *room)
{
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t p = 0; p < field->paddock_count; p++) {
        begin_cell(room, FW_CELL_PADDOCK);
        take_plan_rings(room, &plan->paddocks[field->first_paddock + p].rings);
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == index) {
            begin_cell(room,
                       plan->lanes[i].apron ? FW_CELL_APRON : FW_CELL_LANE);
            take_plan_rings(room, &plan->lanes[i].rings);
        }
}

static void take_plan_lines(const struct fw_plan *plan, size_t index,
                            struct scratch *room)
{
    static const enum fw_land_role roles[] = {
        [FW_FENCE_PERIMETER] = FW_LAND_EDGE,
        [FW_FENCE_STANDING] = FW_LAND_STANDING,
        [FW_FENCE_LANE] = FW_LAND_LANE,
        [FW_FENCE_MOVED] = FW_LAND_MOVED,
    };
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        struct fw_land_map_line *line = &room->lines[room->line_count++];
        *line = (struct fw_land_map_line){
            .role = roles[fence->role],
            .vertices = fence->line,
            .count = fence->line_count,
            .work = {.reels = fence->reels,
                     .posts = fence->posts,
                     .wire_m = fence->wire_m},
        };
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        line->feeds[0] = plan_feeds(plan, field, fence->line[0]);
        line->feeds[1] =
            plan_feeds(plan, field, fence->line[fence->line_count - 1]);
    }
    bool begun = false;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (!fw_plan_is_outer_front(plan, field->first_fence + i))
            continue;
        if (!begun)
            begin_cell(room, FW_CELL_GRAZED);
        begun = true;
        add_back(room, fence->line, fence->line_count);
    }
}

static size_t ring_sum(const struct fw_plan_rings *rings)
{
    return rings->ring_start[rings->ring_count];
}

static enum fw_status plan_room(const struct fw_plan *plan, size_t index,
                                struct scratch *room, struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    size_t vertices = 0, rings = 0, cells = field->paddock_count + 1;
    for (size_t p = 0; p < field->paddock_count; p++) {
        const struct fw_plan_rings *of =
            &plan->paddocks[field->first_paddock + p].rings;
        vertices += ring_sum(of);
        rings += of->ring_count;
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == index) {
            vertices += ring_sum(&plan->lanes[i].rings);
            rings += plan->lanes[i].rings.ring_count;
            cells++;
        }
    for (size_t i = 0; i < field->fence_count; i++) {
        vertices += plan->fences[field->first_fence + i].line_count;
        rings++;
    }
    return scratch_make(room, field->vertex_count, vertices, rings, cells,
                        field->fence_count, 0, err);
}

static const struct fw_point *place_point(const struct fw_plan_place *place)
{
    return place->given ? &place->plane : NULL;
}

/* Where the water lies against a front. */
static bool water_is_ahead(const struct fw_plan *plan, size_t index)
{
    const double reach_m = 1;
    const struct fw_plan_field *field = &plan->fields[index];
    bool inside = false;
    for (size_t r = 0; field->water.given && r < field->rings.ring_count; r++) {
        const size_t first = field->rings.ring_start[r];
        const size_t end = field->rings.ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = first; i < end; before = i++) {
            const struct fw_point at = field->water.plane;
            const struct fw_point a =
                fw_plan__at(field, field->rings.vertices[before]);
            const struct fw_point b =
                fw_plan__at(field, field->rings.vertices[i]);
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

/* From 1, that of the first of its parts; 0: it is whole. */
static size_t whole_of(const struct fw_plan *plan, size_t index)
{
    const char *name = plan->fields[index].part_of;
    for (size_t i = 0; name && i < index; i++)
        if (plan->fields[i].part_of &&
            strcmp(plan->fields[i].part_of, name) == 0)
            return i + 1;
    return name ? index + 1 : 0;
}

static enum fw_status plan_map(const struct fw_plan *plan, size_t index,
                               struct scratch *room, struct fw_land_map *map,
                               struct fw_point *come, struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const enum fw_status status = plan_room(plan, index, room, err);
    if (status)
        return status;
    for (size_t i = 0; i < field->vertex_count; i++)
        room->points[i] = field->vertices[i].plane;
    take_plan_cells(plan, index, room);
    take_plan_lines(plan, index, room);
    *map = map_of(room, field->vertex_count);
    map->whole = whole_of(plan, index);
    map->gate = place_point(&field->gate);
    map->water = place_point(&field->water);
    map->park = place_point(&field->park);
    map->come = map->gate ? map->gate : map->water;
    if (plan->energizer_place.given && index == 0) {
        *come = plan->energizer_place.plane;
        map->come = come;
    }
    return FW_OK;
}

enum fw_status fw_plan_land(const struct fw_plan *plan, struct fw_land *out,
                            struct fw_error *err)
{
    const size_t count = plan->field_count;
    struct scratch *rooms = fw_alloc(count, sizeof *rooms);
    struct fw_land_map *maps = fw_alloc(count, sizeof *maps);
    struct fw_point come;
    enum fw_status status = rooms && maps ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < count; i++)
        status = plan_map(plan, i, &rooms[i], &maps[i], &come, err);
    if (!status)
        status = fw_land_new(maps, count, out, err);
    for (size_t i = 0; rooms && i < count; i++)
        scratch_release(&rooms[i]);
    fw_free(rooms);
    fw_free(maps);
    for (size_t i = 0; !status && i < count; i++)
        settle_grazed(out, i, water_is_ahead(plan, i));
    return status;
}
