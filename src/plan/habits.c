/* How this farm works, and how much room its flock needs on its ways. */
#include "plan/land.h"

#include <math.h>

/* Common practice, no source: so wide that they do not jam. */
static double opening_m(int head)
{
    return head <= 60 ? 4 : head <= 200 ? 6 : 8;
}

static double way_m(int head)
{
    return head <= 100 ? 3 : head <= 300 ? 4 : 6;
}

/* Wet ground, or water where they would jam. */
static bool is_bad(const void *of, size_t field, struct fw_point at)
{
    const double from_water_m = 10; /* common practice, no source */
    const struct fw_plan__habits *habits = of;
    const size_t index = habits->first + field;
    const struct fw_spot *water = &habits->job->farm->fields[index].water;
    if (water->given && hypot(water->point.x_m - at.x_m,
                              water->point.y_m - at.y_m) < from_water_m)
        return true;
    return fw_plan__on_soft_ground(habits->job, index, at);
}

static bool suckles(const struct fw_farm *farm)
{
    for (size_t i = 0; i < farm->class_count; i++)
        if (farm->classes[i].state == FW_LACTATION_SINGLE ||
            farm->classes[i].state == FW_LACTATION_TWINS)
            return true;
    return false;
}

/* Lambs of untold age count as newly born. */
static void take_lambing(const struct fw_farm *farm, struct fw_habits *habits)
{
    const int young_days = 21;
    habits->young_from = habits->young_to = FW_NO_DAY;
    habits->drift_from = habits->drift_to = FW_NO_DAY;
    if (farm->lambing.given) {
        habits->young_from = farm->lambing.from;
        habits->young_to = farm->lambing.to + young_days;
        if (farm->lambing.way == FW_LAMBING_DRIFT) {
            habits->drift_from = farm->lambing.from;
            habits->drift_to = farm->lambing.to + 1;
        }
    } else if (suckles(farm)) {
        habits->young_from = farm->start_day;
        habits->young_to = farm->start_day + young_days;
    }
}

void fw_plan__habits(const struct fw_plan_job *job, size_t first,
                     bool set_first, struct fw_plan__habits *out)
{
    const struct fw_farm *farm = job->farm;
    const int head = job->plan->flock.head;
    const double seconds = 60;
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
        .room_m = 3, /* common practice, no source */
        .walk_m_min = farm->rates.walk_m_min,
        .end_min = farm->rates.end_s / seconds,
        .is_bad = is_bad,
    };
    take_lambing(farm, &out->habits);
    out->habits.of = out;
}
