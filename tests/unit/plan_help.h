/* Farms made by hand for whole plans, and GEOS as the judge of their ground. */
#ifndef FW_PLAN_HELP_H
#define FW_PLAN_HELP_H

#include "test.h"

#include "crs/crs.h"
#include "make/make.h"
#include "plan/plan.h"

#include "base/alloc.h"

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* ---- farms ---- */

enum { most_points = 64 };

struct outline {
    size_t count;
    double xy[most_points][2];
    size_t hole_count; /* the last so many points are one hole */
};

static const struct outline rectangle = {
    4, {{0, 0}, {300, 0}, {300, 200}, {0, 200}}, 0};
static const struct outline leaning = {
    5, {{0, 0}, {260, 30}, {310, 190}, {150, 240}, {-20, 180}}, 0};
static const struct outline corner = {
    6, {{0, 0}, {240, 0}, {240, 80}, {90, 90}, {80, 220}, {0, 210}}, 0};
static const struct outline pond = {8,
                                    {{0, 0},
                                     {280, 10},
                                     {270, 190},
                                     {10, 200},
                                     {130, 90},
                                     {130, 98},
                                     {138, 98},
                                     {138, 90}},
                                    4};

/* Equal-area and true to scale at its centre, so that metres are plain. */
static const char *const crs_text =
    "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m";

static inline void add_field(struct fw_farm *farm, size_t index,
                             const struct outline *outline, double east_m,
                             struct fw_crs *crs)
{
    struct fw_shape shape = {0};
    shape.points = fw_alloc(outline->count, sizeof *shape.points);
    shape.ring_start = fw_alloc(3, sizeof *shape.ring_start);
    for (size_t i = 0; i < outline->count; i++) {
        shape.points[i].x = east_m + outline->xy[i][0];
        shape.points[i].y = outline->xy[i][1];
    }
    shape.point_count = outline->count;
    shape.ring_count = outline->hole_count ? 2 : 1;
    shape.ring_start[1] = outline->count - outline->hole_count;
    shape.ring_start[shape.ring_count] = outline->count;
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm_field *field = &farm->fields[index];
    if (fw_shape_repair(&shape, "outline", &notes, &err) ||
        fw_field_new(&shape, index ? "Second" : "First", crs, &field->shape,
                     &err))
        fail_msg("%s", err.text);
    fw_notes_release(&notes);
    fw_shape_release(&shape);
    field->grazed = field->shape;
    field->crs = fw_strdup(crs_text);
    field->source = fw_strdup("outline");
    field->sides = fw_alloc(field->shape->corner_count, sizeof *field->sides);
    field->sward = (struct fw_sward){
        .mass_kg_ha = 2500, .residual_kg_ha = 1500, .use = 0.8, .legume = -1};
}

static inline struct fw_farm *farm_of(const struct outline *first,
                                      const struct outline *second)
{
    struct fw_error err;
    struct fw_crs *crs;
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    struct fw_farm *farm = fw_alloc(1, sizeof *farm);
    farm->world = &fw_crs_world;
    farm->name = fw_strdup("Test farm");
    farm->field_count = second ? 2 : 1;
    farm->fields = fw_alloc(farm->field_count, sizeof *farm->fields);
    add_field(farm, 0, first, 0, crs);
    if (second)
        add_field(farm, 1, second, 1000, crs);
    fw_crs_free(crs);
    farm->classes = fw_alloc(1, sizeof *farm->classes);
    farm->class_count = 1;
    farm->classes[0] = (struct fw_flock_class){.name = "ewes",
                                               .head = 80,
                                               .weight_kg = 60,
                                               .state = FW_DRY,
                                               .intake_kg_day = 2};
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = 1;
    assert_int_equal(fw_date_read("2027-05-17", &farm->start_day, &err),
                     FW_OK); /* a Monday */
    farm->back_fence = true;
    farm->longest_shape = 4;
    farm->moved = fw_fence_moved_default();
    farm->perimeter = fw_fence_perimeter_default();
    farm->rates = fw_fence_rates_default();
    farm->pace_m = 0.8;
    farm->water_moves = true;
    farm->prices =
        (struct fw_prices){-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1,
                           -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, ""};
    return farm;
}

/* A line or an area of so many points, metres from the field's low corner. */
static inline void add_feature(struct fw_farm *farm, enum fw_role role,
                               bool area, const double (*xy)[2], size_t count)
{
    const struct fw_field *shape = farm->fields[0].shape;
    double low_x = HUGE_VAL, low_y = HUGE_VAL;
    for (size_t i = 0; i < shape->vertex_count; i++) {
        low_x = fmin(low_x, shape->vertices[i].plane.x_m);
        low_y = fmin(low_y, shape->vertices[i].plane.y_m);
    }
    if (!farm->features)
        farm->features = fw_alloc(8, sizeof *farm->features);
    struct fw_farm_feature *feature = &farm->features[farm->feature_count++];
    *feature = (struct fw_farm_feature){
        .role = role,
        .kind = area ? FW_FEATURE_POLYGON : FW_FEATURE_LINE,
        .points = fw_alloc(count, sizeof *feature->points),
        .ring_start = fw_alloc(2, sizeof *feature->ring_start),
        .ring_count = 1,
        .kv = -1,
    };
    feature->ring_start[1] = count;
    for (size_t i = 0; i < count; i++)
        feature->points[i] = fw_plane_inverse(
            &shape->plane,
            (struct fw_point){low_x + xy[i][0], low_y + xy[i][1]});
    farm->mapped |= 1U << role;
}

