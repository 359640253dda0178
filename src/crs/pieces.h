/* Pieces of a field, cut out by GEOS, made fields of their own.
 *
 * GEOS keeps the coordinates of corners that it leaves alone, so that they are
 * found again in the field and stay what they were in the file. New corners
 * get theirs from the plane; they are written like those that came with the
 * file. */
#ifndef FW_CRS_PIECES_H
#define FW_CRS_PIECES_H

#include "crs/geos.h"

struct fw_pieces {
    GEOSContextHandle_t geos;
    const struct fw_field *field;
    struct fw_crs *crs;
    const struct fw_vertex **known; /* the field's, by place in the plane */
};

enum fw_status fw_pieces_init(struct fw_pieces *pieces,
                              GEOSContextHandle_t geos,
                              const struct fw_field *field, struct fw_crs *crs,
                              struct fw_error *err);
void fw_pieces_release(struct fw_pieces *pieces);

/* A field with the whole one's plane and name. */
enum fw_status fw_pieces_take(const struct fw_pieces *pieces,
                              const GEOSGeometry *polygon,
                              struct fw_field **out, struct fw_error *err);

/* For sorting: the greatest first; then the one farther north, then farther
 * west. */
int fw_pieces_by_size(const struct fw_field *a, const struct fw_field *b);

#endif
