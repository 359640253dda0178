/* Heights under a field of plan_help.h, from a formula. */
#ifndef FW_RELIEF_H
#define FW_RELIEF_H

#include "plan_help.h"

static inline struct fw_crs *open_crs(void)
{
    struct fw_crs *crs;
    struct fw_error err;
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    return crs;
}

typedef double (*relief)(double x, double y, double size);

/* Cells of that width, 20 m beyond the field on all sides. */
static inline void set_heights(struct fw_farm *farm, relief height, double size,
                               double cell_m)
{
    struct fw_error err;
    const size_t columns = (size_t)(340 / cell_m),
                 rows = (size_t)(260 / cell_m);
    struct fw_grid grid = {
        .affine = {-20, cell_m, 0, 240, 0, -cell_m},
        .columns = columns,
        .rows = rows,
        .values = fw_alloc(columns * rows, sizeof(double)),
    };
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++)
            grid.values[j * columns + i] =
                height(-20 + ((double)i + 0.5) * cell_m,
                       240 - ((double)j + 0.5) * cell_m, size);
    struct fw_crs *crs = open_crs();
    assert_int_equal(fw_raster_new(&grid, crs, &farm->fields[0].shape->plane,
                                   &farm->fields[0].heights, &err),
                     FW_OK);
    fw_crs_free(crs);
    fw_grid_release(&grid);
}

#endif
