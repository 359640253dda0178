/* Cutting at the 180th meridian. A line from 179.9 to -179.9 runs over it, not
 * round the earth. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "crs/geos.h"

#include <math.h>
#include <string.h>

void fw_areas_release(struct fw_areas *areas)
{
    fw_free(areas->points);
    fw_free(areas->ring_start);
    fw_free(areas->piece_ring);
    *areas = (struct fw_areas){0};
}

/* The longitude that lies nearest to the other one, beyond 180 or not. */
static double near_to(double lon_deg, double other_deg)
{
    return lon_deg + 360 * rint((other_deg - lon_deg) / 360);
}

/* How many turns to take off, so that the middle lies between -180 and 180. */
static double turns_of(double least_deg, double most_deg)
{
    return rint((least_deg + most_deg) / 2 / 360);
}

/* ---- lines ---- */

struct walk {
    struct fw_areas *out;
    size_t made, first; /* points; the first of this line */
};

static void add_point(struct walk *walk, double lon_deg, double lat_deg)
{
    walk->out->points[walk->made++] = (struct fw_xy){lon_deg, lat_deg};
}

/* From the point before over the meridian towards the next one. */
static void cross(struct walk *walk, struct fw_xy at)
{
    struct fw_areas *out = walk->out;
    struct fw_xy *before = &out->points[walk->made - 1];
    const double side = before->x > 0 ? 180 : -180;
    const double end = near_to(at.x, before->x);
    const double share = (side - before->x) / (end - before->x);
    const double lat = before->y + share * (at.y - before->y);
    if (before->x == side && walk->made - walk->first == 1) {
        before->x = -side; /* the line starts there: on either side */
        return;
    }
    if (before->x != side)
        add_point(walk, side, lat);
    out->ring_start[++out->ring_count] = walk->first = walk->made;
    add_point(walk, -side, lat);
}

enum fw_status fw_geo_cut_line(const struct fw_xy *points, size_t count,
                               struct fw_areas *out, struct fw_error *err)
{
    struct fw_areas cut = {
        .points = fw_alloc(3 * count, sizeof *cut.points),
        .ring_start = fw_alloc(count + 2, sizeof *cut.ring_start),
    };
    struct walk walk = {.out = &cut};
    if (!cut.points || !cut.ring_start) {
        fw_areas_release(&cut);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < count; i++) {
        struct fw_xy at = {near_to(points[i].x, 0), points[i].y};
        if (walk.made > 0 && fabs(at.x) == 180)
            at.x = copysign(180, cut.points[walk.made - 1].x);
        if (walk.made > 0 && fabs(at.x - cut.points[walk.made - 1].x) > 180)
            cross(&walk, at);
        add_point(&walk, at.x, at.y);
    }
    cut.ring_start[++cut.ring_count] = walk.made;
    *out = cut;
    return FW_OK;
}

/* ---- areas ---- */

struct cutting {
    GEOSContextHandle_t geos;
    struct fw_areas *out;
    size_t point_room, ring_room, piece_room;
};

static enum fw_status add_piece(struct cutting *cutting,
                                const struct fw_point *points,
                                const size_t *ring_start, size_t ring_count,
                                double turns, struct fw_error *err)
{
    struct fw_areas *out = cutting->out;
    const size_t first = out->ring_count ? out->ring_start[out->ring_count] : 0;
    enum fw_status status = fw_array_reserve(&out->points, &cutting->point_room,
                                             first + ring_start[ring_count],
                                             sizeof *out->points, err);
    if (!status)
        status = fw_array_reserve(&out->ring_start, &cutting->ring_room,
                                  out->ring_count + ring_count + 1,
                                  sizeof *out->ring_start, err);
    if (!status)
        status = fw_array_reserve(&out->piece_ring, &cutting->piece_room,
                                  out->piece_count + 2, sizeof *out->piece_ring,
                                  err);
    if (status)
        return status;
    for (size_t i = 0; i < ring_start[ring_count]; i++)
        out->points[first + i] =
            (struct fw_xy){points[i].x_m - 360 * turns, points[i].y_m};
    for (size_t r = 0; r <= ring_count; r++)
        out->ring_start[out->ring_count + r] = first + ring_start[r];
    out->piece_ring[out->piece_count++] = out->ring_count;
    out->ring_count += ring_count;
    out->piece_ring[out->piece_count] = out->ring_count;
    return FW_OK;
}

