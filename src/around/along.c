/* What a fence runs beside: power lines that charge it, roads and paths from
 * which people reach it. */
#include "around/around.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/say.h"

#include <math.h>

static double sum_m(const struct fw_stretches *stretches)
{
    double sum = 0;
    for (size_t i = 0; i < stretches->count; i++)
        sum += stretches->items[i].to_m - stretches->items[i].from_m;
    return sum;
}

/* ---- parallel runs ---- */

struct run {
    double boundary_m, moved_m; /* all of the boundary, the longest moved */
    size_t fence;               /* that with the longest part */
    size_t thing; /* and which of the line's features is nearest */
    double part_m, distance_m;
    struct fw_point where;
};

/* The features that make one power line, those near the field. */
struct things {
    struct fw_plan__thing *items;
    size_t count;
};

static void things_release(struct things *things)
{
    for (size_t i = 0; i < things->count; i++)
        fw_plan__thing_release(&things->items[i]);
    fw_free(things->items);
}

/* Those from this feature on; none when an earlier one is near, for then all
 * has been told. */
static enum fw_status find_things(const struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  struct things *out, struct fw_error *err)
{
    const struct fw_farm *farm = around->job->farm;
    const size_t *group = around->group;
    const size_t own = (size_t)(thing->feature - farm->features);
    size_t most = 0;
    *out = (struct things){0};
    for (size_t i = group[own]; i < farm->feature_count; i++) {
        if (group[i] != group[own] || !around->near[i])
            continue;
        if (i < own)
            return FW_OK;
        most++;
    }
    out->items = fw_alloc(most, sizeof *out->items);
    if (!out->items)
        return fw_fail_memory(err);
    for (size_t i = own; i < farm->feature_count; i++) {
        if (group[i] != group[own] || !around->near[i])
            continue;
        const enum fw_status status = fw_plan__thing_init(
            &out->items[out->count++], around, &farm->features[i], err);
        if (status) {
            things_release(out);
            return status;
        }
    }
    return FW_OK;
}

static bool covers_any(const struct fw_safety_rule *rule,
                       const struct things *things)
{
    for (size_t i = 0; i < things->count; i++)
        if (fw_safety_covers(rule, things->items[i].feature->role,
                             things->items[i].feature->kv,
                             things->items[i].drawn))
            return true;
    return false;
}

static void take_run(struct run *run, const struct fw_plan_fence *fence,
                     const struct fw_plan__line *line,
                     const struct things *things, double part_m)
{
    if (fence->role == FW_FENCE_PERIMETER)
        run->boundary_m += part_m;
    else
        run->moved_m = fmax(run->moved_m, part_m);
    if (!(part_m > run->part_m))
        return;
    run->part_m = part_m;
    run->fence = line->fence;
    run->distance_m = (double)INFINITY;
    for (size_t i = 0; i < things->count; i++) {
        struct fw_point where;
        const double distance_m = fw_safety_shape_distance_m(
            line->points, line->count, &things->items[i].shape, &where);
        if (!(distance_m < run->distance_m))
            continue;
        run->distance_m = distance_m;
        run->where = where;
        run->thing = i;
    }
}

static enum fw_status find_run(const struct fw_plan__around *around,
                               const struct things *things,
                               const struct fw_safety_rule *rule,
                               struct run *run, struct fw_error *err)
{
    *run = (struct run){.fence = FW_NONE};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        struct fw_stretches beside = {0};
        for (size_t k = 0; line->hot && !status && k < things->count; k++)
            if (fw_plan__gap_m(&line->box, &things->items[k].box) <=
                rule->wanted_m)
                status = fw_stretches_find(
                    line->points, line->count, &things->items[k].shape,
                    rule->wanted_m, rule->most_deg, &beside, err);
        fw_stretches_join(&beside, 0);
        if (!status)
            take_run(run, &around->job->plan->fences[line->fence], line, things,
                     sum_m(&beside));
        fw_stretches_release(&beside);
    }
    return status;
}

/* In that text, which is released. */
static enum fw_status find(struct fw_plan__around *around,
                           const struct fw_plan__thing *thing,
                           const struct fw_safety_rule *rule,
                           const struct run *run, struct fw_text *text,
                           struct fw_error *err)
{
    enum fw_status status = fw_text_done(text, err);
    const struct fw_plan__found found = {
        .rule = rule,
        .thing = thing,
        .fence = run->fence,
        .where = &run->where,
        .distance_m = run->distance_m,
        .wanted_m = rule->wanted_m,
        .level = rule->level,
        .text = text->bytes,
    };
    if (!status)
        status = fw_plan__find(around, &found, err);
    fw_text_release(text);
    return status;
}

static enum fw_status tell_run(struct fw_plan__around *around,
                               const struct fw_plan__thing *thing,
                               const struct fw_safety_rule *rule,
                               const struct run *run, struct fw_error *err)
{
    const enum fw_units units = around->job->plan->units;
    const double all_m = run->boundary_m + run->moved_m;
    const double ma = fw_safety_induced_ma(thing->feature->kv, all_m);
    struct fw_text text = {0};
    char all[FW_SAID];
    fw_text_addf(&text, "%s; %s in all", rule->text,
                 fw_say_measured(all_m, rule->least_m, units, FW_UP, all));
    if (ma > 0)
        fw_text_addf(&text,
                     ", in one published case (345 kV, {9 m} off) of the order "
                     "of %.2g mA",
                     ma);
    return find(around, thing, rule, run, &text, err);
}

