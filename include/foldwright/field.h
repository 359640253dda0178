/* Fields in their planes: rings of vertices, lengths and areas there, and the
 * exact sweep that cuts a field into paddocks.
 *
 * Three kinds of coordinate stand side by side and never mix: the file's own
 * (x, y as the file has them, x east or longitude first), longitude and
 * latitude on WGS 84, and metres in the field's local plane. */
#ifndef FW_FIELD_H
#define FW_FIELD_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct fw_xy { /* in a file's coordinate system */
    double x;
    double y;
};

struct fw_lonlat { /* WGS 84 */
    double lon_deg;
    double lat_deg;
};

struct fw_point { /* in a field's local plane, east and north of its centre */
    double x_m;
    double y_m;
};

/* Lambert azimuthal equal-area on the ellipsoid, centred on a field: areas are
 * exact everywhere, lengths within 4e-7 to 6 km from the centre. Forward and
 * inverse in closed form and Newton steps: there and back within 1 nm. */
struct fw_plane {
    struct fw_lonlat centre;
    double qp, rq, beta_sin, beta_cos, d; /* Snyder's names, 1987, p. 187 */
};

#define FW_NONE ((size_t)-1) /* of an index: there is none */

#define FW_MOST_VERTICES 200000
#define FW_MOST_HOLES 500 /* ponds and ground cut out of one field */
#define FW_LEAST_FIELD_M2 50.0
#define FW_WIDEST_FIELD_M 12000.0

enum fw_vertex_kind {
    FW_VERTEX_INPUT, /* came with the file: written as it came */
    FW_VERTEX_BOW,   /* keeps an edge that is straight in the file within 1 mm
                        in the plane; written only where the file's own
                        coordinate system is not */
    FW_VERTEX_CUT    /* made by a cut */
};

struct fw_vertex {
    struct fw_xy file;
    struct fw_lonlat lonlat;
    struct fw_point plane;
    enum fw_vertex_kind kind;
};

/* A field: rings of indexes into one table of vertices. Outer ring first and
 * anticlockwise, holes clockwise, none closed. A side is the boundary from one
 * corner to the next; corners are numbered clockwise from the northernmost
 * (then westernmost), as a person walks the fence, so that the same field has
 * the same numbers however its file orders it. The corner numbers that people
 * see start at 1; indexes here start at 0. */
struct fw_field {
    char *name;
    struct fw_plane plane;
    struct fw_vertex *vertices;
    size_t vertex_count; /* vertices of the rings; ring r holds the vertices
                            ring_start[r] .. ring_start[r + 1] - 1 in order */
    size_t *ring_start;
    size_t ring_count;
    size_t *corners; /* vertex of each corner of the outer ring */
    size_t corner_count;
    double area_m2;      /* in the plane, holes taken off */
    double ellipsoid_m2; /* as a geodesist has it */
    double perimeter_m;  /* ellipsoidal, outer ring */
    double holes_m;      /* ellipsoidal, all inner rings */
};

/* A field from rings in a plane, metres east and north, not closed, in either
 * direction: the outer one first. The plane's centre is on the equator at
 * longitude 0, so that longitudes and latitudes mean nothing; sizes on the
 * ellipsoid are those in the plane. Rings must not cross: nobody repairs them.
 * FW_EINPUT: a ring of under 3 points, a coordinate that is not finite or
 * beyond FW_WIDEST_FIELD_M from the middle, under FW_LEAST_FIELD_M2, over
 * FW_MOST_HOLES holes. */
FW_API enum fw_status fw_field_from_rings(const struct fw_point *points,
                                          const size_t *ring_start,
                                          size_t ring_count, const char *name,
                                          struct fw_field **out,
                                          struct fw_error *err);
FW_API void fw_field_free(struct fw_field *field);

/* A place on a field's edge, `along_m` from corner `corner` clockwise; side s
 * runs from corner s to the next. FW_EINPUT: no such corner or too far. */
FW_API enum fw_status fw_field_place(const struct fw_field *field,
                                     size_t corner, double along_m,
                                     struct fw_point *out,
                                     struct fw_error *err);

/* Length of the side that starts at the corner, in the plane. */
FW_API double fw_field_side_m(const struct fw_field *field, size_t corner);

/* Is the point inside or within reach_m of the field? */
FW_API bool fw_field_contains(const struct fw_field *field,
                              struct fw_point point, double reach_m);

#ifdef __cplusplus
}
#endif
#endif
