/* The pocket card, measured from its marks and held against the plan: letters
 * that a headlamp reads, nothing on nothing, each line drawn as what it is that
 * day, every step with its number, the boxes in the order of a record. */
#include "paper_judge.h"
#include "plan_help.h"
#include "sample_plan.h"

#include "flock/drinks.h"
#include "report/reports.h"
#include "report/steps.h"
#include "report/words.h"
#include "sheet/paper.h"

static const double mm_pt = 72 / 25.4;

static struct fw_paper *card_from(const struct fw_plan *of, size_t move)
{
    struct fw_paper *paper = NULL;
    struct fw_error err;
    if (fw_sheet__card_paper(of, move, &paper, &err))
        fail_msg("%s", err.text);
    return paper;
}

/* The page with the map of a move: the one that has its title. */
static const struct fw_page *page_of(const struct fw_paper *paper,
                                     const struct fw_plan *of, size_t move)
{
    char title[80];
    snprintf(title, sizeof title, ": into %s, ",
             of->paddocks[fw_plan_move_to(of, move)].id);
    for (size_t i = 0; i < paper->count; i++)
        for (size_t k = 0; k < paper->pages[i].count; k++) {
            const struct fw_paper_mark *mark = &paper->pages[i].marks[k];
            if (mark->kind == FW_PAPER_WORDS && mark->type.size_pt > 10 &&
                strstr(mark->words, title))
                return &paper->pages[i];
        }
    fail_msg("no page of move %zu", move);
    return NULL;
}

enum { week = 7, some_moves = 6 };

static void letters_are_nine_points_or_more(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t i = 0; i < paper->count; i++)
        for (size_t k = 0; k < paper->pages[i].count; k++)
            if (paper->pages[i].marks[k].kind == FW_PAPER_WORDS)
                assert_true(paper->pages[i].marks[k].type.size_pt >= 9);
    fw_paper_free(paper);
}

static void a_map_is_sixty_millimetres_wide(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        double wide = 0;
        for (size_t k = 0; k < page->count; k++)
            if (page->marks[k].kind == FW_PAPER_LINE &&
                page->marks[k].pen == FW_PEN_HAIR && page->marks[k].count == 5)
                wide = page->marks[k].points[1].x - page->marks[k].points[0].x;
        assert_true(wide >= 60 * mm_pt);
    }
    fw_paper_free(paper);
}

static void pages_are_of_the_size_asked_for_and_clean(void **state)
{
    (void)state;
    for (int us = 0; us < 2; us++) {
        plan->units = us ? FW_US : FW_METRIC;
        for (size_t m = 0; m < plan->time.move_count; m += week) {
            struct fw_paper *paper = card_from(plan, m);
            paper_is_clean(paper);
            assert_near(paper->pages[0].wide, us ? 288 : 105 * mm_pt, 0.01);
            assert_near(paper->pages[0].high, us ? 432 : 148 * mm_pt, 0.01);
            fw_paper_free(paper);
        }
    }
    plan->units = FW_METRIC;
}

/* However much there is to warn of, the figures beside the map keep their
 * place, and the map its least size. */
static void a_day_with_many_dangers_is_clean(void **state)
{
    (void)state;
    enum { dangers = 12 };
    struct fw_note asked[dangers];
    char text[] = "what nobody has said fills more than a line of a small page";
    struct fw_plan warned = *plan;
    for (size_t m = 1; m < some_moves; m++) {
        for (size_t i = 0; i < dangers; i++)
            asked[i] = (struct fw_note){
                FW_LEVEL_DANGER, plan->paddocks[fw_plan_move_to(plan, m)].id,
                text};
        warned.untold = (struct fw_notes){asked, dangers, dangers};
        struct fw_paper *paper = card_from(&warned, m);
        paper_is_clean(paper);
        fw_paper_free(paper);
    }
}

