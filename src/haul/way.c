#include "haul/way.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>

/* Nearer to its end than that a door reaches to the end of its line. */
static const double same_m = FW_TOLERANCE(0.01);

/* The best way to a cell, as far as it is found. */
struct label {
    bool reached;
    size_t lines;       /* that stand and are passed */
    double m;           /* driven so far */
    struct fw_point at; /* where the cell is entered */
    size_t from;        /* the cell before, of the field; FW_NONE: the gate */
    size_t door;
    double at_m; /* along its line */
};

struct search {
    struct fw_replay *replay;
    const struct fw_land *land;
    size_t field, goal; /* the cell, of the field */
    struct fw_point trough;
    double half_m; /* of the vehicle's width */
    struct label *labels;
    size_t *waiting, waiting_count; /* cells from which to go on */
    bool *waits;                    /* by cell of the field */
};

static bool is_shut(const struct search *search, size_t door)
{
    const struct fw_replay *replay = search->replay;
    return replay->stands[search->land->doors[door].line] &&
           replay->open_door[door] == 0;
}

/* Fewer lines first, then the shorter way, with what is left of it straight. */
static bool is_better(const struct search *search, const struct label *a,
                      const struct label *b)
{
    if (!b->reached || a->lines != b->lines)
        return !b->reached || a->lines < b->lines;
    const double a_m = a->m + fw_point_apart_m(a->at, search->trough);
    const double b_m = b->m + fw_point_apart_m(b->at, search->trough);
    return a_m < b_m - FW_TOLERANCE(1e-9);
}

static void put(struct search *search, size_t cell, const struct label *label)
{
    /* No way on from there is better than what it has already. */
    if (!is_better(search, label, &search->labels[cell]) ||
        !is_better(search, label, &search->labels[search->goal]))
        return;
    search->labels[cell] = *label;
    if (search->waits[cell])
        return;
    search->waits[cell] = true;
    search->waiting[search->waiting_count++] = cell;
}

/* The best one of those that wait: what is straight from there to the trough is
 * never more than what is left to drive, so that its way is the best there is.
 */
static size_t take_best(struct search *search)
{
    size_t best = 0;
    for (size_t i = 1; i < search->waiting_count; i++)
        if (is_better(search, &search->labels[search->waiting[i]],
                      &search->labels[search->waiting[best]]))
            best = i;
    const size_t cell = search->waiting[best];
    search->waiting[best] = search->waiting[--search->waiting_count];
    search->waits[cell] = false;
    return cell;
}

/* Through a door at one place of it. */
static void pass(struct search *search, size_t cell, size_t door, double at_m)
{
    const struct fw_land *land = search->land;
    const struct label *before = &search->labels[cell];
    const size_t beyond =
        fw_land_beyond(land, door, fw_land_cell(land, search->field, cell));
    const struct fw_point at =
        fw_land_along(land, land->doors[door].line, at_m);
    const struct label label = {
        .reached = true,
        .lines = before->lines + is_shut(search, door),
        .m = before->m + fw_point_apart_m(before->at, at),
        .at = at,
        .from = cell,
        .door = door,
        .at_m = at_m,
    };
    put(search, fw_land_local(land, beyond), &label);
}

/* The place of a straight line, or of one drawn on, where the way over it is
 * shortest: with the trough on the near side mirrored to the far one. */
static double crossed_at(struct fw_point from, struct fw_point to,
                         const struct fw_point *line)
{
    const struct fw_point along = fw_point_minus(line[1], line[0]);
    const double long_m = fw_point_apart_m(line[0], line[1]);
    const struct fw_point a = fw_point_minus(from, line[0]);
    const struct fw_point b = fw_point_minus(to, line[0]);
    const double off_a = fabs(fw_point_cross(along, a));
    const double off_b = fabs(fw_point_cross(along, b));
    const double at_a = (along.x_m * a.x_m + along.y_m * a.y_m) / long_m;
    const double at_b = (along.x_m * b.x_m + along.y_m * b.y_m) / long_m;
    return off_a + off_b > 0 ? at_a + (at_b - at_a) * off_a / (off_a + off_b)
                             : at_a;
}

/* The same within a part of a line, of whose pieces each is tried. */
static double least_at(const struct search *search, struct fw_point from,
                       const struct fw_door *door, double low_m, double high_m)
{
    const struct fw_land *land = search->land;
    const struct fw_land_line *line = &land->lines[door->line];
    const double *along_m = land->line_at_m + line->first;
    double best_m = low_m, least_m = HUGE_VAL;
    for (size_t i = 0; i + 1 < line->count; i++) {
        const struct fw_point *piece = land->line_points + line->first + i;
        const double first_m = fmax(low_m, along_m[i]);
        const double last_m = fmin(high_m, along_m[i + 1]);
        if (!(first_m <= last_m) || !(along_m[i + 1] > along_m[i]))
            continue;
        const double at_m =
            along_m[i] + crossed_at(from, search->trough, piece);
        const double here_m = fmax(first_m, fmin(last_m, at_m));
        const struct fw_point at = fw_point_between(
            piece[0], piece[1],
            (here_m - along_m[i]) / (along_m[i + 1] - along_m[i]));
        const double way_m =
            fw_point_apart_m(from, at) + fw_point_apart_m(at, search->trough);
        if (way_m < least_m) {
            least_m = way_m;
            best_m = here_m;
        }
    }
    return best_m;
}

