/* Geometries as a GeoPackage keeps them. */
#ifndef FW_IO_GPKG_SHAPE_H
#define FW_IO_GPKG_SHAPE_H

#include "base/text.h"
#include "io/io.h"

/* In the order of the format. */
struct fw_io__box {
    double least_x, most_x, least_y, most_y;
};

#define FW_IO__NOWHERE                                                         \
    {                                                                          \
        HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL                               \
    }

void fw_io__box_extend(struct fw_io__box *box, const struct fw_row *row);

/* Adds the row's geometry, of which it has one. */
void fw_io__gpkg_shape(struct fw_text *blob, const struct fw_row *row,
                       bool multi, int srs_id);

#endif
