/* Strips along the contour, on ground whose heights are a formula: the closed
 * form of strips on a slope that is even, maps that are true, and places that
 * offer nothing. */
#include "geo_help.h"

#include "layout_help.h"

#include "geo/herbage.h"

typedef double surface(double x_m, double y_m);

/* In cells of 5 m about a plane of their own, from -200 to 600 m. */
static struct fw_raster *heights_of(surface *height)
{
    enum { across = 160 };
    const double cell_m = 5, from_m = -200;
    struct fw_plane plane;
    struct fw_raster *raster = NULL;
    struct fw_error err = {0};
    struct fw_crs *crs =
        open_crs("+proj=laea +lat_0=51 +lon_0=9 +datum=WGS84 +units=m");
    struct fw_grid grid = {
        .affine = {from_m, cell_m, 0, from_m, 0, cell_m},
        .columns = across,
        .rows = across,
        .values = fw_alloc((size_t)across * across, sizeof(double)),
    };
    assert_int_equal(fw_plane_init(&plane, (struct fw_lonlat){9, 51}, NULL),
                     FW_OK);
    for (size_t i = 0; i < (size_t)across * across; i++)
        grid.values[i] = height(from_m + cell_m * ((double)(i % across) + 0.5),
                                from_m + cell_m * ((double)(i / across) + 0.5));
    if (fw_raster_new(&grid, crs, &plane, &raster, &err))
        fail_msg("%s", err.text);
    fw_grid_release(&grid);
    fw_crs_free(crs);
    return raster;
}

static double tilted_north(double x_m, double y_m)
{
    (void)x_m;
    return 300 + 0.1 * y_m;
}

static double tilted_askew(double x_m, double y_m)
{
    return 300 + 0.2 * (x_m * cos(0.5) + y_m * sin(0.5));
}

static double cone(double x_m, double y_m)
{
    return 400 - 0.2 * hypot(x_m - 150, y_m + 150);
}

/* Its crest falls to the north. */
static double ridge(double x_m, double y_m)
{
    return 400 - 0.15 * y_m - 0.05 * fabs(x_m - 150);
}

static double level(double x_m, double y_m)
{
    (void)x_m;
    return 300 + 0.001 * y_m;
}

static double noise(double x_m, double y_m)
{
    const double a = sin(x_m * 12.9898 + y_m * 78.233) * 43758.5453;
    return 300 + 0.1 * y_m + 6 * (a - floor(a));
}

static double hilltop(double x_m, double y_m)
{
    return 400 - 0.2 * hypot(x_m - 150, y_m - 100);
}

static struct fw_layout_list offered(const struct fw_field *field,
                                     const struct fw_raster *heights,
                                     double target_m2)
{
    struct fw_layout_list list = {0}, kept = {0};
    struct fw_error err = {0};
    const struct fw_layout_request request = {.field = field,
                                              .heights = heights,
                                              .target = &target_m2,
                                              .target_count = 1,
                                              .last = FW_LAST_SHORT,
                                              .pattern = "contour"};
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    if (status != FW_OK && status != FW_EPLAN)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++)
        assert_map(&request, &list.items[i]);
    return status ? kept : list;
}

static struct fw_point at(const struct fw_field *field,
                          const struct fw_layout *layout, size_t i)
{
    const size_t v = layout->line_vertices[i];
    return v < layout->vertex_count
               ? field->vertices[v].plane
               : layout->added[v - layout->vertex_count].point;
}

static void an_even_slope_gives_parallel_strips_across_it(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(tilted_north);
    make_rectangle(&plot, 300, 200, 0);
    struct fw_layout_list list = offered(&plot.field, heights, 7000);
    assert_int_equal(list.count, 2); /* up and down */
    assert_string_equal(list.items[0].name, "contour-up");
    assert_string_equal(list.items[1].name, "contour-down");
    for (size_t n = 0; n < 2; n++) {
        const struct fw_layout *layout = &list.items[n];
        assert_int_equal(layout->paddock_count, 9);
        assert_near(layout->direction_deg, n == 0 ? 90 : -90, 1e-5);
        assert_relative(layout->line_m, 8 * 300, 1e-6);
        for (size_t l = 0; l < layout->line_count; l++) {
            const struct fw_layout_line *line = &layout->lines[l];
            const double wanted = 7000.0 / 300 * (double)(line->from + 1);
            assert_int_equal(line->count, 2);
            assert_int_equal(line->role, FW_LINE_MOVED);
            for (size_t i = 0; i < 2; i++)
                assert_relative(at(&plot.field, layout, line->first + i).y_m,
                                n == 0 ? wanted : 200 - wanted, 1e-6);
        }
    }
    fw_layout_list_release(&list);
    fw_raster_free(heights);
}

