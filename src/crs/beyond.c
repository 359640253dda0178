/* What lies beyond a line: its ends are put on the boundary, boundary and line
 * are noded together and polygonized, and the parts are told apart by how often
 * the line must be crossed from the place that sees them. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/geos.h"
#include "crs/pieces.h"
#include "geo/points.h"

#include "crs/crs.h"
#include "geo/herbage.h"
#include <math.h>
#include <string.h>

/* Nearer than this is on it: a millionth of what a fence can be set to. */
static const double on_it_m = 1e-6;
/* So far short of the edge a line is taken on to it: a phone is that far off
 * (from memory). */
static const double short_of_m = 5;
/* A place so near the line does not tell which side it sees. */
static const double tells_m = 0.5;

enum { most_parts = 1000 };

struct parting {
    GEOSContextHandle_t geos;
    const struct fw_field *field;
    struct fw_point *points; /* of the boundary, with the line's ends */
    size_t *ring_start;
    struct fw_point *line;
    size_t count;
    GEOSGeometry *parts; /* a collection of polygons */
    const GEOSGeometry **inside;
    bool *beyond; /* of each of them */
    size_t inside_count;
    struct fw_error *err;
};

static void release(struct parting *parting)
{
    fw_free(parting->points);
    fw_free(parting->ring_start);
    fw_free(parting->line);
    fw_free(parting->inside);
    fw_free(parting->beyond);
    if (parting->geos) {
        GEOSGeom_destroy_r(parting->geos, parting->parts);
        GEOS_finish_r(parting->geos);
    }
}

/* ---- the line's ends ---- */

struct nearest {
    size_t from; /* the side begins at this one of the points */
    struct fw_point at;
    double away_m;
};

static struct fw_point project(struct fw_point p, struct fw_point a,
                               struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double square = x * x + y * y;
    double t =
        square > 0 ? ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / square : 0;
    t = fmax(0, fmin(1, t));
    const struct fw_point at = {a.x_m + t * x, a.y_m + t * y};
    if (fw_point_apart_m(at, a) <= on_it_m)
        return a;
    return fw_point_apart_m(at, b) <= on_it_m ? b : at;
}

static struct nearest nearest_side(const struct parting *parting,
                                   struct fw_point p)
{
    struct nearest best = {.away_m = HUGE_VAL};
    for (size_t r = 0; r < parting->field->ring_count; r++) {
        size_t before = parting->ring_start[r + 1] - 1;
        for (size_t i = parting->ring_start[r]; i < parting->ring_start[r + 1];
             before = i++) {
            const struct fw_point at =
                project(p, parting->points[before], parting->points[i]);
            const double away_m = fw_point_apart_m(p, at);
            if (away_m < best.away_m)
                best = (struct nearest){before, at, away_m};
        }
    }
    return best;
}

/* Room for it is there. */
static void insert_vertex(struct parting *parting, const struct nearest *near)
{
    const size_t rings = parting->field->ring_count;
    size_t ring = 0;
    while (near->from >= parting->ring_start[ring + 1])
        ring++;
    const size_t first = parting->ring_start[ring];
    const size_t next =
        near->from + 1 < parting->ring_start[ring + 1] ? near->from + 1 : first;
    if (fw_point_apart_m(near->at, parting->points[near->from]) <= 0 ||
        fw_point_apart_m(near->at, parting->points[next]) <= 0)
        return; /* on a corner */
    const size_t at = near->from + 1, all = parting->ring_start[rings];
    memmove(parting->points + at + 1, parting->points + at,
            (all - at) * sizeof *parting->points);
    parting->points[at] = near->at;
    for (size_t r = ring + 1; r <= rings; r++)
        parting->ring_start[r]++;
}

/* An end that lies outside goes past the edge and is cut off there. */
static enum fw_status settle_end(struct parting *parting, bool last)
{
    struct fw_point *end = &parting->line[last ? parting->count - 1 : 0];
    const struct nearest near = nearest_side(parting, *end);
    const bool on = near.away_m <= on_it_m;
    if (!on && !fw_field_contains(parting->field, *end, 0))
        return FW_OK;
    if (near.away_m > short_of_m)
        return fw_fail(parting->err, FW_EINPUT,
                       "its %s end lies %.0f m from the edge; expected a line "
                       "from edge to edge",
                       last ? "last" : "first", near.away_m);
    insert_vertex(parting, &near);
    if (on) {
        *end = near.at;
        return FW_OK;
    }
    if (!last) {
        memmove(parting->line + 1, parting->line,
                parting->count * sizeof *parting->line);
        parting->line[0] = near.at;
    } else {
        parting->line[parting->count] = near.at;
    }
    parting->count++;
    return FW_OK;
}

