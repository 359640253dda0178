/* Lines over ground that rises and falls: how much longer they are, and where
 * they need a post. Ground of closed form, on a raster of a metre. */
#include "choice/run.h"
#include "plan_help.h"

static const double middle_x = 150, half_m = 10;
static double size_m; /* how deep or high */

typedef double (*relief)(double x, double y);

static double tilted(double x, double y)
{
    return 0.3 * x + 0.2 * y;
}

/* A parabola across: as deep as told in the middle, level 10 m away. */
static double hollow(double x, double y)
{
    const double u = (x - middle_x) / half_m;
    (void)y;
    return fabs(u) < 1 ? -size_m * (1 - u * u) : 0;
}

static double unknown_in_the_east(double x, double y)
{
    (void)y;
    return x < 150 ? 0.75 * x : (double)NAN;
}

/* A metre wide, 20 m beyond the field on all sides. */
static struct fw_farm *farm_on(relief height)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    enum { columns = 340, rows = 240 };
    struct fw_error err;
    struct fw_crs *crs;
    struct fw_grid grid = {
        .affine = {-20, 1, 0, 220, 0, -1},
        .columns = columns,
        .rows = rows,
        .values = fw_alloc((size_t)columns * rows, sizeof(double))};
    for (int j = 0; j < rows; j++)
        for (int i = 0; i < columns; i++)
            grid.values[j * columns + i] = height(-19.5 + i, 219.5 - j);
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    assert_int_equal(fw_raster_new(&grid, crs, &farm->fields[0].shape->plane,
                                   &farm->fields[0].heights, &err),
                     FW_OK);
    fw_crs_free(crs);
    fw_grid_release(&grid);
    return farm;
}

static struct fw_point at(const struct fw_farm *farm, double x, double y)
{
    const struct fw_point zero = fw_plane_forward(
        &farm->fields[0].shape->plane, (struct fw_lonlat){25.5, 58.3});
    return (struct fw_point){zero.x_m + x, zero.y_m + y};
}

static void a_bent_line_is_as_long_as_its_pieces(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_on(tilted);
    const struct fw_raster *heights = farm->fields[0].heights;
    const struct fw_point line[] = {at(farm, 20, 20), at(farm, 50, 60),
                                    at(farm, 50, 60), at(farm, 110, 60),
                                    at(farm, 110, 30.5)};
    /* Rises of 17, 18 and -5.9 m over 50, 60 and 29.5 m. */
    const double ground_m = hypot(50, 17) + hypot(60, 18) + hypot(29.5, 5.9);
    assert_near(fw_plan__ground_share(heights, line, 5), ground_m / 139.5,
                1e-5);
    assert_near(fw_plan__ground_share(heights, line, 2), hypot(50, 17) / 50,
                1e-5);
    assert_near(fw_plan__ground_share(heights, line + 1, 2), 1, 0);
    assert_near(fw_plan__ground_share(NULL, line, 5), 1, 0);
    fw_farm_free(farm);
}

/* 100 m of it rise by 0.75, 100 m are not known and count as level. */
static void unknown_ground_counts_as_level(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_on(unknown_in_the_east);
    const struct fw_point line[] = {at(farm, 50, 90), at(farm, 250, 90)};
    const struct fw_point back[] = {line[1], line[0]};
    const double wanted = (100 * 1.25 + 100) / 200;
    const struct fw_raster *heights = farm->fields[0].heights;
    assert_near(fw_plan__ground_share(heights, line, 2), wanted, 0.004);
    assert_near(fw_plan__ground_share(heights, back, 2), wanted, 0.004);
    fw_farm_free(farm);
}

/* From edge to edge of the hollow, from 7 m along a run on, either way. A wire
 * 0.4 m up: over 0.4 m below the line between the feet sheep go under, over
 * half of that above it is in the grass. Then one post in the middle is all.
 * The cells blur the edges, so that a twentieth of the depth is lost. */
