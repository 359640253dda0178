/* Over which stays each line stands. It must stand as long as it bounds the
 * ground that the flock has; where the next paddock is fenced ahead, one stay
 * before as well; and as long as another line is tied to it. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <stdlib.h>
#include <string.h>

struct bound { /* a line bounds the flock's ground in [on, off) */
    size_t line, on, off;
};

struct finding {
    const struct fw_land *land;
    const struct fw_time *time;
    const struct fw_habits *habits;
    const struct fw_time_start *start;
    struct fw_moves__visit visit;
    bool *came;    /* by field: it was visited before */
    bool goes_on;  /* the visit is the next round in the same field */
    size_t *span;  /* by line: its last one in out, from 1 */
    bool *grazed;  /* by cell */
    bool *in;      /* by cell: the flock has it */
    size_t *doors; /* by line: how many of its doors bound the ground */
    size_t *since; /* by line: stay from which on it does; FW_NONE: it does not
                    */
    size_t *touched, touched_count;
    size_t *extra, extra_count; /* cells that they have in this stay alone */
    size_t kept; /* the line that they drift through, or FW_NONE */
    struct fw_moves__hop *hops;
    size_t *list; /* for some cells */
    struct bound *bounds;
    size_t bound_count, bound_capacity;
    size_t *low, *high, *need; /* by line: of all its bounds and of what is tied
                                  to it */
    bool *holds;               /* by line: another line is tied to it */
    struct fw_moves__spans *out;
};

/* ---- what the flock has ---- */

static void toggle(struct finding *finding, size_t index)
{
    const struct fw_land *land = finding->land;
    const struct fw_cell *cell = &land->cells[index];
    finding->in[index] = !finding->in[index];
    for (size_t i = 0; i < cell->door_count; i++) {
        const size_t door = land->doors_of[cell->first_door + i];
        const size_t line = land->doors[door].line;
        const size_t other = fw_land_beyond(land, door, index);
        if (finding->in[index] != finding->in[other])
            finding->doors[line]++;
        else
            finding->doors[line]--;
        finding->touched[finding->touched_count++] = line;
    }
}

static void have(struct finding *finding, size_t cell)
{
    if (finding->in[cell])
        return;
    toggle(finding, cell);
    finding->extra[finding->extra_count++] = cell;
}

static void leave(struct finding *finding)
{
    while (finding->extra_count > 0)
        toggle(finding, finding->extra[--finding->extra_count]);
}

static enum fw_status add_bound(struct finding *finding, size_t line,
                                size_t off, struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &finding->bounds, &finding->bound_capacity, finding->bound_count + 1,
        sizeof *finding->bounds, err);
    if (!status)
        finding->bounds[finding->bound_count++] =
            (struct bound){line, finding->since[line], off};
    finding->since[line] = FW_NONE;
    return status;
}

/* The line that they drift through stands although they have both its sides.
 */
static void keep(struct finding *finding, size_t line, int sign)
{
    if (line == FW_NONE)
        return;
    finding->doors[line] += (size_t)sign;
    finding->touched[finding->touched_count++] = line;
}

/* What they have in this stay besides what was grazed: with a back fence the
 * cell, the one that they drift from, and what leads to the water. */
static size_t list_wanted(struct finding *finding, size_t stay, size_t *out)
{
    const struct fw_habits *habits = finding->habits;
    const struct fw_time_stay *stays = finding->time->stays;
    size_t count = 0;
    out[count++] = stays[stay].cell;
    const size_t door =
        fw_moves__drift_door(finding->land, habits, finding->time, stay, 0);
    keep(finding, finding->kept, -1);
    finding->kept = FW_NONE;
    if (door != FW_NONE && habits->back_fence) {
        out[count++] = fw_moves__cell_back(finding->time, stay, 1);
        finding->kept = finding->land->doors[door].line;
        keep(finding, finding->kept, 1);
    }
    const size_t hops =
        habits->trough ? 0
                       : fw_moves__way_to_water(finding->land, stays[stay].cell,
                                                finding->hops);
    for (size_t i = 0; i < hops; i++)
        out[count++] = finding->hops[i].cell;
    return count;
}

/* Each stay's ground, and which lines begin and cease to bound it. Where
 * nothing is shut off, what is theirs stays so. */
