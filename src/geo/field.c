/* A field in its plane: its size, its corners, places on its edge. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/exact.h"
#include "geo/inner.h"
#include "geo/points.h"

#include <math.h>

void fw_shape_release(struct fw_shape *shape)
{
    if (!shape)
        return;
    fw_free(shape->points);
    fw_free(shape->ring_start);
    *shape = (struct fw_shape){0};
}

/* ---- sizes and corners ---- */

double fw_field__ring_area(const struct fw_vertex *ring, size_t count)
{
    struct fw_sum twice = {0};
    for (size_t i = 0, before = count - 1; i < count; before = i++) {
        const struct fw_point a = ring[before].plane;
        const struct fw_point b = ring[i].plane;
        fw_sum_add_product(&twice, a.x_m, b.y_m);
        fw_sum_add_product(&twice, -b.x_m, a.y_m);
    }
    return fw_sum_value(twice) / 2;
}

static enum fw_status measure(struct fw_field *field, struct fw_error *err)
{
    struct fw_sum area = {0};
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t start = field->ring_start[r];
        fw_sum_add(&area,
                   fw_field__ring_area(field->vertices + start,
                                       field->ring_start[r + 1] - start));
    }
    field->area_m2 = fw_sum_value(area);
    if (!(field->area_m2 >= FW_LEAST_FIELD_M2))
        return fw_fail(err, FW_EINPUT,
                       "field has %.3g m2; expected at least %.0f m2",
                       field->area_m2, FW_LEAST_FIELD_M2);
    return FW_OK;
}

/* ring and places have room for the outer ring. */
static enum fw_status choose_corners(struct fw_field *field,
                                     struct fw_point *ring, size_t *places,
                                     struct fw_error *err)
{
    size_t count = 0;
    for (size_t i = 0; i < field->ring_start[1]; i++) {
        if (field->vertices[i].kind != FW_VERTEX_INPUT)
            continue;
        ring[count] = field->vertices[i].plane;
        places[count++] = i;
    }
    const enum fw_status status =
        fw_corners_find(ring, count, field->corners, &field->corner_count, err);
    for (size_t i = 0; !status && i < field->corner_count; i++)
        field->corners[i] = places[field->corners[i]];
    return status;
}

static enum fw_status find_corners(struct fw_field *field, struct fw_error *err)
{
    const size_t count = field->ring_start[1];
    struct fw_point *ring = fw_alloc(count, sizeof *ring);
    size_t *places = fw_alloc(count, sizeof *places);
    const enum fw_status status = ring && places
                                      ? choose_corners(field, ring, places, err)
                                      : fw_fail_memory(err);
    fw_free(ring);
    fw_free(places);
    return status;
}

enum fw_status fw_field__finish(struct fw_field *field, struct fw_error *err)
{
    if (field->ring_count > FW_MOST_HOLES + 1)
        return fw_fail(err, FW_EINPUT,
                       "field has %zu ponds and other places cut out of it; "
                       "expected at most %d: put those that lie together into "
                       "one, or leave out the smallest",
                       field->ring_count - 1, FW_MOST_HOLES);
    const enum fw_status status = measure(field, err);
    return status ? status : find_corners(field, err);
}

/* ---- from rings ---- */

static enum fw_status check_ring(const struct fw_point *ring, size_t count,
                                 struct fw_error *err)
{
    if (count < 3)
        return fw_fail(err, FW_EINPUT,
                       "a ring has %zu points; expected 3 or more", count);
    for (size_t i = 0; i < count; i++)
        if (!(fabs(ring[i].x_m) <= FW_WIDEST_FIELD_M &&
              fabs(ring[i].y_m) <= FW_WIDEST_FIELD_M))
            return fw_fail(err, FW_EINPUT,
                           "point %zu of a ring is at %g, %g; expected within "
                           "%.0f m of the middle",
                           i + 1, ring[i].x_m, ring[i].y_m, FW_WIDEST_FIELD_M);
    return FW_OK;
}

/* The outer ring anticlockwise, the others clockwise. */
static void take_ring(struct fw_field *field, size_t r,
                      const struct fw_point *ring, size_t count)
{
    struct fw_vertex *to = field->vertices + field->ring_start[r];
    const bool turned = (r == 0) != (fw_ring_area_m2(ring, count) > 0);
    for (size_t i = 0; i < count; i++) {
        const struct fw_point at = ring[turned ? count - 1 - i : i];
        to[i] = (struct fw_vertex){
            .file = {at.x_m, at.y_m},
            .lonlat = fw_plane_inverse(&field->plane, at),
            .plane = at,
            .kind = FW_VERTEX_INPUT,
        };
    }
    *(r == 0 ? &field->perimeter_m : &field->holes_m) +=
        fw_line_length_m(ring, count, true);
}

static enum fw_status fill(struct fw_field *field,
                           const struct fw_point *points,
                           const size_t *ring_start, size_t ring_count,
                           const char *name, struct fw_error *err)
{
    const size_t count = ring_start[ring_count];
    field->name = fw_strdup(name ? name : "");
    field->vertices = fw_alloc(count, sizeof *field->vertices);
    field->ring_start = fw_alloc(ring_count + 1, sizeof *field->ring_start);
    field->corners = fw_alloc(ring_start[1], sizeof *field->corners);
    if (!field->name || !field->vertices || !field->ring_start ||
        !field->corners)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_plane_init(&field->plane, (struct fw_lonlat){0, 0}, err);
    field->vertex_count = count;
    field->ring_count = ring_count;
    for (size_t r = 0; !status && r < ring_count; r++) {
        field->ring_start[r] = ring_start[r];
        field->ring_start[r + 1] = ring_start[r + 1];
        take_ring(field, r, points + ring_start[r],
                  ring_start[r + 1] - ring_start[r]);
    }
    if (!status)
        status = fw_field__finish(field, err);
    field->ellipsoid_m2 = field->area_m2;
    return status;
}

