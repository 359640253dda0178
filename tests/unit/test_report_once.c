/* What is said once: who comes first on every page and in every file, dangers
 * whole on the first day and then those of the ground of the day, the report in
 * short. On the plan of the sample farm. */
#include "sample_plan.h"

#include "export/export.h"
#include "picture/picture.h"
#include "report/reports.h"
#include "store/store.h"

#include "figures/say.h"
#include "report/report.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* A page on one line, so that what was folded is found again. */
static char *unfold(char *page)
{
    char *to = page;
    for (const char *c = page; *c; c++) {
        const bool gap = *c == ' ' || *c == '\n';
        if (!gap)
            *to++ = *c;
        else if (to > page && to[-1] != ' ')
            *to++ = ' ';
    }
    *to = '\0';
    return page;
}

static char *card(size_t move, unsigned how)
{
    struct fw_error err;
    char *page;
    if (fw_report_move(plan, move, how, &page, &err))
        fail_msg("%s", err.text);
    return page;
}

static char *report(unsigned how)
{
    struct fw_error err;
    char *page;
    if (fw_report_text(plan, how, &page, &err))
        fail_msg("%s", err.text);
    return page;
}

/* ---- who comes first ---- */

static void assert_first(char *page, const char *before)
{
    static const char words[] = "Local codes, the maker's";
    const char *at = strstr(page, words);
    if (!at)
        fail_msg("no local codes in %.80s", page);
    if (strlen(before) != (size_t)(at - page) ||
        memcmp(page, before, strlen(before)) != 0)
        fail_msg("stands before local codes: %.*s", (int)(at - page), page);
    if (strstr(at + 1, words))
        fail_msg("told twice: %.80s", page);
    fw_bytes_free(page);
}

static void local_codes_stand_first_on_every_page(void **state)
{
    (void)state;
    struct fw_error err;
    char *page;
    assert_first(report(0), "");
    assert_first(card(0, 0), "");
    assert_first(card(5, FW_REPORT_ALL), "");
    assert_int_equal(fw_report_check(farm, false, &page, &err), FW_OK);
    assert_first(page, "");
    assert_int_equal(fw_report_materials(
                         &(struct fw_export_list){.rows = plan->materials,
                                                  .count = plan->material_count,
                                                  .units = plan->units,
                                                  .currency = "EUR"},
                         &page, &err),
                     FW_OK);
    assert_first(page, "");
    assert_int_equal(fw_report_power(plan, NULL, plan->power_days, &page, &err),
                     FW_OK);
    assert_first(page, "");
    const struct fw_plan_scores scores = {0};
    assert_int_equal(fw_report_compare(farm, &scores, false, &page, &err),
                     FW_OK);
    assert_first(page, "");
    const struct fw_plan_looks looks = {.after = FW_NONE, .before = FW_NONE};
    assert_int_equal(
        fw_report_looks(plan, plan->start_day, "rain", &looks, &page, &err),
        FW_OK);
    assert_first(page, "");
    /* The page of cautions has it as its first line too, in its own words. */
    assert_int_equal(fw_report_cautions(plan, &page, &err), FW_OK);
    assert_memory_equal(page, "Local codes", 11);
    assert_non_null(strstr(page, "\nPEOPLE\n 1  Local codes, the maker's"));
    fw_bytes_free(page);
}

static void local_codes_stand_first_for_machines(void **state)
{
    (void)state;
    static const char first[] = "{\n  \"first\": \"";
    struct fw_error err;
    char *page;
    assert_int_equal(fw_report_move_json(plan, 3, &page, &err), FW_OK);
    assert_first(page, first);
    assert_int_equal(fw_report_check_json(farm, &page, &err), FW_OK);
    assert_first(page, "{\"first\": \"");
    assert_int_equal(fw_report_materials_json(
                         &(struct fw_export_list){.rows = plan->materials,
                                                  .count = plan->material_count,
                                                  .units = plan->units,
                                                  .currency = "EUR"},
                         &page, &err),
                     FW_OK);
    assert_first(page, "{\"first\": \"");
    assert_int_equal(
        fw_report_power_json(plan, NULL, plan->power_days, &page, &err), FW_OK);
    assert_first(page, first);
    const struct fw_plan_scores scores = {0};
    assert_int_equal(fw_report_compare_json(farm, &scores, &page, &err), FW_OK);
    assert_first(page, first);
    const struct fw_plan_looks looks = {.after = FW_NONE, .before = FW_NONE};
    assert_int_equal(fw_report_looks_json(plan, plan->start_day, "rain", &looks,
                                          &page, &err),
                     FW_OK);
    assert_first(page, first);
}

