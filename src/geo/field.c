/* A field: a repaired shape in its own plane, with its sizes and corners. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "exact.h"
#include "inner.h"

#include <math.h>
#include <string.h>

static const double radian = 57.295779513082320877;

/* ---- the centre ---- */

struct box {
    double west, east, south, north;
};

static void box_take(struct box *box, double x, double y)
{
    box->west = fmin(box->west, x);
    box->east = fmax(box->east, x);
    box->south = fmin(box->south, y);
    box->north = fmax(box->north, y);
}

static struct box empty_box(void)
{
    return (struct box){HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
}

static struct box box_of(const struct fw_vertex *vertices, size_t count,
                         double turn)
{
    struct box box = empty_box();
    for (size_t i = 0; i < count; i++) {
        const struct fw_lonlat at = vertices[i].lonlat;
        box_take(&box, at.lon_deg < 0 ? at.lon_deg + turn : at.lon_deg,
                 at.lat_deg);
    }
    return box;
}

/* Longitudes mean little at a pole: the box stands on the ground there. */
static struct fw_lonlat polar_centre(const struct fw_vertex *vertices,
                                     size_t count, double pole)
{
    struct box box = empty_box();
    for (size_t i = 0; i < count; i++) {
        const double away = 90 - fabs(vertices[i].lonlat.lat_deg);
        const double lon = vertices[i].lonlat.lon_deg / radian;
        box_take(&box, away * cos(lon), away * sin(lon));
    }
    const double x = (box.west + box.east) / 2;
    const double y = (box.south + box.north) / 2;
    return (struct fw_lonlat){
        .lon_deg = atan2(y, x) * radian,
        .lat_deg = copysign(fmax(0, 90 - fw_length(x, y)), pole)};
}

/* Does not depend on the order of the vertices. */
static struct fw_lonlat find_centre(const struct fw_vertex *vertices,
                                    size_t count)
{
    struct box box = box_of(vertices, count, 0);
    if (fmax(fabs(box.south), fabs(box.north)) > 89)
        return polar_centre(vertices, count, box.south + box.north);
    if (box.east - box.west > 180)
        box = box_of(vertices, count, 360);
    double lon_deg = (box.west + box.east) / 2;
    if (lon_deg > 180)
        lon_deg -= 360;
    return (struct fw_lonlat){.lon_deg = lon_deg,
                              .lat_deg = (box.south + box.north) / 2};
}

/* ---- into the plane ---- */

struct draft {
    const struct fw_shape *shape;
    struct fw_crs *crs;
    struct fw_error *err;
    struct fw_vertex *inputs; /* of all rings, in the field's directions */
    struct fw_bows bows;
    struct fw_field *field;
};

static enum fw_status read_inputs(struct draft *draft)
{
    const size_t count = draft->shape->point_count;
    struct fw_lonlat *places = fw_alloc(count, sizeof *places);
    draft->inputs = fw_alloc(count, sizeof *draft->inputs);
    if (!places || !draft->inputs) {
        fw_free(places);
        return fw_fail_memory(draft->err);
    }
    const enum fw_status status = fw_crs_to_lonlat(
        draft->crs, draft->shape->points, places, count, NULL, draft->err);
    for (size_t i = 0; !status && i < count; i++)
        draft->inputs[i] = (struct fw_vertex){.file = draft->shape->points[i],
                                              .lonlat = places[i],
                                              .kind = FW_VERTEX_INPUT};
    fw_free(places);
    return status;
}

static enum fw_status to_plane(struct draft *draft)
{
    const size_t count = draft->shape->point_count;
    struct fw_plane *plane = &draft->field->plane;
    const enum fw_status status =
        fw_plane_init(plane, find_centre(draft->inputs, count), draft->err);
    if (status)
        return status;
    struct box box = empty_box();
    for (size_t i = 0; i < count; i++) {
        draft->inputs[i].plane =
            fw_plane_forward(plane, draft->inputs[i].lonlat);
        box_take(&box, draft->inputs[i].plane.x_m, draft->inputs[i].plane.y_m);
    }
    const double across_m = fmax(box.east - box.west, box.north - box.south);
    if (!(across_m <= FW_WIDEST_FIELD_M))
        return fw_fail(draft->err, FW_EINPUT,
                       "field is %.6g m across; expected at most %.0f m: are "
                       "its coordinate system and its points right?",
                       across_m, FW_WIDEST_FIELD_M);
    return FW_OK;
}

static double ring_area(const struct fw_vertex *ring, size_t count)
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

/* On the ground: a file's own axes may turn the other way. */
static void set_directions(struct draft *draft)
{
    const struct fw_shape *shape = draft->shape;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_vertex *ring = draft->inputs + shape->ring_start[r];
        size_t last = shape->ring_start[r + 1] - shape->ring_start[r];
        if ((r == 0) == (ring_area(ring, last) > 0))
            continue;
        for (size_t first = 0; first + 1 < last; first++) {
            const struct fw_vertex kept = ring[first];
            ring[first] = ring[--last];
            ring[last] = kept;
        }
    }
}

