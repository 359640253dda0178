/* The circuit of each day solved, and the least along every fence. Days on
 * which the same fences stand are one row. */
#include "live/live.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/power.h"

#include <math.h>

static void take_stretch(const struct fw_plan__stretch_volts *found,
                         const struct fw_power_wanted *wanted,
                         struct fw_plan_power_day *row)
{
    if (!found->live)
        return;
    if (row->fence == FW_NONE ||
        found->least_touched.touched_v < row->touched_v) {
        row->fence = found->fence;
        row->at_m = found->from_m + found->least_touched_m;
        row->touched_v = found->least_touched.touched_v;
        row->open_v = found->least_touched.open_v;
    }
    row->alone_v = fmin(row->alone_v, found->alone_v);
    row->least_open_v = fmin(row->least_open_v, found->least_open.open_v);
    row->enough =
        row->enough && fw_power_meets(wanted, found->least_open.open_v,
                                      found->least_touched.touched_v);
}

/* Each fence once, however many sections it has: they follow each other. */
static int count_dead(const struct fw_plan__solver *solver)
{
    size_t last = FW_NONE;
    int dead = 0;
    for (size_t i = 0; i < solver->answer.section_count; i++) {
        const size_t fence = solver->circuit.stretches[i].fence;
        if (solver->answer.sections[i].live || fence == FW_NONE ||
            fence == last)
            continue;
        last = fence;
        dead++;
    }
    return dead;
}

enum fw_status fw_plan__solve_day(struct fw_plan__solver *solver, int day,
                                  const struct fw_plan_power *power,
                                  struct fw_plan_power_day *out,
                                  struct fw_error *err)
{
    const struct fw_energizer *energizer = &solver->circuits.plan->energizer;
    const struct fw_power_wanted wanted = {.open_v = energizer->open_v,
                                           .touched_v = energizer->touched_v};
    enum fw_status status = fw_plan__days_to(&solver->circuits.days, day, err);
    if (!status)
        status = fw_plan__solve(solver, day, power, err);
    if (status)
        return status;
    out->fence = FW_NONE;
    out->at_m = out->touched_v = out->open_v = 0;
    out->least_open_v = out->alone_v = (double)INFINITY;
    out->enough = true;
    for (size_t i = 0; i < fw_plan__stretch_count(solver); i++) {
        struct fw_plan__stretch_volts found;
        if (fw_plan__stretch_volts(solver, i, &found))
            take_stretch(&found, &wanted, out);
    }
    if (out->fence == FW_NONE)
        out->least_open_v = out->alone_v = 0;
    out->dead = count_dead(solver);
    out->source_v = solver->answer.nodes[0].volts.open_v;
    if (solver->circuit.net.earth_return)
        out->source_v -=
            solver->answer.nodes[solver->circuit.net.earth_node].volts.open_v;
    return FW_OK;
}

/* ---- the rows ---- */

/* Days on which the same lines stand around a flock in the same field, while
 * the grass does the same. That at a line is grazed when they move on, and then
 * other lines stand. */
static enum fw_status make_rows(struct fw_plan *plan,
                                struct fw_plan__days *days,
                                struct fw_error *err)
{
    const int all = plan->end_day - plan->start_day;
    plan->power_days =
        fw_alloc(all > 0 ? (size_t)all : 0, sizeof *plan->power_days);
    if (!plan->power_days)
        return fw_fail_memory(err);
    unsigned long key = 0;
    size_t field = FW_NONE;
    for (int day = plan->start_day; day < plan->end_day; day++) {
        const enum fw_status status = fw_plan__days_to(days, day, err);
        if (status)
            return status;
        const unsigned long now = fw_replay_key(&days->replay);
        if (day == plan->start_day || now != key ||
            field != days->replay.field ||
            fw_plan_growing(plan, day) != fw_plan_growing(plan, day - 1))
            plan->power_days[plan->power_day_count++].from = day;
        plan->power_days[plan->power_day_count - 1].to = day + 1;
        key = now;
        field = days->replay.field;
    }
    return FW_OK;
}

