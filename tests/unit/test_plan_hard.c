/* Hard going: which of it is near a field, where a line crosses it, and what
 * the plan says of it. GEOS judges places and areas. */
#include "choice/run.h"
#include "plan_help.h"

#include <stdint.h>

static uint64_t seed = 20270618;

static double draw(double least, double most)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return least + (most - least) * (double)(seed >> 33) / 2147483648.0;
}

/* ---- crossings ---- */

/* Has so many rings of so many points each; as an area the second is a hole. */
static void meet(const struct fw_point *ring, const size_t *start, size_t rings,
                 bool area, const struct fw_point *line, size_t count,
                 struct fw_plan__stations *places)
{
    static const struct fw_farm_feature feature = {.posts = 1};
    struct fw_plan__obstacle obstacle = {
        .feature = &feature,
        .points = (struct fw_point *)ring,
        .shape = {ring, start, rings, area},
        .low = ring[0],
        .high = ring[0],
    };
    struct fw_error err;
    for (size_t i = 0; i < start[rings]; i++) {
        obstacle.low.x_m = fmin(obstacle.low.x_m, ring[i].x_m);
        obstacle.low.y_m = fmin(obstacle.low.y_m, ring[i].y_m);
        obstacle.high.x_m = fmax(obstacle.high.x_m, ring[i].x_m);
        obstacle.high.y_m = fmax(obstacle.high.y_m, ring[i].y_m);
    }
    assert_int_equal(fw_plan__cross(&obstacle, line, count, places, &err),
                     FW_OK);
}

static GEOSCoordSequence *points_of(GEOSContextHandle_t geos,
                                    const struct fw_point *points, size_t count,
                                    bool closed)
{
    GEOSCoordSequence *out =
        GEOSCoordSeq_create_r(geos, (unsigned)(count + closed), 2);
    for (size_t i = 0; i < count + closed; i++)
        GEOSCoordSeq_setXY_r(geos, out, (unsigned)i, points[i % count].x_m,
                             points[i % count].y_m);
    return out;
}

static GEOSGeometry *shape_of(GEOSContextHandle_t geos,
                              const struct fw_point *ring, const size_t *start,
                              size_t rings, bool area)
{
    if (!area)
        return GEOSGeom_createLineString_r(
            geos, points_of(geos, ring, start[1], false));
    GEOSGeometry *loops[2];
    for (size_t r = 0; r < rings; r++)
        loops[r] = GEOSGeom_createLinearRing_r(
            geos,
            points_of(geos, ring + start[r], start[r + 1] - start[r], true));
    return GEOSGeom_createPolygon_r(geos, loops[0], loops + 1,
                                    (unsigned)rings - 1);
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The middles of what a straight line from a to b shares with the shape, less
 * what keeps within a metre of an end. Returns how many; negative: too near to
 * such a limit to tell. */
static int middles_of(GEOSContextHandle_t geos, const GEOSGeometry *shape,
                      const struct fw_point line[2], double *out)
{
    GEOSGeometry *way =
        GEOSGeom_createLineString_r(geos, points_of(geos, line, 2, false));
    GEOSGeometry *met = GEOSIntersection_r(geos, way, shape);
    const double long_m =
        hypot(line[1].x_m - line[0].x_m, line[1].y_m - line[0].y_m);
    int count = 0;
    bool doubtful = false;
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, met); i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, met, i);
        if (GEOSisEmpty_r(geos, part))
            continue;
        const GEOSCoordSequence *ends = GEOSGeom_getCoordSeq_r(geos, part);
        unsigned all = 0;
        double low = HUGE_VAL, high = -HUGE_VAL;
        GEOSCoordSeq_getSize_r(geos, ends, &all);
        for (unsigned k = 0; k < all; k++) {
            double x, y;
            GEOSCoordSeq_getXY_r(geos, ends, k, &x, &y);
            const double m = hypot(x - line[0].x_m, y - line[0].y_m);
            low = fmin(low, m);
            high = fmax(high, m);
        }
        doubtful |= fabs(high - 1) < 0.01 || fabs(low - (long_m - 1)) < 0.01 ||
                    (all > 1 && high - low < 0.6);
        if (high > 1 && low < long_m - 1)
            out[count++] = (low + high) / 2;
    }
    qsort(out, (size_t)count, sizeof *out, by_size);
    GEOSGeom_destroy_r(geos, met);
    GEOSGeom_destroy_r(geos, way);
    return doubtful ? -1 : count;
}