static enum fw_status go_through(struct finding *finding, size_t stay,
                                 struct fw_error *err)
{
    const size_t count = list_wanted(finding, stay, finding->list);
    enum fw_status status = FW_OK;
    leave(finding);
    for (size_t i = 0; i < count; i++)
        if (finding->habits->back_fence)
            have(finding, finding->list[i]);
        else if (!finding->in[finding->list[i]])
            toggle(finding, finding->list[i]);
    for (size_t i = 0; !status && i < finding->touched_count; i++) {
        const size_t line = finding->touched[i];
        const bool bounds = finding->doors[line] > 0;
        if (bounds && finding->since[line] == FW_NONE)
            finding->since[line] = stay;
        else if (!bounds && finding->since[line] != FW_NONE)
            status = add_bound(finding, line, stay, err);
    }
    finding->touched_count = 0;
    return status;
}

/* Are they in the visit's field when it begins: in the rest of a visit that was
 * begun before the first move, or to go round again? */
static bool is_there(const struct finding *finding)
{
    const size_t cell =
        fw_moves__cell_back(finding->time, finding->visit.first, 1);
    return cell != FW_NONE &&
           finding->land->cells[cell].field == finding->visit.field;
}

static enum fw_status find_bounds(struct finding *finding, struct fw_error *err)
{
    const struct fw_land *land = finding->land;
    const struct fw_land_field *field = &land->fields[finding->visit.field];
    enum fw_status status = FW_OK;
    const size_t cells = fw_land_cell_count(land, finding->visit.field);
    for (size_t k = 0; k < cells; k++)
        finding->in[fw_land_cell(land, finding->visit.field, k)] = false;
    for (size_t l = field->first_line;
         l < field->first_line + field->line_count; l++) {
        finding->doors[l] = 0;
        finding->since[l] = FW_NONE;
    }
    finding->bound_count = finding->extra_count = finding->touched_count = 0;
    finding->kept = FW_NONE;
    if (fw_moves__comes_new(land, finding->time, finding->visit.first))
        fw_moves__regrow(land, finding->time, finding->visit.first,
                         finding->grazed);
    for (size_t k = 0; k < cells && !finding->habits->back_fence; k++) {
        const size_t cell = fw_land_cell(land, finding->visit.field, k);
        if (finding->grazed[cell])
            toggle(finding, cell);
    }
    for (size_t k = finding->visit.first; !status && k < finding->visit.end;
         k++) {
        status = go_through(finding, k, err);
        finding->grazed[finding->time->stays[k].cell] = true;
    }
    for (size_t l = field->first_line;
         !status && l < field->first_line + field->line_count; l++)
        if (finding->since[l] != FW_NONE)
            status = add_bound(finding, l, finding->visit.end, err);
    return status;
}

/* ---- from bounds to spans ---- */

static bool stood(const struct finding *finding, size_t line)
{
    return !finding->came[finding->visit.field] &&
           fw_moves__stood(finding->start, line);
}

/* All that is tied to a line, from the deepest on. */
static void hold_ends(struct finding *finding)
{
    const struct fw_land *land = finding->land;
    const struct fw_land_field *field = &land->fields[finding->visit.field];
    size_t deepest = 0;
    for (size_t l = field->first_line;
         l < field->first_line + field->line_count; l++)
        deepest =
            land->lines[l].depth > deepest ? land->lines[l].depth : deepest;
    for (size_t depth = deepest; depth > 0; depth--)
        for (size_t l = field->first_line;
             l < field->first_line + field->line_count; l++) {
            if (land->lines[l].depth != depth ||
                finding->low[l] >= finding->high[l])
                continue;
            for (int e = 0; e < 2; e++) {
                const size_t host = land->lines[l].host[e];
                if (host == FW_NONE)
                    continue;
                finding->holds[host] = true;
                if (finding->low[l] < finding->low[host])
                    finding->low[host] = finding->low[l];
                if (finding->high[l] > finding->high[host])
                    finding->high[host] = finding->high[l];
                if (finding->need[l] < finding->need[host])
                    finding->need[host] = finding->need[l];
            }
        }
}

/* The last one of the line where it still stands, or hardly came down, when it
 * is set from there on: where they go round again, it is left. */
static struct fw_moves__span *left_from(const struct finding *finding,
                                        size_t line, size_t up)
{
    const size_t last = finding->span[line];
    struct fw_moves__span *span = last ? &finding->out->items[last - 1] : NULL;
    return finding->goes_on && span && up <= span->down + fw_moves__short_gap
               ? span
               : NULL;
}

/* The move at which it is set: ahead of need where they fence ahead. */
static size_t set_at(const struct finding *finding, size_t low)
{
    return low - (!finding->habits->set_first && low > finding->visit.first);
}

