/* The power of a plan: what drives the fences, what it stands on, and what they
 * have on each day. */
#include "report/report.h"

#include "base/fail.h"
#include "figures/power.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double kv = 1000;

static void line(struct fw_text *text, const char *label, struct fw_text *words)
{
    fw_text_addf(text, "%-11s", label);
    fw_report__fold_text(text, 11, words);
}

static void energizer(struct fw_text *text, const struct fw_plan *plan)
{
    const struct fw_energizer *set = &plan->energizer;
    char joules[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words,
                 "%s J of output (%s); %.1f kV without a fence, %.0f ohm "
                 "inside it%s.",
                 fw_report_number(set->joules, joules),
                 fw_report__source(set->rule_source), plan->power.open_v / kv,
                 plan->power.internal_ohm,
                 plan->wiring.moves ? "; it goes with the flock" : "");
    if (set->joules > FW_PULSE_MOST_J)
        fw_text_add(&words, " That is over the 5 J at 500 ohm that IEC "
                            "60335-2-76 allows without a delay.");
    line(text, "Energizer", &words);
}

static void earth(struct fw_text *text, const struct fw_plan *plan)
{
    const struct fw_plan_power *power = &plan->power;
    const struct fw_farm_wiring *wiring = &plan->wiring;
    char rod[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words, "%d rod%s of %s", plan->energizer.rods,
                 plan->energizer.rods == 1 ? "" : "s",
                 fw_report_length(plan->energizer.rod_m, plan->units, rod));
    if (wiring->rods > 0 && wiring->rods != plan->energizer.rods)
        fw_text_addf(&words, ", of which %d %s driven", wiring->rods,
                     wiring->rods == 1 ? "is" : "are");
    fw_text_addf(&words, ": the joules ask for %d, ", power->rods_by_joules);
    if (power->earth_return)
        fw_text_add(&words, "and what the test asks for counts little, since a "
                            "strand brings the current back. ");
    else if (power->rods_by_test > 0)
        fw_text_addf(&words, "the test for %d. ", power->rods_by_test);
    else
        fw_text_addf(&words,
                     "and no number passes the test in this soil: %d are the "
                     "most that help. ",
                     plan->energizer.rods);
    fw_text_addf(&words,
                 "About %.0f ohm%s; with the fence shorted to 2 kV the "
                 "last rod should read about %.2g kV (%.2g at most).",
                 power->earth_ohm, wiring->earth_ohm > 0 ? ", measured" : "",
                 power->rod_test_v / kv, wiring->rod_v / kv);
    line(text, "Earth", &words);
}

/* Which wire of the boundary is the earth. */
static const char *of_boundary(const struct fw_plan *plan)
{
    return plan->wiring.perimeter_strands > 2
               ? "every second live wire of the boundary, from the bottom, is "
                 "an earth too"
           : plan->wiring.perimeter_strands == 2
               ? "the lower live wire of the boundary is an earth too"
               : "an earth wire goes along the boundary beside its live one";
}

static void earth_return(struct fw_text *text, const struct fw_plan *plan)
{
    const struct fw_earth_return *how =
        fw_power_earth_return(plan->moved.strands);
    struct fw_text words = {0};
    if (!plan->power.earth_return)
        return;
    fw_text_addf(&words,
                 "%s (%s). Where the boundary is live %s; where it is not a "
                 "second lead goes with the first. Earth strands are hooked on "
                 "to earth wires where hot ones are to hot ones, and never one "
                 "to the other. The cost: %s.",
                 how->wiring, how->source, of_boundary(plan), how->cost);
    line(text, "Return", &words);
}

