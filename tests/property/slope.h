/* Heights about a field by a formula: a slope that bends. */
#ifndef FW_SLOPE_H
#define FW_SLOPE_H

#include "draw.h"

#include "base/alloc.h"

#include "crs/crs.h"
#include "geo/geo.h"
#include "geo/herbage.h"
#include <math.h>

static inline struct fw_crs *open_crs(const char *text)
{
    struct fw_crs *crs = NULL;
    struct fw_error err = {0};
    if (fw_crs_new(text, &crs, &err))
        fail_msg("%s", err.text);
    return crs;
}

/* A slope that bends, in cells of 10 m on the field's own plane. */
static inline struct fw_raster *slope_about(const struct fw_field *field,
                                            uint64_t *seed)
{
    enum { across = 200 };
    const double cell_m = 10, from_m = -1000;
    struct fw_raster *raster = NULL;
    struct fw_error err = {0};
    char text[200];
    const struct fw_lonlat at = field->vertices[0].lonlat;
    snprintf(text, sizeof text,
             "+proj=laea +lat_0=%.9f +lon_0=%.9f +datum=WGS84 +units=m",
             at.lat_deg, at.lon_deg);
    struct fw_crs *crs = open_crs(text);
    struct fw_grid grid = {
        .affine = {from_m, cell_m, 0, from_m, 0, cell_m},
        .columns = across,
        .rows = across,
        .values = fw_alloc((size_t)across * across, sizeof(double))};
    const double steep = draw(seed, 0.05, 0.3),
                 turn = draw(seed, 0, 2 * acos(-1));
    const double bend = draw(seed, 0, 0.0006);
    for (size_t i = 0; i < (size_t)across * across; i++) {
        const double x = from_m + cell_m * ((double)(i % across) + 0.5);
        const double y = from_m + cell_m * ((double)(i / across) + 0.5);
        const double u = x * cos(turn) + y * sin(turn);
        const double v = y * cos(turn) - x * sin(turn);
        grid.values[i] = 300 + steep * (u + bend * v * v);
    }
    if (fw_raster_new(&grid, crs, &field->plane, &raster, &err))
        fail_msg("%s", err.text);
    fw_grid_release(&grid);
    fw_crs_free(crs);
    return raster;
}

#endif
