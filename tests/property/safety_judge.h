/* The judge of a plan's distances and crossings: all that lies around it, in
 * another projection (UTM) and by another library (GEOS). */
#ifndef FW_SAFETY_JUDGE_H
#define FW_SAFETY_JUDGE_H

#include "unit/test.h"

#include "crs/crs.h"
#include "io/io.h"
#include "plan/plan.h"

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define ROADS "highway NOT IN ('track','path','footway','cycleway','steps')"
#define PATHS "highway IN ('path','footway','cycleway','steps')"

/* What is asked of the maps, told here once more: the distances that a fence
 * keeps, the rule that a shorter one breaks, and whether a line that crosses
 * is told of its crossing instead. The first row that is broken counts. */
struct layer {
    enum fw_role role;
    const char *layer, *where;
    bool crosses;
    double near_m[2];
    const char *rules[2];
};

static const struct layer layers[] = {
    {FW_ROLE_ROAD, "roads", ROADS, true, {1, 0}, {"road-on", NULL}},
    {FW_ROLE_PATH, "roads", PATHS, true, {2, 0}, {"path-width", NULL}},
    {FW_ROLE_TRACK, "roads", "highway = 'track'", true, {0, 0}, {NULL, NULL}},
    {FW_ROLE_RAILWAY, "railways", NULL, true, {0, 0}, {NULL, NULL}},
    {FW_ROLE_POWER_LINE,
     "power_lines",
     NULL,
     true,
     {8, 0},
     {"power-line-high", NULL}},
    {FW_ROLE_WATERCOURSE,
     "waterways",
     NULL,
     true,
     {3, 0},
     {"watercourse", NULL}},
    {FW_ROLE_POND, "water", NULL, false, {3, 0}, {"pond", NULL}},
    {FW_ROLE_BUILDING,
     "buildings",
     NULL,
     false,
     {2, 20},
     {"building-gap", "building-near"}},
};
enum { layer_count = sizeof layers / sizeof layers[0] };

/* A feature as the file has it, in UTM. */
struct thing {
    const struct layer *layer;
    GEOSGeometry *shape, *outline;
};

struct judge {
    GEOSContextHandle_t geos;
    struct fw_crs *utm;
    struct thing *things;
    size_t thing_count;
    GEOSSTRtree *tree;
    size_t crossings, told, distances, close_calls;
    double worst_m;
};

/* ---- the world in UTM ---- */

static inline struct fw_xy to_utm(struct judge *judge, struct fw_lonlat at)
{
    struct fw_xy out;
    struct fw_error err;
    if (fw_crs_from_lonlat(judge->utm, &at, &out, 1, &err))
        fail_msg("%s", err.text);
    return out;
}

/* Straight in longitude and latitude, with a point each 20 m or less. */
static inline GEOSGeometry *line_of(struct judge *judge,
                                    const struct fw_xy *points, size_t count,
                                    bool closed)
{
    const size_t most = 400000;
    struct fw_xy *out = malloc(most * sizeof *out);
    size_t n = 0;
    const size_t sides = closed ? count : count - 1;
    for (size_t i = 0; i < sides; i++) {
        const struct fw_xy a = points[i], b = points[(i + 1) % count];
        const size_t pieces =
            1 + (size_t)(hypot(b.x - a.x, b.y - a.y) * 111000 / 20);
        for (size_t k = 0; k < pieces; k++) {
            const double t = (double)k / (double)pieces;
            assert_true(n + 2 < most);
            out[n++] = to_utm(judge, (struct fw_lonlat){a.x + t * (b.x - a.x),
                                                        a.y + t * (b.y - a.y)});
        }
    }
    const struct fw_xy end = points[closed ? 0 : count - 1];
    out[n++] = to_utm(judge, (struct fw_lonlat){end.x, end.y});
    GEOSCoordSequence *sequence =
        GEOSCoordSeq_create_r(judge->geos, (unsigned)n, 2);
    for (size_t i = 0; i < n; i++)
        GEOSCoordSeq_setXY_r(judge->geos, sequence, (unsigned)i, out[i].x,
                             out[i].y);
    free(out);
    return closed ? GEOSGeom_createLinearRing_r(judge->geos, sequence)
                  : GEOSGeom_createLineString_r(judge->geos, sequence);
}

