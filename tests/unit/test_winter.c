/* The flock on the winter's grass of a farm: its page, its numbers for machines
 * and its pictures against sums by hand. */
#include "winter_told.h"

#include "report/stockpile.h"
#include "told/feed.h"

#include <json-c/json.h>

/* The field of the scratch folder has 0.8 ha. */
#define HEAD                                                                   \
    "fields: {source: field.geojson}\n"                                        \
    "flock: [{head: 10, weight: 70 kg, state: dry}]\n"                         \
    "forage: {sward: fescue-nitrogen, leave: 8 cm}\n"
#define LOSSY(loss)                                                            \
    "fields: {source: field.geojson}\n"                                        \
    "flock: [{head: 10, weight: 70 kg, state: dry}]\n"                         \
    "forage: {sward: fescue-nitrogen, leave: 8 cm, winter-loss: " loss "}\n"
#define HALVES                                                                 \
    "  parts:\n"                                                               \
    "    - {part: heavy, area: 1 ha, grazed: 2027-06-12, left: 8 cm}\n"        \
    "    - {part: leafy, area: 1 ha, grazed: 2027-08-09, left: 12 cm,\n"       \
    "       topped: 2027-08-10, topped-to: 8 cm}\n"

/* ---- where a part lies ---- */

static void a_part_is_a_share_a_zone_or_so_many_hectares(void **state)
{
    (void)state;
    const struct drawn zones[] = {
        {"\"name\":\"wet\",\"mass\":900", BOX(10, 10, 30, 20), 0},
        {"\"name\":\"dry\",\"mass\":900", BOX(50, 10, 60, 20), 0},
        {"\"name\":\"edge\",\"mass\":900", BOX(90, 60, 180, 170), 0},
        {"\"name\":\"away\",\"mass\":900", BOX(150, 0, 180, 80), 0}};
    draw_map("zones.geojson", zones, 4);
    struct fw_winter *winter = winter_of(
        HEAD "maps: [{role: zone, source: zones.geojson}]\n"
             "stockpile:\n  line: virginia\n  parts:\n"
             "    - {field: Long Bottom, share: 25 %, grazed: 2027-08-01}\n"
             "    - {part: wet, zone: wet, grazed: 2027-08-01}\n"
             "    - {part: edge, zone: edge, grazed: 2027-08-01}\n"
             "    - {area: 3 ha, grazed: 2027-08-01, "
             "sward: fescue-legume}\n");
    assert_int_equal(winter->part_count, 4);
    assert_relative(winter->parts[0].part->area_ha, 0.2, 1e-3);
    assert_string_equal(winter->parts[0].part->name, "Long Bottom");
    assert_relative(winter->parts[1].part->area_ha, 0.02, 1e-3);
    /* 10 m by 20 m of it lie on the field. */
    assert_relative(winter->parts[2].part->area_ha, 0.02, 1e-3);
    assert_near(winter->parts[3].part->area_ha, 3, 0);
    assert_string_equal(winter->parts[3].part->name, "part 4");
    assert_relative(winter->area_ha, 3.24, 1e-3);
    /* 225 lb/acre-inch of the field's sward, 250 of the other. */
    assert_relative(winter->parts[0].part->density_kg_ha_m, 100 * 225 * 0.4413,
                    1e-3);
    assert_relative(winter->parts[3].part->density_kg_ha_m, 100 * 250 * 0.4413,
                    1e-3);
    winter_free(winter);
    struct fw_error err = {0};
    assert_null(told_farm(
        HEAD "maps: [{role: zone, source: zones.geojson}]\n"
             "stockpile: {line: virginia, parts: [{zone: away, grazed: "
             "2027-08-01}]}\n",
        &err));
    assert_says(&err, "nothing of zone \"away\" lies on a field");
}

/* That of the map, or as told; none in the south. */
static void latitude_is_told_or_of_the_map(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    assert_near(winter->farm->stockpile.winter.lat_deg, 51, 1e-6);
    winter_free(winter);
    winter = winter_of(
        HEAD "stockpile:\n  line: virginia\n  latitude: 37.5 deg\n" HALVES);
    assert_near(winter->farm->stockpile.winter.lat_deg, 37.5, 1e-9);
    winter_free(winter);
    struct fw_error err = {0};
    assert_null(told_farm(
        HEAD "stockpile:\n  line: virginia\n  latitude: -41 deg\n" HALVES,
        &err));
    assert_says(&err, "the fields lie at 41.0 degrees south");
}

static void other_commands_do_not_look(void **state)
{
    (void)state;
    static const char text[] =
        HEAD "stockpile: {parts: [{grazed: 2027-08-01}]}\n";
    struct fw_error err = {0};
    fw_farm_free(good_farm(text));
    assert_null(told_farm(text, &err));
    assert_says(&err, "which place's line");
}

static void what_is_wrong_is_said_with_its_line(void **state)
{
    (void)state;
    struct fw_error err = {0};
    assert_null(told_farm(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                               "    - {part: a, area: 1 ha, grazed: "
                               "2027-08-01}\n"
                               "    - {part: b, area: 1 ha, grazed: "
                               "2027-12-01}\n",
                          &err));
    assert_says(&err, "farm.yaml:8: stockpile.parts[1]: b: closed on "
                      "2027-12-01");
    assert_null(told_farm(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                               "    - part: a\n      zone: bog\n",
                          &err));
    assert_says(&err, "farm.yaml:8: stockpile.parts[0].zone: a: there is no "
                      "zone \"bog\"");
}

