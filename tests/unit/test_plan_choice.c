/* What a layout is chosen by, one thing after the other: how this farm works,
 * how long they stay, what is too narrow or too long, what the map has of wet
 * ground and lanes. Closed forms, GEOS, and the register's rules. */
#include "choice/land.h"
#include "choice/limits.h"
#include "geo/points.h"
#include "plan_help.h"

#include <foldwright/date.h>

#include <stdint.h>

static uint64_t seed = 20270711;

static double draw(double least, double most)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return least + (most - least) * (double)(seed >> 33) / 2147483648.0;
}

static struct fw_point low_corner(const struct fw_field *shape)
{
    struct fw_point low = {HUGE_VAL, HUGE_VAL};
    for (size_t i = 0; i < shape->vertex_count; i++) {
        low.x_m = fmin(low.x_m, shape->vertices[i].plane.x_m);
        low.y_m = fmin(low.y_m, shape->vertices[i].plane.y_m);
    }
    return low;
}

/* ---- habits ---- */

static struct fw_plan__habits habits_of(const struct fw_farm *farm, int head,
                                        bool far_hooked, size_t first,
                                        bool set_first)
{
    static struct fw_plan plan;
    static struct fw_plan_job job;
    struct fw_plan__habits out;
    plan = (struct fw_plan){.flock = {.head = head},
                            .wiring = {.far_hooked = far_hooked}};
    job = (struct fw_plan_job){
        .farm = farm, .plan = &plan, .told_day = farm->start_day};
    fw_plan__habits(&job, first, set_first, &out);
    return out;
}

static void openings_and_ways_follow_the_head_count(void **state)
{
    (void)state;
    static const struct {
        int head;
        double opening_m, way_m;
    } rows[] = {{1, 4, 3},   {60, 4, 3},  {61, 6, 3},  {100, 6, 3},
                {101, 6, 4}, {200, 6, 4}, {201, 8, 4}, {300, 8, 4},
                {301, 8, 6}, {2000, 8, 6}};
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_habits habits =
            habits_of(farm, rows[i].head, false, 0, false).habits;
        assert_near(habits.opening_m, rows[i].opening_m, 0);
        assert_near(habits.way_m, rows[i].way_m, 0);
        assert_near(habits.room_m, 3, 0);
    }
    fw_farm_free(farm);
}

static void the_farm_works_as_it_says(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->rates.end_s = 90;
    farm->rates.walk_m_min = 47;
    for (unsigned n = 0; n < 64; n++) {
        farm->back_fence = n & 1;
        farm->all_stand = n & 2;
        farm->water_moves = n & 4;
        farm->moved.out_and_back = n & 8;
        farm->moved.strands = n & 1 ? 2 : 3;
        const struct fw_habits habits =
            habits_of(farm, 50, n & 16, 0, n & 32).habits;
        assert_int_equal(habits.back_fence, (n & 1) != 0);
        assert_int_equal(habits.all_stand, (n & 2) != 0);
        assert_int_equal(habits.trough, (n & 4) != 0);
        assert_int_equal(habits.far_hooked, (n & 16) && !(n & 8));
        assert_int_equal(habits.set_first, (n & 32) != 0);
        assert_int_equal(habits.strands, n & 1 ? 2 : 3);
        assert_near(habits.end_min, 1.5, 0);
        assert_near(habits.walk_m_min, 47, 0);
    }
    fw_farm_free(farm);
}

static void lambs_are_young_for_three_weeks(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_habits habits = habits_of(farm, 50, false, 0, false).habits;
    assert_int_equal(habits.young_from, FW_NO_DAY);
    assert_int_equal(habits.young_to, FW_NO_DAY);
    assert_int_equal(habits.drift_from, FW_NO_DAY);
    assert_int_equal(habits.drift_to, FW_NO_DAY);
    static const enum fw_state states[] = {FW_LACTATION_SINGLE,
                                           FW_LACTATION_TWINS};
    for (size_t i = 0; i < 2; i++) {
        farm->classes[0].state = states[i];
        habits = habits_of(farm, 50, false, 0, false).habits;
        assert_int_equal(habits.young_from, farm->start_day);
        assert_int_equal(habits.young_to, farm->start_day + 21);
        assert_int_equal(habits.drift_from, FW_NO_DAY);
    }
    for (int way = FW_LAMBING_DAILY; way <= FW_LAMBING_DRIFT; way++) {
        farm->lambing =
            (struct fw_lambing){true, farm->start_day + 5, farm->start_day + 15,
                                (enum fw_lambing_way)way};
        habits = habits_of(farm, 50, false, 0, false).habits;
        const bool drift = way == FW_LAMBING_DRIFT;
        assert_int_equal(habits.young_from, farm->start_day + 5);
        assert_int_equal(habits.young_to, farm->start_day + 36);
        assert_int_equal(habits.drift_from,
                         drift ? farm->start_day + 5 : FW_NO_DAY);
        assert_int_equal(habits.drift_to,
                         drift ? farm->start_day + 16 : FW_NO_DAY);
    }
    fw_farm_free(farm);
}

