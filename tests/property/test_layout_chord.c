/* Fences that part ground in two, against brute force: from every corner that
 * juts in to every side, and across in every direction. */
#include "crs/crs.h"
#include "layout_across.h"

#include "cutting/chord.h"
#include "unit/subdivision_help.h"

enum { most_chords = 20000, half_turn = 36 };

struct wanted {
    size_t plots;
    double length_m, score;
    bool parallel;
    int direction; /* of so many in half a turn */
    size_t anchor, side;
    double t;
    bool swapped;
};

struct all {
    struct wanted *items;
    size_t count;
};

/* Behind the first, the first two … plots, with something before them all. */
struct plots {
    double behind[300], base, area_m2;
    size_t count;
};

static struct plots share_out(const struct plot *plot, uint64_t *seed,
                              size_t count, bool even)
{
    struct plots plots = {.base = draw(seed, 10, 9000), .count = count};
    double sum = 0;
    for (size_t k = 0; k < count; k++)
        plots.behind[k] = sum += even ? 1 : draw(seed, 0.5, 2);
    for (size_t k = 0; k < count; k++)
        plots.behind[k] =
            plots.base + plots.behind[k] * plot->field.area_m2 / sum;
    plots.area_m2 = plot->field.area_m2;
    return plots;
}

static double first_m2(const struct plots *plots, size_t k)
{
    return plots->behind[k - 1] - plots->base;
}

/* For its length, how little the lesser part is. */
static double score_of(const struct plots *plots, double length_m, size_t k)
{
    const double m2 = first_m2(plots, k);
    return length_m / sqrt(fmin(m2, plots->area_m2 - m2));
}

static void put(struct all *all, const struct wanted *wanted)
{
    assert_true(all->count < most_chords * 8);
    all->items[all->count++] = *wanted;
}

static int by_score(const void *left, const void *right)
{
    const struct wanted *a = left, *b = right;
    return a->score < b->score ? -1 : a->score > b->score;
}

/* ---- from corners ---- */

static double turn_of(struct fw_point o, struct fw_point a, struct fw_point b)
{
    return (a.x_m - o.x_m) * (b.y_m - o.y_m) -
           (a.y_m - o.y_m) * (b.x_m - o.x_m);
}

static bool juts_in(const struct plot *plot, size_t i)
{
    const size_t n = plot->ring_start[1];
    const struct fw_point a = at(plot, (i + n - 1) % n), b = at(plot, i);
    const struct fw_point c = at(plot, (i + 1) % n);
    return turn_of(a, b, c) / map_apart_m(a, b) / map_apart_m(b, c) <
           -FW_JUTTING_SINE;
}

/* Along the outer ring from the anchor to a place of a side, and back. */
static size_t near_ring(const struct plot *plot, const struct wanted *fence,
                        double t, struct fw_point *out)
{
    const size_t outer = plot->ring_start[1];
    size_t n = 0;
    for (size_t i = fence->anchor;; i = (i + 1) % outer) {
        out[n++] = at(plot, i);
        if (i == fence->side)
            break;
    }
    const struct fw_point a = at(plot, fence->side);
    const struct fw_point b = at(plot, (fence->side + 1) % outer);
    out[n++] = (struct fw_point){a.x_m + (b.x_m - a.x_m) * t,
                                 a.y_m + (b.y_m - a.y_m) * t};
    return n;
}

static double near_m2(const struct plot *plot, const struct wanted *fence,
                      double t)
{
    struct fw_point ring[most_points + 1];
    const size_t n = near_ring(plot, fence, t, ring);
    long double twice = 0;
    for (size_t i = 1; i + 1 < n; i++)
        twice += (long double)turn_of(ring[0], ring[i], ring[i + 1]);
    return (double)(twice / 2);
}

static bool is_in_field(const struct plot *plot, struct fw_point p)
{
    bool inside = false;
    for (size_t r = 0; r < plot->field.ring_count; r++)
        for (size_t i = plot->ring_start[r], j = plot->ring_start[r + 1] - 1;
             i < plot->ring_start[r + 1]; j = i++) {
            const struct fw_point a = at(plot, i), b = at(plot, j);
            if ((a.y_m > p.y_m) != (b.y_m > p.y_m))
                inside ^= p.x_m < a.x_m + (b.x_m - a.x_m) * (p.y_m - a.y_m) /
                                              (b.y_m - a.y_m);
        }
    return inside;
}

