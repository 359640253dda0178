/* The exact sweep: closed forms, degenerate shapes, symmetries. */
#include "test.h"

#include "base/alloc.h"
#include "geo/geo.h"
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define MOST 400

static const double pi = 3.14159265358979323846;

struct shape {
    const char *name;
    const struct fw_point *points;
    size_t ring_start[8];
    size_t ring_count;
};

static const struct fw_point rectangle[] = {
    {-150, -100}, {150, -100}, {150, 100}, {-150, 100}};
static const struct fw_point triangle[] = {{0, 0}, {240, 0}, {0, 100}};
static const struct fw_point l_shape[] = {{0, 0},     {300, 0},   {300, 100},
                                          {100, 100}, {100, 250}, {0, 250}};
static const struct fw_point square_ring[] = {
    {-100, -100}, {100, -100}, {100, 100}, {-100, 100},
    {-50, -50},   {-50, 50},   {50, 50},   {50, -50}};
/* two holes that touch in a corner, and one of them the outer ring */
static const struct fw_point touching[] = {
    {0, 0},    {200, 0}, {200, 100}, {100, 100}, {0, 100}, {100, 100},
    {120, 60}, {80, 60}, {80, 60},   {90, 20},   {60, 20}};
/* a spike of no width at the top, as bad maps have it */
static const struct fw_point spiked[] = {
    {0, 0}, {100, 0}, {100, 100}, {50, 100}, {50, 140}, {50, 100}, {0, 100}};

static const struct shape shapes[] = {
    {"rectangle", rectangle, {0, 4}, 1},
    {"triangle", triangle, {0, 3}, 1},
    {"L", l_shape, {0, 6}, 1},
    {"square ring", square_ring, {0, 4, 8}, 2},
    {"touching holes", touching, {0, 5, 8, 11}, 3},
    {"spike", spiked, {0, 7}, 1},
};

static double shoelace(const struct fw_point *p, size_t count)
{
    double twice = 0;
    for (size_t i = 0, j = count - 1; i < count; j = i++)
        twice += p[j].x_m * p[i].y_m - p[i].x_m * p[j].y_m;
    return twice / 2;
}

static double shape_area(const struct shape *shape)
{
    double area = 0;
    for (size_t r = 0; r < shape->ring_count; r++)
        area += shoelace(shape->points + shape->ring_start[r],
                         shape->ring_start[r + 1] - shape->ring_start[r]);
    return area;
}

static struct fw_sweep *sweep_of(const struct shape *shape)
{
    struct fw_sweep *sweep;
    struct fw_error err = {0};
    if (fw_sweep_new(shape->points, shape->ring_start, shape->ring_count,
                     &sweep, &err))
        fail_msg("%s: %s", shape->name, err.text);
    return sweep;
}

/* Equal cuts at the direction; the sum of their lengths. */
static double cut_evenly(struct fw_sweep *sweep, double deg, size_t n,
                         double *position, double *length)
{
    double behind[MOST];
    fw_sweep_turn(sweep, deg);
    const double area = fw_sweep_area_m2(sweep);
    for (size_t k = 0; k + 1 < n; k++)
        behind[k] = area * (double)(k + 1) / (double)n;
    return fw_sweep_cut(sweep, behind, n - 1, position, length);
}

static double total_cut(const struct shape *shape, double deg, size_t n)
{
    double position[MOST], length[MOST];
    struct fw_sweep *sweep = sweep_of(shape);
    const double total = cut_evenly(sweep, deg, n, position, length);
    fw_sweep_free(sweep);
    return total;
}

/* Chord profile of the rectangle a x b: ramps of min(a|cos|, b|sin|) at both
 * ends of the sweep, between them a plateau; cuts by the trapezoid's areas. */
