/* Orders of grazing: which end is first. Every layout is judged by its own
 * rings as well. */
#include "layout_help.h"

/* All candidates from a start at the vertex; how many begin at the far end. */
static size_t far_ones(const struct plot *plot, struct fw_point start,
                       double target)
{
    const struct fw_layout_request request = {.field = &plot->field,
                                              .target = &target,
                                              .target_count = 1,
                                              .start = &start,
                                              .far_first = true};
    struct fw_layout_list list = {0};
    struct fw_error err;
    size_t far = 0;
    if (fw_layout_candidates(&request, &list, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++) {
        assert_map(&request, &list.items[i]);
        if (list.items[i].far_first)
            assert_true(list.items[i].common_count > 0);
        far += list.items[i].far_first;
    }
    fw_layout_list_release(&list);
    return far;
}

static void far_end_is_first_only_along_a_lane(void **state)
{
    (void)state;
    struct plot plot = {0};
    size_t far = 0;
    make_rectangle(&plot, 300, 200, 20);
    for (size_t v = 0; v < 4; v++)
        far += far_ones(&plot, plot.vertices[v].plane, 3000);
    print_message("# %zu candidates begin at the far end\n", far);
    assert_true(far >= 2);
}

/* From inside a paddock no lane begins at the start. */
static void no_far_end_without_a_lane_at_the_gate(void **state)
{
    (void)state;
    struct plot plot = {0};
    make_rectangle(&plot, 300, 200, 0);
    const double target = 3000;
    const struct fw_point start = {77, 63};
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = &target,
                                              .target_count = 1,
                                              .start = &start,
                                              .far_first = true,
                                              .pattern = "strips"};
    struct fw_layout_list list = {0};
    assert_int_equal(fw_layout_candidates(&request, &list, NULL), FW_OK);
    for (size_t i = 0; i < list.count; i++) {
        assert_false(list.items[i].far_first);
        assert_map(&request, &list.items[i]);
    }
    fw_layout_list_release(&list);
}

/* Of the corners of its ring. */
static struct fw_point middle(const struct plot *plot,
                              const struct fw_layout *layout, size_t paddock)
{
    const size_t ring = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t first = layout->ring_start[ring];
    const size_t count = layout->ring_start[ring + 1] - first;
    struct fw_point sum = {0, 0};
    for (size_t i = 0; i < count; i++) {
        const size_t v = layout->ring_vertices[first + i];
        const struct fw_point p =
            v < layout->vertex_count
                ? plot->vertices[v].plane
                : layout->added[v - layout->vertex_count].point;
        sum.x_m += p.x_m / (double)count;
        sum.y_m += p.y_m / (double)count;
    }
    return sum;
}

/* Strips on one side of a lane: the far end's first rank is
 * the near one's last, and the rest follows in turn. */
static size_t compare_ends(const struct plot *plot, struct fw_point start)
{
    const double target = 3000;
    struct fw_layout_request request = {.field = &plot->field,
                                        .target = &target,
                                        .target_count = 1,
                                        .last = FW_LAST_EVEN,
                                        .start = &start,
                                        .pattern = "lane"};
    struct fw_layout_list near = {0}, far = {0};
    assert_int_equal(fw_layout_candidates(&request, &near, NULL), FW_OK);
    request.far_first = true;
    assert_int_equal(fw_layout_candidates(&request, &far, NULL), FW_OK);
    size_t compared = 0;
    for (size_t i = 0; i < far.count && i < near.count; i++) {
        const struct fw_layout *a = &near.items[i], *b = &far.items[i];
        if (!b->far_first || b->turn_count > 0 || a->turn_count > 0)
            continue;
        assert_string_equal(a->name, b->name);
        assert_int_equal(a->paddock_count, b->paddock_count);
        for (size_t p = 0; p < a->paddock_count; p++) {
            const struct fw_point m = middle(plot, a, p);
            const struct fw_point n = middle(plot, b, a->paddock_count - 1 - p);
            assert_near(hypot(m.x_m - n.x_m, m.y_m - n.y_m), 0, 1e-6);
        }
        compared++;
    }
    fw_layout_list_release(&near);
    fw_layout_list_release(&far);
    return compared;
}

/* Which of two sides alike has the lane is the layout's affair: a gate at each
 * corner. */
static void lane_along_a_side_is_grazed_backwards(void **state)
{
    (void)state;
    struct plot plot = {0};
    make_rectangle(&plot, 300, 200, 0);
    size_t compared = 0;
    for (size_t i = 0; i < 4; i++)
        compared += compare_ends(&plot, plot.vertices[i].plane);
    assert_true(compared > 0);
}

/* ---- kept back ---- */

/* By dense points of the mark's rings, and of the paddock's for an area about
 * it: how near they come. */