static bool meet(struct fw_point a, struct fw_point b, struct fw_point p,
                 struct fw_point q)
{
    return (turn_of(a, b, p) > 0) != (turn_of(a, b, q) > 0) &&
           (turn_of(p, q, a) > 0) != (turn_of(p, q, b) > 0);
}

/* All of it inside, and no hole in the near part. */
static bool parts(const struct plot *plot, const struct wanted *fence)
{
    struct fw_point ring[most_points + 1];
    const size_t n = near_ring(plot, fence, fence->t, ring);
    const struct fw_point from = ring[0], to = ring[n - 1];
    const struct fw_point middle = {(from.x_m + to.x_m) / 2,
                                    (from.y_m + to.y_m) / 2};
    for (size_t r = 0; r < plot->field.ring_count; r++)
        for (size_t i = plot->ring_start[r], j = plot->ring_start[r + 1] - 1;
             i < plot->ring_start[r + 1]; j = i++)
            if (i != fence->anchor && j != fence->anchor && j != fence->side &&
                meet(from, to, at(plot, j), at(plot, i)))
                return false;
    for (size_t r = 1; r < plot->field.ring_count; r++)
        if (fw_ring_contains(ring, n, at(plot, plot->ring_start[r])))
            return false;
    return is_in_field(plot, middle);
}

static void list_to_side(const struct plot *plot, const struct plots *plots,
                         struct wanted fence, bool look, struct all *all)
{
    const double least = near_m2(plot, &fence, 0);
    const double most = near_m2(plot, &fence, 1);
    if (!(most > least))
        return;
    for (fence.plots = 1; fence.plots < plots->count; fence.plots++)
        for (int swapped = 0; swapped < 2; swapped++) {
            const double first = first_m2(plots, fence.plots);
            const double m2 = swapped ? plots->area_m2 - first : first;
            struct fw_point ring[most_points + 1];
            fence.t = (m2 - least) / (most - least);
            fence.swapped = swapped == 1;
            if (!(fence.t > 0 && fence.t < 1))
                continue;
            const size_t n = near_ring(plot, &fence, fence.t, ring);
            fence.length_m = map_apart_m(ring[0], ring[n - 1]);
            fence.score = score_of(plots, fence.length_m, fence.plots);
            if (!look || parts(plot, &fence))
                put(all, &fence);
        }
}

static void list_from_corners(const struct plot *plot,
                              const struct plots *plots, bool look,
                              struct all *all)
{
    const size_t outer = plot->ring_start[1];
    for (size_t a = 0; a < outer; a++)
        for (size_t s = 0; juts_in(plot, a) && s < outer; s++)
            if (s != a && (s + 1) % outer != a)
                list_to_side(plot, plots,
                             (struct wanted){.anchor = a, .side = s}, look,
                             all);
}

/* ---- across ---- */

static void list_across(const struct plot *plot, const struct plots *plots,
                        struct all *all)
{
    for (int d = 0; d < 2 * half_turn; d++)
        for (size_t k = 1; k < plots->count; k++) {
            const double deg = 180.0 * d / half_turn;
            struct wanted line = {.plots = k, .parallel = true, .direction = d};
            line.t = place_across(plot, deg, first_m2(plots, k));
            const size_t pieces = pieces_of(plot, deg, line.t, &line.length_m);
            line.score = score_of(plots, line.length_m, k);
            if (pieces == 2)
                put(all, &line);
        }
}

/* ---- found by both ---- */

static bool is_it(const struct wanted *wanted, const struct fw_chord *chord)
{
    if (wanted->parallel != chord->parallel || wanted->plots != chord->plots ||
        !(fabs(wanted->length_m - chord->length_m) < 1e-6))
        return false;
    if (wanted->parallel)
        return fabs(wanted->direction * 180.0 / half_turn -
                    chord->direction_deg) < 1e-9;
    const struct fw_region_station *free_end =
        wanted->swapped ? &chord->to : &chord->from;
    const struct fw_region_station *corner =
        wanted->swapped ? &chord->from : &chord->to;
    return corner->side == wanted->anchor && !(fabs(corner->t) > 0) &&
           free_end->side == wanted->side &&
           fabs(free_end->t - wanted->t) < 1e-7;
}

