#include "figures/say.h"
#include "safety/plane.h"
#include "table.h"
#include "units.h"

#include <ctype.h>
#include <geos_c.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

/* ---- cautions ---- */

static const struct fw_caution *caution_of(const char *id)
{
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(cautions[i].id, id) == 0)
            return &cautions[i];
    fail_msg("no caution \"%s\"", id);
    return NULL;
}

static bool says(const char *words, const char *word)
{
    const size_t length = strlen(word);
    char said[256];
    const char *text = fw_say_words(words, FW_METRIC, said, sizeof said);
    for (; *text; text++) {
        size_t i = 0;
        while (i < length && tolower((unsigned char)text[i]) == word[i])
            i++;
        if (i == length)
            return true;
    }
    return false;
}

static void cautions_are_short_sourced_and_promise_nothing(void **state)
{
    (void)state;
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++) {
        const struct fw_caution *row = &cautions[i];
        if (strlen(row->text) < 20 || strlen(row->text) > 200)
            fail_msg("\"%s\" has %zu characters", row->id, strlen(row->text));
        if (strlen(row->source) == 0 || strlen(row->source) >= 160)
            fail_msg("\"%s\" has a source of %zu characters", row->id,
                     strlen(row->source));
        if (says(row->text, "safe"))
            fail_msg("\"%s\" promises something", row->id);
        if (strlen(row->brief) < 10 || strlen(row->brief) > 100 ||
            says(row->brief, "safe"))
            fail_msg("\"%s\" is too long in short", row->id);
        if (row->text[strlen(row->text) - 1] != '.')
            fail_msg("\"%s\" ends without a full stop", row->id);
        for (size_t k = 0; k < i; k++)
            if (strcmp(cautions[k].id, row->id) == 0)
                fail_msg("\"%s\" stands there twice", row->id);
    }
}

static void people_come_before_sheep(void **state)
{
    (void)state;
    size_t count, people = 0;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 1; i < count; i++)
        if (cautions[i].people && !cautions[i - 1].people)
            fail_msg("\"%s\" comes after the sheep", cautions[i].id);
    for (size_t i = 0; i < count; i++)
        people += cautions[i].people;
    assert_true(people > 0 && people < count);
}

static void page_begins_with_who_comes_first(void **state)
{
    (void)state;
    size_t count;
    const struct fw_caution *first = fw_safety_cautions(&count);
    assert_true(fw_safety_applies(first, 0));
    assert_true(says(first->text, "local codes"));
    assert_true(says(first->text, "maker's instructions"));
    assert_true(says(first->text, "utility"));
    assert_true(says(first->text, "licensed electrician"));
}

/* What kills is told before all work: the first heading of the page. */
static void what_kills_is_told_first(void **state)
{
    (void)state;
    static const char *const order[] = {"first", "caught", "head-neck", "heart",
                                        "off-to-work"};
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        assert_string_equal(cautions[i].id, order[i]);
    for (size_t i = 1; i < count; i++)
        if (cautions[i].people == cautions[i - 1].people &&
            cautions[i].when < cautions[i - 1].when)
            fail_msg("\"%s\" stands under a heading that is over",
                     cautions[i].id);
}

/* South Australia, 2004: the risk is of many shocks over minutes to hours, of
 * head and neck, of being held or out cold; Annex BB.1: barbed wire is earthed
 * at regular intervals, crossings of power lines are avoided, and only where
 * they cannot be made under them; England's code for sheep, 51: no electric
 * mesh for horned ones. */
