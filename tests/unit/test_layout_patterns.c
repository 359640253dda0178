/* Turning strips, lanes and wedges: against closed forms, brute force, and
 * their own mirror images. */
#include "test.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include "layout/pattern.h"
#include "layout/wedges.h"
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
static const struct fw_point l_shape[] = {{0, 0},   {200, 0},  {200, 80},
                                          {90, 80}, {90, 220}, {0, 220}};
static const struct fw_point oblong[] = {
    {0, 0}, {300, 0}, {300, 200}, {0, 200}};
static const struct fw_point bent[] = {{0, 0},    {150, 40},  {300, 0},
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

/* All cuts go around the sharp corner while they are so near to it that no
 * other way is shorter. */
static void fences_near_a_sharp_corner_go_around_it(void **state)
{
    (void)state;
    struct plot plot = {0};
    const struct fw_point even[] = {{0, 0}, {400, -60}, {400, 60}};
    const double half = atan2(60, 400);
    add_ring(&plot, even, 3);
    double targets[7], sum_m = 0;
    for (int k = 0; k < 7; k++) {
        targets[k] = plot.field.area_m2 * (k < 6 ? 1 : 10) / 16;
        if (k < 6)
            sum_m += 2 * sqrt(plot.field.area_m2 * (k + 1) / 16 * tan(half));
    }
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = targets,
                                              .target_count = 7,
                                              .pattern = "turning"};
    struct fw_layout_list list = offers(&request);
    for (size_t i = 0; i < list.count; i++)
        check(&list.items[i], &plot.field, targets);
    assert_near(least_line_m(&list, "turning"), sum_m, 1e-3);
    fw_layout_list_release(&list);
}

/* ---- brute force: every fence between places all around the field ---- */

enum { brute_places = 240 };

struct brute_fence {
    double from_m, to_m; /* along the edge */
    double length_m;
};

static struct fw_point edge_at(const struct plot *plot, double along_m)
{
    const size_t count = plot->field.vertex_count;
    for (size_t i = 0;; i = (i + 1) % count) {
        const struct fw_point a = plot->vertices[i].plane;
        const struct fw_point b = plot->vertices[(i + 1) % count].plane;
        const double side_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        if (along_m <= side_m)
            return (struct fw_point){a.x_m + (b.x_m - a.x_m) * along_m / side_m,
                                     a.y_m +
                                         (b.y_m - a.y_m) * along_m / side_m};
        along_m -= side_m;
    }
}

static double edge_m(const struct plot *plot)
{
    struct fw_point ring[MOST];
    for (size_t i = 0; i < plot->field.vertex_count; i++)
        ring[i] = plot->vertices[i].plane;
    return fw_line_length_m(ring, plot->field.vertex_count, true);
}

