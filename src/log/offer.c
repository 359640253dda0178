/* A paddock by the plan, what a person says of what is left there, and the
 * fence whose paces make the next one larger. */
#include "log/log.h"

#include "figures/days.h"
#include "figures/mark.h"

#include <math.h>
#include <string.h>

static const struct fw_plan_field *field_of(const struct fw_plan *plan,
                                            size_t paddock)
{
    return &plan->fields[plan->paddocks[paddock].field];
}

double fw_log_density(const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_field *field = field_of(plan, paddock);
    return field->grass_m > 0 ? field->mass_kg_ha / field->grass_m : 0;
}

enum fw_log_said_as fw_log_said_as(const struct fw_plan *plan, size_t paddock)
{
    return plan->season == FW_SEASON_DORMANT   ? FW_LOG_AS_SHARE
           : fw_log_density(plan, paddock) > 0 ? FW_LOG_AS_HEIGHT
                                               : FW_LOG_AS_WORD;
}

struct fw_days_offer fw_log_offer(const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    const struct fw_plan_field *field = field_of(plan, paddock);
    const double usable_kg_ha = of->usable_kg / of->area_ha;
    const double residual_kg_ha =
        field->use_of == FW_USE_STANDING ? 0 : field->residual_kg_ha;
    const double stands_kg_ha = residual_kg_ha + usable_kg_ha / field->use;
    return (struct fw_days_offer){
        .stands_kg_ha = stands_kg_ha,
        .residual_kg_ha = residual_kg_ha,
        .taken_kg_ha = of->demand_kg / of->area_ha,
        .floor_kg_ha = fmin(FW_DAYS_FLOOR_M * fw_log_density(plan, paddock),
                            stands_kg_ha - usable_kg_ha),
    };
}

double fw_log_word_left(const struct fw_days_offer *offer, int word)
{
    const double meant_kg_ha = fw_days_left_kg_ha(offer);
    const double least_kg_ha = fmax(offer->residual_kg_ha, offer->floor_kg_ha);
    switch (word) {
    case FW_LOG_SHORT:
        return meant_kg_ha * (1 - FW_DAYS_OFF);
    case FW_LOG_RIGHT:
        return meant_kg_ha;
    case FW_LOG_LONG:
        return meant_kg_ha * (1 + FW_DAYS_OFF);
    default:
        return least_kg_ha + FW_DAYS_DORMANT[word - FW_LOG_CLEAN] *
                                 (offer->stands_kg_ha - least_kg_ha);
    }
}

bool fw_log_left(const struct fw_plan *plan, size_t paddock,
                 const struct fw_days_offer *offer,
                 const struct fw_log_line *line, double *left_kg_ha,
                 bool *limit)
{
    const struct fw_log_value *left = &line->values[FW_LOG_LEFT];
    const struct fw_log_value *bellies = &line->values[FW_LOG_BELLIES];
    const bool hollow = bellies->told && bellies->word == FW_LOG_HOLLOW;
    if (!left->told && !hollow)
        return false;
    *left_kg_ha = !left->told ? fw_days_left_kg_ha(offer)
                  : left->word < 0
                      ? left->number * fw_log_density(plan, paddock)
                      : fw_log_word_left(offer, left->word);
    *limit = hollow || (left->told && left->word == FW_LOG_CLEAN);
    return true;
}

size_t fw_log_fence(const struct fw_plan *plan, size_t move, double *share)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    size_t found = FW_NONE;
    *share = 0;
    for (size_t i = 0; i < steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[steps->first + i];
        const double feed = step->kind == FW_STEP_SET && step->lines.count
                                ? fw_plan_pace_share(plan, step)
                                : 0;
        if (!(feed > 0))
            continue;
        found = plan->time.items[step->lines.first + step->lines.count - 1];
        const size_t bounds = plan->fences[found].from;
        *share =
            feed * plan->flock.demand_kg_day / plan->paddocks[bounds].usable_kg;
    }
    return found;
}

double fw_log_most(const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    double usable_kg = 0;
    for (size_t i = paddock;
         i < plan->paddock_count && plan->paddocks[i].field == of->field &&
         strcmp(plan->paddocks[i].block, of->block) == 0;
         i++)
        usable_kg += plan->paddocks[i].usable_kg;
    return usable_kg / of->usable_kg;
}
