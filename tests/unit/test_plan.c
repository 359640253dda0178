/* Whole plans from farms made by hand. Areas and enclosure are judged by GEOS,
 * which the planner does not use. */
#include "test.h"

#include <foldwright/plan.h>

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

static void add_field(struct fw_farm *farm, size_t index,
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
    field->crs = fw_strdup(crs_text);
    field->source = fw_strdup("outline");
    field->sides = fw_alloc(field->shape->corner_count, sizeof *field->sides);
    field->sward = (struct fw_sward){
        .mass_kg_ha = 2500, .residual_kg_ha = 1500, .use = 0.8, .legume = -1};
}

static struct fw_farm *farm_of(const struct outline *first,
                               const struct outline *second)
{
    struct fw_error err;
    struct fw_crs *crs;
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    struct fw_farm *farm = fw_alloc(1, sizeof *farm);
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
    farm->moved = fw_fence_moved_default();
    farm->perimeter = fw_fence_perimeter_default();
    farm->rates = fw_fence_rates_default();
    farm->pace_m = 0.8;
    farm->water_moves = true;
    farm->prices =
        (struct fw_prices){-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, ""};
    return farm;
}

static struct fw_plan *plan_of(const struct fw_farm *farm)
{
    struct fw_plan *plan = NULL;
    struct fw_error err;
    if (fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    return plan;
}

/* ---- GEOS, the judge ---- */

static GEOSGeometry *line_of(GEOSContextHandle_t geos,
                             const struct fw_plan_field *field,
                             const size_t *vertices, size_t count, bool closed)
{
    GEOSCoordSequence *points =
        GEOSCoordSeq_create_r(geos, (unsigned)(count + closed), 2);
    for (size_t i = 0; i < count + closed; i++) {
        const struct fw_point p = field->vertices[vertices[i % count]].plane;
        GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, p.x_m, p.y_m);
    }
    return GEOSGeom_createLineString_r(geos, points);
}

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos,
                                const struct fw_plan_field *field,
                                const struct fw_plan_rings *rings, size_t piece)
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

static double area_of(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    double area = (double)(double)NAN;
    GEOSArea_r(geos, geometry, &area);
    return area;
}

/* The area that a sheep at `inside` can walk, with these cuts standing. Cuts
 * that are open stand nowhere. */
static double open_ground_m2(GEOSContextHandle_t geos,
                             const struct fw_plan *plan, size_t index,
                             const bool *standing, const GEOSGeometry *inside)
{
    const struct fw_plan_field *field = &plan->fields[index];
    GEOSGeometry *lines[4096];
    unsigned n = 0;
    for (size_t r = 0; r < field->rings.ring_count; r++)
        lines[n++] = line_of(
            geos, field, field->rings.vertices + field->rings.ring_start[r],
            field->rings.ring_start[r + 1] - field->rings.ring_start[r], true);
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role == FW_FENCE_MOVED && standing[fence->cut])
            lines[n++] =
                line_of(geos, field, fence->line, fence->line_count, false);
    }
    GEOSGeometry *all =
        GEOSGeom_createCollection_r(geos, GEOS_MULTILINESTRING, lines, n);
    GEOSGeometry *noded = GEOSUnaryUnion_r(geos, all);
    const GEOSGeometry *const parts[] = {noded};
    GEOSGeometry *faces = GEOSPolygonize_r(geos, parts, 1);
    double found = (double)(double)NAN;
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces); i++) {
        const GEOSGeometry *face = GEOSGetGeometryN_r(geos, faces, i);
        if (GEOSContains_r(geos, face, inside) == 1)
            found = area_of(geos, face);
    }
    GEOSGeom_destroy_r(geos, faces);
    GEOSGeom_destroy_r(geos, noded);
    GEOSGeom_destroy_r(geos, all);
    return found;
}

static GEOSGeometry *point_in(GEOSContextHandle_t geos,
                              const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    GEOSGeometry *polygon =
        polygon_of(geos, &plan->fields[of->field], &of->rings, 0);
    GEOSGeometry *point = GEOSPointOnSurface_r(geos, polygon);
    GEOSGeom_destroy_r(geos, polygon);
    return point;
}

