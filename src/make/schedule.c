/* The time of a plan: all its fields together, from the stays that their
 * layouts have. What comes of it is settled in the plan: which end of a line is
 * fed, where it is opened, and in which order the work is done. */
#include "around/nights.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/land.h"
#include "make/parts.h"

#include <stdio.h>
#include <string.h>

/* ---- what each line takes ---- */

static enum fw_status work_of(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_fence *fence = &plan->fences[index];
    struct fw_plan__line_work work;
    struct fw_point *line = fw_plan__line(&plan->fields[fence->field], fence);
    if (!line)
        return fw_fail_memory(err);
    const enum fw_status status = fw_plan__line_work(
        job, fence->field, line, fence->line_count, &work, err);
    fw_free(line);
    if (status)
        return status;
    struct fw_land_work *to = &job->land.lines[index].work;
    const struct fw_land_work counted = *to; /* by the length people measure */
    *to = work.takes;
    to->reels = counted.reels;
    to->posts = counted.posts;
    to->wire_m = counted.wire_m;
    return FW_OK;
}

static enum fw_status make_land(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    fw_land_release(&job->land);
    enum fw_status status = fw_plan_land(plan, &job->land, err);
    for (size_t f = 0; !status && f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        status = fw_plan__obstacles(job, f, err);
        for (size_t i = field->first_fence;
             !status && i < field->first_fence + field->fence_count; i++)
            if (plan->fences[i].role != FW_FENCE_PERIMETER)
                status = work_of(job, i, err);
    }
    return status;
}

/* ---- what is settled ---- */

static void turn_fences(struct fw_plan_job *job)
{
    struct fw_plan *plan = job->plan;
    for (size_t i = 0; i < plan->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[i];
        const struct fw_plan_field *field = &plan->fields[fence->field];
        const size_t last = fence->line_count - 1;
        const struct fw_point first =
            job->land.line_points[job->land.lines[i].first];
        const struct fw_point here = fw_plan__at(field, fence->line[0]);
        if (fence->role == FW_FENCE_PERIMETER ||
            (here.x_m == first.x_m && here.y_m == first.y_m))
            continue;
        for (size_t k = 0; k < last - k; k++) {
            const size_t kept = fence->line[k];
            fence->line[k] = fence->line[last - k];
            fence->line[last - k] = kept;
        }
        fence->bearing_deg = job->farm->world->bearing_deg(
            field->vertices[fence->line[0]].lonlat,
            field->vertices[fence->line[last]].lonlat);
    }
}

static size_t paddock_of(const struct fw_plan *plan, size_t cell)
{
    return cell < plan->paddock_count ? cell : FW_NONE;
}

/* "opening A04-05"; the second place in the same line "opening A04-05.2" */
static void name_gate(const struct fw_plan *plan, size_t index,
                      struct fw_plan_gate *gate)
{
    char letter[8];
    size_t alike = 1;
    fw_plan__letter(plan, gate->field, letter);
    if (gate->fence == FW_NONE) {
        fw_plan__id(gate->id, "gate %s", letter);
        return;
    }
    for (size_t i = index; i-- > 0 && plan->gates[i].field == gate->field;)
        alike += plan->gates[i].fence == gate->fence;
    if (alike == 1)
        fw_plan__id(gate->id, "opening %.20s", plan->fences[gate->fence].id);
    else
        fw_plan__id(gate->id, "opening %.16s.%zu", plan->fences[gate->fence].id,
                    alike);
}

static enum fw_status take_openings(struct fw_plan_job *job,
                                    struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_time *time = &plan->time;
    struct fw_plan__habits habits;
    fw_plan__habits(job, 0, job->set_first, &habits);
    enum fw_status status =
        fw_array_reserve(&plan->gates, &plan->gate_capacity,
                         time->opening_count, sizeof *plan->gates, err);
    for (size_t i = 0; !status && i < time->opening_count; i++) {
        const struct fw_opening *from = &time->openings[i];
        struct fw_plan_gate *gate = &plan->gates[i];
        *gate = (struct fw_plan_gate){
            .field = from->field,
            .fence = from->line,
            .where = from->kind,
            .at_m = from->at_m,
            .on =
                from->move == FW_NONE ? FW_NO_DAY : time->moves[from->move].day,
            .from =
                from->line == FW_NONE ? FW_NONE : paddock_of(plan, from->from),
            .to = from->line == FW_NONE ? FW_NONE : paddock_of(plan, from->to),
            .width_m = from->line == FW_NONE
                           ? job->farm->fields[from->field].gate_width_m
                           : from->width_m,
            .room_m = from->room_m,
            .tight = fw_opening_is_tight(from, &habits.habits),
        };
        snprintf(gate->kind_of, sizeof gate->kind_of, "%s",
                 from->line == FW_NONE ? "gate" : "opening");
        name_gate(plan, i, gate);
        plan->gate_count = i + 1;
        if (from->line == FW_NONE)
            gate->place = plan->fields[from->field].gate;
        else
            status = fw_plan__place(job, from->field, from->place, &gate->place,
                                    err);
    }
    return status;
}

