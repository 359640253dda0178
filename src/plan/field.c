/* One field: its grass, the layout, and its vertices with those of the cuts. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Two places nearer than this are one: a cut through a corner makes no fence
 * end of its own beside it. */
static const double same_place_m = 1e-9;

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static size_t next_in_ring(const struct fw_field *shape, size_t vertex)
{
    size_t ring = 0;
    while (vertex >= shape->ring_start[ring + 1])
        ring++;
    return vertex + 1 < shape->ring_start[ring + 1] ? vertex + 1
                                                    : shape->ring_start[ring];
}

/* The cut point in all three kinds of coordinate. In the file's it stands on
 * the straight line between its neighbours, so that a GIS sees it on the
 * boundary. */
static struct fw_vertex cut_vertex(const struct fw_field *shape,
                                   const struct fw_cut_vertex *added)
{
    const struct fw_vertex *a = &shape->vertices[added->edge];
    const struct fw_vertex *b =
        &shape->vertices[next_in_ring(shape, added->edge)];
    struct fw_vertex vertex = {.plane = added->plane, .kind = FW_VERTEX_CUT};
    vertex.file.x = a->file.x + added->t * (b->file.x - a->file.x);
    vertex.file.y = a->file.y + added->t * (b->file.y - a->file.y);
    vertex.lonlat = fw_plane_inverse(&shape->plane, added->plane);
    return vertex;
}

/* Copy the file's vertices and add the cuts'. map[i] tells which vertex the
 * partition's index i became. */
static enum fw_status take_vertices(struct fw_plan_field *field,
                                    const struct fw_field *shape,
                                    const struct fw_partition *partition,
                                    size_t **map_out, struct fw_error *err)
{
    const size_t most = shape->vertex_count + partition->added_count;
    size_t *map = fw_alloc(most, sizeof *map);
    field->vertices = fw_alloc(most, sizeof *field->vertices);
    if (!map || !field->vertices) {
        fw_free(map);
        return fw_fail_memory(err);
    }
    memcpy(field->vertices, shape->vertices,
           shape->vertex_count * sizeof *shape->vertices);
    field->vertex_count = shape->vertex_count;
    for (size_t i = 0; i < shape->vertex_count; i++)
        map[i] = i;
    for (size_t i = 0; i < partition->added_count; i++) {
        const struct fw_cut_vertex *added = &partition->added[i];
        const size_t a = added->edge, b = next_in_ring(shape, added->edge);
        size_t *to = &map[shape->vertex_count + i];
        if (apart_m(added->plane, shape->vertices[a].plane) <= same_place_m)
            *to = a;
        else if (apart_m(added->plane, shape->vertices[b].plane) <=
                 same_place_m)
            *to = b;
        else {
            *to = field->vertex_count;
            field->vertices[field->vertex_count++] = cut_vertex(shape, added);
        }
    }
    *map_out = map;
    return FW_OK;
}

struct on_edge {
    size_t edge;
    double t;
    size_t vertex;
};

static int by_edge(const void *left, const void *right)
{
    const struct on_edge *a = left, *b = right;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    if (a->t < b->t || a->t > b->t)
        return a->t < b->t ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

/* The field's own rings with every fence end as a vertex. */
static enum fw_status take_rings(struct fw_plan_field *field,
                                 const struct fw_field *shape,
                                 const struct fw_partition *partition,
                                 const size_t *map, struct fw_error *err)
{
    struct on_edge *ends = fw_alloc(partition->added_count, sizeof *ends);
    struct fw_plan_rings *rings = &field->rings;
    rings->vertices = fw_alloc(field->vertex_count, sizeof *rings->vertices);
    rings->ring_start =
        fw_alloc(shape->ring_count + 1, sizeof *rings->ring_start);
    rings->piece_ring = fw_alloc(2, sizeof *rings->piece_ring);
    if (!ends || !rings->vertices || !rings->ring_start || !rings->piece_ring) {
        fw_free(ends);
        return fw_fail_memory(err);
    }
    size_t end_count = 0;
    for (size_t i = 0; i < partition->added_count; i++)
        if (map[shape->vertex_count + i] >= shape->vertex_count)
            ends[end_count++] = (struct on_edge){partition->added[i].edge,
                                                 partition->added[i].t,
                                                 map[shape->vertex_count + i]};
    qsort(ends, end_count, sizeof *ends, by_edge);
    size_t n = 0, end = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        rings->ring_start[r] = n;
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
             v++) {
            rings->vertices[n++] = v;
            while (end < end_count && ends[end].edge == v)
                rings->vertices[n++] = ends[end++].vertex;
        }
    }
    rings->ring_start[shape->ring_count] = n;
    rings->ring_count = shape->ring_count;
    rings->piece_ring[1] = shape->ring_count;
    rings->piece_count = 1;
    fw_free(ends);
    return FW_OK;
}