static enum fw_status parallel_of(struct fw_plan__around *around,
                                  const struct things *things,
                                  struct fw_error *err)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    const struct fw_safety_rule *worst = NULL;
    struct run worst_run = {0};
    for (size_t i = 0; i < count; i++) {
        struct run run;
        if (rules[i].check != FW_CHECK_PARALLEL ||
            !covers_any(&rules[i], things))
            continue;
        const enum fw_status status =
            find_run(around, things, &rules[i], &run, err);
        if (status)
            return status;
        if (run.boundary_m + run.moved_m > rules[i].least_m &&
            (!worst || rules[i].level > worst->level)) {
            worst = &rules[i];
            worst_run = run;
        }
    }
    return worst ? tell_run(around, &things->items[worst_run.thing], worst,
                            &worst_run, err)
                 : FW_OK;
}

static enum fw_status parallel(struct fw_plan__around *around,
                               const struct fw_plan__thing *thing,
                               struct fw_error *err)
{
    struct things things;
    if (thing->feature->role != FW_ROLE_POWER_LINE)
        return FW_OK;
    enum fw_status status = find_things(around, thing, &things, err);
    if (status)
        return status;
    status = parallel_of(around, &things, err);
    things_release(&things);
    return status;
}

/* ---- roads and paths alongside ---- */

double fw_plan__sign_gap_m(const struct fw_farm *farm,
                           const struct fw_safety_rule *rule)
{
    const double told_m =
        rule->role == FW_ROLE_ROAD ? farm->sign_road_m : farm->sign_path_m;
    return told_m > 0 ? told_m : rule->sign_interval_m;
}

const struct fw_safety_rule *fw_plan__sign_rule(enum fw_role role)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        if (rules[i].check == FW_CHECK_ALONG && rules[i].role == role)
            return &rules[i];
    return NULL;
}

/* The part of a line within reach of this thing, added to what its signs are
 * for. */
static enum fw_status take_along(struct fw_plan__line *line,
                                 const struct fw_plan__thing *thing,
                                 double reach_m, size_t signs, double *part_m,
                                 struct fw_error *err)
{
    struct fw_stretches here = {0};
    struct fw_stretches *all = &line->along[signs];
    enum fw_status status = fw_stretches_find(
        line->points, line->count, &thing->shape, reach_m, 90, &here, err);
    fw_stretches_join(&here, 0);
    *part_m = sum_m(&here);
    if (!status && here.count)
        status =
            fw_array_reserve(&all->items, &all->capacity,
                             all->count + here.count, sizeof *all->items, err);
    for (size_t i = 0; !status && i < here.count; i++)
        all->items[all->count++] = here.items[i];
    fw_stretches_release(&here);
    return status;
}

static enum fw_status tell_along(struct fw_plan__around *around,
                                 const struct fw_plan__thing *thing,
                                 const struct fw_safety_rule *rule,
                                 const struct run *run, struct fw_error *err)
{
    const enum fw_units units = around->job->plan->units;
    const double gap_m = fw_plan__sign_gap_m(around->job->farm, rule);
    struct fw_text text = {0};
    char gap[FW_SAID], all[FW_SAID];
    fw_text_addf(&text, "%s: each %s on the %s beside it", rule->text,
                 fw_say_wanted(gap_m, units, FW_DOWN, gap),
                 fw_say_measured(ceil(run->boundary_m + run->moved_m), gap_m,
                                 units, FW_UP, all));
    return find(around, thing, rule, run, &text, err);
}

static enum fw_status along(struct fw_plan__around *around,
                            const struct fw_plan__thing *thing,
                            struct fw_error *err)
{
    size_t signs;
    if (!fw_plan__is_road_like(thing->feature->role, &signs))
        return FW_OK;
    const struct fw_safety_rule *rule =
        fw_plan__sign_rule(thing->feature->role);
    struct run run = {.fence = FW_NONE, .distance_m = (double)INFINITY};
    for (size_t i = 0; i < around->line_count; i++) {
        struct fw_plan__line *line = &around->lines[i];
        double part_m = 0;
        if (!line->hot ||
            fw_plan__gap_m(&line->box, &thing->box) > rule->wanted_m)
            continue;
        const enum fw_status status =
            take_along(line, thing, rule->wanted_m, signs, &part_m, err);
        if (status)
            return status;
        if (!(part_m > 0))
            continue;
        struct fw_point where;
        const double distance_m = fw_safety_shape_distance_m(
            line->points, line->count, &thing->shape, &where);
        run.moved_m += part_m;
        if (distance_m >= run.distance_m)
            continue;
        run.distance_m = distance_m;
        run.where = where;
        run.fence = line->fence;
    }
    return run.moved_m > 0 ? tell_along(around, thing, rule, &run, err) : FW_OK;
}

enum fw_status fw_plan__beside(struct fw_plan__around *around,
                               const struct fw_plan__thing *thing,
                               struct fw_error *err)
{
    const enum fw_status status = parallel(around, thing, err);
    return status ? status : along(around, thing, err);
}
