/* Of the layouts that compare shows, the one that is chosen is the first in an
 * order made here anew, criterion by criterion; its figures are those of the
 * plan that is made by it. On farms at random. */
#include "random_plan.h"
#include "walk_judge.h"

enum { usual_farms = 70, few_farms = 50, criteria = 14 };

/* ---- the order ---- */

static double beyond(double needed, double owned)
{
    return fmax(0, needed - owned) / fmax(1, owned);
}

static double lack_of(const struct fw_farm *farm, const struct fw_kit *kit)
{
    return farm->kit_given ? beyond(kit->reels, farm->kit.reels) +
                                 beyond(kit->posts, farm->kit.posts) +
                                 beyond(kit->wire_m, farm->kit.wire_m)
                           : 0;
}

static double value_of(const struct fw_farm *farm,
                       const struct fw_plan_score *score)
{
    const double kit = score->kit.wire_m + 5.0 * score->kit.posts;
    switch (farm->prefer) {
    case FW_PREFER_WORK:
        return score->minutes;
    case FW_PREFER_FENCE:
        return score->line_m;
    case FW_PREFER_COST:
        return score->cost_known ? score->cost : kit;
    case FW_PREFER_WALK:
        return score->walk_m;
    case FW_PREFER_KIT:
        break;
    }
    return kit;
}

/* Each is the better the less it is; what comes first decides. */
static void rank(const struct fw_farm *farm, const struct fw_plan_score *score,
                 bool any_kit, double out[criteria])
{
    const bool limits = !farm->limits_off;
    const bool open_behind = limits && !farm->back_fence;
    const double reels = score->kit.reels - 2.0 * farm->moved.strands;
    const double again = fmax(0, (double)score->crossings - 1);
    const double all[criteria] = {
        (double)score->refused,
        (double)score->apart,
        (double)score->dry_nights,
        farm->far_first && !score->far_first,
        score->keep_short,
        open_behind ? (double)score->overlong : 0,
        open_behind && score->standing_m > 0,
        open_behind ? fmax(0, reels) : 0,
        any_kit ? 0 : lack_of(farm, &score->kit),
        limits && score->lost > 0.05,
        limits ? (double)(score->beyond_limits + score->narrow) + again : 0,
        (double)score->unfed,
        value_of(farm, score),
        score->line_m,
    };
    memcpy(out, all, sizeof all);
}

/* What differs by a hair decides or not, as sums are rounded: then neither. */
static bool comes_before(const double *a, const double *b)
{
    for (size_t i = 0; i < criteria; i++) {
        const double apart = fabs(a[i] - b[i]);
        const double all = fmax(1, fmax(fabs(a[i]), fabs(b[i])));
        if (apart > 1e-10 * all)
            return apart > 1e-7 * all && a[i] < b[i];
    }
    return false;
}

static void look_at_order(const struct fw_farm *farm,
                          const struct fw_plan_score *scores, size_t count)
{
    size_t chosen = FW_NONE, wished = FW_NONE;
    for (size_t i = 0; i < count; i++) {
        assert_true(!scores[i].chosen || chosen == FW_NONE);
        assert_true(!scores[i].wished || wished == FW_NONE);
        chosen = scores[i].chosen ? i : chosen;
        wished = scores[i].wished ? i : wished;
        assert_int_equal(scores[i].fits_kit,
                         !(lack_of(farm, &scores[i].kit) > 0));
    }
    assert_true(chosen != FW_NONE && wished != FW_NONE);
    for (int any_kit = 0; any_kit < 2; any_kit++) {
        double best[criteria], other[criteria];
        rank(farm, &scores[any_kit ? wished : chosen], any_kit, best);
        for (size_t i = 0; i < count; i++) {
            rank(farm, &scores[i], any_kit, other);
            if (comes_before(other, best))
                fail_msg("%s comes before %s", scores[i].layout,
                         scores[any_kit ? wished : chosen].layout);
        }
    }
}