static double apart_m(const struct plot *plot, const struct fw_layout *layout,
                      size_t paddock, const struct fw_layout_mark *mark)
{
    struct fw_point ring[most_points];
    const size_t r = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t first = layout->ring_start[r];
    const size_t count = layout->ring_start[r + 1] - first;
    for (size_t i = 0; i < count; i++) {
        const size_t v = layout->ring_vertices[first + i];
        ring[i] = v < layout->vertex_count
                      ? plot->vertices[v].plane
                      : layout->added[v - layout->vertex_count].point;
    }
    const size_t n = mark->ring_start[1];
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        for (int part = 0; part <= 100; part++) {
            const struct fw_point a = mark->points[i];
            const struct fw_point b =
                mark->area || i + 1 < n ? mark->points[(i + 1) % n] : a;
            const struct fw_point p = {a.x_m + (b.x_m - a.x_m) * part / 100,
                                       a.y_m + (b.y_m - a.y_m) * part / 100};
            double turns = 0;
            for (size_t k = 0; k < count; k++) {
                const struct fw_point c = ring[k], d = ring[(k + 1) % count];
                turns += remainder(atan2(d.y_m - p.y_m, d.x_m - p.x_m) -
                                       atan2(c.y_m - p.y_m, c.x_m - p.x_m),
                                   2 * PI);
                for (int q = 0; q <= 100; q++)
                    least_m =
                        fmin(least_m,
                             hypot(c.x_m + (d.x_m - c.x_m) * q / 100 - p.x_m,
                                   c.y_m + (d.y_m - c.y_m) * q / 100 - p.y_m));
            }
            if (fabs(turns) > PI)
                least_m = 0;
        }
    return least_m;
}

/* Held ones are last, and at their mark; and no more of them than it takes. */
static void assert_kept(const struct plot *plot,
                        const struct fw_layout_request *request,
                        const struct fw_layout *layout)
{
    double short_by = 0;
    bool held = false;
    for (size_t k = 0; k < request->keep_count; k++) {
        const struct fw_layout_keep *keep = &request->keep[k];
        double stays = 0, least = 1;
        for (size_t p = 0; p < layout->paddock_count; p++) {
            if (layout->keep[p] != k + 1)
                continue;
            double near_m = HUGE_VAL;
            for (size_t m = 0; m < keep->mark_count; m++)
                near_m =
                    fmin(near_m, apart_m(plot, layout, p, &keep->marks[m]));
            assert_true(near_m <= 5 + 1.5); /* with the points' spacing */
            const double one = p + 1 == layout->paddock_count
                                   ? fmin(1, layout->last_share)
                                   : 1;
            stays += one;
            least = fmin(least, one);
        }
        assert_true(stays - 1 < keep->stays - 0.1 + 1e-9);
        if (stays < keep->stays - 0.1 - 1e-9)
            short_by += keep->stays - stays;
    }
    assert_near(layout->keep_short, short_by, 1e-9);
    for (size_t p = 0; p < layout->paddock_count; p++) {
        assert_true(layout->keep[p] <= request->keep_count);
        assert_true(!held || layout->keep[p]);
        held |= layout->keep[p] > 0;
        assert_true(!layout->keep[p] || !layout->barred[p]);
        assert_true(!layout->barred[p] || short_by > 0);
    }
    assert_int_equal(layout->keep[0], 0);
}

static const size_t one_point[] = {0, 1}, one_line[] = {0, 2},
                    one_box[] = {0, 4};

static void sheltered_paddocks_are_grazed_last(void **state)
{
    (void)state;
    static const struct fw_point hedge[] = {{180, 203}, {320, 203}};
    static const struct fw_point trees[] = {
        {200, 20}, {230, 20}, {230, 45}, {200, 45}};
    static const struct fw_point tree[] = {{285, 100}};
    const struct fw_layout_mark shelter = {hedge, one_line, 1, false};
    const struct fw_layout_mark shade[] = {{trees, one_box, 1, true},
                                           {tree, one_point, 1, false}};
    const struct fw_layout_keep keep[] = {{2, &shelter, 1}, {1.5, shade, 2}};
    const double targets[] = {3000, 2500, 4300};
    int whole = 0, turning = 0;
    for (size_t t = 0; t < COUNT(targets); t++)
        for (size_t gate = 0; gate < 4; gate++) {
            struct plot plot = {0};
            make_rectangle(&plot, 300, 200, 0);
            const struct fw_layout_request request = {
                .field = &plot.field,
                .target = &targets[t],
                .target_count = 1,
                .start = &plot.vertices[gate].plane,
                .keep = keep,
                .keep_count = 2};
            struct fw_layout_list list = {0};
            assert_int_equal(fw_layout_candidates(&request, &list, NULL),
                             FW_OK);
            for (size_t i = 0; i < list.count; i++) {
                assert_map(&request, &list.items[i]);
                assert_kept(&plot, &request, &list.items[i]);
                whole += list.items[i].keep_short <= 0;
                turning += list.items[i].turn_count > 0;
            }
            fw_layout_list_release(&list);
        }
    print_message("# %d candidates keep all, %d walk back\n", whole, turning);
    assert_true(whole > 10 && turning > 0);
}

