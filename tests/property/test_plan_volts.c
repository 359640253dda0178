/* What a plan says of its energizer, its earth and its volts, held against the
 * volts of its own rows, on farms with wires, soils and energizers at random.
 */
#include "random_plan.h"

#include "live/plan_power.h"

enum { farms = 36 };

/* ---- wires at random ---- */

static void draw_wiring(uint64_t *seed, struct fw_farm *farm)
{
    static const double soils_ohm_m[] = {20, 100, 400, 2000};
    static const double wires_ohm_m[] = {0.05, 2.5, 3.8, 13};
    struct fw_farm_wiring *wiring = &farm->wiring;
    wiring->soil_ohm_m = soils_ohm_m[draw_count(seed, 0, 3)];
    wiring->moved_ohm_m = wires_ohm_m[draw_count(seed, 0, 3)];
    wiring->moved_leak_ohm_km = chance(seed, 0.5) ? draw(seed, 200, 5000) : 0;
    wiring->far_hooked = chance(seed, 0.3);
    wiring->moves = chance(seed, 0.2);
    wiring->rods = chance(seed, 0.3) ? (int)draw_count(seed, 1, 6) : 0;
    wiring->earth_ohm = chance(seed, 0.2) ? draw(seed, 5, 200) : 0;
    wiring->lead_m = chance(seed, 0.3) ? draw(seed, 0, 300) : -1;
    wiring->open_v = chance(seed, 0.2) ? draw(seed, 4000, 12000) : 0;
    farm->energizer_j = chance(seed, 0.3) ? draw(seed, 0.2, 9) : 0;
    farm->rule_told = chance(seed, 0.4);
    farm->joule_rule =
        (enum fw_joule_rule)draw_count(seed, FW_RULE_MILE, FW_RULE_KM);
    farm->kit_given = false;
    farm->layout = NULL;
    if (chance(seed, 0.5))
        for (size_t i = 0; i < farm->field_count; i++)
            for (size_t k = 0; k < farm->fields[i].shape->corner_count; k++)
                farm->fields[i].sides[k].hot = FW_YES;
}

/* ---- notes ---- */

static const struct fw_note *note_of(const struct fw_plan *plan,
                                     const char *where, const char *piece)
{
    const struct fw_note *found = NULL;
    for (size_t i = 0; i < plan->notes.count; i++)
        if ((!where || !strcmp(plan->notes.items[i].where, where)) &&
            strstr(plan->notes.items[i].text, piece)) {
            assert_null(found);
            found = &plan->notes.items[i];
        }
    return found;
}

static void is_noted(const struct fw_plan *plan, const char *where,
                     const char *piece, bool wanted)
{
    if ((note_of(plan, where, piece) != NULL) != wanted)
        fail_msg("%s: \"%s\" is %s", where ? where : "", piece,
                 wanted ? "not said" : "said");
}

static void look_at_energizer(const struct fw_farm *farm,
                              const struct fw_plan *plan)
{
    const struct fw_energizer *energizer = &plan->energizer;
    const bool given = farm->energizer_j > 0 || farm->wiring.open_v > 0;
    is_noted(plan, "energizer", "is over the 5 J", energizer->joules > 5);
    assert_int_equal(energizer->given, given);
    if (farm->energizer_j > 0)
        assert_near(energizer->joules, farm->energizer_j, 1e-9);
    if (farm->wiring.open_v > 0) {
        assert_near(plan->power.open_v, farm->wiring.open_v, 1e-9);
        assert_string_equal(energizer->rule_source, "its data sheet");
    } else if (given) {
        assert_string_equal(energizer->rule_source, "the farm's own");
    }
    assert_near(plan->power.least_j, farm->rule_told ? energizer->need_j : 0,
                0);
    if (!given && farm->rule_told)
        assert_true(energizer->joules >= energizer->need_j ||
                    energizer->joules >= 5);
    /* What the last rod reads while the fence is shorted: Ohm's law, less the
     * volts that are left on the fence. */
    const struct fw_plan_power *power = &plan->power;
    const double shorted = power->rod_test_v *
                           (power->internal_ohm + power->earth_ohm) /
                           power->earth_ohm;
    assert_true(shorted <= power->open_v && shorted >= power->open_v - 2500);
    if (farm->wiring.earth_ohm > 0)
        assert_near(power->earth_ohm, farm->wiring.earth_ohm, 1e-9);
}

static void look_at_earth(const struct fw_farm *farm,
                          const struct fw_plan *plan)
{
    const struct fw_farm_wiring *wiring = &farm->wiring;
    const bool hopeless =
        plan->power.decided == FW_EARTH_MOST && !(wiring->earth_ohm > 0);
    is_noted(plan, "earth", "no number of rods", hopeless);
    char text[80];
    snprintf(text, sizeof text, "%d rod%s driven; %d are asked for",
             wiring->rods, wiring->rods > 1 ? "s are" : " is",
             plan->energizer.rods);
    is_noted(plan, "earth", text,
             !hopeless && wiring->rods > 0 &&
                 wiring->rods < plan->energizer.rods);
    is_noted(plan, "earth-return", "Between both kinds of wire",
             plan->power.earth_return && fw_plan_worst_day(plan) != FW_NONE);
    if (wiring->moves) {
        assert_int_equal(plan->energizer.rods, 1);
        assert_true(plan->energizer.rod_m <= 1);
    }
    if (plan->power.earth_return)
        assert_true(plan->moved.strands > 1 && !plan->moved.out_and_back);
}

/* ---- volts ---- */