static enum fw_status feeding(struct fw_text *text, const struct fw_plan *plan,
                              struct fw_error *err)
{
    struct fw_plan_feeding feed;
    struct fw_text words = {0};
    const enum fw_status status = fw_plan_feed(plan, &feed, err);
    if (status)
        return status;
    fw_text_addf(&words,
                 "about %.2g W, a pulse each %.2g s: a 12 V battery of %.0f Ah "
                 "for %.0f days between charges",
                 feed.draw_w, plan->wiring.interval_s, feed.battery_ah,
                 plan->wiring.charge_days);
    if (feed.panel_w > 0)
        fw_text_addf(&words, ", with a panel of %.0f W for %.2g h of full sun",
                     feed.panel_w, plan->wiring.sun_h);
    if (!plan->wiring.moves)
        fw_text_addf(&words, "; or %.2g kWh a month from the mains",
                     feed.kwh_month);
    fw_text_add(&words, ".");
    line(text, "Feeding", &words);
    return FW_OK;
}

static void wanted(struct fw_text *text, const struct fw_plan *plan)
{
    struct fw_text words = {0};
    fw_text_addf(&words, "%.2g kV on a tester, %.2g kV while touched (%s).",
                 plan->energizer.open_v / kv, plan->energizer.touched_v / kv,
                 fw_report__source(plan->energizer.volt_source));
    line(text, "Wanted", &words);
}

static void learned(struct fw_text *text, const struct fw_circuit_fit *fit)
{
    struct fw_text words = {0};
    fw_text_addf(&words, "the fence leaks %.2g times what was taken",
                 fit->leakage_factor);
    if (fit->spread_known)
        fw_text_addf(&words, " (give or take %.1g)", fit->leakage_spread);
    if (fit->unknowns > 1) {
        fw_text_addf(&words, "; the earth has %.0f ohm", fit->earth_ohm);
        if (fit->spread_known)
            fw_text_addf(&words, " (give or take %.0f)", fit->earth_spread_ohm);
    } else {
        fw_text_add(&words, "; these readings do not tell the earth apart "
                            "from the grass: read at the energizer and at a "
                            "far end");
    }
    fw_text_addf(&words, ". They differ from that by %.2g kV.",
                 fit->misfit_v / kv);
    if (fit->at_bound)
        fw_text_add(&words, " No grass explains them: look for a fault.");
    fw_text_add(&words, " The days below are reckoned with it.");
    line(text, "Readings", &words);
}

static void day_row(struct fw_text *text, const struct fw_plan *plan,
                    const struct fw_plan_power_day *row)
{
    char from[FW_WORDS], at[FW_WORDS];
    fw_text_addf(text, "%-11s", fw_report_day(row->from, false, from));
    if (row->fence == FW_NONE) {
        fw_text_add(text, "nothing is live\n");
        return;
    }
    fw_text_addf(text, "%4.1f kV %10.1f kV %9.1f kV",
                 fw_report_down_kv(row->source_v),
                 fw_report_down_kv(row->least_open_v),
                 fw_report_down_kv(row->touched_v));
    if (plan->power.earth_return)
        fw_text_addf(text, " %9.1f kV", fw_report_down_kv(row->alone_v));
    fw_text_addf(
        text, "  %s along %s%s", fw_report_length(row->at_m, plan->units, at),
        plan->fences[row->fence].id, row->enough ? "" : "  too little");
    if (row->dead > 0)
        fw_text_addf(text, "  %d dead", row->dead);
    fw_text_add(text, "\n");
}

static void days(struct fw_text *text, const struct fw_plan *plan,
                 const struct fw_plan_power_day *rows)
{
    const bool two = plan->power.earth_return;
    fw_text_addf(text, "\n%-11s%7s%14s%13s", "each day", "source", "least on",
                 two ? "of two" : "a sheep");
    if (two)
        fw_text_addf(text, "%13s", "of one");
    fw_text_addf(text, "\n%-11s%7s%14s%13s", "from", "", "a tester",
                 two ? "wires" : "feels");
    if (two)
        fw_text_addf(text, "%13s", "alone");
    fw_text_add(text, "  where a sheep feels least\n");
    for (size_t i = 0; i < plan->power_day_count; i++)
        day_row(text, plan, &rows[i]);
}

