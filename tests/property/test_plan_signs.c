/* Warning signs by brute force: each fence is walked in steps of some
 * centimetres beside a road or path at random, and what is near it has a sign
 * at both ends and as often between as the interval says. */
#include "random_plan.h"

enum { farms = 60, most_parts = 16 };

static const double step_m = 0.05, reach_m = 5, off_m = 0.25;

struct part {
    double from_m, to_m;
};

struct parts {
    struct part items[most_parts];
    size_t count;
    double all_m; /* of what was walked */
};

struct road {
    struct fw_point points[3];
    size_t count;
    double gap_m;
};

static double away_m(const struct road *road, struct fw_point at)
{
    double least_m = HUGE_VAL;
    for (size_t i = 1; i < road->count; i++)
        least_m = fmin(least_m, fw_segment_distance_m(at, road->points[i - 1],
                                                      road->points[i]));
    return least_m;
}

static void take(struct parts *parts, double from_m, double to_m, double gap_m)
{
    struct part *last = &parts->items[parts->count - (parts->count > 0)];
    if (parts->count > 0 && from_m <= last->to_m + gap_m) {
        last->to_m = fmax(last->to_m, to_m);
        return;
    }
    assert_true(parts->count < most_parts);
    parts->items[parts->count++] = (struct part){from_m, to_m};
}

/* One fence more, end to end with those before. */
static void walk(const struct fw_plan *plan, const struct fw_plan_fence *fence,
                 const struct road *road, struct parts *parts)
{
    const struct fw_vertex *vertices = plan->fields[fence->field].vertices;
    for (size_t i = 1; i < fence->line_count; i++) {
        const struct fw_point a = vertices[fence->line[i - 1]].plane;
        const struct fw_point b = vertices[fence->line[i]].plane;
        const double long_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        const int steps = 1 + (int)(long_m / step_m);
        for (int k = 0; k <= steps; k++) {
            const double t = (double)k / steps;
            const struct fw_point at = {a.x_m + t * (b.x_m - a.x_m),
                                        a.y_m + t * (b.y_m - a.y_m)};
            const double m = parts->all_m + t * long_m;
            if (away_m(road, at) <= reach_m)
                take(parts, m, m, road->gap_m);
        }
        parts->all_m += long_m;
    }
}

/* As good as on a limit, which so coarse a walk cannot tell. */
static bool is_close(double m, double limit_m)
{
    return fabs(m - limit_m) < off_m;
}

static bool is_doubtful(double long_m, double gap_m)
{
    return long_m < 2 * off_m ||
           is_close(long_m, gap_m * round(long_m / gap_m)) ||
           is_close(long_m, 2 * reach_m);
}

static int signs_on(double long_m, double gap_m)
{
    return (int)ceil(long_m / gap_m) + 1;
}

/* ---- moved lines ---- */

/* The places; negative: it cannot be told. */
static int places_on(const struct fw_plan *plan, size_t index,
                     const struct road *road, double places_m[64])
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    struct parts parts = {.count = 0};
    int count = 0;
    walk(plan, fence, road, &parts);
    for (size_t i = 0; i < parts.count; i++) {
        const struct part *part = &parts.items[i];
        const double long_m = part->to_m - part->from_m;
        const bool first = part->from_m <= 0;
        const bool end = first || part->to_m >= parts.all_m - 1e-9;
        if (is_doubtful(long_m, road->gap_m))
            return -1;
        if (end && long_m <= 2 * reach_m) {
            /* The boundary's own signs are there, if it is live. */
            const size_t vertex =
                fence->line[first ? 0 : fence->line_count - 1];
            if (fw_plan_hot_at(plan, fence->field, vertex) == FW_NO)
                places_m[count++] = first ? 0 : parts.all_m;
            continue;
        }
        const int signs = signs_on(long_m, road->gap_m);
        for (int k = 0; k < signs; k++)
            places_m[count++] = part->from_m + long_m * k / (signs - 1);
    }
    return count;
}

