#include "mapped/outline.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include "figures/units.h"

#include <math.h>
#include <string.h>

/* An edge that bows more is none: it jumps from one side of the map to the
 * other. */
static const double most_bow_m = FW_BOUND(1000);

static bool is_closed(const struct fw_shape *shape)
{
    const struct fw_xy a = shape->points[0];
    const struct fw_xy b = shape->points[shape->point_count - 1];
    return shape->ring_count == 1 && shape->point_count > FW_PARTS(3) &&
           !(a.x < b.x || a.x > b.x || a.y < b.y || a.y > b.y);
}

enum fw_status fw_farm__outline_init(struct fw_farm__outline *outline,
                                     const struct fw_feature *feature,
                                     enum fw_role role, struct fw_crs *crs,
                                     struct fw_error *err)
{
    const struct fw_shape *shape = &feature->shape;
    const size_t starts = shape->ring_count + 1;
    *outline = (struct fw_farm__outline){
        .kind = feature->kind,
        .points = fw_alloc(shape->point_count, sizeof *outline->points),
        .ring_start = fw_alloc(starts, sizeof *outline->ring_start),
        .ring_count = shape->ring_count,
    };
    if (!outline->points || !outline->ring_start)
        return fw_fail_memory(err);
    memcpy(outline->ring_start, shape->ring_start,
           starts * sizeof *outline->ring_start);
    if (feature->kind == FW_FEATURE_LINE &&
        fw_safety_role_drawn(role) == FW_DRAWN_AREAS && is_closed(shape)) {
        outline->kind = FW_FEATURE_POLYGON;
        outline->ring_start[1]--;
    }
    if (crs)
        return fw_crs_to_lonlat(crs, shape->points, outline->points,
                                shape->point_count, NULL, err);
    for (size_t i = 0; i < shape->point_count; i++)
        outline->points[i] =
            (struct fw_lonlat){shape->points[i].x, shape->points[i].y};
    return FW_OK;
}

void fw_farm__outline_release(struct fw_farm__outline *outline)
{
    fw_free(outline->points);
    fw_free(outline->ring_start);
    *outline = (struct fw_farm__outline){0};
}

static struct fw_xy between(struct fw_xy a, struct fw_xy b, double t)
{
    return (struct fw_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* Into how many pieces the edge from a to b is parted. */
static enum fw_status count_pieces(struct fw_crs *crs,
                                   const struct fw_xy ends[],
                                   struct fw_lonlat a, struct fw_lonlat b,
                                   size_t *pieces, struct fw_error *err)
{
    const double north_m = FW_DEGREE_M * fabs(b.lat_deg - a.lat_deg);
    const double east_m = FW_DEGREE_M * fabs(b.lon_deg - a.lon_deg) *
                          cos(a.lat_deg / FW_RADIAN_DEG);
    const struct fw_xy middle = between(ends[0], ends[1], 0.5);
    struct fw_lonlat at;
    struct fw_plane plane;
    *pieces = 1;
    if (!crs || north_m + east_m < FW_EDGE_SHORT_M)
        return FW_OK;
    enum fw_status status = fw_crs_to_lonlat(crs, &middle, &at, 1, NULL, err);
    if (!status)
        status = fw_plane_init(&plane, at, err);
    if (status)
        return status;
    const double bow_m = fw_segment_distance_m((struct fw_point){0, 0},
                                               fw_plane_forward(&plane, a),
                                               fw_plane_forward(&plane, b));
    if (bow_m > FW_EDGE_BOW_M && bow_m < most_bow_m)
        *pieces = (size_t)ceil(sqrt(bow_m / FW_EDGE_BOW_M));
    return FW_OK;
}

struct growing {
    struct fw_lonlat *points;
    size_t count, capacity;
};

static enum fw_status push(struct growing *out, struct fw_lonlat at,
                           struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &out->points, &out->capacity, out->count + 1, sizeof *out->points, err);
    if (!status)
        out->points[out->count++] = at;
    return status;
}

static enum fw_status add_edge(struct growing *out, struct fw_crs *crs,
                               const struct fw_xy ends[], struct fw_lonlat a,
                               struct fw_lonlat b, struct fw_error *err)
{
    size_t pieces;
    enum fw_status status = count_pieces(crs, ends, a, b, &pieces, err);
    for (size_t i = 1; !status && i < pieces; i++) {
        const struct fw_xy file =
            between(ends[0], ends[1], (double)i / (double)pieces);
        struct fw_lonlat at;
        status = fw_crs_to_lonlat(crs, &file, &at, 1, NULL, err);
        if (!status)
            status = push(out, at, err);
    }
    return status;
}

enum fw_status fw_farm__outline_straighten(struct fw_farm__outline *outline,
                                           const struct fw_feature *feature,
                                           struct fw_crs *crs,
                                           struct fw_error *err)
{
    const struct fw_xy *files = feature->shape.points;
    struct growing out = {0};
    enum fw_status status = FW_OK;
    size_t first = 0;
    for (size_t r = 0; r < outline->ring_count; r++) {
        const size_t end = outline->ring_start[r + 1];
        const bool closed = outline->kind == FW_FEATURE_POLYGON;
        for (size_t i = first; !status && i < end; i++) {
            const size_t next = i + 1 < end ? i + 1 : first;
            status = push(&out, outline->points[i], err);
            if (!status && (closed || next > i)) {
                const struct fw_xy ends[2] = {files[i], files[next]};
                status = add_edge(&out, crs, ends, outline->points[i],
                                  outline->points[next], err);
            }
        }
        first = end;
        outline->ring_start[r + 1] = out.count;
    }
    if (status) {
        fw_free(out.points);
        fw_farm__outline_release(outline);
        return status;
    }
    fw_free(outline->points);
    outline->points = out.points;
    return FW_OK;
}