static void what_the_sources_say_stands_on_the_page(void **state)
{
    (void)state;
    static const struct {
        const char *id, *words[4];
    } rows[] = {
        {"caught", {"minutes of shocks", "head or neck", "held", "out cold"}},
        {"barbed", {"never electrified", "earthed at intervals", "15 cm", ""}},
        {"power-line-cross", {"avoid crossing", "under it", "right angle", ""}},
        {"netting", {"horned", "lambs", "neck", ""}},
        {"fescue", {"fungus", "seed heads", "summer", "winter, last"}},
        {"red-clover", {"6 weeks before", "6 weeks after", "tupping", ""}},
        {"lead-ground", {"25 cm", "15 cm", "conduit", "20 kv"}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (size_t k = 0; k < 4; k++)
            if (!says(caution_of(rows[i].id)->text, rows[i].words[k]))
                fail_msg("\"%s\" does not say %s", rows[i].id,
                         rows[i].words[k]);
    size_t count;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++)
        if (says(cautions[i].text, "in a row"))
            fail_msg("\"%s\" counts shocks, not minutes", cautions[i].id);
    /* The crossing is avoided before it is made. */
    assert_true(
        strstr(caution_of("power-line-cross")->text, "Avoid crossing") ==
        caution_of("power-line-cross")->text);
}

/* A figure is tried on the plan by a rule, or a rule says why no plan can. */
static void each_caution_with_a_figure_is_tried(void **state)
{
    (void)state;
    size_t count, rule_count, tried = 0;
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    const struct fw_safety_rule *rules = fw_safety_rules(&rule_count);
    for (size_t i = 0; i < count; i++) {
        const char *words = cautions[i].tried;
        if (strpbrk(cautions[i].text, "0123456789") && !words)
            fail_msg("nothing tries \"%s\": %s", cautions[i].id,
                     cautions[i].text);
        size_t named = 0, wanted = words != NULL;
        for (const char *c = words; c && *c; c++)
            wanted += *c == ' ';
        for (size_t k = 0; k < rule_count; k++)
            named += fw_safety_tries(&cautions[i], rules[k].id);
        if (named != wanted)
            fail_msg("\"%s\" names %zu rules, of which there are %zu: %s",
                     cautions[i].id, wanted, named, words);
        tried += named;
    }
    assert_true(tried > 30);
    assert_false(fw_safety_tries(caution_of("worms"), "worms"));
    assert_false(fw_safety_tries(caution_of("heart"), "worms-left"));
    assert_true(fw_safety_tries(caution_of("worms"), "worms-days"));
    /* And each row that tries the plan itself is of some caution. */
    for (size_t k = 0; k < rule_count; k++) {
        bool of_one = rules[k].check != FW_CHECK_PLAN;
        for (size_t i = 0; !of_one && i < count; i++)
            of_one = fw_safety_tries(&cautions[i], rules[k].id);
        if (!of_one)
            fail_msg("no caution is tried by \"%s\"", rules[k].id);
    }
}

static void rules_are_found_by_their_ids(void **state)
{
    (void)state;
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        assert_ptr_equal(fw_safety_rule_find(rules[i].id), &rules[i]);
    assert_null(fw_safety_rule_find("worms"));
    assert_true(fw_safety_is_checked(FW_ROLE_ROAD));
    assert_true(fw_safety_is_checked(FW_ROLE_WATER));
    assert_false(fw_safety_is_checked(FW_ROLE_EXCLUSION));
    assert_false(fw_safety_is_checked(FW_ROLE_EXISTING_FENCE));
    assert_false(fw_safety_is_checked(FW_ROLE_LANE));
    assert_false(fw_safety_is_checked(FW_ROLE_COUNT));
    /* No distance of the plan itself makes a check look farther. */
    assert_near(fw_safety_reach_m(), 50, 0);
}

static void every_kind_of_caution_is_there(void **state)
{
    (void)state;
    /* Those that hold for every electric fence, whatever is told. */
    const char *const always[] = {
        "heart",         "children",      "head-neck",       "climb",
        "barbed",        "one-energizer", "two-fences",      "earth",
        "thunder",       "fire",          "power-line",      "steep",
        "lead-building", "lead-ground",   "energizer-place", "off-to-work",
        "test",          "count",         "water",           "copper",
        "worms",         "enclose",       "caught",          "netting"};
    for (size_t i = 0; i < sizeof always / sizeof always[0]; i++)
        if (!fw_safety_applies(caution_of(always[i]), 0))
            fail_msg("\"%s\" does not always apply", always[i]);
}

static void caution_shows_with_its_concern_only(void **state)
{
    (void)state;
    const struct {
        const char *id;
        unsigned concern;
    } rows[] = {
        {"train", FW_CONCERN_UNTRAINED},
        {"bloat", FW_CONCERN_LEGUME},
        {"bloat-empty", FW_CONCERN_LEGUME},
        {"lambs-left", FW_CONCERN_LAMBS},
        {"late-gestation", FW_CONCERN_LATE_GESTATION},
        {"magnesium", FW_CONCERN_LACTATION | FW_CONCERN_SPRING},
        {"magnesium", FW_CONCERN_LATE_GESTATION | FW_CONCERN_SPRING},
        {"bloat-frost", FW_CONCERN_LEGUME | FW_CONCERN_COLD},
        {"new-sheep", FW_CONCERN_UNTRAINED},
        {"water-edge", FW_CONCERN_WATERCOURSE},
        {"shorn", FW_CONCERN_SHORN},
        {"power-line-cross", FW_CONCERN_POWER_LINE},
        {"path-cross", FW_CONCERN_ROAD},
        {"water-edge", FW_CONCERN_POND},
        {"cold", FW_CONCERN_COLD},
        {"heat", FW_CONCERN_HEAT},
        {"dry-soil", FW_CONCERN_DRY_SOIL},
        {"fescue", FW_CONCERN_FESCUE},
        {"red-clover", FW_CONCERN_TUPPING | FW_CONCERN_LEGUME},
    };
    unsigned seen = 0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_caution *row = caution_of(rows[i].id);
        assert_true(fw_safety_applies(row, rows[i].concern));
        assert_true(fw_safety_applies(row, ~0U));
        assert_false(fw_safety_applies(row, 0));
        assert_false(fw_safety_applies(row, ~row->concerns));
        if (row->seasons)
            assert_false(fw_safety_applies(row, ~row->seasons));
        seen |= rows[i].concern;
    }
    /* No concern is without a caution. */
    assert_int_equal(seen, (FW_CONCERN_TUPPING << 1) - 1);
}

