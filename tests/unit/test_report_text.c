/* The report of the plan made by hand, line by line, its figures worked out by
 * hand in both units. */
#include "plan_in_hand.h"
#include "read_back.h"

#include "report/report.h"

static char *report_of(const struct fw_plan *plan, unsigned how)
{
    struct fw_error err;
    static char *text;
    if (fw_report_text(plan, how, &text, &err))
        fail_msg("%s", err.text);
    unfold(text, 9);
    return text;
}

static void says(const struct hand *hand, unsigned how, const char *words)
{
    char *text = report_of(&hand->plan, how);
    has_words(text, words);
    fw_bytes_free(text);
}

static void says_not(const struct hand *hand, unsigned how, const char *words)
{
    char *text = report_of(&hand->plan, how);
    has_not(text, words);
    fw_bytes_free(text);
}

enum { SHORT = 0, ALL = FW_REPORT_ALL };

static void it_begins_with_farm_and_days(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, SHORT,
         "can still hurt.\n\nHill: 3 paddocks, Mon 4 May to Sun 10 May 2026\n\n"
         "! Top has no plan: the grass is eaten\n\nDANGER\n");
    says(
        &hand, SHORT,
        "\n\nFIRST MOVE, Mon 4 May 2026: into A01 (Low \"meadow\", block A-1)\n"
        " 1  Set the fence A01-02");
    hand.fields[2].no_plan = NULL;
    says(&hand, SHORT, "Sun 10 May 2026\n\nDANGER\n");
    says(&hand, FW_REPORT_COLOUR,
         "\033[1mHill: 3 paddocks, Mon 4 May to Sun 10 May 2026\033[0m\n");
    says_not(&hand, SHORT, "\033");
    hand.plan.time.stay_count = 1;
    says(&hand, SHORT, "\nHill: 1 paddock, Mon");
}

static void the_flock_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, SHORT,
         "\nFlock    61 dry ewes, 29 weaners eat 131 kg dry matter a day.\n");
    says(&hand, ALL,
         "\nFlock    61 dry ewes of 62.5 kg, 29 weaners of 31.2 kg eat 131 kg "
         "dry matter a day, 1.45 kg a head (by the table).\n");
    hand.plan.intake_source = (char *)"given";
    hand.plan.units = FW_US; /* 137.8, 68.9, 288.3 and 3.203 lb */
    says(&hand, ALL,
         "\nFlock    61 dry ewes of 138 lb, 29 weaners of 68.9 lb eat 288 lb "
         "dry matter a day, 3.2 lb a head (as given).\n");
    hand.plan.intake_source = NULL;
    says(&hand, ALL, "a head (by the table)");
}

static void the_grass_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, ALL,
         "\nGrass    Low \"meadow\": 2600 kg/ha stands, 1400 kg/ha stays; they "
         "may take 75 % of what stands above that = 800 kg/ha.\n");
    says_not(&hand, SHORT, "\nGrass");
    hand.fields[0].use_of = FW_USE_STANDING;
    hand.fields[0].residual_kg_ha = 0;
    says(&hand, ALL,
         ": 2600 kg/ha stands; they may take 75 % of all that stands = 800 "
         "kg/ha.\n");
    hand.plan.units = FW_US; /* 2319.7 and 714 lb/acre */
    says(&hand, ALL,
         ": 2320 lb/acre stands; they may take 75 % of all that "
         "stands = 710 lb/acre.\n");
}

static size_t grasses(const struct hand *hand)
{
    char *text = report_of(&hand->plan, ALL);
    const size_t count = times(text, "\nGrass ");
    fw_bytes_free(text);
    return count;
}

/* The next field's is told where any of its figures is another. */
static void the_same_grass_is_told_once(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    assert_int_equal(grasses(&hand), 2);
    hand.fields[1].mass_kg_ha = hand.fields[0].mass_kg_ha;
    hand.fields[1].residual_kg_ha = hand.fields[0].residual_kg_ha;
    hand.fields[1].usable_kg_ha = hand.fields[0].usable_kg_ha;
    assert_int_equal(grasses(&hand), 1);
    hand.fields[1].mass_kg_ha += 1;
    assert_int_equal(grasses(&hand), 2);
    hand.fields[1].mass_kg_ha -= 1;
    hand.fields[1].residual_kg_ha -= 1;
    assert_int_equal(grasses(&hand), 2);
    hand.fields[1].residual_kg_ha += 1;
    hand.fields[1].usable_kg_ha += 1;
    assert_int_equal(grasses(&hand), 2);
    hand.fields[1].usable_kg_ha -= 1;
    hand.fields[0].no_plan = (char *)"it floods"; /* and so it tells none */
    assert_int_equal(grasses(&hand), 1);
}

