/* Cutting a field into wedges. The regions are put together by hand, since no
 * fence here goes from edge to edge: each end of a fence on the field's edge or
 * on the apron is a vertex of that support. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "layout/wedges.h"

#include <math.h>

enum { most_steps = FW_EFFORT(100) };
static const double close_enough = FW_TOLERANCE(1e-13); /* of a wedge */

/* Where one wedge ends and the next begins. */
struct ray {
    double along_m; /* may count on past the walk's end */
    struct fw_boundary_station far;
    size_t apron_edge;
    double apron_t;
    bool is_fence; /* else it is the field's own edge beside the water */
    size_t far_vertex, near_vertex, support;
};

static double cross_about(struct fw_point centre, struct fw_point a,
                          struct fw_point b)
{
    return (a.x_m - centre.x_m) * (b.y_m - centre.y_m) -
           (a.y_m - centre.y_m) * (b.x_m - centre.x_m);
}

/* The apron's edge through which the fence to that point passes. */
static void find_apron(const struct fw_wedges *wedges, struct fw_point far,
                       struct ray *ray)
{
    for (size_t i = 0; i + 1 < wedges->apron_count; i++) {
        const struct fw_point a = wedges->apron[i], b = wedges->apron[i + 1];
        const double before = cross_about(wedges->centre, a, far);
        const double after = cross_about(wedges->centre, far, b);
        if (before >= 0 && after > 0) {
            ray->apron_edge = i;
            ray->apron_t = before / (before + after);
            return;
        }
    }
    ray->apron_edge = wedges->apron_count - 2;
    ray->apron_t = 1;
}

static struct ray ray_at(const struct fw_wedges *wedges, double along_m)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    struct ray ray = {.along_m = along_m, .is_fence = true};
    ray.far = fw_boundary_at(
        boundary, fmod(along_m, boundary->along_m[boundary->count]), 0);
    if (wedges->apron_count > 0)
        find_apron(wedges, fw_boundary_point(boundary, ray.far), &ray);
    return ray;
}

/* The edge beside the water: the apron's first or last corner. */
static struct ray edge_ray(const struct fw_wedges *wedges, bool last)
{
    const double all_m = wedges->boundary.along_m[wedges->boundary.count];
    const double r = wedges->apron_count > 0 ? wedges->apron_m : 0;
    struct ray ray = ray_at(wedges, wedges->begin_m + (last ? all_m - r : r));
    ray.is_fence = false;
    ray.apron_edge = last && r > 0 ? wedges->apron_count - 2 : 0;
    ray.apron_t = last ? 1 : 0;
    return ray;
}

static struct fw_point near_point(const struct fw_wedges *wedges,
                                  const struct ray *ray)
{
    if (wedges->apron_count == 0)
        return wedges->centre;
    return fw_point_between(wedges->apron[ray->apron_edge],
                            wedges->apron[ray->apron_edge + 1], ray->apron_t);
}

/* What is passed on the way out along the edge and back along the apron. */
struct passed {
    size_t first_edge, edge_count;   /* nodes after these edges */
    size_t first_apron, apron_count; /* corners after these edges */
};

static struct passed between(const struct fw_wedges *wedges,
                             const struct ray *from, const struct ray *to)
{
    const size_t nodes = wedges->boundary.count;
    struct passed passed = {from->far.edge, 0, from->apron_edge, 0};
    passed.edge_count = (to->far.edge + nodes - from->far.edge) % nodes;
    if (passed.edge_count == 0 && to->far.t < from->far.t)
        passed.edge_count = nodes;
    if (wedges->apron_count > 1) {
        const size_t corners = wedges->apron_count - 1;
        passed.apron_count =
            (to->apron_edge + corners - from->apron_edge) % corners;
        if (passed.apron_count == 0 && to->apron_t < from->apron_t)
            passed.apron_count = corners;
    }
    return passed;
}

