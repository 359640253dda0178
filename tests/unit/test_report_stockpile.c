/* The page of the winter's grass read back: each sentence and each row against
 * the figures that it is of. */
#include "read_back.h"
#include "winter_told.h"

#include "figures/say.h"
#include "report/stockpile.h"
#include <foldwright/figures.h>

#include <math.h>
#include <string.h>

#define EWES "flock: [{head: 10, weight: 70 kg, state: dry}]\n"
#define TALL "forage: {sward: fescue-nitrogen, leave: 8 cm}\n"
#define FIELDS_ "fields: {source: field.geojson}\n"
#define TWO_PARTS                                                              \
    "  parts:\n"                                                               \
    "    - {part: heavy, area: 1 ha, grazed: 2027-06-12, left: 14 cm}\n"       \
    "    - {part: leafy, area: 1.5 ha, grazed: 2027-08-09, left: 12 cm,\n"     \
    "       topped: 2027-08-14, topped-to: 8 cm, nitrogen: 40 kg/ha}\n"

static const char *const farms[] = {
    FIELDS_ EWES TALL "stockpile:\n  line: virginia\n" TWO_PARTS,
    FIELDS_ EWES TALL
    "units: us\nlambing: {from: 2028-03-25, to: 2028-04-20}\n"
    "stockpile:\n  line: virginia\n  from: 2027-12-01\n  days: 90 days\n"
    "  frost: 2027-11-10\n" TWO_PARTS,
    FIELDS_ "flock: [{head: 40, weight: 70 kg, state: dry},\n"
            "  {head: 9, weight: 30 kg, state: weaned-lamb}]\n" TALL
            "lambing: {from: 2028-01-25, to: 2028-02-20}\n"
            "stockpile:\n  line: north-carolina\n  parts:\n"
            "    - {part: only, area: 3 ha, topped: 2027-10-01, topped-to: 8 "
            "cm}\n",
    FIELDS_ EWES "forage: {sward: mixed, density: 200 kg/ha/cm, leave: 8 cm}\n"
                 "stockpile:\n  line: ireland\n  frost: 2027-12-09\n  parts:\n"
                 "    - {part: a, area: 1 ha, grazed: 2027-10-10, left: 8 cm}\n"
                 "    - {part: b, area: 2 ha, grazed: 2027-11-01, left: 9 cm,\n"
                 "       topped: 2027-11-01, topped-to: 9 cm,\n"
                 "       nitrogen: 0.5 kg/ha}\n",
    FIELDS_ EWES
    "forage: {sward: mixed, density: 200 kg/ha/cm, leave: 8 cm}\n"
    "stockpile:\n  line: ontario\n  parts:\n"
    "    - {part: a, area: 4 ha, grazed: 2027-07-20, left: 12 cm,\n"
    "       nitrogen: 20 kg/ha}\n",
};
enum { farm_count = sizeof farms / sizeof *farms };

static const char *const classes[] = {
    "dry ewes", "ewes early in lamb", "ewes late in lamb",
    "ewes late in lamb, their intake by fibre"};
static const char *const conditions[] = {"fresh", "aged", "rank"};

static char *page_of(const struct fw_winter *winter)
{
    char *text = NULL;
    struct fw_error err = {0};
    if (fw_report_stockpile(winter, false, &text, &err))
        fail_msg("%s", err.text);
    return text;
}

/* The same with its paragraphs on one line each. */
static char *flat_of(const struct fw_winter *winter)
{
    char *text = page_of(winter);
    unfold(text, 4);
    for (char *at = text; (at = strchr(at, '\n'));) {
        if (at[1] != ' ' && at[1] != '\n' && at[1])
            *at = ' ';
        at++;
    }
    return text;
}

static const char *day_words(int day, char text[40])
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr",
                                         "May", "Jun", "Jul", "Aug",
                                         "Sep", "Oct", "Nov", "Dec"};
    const int month = fw_date_month(day);
    snprintf(text, 40, "%d %s",
             day - fw_date_first(fw_date_year(day), month) + 1,
             months[month - 1]);
    return text;
}

static double in_units(const struct fw_winter *winter, double kg)
{
    return winter->farm->units == FW_US ? kg / 0.45359237 : kg;
}

/* ---- the head ---- */

