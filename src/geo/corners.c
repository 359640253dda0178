/* Which vertices of a boundary a person would call its corners.
 *
 * Douglas and Peucker's rule (doi:10.3138/FM57-6770-U75U-7727) between two
 * vertices that are corners for sure: one that is farthest from another one
 * whose farthest it is. Nothing depends on where the ring starts or which way
 * it runs: ties go to the northernmost, then the westernmost. */
#include "base/alloc.h"
#include "base/fail.h"
#include "geo/inner.h"

#include <math.h>

static const double least_step_m = 0.5; /* what a fence bends by anyway */
static const double step_of_length =
    0.01; /* a share of the longest way across */
static const double step_of_width = 0.25; /* keeps both corners of a strip */
static const double level_m = 0.5;        /* as far north as each other */

struct stretch { /* of the ring; `to` may count on past its end */
    size_t from, to;
};

struct search {
    const struct fw_point *ring;
    size_t count;
    double step_m;
    bool *marked;
    struct stretch *open;
    size_t open_count;
};

/* Spans count on past the end, but never round twice. */
static size_t around(const struct search *search, size_t i)
{
    return i < search->count ? i : i - search->count;
}

static bool is_before(struct fw_point a, struct fw_point b)
{
    return a.y_m != b.y_m ? a.y_m > b.y_m : a.x_m < b.x_m;
}

static double square_of(struct fw_point a, struct fw_point b)
{
    const double dx = a.x_m - b.x_m;
    const double dy = a.y_m - b.y_m;
    return dx * dx + dy * dy;
}

static size_t farthest(const struct fw_point *ring, size_t count, size_t from)
{
    size_t best = from;
    double greatest = 0;
    for (size_t i = 0; i < count; i++) {
        const double square = square_of(ring[from], ring[i]);
        if (square > greatest ||
            (square == greatest && is_before(ring[i], ring[best]))) {
            greatest = square;
            best = i;
        }
    }
    return best;
}

/* Two vertices, each the farthest from the other. */
static struct stretch anchors(const struct fw_point *ring, size_t count)
{
    size_t start = 0;
    for (size_t i = 1; i < count; i++)
        if (is_before(ring[i], ring[start]))
            start = i;
    size_t a = farthest(ring, count, start);
    size_t b = farthest(ring, count, a);
    for (;;) {
        const size_t c = farthest(ring, count, b);
        if (!(square_of(ring[b], ring[c]) > square_of(ring[a], ring[b])))
            break;
        a = b;
        b = c;
    }
    return a < b ? (struct stretch){a, b} : (struct stretch){b, a};
}

static size_t off_middle(struct stretch stretch, size_t i)
{
    const size_t middle = stretch.from + stretch.to;
    return 2 * i > middle ? 2 * i - middle : middle - 2 * i;
}

/* The vertex farthest from the chord. Among equals the middle one, so that a
 * comb does not cost a pass for each of its teeth. */
static size_t farthest_off(const struct search *search, struct stretch stretch,
                           double *distance_m)
{
    struct fw_point a = search->ring[around(search, stretch.from)];
    struct fw_point b = search->ring[around(search, stretch.to)];
    if (is_before(b, a)) { /* the same digits whichever way the ring runs */
        const struct fw_point kept = a;
        a = b;
        b = kept;
    }
    size_t best = stretch.from;
    *distance_m = -1;
    for (size_t i = stretch.from + 1; i < stretch.to; i++) {
        const struct fw_point here = search->ring[around(search, i)];
        const double off_m = fw_segment_distance_m(here, a, b);
        bool better = off_m > *distance_m;
        if (off_m == *distance_m) {
            const size_t off = off_middle(stretch, i);
            const size_t least = off_middle(stretch, best);
            better = off != least
                         ? off < least
                         : is_before(here, search->ring[around(search, best)]);
        }
        if (better) {
            *distance_m = off_m;
            best = i;
        }
    }
    return best;
}

static void mark(struct search *search, struct stretch first)
{
    search->open[search->open_count++] = first;
    while (search->open_count > 0) {
        const struct stretch stretch = search->open[--search->open_count];
        double off_m;
        const size_t corner = farthest_off(search, stretch, &off_m);
        if (!(off_m > search->step_m))
            continue;
        search->marked[around(search, corner)] = true;
        search->open[search->open_count++] =
            (struct stretch){stretch.from, corner};
        search->open[search->open_count++] =
            (struct stretch){corner, stretch.to};
    }
}

/* A sliver has no third corner by the rule; an area has one. */
static void mark_third(struct search *search, struct stretch there,
                       struct stretch back)
{
    for (size_t i = 0, marks = 0; i < search->count; i++) {
        marks += search->marked[i] ? 1 : 0;
        if (marks > 2)
            return;
    }
    double off_m[2];
    const size_t one = farthest_off(search, there, &off_m[0]);
    const size_t other = farthest_off(search, back, &off_m[1]);
    search->marked[around(search, off_m[0] >= off_m[1] ? one : other)] = true;
}

static size_t northernmost(const struct search *search)
{
    double top_m = -HUGE_VAL;
    for (size_t i = 0; i < search->count; i++)
        if (search->marked[i])
            top_m = fmax(top_m, search->ring[i].y_m);
    size_t best = search->count;
    for (size_t i = 0; i < search->count; i++) {
        const struct fw_point here = search->ring[i];
        if (!search->marked[i] || here.y_m < top_m - level_m)
            continue;
        if (best == search->count || here.x_m < search->ring[best].x_m ||
            (here.x_m == search->ring[best].x_m &&
             here.y_m > search->ring[best].y_m))
            best = i;
    }
    return best;
}

enum fw_status fw_corners_find(const struct fw_point *ring, size_t count,
                               size_t *corners, size_t *corner_count,
                               struct fw_error *err)
{
    struct search search = {.ring = ring, .count = count};
    search.marked = fw_alloc(count, sizeof *search.marked);
    search.open = fw_alloc(count + 2, sizeof *search.open);
    if (!search.marked || !search.open) {
        fw_free(search.marked);
        fw_free(search.open);
        return fw_fail_memory(err);
    }
    const struct stretch there = anchors(ring, count);
    const struct stretch back = {there.to, there.from + count};
    const double across_m = sqrt(square_of(ring[there.from], ring[there.to]));
    const double width_m = fabs(fw_ring_area_m2(ring, count)) / across_m;
    search.step_m = fmax(
        least_step_m, fmin(step_of_length * across_m, step_of_width * width_m));
    search.marked[there.from] = true;
    search.marked[there.to] = true;
    mark(&search, there);
    mark(&search, back);
    mark_third(&search, there, back);

    const size_t first = northernmost(&search);
    size_t found = 0;
    for (size_t i = 0; i < count; i++) { /* against the ring: clockwise */
        const size_t at = i <= first ? first - i : first + count - i;
        if (search.marked[at])
            corners[found++] = at;
    }
    *corner_count = found;
    fw_free(search.marked);
    fw_free(search.open);
    return FW_OK;
}
