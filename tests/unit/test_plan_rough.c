/* Plans on rough ground: slopes, hollows, brows, ditches. */
#include "choice/run.h"
#include "relief.h"

#include "fence/fence.h"

#include <stdint.h>

static const double pi = 3.14159265358979323846;

/* ---- heights ---- */

static double tilt(double x, double y, double size)
{
    (void)y;
    return size * x;
}

static double gully(double x, double y, double size)
{
    (void)y;
    return -size * exp(-pow((x - 146) / 4, 2));
}

static double ridge(double x, double y, double size)
{
    return -gully(x, y, size);
}

static double waves(double x, double y, double size)
{
    return size * (sin(x / 9) + cos(y / 7 + x / 23));
}

/* Strips whose fences run east and west. */
static struct fw_farm *across(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    farm->direction_deg = 90;
    farm->rates.posts_an_armful = 1000; /* so that a post is a post */
    return farm;
}

static void a_fence_up_a_slope_is_longer_on_the_ground(void **state)
{
    (void)state;
    const double slope[] = {0.1, 0.2, 0.3, 0.5};
    const double longer[] = {1.0050, 1.0198, 1.0440, 1.1180};
    struct fw_farm *level = across();
    struct fw_plan *flat = plan_of(level);
    for (size_t i = 0; i < 4; i++) {
        struct fw_farm *farm = across();
        set_heights(farm, tilt, slope[i], 5);
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->fence_count, flat->fence_count);
        for (size_t f = 0; f < plan->fence_count; f++) {
            const struct fw_plan_fence *fence = &plan->fences[f];
            if (fence->role != FW_FENCE_MOVED)
                continue;
            const double share = fence->ground_m / fence->length_m;
            assert_near(share, hypot(1, slope[i]), 1e-5);
            assert_near(share, longer[i], 6e-5);
            assert_near(fence->wire_m / flat->fences[f].wire_m, share, 1e-9);
            assert_int_equal(fence->posts, flat->fences[f].posts);
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    for (size_t f = 0; f < flat->fence_count; f++)
        assert_near(flat->fences[f].ground_m, flat->fences[f].length_m, 0);
    fw_plan_free(flat);
    fw_farm_free(level);
}

static size_t posts_that(const struct fw_plan *plan, size_t fence,
                         enum fw_post_why why)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        count += plan->posts[i].fence == fence && plan->posts[i].why == why;
    return count;
}

/* The deepest hollow and the highest brow between posts, by the straight line
 * between their feet. */
static void look_between(const struct fw_plan *plan,
                         const struct fw_raster *heights, size_t fence,
                         double step_m, double *down_m, double *up_m)
{
    const struct fw_plan_post *before = NULL;
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_plan_post *post = &plan->posts[i];
        if (post->fence != fence)
            continue;
        if (before) {
            const struct fw_point a = before->place.plane;
            const struct fw_point b = post->place.plane;
            const double long_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
            const double low = fw_raster_at_point(heights, a);
            const double high = fw_raster_at_point(heights, b);
            for (double at = step_m; at < long_m; at += step_m) {
                const double t = at / long_m;
                const struct fw_point here = {a.x_m + t * (b.x_m - a.x_m),
                                              a.y_m + t * (b.y_m - a.y_m)};
                const double over = fw_raster_at_point(heights, here) -
                                    (low + t * (high - low));
                *up_m = fmax(*up_m, over);
                *down_m = fmax(*down_m, -over);
            }
        }
        before = post;
    }
}

