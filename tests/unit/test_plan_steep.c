/* Steep ground beside live fence, on slopes, banks and mounds of known form:
 * which lines are named, how near it is and how steep. Lines are put where the
 * test wants them, so that every distance is one of the formula. */
#include "relief.h"

#include "around/around.h"

static const double wanted_m = 3;

/* ---- a field with lines ---- */

enum { most_lines = 4, most_vertices = 5 };

struct site {
    struct fw_farm *farm;
    struct fw_crs *crs;
    struct fw_plan plan;
    struct fw_plan_field field;
    struct fw_plan_fence fences[most_lines];
    struct fw_plan_job job;
    struct fw_plan__around around;
    struct fw_plan__line lines[most_lines];
    struct fw_point points[most_lines][most_vertices];
};

static struct site *new_site(relief height, double size, double cell_m)
{
    struct site *site = calloc(1, sizeof *site);
    site->farm = farm_of(&rectangle, NULL);
    site->crs = open_crs();
    if (height)
        set_heights(site->farm, height, size, cell_m);
    site->field.plane = site->farm->fields[0].shape->plane;
    site->plan.fields = &site->field;
    site->plan.field_count = 1;
    site->plan.fences = site->fences;
    site->job = (struct fw_plan_job){
        .farm = site->farm, .plan = &site->plan, .crs = &site->crs};
    site->around =
        (struct fw_plan__around){.job = &site->job, .lines = site->lines};
    return site;
}

static void free_site(struct site *site)
{
    fw_free(site->plan.findings);
    fw_crs_free(site->crs);
    fw_farm_free(site->farm);
    free(site);
}

/* In the plane, of metres of the file. */
static struct fw_point in_plane(const struct site *site, double x, double y)
{
    struct fw_lonlat there;
    const struct fw_xy xy = {x, y};
    assert_int_equal(fw_crs_to_lonlat(site->crs, &xy, &there, 1, NULL, NULL),
                     FW_OK);
    return fw_plane_forward(&site->field.plane, there);
}

static void add_line(struct site *site, bool hot, const double (*xy)[2],
                     size_t count)
{
    const size_t index = site->around.line_count++;
    for (size_t i = 0; i < count; i++)
        site->points[index][i] = in_plane(site, xy[i][0], xy[i][1]);
    site->lines[index] = (struct fw_plan__line){.fence = index,
                                                .hot = hot,
                                                .points = site->points[index],
                                                .count = count};
    snprintf(site->fences[index].id, sizeof site->fences[index].id, "line-%zu",
             index);
    site->plan.fence_count = index + 1;
}

static const struct fw_plan_finding *look(struct site *site)
{
    struct fw_error err;
    site->plan.finding_count = 0;
    assert_int_equal(
        fw_plan__steep(&site->around, fw_safety_rule_find("steep"), &err),
        FW_OK);
    return site->plan.finding_count ? site->plan.findings : NULL;
}

static int percent(const struct fw_plan_finding *found)
{
    int share = -1;
    assert_int_equal(
        sscanf(found->text, "the ground is as steep as %d %%", &share), 1);
    return share;
}

/* ---- even slopes ---- */

static double east_share, north_share;

static double slope(double x, double y, double size)
{
    return size * (east_share * x + north_share * y);
}