static void texts_are_whole_in_the_farms_units(void **state)
{
    (void)state;
    size_t count;
    char said[256];
    const struct fw_caution *cautions = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++) {
        const char *const texts[] = {cautions[i].text, cautions[i].brief};
        for (size_t k = 0; k < 2; k++) {
            if (metric_in(fw_say_words(texts[k], FW_US, said, sizeof said)))
                fail_msg("%s: \"%s\"", cautions[i].id, said);
            fw_say_words(texts[k], FW_METRIC, said, sizeof said);
            assert_null(strpbrk(said, "{}<>"));
        }
    }
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++) {
        if (metric_in(fw_say_words(rules[i].text, FW_US, said, sizeof said)))
            fail_msg("%s: \"%s\"", rules[i].id, said);
        fw_say_words(rules[i].text, FW_METRIC, said, sizeof said);
        assert_null(strpbrk(said, "{}<>"));
    }
    assert_non_null(metric_in("keep 4 m off"));
    assert_null(metric_in("20 kV, 14 ft, 4 in, 3 moves, 30 %"));
}

/* What a text asks for first is what is checked. */
static void texts_ask_for_what_is_checked(void **state)
{
    (void)state;
    size_t count, seen = 0;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++) {
        const char *asks = strstr(rules[i].text, "{>");
        if (!asks || !(rules[i].wanted_m > 0))
            continue;
        const double wanted =
            rules[i].wanted_m < 1 ? 100 * rules[i].wanted_m : rules[i].wanted_m;
        if (fabs(strtod(asks + 2, NULL) - wanted) > 1e-9)
            fail_msg("%s wants %g m: %s", rules[i].id, rules[i].wanted_m,
                     rules[i].text);
        seen++;
    }
    assert_true(seen > 15);
}

/* ---- rules ---- */

/* The greatest distance that the rules of that level ask for. */
static double wanted_m(enum fw_role role, double kv, enum fw_level level)
{
    size_t count;
    double most = 0;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        if (fw_safety_covers(&rules[i], role, kv, FW_DRAWN_LINES) &&
            rules[i].check ==
                (level == FW_LEVEL_NOTE ? FW_CHECK_HEIGHT : FW_CHECK_NEAR) &&
            rules[i].level == level)
            most = fmax(most, rules[i].wanted_m);
    return most;
}

static void power_lines_have_the_distances_of_the_annex(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "safety_power_lines.tsv");
    while (table_next(&table, 4)) {
        const double kv = table_number(&table, 0);
        assert_near(wanted_m(FW_ROLE_POWER_LINE, kv, FW_LEVEL_DANGER),
                    table_number(&table, 1), 0);
        assert_near(wanted_m(FW_ROLE_POWER_LINE, kv, FW_LEVEL_NOTE),
                    table_number(&table, 2), 0);
    }
    table_close(&table);
}

static void voltage_that_is_no_number_counts_as_unknown(void **state)
{
    (void)state;
    assert_near(wanted_m(FW_ROLE_POWER_LINE, (double)NAN, FW_LEVEL_DANGER), 8,
                0);
}

static const struct fw_safety_rule *rule_of(const char *id)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(rules[i].id, id) == 0)
            return &rules[i];
    fail_msg("no rule \"%s\"", id);
    return NULL;
}

static void distances_of_the_rules_are_those_of_the_table(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "safety_distances.tsv");
    while (table_next(&table, 4)) {
        const struct fw_safety_rule *rule = rule_of(table.cells[0]);
        assert_near(rule->wanted_m, table_number(&table, 1), 0);
        if (strcmp(table.cells[2], "common practice") == 0 &&
            !strstr(rule->source, "common practice"))
            fail_msg("\"%s\" claims a source", rule->id);
    }
    table_close(&table);
}

/* The page for people names every published distance too. */
static void page_of_cautions_has_the_distances(void **state)
{
    (void)state;
    assert_true(says(caution_of("power-line")->text, "3 m up to 1 kv, 4 m up "
                                                     "to 33 kv, 8 m"));
    assert_true(says(caution_of("two-fences")->text, "2.5 m"));
    assert_true(says(caution_of("earth")->text, "10 m"));
    assert_true(says(caution_of("barbed")->text, "15 cm"));
    assert_true(says(caution_of("power-line-cross")->text, "3 m high"));
}

static void current_beside_a_line_is_that_of_the_published_case(void **state)
{
    (void)state;
    /* 345 kV, 9.144 m off, 3 km: just under 30 mA (Modelica Standard Library,
     * PowerLineWithFence); scaled by length alone. */
    assert_near(fw_safety_induced_ma(345, 3000), 30, 1e-12);
    assert_near(fw_safety_induced_ma(345, 1000), 10, 1e-12);
    assert_near(fw_safety_induced_ma(345, 0), 0, 0);
    assert_near(fw_safety_induced_ma(345, (double)NAN), 0, 0);
    /* Of no other voltage is there a published case. */
    static const double others_kv[] = {-1, 0.4, 20, 110, 330, 400, 765};
    for (size_t i = 0; i < sizeof others_kv / sizeof others_kv[0]; i++)
        assert_near(fw_safety_induced_ma(others_kv[i], 3000), 0, 0);
}

static void roles_say_what_they_are_drawn_as(void **state)
{
    (void)state;
    for (int i = 0; i < FW_ROLE_COUNT; i++)
        assert_true(fw_safety_role_drawn((enum fw_role)i) != 0);
    assert_int_equal(fw_safety_role_drawn(FW_ROLE_POWER_LINE), FW_DRAWN_LINES);
    assert_int_equal(fw_safety_role_drawn(FW_ROLE_POND), FW_DRAWN_AREAS);
    assert_int_equal(fw_safety_role_drawn(FW_ROLE_COUNT), 0);
    /* A point of a power layer is a pole: no clearance of wires from it. */
    assert_false(fw_safety_covers(rule_of("power-line-high"),
                                  FW_ROLE_POWER_LINE, 110, FW_DRAWN_POINTS));
    assert_true(fw_safety_covers(rule_of("power-line-pole"), FW_ROLE_POWER_LINE,
                                 -1, FW_DRAWN_POINTS));
}

