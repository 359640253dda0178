/* Turning strips, lanes and wedges: against closed forms, brute force, and
 * their own mirror images. */
#include "test.h"

#include "base/alloc.h"
#include "layout/pattern.h"
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define MOST 64

static const double pi = 3.14159265358979323846;

/* A field in the plane; every vertex of the outer ring is a corner. */
struct plot {
    struct fw_field field;
    struct fw_vertex vertices[MOST];
    size_t ring_start[4];
    size_t corners[MOST];
};

static void add_ring(struct plot *plot, const struct fw_point *points,
                     size_t count)
{
    struct fw_field *field = &plot->field;
    for (size_t i = 0; i < count; i++)
        plot->vertices[field->vertex_count + i].plane = points[i];
    if (field->ring_count == 0)
        for (size_t i = 0; i < count; i++)
            plot->corners[field->corner_count++] = count - 1 - i;
    field->vertex_count += count;
    plot->ring_start[++field->ring_count] = field->vertex_count;
    field->vertices = plot->vertices;
    field->ring_start = plot->ring_start;
    field->corners = plot->corners;
    field->area_m2 += fw_ring_area_m2(points, count);
}

/* Turned by so many degrees; mirrored first, when asked. */
static void add_turned(struct plot *plot, const struct fw_point *points,
                       size_t count, double deg, bool mirrored)
{
    struct fw_point ring[MOST];
    const double c = cos(deg * pi / 180), s = sin(deg * pi / 180);
    for (size_t i = 0; i < count; i++) {
        struct fw_point p = points[mirrored ? count - 1 - i : i];
        if (mirrored)
            p.x_m = -p.x_m;
        ring[i] =
            (struct fw_point){p.x_m * c - p.y_m * s, p.x_m * s + p.y_m * c};
    }
    add_ring(plot, ring, count);
}

static struct fw_layout_list offers(const struct fw_layout_request *request)
{
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    if (fw_layout_candidates(request, &list, &err))
        fail_msg("%s", err.text);
    return list;
}

static double least_line_m(const struct fw_layout_list *list,
                           const char *pattern)
{
    double least_m = (double)INFINITY;
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].pattern, pattern) == 0)
            least_m = fmin(least_m, list->items[i].line_m);
    return least_m;
}

static struct fw_point point_of(const struct fw_layout *layout,
                                const struct fw_field *field, size_t vertex)
{
    return vertex < layout->vertex_count
               ? field->vertices[vertex].plane
               : layout->added[vertex - layout->vertex_count].point;
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
    return ab_c * ab_d < 0 && cd_a * cd_b < 0;
}

/* A paddock is one ring that does not cross itself, or one with holes. */
static void check_ring(const struct fw_layout *layout,
                       const struct fw_field *field, size_t ring)
{
    const size_t first = layout->ring_start[ring];
    const size_t count = layout->ring_start[ring + 1] - first;
    const size_t *at = layout->ring_vertices + first;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            assert_true(at[i] != at[j]);
            assert_false(cross(point_of(layout, field, at[i]),
                               point_of(layout, field, at[(i + 1) % count]),
                               point_of(layout, field, at[j]),
                               point_of(layout, field, at[(j + 1) % count])));
        }
}

/* Every paddock holds its target, is one piece, and all of them with the
 * common ground are the field. */
static void check(const struct fw_layout *layout, const struct fw_field *field,
                  const double *targets)
{
    double sum_m2 = 0;
    for (size_t i = 0; i < layout->paddock_count + layout->common_count; i++) {
        sum_m2 += layout->paddock_m2[i];
        assert_int_equal(
            layout->paddock_piece[i + 1] - layout->paddock_piece[i], 1);
        if (targets && i < layout->paddock_count)
            assert_relative(layout->holds[i], targets[i], 1e-9);
    }
    assert_relative(sum_m2, field->area_m2, 1e-12);
    for (size_t r = 0; r < layout->ring_count; r++)
        check_ring(layout, field, r);
    assert_int_equal(layout->broken_count, 0);
}

