/* Lists and pages besides the report: candidates side by side, the list to buy,
 * cautions, dangers of a day, the register, styles, columns of the map. */
#include "fields_by_hand.h"
#include "plan_in_hand.h"
#include "read_back.h"

#include "choice/choice.h"
#include "export/export.h"
#include "export/styles.h"
#include "report/register.h"
#include "report/report.h"

/* ---- candidates ---- */

static struct fw_plan_score scored[] = {
    {.layout = "strips-30",
     .pattern = "strips",
     .field = 0,
     .paddocks = 10,
     .line_m = 805,
     .moved_m = 702.5,
     .standing_m = 102.5,
     .bound_m = 500,
     .days = 12.5,
     .minutes = 17.25,
     .kit = {3, 44, 555.5},
     .set_first = true,
     .fits_kit = true,
     .cost_known = true,
     .cost = 321.5,
     .walk_low_m = 60.5,
     .walk_m = 61.5,
     .walk_high_m = 61.5,
     .walk_exact = true,
     .walk_most_m = 99.5,
     .walk_bound_m = 41,
     .width_m = 22.5,
     .elongation = 3.25,
     .longest_run_m = 95.5,
     .lost = 0.0625,
     .pace_share = 0.03,
     .unbeaten = true,
     .chosen = true,
     .gate_m = 7.5},
    {.layout = "blocks-2-33",
     .pattern = "blocks",
     .field = 0,
     .paddocks = 12,
     .line_m = 905,
     .moved_m = 600,
     .standing_m = 305,
     .bound_m = 0,
     .days = 13.5,
     .minutes = 20,
     .kit = {4, 55, 666.5},
     .cost = 1,
     .walk_low_m = 71.5,
     .walk_high_m = HUGE_VAL,
     .walk_most_m = (double)NAN,
     .walk_bound_m = (double)NAN,
     .walk_m = 71.5,
     .width_m = 32.5,
     .elongation = 2,
     .lost = 0,
     .beyond_limits = 2,
     .turns = 3,
     .apart = 4,
     .refused = 5,
     .crossed_m = 6.5,
     .crossings = 7,
     .dry_nights = 8,
     .unfed = 9,
     .narrow = 11,
     .far_first = true,
     .keep_short = 0.5},
    {.layout = "lane",
     .pattern = "lane",
     .field = 1,
     .paddocks = 1,
     .line_m = 100,
     .bound_m = 100,
     .walk_low_m = 80.5,
     .walk_m = 80.5,
     .walk_high_m = 96.75,
     .walk_most_m = (double)NAN,
     .walk_bound_m = (double)NAN,
     .fits_kit = true},
};

static struct fw_plan_scores candidates(void)
{
    return (struct fw_plan_scores){.items = scored, .count = 3};
}

static char *compared(const struct fw_farm *farm,
                      const struct fw_plan_scores *scores)
{
    struct fw_error err;
    static char *text;
    if (fw_report_compare(farm, scores, false, &text, &err))
        fail_msg("%s", err.text);
    return text;
}

static void candidates_are_rows(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    const struct fw_plan_scores scores = candidates();
    farm.kit_given = true;
    char *text = compared(&farm, &scores);
    has_words(text, "\"more\"\x01: 10 to 12 paddocks\n"
                    "   layout          min moved stand reels posts  wire "
                    "lost width shape walk fence\n"
                    "                           m     m                 m   "
                    " %     m  1 to    m bound\n");
    has_words(text, "\n> is what plan takes; * none is better in everything. "
                    "min: minutes a");
    const char *legend = strstr(text, "\n> is what plan takes") + 1;
    assert_true(strchr(legend, '\n')[1] != ' ');
    has_words(text, "\n>* strips-30        18    70   102     3    44   556 "
                    "   6    22   3.2   62  1.61\n");
    has_words(text,
              "\n   blocks-2-33 !~#xd-f  20    50   305     4    55   666 "
              "   0    32   2.0  72+     -\n");
    has_words(text, "\nSlant: 1 paddock\n");
    has_words(text, "\n   lane              0     0     0     0     0     0 "
                    "   0     0  0.0 80-97  1.00\n");
    has_words(text, "\n57-64: to walk all of it would take too long");
    has_words(text, "\n57+: the straight way; how much longer");
    fw_bytes_free(text);
    const struct fw_plan_scores walked = {.items = scored, .count = 1};
    text = compared(&farm, &walked);
    assert_null(strstr(text, "\n57"));
    fw_bytes_free(text);
    farm.units = FW_US; /* 70.25 m are 230.5 ft, 555.5 m 1822.5 ft */
    text = compared(&farm, &scores);
    has_words(text, "                          ft    ft                ft   "
                    " %    ft  1 to   ft bound\n");
    has_words(text, ">* strips-30        18   230   336     3    44  1823 "
                    "   6    74   3.2  202  1.61\n");
    fw_bytes_free(text);
}