static void published_distances_stand_in_the_rules(void **state)
{
    (void)state;
    /* Annex BB.1: 2.5 m; a British handbook: 2 m. */
    assert_near(wanted_m(FW_ROLE_OTHER_ELECTRIC, -1, FW_LEVEL_DANGER), 2.5, 0);
    assert_near(wanted_m(FW_ROLE_TELECOM, -1, FW_LEVEL_WARNING), 2, 0);
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    bool earth = false;
    for (size_t i = 0; i < count; i++)
        if (rules[i].role == FW_ROLE_BUILDING &&
            rules[i].check == FW_CHECK_EARTH) {
            /* Annex BB.1: 10 m from the mains earth. */
            assert_near(rules[i].wanted_m, 10, 0);
            assert_int_equal(rules[i].level, FW_LEVEL_DANGER);
            earth = true;
        }
    assert_true(earth);
}

static void rules_fit_a_finding_and_promise_nothing(void **state)
{
    (void)state;
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++) {
        const struct fw_safety_rule *row = &rules[i];
        if (strlen(row->id) >= 32 || strlen(row->text) >= 200 ||
            strlen(row->source) >= 160 || strlen(row->source) == 0 ||
            says(row->text, "safe"))
            fail_msg("rule \"%s\" is not fit to print", row->id);
        if (row->role != FW_ROLE_COUNT)
            assert_true(fw_safety_covers(row, row->role, row->most_kv,
                                         row->drawn ? (enum fw_drawn)row->drawn
                                                    : FW_DRAWN_LINES));
        for (size_t k = 0; k < i; k++)
            if (strcmp(rules[k].id, row->id) == 0)
                fail_msg("\"%s\" stands there twice", row->id);
    }
}

static void guide_has_the_row_of_every_check(void **state)
{
    (void)state;
    const char *tables = getenv("FW_TABLES");
    char path[4096], row[64];
    assert_non_null(tables);
    snprintf(path, sizeof path, "%s/../../docs/guide/safety.md", tables);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *page = calloc(1, 1 << 16);
    const size_t length = fread(page, 1, (1 << 16) - 1, file);
    fclose(file);
    assert_true(length > 1000 && length < (1 << 16) - 1);
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++) {
        snprintf(row, sizeof row, "\n| `%s` | ", rules[i].id);
        const char *at = strstr(page, row);
        if (!at)
            fail_msg("docs/guide/safety.md lacks the row of %s", rules[i].id);
        const char *end = strchr(at + 1, '\n');
        const char *level = strstr(at, fw_level_name(rules[i].level));
        if (!level || !end || level > end)
            fail_msg("docs/guide/safety.md: %s has another level", rules[i].id);
        if (!(rules[i].wanted_m > 0))
            continue;
        snprintf(row, sizeof row, "%g m", rules[i].wanted_m);
        const char *wanted = strstr(at, row);
        if (!wanted || wanted > end)
            fail_msg("docs/guide/safety.md: %s has another distance",
                     rules[i].id);
    }
    free(page);
}

static void signs_are_counted_with_both_ends(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "safety_signs.tsv");
    while (table_next(&table, 4))
        assert_near(fw_safety_sign_count(table_number(&table, 0),
                                         table_number(&table, 1)),
                    table_number(&table, 2), 0);
    table_close(&table);
    assert_int_equal(fw_safety_sign_count((double)NAN, 50), 0);
    assert_int_equal(fw_safety_sign_count((double)INFINITY, 50), INT_MAX);
}

static void every_role_has_its_word(void **state)
{
    (void)state;
    for (int i = 0; i < FW_ROLE_COUNT; i++) {
        enum fw_role role;
        const char *word = fw_safety_role_word((enum fw_role)i);
        assert_non_null(word);
        assert_int_equal(fw_safety_role_find(word, &role, NULL), FW_OK);
        assert_int_equal(role, i);
    }
    assert_null(fw_safety_role_word(FW_ROLE_COUNT));
    enum fw_role role = FW_ROLE_LANE;
    struct fw_error err = {0};
    assert_int_equal(fw_safety_role_find("powerline", &role, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "power-line"));
    assert_int_equal(role, FW_ROLE_LANE);
}

/* ---- distances ---- */

static void crossing_lines_have_no_distance(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {10, 10}};
    const struct fw_point line[] = {{0, 6}, {10, 6}};
    struct fw_point where = {0, 0};
    assert_near(fw_safety_distance_m(fence, 2, false, line, 2, false, &where),
                0, 0);
    assert_near(where.x_m, 6, 1e-12);
    assert_near(where.y_m, 6, 1e-12);
}

static void nearest_place_lies_on_the_fence(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {10, 0}};
    const struct fw_point line[] = {{4, 3}, {4, 9}};
    struct fw_point where = {0, 0};
    assert_near(fw_safety_distance_m(fence, 2, false, line, 2, false, &where),
                3, 0);
    assert_near(where.x_m, 4, 0);
    assert_near(where.y_m, 0, 0);
}

