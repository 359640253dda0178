/* The gate of a field, and the opening of each move: the place in the shared
 * fence where the flock walks through, and nowhere else. */
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Common practice, no source: 4 to 6 m, so that they do not jam, near the end
 * of the fence but off its last post. */
static const double opening_m = 5;
static const double from_end_m = 2;

static enum fw_status new_gate(struct fw_plan *plan, size_t field,
                               const char *kind_of, struct fw_plan_gate **out,
                               struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&plan->gates, &plan->gate_capacity,
                         plan->gate_count + 1, sizeof *plan->gates, err);
    if (status)
        return status;
    struct fw_plan_gate *gate = &plan->gates[plan->gate_count++];
    *gate = (struct fw_plan_gate){
        .field = field, .on = FW_NO_DAY, .from = FW_NONE, .to = FW_NONE};
    snprintf(gate->kind_of, sizeof gate->kind_of, "%s", kind_of);
    *out = gate;
    return FW_OK;
}

static enum fw_status add_gate(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan_gate *gate;
    const enum fw_status status = new_gate(plan, index, "gate", &gate, err);
    if (status)
        return status;
    char letter[8];
    fw_plan__letter(index, letter);
    fw_plan__id(gate->id, "gate %s", letter);
    gate->place = plan->fields[index].gate;
    return FW_OK;
}

/* The longest run of the cut: where it has several, the others only close off
 * a bay. */
static size_t longest_run(const struct fw_plan *plan, size_t field, size_t cut)
{
    size_t count;
    const size_t first = fw_plan_cut_fences(plan, field, cut, &count);
    size_t best = first;
    for (size_t i = 1; i < count; i++)
        if (plan->fences[first + i].length_m > plan->fences[best].length_m)
            best = first + i;
    return best;
}

/* Near end A, where the shepherd comes from. */
static enum fw_status add_opening(struct fw_plan_job *job, size_t index,
                                  size_t cut, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t run = longest_run(plan, index, cut);
    if (run == FW_NONE)
        return fw_fail(err, FW_EFAULT, "%s: cut %zu has no fence", field->name,
                       cut + 1);
    struct fw_plan_gate *gate;
    enum fw_status status = new_gate(plan, index, "opening", &gate, err);
    if (status)
        return status;
    const struct fw_plan_fence *fence = &plan->fences[run];
    const struct fw_point a = fw_plan__at(field, fence->line[0]);
    const struct fw_point b = fw_plan__at(field, fence->line[1]);
    const double length_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    const double middle_m = fmin(from_end_m + opening_m / 2, length_m / 2);
    const struct fw_point at = {a.x_m + (b.x_m - a.x_m) * middle_m / length_m,
                                a.y_m + (b.y_m - a.y_m) * middle_m / length_m};
    gate->width_m = fmin(opening_m, length_m);
    gate->from = field->first_paddock + cut;
    gate->to = gate->from + 1;
    gate->on = plan->paddocks[gate->to].enter;
    fw_plan__id(gate->id, "opening %.20s", plan->paddocks[gate->to].id);
    return fw_plan__place(job, index, at, &gate->place, err);
}

size_t fw_plan__opening_into(const struct fw_plan *plan, size_t paddock)
{
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].to == paddock)
            return i;
    return FW_NONE;
}

enum fw_status fw_plan__gates(struct fw_plan_job *job, size_t index,
                              struct fw_error *err)
{
    const struct fw_plan_field *field = &job->plan->fields[index];
    enum fw_status status = FW_OK;
    if (field->gate.given)
        status = add_gate(job, index, err);
    for (size_t cut = 0; !status && cut + 1 < field->paddock_count; cut++)
        status = add_opening(job, index, cut, err);
    return status;
}
