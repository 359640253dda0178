/* A grid of cells, taken into a field's plane corner by corner. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "geo/herbage_inner.h"

static struct fw_xy file_corner(const struct fw_grid *grid, size_t column,
                                size_t row)
{
    const double *a = grid->affine;
    const double c = (double)column, r = (double)row;
    return (struct fw_xy){a[0] + a[1] * c + a[2] * r,
                          a[3] + a[4] * c + a[5] * r};
}

/* One row of corners at a time: files[] and places[] hold one. */
static enum fw_status take_corners(struct fw_raster *raster,
                                   const struct fw_grid *grid,
                                   struct fw_crs *crs, struct fw_xy *files,
                                   struct fw_lonlat *places,
                                   struct fw_error *err)
{
    const size_t wide = grid->columns + 1;
    for (size_t row = 0; row <= grid->rows; row++) {
        for (size_t i = 0; i < wide; i++)
            files[i] = file_corner(grid, i, row);
        const enum fw_status status =
            fw_crs_to_lonlat(crs, files, places, wide, NULL, err);
        if (status)
            return status;
        for (size_t i = 0; i < wide; i++)
            raster->corners[row * wide + i] =
                fw_plane_forward(&raster->plane, places[i]);
    }
    for (size_t i = 0; i < grid->columns * grid->rows; i++)
        raster->values[i] = grid->values[i];
    return FW_OK;
}

enum fw_status fw_raster_new(const struct fw_grid *grid, struct fw_crs *crs,
                             const struct fw_plane *plane,
                             struct fw_raster **out, struct fw_error *err)
{
    if (grid->columns == 0 || grid->rows == 0)
        return fw_fail(err, FW_EINPUT, "the raster has no cells");
    const size_t wide = grid->columns + 1;
    struct fw_raster *raster = fw_alloc(1, sizeof *raster);
    struct fw_xy *files = fw_alloc(wide, sizeof *files);
    struct fw_lonlat *places = fw_alloc(wide, sizeof *places);
    enum fw_status status = FW_OK;
    if (raster) {
        raster->plane = *plane;
        raster->columns = grid->columns;
        raster->rows = grid->rows;
        raster->corners =
            fw_alloc(wide * (grid->rows + 1), sizeof *raster->corners);
        raster->values =
            fw_alloc(grid->columns * grid->rows, sizeof *raster->values);
    }
    if (!raster || !raster->corners || !raster->values || !files || !places)
        status = fw_fail_memory(err);
    if (!status)
        status = take_corners(raster, grid, crs, files, places, err);
    if (!status)
        status = fw_raster__turn_up(raster, err);
    fw_free(files);
    fw_free(places);
    if (status)
        fw_raster_free(raster);
    else
        *out = raster;
    return status;
}
