/* The way to water over random and real ground with ponds, against a graph of
 * all corners that see each other, and sums over a dense net. FW_SEED chooses
 * others, FW_FIELDS how many. */
#include "base/alloc.h"
#include "geo/points.h"
#include "layout_fields.h"
#include "random_plot.h"
#include "walk_judge.h"

#include "walk/walk.h"

static size_t rounds_of(size_t usual)
{
    const char *given = getenv("FW_FIELDS");
    if (given)
        return (size_t)strtoull(given, NULL, 10);
    return getenv("FW_THOROUGH") ? usual : (usual + 3) / 4;
}

/* Ground cut into strips: cells, and the lines between them. */
struct cut_ground {
    struct fw_point *points, *line_points;
    size_t *ring_start, *cell_ring, *line_start;
    size_t ring_count, cell_count, line_count;
    struct fw_walk_ground *walk;
};

static void put_point(struct cut_ground *cut, size_t *count,
                      struct fw_point point)
{
    cut->points[(*count)++] = point;
}

static void cut_strips(struct cut_ground *cut, const struct fw_point *points,
                       const size_t *ring_start, size_t ring_count,
                       size_t strips, double direction_deg)
{
    struct fw_sweep *sweep;
    struct fw_partition parts = {0};
    double behind[16], position[16], length[16];
    assert_int_equal(fw_sweep_new(points, ring_start, ring_count, &sweep, NULL),
                     FW_OK);
    fw_sweep_turn(sweep, direction_deg);
    const double all = fw_sweep_area_m2(sweep);
    for (size_t k = 0; k + 1 < strips; k++)
        behind[k] = all * (double)(k + 1) / (double)strips;
    fw_sweep_cut(sweep, behind, strips - 1, position, length);
    assert_int_equal(fw_sweep_build(sweep, position, strips - 1, &parts, NULL),
                     FW_OK);
    *cut = (struct cut_ground){
        .points = calloc(parts.ring_vertex_count, sizeof *cut->points),
        .line_points =
            calloc(2 * parts.segment_count + 1, sizeof *cut->line_points),
        .ring_start = calloc(parts.ring_count + 1, sizeof(size_t)),
        .cell_ring = calloc(parts.paddock_count + 1, sizeof(size_t)),
        .line_start = calloc(parts.segment_count + 1, sizeof(size_t)),
        .ring_count = parts.ring_count,
        .cell_count = parts.paddock_count,
        .line_count = parts.segment_count};
    size_t count = 0;
    for (size_t p = 0; p < parts.paddock_count; p++)
        cut->cell_ring[p + 1] = parts.piece_ring[parts.paddock_piece[p + 1]];
    for (size_t r = 0; r < parts.ring_count; r++) {
        for (size_t i = parts.ring_start[r]; i < parts.ring_start[r + 1]; i++)
            put_point(cut, &count,
                      fw_sweep_point(sweep, &parts, parts.ring_vertices[i]));
        cut->ring_start[r + 1] = count;
    }
    for (size_t s = 0; s < parts.segment_count; s++) {
        for (size_t e = 0; e < 2; e++)
            cut->line_points[2 * s + e] =
                fw_sweep_point(sweep, &parts, parts.segments[2 * s + e]);
        cut->line_start[s + 1] = 2 * (s + 1);
    }
    fw_partition_release(&parts);
    fw_sweep_free(sweep);
    const struct fw_walk_map map = {
        .points = cut->points,
        .ring_start = cut->ring_start,
        .cell_ring = cut->cell_ring,
        .cell_count = cut->cell_count,
        .line_points = cut->line_points,
        .line_start = cut->line_start,
        .line_count = cut->line_count,
    };
    assert_int_equal(fw_walk_new(&map, &cut->walk, NULL), FW_OK);
}

static void release_cut(struct cut_ground *cut)
{
    free(cut->points);
    free(cut->line_points);
    free(cut->ring_start);
    free(cut->cell_ring);
    free(cut->line_start);
    fw_walk_free(cut->walk);
}

static struct fw_point inside_of(const struct walk_judge *judge, uint64_t *seed)
{
    struct fw_point low = judge->edges[0].a, high = low, at;
    for (size_t i = 0; i < judge->edge_count; i++) {
        low.x_m = fmin(low.x_m, judge->edges[i].a.x_m);
        low.y_m = fmin(low.y_m, judge->edges[i].a.y_m);
        high.x_m = fmax(high.x_m, judge->edges[i].a.x_m);
        high.y_m = fmax(high.y_m, judge->edges[i].a.y_m);
    }
    do {
        at.x_m = draw(seed, low.x_m, high.x_m);
        at.y_m = draw(seed, low.y_m, high.y_m);
    } while (!judge_is_inside(judge, at));
    return at;
}

