/* The power of the plan: the energizer and its earth chosen, and what is to be
 * said of them. */
#include "around/around.h"
#include "live/live.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "figures/say.h"

#include <math.h>
#include <stdio.h>

static bool is_dead(const struct fw_plan_fence *fence, bool side)
{
    return fence->volts_known && !(fence->open_v > 0) &&
           (fence->role == FW_FENCE_PERIMETER) == side;
}

/* Names of what has no path, with commas; how many there are. */
static size_t name_dead(const struct fw_plan *plan, bool sides,
                        struct fw_text *names)
{
    enum { most_named = FW_EFFORT(6) };
    size_t count = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (!is_dead(fence, sides))
            continue;
        if (count < most_named)
            fw_text_addf(names, "%s%s", count ? ", " : "", fence->id);
        count++;
    }
    if (count > most_named)
        fw_text_addf(names, " and %zu more", count - most_named);
    return count;
}

static enum fw_status note_dead(struct fw_plan *plan, bool sides,
                                struct fw_error *err)
{
    struct fw_text names = {0};
    const size_t count = name_dead(plan, sides, &names);
    enum fw_status status = count ? fw_text_done(&names, err) : FW_OK;
    if (!status && count > 0)
        status = fw_notes_add(
            &plan->notes, FW_LEVEL_DANGER, names.bytes, err, "%s",
            sides ? "said to be hot, and nothing hot joins it to the "
                    "energizer: in this sum it is dead"
                  : "no path to the energizer");
    fw_text_release(&names);
    return status;
}

static const struct fw_safety_rule *path_rule(void)
{
    size_t count;
    const struct fw_safety_rule *rule = fw_safety_rules(&count);
    while (rule->check != FW_CHECK_CIRCUIT) /* there is one */
        rule++;
    return rule;
}

/* Its place is the middle of the line. */
static enum fw_status find_dead_line(struct fw_plan_job *job, size_t index,
                                     struct fw_error *err)
{
    const struct fw_plan_fence *fence = &job->plan->fences[index];
    const struct fw_plan_field *field = &job->plan->fields[fence->field];
    struct fw_plan__around around = {.job = job, .field = fence->field};
    struct fw_point *points = fw_alloc(fence->line_count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < fence->line_count; i++)
        points[i] = fw_plan__at(field, fence->line[i]);
    const struct fw_point middle =
        fw_safety_along(points, fence->line_count,
                        fw_line_length_m(points, fence->line_count, false) / 2);
    fw_free(points);
    const struct fw_plan__found found = {
        .rule = path_rule(),
        .fence = index,
        .where = &middle,
        .wanted_m = -1,
        .level = FW_LEVEL_DANGER,
    };
    return fw_plan__find(&around, &found, err);
}

static enum fw_status find_dead(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->plan->fence_count; i++)
        if (is_dead(&job->plan->fences[i], false))
            status = find_dead_line(job, i, err);
    return status;
}

/* "; mow under the wires: 2.1 kV, enough" */
static void tell_cures(struct fw_text *text, const struct fw_cure *cures,
                       size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (cures[i].gain_v >= FW_CURE_LEAST_V)
            fw_text_addf(text, "; %s: %+.0f V%s", cures[i].text,
                         cures[i].gain_v, cures[i].enough ? ", enough" : "");
}

/* To a decimal, so that too little never reads as enough. */
static double down_kv(double volts)
{
    return floor(volts / 100) / 10;
}

static enum fw_status note_short(struct fw_plan *plan, struct fw_error *err)
{
    size_t row = fw_plan_worst_day(plan), bad = 0;
    for (size_t i = plan->power_day_count; i-- > 0;) {
        if (plan->power_days[i].enough)
            continue;
        bad++;
        if (row == FW_NONE || plan->power_days[row].enough)
            row = i;
    }
    if (bad == 0)
        return FW_OK;
    const struct fw_plan_power_day *day = &plan->power_days[row];
    struct fw_cure cures[FW_CURE_COUNT];
    size_t count;
    enum fw_status status = fw_plan_cures(plan, row, cures, &count, err);
    if (status)
        return status;
    char from[FW_DATE_TEXT], at[FW_SAID];
    struct fw_text text = {0};
    fw_text_addf(
        &text,
        "on %s a sheep would feel %.1f kV (%.2g are wanted) at %s "
        "from A, and a tester show %.1f kV at the least (%.2g are "
        "wanted); what each of these would add there, the cheapest first",
        fw_date_write(day->from, from),
        fw_say_round(day->touched_v / 1000, 1, FW_DOWN),
        plan->energizer.touched_v / 1000,
        fw_say_length(day->at_m, plan->units, at),
        fw_say_round(day->least_open_v / 1000, 1, FW_DOWN),
        plan->energizer.open_v / 1000);
    tell_cures(&text, cures, count);
    status = fw_text_done(&text, err);
    if (!status)
        status =
            fw_notes_add(&plan->notes, FW_LEVEL_WARNING,
                         plan->fences[day->fence].id, err, "%s", text.bytes);
    fw_text_release(&text);
    return status;
}

