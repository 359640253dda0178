/* Where a fence crosses what must not be crossed as it comes. */
#include "around/around.h"

#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* Two fences that end in one place cross a thing there once. */
static const double same_place_m = FW_TOLERANCE(0.01);

static const struct fw_safety_rule *rule_for(const struct fw_plan__thing *thing,
                                             double angle_deg)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    const struct fw_safety_rule *worst = NULL;
    for (size_t i = 0; i < count; i++)
        if (rules[i].check == FW_CHECK_CROSS &&
            fw_safety_covers(&rules[i], thing->feature->role,
                             thing->feature->kv, thing->drawn) &&
            (angle_deg < rules[i].most_deg || rules[i].most_deg >= 90) &&
            (!worst || rules[i].level > worst->level))
            worst = &rules[i];
    return worst;
}

static bool is_known(const struct fw_plan__around *around,
                     struct fw_point where, const char *rule)
{
    const struct fw_plan *plan = around->job->plan;
    for (size_t i = around->first_finding; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        if (finding->place.given && finding->distance_m <= 0 &&
            strcmp(finding->rule, rule) == 0 &&
            fw_point_apart_m(finding->place.plane, where) < same_place_m)
            return true;
    }
    return false;
}

/* The nearest gate of the field or of a map. */
static enum fw_status nearest_gate(const struct fw_plan__around *around,
                                   struct fw_point where, double *out_m,
                                   struct fw_error *err)
{
    const struct fw_plan_job *job = around->job;
    const struct fw_plan_place *own = &job->plan->fields[around->field].gate;
    *out_m =
        own->given ? fw_point_apart_m(own->plane, where) : (double)INFINITY;
    for (size_t i = 0; i < job->farm->feature_count; i++) {
        struct fw_plan__thing gate;
        if (job->farm->features[i].role != FW_ROLE_GATE)
            continue;
        const enum fw_status status =
            fw_plan__thing_init(&gate, around, &job->farm->features[i], err);
        if (!status)
            *out_m =
                fmin(*out_m,
                     fw_safety_shape_distance_m(&where, 1, &gate.shape, NULL));
        fw_plan__thing_release(&gate);
        if (status)
            return status;
    }
    return FW_OK;
}

/* A gate that stands there takes the danger from a path's crossing. */
static enum fw_status look_for_gate(const struct fw_plan__around *around,
                                    struct fw_plan__found *found,
                                    struct fw_error *err)
{
    double nearest_m = 0;
    const enum fw_status status =
        nearest_gate(around, *found->where, &nearest_m, err);
    if (status || nearest_m > FW_CROSSING_GATE_M)
        return status;
    found->level = FW_LEVEL_NOTE;
    found->text =
        "the fence meets a public path at a gate: no live wire in "
        "the gateway, signs on both sides, {>1 m} of tube over the wire "
        "beside it";
    return FW_OK;
}

/* Never so many that a rule is kept which is broken; a right angle comes out a
 * hair beside itself. */
static double degrees(double angle_deg)
{
    const double hair_deg = FW_TOLERANCE(0.01);
    return angle_deg > 90 - hair_deg ? 90 : fw_say_round(angle_deg, 0, FW_DOWN);
}

static enum fw_status one(struct fw_plan__around *around,
                          const struct fw_plan__thing *thing, size_t fence,
                          const struct fw_crossing *crossing,
                          struct fw_error *err)
{
    struct fw_text text = {0};
    struct fw_plan__found found = {
        .rule = rule_for(thing, crossing->angle_deg),
        .thing = thing,
        .fence = fence,
        .where = &crossing->where,
        .wanted_m = -1,
    };
    if (!found.rule || is_known(around, crossing->where, found.rule->id))
        return FW_OK;
    found.level = found.rule->level;
    enum fw_status status = FW_OK;
    if (thing->feature->role == FW_ROLE_PATH)
        status = look_for_gate(around, &found, err);
    if (!status && thing->feature->role == FW_ROLE_POWER_LINE) {
        fw_text_addf(&text, "%s (here at %.0f degrees)", found.rule->text,
                     degrees(crossing->angle_deg));
        status = fw_text_done(&text, err);
        found.text = text.bytes;
    }
    if (!status)
        status = fw_plan__find(around, &found, err);
    fw_text_release(&text);
    return status;
}

enum fw_status fw_plan__crossings(struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  const struct fw_plan__line *line,
                                  const struct fw_crossings *crossings,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < crossings->count; i++)
        status = one(around, thing, line->fence, &crossings->items[i], err);
    return status;
}
