/* The plots of a design, cut into a field. */
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>

static void plots_release(struct fw_plots *plots)
{
    if (plots->whole) {
        fw_regions_release(plots->regions, plots->count);
        fw_regions_release(plots->common, plots->common_count);
    }
    fw_free(plots->regions);
    fw_subdivision_release(&plots->subdivision);
}

static enum fw_status make(const struct fw_layout_request *request,
                           const struct fw_design *design, const double *behind,
                           struct fw_plots *plots, struct fw_error *err)
{
    *plots = (struct fw_plots){
        .behind = behind,
        .count = design->count,
        .regions = fw_alloc(design->count, sizeof *plots->regions)};
    if (!plots->regions)
        return fw_fail_memory(err);
    enum fw_status status = fw_subdivision_init(
        &plots->subdivision, request->field, request->ground, err);
    plots->whole = !status;
    if (!status)
        status = design->cut(design->data, plots, err);
    if (status) {
        plots->whole = false;
        plots_release(plots);
    }
    return status;
}

/* Where rings of the field touch or nearly do, a side may be taken for another;
 * such a map would not add up. */
static bool is_true_map(const struct fw_layout *layout,
                        const struct fw_field *field)
{
    const double rounding = FW_TOLERANCE(9e-13);
    if (!layout->is_map)
        return false;
    double sum_m2 = 0;
    for (size_t p = 0; p < layout->paddock_count + layout->common_count; p++)
        sum_m2 += layout->paddock_m2[p];
    return fabs(sum_m2 - field->area_m2) <= rounding * field->area_m2;
}

enum fw_status fw_layout__cut(const struct fw_layout_request *request,
                              const struct fw_design *design,
                              const double *behind, struct fw_layout *out,
                              bool *whole, struct fw_error *err)
{
    struct fw_plots plots;
    enum fw_status status = make(request, design, behind, &plots, err);
    if (status)
        return status;
    *whole = plots.whole;
    if (plots.whole)
        status = fw_layout__finish(&plots, out, err);
    plots_release(&plots);
    if (!status && *whole && !is_true_map(out, request->field)) {
        fw_layout_release(out);
        *whole = false;
    }
    return status;
}

enum fw_status fw_layout__measure(const struct fw_layout_request *request,
                                  const struct fw_layout_shares *shares,
                                  const struct fw_design *design,
                                  double *line_m, struct fw_error *err)
{
    struct fw_plots plots;
    const enum fw_status status =
        make(request, design, shares->behind, &plots, err);
    if (status)
        return status;
    *line_m = plots.whole ? fw_subdivision_line_m(&plots.subdivision,
                                                  request->field->vertex_count)
                          : HUGE_VAL;
    plots_release(&plots);
    return FW_OK;
}