/* Each mark by itself, and what is said of it. */
static void marks_are_explained_where_they_stand(void **state)
{
    (void)state;
    static const char *const said[] = {
        "\n! some paddocks or runs break", "\n~ on some moves the flock walks",
        "\n# more stands at once than",    "\nx they are walked over ungrazed",
        "\nd on some nights they have",    "\n- refused: at some step nothing",
        "\nf the far end is grazed first",
    };
    static const char letters[] = "!~#xd-f";
    struct fw_farm farm = fields_by_hand();
    farm.kit_given = true;
    for (size_t i = 0; i < 7; i++) {
        struct fw_plan_score one = scored[2];
        one.beyond_limits = i == 0;
        one.turns = i == 1;
        one.fits_kit = i != 2;
        one.crossed_m = i == 3 ? 0.5 : 0;
        one.dry_nights = i == 4;
        one.refused = i == 5;
        one.far_first = i == 6;
        const struct fw_plan_scores scores = {.items = &one, .count = 1};
        char wanted[40], *text = compared(&farm, &scores);
        snprintf(wanted, sizeof wanted, "\n   lane %c      ", letters[i]);
        has_words(text, wanted);
        for (size_t k = 0; k < 7; k++)
            assert_int_equal(times(text, said[k]), k == i);
        fw_bytes_free(text);
        farm.kit_given = i != 2; /* a kit that nobody told is no want */
        text = compared(&farm, &scores);
        assert_int_equal(times(text, said[2]), 0);
        farm.kit_given = true;
        fw_bytes_free(text);
    }
}

static void fields_without_a_plan_are_named(void **state)
{
    (void)state;
    struct fw_note notes_of[] = {
        {FW_LEVEL_DANGER, (char *)"Top", (char *)"the grass is eaten"},
        {FW_LEVEL_DANGER, (char *)"Upper", (char *)"it floods"}};
    const struct fw_farm farm = fields_by_hand();
    struct fw_plan_scores scores = candidates();
    scores.unplanned = (struct fw_notes){notes_of, 2, 2};
    char *text = compared(&farm, &scores);
    has_words(text, "! Top has no plan: the grass is eaten\n"
                    "! Upper has no plan: it floods\n");
    fw_bytes_free(text);
    struct fw_error err;
    assert_int_equal(fw_report_compare_json(&farm, &scores, &text, &err),
                     FW_OK);
    struct json_object *root = parsed(text), *list = of(root, "unplanned");
    fw_bytes_free(text);
    assert_int_equal(json_object_array_length(list), 2);
    is_text(at(list, 0), "field", "Top");
    is_text(at(list, 1), "field", "Upper");
    is_text(at(list, 1), "reason", "it floods");
    json_object_put(root);
    scores = (struct fw_plan_scores){0};
    assert_int_equal(fw_report_compare_json(&farm, &scores, &text, &err),
                     FW_OK);
    root = parsed(text);
    assert_int_equal(json_object_array_length(of(root, "unplanned")), 0);
    assert_int_equal(json_object_array_length(of(root, "candidates")), 0);
    json_object_put(root);
    fw_bytes_free(text);
}

static void machines_get_every_score(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    const struct fw_plan_scores scores = candidates();
    for (int given = 0; given < 2; given++) {
        struct fw_error err;
        char *text = NULL;
        farm.kit_given = given;
        assert_int_equal(fw_report_compare_json(&farm, &scores, &text, &err),
                         FW_OK);
        struct json_object *root = parsed(text);
        fw_bytes_free(text);
        for (size_t i = 0; i < 3; i++) {
            const struct fw_plan_score *s = &scored[i];
            struct json_object *row = at(of(root, "candidates"), i);
            is_text(row, "layout", s->layout);
            is_text(row, "pattern", s->pattern);
            is_text(row, "field", shapes[s->field].name);
            is_number(row, "paddocks", (double)s->paddocks);
            is_number(row, "days", s->days);
            is_number(row, "minutes_per_day", s->minutes);
            is_number(row, "lost", s->lost);
            is_text(row, "order", i == 0 ? "set-first" : "leapfrog");
            is_number(row, "fence_m", s->line_m);
            is_number(row, "moved_m", s->moved_m);
            is_number(row, "standing_m", s->standing_m);
            is_number(row, "fence_bound_m", s->bound_m);
            is_number(row, "reels", s->kit.reels);
            is_number(row, "posts", s->kit.posts);
            is_number(row, "wire_m", s->kit.wire_m);
            is_number(row, "cost", i == 0 ? s->cost : (double)NAN);
            is_number(row, "walk_low_m", s->walk_low_m);
            is_number(row, "walk_m", s->walk_exact ? s->walk_m : (double)NAN);
            is_number(row, "walk_high_m",
                      isfinite(s->walk_high_m) ? s->walk_high_m : (double)NAN);
            is_number(row, "walk_most_m", s->walk_most_m);
            is_number(row, "walk_bound_m", s->walk_bound_m);
            is_number(row, "width_m", s->width_m);
            is_number(row, "elongation", s->elongation);
            is_number(row, "longest_run_m", s->longest_run_m);
            is_number(row, "beyond_limits", (double)s->beyond_limits);
            is_number(row, "walks_back", (double)s->turns);
            is_number(row, "not_reached", (double)s->apart);
            is_number(row, "refused", (double)s->refused);
            is_number(row, "crossed_m", s->crossed_m);
            is_number(row, "crossings", (double)s->crossings);
            is_number(row, "dry_nights", (double)s->dry_nights);
            is_number(row, "unfed", (double)s->unfed);
            is_number(row, "narrow", (double)s->narrow);
            is_number(row, "gate_m", s->gate_m);
            is_number(row, "keep_short", s->keep_short);
            is_flag(row, "far_first", s->far_first);
            if (given)
                is_flag(row, "fits_kit", s->fits_kit);
            else
                assert_null(of(row, "fits_kit"));
            is_flag(row, "unbeaten", s->unbeaten);
            is_flag(row, "chosen", s->chosen);
        }
        json_object_put(root);
    }
}

