/* The wires of the moved fence: what they hold, and the grass under them. */
#include "plan_help.h"

#include "live/plan_power.h"

static const struct fw_note *note_with(const struct fw_plan *plan,
                                       const char *piece)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, piece))
            return &plan->notes.items[i];
    return NULL;
}

static void hold_all(struct fw_farm *farm, enum fw_holds holds)
{
    for (size_t f = 0; f < farm->field_count; f++) {
        farm->fields[f].hole_holds = holds;
        for (size_t i = 0; i < farm->fields[f].shape->corner_count; i++)
            farm->fields[f].sides[i].holds = holds;
    }
}

static struct fw_farm *with_lambs(const struct outline *outline)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->moved.height_bottom_m = 0.23;
    return farm;
}

/* Two strands of so much wire stand; a third is half as much again. */
static void a_third_strand_is_offered_for_lambs_at_foot(void **state)
{
    (void)state;
    struct fw_farm *farm = with_lambs(&rectangle);
    struct fw_plan *plan = plan_of(farm);
    char more[64];
    snprintf(more, sizeof more, "about %.0f m more wire and %d more reels",
             plan->totals.kit.wire_m / 2, plan->totals.kit.reels / 2);
    const struct fw_note *note = note_with(plan, "a third strand");
    assert_non_null(note);
    assert_int_equal(note->level, FW_LEVEL_NOTE);
    assert_non_null(strstr(note->text, more));
    assert_non_null(strstr(note->text, "at 23 cm"));
    assert_non_null(strstr(note->text, "23 cm, 46 cm and 69 cm"));
    fw_plan_free(plan);
    farm->moved.strands = 3;
    plan = plan_of(farm);
    assert_null(note_with(plan, "third strand"));
    fw_plan_free(plan);
    /* Out and back two strands are on one reel, and the third on another. */
    farm->moved.strands = 2;
    farm->moved.out_and_back = true;
    farm->moved.reel_m = 1000;
    plan = plan_of(farm);
    snprintf(more, sizeof more, "and %d more reels", plan->totals.kit.reels);
    assert_non_null(note_with(plan, more));
    fw_plan_free(plan);
    farm->moved.out_and_back = false;
    /* 9, 18 and 27 in: Press, 9 June 1956. */
    farm->moved.strands = 2;
    farm->units = FW_US;
    plan = plan_of(farm);
    assert_non_null(note_with(plan, "9 in, 18 in and 27 in"));
    snprintf(more, sizeof more, "about %.0f ft more wire",
             plan->totals.kit.wire_m / 2 / 0.3048);
    assert_non_null(note_with(plan, more));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void grown_sheep_are_told_nothing_of_lambs(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *plan = plan_of(farm);
    assert_null(note_with(plan, "lowest wire"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Both sides of the limit: 25 cm for lambs at foot, 30 cm for weaned ones. */
static void a_lowest_wire_that_they_slip_under_is_warned_of(void **state)
{
    (void)state;
    static const struct {
        enum fw_state state;
        double bottom_m;
        bool warned;
    } rows[] = {
        {FW_LACTATION_TWINS, 0.25, false}, {FW_LACTATION_TWINS, 0.26, true},
        {FW_WEANED_LAMB, 0.30, false},     {FW_WEANED_LAMB, 0.31, true},
        {FW_HOGGET, 0.40, false},
    };
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        farm->classes[0].state = rows[i].state;
        farm->moved.height_bottom_m = rows[i].bottom_m;
        struct fw_plan *plan = plan_of(farm);
        const struct fw_note *note = note_with(plan, "slip under one over");
        assert_int_equal(note != NULL, rows[i].warned);
        assert_true(!note || note->level == FW_LEVEL_WARNING);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

static void lambs_creep_where_the_boundary_holds_them(void **state)
{
    (void)state;
    struct fw_farm *farm = with_lambs(&pond);
    farm->lambs_creep = true;
    farm->moved.height_bottom_m = 0.35;
    hold_all(farm, FW_HOLDS_LAMBS);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_note *note = note_with(plan, "may creep under it");
    assert_non_null(note);
    assert_int_equal(note->level, FW_LEVEL_NOTE);
    assert_non_null(strstr(note->text, "35 cm"));
    assert_null(note_with(plan, "slip under"));
    fw_plan_free(plan);
    /* One side is enough to be dangerous, or the pond's edge. */
    for (int k = 0; k < 3; k++) {
        hold_all(farm, FW_HOLDS_LAMBS);
        if (k == 0)
            farm->fields[0].sides[2].holds = FW_HOLDS_SHEEP;
        else if (k == 1)
            farm->fields[0].hole_holds = FW_HOLDS_SHEEP;
        else
            farm->fields[0].sides[0].holds = FW_HOLDS_UNTOLD;
        plan = plan_of(farm);
        note = note_with(plan, "may creep under the moved fence");
        assert_non_null(note);
        assert_int_equal(note->level, FW_LEVEL_DANGER);
        assert_null(note_with(plan, "and the boundary holds them"));
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

/* ---- the grass under them ---- */

static void stand(struct fw_farm *farm, double height_m)
{
    for (size_t f = 0; f < farm->field_count; f++)
        farm->fields[f].sward = (struct fw_sward){.density_kg_ha_cm = 80,
                                                  .height_m = height_m,
                                                  .leave_m = 0.09,
                                                  .use = 0.8,
                                                  .legume = -1};
}

/* Paces of 75 m/min, out and back, along every line that is set; the work of
 * the moves is longer by just that. */
static void tall_grass_is_laid_flat_and_takes_its_minutes(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&corner, NULL);
    stand(farm, 0.36);
    struct fw_plan *flat = plan_of(farm);
    farm->moved.lay_flat = false;
    farm->layout = fw_strdup(flat->fields[0].layout);
    struct fw_plan *tall = plan_of(farm);
    double more = 0;
    for (size_t i = 0; i < flat->fence_count; i++) {
        const struct fw_plan_fence *fence = &flat->fences[i];
        if (fence->role == FW_FENCE_PERIMETER) {
            assert_near(fence->lay_min, 0, 0);
            continue;
        }
        assert_near(fence->lay_min, 2 * fence->ground_m / 75, 1e-9);
    }
    for (size_t s = 0; s < flat->time.step_count; s++) {
        const struct fw_step *step = &flat->time.steps[s];
        for (size_t k = 0; step->kind == FW_STEP_SET && k < step->lines.count;
             k++)
            more +=
                flat->fences[flat->time.items[step->lines.first + k]].lay_min;
    }
    assert_true(more > 1);
    assert_int_equal(flat->fence_count, tall->fence_count);
    assert_int_equal(flat->time.step_count, tall->time.step_count);
    double with = 0, without = 0;
    for (size_t m = 0; m < flat->time.move_count; m++) {
        with += flat->time.moves[m].minutes;
        without += tall->time.moves[m].minutes;
    }
    assert_near(with - without, more, 1e-6);
    for (size_t i = 0; i < tall->fence_count; i++)
        assert_near(tall->fences[i].lay_min, 0, 0);
    fw_plan_free(tall);
    fw_plan_free(flat);
    fw_farm_free(farm);
}

/* At 35 cm of grass the wire at 35 cm hangs clear. */
static void grass_as_high_as_the_wire_is_left(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    stand(farm, 0.35);
    struct fw_plan *plan = plan_of(farm);
    for (size_t i = 0; i < plan->fence_count; i++)
        assert_near(plan->fences[i].lay_min, 0, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The bottom strand's leakage that day by a rule of the test's own: tall until
 * the flock has left the last paddock beside the line. */
static double wanted_ohm_km(const struct fw_plan *plan, size_t fence, int day,
                            double grass_m, double left_m, bool flat)
{
    const size_t last = plan->fences[fence].to;
    bool tall = true;
    for (size_t i = 0; last != FW_NONE && i < plan->time.stay_count; i++)
        if (plan->time.stays[i].cell == last)
            tall = day < plan->time.stays[i].leave;
    const double high_m = tall ? grass_m : left_m;
    const double wire_m = plan->moved.height_bottom_m;
    return high_m <= wire_m / 2   ? 5000
           : high_m <= wire_m     ? 2000
           : flat                 ? 2000
           : high_m <= 2 * wire_m ? 1000
                                  : 500;
}

static void check_days(const struct fw_plan *plan, double grass_m,
                       double left_m, bool flat, size_t seen[2])
{
    struct fw_error err;
    for (int day = plan->start_day; day < plan->end_day; day++) {
        struct fw_plan_circuit circuit;
        if (fw_plan_circuit_make(plan, day, &circuit, &err))
            fail_msg("%s", err.text);
        for (size_t i = 0; i < circuit.net.section_count; i++) {
            const struct fw_plan_stretch *of = &circuit.stretches[i];
            if (of->fence == FW_NONE || of->strand != 0 ||
                plan->fences[of->fence].role == FW_FENCE_PERIMETER)
                continue;
            const double ohm_km =
                wanted_ohm_km(plan, of->fence, day, grass_m, left_m, flat);
            assert_relative(circuit.net.sections[i].siemens_m,
                            1 / (ohm_km * 1000), 1e-9);
            seen[ohm_km > 4000]++;
        }
        fw_plan_circuit_release(&circuit);
    }
}

/* 0.09 m and a fifth of the rest stay, of 40 cm 15.2 cm: under half of 35 cm.
 */
static void leakage_of_a_day_follows_the_grass_at_the_line(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    size_t seen[2] = {0, 0};
    for (size_t i = 0; i < farm->fields[0].shape->corner_count; i++)
        farm->fields[0].sides[i].hot = FW_YES;
    stand(farm, 0.40);
    farm->all_stand = true; /* block lines between grazed blocks as well */
    farm->layout = fw_strdup("blocks");
    for (int flat = 0; flat < 2; flat++) {
        farm->moved.lay_flat = flat;
        struct fw_plan *plan = plan_of(farm);
        assert_near(plan->fields[0].grass_m, 0.40, 1e-12);
        assert_near(plan->fields[0].left_m, 0.152, 1e-12);
        check_days(plan, 0.40, 0.152, flat, seen);
        fw_plan_free(plan);
    }
    assert_true(seen[0] > 10 && seen[1] > 10);
    fw_farm_free(farm);
}

/* What a farm tells stands, whatever the grass. */
static void leakage_that_is_told_stands(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    stand(farm, 0.60);
    farm->wiring = fw_farm_wiring_default();
    farm->wiring.moved_leak_ohm_km = 1234;
    struct fw_plan *plan = plan_of(farm);
    struct fw_plan_circuit circuit;
    assert_int_equal(
        fw_plan_circuit_make(plan, plan->start_day, &circuit, NULL), FW_OK);
    size_t seen = 0;
    for (size_t i = 0; i < circuit.net.section_count; i++) {
        const struct fw_plan_stretch *of = &circuit.stretches[i];
        if (of->fence == FW_NONE || of->strand != 0 ||
            plan->fences[of->fence].role == FW_FENCE_PERIMETER)
            continue;
        assert_relative(circuit.net.sections[i].siemens_m, 1 / 1234e3, 1e-9);
        seen++;
    }
    assert_true(seen > 0);
    fw_plan_circuit_release(&circuit);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A row of days is one circuit: each of its days has the volts of its first. */
static void check_rows(const struct fw_plan *plan)
{
    for (size_t r = 0; r < plan->power_day_count; r++) {
        const struct fw_plan_power_day *row = &plan->power_days[r];
        for (int day = row->from; day < row->to; day++) {
            struct fw_plan_circuit circuit;
            struct fw_circuit_answer answer;
            assert_int_equal(fw_plan_circuit_make(plan, day, &circuit, NULL),
                             FW_OK);
            assert_int_equal(fw_circuit_solve(&circuit.net, &answer, NULL),
                             FW_OK);
            assert_relative(answer.nodes[0].volts.open_v, row->source_v, 1e-9);
            fw_circuit_answer_release(&answer);
            fw_plan_circuit_release(&circuit);
        }
    }
}

static void days_of_one_row_leak_alike(void **state)
{
    (void)state;
    static const struct outline *const outlines[] = {&rectangle, &corner,
                                                     &leaning, &pond};
    for (size_t k = 0; k < 4; k++)
        for (int way = 0; way < 8; way++) {
            struct fw_farm *farm = farm_of(outlines[k], NULL);
            for (size_t i = 0; i < farm->fields[0].shape->corner_count; i++)
                farm->fields[0].sides[i].hot = FW_YES;
            stand(farm, 0.40);
            farm->all_stand = way & 1;
            farm->back_fence = way & 2;
            farm->stay.days[5] = way & 4 ? 2 : 1;
            farm->stay.days[6] = way & 4 ? 0 : 1;
            struct fw_plan_scores scores = {0};
            assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
            for (size_t i = 0; i < scores.count; i++) {
                struct fw_plan *plan = NULL;
                farm->layout = fw_strdup(scores.items[i].layout);
                if (!fw_plan_make(farm, &plan, NULL))
                    check_rows(plan);
                fw_plan_free(plan);
                fw_free(farm->layout);
                farm->layout = NULL;
            }
            fw_plan_scores_release(&scores);
            fw_farm_free(farm);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_third_strand_is_offered_for_lambs_at_foot),
        cmocka_unit_test(grown_sheep_are_told_nothing_of_lambs),
        cmocka_unit_test(a_lowest_wire_that_they_slip_under_is_warned_of),
        cmocka_unit_test(lambs_creep_where_the_boundary_holds_them),
        cmocka_unit_test(tall_grass_is_laid_flat_and_takes_its_minutes),
        cmocka_unit_test(grass_as_high_as_the_wire_is_left),
        cmocka_unit_test(leakage_of_a_day_follows_the_grass_at_the_line),
        cmocka_unit_test(leakage_that_is_told_stands),
        cmocka_unit_test(days_of_one_row_leak_alike),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
