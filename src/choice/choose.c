/* Which layout a field gets: the candidates, their scores, and the one that is
 * best by what the farm prefers. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/progress.h"
#include "choice/keep.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "figures/plan.h"

#include "fence/fence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* "blocks" of "blocks-4-112". */
enum { pattern_room = FW_EFFORT(32) };

static void pattern_of(const char *layout, char pattern[pattern_room])
{
    snprintf(pattern, pattern_room, "%s", layout);
    char *dash = strchr(pattern, '-');
    if (dash)
        *dash = '\0';
}

/* What is wrong with it before anything is preferred: what cannot be walked,
 * what a person cannot use, what the farm has not got. */
struct faults {
    size_t refused, apart, dry, unfed, overlong, beyond;
    bool blocks, not_far, lossy;
    int more_reels;
    double lack, keep_short;
};

static struct faults faults_of(const struct fw_plan_job *job,
                               const struct fw_plan_score *score)
{
    const struct fw_farm *farm = job->farm;
    const int two_lines = 2 * farm->moved.strands;
    const bool breaks = !farm->back_fence && !farm->limits_off;
    /* Once they are walked over ungrazed grass, when they first come in. */
    const size_t again = score->crossings > 1 ? score->crossings - 1 : 0;
    return (struct faults){
        .refused = score->refused,
        .apart = score->apart,
        .dry = score->dry_nights,
        .unfed = score->unfed,
        .lossy = !farm->limits_off && fw_plan__is_lossy(score->lost),
        .beyond =
            farm->limits_off ? 0 : score->beyond_limits + score->narrow + again,
        /* Where grazed ground stays open a break needs no block line but to
         * shorten a front that two reels do not reach along. */
        .overlong = breaks ? score->overlong : 0,
        .blocks = breaks && score->standing_m > 0,
        /* Two lines that leapfrog. */
        .more_reels = breaks && score->kit.reels > two_lines
                          ? score->kit.reels - two_lines
                          : 0,
        .lack = fw_plan__kit_lack(farm, &score->kit),
        .not_far = farm->far_first && !score->far_first,
        .keep_short = score->keep_short,
    };
}

static double value_of(const struct fw_plan_job *job,
                       const struct fw_plan_score *score)
{
    switch (job->farm->prefer) {
    case FW_PREFER_WORK:
        return score->minutes;
    case FW_PREFER_FENCE:
        return score->line_m;
    case FW_PREFER_COST:
        if (score->cost_known)
            return score->cost;
        break;
    case FW_PREFER_WALK:
        return score->walk_m;
    case FW_PREFER_KIT:
        break;
    }
    return score->kit.wire_m + FW_POST_AS_WIRE_M * score->kit.posts;
}

/* any_kit: as if the farm owned whatever it takes. */
static bool better(const struct fw_plan_job *job, const struct fw_plan_score *a,
                   const struct fw_plan_score *b, bool any_kit)
{
    const struct faults p = faults_of(job, a), q = faults_of(job, b);
    if (p.refused != q.refused)
        return p.refused < q.refused;
    if (p.apart != q.apart)
        return p.apart < q.apart;
    if (p.dry != q.dry)
        return p.dry < q.dry;
    if (p.not_far != q.not_far)
        return q.not_far;
    if (fabs(p.keep_short - q.keep_short) > FW_KEEP_MISSED_DAYS)
        return p.keep_short < q.keep_short;
    if (p.overlong != q.overlong)
        return p.overlong < q.overlong;
    if (p.blocks != q.blocks)
        return q.blocks;
    if (p.more_reels != q.more_reels)
        return p.more_reels < q.more_reels;
    if (!any_kit && fabs(p.lack - q.lack) > FW_TOLERANCE(1e-9))
        return p.lack < q.lack;
    if (p.lossy != q.lossy)
        return q.lossy;
    if (p.beyond != q.beyond)
        return p.beyond < q.beyond;
    if (p.unfed != q.unfed)
        return p.unfed < q.unfed;
    const double same = FW_TOLERANCE(1e-9);
    const double x = value_of(job, a), y = value_of(job, b);
    if (fabs(x - y) > same * fmax(x, y))
        return x < y;
    return a->line_m < b->line_m * (1 - same);
}

/* No other is as good in all that counts and better in some of it. */
static bool beats(const struct fw_plan_score *a, const struct fw_plan_score *b)
{
    const double pairs[][2] = {
        {a->minutes, b->minutes},
        {a->line_m, b->line_m},
        {a->standing_m, b->standing_m},
        {a->kit.wire_m, b->kit.wire_m},
        {a->kit.posts, b->kit.posts},
        {a->walk_low_m, b->walk_low_m},
        {a->elongation, b->elongation},
        {(double)a->beyond_limits, (double)b->beyond_limits},
        {(double)a->apart, (double)b->apart},
        {a->lost, b->lost},
        {a->crossed_m, b->crossed_m},
        {(double)a->dry_nights, (double)b->dry_nights},
        {(double)a->unfed, (double)b->unfed},
        {(double)a->narrow, (double)b->narrow},
    };
    bool less = false;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        if (pairs[i][0] > pairs[i][1])
            return false;
        less |= pairs[i][0] < pairs[i][1];
    }
    return less;
}