static double rectangle_cuts(double a, double b, double deg, size_t n)
{
    const double c = fabs(cos(deg * pi / 180)), s = fabs(sin(deg * pi / 180));
    const double ramp = fmin(a * c, b * s), width = a * c + b * s;
    const double top = a * b / fmax(a * c, b * s);
    const double corner = ramp * top / 2;
    double sum = 0;
    for (size_t k = 1; k < n; k++) {
        double behind = a * b * (double)k / (double)n;
        behind = fmin(behind, a * b - behind);
        sum += behind < corner ? sqrt(2 * behind * top / ramp) : top;
    }
    assert_true(width > 0);
    return sum;
}

static void rectangle_has_its_known_fence(void **state)
{
    (void)state;
    static const struct {
        double deg, fence;
    } known[] = {{0, 5800}, {30, 5999.155153}, {60, 7354.438174}, {90, 8700}};
    for (size_t i = 0; i < COUNT(known); i++) {
        const double got = total_cut(&shapes[0], known[i].deg, 30);
        assert_near(got, known[i].fence, 1e-6);
        assert_relative(got, rectangle_cuts(300, 200, known[i].deg, 30), 1e-13);
    }
    for (int deg = -720; deg < 720; deg += 7)
        assert_relative(total_cut(&shapes[0], deg, 365),
                        rectangle_cuts(300, 200, deg, 365), 1e-12);
}

static void rectangle_cuts_stand_where_they_must(void **state)
{
    (void)state;
    double position[MOST], length[MOST];
    struct fw_sweep *sweep = sweep_of(&shapes[0]);
    cut_evenly(sweep, 0, 30, position, length);
    for (size_t k = 0; k < 29; k++) {
        assert_near(position[k], -150 + 10 * (double)(k + 1), 1e-11);
        assert_near(length[k], 200, 1e-11);
    }
    fw_sweep_free(sweep);
}

/* From the point of a right triangle with legs a, b: x = a (1 - sqrt(1 - f)),
 * the cut there b sqrt(1 - f). */
static void triangle_follows_the_square_root(void **state)
{
    (void)state;
    double position[MOST], length[MOST];
    struct fw_sweep *sweep = sweep_of(&shapes[1]);
    cut_evenly(sweep, 0, 12, position, length);
    for (size_t k = 0; k < 11; k++) {
        const double rest = sqrt(1 - (double)(k + 1) / 12);
        assert_near(position[k], 240 * (1 - rest), 1e-10);
        assert_near(length[k], 100 * rest, 1e-10);
    }
    cut_evenly(sweep, 180, 12, position, length);
    for (size_t k = 0; k < 11; k++) {
        const double rest = sqrt((double)(k + 1) / 12);
        assert_near(position[k], -240 * (1 - rest), 1e-10);
        assert_near(length[k], 100 * rest, 1e-10);
    }
    fw_sweep_free(sweep);
}

/* 200 x 200 round a hole of 100 x 100: area 30,000. Six paddocks of 5,000: cuts
 * at -75, -50 (the hole's side), 0 and mirrored. */