static void line_inside_an_area_has_no_distance(void **state)
{
    (void)state;
    const struct fw_point pond[] = {{0, 0}, {30, 0}, {30, 30}, {0, 30}};
    const struct fw_point fence[] = {{14, 15}, {16, 15}};
    assert_near(fw_safety_distance_m(fence, 2, false, pond, 4, true, NULL), 0,
                0);
    /* The same outline as a line all round is 14 m away. */
    const struct fw_point outline[] = {
        {0, 0}, {30, 0}, {30, 30}, {0, 30}, {0, 0}};
    assert_near(fw_safety_distance_m(fence, 2, false, outline, 5, false, NULL),
                14, 0);
}

static void pond_inside_a_fence_is_as_far_as_the_fence(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    const struct fw_point pond[] = {{40, 40}, {60, 40}, {60, 60}, {40, 60}};
    assert_near(fw_safety_distance_m(fence, 4, true, pond, 4, true, NULL), 40,
                0);
    /* The last side of a closed fence counts. */
    const struct fw_point post[] = {{3, 50}};
    assert_near(fw_safety_distance_m(fence, 4, true, post, 1, false, NULL), 3,
                0);
    assert_near(fw_safety_distance_m(fence, 4, false, post, 1, false, NULL), 50,
                0);
}

static void points_and_nothing_have_their_distance(void **state)
{
    (void)state;
    const struct fw_point a[] = {{0, 0}}, b[] = {{3, 4}};
    const struct fw_point ring[] = {{-1, -1}, {1, -1}, {0, 1}};
    assert_near(fw_safety_distance_m(a, 1, false, b, 1, false, NULL), 5, 0);
    assert_near(fw_safety_distance_m(a, 1, false, ring, 3, true, NULL), 0, 0);
    assert_true(isinf(fw_safety_distance_m(a, 0, false, b, 1, false, NULL)));
    assert_true(isinf(fw_safety_distance_m(a, 1, false, b, 0, true, NULL)));
}

static double uniform(unsigned long long *seed)
{
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*seed >> 11) / 9007199254740992.0;
}

static unsigned long long first_seed(void)
{
    const char *given = getenv("FW_SEED");
    const unsigned long long seed =
        given ? strtoull(given, NULL, 10) : 20260504ULL;
    print_message("# seed %llu\n", seed);
    return seed;
}

static size_t random_line(unsigned long long *seed, double span,
                          struct fw_point *line)
{
    const size_t n = 2 + (size_t)(uniform(seed) * 8);
    const double x = 300 * uniform(seed), y = 300 * uniform(seed);
    for (size_t i = 0; i < n; i++)
        line[i] = (struct fw_point){x + span * uniform(seed),
                                    y + span * uniform(seed)};
    return n;
}

static size_t random_star(unsigned long long *seed, struct fw_point *ring)
{
    const size_t n = 3 + (size_t)(uniform(seed) * 7);
    const double x = 300 * uniform(seed), y = 300 * uniform(seed);
    for (size_t i = 0; i < n; i++) {
        const double angle = 2 * acos(-1.0) * (double)i / (double)n;
        const double radius = 10 + 80 * uniform(seed);
        ring[i] =
            (struct fw_point){x + radius * cos(angle), y + radius * sin(angle)};
    }
    return n;
}

static GEOSGeometry *geos_of(GEOSContextHandle_t geos,
                             const struct fw_point *points, size_t n,
                             bool closed)
{
    const unsigned size = (unsigned)n + (closed ? 1 : 0);
    GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, size, 2);
    for (unsigned i = 0; i < size; i++)
        GEOSCoordSeq_setXY_r(geos, sequence, i, points[i % n].x_m,
                             points[i % n].y_m);
    if (!closed)
        return GEOSGeom_createLineString_r(geos, sequence);
    return GEOSGeom_createPolygon_r(
        geos, GEOSGeom_createLinearRing_r(geos, sequence), NULL, 0);
}

static void distances_agree_with_another_library(void **state)
{
    (void)state;
    unsigned long long seed = first_seed();
    GEOSContextHandle_t geos = GEOS_init_r();
    int zero = 0, apart = 0;
    for (int round = 0; round < 3000; round++) {
        struct fw_point a[16], b[16], where = {0, 0};
        const bool area = round % 2 == 0;
        const size_t m = random_line(&seed, 90, a);
        const size_t n =
            area ? random_star(&seed, b) : random_line(&seed, 150, b);
        const double got =
            fw_safety_distance_m(a, m, false, b, n, area, &where);
        GEOSGeometry *line = geos_of(geos, a, m, false);
        GEOSGeometry *other = geos_of(geos, b, n, area);
        double wanted = -1;
        assert_int_equal(GEOSDistance_r(geos, line, other, &wanted), 1);
        GEOSGeom_destroy_r(geos, line);
        GEOSGeom_destroy_r(geos, other);
        if (!(fabs(got - wanted) <= 1e-9))
            fail_msg("round %d: %.17g; the other says %.17g", round, got,
                     wanted);
        /* The place named is as far away as the whole line. */
        assert_near(fw_safety_distance_m(&where, 1, false, b, n, area, NULL),
                    got, 1e-9);
        zero += got == 0;
        apart += got > 0;
    }
    GEOS_finish_r(geos);
    assert_true(zero > 100 && apart > 100);
}