/* Before any place of the plan stands in the file. */
static void assert_before(char *bytes, const char *what)
{
    const char *words = strstr(bytes, "Local codes, the maker's");
    const char *rest = strstr(bytes, what);
    if (!words || !rest || words > rest)
        fail_msg("local codes do not stand before %s", what);
    fw_bytes_free(bytes);
}

static void local_codes_stand_first_in_every_file(void **state)
{
    (void)state;
    struct fw_error err;
    char *bytes;
    size_t count;
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err),
                     FW_OK);
    assert_before(bytes, "\"farm\"");
    assert_int_equal(fw_report_geojson(plan, &bytes, &count, &err), FW_OK);
    assert_before(bytes, "\"features\"");
    assert_int_equal(fw_report_gpx(plan, 0, &bytes, &count, &err), FW_OK);
    assert_before(bytes, "<wpt");
    assert_int_equal(fw_report_field_svg(farm, &bytes, &err), FW_OK);
    assert_before(bytes, "<path");
    /* A table has it in the note of its first row, and nowhere else. */
    assert_int_equal(fw_report_moves_csv(plan, &bytes, &count, &err), FW_OK);
    char *second = strstr(strstr(bytes, "\r\n") + 2, "\r\n");
    assert_null(strstr(second, "Local codes"));
    assert_before(bytes, second);
    assert_int_equal(fw_report_materials_csv(plan, &bytes, &count, &err),
                     FW_OK);
    second = strstr(strstr(bytes, "\r\n") + 2, "\r\n");
    assert_null(strstr(second, "Local codes"));
    assert_before(bytes, second);
    struct fw_table tables[FW_REPORT_LAYERS];
    assert_int_equal(fw_report_tables(plan, NULL, tables, &err), FW_OK);
    size_t at = 0;
    while (strcmp(tables[at].name, "cautions") != 0)
        at++;
    const struct fw_table *cautions = &tables[at];
    assert_non_null(strstr(cautions->rows[0].values[3].text, "Local codes"));
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
}

/* ---- dangers ---- */

static size_t places(const char *page, const char *words)
{
    size_t count = 0;
    for (; *page; page++)
        count += strncmp(page, words, strlen(words)) == 0;
    return count;
}

/* By the names alone: the fence is of the paddock that they leave or enter, or
 * the steps of the day name it. */
static bool is_of_day(size_t fence, size_t move)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    const size_t from = fw_plan_move_from(plan, move),
                 to = fw_plan_move_to(plan, move);
    if ((from != FW_NONE && (of->from == from || of->to == from)) ||
        (to != FW_NONE && (of->from == to || of->to == to)))
        return true;
    const struct fw_list steps = plan->time.moves[move].steps;
    for (size_t i = steps.first; i < steps.first + steps.count; i++)
        for (size_t k = 0; k < plan->time.steps[i].lines.count; k++)
            if (plan->time.items[plan->time.steps[i].lines.first + k] == fence)
                return true;
    return false;
}

static void dangers_are_whole_on_the_first_day(void **state)
{
    (void)state;
    char *pages[] = {unfold(card(0, 0)), unfold(report(0)),
                     unfold(card(20, FW_REPORT_ALL))};
    for (size_t p = 0; p < 3; p++) {
        size_t dangers = 0;
        for (size_t i = 0; i < plan->notes.count; i++)
            if (plan->notes.items[i].level == FW_LEVEL_DANGER) {
                dangers++;
                assert_int_equal(places(pages[p], plan->notes.items[i].text),
                                 1);
            }
        for (size_t i = 0; i < plan->finding_count; i++)
            if (plan->findings[i].level == FW_LEVEL_DANGER) {
                dangers++;
                assert_int_equal(places(pages[p], plan->findings[i].about), 1);
            }
        assert_true(dangers > 3);
        assert_int_equal(places(pages[p], " ! "), dangers);
        assert_null(strstr(pages[p], "as on"));
        fw_bytes_free(pages[p]);
    }
}