/* ---- the list to buy ---- */

static void is_listed(const struct fw_material *rows, size_t count,
                      enum fw_units units, const char *currency,
                      const char *wanted)
{
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(
        fw_report_materials(&(struct fw_export_list){.rows = rows,
                                                     .count = count,
                                                     .units = units,
                                                     .currency = currency},
                            &text, &err),
        FW_OK);
    const char *list = strstr(text, "\n\n");
    assert_string_equal(list + 2, wanted);
    fw_bytes_free(text);
}

static void what_to_buy_is_added_up(void **state)
{
    (void)state;
    struct fw_material rows[] = {
        {"step-in post", FW_WARE_POST, "each", 21, 0, 0, 0, 2.25,
         "two lines and a spare"},
        {"polywire", FW_WARE_WIRE, "m", 332.5, 0, 0, 0, 0.06, ""},
        {"rope", FW_WARE_WIRE, "m", 12.25, 0, 0, 0, -1, ""},
    };
    is_listed(rows, 3, FW_METRIC, "EUR",
              "      21 each  step-in post                                    "
              " 47.25\n               two lines and a spare\n"
              "     333 m     polywire                                         "
              "19.95\n   12.25 m     rope\n"
              "                                                    together    "
              "67.20 EUR\n1 of 3 rows have no price.\n");
    /* 332.5 m are 1090.9 ft, 12.25 m are 40.19 ft; the price is the same. */
    is_listed(rows, 3, FW_US, "",
              "      21 each  step-in post                                    "
              " 47.25\n               two lines and a spare\n"
              "    1091 ft    polywire                                         "
              "19.95\n   40.19 ft    rope\n"
              "                                                    together    "
              "67.20\n1 of 3 rows have no price.\n");
    is_listed(rows, 1, FW_METRIC, "EUR",
              "      21 each  step-in post                                    "
              " 47.25\n               two lines and a spare\n"
              "                                                    together    "
              "47.25 EUR\n");
    is_listed(rows + 2, 1, FW_METRIC, "EUR",
              "   12.25 m     rope\nPrices were not told: see prices in the "
              "farm file.\n");
    rows[2].price = 0;
    rows[2].quantity = 99.5;
    is_listed(rows + 2, 1, FW_METRIC, "EUR",
              "   99.50 m     rope                                             "
              " 0.00\n                                                    "
              "together     0.00 EUR\n");
    rows[2].quantity = 100.25; /* of so many the part of one is one more */
    rows[2].price = -1;
    is_listed(rows + 2, 1, FW_METRIC, "",
              "     101 m     rope\nPrices were not told: see prices in the "
              "farm file.\n");
    is_listed(rows, 0, FW_METRIC, "EUR", "Nothing is missing.\n");
}

static void machines_get_what_to_buy(void **state)
{
    (void)state;
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(
        fw_report_materials_json(&(struct fw_export_list){.rows = materials,
                                                          .count = 2,
                                                          .units = FW_METRIC,
                                                          .currency = "EUR"},
                                 &text, &err),
        FW_OK);
    struct json_object *root = parsed(text), *list = of(root, "materials");
    fw_bytes_free(text);
    is_text(root, "currency", "EUR");
    assert_int_equal(json_object_array_length(list), 2);
    is_text(at(list, 0), "item", "step-in post");
    is_text(at(list, 0), "unit", "each");
    is_number(at(list, 0), "quantity", 21);
    is_number(at(list, 0), "price", 2.25);
    is_text(at(list, 0), "note", "two lines and a spare");
    is_number(at(list, 1), "price", (double)NAN);
    json_object_put(root);
    struct fw_material gift = materials[0];
    gift.price = 0;
    assert_int_equal(
        fw_report_materials_json(
            &(struct fw_export_list){
                .rows = &gift, .count = 1, .units = FW_METRIC, .currency = ""},
            &text, &err),
        FW_OK);
    root = parsed(text);
    fw_bytes_free(text);
    is_text(root, "currency", NULL);
    is_number(at(of(root, "materials"), 0), "price", 0);
    json_object_put(root);
}

/* ---- cautions ---- */

static char *cautions_page(const struct fw_plan *plan)
{
    struct fw_error err;
    static char *text;
    assert_int_equal(fw_report_cautions(plan, &text, &err), FW_OK);
    unfold(text, 4);
    return text;
}

/* A caution as the page has it: its number, its words, its source. */
static void page_has(const char *text, const struct fw_caution *caution,
                     int number, enum fw_units units, bool wanted)
{
    char words[400], line_of[800];
    fw_say_words(caution->text, units, words, sizeof words);
    snprintf(line_of, sizeof line_of, "%2d  %s", number, words);
    if ((strstr(text, line_of) != NULL) != wanted)
        fail_msg("%d times: %s", !wanted, line_of);
    if (!wanted)
        return;
    const char *here = strstr(text, line_of);
    const char *next = strstr(here, "\n");
    snprintf(line_of, sizeof line_of, "(%s)\n", caution->source);
    has_words(here, line_of);
    assert_true(strstr(here, line_of) - next < 200);
}