static void no_sampled_pair_is_nearer(void **state)
{
    (void)state;
    unsigned long long seed = first_seed();
    for (int round = 0; round < 100; round++) {
        struct fw_point a[16], b[16];
        const size_t m = random_line(&seed, 90, a);
        const size_t n = random_line(&seed, 150, b);
        const double got = fw_safety_distance_m(a, m, true, b, n, false, NULL);
        double least = 1e300, step = 0;
        enum { steps = 60 };
        for (size_t i = 0; i < m; i++)
            for (size_t j = 0; j + 1 < n; j++) {
                const struct fw_point p = a[i], q = a[(i + 1) % m];
                const struct fw_point r = b[j], s = b[j + 1];
                step = fmax(step, hypot(q.x_m - p.x_m, q.y_m - p.y_m));
                step = fmax(step, hypot(s.x_m - r.x_m, s.y_m - r.y_m));
                for (int k = 0; k <= steps; k++)
                    for (int l = 0; l <= steps; l++) {
                        const double t = k / (double)steps;
                        const double u = l / (double)steps;
                        least =
                            fmin(least, hypot(p.x_m + t * (q.x_m - p.x_m) -
                                                  r.x_m - u * (s.x_m - r.x_m),
                                              p.y_m + t * (q.y_m - p.y_m) -
                                                  r.y_m - u * (s.y_m - r.y_m)));
                    }
            }
        assert_true(got <= least + 1e-9);
        assert_true(got >= least - step / steps);
    }
}

/* ---- stretches and crossings ---- */

static struct fw_safety_shape shape_of(const struct fw_point *points,
                                       const size_t *starts, size_t rings,
                                       bool area)
{
    return (struct fw_safety_shape){points, starts, rings, area};
}

static void stretch_beside_a_line_is_cut_where_its_reach_ends(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    const struct fw_point road[] = {{20, 3}, {60, 3}};
    const size_t starts[] = {0, 2};
    const struct fw_safety_shape shape = shape_of(road, starts, 1, false);
    struct fw_stretches found = {0};
    assert_int_equal(fw_stretches_find(fence, 2, &shape, 5, 90, &found, NULL),
                     FW_OK);
    fw_stretches_join(&found, 0);
    assert_int_equal(found.count, 1);
    /* 4 m beyond each end: 3, 4, 5. */
    assert_near(found.items[0].from_m, 16, 1e-12);
    assert_near(found.items[0].to_m, 64, 1e-12);
    fw_stretches_release(&found);
}

static void only_what_runs_alike_counts_as_parallel(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    /* 10 m off for 50 m, then off at 45 degrees. */
    const struct fw_point line[] = {{0, 10}, {50, 10}, {90, 50}};
    const size_t starts[] = {0, 3};
    const struct fw_safety_shape shape = shape_of(line, starts, 1, false);
    struct fw_stretches found = {0};
    assert_int_equal(fw_stretches_find(fence, 2, &shape, 26, 30, &found, NULL),
                     FW_OK);
    fw_stretches_join(&found, 0);
    assert_int_equal(found.count, 1);
    assert_near(found.items[0].from_m, 0, 0);
    assert_near(found.items[0].to_m, 50, 1e-12);
    fw_stretches_release(&found);
}

/* A wall 0.6 m thick, 0.1 m away at most: 0.8 m of a fence that goes through
 * it, the middle too. */
static void a_thin_area_is_inside_all_through(void **state)
{
    (void)state;
    const struct fw_point wall[] = {{50, -9}, {50.6, -9}, {50.6, 9}, {50, 9}};
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    const size_t starts[] = {0, 4};
    const struct fw_safety_shape shape = shape_of(wall, starts, 1, true);
    struct fw_stretches found = {0};
    assert_int_equal(fw_stretches_find(fence, 2, &shape, 0.1, 90, &found, NULL),
                     FW_OK);
    fw_stretches_join(&found, 1e-6);
    assert_int_equal(found.count, 1);
    assert_near(found.items[0].from_m, 49.9, 1e-9);
    assert_near(found.items[0].to_m, 50.7, 1e-9);
    fw_stretches_release(&found);
}

/* However small it is all: lines of half a metre that cross have no distance,
 * and a second hole is one too. */
