/* What a map can prove: each fence against what stands around the field. */
#include "around/around.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/say.h"
#include "figures/units.h"

#include <math.h>

/* The nearest of a field's fences to one feature. */
struct nearest {
    double distance_m;
    struct fw_point where;
    size_t fence;
};

/* The weightiest rule of that kind of check that is broken: a fence that
 * stands on a path also stands near it, and needs to be told once. */
static const struct fw_safety_rule *
broken_rule(const struct fw_plan__thing *thing, enum fw_check check,
            double distance_m)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    const struct fw_safety_rule *worst = NULL;
    for (size_t i = 0; i < count; i++)
        if (rules[i].check == check &&
            fw_safety_covers(&rules[i], thing->feature->role,
                             thing->feature->kv, thing->drawn) &&
            (distance_m < rules[i].wanted_m || distance_m <= 0) &&
            (!worst || rules[i].level > worst->level))
            worst = &rules[i];
    return worst;
}

static bool has_rule(const struct fw_plan__thing *thing, enum fw_check check)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        if (rules[i].check == check &&
            fw_safety_covers(&rules[i], thing->feature->role,
                             thing->feature->kv, thing->drawn))
            return true;
    return false;
}

static enum fw_status tell_near(struct fw_plan__around *around,
                                const struct fw_plan__thing *thing,
                                const struct fw_safety_rule *rule,
                                const struct nearest *nearest,
                                struct fw_error *err)
{
    const struct fw_plan__found found = {
        .rule = rule,
        .thing = thing,
        .fence = nearest->fence,
        .where = &nearest->where,
        .distance_m = nearest->distance_m,
        .wanted_m = rule->wanted_m,
        .level = rule->level,
    };
    return fw_plan__find(around, &found, err);
}

/* Wires that stand too high are worth a line of their own; else the height is
 * told only where nothing else is. */
static enum fw_status tell_height(struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  const struct fw_safety_rule *rule,
                                  const struct nearest *nearest,
                                  struct fw_error *err)
{
    const double top_m = around->job->plan->moved.height_top_m;
    const bool high = top_m > FW_SAFETY_OLDER_HEIGHT_M;
    struct fw_text text = {0};
    char said[FW_SAID];
    fw_text_addf(&text, "%s; the moved wires stand %s high", rule->text,
                 fw_say_height(top_m, around->job->plan->units, FW_UP, said));
    enum fw_status status = fw_text_done(&text, err);
    const struct fw_plan__found found = {
        .rule = rule,
        .thing = thing,
        .fence = nearest->fence,
        .where = &nearest->where,
        .distance_m = nearest->distance_m,
        .wanted_m = rule->wanted_m,
        .level = high ? FW_LEVEL_WARNING : rule->level,
        .text = text.bytes,
    };
    if (!status)
        status = fw_plan__find(around, &found, err);
    fw_text_release(&text);
    return status;
}

/* Of one line: its crossings are told, and whether it only crosses. */
static enum fw_status crossings_of(struct fw_plan__around *around,
                                   const struct fw_plan__thing *thing,
                                   const struct fw_plan__line *line,
                                   bool *only_crosses, struct fw_error *err)
{
    struct fw_crossings crossings = {0};
    *only_crosses = false;
    if (!has_rule(thing, FW_CHECK_CROSS))
        return FW_OK;
    enum fw_status status = fw_crossings_find(line->points, line->count,
                                              &thing->shape, &crossings, err);
    if (!status)
        status = fw_plan__crossings(around, thing, line, &crossings, err);
    *only_crosses = crossings.count > 0 && !crossings.lies_along;
    fw_crossings_release(&crossings);
    return status;
}

static enum fw_status near_fences(struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  struct fw_error *err)
{
    const double reach_m = fw_safety_reach_m();
    struct nearest nearest = {(double)INFINITY, {0, 0}, FW_NONE};
    for (size_t i = 0; i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        struct fw_point where;
        bool crosses = false;
        if (!line->hot || fw_plan__gap_m(&line->box, &thing->box) > reach_m)
            continue;
        const double distance_m = fw_safety_shape_distance_m(
            line->points, line->count, &thing->shape, &where);
        if (distance_m < FW_TOLERANCE(0.01)) {
            const enum fw_status status =
                crossings_of(around, thing, line, &crosses, err);
            if (status)
                return status;
        }
        if (!crosses && distance_m < nearest.distance_m)
            nearest = (struct nearest){distance_m, where, line->fence};
    }
    const struct fw_safety_rule *rule =
        broken_rule(thing, FW_CHECK_NEAR, nearest.distance_m);
    const struct fw_safety_rule *height =
        broken_rule(thing, FW_CHECK_HEIGHT, nearest.distance_m);
    enum fw_status status = FW_OK;
    if (rule)
        status = tell_near(around, thing, rule, &nearest, err);
    if (!status && height &&
        (!rule ||
         around->job->plan->moved.height_top_m > FW_SAFETY_OLDER_HEIGHT_M))
        status = tell_height(around, thing, height, &nearest, err);
    return status;
}

