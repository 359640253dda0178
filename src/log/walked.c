/* A fence as somebody walked it: the two ends of a track, told in paces as the
 * card counts them, so that the log stays one that a person reads. */
#include "log/follow.h"

#include "base/fail.h"
#include "base/whole.h"
#include "figures/days.h"
#include "figures/mark.h"
#include "geo/geo.h"
#include "geo/points.h"
#include "io/io.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct walk {
    const struct fw_plan *plan;
    const struct fw_plan_fence *fence;
    struct fw_point ends[2]; /* of the track, that at A first */
    double bend_m;           /* how far it strays from the straight between */
};

static enum fw_status none(const char *path, struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT,
                   "fence: %s has no track; expected one from end to end of "
                   "the fence, as a phone keeps it",
                   path);
}

static struct fw_point place_of(const struct fw_plane *plane,
                                const struct fw_shape *line, size_t point)
{
    const struct fw_xy at = line->points[point];
    return fw_plane_forward(plane, (struct fw_lonlat){at.x, at.y});
}

static void take_line(struct walk *walk, const struct fw_plane *plane,
                      const struct fw_shape *line)
{
    walk->ends[0] = place_of(plane, line, 0);
    walk->ends[1] = place_of(plane, line, line->point_count - 1);
    for (size_t i = 1; i + 1 < line->point_count; i++)
        walk->bend_m = fmax(
            walk->bend_m, fw_segment_distance_m(place_of(plane, line, i),
                                                walk->ends[0], walk->ends[1]));
}

/* The longest line. */
static enum fw_status read_track(const char *path, const struct fw_plane *plane,
                                 struct walk *walk, struct fw_error *err)
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
    if (longest)
        take_line(walk, plane, longest);
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

/* Wire stands straight between its ends, but for one that is planned with
 * bends. */
static enum fw_status look_at_bend(const struct walk *walk, const char *path,
                                   struct fw_notes *notes, struct fw_error *err)
{
    if (walk->fence->line_count > 2 || walk->bend_m < FW_DAYS_WALKED_ASIDE_M)
        return FW_OK;
    return fw_notes_add(notes, FW_LEVEL_WARNING, path, err,
                        "the track strays %.0f m from the straight between "
                        "its ends; %s counts as straight from end to end, and "
                        "what it holds by that",
                        walk->bend_m, walk->fence->id);
}

enum fw_status fw_log_walked(const struct fw_log *log, const char *path,
                             char out[FW_LOG_TEXT], struct fw_notes *notes,
                             struct fw_error *err)
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
        read_track(path, &plan->fields[walk.fence->field].plane, &walk, err);
    if (status)
        return status;
    turn(&walk);
    for (size_t end = 0; !status && end < 2; end++) {
        const struct fw_log_paces of = fw_log_paces(plan, fence, end == 0);
        status = count_end(&walk, end, &of, &paces[end], err);
    }
    if (!status)
        status = look_at_bend(&walk, path, notes, err);
    if (!status)
        snprintf(out, FW_LOG_TEXT, "%d,%d", paces[0], paces[1]);
    return status;
}
