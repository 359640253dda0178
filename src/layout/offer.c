/* From a design to a layout in grazing order. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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

static enum fw_status make_layout(const struct fw_layout_request *request,
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

/* Targets belong to ranks of the order; plots get those of their ranks. */
static void targets_by_plot(const double *behind, size_t count,
                            const size_t *order, double *by_plot)
{
    for (size_t rank = 0; rank < count; rank++)
        by_plot[order[rank]] = behind[rank] - (rank > 0 ? behind[rank - 1] : 0);
    for (size_t plot = 1; plot < count; plot++)
        by_plot[plot] += by_plot[plot - 1];
    by_plot[count - 1] = behind[count - 1];
}

static bool same_cuts(const double *a, const double *b, size_t count)
{
    const double rounding = FW_TOLERANCE(1e-9);
    for (size_t i = 0; i < count; i++)
        if (fabs(a[i] - b[i]) > rounding * b[count - 1] / (double)count)
            return false;
    return true;
}

/* Cuts with other targets may want another order, and so other targets. */
enum {
    usual_rounds = FW_EFFORT(5),
    most_rounds = FW_EFFORT(10) /* as long as there is no other layout */
};

struct settle {
    const struct fw_layout_request *request;
    const struct fw_layout_shares *shares;
    int rounds;
    size_t *order;
    double *by_plot; /* targets of the cuts */
    double *wanted;  /* of cuts for the order */
};

static bool settle_alloc(struct settle *settle)
{
    const size_t count = settle->shares->count;
    settle->order = fw_alloc(count, sizeof *settle->order);
    settle->by_plot = fw_alloc(count, sizeof *settle->by_plot);
    settle->wanted = fw_alloc(count, sizeof *settle->wanted);
    return settle->order && settle->by_plot && settle->wanted;
}

static void settle_release(struct settle *settle)
{
    fw_free(settle->order);
    fw_free(settle->by_plot);
    fw_free(settle->wanted);
}

/* The cuts hold what the order wants: the paddocks are put in it. Where that
 * goes round, any order will do in which every paddock holds its own. */
static enum fw_status put_in_order(struct settle *settle, int round,
                                   struct fw_layout *out, bool *settled,
                                   struct fw_error *err)
{
    const double *behind = settle->shares->behind;
    const size_t count = settle->shares->count;
    enum fw_status status = fw_layout__order(
        out, settle->request, settle->shares, settle->order, err);
    if (status)
        return status;
    targets_by_plot(behind, count, settle->order, settle->wanted);
    *settled = same_cuts(settle->wanted, settle->by_plot, count);
    if (!*settled && round > 0 && settle->request->keep_count == 0)
        status = fw_layout__order_for(out, settle->request, behind,
                                      settle->order, settled, err);
    return !status && *settled ? fw_layout__arrange(out, settle->order, err)
                               : status;
}

static enum fw_status settle_rounds(struct settle *settle,
                                    const struct fw_design *design,
                                    struct fw_layout *out, bool *whole,
                                    struct fw_error *err)
{
    const size_t count = settle->shares->count;
    enum fw_status status = FW_OK;
    bool settled = false;
    memcpy(settle->by_plot, settle->shares->behind,
           count * sizeof *settle->by_plot);
    for (int round = 0; !status && !settled && round < settle->rounds;
         round++) {
        status = make_layout(settle->request, design, settle->by_plot, out,
                             whole, err);
        if (status || !*whole)
            break;
        status = put_in_order(settle, round, out, &settled, err);
        if (status || !settled)
            fw_layout_release(out);
        memcpy(settle->by_plot, settle->wanted,
               count * sizeof *settle->by_plot);
    }
    *whole = settled;
    return status;
}

enum fw_status fw_layout__offer(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                const struct fw_design *design,
                                struct fw_layout_list *list,
                                struct fw_error *err)
{
    struct fw_layout layout = {0};
    bool whole = false;
    struct settle settle = {.request = request,
                            .shares = shares,
                            .rounds = list->count ? usual_rounds : most_rounds};
    enum fw_status status = settle_alloc(&settle) ? FW_OK : fw_fail_memory(err);
    if (!status)
        status = fw_array_reserve(&list->items, &list->capacity,
                                  list->count + 1, sizeof *list->items, err);
    if (!status)
        status = settle_rounds(&settle, design, &layout, &whole, err);
    if (!status && whole) {
        snprintf(layout.name, sizeof layout.name, "%s", design->name);
        layout.pattern = design->pattern;
        layout.direction_deg = design->direction_deg;
        layout.full_count = shares->full_count;
        layout.last_share = shares->last_share;
        layout.share = shares->share;
        layout.even = shares->even;
        list->items[list->count++] = layout;
    }
    settle_release(&settle);
    return status;
}

void fw_layout_list_release(struct fw_layout_list *list)
{
    if (!list)
        return;
    for (size_t i = 0; i < list->count; i++)
        fw_layout_release(&list->items[i]);
    fw_free(list->items);
    *list = (struct fw_layout_list){0};
}