/* What stands when a move begins, from the moves before it. */
static void stood_before(const struct fw_plan *plan, size_t move,
                         bool *standing)
{
    for (size_t before = 0; before < move; before++) {
        struct fw_step steps[FW_MOST_STEPS];
        const size_t n = fw_plan_steps(plan, before, steps);
        for (size_t s = 0; s < n; s++) {
            if (steps[s].field != plan->moves[move].field)
                continue;
            if (steps[s].kind == FW_STEP_SET)
                standing[steps[s].cut] = true;
            if (steps[s].kind == FW_STEP_TAKE_DOWN ||
                steps[s].kind == FW_STEP_CLEAR)
                standing[steps[s].cut] = false;
        }
    }
}

/* Walk through every step of every move with a set of standing fences, and ask
 * GEOS what ground the flock has: today's paddock, with the next while the
 * opening is open, with what was grazed where no back fence stands; never
 * ground that waits. */
static void assert_enclosed(const struct fw_plan *plan)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t m = 0; m < plan->move_count; m++) {
        const struct fw_plan_move *move = &plan->moves[m];
        const struct fw_plan_field *field = &plan->fields[move->field];
        const size_t k = move->to - field->first_paddock;
        bool standing[1024] = {false};
        stood_before(plan, m, standing);
        struct fw_step steps[FW_MOST_STEPS];
        const size_t n = fw_plan_steps(plan, m, steps);
        bool hot = move->next == FW_NONE, in = k > 0, opened = false;
        GEOSGeometry *from = k > 0 ? point_in(geos, plan, move->to - 1) : NULL;
        GEOSGeometry *to = point_in(geos, plan, move->to);
        for (size_t s = 0; s < n; s++) {
            switch (steps[s].kind) {
            case FW_STEP_SET:
                assert_false(standing[steps[s].cut]);
                standing[steps[s].cut] = true;
                break;
            case FW_STEP_HOOK:
                hot = true;
                break;
            case FW_STEP_OPEN:
                assert_true(hot); /* next is hot before front is touched */
                opened = true;
                if (steps[s].cut != FW_NONE)
                    standing[steps[s].cut] = false;
                break;
            case FW_STEP_COUNT:
                assert_true(opened);
                in = true;
                break;
            case FW_STEP_CLOSE:
                opened = false;
                if (steps[s].cut != FW_NONE)
                    standing[steps[s].cut] = true;
                break;
            case FW_STEP_TAKE_DOWN:
            case FW_STEP_CLEAR:
                opened = false;
                if (steps[s].field == move->field)
                    standing[steps[s].cut] = false;
                break;
            case FW_STEP_READ:
            case FW_STEP_CARRY:
                break;
            }
            if (!in)
                continue;
            bool through = false;
            for (size_t t = 0; t <= s; t++)
                through |= steps[t].kind == FW_STEP_COUNT;
            const double ground_m2 = open_ground_m2(
                geos, plan, move->field, standing, through ? to : from);
            /* The least they may have, and the most. */
            double least =
                plan->paddocks[through ? move->to : move->to - 1].plane_m2;
            double most =
                through || opened ? plan->paddocks[move->to].plane_m2 : 0;
            for (size_t g = 0; g < k; g++)
                if (!plan->back_fence || g == k - 1)
                    most += plan->paddocks[field->first_paddock + g].plane_m2;
            if (!(ground_m2 > least - 1e-4 && ground_m2 < most + 1e-4))
                fail_msg("move %zu step %zu: %.3f m2 open; expected %.3f to "
                         "%.3f",
                         m, s, ground_m2, least, most);
        }
        /* When the work is done the flock has its paddock and, with a back
         * fence, nothing else. */
        const double left_m2 =
            open_ground_m2(geos, plan, move->field, standing, to);
        if (plan->back_fence)
            assert_near(left_m2, plan->paddocks[move->to].plane_m2, 1e-4);
        GEOSGeom_destroy_r(geos, to);
        if (from)
            GEOSGeom_destroy_r(geos, from);
    }
    GEOS_finish_r(geos);
}

/* ---- tests ---- */

