/* The part of a raster that lies under some places. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "io/raster.h"

#include <math.h>

enum { rim = 2 };                    /* cells beyond the places */
static const double most_read = 4e8; /* cells of a file, before averaging */

/* Along one axis of the file: cells from `first`, `count` squares of `step`;
 * the file has some of them. */
struct range {
    double least, most; /* of the places */
    long long first, count;
    long long from, to; /* in the file */
};

struct window {
    struct range columns, rows;
    long long step;
};

/* ---- which part ---- */

static void take(struct range *range, double at)
{
    range->least = fmin(range->least, at);
    range->most = fmax(range->most, at);
}

static enum fw_status find_range(const struct fw_raster_file *file,
                                 struct fw_crs *crs,
                                 const struct fw_lonlat *places, size_t count,
                                 struct window *window, struct fw_error *err)
{
    struct fw_xy *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    const struct range none = {.least = HUGE_VAL, .most = -HUGE_VAL};
    window->columns = window->rows = none;
    const enum fw_status status =
        fw_crs_from_lonlat(crs, places, points, count, err);
    const double *a = file->inverse;
    for (size_t i = 0; !status && i < count; i++) {
        take(&window->columns, a[0] + a[1] * points[i].x + a[2] * points[i].y);
        take(&window->rows, a[3] + a[4] * points[i].x + a[5] * points[i].y);
    }
    fw_free(points);
    return status;
}

static bool reaches(const struct range *range, int size)
{
    return range->least < (double)size && range->most > 0 &&
           range->most - range->least < 1e9;
}

static void set_step(struct range *range, long long step, int size)
{
    const long long least = (long long)floor(range->least);
    const long long most = (long long)floor(range->most);
    range->first = least - rim * step;
    range->count = (most - range->first) / step + 1 + rim;
    range->from = range->first > 0 ? range->first : 0;
    range->to = range->first + range->count * step;
    if (range->to > size)
        range->to = size;
}

static double cells_of(const struct range *a, const struct range *b)
{
    return (double)a->count * (double)b->count;
}

static enum fw_status find_window(const struct fw_raster_file *file,
                                  struct window *window, struct fw_error *err)
{
    if (!reaches(&window->columns, file->columns) ||
        !reaches(&window->rows, file->rows))
        return fw_fail(err, FW_EINPUT, "%s: does not reach the field",
                       file->source);
    const double wide = window->columns.most - window->columns.least + 1;
    const double high = window->rows.most - window->rows.least + 1;
    window->step = (long long)ceil(sqrt(wide * high / FW_MOST_CELLS));
    for (;; window->step++) {
        set_step(&window->columns, window->step, file->columns);
        set_step(&window->rows, window->step, file->rows);
        if (cells_of(&window->columns, &window->rows) <= FW_MOST_CELLS)
            break;
    }
    const double read = (double)(window->columns.to - window->columns.from) *
                        (double)(window->rows.to - window->rows.from);
    if (read > most_read)
        return fw_fail(err, FW_EINPUT,
                       "%s: has %.0f million cells on one field; make them "
                       "greater first",
                       file->source, read / 1e6);
    return FW_OK;
}

/* ---- reading ---- */

struct line { /* one line of the file, and sums over the squares below it */
    double *values;
    unsigned char *mask;
    double *sums;
    double *counts;
};

static void line_release(struct line *line)
{
    fw_free(line->values);
    fw_free(line->mask);
    fw_free(line->sums);
    fw_free(line->counts);
}

static enum fw_status line_init(struct line *line, const struct window *window,
                                struct fw_error *err)
{
    const size_t wide = (size_t)(window->columns.to - window->columns.from);
    const size_t squares = (size_t)window->columns.count;
    *line = (struct line){
        .values = fw_alloc(wide, sizeof *line->values),
        .mask = fw_alloc(wide, sizeof *line->mask),
        .sums = fw_alloc(squares, sizeof *line->sums),
        .counts = fw_alloc(squares, sizeof *line->counts),
    };
    if (line->values && line->mask && line->sums && line->counts)
        return FW_OK;
    line_release(line);
    return fw_fail_memory(err);
}

