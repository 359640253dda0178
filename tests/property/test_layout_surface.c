/* Lines of one height on a grid: against planes, whose lines are straight, and
 * cones, whose lines are circles; and levels against a tally. */
#include "layout_across.h"

#include "base/alloc.h"
#include "layout/contour.h"

enum { most_nodes = 160 * 160 };

static double heights[most_nodes], weights[most_nodes];

/* Nodes about the field, by that formula. */
static struct fw_surface surface_of(const struct plot *plot, double step_m,
                                    double (*height)(struct fw_point,
                                                     const double *),
                                    const double *terms)
{
    struct fw_surface surface = {.field = &plot->field,
                                 .step_m = step_m,
                                 .height_m = heights,
                                 .weight = weights};
    struct fw_point least = at(plot, 0), most = least;
    for (size_t i = 1; i < plot->ring_start[1]; i++) {
        least.x_m = fmin(least.x_m, at(plot, i).x_m);
        least.y_m = fmin(least.y_m, at(plot, i).y_m);
        most.x_m = fmax(most.x_m, at(plot, i).x_m);
        most.y_m = fmax(most.y_m, at(plot, i).y_m);
    }
    surface.origin = least;
    surface.columns = (size_t)ceil((most.x_m - least.x_m) / step_m) + 1;
    surface.rows = (size_t)ceil((most.y_m - least.y_m) / step_m) + 1;
    assert_true(surface.columns * surface.rows <= most_nodes);
    for (size_t n = 0; n < surface.columns * surface.rows; n++)
        heights[n] = height(
            (struct fw_point){
                least.x_m + step_m * (double)(n % surface.columns),
                least.y_m + step_m * (double)(n / surface.columns)},
            terms);
    return surface;
}

static double plane(struct fw_point p, const double *terms)
{
    return terms[0] + terms[1] * p.x_m + terms[2] * p.y_m;
}

/* The longest stretch in the field of the line so far along a way; what lies
 * outside between two of them for less than gap_m is not seen. */
static double longest_m(const struct plot *plot, double deg, double u_m,
                        double gap_m)
{
    const double c = cos(deg * PI / 180), s = sin(deg * PI / 180);
    struct hit hits[most_points];
    size_t n = 0;
    double most_m = 0;
    for (size_t r = 0; r < plot->field.ring_count; r++)
        for (size_t i = plot->ring_start[r], j = plot->ring_start[r + 1] - 1;
             i < plot->ring_start[r + 1]; j = i++) {
            const double u0 = at(plot, j).x_m * c + at(plot, j).y_m * s - u_m;
            const double u1 = at(plot, i).x_m * c + at(plot, i).y_m * s - u_m;
            const double v0 = at(plot, j).y_m * c - at(plot, j).x_m * s;
            const double v1 = at(plot, i).y_m * c - at(plot, i).x_m * s;
            if ((u0 > 0) != (u1 > 0))
                hits[n++] = (struct hit){v0 + (v1 - v0) * u0 / (u0 - u1), r};
        }
    qsort(hits, n, sizeof *hits, by_v);
    double from_m = n > 0 ? hits[0].v_m : 0;
    for (size_t i = 1; i < n; i += 2) {
        if (i > 1 && hits[i - 1].v_m - hits[i - 2].v_m >= gap_m)
            from_m = hits[i - 1].v_m;
        most_m = fmax(most_m, hits[i].v_m - from_m);
    }
    return most_m;
}

static void make_bay(struct plot *plot)
{
    const struct fw_point ring[] = {{-200, -200}, {200, -200}, {200, 200},
                                    {30, 200},    {30, -100},  {10, -100},
                                    {10, 200},    {-200, 200}};
    *plot = (struct plot){.ring_start = {0}};
    add_ring(plot, ring, COUNT(ring));
}

static void lines_on_a_plane_are_straight(void **state)
{
    (void)state;
    uint64_t seed = seeded(2371);
    struct plot plot;
    make_bay(&plot);
    for (int i = 0; i < 120; i++) {
        const double deg = draw(&seed, -180, 180), rise = draw(&seed, 0.1, 1);
        const double step_m = draw(&seed, 3.5, 6);
        const double terms[] = {draw(&seed, 0, 300), rise * cos(deg * PI / 180),
                                rise * sin(deg * PI / 180)};
        const double u_m = draw(&seed, -260, 260);
        const struct fw_surface surface =
            surface_of(&plot, step_m, plane, terms);
        struct fw_point *run = NULL;
        size_t count = 0;
        assert_int_equal(fw_surface_trace(&surface, terms[0] + rise * u_m, &run,
                                          &count, NULL),
                         FW_OK);
        const double gap_m = sqrt(2) * step_m;
        const double wanted_m = longest_m(&plot, deg, u_m, 0);
        const double got_m =
            count > 0 ? fw_line_length_m(run, count, false) : 0;
        assert_true(got_m <= longest_m(&plot, deg, u_m, gap_m) + 1e-6);
        assert_true(got_m >= wanted_m - 2 * gap_m);
        for (size_t k = 0; k < count; k++) {
            assert_near(plane(run[k], terms), terms[0] + rise * u_m, 1e-9);
            if (k > 0) /* uphill to the right */
                assert_true((run[k].x_m - run[k - 1].x_m) * terms[2] -
                                (run[k].y_m - run[k - 1].y_m) * terms[1] <=
                            1e-9);
        }
        fw_free(run);
    }
}

