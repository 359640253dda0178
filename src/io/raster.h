/* A raster file between the two that work on it: raster_open.c, raster_read.c.
 */
#ifndef FW_IO_RASTER_H
#define FW_IO_RASTER_H

#include "io/address.h"
#include "io/io.h"
#include <gdal.h>

struct fw_raster_file {
    char *source; /* as it may be shown */
    char *secret; /* as it was told */
    char *crs;    /* or NULL */
    GDALDatasetH data;
    GDALRasterBandH band;
    int columns, rows;
    double affine[6];  /* from columns and rows to the file's system */
    double inverse[6]; /* and back */
    double scale, offset;
    struct fw_io__address address;
    char *fetched; /* in memory; NULL: it was not */
};

#endif
