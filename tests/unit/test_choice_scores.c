/* What a layout is scored by, and the ground that a plan is gone through on:
 * GEOS for the width of paddocks, the replay of the plan for what is not fed,
 * growth by its own law for what another law would leave. */
#include "plan_help.h"

#include "choice/choice.h"
#include "choice/limits.h"
#include "forage/growth.h"
#include "land/land.h"
#include "moves/moves.h"
#include <foldwright/report.h>

#include <math.h>

/* ---- widths ---- */

/* Of the narrowest box round a ring, by GEOS: its sides. */
static void box_of(GEOSContextHandle_t geos, const GEOSGeometry *polygon,
                   double sides[2])
{
    GEOSGeometry *box = GEOSMinimumRotatedRectangle_r(geos, polygon);
    const GEOSCoordSequence *at =
        GEOSGeom_getCoordSeq_r(geos, GEOSGetExteriorRing_r(geos, box));
    double xy[3][2];
    for (unsigned i = 0; i < 3; i++)
        GEOSCoordSeq_getXY_r(geos, at, i, &xy[i][0], &xy[i][1]);
    const double a = hypot(xy[1][0] - xy[0][0], xy[1][1] - xy[0][1]);
    const double b = hypot(xy[2][0] - xy[1][0], xy[2][1] - xy[1][1]);
    sides[0] = fmin(a, b);
    sides[1] = fmax(a, b);
    GEOSGeom_destroy_r(geos, box);
}

/* A ring may be told from any of its corners. */
static void elongation_is_the_same_from_every_corner(void **state)
{
    (void)state;
    static const struct fw_point shapes[][5] = {
        {{0, 0}, {140, 10}, {150, 60}, {40, 75}, {-5, 30}},
        {{80, 90}, {0, 0}, {30, -20}, {60, 10}, {120, 85}},
        {{0, 0}, {40, 5}, {60, 0}, {200, 12}, {20, 14}}};
    for (size_t k = 0; k < 3; k++) {
        const double wanted = fw_plan__elongation(shapes[k], 5);
        assert_true(wanted > 1.2);
        for (size_t turn = 1; turn < 5; turn++) {
            struct fw_point ring[5];
            for (size_t i = 0; i < 5; i++)
                ring[i] = shapes[k][(i + turn) % 5];
            assert_near(fw_plan__elongation(ring, 5), wanted, 1e-9);
        }
    }
}

/* ---- scores ---- */

/* Faults of a plan's own moves on its own ground. */
static struct fw_time_sums judged(struct fw_plan *plan)
{
    struct fw_land land;
    struct fw_plan_start start;
    struct fw_time_sums sums = {0};
    struct fw_error err = {0};
    const struct fw_habits habits = {
        .back_fence = true,
        .trough = true,
        .strands = 2,
        .opening_m = 6,
        .way_m = 3,
        .room_m = 3,
        .young_from = FW_NO_DAY,
        .young_to = FW_NO_DAY,
        .drift_from = FW_NO_DAY,
        .drift_to = FW_NO_DAY,
        .walk_m_min = 60,
        .end_min = 1,
    };
    if (fw_plan_land(plan, &land, &err) ||
        fw_plan_start(plan, &land, &start, &err) ||
        fw_time_judge(&land, &plan->time, &habits, &start.start, &sums, &err))
        fail_msg("%s", err.text);
    fw_plan_start_release(&start);
    fw_land_release(&land);
    return sums;
}

static void scores_have_the_width_and_what_is_not_fed(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner};
    GEOSContextHandle_t geos = GEOS_init_r();
    int unfed = 0, fed = 0;
    for (size_t o = 0; o < 6; o++) {
        struct fw_farm *farm = farm_of(outlines[o % 3], NULL);
        struct fw_plan_scores scores = {0};
        for (size_t i = 0; o >= 3 && i < farm->fields[0].shape->corner_count;
             i++)
            farm->fields[0].sides[i].hot = FW_NO;
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        for (size_t i = 0; i < scores.count; i++) {
            const struct fw_plan_score *score = &scores.items[i];
            fw_free(farm->layout);
            farm->layout = fw_strdup(score->layout);
            struct fw_plan *plan = plan_of(farm);
            double width_m = HUGE_VAL, longest = 1;
            for (size_t p = 0; p < plan->paddock_count; p++) {
                GEOSGeometry *polygon = polygon_of(geos, &plan->fields[0],
                                                   &plan->paddocks[p].rings, 0);
                double sides[2];
                box_of(geos, polygon, sides);
                /* as wide as such a box of its area would be */
                const double ratio = sides[1] / sides[0];
                width_m = fmin(width_m, sqrt(area_of(geos, polygon) / ratio));
                longest = fmax(longest, ratio);
                GEOSGeom_destroy_r(geos, polygon);
            }
            assert_relative(score->width_m, width_m, 1e-4);
            assert_relative(score->elongation, longest, 1e-4);
            const struct fw_time_sums sums = judged(plan);
            assert_int_equal(score->unfed, sums.faults[FW_TIME_NO_FEED]);
            unfed += score->unfed > 0;
            fed += score->unfed == 0;
            fw_plan_free(plan);
        }
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
    GEOS_finish_r(geos);
    assert_true(unfed > 5 && fed > 5);
}

