/* A front that is told by its name: the ground of the plan made before is taken
 * as it is, so it must still be the same, and must have ground left. */
#include "keys/schema.h"

#include "base/alloc.h"
#include "figures/farm.h"
#include "plan/plan.h"

#include <math.h>
#include <string.h>

/* ---- which fence ---- */

/* The first paddock beside it is the one that they are in. */
static size_t rank_of(const struct fw_plan *plan,
                      const struct fw_plan_fence *fence)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    return fence->from < field->first_paddock
               ? field->paddock_count
               : fence->from - field->first_paddock;
}

/* One that can be a front, near to what was meant; NULL: there is none. */
static const char *such_as(const struct fw_plan *plan, size_t meant)
{
    const struct fw_plan_field *field =
        &plan->fields[plan->fences[meant].field];
    const size_t grazed =
        fw_plan_grazed_before(plan, plan->fences[meant].field);
    const char *best = NULL;
    size_t least = 0;
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED || fw_plan_is_outer_front(plan, i) ||
            rank_of(plan, fence) + 1 < grazed ||
            rank_of(plan, fence) + 1 >= field->paddock_count)
            continue;
        const bool side = plan->fences[meant].role == FW_FENCE_PERIMETER;
        const size_t away = side ? i : i < meant ? meant - i : i - meant;
        if (!best || away < least) {
            best = fence->id;
            least = away;
        }
    }
    return best;
}

static enum fw_status refuse(const struct fw_plan *plan, size_t meant,
                             const char *why, struct fw_error *err)
{
    const char *other = such_as(plan, meant);
    return fw_fail(err, FW_EINPUT, "%s %s%s%s", plan->fences[meant].id, why,
                   other ? "; expected such as " : "", other ? other : "");
}

static enum fw_status check_fence(const struct fw_plan *plan, size_t index,
                                  struct fw_error *err)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    if (fence->role != FW_FENCE_MOVED)
        return refuse(
            plan, index,
            fence->role == FW_FENCE_PERIMETER
                ? "is a side of the boundary and no front, which goes "
                  "with the flock"
                : "stands for many moves and is no front, which goes "
                  "with the flock",
            err);
    if (fw_plan_is_outer_front(plan, index))
        return refuse(plan, index,
                      "is the front that that plan itself began from: nothing "
                      "beyond it was grazed then",
                      err);
    if (rank_of(plan, fence) + 1 < fw_plan_grazed_before(plan, fence->field))
        return refuse(plan, index,
                      "lies in what was grazed before that plan began", err);
    if (rank_of(plan, fence) + 1 >= field->paddock_count)
        return refuse(plan, index, "has nothing left beyond it to graze", err);
    return FW_OK;
}

/* ---- is the ground the same? ---- */

struct rings {
    struct fw_point *points;
    const size_t *start;
    size_t count;
};

/* Both run alike as a rule, so the search begins where the last one ended. */
static bool is_on(const struct rings *rings, struct fw_point at, size_t *hint)
{
    const size_t all = rings->start[rings->count];
    for (size_t k = 0; k < all; k++) {
        const size_t i = (*hint + k) % all;
        size_t r = 0;
        while (i >= rings->start[r + 1])
            r++;
        const size_t next =
            i + 1 < rings->start[r + 1] ? i + 1 : rings->start[r];
        if (fw_segment_distance_m(at, rings->points[i], rings->points[next]) >
            FW_FRONT_SAME_M)
            continue;
        *hint = i;
        return true;
    }
    return false;
}

/* The first point of the one that the other has not; the rings' number when it
 * has all. */
static size_t first_off(const struct rings *of, const bool *skip,
                        const struct rings *in)
{
    const size_t all = of->start[of->count];
    size_t hint = 0, i = 0;
    while (i < all && ((skip && skip[i]) || is_on(in, of->points[i], &hint)))
        i++;
    return i;
}

/* Where a front parted that plan's own ground the map has no edge. */
static bool mark_fronts(const struct fw_plan *plan,
                        const struct fw_plan_field *field, bool *skip)
{
    const struct fw_plan_rings *rings = &field->rings;
    const size_t all = rings->ring_start[rings->ring_count];
    bool any = false;
    for (size_t f = field->first_fence;
         f < field->first_fence + field->fence_count; f++) {
        const struct fw_plan_fence *fence = &plan->fences[f];
        if (!fw_plan_is_outer_front(plan, f))
            continue;
        any = true;
        for (size_t i = 0; i < all; i++)
            for (size_t v = 0; v < fence->line_count; v++)
                skip[i] |= rings->vertices[i] == fence->line[v];
    }
    return any;
}

