/* A trough that may stand for longer than a stay: it is left where the next
 * stay still has that ground, else it stands under the line between the two. In
 * winter it is left where it stands as long as it is not too far. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/water.h"
#include "geo/points.h"
#include "haul/haul.h"
#include "walk/walk.h"

#include <math.h>

struct sharing {
    struct fw_plan_job *job;
    struct fw_replay replay;
    size_t first; /* stay of the trough that stands; FW_NONE: none does */
    size_t move;  /* of its stay */
    struct fw_point last; /* where one stood under a line */
    bool has_last;
    /* By line: it bounds what the flock has, or feeds one that does; after the
     * last move, and after the one before the trough's. */
    bool *holds_now, *holds;
};

/* ---- lines that hold the flock ---- */

/* A line without current leaves those dead that hang on it. */
static void hold(const struct fw_land *land, size_t line, bool *holds)
{
    if (line == FW_NONE || holds[line])
        return;
    holds[line] = true;
    hold(land, land->lines[line].host[0], holds);
    hold(land, land->lines[line].host[1], holds);
}

static void look_at_lines(struct sharing *sharing)
{
    struct fw_replay *replay = &sharing->replay;
    const struct fw_land *land = replay->land;
    for (size_t i = 0; i < land->line_count; i++)
        sharing->holds_now[i] = false;
    for (size_t i = 0; replay->cell != FW_NONE && i < land->door_count; i++) {
        const struct fw_door *door = &land->doors[i];
        if (replay->stands[door->line] &&
            (fw_replay_has_ground(replay, door->a) ||
             fw_replay_has_ground(replay, door->b)))
            hold(land, door->line, sharing->holds_now);
    }
}

/* ---- a place under a line ---- */

struct place {
    struct fw_point at;
    size_t line;
    double from_m, mean_m; /* from where the vehicle comes; straight, of both */
};

/* Distances are told of what is no part of the line itself. */
static bool is_along(const struct fw_land *land, size_t line, struct fw_point a,
                     struct fw_point b)
{
    const struct fw_point middle = fw_point_between(a, b, 0.5);
    const struct fw_land_line *at = &land->lines[line];
    for (size_t i = at->first; i + 1 < at->first + at->count; i++)
        if (fw_segment_distance_m(middle, land->line_points[i],
                                  land->line_points[i + 1]) <
            FW_TOLERANCE(0.01))
            return true;
    return false;
}

static bool is_clear_of_edges(const struct fw_land *land, size_t cell,
                              const struct place *place)
{
    const struct fw_cell *of = &land->cells[cell];
    for (size_t r = of->first_ring; r < of->first_ring + of->ring_count; r++) {
        const size_t first = land->ring_start[r];
        const size_t count = land->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const struct fw_point a = land->ring_points[first + i];
            const struct fw_point b =
                land->ring_points[first + (i + 1) % count];
            if (fw_segment_distance_m(place->at, a, b) < FW_TROUGH_KEEP_M &&
                !is_along(land, place->line, a, b))
                return false;
        }
    }
    return true;
}

/* Of those of a move: they jam where water is at the way in. */
static bool is_clear_of_opening(const struct sharing *sharing, size_t move,
                                struct fw_point at)
{
    const struct fw_plan *plan = sharing->job->plan;
    if (move >= plan->time.move_count ||
        plan->time.moves[move].opening == FW_NONE)
        return true;
    const struct fw_plan_place *gate =
        &plan->gates[plan->time.moves[move].opening].place;
    return !gate->given ||
           plan->gates[plan->time.moves[move].opening].field !=
               sharing->replay.field ||
           fw_point_apart_m(gate->plane, at) >= FW_TROUGH_KEEP_M;
}

static bool is_good(const struct sharing *sharing, size_t next,
                    const struct place *place)
{
    const struct fw_land *land = sharing->replay.land;
    const struct fw_time *time = sharing->replay.time;
    const size_t cells[] = {time->stays[sharing->first].cell,
                            time->stays[time->moves[next].stay].cell};
    return is_clear_of_edges(land, cells[0], place) &&
           is_clear_of_edges(land, cells[1], place) &&
           is_clear_of_opening(sharing, sharing->move, place->at) &&
           is_clear_of_opening(sharing, next, place->at) &&
           is_clear_of_opening(sharing, next + 1, place->at) &&
           !(sharing->has_last &&
             fw_point_apart_m(sharing->last, place->at) < FW_TROUGH_APART_M);
}

