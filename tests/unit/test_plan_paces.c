/* How the ends of lines are found at the field: each is walked to again, as the
 * words say, over the vertices alone. */
#include "plan_help.h"

#include "base/text.h"
#include "make/parts.h"
#include "report/report.h"

/* ---- walking ---- */

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

/* So far along the vertices from the first; beyond the last stays there. */
static struct fw_point walk(const struct fw_plan_field *field,
                            const size_t *vertices, size_t count, double m)
{
    for (size_t i = 0; i + 1 < count; i++) {
        const struct fw_point a = at(field, vertices[i]);
        const struct fw_point b = at(field, vertices[i + 1]);
        const double piece_m = apart_m(a, b);
        if (m < piece_m)
            return (struct fw_point){a.x_m + (b.x_m - a.x_m) * m / piece_m,
                                     a.y_m + (b.y_m - a.y_m) * m / piece_m};
        m -= piece_m;
    }
    return at(field, vertices[count - 1]);
}

/* The side between two corners that follow each other, from the first one
 * named. Free it. */
static size_t *side_of(const struct fw_plan_field *field, size_t from,
                       size_t to, size_t *count, double *length_m)
{
    const size_t all = field->rings.ring_start[1];
    const size_t *ring = field->rings.vertices;
    size_t *side = calloc(all + 1, sizeof *side);
    const bool clockwise = (from + 1) % field->corner_count == to;
    assert_true(clockwise || (to + 1) % field->corner_count == from);
    size_t i = 0;
    while (ring[i] != field->corners[from])
        i++;
    *count = 0;
    *length_m = 0;
    do {
        if (*count)
            *length_m +=
                apart_m(at(field, side[*count - 1]), at(field, ring[i]));
        side[(*count)++] = ring[i];
        i = clockwise ? (i + all - 1) % all : (i + 1) % all;
    } while (side[*count - 1] != field->corners[to]);
    return side;
}

static size_t seen[4]; /* of each enum fw_paced */

/* Following the words leads to within a pace of the end. */
static void look_at_end(const struct fw_plan *plan, size_t index, bool far)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_plan_paced *end = far ? &fence->b : &fence->a;
    const struct fw_point wanted = at(field, end_of(fence, far));
    const double walked_m = end->paces * plan->pace_m;
    struct fw_point there = {HUGE_VAL, HUGE_VAL};
    assert_near(walked_m, end->along_m, plan->pace_m);
    if (end->by == FW_PACED_SIDE) {
        size_t count;
        double length_m;
        size_t *side =
            side_of(field, end->corner, end->towards, &count, &length_m);
        assert_true(walked_m <= length_m);
        assert_true(fw_plan_corner_number(field, end->corner) > 0);
        there = walk(field, side, count, walked_m);
        if (fw_plan_corner_number(field, end->towards))
            assert_true(end->along_m <= length_m / 2 + 1e-6);
        free(side);
    } else if (end->by == FW_PACED_LINE) {
        const struct fw_plan_fence *host = &plan->fences[end->fence];
        size_t *line = calloc(host->line_count, sizeof *line);
        assert_true(end->fence != index);
        for (size_t v = 0; v < host->line_count; v++)
            line[v] = host->line[end->far_end ? host->line_count - 1 - v : v];
        there = walk(field, line, host->line_count, walked_m);
        free(line);
    } else if (end->by == FW_PACED_STRAIGHT) {
        const size_t from =
            end->fence == FW_NONE
                ? field->corners[end->corner]
                : end_of(&plan->fences[end->fence], end->far_end);
        const double turn = end->bearing_deg * acos(-1) / 180;
        there = at(field, from);
        /* A corner has no other end. */
        assert_false(end->fence == FW_NONE && end->far_end);
        assert_near(apart_m(there, wanted), end->along_m, 1e-9);
        assert_true(end->bearing_deg >= 0 && end->bearing_deg <= 360);
        there.x_m += walked_m * sin(turn);
        there.y_m += walked_m * cos(turn);
    }
    assert_near(apart_m(there, wanted), 0, plan->pace_m);
    seen[end->by]++;
}

