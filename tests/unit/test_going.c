/* A field of 300 x 200 m in strips of 10 m, a day each, gone on from on its
 * first day: where every fence comes to stand can be reckoned by hand. */
#include "plan_help.h"
#include "scratch.h"
#include "table.h"

#include "geo/points.h"
#include "log/log.h"
#include "plan/place.h"

static const double wide_m = 200, strip_m2 = 2000;
/* The system's metres are those of its centre, the field's those of its own:
 * half a millionth of the field. */
static const double off_m2 = 0.05;

static double table_kg_ha; /* that stands, by the example at hand */

static struct fw_farm *strips(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* its fences run north */
    return farm;
}

/* The first move is made, and what is said here happened. */
static struct fw_plan *gone_on(struct fw_farm *farm, struct fw_plan_on on)
{
    struct fw_plan *from = plan_of(farm), *to = NULL;
    struct fw_error err;
    assert_int_equal(from->paddock_count, 30);
    on.from = from;
    on.move = 0;
    on.day = from->time.moves[1].day;
    on.base = on.season ? from : NULL;
    if (fw_plan_go_on(farm, &on, &to, &err))
        fail_msg("%s", err.text);
    fw_plan_free(from);
    return to;
}

static size_t fence_named(const struct fw_plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->fence_count; i++)
        if (strcmp(plan->fences[i].id, id) == 0)
            return i;
    fail_msg("no fence %s", id);
    return FW_NONE;
}

/* The paddocks from that one on, each as large as the next number says, the
 * last number as often as there are more. */
static void has_areas(const struct fw_plan *plan, const double *m2,
                      size_t count, size_t paddocks)
{
    double sum = 0;
    assert_int_equal(plan->paddock_count, paddocks);
    for (size_t i = 0; i < paddocks; i++) {
        if (i < count)
            assert_near(plan->paddocks[i].plane_m2, m2[i], 0.01);
        sum += plan->paddocks[i].plane_m2;
    }
    assert_near(sum, plan->fields[0].plane_m2, 1e-6);
}

static void done(struct fw_plan *plan, struct fw_farm *farm)
{
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A02-03 4 m farther: A02 has 14 m, and 276 m are 27 strips and one of 6 m. */
static void a_fence_set_farther_is_where_the_rest_begins(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *base = plan_of(farm);
    const size_t fence = fence_named(base, "A02-03");
    fw_plan_free(base);
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = fence, .on_m = {4, 4}});
    const double m2[] = {strip_m2, 14 * wide_m, strip_m2, strip_m2, strip_m2};
    has_areas(plan, m2, 5, 30);
    assert_near(plan->paddocks[28].plane_m2, strip_m2, 0.01);
    assert_near(plan->paddocks[29].plane_m2, 6 * wide_m, off_m2);
    assert_near(plan->paddocks[29].stay_days, 0.6, 1e-4);
    assert_near(plan->paddocks[2].usable_kg, 160, 1e-6);
    done(plan, farm);
}

/* Askew, 4 m farther at A alone: A02 has 12 m on average, the same is left. */
static void a_fence_set_askew_is_straightened(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *base = plan_of(farm);
    const size_t fence = fence_named(base, "A02-03");
    fw_plan_free(base);
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = fence, .on_m = {4, 0}});
    const double m2[] = {strip_m2, 12 * wide_m, strip_m2, strip_m2, strip_m2};
    has_areas(plan, m2, 5, 30);
    assert_near(plan->paddocks[29].plane_m2, 0.8 * strip_m2, off_m2);
    const struct fw_plan_fence *front = &plan->fences[fence];
    assert_near(front->length_m, sqrt(wide_m * wide_m + 16), 0.01);
    const struct fw_plan_fence *last =
        &plan->fences[fence_named(plan, "A29-30")];
    assert_near(last->length_m, wide_m, 0.01);
    done(plan, farm);
}

/* A02-03 stands; 280 m in strips of 12.5 m are 22.4: spread over 22. */
static void thinner_grass_takes_more_ground(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    const double size[] = {1.25};
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = FW_NONE, .size = size});
    const double even_m2 = 280.0 / 22 * wide_m;
    const double m2[] = {strip_m2, strip_m2, even_m2, even_m2, even_m2};
    has_areas(plan, m2, 5, 24);
    assert_near(plan->paddocks[23].plane_m2, even_m2, 0.01);
    assert_near(plan->paddocks[5].usable_kg, 160 * 22.4 / 22, 1e-3);
    assert_near(plan->paddocks[1].stay_days, 0.8, 1e-9);
    done(plan, farm);
}

/* A field that ends in a gable at either end, 12 m deep, gone on
 * from with thinner grass: what is
 * left is shared by as many, gables and all, and each is ground in one piece.
 */