/* Another one is as good in all of it and better in some. */
static bool is_beaten(const struct fw_plan_score *a,
                      const struct fw_plan_score *b)
{
    const double pairs[][2] = {
        {a->minutes, b->minutes},
        {a->line_m, b->line_m},
        {a->standing_m, b->standing_m},
        {a->kit.wire_m, b->kit.wire_m},
        {a->kit.posts, b->kit.posts},
        {a->walk_low_m, b->walk_low_m},
        {a->elongation, b->elongation},
        {(double)a->beyond_limits, (double)b->beyond_limits},
        {(double)a->apart, (double)b->apart},
        {a->lost, b->lost},
        {a->crossed_m, b->crossed_m},
        {(double)a->dry_nights, (double)b->dry_nights},
        {(double)a->unfed, (double)b->unfed},
        {(double)a->narrow, (double)b->narrow},
    };
    size_t worse = 0, better = 0;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        better += pairs[i][0] < pairs[i][1];
        worse += pairs[i][0] > pairs[i][1];
    }
    return worse > 0 && better == 0;
}

static void look_at_beaten(const struct fw_plan_score *scores, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool beaten = false;
        for (size_t k = 0; k < count; k++)
            beaten |= is_beaten(&scores[i], &scores[k]);
        assert_int_equal(scores[i].unbeaten, !beaten);
    }
}

/* ---- the figures of the chosen one ---- */

static double least_width_m(const struct fw_farm *farm)
{
    int head = 0;
    bool at_foot = false;
    for (size_t i = 0; i < farm->class_count; i++) {
        head += farm->classes[i].head;
        at_foot |=
            fw_flock_row(farm->classes[i].state)->lambs == FW_LAMBS_AT_FOOT;
    }
    return head > 200 || at_foot ? 20 : head < 30 ? 10 : 15;
}

static void look_at_lines(const struct fw_farm *farm,
                          const struct fw_plan *plan,
                          const struct fw_plan_score *score)
{
    const struct fw_plan_field *field = &plan->fields[score->field];
    const struct fw_fence_spec *spec = &farm->moved;
    const double wires = spec->out_and_back && spec->strands > 1 ? 2 : 1;
    double longest_m = 0, pace_m = 0;
    size_t overlong = 0;
    for (size_t i = 0; i < field->fence_count; i++) {
        const struct fw_plan_fence *fence =
            &plan->fences[field->first_fence + i];
        if (fence->role == FW_FENCE_PERIMETER)
            continue;
        longest_m = fmax(longest_m, fence->length_m);
        if (fence->role == FW_FENCE_MOVED)
            pace_m = fmax(pace_m, fence->length_m);
        overlong +=
            wires * fence->length_m * (1 + spec->slack) > 2 * spec->reel_m;
    }
    assert_near(score->longest_run_m, longest_m, 1e-4 * longest_m);
    assert_int_equal(score->overlong, overlong);
    const double share = pace_m * farm->pace_m * field->usable_kg_ha / 1e4 /
                         plan->flock.demand_kg_day;
    assert_near(score->pace_share, share, 1e-4 * share);
}

static bool is_within(const struct fw_point *points, const size_t *ring_start,
                      size_t rings, struct fw_point at)
{
    bool within = false;
    for (size_t r = 0; r < rings; r++)
        within ^= fw_ring_contains(points + ring_start[r],
                                   ring_start[r + 1] - ring_start[r], at);
    return within;
}

/* Where that is not in the paddock: in the middle of the longest row of places
 * that are, on the line from west to east there. */