struct build {
    const struct fw_wedges *wedges;
    struct fw_subdivision *subdivision;
    struct ray rays[FW_WEDGES_MOST + 1];
    double end_m; /* of the last one, along the walk */
    size_t centre;
    size_t apron[FW_MOST_APRON]; /* vertices */
    size_t apron_support;        /* the first of them */
};

/* What lies between two rays. There is room for all nodes and corners. */
static double wedge_holds(const struct fw_wedges *wedges,
                          const struct fw_subdivision *subdivision,
                          const struct ray *from, const struct ray *to,
                          struct fw_point *room)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    const struct passed passed = between(wedges, from, to);
    size_t n = 0;
    room[n++] = near_point(wedges, from);
    room[n++] = fw_boundary_point(boundary, from->far);
    for (size_t i = 1; i <= passed.edge_count; i++)
        room[n++] =
            boundary->nodes[(passed.first_edge + i) % boundary->count].point;
    room[n++] = fw_boundary_point(boundary, to->far);
    room[n++] = near_point(wedges, to);
    for (size_t i = passed.apron_count; i > 0; i--)
        room[n++] =
            wedges->apron[(passed.first_apron + i) % (wedges->apron_count - 1)];
    const size_t ring_start[2] = {0, n};
    return fw_subdivision__measure(subdivision, room, ring_start, 1);
}

enum fw_status fw_wedges_lost(const struct fw_wedges *wedges,
                              const struct fw_subdivision *subdivision,
                              double *out, struct fw_error *err)
{
    const struct fw_boundary *boundary = &wedges->boundary;
    *out = 0;
    if (wedges->apron_count == 0)
        return FW_OK;
    struct fw_point *ring =
        fw_alloc(boundary->count + wedges->apron_count, sizeof *ring);
    if (!ring)
        return fw_fail_memory(err);
    size_t n = 0;
    for (size_t i = 0; i < wedges->apron_count; i++)
        ring[n++] = wedges->apron[i];
    if (wedges->on_edge) {
        const struct ray first = edge_ray(wedges, false);
        const struct ray last = edge_ray(wedges, true);
        const struct passed passed = between(wedges, &last, &first);
        for (size_t i = 1; i <= passed.edge_count; i++)
            ring[n++] =
                boundary->nodes[(passed.first_edge + i) % boundary->count]
                    .point;
    }
    const size_t ring_start[2] = {0, n};
    *out = fw_subdivision__measure(subdivision, ring, ring_start, 1);
    fw_free(ring);
    return FW_OK;
}

/* Where the next ray goes, so that the wedge holds its share of the rest: false
 * position, where a bound that stays twice counts half (the Illinois rule). */
static struct ray next_ray(const struct build *build, const struct ray *from,
                           double share, double rest, struct fw_point *room)
{
    double low_m = from->along_m, high_m = build->end_m;
    double low = -share, high = rest - share;
    struct ray ray = *from;
    int last = 0;
    for (int i = 0; i < most_steps; i++) {
        const double to_m = low_m - low * (high_m - low_m) / (high - low);
        ray = ray_at(build->wedges, to_m);
        const double off =
            wedge_holds(build->wedges, build->subdivision, from, &ray, room) -
            share;
        if (fabs(off) <= close_enough * share)
            break;
        const int side = off < 0 ? -1 : 1;
        *(side < 0 ? &low_m : &high_m) = to_m;
        *(side < 0 ? &low : &high) = off;
        if (side == last)
            *(side < 0 ? &high : &low) /= 2;
        last = side;
    }
    return ray;
}