/* A thousandth of a degree of latitude at 46 north is 111.15 m. */
static void the_round_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[1].name = (char *)"Upper";
    hand.fields[0].gate.lonlat = (struct fw_lonlat){10, 46};
    hand.fields[1].gate.lonlat = (struct fw_lonlat){10, 46.001};
    hand.fields[2].gate.lonlat = (struct fw_lonlat){10, 46.003};
    says(&hand, SHORT,
         "\nOrder    Low \"meadow\", 111 m on to Upper, 222 m on to Top, 333 m "
         "back: the shortest round, straight from gate to gate.\n");
    hand.plan.field_order = FW_ORDER_GIVEN;
    says_not(&hand, SHORT, "\nOrder");
    hand.plan.field_order = FW_ORDER_NEAREST;
    hand.plan.field_count = 2;
    says(&hand, SHORT, "111 m on to Upper, 111 m back: the shortest round");
    hand.plan.field_count = 1;
    hand.plan.time.move_count = 1;
    says_not(&hand, SHORT, "\nOrder");
}

static void what_is_kept_back_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, SHORT, "\nKept     for heat: A01 (shade); grazed last.\n");
    strcpy(hand.paddocks[2].keep, "heat");
    says(&hand, SHORT, "\nKept     for heat: A01, B01 (shade); grazed last.\n");
    strcpy(hand.paddocks[1].keep, "storm");
    says(&hand, SHORT,
         "\nKept     for storms: A02 (shelter); for heat: A01, B01 (shade); "
         "grazed last.\n");
    for (size_t i = 0; i < 3; i++)
        hand.paddocks[i].keep[0] = '\0';
    says_not(&hand, SHORT, "\nKept");
}

static void the_kit_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_plan_totals *totals = &hand.plan.totals;
    says(&hand, SHORT,
         "\nFence    4 reels, 21 posts, 333 m of wire at most; about 6 minutes "
         "a move. For that the farm lacks 1 reel, 85 m of wire (compare tells "
         "what others take).\n");
    says(&hand, ALL,
         "\nFence    4 reels, 21 posts and 333 m of wire stand at most (2 "
         "strands); about 6 minutes and 2 armfuls of posts a move; 333 m of "
         "wire moved in all, and 45 m in lines that stand for several moves. "
         "For that the farm lacks 1 reel, 85 m of wire (compare");
    totals->lack = (struct fw_kit){2, 3, 0};
    totals->carry_trips_per_move = 1;
    totals->standing_wire_m = 0;
    says(&hand, ALL,
         "and 1 armful of posts a move; 333 m of wire moved in all. For that "
         "the farm lacks 2 reels, 3 posts (compare");
    totals->lack = (struct fw_kit){0, 3, 1};
    says(&hand, ALL, "the farm lacks 3 posts, 1 m of wire (compare");
    totals->lack = (struct fw_kit){0, 0, 0};
    hand.plan.units = FW_US; /* 333.25 m are 1093 ft */
    says(&hand, SHORT,
         "21 posts, 1093 ft of wire at most; about 6 minutes a "
         "move.\n");
    totals->kit.reels = 0;
    says(&hand, SHORT, "\nFence    none to move: each field is one paddock.\n");
}