static void lines_are_square_to_a_slope_askew(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(tilted_askew);
    make_rectangle(&plot, 300, 200, 0);
    struct fw_layout_list list = offered(&plot.field, heights, 10000);
    assert_int_equal(list.count, 2);
    for (size_t l = 0; l < list.items[0].line_count; l++) {
        const struct fw_layout_line *line = &list.items[0].lines[l];
        assert_int_equal(line->count, 2);
        const struct fw_point a = at(&plot.field, &list.items[0], line->first);
        const struct fw_point b =
            at(&plot.field, &list.items[0], line->first + 1);
        const double rise =
            tilted_askew(b.x_m, b.y_m) - tilted_askew(a.x_m, a.y_m);
        assert_near(rise, 0, 1e-6 * line->length_m);
    }
    fw_layout_list_release(&list);
    fw_raster_free(heights);
}

static bool cross(struct fw_point a, struct fw_point b, struct fw_point c,
                  struct fw_point d)
{
    const double ab_c =
        (b.x_m - a.x_m) * (c.y_m - a.y_m) - (b.y_m - a.y_m) * (c.x_m - a.x_m);
    const double ab_d =
        (b.x_m - a.x_m) * (d.y_m - a.y_m) - (b.y_m - a.y_m) * (d.x_m - a.x_m);
    const double cd_a =
        (d.x_m - c.x_m) * (a.y_m - c.y_m) - (d.y_m - c.y_m) * (a.x_m - c.x_m);
    const double cd_b =
        (d.x_m - c.x_m) * (b.y_m - c.y_m) - (d.y_m - c.y_m) * (b.x_m - c.x_m);
    return ab_c * ab_d <= 0 && cd_a * cd_b <= 0;
}

static void assert_lines_apart(const struct fw_field *field,
                               const struct fw_layout *layout)
{
    for (size_t k = 0; k < layout->line_count; k++)
        for (size_t l = 0; l < k; l++)
            for (size_t i = 0; i + 1 < layout->lines[k].count; i++)
                for (size_t j = 0; j + 1 < layout->lines[l].count; j++) {
                    const size_t a = layout->lines[k].first + i;
                    const size_t b = layout->lines[l].first + j;
                    assert_false(
                        cross(at(field, layout, a), at(field, layout, a + 1),
                              at(field, layout, b), at(field, layout, b + 1)));
                }
}

/* How far the ground rises and falls along lines, in all. */
static double climb_m(const struct fw_field *field,
                      const struct fw_layout *layout, surface *height)
{
    double sum_m = 0;
    for (size_t l = 0; l < layout->line_count; l++) {
        double least_m = HUGE_VAL, most_m = -HUGE_VAL;
        const struct fw_layout_line *line = &layout->lines[l];
        for (size_t i = line->first; i + 1 < line->first + line->count; i++)
            for (int s = 0; s <= 20; s++) {
                const struct fw_point a = at(field, layout, i);
                const struct fw_point b = at(field, layout, i + 1);
                const double m = height(a.x_m + (b.x_m - a.x_m) * s / 20,
                                        a.y_m + (b.y_m - a.y_m) * s / 20);
                least_m = fmin(least_m, m);
                most_m = fmax(most_m, m);
            }
        sum_m += most_m - least_m;
    }
    return sum_m;
}