/* Whatever order of work is told, and with a kit that is not enough, the kit of
 * a plan is what its own moves have up at once. */
static void kit_is_what_the_moves_have_up_at_once(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 16; o++) {
        struct fw_farm *farm = farm_of(outlines[o % 4], o / 8 ? &corner : NULL);
        farm->back_fence = o % 8 < 4;
        farm->work_told = o % 3 > 0;
        farm->work_order = o % 3 == 1 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->kit_given = o % 3 == 0;
        farm->kit = (struct fw_kit){4, 60, 700};
        struct fw_plan *plan = plan_of(farm);
        const struct fw_time_sums sums = judged(plan);
        assert_int_equal(plan->totals.kit.reels, sums.reels);
        assert_int_equal(plan->totals.kit.posts, sums.posts);
        assert_relative(plan->totals.kit.wire_m, sums.wire_m, 1e-9);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Of what the farm owns, the best; beside it is told by how much the work is
 * less with what the best of all layouts takes. */
static void what_the_kit_costs_in_work_is_told(void **state)
{
    (void)state;
    int told = 0;
    for (int posts = 60; posts <= 360; posts += 30) {
        struct fw_farm *farm =
            farm_of(posts % 60 ? &leaning : &rectangle, NULL);
        struct fw_plan_scores scores = {0};
        farm->kit_given = true;
        farm->kit = (struct fw_kit){4, posts, 900};
        assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
        const struct fw_plan_score *own = NULL, *wished = NULL;
        for (size_t i = 0; i < scores.count; i++) {
            own = scores.items[i].chosen ? &scores.items[i] : own;
            wished = scores.items[i].wished ? &scores.items[i] : wished;
        }
        struct fw_plan *plan = plan_of(farm);
        assert_true(own && wished);
        char words[200];
        snprintf(words, sizeof words, "with %d reels, %d posts and",
                 wished->kit.reels, wished->kit.posts);
        bool found = false;
        for (size_t i = 0; i < plan->notes.count; i++)
            found |= strstr(plan->notes.items[i].text, words) &&
                     strstr(plan->notes.items[i].text, wished->layout);
        assert_int_equal(found,
                         own != wished && own->minutes - wished->minutes > 1);
        told += found;
        fw_plan_free(plan);
        fw_plan_scores_release(&scores);
        fw_farm_free(farm);
    }
    assert_true(told > 2);
}

/* By its field or its line, and from the second in one line on by its number.
 */
static void openings_are_called_by_their_line(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    int lines = 0, gates = 0;
    for (size_t o = 0; o < 8; o++) {
        struct fw_farm *farm =
            farm_of(outlines[o % 4], o / 4 ? &leaning : NULL);
        for (size_t f = 0; f < farm->field_count; f++)
            put_spot(farm->fields[f].shape, &farm->fields[f].gate, 0, 0);
        farm->back_fence = o % 2;
        farm->layout = o / 4 ? NULL : fw_strdup("blocks");
        struct fw_plan *plan = plan_of(farm);
        for (size_t g = 0; g < plan->gate_count; g++) {
            const struct fw_plan_gate *gate = &plan->gates[g];
            char wanted[100];
            size_t number = 1;
            for (size_t i = 0; i < g; i++)
                number += plan->gates[i].field == gate->field &&
                          plan->gates[i].fence == gate->fence;
            if (gate->fence == FW_NONE)
                snprintf(wanted, sizeof wanted, "gate %c",
                         'A' + (int)gate->field);
            else if (number == 1)
                snprintf(wanted, sizeof wanted, "opening %s",
                         plan->fences[gate->fence].id);
            else
                snprintf(wanted, sizeof wanted, "opening %s.%zu",
                         plan->fences[gate->fence].id, number);
            assert_string_equal(gate->id, wanted);
            lines += gate->fence != FW_NONE;
            gates += gate->fence == FW_NONE;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(gates > 4 && lines > 40);
}

/* ---- growth by another law ---- */

/* Even grass that waits for its day: to 2,500 kg/ha comes what that law has,
 * and of what stands then four fifths above 1,500 may be taken. */
static void another_shape_of_growth_is_the_other_law(void **state)
{
    (void)state;
    for (int shape = 0; shape < FW_GROWTH_SHAPE_COUNT; shape++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_growth *growth = &farm->fields[0].growth;
        *growth = (struct fw_growth){.rates = {{1, 1, 0, 45}},
                                     .count = 1,
                                     .steady = true,
                                     .shape = (enum fw_growth_shape)shape,
                                     .lat_deg = 58.3};
        struct fw_plan *plan = plan_of(farm);
        struct fw_growth other = *growth, third = *growth;
        other.shape =
            shape == FW_GROWTH_LOGISTIC ? FW_GROWTH_FLAT : FW_GROWTH_LOGISTIC;
        third.rates[0].kg_ha_day = 15;
        double apart = 0;
        for (size_t p = 0; p < plan->paddock_count; p++) {
            const struct fw_plan_paddock *of = &plan->paddocks[p];
            const int day = stay_in(plan, p)->enter;
            const struct {
                const struct fw_growth *growth;
                double kg;
            } rows[] = {{growth, of->usable_kg},
                        {&other, of->other_kg},
                        {&third, of->third_kg}};
            for (size_t i = 0; i < 3; i++) {
                const double stands = fw_growth_stands_kg_ha(
                    rows[i].growth, 2500, farm->start_day, day);
                assert_relative(rows[i].kg, (stands - 1500) * 0.8 * of->area_ha,
                                1e-5);
            }
            assert_relative(of->today_kg, 1000 * 0.8 * of->area_ha, 1e-5);
            apart = fmax(apart, fabs(of->other_kg - of->usable_kg));
        }
        assert_true(apart > 1);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* A paragraph of what grows, or only goes; none where the grass stays as it
 * is. */
static void what_grows_or_goes_is_said(void **state)
{
    (void)state;
    static const struct {
        double growth, loss;
        bool said;
    } rows[] = {{(double)NAN, 0, false},
                {(double)NAN, 0.25, true},
                {30, 0, true},
                {0, 0, true},
                {30, 0.25, true}};
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char *text = NULL;
        plan->fields[0].growth_kg_ha = rows[i].growth;
        plan->fields[0].winter_loss_share = rows[i].loss;
        assert_int_equal(fw_report_text(plan, 0, &text, NULL), FW_OK);
        assert_int_equal(strstr(text, "it lasts") != NULL, rows[i].said);
        fw_bytes_free(text);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- the ground of a plan ---- */

/* From 1, that of the first of its parts; 0: it is whole. */
static void parts_of_one_field_have_its_number(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &leaning);
    struct fw_plan *plan = plan_of(farm);
    static const struct {
        const char *part_of[2];
        size_t whole[2];
    } rows[] = {{{NULL, NULL}, {0, 0}},
                {{"Hill", "Hill"}, {1, 1}},
                {{"Hill", "Dale"}, {1, 2}},
                {{NULL, "Dale"}, {0, 2}},
                {{"Hill", NULL}, {1, 0}}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_land land;
        for (size_t f = 0; f < 2; f++) {
            fw_free(plan->fields[f].part_of);
            plan->fields[f].part_of =
                rows[i].part_of[f] ? fw_strdup(rows[i].part_of[f]) : NULL;
        }
        assert_int_equal(fw_plan_land(plan, &land, NULL), FW_OK);
        for (size_t f = 0; f < 2; f++)
            assert_int_equal(land.fields[f].whole, rows[i].whole[f]);
        fw_land_release(&land);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static bool in_hole(const struct fw_plan_field *field, size_t vertex)
{
    const struct fw_plan_rings *rings = &field->rings;
    for (size_t i = rings->ring_start[1]; i < rings->ring_start[2]; i++)
        if (rings->vertices[i] == vertex)
            return true;
    return false;
}

/* Whatever stands about the field, a pond's edge feeds nothing. */
static void a_line_to_a_pond_is_not_fed_there(void **state)
{
    (void)state;
    int at_pond = 0, at_side = 0;
    for (int hot = FW_UNTOLD; hot <= FW_YES; hot++) {
        struct fw_farm *farm = farm_of(&pond, NULL);
        for (size_t i = 0; i < farm->fields[0].shape->corner_count; i++)
            farm->fields[0].sides[i].hot = (enum fw_answer)hot;
        struct fw_plan *plan = plan_of(farm);
        const struct fw_plan_field *field = &plan->fields[0];
        struct fw_land land;
        assert_int_equal(fw_plan_land(plan, &land, NULL), FW_OK);
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            if (fence->role == FW_FENCE_PERIMETER)
                continue;
            for (size_t e = 0; e < 2; e++) {
                if (land.lines[i].host[e] != FW_NONE)
                    continue;
                const size_t vertex =
                    fence->line[e ? fence->line_count - 1 : 0];
                const enum fw_feeds wanted = in_hole(field, vertex)
                                                 ? FW_FEEDS_NOTHING
                                             : hot == FW_YES ? FW_FEEDS_SURELY
                                             : hot == FW_NO  ? FW_FEEDS_NOTHING
                                                             : FW_FEEDS_PERHAPS;
                assert_int_equal(land.lines[i].feeds[e], wanted);
                *(in_hole(field, vertex) ? &at_pond : &at_side) += 1;
            }
        }
        fw_land_release(&land);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    assert_true(at_pond > 0 && at_side > 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(elongation_is_the_same_from_every_corner),
        cmocka_unit_test(scores_have_the_width_and_what_is_not_fed),
        cmocka_unit_test(kit_is_what_the_moves_have_up_at_once),
        cmocka_unit_test(what_the_kit_costs_in_work_is_told),
        cmocka_unit_test(openings_are_called_by_their_line),
        cmocka_unit_test(another_shape_of_growth_is_the_other_law),
        cmocka_unit_test(what_grows_or_goes_is_said),
        cmocka_unit_test(parts_of_one_field_have_its_number),
        cmocka_unit_test(a_line_to_a_pond_is_not_fed_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
