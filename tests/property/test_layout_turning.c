/* The fences that turn along the walk round a field, and from where to where,
 * against brute force. */
#include "layout_walk.h"

#include "cutting/turning.h"

/* ---- fences along it ---- */

/* Ground behind a fence, by its own ring: from the far end on to the end of
 * the walk, and from its beginning to the near one. */
static double behind_m2(const struct fw_boundary *boundary,
                        struct fw_boundary_station near,
                        struct fw_boundary_station far)
{
    struct fw_point ring[most_walk];
    size_t n = 0;
    long double twice = 0;
    ring[n++] =
        on(node_at(boundary, far.edge), node_at(boundary, far.edge + 1), far.t);
    for (size_t i = far.edge + 1; i < boundary->count; i++)
        ring[n++] = node_at(boundary, i);
    for (size_t i = 0; i <= near.edge; i++)
        ring[n++] = node_at(boundary, i);
    ring[n++] = on(node_at(boundary, near.edge),
                   node_at(boundary, near.edge + 1), near.t);
    for (size_t i = 1; i + 1 < n; i++)
        twice += (long double)turn_of(ring[0], ring[i], ring[i + 1]);
    return (double)(twice / 2);
}

static void assert_fence(const struct fw_boundary *boundary,
                         const struct fw_turning_fence *fence, double m2)
{
    assert_near(behind_m2(boundary, fence->near, fence->far), m2, 1e-6);
    assert_near(fw_turning_behind_m2(boundary, fence), m2, 1e-6);
    assert_true(fw_boundary_sees(boundary, fence->near, fence->far));
    assert_near(fence->near_m, fw_boundary_along_m(boundary, fence->near), 0);
    assert_near(fence->far_m, fw_boundary_along_m(boundary, fence->far), 0);
    assert_near(fence->length_m,
                map_apart_m(fw_boundary_point(boundary, fence->near),
                            fw_boundary_point(boundary, fence->far)),
                1e-9);
    assert_true(boundary->nodes[fence->far.edge].side != FW_INSIDE);
}

/* All fences of one cut, place by place. */
static void assert_chords(const struct fw_turning *turning, size_t k, double m2)
{
    const struct fw_boundary *boundary = turning->boundary;
    const struct fw_turning_fence *chords =
        turning->chords + k * turning->place_count;
    size_t n = 0;
    for (size_t i = 0; i < turning->place_count; i++) {
        const double m = boundary->along_m[turning->end] * ((double)i + 0.5) /
                         (double)turning->place_count;
        const struct fw_boundary_station near = fw_boundary_at(boundary, m, 0);
        bool has = false;
        if (boundary->nodes[near.edge].side == FW_INSIDE)
            continue;
        for (size_t e = turning->end; !has && e < boundary->count; e++) {
            const double most =
                behind_m2(boundary, near, (struct fw_boundary_station){e, 0});
            const double least =
                behind_m2(boundary, near, (struct fw_boundary_station){e, 1});
            const struct fw_boundary_station far = {e, (most - m2) /
                                                           (most - least)};
            has = boundary->nodes[e].side != FW_INSIDE && least < most &&
                  m2 >= least && m2 <= most &&
                  fw_boundary_sees(boundary, near, far);
        }
        if (!has)
            continue;
        assert_true(n < turning->chord_count[k]);
        assert_near(chords[n].near_m, m, 1e-9);
        assert_fence(boundary, &chords[n++], m2);
    }
    assert_int_equal(turning->chord_count[k], n);
}

/* The least sum of fences that follow each other, by trying every one behind
 * every other. */
static double least_m(const struct fw_turning *turning, double gap_m)
{
    static double sum_m[8][400];
    double best_m = HUGE_VAL;
    for (size_t k = 0; k < turning->cut_count; k++)
        for (size_t j = 0; j < turning->chord_count[k]; j++) {
            const struct fw_turning_fence *chord =
                &turning->chords[k * turning->place_count + j];
            double before_m = k > 0 ? HUGE_VAL : 0;
            for (size_t i = 0; k > 0 && i < turning->chord_count[k - 1]; i++) {
                const struct fw_turning_fence *last =
                    &turning->chords[(k - 1) * turning->place_count + i];
                if (last->near_m + gap_m <= chord->near_m &&
                    last->far_m - gap_m >= chord->far_m)
                    before_m = fmin(before_m, sum_m[k - 1][i]);
            }
            sum_m[k][j] = before_m + chord->length_m;
            if (k + 1 == turning->cut_count)
                best_m = fmin(best_m, sum_m[k][j]);
        }
    return best_m;
}