/* A line ends on a side: nothing slips through between them. */
static struct fw_point beyond(struct fw_point end, struct fw_point from)
{
    const double m = hypot(end.x_m - from.x_m, end.y_m - from.y_m);
    return (struct fw_point){end.x_m + (end.x_m - from.x_m) * 1e-6 / m,
                             end.y_m + (end.y_m - from.y_m) * 1e-6 / m};
}

/* One line in two stands, with an opening. */
static void draw_lines(struct cut_ground *cut, struct walk_judge *judge,
                       uint64_t *seed)
{
    judge->walls = calloc(2 * cut->line_count + 1, sizeof *judge->walls);
    for (size_t l = 0; l < cut->line_count; l++) {
        const struct fw_point a = cut->line_points[2 * l];
        const struct fw_point b = cut->line_points[2 * l + 1];
        const double length_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        const bool stands = draw(seed, 0, 1) < 0.5;
        fw_walk_stand(cut->walk, l, stands);
        if (!stands)
            continue;
        double at_m = draw(seed, 0.1, 0.9) * length_m;
        const double half_m = fmin(2, length_m / 20);
        const struct fw_point from = {
            a.x_m + (b.x_m - a.x_m) * (at_m - half_m) / length_m,
            a.y_m + (b.y_m - a.y_m) * (at_m - half_m) / length_m};
        const struct fw_point to = {
            a.x_m + (b.x_m - a.x_m) * (at_m + half_m) / length_m,
            a.y_m + (b.y_m - a.y_m) * (at_m + half_m) / length_m};
        assert_int_equal(
            fw_walk_open(cut->walk, l, at_m - half_m, at_m + half_m, NULL),
            FW_OK);
        judge->walls[judge->wall_count++] =
            (struct walk_wall){beyond(a, from), from};
        judge->walls[judge->wall_count++] =
            (struct walk_wall){to, beyond(b, to)};
        judge->nodes[judge->node_count++] = from;
        judge->nodes[judge->node_count++] = to;
    }
}

static size_t cell_at(const struct cut_ground *cut, struct fw_point at)
{
    for (size_t c = 0; c < cut->cell_count; c++) {
        bool inside = false;
        for (size_t r = cut->cell_ring[c]; r < cut->cell_ring[c + 1]; r++)
            if (fw_ring_contains(cut->points + cut->ring_start[r],
                                 cut->ring_start[r + 1] - cut->ring_start[r],
                                 at))
                inside = !inside;
        if (inside)
            return c;
    }
    return FW_NONE;
}

/* Corner by corner it is as long as it is told. */
static void way_is_so_long(const struct fw_walk_ground *ground, size_t cell,
                           struct fw_point from, double wanted_m)
{
    struct fw_point *way;
    size_t count;
    double long_m = 0;
    assert_int_equal(fw_walk_way(ground, cell, from, &way, &count, NULL),
                     FW_OK);
    for (size_t i = 1; i < count; i++)
        long_m += fw_point_apart_m(way[i - 1], way[i]);
    assert_int_equal(count > 0, wanted_m < HUGE_VAL);
    if (count > 0)
        assert_near(long_m, wanted_m, 1e-6 * fmax(1, wanted_m));
    fw_free(way);
}

struct watch {
    double new_s, search_s, sum_s;
    size_t known, cells, over;
    double worst_corner_m, worst_mean, worst_most, worst_covered;
    size_t brackets, brackets_open;
    double bracket_width; /* all together, each as a share of the way */
};

/* Of the cell that the water is in: straight is no way longer, and without
 * leaving the cell none is shorter. */
