/* The way of the loaded tank: how few lines it passes by relaxing every door
 * again and again, its legs against the lines that stand, how near it comes to
 * the trough by a grid of points, and the driven part by hand. */
#include "plan_help.h"

#include "choice/days.h"
#include "geo/points.h"
#include "haul/way.h"

#include <math.h>

static const double vehicle_m = 2.2;

static struct fw_farm *farm_with_gate(const struct outline *outline,
                                      const char *layout, size_t vertex)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    const struct fw_vertex *at = &farm->fields[0].shape->vertices[vertex];
    farm->fields[0].gate = (struct fw_spot){
        .given = true, .point = at->plane, .lonlat = at->lonlat};
    farm->tank_l = 300;
    if (layout)
        farm->layout = fw_strdup(layout);
    return farm;
}

/* ---- the lines that have to be passed, by another sum ---- */

static bool is_shut(const struct fw_replay *replay, const struct fw_door *door)
{
    if (!replay->stands[door->line])
        return false;
    for (size_t i = 0; i < replay->time->opening_count; i++) {
        const struct fw_opening *opening = &replay->time->openings[i];
        if (replay->open[i] && opening->line == door->line &&
            opening->at_m > door->from_m && opening->at_m < door->to_m)
            return false;
    }
    return true;
}

/* The fewest from the gate to each cell. */
static void relax(const struct fw_replay *replay, size_t *lines)
{
    const struct fw_land *land = replay->land;
    for (size_t c = 0; c < land->cell_count; c++)
        lines[c] = land->cells[c].at_gate ? 0 : 100000;
    for (size_t again = 0; again < land->cell_count; again++)
        for (size_t d = 0; d < land->door_count; d++) {
            const struct fw_door *door = &land->doors[d];
            const size_t more = is_shut(replay, door);
            if (lines[door->a] + more < lines[door->b])
                lines[door->b] = lines[door->a] + more;
            if (lines[door->b] + more < lines[door->a])
                lines[door->a] = lines[door->b] + more;
        }
}

static double side(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return fw_point_cross(fw_point_minus(b, a), fw_point_minus(p, a));
}

static bool cross_inside(struct fw_point a, struct fw_point b,
                         struct fw_point c, struct fw_point d)
{
    const double small = 1e-3;
    return side(a, b, c) * side(a, b, d) < -small &&
           side(c, d, a) * side(c, d, b) < -small;
}

/* Cells of strips and blocks in a rectangle are convex, so that no leg between
 * two lines crosses one. */
static void no_leg_crosses_a_line(const struct fw_replay *replay,
                                  const struct fw_way *way)
{
    const struct fw_land *land = replay->land;
    for (size_t i = 0; i + 1 < way->count; i++)
        for (size_t l = 0; l < land->line_count; l++) {
            const struct fw_land_line *line = &land->lines[l];
            for (size_t k = 0; replay->stands[l] && k + 1 < line->count; k++)
                assert_false(
                    cross_inside(way->points[i], way->points[i + 1],
                                 land->line_points[line->first + k],
                                 land->line_points[line->first + k + 1]));
        }
}

static bool is_in(const struct fw_land *land, size_t cell, struct fw_point p)
{
    bool inside = false;
    const struct fw_cell *at = &land->cells[cell];
    for (size_t r = at->first_ring; r < at->first_ring + at->ring_count; r++)
        inside ^=
            fw_ring_contains(land->ring_points + land->ring_start[r],
                             land->ring_start[r + 1] - land->ring_start[r], p);
    return inside;
}

/* No point of ground that is reached with nothing opened is nearer to the
 * trough; in strips that ground is all on the way. */
static void check_rest(const struct fw_replay *replay, const struct fw_way *way,
                       const size_t *lines, bool strips)
{
    const struct fw_land *land = replay->land;
    const struct fw_point trough = way->points[way->count - 1];
    const double rest_m = way->passes[0].rest_m, step_m = 1;
    const int far = (int)(rest_m / step_m) + 5;
    double least_m = HUGE_VAL;
    for (int i = -far; i <= far; i++)
        for (int k = -far; k <= far; k++) {
            const struct fw_point p = {trough.x_m + i * step_m,
                                       trough.y_m + k * step_m};
            for (size_t c = 0; c < land->cell_count; c++)
                if (lines[c] == 0 && is_in(land, c, p))
                    least_m = fmin(least_m, step_m * hypot(i, k));
        }
    assert_true(least_m <= rest_m + 2 * step_m || !strips);
    if (strips)
        assert_true(least_m >= rest_m - 1e-6);
    assert_near(hypot(way->passes[0].stand.x_m - trough.x_m,
                      way->passes[0].stand.y_m - trough.y_m),
                rest_m, 1e-6);
}

static void check_passes(const struct fw_land *land, const struct fw_way *way)
{
    for (size_t i = 0; i < way->pass_count; i++) {
        const struct fw_way_pass *pass = &way->passes[i];
        const struct fw_point at = fw_land_along(land, pass->line, pass->at_m);
        assert_near(hypot(at.x_m - pass->place.x_m, at.y_m - pass->place.y_m),
                    0, 1e-9);
        assert_near(way->points[way->pass_at[i]].x_m, pass->place.x_m, 0);
        if (i > 0)
            assert_true(pass->rest_m <= way->passes[i - 1].rest_m);
    }
}