/* The same line, come the other way. */
static bool is_opposite(const struct wanted *a, const struct wanted *b)
{
    return a->parallel && b->parallel &&
           abs(a->direction - b->direction) == half_turn &&
           fabs(a->t + b->t) < 1e-6;
}

static const struct fw_chord *find(const struct wanted *wanted,
                                   const struct fw_chord *chords, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (is_it(wanted, &chords[i]))
            return &chords[i];
    return NULL;
}

/* Every one is found once, and nothing else. */
static void assert_same(const struct all *all, const struct fw_chord *chords,
                        size_t count)
{
    size_t found = 0;
    for (size_t i = 0; i < all->count; i++) {
        const struct wanted *wanted = &all->items[i];
        bool seen = find(wanted, chords, count) != NULL;
        found += seen;
        for (size_t k = 0; k < all->count; k++)
            if (is_opposite(wanted, &all->items[k])) {
                const bool other = find(&all->items[k], chords, count) != NULL;
                assert_false(seen && other);
                seen |= other;
            }
        if (!seen)
            fail_msg("%s of %g m for %zu is not found (corner %zu, side %zu, "
                     "%g; direction %d)",
                     wanted->parallel ? "line" : "fence", wanted->length_m,
                     wanted->plots, wanted->anchor, wanted->side, wanted->t,
                     wanted->direction);
    }
    assert_int_equal(found, count);
}

static void seek(const struct fw_subdivision *subdivision,
                 const struct fw_region *whole, const struct plots *plots,
                 size_t only, struct fw_chords *out)
{
    double behind[COUNT(plots->behind) + 1] = {plots->base};
    struct fw_error err = {0};
    for (size_t k = 0; k < plots->count; k++)
        behind[k + 1] = plots->behind[k];
    const struct fw_plots all = {.subdivision = *subdivision,
                                 .behind = behind,
                                 .count = plots->count + 1};
    const struct fw_part part = {whole, 1, plots->count};
    if (fw_layout__chords(&all, &part, only, out, &err))
        fail_msg("%s", err.text);
}

static size_t find_chords(const struct fw_subdivision *subdivision,
                          const struct fw_region *whole,
                          const struct plots *plots, size_t only,
                          struct fw_chord *out, size_t most)
{
    struct fw_chords chords = {.items = out, .most = most};
    seek(subdivision, whole, plots, only, &chords);
    for (size_t i = 0; i < chords.count; i++) {
        assert_near(out[i].behind, first_m2(plots, out[i].plots), 1e-9);
        assert_relative(out[i].score,
                        score_of(plots, out[i].length_m, out[i].plots), 1e-6);
        if (i > 0)
            assert_true(out[i].score >= out[i - 1].score);
    }
    return chords.count;
}

/* The first ones of all, and those for one number of plots alone. */
static void assert_some(const struct fw_subdivision *subdivision,
                        const struct fw_region *whole,
                        const struct plots *plots,
                        const struct fw_chord *chords, size_t count)
{
    static struct fw_chord some[most_chords];
    const size_t few = count / 2, only = 1 + count % (plots->count - 1);
    if (few > 0) {
        assert_int_equal(find_chords(subdivision, whole, plots, 0, some, few),
                         few);
        for (size_t i = 0; i < few; i++)
            assert_near(some[i].score, chords[i].score, 0);
    }
    const size_t found =
        find_chords(subdivision, whole, plots, only, some, most_chords);
    size_t n = 0, across = 0, left = 0;
    for (size_t i = 0; i < found; i++) {
        assert_int_equal(some[i].plots, only);
        n += !some[i].parallel;
        across += some[i].parallel;
    }
    for (size_t i = 0; i < count; i++)
        if (chords[i].plots == only) {
            n -= !chords[i].parallel;
            left += chords[i].parallel;
        }
    assert_int_equal(n, 0);
    assert_true(across >= left); /* its opposite may be another's */
}

