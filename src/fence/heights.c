/* How high the wires of a moved fence hang, by what it has to hold. */
#include "fence/fence.h"

#include "figures/fence.h"
#include "figures/mark.h"

static double top_m(int strands)
{
    return strands <= 2             ? FW_FENCE_TOP_M
           : strands == FW_PARTS(3) ? FW_FENCE_TOP_OF_THREE_M
                                    : FW_FENCE_TOP_OF_MORE_M;
}

struct fw_wires fw_fence_wires(enum fw_held held, int strands)
{
    static const double bottom_m[] = {
        FW_FENCE_BOTTOM_M, FW_FENCE_BOTTOM_WEANED_M, FW_FENCE_BOTTOM_AT_FOOT_M};
    return (struct fw_wires){
        .bottom_m = bottom_m[held],
        .top_m = top_m(strands),
        .most_bottom_m =
            held == FW_HELD_AT_FOOT ? FW_FENCE_MOST_AT_FOOT_M : bottom_m[held],
    };
}