/* ---- in which order the work is done ---- */

static enum fw_status try_order(struct fw_plan_job *job, bool set_first,
                                struct fw_time *time, struct fw_time_sums *sums,
                                struct fw_error *err)
{
    struct fw_plan__habits habits;
    const struct fw_time_start start = job->start.start;
    fw_plan__habits(job, 0, set_first, &habits);
    *time = (struct fw_time){0};
    enum fw_status status =
        fw_time_make(&job->land, job->stays, job->stay_count, &habits.habits,
                     &start, time, err);
    if (!status)
        status =
            fw_time_judge(&job->land, time, &habits.habits, &start, sums, err);
    return status;
}

static double lack_of(const struct fw_plan_job *job,
                      const struct fw_time_sums *sums)
{
    const struct fw_kit kit = {sums->reels, sums->posts, sums->wire_m};
    return fw_plan__kit_lack(job->farm, &kit);
}

/* Where nobody told, what can be done with what the farm owns. */
static enum fw_status choose_order(struct fw_plan_job *job,
                                   struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_time *time = &job->plan->time;
    job->set_first = farm->work_order == FW_WORK_SET_FIRST;
    enum fw_status status =
        try_order(job, job->set_first, time, &job->sums, err);
    if (status || farm->work_told || !(lack_of(job, &job->sums) > 0))
        return status;
    struct fw_time other;
    struct fw_time_sums sums;
    status = try_order(job, !job->set_first, &other, &sums, err);
    if (!status && lack_of(job, &sums) < lack_of(job, &job->sums) &&
        sums.faults[FW_TIME_LOOSE] + sums.faults[FW_TIME_UNTIED] == 0) {
        fw_time_release(time);
        *time = other;
        job->sums = sums;
        job->set_first = !job->set_first;
    } else {
        fw_time_release(&other);
    }
    return status;
}

/* Each field was judged by itself; what comes between them is said. */
static enum fw_status warn_faults(struct fw_plan_job *job, struct fw_error *err)
{
    static const struct {
        enum fw_fault_of_time kind;
        const char *words;
    } rows[] = {
        {FW_TIME_LOOSE, "at a step of this move nothing that stands holds the "
                        "flock: do not do it so; plan this field by itself"},
        {FW_TIME_UNTIED, "at a step of this move an end is tied to a line that "
                         "does not stand; plan this field by itself"},
    };
    struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof rows / sizeof *rows; i++) {
        char day[FW_DATE_TEXT];
        if (job->sums.faults[rows[i].kind] == 0)
            continue;
        const struct fw_move *move =
            &plan->time.moves[job->sums.first[rows[i].kind]];
        status = fw_notes_add(&plan->notes, FW_LEVEL_DANGER,
                              plan->fields[move->field].name, err, "%s: %s",
                              fw_date_write(move->day, day), rows[i].words);
    }
    return status;
}

static enum fw_status make_room(struct fw_plan_job *job, struct fw_error *err)
{
    job->wet = fw_alloc(job->stay_count, sizeof *job->wet);
    job->cell_nights = fw_alloc(1, sizeof *job->cell_nights);
    job->line_nights = fw_alloc(1, sizeof *job->line_nights);
    if (!job->wet || !job->cell_nights || !job->line_nights)
        return fw_fail_memory(err);
    const enum fw_status status = fw_plan__start(
        job->plan, &job->land, job->stays, job->stay_count, &job->start, err);
    job->start.start.open = job->open;
    job->start.start.open_count = job->open_count;
    job->start.start.works = job->works;
    job->start.start.work_count = job->work_count;
    job->start.start.made = job->on && job->on->base ? job->on->made : 0;
    for (size_t k = 0; !status && k < job->led_count; k++)
        job->start.grazed[job->land.fields[job->led_field].first_common + k] =
            job->led[k];
    if (job->before_count > 0) { /* as an earlier plan had it */
        job->start.start.before = job->before;
        job->start.start.before_count = job->before_count;
    }
    return status;
}

enum fw_status fw_plan__schedule(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = make_land(job, err);
    if (!status)
        status = make_room(job, err);
    if (!status)
        status = choose_order(job, err);
    if (status)
        return status;
    turn_fences(job);
    status = take_openings(job, err);
    if (!status)
        status = warn_faults(job, err);
    return status ? status : fw_plan__nights(job, err);
}

size_t fw_plan_move_to(const struct fw_plan *plan, size_t move)
{
    const size_t stay = plan->time.moves[move].stay;
    return stay == FW_NONE ? FW_NONE : plan->time.stays[stay].cell;
}
