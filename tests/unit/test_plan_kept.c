/* A plan tried on its own page of cautions: what it does not keep is found,
 * what it keeps is not, on either side of each figure. */
#include "plan_help.h"

static const struct fw_plan_finding *find(const struct fw_plan *plan,
                                          const char *rule)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (strcmp(plan->findings[i].rule, rule) == 0)
            return &plan->findings[i];
    return NULL;
}

static const char *tried(const struct fw_plan *plan, const char *caution)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (strcmp(plan->cautions[i].id, caution) == 0)
            return plan->cautions[i].tried;
    fail_msg("the page has no \"%s\"", caution);
    return "";
}

static bool on_page(const struct fw_plan *plan, const char *caution)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (strcmp(plan->cautions[i].id, caution) == 0)
            return true;
    return false;
}

/* The plan of the farm, which is freed. */
static struct fw_plan *take_plan(struct fw_farm *farm)
{
    struct fw_plan *plan = plan_of(farm);
    fw_farm_free(farm);
    return plan;
}

static void assert_says(const struct fw_plan *plan, const char *rule,
                        enum fw_level level, const char *words)
{
    const struct fw_plan_finding *found = find(plan, rule);
    if (!found)
        fail_msg("nothing is found of \"%s\"", rule);
    if (!strstr(found->text, words))
        fail_msg("%s; expected %s", found->text, words);
    assert_int_equal(found->level, level);
    assert_false(found->measured);
    assert_false(found->place.given);
    assert_true(found->source[0] != '\0');
}

/* ---- worms: leave 8 cm, and no more than 4 days ---- */