/* Whichever way it falls, and however coarse the model: the steepest way. */
static void a_slope_counts_by_its_steepest_way(void **state)
{
    (void)state;
    static const struct {
        double east, north;
        int percent; /* 0: not told */
    } rows[] = {{0.395, 0, 40},    {0, 0.395, 40}, {-0.395, 0, 40},
                {0, -0.395, 40},   {0.3, 0.3, 43}, {-0.28, 0.28, 40},
                {0.25, 0.15, 0},   {0.299, 0, 0},  {0, -0.299, 0},
                {0.302, 0, 31},    {0, 0.302, 31}, {0.2, -0.2, 0},
                {0.05, -0.296, 31}};
    static const double across[2][2] = {{20, 30}, {250, 170}};
    static const double cells_m[] = {4, 10};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (size_t k = 0; k < 2; k++) {
            east_share = rows[i].east;
            north_share = rows[i].north;
            struct site *site = new_site(slope, 1, cells_m[k]);
            add_line(site, true, across, 2);
            const struct fw_plan_finding *found = look(site);
            assert_int_equal(found != NULL, rows[i].percent > 0);
            if (found) {
                assert_int_equal(site->plan.finding_count, 1);
                assert_int_equal(percent(found), rows[i].percent);
                assert_near(found->distance_m, 0, 0);
                assert_near(found->wanted_m, wanted_m, 0);
                assert_int_equal(found->level, FW_LEVEL_WARNING);
                assert_non_null(strstr(found->text, "within 3 m"));
                assert_string_equal(found->about, "line-0, steep ground");
            }
            free_site(site);
        }
}

/* ---- a bank ---- */

static double bank_x, bank_y; /* unit vector up it; its foot passes the middle
                                 of the field, (150, 100) */

static double bank(double x, double y, double size)
{
    const double up_m = bank_x * (x - 150) + bank_y * (y - 100);
    return size * fmin(20, fmax(0, up_m));
}

/* A line beside the foot, so far below it; the brow is 20 m above. */
static void line_beside(struct site *site, double below_m, bool turned)
{
    const double x = 150 - below_m * bank_x, y = 100 - below_m * bank_y;
    const double half_m = turned ? -30 : 30;
    const double xy[2][2] = {{x - half_m * bank_y, y + half_m * bank_x},
                             {x + half_m * bank_y, y - half_m * bank_x}};
    add_line(site, true, xy, 2);
}

/* It is looked for at each metre, and cells of one metre blur the foot by as
 * much: never said to be farther. */
static void look_near_bank(struct site *site, double away_m)
{
    const struct fw_plan_finding *found = look(site);
    const struct fw_point *line = site->points[0];
    assert_int_equal(found != NULL, away_m < 4);
    if (!found)
        return;
    assert_true(found->distance_m <= away_m);
    assert_true(found->distance_m >= fmax(0, away_m - 1.75));
    if (found->distance_m > 0)
        assert_near(fw_segment_distance_m(found->place.plane, line[0], line[1]),
                    found->distance_m + 1, 1e-6);
    if (away_m < 2) /* the bank itself comes in reach */
        assert_int_equal(percent(found), 50);
    assert_true(percent(found) > 30 && percent(found) <= 50);
}

static void a_bank_counts_within_three_metres(void **state)
{
    (void)state;
    static const double away_m[] = {0.5, 1, 2, 5, 8};
    for (int turn = 0; turn < 8; turn++) {
        bank_x = cos(turn * 0.785398163397448);
        bank_y = sin(turn * 0.785398163397448);
        struct site *site = new_site(bank, 0.496, 1);
        for (size_t i = 0; i < 10; i++) { /* below its foot, above its brow */
            site->around.line_count = 0;
            line_beside(site, i < 5 ? away_m[i] : -20 - away_m[i - 5],
                        turn % 2);
            look_near_bank(site, away_m[i % 5]);
        }
        free_site(site);
    }
}

static void a_line_up_the_bank_stands_on_it(void **state)
{
    (void)state;
    static const double across[2][2] = {{120, 100}, {200, 100}};
    bank_x = 1;
    bank_y = 0;
    struct site *site = new_site(bank, 0.4, 1);
    add_line(site, true, across, 2);
    const struct fw_plan_finding *found = look(site);
    assert_non_null(found);
    assert_near(found->distance_m, 0, 0);
    assert_true(found->place.file.x > 148 && found->place.file.x < 172);
    assert_near(found->place.file.y, 100, 1.01);
    free_site(site);
}