static void square_ring_has_its_closed_form(void **state)
{
    (void)state;
    static const double at[] = {-75, -50, 0, 50, 75};
    double position[MOST], length[MOST];
    struct fw_sweep *sweep = sweep_of(&shapes[3]);
    struct fw_partition out = {0};
    cut_evenly(sweep, 0, 6, position, length);
    for (size_t k = 0; k < 5; k++)
        assert_near(position[k], at[k], 1e-11);
    assert_near(length[0], 200, 1e-11);
    assert_near(length[1], 100, 1e-11); /* the hole's side is no fence */
    assert_near(length[2], 100, 1e-11);
    assert_near(length[3], 100, 1e-11);
    assert_near(length[4], 200, 1e-11);
    assert_int_equal(fw_sweep_build(sweep, position, 5, &out, NULL), FW_OK);
    static const size_t pieces[] = {1, 1, 2, 2, 1, 1};
    for (size_t k = 0; k < 6; k++) {
        assert_relative(out.paddock_m2[k], 5000.0, 1e-12);
        assert_int_equal(out.paddock_piece[k + 1] - out.paddock_piece[k],
                         pieces[k]);
        assert_relative(out.greatest_m2[k], 5000.0 / (double)pieces[k], 1e-12);
    }
    /* the cut on the hole's side makes no vertex there */
    assert_int_equal(out.cut_start[2] - out.cut_start[1], 2);
    for (size_t i = 0; i < out.added_count; i++)
        assert_near(fabs(out.added[i].plane.y_m),
                    fabs(out.added[i].plane.y_m) > 75 ? 100 : 50, 1e-11);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

static void hole_inside_a_strip_belongs_to_it(void **state)
{
    (void)state;
    struct fw_sweep *sweep = sweep_of(&shapes[3]);
    struct fw_partition out = {0};
    const double position[] = {-60, 60};
    assert_int_equal(fw_sweep_build(sweep, position, 2, &out, NULL), FW_OK);
    assert_int_equal(out.piece_count, 3);
    assert_int_equal(out.ring_count, 4);
    assert_int_equal(out.piece_ring[2] - out.piece_ring[1], 2);
    assert_relative(out.paddock_m2[1], 14000.0, 1e-13);
    assert_int_equal(out.segment_count, 2);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* Two rooms that are joined beyond the cut, with a pond in the second. */
static void hole_goes_to_the_piece_around_it(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0},   {100, 0}, {100, 100}, {0, 100}, {0, 60},  {80, 60},
        {80, 40}, {0, 40},  {20, 70},   {20, 90}, {40, 90}, {40, 70},
        {10, 10}, {10, 30}, {30, 30},   {30, 10}};
    const struct shape rooms = {"rooms", points, {0, 8, 12, 16}, 3};
    struct fw_sweep *sweep = sweep_of(&rooms);
    struct fw_partition out = {0};
    const double position[] = {70};
    assert_int_equal(fw_sweep_build(sweep, position, 1, &out, NULL), FW_OK);
    assert_int_equal(out.paddock_piece[1], 2);
    for (size_t piece = 0; piece < 2; piece++) {
        const size_t outer = out.piece_ring[piece];
        assert_int_equal(out.piece_ring[piece + 1] - outer, 2);
        const size_t a = out.ring_vertices[out.ring_start[outer]];
        const size_t b = out.ring_vertices[out.ring_start[outer + 1]];
        const double ya = fw_sweep_point(sweep, &out, a).y_m;
        const double yb = fw_sweep_point(sweep, &out, b).y_m;
        assert_int_equal(ya > 50, yb > 50);
    }
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* A comb with its back at the left: the cut on the teeth's roots parts them,
 * the one a hair before does not. */
static void comb_is_parted_at_its_roots(void **state)
{
    (void)state;
    enum { teeth = 40 };
    struct fw_point points[2 + 4 * teeth];
    size_t n = 0;
    points[n++] = (struct fw_point){0, 0};
    for (int i = 0; i < teeth; i++) {
        const double y = 10.0 * i;
        points[n++] = (struct fw_point){50, y};
        points[n++] = (struct fw_point){100, y + 1};
        points[n++] = (struct fw_point){100, y + 4};
        points[n++] = (struct fw_point){50, y + 5};
    }
    points[n++] = (struct fw_point){0, 395};
    const struct shape comb = {"comb", points, {0, n}, 1};
    struct fw_sweep *sweep = sweep_of(&comb);
    for (int turn = 0; turn < 2; turn++) {
        struct fw_partition out = {0};
        const double root[] = {turn ? -50 : 50};
        double length[1], position[1];
        fw_sweep_turn(sweep, turn ? 180 : 0);
        assert_int_equal(fw_sweep_build(sweep, root, 1, &out, NULL), FW_OK);
        const size_t comb_side = turn ? 1 : 0, teeth_side = 1 - comb_side;
        assert_int_equal(out.segment_count, teeth);
        assert_int_equal(
            out.paddock_piece[comb_side + 1] - out.paddock_piece[comb_side], 1);
        assert_int_equal(out.paddock_piece[teeth_side + 1] -
                             out.paddock_piece[teeth_side],
                         teeth);
        assert_relative(out.paddock_m2[teeth_side], teeth * 50 * 4.0, 1e-13);
        const double behind[] = {out.paddock_m2[0]};
        fw_sweep_cut(sweep, behind, 1, position, length);
        assert_near(position[0], root[0], 1e-11);
        assert_near(length[0], teeth * 5, 1e-10);
        fw_partition_release(&out);
    }
    fw_sweep_free(sweep);
}

/* A hole that touches the outer ring is one closed shore for the strip that
 * holds it, and two pieces where only a point joins them. */
static void parts_that_touch_in_a_point_are_two(void **state)
{
    (void)state;
    static const struct fw_point points[] = {{0, 0},    {60, 0},  {60, 50},
                                             {60, 100}, {0, 100}, {60, 50},
                                             {20, 30},  {20, 70}};
    const struct shape notch = {"notch", points, {0, 5, 8}, 2};
    struct fw_sweep *sweep = sweep_of(&notch);
    struct fw_partition out = {0};
    const double position[] = {10, 40};
    assert_int_equal(fw_sweep_build(sweep, position, 2, &out, NULL), FW_OK);
    assert_int_equal(out.paddock_piece[1] - out.paddock_piece[0], 1);
    assert_int_equal(out.paddock_piece[2] - out.paddock_piece[1], 1);
    assert_int_equal(out.paddock_piece[3] - out.paddock_piece[2], 2);
    assert_relative(out.paddock_m2[2], 1800.0, 1e-13);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* The same hole, but its tip in the middle of the field's side. */
static void side_that_is_touched_parts_the_strip(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0}, {60, 0}, {60, 100}, {0, 100}, {60, 50}, {20, 30}, {20, 70}};
    const struct shape notch = {"notch", points, {0, 4, 7}, 2};
    struct fw_sweep *sweep = sweep_of(&notch);
    struct fw_partition out = {0};
    const double position[] = {10, 40};
    assert_int_equal(fw_sweep_build(sweep, position, 2, &out, NULL), FW_OK);
    assert_int_equal(out.vertex_count, 7);
    assert_int_equal(out.paddock_piece[2] - out.paddock_piece[1], 1);
    assert_int_equal(out.paddock_piece[3] - out.paddock_piece[2], 2);
    for (size_t i = 0; i < out.added_count; i++)
        assert_true(out.added[i].edge < 7);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* A hole that lies in one strip and touches the shore and a hole that the cut
 * goes through: each alone parts nothing, both do. */
static void hole_between_two_shores_parts_the_strip(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0},   {100, 0},  {100, 50}, {100, 100}, {0, 100}, {70, 50},
        {85, 60}, {100, 50}, {85, 40},  {30, 30},   {30, 70}, {70, 50}};
    const struct shape two = {"two holes", points, {0, 5, 9, 12}, 3};
    struct fw_sweep *sweep = sweep_of(&two);
    struct fw_partition out = {0};
    const double position[] = {60};
    assert_int_equal(fw_sweep_build(sweep, position, 1, &out, NULL), FW_OK);
    assert_int_equal(out.paddock_piece[1], 1);
    assert_int_equal(out.paddock_piece[2] - out.paddock_piece[1], 2);
    assert_relative(out.paddock_m2[1], 4000.0 - 300 - 50, 1e-13);
    assert_relative(out.greatest_m2[1], 1825.0, 1e-13);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* The cut stands on the tip of a hole beyond it, which reaches to the next
 * cut: the paddock between is two. */