static void fences(struct fw_text *text, const struct fw_plan *plan)
{
    fw_text_add(text, "\nfence          least on a tester  while touched\n");
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (!fence->volts_known)
            continue;
        if (fence->open_v > 0)
            fw_text_addf(text, "%-14s %14.1f kV %11.1f kV\n", fence->id,
                         fw_report_down_kv(fence->open_v),
                         fw_report_down_kv(fence->touched_v));
        else
            fw_text_addf(text, "%-14s no path to the energizer\n", fence->id);
    }
}

/* "12 EUR", "nothing to buy"; nothing where no price is told. */
static void cost_of(struct fw_text *words, const struct fw_plan *plan,
                    const struct fw_cure *cure)
{
    if (cure->cost == 0)
        fw_text_add(words, " (nothing to buy)");
    else if (cure->cost > 0)
        fw_text_addf(words, " (%.0f %s)", cure->cost, plan->currency);
}

static enum fw_status say_cure(struct fw_text *text, const struct fw_plan *plan,
                               struct fw_cure *cure, struct fw_error *err)
{
    struct fw_text words = {0};
    const enum fw_status status = fw_plan_saves(plan, cure, err);
    fw_text_add(&words, cure->text);
    cost_of(&words, plan, cure);
    fw_text_addf(&words,
                 ": a sheep would feel %.1f kV at the worst place (%+.0f V), "
                 "and a tester show %.1f%s.",
                 fw_report_down_kv(cure->touched_v), cure->gain_v,
                 fw_report_down_kv(cure->open_v),
                 cure->enough ? "; enough" : "");
    if (cure->joules > 0)
        fw_text_addf(&words, " %g J and %d rod%s would do on every day then",
                     cure->joules, cure->rods, cure->rods == 1 ? "" : "s");
    if (cure->joules > 0 && cure->saves > 0)
        fw_text_addf(&words, ", for %.0f %s less", cure->saves, plan->currency);
    fw_text_add(&words, cure->joules > 0 ? "." : "");
    fw_text_add(text, "  - ");
    fw_report__fold_text(text, 4, &words);
    return status;
}

/* Where the volts are short, or a smaller energizer might do. */
static enum fw_status cures(struct fw_text *text, const struct fw_plan *plan,
                            struct fw_error *err)
{
    const size_t row = fw_plan_worst_day(plan);
    struct fw_cure found[FW_CURE_COUNT];
    size_t count = 0;
    if (row == FW_NONE ||
        (plan->power_days[row].enough && plan->energizer.given))
        return FW_OK;
    enum fw_status status = fw_plan_cures(plan, row, found, &count, err);
    char day[FW_WORDS];
    fw_text_addf(text,
                 "\nWhat would %s on %s, each by itself, the cheapest "
                 "first\n",
                 plan->power_days[row].enough ? "add volts" : "help",
                 fw_report_day(plan->power_days[row].from, false, day));
    for (size_t i = 0; !status && i < count; i++)
        status = say_cure(text, plan, &found[i], err);
    return status;
}

enum fw_status fw_report_power(const struct fw_plan *plan,
                               const struct fw_circuit_fit *fit,
                               const struct fw_plan_power_day *rows, char **out,
                               struct fw_error *err)
{
    struct fw_text text = {0};
    fw_report_first(&text);
    energizer(&text, plan);
    earth(&text, plan);
    earth_return(&text, plan);
    enum fw_status status = feeding(&text, plan, err);
    wanted(&text, plan);
    if (fit)
        learned(&text, fit);
    days(&text, plan, rows ? rows : plan->power_days);
    if (!fit)
        fences(&text, plan);
    if (!status && !fit)
        status = cures(&text, plan, err);
    fw_text_add(&text, "\n");
    fw_report_fold(&text, 0, fw_report_sum_words);
    if (status) {
        fw_text_release(&text);
        return status;
    }
    return fw_report_give(&text, out, NULL, err);
}
