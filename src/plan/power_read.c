/* What a tester should show where the card says to read it: the circuit as it
 * is at that step, with what still stands and what is unhooked. */
#include "plan/live.h"

#include "base/array.h"

#include <math.h>

/* Volts go up and down together, so that the reading which goes with what is
 * wanted is in proportion. */
static double wanted_at_end(const struct fw_energizer *wanted, double far_v,
                            double least_open_v, double least_touched_v)
{
    if (!(least_touched_v > 0 && least_open_v > 0))
        return 0;
    return far_v * fmax(wanted->touched_v / least_touched_v,
                        wanted->open_v / least_open_v);
}

static struct fw_plan_reading read_line(const struct fw_plan *plan,
                                        const struct fw_plan__solver *solver,
                                        size_t step, size_t fence)
{
    double far_v = (double)INFINITY, open_v = far_v, touched_v = far_v;
    for (size_t i = 0; i < fw_plan__span_count(solver); i++) {
        struct fw_plan__span span;
        if (!fw_plan__span(solver, i, &span) || span.fence != fence)
            continue;
        open_v = fmin(open_v, span.least_open.open_v);
        touched_v = fmin(touched_v, span.least_touched.touched_v);
        if (span.last)
            far_v = fmin(far_v, span.end_v);
    }
    struct fw_plan_reading reading = {.step = step, .fence = fence};
    if (far_v > 0 && isfinite(far_v)) {
        reading.far_v = far_v;
        reading.touched_v = touched_v;
        reading.wanted_v =
            wanted_at_end(&plan->energizer, far_v, open_v, touched_v);
    }
    return reading;
}

static enum fw_status read_step(struct fw_plan *plan,
                                struct fw_plan__solver *solver, int day,
                                size_t index, const struct fw_plan_power *power,
                                struct fw_error *err)
{
    const struct fw_step *step = &plan->time.steps[index];
    enum fw_status status =
        fw_plan__days_to_step(&solver->wirer.days, index, err);
    if (!status)
        status = fw_plan__solve(solver, day, power, err);
    if (!status)
        status = fw_array_reserve(&plan->readings, &plan->reading_capacity,
                                  plan->reading_count + step->lines.count,
                                  sizeof *plan->readings, err);
    for (size_t i = 0; !status && i < step->lines.count; i++)
        plan->readings[plan->reading_count++] = read_line(
            plan, solver, index, plan->time.items[step->lines.first + i]);
    return status;
}

enum fw_status fw_plan__readings(struct fw_plan *plan,
                                 struct fw_plan__solver *solver,
                                 const struct fw_plan_power *power,
                                 struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    enum fw_status status = FW_OK;
    plan->reading_count = 0;
    for (size_t m = 0; m < time->move_count; m++) {
        const struct fw_move *move = &time->moves[m];
        for (size_t i = move->steps.first;
             !status && i < move->steps.first + move->steps.count; i++)
            if (time->steps[i].kind == FW_STEP_READ)
                status = read_step(plan, solver, move->day, i, power, err);
    }
    return status;
}

const struct fw_plan_reading *fw_plan_reading_of(const struct fw_plan *plan,
                                                 size_t step, size_t fence)
{
    for (size_t i = 0; i < plan->reading_count; i++)
        if (plan->readings[i].step == step && plan->readings[i].fence == fence)
            return &plan->readings[i];
    return NULL;
}