enum fw_status fw_field_from_rings(const struct fw_point *points,
                                   const size_t *ring_start, size_t ring_count,
                                   const char *name, struct fw_field **out,
                                   struct fw_error *err)
{
    if (!points || !ring_start || !out)
        return fw_fail_null(
            err, "the points, where the rings start, or where the field goes,");
    enum fw_status status = FW_OK;
    if (ring_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "no ring; expected the field's outer "
                       "ring, and one for each hole");
    for (size_t r = 0; !status && r < ring_count; r++)
        status = check_ring(points + ring_start[r],
                            ring_start[r + 1] - ring_start[r], err);
    if (status)
        return status;
    struct fw_field *field = fw_alloc(1, sizeof *field);
    if (!field)
        return fw_fail_memory(err);
    status = fill(field, points, ring_start, ring_count, name, err);
    if (status)
        fw_field_free(field);
    else
        *out = field;
    return status;
}

void fw_field_free(struct fw_field *field)
{
    if (!field)
        return;
    fw_free(field->name);
    fw_free(field->vertices);
    fw_free(field->ring_start);
    fw_free(field->corners);
    fw_free(field);
}

/* ---- places on the edge ---- */

/* The vertex after this one, clockwise along the outer ring. */
static size_t clockwise(const struct fw_field *field, size_t vertex)
{
    return (vertex > 0 ? vertex : field->ring_start[1]) - 1;
}

static double gap_m(const struct fw_field *field, size_t from, size_t to)
{
    const struct fw_point a = field->vertices[from].plane;
    const struct fw_point b = field->vertices[to].plane;
    return fw_point_apart_m(b, a);
}

static bool stands_on(struct fw_point at, struct fw_point a, struct fw_point b)
{
    static const double on_side_m = 1e-3;
    return at.x_m >= fmin(a.x_m, b.x_m) - on_side_m &&
           at.x_m <= fmax(a.x_m, b.x_m) + on_side_m &&
           fw_segment_distance_m(at, a, b) <= on_side_m;
}

/* A side runs clockwise from its corner, against the ring. */
size_t fw_field_side_at(const struct fw_field *field, struct fw_point at)
{
    const size_t count = field->ring_start[1];
    for (size_t corner = 0; corner < field->corner_count; corner++) {
        const size_t end = field->corners[(corner + 1) % field->corner_count];
        for (size_t v = field->corners[corner]; v != end;) {
            const size_t next = v > 0 ? v - 1 : count - 1;
            if (stands_on(at, field->vertices[v].plane,
                          field->vertices[next].plane))
                return corner + 1;
            v = next;
        }
    }
    return 0;
}

double fw_field_side_m(const struct fw_field *field, size_t corner)
{
    if (!field || corner >= field->corner_count)
        return 0;
    if (corner >= field->corner_count)
        return 0;
    const size_t end = field->corners[(corner + 1) % field->corner_count];
    struct fw_sum side = {0};
    size_t here = field->corners[corner];
    do {
        const size_t next = clockwise(field, here);
        fw_sum_add(&side, gap_m(field, here, next));
        here = next;
    } while (here != end);
    return fw_sum_value(side);
}

static struct fw_point walk(const struct fw_field *field, size_t corner,
                            double along_m)
{
    const size_t end = field->corners[(corner + 1) % field->corner_count];
    size_t here = field->corners[corner];
    double left_m = along_m;
    do {
        const size_t next = clockwise(field, here);
        const double step_m = gap_m(field, here, next);
        if (left_m < step_m) {
            const struct fw_point a = field->vertices[here].plane;
            const struct fw_point b = field->vertices[next].plane;
            const double t = left_m / step_m;
            return (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                                     a.y_m + t * (b.y_m - a.y_m)};
        }
        left_m -= step_m;
        here = next;
    } while (here != end);
    return field->vertices[end].plane;
}

enum fw_status fw_field_place(const struct fw_field *field, size_t corner,
                              double along_m, struct fw_point *out,
                              struct fw_error *err)
{
    if (!field || !out)
        return fw_fail_null(err, "a field, or where the place goes,");
    if (corner >= field->corner_count)
        return fw_fail(err, FW_EINPUT,
                       "corner %zu is not there; expected 1 to %zu", corner + 1,
                       field->corner_count);
    /* A length that was read off a map to the millimetre may be over by one. */
    const double rounding_m = 0.001;
    const double side_m = fw_field_side_m(field, corner);
    if (!(along_m >= 0) || !(along_m <= side_m + rounding_m))
        return fw_fail(err, FW_EINPUT,
                       "side %zu is %.2f m long; %.10g m along is not on it",
                       corner + 1, side_m, along_m);
    *out = walk(field, corner, along_m);
    return FW_OK;
}

/* ---- inside or not ---- */

static bool is_near(const struct fw_field *field, size_t from, size_t to,
                    struct fw_point point, double reach_m)
{
    return fw_segment_distance_m(point, field->vertices[from].plane,
                                 field->vertices[to].plane) <= reach_m;
}

bool fw_field_contains(const struct fw_field *field, struct fw_point point,
                       double reach_m)
{
    if (!field)
        return false;
    bool inside = false;
    for (size_t r = 0; r < field->ring_count; r++) {
        size_t before = field->ring_start[r + 1] - 1;
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            if (reach_m > 0 && is_near(field, before, i, point, reach_m))
                return true;
            /* Holes toggle it back. */
            if (fw_edge_crosses_ray(field->vertices[before].plane,
                                    field->vertices[i].plane, point))
                inside = !inside;
            before = i;
        }
    }
    return inside;
}