/* ---- the flock ---- */

/* 10 ewes of 70 kg and a ram of 90: 1.2 and 1.4 kg dry (NRC 1985, p. 45); lambs
 * are not counted. */
/* Pounds an acre are taken for what they are; a number alone, or more than any
 * trial gave, is not. */
static void nitrogen_has_its_unit(void **state)
{
    (void)state;
    static const char part[] =
        HEAD "stockpile:\n  line: virginia\n  parts: [{area: 1 ha, grazed: "
             "2027-08-01, nitrogen: %s}]\n";
    char text[600];
    struct fw_error err = {0};
    snprintf(text, sizeof text, part, "80 lb/acre");
    struct fw_winter *winter = winter_of(text);
    assert_relative(winter->parts[0].part->nitrogen_kg_ha,
                    80 * 0.45359237 / 0.40468564224, 1e-9);
    winter_free(winter);
    snprintf(text, sizeof text, part, "80");
    assert_null(told_farm(text, &err));
    assert_says(&err, "it has no unit; try \"80 kg/ha\" or \"80 lb/acre\"");
    snprintf(text, sizeof text, part, "120 lb/acre");
    assert_null(told_farm(text, &err));
    assert_says(&err, "no trial gave more than 112 kg/ha, which is 100 "
                      "lb/acre");
}

static void grown_sheep_go_through_the_winter(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of("fields: {source: field.geojson}\n"
                  "flock:\n"
                  "  - {head: 10, weight: 70 kg, state: lactation-twins}\n"
                  "  - {head: 1, weight: 90 kg, state: ram}\n"
                  "  - {head: 15, weight: 30 kg, state: weaned-lamb}\n"
                  "forage: {sward: fescue-nitrogen}\n"
                  "stockpile:\n  line: virginia\n" HALVES);
    assert_near(winter->flock.head, 11, 0);
    assert_int_equal(winter->left_out, 15);
    assert_relative(winter->flock.weight_kg, 790 / 11.0, 1e-12);
    assert_relative(winter->flock.need_kg[FW_STOCKPILE_DRY],
                    (10 * 1.2 + 1.4) / 11, 1e-12);
    assert_relative(winter->flock.need_kg[FW_STOCKPILE_EARLY],
                    (10 * 1.4 + 1.6) / 11, 1e-12);
    winter_free(winter);
}

/* Lambs alone do not go through the winter. */
static void without_grown_sheep_there_is_no_winter(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_winter *winter = NULL;
    struct fw_farm *farm =
        told_farm("fields: {source: field.geojson}\n"
                  "flock: [{head: 15, weight: 30 kg, state: weaned-lamb}]\n"
                  "forage: {sward: fescue-nitrogen}\n"
                  "stockpile:\n  line: virginia\n" HALVES,
                  &err);
    assert_non_null(farm);
    assert_int_equal(fw_winter_make(farm, &winter, &err), FW_EINPUT);
    assert_says(&err, "how many sheep go through the winter");
    assert_null(winter);
    fw_farm_free(farm);
}

static void its_class_goes_by_lambing(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "lambing: {from: 2028-03-29, to: 2028-04-20}\n"
                       "stockpile:\n  line: virginia\n" HALVES);
    const int lambing = day_of("2028-03-29");
    assert_int_equal(fw_winter_class(winter, lambing - 148), FW_STOCKPILE_DRY);
    assert_int_equal(fw_winter_class(winter, lambing - 147),
                     FW_STOCKPILE_EARLY);
    assert_int_equal(fw_winter_class(winter, lambing - 29), FW_STOCKPILE_EARLY);
    assert_int_equal(fw_winter_class(winter, lambing - 28), FW_STOCKPILE_LATE);
    winter_free(winter);
    winter = winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    assert_int_equal(fw_winter_class(winter, lambing), FW_STOCKPILE_DRY);
    winter_free(winter);
}

/* The middle of each month to March, from the first day on: a month that is
 * over by then has no row. */