/* The trough is counted from the letter that the map has there. */
static void the_trough_is_counted_from_a_letter_of_the_map(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 1);
    int counted = 0;
    for (size_t m = 1; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        for (size_t i = 0; i < page->count; i++) {
            const struct fw_paper_mark *mark = &page->marks[i];
            char letter[2] = "";
            if (mark->kind != FW_PAPER_WORDS ||
                sscanf(mark->words, "Trough: %*d from %1[C-Z],", letter) != 1)
                continue;
            bool drawn = false;
            for (size_t k = 0; k < page->count; k++)
                drawn |= page->marks[k].kind == FW_PAPER_WORDS &&
                         strcmp(page->marks[k].words, letter) == 0;
            assert_true(drawn);
            counted++;
        }
    }
    assert_true(counted > 2);
    fw_paper_free(paper);
}

/* ---- lines ---- */

static bool in_step(size_t move, enum fw_step_kind kind, size_t fence)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        for (size_t k = 0; plan->time.steps[i].kind == kind &&
                           k < plan->time.steps[i].lines.count;
             k++)
            if (plan->time.items[plan->time.steps[i].lines.first + k] == fence)
                return true;
    return false;
}

static double drawn_pt(const struct fw_page *page, enum fw_pen pen)
{
    double sum = 0;
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *mark = &page->marks[i];
        for (size_t k = 0; mark->kind == FW_PAPER_LINE && mark->pen == pen &&
                           k + 1 < mark->count;
             k++)
            sum += hypot(mark->points[k + 1].x - mark->points[k].x,
                         mark->points[k + 1].y - mark->points[k].y);
    }
    return sum;
}

static double said_bar_m(const struct fw_page *page)
{
    double m = 0;
    for (size_t i = 0; i < page->count; i++) {
        char unit[4], more;
        if (page->marks[i].kind == FW_PAPER_WORDS &&
            sscanf(page->marks[i].words, "%lf %3[m]%c", &m, unit, &more) == 2)
            return m;
    }
    fail_msg("no bar");
    return 0;
}

/* The lines that are set lie in the frame whole: so many metres of them, by the
 * bar that stands beside the map, as geodesics have. */
static void lines_that_are_set_are_bold_and_to_scale(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    size_t tried = 0;
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        double bar_pt = 0, set_m = 0, down_m = 0;
        for (size_t k = 0; k < page->count; k++)
            if (page->marks[k].kind == FW_PAPER_LINE &&
                page->marks[k].pen == FW_PEN_BAR)
                bar_pt = hypot(
                    page->marks[k].points[1].x - page->marks[k].points[0].x,
                    page->marks[k].points[1].y - page->marks[k].points[0].y);
        const double m_pt = said_bar_m(page) / bar_pt;
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            const struct fw_vertex *at = plan->fields[fence->field].vertices;
            double long_m = 0;
            for (size_t k = 0; k + 1 < fence->line_count; k++)
                long_m += fw_geo_distance_m(at[fence->line[k]].lonlat,
                                            at[fence->line[k + 1]].lonlat);
            if (in_step(m, FW_STEP_SET, i))
                set_m += long_m;
            else if (in_step(m, FW_STEP_TAKE_DOWN, i))
                down_m += long_m;
        }
        assert_near(drawn_pt(page, FW_PEN_BOLD) * m_pt, set_m, 0.002 * set_m);
        assert_near(drawn_pt(page, FW_PEN_DASHED) * m_pt, down_m,
                    0.002 * down_m);
        tried += set_m > 0;
    }
    assert_true(tried > 3);
    fw_paper_free(paper);
}

/* Thin lines are those that stood last night and still do; what lies outside
 * the frame is not drawn. */
static void lines_that_stand_are_thin(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        size_t stands = 0;
        for (size_t i = 0; m > 0 && i < plan->fence_count; i++)
            stands += plan->fences[i].role != FW_FENCE_PERIMETER &&
                      plan->fences[i].field == plan->time.moves[m].field &&
                      stands_after(plan, i, m - 1) &&
                      !in_step(m, FW_STEP_TAKE_DOWN, i);
        assert_int_equal(drawn_pt(page, FW_PEN_PLAIN) > 60, stands > 0);
        assert_true(drawn_pt(page, FW_PEN_DOUBLE) > 0);
    }
    fw_paper_free(paper);
}

/* ---- words ---- */

