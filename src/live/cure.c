/* What would help where the volts are short: each thing tried on the worst
 * day's circuit, by itself. */
#include "base/text.h"
#include "live/live.h"

#include "figures/mark.h"
#include "figures/power.h"
#include "figures/say.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double price(double quantity, double each)
{
    return each < 0 ? -1 : quantity * each;
}

/* Lines with several wires: out and back two strands are one. */
static bool has_wires(const struct fw_plan *plan)
{
    const int of_one = plan->moved.out_and_back ? 2 : 1;
    return plan->moved.strands > of_one;
}

static bool better_wire(const struct fw_plan *plan,
                        struct fw_plan__trial *trial, struct fw_cure *cure)
{
    const struct fw_conductor *wire;
    if (fw_power_conductor_find("poly-copper-1x0.40", &wire, NULL) ||
        !(wire->ohm_m < trial->wiring.moved_ohm_m))
        return false;
    trial->wiring.moved_ohm_m = wire->ohm_m;
    char metres[FW_SAID];
    fw_text_format(
        cure->text, sizeof cure->text,
        "polywire with copper in it (%s, %g ohm/m), %s of it", wire->word,
        wire->ohm_m,
        fw_say_length(ceil(plan->totals.kit.wire_m), plan->units, metres));
    cure->cost =
        price(ceil(plan->totals.kit.wire_m), plan->prices.copper_wire_m);
    return true;
}

static bool bond(const struct fw_plan *plan, struct fw_plan__trial *trial,
                 struct fw_cure *cure)
{
    if (trial->wiring.bonded != FW_BONDED_LIVE_END || !has_wires(plan))
        return false;
    trial->wiring.bonded = FW_BONDED_BOTH_ENDS;
    snprintf(cure->text, sizeof cure->text,
             "join the strands of a moved line at its far end too");
    return true;
}

/* There is something live to hook them on to. */
static bool has_live_side(const struct fw_plan *plan, size_t field)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field == field &&
            fw_plan__is_hot(plan, &plan->fences[i]))
            return true;
    return false;
}

static bool hook_far(const struct fw_plan *plan, size_t fence,
                     struct fw_plan__trial *trial, struct fw_cure *cure)
{
    const bool back = plan->moved.out_and_back && plan->moved.strands > 1;
    if (trial->wiring.far_hooked || fence == FW_NONE ||
        (!back && !has_live_side(plan, plan->fences[fence].field)))
        return false;
    trial->wiring.far_hooked = true;
    if (back) {
        snprintf(cure->text, sizeof cure->text,
                 "hook the second end of each moved wire on at its end A too");
        return true;
    }
    snprintf(cure->text, sizeof cure->text,
             "hook the far ends of the moved lines on to the live boundary "
             "too");
    return true;
}

static bool feed_middle(const struct fw_plan *plan, size_t fence,
                        struct fw_plan__trial *trial)
{
    if (fence == FW_NONE || plan->fences[fence].role == FW_FENCE_PERIMETER)
        return false;
    return trial->middle = true; /* leads are counted when the day is known */
}

static bool mow(struct fw_plan__trial *trial, struct fw_cure *cure)
{
    const double clean_ohm_km = fw_power_leakage(FW_LEAKAGE_CLEAN)->ohm_km;
    struct fw_farm_wiring *wiring = &trial->wiring;
    if (wiring->moved_leak_ohm_km >= clean_ohm_km &&
        wiring->perimeter_leak_ohm_km >= clean_ohm_km)
        return false;
    wiring->moved_leak_ohm_km = fmax(wiring->moved_leak_ohm_km, clean_ohm_km);
    wiring->perimeter_leak_ohm_km =
        fmax(wiring->perimeter_leak_ohm_km, clean_ohm_km);
    snprintf(cure->text, sizeof cure->text,
             "mow under the wires, of the boundary too");
    cure->cost = -1;
    return true;
}

static bool one_more_rod(const struct fw_plan *plan,
                         struct fw_plan__trial *trial, struct fw_cure *cure)
{
    struct fw_rod rod = fw_power_rod();
    const int driven =
        trial->wiring.rods > 0 ? trial->wiring.rods : plan->energizer.rods;
    if (trial->wiring.moves)
        rod.length_m = plan->energizer.rod_m;
    double with_ohm = 0, without_ohm = 0;
    if (fw_power_earth_ohm(trial->wiring.soil_ohm_m, &rod, driven, &without_ohm,
                           NULL) ||
        fw_power_earth_ohm(trial->wiring.soil_ohm_m, &rod, driven + 1,
                           &with_ohm, NULL))
        return false;
    trial->power.earth_ohm *= with_ohm / without_ohm;
    snprintf(cure->text, sizeof cure->text,
             "one earth rod more, %d instead of %d", driven + 1, driven);
    cure->cost = plan->prices.earth_rod;
    return true;
}