/* From the energizer, whose place the farm gives in its first field. */
static enum fw_status near_energizer(struct fw_plan__around *around,
                                     const struct fw_plan__thing *thing,
                                     struct fw_error *err)
{
    const struct fw_plan_place *place = &around->job->plan->energizer_place;
    if (around->field != 0 || !place->given)
        return FW_OK;
    const struct nearest nearest = {
        fw_safety_shape_distance_m(&place->plane, 1, &thing->shape, NULL),
        place->plane, FW_NONE};
    const struct fw_safety_rule *rule =
        broken_rule(thing, FW_CHECK_EARTH, nearest.distance_m);
    return rule ? tell_near(around, thing, rule, &nearest, err) : FW_OK;
}

static enum fw_status check_thing(struct fw_plan__around *around,
                                  const struct fw_farm_feature *feature,
                                  struct fw_error *err)
{
    struct fw_plan__thing thing = {0};
    around->first_finding = around->job->plan->finding_count;
    enum fw_status status = fw_plan__thing_init(&thing, around, feature, err);
    if (!status)
        status = near_fences(around, &thing, err);
    if (!status)
        status = fw_plan__beside(around, &thing, err);
    if (!status)
        status = near_energizer(around, &thing, err);
    if (!status)
        status = fw_plan__held(around, &thing, err);
    fw_plan__thing_release(&thing);
    return status;
}

/* ---- which features are worth a look ---- */

struct degrees { /* a box of longitudes and latitudes */
    double west, east, south, north;
};

static struct degrees box_of(const struct fw_lonlat *points, size_t count)
{
    struct degrees box = {HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < count; i++) {
        box.west = fmin(box.west, points[i].lon_deg);
        box.east = fmax(box.east, points[i].lon_deg);
        box.south = fmin(box.south, points[i].lat_deg);
        box.north = fmax(box.north, points[i].lat_deg);
    }
    return box;
}

static void take_point(struct degrees *box, struct fw_lonlat at)
{
    const struct degrees one = box_of(&at, 1);
    box->west = fmin(box->west, one.west);
    box->east = fmax(box->east, one.east);
    box->south = fmin(box->south, one.south);
    box->north = fmax(box->north, one.north);
}

/* The field, and its energizer, with twice the reach of any check around. */
static struct degrees reach_of(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    struct degrees box = box_of(NULL, 0);
    for (size_t i = 0; i < field->vertex_count; i++)
        take_point(&box, field->vertices[i].lonlat);
    if (index == 0 && plan->energizer_place.given)
        take_point(&box, plan->energizer_place.lonlat);
    const double lat = 2 * fw_safety_reach_m() / FW_DEGREE_M;
    const double shrink =
        fmax(FW_TOLERANCE(0.01),
             cos(fmax(fabs(box.south), fabs(box.north)) / FW_RADIAN_DEG));
    return (struct degrees){box.west - lat / shrink, box.east + lat / shrink,
                            box.south - lat, box.north + lat};
}

static bool meets(const struct degrees *a, const struct degrees *b)
{
    return a->west <= b->east && a->east >= b->west && a->south <= b->north &&
           a->north >= b->south;
}

/* What is known of each feature of the farm. */
struct features {
    struct degrees *boxes;
    bool *near; /* the field at hand */
    size_t *group;
};

static enum fw_status check_field(struct fw_plan_job *job, size_t index,
                                  const struct features *known,
                                  struct fw_error *err)
{
    const struct degrees reach = reach_of(job->plan, index);
    const size_t count = job->farm->feature_count;
    struct fw_plan__around around;
    enum fw_status status = fw_plan__around_init(&around, job, index, err);
    around.near = known->near;
    around.group = known->group;
    for (size_t i = 0; i < count; i++)
        known->near[i] = meets(&reach, &known->boxes[i]);
    for (size_t i = 0; !status && i < count; i++)
        if (known->near[i])
            status = check_thing(&around, &job->farm->features[i], err);
    if (!status)
        status = fw_plan__bordered(&around, err);
    if (!status)
        status = fw_plan__steep(&around, fw_safety_rule_find("steep"), err);
    if (!status)
        status = fw_plan__signs(&around, err);
    fw_plan__around_release(&around);
    return status;
}

enum fw_status fw_plan__findings(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct features known = {
        .boxes = fw_alloc(farm->feature_count, sizeof *known.boxes),
        .near = fw_alloc(farm->feature_count, sizeof *known.near),
        .group = fw_alloc(farm->feature_count, sizeof *known.group),
    };
    enum fw_status status = known.boxes && known.near && known.group
                                ? fw_plan__group(farm, known.group, err)
                                : fw_fail_memory(err);
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        known.boxes[i] =
            box_of(feature->points, feature->ring_start[feature->ring_count]);
    }
    for (size_t field = 0; !status && field < job->plan->field_count; field++)
        status = check_field(job, field, &known, err);
    fw_free(known.boxes);
    fw_free(known.near);
    fw_free(known.group);
    return status;
}
