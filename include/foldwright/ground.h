/* What lies on the ground of one field, in its plane: how much feed stands
 * where, how high the ground is, and what is not grazed at all.
 *
 * Feed is usable dry matter in kg per m2. It lies evenly, or by zones (each
 * even in itself), or by the cells of a raster. Sums over a paddock are exact:
 * a cut may be sought by Newton's method on fw_ground_mass_kg with
 * fw_ground_chord_kg_m as its derivative. What is made here does not change
 * any more, so that threads may share it. */
#ifndef FW_GROUND_H
#define FW_GROUND_H

#include <foldwright/error.h>
#include <foldwright/geo.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- rasters ---- */

/* Cells as a file has them, cell (column, row) with its corner at
 *   x = affine[0] + affine[1] column + affine[2] row
 *   y = affine[3] + affine[4] column + affine[5] row
 * in the file's own system: rows may run any way, and the grid may be turned.
 * first_column and first_row say where in its file the part lies. */
struct fw_grid {
    double affine[6]; /* of this part */
    size_t columns, rows;
    double *values; /* row by row; NaN: no data */
    long long first_column, first_row;
};

FW_API void fw_grid_release(struct fw_grid *grid);

/* A grid taken into a field's plane: its cells are quadrilaterals between
 * their corners, which lie where PROJ puts them. */
struct fw_raster;

/* The grid's values are copied. FW_EINPUT: a corner cannot be transformed, or
 * the cells have no area. */
FW_API enum fw_status fw_raster_new(const struct fw_grid *grid,
                                    struct fw_crs *crs,
                                    const struct fw_plane *plane,
                                    struct fw_raster **out,
                                    struct fw_error *err);
FW_API void fw_raster_free(struct fw_raster *raster);

/* The value at a place, bilinear between the centres of the cells, of those
 * that have data; the cell's own value beyond the outermost centres. NaN where
 * the cell has none, or outside. */
FW_API double fw_raster_at(const struct fw_raster *raster,
                           struct fw_lonlat place);
FW_API double fw_raster_at_point(const struct fw_raster *raster,
                                 struct fw_point point);

/* How wide its cells are, in the middle of it. */
FW_API double fw_raster_cell_m(const struct fw_raster *raster);

/* Its cells, counted from 0; rows run up the map. NaN: no data. */
FW_API size_t fw_raster_columns(const struct fw_raster *raster);
FW_API size_t fw_raster_rows(const struct fw_raster *raster);
FW_API double fw_raster_value(const struct fw_raster *raster, size_t column,
                              size_t row);
FW_API struct fw_point fw_raster_centre(const struct fw_raster *raster,
                                        size_t column, size_t row);

/* Which cells the field's values come from: those that it touches and those
 * beside them. out: room for all cells, row by row. */
FW_API enum fw_status fw_raster_under(const struct fw_raster *raster,
                                      const struct fw_field *field, bool *out,
                                      struct fw_error *err);

/* ---- feed ---- */

struct fw_ground;

/* A polygon with holes in the field's plane; rings may run either way. It may
 * reach beyond the field. */
struct fw_ground_zone {
    const struct fw_point *points;
    const size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    double kg_m2;
};

/* How well what was told covers the field. */
struct fw_ground_cover {
    double told_m2;    /* of the field under zones, or under cells with data */
    double overlap_m2; /* of the field where zones lie over others */
    double gap_m2;     /* of the field where nothing is told */
};

/* The same everywhere. FW_EINPUT: a density is negative or not finite; so it
 * is below. */
FW_API enum fw_status fw_ground_even(double kg_m2, struct fw_ground **out,
                                     struct fw_error *err);

/* Zones over a field. Where zones overlap the later one holds, where there is
 * none, base_kg_m2. `cover` may be NULL. FW_EINPUT: a zone crosses itself. */
FW_API enum fw_status fw_ground_zones(const struct fw_field *field,
                                      double base_kg_m2,
                                      const struct fw_ground_zone *zones,
                                      size_t count, struct fw_ground **out,
                                      struct fw_ground_cover *cover,
                                      struct fw_error *err);

/* The values of the raster, in kg per m2; base_kg_m2 where it has none. The
 * ground takes the raster when all goes well. The raster must reach at least
 * one cell beyond the field on all sides, with or without data there. */