static inline void add_thing(struct judge *judge, const struct layer *layer,
                             const struct fw_feature *feature)
{
    const struct fw_shape *shape = &feature->shape;
    struct thing *thing = &judge->things[judge->thing_count];
    *thing = (struct thing){.layer = layer};
    if (feature->kind == FW_FEATURE_LINE && shape->point_count > 1) {
        thing->shape = line_of(judge, shape->points, shape->point_count, false);
    } else if (feature->kind == FW_FEATURE_POLYGON) {
        GEOSGeometry *rings[64];
        assert_true(shape->ring_count < 64);
        for (size_t r = 0; r < shape->ring_count; r++)
            rings[r] =
                line_of(judge, shape->points + shape->ring_start[r],
                        shape->ring_start[r + 1] - shape->ring_start[r], true);
        thing->shape = GEOSGeom_createPolygon_r(
            judge->geos, rings[0], rings + 1, (unsigned)shape->ring_count - 1);
    } else
        return;
    thing->outline = feature->kind == FW_FEATURE_POLYGON
                         ? GEOSBoundary_r(judge->geos, thing->shape)
                         : GEOSGeom_clone_r(judge->geos, thing->shape);
    GEOSSTRtree_insert_r(judge->geos, judge->tree, thing->shape, thing);
    judge->thing_count++;
}

static inline void read_things(struct judge *judge, const char *path)
{
    judge->things = calloc(20000, sizeof *judge->things);
    judge->tree = GEOSSTRtree_create_r(judge->geos, 10);
    for (size_t i = 0; i < layer_count; i++) {
        const struct fw_map_request request = {
            .source = path, .layer = layers[i].layer, .where = layers[i].where};
        struct fw_map *map;
        struct fw_notes notes = {0};
        struct fw_error err;
        if (fw_map_read(&request, &map, &notes, &err))
            fail_msg("%s", err.text);
        for (size_t k = 0; k < map->feature_count; k++)
            add_thing(judge, &layers[i], &map->features[k]);
        fw_map_free(map);
        fw_notes_release(&notes);
    }
}

/* A fence is straight in the field's plane between its vertices. */
static inline GEOSGeometry *fence_line(struct judge *judge,
                                       const struct fw_plan_field *field,
                                       const struct fw_plan_fence *fence)
{
    const size_t most = 200000;
    struct fw_xy *out = malloc(most * sizeof *out);
    size_t n = 0;
    for (size_t i = 0; i < fence->line_count; i++) {
        const struct fw_vertex *at = &field->vertices[fence->line[i]];
        if (i > 0) {
            const struct fw_vertex *from = &field->vertices[fence->line[i - 1]];
            const double x = at->plane.x_m - from->plane.x_m;
            const double y = at->plane.y_m - from->plane.y_m;
            const size_t pieces = 1 + (size_t)(hypot(x, y) / 20);
            assert_true(n + pieces < most);
            for (size_t k = 1; k < pieces; k++) {
                const double t = (double)k / (double)pieces;
                const struct fw_point p = {from->plane.x_m + t * x,
                                           from->plane.y_m + t * y};
                out[n++] = to_utm(judge, fw_plane_inverse(&field->plane, p));
            }
        }
        out[n++] = to_utm(judge, at->lonlat);
    }
    GEOSCoordSequence *sequence =
        GEOSCoordSeq_create_r(judge->geos, (unsigned)n, 2);
    for (size_t i = 0; i < n; i++)
        GEOSCoordSeq_setXY_r(judge->geos, sequence, (unsigned)i, out[i].x,
                             out[i].y);
    free(out);
    return GEOSGeom_createLineString_r(judge->geos, sequence);
}

/* ---- one field ---- */

struct near_things {
    struct thing *items[4096];
    size_t count;
};

static inline void collect(void *item, void *data)
{
    struct near_things *near = data;
    assert_true(near->count < 4096);
    near->items[near->count++] = item;
}

static inline bool within_1cm(double a, double b)
{
    return fabs(a - b) <= 0.01;
}

/* The finding of that rule whose place is nearest, at most 1 cm away; or as far
 * as half the part goes that lies within a millimetre of the fence, for lines
 * that meet at a degree or two cross wherever the last millimetre says. */
