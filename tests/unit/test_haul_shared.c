/* A trough that stands for two stays or longer: where it stands is measured on
 * the plan's own rings and lines, when by its nights, and who drinks there by a
 * replay. */
#include "plan_help.h"

#include "choice/days.h"
#include "haul/placing.h"
#include <foldwright/report.h>

#include <math.h>

static const double keep_m = 10, apart_m = 20;

/* The test's own distances. */
static double from_segment(struct fw_point p, struct fw_point a,
                           struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    double t = ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / (x * x + y * y);
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return hypot(p.x_m - a.x_m - t * x, p.y_m - a.y_m - t * y);
}

static struct fw_point vertex(const struct fw_plan *plan, size_t field,
                              size_t index)
{
    return fw_plan_vertex_at(plan, field, index)->plane;
}

static double from_fence(const struct fw_plan *plan, size_t index,
                         struct fw_point p)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    double least = HUGE_VAL;
    for (size_t i = 0; i + 1 < fence->line_count; i++)
        least =
            fmin(least,
                 from_segment(p, vertex(plan, fence->field, fence->line[i]),
                              vertex(plan, fence->field, fence->line[i + 1])));
    return least;
}

static size_t next_vertex(const struct fw_plan_rings *rings, size_t ring,
                          size_t at)
{
    return rings->vertices[at + 1 < rings->ring_start[ring + 1]
                               ? at + 1
                               : rings->ring_start[ring]];
}

/* From a paddock's edges that do not lie in that fence. */
static double from_other_edges(const struct fw_plan *plan, size_t paddock,
                               size_t fence, struct fw_point p)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    double least = HUGE_VAL;
    for (size_t r = 0; r < of->rings.ring_count; r++)
        for (size_t i = of->rings.ring_start[r];
             i < of->rings.ring_start[r + 1]; i++) {
            const struct fw_point a =
                vertex(plan, of->field, of->rings.vertices[i]);
            const struct fw_point b =
                vertex(plan, of->field, next_vertex(&of->rings, r, i));
            if (fence == FW_NONE || from_fence(plan, fence, a) > 0.01 ||
                from_fence(plan, fence, b) > 0.01)
                least = fmin(least, from_segment(p, a, b));
        }
    return least;
}

static size_t water_of(const struct fw_plan *plan, size_t stay)
{
    return plan->paddocks[plan->time.stays[stay].cell].water;
}

static double from_opening(const struct fw_plan *plan, size_t move,
                           struct fw_point p)
{
    const size_t gate =
        move < plan->time.move_count ? plan->time.moves[move].opening : FW_NONE;
    if (gate == FW_NONE || !plan->gates[gate].place.given)
        return HUGE_VAL;
    return hypot(plan->gates[gate].place.plane.x_m - p.x_m,
                 plan->gates[gate].place.plane.y_m - p.y_m);
}

/* A trough under a line, of the stay and the next one. */
static void judge_under(const struct fw_plan *plan, size_t stay)
{
    const struct fw_plan_water *water = &plan->waters[water_of(plan, stay)];
    const struct fw_point at = water->place.plane;
    assert_int_equal(water_of(plan, stay + 1), water_of(plan, stay));
    if (stay > 0)
        assert_true(water_of(plan, stay - 1) != water_of(plan, stay));
    if (stay + 2 < plan->time.stay_count)
        assert_true(water_of(plan, stay + 2) != water_of(plan, stay));
    assert_true(from_fence(plan, water->fence, at) < 1e-6);
    for (size_t s = stay; s < stay + 2; s++)
        assert_true(from_other_edges(plan, plan->time.stays[s].cell,
                                     water->fence, at) >= keep_m - 1e-6);
    for (size_t m = stay; m < stay + 3; m++)
        assert_true(from_opening(plan, m, at) >= keep_m - 1e-6);
}

