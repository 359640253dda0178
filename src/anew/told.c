/* What a farm tells, beside a plan that is gone on from: the flock as it was
 * counted, the same fields, the days on which somebody comes. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "forage/forage.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

/* Sheep that were bought learn what the wire is. */
static bool is_new(const struct fw_plan_on *on, size_t class)
{
    return on->bought && on->bought[class] != FW_NO_DAY &&
           on->day - on->bought[class] < FW_DAYS_TRAIN;
}

/* A ewe without a lamb eats what a dry one does, whatever was told of her while
 * she had milk. */
static void dry_off(struct fw_flock_class *to)
{
    if (to->state < FW_LACTATION_SINGLE || to->state > FW_LATE_LACTATION_TWINS)
        return;
    to->state = FW_DRY;
    to->intake_share = to->intake_kg_day = 0;
}

/* Grown up beside the fence, and in the coat of their dams. */
static struct fw_flock_class lambs_of(const struct fw_flock_class *dams,
                                      const struct fw_plan_weaned *weaned)
{
    struct fw_flock_class lambs = {.name = "weaned lambs",
                                   .head = weaned->head,
                                   .weight_kg = weaned->weight_kg,
                                   .state = FW_WEANED_LAMB,
                                   .coat = dams->coat,
                                   .trained = dams->trained};
    return lambs;
}

static int take_class(const struct fw_plan_on *on, size_t class,
                      struct fw_flock_class *to)
{
    if (on->heads)
        to->head = on->heads[class];
    if (is_new(on, class))
        to->trained = FW_NO;
    if (on->weaned.given)
        dry_off(to);
    return to->head;
}

/* Those of which there is none any more are no class. */
static size_t drop_empty(struct fw_flock_class *classes, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (classes[i].head > 0)
            classes[kept++] = classes[i];
    return kept;
}

/* Those that were counted: the difference is one of the class that has most. */
enum fw_status fw_plan__anew_flock(struct fw_farm *farm,
                                   const struct fw_plan_on *on,
                                   struct fw_error *err)
{
    struct fw_flock_class *classes =
        fw_alloc(farm->class_count + 1, sizeof *classes);
    size_t most = 0;
    int all = 0;
    if (!classes)
        return fw_fail_memory(err);
    if (on->heads && on->class_count != farm->class_count) {
        fw_free(classes);
        return fw_fail(err, FW_EINPUT,
                       "the farm has %zu classes of sheep now, and had %zu",
                       farm->class_count, on->class_count);
    }
    memcpy(classes, farm->classes, farm->class_count * sizeof *classes);
    for (size_t i = 0; i < farm->class_count; i++) {
        all += take_class(on, i, &classes[i]);
        most = classes[i].head > classes[most].head ? i : most;
    }
    const bool lambs = on->weaned.given && on->weaned.head > 0;
    if (lambs)
        all += on->weaned.head;
    if (on->head > 0)
        classes[most].head += on->head - all;
    if (classes[most].head <= 0) {
        fw_free(classes);
        return fw_fail(err, FW_EINPUT,
                       "head: %d counted of %d: more are gone than there were "
                       "of %s; tell the flock by its classes",
                       on->head, all, farm->classes[most].name);
    }
    const struct fw_flock_class dams = classes[most];
    farm->classes = classes;
    farm->class_count = drop_empty(classes, farm->class_count);
    if (lambs)
        classes[farm->class_count++] = lambs_of(&dams, &on->weaned);
    return FW_OK;
}

/* Nearer than that a corner is where it was. */
static const double same_m = FW_TOLERANCE(0.01);

/* What was grazed of other ground nobody can say. */
static enum fw_status same_corners(const struct fw_farm_field *now,
                                   const struct fw_plan_field *then,
                                   struct fw_error *err)
{
    const struct fw_field *shape = fw_plan__grazed(now);
    if (shape->corner_count != then->corner_count)
        return fw_fail(err, FW_EINPUT,
                       "%.80s has %zu corners now, and %zu in the plan",
                       then->name, shape->corner_count, then->corner_count);
    for (size_t i = 0; i < shape->corner_count; i++) {
        const struct fw_point place = fw_plane_forward(
            &then->plane, shape->vertices[shape->corners[i]].lonlat);
        const double apart_m =
            fw_point_apart_m(place, then->vertices[then->corners[i]].plane);
        if (!(apart_m <= same_m))
            return fw_fail(
                err, FW_EINPUT,
                "corner %zu of %.80s lies %.1f m from where the plan "
                "has it",
                fw_plan_corner_number(then, i), then->name, apart_m);
    }
    return FW_OK;
}

enum fw_status fw_plan__anew_fields(const struct fw_farm *farm,
                                    const struct fw_plan *from,
                                    struct fw_error *err)
{
    if (farm->field_count != from->field_count)
        return fw_fail(err, FW_EINPUT,
                       "the farm has %zu fields now, and the plan %zu",
                       farm->field_count, from->field_count);
    for (size_t i = 0; i < farm->field_count; i++)
        if (strcmp(farm->fields[i].shape->name, from->fields[i].name) != 0)
            return fw_fail(err, FW_EINPUT,
                           "field %zu is \"%.80s\" now, and \"%.80s\" in the "
                           "plan",
                           i + 1, farm->fields[i].shape->name,
                           from->fields[i].name);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++)
        status = same_corners(&farm->fields[i], &from->fields[i], err);
    return status;
}

void fw_plan__anew_rates(struct fw_farm *farm, double minutes_share)
{
    struct fw_fence_rates *rates = &farm->rates;
    if (!(minutes_share > 0))
        return;
    rates->walk_m_min /= minutes_share;
    rates->wind_m_min /= minutes_share;
    rates->set_post_s *= minutes_share;
    rates->pull_post_s *= minutes_share;
    rates->end_s *= minutes_share;
}

/* That day, or the first one after it on which somebody moves the flock. */
int fw_plan__anew_day(const struct fw_farm *farm, int day)
{
    struct fw_stay stay = farm->stay;
    for (int k = 0; k < FW_PARTS(7); k++)
        stay.days[k] = fmin(stay.days[k], 1);
    return day - 1 + fw_forage_stay_from(&stay, day - 1);
}
