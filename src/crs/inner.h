/* What the files that know the earth share. */
#ifndef FW_CRS_INNER_H
#define FW_CRS_INNER_H

#include "crs/crs.h"
#include "geo/inner.h"

/* How many of the file's units make a full circle of longitude (360, 400); 0
 * when x is no longitude. */
double fw_crs_turn(const struct fw_crs *crs);

/* PROJ may choose another shift, of another accuracy, at another place. */
void fw_crs__as_new(struct fw_crs *crs);

/* Area (signed) and circumference of a ring in one pass. */
void fw_geo_ring_sums(const struct fw_lonlat *ring, size_t count,
                      double *area_m2, double *length_m);

/* Vertices to stand on edges that bow in the plane: after vertex `edge`, `t` of
 * the way to the next one of its ring; in the order of the rings. */
struct fw_bow {
    struct fw_vertex vertex;
    size_t edge;
    double t;
};

struct fw_bows { /* starts as {0} */
    struct fw_bow *items;
    size_t count;
    size_t capacity;
};

enum fw_status fw_bows_find(const struct fw_vertex *vertices,
                            const size_t *ring_start, size_t ring_count,
                            const struct fw_plane *plane, struct fw_crs *crs,
                            struct fw_bows *out, struct fw_error *err);

/* fw_field__finish, with the sizes on the ellipsoid. */
enum fw_status fw_field__measure(struct fw_field *field, struct fw_error *err);

#endif