/* Every stay drinks on ground that it has, or at its edge. */
static void judge_ground(const struct fw_plan *plan)
{
    struct fw_plan__days days;
    assert_int_equal(fw_plan__days_init(&days, plan, NULL), FW_OK);
    for (size_t m = 0; fw_replay_to_move(&days.replay, m); m++) {
        const size_t stay = plan->time.moves[m].stay;
        if (stay == FW_NONE)
            continue;
        const struct fw_plan_water *water = &plan->waters[water_of(plan, stay)];
        size_t count;
        const size_t *cells = fw_replay_ground(&days.replay, &count);
        bool reached = false;
        for (size_t i = 0; i < count && !reached; i++)
            reached = cells[i] < plan->paddock_count &&
                      (plan->paddocks[cells[i]].water == water_of(plan, stay) ||
                       from_other_edges(plan, cells[i], FW_NONE,
                                        water->place.plane) <= 1);
        assert_true(reached);
    }
    fw_plan__days_release(&days);
}

/* Does an edge of that paddock lie in the fence? Millimetres where two lines
 * end beside each other do not count. */
static bool is_bounded_by(const struct fw_plan *plan, size_t paddock,
                          size_t fence)
{
    const struct fw_plan_paddock *of = &plan->paddocks[paddock];
    for (size_t r = 0; r < of->rings.ring_count; r++)
        for (size_t i = of->rings.ring_start[r];
             i < of->rings.ring_start[r + 1]; i++) {
            const struct fw_point a =
                vertex(plan, of->field, of->rings.vertices[i]);
            const struct fw_point b =
                vertex(plan, of->field, next_vertex(&of->rings, r, i));
            if (from_fence(plan, fence, a) <= 0.01 &&
                from_fence(plan, fence, b) <= 0.01 &&
                hypot(a.x_m - b.x_m, a.y_m - b.y_m) > 0.1)
                return true;
        }
    return false;
}

/* The line is dead while the trough is put under it: no sheep are held by it
 * then, nor by one that hangs on it. How many were looked at. */
static size_t judge_held(const struct fw_plan *plan)
{
    struct fw_plan__days days;
    size_t looked = 0;
    assert_int_equal(fw_plan__days_init(&days, plan, NULL), FW_OK);
    for (size_t m = 0; m + 1 < plan->time.stay_count; m++) {
        fw_replay_to_move(&days.replay, m);
        const size_t water = water_of(plan, m + 1);
        const size_t under = plan->waters[water].fence;
        if (under == FW_NONE || water == water_of(plan, m))
            continue;
        size_t count;
        const size_t *cells = fw_replay_ground(&days.replay, &count);
        for (size_t f = 0; f < plan->fence_count; f++) {
            const struct fw_land_line *line = &days.land.lines[f];
            if (f != under &&
                (!days.replay.stands[f] ||
                 (line->host[0] != under && line->host[1] != under)))
                continue;
            for (size_t i = 0; i < count; i++)
                assert_false(cells[i] < plan->paddock_count &&
                             is_bounded_by(plan, cells[i], f));
        }
        looked++;
    }
    fw_plan__days_release(&days);
    return looked;
}

/* How many stand under a line; each is judged. */
static size_t judge(const struct fw_plan *plan, double most_days)
{
    const struct fw_plan_water *last = NULL;
    size_t under = 0;
    for (size_t s = 0; s < plan->time.stay_count; s++) {
        const struct fw_plan_water *water = &plan->waters[water_of(plan, s)];
        if (s > 0 && water_of(plan, s - 1) == water_of(plan, s)) {
            assert_true(water->to - water->from <= most_days);
            continue;
        }
        if (water->fence == FW_NONE)
            continue;
        judge_under(plan, s);
        if (last)
            assert_true(hypot(last->place.plane.x_m - water->place.plane.x_m,
                              last->place.plane.y_m - water->place.plane.y_m) >=
                        apart_m);
        last = water;
        under++;
    }
    return under;
}

static size_t different(const struct fw_plan *plan)
{
    size_t count = plan->time.stay_count > 0;
    for (size_t s = 1; s < plan->time.stay_count; s++)
        count += water_of(plan, s) != water_of(plan, s - 1);
    return count;
}

