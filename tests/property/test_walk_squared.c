/* The way to water round ponds on squared paper, where corners lie on one line
 * and sides run through each other's: against a graph of all corners, each
 * joined to those that it sees before any other. FW_SEED chooses others. */
#include "draw.h"
#include "random_plot.h"
#include "walk_judge.h"

#include "walk/walk.h"

enum { squares = 12, ponds_most = 6, corners_most = 100 };

struct paper {
    struct fw_point points[corners_most];
    size_t ring_start[ponds_most + 2];
    size_t rings;
};

/* A power of two, so that sums over its crossings are exact. */
static const double square_m = 0.25;

static void put_ring(struct paper *paper, const int (*at)[2], size_t count)
{
    size_t end = paper->ring_start[paper->rings];
    for (size_t i = 0; i < count; i++)
        paper->points[end++] =
            (struct fw_point){square_m * at[i][0], square_m * at[i][1]};
    paper->ring_start[++paper->rings] = end;
}

static int whole(uint64_t *seed, int least, int most)
{
    return (int)draw_count(seed, (size_t)least, (size_t)most);
}

/* Clockwise: a rectangle, half of one, or one on its corner. */
static void put_pond(struct paper *paper, uint64_t *seed)
{
    const int x = whole(seed, 1, squares - 2), y = whole(seed, 1, squares - 2);
    const int to_x = whole(seed, x + 1, squares - 1);
    const int to_y = whole(seed, y + 1, squares - 1);
    const int box[4][2] = {{x, y}, {x, to_y}, {to_x, to_y}, {to_x, y}};
    const int up = (to_x - x) / 2;
    const int tip[4][2] = {
        {x, y}, {x + up, y + up}, {x + 2 * up, y}, {x + up, y - up}};
    const size_t form = draw_count(seed, 0, 5);
    int half[3][2];
    for (size_t i = 0; i < 3; i++)
        for (size_t k = 0; k < 2; k++)
            half[i][k] = box[(i + form) % 4][k];
    if (form < 4 && whole(seed, 0, 1))
        put_ring(paper, (const int(*)[2])half, 3);
    else if (form < 5 || up == 0 || y <= up || y + up >= squares)
        put_ring(paper, (const int(*)[2])box, 4);
    else
        put_ring(paper, (const int(*)[2])tip, 4);
}

/* Of all sides' crossings some are corners, and some begin a notch. */
static void put_edge(struct paper *paper, uint64_t *seed)
{
    static const int along[4][2] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    int at[corners_most][2] = {{0, 0}};
    size_t count = 0;
    for (size_t side = 0; side < 4; side++) {
        const int *on = along[side], *in = along[(side + 1) % 4];
        const int x = side == 1 || side == 2 ? squares : 0;
        const int y = side >= 2 ? squares : 0;
        for (int k = 0; k < squares; k++) {
            const size_t what = k ? draw_count(seed, 0, 9) : 0;
            if (what > 2)
                continue;
            const int deep = whole(seed, 1, 2);
            const int notch[4][2] = {{0, 0}, {0, deep}, {1, deep}, {1, 0}};
            const size_t corners =
                what == 2 && k > 2 && k + 3 < squares && count + 20 < 60 ? 4
                                                                         : 1;
            for (size_t i = 0; i < corners; i++, count++) {
                at[count][0] =
                    x + (k + notch[i][0]) * on[0] + notch[i][1] * in[0];
                at[count][1] =
                    y + (k + notch[i][0]) * on[1] + notch[i][1] * in[1];
            }
            k += corners == 4;
        }
    }
    put_ring(paper, (const int(*)[2])at, count);
}

static GEOSGeometry *pond_of(GEOSContextHandle_t geos,
                             const struct paper *paper, size_t r)
{
    return GEOSGeom_createPolygon_r(
        geos,
        geos_ring(geos, paper->points + paper->ring_start[r],
                  paper->ring_start[r + 1] - paper->ring_start[r]),
        NULL, 0);
}

/* The newest pond within the edge and clear of all others; or it touches one
 * where both have a corner. */
