/* Real fields, planned whole: every end of a line that is counted along the
 * boundary is counted again over the corners of the ring, and who follows the
 * words stands within a pace of it. Found through FW_TEST_DATA, skipped without
 * it. */
#include "random_farm.h"
#include "unit/scratch.h"
#include "unit/test.h"

#include "make/make.h"
#include "plan/plan.h"
#include <foldwright/told.h>

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { field_count = 100 };

struct tally {
    size_t plans, ends, sides, lines, straight, untold, on;
    double worst_paces; /* from where the words lead to the end */
};

static struct fw_point at(const struct fw_plan_field *field, size_t vertex)
{
    return field->vertices[vertex].plane;
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

static size_t end_of(const struct fw_plan_fence *fence, bool far)
{
    return fence->line[far ? fence->line_count - 1 : 0];
}

/* ---- the way that the words tell, as a line of GEOS ---- */

static GEOSGeometry *line_of(GEOSContextHandle_t geos,
                             const struct fw_plan_field *field,
                             const size_t *vertices, size_t count)
{
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, (unsigned)count, 2);
    for (size_t i = 0; i < count; i++)
        GEOSCoordSeq_setXY_r(geos, points, (unsigned)i,
                             at(field, vertices[i]).x_m,
                             at(field, vertices[i]).y_m);
    return GEOSGeom_createLineString_r(geos, points);
}

/* From a corner to the next one in the order of their numbers or against it;
 * no corner lies between. */
static GEOSGeometry *side_of(GEOSContextHandle_t geos,
                             const struct fw_plan_field *field, size_t from,
                             size_t to)
{
    const size_t all = field->rings.ring_start[1];
    const size_t *ring = field->rings.vertices;
    const bool clockwise = (from + 1) % field->corner_count == to;
    size_t *side = calloc(all + 1, sizeof *side);
    size_t count = 0, i = 0;
    assert_true(clockwise || (to + 1) % field->corner_count == from);
    while (ring[i] != field->corners[from])
        i++;
    for (;;) {
        side[count++] = ring[i];
        if (ring[i] == field->corners[to])
            break;
        for (size_t c = 0; c < field->corner_count; c++)
            assert_true(count == 1 || ring[i] != field->corners[c]);
        i = clockwise ? (i + all - 1) % all : (i + 1) % all;
    }
    GEOSGeometry *line = line_of(geos, field, side, count);
    free(side);
    return line;
}

static GEOSGeometry *way_of(GEOSContextHandle_t geos,
                            const struct fw_plan *plan,
                            const struct fw_plan_field *field,
                            const struct fw_plan_paced *end)
{
    if (end->by == FW_PACED_SIDE)
        return side_of(geos, field, end->corner, end->towards);
    const struct fw_plan_fence *host = &plan->fences[end->fence];
    size_t *line = calloc(host->line_count, sizeof *line);
    for (size_t v = 0; v < host->line_count; v++)
        line[v] = host->line[end->far_end ? host->line_count - 1 - v : v];
    GEOSGeometry *way = line_of(geos, field, line, host->line_count);
    free(line);
    return way;
}

static double along_m(GEOSContextHandle_t geos,
                      const struct fw_plan_field *field,
                      const GEOSGeometry *way, size_t vertex)
{
    GEOSGeometry *point = GEOSGeom_createPointFromXY_r(
        geos, at(field, vertex).x_m, at(field, vertex).y_m);
    double off_m = (double)NAN;
    GEOSDistance_r(geos, way, point, &off_m);
    const double m = GEOSProject_r(geos, way, point);
    GEOSGeom_destroy_r(geos, point);
    return off_m < 1e-6 ? m : -1;
}

/* ---- one end ---- */

static void follow(GEOSContextHandle_t geos, const struct fw_plan *plan,
                   size_t index, bool far, struct tally *tally)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *end = far ? &fence->b : &fence->a;
    const size_t vertex = end_of(fence, far);
    const double pace_m = plan->pace_m, walked_m = end->paces * pace_m;
    double length_m = 0;
    GEOSGeometry *way = way_of(geos, plan, field, end);
    GEOSLength_r(geos, way, &length_m);
    const double again_m = along_m(geos, field, way, vertex);
    if (again_m < 0 || fabs(again_m - walked_m) > pace_m ||
        walked_m > length_m + (end->by == FW_PACED_SIDE ? 0 : pace_m / 2))
        fail_msg("%s, %s: %d paces of %g m; %.9g m again, of %.9g m",
                 field->name, fence->id, end->paces, pace_m, again_m, length_m);
    GEOSGeometry *there = GEOSInterpolate_r(geos, way, walked_m);
    struct fw_point p = {0};
    GEOSGeomGetX_r(geos, there, &p.x_m);
    GEOSGeomGetY_r(geos, there, &p.y_m);
    const double off = apart_m(p, at(field, vertex)) / pace_m;
    if (!(off <= 1))
        fail_msg("%s, %s: the words lead %.2f paces away", field->name,
                 fence->id, off);
    tally->worst_paces = fmax(tally->worst_paces, off);
    if (end->on_from != FW_NONE) {
        const struct fw_plan_fence *last = &plan->fences[end->on_from];
        double nearest_m = HUGE_VAL;
        for (int e = 0; e < 2; e++) {
            const double m = along_m(geos, field, way, end_of(last, e != 0));
            if (m >= 0)
                nearest_m = fmin(nearest_m, fabs(m - again_m));
        }
        assert_near(nearest_m, end->on_paces * pace_m, pace_m);
        tally->on++;
    }
    GEOSGeom_destroy_r(geos, there);
    GEOSGeom_destroy_r(geos, way);
}

