/* From a design to a layout in grazing order. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void release_regions(struct fw_region *regions, size_t count)
{
    for (size_t i = 0; regions && i < count; i++)
        fw_region_release(&regions[i]);
}

/* With what each slot is to hold, cumulated. */
static enum fw_status make(const struct fw_layout_request *request,
                           const struct fw_design *design, const double *behind,
                           struct fw_layout *out, bool *whole,
                           struct fw_error *err)
{
    struct fw_board board;
    struct fw_region common[FW_MOST_COMMON] = {{0}};
    struct fw_region *paddocks = fw_alloc(design->count, sizeof *paddocks);
    size_t common_count = 0;
    *whole = false;
    if (!paddocks)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_board_init(&board, request->field, request->ground, err);
    if (!status) {
        status = design->cut(design->data, &board, behind, paddocks, common,
                             &common_count, whole, err);
        if (!status && *whole) {
            status = fw_board_finish(&board, paddocks, design->count, common,
                                     common_count, out, err);
            release_regions(paddocks, design->count);
            release_regions(common, common_count);
        }
        fw_board_release(&board);
    }
    fw_free(paddocks);
    return status;
}

/* Targets belong to ranks of the order; slots get those of their ranks. */
static void targets_by_slot(const double *behind, size_t count,
                            const size_t *order, double *by_slot)
{
    for (size_t rank = 0; rank < count; rank++)
        by_slot[order[rank]] =
            behind[rank] - (rank > 0 ? behind[rank - 1] : 0);
    for (size_t slot = 1; slot < count; slot++)
        by_slot[slot] += by_slot[slot - 1];
    by_slot[count - 1] = behind[count - 1];
}

static bool same_cuts(const double *a, const double *b, size_t count)
{
    const double rounding = 1e-9;
    for (size_t i = 0; i < count; i++)
        if (fabs(a[i] - b[i]) > rounding * b[count - 1] / (double)count)
            return false;
    return true;
}

static enum fw_status settle(const struct fw_layout_request *request,
                             const struct fw_layout_shares *shares,
                             const struct fw_design *design, size_t *order,
                             double *by_slot, struct fw_layout *out,
                             bool *whole, struct fw_error *err)
{
    enum fw_status status =
        make(request, design, shares->behind, out, whole, err);
    if (status || !*whole)
        return status;
    status = fw_layout__order(out, request->field, request->start, order, err);
    if (status) {
        fw_layout_release(out);
        return status;
    }
    targets_by_slot(shares->behind, shares->count, order, by_slot);
    if (!same_cuts(by_slot, shares->behind, shares->count)) {
        fw_layout_release(out);
        status = make(request, design, by_slot, out, whole, err);
        if (status || !*whole)
            return status;
        status =
            fw_layout__order(out, request->field, request->start, order, err);
    }
    if (!status)
        status = fw_layout__arrange(out, order, err);
    if (status)
        fw_layout_release(out);
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
    size_t *order = fw_alloc(shares->count, sizeof *order);
    double *by_slot = fw_alloc(shares->count, sizeof *by_slot);
    enum fw_status status = order && by_slot ? FW_OK : fw_fail_memory(err);
    if (!status)
        status =
            fw_array_reserve(&list->items, &list->capacity, list->count + 1,
                             sizeof *list->items, err);
    if (!status)
        status = settle(request, shares, design, order, by_slot, &layout,
                        &whole, err);
    if (!status && whole) {
        snprintf(layout.name, sizeof layout.name, "%s", design->name);
        layout.pattern = design->pattern;
        layout.direction_deg = design->direction_deg;
        layout.full_count = shares->full_count;
        layout.last_share = shares->last_share;
        layout.share = shares->share;
        list->items[list->count++] = layout;
    }
    fw_free(order);
    fw_free(by_slot);
    return status;
}

void fw_layout_list_release(struct fw_layout_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        fw_layout_release(&list->items[i]);
    fw_free(list->items);
    *list = (struct fw_layout_list){0};
}