static void small_things_cross_and_have_holes(void **state)
{
    (void)state;
    const struct fw_point up[] = {{0, 0}, {0.5, 0.5}, {0, 0}};
    const struct fw_point down[] = {{0, 0.5}, {0.5, 0}, {0, 0.5}};
    const struct fw_point bar[] = {{0, -0.2}, {0, 0.2}, {0, -0.2}};
    const struct fw_point stem[] = {{0.2, 0}, {0.5, 0}, {0.2, 0}};
    for (size_t turn = 0; turn < 4; turn++) { /* whichever end comes first */
        const size_t i = turn % 2, k = turn / 2;
        struct fw_point where;
        assert_near(
            fw_safety_distance_m(up + i, 2, false, down + k, 2, false, &where),
            0, 0);
        assert_near(where.x_m, 0.25, 1e-15);
        assert_near(where.y_m, 0.25, 1e-15);
        assert_near(
            fw_safety_distance_m(bar + i, 2, false, stem + k, 2, false, NULL),
            0.2, 1e-15);
        assert_near(
            fw_safety_distance_m(stem + i, 2, false, bar + k, 2, false, NULL),
            0.2, 1e-15);
    }
    /* After the second hole lies what is none of the shape. */
    const struct fw_point rings[] = {{0, 0}, {9, 0}, {9, 9}, {0, 9}, {1, 1},
                                     {1, 3}, {3, 3}, {3, 1}, {5, 5}, {5, 8},
                                     {8, 8}, {8, 5}, {1, 9}, {9, 1}, {0, 0}};
    const size_t starts[] = {0, 4, 8, 12};
    const struct fw_safety_shape shape = shape_of(rings, starts, 3, true);
    assert_false(fw_safety__inside(&shape, (struct fw_point){2, 2}));
    assert_false(fw_safety__inside(&shape, (struct fw_point){6, 7}));
    assert_false(fw_safety__inside(&shape, (struct fw_point){7.5, 5.5}));
    assert_true(fw_safety__inside(&shape, (struct fw_point){4, 4}));
    assert_true(fw_safety__inside(&shape, (struct fw_point){2, 7}));
    assert_true(fw_safety__inside(&shape, (struct fw_point){7, 2}));
}

static void hole_of_an_area_is_outside_it(void **state)
{
    (void)state;
    const struct fw_point moat[] = {{0, 0},   {100, 0}, {100, 100}, {0, 100},
                                    {30, 30}, {30, 70}, {70, 70},   {70, 30}};
    const size_t starts[] = {0, 4, 8};
    const struct fw_safety_shape shape = shape_of(moat, starts, 2, true);
    const struct fw_point island[] = {{45, 50}, {55, 50}};
    const struct fw_point across[] = {{-20, 50}, {120, 50}};
    assert_near(fw_safety_shape_distance_m(island, 2, &shape, NULL), 15, 0);
    struct fw_stretches found = {0};
    assert_int_equal(fw_stretches_find(across, 2, &shape, 0, 90, &found, NULL),
                     FW_OK);
    fw_stretches_join(&found, 1e-6);
    assert_int_equal(found.count, 2);
    assert_near(found.items[0].from_m, 20, 1e-9);
    assert_near(found.items[0].to_m, 50, 1e-9);
    assert_near(found.items[1].from_m, 90, 1e-9);
    assert_near(found.items[1].to_m, 120, 1e-9);
    fw_stretches_release(&found);
    const struct fw_point wet = fw_safety_shape_nearest(&shape, across[0]);
    assert_near(wet.x_m, 0, 0);
    assert_near(wet.y_m, 50, 0);
}

static void stretches_join_over_short_gaps(void **state)
{
    (void)state;
    struct fw_stretch items[] = {{40, 50}, {0, 10}, {12, 20}, {5, 8}};
    struct fw_stretches all = {items, 4, 4};
    fw_stretches_join(&all, 1);
    assert_int_equal(all.count, 3);
    fw_stretches_join(&all, 2);
    assert_int_equal(all.count, 2);
    assert_near(all.items[0].to_m, 20, 0);
    assert_near(all.items[1].from_m, 40, 0);
}

static void crossing_has_its_place_and_angle(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    const struct {
        struct fw_point line[2];
        double at_m, deg;
    } rows[] = {
        {{{50, -10}, {50, 10}}, 50, 90},
        {{{40, -10}, {60, 10}}, 50, 45},
        {{{60, 10}, {40, -10}}, 50, 45},
        {{{50 - 10 / tan(1), -10}, {50 + 10 / tan(1), 10}}, 50, 57.29577951308},
        {{{30, 0}, {30, 40}}, 30, 90}, /* ends on the fence: it touches */
    };
    const size_t starts[] = {0, 2};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct fw_safety_shape shape =
            shape_of(rows[i].line, starts, 1, false);
        struct fw_crossings found = {0};
        assert_int_equal(fw_crossings_find(fence, 2, &shape, &found, NULL),
                         FW_OK);
        assert_int_equal(found.count, 1);
        assert_false(found.lies_along);
        assert_near(found.items[0].at_m, rows[i].at_m, 1e-9);
        assert_near(found.items[0].angle_deg, rows[i].deg, 1e-9);
        fw_crossings_release(&found);
    }
}

static void path_that_ends_on_a_fence_in_two_parts_crosses_once(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {50, 0}, {100, 0}};
    const struct fw_point path[] = {{50, -9}, {50, 0}, {50, 0}, {50, 9}};
    const size_t starts[] = {0, 2, 4};
    const struct fw_safety_shape shape = shape_of(path, starts, 2, false);
    struct fw_crossings found = {0};
    assert_int_equal(fw_crossings_find(fence, 3, &shape, &found, NULL), FW_OK);
    assert_int_equal(found.count, 1);
    fw_crossings_release(&found);
}

static void road_on_the_boundary_lies_along_it(void **state)
{
    (void)state;
    const struct fw_point fence[] = {{0, 0}, {100, 0}};
    const struct fw_point road[] = {{-20, 0}, {60, 0}, {60, 30}};
    const size_t starts[] = {0, 3};
    const struct fw_safety_shape shape = shape_of(road, starts, 1, false);
    struct fw_crossings found = {0};
    assert_int_equal(fw_crossings_find(fence, 2, &shape, &found, NULL), FW_OK);
    assert_int_equal(found.count, 0);
    assert_true(found.lies_along);
    fw_crossings_release(&found);
}

