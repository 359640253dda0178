/* Vertices, supports and regions of a field that is being cut up. */
#include "cutting/subdivision.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Two places nearer than this are one: a cut through a corner makes no fence
 * end of its own beside it. */
static const double same_place_m = FW_TOLERANCE(1e-9);

enum fw_status fw_subdivision_init(struct fw_subdivision *subdivision,
                                   const struct fw_field *field,
                                   const struct fw_herbage *ground,
                                   struct fw_error *err)
{
    const size_t count = field->vertex_count;
    *subdivision = (struct fw_subdivision){.field = field, .ground = ground};
    enum fw_status status =
        fw_array_reserve(&subdivision->vertices, &subdivision->vertex_capacity,
                         2 * count, sizeof *subdivision->vertices, err);
    if (!status)
        status = fw_array_reserve(&subdivision->supports,
                                  &subdivision->support_capacity, 2 * count,
                                  sizeof *subdivision->supports, err);
    if (status) {
        fw_subdivision_release(subdivision);
        return status;
    }
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < field->ring_start[r + 1] ? i + 1 : field->ring_start[r];
            subdivision->vertices[i] = (struct fw_subdivision_vertex){
                field->vertices[i].plane, FW_INSIDE, 0};
            subdivision->supports[i] = (struct fw_subdivision_support){i, next};
        }
    subdivision->vertex_count = subdivision->support_count = count;
    return FW_OK;
}

void fw_subdivision_release(struct fw_subdivision *subdivision)
{
    fw_free(subdivision->vertices);
    fw_free(subdivision->supports);
    fw_free(subdivision->lines);
    *subdivision = (struct fw_subdivision){0};
}

struct fw_subdivision_size
fw_subdivision_size(const struct fw_subdivision *subdivision)
{
    return (struct fw_subdivision_size){subdivision->vertex_count,
                                        subdivision->support_count,
                                        subdivision->line_count};
}

void fw_subdivision_go_back(struct fw_subdivision *subdivision,
                            struct fw_subdivision_size mark)
{
    subdivision->vertex_count = mark.vertices;
    subdivision->support_count = mark.supports;
    subdivision->line_count = mark.lines;
}

double fw_subdivision_line_m(const struct fw_subdivision *subdivision,
                             size_t first_support)
{
    double sum_m = 0;
    for (size_t i = first_support; i < subdivision->support_count; i++) {
        const struct fw_point a =
            subdivision->vertices[subdivision->supports[i].from].point;
        const struct fw_point b =
            subdivision->vertices[subdivision->supports[i].to].point;
        sum_m += fw_point_apart_m(a, b);
    }
    return sum_m;
}

size_t fw_region_size(const struct fw_region *region)
{
    return region->ring_start[region->ring_count];
}

void fw_region_release(struct fw_region *region)
{
    fw_free(region->vertices);
    fw_free(region->supports);
    fw_free(region->ring_start);
    *region = (struct fw_region){0};
}

void fw_regions_release(struct fw_region *regions, size_t count)
{
    for (size_t i = 0; i < count; i++)
        fw_region_release(&regions[i]);
}

enum fw_status fw_region_new(struct fw_region *region, size_t size,
                             size_t ring_count, struct fw_error *err)
{
    *region = (struct fw_region){
        .vertices = fw_alloc(size, sizeof *region->vertices),
        .supports = fw_alloc(size, sizeof *region->supports),
        .ring_start = fw_alloc(ring_count + 1, sizeof *region->ring_start),
        .ring_count = ring_count,
    };
    if (region->vertices && region->supports && region->ring_start)
        return FW_OK;
    fw_region_release(region);
    return fw_fail_memory(err);
}

enum fw_status fw_region_copy(const struct fw_region *from,
                              struct fw_region *to, struct fw_error *err)
{
    const size_t size = fw_region_size(from);
    const enum fw_status status =
        fw_region_new(to, size, from->ring_count, err);
    if (status)
        return status;
    memcpy(to->vertices, from->vertices, size * sizeof *to->vertices);
    memcpy(to->supports, from->supports, size * sizeof *to->supports);
    memcpy(to->ring_start, from->ring_start,
           (from->ring_count + 1) * sizeof *to->ring_start);
    return FW_OK;
}

enum fw_status fw_subdivision_whole(const struct fw_subdivision *subdivision,
                                    struct fw_region *out, struct fw_error *err)
{
    const struct fw_field *field = subdivision->field;
    const enum fw_status status =
        fw_region_new(out, field->vertex_count, field->ring_count, err);
    if (status)
        return status;
    for (size_t i = 0; i < field->vertex_count; i++)
        out->vertices[i] = out->supports[i] = i;
    memcpy(out->ring_start, field->ring_start,
           (field->ring_count + 1) * sizeof *out->ring_start);
    return FW_OK;
}

struct fw_point *fw_subdivision_points(const struct fw_subdivision *subdivision,
                                       const struct fw_region *region)
{
    const size_t size = fw_region_size(region);
    struct fw_point *points = fw_alloc(size, sizeof *points);
    for (size_t i = 0; points && i < size; i++)
        points[i] = subdivision->vertices[region->vertices[i]].point;
    return points;
}