static void a_row_is_the_middle_of_a_month_from_the_first_day_on(void **state)
{
    (void)state;
    static const struct {
        const char *from, *first;
        size_t count;
    } rows[] = {
        {"2027-11-05", "2027-11-15", 5}, {"2027-11-20", "2027-11-20", 5},
        {"2027-11-30", "2027-11-30", 5}, {"2027-12-01", "2027-12-15", 4},
        {"2028-03-15", "2028-03-15", 1}, {"2028-03-20", "2028-03-20", 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[1200];
        snprintf(text, sizeof text,
                 HEAD "stockpile:\n  line: virginia\n  from: %s\n" HALVES,
                 rows[i].from);
        struct fw_winter *winter = winter_of(text);
        assert_int_equal(winter->row_count, rows[i].count);
        assert_int_equal(winter->parts[0].rows[0].day, day_of(rows[i].first));
        assert_int_equal(winter->parts[1].rows[rows[i].count - 1].day,
                         rows[i].count > 1 ? day_of("2028-03-15")
                                           : day_of(rows[i].first));
        winter_free(winter);
    }
}

/* ---- which part when ---- */

/* By Ireland's line nothing changes in winter. Closed 9 December less 10 days,
 * and 60: 562 and 1,362 kg/ha of 84.8 and 83.0 %; ten dry ewes eat 12 kg a day
 * of it, 70 % is taken (nothing is dead), so that they last 32.8 and 79.5 days.
 */
static void parts_last_as_long_as_they_hold(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: ireland\n  days: 150 days\n"
                       "  frost: 2027-12-09\n  parts:\n"
                       "    - {part: late, area: 1 ha, sward: mixed, grazed: "
                       "2027-11-29}\n"
                       "    - {part: early, area: 1 ha, sward: mixed, grazed: "
                       "2027-10-10}\n");
    const struct fw_winter_order *poor = &winter->poor_first;
    assert_near(winter->parts[0].middle.stand.mass_kg_ha, 402 + 160, 1e-9);
    assert_near(winter->parts[1].middle.stand.mass_kg_ha, 402 + 960, 1e-9);
    const int from = day_of("2027-12-09");
    assert_int_equal(poor->parts[0], 1);
    assert_int_equal(poor->parts[1], 0);
    assert_int_equal(poor->from_days[0], from);
    assert_int_equal(poor->from_days[1], from + (int)ceil(1362 * 0.7 / 12));
    assert_int_equal(poor->days_fed,
                     ceil(1362 * 0.7 / 12) + ceil(562 * 0.7 / 12));
    assert_int_equal(poor->days_at_need, poor->days_fed);
    /* Then nothing stands: 0.66 kg of nutrients, of feed with 80 %. */
    assert_near(poor->other_kg, 10 * 0.66 / 0.8 * (150 - poor->days_fed), 1e-6);
    assert_int_equal(winter->good_first.parts[0], 0);
    assert_int_equal(winter->good_first.days_fed, poor->days_fed);
    assert_false(winter->good_is_better);
    winter_free(winter);
}

static void of_two_orders_the_better_one_is_shown(void **state)
{
    (void)state;
    int better[2] = {0, 0};
    for (int i = 0; i < 18; i++) {
        char text[1200];
        snprintf(text, sizeof text,
                 "fields: {source: field.geojson}\n"
                 "flock: [{head: %d, weight: 70 kg, state: dry}]\n"
                 "forage: {sward: fescue-nitrogen, leave: 8 cm}\n"
                 "lambing: {from: 2028-%02d-25, to: 2028-%02d-28}\n"
                 "stockpile:\n  line: virginia\n  from: 2027-12-01\n"
                 "  days: 90 days\n" HALVES,
                 10 + i / 6 * 5, i % 6 + 1, i % 6 + 1);
        struct fw_winter *winter = winter_of(text);
        const double poor = winter->poor_first.other_kg;
        const double good = winter->good_first.other_kg;
        assert_true(winter->good_is_better ? good <= poor : poor <= good);
        better[winter->good_is_better]++;
        winter_free(winter);
    }
    assert_true(better[0] > 0 && better[1] > 0);
}

/* ---- together ---- */

/* A fact of the trade, common practice, no source; see test_stockpile.c. */
static void in_one_break_the_leafy_half_is_cleared(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n  from: 2027-12-01\n"
                       "  days: 90 days\n" HALVES);
    assert_true(winter->differ);
    assert_false(winter->parts[0].leafy);
    assert_true(winter->parts[1].leafy);
    assert_true(winter->parts[0].open_share < 0.1);
    assert_near(winter->parts[1].open_share, 0.8, 0);
    winter_free(winter);
    winter = winter_of(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                            "    - {part: a, area: 1 ha, grazed: 2027-08-20}\n"
                            "    - {part: b, area: 2 ha, grazed: "
                            "2027-08-22}\n");
    assert_false(winter->differ);
    assert_near(winter->parts[0].open_share, winter->parts[0].middle.share, 0);
    winter_free(winter);
}

/* Of 100 kg of the leafy part 80 go, and of the rank one what they pick in
 * those 4.5 % of the time that they spend there. */
static void
a_leafy_half_lasts_as_long_as_it_and_what_is_picked_beside(void **state)
{
    (void)state;
    for (int head = 10; head <= 90; head += 16) {
        char text[1200];
        snprintf(text, sizeof text,
                 "fields: {source: field.geojson}\n"
                 "flock: [{head: %d, weight: 70 kg, state: dry}]\n"
                 "forage: {sward: fescue-nitrogen, leave: 8 cm}\n"
                 "stockpile:\n  line: virginia\n  from: 2027-12-01\n"
                 "  days: 90 days\n" HALVES,
                 head);
        struct fw_winter *winter = winter_of(text);
        const double leafy_kg = winter->parts[1].middle.stand.mass_kg_ha;
        const double rank_kg = winter->parts[0].middle.stand.mass_kg_ha;
        const double eaten_kg =
            0.8 * leafy_kg + winter->parts[0].open_share * rank_kg;
        const double days = eaten_kg / (head * 1.2);
        const double got = winter->cleared_day - day_of("2027-12-01");
        assert_true(got <= days + 1e-9 && got > days - 1);
        winter_free(winter);
    }
}