static void only_live_lines_are_named_each_by_itself(void **state)
{
    (void)state;
    bank_x = 1;
    bank_y = 0;
    struct site *site = new_site(bank, 0.4, 1);
    line_beside(site, 1, false);
    line_beside(site, 1, false);
    line_beside(site, 30, false);
    line_beside(site, 2, false);
    site->lines[1].hot = false;
    assert_non_null(look(site));
    assert_int_equal(site->plan.finding_count, 2);
    assert_int_equal(site->plan.findings[0].fence, 0);
    assert_int_equal(site->plan.findings[1].fence, 3);
    assert_true(site->plan.findings[0].distance_m <
                site->plan.findings[1].distance_m);
    free_site(site);
    site = new_site(NULL, 0, 1); /* nobody knows the ground */
    line_beside(site, 1, false);
    assert_null(look(site));
    free_site(site);
}

/* ---- mounds ---- */

static double mound_x, mound_y;

/* At its steepest 86 %, 2.1 m from its middle. */
static double mound(double x, double y, double size)
{
    const double m = hypot(x - mound_x, y - mound_y);
    return size * 3 * exp(-m * m / 9);
}

/* By the beginning, the middle and the end of a line with bends, one point of
 * which it has twice, on either hand of it: found there, and as near however
 * the line is told. */
static void a_mound_is_found_wherever_it_lies_along_the_line(void **state)
{
    (void)state;
    static const double line[5][2] = {
        {40, 40}, {100, 40}, {100, 40}, {100, 120}, {200, 120}};
    static const double places[][2] = {
        {41, 44}, {41, 36},   {70, 44.5},   {70, 35.5}, {104, 80},
        {96, 80}, {199, 124}, {199.5, 116}, {150, 124}, {150, 116}};
    double turned[5][2];
    for (size_t i = 0; i < 5; i++)
        memcpy(turned[i], line[4 - i], sizeof turned[i]);
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        mound_x = places[i][0];
        mound_y = places[i][1];
        struct site *site = new_site(mound, 1, 1);
        add_line(site, true, line, 5);
        add_line(site, true, (const double(*)[2])turned, 5);
        const struct fw_plan_finding *found = look(site);
        assert_int_equal(site->plan.finding_count, 2);
        assert_true(hypot(found->place.file.x - mound_x,
                          found->place.file.y - mound_y) < 5);
        assert_true(found[0].distance_m <= 2.5);
        assert_near(found[0].distance_m, found[1].distance_m, 1e-9);
        assert_int_equal(percent(&found[0]), percent(&found[1]));
        assert_true(percent(found) >= 50 && percent(found) <= 86);
        free_site(site);
    }
}

/* Beyond the model nothing is known; what is known still counts. */
static void
a_line_that_leaves_the_model_is_looked_at_as_far_as_it_goes(void **state)
{
    (void)state;
    static const double out[2][2] = {{310, 100}, {420, 100}};
    static const double beyond[2][2] = {{400, 100}, {420, 100}};
    east_share = 0.4;
    north_share = 0;
    struct site *site = new_site(slope, 1, 4);
    add_line(site, true, beyond, 2);
    assert_null(look(site));
    add_line(site, true, out, 2);
    const struct fw_plan_finding *found = look(site);
    assert_int_equal(site->plan.finding_count, 1);
    assert_int_equal(found->fence, 1);
    assert_true(found->place.file.x < 320);
    free_site(site);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slope_counts_by_its_steepest_way),
        cmocka_unit_test(a_bank_counts_within_three_metres),
        cmocka_unit_test(a_line_up_the_bank_stands_on_it),
        cmocka_unit_test(only_live_lines_are_named_each_by_itself),
        cmocka_unit_test(a_mound_is_found_wherever_it_lies_along_the_line),
        cmocka_unit_test(
            a_line_that_leaves_the_model_is_looked_at_as_far_as_it_goes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
