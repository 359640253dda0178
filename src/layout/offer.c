/* From a design to a layout in grazing order. */
#include "base/alloc.h"
#include "base/array.h"
#include "layout/pattern.h"

#include <stdio.h>

enum fw_status fw_layout__offer(const struct fw_layout_request *request,
                                const struct fw_layout_shares *shares,
                                const struct fw_design *design,
                                struct fw_layout_list *list,
                                struct fw_error *err)
{
    struct fw_layout layout = {0};
    enum fw_status status =
        fw_array_reserve(&list->items, &list->capacity, list->count + 1,
                         sizeof *list->items, err);
    if (!status)
        status = fw_layout__settle(request, shares, design, list->count == 0,
                                   &layout, err);
    if (!status && layout.paddock_count > 0) {
        snprintf(layout.name, sizeof layout.name, "%s", design->name);
        layout.pattern = design->pattern;
        layout.direction_deg = design->direction_deg;
        list->items[list->count++] = layout;
    }
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
