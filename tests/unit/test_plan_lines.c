/* The lines of block layouts: when they stand, where they tie, what of them
 * stands at once, how they are fed and opened. */
#include "plan_help.h"

#include <math.h>

/* ---- plans to look at ---- */

static const char *const layouts[] = {"strips", "blocks", "lane", "turning"};
enum { layout_count = sizeof layouts / sizeof *layouts };

/* Both fields with each pattern that fits them, with and without back fence;
 * `ways` counts through them. NULL: this one does not fit. */
static struct fw_plan *plan_number(unsigned ways)
{
    struct fw_farm *farm =
        farm_of(ways & 1 ? &leaning : &rectangle, ways & 1 ? &pond : &leaning);
    farm->back_fence = ways & 2;
    farm->all_stand = ways & 4;
    farm->work_order =
        ways / (8 * layout_count) ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
    farm->layout = fw_strdup(layouts[ways / 8 % layout_count]);
    struct fw_plan *plan = NULL;
    struct fw_error err;
    const enum fw_status status = fw_plan_make(farm, &plan, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    fw_farm_free(farm);
    return plan;
}

enum { way_count = 16 * layout_count };

/* How many plans there were. */
static unsigned for_each_plan(void (*look)(const struct fw_plan *plan,
                                           unsigned ways))
{
    unsigned made = 0;
    for (unsigned ways = 0; ways < way_count; ways++) {
        struct fw_plan *plan = plan_number(ways);
        if (!plan)
            continue;
        look(plan, ways);
        fw_plan_free(plan);
        made++;
    }
    assert_true(made > way_count / 2);
    return made;
}

static bool has_side(const struct fw_plan_paddock *paddock, size_t a, size_t b)
{
    const struct fw_plan_rings *rings = &paddock->rings;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const size_t p = rings->vertices[first + i];
            const size_t q = rings->vertices[first + (i + 1) % count];
            if ((p == a && q == b) || (p == b && q == a))
                return true;
        }
    }
    return false;
}

/* ---- when a line stands ---- */

/* Found by brute force from the rings of the paddocks. */
static void beside(const struct fw_plan *plan,
                   const struct fw_plan_fence *fence, size_t *from, size_t *to)
{
    *from = FW_NONE;
    *to = 0;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        size_t found = 0;
        for (size_t p = 0; p < plan->paddock_count; p++) {
            if (plan->paddocks[p].field != fence->field ||
                !has_side(&plan->paddocks[p], fence->line[i],
                          fence->line[i + 1]))
                continue;
            found++;
            *from = p < *from ? p : *from;
            *to = p > *to ? p : *to;
        }
        assert_true(found == 2 || (found == 1 && fence->role == FW_FENCE_LANE));
    }
}

struct hull { /* of moves: it is needed for [low, high) */
    size_t low, high;
};

/* Does one line end somewhere in the run of another? */
static bool is_tied_to(const struct fw_plan_fence *fence,
                       const struct fw_plan_fence *host)
{
    const size_t ends[2] = {fence->line[0], fence->line[fence->line_count - 1]};
    for (size_t v = 1; v + 1 < host->line_count; v++)
        if (host->line[v] == ends[0] || host->line[v] == ends[1])
            return true;
    return false;
}

static bool is_line(const struct fw_plan_fence *fence)
{
    return fence->role != FW_FENCE_PERIMETER;
}

/* What holds a line's end stands as long as that does. */
static void hold(const struct fw_plan *plan, struct hull *hulls)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t i = 0; i < plan->fence_count; i++)
            for (size_t k = 0; k < plan->fence_count; k++) {
                const struct fw_plan_fence *line = &plan->fences[i];
                const struct fw_plan_fence *host = &plan->fences[k];
                if (i == k || !is_line(line) || !is_line(host) ||
                    line->field != host->field || !is_tied_to(line, host))
                    continue;
                changed |= hulls[i].low < hulls[k].low ||
                           hulls[i].high > hulls[k].high;
                if (hulls[i].low < hulls[k].low)
                    hulls[k].low = hulls[i].low;
                if (hulls[i].high > hulls[k].high)
                    hulls[k].high = hulls[i].high;
            }
    }
}