/* The line tells how many are not told on the card. */
static size_t counted(const char *page)
{
    const char *at = strstr(page, " danger");
    const char *more = strstr(page, " more danger");
    if (more)
        at = more;
    if (!at)
        return 0;
    assert_non_null(strstr(at, " as on 17 May: `foldwright cautions`"));
    while (at > page && at[-1] != ' ')
        at--;
    return (size_t)strtoul(at, NULL, 10);
}

static void then_those_of_the_ground_of_the_day_and_a_count(void **state)
{
    (void)state;
    size_t all = 0, of_days = 0, bare = 0;
    for (size_t i = 0; i < plan->notes.count; i++)
        all += plan->notes.items[i].level == FW_LEVEL_DANGER;
    for (size_t i = 0; i < plan->finding_count; i++)
        all += plan->findings[i].level == FW_LEVEL_DANGER;
    for (size_t m = 1; m < plan->time.move_count; m++) {
        char *page = card(m, 0);
        const size_t from = fw_plan_move_from(plan, m),
                     to = fw_plan_move_to(plan, m);
        /* What stands in the steps is no danger. */
        *strstr(page, "\n 1  ") = '\0';
        unfold(page);
        size_t told = 0;
        for (size_t i = 0; i < plan->notes.count; i++) {
            const struct fw_note *note = &plan->notes.items[i];
            if (note->level != FW_LEVEL_DANGER)
                continue;
            bool here = false;
            /* What is so of a field is told when they come into it. */
            for (size_t f = 0; f < plan->field_count; f++)
                if (strcmp(plan->fields[f].name, note->where) == 0)
                    here =
                        (from == FW_NONE || plan->paddocks[from].field != f) &&
                        to != FW_NONE && plan->paddocks[to].field == f;
            assert_int_equal(places(page, note->text), here);
            told += here;
        }
        for (size_t i = 0; i < plan->finding_count; i++) {
            const struct fw_plan_finding *found = &plan->findings[i];
            if (found->level != FW_LEVEL_DANGER)
                continue;
            const bool here = is_of_day(found->fence, m);
            if (places(page, found->about) != here)
                fail_msg("move %zu: %s", m, page);
            told += here;
            of_days += here;
        }
        assert_int_equal(counted(page), all - told);
        bare += told == 0;
        fw_bytes_free(page);
    }
    assert_true(of_days > 2 && bare > 10);
}

/* By hand: notes that name a paddock or a fence, findings of a field, of the
 * energizer, and two that say the same. */
