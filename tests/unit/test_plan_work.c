/* The work of a move: minutes, passes, what holds the ends of lines. Judged by
 * hand, and by distances between lines. */
#include "plan_help.h"

#include "choice/limits.h"

static struct fw_farm *strips_the_short_way(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* fences run north and south */
    put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 0);
    return farm;
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static const double rate = 75; /* m in a minute, on foot */

/* Lines of 200 m with 26 posts, two armfuls, and two strands. */
static const double set_min = 3 * 200 / 75.0 + (26 * 8 + 2 * 45) / 60.0;
static const double down_min =
    2 * 200 / 60.0 + 2 * 200 / 75.0 + (26 * 5 + 2 * 45) / 60.0;

static double way_min(double x_m, double y_m)
{
    return hypot(x_m, y_m) / rate;
}

/* 30 strips of 10 m by 200 m, so 29 lines, 10 m apart; line k has its end A at
 * (10 k, 0), where it is opened over 6 m, and the gate is at (0, 0). Set from A
 * and back, read at B, wound from A to B. They are let in through line m of
 * move m, line m - 1 is wound behind them and line m + 2 set ahead: what was
 * opened is the back fence then, and is closed. */
static double leapfrog_min(int m, double park_m)
{
    const double opening_min = 2 * 45 / 60.0; /* to undo it and to tie it */
    const double b_to_home = way_min(10.0 * (m + 2) - park_m, 200);
    if (m == 0) /* line 1, the gate, line 2 */
        return 2 * (set_min + way_min(0, 200)) + way_min(10 - park_m, 0) +
               way_min(10, 200) + way_min(20, 0) + b_to_home;
    if (m == 30) /* the gate, line 29, with them to the gate, line 29 again */
        return way_min(park_m, 0) + opening_min / 2 + 2 * way_min(290, 3) +
               way_min(290, 0) + down_min + way_min(290 - park_m, 200);
    double sum = opening_min + way_min(10.0 * m - park_m, 3);
    if (m >= 2)
        sum += way_min(10, 3) + down_min;
    if (m >= 28)
        return sum + way_min(10.0 * (m - 1) - park_m, 200);
    sum += m >= 2 ? way_min(30, 200) : way_min(20, 3);
    return sum + set_min + way_min(0, 200) + b_to_home;
}

/* The next line is set first, then they are let in and the last is wound. */
static double set_first_min(int m, double park_m)
{
    const double opening_min = 2 * 45 / 60.0;
    if (m == 30)
        return leapfrog_min(30, park_m);
    double sum = 0, at_x = park_m, at_y = 0;
    if (m < 29) {
        sum += way_min(10.0 * (m + 1) - park_m, 0) + set_min + way_min(0, 200);
        at_x = 10.0 * (m + 1);
        at_y = 200;
    }
    if (m == 0)
        return sum + way_min(at_x, at_y) + way_min(park_m, 0);
    sum += way_min(10.0 * m - at_x, at_y - 3) + opening_min;
    if (m == 1)
        return sum + way_min(10.0 * m - park_m, 3);
    return sum + way_min(10, 3) + down_min +
           way_min(10.0 * (m - 1) - park_m, 200);
}