static void look_at_times(const struct fw_plan *plan, unsigned ways)
{
    const bool back = ways & 2, all = ways & 4;
    const size_t ahead = ways / (8 * layout_count) ? 0 : 1;
    struct hull *hulls = calloc(plan->fence_count, sizeof *hulls);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (!is_line(fence))
            continue;
        const size_t first = plan->fields[fence->field].first_paddock;
        const size_t end = first + plan->fields[fence->field].paddock_count;
        size_t from, to;
        beside(plan, fence, &from, &to);
        assert_int_equal(fence->from, from);
        assert_int_equal(fence->to, to);
        if (fence->role == FW_FENCE_MOVED)
            assert_true(from < to);
        const bool stays = fence->role == FW_FENCE_LANE ||
                           (fence->role == FW_FENCE_STANDING && all);
        const bool kept = back || fence->role == FW_FENCE_LANE;
        hulls[i] = stays ? (struct hull){first, end}
                         : (struct hull){from, to + (kept ? 1 : 0)};
        /* It stands on each night on which one side of it is grazed. */
        for (size_t k = from; !back && k < to; k++)
            assert_true(stands_after(plan, i, k));
        for (size_t k = 0; back && k < 2; k++)
            assert_true(stands_after(plan, i, k ? to : from));
    }
    hold(plan, hulls);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const size_t first = plan->fields[plan->fences[i].field].first_paddock;
        if (!is_line(&plan->fences[i]))
            continue;
        assert_int_equal(move_that(plan, FW_STEP_SET, i),
                         hulls[i].low > first ? hulls[i].low - ahead
                                              : hulls[i].low);
        assert_int_equal(move_that(plan, FW_STEP_TAKE_DOWN, i), hulls[i].high);
    }
    free(hulls);
}

static void
a_line_stands_from_the_first_paddock_beside_it_to_the_last(void **state)
{
    (void)state;
    for_each_plan(look_at_times);
}

/* ---- ties ---- */

static size_t lines_at(const struct fw_plan *plan, size_t field, size_t vertex)
{
    size_t lines = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        for (size_t v = 0; plan->fences[i].field == field &&
                           plan->fences[i].role != FW_FENCE_PERIMETER &&
                           v < plan->fences[i].line_count;
             v++)
            lines += plan->fences[i].line[v] == vertex;
    return lines;
}

static size_t tie_posts;

static void look_at_ties(const struct fw_plan *plan, unsigned ways)
{
    (void)ways;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        const struct fw_plan_field *field = &plan->fields[fence->field];
        size_t posts = 0, ties = 0, at = 0;
        double before_m = -1;
        for (size_t p = 0; p < plan->post_count; p++) {
            const struct fw_plan_post *post = &plan->posts[p];
            if (post->fence != i || post->why == FW_POST_SIGN)
                continue;
            const bool is_end = post->why == FW_POST_END;
            const bool is_tie = post->why == FW_POST_TIE;
            assert_true(post->at_m > before_m);
            assert_true(post->at_m - before_m <= plan->moved.post_gap_m + 1 ||
                        before_m < 0);
            before_m = post->at_m;
            posts++;
            ties += is_tie;
            if (!is_end && !is_tie)
                continue;
            /* The next vertex of the line, where another one ends. */
            const size_t vertex = fence->line[at];
            const bool inner = at > 0 && at + 1 < fence->line_count;
            assert_int_equal(is_tie, inner || fence->length_m >= 10);
            assert_near(post->place.plane.x_m,
                        field->vertices[vertex].plane.x_m, 1e-9);
            assert_near(post->place.plane.y_m,
                        field->vertices[vertex].plane.y_m, 1e-9);
            if (inner)
                assert_true(lines_at(plan, fence->field, vertex) >= 2);
            at++;
        }
        assert_int_equal(at, fence->line_count);
        assert_int_equal(ties + (fence->length_m >= 10 ? 0 : 2),
                         fence->line_count);
        assert_int_equal(posts, fence->posts);
        tie_posts += ties;
    }
}

static void a_post_stands_at_every_tie(void **state)
{
    (void)state;
    tie_posts = 0;
    for_each_plan(look_at_ties);
    assert_true(tie_posts > 100);
}

/* ---- the kit ---- */

static void most(struct fw_kit *kit, const struct fw_kit *now)
{
    kit->reels = now->reels > kit->reels ? now->reels : kit->reels;
    kit->posts = now->posts > kit->posts ? now->posts : kit->posts;
    kit->wire_m = fmax(kit->wire_m, now->wire_m);
}

