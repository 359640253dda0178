/* A place for the trough, by trying the middles of a grid laid along the
 * paddock's longest side, so that a long thin paddock gets as many of them as
 * a square one. An odd number each way puts a row on the middle line of a
 * strip. Where even that grid misses (a sliver), the middle of the widest
 * chord is always inside. Beside a pond the room may lie between the grid's
 * places: its cells are halved where there may be more. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/mark.h"
#include "figures/water.h"
#include "geo/points.h"
#include "water/water.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#define ACROSS FW_EFFORT(15)

enum { most_halvings = FW_EFFORT(3), quarters = FW_PARTS(4) };

struct place {
    struct fw_point point;
    double clear_m; /* to the ring and the opening, whichever is nearer */
    double from_m;
    size_t index;
};

struct search {
    const struct fw_point *points;
    const size_t *ring_start;
    size_t ring_count;
    size_t outer_count, count; /* of the points */
    const struct fw_water_wish *wish;
    struct place *places; /* room for ACROSS * ACROSS + 2 */
    size_t place_count;
    double best_clear_m;
};

static double distance_m(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(b, a);
}

static size_t next_of(const struct search *search, size_t ring, size_t i)
{
    return i + 1 < search->ring_start[ring + 1] ? i + 1
                                                : search->ring_start[ring];
}

static double ring_clear_m(const struct search *search, struct fw_point point)
{
    double least = DBL_MAX;
    for (size_t r = 0; r < search->ring_count; r++)
        for (size_t i = search->ring_start[r]; i < search->ring_start[r + 1];
             i++)
            least = fmin(least, fw_segment_distance_m(
                                    point, search->points[i],
                                    search->points[next_of(search, r, i)]));
    return least;
}

static double clear_m(const struct search *search, struct fw_point point)
{
    const double least = ring_clear_m(search, point);
    return search->wish->opening
               ? fmin(least, distance_m(point, *search->wish->opening))
               : least;
}

static bool is_inside(const struct search *search, struct fw_point point)
{
    bool inside = false;
    for (size_t r = 0; r < search->ring_count; r++)
        if (fw_ring_contains(search->points + search->ring_start[r],
                             search->ring_start[r + 1] - search->ring_start[r],
                             point))
            inside = !inside;
    return inside;
}

static void try_place(struct search *search, struct fw_point point)
{
    if (!is_inside(search, point))
        return;
    const struct place place = {
        .point = point,
        .clear_m = clear_m(search, point),
        .from_m = distance_m(point, search->wish->from),
        .index = search->place_count,
    };
    search->best_clear_m = fmax(search->best_clear_m, place.clear_m);
    search->places[search->place_count++] = place;
}

/* ---- the grid ---- */

struct grid { /* along u and to its left */
    struct fw_point u;
    double low_u, low_v, size_u, size_v;
};

static struct fw_point longest_side(const struct search *search)
{
    struct fw_point along = {1, 0};
    double longest = 0;
    for (size_t i = 0; i < search->outer_count; i++) {
        const struct fw_point a = search->points[i];
        const struct fw_point b = search->points[next_of(search, 0, i)];
        const double side_m = distance_m(a, b);
        if (side_m > longest) {
            longest = side_m;
            along = (struct fw_point){(b.x_m - a.x_m) / side_m,
                                      (b.y_m - a.y_m) / side_m};
        }
    }
    return along;
}

static struct grid lay_grid(const struct search *search)
{
    const struct fw_point u = longest_side(search);
    double low_u = DBL_MAX, high_u = -DBL_MAX;
    double low_v = DBL_MAX, high_v = -DBL_MAX;
    for (size_t i = 0; i < search->outer_count; i++) {
        const struct fw_point p = search->points[i];
        const double pu = p.x_m * u.x_m + p.y_m * u.y_m;
        const double pv = p.y_m * u.x_m - p.x_m * u.y_m;
        low_u = fmin(low_u, pu);
        high_u = fmax(high_u, pu);
        low_v = fmin(low_v, pv);
        high_v = fmax(high_v, pv);
    }
    return (struct grid){u, low_u, low_v, high_u - low_u, high_v - low_v};
}

/* The middle of cell i, j of so many each way. */
static struct fw_point middle_of(const struct grid *grid, int i, int j,
                                 int across)
{
    const double pu = grid->low_u + grid->size_u * (i + 0.5) / across;
    const double pv = grid->low_v + grid->size_v * (j + 0.5) / across;
    return (struct fw_point){pu * grid->u.x_m - pv * grid->u.y_m,
                             pu * grid->u.y_m + pv * grid->u.x_m};
}

