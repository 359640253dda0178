/* The field sheet, measured from its marks: what overlaps, what leaves the
 * page, how long a bar is on the ground, and whether all is there. */
#include "paper_judge.h"
#include "plan_help.h"
#include "sample_plan.h"

#include "plan/place.h"
#include "report/reports.h"
#include "sheet/paper.h"

static struct fw_paper *sheet_of(const struct fw_plan *of)
{
    struct fw_paper *paper = NULL;
    struct fw_error err;
    if (fw_sheet__sheet_paper(of, true, &paper, &err))
        fail_msg("%s", err.text);
    return paper;
}

/* ---- lengths ---- */

/* The boundary is drawn side by side with the heaviest pen, in the order of the
 * plan's fences: how many points a metre has on paper, the metre by geodesics.
 */
static double points_a_metre(const struct fw_plan *of, size_t field,
                             const struct fw_page *page)
{
    double points = 0, metres = 0;
    size_t mark = 0;
    for (size_t i = 0; i < of->fence_count; i++) {
        const struct fw_plan_fence *fence = &of->fences[i];
        if (fence->field != field || fence->role != FW_FENCE_PERIMETER)
            continue;
        while (page->marks[mark].kind != FW_PAPER_LINE ||
               page->marks[mark].pen != FW_PEN_HEAVY)
            assert_true(++mark < page->count);
        const struct fw_paper_mark *line = &page->marks[mark++];
        assert_int_equal(line->count, fence->line_count);
        for (size_t k = 0; k + 1 < line->count; k++) {
            const struct fw_vertex *vertices = of->fields[field].vertices;
            points += hypot(line->points[k + 1].x - line->points[k].x,
                            line->points[k + 1].y - line->points[k].y);
            metres += fw_geo_distance_m(vertices[fence->line[k]].lonlat,
                                        vertices[fence->line[k + 1]].lonlat);
        }
    }
    assert_true(metres > 0);
    return points / metres;
}

/* What stands under the bar: "50 m, 61 paces", "100 ft, 38 paces". */
static double said_m(const struct fw_page *page, const struct fw_xy *bar)
{
    double said = 0;
    char unit[8];
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *mark = &page->marks[i];
        if (mark->kind == FW_PAPER_WORDS && strstr(mark->words, " paces") &&
            fabs(mark->box.x - mark->box.wide / 2 - bar->x) < 1 &&
            mark->box.y > bar->y && mark->box.y < bar->y + 15)
            assert_int_equal(sscanf(mark->words, "%lf %7[a-z]", &said, unit),
                             2);
    }
    assert_true(said > 0);
    return strcmp(unit, "ft") == 0 ? said * 0.3048 : said;
}

static void bar_is_true(const struct fw_plan *of, size_t field,
                        const struct fw_page *page)
{
    size_t bars = 0;
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *mark = &page->marks[i];
        if (mark->kind != FW_PAPER_LINE || mark->pen != FW_PEN_BAR)
            continue;
        bars++;
        const double long_pt = hypot(mark->points[1].x - mark->points[0].x,
                                     mark->points[1].y - mark->points[0].y);
        assert_relative(long_pt / points_a_metre(of, field, page),
                        said_m(page, mark->points), 0.002);
    }
    assert_int_equal(bars, 1);
}

static void a_bar_is_as_long_as_its_ground(void **state)
{
    (void)state;
    for (int us = 0; us < 2; us++) {
        plan->units = us ? FW_US : FW_METRIC;
        struct fw_paper *paper = sheet_of(plan);
        for (size_t i = 0; i < plan->field_count; i++)
            bar_is_true(plan, i, &paper->pages[i]);
        fw_paper_free(paper);
    }
    plan->units = FW_METRIC;
}