/* All that stands, step by step, over all fields. */
static void look_at_kit(const struct fw_plan *plan, unsigned ways)
{
    (void)ways;
    struct fw_kit kit = {0}, now = {0};
    for (size_t s = 0; s < plan->time.step_count; s++) {
        const struct fw_step *step = &plan->time.steps[s];
        const int sign = step->kind == FW_STEP_SET         ? 1
                         : step->kind == FW_STEP_TAKE_DOWN ? -1
                                                           : 0;
        for (size_t i = 0; i < step->lines.count; i++) {
            const struct fw_plan_fence *fence =
                &plan->fences[plan->time.items[step->lines.first + i]];
            now.reels += sign * fence->reels;
            now.posts += sign * fence->posts;
            now.wire_m += sign * fence->wire_m;
            most(&kit, &now);
        }
    }
    assert_int_equal(now.reels + now.posts, 0); /* all of it is back */
    assert_int_equal(plan->totals.kit.reels, kit.reels);
    assert_int_equal(plan->totals.kit.posts, kit.posts);
    assert_near(plan->totals.kit.wire_m, kit.wire_m, 1e-6);
}

static void the_kit_is_the_most_that_stands_at_once(void **state)
{
    (void)state;
    for_each_plan(look_at_kit);
}

/* ---- feeding ---- */

/* Nothing feeds a line from the edge of a pond: A is never there while B could
 * be hooked on. */
static bool is_fed(const struct fw_plan *plan, size_t self, size_t vertex)
{
    bool fed = false;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const bool shore =
            fence->role == FW_FENCE_PERIMETER && fence->side == FW_NONE;
        for (size_t v = 0; i != self && !shore && v < fence->line_count &&
                           fence->field == plan->fences[self].field;
             v++)
            fed |= fence->line[v] == vertex;
    }
    return fed;
}

static size_t at_ponds;

static void look_at_feeding(const struct fw_plan *plan, unsigned ways)
{
    (void)ways;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const size_t last = fence->line[fence->line_count - 1];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        if (!is_fed(plan, i, fence->line[0]))
            assert_false(is_fed(plan, i, last));
        /* No line waits for one that waits for it. */
        size_t host = i;
        for (size_t steps = 0; plan->fences[host].a.by == FW_PACED_LINE;
             steps++) {
            assert_true(steps < plan->fence_count);
            host = plan->fences[host].a.fence;
        }
        at_ponds += !is_fed(plan, i, last);
    }
}

static void a_line_is_fed_where_something_can_feed_it(void **state)
{
    (void)state;
    at_ponds = 0;
    for_each_plan(look_at_feeding);
    assert_true(at_ponds > 0);
}

/* ---- openings ---- */

static void assert_beside(GEOSContextHandle_t geos, const struct fw_plan *plan,
                          size_t cell, const GEOSGeometry *gap)
{
    const bool lane = cell >= plan->paddock_count;
    const struct fw_plan_lane *way =
        lane ? &plan->lanes[cell - plan->paddock_count] : NULL;
    const struct fw_plan_paddock *of = lane ? NULL : &plan->paddocks[cell];
    GEOSGeometry *polygon =
        polygon_of(geos, &plan->fields[lane ? way->field : of->field],
                   lane ? &way->rings : &of->rings, 0);
    GEOSGeometry *edge = GEOSBoundary_r(geos, polygon);
    double away_m = (double)NAN, most_m = 0;
    for (int i = 0; i <= 4; i++) {
        GEOSGeometry *place = GEOSInterpolateNormalized_r(geos, gap, i / 4.0);
        GEOSDistance_r(geos, place, edge, &away_m);
        most_m = fmax(most_m, away_m);
        GEOSGeom_destroy_r(geos, place);
    }
    assert_near(most_m, 0, 1e-6);
    GEOSGeom_destroy_r(geos, edge);
    GEOSGeom_destroy_r(geos, polygon);
}

static size_t ways_out;

/* The whole width of it is fence that both share, at an end of the line where
 * that is one. */
