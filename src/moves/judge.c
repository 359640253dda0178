/* Every step asked: is the flock enclosed, does every end hold, what stands;
 * and every move walked: minutes along the way that a person goes. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "geo/points.h"

#include <math.h>

struct judging {
    const struct fw_land *land;
    struct fw_time *time;
    const struct fw_habits *habits;
    struct fw_replay replay;
    struct fw_time_sums *sums;
    size_t *joints; /* by line: handles in it that some move needs */
    /* What stands now. */
    bool *stands; /* by line, while the lines of a step are gone through */
    size_t *tied; /* by line: ends of those that stand that are tied to it */
    int reels, posts, handles;
    double wire_m, line_m;
    /* Where the person is. */
    bool placed;
    size_t field;
    struct fw_point at;
    struct fw_move *move;
    /* Of this move: with the steps [first, end) they are walked. */
    size_t first, end;
    bool crosses; /* over ungrazed ground, and it says so */
    /* Of their ground: how much of the list was looked at. */
    size_t looked;
    unsigned long found;
};

static void fault(struct judging *judging, enum fw_fault_of_time kind)
{
    if (judging->sums->faults[kind]++ == 0)
        judging->sums->first[kind] = judging->replay.move;
}

/* ---- the walk ---- */

static bool home_of(const struct fw_land *land, size_t field,
                    struct fw_point *out)
{
    const struct fw_land_field *of = &land->fields[field];
    *out = of->park_given ? of->park : of->gate;
    return of->park_given || of->gate_given;
}

static void walk_to(struct judging *judging, struct fw_point to)
{
    if (judging->placed)
        judging->move->minutes +=
            fw_point_apart_m(judging->at, to) / judging->habits->walk_m_min;
    judging->placed = true;
    judging->at = to;
}

static void go_home(struct judging *judging)
{
    struct fw_point home;
    if (home_of(judging->land, judging->field, &home))
        walk_to(judging, home);
}

/* Every field has a plane of its own, and nobody told how far it is from one to
 * the other: from home to home nothing is walked. */
static void go_to(struct judging *judging, size_t field, struct fw_point to)
{
    if (field != judging->field) {
        go_home(judging);
        judging->field = field;
        judging->placed = home_of(judging->land, field, &judging->at);
    }
    walk_to(judging, to);
}

static struct fw_point end_of(const struct fw_land *land, size_t line,
                              bool last)
{
    const struct fw_land_line *of = &land->lines[line];
    return land->line_points[of->first + (last ? of->count - 1 : 0)];
}

/* Out with the wire from A and back, setting posts: one ends at A. Winding
 * begins at A and ends at B. */
static void work_on(struct judging *judging, const struct fw_step *step)
{
    const struct fw_land *land = judging->land;
    struct fw_move *move = judging->move;
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = judging->time->items[step->lines.first + i];
        const struct fw_land_work *work = &land->lines[line].work;
        go_to(judging, land->lines[line].field,
              end_of(land, line, step->kind == FW_STEP_READ));
        if (step->kind == FW_STEP_SET) {
            move->minutes += work->set_min;
            move->passes += work->set_passes;
        } else if (step->kind == FW_STEP_TAKE_DOWN) {
            move->minutes += work->down_min;
            move->passes += work->down_passes;
            judging->at = end_of(land, line, true);
        }
    }
}

/* The stay that the move leads into; when it leads out, one more than there
 * are.
 */
static size_t stay_of(const struct judging *judging)
{
    return judging->move->stay == FW_NONE ? judging->time->stay_count
                                          : judging->move->stay;
}

/* What they left is walked to its far end and back: in the second visit the
 * paddock that this move leads out of, else the one before it, which was left
 * open for those that drifted. */
static void walk_out(struct judging *judging, bool second_visit)
{
    const size_t cell = fw_moves__cell_back(judging->time, stay_of(judging),
                                            second_visit ? 1 : 2);
    if (cell == FW_NONE || !judging->placed)
        return;
    if (judging->land->cells[cell].field == judging->field)
        judging->move->minutes +=
            2 * fw_land_far_m(judging->land, cell, judging->at) /
            judging->habits->walk_m_min;
}

static void go_to_opening(struct judging *judging, size_t opening)
{
    const struct fw_opening *of = &judging->time->openings[opening];
    go_to(judging, of->field, of->place);
}

static void walk(struct judging *judging, const struct fw_step *step)
{
    const bool second_visit = judging->replay.step - 1 == judging->move->later;
    switch (step->kind) {
    case FW_STEP_SET:
    case FW_STEP_READ:
    case FW_STEP_TAKE_DOWN:
        work_on(judging, step);
        break;
    case FW_STEP_OPEN:
    case FW_STEP_CLOSE:
    case FW_STEP_BRIDGE:
        go_to_opening(judging, step->opening);
        if (judging->time->openings[step->opening].line != FW_NONE)
            judging->move->minutes += judging->habits->end_min;
        break;
    case FW_STEP_WALK:
        if (judging->move->opening != FW_NONE)
            go_to_opening(judging, judging->move->opening);
        break;
    case FW_STEP_LATER:
        if (second_visit)
            go_home(judging);
        walk_out(judging, second_visit);
        break;
    default:
        break;
    }
}

