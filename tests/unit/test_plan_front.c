/* Plans that go on from a front fence that stands already. */
#include "choice/job.h"
#include "make/parts.h"
#include "plan_help.h"

/* NULL: the best of them. */
static const char *const patterns[] = {"strips", "blocks", "lane", "turning",
                                       NULL};

/* The same farm, grazed already on the gate's side of that line. */
static struct fw_farm *going_on(const struct outline *outline,
                                const struct fw_point *line, size_t count,
                                struct fw_point gate, double *behind_m2)
{
    struct fw_farm *farm = farm_of(outline, NULL);
    struct fw_farm_field *field = &farm->fields[0];
    struct fw_crs *crs;
    struct fw_error err;
    struct fw_beyond beyond;
    struct fw_point moved[8];
    const struct fw_lonlat origin = {25.5, 58.3};
    const struct fw_point zero = fw_plane_forward(&field->shape->plane, origin);
    for (size_t i = 0; i < count; i++)
        moved[i] =
            (struct fw_point){line[i].x_m + zero.x_m, line[i].y_m + zero.y_m};
    field->gate.given = true;
    field->gate.point =
        (struct fw_point){gate.x_m + zero.x_m, gate.y_m + zero.y_m};
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    if (fw_field_beyond(field->shape, moved, count, field->gate.point, crs,
                        &beyond, &err))
        fail_msg("%s", err.text);
    fw_crs_free(crs);
    field->grazed = beyond.field;
    field->front = (struct fw_farm_front){.given = true,
                                          .runs = beyond.on_line,
                                          .behind = beyond.behind,
                                          .behind_count = beyond.behind_count,
                                          .behind_m2 = beyond.behind_m2};
    *behind_m2 = beyond.behind_m2;
    return farm;
}

static size_t front_of(const struct fw_plan *plan)
{
    size_t found = FW_NONE;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED && plan->fences[i].stood) {
            assert_int_equal(found, FW_NONE);
            found = i;
        }
    assert_true(found != FW_NONE);
    return found;
}

/* How much of a paddock's edge runs along the fence. */
static double shared_m(const struct fw_plan *plan, size_t paddock, size_t fence)
{
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    const struct fw_plan_fence *line = &plan->fences[fence];
    const struct fw_plan_field *field = &plan->fields[line->field];
    double sum = 0;
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            for (size_t v = 0; v + 1 < line->line_count; v++) {
                const size_t a = rings->vertices[first + i];
                const size_t b = rings->vertices[first + (i + 1) % count];
                const size_t c = line->line[v], d = line->line[v + 1];
                const struct fw_point p = field->vertices[a].plane;
                const struct fw_point q = field->vertices[b].plane;
                if ((a == c && b == d) || (a == d && b == c))
                    sum += hypot(q.x_m - p.x_m, q.y_m - p.y_m);
            }
    }
    return sum;
}

static double away_m(const struct fw_plan *plan, size_t fence,
                     struct fw_point from)
{
    const struct fw_plan_fence *line = &plan->fences[fence];
    const struct fw_plan_field *field = &plan->fields[line->field];
    double least = HUGE_VAL;
    for (size_t v = 0; v + 1 < line->line_count; v++)
        least = fmin(least, fw_segment_distance_m(
                                from, field->vertices[line->line[v]].plane,
                                field->vertices[line->line[v + 1]].plane));
    return least;
}

