#include "around/around.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/say.h"

#include <math.h>
#include <stdio.h>

static struct fw_plan__box box_of(const struct fw_point *points, size_t count)
{
    struct fw_plan__box box = {(double)INFINITY, -(double)INFINITY,
                               (double)INFINITY, -(double)INFINITY};
    for (size_t i = 0; i < count; i++) {
        box.low_x = fmin(box.low_x, points[i].x_m);
        box.high_x = fmax(box.high_x, points[i].x_m);
        box.low_y = fmin(box.low_y, points[i].y_m);
        box.high_y = fmax(box.high_y, points[i].y_m);
    }
    return box;
}

double fw_plan__gap_m(const struct fw_plan__box *a,
                      const struct fw_plan__box *b)
{
    const double x = fmax(b->low_x - a->high_x, a->low_x - b->high_x);
    const double y = fmax(b->low_y - a->high_y, a->low_y - b->high_y);
    return fmax(0, fmax(x, y));
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

enum fw_status fw_plan__around_init(struct fw_plan__around *around,
                                    struct fw_plan_job *job, size_t index,
                                    struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    *around = (struct fw_plan__around){.job = job, .field = index};
    around->lines = fw_alloc(field->fence_count, sizeof *around->lines);
    if (!around->lines)
        return fw_fail_memory(err);
    for (size_t i = 0; i < field->fence_count; i++) {
        const size_t which = field->first_fence + i;
        const struct fw_plan_fence *fence = &plan->fences[which];
        if (!fw_plan__is_used(plan, which))
            continue;
        struct fw_plan__line *line = &around->lines[around->line_count];
        line->points = fw_alloc(fence->line_count, sizeof *line->points);
        if (!line->points)
            return fw_fail_memory(err);
        around->line_count++;
        line->fence = which;
        line->hot = is_hot(field, fence);
        line->count = fence->line_count;
        for (size_t k = 0; k < line->count; k++)
            line->points[k] = fw_plan__at(field, fence->line[k]);
        line->box = box_of(line->points, line->count);
    }
    return FW_OK;
}

void fw_plan__around_release(struct fw_plan__around *around)
{
    for (size_t i = 0; i < around->line_count; i++) {
        fw_free(around->lines[i].points);
        for (size_t k = 0; k < FW_PLAN__SIGN_KINDS; k++)
            fw_stretches_release(&around->lines[i].along[k]);
    }
    fw_free(around->lines);
    *around = (struct fw_plan__around){0};
}

/* "power line of 20 kV", "road Village road": the role's word as people say it,
 * with the voltage or that nobody knows it, and the feature's own name. */
static enum fw_status name_thing(struct fw_plan__thing *thing,
                                 struct fw_error *err)
{
    const struct fw_farm_feature *feature = thing->feature;
    struct fw_text words = {0};
    fw_text_add(&words, fw_safety_role_word(feature->role));
    for (char *c = words.failed ? NULL : words.bytes; c && *c; c++)
        if (*c == '-')
            *c = ' ';
    /* A pole carries what it carries. */
    const bool wires =
        feature->role == FW_ROLE_POWER_LINE && thing->drawn != FW_DRAWN_POINTS;
    if (wires && feature->kv > 0)
        fw_text_addf(&words, " of %g kV", feature->kv);
    else if (wires)
        fw_text_add(&words, " of unknown voltage");
    if (feature->name && feature->name[0])
        fw_text_addf(&words, " %s", feature->name);
    const enum fw_status status = fw_text_done(&words, err);
    if (!status)
        fw_text_clip(words.bytes, thing->name, sizeof thing->name);
    fw_text_release(&words);
    return status;
}

enum fw_status fw_plan__thing_init(struct fw_plan__thing *thing,
                                   const struct fw_plan__around *around,
                                   const struct fw_farm_feature *feature,
                                   struct fw_error *err)
{
    const struct fw_plane *plane =
        &around->job->plan->fields[around->field].plane;
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plane_forward(plane, feature->points[i]);
    const bool area = feature->kind == FW_FEATURE_POLYGON;
    *thing = (struct fw_plan__thing){
        .feature = feature,
        .drawn = area                               ? FW_DRAWN_AREAS
                 : feature->kind == FW_FEATURE_LINE ? FW_DRAWN_LINES
                                                    : FW_DRAWN_POINTS,
        .shape = {points, feature->ring_start, feature->ring_count, area},
        .points = points,
        .box = box_of(points, count),
    };
    return name_thing(thing, err);
}

void fw_plan__thing_release(struct fw_plan__thing *thing)
{
    fw_free(thing->points);
    *thing = (struct fw_plan__thing){0};
}

bool fw_plan__is_road_like(enum fw_role role, size_t *signs)
{
    *signs = role == FW_ROLE_ROAD ? FW_PLAN__ROAD_SIGNS : FW_PLAN__PATH_SIGNS;
    return role == FW_ROLE_ROAD || role == FW_ROLE_PATH;
}

enum fw_status fw_plan__find(struct fw_plan__around *around,
                             const struct fw_plan__found *found,
                             struct fw_error *err)
{
    struct fw_plan *plan = around->job->plan;
    enum fw_status status =
        fw_array_reserve(&plan->findings, &plan->finding_capacity,
                         plan->finding_count + 1, sizeof *plan->findings, err);
    if (status)
        return status;
    struct fw_plan_finding *finding = &plan->findings[plan->finding_count];
    const char *name = found->thing ? found->thing->name : "";
    const bool of_field =
        found->about || found->thing || found->fence != FW_NONE;
    *finding = (struct fw_plan_finding){
        .field = of_field ? around->field : FW_NONE,
        .fence = found->fence,
        .level = found->level,
        .measured = found->wanted_m >= 0,
        .distance_m = found->wanted_m >= 0 ? found->distance_m : 0,
        .wanted_m = fmax(0, found->wanted_m),
    };
    char about[160];
    snprintf(about, sizeof about, "%s%s%s",
             found->fence == FW_NONE ? "energizer"
                                     : plan->fences[found->fence].id,
             name[0] ? ", " : "", name);
    fw_text_clip(found->about ? found->about
                 : of_field   ? about
                              : "maps",
                 finding->about, sizeof finding->about);
    fw_plan__id(finding->id, "finding %zu", plan->finding_count + 1);
    fw_text_clip(found->rule->id, finding->rule, sizeof finding->rule);
    fw_text_clip(name, finding->feature, sizeof finding->feature);
    fw_say_words(found->text ? found->text : found->rule->text, plan->units,
                 finding->text, sizeof finding->text);
    fw_text_clip(found->rule->source, finding->source, sizeof finding->source);
    if (found->where)
        status = fw_plan__place(around->job, around->field, *found->where,
                                &finding->place, err);
    plan->finding_count += status == FW_OK;
    return status;
}