static enum fw_status add_polygon(struct cutting *cutting,
                                  const GEOSGeometry *polygon, double turns,
                                  struct fw_error *err)
{
    struct fw_point *points = NULL;
    size_t *ring_start = NULL, ring_count = 0;
    enum fw_status status = fw_geos_rings(cutting->geos, polygon, &points,
                                          &ring_start, &ring_count, err);
    if (!status)
        status = add_piece(cutting, points, ring_start, ring_count, turns, err);
    fw_free(points);
    fw_free(ring_start);
    return status;
}

/* What of it lies on one turn of the earth: 0 is -180 to 180. */
static enum fw_status add_turn(struct cutting *cutting,
                               const GEOSGeometry *area, double turn,
                               struct fw_error *err)
{
    GEOSContextHandle_t geos = cutting->geos;
    const double west = 360 * turn - 180;
    const struct fw_point corners[] = {
        {west, -90}, {west + 360, -90}, {west + 360, 90}, {west, 90}};
    const size_t start[] = {0, 4};
    GEOSGeometry *box = fw_geos_shape(geos, corners, start, 1, true);
    GEOSGeometry *part = box ? GEOSIntersection_r(geos, area, box) : NULL;
    GEOSGeom_destroy_r(geos, box);
    part = part ? fw_geos_areas(geos, part) : NULL;
    if (!part)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    const int count = GEOSGetNumGeometries_r(geos, part);
    for (int i = 0; !status && i < count; i++) {
        const GEOSGeometry *polygon = GEOSGetGeometryN_r(geos, part, i);
        if (!GEOSisEmpty_r(geos, polygon))
            status = add_polygon(cutting, polygon, turn, err);
    }
    GEOSGeom_destroy_r(geos, part);
    return status;
}

static enum fw_status cut_area(const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count,
                               double first_turn, double last_turn,
                               struct cutting *cutting, struct fw_error *err)
{
    cutting->geos = GEOS_init_r();
    if (!cutting->geos)
        return fw_fail_memory(err);
    GEOSGeometry *area =
        fw_geos_shape(cutting->geos, points, ring_start, ring_count, true);
    enum fw_status status = area ? FW_OK : fw_fail_memory(err);
    for (double turn = first_turn; !status && turn <= last_turn; turn++)
        status = add_turn(cutting, area, turn, err);
    GEOSGeom_destroy_r(cutting->geos, area);
    GEOS_finish_r(cutting->geos);
    return status;
}

/* Rings one after the other, the outer one first. */
static enum fw_status cut_piece(const struct fw_xy *points,
                                const size_t *ring_start, size_t ring_count,
                                struct cutting *cutting, struct fw_error *err)
{
    const size_t first = ring_start[0];
    const size_t count = ring_start[ring_count] - first;
    double least = HUGE_VAL, most = -HUGE_VAL;
    struct fw_point *flat = fw_alloc(count, sizeof *flat);
    size_t *start = fw_alloc(ring_count + 1, sizeof *start);
    enum fw_status status = flat && start ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < count; i++) {
        flat[i] = (struct fw_point){
            near_to(points[first + i].x, points[first].x), points[first + i].y};
        least = fmin(least, flat[i].x_m);
        most = fmax(most, flat[i].x_m);
    }
    for (size_t r = 0; !status && r <= ring_count; r++)
        start[r] = ring_start[r] - first;
    const double low = rint(least / 360), high = rint(most / 360);
    if (!status && (low == high || !(most - least < 360)))
        status = add_piece(cutting, flat, start, ring_count,
                           turns_of(least, most), err);
    else if (!status)
        status = cut_area(flat, start, ring_count, low, high, cutting, err);
    fw_free(flat);
    fw_free(start);
    return status;
}

enum fw_status fw_geo_cut_areas(const struct fw_areas *from,
                                struct fw_areas *out, struct fw_error *err)
{
    struct fw_areas cut = {0};
    struct cutting cutting = {.out = &cut};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < from->piece_count; i++) {
        const size_t first = from->piece_ring[i];
        status = cut_piece(from->points, from->ring_start + first,
                           from->piece_ring[i + 1] - first, &cutting, err);
    }
    if (status)
        fw_areas_release(&cut);
    else
        *out = cut;
    return status;
}