static void share_out(const struct outline *outline, double all_m2)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    struct fw_plan *from = plan_of(farm), *plan = NULL;
    const double size[] = {1.25};
    struct fw_error err;
    const struct fw_plan_on on = {.from = from,
                                  .move = 0,
                                  .day = from->time.moves[1].day,
                                  .fence = FW_NONE,
                                  .size = size};
    if (fw_plan_go_on(farm, &on, &plan, &err))
        fail_msg("%s", err.text);
    double sum_m2 = 0;
    assert_true(plan->paddock_count < from->paddock_count);
    for (size_t i = 0; i < plan->paddock_count; i++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[i];
        const struct fw_plan_rings *rings = &paddock->rings;
        assert_int_equal(rings->ring_count, 1);
        double twice_m2 = 0;
        for (size_t k = 0; k < rings->ring_start[1]; k++) {
            const struct fw_vertex *vertices = plan->fields[0].vertices;
            const struct fw_point a = vertices[rings->vertices[k]].plane;
            const struct fw_point b =
                vertices[rings->vertices[(k + 1) % rings->ring_start[1]]].plane;
            twice_m2 += a.x_m * b.y_m - b.x_m * a.y_m;
        }
        assert_near(twice_m2 / 2, paddock->plane_m2, 1e-6);
        if (i >=
            2) /* what stands stays, and the rest is as large as each other */
            assert_near(paddock->plane_m2, plan->paddocks[2].plane_m2, 0.05);
        sum_m2 += paddock->plane_m2;
    }
    assert_near(sum_m2, all_m2, 1);
    fw_plan_free(from);
    done(plan, farm);
}

static void gables_are_shared_out_too(void **state)
{
    (void)state;
    static const struct outline gables = {
        6, {{0, 0}, {300, 0}, {312, 100}, {300, 200}, {0, 200}, {-12, 100}}, 0};
    share_out(&gables, 300 * wide_m + 12 * wide_m);
}

/* A tongue of other ground reaches 150 m into the field. Round its tip one end
 * of a fence may go on along the side, but not so far that the fence leads over
 * it.
 */
static void a_fence_over_other_ground_is_refused(void **state)
{
    (void)state;
    static const struct outline tongue = {7,
                                          {{0, 0},
                                           {145, 0},
                                           {150, 150},
                                           {155, 0},
                                           {300, 0},
                                           {300, 200},
                                           {0, 200}},
                                          0};
    struct fw_farm *farm = farm_of(&tongue, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    struct fw_plan *from = plan_of(farm), *to = NULL;
    size_t best = FW_NONE, move = 0;
    double best_m = HUGE_VAL, low = HUGE_VAL;
    for (size_t i = 0; i < from->fields[0].vertex_count; i++)
        low = fmin(low, from->fields[0].vertices[i].plane.x_m);
    for (size_t i = 0; i < from->fence_count; i++) {
        const struct fw_plan_fence *fence = &from->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const double x_m =
            from->fields[0].vertices[fence->line[0]].plane.x_m - low;
        if (x_m < 145 && fabs(x_m - 138) < best_m) {
            best_m = fabs(x_m - 138);
            best = i;
        }
    }
    assert_true(best != FW_NONE);
    while (from->time.stays[from->time.moves[move].stay].cell + 1 <
           from->fences[best].from)
        move++;
    for (int over = 0; over < 2; over++)
        for (int end = 0; end < 2; end++) {
            struct fw_error err = {0};
            const struct fw_plan_on on = {.from = from,
                                          .move = move,
                                          .day = from->time.moves[move + 1].day,
                                          .fence = best,
                                          .on_m = {end    ? 3
                                                   : over ? 312
                                                          : 3,
                                                   end ? over ? 312 : 3 : 3}};
            const enum fw_status status = fw_plan_go_on(farm, &on, &to, &err);
            assert_int_equal(status, over ? FW_EINPUT : FW_OK);
            if (over)
                assert_non_null(strstr(err.text, "would cross ground"));
            if (!status)
                fw_plan_free(to);
        }
    done(from, farm);
}

/* The second of two fields by itself is thinner: its fences are needed in its
 * own order, the first for its first paddock. */
static void a_later_field_has_an_order_of_its_own(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, &rectangle);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    struct fw_plan *from = plan_of(farm), *plan = NULL;
    const double size[] = {1, 1.25};
    struct fw_error err;
    const struct fw_plan_on on = {.from = from,
                                  .move = 0,
                                  .day = from->time.moves[1].day,
                                  .fence = FW_NONE,
                                  .size = size};
    if (fw_plan_go_on(farm, &on, &plan, &err))
        fail_msg("%s", err.text);
    assert_true(plan->fields[1].paddock_count < from->fields[1].paddock_count);
    for (size_t f = 0; f < 2; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        size_t next = 0;
        for (size_t k = 0; k < field->fence_count; k++) {
            const struct fw_plan_fence *fence =
                &plan->fences[field->first_fence + k];
            if (fence->role == FW_FENCE_MOVED)
                assert_int_equal(fence->rank, next++);
        }
        assert_int_equal(next, field->paddock_count - 1);
    }
    fw_plan_free(from);
    done(plan, farm);
}

