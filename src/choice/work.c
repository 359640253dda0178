/* What a line takes, and costs a person. A layout is chosen by the same sums
 * that its plan then tells, so both are counted here. */
#include "choice/run.h"

double fw_plan__lay_min(const struct fw_plan_job *job, size_t field,
                        double ground_m)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_fence_spec *spec = &farm->moved;
    double grass_m, left_m;
    fw_forage_heights(&farm->fields[field].sward, &job->usable[field], &grass_m,
                      &left_m);
    return spec->lay_flat && grass_m > spec->height_bottom_m
               ? fw_fence_lay_min(ground_m, &farm->rates)
               : 0;
}

enum fw_status fw_plan__line_work(const struct fw_plan_job *job, size_t index,
                                  const struct fw_point *line, size_t count,
                                  struct fw_plan__line_work *out,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_plan__run run = {0};
    const int strands = farm->moved.strands;
    const enum fw_status status =
        fw_plan__run_find(job, index, line, count, &run, err);
    if (status)
        return status;
    const struct fw_fence_count counted = fw_plan__run_count(
        &run, fw_line_length_m(line, count, false), &farm->moved);
    const double lay_min = fw_plan__lay_min(job, index, counted.line_m);
    *out = (struct fw_plan__line_work){
        .takes =
            {
                .reels = counted.reels,
                .posts = counted.posts,
                .wire_m = counted.wire_m,
                .set_min = fw_fence_set_min(&counted, strands, &farm->rates) +
                           run.crossing_min + lay_min,
                .down_min =
                    fw_fence_take_down_min(&counted, strands, &farm->rates),
                .set_passes =
                    fw_fence_set_passes(&counted, strands, &farm->rates) +
                    (lay_min > 0 ? FW_FENCE_LAY_PASSES : 0),
                .down_passes =
                    fw_fence_take_down_passes(&counted, strands, &farm->rates),
            },
        .ground_m = counted.line_m,
    };
    fw_plan__run_release(&run);
    return FW_OK;
}
