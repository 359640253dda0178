/* From where to where the fences turn. A few corners are ends worth trying: the
 * two that are farthest apart, then always the one that juts out most from the
 * lines between those there are. Each two of them are tried with a few
 * fences. */
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "cutting/turning.h"
#include "cutting/widest.h"
#include "figures/layout.h"
#include "figures/mark.h"

#include <math.h>
#include <stdlib.h>

enum {
    most_ends = FW_EFFORT(9),
    few_cuts = FW_EFFORT(6), /* with every two of them */
    few_places = FW_EFFORT(16),
    most_kept = FW_EFFORT(8),
    more_cuts = FW_EFFORT(16), /* with the best */
    more_places = FW_EFFORT(24)
};

struct ends {
    size_t corners[most_ends]; /* rising */
    size_t count;
    double widest_m;
};

static struct fw_point corner(const struct fw_field *field, size_t i)
{
    return field->vertices[field->corners[i % field->corner_count]].plane;
}

static struct ends farthest_two(const struct fw_field *field)
{
    struct ends ends = {.count = 2};
    ends.widest_m =
        fw_layout__widest(field, &ends.corners[0], &ends.corners[1]);
    return ends;
}

/* Corners go clockwise. */
static bool juts_in(const struct fw_field *field, size_t i)
{
    const struct fw_point a = corner(field, i + field->corner_count - 1);
    const struct fw_point b = corner(field, i);
    const struct fw_point c = corner(field, i + 1);
    return (b.x_m - a.x_m) * (c.y_m - b.y_m) -
               (b.y_m - a.y_m) * (c.x_m - b.x_m) >=
           0;
}

/* Adds the next corner; false when none juts out enough. */
static bool add_farthest(const struct fw_field *field, struct ends *ends)
{
    size_t best = 0, place = 0;
    double most_m = FW_TURNING_END_SHARE * ends->widest_m;
    for (size_t e = 0; e < ends->count; e++) {
        const bool last = e + 1 == ends->count;
        const size_t from = ends->corners[e];
        const size_t to = last ? ends->corners[0] + field->corner_count
                               : ends->corners[e + 1];
        for (size_t i = from + 1; i < to; i++) {
            const double m = fw_segment_distance_m(
                corner(field, i), corner(field, from), corner(field, to));
            if (m > most_m) {
                most_m = m;
                best = i % field->corner_count;
                place = best < from ? 0 : e + 1;
            }
        }
    }
    if (!(most_m > FW_TURNING_END_SHARE * ends->widest_m))
        return false;
    for (size_t e = ends->count++; e > place; e--)
        ends->corners[e] = ends->corners[e - 1];
    ends->corners[place] = best;
    return true;
}

static struct ends choose_ends(const struct fw_field *field)
{
    struct ends ends = farthest_two(field);
    while (ends.count < most_ends && add_farthest(field, &ends))
        ;
    size_t kept = 0;
    for (size_t e = 0; e < ends.count; e++)
        if (!juts_in(field, ends.corners[e]))
            ends.corners[kept++] = ends.corners[e];
    ends.count = kept;
    return ends;
}

/* The way in which the fences move: square to their mean. */
static double way_deg(const struct fw_turning *turning)
{
    double x_m = 0, y_m = 0;
    for (size_t k = 0; k < turning->cut_count; k++) {
        const struct fw_point near =
            fw_boundary_point(turning->boundary, turning->path[k].near);
        const struct fw_point far =
            fw_boundary_point(turning->boundary, turning->path[k].far);
        x_m += far.y_m - near.y_m;
        y_m -= far.x_m - near.x_m;
    }
    const double deg = atan2(y_m, x_m) * 180 / FW_PI;
    return deg < 0 ? deg + 360 : deg;
}

/* A few fences to try ends with. */
struct trial {
    size_t cuts, places;
    double behind_m2[more_cuts];
};

static struct trial trial_of(const double *behind, size_t plots, double all_m2,
                             size_t most_cuts, size_t places)
{
    struct trial trial = {
        plots - 1 < most_cuts ? plots - 1 : most_cuts, places, {0}};
    for (size_t k = 0; k < trial.cuts; k++)
        trial.behind_m2[k] = behind[(k + 1) * plots / (trial.cuts + 1) - 1] /
                             behind[plots - 1] * all_m2;
    return trial;
}