static void hollows_and_brows_get_posts(void **state)
{
    (void)state;
    for (int brow = 0; brow < 2; brow++) {
        struct fw_farm *farm = across();
        set_heights(farm, brow ? ridge : gully, brow ? 0.9 : 1.5, 1);
        struct fw_plan *plan = plan_of(farm);
        size_t seen = 0;
        for (size_t f = 0; f < plan->fence_count; f++) {
            if (plan->fences[f].role != FW_FENCE_MOVED)
                continue;
            double down_m = 0, up_m = 0;
            assert_true(
                posts_that(plan, f, brow ? FW_POST_CREST : FW_POST_DIP) >= 1);
            look_between(plan, farm->fields[0].heights, f, 0.25, &down_m,
                         &up_m);
            /* Between two looks a metre apart the ground may go on a little. */
            assert_true(down_m < 0.35 + 0.05);
            assert_true(up_m < 0.35 / 2 + 0.05);
            seen++;
        }
        assert_true(seen > 5);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

static void shallow_ground_gets_none(void **state)
{
    (void)state;
    struct fw_farm *farm = across();
    set_heights(farm, gully, 0.16, 1);
    struct fw_plan *plan = plan_of(farm);
    for (size_t f = 0; f < plan->fence_count; f++) {
        assert_int_equal(posts_that(plan, f, FW_POST_DIP), 0);
        assert_int_equal(posts_that(plan, f, FW_POST_CREST), 0);
    }
    fw_plan_free(plan);
    fw_farm_free(farm);
}

static void count_alike(const struct fw_farm *farm)
{
    struct fw_plan *plan = plan_of(farm);
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    size_t posts = 0, fences = 0;
    assert_int_equal(fw_plan_compare(farm, &scores, &err), FW_OK);
    for (size_t i = 0; i < scores.count; i++)
        if (scores.items[i].chosen) {
            assert_int_equal(scores.items[i].kit.posts, plan->totals.kit.posts);
            assert_near(scores.items[i].kit.wire_m / plan->totals.kit.wire_m, 1,
                        1e-5);
        }
    for (size_t f = 0; f < plan->fence_count; f++) {
        size_t own = 0;
        for (size_t i = 0; i < plan->post_count; i++)
            own +=
                plan->posts[i].fence == f && plan->posts[i].why != FW_POST_SIGN;
        assert_int_equal(own, plan->fences[f].posts);
        posts += own;
        fences++;
    }
    assert_true(posts > fences);
    fw_plan_scores_release(&scores);
    fw_plan_free(plan);
}

static void search_and_plan_count_alike(void **state)
{
    (void)state;
    const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                              &pond};
    for (size_t i = 0; i < 4; i++) {
        struct fw_farm *farm = farm_of(outlines[i], NULL);
        set_heights(farm, waves, 2, 4);
        count_alike(farm);
        fw_farm_free(farm);
    }
}

/* The posts of a line are the same from either end. */
static void a_line_has_the_same_posts_both_ways(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    set_heights(farm, waves, 2, 4);
    const struct fw_plan_job job = {.farm = farm};
    const struct fw_point there[] = {{-100, -60}, {20, 33}, {90, -40}};
    const struct fw_point back[] = {{90, -40}, {20, 33}, {-100, -60}};
    struct fw_plan__run one, other;
    struct fw_error err;
    assert_int_equal(fw_plan__run_find(&job, 0, there, 3, &one, &err), FW_OK);
    assert_int_equal(fw_plan__run_find(&job, 0, back, 3, &other, &err), FW_OK);
    assert_int_equal(one.post_count, other.post_count);
    assert_near(one.ground_share, other.ground_share, 1e-12);
    size_t evened = 0;
    for (size_t i = 0; i < one.post_count; i++) {
        const struct fw_fence_post *a = &one.posts[i];
        const struct fw_fence_post *b = &other.posts[one.post_count - 1 - i];
        assert_near(
            hypot(a->point.x_m - b->point.x_m, a->point.y_m - b->point.y_m), 0,
            1e-9);
        assert_int_equal(a->why, b->why);
        evened += a->why == FW_POST_DIP || a->why == FW_POST_CREST;
    }
    assert_true(evened > 2);
    fw_plan__run_release(&one);
    fw_plan__run_release(&other);
    fw_farm_free(farm);
}

static size_t steep_findings(const struct fw_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        if (strcmp(finding->rule, "steep") != 0 || !finding->measured)
            continue;
        assert_true(finding->distance_m < finding->wanted_m);
        assert_true(finding->place.given);
        assert_near(finding->wanted_m, 3, 0);
        assert_non_null(strstr(finding->source, "South Australia"));
        count++;
    }
    return count;
}

static bool says_unlooked(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (strstr(plan->findings[i].text, "no model of the ground"))
            return true;
    return false;
}