static double mean_of(const struct fw_land *land, size_t cell,
                      struct fw_point at)
{
    const struct fw_cell *of = &land->cells[cell];
    struct fw_walk_sums sums;
    fw_walk_straight(land->ring_points, land->ring_start + of->first_ring,
                     of->ring_count, at, &sums);
    return sums.mean_m;
}

/* Nearest to where the vehicle comes from, up to so much farther; of those the
 * least walk. */
static bool is_better(const struct place *left, const struct place *right,
                      double nearest_m)
{
    const bool near = left->from_m <= nearest_m + FW_TROUGH_KEEP_M;
    if (near != (right->from_m <= nearest_m + FW_TROUGH_KEEP_M))
        return near;
    return near ? left->mean_m < right->mean_m : left->from_m < right->from_m;
}

/* One pass for the nearest, one for the best. */
static bool best_at_door(const struct sharing *sharing, size_t next,
                         const struct fw_door *door, struct fw_point from,
                         struct place *out)
{
    const struct fw_land *land = sharing->replay.land;
    const double step_m = 1;
    double nearest_m = HUGE_VAL;
    bool found = false;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; door->from_m + i * step_m <= door->to_m; i++) {
            struct place place = {
                .at =
                    fw_land_along(land, door->line, door->from_m + i * step_m),
                .line = door->line};
            if (!is_good(sharing, next, &place))
                continue;
            place.from_m = fw_point_apart_m(place.at, from);
            if (pass == 0) {
                nearest_m = fmin(nearest_m, place.from_m);
                continue;
            }
            place.mean_m = mean_of(land, door->a, place.at) +
                           mean_of(land, door->b, place.at);
            if (!found || is_better(&place, out, nearest_m))
                *out = place;
            found = true;
        }
    return found;
}

/* Where the tank is filled, or the flock comes from. */
static struct fw_point vehicle_from(const struct sharing *sharing)
{
    const struct fw_land *land = sharing->replay.land;
    const struct fw_land_field *field = &land->fields[sharing->replay.field];
    return field->gate_given    ? field->gate
           : field->water_given ? field->water
                                : land->ring_points[0];
}

/* Under a line that stands between the trough's stay and the next. */
static bool find_under(const struct sharing *sharing, size_t next,
                       struct place *out)
{
    const struct fw_land *land = sharing->replay.land;
    const struct fw_time *time = sharing->replay.time;
    const size_t cell = time->stays[sharing->first].cell;
    const size_t beyond = time->stays[time->moves[next].stay].cell;
    const struct fw_cell *of = &land->cells[cell];
    const struct fw_point from = vehicle_from(sharing);
    bool found = false;
    for (size_t i = of->first_door; i < of->first_door + of->door_count; i++) {
        const struct fw_door *door = &land->doors[land->doors_of[i]];
        struct place place = {.line = FW_NONE};
        if (fw_land_beyond(land, land->doors_of[i], cell) != beyond ||
            !sharing->replay.stands[door->line] || sharing->holds[door->line] ||
            !best_at_door(sharing, next, door, from, &place))
            continue;
        if (!found || is_better(&place, out, HUGE_VAL))
            *out = place;
        found = true;
    }
    return found;
}

/* ---- stay after stay ---- */

/* In winter mud moves it, and not days. */
static bool is_by_mud(const struct sharing *sharing)
{
    return !(sharing->job->farm->trough_days > 0);
}

/* The corner of its stay's paddock that the vehicle comes to: the trough stands
 * by that. */
static struct fw_point about_trough(const struct sharing *sharing)
{
    const struct fw_land *land = sharing->replay.land;
    const struct fw_cell *of =
        &land->cells[sharing->replay.time->stays[sharing->first].cell];
    const struct fw_point from = vehicle_from(sharing);
    struct fw_point nearest = from;
    double least_m = HUGE_VAL;
    for (size_t i = land->ring_start[of->first_ring];
         i < land->ring_start[of->first_ring + of->ring_count]; i++) {
        const double here_m = fw_point_apart_m(land->ring_points[i], from);
        if (here_m < least_m) {
            least_m = here_m;
            nearest = land->ring_points[i];
        }
    }
    return nearest;
}