static void cautions_are_numbered(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    const struct fw_plan *const plans[] = {NULL, &hand.plan, &hand.plan};
    for (size_t p = 0; p < 3; p++) {
        hand.plan.units = p == 2 ? FW_US : FW_METRIC;
        char *text = cautions_page(plans[p]);
        size_t count;
        int numbers[2] = {0, 0};
        const struct fw_caution *all = fw_safety_cautions(&count);
        has_words(text,
                  p ? "CAUTIONS for Hill\n\nPEOPLE\n" : "CAUTIONS\n\nPEOPLE\n");
        char *sheep = strstr(text, "\nSHEEP\n");
        for (size_t i = 0; i < count; i++) {
            if (plans[p] && !fw_safety_applies(&all[i], hand.plan.concerns))
                continue;
            page_has(all[i].people ? text : sheep, &all[i],
                     ++numbers[all[i].people], hand.plan.units, true);
        }
        char after[40]; /* and no more of them */
        snprintf(after, sizeof after, "\n%2d  ", numbers[0] + 1);
        has_not(sheep, after);
        *sheep = '\0';
        snprintf(after, sizeof after, "\n%2d  ", numbers[1] + 1);
        has_not(text, after);
        fw_bytes_free(text);
    }
}

/* Above the cautions of a time stands which; first those of none. */
static void cautions_stand_by_their_time(void **state)
{
    (void)state;
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(fw_report_cautions(NULL, &text, &err), FW_OK);
    size_t count, headings = 0;
    const struct fw_caution *all = fw_safety_cautions(&count);
    const char *here = text;
    for (int people = 1; people >= 0; people--) {
        enum fw_when when = FW_WHEN_FIRST;
        for (size_t i = 0; i < count; i++) {
            char heading[80];
            if (all[i].people != (people != 0) || all[i].when == when)
                continue;
            when = all[i].when;
            snprintf(heading, sizeof heading, "\n\n    %s:\n",
                     fw_safety_when_word(when));
            has_words(here, heading);
            here = strstr(here, heading) + 1;
            headings++;
        }
    }
    assert_true(headings > 1);
    assert_int_equal(times(text, "\n\n    "), headings);
    fw_bytes_free(text);
}

static void what_was_tried_is_told(void **state)
{
    (void)state;
    static const struct {
        const char *word, *says;
    } rows[] = {
        {"kept", "    tried on this plan, and nothing found\n"},
        {"broken", "    NOT KEPT by this plan: see the end of the page\n"},
        {"looked", "    looked at by a person\n"},
        {"no", "    not tried on this plan\n"},
    };
    struct hand hand;
    take_in_hand(&hand);
    size_t count;
    const struct fw_caution *all = fw_safety_cautions(&count);
    struct fw_plan_caution tried = page[0];
    hand.plan.cautions = &tried;
    snprintf(tried.id, sizeof tried.id, "%s", all[0].id);
    for (size_t i = 0; i < 5; i++) {
        struct fw_error err;
        char *text = NULL;
        snprintf(tried.tried, sizeof tried.tried, "%s",
                 i < 4 ? rows[i].word : "");
        assert_int_equal(fw_report_cautions(&hand.plan, &text, &err), FW_OK);
        for (size_t k = 0; k < 4; k++)
            assert_int_equal(times(text, rows[k].says), k == i);
        fw_bytes_free(text);
        assert_int_equal(fw_report_cautions_json(&hand.plan, &text, &err),
                         FW_OK);
        struct json_object *list = parsed(text);
        fw_bytes_free(text);
        struct json_object *none;
        if (i < 4)
            is_text(at(list, 0), "tried", tried.tried);
        else
            assert_true(
                json_object_object_get_ex(at(list, 0), "tried", &none) &&
                json_object_is_type(none, json_type_null));
        assert_false(json_object_object_get_ex(at(list, 1), "tried", &none));
        json_object_put(list);
    }
}

static void machines_get_cautions(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.plan.units = FW_US;
    const struct fw_plan *const plans[] = {NULL, &hand.plan};
    for (size_t p = 0; p < 2; p++) {
        struct fw_error err;
        char *text = NULL, words[400];
        assert_int_equal(fw_report_cautions_json(plans[p], &text, &err), FW_OK);
        struct json_object *list = parsed(text);
        fw_bytes_free(text);
        size_t count, row = 0;
        const struct fw_caution *all = fw_safety_cautions(&count);
        for (size_t i = 0; i < count; i++) {
            if (plans[p] && !fw_safety_applies(&all[i], hand.plan.concerns))
                continue;
            struct json_object *told = at(list, row++);
            is_text(told, "id", all[i].id);
            is_text(told, "for", all[i].people ? "people" : "sheep");
            is_text(told, "when", fw_safety_when_word(all[i].when));
            is_text(told, "text",
                    fw_say_words(all[i].text, p ? FW_US : FW_METRIC, words,
                                 sizeof words));
            is_text(told, "source", all[i].source);
        }
        assert_int_equal(json_object_array_length(list), row);
        json_object_put(list);
    }
}

/* What comes first is named, but for the first of all, and the rest counted;
 * with --all each half in a few words. */