static enum fw_status find_rays(struct build *build,
                                const struct fw_plots *plots,
                                struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    const double all_m = wedges->boundary.along_m[wedges->boundary.count];
    struct ray *rays = build->rays;
    struct fw_point *room = fw_alloc(
        wedges->boundary.count + FW_MOST_APRON + FW_EFFORT(4), sizeof *room);
    if (!room)
        return fw_fail_memory(err);
    const size_t count = wedges->count;
    rays[0] = wedges->on_edge ? edge_ray(wedges, false)
                              : ray_at(wedges, wedges->begin_m);
    rays[count] = wedges->on_edge ? edge_ray(wedges, true) : rays[0];
    build->end_m =
        wedges->on_edge ? rays[count].along_m : wedges->begin_m + all_m;
    for (size_t k = 1; k < count; k++) {
        const double before = fw_plots_before(plots, k - 1);
        rays[k] = next_ray(build, &rays[k - 1], plots->behind[k - 1] - before,
                           plots->behind[count - 1] - before, room);
    }
    fw_free(room);
    return FW_OK;
}

/* ---- on the subdivision ---- */

static const struct fw_subdivision_piece inside = {FW_INSIDE, 0, 0};

static enum fw_status add_far(struct build *build,
                              struct fw_boundary_station place, size_t *out,
                              struct fw_error *err)
{
    const struct fw_subdivision_support *side =
        &build->subdivision->supports[place.edge];
    return fw_subdivision__add(
        build->subdivision,
        (struct fw_subdivision_piece){place.edge, side->from, side->to},
        place.t, fw_boundary_point(&build->wedges->boundary, place), out, err);
}

/* The apron's corners, the two at its ends on the field's edge if it has
 * ends, and the line around it. */
static enum fw_status add_apron(struct build *build, struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    struct fw_subdivision *subdivision = build->subdivision;
    const size_t last = wedges->apron_count - 1;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i <= last; i++) {
        if (wedges->on_edge && (i == 0 || i == last))
            status = add_far(build, build->rays[i == 0 ? 0 : wedges->count].far,
                             &build->apron[i], err);
        else if (i == last)
            build->apron[i] = build->apron[0];
        else
            status =
                fw_subdivision__add(subdivision, inside, 0, wedges->apron[i],
                                    &build->apron[i], err);
    }
    for (size_t i = 0; !status && i < last; i++) {
        size_t support;
        status = fw_subdivision__support(subdivision, build->apron[i],
                                         build->apron[i + 1], &support, err);
        if (i == 0)
            build->apron_support = support;
    }
    return status ? status
                  : fw_subdivision__line(subdivision, FW_LINE_LANE,
                                         build->apron_support, last, err);
}

static enum fw_status add_centre(struct build *build, struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    if (wedges->on_edge)
        return add_far(build,
                       fw_boundary_at(&wedges->boundary, wedges->water_m, 0),
                       &build->centre, err);
    return fw_subdivision__add(build->subdivision, inside, 0, wedges->centre,
                               &build->centre, err);
}

static enum fw_status add_near(struct build *build, struct ray *ray,
                               struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    ray->near_vertex = build->centre;
    if (wedges->apron_count == 0)
        return FW_OK;
    const size_t edge = ray->apron_edge;
    return fw_subdivision__add(build->subdivision,
                               (struct fw_subdivision_piece){
                                   build->apron_support + edge,
                                   build->apron[edge], build->apron[edge + 1]},
                               ray->apron_t, near_point(wedges, ray),
                               &ray->near_vertex, err);
}

static enum fw_status add_fence(struct build *build, struct ray *ray,
                                struct fw_error *err)
{
    enum fw_status status = add_far(build, ray->far, &ray->far_vertex, err);
    if (!status)
        status = add_near(build, ray, err);
    if (status || !ray->is_fence)
        return status;
    status = fw_subdivision__support(build->subdivision, ray->near_vertex,
                                     ray->far_vertex, &ray->support, err);
    return status ? status
                  : fw_subdivision__line(build->subdivision, FW_LINE_MOVED,
                                         ray->support, 1, err);
}

/* The side from the vertex before is none when both are one. */
static void put(struct fw_region *region, size_t vertex, size_t support)
{
    size_t n = region->ring_start[1];
    if (n > 0 && region->vertices[n - 1] == vertex)
        n--;
    region->vertices[n] = vertex;
    region->supports[n] = support;
    region->ring_start[1] = n + 1;
}

