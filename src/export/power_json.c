/* The power of a plan for machines. */
#include "export/export.h"

#include "base/fail.h"
#include "figures/power.h"

#include <math.h>

static void number(struct fw_text *text, const char *name, double value)
{
    fw_text_addf(text, "\"%s\": ", name);
    fw_text_add_number(text, value);
}

static void more(struct fw_text *text, const char *name, double value)
{
    fw_text_add(text, ", ");
    number(text, name, value);
}

static void string(struct fw_text *text, const char *name, const char *value)
{
    fw_text_addf(text, "\"%s\": ", name);
    if (value)
        fw_text_add_json(text, value);
    else
        fw_text_add(text, "null");
}

static void flag(struct fw_text *text, const char *name, bool value)
{
    fw_text_addf(text, ", \"%s\": %s", name, value ? "true" : "false");
}

/* null: no price is told. */
static void money(struct fw_text *text, const char *name, double value)
{
    if (value < 0)
        fw_text_addf(text, ", \"%s\": null", name);
    else
        more(text, name, value);
}

static void set(struct fw_text *text, const struct fw_plan *plan)
{
    static const char *const decided[] = {"joules", "test", "most"};
    const struct fw_plan_power *power = &plan->power;
    fw_text_add(text, "  \"energizer\": {");
    number(text, "joules", plan->energizer.joules);
    more(text, "open_v", power->open_v);
    more(text, "internal_ohm", power->internal_ohm);
    fw_text_add(text, ", ");
    string(text, "source", plan->energizer.rule_source);
    flag(text, "moves", plan->wiring.moves);
    flag(text, "over_5_j", plan->energizer.joules > FW_PULSE_MOST_J);
    fw_text_add(text, "},\n  \"earth\": {");
    number(text, "rods", plan->energizer.rods);
    more(text, "rod_m", plan->energizer.rod_m);
    more(text, "rods_by_joules", power->rods_by_joules);
    more(text, "rods_by_test", power->rods_by_test);
    fw_text_add(text, ", ");
    string(text, "decided", decided[power->decided]);
    more(text, "ohm", power->earth_ohm);
    more(text, "rod_test_v", power->rod_test_v);
    flag(text, "earth_return", power->earth_return);
    fw_text_add(text, "},\n  \"wanted\": {");
    number(text, "open_v", plan->energizer.open_v);
    more(text, "touched_v", plan->energizer.touched_v);
    fw_text_add(text, ", ");
    string(text, "source", plan->energizer.volt_source);
    fw_text_add(text, "},\n");
}

static enum fw_status feeding(struct fw_text *text, const struct fw_plan *plan,
                              struct fw_error *err)
{
    struct fw_plan_feeding feed;
    const enum fw_status status = fw_plan_feed(plan, &feed, err);
    if (status)
        return status;
    fw_text_add(text, "  \"feeding\": {");
    number(text, "draw_w", feed.draw_w);
    more(text, "draw_a", feed.draw_a);
    more(text, "battery_ah", feed.battery_ah);
    more(text, "charge_days", plan->wiring.charge_days);
    more(text, "panel_w", feed.panel_w > 0 ? feed.panel_w : (double)NAN);
    more(text, "sun_h", plan->wiring.sun_h);
    more(text, "kwh_month", feed.kwh_month);
    fw_text_add(text, "},\n");
    return FW_OK;
}

static void fitted(struct fw_text *text, const struct fw_circuit_fit *fit)
{
    fw_text_add(text, "  \"readings\": ");
    if (!fit) {
        fw_text_add(text, "null,\n");
        return;
    }
    const double none = (double)NAN;
    fw_text_add(text, "{");
    number(text, "leakage_factor", fit->leakage_factor);
    more(text, "leakage_spread",
         fit->spread_known ? fit->leakage_spread : none);
    more(text, "earth_ohm", fit->earth_ohm);
    more(text, "earth_spread_ohm",
         fit->spread_known && fit->unknowns > 1 ? fit->earth_spread_ohm : none);
    flag(text, "earth_fitted", fit->unknowns > 1);
    more(text, "misfit_v", fit->misfit_v);
    flag(text, "at_bound", fit->at_bound);
    fw_text_add(text, "},\n");
}