/* Fences that run north or east, so that each side of the field has ends on it:
 * in its file they stand on the straight line between its corners. */
static void ends_stand_on_the_line_of_the_file(void **state)
{
    (void)state;
    for (int turn = 0; turn < 4; turn++) {
        struct fw_farm *farm = strips();
        farm->direction_deg = turn % 2 ? 90 : 0;
        const double size[] = {turn < 2 ? 0.9 : 1.25};
        struct fw_plan *plan =
            gone_on(farm, (struct fw_plan_on){.fence = FW_NONE, .size = size});
        const struct fw_plan_field *field = &plan->fields[0];
        assert_int_equal(field->corner_count, 4);
        for (size_t k = 0; k < plan->fence_count; k++) {
            const struct fw_plan_fence *fence = &plan->fences[k];
            for (size_t e = 0; fence->role == FW_FENCE_MOVED && e < 2; e++) {
                const struct fw_xy at =
                    field->vertices[fence->line[e ? fence->line_count - 1 : 0]]
                        .file;
                double off = HUGE_VAL;
                for (size_t c = 0; c < 4; c++) {
                    const struct fw_xy a =
                        field->vertices[field->corners[c]].file;
                    const struct fw_xy b =
                        field->vertices[field->corners[(c + 1) % 4]].file;
                    off = fmin(off, fabs((b.x - a.x) * (at.y - a.y) -
                                         (b.y - a.y) * (at.x - a.x)) /
                                        hypot(b.x - a.x, b.y - a.y));
                }
                assert_near(off, 0, 1e-8);
            }
        }
        done(plan, farm);
    }
}

static bool lies_on(const struct fw_plan *plan,
                    const struct fw_plan_paddock *paddock, struct fw_point at)
{
    const struct fw_plan_rings *rings = &paddock->rings;
    const struct fw_vertex *vertices = plan->fields[paddock->field].vertices;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t start = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - start;
        for (size_t i = 0; i < count; i++)
            if (fw_segment_distance_m(
                    at, vertices[rings->vertices[start + i]].plane,
                    vertices[rings->vertices[start + (i + 1) % count]].plane) <
                1e-3)
                return true;
    }
    return false;
}

/* Of blocks that are cut anew: a line that parts two knows the first and the
 * last paddock that lie along it. */
static void lines_between_blocks_know_who_lies_along_them(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("blocks");
    farm->season = FW_SEASON_GROWTH;
    struct fw_plan *from = plan_of(farm), *plan = NULL;
    const double size[] = {1.25};
    struct fw_error err;
    const struct fw_plan_on on = {.from = from,
                                  .move = 0,
                                  .day = from->time.moves[1].day,
                                  .fence = FW_NONE,
                                  .size = size};
    if (fw_plan_go_on(farm, &on, &plan, &err))
        fail_msg("%s", err.text);
    size_t lines = 0;
    for (size_t k = 0; k < plan->fence_count; k++) {
        const struct fw_plan_fence *fence = &plan->fences[k];
        if (fence->role != FW_FENCE_STANDING)
            continue;
        size_t least = FW_NONE, most = FW_NONE;
        for (size_t i = 0; i < plan->paddock_count; i++)
            for (size_t v = 0; v + 1 < fence->line_count; v++) {
                const struct fw_vertex *vertices = plan->fields[0].vertices;
                const struct fw_point a = vertices[fence->line[v]].plane;
                const struct fw_point b = vertices[fence->line[v + 1]].plane;
                if (!lies_on(plan, &plan->paddocks[i],
                             fw_point_between(a, b, 0.5)))
                    continue;
                least = least == FW_NONE ? i : least;
                most = i;
            }
        assert_int_equal(fence->from, least);
        assert_int_equal(fence->to, most);
        lines++;
    }
    assert_true(lines > 0);
    fw_plan_free(from);
    done(plan, farm);
}

/* 280 m in strips of 9 m are 31.1: spread over 31, whose names go on. */
static void thicker_grass_takes_less_and_makes_more_paddocks(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    const double size[] = {0.9};
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = FW_NONE, .size = size});
    const double even_m2 = 280.0 / 31 * wide_m;
    const double m2[] = {strip_m2, strip_m2, even_m2, even_m2};
    has_areas(plan, m2, 4, 33);
    assert_string_equal(plan->paddocks[29].id, "A30");
    assert_string_equal(plan->paddocks[30].id, "A30.2");
    assert_string_equal(plan->paddocks[32].id, "A30.4");
    fence_named(plan, "A30-30.2");
    fence_named(plan, "A30.3-30.4");
    done(plan, farm);
}