static void head_and_limits_say_whose_line_it_is(void **state)
{
    (void)state;
    for (int i = 0; i < farm_count; i++) {
        struct fw_winter *winter = winter_of(farms[i]);
        const struct fw_farm *of = winter->farm;
        const struct fw_stockpile_winter *told = &of->stockpile.winter;
        char *text = flat_of(winter);
        char words[400], a[FW_SAID], b[FW_SAID], day[40];
        snprintf(words, sizeof words,
                 "%.0f grown sheep of %s on %s in %zu part%s; wanted for %d "
                 "days from ",
                 winter->flock.head,
                 fw_say_mass(winter->flock.weight_kg, of->units, a),
                 fw_say_area(winter->area_ha, of->units, b), winter->part_count,
                 winter->part_count == 1 ? "" : "s", of->stockpile.days);
        has_words(text, words);
        snprintf(words, sizeof words, "By the line of %s (%s), ",
                 told->line->word, told->line->place);
        has_words(text, words);
        if (told->line->spring)
            snprintf(words, sizeof words, "with what winter takes in it,");
        else
            snprintf(words, sizeof words, "winter taking %.0f %%,",
                     100 * told->loss);
        has_words(text, words);
        snprintf(words, sizeof words, " growth ending with the frost on %s%s.",
                 day_words(told->frost_day, day),
                 of->stockpile.frost_told ? "" : ", the place's own");
        has_words(text, words);
        snprintf(words, sizeof words, "%d lambs are not counted",
                 winter->left_out);
        assert_int_equal(strstr(text, words) != NULL, winter->left_out > 0);
        snprintf(words, sizeof words,
                 "the line is from %.0f degrees north, the fields lie at "
                 "%.0f.",
                 fw_stockpile_lat_deg(told->line), told->lat_deg);
        has_words(text, words);
        assert_int_equal(
            strstr(text, "tells neither nitrogen nor cutting height") != NULL,
            told->base_nitrogen_kg_ha < 0);
        has_words(text, "Local codes, the maker's instructions");
        has_words(text, "Shares taken were measured on cattle and in other "
                        "seasons. Walk the parts in the first frost and weigh "
                        "what stands.");
        has_words(text, "Topping: no trial is found that shows its gain,");
        has_words(text, "What they leave settles it on this farm: --left "
                        "PART=HEIGHT.");
        has_words(text, "What moves the result, most first,");

        snprintf(words, sizeof words,
                 "with 0.6 %s of other feed a ewe a day beside it. What ewes "
                 "late in lamb can eat differs by source: %.1f %% of their "
                 "weight, or %.1f %% in fibre.",
                 of->units == FW_US ? "lb" : "kg",
                 100 * fw_figures_find("stockpile.limit.weight")->value,
                 100 * fw_figures_find("stockpile.limit.fibre")->value);
        has_words(text, words);
        assert_int_equal(strstr(text, "It was measured in spring") != NULL,
                         told->line->spring);
        assert_int_equal(strstr(text, "It tells no protein.") != NULL,
                         told->line->protein.count == 0);
        fw_bytes_free(text);
        winter_free(winter);
    }
}

/* ---- what to do ---- */

static void order_is_said(const char *text, const struct fw_winter *winter)
{
    const struct fw_winter_order *orders[] = {&winter->poor_first,
                                              &winter->good_first};
    const struct fw_winter_order *best = orders[winter->good_is_better];
    const struct fw_winter_order *other = orders[!winter->good_is_better];
    const enum fw_units units = winter->farm->units;
    char words[600] = "Graze ", day[40], kg[FW_SAID];
    size_t turns = 0;
    for (size_t i = 0; i < winter->part_count; i++)
        if (best->from_days[i] != FW_NO_DAY) {
            strcat(words, turns++ ? ", then " : "");
            strcat(words, winter->parts[best->parts[i]].part->name);
            strcat(words, " from ");
            strcat(words, day_words(best->from_days[i], day));
        }
    snprintf(words + strlen(words), 200,
             ": %d of %d days on grass, %d of them on grass alone%s%s%s.",
             best->days_fed, winter->farm->stockpile.days, best->days_at_need,
             best->other_kg > 0 ? ", with " : "",
             best->other_kg > 0 ? fw_say_mass(best->other_kg, units, kg) : "",
             best->other_kg > 0 ? " of other feed in all" : "");
    has_words(text, words);
    snprintf(words, sizeof words,
             "The other way round: %d days on grass, %d of them alone, %s of "
             "other feed.",
             other->days_fed, other->days_at_need,
             fw_say_mass(other->other_kg, units, kg));
    assert_int_equal(strstr(text, words) != NULL, winter->part_count > 1);
    assert_int_equal(strstr(text, "The better grass falls faster") != NULL,
                     winter->differ && winter->good_is_better);
    assert_int_equal(strstr(text, "The poorer grass is for those") != NULL,
                     winter->differ && !winter->good_is_better);
    assert_int_equal(strstr(text, "Lambing is not told") != NULL,
                     !winter->farm->lambing.given);
}

