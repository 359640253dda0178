/* Block plans of any connected ground, for the patterns that use them. */
#ifndef FW_LAYOUT_BLOCKS_H
#define FW_LAYOUT_BLOCKS_H

#include "cutting/subdivision.h"

#include "figures/mark.h"

enum { FW_MOST_BLOCKS = FW_EFFORT(64) };

struct fw_block_plan {
    double deg;    /* in which the blocks follow each other */
    double line_m; /* estimated, or measured */
    double rank;   /* line_m without its last digits, which rounding decides */
    size_t at[FW_MOST_BLOCKS + 1]; /* plots before each block, and all */
    size_t block_count;
    bool mirrored; /* the first block runs the other way */
};

/* One plan for each of so many directions over half a turn, the least line
 * first, by estimate. behind_m2[k] lies behind the first k plots; `plans` has
 * room for `directions` of them. A block line
 * counts line_weight times its length: more than 1 for fewer, wider blocks. */
enum fw_status
fw_layout__block_plans(const struct fw_point *points, const size_t *ring_start,
                       size_t ring_count, const double *behind_m2, size_t count,
                       size_t directions, const double *line_weights,
                       size_t weight_count, struct fw_block_plan *plans,
                       size_t *plan_counts, struct fw_error *err);

/* By line_m; an infinite one means that it cannot be made. */
void fw_layout__sort_plans(struct fw_block_plan *plans, size_t count);

/* Cut a region by the plan: its plot k ends where behind[k] - base lies behind
 * it. */
enum fw_status fw_layout__cut_blocks(const struct fw_block_plan *plan,
                                     struct fw_subdivision *subdivision,
                                     const struct fw_region *region,
                                     const double *behind, double base,
                                     struct fw_region *paddocks, bool *whole,
                                     struct fw_error *err);

#endif
