/* The candidates drawn side by side, measured from the marks: what plan takes
 * comes first, all maps of a field have one scale, each has its own figures,
 * and nothing lies on anything. */
#include "paper_judge.h"
#include "sample_plan.h"

#include "report/reports.h"
#include "sheet/paper.h"

static struct fw_plan_scores scores;
static struct fw_paper *paper;

static int draw_sample(void **state)
{
    struct fw_error err;
    if (read_sample(state))
        return -1;
    if (fw_plan_compare(farm, &scores, &err) ||
        fw_sheet__compare_paper(farm, &scores, &paper, &err)) {
        print_error("%s\n", err.text);
        return -1;
    }
    return 0;
}

static int free_drawn(void **state)
{
    fw_paper_free(paper);
    fw_plan_scores_release(&scores);
    return free_sample(state);
}

static const struct fw_paper_mark *title_of(const struct fw_paper_mark *marks,
                                            size_t count, const char *layout)
{
    const size_t length = strlen(layout);
    for (size_t i = 0; i < count; i++)
        if (marks[i].kind == FW_PAPER_WORDS && marks[i].type.bold &&
            strncmp(marks[i].words, layout, length) == 0 &&
            strchr(":;", marks[i].words[length]))
            return &marks[i];
    return NULL;
}

static const struct fw_page *page_with(const struct fw_plan_score *score)
{
    for (size_t i = 0; i < paper->count; i++)
        if (paper_says(&paper->pages[i],
                       farm->fields[score->field].shape->name) &&
            title_of(paper->pages[i].marks, paper->pages[i].count,
                     score->layout))
            return &paper->pages[i];
    fail_msg("no page has %s", score->layout);
    return NULL;
}

static void what_plan_takes_comes_first(void **state)
{
    (void)state;
    size_t chosen = 0;
    for (size_t i = 0; i < scores.count; i++) {
        const struct fw_plan_score *score = &scores.items[i];
        const struct fw_page *page = page_with(score);
        const struct fw_paper_mark *title =
            title_of(page->marks, page->count, score->layout);
        assert_int_equal(strstr(title->words, "what plan takes") != NULL,
                         score->chosen);
        if (!score->chosen)
            continue;
        chosen++;
        /* upper left on its page, which is its field's first */
        assert_true(title->box.x < page->wide / 2);
        assert_true(title->box.y < page->high / 3);
    }
    assert_int_equal(chosen, farm->field_count);
}

/* The names of a field's candidates differ, but one may begin as another. */
static void every_candidate_has_its_own_figures(void **state)
{
    (void)state;
    for (size_t i = 0; i < scores.count; i++) {
        const struct fw_plan_score *score = &scores.items[i];
        const struct fw_page *page = page_with(score);
        const struct fw_paper_mark *title =
            title_of(page->marks, page->count, score->layout);
        const struct fw_paper_mark *below = title + 1;
        char words[80];
        snprintf(words, sizeof words, "%zu paddocks; %.0f minutes a day;",
                 score->paddocks, ceil(score->minutes));
        assert_non_null(strstr(below->words, words));
        snprintf(words, sizeof words, "%d reels, %d posts, ", score->kit.reels,
                 score->kit.posts);
        assert_non_null(strstr(below->words, words));
    }
}

/* The boundary of a field is as long in each of its maps. */
static void maps_of_a_field_have_one_scale(void **state)
{
    (void)state;
    for (size_t f = 0; f < farm->field_count; f++) {
        double all_pt = 0;
        size_t maps = 0;
        double each_pt = 0;
        for (size_t p = 0; p < paper->count; p++) {
            const struct fw_page *page = &paper->pages[p];
            if (!paper_says(page, farm->fields[f].shape->name))
                continue;
            for (size_t i = 0; i < page->count; i++)
                for (size_t k = 0; page->marks[i].kind == FW_PAPER_LINE &&
                                   page->marks[i].pen == FW_PEN_HEAVY &&
                                   k + 1 < page->marks[i].count;
                     k++)
                    all_pt += hypot(page->marks[i].points[k + 1].x -
                                        page->marks[i].points[k].x,
                                    page->marks[i].points[k + 1].y -
                                        page->marks[i].points[k].y);
        }
        for (size_t i = 0; i < scores.count; i++)
            maps += scores.items[i].field == f;
        const struct fw_field *shape = farm->fields[f].shape;
        each_pt = all_pt / (double)maps;
        const double scale =
            (shape->perimeter_m + shape->holes_m) / (each_pt * 0.0254 / 72);
        /* Candidates without a map would make the others' scale no round one:
         * those of these fields are multiples of 250. */
        assert_near(scale / 250, round(scale / 250), 0.05);
    }
}

static void nothing_lies_on_anything(void **state)
{
    (void)state;
    paper_is_clean(paper);
}

static void the_same_farm_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int svg = 0; svg < 2; svg++) {
        const struct fw_report_drawn how = {svg != 0, -1};
        char *bytes[2];
        size_t count[2];
        struct fw_error err;
        for (int i = 0; i < 2; i++)
            assert_int_equal(fw_report_compare_drawn(farm, &scores, &how,
                                                     &bytes[i], &count[i],
                                                     &err),
                             FW_OK);
        assert_int_equal(count[0], count[1]);
        assert_memory_equal(bytes[0], bytes[1], count[0]);
        fw_bytes_free(bytes[0]);
        fw_bytes_free(bytes[1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_plan_takes_comes_first),
        cmocka_unit_test(every_candidate_has_its_own_figures),
        cmocka_unit_test(maps_of_a_field_have_one_scale),
        cmocka_unit_test(nothing_lies_on_anything),
        cmocka_unit_test(the_same_farm_gives_the_same_bytes),
    };
    return cmocka_run_group_tests(tests, draw_sample, free_drawn);
}
