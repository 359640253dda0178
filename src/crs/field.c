/* A field from a repaired shape: into a plane of its own, with points where its
 * edges bow there, and its sizes on the ellipsoid. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "crs/crs.h"
#include "crs/inner.h"
#include "geo/exact.h"
#include "geo/inner.h"

#include <math.h>
#include <string.h>

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
        const double lon = vertices[i].lonlat.lon_deg / FW_RADIAN_DEG;
        box_take(&box, away * cos(lon), away * sin(lon));
    }
    const double x = (box.west + box.east) / 2;
    const double y = (box.south + box.north) / 2;
    return (struct fw_lonlat){
        .lon_deg = atan2(y, x) * FW_RADIAN_DEG,
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

/* On the ground: a file's own axes may turn the other way. */
static void set_directions(struct draft *draft)
{
    const struct fw_shape *shape = draft->shape;
    for (size_t r = 0; r < shape->ring_count; r++) {
        struct fw_vertex *ring = draft->inputs + shape->ring_start[r];
        size_t last = shape->ring_start[r + 1] - shape->ring_start[r];
        if ((r == 0) == (fw_field__ring_area(ring, last) > 0))
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

/* ---- sizes ---- */

enum fw_status fw_field__measure(struct fw_field *field, struct fw_error *err)
{
    struct fw_lonlat *places = fw_alloc(field->vertex_count, sizeof *places);
    if (!places)
        return fw_fail_memory(err);
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
    }
    fw_free(places);
    return fw_field__finish(field, err);
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
    return status ? status : fw_field__measure(draft->field, draft->err);
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
