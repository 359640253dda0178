/* A new fence round a field: where it is braced, where it only bends, and the
 * list to buy for it. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "fence/line.h"
#include "fence/list.h"
#include "figures/fence.h"
#include "figures/say.h"
#include <math.h>

struct sums {
    double corners, bends, in_line, line_posts, sections;
};

/* A post of the ring, by how far along it stands. */
struct stand {
    double at_m;
    bool braced;
};

/* In degrees, of the line at that point of it; its ends are one point. */
static double turn_at(const struct fw_fence__line *ring, size_t point)
{
    const size_t before = point > 0 ? point - 1 : ring->count - 2;
    return fabs(fw_fence__turn_deg(ring->points[before], ring->points[point],
                                   ring->points[point + 1]));
}

/* A corner drawn as 60 degrees comes out a hair over or under it. */
static const double rounding_deg = FW_TOLERANCE(1e-6);

static void find_stands(const struct fw_fence__line *ring, double brace_deg,
                        struct stand *stands)
{
    size_t point = 0;
    for (size_t i = 0; i < ring->mark_count; i++) {
        while (ring->at_m[point] < ring->marks[i])
            point++;
        stands[i].at_m = ring->marks[i];
        stands[i].braced = turn_at(ring, point) > brace_deg + rounding_deg;
    }
}

static void add_gap(struct sums *sum, double gap_m, double post_gap_m)
{
    if (gap_m > 0)
        sum->line_posts += fw_fence__pieces(gap_m, post_gap_m) - 1;
}

/* From a braced post to the next: posts in line divide it into equal sections;
 * between these and the bends stand line posts at equal gaps. What is over the
 * distance by no more than a map's grid is off has no post more. */
static void count_stretch(struct sums *sum, const double *bends, size_t count,
                          double length_m, double post_gap_m)
{
    const double longest_m =
        FW_PERIMETER_IN_LINE_M * (1 + FW_PERIMETER_GRID_SHARE);
    const double sections = fw_fence__pieces(length_m, longest_m);
    double last_m = 0, done = 0;
    size_t bend = 0;
    sum->sections += sections;
    sum->in_line += sections - 1;
    while (done < sections) {
        const double end_m = length_m * ++done / sections;
        for (; bend < count && bends[bend] < end_m; bend++) {
            add_gap(sum, bends[bend] - last_m, post_gap_m);
            last_m = bends[bend];
        }
        add_gap(sum, end_m - last_m, post_gap_m);
        last_m = end_m;
    }
}

/* From one braced post round to it again. A ring that has none gets one in line
 * at its first bend, since a wire must end somewhere. */
static enum fw_status count_perimeter(const struct fw_fence__line *ring,
                                      const struct fw_fence_perimeter *fence,
                                      struct sums *sum, struct fw_error *err)
{
    const size_t count = ring->mark_count;
    struct stand *stands = fw_alloc(count, sizeof *stands);
    double *bends = fw_alloc(count, sizeof *bends);
    if (!stands || !bends) {
        fw_free(stands);
        fw_free(bends);
        return fw_fail_memory(err);
    }
    find_stands(ring, fence->brace_deg, stands);
    size_t first = 0, open = 0;
    while (first < count && !stands[first].braced)
        first++;
    const bool none = first == count;
    first = none ? 0 : first;
    double from_m = stands[first].at_m;
    for (size_t i = 1; i <= count; i++) {
        const struct stand *stand = &stands[(first + i) % count];
        const double at_m =
            stand->at_m + (first + i >= count ? ring->length_m : 0);
        if (!stand->braced && i < count) {
            bends[open++] = at_m - from_m;
            continue;
        }
        count_stretch(sum, bends, open, at_m - from_m, fence->spec.post_gap_m);
        sum->corners += !none;
        sum->in_line += none;
        sum->bends += (double)open;
        open = 0;
        from_m = at_m;
    }
    fw_free(stands);
    fw_free(bends);
    return FW_OK;
}

