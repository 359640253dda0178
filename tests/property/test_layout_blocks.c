/* Plans of blocks against all plans that there are, and ways that were noted
 * against a list of them. */
#include "layout_across.h"

#include "layout/blocks.h"
#include "layout/ways.h"

enum { most_plots = 9, directions = 12 };

/* Behind each place, how far along the sweep it is, and how long its line. */
struct places {
    double behind_m2[most_plots + 1], at_m[most_plots + 1],
        line_m[most_plots + 1];
    size_t count;
};

static void list_places(const struct plot *plot, double deg,
                        struct places *places)
{
    const double c = cos(deg * PI / 180), s = sin(deg * PI / 180);
    const size_t n = places->count;
    places->at_m[0] = HUGE_VAL;
    places->at_m[n] = -HUGE_VAL;
    places->line_m[0] = places->line_m[n] = 0;
    for (size_t i = 0; i < plot->ring_start[1]; i++) {
        const double u = at(plot, i).x_m * c + at(plot, i).y_m * s;
        places->at_m[0] = fmin(places->at_m[0], u);
        places->at_m[n] = fmax(places->at_m[n], u);
    }
    for (size_t k = 1; k < n; k++) {
        places->at_m[k] = place_across(plot, deg, places->behind_m2[k]);
        pieces_of(plot, deg, places->at_m[k], &places->line_m[k]);
    }
}

/* A block's strips are as long as it is wide; at the ends of the field, where
 * it tapers, half way from that to its area by its longer line. */
static double block_m(const struct places *places, size_t from, size_t to)
{
    const double wide_m = places->at_m[to] - places->at_m[from];
    const double line_m = fmax(places->line_m[from], places->line_m[to]);
    const double mean_m =
        (places->behind_m2[to] - places->behind_m2[from]) / line_m;
    const bool first = from == 0, last = to == places->count;
    const double m =
        first != last && mean_m < wide_m ? (wide_m + mean_m) / 2 : wide_m;
    return (double)(to - from - 1) * m;
}

/* Bit k - 1: a block ends after k plots. */
static double plan_m(const struct places *places, unsigned ends, double weight)
{
    double sum_m = 0;
    size_t from = 0;
    for (size_t k = 1; k <= places->count; k++)
        if (k == places->count || (ends >> (k - 1) & 1)) {
            sum_m += block_m(places, from, k) + weight * places->line_m[k];
            from = k;
        }
    return sum_m;
}

static void assert_plan(const struct plot *plot, struct places *places,
                        const struct fw_block_plan *plan, double weight)
{
    unsigned ends = 0;
    double least_m = HUGE_VAL;
    list_places(plot, plan->deg, places);
    assert_int_equal(plan->at[0], 0);
    assert_int_equal(plan->at[plan->block_count], places->count);
    for (size_t b = 1; b < plan->block_count; b++) {
        assert_true(plan->at[b] > plan->at[b - 1]);
        ends |= 1u << (plan->at[b] - 1);
    }
    for (unsigned e = 0; e < 1u << (places->count - 1); e++)
        least_m = fmin(least_m, plan_m(places, e, weight));
    assert_relative(plan->line_m, least_m, 1e-9);
    assert_relative(plan_m(places, ends, weight), least_m, 1e-9);
}

static void plans_are_the_least_of_all(void **state)
{
    (void)state;
    uint64_t seed = seeded(2361);
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 20; i++) {
        struct plot plot;
        struct fw_point points[most_points];
        struct fw_block_plan plans[directions];
        draw_plot(geos, &plot, &seed);
        struct places places = {.count = draw_count(&seed, 1, most_plots)};
        double sum = 0;
        for (size_t k = 1; k <= places.count; k++)
            places.behind_m2[k] = sum += draw(&seed, 1, 2);
        for (size_t k = 1; k <= places.count; k++)
            places.behind_m2[k] *= plot.field.area_m2 / sum;
        for (size_t v = 0; v < plot.field.vertex_count; v++)
            points[v] = at(&plot, v);
        const double weight = i % 2 ? 3 : 1;
        const struct fw_block_wish wish = {.points = points,
                                           .ring_start = plot.ring_start,
                                           .ring_count = plot.field.ring_count,
                                           .behind_m2 = places.behind_m2,
                                           .count = places.count,
                                           .directions = directions,
                                           .line_weights = &weight,
                                           .weight_count = 1};
        struct fw_block_plans out = {.items = plans};
        assert_int_equal(fw_layout__block_plans(&wish, &out, NULL), FW_OK);
        const size_t plan_count = out.count;
        assert_int_equal(plan_count, directions);
        bool seen[directions] = {false};
        for (size_t p = 0; p < plan_count; p++) {
            const double turn = plans[p].deg / 180 * directions;
            assert_near(turn, rint(turn), 1e-9);
            assert_true(turn > -0.5 && turn < directions - 0.5);
            assert_false(seen[(size_t)rint(turn)]);
            seen[(size_t)rint(turn)] = true;
            assert_plan(&plot, &places, &plans[p], weight);
            if (p > 0)
                assert_true(plans[p].line_m >=
                            plans[p - 1].line_m * (1 - 1e-8));
        }
    }
    GEOS_finish_r(geos);
}

