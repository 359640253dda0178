/* Rows in longitude and latitude that run over the 180th meridian. */
#include "export/layers.h"

#include "base/alloc.h"
#include "crs/crs.h"

#include <math.h>

static bool runs_over(const struct fw_row *row)
{
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (size_t i = 0; i < row->point_count; i++) {
        least = fmin(least, row->points[i].x);
        most = fmax(most, row->points[i].x);
    }
    return row->point_count > 0 &&
           (least < -180 || most > 180 || most - least > 180);
}

/* The row's own arrays go, those of the areas take their place. */
static void take(struct fw_row *row, struct fw_areas *areas)
{
    fw_free(row->points);
    fw_free(row->ring_start);
    fw_free(row->piece_ring);
    row->points = areas->points;
    row->point_count = areas->ring_start[areas->ring_count];
    row->ring_start = areas->ring_start;
    row->ring_count = areas->ring_count;
    row->piece_ring = areas->piece_ring;
    row->piece_count = areas->piece_count;
}

enum fw_status fw_export__cut(struct fw_row *row, struct fw_error *err)
{
    struct fw_areas cut = {0};
    enum fw_status status = FW_OK;
    const struct fw_areas whole = {row->points, row->ring_start,
                                   row->ring_count, row->piece_ring,
                                   row->piece_count};
    if (!runs_over(row))
        return FW_OK;
    switch (row->kind) {
    case FW_FEATURE_POINT:
        row->points[0].x -= 360 * rint(row->points[0].x / 360);
        return FW_OK;
    case FW_FEATURE_LINE:
        status = fw_geo_cut_line(row->points, row->point_count, &cut, err);
        break;
    default:
        status = fw_geo_cut_areas(&whole, &cut, err);
    }
    if (!status)
        take(row, &cut);
    return status;
}
