/* What a map can prove: each fence against what stands around the field. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdio.h>

/* The nearest of a field's fences to one feature. */
struct nearest {
    double distance_m;
    struct fw_point where;
    size_t fence;
};

static struct fw_point *feature_points(const struct fw_plan_field *field,
                                       const struct fw_farm_feature *feature)
{
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    for (size_t i = 0; points && i < count; i++)
        points[i] = fw_plane_forward(&field->plane, feature->points[i]);
    return points;
}

/* A boundary that the farm says is not hot is no electric fence; one that
 * nobody has spoken for is taken as hot. */
static bool is_hot(const struct fw_plan_field *field,
                   const struct fw_plan_fence *fence)
{
    if (fence->role != FW_FENCE_PERIMETER)
        return true;
    return fence->side != FW_NONE && field->sides[fence->side].hot != FW_NO;
}

static enum fw_status find_nearest(const struct fw_plan *plan, size_t index,
                                   const struct fw_farm_feature *feature,
                                   const struct fw_point *points,
                                   struct nearest *out, struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    *out = (struct nearest){(double)INFINITY, {0, 0}, FW_NONE};
    for (size_t i = 0; i < field->fence_count; i++) {
        const size_t which = field->first_fence + i;
        const struct fw_plan_fence *fence = &plan->fences[which];
        if (!is_hot(field, fence))
            continue;
        struct fw_point *line = fw_alloc(fence->line_count, sizeof *line);
        if (!line)
            return fw_fail_memory(err);
        for (size_t k = 0; k < fence->line_count; k++)
            line[k] = fw_plan__at(field, fence->line[k]);
        for (size_t r = 0; r < feature->ring_count; r++) {
            const size_t first = feature->ring_start[r];
            struct fw_point where;
            const double distance_m = fw_safety_distance_m(
                line, fence->line_count, false, points + first,
                feature->ring_start[r + 1] - first,
                feature->kind == FW_FEATURE_POLYGON, &where);
            if (distance_m < out->distance_m)
                *out = (struct nearest){distance_m, where, which};
        }
        fw_free(line);
    }
    return FW_OK;
}

/* "power line of 20 kV", "road Village road": the role's word as people say it,
 * with the voltage or that nobody knows it, and the feature's own name. */
static void name_feature(const struct fw_farm_feature *feature, char text[96])
{
    char role[32], volts[40] = "";
    snprintf(role, sizeof role, "%s", fw_safety_role_word(feature->role));
    for (char *c = role; *c; c++)
        if (*c == '-')
            *c = ' ';
    if (feature->role == FW_ROLE_POWER_LINE && feature->kv > 0)
        snprintf(volts, sizeof volts, " of %g kV", feature->kv);
    else if (feature->role == FW_ROLE_POWER_LINE)
        snprintf(volts, sizeof volts, " of unknown voltage");
    snprintf(text, 96, "%s%s%s%.20s", role, volts, feature->name ? " " : "",
             feature->name ? feature->name : "");
}

static enum fw_status add_finding(struct fw_plan_job *job, size_t index,
                                  const struct fw_farm_feature *feature,
                                  const struct fw_distance_rule *rule,
                                  const struct nearest *nearest,
                                  struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    enum fw_status status =
        fw_array_reserve(&plan->findings, &plan->finding_capacity,
                         plan->finding_count + 1, sizeof *plan->findings, err);
    if (status)
        return status;
    struct fw_plan_finding *finding = &plan->findings[plan->finding_count];
    *finding = (struct fw_plan_finding){
        .level = rule->level,
        .measured = true,
        .distance_m = nearest->distance_m,
        .wanted_m = rule->wanted_m,
    };
    char name[96];
    name_feature(feature, name);
    snprintf(finding->id, sizeof finding->id, "finding %zu",
             plan->finding_count + 1);
    snprintf(finding->about, sizeof finding->about, "%.50s, %.40s",
             rule->of_energizer ? "energizer" : plan->fences[nearest->fence].id,
             name);
    snprintf(finding->text, sizeof finding->text, "%s", rule->text);
    snprintf(finding->source, sizeof finding->source, "%s", rule->source);
    status = fw_plan__place(job, index, nearest->where, &finding->place, err);
    plan->finding_count += status == FW_OK;
    return status;
}

/* From the energizer, whose place the farm gives in its first field. */
static double energizer_distance_m(const struct fw_plan *plan,
                                   const struct fw_farm_feature *feature,
                                   const struct fw_point *points)
{
    double least_m = (double)INFINITY;
    for (size_t r = 0; r < feature->ring_count; r++) {
        const size_t first = feature->ring_start[r];
        least_m = fmin(least_m,
                       fw_safety_distance_m(
                           &plan->energizer_place.plane, 1, false,
                           points + first, feature->ring_start[r + 1] - first,
                           feature->kind == FW_FEATURE_POLYGON, NULL));
    }
    return least_m;
}

/* The weightiest rule that is broken: a fence that crosses a road also runs
 * near it, and needs to be told once. */
static const struct fw_distance_rule *
broken_rule(const struct fw_farm_feature *feature, bool of_energizer,
            double distance_m)
{
    size_t count;
    const struct fw_distance_rule *rules = fw_safety_rules(&count);
    const struct fw_distance_rule *worst = NULL;
    for (size_t i = 0; i < count; i++)
        if (rules[i].of_energizer == of_energizer &&
            fw_safety_covers(&rules[i], feature->role, feature->kv) &&
            (distance_m < rules[i].wanted_m || distance_m <= 0) &&
            (!worst || rules[i].level > worst->level))
            worst = &rules[i];
    return worst;
}

static enum fw_status check_feature(struct fw_plan_job *job, size_t index,
                                    const struct fw_farm_feature *feature,
                                    struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_point *points = feature_points(&plan->fields[index], feature);
    if (!points)
        return fw_fail_memory(err);
    struct nearest nearest;
    enum fw_status status =
        find_nearest(plan, index, feature, points, &nearest, err);
    const struct fw_distance_rule *rule = NULL;
    if (!status)
        rule = broken_rule(feature, false, nearest.distance_m);
    if (rule)
        status = add_finding(job, index, feature, rule, &nearest, err);
    if (!status && index == 0 && plan->energizer_place.given) {
        nearest.distance_m = energizer_distance_m(plan, feature, points);
        nearest.where = plan->energizer_place.plane;
        rule = broken_rule(feature, true, nearest.distance_m);
        if (rule)
            status = add_finding(job, index, feature, rule, &nearest, err);
    }
    fw_free(points);
    return status;
}

enum fw_status fw_plan__findings(struct fw_plan_job *job, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t field = 0; !status && field < job->plan->field_count; field++)
        for (size_t i = 0; !status && i < job->farm->feature_count; i++)
            status = check_feature(job, field, &job->farm->features[i], err);
    return status;
}
