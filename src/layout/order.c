/* In which order the paddocks are grazed. Each one is reached over ground that
 * was grazed before it (or along a lane), never across one that is not. So the
 * far end can come first only where a lane leads there from the start.
 *
 * A pattern's plots follow each other, so the order is: from the paddock at
 * the gate up the plots to their end, then back to the gate and down, or the
 * other way round. Only where plots that follow each other do not adjoin is a
 * way sought from paddock to paddock. */
#include "layout/order.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct fw_point fw_layout__point(const struct fw_layout *layout,
                                 const struct fw_field *field, size_t vertex)
{
    return vertex < layout->vertex_count
               ? field->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
}

bool fw_layout_point(const struct fw_layout *layout,
                     const struct fw_field *field, size_t vertex,
                     struct fw_point *out)
{
    if (!layout || !field || !out ||
        layout->vertex_count > field->vertex_count ||
        vertex >= layout->vertex_count + layout->added_count)
        return false;
    *out = fw_layout__point(layout, field, vertex);
    return true;
}

static int by_pair(const void *left, const void *right)
{
    const struct fw_layout__door *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

static size_t merge(struct fw_layout__door *doors, size_t count)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        if (n > 0 && by_pair(&doors[n - 1], &doors[i]) == 0)
            doors[n - 1].length_m += doors[i].length_m;
        else
            doors[n++] = doors[i];
    }
    return n;
}

static enum fw_status list_doors(struct fw_layout__search *search,
                                 struct fw_error *err)
{
    const struct fw_layout *layout = search->layout;
    const struct fw_field *field = search->field;
    const size_t grounds = layout->paddock_count + layout->common_count;
    size_t pieces = 0;
    for (size_t l = 0; l < layout->line_count; l++)
        pieces += layout->lines[l].count;
    search->doors = fw_alloc(2 * pieces, sizeof *search->doors);
    search->first_door = fw_alloc(grounds + 1, sizeof *search->first_door);
    search->done = fw_alloc(grounds, sizeof *search->done);
    search->walked = fw_alloc(layout->common_count, sizeof *search->walked);
    search->kept = fw_alloc(layout->paddock_count, sizeof *search->kept);
    search->room = fw_alloc(layout->paddock_count, sizeof *search->room);
    if (!search->doors || !search->first_door || !search->done ||
        !search->walked || !search->kept || !search->room)
        return fw_fail_memory(err);
    size_t n = 0;
    for (size_t i = 0; i < pieces; i++) {
        const size_t a = layout->left[i], b = layout->right[i];
        if (a == FW_INSIDE || b == FW_INSIDE || a == b)
            continue;
        const struct fw_point p =
            fw_layout__point(layout, field, layout->line_vertices[i]);
        const struct fw_point q =
            fw_layout__point(layout, field, layout->line_vertices[i + 1]);
        const double length_m = fw_point_apart_m(p, q);
        search->doors[n++] = (struct fw_layout__door){a, b, length_m};
        search->doors[n++] = (struct fw_layout__door){b, a, length_m};
    }
    qsort(search->doors, n, sizeof *search->doors, by_pair);
    search->door_count = merge(search->doors, n);
    for (size_t g = 0, at = 0; g <= grounds; g++) {
        while (at < search->door_count && search->doors[at].from < g)
            at++;
        search->first_door[g] = at;
    }
    return FW_OK;
}

/* Does it adjoin ground that is done? */
static bool reached(const struct fw_layout__search *search, size_t paddock)
{
    for (size_t i = search->first_door[paddock];
         i < search->first_door[paddock + 1]; i++)
        if (search->done[search->doors[i].to] &&
            search->doors[i].length_m >= FW_DOOR_M)
            return true;
    return false;
}

static bool adjoin(const struct fw_layout__search *search, size_t a, size_t b)
{
    for (size_t i = search->first_door[a]; i < search->first_door[a + 1]; i++)
        if (search->doors[i].to == b)
            return search->doors[i].length_m >= FW_DOOR_M;
    return false;
}

