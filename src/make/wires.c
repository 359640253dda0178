/* Do the wires of the moved fence hold the smallest of the flock, and if they
 * need not, does the boundary? The plan says which. */
#include "base/text.h"
#include "choice/job.h"

#include "base/fail.h"
#include "figures/fence.h"
#include "figures/mark.h"
#include "figures/units.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>

/* Heights are told in whole centimetres. */
static const double rounding_m = FW_TOLERANCE(0.001);

enum { ROOM = FW_EFFORT(16) };

static const char *height(const struct fw_plan *plan, double m, char text[ROOM])
{
    const bool us = plan->units == FW_US;
    fw_text_format(text, ROOM, "%.0f %s", us ? m / FW_INCH_M : 100 * m,
                   us ? "in" : "cm");
    return text;
}

static const char *length(const struct fw_plan *plan, double m, char text[ROOM])
{
    const bool us = plan->units == FW_US;
    fw_text_format(text, ROOM, "%.0f %s", us ? m / FW_FOOT_M : m,
                   us ? "ft" : "m");
    return text;
}

static const char *smallest(const struct fw_farm *farm)
{
    return fw_flock_lambs(farm->classes, farm->class_count) == FW_LAMBS_AT_FOOT
               ? "lambs at foot"
               : "weaned lambs";
}

static bool edge_holds_lambs(const struct fw_plan_field *field)
{
    for (size_t i = 0; i < field->corner_count; i++)
        if (field->sides[i].holds != FW_HOLDS_LAMBS)
            return false;
    return field->rings.ring_count <= 1 || field->hole_holds == FW_HOLDS_LAMBS;
}

/* They graze ahead of the flock, and nothing but the boundary stops them. */
static enum fw_status note_creep(struct fw_plan *plan, const char *lambs,
                                 struct fw_error *err)
{
    const struct fw_wires low = fw_fence_wires(FW_HELD_AT_FOOT, 2);
    char wire[ROOM];
    bool all = true;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        if (field->paddock_count == 0 || edge_holds_lambs(field))
            continue;
        all = false;
        status = fw_notes_add(
            &plan->notes, FW_LEVEL_DANGER, field->name, err,
            "%s may creep under the moved fence, and nobody says that all of "
            "this boundary holds lambs: make it hold them, or keep them in "
            "with a lowest wire at %s (fence.lambs: hold)",
            lambs, height(plan, low.bottom_m, wire));
    }
    if (status || !all)
        return status;
    return fw_notes_add(&plan->notes, FW_LEVEL_NOTE, "moved fence", err,
                        "%s may creep under it, the lowest wire at %s, and the "
                        "boundary holds them",
                        lambs, height(plan, plan->moved.height_bottom_m, wire));
}

/* Reels of all lines with so many strands, over what they have. */
static double reel_share(const struct fw_plan *plan, int strands)
{
    struct fw_fence_spec spec = plan->moved;
    double now = 0, then = 0;
    spec.strands = strands;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        now += fence->reels;
        then += fw_fence_reels(fence->ground_m * (1 + spec.slack), &spec);
    }
    return now > 0 ? then / now : 1;
}

/* What a third strand would take beyond the kit of two. */
static enum fw_status note_third(struct fw_plan *plan, const char *lambs,
                                 struct fw_error *err)
{
    const struct fw_wires three =
        fw_fence_wires(FW_HELD_AT_FOOT, FW_FENCE_STRANDS_AT_FOOT);
    const double more =
        (double)FW_FENCE_STRANDS_AT_FOOT / plan->moved.strands - 1;
    char now[ROOM], low[ROOM], middle[ROOM], top[ROOM], wire[ROOM];
    return fw_notes_add(
        &plan->notes, FW_LEVEL_NOTE, "moved fence", err,
        "the lowest wire is at %s for the %s; a third strand "
        "(fence.strands: 3), at %s, %s and %s, holds them better and takes "
        "about %s more wire and %.0f more reels",
        height(plan, plan->moved.height_bottom_m, now), lambs,
        height(plan, three.bottom_m, low),
        height(plan, (three.bottom_m + three.top_m) / 2, middle),
        height(plan, three.top_m, top),
        length(plan, plan->totals.kit.wire_m * more, wire),
        ceil(plan->totals.kit.reels *
             (reel_share(plan, FW_FENCE_STRANDS_AT_FOOT) - 1)));
}

enum fw_status fw_plan__note_wires(struct fw_plan_job *job,
                                   struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const struct fw_farm *farm = job->farm;
    const enum fw_lambs lambs =
        fw_flock_lambs(farm->classes, farm->class_count);
    if (lambs == FW_LAMBS_NONE)
        return FW_OK;
    if (farm->lambs_creep)
        return note_creep(plan, smallest(farm), err);
    const struct fw_wires wires =
        fw_fence_wires(fw_farm_held(farm), plan->moved.strands);
    char now[ROOM], most[ROOM];
    if (plan->moved.height_bottom_m > wires.most_bottom_m + rounding_m)
        return fw_notes_add(
            &plan->notes, FW_LEVEL_WARNING, "moved fence", err,
            "the lowest wire is at %s, and %s slip under one over %s: hang it "
            "lower (fence.bottom), or where the boundary holds them say that "
            "they may creep (fence.lambs: creep)",
            height(plan, plan->moved.height_bottom_m, now), smallest(farm),
            height(plan, wires.most_bottom_m, most));
    return lambs == FW_LAMBS_AT_FOOT &&
                   plan->moved.strands < FW_FENCE_STRANDS_AT_FOOT
               ? note_third(plan, smallest(farm), err)
               : FW_OK;
}