static void cautions_in_short_are_counted(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    struct fw_text first = {0}, brief = {0};
    fw_report__cautions_first(&first, &hand.plan);
    fw_report__cautions_brief(&brief, &hand.plan);
    unfold(brief.bytes, 2);
    size_t count, more = 0, people = 0, sheep = 0;
    const struct fw_caution *all = fw_safety_cautions(&count);
    for (size_t i = 0; i < count; i++) {
        char words[300];
        if (!fw_safety_applies(&all[i], hand.plan.concerns))
            continue;
        people += all[i].people;
        sheep += !all[i].people;
        fw_say_words(all[i].brief, FW_METRIC, words, sizeof words);
        has_words(brief.bytes, words);
        if (i > 0 && all[i].when == FW_WHEN_FIRST)
            has_words(first.bytes, all[i].brief);
        more += i > 0 && all[i].when != FW_WHEN_FIRST;
    }
    char end[60];
    snprintf(end, sizeof end, "; and %zu more: `foldwright cautions`.", more);
    has_words(first.bytes, end);
    const char *half = strstr(brief.bytes, "Sheep: ");
    assert_non_null(strstr(brief.bytes, " People: "));
    assert_int_equal(times(half, "; "), sheep - 1);
    assert_true(times(brief.bytes, "; ") == 1 + people - 1 + sheep - 1);
    fw_text_release(&first);
    fw_text_release(&brief);
}

static void the_page_ends_with_what_was_found(void **state)
{
    (void)state;
    struct hand hand;
    take_in_hand(&hand);
    hand.notes[0].level = FW_LEVEL_DANGER;
    char *text = cautions_page(&hand.plan);
    has_words(text,
              "\nNOBODY HAS SAID\n  ! A02: a line, \"and\" more \\\n"
              "\nFOUND FOR THIS PLAN\n  ! A02: a line, \"and\" more \\\n"
              "  ! A01-02, power line: keep away (3.7 m away, wanted 4.25 m; "
              "somebody's code)\n  - A-side-1, road: signs (another)\n");
    fw_bytes_free(text);
    hand.plan.untold.count = 0;
    hand.plan.units = FW_US; /* 3.75 m are 12.3 ft, 4.25 m are 13.94 ft */
    text = cautions_page(&hand.plan);
    has_not(text, "NOBODY HAS SAID");
    has_words(text, "(12 ft away, wanted 14 ft; somebody's code)");
    fw_bytes_free(text);
    text = cautions_page(NULL);
    has_not(text, "FOUND FOR");
    fw_bytes_free(text);
}

/* ---- words ---- */

static void winds_and_days_have_names(void **state)
{
    (void)state;
    static const char *const names[] = {
        "north", "north-east", "east", "south-east",
        "south", "south-west", "west", "north-west"};
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr",
                                         "May", "Jun", "Jul", "Aug",
                                         "Sep", "Oct", "Nov", "Dec"};
    static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu",
                                           "Fri", "Sat", "Sun"};
    for (int deg = -359; deg < 720; deg++)
        assert_string_equal(fw_report_compass(deg),
                            names[(int)floor((deg + 720) / 45.0 + 0.5) % 8]);
    assert_string_equal(fw_report_compass(22.49), "north");
    assert_string_equal(fw_report_compass(22.51), "north-east");
    char text[FW_WORDS], wanted[40], iso[20];
    for (int month = 0; month < 12; month++) {
        int day;
        snprintf(iso, sizeof iso, "2026-%02d-05", month + 1);
        assert_int_equal(fw_date_read(iso, &day, NULL), FW_OK);
        /* 1970-01-01, day 0, was a Thursday. */
        snprintf(wanted, sizeof wanted, "%s 5 %s 2026", weekdays[(day + 3) % 7],
                 months[month]);
        assert_string_equal(fw_report_day(day, true, text), wanted);
        wanted[strlen(wanted) - 5] = '\0';
        assert_string_equal(fw_report_day(day, false, text), wanted);
    }
    assert_string_equal(fw_report_day(FW_NO_DAY, true, text), "no date");
    assert_string_equal(fw_report__source(NULL), "the plan");
    assert_string_equal(fw_report__source("a page"), "a page");
}

/* A line of 78 columns is full; a letter of two bytes is one column. */
static void lines_are_full_at_78(void **state)
{
    (void)state;
    char words[400], wanted[420];
    for (size_t letters = 60; letters <= 80; letters++) {
        struct fw_text text = {0};
        snprintf(
            words, sizeof words, "a%.*s  bb\xC3\xA9", (int)letters - 1,
            "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
            "xxxxxxxxxxxxxxxxxxxxxx");
        fw_report_fold(&text, 4, words);
        const bool fits = 4 + letters + 1 + 3 <= 78;
        snprintf(wanted, sizeof wanted, "%.*s%sbb\xC3\xA9\n", (int)letters,
                 words, fits ? " " : "\n    ");
        assert_string_equal(text.bytes, wanted);
        fw_text_release(&text);
    }
}

static void dangers_are_red_where_there_is_colour(void **state)
{
    (void)state;
    struct fw_text text = {0};
    fw_report__danger(&text, true, "A01", "live");
    fw_report__danger(&text, false, "", "live");
    fw_report__heading(&text, true, "HEAD");
    fw_report__heading(&text, false, "HEAD");
    fw_report__no_plan(&text, "Top", "it floods");
    assert_string_equal(text.bytes,
                        "  \033[1;31m!\033[0m A01: live\n  ! live\n"
                        "\033[1mHEAD\033[0m\nHEAD\n! Top has no plan: it "
                        "floods\n");
    fw_text_release(&text);
}