/* A line that stands is opened at one of its ends where the door reaches it,
 * else beside the post of another; one that does not is passed where the way is
 * short. */
static void pass_door(struct search *search, size_t cell, size_t index)
{
    const struct fw_land *land = search->land;
    const struct fw_replay *replay = search->replay;
    const struct fw_door *door = &land->doors[index];
    const double half_m = fmin(search->half_m, (door->to_m - door->from_m) / 2);
    const double low_m = door->from_m + half_m, high_m = door->to_m - half_m;
    if (replay->stands[door->line] && replay->open_door[index] > 0) {
        for (size_t i = 0; i < replay->opened_count; i++)
            if (replay->door_of[replay->opened[i]] == index)
                pass(search, cell, index,
                     replay->time->openings[replay->opened[i]].at_m);
        return;
    }
    if (!replay->stands[door->line]) {
        pass(search, cell, index,
             least_at(search, search->labels[cell].at, door, low_m, high_m));
        return;
    }
    const bool at_a = door->from_m <= same_m;
    const bool at_b = door->to_m >= land->lines[door->line].length_m - same_m;
    if (at_a || !at_b)
        pass(search, cell, index, low_m);
    if (at_b || !at_a)
        pass(search, cell, index, high_m);
}

static void go(struct search *search)
{
    const struct fw_land *land = search->land;
    while (search->waiting_count > 0) {
        const size_t cell = take_best(search);
        if (cell == search->goal)
            return;
        const struct fw_cell *here =
            &land->cells[fw_land_cell(land, search->field, cell)];
        for (size_t d = 0; d < here->door_count; d++)
            pass_door(search, cell, land->doors_of[here->first_door + d]);
    }
}

static void begin(struct search *search)
{
    const struct fw_land *land = search->land;
    const size_t cells = fw_land_cell_count(land, search->field);
    for (size_t k = 0; k < cells; k++) {
        const struct label label = {.reached = true,
                                    .at = land->fields[search->field].gate,
                                    .from = FW_NONE,
                                    .door = FW_NONE};
        if (land->cells[fw_land_cell(land, search->field, k)].at_gate)
            put(search, k, &label);
    }
}

/* ---- the way back from what was found ---- */

static void take_nearest(struct fw_point to, struct fw_point a,
                         struct fw_point b, double *least_m,
                         struct fw_point *where)
{
    const double away_m = fw_segment_distance_m(to, a, b);
    if (!(away_m < *least_m))
        return;
    const struct fw_point along = fw_point_minus(b, a);
    const struct fw_point off = fw_point_minus(to, a);
    const double square = along.x_m * along.x_m + along.y_m * along.y_m;
    const double t =
        square > 0
            ? fmax(0, fmin(1, (off.x_m * along.x_m + off.y_m * along.y_m) /
                                  square))
            : 0;
    *least_m = away_m;
    *where = fw_point_between(a, b, t);
}

/* Of a cell and of the door that leads on from it: what was grazed before the
 * plan has no rings. */
static void nearest_in(const struct search *search, size_t cell, size_t door,
                       double *least_m, struct fw_point *where)
{
    const struct fw_land *land = search->land;
    const struct fw_cell *here =
        &land->cells[fw_land_cell(land, search->field, cell)];
    for (size_t r = here->first_ring; r < here->first_ring + here->ring_count;
         r++) {
        const struct fw_point *ring = land->ring_points + land->ring_start[r];
        const size_t count = land->ring_start[r + 1] - land->ring_start[r];
        for (size_t i = 0; i < count; i++)
            take_nearest(search->trough, ring[i], ring[(i + 1) % count],
                         least_m, where);
    }
    const struct fw_land_line *line = &land->lines[land->doors[door].line];
    for (size_t i = 0; here->ring_count == 0 && i + 1 < line->count; i++)
        take_nearest(search->trough, land->line_points[line->first + i],
                     land->line_points[line->first + i + 1], least_m, where);
}

static struct fw_way_pass pass_of(struct search *search,
                                  const struct label *label)
{
    const struct fw_door *door = &search->land->doors[label->door];
    return (struct fw_way_pass){
        .line = door->line,
        .at_m = label->at_m,
        .room_m = door->to_m - door->from_m,
        .at_flock = fw_replay_has_ground(search->replay, door->a) ||
                    fw_replay_has_ground(search->replay, door->b),
        .place = label->at,
    };
}