static void look_at_bracket(const struct cut_ground *cut,
                            const struct fw_walk_ground *ground, size_t cell,
                            struct fw_point water, struct watch *watch)
{
    enum { rings_most = 64 };
    const size_t ring = cut->cell_ring[cell];
    const size_t rings = cut->cell_ring[cell + 1] - ring;
    const size_t first = cut->ring_start[ring];
    const size_t cell_ring[] = {0, rings}, no_line = 0, here = 0;
    size_t ring_start[rings_most + 1];
    struct fw_walk_sums exact, within, straight;
    struct fw_walk_ground *alone;
    assert_true(rings <= rings_most);
    for (size_t r = 0; r <= rings; r++)
        ring_start[r] = cut->ring_start[ring + r] - first;
    const struct fw_walk_map map = {.points = cut->points + first,
                                    .ring_start = ring_start,
                                    .cell_ring = cell_ring,
                                    .cell_count = 1,
                                    .line_start = &no_line};
    assert_int_equal(fw_walk_new(&map, &alone, NULL), FW_OK);
    assert_int_equal(fw_walk_search(alone,
                                    &(struct fw_walk_start){water, &here, 1, 0},
                                    NULL),
                     FW_OK);
    assert_int_equal(fw_walk_sum(alone, 0, &within, NULL), FW_OK);
    assert_int_equal(fw_walk_sum(ground, cell, &exact, NULL), FW_OK);
    fw_walk_straight(cut->points, cut->ring_start + ring, rings, water,
                     &straight);
    fw_walk_free(alone);
    if (!exact.known)
        return;
    assert_true(straight.mean_m <= exact.mean_m * (1 + 1e-9));
    assert_true(straight.most_m <= exact.most_m * (1 + 1e-9));
    watch->brackets++;
    watch->brackets_open += !within.known;
    if (!within.known)
        return;
    assert_true(exact.mean_m <= within.mean_m * (1 + 1e-9));
    assert_true(exact.most_m <= within.most_m * (1 + 1e-9));
    watch->bracket_width += (within.mean_m - straight.mean_m) / exact.mean_m;
}

static void compare(struct cut_ground *cut, const struct walk_judge *judge,
                    size_t rows, uint64_t *seed, struct watch *watch)
{
    /* At the corners, from just inside: a corner belongs to several cells. */
    for (size_t i = 0; i < judge->node_count + 20; i++) {
        struct fw_point at =
            i < judge->node_count ? judge->nodes[i] : inside_of(judge, seed);
        double wanted_m = i < judge->node_count ? judge->walked_m[i]
                                                : judge_walk_m(judge, at);
        double got_m = HUGE_VAL;
        for (size_t c = 0; c < cut->cell_count; c++) {
            const double here_m = fw_walk_at(cut->walk, c, at);
            way_is_so_long(cut->walk, c, at, here_m);
            got_m = fmin(got_m, here_m);
        }
        if (wanted_m == HUGE_VAL && got_m == HUGE_VAL)
            continue;
        watch->worst_corner_m =
            fmax(watch->worst_corner_m, fabs(got_m - wanted_m));
    }
    for (size_t c = 0; c < cut->cell_count; c++) {
        struct fw_walk_sums sums;
        const double begun_s = cpu_s();
        assert_int_equal(fw_walk_sum(cut->walk, c, &sums, NULL), FW_OK);
        watch->sum_s += cpu_s() - begun_s;
        watch->cells++;
        if (!sums.known)
            continue;
        watch->known++;
        watch->over += sums.covered > 1 + 1e-12;
        watch->worst_covered = fmax(watch->worst_covered, sums.covered);
        if (rows == 0)
            continue;
        struct walk_judge within = {0};
        judge_put_edges(&within, cut->points,
                        cut->ring_start + cut->cell_ring[c],
                        cut->cell_ring[c + 1] - cut->cell_ring[c]);
        double mean_m, most_m;
        judge_mean(judge, &within, rows, rows / 4, &mean_m, &most_m);
        judge_release(&within);
        watch->worst_mean =
            fmax(watch->worst_mean, fabs(sums.mean_m - mean_m) / mean_m);
        watch->worst_most =
            fmax(watch->worst_most, (most_m - sums.most_m) / most_m);
    }
}

static void try_ground(const struct fw_point *points, const size_t *ring_start,
                       size_t ring_count, size_t strips, size_t rows,
                       uint64_t *seed, struct watch *watch)
{
    struct cut_ground cut;
    struct walk_judge judge = {0};
    judge_put_edges(&judge, points, ring_start, ring_count);
    const double begun_s = cpu_s();
    cut_strips(&cut, points, ring_start, ring_count, strips,
               draw(seed, 0, 180));
    watch->new_s += cpu_s() - begun_s;
    judge.nodes = calloc(1 + ring_start[ring_count] + 2 * cut.line_count,
                         sizeof *judge.nodes);
    judge.nodes[judge.node_count++] = inside_of(&judge, seed);
    for (size_t i = 0; i < ring_start[ring_count]; i++)
        judge.nodes[judge.node_count++] = points[i];
    draw_lines(&cut, &judge, seed);
    judge_walk(&judge);
    const size_t cell = cell_at(&cut, judge.nodes[0]);
    const double search_s = cpu_s();
    assert_int_equal(
        fw_walk_search(cut.walk,
                       &(struct fw_walk_start){judge.nodes[0], &cell, 1, 0},
                       NULL),
        FW_OK);
    watch->search_s += cpu_s() - search_s;
    look_at_bracket(&cut, cut.walk, cell, judge.nodes[0], watch);
    compare(&cut, &judge, rows, seed, watch);
    judge_release(&judge);
    release_cut(&cut);
}