static void thirty_strips_take_so_many_minutes_and_passes(void **state)
{
    (void)state;
    for (int how = 0; how < 4; how++) {
        const bool first = how & 2;
        struct fw_farm *farm = strips_the_short_way();
        const double park_m = how & 1 ? 310 : 0;
        if (how & 1)
            put_spot(farm->fields[0].shape, &farm->fields[0].park, park_m, 0);
        farm->work_order = first ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->time.move_count, 31);
        double sum = 0;
        for (int m = 0; m <= 30; m++) {
            const struct fw_move *move = &plan->time.moves[m];
            const double wanted =
                first ? set_first_min(m, park_m) : leapfrog_min(m, park_m);
            const int sets = first ? m < 29 : m == 0 ? 2 : m < 28;
            assert_relative(move->minutes, wanted, 1e-3);
            assert_near(move->passes, 3 * sets + 4 * (m >= 2), 1e-12);
            sum += wanted;
        }
        assert_relative(plan->totals.minutes_per_move, sum / 31, 1e-4);
        assert_near(plan->totals.passes_per_move, 29 * 7 / 31.0, 1e-12);
        assert_int_equal(plan->fields[0].park.given, how & 1);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* ---- a move walked, from its steps ---- */

struct walker {
    const struct fw_plan *plan;
    size_t field; /* all is told in its plane */
    bool placed;
    struct fw_point at;
    double minutes;
};

static struct fw_point here(const struct walker *walker, struct fw_lonlat at)
{
    return fw_plane_forward(&walker->plan->fields[walker->field].plane, at);
}

static void go(struct walker *walker, struct fw_lonlat place)
{
    const struct fw_point to = here(walker, place);
    if (walker->placed)
        walker->minutes += apart_m(walker->at, to) / rate;
    walker->placed = true;
    walker->at = to;
}

static const struct fw_plan_place *home_of(const struct walker *walker)
{
    const struct fw_plan_field *field = &walker->plan->fields[walker->field];
    return field->park.given ? &field->park : &field->gate;
}

static void go_home(struct walker *walker)
{
    if (home_of(walker)->given)
        go(walker, home_of(walker)->lonlat);
}

/* From field to field they drive: from home to home nothing is walked. */
static void go_in(struct walker *walker, size_t field, struct fw_lonlat place)
{
    if (field != walker->field) {
        go_home(walker);
        walker->field = field;
        walker->placed = home_of(walker)->given;
        walker->at = home_of(walker)->plane;
    }
    go(walker, place);
}

static struct fw_lonlat end_of(const struct fw_plan *plan, size_t fence,
                               bool far)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    return plan->fields[of->field]
        .vertices[of->line[far ? of->line_count - 1 : 0]]
        .lonlat;
}

static void go_to_lines(struct walker *walker, const struct fw_step *step)
{
    const struct fw_fence_rates rates = fw_fence_rates_default();
    for (size_t i = 0; i < step->lines.count; i++) {
        const size_t fence = walker->plan->time.items[step->lines.first + i];
        const struct fw_plan_fence *of = &walker->plan->fences[fence];
        const struct fw_fence_count count = {.line_m = of->ground_m,
                                             .posts = of->posts};
        go_in(walker, of->field,
              end_of(walker->plan, fence, step->kind == FW_STEP_READ));
        if (step->kind == FW_STEP_SET)
            walker->minutes += fw_fence_set_min(&count, of->strands, &rates);
        if (step->kind != FW_STEP_TAKE_DOWN)
            continue;
        walker->minutes += fw_fence_take_down_min(&count, of->strands, &rates);
        walker->at = here(walker, end_of(walker->plan, fence, true));
    }
}

static double walked_min(const struct fw_plan *plan, size_t index)
{
    const struct fw_move *move = &plan->time.moves[index];
    struct walker walker = {.plan = plan, .field = move->field};
    go_home(&walker);
    for (size_t s = 0; s < move->steps.count; s++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + s];
        if (step->kind == FW_STEP_SET || step->kind == FW_STEP_READ ||
            step->kind == FW_STEP_TAKE_DOWN)
            go_to_lines(&walker, step);
        if (step->opening != FW_NONE) {
            go_in(&walker, plan->gates[step->opening].field,
                  plan->gates[step->opening].place.lonlat);
            if (plan->gates[step->opening].fence != FW_NONE)
                walker.minutes += 45 / 60.0;
        }
        if (step->kind == FW_STEP_WALK && move->opening != FW_NONE)
            go_in(&walker, plan->gates[move->opening].field,
                  plan->gates[move->opening].place.lonlat);
    }
    go_home(&walker);
    return walker.minutes;
}

static double assert_walked(const struct fw_plan *plan)
{
    double sum = 0;
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const double wanted = walked_min(plan, m);
        assert_near(plan->time.moves[m].minutes, wanted, 1e-3);
        sum += plan->time.moves[m].minutes;
    }
    assert_relative(plan->totals.minutes_per_move,
                    sum / (double)plan->time.move_count, 1e-12);
    return sum;
}

/* All moves of a field on the days that it feeds them. */
static void assert_score_is_the_plans(const struct fw_farm *farm)
{
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    if (fw_plan_compare(farm, &scores, &err))
        fail_msg("%s", err.text);
    struct fw_plan *plan = plan_of(farm);
    const double minutes = assert_walked(plan);
    size_t chosen = 0;
    for (size_t i = 0; i < scores.count; i++) {
        const struct fw_plan_score *score = &scores.items[i];
        if (!score->chosen)
            continue;
        const struct fw_plan_field *field = &plan->fields[score->field];
        double days = 0;
        for (size_t p = 0; p < field->paddock_count; p++)
            days += plan->paddocks[field->first_paddock + p].stay_days;
        assert_string_equal(score->layout, field->layout);
        assert_relative(score->days, days, 1e-9);
        if (plan->field_count == 1)
            assert_relative(score->minutes * days, minutes, 1e-4);
        chosen++;
    }
    assert_int_equal(chosen, plan->field_count);
    fw_plan_free(plan);
    fw_plan_scores_release(&scores);
}

