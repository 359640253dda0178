/* A fence of a chain where somebody really set it. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/fail.h"

/* Less is no paddock. */
static const double least_m2 = 1;

static struct fw_plan__chain_line set_off(const struct fw_plan *plan,
                                          const struct fw_plan__chain *chain,
                                          const double on_m[2])
{
    struct fw_plan__chain_line line = fw_plan__chain_at(chain, 1);
    const struct fw_plan_fence *fence = &plan->fences[chain->fences[1]];
    const struct fw_plan__chain_side *right = &chain->sides[0];
    const size_t a = fence->line[0] == right->vertices[right->stops[1]] ? 0 : 1;
    for (size_t e = 0; e < 2; e++) {
        const size_t side = e == 0 ? a : 1 - a;
        if (on_m[e] != 0)
            line.ends[side] =
                fw_plan__chain_on(chain, side, line.ends[side], on_m[e]);
    }
    return line;
}

/* Where it may stand: beyond what is grazed, short of the end, with ground on
 * either side. */
static bool may_stand(const struct fw_plan__chain *chain,
                      const struct fw_plan__chain_line *line,
                      struct fw_point *points)
{
    const struct fw_plan__chain_line begin = fw_plan__chain_at(chain, 0);
    const struct fw_plan__chain_line end =
        fw_plan__chain_at(chain, (double)chain->count);
    if (!fw_plan__chain_is_beyond(line, &begin) ||
        !fw_plan__chain_is_beyond(&end, line) ||
        !fw_plan__chain_is_inside(chain, line))
        return false;
    size_t count = fw_plan__chain_ground(chain, &begin, line, points);
    const bool behind = fw_ring_area_m2(points, count) > least_m2;
    count = fw_plan__chain_ground(chain, line, &end, points);
    return behind && fw_ring_area_m2(points, count) > least_m2;
}

enum fw_status fw_plan__anew_off(const struct fw_plan *plan,
                                 struct fw_plan__anew *anew,
                                 const double on_m[2], struct fw_error *err)
{
    const struct fw_plan__chain *chain = &anew->chain;
    struct fw_point *points =
        fw_alloc(fw_plan__chain_most(chain), sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    anew->given = 2;
    anew->lines[1] = set_off(plan, chain, on_m);
    const bool may = may_stand(chain, &anew->lines[1], points);
    fw_free(points);
    return may ? FW_OK
               : fw_fail(err, FW_EINPUT,
                         "fence: so %s would cross ground that is grazed, or "
                         "leave its block",
                         plan->fences[chain->fences[1]].id);
}