/* A star with a hole of the same shape, or its outline laid open. */
static void lines_cross_where_geos_says(void **state)
{
    (void)state;
    enum { corners = 9 };
    static const size_t starts[] = {0, corners, 2 * corners};
    GEOSContextHandle_t geos = GEOS_init_r();
    size_t sure = 0, many = 0, none = 0;
    for (int n = 0; n < 900; n++) {
        struct fw_point ring[2 * corners], line[2];
        double wanted_m[4 * corners];
        const size_t rings = n % 3 == 2 ? 2 : 1;
        const bool area = n % 3 > 0;
        for (size_t i = 0; i < corners; i++) {
            const double turn = 2 * acos(-1) * (double)i / corners;
            const double away = draw(10, 60), in = draw(0.2, 0.8);
            ring[i] = (struct fw_point){away * cos(turn), away * sin(turn)};
            ring[corners + i] =
                (struct fw_point){in * ring[i].x_m, in * ring[i].y_m};
        }
        for (size_t i = 0; i < 2; i++)
            line[i] = (struct fw_point){draw(-80, 80), draw(-80, 80)};
        GEOSGeometry *shape = shape_of(geos, ring, starts, rings, area);
        struct fw_plan__stations places = {0};
        const int wanted = GEOSisValid_r(geos, shape)
                               ? middles_of(geos, shape, line, wanted_m)
                               : -1;
        if (wanted >= 0) {
            meet(ring, starts, rings, area, line, 2, &places);
            assert_int_equal(places.count, wanted);
            for (int i = 0; i < wanted; i++)
                assert_near(places.at_m[i], wanted_m[i], 1e-6);
            sure++;
            many += wanted > 1;
            none += wanted == 0;
        }
        fw_free(places.at_m);
        GEOSGeom_destroy_r(geos, shape);
    }
    GEOS_finish_r(geos);
    assert_true(sure > 500 && many > 100 && none > 50);
}