/* 100 head eat 200 kg a day, of 12.5 m. */
static void more_sheep_take_more_ground(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = FW_NONE, .head = 100});
    const double even_m2 = 280.0 / 22 * wide_m;
    const double m2[] = {strip_m2, strip_m2, even_m2};
    has_areas(plan, m2, 3, 24);
    assert_near(plan->flock.head, 100, 0);
    assert_near(plan->flock.demand_kg_day, 200, 1e-9);
    done(plan, farm);
}

/* The same told by classes; those that came are not trained for two days. */
static void sheep_that_were_bought_are_told_by_their_class(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    const int heads[] = {100};
    int bought[] = {farm->start_day};
    for (int days = 0; days < 2; days++) {
        bought[0] = farm->start_day - days;
        struct fw_plan *plan = gone_on(farm, (struct fw_plan_on){
                                                 .fence = FW_NONE,
                                                 .class_count = 1,
                                                 .heads = heads,
                                                 .bought = bought,
                                             });
        const double m2[] = {strip_m2, strip_m2, 280.0 / 22 * wide_m};
        has_areas(plan, m2, 3, 24);
        assert_int_equal(plan->classes[0].head, 100);
        assert_int_equal(plan->classes[0].trained,
                         days ? farm->classes[0].trained : FW_NO);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

/* Of two classes one is sold: what is left of the flock has what it needs. */
static void a_class_that_is_gone_is_none(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    const int heads[] = {64, 0};
    struct fw_flock_class *classes = fw_alloc(2, sizeof *classes);
    classes[0] = classes[1] = farm->classes[0];
    classes[0].head = 64;
    classes[1].head = 16;
    fw_free(farm->classes);
    farm->classes = classes;
    farm->class_count = 2;
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){
                          .fence = FW_NONE, .class_count = 2, .heads = heads});
    assert_int_equal(plan->class_count, 1);
    assert_near(plan->flock.demand_kg_day, 128, 1e-9);
    const double m2[] = {strip_m2, strip_m2, 8 * wide_m};
    has_areas(plan, m2, 3, 37);
    done(plan, farm);
}

static double eats_kg_day(enum fw_state state, double weight_kg)
{
    const struct fw_flock_class one = {
        .head = 1, .weight_kg = weight_kg, .state = state};
    struct fw_flock_sums sums;
    struct fw_error err;
    assert_int_equal(fw_flock_sum(&one, 1, &sums, &err), FW_OK);
    return sums.demand_kg_day;
}

/* Ewes without lambs eat what dry ones do, and lambs that stay by the table;
 * of 80 ewes 2 were counted as gone, of all that there are. */
static void weaned_lambs_are_a_class_and_their_dams_dry_off(void **state)
{
    (void)state;
    for (int stay = 0; stay < 2; stay++) {
        struct fw_farm *farm = strips();
        farm->classes[0].state = FW_LACTATION_TWINS;
        farm->classes[0].trained = FW_YES;
        farm->classes[0].coat = FW_WOOL;
        const int lambs = stay ? 30 : 0;
        struct fw_plan *plan =
            gone_on(farm, (struct fw_plan_on){.fence = FW_NONE,
                                              .head = 78 + lambs,
                                              .weaned = {true, lambs, 28}});
        assert_int_equal(plan->class_count, stay ? 2 : 1);
        assert_int_equal(plan->classes[0].head, 78);
        assert_int_equal(plan->classes[0].state, FW_DRY);
        assert_int_equal(plan->flock.head, 78 + lambs);
        assert_near(plan->flock.demand_kg_day,
                    78 * eats_kg_day(FW_DRY, 60) +
                        lambs * eats_kg_day(FW_WEANED_LAMB, 28),
                    1e-9);
        if (stay) {
            assert_int_equal(plan->classes[1].head, 30);
            assert_int_equal(plan->classes[1].state, FW_WEANED_LAMB);
            assert_int_equal(plan->classes[1].trained, FW_YES);
            assert_int_equal(plan->classes[1].coat, FW_WOOL);
        }
        done(plan, farm);
    }
}

/* They were in the first one for a day, the second is 4 m wider, and the rest
 * is ahead. */
