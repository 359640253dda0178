/* What the fence of a move costs a person. A layout is chosen by the same sums
 * that its plan then tells, so both are counted here. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

void fw_plan__wire_count(double length_m, const struct fw_fence_spec *spec,
                         struct fw_fence_count *out)
{
    const double strand_m = length_m * (1 + spec->slack);
    out->wire_m = strand_m * spec->strands;
    out->reels =
        spec->strands * (int)fmax(1, ceil(strand_m / spec->reel_m - 1e-6));
}

/* Between ties each piece is counted on its own, since a post stands at every
 * tie; the post there is one of both pieces. */
enum fw_status fw_plan__count_line(const struct fw_point *line, size_t count,
                                   const struct fw_fence_spec *spec,
                                   struct fw_fence_count *out,
                                   struct fw_error *err)
{
    const double least_piece_m = 1e-6;
    struct fw_fence_count sum = {.posts = 1};
    for (size_t i = 1; i < count; i++) {
        struct fw_fence_count piece;
        const double piece_m = apart_m(line[i - 1], line[i]);
        sum.line_m += piece_m;
        if (!(piece_m > least_piece_m))
            continue;
        const enum fw_status status =
            fw_fence_count(line + i - 1, 2, false, spec, &piece, err);
        if (status)
            return status;
        sum.posts += piece.posts - 1;
    }
    fw_plan__wire_count(sum.line_m, spec, &sum);
    *out = sum;
    return FW_OK;
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

enum fw_status fw_plan__line_work(const struct fw_farm *farm,
                                  const struct fw_farm_field *field,
                                  const struct fw_point *line, size_t count,
                                  struct fw_plan__line_work *out,
                                  struct fw_error *err)
{
    struct fw_plan__line_work work = {0};
    const int strands = farm->moved.strands;
    const enum fw_status status =
        fw_plan__count_line(line, count, &farm->moved, &work.count, err);
    if (status)
        return status;
    const double away_m = nearest_end_m(field, line, count);
    work.set = (struct fw_plan__work){
        .minutes = fw_fence_set_min(&work.count, strands, &farm->rates),
        .passes = fw_fence_set_passes(&work.count, strands, &farm->rates),
        .away_m = away_m,
    };
    work.take_down = (struct fw_plan__work){
        .minutes = fw_fence_take_down_min(&work.count, strands, &farm->rates),
        .passes = fw_fence_take_down_passes(&work.count, strands, &farm->rates),
        .away_m = away_m,
    };
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