static void break_is_said(const char *text, const struct fw_winter *winter)
{
    char words[600] = "Fence them apart. In one open break they take of ";
    char day[40];
    if (!winter->differ) {
        has_not(text, "In one open break");
        return;
    }
    for (int apart = 0; apart < 2; apart++) {
        strcat(words, apart ? "; fenced apart " : "");
        for (size_t i = 0; i < winter->part_count; i++) {
            const struct fw_winter_part *part = &winter->parts[i];
            snprintf(words + strlen(words), 100, "%s%s %.0f %%", i ? ", " : "",
                     part->part->name,
                     100 * (apart ? part->middle.share : part->open_share));
        }
    }
    has_words(text, words);
    snprintf(words, sizeof words, "The leafy part is cleared by %s;",
             day_words(winter->cleared_day, day));
    const bool lasts = winter->cleared_day > winter->last_day;
    assert_int_equal(strstr(text, words) != NULL, !lasts);
    assert_int_equal(strstr(text, "The leafy part lasts them through") != NULL,
                     lasts);
}

static void window_is_said(const char *text, const struct fw_winter *winter,
                           int class)
{
    size_t from = 0, to = 0;
    char words[300], first[40], last[40];
    if (fw_winter_window(winter, (enum fw_stockpile_class) class, &from, &to))
        snprintf(words, sizeof words,
                 "  %s: closed about %s to %s, all of it feeds them %d days on "
                 "grass alone%s\n",
                 classes[class], day_words(winter->closings[from].day, first),
                 day_words(winter->closings[to].day, last),
                 winter->farm->stockpile.days,
                 winter->closings[from].measured &&
                         winter->closings[to].measured
                     ? ""
                     : " (in part beyond what was measured)");
    else
        snprintf(words, sizeof words,
                 "  %s: on no day that it could be closed does it feed them %d "
                 "days on grass alone\n",
                 classes[class], winter->farm->stockpile.days);
    has_words(text, words);
}

static void what_to_do_is_said(void **state)
{
    (void)state;
    int better[2] = {0, 0}, differ = 0;
    for (int i = 0; i < farm_count + 6; i++) {
        char *told = strdup(farms[i < farm_count ? i : i < farm_count + 3]);
        if (i >= farm_count) { /* more sheep, later lambs */
            char *head = strstr(told, "head: 10");
            if (head)
                memcpy(head, i % 2 ? "head: 30" : "head: 20", 8);
        }
        struct fw_winter *winter = winter_of(told);
        char *text = flat_of(winter), *plain = page_of(winter);
        order_is_said(text, winter);
        break_is_said(text, winter);
        unfold(plain, 4);
        for (int k = 0; k <= FW_STOCKPILE_LATE; k++)
            window_is_said(plain, winter, k);
        has_not(plain, "their intake by fibre: closed");
        differ += winter->differ;
        better[winter->good_is_better]++;
        fw_bytes_free(plain);
        fw_bytes_free(text);
        winter_free(winter);
        free(told);
    }
    assert_true(differ > 1 && better[0] > 0);
}

/* ---- rows ---- */

static void add_row(char *to, const struct fw_winter *winter,
                    const struct fw_winter_row *row, int day)
{
    char date[40], kg[FW_SAID], protein[20] = "-";
    const enum fw_units units = winter->farm->units;
    fw_say_mass_per_area(row->stand.mass_kg_ha, units, kg);
    kg[strcspn(kg, " ")] = 0;
    if (!isnan(row->stand.protein))
        snprintf(protein, sizeof protein, "%.1f", 100 * row->stand.protein);
    sprintf(to, "\n  %-7s%-8s%-8.1f%-6s%-6.0f", day_words(day, date), kg,
            100 * row->stand.digest, protein, 100 * row->share);
    for (int k = 0; k < FW_STOCKPILE_CLASS_COUNT; k++) {
        const struct fw_stockpile_fed *fed = &row->fed[k];
        char words[40] = "-";
        if (fed->days_with_feed > 0 && fed->other_kg > 0)
            snprintf(words, sizeof words, "%.0f +%.2f", fed->days_with_feed,
                     fw_say_round(in_units(winter, fed->other_kg), 2, FW_UP));
        else if (fed->days_with_feed > 0)
            snprintf(words, sizeof words, "%.0f", fed->days_at_need);
        sprintf(to + strlen(to), "%-10s", words);
    }
    while (to[strlen(to) - 1] == ' ')
        to[strlen(to) - 1] = 0;
}

