/* What lies on the ground of one field, in its plane: how much feed stands
 * where, how high the ground is, and what is not grazed at all.
 *
 * Feed is usable dry matter in kg per m2. It lies evenly, or by zones (each
 * even in itself), or by the cells of a raster. Sums over a paddock are exact:
 * a cut may be sought by Newton's method on fw_herbage_mass_kg with
 * fw_herbage_chord_kg_m as its derivative. What is made here does not change
 * any more, so that threads may share it. */
#ifndef FW_GEO_HERBAGE_H
#define FW_GEO_HERBAGE_H

#include "geo/geo.h"
#include <foldwright/error.h>

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

void fw_grid_release(struct fw_grid *grid);

/* A grid taken into a field's plane: its cells are quadrilaterals between
 * their corners, which lie where PROJ puts them. */
struct fw_raster;

void fw_raster_free(struct fw_raster *raster);

/* The value at a place, bilinear between the centres of the cells, of those
 * that have data; the cell's own value beyond the outermost centres. NaN where
 * the cell has none, or outside. */
double fw_raster_at(const struct fw_raster *raster, struct fw_lonlat place);
double fw_raster_at_point(const struct fw_raster *raster,
                          struct fw_point point);

/* Of heights: rise over run about a place, whichever way it falls; 0 where none
 * is known so far from it. */
double fw_raster_slope(const struct fw_raster *raster, double reach_m,
                       struct fw_point point);

/* How wide its cells are, in the middle of it. */
double fw_raster_cell_m(const struct fw_raster *raster);

/* Its cells, counted from 0; rows run up the map. NaN: no data. */
size_t fw_raster_columns(const struct fw_raster *raster);
size_t fw_raster_rows(const struct fw_raster *raster);
double fw_raster_value(const struct fw_raster *raster, size_t column,
                       size_t row);
struct fw_point fw_raster_centre(const struct fw_raster *raster, size_t column,
                                 size_t row);

/* Which cells the field's values come from: those that it touches and those
 * beside them. out: room for all cells, row by row. */
enum fw_status fw_raster_under(const struct fw_raster *raster,
                               const struct fw_field *field, bool *out,
                               struct fw_error *err);

/* ---- feed ---- */

struct fw_herbage;

/* A polygon with holes in the field's plane; rings may run either way. It may
 * reach beyond the field. */
struct fw_herbage_zone {
    const struct fw_point *points;
    const size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    double kg_m2;
};

/* How well what was told covers the field. */
struct fw_herbage_told {
    double told_m2;    /* of the field under zones, or under cells with data */
    double overlap_m2; /* of the field where zones lie over others */
    double gap_m2;     /* of the field where nothing is told */
};

/* The same everywhere. FW_EINPUT: a density is negative or not finite; so it
 * is below. */
enum fw_status fw_herbage_even(double kg_m2, struct fw_herbage **out,
                               struct fw_error *err);

/* The values of the raster, in kg per m2; base_kg_m2 where it has none. The
 * ground takes the raster when all goes well. The raster must reach at least
 * one cell beyond the field on all sides, with or without data there. */
enum fw_status fw_herbage_cells(const struct fw_field *field, double base_kg_m2,
                                struct fw_raster *raster,
                                struct fw_herbage **out,
                                struct fw_herbage_told *cover,
                                struct fw_error *err);
void fw_herbage_free(struct fw_herbage *ground);

/* The same ground with other densities. Parts are the base and then each zone
 * in the order in which they were given, or else each cell of the raster, row
 * by row as fw_raster_value counts them; an even one has its base. */
size_t fw_herbage_part_count(const struct fw_herbage *ground);
enum fw_status fw_herbage_again(const struct fw_herbage *ground,
                                const double *kg_m2, struct fw_herbage **out,
                                struct fw_error *err);
/* Of a raster's cell. */
double fw_herbage_cell_kg_m2(const struct fw_herbage *ground, size_t cell);

/* Is the density the same everywhere? Also true of NULL. */
bool fw_herbage_is_even(const struct fw_herbage *ground);

/* Of an even ground, and where nothing else is told. */
double fw_herbage_base_kg_m2(const struct fw_herbage *ground);

/* Mass inside a polygon with holes that lies in the field: rings not closed,
 * anticlockwise ones count as they are and clockwise ones as holes, so that
 * the mass of several rings is the sum of theirs. ring_start has
 * ring_count + 1 entries. */
double fw_herbage_mass_kg(const struct fw_herbage *ground,
                          const struct fw_point *points,
                          const size_t *ring_start, size_t ring_count);

/* That of all the field. */
double fw_herbage_field_kg(const struct fw_herbage *ground,
                           const struct fw_field *field);

/* Integral of the density along a segment in the field: by how much the mass
 * grows when that fence moves by one metre square to itself. Along the edge of
 * a zone it is the density of one of its two sides. */
double fw_herbage_chord_kg_m(const struct fw_herbage *ground, struct fw_point a,
                             struct fw_point b);

/* What lies within a convex polygon, anticlockwise and of so many corners at
 * most, in convex parts: a sum over its feed is that over the parts, each
 * times its own density. Of zones the parts lie over each other, and what one
 * has may be below 0. */
enum { FW_HERBAGE_CORNERS = 16 };
typedef void fw_herbage_part(void *to, const struct fw_point *ring,
                             size_t count, double kg_m2);
void fw_herbage_parts(const struct fw_herbage *ground,
                      const struct fw_point *ring, size_t count,
                      fw_herbage_part *part, void *to);

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

#endif