/* "1 : 1250" is what points_a_metre says it is. */
static void the_scale_is_what_it_says(void **state)
{
    (void)state;
    struct fw_paper *paper = sheet_of(plan);
    for (size_t i = 0; i < plan->field_count; i++) {
        const double scale =
            1 / (points_a_metre(plan, i, &paper->pages[i]) * 0.0254 / 72);
        char words[40];
        snprintf(words, sizeof words, "1 : %.0f;", round(scale / 50) * 50);
        assert_near(scale, round(scale / 50) * 50, 2);
        assert_true(paper_says(&paper->pages[i], words));
    }
    fw_paper_free(paper);
}

/* ---- what is there ---- */

static const struct fw_paper_mark *label(const struct fw_page *page,
                                         const char *words)
{
    for (size_t i = 0; i < page->count; i++)
        if (page->marks[i].kind == FW_PAPER_WORDS &&
            strcmp(page->marks[i].words, words) == 0)
            return &page->marks[i];
    fail_msg("no \"%s\"", words);
    return NULL;
}

/* The page's place back in the plane: by two corners whose places are known. */
static void every_paddock_has_its_name_in_it(void **state)
{
    (void)state;
    struct fw_paper *paper = sheet_of(plan);
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        const struct fw_plan_field *field = &plan->fields[paddock->field];
        const struct fw_page *page = &paper->pages[paddock->field];
        const struct fw_paper_mark *mark = label(page, paddock->id);
        const struct fw_paper_mark *line = NULL;
        const struct fw_plan_fence *fence = NULL;
        for (size_t k = 0; k < page->count && !line; k++)
            if (page->marks[k].kind == FW_PAPER_LINE &&
                page->marks[k].pen == FW_PEN_HEAVY)
                line = &page->marks[k];
        for (size_t k = 0; k < plan->fence_count && !fence; k++)
            if (plan->fences[k].field == paddock->field &&
                plan->fences[k].role == FW_FENCE_PERIMETER)
                fence = &plan->fences[k];
        const double points_m = points_a_metre(plan, paddock->field, page);
        const struct fw_point from = field->vertices[fence->line[0]].plane;
        const struct fw_point at = {
            from.x_m + (mark->box.x - line->points[0].x) / points_m,
            from.y_m - (mark->box.y - line->points[0].y) / points_m};
        size_t count;
        struct fw_point *ring = fw_plan__ring(
            field, &paddock->rings,
            fw_plan__greatest_ring(field, &paddock->rings), &count);
        assert_true(fw_ring_contains(ring, count, at));
        fw_free(ring);
    }
    fw_paper_free(paper);
}

static size_t pages_with(const struct fw_paper *paper, const char *words)
{
    size_t pages = 0;
    for (size_t i = 0; i < paper->count; i++)
        pages += paper_says(&paper->pages[i], words);
    return pages;
}

static void lists_follow_with_their_heads_on_each_page(void **state)
{
    (void)state;
    struct fw_paper *paper = sheet_of(plan);
    size_t moved = 0, headed = 0;
    for (size_t i = 0; i < paper->count; i++) {
        bool work = false;
        for (size_t k = 0; k < paper->pages[i].count; k++) {
            const struct fw_paper_mark *mark = &paper->pages[i].marks[k];
            work |= mark->kind == FW_PAPER_WORDS &&
                    strncmp(mark->words, "Set ", 4) == 0 &&
                    strstr(mark->words, ", bearing ");
        }
        moved += work;
        headed += work && paper_says(&paper->pages[i], "Reels") &&
                  paper_says(&paper->pages[i], "Into");
        assert_false(paper->pages[i].drawing && work);
    }
    assert_true(moved > 1);
    assert_int_equal(moved, headed);
    for (size_t i = 0; i < plan->material_count; i++)
        assert_int_equal(pages_with(paper, plan->materials[i].item), 1);
    assert_int_equal(pages_with(paper, "A checked fence can still hurt"),
                     paper->count);
    assert_true(pages_with(paper, "PEOPLE") == 1);
    for (size_t i = 0; i < plan->time.move_count; i++)
        for (size_t k = 0; k < plan->fence_count; k++) {
            char words[FW_ID + 8];
            if (plan->fences[k].role == FW_FENCE_PERIMETER ||
                move_that(plan, FW_STEP_SET, k) != i)
                continue;
            snprintf(words, sizeof words, "Set %s,", plan->fences[k].id);
            assert_int_equal(pages_with(paper, words), 1);
        }
    fw_paper_free(paper);
}

