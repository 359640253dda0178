#include "base/alloc.h"
#include "base/fail.h"
#include "base/length.h"
#include "fence/line.h"
#include <math.h>

/* A side surveyed as 30.0000001 m needs three 10 m gaps, not four. */
double fw_fence__pieces(double length_m, double piece_m)
{
    const double rounding = FW_TOLERANCE(1e-6);
    return fmax(1, ceil(length_m / piece_m - rounding));
}

double fw_fence_ground_m(double plan_m, double slope)
{
    return plan_m * fw_length(1, slope);
}

static double gaps(const struct fw_fence__line *line, size_t mark,
                   double post_gap_m)
{
    return fw_fence__pieces(line->marks[mark + 1] - line->marks[mark],
                            post_gap_m);
}

/* A gap for each post, and one more post where the line has two ends. */
static double post_count(const struct fw_fence__line *line, double post_gap_m)
{
    double posts = line->closed ? 0 : 1;
    for (size_t i = 0; i < line->mark_count; i++)
        posts += gaps(line, i, post_gap_m);
    return posts;
}

static enum fw_status too_many(double length_m, struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT,
                   "a line of %g m needs over %g posts or reels; expected a "
                   "wider post gap, a longer reel or a shorter line",
                   length_m, FW_FENCE__MOST);
}

int fw_fence_reels(double strand_m, const struct fw_fence_spec *spec)
{
    const int pairs = spec->out_and_back ? spec->strands / 2 : 0;
    const double reels =
        pairs * fw_fence__pieces(2 * strand_m, spec->reel_m) +
        (spec->strands - 2 * pairs) * fw_fence__pieces(strand_m, spec->reel_m);
    return (int)fmin(reels, FW_FENCE__MOST + 1);
}

enum fw_status fw_fence_count(const struct fw_point *line, size_t count,
                              bool closed, const struct fw_fence_spec *spec,
                              struct fw_fence_count *out, struct fw_error *err)
{
    enum fw_status status = fw_fence__check(spec, err);
    if (status)
        return status;
    struct fw_fence__line ready;
    status =
        fw_fence__line_new(line, count, closed, spec->bend_deg, &ready, err);
    if (status)
        return status;
    const double length_m = ready.length_m;
    const double posts = post_count(&ready, spec->post_gap_m);
    fw_fence__line_release(&ready);

    const double strand_m = length_m * (1 + spec->slack);
    const int reels = fw_fence_reels(strand_m, spec);
    if (posts > FW_FENCE__MOST || reels > FW_FENCE__MOST)
        return too_many(length_m, err);
    *out = (struct fw_fence_count){
        .line_m = length_m,
        .wire_m = strand_m * spec->strands,
        .posts = (int)posts,
        .reels = reels,
    };
    return FW_OK;
}

static enum fw_post_why why_at(const struct fw_fence__line *line, size_t mark)
{
    if (mark == 0 || mark == line->mark_count)
        return line->closed ? FW_POST_BEND : FW_POST_END;
    return FW_POST_BEND;
}

static struct fw_fence_post post_at(const struct fw_fence__line *line,
                                    double at_m, enum fw_post_why why)
{
    double along_m = at_m + line->offset_m;
    if (line->closed && along_m >= line->length_m)
        along_m -= line->length_m;
    return (struct fw_fence_post){
        .at_m = along_m,
        .point = fw_fence__line_point(line, at_m),
        .why = why,
    };
}

static size_t set_posts(const struct fw_fence__line *line, double post_gap_m,
                        struct fw_fence_post *posts)
{
    size_t n = 0;
    for (size_t i = 0; i < line->mark_count; i++) {
        const double from_m = line->marks[i];
        const double side_m = line->marks[i + 1] - from_m;
        const int steps = (int)gaps(line, i, post_gap_m);
        posts[n++] = post_at(line, from_m, why_at(line, i));
        for (int k = 1; k < steps; k++)
            posts[n++] =
                post_at(line, from_m + side_m * k / steps, FW_POST_GAP);
    }
    if (!line->closed)
        posts[n++] = post_at(line, line->length_m, FW_POST_END);
    return n;
}

static void reverse(struct fw_fence_post *posts, size_t count)
{
    for (size_t i = 0; i + 1 < count - i; i++) {
        const struct fw_fence_post swap = posts[i];
        posts[i] = posts[count - 1 - i];
        posts[count - 1 - i] = swap;
    }
}

/* A closed line was begun at a bend: put the posts in order of at_m again,
 * by three reversals in place. */
static void sort_from_first_point(struct fw_fence_post *posts, size_t count)
{
    size_t first = 0;
    for (size_t i = 1; i < count; i++)
        if (posts[i].at_m < posts[first].at_m)
            first = i;
    if (first == 0)
        return;
    reverse(posts, first);
    reverse(posts + first, count - first);
    reverse(posts, count);
}

enum fw_status fw_fence_posts(const struct fw_point *line, size_t count,
                              bool closed, const struct fw_fence_spec *spec,
                              struct fw_fence_post **posts, size_t *n,
                              struct fw_error *err)
{
    enum fw_status status = fw_fence__check(spec, err);
    if (status)
        return status;
    struct fw_fence__line ready;
    status =
        fw_fence__line_new(line, count, closed, spec->bend_deg, &ready, err);
    if (status)
        return status;

    const double wanted = post_count(&ready, spec->post_gap_m);
    struct fw_fence_post *list = NULL;
    if (wanted > FW_FENCE__MOST) {
        status = too_many(ready.length_m, err);
        goto done;
    }
    list = fw_alloc((size_t)wanted, sizeof *list);
    if (!list) {
        status = fw_fail_memory(err);
        goto done;
    }
    *n = set_posts(&ready, spec->post_gap_m, list);
    sort_from_first_point(list, *n);
    *posts = list;
done:
    fw_fence__line_release(&ready);
    return status;
}

void fw_fence_posts_free(struct fw_fence_post *posts)
{
    fw_free(posts);
}