static void check_plan(const struct fw_farm *farm, double length_m,
                       double behind_m2)
{
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    const size_t front = front_of(plan);
    const struct fw_plan_fence *line = &plan->fences[front];
    assert_near(line->length_m, length_m, 0.01);
    assert_true(line->stood);
    assert_int_equal(move_that(plan, FW_STEP_SET, front), FW_NONE);
    assert_string_equal(line->id, "A00-01");

    double paddocks_m2 = 0, beside_m = 0;
    size_t last = 0;
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const double m = shared_m(plan, p, front);
        paddocks_m2 += plan->paddocks[p].plane_m2;
        beside_m += m;
        if (m > 0)
            last = p;
    }
    const bool lanes =
        plan->fields[0].pattern[0] == 'l' || plan->fields[0].pattern[0] == 'w';
    if (!lanes)
        assert_near(paddocks_m2 + behind_m2, farm->fields[0].shape->area_m2,
                    1e-6);
    assert_true(paddocks_m2 + behind_m2 <
                farm->fields[0].shape->area_m2 + 1e-6);
    if (!lanes)
        assert_near(beside_m, length_m, 0.01);

    /* Beside it lie so many paddocks, from the first to the last of them. */
    size_t least = plan->paddock_count;
    for (size_t p = plan->paddock_count; p-- > 0;)
        least = shared_m(plan, p, front) > 0 ? p : least;
    if (!lanes) {
        assert_int_equal(line->from, least);
        assert_int_equal(line->to, last);
    }

    /* It opens into the first paddock, and stands until the last one beside it
     * has been left. */
    const struct fw_move *move = &plan->time.moves[0];
    size_t opened = 0;
    for (size_t s = 0; s < move->steps.count; s++)
        opened += plan->time.steps[move->steps.first + s].kind == FW_STEP_OPEN;
    if (!lanes) {
        const struct fw_plan_gate *gate = &plan->gates[move->opening];
        assert_true(shared_m(plan, 0, front) >= 4);
        assert_int_equal(gate->fence, front);
        assert_int_equal(opened, 1); /* they are behind it: no gate */
        assert_near(away_m(plan, front, gate->place.plane), 0, 1e-6);
    }
    for (size_t m = 0; m <= last; m++)
        assert_true(stands_after(plan, front, m));
    const size_t down = move_that(plan, FW_STEP_TAKE_DOWN, front);
    assert_true(down != FW_NONE && down > last);
    assert_true(plan->time.moves[down].day >= stay_in(plan, last)->leave);

    /* The boundary is the rest of the ring. */
    double round_m = 0;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_PERIMETER || i == front)
            round_m += plan->fences[i].length_m;
    assert_near(round_m, field->perimeter_m, 1e-3);
    for (size_t i = 0; i < plan->untold.count; i++)
        assert_null(strstr(plan->untold.items[i].text, ", 0"));

    /* What compare says of the chosen one. */
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    assert_int_equal(fw_plan_compare(farm, &scores, &err), FW_OK);
    for (size_t i = 0; i < scores.count; i++)
        if (scores.items[i].chosen) {
            assert_string_equal(scores.items[i].layout, field->layout);
            assert_int_equal(scores.items[i].kit.posts, plan->totals.kit.posts);
            assert_int_equal(scores.items[i].kit.reels, plan->totals.kit.reels);
        }
    fw_plan_scores_release(&scores);
    fw_plan_free(plan);
}

static void every_pattern_goes_on_from_a_front(void **state)
{
    (void)state;
    const struct fw_point straight[] = {{90, 0}, {110, 200}};
    const struct fw_point bent[] = {{0, 60}, {120, 50}, {300, 90}};
    for (size_t i = 0; i < 2 * (sizeof patterns / sizeof *patterns); i++) {
        double behind_m2;
        struct fw_farm *farm =
            i % 2 ? going_on(&rectangle, bent, 3, (struct fw_point){0, 0},
                             &behind_m2)
                  : going_on(&rectangle, straight, 2, (struct fw_point){0, 0},
                             &behind_m2);
        if (patterns[i / 2])
            farm->layout = fw_strdup(patterns[i / 2]);
        check_plan(farm,
                   i % 2 ? hypot(120, 10) + hypot(180, 40) : hypot(20, 200),
                   behind_m2);
        fw_farm_free(farm);
    }
}

/* Of lines that are to be set; one that stands already is nobody's choice. */
static void the_longest_run_of_a_layout_is_none_of_the_front(void **state)
{
    (void)state;
    const struct fw_point line[] = {{0, 60}, {300, 60}};
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    struct fw_plan_scores scores = {0};
    size_t shorter = 0;
    farm->direction_given = true; /* fences run north and south */
    assert_int_equal(fw_plan_compare(farm, &scores, NULL), FW_OK);
    for (size_t i = 0; i < scores.count; i++) {
        fw_free(farm->layout);
        farm->layout = fw_strdup(scores.items[i].layout);
        struct fw_plan *plan = plan_of(farm);
        double longest_m = 0;
        for (size_t k = 0; k < plan->fence_count; k++)
            if (plan->fences[k].role != FW_FENCE_PERIMETER &&
                !plan->fences[k].stood)
                longest_m = fmax(longest_m, plan->fences[k].length_m);
        assert_relative(scores.items[i].longest_run_m, longest_m, 1e-5);
        shorter += longest_m < 299;
        fw_plan_free(plan);
    }
    assert_true(shorter > 0);
    fw_plan_scores_release(&scores);
    fw_farm_free(farm);
}