static bool is_number(const char *words, size_t number)
{
    char wanted[16];
    snprintf(wanted, sizeof wanted, "%zu", number);
    return strcmp(words, wanted) == 0;
}

static void every_step_has_its_number(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        const size_t steps = plan->time.moves[m].steps.count;
        double last = 0;
        for (size_t number = 1; number <= steps; number++) {
            bool found = false;
            for (size_t k = 0; k < page->count; k++) {
                const struct fw_paper_mark *mark = &page->marks[k];
                /* in the margin, under the one before */
                if (mark->kind == FW_PAPER_WORDS &&
                    is_number(mark->words, number) &&
                    fabs(mark->box.x - mark->box.wide / 2 - page->margin) < 1 &&
                    mark->box.y > last) {
                    found = true;
                    last = mark->box.y;
                    break;
                }
            }
            assert_true(found);
        }
    }
    fw_paper_free(paper);
}

/* Whole paces, as the plan has them. */
static void the_lines_ends_are_said_in_paces(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    size_t tried = 0;
    for (size_t m = 0; m < some_moves; m++)
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            const struct fw_plan_field *field = &plan->fields[fence->field];
            char words[120];
            if (!in_step(m, FW_STEP_SET, i) || fence->a.by != FW_PACED_SIDE ||
                fence->a.paces == 0)
                continue;
            snprintf(words, sizeof words, "A: %d from corner %zu to %zu",
                     fence->a.paces,
                     fw_plan_corner_number(field, fence->a.corner),
                     fw_plan_corner_number(field, fence->a.towards));
            assert_true(paper_says(page_of(paper, plan, m), words));
            tried++;
        }
    assert_true(tried > 2);
    fw_paper_free(paper);
}

/* What they left, flanks, volts, count, fence as set, minutes, weather,
 * note, a row after the other. */
static void boxes_are_in_the_order_of_a_record(void **state)
{
    (void)state;
    static const char *const order[] = {"left, cm", "flanks",  "kV",
                                        "ewes",     "lambs",   "fence",
                                        "minutes",  "weather", "note"};
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        double x = 0, y = 0;
        for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
            const struct fw_paper_mark *box = NULL;
            for (size_t k = 0; k < page->count; k++)
                if (page->marks[k].kind == FW_PAPER_WORDS &&
                    strcmp(page->marks[k].words, order[i]) == 0)
                    box = &page->marks[k];
            assert_non_null(box);
            const double left = box->box.x - box->box.wide / 2;
            assert_true(box->box.y > y + 5 || (left > x && box->box.y > y - 1));
            x = left;
            y = box->box.y;
        }
    }
    fw_paper_free(paper);
}

/* Dormant grass lies flat: no height is asked for, and none is wanted. */
static void dormant_grass_is_not_measured_by_its_height(void **state)
{
    (void)state;
    const enum fw_season season = plan->season;
    char height[FW_WORDS];
    fw_report_height(plan->fields[0].left_m, plan->units, height);
    for (int dormant = 0; dormant < 2; dormant++) {
        plan->season = dormant ? FW_SEASON_DORMANT : season;
        struct fw_paper *paper = card_from(plan, 0);
        const struct fw_page *last = &paper->pages[paper->count - 1];
        const struct fw_page *page = page_of(paper, plan, 0);
        assert_int_equal(paper_says(page, "left, cm"), !dormant);
        assert_int_equal(paper_says(page, "left, in words"), dormant);
        assert_int_equal(paper_says(last, height), !dormant);
        fw_paper_free(paper);
    }
    plan->season = season;
}

static void the_first_page_is_for_the_day_before(void **state)
{
    (void)state;
    static const char *const words[] = {
        "Before Mon 17 May 2027",
        "Walk the whole boundary",
        "The day before switch the energizer on",
        "full bellies",
        "two days beside a live fence",
        "DANGER",
        "bold, what is set"};
    struct fw_paper *paper = card_from(plan, 0);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        assert_true(paper_says(&paper->pages[0], words[i]));
    assert_true(paper_says(&paper->pages[paper->count - 1], "The week"));
    assert_true(paper_says(&paper->pages[paper->count - 1], "Corrections"));
    fw_paper_free(paper);
    paper = card_from(plan, week);
    assert_false(paper_says(&paper->pages[0], "Before "));
    fw_paper_free(paper);
    struct fw_error err;
    char *bytes;
    size_t count;
    assert_int_equal(
        fw_report_card(plan, plan->time.move_count, -1, &bytes, &count, &err),
        FW_EUSAGE);
}