static void say(const struct watch *watch, const char *what)
{
    print_message("# %s: %zu of %zu cells known, %zu seen twice in part; "
                  "corners within %.2g m, means %.2g, longest short by %.2g; "
                  "new %.4f s, search %.4f s, sums %.4f s; %zu brackets, %zu "
                  "without an upper end, %.2g wide\n",
                  what, watch->known, watch->cells, watch->over,
                  watch->worst_corner_m, watch->worst_mean, watch->worst_most,
                  watch->new_s, watch->search_s, watch->sum_s, watch->brackets,
                  watch->brackets_open,
                  watch->bracket_width /
                      (double)(watch->brackets - watch->brackets_open));
    assert_true(watch->brackets > 0 &&
                4 * watch->brackets_open < 3 * watch->brackets);
    assert_true(watch->bracket_width < 0.5 * (double)watch->brackets);
}

static void random_ground(size_t rows, size_t strips, size_t usual,
                          uint64_t usual_seed)
{
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(usual_seed);
    struct watch watch = {0};
    for (size_t i = rounds_of(usual); i > 0; i--) {
        struct plot plot;
        struct fw_point points[most_points];
        draw_plot(geos, &plot, &seed);
        for (size_t k = 0; k < plot.field.vertex_count; k++)
            points[k] = plot.field.vertices[k].plane;
        try_ground(points, plot.field.ring_start, plot.field.ring_count, strips,
                   rows, &seed, &watch);
    }
    GEOS_finish_r(geos);
    say(&watch, strips > 1 ? "strips" : "whole");
    assert_true(watch.known == watch.cells);
    assert_near(watch.worst_corner_m, 0, 1e-9);
    assert_near(watch.worst_mean, 0, 1e-4);
    assert_true(watch.worst_most < 1e-6);
}

static void ways_on_random_ground_are_those_of_all_corners(void **state)
{
    (void)state;
    random_ground(0, 1, 200, 1);
}

static void ways_through_openings_are_those_of_all_corners(void **state)
{
    (void)state;
    random_ground(0, 7, 200, 2);
}

static void means_are_those_of_a_net(void **state)
{
    (void)state;
    random_ground(600, 1, 30, 3);
}

/* ---- ground that grows ---- */

/* The same lines stand and are open in both; the one is searched at every step,
 * the other was not yet. */
static void assert_same_ways(struct cut_ground *grown, struct cut_ground *fresh,
                             const struct walk_judge *judge,
                             const struct fw_walk_start *start, uint64_t *seed)
{
    assert_int_equal(fw_walk_search(grown->walk, start, NULL), FW_OK);
    assert_int_equal(fw_walk_search(fresh->walk, start, NULL), FW_OK);
    for (size_t c = 0; c < grown->cell_count; c++) {
        struct fw_walk_sums a, b;
        assert_int_equal(fw_walk_sum(grown->walk, c, &a, NULL), FW_OK);
        assert_int_equal(fw_walk_sum(fresh->walk, c, &b, NULL), FW_OK);
        assert_int_equal(a.known, b.known);
        assert_near(a.mean_m, b.mean_m, 1e-7 * b.mean_m);
        assert_near(a.most_m, b.most_m, 1e-6 * b.most_m);
    }
    for (int i = 0; i < 20; i++) {
        const struct fw_point at = inside_of(judge, seed);
        const size_t c = cell_at(grown, at);
        const double a = c == FW_NONE ? 0 : fw_walk_at(grown->walk, c, at);
        const double b = c == FW_NONE ? 0 : fw_walk_at(fresh->walk, c, at);
        assert_true(a == b || fabs(a - b) < 1e-9);
        if (c != FW_NONE)
            way_is_so_long(grown->walk, c, at, a);
    }
}