/* ---- nothing on nothing ---- */

static void the_samples_labels_keep_apart_in_either_unit(void **state)
{
    (void)state;
    for (int us = 0; us < 2; us++) {
        plan->units = us ? FW_US : FW_METRIC;
        struct fw_paper *paper = sheet_of(plan);
        paper_is_clean(paper);
        assert_near(fmin(paper->pages[0].wide, paper->pages[0].high),
                    us ? 612 : 210 / 25.4 * 72, 0.01);
        fw_paper_free(paper);
    }
    plan->units = FW_METRIC;
}

/* A name as long as any, one from right to left, one in Han letters, one that
 * is all one word. */
static void odd_names_stay_on_their_page(void **state)
{
    (void)state;
    char *name = plan->fields[0].name, *farm_name = plan->farm_name;
    char words[301] = {0}, word[301];
    memset(word, 'w', 300);
    word[300] = '\0';
    for (int i = 0; i < 300; i++)
        words[i] = i % 7 == 6 ? ' ' : 'm';
    char *names[] = {words, word,
                     (char *)"\xd7\x94\xd7\xa9\xd7\x93\xd7\x94 "
                             "\xd7\x94\xd7\x92\xd7\x93\xd7\x95\xd7\x9c",
                     (char *)"\xe9\x95\xbf\xe7\x94\xb0", (char *)""};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        plan->fields[0].name = plan->farm_name = names[i];
        struct fw_paper *paper = sheet_of(plan);
        paper_is_clean(paper);
        fw_paper_free(paper);
    }
    plan->fields[0].name = name;
    plan->farm_name = farm_name;
}

static void letters_without_a_font_are_said_with_their_package(void **state)
{
    (void)state;
    char *name = plan->fields[0].name;
    plan->fields[0].name = (char *)"Field \xf3\xb0\x84\x82";
    struct fw_paper *paper = sheet_of(plan);
    assert_true(pages_with(paper, "Letters that no font here has") == 1);
    assert_true(pages_with(paper, "install fonts-noto-core") == 1);
    fw_paper_free(paper);
    plan->fields[0].name = name;
    paper = sheet_of(plan);
    assert_int_equal(pages_with(paper, "Letters that no font here has"), 0);
    fw_paper_free(paper);
}

/* From 10 m to 10 km, of one paddock and of many. */
static void small_and_great_fields_keep_their_labels_apart(void **state)
{
    (void)state;
    static const struct {
        double side_m;
        int head;
        size_t least;
    } sizes[] = {
        {10, 1, 1}, {100, 400, 1}, {1000, 40, 990}, {10000, 90000, 30}};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        const double s = sizes[i].side_m;
        const struct outline square = {4, {{0, 0}, {s, 0}, {s, s}, {0, s}}, 0};
        struct fw_farm *of = farm_of(&square, NULL);
        struct fw_plan *made = NULL;
        struct fw_error err;
        of->classes[0].head = sizes[i].head;
        if (sizes[i].least == 1)
            of->last = FW_LAST_SHORT;
        if (fw_plan_make(of, &made, &err))
            fail_msg("%g m: %s", s, err.text);
        assert_true(made->paddock_count >= sizes[i].least);
        struct fw_paper *paper = sheet_of(made);
        paper_is_clean(paper);
        bar_is_true(made, 0, &paper->pages[0]);
        fw_paper_free(paper);
        fw_plan_free(made);
        fw_farm_free(of);
    }
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

/* A PDF has all pages, on A4 or letter, of the plan's first day where no time
 * is told; pictures have the maps alone. */