/* ---- the map's ground and signs ---- */

static size_t said(const struct fw_page *page, const char *words)
{
    size_t count = 0;
    for (size_t k = 0; k < page->count; k++)
        count += page->marks[k].kind == FW_PAPER_WORDS &&
                 strcmp(page->marks[k].words, words) == 0;
    return count;
}

static void a_card_is_called_by_its_day_and_ground(void **state)
{
    (void)state;
    const size_t count = plan->time.move_count;
    struct fw_paper *papers[] = {card_from(plan, 0),
                                 card_from(plan, count - 1)};
    for (size_t m = 0; m <= some_moves; m++) {
        const bool last = m == some_moves;
        const struct fw_move *of = &plan->time.moves[last ? count - 1 : m];
        const struct fw_paper *paper = papers[last];
        char words[200], date[FW_WORDS];
        size_t found = 0;
        fw_report_day(of->day, false, date);
        if (of->stay == FW_NONE)
            snprintf(words, sizeof words, "%s: out of %s", date,
                     plan->fields[of->field].name);
        else
            snprintf(words, sizeof words, "%s: into %s, %s", date,
                     plan->paddocks[plan->time.stays[of->stay].cell].id,
                     plan->fields[of->field].name);
        for (size_t i = 0; i < paper->count; i++)
            found += said(&paper->pages[i], words);
        assert_int_equal(found, 1);
    }
    fw_paper_free(papers[0]);
    fw_paper_free(papers[1]);
}

struct kit {
    int lines, posts, reels;
    double wire_m;
};

/* Of the lines that are set at a move, or whose names are asked for. */
static struct kit kit_of(size_t move, enum fw_step_kind kind, char names[400])
{
    struct kit kit = {0};
    const struct fw_list *steps = &plan->time.moves[move].steps;
    names[0] = 0;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        for (size_t k = 0; step->kind == kind && k < step->lines.count; k++) {
            const struct fw_plan_fence *fence =
                &plan->fences[plan->time.items[step->lines.first + k]];
            strcat(names, kit.lines++ ? ", " : "");
            strcat(names, fence->id);
            kit.posts += fence->posts;
            kit.reels += fence->reels;
            kit.wire_m += fence->wire_m;
        }
    }
    return kit;
}

/* Heads, ground, minutes, what is carried, water, and the tester where one line
 * is read. */
/* As large as it is fenced, and nobody comes on a Sunday: that is told where it
 * is read, with what to do. */
static void a_stay_that_is_too_short_of_feed_is_told(void **state)
{
    (void)state;
    for (size_t m = 0; m < some_moves; m++) {
        struct fw_plan_paddock *to = &plan->paddocks[fw_plan_move_to(plan, m)];
        const struct fw_time_stay *stay =
            &plan->time.stays[plan->time.moves[m].stay];
        const double was_days = to->stay_days;
        char words[80], area[FW_WORDS];
        to->stay_days = stay->leave - stay->enter - 0.5;
        snprintf(words, sizeof words, "\n%s, %.1f day%s\nof %d: feed hay\n",
                 fw_report_area(to->area_ha, plan->units, area), to->stay_days,
                 to->stay_days > 1 ? "s" : "", stay->leave - stay->enter);
        bool told = false;
        struct fw_paper *paper = card_from(plan, 0);
        const struct fw_page *page = page_of(paper, plan, m);
        for (size_t k = 0; k < page->count; k++)
            told |= page->marks[k].kind == FW_PAPER_WORDS &&
                    strstr(page->marks[k].words, words);
        assert_true(told);
        fw_paper_free(paper);
        to->stay_days = was_days;
    }
}