static void each_kind_of_danger_has_its_days(void **state)
{
    (void)state;
    const char *const names[] = {"A04", "A03-04", "", "Tammik"};
    char where[4][32], text[4][32];
    char asked_of[] = "C05", asked[] = "a question.";
    struct fw_note items[4], ask = {FW_LEVEL_DANGER, asked_of, asked};
    struct fw_plan_finding found[5];
    for (size_t i = 0; i < 4; i++) {
        snprintf(where[i], sizeof where[i], "%s", names[i]);
        snprintf(text[i], sizeof text[i], "note %zu.", i);
        items[i] = (struct fw_note){FW_LEVEL_DANGER, where[i], text[i]};
    }
    for (size_t i = 0; i < 5; i++) {
        found[i] = (struct fw_plan_finding){.field = i == 1 ? 1 : 0,
                                            .fence = FW_NONE,
                                            .level = FW_LEVEL_DANGER};
        found[i].place.given = i == 2;
        snprintf(found[i].rule, sizeof found[i].rule, "rule");
        snprintf(found[i].about, sizeof found[i].about, "about %zu", i);
        snprintf(found[i].text, sizeof found[i].text, "text %zu.",
                 i == 4 ? 3 : i);
    }
    size_t last = plan->fields[2].first_fence;
    while (strcmp(plan->fences[last].id, "C01-02") != 0)
        last++;
    found[3].fence = found[4].fence = last;
    found[3].field = found[4].field = 2;
    struct fw_plan by_hand = *plan;
    by_hand.notes = (struct fw_notes){items, 4, 4};
    by_hand.untold = (struct fw_notes){&ask, 1, 1};
    by_hand.findings = found;
    by_hand.finding_count = 5;
    size_t opened = 0;
    for (size_t m = 1; m < plan->time.move_count; m++) {
        struct fw_error err;
        char *page;
        assert_int_equal(fw_report_move(&by_hand, m, 0, &page, &err), FW_OK);
        *strstr(page, "\n 1  ") = '\0';
        unfold(page);
        const size_t from = fw_plan_move_from(plan, m),
                     to = fw_plan_move_to(plan, m);
        const char *into = to == FW_NONE ? "" : plan->paddocks[to].id;
        const char *out_of = from == FW_NONE ? "" : plan->paddocks[from].id;
        bool worked = false;
        const struct fw_list steps = plan->time.moves[m].steps;
        for (size_t i = steps.first; i < steps.first + steps.count; i++) {
            const struct fw_step *step = &plan->time.steps[i];
            for (size_t k = 0; k < step->lines.count; k++)
                worked |=
                    strcmp(plan->fences[plan->time.items[step->lines.first + k]]
                               .id,
                           "A03-04") == 0;
            const bool opens =
                step->opening != FW_NONE &&
                plan->gates[step->opening].fence != FW_NONE &&
                strcmp(plan->fences[plan->gates[step->opening].fence].id,
                       "A03-04") == 0;
            worked |= opens;
            opened += opens;
        }
        const bool tammik = into[0] == 'A' && out_of[0] != 'A';
        const bool joe = into[0] == 'B' && out_of[0] != 'B';
        const bool paddock =
            strcmp(into, "A04") == 0 || strcmp(out_of, "A04") == 0;
        const bool lies = (to != FW_NONE && fw_plan_bounds(plan, last, to)) ||
                          (from != FW_NONE && fw_plan_bounds(plan, last, from));
        const bool question =
            strcmp(into, "C05") == 0 || strcmp(out_of, "C05") == 0;
        assert_int_equal(places(page, "a question."), question);
        assert_int_equal(places(page, "note 0."), paddock);
        assert_int_equal(places(page, "note 1."), worked);
        assert_int_equal(places(page, "note 2."), 0);
        assert_int_equal(places(page, "note 3."), tammik);
        assert_int_equal(places(page, "text 0."), tammik);
        assert_int_equal(places(page, "text 1."), joe);
        assert_int_equal(places(page, "text 2."), 0);
        /* Both places when they are of the day, else they count as one. */
        const bool here = places(page, "text 3.") > 0;
        assert_true(here || !lies);
        assert_int_equal(places(page, "text 3."), here ? 2 : 0);
        const size_t told = (size_t)paddock + question + worked +
                            2 * (size_t)tammik + (size_t)joe + here;
        assert_int_equal(counted(page), 9 - told);
        /* "more" where some are told above. */
        assert_int_equal(strstr(page, " more danger") != NULL,
                         told > 0 && told < 9);
        fw_bytes_free(page);
    }
    assert_true(opened > 0);
}

/* The same words of two fields are two dangers. */
static void fields_are_not_told_as_one(void **state)
{
    (void)state;
    struct fw_plan two = *plan;
    struct fw_plan_finding found[3];
    for (size_t i = 0; i < 3; i++) {
        found[i] = (struct fw_plan_finding){
            .field = i / 2, .fence = FW_NONE, .level = FW_LEVEL_DANGER};
        snprintf(found[i].rule, sizeof found[i].rule, "rule");
        snprintf(found[i].about, sizeof found[i].about, "field %zu", i / 2);
        snprintf(found[i].text, sizeof found[i].text, "no water");
    }
    two.findings = found;
    two.finding_count = 3;
    struct fw_error err;
    char *page;
    assert_int_equal(fw_report_move(&two, 0, 0, &page, &err), FW_OK);
    assert_int_equal(places(page, "field 0: no water; and in 1 more place\n"),
                     1);
    assert_int_equal(places(page, "field 1: no water\n"), 1);
    fw_bytes_free(page);
}