static void look_at_end(GEOSContextHandle_t geos, const struct fw_plan *plan,
                        size_t index, bool far, struct tally *tally)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *end = far ? &fence->b : &fence->a;
    tally->ends++;
    tally->sides += end->by == FW_PACED_SIDE;
    tally->lines += end->by == FW_PACED_LINE;
    tally->straight += end->by == FW_PACED_STRAIGHT;
    tally->untold += end->by == FW_PACED_UNTOLD;
    if (end->by == FW_PACED_SIDE || end->by == FW_PACED_LINE)
        follow(geos, plan, index, far, tally);
    if (end->by != FW_PACED_STRAIGHT)
        return;
    const struct fw_point from =
        at(field, end->fence == FW_NONE
                      ? field->corners[end->corner]
                      : end_of(&plan->fences[end->fence], end->far_end));
    const double turn = end->bearing_deg * acos(-1) / 180;
    const double walked_m = end->paces * plan->pace_m;
    const struct fw_point there = {from.x_m + walked_m * sin(turn),
                                   from.y_m + walked_m * cos(turn)};
    assert_true(apart_m(there, at(field, end_of(fence, far))) <= plan->pace_m);
}

/* ---- the plans ---- */

static struct fw_farm *read_farm(const struct scratch *scratch,
                                 const char *source)
{
    char text[8192];
    snprintf(text, sizeof text,
             "start: 2027-05-17\n"
             "flock: [{head: 50, weight: 60 kg, intake: 2 kg/day}]\n"
             "forage: {mass: 2500 kg/ha, residual: 1500 kg/ha, use: 80 %%}\n"
             "fields: {source: %s}\n",
             source);
    put_text(in_scratch(scratch, "farm.yaml"), text);
    const struct fw_farm_request request = {
        .farm_path = in_scratch(scratch, "farm.yaml"), .every_field = true};
    struct fw_farm *farm = NULL;
    struct fw_error err;
    size_t bad = 0;
    if (fw_farm_read(&request, &farm, &bad, NULL, &err))
        fail_msg("%s", err.text);
    return farm;
}

/* So many sheep a hectare: for 40, ten days or so of grass, whatever the
 * field. */
static void look_at_field(GEOSContextHandle_t geos, const struct fw_farm *farm,
                          size_t index, double head_ha, struct tally *tally)
{
    struct fw_farm one = *farm;
    struct fw_flock_class flock = farm->classes[0];
    struct fw_plan *plan = NULL;
    struct fw_error err;
    flock.head = 1 + (int)(head_ha * farm->fields[index].shape->area_m2 / 1e4);
    one.fields = &farm->fields[index];
    one.field_count = 1;
    one.classes = &flock;
    const enum fw_status status = fw_plan_make(&one, &plan, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s: %s", farm->fields[index].shape->name, err.text);
    for (size_t i = 0; plan && i < plan->fence_count; i++) {
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            continue;
        look_at_end(geos, plan, i, false, tally);
        look_at_end(geos, plan, i, true, tally);
    }
    tally->plans += plan != NULL;
    fw_plan_free(plan);
}

static void tell(const struct tally *tally)
{
    print_message("# %zu plans, %zu ends: %zu along sides, %zu along lines, "
                  "%zu straight; %zu with the last fence; the worst %.2f paces "
                  "away\n",
                  tally->plans, tally->ends, tally->sides, tally->lines,
                  tally->straight, tally->on, tally->worst_paces);
}

static void so_it_is_on_fields_of_our_own(void **state)
{
    struct tally tally = {0};
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t m = 0; m < invented_map_count; m++) {
        char source[4096];
        snprintf(source, sizeof source, "\"%s/%s\"", getenv("FW_INVENTED"),
                 invented_maps[m]);
        struct fw_farm *farm = read_farm(*state, source);
        assert_true(farm->field_count >= least_invented);
        for (size_t i = 0; i < farm->field_count; i++)
            for (double head_ha = 20; head_ha < 100; head_ha *= 2)
                look_at_field(geos, farm, i, head_ha, &tally);
        fw_farm_free(farm);
    }
    tell(&tally);
    assert_true(tally.plans > 120 && tally.sides > 500 && tally.lines > 50);
    assert_int_equal(tally.untold, 0);
    GEOS_finish_r(geos);
}

static void who_follows_the_words_stands_at_the_end(void **state)
{
    const char *data = getenv("FW_TEST_DATA");
    char source[4096];
    struct tally tally = {0};
    GEOSContextHandle_t geos = GEOS_init_r();
    snprintf(source, sizeof source,
             "\"%s/osm/north-bayreuth.gpkg\", layer: land", data);
    struct fw_farm *farm = read_farm(*state, source);
    for (size_t i = 0; i < field_count && i < farm->field_count; i++)
        look_at_field(geos, farm, i * farm->field_count / field_count, 40,
                      &tally);
    tell(&tally);
    assert_true(tally.plans > 9 * field_count / 10);
    assert_true(tally.sides > 500);
    assert_true(tally.lines > 100);
    assert_int_equal(tally.untold, 0);
    fw_farm_free(farm);
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(so_it_is_on_fields_of_our_own),
        scratch_data_test(who_follows_the_words_stands_at_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