static void figures_stand_beside_the_map(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    int volts = 0;
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        const struct fw_move *move = &plan->time.moves[m];
        const struct fw_plan_paddock *to =
            &plan->paddocks[plan->time.stays[move->stay].cell];
        char words[400], names[400], a[FW_WORDS], b[FW_WORDS];
        const struct kit kit = kit_of(m, FW_STEP_SET, names);
        size_t used = (size_t)snprintf(
            words, sizeof words, "%d head\n%s, %s day%s\n%.0f minutes\n",
            plan->flock.head, fw_report_area(to->area_ha, plan->units, a),
            fw_report_number(to->stay_days, b), to->stay_days > 1 ? "s" : "",
            ceil(move->minutes));
        if (kit.lines)
            used +=
                (size_t)snprintf(words + used, sizeof words - used,
                                 "wire %s\nposts %d, reels %d\n",
                                 fw_report_length(kit.wire_m, plan->units, a),
                                 kit.posts, kit.reels);
        struct fw_drinks drinks;
        assert_int_equal(
            fw_flock_drinks_sum(plan->classes, plan->class_count,
                                &(struct fw_drink_day){FW_AIR_MILD, 0.8},
                                &drinks, NULL),
            FW_OK);
        used += (size_t)snprintf(
            words + used, sizeof words - used, "water %s\nheat %s",
            fw_report_volume(drinks.expected_l, plan->units, a),
            fw_report_volume(drinks.hot_l, plan->units, b));
        const struct fw_plan_reading *one = NULL;
        int readings = 0;
        for (size_t i = 0; i < plan->reading_count; i++)
            if (plan->readings[i].step >= move->steps.first &&
                plan->readings[i].step <
                    move->steps.first + move->steps.count) {
                one = &plan->readings[i];
                readings++;
            }
        if (readings == 1 && one->far_v > 0)
            snprintf(words + used, sizeof words - used,
                     "\nexpect %.1f kV\nact under %.1f",
                     floor(one->far_v / 100 + 1e-6) / 10,
                     ceil(one->wanted_v / 100 - 1e-6) / 10);
        else if (readings > 1)
            snprintf(words + used, sizeof words - used, "\nkV: in the steps");
        volts += readings == 1;
        if (said(page, words) != 1) {
            for (size_t k = 0; k < page->count; k++)
                if (page->marks[k].kind == FW_PAPER_WORDS &&
                    strstr(page->marks[k].words, " head\n"))
                    fail_msg("\"%s\"; expected \"%s\"", page->marks[k].words,
                             words);
            fail_msg("nothing beside the map of move %zu", m);
        }
    }
    assert_true(volts > 0);
    fw_paper_free(paper);
}

/* A paragraph a day: how long it takes, what is set and comes down. */
static void the_week_has_each_day(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    const struct fw_page *page = &paper->pages[paper->count - 1];
    int set = 0, down = 0;
    for (size_t m = 0; m < some_moves; m++) {
        char words[900], names[400], a[FW_WORDS];
        struct kit kit = kit_of(m, FW_STEP_SET, names);
        size_t used = (size_t)snprintf(words, sizeof words, "; %.0f minutes.",
                                       ceil(plan->time.moves[m].minutes));
        if (kit.lines)
            used += (size_t)snprintf(
                words + used, sizeof words - used,
                " Set %s. %s of wire, %d posts, %d reels.", names,
                fw_report_length(kit.wire_m, plan->units, a), kit.posts,
                kit.reels);
        set += kit.lines > 0;
        kit = kit_of(m, FW_STEP_TAKE_DOWN, names);
        if (kit.lines)
            snprintf(words + used, sizeof words - used, " Take down %s.",
                     names);
        down += kit.lines > 0;
        bool found = false;
        const char *id =
            plan->paddocks[plan->time.stays[plan->time.moves[m].stay].cell].id;
        for (size_t k = 0; k < page->count; k++) {
            const struct fw_paper_mark *mark = &page->marks[k];
            const char *end = mark->kind == FW_PAPER_WORDS
                                  ? strstr(mark->words, words)
                                  : NULL;
            found |= end && strstr(mark->words, id) && strcmp(end, words) == 0;
        }
        if (!found)
            fail_msg("the week has no \"%s\" of %s", words, id);
    }
    assert_true(set > 3 && down > 1);
    fw_paper_free(paper);
}