size_t fw_plan_power_row(const struct fw_plan *plan, int day)
{
    for (size_t i = 0; i < plan->power_day_count; i++)
        if (plan->power_days[i].from <= day && day < plan->power_days[i].to)
            return i;
    return FW_NONE;
}

size_t fw_plan_worst_day(const struct fw_plan *plan)
{
    size_t worst = FW_NONE;
    for (size_t i = 0; i < plan->power_day_count; i++) {
        const struct fw_plan_power_day *row = &plan->power_days[i];
        if (row->fence != FW_NONE &&
            (worst == FW_NONE ||
             row->touched_v < plan->power_days[worst].touched_v))
            worst = i;
    }
    return worst;
}

/* ---- the least along each fence ---- */

static void forget_fences(struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        plan->fences[i].volts_known = false;
}

static void put_least(struct fw_plan_fence *fence,
                      const struct fw_plan__stretch_volts *found)
{
    const double open_v = found->least_open.open_v;
    const double touched_v = found->least_touched.touched_v;
    fence->open_v = fence->volts_known ? fmin(fence->open_v, open_v) : open_v;
    fence->touched_v =
        fence->volts_known ? fmin(fence->touched_v, touched_v) : touched_v;
    fence->volts_known = true;
}

static void put_fences(struct fw_plan *plan,
                       const struct fw_plan__solver *solver)
{
    for (size_t i = 0; i < fw_plan__stretch_count(solver); i++) {
        struct fw_plan__stretch_volts found;
        if (fw_plan__stretch_volts(solver, i, &found))
            put_least(&plan->fences[found.fence], &found);
    }
}

/* ---- every day ---- */

/* The sizes that may be tried, from the least; one when it is told. */
struct trial {
    struct fw_plan__size sizes[FW_PLAN__SIZES];
    size_t count, now;
    size_t fallback; /* when none is enough */
};

static enum fw_status solve_row(struct fw_plan *plan,
                                struct fw_plan__solver *solver,
                                const struct fw_plan__size *size, size_t row,
                                struct fw_error *err)
{
    struct fw_plan_power_day *day = &plan->power_days[row];
    const enum fw_status status =
        fw_plan__solve_day(solver, day->from, &size->power, day, err);
    if (!status)
        put_fences(plan, solver);
    return status;
}

/* A larger one raises the volts everywhere, so that the days which a smaller
 * one was enough for need no second look; only their volts do, at the end. */
static enum fw_status try_sizes(struct fw_plan *plan,
                                struct fw_plan__solver *solver,
                                struct trial *trial, struct fw_error *err)
{
    size_t settled = 0; /* the first row that has the size at hand */
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < plan->power_day_count; i++) {
        status = solve_row(plan, solver, &trial->sizes[trial->now], i, err);
        while (!status && !plan->power_days[i].enough && trial->count > 1) {
            const bool last = trial->now + 1 >= trial->count;
            trial->now = last ? trial->fallback : trial->now + 1;
            if (last)
                trial->count = 1;
            forget_fences(plan);
            settled = i;
            status = solve_row(plan, solver, &trial->sizes[trial->now], i, err);
        }
    }
    for (size_t i = 0; !status && i < settled; i++)
        status = solve_row(plan, solver, &trial->sizes[trial->now], i, err);
    return status;
}

static bool is_enough(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->power_day_count; i++)
        if (!plan->power_days[i].enough)
            return false;
    return true;
}

static bool reads_enough(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->reading_count; i++)
        if (plan->readings[i].far_v < plan->readings[i].wanted_v)
            return false;
    return true;
}