/* A part on which nothing stands is no half beside the other; one with less
 * than a kilogram is. */
static void halves_differ_where_something_stands_on_both(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                       "    - {part: a, area: 1 ha, grazed: 2027-06-12}\n"
                       "    - {part: b, area: 1 ha, grazed: 2027-11-04}\n");
    assert_near(winter->parts[1].middle.stand.mass_kg_ha, 0, 0);
    assert_false(winter->differ);
    winter_free(winter);
    winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                       "    - {part: a, area: 1 ha, grazed: 2027-06-12}\n"
                       "    - {part: b, area: 0.01 ha, grazed: 2027-09-25}\n");
    const double kg = winter->parts[1].middle.stand.mass_kg_ha * 0.01;
    assert_true(kg > 0 && kg < 1);
    assert_true(winter->differ);
    winter_free(winter);
}

static void what_was_left_is_set_beside_the_forecast(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    struct fw_winter_part *part = &winter->parts[0];
    const double stood_m =
        part->middle.stand.mass_kg_ha / part->part->density_kg_ha_m;
    assert_int_equal(fw_winter_left(winter, "heavy", 0.08 + stood_m / 4, &err),
                     FW_OK);
    assert_near(part->seen_share, 0.75, 1e-9);
    assert_near(part->left_m, 0.08 + (1 - part->middle.share) * stood_m, 1e-9);
    assert_int_equal(fw_winter_left(winter, "heavy", 0.07, &err), FW_OK);
    assert_near(part->seen_share, 1, 0);
    assert_int_equal(fw_winter_left(winter, "heavy", 0.08 + stood_m, &err),
                     FW_OK);
    assert_int_equal(fw_winter_left(winter, "heavy", 0.62, &err), FW_EINPUT);
    char said[80];
    snprintf(said, sizeof said,
             "62 cm were left of heavy, but only %.3g cm stood",
             8 + 100 * stood_m);
    assert_says(&err, said);
    assert_int_equal(fw_winter_left(winter, "haevy", 0.1, &err), FW_EINPUT);
    assert_says(&err, "did you mean \"heavy\"?");
    winter_free(winter);
}

/* What a plan takes of each condition is what this comes to in mid-January. */
static void a_plan_takes_the_same_shares(void **state)
{
    (void)state;
    static const struct {
        enum fw_condition condition;
        const char *closed;
        double share;
    } rows[] = {{FW_CONDITION_FRESH, "2027-09-01", 0.70},
                {FW_CONDITION_AGED, "2027-08-01", 0.48},
                {FW_CONDITION_RANK, "2027-07-01", 0.315}};
    for (size_t i = 0; i < 3; i++) {
        char text[600];
        snprintf(text, sizeof text,
                 HEAD "stockpile:\n  line: north-carolina\n"
                      "  parts: [{area: 1 ha, grazed: %s}]\n",
                 rows[i].closed);
        struct fw_winter *winter = winter_of(text);
        assert_int_equal(winter->parts[0].rows[2].day, day_of("2028-01-15"));
        assert_near(winter->parts[0].rows[2].share, rows[i].share, 0.005);
        assert_int_equal(winter->parts[0].middle.stand.condition + 1,
                         rows[i].condition);
        winter_free(winter);
        const struct fw_sward sward = {.mass_kg_ha = 2400,
                                       .residual_kg_ha = 1400,
                                       .legume = -1,
                                       .condition = rows[i].condition};
        struct fw_usable usable;
        assert_int_equal(fw_forage_usable(&sward, 1, &usable, NULL), FW_OK);
        assert_near(usable.usable_kg_ha, 1000 * rows[i].share, 1e-9);
    }
}

/* 1,000 kg/ha above the residual, of which 70 % of the fresh field is taken,
 * and 31.5 % of a rank zone of 200 m2. */
static void a_zone_of_another_condition_has_its_share(void **state)
{
    (void)state;
    const struct drawn zones[] = {
        {"\"name\":\"left\",\"condition\":\"rank\"", BOX(10, 10, 30, 20), 0}};
    draw_map("zones.geojson", zones, 1);
    put_text("farm.yaml",
             "fields: {source: field.geojson}\n"
             "forage: {mass: 2400 kg/ha, residual: 1400 kg/ha, condition: "
             "fresh}\nmaps: [{role: zone, source: zones.geojson}]\n");
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    assert_non_null(farm->fields[0].ground);
    assert_relative(
        fw_herbage_field_kg(farm->fields[0].ground, farm->fields[0].grazed),
        0.1 * (7800 * 0.7 + 200 * 0.315), 1e-3);
    fw_farm_free(farm);
    draw_map("zones.geojson",
             &(struct drawn){"\"condition\":\"old\"", BOX(10, 10, 30, 20), 0},
             1);
    assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                     FW_EINPUT);
    assert_says(&err, "condition: \"old\" is no condition; expected fresh");
}

/* ---- what moves it ---- */

static double worth(const struct fw_winter *winter)
{
    double days = 0;
    for (size_t i = 0; i < winter->part_count; i++)
        days += winter->parts[i].middle.fed[winter->class].worth_days;
    return days;
}