static void try_grid(struct search *search, const struct grid *grid)
{
    for (int i = 0; i < ACROSS; i++)
        for (int j = 0; j < ACROSS; j++)
            try_place(search, middle_of(grid, i, j, ACROSS));
}

struct better {
    struct fw_point point;
    double clear_m;
};

struct cell {
    int i, j, halvings;
};

/* Nothing in a cell is farther from a ring than its middle by more than the
 * way to its corner. A tenth more is not worth a look. */
static bool may_be_better(const struct search *search, const struct grid *grid,
                          struct cell cell, struct better *better)
{
    const int across = ACROSS << cell.halvings;
    const struct fw_point point = middle_of(grid, cell.i, cell.j, across);
    const double to_corner_m =
        fw_length(grid->size_u / across, grid->size_v / across) / 2;
    if (!is_inside(search, point))
        return to_corner_m - ring_clear_m(search, point) >
               (1 + FW_TROUGH_GAIN) * better->clear_m;
    const double here_m = clear_m(search, point);
    if (here_m > better->clear_m) {
        better->clear_m = here_m;
        better->point = point;
    }
    return here_m + to_corner_m > (1 + FW_TROUGH_GAIN) * better->clear_m;
}

static void look_closer(struct search *search, const struct grid *grid,
                        double keep_m)
{
    struct better better = {.clear_m = search->best_clear_m};
    struct cell open[4 * (most_halvings + 1)];
    for (int start = 0; start < ACROSS * ACROSS; start++) {
        size_t count = 1;
        open[0] = (struct cell){start / ACROSS, start % ACROSS, 0};
        while (count > 0 && better.clear_m < keep_m) {
            const struct cell cell = open[--count];
            if (!may_be_better(search, grid, cell, &better) ||
                cell.halvings == most_halvings)
                continue;
            for (int k = 0; k < quarters; k++)
                open[count++] = (struct cell){
                    2 * cell.i + k / 2, 2 * cell.j + k % 2, cell.halvings + 1};
        }
    }
    if (better.clear_m > search->best_clear_m)
        try_place(search, better.point);
}

/* ---- the widest chord ---- */

