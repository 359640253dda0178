/* A field's feed inside: ground.c adds up what ground_zones.c and
 * ground_cells.c know, raster.c holds cells. */
#ifndef FW_GEO_HERBAGE_INNER_H
#define FW_GEO_HERBAGE_INNER_H

#include "geo/exact.h"
#include "geo/herbage.h"

/* The side of a zone, from left to right. Above it the density is greater by
 * step_kg_m2 than below it; the zone lies on one of the two, the base on the
 * other. */
struct fw_zone_side {
    struct fw_point left, right;
    double step_kg_m2;
    size_t zone; /* as they were given */
    bool above;
};

static inline void fw_zone_step(struct fw_zone_side *side, double over_kg_m2)
{
    side->step_kg_m2 = side->above ? over_kg_m2 : -over_kg_m2;
}

/* Cell (i, j) has the corners i, i + 1 and j, j + 1; they run anticlockwise:
 * (i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1). */
struct fw_raster {
    struct fw_plane plane;
    size_t columns, rows;
    struct fw_point *corners; /* (columns + 1) x (rows + 1), row by row */
    double *values;           /* columns x rows */
};

struct fw_cell {
    size_t i, j;
};

struct fw_herbage {
    double base_kg_m2;

    struct fw_zone_side *sides; /* by their left ends */
    double *reach_m; /* the greatest right end of a side and all before it */
    size_t side_count;
    size_t zone_count;

    struct fw_raster *raster; /* its values: NaN no more */
    double *row_kg;           /* by corner: along the line j up to corner i */
    double *column_kg;        /* by corner: along the line i up to corner j */
};

static inline struct fw_point fw_raster_corner(const struct fw_raster *raster,
                                               size_t i, size_t j)
{
    return raster->corners[j * (raster->columns + 1) + i];
}

/* Twice the area of (a, b, point): positive when the point lies left. */
static inline double fw_side_of(struct fw_point a, struct fw_point b,
                                struct fw_point point)
{
    return (b.x_m - a.x_m) * (point.y_m - a.y_m) -
           (b.y_m - a.y_m) * (point.x_m - a.x_m);
}

/* Images run down the page; here all rows run up. FW_EINPUT: a cell has no
 * area. */
enum fw_status fw_raster__turn_up(struct fw_raster *raster,
                                  struct fw_error *err);

/* The cell that holds the point; the nearest one at the rim. A point on a line
 * belongs to the cell of the higher number. */
struct fw_cell fw_raster_cell(const struct fw_raster *raster,
                              struct fw_point point);

/* Where in the cell, 0 to 1 along i and j; beyond that it lies outside. */
struct fw_point fw_cell_within(const struct fw_raster *raster,
                               struct fw_cell cell, struct fw_point point);

/* What the zones add below the directed segment, counted as in the area of a
 * ring that runs anticlockwise; and along it. */
void fw_zones_below(const struct fw_herbage *ground, struct fw_point a,
                    struct fw_point b, struct fw_sum *mass);
double fw_zones_along(const struct fw_herbage *ground, struct fw_point a,
                      struct fw_point b);

/* FW_EINPUT: it is below 0, or no number. */
enum fw_status fw_herbage__check(double kg_m2, struct fw_error *err);

/* Puts the sides of zones in order. */
enum fw_status fw_zones_sort(struct fw_herbage *ground, struct fw_error *err);

/* Fill the sums along the lines of the raster from its values. */
void fw_cells_sum(struct fw_herbage *ground);

/* The segment's share in the mass of its ring, and the density along it. */
void fw_cells_walk(const struct fw_herbage *ground, struct fw_point a,
                   struct fw_point b, struct fw_sum *mass, double *along_kg_m);

#endif
