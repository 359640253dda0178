/* How things are before a plan's first move. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/job.h"

#include <math.h>

struct fw_time_stay fw_plan__stay_unknown(size_t cell)
{
    return (struct fw_time_stay){.cell = cell,
                                 .enter = FW_NO_DAY,
                                 .leave = FW_NO_DAY,
                                 .left_kg = (double)NAN};
}

size_t fw_plan__cell_before(const struct fw_land *land, size_t field)
{
    const struct fw_land_field *of = &land->fields[field];
    for (size_t k = 0; k < of->common_count; k++)
        if (land->cells[of->first_common + k].kind == FW_CELL_GRAZED)
            return of->first_common + k;
    return FW_NONE;
}

/* What has no stay was grazed before, and what comes before the first one in
 * the order of grazing, also where it comes again; where that is in the field
 * of the first stay, they are in the last of it, or behind its front. */
enum fw_status fw_plan__start(const struct fw_plan *plan,
                              const struct fw_land *land,
                              const struct fw_time_stay *stays, size_t count,
                              struct fw_plan_start *out, struct fw_error *err)
{
    struct fw_plan_start start = {
        .stands = fw_alloc(land->line_count, sizeof *start.stands),
        .grazed = fw_alloc(land->cell_count, sizeof *start.grazed),
        .before = fw_alloc(1, sizeof *start.before),
    };
    if (!start.stands || !start.grazed || !start.before) {
        fw_plan_start_release(&start);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < plan->fence_count; i++)
        start.stands[i] = plan->fences[i].stood;
    for (size_t p = 0; p < plan->paddock_count; p++)
        start.grazed[p] = true;
    for (size_t i = 0; i < count; i++)
        start.grazed[stays[i].cell] = stays[i].cell < stays[0].cell;
    start.start = (struct fw_time_start){
        .stands = start.stands, .grazed = start.grazed, .before = start.before};
    const size_t first = count > 0 ? stays[0].cell : 0;
    if (first > 0 && start.grazed[first - 1] &&
        plan->paddocks[first - 1].field == plan->paddocks[first].field) {
        *start.before = fw_plan__stay_unknown(first - 1);
        start.start.before_count = 1;
    } else if (count > 0) {
        *start.before = fw_plan__stay_unknown(
            fw_plan__cell_before(land, plan->paddocks[first].field));
        start.start.before_count = start.before->cell != FW_NONE;
    }
    *out = start;
    return FW_OK;
}

enum fw_status fw_plan_start(const struct fw_plan *plan,
                             const struct fw_land *land,
                             struct fw_plan_start *out, struct fw_error *err)
{
    return fw_plan__start(plan, land, plan->time.stays, plan->time.stay_count,
                          out, err);
}

void fw_plan_start_release(struct fw_plan_start *start)
{
    fw_free(start->stands);
    fw_free(start->grazed);
    fw_free(start->before);
    *start = (struct fw_plan_start){0};
}

size_t fw_plan__done_in(const struct fw_plan_on *on, size_t field)
{
    const struct fw_plan *from = on->from;
    size_t count = fw_plan_grazed_before(from, field);
    for (size_t m = 0; on->move != FW_NONE && m <= on->move; m++) {
        const size_t stay = from->time.moves[m].stay;
        count += stay != FW_NONE &&
                 from->paddocks[from->time.stays[stay].cell].field == field;
    }
    return count;
}