static bool read_line(const struct fw_raster_file *file,
                      const struct window *window, long long row,
                      struct line *line)
{
    const int from = (int)window->columns.from;
    const int wide = (int)(window->columns.to - window->columns.from);
    return GDALRasterIO(file->band, GF_Read, from, (int)row, wide, 1,
                        line->values, wide, 1, GDT_Float64, 0, 0) == CE_None &&
           GDALRasterIO(GDALGetMaskBand(file->band), GF_Read, from, (int)row,
                        wide, 1, line->mask, wide, 1, GDT_Byte, 0,
                        0) == CE_None;
}

static void add_line(const struct window *window, struct line *line)
{
    const long long from = window->columns.from;
    for (long long i = from; i < window->columns.to; i++) {
        const double value = line->values[i - from];
        const long long square = (i - window->columns.first) / window->step;
        if (!line->mask[i - from] || !isfinite(value))
            continue;
        line->sums[square] += value;
        line->counts[square] += 1;
    }
}

/* One row of the grid from the lines of the file that it lies over. */
static bool fill_row(const struct fw_raster_file *file,
                     const struct window *window, long long row,
                     struct line *line, double *out)
{
    const long long start = window->rows.first + row * window->step;
    for (long long i = 0; i < window->columns.count; i++)
        line->sums[i] = line->counts[i] = 0;
    for (long long at = start; at < start + window->step; at++) {
        if (at < window->rows.from || at >= window->rows.to)
            continue;
        if (!read_line(file, window, at, line))
            return false;
        add_line(window, line);
    }
    for (long long i = 0; i < window->columns.count; i++)
        out[i] =
            line->counts[i] > 0
                ? line->sums[i] / line->counts[i] * file->scale + file->offset
                : (double)NAN;
    return true;
}

static void place_grid(const struct fw_raster_file *file,
                       const struct window *window, struct fw_grid *grid)
{
    const double *a = file->affine;
    const double c = (double)window->columns.first;
    const double r = (double)window->rows.first;
    const double step = (double)window->step;
    grid->affine[0] = a[0] + a[1] * c + a[2] * r;
    grid->affine[1] = a[1] * step;
    grid->affine[2] = a[2] * step;
    grid->affine[3] = a[3] + a[4] * c + a[5] * r;
    grid->affine[4] = a[4] * step;
    grid->affine[5] = a[5] * step;
    grid->columns = (size_t)window->columns.count;
    grid->rows = (size_t)window->rows.count;
    grid->first_column = window->columns.first;
    grid->first_row = window->rows.first;
}

static enum fw_status fill(const struct fw_raster_file *file,
                           const struct window *window, struct fw_grid *grid,
                           struct fw_error *err)
{
    struct line line;
    struct fw_io__session session;
    enum fw_status status = line_init(&line, window, err);
    if (status)
        return status;
    grid->values = fw_alloc(grid->columns * grid->rows, sizeof *grid->values);
    if (!grid->values)
        status = fw_fail_memory(err);
    fw_io__enter(&session, file->address.way);
    fw_io__keep_secret(&session, file->secret);
    for (size_t row = 0; !status && row < grid->rows; row++)
        if (!fill_row(file, window, (long long)row, &line,
                      grid->values + row * grid->columns))
            status =
                fw_fail(err, FW_EINPUT, "%s: cannot be read: %s", file->source,
                        fw_io__said(&session, "its content is broken"));
    fw_io__leave(&session);
    line_release(&line);
    return status;
}

enum fw_status fw_raster_read(struct fw_raster_file *file, struct fw_crs *crs,
                              const struct fw_lonlat *places, size_t count,
                              struct fw_grid *out, size_t *averaged,
                              struct fw_error *err)
{
    struct window window;
    struct fw_grid grid = {0};
    enum fw_status status = find_range(file, crs, places, count, &window, err);
    if (!status)
        status = find_window(file, &window, err);
    if (status)
        return status;
    place_grid(file, &window, &grid);
    status = fill(file, &window, &grid, err);
    if (status) {
        fw_grid_release(&grid);
        return status;
    }
    *out = grid;
    if (averaged)
        *averaged = (size_t)window.step;
    return FW_OK;
}