static double worth_on(const char *head, const char *more)
{
    char text[1200];
    snprintf(text, sizeof text, "%sstockpile:\n%s" HALVES, head, more);
    struct fw_winter *winter = winter_of(text);
    const double days = worth(winter);
    winter_free(winter);
    return days;
}

static double worth_of(const char *more)
{
    return worth_on(HEAD, more);
}

static const struct fw_winter_effect *effect(const struct fw_winter *winter,
                                             const char *what)
{
    for (size_t i = 0; i < winter->effect_count; i++)
        if (strcmp(winter->effects[i].what, what) == 0)
            return &winter->effects[i];
    fail_msg("no effect of %s", what);
    return NULL;
}

/* Each end is what a farm that tells it so has. */
static void effects_are_those_of_another_farm(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    const struct fw_winter_effect *loss = effect(winter, "winter loss");
    const struct fw_winter_effect *method = effect(winter, "method");
    const struct fw_winter_effect *line = effect(winter, "line");
    assert_near(loss->from_days, worth_on(LOSSY("0 %"), "  line: virginia\n"),
                1e-9);
    assert_near(loss->to_days, worth_on(LOSSY("75 %"), "  line: virginia\n"),
                1e-9);
    assert_near(method->from_days,
                worth_of("  line: virginia\n  break: free\n"), 1e-9);
    assert_near(method->to_days, worth_of("  line: virginia\n"), 1e-9);
    assert_near(line->from_days, worth(winter), 1e-9);
    assert_near(line->to_days,
                worth_of("  line: north-carolina\n  frost: 2027-11-05\n"),
                1e-9);
    assert_near(effect(winter, "nitrogen")->from_days, worth(winter), 1e-9);
    for (size_t i = 1; i < winter->effect_count; i++)
        assert_true(
            fabs(winter->effects[i].to_days - winter->effects[i].from_days) <=
            fabs(winter->effects[i - 1].to_days -
                 winter->effects[i - 1].from_days));
    assert_int_equal(winter->effect_count, 5);
    winter_free(winter);
}

/* Two weeks earlier, two weeks later, never after the frost's eve; all that was
 * told of them, topping too. */
static void dates_move_all_parts_and_stop_at_the_frost(void **state)
{
    (void)state;
    /* By Ireland's line grass grows to the last day, 9 December. */
    static const char parts[] =
        "fields: {source: field.geojson}\n"
        "flock: [{head: 10, weight: 70 kg, state: dry}]\n"
        "forage: {sward: mixed, density: 200 kg/ha/cm, leave: 8 cm}\n"
        "stockpile:\n  line: ireland\n  frost: 2027-12-09\n  parts:\n"
        "    - {part: a, area: 1 ha, grazed: 2027-%s, left: 12 cm}\n"
        "    - {part: b, area: 1 ha, grazed: 2027-%s, left: 12 cm,\n"
        "       topped: 2027-%s, topped-to: 8 cm}\n";
    static const char *const rows[][9] = {
        {"10-05", "10-09", "10-12", "09-21", "09-25", "09-28", "10-19", "10-23",
         "10-26"},
        {"12-03", "11-28", "11-29", "11-19", "11-14", "11-15", "12-08", "12-08",
         "12-08"}};
    for (size_t i = 0; i < 2; i++) {
        struct fw_winter *winter[3];
        for (size_t k = 0; k < 3; k++) {
            char text[1200];
            const char *const *at = &rows[i][3 * k];
            snprintf(text, sizeof text, parts, at[0], at[1], at[2]);
            winter[k] = winter_of(text);
        }
        const struct fw_winter_effect *date = effect(winter[0], "date");
        assert_near(date->from_days, worth(winter[1]), 1e-9);
        assert_near(date->to_days, worth(winter[2]), 1e-9);
        assert_true(date->from_days > date->to_days);
        for (size_t k = 0; k < 3; k++)
            winter_free(winter[k]);
    }
}

/* Half of the most that any trial gave, at 20 kg of grass a kilogram. */
static void nitrogen_moves_it_by_the_most_in_print(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    struct fw_stockpile_winter through = winter->farm->stockpile.winter;
    through.nitrogen_gain = 20;
    double days = 0;
    for (size_t i = 0; i < winter->part_count; i++) {
        struct fw_stockpile_part part = *winter->parts[i].part;
        struct fw_stockpile_stand stand;
        struct fw_stockpile_fed fed;
        part.nitrogen_kg_ha += 50 * 0.45359237 / 0.40468564224;
        fw_stockpile_stands(&part, &through, winter->middle_day, &stand);
        fw_stockpile_feeds(
            &winter->flock, winter->class, stand.digest, stand.protein,
            stand.mass_kg_ha * part.area_ha * fw_stockpile_share(3, stand.dead),
            &fed);
        days += fed.worth_days;
    }
    assert_relative(effect(winter, "nitrogen")->to_days, days, 1e-9);
    winter_free(winter);
}