static void look_at_plan(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->fence_count; i++) {
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            continue;
        look_at_end(plan, i, false);
        look_at_end(plan, i, true);
    }
}

/* ---- strips ---- */

static const struct outline long_field = {
    4, {{0, 0}, {400, 0}, {400, 100}, {0, 100}}, 0};

static struct fw_farm *strips_across(const struct outline *outline)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* fences run north and south */
    return farm;
}

/* 0.2 ha a day: 20 m each. The nearest corner lies 200 m away at most. */
static void an_end_is_counted_from_the_nearest_corner(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_across(&long_field);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    size_t moved = 0;
    look_at_plan(plan);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const double on_m = 20 * (double)(fence->from + 1);
        if (fence->role != FW_FENCE_MOVED)
            continue;
        moved++;
        for (int e = 0; e < 2; e++) {
            const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
            const struct fw_point p = at(field, end_of(fence, e != 0));
            double nearest_m = HUGE_VAL;
            for (size_t c = 0; c < field->corner_count; c++)
                nearest_m =
                    fmin(nearest_m, apart_m(p, at(field, field->corners[c])));
            assert_int_equal(end->by, FW_PACED_SIDE);
            assert_near(end->along_m, nearest_m, 1e-6);
            assert_near(end->along_m, fmin(on_m, 400 - on_m), 0.01);
            assert_int_equal(end->paces,
                             (int)lround(fmin(on_m, 400 - on_m) / 0.8));
            assert_int_equal(end->fence, FW_NONE);
        }
    }
    assert_int_equal(moved, 19);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void an_end_is_counted_on_from_the_last_fence(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_across(&long_field);
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED || fence->from == 18)
            continue; /* as far from the last corner as from the last fence */
        for (int e = 0; e < 2; e++) {
            const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
            if (fence->from == 0) {
                assert_int_equal(end->on_from, FW_NONE);
                assert_int_equal(end->on_paces, -1);
                continue;
            }
            assert_int_equal(end->on_paces, 25);
            assert_int_equal(plan->fences[end->on_from].to, fence->from);
        }
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Stays of one day, and of two on Tuesdays: what comes next may be nearer than
 * what was grazed last, and does not stand yet. */
static void nobody_counts_on_from_what_is_set_later(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_across(&long_field);
    farm->stay.days[1] = 2;
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    size_t nearer = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        for (int e = 0; e < 2; e++) {
            const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
            const struct fw_point p = at(field, end_of(fence, e != 0));
            double last_m = HUGE_VAL, next_m = HUGE_VAL;
            for (size_t k = 0; k < plan->fence_count; k++) {
                const struct fw_plan_fence *other = &plan->fences[k];
                if (other->role != FW_FENCE_MOVED || k == i)
                    continue;
                const double m =
                    fmin(apart_m(p, at(field, end_of(other, false))),
                         apart_m(p, at(field, end_of(other, true))));
                if (other->from < fence->from)
                    last_m = fmin(last_m, m);
                else
                    next_m = fmin(next_m, m);
            }
            /* The last fence where it is nearer than the corner. */
            const bool on = last_m < end->along_m - 1e-6;
            if (fabs(last_m - end->along_m) < 0.1)
                continue;
            assert_int_equal(end->on_from != FW_NONE, on);
            if (on) {
                assert_int_equal(plan->fences[end->on_from].to, fence->from);
                assert_int_equal(end->on_paces, (int)lround(last_m / 0.8));
            }
            nearer += next_m < fmin(last_m, end->along_m) - 1;
        }
    }
    assert_true(nearer > 3);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* West of the southern corner lie 2.2 ha: the eleventh fence ends there. */