static void full_paddocks_hold_their_target(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 4; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        struct fw_plan *plan = plan_of(farm);
        double sum = 0;
        for (size_t i = 0; i < plan->paddock_count; i++) {
            const struct fw_plan_paddock *paddock = &plan->paddocks[i];
            sum += paddock->plane_m2;
            if (i + 1 < plan->paddock_count)
                assert_relative(paddock->usable_kg, paddock->demand_kg, 1e-9);
            assert_int_equal(paddock->pieces, 1);
        }
        assert_relative(sum, plan->fields[0].plane_m2, 1e-12);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* 80 head x 2 kg = 160 kg a day; (2500 - 1500) x 0.8 = 800 kg/ha: 0.2 ha a day,
 * 6 ha: 30 paddocks, 29 cuts. The strips run the short way: 200 m each. */
static void rectangle_is_cut_into_thirty_strips(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->paddock_count, 30);
    assert_near(plan->flock.demand_kg_day, 160, 1e-9);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED)
            assert_near(plan->fences[i].length_m, 200, 0.001);
    assert_near(plan->totals.fence_m, 29 * 200, 0.01);
    assert_true(plan->totals.fence_m >= plan->totals.fence_bound_m);
    /* 3 lines at once, 2 strands, 4 % or so of slack. */
    assert_near(plan->totals.kit.wire_m, 3 * 200 * 2 * (1 + plan->moved.slack),
                0.1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void flock_is_enclosed_at_every_step(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 4; o++)
        for (int back = 0; back < 2; back++) {
            struct fw_farm *farm = farm_of(outlines[o], outlines[(o + 1) % 4]);
            farm->back_fence = back;
            struct fw_plan *plan = plan_of(farm);
            assert_enclosed(plan);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
}

/* The fences' own dates tell the same story as the steps. */
static void fences_stand_from_up_to_down(void **state)
{
    (void)state;
    for (int back = 0; back < 2; back++) {
        struct fw_farm *farm = farm_of(&leaning, NULL);
        farm->back_fence = back;
        struct fw_plan *plan = plan_of(farm);
        int up[1024] = {0}, down[1024] = {0};
        for (size_t m = 0; m < plan->move_count; m++) {
            struct fw_step steps[FW_MOST_STEPS];
            const size_t n = fw_plan_steps(plan, m, steps);
            for (size_t s = 0; s < n; s++) {
                if (steps[s].kind == FW_STEP_SET)
                    up[steps[s].cut] = plan->moves[m].day;
                if (steps[s].kind == FW_STEP_TAKE_DOWN)
                    down[steps[s].cut] = plan->moves[m].day;
            }
        }
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            if (fence->role != FW_FENCE_MOVED)
                continue;
            assert_int_equal(fence->up, up[fence->cut]);
            assert_int_equal(fence->down, down[fence->cut] ? down[fence->cut]
                                                           : plan->end_day);
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void neighbours_share_their_corners(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&pond, NULL);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        for (size_t end = 0; end < 2; end++) {
            int paddocks = 0, rings = 0;
            for (size_t p = fence->cut; p < fence->cut + 2; p++) {
                const struct fw_plan_rings *of = &plan->paddocks[p].rings;
                for (size_t v = 0; v < of->ring_start[of->ring_count]; v++)
                    paddocks += of->vertices[v] == fence->line[end];
            }
            for (size_t v = 0;
                 v < field->rings.ring_start[field->rings.ring_count]; v++)
                rings += field->rings.vertices[v] == fence->line[end];
            assert_int_equal(paddocks, 2);
            assert_int_equal(rings, 1);
        }
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void input_vertices_come_back_bit_identical(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&pond, NULL);
    struct fw_plan *plan = plan_of(farm);
    size_t found = 0;
    for (size_t i = 0; i < pond.count; i++) {
        const double x = pond.xy[i][0], y = pond.xy[i][1];
        for (size_t v = 0; v < plan->fields[0].vertex_count; v++) {
            const struct fw_vertex *vertex = &plan->fields[0].vertices[v];
            found += vertex->kind == FW_VERTEX_INPUT &&
                     memcmp(&vertex->file.x, &x, sizeof x) == 0 &&
                     memcmp(&vertex->file.y, &y, sizeof y) == 0;
        }
    }
    assert_int_equal(found, pond.count);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Saturday's stay runs over Sunday, and its paddock is twice as large. */
static void weekend_paddock_holds_two_days(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->stay.days[5] = 2;
    farm->stay.days[6] = 0;
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i + 1 < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        const bool saturday = fw_date_weekday(paddock->enter) == 5;
        assert_true(fw_date_weekday(paddock->enter) != 6);
        assert_int_equal(paddock->leave - paddock->enter, saturday ? 2 : 1);
        assert_near(paddock->plane_m2, saturday ? 4000 : 2000, 1e-5);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Along the long side of the rectangle each strip is 10 m on. */
static void paces_run_on_from_a_fixed_corner(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    int seen = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const double wanted_m = 10 * (double)(fence->cut + 1);
        assert_true(fence->a.known && fence->b.known);
        assert_near(fence->a.along_m, wanted_m, 0.01);
        assert_near(fence->b.along_m, wanted_m, 0.01);
        assert_int_equal(fence->a.paces, (int)lround(fence->a.along_m / 0.8));
        assert_true(fence->a.clockwise != fence->b.clockwise);
        assert_true(fence->a.corner != fence->b.corner);
        seen++;
    }
    assert_int_equal(seen, 29);
    /* 200 m x 0.8 m x 0.08 kg/m2 = 12.8 kg of 160 kg. */
    assert_near(plan->moves[3].pace_share, 0.08, 1e-4);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void even_paddocks_are_all_alike(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    farm->last = FW_LAST_EVEN;
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 1; i < plan->paddock_count; i++)
        assert_relative(plan->paddocks[i].plane_m2, plan->paddocks[0].plane_m2,
                        1e-9);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void what_is_not_told_is_asked(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->untold.count, 4); /* holds, hot, trained, road */
    fw_plan_free(plan);
    for (size_t i = 0; i < farm->fields[0].shape->corner_count; i++)
        farm->fields[0].sides[i] =
            (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    farm->classes[0].trained = FW_YES;
    plan = plan_of(farm);
    assert_int_equal(plan->untold.count, 1); /* the road */
    fw_plan_free(plan);
    farm->fields[0].sides[2].holds = FW_HOLDS_NOTHING;
    plan = plan_of(farm);
    bool danger = false;
    for (size_t i = 0; i < plan->notes.count; i++)
        danger |= plan->notes.items[i].level == FW_LEVEL_DANGER;
    assert_true(danger);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void too_little_grass_makes_no_plan(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].head = 8000;
    struct fw_plan *plan = NULL;
    struct fw_error err;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    assert_null(plan);
    assert_non_null(strstr(err.text, "First"));
    farm->classes[0].head = 80;
    farm->fields[0].sward.residual_kg_ha = 2500;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    fw_farm_free(farm);
}

static void move_is_found_by_its_day(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    struct fw_error err;
    size_t move;
    assert_int_equal(fw_plan_find_move(plan, plan->start_day + 4, &move, &err),
                     FW_OK);
    assert_int_equal(move, 4);
    assert_int_equal(
        fw_plan_find_move(plan, plan->start_day + 400, &move, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "2027-06-15")); /* the last one */
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Each trough lies in its paddock, and the walk is right by brute force. */
static void troughs_lie_in_their_paddocks(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    struct fw_plan *plan = plan_of(farm);
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        GEOSGeometry *polygon =
            polygon_of(geos, &plan->fields[0], &paddock->rings, 0);
        const struct fw_point at = plan->waters[paddock->water].place.plane;
        GEOSGeometry *point =
            GEOSGeom_createPointFromXY_r(geos, at.x_m, at.y_m);
        assert_int_equal(GEOSContains_r(geos, polygon, point), 1);
        double farthest;
        assert_int_equal(
            GEOSHausdorffDistance_r(geos, polygon, point, &farthest), 1);
        assert_true(paddock->walk_known);
        assert_near(paddock->walk_max_m, farthest, 1e-6);
        assert_true(paddock->walk_mean_m < farthest);
        GEOSGeom_destroy_r(geos, point);
        GEOSGeom_destroy_r(geos, polygon);
    }
    GEOS_finish_r(geos);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(full_paddocks_hold_their_target),
        cmocka_unit_test(rectangle_is_cut_into_thirty_strips),
        cmocka_unit_test(flock_is_enclosed_at_every_step),
        cmocka_unit_test(fences_stand_from_up_to_down),
        cmocka_unit_test(neighbours_share_their_corners),
        cmocka_unit_test(input_vertices_come_back_bit_identical),
        cmocka_unit_test(weekend_paddock_holds_two_days),
        cmocka_unit_test(paces_run_on_from_a_fixed_corner),
        cmocka_unit_test(even_paddocks_are_all_alike),
        cmocka_unit_test(what_is_not_told_is_asked),
        cmocka_unit_test(too_little_grass_makes_no_plan),
        cmocka_unit_test(move_is_found_by_its_day),
        cmocka_unit_test(troughs_lie_in_their_paddocks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