static void a_text_that_failed_is_none(void **state)
{
    (void)state;
    struct fw_text text = {.failed = true};
    struct fw_error err = {0};
    char none[] = "none", *out = none;
    size_t count = 7;
    assert_int_equal(fw_report_give(&text, &out, &count, &err), FW_ENOMEM);
    assert_string_equal(out, "none");
    assert_int_equal(count, 7);
    assert_non_null(strstr(err.text, "memory"));
    struct fw_text line_of = {.failed = true};
    text = (struct fw_text){.failed = false};
    fw_report__fold_text(&text, 0, &line_of);
    assert_true(text.failed);
    line_of.failed = true;
    text.failed = false;
    fw_report__heading_text(&text, false, &line_of);
    assert_true(text.failed);
    assert_null(text.bytes);
}

/* ---- styles ---- */

static const char *role_words[] = {"perimeter", "standing", "lane", "moved"};

static void a_row_finds_its_style(void **state)
{
    (void)state;
    struct fw_column two[] = {{"name", FW_COLUMN_TEXT},
                              {"role", FW_COLUMN_TEXT}};
    struct fw_value values[] = {{.present = true, .text = (char *)"moved"},
                                {.present = true}};
    const struct fw_row row = {.values = values};
    const struct fw_table table = {.columns = two, .column_count = 2};
    assert_string_equal(fw_export__style_column(FW_LAYER_FENCES), "role");
    assert_string_equal(fw_export__style_column(FW_LAYER_FINDINGS), "level");
    assert_null(fw_export__style_column(FW_LAYER_FIELDS));
    assert_null(fw_export__style_column(FW_LAYER_POSTS));
    for (size_t i = 0; i < 4; i++) {
        values[1].text = (char *)role_words[i];
        assert_string_equal(
            fw_export__style_of(&table, FW_LAYER_FENCES, &row)->value,
            role_words[i]);
    }
    values[1].text = (char *)"odd"; /* the layer's first one */
    assert_string_equal(
        fw_export__style_of(&table, FW_LAYER_FENCES, &row)->value, "perimeter");
    two[1].name = "level";
    values[1].text = (char *)"warning";
    assert_string_equal(
        fw_export__style_of(&table, FW_LAYER_FINDINGS, &row)->value, "warning");
    values[1].text = (char *)"note";
    assert_string_equal(
        fw_export__style_of(&table, FW_LAYER_FINDINGS, &row)->value, "note");
    assert_string_equal(
        fw_export__style_of(&table, FW_LAYER_WATER, &row)->label, "water");
}

/* By simplestyle 1.1: strokes, fills, markers. */
static void styles_are_told_to_viewers(void **state)
{
    (void)state;
    for (size_t i = 0; i < fw_export__style_count; i++) {
        const struct fw_report_style *style = &fw_export__styles[i];
        const bool marker = style->layer >= FW_LAYER_POSTS;
        struct fw_text text = {0};
        fw_text_add(&text, "{");
        fw_export__simplestyle(&text, style);
        fw_text_add(&text, "}");
        struct json_object *told = parsed(text.bytes), *none;
        fw_text_release(&text);
        is_text(told, marker ? "marker-color" : "stroke", style->colour);
        assert_int_equal(json_object_object_get_ex(told, "stroke-width", &none),
                         !marker);
        if (!marker)
            is_number(told, "stroke-width", style->width_px);
        assert_int_equal(json_object_object_get_ex(told, "fill", &none),
                         style->layer < FW_LAYER_FENCES);
        if (style->layer < FW_LAYER_FENCES) {
            is_text(told, "fill", style->fill);
            is_number(told, "fill-opacity", style->opacity);
        }
        assert_int_equal(json_object_object_get_ex(told, "marker-size", &none),
                         style->layer == FW_LAYER_POSTS);
        assert_int_equal(
            json_object_object_get_ex(told, "marker-symbol", &none),
            style->symbol != NULL);
        if (style->symbol)
            is_text(told, "marker-symbol", style->symbol);
        json_object_put(told);
    }
}

/* In pixels: lines that stay a while are the wider ones, posts the least. */
static void strokes_are_as_wide_as_they_matter(void **state)
{
    (void)state;
    static const struct {
        const char *label;
        double width_px, opacity;
    } rows[] = {
        {"field", 2, 0.1},
        {"paddock", 1, 0.35},
        {"lane", 1, 0.35},
        {"boundary", 3, 0},
        {"stands until its block is done", 3, 0},
        {"beside a lane", 2, 0},
        {"moved with the flock", 2, 0},
        {"post", 4, 0},
        {"water", 8, 0},
        {"gate or opening", 8, 0},
        {"energizer", 8, 0},
        {"danger", 8, 0},
        {"warning", 8, 0},
        {"note", 8, 0},
    };
    assert_int_equal(fw_export__style_count, sizeof rows / sizeof *rows);
    for (size_t i = 0; i < fw_export__style_count; i++) {
        const struct fw_report_style *style = &fw_export__styles[i];
        assert_string_equal(style->label, rows[i].label);
        assert_near(style->width_px, rows[i].width_px, 0);
        assert_near(style->opacity, rows[i].opacity, 0);
    }
}