static void put_last(struct fw_region *region, size_t vertex, size_t support)
{
    if (vertex != region->vertices[0])
        put(region, vertex, support);
    else if (region->vertices[region->ring_start[1] - 1] == vertex)
        region->ring_start[1]--;
}

static enum fw_status take_wedge(const struct build *build,
                                 const struct ray *from, const struct ray *to,
                                 struct fw_region *out, struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    const struct fw_boundary *boundary = &wedges->boundary;
    const struct passed passed = between(wedges, from, to);
    const enum fw_status status = fw_region_new(
        out, passed.edge_count + passed.apron_count + FW_EFFORT(4), 1, err);
    if (status)
        return status;
    if (from->is_fence)
        put(out, from->near_vertex, from->support);
    put(out, from->far_vertex, from->far.edge);
    for (size_t i = 1; i <= passed.edge_count; i++) {
        const size_t node = (passed.first_edge + i) % boundary->count;
        put(out, node, node);
    }
    put(out, to->far_vertex, to->support);
    if (wedges->apron_count == 0) {
        put_last(out, build->centre, to->far.edge);
        return FW_OK;
    }
    const size_t corners = wedges->apron_count - 1;
    put(out, to->near_vertex, build->apron_support + to->apron_edge);
    for (size_t i = passed.apron_count; i > 0; i--) {
        const size_t corner = (passed.first_apron + i) % corners;
        put_last(out, build->apron[corner],
                 build->apron_support + (corner + corners - 1) % corners);
    }
    put_last(out, from->near_vertex, from->support);
    return FW_OK;
}

/* Along the edge behind the water the apron's last corner is joined to the
 * first one. */
static enum fw_status take_apron(const struct build *build,
                                 struct fw_region *out, struct fw_error *err)
{
    const struct fw_wedges *wedges = build->wedges;
    const size_t last = wedges->apron_count - 1, nodes = wedges->boundary.count;
    const struct ray *end = &build->rays[wedges->count];
    const struct passed passed = between(wedges, end, &build->rays[0]);
    const enum fw_status status =
        fw_region_new(out, last + 2 + passed.edge_count, 1, err);
    if (status)
        return status;
    for (size_t i = 0; i < last; i++)
        put(out, build->apron[i], build->apron_support + i);
    if (!wedges->on_edge)
        return FW_OK;
    put(out, build->apron[last], end->far.edge);
    for (size_t i = 1; i <= passed.edge_count; i++) {
        const size_t node = (passed.first_edge + i) % nodes;
        put_last(out, node, node);
    }
    return FW_OK;
}

static enum fw_status take_all(const struct build *build,
                               struct fw_plots *plots, struct fw_error *err)
{
    size_t taken = 0;
    enum fw_status status = FW_OK;
    while (!status && taken < plots->count) {
        status = take_wedge(build, &build->rays[taken], &build->rays[taken + 1],
                            &plots->regions[taken], err);
        taken += status == FW_OK;
    }
    if (!status && build->wedges->apron_count > 0) {
        status = take_apron(build, &plots->common[0], err);
        plots->common_count = status == FW_OK;
    }
    if (status)
        fw_regions_release(plots->regions, taken);
    return status;
}

enum fw_status fw_wedges_cut(const void *data, struct fw_plots *plots,
                             struct fw_error *err)
{
    const struct fw_wedges *wedges = data;
    struct build build = {.wedges = wedges, .subdivision = &plots->subdivision};
    enum fw_status status = find_rays(&build, plots, err);
    if (!status)
        status = wedges->apron_count > 0 ? add_apron(&build, err)
                                         : add_centre(&build, err);
    for (size_t k = 0; !status && k < wedges->count; k++)
        status = add_fence(&build, &build.rays[k], err);
    if (!status && wedges->on_edge)
        status = add_fence(&build, &build.rays[wedges->count], err);
    else
        build.rays[wedges->count] = build.rays[0];
    return status ? status : take_all(&build, plots, err);
}