enum fw_status fw_subdivision_holds(const struct fw_subdivision *subdivision,
                                    const struct fw_region *region, double *out,
                                    struct fw_error *err)
{
    struct fw_point *points = fw_subdivision_points(subdivision, region);
    if (!points)
        return fw_fail_memory(err);
    *out = fw_subdivision__measure(subdivision, points, region->ring_start,
                                   region->ring_count);
    fw_free(points);
    return FW_OK;
}

double fw_subdivision__measure(const struct fw_subdivision *subdivision,
                               const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count)
{
    if (subdivision->ground)
        return fw_herbage_mass_kg(subdivision->ground, points, ring_start,
                                  ring_count);
    double area_m2 = 0;
    for (size_t r = 0; r < ring_count; r++)
        area_m2 += fw_ring_area_m2(points + ring_start[r],
                                   ring_start[r + 1] - ring_start[r]);
    return area_m2;
}

/* A corner of one ring of the field may stand on a side of another: it has no
 * support of its own. */
double fw_subdivision__along(const struct fw_subdivision *subdivision,
                             size_t vertex, size_t support)
{
    const struct fw_subdivision_support *on = &subdivision->supports[support];
    if (on->from == vertex)
        return 0;
    if (on->to == vertex)
        return 1;
    if (subdivision->vertices[vertex].support == support)
        return subdivision->vertices[vertex].t;
    const struct fw_point a = subdivision->vertices[on->from].point;
    const struct fw_point b = subdivision->vertices[on->to].point;
    const struct fw_point p = subdivision->vertices[vertex].point;
    const double x_m = b.x_m - a.x_m, y_m = b.y_m - a.y_m;
    return ((p.x_m - a.x_m) * x_m + (p.y_m - a.y_m) * y_m) /
           (x_m * x_m + y_m * y_m);
}

bool fw_subdivision__same_place(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(a, b) <= same_place_m;
}

/* Where it touches, either answer may come out, so some corners and middles of
 * sides all around it decide. */
bool fw_subdivision__within(const struct fw_point *inner, size_t inner_count,
                            const struct fw_point *outer, size_t outer_count)
{
    const size_t step = inner_count / FW_EFFORT(8) + 1;
    size_t within = 0, asked = 0;
    for (size_t i = 0; i < inner_count; i += step) {
        const struct fw_point a = inner[i];
        const struct fw_point b = inner[i + 1 < inner_count ? i + 1 : 0];
        const struct fw_point middle = {(a.x_m + b.x_m) / 2,
                                        (a.y_m + b.y_m) / 2};
        within += fw_ring_contains(outer, outer_count, a);
        within += fw_ring_contains(outer, outer_count, middle);
        asked += 2;
    }
    return 2 * within > asked;
}

enum fw_status fw_subdivision__add(struct fw_subdivision *subdivision,
                                   struct fw_subdivision_piece piece, double t,
                                   struct fw_point point, size_t *out,
                                   struct fw_error *err)
{
    const size_t ends[2] = {piece.from, piece.to};
    for (int i = 0; i < 2; i++)
        if (fw_subdivision__same_place(point,
                                       subdivision->vertices[ends[i]].point)) {
            *out = ends[i];
            return FW_OK;
        }
    const enum fw_status status = fw_array_reserve(
        &subdivision->vertices, &subdivision->vertex_capacity,
        subdivision->vertex_count + 1, sizeof *subdivision->vertices, err);
    if (status)
        return status;
    double along = t;
    if (piece.support != FW_INSIDE) {
        const double from =
            fw_subdivision__along(subdivision, piece.from, piece.support);
        const double to =
            fw_subdivision__along(subdivision, piece.to, piece.support);
        along = from + (to - from) * t;
    }
    subdivision->vertices[subdivision->vertex_count] =
        (struct fw_subdivision_vertex){point, piece.support, along};
    *out = subdivision->vertex_count++;
    return FW_OK;
}

enum fw_status fw_subdivision__support(struct fw_subdivision *subdivision,
                                       size_t from, size_t to, size_t *out,
                                       struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &subdivision->supports, &subdivision->support_capacity,
        subdivision->support_count + 1, sizeof *subdivision->supports, err);
    if (status)
        return status;
    subdivision->supports[subdivision->support_count] =
        (struct fw_subdivision_support){from, to};
    *out = subdivision->support_count++;
    return FW_OK;
}

enum fw_status fw_subdivision__line(struct fw_subdivision *subdivision,
                                    enum fw_line_role role, size_t support,
                                    size_t support_count, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &subdivision->lines, &subdivision->line_capacity,
        subdivision->line_count + 1, sizeof *subdivision->lines, err);
    if (status)
        return status;
    subdivision->lines[subdivision->line_count++] =
        (struct fw_subdivision_line){role, support, support_count};
    return FW_OK;
}