/* On a page of its own for every day, and on the day's where that has room; a
 * day has one page. */
static void the_way_of_the_tank_is_on_the_card(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    const struct fw_page *tank = &paper->pages[paper->count - 2];
    size_t with = 0, left_out = 0;
    assert_true(paper_says(tank, "The tank"));
    assert_true(paper_says(tank, "Mineral last"));
    assert_int_equal(paper->count, some_moves + 3);
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_page *page = page_of(paper, plan, m);
        const bool has = fw_report_has_tank(plan, m);
        struct fw_text words = {0};
        fw_report_say_tank_brief(&words, plan, m);
        assert_int_equal(words.length > 0, has);
        assert_true(!has || paper_says(tank, words.bytes));
        const bool here = has && paper_says(page, words.bytes);
        assert_int_equal(here || paper_says(page, "; tank: its page."), has);
        with += here;
        left_out += has && !here;
        fw_text_release(&words);
    }
    assert_true(with > 0 && left_out > 0);
    fw_paper_free(paper);
}

/* Words in the middle of a white disc, as corners have their numbers. */
static bool in_a_disc(const struct fw_page *page, const char *words)
{
    for (size_t k = 0; k < page->count; k++) {
        const struct fw_paper_mark *of = &page->marks[k];
        if (of->kind != FW_PAPER_WORDS || strcmp(of->words, words) != 0)
            continue;
        for (size_t i = 0; i < page->count; i++) {
            const struct fw_paper_mark *disc = &page->marks[i];
            if (disc->kind == FW_PAPER_AREA && disc->pen == FW_PEN_WHITE &&
                disc->ring_start[1] == 24 &&
                fabs(disc->points[0].x + disc->points[12].x - 2 * of->box.x) <
                    1e-6 &&
                fabs(disc->points[0].y + disc->points[12].y - 2 * of->box.y) <
                    1e-6)
                return true;
        }
    }
    return false;
}

struct ground {
    double low_x, high_x, low_y, high_y;
};

static void hold(struct ground *ground, struct fw_point p)
{
    ground->low_x = fmin(ground->low_x, p.x_m);
    ground->high_x = fmax(ground->high_x, p.x_m);
    ground->low_y = fmin(ground->low_y, p.y_m);
    ground->high_y = fmax(ground->high_y, p.y_m);
}

/* What must be seen on a map: where they come from and go, the lines that are
 * set and come down, the corners that paces are counted from, the gate where
 * it is opened. */
static struct ground ground_of(size_t m)
{
    const struct fw_move *move = &plan->time.moves[m];
    const struct fw_plan_field *field = &plan->fields[move->field];
    struct ground ground = {HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
    const size_t ways[] = {fw_plan_move_from(plan, m),
                           fw_plan_move_to(plan, m)};
    for (size_t i = 0; i < 2; i++) {
        if (ways[i] == FW_NONE || plan->paddocks[ways[i]].field != move->field)
            continue;
        const struct fw_plan_rings *rings = &plan->paddocks[ways[i]].rings;
        for (size_t k = 0; k < rings->ring_start[rings->ring_count]; k++)
            hold(&ground, field->vertices[rings->vertices[k]].plane);
    }
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const bool set = in_step(m, FW_STEP_SET, i);
        if (fence->field != move->field ||
            (!set && !in_step(m, FW_STEP_TAKE_DOWN, i)))
            continue;
        for (size_t k = 0; k < fence->line_count; k++)
            hold(&ground, field->vertices[fence->line[k]].plane);
        const struct fw_plan_paced *const ends[] = {&fence->a, &fence->b};
        for (size_t e = 0; set && e < 2; e++)
            if (ends[e]->by == FW_PACED_SIDE)
                hold(&ground,
                     field->vertices[field->corners[ends[e]->corner]].plane);
    }
    for (size_t i = move->steps.first;
         i < move->steps.first + move->steps.count; i++)
        if (plan->time.steps[i].kind == FW_STEP_OPEN &&
            plan->gates[plan->time.steps[i].opening].fence == FW_NONE &&
            field->gate.given)
            hold(&ground, field->gate.plane);
    return ground;
}