/* Before so large a one is bought. */
static enum fw_status note_cheaper(struct fw_plan *plan, struct fw_error *err)
{
    struct fw_cure cure;
    const enum fw_status status = fw_plan__cheaper(plan, &cure, err);
    if (status || !(cure.joules > 0))
        return status;
    struct fw_text money = {0};
    if (cure.cost == 0)
        fw_text_add(&money, " (nothing to buy)");
    else if (cure.cost > 0)
        fw_text_addf(&money, " (%.0f %s)", cure.cost, plan->currency);
    fw_text_addf(&money, ": %g J and %d rod%s are enough then", cure.joules,
                 cure.rods, cure.rods == 1 ? "" : "s");
    if (cure.saves > 0)
        fw_text_addf(&money, ", which cost %.0f %s less", cure.saves,
                     plan->currency);
    enum fw_status done = fw_text_done(&money, err);
    if (!done)
        done = fw_notes_add(
            &plan->notes, FW_LEVEL_NOTE, "energizer", err,
            "before one of %.3g J with %d rods is bought, %s%s (%+.0f V for a "
            "sheep at the worst place)",
            plan->energizer.joules, plan->energizer.rods, cure.text,
            money.bytes, cure.gain_v);
    fw_text_release(&money);
    return done;
}

static enum fw_status note_energizer(struct fw_plan *plan, struct fw_error *err)
{
    if (!(plan->energizer.joules > FW_PULSE_MOST_J))
        return FW_OK;
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, "energizer", err,
        "%.3g J is over the 5 J at 500 ohm that IEC 60335-2-76 allows "
        "without a delay: ask the maker, or split the fence",
        plan->energizer.joules);
}

static enum fw_status note_return(struct fw_plan *plan, struct fw_error *err)
{
    const struct fw_earth_return *how =
        fw_power_earth_return(plan->moved.strands);
    const size_t worst = fw_plan_worst_day(plan);
    if (worst == FW_NONE)
        return FW_OK;
    const struct fw_plan_power_day *day = &plan->power_days[worst];
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, "earth-return", err,
        "in soil of %g ohm m %s: %s. Between both kinds of wire a sheep gets "
        "%.1f kV at the least; of a hot wire alone, standing on this ground, "
        "%.1f kV, whatever the rods. The cost: %s",
        plan->wiring.soil_ohm_m,
        plan->wiring.earth_return == FW_YES
            ? "a strand is told to be the return"
            : "too little comes back through the ground, with any energizer "
              "tried",
        how->wiring, down_kv(day->touched_v), down_kv(day->alone_v), how->cost);
}

static enum fw_status note_earth(struct fw_plan *plan, struct fw_error *err)
{
    const struct fw_plan_power *power = &plan->power;
    const struct fw_farm_wiring *wiring = &plan->wiring;
    enum fw_status status =
        power->earth_return ? note_return(plan, err) : FW_OK;
    if (status)
        return status;
    if (power->decided == FW_EARTH_MOST && !(wiring->earth_ohm > 0)) {
        status = fw_notes_add(
            &plan->notes, FW_LEVEL_WARNING, "earth", err,
            "no number of rods that anybody would drive passes the test in "
            "soil of %g ohm m; %d are the most that help, and the last of "
            "them would still read %.2g kV (%.2g at most). Earth it where it "
            "is damp",
            wiring->soil_ohm_m, plan->energizer.rods, power->rod_test_v / 1000,
            wiring->rod_v / 1000);
    } else if (wiring->rods > 0 && wiring->rods < plan->energizer.rods) {
        status = fw_notes_add(&plan->notes, FW_LEVEL_WARNING, "earth", err,
                              "%d rod%s driven; %d are asked for, %d by the "
                              "joules and %d by the test",
                              wiring->rods, wiring->rods > 1 ? "s are" : " is",
                              plan->energizer.rods, power->rods_by_joules,
                              power->rods_by_test);
    }
    return status;
}

