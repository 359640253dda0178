#include "fence/fence.h"

#include "figures/fence.h"

#include <math.h>

struct fw_fence_rates fw_fence_rates_default(void)
{
    return (struct fw_fence_rates){
        .walk_m_min = FW_WORK_WALK_M_MIN,
        .set_post_s = FW_WORK_SET_POST_S,
        .pull_post_s = FW_WORK_PULL_POST_S,
        .wind_m_min = FW_WORK_WIND_M_MIN,
        .end_s = FW_WORK_END_S,
        .posts_an_armful = FW_WORK_ARMFUL,
    };
}

static bool usable(const struct fw_fence_rates *rates)
{
    return rates->walk_m_min > 0 && rates->wind_m_min > 0 &&
           rates->set_post_s >= 0 && rates->pull_post_s >= 0 &&
           rates->end_s >= 0 && rates->posts_an_armful > 0;
}

/* Posts are fetched from one end. Of n armfuls the k-th covers up to k/n of
 * the line, so that going back and returning for the next one walks 2 k/n of
 * it; the sum over k = 1 .. n - 1 is n - 1 lengths. */
static double fetching(const struct fw_fence_count *line,
                       const struct fw_fence_rates *rates)
{
    const double armfuls = ceil((double)line->posts / rates->posts_an_armful);
    return fmax(0, armfuls - 1);
}

double fw_fence_set_passes(const struct fw_fence_count *line, int strands,
                           const struct fw_fence_rates *rates)
{
    if (!usable(rates) || strands < 1)
        return (double)NAN;
    return 2 * ceil(strands / (double)FW_FENCE_REELS_AT_ONCE) +
           fetching(line, rates);
}

double fw_fence_set_min(const struct fw_fence_count *line, int strands,
                        const struct fw_fence_rates *rates)
{
    const double walked_m =
        line->line_m * fw_fence_set_passes(line, strands, rates);
    return walked_m / rates->walk_m_min +
           (line->posts * rates->set_post_s + 2 * rates->end_s) / 60;
}

/* Trodden or dragged flat at a walk: common practice, no source. */
double fw_fence_lay_min(double line_m, const struct fw_fence_rates *rates)
{
    return usable(rates) ? FW_FENCE_LAY_PASSES * line_m / rates->walk_m_min
                         : (double)NAN;
}

/* One reel is wound at a time, walking towards the end that is still tied;
 * then back for the next strand. */
double fw_fence_take_down_passes(const struct fw_fence_count *line, int strands,
                                 const struct fw_fence_rates *rates)
{
    if (!usable(rates) || strands < 1)
        return (double)NAN;
    return 2.0 * strands - 1 + fetching(line, rates);
}

double fw_fence_take_down_min(const struct fw_fence_count *line, int strands,
                              const struct fw_fence_rates *rates)
{
    const double walked_m =
        line->line_m *
        (fw_fence_take_down_passes(line, strands, rates) - strands);
    return line->line_m * strands / rates->wind_m_min +
           walked_m / rates->walk_m_min +
           (line->posts * rates->pull_post_s + 2 * rates->end_s) / 60;
}
