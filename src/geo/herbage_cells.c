/* The cells of a raster, each even in itself, exactly.
 *
 * Half the cross product, summed along a ring, is its area. Weighted with the
 * density of the cell that each piece of the ring lies in, it lacks the lines
 * of the raster inside the ring: along a line the densities of both sides
 * differ, and the part of it inside counts with that difference. Where the
 * ring crosses a line a part of it begins or ends; so each crossing adds or
 * takes away the sum along the line up to there, which is known for every
 * corner in advance. A ring costs its crossings, whatever it holds. */
#include "base/length.h"
#include "geo/herbage_inner.h"

#include <math.h>

static double half_cross(struct fw_point a, struct fw_point b)
{
    return (a.x_m * b.y_m - b.x_m * a.y_m) / 2;
}

static double density(const struct fw_raster *raster, size_t i, size_t j)
{
    return raster->values[j * raster->columns + i];
}

/* Line j has cell j on its left and j - 1 on its right, going up in i; line i
 * has cell i - 1 on its left and i on its right, going up in j. */
static double row_step(const struct fw_raster *raster, size_t i, size_t j)
{
    return density(raster, i, j) - density(raster, i, j - 1);
}

static double column_step(const struct fw_raster *raster, size_t i, size_t j)
{
    return density(raster, i - 1, j) - density(raster, i, j);
}

void fw_cells_sum(struct fw_herbage *ground)
{
    const struct fw_raster *raster = ground->raster;
    const size_t wide = raster->columns + 1;
    for (size_t j = 1; j < raster->rows; j++) {
        struct fw_sum sum = {0};
        for (size_t i = 0; i < raster->columns; i++) {
            ground->row_kg[j * wide + i] = fw_sum_value(sum);
            fw_sum_add(&sum,
                       row_step(raster, i, j) *
                           half_cross(fw_raster_corner(raster, i, j),
                                      fw_raster_corner(raster, i + 1, j)));
        }
    }
    for (size_t i = 1; i < raster->columns; i++) {
        struct fw_sum sum = {0};
        for (size_t j = 0; j < raster->rows; j++) {
            ground->column_kg[j * wide + i] = fw_sum_value(sum);
            fw_sum_add(&sum,
                       column_step(raster, i, j) *
                           half_cross(fw_raster_corner(raster, i, j),
                                      fw_raster_corner(raster, i, j + 1)));
        }
    }
}

/* ---- one segment ---- */

enum side { BELOW, RIGHT, ABOVE, LEFT }; /* as the corners run */

struct walk {
    const struct fw_herbage *ground;
    struct fw_cell cell;
    struct fw_point at;
    struct fw_sum *mass;
    double *along_kg_m;
};

static void go_to(struct walk *walk, struct fw_point to)
{
    const double kg_m2 =
        density(walk->ground->raster, walk->cell.i, walk->cell.j);
    fw_sum_add(walk->mass, kg_m2 * half_cross(walk->at, to));
    *walk->along_kg_m +=
        kg_m2 * fw_length(to.x_m - walk->at.x_m, to.y_m - walk->at.y_m);
    walk->at = to;
}

/* Up to the point on line j, between corners i and i + 1. */
static double row_sum(const struct fw_herbage *ground, size_t i, size_t j,
                      struct fw_point at)
{
    const struct fw_raster *raster = ground->raster;
    return ground->row_kg[j * (raster->columns + 1) + i] +
           row_step(raster, i, j) *
               half_cross(fw_raster_corner(raster, i, j), at);
}

static double column_sum(const struct fw_herbage *ground, size_t i, size_t j,
                         struct fw_point at)
{
    const struct fw_raster *raster = ground->raster;
    return ground->column_kg[j * (raster->columns + 1) + i] +
           column_step(raster, i, j) *
               half_cross(fw_raster_corner(raster, i, j), at);
}