static int by_number(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Where the rings cross the level y, rising; a vertex on it counts as
 * above. */
static size_t crossings(const struct search *search, double y, double *x)
{
    size_t n = 0;
    for (size_t r = 0; r < search->ring_count; r++)
        for (size_t i = search->ring_start[r]; i < search->ring_start[r + 1];
             i++) {
            const struct fw_point a = search->points[i];
            const struct fw_point b = search->points[next_of(search, r, i)];
            if ((a.y_m < y) == (b.y_m < y))
                continue;
            x[n++] = a.x_m + (y - a.y_m) / (b.y_m - a.y_m) * (b.x_m - a.x_m);
        }
    qsort(x, n, sizeof *x, by_number);
    return n;
}

/* Levels half-way between the heights of neighbouring vertices meet every
 * part of the paddock's inside. work has room for 2 * count numbers. */
static void try_widest_chord(struct search *search, double *work)
{
    double *levels = work, *x = work + search->count;
    for (size_t i = 0; i < search->count; i++)
        levels[i] = search->points[i].y_m;
    qsort(levels, search->count, sizeof *levels, by_number);

    double widest = 0;
    struct fw_point middle = search->points[0];
    for (size_t i = 0; i + 1 < search->count; i++) {
        const double y = levels[i] + (levels[i + 1] - levels[i]) / 2;
        const size_t n = crossings(search, y, x);
        for (size_t k = 0; k + 1 < n; k += 2) {
            /* Weighed by the band's height, so that a flat roof does not win
             * over the room below it. */
            const double size = (x[k + 1] - x[k]) * (levels[i + 1] - levels[i]);
            if (size > widest) {
                widest = size;
                middle = (struct fw_point){(x[k] + x[k + 1]) / 2, y};
            }
        }
    }
    try_place(search, middle);
}

/* ---- the choice ---- */

static int by_way(const void *a, const void *b)
{
    const struct place *x = a, *y = b;
    if (x->from_m != y->from_m)
        return x->from_m < y->from_m ? -1 : 1;
    return (x->index > y->index) - (x->index < y->index);
}

static bool is_bad(const struct search *search, const struct place *place)
{
    const struct fw_water_wish *wish = search->wish;
    return wish->is_bad && wish->is_bad(wish->of, place->point);
}

static bool any_good(const struct search *search, double need_m)
{
    for (size_t i = 0; i < search->place_count; i++)
        if (search->places[i].clear_m >= need_m &&
            !is_bad(search, &search->places[i]))
            return true;
    return false;
}

/* Of the places that are clear enough, those from which the whole paddock is
 * seen; of these the nearest to where the vehicle comes from and all that are
 * at most band_m farther; of these the least mean walk. Without one that sees
 * everything, the nearest. */
static struct fw_point choose(struct search *search, double need_m,
                              double band_m, bool good)
{
    struct fw_point best = {0, 0};
    double nearest_m = DBL_MAX, least_m = DBL_MAX;
    bool any = false;
    qsort(search->places, search->place_count, sizeof *search->places, by_way);
    for (size_t i = 0; i < search->place_count; i++) {
        const struct place *place = &search->places[i];
        if (place->clear_m < need_m || (good && is_bad(search, place)))
            continue;
        if (place->from_m > nearest_m + band_m)
            break;
        if (!any)
            best = place->point;
        any = true;
        const struct fw_walk walk =
            fw_water_walk(search->points, search->ring_start,
                          search->ring_count, place->point);
        if (!walk.known)
            continue;
        if (nearest_m == DBL_MAX)
            nearest_m = place->from_m;
        if (walk.mean_m < least_m) {
            least_m = walk.mean_m;
            best = place->point;
        }
    }
    return best;
}

static enum fw_status check(const struct search *search, struct fw_error *err)
{
    const struct fw_point *opening = search->wish->opening;
    const double keep_m = search->wish->keep_m;
    if (!(keep_m >= 0) || !isfinite(keep_m))
        return fw_fail(err, FW_EINPUT,
                       "distance of the trough from the fence is %g m; "
                       "expected 0 or more, such as 10 m",
                       keep_m);
    bool finite =
        isfinite(search->wish->from.x_m) && isfinite(search->wish->from.y_m) &&
        (!opening || (isfinite(opening->x_m) && isfinite(opening->y_m)));
    for (size_t i = 0; i < search->count; i++)
        finite = finite && isfinite(search->points[i].x_m) &&
                 isfinite(search->points[i].y_m);
    if (search->outer_count < FW_PARTS(3) || !finite)
        return fw_fail(err, FW_EFAULT,
                       "no place for a trough: a paddock of %zu corners, or a "
                       "point that is not finite",
                       search->outer_count);
    return FW_OK;
}

enum fw_status fw_water_place(const struct fw_point *points,
                              const size_t *ring_start, size_t ring_count,
                              const struct fw_water_wish *wish,
                              struct fw_point *out, struct fw_error *err)
{
    const double keep_m = wish->keep_m;
    struct search search = {
        .points = points,
        .ring_start = ring_start,
        .ring_count = ring_count,
        .outer_count = ring_count > 0 ? ring_start[1] - ring_start[0] : 0,
        .count = ring_count > 0 ? ring_start[ring_count] : 0,
        .wish = wish};
    enum fw_status status = check(&search, err);
    if (status)
        return status;
    search.places = fw_alloc(ACROSS * ACROSS + 2, sizeof *search.places);
    double *work = fw_alloc(2 * search.count, sizeof *work);
    if (!search.places || !work) {
        status = fw_fail_memory(err);
        goto done;
    }
    const struct grid grid = lay_grid(&search);
    try_grid(&search, &grid);
    try_widest_chord(&search, work);
    if (ring_count > 1 && search.best_clear_m < keep_m)
        look_closer(&search, &grid, keep_m);
    if (search.place_count == 0) {
        status = fw_fail(err, FW_EFAULT,
                         "no place for a trough: a paddock of %zu corners has "
                         "no inside",
                         search.outer_count);
        goto done;
    }
    /* Without room for keep_m, nearly as clear as can be. */
    const double need_m =
        fmin(keep_m, FW_TROUGH_CLEAR_SHARE * search.best_clear_m);
    *out = choose(&search, need_m, fmax(keep_m, 1), any_good(&search, need_m));
done:
    fw_free(search.places);
    fw_free(work);
    return status;
}