static void a_sheet_is_drawn_in_each_form(void **state)
{
    (void)state;
    for (int us = 0; us < 2; us++) {
        plan->units = us ? FW_US : FW_METRIC;
        struct fw_paper *paper = sheet_of(plan);
        char *bytes = NULL, pages[40];
        size_t count = 0;
        assert_near(paper->pages[0].wide, us ? 612 : 210 * 72 / 25.4, 1e-9);
        assert_near(paper->pages[0].high, us ? 792 : 297 * 72 / 25.4, 1e-9);
        assert_int_equal(fw_report_sheet(plan, "pdf", us ? 1777852800 : -1,
                                         &bytes, &count, NULL),
                         FW_OK);
        assert_memory_equal(bytes, "%PDF-", 5);
        snprintf(pages, sizeof pages, "/Count %zu", paper->count);
        assert_true(bytes_hold(bytes, count, pages));
        assert_true(bytes_hold(bytes, count,
                               us ? "20260504000000Z" : "20270517000000Z"));
        fw_bytes_free(bytes);
        size_t maps = 0;
        double high = 0;
        for (size_t i = 0; i < paper->count; i++)
            if (paper->pages[i].drawing) {
                maps++;
                high += paper->pages[i].high;
            }
        assert_int_equal(maps, plan->field_count);
        assert_int_equal(fw_report_sheet(plan, "svg", -1, &bytes, &count, NULL),
                         FW_OK);
        const char *box = strstr(bytes, "viewBox=\"0 0 ");
        assert_non_null(box);
        char *end;
        assert_near(strtod(box + 13, &end), paper->pages[0].wide, 0.01);
        assert_near(strtod(end, NULL), high, 0.01);
        fw_bytes_free(bytes);
        assert_int_equal(fw_report_sheet(plan, "png", -1, &bytes, &count, NULL),
                         FW_OK);
        assert_memory_equal(bytes, "\x89PNG", 4);
        fw_bytes_free(bytes);
        bytes = NULL;
        assert_int_equal(fw_report_sheet(plan, NULL, -1, &bytes, &count, NULL),
                         FW_EUSAGE);
        assert_int_equal(fw_report_sheet(NULL, "pdf", -1, &bytes, &count, NULL),
                         FW_EUSAGE);
        assert_null(bytes);
        fw_paper_free(paper);
    }
    plan->units = FW_METRIC;
    assert_int_equal(fw_report_can_print(NULL), FW_OK);
}

/* Paddocks in the greatest of their sizes that has room. */
static void names_have_one_of_four_sizes(void **state)
{
    (void)state;
    static const double sizes[] = {11, 9, 7.5, 6};
    size_t seen[4] = {0, 0, 0, 0}, named = 0;
    struct fw_paper *paper = sheet_of(plan);
    for (size_t p = 0; p < plan->paddock_count; p++)
        for (size_t i = 0; i < paper->count; i++)
            for (size_t k = 0;
                 paper->pages[i].drawing && k < paper->pages[i].count; k++) {
                const struct fw_paper_mark *mark = &paper->pages[i].marks[k];
                if (mark->kind != FW_PAPER_WORDS ||
                    strcmp(mark->words, plan->paddocks[p].id) != 0)
                    continue;
                size_t of = 0;
                while (of < 4 && mark->type.size_pt != sizes[of])
                    of++;
                assert_true(of < 4);
                seen[of]++;
                named++;
            }
    assert_int_equal(named, plan->paddock_count);
    assert_true(seen[0] > named / 2);
    fw_paper_free(paper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bar_is_as_long_as_its_ground),
        cmocka_unit_test(the_scale_is_what_it_says),
        cmocka_unit_test(every_paddock_has_its_name_in_it),
        cmocka_unit_test(lists_follow_with_their_heads_on_each_page),
        cmocka_unit_test(the_samples_labels_keep_apart_in_either_unit),
        cmocka_unit_test(odd_names_stay_on_their_page),
        cmocka_unit_test(letters_without_a_font_are_said_with_their_package),
        cmocka_unit_test(small_and_great_fields_keep_their_labels_apart),
        cmocka_unit_test(a_sheet_is_drawn_in_each_form),
        cmocka_unit_test(names_have_one_of_four_sizes),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
