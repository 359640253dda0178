/* What can be asked of layouts beside how much each paddock holds, one wish
 * after the other: what comes out has it, and nothing else changes. */
#include "layout_help.h"

#include "geo/herbage.h"

static struct fw_layout_list candidates(const struct fw_layout_request *request)
{
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    const enum fw_status status = fw_layout_candidates(request, &list, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s", err.text);
    for (size_t i = 0; i < list.count; i++) {
        struct map_check check;
        if (!map_is_true(&check, request, &list.items[i],
                         request->field->area_m2, 1e-9))
            fail_msg("%s: %s", list.items[i].name, check.why);
    }
    return list;
}

static size_t of_pattern(const struct fw_layout_list *list, const char *pattern)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++)
        count += strcmp(list->items[i].pattern, pattern) == 0;
    return count;
}

/* Across 100 m they need the least line, n - 1 fences of 100 m each; they run
 * along a side, and from the one place to the other. Nothing is left to be
 * offered that has another merit, and these not a second time. */
static void strips_with_every_merit_are_offered_once(void **state)
{
    (void)state;
    const struct fw_point start = {0, 10}, also = {100, 10};
    const double target = 4000;
    struct plot plot = {0};
    make_rectangle(&plot, 100, 400, 0);
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = &target,
                                              .target_count = 1,
                                              .start = &start,
                                              .also = &also,
                                              .pattern = "strips"};
    struct fw_layout_list list = candidates(&request);
    assert_int_equal(list.count, 1);
    assert_near(list.items[0].direction_deg, 90, 0);
    assert_int_equal(list.items[0].paddock_count, 10);
    assert_near(list.items[0].line_m, 9 * 100, 1e-6);
    fw_layout_list_release(&list);
}

/* A field of 2 kg a square metre is twice as rich from the first day on: what a
 * day is asked to hold is counted on its own ground, and the last day told goes
 * on for the paddocks beyond it. */
static void days_that_end_before_the_field_go_on(void **state)
{
    (void)state;
    struct plot plot = {0};
    struct fw_herbage *today = NULL, *later = NULL;
    make_rectangle(&plot, 100, 400, 0);
    assert_int_equal(fw_herbage_even(2, &today, NULL), FW_OK);
    assert_int_equal(fw_herbage_even(4, &later, NULL), FW_OK);
    const double target = 8000; /* of today's: 16,000 of later's */
    const struct fw_layout_day day = {later, 16000};
    const struct fw_layout_request request = {.field = &plot.field,
                                              .ground = today,
                                              .target = &target,
                                              .days = &day,
                                              .target_count = 1,
                                              .pattern = "strips"};
    struct fw_layout_list list = {0};
    assert_int_equal(fw_layout_candidates(&request, &list, NULL), FW_OK);
    assert_true(list.count > 0);
    for (size_t i = 0; i < list.count; i++) {
        assert_int_equal(list.items[i].paddock_count, 10);
        for (size_t p = 0; p < 10; p++)
            assert_near(list.items[i].holds[p], 16000, 1e-4);
    }
    fw_layout_list_release(&list);
    fw_herbage_free(today);
    fw_herbage_free(later);
}

/* An L with a bevel, 300 m long: no side is along another but two pairs. */
static void make_field(struct plot *plot)
{
    const struct fw_point ring[] = {{0, 0},     {300, 0},   {310, 120},
                                    {180, 140}, {170, 220}, {20, 210}};
    add_ring(plot, ring, COUNT(ring));
}

/* ---- patterns ---- */

static void all_patterns_are_each_of_them(void **state)
{
    (void)state;
    const struct fw_point water = {90, 100}, start = {0, 0};
    const double target = 4500;
    for (int bends = 0; bends < 2; bends++) {
        struct plot plot = {0};
        make_field(&plot);
        struct fw_layout_request request = {.field = &plot.field,
                                            .target = &target,
                                            .target_count = 1,
                                            .start = &start,
                                            .water = &water,
                                            .bends = bends};
        struct fw_layout_list all = candidates(&request);
        size_t at = 0;
        const char *name;
        for (size_t p = 0; (name = fw_layout_pattern(p, NULL)); p++) {
            const size_t wanted = of_pattern(&all, name);
            request.pattern = name;
            struct fw_layout_list some = candidates(&request);
            /* In parts it is cut where blocks do not do as well. */
            assert_true(wanted == some.count ||
                        (strcmp(name, "limbs") == 0 && wanted < some.count));
            for (size_t i = 0; i < wanted; i++, at++) {
                assert_string_equal(all.items[at].name, some.items[i].name);
                assert_string_equal(all.items[at].pattern, name);
                assert_relative(all.items[at].line_m, some.items[i].line_m,
                                1e-9);
            }
            for (size_t i = 0; i < some.count; i++)
                assert_string_equal(some.items[i].pattern, name);
            fw_layout_list_release(&some);
        }
        assert_int_equal(at, all.count);
        fw_layout_list_release(&all);
    }
}