static void corners_keep_the_numbers_of_the_whole_field(void **state)
{
    (void)state;
    const struct fw_point line[] = {{90, 0}, {110, 200}};
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    const struct fw_field *shape = farm->fields[0].shape;
    size_t named = 0;
    for (size_t i = 0; i < field->corner_count; i++) {
        const struct fw_point at = field->vertices[field->corners[i]].plane;
        const size_t number = fw_plan_corner_number(field, i);
        if (number == 0)
            continue;
        const struct fw_point whole =
            shape->vertices[shape->corners[number - 1]].plane;
        assert_near(hypot(at.x_m - whole.x_m, at.y_m - whole.y_m), 0, 0);
        named++;
    }
    assert_int_equal(named, 2);
    /* And ends are counted from those, or along a line. */
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_paced ends[] = {plan->fences[i].a,
                                             plan->fences[i].b};
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            continue;
        for (size_t e = 0; e < 2; e++) {
            if (ends[e].by == FW_PACED_SIDE)
                assert_true(fw_plan_corner_number(field, ends[e].corner) > 0);
            else
                assert_int_equal(ends[e].by, FW_PACED_LINE);
        }
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* The front at 100 m of 300 m: the corners behind it are gone. Strips of 10 m
 * go on from it, and each is counted from the far corners, which have kept
 * their numbers; on the same side the front is the last fence of the first. */
static void ends_are_counted_from_what_is_left_of_a_side(void **state)
{
    (void)state;
    const struct fw_point line[] = {{100, 0}, {100, 200}};
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    const struct fw_plan_fence *front = &plan->fences[front_of(plan)];
    size_t first = 0, later = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const double on_m = 10 * (double)(fence->from + 1);
        if (fence->role != FW_FENCE_MOVED || fence == front)
            continue;
        for (int e = 0; e < 2; e++) {
            const struct fw_plan_paced *end = e ? &fence->b : &fence->a;
            assert_int_equal(end->by, FW_PACED_SIDE);
            assert_near(end->along_m, 200 - on_m, 0.01);
            assert_true(fw_plan_corner_number(field, end->corner) > 0);
            assert_int_equal(fw_plan_corner_number(field, end->towards), 0);
            if (fence->from == 0) {
                assert_true(&plan->fences[end->on_from] == front);
                assert_int_equal(end->on_paces, 13); /* 10 m of 0.8 m */
                first++;
            } else if (fence->from < 18) {
                assert_int_equal(plan->fences[end->on_from].to, fence->from);
                later++;
            }
        }
    }
    assert_int_equal(first, 2);
    assert_int_equal(later, 34);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void without_back_fences_it_comes_down_behind_the_flock(void **state)
{
    (void)state;
    const struct fw_point line[] = {{90, 0}, {110, 200}};
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    farm->direction_deg = 0; /* lines run north and south, as the front does */
    farm->back_fence = false;
    struct fw_plan *plan = plan_of(farm);
    const size_t front = front_of(plan);
    size_t last = 0;
    for (size_t p = 0; p < plan->paddock_count; p++)
        if (shared_m(plan, p, front) > 0)
            last = p;
    assert_int_equal(move_that(plan, FW_STEP_TAKE_DOWN, front), last);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void too_little_beyond_it_is_no_plan(void **state)
{
    (void)state;
    const struct fw_point line[] = {{298, 0}, {298, 200}};
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    struct fw_plan *plan = NULL;
    struct fw_error err;
    assert_int_equal(fw_plan_make(farm, &plan, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "First: beyond the front: "));
    assert_null(plan);
    fw_farm_free(farm);
}

/* ---- where to begin ---- */

static struct fw_point start_of(struct fw_farm *farm, bool seen_from_water)
{
    struct fw_farm_field *field = &farm->fields[0];
    const struct fw_point zero =
        fw_plane_forward(&field->shape->plane, (struct fw_lonlat){25.5, 58.3});
    struct fw_point at = {0};
    if (seen_from_water) {
        field->water = field->gate;
        field->gate.given = false;
        field->gate.point = (struct fw_point){1e4, -1e4};
    }
    assert_true(fw_plan__front_start(field, &at));
    return (struct fw_point){at.x_m - zero.x_m, at.y_m - zero.y_m};
}

/* Five metres from that end of the front which is nearer to the gate, or to
 * the water where no gate is told; of one under ten metres in its middle. */
static void it_begins_near_the_end_that_the_shepherd_comes_to(void **state)
{
    (void)state;
    static const struct {
        size_t count;
        struct fw_point line[3], gate, start;
    } rows[] = {
        {2, {{90, 0}, {90, 200}}, {0, 0}, {90, 5}},
        {2, {{90, 0}, {90, 200}}, {0, 200}, {90, 195}},
        {2, {{90, 200}, {90, 0}}, {0, 90}, {90, 5}},
        {2, {{0, 70}, {300, 70}}, {0, 0}, {5, 70}},
        {2, {{0, 70}, {300, 70}}, {300, 0}, {295, 70}},
        {3, {{0, 60}, {3, 60}, {3, 200}}, {0, 200}, {3, 195}},
        {3, {{0, 60}, {3, 60}, {3, 200}}, {0, 61}, {3, 62}},
        {3, {{0, 197}, {100, 197}, {100, 200}}, {99, 200}, {98, 197}},
        {2, {{0, 8}, {6, 0}}, {0, 0}, {3, 4}},
        {2, {{0, 18}, {24, 0}}, {0, 15}, {4, 15}},
        {2, {{0, 18}, {24, 0}}, {22, 0}, {20, 3}},
    };
    for (size_t i = 0; i < 2 * (sizeof rows / sizeof *rows); i++) {
        double behind_m2;
        struct fw_farm *farm =
            going_on(&rectangle, rows[i / 2].line, rows[i / 2].count,
                     rows[i / 2].gate, &behind_m2);
        const struct fw_point at = start_of(farm, i % 2);
        assert_near(at.x_m, rows[i / 2].start.x_m, 0.005);
        assert_near(at.y_m, rows[i / 2].start.y_m, 0.005);
        fw_farm_free(farm);
    }
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_point at;
    assert_false(fw_plan__front_start(&farm->fields[0], &at));
    fw_farm_free(farm);
}

/* A pond in the way makes two runs of a front: it begins at the longer one, and
 * both are lines that stand, between the pond and the boundary. */
static const struct outline ponds[] = {
    {8,
     {{0, 0},
      {300, 0},
      {300, 200},
      {0, 200},
      {90, 140},
      {90, 160},
      {110, 160},
      {110, 140}},
     4},
    {8,
     {{0, 0},
      {300, 0},
      {300, 200},
      {0, 200},
      {90, 30},
      {90, 70},
      {110, 70},
      {110, 30}},
     4},
};

static void the_longer_run_of_a_front_comes_first(void **state)
{
    (void)state;
    static const struct fw_point line[] = {{100, 0}, {100, 200}};
    static const double runs_m[][2] = {{140, 40}, {130, 30}};
    static const struct {
        struct fw_point gate;
        double start_m[2];
    } rows[] = {{{0, 0}, {5, 75}}, {{0, 200}, {135, 195}}};
    for (size_t i = 0; i < 4; i++) {
        double behind_m2;
        struct fw_farm *farm =
            going_on(&ponds[i % 2], line, 2, rows[i / 2].gate, &behind_m2);
        const struct fw_point at = start_of(farm, false);
        assert_near(at.x_m, 100, 0.005);
        assert_near(at.y_m, rows[i / 2].start_m[i % 2], 0.005);
        farm->layout = fw_strdup("strips");
        farm->direction_given = true;
        farm->limits_off = true;
        struct fw_plan *plan = plan_of(farm);
        size_t count = 0;
        double sum_m = 0, longest_m = 0;
        for (size_t f = 0; f < plan->fence_count; f++) {
            const struct fw_plan_fence *fence = &plan->fences[f];
            if (!fence->stood)
                continue;
            size_t from = plan->paddock_count, to = 0;
            for (size_t p = 0; p < plan->paddock_count; p++)
                if (shared_m(plan, p, f) > 0) {
                    from = p < from ? p : from;
                    to = p;
                }
            assert_int_equal(fence->from, from);
            assert_int_equal(fence->to, to);
            longest_m = fmax(longest_m, fence->length_m);
            sum_m += fence->length_m;
            count++;
        }
        assert_int_equal(count, 2);
        assert_near(longest_m, runs_m[i % 2][0], 0.01);
        assert_near(sum_m, runs_m[i % 2][0] + runs_m[i % 2][1], 0.02);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* ---- what feeds ---- */

/* The side of the whole field that a place stands on, by number; 0: none. */
static size_t side_under(const struct fw_field *shape, struct fw_point at)
{
    for (size_t i = 0; i < shape->corner_count; i++) {
        const size_t next = (i + 1) % shape->corner_count;
        if (fw_segment_distance_m(at, shape->vertices[shape->corners[i]].plane,
                                  shape->vertices[shape->corners[next]].plane) <
            0.01)
            return i + 1;
    }
    return 0;
}

static void look_at_sides(struct fw_farm *farm, size_t *seen)
{
    const struct fw_farm_field *from = &farm->fields[0];
    const struct fw_field *grazed = from->grazed;
    enum fw_feeds *feeds[1] = {NULL};
    struct fw_plan_job job = {.farm = farm, .edge_feeds = feeds};
    struct fw_error err;
    assert_int_equal(fw_plan__edge_feeds(&job, 0, &err), FW_OK);
    for (size_t v = 0; v < grazed->ring_start[1]; v++) {
        const size_t next = v + 1 < grazed->ring_start[1] ? v + 1 : 0;
        const struct fw_point p = grazed->vertices[v].plane;
        const struct fw_point q = grazed->vertices[next].plane;
        const size_t side =
            side_under(from->shape, (struct fw_point){(p.x_m + q.x_m) / 2,
                                                      (p.y_m + q.y_m) / 2});
        const enum fw_answer hot = side ? from->sides[side - 1].hot : FW_UNTOLD;
        const bool front = from->front.given && from->front.runs[v];
        assert_int_equal(feeds[0][v], front || hot == FW_YES ? FW_FEEDS_SURELY
                                      : hot == FW_NO         ? FW_FEEDS_NOTHING
                                                     : FW_FEEDS_PERHAPS);
        seen[feeds[0][v]]++;
    }
    for (size_t i = 0; i < grazed->corner_count; i++) {
        size_t number = 99;
        const struct fw_farm_side side = fw_plan__side_of(from, i, &number);
        if (number) {
            assert_int_equal(side.hot, from->sides[number - 1].hot);
            assert_int_equal(side.holds, from->sides[number - 1].holds);
        } else if (from->front.given) {
            assert_int_equal(side.hot, FW_YES);
            assert_int_equal(side.holds, FW_HOLDS_LAMBS);
        }
    }
    fw_free(feeds[0]);
}

/* Each edge of the grazed ground feeds what its side of the whole field does,
 * and a front surely. */
static void an_edge_feeds_as_its_side_does(void **state)
{
    (void)state;
    static const struct fw_point lines[][3] = {{{90, 0}, {110, 200}},
                                               {{0, 60}, {120, 50}, {300, 90}},
                                               {{250, 0}, {300, 70}}};
    size_t seen[3] = {0};
    for (size_t n = 0; n < 12; n++) {
        double behind_m2;
        struct fw_farm *farm =
            n < 3 ? farm_of(&rectangle, NULL)
                  : going_on(&rectangle, lines[n % 3], n % 3 == 1 ? 3 : 2,
                             n % 2 ? (struct fw_point){0, 0}
                                   : (struct fw_point){300, 0},
                             &behind_m2);
        for (size_t i = 0; i < 4; i++)
            farm->fields[0].sides[i] = (struct fw_farm_side){
                (i + n) % 2 ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP,
                (enum fw_answer)((i + n / 3) % 3)};
        look_at_sides(farm, seen);
        fw_farm_free(farm);
    }
    assert_true(seen[0] > 5 && seen[1] > 5 && seen[2] > 5);
}

/* What lies behind the front has the gate, and the water where that is more
 * than a metre behind it. */
static void water_behind_a_front_is_that_of_the_grazed_ground(void **state)
{
    (void)state;
    static const struct fw_point line[] = {{90, 0}, {90, 200}};
    static const struct {
        double x, y;
        bool behind;
    } rows[] = {{40, 100, true}, {88.8, 30, true},    {89.2, 30, false},
                {91, 30, false}, {200, 199, false},   {200, 3, false},
                {5, 195, true},  {299.5, 100, false}, {0, 0, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double behind_m2;
        struct fw_farm *farm =
            going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
        farm->layout = fw_strdup("strips");
        farm->direction_given = true;
        put_spot(farm->fields[0].shape, &farm->fields[0].water, rows[i].x,
                 rows[i].y);
        struct fw_plan *plan = plan_of(farm);
        struct fw_land land = {0};
        struct fw_error err;
        size_t grazed = 0;
        assert_int_equal(fw_plan_land(plan, &land, &err), FW_OK);
        for (size_t c = 0; c < land.cell_count; c++) {
            if (land.cells[c].kind != FW_CELL_GRAZED)
                continue;
            assert_true(land.cells[c].at_gate);
            assert_int_equal(land.cells[c].at_water, rows[i].behind);
            grazed++;
        }
        for (size_t p = 0; p < plan->paddock_count; p++)
            assert_false(land.cells[p].at_gate);
        assert_int_equal(grazed, 1);
        fw_land_release(&land);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Mean way from its corner over a rectangle. */
static double corner_mean_m(double a, double b)
{
    return sqrt(a * a + b * b) / 3 + a * a / (6 * b) * asinh(b / a) +
           b * b / (6 * a) * asinh(a / b);
}

/* Upright strips, and no fence stands behind them: each has what the rectangle
 * up to its far side has, less that up to its near one. */
static void way_to_water_behind_a_front_is_known(void **state)
{
    (void)state;
    static const struct fw_point line[] = {{90, 0}, {90, 200}};
    const double high_m = 200;
    double behind_m2;
    struct fw_farm *farm =
        going_on(&rectangle, line, 2, (struct fw_point){0, 0}, &behind_m2);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    farm->direction_deg = 0;
    farm->back_fence = false;
    put_spot(farm->fields[0].shape, &farm->fields[0].water, 0, 0);
    struct fw_plan *plan = plan_of(farm);
    assert_true(plan->paddock_count > 5);
    for (size_t p = 0; p < plan->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &plan->paddocks[p];
        const struct fw_plan_field *field = &plan->fields[0];
        double near_m = HUGE_VAL, far_m = 0;
        for (size_t i = 0; i < paddock->rings.ring_start[1]; i++) {
            const double x_m =
                field->vertices[paddock->rings.vertices[i]].plane.x_m -
                field->water.plane.x_m;
            near_m = fmin(near_m, x_m);
            far_m = fmax(far_m, x_m);
        }
        const double mean_m = (far_m * corner_mean_m(far_m, high_m) -
                               near_m * corner_mean_m(near_m, high_m)) /
                              (far_m - near_m);
        assert_true(paddock->walk_known);
        assert_int_equal(paddock->walk_untold, FW_WALK_TOLD);
        assert_near(paddock->walk_mean_m, mean_m, 2e-3 * mean_m);
        assert_near(paddock->walk_max_m, hypot(far_m, high_m), 2e-3 * far_m);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_pattern_goes_on_from_a_front),
        cmocka_unit_test(the_longest_run_of_a_layout_is_none_of_the_front),
        cmocka_unit_test(corners_keep_the_numbers_of_the_whole_field),
        cmocka_unit_test(ends_are_counted_from_what_is_left_of_a_side),
        cmocka_unit_test(without_back_fences_it_comes_down_behind_the_flock),
        cmocka_unit_test(too_little_beyond_it_is_no_plan),
        cmocka_unit_test(it_begins_near_the_end_that_the_shepherd_comes_to),
        cmocka_unit_test(the_longer_run_of_a_front_comes_first),
        cmocka_unit_test(an_edge_feeds_as_its_side_does),
        cmocka_unit_test(water_behind_a_front_is_that_of_the_grazed_ground),
        cmocka_unit_test(way_to_water_behind_a_front_is_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
