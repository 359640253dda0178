/* Where they are led: out of which cell each opening leads, and what has to
 * stand beside the way. Rows of square cells, 10 m each. */
#include "test.h"

#include <foldwright/moves.h>

enum { most_cells = 6, side = 10 };

/* A row of cells from west to east, and one more south of the second cell. */
struct plot {
    struct fw_point points[4 * most_cells];
    size_t rings[4 * most_cells], ring_start[most_cells + 1];
    size_t cell_ring[most_cells + 1];
    enum fw_cell_kind kinds[most_cells];
    size_t ends[2 * most_cells];
    struct fw_land_map_line lines[most_cells];
    struct fw_point gate;
    struct fw_land_map map;
};

/* Point 2 k stands on the south side, k cells from the west; 2 k + 1 north of
 * it. */
static void make_row(struct plot *plot, size_t cells)
{
    *plot = (struct plot){.map = {.cell_count = cells}};
    for (size_t k = 0; k <= cells; k++)
        for (size_t n = 0; n < 2; n++)
            plot->points[2 * k + n] =
                (struct fw_point){side * (double)k, side * (double)n};
    plot->map.point_count = 2 * (cells + 1);
    for (size_t k = 0; k < cells; k++) {
        const size_t ring[4] = {2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1};
        for (size_t i = 0; i < 4; i++)
            plot->rings[4 * k + i] = ring[i];
        plot->ring_start[k + 1] = 4 * (k + 1);
        plot->cell_ring[k + 1] = k + 1;
    }
    plot->map.points = plot->points;
    plot->map.ring_vertices = plot->rings;
    plot->map.ring_start = plot->ring_start;
    plot->map.cell_ring = plot->cell_ring;
    plot->map.kinds = plot->kinds;
    plot->map.lines = plot->lines;
}

static void add_line(struct plot *plot, enum fw_land_role role, size_t from,
                     size_t to)
{
    const size_t k = plot->map.line_count++;
    plot->ends[2 * k] = from;
    plot->ends[2 * k + 1] = to;
    plot->lines[k] = (struct fw_land_map_line){
        .role = role,
        .vertices = plot->ends + 2 * k,
        .count = 2,
        .feeds = {FW_FEEDS_PERHAPS, FW_FEEDS_PERHAPS},
    };
}

/* South of the second cell. */
static void add_cell_below(struct plot *plot)
{
    const size_t k = plot->map.cell_count++, p = plot->map.point_count;
    plot->points[p] = (struct fw_point){side, -side};
    plot->points[p + 1] = (struct fw_point){2 * side, -side};
    plot->map.point_count += 2;
    const size_t ring[4] = {p, p + 1, 4, 2};
    for (size_t i = 0; i < 4; i++)
        plot->rings[4 * k + i] = ring[i];
    plot->ring_start[k + 1] = 4 * (k + 1);
    plot->cell_ring[k + 1] = k + 1;
}

static struct fw_habits habits_of(bool set_first)
{
    return (struct fw_habits){
        .back_fence = true,
        .set_first = set_first,
        .trough = true,
        .strands = 2,
        .opening_m = 4,
        .way_m = 3,
        .young_from = FW_NO_DAY,
        .young_to = FW_NO_DAY,
        .drift_from = FW_NO_DAY,
        .drift_to = FW_NO_DAY,
        .walk_m_min = 75,
        .end_min = 0.75,
    };
}

static void make(const struct plot *plot, const size_t *order, size_t count,
                 const struct fw_habits *habits, struct fw_land *land,
                 struct fw_time *time)
{
    struct fw_error err;
    struct fw_time_stay stays[most_cells];
    for (size_t i = 0; i < count; i++)
        stays[i] = (struct fw_time_stay){
            .cell = order[i], .enter = (int)i, .leave = (int)i + 1};
    if (fw_land_new(&plot->map, 1, land, &err) ||
        fw_time_make(land, stays, count, habits, NULL, time, &err))
        fail_msg("%s", err.text);
}