/* At the greatest round scale at which that fits into the frame, 17 points
 * within its edge. */
static void a_map_is_as_large_as_it_can_be(void **state)
{
    (void)state;
    size_t with_gate = 0, tried = 0;
    for (size_t first = 0; first + 1 < plan->time.move_count; first += week) {
        struct fw_paper *paper = card_from(plan, first);
        for (size_t m = first;
             m < first + some_moves && m + 1 < plan->time.move_count; m++) {
            const struct fw_page *page = page_of(paper, plan, m);
            struct fw_xy size = {0, 0};
            double bar_pt = 0;
            for (size_t k = 0; k < page->count; k++) {
                const struct fw_paper_mark *of = &page->marks[k];
                if (of->kind != FW_PAPER_LINE)
                    continue;
                if (of->pen == FW_PEN_BAR)
                    bar_pt = of->points[1].x - of->points[0].x;
                if (of->pen == FW_PEN_HAIR && of->count == 5)
                    size = (struct fw_xy){of->points[2].x - of->points[0].x,
                                          of->points[2].y - of->points[0].y};
            }
            const struct ground ground = ground_of(m);
            const double wanted = fw_scale_of(
                ground.high_x - ground.low_x, ground.high_y - ground.low_y,
                (struct fw_xy){size.x - 34, size.y - 34}, false);
            assert_relative(said_bar_m(page) / (bar_pt * 0.0254 / 72), wanted,
                            0.01);
            tried++;
            with_gate += said(page, "gate") > 0;
        }
        fw_paper_free(paper);
    }
    assert_true(tried > 20 && with_gate > 1);
}

/* A ring with its letter where a line is opened; the gate where that is; the
 * corners that paces are counted from; where they come from and go. */
static void a_map_shows_what_is_done_that_day(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    size_t rings = 0, gates = 0, corners = 0;
    for (size_t m = 0; m < some_moves; m++) {
        const struct fw_move *move = &plan->time.moves[m];
        const struct fw_page *page = page_of(paper, plan, m);
        const struct fw_plan_field *field = &plan->fields[move->field];
        size_t wanted = 0, drawn = 0;
        char letter[2] = "C";
        for (size_t i = move->steps.first;
             i < move->steps.first + move->steps.count; i++) {
            const struct fw_step *step = &plan->time.steps[i];
            if (step->kind != FW_STEP_OPEN)
                continue;
            const struct fw_plan_gate *gate = &plan->gates[step->opening];
            if (gate->fence == FW_NONE) {
                if (gate->field == move->field)
                    assert_int_equal(said(page, "gate"), 1);
                gates += gate->field == move->field;
                continue;
            }
            if (gate->field == move->field) {
                wanted++;
                assert_true(said(page, letter) > 0);
            }
            letter[0]++;
        }
        for (size_t k = 0; k < page->count; k++) {
            const struct fw_paper_mark *mark = &page->marks[k];
            if (mark->kind == FW_PAPER_AREA && mark->pen == FW_PEN_WHITE &&
                mark->ring_start[1] > 8)
                drawn +=
                    fabs(mark->points[0].x - mark->points[12].x - 7) < 0.01;
        }
        assert_int_equal(drawn, wanted);
        rings += drawn;
        for (size_t i = 0; i < plan->fence_count; i++) {
            if (!in_step(m, FW_STEP_SET, i) ||
                plan->fences[i].field != move->field)
                continue;
            const struct fw_plan_paced *const ends[] = {&plan->fences[i].a,
                                                        &plan->fences[i].b};
            for (size_t e = 0; e < 2; e++) {
                char number[16];
                if (ends[e]->by != FW_PACED_SIDE)
                    continue;
                snprintf(number, sizeof number, "%zu",
                         fw_plan_corner_number(field, ends[e]->corner));
                assert_true(in_a_disc(page, number));
                corners++;
            }
            assert_true(said(page, "A") > 0 && said(page, "B") > 0);
        }
        char words[FW_ID + 8];
        const size_t to = plan->time.stays[move->stay].cell;
        const char *id = plan->paddocks[to].id;
        snprintf(words, sizeof words, "to %s", id);
        assert_int_equal(said(page, words) + said(page, id), 1);
        const size_t from = fw_plan_move_from(plan, m);
        if (from != FW_NONE && plan->paddocks[from].field == move->field) {
            snprintf(words, sizeof words, "flock\n%s", plan->paddocks[from].id);
            assert_int_equal(said(page, words) + said(page, "flock"), 1);
        }
    }
    assert_true(rings > 3 && gates > 0 && corners > 5);
    fw_paper_free(paper);
}