/* From the first opening, or where all is open from the walk on, to the last
 * closing somebody goes with them. */
static void find_walk(struct judging *judging)
{
    const struct fw_list *steps = &judging->move->steps;
    bool walked = false;
    judging->crosses = false;
    judging->first = judging->end = FW_NONE;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &judging->time->steps[i];
        walked |= step->kind == FW_STEP_WALK;
        judging->crosses |= step->over_m > 0;
        if ((step->kind == FW_STEP_OPEN || step->kind == FW_STEP_WALK) &&
            judging->first == FW_NONE)
            judging->first = i;
        if (step->kind == FW_STEP_CLOSE || step->kind == FW_STEP_BRIDGE)
            judging->end = i;
    }
    if (!walked)
        judging->first = judging->end = FW_NONE;
    else if (judging->end == FW_NONE)
        judging->end = steps->first + steps->count;
}

static void begin_move(struct judging *judging)
{
    judging->move = &judging->time->moves[judging->replay.move];
    judging->move->minutes = judging->move->passes = 0;
    judging->field = judging->move->field;
    judging->placed = home_of(judging->land, judging->field, &judging->at);
    find_walk(judging);
    judging->looked = 0;
}

/* ---- what stands ---- */

static void count_line(struct judging *judging, size_t line, int sign)
{
    const struct fw_land_line *of = &judging->land->lines[line];
    judging->reels += sign * of->work.reels;
    judging->posts += sign * of->work.posts;
    judging->wire_m += sign * of->work.wire_m;
    judging->line_m += sign * of->length_m;
    judging->handles += sign * (int)judging->joints[line];
}

static void take_most(struct judging *judging)
{
    struct fw_time_sums *sums = judging->sums;
    sums->reels = judging->reels > sums->reels ? judging->reels : sums->reels;
    sums->posts = judging->posts > sums->posts ? judging->posts : sums->posts;
    sums->wire_m = fmax(sums->wire_m, judging->wire_m);
    sums->line_m = fmax(sums->line_m, judging->line_m);
    sums->joints =
        judging->handles > sums->joints ? judging->handles : sums->joints;
}

static void tie(struct judging *judging, size_t line, bool up)
{
    const struct fw_land_line *of = &judging->land->lines[line];
    judging->stands[line] = up;
    count_line(judging, line, up ? 1 : -1);
    for (int e = 0; e < 2; e++)
        if (of->host[e] != FW_NONE)
            judging->tied[of->host[e]] += up ? 1 : (size_t)-1;
}

/* A line is set where what holds it stands, and nothing that holds another
 * comes down before it. */
static void look_at_ties(struct judging *judging, const struct fw_step *step)
{
    const struct fw_land *land = judging->land;
    const bool up = step->kind == FW_STEP_SET;
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = judging->time->items[step->lines.first + i];
        const struct fw_land_line *of = &land->lines[line];
        if (judging->stands[line] == up)
            continue;
        for (int e = 0; up && e < 2; e++)
            if (of->host[e] != FW_NONE && !judging->stands[of->host[e]])
                fault(judging, FW_TIME_UNTIED);
        if (!up && judging->tied[line] > 0)
            fault(judging, FW_TIME_UNTIED);
        if (up && fw_land_fed(land, line) == FW_FEEDS_NOTHING)
            fault(judging, FW_TIME_NO_FEED);
        tie(judging, line, up);
    }
}

/* ---- what they can reach ---- */

static bool drifts_into(const struct judging *judging, size_t stay, size_t back)
{
    return (back > 0 || stay < judging->time->stay_count) &&
           fw_moves__drift_door(judging->land, judging->habits, judging->time,
                                stay, back) != FW_NONE;
}

/* Where they come from is theirs until the move is over, and longer while they
 * drift; what was grazed is where nothing shuts it off, or on the way. */
static bool is_theirs(const struct judging *judging, size_t cell, bool walked,
                      bool over)
{
    const struct fw_time_stay *stays = judging->time->stays;
    const enum fw_cell_kind kind = judging->land->cells[cell].kind;
    const size_t stay = stay_of(judging);
    if (kind == FW_CELL_LANE || kind == FW_CELL_APRON)
        return true;
    if (judging->move->stay != FW_NONE && stays[stay].cell == cell)
        return true;
    /* Also when a new round begins, in which it is to be grazed again. */
    const bool left = fw_moves__cell_back(judging->time, stay, 1) == cell;
    if (left && !over && judging->habits->back_fence)
        return true;
    if (!judging->replay.grazed[cell])
        return false;
    if (!judging->habits->back_fence || walked)
        return true;
    if (left)
        return drifts_into(judging, stay, 0);
    return !over && fw_moves__cell_back(judging->time, stay, 2) == cell &&
           drifts_into(judging, stay, 1);
}