static enum fw_status tell_off(const struct fw_farm *farm,
                               const struct fw_field *field, struct fw_point at,
                               struct fw_error *err)
{
    const struct fw_lonlat place = fw_plane_inverse(&field->plane, at);
    return fw_fail(
        err, FW_EINPUT,
        "the ground of \"%.80s\" is not that of %.80s any more, as at "
        "%.6f,%.6f; plan it with the same boundary and the same ponds and "
        "exclusions, or tell the front as places, such as %s, and the rest is "
        "laid out anew",
        field->name, farm->earlier_path, place.lon_deg, place.lat_deg,
        fw_farm__example("front"));
}

static enum fw_status compare(const struct fw_farm *farm,
                              const struct fw_farm_field *field,
                              const struct rings *was, const struct rings *is,
                              const bool *skip, bool parted,
                              struct fw_error *err)
{
    size_t off = first_off(was, skip, is);
    if (off < was->start[was->count])
        return tell_off(farm, field->shape, was->points[off], err);
    off = parted ? is->start[is->count] : first_off(is, NULL, was);
    return off < is->start[is->count]
               ? tell_off(farm, field->shape, is->points[off], err)
               : FW_OK;
}

static enum fw_status check_ground(const struct fw_farm *farm,
                                   const struct fw_farm_field *field,
                                   size_t index, struct fw_error *err)
{
    const struct fw_plan *plan = farm->earlier;
    const struct fw_plan_field *of = &plan->fields[index];
    const struct fw_field *shape = field->grazed;
    const size_t all = of->rings.ring_start[of->rings.ring_count];
    struct rings was = {fw_alloc(all, sizeof *was.points), of->rings.ring_start,
                        of->rings.ring_count};
    struct rings is = {fw_alloc(shape->vertex_count, sizeof *is.points),
                       shape->ring_start, shape->ring_count};
    bool *skip = fw_alloc(all, sizeof *skip);
    enum fw_status status =
        was.points && is.points && skip ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < all; i++)
        was.points[i] = fw_plane_forward(
            &shape->plane, of->vertices[of->rings.vertices[i]].lonlat);
    for (size_t i = 0; !status && i < shape->vertex_count; i++)
        is.points[i] = shape->vertices[i].plane;
    if (!status)
        status = compare(farm, field, &was, &is, skip,
                         mark_fronts(plan, of, skip), err);
    fw_free(was.points);
    fw_free(is.points);
    fw_free(skip);
    return status;
}

/* ---- both ---- */

enum fw_status fw_farm__named_front(struct fw_farm__reader *reader,
                                    struct fw_farm_field *field,
                                    const char *text, struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    size_t index = 0;
    if (strchr(text, '@'))
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" is a place; expected the name of the whole "
                       "fence, such as A07-08, or a line from place to place",
                       text);
    enum fw_status status = fw_farm__find_fence(reader, text, &index, err);
    if (!status)
        status = fw_farm__check_fence(reader, field->shape, text, err);
    if (!status)
        status = check_fence(farm->earlier, index, err);
    if (!status)
        status =
            check_ground(farm, field, farm->earlier->fences[index].field, err);
    if (status)
        return status;
    field->front = (struct fw_farm_front){.named = true, .fence = index};
    memcpy(field->front.text, farm->earlier->fences[index].id, FW_ID);
    return FW_OK;
}

enum fw_status fw_farm__front_first(struct fw_farm__reader *reader,
                                    struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    for (size_t i = 1; i < farm->field_count; i++)
        if (farm->fields[i].front.named)
            return fw_fail(
                err, FW_EINPUT,
                "front: the flock stands at %s in field \"%.80s\", "
                "and \"%.80s\" would be grazed before the rest of "
                "it; name \"%.80s\" first under fields.each, or "
                "plan it alone (--only)",
                farm->fields[i].front.text, farm->fields[i].shape->name,
                farm->fields[0].shape->name, farm->fields[i].shape->name);
    return FW_OK;
}