static void the_water_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, SHORT,
         "\nWater    345 L a day, in heat 655 L; hauled to 1 of 3 "
         "paddocks.\n");
    says(&hand, ALL,
         "\nWater    345 L a day, in heat 655 L; hauled to 1 of 3 paddocks; "
         "have 656 L by; sheep walk 31 m to it, 62 m at most; in A01 it climbs "
         "4 m "
         "there and 3 m back; of 2 of 3 "
         "paddocks the way to water is not known.\n");
    hand.plan.totals.haul_trips = hand.plan.totals.haul_trips_hot = 0;
    says(&hand, SHORT, " in heat 655 L: 0 trips or 0, to 1 of 3 paddocks.\n");
    hand.plan.totals.haul_trips = 1;
    hand.plan.totals.haul_trips_hot = 3;
    says(&hand, SHORT, " in heat 655 L: 1 trip or 3, to 1 of 3 paddocks.\n");
    hand.plan.totals.litres_day = 0.9;
    says(&hand, SHORT, "\nWater    hardly any a day, in heat 655 L: ");
    hand.plan.totals.litres_day = 345.25;
    /* (1.5 x 31.125 + 3 x 61) / 4.5 */
    hand.paddocks[1].walk_known = true;
    hand.paddocks[1].stay_days = 3;
    hand.paddocks[1].walk_fed_m = 61;
    hand.paddocks[1].walk_max_m = 50;
    says(&hand, ALL,
         "have 656 L by; sheep walk 51 m to it, 62 m at most; in A01 it climbs "
         "4 m "
         "there and 3 m back; of 1 of 3");
    /* Level at 10.77 m for each: 62 m and 6.2 m more is the line. */
    hand.paddocks[1].climb_to_m = 0.4;
    hand.paddocks[1].climb_back_m = 9.6;
    says(&hand, ALL, " at most; in A02 it climbs 10 m back; of ");
    hand.paddocks[0].climb_to_m = hand.paddocks[1].climb_to_m = 0.2;
    hand.paddocks[0].climb_back_m = hand.paddocks[1].climb_back_m = 0.2;
    says(&hand, ALL, " 62 m at most; of 1 of 3");
    hand.paddocks[2] = hand.paddocks[1];
    hand.paddocks[2].water = 0;
    hand.plan.units = FW_US;
    says(&hand, ALL, " ft at most.\n");
    says(&hand, ALL,
         "\nWater    91 gal a day, in heat 173 gal: 1 trip or 3, to 1 ");
    for (size_t i = 0; i < 3; i++)
        hand.paddocks[i].walk_known = false;
    says(&hand, ALL, "have 173 gal by; of 3 of 3 paddocks the way to water");
    snprintf(hand.waters[0].kind_of, sizeof hand.waters[0].kind_of, "fixed");
    says(&hand, SHORT, "\nWater    91 gal a day, in heat 173 gal.\n");
}

static void the_power_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says(&hand, SHORT,
         "\nPower    energizer of 1.5 J; 3 earth rods; a tester should read 5 "
         "kV or more at every far end, and a sheep should feel 2.5 kV. The "
         "least by the sum is 2.1 kV, on Sun 3 May, 80 m along A01-02. That is "
         "between two wires, one of which is an earth; of a hot one alone it "
         "is 1.8 kV.\n");
    says(&hand, ALL, "energizer of 1.5 J (the farm's own); 3 earth rods;");
    hand.plan.energizer.given = false;
    hand.plan.energizer.rods = 1;
    hand.plan.power.earth_return = false;
    says(&hand, ALL, "energizer of 1.5 J (rule); 1 earth rod; a tester");
    says(&hand, ALL, "80 m along A01-02.\n");
    hand.plan.power_day_count = 0;
    says(&hand, SHORT, "and a sheep should feel 2.5 kV.\n");
}

static void the_cost_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    says_not(&hand, SHORT, "\nCost");
    hand.plan.totals.cost_known = true;
    hand.plan.totals.cost = 1234.75;
    says(&hand, SHORT,
         "\nCost     1235 EUR for the kit, the energizer and its "
         "earth.\n");
}

/* ---- a field ---- */

static void field_is(const struct hand *hand, size_t field, bool all,
                     const char *words)
{
    struct fw_text text = {0};
    fw_report__field(&text, &hand->plan, &hand->fields[field], all);
    unfold(text.bytes, 9);
    has_words(text.bytes, words);
    fw_text_release(&text);
}