/* Over strips with nothing between. */
static void is_straight(const struct fw_way *way)
{
    const struct fw_point from = way->points[0],
                          to = way->points[way->count - 1];
    double sum_m = 0;
    for (size_t i = 0; i + 1 < way->count; i++)
        sum_m += hypot(way->points[i + 1].x_m - way->points[i].x_m,
                       way->points[i + 1].y_m - way->points[i].y_m);
    assert_near(sum_m, hypot(to.x_m - from.x_m, to.y_m - from.y_m), 1e-6);
}

/* How many ways, and how many passes they have in all. */
static size_t check_ways(const struct fw_plan *plan, bool convex, bool strips,
                         size_t *passes)
{
    struct fw_plan__days days;
    struct fw_error err;
    size_t ways = 0;
    assert_int_equal(fw_plan__days_init(&days, plan, &err), FW_OK);
    struct fw_replay *replay = &days.replay;
    size_t *lines = calloc(days.land.cell_count, sizeof *lines);
    for (const struct fw_step *step = fw_replay_step(replay); step;
         step = fw_replay_step(replay)) {
        const size_t to = step->kind == FW_STEP_CARRY
                              ? fw_plan_move_to(plan, replay->move)
                              : FW_NONE;
        struct fw_way way;
        if (to == FW_NONE)
            continue;
        assert_int_equal(
            fw_way_find(replay, to,
                        plan->waters[plan->paddocks[to].water].place.plane,
                        vehicle_m, &way, &err),
            FW_OK);
        assert_true(way.known);
        relax(replay, lines);
        assert_int_equal(way.pass_count, lines[to]);
        check_passes(&days.land, &way);
        if (convex)
            no_leg_crosses_a_line(replay, &way);
        if (strips && way.pass_count == 0)
            is_straight(&way);
        if (way.pass_count > 0)
            check_rest(replay, &way, lines, strips);
        ways++;
        *passes += way.pass_count;
        fw_way_release(&way);
    }
    free(lines);
    fw_plan__days_release(&days);
    return ways;
}

static void as_few_lines_are_passed_as_can_be(void **state)
{
    (void)state;
    static const struct {
        const struct outline *outline;
        const char *layout;
        bool convex, strips;
    } rows[] = {
        {&rectangle, "strips", true, true},
        {&rectangle, "blocks", true, false},
        {&rectangle, "lane", true, false},
        {&leaning, "strips", true, true},
        {&corner, "strips", false, false},
        {&corner, "blocks", false, false},
        {&pond, "strips", false, false},
        {&leaning, "lane", false, false},
        {&leaning, "turning", false, false},
    };
    size_t ways = 0, passes = 0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (size_t vertex = 0; vertex < 4; vertex++) {
            struct fw_farm *farm =
                farm_with_gate(rows[i].outline, rows[i].layout, vertex);
            struct fw_plan *plan = plan_of(farm);
            ways += check_ways(plan, rows[i].convex, rows[i].strips, &passes);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
    assert_true(ways > 100 && passes > 50);
}

/* ---- by hand ---- */

static void a_hose_spares_the_last_lines(void **state)
{
    (void)state;
    struct fw_way_pass passes[] = {{.rest_m = 50}, {.rest_m = 20}};
    const struct fw_way way = {
        .known = true, .passes = passes, .pass_count = 2};
    assert_int_equal(fw_way_opened(&way, 0), 2);
    assert_int_equal(fw_way_opened(&way, 19.9), 2);
    assert_int_equal(fw_way_opened(&way, 20), 1);
    assert_int_equal(fw_way_opened(&way, 49.9), 1);
    assert_int_equal(fw_way_opened(&way, 50), 0);
}

static double driven_m(const struct fw_way *way, double hose_m,
                       struct fw_point *last)
{
    struct fw_way_drive drive = fw_way_drive(way, hose_m, 2);
    double sum_m = 0;
    for (bool first = true; fw_way_drive_on(&drive); first = false) {
        const double leg_m = first ? 0
                                   : hypot(drive.place.x_m - last->x_m,
                                           drive.place.y_m - last->y_m);
        assert_true(leg_m <= 2 + 1e-9);
        sum_m += leg_m;
        *last = drive.place;
    }
    return sum_m;
}

static void the_tank_is_driven_until_the_hose_reaches(void **state)
{
    (void)state;
    struct fw_point points[] = {{0, 0}, {100, 0}, {100, 50}}, last = {0, 0};
    struct fw_way_pass pass = {.rest_m = 50, .stand = {90, 0}};
    size_t at = 1;
    struct fw_way way = {.known = true, .points = points, .count = 3};
    assert_near(driven_m(&way, 0, &last), 150, 1e-9);
    assert_near(last.y_m, 50, 1e-9);
    /* 20 m before the trough. */
    assert_near(driven_m(&way, 20, &last), 130, 1e-9);
    way.passes = &pass;
    way.pass_at = &at;
    way.pass_count = 1;
    /* The line is opened; it stays shut, and the tank stops before it. */
    assert_near(driven_m(&way, 0, &last), 150, 1e-9);
    assert_near(driven_m(&way, 50.5, &last), 90, 1e-9);
    assert_near(last.x_m, 90, 1e-9);
    way.known = false;
    assert_near(driven_m(&way, 0, &last), 0, 0);
}

static void without_a_gate_no_way_is_known(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_gate(&rectangle, "strips", 0);
    farm->fields[0].gate.given = false;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->passage_count, 0);
    for (size_t i = 0; i < plan->finding_count; i++)
        assert_null(strstr(plan->findings[i].rule, "haul-"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(as_few_lines_are_passed_as_can_be),
        cmocka_unit_test(a_hose_spares_the_last_lines),
        cmocka_unit_test(the_tank_is_driven_until_the_hose_reaches),
        cmocka_unit_test(without_a_gate_no_way_is_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
