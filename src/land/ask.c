/* What the ground is asked, and lines turned round. */
#include "geo/points.h"

#include "land/land.h"

#include <math.h>

size_t fw_land_beyond(const struct fw_land *land, size_t door, size_t cell)
{
    const struct fw_door *of = &land->doors[door];
    return of->a == cell ? of->b : of->a;
}

size_t fw_land_cell_count(const struct fw_land *land, size_t field)
{
    return land->fields[field].paddock_count + land->fields[field].common_count;
}

size_t fw_land_cell(const struct fw_land *land, size_t field, size_t k)
{
    const struct fw_land_field *of = &land->fields[field];
    return k < of->paddock_count ? of->first_paddock + k
                                 : of->first_common + k - of->paddock_count;
}

size_t fw_land_local(const struct fw_land *land, size_t cell)
{
    const struct fw_land_field *of = &land->fields[land->cells[cell].field];
    return cell >= of->first_paddock &&
                   cell < of->first_paddock + of->paddock_count
               ? cell - of->first_paddock
               : of->paddock_count + cell - of->first_common;
}

struct fw_point fw_land_along(const struct fw_land *land, size_t index,
                              double at_m)
{
    const struct fw_land_line *line = &land->lines[index];
    const struct fw_point *at = land->line_points + line->first;
    const double *along_m = land->line_at_m + line->first;
    size_t low = 0, high = line->count - 1; /* the piece ends at `high` */
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        if (along_m[middle] < at_m)
            low = middle;
        else
            high = middle;
    }
    const double piece_m = along_m[high] - along_m[low];
    if (!(piece_m > 0) || at_m >= along_m[high])
        return at[high];
    const double t = fmax(0, (at_m - along_m[low]) / piece_m);
    return (struct fw_point){at[low].x_m + t * (at[high].x_m - at[low].x_m),
                             at[low].y_m + t * (at[high].y_m - at[low].y_m)};
}

void fw_land_turn(struct fw_land *land, size_t index)
{
    struct fw_land_line *line = &land->lines[index];
    struct fw_point *at = land->line_points + line->first;
    double *at_m = land->line_at_m + line->first;
    for (size_t i = 0; i < line->count - i; i++) {
        const size_t other = line->count - 1 - i;
        const struct fw_point kept = at[i];
        const double kept_m = at_m[i];
        at[i] = at[other];
        at[other] = kept;
        at_m[i] = line->length_m - at_m[other];
        if (other != i)
            at_m[other] = line->length_m - kept_m;
    }
    const size_t host = line->host[0];
    line->host[0] = line->host[1];
    line->host[1] = host;
    const enum fw_feeds feeds = line->feeds[0];
    line->feeds[0] = line->feeds[1];
    line->feeds[1] = feeds;
    /* A door keeps its number: only what is left and how far along change. */
    for (size_t d = line->first_door; d < line->first_door + line->door_count;
         d++) {
        const struct fw_door old = land->doors[d];
        land->doors[d] =
            (struct fw_door){index, old.b, old.a, line->length_m - old.to_m,
                             line->length_m - old.from_m};
    }
}

double fw_land_far_m(const struct fw_land *land, size_t index,
                     struct fw_point from)
{
    const struct fw_cell *cell = &land->cells[index];
    double far_m = 0;
    for (size_t i = land->ring_start[cell->first_ring];
         i < land->ring_start[cell->first_ring + cell->ring_count]; i++)
        far_m = fmax(far_m, fw_point_apart_m(land->ring_points[i], from));
    return far_m;
}