/* Length within reach by our closed form, and by GEOS as what is common to the
 * line and a buffer of 512 sides to the circle, which is smaller by up to
 * reach (1 - cos(pi / 512)) = 0.2 mm of 10 m. */
static void stretches_agree_with_another_library(void **state)
{
    (void)state;
    unsigned long long seed = first_seed();
    GEOSContextHandle_t geos = GEOS_init_r();
    double most_m = 0;
    for (int round = 0; round < 400; round++) {
        struct fw_point a[16], b[16];
        const bool area = round % 2 == 0;
        const size_t m = random_line(&seed, 200, a);
        const size_t n =
            area ? random_star(&seed, b) : random_line(&seed, 200, b);
        const size_t starts[] = {0, n};
        const struct fw_safety_shape shape = shape_of(b, starts, 1, area);
        struct fw_stretches found = {0};
        assert_int_equal(fw_stretches_find(a, m, &shape, 10, 90, &found, NULL),
                         FW_OK);
        fw_stretches_join(&found, 0);
        double got_m = 0, wanted_m = 0, part_m = 0;
        for (size_t i = 0; i < found.count; i++)
            got_m += found.items[i].to_m - found.items[i].from_m;
        fw_stretches_release(&found);
        GEOSGeometry *other = geos_of(geos, b, n, area);
        GEOSGeometry *band = GEOSBuffer_r(geos, other, 10, 128);
        /* Piece by piece: a line that crosses itself counts twice. */
        for (size_t i = 1; i < m; i++) {
            GEOSGeometry *line = geos_of(geos, a + i - 1, 2, false);
            GEOSGeometry *common = GEOSIntersection_r(geos, line, band);
            GEOSLength_r(geos, common, &part_m);
            wanted_m += part_m;
            GEOSGeom_destroy_r(geos, common);
            GEOSGeom_destroy_r(geos, line);
        }
        GEOSGeom_destroy_r(geos, band);
        GEOSGeom_destroy_r(geos, other);
        /* A line that grazes the band parts from it over a longer way. */
        if (!(fabs(got_m - wanted_m) <= 0.2))
            fail_msg("round %d: %.6f m; the other says %.6f", round, got_m,
                     wanted_m);
        most_m = fmax(most_m, got_m);
    }
    GEOS_finish_r(geos);
    assert_true(most_m > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cautions_are_short_sourced_and_promise_nothing),
        cmocka_unit_test(people_come_before_sheep),
        cmocka_unit_test(page_begins_with_who_comes_first),
        cmocka_unit_test(what_kills_is_told_first),
        cmocka_unit_test(what_the_sources_say_stands_on_the_page),
        cmocka_unit_test(each_caution_with_a_figure_is_tried),
        cmocka_unit_test(rules_are_found_by_their_ids),
        cmocka_unit_test(every_kind_of_caution_is_there),
        cmocka_unit_test(caution_shows_with_its_concern_only),
        cmocka_unit_test(power_lines_have_the_distances_of_the_annex),
        cmocka_unit_test(texts_are_whole_in_the_farms_units),
        cmocka_unit_test(texts_ask_for_what_is_checked),
        cmocka_unit_test(voltage_that_is_no_number_counts_as_unknown),
        cmocka_unit_test(published_distances_stand_in_the_rules),
        cmocka_unit_test(distances_of_the_rules_are_those_of_the_table),
        cmocka_unit_test(page_of_cautions_has_the_distances),
        cmocka_unit_test(current_beside_a_line_is_that_of_the_published_case),
        cmocka_unit_test(roles_say_what_they_are_drawn_as),
        cmocka_unit_test(rules_fit_a_finding_and_promise_nothing),
        cmocka_unit_test(guide_has_the_row_of_every_check),
        cmocka_unit_test(signs_are_counted_with_both_ends),
        cmocka_unit_test(every_role_has_its_word),
        cmocka_unit_test(crossing_lines_have_no_distance),
        cmocka_unit_test(nearest_place_lies_on_the_fence),
        cmocka_unit_test(line_inside_an_area_has_no_distance),
        cmocka_unit_test(pond_inside_a_fence_is_as_far_as_the_fence),
        cmocka_unit_test(points_and_nothing_have_their_distance),
        cmocka_unit_test(distances_agree_with_another_library),
        cmocka_unit_test(no_sampled_pair_is_nearer),
        cmocka_unit_test(stretch_beside_a_line_is_cut_where_its_reach_ends),
        cmocka_unit_test(only_what_runs_alike_counts_as_parallel),
        cmocka_unit_test(a_thin_area_is_inside_all_through),
        cmocka_unit_test(small_things_cross_and_have_holes),
        cmocka_unit_test(hole_of_an_area_is_outside_it),
        cmocka_unit_test(stretches_join_over_short_gaps),
        cmocka_unit_test(crossing_has_its_place_and_angle),
        cmocka_unit_test(path_that_ends_on_a_fence_in_two_parts_crosses_once),
        cmocka_unit_test(road_on_the_boundary_lies_along_it),
        cmocka_unit_test(stretches_agree_with_another_library),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