/* A fence lies along a paddock where the middles of its parts lie on its edge:
 * held against the plane, not against the indexes. */
static void fences_bound_the_paddocks_that_they_lie_along(void **state)
{
    (void)state;
    size_t bounding = 0;
    for (size_t f = 0; f < plan->fence_count; f++)
        for (size_t p = 0; p < plan->paddock_count; p++) {
            const struct fw_plan_fence *fence = &plan->fences[f];
            const struct fw_plan_paddock *paddock = &plan->paddocks[p];
            const struct fw_plan_field *field = &plan->fields[fence->field];
            bool along = false;
            for (size_t i = 1;
                 i < fence->line_count && paddock->field == fence->field; i++) {
                const struct fw_point a =
                    field->vertices[fence->line[i - 1]].plane;
                const struct fw_point b = field->vertices[fence->line[i]].plane;
                const struct fw_point middle = {(a.x_m + b.x_m) / 2,
                                                (a.y_m + b.y_m) / 2};
                const struct fw_plan_rings *rings = &paddock->rings;
                for (size_t r = 0; r < rings->ring_count; r++) {
                    const size_t first = rings->ring_start[r];
                    const size_t count = rings->ring_start[r + 1] - first;
                    for (size_t k = 0; k < count; k++)
                        along |=
                            fw_segment_distance_m(
                                middle,
                                field->vertices[rings->vertices[first + k]]
                                    .plane,
                                field
                                    ->vertices[rings->vertices[first +
                                                               (k + 1) % count]]
                                    .plane) < 1e-4;
                }
            }
            if (fw_plan_bounds(plan, f, p) != along)
                fail_msg("%s and %s", fence->id, paddock->id);
            bounding += along;
        }
    assert_true(bounding > 2 * plan->paddock_count);
}

/* ---- the report in short ---- */

static size_t lines_of(const char *text)
{
    size_t lines = 0;
    for (; *text; text++)
        lines += *text == '\n';
    return lines;
}

static void the_report_of_the_sample_is_a_minutes_reading(void **state)
{
    (void)state;
    char *page = report(0), *whole = report(FW_REPORT_ALL);
    assert_true(lines_of(page) <= 60);
    assert_true(lines_of(whole) > lines_of(page));
    /* Each warning is told, each rule of one thing once. */
    unfold(page);
    unfold(whole);
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *found = &plan->findings[i];
        if (found->level != FW_LEVEL_WARNING)
            continue;
        const struct fw_safety_rule *rule = fw_safety_rule_find(found->rule);
        char words[256];
        fw_say_words(rule->text, plan->units, words, sizeof words);
        assert_int_equal(places(page, words), 1);
        assert_true(places(whole, words) >= 1);
    }
    /* What is only counted is told on request. */
    char count[64];
    snprintf(count, sizeof count, "%zu figures taken for granted",
             plan->default_count);
    assert_non_null(strstr(page, count));
    for (size_t i = 0; i < plan->default_count; i++) {
        char row[160];
        snprintf(row, sizeof row, "%s %s", plan->defaults[i].what,
                 plan->defaults[i].value);
        assert_null(strstr(page, row));
        assert_non_null(strstr(whole, row));
    }
    size_t more = plan->caution_count, cautions;
    const struct fw_caution *rows = fw_safety_cautions(&cautions);
    for (size_t i = 0; i < cautions; i++) {
        if (!fw_safety_applies(&rows[i], plan->concerns))
            continue;
        const bool kills = rows[i].when == FW_WHEN_FIRST;
        more -= kills;
        char brief[256];
        fw_say_words(rows[i].brief, plan->units, brief, sizeof brief);
        assert_int_equal(strstr(page, brief) != NULL, kills && i > 0);
        assert_non_null(strstr(whole, brief));
    }
    snprintf(count, sizeof count, "and %zu more: `foldwright cautions`", more);
    assert_non_null(strstr(page, count));
    fw_bytes_free(page);
    fw_bytes_free(whole);
}

