#include "base/fail.h"
#include "fence/line.h"
#include "figures/fence.h"
#include "figures/mark.h"
#include <math.h>

struct fw_fence_spec fw_fence_moved_default(void)
{
    return (struct fw_fence_spec){
        .strands = FW_FENCE_STRANDS,
        .post_gap_m = FW_FENCE_POST_GAP_M,
        .bend_deg = FW_FENCE_BEND_DEG,
        .slack = FW_FENCE_SLACK,
        .reel_m = FW_FENCE_REEL_M,
        .height_top_m = FW_FENCE_TOP_M,
        .height_bottom_m = FW_FENCE_BOTTOM_M,
        .lay_flat = true,
    };
}

struct fw_fence_perimeter fw_fence_perimeter_default(void)
{
    return (struct fw_fence_perimeter){
        .spec =
            {
                .strands = FW_PERIMETER_STRANDS,
                .post_gap_m = FW_PERIMETER_POST_GAP_M,
                .bend_deg = FW_PERIMETER_BEND_DEG,
                .slack = FW_PERIMETER_SLACK,
                .reel_m = FW_PERIMETER_ROLL_M,
                .height_top_m = FW_PERIMETER_TOP_M,
                .height_bottom_m = FW_PERIMETER_BOTTOM_M,
            },
        .tolerance_m = FW_PERIMETER_TOLERANCE_M,
        .brace_deg = FW_PERIMETER_BRACE_DEG,
        .gates = FW_PERIMETER_GATES,
        .gate_m = FW_PERIMETER_GATE_M,
        .sign_m = FW_PERIMETER_SIGN_M,
    };
}

enum fw_status fw_fence__check(const struct fw_fence_spec *spec,
                               struct fw_error *err)
{
    if (spec->strands < FW_FENCE_STRANDS_LEAST ||
        spec->strands > FW_FENCE_STRANDS_MOST)
        return fw_fail(err, FW_EINPUT, "strands is %d; expected %d to %d",
                       spec->strands, FW_FENCE_STRANDS_LEAST,
                       FW_FENCE_STRANDS_MOST);
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
          spec->height_top_m <= FW_BOUND(3)))
        return fw_fail(err, FW_EINPUT,
                       "wires are at %g to %g m; expected the lowest first, "
                       "the highest at most 3 m",
                       spec->height_bottom_m, spec->height_top_m);
    return FW_OK;
}