static void breaks_need_no_lanes_and_no_wedges(void **state)
{
    (void)state;
    const struct fw_point water = {90, 100};
    const double target = 6000;
    struct plot plot = {0};
    make_field(&plot);
    struct fw_layout_request request = {.field = &plot.field,
                                        .target = &target,
                                        .target_count = 1,
                                        .water = &water};
    struct fw_layout_list all = candidates(&request);
    request.breaks_only = true;
    struct fw_layout_list breaks = candidates(&request);
    assert_true(of_pattern(&all, "lane") > 0);
    assert_true(of_pattern(&all, "wedges") > 0);
    assert_int_equal(breaks.count, all.count - of_pattern(&all, "lane") -
                                       of_pattern(&all, "wedges"));
    for (size_t i = 0; i < breaks.count; i++) {
        assert_int_equal(breaks.items[i].common_count, 0);
        assert_int_equal(of_pattern(&breaks, breaks.items[i].pattern),
                         of_pattern(&all, breaks.items[i].pattern));
    }
    /* Who asks for a lane gets it. */
    request.pattern = "lane";
    struct fw_layout_list lanes = candidates(&request);
    assert_true(lanes.count > 0);
    fw_layout_list_release(&lanes);
    fw_layout_list_release(&breaks);
    fw_layout_list_release(&all);
}

/* ---- directions ---- */

static void direction_that_is_given_is_kept_to(void **state)
{
    (void)state;
    const double degs[] = {0, 17.25, 90, 133.3, 179.9};
    const double target = 7000;
    for (size_t i = 0; i < COUNT(degs); i++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "strips",
                                                  .direction_given = true,
                                                  .direction_deg = degs[i]};
        struct fw_layout_list list = candidates(&request);
        assert_int_equal(list.count, 1);
        assert_near(list.items[0].direction_deg, degs[i], 0);
        fw_layout_list_release(&list);
    }
}

/* So many directions over half a turn, and those along long sides. */
static void so_many_directions_are_tried_as_are_asked_for(void **state)
{
    (void)state;
    const double target = 7000;
    double before_m = HUGE_VAL;
    for (int n = 1; n <= 32; n *= 2) {
        struct plot plot = {0};
        make_field(&plot);
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "strips",
                                                  .directions = n};
        struct fw_layout_list list = candidates(&request);
        for (size_t i = 0; i < list.count; i++) {
            const double deg = list.items[i].direction_deg;
            bool is_along = false;
            for (size_t k = 0; k < plot.field.corner_count; k++) {
                const struct fw_point a =
                    plot.field.vertices[plot.field.corners[k]].plane;
                const struct fw_point b =
                    plot.field
                        .vertices[plot.field.corners[(k + 1) %
                                                     plot.field.corner_count]]
                        .plane;
                const double side_deg =
                    atan2(b.y_m - a.y_m, b.x_m - a.x_m) * 180 / PI;
                is_along |= fabs(remainder(deg - 90 - side_deg, 180)) < 1e-9;
            }
            assert_true(is_along || fabs(remainder(deg, 180.0 / n)) < 1e-9);
        }
        /* Each has those of the one before, and more. */
        assert_true(least_line(&list)->line_m <= before_m * (1 + 1e-12));
        before_m = least_line(&list)->line_m;
        fw_layout_list_release(&list);
    }
}

/* ---- two places in the first strip ---- */

static bool first_has_both(const struct fw_layout_request *request,
                           const struct fw_layout *layout)
{
    struct map_check check;
    assert_true(map_fits(&check, request->field, layout));
    const bool has = map_to_paddock_m(&check, 0, *request->start) < 1e-6 &&
                     map_to_paddock_m(&check, 0, *request->also) < 1e-6;
    map_check_release(&check);
    return has;
}

