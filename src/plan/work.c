/* What the fence of a move costs a person. A layout is chosen by the same sums
 * that its plan then tells, so both are counted here. */
#include "plan/run.h"

#include <math.h>

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static double nearest_end_m(const struct fw_farm_field *field,
                            const struct fw_point *line, size_t count)
{
    const struct fw_spot *from = fw_plan__start_of_work(field);
    if (!from->given)
        return 0;
    return fmin(apart_m(line[0], from->point),
                apart_m(line[count - 1], from->point));
}

const struct fw_spot *fw_plan__start_of_work(const struct fw_farm_field *field)
{
    return field->park.given ? &field->park : &field->gate;
}

enum fw_status fw_plan__line_work(const struct fw_plan_job *job, size_t index,
                                  const struct fw_point *line, size_t count,
                                  struct fw_plan__line_work *out,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_plan__line_work work = {0};
    struct fw_plan__run run = {0};
    const int strands = farm->moved.strands;
    const enum fw_status status =
        fw_plan__run_find(job, index, line, count, &run, err);
    if (status)
        return status;
    const double away_m = nearest_end_m(&farm->fields[index], line, count);
    work.count = fw_plan__run_count(&run, fw_line_length_m(line, count, false),
                                    &farm->moved);
    work.set = (struct fw_plan__work){
        .minutes = fw_fence_set_min(&work.count, strands, &farm->rates) +
                   run.crossing_min,
        .passes = fw_fence_set_passes(&work.count, strands, &farm->rates),
        .away_m = away_m,
    };
    work.take_down = (struct fw_plan__work){
        .minutes = fw_fence_take_down_min(&work.count, strands, &farm->rates),
        .passes = fw_fence_take_down_passes(&work.count, strands, &farm->rates),
        .away_m = away_m,
    };
    fw_plan__run_release(&run);
    *out = work;
    return FW_OK;
}

void fw_plan__add_work(struct fw_plan__work *sum,
                       const struct fw_plan__work *other)
{
    sum->minutes += other->minutes;
    sum->passes += other->passes;
    sum->away_m = fmax(sum->away_m, other->away_m);
}

double fw_plan__work_min(const struct fw_plan__work *work,
                         const struct fw_fence_rates *rates)
{
    return work->minutes + 2 * work->away_m / rates->walk_m_min;
}
