/* In which order the paddocks are grazed. Each one is reached over ground that
 * was grazed before it (or along a lane), never across one that is not.
 *
 * A pattern's slots follow each other, so the order is: from the paddock at
 * the gate up the slots to their end, then back to the gate and down, or the
 * other way round. Only where slots that follow each other do not adjoin is a
 * way sought from paddock to paddock. */
#include "base/alloc.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A flock does not pass where two paddocks share less: common practice, no
 * source. */
static const double least_door_m = 4;

struct door {
    size_t from, to;
    double length_m;
};

struct search {
    const struct fw_layout *layout;
    struct door *doors; /* both ways, sorted */
    size_t door_count;
    size_t *first_door; /* of each ground; one past the last too */
    bool *done;
};

struct trial {
    size_t apart, turns;
};

struct fw_point fw_layout__point(const struct fw_layout *layout,
                                 const struct fw_field *field, size_t vertex)
{
    return vertex < layout->vertex_count
               ? field->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
}

static int by_pair(const void *left, const void *right)
{
    const struct door *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

static size_t merge(struct door *doors, size_t count)
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

static enum fw_status list_doors(struct search *search,
                                 const struct fw_field *field,
                                 struct fw_error *err)
{
    const struct fw_layout *layout = search->layout;
    const size_t grounds = layout->paddock_count + layout->common_count;
    size_t pieces = 0;
    for (size_t l = 0; l < layout->line_count; l++)
        pieces += layout->lines[l].count;
    search->doors = fw_alloc(2 * pieces, sizeof *search->doors);
    search->first_door = fw_alloc(grounds + 1, sizeof *search->first_door);
    search->done = fw_alloc(grounds, sizeof *search->done);
    if (!search->doors || !search->first_door || !search->done)
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
        const double length_m = hypot(p.x_m - q.x_m, p.y_m - q.y_m);
        search->doors[n++] = (struct door){a, b, length_m};
        search->doors[n++] = (struct door){b, a, length_m};
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
static bool reached(const struct search *search, size_t paddock)
{
    for (size_t i = search->first_door[paddock];
         i < search->first_door[paddock + 1]; i++)
        if (search->done[search->doors[i].to] &&
            search->doors[i].length_m >= least_door_m)
            return true;
    return false;
}

static bool adjoin(const struct search *search, size_t a, size_t b)
{
    for (size_t i = search->first_door[a]; i < search->first_door[a + 1]; i++)
        if (search->doors[i].to == b)
            return search->doors[i].length_m >= least_door_m;
    return false;
}

static void begin(const struct search *search)
{
    const struct fw_layout *layout = search->layout;
    for (size_t i = 0; i < layout->paddock_count + layout->common_count; i++)
        search->done[i] = i >= layout->paddock_count; /* lanes are walked */
}

static struct trial judge(const struct search *search, const size_t *order)
{
    struct trial trial = {0, 0};
    begin(search);
    search->done[order[0]] = true;
    for (size_t i = 1; i < search->layout->paddock_count; i++) {
        trial.turns += !adjoin(search, order[i - 1], order[i]);
        trial.apart += !reached(search, order[i]);
        search->done[order[i]] = true;
    }
    return trial;
}

static void up_and_down(size_t count, size_t start, bool up_first,
                        size_t *order)
{
    size_t n = 0;
    order[n++] = start;
    for (int pass = 0; pass < 2; pass++) {
        if ((pass == 0) == up_first)
            for (size_t i = start + 1; i < count; i++)
                order[n++] = i;
        else
            for (size_t i = start; i-- > 0;)
                order[n++] = i;
    }
}

/* The next of the neighbours of what is done, best beside the last one and
 * near it in the slots. */
static size_t next_of(const struct search *search, size_t last)
{
    size_t best = FW_INSIDE, best_cost = 0;
    for (size_t p = 0; p < search->layout->paddock_count; p++) {
        if (search->done[p] || !reached(search, p))
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

static void wander(const struct search *search, size_t start, size_t *order)
{
    const size_t count = search->layout->paddock_count;
    begin(search);
    order[0] = start;
    search->done[start] = true;
    for (size_t n = 1; n < count; n++) {
        size_t next = next_of(search, order[n - 1]);
        for (size_t p = 0; next == FW_INSIDE && p < count; p++)
            if (!search->done[p])
                next = p;
        order[n] = next;
        search->done[next] = true;
    }
}

static double away_m(const struct fw_layout *layout,
                     const struct fw_field *field, size_t paddock,
                     struct fw_point from)
{
    double least_m = HUGE_VAL;
    for (size_t r = layout->piece_ring[layout->paddock_piece[paddock]];
         r < layout->piece_ring[layout->paddock_piece[paddock + 1]]; r++) {
        const size_t end = layout->ring_start[r + 1];
        size_t before = end - 1;
        for (size_t i = layout->ring_start[r]; i < end; before = i++)
            least_m = fmin(
                least_m,
                fw_segment_distance_m(
                    from,
                    fw_layout__point(layout, field,
                                     layout->ring_vertices[before]),
                    fw_layout__point(layout, field, layout->ring_vertices[i])));
    }
    return least_m;
}

/* To the paddock that is grazed first, or to a lane that leads there. */
static double from_start_m(const struct fw_layout *layout,
                           const struct fw_field *field, size_t first,
                           struct fw_point start)
{
    double least_m = away_m(layout, field, first, start);
    for (size_t p = layout->paddock_count;
         p < layout->paddock_count + layout->common_count; p++)
        least_m = fmin(least_m, away_m(layout, field, p, start));
    return least_m;
}

/* An end of the slots where it is as near as any, since from there the order
 * needs no way back. */
static size_t nearest(struct fw_layout *layout, const struct fw_field *field,
                      struct fw_point start)
{
    const double same_m = 1e-6;
    const size_t last = layout->paddock_count - 1;
    size_t best = 0;
    double least_m = HUGE_VAL;
    for (size_t i = 0; i <= last; i++) {
        const size_t p = i == 0 ? 0 : i == 1 ? last : i - 1;
        const double m = away_m(layout, field, p, start);
        if (m < least_m - same_m) {
            least_m = m;
            best = p;
        }
    }
    layout->gate_m = from_start_m(layout, field, best, start);
    return best;
}

static bool better(const struct trial *a, const struct trial *b)
{
    return a->apart != b->apart ? a->apart < b->apart : a->turns < b->turns;
}

enum fw_status fw_layout__order(struct fw_layout *layout,
                                const struct fw_field *field,
                                const struct fw_point *start, size_t *order,
                                struct fw_error *err)
{
    struct search search = {.layout = layout};
    const size_t count = layout->paddock_count;
    size_t *try = fw_alloc(count, sizeof *try);
    enum fw_status status =
        try ? list_doors(&search, field, err) : fw_fail_memory(err);
    if (!status) {
        const size_t first = start ? nearest(layout, field, *start) : 0;
        struct trial best = {FW_INSIDE, 0};
        for (int way = 0; way < 3; way++) {
            if (way == 2 && best.apart == 0)
                break;
            if (way < 2)
                up_and_down(count, first, way == 0, try);
            else
                wander(&search, first, try);
            const struct trial trial = judge(&search, try);
            if (better(&trial, &best)) {
                best = trial;
                memcpy(order, try, count * sizeof *order);
            }
        }
        layout->apart_count = best.apart;
        layout->turn_count = best.turns;
    }
    fw_free(try);
    fw_free(search.doors);
    fw_free(search.first_door);
    fw_free(search.done);
    return status;
}

enum fw_status fw_layout__reconsider(struct fw_layout *layout,
                                     const struct fw_field *field,
                                     const struct fw_point *start, bool *worse,
                                     struct fw_error *err)
{
    const double same_m = 1e-6;
    const size_t count = layout->paddock_count;
    struct search search = {.layout = layout};
    size_t *order = fw_alloc(count, sizeof *order);
    const enum fw_status status =
        order ? list_doors(&search, field, err) : fw_fail_memory(err);
    if (!status) {
        for (size_t i = 0; i < count; i++)
            order[i] = i;
        const struct trial trial = judge(&search, order);
        *worse = trial.apart > layout->apart_count;
        const double first_m = start ? away_m(layout, field, 0, *start) : 0;
        for (size_t p = 1; start && !*worse && p < count; p++)
            *worse = away_m(layout, field, p, *start) < first_m - same_m;
        if (!*worse) {
            layout->apart_count = trial.apart;
            layout->turn_count = trial.turns;
            if (start)
                layout->gate_m = from_start_m(layout, field, 0, *start);
        }
    }
    fw_free(order);
    fw_free(search.doors);
    fw_free(search.first_door);
    fw_free(search.done);
    return status;
}