/* A ditch across a line of 100 m, and a bank of two metres from there on. */
static void what_is_within_a_metre_of_an_end_is_no_crossing(void **state)
{
    (void)state;
    static const struct {
        double at_m;
        bool ditch, bank;
    } rows[] = {
        {0.05, false, true},  {0.95, false, true},  {1.05, true, true},
        {50, true, true},     {98.95, true, true},  {99.05, false, false},
        {99.9, false, false}, {-0.95, false, true}, {-1.05, false, false},
    };
    static const struct fw_point line[] = {{0, 0}, {60, 0}, {100, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int turned = 0; turned < 2; turned++) {
            const double at = rows[i].at_m;
            const size_t starts[] = {0, turned ? 4 : 2};
            const struct fw_point shape[] = {
                {at, -5}, {at, 5}, {at + 2, 5}, {at + 2, -5}};
            struct fw_plan__stations places = {0};
            meet(shape, starts, 1, turned, line, 3, &places);
            assert_int_equal(places.count,
                             turned ? rows[i].bank : rows[i].ditch);
            if (places.count)
                assert_near(places.at_m[0],
                            turned ? (fmax(at, 0) + fmin(at + 2, 100)) / 2 : at,
                            1e-9);
            fw_free(places.at_m);
        }
}

/* A ditch that only just reaches the line from any side, and one that keeps
 * clear of it: its box is as wide as it is. */
static void a_ditch_that_just_reaches_a_line_crosses_it(void **state)
{
    (void)state;
    static const size_t starts[] = {0, 2};
    static const struct fw_point line[] = {{-20, 0}, {20, 0}};
    static const struct fw_point upright[] = {{0, -20}, {0, 20}};
    for (int n = 0; n < 8; n++) {
        const double to = n < 4 ? 0 : 0.5, sign = n & 1 ? -1 : 1;
        const bool up = n & 2;
        const struct fw_point ditch[] = {
            {up ? sign * to : 3, up ? 3 : sign * to},
            {up ? sign * 9 : 3, up ? 3 : sign * 9}};
        struct fw_plan__stations places = {0};
        meet(ditch, starts, 1, false, up ? upright : line, 2, &places);
        assert_int_equal(places.count, n < 4);
        if (places.count)
            assert_near(places.at_m[0], 23, 1e-9);
        fw_free(places.at_m);
    }
}

static void posts_and_minutes_are_whole_and_not_under_nothing(void **state)
{
    (void)state;
    struct fw_farm_feature feature = {.posts = 2.6, .minutes = 2.5};
    const struct fw_plan__obstacle obstacle = {.feature = &feature};
    assert_int_equal(fw_plan__crossing_posts(&obstacle), 3);
    assert_near(fw_plan__crossing_min(&obstacle), 2.5, 0);
    feature.posts = feature.minutes = -1;
    assert_int_equal(fw_plan__crossing_posts(&obstacle), 0);
    assert_near(fw_plan__crossing_min(&obstacle), 0, 0);
    feature.posts = feature.minutes = 0.4;
    assert_int_equal(fw_plan__crossing_posts(&obstacle), 0);
    assert_near(fw_plan__crossing_min(&obstacle), 0.4, 0);
}

/* ---- posts of a run ---- */

static struct fw_plan__run run_over(double at_m, int posts, double minutes,
                                    double gap_m)
{
    const struct fw_point ditch[] = {{at_m, -5}, {at_m, 5}};
    const size_t starts[] = {0, 2};
    const struct fw_farm_feature feature = {.posts = posts, .minutes = minutes};
    struct fw_plan__obstacle obstacle = {
        .feature = &feature,
        .points = (struct fw_point *)ditch,
        .shape = {ditch, starts, 1, false},
        .low = ditch[0],
        .high = ditch[1],
    };
    const struct fw_point line[] = {{0, 0}, {40, 0}, {40, 0}, {100, 0}};
    struct fw_farm_field field = {0};
    struct fw_farm farm = {.fields = &field, .moved = fw_fence_moved_default()};
    farm.moved.post_gap_m = gap_m;
    const struct fw_plan_job job = {
        .farm = &farm, .obstacles = &obstacle, .obstacle_count = 1};
    struct fw_plan__run run;
    struct fw_error err;
    assert_int_equal(fw_plan__run_find(&job, 0, line, 4, &run, &err), FW_OK);
    return run;
}

/* A metre apart about the place where the ditch is crossed, and none beyond an
 * end of the line; all in the order of the way. */
static void posts_of_a_crossing_stand_about_it(void **state)
{
    (void)state;
    static const struct {
        double at_m;
        int posts;
        double first_m, last_m;
    } rows[] = {{53, 1, 53, 53},     {53, 2, 52.5, 53.5},
                {53, 3, 52, 54},     {53, 4, 51.5, 54.5},
                {1.5, 5, 0.01, 3.5}, {98.5, 5, 96.5, 99.99},
                {53, 0, 0, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_plan__run run =
            run_over(rows[i].at_m, rows[i].posts, 2.5, 50);
        double least = HUGE_VAL, most = -HUGE_VAL;
        size_t ends = 0, ties = 0, crossing = 0;
        for (size_t k = 0; k < run.post_count; k++) {
            const struct fw_fence_post *post = &run.posts[k];
            assert_near(post->point.x_m, post->at_m, 1e-9);
            assert_true(k == 0 || post->at_m >= run.posts[k - 1].at_m);
            ends += post->why == FW_POST_END;
            ties += post->why == FW_POST_TIE;
            if (post->why != FW_POST_CROSSING)
                continue;
            least = fmin(least, post->at_m);
            most = fmax(most, post->at_m);
            crossing++;
        }
        assert_int_equal(ends, 2);
        assert_int_equal(ties, 1); /* a point given twice is one */
        assert_int_equal(run.posts[0].why, FW_POST_END);
        assert_int_equal(run.posts[run.post_count - 1].why, FW_POST_END);
        assert_int_equal(crossing, rows[i].posts);
        if (crossing) {
            assert_near(least, rows[i].first_m, 1e-9);
            assert_near(most, rows[i].last_m, 1e-9);
        }
        assert_near(run.crossing_min, 2.5, 0);
        assert_near(run.ground_share, 1, 0);
        fw_plan__run_release(&run);
    }
}

/* The pieces of 40 m and 60 m have their own even gaps of 12 m at most. */
static void a_run_counts_its_posts_wire_and_reels(void **state)
{
    (void)state;
    struct fw_plan__run run = run_over(53, 2, 3, 12);
    size_t gaps = 0;
    for (size_t k = 0; k < run.post_count; k++)
        gaps += run.posts[k].why == FW_POST_GAP;
    assert_int_equal(gaps, 3 + 4);
    run.ground_share = 1.1;
    const struct fw_fence_spec spec = {
        .strands = 3, .slack = 0.05, .reel_m = 100};
    const struct fw_fence_count count = fw_plan__run_count(&run, 100, &spec);
    assert_int_equal(count.posts, 3 + 7 + 2);
    assert_near(count.line_m, 110, 1e-9);
    assert_near(count.wire_m, 110 * 1.05 * 3, 1e-9);
    assert_int_equal(count.reels, 3 * 2);
    fw_plan__run_release(&run);
}

/* ---- near a field ---- */

/* `leaning` goes from -20 to 310 east and from 0 to 240 north; places of
 * features are told from its low corner. Ditches of 10 m that lie so far
 * outside of that box on each side. */
static void only_what_is_near_the_field_is_looked_at(void **state)
{
    (void)state;
    static const double off_m[] = {-0.5, 0.5};
    for (int far = 0; far < 2; far++) {
        const double off = off_m[far];
        const double west[][2] = {{-off - 10, 100}, {-off, 110}};
        const double east[][2] = {{330 + off, 100}, {340 + off, 110}};
        const double south[][2] = {{100, -off - 10}, {110, -off}};
        const double north[][2] = {{100, 240 + off}, {110, 250 + off}};
        struct fw_farm *farm = farm_of(&leaning, NULL);
        add_feature(farm, FW_ROLE_HARD_GOING, false, west, 2);
        add_feature(farm, FW_ROLE_SHADE, false, west, 2);
        add_feature(farm, FW_ROLE_HARD_GOING, false, east, 2);
        add_feature(farm, FW_ROLE_HARD_GOING, false, south, 2);
        add_feature(farm, FW_ROLE_HARD_GOING, false, north, 2);
        add_feature(farm, FW_ROLE_HARD_GOING, false, north, 2);
        farm->features[5].kind = FW_FEATURE_POINT;
        struct fw_plan_job job = {.farm = farm};
        struct fw_error err;
        for (int again = 0; again < 2; again++) {
            assert_int_equal(fw_plan__obstacles(&job, 0, &err), FW_OK);
            assert_int_equal(job.obstacle_count, far ? 0 : 4);
        }
        for (size_t i = 0; i < job.obstacle_count; i++) {
            const struct fw_plan__obstacle *it = &job.obstacles[i];
            assert_true(it->feature == &farm->features[i ? i + 1 : 0]);
            assert_near(it->low.x_m, fmin(it->points[0].x_m, it->points[1].x_m),
                        0);
            assert_near(it->high.y_m,
                        fmax(it->points[0].y_m, it->points[1].y_m), 0);
            assert_near(it->high.x_m - it->low.x_m, 10, 1e-3);
            assert_near(it->high.y_m - it->low.y_m, 10, 1e-3);
            assert_false(it->shape.area);
        }
        fw_plan__obstacles_release(&job);
        assert_int_equal(job.obstacle_count, 0);
        fw_farm_free(farm);
    }
}

/* ---- in the plan ---- */

/* Strips whose fences run east and west. */
static struct fw_farm *across(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    farm->direction_deg = 90;
    return farm;
}

/* A ditch there and back, and a bank without a name from 200 to 204. */
static void crossings_are_told_by_fence_and_obstacle(void **state)
{
    (void)state;
    static const double ditch[][2] = {
        {100, -10}, {100, 220}, {120, 220}, {120, -10}};
    static const double bank[][2] = {
        {200, -10}, {204, -10}, {204, 210}, {200, 210}};
    struct fw_farm *farm = across();
    add_feature(farm, FW_ROLE_HARD_GOING, false, ditch, 4);
    add_feature(farm, FW_ROLE_HARD_GOING, true, bank, 4);
    farm->features[0].name = fw_strdup("Mill ditch");
    farm->features[1].name = fw_strdup("");
    for (int i = 0; i < 2; i++) {
        farm->features[i].posts = 3 - i;
        farm->features[i].minutes = 1.5 + i;
        farm->features[i].sheep_cross = -1;
    }
    struct fw_plan *plan = plan_of(farm);
    size_t moved = 0;
    for (size_t f = 0; f < plan->fence_count; f++) {
        const struct fw_plan_crossing *told[2] = {NULL, NULL};
        size_t count = 0;
        for (size_t i = 0; i < plan->crossing_count; i++)
            if (plan->crossings[i].fence == f && count++ < 2)
                told[count - 1] = &plan->crossings[i];
        assert_int_equal(count, plan->fences[f].role == FW_FENCE_MOVED ? 2 : 0);
        if (count == 0)
            continue;
        assert_string_equal(told[0]->what, "Mill ditch");
        assert_int_equal(told[0]->times, 2);
        assert_int_equal(told[0]->posts, 6);
        assert_near(told[0]->minutes, 3, 1e-12);
        assert_string_equal(told[1]->what, "hard going");
        assert_int_equal(told[1]->times, 1);
        assert_int_equal(told[1]->posts, 2);
        assert_near(told[1]->minutes, 2.5, 1e-12);
        moved++;
    }
    assert_true(moved > 10);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static const char *apart_note(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, "on both sides of"))
            return plan->notes.items[i].text;
    return NULL;
}

static double extent_m(const struct fw_plan *plan, size_t paddock)
{
    return plan->paddocks[paddock].plane_m2 / 300; /* strips of 300 m */
}

/* A straight ditch so far from the west end of each strip: what they do not
 * reach is what is cut off there, and under 50 m2 it is not spoken of. */
static void ground_out_of_reach_is_told_in_square_metres(void **state)
{
    (void)state;
    static const double at_m[] = {30, 270, 3};
    for (size_t i = 0; i < 3; i++) {
        const double ditch[][2] = {{at_m[i], -5}, {at_m[i], 205}};
        const double in_m = fmin(at_m[i], 300 - at_m[i]);
        struct fw_farm *farm = across();
        add_feature(farm, FW_ROLE_HARD_GOING, false, ditch, 2);
        farm->features[0].posts = farm->features[0].minutes = 0;
        farm->features[0].sheep_cross = 0.49;
        struct fw_plan *plan = plan_of(farm);
        double most_m2 = 0;
        for (size_t p = 0; p < plan->paddock_count; p++)
            most_m2 = fmax(most_m2, in_m * extent_m(plan, p));
        const char *said = apart_note(plan);
        assert_int_equal(said != NULL, most_m2 >= 50);
        if (said) {
            const char *up = strstr(said, "up to ");
            assert_non_null(up);
            assert_near(strtod(up + 6, NULL), most_m2, 0.6);
            assert_non_null(strstr(said, "A01, A02, "));
            assert_non_null(strstr(said, " lie on both sides of hard going, "));
        }
        fw_plan_free(plan);
        farm->features[0].sheep_cross = 0.5; /* as good as any way */
        plan = plan_of(farm);
        assert_null(apart_note(plan));
        fw_plan_free(plan);
        farm->features[0].sheep_cross = -1; /* nobody told */
        plan = plan_of(farm);
        assert_null(apart_note(plan));
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* A ditch that comes into the first strip from outside and goes out again: what
 * it cuts off is half as deep as the strip. */
static void one_paddock_lies_on_both_sides(void **state)
{
    (void)state;
    static const double wide_m[] = {20, 12};
    for (int i = 0; i < 2; i++) {
        struct fw_farm *farm = across();
        struct fw_plan *plan = plan_of(farm);
        const double deep_m = extent_m(plan, 0);
        const size_t *ring = plan->paddocks[0].rings.vertices;
        double high_m = -HUGE_VAL, low_m = HUGE_VAL;
        for (size_t v = 0; v < plan->fields[0].vertex_count; v++)
            low_m = fmin(low_m, plan->fields[0].vertices[v].plane.y_m);
        for (size_t v = 0; v < plan->paddocks[0].rings.ring_start[1]; v++)
            high_m = fmax(high_m,
                          plan->fields[0].vertices[ring[v]].plane.y_m - low_m);
        const bool north = high_m > 100;
        const double out_m = north ? 210 : -10;
        const double in_m = north ? 200 - deep_m / 2 : deep_m / 2;
        const double ditch[][2] = {{100, out_m},
                                   {100, in_m},
                                   {100 + wide_m[i], in_m},
                                   {100 + wide_m[i], out_m}};
        fw_plan_free(plan);
        add_feature(farm, FW_ROLE_HARD_GOING, false, ditch, 4);
        farm->features[0].sheep_cross = 0;
        plan = plan_of(farm);
        const char *said = apart_note(plan);
        const double cut_m2 = wide_m[i] * deep_m / 2;
        assert_true(fabs(cut_m2 - 50) > 5);
        assert_int_equal(said != NULL, cut_m2 > 50);
        if (said) {
            assert_int_equal(
                strncmp(said, "A01 lies on both sides of hard going, ", 38), 0);
            /* The ditch is a hair wide, whole square metres are told. */
            assert_near(strtod(strstr(said, "up to ") + 6, NULL), cut_m2, 0.8);
        }
        assert_int_equal(plan->crossing_count, 0);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_cross_where_geos_says),
        cmocka_unit_test(what_is_within_a_metre_of_an_end_is_no_crossing),
        cmocka_unit_test(a_ditch_that_just_reaches_a_line_crosses_it),
        cmocka_unit_test(posts_and_minutes_are_whole_and_not_under_nothing),
        cmocka_unit_test(posts_of_a_crossing_stand_about_it),
        cmocka_unit_test(a_run_counts_its_posts_wire_and_reels),
        cmocka_unit_test(only_what_is_near_the_field_is_looked_at),
        cmocka_unit_test(crossings_are_told_by_fence_and_obstacle),
        cmocka_unit_test(ground_out_of_reach_is_told_in_square_metres),
        cmocka_unit_test(one_paddock_lies_on_both_sides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
