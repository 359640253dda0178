/* Places of a plan that was read. plan.json has lon and lat of each, and x and
 * y where the map's own are others. Where it is in the plane of its field
 * follows from that: of a post from the line that it stands on, which is
 * straight in each kind of coordinate between its vertices; of all else from
 * the plane. */
#include "base/angle.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "crs/inner.h"
#include "store/reading.h"

#include <math.h>

static const char far_off[] =
    "is over 1000 km from the middle of its field, or no place on the earth";

static bool is_near(struct fw_point at)
{
    return fabs(at.x_m) <= FW_IO__MOST_M && fabs(at.y_m) <= FW_IO__MOST_M;
}

/* The field may be FW_NONE: the first one. */
static bool put(const struct fw_plan *plan, size_t field,
                struct fw_plan_place *place)
{
    if (!place->given || plan->field_count == 0)
        return true;
    const size_t of = field == FW_NONE ? 0 : field;
    place->plane = fw_plane_forward(&plan->fields[of].plane, place->lonlat);
    return is_near(place->plane);
}

static enum fw_status put_field(struct fw_plan *plan, size_t i,
                                struct fw_error *err)
{
    struct fw_plan_field *field = &plan->fields[i];
    const enum fw_status status =
        fw_plane_init(&field->plane, field->plane.centre, err);
    if (status)
        return fw_fail_where(err, ".fields[%zu].plane: ", i);
    for (size_t k = 0; k < field->vertex_count; k++) {
        struct fw_vertex *vertex = &field->vertices[k];
        vertex->plane = fw_plane_forward(&field->plane, vertex->lonlat);
    }
    if (!put(plan, i, &field->gate))
        return fw_io__wrong(err, "fields", i, "gate", far_off);
    if (!put(plan, i, &field->water))
        return fw_io__wrong(err, "fields", i, "water", far_off);
    if (!put(plan, i, &field->park))
        return fw_io__wrong(err, "fields", i, "park", far_off);
    return FW_OK;
}

/* ---- posts ---- */

/* East and north of the place in degrees of latitude: flat, which it is over
 * the length of a piece of fence. */
static struct fw_point in_degrees(struct fw_lonlat place, struct fw_lonlat from)
{
    const double whole_turn = 360, radian_deg = whole_turn / (2 * FW_PI);
    const double lon = fw_unwrap(place.lon_deg, from.lon_deg, whole_turn);
    return (struct fw_point){(lon - from.lon_deg) *
                                 cos(from.lat_deg / radian_deg),
                             place.lat_deg - from.lat_deg};
}

/* x of a map jumps where it passes the line opposite to its meridian. The map's
 * system is asked only there: that takes time. */
static enum fw_status turn_of(const struct fw_plan_field *field, double *turn,
                              struct fw_error *err)
{
    struct fw_crs *crs;
    const enum fw_status status =
        fw_crs_new(field->crs ? field->crs : "", &crs, err);
    if (status)
        return status;
    *turn = fw_crs_turn(crs);
    fw_crs_free(crs);
    return FW_OK;
}

static enum fw_status put_between(const struct fw_plan_field *field,
                                  const struct fw_vertex *a,
                                  const struct fw_vertex *b, double t,
                                  struct fw_plan_place *place,
                                  struct fw_error *err)
{
    const double half_turn = 180;
    double turn = 0;
    enum fw_status status = FW_OK;
    if (fabs(b->lonlat.lon_deg - a->lonlat.lon_deg) > half_turn)
        status = turn_of(field, &turn, err);
    const struct fw_vertex at = fw_geo__between(a, b, t, turn);
    place->file = at.file;
    place->plane = at.plane;
    return status;
}

/* Whose line or field is not there, fw_io__plan_check refuses. */
static bool has_line(const struct fw_plan *plan,
                     const struct fw_plan_fence *fence)
{
    if (fence->field == FW_NONE || fence->line_count < 2)
        return false;
    const struct fw_plan_field *field = &plan->fields[fence->field];
    for (size_t i = 0; i < fence->line_count; i++)
        if (fence->line[i] >= field->vertex_count)
            return false;
    return true;
}

static enum fw_status put_post(const struct fw_plan *plan,
                               struct fw_plan_post *post, struct fw_error *err)
{
    const struct fw_plan_fence *fence = &plan->fences[post->fence];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_lonlat origin = post->place.lonlat;
    double least = HUGE_VAL, t = 0;
    size_t piece = 0;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        double away;
        const double here = fw_geo__nearest_on(
            in_degrees(field->vertices[fence->line[i]].lonlat, origin),
            in_degrees(field->vertices[fence->line[i + 1]].lonlat, origin),
            (struct fw_point){0, 0}, &away);
        if (away < least) {
            least = away;
            piece = i;
            t = here;
        }
    }
    const double off_line_deg = 1e-7; /* 11 mm */
    if (!(least <= off_line_deg))
        return fw_fail(err, FW_EINPUT, "is not on its line");
    const enum fw_status status = put_between(
        field, &field->vertices[fence->line[piece]],
        &field->vertices[fence->line[piece + 1]], t, &post->place, err);
    /* Signs hang on the wire, which is straight in the plane. */
    if (post->why == FW_POST_SIGN)
        post->place.plane = fw_plane_forward(&field->plane, post->place.lonlat);
    return status;
}

static enum fw_status put_posts(struct fw_plan *plan, struct fw_error *err)
{
    size_t number = 0;
    for (size_t i = 0; i < plan->post_count; i++) {
        struct fw_plan_post *post = &plan->posts[i];
        const struct fw_plan_fence *fence = &plan->fences[post->fence];
        number =
            i > 0 && plan->posts[i - 1].fence == post->fence ? number + 1 : 0;
        if (!has_line(plan, fence))
            continue;
        const enum fw_status status = put_post(plan, post, err);
        if (status)
            return fw_fail_where(err, ".fences[%zu].posts[%zu]: post %s ",
                                 post->fence, number, post->id);
    }
    return FW_OK;
}

enum fw_status fw_io__places(struct fw_plan *plan, struct fw_error *err)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        const enum fw_status status = put_field(plan, i, err);
        if (status)
            return status;
    }
    if (!put(plan, FW_NONE, &plan->energizer_place))
        return fw_fail(err, FW_EINPUT, ".energizer_place: %s", far_off);
    for (size_t i = 0; i < plan->water_count; i++)
        if (!put(plan, plan->waters[i].field, &plan->waters[i].place))
            return fw_io__wrong(err, "water", i, "place", far_off);
    for (size_t i = 0; i < plan->gate_count; i++)
        if (!put(plan, plan->gates[i].field, &plan->gates[i].place))
            return fw_io__wrong(err, "gates", i, "place", far_off);
    for (size_t i = 0; i < plan->finding_count; i++)
        if (!put(plan, plan->findings[i].field, &plan->findings[i].place))
            return fw_io__wrong(err, "findings", i, "place", far_off);
    return put_posts(plan, err);
}
