/* The table of patterns, and the choice among them. */
#include "layout/pattern.h"

const struct fw_layout_pattern fw_layout__patterns[] = {
    {"strips", fw_layout__strips},
};

const size_t fw_layout__pattern_count =
    sizeof fw_layout__patterns / sizeof *fw_layout__patterns;

/* Of two layouts the one with fewer broken paddocks, then with less line; of
 * equals the earlier row. */
static bool better(const struct fw_layout *a, const struct fw_layout *b)
{
    if (a->broken_count != b->broken_count)
        return a->broken_count < b->broken_count;
    return a->line_m < b->line_m;
}

enum fw_status fw_layout_choose(const struct fw_layout_request *request,
                                struct fw_layout *out, struct fw_error *err)
{
    struct fw_layout_shares shares = {0};
    struct fw_layout best = {0};
    enum fw_status status = fw_layout__share(request, &shares, err);
    for (size_t i = 0; !status && i < fw_layout__pattern_count; i++) {
        struct fw_layout layout = {.pattern = fw_layout__patterns[i].name};
        status = fw_layout__patterns[i].lay_out(request, &shares, &layout, err);
        if (status)
            break;
        if (i == 0 || better(&layout, &best)) {
            struct fw_layout worse = best;
            best = layout;
            layout = worse;
        }
        fw_partition_release(&layout.partition);
    }
    if (status) {
        fw_partition_release(&best.partition);
    } else {
        best.full_count = shares.full_count;
        best.last_share = shares.last_share;
        best.share = shares.share;
        *out = best;
    }
    fw_layout__shares_release(&shares);
    return status;
}
