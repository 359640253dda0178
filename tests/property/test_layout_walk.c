/* The walk round a field and its ponds, and what is seen from it, against
 * brute force. */
#include "layout_walk.h"

/* ---- the walk ---- */

/* Between two rings, from corners to sides. */
static double rings_m(const struct fw_field *field, size_t a, size_t b)
{
    double least_m = HUGE_VAL;
    for (int way = 0; way < 2; way++) {
        const size_t from = way ? b : a, to = way ? a : b;
        for (size_t v = field->ring_start[from];
             v < field->ring_start[from + 1]; v++)
            for (size_t i = field->ring_start[to],
                        j = field->ring_start[to + 1] - 1;
                 i < field->ring_start[to + 1]; j = i++)
                least_m = fmin(least_m, to_segment_m(field->vertices[v].plane,
                                                     field->vertices[j].plane,
                                                     field->vertices[i].plane));
    }
    return least_m;
}

/* All rings joined by the least there is: the least tree. */
static double tree_m(const struct fw_field *field)
{
    bool in[most_rings] = {true};
    double sum_m = 0;
    for (size_t n = 1; n < field->ring_count; n++) {
        double least_m = HUGE_VAL;
        size_t next = 0;
        for (size_t a = 0; a < field->ring_count; a++)
            for (size_t b = 0; b < field->ring_count; b++)
                if (in[a] && !in[b] && rings_m(field, a, b) < least_m) {
                    least_m = rings_m(field, a, b);
                    next = b;
                }
        in[next] = true;
        sum_m += least_m;
    }
    return sum_m;
}

static void assert_walk(const struct fw_boundary *boundary,
                        const struct fw_field *field)
{
    double along_m = 0, twice = 0, bridges_m = 0;
    size_t seen[most_points] = {0};
    assert_int_equal(boundary->count,
                     field->vertex_count + 4 * (field->ring_count - 1));
    for (size_t i = 0; i < boundary->count; i++) {
        const struct fw_boundary_node *node = &boundary->nodes[i];
        const struct fw_point a = node_at(boundary, i),
                              b = node_at(boundary, i + 1);
        const struct fw_point before =
            node_at(boundary, i + boundary->count - 1);
        assert_near(boundary->along_m[i], along_m, 1e-9);
        assert_near(boundary->fan_m2[i], twice / 2, 1e-6);
        along_m += map_apart_m(a, b);
        twice += a.x_m * b.y_m - a.y_m * b.x_m;
        assert_int_equal(fw_boundary_next(boundary, i),
                         (i + 1) % boundary->count);
        if (map_apart_m(a, b) > 1e-6 && map_apart_m(before, a) > 1e-6 &&
            fabs(turn_of(before, a, b)) > 1e-6)
            assert_int_equal(node->reflex, turn_of(before, a, b) < 0);
        if (node->vertex != FW_INSIDE) {
            seen[node->vertex]++;
            assert_near(map_apart_m(a, field->vertices[node->vertex].plane), 0,
                        0);
        }
        if (node->side == FW_INSIDE)
            continue;
        const size_t s = node->side, end = field->ring_start[1];
        assert_true(s < end);
        const struct fw_point p = field->vertices[s].plane;
        const struct fw_point q = field->vertices[(s + 1) % end].plane;
        assert_near(map_apart_m(a, on(p, q, node->t)), 0, 1e-9);
        assert_near(map_apart_m(b, on(p, q, node->t_end)), 0, 1e-9);
    }
    for (size_t v = 0; v < field->vertex_count; v++)
        assert_true(seen[v] >= 1 || v >= field->ring_start[1]);
    assert_near(boundary->along_m[boundary->count], along_m, 1e-9);
    assert_relative(twice / 2, field->area_m2, 1e-9);
    assert_near(boundary->fan_m2[boundary->count], field->area_m2, 1e-6);
    bridges_m = (along_m - field->perimeter_m - field->holes_m) / 2;
    /* One bridge may end on another. */
    assert_true(bridges_m <= tree_m(field) + 1e-6);
}

/* No bridge crosses a side or another bridge. */
static void assert_bridges(const struct fw_boundary *boundary)
{
    for (size_t i = 0; i < boundary->count; i++)
        for (size_t k = i + 1; k < boundary->count; k++) {
            const struct fw_point a = node_at(boundary, i),
                                  b = node_at(boundary, i + 1);
            const struct fw_point p = node_at(boundary, k),
                                  q = node_at(boundary, k + 1);
            if (to_segment_m(a, p, q) > 1e-6 && to_segment_m(b, p, q) > 1e-6 &&
                to_segment_m(p, a, b) > 1e-6 && to_segment_m(q, a, b) > 1e-6)
                assert_false(meet(a, b, p, q));
        }
}

static void assert_places(const struct fw_boundary *boundary, uint64_t *seed)
{
    for (int i = 0; i < 40; i++) {
        const double m = draw(seed, 0, boundary->along_m[boundary->count]);
        const struct fw_boundary_station place = fw_boundary_at(
            boundary, m, draw_count(seed, 0, boundary->count - 1));
        assert_true(boundary->along_m[place.edge] <= m);
        assert_true(boundary->along_m[place.edge + 1] >= m);
        assert_near(fw_boundary_along_m(boundary, place), m, 1e-9);
        const struct fw_point at = fw_boundary_point(boundary, place);
        assert_near(map_apart_m(at, node_at(boundary, place.edge)),
                    m - boundary->along_m[place.edge], 1e-9);
        double twice = 0;
        for (size_t e = 0; e < place.edge; e++) {
            const struct fw_point a = node_at(boundary, e),
                                  b = node_at(boundary, e + 1);
            twice += a.x_m * b.y_m - a.y_m * b.x_m;
        }
        const struct fw_point last = node_at(boundary, place.edge);
        twice += last.x_m * at.y_m - last.y_m * at.x_m;
        assert_near(fw_boundary_fan_m2(boundary, place), twice / 2, 1e-6);
    }
}