static void add_braces(struct fw_fence__list *list, double braces)
{
    fw_fence__add(list, FW_WARE_BRACE_POST, "brace post", braces,
                  "two at each corner and in-line post, one for each "
                  "direction; one at each gate post");
    fw_fence__add(list, FW_WARE_BRACE_RAIL, "brace rail", braces,
                  "one from each brace post to the post that it holds");
}

static void add_posts(struct fw_fence__list *list, const struct sums *sum,
                      const struct fw_fence_perimeter *fence)
{
    char note[160], said[FW_SAID];
    fw_text_format(note, sizeof note, "at every bend over %.0f degrees",
                   fence->brace_deg);
    fw_fence__add(list, FW_WARE_CORNER_POST, "corner post", sum->corners, note);
    fw_text_format(
        note, sizeof note, "at most %s from the next",
        fw_say_wanted(FW_PERIMETER_IN_LINE_M, fence->units, FW_DOWN, said));
    fw_fence__add(list, FW_WARE_CORNER_POST, "in-line strainer post",
                  sum->in_line, note);
    fw_fence__add(list, FW_WARE_CORNER_POST, "gate post", 2.0 * fence->gates,
                  "one on either side of each gate; the fence ends there");
    add_braces(list, 2 * (sum->corners + sum->in_line + fence->gates));
    fw_text_format(note, sizeof note,
                   "at every bend over %.0f degrees that has no corner post, "
                   "leaning out, without a brace",
                   fence->spec.bend_deg);
    fw_fence__add(list, FW_WARE_CORNER_POST, "bend post", sum->bends, note);
    fw_fence__add(list, FW_WARE_LINE_POST, "line post", sum->line_posts,
                  "equal gaps between corner, in-line and bend posts");
}

/* The wire of the strands, and of the braces at their posts. */
static void add_wire(struct fw_fence__list *list, const struct sums *sum,
                     const struct fw_fence_perimeter *fence, double ring_m)
{
    const double strands = fence->spec.strands;
    const double braced = sum->corners + sum->in_line;
    const double braces = 2 * (braced + fence->gates);
    const double wire_m = ring_m * strands * (1 + fence->spec.slack) +
                          FW_PERIMETER_BRACE_WIRE_M * braces;
    const double ends = 2 * braced + 2.0 * fence->gates;
    const double insulators = strands * (sum->line_posts + sum->bends + ends);
    char note[160], said[FW_SAID];
    fw_text_format(
        note, sizeof note,
        "%d strands with %.0f %% for ties and sag; %s a brace, twice "
        "round its two posts, aslant",
        fence->spec.strands, fence->spec.slack * 100,
        fw_say_length(FW_PERIMETER_BRACE_WIRE_M, fence->units, said));
    fw_fence__add(list, FW_WARE_PERIMETER_WIRE, "high-tensile wire, 2.5 mm",
                  wire_m, note);
    fw_fence__add(list, FW_WARE_INSULATOR, "insulator", insulators,
                  "a strand: one at a line, bend or gate post, two at a corner "
                  "or in-line post");
    fw_text_format(note, sizeof note,
                   "%d an insulator on a wooden post, %d for the wire of a "
                   "brace",
                   FW_STAPLES_AN_INSULATOR, FW_STAPLES_A_BRACE);
    fw_fence__add(list, FW_WARE_STAPLE, "fencing staple",
                  FW_STAPLES_AN_INSULATOR * insulators +
                      FW_STAPLES_A_BRACE * braces,
                  note);
    fw_fence__add(list, FW_WARE_STRAINER, "wire strainer",
                  strands * (sum->sections + fence->gates),
                  "one a strand between two corner, in-line or gate posts");
    fw_fence__add(list, FW_WARE_CLAMP, "joint clamp",
                  strands * 2.0 * fence->gates +
                      fw_fence__pieces(wire_m, FW_PERIMETER_ROLL_M),
                  fw_fence_clamps);
}