static bool has_room(GEOSContextHandle_t geos, const struct paper *paper,
                     bool touching)
{
    const size_t last = paper->rings - 1;
    GEOSGeometry *one = pond_of(geos, paper, last);
    bool free = true;
    for (size_t r = 0; r < last && free; r++) {
        GEOSGeometry *other = pond_of(geos, paper, r);
        if (r == 0)
            free = GEOSRelatePattern_r(geos, one, other, "T*F*FFFF*") == 1 ||
                   GEOSRelatePattern_r(geos, one, other, "TFFTFFT**") == 1;
        else if (!touching)
            free = GEOSDisjoint_r(geos, one, other) == 1;
        else
            free = GEOSDisjoint_r(geos, one, other) == 1 ||
                   GEOSRelatePattern_r(geos, one, other, "FF*F0****") == 1;
        GEOSGeom_destroy_r(geos, other);
    }
    GEOSGeom_destroy_r(geos, one);
    return free;
}

static bool is_corner(const struct paper *paper, size_t r, struct fw_point at)
{
    for (size_t i = paper->ring_start[r]; i < paper->ring_start[r + 1]; i++)
        if (paper->points[i].x_m == at.x_m && paper->points[i].y_m == at.y_m)
            return true;
    return false;
}

/* No corner lies on a side of another ring but at its ends, and the ground is
 * in one piece. */
static bool is_sound(GEOSContextHandle_t geos, const struct paper *paper)
{
    for (size_t r = 0; r < paper->rings; r++)
        for (size_t i = 0; i < paper->ring_start[paper->rings]; i++) {
            const size_t start = paper->ring_start[r];
            const size_t count = paper->ring_start[r + 1] - start;
            for (size_t k = 0; k < count; k++)
                if (fw_segment_distance_m(
                        paper->points[i], paper->points[start + k],
                        paper->points[start + (k + 1) % count]) == 0 &&
                    !is_corner(paper, r, paper->points[i]))
                    return false;
        }
    GEOSGeometry *ground =
        geos_polygon(geos, paper->points, paper->ring_start, paper->rings);
    const bool valid = GEOSisValid_r(geos, ground) == 1;
    GEOSGeom_destroy_r(geos, ground);
    return valid;
}

static void draw_paper(GEOSContextHandle_t geos, struct paper *paper,
                       bool touching, uint64_t *seed)
{
    *paper = (struct paper){.rings = 0};
    put_edge(paper, seed);
    for (int tries = 0; tries < 40 && paper->rings <= ponds_most; tries++) {
        put_pond(paper, seed);
        if (!has_room(geos, paper, touching) || !is_sound(geos, paper))
            paper->rings--;
    }
}

/* ---- the judge ---- */

/* On the way from p to q, at neither end; all of it is exact. */
static bool is_amid(struct fw_point p, struct fw_point q, struct fw_point at)
{
    const double along =
        (at.x_m - p.x_m) * (q.x_m - p.x_m) + (at.y_m - p.y_m) * (q.y_m - p.y_m);
    const double all =
        (q.x_m - p.x_m) * (q.x_m - p.x_m) + (q.y_m - p.y_m) * (q.y_m - p.y_m);
    return judge_cross(p, q, at) == 0 && along > 0 && along < all;
}

/* Ways that meet a corner are two, one to it and one from it. */
static bool sees(const struct walk_judge *judge, size_t i, size_t k)
{
    for (size_t n = 0; n < judge->node_count; n++)
        if (is_amid(judge->nodes[i], judge->nodes[k], judge->nodes[n]))
            return false;
    return judge_sees(judge, judge->nodes[i], judge->nodes[k]);
}

static void walk_by_hand(struct walk_judge *judge)
{
    const size_t count = judge->node_count;
    judge->walked_m = calloc(count, sizeof *judge->walked_m);
    for (size_t i = 1; i < count; i++)
        judge->walked_m[i] = HUGE_VAL;
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t i = 0; i < count; i++)
            for (size_t k = 0; k < count; k++) {
                const double m =
                    judge->walked_m[i] +
                    hypot(judge->nodes[i].x_m - judge->nodes[k].x_m,
                          judge->nodes[i].y_m - judge->nodes[k].y_m);
                if (m < judge->walked_m[k] - 1e-12 && sees(judge, i, k)) {
                    judge->walked_m[k] = m;
                    changed = true;
                }
            }
    }
}