static void a_season_has_what_is_over_before_what_is_ahead(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *base = plan_of(farm);
    const int first = base->start_day;
    const struct fw_plan_season_stay stay = {
        .id = "A01", .enter = first, .leave = first + 1};
    const struct fw_plan_season_line set = {.id = "A01-02"};
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = fence_named(base, "A02-03"),
                                          .on_m = {4, 4},
                                          .season = &stay,
                                          .season_count = 1,
                                          .made = 1,
                                          .works = &set,
                                          .work_count = 1});
    const double m2[] = {strip_m2, strip_m2 + 4 * wide_m, strip_m2};
    for (size_t i = 0; i < 3; i++)
        assert_near(plan->paddocks[i].plane_m2, m2[i], 0.01);
    assert_int_equal(plan->start_day, first);
    assert_int_equal(plan->ahead_day, first + 1);
    assert_int_equal(plan->time.stay_count, plan->paddock_count);
    for (size_t i = 0; i < plan->time.stay_count; i++) {
        assert_int_equal(plan->time.stays[i].cell, i);
        assert_int_equal(plan->time.moves[i].day, first + (int)i);
    }
    assert_int_equal(fw_plan_next_move(plan), 1);
    const struct fw_plan ahead = fw_plan_ahead(plan);
    assert_int_equal(ahead.start_day, first + 1);
    assert_int_equal(ahead.time.stays[0].cell, 1);
    assert_near(plan->paddocks[0].usable_kg, base->paddocks[0].usable_kg, 1e-9);
    assert_near(plan->fields[0].grazed_ha, 6, 1e-5);
    fw_plan_free(base);
    done(plan, farm);
}

/* A05 before its turn, for half as many sheep again: it is as large as it is,
 * and so is A02, which is fenced ahead; A03 and A04 are 15 m and the 5 that are
 * left, and beyond A05 lie 16 of 15 m and one of 10. */
static void one_that_is_taken_before_its_turn_is_left_out_later(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *plan = gone_on(
        farm,
        (struct fw_plan_on){.fence = FW_NONE, .taken = "A05", .head = 120});
    static const char *const ids[] = {"A01", "A05", "A02", "A03", "A04", "A06"};
    const double m2[] = {strip_m2,    strip_m2,   strip_m2,
                         15 * wide_m, 5 * wide_m, 15 * wide_m};
    for (size_t i = 0; i < 6; i++)
        assert_string_equal(plan->paddocks[i].id, ids[i]);
    has_areas(plan, m2, 6, 22);
    assert_near(plan->paddocks[21].plane_m2, 10 * wide_m, off_m2);
    assert_int_equal(plan->time.stays[0].cell, 1);
    assert_int_equal(plan->time.stay_count, 21);
    const struct fw_plan_fence *behind =
        &plan->fences[fence_named(plan, "A05-06")];
    assert_int_equal(behind->from, 1);
    assert_int_equal(behind->to, 5);
    done(plan, farm);
}

/* Lambs of untold age are new-born on the farm's first day, not on the day from
 * which a plan goes on. */
static void lambs_grow_older_where_a_plan_goes_on(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    farm->classes[0].state = FW_LACTATION_TWINS;
    struct fw_plan *base = plan_of(farm), *plan = NULL;
    struct fw_error err;
    struct fw_plan_on on = {.from = base,
                            .move = 9,
                            .day = base->time.moves[10].day,
                            .fence = FW_NONE};
    if (fw_plan_go_on(farm, &on, &plan, &err))
        fail_msg("%s", err.text);
    size_t twice[2] = {0, 0};
    for (size_t m = 0; m + 1 < plan->time.move_count; m++) {
        const bool young = plan->time.moves[m].day < farm->start_day + 21;
        assert_int_equal(plan->time.moves[m].later != FW_NONE, young);
        twice[young]++;
    }
    assert_true(twice[0] > 0 && twice[1] > 0);
    fw_plan_free(base);
    done(plan, farm);
}

/* A shepherd who takes twice as long for all takes twice the minutes. */
static void minutes_follow_the_shepherd(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *usual =
        gone_on(farm, (struct fw_plan_on){.fence = FW_NONE});
    struct fw_plan *slow = gone_on(
        farm, (struct fw_plan_on){.fence = FW_NONE, .minutes_share = 2});
    assert_int_equal(slow->time.move_count, usual->time.move_count);
    for (size_t m = 0; m < usual->time.move_count; m++) {
        assert_true(usual->time.moves[m].minutes > 0);
        assert_near(slow->time.moves[m].minutes,
                    2 * usual->time.moves[m].minutes, 1e-9);
    }
    assert_near(slow->totals.minutes_per_move,
                2 * usual->totals.minutes_per_move, 1e-9);
    fw_plan_free(usual);
    done(slow, farm);
}

/* Less than a hundredth is no reason to move a fence. */
static void little_is_left_as_it_is(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    const double size[] = {1.009};
    struct fw_plan *plan =
        gone_on(farm, (struct fw_plan_on){.fence = FW_NONE, .size = size});
    const double m2[] = {strip_m2, strip_m2, strip_m2, strip_m2};
    has_areas(plan, m2, 4, 30);
    done(plan, farm);
}