static struct fw_point in_paddock(const struct fw_point *points,
                                  const size_t *ring_start, size_t rings,
                                  struct fw_point middle)
{
    const double step_m = 0.02;
    double west_m = HUGE_VAL, east_m = -HUGE_VAL, begun_m = 0, longest_m = 0;
    struct fw_point found = middle;
    bool before = false;
    if (is_within(points, ring_start, rings, middle))
        return middle;
    for (size_t i = 0; i < ring_start[rings]; i++) {
        west_m = fmin(west_m, points[i].x_m);
        east_m = fmax(east_m, points[i].x_m);
    }
    for (double x_m = west_m; x_m < east_m + 2 * step_m; x_m += step_m) {
        const bool within = is_within(points, ring_start, rings,
                                      (struct fw_point){x_m, middle.y_m});
        if (within && !before)
            begun_m = x_m;
        if (before && !within && x_m - begun_m > longest_m) {
            longest_m = x_m - begun_m;
            found.x_m = (begun_m + x_m - step_m) / 2;
        }
        before = within;
    }
    return found;
}

/* Straight to the water, or to the middle of the paddock's corners, over a
 * dense net of its ground. */
static double walk_low_m(const struct fw_farm *farm,
                         const struct fw_farm_field *from,
                         const struct fw_plan_field *field,
                         const struct fw_plan_paddock *paddock)
{
    const size_t all = paddock->rings.ring_start[paddock->rings.ring_count];
    const size_t count = paddock->rings.ring_start[1];
    struct fw_point *points = calloc(all, sizeof *points);
    struct fw_point middle = {0, 0};
    for (size_t i = 0; i < all; i++) {
        points[i] = field->vertices[paddock->rings.vertices[i]].plane;
        if (i < count) {
            middle.x_m += points[i].x_m / (double)count;
            middle.y_m += points[i].y_m / (double)count;
        }
    }
    middle = in_paddock(points, paddock->rings.ring_start,
                        paddock->rings.ring_count, middle);
    struct walk_judge within = {0};
    judge_put_edges(&within, points, paddock->rings.ring_start,
                    paddock->rings.ring_count);
    double low_m = HUGE_VAL;
    if (from->water.given)
        low_m = judge_straight_m(&within, from->water.point, 400, 100);
    if (!from->water.given || farm->water_moves)
        low_m = fmin(low_m, judge_straight_m(&within, middle, 400, 100));
    judge_release(&within);
    free(points);
    return low_m;
}

static void look_at_paddocks(const struct fw_farm *farm,
                             const struct fw_plan *plan,
                             const struct fw_plan_score *score)
{
    const struct fw_plan_field *field = &plan->fields[score->field];
    double width_m = HUGE_VAL, longer = 0, low_m3 = 0, walk_m3 = 0, m2 = 0,
           lanes_m2 = 0;
    size_t broken = 0, necks = 0;
    bool plain = true, fixed = true;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        const double width = sqrt(paddock->plane_m2 / paddock->elongation);
        plain &= paddock->pieces == 1;
        width_m = fmin(width_m, width);
        longer = fmax(longer, paddock->elongation);
        low_m3 += paddock->plane_m2 *
                  walk_low_m(farm, &farm->fields[score->field], field, paddock);
        walk_m3 += paddock->plane_m2 * paddock->walk_mean_m;
        m2 += paddock->plane_m2;
        fixed &= paddock->walk_known && paddock->water != FW_NONE &&
                 strcmp(plan->waters[paddock->water].kind_of, "fixed") == 0;
        necks += paddock->narrow_m > 0;
        if (i + 1 < field->paddock_count)
            broken += width < least_width_m(farm) ||
                      paddock->elongation > farm->longest_shape;
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == score->field)
            lanes_m2 += plan->lanes[i].plane_m2;
    assert_true(score->narrow >= necks);
    assert_near(score->lost, lanes_m2 / field->plane_m2, 1e-6);
    if (!plain)
        return;
    assert_relative(score->width_m, width_m, 1e-6);
    assert_relative(score->elongation, longer, 1e-6);
    assert_relative(score->walk_low_m, low_m3 / m2, 2e-3);
    if (fixed && score->walk_exact)
        assert_relative(score->walk_m, walk_m3 / m2, 1e-4);
    if (score->walk_exact) {
        assert_true(score->walk_m > score->walk_low_m * (1 - 1e-9) ||
                    farm->water_moves);
        assert_true(score->walk_m > score->walk_bound_m);
        assert_near(score->walk_high_m, score->walk_m, 0);
    } else {
        assert_near(score->walk_m, score->walk_low_m, 0);
        assert_true(score->walk_high_m > score->walk_low_m * (1 - 1e-9));
    }
    if (farm->back_fence)
        assert_int_equal(score->beyond_limits,
                         broken + score->overlong + (score->lost > 0.05));
}

