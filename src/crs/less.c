/* A field less what is not grazed. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "crs/geos.h"
#include "crs/pieces.h"

#include "crs/crs.h"
#include "geo/herbage.h"
#include <stdlib.h>

enum { quarter_segments = 4 }; /* of a 16-gon */

struct cutting {
    GEOSContextHandle_t geos;
    const struct fw_field *field;
    struct fw_pieces from;
    GEOSGeometry *left;
    struct fw_field **pieces;
    size_t piece_count, piece_capacity;
    struct fw_error *err;
};

/* ---- what is left ---- */

static GEOSGeometry *bar_shape(GEOSContextHandle_t geos,
                               const struct fw_bar *bar)
{
    GEOSGeometry *shape = fw_geos_shape(geos, bar->points, bar->ring_start,
                                        bar->ring_count, bar->is_area);
    if (!shape || !(bar->setback_m > 0))
        return shape;
    GEOSGeometry *wide =
        GEOSBuffer_r(geos, shape, bar->setback_m, quarter_segments);
    GEOSGeom_destroy_r(geos, shape);
    return wide;
}

static enum fw_status unsound(struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT,
                   "what is not grazed cannot be taken off the field; are the "
                   "shapes of its ponds and exclusions sound?");
}

/* The shapes of bars that reach the field; a line has no area. */
static enum fw_status list_shapes(struct cutting *cutting,
                                  const struct fw_bar *bars, size_t count,
                                  GEOSGeometry **shapes, size_t *made)
{
    GEOSContextHandle_t geos = cutting->geos;
    const GEOSPreparedGeometry *left = GEOSPrepare_r(geos, cutting->left);
    bool good = left != NULL;
    for (size_t i = 0; good && i < count; i++) {
        if (!bars[i].is_area && !(bars[i].setback_m > 0))
            continue;
        GEOSGeometry *shape = bar_shape(geos, &bars[i]);
        good = shape != NULL;
        if (good && GEOSPreparedIntersects_r(geos, left, shape) != 0)
            shapes[(*made)++] = shape;
        else
            GEOSGeom_destroy_r(geos, shape);
    }
    GEOSPreparedGeom_destroy_r(geos, left);
    return good ? FW_OK : fw_fail_memory(cutting->err);
}

/* As one: taken off one by one, each would go over all that is left. Takes the
 * shapes. */
static GEOSGeometry *unite(GEOSContextHandle_t geos, GEOSGeometry **shapes,
                           size_t count)
{
    if (count == 1)
        return shapes[0];
    GEOSGeometry *apart = GEOSGeom_createCollection_r(
        geos, GEOS_GEOMETRYCOLLECTION, shapes, (unsigned)count);
    GEOSGeometry *all = apart ? GEOSUnaryUnion_r(geos, apart) : NULL;
    GEOSGeom_destroy_r(geos, apart);
    return all;
}

static enum fw_status take_off(struct cutting *cutting,
                               const struct fw_bar *bars, size_t count)
{
    GEOSContextHandle_t geos = cutting->geos;
    GEOSGeometry **shapes = fw_alloc(count, sizeof *shapes);
    size_t made = 0;
    enum fw_status status =
        shapes ? list_shapes(cutting, bars, count, shapes, &made)
               : fw_fail_memory(cutting->err);
    if (!status && made > 0) {
        GEOSGeometry *all = unite(geos, shapes, made);
        GEOSGeometry *less =
            all ? fw_geos_areas(geos,
                                GEOSDifference_r(geos, cutting->left, all))
                : NULL;
        GEOSGeom_destroy_r(geos, all);
        made = 0;
        status = less ? FW_OK : unsound(cutting->err);
        if (less) {
            GEOSGeom_destroy_r(geos, cutting->left);
            cutting->left = less;
        }
    }
    while (made > 0)
        GEOSGeom_destroy_r(geos, shapes[--made]);
    fw_free(shapes);
    return status;
}

/* A hair's breadth makes a line part what it only crosses. */
static const double hair_m = 0.005;