/* Area between the fence and the edge from `from_m` on to `to_m`. */
static double cut_off_m2(const struct plot *plot, double from_m, double to_m)
{
    struct fw_point ring[MOST];
    size_t n = 0;
    double along_m = 0;
    ring[n++] = edge_at(plot, from_m);
    for (size_t i = 0; i < plot->field.vertex_count; i++) {
        if (along_m > from_m && along_m < to_m)
            ring[n++] = plot->vertices[i].plane;
        const struct fw_point a = plot->vertices[i].plane;
        const struct fw_point b =
            plot->vertices[(i + 1) % plot->field.vertex_count].plane;
        along_m += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    ring[n++] = edge_at(plot, to_m);
    return fw_ring_area_m2(ring, n);
}

/* Inside all the way: crosses no side, and samples of it lie inside. */
static bool is_inside(const struct plot *plot, struct fw_point a,
                      struct fw_point b)
{
    struct fw_point ring[MOST];
    const size_t count = plot->field.vertex_count;
    for (size_t i = 0; i < count; i++)
        ring[i] = plot->vertices[i].plane;
    for (size_t i = 0; i < count; i++)
        if (cross(a, b, ring[i], ring[(i + 1) % count]))
            return false;
    for (int i = 1; i < 16; i++) {
        const double t = i / 16.0;
        const struct fw_point p = {a.x_m + (b.x_m - a.x_m) * t,
                                   a.y_m + (b.y_m - a.y_m) * t};
        if (!fw_ring_contains(ring, count, p))
            return false;
    }
    return true;
}

/* The fences that part off so much, with the part before `from_m` and after
 * `to_m` or the one between them behind. */
static size_t brute_fences(const struct plot *plot, double behind_m2,
                           struct brute_fence *out)
{
    const double all_m = edge_m(plot);
    size_t n = 0;
    for (int i = 0; i < brute_places; i++) {
        const double from_m = all_m * i / brute_places;
        const double step_m = all_m / brute_places / 4;
        for (int j = 1; j < 4 * (brute_places - i); j++) {
            const double to_m = from_m + step_m * j;
            double low = to_m - step_m, high = to_m;
            if (!(cut_off_m2(plot, from_m, low) < behind_m2 &&
                  cut_off_m2(plot, from_m, high) >= behind_m2))
                continue;
            for (int k = 0; k < 50; k++) {
                const double middle = (low + high) / 2;
                *(cut_off_m2(plot, from_m, middle) < behind_m2 ? &low : &high) =
                    middle;
            }
            const struct fw_point a = edge_at(plot, from_m);
            const struct fw_point b = edge_at(plot, high);
            if (is_inside(plot, a, b))
                out[n++] = (struct brute_fence){
                    from_m, high, hypot(a.x_m - b.x_m, a.y_m - b.y_m)};
        }
    }
    return n;
}

/* Ground behind one lies behind the other: nested stretches of the edge. */
static bool nested(const struct brute_fence *in, const struct brute_fence *out)
{
    return in->from_m > out->from_m && in->to_m < out->to_m;
}

static double brute_m(const struct plot *plot, size_t paddocks)
{
    static struct brute_fence fences[3][4 * brute_places];
    size_t count[3] = {0};
    for (size_t k = 0; k + 1 < paddocks; k++)
        count[k] = brute_fences(
            plot, plot->field.area_m2 * (double)(k + 1) / (double)paddocks,
            fences[k]);
    double best_m = (double)INFINITY;
    for (size_t i = 0; i < count[0]; i++) {
        const double one_m = fences[0][i].length_m;
        if (paddocks == 2)
            best_m = fmin(best_m, one_m);
        for (size_t j = 0; j < count[1]; j++) {
            const double two_m = one_m + fences[1][j].length_m;
            if (!(two_m < best_m) || !nested(&fences[0][i], &fences[1][j]))
                continue;
            if (paddocks == 3)
                best_m = two_m;
            for (size_t k = 0; k < count[2]; k++)
                if (two_m + fences[2][k].length_m < best_m &&
                    nested(&fences[1][j], &fences[2][k]))
                    best_m = two_m + fences[2][k].length_m;
        }
    }
    return best_m;
}

/* The edge is cut open at one vertex for the brute force, so the ground behind
 * must not hold it: every vertex is tried. */
static double brute_least_m(const struct fw_point *points, size_t count,
                            size_t paddocks)
{
    double best_m = (double)INFINITY;
    for (size_t first = 0; first < count; first++) {
        struct plot plot = {0};
        struct fw_point ring[MOST];
        for (size_t i = 0; i < count; i++)
            ring[i] = points[(first + i) % count];
        add_ring(&plot, ring, count);
        best_m = fmin(best_m, brute_m(&plot, paddocks));
    }
    return best_m;
}

static void few_fences_are_as_short_as_brute_force_finds_them(void **state)
{
    (void)state;
    const struct {
        const struct fw_point *points;
        size_t count;
    } fields[] = {{triangle, COUNT(triangle)},
                  {trapezium, COUNT(trapezium)},
                  {l_shape, COUNT(l_shape)},
                  {bent, COUNT(bent)}};
    for (size_t f = 0; f < COUNT(fields); f++)
        for (size_t paddocks = 2; paddocks <= 4; paddocks++) {
            struct plot plot = {0};
            add_ring(&plot, fields[f].points, fields[f].count);
            const double got_m = turning_m(&plot, paddocks);
            const double brute_m =
                brute_least_m(fields[f].points, fields[f].count, paddocks);
            printf("# field %zu, %zu paddocks: %.3f m; brute force %.3f m\n", f,
                   paddocks, got_m, brute_m);
            assert_true(got_m <= brute_m * 1.0001);
            assert_true(got_m >= brute_m * 0.99);
        }
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

/* ---- lanes ---- */

/* A rectangle of a by b with a lane of width g along a: half of the strips on
 * either side need 2 a + (n / 2 - 1) (b - g), all on one side need
 * a + (n - 1) (b - g). */
static void lane_in_a_rectangle_is_as_long_as_its_closed_form(void **state)
{
    (void)state;
    for (int turn = 0; turn < 4; turn++) {
        struct plot plot = {0};
        const struct fw_point ring[] = {{0, 0}, {300, 0}, {300, 200}, {0, 200}};
        const double target = 300 * 194 / 30.0;
        double targets[30];
        for (int i = 0; i < 30; i++)
            targets[i] = target;
        add_turned(&plot, ring, 4, 41.7 * turn, turn % 2 == 1);
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "lane"};
        struct fw_layout_list list = offers(&request);
        assert_int_equal(list.count, 2);
        for (size_t i = 0; i < 2; i++) {
            struct fw_layout *layout = &list.items[i];
            check(layout, &plot.field, targets);
            assert_int_equal(layout->paddock_count, 30);
            assert_int_equal(layout->common_count, 1);
            assert_int_equal(layout->apart_count, 0);
            assert_relative(layout->paddock_m2[30], 1800, 1e-9);
        }
        assert_near(list.items[0].line_m, 2 * 300 + 14 * 194.0, 1e-6);
        assert_near(list.items[0].standing_m, 600, 1e-6);
        assert_near(list.items[1].line_m, 300 + 29 * 194.0, 1e-6);
        assert_near(list.items[1].standing_m, 300, 1e-6);
        fw_layout_list_release(&list);
    }
}

/* What each paddock is to hold by the layout's own shares. */
static void check_shares(const struct fw_layout *layout,
                         const struct fw_field *field, double target,
                         enum fw_last last)
{
    if (last != FW_LAST_FIT)
        assert_int_equal(layout->even, last == FW_LAST_EVEN);
    else if (!layout->even)
        assert_true(layout->last_share > 0.5 - 1e-9 ||
                    layout->paddock_count < 5);
    double targets[MOST];
    for (size_t p = 0; p < layout->paddock_count; p++)
        targets[p] = target * layout->share;
    if (!layout->even)
        targets[layout->paddock_count - 1] = target * layout->last_share;
    check(layout, field, targets);
    assert_int_equal(layout->apart_count, 0);
}

static void check_lanes(const struct plot *plot, enum fw_last last,
                        const struct fw_point *start)
{
    const double target = 1700, width_m = 5;
    const struct fw_layout_request request = {.field = &plot->field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = last,
                                              .start = start,
                                              .pattern = "lane",
                                              .lane_width_m = width_m};
    struct fw_layout_list list = offers(&request);
    for (size_t i = 0; i < list.count; i++) {
        const struct fw_layout *layout = &list.items[i];
        check_shares(layout, &plot->field, target, last);
        const double lane_m2 = layout->paddock_m2[layout->paddock_count];
        const bool two = layout->lines[1].role == FW_LINE_LANE;
        const double long_m = layout->standing_m / (two ? 2 : 1);
        printf("# %s: %zu paddocks, lane %.3f m wide\n", layout->name,
               layout->paddock_count, lane_m2 / long_m);
        assert_relative(lane_m2 / long_m, width_m, 0.03);
    }
    fw_layout_list_release(&list);
}

/* An L, 290 m by 300 m: its longest side runs along the narrow leg. From a lane
 * along that, most fences go the length of the broad leg. From one along the
 * foot, of 290 m, 12 go up the narrow leg, which takes 17,640 m2 of the 1,410
 * each, and 23 across the broad one. */
static void lane_lies_along_the_side_that_needs_less_line(void **state)
{
    (void)state;
    const struct fw_point ring[] = {{0, 0},    {290, 0},  {290, 150},
                                    {60, 150}, {60, 300}, {0, 300}};
    const double target = 1410;
    for (int turn = 0; turn < 4; turn++) {
        struct plot plot = {0};
        add_turned(&plot, ring, COUNT(ring), 41.7 * turn, turn % 2 == 1);
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "lane"};
        struct fw_layout_list list = offers(&request);
        assert_int_equal(list.count, 2);
        assert_int_equal(list.items[1].paddock_count, 36);
        assert_near(list.items[1].standing_m, 290, 1e-6);
        assert_near(list.items[1].line_m, 290 + 12 * 294.0 + 23 * 144.0, 1e-6);
        fw_layout_list_release(&list);
    }
}

