#include "picture/ahead.h"

#include "figures/growth.h"

#include <math.h>

struct eating {
    const struct fw_plan *plan;
    enum fw_report_left_way way;
    int winter_days; /* passed since the first day */
    size_t next;     /* stay to begin */
    double rest_kg;  /* of the one that they are in */
};

bool fw_picture__is_winter(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++)
        if (plan->fields[i].paddock_count > 0 &&
            !isnan(plan->fields[i].growth_kg_ha))
            return false;
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (isnan(plan->paddocks[plan->time.stays[i].cell].bare_kg))
            return false; /* a plan of an older build */
    return plan->season == FW_SEASON_DORMANT && plan->time.stay_count > 0 &&
           !fw_forage_is_warm(plan->start_day,
                              plan->fields[0].plane.centre.lat_deg);
}

static double loss_of(const struct eating *eating,
                      const struct fw_plan_field *field)
{
    return eating->way == FW_REPORT_LEFT_PLAN    ? field->winter_loss_share
           : eating->way == FW_REPORT_LEFT_LEAST ? field->winter_most_share
                                                 : field->winter_least_share;
}

/* What a stay's ground has today, of what stood there on the first day. */
static double holds_kg(const struct eating *eating, size_t stay)
{
    const struct fw_plan *plan = eating->plan;
    const struct fw_plan_paddock *paddock =
        &plan->paddocks[plan->time.stays[stay].cell];
    const double seen = eating->way == FW_REPORT_LEFT_PLAN ? 1
                        : eating->way == FW_REPORT_LEFT_LEAST
                            ? 1 - FW_GROWTH_OFF_SHARE
                            : 1 + FW_GROWTH_OFF_SHARE;
    const double kept = pow(1 - loss_of(eating, &plan->fields[paddock->field]),
                            (double)eating->winter_days / FW_WINTER_DAYS);
    const double stays_kg = paddock->bare_kg - paddock->today_kg;
    return fmax(0, seen * kept * paddock->bare_kg - stays_kg);
}

static double left_kg(const struct eating *eating)
{
    double sum = eating->rest_kg;
    for (size_t i = eating->next; i < eating->plan->time.stay_count; i++)
        sum += holds_kg(eating, i);
    return sum;
}

/* Not where the plan has them elsewhere in between. */
static bool graze(const struct fw_plan *plan, int day)
{
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (day >= plan->time.stays[i].enter && day < plan->time.stays[i].leave)
            return true;
    return day >= plan->end_day;
}

static void eat(struct eating *eating)
{
    const double day_kg = eating->plan->flock.demand_kg_day;
    const double crumb_kg = FW_TOLERANCE(1e-6) * day_kg;
    double need_kg = day_kg;
    while (need_kg > crumb_kg) {
        if (eating->rest_kg <= crumb_kg) {
            eating->rest_kg = 0;
            if (eating->next == eating->plan->time.stay_count)
                return;
            eating->rest_kg = holds_kg(eating, eating->next++);
        }
        const double bite_kg = fmin(need_kg, eating->rest_kg);
        eating->rest_kg -= bite_kg;
        need_kg -= bite_kg;
    }
    if (eating->rest_kg <= crumb_kg)
        eating->rest_kg = 0;
}

void fw_picture__left(const struct fw_plan *plan, enum fw_report_left_way way,
                      struct fw_picture__left *out)
{
    struct eating eating = {.plan = plan, .way = way};
    const double lat_deg = plan->fields[0].plane.centre.lat_deg;
    int day = 0;
    do {
        out->kg[day] = left_kg(&eating);
        if (graze(plan, plan->start_day + day))
            eat(&eating);
        eating.winter_days +=
            !fw_forage_is_warm(plan->start_day + day, lat_deg);
    } while (out->kg[day++] > 0 && day < FW_REPORT_LEFT_DAYS);
    out->days = day - 1;
}
