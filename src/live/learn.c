/* From readings in the field to leakage and earth, and on to every day. */
#include "live/live.h"

#include "base/alloc.h"
#include "base/fail.h"

/* On the bottom strand, or in an earth-return between the two lowest, of which
 * one is hot. */
static bool hold(const struct fw_plan_circuit *circuit,
                 const struct fw_plan_measured *measured,
                 struct fw_circuit_reading *out)
{
    struct fw_circuit_station places[2] = {{0, 0}, {0, 0}};
    const int count = circuit->net.earth_return ? 2 : 1;
    for (int i = 0; i < count; i++)
        if (!fw_plan_circuit_place(circuit, measured->fence, i, measured->at_m,
                                   &places[i]))
            return false;
    const bool turned = circuit->stretches[places[0].section].earth;
    out->place = places[turned];
    out->other = places[!turned];
    return true;
}

static enum fw_status
take_readings(const struct fw_plan *plan, const struct fw_plan_circuit *circuit,
              const struct fw_plan_measured *readings, size_t count,
              struct fw_circuit_reading *out, struct fw_error *err)
{
    for (size_t i = 0; i < count; i++) {
        char day[FW_DATE_TEXT];
        out[i].open_v = readings[i].open_v;
        out[i].across = circuit->net.earth_return;
        if (!hold(circuit, &readings[i], &out[i]))
            return fw_fail(err, FW_EINPUT,
                           "reading %zu: %s does not stand on %s, or is not "
                           "live then; name another day with --on",
                           i + 1, plan->fences[readings[i].fence].id,
                           fw_date_write(circuit->day, day));
    }
    return FW_OK;
}

static enum fw_status fit_readings(const struct fw_plan *plan, int day,
                                   const struct fw_plan_measured *readings,
                                   size_t count, struct fw_circuit_fit *fit,
                                   struct fw_error *err)
{
    struct fw_plan_circuit circuit = {0};
    struct fw_circuit_reading *taken = fw_alloc(count, sizeof *taken);
    if (!taken)
        return fw_fail_memory(err);
    enum fw_status status = fw_plan_circuit_make(plan, day, &circuit, err);
    if (!status)
        status = take_readings(plan, &circuit, readings, count, taken, err);
    if (!status)
        status = fw_circuit_fit(&circuit.net, taken, count, fit, err);
    fw_plan_circuit_release(&circuit);
    fw_free(taken);
    return status;
}

enum fw_status fw_plan_learn(const struct fw_plan *plan, int day,
                             const struct fw_plan_measured *readings,
                             size_t count, struct fw_circuit_fit *fit,
                             struct fw_plan_power_day *rows,
                             struct fw_error *err)
{
    enum fw_status status = fit_readings(plan, day, readings, count, fit, err);
    if (status)
        return status;
    struct fw_plan_power power = plan->power;
    power.earth_ohm = fit->earth_ohm;
    struct fw_plan__solver solver = {0};
    status = fw_plan__circuits_init(&solver.circuits, plan, &plan->wiring, err);
    solver.circuits.leakage_factor = fit->leakage_factor;
    for (size_t i = 0; !status && i < plan->power_day_count; i++) {
        rows[i] = plan->power_days[i];
        status =
            fw_plan__solve_day(&solver, rows[i].from, &power, &rows[i], err);
    }
    fw_plan__solver_release(&solver);
    return status;
}