static void lane_leaves_the_last_paddock_short_or_all_even(void **state)
{
    (void)state;
    const struct fw_point starts[] = {{300, 30}, {0, 30}};
    for (int last = FW_LAST_FIT; last <= FW_LAST_EVEN; last++)
        for (int gate = 0; gate < 3; gate++) {
            struct plot one = {0}, other = {0};
            const struct fw_point *start = gate ? &starts[gate - 1] : NULL;
            add_ring(&one, trapezium, COUNT(trapezium));
            add_ring(&other, bent, COUNT(bent));
            check_lanes(&one, (enum fw_last)last, start);
            check_lanes(&other, (enum fw_last)last, start);
        }
}

/* A lane on the map, 6 m wide in 300 x 200 m: to its right 90 x 300 m and to
 * its left 104 x 300 m. Of paddocks of 2000 m2, 13 fit on the right, which
 * leaves 1000 m2 to the lane, and 15.6 on the left; or else 15 on the left,
 * which leave 1200 m2, and 13.5 on the right. */
static void lane_on_the_map_is_kept_to(void **state)
{
    (void)state;
    const struct fw_point bent_lane[] = {{10, 93}, {200, 93}, {290, 93}};
    const double target = 2000;
    struct plot plot = {0};
    add_ring(&plot, oblong, 4);
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = FW_LAST_SHORT,
                                              .pattern = "lane",
                                              .lane = bent_lane,
                                              .lane_count = 3};
    struct fw_layout_list list = offers(&request);
    assert_int_equal(list.count, 2);
    const size_t count[2] = {29, 29};
    const double lane_m2[2] = {1800 + 1000, 1800 + 1200};
    const double last[2] = {0.6, 0.5};
    for (size_t i = 0; i < 2; i++) {
        const struct fw_layout *layout = &list.items[i];
        double targets[MOST];
        for (size_t p = 0; p < count[i]; p++)
            targets[p] = target * (p + 1 < count[i] ? 1 : last[i]);
        assert_int_equal(layout->paddock_count, count[i]);
        check(layout, &plot.field, targets);
        assert_near(layout->last_share, last[i], 1e-9);
        assert_near(layout->paddock_m2[count[i]], lane_m2[i], 1e-6);
        assert_int_equal(layout->apart_count, 0);
        assert_near(layout->standing_m, 600, 1e-9);
    }
    fw_layout_list_release(&list);
}

