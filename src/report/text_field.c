/* What the report says of one field: its extent, its paddocks and fences. */
#include "report/report.h"

#include "figures/units.h"

#include <math.h>
#include <string.h>

/* Least and most of a figure over a field's paddocks: "0.15" or "0.15 to
 * 0.31". */
static void span(struct fw_text *words, double least, double most,
                 enum fw_units units,
                 const char *(*say)(double, enum fw_units, char *))
{
    char from[FW_WORDS], to[FW_WORDS];
    say(least, units, from);
    say(most, units, to);
    if (strcmp(from, to) == 0)
        fw_text_add(words, from);
    else
        fw_text_addf(words, "%s to %s", from, to);
}

static size_t index_of(const struct fw_plan *plan,
                       const struct fw_plan_field *field)
{
    return (size_t)(field - plan->fields);
}

/* Of fences between paddocks that were grazed before nothing is said. */
static bool is_seen(const struct fw_plan *plan, size_t fence)
{
    return plan->fences[fence].stood || fw_plan_is_set(plan, fence);
}

/* "; 3 block lines of 94 m to 102 m" */
static void standing(struct fw_text *words, const struct fw_plan *plan,
                     const struct fw_plan_field *field, enum fw_fence_role role,
                     const char *name)
{
    double least_m = (double)INFINITY, most_m = 0;
    size_t count = 0;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role != role || !is_seen(plan, field->first_fence + i))
            continue;
        least_m = fmin(least_m, fence->length_m);
        most_m = fmax(most_m, fence->length_m);
        count++;
    }
    if (count == 0)
        return;
    fw_text_addf(words, "; %zu %s%s of ", count, name, count == 1 ? "" : "s");
    span(words, least_m, most_m, plan->units, fw_report_length);
}

static void paddocks_of(struct fw_text *words, const struct fw_plan *plan,
                        const struct fw_plan_field *field, bool all)
{
    double least = (double)INFINITY, most = 0, short_line = (double)INFINITY,
           long_line = 0;
    const size_t grazed = fw_plan_grazed_before(plan, index_of(plan, field));
    const size_t count = field->paddock_count - grazed;
    for (size_t i = grazed; i < field->paddock_count; i++) {
        const double ha = plan->paddocks[field->first_paddock + i].area_ha;
        least = fmin(least, ha);
        most = fmax(most, ha);
    }
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role != FW_FENCE_MOVED ||
            !is_seen(plan, field->first_fence + i))
            continue;
        short_line = fmin(short_line, fence->length_m);
        long_line = fmax(long_line, fence->length_m);
    }
    fw_text_addf(words, "%zu paddock%s of ", count, count == 1 ? "" : "s");
    span(words, least, most, plan->units, fw_report_area);
    if (!all)
        return;
    if (long_line > 0) {
        fw_text_add(words, "; fences of ");
        span(words, short_line, long_line, plan->units, fw_report_length);
    }
    standing(words, plan, field, FW_FENCE_STANDING, "block line");
    standing(words, plan, field, FW_FENCE_LANE, "lane fence");
}

/* Head to the hectare or acre, from the widest paddock to the tightest. */
static void stocking(struct fw_text *words, const struct fw_plan *plan,
                     const struct fw_plan_field *field)
{
    double least = (double)INFINITY, most = 0;
    for (size_t i = fw_plan_grazed_before(plan, index_of(plan, field));
         i < field->paddock_count; i++) {
        const double head =
            plan->paddocks[field->first_paddock + i].head_per_ha;
        least = fmin(least, head);
        most = fmax(most, head);
    }
    const bool us = plan->units == FW_US;
    const double from = round(us ? least * FW_ACRE_HA : least);
    const double to = round(us ? most * FW_ACRE_HA : most);
    if (from < to)
        fw_text_addf(words, "%.0f to %.0f", from, to);
    else
        fw_text_addf(words, "%.0f", to);
    fw_text_addf(words, " head to the %s", us ? "acre" : "ha");
}

static double lanes_ha(const struct fw_plan *plan,
                       const struct fw_plan_field *field)
{
    double sum_ha = 0;
    for (size_t i = 0; i < plan->lane_count; i++)
        if (&plan->fields[plan->lanes[i].field] == field)
            sum_ha += plan->lanes[i].area_ha;
    return sum_ha;
}

static void extent(struct fw_text *text, const struct fw_plan *plan,
                   const struct fw_plan_field *field, bool all)
{
    char area[FW_WORDS], grazed[FW_WORDS], days[FW_WORDS];
    struct fw_text words = {0};
    fw_text_addf(&words, "%s, %s", field->name,
                 fw_report_area(field->area_ha, plan->units, area));
    const double lost_ha = lanes_ha(plan, field);
    if (field->grazed_ha < 0.995 * field->area_ha)
        fw_text_addf(&words, " (%s to graze",
                     fw_report_area(field->grazed_ha, plan->units, grazed));
    if (field->grazed_ha < 0.995 * field->area_ha && lost_ha > 0)
        fw_text_addf(&words, ", %.0f %% of its grass on lanes or aprons",
                     100 * lost_ha / (field->grazed_ha + lost_ha));
    if (field->grazed_ha < 0.995 * field->area_ha)
        fw_text_add(&words, ")");
    fw_text_add(&words, ": ");
    paddocks_of(&words, plan, field, all);
    fw_text_addf(&words, "%s %s days", all ? ". It lasts" : ";",
                 fw_report_number(field->rotation_days, days));
    if (all) {
        fw_text_add(&words, ", ");
        stocking(&words, plan, field);
    }
    if (all && field->paddock_count > 1 && field->last_share < 0.995)
        fw_text_addf(&words, ". The last paddock is short: %.0f %% of a stay",
                     100 * field->last_share);
    fw_text_add(&words, ".");
    fw_report__line(text, "Field", &words);
}

static void grazed_before(struct fw_text *text, const struct fw_plan *plan,
                          const struct fw_plan_field *field)
{
    const size_t count = fw_plan_grazed_before(plan, index_of(plan, field));
    const struct fw_plan_paddock *first = &plan->paddocks[field->first_paddock];
    struct fw_text words = {0};
    if (count == 0)
        return;
    fw_text_addf(&words, "%s", first->id);
    if (count > 1)
        fw_text_addf(&words, "%s%s", count == 2 ? " and " : " to ",
                     first[count - 1].id);
    fw_text_add(&words,
                " before the first day; paddocks, fences and their names are "
                "those of the plan made before.");
    fw_report__line(text, "Grazed", &words);
}

void fw_report__field(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_plan_field *field, bool all)
{
    extent(text, plan, field, all);
    grazed_before(text, plan, field);
}