static void cross(struct walk *walk, enum side side)
{
    const struct fw_herbage *ground = walk->ground;
    struct fw_cell *cell = &walk->cell;
    switch (side) {
    case BELOW:
        fw_sum_add(walk->mass, -row_sum(ground, cell->i, cell->j, walk->at));
        cell->j--;
        break;
    case RIGHT:
        cell->i++;
        fw_sum_add(walk->mass, -column_sum(ground, cell->i, cell->j, walk->at));
        break;
    case ABOVE:
        cell->j++;
        fw_sum_add(walk->mass, row_sum(ground, cell->i, cell->j, walk->at));
        break;
    case LEFT:
        fw_sum_add(walk->mass, column_sum(ground, cell->i, cell->j, walk->at));
        cell->i--;
        break;
    }
}

static bool is_rim(const struct walk *walk, enum side side)
{
    const struct fw_raster *raster = walk->ground->raster;
    switch (side) {
    case BELOW:
        return walk->cell.j == 0;
    case RIGHT:
        return walk->cell.i + 1 == raster->columns;
    case ABOVE:
        return walk->cell.j + 1 == raster->rows;
    default:
        return walk->cell.i == 0;
    }
}

/* The side by which the line from a to b leaves the cell: its first corner is
 * to the right of the line or on it, the second to the left. A line that
 * rounding puts beside the cell leaves by the side nearest to it, from where
 * it stands. */
static enum side way_out(const struct walk *walk, struct fw_point a,
                         struct fw_point b, struct fw_point *out)
{
    const struct fw_raster *raster = walk->ground->raster;
    const size_t i = walk->cell.i, j = walk->cell.j;
    const struct fw_point corners[] = {fw_raster_corner(raster, i, j),
                                       fw_raster_corner(raster, i + 1, j),
                                       fw_raster_corner(raster, i + 1, j + 1),
                                       fw_raster_corner(raster, i, j + 1)};
    double left[4];
    for (int k = 0; k < 4; k++)
        left[k] = fw_side_of(a, b, corners[k]);
    int nearest = 0;
    double least = HUGE_VAL;
    for (int k = 0; k < 4; k++) {
        const int next = (k + 1) % 4;
        if (left[k] <= 0 && left[next] > 0) {
            const double t = left[k] / (left[k] - left[next]);
            *out = (struct fw_point){
                corners[k].x_m + t * (corners[next].x_m - corners[k].x_m),
                corners[k].y_m + t * (corners[next].y_m - corners[k].y_m)};
            return (enum side)k;
        }
        if (fabs(left[k]) + fabs(left[next]) < least) {
            least = fabs(left[k]) + fabs(left[next]);
            nearest = k;
        }
    }
    *out = walk->at;
    return (enum side)nearest;
}

static bool is_past(struct fw_point a, struct fw_point b, struct fw_point point)
{
    const double dx = b.x_m - a.x_m, dy = b.y_m - a.y_m;
    return (point.x_m - b.x_m) * dx + (point.y_m - b.y_m) * dy >= 0;
}

/* To the cell in which the next segment starts: the end lies on the lines
 * between, but for rounding. */
static void settle(struct walk *walk, struct fw_cell last)
{
    while (walk->cell.i != last.i)
        cross(walk, walk->cell.i < last.i ? RIGHT : LEFT);
    while (walk->cell.j != last.j)
        cross(walk, walk->cell.j < last.j ? ABOVE : BELOW);
}

void fw_cells_walk(const struct fw_herbage *ground, struct fw_point a,
                   struct fw_point b, struct fw_sum *mass, double *along_kg_m)
{
    const struct fw_raster *raster = ground->raster;
    struct walk walk = {.ground = ground,
                        .cell = fw_raster_cell(raster, a),
                        .at = a,
                        .mass = mass,
                        .along_kg_m = along_kg_m};
    const struct fw_cell last = fw_raster_cell(raster, b);
    const size_t most = 4 * (raster->columns + raster->rows);
    for (size_t n = 0; n < most; n++) {
        struct fw_point out;
        if (walk.cell.i == last.i && walk.cell.j == last.j)
            break;
        const enum side side = way_out(&walk, a, b, &out);
        if (is_past(a, b, out) || is_rim(&walk, side))
            break;
        go_to(&walk, out);
        cross(&walk, side);
    }
    go_to(&walk, b);
    settle(&walk, last);
}