/* Ten metres about the water of that field, of the second one here. */
static void near_water_is_a_bad_place(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &rectangle);
    struct fw_plan plan = {.flock = {.head = 50}};
    const struct fw_plan_job job = {.farm = farm, .plan = &plan};
    struct fw_plan__habits habits;
    fw_plan__habits(&job, 1, false, &habits);
    assert_true(habits.habits.of == &habits);
    assert_false(habits.habits.is_bad(&habits, 0, (struct fw_point){40, 30}));
    farm->fields[1].water = (struct fw_spot){.given = true, .point = {40, 30}};
    for (int k = 0; k < 12; k++) {
        const double turn = k * acos(-1) / 6;
        const struct fw_point in = {40 + 9.9 * cos(turn), 30 + 9.9 * sin(turn)};
        const struct fw_point out = {40 + 10.1 * cos(turn),
                                     30 + 10.1 * sin(turn)};
        assert_true(habits.habits.is_bad(&habits, 0, in));
        assert_false(habits.habits.is_bad(&habits, 0, out));
    }
    habits = habits_of(farm, 50, false, 0, false);
    assert_false(habits.habits.is_bad(&habits, 0, (struct fw_point){40, 30}));
    assert_true(habits.habits.is_bad(&habits, 1, (struct fw_point){40, 30}));
    fw_farm_free(farm);
}

/* ---- wet ground ---- */

static GEOSGeometry *ring_of(GEOSContextHandle_t geos, const double (*xy)[2],
                             size_t count)
{
    GEOSCoordSequence *points =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, points, (unsigned)i, xy[i % count][0],
                             xy[i % count][1]);
    return GEOSGeom_createPolygon_r(
        geos, GEOSGeom_createLinearRing_r(geos, points), NULL, 0);
}

static bool holds(GEOSContextHandle_t geos, const GEOSGeometry *shape, double x,
                  double y, bool *doubtful)
{
    GEOSGeometry *point = GEOSGeom_createPointFromXY_r(geos, x, y);
    const bool inside = GEOSContains_r(geos, shape, point) == 1;
    GEOSGeometry *edge = GEOSBoundary_r(geos, shape);
    double away_m = 0;
    GEOSDistance_r(geos, edge, point, &away_m);
    *doubtful |= away_m < 0.01;
    GEOSGeom_destroy_r(geos, edge);
    GEOSGeom_destroy_r(geos, point);
    return inside;
}

