/* Steep ground beside live fence: who starts back from a shock falls. */
#include "around/around.h"
#include "base/text.h"
#include "geo/points.h"

#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"

#include <math.h>
#include <stdio.h>

struct steepest {
    double slope;          /* of all within reach */
    double away_m;         /* how near it is too steep ... */
    struct fw_point where; /* ... and where */
};

/* Across a place on a fence, out to both sides. Where it is too steep at one
 * look and not at the one before, it may be from there on. */
static void look_across(const struct fw_raster *heights, double step_m,
                        double wanted_m, struct fw_point at,
                        struct fw_point normal, struct steepest *found)
{
    const int sides = (int)ceil(wanted_m / step_m);
    for (int k = -sides; k <= sides; k++) {
        const double off_m = wanted_m * k / sides;
        const struct fw_point p = {at.x_m + off_m * normal.x_m,
                                   at.y_m + off_m * normal.y_m};
        const double slope = fw_raster_slope(heights, step_m / 2, p);
        const double away_m = fmax(0, fabs(off_m) - wanted_m / sides);
        found->slope = fmax(found->slope, slope);
        if (!(slope > FW_STEEP_SLOPE + FW_TOLERANCE(1e-6)) ||
            !(away_m < found->away_m))
            continue;
        found->away_m = away_m;
        found->where = p;
    }
}

static struct steepest look_along(const struct fw_raster *heights,
                                  const struct fw_plan__line *line,
                                  double wanted_m)
{
    const double step_m = fmax(1, fw_raster_cell_m(heights) / 2);
    struct steepest found = {.slope = 0, .away_m = (double)INFINITY};
    for (size_t i = 0; i + 1 < line->count; i++) {
        const struct fw_point a = line->points[i], b = line->points[i + 1];
        const double long_m = fw_point_apart_m(b, a);
        const int steps = (int)fmax(1, ceil(long_m / step_m));
        if (!(long_m > 0))
            continue;
        const struct fw_point normal = {-(b.y_m - a.y_m) / long_m,
                                        (b.x_m - a.x_m) / long_m};
        for (int k = 0; k <= steps; k++) {
            const double t = (double)k / steps;
            const struct fw_point at = {a.x_m + t * (b.x_m - a.x_m),
                                        a.y_m + t * (b.y_m - a.y_m)};
            look_across(heights, step_m, wanted_m, at, normal, &found);
        }
    }
    return found;
}

enum fw_status fw_plan__steep(struct fw_plan__around *around,
                              const struct fw_safety_rule *rule,
                              struct fw_error *err)
{
    const struct fw_raster *heights =
        around->job->farm->fields[around->field].heights;
    const struct fw_plan__thing ground = {.name = "steep ground"};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && heights && i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        if (!line->hot)
            continue;
        const struct steepest found = look_along(heights, line, rule->wanted_m);
        if (!isfinite(found.away_m))
            continue;
        char text[160], reach[FW_SAID];
        fw_text_format(
            text, sizeof text,
            "the ground is as steep as %.0f %% within %s of it: who "
            "starts back from the wire falls there; set it farther off",
            fw_say_round(100 * found.slope, 0, FW_UP),
            fw_say_wanted(rule->wanted_m, around->job->plan->units, FW_UP,
                          reach));
        const struct fw_plan__found finding = {
            .rule = rule,
            .thing = &ground,
            .fence = line->fence,
            .where = &found.where,
            .distance_m = found.away_m,
            .wanted_m = rule->wanted_m,
            .level = FW_LEVEL_WARNING,
            .text = text,
        };
        status = fw_plan__find(around, &finding, err);
    }
    return status;
}