static void assert_path(const struct fw_turning *turning, bool found,
                        const double *m2, double gap_m)
{
    const double wanted_m = least_m(turning, gap_m);
    double sum_m = 0;
    assert_int_equal(found, isfinite(wanted_m));
    if (!found)
        return;
    assert_near(turning->line_m, wanted_m, 1e-9);
    for (size_t k = 0; k < turning->cut_count; k++) {
        const struct fw_turning_fence *fence = &turning->path[k];
        assert_fence(turning->boundary, fence, m2[k]);
        sum_m += fence->length_m;
        if (k > 0) {
            assert_true(fence[-1].near_m + gap_m <= fence->near_m);
            assert_true(fence[-1].far_m - gap_m >= fence->far_m);
        }
    }
    assert_near(sum_m, wanted_m, 1e-9);
}

/* Around the fences there are: each place a step on, as far as there is a walk,
 * has its fence when one stands there that is seen. */
static void assert_refined(struct fw_turning *turning, const double *m2,
                           double step_m, int reach)
{
    const struct fw_boundary *boundary = turning->boundary;
    struct fw_turning_fence known[8];
    memcpy(known, turning->path, turning->cut_count * sizeof *known);
    const double was_m = turning->line_m;
    const bool found = fw_turning_refine(turning, m2, step_m, reach, 0);
    for (size_t k = 0; k < turning->cut_count; k++) {
        const struct fw_turning_fence *chords =
            turning->chords + k * turning->place_count;
        size_t n = 0;
        for (int i = -reach; i <= reach; i++) {
            const double m = known[k].near_m + step_m * i;
            struct fw_turning_fence fence;
            if (m < 0 || m >= boundary->along_m[turning->end])
                continue;
            const struct fw_boundary_station near =
                fw_boundary_at(boundary, m, 0);
            if (boundary->nodes[near.edge].side == FW_INSIDE ||
                !fw_turning_fence_at(turning, near, m2[k], known[k].far.edge,
                                     &fence))
                continue;
            assert_true(n < turning->chord_count[k]);
            assert_near(chords[n].near_m, m, 1e-9);
            assert_near(chords[n].far_m, fence.far_m, 1e-9);
            assert_fence(boundary, &chords[n++], m2[k]);
        }
        assert_int_equal(turning->chord_count[k], n);
    }
    assert_true(found);
    assert_true(turning->line_m <= was_m + 1e-9);
    assert_path(turning, found, m2, 0);
    const double gap_m = step_m / 2;
    assert_path(turning,
                fw_turning_refine(turning, m2, step_m / 2, reach, gap_m), m2,
                gap_m);
}

static size_t try_turning(const struct fw_field *field,
                          struct fw_boundary *boundary, size_t a, size_t b,
                          size_t cuts, size_t places)
{
    struct fw_turning turning = {
        .boundary = boundary, .cut_count = cuts, .place_count = places};
    double m2[8];
    size_t chords = 0;
    assert_int_equal(
        fw_boundary_start(boundary, fw_boundary_node(boundary, a), NULL),
        FW_OK);
    turning.end = fw_boundary_node(boundary, b);
    assert_int_equal(fw_turning_init(&turning, NULL), FW_OK);
    for (size_t k = 0; k < cuts; k++)
        m2[k] = field->area_m2 * (double)(k + 1) / (double)(cuts + 1);
    const bool found = fw_turning_seek(&turning, m2);
    for (size_t k = 0; k < cuts; k++) {
        assert_chords(&turning, k, m2[k]);
        chords += turning.chord_count[k];
    }
    assert_path(&turning, found, m2, 0);
    if (found)
        assert_refined(&turning, m2, 4, FW_MOST_REACH);
    fw_turning_release(&turning);
    return found ? chords : 0;
}

static void fences_along_the_walk_are_the_least(void **state)
{
    (void)state;
    uint64_t seed = seeded(2313);
    size_t found = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 2 * plots; i++) {
        struct plot plot;
        struct fw_boundary boundary;
        draw_small(geos, &plot, &seed);
        const size_t outer = plot.ring_start[1];
        assert_int_equal(fw_boundary_new(&plot.field, i % 2, &boundary, NULL),
                         FW_OK);
        for (int k = 0; k < 4; k++) {
            const size_t a = draw_count(&seed, 0, outer - 1);
            const size_t b =
                (a + outer / 3 + draw_count(&seed, 1, outer / 3)) % outer;
            found += try_turning(&plot.field, &boundary, a, b,
                                 draw_count(&seed, 1, 6), 30) > 0;
        }
        fw_boundary_release(&boundary);
    }
    GEOS_finish_r(geos);
    printf("# %zu sweeps\n", found);
    assert_true(found > 20);
}

/* ---- from where to where ---- */