static void rows_are_read_back(void **state)
{
    (void)state;
    int beyond = 0, listed = 0;
    for (int i = 0; i < farm_count; i++) {
        struct fw_winter *winter = winter_of(farms[i]);
        char *text = page_of(winter), words[400], date[40];
        is_set_as_a_page(text, 88);
        snprintf(words, sizeof words, "\n  all    then on %s\n",
                 day_words(winter->middle_day, date));
        has_words(text, words);
        int stars = 0;
        for (size_t k = 0; k < winter->closing_count; k++) {
            const struct fw_winter_closing *closing = &winter->closings[k];
            const int in_month = closing->day -
                                 fw_date_first(fw_date_year(closing->day),
                                               fw_date_month(closing->day)) +
                                 1;
            add_row(words, winter, &closing->row, closing->day);
            strcat(words, closing->measured ? "\n" : " *\n");
            const bool shown = in_month == 1 || in_month == 15;
            if (shown)
                has_words(text, words);
            listed += shown;
            stars += shown && !closing->measured;
        }
        assert_int_equal(times(text, " *\n"), stars);
        assert_int_equal(
            strstr(text, "* the line was not measured for that day") != NULL,
            stars > 0);
        beyond += stars;
        for (size_t p = 0; p < winter->part_count; p++)
            for (size_t k = 0; k < winter->row_count; k++) {
                const struct fw_winter_row *row = &winter->parts[p].rows[k];
                add_row(words, winter, row, row->day);
                strcat(words, "\n");
                has_words(text, words);
            }
        fw_bytes_free(text);
        winter_free(winter);
    }
    assert_true(beyond > 3 && listed > 30);
}

/* ---- parts ---- */

static void title_is_said(const char *text, const struct fw_winter *winter,
                          const struct fw_winter_part *part)
{
    const enum fw_units units = winter->farm->units;
    const struct fw_stockpile_stand *stand = &part->middle.stand;
    char words[500], area[FW_SAID], day[40], kg[FW_SAID];
    snprintf(words, sizeof words, "\n  %s, %s, closed %s: %s", part->part->name,
             fw_say_area(part->part->area_ha, units, area),
             day_words(stand->closed_day, day), conditions[stand->condition]);
    if (stand->carried_kg_ha > 0)
        snprintf(words + strlen(words), 120,
                 "; %s of old grass was left above the stop height and is "
                 "carried over",
                 fw_say_mass_per_area(stand->carried_kg_ha, units, kg));
    const double nitrogen = part->part->nitrogen_kg_ha;
    if (fabs(nitrogen) > 0)
        snprintf(words + strlen(words), 100,
                 "; nitrogen %s %s than the line had",
                 fw_say_mass_per_area(fabs(nitrogen), units, kg),
                 nitrogen > 0 ? "more" : "less");
    if (!part->measured)
        strcat(words, "; beyond the days for which the line was measured");
    strcat(words, "\n");
    has_words(text, words);
}