/* The best by what is known of them. */
static size_t leader(const struct fw_plan_job *job,
                     const struct fw_plan_score *scores, size_t count,
                     bool any_kit)
{
    size_t best = 0;
    for (size_t i = 1; i < count; i++)
        if (better(job, &scores[i], &scores[best], any_kit))
            best = i;
    return best;
}

/* What takes longer to look at is looked at in those that still lead. */
static enum fw_status look_closer(const struct fw_plan_job *job, size_t index,
                                  const struct fw_layout_list *list,
                                  const struct fw_plan_targets *targets,
                                  struct fw_plan_score *scores,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    bool *looked = fw_alloc(list->count, sizeof *looked);
    if (!looked)
        return fw_fail_memory(err);
    for (int any_kit = 0; any_kit < 2; any_kit++)
        for (;;) {
            const size_t best = leader(job, scores, list->count, any_kit != 0);
            if (status || looked[best])
                break;
            looked[best] = true;
            status = fw_plan__look_closer(job, index, &list->items[best],
                                          targets, &scores[best], err);
        }
    fw_free(looked);
    return status;
}

static void mark(const struct fw_plan_job *job, struct fw_plan_score *scores,
                 size_t count, size_t *chosen)
{
    *chosen = leader(job, scores, count, false);
    scores[leader(job, scores, count, true)].wished = true;
    for (size_t i = 0; i < count; i++)
        scores[i].fits_kit =
            !(fw_plan__kit_lack(job->farm, &scores[i].kit) > 0);
    for (size_t i = 0; i < count; i++) {
        scores[i].unbeaten = true;
        for (size_t k = 0; k < count; k++)
            scores[i].unbeaten &= !beats(&scores[k], &scores[i]);
    }
    scores[*chosen].chosen = true;
}

static enum fw_status pick_by_name(const struct fw_farm *farm,
                                   const struct fw_layout_list *list,
                                   struct fw_plan_score *scores, size_t *chosen,
                                   struct fw_error *err)
{
    if (!farm->layout || !strchr(farm->layout, '-'))
        return FW_OK;
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].name, farm->layout) == 0) {
            scores[*chosen].chosen = false;
            *chosen = i;
            scores[i].chosen = true;
            return FW_OK;
        }
    return fw_fail(err, FW_EINPUT,
                   "layout: no candidate is called \"%s\"; there is %s%s: "
                   "`foldwright compare` lists them all",
                   farm->layout, list->items[0].name,
                   list->count > 1 ? " and others" : "");
}

static enum fw_status score_all(const struct fw_plan_job *job, size_t index,
                                const struct fw_layout_list *list,
                                const struct fw_plan_targets *targets,
                                struct fw_plan_score *scores, size_t *chosen,
                                struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < list->count; i++) {
        const struct fw_progress whole = fw_progress_enter(i, list->count);
        status = fw_plan__score(job, index, &list->items[i], targets,
                                &scores[i], err);
        fw_progress_leave(whole);
    }
    if (!status)
        status = look_closer(job, index, list, targets, scores, err);
    if (status)
        return status;
    mark(job, scores, list->count, chosen);
    status = pick_by_name(job->farm, list, scores, chosen, err);
    if (!status && scores[*chosen].refused)
        status = fw_fail(err, FW_EPLAN,
                         "no layout holds the flock at every step of every "
                         "move; try another number of paddocks, or tell "
                         "another gate");
    return status;
}

/* Where the order begins: at the gate, else at the water. On dormant grass at
 * the water that the flock drinks from: it walks there over grazed ground. */
static const struct fw_point *start_of(const struct fw_farm *farm,
                                       const struct fw_farm_field *field)
{
    const struct fw_spot *water = &field->water;
    const bool drinks =
        water->given && farm->season == FW_SEASON_DORMANT && !farm->far_first &&
        fw_field_contains(field->shape, water->point, FW_TROUGH_REACH_M);
    if (field->gate.given && !drinks)
        return &field->gate.point;
    return water->given ? &water->point : NULL;
}

/* Then no third line can stand on the other side of the gate or the water while
 * two leapfrog on this one. */
static bool owns_two_lines_only(const struct fw_farm *farm)
{
    return farm->kit_given &&
           farm->kit.reels < FW_LEAPFROG_LINES * farm->moved.strands;
}