/* Warnings beyond the fourth are counted; what a person looked at is told with
 * its day. */
static void many_warnings_are_counted(void **state)
{
    (void)state;
    struct fw_plan many = *plan;
    struct fw_plan_finding found[9];
    for (size_t i = 0; i < 9; i++) {
        found[i] = (struct fw_plan_finding){
            .field = 0, .fence = FW_NONE, .level = FW_LEVEL_WARNING};
        snprintf(found[i].rule, sizeof found[i].rule, "rule %zu", i / 2);
        snprintf(found[i].about, sizeof found[i].about, "thing %zu", i);
        snprintf(found[i].text, sizeof found[i].text, "words %zu", i / 2);
    }
    /* Of two places the nearer one is told. */
    found[2].measured = found[3].measured = true;
    found[2].distance_m = 2.5;
    found[3].distance_m = 1.5;
    found[8].level = FW_LEVEL_NOTE;
    snprintf(found[8].rule, sizeof found[8].rule, "looked");
    snprintf(found[8].text, sizeof found[8].text,
             "looked at by a person on 2027-05-10: road");
    many.findings = found;
    char where[] = "A01", words[] = "one more";
    struct fw_note extra = {FW_LEVEL_WARNING, where, words};
    for (size_t warnings = 6; warnings <= 8; warnings += 2) {
        struct fw_error err;
        char *page;
        struct fw_notes none = {0};
        many.finding_count = 9;
        many.notes = none;
        if (warnings == 8)
            many.notes = (struct fw_notes){&extra, 1, 1};
        for (size_t i = 6; i < 8; i++)
            found[i].level = warnings == 8 ? FW_LEVEL_WARNING : FW_LEVEL_NOTE;
        assert_int_equal(fw_report_text(&many, 0, &page, &err), FW_OK);
        unfold(page);
        assert_non_null(strstr(page, "Look at thing 0, and 1 more place: words "
                                     "0 thing 3, and 1 more place: words 1 "));
        assert_int_equal(places(page, "words 3"), warnings == 8);
        assert_null(strstr(page, "one more "));
        assert_int_equal(strstr(page, "With --all 1 warning more") != NULL,
                         warnings == 8);
        assert_non_null(
            strstr(page, "Maps looked at by a person on 2027-05-10: road."));
        fw_bytes_free(page);
    }
}

/* Of one rule two things are two; two fields that say the same are one, two
 * that do not are two. */