static enum fw_status take(struct parting *parting, const struct fw_point *line,
                           size_t count)
{
    const struct fw_field *field = parting->field;
    parting->geos = GEOS_init_r();
    parting->points =
        fw_alloc(field->vertex_count + 2, sizeof *parting->points);
    parting->ring_start =
        fw_alloc(field->ring_count + 1, sizeof *parting->ring_start);
    parting->line = fw_alloc(count + 2, sizeof *parting->line);
    if (!parting->geos || !parting->points || !parting->ring_start ||
        !parting->line)
        return fw_fail_memory(parting->err);
    for (size_t i = 0; i < field->vertex_count; i++)
        parting->points[i] = field->vertices[i].plane;
    memcpy(parting->ring_start, field->ring_start,
           (field->ring_count + 1) * sizeof *parting->ring_start);
    for (size_t i = 0; i < count; i++)
        if (parting->count == 0 ||
            fw_point_apart_m(parting->line[parting->count - 1], line[i]) >
                on_it_m)
            parting->line[parting->count++] = line[i];
    if (parting->count < 2)
        return fw_fail(parting->err, FW_EINPUT,
                       "it has no length; expected a line from edge to edge");
    const enum fw_status status = settle_end(parting, false);
    return status ? status : settle_end(parting, true);
}

/* ---- the parts ---- */

static enum fw_status no_shape(struct parting *parting)
{
    return fw_fail(parting->err, FW_EINPUT,
                   "the field cannot be parted by it; is its shape sound?");
}

/* Boundary and line with a vertex wherever they meet. */
static enum fw_status node(struct parting *parting, GEOSGeometry **out)
{
    GEOSContextHandle_t geos = parting->geos;
    const size_t start[2] = {0, parting->count};
    GEOSGeometry *polygon =
        fw_geos_shape(geos, parting->points, parting->ring_start,
                      parting->field->ring_count, true);
    GEOSGeometry *line = fw_geos_shape(geos, parting->line, start, 1, false);
    GEOSGeometry *edge = polygon ? GEOSBoundary_r(geos, polygon) : NULL;
    *out = edge && line ? GEOSUnion_r(geos, edge, line) : NULL;
    const enum fw_status status = *out ? FW_OK
                                  : !polygon || !line
                                      ? fw_fail_memory(parting->err)
                                      : no_shape(parting);
    GEOSGeom_destroy_r(geos, polygon);
    GEOSGeom_destroy_r(geos, edge);
    GEOSGeom_destroy_r(geos, line);
    return status;
}

static enum fw_status find_parts(struct parting *parting)
{
    GEOSContextHandle_t geos = parting->geos;
    GEOSGeometry *lines;
    const enum fw_status status = node(parting, &lines);
    if (status)
        return status;
    const GEOSGeometry *list[1] = {lines};
    parting->parts = GEOSPolygonize_r(geos, list, 1);
    GEOSGeom_destroy_r(geos, lines);
    if (!parting->parts)
        return no_shape(parting);
    const int count = GEOSGetNumGeometries_r(geos, parting->parts);
    if (count > most_parts)
        return fw_fail(parting->err, FW_EINPUT,
                       "it parts the field into %d; expected a line that runs "
                       "from edge to edge",
                       count);
    parting->inside = fw_alloc((size_t)count, sizeof *parting->inside);
    parting->beyond = fw_alloc((size_t)count, sizeof *parting->beyond);
    if (!parting->inside || !parting->beyond)
        return fw_fail_memory(parting->err);
    for (int i = 0; i < count; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, parting->parts, i);
        GEOSGeometry *in = GEOSPointOnSurface_r(geos, part);
        struct fw_point at;
        if (!in || !GEOSGeomGetX_r(geos, in, &at.x_m) ||
            !GEOSGeomGetY_r(geos, in, &at.y_m)) {
            GEOSGeom_destroy_r(geos, in);
            return no_shape(parting);
        }
        GEOSGeom_destroy_r(geos, in);
        if (fw_field_contains(parting->field, at, 0))
            parting->inside[parting->inside_count++] = part;
    }
    if (parting->inside_count < 2)
        return fw_fail(parting->err, FW_EINPUT,
                       "it does not part the field; expected a line from edge "
                       "to edge");
    return FW_OK;
}

/* ---- which side ---- */

static size_t nearest_part(const struct parting *parting, struct fw_point from,
                           const bool *only, bool is, double *away_m)
{
    GEOSContextHandle_t geos = parting->geos;
    GEOSGeometry *point =
        GEOSGeom_createPointFromXY_r(geos, from.x_m, from.y_m);
    size_t best = 0;
    *away_m = HUGE_VAL;
    for (size_t i = 0; point && i < parting->inside_count; i++) {
        double here_m;
        if ((only && only[i] != is) ||
            !GEOSDistance_r(geos, parting->inside[i], point, &here_m) ||
            !(here_m < *away_m))
            continue;
        *away_m = here_m;
        best = i;
    }
    GEOSGeom_destroy_r(geos, point);
    return best;
}

/* Neighbours across the line lie on different sides of it. */
static enum fw_status spread(struct parting *parting, size_t start)
{
    const size_t count = parting->inside_count;
    bool *known = fw_alloc(count, sizeof *known);
    size_t *open = fw_alloc(count, sizeof *open);
    size_t open_count = 0;
    if (known && open) {
        known[start] = true;
        open[open_count++] = start;
    }
    while (open_count > 0) {
        const size_t here = open[--open_count];
        for (size_t i = 0; i < count; i++)
            if (!known[i] &&
                GEOSRelatePattern_r(parting->geos, parting->inside[here],
                                    parting->inside[i], "****1****") == 1) {
                known[i] = true;
                parting->beyond[i] = !parting->beyond[here];
                open[open_count++] = i;
            }
    }
    const bool good = known && open;
    fw_free(known);
    fw_free(open);
    return good ? FW_OK : fw_fail_memory(parting->err);
}