static void ground_over_thirty_per_cent_is_found(void **state)
{
    (void)state;
    const double slopes[] = {0.295, 0.305};
    for (size_t i = 0; i < 2; i++) {
        struct fw_farm *farm = across();
        set_heights(farm, tilt, slopes[i], 5);
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(steep_findings(plan), i ? plan->fence_count : 0);
        for (size_t k = 0; k < plan->finding_count; k++)
            if (strcmp(plan->findings[k].rule, "steep") == 0) /* all of it is */
                assert_near(plan->findings[k].distance_m, 0, 0);
        assert_false(says_unlooked(plan));
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    struct fw_farm *farm = across();
    struct fw_plan *plan = plan_of(farm);
    assert_true(says_unlooked(plan));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* A bank of 45 % from x = 200 to x = 202: only what comes within 3 m of it. */
static double step_up(double x, double y, double size)
{
    (void)y;
    return size * fmin(2, fmax(0, x - 200));
}

static void only_fences_near_the_bank_are_named(void **state)
{
    (void)state;
    struct fw_farm *farm = across();
    farm->direction_deg = 0; /* lines along it */
    set_heights(farm, step_up, 0.45, 1);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_plan_field *field = &plan->fields[0];
    const double zero =
        fw_plane_forward(&field->plane, (struct fw_lonlat){25.5, 58.3}).x_m;
    size_t near = 0, clear = 0, close = 0;
    for (size_t f = 0; f < plan->fence_count; f++) {
        const struct fw_plan_fence *fence = &plan->fences[f];
        double low = HUGE_VAL, high = -HUGE_VAL;
        for (size_t v = 0; v < fence->line_count; v++) {
            const double x = field->vertices[fence->line[v]].plane.x_m - zero;
            low = fmin(low, x);
            high = fmax(high, x);
        }
        /* Cells blur the foot and the brow by one of them. */
        near += low < 204 && high > 198;
        close += low < 206 && high > 196;
        clear += !(low < 206 && high > 196);
    }
    assert_true(clear > 3);
    assert_true(steep_findings(plan) >= near);
    assert_true(steep_findings(plan) <= close);
    assert_true(near >= 2);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- hard going ---- */

static void add_hard(struct fw_farm *farm, const struct fw_xy *points,
                     size_t count, bool area, double posts, double minutes,
                     double sheep_cross)
{
    struct fw_crs *crs = open_crs();
    struct fw_farm_feature *feature;
    farm->features = fw_alloc(1, sizeof *farm->features);
    farm->feature_count = farm->feature_capacity = 1;
    feature = farm->features;
    *feature = (struct fw_farm_feature){
        .role = FW_ROLE_HARD_GOING,
        .kind = area ? FW_FEATURE_POLYGON : FW_FEATURE_LINE,
        .points = fw_alloc(count, sizeof *feature->points),
        .ring_start = fw_alloc(2, sizeof *feature->ring_start),
        .ring_count = 1,
        .name = fw_strdup("Mill ditch"),
        .kv = -1,
        .minutes = minutes,
        .posts = posts,
        .sheep_cross = sheep_cross,
    };
    feature->ring_start[1] = count;
    assert_int_equal(
        fw_crs_to_lonlat(crs, points, feature->points, count, NULL, NULL),
        FW_OK);
    fw_crs_free(crs);
}

static const struct fw_xy ditch[] = {{150, -10}, {155, 100}, {150, 210}};
static const struct fw_xy bank[] = {
    {150, -10}, {156, -10}, {156, 210}, {150, 210}};

static void each_crossing_is_paid_for(void **state)
{
    (void)state;
    struct fw_farm *plain = across();
    struct fw_plan *before = plan_of(plain);
    for (int area = 0; area < 2; area++) {
        struct fw_farm *farm = across();
        add_hard(farm, area ? bank : ditch, area ? 4 : 3, area, 2, 3, -1);
        struct fw_plan *plan = plan_of(farm);
        assert_string_equal(plan->fields[0].layout, before->fields[0].layout);
        size_t moved = 0;
        for (size_t f = 0; f < plan->fence_count; f++) {
            if (plan->fences[f].role != FW_FENCE_MOVED)
                continue;
            assert_int_equal(plan->fences[f].posts,
                             before->fences[f].posts + 2);
            assert_int_equal(posts_that(plan, f, FW_POST_CROSSING), 2);
            moved++;
        }
        assert_int_equal(plan->crossing_count, moved);
        assert_string_equal(plan->crossings[0].what, "Mill ditch");
        assert_near(plan->crossings[0].minutes, 3, 0);
        /* Two posts more to set and to pull, by the rates' own seconds. */
        const struct fw_fence_rates *rates = &farm->rates;
        for (size_t m = 0; m < plan->time.move_count; m++) {
            double more = 0;
            for (size_t f = 0; f < plan->fence_count; f++) {
                if (plan->fences[f].role != FW_FENCE_MOVED)
                    continue;
                if (move_that(plan, FW_STEP_SET, f) == m)
                    more += 3 + 2 * rates->set_post_s / 60;
                if (move_that(plan, FW_STEP_TAKE_DOWN, f) == m)
                    more += 2 * rates->pull_post_s / 60;
            }
            assert_near(plan->time.moves[m].minutes -
                            before->time.moves[m].minutes,
                        more, 1e-9);
        }
        count_alike(farm);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    fw_plan_free(before);
    fw_farm_free(plain);
}

/* Where it costs enough, the fences run along the ditch. */
static void the_search_goes_round_what_costs_too_much(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->limits_off = true;
    add_hard(farm, ditch, 3, false, 4, 0, -1);
    struct fw_plan *cheap = plan_of(farm);
    farm->features[0].minutes = 200;
    struct fw_plan *dear = plan_of(farm);
    assert_true(dear->crossing_count <= 1);
    assert_true(dear->crossing_count <= cheap->crossing_count);
    fw_plan_free(cheap);
    fw_plan_free(dear);
    fw_farm_free(farm);
}

static const char *both_sides(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, "both sides"))
            return plan->notes.items[i].text;
    return NULL;
}

static void paddocks_on_both_sides_are_named(void **state)
{
    (void)state;
    struct fw_farm *farm = across();
    add_hard(farm, ditch, 3, false, 2, 3, 0);
    struct fw_plan *plan = plan_of(farm);
    const char *said = both_sides(plan);
    assert_non_null(strstr(said, "lie on both sides of Mill ditch, which sheep "
                                 "do not cross"));
    for (size_t p = 0; p < plan->paddock_count; p++)
        assert_non_null(strstr(said, plan->paddocks[p].id));
    fw_plan_free(plan);
    farm->features[0].sheep_cross = 1;
    plan = plan_of(farm);
    assert_null(both_sides(plan));
    fw_plan_free(plan);

    /* Strips along it: only what it runs through, by GEOS. */
    farm->features[0].sheep_cross = 0;
    farm->direction_deg = 0;
    plan = plan_of(farm);
    said = both_sides(plan);
    assert_non_null(said);
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, 3, 2);
    for (unsigned i = 0; i < 3; i++) {
        const struct fw_point at = fw_plane_forward(
            &plan->fields[0].plane, farm->features[0].points[i]);
        GEOSCoordSeq_setXY_r(geos, points, i, at.x_m, at.y_m);
    }
    GEOSGeometry *line = GEOSGeom_createLineString_r(geos, points);
    size_t named = 0;
    for (size_t p = 0; p < plan->paddock_count; p++) {
        GEOSGeometry *paddock =
            polygon_of(geos, &plan->fields[0], &plan->paddocks[p].rings, 0);
        GEOSGeometry *edge = GEOSBoundary_r(geos, paddock);
        GEOSGeometry *both = GEOSUnion_r(geos, edge, line);
        const GEOSGeometry *list[] = {both};
        GEOSGeometry *faces = GEOSPolygonize_r(geos, list, 1);
        double parts = 0;
        for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces); i++)
            parts += area_of(geos, GEOSGetGeometryN_r(geos, faces, i)) > 50;
        assert_true((strstr(said, plan->paddocks[p].id) != NULL) ==
                    (parts > 1));
        named += parts > 1;
        GEOSGeom_destroy_r(geos, paddock);
        GEOSGeom_destroy_r(geos, edge);
        GEOSGeom_destroy_r(geos, both);
        GEOSGeom_destroy_r(geos, faces);
    }
    assert_true(named >= 1 && named < plan->paddock_count);
    GEOSGeom_destroy_r(geos, line);
    GEOS_finish_r(geos);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* ---- crossings by brute force ---- */