FW_API enum fw_status
fw_ground_cells(const struct fw_field *field, double base_kg_m2,
                struct fw_raster *raster, struct fw_ground **out,
                struct fw_ground_cover *cover, struct fw_error *err);
FW_API void fw_ground_free(struct fw_ground *ground);

/* Is the density the same everywhere? Also true of NULL. */
FW_API bool fw_ground_is_even(const struct fw_ground *ground);

/* Of an even ground, and where nothing else is told. */
FW_API double fw_ground_base_kg_m2(const struct fw_ground *ground);

/* Mass inside a polygon with holes that lies in the field: rings not closed,
 * anticlockwise ones count as they are and clockwise ones as holes, so that
 * the mass of several rings is the sum of theirs. ring_start has
 * ring_count + 1 entries. */
FW_API double fw_ground_mass_kg(const struct fw_ground *ground,
                                const struct fw_point *points,
                                const size_t *ring_start, size_t ring_count);

/* Integral of the density along a segment in the field: by how much the mass
 * grows when that fence moves by one metre square to itself. Along the edge of
 * a zone it is the density of one of its two sides. */
FW_API double fw_ground_chord_kg_m(const struct fw_ground *ground,
                                   struct fw_point a, struct fw_point b);

/* ---- what is not grazed ---- */

/* A pond, a wood, a crop, a ditch, a well: what lies within setback_m of it is
 * not grazed. A line or a point needs a setback to have an area. */
struct fw_bar {
    const struct fw_point *points; /* in the field's plane */
    const size_t *ring_start;      /* a line or a point is one ring */
    size_t ring_count;
    bool is_area;
    double setback_m;
};

/* The field less the bars, as one field or, where it comes apart, as several,
 * the greatest first; pieces under FW_LEAST_FIELD_M2 are dropped. All keep the
 * field's plane and name; a corner of the field that is left keeps its
 * coordinates to the last bit. count_out 0: nothing of that size is left. When
 * no bar touches the field the one piece is a copy of it. Round corners are
 * those of a 16-gon. `left_m2`, of all that is left with the dropped pieces,
 * may be NULL. Free the pieces with fw_fields_free. */
FW_API enum fw_status fw_field_less(const struct fw_field *field,
                                    const struct fw_bar *bars, size_t count,
                                    struct fw_crs *crs, struct fw_field ***out,
                                    size_t *count_out, double *left_m2,
                                    struct fw_error *err);
FW_API void fw_fields_free(struct fw_field **fields, size_t count);

/* Does a bar take a polygon with holes apart? The area of the second greatest
 * part that it leaves; 0 when it leaves one. A line without a setback parts
 * what it crosses. */
FW_API enum fw_status fw_ground_apart_m2(const struct fw_point *points,
                                         const size_t *ring_start,
                                         size_t ring_count,
                                         const struct fw_bar *bar, double *out,
                                         struct fw_error *err);

/* ---- what lies beyond a line ---- */

struct fw_beyond {
    struct fw_field *field; /* beyond it; of several pieces the greatest */
    bool *on_line; /* field->vertex_count: does the line run from that vertex to
                      the next one of its ring? */
    double behind_m2; /* on the side of the place that sees it */
    double apart_m2;  /* beyond it, in the other pieces */
};

/* The part of a field on the other side of a line, straight or bent, seen from
 * a place in or near the field. The line runs from edge to edge: an end up to
 * 5 m short of the edge is taken on to it, what lies outside is cut off, and it
 * may leave the field and come in again. Vertices that are left keep their
 * coordinates as with fw_field_less.
 * FW_EINPUT: it ends inside, does not part the field, leaves under
 * FW_LEAST_FIELD_M2; FW_EUSAGE: the place stands on it. */
FW_API enum fw_status fw_field_beyond(const struct fw_field *field,
                                      const struct fw_point *line, size_t count,
                                      struct fw_point from, struct fw_crs *crs,
                                      struct fw_beyond *out,
                                      struct fw_error *err);
FW_API void fw_beyond_release(struct fw_beyond *beyond);

#ifdef __cplusplus
}
#endif
#endif
