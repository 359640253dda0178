/* The plots of a part, one strip after the other. */
#include "cutting/plots.h"
#include "base/alloc.h"
#include "base/fail.h"

double fw_plots_before(const struct fw_plots *plots, size_t plot)
{
    return plot > 0 ? plots->behind[plot - 1] : 0;
}

enum fw_status fw_plots_strips(struct fw_plots *plots,
                               const struct fw_part *part, double direction_deg,
                               struct fw_error *err)
{
    double *behind = fw_alloc(part->count, sizeof *behind);
    if (!behind)
        return fw_fail_memory(err);
    for (size_t k = 0; k + 1 < part->count; k++)
        behind[k] = plots->behind[part->first + k] -
                    fw_plots_before(plots, part->first);
    const struct fw_cuts cuts = {.direction_deg = direction_deg,
                                 .behind = behind,
                                 .count = part->count - 1,
                                 .role = FW_LINE_MOVED};
    const enum fw_status status =
        fw_subdivision_cut(&plots->subdivision, part->region, &cuts,
                           plots->regions + part->first, &plots->whole, err);
    fw_free(behind);
    return status;
}