/* A way with two bends: what is lost holds the lane, and all else is shared. */
static void lane_on_the_map_may_bend(void **state)
{
    (void)state;
    const struct fw_point way[] = {
        {20, 70}, {110, 80}, {190, 120}, {190, 120}, {280, 125}};
    for (int last = FW_LAST_FIT; last <= FW_LAST_EVEN; last++) {
        struct plot plot = {0};
        add_ring(&plot, oblong, 4);
        const double target = 3300;
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = (enum fw_last)last,
                                                  .pattern = "lane",
                                                  .lane = way,
                                                  .lane_count = COUNT(way),
                                                  .lane_width_m = 4};
        struct fw_layout_list list = offers(&request);
        assert_true(list.count > 0);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            check_shares(layout, &plot.field, target, (enum fw_last)last);
            const double lane_m2 = layout->paddock_m2[layout->paddock_count];
            printf("# bent lane: %zu paddocks, %.0f m2 lost\n",
                   layout->paddock_count, lane_m2);
            assert_true(lane_m2 > 4 * 300 && lane_m2 < 4 * 310 + 3300);
            assert_int_equal(layout->lines[0].role, FW_LINE_LANE);
            assert_int_equal(layout->apart_count, 0);
        }
        fw_layout_list_release(&list);
    }
}

static void lane_outside_the_field_is_refused(void **state)
{
    (void)state;
    const struct fw_point way[] = {{-50, 250}, {400, 260}}, point[] = {{9, 9}};
    const double target = 3300;
    struct plot plot = {0};
    add_ring(&plot, oblong, 4);
    struct fw_layout_request request = {.field = &plot.field,
                                        .target = &target,
                                        .target_count = 1,
                                        .pattern = "lane",
                                        .lane = way,
                                        .lane_count = 2};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "does not cross the field"));
    request.lane = point;
    request.lane_count = 1;
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "does not cross the field"));
}