static void effects_say_what_was_tried_the_greatest_first(void **state)
{
    (void)state;
    static const char *const lines[] = {"virginia", "north-carolina", "ontario",
                                        "ireland"};
    for (size_t i = 0; i < 8; i++) {
        char text[1200];
        snprintf(text, sizeof text,
                 "fields: {source: field.geojson}\n"
                 "units: %s\n"
                 "flock: [{head: 10, weight: 70 kg, state: dry}]\n"
                 "forage: {sward: %s, density: 900 kg/ha/cm, leave: 8 cm}\n"
                 "stockpile:\n  line: %s\n" HALVES,
                 i < 4 ? "metric" : "us",
                 i % 4 < 2 ? "fescue-nitrogen" : "mixed", lines[i % 4]);
        struct fw_winter *winter = winter_of(text);
        for (size_t k = 1; k < winter->effect_count; k++)
            assert_true(fabs(winter->effects[k].to_days -
                             winter->effects[k].from_days) <=
                        fabs(winter->effects[k - 1].to_days -
                             winter->effects[k - 1].from_days));
        const struct fw_winter_effect *line = effect(winter, "line");
        assert_string_equal(line->from, lines[i % 4]);
        assert_string_equal(line->to, lines[i % 4 ^ 1]);
        const struct fw_winter_effect *loss = effect(winter, "winter loss");
        assert_string_equal(loss->from, "0 %");
        assert_string_equal(loss->to, "75 %");
        assert_string_equal(effect(winter, "nitrogen")->to,
                            i < 4 ? "56 kg/ha more, at its best"
                                  : "50 lb/acre more, at its best");
        winter_free(winter);
    }
}

/* ---- topping ---- */

static struct fw_winter *part_of(const char *how)
{
    char text[1200];
    snprintf(text, sizeof text,
             HEAD "stockpile:\n  line: virginia\n  parts:\n"
                  "    - {part: a, area: 2 ha, %s}\n",
             how);
    return winter_of(text);
}

static void alike(const struct fw_winter_row *row, const char *how)
{
    struct fw_winter *other = part_of(how);
    const struct fw_winter_row *wanted = &other->parts[0].middle;
    assert_near(row->taken_kg, wanted->taken_kg, 1e-9);
    assert_near(row->stand.digest, wanted->stand.digest, 1e-12);
    assert_int_equal(row->stand.closed_day, wanted->stand.closed_day);
    winter_free(other);
}

/* With and without: as farms that did and did not. */
static void topping_is_laid_beside_a_farm_that_did_not(void **state)
{
    (void)state;
    static const char bare[] = "grazed: 2027-07-10, left: 12 cm";
    static const char next_day[] = "grazed: 2027-07-10, left: 12 cm, topped: "
                                   "2027-07-11, topped-to: 8 cm";
    static const char later[] = "grazed: 2027-07-10, left: 12 cm, topped: "
                                "2027-07-19, topped-to: 9 cm";
    struct fw_winter *winter = part_of(bare);
    const struct fw_winter_topping *got = &winter->parts[0].topping;
    assert_false(got->done);
    alike(&got->with, next_day);
    alike(&got->without, bare);
    assert_int_equal(got->after_days, 1);
    assert_near(got->hours, 2, 0);
    winter_free(winter);
    /* Without old grass its best is no other. */
    winter = part_of("grazed: 2027-07-10, left: 8 cm");
    got = &winter->parts[0].topping;
    assert_near(got->without.stand.old_share, 0, 0);
    assert_true(got->without.stand.dead > 0);
    assert_near(got->without_best.stand.dead, got->without.stand.dead, 0);
    assert_near(got->without_best.taken_kg, got->without.taken_kg, 1e-9);
    winter_free(winter);
    winter = part_of(later);
    got = &winter->parts[0].topping;
    assert_true(got->done && got->cuts && got->late);
    alike(&got->with, later);
    alike(&got->without, bare);
    assert_int_equal(got->after_days, 9);

    /* Old grass at its best: none of it dead, and as good as that. */
    const struct fw_winter_row *worst = &got->without;
    const struct fw_winter_row *best = &got->without_best;
    const double dead = worst->stand.dead * (1 - worst->stand.old_share);
    assert_true(worst->stand.old_share > 0 && worst->stand.dead > 0);
    assert_near(best->stand.dead, dead, 1e-12);
    assert_near(best->stand.digest, worst->stand.digest_best, 0);
    assert_near(best->share, fw_stockpile_share(3, dead), 1e-12);
    assert_near(best->taken_kg, best->share * worst->stand.mass_kg_ha * 2,
                1e-9);
    struct fw_stockpile_fed fed;
    fw_stockpile_feeds(&winter->flock, FW_STOCKPILE_EARLY, best->stand.digest,
                       best->stand.protein, best->taken_kg, &fed);
    assert_near(best->fed[FW_STOCKPILE_EARLY].days_at_need, fed.days_at_need,
                1e-12);
    assert_near(best->fed[FW_STOCKPILE_EARLY].other_kg, fed.other_kg, 1e-12);
    winter_free(winter);
}

/* Regrowth bears three days; 500 kg/ha of swath, which 225 lb/acre-inch have in
 * 5.03 cm, rot on it. */