static void tip_on_the_fence_parts_the_paddock(void **state)
{
    (void)state;
    static const struct fw_point points[] = {
        {0, 0}, {100, 0}, {100, 100}, {0, 100}, {20, 50}, {80, 60}, {80, 40}};
    const struct shape tip = {"tip", points, {0, 4, 7}, 2};
    struct fw_sweep *sweep = sweep_of(&tip);
    struct fw_partition out = {0};
    for (int turn = 0; turn < 2; turn++) {
        const double position[] = {turn ? -50 : 20, turn ? -20 : 50};
        fw_sweep_turn(sweep, 180 * turn);
        assert_int_equal(fw_sweep_build(sweep, position, 2, &out, NULL), FW_OK);
        assert_int_equal(out.paddock_piece[2] - out.paddock_piece[1], 2);
        assert_int_equal(out.segment_count, 4);
        assert_relative(out.paddock_m2[1], 3000.0 - 150, 1e-13);
    }
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

/* Areas of all rings by an own shoelace, the direction of each, and every
 * vertex of a cut in both neighbours. */
static void check_partition(const struct fw_sweep *sweep,
                            const struct fw_partition *out, double area,
                            const char *name)
{
    struct fw_point ring[4000];
    double sum = 0;
    for (size_t k = 0; k < out->paddock_count; k++) {
        double paddock = 0;
        for (size_t p = out->paddock_piece[k]; p < out->paddock_piece[k + 1];
             p++)
            for (size_t r = out->piece_ring[p]; r < out->piece_ring[p + 1];
                 r++) {
                const size_t start = out->ring_start[r];
                const size_t count = out->ring_start[r + 1] - start;
                assert_in_range(count, 3, COUNT(ring));
                for (size_t i = 0; i < count; i++) {
                    const size_t vertex = out->ring_vertices[start + i];
                    assert_true(vertex < out->vertex_count + out->added_count);
                    ring[i] = fw_sweep_point(sweep, out, vertex);
                }
                const double m2 = shoelace(ring, count);
                if ((m2 > 0) != (r == out->piece_ring[p]))
                    fail_msg("%s: ring %zu of a piece runs the wrong way", name,
                             r - out->piece_ring[p]);
                paddock += m2;
            }
        assert_near(out->paddock_m2[k], paddock, 1e-9 * paddock);
        sum += out->paddock_m2[k];
    }
    assert_relative(sum, area, 1e-12);
}

static void degenerate_shapes_keep_their_areas(void **state)
{
    (void)state;
    static const double degs[] = {0, 33.3, 45, 90, 135, 180, 270};
    static const size_t counts[] = {1, 7, 30, 365};
    struct fw_partition out = {0};
    for (size_t s = 0; s < COUNT(shapes); s++) {
        struct fw_sweep *sweep = sweep_of(&shapes[s]);
        for (size_t d = 0; d < COUNT(degs); d++)
            for (size_t c = 0; c < COUNT(counts); c++) {
                double position[MOST], length[MOST];
                const size_t n = counts[c];
                const double total =
                    cut_evenly(sweep, degs[d], n, position, length);
                const double area = shape_area(&shapes[s]);
                assert_relative(fw_sweep_area_m2(sweep), area, 1e-13);
                assert_int_equal(
                    fw_sweep_build(sweep, position, n - 1, &out, NULL), FW_OK);
                check_partition(sweep, &out, area, shapes[s].name);
                for (size_t k = 0; k < n; k++)
                    assert_relative(out.paddock_m2[k], area / (double)n, 1e-9);
                double fence = 0;
                for (size_t i = 0; i < out.segment_count; i++) {
                    const struct fw_point a =
                        fw_sweep_point(sweep, &out, out.segments[2 * i]);
                    const struct fw_point b =
                        fw_sweep_point(sweep, &out, out.segments[2 * i + 1]);
                    fence += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
                }
                assert_near(fence, total, 1e-10 * (1 + total));
            }
        fw_sweep_free(sweep);
    }
    fw_partition_release(&out);
}

/* Turned, mirrored, larger, walked the other way: the same cuts. */
static void symmetries_give_the_same_cuts(void **state)
{
    (void)state;
    double want[MOST], want_length[MOST], got[MOST], length[MOST];
    const size_t n = 23, m = COUNT(l_shape);
    struct fw_sweep *sweep = sweep_of(&shapes[2]);
    const double fence = cut_evenly(sweep, 17, n, want, want_length);
    for (int way = 0; way < 4; way++) {
        struct fw_point points[COUNT(l_shape)];
        const double turn = 71 * pi / 180, scale = way == 2 ? 3.5 : 1;
        for (size_t i = 0; i < m; i++) {
            const struct fw_point p = l_shape[i];
            struct fw_point q = {scale * p.x_m, scale * p.y_m};
            if (way == 0)
                q = (struct fw_point){p.x_m * cos(turn) - p.y_m * sin(turn),
                                      p.x_m * sin(turn) + p.y_m * cos(turn)};
            if (way == 1)
                q.x_m = -q.x_m;
            points[way == 1 ? m - 1 - i : i] = q;
        }
        const struct shape turned = {"turned", points, {0, m}, 1};
        struct fw_sweep *other = sweep_of(&turned);
        const double deg = way == 0 ? 88 : way == 1 ? 163 : way == 2 ? 17 : 197;
        const double total = cut_evenly(other, deg, n, got, length);
        assert_relative(total, scale * fence, 1e-12);
        for (size_t k = 0; k < n - 1; k++) {
            const size_t mirrored = way == 3 ? n - 2 - k : k;
            assert_near(got[k], (way == 3 ? -1 : scale) * want[mirrored], 1e-9);
        }
        fw_sweep_free(other);
    }
    fw_sweep_free(sweep);
}

/* A vertex of a cut lies on its side, and its neighbours on the same side have
 * it in order; the ends of a fence stand across the line in rising order. */
static void fence_ends_lie_on_their_sides(void **state)
{
    (void)state;
    double position[MOST], length[MOST];
    struct fw_sweep *sweep = sweep_of(&shapes[3]);
    struct fw_partition out = {0};
    cut_evenly(sweep, 33.3, 30, position, length);
    assert_int_equal(fw_sweep_build(sweep, position, 29, &out, NULL), FW_OK);
    assert_true(out.added_count > 50);
    for (size_t i = 0; i < out.added_count; i++) {
        const struct fw_cut_vertex *cut = &out.added[i];
        const size_t next = cut->edge % 4 == 3 ? cut->edge - 3 : cut->edge + 1;
        const struct fw_point a = square_ring[cut->edge], b = square_ring[next];
        assert_true(cut->t > 0 && cut->t < 1);
        assert_near(cut->plane.x_m, a.x_m + cut->t * (b.x_m - a.x_m), 1e-12);
        assert_near(cut->plane.y_m, a.y_m + cut->t * (b.y_m - a.y_m), 1e-12);
    }
    const double c = cos(33.3 * pi / 180), s = sin(33.3 * pi / 180);
    for (size_t k = 0; k < out.cut_count; k++) {
        double last = -1e9;
        for (size_t i = 2 * out.cut_start[k]; i < 2 * out.cut_start[k + 1];
             i++) {
            const struct fw_point p =
                fw_sweep_point(sweep, &out, out.segments[i]);
            assert_near(p.x_m * c + p.y_m * s, position[k], 1e-11);
            assert_true(p.y_m * c - p.x_m * s >= last);
            last = p.y_m * c - p.x_m * s;
        }
    }
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

static void equal_positions_make_an_empty_paddock(void **state)
{
    (void)state;
    struct fw_sweep *sweep = sweep_of(&shapes[0]);
    struct fw_partition out = {0};
    const double position[] = {-500, 10, 10, 500};
    assert_int_equal(fw_sweep_build(sweep, position, 4, &out, NULL), FW_OK);
    assert_int_equal(out.paddock_count, 5);
    assert_int_equal(out.piece_count, 2);
    assert_near(out.paddock_m2[2], 0, 0);
    assert_relative(out.paddock_m2[1], 160.0 * 200, 1e-14);
    fw_partition_release(&out);
    fw_sweep_free(sweep);
}

static void positions_that_fall_are_refused(void **state)
{
    (void)state;
    struct fw_sweep *sweep = sweep_of(&shapes[0]);
    struct fw_partition out = {0};
    struct fw_error err = {0};
    const double falling[] = {10, 9}, nan_position[] = {(double)NAN};
    assert_int_equal(fw_sweep_build(sweep, falling, 2, &out, &err), FW_EUSAGE);
    assert_non_null(strstr(err.text, "9"));
    assert_int_equal(fw_sweep_build(sweep, nan_position, 1, &out, NULL),
                     FW_EUSAGE);
    assert_null(out.added);
    fw_sweep_free(sweep);
}

static void bad_polygons_are_refused(void **state)
{
    (void)state;
    struct fw_sweep *sweep = NULL;
    struct fw_error err = {0};
    const struct fw_point bad[] = {{0, 0}, {(double)NAN, 1}, {1, 1}};
    const size_t three[] = {0, 3}, two[] = {0, 2};
    assert_int_equal(fw_sweep_new(bad, three, 1, &sweep, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "vertex 1"));
    assert_int_equal(fw_sweep_new(rectangle, two, 1, &sweep, &err), FW_EINPUT);
    assert_int_equal(fw_sweep_new(rectangle, two, 0, &sweep, &err), FW_EINPUT);
    assert_null(sweep);
}

/* A zigzag of steep sides whose slopes reach 1e13: sums that lose digits to
 * them miss the area by metres. */
static void steep_sides_leave_nothing_behind(void **state)
{
    (void)state;
    enum { n = 201 };
    struct fw_point points[n + 2];
    for (int i = 0; i < n; i++)
        points[i] =
            (struct fw_point){200 + (i % 2 ? 1e-11 : 0) + i * 1e-12, (double)i};
    points[n] = (struct fw_point){-200, n - 1};
    points[n + 1] = (struct fw_point){-200, 0};
    const struct shape steep = {"steep", points, {0, n + 2}, 1};
    struct fw_sweep *sweep = sweep_of(&steep);
    double position[MOST], length[MOST];
    cut_evenly(sweep, 0, 100, position, length);
    assert_relative(fw_sweep_area_m2(sweep), 400.0 * (n - 1), 1e-12);
    for (size_t k = 0; k < 99; k++)
        assert_near(position[k], -200 + 4 * (double)(k + 1), 1e-9);
    cut_evenly(sweep, 180, 100, position, length);
    for (size_t k = 0; k < 99; k++)
        assert_near(position[k], -200 + 4 * (double)(k + 1), 1e-9);
    fw_sweep_free(sweep);
}

/* Directions far apart, in any order, give what a fresh sweep gives. */
static void order_of_directions_does_not_matter(void **state)
{
    (void)state;
    static const double degs[] = {0, 179, 3, 271, 90.5, 90, 12, 200, 359};
    double a[MOST], b[MOST], length[MOST];
    struct fw_sweep *used = sweep_of(&shapes[4]);
    for (size_t d = 0; d < COUNT(degs); d++) {
        struct fw_sweep *fresh = sweep_of(&shapes[4]);
        cut_evenly(used, degs[d], 50, a, length);
        cut_evenly(fresh, degs[d], 50, b, length);
        assert_memory_equal(a, b, 49 * sizeof *a);
        fw_sweep_free(fresh);
    }
    fw_sweep_free(used);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rectangle_has_its_known_fence),
        cmocka_unit_test(rectangle_cuts_stand_where_they_must),
        cmocka_unit_test(triangle_follows_the_square_root),
        cmocka_unit_test(square_ring_has_its_closed_form),
        cmocka_unit_test(hole_inside_a_strip_belongs_to_it),
        cmocka_unit_test(hole_goes_to_the_piece_around_it),
        cmocka_unit_test(comb_is_parted_at_its_roots),
        cmocka_unit_test(parts_that_touch_in_a_point_are_two),
        cmocka_unit_test(side_that_is_touched_parts_the_strip),
        cmocka_unit_test(hole_between_two_shores_parts_the_strip),
        cmocka_unit_test(tip_on_the_fence_parts_the_paddock),
        cmocka_unit_test(degenerate_shapes_keep_their_areas),
        cmocka_unit_test(symmetries_give_the_same_cuts),
        cmocka_unit_test(fence_ends_lie_on_their_sides),
        cmocka_unit_test(equal_positions_make_an_empty_paddock),
        cmocka_unit_test(positions_that_fall_are_refused),
        cmocka_unit_test(bad_polygons_are_refused),
        cmocka_unit_test(steep_sides_leave_nothing_behind),
        cmocka_unit_test(order_of_directions_does_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