static void day_row(struct fw_text *text, const struct fw_plan *plan,
                    const struct fw_plan_power_day *row)
{
    char day[FW_DATE_TEXT];
    fw_text_addf(text, "    {\"from\": \"%s\", ",
                 fw_date_write(row->from, day));
    fw_text_addf(text, "\"to\": \"%s\", ", fw_date_write(row->to, day));
    string(text, "fence",
           row->fence == FW_NONE ? NULL : plan->fences[row->fence].id);
    more(text, "at_m", row->at_m);
    more(text, "touched_v", row->touched_v);
    more(text, "alone_v", row->alone_v);
    more(text, "open_v", row->open_v);
    more(text, "least_open_v", row->least_open_v);
    more(text, "source_v", row->source_v);
    more(text, "dead", row->dead);
    flag(text, "enough", row->enough);
    fw_text_add(text, "}");
}

static void lists(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_power_day *rows)
{
    fw_text_add(text, "  \"days\": [\n");
    for (size_t i = 0; i < plan->power_day_count; i++) {
        day_row(text, plan, &rows[i]);
        fw_text_add(text, i + 1 < plan->power_day_count ? ",\n" : "\n");
    }
    fw_text_add(text, "  ],\n  \"fences\": [\n");
    bool any = false;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (!fence->volts_known)
            continue;
        fw_text_add(text, any ? ",\n    {" : "    {");
        any = true;
        string(text, "fence", fence->id);
        more(text, "open_v", fence->open_v);
        more(text, "touched_v", fence->touched_v);
        flag(text, "live", fence->open_v > 0);
        fw_text_add(text, "}");
    }
    fw_text_add(text, any ? "\n  ],\n" : "  ],\n");
}

static enum fw_status cures(struct fw_text *text, const struct fw_plan *plan,
                            struct fw_error *err)
{
    const size_t row = fw_plan_worst_day(plan);
    struct fw_cure found[FW_CURE_COUNT];
    size_t count = 0;
    enum fw_status status = FW_OK;
    if (row != FW_NONE &&
        (!plan->power_days[row].enough || !plan->energizer.given))
        status = fw_plan_cures(plan, row, found, &count, err);
    fw_text_add(text, "  \"would_help\": [");
    for (size_t i = 0; !status && i < count; i++) {
        fw_text_add(text, i ? ",\n    {" : "\n    {");
        string(text, "what", found[i].text);
        more(text, "touched_v", found[i].touched_v);
        more(text, "open_v", found[i].open_v);
        more(text, "gain_v", found[i].gain_v);
        flag(text, "enough", found[i].enough);
        money(text, "cost", found[i].cost);
        status = fw_plan_saves(plan, &found[i], err);
        more(text, "joules", found[i].joules);
        more(text, "rods", found[i].rods);
        money(text, "saves", found[i].saves);
        fw_text_add(text, "}");
    }
    fw_text_add(text, count ? "\n  ],\n" : "],\n");
    return status;
}

enum fw_status fw_report_power_json(const struct fw_plan *plan,
                                    const struct fw_circuit_fit *fit,
                                    const struct fw_plan_power_day *rows,
                                    char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n");
    set(&text, plan);
    enum fw_status status = feeding(&text, plan, err);
    fitted(&text, fit);
    lists(&text, plan, rows ? rows : plan->power_days);
    if (!status)
        status = cures(&text, plan, err);
    fw_text_add(&text, "  ");
    string(&text, "note", fw_report_sum_words);
    fw_text_add(&text, "\n}\n");
    if (status) {
        fw_text_release(&text);
        return status;
    }
    return fw_report_give(&text, out, NULL, err);
}