static void a_hollow_and_a_brow_get_one_post_in_the_middle(void **state)
{
    (void)state;
    static const struct {
        double deep_m; /* negative: a brow */
        enum fw_post_why why;
        size_t posts;
    } rows[] = {
        {0.41, FW_POST_DIP, 0},     {0.43, FW_POST_DIP, 1},
        {0.8, FW_POST_DIP, 1},      {-0.205, FW_POST_CREST, 0},
        {-0.215, FW_POST_CREST, 1}, {-0.4, FW_POST_CREST, 1},
    };
    for (size_t i = 0; i < 2 * (sizeof rows / sizeof *rows); i++) {
        size_m = rows[i / 2].deep_m;
        struct fw_farm *farm = farm_on(hollow);
        const double x = i % 2 ? half_m : -half_m;
        struct fw_plan__run run = {0};
        struct fw_error err;
        assert_int_equal(fw_plan__even_out(farm->fields[0].heights, 0.4,
                                           at(farm, middle_x + x, 80),
                                           at(farm, middle_x - x, 80), 7, &run,
                                           0, &err),
                         FW_OK);
        assert_int_equal(run.post_count, rows[i / 2].posts);
        if (run.post_count) {
            const struct fw_point middle = at(farm, middle_x, 80);
            assert_near(run.posts[0].at_m, 7 + half_m, 0.51);
            assert_near(run.posts[0].point.x_m, middle.x_m, 0.51);
            assert_near(run.posts[0].point.y_m, middle.y_m, 1e-6);
            assert_int_equal(run.posts[0].why, rows[i / 2].why);
        }
        fw_plan__run_release(&run);
        fw_farm_free(farm);
    }
}

/* With a post in the middle already nothing more is needed; the others stay
 * what and where they are. */
static void posts_that_stand_there_are_counted(void **state)
{
    (void)state;
    size_m = 0.8;
    struct fw_farm *farm = farm_on(hollow);
    for (int n = 0; n < 4; n++) {
        const double x = n % 2 ? half_m : -half_m, off_m = n < 2 ? 10 : 3;
        const struct fw_point from = at(farm, middle_x + x, 80);
        const struct fw_point to = at(farm, middle_x - x, 80);
        struct fw_plan__run run = {0};
        struct fw_error err;
        const struct fw_point post = {
            from.x_m + (to.x_m - from.x_m) * off_m / 20, from.y_m};
        assert_int_equal(fw_plan__run_post(&run, 0, from, FW_POST_END, &err),
                         FW_OK);
        assert_int_equal(
            fw_plan__run_post(&run, 7 + off_m, post, FW_POST_GAP, &err), FW_OK);
        assert_int_equal(fw_plan__even_out(farm->fields[0].heights, 0.4, from,
                                           to, 7, &run, 1, &err),
                         FW_OK);
        assert_int_equal(run.posts[0].why, FW_POST_END);
        assert_int_equal(run.posts[1].why, FW_POST_GAP);
        assert_near(run.posts[1].at_m, 7 + off_m, 1e-9);
        assert_near(run.posts[1].point.x_m, post.x_m, 1e-9);
        /* 3 m down the slope: from there to the other edge it is deep still. */
        assert_int_equal(run.post_count, n < 2 ? 2 : 3);
        for (size_t i = 2; i < run.post_count; i++) {
            assert_int_equal(run.posts[i].why, FW_POST_DIP);
            assert_true(run.posts[i].at_m > run.posts[i - 1].at_m);
            assert_true(run.posts[i].at_m < 27);
            assert_near(fabs(run.posts[i].point.x_m - from.x_m),
                        run.posts[i].at_m - 7, 1e-9);
        }
        fw_plan__run_release(&run);
    }
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bent_line_is_as_long_as_its_pieces),
        cmocka_unit_test(unknown_ground_counts_as_level),
        cmocka_unit_test(a_hollow_and_a_brow_get_one_post_in_the_middle),
        cmocka_unit_test(posts_that_stand_there_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