static void an_end_on_a_corner_is_at_the_corner(void **state)
{
    (void)state;
    static const struct outline house = {
        5, {{0, 0}, {100, -40}, {300, 0}, {300, 200}, {0, 200}}, 0};
    struct fw_farm *farm = strips_across(&house);
    struct fw_plan *plan = plan_of(farm);
    size_t found = 0;
    look_at_plan(plan);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role != FW_FENCE_MOVED || fence->from != 10)
            continue;
        const struct fw_plan_paced *end =
            fence->a.along_m < fence->b.along_m ? &fence->a : &fence->b;
        struct fw_text line = {0};
        fw_report_say_end(&line, plan, &plan->fields[0], "A:", end);
        assert_int_equal(end->paces, 0);
        assert_int_equal(strncmp(line.bytes, "A: at corner ", 13), 0);
        assert_int_equal(end->on_from, FW_NONE);
        fw_text_release(&line);
        found++;
    }
    assert_true(found > 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A fence from corner to corner of 100 m by 50 m. A pace on along both sides
 * adds 0.8 m by half of 100 + 50 m, of 0.08 kg on each of 160 kg. Whichever
 * corner is the outline's first. */
static void a_pace_from_a_corner_goes_on_along_the_side(void **state)
{
    (void)state;
    struct fw_vertex vertices[4] = {{.plane = {0, 0}},
                                    {.plane = {100, 0}},
                                    {.plane = {100, 50}},
                                    {.plane = {0, 50}}};
    size_t ring[4], ring_start[] = {0, 4}, line[] = {0, 2};
    size_t behind[] = {0, 1, 2}, behind_start[] = {0, 3};
    for (size_t first = 0; first < 4; first++) {
        for (size_t i = 0; i < 4; i++)
            ring[i] = (first + i) % 4;
        struct fw_plan_fence fence = {.role = FW_FENCE_MOVED,
                                      .line = line,
                                      .line_count = 2,
                                      .length_m = hypot(100, 50)};
        struct fw_plan_paddock paddock = {
            .rings = {behind, behind_start, 1, NULL, 0},
            .plane_m2 = 2500,
            .usable_kg = 200};
        struct fw_plan_field field = {.vertices = vertices,
                                      .vertex_count = 4,
                                      .rings = {ring, ring_start, 1, NULL, 0},
                                      .fence_count = 1};
        struct fw_plan plan = {.fields = &field,
                               .paddocks = &paddock,
                               .fences = &fence,
                               .pace_m = 0.8,
                               .flock = {.demand_kg_day = 160}};
        fw_plan__pace_shares(&plan, 0);
        assert_near(fence.pace_share, 0.8 * 75 * 0.08 / 160, 1e-12);
    }
}

/* ---- ponds ---- */

/* Over the field's ground, from a fence that stands or from a corner. */
static void an_end_at_a_pond_has_a_distance_and_a_bearing(void **state)
{
    (void)state;
    static const struct outline with_lake = {8,
                                             {{0, 0},
                                              {400, 0},
                                              {400, 100},
                                              {0, 100},
                                              {110, 40},
                                              {110, 60},
                                              {130, 60},
                                              {130, 40}},
                                             4};
    struct fw_farm *farm = strips_across(&with_lake);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *ground = polygon_of(geos, field, &field->rings, 0);
    seen[FW_PACED_STRAIGHT] = seen[FW_PACED_UNTOLD] = 0;
    look_at_plan(plan);
    for (size_t i = 0; i < plan->fence_count; i++)
        for (int e = 0; e < 2; e++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
            if (end->by != FW_PACED_STRAIGHT)
                continue;
            if (end->fence != FW_NONE)
                assert_true(end->fence < i);
            const size_t way[] = {
                end->fence == FW_NONE
                    ? field->corners[end->corner]
                    : end_of(&plan->fences[end->fence], end->far_end),
                end_of(fence, e != 0)};
            GEOSGeometry *line = line_of(geos, field, way, 2, false);
            GEOSGeometry *off = GEOSDifference_r(geos, line, ground);
            double off_m = (double)NAN;
            GEOSLength_r(geos, off, &off_m);
            assert_near(off_m, 0, 1e-6);
            GEOSGeom_destroy_r(geos, off);
            GEOSGeom_destroy_r(geos, line);
        }
    assert_true(seen[FW_PACED_STRAIGHT] > 0);
    assert_int_equal(seen[FW_PACED_UNTOLD], 0);
    GEOSGeom_destroy_r(geos, ground);
    GEOS_finish_r(geos);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The boundary comes up to a pond: the corner there is nearer to the fences
 * that end on it than what was set before, and has no other end. */
static void an_end_at_a_pond_may_be_found_from_a_corner(void **state)
{
    (void)state;
    for (int mirrored = 0; mirrored < 2; mirrored++) {
        struct outline spiked = {11,
                                 {{0, 0},
                                  {100, 0},
                                  {120, 30},
                                  {140, 0},
                                  {400, 0},
                                  {400, 100},
                                  {0, 100},
                                  {108, 40},
                                  {108, 60},
                                  {140, 60},
                                  {140, 40}},
                                 4};
        for (size_t i = 0; mirrored && i < spiked.count; i++)
            spiked.xy[i][1] = 100 - spiked.xy[i][1];
        struct fw_farm *farm = strips_across(&spiked);
        struct fw_plan *plan = plan_of(farm);
        size_t from_corner = 0;
        look_at_plan(plan);
        for (size_t i = 0; i < plan->fence_count; i++)
            for (int e = 0; e < 2; e++) {
                const struct fw_plan_fence *fence = &plan->fences[i];
                const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
                from_corner +=
                    end->by == FW_PACED_STRAIGHT && end->fence == FW_NONE;
            }
        assert_true(from_corner > 0);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* ---- block lines ---- */

static void stand(struct fw_farm *farm, struct fw_spot *spot, size_t at_corner)
{
    const struct fw_field *shape = farm->fields[0].shape;
    spot->given = true;
    spot->point = shape->vertices[shape->corners[at_corner]].plane;
}

/* From that end of the block line that is nearer to the gate, or to where the
 * vehicle stands; and the line is there before the fence is. */
static void an_end_on_a_block_line_is_counted_from_the_nearer_end(void **state)
{
    (void)state;
    size_t far_ends = 0, on = 0;
    for (size_t ways = 0; ways < 8; ways++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->layout = fw_strdup("blocks");
        stand(farm, &farm->fields[0].gate, ways % 4);
        if (ways >= 4)
            stand(farm, &farm->fields[0].park, (ways + 2) % 4);
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_field *field = &plan->fields[0];
        const struct fw_point start =
            ways >= 4 ? field->park.plane : field->gate.plane;
        seen[FW_PACED_LINE] = 0;
        look_at_plan(plan);
        for (size_t i = 0; i < plan->fence_count; i++)
            for (int e = 0; e < 2; e++) {
                const struct fw_plan_fence *fence = &plan->fences[i];
                const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
                if (end->by != FW_PACED_LINE)
                    continue;
                const struct fw_plan_fence *host = &plan->fences[end->fence];
                const struct fw_point near =
                    at(field, end_of(host, end->far_end));
                const struct fw_point other =
                    at(field, end_of(host, !end->far_end));
                assert_true(apart_m(near, start) <= apart_m(other, start));
                assert_int_equal(host->role, FW_FENCE_STANDING);
                assert_true(end->fence < i);
                far_ends += end->far_end;
                if (end->on_from == FW_NONE)
                    continue;
                assert_true(end->on_from < i);
                assert_int_equal(plan->fences[end->on_from].to, fence->from);
                on++;
            }
        assert_true(seen[FW_PACED_LINE] > 10);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(far_ends > 0);
    assert_true(on > 20);
}

/* Both fields with each pattern, with and without back fences. */
static void every_end_is_found_whatever_the_layout(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "lane",
                                          "turning"};
    size_t made = 0;
    memset(seen, 0, sizeof seen);
    for (unsigned ways = 0; ways < 32; ways++) {
        struct fw_farm *farm = farm_of(ways & 1 ? &leaning : &rectangle,
                                       ways & 1 ? &pond : &corner);
        farm->back_fence = ways & 2;
        farm->work_order = ways & 4 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->layout = fw_strdup(layouts[ways / 8]);
        struct fw_plan *plan = NULL;
        struct fw_error err;
        const enum fw_status status = fw_plan_make(farm, &plan, &err);
        if (status && status != FW_EPLAN)
            fail_msg("%s", err.text);
        if (plan) {
            look_at_plan(plan);
            made++;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(made > 16);
    assert_int_equal(seen[FW_PACED_UNTOLD], 0);
    for (int by = FW_PACED_SIDE; by <= FW_PACED_STRAIGHT; by++)
        assert_true(seen[by] > 0);
}

/* ---- words ---- */

static void says(const struct fw_plan *plan, const struct fw_plan_paced *end,
                 const char *wanted)
{
    struct fw_text line = {0};
    fw_report_say_end(&line, plan, &plan->fields[0], "B:", end);
    assert_string_equal(line.bytes, wanted);
    fw_text_release(&line);
}

static void the_words_say_where_to_walk(void **state)
{
    (void)state;
    const size_t none = FW_NONE;
    size_t numbers[] = {1, 2, 3, 0}, sides[] = {1, 2, 3, 0};
    struct fw_plan_field field = {.corner_count = 4,
                                  .corner_numbers = numbers,
                                  .side_numbers = sides,
                                  .corner_number_count = 4,
                                  .side_number_count = 4};
    struct fw_plan_fence fences[] = {
        {.id = "A-line-1",
         .a = {FW_PACED_SIDE, 1, 2, none, false, 9, 11, -1, none, -1},
         .b = {FW_PACED_SIDE, 2, 1, none, false, 0, 0, -1, none, -1}},
        {.id = "A03-04",
         .a = {FW_PACED_LINE, none, none, 0, false, 8, 10, -1, none, -1}},
    };
    const struct fw_plan plan = {.fields = &field, .fences = fences};
    const struct {
        struct fw_plan_paced end;
        const char *words;
    } rows[] = {
        {{FW_PACED_SIDE, 2, 1, none, false, 33, 41, -1, none, -1},
         "B: 41 paces from corner 3 towards corner 2"},
        {{FW_PACED_SIDE, 2, 1, none, false, 33, 41, -1, 1, 31},
         "B: 41 paces from corner 3 towards corner 2, 31 paces on from "
         "A03-04"},
        {{FW_PACED_SIDE, 2, 3, none, false, 1, 1, -1, 1, 0},
         "B: 1 pace from corner 3 along side 3, where A03-04 ends"},
        {{FW_PACED_SIDE, 2, 1, none, false, 0.3, 0, -1, none, -1},
         "B: at corner 3"},
        {{FW_PACED_LINE, none, none, 0, false, 9.6, 12, -1, 1, 1},
         "B: 12 paces along A-line-1 from its end on side 2 (A), 1 pace on "
         "from A03-04"},
        {{FW_PACED_LINE, none, none, 0, true, 9.6, 12, -1, none, -1},
         "B: 12 paces along A-line-1 from its end at corner 3 (B)"},
        {{FW_PACED_LINE, none, none, 1, false, 9.6, 12, -1, none, -1},
         "B: 12 paces along A03-04 from its end on A-line-1 (A)"},
        {{FW_PACED_LINE, none, none, 1, true, 0, 0, -1, none, -1},
         "B: at the end of A03-04 B"},
        {{FW_PACED_STRAIGHT, none, none, 1, false, 30.4, 38, 214, none, -1},
         "B: 38 paces from end A of A03-04, bearing 214 (south-west)"},
        {{FW_PACED_STRAIGHT, 0, none, none, false, 30.4, 38, 90, none, -1},
         "B: 38 paces from corner 1, bearing 90 (east)"},
        {{FW_PACED_UNTOLD, none, none, none, false, 0, 0, -1, none, -1},
         "B: see fence.gpx"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        says(&plan, &rows[i].end, rows[i].words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_end_is_counted_from_the_nearest_corner),
        cmocka_unit_test(an_end_is_counted_on_from_the_last_fence),
        cmocka_unit_test(nobody_counts_on_from_what_is_set_later),
        cmocka_unit_test(an_end_on_a_corner_is_at_the_corner),
        cmocka_unit_test(a_pace_from_a_corner_goes_on_along_the_side),
        cmocka_unit_test(an_end_at_a_pond_has_a_distance_and_a_bearing),
        cmocka_unit_test(an_end_at_a_pond_may_be_found_from_a_corner),
        cmocka_unit_test(an_end_on_a_block_line_is_counted_from_the_nearer_end),
        cmocka_unit_test(every_end_is_found_whatever_the_layout),
        cmocka_unit_test(the_words_say_where_to_walk),
    };
    return cmocka_run_group_tests_name("plan_paces", tests, NULL, NULL);
}