/* On a round field a strip that has two places of its edge runs from one to
 * the other. Few directions are tried besides. */
static void first_strip_runs_from_one_place_to_the_other(void **state)
{
    (void)state;
    enum { corners = 60 };
    const double target = 3000;
    for (size_t k = 0; k < 12; k++) {
        struct plot plot = {0};
        struct fw_point ring[corners];
        for (size_t i = 0; i < corners; i++)
            ring[i] =
                (struct fw_point){100 * cos(2 * PI * (double)i / corners),
                                  100 * sin(2 * PI * (double)i / corners)};
        add_ring(&plot, ring, corners);
        const struct fw_point start = ring[5 * k],
                              also = ring[(5 * k + 11) % corners];
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "strips",
                                                  .directions = 2,
                                                  .start = &start,
                                                  .also = &also};
        struct fw_layout_list list = candidates(&request);
        size_t both = 0;
        for (size_t i = 0; i < list.count; i++)
            both += first_has_both(&request, &list.items[i]);
        assert_true(both > 0);
        fw_layout_list_release(&list);
    }
}

/* Of a rectangle the strips along the short side have both its corners, though
 * strips the other way would have as little line. */
static void first_strip_has_gate_and_water(void **state)
{
    (void)state;
    const struct fw_point places[][2] = {{{0, 20}, {0, 180}},
                                         {{20, 0}, {180, 0}},
                                         {{200, 10}, {200, 190}},
                                         {{190, 200}, {10, 200}}};
    const double target = 4000;
    for (size_t k = 0; k < COUNT(places); k++) {
        struct plot plot = {0};
        make_rectangle(&plot, 200, 200, 0);
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "strips",
                                                  .start = &places[k][0],
                                                  .also = &places[k][1]};
        struct fw_layout_list list = candidates(&request);
        size_t both = 0;
        for (size_t i = 0; i < list.count; i++)
            both += first_has_both(&request, &list.items[i]) &&
                    list.items[i].line_m < 1800 + 1e-6;
        assert_true(both > 0);
        fw_layout_list_release(&list);
    }
}

/* ---- bends ---- */

/* A bent fence takes no more line than a straight one; on unequal ground it is
 * not tried. */
static void bends_take_no_more_line(void **state)
{
    (void)state;
    const struct fw_point start = {300, 0};
    const double targets[] = {3000, 4500, 6000};
    size_t less[2] = {0, 0};
    for (size_t k = 0; k < 2 * COUNT(targets); k++) {
        struct plot plot = {0};
        make_field(&plot);
        const struct fw_point pond[] = {
            {100, 90}, {100, 100}, {110, 100}, {110, 90}};
        if (k % 2)
            add_ring(&plot, pond, COUNT(pond));
        struct fw_layout_request request = {.field = &plot.field,
                                            .target = &targets[k / 2],
                                            .target_count = 1,
                                            .last = FW_LAST_EVEN,
                                            .start = &start};
        struct fw_layout_list straight = candidates(&request);
        request.bends = true;
        struct fw_layout_list bent = candidates(&request);
        assert_int_equal(straight.count, bent.count);
        for (size_t i = 0; i < bent.count; i++) {
            assert_string_equal(bent.items[i].name, straight.items[i].name);
            assert_true(bent.items[i].line_m <=
                        straight.items[i].line_m * (1 + 1e-9));
            less[k % 2] +=
                bent.items[i].line_m < straight.items[i].line_m * 0.995;
            assert_int_equal(bent.items[i].apart_count,
                             straight.items[i].apart_count);
        }
        fw_layout_list_release(&straight);
        fw_layout_list_release(&bent);
    }
    assert_true(less[0] > 0 && less[1] > 0);
}

/* ---- a lane on the map ---- */

/* Two points are a lane as well: it goes on straight to the edge, and where
 * they lie along it, and which is first, is all the same. */