static void plan_takes_the_minutes_that_its_layout_was_chosen_by(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t o = 0; o < 4; o++)
        for (int how = 0; how < 3; how++) {
            struct fw_farm *farm =
                farm_of(outlines[o], how == 2 ? &rectangle : NULL);
            struct fw_farm_field *field = &farm->fields[0];
            put_spot(field->shape, &field->gate, 0, 0);
            if (how > 0)
                put_spot(field->shape, &field->park, 400, 120);
            farm->back_fence = how != 1;
            farm->all_stand = how == 1;
            assert_score_is_the_plans(farm);
            fw_farm_free(farm);
        }
}

/* Where a line can be fed decides at which end it is opened, and so how far
 * they walk: whichever sides are live. */
static void layouts_are_weighed_with_the_sides_that_are_live(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&leaning, &corner, &pond};
    for (size_t o = 0; o < 3; o++)
        for (unsigned live = 1; live < 32; live += 3) {
            struct fw_farm *farm = farm_of(outlines[o], NULL);
            struct fw_farm_field *field = &farm->fields[0];
            put_spot(field->shape, &field->gate, 0, 0);
            for (size_t i = 0; i < field->shape->corner_count; i++)
                field->sides[i].hot = live >> i & 1 ? FW_YES : FW_NO;
            assert_score_is_the_plans(farm);
            fw_farm_free(farm);
        }
}

static void every_pattern_costs_what_its_plan_says(void **state)
{
    (void)state;
    const char *pattern;
    for (size_t row = 0; (pattern = fw_layout_pattern(row, NULL)); row++) {
        struct fw_farm *farm = farm_of(&leaning, NULL);
        farm->layout = fw_strdup(pattern);
        struct fw_plan *plan = NULL;
        struct fw_error err;
        const enum fw_status status = fw_plan_make(farm, &plan, &err);
        fw_plan_free(plan);
        if (status)
            print_message("# %s: %s\n", pattern, err.text);
        else
            assert_score_is_the_plans(farm);
        fw_farm_free(farm);
    }
}

/* ---- ties ---- */

/* Within a hair of a line that stands, and not at one of its own ends. */
static bool lies_along_a_line(const struct fw_plan *plan, const bool *up,
                              const struct fw_plan_field *field,
                              struct fw_point at)
{
    const double hair_m = 1e-6;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (!up[field->first_fence + i])
            continue;
        const size_t n = fence->line_count;
        if (apart_m(at, field->vertices[fence->line[0]].plane) < hair_m ||
            apart_m(at, field->vertices[fence->line[n - 1]].plane) < hair_m)
            continue;
        for (size_t k = 1; k < n; k++)
            if (fw_segment_distance_m(
                    at, field->vertices[fence->line[k - 1]].plane,
                    field->vertices[fence->line[k]].plane) < hair_m)
                return true;
    }
    return false;
}

static int ties_of(const struct fw_plan *plan, const bool *up)
{
    struct fw_point places[1024];
    int count = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const struct fw_plan_field *field = &plan->fields[fence->field];
        for (int end = 0; end < 2 && up[i]; end++) {
            const struct fw_point at =
                field->vertices[fence->line[end ? fence->line_count - 1 : 0]]
                    .plane;
            bool known =
                fence->length_m < 10 || lies_along_a_line(plan, up, field, at);
            for (int k = 0; k < count; k++)
                known |= apart_m(places[k], at) < 1e-6;
            if (!known)
                places[count++] = at;
        }
    }
    return count;
}

static const struct fw_material *anchors(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->material_count; i++)
        if (strcmp(plan->materials[i].item, "anchor for a line's end") == 0)
            return &plan->materials[i];
    return NULL;
}

