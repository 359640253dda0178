#include "base/fail.h"
#include "base/text.h"
#include "fence/line.h"
#include "figures/fence.h"
#include <stdarg.h>
#include <stdio.h>

struct list {
    struct fw_material *rows;
    size_t most;
    size_t count; /* may pass `most`: then the rows do not fit */
};

static void add(struct list *list, const char *item, const char *unit,
                double quantity, double price, const char *note)
{
    if (!(quantity > 0))
        return;
    if (list->count < list->most) {
        struct fw_material *row = &list->rows[list->count];
        snprintf(row->item, sizeof row->item, "%s", item);
        snprintf(row->unit, sizeof row->unit, "%s", unit);
        row->quantity = quantity;
        row->price = price;
        snprintf(row->note, sizeof row->note, "%s", note);
    }
    list->count++;
}

static enum fw_status list_done(const struct list *list, size_t *count,
                                struct fw_error *err)
{
    if (list->count > list->most)
        return fw_fail(err, FW_EFAULT,
                       "%zu rows of materials do not fit in %zu", list->count,
                       list->most);
    *count = list->count;
    return FW_OK;
}

static const struct fw_prices no_prices = {
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
    if (!prices)
        prices = &no_prices;
    struct list list = {.rows = rows, .most = most};
    char note[160];

    add(&list, "step-in post", "each", kit->posts, prices->post,
        "the most that stand at once; own a few more, 3 to 5 in 100 are lost "
        "a year");
    fw_text_format(
        note, sizeof note,
        "the most that stands at once, %d %s with %.0f %% for ties, sag "
        "and corners",
        spec->strands, spec->strands == 1 ? "strand" : "strands",
        spec->slack * 100);
    add(&list, "polywire", "m", kit->wire_m, prices->wire_m, note);
    add(&list, "geared reel", "each", kit->reels, prices->reel,
        how_on_reels(spec));
    return list_done(&list, count, err);
}

struct perimeter {
    double corners, in_line, line_posts, sections;
};

/* In-line assemblies divide a side into equal sections, line posts divide the
 * sections into equal gaps. */
static struct perimeter count_perimeter(const struct fw_fence__line *ring,
                                        double post_gap_m)
{
    struct perimeter sum = {.corners = (double)ring->mark_count};
    for (size_t i = 0; i < ring->mark_count; i++) {
        const double side_m = ring->marks[i + 1] - ring->marks[i];
        const double sections =
            fw_fence__pieces(side_m, FW_PERIMETER_IN_LINE_M);
        sum.sections += sections;
        sum.in_line += sections - 1;
        sum.line_posts +=
            sections * (fw_fence__pieces(side_m / sections, post_gap_m) - 1);
    }
    return sum;
}

static void add_perimeter(struct list *list, const struct perimeter *sum,
                          const struct fw_fence_spec *spec, double ring_m,
                          const struct fw_prices *prices)
{
    const double strands = spec->strands;
    char note[160];

    fw_text_format(note, sizeof note, "at every bend over %.0f degrees",
                   spec->bend_deg);
    add(list, "corner post", "each", sum->corners, prices->corner_post, note);
    add(list, "in-line strainer post", "each", sum->in_line,
        prices->corner_post, "at most 400 m (1,320 ft) from the next");
    add(list, "brace", "each", 2 * (sum->corners + sum->in_line), -1,
        "two at each corner and in-line post, one for each direction");
    add(list, "line post", "each", sum->line_posts, prices->line_post,
        "equal gaps between corner and in-line posts");
    fw_text_format(note, sizeof note,
                   "%d strands with %.0f %% for ties and sag", spec->strands,
                   spec->slack * 100);
    add(list, "high-tensile wire, 2.5 mm", "m",
        ring_m * strands * (1 + spec->slack), prices->perimeter_wire_m, note);
    add(list, "insulator", "each",
        strands * (sum->line_posts + 2 * (sum->corners + sum->in_line)),
        prices->insulator,
        "a strand: one at a line post, two at a corner or in-line post");
    add(list, "wire strainer", "each", strands * sum->sections, -1,
        "one a strand between two corner or in-line posts");
}

enum fw_status fw_fence_perimeter_list(const struct fw_point *ring,
                                       size_t count,
                                       const struct fw_fence_spec *spec,
                                       const struct fw_prices *prices,
                                       struct fw_material *rows, size_t most,
                                       size_t *row_count, struct fw_error *err)
{
    enum fw_status status = fw_fence__check(spec, err);
    if (status)
        return status;
    struct fw_fence__line line;
    status = fw_fence__line_new(ring, count, true, spec->bend_deg, &line, err);
    if (status)
        return status;
    const struct perimeter sum = count_perimeter(&line, spec->post_gap_m);
    const double ring_m = line.length_m;
    fw_fence__line_release(&line);
    if (sum.line_posts > FW_FENCE__MOST)
        return fw_fail(err, FW_EINPUT,
                       "a perimeter of %g m needs over %g posts; expected a "
                       "wider post gap than %g m",
                       ring_m, FW_FENCE__MOST, spec->post_gap_m);
    struct list list = {.rows = rows, .most = most};
    add_perimeter(&list, &sum, spec, ring_m, prices ? prices : &no_prices);
    return list_done(&list, row_count, err);
}