static void what_is_not_the_same_is_not_told_as_one(void **state)
{
    (void)state;
    static const struct {
        const char *feature[2], *text[2];
        bool same;
    } rows[] = {
        {{"road X", "road X"}, {"at 50", "at 60"}, true},
        {{"road X", "road Y"}, {"near", "near"}, false},
        {{"", ""}, {"7 cm", "7 cm"}, true},
        {{"", ""}, {"7 cm", "6 cm"}, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int level = FW_LEVEL_NOTE; level <= FW_LEVEL_WARNING; level++) {
            struct fw_plan two = *plan;
            struct fw_plan_finding found[2];
            for (size_t k = 0; k < 2; k++) {
                found[k] = (struct fw_plan_finding){
                    .fence = FW_NONE, .level = (enum fw_level)level};
                snprintf(found[k].rule, sizeof found[k].rule, "rule");
                snprintf(found[k].about, sizeof found[k].about, "thing");
                snprintf(found[k].feature, sizeof found[k].feature, "%s",
                         rows[i].feature[k]);
                snprintf(found[k].text, sizeof found[k].text, "%s",
                         rows[i].text[k]);
            }
            two.findings = found;
            two.finding_count = 2;
            two.notes = (struct fw_notes){0};
            struct fw_error err;
            char *page;
            assert_int_equal(fw_report_text(&two, 0, &page, &err), FW_OK);
            unfold(page);
            if (level == FW_LEVEL_WARNING) {
                assert_int_equal(places(page, "thing: "), rows[i].same ? 0 : 2);
                assert_int_equal(places(page, "thing, and 1 more place: "),
                                 rows[i].same);
            } else {
                assert_int_equal(places(page, "With --all 1 note,"),
                                 rows[i].same);
                assert_int_equal(places(page, "With --all 2 notes,"),
                                 !rows[i].same);
            }
            fw_bytes_free(page);
        }
}

/* The page of cautions has everything: the dangers too, and what came of each
 * trial. */
static void the_page_of_cautions_has_it_whole(void **state)
{
    (void)state;
    struct fw_error err;
    char *page;
    assert_int_equal(fw_report_cautions(plan, &page, &err), FW_OK);
    unfold(page);
    for (size_t i = 0; i < plan->notes.count; i++)
        assert_int_equal(places(page, plan->notes.items[i].text),
                         plan->notes.items[i].level == FW_LEVEL_DANGER);
    for (size_t i = 0; i < plan->finding_count; i++)
        assert_non_null(strstr(page, plan->findings[i].text));
    size_t by[4] = {0};
    static const char *const words[][2] = {
        {"kept", "tried on this plan, and nothing found"},
        {"broken", "NOT KEPT by this plan: see the end of the page"},
        {"looked", "looked at by a person"},
        {"no", "not tried on this plan"}};
    for (size_t k = 0; k < 4; k++) {
        for (size_t i = 0; i < plan->caution_count; i++)
            by[k] += strcmp(plan->cautions[i].tried, words[k][0]) == 0;
        assert_int_equal(places(page, words[k][1]), by[k]);
    }
    assert_true(by[0] > 0 && by[1] > 2 && by[3] > 0);
    fw_bytes_free(page);
    /* Without a plan nothing is said of one. */
    assert_int_equal(fw_report_cautions(NULL, &page, &err), FW_OK);
    assert_null(strstr(page, "this plan"));
    assert_null(strstr(page, "FOUND"));
    fw_bytes_free(page);
}

/* By a walk through all steps, for each fence anew. */
static void what_is_set_is_what_some_step_sets(void **state)
{
    (void)state;
    size_t set = 0;
    assert_non_null(plan->is_set);
    for (size_t fence = 0; fence < plan->fence_count; fence++) {
        bool found = false;
        for (size_t i = 0; i < plan->time.step_count; i++) {
            const struct fw_step *step = &plan->time.steps[i];
            for (size_t k = 0; k < step->lines.count; k++)
                found =
                    found || (step->kind == FW_STEP_SET &&
                              plan->time.items[step->lines.first + k] == fence);
        }
        assert_int_equal(fw_plan_is_set(plan, fence), found);
        set += found;
    }
    assert_true(set > 0 && set < plan->fence_count);
    struct fw_plan other = *plan;
    other.is_set = NULL; /* as it was read */
    for (size_t fence = 0; fence < plan->fence_count; fence++)
        assert_int_equal(fw_plan_is_set(&other, fence), plan->is_set[fence]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_set_is_what_some_step_sets),
        cmocka_unit_test(local_codes_stand_first_on_every_page),
        cmocka_unit_test(local_codes_stand_first_for_machines),
        cmocka_unit_test(local_codes_stand_first_in_every_file),
        cmocka_unit_test(dangers_are_whole_on_the_first_day),
        cmocka_unit_test(then_those_of_the_ground_of_the_day_and_a_count),
        cmocka_unit_test(each_kind_of_danger_has_its_days),
        cmocka_unit_test(fields_are_not_told_as_one),
        cmocka_unit_test(fences_bound_the_paddocks_that_they_lie_along),
        cmocka_unit_test(the_report_of_the_sample_is_a_minutes_reading),
        cmocka_unit_test(many_warnings_are_counted),
        cmocka_unit_test(what_is_not_the_same_is_not_told_as_one),
        cmocka_unit_test(the_page_of_cautions_has_it_whole),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