static void a_fence_beyond_its_block_is_refused(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    struct fw_plan *from = plan_of(farm), *to = NULL;
    struct fw_error err;
    const double off_m[] = {-11, 290};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_plan_on on = {
            .from = from,
            .day = from->time.moves[1].day,
            .fence = fence_named(from, "A02-03"),
            .on_m = {off_m[i], off_m[i]},
        };
        assert_int_equal(fw_plan_go_on(farm, &on, &to, &err), FW_EINPUT);
        assert_non_null(strstr(err.text, "A02-03"));
    }
    done(from, farm);
}

/* Nobody moves sheep on a Sunday: after a missed Saturday it is Monday. */
static void
after_a_missed_day_it_is_the_next_on_which_somebody_comes(void **state)
{
    (void)state;
    struct fw_farm *farm = strips();
    farm->stay.days[5] = 2;
    farm->stay.days[6] = 0;
    struct fw_plan *from = plan_of(farm), *to = NULL;
    struct fw_error err;
    size_t move = 0;
    while (fw_date_weekday(from->time.moves[move + 1].day) != 5)
        move++;
    const struct fw_plan_on on = {
        .from = from,
        .move = move,
        .day = from->time.moves[move + 1].day + 1,
        .missed = true,
        .fence = FW_NONE,
    };
    if (fw_plan_go_on(farm, &on, &to, &err))
        fail_msg("%s", err.text);
    assert_int_equal(to->start_day, from->time.moves[move + 1].day + 2);
    assert_int_equal(fw_date_weekday(to->start_day), 0);
    fw_plan_free(to);
    done(from, farm);
}

static void another_farm_is_refused(void **state)
{
    (void)state;
    struct fw_farm *farm = strips(), *two = farm_of(&rectangle, &leaning);
    struct fw_plan *from = plan_of(farm), *to = NULL;
    struct fw_error err;
    struct fw_plan_on on = {
        .from = from, .day = from->time.moves[1].day, .fence = FW_NONE};
    assert_int_equal(fw_plan_go_on(two, &on, &to, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "2 fields now, and the plan 1"));
    on.move = from->time.move_count - 2;
    assert_int_equal(fw_plan_go_on(farm, &on, &to, &err), FW_EPLAN);
    fw_farm_free(two);
    done(from, farm);
}

/* Under its old name, but drawn anew: grazed ground would lie elsewhere. */
static void a_field_that_was_drawn_anew_is_refused(void **state)
{
    (void)state;
    static const struct outline wider = {
        4, {{0, 0}, {303, 0}, {303, 200}, {0, 200}}, 0};
    static const struct outline cut_off = {
        5, {{0, 0}, {300, 0}, {300, 190}, {280, 200}, {0, 200}}, 0};
    struct fw_farm *farm = strips();
    struct fw_plan *from = plan_of(farm), *to = NULL;
    struct fw_error err;
    const struct fw_plan_on on = {
        .from = from, .day = from->time.moves[1].day, .fence = FW_NONE};
    struct fw_farm *moved = farm_of(&wider, NULL);
    assert_int_equal(fw_plan_go_on(moved, &on, &to, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "m from where the plan has it"));
    assert_non_null(strstr(err.text, farm->fields[0].shape->name));
    struct fw_farm *more = farm_of(&cut_off, NULL);
    assert_int_equal(fw_plan_go_on(more, &on, &to, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "has 5 corners now, and 4 in the plan"));
    fw_farm_free(moved);
    fw_farm_free(more);
    done(from, farm);
}

/* ---- what was worked out in print ---- */

static enum fw_status makes(const void *farm, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err)
{
    return fw_plan_go_on(farm, on, out, err);
}

/* An example that has only what they may take says nothing of what stays: there
 * 1,500 kg/ha stay beside it, since nothing left would be too little. */
static double stays_kg_ha(const struct table *table)
{
    const double told = table_number(table, 4);
    return told > 0 ? told : 1500;
}

static double stands_kg_ha(const struct table *table)
{
    return table_number(table, 3) - table_number(table, 4) + stays_kg_ha(table);
}

/* As many sheep as the example has on a hectare for so many days. */
static struct fw_farm *worked(const struct table *table)
{
    struct fw_farm *farm = strips();
    const int days = (int)table_number(table, 2);
    farm->fields[0].sward = (struct fw_sward){
        .mass_kg_ha = stands_kg_ha(table),
        .residual_kg_ha = stays_kg_ha(table),
        .use = table_number(table, 5),
        .legume = -1,
    };
    farm->classes[0].head = 100;
    farm->classes[0].intake_kg_day =
        table_number(table, 1) / table_number(table, 6) * 0.75 / 100;
    for (int k = 0; k < 7; k++)
        farm->stay.days[k] = days;
    farm->stay_told = true;
    farm->last = FW_LAST_SHORT; /* all but the last one are as wanted */
    return farm;
}