static void documents_have_colours_and_widths(void **state)
{
    (void)state;
    for (size_t i = 0; i < fw_export__style_count; i++) {
        const struct fw_report_style *style = &fw_export__styles[i];
        const char *column = fw_export__style_column(style->layer);
        struct fw_text qml = {0}, sld = {0};
        unsigned r, g, b;
        char words[200];
        fw_export__qml(&qml, style->layer);
        fw_export__sld(&sld, style->layer);
        assert_int_equal(sscanf(style->colour, "#%2x%2x%2x", &r, &g, &b), 3);
        const char *key = style->layer < FW_LAYER_FENCES    ? "outline_color"
                          : style->layer == FW_LAYER_FENCES ? "line_color"
                                                            : "color";
        snprintf(words, sizeof words, "<prop k=\"%s\" v=\"%u,%u,%u,255\"/>",
                 key, r, g, b);
        has_words(qml.bytes, words);
        key = style->layer < FW_LAYER_FENCES    ? "outline_width"
              : style->layer == FW_LAYER_FENCES ? "line_width"
                                                : "size";
        snprintf(words, sizeof words, "<prop k=\"%s\" v=\"", key);
        /* 96 pixels are 25.4 mm. */
        const char *width = strstr(qml.bytes, words);
        assert_non_null(width);
        snprintf(words, sizeof words, "\"/><prop k=\"%s_unit\" v=\"MM\"/>",
                 key);
        has_words(width, words);
        bool met = false;
        for (const char *c = qml.bytes; (c = strstr(c, key)); c++) {
            const char *value = strstr(c, "v=\"");
            met |= c[strlen(key)] == '"' &&
                   fabs(strtod(value + 3, NULL) - style->width_px * 25.4 / 96) <
                       0.0051;
        }
        assert_true(met);
        snprintf(words, sizeof words,
                 "<layerGeometryType>%d</layerGeometryType>",
                 style->layer < FW_LAYER_FENCES    ? 2
                 : style->layer == FW_LAYER_FENCES ? 1
                                                   : 0);
        has_words(qml.bytes, words);
        has_words(qml.bytes, style->layer < FW_LAYER_FENCES
                                 ? "<symbol type=\"fill\" name=\"0\""
                             : style->layer == FW_LAYER_FENCES
                                 ? "<symbol type=\"line\" name=\"3\""
                                 : "<symbol type=\"marker\" name=\"0\"");
        if (style->fill) {
            assert_int_equal(sscanf(style->fill, "#%2x%2x%2x", &r, &g, &b), 3);
            snprintf(words, sizeof words,
                     "<prop k=\"color\" v=\"%u,%u,%u,%.0f\"/>", r, g, b,
                     255 * style->opacity);
            has_words(qml.bytes, words);
            snprintf(words, sizeof words,
                     "<CssParameter name=\"fill\">%s</CssParameter>"
                     "<CssParameter name=\"fill-opacity\">%g</CssParameter>",
                     style->fill, style->opacity);
            has_words(sld.bytes, words);
        }
        if (column) {
            snprintf(words, sizeof words, "value=\"%s\" label=\"%s\"/>",
                     style->value, style->label);
            has_words(qml.bytes, words);
            snprintf(words, sizeof words,
                     "<ogc:PropertyName>%s</ogc:PropertyName><ogc:Literal>%s"
                     "</ogc:Literal>",
                     column, style->value);
            has_words(sld.bytes, words);
        } else {
            has_words(qml.bytes, "<renderer-v2 type=\"singleSymbol\">");
            has_not(sld.bytes, "ogc:Filter");
        }
        snprintf(words, sizeof words, "<Rule><Name>%s</Name>", style->label);
        has_words(sld.bytes, words);
        if (style->layer <= FW_LAYER_FENCES)
            snprintf(words, sizeof words,
                     "<CssParameter name=\"stroke\">%s</CssParameter>"
                     "<CssParameter name=\"stroke-width\">%g</CssParameter>",
                     style->colour, style->width_px);
        else
            snprintf(words, sizeof words,
                     "<CssParameter name=\"fill\">%s</CssParameter></Fill>"
                     "</Mark><Size>%g</Size>",
                     style->colour, style->width_px);
        has_words(sld.bytes, words);
        fw_text_release(&qml);
        fw_text_release(&sld);
    }
}

/* ---- columns of the map ---- */

static void copied_columns_have_names_of_their_own(void **state)
{
    (void)state;
    static struct fw_copied columns_of[] = {
        {(char *)"parcel", (char *)"F-1"},
        {(char *)"AREA_HA", (char *)"6"},
        {(char *)"area_ha", NULL},
        {(char *)"Kind", (char *)"k"},
        {(char *)"fid", (char *)"9"},
        {NULL, (char *)"n"},
        {(char *)"source_area_ha", (char *)"z"},
    };
    static const char *const names[] = {"parcel",
                                        "source_AREA_HA",
                                        "source_area_ha_2",
                                        "source_Kind",
                                        "source_fid_2",
                                        "",
                                        "source_source_area_ha"};
    struct hand hand;
    take_in_hand(&hand);
    hand.fields[0].origin.copied = columns_of;
    hand.fields[0].origin.copied_count = 7;
    hand.fields[1].origin.copied = columns_of;
    hand.fields[1].origin.copied_count = 1;
    struct fw_table tables[FW_REPORT_LAYERS];
    struct fw_error err;
    if (fw_report_tables(&hand.plan, "OGC:CRS84", tables, &err))
        fail_msg("%s", err.text);
    const struct fw_table *of_fields = &tables[FW_LAYER_FIELDS];
    assert_int_equal(of_fields->column_count, 18);
    for (size_t i = 0; i < 7; i++) {
        const struct fw_value *value = &of_fields->rows[0].values[11 + i];
        assert_string_equal(of_fields->columns[11 + i].name, names[i]);
        assert_int_equal(of_fields->columns[11 + i].type, FW_COLUMN_TEXT);
        assert_int_equal(value->present, columns_of[i].value != NULL);
        if (value->present)
            assert_string_equal(value->text, columns_of[i].value);
        assert_int_equal(of_fields->rows[1].values[11 + i].present, i == 0);
        assert_false(of_fields->rows[2].values[11 + i].present);
    }
    assert_string_equal(of_fields->columns[2].name, "area_ha");
    assert_int_equal(of_fields->columns[2].type, FW_COLUMN_NUMBER);
    assert_int_equal(tables[FW_LAYER_PADDOCKS].column_count, 29);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
}