static bool juts_out(const struct plot *plot, size_t i)
{
    const size_t n = plot->ring_start[1];
    return turn_of(plot->vertices[(i + n - 1) % n].plane,
                   plot->vertices[i].plane,
                   plot->vertices[(i + 1) % n].plane) > 0;
}

/* The least line from one corner to another one, whichever. */
static double least_of_all_m(const struct plot *plot,
                             struct fw_boundary *boundary, const double *m2,
                             size_t cuts)
{
    enum { places = 24 };
    const size_t outer = plot->ring_start[1];
    double least_m = HUGE_VAL;
    for (size_t a = 0; a < outer; a++)
        for (size_t b = 0; b < outer; b++) {
            if (a == b || !juts_out(plot, a) || !juts_out(plot, b))
                continue;
            assert_int_equal(fw_boundary_start(
                                 boundary, fw_boundary_node(boundary, a), NULL),
                             FW_OK);
            const size_t end = fw_boundary_node(boundary, b);
            if (boundary->along_m[end] < boundary->along_m[boundary->count] / 2)
                continue; /* it is the other way round */
            struct fw_turning turning = {.boundary = boundary,
                                         .end = end,
                                         .cut_count = cuts,
                                         .place_count = places};
            assert_int_equal(fw_turning_init(&turning, NULL), FW_OK);
            if (fw_turning_seek(&turning, m2))
                least_m = fmin(least_m, turning.line_m);
            fw_turning_release(&turning);
        }
    return least_m;
}

/* The ends that are tried are few, and nearly as good as any. */
static void few_ends_are_nearly_as_good_as_all(void **state)
{
    (void)state;
    uint64_t seed = seeded(2314);
    double sum = 0;
    size_t found = 0, two = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 60; i++) {
        struct plot plot = {.ring_start = {0}};
        struct fw_boundary boundary;
        struct fw_turning_tries out = {.count = 0};
        const struct fw_turning_try *tries = out.items;
        double behind[9], m2[8];
        add_star(&plot, &seed, (struct fw_point){0, 0}, 200,
                 draw_count(&seed, 5, 22), false);
        const double stretch = draw(&seed, 1, 4);
        for (size_t v = 0; v < plot.field.vertex_count; v++)
            plot.vertices[v].plane.x_m *= stretch;
        plot.field.area_m2 *= stretch;
        const size_t shares = draw_count(&seed, 3, 9);
        for (size_t k = 0; k < shares; k++)
            behind[k] = 1000 * (double)(k + 1);
        for (size_t k = 0; k + 1 < shares; k++)
            m2[k] = plot.field.area_m2 * behind[k] / behind[shares - 1];
        assert_int_equal(fw_boundary_new(&plot.field, 1, &boundary, NULL),
                         FW_OK);
        assert_int_equal(fw_turning_tries(&boundary, &plot.field, behind,
                                          shares, &out, NULL),
                         FW_OK);
        const double least_m = least_of_all_m(&plot, &boundary, m2, shares - 1);
        if (out.count > 0) {
            found++;
            assert_true(tries[0].line_m >= least_m * (1 - 1e-9));
            sum += tries[0].line_m / least_m;
        }
        if (out.count == 2) {
            two++;
            assert_true(
                fabs(remainder(tries[0].direction_deg - tries[1].direction_deg,
                               180)) > FW_OTHER_WAY_DEG);
            assert_true(tries[1].line_m >= tries[0].line_m);
            assert_true(tries[1].line_m <=
                        FW_OTHER_WAY_PRICE * tries[0].line_m);
        }
        fw_boundary_release(&boundary);
    }
    GEOS_finish_r(geos);
    printf("# %zu fields, %zu with two; %.4f of the least\n", found, two,
           sum / (double)found);
    assert_true(found > 50 && two > 10);
    assert_true(sum / (double)found < 1.006);
}

/* No fence has more behind it than there is. */
static void no_ends_do_for_more_than_there_is(void **state)
{
    (void)state;
    struct plot plot = {.ring_start = {0}};
    struct fw_boundary boundary;
    struct fw_turning_tries out = {.count = 7};
    const double behind[] = {20000, 10000};
    make_rectangle(&plot, 200, 50, 0);
    assert_int_equal(fw_boundary_new(&plot.field, 1, &boundary, NULL), FW_OK);
    assert_int_equal(
        fw_turning_tries(&boundary, &plot.field, behind, 2, &out, NULL), FW_OK);
    assert_int_equal(out.count, 0);
    fw_boundary_release(&boundary);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fences_along_the_walk_are_the_least),
        cmocka_unit_test(few_ends_are_nearly_as_good_as_all),
        cmocka_unit_test(no_ends_do_for_more_than_there_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