static enum fw_status add_span(struct finding *finding, size_t line, size_t low,
                               size_t high, size_t need, bool first,
                               struct fw_error *err)
{
    struct fw_moves__spans *out = finding->out;
    const size_t up = set_at(finding, low);
    const bool before = first && stood(finding, line);
    struct fw_moves__span *left = left_from(finding, line, up);
    if (left) {
        left->down = high;
        return FW_OK;
    }
    const enum fw_status status = fw_array_reserve(
        &out->items, &out->capacity, out->count + 1, sizeof *out->items, err);
    if (status)
        return status;
    finding->span[line] = out->count + 1;
    out->items[out->count++] =
        (struct fw_moves__span){line, before ? FW_NONE : up, high,
                                before ? finding->visit.first : need};
    return FW_OK;
}

/* A line that nothing is tied to is wound up where it is not needed for long.
 */
static enum fw_status split(struct finding *finding, size_t line,
                            const struct bound *bounds, size_t count,
                            struct fw_error *err)
{
    const size_t ahead = !finding->habits->set_first;
    const bool begun = stood(finding, line) && is_there(finding);
    size_t from = bounds[0].on, to = bounds[0].off;
    bool first = true;
    enum fw_status status = FW_OK;
    if (begun) /* it was needed as far as to the first move */
        from = to = finding->visit.first;
    for (size_t i = begun ? 0 : 1; !status && i < count; i++) {
        if (bounds[i].on > to + ahead + fw_moves__short_gap) {
            status = add_span(finding, line, from, to, from, first, err);
            from = bounds[i].on;
            first = false;
        }
        to = bounds[i].off;
    }
    return status ? status
                  : add_span(finding, line, from, to, from, first, err);
}

static int by_line(const void *left, const void *right)
{
    const struct bound *a = left, *b = right;
    if (a->line != b->line)
        return a->line < b->line ? -1 : 1;
    return a->on < b->on ? -1 : a->on > b->on;
}

static bool stands_always(const struct finding *finding, size_t line)
{
    const enum fw_land_role role = finding->land->lines[line].role;
    return role == FW_LAND_LANE ||
           (role == FW_LAND_STANDING && finding->habits->all_stand);
}

static void hulls(struct finding *finding)
{
    const struct fw_land_field *field =
        &finding->land->fields[finding->visit.field];
    for (size_t l = field->first_line;
         l < field->first_line + field->line_count; l++) {
        const bool always = stands_always(finding, l);
        finding->low[l] = finding->need[l] =
            always ? finding->visit.first : FW_NONE;
        finding->high[l] = always ? finding->visit.end : 0;
        finding->holds[l] = false;
    }
    for (size_t i = 0; i < finding->bound_count; i++) {
        const struct bound *bound = &finding->bounds[i];
        if (bound->on < finding->low[bound->line])
            finding->low[bound->line] = finding->need[bound->line] = bound->on;
        if (bound->off > finding->high[bound->line])
            finding->high[bound->line] = bound->off;
    }
    hold_ends(finding);
}

/* One that stood before, and is not needed for long when a round begins. */
static bool is_wound(const struct finding *finding, size_t line)
{
    const size_t ahead = !finding->habits->set_first;
    return stood(finding, line) &&
           fw_moves__comes_new(finding->land, finding->time,
                               finding->visit.first) &&
           is_there(finding) &&
           finding->low[line] >
               finding->visit.first + ahead + fw_moves__short_gap;
}

static enum fw_status add_spans(struct finding *finding, struct fw_error *err)
{
    const struct fw_land *land = finding->land;
    const struct fw_land_field *field = &land->fields[finding->visit.field];
    enum fw_status status = FW_OK;
    if (finding->bound_count > 0)
        qsort(finding->bounds, finding->bound_count, sizeof *finding->bounds,
              by_line);
    hulls(finding);
    for (size_t l = field->first_line, at = 0;
         !status && l < field->first_line + field->line_count; l++) {
        size_t count = 0;
        while (at < finding->bound_count && finding->bounds[at].line < l)
            at++;
        while (at + count < finding->bound_count &&
               finding->bounds[at + count].line == l)
            count++;
        if (land->lines[l].role == FW_LAND_EDGE)
            continue;
        if (finding->low[l] >= finding->high[l]) {
            if (stood(finding, l)) /* only in the way */
                status = add_span(finding, l, finding->visit.first,
                                  finding->visit.first, finding->visit.first,
                                  true, err);
        } else if (land->lines[l].role == FW_LAND_MOVED && !finding->holds[l]) {
            status = split(finding, l, finding->bounds + at, count, err);
        } else {
            const bool wound = is_wound(finding, l);
            if (wound)
                status = add_span(finding, l, finding->visit.first,
                                  finding->visit.first, finding->visit.first,
                                  true, err);
            if (!status)
                status = add_span(finding, l, finding->low[l], finding->high[l],
                                  finding->need[l], !wound, err);
        }
    }
    return status;
}