/* ---- wedges ---- */

/* From the middle of 300 x 200, the first fence square to the short side. */
static void
wedges_from_the_middle_are_as_long_as_their_closed_form(void **state)
{
    (void)state;
    const struct {
        size_t count;
        double line_m;
    } known[] = {{4, 500}, {8, 1221.110255}, {30, 4354.474429}};
    struct plot plot = {0};
    struct fw_wedges wedges;
    struct fw_error err;
    bool possible;
    add_ring(&plot, oblong, 4);
    const struct fw_point middle = {150, 100};
    assert_int_equal(
        fw_wedges_init(&wedges, &plot.field, middle, 0, &possible, &err),
        FW_OK);
    assert_true(possible);
    for (size_t i = 0; i < COUNT(known); i++) {
        double behind_m2[30];
        for (size_t k = 0; k < known[i].count; k++)
            behind_m2[k] = 60000 * (double)(k + 1) / (double)known[i].count;
        assert_near(
            fw_wedges_line_m(&wedges, 300 + 100, behind_m2, known[i].count),
            known[i].line_m, 1e-6);
    }
    fw_wedges_release(&wedges);
}

static struct fw_layout wedges_of(const struct plot *plot,
                                  struct fw_point water, double apron_m,
                                  double target)
{
    const struct fw_layout_request request = {.field = &plot->field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = FW_LAST_SHORT,
                                              .pattern = "wedges",
                                              .water = &water,
                                              .apron_m = apron_m};
    struct fw_layout_list list = offers(&request);
    assert_int_equal(list.count, 1);
    struct fw_layout layout = list.items[0];
    fw_free(list.items);
    double targets[MOST];
    for (size_t i = 0; i < layout.paddock_count; i++)
        targets[i] = target * (i + 1 < layout.paddock_count ||
                                       layout.full_count == layout.paddock_count
                                   ? 1
                                   : layout.last_share);
    targets[layout.paddock_count - 1] = target * layout.last_share;
    check(&layout, &plot->field, targets);
    assert_int_equal(layout.apart_count, 0);
    return layout;
}

/* Four from the middle, without an apron: no other four are shorter than
 * these. */
static void first_wedge_begins_where_the_fences_are_shortest(void **state)
{
    (void)state;
    for (int turn = 0; turn < 4; turn++) {
        struct plot plot = {0};
        struct fw_point ring[5] = {
            {0, 0}, {300, 0}, {300, 200}, {0, 200}, {150, 100}};
        add_turned(&plot, oblong, 4, 33.0 * turn, turn % 2 == 1);
        const double c = cos(33.0 * turn * pi / 180);
        const double s = sin(33.0 * turn * pi / 180);
        const double x = turn % 2 == 1 ? -150 : 150;
        ring[4] = (struct fw_point){x * c - 100 * s, x * s + 100 * c};
        struct fw_layout layout = wedges_of(&plot, ring[4], -1, 15000);
        assert_near(layout.line_m, 500, 1e-6);
        fw_layout_release(&layout);
    }
}

/* A 24-gon of radius r has 12 r r sin(15 degrees); at a side half of it, at a
 * square corner a quarter. */
static void apron_is_common_ground(void **state)
{
    (void)state;
    const double full_m2 = 12 * 64 * sin(pi / 12);
    const struct {
        struct fw_point water;
        double share;
    } cases[] = {{{150, 100}, 1},     {{90, 70}, 1},    {{150, 0}, 0.5},
                 {{150.3, 0.4}, 0.5}, {{300, 77}, 0.5}, {{0, 0}, 0.25},
                 {{299, 199}, 0.25},  {{0, 200}, 0.25}};
    for (size_t i = 0; i < COUNT(cases); i++)
        for (int count = 2; count <= 12; count += 5) {
            struct plot plot = {0};
            add_ring(&plot, oblong, 4);
            const double apron_m2 = full_m2 * cases[i].share;
            const double target = (60000 - apron_m2) / (count - 0.5);
            struct fw_layout layout =
                wedges_of(&plot, cases[i].water, 8, target);
            assert_int_equal(layout.common_count, 1);
            assert_int_equal(layout.paddock_count, count);
            assert_relative(layout.paddock_m2[count], apron_m2, 1e-9);
            assert_near(layout.last_share, 0.5, 1e-9);
            fw_layout_release(&layout);
        }
}

