/* A grid of cells in a field's plane. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "geo/herbage_inner.h"

#include <math.h>

void fw_grid_release(struct fw_grid *grid)
{
    fw_free(grid->values);
    *grid = (struct fw_grid){0};
}

void fw_raster_free(struct fw_raster *raster)
{
    if (!raster)
        return;
    fw_free(raster->corners);
    fw_free(raster->values);
    fw_free(raster);
}

/* Twice the area of a cell, negative when its corners run clockwise. */
static double twice_cell(const struct fw_raster *raster, size_t i, size_t j)
{
    const struct fw_point a = fw_raster_corner(raster, i, j),
                          b = fw_raster_corner(raster, i + 1, j),
                          c = fw_raster_corner(raster, i + 1, j + 1),
                          d = fw_raster_corner(raster, i, j + 1);
    return fw_side_of(a, b, c) + fw_side_of(a, c, d);
}

static void swap_rows(void *rows, size_t count, size_t bytes)
{
    char *first = rows;
    for (size_t low = 0, high = count; low + 1 < high; low++) {
        char *a = first + low * bytes, *b = first + --high * bytes;
        for (size_t i = 0; i < bytes; i++) {
            const char kept = a[i];
            a[i] = b[i];
            b[i] = kept;
        }
    }
}

/* Images run down the page; here all run up. */
enum fw_status fw_raster__turn_up(struct fw_raster *raster,
                                  struct fw_error *err)
{
    if (twice_cell(raster, 0, 0) < 0) {
        swap_rows(raster->corners, raster->rows + 1,
                  (raster->columns + 1) * sizeof *raster->corners);
        swap_rows(raster->values, raster->rows,
                  raster->columns * sizeof *raster->values);
    }
    for (size_t j = 0; j < raster->rows; j++)
        for (size_t i = 0; i < raster->columns; i++)
            if (!(twice_cell(raster, i, j) > 0))
                return fw_fail(err, FW_EINPUT,
                               "the raster's cells have no area; is its "
                               "coordinate system right?");
    return FW_OK;
}

double fw_raster_cell_m(const struct fw_raster *raster)
{
    return sqrt(twice_cell(raster, raster->columns / 2, raster->rows / 2) / 2);
}

/* ---- which cell ---- */

/* Lies the point left of line i, going up in j; right of it is cell i. */
static bool left_of_column(const struct fw_raster *raster, size_t i, size_t j,
                           struct fw_point point)
{
    return fw_side_of(fw_raster_corner(raster, i, j),
                      fw_raster_corner(raster, i, j + 1), point) > 0;
}

static bool below_row(const struct fw_raster *raster, size_t i, size_t j,
                      struct fw_point point)
{
    return fw_side_of(fw_raster_corner(raster, i, j),
                      fw_raster_corner(raster, i + 1, j), point) < 0;
}

/* As if all cells were alike. */
static size_t guess(double share, size_t count)
{
    const double at = floor(share * (double)count);
    if (!(at > 0))
        return 0;
    return at < (double)count ? (size_t)at : count - 1;
}

static struct fw_cell first_guess(const struct fw_raster *raster,
                                  struct fw_point point)
{
    const struct fw_point origin = raster->corners[0];
    const struct fw_point u = fw_raster_corner(raster, raster->columns, 0);
    const struct fw_point v = fw_raster_corner(raster, 0, raster->rows);
    const double all = fw_side_of(origin, u, v);
    return (struct fw_cell){
        guess(-fw_side_of(origin, v, point) / all, raster->columns),
        guess(fw_side_of(origin, u, point) / all, raster->rows)};
}

struct fw_cell fw_raster_cell(const struct fw_raster *raster,
                              struct fw_point point)
{
    struct fw_cell cell = first_guess(raster, point);
    /* Lines that bend may lead round a corner, but not for ever. */
    for (size_t n = raster->columns + raster->rows + 4; n > 0; n--) {
        if (cell.i > 0 && left_of_column(raster, cell.i, cell.j, point))
            cell.i--;
        else if (cell.i + 1 < raster->columns &&
                 !left_of_column(raster, cell.i + 1, cell.j, point))
            cell.i++;
        else if (cell.j > 0 && below_row(raster, cell.i, cell.j, point))
            cell.j--;
        else if (cell.j + 1 < raster->rows &&
                 !below_row(raster, cell.i, cell.j + 1, point))
            cell.j++;
        else
            break;
    }
    return cell;
}

/* ---- values ---- */

struct fw_point fw_cell_within(const struct fw_raster *raster,
                               struct fw_cell cell, struct fw_point point)
{
    const struct fw_point a = fw_raster_corner(raster, cell.i, cell.j),
                          b = fw_raster_corner(raster, cell.i + 1, cell.j),
                          c = fw_raster_corner(raster, cell.i + 1, cell.j + 1),
                          d = fw_raster_corner(raster, cell.i, cell.j + 1);
    const double left = -fw_side_of(a, d, point);
    const double right = fw_side_of(b, c, point);
    const double below = fw_side_of(a, b, point);
    const double above = -fw_side_of(d, c, point);
    return (struct fw_point){left / (left + right), below / (below + above)};
}

static double clamp(double value, double most)
{
    return fmax(0, fmin(most, value));
}

/* u and v count from the centre of the first cell. */
static double between(const struct fw_raster *raster, double u, double v)
{
    const size_t i = (size_t)u, j = (size_t)v;
    double sum = 0, weights = 0;
    for (size_t k = 0; k < 4; k++) {
        const size_t di = k & 1, dj = k >> 1;
        const double along = u - (double)i, up = v - (double)j;
        const double weight = (di ? along : 1 - along) * (dj ? up : 1 - up);
        if (!(weight > 0)) /* also what lies beyond the last cell */
            continue;
        const double value =
            raster->values[(j + dj) * raster->columns + i + di];
        if (isnan(value))
            continue;
        sum += weight * value;
        weights += weight;
    }
    return sum / weights;
}

double fw_raster_at_point(const struct fw_raster *raster, struct fw_point point)
{
    static const double rim = 1e-9; /* of a cell */
    const struct fw_cell cell = fw_raster_cell(raster, point);
    const struct fw_point in = fw_cell_within(raster, cell, point);
    if (!(in.x_m >= -rim && in.x_m <= 1 + rim && in.y_m >= -rim &&
          in.y_m <= 1 + rim) ||
        isnan(raster->values[cell.j * raster->columns + cell.i]))
        return (double)NAN;
    return between(
        raster,
        clamp((double)cell.i + in.x_m - 0.5, (double)raster->columns - 1),
        clamp((double)cell.j + in.y_m - 0.5, (double)raster->rows - 1));
}

double fw_raster_at(const struct fw_raster *raster, struct fw_lonlat place)
{
    return fw_raster_at_point(raster, fw_plane_forward(&raster->plane, place));
}

double fw_raster_slope(const struct fw_raster *raster, double reach_m,
                       struct fw_point p)
{
    const double east =
        fw_raster_at_point(raster, (struct fw_point){p.x_m + reach_m, p.y_m});
    const double west =
        fw_raster_at_point(raster, (struct fw_point){p.x_m - reach_m, p.y_m});
    const double north =
        fw_raster_at_point(raster, (struct fw_point){p.x_m, p.y_m + reach_m});
    const double south =
        fw_raster_at_point(raster, (struct fw_point){p.x_m, p.y_m - reach_m});
    const double slope = fw_length(east - west, north - south) / (2 * reach_m);
    return isnan(slope) ? 0 : slope;
}
