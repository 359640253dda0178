/* The table of patterns, and what they offer. */
#include "base/fail.h"
#include "layout/pattern.h"

#include <string.h>

const struct fw_layout_pattern fw_layout__patterns[] = {
    {"strips", "parallel fences across the whole field", false,
     fw_layout__strips},
    {"blocks", "standing block lines with short daily fences in between", false,
     fw_layout__blocks},
    {"limbs", "short fences first, blocks or strips in the parts", false,
     fw_layout__limbs},
    {"turning", "fences across the whole field that turn with it", false,
     fw_layout__turning},
    {"lane", "a lane with strips on one side or both", true, fw_layout__lane},
    {"wedges", "fences that all run to the water", true, fw_layout__wedges},
    {"contour", "fences along the slope, each near one height", false,
     fw_layout__contour},
};

const size_t fw_layout__pattern_count =
    sizeof fw_layout__patterns / sizeof *fw_layout__patterns;

const char *fw_layout_pattern(size_t row, const char **what)
{
    if (row >= fw_layout__pattern_count)
        return NULL;
    if (what)
        *what = fw_layout__patterns[row].what;
    return fw_layout__patterns[row].name;
}

static enum fw_status known(const char *pattern, struct fw_error *err)
{
    for (size_t i = 0; i < fw_layout__pattern_count; i++)
        if (strcmp(fw_layout__patterns[i].name, pattern) == 0)
            return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "there is no pattern \"%s\"; `foldwright compare` lists "
                   "what there is",
                   pattern);
}

static enum fw_status lay_out(const struct fw_layout_request *request,
                              const struct fw_layout_shares *shares,
                              struct fw_layout_list *list, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < fw_layout__pattern_count; i++)
        if (request->pattern
                ? strcmp(request->pattern, fw_layout__patterns[i].name) == 0
                : !((request->breaks_only || request->last == FW_LAST_GIVEN) &&
                    fw_layout__patterns[i].common))
            status = fw_layout__patterns[i].lay_out(request, shares, list, err);
    return status;
}

/* Where no order from the start settles, one that begins wherever it will: the
 * flock is led in to it. */
static enum fw_status lay_out_anywhere(const struct fw_layout_request *request,
                                       const struct fw_layout_shares *shares,
                                       struct fw_layout_list *list,
                                       struct fw_error *err)
{
    struct fw_layout_request anywhere = *request;
    anywhere.start = anywhere.also = NULL;
    const enum fw_status status = lay_out(&anywhere, shares, list, err);
    for (size_t i = 0; i < list->count; i++)
        list->items[i].gate_m = fw_layout__away_m(
            &list->items[i], request->field, 0, *request->start);
    return status;
}

enum fw_status fw_layout_candidates(const struct fw_layout_request *request,
                                    struct fw_layout_list *out,
                                    struct fw_error *err)
{
    if (!request || !out || !request->field ||
        (request->target_count > 0 && !request->target))
        return fw_fail_null(
            err, "a request, its field or targets, or where the list goes,");
    struct fw_layout_shares shares = {0};
    struct fw_layout_list list = {0};
    const double holds =
        request->ground ? fw_herbage_field_kg(request->ground, request->field)
                        : request->field->area_m2;
    enum fw_status status =
        request->pattern ? known(request->pattern, err) : FW_OK;
    if (!status)
        status = fw_layout__share(request, holds, &shares, err);
    if (!status)
        status = lay_out(request, &shares, &list, err);
    if (!status && list.count == 0 && request->start && !request->pattern)
        status = lay_out_anywhere(request, &shares, &list, err);
    for (size_t i = 0;
         !status && request->bends && !request->ground && i < list.count; i++)
        status = fw_layout__relax(&list.items[i], request->field,
                                  request->start, err);
    if (!status && list.count == 0)
        status = fw_fail(err, FW_EPLAN,
                         "no way was found to cut the field into %zu connected "
                         "paddocks; try another number of them",
                         shares.count);
    if (status)
        fw_layout_list_release(&list);
    else
        *out = list;
    fw_layout__shares_release(&shares);
    return status;
}