/* Each of them cuts off what it says, on the left of a fence. */
static void assert_cuts(struct fw_subdivision *subdivision,
                        const struct fw_region *whole,
                        const struct fw_chord *chords, size_t count)
{
    const struct fw_subdivision before = *subdivision;
    const double all_m2 = holds(subdivision, whole);
    for (size_t i = 0; i < count; i += 1 + count / 50) {
        struct fw_region parts[2];
        bool done = false;
        assert_int_equal(fw_layout__cut_chord(subdivision, whole, &chords[i],
                                              parts, &done, NULL),
                         FW_OK);
        assert_true(done);
        assert_relative(holds(subdivision, &parts[0]), chords[i].behind, 1e-9);
        assert_near(holds(subdivision, &parts[1]), all_m2 - chords[i].behind,
                    1e-9 * all_m2);
        fw_region_release(&parts[0]);
        fw_region_release(&parts[1]);
        subdivision->vertex_count = before.vertex_count;
        subdivision->support_count = before.support_count;
        subdivision->line_count = before.line_count;
    }
}

static size_t try_plot(const struct plot *plot, const struct plots *plots)
{
    static struct fw_chord chords[most_chords];
    static struct wanted room[most_chords * 8];
    struct all all = {.items = room};
    struct fw_subdivision subdivision;
    struct fw_region whole;
    begin(&subdivision, &whole, plot, NULL);
    list_from_corners(plot, plots, true, &all);
    list_across(plot, plots, &all);
    const size_t count =
        find_chords(&subdivision, &whole, plots, 0, chords, most_chords);
    assert_same(&all, chords, count);
    assert_some(&subdivision, &whole, plots, chords, count);
    assert_cuts(&subdivision, &whole, chords, count);
    fw_region_release(&whole);
    fw_subdivision_release(&subdivision);
    return count;
}

static void chords_are_all_that_brute_force_finds(void **state)
{
    (void)state;
    uint64_t seed = seeded(2301);
    size_t sum = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t i = 0; i < 16; i++) {
        struct plot plot;
        draw_plot(geos, &plot, &seed);
        if (plot.field.vertex_count > 70) {
            i--;
            continue;
        }
        const struct plots plots =
            share_out(&plot, &seed, draw_count(&seed, 2, 8), i % 2 == 0);
        sum += try_plot(&plot, &plots);
    }
    GEOS_finish_r(geos);
    printf("# %zu chords\n", sum);
    assert_true(sum > 1000);
}

/* Round with teeth, each of which juts in. */
static void add_wheel(struct plot *plot, uint64_t *seed, size_t count)
{
    struct fw_point points[most_points];
    for (size_t i = 0; i < count; i++) {
        const double angle = 2 * PI * (double)i / (double)count;
        const double r = draw(seed, 399, 400) - (i % 2 ? 0 : 8);
        points[i] = (struct fw_point){r * cos(angle), r * sin(angle)};
    }
    add_ring(plot, points, count);
}

/* As many as can be looked at are the best there are, down to the last one. */
static void assert_best(const struct plot *plot, const struct plots *plots,
                        size_t least, size_t least_looks)
{
    enum { room_for = 40000 };
    static struct fw_chord chords[room_for];
    static struct wanted room[most_chords * 8];
    struct all all = {.items = room};
    struct fw_subdivision subdivision;
    struct fw_region whole;
    begin(&subdivision, &whole, plot, NULL);
    list_from_corners(plot, plots, false, &all);
    qsort(all.items, all.count, sizeof *all.items, by_score);
    const size_t count =
        find_chords(&subdivision, &whole, plots, 0, chords, room_for);
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        if (chords[i].parallel)
            continue;
        while (!parts(plot, &all.items[n]))
            n++;
        assert_relative(chords[i].score, all.items[n].score, 1e-6);
        n++;
    }
    printf("# of %zu fences the best %zu looked at, %zu chords of them\n",
           all.count, n, count);
    assert_true(count > least && count < room_for);
    assert_true(n > least_looks && n < all.count / 2);
    fw_region_release(&whole);
    fw_subdivision_release(&subdivision);
}

/* More than are noted: the worse half goes, and the best are still found. Few
 * fences across a star are clear of its points, and all across a wheel. */
static void best_of_very_many_chords_are_found(void **state)
{
    (void)state;
    uint64_t seed = seeded(2302);
    struct plot star = {.ring_start = {0}}, wheel = star;
    add_star(&star, &seed, (struct fw_point){0, 0}, 400, 360, false);
    struct plots plots = share_out(&star, &seed, 220, false);
    assert_best(&star, &plots, 10000, 15000);
    add_wheel(&wheel, &seed, 500);
    plots = share_out(&wheel, &seed, 240, false);
    assert_best(&wheel, &plots, 10000, 10000);
}