static double cone(struct fw_point p, const double *terms)
{
    return terms[2] * hypot(p.x_m - terms[0], p.y_m - terms[1]);
}

/* A circle all inside is no run; of one that leaves the field the part inside
 * is. */
static void lines_on_a_cone_are_arcs(void **state)
{
    (void)state;
    const double radius_m[] = {20, 60, 95, 105, 120, 135};
    for (size_t i = 0; i < COUNT(radius_m); i++)
        for (int up = -1; up <= 1; up += 2) {
            const double r = radius_m[i];
            const double terms[] = {0.3, -0.2, up};
            struct plot plot = {.ring_start = {0}};
            const struct fw_point ring[] = {
                {-300, -100}, {100, -100}, {100, 100}, {-300, 100}};
            struct fw_point *run = NULL;
            size_t count = 0;
            add_ring(&plot, ring, COUNT(ring));
            const struct fw_surface surface = surface_of(&plot, 4, cone, terms);
            assert_int_equal(
                fw_surface_trace(&surface, up * r, &run, &count, NULL), FW_OK);
            /* It leaves the field in the north, the south and the east. */
            const double half = r > 100 ? asin(100 / r) : 0;
            const double wanted_m = 2 * half * r;
            const double got_m =
                count > 0 ? fw_line_length_m(run, count, false) : 0;
            if (!(r > 100))
                assert_int_equal(count, 0);
            assert_near(got_m, wanted_m, r > 100 ? 15 : 0);
            for (size_t k = 0; k < count; k++) {
                assert_near(up * cone(run[k], terms), r, 0.2);
                if (k > 0) { /* lower ground to the left */
                    const double turn =
                        (run[k - 1].x_m - terms[0]) * (run[k].y_m - terms[1]) -
                        (run[k - 1].y_m - terms[1]) * (run[k].x_m - terms[0]);
                    assert_true(up * turn > 0);
                }
            }
            fw_free(run);
        }
}

/* In a square on its tip a circle leaves the field four times, but not the
 * grid: it is cut open where it leaves. */
static void closed_line_is_cut_open_where_it_leaves(void **state)
{
    (void)state;
    const double r = 80, terms[] = {0.3, -0.2, 1};
    const double half = PI / 4 - acos(100 / (r * sqrt(2)));
    struct plot plot = {.ring_start = {0}};
    const struct fw_point ring[] = {{0, -100}, {100, 0}, {0, 100}, {-100, 0}};
    struct fw_point *run = NULL;
    size_t count = 0;
    add_ring(&plot, ring, COUNT(ring));
    const struct fw_surface surface = surface_of(&plot, 2, cone, terms);
    assert_int_equal(fw_surface_trace(&surface, r, &run, &count, NULL), FW_OK);
    assert_true(count > 1);
    assert_near(fw_line_length_m(run, count, false), 2 * half * r, 6);
    for (size_t k = 0; k < count; k++)
        assert_near(cone(run[k], terms), r, 0.2);
    fw_free(run);
}

static void levels_have_their_share_below(void **state)
{
    (void)state;
    uint64_t seed = seeded(2372);
    for (int i = 0; i < 60; i++) {
        enum { most_shares = 6 };
        struct fw_surface surface = {.height_m = heights,
                                     .weight = weights,
                                     .columns = draw_count(&seed, 1, 12),
                                     .rows = draw_count(&seed, 1, 12)};
        const size_t nodes = surface.columns * surface.rows;
        const size_t shares = draw_count(&seed, 1, most_shares);
        double share[most_shares], level_m[most_shares], all = 0;
        for (size_t n = 0; n < nodes; n++) {
            heights[n] = floor(draw(&seed, 0, 40));
            weights[n] = draw(&seed, 0, 1) < 0.3 ? 0 : draw(&seed, 0.1, 1);
            all += weights[n];
        }
        for (size_t k = 0; k < shares; k++)
            share[k] = ((double)k + draw(&seed, 0.2, 0.8)) / (double)shares;
        assert_int_equal(
            fw_surface_levels(&surface, share, shares, level_m, NULL), FW_OK);
        for (size_t k = 0; k < shares && all > 0; k++) {
            double below = 0, with = 0;
            for (size_t n = 0; n < nodes; n++) {
                below += heights[n] < level_m[k] ? weights[n] : 0;
                with += heights[n] <= level_m[k] ? weights[n] : 0;
            }
            assert_true(below <= share[k] * all + 1e-9);
            assert_true(with >= share[k] * all - 1e-9);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_on_a_plane_are_straight),
        cmocka_unit_test(lines_on_a_cone_are_arcs),
        cmocka_unit_test(closed_line_is_cut_open_where_it_leaves),
        cmocka_unit_test(levels_have_their_share_below),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