static double second_m2(GEOSContextHandle_t geos, const GEOSGeometry *parts)
{
    double greatest_m2 = 0, next_m2 = 0;
    const int count = GEOSGetNumGeometries_r(geos, parts);
    for (int i = 0; i < count; i++) {
        const double m2 =
            fw_geos_area_m2(geos, GEOSGetGeometryN_r(geos, parts, i));
        next_m2 = m2 > greatest_m2 ? greatest_m2 : m2 > next_m2 ? m2 : next_m2;
        greatest_m2 = m2 > greatest_m2 ? m2 : greatest_m2;
    }
    return next_m2;
}

enum fw_status fw_herbage_apart_m2(const struct fw_point *points,
                                   const size_t *ring_start, size_t ring_count,
                                   const struct fw_bar *bar, double *out,
                                   struct fw_error *err)
{
    struct fw_bar thin = *bar;
    GEOSContextHandle_t geos = GEOS_init_r();
    if (!geos)
        return fw_fail_memory(err);
    if (!thin.is_area && !(thin.setback_m > hair_m))
        thin.setback_m = hair_m;
    GEOSGeometry *whole =
        fw_geos_shape(geos, points, ring_start, ring_count, true);
    GEOSGeometry *shape = bar_shape(geos, &thin);
    GEOSGeometry *left =
        whole && shape
            ? fw_geos_areas(geos, GEOSDifference_r(geos, whole, shape))
            : NULL;
    const bool good = left != NULL;
    if (good)
        *out = second_m2(geos, left);
    GEOSGeom_destroy_r(geos, whole);
    GEOSGeom_destroy_r(geos, shape);
    GEOSGeom_destroy_r(geos, left);
    GEOS_finish_r(geos);
    return good ? FW_OK : fw_fail_memory(err);
}

/* ---- fields ---- */

static enum fw_status add_piece(struct cutting *cutting,
                                const GEOSGeometry *polygon)
{
    if (!(fw_geos_area_m2(cutting->geos, polygon) >= FW_LEAST_FIELD_M2))
        return FW_OK;
    struct fw_field *field;
    enum fw_status status =
        fw_pieces_take(&cutting->from, polygon, &field, cutting->err);
    if (status)
        return status;
    status = fw_array_reserve(&cutting->pieces, &cutting->piece_capacity,
                              cutting->piece_count + 1, sizeof *cutting->pieces,
                              cutting->err);
    if (status)
        fw_field_free(field);
    else
        cutting->pieces[cutting->piece_count++] = field;
    return status;
}

static int by_size(const void *one, const void *other)
{
    return fw_pieces_by_size(*(struct fw_field *const *)one,
                             *(struct fw_field *const *)other);
}

static enum fw_status run(struct cutting *cutting, const struct fw_bar *bars,
                          size_t count)
{
    cutting->left = fw_geos_field(cutting->geos, cutting->field);
    if (!cutting->left)
        return fw_fail_memory(cutting->err);
    enum fw_status status = take_off(cutting, bars, count);
    if (status)
        return status;
    const int parts = GEOSGetNumGeometries_r(cutting->geos, cutting->left);
    for (int i = 0; !status && i < parts; i++)
        status = add_piece(cutting,
                           GEOSGetGeometryN_r(cutting->geos, cutting->left, i));
    if (!status && cutting->piece_count > 0)
        qsort(cutting->pieces, cutting->piece_count, sizeof *cutting->pieces,
              by_size);
    return status;
}

void fw_fields_free(struct fw_field **fields, size_t count)
{
    for (size_t i = 0; i < count; i++)
        fw_field_free(fields[i]);
    fw_free(fields);
}

enum fw_status fw_field_less(const struct fw_field *field,
                             const struct fw_bar *bars, size_t count,
                             struct fw_crs *crs, struct fw_field ***out,
                             size_t *count_out, double *left_m2,
                             struct fw_error *err)
{
    struct cutting cutting = {
        .geos = GEOS_init_r(), .field = field, .err = err};
    if (!cutting.geos)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_pieces_init(&cutting.from, cutting.geos, field, crs, err);
    if (!status)
        status = run(&cutting, bars, count);
    if (status) {
        fw_fields_free(cutting.pieces, cutting.piece_count);
    } else {
        *out = cutting.pieces;
        *count_out = cutting.piece_count;
        if (left_m2)
            *left_m2 = fw_geos_area_m2(cutting.geos, cutting.left);
    }
    GEOSGeom_destroy_r(cutting.geos, cutting.left);
    GEOS_finish_r(cutting.geos);
    fw_pieces_release(&cutting.from);
    return status;
}