static void grow(const struct plot *plot, uint64_t *seed, size_t *steps)
{
    struct fw_point points[most_points];
    struct cut_ground grown, fresh;
    struct walk_judge judge = {0};
    bool stands[16];
    const double direction_deg = draw(seed, 0, 180);
    for (size_t k = 0; k < plot->field.vertex_count; k++)
        points[k] = plot->field.vertices[k].plane;
    judge_put_edges(&judge, points, plot->field.ring_start,
                    plot->field.ring_count);
    cut_strips(&grown, points, plot->field.ring_start, plot->field.ring_count,
               7, direction_deg);
    const struct fw_point water = inside_of(&judge, seed);
    const size_t cell = cell_at(&grown, water);
    const struct fw_walk_start start = {water, &cell, 1, 0};
    memset(stands, true, sizeof stands);
    for (size_t left = 2 * grown.line_count; left > 0 && grown.line_count <= 16;
         left--, ++*steps) {
        const size_t line = draw_count(seed, 0, grown.line_count - 1);
        /* Now and then one is put up again. */
        stands[line] = draw(seed, 0, 1) < 0.1;
        fw_walk_stand(grown.walk, line, stands[line]);
        cut_strips(&fresh, points, plot->field.ring_start,
                   plot->field.ring_count, 7, direction_deg);
        for (size_t l = 0; l < grown.line_count; l++)
            fw_walk_stand(fresh.walk, l, stands[l]);
        assert_same_ways(&grown, &fresh, &judge, &start, seed);
        release_cut(&fresh);
    }
    judge_release(&judge);
    release_cut(&grown);
}

static void ways_over_growing_ground_are_as_if_sought_anew(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(5);
    size_t steps = 0;
    for (size_t i = rounds_of(200); i > 0; i--) {
        struct plot plot;
        draw_plot(geos, &plot, &seed);
        grow(&plot, &seed, &steps);
    }
    GEOS_finish_r(geos);
    print_message("# %zu times a line was taken down or put up\n", steps);
    assert_true(steps > 0);
}

/* ---- real fields, each with a pond of our own ---- */

enum { real_most = 4000, pond_corners = 12 };

static size_t with_pond(const struct fw_field *field, struct fw_point *points,
                        size_t *ring_start, uint64_t *seed)
{
    struct walk_judge judge = {0};
    struct fw_point best = {0, 0};
    double best_m = 0;
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    for (size_t r = 0; r <= field->ring_count; r++)
        ring_start[r] = field->ring_start[r];
    judge_put_edges(&judge, points, ring_start, field->ring_count);
    for (int tries = 0; tries < 30; tries++) {
        const struct fw_point at = inside_of(&judge, seed);
        double away_m = HUGE_VAL;
        for (size_t i = 0; i < judge.edge_count; i++)
            away_m = fmin(away_m, fw_segment_distance_m(at, judge.edges[i].a,
                                                        judge.edges[i].b));
        if (away_m > best_m) {
            best_m = away_m;
            best = at;
        }
    }
    judge_release(&judge);
    for (size_t i = 0; i < pond_corners; i++) {
        const double angle = -2 * PI * (double)i / pond_corners;
        const double r = best_m * draw(seed, 0.4, 0.8);
        points[field->vertex_count + i] = (struct fw_point){
            best.x_m + r * cos(angle), best.y_m + r * sin(angle)};
    }
    ring_start[field->ring_count + 1] = field->vertex_count + pond_corners;
    return field->ring_count + 1;
}

static void ways_on_real_ground_are_those_of_all_corners(void **state)
{
    (void)state;
    static struct fw_point points[real_most + pond_corners];
    static size_t ring_start[real_most];
    const char *data = getenv("FW_TEST_DATA");
    const size_t most = getenv("FW_TEST_EVERY") ? 50 : 12;
    uint64_t seed = seeded(4);
    for (size_t map = 0; map < chosen_map_count; map++) {
        struct real_fields real = read_chosen(data, map);
        struct watch whole = {0}, cut = {0};
        thin_out(&real, most);
        for (size_t i = 0; i < real.count; i++) {
            if (real.fields[i]->vertex_count > real_most)
                continue;
            const size_t rings =
                with_pond(real.fields[i], points, ring_start, &seed);
            try_ground(points, ring_start, rings, 1, 800, &seed, &whole);
            try_ground(points, ring_start, rings, 6, 0, &seed, &cut);
        }
        release_fields(&real);
        say(&whole, "real, whole");
        say(&cut, "real, strips");
        assert_true(whole.known == whole.cells && whole.cells >= most);
        assert_true(cut.known > cut.cells / 2);
        assert_near(fmax(whole.worst_corner_m, cut.worst_corner_m), 0, 1e-8);
        assert_near(whole.worst_mean, 0, 1e-4);
        assert_true(whole.worst_most < 1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ways_on_random_ground_are_those_of_all_corners),
        cmocka_unit_test(ways_through_openings_are_those_of_all_corners),
        cmocka_unit_test(means_are_those_of_a_net),
        cmocka_unit_test(ways_over_growing_ground_are_as_if_sought_anew),
        data_test(ways_on_real_ground_are_those_of_all_corners),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