static void begin(const struct fw_layout__search *search)
{
    const struct fw_layout *layout = search->layout;
    for (size_t i = 0; i < layout->paddock_count + layout->common_count; i++)
        search->done[i] = i >= layout->paddock_count &&
                          search->walked[i - layout->paddock_count];
}

static struct fw_layout__trial judge(const struct fw_layout__search *search,
                                     const size_t *order)
{
    struct fw_layout__trial trial = {0, 0};
    begin(search);
    search->done[order[0]] = true;
    for (size_t i = 1; i < search->layout->paddock_count; i++) {
        trial.turns += !adjoin(search, order[i - 1], order[i]);
        trial.apart += !reached(search, order[i]);
        search->done[order[i]] = true;
    }
    return trial;
}

/* The i-th plot from the start, up first or down first. */
static size_t plot_at(size_t count, size_t start, bool up_first, size_t i)
{
    const size_t above = count - start; /* with the start itself */
    if (up_first)
        return i < above ? start + i : count - 1 - i;
    return i <= start ? start - i : i;
}

/* What is held back comes last. */
static void up_and_down(const struct fw_layout__search *search, size_t start,
                        bool up_first, size_t *order)
{
    const size_t count = search->layout->paddock_count;
    size_t n = 0;
    for (int held = 0; held < 2; held++)
        for (size_t i = 0; i < count; i++) {
            const size_t plot = plot_at(count, start, up_first, i);
            if ((search->kept[plot] != 0) == (held == 1))
                order[n++] = plot;
        }
}

/* Does the plot hold what the paddock of that rank must hold? */
static bool fits(const struct fw_layout__search *search, size_t plot,
                 size_t rank)
{
    if (!search->behind)
        return true;
    const double alike = FW_TOLERANCE(1e-9);
    const double wanted =
        search->behind[rank] - (rank > 0 ? search->behind[rank - 1] : 0);
    return fabs(search->layout->holds[plot] - wanted) <= alike * wanted;
}

/* The next of the neighbours of what is done, best beside the last one and
 * near it in the plots. */
static size_t next_of(const struct fw_layout__search *search, size_t last,
                      size_t rank, bool held)
{
    size_t best = FW_INSIDE, best_cost = 0;
    for (size_t p = 0; p < search->layout->paddock_count; p++) {
        if (search->done[p] || (search->kept[p] != 0) != held ||
            !fits(search, p, rank) || !reached(search, p))
            continue;
        const size_t count = search->layout->paddock_count;
        const size_t away = p > last ? p - last : last - p;
        const size_t cost = away + (adjoin(search, last, p) ? 0 : count);
        if (best == FW_INSIDE || cost < best_cost) {
            best = p;
            best_cost = cost;
        }
    }
    return best;
}

static void wander(const struct fw_layout__search *search, size_t start,
                   size_t *order)
{
    const size_t count = search->layout->paddock_count;
    size_t free_count = 0;
    for (size_t p = 0; p < count; p++)
        free_count += search->kept[p] == 0;
    begin(search);
    order[0] = start;
    search->done[start] = true;
    for (size_t n = 1; n < count; n++) {
        const bool held = n >= free_count;
        size_t next = next_of(search, order[n - 1], n, held);
        for (size_t p = 0; next == FW_INSIDE && p < count; p++)
            if (!search->done[p] && (search->kept[p] != 0) == held)
                next = p;
        order[n] = next;
        search->done[next] = true;
    }
}