static void look_at_rows(const struct fw_plan *plan)
{
    size_t worst_bad = FW_NONE, bad = 0;
    for (size_t i = 0; i < plan->power_day_count; i++) {
        const struct fw_plan_power_day *row = &plan->power_days[i];
        const bool enough = row->fence == FW_NONE ||
                            (row->least_open_v >= plan->energizer.open_v &&
                             row->touched_v >= plan->energizer.touched_v);
        assert_int_equal(row->enough, enough);
        assert_true(row->source_v >= row->least_open_v - 1e-6);
        assert_true(row->open_v >= row->touched_v - 1e-6);
        assert_true(row->source_v <= plan->power.open_v + 1e-6);
        if (row->fence == FW_NONE) {
            assert_near(row->touched_v + row->least_open_v + row->alone_v, 0,
                        0);
        } else {
            assert_true(row->at_m >= 0 &&
                        row->at_m <= plan->fences[row->fence].length_m * 1.001);
            if (!plan->power.earth_return)
                assert_near(row->alone_v, row->touched_v, 1e-6);
        }
        bad += !row->enough;
        if (!row->enough &&
            (worst_bad == FW_NONE ||
             row->touched_v < plan->power_days[worst_bad].touched_v))
            worst_bad = i;
    }
    const struct fw_note *note = note_of(plan, NULL, "a sheep would feel");
    assert_int_equal(note != NULL, bad > 0);
    if (!note)
        return;
    const struct fw_plan_power_day *row = &plan->power_days[worst_bad];
    char text[120], day[FW_DATE_TEXT];
    snprintf(text, sizeof text, "on %s a sheep would feel %.1f kV",
             fw_date_write(row->from, day), floor(row->touched_v / 100) / 10);
    assert_non_null(strstr(note->text, text));
    assert_string_equal(note->where, plan->fences[row->fence].id);
}

/* What has no path is named, and each such line is found at its middle. */
static void look_at_dead(const struct fw_plan *plan)
{
    size_t lines = 0, sides = 0, found = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const bool dead = fence->volts_known && !(fence->open_v > 0);
        const bool side = fence->role == FW_FENCE_PERIMETER;
        lines += dead && !side;
        sides += dead && side;
        for (size_t k = 0; k < plan->finding_count; k++)
            if (!strcmp(plan->findings[k].rule, "no-path") &&
                plan->findings[k].fence == i) {
                assert_true(dead && !side);
                assert_true(plan->findings[k].place.given);
                found++;
            }
    }
    assert_int_equal(found, lines);
    is_noted(plan, NULL, "no path to the energizer", lines > 0);
    is_noted(plan, NULL, "in this sum it is dead", sides > 0);
    const struct fw_note *note =
        note_of(plan, NULL, "no path to the energizer");
    size_t named = note != NULL;
    for (const char *c = note ? note->where : ""; *c; c++)
        named += *c == ',';
    assert_int_equal(named, lines < 6 ? lines : 6);
    char more[40];
    snprintf(more, sizeof more, " and %zu more", lines - 6);
    assert_int_equal(note && strstr(note->where, more), lines > 6);
}

/* A battery holds what is drawn between charges, and some beyond; watts over
 * volts. */
static void look_at_feeding(const struct fw_plan *plan)
{
    struct fw_plan other = *plan;
    struct fw_plan_feeding one, half;
    other.wiring.charge_days /= 2;
    other.wiring.interval_s *= 2;
    assert_int_equal(fw_plan_feed(plan, &one, NULL), FW_OK);
    assert_int_equal(fw_plan_feed(&other, &half, NULL), FW_OK);
    assert_near(one.draw_a, one.draw_w / 12, 1e-12);
    assert_near(half.draw_a, half.draw_w / 12, 1e-12);
    assert_true(half.draw_w < one.draw_w && half.draw_w >= one.draw_w / 2);
    const double used_ah = one.draw_a * 24 * plan->wiring.charge_days;
    assert_true(one.battery_ah >= used_ah && one.battery_ah <= 3 * used_ah);
    assert_true(half.battery_ah < one.battery_ah);
    /* A month is 30 days or a twelfth of a year. */
    assert_true(one.kwh_month >= one.draw_w * 24 * 30 / 1000 - 1e-9 &&
                one.kwh_month <= one.draw_w * 24 * 30.5 / 1000 + 1e-9);
    other = *plan;
    other.wiring.sun_h /= 2;
    assert_int_equal(fw_plan_feed(&other, &half, NULL), FW_OK);
    assert_true(half.panel_w == 0 || half.panel_w >= one.panel_w);
    assert_true(half.panel_w == 0 || one.panel_w > 0);
}

/* ---- all of it ---- */

static void volts_are_told_as_they_are(void **state)
{
    (void)state;
    uint64_t seed = seeded(305);
    size_t made = 0, short_of = 0, dead = 0, returns = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_farm(&seed);
        fw_free(farm->layout);
        draw_wiring(&seed, farm);
        struct fw_plan *plan = plan_at_random(farm);
        if (plan) {
            look_at_energizer(farm, plan);
            look_at_earth(farm, plan);
            look_at_rows(plan);
            look_at_dead(plan);
            look_at_feeding(plan);
            short_of += note_of(plan, NULL, "a sheep would feel") != NULL;
            dead += note_of(plan, NULL, "no path to the energizer") != NULL;
            returns += plan->power.earth_return;
            made++;
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu plans, %zu short of volts, %zu with dead lines, %zu "
                  "with a return\n",
                  made, short_of, dead, returns);
    assert_true(made > farms / 2 && short_of > 0 && returns > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(volts_are_told_as_they_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