/* From the one end to the other, or back: the walk goes round the longer way
 * first, since its places are those that are chosen. */
static enum fw_status try_ends(struct fw_boundary *boundary,
                               const struct fw_field *field,
                               const struct trial *trial,
                               struct fw_turning_try *try, struct fw_error *err)
{
    const size_t a = try->from, b = try->to;
    const size_t from = field->corners[a], to = field->corners[b];
    *try = (struct fw_turning_try){.from = a, .to = b, .line_m = HUGE_VAL};
    enum fw_status status =
        fw_boundary_start(boundary, fw_boundary_node(boundary, from), err);
    size_t end = fw_boundary_node(boundary, to);
    if (!status &&
        boundary->along_m[end] < boundary->along_m[boundary->count] / 2) {
        *try = (struct fw_turning_try){.from = b, .to = a, .line_m = HUGE_VAL};
        status = fw_boundary_start(boundary, end, err);
        end = fw_boundary_node(boundary, from);
    }
    struct fw_turning turning = {.boundary = boundary,
                                 .end = end,
                                 .cut_count = trial->cuts,
                                 .place_count = trial->places};
    if (!status)
        status = fw_turning_init(&turning, err);
    if (!status && fw_turning_seek(&turning, trial->behind_m2)) {
        try->line_m = turning.line_m;
        try->direction_deg = way_deg(&turning);
    }
    fw_turning_release(&turning);
    return status;
}

/* Ways are lines: there and back are one. */
static double between_deg(double a, double b)
{
    return fabs(remainder(a - b, 180));
}

/* The one with the least line; of those that go another way than that one,
 * unless it is NULL. */
static struct fw_turning_try least_of(const struct fw_turning_try *tries,
                                      size_t count,
                                      const struct fw_turning_try *than)
{
    struct fw_turning_try best = {.line_m = HUGE_VAL};
    for (size_t i = 0; i < count; i++)
        if (tries[i].line_m < best.line_m &&
            (!than || between_deg(tries[i].direction_deg, than->direction_deg) >
                          FW_OTHER_WAY_DEG))
            best = tries[i];
    return best;
}

static int by_line(const void *left, const void *right)
{
    const struct fw_turning_try *a = left, *b = right;
    if (a->line_m < b->line_m || a->line_m > b->line_m)
        return a->line_m < b->line_m ? -1 : 1;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

/* Every two ends with few fences, the best of them with more. */
enum fw_status fw_turning_tries(struct fw_boundary *boundary,
                                const struct fw_field *field,
                                const double *behind, size_t plots,
                                struct fw_turning_tries *out,
                                struct fw_error *err)
{
    struct fw_turning_try pairs[most_ends * (most_ends - 1) / 2];
    struct fw_turning_try *tries = out->items;
    const struct ends ends = choose_ends(field);
    const struct trial few =
        trial_of(behind, plots, field->area_m2, few_cuts, few_places);
    const struct trial more =
        trial_of(behind, plots, field->area_m2, more_cuts, more_places);
    enum fw_status status = FW_OK;
    size_t n = 0;
    for (size_t a = 0; a < ends.count; a++)
        for (size_t b = a + 1; !status && b < ends.count; b++) {
            pairs[n] = (struct fw_turning_try){.from = ends.corners[a],
                                               .to = ends.corners[b]};
            status = try_ends(boundary, field, &few, &pairs[n++], err);
        }
    qsort(pairs, n, sizeof *pairs, by_line);
    n = n < most_kept ? n : most_kept;
    for (size_t i = 0; !status && i < n; i++)
        status = try_ends(boundary, field, &more, &pairs[i], err);
    tries[0] = least_of(pairs, n, NULL);
    tries[1] = least_of(pairs, n, &tries[0]);
    const bool one = isfinite(tries[0].line_m);
    const bool two = tries[1].line_m <= FW_OTHER_WAY_PRICE * tries[0].line_m;
    out->count = !one ? 0 : two ? 2 : 1;
    return status;
}