static void straight_lane_goes_from_edge_to_edge(void **state)
{
    (void)state;
    const double ends_m[][2] = {
        {10, 290}, {100, 200}, {290, 10}, {149, 150}, {1, 299}};
    const double target = 2000;
    for (size_t k = 0; k < COUNT(ends_m); k++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const struct fw_point way[] = {{ends_m[k][0], 93}, {ends_m[k][1], 93}};
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_SHORT,
                                                  .pattern = "lane",
                                                  .lane = way,
                                                  .lane_count = 2};
        struct fw_layout_list list = candidates(&request);
        assert_int_equal(list.count, 2);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            assert_int_equal(layout->paddock_count, 29);
            assert_near(layout->standing_m, 600, 1e-6);
            /* 1000 or 1200 m2 are left beside the last full ones. */
            const double lane_m2 = layout->paddock_m2[29];
            assert_true(fabs(lane_m2 - 2800) < 1e-5 ||
                        fabs(lane_m2 - 3000) < 1e-5);
            assert_int_equal(layout->apart_count, 0);
        }
        fw_layout_list_release(&list);
    }
}

/* 90 m and 104 m lie beside it: of paddocks of 2000 m2 13.5 and 15.6. Of all
 * that can be, 14 and 16 of 1928.6 m2 leave the least over, or from the other
 * way 15 and 14. */
static void paddocks_on_both_sides_are_even(void **state)
{
    (void)state;
    const double target = 2000;
    for (int k = 0; k < 2; k++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const struct fw_point way[] = {{20, 93}, {k ? 290 : 280, 93}};
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_EVEN,
                                                  .pattern = "lane",
                                                  .lane = way,
                                                  .lane_count = 2};
        struct fw_layout_list list = candidates(&request);
        assert_int_equal(list.count, 2);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            double most = 0;
            /* All numbers on either side, which hold at least half. */
            for (size_t n = 1; n < 40; n++)
                for (size_t m = 1; m < 40; m++) {
                    const double each =
                        fmin(27000 / (double)n, 31200 / (double)m);
                    if (each > 1900 && each < 2100)
                        most = fmax(most, each * (double)(n + m));
                }
            const double sum_m2 =
                layout->paddock_m2[0] * (double)layout->paddock_count;
            assert_true(layout->even);
            assert_true(sum_m2 > 0.99 * most && sum_m2 < most + 1e-3);
            for (size_t p = 0; p < layout->paddock_count; p++)
                assert_near(layout->paddock_m2[p], layout->paddock_m2[0], 1e-5);
            assert_near(layout->paddock_m2[layout->paddock_count],
                        60000 - sum_m2, 1e-3);
        }
        fw_layout_list_release(&list);
    }
}

/* Wherever it lies and however large they are there is a way to be even. */
static void even_paddocks_lie_along_any_lane(void **state)
{
    (void)state;
    const double ats_m[] = {40, 60, 93, 100, 121, 141, 160};
    const double targets[] = {1100, 1500, 2000, 2700, 4100};
    for (size_t k = 0; k < COUNT(ats_m) * COUNT(targets); k++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const double at_m = ats_m[k % COUNT(ats_m)];
        const struct fw_point way[] = {{20, at_m}, {290, at_m}};
        const struct fw_layout_request request = {
            .field = &plot.field,
            .target = &targets[k / COUNT(ats_m)],
            .target_count = 1,
            .last = FW_LAST_EVEN,
            .pattern = "lane",
            .lane = way,
            .lane_count = 2};
        struct fw_layout_list list = candidates(&request);
        assert_int_equal(list.count, 2);
        fw_layout_list_release(&list);
    }
}

/* So near to a side that there is less than half a lane beside it: paddocks
 * lie on its other side alone. */
static void lane_beside_an_edge_has_paddocks_on_one_side(void **state)
{
    (void)state;
    const double off_m[] = {0.5, 1, 2, 2.9, 3, 3.1, 4, 6};
    const double target = 3000;
    for (size_t k = 0; k < COUNT(off_m); k++) {
        struct plot plot = {0};
        make_rectangle(&plot, 300, 200, 0);
        const struct fw_point way[] = {{20, off_m[k]}, {280, off_m[k]}};
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .last = FW_LAST_EVEN,
                                                  .pattern = "lane",
                                                  .lane = way,
                                                  .lane_count = 2};
        struct fw_layout_list list = candidates(&request);
        /* Where it lies along the edge itself there is none yet. */
        assert_int_equal(list.count, off_m[k] != 3);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            const double n = (double)layout->paddock_count;
            assert_near(layout->standing_m, 300, 1e-6);
            assert_near(layout->paddock_m2[layout->paddock_count],
                        300 * (off_m[k] + 3), 1e-5);
            assert_near(layout->moved_m, (n - 1) * (197 - off_m[k]), 1e-5);
            assert_near(layout->paddock_m2[0], 300 * (197 - off_m[k]) / n,
                        1e-5);
        }
        fw_layout_list_release(&list);
    }
}

