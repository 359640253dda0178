/* Which cells of a raster count for a field. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/herbage_inner.h"
#include "geo/points.h"

#include <math.h>

struct under {
    const struct fw_raster *raster;
    const struct fw_field *field;
    bool *met; /* by cell: the field's outline or inside touches it */
    bool *out; /* and those beside them */
};

size_t fw_raster_columns(const struct fw_raster *raster)
{
    return raster->columns;
}

size_t fw_raster_rows(const struct fw_raster *raster)
{
    return raster->rows;
}

double fw_raster_value(const struct fw_raster *raster, size_t column,
                       size_t row)
{
    return raster->values[row * raster->columns + column];
}

struct fw_point fw_raster_centre(const struct fw_raster *raster, size_t column,
                                 size_t row)
{
    const struct fw_point a = fw_raster_corner(raster, column, row);
    const struct fw_point b = fw_raster_corner(raster, column + 1, row + 1);
    const struct fw_point c = fw_raster_corner(raster, column + 1, row);
    const struct fw_point d = fw_raster_corner(raster, column, row + 1);
    return (struct fw_point){(a.x_m + b.x_m + c.x_m + d.x_m) / 4,
                             (a.y_m + b.y_m + c.y_m + d.y_m) / 4};
}

static void meet(const struct under *under, struct fw_point at)
{
    const struct fw_cell cell = fw_raster_cell(under->raster, at);
    under->met[cell.j * under->raster->columns + cell.i] = true;
}

/* Steps of half a cell: what is passed between two of them is a corner, and
 * beside a cell that was met. */
static void meet_edge(const struct under *under, struct fw_point a,
                      struct fw_point b)
{
    const double long_m = fw_point_apart_m(b, a);
    const double step_m = fw_raster_cell_m(under->raster) / 2;
    const size_t steps = (size_t)fmin(ceil(long_m / step_m), 1e7);
    for (size_t k = 0; k <= steps; k++) {
        const double share = steps > 0 ? (double)k / (double)steps : 0;
        meet(under, (struct fw_point){a.x_m + share * (b.x_m - a.x_m),
                                      a.y_m + share * (b.y_m - a.y_m)});
    }
}

/* Columns and rows of the raster, from its first corner. */
static struct fw_point counted(const struct fw_raster *raster,
                               struct fw_point at)
{
    const struct fw_cell cell = fw_raster_cell(raster, at);
    const struct fw_point in = fw_cell_within(raster, cell, at);
    return (struct fw_point){(double)cell.i + in.x_m, (double)cell.j + in.y_m};
}

/* In each row that the edge crosses, inside and outside change places from the
 * crossing on. */
static void turn_rows(const struct under *under, struct fw_point a,
                      struct fw_point b, bool *turns)
{
    const size_t columns = under->raster->columns;
    const double low = fmin(a.y_m, b.y_m), high = fmax(a.y_m, b.y_m);
    for (size_t j = 0; j < under->raster->rows; j++) {
        const double v = (double)j + 0.5;
        if (!(v > low && v <= high))
            continue;
        const double u =
            a.x_m + (v - a.y_m) / (b.y_m - a.y_m) * (b.x_m - a.x_m);
        const double first = fmax(0, floor(u + 0.5));
        if (first < (double)columns) {
            bool *turn = &turns[j * columns + (size_t)first];
            *turn = !*turn;
        }
    }
}

static void meet_inside(const struct under *under, const bool *turns)
{
    const size_t columns = under->raster->columns;
    for (size_t j = 0; j < under->raster->rows; j++) {
        bool inside = false;
        for (size_t i = j * columns; i < (j + 1) * columns; i++) {
            inside ^= turns[i];
            under->met[i] |= inside;
        }
    }
}

static void meet_field(const struct under *under, bool *turns)
{
    const struct fw_field *field = under->field;
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t end = field->ring_start[r + 1];
        struct fw_point before = field->vertices[end - 1].plane;
        for (size_t i = field->ring_start[r]; i < end; i++) {
            const struct fw_point at = field->vertices[i].plane;
            meet_edge(under, before, at);
            turn_rows(under, counted(under->raster, before),
                      counted(under->raster, at), turns);
            before = at;
        }
    }
    meet_inside(under, turns);
}

static void add_neighbours(const struct under *under)
{
    const size_t columns = under->raster->columns, rows = under->raster->rows;
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++) {
            if (!under->met[j * columns + i])
                continue;
            for (size_t y = j > 0 ? j - 1 : 0; y <= j + 1 && y < rows; y++)
                for (size_t x = i > 0 ? i - 1 : 0; x <= i + 1 && x < columns;
                     x++)
                    under->out[y * columns + x] = true;
        }
}

enum fw_status fw_raster_under(const struct fw_raster *raster,
                               const struct fw_field *field, bool *out,
                               struct fw_error *err)
{
    const size_t count = raster->columns * raster->rows;
    const struct under under = {
        .raster = raster,
        .field = field,
        .met = fw_alloc(count, sizeof *under.met),
        .out = out,
    };
    bool *turns = fw_alloc(count, sizeof *turns);
    const bool room = under.met && turns;
    for (size_t i = 0; i < count; i++)
        out[i] = false;
    if (room) {
        meet_field(&under, turns);
        add_neighbours(&under);
    }
    fw_free(under.met);
    fw_free(turns);
    return room ? FW_OK : fw_fail_memory(err);
}