static void wet_ground_is_where_the_map_has_it(void **state)
{
    (void)state;
    static const double bog[][2] = {
        {20, 30}, {120, 10}, {150, 90}, {90, 60}, {40, 120}};
    static const double dry[][2] = {{60, 40}, {110, 30}, {100, 50}};
    static const double marsh[][2] = {{200, 150}, {280, 160}, {240, 190}};
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    add_feature(farm, FW_ROLE_SHADE, true, marsh, 3);
    add_feature(farm, FW_ROLE_SOFT, false, dry, 3);
    add_feature(farm, FW_ROLE_SOFT, true, bog, 5);
    add_feature(farm, FW_ROLE_SOFT, true, dry, 3);
    /* The dry part as a hole of the bog. */
    struct fw_farm_feature *wet = &farm->features[2];
    struct fw_farm_feature *hole = &farm->features[3];
    wet->points = fw_realloc(wet->points, 8, sizeof *wet->points);
    wet->ring_start = fw_realloc(wet->ring_start, 3, sizeof(size_t));
    memcpy(wet->points + 5, hole->points, 3 * sizeof *hole->points);
    wet->ring_start[2] = 8;
    wet->ring_count = 2;
    fw_free(hole->points);
    fw_free(hole->ring_start);
    farm->feature_count--;
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *outer = ring_of(geos, bog, 5), *inner = ring_of(geos, dry, 3);
    const struct fw_plan_job job = {.farm = farm};
    const struct fw_point low = low_corner(farm->fields[0].shape);
    size_t in = 0, out = 0, spared = 0;
    for (int n = 0; n < 2000; n++) {
        const double x = draw(0, 300), y = draw(0, 200);
        bool doubtful = false;
        const bool bogged = holds(geos, outer, x, y, &doubtful);
        const bool spare = holds(geos, inner, x, y, &doubtful);
        if (doubtful)
            continue;
        assert_int_equal(
            fw_plan__on_soft_ground(
                &job, 0, (struct fw_point){low.x_m + x, low.y_m + y}),
            bogged && !spare);
        in += bogged && !spare;
        spared += spare;
        out += !bogged;
    }
    assert_true(in > 100 && out > 100 && spared > 10);
    GEOSGeom_destroy_r(geos, outer);
    GEOSGeom_destroy_r(geos, inner);
    GEOS_finish_r(geos);
    fw_farm_free(farm);
}

/* ---- lanes of the map ---- */

static void lanes_are_those_that_meet_the_field(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *field = ring_of(geos, leaning.xy, leaning.count);
    size_t met = 0, clear = 0, through = 0;
    for (int n = 0; n < 600; n++) {
        double xy[3][2], away_m = 0;
        for (int i = 0; i < 3; i++) {
            xy[i][0] = draw(-120, 420);
            xy[i][1] = draw(-120, 360);
        }
        struct fw_farm *farm = farm_of(&leaning, NULL);
        const double places[][2] = {{xy[0][0] + 20, xy[0][1]},
                                    {xy[1][0] + 20, xy[1][1]},
                                    {xy[2][0] + 20, xy[2][1]}};
        add_feature(farm, FW_ROLE_LANE, true, places, 3);
        add_feature(farm, FW_ROLE_SHADE, false, places, 3);
        add_feature(farm, FW_ROLE_LANE, false, places, 3);
        farm->lane_width_m = 7;
        farm->features[2].width_m = n % 2 ? 4 : 0;
        GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, 3, 2);
        for (unsigned i = 0; i < 3; i++)
            GEOSCoordSeq_setXY_r(geos, points, i, xy[i][0], xy[i][1]);
        GEOSGeometry *line = GEOSGeom_createLineString_r(geos, points);
        GEOSDistance_r(geos, field, line, &away_m);
        GEOSGeometry *shared = GEOSIntersection_r(geos, field, line);
        double shared_m = 0;
        GEOSLength_r(geos, shared, &shared_m);
        const struct fw_plan_job job = {.farm = farm};
        struct fw_plan__lane lane;
        struct fw_error err;
        assert_int_equal(fw_plan__map_lane(&job, 0, &lane, &err), FW_OK);
        if (shared_m > 0.01) {
            bool doubtful = false, ends = false;
            assert_non_null(lane.points);
            assert_int_equal(lane.count, 3);
            assert_near(lane.width_m, n % 2 ? 4 : 7, 0);
            for (int i = 0; i < 3; i++)
                ends |= holds(geos, field, xy[i][0], xy[i][1], &doubtful);
            through += !ends;
            met++;
        } else if (away_m > 0.01) {
            assert_null(lane.points);
            assert_near(lane.width_m, 7, 0);
            clear++;
        }
        fw_free(lane.points);
        GEOSGeom_destroy_r(geos, shared);
        GEOSGeom_destroy_r(geos, line);
        fw_farm_free(farm);
    }
    GEOSGeom_destroy_r(geos, field);
    GEOS_finish_r(geos);
    assert_true(met > 100 && clear > 50 && through > 30);
}