/* Ten strips of 30 m along a field; the gate in the third one. Outwards from it
 * both ways there is a way back, from the nearer end there is none. */
static void one_way_begins_at_the_nearer_end(void **state)
{
    (void)state;
    const double target = 6000;
    for (int east = 0; east < 2; east++)
        for (int one_way = 0; one_way < 2; one_way++) {
            struct plot plot = {0};
            make_rectangle(&plot, 300, 200, 0);
            const struct fw_point gate = {east ? 225 : 75, 0};
            const struct fw_layout_request request = {.field = &plot.field,
                                                      .target = &target,
                                                      .target_count = 1,
                                                      .start = &gate,
                                                      .one_way = one_way,
                                                      .pattern = "strips",
                                                      .direction_given = true};
            struct fw_layout_list list = {0};
            assert_int_equal(fw_layout_candidates(&request, &list, NULL),
                             FW_OK);
            assert_map(&request, &list.items[0]);
            assert_int_equal(list.items[0].apart_count, 0);
            assert_int_equal(list.items[0].turn_count, !one_way);
            assert_near(list.items[0].gate_m, one_way ? 45 : 0, 1e-6);
            fw_layout_list_release(&list);
        }
}

/* Ten strips of 30 m from the gate on; the flock comes through each of them. */
static struct fw_layout strips_with(const struct fw_point *tree, double stays)
{
    struct plot plot = {0};
    make_rectangle(&plot, 300, 200, 0);
    const double target = 6000;
    const struct fw_layout_mark mark = {tree, one_point, 1, false};
    const struct fw_layout_keep keep = {stays, &mark, 1};
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = &target,
                                              .target_count = 1,
                                              .start = &plot.vertices[0].plane,
                                              .pattern = "strips",
                                              .direction_given = true,
                                              .keep = &keep,
                                              .keep_count = 1};
    struct fw_layout_list list = {0};
    assert_int_equal(fw_layout_candidates(&request, &list, NULL), FW_OK);
    assert_int_equal(list.count, 1);
    struct fw_layout layout = list.items[0];
    assert_int_equal(layout.paddock_count, 10);
    list.items[0] = (struct fw_layout){0};
    fw_layout_list_release(&list);
    return layout;
}

static void paddock_on_the_way_cannot_be_kept(void **state)
{
    (void)state;
    const struct fw_point middle_tree = {135, 100}, end_tree = {285, 100},
                          gate_tree = {15, 100}, far_tree = {400, 100};
    struct fw_layout layout = strips_with(&middle_tree, 1);
    assert_near(layout.keep_short, 1, 0);
    for (size_t p = 0; p < 10; p++) {
        assert_int_equal(layout.keep[p], 0);
        assert_int_equal(layout.barred[p], p == 4);
    }
    fw_layout_release(&layout);
    layout = strips_with(&end_tree, 1);
    assert_near(layout.keep_short, 0, 0);
    for (size_t p = 0; p < 10; p++) {
        assert_int_equal(layout.keep[p], p == 9);
        assert_int_equal(layout.barred[p], 0);
    }
    fw_layout_release(&layout);
    layout = strips_with(&gate_tree, 1);
    assert_near(layout.keep_short, 1, 0);
    assert_int_equal(layout.barred[0], 1);
    fw_layout_release(&layout);
    layout = strips_with(&far_tree, 3);
    assert_near(layout.keep_short, 3, 0);
    for (size_t p = 0; p < 10; p++)
        assert_int_equal(layout.keep[p] + layout.barred[p], 0);
    fw_layout_release(&layout);
}

/* A wood about the whole field, and the same with a clearing larger than it. */
static void clearing_is_no_wood(void **state)
{
    (void)state;
    static const struct fw_point wood[] = {
        {-500, -500}, {900, -500}, {900, 900}, {-500, 900},
        {-100, -100}, {-100, 400}, {400, 400}, {400, -100}};
    static const size_t rings[] = {0, 4, 8};
    const double target = 6000;
    for (size_t count = 1; count <= 2; count++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const struct fw_layout_mark mark = {wood, rings, count, true};
        const struct fw_layout_keep keep = {2, &mark, 1};
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "strips",
                                                  .keep = &keep,
                                                  .keep_count = 1};
        struct fw_layout_list list = {0};
        assert_int_equal(fw_layout_candidates(&request, &list, NULL), FW_OK);
        for (size_t i = 0; i < list.count; i++)
            assert_near(list.items[i].keep_short, count == 1 ? 0 : 2, 0);
        fw_layout_list_release(&list);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(far_end_is_first_only_along_a_lane),
        cmocka_unit_test(no_far_end_without_a_lane_at_the_gate),
        cmocka_unit_test(lane_along_a_side_is_grazed_backwards),
        cmocka_unit_test(one_way_begins_at_the_nearer_end),
        cmocka_unit_test(sheltered_paddocks_are_grazed_last),
        cmocka_unit_test(paddock_on_the_way_cannot_be_kept),
        cmocka_unit_test(clearing_is_no_wood),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