static void add_gates(struct fw_fence__list *list,
                      const struct fw_fence_perimeter *fence, double ring_m)
{
    char item[96], said[FW_SAID], note[160];
    fw_text_format(
        item, sizeof item, "gate, %s, with its hinges and latch",
        fw_say_wanted(fence->gate_m, fence->units, FW_NEAREST, said));
    fw_fence__add(list, FW_WARE_GATE, item, fence->gates,
                  "one a field, unless told");
    fw_fence__add(list, FW_WARE_LEAD, "insulated cable",
                  fence->gates * (fence->gate_m + FW_PERIMETER_UNDER_GATE_M),
                  fw_fence_cable);
    fw_say_words("warning sign, {>10 by 20 cm}, yellow", fence->units, item,
                 sizeof item);
    fw_text_format(note, sizeof note,
                   "one each %s and one a gate; local law may want more along "
                   "public ways",
                   fw_say_wanted(fence->sign_m, fence->units, FW_DOWN, said));
    fw_fence__add(list, FW_WARE_SIGN, item,
                  fence->gates + fw_fence__pieces(ring_m, fence->sign_m), note);
}

static enum fw_status check_gates(const struct fw_fence_perimeter *fence,
                                  struct fw_error *err)
{
    if (fence->gates < 0 || fence->gates > FW_PERIMETER_GATES_MOST)
        return fw_fail(err, FW_EINPUT, "gates is %d; expected 0 to %d",
                       fence->gates, FW_PERIMETER_GATES_MOST);
    if (!(fence->gate_m > 0) || !isfinite(fence->gate_m))
        return fw_fail(err, FW_EINPUT,
                       "a gate is %g m wide; expected over 0, such as 4 m",
                       fence->gate_m);
    if (!(fence->sign_m > 0) || !isfinite(fence->sign_m))
        return fw_fail(err, FW_EINPUT,
                       "signs are %g m apart; expected over 0, such as 90 m",
                       fence->sign_m);
    return FW_OK;
}

/* As it will stand: the ring followed within the tolerance. */
static enum fw_status followed(const struct fw_point *ring, size_t count,
                               const struct fw_fence_perimeter *fence,
                               struct fw_fence__line *line,
                               struct fw_error *err)
{
    struct fw_point *points = fw_alloc(count, sizeof *points);
    size_t kept = 0;
    if (!points)
        return fw_fail_memory(err);
    enum fw_status status =
        fw_fence__follow(ring, count, fence->tolerance_m, points, &kept, err);
    if (!status)
        status = fw_fence__line_new(points, kept, true, fence->spec.bend_deg,
                                    line, err);
    fw_free(points);
    return status;
}

enum fw_status fw_fence_perimeter_list(const struct fw_point *ring,
                                       size_t count,
                                       const struct fw_fence_perimeter *fence,
                                       const struct fw_prices *prices,
                                       struct fw_material *rows, size_t most,
                                       size_t *row_count, struct fw_error *err)
{
    struct fw_fence__line line;
    struct sums sum = {0};
    enum fw_status status = fw_fence__check(&fence->spec, err);
    if (!status)
        status = check_gates(fence, err);
    if (!status)
        status = followed(ring, count, fence, &line, err);
    if (status)
        return status;
    status = count_perimeter(&line, fence, &sum, err);
    const double ring_m = line.length_m;
    fw_fence__line_release(&line);
    if (status)
        return status;
    if (sum.line_posts > FW_FENCE__MOST)
        return fw_fail(err, FW_EINPUT,
                       "a perimeter of %g m needs over %g posts; expected a "
                       "wider post gap than %g m",
                       ring_m, FW_FENCE__MOST, fence->spec.post_gap_m);
    struct fw_fence__list list = {
        .prices = prices ? prices : &fw_fence__no_prices,
        .rows = rows,
        .most = most,
    };
    add_posts(&list, &sum, fence);
    add_wire(&list, &sum, fence, ring_m);
    add_gates(&list, fence, ring_m);
    return fw_fence__list_done(&list, row_count, err);
}