static enum fw_status tell_sides(struct parting *parting, struct fw_point from)
{
    double here_m, there_m;
    const size_t start = nearest_part(parting, from, NULL, false, &here_m);
    const enum fw_status status = spread(parting, start);
    if (status)
        return status;
    nearest_part(parting, from, parting->beyond, true, &there_m);
    if (there_m - here_m > tells_m)
        return FW_OK;
    return fw_fail(parting->err, FW_EUSAGE,
                   "the place stands on it, which tells no side");
}

/* ---- what lies beyond ---- */

static bool is_on_line(const struct parting *parting, struct fw_point at)
{
    for (size_t i = 0; i + 1 < parting->count; i++)
        if (fw_segment_distance_m(at, parting->line[i], parting->line[i + 1]) <=
            on_it_m)
            return nearest_side(parting, at).away_m > on_it_m;
    return false;
}

static enum fw_status mark_line(const struct parting *parting,
                                struct fw_beyond *out)
{
    const struct fw_field *field = out->field;
    out->on_line = fw_alloc(field->vertex_count, sizeof *out->on_line);
    if (!out->on_line)
        return fw_fail_memory(parting->err);
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < field->ring_start[r + 1] ? i + 1 : field->ring_start[r];
            const struct fw_point a = field->vertices[i].plane;
            const struct fw_point b = field->vertices[next].plane;
            const struct fw_point middle = {(a.x_m + b.x_m) / 2,
                                            (a.y_m + b.y_m) / 2};
            out->on_line[i] = is_on_line(parting, middle);
        }
    return FW_OK;
}

/* Slivers are no ground to walk over. */
static enum fw_status keep_behind(const struct parting *parting,
                                  const struct fw_pieces *pieces,
                                  struct fw_beyond *out)
{
    enum fw_status status = FW_OK;
    out->behind = fw_alloc(parting->inside_count, sizeof *out->behind);
    if (!out->behind)
        return fw_fail_memory(parting->err);
    for (size_t i = 0; !status && i < parting->inside_count; i++) {
        const double m2 = fw_geos_area_m2(parting->geos, parting->inside[i]);
        if (parting->beyond[i])
            continue;
        out->behind_m2 += m2;
        if (!(m2 >= FW_LEAST_FIELD_M2))
            continue;
        status = fw_pieces_take(pieces, parting->inside[i],
                                &out->behind[out->behind_count], parting->err);
        out->behind_count += !status;
    }
    return status;
}

static enum fw_status keep_greatest(struct parting *parting, struct fw_crs *crs,
                                    struct fw_beyond *out)
{
    const GEOSGeometry *best = NULL;
    double best_m2 = 0;
    for (size_t i = 0; i < parting->inside_count; i++) {
        const double m2 = fw_geos_area_m2(parting->geos, parting->inside[i]);
        if (!parting->beyond[i])
            continue;
        out->apart_m2 += m2;
        if (m2 > best_m2) {
            best_m2 = m2;
            best = parting->inside[i];
        }
    }
    out->apart_m2 = fmax(0, out->apart_m2 - best_m2);
    if (!(best_m2 >= FW_LEAST_FIELD_M2))
        return fw_fail(parting->err, FW_EINPUT,
                       "it leaves %.0f m2 beyond it, which is no field",
                       best_m2);
    struct fw_pieces pieces;
    enum fw_status status = fw_pieces_init(&pieces, parting->geos,
                                           parting->field, crs, parting->err);
    if (!status)
        status = fw_pieces_take(&pieces, best, &out->field, parting->err);
    if (!status)
        status = keep_behind(parting, &pieces, out);
    fw_pieces_release(&pieces);
    return status ? status : mark_line(parting, out);
}

void fw_beyond_release(struct fw_beyond *beyond)
{
    fw_field_free(beyond->field);
    fw_free(beyond->on_line);
    for (size_t i = 0; i < beyond->behind_count; i++)
        fw_field_free(beyond->behind[i]);
    fw_free(beyond->behind);
    *beyond = (struct fw_beyond){0};
}

enum fw_status fw_field_beyond(const struct fw_field *field,
                               const struct fw_point *line, size_t count,
                               struct fw_point from, struct fw_crs *crs,
                               struct fw_beyond *out, struct fw_error *err)
{
    struct parting parting = {.field = field, .err = err};
    struct fw_beyond beyond = {0};
    enum fw_status status = take(&parting, line, count);
    if (!status)
        status = find_parts(&parting);
    if (!status)
        status = tell_sides(&parting, from);
    if (!status)
        status = keep_greatest(&parting, crs, &beyond);
    release(&parting);
    if (status)
        fw_beyond_release(&beyond);
    else
        *out = beyond;
    return status;
}