static inline struct fw_plan *plan_of(const struct fw_farm *farm)
{
    struct fw_plan *plan = NULL;
    struct fw_error err;
    if (fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    return plan;
}

/* ---- time, read off the steps ---- */

/* The first stay there. */
static inline const struct fw_time_stay *stay_in(const struct fw_plan *plan,
                                                 size_t paddock)
{
    for (size_t i = 0; i < plan->time.stay_count; i++)
        if (plan->time.stays[i].cell == paddock)
            return &plan->time.stays[i];
    fail_msg("%s: no stay", plan->paddocks[paddock].id);
    return NULL;
}

/* Does the fence stand when that move is over? FW_NONE: before the first. */
static inline bool stands_after(const struct fw_plan *plan, size_t fence,
                                size_t move)
{
    const struct fw_time *time = &plan->time;
    bool stands = plan->fences[fence].stood;
    for (size_t m = 0; move != FW_NONE && m <= move; m++)
        for (size_t s = 0; s < time->moves[m].steps.count; s++) {
            const struct fw_step *step =
                &time->steps[time->moves[m].steps.first + s];
            for (size_t i = 0; i < step->lines.count; i++)
                if (time->items[step->lines.first + i] == fence)
                    stands = step->kind == FW_STEP_SET ||
                             (stands && step->kind != FW_STEP_TAKE_DOWN);
        }
    return stands;
}

/* The move in the course of which a fence is first set, or last taken down;
 * FW_NONE: in none. */
static inline size_t move_that(const struct fw_plan *plan,
                               enum fw_step_kind kind, size_t fence)
{
    const struct fw_time *time = &plan->time;
    size_t found = FW_NONE;
    for (size_t m = 0; m < time->move_count; m++)
        for (size_t s = 0; s < time->moves[m].steps.count; s++) {
            const struct fw_step *step =
                &time->steps[time->moves[m].steps.first + s];
            for (size_t i = 0; i < step->lines.count; i++)
                if (step->kind == kind &&
                    time->items[step->lines.first + i] == fence &&
                    (found == FW_NONE || kind == FW_STEP_TAKE_DOWN))
                    found = m;
        }
    return found;
}

/* ---- GEOS, the judge ---- */

static inline GEOSGeometry *line_of(GEOSContextHandle_t geos,
                                    const struct fw_plan_field *field,
                                    const size_t *vertices, size_t count,
                                    bool closed)
{
    GEOSCoordSequence *points =
        GEOSCoordSeq_create_r(geos, (unsigned)(count + closed), 2);
    for (size_t i = 0; i < count + closed; i++) {
        const struct fw_point p = field->vertices[vertices[i % count]].plane;
        GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, p.x_m, p.y_m);
    }
    return GEOSGeom_createLineString_r(geos, points);
}

static inline GEOSGeometry *polygon_of(GEOSContextHandle_t geos,
                                       const struct fw_plan_field *field,
                                       const struct fw_plan_rings *rings,
                                       size_t piece)
{
    const size_t first = rings->piece_ring[piece];
    const size_t count = rings->piece_ring[piece + 1] - first;
    GEOSGeometry **loops = calloc(count, sizeof *loops);
    for (size_t r = 0; r < count; r++) {
        const size_t start = rings->ring_start[first + r];
        GEOSGeometry *line =
            line_of(geos, field, rings->vertices + start,
                    rings->ring_start[first + r + 1] - start, true);
        loops[r] = GEOSGeom_createLinearRing_r(
            geos,
            GEOSCoordSeq_clone_r(geos, GEOSGeom_getCoordSeq_r(geos, line)));
        GEOSGeom_destroy_r(geos, line);
    }
    GEOSGeometry *polygon = GEOSGeom_createPolygon_r(geos, loops[0], loops + 1,
                                                     (unsigned)count - 1);
    free(loops);
    return polygon;
}

static inline double area_of(GEOSContextHandle_t geos,
                             const GEOSGeometry *geometry)
{
    double area = (double)NAN;
    GEOSArea_r(geos, geometry, &area);
    return area;
}

static inline void put_spot(const struct fw_field *shape, struct fw_spot *spot,
                            double east_m, double north_m)
{
    const double left_m = shape->vertices[shape->corners[0]].plane.x_m;
    double low_x = left_m, low_y = HUGE_VAL;
    for (size_t i = 0; i < shape->vertex_count; i++) {
        low_x = fmin(low_x, shape->vertices[i].plane.x_m);
        low_y = fmin(low_y, shape->vertices[i].plane.y_m);
    }
    *spot = (struct fw_spot){.given = true,
                             .point = {low_x + east_m, low_y + north_m}};
    spot->lonlat = fw_plane_inverse(&shape->plane, spot->point);
}

#endif
