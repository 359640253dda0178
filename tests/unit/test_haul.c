/* The water of a plan's days: trips by hand, the trough by its own paces, and
 * what the steps say of it. */
#include "plan_help.h"

#include "figures/say.h"
#include "flock/drinks.h"
#include "haul/haul.h"
#include "water/water.h"
#include <foldwright/report.h>

#include <math.h>

static struct fw_farm *farm_with_milk(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].state = FW_LACTATION_TWINS;
    farm->hauling.day = (struct fw_drink_day){FW_AIR_MILD, 0.8};
    farm->tank_l = 300;
    return farm;
}

static int trips(double litres, double carry_l)
{
    int count = 0;
    while (litres > 1e-6) {
        litres -= carry_l;
        count++;
    }
    return count;
}

/* The expected day says how often they drive, the hot one how much must be
 * there; the trough may be what limits a trip. */
static void trips_follow_the_expected_day(void **state)
{
    (void)state;
    const struct {
        double tank_l, trough_l, carry_l;
    } rows[] = {{300, 0, 300}, {300, 170, 170}, {1000, 0, 1000}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_with_milk();
        farm->tank_l = rows[i].tank_l;
        farm->hauling.trough_l = rows[i].trough_l;
        struct fw_plan *plan = plan_of(farm);
        struct fw_drinks one;
        assert_int_equal(
            fw_flock_drinks(farm->classes, &farm->hauling.day, &one, NULL),
            FW_OK);
        const struct fw_plan_totals *totals = &plan->totals;
        assert_near(totals->litres_day, 80 * one.expected_l, 1e-9);
        assert_near(totals->hot_l_day, 80 * one.hot_l, 1e-9);
        assert_near(totals->on_hand_l, 80 * one.on_hand_l, 1e-9);
        assert_int_equal(totals->haul_trips,
                         trips(80 * one.expected_l, rows[i].carry_l));
        assert_int_equal(totals->haul_trips_hot,
                         trips(80 * one.hot_l, rows[i].carry_l));
        assert_true(totals->haul_trips_hot > totals->haul_trips ||
                    rows[i].tank_l > 900);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* A trip's minutes go by the road: the mean over the days in each field. */
static void the_road_is_the_mean_over_the_days(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &leaning);
    farm->tank_l = 300;
    farm->fields[0].road_m = 1000;
    farm->fields[1].road_m = 3000;
    struct fw_plan *plan = plan_of(farm);
    double sum_m = 0, days = 0;
    for (size_t i = 0; i < plan->time.stay_count; i++) {
        const struct fw_time_stay *stay = &plan->time.stays[i];
        const double nights = stay->leave - stay->enter;
        sum_m += nights * (plan->paddocks[stay->cell].field ? 3000 : 1000);
        days += nights;
    }
    assert_true(sum_m / days > 1100 && sum_m / days < 2900);
    assert_near(fw_plan__haul(plan).road_m, sum_m / days, 1e-6);
    plan->hauling.road_m = 500; /* what is told counts */
    assert_near(fw_plan__haul(plan).road_m, 500, 0);
    plan->hauling.road_m = 0;
    plan->fields[1].road_m = 0; /* not known */
    assert_near(fw_plan__haul(plan).road_m, 0, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void nothing_hauled_is_no_trip(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_milk();
    farm->water_moves = false;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->totals.haul_trips, 0);
    assert_int_equal(plan->totals.haul_trips_hot, 0);
    fw_plan_free(plan);
    farm->tank_l = 0;
    plan = plan_of(farm);
    assert_int_equal(plan->totals.haul_trips, -1);
    assert_int_equal(plan->totals.haul_trips_hot, -1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* From where they come in straight to the trough, and the way they look: the
 * angle from north by the plane of a field whose map is true there. */
static void a_trough_is_paced_from_where_they_come_in(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_milk();
    struct fw_plan *plan = plan_of(farm);
    size_t paced = 0;
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const size_t stay = plan->time.moves[m].stay;
        if (stay == FW_NONE)
            continue;
        const size_t water = plan->paddocks[plan->time.stays[stay].cell].water;
        const struct fw_plan_water *trough = &plan->waters[water];
        if (trough->opening == FW_NONE) {
            assert_int_equal(trough->paces, -1);
            continue;
        }
        assert_int_equal(trough->opening, plan->time.moves[m].opening);
        const struct fw_point from = plan->gates[trough->opening].place.plane;
        const double east_m = trough->place.plane.x_m - from.x_m;
        const double north_m = trough->place.plane.y_m - from.y_m;
        assert_true(fabs(trough->paces - hypot(east_m, north_m) / 0.8) <=
                    0.5 + 1e-6);
        double turn = atan2(east_m, north_m) * 180 / 3.14159265358979323846 -
                      trough->bearing_deg;
        turn -= 360 * floor(turn / 360 + 0.5);
        assert_true(fabs(turn) < 1);
        paced++;
    }
    assert_true(paced > 3);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static char *steps_of(const struct fw_plan *plan, size_t move)
{
    char *text = NULL;
    struct fw_error err;
    if (fw_report_move(plan, move, false, &text, &err))
        fail_msg("%s", err.text);
    for (char *c = text; *c; c++) /* words, however they are folded */
        if (*c == '\n')
            *c = ' ';
    char *to = text;
    for (char *c = text; *c; c++)
        if (*c != ' ' || (to > text && to[-1] != ' '))
            *to++ = *c;
    *to = 0;
    return text;
}

static void the_step_says_where_and_what_to_fill(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_milk();
    struct fw_plan *plan = plan_of(farm);
    const size_t move = 2;
    const struct fw_plan_paddock *to =
        &plan->paddocks[plan->time.stays[plan->time.moves[move].stay].cell];
    const struct fw_plan_water *trough = &plan->waters[to->water];
    char words[300], a[FW_SAID], b[FW_SAID];
    snprintf(words, sizeof words,
             "Trough into %s, %d paces from the opening in %s, bearing "
             "%.0f (",
             to->id, trough->paces,
             plan->fences[plan->gates[trough->opening].fence].id,
             trough->bearing_deg);
    char *text = steps_of(plan, move);
    if (!strstr(text, words))
        fail_msg("no \"%s\" in %s", words, text);
    snprintf(words, sizeof words,
             "). Fill %s a day, in heat %s; it stays until Thu 20 May. "
             "Mineral last, well away. No full trough is shifted: two "
             "leapfrog, or they "
             "drink the old one down.",
             fw_say_volume(plan->totals.litres_day, plan->units, a),
             fw_say_volume(plan->totals.hot_l_day, plan->units, b));
    if (!strstr(text, words))
        fail_msg("no \"%s\" in %s", words, text);
    fw_bytes_free(text);
    text = steps_of(plan, 0); /* there is no old one */
    assert_null(strstr(text, "leapfrog"));
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Wet grass can cover a dry ewe whole. */
static void dry_ewes_on_wet_grass_may_hardly_drink(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->hauling.day = (struct fw_drink_day){FW_AIR_COOL, 0.85};
    farm->tank_l = 300;
    struct fw_plan *plan = plan_of(farm);
    assert_near(plan->totals.litres_day, 0, 0);
    assert_int_equal(plan->totals.haul_trips, 0);
    char words[100], litres[FW_SAID];
    assert_true(plan->totals.on_hand_l > 80);
    snprintf(words, sizeof words, "they may hardly drink, have %s by; it stays",
             fw_say_volume(plan->totals.on_hand_l, plan->units, litres));
    char *text = steps_of(plan, 0);
    assert_non_null(strstr(text, words));
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The long side of such a field is far from water at its gate. */
static void a_far_walk_is_told_with_its_source(void **state)
{
    (void)state;
    const double wide_m[] = {240, 700};
    for (size_t i = 0; i < 2; i++) {
        struct outline outline = {
            4, {{0, 0}, {wide_m[i], 0}, {wide_m[i], 60}, {0, 60}}, 0};
        struct fw_farm *farm = farm_of(&outline, NULL);
        farm->back_fence = false;
        farm->water_moves = false;
        farm->fields[0].water.given = true;
        farm->fields[0].water.point = farm->fields[0].shape->vertices[0].plane;
        struct fw_plan *plan = plan_of(farm);
        const struct fw_note *said = NULL;
        for (size_t k = 0; k < plan->notes.count; k++)
            if (strstr(plan->notes.items[k].text, "walk to water"))
                said = &plan->notes.items[k];
        const bool far = plan->totals.walk_max_m > 250;
        assert_int_equal(said != NULL, far);
        assert_int_equal(far, i == 1);
        if (said) {
            assert_int_equal(said->level, FW_LEVEL_WARNING);
            assert_non_null(strstr(
                said->text, fw_water_distance_word(plan->totals.walk_max_m)));
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(trips_follow_the_expected_day),
        cmocka_unit_test(the_road_is_the_mean_over_the_days),
        cmocka_unit_test(nothing_hauled_is_no_trip),
        cmocka_unit_test(a_trough_is_paced_from_where_they_come_in),
        cmocka_unit_test(the_step_says_where_and_what_to_fill),
        cmocka_unit_test(dry_ewes_on_wet_grass_may_hardly_drink),
        cmocka_unit_test(a_far_walk_is_told_with_its_source),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