static void a_field_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.paddocks[1].area_ha = 0.25;
    hand.paddocks[1].head_per_ha = 400.4;
    field_is(
        &hand, 0, false,
        "Field    Low \"meadow\", 2.01 ha (1.99 ha to graze, 2 % of its "
        "grass on lanes or aprons): 2 paddocks of 0.16 ha to 0.25 ha; 12.5 "
        "days.\n");
    field_is(
        &hand, 0, true,
        "2 paddocks of 0.16 ha to 0.25 ha; fences of 81 m; 1 block line of "
        "121 m; 1 lane fence of 91 m. It lasts 12.5 days, 400 to 560 head "
        "to the ha. The last paddock is short: 88 % of a stay.\n");
    hand.plan.units = FW_US;
    field_is(&hand, 0, true, ", 162 to 226 head to the acre. The last");
    hand.plan.units = FW_METRIC;
    hand.paddocks[1].head_per_ha = 559.75;
    field_is(&hand, 0, true, ", 560 head to the ha. The last");
    hand.fields[0].last_share = 0.995;
    field_is(&hand, 0, true, ", 560 head to the ha.\n");
    hand.paddocks[1].area_ha = 0.16;
    hand.fields[0].grazed_ha = 2; /* all but a two hundredth: as good as all */
    field_is(&hand, 0, false, ", 2.01 ha: 2 paddocks of 0.16 ha; 12.5 days.\n");
    hand.plan.lane_count = 0;
    hand.fields[0].grazed_ha = 1.5;
    field_is(&hand, 0, false, ", 2.01 ha (1.5 ha to graze): 2 paddocks of");
    /* B has one paddock and one front, which stood before. */
    hand.fields[1].area_ha = hand.fields[1].grazed_ha = 1;
    hand.fields[1].last_share = 0.5;
    hand.fields[1].rotation_days = 2;
    hand.paddocks[2].area_ha = 1;
    hand.paddocks[2].head_per_ha = 45;
    field_is(&hand, 1, true,
             ", 1 ha: 1 paddock of 1 ha; fences of 71 m. It lasts 2 days, 45 "
             "head to the ha.\n");
    hand.fences[4].stood = false; /* and is not set: of no matter */
    field_is(&hand, 1, true, ": 1 paddock of 1 ha. It lasts 2 days");
}

static void lines_are_told_from_least_to_most(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.fences[2].role = FW_FENCE_MOVED;
    field_is(&hand, 0, true, "; fences of 81 m to 121 m; 1 lane fence of");
    hand.fences[2].role = FW_FENCE_LANE;
    field_is(&hand, 0, true,
             "; fences of 81 m; 2 lane fences of 91 m to 121 m. It");
    hand.fences[0].role = FW_FENCE_STANDING;
    hand.fences[2].role = FW_FENCE_STANDING;
    field_is(&hand, 0, true,
             "; 2 block lines of 81 m to 121 m; 1 lane fence of 91 m. It");
}

static void what_was_grazed_before_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_text text = {0};
    fw_report__field(&text, &hand.plan, &hand.fields[0], false);
    has_not(text.bytes, "Grazed");
    fw_text_release(&text);
    hand.stays[0] = hand.stays[1];
    hand.paddocks[1].area_ha = 0.25;
    field_is(&hand, 0, false,
             ": 1 paddock of 0.25 ha; 12.5 days.\nGrazed   A01 before the "
             "first day; paddocks, fences and their names are those of the "
             "plan made before.\n");
    hand.fields[0].paddock_count = 3; /* as if B01 were its third */
    hand.stays[0].cell = hand.stays[1].cell = 2;
    hand.paddocks[2].field = 0;
    hand.paddocks[2].area_ha = 0.5;
    field_is(&hand, 0, false,
             ": 1 paddock of 0.5 ha; 12.5 days.\nGrazed   A01 "
             "and A02 before the");
}

/* ---- the rest ---- */

static void rest_is(const struct hand *hand, bool all, const char *words)
{
    struct fw_text text = {0};
    fw_report__rest(&text, &hand->plan, all);
    unfold(text.bytes, 9);
    has_words(text.bytes, words);
    fw_text_release(&text);
}

static void rest_is_not(const struct hand *hand, bool all, const char *words)
{
    struct fw_text text = {0};
    fw_report__rest(&text, &hand->plan, all);
    has_not(text.bytes, words);
    fw_text_release(&text);
}

static void all_of_the_rest_is_told(void **state)
{
    (void)state;
    static struct fw_farm_default two[] = {{"post gap", "8 m", "a table"},
                                           {"pace", "0.8 m", "another"}};
    struct hand hand;
    take_in_hand(&hand);
    rest_is(
        &hand, true,
        "\nLook at\n  - A-side-1, road: signs\n  - A02: a line, \"and\" "
        "more \\\n  - far \xE2\x82\xAC\n\nNot told, so taken as (sources in "
        "plan.json)\n  post gap 8 m\n\nCautions in short;");
    hand.plan.defaults = two;
    hand.plan.default_count = 2;
    rest_is(&hand, true, "\n  post gap 8 m; pace 0.8 m\n");
    hand.plan.default_count = 0;
    rest_is_not(&hand, true, "Not told");
    hand.findings[1].level = FW_LEVEL_DANGER; /* which is told above */
    rest_is(&hand, true, "\nLook at\n  - A02: a line");
    hand.notes[0].level = hand.notes[1].level = FW_LEVEL_DANGER;
    rest_is_not(&hand, true, "Look at");
}