static void topping_is_late_and_heavy_from_a_limit_on(void **state)
{
    (void)state;
    static const struct {
        const char *how;
        int after_days;
        double swath_cm;
        bool cuts, late, heavy;
    } rows[] = {
        {"grazed: 2027-07-10, left: 13 cm, topped: 2027-07-13, topped-to: 8 cm",
         3, 5, true, false, false},
        {"grazed: 2027-07-10, left: 13.1 cm, topped: 2027-07-14, topped-to: 8 "
         "cm",
         4, 5.1, true, true, true},
        {"grazed: 2027-07-10, left: 12 cm, topped: 2027-07-10, topped-to: 12 "
         "cm",
         0, 0, false, false, false},
        {"topped: 2027-07-10, topped-to: 8 cm", -1, 0, true, false, false},
        {"grazed: 2027-07-10, left: 8 cm", 1, 0, false, false, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_winter *winter = part_of(rows[i].how);
        const struct fw_winter_topping *got = &winter->parts[0].topping;
        assert_int_equal(got->after_days, rows[i].after_days);
        assert_near(got->swath_kg_ha,
                    rows[i].swath_cm * 225 * 0.45359237 / 0.40468564224 / 2.54,
                    1e-6);
        assert_int_equal(got->cuts, rows[i].cuts);
        assert_int_equal(got->late, rows[i].late);
        assert_int_equal(got->heavy, rows[i].heavy);
        winter_free(winter);
    }
}

/* ---- closings ---- */

static void a_closing_is_a_farm_closed_that_day(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: virginia\n" HALVES);
    assert_int_equal(winter->closings[0].day, day_of("2027-06-01"));
    assert_int_equal(winter->closings[winter->closing_count - 1].day,
                     day_of("2027-11-04"));
    struct fw_winter *one =
        winter_of(HEAD "stockpile:\n  line: virginia\n  parts:\n"
                       "    - {area: 2 ha, grazed: 2027-07-21}\n");
    const struct fw_winter_closing *closing = &winter->closings[50];
    assert_near(closing->row.taken_kg, one->parts[0].middle.taken_kg, 1e-9);
    assert_near(closing->row.stand.digest, one->parts[0].middle.stand.digest,
                1e-12);
    winter_free(one);
    size_t first = 0, last = 0;
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
        if (!fw_winter_window(winter, (enum fw_stockpile_class)k, &first,
                              &last))
            continue;
        for (size_t i = first; i <= last; i++)
            assert_true(winter->closings[i].row.fed[k].days_at_need >= 60);
        assert_true(first == 0 ||
                    winter->closings[first - 1].row.fed[k].days_at_need < 60);
        assert_true(last + 1 == winter->closing_count ||
                    winter->closings[last + 1].row.fed[k].days_at_need < 60);
    }
    assert_true(fw_winter_window(winter, FW_STOCKPILE_DRY, &first, &last));
    assert_false(fw_winter_window(winter, FW_STOCKPILE_LATE, &first, &last));
    winter_free(winter);
}

/* ---- pictures ---- */

struct label {
    double left, right, top, bottom;
    char words[80];
};

/* Letters of the usual fonts are at most 0.62 of their size wide on average. */
static size_t labels_of(const char *svg, struct label *out, size_t room)
{
    size_t count = 0;
    for (const char *at = svg; (at = strstr(at, "<text "));) {
        double x = 0, y = 0, size = 0;
        const char *end = strchr(at, '>');
        assert_true(count < room);
        assert_int_equal(sscanf(at, "<text x=\"%lf\" y=\"%lf\"", &x, &y), 2);
        const char *font = strstr(at, "font-size=\"");
        assert_true(font && font < end);
        size = strtod(font + 11, NULL);
        const size_t length = strcspn(end + 1, "<");
        const double wide = 0.62 * size * (double)length;
        const char *anchor = strstr(at, "text-anchor=\"");
        const bool told = anchor && anchor < end;
        struct label *label = &out[count++];
        *label = (struct label){x, x + wide, y - size, y, ""};
        if (told && anchor[13] == 'e')
            label->left = x - wide, label->right = x;
        if (told && anchor[13] == 'm')
            label->left = x - wide / 2, label->right = x + wide / 2;
        snprintf(label->words, sizeof label->words, "%.*s", (int)length,
                 end + 1);
        at = end;
    }
    return count;
}

static void check_labels(const char *svg)
{
    struct label labels[200];
    double wide = 0, high = 0;
    const size_t count = labels_of(svg, labels, 200);
    assert_int_equal(
        sscanf(strstr(svg, "viewBox"), "viewBox=\"0 0 %lf %lf\"", &wide, &high),
        2);
    assert_true(count > 10);
    for (size_t i = 0; i < count; i++) {
        const struct label *a = &labels[i];
        if (a->left < 0 || a->right > wide || a->top < 0 || a->bottom > high)
            fail_msg("\"%s\" leaves the page", a->words);
        for (size_t k = 0; k < i; k++) {
            const struct label *b = &labels[k];
            if (a->left < b->right && b->left < a->right &&
                a->top < b->bottom && b->top < a->bottom)
                fail_msg("\"%s\" lies on \"%s\"", a->words, b->words);
        }
    }
}

static void check_pictures(const char *text, const char *today)
{
    struct fw_winter *winter = winter_of(text);
    char *svg = NULL;
    assert_int_equal(fw_report_stockpile_svg(winter, day_of(today), &svg, NULL),
                     FW_OK);
    check_labels(svg);
    fw_bytes_free(svg);
    assert_int_equal(fw_report_stockpile_parts_svg(winter, &svg, NULL), FW_OK);
    check_labels(svg);
    fw_bytes_free(svg);
    winter_free(winter);
}