static void look_at_opening(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_gate *gate = &plan->gates[index];
    const struct fw_plan_fence *fence = &plan->fences[gate->fence];
    const struct fw_opening *opening = &plan->time.openings[index];
    const size_t both[2] = {opening->from, opening->to};
    assert_string_equal(gate->kind_of, "opening");
    assert_true(gate->width_m >= 4 - 1e-9 && gate->width_m <= 6);
    assert_int_equal(gate->where, opening->kind);
    for (int i = 0; i < 2; i++)
        assert_int_equal(i ? gate->to : gate->from,
                         both[i] < plan->paddock_count ? both[i] : FW_NONE);
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *line = line_of(geos, &plan->fields[gate->field], fence->line,
                                 fence->line_count, false);
    GEOSGeometry *middle = GEOSGeom_createPointFromXY_r(
        geos, gate->place.plane.x_m, gate->place.plane.y_m);
    double away_m = (double)NAN;
    GEOSDistance_r(geos, line, middle, &away_m);
    assert_near(away_m, 0, 1e-6);
    const double along_m = GEOSProject_r(geos, line, middle);
    assert_near(gate->at_m, along_m, 1e-6);
    if (gate->where == FW_OPENING_A)
        assert_near(along_m, gate->width_m / 2, 1e-6);
    double long_m = (double)NAN;
    GEOSLength_r(geos, line, &long_m);
    if (gate->where == FW_OPENING_B)
        assert_near(along_m, long_m - gate->width_m / 2, 1e-6);
    GEOSGeometry *ends[2] = {
        GEOSInterpolate_r(geos, line, along_m - gate->width_m / 2 * 0.999),
        GEOSInterpolate_r(geos, line, along_m + gate->width_m / 2 * 0.999)};
    double x[2], y[2];
    for (int i = 0; i < 2; i++) {
        GEOSGeomGetX_r(geos, ends[i], &x[i]);
        GEOSGeomGetY_r(geos, ends[i], &y[i]);
        GEOSGeom_destroy_r(geos, ends[i]);
    }
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, 3, 2);
    GEOSCoordSeq_setXY_r(geos, points, 0, x[0], y[0]);
    GEOSCoordSeq_setXY_r(geos, points, 1, gate->place.plane.x_m,
                         gate->place.plane.y_m);
    GEOSCoordSeq_setXY_r(geos, points, 2, x[1], y[1]);
    GEOSGeometry *gap = GEOSGeom_createLineString_r(geos, points);
    for (int i = 0; i < 2; i++)
        assert_beside(geos, plan, both[i], gap);
    GEOSGeom_destroy_r(geos, gap);
    GEOSGeom_destroy_r(geos, middle);
    GEOSGeom_destroy_r(geos, line);
    GEOS_finish_r(geos);
}

static void look_at_openings(const struct fw_plan *plan, unsigned ways)
{
    (void)ways;
    const struct fw_time *time = &plan->time;
    bool *used = calloc(plan->gate_count, sizeof *used);
    for (size_t m = 0; m < time->move_count; m++) {
        const struct fw_move *move = &time->moves[m];
        size_t opened = 0;
        for (size_t s = 0; s < move->steps.count; s++) {
            const struct fw_step *step = &time->steps[move->steps.first + s];
            if (step->kind != FW_STEP_OPEN ||
                plan->gates[step->opening].fence == FW_NONE)
                continue;
            const struct fw_plan_gate *gate = &plan->gates[step->opening];
            if (!used[step->opening])
                assert_int_equal(gate->on, move->day);
            used[step->opening] = true;
            look_at_opening(plan, step->opening);
            opened++;
        }
        ways_out += opened > 1;
        if (move->opening == FW_NONE)
            continue;
        /* The last one leads into where they are to be. */
        const struct fw_opening *last = &time->openings[move->opening];
        const size_t to = fw_plan_move_to(plan, m);
        if (last->line != FW_NONE && to != FW_NONE)
            assert_true(last->from == to || last->to == to);
    }
    for (size_t g = 0; g < plan->gate_count; g++)
        assert_true(used[g] || plan->gates[g].fence == FW_NONE);
    free(used);
}

static void openings_lie_on_the_fence_that_both_share(void **state)
{
    (void)state;
    ways_out = 0;
    for_each_plan(look_at_openings);
    assert_true(ways_out > 0);
}

/* ---- on how many reels ---- */

static void out_and_back_two_strands_are_on_one_wire(void **state)
{
    (void)state;
    int shared = 0;
    for (int out_and_back = 0; out_and_back < 2; out_and_back++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_plan *plan = NULL;
        struct fw_error err;
        farm->layout = fw_strdup("blocks");
        farm->moved.reel_m = 100;
        farm->moved.slack = 0;
        farm->moved.out_and_back = out_and_back;
        if (fw_plan_make(farm, &plan, &err))
            fail_msg("%s", err.text);
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            const double by_strand = 2 * ceil(fence->ground_m / 100);
            const double by_pair = ceil(2 * fence->ground_m / 100);
            if (fence->role == FW_FENCE_PERIMETER)
                continue;
            assert_int_equal(fence->reels, out_and_back ? by_pair : by_strand);
            shared += by_pair < by_strand;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(shared > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            a_line_stands_from_the_first_paddock_beside_it_to_the_last),
        cmocka_unit_test(a_post_stands_at_every_tie),
        cmocka_unit_test(the_kit_is_the_most_that_stands_at_once),
        cmocka_unit_test(a_line_is_fed_where_something_can_feed_it),
        cmocka_unit_test(out_and_back_two_strands_are_on_one_wire),
        cmocka_unit_test(openings_lie_on_the_fence_that_both_share),
    };
    return cmocka_run_group_tests_name("plan_lines", tests, NULL, NULL);
}