static bool is_near(const struct sharing *sharing, size_t stay)
{
    const struct fw_land *land = sharing->replay.land;
    const struct fw_cell *of =
        &land->cells[sharing->replay.time->stays[stay].cell];
    struct fw_walk_sums sums;
    fw_walk_straight(land->ring_points, land->ring_start + of->first_ring,
                     of->ring_count, about_trough(sharing), &sums);
    return sums.most_m <= FW_WATER_FAR_M;
}

static bool is_in_time(const struct sharing *sharing, size_t stay)
{
    const struct fw_time *time = sharing->replay.time;
    if (is_by_mud(sharing))
        return is_near(sharing, stay);
    return fw_time_nights(time, stay).to -
               fw_time_nights(time, sharing->first).from <=
           sharing->job->farm->trough_days;
}

/* Does the stay of that move drink from the trough that stands? */
static bool is_shared(struct sharing *sharing, size_t move)
{
    const struct fw_time *time = sharing->replay.time;
    const size_t stay = time->moves[move].stay;
    struct fw_plan__shared *trough = &sharing->job->shared[sharing->first];
    const size_t cell = time->stays[sharing->first].cell;
    struct place place = {.line = FW_NONE};
    if (!is_in_time(sharing, stay) ||
        sharing->replay.land->cells[cell].field != sharing->replay.field)
        return false;
    if (fw_replay_has_ground(&sharing->replay, cell))
        return true;
    /* Under a line it serves the stays on both sides, and no third. */
    if (is_by_mud(sharing) || sharing->move + 1 != move ||
        trough->line != FW_NONE || !find_under(sharing, move, &place))
        return false;
    trough->at = sharing->last = place.at;
    trough->line = place.line;
    sharing->has_last = true;
    return true;
}

static void look_at_stay(struct sharing *sharing, size_t move)
{
    const size_t stay = sharing->replay.time->moves[move].stay;
    struct fw_plan__shared *shared = sharing->job->shared;
    shared[stay] = (struct fw_plan__shared){.with = stay, .line = FW_NONE};
    if (sharing->job->wet[stay]) {
        sharing->first = FW_NONE;
    } else if (sharing->first != FW_NONE && is_shared(sharing, move)) {
        shared[stay].with = sharing->first;
    } else {
        sharing->first = stay;
        sharing->move = move;
        bool *before = sharing->holds;
        sharing->holds = sharing->holds_now;
        sharing->holds_now = before;
    }
}

static void look_at_stays(struct sharing *sharing)
{
    const struct fw_time *time = sharing->replay.time;
    for (size_t m = 0; m < time->move_count; m++) {
        look_at_lines(sharing);
        fw_replay_to_move(&sharing->replay, m);
        if (time->moves[m].stay == FW_NONE)
            sharing->first = FW_NONE;
        else
            look_at_stay(sharing, m);
    }
}

enum fw_status fw_plan__share_troughs(struct fw_plan_job *job,
                                      struct fw_error *err)
{
    const struct fw_time *time = &job->plan->time;
    struct sharing sharing = {.job = job, .first = FW_NONE};
    if (!job->farm->water_moves || (!(job->farm->trough_days > 0) &&
                                    job->plan->season != FW_SEASON_DORMANT))
        return FW_OK;
    job->shared = fw_alloc(time->stay_count, sizeof *job->shared);
    sharing.holds_now =
        fw_alloc(job->land.line_count, sizeof *sharing.holds_now);
    sharing.holds = fw_alloc(job->land.line_count, sizeof *sharing.holds);
    enum fw_status status =
        job->shared && sharing.holds_now && sharing.holds
            ? fw_replay_begin(&job->land, time, &job->start.start,
                              &sharing.replay, err)
            : fw_fail_memory(err);
    if (!status) {
        look_at_stays(&sharing);
        fw_replay_end(&sharing.replay);
    }
    fw_free(sharing.holds_now);
    fw_free(sharing.holds);
    return status;
}
