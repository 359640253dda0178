/* A field in parts on paper: where the next part begins there is no boundary,
 * but fence that goes up before they come. The outline of the whole field is
 * the judge of which side that is. On the farm with two halves. */
#define SAMPLE "winter-halves"
#include "sample_plan.h"

#include "paper/paper.h"
#include "sheet/paper.h"

static double off_m(struct fw_point at, struct fw_point a, struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double t = ((at.x_m - a.x_m) * x + (at.y_m - a.y_m) * y) /
                     fmax(x * x + y * y, 1e-12);
    const double on = fmin(fmax(t, 0), 1);
    return hypot(a.x_m + on * x - at.x_m, a.y_m + on * y - at.y_m);
}

static double off_outline_m(const struct fw_field *whole, struct fw_point at)
{
    double least = HUGE_VAL;
    for (size_t r = 0; r < whole->ring_count; r++) {
        const size_t first = whole->ring_start[r],
                     end = whole->ring_start[r + 1];
        for (size_t i = first; i < end; i++)
            least =
                fmin(least,
                     off_m(at, whole->vertices[i].plane,
                           whole->vertices[i + 1 < end ? i + 1 : first].plane));
    }
    return least;
}

static struct fw_point middle_of(size_t fence)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    const struct fw_vertex *vertices = plan->fields[of->field].vertices;
    const struct fw_point a = vertices[of->line[0]].plane,
                          b = vertices[of->line[1]].plane;
    return (struct fw_point){(a.x_m + b.x_m) / 2, (a.y_m + b.y_m) / 2};
}

static void the_side_off_the_outline_is_along_the_border(void **state)
{
    (void)state;
    int along = 0, others = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const size_t border = fw_plan_border_along(plan, i);
        if (plan->fences[i].role != FW_FENCE_PERIMETER) {
            assert_int_equal(border, FW_NONE);
            continue;
        }
        const bool inside = off_outline_m(farm->wholes[0], middle_of(i)) > 1;
        assert_int_equal(border != FW_NONE, inside);
        along += inside;
        others += !inside;
        if (inside)
            assert_string_equal(plan->fences[border].id, "B00-01");
    }
    assert_int_equal(along, 1);
    assert_true(others > 5);
}

/* The line of a mark that runs along that fence's first piece: on both of its
 * ends' straight line, by the slope alone. */
static size_t drawn_so(const struct fw_page *page, enum fw_pen pen,
                       size_t fence)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    const struct fw_vertex *vertices = plan->fields[of->field].vertices;
    const struct fw_point a = vertices[of->line[0]].plane,
                          b = vertices[of->line[1]].plane;
    const double turn = atan2(a.y_m - b.y_m, b.x_m - a.x_m);
    size_t count = 0;
    for (size_t i = 0; i < page->count; i++) {
        const struct fw_paper_mark *mark = &page->marks[i];
        for (size_t k = 0; mark->kind == FW_PAPER_LINE && mark->pen == pen &&
                           k + 1 < mark->count;
             k++) {
            const double x = mark->points[k + 1].x - mark->points[k].x,
                         y = mark->points[k + 1].y - mark->points[k].y;
            count += hypot(x, y) > 20 && fabs(sin(atan2(y, x) - turn)) < 1e-3;
        }
    }
    return count;
}

static size_t border_side(void)
{
    size_t i = 0;
    while (fw_plan_border_along(plan, i) == FW_NONE)
        i++;
    return i;
}

static void it_is_no_boundary_on_the_sheet(void **state)
{
    (void)state;
    struct fw_paper *paper = NULL;
    struct fw_error err;
    if (fw_sheet__sheet_paper(plan, false, &paper, &err))
        fail_msg("%s", err.text);
    const size_t side = border_side();
    assert_int_equal(plan->fences[side].field, 0);
    assert_int_equal(drawn_so(&paper->pages[0], FW_PEN_HEAVY, side), 0);
    assert_true(drawn_so(&paper->pages[0], FW_PEN_DASHED, side) > 0);
    /* The side opposite is one. */
    size_t other = 0;
    while (plan->fences[other].role != FW_FENCE_PERIMETER || other == side)
        other++;
    assert_true(drawn_so(&paper->pages[0], FW_PEN_HEAVY, other) > 0);
    fw_paper_free(paper);
}

static void on_the_card_it_stands_as_long_as_it_does(void **state)
{
    (void)state;
    struct fw_paper *paper = NULL;
    struct fw_error err;
    if (fw_sheet__card_paper(plan, 0, &paper, &err))
        fail_msg("%s", err.text);
    const size_t side = border_side();
    size_t plain = 0;
    for (size_t i = 0; i < paper->count; i++) {
        assert_int_equal(drawn_so(&paper->pages[i], FW_PEN_DOUBLE, side), 0);
        plain += drawn_so(&paper->pages[i], FW_PEN_PLAIN, side) > 0;
    }
    assert_true(plan->time.moves[2].field == 0);
    assert_true(plain >= 3);
    fw_paper_free(paper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_side_off_the_outline_is_along_the_border),
        cmocka_unit_test(it_is_no_boundary_on_the_sheet),
        cmocka_unit_test(on_the_card_it_stands_as_long_as_it_does),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
