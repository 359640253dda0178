/* What a cure saves: the least energizer that is enough on every day with it.
 */
#include "figures/power.h"
#include "live/live.h"

#include <math.h>

/* The worst day first: most sizes fall short there. */
static enum fw_status try_days(const struct fw_plan *plan,
                               struct fw_plan__solver *solver, size_t worst,
                               const struct fw_plan_power *power, bool *enough,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    *enough = true;
    for (size_t i = 0; !status && *enough && i <= plan->power_day_count; i++) {
        const size_t row = i == 0 ? worst : i - 1;
        struct fw_plan_power_day day = plan->power_days[row];
        status = fw_plan__solve_day(solver, day.from, power, &day, err);
        *enough = day.enough;
    }
    return status ? status
                  : fw_plan__try_readings(plan, solver, power, enough, err);
}

/* What both cost less than the plan's own; negative where no price is told, or
 * they do not cost less. */
static double saving(const struct fw_plan *plan,
                     const struct fw_plan__size *size)
{
    const struct fw_plan_prices *prices = &plan->prices;
    const int rods = plan->energizer.rods - size->rods;
    if (size->joules > plan->energizer.joules || prices->joule < 0 ||
        (rods != 0 && prices->earth_rod < 0))
        return -1;
    return (plan->energizer.joules - size->joules) * prices->joule +
           (rods != 0 ? rods * prices->earth_rod : 0);
}

static enum fw_status try_sizes(const struct fw_plan *plan, size_t worst,
                                double most_j, struct fw_plan__trial *trial,
                                struct fw_cure *cure, struct fw_error *err)
{
    struct fw_plan__solver solver = {0};
    enum fw_status status =
        fw_plan__circuits_init(&solver.circuits, plan, &trial->wiring, err);
    solver.circuits.middle = trial->middle;
    trial->wiring.open_v = trial->wiring.internal_ohm = 0; /* another one's */
    trial->wiring.earth_return = plan->power.earth_return ? FW_YES : FW_NO;
    for (size_t i = 0; !status && !(cure->joules > 0) && i < FW_PLAN__SIZES;
         i++) {
        struct fw_plan__size size;
        bool enough = false;
        if (FW_GUESS_OPEN_V_AT[i] < plan->power.least_j ||
            FW_GUESS_OPEN_V_AT[i] > most_j ||
            (plan->power_days[worst].enough &&
             !(FW_GUESS_OPEN_V_AT[i] < plan->energizer.joules)))
            continue;
        status = fw_plan__size(plan, &trial->wiring, FW_GUESS_OPEN_V_AT[i],
                               &size, err);
        if (!status)
            status = try_days(plan, &solver, worst, &size.power, &enough, err);
        if (status || !enough)
            continue;
        cure->joules = size.joules;
        cure->rods = size.rods;
        cure->saves = saving(plan, &size);
    }
    fw_plan__solver_release(&solver);
    return status;
}

/* Of the sizes up to most_j: what is solved for larger ones is thrown away
 * where only a smaller one is worth a word. */
static enum fw_status find_size(const struct fw_plan *plan, double most_j,
                                struct fw_cure *cure, struct fw_error *err)
{
    const size_t worst = fw_plan_worst_day(plan);
    struct fw_plan__trial trial = {plan->wiring, plan->power, false};
    struct fw_cure named = *cure;
    cure->joules = cure->saves = 0;
    cure->rods = 0;
    if (worst == FW_NONE || cure->kind == FW_CURE_ROD ||
        cure->kind == FW_CURE_ENERGIZER ||
        !fw_plan__change(plan, &plan->power_days[worst], &trial, &named))
        return FW_OK;
    return try_sizes(plan, worst, most_j, &trial, cure, err);
}

enum fw_status fw_plan_saves(const struct fw_plan *plan, struct fw_cure *cure,
                             struct fw_error *err)
{
    return find_size(plan, (double)INFINITY, cure, err);
}

enum fw_status fw_plan__cheaper(const struct fw_plan *plan, struct fw_cure *out,
                                struct fw_error *err)
{
    const double least_j = 0.5; /* not worth a word: common practice */
    const size_t worst = fw_plan_worst_day(plan);
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count = 0;
    *out = (struct fw_cure){.joules = 0};
    if (worst == FW_NONE || plan->energizer.given ||
        plan->energizer.joules < FW_GUESS_OPEN_V_AT[0] + least_j)
        return FW_OK;
    enum fw_status status = fw_plan_cures(plan, worst, cures, &count, err);
    const double most_j = plan->energizer.joules - least_j;
    for (size_t i = 0; !status && !(out->joules > 0) && i < count; i++) {
        status = find_size(plan, most_j, &cures[i], err);
        if (!status && cures[i].joules > 0)
            *out = cures[i];
    }
    return status;
}