/* Every day as the example has it: they left what was to be left, and all of
 * them were there. */
static void say_all(const struct fw_farm *farm, const struct fw_plan *plan,
                    const char *path)
{
    const struct fw_log_request request = {
        .path = path, .writer = true, .making = {farm, makes}};
    struct fw_quantities *quantities;
    struct fw_notes notes = {0};
    struct fw_error err;
    struct fw_log *log;
    assert_int_equal(fw_quantities_new(&quantities, &err), FW_OK);
    if (fw_log_open(plan, &request, &log, &notes, &err))
        fail_msg("%s", err.text);
    for (size_t m = 0; m < plan->time.move_count; m++) {
        struct fw_log_line line = {.day = plan->time.moves[m].day};
        struct fw_log_value *values = line.values;
        if (m > 0 && fw_log_value_read(quantities, FW_LOG_LEFT, "right",
                                       FW_METRIC, &values[FW_LOG_LEFT], &err))
            fail_msg("%s", err.text);
        if (fw_log_value_read(quantities, FW_LOG_HEAD, "100", FW_METRIC,
                              &values[FW_LOG_HEAD], &err) ||
            fw_log_say(log, &line, &err))
            fail_msg("%s", err.text);
        const struct fw_log_day *day = &log->days[log->day_count - 1];
        assert_false(day->anew);
        assert_true(m == 0 || day->looked);
        assert_true(log->plan == plan);
        if (log->next.fence != FW_NONE) {
            assert_near(log->next.step, 0, 0);
            assert_near(log->next.size, 1, 1e-3);
        }
        if (m > 0 && day->offer.stands_kg_ha > 0)
            assert_near(day->stood_kg_ha, table_kg_ha, 1e-3 * table_kg_ha);
    }
    fw_log_free(log);
    fw_notes_release(&notes);
    fw_quantities_free(quantities);
}

static void worked_examples_correct_nothing(void **state)
{
    (void)state;
    struct table table;
    struct scratch scratch;
    size_t count = 0;
    scratch_make(&scratch);
    table_open(&table, "forage_worked.tsv");
    while (table_next(&table, 9)) {
        if (strcmp(table.cells[0], "metric") != 0 ||
            table_number(&table, 2) > 3)
            continue;
        struct fw_farm *farm = worked(&table);
        struct fw_plan *plan = plan_of(farm);
        const char *path = in_scratch(&scratch, "days.txt");
        table_kg_ha = stands_kg_ha(&table);
        /* three quarters of a hectare, as near as the example prints it */
        assert_near(plan->paddocks[0].plane_m2, 7500,
                    7500 * table_number(&table, 7) / table_number(&table, 6) +
                        1);
        say_all(farm, plan, path);
        unlink(path);
        done(plan, farm);
        count++;
    }
    table_close(&table);
    scratch_remove(scratch.path);
    assert_int_equal(count, 7);
}

/* ---- a fence that was walked ---- */

/* From end to end of a fence, so many metres on and aside, by way of a place in
 * between, which lies so far aside of the straight; from B when it is turned.
 */
static void put_track(const char *path, const struct fw_plan *plan,
                      size_t fence, const double off_m[2], double bend_m,
                      bool turned)
{
    const struct fw_plan_field *field = &plan->fields[0];
    const struct fw_plan_fence *of = &plan->fences[fence];
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs("<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"x\" "
          "xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>",
          file);
    for (int i = 0; i < 3; i++) {
        const struct fw_point a = field->vertices[of->line[0]].plane;
        const struct fw_point b = field->vertices[of->line[1]].plane;
        const double t = (turned ? 2 - i : i) / 2.0;
        const struct fw_point along = fw_point_minus(b, a);
        const double bent =
            i == 1 ? bend_m / fw_length(along.x_m, along.y_m) : 0;
        const struct fw_point at = {
            a.x_m + t * along.x_m + off_m[0] - bent * along.y_m,
            a.y_m + t * along.y_m + off_m[1] + bent * along.x_m};
        const struct fw_lonlat place = fw_plane_inverse(&field->plane, at);
        fprintf(file, "<trkpt lat=\"%.9f\" lon=\"%.9f\"/>", place.lat_deg,
                place.lon_deg);
    }
    fputs("</trkseg></trk></gpx>", file);
    assert_int_equal(fclose(file), 0);
}

/* Strips lie east of each other, or west: 4 m are 5 paces of 0.8 m more or less
 * on both sides. 120 m are another field's, 20 m aside of its ends no end. */