/* ---- ways ---- */

static void ways_are_found_as_they_were_noted_last(void **state)
{
    (void)state;
    enum { across = 6 };
    struct fw_ways ways = {.items = NULL};
    uint64_t seed = seeded(2362);
    double noted[across][across] = {{0}};
    for (int i = 0; i < 200; i++) {
        struct fw_way way = {.first = draw_count(&seed, 0, across - 1),
                             .count = draw_count(&seed, 0, across - 1)};
        way.chord.length_m = noted[way.first][way.count] = i + 1;
        assert_int_equal(fw_ways_note(&ways, &way, NULL), FW_OK);
        for (size_t a = 0; a < across; a++)
            for (size_t b = 0; b < across; b++) {
                const struct fw_way *found = fw_ways_find(&ways, a, b);
                assert_int_equal(found != NULL, noted[a][b] > 0);
                if (found)
                    assert_near(found->chord.length_m, noted[a][b], 0);
            }
    }
    fw_ways_release(&ways);
    assert_int_equal(ways.count, 0);
}

/* In a square of 100 m, from the southern side to the northern one. */
static void way_alike_is_the_nearest_one(void **state)
{
    (void)state;
    uint64_t seed = seeded(2363);
    size_t some = 0, none = 0;
    struct plot plot = {.ring_start = {0}};
    struct fw_subdivision subdivision;
    struct fw_region whole;
    make_rectangle(&plot, 100, 100, 0);
    assert_int_equal(fw_subdivision_init(&subdivision, &plot.field, NULL, NULL),
                     FW_OK);
    assert_int_equal(fw_subdivision_whole(&subdivision, &whole, NULL), FW_OK);
    for (int i = 0; i < 300; i++) {
        enum { chord_count = 5 };
        struct fw_chord chords[chord_count];
        struct fw_way way = {.chord = {.plots = 1,
                                       .length_m = draw(&seed, 50, 100),
                                       .parallel = i % 3 == 0,
                                       .direction_deg = draw(&seed, 0, 180)},
                             .from = {draw(&seed, 0, 100), 0},
                             .to = {draw(&seed, 0, 100), 100}};
        const double alike = draw(&seed, 0.2, 1);
        const struct fw_chord *best = NULL;
        double least = alike * way.chord.length_m;
        for (size_t c = 0; c < chord_count; c++) {
            const double from = draw(&seed, 0, 1), to = draw(&seed, 0, 1);
            chords[c] = (struct fw_chord){.plots = draw_count(&seed, 1, 2),
                                          .parallel = draw(&seed, 0, 1) < 0.3,
                                          .direction_deg = draw(&seed, 0, 180),
                                          .from = {0, from},
                                          .to = {2, to}};
            struct fw_point ends[2];
            fw_way_ends(&subdivision, &whole, &chords[c], &ends[0], &ends[1]);
            const bool parallel = chords[c].parallel;
            assert_near(ends[0].x_m, parallel ? 0 : 100 * from, 1e-9);
            assert_near(ends[0].y_m, 0, 1e-9);
            assert_near(ends[1].x_m, parallel ? 0 : 100 - 100 * to, 1e-9);
            assert_near(ends[1].y_m, parallel ? 0 : 100, 1e-9);
            const double off =
                parallel
                    ? fabs(chords[c].direction_deg - way.chord.direction_deg)
                    : fabs(100 * from - way.from.x_m) +
                          fabs(100 - 100 * to - way.to.x_m);
            if (chords[c].plots == 1 && parallel == way.chord.parallel &&
                off < least) {
                least = off;
                best = &chords[c];
            }
        }
        const struct fw_chords all = {.items = chords, .count = chord_count};
        assert_true(fw_way_alike(&way, alike, &subdivision, &whole, &all) ==
                    best);
        *(best ? &some : &none) += 1;
    }
    /* A place on the side that closes the ring. */
    const struct fw_chord last = {.from = {3, 0.25}, .to = {1, 0.5}};
    struct fw_point from, to;
    fw_way_ends(&subdivision, &whole, &last, &from, &to);
    assert_near(from.x_m, 0, 1e-9);
    assert_near(from.y_m, 75, 1e-9);
    assert_near(to.x_m, 100, 1e-9);
    assert_near(to.y_m, 50, 1e-9);
    fw_region_release(&whole);
    fw_subdivision_release(&subdivision);
    assert_true(some > 50 && none > 50);
}