/* The cells on the way from the gate, in their order, and how many they are. */
static size_t trace(const struct search *search, size_t *cells)
{
    size_t count = 0;
    for (size_t cell = search->goal; cell != FW_NONE;
         cell = search->labels[cell].from)
        count++;
    size_t left = count;
    for (size_t cell = search->goal; cell != FW_NONE;
         cell = search->labels[cell].from)
        cells[--left] = cell;
    return count;
}

static enum fw_status take(struct search *search, struct fw_way *out,
                           struct fw_error *err)
{
    const size_t count = trace(search, search->waiting);
    double least_m = HUGE_VAL;
    struct fw_point stand = search->land->fields[search->field].gate;
    out->points = fw_alloc(count + 1, sizeof *out->points);
    out->passes = fw_alloc(count, sizeof *out->passes);
    out->pass_at = fw_alloc(count, sizeof *out->pass_at);
    if (!out->points || !out->passes || !out->pass_at)
        return fw_fail_memory(err);
    out->points[out->count++] = stand;
    for (size_t i = 1; i < count; i++) {
        const struct label *label = &search->labels[search->waiting[i]];
        nearest_in(search, search->waiting[i - 1], label->door, &least_m,
                   &stand);
        if (is_shut(search, label->door)) {
            struct fw_way_pass *pass = &out->passes[out->pass_count];
            *pass = pass_of(search, label);
            pass->rest_m = least_m;
            pass->stand = stand;
            out->pass_at[out->pass_count++] = out->count;
        }
        out->points[out->count++] = label->at;
    }
    out->points[out->count++] = search->trough;
    out->known = true;
    return FW_OK;
}

enum fw_status fw_way_find(struct fw_replay *replay, size_t cell,
                           struct fw_point trough, double width_m,
                           struct fw_way *out, struct fw_error *err)
{
    const struct fw_land *land = replay->land;
    const size_t field = land->cells[cell].field;
    const size_t cells = fw_land_cell_count(land, field);
    struct search search = {
        .replay = replay,
        .land = land,
        .field = field,
        .goal = fw_land_local(land, cell),
        .trough = trough,
        .half_m = width_m / 2,
        .labels = fw_alloc(cells, sizeof *search.labels),
        .waiting = fw_alloc(cells, sizeof *search.waiting),
        .waits = fw_alloc(cells, sizeof *search.waits),
    };
    *out = (struct fw_way){0};
    enum fw_status status = search.labels && search.waiting && search.waits
                                ? FW_OK
                                : fw_fail_memory(err);
    if (!status && land->fields[field].gate_given) {
        begin(&search);
        go(&search);
        if (search.labels[search.goal].reached)
            status = take(&search, out, err);
    }
    if (status)
        fw_way_release(out);
    fw_free(search.labels);
    fw_free(search.waiting);
    fw_free(search.waits);
    return status;
}

void fw_way_release(struct fw_way *way)
{
    fw_free(way->points);
    fw_free(way->passes);
    fw_free(way->pass_at);
    *way = (struct fw_way){0};
}

size_t fw_way_opened(const struct fw_way *way, double hose_m)
{
    size_t opened = 0;
    while (opened < way->pass_count &&
           !(way->passes[opened].rest_m <= hose_m + FW_TOLERANCE(1e-9)))
        opened++;
    return opened;
}

/* ---- driven ---- */

struct fw_way_drive fw_way_drive(const struct fw_way *way, double hose_m,
                                 double step_m)
{
    return (struct fw_way_drive){
        .way = way,
        .hose_m = hose_m,
        .step_m = step_m,
        .opened = fw_way_opened(way, hose_m),
        .over = !way->known,
    };
}

/* The end of the leg at hand: before a line that stays shut the tank stands
 * where it is nearest to the trough. */
static struct fw_point leg_end(const struct fw_way_drive *drive, bool *last)
{
    const struct fw_way *way = drive->way;
    *last = drive->opened < way->pass_count &&
            way->pass_at[drive->opened] == drive->leg + 1;
    return *last ? way->passes[drive->opened].stand
                 : way->points[drive->leg + 1];
}

bool fw_way_drive_on(struct fw_way_drive *drive)
{
    const struct fw_way *way = drive->way;
    if (drive->over || drive->leg + 1 >= way->count)
        return false;
    bool last;
    const struct fw_point a = way->points[drive->leg];
    const struct fw_point b = leg_end(drive, &last);
    const double long_m = fw_point_apart_m(a, b);
    const double steps = fmax(1, ceil(long_m / drive->step_m));
    drive->place = fw_point_between(a, b, (double)drive->at / steps);
    drive->over = fw_point_apart_m(drive->place, way->points[way->count - 1]) <=
                  drive->hose_m;
    if ((double)++drive->at > steps) {
        drive->over |= last;
        drive->leg++;
        drive->at = 0;
    }
    return true;
}
