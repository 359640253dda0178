/* How this farm works, and how much room its flock needs on its ways. */
#include "choice/land.h"
#include "geo/points.h"

#include "figures/plan.h"

#include <math.h>

/* From the head counts on that a curve of the register has. */
static double by_head(const double *at, const double *values, size_t count,
                      int head)
{
    size_t last = 0;
    while (last + 1 < count && head >= at[last + 1])
        last++;
    return values[last];
}

static double opening_m(int head)
{
    return by_head(FW_OPENING_M_AT, FW_OPENING_M,
                   sizeof FW_OPENING_M / sizeof *FW_OPENING_M, head);
}

static double way_m(int head)
{
    return by_head(FW_WAY_M_AT, FW_WAY_M, sizeof FW_WAY_M / sizeof *FW_WAY_M,
                   head);
}

/* Wet ground, or water where they would jam. */
static bool is_bad(const void *of, size_t field, struct fw_point at)
{
    const struct fw_plan__habits *habits = of;
    const size_t index = habits->first + field;
    const struct fw_spot *water = &habits->job->farm->fields[index].water;
    if (water->given &&
        fw_point_apart_m(water->point, at) < FW_OPENING_FROM_WATER_M)
        return true;
    return fw_plan__on_soft_ground(habits->job, index, at);
}

/* Lambs of untold age count as newly born on the day of which the farm tells,
 * and grow older where a plan goes on from there. */
static void take_lambing(const struct fw_plan_job *job,
                         struct fw_habits *habits)
{
    const struct fw_farm *farm = job->farm;
    habits->young_from = habits->young_to = FW_NO_DAY;
    habits->drift_from = habits->drift_to = FW_NO_DAY;
    if (farm->lambing.given) {
        habits->young_from = farm->lambing.from;
        habits->young_to = farm->lambing.to + FW_LAMB_YOUNG_DAYS;
        if (farm->lambing.way == FW_LAMBING_DRIFT) {
            habits->drift_from = farm->lambing.from;
            habits->drift_to = farm->lambing.to + 1;
        }
    } else if (fw_flock_suckles(farm->classes, farm->class_count)) {
        habits->young_from = job->told_day;
        habits->young_to = job->told_day + FW_LAMB_YOUNG_DAYS;
    }
}

void fw_plan__habits(const struct fw_plan_job *job, size_t first,
                     bool set_first, struct fw_plan__habits *out)
{
    const struct fw_farm *farm = job->farm;
    const int head = job->plan->flock.head;
    *out = (struct fw_plan__habits){.job = job, .first = first};
    out->habits = (struct fw_habits){
        .back_fence = farm->back_fence,
        .set_first = set_first,
        .all_stand = farm->all_stand,
        .trough = farm->water_moves,
        .far_hooked = job->plan->wiring.far_hooked && !farm->moved.out_and_back,
        .strands = farm->moved.strands,
        .opening_m = opening_m(head),
        .way_m = way_m(head),
        .room_m = FW_OPENING_ROOM_M,
        .walk_m_min = farm->rates.walk_m_min,
        .end_min = farm->rates.end_s / 60,
        .is_bad = is_bad,
    };
    take_lambing(job, &out->habits);
    out->habits.of = out;
}