static enum fw_status take_texts(struct fw_plan_field *field,
                                 const struct fw_farm_field *from,
                                 struct fw_error *err)
{
    const size_t corners = from->shape->corner_count;
    field->name = fw_strdup(from->shape->name);
    field->source = fw_strdup(from->source ? from->source : "");
    field->crs = fw_strdup(from->crs);
    field->corners = fw_alloc(corners, sizeof *field->corners);
    field->sides = fw_alloc(corners, sizeof *field->sides);
    if (!field->name || !field->source || !field->crs || !field->corners ||
        !field->sides)
        return fw_fail_memory(err);
    memcpy(field->corners, from->shape->corners,
           corners * sizeof *field->corners);
    if (from->sides)
        memcpy(field->sides, from->sides, corners * sizeof *field->sides);
    field->corner_count = corners;
    return FW_OK;
}

static void take_figures(struct fw_plan_field *field,
                         const struct fw_farm_field *from,
                         const struct fw_usable *usable)
{
    const struct fw_field *shape = from->shape;
    field->crs_accuracy_m = from->crs_accuracy_m;
    field->plane = shape->plane;
    field->hole_holds = from->hole_holds;
    field->area_ha = shape->ellipsoid_m2 / 1e4;
    field->plane_m2 = shape->area_m2;
    field->grazed_ha = field->area_ha;
    field->perimeter_m = shape->perimeter_m;
    field->usable_kg_ha = usable->usable_kg_ha;
    field->mass_kg_ha = usable->mass_kg_ha;
    field->residual_kg_ha = usable->residual_kg_ha;
    field->use = usable->use;
    field->use_of = usable->use_of;
}

static enum fw_status take_spots(struct fw_plan_job *job, size_t index,
                                 struct fw_error *err)
{
    const struct fw_farm_field *from = &job->farm->fields[index];
    struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    if (from->gate.given)
        status =
            fw_plan__place(job, index, from->gate.point, &field->gate, err);
    if (!status && from->water.given)
        status =
            fw_plan__place(job, index, from->water.point, &field->water, err);
    return status;
}

static enum fw_status choose(struct fw_plan_job *job, size_t index,
                             const struct fw_plan_targets *targets,
                             struct fw_layout *layout, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_farm_field *from = &farm->fields[index];
    const struct fw_layout_request request = {
        .field = from->shape,
        .target_m2 = targets->area_m2,
        .target_count = targets->count,
        .last = farm->last,
        .start = from->gate.given    ? &from->gate.point
                 : from->water.given ? &from->water.point
                                     : NULL,
        .direction_given = farm->direction_given,
        /* The farm gives the compass bearing of the fence lines; the flock
         * walks square to them. */
        .direction_deg = fmod(360 - farm->direction_deg, 180),
    };
    const enum fw_status status = fw_layout_choose(&request, layout, err);
    if (status)
        fw_fail_where(err, "%s: ", from->shape->name);
    return status;
}

static double bound_m(const struct fw_plan *plan,
                      const struct fw_plan_field *field,
                      const struct fw_field *shape)
{
    double *area_m2 = fw_alloc(field->paddock_count, sizeof *area_m2);
    if (!area_m2)
        return (double)NAN;
    for (size_t i = 0; i < field->paddock_count; i++)
        area_m2[i] = plan->paddocks[field->first_paddock + i].plane_m2;
    size_t input = 0; /* bow points bend no side as far as the bound goes */
    for (size_t i = 0; i < shape->vertex_count; i++)
        input += shape->vertices[i].kind == FW_VERTEX_INPUT;
    const double bound = fw_layout_bound_m(area_m2, field->paddock_count,
                                           shape->perimeter_m + shape->holes_m,
                                           input, shape->ring_count - 1);
    fw_free(area_m2);
    return bound;
}

enum fw_status fw_plan__field(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_farm_field *from = &job->farm->fields[index];
    struct fw_plan_targets targets = {0};
    struct fw_layout layout = {0};
    size_t *map = NULL;
    enum fw_status status = fw_plan__targets(job, index, &targets, err);
    if (status)
        return status;
    status = choose(job, index, &targets, &layout, err);
    if (status)
        goto done;
    status = fw_array_reserve(&plan->fields, &plan->field_capacity,
                              plan->field_count + 1, sizeof *plan->fields, err);
    if (status)
        goto done;
    struct fw_plan_field *field = &plan->fields[plan->field_count++];
    take_figures(field, from, &job->usable[index]);
    field->direction_deg = layout.direction_deg;
    field->last_share =
        job->farm->last == FW_LAST_EVEN ? layout.share : layout.last_share;
    status = take_texts(field, from, err);
    if (!status)
        status =
            take_vertices(field, from->shape, &layout.partition, &map, err);
    if (!status)
        status = take_rings(field, from->shape, &layout.partition, map, err);
    if (!status)
        status = take_spots(job, index, err);
    if (!status)
        status = fw_plan__paddocks(job, index, &layout, &targets, map, err);
    if (!status)
        status = fw_plan__moved_fences(job, index, &layout.partition, map, err);
    if (!status) {
        field->fence_bound_m = bound_m(plan, field, from->shape);
        if (isnan(field->fence_bound_m))
            status = fw_fail_memory(err);
    }
done:
    fw_free(map);
    fw_partition_release(&layout.partition);
    fw_plan__targets_release(&targets);
    return status;
}
