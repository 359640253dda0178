/* What the report says of growth: what it makes of a plan, or how long a plan
 * that knows of none will do. */
#include "report/report.h"

#include "figures/growth.h"
#include "figures/say.h"

#include <math.h>

/* "69 kg/ha a day", to a whole one: rates are too small for tens. */
static const char *say_rate(double kg_ha, enum fw_units units,
                            char text[FW_WORDS])
{
    fw_text_format(text, FW_WORDS, "%.0f %s a day",
                   fw_in_mass_per_area(kg_ha, units),
                   fw_mass_per_area_unit(units));
    return text;
}

static void rate_of(struct fw_text *words, const struct fw_plan *plan,
                    const struct fw_plan_field *field)
{
    char rate[FW_WORDS];
    fw_text_addf(words, "%s: ", field->name);
    if (isnan(field->growth_kg_ha)) {
        fw_text_addf(words, "winter takes %.0f %% of what stands",
                     100 * field->winter_loss_share);
        return;
    }
    fw_text_addf(words, "grows %s",
                 say_rate(field->growth_kg_ha, plan->units, rate));
    if (field->growth_told[0])
        fw_text_addf(words, " on the first day (%s)", field->growth_told);
}

/* Over its paddocks: how much more the best hectare has than the poorest, on
 * their days. */
static double spread(const struct fw_plan *plan,
                     const struct fw_plan_field *field)
{
    double least = HUGE_VAL, most = 0;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        const double kg_ha = paddock->usable_kg / paddock->area_ha;
        least = fmin(least, kg_ha);
        most = fmax(most, kg_ha);
    }
    return most / least - 1;
}

/* Stays are not of one length, so that areas are told of a day. */
static const char *day_area(const struct fw_plan *plan, size_t paddock,
                            double area_ha, char text[FW_WORDS])
{
    return fw_report_area(area_ha / plan->paddocks[paddock].stay_days,
                          plan->units, text);
}

/* What its paddock needs by another shape of growth, as a share of what it has.
 */
static double by_shape(const struct fw_plan_paddock *paddock)
{
    return paddock->usable_kg / paddock->other_kg;
}

/* Of all its paddocks the one that the choice of shape moves most is told,
 * where that is worth a word. */
static void other_shape(struct fw_text *words, const struct fw_plan *plan,
                        const struct fw_plan_field *field)
{
    size_t most = field->first_paddock;
    char own[FW_WORDS], other[FW_WORDS];
    if (isnan(field->growth_kg_ha))
        return;
    for (size_t i = most; i < field->first_paddock + field->paddock_count; i++)
        if (fabs(log(by_shape(&plan->paddocks[i]))) >
            fabs(log(by_shape(&plan->paddocks[most]))))
            most = i;
    const struct fw_plan_paddock *paddock = &plan->paddocks[most];
    const double share = by_shape(paddock);
    if (fabs(share - 1) > FW_GROWTH_SHAPE_SHARE)
        fw_text_addf(words,
                     "; %s takes %s a day, by another shape of growth %s, "
                     "%.0f %% %s",
                     paddock->id, day_area(plan, most, paddock->area_ha, own),
                     day_area(plan, most, paddock->area_ha * share, other),
                     100 * fabs(share - 1), share > 1 ? "more" : "less");
}

static void grows(struct fw_text *text, const struct fw_plan *plan,
                  const struct fw_plan_field *field)
{
    const size_t first = field->first_paddock;
    const size_t last = first + field->paddock_count - 1;
    char from[FW_WORDS], to[FW_WORDS], days[FW_WORDS], still[FW_WORDS];
    struct fw_text words = {0};
    rate_of(&words, plan, field);
    fw_text_addf(&words,
                 ": a day's feed takes %s in the first paddock, %s in the last",
                 day_area(plan, first, plan->paddocks[first].area_ha, from),
                 day_area(plan, last, plan->paddocks[last].area_ha, to));
    other_shape(&words, plan, field);
    fw_text_addf(&words, "; it lasts %s days (%s without)",
                 fw_report_number(field->rotation_days, days),
                 fw_report_number(field->still_days, still));
    if (spread(plan, field) <= FW_GROWTH_OFF_SHARE)
        fw_text_add(&words, ". Equal areas a day would do");
    fw_text_add(&words, ".");
    fw_report__line(text, "Growth", &words);
}

void fw_report__grown(struct fw_text *text, const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        if (field->paddock_count > 1 &&
            (!isnan(field->growth_kg_ha) || field->winter_loss_share > 0))
            grows(text, plan, field);
    }
}

void fw_report__ungrown(struct fw_text *text, const struct fw_plan *plan)
{
    const int days = plan->end_day - plan->start_day;
    int good = days;
    char rate[FW_WORDS];
    struct fw_text words = {0};
    for (size_t i = 0; i < plan->field_count; i++)
        if (plan->fields[i].good_days > 0 && plan->fields[i].good_days < good)
            good = plan->fields[i].good_days;
    if (good == days)
        return;
    fw_text_addf(
        &words,
        "Growth is not told and not counted: at %s, ordinary in spring, "
        "this is within %.0f %% for %d days. Measure a spot twice, a week "
        "apart "
        "(--growth), or plan again by then.",
        say_rate(FW_GROWTH_ORDINARY_KG_HA, plan->units, rate),
        100 * FW_GROWTH_OFF_SHARE, good);
    fw_report__fold_text(text, 0, &words);
}