static void walk_goes_round_field_and_ponds(void **state)
{
    (void)state;
    uint64_t seed = seeded(2311);
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < plots; i++) {
        struct plot plot;
        struct fw_boundary boundary;
        draw_small(geos, &plot, &seed);
        assert_int_equal(fw_boundary_new(&plot.field, 1, &boundary, NULL),
                         FW_OK);
        assert_walk(&boundary, &plot.field);
        assert_bridges(&boundary);
        assert_places(&boundary, &seed);
        const size_t vertex = draw_count(&seed, 0, plot.ring_start[1] - 1);
        assert_int_equal(fw_boundary_start(&boundary,
                                           fw_boundary_node(&boundary, vertex),
                                           NULL),
                         FW_OK);
        assert_int_equal(fw_boundary_node(&boundary, vertex), 0);
        assert_walk(&boundary, &plot.field);
        assert_places(&boundary, &seed);
        fw_boundary_release(&boundary);
        assert_int_equal(boundary.count, 0);
    }
    GEOS_finish_r(geos);
}

/* ---- sight ---- */

/* 1: yes, 0: no, -1: too near to say. */
static int sees(const struct fw_boundary *boundary,
                const struct fw_field *field, struct fw_boundary_station a,
                struct fw_boundary_station b)
{
    const double near = 1e-6;
    const struct fw_point from =
        on(node_at(boundary, a.edge), node_at(boundary, a.edge + 1), a.t);
    const struct fw_point to =
        on(node_at(boundary, b.edge), node_at(boundary, b.edge + 1), b.t);
    const double m = map_apart_m(from, to);
    if (m < 0.1)
        return -1;
    bool clear = is_in_field(field, on(from, to, 0.5)) &&
                 is_in_field(field, on(from, to, 1e-4)) &&
                 is_in_field(field, on(from, to, 1 - 1e-4));
    for (size_t i = 0; i < boundary->count; i++) {
        const struct fw_point p = node_at(boundary, i),
                              q = node_at(boundary, i + 1);
        const double side_m = map_apart_m(p, q);
        const bool ends =
            to_segment_m(from, p, q) < near || to_segment_m(to, p, q) < near;
        const double sine = fabs((q.x_m - p.x_m) * (to.y_m - from.y_m) -
                                 (q.y_m - p.y_m) * (to.x_m - from.x_m)) /
                            (m * side_m);
        if (side_m < near || (ends && sine < 2 * FW_SLIVER_SINE))
            return -1;
        if (!ends && meet(from, to, p, q))
            clear = false;
        if (!ends && (to_segment_m(p, from, to) < near ||
                      to_segment_m(q, from, to) < near))
            return -1;
        if (!(turn_of(node_at(boundary, i + boundary->count - 1), p, q) < 0))
            continue; /* it does not jut in */
        const double aside = fabs(turn_of(from, to, p)) / m;
        const double ahead = ((p.x_m - from.x_m) * (to.x_m - from.x_m) +
                              (p.y_m - from.y_m) * (to.y_m - from.y_m)) /
                             m;
        if (aside < boundary->clear_m && ahead > boundary->clear_m &&
            ahead < m - boundary->clear_m)
            clear = false;
    }
    return clear;
}

static void what_is_seen_is_what_nothing_stands_before(void **state)
{
    (void)state;
    uint64_t seed = seeded(2312);
    size_t seen = 0, hidden = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < plots; i++) {
        struct plot plot;
        struct fw_boundary boundary;
        draw_small(geos, &plot, &seed);
        assert_int_equal(
            fw_boundary_new(&plot.field, 3.0 * (i % 3), &boundary, NULL),
            FW_OK);
        for (int k = 0; k < 1500; k++) {
            struct fw_boundary_station ends[2];
            for (int e = 0; e < 2; e++)
                ends[e] = (struct fw_boundary_station){
                    draw_count(&seed, 0, boundary.count - 1),
                    k % 3 == 0   ? 0
                    : k % 7 == 0 ? 1
                                 : draw(&seed, 0, 1)};
            if (boundary.nodes[ends[0].edge].side == FW_INSIDE ||
                boundary.nodes[ends[1].edge].side == FW_INSIDE)
                continue;
            const int wanted = sees(&boundary, &plot.field, ends[0], ends[1]);
            if (wanted < 0)
                continue;
            const bool got = fw_boundary_sees(&boundary, ends[0], ends[1]);
            if (got != (wanted == 1))
                fail_msg("field %d: %zu + %g to %zu + %g is %s", i,
                         ends[0].edge, ends[0].t, ends[1].edge, ends[1].t,
                         got ? "seen" : "not seen");
            *(got ? &seen : &hidden) += 1;
        }
        fw_boundary_release(&boundary);
    }
    GEOS_finish_r(geos);
    printf("# %zu seen, %zu not\n", seen, hidden);
    assert_true(seen > 1000 && hidden > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walk_goes_round_field_and_ponds),
        cmocka_unit_test(what_is_seen_is_what_nothing_stands_before),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