/* ---- all visits ---- */

/* The field that they are in before the first move, and leave with it, is
 * cleared as every other. */
static enum fw_status clear_left(struct finding *finding, struct fw_error *err)
{
    const struct fw_land *land = finding->land;
    const size_t cell = fw_moves__cell_back(finding->time, 0, 1);
    if (cell == FW_NONE || land->cells[cell].field ==
                               land->cells[finding->time->stays[0].cell].field)
        return FW_OK;
    finding->visit.field = land->cells[cell].field;
    const struct fw_land_field *field = &land->fields[finding->visit.field];
    enum fw_status status = FW_OK;
    for (size_t l = field->first_line;
         !status && l < field->first_line + field->line_count; l++)
        if (land->lines[l].role != FW_LAND_EDGE && stood(finding, l))
            status = add_span(finding, l, 0, 0, 0, true, err);
    finding->came[finding->visit.field] = true;
    return status;
}

static bool make_room(struct finding *finding)
{
    const struct fw_land *land = finding->land;
    finding->came = fw_alloc(land->field_count, sizeof *finding->came);
    finding->span = fw_alloc(land->line_count, sizeof *finding->span);
    finding->grazed = fw_alloc(land->cell_count, sizeof *finding->grazed);
    finding->in = fw_alloc(land->cell_count, sizeof *finding->in);
    finding->doors = fw_alloc(land->line_count, sizeof *finding->doors);
    finding->since = fw_alloc(land->line_count, sizeof *finding->since);
    finding->touched =
        fw_alloc(FW_EFFORT(6) * land->door_count + 2, sizeof *finding->touched);
    finding->extra = fw_alloc(land->cell_count, sizeof *finding->extra);
    finding->list = fw_alloc(land->cell_count + 2, sizeof *finding->list);
    finding->hops = fw_alloc(2 * land->cell_count, sizeof *finding->hops);
    finding->low = fw_alloc(land->line_count, sizeof *finding->low);
    finding->high = fw_alloc(land->line_count, sizeof *finding->high);
    finding->need = fw_alloc(land->line_count, sizeof *finding->need);
    finding->holds = fw_alloc(land->line_count, sizeof *finding->holds);
    return finding->came && finding->span && finding->grazed && finding->in &&
           finding->doors && finding->since && finding->touched &&
           finding->extra && finding->hops && finding->list && finding->low &&
           finding->high && finding->need && finding->holds;
}

static void release(struct finding *finding)
{
    fw_free(finding->came);
    fw_free(finding->span);
    fw_free(finding->grazed);
    fw_free(finding->in);
    fw_free(finding->doors);
    fw_free(finding->since);
    fw_free(finding->touched);
    fw_free(finding->extra);
    fw_free(finding->hops);
    fw_free(finding->list);
    fw_free(finding->bounds);
    fw_free(finding->low);
    fw_free(finding->high);
    fw_free(finding->need);
    fw_free(finding->holds);
}

enum fw_status fw_moves__find_spans(const struct fw_land *land,
                                    const struct fw_time *time,
                                    const struct fw_habits *habits,
                                    const struct fw_time_start *start,
                                    struct fw_moves__spans *out,
                                    struct fw_error *err)
{
    struct finding finding = {.land = land,
                              .time = time,
                              .habits = habits,
                              .start = start,
                              .out = out};
    enum fw_status status = make_room(&finding) ? FW_OK : fw_fail_memory(err);
    for (size_t c = 0; !status && c < land->cell_count; c++)
        finding.grazed[c] = land->cells[c].kind == FW_CELL_GRAZED ||
                            fw_moves__was_grazed(start, c);
    if (!status)
        status = clear_left(&finding, err);
    for (size_t k = 0; !status && k < time->stay_count; k = finding.visit.end) {
        finding.goes_on = k > 0 && finding.visit.field ==
                                       land->cells[time->stays[k].cell].field;
        finding.visit = fw_moves__visit_at(land, time, k);
        status = find_bounds(&finding, err);
        if (!status)
            status = add_spans(&finding, err);
        finding.came[finding.visit.field] = true;
    }
    release(&finding);
    return status;
}
