/* Where things are on the earth: coordinate systems by PROJ, lengths and areas
 * on the ellipsoid, a file's shapes repaired and taken into planes, and what
 * GEOS cuts off a field. */
#ifndef FW_CRS_CRS_H
#define FW_CRS_CRS_H

#include "geo/geo.h"
#include "geo/world.h"
#include <foldwright/error.h>

/* All that the core asks, from the functions below. */
extern const struct fw_world fw_crs_world;

/* ---- geodesic sums on the WGS 84 ellipsoid (PROJ's geodesic.h) ---- */

double fw_geo_distance_m(struct fw_lonlat a, struct fw_lonlat b);

/* Bearing of b from a, 0 to 360 degrees clockwise from true north. */
double fw_geo_bearing_deg(struct fw_lonlat a, struct fw_lonlat b);

/* Area of the ring (not closed), positive when it runs anticlockwise, whose
 * sides are geodesics. Does not lose digits to "ellipsoid minus A". */
double fw_geo_area_m2(const struct fw_lonlat *ring, size_t count);
double fw_geo_length_m(const struct fw_lonlat *line, size_t count, bool closed);

/* ---- coordinate systems ---- */

/* One struct fw_crs per layer, not per field: making one costs milliseconds.
 * Not to be shared between threads. */

/* Lines or areas in longitude and latitude, all between -180 and 180. */
struct fw_areas {
    struct fw_xy *points; /* not closed */
    size_t *ring_start;   /* of each line, or ring of an area, and the end */
    size_t ring_count;
    size_t *piece_ring; /* the first ring of each area, and the end */
    size_t piece_count;
};
void fw_areas_release(struct fw_areas *areas);

/* What runs over the 180th meridian comes apart there, as RFC 7946 wants it in
 * its section 3.1.9; what does not is one piece. Two points that follow each
 * other are less than half the earth apart. */
enum fw_status fw_geo_cut_line(const struct fw_xy *points, size_t count,
                               struct fw_areas *out, struct fw_error *err);
enum fw_status fw_geo_cut_areas(const struct fw_areas *from,
                                struct fw_areas *out, struct fw_error *err);

/* FW_EFAULT: PROJ's table of coordinate systems is not there. */
enum fw_status fw_crs_ready(struct fw_error *err);

/* From anything PROJ understands: "EPSG:25832", WKT, a PROJ string. x is east
 * or longitude, y is north or latitude, whatever order the authority has. */
enum fw_status fw_crs_new(const char *definition, struct fw_crs **out,
                          struct fw_error *err);
void fw_crs_free(struct fw_crs *crs);

/* The same, out of the last few that this thread keeps, so that each is made
 * once. To be given back by the same thread, in place of freed. fw_crs_forget
 * frees what the thread keeps and nobody has; its end does so too. */
enum fw_status fw_crs_lend(const char *definition, struct fw_crs **out,
                           struct fw_error *err);
void fw_crs_give_back(struct fw_crs *crs);
void fw_crs_forget(void);

const char *fw_crs_name(const struct fw_crs *crs);
const char *fw_crs_definition(const struct fw_crs *crs); /* as given */
bool fw_crs_is_wgs84_lonlat(const struct fw_crs *crs);
bool fw_crs_is_geographic(const struct fw_crs *crs);

/* What PROJ states for the shift to WGS 84, in metres; negative when it states
 * none. 0 when there is no shift. */
double fw_crs_accuracy_m(const struct fw_crs *crs);

/* FW_EINPUT: a coordinate is not finite, outside the system, or cannot be
 * transformed; the message gives the coordinate and its index in *bad. */
enum fw_status fw_crs_to_lonlat(struct fw_crs *crs, const struct fw_xy *in,
                                struct fw_lonlat *out, size_t count,
                                size_t *bad, struct fw_error *err);
enum fw_status fw_crs_from_lonlat(struct fw_crs *crs,
                                  const struct fw_lonlat *in, struct fw_xy *out,
                                  size_t count, struct fw_error *err);

/* The area on the ellipsoid inside a ring whose edges are straight in the
 * system of its file, near the centre of the plane; anticlockwise is positive.
 * FW_EINPUT: a point is outside of the system. */
enum fw_status fw_crs_area_m2(struct fw_crs *crs, const struct fw_plane *plane,
                              const struct fw_xy *ring, size_t count,
                              double *out, struct fw_error *err);

/* ---- shapes and fields ---- */

/* Make the shape valid where only one reading is possible. Repeated points and
 * closing points are dropped, ring directions set (outer anticlockwise, holes
 * clockwise), and counted; what is done beyond is noted: a ring walked twice
 * folded, crossings repaired by GEOSMakeValidWithParams (structure method) when
 * one part comes out whose area differs by less than 0.1 % from the absolute
 * shoelace area. FW_EINPUT: empty, not finite, too many vertices, a boundary
 * that is hundreds of times as long as a square's, or one that crosses itself
 * by the thousand or in a way that has several readings; the message gives the
 * place. A valid shape keeps every coordinate bit by bit. `where` heads the
 * notes. */
enum fw_status fw_shape_repair(struct fw_shape *shape, const char *where,
                               struct fw_notes *notes, struct fw_error *err);

/* Take a repaired shape into the plane. FW_EINPUT: under FW_LEAST_FIELD_M2,
 * over FW_WIDEST_FIELD_M across, coordinates outside their system. */