/* While a move is made more stands than in its evening. */
static enum fw_status read_all(struct fw_plan *plan,
                               struct fw_plan__solver *solver,
                               struct trial *trial, struct fw_error *err)
{
    enum fw_status status =
        fw_plan__readings(plan, solver, &trial->sizes[trial->now].power, err);
    while (!status && is_enough(plan) && !reads_enough(plan) &&
           trial->now + 1 < trial->count) {
        trial->now++;
        forget_fences(plan);
        for (size_t i = 0; !status && i < plan->power_day_count; i++)
            status = solve_row(plan, solver, &trial->sizes[trial->now], i, err);
        if (!status)
            status = fw_plan__readings(plan, solver,
                                       &trial->sizes[trial->now].power, err);
    }
    return status;
}

static enum fw_status find_trial(const struct fw_plan_job *job,
                                 const struct fw_farm_wiring *wiring,
                                 struct trial *trial, struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const double need_j = plan->energizer.need_j;
    const double own_j = plan->energizer.given ? plan->energizer.joules : 0;
    *trial = (struct trial){.count = 0};
    if (own_j > 0 || wiring->open_v > 0) {
        trial->count = 1;
        return fw_plan__size(plan, wiring, own_j, &trial->sizes[0], err);
    }
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < FW_PLAN__SIZES; i++) {
        const double joules = FW_GUESS_OPEN_V_AT[i];
        const bool last = i + 1 == FW_PLAN__SIZES;
        if (job->farm->rule_told && joules < need_j && !last)
            continue;
        status = fw_plan__size(plan, wiring, joules,
                               &trial->sizes[trial->count], err);
        if (joules < need_j && !last)
            trial->fallback = trial->count + 1;
        trial->count++;
    }
    return status;
}

/* All of it, with a strand as return or without. */
static enum fw_status try_return(struct fw_plan_job *job,
                                 struct fw_plan__solver *solver, bool returns,
                                 struct trial *trial, struct fw_error *err)
{
    struct fw_farm_wiring wiring = job->plan->wiring;
    wiring.earth_return = returns ? FW_YES : FW_NO;
    enum fw_status status = find_trial(job, &wiring, trial, err);
    forget_fences(job->plan);
    if (!status)
        status = try_sizes(job->plan, solver, trial, err);
    return status ? status : read_all(job->plan, solver, trial, err);
}

static double least_touched_v(const struct fw_plan *plan)
{
    const size_t worst = fw_plan_worst_day(plan);
    return worst == FW_NONE ? 0 : plan->power_days[worst].touched_v;
}

/* A strand is the return where somebody says so, or else where the ground under
 * the hooves takes too much for every size and the strand leaves more. */
static enum fw_status choose_return(struct fw_plan_job *job,
                                    struct fw_plan__solver *solver,
                                    struct trial *trial, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const enum fw_answer told = plan->wiring.earth_return;
    const bool can = plan->moved.strands > 1 && !plan->moved.out_and_back;
    enum fw_status status =
        try_return(job, solver, told == FW_YES && can, trial, err);
    if (status || told != FW_UNTOLD || !can ||
        !(fw_power_hooves_ohm(plan->wiring.soil_ohm_m) > 0) ||
        (is_enough(plan) && reads_enough(plan)))
        return status;
    const double ground_v = least_touched_v(plan);
    status = try_return(job, solver, true, trial, err);
    if (status || is_enough(plan) || least_touched_v(plan) > ground_v)
        return status;
    return try_return(job, solver, false, trial, err);
}

enum fw_status fw_plan__power_days(struct fw_plan_job *job,
                                   struct fw_plan__size *chosen,
                                   struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan__solver solver = {0};
    struct trial trial = {.count = 0};
    enum fw_status status =
        fw_plan__circuits_init(&solver.circuits, plan, &plan->wiring, err);
    if (!status)
        status = make_rows(plan, &solver.circuits.days, err);
    if (!status)
        status = choose_return(job, &solver, &trial, err);
    if (!status)
        *chosen = trial.sizes[trial.now];
    chosen->power.least_j = job->farm->rule_told ? plan->energizer.need_j : 0;
    fw_plan__solver_release(&solver);
    return status;
}