static int told_on(const struct fw_plan *plan, size_t index, double told_m[64])
{
    int count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        if (plan->posts[i].fence == index && plan->posts[i].why == FW_POST_SIGN)
            told_m[count++] = plan->posts[i].at_m;
    return count;
}

static int look_at_line(const struct fw_plan *plan, size_t index,
                        const struct road *road)
{
    double wanted_m[64], told_m[64];
    const int wanted = places_on(plan, index, road, wanted_m);
    const int told = told_on(plan, index, told_m);
    if (wanted < 0)
        return told;
    if (told != wanted)
        fail_msg("%s has %d signs; expected %d", plan->fences[index].id, told,
                 wanted);
    for (int i = 0; i < wanted; i++)
        assert_near(told_m[i], wanted_m[i], off_m);
    return told;
}

/* ---- the boundary ---- */

/* Of live sides end to end; all round when they are all. Negative: it cannot be
 * told. */
static int signs_of_chain(struct parts *parts, bool closed, double gap_m)
{
    int signs = 0;
    if (parts->count == 0)
        return 0;
    struct part *first = &parts->items[0];
    const double gap_round_m =
        first->from_m + parts->all_m - parts->items[parts->count - 1].to_m;
    for (size_t i = 1; i < parts->count; i++)
        if (is_close(parts->items[i].from_m - parts->items[i - 1].to_m, gap_m))
            return -1;
    if (closed && is_close(gap_round_m, gap_m))
        return -1;
    if (closed && gap_round_m <= gap_m && parts->count == 1)
        return is_doubtful(parts->all_m, gap_m)
                   ? -1
                   : signs_on(parts->all_m, gap_m) - 1;
    if (closed && gap_round_m <= gap_m) {
        first->from_m = parts->items[--parts->count].from_m - parts->all_m;
    }
    for (size_t i = 0; i < parts->count; i++) {
        const double long_m = parts->items[i].to_m - parts->items[i].from_m;
        if (is_doubtful(long_m, gap_m))
            return -1;
        signs += signs_on(long_m, gap_m);
    }
    return signs;
}

static const struct fw_plan_fence *side_of(const struct fw_plan *plan,
                                           size_t side)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_PERIMETER &&
            plan->fences[i].side == side)
            return &plan->fences[i];
    fail_msg("no side %zu", side + 1);
    return NULL;
}

static int signs_of_boundary(const struct fw_plan *plan,
                             const struct road *road)
{
    const struct fw_plan_field *field = &plan->fields[0];
    const size_t count = field->corner_count;
    size_t cold = count;
    int all = 0;
    for (size_t i = 0; i < count; i++)
        if (field->sides[i].hot == FW_NO)
            cold = i;
    struct parts parts = {.count = 0};
    for (size_t i = 0; i < count; i++) {
        const size_t side = cold == count ? i : (cold + 1 + i) % count;
        if (field->sides[side].hot != FW_NO)
            walk(plan, side_of(plan, side), road, &parts);
        if (field->sides[side].hot == FW_NO || i + 1 == count) {
            const int here = signs_of_chain(&parts, cold == count, road->gap_m);
            if (here < 0)
                return -1;
            all += here;
            parts = (struct parts){.count = 0};
        }
    }
    return all;
}

/* ---- all of a plan ---- */

static int look_at_boundary(const struct fw_plan *plan, const struct road *road)
{
    const int wanted = signs_of_boundary(plan, road);
    int told = 0;
    double told_m[64];
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            told += told_on(plan, i, told_m);
    if (wanted >= 0 && told != wanted)
        fail_msg("the boundary has %d signs; expected %d", told, wanted);
    return told;
}

/* Those of the boundary, and the most of the lines that stand at once. */
static int most_at_once(const struct fw_plan *plan, int boundary)
{
    int hanging = 0, most = 0;
    double told_m[64];
    for (size_t i = 0; i < plan->time.step_count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        for (size_t k = 0; k < step->lines.count; k++) {
            const int signs =
                told_on(plan, plan->time.items[step->lines.first + k], told_m);
            hanging += step->kind == FW_STEP_SET         ? signs
                       : step->kind == FW_STEP_TAKE_DOWN ? -signs
                                                         : 0;
        }
        most = hanging > most ? hanging : most;
    }
    return boundary + most;
}