static void the_rest_in_short_counts(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    rest_is(&hand, false,
            "Look at  A-side-1, road: signs far \xE2\x82\xAC\nMind  ");
    rest_is(&hand, false, " With --all 1 note, 1 figure taken for granted.\n");
    hand.notes[1].level = FW_LEVEL_NOTE;
    hand.plan.default_count = 0;
    rest_is(&hand, false, " With --all 2 notes.\n");
    hand.notes[0].level = hand.notes[1].level = FW_LEVEL_DANGER;
    rest_is_not(&hand, false, "With --all");
    hand.notes[0].level = FW_LEVEL_WARNING;
    hand.findings[1].level = FW_LEVEL_NOTE;
    rest_is(&hand, false, "Look at  A02: a line, \"and\" more \\\nMind");
    rest_is(&hand, false, " With --all 1 note.\n");
}

static void warnings_beyond_four_are_counted(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_plan_finding many[7];
    for (size_t i = 0; i < 7; i++) {
        many[i] = findings[1];
        snprintf(many[i].feature, sizeof many[i].feature, "road %zu", i);
        snprintf(many[i].about, sizeof many[i].about, "at road %zu", i);
    }
    hand.plan.findings = many;
    hand.plan.notes.count = 0;
    hand.plan.default_count = 0;
    hand.plan.finding_count = 4;
    rest_is_not(&hand, false, "With --all");
    hand.plan.finding_count = 5;
    rest_is(&hand, false, "at road 3: signs\nMind");
    rest_is(&hand, false, " With --all 1 warning more.\n");
    hand.plan.finding_count = 7;
    rest_is(&hand, false, " With --all 3 warnings more.\n");
    hand.plan.notes.count = 2; /* one of them a warning, the other a note */
    rest_is(&hand, false, " With --all 4 warnings more, 1 note.\n");
    rest_is_not(&hand, false, "far \xE2\x82\xAC");
    /* The same feature: told once, at its nearest place. */
    hand.plan.notes.count = 0;
    hand.plan.finding_count = 3;
    for (size_t i = 0; i < 3; i++) {
        snprintf(many[i].feature, sizeof many[i].feature, "road");
        many[i].measured = i > 0;
        many[i].distance_m = 9 - (double)i;
    }
    many[0].measured = true;
    rest_is(&hand, false, "Look at  at road 2, and 2 more places: signs\nMind");
    many[2].measured = false; /* and so its distance is none */
    rest_is(&hand, false, "Look at  at road 1, and 2 more places: signs\n");
    many[1].level = FW_LEVEL_NOTE;
    many[2].measured = true;
    rest_is(&hand, false, "Look at  at road 2, and 1 more place: signs\n");
    rest_is(&hand, false, " With --all 1 note.\n");
}

static void what_was_looked_at_is_told(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    rest_is_not(&hand, false, "Maps");
    snprintf(hand.findings[1].rule, sizeof hand.findings[1].rule, "looked");
    hand.findings[1].level = FW_LEVEL_NOTE;
    rest_is(&hand, false, "\nMaps     signs.\nMind");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_begins_with_farm_and_days),
        cmocka_unit_test(the_flock_is_told),
        cmocka_unit_test(the_grass_is_told),
        cmocka_unit_test(the_same_grass_is_told_once),
        cmocka_unit_test(the_round_is_told),
        cmocka_unit_test(what_is_kept_back_is_told),
        cmocka_unit_test(the_kit_is_told),
        cmocka_unit_test(the_water_is_told),
        cmocka_unit_test(the_power_is_told),
        cmocka_unit_test(the_cost_is_told),
        cmocka_unit_test(a_field_is_told),
        cmocka_unit_test(lines_are_told_from_least_to_most),
        cmocka_unit_test(what_was_grazed_before_is_told),
        cmocka_unit_test(all_of_the_rest_is_told),
        cmocka_unit_test(the_rest_in_short_counts),
        cmocka_unit_test(warnings_beyond_four_are_counted),
        cmocka_unit_test(what_was_looked_at_is_told),
    };
    return cmocka_run_group_tests_name("report_text", tests, NULL, NULL);
}