static void wedges_need_water_that_sees_the_whole_field(void **state)
{
    (void)state;
    struct plot plot = {0};
    add_ring(&plot, l_shape, COUNT(l_shape));
    const double target = plot.field.area_m2 / 5;
    const struct fw_point aside = {180, 20}, middle = {40, 40};
    const struct fw_point outside = {150, 200};
    struct fw_layout_request request = {.field = &plot.field,
                                        .target = &target,
                                        .target_count = 1,
                                        .pattern = "wedges",
                                        .water = &aside};
    struct fw_layout_list list = {0};
    struct fw_error err;
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    request.water = &outside;
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    request.water = NULL;
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    struct fw_layout layout = wedges_of(&plot, middle, 8, target);
    fw_layout_release(&layout);
}

/* ---- unequal ground ---- */

static struct fw_herbage *two_zones(const struct fw_field *field)
{
    const struct fw_point rich[] = {
        {-50, -50}, {120, -50}, {170, 300}, {-50, 300}};
    const size_t ring_start[] = {0, 4};
    const struct fw_herbage_zone zone = {rich, ring_start, 1, 0.32};
    struct fw_herbage *ground = NULL;
    struct fw_error err;
    if (fw_herbage_zones(field, 0.1, &zone, 1, &ground, NULL, &err))
        fail_msg("%s", err.text);
    return ground;
}

static void paddocks_hold_their_mass_on_unequal_ground(void **state)
{
    (void)state;
    const struct {
        const char *name;
        fw_pattern_function *lay_out;
    } patterns[] = {{"turning", fw_layout__turning},
                    {"lane", fw_layout__lane},
                    {"wedges", fw_layout__wedges}};
    const struct fw_point water = {110, 60};
    for (size_t p = 0; p < COUNT(patterns); p++) {
        struct plot plot = {0};
        struct fw_error err;
        add_ring(&plot, trapezium, COUNT(trapezium));
        struct fw_herbage *ground = two_zones(&plot.field);
        const size_t ring_start[] = {0, COUNT(trapezium)};
        const double all_kg =
            fw_herbage_mass_kg(ground, trapezium, ring_start, 1);
        const double target = 620.5;
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .ground = ground,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_SHORT,
                                                  .pattern = patterns[p].name,
                                                  .water = &water};
        struct fw_layout_shares shares;
        struct fw_layout_list list = {0};
        assert_int_equal(fw_layout__share(&request, all_kg, &shares, &err),
                         FW_OK);
        assert_int_equal(patterns[p].lay_out(&request, &shares, &list, &err),
                         FW_OK);
        fw_layout__shares_release(&shares);
        assert_true(list.count > 0);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            double targets[MOST];
            for (size_t k = 0; k < layout->paddock_count; k++)
                targets[k] = target;
            targets[layout->paddock_count - 1] = target * layout->last_share;
            check(layout, &plot.field, targets);
        }
        fw_layout_list_release(&list);
        fw_herbage_free(ground);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corner_is_cut_off_square_to_its_bisector),
        cmocka_unit_test(fences_near_a_sharp_corner_go_around_it),
        cmocka_unit_test(few_fences_are_as_short_as_brute_force_finds_them),
        cmocka_unit_test(line_is_the_same_turned_or_mirrored),
        cmocka_unit_test(lane_in_a_rectangle_is_as_long_as_its_closed_form),
        cmocka_unit_test(lane_lies_along_the_side_that_needs_less_line),
        cmocka_unit_test(lane_leaves_the_last_paddock_short_or_all_even),
        cmocka_unit_test(lane_on_the_map_is_kept_to),
        cmocka_unit_test(lane_on_the_map_may_bend),
        cmocka_unit_test(lane_outside_the_field_is_refused),
        cmocka_unit_test(
            wedges_from_the_middle_are_as_long_as_their_closed_form),
        cmocka_unit_test(first_wedge_begins_where_the_fences_are_shortest),
        cmocka_unit_test(apron_is_common_ground),
        cmocka_unit_test(wedges_need_water_that_sees_the_whole_field),
        cmocka_unit_test(paddocks_hold_their_mass_on_unequal_ground),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