static void topping_is_said(const char *text, const struct fw_winter *winter,
                            const struct fw_winter_part *part)
{
    const struct fw_winter_topping *top = &part->topping;
    const enum fw_units units = winter->farm->units;
    const char *name = part->part->name;
    char words[600], a[FW_SAID];
    snprintf(words, sizeof words,
             "\n  %s: %s no grass above that height; seed heads alone are not "
             "worth it.\n",
             name, top->done ? "topping took" : "topping would take");
    assert_int_equal(strstr(text, words) != NULL, !top->cuts);
    if (!top->cuts)
        return;
    const struct fw_stockpile_fed *fed[] = {
        &top->with.fed[winter->class], &top->without.fed[winter->class],
        &top->without_best.fed[winter->class]};
    snprintf(words, sizeof words, "\n  %s, %s, about %.1f hours: ", name,
             fw_say_area(part->part->area_ha, units, a), top->hours);
    if (top->after_days < 0)
        strcat(words, "it was mown and not grazed.\n");
    else
        snprintf(words + strlen(words), 400,
                 "%s %.0f days at need for %s and %.2f %s of other feed a ewe "
                 "a day; left standing, %.0f and %.2f with old grass at its "
                 "worst, %.0f and %.2f at its best.\n",
                 top->done ? "topped" : "topped the day after grazing it had",
                 fed[0]->days_at_need, classes[winter->class],
                 in_units(winter, fed[0]->other_kg),
                 units == FW_US ? "lb" : "kg", fed[1]->days_at_need,
                 in_units(winter, fed[1]->other_kg), fed[2]->days_at_need,
                 in_units(winter, fed[2]->other_kg));
    has_words(text, words);
    snprintf(words, sizeof words,
             "! %s was topped %d days after grazing:", name, top->after_days);
    assert_int_equal(strstr(text, words) != NULL, top->done && top->late);
    snprintf(words, sizeof words, "! %s: %s of cut grass rots on what grows",
             name, fw_say_mass_per_area(top->swath_kg_ha, units, a));
    assert_int_equal(strstr(text, words) != NULL, top->heavy);
}

static void left_is_said(const char *text, const struct fw_winter *winter,
                         const struct fw_winter_part *part)
{
    const enum fw_units units = winter->farm->units;
    char words[400], wanted[FW_SAID], seen[FW_SAID];
    fw_say_height(part->left_m, units, FW_NEAREST, wanted);
    if (part->seen_m < 0)
        snprintf(words, sizeof words,
                 "  %s: by the forecast they leave about %s, fenced apart.",
                 part->part->name, wanted);
    else
        snprintf(words, sizeof words,
                 "  %s: they left %s, which is %.0f %% taken; the forecast was "
                 "%s and %.0f %% fenced apart, %.0f %% in one break.",
                 part->part->name,
                 fw_say_height(part->seen_m, units, FW_NEAREST, seen),
                 100 * part->seen_share, wanted, 100 * part->middle.share,
                 100 * part->open_share);
    has_words(text, words);
}

static void parts_are_read_back(void **state)
{
    (void)state;
    int carried = 0, heads = 0, late = 0, heavy = 0, alone = 0;
    for (int i = 0; i < farm_count; i++) {
        struct fw_winter *winter = winter_of(farms[i]);
        assert_int_equal(
            fw_winter_left(winter, winter->parts[0].part->name, 0.1, NULL),
            FW_OK);
        struct fw_winter_effect *first = &winter->effects[0];
        if (i % 2) /* nothing else could be tried of it */
            memcpy(first->to, first->from, sizeof first->to);
        char *text = page_of(winter);
        unfold(text, 4);
        for (size_t p = 0; p < winter->part_count; p++) {
            const struct fw_winter_part *part = &winter->parts[p];
            title_is_said(text, winter, part);
            topping_is_said(text, winter, part);
            left_is_said(text, winter, part);
            carried += part->middle.stand.carried_kg_ha > 0;
            heads += !part->topping.cuts;
            late += part->topping.done && part->topping.late;
            heavy += part->topping.heavy;
        }
        char words[200];
        for (size_t k = 0; k < winter->effect_count; k++) {
            const struct fw_winter_effect *effect = &winter->effects[k];
            alone += strcmp(effect->from, effect->to) == 0;
            if (strcmp(effect->from, effect->to) == 0)
                snprintf(words, sizeof words,
                         "\n  %-12s there is no other for this sward\n",
                         effect->what);
            else
                snprintf(words, sizeof words,
                         "\n  %-12s %.0f (%s) to %.0f (%s)\n", effect->what,
                         effect->from_days, effect->from, effect->to_days,
                         effect->to);
            has_words(text, words);
        }
        fw_bytes_free(text);
        winter_free(winter);
    }
    assert_true(carried > 1 && heads > 0 && late > 1 && heavy > 0);
    assert_true(alone > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(head_and_limits_say_whose_line_it_is),
        cmocka_unit_test(what_to_do_is_said),
        cmocka_unit_test(rows_are_read_back),
        cmocka_unit_test(parts_are_read_back),
    };
    return cmocka_run_group_tests_name("report_stockpile", tests, farm_set_up,
                                       farm_tear_down);
}