double fw_layout__away_m(const struct fw_layout *layout,
                         const struct fw_field *field, size_t paddock,
                         struct fw_point from)
{
    double least_m = HUGE_VAL;
    bool inside = false;
    for (size_t r = layout->piece_ring[layout->paddock_piece[paddock]];
         r < layout->piece_ring[layout->paddock_piece[paddock + 1]]; r++) {
        const size_t end = layout->ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = layout->ring_start[r]; i < end; before = i++) {
            const struct fw_point a =
                fw_layout__point(layout, field, layout->ring_vertices[before]);
            const struct fw_point b =
                fw_layout__point(layout, field, layout->ring_vertices[i]);
            least_m = fmin(least_m, fw_segment_distance_m(from, a, b));
            if ((a.y_m > from.y_m) != (b.y_m > from.y_m) &&
                from.x_m < a.x_m + (from.y_m - a.y_m) * (b.x_m - a.x_m) /
                                       (b.y_m - a.y_m))
                inside = !inside;
        }
    }
    return inside ? 0 : least_m;
}

/* An end of the plots where it is as near as any, since from there the order
 * needs no way back; or as far as any. ends: no other plot will do. */
static size_t end_of(const struct fw_layout__search *search,
                     struct fw_point start, bool far, bool ends, double *away)
{
    const double same_m = FW_TOLERANCE(1e-6), sign = far ? -1 : 1;
    const size_t last = search->layout->paddock_count - 1;
    size_t best = 0;
    double least_m = HUGE_VAL;
    for (size_t i = 0; i <= (ends ? last > 0 : last); i++) {
        const size_t p = i == 0 ? 0 : i == 1 ? last : i - 1;
        const double m =
            sign * fw_layout__away_m(search->layout, search->field, p, start);
        if (m < least_m - same_m) {
            least_m = m;
            best = p;
        }
    }
    *away = sign * least_m;
    return best;
}

/* The lanes at the start, and those that adjoin one of these; how far the
 * nearest lane is. */
static double walk_lanes(const struct fw_layout__search *search,
                         struct fw_point start)
{
    const double at_start_m = 1;
    const struct fw_layout *layout = search->layout;
    const size_t first = layout->paddock_count;
    double least_m = HUGE_VAL;
    for (size_t c = 0; c < layout->common_count; c++) {
        const double m =
            fw_layout__away_m(layout, search->field, first + c, start);
        search->walked[c] = m <= at_start_m;
        least_m = fmin(least_m, m);
    }
    for (size_t pass = 0; pass < layout->common_count; pass++)
        for (size_t c = 0; c < layout->common_count; c++)
            for (size_t k = 0; k < layout->common_count; k++)
                search->walked[c] |=
                    search->walked[k] && adjoin(search, first + c, first + k);
    return least_m;
}

/* Along a lane to the far end, or nothing. */
static bool find_far(struct fw_layout__search *search, struct fw_point start,
                     size_t *first)
{
    double away;
    walk_lanes(search, start);
    *first = end_of(search, start, true, false, &away);
    begin(search);
    return reached(search, *first);
}

/* Near the start; then every lane counts as walked. */
static size_t find_near(struct fw_layout__search *search,
                        const struct fw_layout_request *request, double *gate_m)
{
    const struct fw_point *start = request->start;
    double near_m = 0;
    const size_t first =
        start ? end_of(search, *start, false, request->one_way, &near_m) : 0;
    const double lane_m = start ? walk_lanes(search, *start) : 0;
    for (size_t c = 0; c < search->layout->common_count; c++)
        search->walked[c] = true;
    *gate_m = fmin(near_m, lane_m);
    return first;
}

static bool better(const struct fw_layout__trial *a,
                   const struct fw_layout__trial *b)
{
    return a->apart != b->apart ? a->apart < b->apart : a->turns < b->turns;
}

struct fw_layout__trial
fw_layout__find_order(const struct fw_layout__search *search, size_t first,
                      size_t *order)
{
    struct fw_layout__trial best = {FW_INSIDE, 0};
    for (int way = 0; way < FW_EFFORT(3); way++) {
        if (way == 2 && best.apart == 0)
            break;
        if (way < 2)
            up_and_down(search, first, way == 0, search->room);
        else
            wander(search, first, search->room);
        const struct fw_layout__trial trial = judge(search, search->room);
        if (better(&trial, &best)) {
            best = trial;
            memcpy(order, search->room,
                   search->layout->paddock_count * sizeof *order);
        }
    }
    return best;
}