/* Only what was not looked at yet, as their ground mostly grows. */
static bool is_loose(struct judging *judging, bool walked, bool over)
{
    size_t count;
    const size_t *cells = fw_replay_ground(&judging->replay, &count);
    bool loose = false;
    if (judging->found != judging->replay.found)
        judging->looked = 0;
    judging->found = judging->replay.found;
    for (; judging->looked < count; judging->looked++)
        loose |= !is_theirs(judging, cells[judging->looked], walked, over);
    return loose;
}

/* Over ground that waits, those who walk with them hold them; what they may
 * have changes when the walk is over and when the move is. */
static void look_at_ground(struct judging *judging)
{
    const struct fw_list *steps = &judging->move->steps;
    const size_t index = judging->replay.step - 1;
    const bool walked = index >= judging->first && index < judging->end;
    const bool over = index + 1 == steps->first + steps->count;
    if (walked && judging->crosses)
        return;
    if ((over || index == judging->end) &&
        (judging->crosses || judging->habits->back_fence))
        judging->looked = 0;
    if (is_loose(judging, walked, over))
        fault(judging, FW_TIME_LOOSE);
}

static void look_at_way(struct judging *judging, const struct fw_step *step)
{
    struct fw_time_sums *sums = judging->sums;
    if (step->kind == FW_STEP_WALK && step->over_m > 0) {
        fault(judging, FW_TIME_CROSSED);
        sums->crossed_m += step->over_m;
    }
    if (step->kind == FW_STEP_OPEN) {
        const struct fw_opening *opening =
            &judging->time->openings[step->opening];
        if (fw_opening_is_tight(opening, judging->habits))
            fault(judging, FW_TIME_NARROW);
    }
}

static void look(struct judging *judging, const struct fw_step *step)
{
    look_at_way(judging, step);
    if (step->kind == FW_STEP_SET || step->kind == FW_STEP_TAKE_DOWN) {
        look_at_ties(judging, step);
        take_most(judging);
    }
    look_at_ground(judging);
}

static void end_move(struct judging *judging)
{
    struct fw_time_sums *sums = judging->sums;
    if (judging->move->steps.count > 0)
        go_home(judging);
    sums->minutes += judging->move->minutes;
    sums->passes += judging->move->passes;
    if (judging->reels > sums->night_reels && judging->move->stay != FW_NONE)
        sums->night_reels = judging->reels;
    if (judging->move->stay == FW_NONE)
        return;
    const struct fw_nights nights =
        fw_time_nights(judging->time, judging->move->stay);
    sums->nights += (size_t)(nights.to - nights.from);
    if (judging->habits->trough || fw_replay_has_water(&judging->replay))
        return;
    sums->dry_nights += (size_t)(nights.to - nights.from);
    fault(judging, FW_TIME_DRY);
}

static enum fw_status begin(struct judging *judging,
                            const struct fw_time_start *start,
                            struct fw_error *err)
{
    const struct fw_land *land = judging->land;
    judging->joints = fw_alloc(land->line_count, sizeof *judging->joints);
    judging->stands = fw_alloc(land->line_count, sizeof *judging->stands);
    judging->tied = fw_alloc(land->line_count, sizeof *judging->tied);
    if (!judging->joints || !judging->stands || !judging->tied)
        return fw_fail_memory(err);
    const enum fw_status status =
        fw_replay_begin(land, judging->time, start, &judging->replay, err);
    if (status)
        return status;
    for (size_t i = 0; i < judging->time->opening_count; i++)
        if (judging->time->openings[i].kind == FW_OPENING_JOINT)
            judging->joints[judging->time->openings[i].line] +=
                (size_t)judging->habits->strands;
    for (size_t l = 0; l < land->line_count; l++)
        if (land->lines[l].role == FW_LAND_EDGE)
            judging->stands[l] = true;
        else if (judging->replay.stands[l])
            tie(judging, l, true);
    take_most(judging);
    return FW_OK;
}

enum fw_status fw_time_judge(const struct fw_land *land, struct fw_time *time,
                             const struct fw_habits *habits,
                             const struct fw_time_start *start,
                             struct fw_time_sums *out, struct fw_error *err)
{
    struct fw_time_sums sums = {0};
    struct judging judging = {
        .land = land, .time = time, .habits = habits, .sums = &sums};
    const enum fw_status status = begin(&judging, start, err);
    for (size_t m = 0; !status && m < time->move_count; m++) {
        judging.replay.move = m;
        begin_move(&judging);
        for (size_t i = 0; i < judging.move->steps.count; i++) {
            const struct fw_step *step = fw_replay_step(&judging.replay);
            look(&judging, step);
            walk(&judging, step);
        }
        end_move(&judging);
    }
    for (size_t i = 0; i < time->stay_count; i++)
        sums.days += time->stays[i].leave - time->stays[i].enter;
    fw_replay_end(&judging.replay);
    fw_free(judging.joints);
    fw_free(judging.stands);
    fw_free(judging.tied);
    if (!status)
        *out = sums;
    return status;
}
