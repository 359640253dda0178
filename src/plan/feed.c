/* Which end of a line is fed: A, where it is hooked on. */
#include "base/alloc.h"
#include "base/fail.h"
#include "plan/job.h"

#include <math.h>
#include <stdlib.h>

enum fw_answer fw_plan_hot_at(const struct fw_plan *plan, size_t field,
                              size_t vertex)
{
    const struct fw_plan_field *of = &plan->fields[field];
    enum fw_answer hot = FW_UNTOLD;
    for (size_t i = 0; i < of->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[of->first_fence + i];
        if (fence->role != FW_FENCE_PERIMETER || fence->side == FW_NONE)
            continue;
        for (size_t v = 0; v < fence->line_count; v++)
            if (fence->line[v] == vertex && of->sides[fence->side].hot > hot)
                hot = of->sides[fence->side].hot;
    }
    return hot;
}

/* The shepherd comes from the energizer, else from the gate or the water. */
static bool comes_from(const struct fw_plan_job *job, size_t field,
                       struct fw_point *out)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_farm_field *from = &farm->fields[field];
    if (farm->energizer.given && field == 0)
        *out = farm->energizer.point;
    else if (from->gate.given)
        *out = from->gate.point;
    else if (from->water.given)
        *out = from->water.point;
    else
        return false;
    return true;
}

static double away_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static void turn(const struct fw_plan_field *field, struct fw_plan_fence *fence)
{
    const size_t last = fence->line_count - 1;
    for (size_t i = 0; i < last - i; i++) {
        const size_t kept = fence->line[i];
        fence->line[i] = fence->line[last - i];
        fence->line[last - i] = kept;
    }
    fence->bearing_deg =
        fw_geo_bearing_deg(field->vertices[fence->line[0]].lonlat,
                           field->vertices[fence->line[last]].lonlat);
}

/* ---- what feeds an end ---- */

struct at_vertex {
    size_t vertex, fence;
};

struct feeding {
    const struct fw_plan_job *job;
    size_t field;
    struct at_vertex *lines; /* of the field, by vertex */
    size_t line_count;
    bool *fed; /* each of the field's fences */
};

static int by_vertex(const void *left, const void *right)
{
    const struct at_vertex *a = left, *b = right;
    if (a->vertex != b->vertex)
        return a->vertex < b->vertex ? -1 : 1;
    return a->fence < b->fence ? -1 : a->fence > b->fence;
}

static enum fw_status feeding_init(struct feeding *feeding,
                                   const struct fw_plan_job *job, size_t index,
                                   struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    size_t count = 0;
    for (size_t i = 0; i < field->fence_count; i++)
        count += plan->fences[field->first_fence + i].line_count;
    *feeding = (struct feeding){
        .job = job,
        .field = index,
        .lines = fw_alloc(count, sizeof *feeding->lines),
        .fed = fw_alloc(field->fence_count, sizeof *feeding->fed),
    };
    if (!feeding->lines || !feeding->fed)
        return fw_fail_memory(err);
    for (size_t i = 0; i < field->fence_count; i++) {
        const size_t which = field->first_fence + i;
        for (size_t v = 0; v < plan->fences[which].line_count; v++)
            feeding->lines[feeding->line_count++] =
                (struct at_vertex){plan->fences[which].line[v], which};
    }
    qsort(feeding->lines, feeding->line_count, sizeof *feeding->lines,
          by_vertex);
    return FW_OK;
}

static bool outlives(const struct fw_plan_fence *host,
                     const struct fw_plan_fence *fence)
{
    return (fw_plan__is_front(host) || host->set_at <= fence->set_at) &&
           (host->down_at == FW_NONE ||
            (fence->down_at != FW_NONE && host->down_at >= fence->down_at));
}

/* A boundary that is told to be hot is the best to hook on to; then one of
 * which nothing is told, or a line that is fed and stands as long. Worse is a
 * line that does not; the edge of a pond, and a boundary that is not hot, feed
 * nothing. */
enum { FEEDS_NOTHING, FEEDS_AT_TIMES, FEEDS, FEEDS_BEST };

static int feeds(const struct feeding *feeding, size_t self, size_t vertex)
{
    const struct fw_plan *plan = feeding->job->plan;
    const struct fw_plan_field *field = &plan->fields[feeding->field];
    size_t low = 0, high = feeding->line_count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (feeding->lines[middle].vertex < vertex)
            low = middle + 1;
        else
            high = middle;
    }
    int best = FEEDS_NOTHING;
    for (; low < feeding->line_count && feeding->lines[low].vertex == vertex;
         low++) {
        const size_t which = feeding->lines[low].fence;
        const struct fw_plan_fence *host = &plan->fences[which];
        int here = FEEDS_NOTHING;
        if (host->role != FW_FENCE_PERIMETER) {
            if (which != self && feeding->fed[which - field->first_fence])
                here = outlives(host, &plan->fences[self]) ? FEEDS
                                                           : FEEDS_AT_TIMES;
        } else if (host->side != FW_NONE) {
            const enum fw_answer hot = field->sides[host->side].hot;
            here = hot == FW_YES  ? FEEDS_BEST
                   : hot == FW_NO ? FEEDS_NOTHING
                                  : FEEDS;
        }
        best = here > best ? here : best;
    }
    return best;
}

/* What feeds better is A; where both ends are alike, the one nearer to where
 * the shepherd comes from. Returns how well it is fed. */
static int choose_end(const struct feeding *feeding, size_t self)
{
    struct fw_plan *plan = feeding->job->plan;
    const struct fw_plan_field *field = &plan->fields[feeding->field];
    struct fw_plan_fence *fence = &plan->fences[self];
    const size_t a = fence->line[0], b = fence->line[fence->line_count - 1];
    const int at_a = feeds(feeding, self, a), at_b = feeds(feeding, self, b);
    struct fw_point from;
    bool b_first = at_b > at_a;
    if (at_a == at_b && comes_from(feeding->job, feeding->field, &from))
        b_first = away_m(fw_plan__at(field, b), from) <
                  away_m(fw_plan__at(field, a), from);
    if (b_first)
        turn(field, fence);
    return at_a > at_b ? at_a : at_b;
}

/* Feed what is fed so well: all of it, or the first in the order in which they
 * are set. Was there any? */
static bool feed(struct feeding *feeding, int least, bool all)
{
    const struct fw_plan *plan = feeding->job->plan;
    const struct fw_plan_field *field = &plan->fields[feeding->field];
    bool any = false;
    for (size_t i = 0; i < field->fence_count && (all || !any); i++) {
        const size_t which = field->first_fence + i;
        if (feeding->fed[i] || plan->fences[which].role == FW_FENCE_PERIMETER ||
            choose_end(feeding, which) < least)
            continue;
        feeding->fed[i] = true;
        any = true;
    }
    return any;
}

enum fw_status fw_plan__feed_ends(struct fw_plan_job *job, size_t index,
                                  struct fw_error *err)
{
    struct feeding feeding;
    const enum fw_status status = feeding_init(&feeding, job, index, err);
    /* What hangs on a line is fed when that one is. */
    bool more = !status;
    while (more)
        more = feed(&feeding, FEEDS, true) ||
               feed(&feeding, FEEDS_AT_TIMES, false) ||
               feed(&feeding, FEEDS_NOTHING, false);
    fw_free(feeding.lines);
    fw_free(feeding.fed);
    return status;
}
