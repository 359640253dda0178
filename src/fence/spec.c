#include "base/fail.h"
#include "fence/line.h"
#include <math.h>

/* Sources, as docs/guide/fence.md lists them:
 * two strands at 14 and 22 in: New Liberty Farm (web log), March 2006;
 * posts at 8 m on flat ground, one at each turn over 15 degrees, 3 to 5 % of
 * slack, rolls of 400 m: common practice, no source. */
struct fw_fence_spec fw_fence_moved_default(void)
{
    return (struct fw_fence_spec){
        .strands = 2,
        .post_gap_m = 8,
        .bend_deg = 15,
        .slack = 0.04,
        .reel_m = 400,
        .height_top_m = 0.55,
        .height_bottom_m = 0.35,
    };
}

/* Five strands at 7 to 42 in: New Liberty Farm (web log), March 2006;
 * electric high-tensile posts at 15 to 20 m: lecarrefarago.com; a strainer
 * assembly at each change of direction over 20 degrees: NRCS Maine 382A, 2008;
 * rolls of 4,000 ft: common practice, no source. */
struct fw_fence_spec fw_fence_perimeter_default(void)
{
    return (struct fw_fence_spec){
        .strands = 5,
        .post_gap_m = 15,
        .bend_deg = 20,
        .slack = 0.04,
        .reel_m = 1219.2,
        .height_top_m = 1.07,
        .height_bottom_m = 0.18,
    };
}

enum fw_status fw_fence__check(const struct fw_fence_spec *spec,
                               struct fw_error *err)
{
    if (spec->strands < 1 || spec->strands > 8)
        return fw_fail(err, FW_EINPUT, "strands is %d; expected 1 to 8",
                       spec->strands);
    if (!(spec->post_gap_m > 0) || !isfinite(spec->post_gap_m))
        return fw_fail(err, FW_EINPUT,
                       "post gap is %g m; expected over 0, such as 8 m",
                       spec->post_gap_m);
    if (!(spec->bend_deg >= 0 && spec->bend_deg <= 180))
        return fw_fail(err, FW_EINPUT,
                       "bend is %g degrees; expected 0 to 180, such as 15",
                       spec->bend_deg);
    if (!(spec->slack >= 0 && spec->slack <= 1))
        return fw_fail(err, FW_EINPUT,
                       "slack is %g; expected a share from 0 to 1, such as "
                       "0.04",
                       spec->slack);
    if (!(spec->reel_m > 0) || !isfinite(spec->reel_m))
        return fw_fail(err, FW_EINPUT,
                       "reel holds %g m; expected over 0, such as 400 m",
                       spec->reel_m);
    if (!(spec->height_bottom_m >= 0 &&
          spec->height_top_m >= spec->height_bottom_m &&
          spec->height_top_m <= 3))
        return fw_fail(err, FW_EINPUT,
                       "wires are at %g to %g m; expected the lowest first, "
                       "the highest at most 3 m",
                       spec->height_bottom_m, spec->height_top_m);
    return FW_OK;
}