/* Lines point either way, so that each cell is once to the left. */
static void openings_lead_from_the_gate_on(void **state)
{
    (void)state;
    for (size_t turned = 0; turned < 2; turned++) {
        struct plot plot;
        struct fw_land land;
        struct fw_time time;
        struct fw_habits habits = habits_of(true);
        const size_t order[] = {2};
        make_row(&plot, 3);
        for (size_t k = 1; k < 3; k++)
            add_line(&plot, FW_LAND_STANDING, 2 * k + turned,
                     2 * k + 1 - turned);
        plot.gate = (struct fw_point){0, side / 2.};
        plot.map.gate = &plot.gate;
        habits.all_stand = true;
        make(&plot, order, 1, &habits, &land, &time);
        assert_int_equal(time.opening_count, 3);
        for (size_t i = 1; i < 3; i++) {
            assert_int_equal(time.openings[i].from, i - 1);
            assert_int_equal(time.openings[i].to, i);
        }
        fw_time_release(&time);
        fw_land_release(&land);
    }
}

/* From the western end back over the second cell, which was left long ago and
 * has ground beside it that waits. */
static void what_waits_beside_the_way_is_shut_off(void **state)
{
    (void)state;
    static const size_t order[] = {2, 1, 0, 3, 4, 5};
    const size_t turn = 3, guard = 4; /* the move; the line beside the way */
    for (int set_first = 0; set_first < 2; set_first++) {
        struct plot plot;
        struct fw_land land;
        struct fw_time time;
        struct fw_time_sums sums;
        struct fw_replay replay;
        struct fw_error err;
        const struct fw_habits habits = habits_of(set_first);
        make_row(&plot, 5);
        for (size_t k = 1; k < 5; k++)
            add_line(&plot, FW_LAND_MOVED, 2 * k, 2 * k + 1);
        add_line(&plot, FW_LAND_MOVED, 2, 4);
        add_cell_below(&plot);
        make(&plot, order, 6, &habits, &land, &time);
        assert_int_equal(
            fw_time_judge(&land, &time, &habits, NULL, &sums, &err), FW_OK);
        assert_int_equal(sums.faults[FW_TIME_LOOSE], 0);
        assert_int_equal(sums.faults[FW_TIME_CROSSED], 0);
        assert_int_equal(fw_replay_begin(&land, &time, NULL, &replay, &err),
                         FW_OK);
        fw_replay_to_move(&replay, turn);
        assert_true(replay.stands[guard]);
        while (fw_replay_step(&replay))
            ;
        for (size_t l = 0; l < land.line_count; l++)
            assert_false(replay.stands[l]);
        fw_replay_end(&replay);
        fw_time_release(&time);
        fw_land_release(&land);
    }
}

/* Two fields 1 km from each other: that way is walked, there and back. */
static void minutes_between_fields_are_walked(void **state)
{
    (void)state;
    struct plot plot;
    struct fw_land land;
    struct fw_time time;
    struct fw_time_sums sums;
    struct fw_error err;
    const struct fw_habits habits = habits_of(true);
    const struct fw_time_stay stays[] = {{.cell = 0, .enter = 0, .leave = 1},
                                         {.cell = 1, .enter = 1, .leave = 2}};
    make_row(&plot, 1);
    plot.gate = (struct fw_point){0, 0};
    plot.map.gate = &plot.gate;
    struct fw_land_map maps[2] = {plot.map, plot.map};
    maps[1].origin = (struct fw_point){600, 800};
    assert_int_equal(fw_land_new(maps, 2, &land, &err), FW_OK);
    assert_int_equal(fw_time_make(&land, stays, 2, &habits, NULL, &time, &err),
                     FW_OK);
    assert_int_equal(fw_time_judge(&land, &time, &habits, NULL, &sums, &err),
                     FW_OK);
    assert_near(time.moves[0].minutes, 0, 1e-9);
    /* From the second gate: it is opened, then the first; and the way back to
     * close it. */
    assert_near(fmod(time.moves[1].minutes, 2000 / 75.), 0, 1e-9);
    assert_true(time.moves[1].minutes > 0);
    fw_time_release(&time);
    fw_land_release(&land);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(openings_lead_from_the_gate_on),
        cmocka_unit_test(what_waits_beside_the_way_is_shut_off),
        cmocka_unit_test(minutes_between_fields_are_walked),
    };
    return cmocka_run_group_tests_name("moves_guards", tests, NULL, NULL);
}