/* ---- the register ---- */

static const struct fw_figure *figure_of(const struct fw_report__register *all,
                                         const char *name)
{
    for (size_t i = 0; i < all->count; i++)
        if (strcmp(all->rows[i].name, name) == 0)
            return &all->rows[i];
    return NULL;
}

static void the_register_has_intake_and_rules(void **state)
{
    (void)state;
    struct fw_report__register all;
    struct fw_error err;
    size_t count, rows = 0;
    char name[100];
    assert_int_equal(fw_report__register(&all, &err), FW_OK);
    fw_figures(&rows);
    for (int s = 0; s < FW_STATE_COUNT; s++, rows++) {
        const struct fw_intake_row *intake = fw_flock_row((enum fw_state)s);
        snprintf(name, sizeof name, "intake.%s", fw_flock_state_words[s]);
        const struct fw_figure *figure = figure_of(&all, name);
        assert_non_null(figure);
        assert_string_equal(figure->subject, "flock");
        assert_string_equal(figure->what, intake->label);
        assert_string_equal(figure->source, intake->source);
        assert_int_equal(figure->points, intake->points);
        for (int i = 0; i < intake->points; i++) {
            assert_near(figure->at[i], intake->weight_kg[i], 0);
            assert_near(figure->values[i], intake->intake_kg[i], 0);
        }
        assert_int_equal(figure->mark,
                         !strcmp(intake->basis, "read")     ? FW_MARK_PUBLISHED
                         : !strcmp(intake->basis, "memory") ? FW_MARK_MEMORY
                                                            : FW_MARK_PRACTICE);
    }
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++) {
        const struct {
            const char *tail, *which;
            double value;
        } figures[] = {
            {"distance", "distance common", rules[i].wanted_m},
            {"angle", "angle common",
             rules[i].most_deg < 90 ? rules[i].most_deg : 0},
            {"length", "lengths common", rules[i].least_m},
            {"signs", "signs common", rules[i].sign_interval_m},
        };
        for (size_t k = 0; k < 4; k++) {
            snprintf(name, sizeof name, "safety.%s.%s", rules[i].id,
                     figures[k].tail);
            const struct fw_figure *figure = figure_of(&all, name);
            assert_true((figure != NULL) == (figures[k].value > 0));
            if (!figure)
                continue;
            rows++;
            assert_near(figure->value, figures[k].value, 0);
            assert_near(figure->least, figures[k].value, 0);
            assert_near(figure->most, figures[k].value, 0);
            const char *source = rules[i].source;
            const bool practice = !strncmp(source, "common", 6) ||
                                  strstr(source, figures[k].which);
            assert_int_equal(figure->mark, practice ? FW_MARK_PRACTICE
                                           : strstr(source, "from memory")
                                               ? FW_MARK_MEMORY
                                               : FW_MARK_PUBLISHED);
            if (rules[i].role != FW_ROLE_COUNT)
                assert_non_null(
                    strstr(figure->what, fw_safety_role_word(rules[i].role)));
        }
    }
    assert_int_equal(all.count, rows);
    /* A subject's rows follow each other. */
    for (size_t i = 1; i < all.count; i++)
        for (size_t k = 0; k + 1 < i; k++)
            assert_true(strcmp(all.rows[i].subject, all.rows[k].subject) ||
                        !strcmp(all.rows[i].subject, all.rows[i - 1].subject));
    fw_report__register_release(&all);
    assert_int_equal(all.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(candidates_are_rows),
        cmocka_unit_test(marks_are_explained_where_they_stand),
        cmocka_unit_test(fields_without_a_plan_are_named),
        cmocka_unit_test(machines_get_every_score),
        cmocka_unit_test(what_to_buy_is_added_up),
        cmocka_unit_test(machines_get_what_to_buy),
        cmocka_unit_test(cautions_are_numbered),
        cmocka_unit_test(cautions_stand_by_their_time),
        cmocka_unit_test(what_was_tried_is_told),
        cmocka_unit_test(machines_get_cautions),
        cmocka_unit_test(cautions_in_short_are_counted),
        cmocka_unit_test(the_page_ends_with_what_was_found),
        cmocka_unit_test(winds_and_days_have_names),
        cmocka_unit_test(lines_are_full_at_78),
        cmocka_unit_test(dangers_are_red_where_there_is_colour),
        cmocka_unit_test(a_text_that_failed_is_none),
        cmocka_unit_test(a_row_finds_its_style),
        cmocka_unit_test(styles_are_told_to_viewers),
        cmocka_unit_test(strokes_are_as_wide_as_they_matter),
        cmocka_unit_test(documents_have_colours_and_widths),
        cmocka_unit_test(copied_columns_have_names_of_their_own),
        cmocka_unit_test(the_register_has_intake_and_rules),
    };
    return cmocka_run_group_tests_name("report_lists", tests, NULL, NULL);
}