static bool larger(const struct fw_plan *plan, struct fw_plan__trial *trial,
                   struct fw_cure *cure)
{
    struct fw_farm_wiring wiring = trial->wiring;
    wiring.open_v = wiring.internal_ohm = 0; /* of another energizer */
    wiring.earth_return = plan->power.earth_return ? FW_YES : FW_NO;
    for (size_t i = 0; i < FW_PLAN__SIZES; i++) {
        struct fw_plan__size size;
        if (!(FW_GUESS_OPEN_V_AT[i] >
              plan->energizer.joules * (1 + FW_TOLERANCE(0.001))) ||
            fw_plan__size(plan, &wiring, FW_GUESS_OPEN_V_AT[i], &size, NULL) ||
            size.power.internal_ohm > trial->power.internal_ohm)
            continue;
        size.power.open_v = fmax(trial->power.open_v, size.power.open_v);
        trial->power = size.power;
        const int rods = size.rods - plan->energizer.rods;
        const int shown =
            fw_text_format(cure->text, sizeof cure->text,
                           "an energizer of %g J instead of %.3g J",
                           size.joules, plan->energizer.joules);
        if (rods > 0)
            snprintf(cure->text + shown, sizeof cure->text - (size_t)shown,
                     ", and %d rods instead of %d", size.rods,
                     plan->energizer.rods);
        cure->cost =
            price(size.joules - plan->energizer.joules, plan->prices.joule);
        if (cure->cost >= 0 && rods > 0)
            cure->cost = plan->prices.earth_rod < 0
                             ? -1
                             : cure->cost + rods * plan->prices.earth_rod;
        return true;
    }
    return false;
}

bool fw_plan__change(const struct fw_plan *plan,
                     const struct fw_plan_power_day *day,
                     struct fw_plan__trial *trial, struct fw_cure *cure)
{
    switch (cure->kind) {
    case FW_CURE_CONDUCTOR:
        return better_wire(plan, trial, cure);
    case FW_CURE_BOND:
        return bond(plan, trial, cure);
    case FW_CURE_HOOK:
        return hook_far(plan, day->fence, trial, cure);
    case FW_CURE_MIDDLE:
        return feed_middle(plan, day->fence, trial);
    case FW_CURE_MOW:
        return mow(trial, cure);
    case FW_CURE_ROD:
        return one_more_rod(plan, trial, cure);
    case FW_CURE_ENERGIZER:
        return larger(plan, trial, cure);
    default:
        return false;
    }
}

/* Half of each moved line that stands. */
static double leads_m(const struct fw_plan__circuits *circuits)
{
    double sum_m = 0;
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence =
            &circuits->plan->fences[circuits->live[i]];
        if (fence->role != FW_FENCE_PERIMETER)
            sum_m += fence->length_m / 2;
    }
    return sum_m;
}

static enum fw_status reckon(struct fw_plan__solver *solver,
                             const struct fw_plan_power_day *day,
                             const struct fw_plan__trial *trial,
                             struct fw_cure *cure, struct fw_error *err)
{
    const struct fw_plan *plan = solver->circuits.plan;
    struct fw_plan_power_day with = *day;
    solver->circuits.wiring = &trial->wiring;
    solver->circuits.middle = trial->middle;
    const enum fw_status status =
        fw_plan__solve_day(solver, day->from, &trial->power, &with, err);
    if (!status && trial->middle) {
        const double metres = ceil(leads_m(&solver->circuits));
        char leads[FW_SAID];
        snprintf(cure->text, sizeof cure->text,
                 "feed the moved lines in their middle, by leads of %s in all",
                 fw_say_length(metres, plan->units, leads));
        cure->cost = price(metres, plan->prices.lead_m);
    }
    cure->touched_v = with.touched_v;
    cure->open_v = with.least_open_v;
    cure->gain_v = with.touched_v - day->touched_v;
    cure->enough = with.enough;
    return status;
}

/* Where a price is not told the kinds keep their order, which is by what they
 * commonly cost. */
static void put_cheapest_first(struct fw_cure *cures, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (cures[i].cost < 0)
            return;
    for (size_t i = 1; i < count; i++)
        for (size_t k = i; k > 0 && cures[k].cost < cures[k - 1].cost; k--) {
            const struct fw_cure cheaper = cures[k];
            cures[k] = cures[k - 1];
            cures[k - 1] = cheaper;
        }
}

enum fw_status fw_plan_cures(const struct fw_plan *plan, size_t row,
                             struct fw_cure cures[FW_CURE_COUNT], size_t *count,
                             struct fw_error *err)
{
    const struct fw_plan_power_day *day = &plan->power_days[row];
    struct fw_plan__solver solver = {0};
    enum fw_status status =
        fw_plan__circuits_init(&solver.circuits, plan, &plan->wiring, err);
    size_t n = 0;
    for (int kind = 0; !status && kind < FW_CURE_COUNT; kind++) {
        struct fw_plan__trial trial = {plan->wiring, plan->power, false};
        cures[n] = (struct fw_cure){.kind = (enum fw_cure_kind)kind};
        if (!fw_plan__change(plan, day, &trial, &cures[n]))
            continue;
        status = reckon(&solver, day, &trial, &cures[n], err);
        n++;
    }
    fw_plan__solver_release(&solver);
    put_cheapest_first(cures, n);
    *count = n;
    return status;
}
