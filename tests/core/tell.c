/* Everything that a plan tells, in words and in figures to the last digit. */
#include "core.h"

#include "plan/plan.h"
#include <math.h>
#include <stdio.h>

/* An index, which is as wide as the machine has it. */
static long at(size_t index)
{
    return index == FW_NONE ? -1 : (long)index;
}

/* By its parts north and east: 0 and 359.99... are one direction. Negative:
 * there is none. */
static void tell_bearing(double bearing_deg)
{
    const double turn = bearing_deg * acos(-1) / 180;
    if (bearing_deg < 0)
        printf("  without a bearing\n");
    else
        printf("  %.17g north, %.17g east\n", cos(turn), sin(turn));
}

static void tell_fields(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        printf("field %s: %s %s%s, %zu paddocks, %zu fences, corner numbers "
               "%zu\n  %.17g %.17g %.17g %.17g %.17g %.17g\n",
               field->name, field->pattern, field->layout,
               field->no_plan ? field->no_plan : "", field->paddock_count,
               field->fence_count, field->corner_count, field->direction_deg,
               field->area_ha, field->grazed_ha, field->fence_bound_m,
               field->last_share, field->left_kg);
    }
}

static void tell_paddocks(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        printf("paddock %s %s %d, %d pieces, water %ld, corners %zu\n"
               "  %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n",
               paddock->id, paddock->block, paddock->seq, paddock->pieces,
               at(paddock->water),
               paddock->rings.ring_start[paddock->rings.ring_count],
               paddock->stay_days, paddock->area_ha, paddock->perimeter_m,
               paddock->usable_kg, paddock->elongation, paddock->walk_mean_m,
               paddock->walk_max_m);
    }
}

static void tell_end(const struct fw_plan_paced *end)
{
    printf("  end %d %ld %ld %ld %d, %d paces, %d on from %ld, %.17g\n",
           (int)end->by, at(end->corner), at(end->towards), at(end->fence),
           end->far_end, end->paces, end->on_paces, at(end->on_from),
           end->along_m);
    tell_bearing(end->bearing_deg);
}

static void tell_fences(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const struct fw_vertex *vertices = plan->fields[fence->field].vertices;
        printf("fence %s: role %d, %ld to %ld, rank %ld, %d strands, %d posts, "
               "%d reels, volts %d\n  %.17g %.17g %.17g %.17g %.17g %.17g\n",
               fence->id, (int)fence->role, at(fence->from), at(fence->to),
               at(fence->rank), fence->strands, fence->posts, fence->reels,
               fence->volts_known, fence->length_m, fence->ground_m,
               fence->wire_m, fence->pace_share, fence->open_v,
               fence->touched_v);
        tell_bearing(fence->bearing_deg);
        printf("  line");
        for (size_t k = 0; k < fence->line_count; k++)
            printf(" %.17g %.17g", vertices[fence->line[k]].plane.x_m,
                   vertices[fence->line[k]].plane.y_m);
        printf("\n");
        tell_end(&fence->a);
        tell_end(&fence->b);
    }
    for (size_t i = 0; i < plan->post_count; i++)
        printf("post %s %d %.17g %.17g %.17g\n", plan->posts[i].id,
               (int)plan->posts[i].why, plan->posts[i].at_m,
               plan->posts[i].place.file.x, plan->posts[i].place.file.y);
}

static void tell_list(const char *name, const struct fw_list *list,
                      const size_t *items)
{
    if (list->count)
        printf(" %s", name);
    for (size_t i = 0; i < list->count; i++)
        printf(" %ld", at(items[list->first + i]));
}

static void tell_moves(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    for (size_t i = 0; i < time->move_count; i++) {
        const struct fw_move *move = &time->moves[i];
        printf("move on %d into %ld, field %ld, ahead %d: %.17g %.17g\n",
               move->day, at(move->stay), at(move->field), move->ahead,
               move->minutes, move->passes);
        for (size_t k = 0; k < move->steps.count; k++) {
            const struct fw_step *step = &time->steps[move->steps.first + k];
            printf("  step %d in %ld, opening %ld", (int)step->kind,
                   at(step->field), at(step->opening));
            tell_list("lines", &step->lines, time->items);
            tell_list("dead", &step->dead, time->items);
            tell_list("cells", &step->cells, time->items);
            printf(", %.17g %.17g\n", step->over_m, step->way_m);
        }
    }
    for (size_t i = 0; i < plan->gate_count; i++)
        printf("%s, fence %ld, tight %d: %.17g %.17g %.17g\n",
               plan->gates[i].id, at(plan->gates[i].fence),
               plan->gates[i].tight, plan->gates[i].at_m,
               plan->gates[i].width_m, plan->gates[i].room_m);
    for (size_t i = 0; i < plan->water_count; i++)
        printf("water %s, %d to %d: %.17g %.17g %.17g\n", plan->waters[i].id,
               plan->waters[i].from, plan->waters[i].to,
               plan->waters[i].litres_day, plan->waters[i].place.plane.x_m,
               plan->waters[i].place.plane.y_m);
}

static void tell_power(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->power_day_count; i++) {
        const struct fw_plan_power_day *day = &plan->power_days[i];
        printf("volts %d to %d, fence %ld, dead %d, enough %d: %.17g %.17g "
               "%.17g %.17g\n",
               day->from, day->to, at(day->fence), day->dead, day->enough,
               day->touched_v, day->open_v, day->least_open_v, day->source_v);
    }
    for (size_t i = 0; i < plan->reading_count; i++)
        printf("reading %ld of %ld: %.17g %.17g %.17g\n",
               at(plan->readings[i].step), at(plan->readings[i].fence),
               plan->readings[i].far_v, plan->readings[i].touched_v,
               plan->readings[i].wanted_v);
}

static void tell_notes(const char *what, const struct fw_notes *notes)
{
    for (size_t i = 0; i < notes->count; i++)
        printf("%s %d %s: %s\n", what, (int)notes->items[i].level,
               notes->items[i].where, notes->items[i].text);
}

static void tell_sums(const struct fw_plan *plan)
{
    const struct fw_plan_totals *totals = &plan->totals;
    printf("totals: %d paddocks, %d reels, %d posts, %d handles, %d ties, %d "
           "rods\n  %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n",
           totals->paddocks, totals->kit.reels, totals->kit.posts,
           totals->handles, totals->ties, totals->earth_rods,
           totals->moved_wire_m, totals->standing_wire_m, totals->fence_m,
           totals->fence_bound_m, totals->kit.wire_m, totals->minutes_per_move,
           totals->energizer_j);
    for (size_t i = 0; i < plan->material_count; i++)
        printf("to buy: %.17g %s of %s; %s\n", plan->materials[i].quantity,
               plan->materials[i].unit, plan->materials[i].item,
               plan->materials[i].note);
}

void tell_plan(const struct fw_plan *plan)
{
    tell_fields(plan);
    tell_paddocks(plan);
    tell_fences(plan);
    tell_moves(plan);
    tell_power(plan);
    tell_sums(plan);
    for (size_t i = 0; i < plan->finding_count; i++)
        printf("finding %s %d of %ld: %s\n  %.17g %.17g\n",
               plan->findings[i].rule, (int)plan->findings[i].level,
               at(plan->findings[i].fence), plan->findings[i].text,
               plan->findings[i].distance_m, plan->findings[i].wanted_m);
    for (size_t i = 0; i < plan->caution_count; i++)
        printf("caution %s: %s\n", plan->cautions[i].id,
               plan->cautions[i].tried);
    tell_notes("untold", &plan->untold);
    tell_notes("note", &plan->notes);
}