/* False: the sums are not told. That is no wrong answer, but a rare one. */
static bool try_paper(const struct paper *paper, uint64_t *seed, size_t rows)
{
    struct walk_judge judge = {0};
    const size_t cell_ring[] = {0, paper->rings}, cell = 0, none = 0;
    const struct fw_walk_map map = {.points = paper->points,
                                    .ring_start = paper->ring_start,
                                    .cell_ring = cell_ring,
                                    .cell_count = 1,
                                    .line_start = &none};
    struct fw_walk_ground *ground = NULL;
    struct fw_walk_sums sums;
    judge_put_edges(&judge, paper->points, paper->ring_start, paper->rings);
    judge.nodes = calloc(corners_most + 1, sizeof *judge.nodes);
    do /* water on a crossing of the paper, or in the middle of a square */
        judge.nodes[0] =
            (struct fw_point){square_m * whole(seed, 1, 2 * squares - 1) / 2,
                              square_m * whole(seed, 1, 2 * squares - 1) / 2};
    while (!judge_is_inside(&judge, judge.nodes[0]));
    judge.node_count = 1;
    for (size_t i = 0; i < paper->ring_start[paper->rings]; i++)
        judge.nodes[judge.node_count++] = paper->points[i];
    walk_by_hand(&judge);
    assert_int_equal(fw_walk_new(&map, &ground, NULL), FW_OK);
    assert_int_equal(
        fw_walk_search(
            ground, &(struct fw_walk_start){judge.nodes[0], &cell, 1, 0}, NULL),
        FW_OK);
    assert_int_equal(fw_walk_sum(ground, 0, &sums, NULL), FW_OK);
    assert_true(!sums.known || sums.covered >= 1 - 1e-9);
    for (size_t i = 0; i < judge.node_count; i++)
        assert_near(fw_walk_at(ground, 0, judge.nodes[i]), judge.walked_m[i],
                    1e-9);
    if (rows && sums.known) {
        double mean_m, most_m;
        judge_mean(&judge, &judge, rows, rows, &mean_m, &most_m);
        assert_relative(sums.mean_m, mean_m, 1e-3);
        assert_true(sums.most_m >= most_m - 1e-9);
    }
    fw_walk_free(ground);
    judge_release(&judge);
    return sums.known;
}

/* A quarter of them where time is short. */
static int grounds_of(int usual)
{
    return getenv("FW_THOROUGH") ? usual : usual / 4;
}

static void ways_on_squared_paper_are_those_of_all_corners(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(11);
    size_t ponds = 0, untold = 0;
    const int grounds = grounds_of(600);
    for (int i = 0; i < grounds; i++) {
        struct paper paper;
        draw_paper(geos, &paper, false, &seed);
        ponds += paper.rings - 1;
        untold += !try_paper(&paper, &seed, i % 20 ? 0 : 120);
    }
    print_message("# %d grounds with %zu ponds\n", grounds, ponds);
    assert_true(3 * ponds > 5 * (size_t)grounds && untold <= 3);
    GEOS_finish_r(geos);
}

/* Where ponds meet in corners nobody passes, but all ground is reached round
 * them. */
static void ponds_that_touch_in_corners_are_gone_round(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(12);
    size_t ponds = 0;
    const int grounds = grounds_of(1500);
    for (int i = 0; i < grounds; i++) {
        struct paper paper;
        draw_paper(geos, &paper, true, &seed);
        ponds += paper.rings - 1;
        const size_t cell_ring[] = {0, paper.rings}, cell = 0, none = 0;
        const struct fw_walk_map map = {.points = paper.points,
                                        .ring_start = paper.ring_start,
                                        .cell_ring = cell_ring,
                                        .cell_count = 1,
                                        .line_start = &none};
        struct fw_walk_ground *ground = NULL;
        struct fw_walk_sums sums;
        assert_int_equal(fw_walk_new(&map, &ground, NULL), FW_OK);
        assert_int_equal(fw_walk_search(ground,
                                        &(struct fw_walk_start){paper.points[0],
                                                                &cell, 1, 0},
                                        NULL),
                         FW_OK);
        assert_int_equal(fw_walk_sum(ground, 0, &sums, NULL), FW_OK);
        assert_true(sums.known);
        fw_walk_free(ground);
    }
    print_message("# %d grounds with %zu ponds\n", grounds, ponds);
    assert_true(3 * ponds > 8 * (size_t)grounds);
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ways_on_squared_paper_are_those_of_all_corners),
        cmocka_unit_test(ponds_that_touch_in_corners_are_gone_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