/* Past a corner or over it, with both ends outside. */
static void a_lane_over_a_corner_meets_the_field(void **state)
{
    (void)state;
    static const double past[][2][2] = {{{-10, 5}, {5, -10}},
                                        {{295, -10}, {310, 5}},
                                        {{310, 195}, {295, 210}},
                                        {{5, 210}, {-10, 195}}};
    static const double over[][2][2] = {{{-3, 8}, {8, -3}},
                                        {{292, -3}, {303, 8}},
                                        {{303, 192}, {292, 203}},
                                        {{8, 203}, {-3, 192}}};
    for (size_t i = 0; i < 8; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        add_feature(farm, FW_ROLE_LANE, false, i < 4 ? past[i] : over[i - 4],
                    2);
        const struct fw_plan_job job = {.farm = farm};
        struct fw_plan__lane lane;
        struct fw_error err;
        assert_int_equal(fw_plan__map_lane(&job, 0, &lane, &err), FW_OK);
        assert_int_equal(lane.points != NULL, i >= 4);
        fw_free(lane.points);
        fw_farm_free(farm);
    }
}

static size_t told_outside(struct fw_farm *farm, const char *where)
{
    struct fw_plan plan = {0};
    struct fw_plan_job job = {.farm = farm, .plan = &plan};
    struct fw_error err;
    size_t count = 0;
    assert_int_equal(fw_plan__note_lanes(&job, &err), FW_OK);
    for (size_t i = 0; i < plan.notes.count; i++) {
        assert_non_null(strstr(plan.notes.items[i].text,
                               "this lane lies outside every field"));
        assert_string_equal(plan.notes.items[i].where, where);
        count++;
    }
    fw_notes_release(&plan.notes);
    return count;
}

static void lanes_outside_are_named_where_lanes_are_asked_for(void **state)
{
    (void)state;
    static const double in_first[][2] = {{50, 50}, {100, 60}};
    static const double in_second[][2] = {{1050, 50}, {1100, 60}};
    static const double outside[][2] = {{500, 50}, {550, 60}};
    struct fw_farm *farm = farm_of(&rectangle, &rectangle);
    add_feature(farm, FW_ROLE_LANE, false, in_first, 2);
    add_feature(farm, FW_ROLE_LANE, false, in_second, 2);
    add_feature(farm, FW_ROLE_SHADE, false, outside, 2);
    farm->layout = fw_strdup("lane");
    assert_int_equal(told_outside(farm, ""), 0);
    add_feature(farm, FW_ROLE_LANE, false, outside, 2);
    assert_int_equal(told_outside(farm, "lane"), 1);
    farm->features[3].name = fw_strdup("Old drove");
    assert_int_equal(told_outside(farm, "Old drove"), 1);
    fw_free(farm->layout);
    farm->layout = fw_strdup("lane-2-90");
    assert_int_equal(told_outside(farm, "Old drove"), 1);
    fw_free(farm->layout);
    farm->layout = fw_strdup("strips");
    assert_int_equal(told_outside(farm, ""), 0);
    fw_free(farm->layout);
    farm->layout = NULL;
    assert_int_equal(told_outside(farm, ""), 0);
    fw_farm_free(farm);
}

/* ---- how long they stay ---- */

static void stays_hold_to_the_days_of_the_week(void **state)
{
    (void)state;
    /* Monday first; 0: nobody moves them. */
    static const struct {
        double days[7];
        int usual;   /* from a Monday on */
        int from[7]; /* from each day on */
    } rows[] = {
        {{1, 1, 1, 1, 1, 1, 1}, 1, {1, 1, 1, 1, 1, 1, 1}},
        {{2, 2, 2, 2, 2, 2, 2}, 2, {2, 2, 2, 2, 2, 2, 2}},
        {{1, 1, 1, 1, 1, 0, 0}, 1, {1, 1, 1, 1, 3, 2, 1}},
        {{1, 0, 1, 0, 1, 0, 0}, 2, {2, 1, 2, 1, 3, 2, 1}},
        {{1, 0, 0, 1, 0, 0, 1}, 3, {3, 2, 1, 3, 2, 1, 1}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        memcpy(farm->stay.days, rows[i].days, sizeof rows[i].days);
        int every = 0;
        const struct fw_plan_job job = {.farm = farm, .every_days = &every};
        assert_int_equal(fw_forage_common_stay(&farm->stay, farm->start_day),
                         rows[i].usual);
        for (int k = 0; k < 7; k++)
            assert_int_equal(
                fw_plan__stay_days(&job, 0, farm->start_day + k, 0),
                rows[i].from[k]);
        fw_farm_free(farm);
    }
}

/* Two or three days where no stay is told, every day; what is left of a short
 * one only on days on which somebody is there. */
static void longer_stays_end_when_somebody_is_there(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    int every[] = {3, 2};
    const struct fw_plan_job job = {.farm = farm, .every_days = every};
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day, 0), 3);
    assert_int_equal(fw_plan__stay_days(&job, 1, farm->start_day, 0), 2);
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day, 1), 1);
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day, 5), 5);
    farm->stay.days[5] = farm->stay.days[6] = 0;
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day + 2, 4), 5);
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day + 3, 1), 1);
    assert_int_equal(fw_plan__stay_days(&job, 0, farm->start_day + 4, 1), 3);
    fw_farm_free(farm);
}