static void look_at_chosen(const struct fw_farm *farm,
                           const struct fw_plan *plan,
                           const struct fw_plan_score *score)
{
    const struct fw_prices *prices = &farm->prices;
    const struct fw_plan_field *field = &plan->fields[score->field];
    const bool known =
        prices->reel >= 0 && prices->post >= 0 && prices->wire_m >= 0;
    assert_int_equal(score->cost_known, known);
    assert_near(score->cost,
                known ? score->kit.reels * prices->reel +
                            score->kit.posts * prices->post +
                            score->kit.wire_m * prices->wire_m
                      : 0,
                1e-6);
    if (farm->work_told)
        assert_int_equal(score->set_first,
                         farm->work_order == FW_WORK_SET_FIRST);
    assert_string_equal(field->layout, score->layout);
    assert_int_equal(field->far_first, score->far_first);
    look_at_lines(farm, plan, score);
    look_at_paddocks(farm, plan, score);
}

/* ---- all of it ---- */

static void look_at_scores(const struct fw_farm *farm,
                           const struct fw_plan_scores *scores,
                           const struct fw_plan *plan)
{
    for (size_t i = 0, next; i < scores->count; i = next) {
        for (next = i; next < scores->count &&
                       scores->items[next].field == scores->items[i].field;)
            next++;
        look_at_order(farm, &scores->items[i], next - i);
        look_at_beaten(&scores->items[i], next - i);
        for (size_t k = i; k < next; k++)
            if (scores->items[k].chosen)
                look_at_chosen(farm, plan, &scores->items[k]);
    }
    size_t unplanned = 0, places = 0;
    double ha = 0;
    for (size_t i = 0; i < plan->water_count; i++)
        places += strcmp(plan->waters[i].kind_of, "source") != 0;
    for (size_t i = 0; i < plan->paddock_count; i++)
        ha += plan->paddocks[i].area_ha;
    if (plan->totals.walk_known) {
        assert_relative(plan->totals.walk_bound_m,
                        0.376126 * sqrt(1e4 * ha / (double)places), 1e-5);
        assert_true(plan->totals.walk_mean_m > plan->totals.walk_bound_m);
    }
    for (size_t i = 0; i < plan->field_count; i++)
        unplanned += plan->fields[i].no_plan != NULL;
    assert_int_equal(scores->unplanned.count, unplanned);
}

static void the_first_in_order_is_chosen(void **state)
{
    (void)state;
    uint64_t seed = seeded(3);
    const size_t farms = getenv("FW_THOROUGH") ? usual_farms : few_farms;
    size_t made = 0, many = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_farm(&seed);
        struct fw_plan_scores scores = {0};
        farm->prefer =
            (enum fw_prefer)draw_count(&seed, FW_PREFER_WORK, FW_PREFER_WALK);
        farm->limits_off = chance(&seed, 0.2);
        farm->far_first = chance(&seed, 0.2);
        struct fw_plan *plan = plan_at_random(farm);
        struct fw_error err = {0};
        assert_int_equal(fw_plan_compare(farm, &scores, &err) == FW_OK,
                         plan != NULL);
        if (plan)
            look_at_scores(farm, &scores, plan);
        made += plan != NULL;
        many += scores.count;
        fw_plan_scores_release(&scores);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu plans, %zu candidates\n", made, many);
    assert_true(made > farms / 2 && many > 3 * made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_in_order_is_chosen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
