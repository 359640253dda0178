/* Every step asked: is the flock enclosed, does every end hold, what stands;
 * and every move walked: minutes along the way that a person goes. */
#include "moves/inner.h"

#include "base/alloc.h"
#include "base/fail.h"

#include <math.h>

struct judging {
    const struct fw_land *land;
    struct fw_time *time;
    const struct fw_habits *habits;
    const struct fw_time_start *start;
    struct fw_replay replay;
    struct fw_time_sums *sums;
    size_t *joints; /* by line: handles in it that some move needs */
    /* What stands now. */
    int reels, posts, handles;
    double wire_m, line_m;
    /* Where the person is. */
    bool placed;
    struct fw_point at;
    struct fw_move *move;
    bool crosses; /* this move leads over ungrazed ground, and says so */
};

static void fault(struct judging *judging, enum fw_fault_of_time kind)
{
    if (judging->sums->faults[kind]++ == 0)
        judging->sums->first[kind] = judging->replay.move;
}

/* ---- the walk ---- */

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static void go_to(struct judging *judging, struct fw_point to)
{
    if (judging->placed)
        judging->move->minutes +=
            apart_m(judging->at, to) / judging->habits->walk_m_min;
    judging->placed = true;
    judging->at = to;
}

static bool home_of(const struct fw_land *land, size_t field,
                    struct fw_point *out)
{
    const struct fw_land_field *of = &land->fields[field];
    *out = of->park_given ? of->park : of->gate;
    return of->park_given || of->gate_given;
}

static void go_home(struct judging *judging, size_t field)
{
    struct fw_point home;
    if (home_of(judging->land, field, &home))
        go_to(judging, home);
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
        go_to(judging, end_of(land, line, step->kind == FW_STEP_READ));
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

/* The paddock that they left is walked to its far end and back. */
static void walk_out(struct judging *judging)
{
    const size_t stay = judging->move->stay;
    const size_t left =
        stay == FW_NONE
            ? FW_NONE
            : fw_moves__cell_before(judging->time, judging->start, stay);
    if (left == FW_NONE || !judging->placed)
        return;
    judging->move->minutes +=
        2 * fw_land_far_m(judging->land, left, judging->at) /
        judging->habits->walk_m_min;
}

static void walk(struct judging *judging, const struct fw_step *step)
{
    const size_t index = judging->replay.step - 1; /* this step */
    if (index == judging->move->later)
        go_home(judging, step->field);
    switch (step->kind) {
    case FW_STEP_SET:
    case FW_STEP_READ:
    case FW_STEP_TAKE_DOWN:
        work_on(judging, step);
        break;
    case FW_STEP_OPEN:
    case FW_STEP_CLOSE:
    case FW_STEP_BRIDGE:
        go_to(judging, judging->time->openings[step->opening].place);
        if (judging->time->openings[step->opening].line != FW_NONE)
            judging->move->minutes += judging->habits->end_min;
        break;
    case FW_STEP_WALK:
        if (judging->move->opening != FW_NONE)
            go_to(judging,
                  judging->time->openings[judging->move->opening].place);
        break;
    case FW_STEP_LATER:
        walk_out(judging);
        break;
    default:
        break;
    }
}

static void begin_move(struct judging *judging)
{
    judging->move = &judging->time->moves[judging->replay.move];
    judging->move->minutes = judging->move->passes = 0;
    judging->placed = home_of(
        judging->land, judging->move->field, &judging->at);
    judging->crosses = false;
    for (size_t i = 0; i < judging->move->steps.count; i++)
        judging->crosses |=
            judging->time->steps[judging->move->steps.first + i].over_m > 0;
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

/* A line is set where what holds it stands, and nothing that holds another
 * comes down before it. */
static void look_at_ties(struct judging *judging, const struct fw_step *step)
{
    const struct fw_land *land = judging->land;
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t line = judging->time->items[step->lines.first + i];
        const struct fw_land_line *of = &land->lines[line];
        if (step->kind == FW_STEP_SET) {
            count_line(judging, line, 1);
            for (int e = 0; e < 2; e++)
                if (of->host[e] != FW_NONE &&
                    !judging->replay.stands[of->host[e]])
                    fault(judging, FW_TIME_UNTIED);
            if (fw_land_fed(land, line) == FW_FEEDS_NOTHING)
                fault(judging, FW_TIME_NO_FEED);
            continue;
        }
        count_line(judging, line, -1);
        const struct fw_land_field *field = &land->fields[of->field];
        for (size_t l = field->first_line;
             l < field->first_line + field->line_count; l++)
            if (judging->replay.stands[l] && (land->lines[l].host[0] == line ||
                                              land->lines[l].host[1] == line))
                fault(judging, FW_TIME_UNTIED);
    }
}

/* ---- what they can reach ---- */

static bool is_theirs(const struct judging *judging, size_t cell)
{
    return judging->land->cells[cell].kind != FW_CELL_PADDOCK ||
           judging->replay.grazed[cell] ||
           (judging->move->stay != FW_NONE &&
            judging->time->stays[judging->move->stay].cell == cell);
}

/* While somebody walks with them over ground that waits, they are held by that.
 */
static bool is_loose(struct judging *judging)
{
    size_t count;
    const size_t *cells = fw_replay_ground(&judging->replay, &count);
    for (size_t i = 0; i < count; i++)
        if (!is_theirs(judging, cells[i]))
            return true;
    return false;
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
        if (opening->line != FW_NONE &&
            (opening->width_m < judging->habits->way_m - 1e-6 ||
             opening->room_m < judging->habits->room_m - 1e-6))
            fault(judging, FW_TIME_NARROW);
    }
}