static enum fw_status join(struct draft *draft)
{
    const struct fw_shape *shape = draft->shape;
    struct fw_field *field = draft->field;
    const size_t count = shape->point_count + draft->bows.count;
    field->vertices = fw_alloc(count, sizeof *field->vertices);
    field->ring_start =
        fw_alloc(shape->ring_count + 1, sizeof *field->ring_start);
    field->corners = fw_alloc(shape->ring_start[1], sizeof *field->corners);
    if (!field->vertices || !field->ring_start || !field->corners)
        return fw_fail_memory(draft->err);
    size_t made = 0;
    size_t bow = 0;
    for (size_t r = 0; r < shape->ring_count; r++) {
        field->ring_start[r] = made;
        for (size_t i = shape->ring_start[r]; i < shape->ring_start[r + 1];
             i++) {
            field->vertices[made++] = draft->inputs[i];
            while (bow < draft->bows.count && draft->bows.items[bow].edge == i)
                field->vertices[made++] = draft->bows.items[bow++].vertex;
        }
    }
    field->ring_start[shape->ring_count] = made;
    field->ring_count = shape->ring_count;
    field->vertex_count = made;
    return FW_OK;
}

/* ---- sizes and corners ---- */

static enum fw_status measure(struct fw_field *field, struct fw_error *err)
{
    struct fw_lonlat *places = fw_alloc(field->vertex_count, sizeof *places);
    if (!places)
        return fw_fail_memory(err);
    struct fw_sum area = {0};
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t start = field->ring_start[r];
        const size_t count = field->ring_start[r + 1] - start;
        for (size_t i = 0; i < count; i++)
            places[i] = field->vertices[start + i].lonlat;
        double ring_m2 = 0;
        double length_m = 0;
        fw_geo_ring_sums(places, count, &ring_m2, &length_m);
        field->ellipsoid_m2 += ring_m2; /* holes run clockwise: negative */
        *(r == 0 ? &field->perimeter_m : &field->holes_m) += length_m;
        fw_sum_add(&area, ring_area(field->vertices + start, count));
    }
    fw_free(places);
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

enum fw_status fw_field_finish(struct fw_field *field, struct fw_error *err)
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

static enum fw_status build(struct draft *draft, const char *name)
{
    draft->field->name = fw_strdup(name ? name : "");
    if (!draft->field->name)
        return fw_fail_memory(draft->err);
    enum fw_status status = read_inputs(draft);
    if (!status)
        status = to_plane(draft);
    if (status)
        return status;
    set_directions(draft);
    status = fw_bows_find(draft->inputs, draft->shape->ring_start,
                          draft->shape->ring_count, &draft->field->plane,
                          draft->crs, &draft->bows, draft->err);
    if (!status)
        status = join(draft);
    return status ? status : fw_field_finish(draft->field, draft->err);
}

enum fw_status fw_field_new(const struct fw_shape *shape, const char *name,
                            struct fw_crs *crs, struct fw_field **out,
                            struct fw_error *err)
{
    if (shape->ring_count == 0 || shape->ring_start[1] < 3)
        return fw_fail(err, FW_EINPUT,
                       "shape is empty; expected a ring of 3 points or more");
    struct draft draft = {.shape = shape, .crs = crs, .err = err};
    draft.field = fw_alloc(1, sizeof *draft.field);
    if (!draft.field)
        return fw_fail_memory(err);
    const enum fw_status status = build(&draft, name);
    fw_free(draft.inputs);
    fw_free(draft.bows.items);
    if (status) {
        fw_field_free(draft.field);
        return status;
    }
    *out = draft.field;
    return FW_OK;
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
    return fw_length(b.x_m - a.x_m, b.y_m - a.y_m);
}

double fw_field_side_m(const struct fw_field *field, size_t corner)
{
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