/* ---- turning ---- */

static double turning_m(const struct plot *plot, size_t count)
{
    const double target = plot->field.area_m2 / (double)count;
    const struct fw_layout_request request = {.field = &plot->field,
                                              .target = &target,
                                              .target_count = 1,
                                              .pattern = "turning"};
    double targets[MOST];
    for (size_t i = 0; i < count; i++)
        targets[i] = target;
    struct fw_layout_list list = offers(&request);
    assert_true(list.count > 0);
    for (size_t i = 0; i < list.count; i++) {
        assert_int_equal(list.items[i].paddock_count, count);
        assert_string_equal(list.items[i].pattern, "turning");
        check(&list.items[i], &plot->field, targets);
    }
    const double line_m = least_line_m(&list, "turning");
    fw_layout_list_release(&list);
    return line_m;
}

static const struct fw_point trapezium[] = {
    {0, 0}, {300, 0}, {240, 160}, {0, 90}};
static const struct fw_point triangle[] = {{0, 0}, {260, 0}, {90, 150}};
static const struct fw_point l_shape[] = {{0, 0},     {200, 0},   {200, 80},
                                          {90, 80},   {90, 220},  {0, 220}};
static const struct fw_point bent[] = {{0, 0},    {150, 40}, {300, 0},
                                       {320, 90}, {150, 140}, {-20, 90}};

/* One cut around the sharpest corner is the shortest of all where it fits:
 * 2 sqrt(a tan(alpha / 2)). */
static void corner_is_cut_off_square_to_its_bisector(void **state)
{
    (void)state;
    struct plot plot = {0};
    add_ring(&plot, triangle, 3);
    const double alpha = atan2(150, 170); /* at 260, 0 */
    const double half_m2 = plot.field.area_m2 / 2;
    const double other = atan2(150, 90);
    assert_true(alpha < other);
    assert_near(turning_m(&plot, 2), 2 * sqrt(half_m2 * tan(alpha / 2)), 1e-4);
}

/* All cuts around one corner as long as the triangle reaches that far. */
static void fences_of_an_even_triangle_go_around_a_corner(void **state)
{
    (void)state;
    struct plot plot = {0};
    const struct fw_point even[] = {{0, 0}, {400, -60}, {400, 60}};
    const double alpha = 2 * atan2(60, 400);
    add_ring(&plot, even, 3);
    double sum_m = 0;
    for (int k = 1; k < 8; k++)
        sum_m += 2 * sqrt(plot.field.area_m2 * k / 8 * tan(alpha / 2));
    const double line_m = turning_m(&plot, 8);
    assert_near(line_m, sum_m, 1e-3);
}

static void line_is_the_same_turned_or_mirrored(void **state)
{
    (void)state;
    const struct {
        const struct fw_point *points;
        size_t count, paddocks;
    } fields[] = {{trapezium, COUNT(trapezium), 9},
                  {triangle, COUNT(triangle), 7},
                  {l_shape, COUNT(l_shape), 10},
                  {bent, COUNT(bent), 12}};
    for (size_t f = 0; f < COUNT(fields); f++) {
        double first_m = 0;
        for (int turn = 0; turn < 6; turn++) {
            struct plot plot = {0};
            add_turned(&plot, fields[f].points, fields[f].count, 37.3 * turn,
                       turn % 2 == 1);
            const double line_m = turning_m(&plot, fields[f].paddocks);
            if (turn == 0)
                first_m = line_m;
            printf("# field %zu, turn %d: %.6f m\n", f, turn, line_m);
            assert_relative(line_m, first_m, 1e-3);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corner_is_cut_off_square_to_its_bisector),
        cmocka_unit_test(fences_of_an_even_triangle_go_around_a_corner),
        cmocka_unit_test(line_is_the_same_turned_or_mirrored),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