/* ---- what is offered ---- */

/* Of one number of blocks: one over which the flock never walks back, and
 * before it at most one other; else two, where there are as many. */
static void one_or_two_of_each_number_of_blocks_are_offered(void **state)
{
    (void)state;
    uint64_t seed = seeded(2314);
    size_t pairs = 0, straight = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 24; i++) {
        struct plot plot;
        struct fw_layout_list list = {0};
        draw_plot(geos, &plot, &seed);
        const double target = plot.field.area_m2 / draw(&seed, 4.5, 14.5);
        const struct fw_layout_request request = {
            .field = &plot.field,
            .target = &target,
            .target_count = 1,
            .last = FW_LAST_EVEN,
            .start = &plot.field.vertices[0].plane,
            .directions = 6,
            .pattern = "blocks"};
        struct fw_error err = {0};
        const enum fw_status status =
            fw_layout_candidates(&request, &list, &err);
        if (status && status != FW_EPLAN)
            fail_msg("%s", err.text);
        size_t others[100] = {0}, ways[100] = {0};
        for (size_t k = 0; k < list.count; k++) {
            const size_t blocks =
                strtoul(list.items[k].name + strlen("blocks-"), NULL, 10);
            assert_true(blocks > 0 && blocks < 100);
            *(list.items[k].turn_count > 0 ? &others[blocks] : &ways[blocks]) +=
                1;
        }
        for (size_t n = 0; n < 100; n++) {
            assert_true(ways[n] <= 1 && others[n] + ways[n] <= 2);
            pairs += others[n] == 2;
            straight += ways[n] == 1;
        }
        fw_layout_list_release(&list);
    }
    GEOS_finish_r(geos);
    printf("# %zu pairs, %zu without a way back\n", pairs, straight);
    assert_true(pairs > 4 && straight > 4);
}

static bool first_touches(const struct plot *plot,
                          const struct fw_layout *layout, struct fw_point start)
{
    for (size_t r = layout->piece_ring[layout->paddock_piece[0]];
         r < layout->piece_ring[layout->paddock_piece[1]]; r++)
        for (size_t i = layout->ring_start[r],
                    j = layout->ring_start[r + 1] - 1;
             i < layout->ring_start[r + 1]; j = i++) {
            struct fw_point a, b;
            assert_true(fw_layout_point(layout, &plot->field,
                                        layout->ring_vertices[j], &a));
            assert_true(fw_layout_point(layout, &plot->field,
                                        layout->ring_vertices[i], &b));
            if (fw_segment_distance_m(start, a, b) < 1e-6)
                return true;
        }
    return false;
}

/* On the edge of the first paddock, 30 cm from the end of a line, if it has
 * one. */
static bool beside_a_line(const struct plot *plot,
                          const struct fw_layout *layout, struct fw_point *out)
{
    const double off_m = 0.3;
    for (size_t i = 0; i < layout->added_count; i++) {
        const struct fw_layout_vertex *end = &layout->added[i];
        if (end->edge >= plot->ring_start[1])
            continue;
        const struct fw_point a = at(plot, end->edge);
        const struct fw_point b =
            at(plot, (end->edge + 1) % plot->ring_start[1]);
        const double m = map_apart_m(a, b);
        for (int way = -1; way <= 1; way += 2) {
            const double t = end->t + way * off_m / m;
            *out = (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                                     a.y_m + t * (b.y_m - a.y_m)};
            if (t > 0 && t < 1 && first_touches(plot, layout, *out))
                return true;
        }
    }
    return false;
}

static struct fw_layout_list blocks_from(const struct plot *plot, double target,
                                         const struct fw_point *start,
                                         bool bends)
{
    struct fw_layout_list list = {0};
    const struct fw_layout_request request = {.field = &plot->field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = FW_LAST_EVEN,
                                              .start = start,
                                              .directions = 6,
                                              .pattern = "blocks",
                                              .bends = bends};
    const enum fw_status status = fw_layout_candidates(&request, &list, NULL);
    assert_true(status == FW_OK || status == FW_EPLAN);
    return list;
}