/* ---- on unequal ground ---- */

/* West of the middle there is a third as much. */
static struct fw_herbage *grow(const struct plot *plot)
{
    const double far_m = 3000;
    const struct fw_point west[] = {
        {-far_m, -far_m}, {0, -far_m}, {0, far_m}, {-far_m, far_m}};
    const size_t ring_start[] = {0, COUNT(west)};
    const struct fw_herbage_zone zone = {west, ring_start, 1, 0.1};
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    if (fw_herbage_zones(&plot->field, 0.3, &zone, 1, &ground, NULL, &err))
        fail_msg("%s", err.text);
    return ground;
}

/* With its free end at either end of its side, does the near part hold less
 * and more than it should? */
static bool is_between(const struct plot *plot, const struct fw_herbage *ground,
                       const struct fw_chord *chord, double all_kg)
{
    const bool swapped = chord->to.t > 0;
    const struct wanted fence = {
        .anchor = (swapped ? chord->from : chord->to).side,
        .side = (swapped ? chord->to : chord->from).side};
    const double kg = swapped ? all_kg - chord->behind : chord->behind;
    double ends_kg[2];
    for (int e = 0; e < 2; e++) {
        struct fw_point ring[most_points + 1];
        const size_t rings[] = {0, near_ring(plot, &fence, e, ring)};
        ends_kg[e] = fw_herbage_mass_kg(ground, ring, rings, 1);
    }
    return ends_kg[0] < kg && ends_kg[1] > kg;
}

static void cuts_on_unequal_ground_hold_what_they_should(void **state)
{
    (void)state;
    uint64_t seed = seeded(2303);
    size_t done_count = 0, not_done = 0;
    for (int i = 0; i < 12; i++) {
        static struct fw_chord chords[most_chords];
        struct plot plot = {.ring_start = {0}};
        struct fw_subdivision subdivision;
        struct fw_region whole;
        add_star(&plot, &seed, (struct fw_point){0, 0}, 300,
                 draw_count(&seed, 8, 40), false);
        struct fw_herbage *ground = grow(&plot);
        begin(&subdivision, &whole, &plot, ground);
        const double all_kg = holds(&subdivision, &whole);
        struct plots plots = share_out(&plot, &seed, 5, false);
        for (size_t k = 0; k < plots.count; k++)
            plots.behind[k] =
                plots.base + first_m2(&plots, k + 1) * all_kg / plots.area_m2;
        struct fw_chords all = {.items = chords, .most = most_chords};
        seek(&subdivision, &whole, &plots, 0, &all);
        const size_t count = all.count;
        const struct fw_subdivision before = subdivision;
        for (size_t c = 0; c < count; c += 1 + count / 40) {
            struct fw_region parts[2];
            bool done = false;
            assert_int_equal(fw_layout__cut_chord(&subdivision, &whole,
                                                  &chords[c], parts, &done,
                                                  NULL),
                             FW_OK);
            if (!chords[c].parallel)
                assert_int_equal(done,
                                 is_between(&plot, ground, &chords[c], all_kg));
            *(done ? &done_count : &not_done) += 1;
            if (!done)
                continue;
            assert_relative(holds(&subdivision, &parts[0]), chords[c].behind,
                            1e-9);
            assert_relative(holds(&subdivision, &parts[1]),
                            all_kg - chords[c].behind, 1e-9);
            assert_int_equal(subdivision.line_count, before.line_count + 1);
            fw_region_release(&parts[0]);
            fw_region_release(&parts[1]);
            subdivision.vertex_count = before.vertex_count;
            subdivision.support_count = before.support_count;
            subdivision.line_count = before.line_count;
        }
        fw_region_release(&whole);
        fw_subdivision_release(&subdivision);
        fw_herbage_free(ground);
    }
    printf("# %zu cut, %zu not\n", done_count, not_done);
    assert_true(done_count > 50 && not_done > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chords_are_all_that_brute_force_finds),
        cmocka_unit_test(best_of_very_many_chords_are_found),
        cmocka_unit_test(cuts_on_unequal_ground_hold_what_they_should),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