static void nobody_moves_a_flock_that_is_held(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    const int day = farm->start_day;
    int every = 0;
    const struct fw_plan_job job = {.farm = farm, .every_days = &every};
    for (int i = 0; i < 7; i++)
        farm->stay.days[i] = 2;
    farm->lambing =
        (struct fw_lambing){true, day + 10, day + 15, FW_LAMBING_HOLD};
    static const struct {
        int enter, days;
    } rows[] = {{7, 2}, {8, 2}, {9, 8}, {10, 6}, {14, 2}, {15, 2}, {16, 2}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        /* To the first day after the 15th on which a stay of two days ends. */
        const int from = rows[i].enter;
        int days = 2;
        if (from <= 15 && from + 2 > 10)
            while (from + days <= 15)
                days += 2;
        assert_int_equal(days, rows[i].days);
        assert_int_equal(fw_plan__stay_days(&job, 0, day + from, 0), days);
    }
    farm->lambing.way = FW_LAMBING_DAILY;
    assert_int_equal(fw_plan__stay_days(&job, 0, day + 9, 0), 2);
    fw_farm_free(farm);
}

/* A last paddock of a third of a stay of three days feeds them for one. */
static void a_short_last_paddock_is_left_when_it_is_eaten(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan plan = {.flock = {.demand_kg_day = 150}};
    int every = 0, days[] = {3, 3, 3};
    double target[] = {450, 450, 450};
    const struct fw_plan_job job = {
        .farm = farm, .plan = &plan, .every_days = &every};
    const struct fw_plan_targets targets = {
        .target = target, .days = days, .count = 3};
    static const struct {
        double share;
        bool even;
        size_t k;
        int stays;
        double fed;
    } rows[] = {
        {1. / 3, false, 2, 1, 1},  {0.34, false, 2, 1, 1.02},
        {0.35, false, 2, 2, 1.05}, {0.9, false, 2, 3, 2.7},
        {0.1, false, 2, 1, 0.3},   {0.5, false, 1, 3, 3},
        {0.5, true, 2, 3, 3},      {1, false, 2, 3, 3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct fw_layout layout = {.paddock_count = 3,
                                         .even = rows[i].even,
                                         .last_share = rows[i].share};
        int day = farm->start_day;
        const struct fw_time_stay stay =
            fw_plan__stay(&job, 0, &layout, &targets, rows[i].k, 40 + i, &day);
        assert_int_equal(stay.cell, 40 + i);
        assert_int_equal(stay.enter, farm->start_day);
        assert_int_equal(stay.leave, farm->start_day + rows[i].stays);
        assert_int_equal(day, stay.leave);
        assert_near(stay.target_kg, 150 * rows[i].fed, 1e-9);
    }
    fw_farm_free(farm);
}

static void days_away_that_make_a_stay_long_are_named(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    const int day = farm->start_day;
    int away[] = {day - 9, day, day + 3, day + 5};
    const struct fw_plan_job job = {.farm = farm, .day = day};
    farm->stay.away = away;
    farm->stay.away_count = 2;
    static const struct {
        int days;
        const char *says;
    } rows[] = {{1, NULL},
                {3, NULL},
                {4, "2027-05-20 to 2027-05-22 (away), so "
                    "that it must stay 4 days"}};
    for (size_t i = 0; i < 3; i++) {
        struct fw_error err = {.status = FW_EPLAN, .text = "Too little"};
        assert_int_equal(fw_plan__name_away(&job, rows[i].days, &err),
                         FW_EPLAN);
        if (rows[i].says)
            assert_non_null(strstr(err.text, rows[i].says));
        else
            assert_string_equal(err.text, "Too little");
    }
    farm->stay.away = NULL;
    farm->stay.away_count = 0;
    fw_farm_free(farm);
}

/* ---- limits ---- */

static void each_limit_has_its_side(void **state)
{
    (void)state;
    enum { N = FW_PLAN__NARROW, L = FW_PLAN__LONG, F = FW_PLAN__SHORT_FACE };
    /* 100 head: 15 m wide, 30 m of front at 0.3 m each, 4 times as long. */
    static const struct {
        bool back, told, last;
        struct fw_plan__shape shape;
        unsigned broken;
    } rows[] = {
        {true, false, false, {15, 4, 1}, 0},
        {true, false, false, {14.9, 4, 1}, N},
        {true, false, false, {15, 4.1, 1}, L},
        {true, false, false, {14, 5, 1}, N | L},
        {true, false, true, {14, 5, 1}, 0},
        {false, false, false, {1, 9, 30}, 0},
        {false, false, false, {1, 9, 29.9}, F},
        {false, false, false, {1, 9, 0}, 0},
        {false, false, true, {1, 9, 1}, 0},
        {false, true, false, {15.9, 9, 30}, N},
        {false, true, false, {16, 9, 29}, F},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_plan plan = {.flock = {.head = 100}};
        const struct fw_plan_job job = {.farm = farm, .plan = &plan};
        farm->least_face_m = 0.3;
        farm->back_fence = rows[i].back;
        farm->least_width_m = rows[i].told ? 16 : 0;
        assert_int_equal(fw_plan__broken(&job, &rows[i].shape, rows[i].last),
                         rows[i].broken);
        fw_farm_free(farm);
    }
}

/* All strips but the last one, which may be as narrow as it comes out. */
static void what_is_too_narrow_is_named_from_the_first_on(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->back_fence = true;
    farm->least_width_m = 100;
    struct fw_plan *plan = plan_of(farm);
    char words[2 * FW_ID + 32];
    size_t told = 0;
    assert_true(plan->paddock_count > 4);
    snprintf(words, sizeof words, "%s to %s are under 100 m wide",
             plan->paddocks[0].id, plan->paddocks[plan->paddock_count - 2].id);
    for (size_t i = 0; i < plan->notes.count; i++)
        told += strncmp(plan->notes.items[i].text, words, strlen(words)) == 0;
    assert_int_equal(told, 1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* What a paddock's outline shares with those of later ones. */
static double front_m(const struct fw_plan *plan, size_t paddock)
{
    const struct fw_plan_rings *a = &plan->paddocks[paddock].rings;
    const struct fw_vertex *at = plan->fields[0].vertices;
    double sum_m = 0;
    for (size_t later = paddock + 1; later < plan->paddock_count; later++) {
        const struct fw_plan_rings *b = &plan->paddocks[later].rings;
        for (size_t i = 0; i < a->ring_start[1]; i++)
            for (size_t k = 0; k < b->ring_start[1]; k++) {
                const size_t p = a->vertices[i];
                const size_t q = a->vertices[(i + 1) % a->ring_start[1]];
                if (q == b->vertices[k] &&
                    p == b->vertices[(k + 1) % b->ring_start[1]])
                    sum_m += hypot(at[q].plane.x_m - at[p].plane.x_m,
                                   at[q].plane.y_m - at[p].plane.y_m);
            }
    }
    return sum_m;
}

/* Without a back fence 80 head want 100 m of front at 1.25 m each: those of a
 * wedge and of an L that have less are named, and the shortest. */
static void short_fronts_are_named(void **state)
{
    (void)state;
    static const struct outline wedge = {3, {{0, 0}, {300, 0}, {0, 200}}, 0};
    const struct outline *const outlines[] = {&wedge, &corner, &leaning};
    size_t named = 0;
    for (size_t n = 0; n < 6; n++) {
        struct fw_farm *farm = farm_of(outlines[n % 3], NULL);
        farm->layout = fw_strdup("strips");
        farm->direction_given = true;
        farm->direction_deg = n < 3 ? 0 : 90;
        farm->back_fence = false;
        farm->stay_told = true;
        farm->least_face_m = 1.25;
        struct fw_plan *plan = plan_of(farm);
        char wanted[600] = "";
        size_t count = 0;
        double least_m = HUGE_VAL;
        bool is_short[200] = {false};
        for (size_t p = 0; p + 1 < plan->paddock_count; p++) {
            const double m = front_m(plan, p);
            is_short[p] = m > 0 && m < 100 - 1e-6;
            count += is_short[p];
            if (is_short[p])
                least_m = fmin(least_m, m);
        }
        for (size_t p = 0; p < plan->paddock_count; p++) {
            size_t last = p;
            if (!is_short[p])
                continue;
            while (is_short[last + 1])
                last++;
            snprintf(wanted + strlen(wanted), sizeof wanted - strlen(wanted),
                     "%s%s", wanted[0] ? ", " : "", plan->paddocks[p].id);
            if (last > p)
                snprintf(wanted + strlen(wanted),
                         sizeof wanted - strlen(wanted), "%s%s",
                         last > p + 1 ? " to " : ", ", plan->paddocks[last].id);
            p = last;
        }
        snprintf(wanted + strlen(wanted), sizeof wanted - strlen(wanted),
                 " %s a front face under 100 m for 80 head, the shortest ",
                 count > 1 ? "have" : "has");
        const char *said = NULL;
        for (size_t i = 0; i < plan->notes.count; i++)
            if (strstr(plan->notes.items[i].text, " a front face under "))
                said = plan->notes.items[i].text;
        assert_int_equal(said != NULL, count > 0);
        if (said) {
            assert_int_equal(strncmp(said, wanted, strlen(wanted)), 0);
            const double m = strtod(said + strlen(wanted), NULL);
            assert_true(m <= least_m + 1e-9 && m > least_m - 1);
        }
        named += count;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(named > 10);
}

static void two_reels_reach_so_far(void **state)
{
    (void)state;
    static const struct {
        bool back;
        int strands;
        double slack, reach_m;
    } rows[] = {{false, 2, 0, 1000},
                {false, 2, 0.25, 800},
                {true, 2, 0, 500},
                {true, 1, 0, 1000}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm farm = {.moved = {.strands = rows[i].strands,
                                         .out_and_back = rows[i].back,
                                         .reel_m = 500,
                                         .slack = rows[i].slack}};
        assert_false(fw_plan__is_overlong(&farm, rows[i].reach_m));
        assert_true(fw_plan__is_overlong(&farm, rows[i].reach_m + 0.01));
    }
}

/* A rectangle turned about, with few points on its sides or many. */
static void elongation_is_that_of_the_narrowest_box(void **state)
{
    (void)state;
    static struct fw_point ring[4000];
    static const size_t each[] = {1, 3, 50, 51, 400};
    for (size_t n = 0; n < 5; n++)
        for (int k = 0; k < 7; k++) {
            const double c = cos(0.3 * k), s = sin(0.3 * k), w = 120, h = 30;
            const double xy[][2] = {{0, 0}, {w, 0}, {w, h}, {0, h}};
            size_t count = 0;
            for (size_t i = 0; i < 4; i++)
                for (size_t p = 0; p < each[n]; p++) {
                    const double t = (double)p / (double)each[n];
                    const double *a = xy[i], *b = xy[(i + 1) % 4];
                    const double x = a[0] + t * (b[0] - a[0]);
                    const double y = a[1] + t * (b[1] - a[1]);
                    ring[count++] =
                        (struct fw_point){x * c - y * s, x * s + y * c};
                }
            assert_near(fw_plan__elongation(ring, count), 4, 0.05);
        }
    static const struct fw_point wedge[] = {{0, 0}, {0, 0}, {60, 0}, {0, 25}};
    assert_near(fw_plan__elongation(wedge, 4), 65 / (60 * 25 / 65.), 1e-9);
}

/* ---- what a line's ends are fed by ---- */

/* West and east of a pond, parted by a fence from the south side (or from the
 * south-west corner) to the pond, and one from the north side. */
static struct fw_land land_of_two(const struct fw_plan_job *job,
                                  size_t from_south)
{
    const struct fw_vertex *at = job->farm->fields[0].shape->vertices;
    struct fw_layout_vertex added[2] = {{.edge = 0}, {.edge = 2}};
    for (size_t i = 0; i < 2; i++)
        added[i].point = fw_point_between(at[added[i].edge].plane,
                                          at[added[i].edge + 1].plane, 0.5);
    size_t rings[] = {0, 8, 4, 5, 9, 3, 8, 1, 2, 9, 5, 6, 7, 4};
    size_t ring_start[] = {0, 6, 14}, one_each[] = {0, 1, 2};
    size_t ends[] = {from_south, 4, 9, 5};
    if (from_south == 0) { /* the corner is the east's, not the added one */
        const size_t other[] = {0, 4, 5, 9, 3, 0, 1, 2, 9, 5, 6, 7, 4};
        memcpy(rings, other, sizeof other);
        ring_start[1] = 5;
        ring_start[2] = 13;
    }
    struct fw_layout_line lines[] = {{.first = 0, .count = 2, .length_m = 90},
                                     {.first = 2, .count = 2, .length_m = 90}};
    const struct fw_layout layout = {.pattern = "blocks",
                                     .vertex_count = 8,
                                     .added = added,
                                     .added_count = 2,
                                     .ring_vertices = rings,
                                     .ring_start = ring_start,
                                     .ring_count = 2,
                                     .piece_ring = one_each,
                                     .piece_count = 2,
                                     .paddock_piece = one_each,
                                     .paddock_count = 2,
                                     .line_vertices = ends,
                                     .lines = lines,
                                     .line_count = 2};
    const struct fw_plan__line_work work[2] = {{.ground_m = 90}};
    struct fw_land land = {0};
    struct fw_error err = {0};
    size_t line_of[2];
    if (fw_plan__land_of(job, 0, &layout, work, &land, line_of, &err))
        fail_msg("%s", err.text);
    assert_int_equal(line_of[0], 0);
    assert_int_equal(line_of[1], 1);
    return land;
}

static void an_end_is_fed_by_its_side_or_the_better_of_two(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&pond, NULL);
    /* Of the sides south, east, north, west; the pond's feed nothing. */
    static const enum fw_feeds rows[][4] = {
        {FW_FEEDS_NOTHING, FW_FEEDS_PERHAPS, FW_FEEDS_PERHAPS, FW_FEEDS_SURELY},
        {FW_FEEDS_SURELY, FW_FEEDS_NOTHING, FW_FEEDS_NOTHING, FW_FEEDS_PERHAPS},
        {FW_FEEDS_PERHAPS, FW_FEEDS_SURELY, FW_FEEDS_SURELY, FW_FEEDS_NOTHING},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (size_t at_corner = 0; at_corner < 2; at_corner++) {
            enum fw_feeds edges[8] = {FW_FEEDS_NOTHING};
            memcpy(edges, rows[i], sizeof rows[i]);
            enum fw_feeds *of_field = edges;
            const struct fw_plan_job job = {.farm = farm,
                                            .edge_feeds = &of_field};
            struct fw_land land = land_of_two(&job, at_corner ? 0 : 8);
            const enum fw_feeds south =
                at_corner && edges[3] > edges[0] ? edges[3] : edges[0];
            assert_int_equal(land.lines[0].feeds[0], south);
            assert_int_equal(land.lines[0].feeds[1], FW_FEEDS_NOTHING);
            assert_int_equal(land.lines[1].feeds[0], edges[2]);
            assert_int_equal(land.lines[1].feeds[1], FW_FEEDS_NOTHING);
            fw_land_release(&land);
        }
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(openings_and_ways_follow_the_head_count),
        cmocka_unit_test(the_farm_works_as_it_says),
        cmocka_unit_test(lambs_are_young_for_three_weeks),
        cmocka_unit_test(near_water_is_a_bad_place),
        cmocka_unit_test(wet_ground_is_where_the_map_has_it),
        cmocka_unit_test(lanes_are_those_that_meet_the_field),
        cmocka_unit_test(a_lane_over_a_corner_meets_the_field),
        cmocka_unit_test(lanes_outside_are_named_where_lanes_are_asked_for),
        cmocka_unit_test(stays_hold_to_the_days_of_the_week),
        cmocka_unit_test(longer_stays_end_when_somebody_is_there),
        cmocka_unit_test(nobody_moves_a_flock_that_is_held),
        cmocka_unit_test(a_short_last_paddock_is_left_when_it_is_eaten),
        cmocka_unit_test(days_away_that_make_a_stay_long_are_named),
        cmocka_unit_test(each_limit_has_its_side),
        cmocka_unit_test(what_is_too_narrow_is_named_from_the_first_on),
        cmocka_unit_test(short_fronts_are_named),
        cmocka_unit_test(two_reels_reach_so_far),
        cmocka_unit_test(elongation_is_that_of_the_narrowest_box),
        cmocka_unit_test(an_end_is_fed_by_its_side_or_the_better_of_two),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