static uint64_t next(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return *seed >> 33;
}

static double draw(uint64_t *seed, double least, double most)
{
    return least + (most - least) * (double)next(seed) / 2147483648.0;
}

static bool holds(const struct fw_point *ring, size_t count, struct fw_point p)
{
    bool in = false;
    for (size_t i = 0, k = count - 1; i < count; k = i++)
        if ((ring[i].y_m > p.y_m) != (ring[k].y_m > p.y_m) &&
            p.x_m < ring[k].x_m + (ring[i].x_m - ring[k].x_m) *
                                      (p.y_m - ring[k].y_m) /
                                      (ring[i].y_m - ring[k].y_m))
            in = !in;
    return in;
}

static void areas_are_crossed_as_often_as_walking_says(void **state)
{
    (void)state;
    const char *given = getenv("FW_SEED");
    uint64_t seed = given ? strtoull(given, NULL, 10) : 20270517;
    print_message("# FW_SEED=%llu\n", (unsigned long long)seed);
    size_t many = 0;
    for (int n = 0; n < 300; n++) {
        struct fw_point ring[9], line[3];
        const size_t start[] = {0, 9};
        for (size_t i = 0; i < 9; i++) {
            const double turn = 2 * pi * (double)i / 9;
            const double away = draw(&seed, 10, 60);
            ring[i] = (struct fw_point){away * cos(turn), away * sin(turn)};
        }
        for (size_t i = 0; i < 3; i++)
            line[i] =
                (struct fw_point){draw(&seed, -80, 80), draw(&seed, -80, 80)};
        const struct fw_farm_feature feature = {.posts = 1};
        const struct fw_plan__obstacle obstacle = {
            .feature = &feature,
            .points = ring,
            .shape = {ring, start, 1, true},
            .low = {-60, -60},
            .high = {60, 60},
        };
        struct fw_plan__stations places = {0};
        struct fw_error err;
        assert_int_equal(fw_plan__cross(&obstacle, line, 3, &places, &err),
                         FW_OK);
        const double long_m = fw_line_length_m(line, 3, false);
        size_t runs = 0;
        double from_m = -1, last_m = 0;
        bool doubtful = false;
        for (double at = 0; at <= long_m; at += 0.02) {
            const bool in = holds(ring, 9, fw_safety_along(line, 3, at));
            if (in && from_m < 0)
                from_m = at;
            if (from_m >= 0 && (!in || at + 0.02 > long_m)) {
                last_m = at;
                doubtful |= last_m - from_m < 0.6 || fabs(last_m - 1) < 0.1 ||
                            fabs(from_m - (long_m - 1)) < 0.1;
                runs += last_m > 1 && from_m < long_m - 1;
                from_m = -1;
            }
        }
        if (!doubtful)
            assert_int_equal(places.count, runs);
        many += runs > 1;
        fw_free(places.at_m);
    }
    assert_true(many > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fence_up_a_slope_is_longer_on_the_ground),
        cmocka_unit_test(hollows_and_brows_get_posts),
        cmocka_unit_test(shallow_ground_gets_none),
        cmocka_unit_test(search_and_plan_count_alike),
        cmocka_unit_test(a_line_has_the_same_posts_both_ways),
        cmocka_unit_test(ground_over_thirty_per_cent_is_found),
        cmocka_unit_test(only_fences_near_the_bank_are_named),
        cmocka_unit_test(each_crossing_is_paid_for),
        cmocka_unit_test(the_search_goes_round_what_costs_too_much),
        cmocka_unit_test(paddocks_on_both_sides_are_named),
        cmocka_unit_test(areas_are_crossed_as_often_as_walking_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