/* The far end first where it is asked for and reached, else the near one. */
static struct fw_layout__trial choose(struct fw_layout__search *search,
                                      struct fw_layout *layout,
                                      const struct fw_layout_request *request,
                                      size_t *order)
{
    struct fw_layout__trial best = {FW_INSIDE, 0};
    size_t first = 0;
    layout->gate_m = 0;
    if (request->far_first && request->start &&
        find_far(search, *request->start, &first))
        best = fw_layout__find_order(search, first, order);
    layout->far_first = best.apart == 0;
    if (!layout->far_first) {
        first = find_near(search, request, &layout->gate_m);
        best = fw_layout__find_order(search, first, order);
    }
    return best;
}

static void release(struct fw_layout__search *search)
{
    fw_free(search->doors);
    fw_free(search->first_door);
    fw_free(search->done);
    fw_free(search->walked);
    fw_free(search->kept);
    fw_free(search->room);
}

enum fw_status fw_layout__order(struct fw_layout *layout,
                                const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                size_t *order, struct fw_error *err)
{
    struct fw_layout__search search = {.layout = layout,
                                       .field = request->field};
    enum fw_status status = list_doors(&search, err);
    if (!status) {
        struct fw_layout__trial best = choose(&search, layout, request, order);
        if (request->keep_count > 0)
            status = fw_layout__keep(&search, layout, request, shares, order,
                                     &best, err);
        layout->apart_count = best.apart;
        layout->turn_count = best.turns;
    }
    release(&search);
    return status;
}

enum fw_status fw_layout__order_for(struct fw_layout *layout,
                                    const struct fw_layout_request *request,
                                    const double *behind, size_t *order,
                                    bool *found, struct fw_error *err)
{
    struct fw_layout__search search = {
        .layout = layout, .field = request->field, .behind = behind};
    const enum fw_status status = list_doors(&search, err);
    *found = false;
    if (!status) {
        double gate_m;
        const size_t first = find_near(&search, request, &gate_m);
        wander(&search, first, order);
        const struct fw_layout__trial trial = judge(&search, order);
        *found = trial.apart == 0;
        for (size_t rank = 0; *found && rank < layout->paddock_count; rank++)
            *found = fits(&search, order[rank], rank);
        if (*found) {
            layout->apart_count = 0;
            layout->turn_count = trial.turns;
            layout->gate_m = gate_m;
            layout->far_first = false;
        }
    }
    release(&search);
    return status;
}

/* Bent lines part no lanes, so that the near end is first. */
enum fw_status fw_layout__reconsider(struct fw_layout *layout,
                                     const struct fw_field *field,
                                     const struct fw_point *start, bool *worse,
                                     struct fw_error *err)
{
    const double same_m = FW_TOLERANCE(1e-6);
    const size_t count = layout->paddock_count;
    struct fw_layout__search search = {.layout = layout, .field = field};
    const enum fw_status status = list_doors(&search, err);
    if (!status) {
        for (size_t i = 0; i < count; i++)
            search.room[i] = i;
        const struct fw_layout__trial trial = judge(&search, search.room);
        *worse = trial.apart > layout->apart_count;
        const double first_m =
            start ? fw_layout__away_m(layout, field, 0, *start) : 0;
        for (size_t p = 1; start && !*worse && p < count; p++)
            *worse =
                fw_layout__away_m(layout, field, p, *start) < first_m - same_m;
        if (!*worse) {
            layout->apart_count = trial.apart;
            layout->turn_count = trial.turns;
            layout->gate_m = first_m;
        }
    }
    release(&search);
    return status;
}