/* The gate stays in the paddock that it led to, however the lines beside it
 * bend to be shorter. */
static void lines_that_bend_stay_on_their_side_of_the_gate(void **state)
{
    (void)state;
    uint64_t seed = seeded(2315);
    size_t at_gate = 0, bent = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 60; i++) {
        struct plot plot;
        draw_plot(geos, &plot, &seed);
        const double target = plot.field.area_m2 / draw(&seed, 4.5, 20.5);
        struct fw_point start = at(&plot, 0);
        struct fw_layout_list list = blocks_from(&plot, target, &start, false);
        const bool has =
            list.count > 0 && beside_a_line(&plot, &list.items[0], &start);
        fw_layout_list_release(&list);
        if (!has)
            continue;
        struct fw_layout_list straight =
            blocks_from(&plot, target, &start, false);
        list = blocks_from(&plot, target, &start, true);
        for (size_t k = 0; k < straight.count; k++)
            for (size_t n = 0; n < list.count; n++) {
                const struct fw_layout *was = &straight.items[k];
                const struct fw_layout *is = &list.items[n];
                if (strcmp(was->name, is->name) != 0 ||
                    !first_touches(&plot, was, start))
                    continue;
                at_gate++;
                bent += is->line_m < was->line_m;
                if (!first_touches(&plot, is, start))
                    fail_msg("plot %d, %s", i, is->name);
            }
        fw_layout_list_release(&straight);
        fw_layout_list_release(&list);
    }
    GEOS_finish_r(geos);
    printf("# %zu begin at the gate, %zu of them bent\n", at_gate, bent);
    assert_true(bent > 20);
}

/* From the tip of a wedge the shortest fence round so many square metres is
 * that of like legs, 2 sqrt(m2 tan(half the angle)): what lines across it
 * become that may slide, those at a slant and those that lie so already. */
static void assert_square_to_the_wedge(double way, double slant_deg)
{
    const double legs_m = 400, half = 20 * PI / 180;
    const struct fw_point points[] = {
        {0, 0},
        {legs_m * cos(way - half), legs_m * sin(way - half)},
        {legs_m * cos(way + half), legs_m * sin(way + half)}};
    struct plot plot = {.ring_start = {0}};
    add_ring(&plot, points, COUNT(points));
    const double target = plot.field.area_m2 / 6;
    const struct fw_layout_request request = {.field = &plot.field,
                                              .target = &target,
                                              .target_count = 1,
                                              .last = FW_LAST_EVEN,
                                              .direction_given = true,
                                              .direction_deg =
                                                  way * 180 / PI + slant_deg,
                                              .bends = true,
                                              .pattern = "strips"};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    if (fw_layout_candidates(&request, &list, &err))
        fail_msg("%s", err.text);
    const struct fw_layout *layout = &list.items[0];
    assert_int_equal(layout->line_count, 5);
    double wanted_m = 0, sum_m2 = 0;
    for (int k = 1; k < 6; k++)
        wanted_m += 2 * sqrt(k * target * tan(half));
    for (size_t i = 0; i < layout->added_count; i++) {
        const struct fw_layout_vertex *end = &layout->added[i];
        assert_near(fw_segment_distance_m(end->point, at(&plot, end->edge),
                                          at(&plot, (end->edge + 1) % 3)),
                    0, 1e-9);
    }
    for (size_t k = 0; k < layout->paddock_count; k++)
        sum_m2 += layout->paddock_m2[k];
    assert_relative(sum_m2, plot.field.area_m2, 1e-12);
    assert_true(layout->line_m > wanted_m * (1 - 1e-12));
    assert_relative(layout->line_m, wanted_m, 1.5e-3);
    fw_layout_list_release(&list);
}

static void lines_across_a_wedge_become_square_to_it(void **state)
{
    (void)state;
    for (int turn = 0; turn < 7; turn++)
        for (int slant_deg = -12; slant_deg <= 12; slant_deg += 3)
            assert_square_to_the_wedge(0.7 + 0.9 * turn, slant_deg);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_are_the_least_of_all),
        cmocka_unit_test(ways_are_found_as_they_were_noted_last),
        cmocka_unit_test(way_alike_is_the_nearest_one),
        cmocka_unit_test(one_or_two_of_each_number_of_blocks_are_offered),
        cmocka_unit_test(lines_across_a_wedge_become_square_to_it),
        cmocka_unit_test(lines_that_bend_stay_on_their_side_of_the_gate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
