/* Heights that are none: a hole whose no-data value nobody declared makes
 * kilometres of wire on a slope that is not there. */
#include "told/heights.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include "geo/points.h"
#include <math.h>

/* The shore of the Dead Sea lies 430 m below the sea, the highest mountain is
 * 8,849 m: general knowledge, with room for a datum of another kind. */
static const double lowest_m = -FW_BOUND(500);
static const double highest_m = FW_BOUND(9000);

/* Ground that rises so much between two cells, and so steeply, is a hole in
 * the data or a wall; common practice, no source. */
static const double least_jump_m = FW_BOUND(30);
static const double most_rise = FW_BOUND(3); /* m up a m along */

struct sounding {
    const struct fw_raster *heights;
    const struct fw_field *field;
    const bool *under;
    size_t columns, rows;
};

static double value_at(const struct sounding *looking, size_t i, size_t j)
{
    return looking->under[j * looking->columns + i]
               ? fw_raster_value(looking->heights, i, j)
               : (double)NAN;
}

static struct fw_lonlat place_of(const struct sounding *looking, size_t i,
                                 size_t j)
{
    return fw_plane_inverse(&looking->field->plane,
                            fw_raster_centre(looking->heights, i, j));
}

static enum fw_status check_range(const struct sounding *looking, size_t i,
                                  size_t j, struct fw_error *err)
{
    const double height_m = value_at(looking, i, j);
    if (isnan(height_m) || (height_m >= lowest_m && height_m <= highest_m))
        return FW_OK;
    const struct fw_lonlat at = place_of(looking, i, j);
    return fw_fail(err, FW_EINPUT,
                   "has a height of %g m at %.6f,%.6f; expected %g to %g m. If "
                   "it stands for no data, declare it (gdal_translate "
                   "-a_nodata %g); else see that heights are in metres",
                   height_m, at.lon_deg, at.lat_deg, lowest_m, highest_m,
                   height_m);
}

/* Between a cell and the next one along a row or up a column. */
static enum fw_status check_jump(const struct sounding *looking, size_t i,
                                 size_t j, size_t next_i, size_t next_j,
                                 struct fw_error *err)
{
    if (next_i >= looking->columns || next_j >= looking->rows)
        return FW_OK;
    const double here_m = value_at(looking, i, j);
    const double there_m = value_at(looking, next_i, next_j);
    const double rise_m = fabs(there_m - here_m);
    const struct fw_point a = fw_raster_centre(looking->heights, i, j);
    const struct fw_point b =
        fw_raster_centre(looking->heights, next_i, next_j);
    const double apart_m = fw_point_apart_m(b, a);
    if (!(rise_m > least_jump_m) || !(rise_m > most_rise * apart_m))
        return FW_OK;
    const struct fw_lonlat at = place_of(looking, i, j);
    return fw_fail(err, FW_EINPUT,
                   "goes from %g m to %g m within %.3g m at %.6f,%.6f, which "
                   "no ground does; is one of them a no-data value that is not "
                   "declared, or a roof or tree? Take a map of the bare ground",
                   here_m, there_m, apart_m, at.lon_deg, at.lat_deg);
}

/* A whole edge of a field may be such a number, and the step to the rest be
 * gentle from one great cell to the next. */
static enum fw_status check_stand_in(const struct sounding *looking,
                                     double word, struct fw_error *err)
{
    double least_m = HUGE_VAL;
    bool seen = false;
    struct fw_lonlat at = {0, 0};
    for (size_t j = 0; j < looking->rows; j++)
        for (size_t i = 0; i < looking->columns; i++) {
            const double height_m = value_at(looking, i, j);
            if (isnan(height_m))
                continue;
            if (height_m != word) {
                least_m = fmin(least_m, height_m);
                continue;
            }
            if (!seen)
                at = place_of(looking, i, j);
            seen = true;
        }
    if (!seen || !(least_m < HUGE_VAL) ||
        !(least_m > word + FW_MAP_FAR_ABOVE_M))
        return FW_OK;
    return fw_fail(
        err, FW_EINPUT,
        "has a height of exactly %g m at %.6f,%.6f, and %g m or more "
        "elsewhere on the field; if %g stands for no data, declare "
        "it: gdal_translate -a_nodata %g",
        word, at.lon_deg, at.lat_deg, least_m, word, word);
}

static enum fw_status look(const struct sounding *looking, struct fw_error *err)
{
    const size_t words = sizeof FW_MAP_STAND_INS_M / sizeof *FW_MAP_STAND_INS_M;
    enum fw_status status = FW_OK;
    for (size_t j = 0; !status && j < looking->rows; j++)
        for (size_t i = 0; !status && i < looking->columns; i++)
            status = check_range(looking, i, j, err);
    for (size_t k = 0; !status && k < words; k++)
        status = check_stand_in(looking, FW_MAP_STAND_INS_M[k], err);
    for (size_t j = 0; !status && j < looking->rows; j++)
        for (size_t i = 0; !status && i < looking->columns; i++) {
            status = check_jump(looking, i, j, i + 1, j, err);
            if (!status)
                status = check_jump(looking, i, j, i, j + 1, err);
        }
    return status;
}

enum fw_status fw_farm__heights(const struct fw_raster *heights,
                                const struct fw_field *field,
                                struct fw_error *err)
{
    struct sounding looking = {
        .heights = heights,
        .field = field,
        .columns = fw_raster_columns(heights),
        .rows = fw_raster_rows(heights),
    };
    bool *under = fw_alloc(looking.columns * looking.rows, sizeof *under);
    if (!under)
        return fw_fail_memory(err);
    looking.under = under;
    enum fw_status status = fw_raster_under(heights, field, under, err);
    if (!status)
        status = look(&looking, err);
    fw_free(under);
    return status;
}