/* Does the farm's own joule rule set the size, and not the volts? It does
 * where the next lesser size is less than it asks for. */
static bool rule_decides(const struct fw_plan_job *job)
{
    const struct fw_energizer *energizer = &job->plan->energizer;
    double lesser_j = 0;
    for (size_t i = 0; i < FW_PLAN__SIZES; i++)
        if (FW_GUESS_OPEN_V_AT[i] < energizer->joules)
            lesser_j = FW_GUESS_OPEN_V_AT[i];
    return job->farm->rule_told && lesser_j < energizer->need_j;
}

static const char *size_source(const struct fw_plan_job *job)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_joule_row *rule = fw_power_rule(job->farm->joule_rule);
    if (plan->wiring.open_v > 0)
        return "its data sheet";
    if (plan->energizer.given)
        return "the farm's own";
    const size_t worst = fw_plan_worst_day(plan);
    bool enough = true;
    for (size_t i = 0; i < plan->power_day_count; i++)
        enough = enough && plan->power_days[i].enough;
    if (worst == FW_NONE)
        return "nothing is live; the least common size";
    if (enough)
        return rule_decides(job)
                   ? rule->decides
                   : "the least common size with enough volts on every day";
    return plan->energizer.joules < plan->energizer.need_j
               ? "the greatest common size, and it is not enough"
               : rule->short_of;
}

static const char *rod_source(const struct fw_plan *plan)
{
    if (plan->wiring.moves)
        return "its own rod, moved with it: common practice, no source";
    if (plan->power.decided == FW_EARTH_MOST)
        return "the most that help, since no number passes the test of the "
               "earth: docs/guide/power.md";
    if (plan->power.decided == FW_EARTH_TEST)
        return "the test of the earth, last rod at no more than its limit: "
               "docs/guide/power.md";
    return plan->energizer.rod_source;
}

static void take_size(const struct fw_plan_job *job,
                      const struct fw_plan__size *size)
{
    struct fw_plan *plan = job->plan;
    struct fw_energizer *energizer = &plan->energizer;
    plan->power = size->power;
    energizer->joules = size->joules;
    energizer->given = energizer->given || plan->wiring.open_v > 0;
    energizer->rods = size->rods;
    energizer->rod_m = plan->wiring.moves ? fmin(energizer->rod_m, 1)
                                          : fw_power_rod().length_m;
    energizer->rod_metres = FW_ROD_A_JOULE_M * size->joules;
    energizer->rule_source = size_source(job);
    energizer->rod_source = rod_source(plan);
}

enum fw_status fw_plan__power(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan__size size = {0};
    enum fw_status status = fw_plan__power_days(job, &size, err);
    if (status)
        return status;
    take_size(job, &size);
    status = note_energizer(plan, err);
    if (!status)
        status = note_earth(plan, err);
    if (!status)
        status = note_dead(plan, false, err);
    if (!status)
        status = note_dead(plan, true, err);
    if (!status)
        status = find_dead(job, err);
    if (!status)
        status = note_short(plan, err);
    return status ? status : note_cheaper(plan, err);
}

enum fw_status fw_plan_feed(const struct fw_plan *plan,
                            struct fw_plan_feeding *out, struct fw_error *err)
{
    const struct fw_farm_wiring *wiring = &plan->wiring;
    struct fw_plan_feeding feeding = {0};
    struct fw_solar solar;
    double cost;
    enum fw_status status = fw_power_draw_w(
        plan->energizer.joules, wiring->interval_s, &feeding.draw_w, err);
    if (status)
        return status;
    feeding.draw_a = feeding.draw_w / FW_BATTERY_V;
    status = fw_power_battery_ah(feeding.draw_a, wiring->charge_days,
                                 &feeding.battery_ah, err);
    if (!status)
        status =
            fw_power_mains(feeding.draw_w, 0, &feeding.kwh_month, &cost, err);
    if (!status && !fw_power_solar(feeding.draw_a, FW_BATTERY_V, wiring->sun_h,
                                   FW_PANEL_MARGIN, &solar, NULL))
        feeding.panel_w = solar.buy_w;
    if (!status)
        *out = feeding;
    return status;
}