static enum fw_status ask(const struct fw_plan_job *job, size_t index,
                          const struct fw_plan_targets *targets,
                          const struct fw_plan__keep *keep,
                          const struct fw_plan__lane *lane,
                          struct fw_layout_list *list, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const struct fw_farm_field *from = &farm->fields[index];
    char pattern[pattern_room] = "strips";
    if (farm->layout)
        pattern_of(farm->layout, pattern);
    struct fw_point start;
    const bool front = fw_plan__front_start(from, &start);
    const struct fw_point *begin = front ? &start : start_of(farm, from);
    const bool at_water =
        !front && from->gate.given && begin != &from->gate.point;
    const bool breaks = !farm->back_fence && !farm->far_first && !lane->points;
    const bool one_way =
        breaks && !front && farm->water_moves &&
        (begin != &from->water.point || owns_two_lines_only(farm));
    struct fw_layout_request request = {
        .field = fw_plan__grazed(from),
        .ground = fw_plan__ground(job, index),
        .target = targets->target,
        .days = targets->day,
        .target_count = targets->count,
        .last = farm->last,
        .start = begin,
        .also = at_water ? &from->gate.point : NULL,
        .breaks_only = breaks,
        .one_way = one_way,
        .far_first = farm->far_first && !front,
        .keep = keep->wanted,
        .keep_count = keep->count,
        .water = from->water.given ? &from->water.point : NULL,
        .apron_m = farm->apron_m,
        .lane = lane->points,
        .lane_count = lane->count,
        .lane_width_m = lane->width_m,
        .pattern =
            farm->layout || farm->direction_given ? pattern : targets->pattern,
        .direction_given = farm->direction_given,
        /* The farm gives the compass bearing of the fence lines; the flock
         * walks square to them. */
        .direction_deg = fmod(360 - farm->direction_deg, 180),
        .heights = from->heights,
        .bends = farm->limits_off && farm->prefer == FW_PREFER_FENCE,
    };
    enum fw_status status = fw_layout_candidates(&request, list, err);
    for (size_t i = 0; !status && front && i < list->count; i++)
        status = fw_plan__add_front(from, &list->items[i], err);
    if (status)
        fw_layout_list_release(list);
    if (status == FW_EPLAN && front)
        fw_fail_where(err, "beyond the front: ");
    if (status)
        fw_fail_where(err, "%s: ", from->shape->name);
    return status;
}

static enum fw_status candidates(const struct fw_plan_job *job, size_t index,
                                 const struct fw_plan_targets *targets,
                                 struct fw_layout_list *list,
                                 struct fw_error *err)
{
    struct fw_plan__keep keep = {0};
    struct fw_plan__lane lane = {0};
    enum fw_status status = fw_plan__keep_init(job, index, &keep, err);
    if (!status)
        status = fw_plan__map_lane(job, index, &lane, err);
    if (!status)
        status = ask(job, index, targets, &keep, &lane, list, err);
    fw_free(lane.points);
    fw_plan__keep_release(&keep);
    return status;
}

enum fw_status fw_plan__choose(const struct fw_plan_job *job, size_t index,
                               const struct fw_plan_targets *targets,
                               struct fw_layout *out,
                               struct fw_plan_score *score,
                               struct fw_plan_score *wished,
                               struct fw_error *err)
{
    struct fw_layout_list list = {0};
    enum fw_status status = candidates(job, index, targets, &list, err);
    if (status)
        return status;
    struct fw_plan_score *scores = fw_alloc(list.count, sizeof *scores);
    size_t chosen = 0;
    status = scores
                 ? score_all(job, index, &list, targets, scores, &chosen, err)
                 : fw_fail_memory(err);
    if (!status) {
        *out = list.items[chosen];
        *score = scores[chosen];
        for (size_t i = 0; i < list.count; i++)
            if (scores[i].wished)
                *wished = scores[i];
        list.items[chosen] = (struct fw_layout){0};
    }
    fw_free(scores);
    fw_layout_list_release(&list);
    return status;
}

enum fw_status fw_plan__scores(const struct fw_plan_job *job, size_t index,
                               const struct fw_plan_targets *targets,
                               struct fw_plan_score **out, size_t *count,
                               struct fw_error *err)
{
    struct fw_layout_list list = {0};
    enum fw_status status = candidates(job, index, targets, &list, err);
    if (status)
        return status;
    struct fw_plan_score *scores = fw_alloc(list.count, sizeof *scores);
    size_t chosen;
    status = scores
                 ? score_all(job, index, &list, targets, scores, &chosen, err)
                 : fw_fail_memory(err);
    if (!status)
        status = fw_plan__walk_all(job, index, &list, targets, scores, err);
    if (!status) {
        *out = scores;
        *count = list.count;
    } else {
        fw_free(scores);
    }
    fw_layout_list_release(&list);
    return status;
}