static void the_day_before_is_for_the_boundary(void **state)
{
    (void)state;
    struct fw_paper *paper = card_from(plan, 0);
    const struct fw_page *page = &paper->pages[0];
    char words[200], date[FW_WORDS];
    snprintf(words, sizeof words, "Before %s",
             fw_report_day(plan->start_day, true, date));
    assert_int_equal(said(page, words), 1);
    size_t walk = 0;
    for (size_t i = 0; i < paper->count; i++)
        walk += paper_says(&paper->pages[i], "Walk the whole boundary: gates "
                                             "shut, nothing down,");
    assert_int_equal(walk, 1);
    fw_paper_free(paper);
}

/* ---- bytes ---- */

static bool bytes_hold(const char *bytes, size_t count, const char *words)
{
    const size_t length = strlen(words);
    for (size_t i = 0; i + length <= count; i++)
        if (memcmp(bytes + i, words, length) == 0)
            return true;
    return false;
}

/* Without a time it is of the plan's first day. */
static void a_card_is_a_pdf_of_its_day(void **state)
{
    (void)state;
    for (int told = 0; told < 2; told++) {
        char *bytes = NULL, pages[40];
        size_t count = 0;
        struct fw_paper *paper = card_from(plan, 2);
        assert_int_equal(fw_report_card(plan, 2, told ? 1777852800 : -1, &bytes,
                                        &count, NULL),
                         FW_OK);
        assert_memory_equal(bytes, "%PDF-", 5);
        snprintf(pages, sizeof pages, "/Count %zu", paper->count);
        assert_true(bytes_hold(bytes, count, pages));
        assert_true(bytes_hold(bytes, count,
                               told ? "20260504000000Z" : "20270517000000Z"));
        fw_bytes_free(bytes);
        fw_paper_free(paper);
    }
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(
        fw_report_card(plan, plan->time.move_count, -1, &bytes, &count, NULL),
        FW_EUSAGE);
    assert_int_equal(fw_report_card(NULL, 0, -1, &bytes, &count, NULL),
                     FW_EUSAGE);
    assert_null(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_nine_points_or_more),
        cmocka_unit_test(a_map_is_sixty_millimetres_wide),
        cmocka_unit_test(pages_are_of_the_size_asked_for_and_clean),
        cmocka_unit_test(a_day_with_many_dangers_is_clean),
        cmocka_unit_test(the_trough_is_counted_from_a_letter_of_the_map),
        cmocka_unit_test(lines_that_are_set_are_bold_and_to_scale),
        cmocka_unit_test(lines_that_stand_are_thin),
        cmocka_unit_test(every_step_has_its_number),
        cmocka_unit_test(the_lines_ends_are_said_in_paces),
        cmocka_unit_test(boxes_are_in_the_order_of_a_record),
        cmocka_unit_test(dormant_grass_is_not_measured_by_its_height),
        cmocka_unit_test(the_way_of_the_tank_is_on_the_card),
        cmocka_unit_test(the_first_page_is_for_the_day_before),
        cmocka_unit_test(a_card_is_called_by_its_day_and_ground),
        cmocka_unit_test(a_stay_that_is_too_short_of_feed_is_told),
        cmocka_unit_test(figures_stand_beside_the_map),
        cmocka_unit_test(the_week_has_each_day),
        cmocka_unit_test(a_map_is_as_large_as_it_can_be),
        cmocka_unit_test(a_map_shows_what_is_done_that_day),
        cmocka_unit_test(the_day_before_is_for_the_boundary),
        cmocka_unit_test(a_card_is_a_pdf_of_its_day),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
