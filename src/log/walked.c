/* A fence as somebody walked it: the two ends of a track, told in paces as the
 * card counts them, so that the log stays one that a person reads. */
#include "log/follow.h"

#include "base/fail.h"
#include "base/whole.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "io/io.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct walk {
    const struct fw_plan *plan;
    const struct fw_plan_fence *fence;
    struct fw_point ends[2]; /* of the track, that at A first */
};

static enum fw_status none(const char *path, struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT,
                   "fence: %s has no track; expected one from end to end of "
                   "the fence, as a phone keeps it",
                   path);
}

/* The first and the last place of the longest line. */
static enum fw_status read_ends(const char *path, const struct fw_plane *plane,
                                struct fw_point ends[2], struct fw_error *err)
{
    const struct fw_map_request request = {.source = path};
    struct fw_notes notes = {0};
    struct fw_map *map = NULL;
    const struct fw_shape *longest = NULL;
    const enum fw_status status = fw_map_read(&request, &map, &notes, err);
    fw_notes_release(&notes);
    if (status)
        return status;
    for (size_t i = 0; i < map->feature_count; i++) {
        const struct fw_feature *feature = &map->features[i];
        if (feature->kind == FW_FEATURE_LINE &&
            feature->shape.point_count > 1 &&
            (!longest || feature->shape.point_count > longest->point_count))
            longest = &feature->shape;
    }
    for (size_t e = 0; longest && e < 2; e++) {
        const struct fw_xy at =
            longest->points[e ? longest->point_count - 1 : 0];
        ends[e] = fw_plane_forward(plane, (struct fw_lonlat){at.x, at.y});
    }
    const enum fw_status found = longest ? FW_OK : none(path, err);
    fw_map_free(map);
    return found;
}

static struct fw_point planned(const struct walk *walk, size_t end)
{
    const struct fw_plan_fence *fence = walk->fence;
    return walk->plan->fields[fence->field]
        .vertices[fence->line[end ? fence->line_count - 1 : 0]]
        .plane;
}

/* It may have been walked from B to A. */
static void turn(struct walk *walk)
{
    const double as_is = fw_point_apart_m(walk->ends[0], planned(walk, 0)) +
                         fw_point_apart_m(walk->ends[1], planned(walk, 1));
    const double turned = fw_point_apart_m(walk->ends[1], planned(walk, 0)) +
                          fw_point_apart_m(walk->ends[0], planned(walk, 1));
    if (turned < as_is) {
        const struct fw_point kept = walk->ends[0];
        walk->ends[0] = walk->ends[1];
        walk->ends[1] = kept;
    }
}

/* Where it goes on along what it ends on, from where it was to be set. */
static enum fw_status count_end(const struct walk *walk, size_t end,
                                const struct fw_log_paces *paces, int *out,
                                struct fw_error *err)
{
    const char *id = walk->fence->id;
    const struct fw_point was = planned(walk, end);
    const struct fw_point off = fw_point_minus(walk->ends[end], was);
    const double far_m = fw_length(off.x_m, off.y_m);
    struct fw_point along;
    if (far_m > FW_DAYS_WALKED_FAR_M)
        return fw_fail(err, FW_EINPUT,
                       "fence: the track ends %.0f m from where %s was to be "
                       "set; expected under %.0f m: is it of another field, or "
                       "of another day?",
                       far_m, id, FW_DAYS_WALKED_FAR_M);
    *out = paces->paces;
    if (paces->way == 0 ||
        !fw_log__way_on(walk->plan, walk->fence, end == 0, &along))
        return FW_OK;
    const double on_m = off.x_m * along.x_m + off.y_m * along.y_m;
    const double aside_m = fabs(fw_point_cross(along, off));
    if (aside_m > FW_DAYS_WALKED_ASIDE_M)
        return fw_fail(err, FW_EINPUT,
                       "fence: the track ends %.0f m aside of what %s ends on; "
                       "expected under %.0f m: walk it from the one side to "
                       "the other",
                       aside_m, id, FW_DAYS_WALKED_ASIDE_M);
    *out = fw_whole(paces->paces + paces->way * on_m / walk->plan->pace_m);
    return FW_OK;
}

enum fw_status fw_log_walked(const struct fw_log *log, const char *path,
                             char out[FW_LOG_TEXT], struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    double share;
    int paces[2] = {0, 0};
    const size_t fence = log->next_move < plan->time.move_count
                             ? fw_log_fence(plan, log->next_move, &share)
                             : FW_NONE;
    if (fence == FW_NONE)
        return fw_fail(err, FW_EINPUT,
                       "fence: no fence that is counted in paces is set at the "
                       "next move");
    struct walk walk = {.plan = plan, .fence = &plan->fences[fence]};
    enum fw_status status =
        read_ends(path, &plan->fields[walk.fence->field].plane, walk.ends, err);
    if (status)
        return status;
    turn(&walk);
    for (size_t end = 0; !status && end < 2; end++) {
        const struct fw_log_paces of = fw_log_paces(plan, fence, end == 0);
        status = count_end(&walk, end, &of, &paces[end], err);
    }
    if (!status)
        snprintf(out, FW_LOG_TEXT, "%d,%d", paces[0], paces[1]);
    return status;
}