static void look_at_plan(const struct fw_plan *plan, const struct road *road)
{
    const int boundary = look_at_boundary(plan, road);
    double listed = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role != FW_FENCE_PERIMETER)
            look_at_line(plan, i, road);
    for (size_t i = 0; i < plan->material_count; i++)
        if (!strncmp(plan->materials[i].item, "warning sign", 12))
            listed = plan->materials[i].quantity;
    assert_near(listed, most_at_once(plan, boundary), 0);
}

/* ---- roads at random ---- */

static void draw_road(uint64_t *seed, struct fw_farm *farm, struct road *road)
{
    const double d = draw(seed, 0.5, 4.5), x = draw(seed, 0, 280);
    const double y = draw(seed, 5, 180);
    double xy[3][2] = {{-20, y}, {340, draw(seed, 5, 180)}, {0, 0}};
    size_t count = 2;
    switch (draw_count(seed, 0, 4)) {
    case 0: /* along the lower side */
        xy[0][0] = x;
        xy[1][0] = x + draw(seed, 20, 120);
        xy[0][1] = xy[1][1] = -d;
        break;
    case 1: /* round a corner */
        xy[0][0] = 300 - draw(seed, 10, 200);
        xy[0][1] = xy[1][1] = -d;
        xy[1][0] = xy[2][0] = 300 + d;
        xy[2][1] = draw(seed, 20, 190);
        count = 3;
        break;
    case 2: /* along the moved lines */
        xy[0][0] = x;
        xy[1][0] = x + draw(seed, -3, 3);
        xy[0][1] = chance(seed, 0.5) ? -10 : draw(seed, 20, 60);
        xy[1][1] = chance(seed, 0.5) ? 210 : draw(seed, 90, 190);
        break;
    case 3: /* square on, near a corner */
        xy[0][0] = xy[1][0] = chance(seed, 0.5) ? d : 300 - d;
        xy[0][1] = -30;
        xy[1][1] = -draw(seed, 1, 4);
        break;
    default: /* across */
        break;
    }
    const bool path = chance(seed, 0.5);
    const double told_m = chance(seed, 0.5) ? draw(seed, 8, 60) : 0;
    *(path ? &farm->sign_path_m : &farm->sign_road_m) = told_m;
    add_feature(farm, path ? FW_ROLE_PATH : FW_ROLE_ROAD, false,
                (const double(*)[2])xy, count);
    *road = (struct road){.count = count,
                          .gap_m = told_m > 0 ? told_m
                                   : path     ? 50
                                              : 90};
    for (size_t i = 0; i < count; i++)
        road->points[i] = fw_plane_forward(&farm->fields[0].shape->plane,
                                           farm->features[0].points[i]);
}

static void signs_hang_as_often_as_the_interval_says(void **state)
{
    (void)state;
    uint64_t seed = seeded(304);
    size_t signs = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm =
            farm_of(chance(&seed, 0.7) ? &rectangle : &leaning, NULL);
        struct road road;
        farm->classes[0].head = 400;
        farm->layout = fw_strdup("strips");
        farm->direction_given = true;
        for (size_t k = 0; k < farm->fields[0].shape->corner_count; k++)
            farm->fields[0].sides[k].hot = chance(&seed, 0.7) ? FW_YES : FW_NO;
        if (chance(&seed, 0.5))
            for (size_t k = 0; k < farm->fields[0].shape->corner_count; k++)
                farm->fields[0].sides[k].hot = FW_YES;
        draw_road(&seed, farm, &road);
        struct fw_plan *plan = plan_of(farm);
        look_at_plan(plan, &road);
        for (size_t k = 0; k < plan->post_count; k++)
            signs += plan->posts[k].why == FW_POST_SIGN;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu signs\n", signs);
    assert_true(signs > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(signs_hang_as_often_as_the_interval_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
