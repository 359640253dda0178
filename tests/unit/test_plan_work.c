/* The work of a move: minutes, passes, what holds the ends of lines. Judged by
 * hand, and by distances between lines. */
#include "plan_help.h"

#include "plan/limits.h"

static void put_spot(const struct fw_field *shape, struct fw_spot *spot,
                     double east_m, double north_m)
{
    const double left_m = shape->vertices[shape->corners[0]].plane.x_m;
    double low_x = left_m, low_y = HUGE_VAL;
    for (size_t i = 0; i < shape->vertex_count; i++) {
        low_x = fmin(low_x, shape->vertices[i].plane.x_m);
        low_y = fmin(low_y, shape->vertices[i].plane.y_m);
    }
    *spot = (struct fw_spot){.given = true,
                             .point = {low_x + east_m, low_y + north_m}};
    spot->lonlat = fw_plane_inverse(&shape->plane, spot->point);
}

static struct fw_farm *strips_the_short_way(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* fences run north and south */
    put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 0);
    return farm;
}

/* 30 strips of 10 m by 200 m, so 29 lines of 200 m, 10 m apart, with 26 posts
 * each: two armfuls. Two strands. Line k goes up in the course of move k (from
 * 1), comes down in that of move k + 2. */
static void thirty_strips_take_so_many_minutes_and_passes(void **state)
{
    (void)state;
    const double set_min = 3 * 200 / 75.0 + (26 * 8 + 2 * 45) / 60.0;
    const double down_min =
        2 * 200 / 60.0 + 2 * 200 / 75.0 + (26 * 5 + 2 * 45) / 60.0;
    for (int where = 0; where < 2; where++) {
        struct fw_farm *farm = strips_the_short_way();
        const double park_m = where ? 310 : 0;
        if (where)
            put_spot(farm->fields[0].shape, &farm->fields[0].park, park_m, 0);
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->move_count, 30);
        double sum = 0;
        for (int m = 1; m <= 30; m++) {
            const bool sets = m <= 29, clears = m >= 3;
            double away_m = 0;
            if (sets)
                away_m = fabs(park_m - 10 * m);
            if (clears)
                away_m = fmax(away_m, fabs(park_m - 10 * (m - 2)));
            const double wanted =
                set_min * sets + down_min * clears + 2 * away_m / 75;
            assert_relative(plan->moves[m - 1].minutes, wanted, 1e-4);
            assert_near(plan->moves[m - 1].passes, 3 * sets + 4 * clears,
                        1e-12);
            sum += wanted;
        }
        assert_relative(plan->totals.minutes_per_move, sum / 30, 1e-4);
        assert_near(plan->totals.passes_per_move, (29 * 3 + 28 * 4) / 30.0,
                    1e-12);
        assert_int_equal(plan->fields[0].park.given, where);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void assert_score_is_the_plans(const struct fw_farm *farm)
{
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    if (fw_plan_compare(farm, &scores, &err))
        fail_msg("%s", err.text);
    struct fw_plan *plan = plan_of(farm);
    double sum = 0;
    size_t moves = 0;
    for (size_t i = 0; i < scores.count; i++) {
        const struct fw_plan_score *score = &scores.items[i];
        if (!score->chosen)
            continue;
        const struct fw_plan_field *field = &plan->fields[score->field];
        assert_string_equal(score->layout, field->layout);
        sum += score->minutes * (double)score->paddocks;
        moves += score->paddocks;
    }
    assert_int_equal(moves, plan->move_count);
    assert_relative(plan->totals.minutes_per_move, sum / (double)moves, 1e-9);
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

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static bool is_up(const struct fw_plan_fence *fence, size_t move)
{
    return fence->role != FW_FENCE_PERIMETER && fence->set_at <= move &&
           (fence->down_at == FW_NONE || fence->down_at >= move);
}

/* Within a hair of a line that stands, and not at one of its own ends. */
static bool lies_along_a_line(const struct fw_plan *plan,
                              const struct fw_plan_field *field,
                              struct fw_point at, size_t move)
{
    const double hair_m = 1e-6;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (!is_up(fence, move))
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

static int ties_in(const struct fw_plan *plan,
                   const struct fw_plan_field *field, size_t move)
{
    struct fw_point places[1024];
    int count = 0;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        for (int end = 0; end < 2 && is_up(fence, move); end++) {
            const struct fw_point at =
                field->vertices[fence->line[end ? fence->line_count - 1 : 0]]
                    .plane;
            bool known = fence->length_m < 10 ||
                         lies_along_a_line(plan, field, at, move);
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

static void assert_ties(const struct fw_plan *plan)
{
    int most = 0;
    for (size_t m = 0; m < plan->move_count; m++) {
        const int ties = ties_in(plan, &plan->fields[plan->moves[m].field], m);
        most = ties > most ? ties : most;
    }
    assert_int_equal(plan->totals.ties, most);
    assert_non_null(anchors(plan));
    assert_near(anchors(plan)->quantity, most, 0);
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
            size_t lines = 0;
            for (size_t m = 0, up; m < plan->move_count; m++) {
                up = 0;
                for (size_t i = 0; i < plan->fence_count; i++)
                    up += is_up(&plan->fences[i], m);
                lines = up > lines ? up : lines;
            }
            assert_ties(plan);
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
        cmocka_unit_test(every_pattern_costs_what_its_plan_says),
        cmocka_unit_test(strips_need_six_ties),
        cmocka_unit_test(ends_on_block_lines_need_no_anchor),
        cmocka_unit_test(short_slack_lines_need_no_anchor),
        cmocka_unit_test(the_least_width_follows_the_flock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
