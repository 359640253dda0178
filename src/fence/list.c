/* The list of the kit, and what lists are made with. */
#include "fence/list.h"

#include "base/fail.h"
#include "base/text.h"
#include "fence/line.h"
#include <stdio.h>

void fw_fence__add(struct fw_fence__list *list, enum fw_ware ware,
                   const char *item, double quantity, const char *note)
{
    if (!(quantity > 0))
        return;
    if (list->count < list->most) {
        struct fw_material *row = &list->rows[list->count];
        *row = fw_fence_material(ware, quantity, list->prices);
        snprintf(row->item, sizeof row->item, "%s", item);
        snprintf(row->note, sizeof row->note, "%s", note);
    }
    list->count++;
}

enum fw_status fw_fence__list_done(const struct fw_fence__list *list,
                                   size_t *count, struct fw_error *err)
{
    if (list->count > list->most)
        return fw_fail(err, FW_EFAULT,
                       "%zu rows of materials do not fit in %zu", list->count,
                       list->most);
    *count = list->count;
    return FW_OK;
}

const struct fw_prices fw_fence__no_prices = {
    .post = -1,
    .reel = -1,
    .wire_m = -1,
    .corner_post = -1,
    .line_post = -1,
    .perimeter_wire_m = -1,
    .energizer = -1,
    .earth_rod = -1,
    .sign = -1,
    .insulator = -1,
    .joule = -1,
    .lead_m = -1,
    .copper_wire_m = -1,
    .anchor = -1,
    .handle = -1,
    .sleeve = -1,
    .brace_post = -1,
    .brace_rail = -1,
    .strainer = -1,
    .gate = -1,
    .staple = -1,
    .clamp = -1,
    .cut_out = -1,
};

static const char *how_on_reels(const struct fw_fence_spec *spec)
{
    if (!spec->out_and_back || spec->strands < 2)
        return "every strand on reels of its own";
    return spec->strands % 2 == 0
               ? "each two strands one wire, out and back, on reels of its own"
               : "each two strands one wire, out and back, on reels of its "
                 "own; the odd strand on its own too";
}

enum fw_status fw_fence_kit_list(const struct fw_kit *kit,
                                 const struct fw_fence_spec *spec,
                                 const struct fw_prices *prices,
                                 struct fw_material *rows, size_t most,
                                 size_t *count, struct fw_error *err)
{
    const enum fw_status status = fw_fence__check(spec, err);
    if (status)
        return status;
    if (kit->posts < 0 || kit->reels < 0 || !(kit->wire_m >= 0))
        return fw_fail(err, FW_EINPUT,
                       "a kit of %d posts, %d reels and %g m of wire; "
                       "expected none of them under 0",
                       kit->posts, kit->reels, kit->wire_m);
    struct fw_fence__list list = {
        .prices = prices ? prices : &fw_fence__no_prices,
        .rows = rows,
        .most = most,
    };
    char note[160];

    fw_fence__add(&list, FW_WARE_POST, "step-in post", kit->posts,
                  "the most that stand at once");
    fw_text_format(
        note, sizeof note,
        "the most that stands at once, %d %s with %.0f %% for ties, sag "
        "and corners",
        spec->strands, spec->strands == 1 ? "strand" : "strands",
        spec->slack * 100);
    fw_fence__add(&list, FW_WARE_WIRE, "polywire", kit->wire_m, note);
    fw_fence__add(&list, FW_WARE_REEL, "geared reel", kit->reels,
                  how_on_reels(spec));
    return fw_fence__list_done(&list, count, err);
}