/* Of one field, since places are its own. The most lines at once. */
static size_t assert_ties(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    bool *up = calloc(plan->fence_count, sizeof *up);
    int most = 0;
    size_t lines = 0, most_lines = 0;
    for (size_t s = 0; s < time->step_count; s++) {
        const struct fw_step *step = &time->steps[s];
        const bool sets = step->kind == FW_STEP_SET;
        if (!sets && step->kind != FW_STEP_TAKE_DOWN)
            continue;
        for (size_t i = 0; i < step->lines.count; i++) {
            up[time->items[step->lines.first + i]] = sets;
            lines += sets ? 1 : (size_t)-1;
            const int ties = ties_of(plan, up);
            most = ties > most ? ties : most;
            most_lines = lines > most_lines ? lines : most_lines;
        }
    }
    free(up);
    assert_int_equal(plan->totals.ties, most);
    assert_non_null(anchors(plan));
    assert_near(anchors(plan)->quantity, most, 0);
    return most_lines;
}

/* Three lines of a strip plan stand at once, and the boundary holds both ends
 * of each. */
static void strips_need_six_ties(void **state)
{
    (void)state;
    struct fw_farm *farm = strips_the_short_way();
    farm->prices.anchor = 4.5;
    struct fw_plan *plan = plan_of(farm);
    assert_int_equal(plan->totals.ties, 6);
    assert_near(anchors(plan)->price, 4.5, 0);
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_plan_post *post = &plan->posts[i];
        const double m = plan->fences[post->fence].length_m;
        const bool at_end = post->at_m < 1e-6 || post->at_m > m - 1e-3;
        assert_int_equal(post->why, at_end ? FW_POST_TIE : FW_POST_GAP);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void ends_on_block_lines_need_no_anchor(void **state)
{
    (void)state;
    const char *const patterns[] = {"blocks", "limbs", "lane", "turning"};
    int fewer = 0;
    for (size_t p = 0; p < 4; p++) {
        struct fw_farm *farm = farm_of(&leaning, NULL);
        farm->layout = fw_strdup(patterns[p]);
        struct fw_plan *plan = NULL;
        struct fw_error err;
        if (fw_plan_make(farm, &plan, &err)) {
            print_message("# %s: %s\n", patterns[p], err.text);
        } else {
            const size_t lines = assert_ties(plan);
            fewer += plan->totals.ties < 2 * (int)lines;
            fw_plan_free(plan);
        }
        fw_farm_free(farm);
    }
    assert_true(fewer > 0);
}

static void short_slack_lines_need_no_anchor(void **state)
{
    (void)state;
    static const struct outline track = {
        4, {{0, 0}, {900, 0}, {900, 9}, {0, 9}}, 0};
    struct fw_farm *farm = farm_of(&track, NULL);
    farm->layout = fw_strdup("strips");
    farm->limits_off = true;
    farm->classes[0].head = 20;
    struct fw_plan *plan = plan_of(farm);
    assert_true(plan->paddock_count > 3);
    assert_int_equal(plan->totals.ties, 0);
    assert_null(anchors(plan));
    for (size_t i = 0; i < plan->post_count; i++)
        assert_int_not_equal(plan->posts[i].why, FW_POST_TIE);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- the least width ---- */

static void the_least_width_follows_the_flock(void **state)
{
    (void)state;
    static const struct {
        int head;
        enum fw_state state;
        double told_m, wanted_m;
    } rows[] = {
        {29, FW_DRY, 0, 10},
        {30, FW_DRY, 0, 15},
        {200, FW_DRY, 0, 15},
        {201, FW_DRY, 0, 20},
        {90, FW_LAMB_AT_FOOT, 0, 20},
        {29, FW_LACTATION_TWINS, 0, 20},
        {1, FW_RAM, 0, 10},
        {29, FW_DRY, 12, 12},
        {300, FW_LACTATION_SINGLE, 12, 12},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_flock_class sheep = {.state = rows[i].state};
        const struct fw_farm farm = {.classes = &sheep,
                                     .class_count = 1,
                                     .least_width_m = rows[i].told_m};
        struct fw_plan plan = {.flock = {.head = rows[i].head}};
        const struct fw_plan_job job = {.farm = &farm, .plan = &plan};
        assert_near(fw_plan__least_width_m(&job), rows[i].wanted_m, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thirty_strips_take_so_many_minutes_and_passes),
        cmocka_unit_test(plan_takes_the_minutes_that_its_layout_was_chosen_by),
        cmocka_unit_test(layouts_are_weighed_with_the_sides_that_are_live),
        cmocka_unit_test(every_pattern_costs_what_its_plan_says),
        cmocka_unit_test(strips_need_six_ties),
        cmocka_unit_test(ends_on_block_lines_need_no_anchor),
        cmocka_unit_test(short_slack_lines_need_no_anchor),
        cmocka_unit_test(the_least_width_follows_the_flock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