static void look(struct judging *judging, const struct fw_step *step)
{
    const bool last = judging->replay.step >= judging->move->steps.first +
                                                  judging->move->steps.count;
    look_at_way(judging, step);
    if (step->kind == FW_STEP_SET || step->kind == FW_STEP_TAKE_DOWN) {
        look_at_ties(judging, step);
        take_most(judging);
    }
    /* On the way over ungrazed ground they are walked; after it never. */
    const bool walked = judging->crosses && !last;
    if (!walked && is_loose(judging))
        fault(judging, FW_TIME_LOOSE);
}

static void end_move(struct judging *judging)
{
    struct fw_time_sums *sums = judging->sums;
    if (judging->move->steps.count > 0)
        go_home(judging, judging->move->field);
    sums->minutes += judging->move->minutes;
    sums->passes += judging->move->passes;
    if (judging->reels > sums->night_reels && judging->move->stay != FW_NONE)
        sums->night_reels = judging->reels;
    if (judging->move->stay == FW_NONE)
        return;
    sums->nights++;
    if (judging->habits->trough || fw_replay_has_water(&judging->replay))
        return;
    sums->dry_nights++;
    fault(judging, FW_TIME_DRY);
}

static enum fw_status begin(struct judging *judging,
                            const struct fw_time_start *start, struct fw_error *err)
{
    const struct fw_land *land = judging->land;
    judging->joints = fw_alloc(land->line_count, sizeof *judging->joints);
    if (!judging->joints)
        return fw_fail_memory(err);
    const enum fw_status status = fw_replay_begin(
        land, judging->time, start, &judging->replay, err);
    if (status)
        return status;
    for (size_t i = 0; i < judging->time->opening_count; i++)
        if (judging->time->openings[i].kind == FW_OPENING_JOINT)
            judging->joints[judging->time->openings[i].line] +=
                (size_t)judging->habits->strands;
    for (size_t l = 0; l < land->line_count; l++)
        if (land->lines[l].role != FW_LAND_EDGE && judging->replay.stands[l])
            count_line(judging, l, 1);
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
        .land = land, .time = time, .habits = habits, .start = start,
        .sums = &sums};
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
    if (!status)
        *out = sums;
    return status;
}