static void labels_never_overlap(void **state)
{
    (void)state;
    static const char *const days[] = {"2027-06-01", "2027-07-20", "2027-11-05",
                                       "2028-03-24", "2029-01-01"};
    static const char *const heads[] = {
        "stockpile:\n  line: virginia\n",
        "units: us\nlambing: {from: 2028-03-25, to: 2028-04-20}\n"
        "stockpile:\n  line: virginia\n  from: 2027-12-01\n  days: 100 days\n",
        "lambing: {from: 2028-01-05, to: 2028-01-20}\n"
        "stockpile:\n  line: north-carolina\n  days: 1 day\n"};
    for (size_t i = 0; i < 5; i++)
        for (size_t k = 0; k < 3; k++) {
            char text[2000];
            snprintf(text, sizeof text, HEAD "%s" HALVES, heads[k]);
            check_pictures(text, days[i]);
            snprintf(text, sizeof text,
                     HEAD "%s  parts:\n"
                          "    - {part: a part with a name that goes on and on "
                          "for sixty letters, area: 900 ha, grazed: "
                          "2027-10-30}\n"
                          "    - {part: b, area: 10 ha, grazed: 2027-08-02}\n"
                          "    - {part: c, area: 10 ha, grazed: 2027-08-03}\n"
                          "    - {part: d, area: 10 ha, grazed: 2027-05-01}\n",
                     heads[k]);
            check_pictures(text, days[i]);
        }
}

/* ---- machines ---- */

static void json_has_what_the_page_says(void **state)
{
    (void)state;
    struct fw_winter *winter =
        winter_of(HEAD "stockpile:\n  line: ireland\n  parts:\n"
                       "    - {part: 'a \"b\"', area: 1 ha, sward: mixed, "
                       "grazed: 2027-10-10}\n");
    char *text = NULL;
    assert_int_equal(fw_report_stockpile_json(winter, &text, NULL), FW_OK);
    struct json_object *root = json_tokener_parse(text);
    assert_non_null(root);
    struct json_object *parts = json_object_object_get(root, "parts");
    assert_int_equal(json_object_array_length(parts), 1);
    struct json_object *part = json_object_array_get_idx(parts, 0);
    assert_string_equal(
        json_object_get_string(json_object_object_get(part, "part")),
        "a \"b\"");
    struct json_object *months = json_object_object_get(part, "months");
    assert_int_equal(json_object_array_length(months), winter->row_count);
    struct json_object *month = json_object_array_get_idx(months, 0);
    assert_near(
        json_object_get_double(json_object_object_get(month, "mass_kg_ha")),
        winter->parts[0].rows[0].stand.mass_kg_ha, 0);
    /* Not published, not told: null, never a number. */
    assert_null(json_object_object_get(month, "protein"));
    assert_null(json_object_object_get(root, "base_nitrogen_kg_ha"));
    assert_null(json_object_object_get(part, "left_seen_m"));
    json_object_put(root);
    fw_bytes_free(text);
    winter_free(winter);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_is_a_share_a_zone_or_so_many_hectares),
        cmocka_unit_test(latitude_is_told_or_of_the_map),
        cmocka_unit_test(other_commands_do_not_look),
        cmocka_unit_test(what_is_wrong_is_said_with_its_line),
        cmocka_unit_test(nitrogen_has_its_unit),
        cmocka_unit_test(grown_sheep_go_through_the_winter),
        cmocka_unit_test(without_grown_sheep_there_is_no_winter),
        cmocka_unit_test(its_class_goes_by_lambing),
        cmocka_unit_test(a_row_is_the_middle_of_a_month_from_the_first_day_on),
        cmocka_unit_test(parts_last_as_long_as_they_hold),
        cmocka_unit_test(of_two_orders_the_better_one_is_shown),
        cmocka_unit_test(in_one_break_the_leafy_half_is_cleared),
        cmocka_unit_test(
            a_leafy_half_lasts_as_long_as_it_and_what_is_picked_beside),
        cmocka_unit_test(halves_differ_where_something_stands_on_both),
        cmocka_unit_test(what_was_left_is_set_beside_the_forecast),
        cmocka_unit_test(a_plan_takes_the_same_shares),
        cmocka_unit_test(a_zone_of_another_condition_has_its_share),
        cmocka_unit_test(effects_are_those_of_another_farm),
        cmocka_unit_test(dates_move_all_parts_and_stop_at_the_frost),
        cmocka_unit_test(nitrogen_moves_it_by_the_most_in_print),
        cmocka_unit_test(effects_say_what_was_tried_the_greatest_first),
        cmocka_unit_test(topping_is_laid_beside_a_farm_that_did_not),
        cmocka_unit_test(topping_is_late_and_heavy_from_a_limit_on),
        cmocka_unit_test(a_closing_is_a_farm_closed_that_day),
        cmocka_unit_test(labels_never_overlap),
        cmocka_unit_test(json_has_what_the_page_says),
    };
    return cmocka_run_group_tests_name("winter", tests, farm_set_up,
                                       farm_tear_down);
}
