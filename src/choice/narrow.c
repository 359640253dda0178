/* Places inside a paddock where a flock of this size does not get through. */
#include "base/alloc.h"
#include "base/fail.h"
#include "choice/land.h"

#include "geo/ways.h"

enum fw_status fw_plan__narrowest(const struct fw_land *land, size_t index,
                                  double way_m, double *out_m,
                                  struct fw_error *err)
{
    const struct fw_cell *cell = &land->cells[index];
    const size_t first = land->ring_start[cell->first_ring];
    size_t *start = fw_alloc(cell->ring_count + 1, sizeof *start);
    struct fw_neck neck;
    if (!start)
        return fw_fail_memory(err);
    for (size_t r = 0; r <= cell->ring_count; r++)
        start[r] = land->ring_start[cell->first_ring + r] - first;
    const enum fw_status status = fw_ways_neck(
        land->ring_points + first, start, cell->ring_count, way_m, &neck, err);
    fw_free(start);
    if (!status)
        *out_m = neck.found ? neck.width_m : 0;
    return status;
}

enum fw_status fw_plan__count_narrow(const struct fw_land *land, double way_m,
                                     size_t *count, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    *count = 0;
    for (size_t c = 0; !status && c < land->cell_count; c++) {
        double narrowest_m = 0;
        if (land->cells[c].kind == FW_CELL_PADDOCK)
            status = fw_plan__narrowest(land, c, way_m, &narrowest_m, err);
        *count += narrowest_m > 0;
    }
    return status;
}

/* Told of each paddock, and on its card. */
enum fw_status fw_plan__narrow(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    struct fw_plan__habits habits;
    enum fw_status status = FW_OK;
    fw_plan__habits(job, 0, false, &habits);
    const size_t count = fw_plan_first_stays(plan);
    for (size_t i = 0; !status && i < count; i++) {
        const size_t p = plan->time.stays[i].cell;
        status = fw_plan__narrowest(&job->land, p, habits.habits.way_m,
                                    &plan->paddocks[p].narrow_m, err);
    }
    return status;
}