static inline bool is_told(struct judge *judge, const struct fw_plan *plan,
                           const struct layer *layer, double x, double y,
                           double part_m)
{
    const char *word = fw_safety_role_word(layer->role);
    double best = 1e9;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        const char *rest = finding->rule + strlen(word);
        if (strncmp(finding->rule, word, strlen(word)) != 0 ||
            (strcmp(rest, "-cross") != 0 && strcmp(rest, "-angle") != 0 &&
             strcmp(rest, "-slant") != 0))
            continue;
        const struct fw_xy at = to_utm(judge, finding->place.lonlat);
        best = fmin(best, hypot(at.x - x, at.y - y));
    }
    const bool told = best <= fmax(0.01, part_m / 2);
    if (told)
        judge->worst_m = fmax(judge->worst_m, best);
    return told;
}

/* Parts of the fence within a millimetre of the outline: short ones are
 * crossings, long ones lie along it. Returns whether it crosses only. */
static inline bool judge_crossings(struct judge *judge,
                                   const struct fw_plan *plan,
                                   const struct thing *thing,
                                   const GEOSGeometry *line, bool *unsure)
{
    GEOSContextHandle_t geos = judge->geos;
    GEOSGeometry *reach = GEOSBuffer_r(geos, line, 1, 4);
    GEOSGeometry *here = GEOSIntersection_r(geos, thing->outline, reach);
    GEOSGeometry *band = GEOSBuffer_r(geos, here, 0.001, 8);
    GEOSGeometry *met = GEOSIntersection_r(geos, line, band);
    GEOSGeometry *joined = GEOSGeomTypeId_r(geos, met) == GEOS_MULTILINESTRING
                               ? GEOSLineMerge_r(geos, met)
                               : GEOSGeom_clone_r(geos, met);
    size_t crossings = 0, along = 0;
    const int parts =
        GEOSisEmpty_r(geos, joined) ? 0 : GEOSGetNumGeometries_r(geos, joined);
    for (int i = 0; i < parts; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, joined, i);
        double length = 0, x = 0, y = 0;
        GEOSLength_r(geos, part, &length);
        *unsure |= length > 0.25 && length < 1;
        if (length > 0.5) {
            along++;
            continue;
        }
        crossings++;
        GEOSGeometry *middle = GEOSInterpolateNormalized_r(geos, part, 0.5);
        GEOSGeomGetX_r(geos, middle, &x);
        GEOSGeomGetY_r(geos, middle, &y);
        GEOSGeom_destroy_r(geos, middle);
        judge->crossings++;
        if (!*unsure && !is_told(judge, plan, thing->layer, x, y, length))
            fail_msg("a %s is crossed at %.3f %.3f, and nothing says so",
                     fw_safety_role_word(thing->layer->role), x, y);
    }
    GEOSGeom_destroy_r(geos, joined);
    GEOSGeom_destroy_r(geos, met);
    GEOSGeom_destroy_r(geos, band);
    GEOSGeom_destroy_r(geos, here);
    GEOSGeom_destroy_r(geos, reach);
    return crossings > 0 && along == 0;
}

/* How often a distance stands among the findings of a rule. */
static inline size_t told_times(const struct fw_plan *plan, const char *rule,
                                double distance_m)
{
    size_t times = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        times += strcmp(plan->findings[i].rule, rule) == 0 &&
                 within_1cm(plan->findings[i].distance_m, distance_m);
    return times;
}

/* Returns the rule that is broken, NULL when none is; *unsure when a distance
 * is within 1 cm of what is wanted. */