static void a_track_is_told_in_paces(void **state)
{
    (void)state;
    static const struct {
        double off_m[2];
        int paces;       /* more or less, as the strips lie */
        const char *why; /* it is refused */
    } rows[] = {
        {{0, 0}, 0, NULL},
        {{4, 0}, 5, NULL},
        {{-4, 0}, -5, NULL},
        {{4, 3}, 5, NULL},
        {{120, 0}, 0, "another field"},
        {{0, 20}, 0, "aside"},
    };
    struct scratch scratch;
    struct fw_farm *farm = strips();
    struct fw_plan *plan = plan_of(farm);
    struct fw_notes notes = {0};
    struct fw_error err;
    struct fw_log *log = NULL;
    double share;
    scratch_make(&scratch);
    const struct fw_log_request request = {
        .path = in_scratch(&scratch, "days.txt"), .writer = true};
    assert_int_equal(fw_log_open(plan, &request, &log, &notes, &err), FW_OK);
    const size_t fence = fw_log_fence(plan, 0, &share);
    const int was = fw_log_paces(plan, fence, true).paces;
    const bool east =
        fw_plan__at(&plan->fields[0], plan->fences[fence].line[0]).x_m <
        fw_plan__at(&plan->fields[0],
                    plan->fences[fence_named(plan, "A29-30")].line[0])
            .x_m;
    for (size_t i = 0; i < 2 * sizeof rows / sizeof *rows; i++) {
        const char *path = in_scratch(&scratch, "walked.gpx");
        const size_t k = i / 2;
        char text[FW_LOG_TEXT] = "", wanted[FW_LOG_TEXT];
        put_track(path, plan, fence, rows[k].off_m, 0, i % 2 == 1);
        const int paces = was + (east ? rows[k].paces : -rows[k].paces);
        snprintf(wanted, sizeof wanted, "%d,%d", paces, paces);
        const enum fw_status status =
            fw_log_walked(log, path, text, &notes, &err);
        assert_int_equal(status, rows[k].why ? FW_EINPUT : FW_OK);
        if (rows[k].why)
            assert_non_null(strstr(err.text, rows[k].why));
        else
            assert_string_equal(text, wanted);
    }
    assert_int_equal(notes.count, 0);
    /* A bend of 14 m may be a phone's, one of 16 m is told. */
    const double bends[] = {14, 16};
    for (size_t i = 0; i < 2; i++) {
        const char *path = in_scratch(&scratch, "bent.gpx");
        char text[FW_LOG_TEXT] = "", wanted[FW_LOG_TEXT];
        put_track(path, plan, fence, (const double[2]){0, 0}, bends[i], false);
        snprintf(wanted, sizeof wanted, "%d,%d", was, was);
        assert_int_equal(fw_log_walked(log, path, text, &notes, &err), FW_OK);
        assert_string_equal(text, wanted);
        assert_int_equal(notes.count, i);
    }
    assert_non_null(strstr(notes.items[0].text, "strays 16 m"));
    fw_log_free(log);
    fw_notes_release(&notes);
    scratch_remove(scratch.path);
    done(plan, farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fence_set_farther_is_where_the_rest_begins),
        cmocka_unit_test(a_fence_set_askew_is_straightened),
        cmocka_unit_test(thinner_grass_takes_more_ground),
        cmocka_unit_test(gables_are_shared_out_too),
        cmocka_unit_test(a_fence_over_other_ground_is_refused),
        cmocka_unit_test(a_later_field_has_an_order_of_its_own),
        cmocka_unit_test(ends_stand_on_the_line_of_the_file),
        cmocka_unit_test(lines_between_blocks_know_who_lies_along_them),
        cmocka_unit_test(thicker_grass_takes_less_and_makes_more_paddocks),
        cmocka_unit_test(more_sheep_take_more_ground),
        cmocka_unit_test(sheep_that_were_bought_are_told_by_their_class),
        cmocka_unit_test(weaned_lambs_are_a_class_and_their_dams_dry_off),
        cmocka_unit_test(a_season_has_what_is_over_before_what_is_ahead),
        cmocka_unit_test(one_that_is_taken_before_its_turn_is_left_out_later),
        cmocka_unit_test(lambs_grow_older_where_a_plan_goes_on),
        cmocka_unit_test(minutes_follow_the_shepherd),
        cmocka_unit_test(a_class_that_is_gone_is_none),
        cmocka_unit_test(little_is_left_as_it_is),
        cmocka_unit_test(a_fence_beyond_its_block_is_refused),
        cmocka_unit_test(
            after_a_missed_day_it_is_the_next_on_which_somebody_comes),
        cmocka_unit_test(another_farm_is_refused),
        cmocka_unit_test(a_field_that_was_drawn_anew_is_refused),
        cmocka_unit_test(worked_examples_correct_nothing),
        cmocka_unit_test(a_track_is_told_in_paces),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
