/* What a tester should show where the card says to read it: the circuit as it
 * is at that step, with what still stands and what is unhooked. */
#include "live/live.h"

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
    for (size_t i = 0; i < fw_plan__stretch_count(solver); i++) {
        struct fw_plan__stretch_volts found;
        if (!fw_plan__stretch_volts(solver, i, &found) || found.fence != fence)
            continue;
        open_v = fmin(open_v, found.least_open.open_v);
        touched_v = fmin(touched_v, found.least_touched.touched_v);
        if (found.last)
            far_v = fmin(far_v, found.end_v);
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

/* The circuit as it is at that step. */
static enum fw_status solve_step(struct fw_plan__solver *solver, int day,
                                 size_t step, const struct fw_plan_power *power,
                                 struct fw_error *err)
{
    const enum fw_status status =
        fw_plan__days_to_step(&solver->circuits.days, step, err);
    return status ? status : fw_plan__solve(solver, day, power, err);
}

static enum fw_status add_readings(struct fw_plan *plan,
                                   const struct fw_plan__solver *solver,
                                   size_t index, struct fw_error *err)
{
    const struct fw_list lines = plan->time.steps[index].lines;
    const enum fw_status status = fw_array_reserve(
        &plan->readings, &plan->reading_capacity,
        plan->reading_count + lines.count, sizeof *plan->readings, err);
    for (size_t i = 0; !status && i < lines.count; i++)
        plan->readings[plan->reading_count++] =
            read_line(plan, solver, index, plan->time.items[lines.first + i]);
    return status;
}

/* The next step that asks for a reading, from *step on in *move; false: none.
 */
static bool find_read(const struct fw_time *time, size_t *move, size_t *step)
{
    for (; *move < time->move_count; (*move)++) {
        const struct fw_list steps = time->moves[*move].steps;
        if (*step < steps.first)
            *step = steps.first;
        for (; *step < steps.first + steps.count; (*step)++)
            if (time->steps[*step].kind == FW_STEP_READ)
                return true;
    }
    return false;
}

enum fw_status fw_plan__readings(struct fw_plan *plan,
                                 struct fw_plan__solver *solver,
                                 const struct fw_plan_power *power,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    size_t move = 0, step = 0;
    plan->reading_count = 0;
    for (; !status && find_read(&plan->time, &move, &step); step++) {
        status =
            solve_step(solver, plan->time.moves[move].day, step, power, err);
        if (!status)
            status = add_readings(plan, solver, step, err);
    }
    return status;
}

enum fw_status fw_plan__try_readings(const struct fw_plan *plan,
                                     struct fw_plan__solver *solver,
                                     const struct fw_plan_power *power,
                                     bool *enough, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    size_t move = 0, step = 0;
    for (; !status && *enough && find_read(&plan->time, &move, &step); step++) {
        const struct fw_list lines = plan->time.steps[step].lines;
        status =
            solve_step(solver, plan->time.moves[move].day, step, power, err);
        for (size_t i = 0; !status && i < lines.count; i++) {
            const struct fw_plan_reading reading = read_line(
                plan, solver, step, plan->time.items[lines.first + i]);
            *enough = *enough && reading.far_v >= reading.wanted_v;
        }
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