static inline const char *judge_thing(struct judge *judge,
                                      const struct fw_plan *plan,
                                      const struct thing *thing,
                                      GEOSGeometry **lines, bool *unsure)
{
    double nearest_m = 1e9;
    for (size_t i = 0; i < plan->fence_count; i++) {
        double distance_m = 1e9;
        /* The edge of ground that is taken off has no wire. */
        if (plan->fences[i].role == FW_FENCE_PERIMETER &&
            plan->fences[i].side == FW_NONE)
            continue;
        GEOSDistance_r(judge->geos, lines[i], thing->shape, &distance_m);
        if (distance_m < 0.02 && thing->layer->crosses &&
            judge_crossings(judge, plan, thing, lines[i], unsure))
            continue;
        nearest_m = fmin(nearest_m, distance_m);
    }
    for (size_t k = 0; k < 2 && thing->layer->rules[k]; k++) {
        *unsure |= within_1cm(nearest_m, thing->layer->near_m[k]);
        if (nearest_m >= thing->layer->near_m[k])
            continue;
        judge->distances++;
        if (!*unsure && !told_times(plan, thing->layer->rules[k], nearest_m))
            fail_msg("%s: a %s is %.4f m away, and nothing says so",
                     plan->fields[0].name,
                     fw_safety_role_word(thing->layer->role), nearest_m);
        return thing->layer->rules[k];
    }
    return NULL;
}

static inline size_t told_of(const struct fw_plan *plan, const char *rule)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += strcmp(plan->findings[i].rule, rule) == 0;
    return count;
}

/* No crossing is told where there is none. */
static inline void judge_told(struct judge *judge, const struct fw_plan *plan,
                              const struct near_things *near)
{
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        const char *end = strrchr(finding->rule, '-');
        if (!end || (strcmp(end, "-cross") != 0 && strcmp(end, "-angle") != 0 &&
                     strcmp(end, "-slant") != 0))
            continue;
        const struct fw_xy at = to_utm(judge, finding->place.lonlat);
        GEOSGeometry *point =
            GEOSGeom_createPointFromXY_r(judge->geos, at.x, at.y);
        double least_m = 1e9;
        for (size_t k = 0; k < near->count; k++) {
            const char *word = fw_safety_role_word(near->items[k]->layer->role);
            double distance_m = 1e9;
            if (strncmp(finding->rule, word, strlen(word)) == 0)
                GEOSDistance_r(judge->geos, point, near->items[k]->outline,
                               &distance_m);
            least_m = fmin(least_m, distance_m);
        }
        GEOSGeom_destroy_r(judge->geos, point);
        if (least_m > 0.01)
            fail_msg("%s: %s is told %.3f m from any", plan->fields[0].name,
                     finding->rule, least_m);
        judge->told++;
    }
}

static inline void judge_field(struct judge *judge, const struct fw_plan *plan)
{
    const struct fw_plan_field *field = &plan->fields[0];
    GEOSGeometry **lines = calloc(plan->fence_count, sizeof *lines);
    struct near_things *near = calloc(1, sizeof *near);
    size_t broken[layer_count][2] = {{0}};
    size_t unsure_things = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        lines[i] = fence_line(judge, field, &plan->fences[i]);
    GEOSGeometry *all =
        GEOSGeom_createCollection_r(judge->geos, GEOS_GEOMETRYCOLLECTION, lines,
                                    (unsigned)plan->fence_count);
    GEOSGeometry *box = GEOSEnvelope_r(judge->geos, all);
    GEOSGeometry *around = GEOSBuffer_r(judge->geos, box, 60, 4);
    GEOSSTRtree_query_r(judge->geos, judge->tree, around, collect, near);
    for (size_t i = 0; i < near->count; i++) {
        const struct thing *thing = near->items[i];
        bool unsure = false;
        const char *rule = judge_thing(judge, plan, thing, lines, &unsure);
        unsure_things += unsure;
        for (size_t k = 0; k < 2 && rule; k++)
            broken[thing->layer - layers][k] += rule == thing->layer->rules[k];
    }
    judge->close_calls += unsure_things;
    judge_told(judge, plan, near);
    for (size_t i = 0; i < layer_count && !unsure_things; i++)
        for (size_t k = 0; k < 2 && layers[i].rules[k]; k++)
            if (told_of(plan, layers[i].rules[k]) != broken[i][k])
                fail_msg("%s: %zu findings of %s; there are %zu", field->name,
                         told_of(plan, layers[i].rules[k]), layers[i].rules[k],
                         broken[i][k]);
    GEOSGeom_destroy_r(judge->geos, around);
    GEOSGeom_destroy_r(judge->geos, box);
    GEOSGeom_destroy_r(judge->geos, all);
    free(lines);
    free(near);
}

#endif
