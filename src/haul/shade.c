/* Shade of the maps at a trough: who lies there fouls the water and treads the
 * ground about it to mud. */
#include "around/around.h"
#include "base/text.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "geo/points.h"
#include "haul/haul.h"

#include <math.h>
#include <string.h>

static double away_m(const struct fw_plane *plane,
                     const struct fw_farm_feature *feature, struct fw_point at)
{
    const bool area = feature->kind == FW_FEATURE_POLYGON;
    bool inside = false;
    double least_m = HUGE_VAL;
    for (size_t r = 0; r < feature->ring_count; r++) {
        const size_t first = feature->ring_start[r];
        const size_t end = feature->ring_start[r + 1];
        struct fw_point a =
            fw_plane_forward(plane, feature->points[area ? end - 1 : first]);
        for (size_t i = first; i < end; i++) {
            const struct fw_point b =
                fw_plane_forward(plane, feature->points[i]);
            least_m = fmin(least_m, fw_segment_distance_m(at, a, b));
            if (area && (a.y_m > at.y_m) != (b.y_m > at.y_m) &&
                at.x_m < a.x_m + (b.x_m - a.x_m) * (at.y_m - a.y_m) /
                                     (b.y_m - a.y_m))
                inside = !inside;
            a = b;
        }
    }
    return inside ? 0 : least_m;
}

bool fw_plan__at_shade(const struct fw_plan_job *job, size_t field,
                       struct fw_point at)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_plane *plane = &farm->fields[field].shape->plane;
    bool near = false;
    if (!(farm->mapped & 1U << FW_ROLE_SHADE))
        return false;
    for (size_t i = 0; !near && i < farm->feature_count; i++)
        near = farm->features[i].role == FW_ROLE_SHADE &&
               away_m(plane, &farm->features[i], at) < FW_TROUGH_KEEP_M;
    return near;
}

static enum fw_status tell(struct fw_plan_job *job, size_t field,
                           const struct fw_plan_water *first, size_t count,
                           struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("trough-shade");
    struct fw_plan__around around = {.job = job, .field = field};
    struct fw_text words = {0};
    char keep[FW_SAID];
    fw_text_addf(&words, "%s", first->id);
    if (count > 1)
        fw_text_addf(&words, " and %zu more", count - 1);
    fw_text_addf(&words, ": shade within %s: %s",
                 fw_say_wanted(FW_TROUGH_KEEP_M, job->plan->units, FW_UP, keep),
                 rule->text);
    enum fw_status status = fw_text_done(&words, err);
    const struct fw_plan__found found = {
        .rule = rule,
        .fence = FW_NONE,
        .where = &first->place.plane,
        .wanted_m = -1,
        .level = rule->level,
        .text = words.bytes,
        .about = job->plan->fields[field].name,
    };
    if (!status)
        status = fw_plan__find(&around, &found, err);
    fw_text_release(&words);
    return status;
}

enum fw_status fw_plan__trough_shade(struct fw_plan_job *job,
                                     struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t f = 0; !status && f < plan->field_count; f++) {
        const struct fw_plan_water *first = NULL;
        size_t count = 0;
        for (size_t i = 0; i < plan->water_count; i++) {
            const struct fw_plan_water *water = &plan->waters[i];
            if (water->field != f || strcmp(water->kind_of, "trough") != 0 ||
                !fw_plan__at_shade(job, f, water->place.plane))
                continue;
            first = first ? first : water;
            count++;
        }
        if (first)
            status = tell(job, f, first, count, err);
    }
    return status;
}