/* ---- water that sees it all ---- */

/* One side is seen from the water by so little: by its sine it counts as seen
 * edge-on up to a thousandth. */
static void side_seen_edge_on_is_not_seen(void **state)
{
    (void)state;
    const double sines[] = {-0.01, 0, 5e-4, 9e-4, 1.1e-3, 2e-3, 0.1};
    const double target = 3000;
    for (size_t k = 0; k < COUNT(sines); k++) {
        const struct fw_point water = {50, 50}, from = {100, 40};
        const double angle = atan2(-10, 50) + asin(sines[k]);
        const struct fw_point ring[] = {
            {0, 0},
            {100, 0},
            from,
            {from.x_m + 100 * cos(angle), from.y_m + 100 * sin(angle)},
            {200, 100},
            {0, 100}};
        struct plot plot = {0};
        add_ring(&plot, ring, COUNT(ring));
        const struct fw_layout_request request = {.field = &plot.field,
                                                  .target = &target,
                                                  .target_count = 1,
                                                  .pattern = "wedges",
                                                  .water = &water};
        struct fw_layout_list list = candidates(&request);
        assert_int_equal(list.count > 0, sines[k] > 1e-3);
        fw_layout_list_release(&list);
    }
}

/* ---- about a pond ---- */

/* A field whose long sides run apart, with a pond that fences end on or pass:
 * turning fences go round with it as they do without, and take less line than
 * parallel ones. */
static void fences_turn_about_a_pond(void **state)
{
    (void)state;
    const struct fw_point ponds[] = {{150, 60}, {60, 30}, {240, 120}};
    size_t found = 0;
    for (size_t k = 0; k < COUNT(ponds); k++)
        for (int half = 3; half <= 12; half += 3) {
            const struct fw_point ring[] = {
                {0, 0}, {300, 0}, {300, 200}, {0, 100}};
            const double x = ponds[k].x_m, y = ponds[k].y_m, r = half;
            const struct fw_point pond[] = {
                {x - r, y - r}, {x - r, y + r}, {x + r, y + r}, {x + r, y - r}};
            struct plot plot = {0};
            add_ring(&plot, ring, 4);
            add_ring(&plot, pond, 4);
            const double target = plot.field.area_m2 / 11.7;
            struct fw_layout_request request = {.field = &plot.field,
                                                .target = &target,
                                                .target_count = 1,
                                                .pattern = "turning"};
            struct fw_layout_list turning = candidates(&request);
            request.pattern = "strips";
            struct fw_layout_list strips = candidates(&request);
            found += turning.count > 0;
            if (turning.count > 0)
                assert_true(least_line(&turning)->line_m <
                            least_line(&strips)->line_m);
            fw_layout_list_release(&turning);
            fw_layout_list_release(&strips);
        }
    assert_true(found >= 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_with_every_merit_are_offered_once),
        cmocka_unit_test(days_that_end_before_the_field_go_on),
        cmocka_unit_test(all_patterns_are_each_of_them),
        cmocka_unit_test(breaks_need_no_lanes_and_no_wedges),
        cmocka_unit_test(direction_that_is_given_is_kept_to),
        cmocka_unit_test(so_many_directions_are_tried_as_are_asked_for),
        cmocka_unit_test(first_strip_runs_from_one_place_to_the_other),
        cmocka_unit_test(first_strip_has_gate_and_water),
        cmocka_unit_test(bends_take_no_more_line),
        cmocka_unit_test(straight_lane_goes_from_edge_to_edge),
        cmocka_unit_test(paddocks_on_both_sides_are_even),
        cmocka_unit_test(even_paddocks_lie_along_any_lane),
        cmocka_unit_test(lane_beside_an_edge_has_paddocks_on_one_side),
        cmocka_unit_test(side_seen_edge_on_is_not_seen),
        cmocka_unit_test(fences_turn_about_a_pond),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