/* Straight fences across the whole slope climb several times as much. */
static void check_bent(surface *height)
{
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(height);
    make_rectangle(&plot, 300, 200, 0);
    struct fw_layout_list list = offered(&plot.field, heights, 10000);
    assert_int_equal(list.count, 2);
    for (size_t n = 0; n < list.count; n++) {
        const struct fw_layout *layout = &list.items[n];
        size_t bends = 0;
        for (size_t l = 0; l < layout->line_count; l++) {
            assert_in_range(layout->lines[l].count, 2, 6);
            bends += layout->lines[l].count - 2;
        }
        assert_true(bends > 0);
        assert_lines_apart(&plot.field, layout);
        const double straight_m = 5 * (height(150, 100) - height(0, 100));
        assert_true(climb_m(&plot.field, layout, height) < straight_m / 2);
    }
    fw_layout_list_release(&list);
    fw_raster_free(heights);
}

static void a_cone_and_a_ridge_bend_the_lines(void **state)
{
    (void)state;
    check_bent(cone);
    check_bent(ridge);
}

static void level_ground_and_no_heights_offer_nothing(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(level);
    make_rectangle(&plot, 300, 200, 0);
    assert_int_equal(offered(&plot.field, heights, 10000).count, 0);
    assert_int_equal(offered(&plot.field, NULL, 10000).count, 0);
    fw_raster_free(heights);
    heights = heights_of(tilted_north); /* does not reach all of it */
    struct plot beyond = {0};
    make_rectangle(&beyond, 700, 200, 0);
    assert_int_equal(offered(&beyond.field, heights, 10000).count, 0);
    fw_raster_free(heights);
}

static void rings_about_a_hilltop_are_no_strips(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(hilltop);
    make_rectangle(&plot, 300, 200, 0);
    assert_int_equal(offered(&plot.field, heights, 1000).count, 0);
    fw_raster_free(heights);
}

/* Lines keep clear of a pond, or nothing is offered. */
static void a_pond_is_not_crossed(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_raster *heights = heights_of(tilted_north);
    make_rectangle(&plot, 300, 200, 0);
    add_ring(&plot,
             (const struct fw_point[]){
                 {100, 110}, {100, 130}, {130, 130}, {130, 110}},
             4);
    const double around = (60000 - 600) / 3.0; /* 59,400 m2: cuts at 66, 134 */
    struct fw_layout_list list = offered(&plot.field, heights, around);
    assert_int_equal(list.count, 2);
    fw_layout_list_release(&list);
    assert_int_equal(offered(&plot.field, heights, 5000).count, 0);
    fw_raster_free(heights);
}

static void rough_ground_gives_a_true_map_or_nothing(void **state)
{
    (void)state;
    struct random random = seeded();
    struct fw_raster *heights = heights_of(noise);
    size_t some = 0, bent = 0;
    for (size_t n = 0; n < 60; n++) {
        struct plot plot = {0};
        struct fw_point ring[12];
        for (size_t i = 0; i < COUNT(ring); i++) {
            const double turn = 2 * PI * (double)i / (double)COUNT(ring);
            const double m = draw(&random, 80, 160);
            ring[i] =
                (struct fw_point){150 + m * cos(turn), 150 + m * sin(turn)};
        }
        add_ring(&plot, ring, COUNT(ring));
        struct fw_layout_list list =
            offered(&plot.field, heights, draw(&random, 2000, 12000));
        some += list.count > 0;
        for (size_t i = 0; i < list.count; i++) {
            assert_lines_apart(&plot.field, &list.items[i]);
            for (size_t l = 0; l < list.items[i].line_count; l++)
                bent += list.items[i].lines[l].count > 2;
        }
        fw_layout_list_release(&list);
    }
    printf("# %zu of 60 fields have strips, %zu lines bend\n", some, bent);
    assert_true(some > 10);
    assert_true(bent > 0);
    fw_raster_free(heights);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_even_slope_gives_parallel_strips_across_it),
        cmocka_unit_test(lines_are_square_to_a_slope_askew),
        cmocka_unit_test(a_cone_and_a_ridge_bend_the_lines),
        cmocka_unit_test(level_ground_and_no_heights_offer_nothing),
        cmocka_unit_test(rings_about_a_hilltop_are_no_strips),
        cmocka_unit_test(a_pond_is_not_crossed),
        cmocka_unit_test(rough_ground_gives_a_true_map_or_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