static void grass_left_too_short_is_found(void **state)
{
    (void)state;
    /* 1 lb/(acre in) is 0.4413 kg/(ha cm): timothy and legume that stands good
     * weighs 275 of those (Cornell and NRCS pasture stick, 250 to 300). */
    const double kg_ha_cm = 275 * 0.45359237 / 0.40468564224 / 2.54;
    static const struct {
        double leave_cm; /* told so, or as the mass of so much */
        bool by_mass, us;
        const char *words; /* NULL: it is enough */
    } rows[] = {
        {7, false, false, "7 cm of grass are left"},
        {7.99, false, false, "7.9 cm of grass are left"},
        {8, false, false, NULL},
        {10, false, false, NULL},
        {7.62, false, true, "3 in of grass are left"},
        {7.9, true, false, "7.9 cm of grass are left"},
        {8.01, true, false, NULL},
        {7, true, false, "7 cm of grass are left"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_sward *sward = &farm->fields[0].sward;
        *sward = (struct fw_sward){.name = "timothy-legume",
                                   .density = FW_DENSITY_GOOD,
                                   .height_m = 0.2,
                                   .legume = 0.1};
        if (rows[i].by_mass) {
            sward->mass_kg_ha = 20 * kg_ha_cm;
            sward->residual_kg_ha = rows[i].leave_cm * kg_ha_cm;
            sward->leave_m = 0.2; /* the mass goes before it */
        } else {
            sward->leave_m = rows[i].leave_cm / 100;
        }
        farm->units = rows[i].us ? FW_US : FW_METRIC;
        struct fw_plan *plan = take_plan(farm);
        if (rows[i].words)
            assert_says(plan, "worms-left", FW_LEVEL_WARNING, rows[i].words);
        else
            assert_null(find(plan, "worms-left"));
        assert_string_equal(tried(plan, "worms"),
                            rows[i].words ? "broken" : "kept");
        fw_plan_free(plan);
    }
}

static void a_mass_alone_does_not_tell_how_high_it_is_left(void **state)
{
    (void)state;
    struct fw_plan *plan = take_plan(farm_of(&rectangle, NULL));
    assert_null(find(plan, "worms-left"));
    assert_string_equal(tried(plan, "worms"), "no");
    bool said = false;
    for (size_t i = 0; i < plan->finding_count; i++)
        said |= strstr(plan->findings[i].text, "how high the grass is left") !=
                NULL;
    assert_true(said);
    fw_plan_free(plan);
}

static void days_on_end_in_a_paddock_are_counted(void **state)
{
    (void)state;
    static const struct {
        int days;
        enum fw_season season;
    } rows[] = {{4, FW_SEASON_GROWTH},
                {5, FW_SEASON_GROWTH},
                {7, FW_SEASON_GROWTH},
                {7, FW_SEASON_DORMANT}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        for (int k = 0; k < 7; k++)
            farm->stay.days[k] = rows[i].days;
        farm->stay_told = true;
        farm->season = rows[i].season;
        struct fw_plan *plan = take_plan(farm);
        /* By the stays themselves: with a back fence nothing else is theirs. */
        size_t over = 0;
        int most = 0;
        for (size_t s = 0; s < plan->time.stay_count; s++) {
            const struct fw_nights nights = fw_time_nights(&plan->time, s);
            over += nights.to - nights.from > 4;
            if (nights.to - nights.from > most)
                most = nights.to - nights.from;
        }
        assert_int_equal(most, rows[i].days);
        if (most <= 4) {
            assert_null(find(plan, "worms-days"));
        } else {
            char words[64], more[64];
            snprintf(words, sizeof words, "for %d nights on end", most);
            snprintf(more, sizeof more, "and %zu more", over - 1);
            const enum fw_level level = rows[i].season == FW_SEASON_GROWTH
                                            ? FW_LEVEL_WARNING
                                            : FW_LEVEL_NOTE;
            assert_says(plan, "worms-days", level, words);
            if (over > 1)
                assert_says(plan, "worms-days", level, more);
        }
        fw_plan_free(plan);
    }
}

/* From Monday to Friday are four nights, from there to the second Monday ten.
 */
static void stays_of_just_four_days_are_not_counted(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (int k = 0; k < 7; k++)
        farm->stay.days[k] = k == 0 ? 4 : k == 4 ? 10 : 0;
    farm->stay_told = true;
    struct fw_plan *plan = take_plan(farm);
    size_t four = 0, ten = 0;
    for (size_t s = 0; s < plan->time.stay_count; s++) {
        const struct fw_nights nights = fw_time_nights(&plan->time, s);
        four += nights.to - nights.from == 4;
        ten += nights.to - nights.from == 10;
    }
    assert_true(four > 0 && ten > 1);
    char words[64];
    snprintf(words, sizeof words, "on end, and %zu more for over 4: ", ten - 1);
    assert_says(plan, "worms-days", FW_LEVEL_WARNING, words);
    fw_plan_free(plan);
}

/* One paddock that feeds them for a week, and no fence to move. */
static void a_field_that_is_one_paddock_has_no_more(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    for (int k = 0; k < 7; k++)
        farm->stay.days[k] = 7;
    farm->stay_told = true;
    farm->classes[0].head = 340;
    farm->classes[0].state = FW_LAMB_AT_FOOT;
    struct fw_plan *plan = take_plan(farm);
    assert_int_equal(plan->paddock_count, 1);
    assert_int_equal(plan->totals.kit.reels, 0);
    assert_says(plan, "worms-days", FW_LEVEL_WARNING,
                "they have A01 for 7 nights on end: ");
    assert_null(find(plan, "lambs-wire"));
    fw_plan_free(plan);
}

/* Ground that stays open behind them is theirs on. */
static void open_ground_behind_them_counts_on(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->back_fence = false;
    farm->stay_told = true;
    struct fw_plan *plan = take_plan(farm);
    assert_true(plan->time.stay_count > 5);
    assert_non_null(find(plan, "worms-days"));
    fw_plan_free(plan);
}

/* ---- wires ---- */

static void lambs_under_a_high_wire_are_found(void **state)
{
    (void)state;
    static const struct {
        double lowest_m;
        enum fw_state state;
        enum fw_holds holds;
        int level; /* -1: nothing is found */
        const char *words;
    } rows[] = {
        {0.35, FW_LACTATION_TWINS, FW_HOLDS_SHEEP, FW_LEVEL_WARNING,
         "the lowest wire is at 35 cm:"},
        {0.2501, FW_LAMB_AT_FOOT, FW_HOLDS_SHEEP, FW_LEVEL_WARNING,
         "at 25.1 cm:"},
        {0.35, FW_LACTATION_SINGLE, FW_HOLDS_LAMBS, FW_LEVEL_NOTE,
         "only the boundary holds lambs"},
        {0.25, FW_LACTATION_TWINS, FW_HOLDS_SHEEP, -1, ""},
        {0.35, FW_DRY, FW_HOLDS_SHEEP, -1, ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->moved.height_bottom_m = rows[i].lowest_m;
        farm->classes[0].state = rows[i].state;
        for (size_t k = 0; k < 4; k++)
            farm->fields[0].sides[k].holds = rows[i].holds;
        struct fw_plan *plan = take_plan(farm);
        if (rows[i].level >= 0)
            assert_says(plan, "lambs-wire", (enum fw_level)rows[i].level,
                        rows[i].words);
        else
            assert_null(find(plan, "lambs-wire"));
        /* A note is no breach. */
        if (rows[i].state != FW_DRY)
            assert_string_equal(tried(plan, "lambs-wire"),
                                rows[i].level == FW_LEVEL_WARNING ? "broken"
                                                                  : "kept");
        fw_plan_free(plan);
    }
}

/* Sides that hold lambs are not enough where the edge of a pond does not. */
static void a_pond_that_holds_no_lambs_is_a_way_out(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        struct fw_farm *farm = farm_of(&pond, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        farm->classes[0].state = FW_LAMB_AT_FOOT;
        for (size_t i = 0; i < field->shape->corner_count; i++)
            field->sides[i].holds = FW_HOLDS_LAMBS;
        field->hole_holds = k ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP;
        struct fw_plan *plan = take_plan(farm);
        assert_says(plan, "lambs-wire", k ? FW_LEVEL_NOTE : FW_LEVEL_WARNING,
                    "at 35 cm");
        fw_plan_free(plan);
    }
}

/* ---- water ---- */

static void paddocks_without_water_are_found(void **state)
{
    (void)state;
    for (int moves = 0; moves < 2; moves++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->water_moves = moves;
        struct fw_plan *plan = take_plan(farm);
        size_t dry = 0;
        for (size_t i = 0; i < plan->paddock_count; i++)
            dry += plan->paddocks[i].water == FW_NONE;
        assert_int_equal(dry, moves ? 0 : plan->paddock_count);
        if (moves) {
            assert_null(find(plan, "no-water"));
        } else {
            char words[64];
            snprintf(words, sizeof words, "%zu of %zu paddocks, first %s", dry,
                     plan->paddock_count, plan->paddocks[0].id);
            assert_says(plan, "no-water", FW_LEVEL_DANGER, words);
        }
        assert_string_equal(tried(plan, "water-first"),
                            moves ? "kept" : "broken");
        /* The card carries it before it opens. */
        assert_null(find(plan, "water-first"));
        fw_plan_free(plan);
    }
}

/* ---- legumes ---- */

static void a_sward_of_legumes_is_found(void **state)
{
    (void)state;
    static const double shares[] = {-1, 0, 0.3, 0.5, 0.51, 1};
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->fields[0].sward.legume = shares[i];
        struct fw_plan *plan = take_plan(farm);
        if (shares[i] > 0.5)
            assert_says(plan, "bloat", FW_LEVEL_WARNING,
                        "of the sward are legumes");
        else
            assert_null(find(plan, "bloat"));
        fw_plan_free(plan);
    }
}

/* Lambing from 10 to 20 April 2028 is tupping from 15 to 25 November 2027 (147
 * days before), and six weeks round it 4 October to 6 January. */
static void clover_at_tupping_is_found_by_the_dates_of_lambing(void **state)
{
    (void)state;
    static const struct {
        const char *start;
        double legume;
        bool found;
    } rows[] = {
        {"2027-11-01", 0.3, true},  {"2027-11-01", -1, true},
        {"2027-11-01", 0, false},   {"2028-01-06", 0.3, true},
        {"2028-01-07", 0.3, false}, {"2027-05-17", 0.3, false},
        {"2027-09-01", 0.3, false}, {"2027-10-01", 0.3, true},
        {"2027-10-04", 0.3, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->lambing.given = true;
        assert_int_equal(fw_date_read("2028-04-10", &farm->lambing.from, NULL),
                         FW_OK);
        assert_int_equal(fw_date_read("2028-04-20", &farm->lambing.to, NULL),
                         FW_OK);
        assert_int_equal(fw_date_read(rows[i].start, &farm->start_day, NULL),
                         FW_OK);
        farm->fields[0].sward.legume = rows[i].legume;
        struct fw_plan *plan = take_plan(farm);
        assert_int_equal(find(plan, "red-clover") != NULL, rows[i].found);
        /* The page has it on those days, whatever the share that was told. */
        if (rows[i].legume != 0)
            assert_int_equal(on_page(plan, "red-clover"), rows[i].found);
        if (rows[i].found)
            assert_string_equal(tried(plan, "red-clover"), "broken");
        if (i == 3)
            assert_says(plan, "red-clover", FW_LEVEL_WARNING,
                        "from 2028-01-06 to 2028-01-06");
        fw_plan_free(plan);
    }
}

/* 2,400 head eat 4,800 kg in a day: all there is. A field of one stay is looked
 * at as any other: its one night is before the six weeks, their first or their
 * last one, or after them. */
static void clover_at_tupping_is_found_on_a_field_of_one_stay(void **state)
{
    (void)state;
    static const struct {
        const char *night;
        bool found;
    } rows[] = {{"2027-10-03", false},
                {"2027-10-04", true},
                {"2027-11-01", true},
                {"2028-01-06", true},
                {"2028-01-07", false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->lambing.given = true;
        assert_int_equal(fw_date_read("2028-04-10", &farm->lambing.from, NULL),
                         FW_OK);
        farm->lambing.to = farm->lambing.from + 10;
        assert_int_equal(fw_date_read(rows[i].night, &farm->start_day, NULL),
                         FW_OK);
        farm->classes[0].head = 2400;
        struct fw_plan *plan = take_plan(farm);
        assert_int_equal(plan->time.stay_count, 1);
        if (rows[i].found) {
            char words[80];
            snprintf(words, sizeof words, "from %s to %s", rows[i].night,
                     rows[i].night);
            assert_says(plan, "red-clover", FW_LEVEL_WARNING, words);
        } else {
            assert_null(find(plan, "red-clover"));
        }
        fw_plan_free(plan);
    }
}

/* Without dates of lambing ewes that may be put to a ram are meant, and nothing
 * is tried. */
static void clover_without_dates_goes_by_the_classes(void **state)
{
    (void)state;
    static const enum fw_state states[] = {FW_DRY, FW_EARLY_GESTATION,
                                           FW_LATE_GESTATION,
                                           FW_LACTATION_TWINS, FW_RAM};
    for (size_t i = 0; i < sizeof states / sizeof *states; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->classes[0].state = states[i];
        farm->fields[0].sward.legume = 0.3;
        struct fw_plan *plan = take_plan(farm);
        assert_int_equal(on_page(plan, "red-clover"), i < 2);
        if (i < 2)
            assert_string_equal(tried(plan, "red-clover"), "no");
        assert_null(find(plan, "red-clover"));
        fw_plan_free(plan);
    }
}

static void fescue_is_told_where_it_may_grow(void **state)
{
    (void)state;
    static const struct {
        const char *sward;
        bool told;
    } rows[] = {{"", true},
                {"mixed", true},
                {"fescue-legume", true},
                {"timothy-legume", false},
                {"ryegrass-clover", false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        snprintf(farm->fields[0].sward.name, sizeof farm->fields[0].sward.name,
                 "%s", rows[i].sward);
        struct fw_plan *plan = take_plan(farm);
        assert_int_equal(on_page(plan, "fescue"), rows[i].told);
        fw_plan_free(plan);
    }
}

/* ---- signs ---- */

static void signs_hung_wider_than_is_in_use_are_found(void **state)
{
    (void)state;
    static const struct {
        double path_m, road_m;
        const char *rule; /* NULL: neither */
    } rows[] = {{0, 0, NULL},
                {50, 90, NULL},
                {51, 90, "path-signs"},
                {50, 91, "road-signs"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->sign_path_m = rows[i].path_m;
        farm->sign_road_m = rows[i].road_m;
        struct fw_plan *plan = take_plan(farm);
        for (size_t k = 2; k < 4; k++) {
            const bool wanted =
                rows[i].rule && strcmp(rows[i].rule, rows[k].rule) == 0;
            assert_int_equal(find(plan, rows[k].rule) != NULL, wanted);
        }
        fw_plan_free(plan);
    }
}

/* ---- what a person has looked at ---- */

static const char *maps_missing(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (strstr(plan->findings[i].text, "for want of a map"))
            return plan->findings[i].text;
    return "";
}

static void what_a_person_looked_at_is_told_as_such(void **state)
{
    (void)state;
    for (int dated = 0; dated < 2; dated++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        farm->looked =
            1U << FW_ROLE_ROAD | 1U << FW_ROLE_TELECOM | FW_LOOKED_STEEP;
        farm->looked_day = FW_NO_DAY;
        if (dated)
            assert_int_equal(
                fw_date_read("2027-05-10", &farm->looked_day, NULL), FW_OK);
        struct fw_plan *plan = take_plan(farm);
        assert_says(plan, "looked", FW_LEVEL_NOTE,
                    dated ? "looked at by a person on 2027-05-10: telecom, "
                            "road, steep"
                          : "looked at by a person, on a day that is not told: "
                            "telecom, road, steep");
        assert_null(strstr(maps_missing(plan), "telecom"));
        assert_null(strstr(maps_missing(plan), "road"));
        assert_null(strstr(maps_missing(plan), "slopes"));
        assert_non_null(strstr(maps_missing(plan), "power-line, path"));
        for (size_t i = 0; i < plan->untold.count; i++)
            assert_null(strstr(plan->untold.items[i].text, "nearest road"));
        assert_string_equal(tried(plan, "steep"), "looked");
        assert_string_equal(tried(plan, "power-line"), "no");
        assert_string_equal(tried(plan, "heart"), "");
        fw_plan_free(plan);
    }
}

static void nobody_looked_and_it_is_asked(void **state)
{
    (void)state;
    struct fw_plan *plan = take_plan(farm_of(&rectangle, NULL));
    bool asked = false;
    for (size_t i = 0; i < plan->untold.count; i++)
        asked |= strstr(plan->untold.items[i].text, "nearest road") != NULL;
    assert_true(asked);
    assert_null(find(plan, "looked"));
    assert_non_null(strstr(maps_missing(plan), "road"));
    assert_string_equal(tried(plan, "steep"), "no");
    fw_plan_free(plan);
}

/* A map that is there is tried: the road far off is kept, the one on the fence
 * is not. */
static void a_caution_that_a_map_shows_is_kept_or_broken(void **state)
{
    (void)state;
    static const double far[2][2] = {{-100, -90}, {400, -90}};
    static const double on[2][2] = {{100, -50}, {100, 250}};
    for (int k = 0; k < 2; k++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        for (size_t i = 0; i < 4; i++)
            farm->fields[0].sides[i] =
                (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
        add_feature(farm, FW_ROLE_ROAD, false, k ? on : far, 2);
        struct fw_plan *plan = take_plan(farm);
        assert_string_equal(tried(plan, "road-cross"), k ? "broken" : "kept");
        fw_plan_free(plan);
    }
}

/* Where the energizer stands has to be told too, and every map that its earth
 * keeps from has to be there. */
static void the_earth_is_tried_where_the_energizer_is_told(void **state)
{
    (void)state;
    static const double far[2][2] = {{-100, -90}, {400, -90}};
    static const double block[3][2] = {{-90, -90}, {-80, -90}, {-80, -80}};
    for (int k = 0; k < 3; k++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        for (size_t i = 0; i < 4; i++)
            farm->fields[0].sides[i] =
                (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
        add_feature(farm, FW_ROLE_BUILDING, true, block, 3);
        add_feature(farm, FW_ROLE_TELECOM, false, far, 2);
        if (k < 2)
            add_feature(farm, FW_ROLE_POWER_LINE, false, far, 2);
        farm->energizer.given = k > 0;
        farm->energizer.point = farm->fields[0].shape->vertices[0].plane;
        struct fw_plan *plan = take_plan(farm);
        assert_string_equal(tried(plan, "earth"), k == 1 ? "kept" : "no");
        bool asked = false;
        for (size_t i = 0; i < plan->finding_count; i++)
            asked |= strstr(plan->findings[i].text, "earth rods are") != NULL;
        assert_int_equal(asked, k == 0);
        fw_plan_free(plan);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grass_left_too_short_is_found),
        cmocka_unit_test(a_mass_alone_does_not_tell_how_high_it_is_left),
        cmocka_unit_test(days_on_end_in_a_paddock_are_counted),
        cmocka_unit_test(stays_of_just_four_days_are_not_counted),
        cmocka_unit_test(a_field_that_is_one_paddock_has_no_more),
        cmocka_unit_test(open_ground_behind_them_counts_on),
        cmocka_unit_test(lambs_under_a_high_wire_are_found),
        cmocka_unit_test(a_pond_that_holds_no_lambs_is_a_way_out),
        cmocka_unit_test(paddocks_without_water_are_found),
        cmocka_unit_test(a_sward_of_legumes_is_found),
        cmocka_unit_test(clover_at_tupping_is_found_by_the_dates_of_lambing),
        cmocka_unit_test(clover_at_tupping_is_found_on_a_field_of_one_stay),
        cmocka_unit_test(clover_without_dates_goes_by_the_classes),
        cmocka_unit_test(fescue_is_told_where_it_may_grow),
        cmocka_unit_test(signs_hung_wider_than_is_in_use_are_found),
        cmocka_unit_test(what_a_person_looked_at_is_told_as_such),
        cmocka_unit_test(nobody_looked_and_it_is_asked),
        cmocka_unit_test(a_caution_that_a_map_shows_is_kept_or_broken),
        cmocka_unit_test(the_earth_is_tried_where_the_energizer_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