static const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                                 &pond};

static void under_a_line_it_serves_both_sides(void **state)
{
    (void)state;
    size_t all = 0, held = 0;
    for (size_t i = 0; i < 4; i++) {
        struct fw_farm *farm = farm_of(outlines[i], NULL);
        struct fw_plan *plan = plan_of(farm);
        const size_t stays = plan->time.stay_count;
        assert_int_equal(different(plan), stays);
        assert_int_equal(judge(plan, 0), 0);
        fw_plan_free(plan);
        farm->trough_days = 2;
        plan = plan_of(farm);
        const size_t under = judge(plan, 2);
        assert_int_equal(different(plan), stays - under);
        judge_ground(plan);
        held += judge_held(plan);
        all += under;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(all > 20 && held > 15);
}

/* Two stays of two days are too long for it. */
static void it_stands_no_longer_than_told(void **state)
{
    (void)state;
    const struct {
        int stay;
        double days;
        bool some;
    } rows[] = {{1, 1, false}, {1, 2, true},  {2, 3, false},
                {2, 4, true},  {3, 5, false}, {3, 6, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        for (int k = 0; k < 7; k++)
            farm->stay.days[k] = rows[i].stay;
        farm->trough_days = rows[i].days;
        struct fw_plan *plan = plan_of(farm);
        assert_true((judge(plan, rows[i].days) > 0) == rows[i].some);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Where no back fence stands they keep the ground behind them. */
static void it_stays_on_ground_that_they_keep(void **state)
{
    (void)state;
    for (int days = 1; days <= 5; days++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->back_fence = false;
        farm->trough_days = days;
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(judge(plan, days), 0);
        judge_ground(plan);
        for (size_t s = 0; s < plan->time.stay_count; s++)
            assert_int_equal(water_of(plan, s),
                             water_of(plan, s - s % (size_t)days));
        assert_int_equal(different(plan),
                         (plan->time.stay_count + (size_t)days - 1) /
                             (size_t)days);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static double farthest_m(const struct fw_plan *plan, size_t stay)
{
    const struct fw_plan_paddock *of =
        &plan->paddocks[plan->time.stays[stay].cell];
    const struct fw_point at = plan->waters[of->water].place.plane;
    double most_m = 0;
    for (size_t i = 0; i < of->rings.ring_start[1]; i++) {
        const struct fw_point corner_at =
            vertex(plan, of->field, of->rings.vertices[i]);
        most_m =
            fmax(most_m, hypot(corner_at.x_m - at.x_m, corner_at.y_m - at.y_m));
    }
    return most_m;
}

/* From the corner of one stay's paddock that is nearest to a place to the
 * farthest corner of another's. */
static double from_nearest_m(const struct fw_plan *plan, size_t one,
                             struct fw_point place, size_t other)
{
    const struct fw_plan_paddock *of =
        &plan->paddocks[plan->time.stays[one].cell];
    const struct fw_plan_paddock *to =
        &plan->paddocks[plan->time.stays[other].cell];
    struct fw_point nearest = {HUGE_VAL, HUGE_VAL};
    double most_m = 0;
    for (size_t i = 0; i < of->rings.ring_start[1]; i++) {
        const struct fw_point at =
            vertex(plan, of->field, of->rings.vertices[i]);
        if (hypot(at.x_m - place.x_m, at.y_m - place.y_m) <
            hypot(nearest.x_m - place.x_m, nearest.y_m - place.y_m))
            nearest = at;
    }
    for (size_t i = 0; i < to->rings.ring_start[1]; i++) {
        const struct fw_point at =
            vertex(plan, to->field, to->rings.vertices[i]);
        most_m =
            fmax(most_m, hypot(at.x_m - nearest.x_m, at.y_m - nearest.y_m));
    }
    return most_m;
}

/* Where they keep the ground behind them, and it is at most 250 m to the corner
 * by which it stands: to itself some 30 m more. */
static void in_winter_it_is_not_moved_by_days(void **state)
{
    (void)state;
    for (int back_fence = 0; back_fence < 2; back_fence++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->season = FW_SEASON_DORMANT;
        farm->back_fence = back_fence;
        farm->fields[0].gate.given = true;
        farm->fields[0].gate.point = farm->fields[0].shape->vertices[0].plane;
        struct fw_plan *plan = plan_of(farm);
        const size_t stays = plan->time.stay_count;
        assert_true(stays > 4);
        judge_ground(plan);
        char *text = NULL, words[80];
        struct fw_error err;
        assert_int_equal(fw_report_text(plan, 0, &text, &err), FW_OK);
        snprintf(words, sizeof words, "hauled to %zu of %zu paddocks", stays,
                 stays);
        if (!strstr(text, words))
            fail_msg("no \"%s\" in %s", words, text);
        fw_bytes_free(text);
        if (back_fence)
            assert_int_equal(different(plan), stays);
        else
            assert_true(different(plan) < stays / 2);
        for (size_t s = 0; s < stays; s++)
            assert_true(farthest_m(plan, s) < 280);
        for (size_t s = 1, first = 0; !back_fence && s < stays; s++) {
            const bool near =
                from_nearest_m(plan, first, plan->fields[0].gate.plane, s) <=
                250;
            assert_int_equal(water_of(plan, s) == water_of(plan, first), near);
            first = near ? first : s;
        }
        fw_plan_free(plan);
        farm->trough_days = 1; /* as told */
        plan = plan_of(farm);
        assert_int_equal(different(plan), plan->time.stay_count);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Beyond the far side of the field from the gate. */
static void in_winter_it_stands_by_the_track(void **state)
{
    (void)state;
    static const double track[][2] = {{-20, 210}, {320, 210}};
    double north_m[2] = {0, 0};
    for (int dormant = 0; dormant < 2; dormant++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        size_t count = 0;
        farm->season = dormant ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
        farm->fields[0].gate.given = true;
        farm->fields[0].gate.point = farm->fields[0].shape->vertices[0].plane;
        add_feature(farm, FW_ROLE_TRACK, false, track, 2);
        struct fw_plan *plan = plan_of(farm);
        for (size_t i = 0; i < plan->paddock_count; i++) {
            const struct fw_plan_paddock *of = &plan->paddocks[i];
            double low_m = HUGE_VAL, high_m = -HUGE_VAL;
            for (size_t k = 0; k < of->rings.ring_start[1]; k++) {
                const double y_m = vertex(plan, 0, of->rings.vertices[k]).y_m;
                low_m = fmin(low_m, y_m);
                high_m = fmax(high_m, y_m);
            }
            if (high_m < plan->fields[0].vertices[2].plane.y_m - 1)
                continue;
            north_m[dormant] +=
                (plan->waters[of->water].place.plane.y_m - low_m) /
                (high_m - low_m);
            count++;
        }
        assert_true(count > 2);
        north_m[dormant] /= (double)count;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(north_m[0] < 0.5 && north_m[1] > 0.6);
}

/* The gate leads into the first paddock, and the trough stays there: whatever
 * is fenced ahead, no fence is on the way of the tank. */
static void the_tank_comes_to_where_it_stands(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->back_fence = false;
    farm->trough_days = 3;
    farm->tank_l = 300;
    farm->fields[0].gate.given = true;
    farm->fields[0].gate.point = farm->fields[0].shape->vertices[0].plane;
    struct fw_plan *plan = plan_of(farm);
    size_t later = 0;
    for (size_t i = 0; i < plan->passage_count; i++) {
        assert_true(plan->passages[i].move >= 3);
        later++;
    }
    assert_true(later > 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static const struct fw_material *sleeve_in(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->material_count; i++)
        if (strstr(plan->materials[i].item, "insulating sleeve"))
            return &plan->materials[i];
    return NULL;
}

/* One a strand, of two troughs that leapfrog. */
static void the_list_has_the_sleeves(void **state)
{
    (void)state;
    for (int strands = 1; strands <= 3; strands++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->moved.strands = strands;
        farm->prices.sleeve = 2.5;
        struct fw_plan *plan = plan_of(farm);
        assert_null(sleeve_in(plan));
        fw_plan_free(plan);
        farm->trough_days = 2;
        plan = plan_of(farm);
        const struct fw_material *row = sleeve_in(plan);
        assert_non_null(row);
        assert_near(row->quantity, 2 * strands, 0);
        assert_near(row->price, 2.5, 0);
        assert_string_equal(row->item, "insulating sleeve, 2 m");
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void a_shift_is_counted_once(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->tank_l = 300;
    farm->trough_days = 2;
    struct fw_plan *plan = plan_of(farm);
    struct fw_placing placing = {.place_count = 0};
    struct fw_hauled_table table = {.count = 0};
    struct fw_error err;
    if (fw_placing_make(plan, &placing, &err) ||
        fw_hauled_make(plan, &placing, FW_PLACING_MINUTES, 3, &table, &err))
        fail_msg("%s", err.text);
    assert_int_equal(table.rows[0].shifts, different(plan));
    for (size_t i = 1; i < table.count; i++)
        if (table.rows[i].way == FW_HAULED_POINTS)
            assert_true(table.rows[i].minutes_day <=
                        table.rows[0].minutes_day + 1e-9);
    fw_placing_release(&placing);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static bool step_says(const struct fw_plan *plan, size_t move,
                      const char *words)
{
    char *text = NULL;
    struct fw_error err;
    if (fw_report_move(plan, move, false, &text, &err))
        fail_msg("%s", err.text);
    char *to = text; /* words, however they are folded */
    for (char *c = text; *c; c++)
        if ((*c != ' ' && *c != '\n') || (to > text && to[-1] != ' '))
            *to++ = (char)(*c == '\n' ? ' ' : *c);
    *to = 0;
    const bool found = strstr(text, words) != NULL;
    fw_bytes_free(text);
    return found;
}

/* It is put under a dead line, and the next day it is left. */
static void the_steps_say_how(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->trough_days = 2;
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_water *water = &plan->waters[water_of(plan, 0)];
    char words[200];
    assert_true(water->fence != FW_NONE);
    snprintf(words, sizeof words, "Trough under %s",
             plan->fences[water->fence].id);
    assert_true(step_says(plan, 0, words));
    assert_false(step_says(plan, 1, words));
    snprintf(words, sizeof words,
             "Half of it on either side of %s, which is unhooked and read dead "
             "meanwhile: raise its wires over the trough to 0.9 m, or sleeve "
             "them for 2 m",
             plan->fences[water->fence].id);
    assert_true(step_says(plan, 0, words));
    snprintf(words, sizeof words,
             "The trough stays where it stands, and serves %s. Fill",
             plan->paddocks[plan->time.stays[1].cell].id);
    assert_true(step_says(plan, 1, words));
    assert_true(step_says(plan, 0, "it stays until Wed 19 May"));
    assert_true(step_says(plan, 1, "it stays until Wed 19 May"));
    assert_false(step_says(plan, 1, "leapfrog"));
    assert_true(step_says(plan, 2, "leapfrog"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(under_a_line_it_serves_both_sides),
        cmocka_unit_test(it_stands_no_longer_than_told),
        cmocka_unit_test(it_stays_on_ground_that_they_keep),
        cmocka_unit_test(in_winter_it_is_not_moved_by_days),
        cmocka_unit_test(in_winter_it_stands_by_the_track),
        cmocka_unit_test(the_tank_comes_to_where_it_stands),
        cmocka_unit_test(the_list_has_the_sleeves),
        cmocka_unit_test(a_shift_is_counted_once),
        cmocka_unit_test(the_steps_say_how),
    };
    return cmocka_run_group_tests_name("haul_shared", tests, NULL, NULL);
}
