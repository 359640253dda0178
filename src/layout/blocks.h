/* Block plans of any connected ground, for the patterns that use them. */
#ifndef FW_LAYOUT_BLOCKS_H
#define FW_LAYOUT_BLOCKS_H

#include "cutting/plots.h"

enum { FW_MOST_BLOCKS = FW_EFFORT(64) };

struct fw_block_plan {
    double deg;    /* in which the blocks follow each other */
    double line_m; /* estimated, or measured */
    double rank;   /* line_m without its last digits, which rounding decides */
    size_t at[FW_MOST_BLOCKS + 1]; /* plots before each block, and all */
    size_t block_count;
    bool mirrored; /* the first block runs the other way */
};

/* What is asked of plans: ground, its plots, and ways to try. */
struct fw_block_wish {
    const struct fw_point *points; /* of a polygon with holes */
    const size_t *ring_start;
    size_t ring_count;
    const double *behind_m2; /* [k]: behind the first k plots */
    size_t count;            /* plots */
    size_t directions;       /* to try, over half a turn */
    /* A block line counts so many times its length: more than 1 for fewer,
     * wider blocks. */
    const double *line_weights;
    size_t weight_count;
};

struct fw_block_plans {
    struct fw_block_plan *items; /* room for one a direction */
    size_t count;
};

/* For each weight one plan a direction, the least line first, by estimate. */
enum fw_status fw_layout__block_plans(const struct fw_block_wish *wish,
                                      struct fw_block_plans *out,
                                      struct fw_error *err);

/* By line_m; an infinite one means that it cannot be made. */
void fw_layout__sort_plans(const struct fw_block_plans *plans);

/* Cut a part of the field by the plan. */
enum fw_status fw_layout__cut_blocks(const struct fw_block_plan *plan,
                                     struct fw_plots *plots,
                                     const struct fw_part *part,
                                     struct fw_error *err);

#endif
