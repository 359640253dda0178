/* A field that is cut into plots: what each is to hold, and its ground. */
#ifndef FW_CUTTING_PLOTS_H
#define FW_CUTTING_PLOTS_H

#include "cutting/subdivision.h"

#include "figures/mark.h"

enum { FW_MOST_COMMON = FW_EFFORT(4) }; /* lanes and aprons of a layout */

struct fw_plots {
    struct fw_subdivision subdivision;
    const double *behind; /* what the first, the first two … of them hold */
    size_t count;
    struct fw_region *regions; /* of each */
    struct fw_region common[FW_MOST_COMMON];
    size_t common_count;
    bool whole; /* false: they cannot be cut in connected pieces, and there are
                   no regions to release */
};

/* Ground for so many of them from the first one on. */
struct fw_part {
    const struct fw_region *region;
    size_t first, count;
};

/* What lies behind a plot: all those before it. */
double fw_plots_before(const struct fw_plots *plots, size_t plot);

/* Cut a part into its plots by parallel lines that are moved; direction_deg is
 * that of the sweep. */
enum fw_status fw_plots_strips(struct fw_plots *plots,
                               const struct fw_part *part, double direction_deg,
                               struct fw_error *err);

#endif
