#include "crs/pieces.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "crs/inner.h"
#include "geo/inner.h"

#include <stdlib.h>

static int compare(double a, double b)
{
    return (a > b) - (a < b);
}

static int by_plane(const void *one, const void *other)
{
    const struct fw_vertex *a = *(const struct fw_vertex *const *)one;
    const struct fw_vertex *b = *(const struct fw_vertex *const *)other;
    const int x = compare(a->plane.x_m, b->plane.x_m);
    return x ? x : compare(a->plane.y_m, b->plane.y_m);
}

enum fw_status fw_pieces_init(struct fw_pieces *pieces,
                              GEOSContextHandle_t geos,
                              const struct fw_field *field, struct fw_crs *crs,
                              struct fw_error *err)
{
    *pieces = (struct fw_pieces){
        .geos = geos,
        .field = field,
        .crs = crs,
        .known = fw_alloc(field->vertex_count, sizeof *pieces->known),
    };
    if (!pieces->known)
        return fw_fail_memory(err);
    for (size_t i = 0; i < field->vertex_count; i++)
        pieces->known[i] = &field->vertices[i];
    qsort(pieces->known, field->vertex_count, sizeof *pieces->known, by_plane);
    return FW_OK;
}

void fw_pieces_release(struct fw_pieces *pieces)
{
    fw_free(pieces->known);
    *pieces = (struct fw_pieces){0};
}

static enum fw_status make_vertex(const struct fw_pieces *pieces,
                                  struct fw_point at, struct fw_vertex *out,
                                  struct fw_error *err)
{
    const struct fw_field *field = pieces->field;
    const struct fw_vertex wanted = {.plane = at};
    const struct fw_vertex *key = &wanted;
    const struct fw_vertex **found =
        bsearch(&key, pieces->known, field->vertex_count, sizeof *pieces->known,
                by_plane);
    if (found) {
        *out = **found;
        return FW_OK;
    }
    *out = (struct fw_vertex){.lonlat = fw_plane_inverse(&field->plane, at),
                              .plane = at,
                              .kind = FW_VERTEX_INPUT};
    return fw_crs_from_lonlat(pieces->crs, &out->lonlat, &out->file, 1, err);
}

static enum fw_status fill(const struct fw_pieces *pieces,
                           const struct fw_point *points,
                           struct fw_field *field, struct fw_error *err)
{
    const size_t count = field->ring_start[field->ring_count];
    field->name = fw_strdup(pieces->field->name);
    field->vertices = fw_alloc(count, sizeof *field->vertices);
    field->corners = fw_alloc(field->ring_start[1], sizeof *field->corners);
    if (!field->name || !field->vertices || !field->corners)
        return fw_fail_memory(err);
    field->plane = pieces->field->plane;
    field->vertex_count = count;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = make_vertex(pieces, points[i], &field->vertices[i], err);
    return status ? status : fw_field__measure(field, err);
}

enum fw_status fw_pieces_take(const struct fw_pieces *pieces,
                              const GEOSGeometry *polygon,
                              struct fw_field **out, struct fw_error *err)
{
    struct fw_field *field = fw_alloc(1, sizeof *field);
    struct fw_point *points = NULL;
    if (!field)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_geos_rings(pieces->geos, polygon, &points, &field->ring_start,
                      &field->ring_count, err);
    if (!status)
        status = fill(pieces, points, field, err);
    fw_free(points);
    if (status)
        fw_field_free(field);
    else
        *out = field;
    return status;
}

int fw_pieces_by_size(const struct fw_field *a, const struct fw_field *b)
{
    const int size = compare(b->area_m2, a->area_m2);
    if (size)
        return size;
    const struct fw_point p = a->vertices[a->corners[0]].plane;
    const struct fw_point q = b->vertices[b->corners[0]].plane;
    const int north = compare(q.y_m, p.y_m);
    return north ? north : compare(p.x_m, q.x_m);
}