enum fw_status fw_field_new(const struct fw_shape *shape, const char *name,
                            struct fw_crs *crs, struct fw_field **out,
                            struct fw_error *err);

/* The shortest round from place to place on the ellipsoid, straight, from the
 * first and back to it: order[0] is 0, and of both ways round the one with the
 * shorter leg first. All orders are tried up to 8 places; beyond, each goes to
 * the nearest that is left, and pairs of legs are turned while that is shorter.
 * FW_EINPUT: none, or over 1,000. round_m may be NULL. */
enum fw_status fw_geo_tour(const struct fw_lonlat *places, size_t count,
                           size_t *order, double *round_m,
                           struct fw_error *err);

/* ---- what lies on the ground ---- */

/* The grid's values are copied. FW_EINPUT: a corner cannot be transformed, or
 * the cells have no area. */
enum fw_status fw_raster_new(const struct fw_grid *grid, struct fw_crs *crs,
                             const struct fw_plane *plane,
                             struct fw_raster **out, struct fw_error *err);

/* Zones over a field. Where zones overlap the later one holds, where there is
 * none, base_kg_m2. `cover` may be NULL. FW_EINPUT: a zone crosses itself. */
enum fw_status fw_herbage_zones(const struct fw_field *field, double base_kg_m2,
                                const struct fw_herbage_zone *zones,
                                size_t count, struct fw_herbage **out,
                                struct fw_herbage_told *cover,
                                struct fw_error *err);

/* ---- what is not grazed ---- */

/* The field less the bars, as one field or, where it comes apart, as several,
 * the greatest first; pieces under FW_LEAST_FIELD_M2 are dropped. All keep the
 * field's plane and name; a corner of the field that is left keeps its
 * coordinates to the last bit. count_out 0: nothing of that size is left. When
 * no bar touches the field the one piece is a copy of it. Round corners are
 * those of a 16-gon. `left_m2`, of all that is left with the dropped pieces,
 * may be NULL. Free the pieces with fw_fields_free. */
enum fw_status fw_field_less(const struct fw_field *field,
                             const struct fw_bar *bars, size_t count,
                             struct fw_crs *crs, struct fw_field ***out,
                             size_t *count_out, double *left_m2,
                             struct fw_error *err);
void fw_fields_free(struct fw_field **fields, size_t count);

/* ---- parts of one kind ---- */

/* A zone of the map, in the field's plane. */
struct fw_kind_zone {
    const struct fw_point *points;
    const size_t *ring_start;
    size_t ring_count;
    int kind; /* of its grass, as the caller counts */
};

struct fw_kind_zones {
    int base; /* where there is no zone */
    const struct fw_kind_zone *zones;
    size_t count;
    double least_width_m; /* of a part */
};

struct fw_kind_part {
    struct fw_field *field;
    int kind;
};

struct fw_kind_parts {
    struct fw_kind_part *items; /* the greatest first */
    size_t count;
    double joined_m2; /* of another kind than the part that it went to */
};

/* The field in parts that have one kind each; where zones overlap the later one
 * holds. What is under FW_LEAST_FIELD_M2, or narrower than least_width_m all
 * along, or lies in the midst of others and away from the outer boundary, goes
 * to the neighbour with which it has the longest border. Parts that lie side by
 * side have every corner of their border in common, to the last bit; names,
 * planes and corners as with fw_field_less. FW_EINPUT: the zones are unsound,
 * or cut it into over 1,000.
 */
enum fw_status fw_field_part(const struct fw_field *field,
                             const struct fw_kind_zones *kinds,
                             struct fw_crs *crs, struct fw_kind_parts *out,
                             struct fw_error *err);
void fw_kind_parts_release(struct fw_kind_parts *parts);

/* Does a bar take a polygon with holes apart? The area of the second greatest
 * part that it leaves; 0 when it leaves one. A line without a setback parts
 * what it crosses. */
enum fw_status fw_herbage_apart_m2(const struct fw_point *points,
                                   const size_t *ring_start, size_t ring_count,
                                   const struct fw_bar *bar, double *out,
                                   struct fw_error *err);

/* ---- what lies beyond a line ---- */

struct fw_beyond {
    struct fw_field *field; /* beyond it; of several pieces the greatest */
    bool *on_line; /* field->vertex_count: does the line run from that vertex to
                      the next one of its ring? */
    struct fw_field **behind; /* what lies on the side of the place that sees
                                 it: behind_count pieces */
    size_t behind_count;
    double behind_m2; /* of those */
    double apart_m2;  /* beyond it, in the other pieces */
};

/* The part of a field on the other side of a line, straight or bent, seen from
 * a place in or near the field. The line runs from edge to edge: an end up to
 * 5 m short of the edge is taken on to it, what lies outside is cut off, and it
 * may leave the field and come in again. Vertices that are left keep their
 * coordinates as with fw_field_less.
 * FW_EINPUT: it ends inside, does not part the field, leaves under
 * FW_LEAST_FIELD_M2; FW_EUSAGE: the place stands on it. */
enum fw_status fw_field_beyond(const struct fw_field *field,
                               const struct fw_point *line, size_t count,
                               struct fw_point from, struct fw_crs *crs,
                               struct fw_beyond *out, struct fw_error *err);
void fw_beyond_release(struct fw_beyond *beyond);

#endif
