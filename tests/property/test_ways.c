/* Necks of random and real ground, with GEOS as the slow judge: the
 * ground taken in by half the width falls into as many pieces as there are
 * parts; taken in by a hair less than half the neck's width it joins them, by a
 * hair more it does not. FW_SEED chooses others, FW_FIELDS how many. */
#include "layout_fields.h"
#include "random_farm.h"
#include "ways_help.h"

enum { fine = 32, very_fine = 400 }; /* segments of a quarter circle */

struct tally {
    size_t judged, found, fits, near;
};

/* ---- the ground taken in ---- */

static GEOSGeometry *taken_in(const struct judge *judge, double width_m,
                              int segments)
{
    return GEOSBuffer_r(judge->geos, judge->ground, -width_m / 2, segments);
}

static int pieces_of(const struct judge *judge, const GEOSGeometry *areas)
{
    return GEOSisEmpty_r(judge->geos, areas)
               ? 0
               : GEOSGetNumGeometries_r(judge->geos, areas);
}

static int piece_count(const struct judge *judge, double width_m)
{
    GEOSGeometry *inner = taken_in(judge, width_m, fine);
    const int count = pieces_of(judge, inner);
    GEOSGeom_destroy_r(judge->geos, inner);
    return count;
}

/* ---- the ground taken apart ---- */

static GEOSGeometry *line_of(const struct judge *judge, struct fw_point a,
                             struct fw_point b)
{
    GEOSCoordSequence *line = GEOSCoordSeq_create_r(judge->geos, 2, 2);
    GEOSCoordSeq_setXY_r(judge->geos, line, 0, a.x_m, a.y_m);
    GEOSCoordSeq_setXY_r(judge->geos, line, 1, b.x_m, b.y_m);
    return GEOSGeom_createLineString_r(judge->geos, line);
}

struct lines {
    GEOSGeometry **items;
    size_t count, room;
};

/* A segment counts when it lies inside and its circle is empty. It is drawn a
 * little longer, so that rounding does not leave it short of the edge; noding
 * it with the edge would be no judge, since GEOS drops some of the nodes. */
static void try_segment(const struct judge *judge, struct fw_point a,
                        struct fw_point b, struct lines *lines)
{
    const double width_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    double away_m = 0;
    if (width_m >= judge->wide_m || width_m < 1e-6)
        return;
    GEOSGeometry *middle = GEOSGeom_createPointFromXY_r(
        judge->geos, (a.x_m + b.x_m) / 2, (a.y_m + b.y_m) / 2);
    GEOSDistance_r(judge->geos, judge->edge, middle, &away_m);
    if (away_m > width_m / 2 - 1e-9 &&
        GEOSContains_r(judge->geos, judge->ground, middle) == 1) {
        const double x = (b.x_m - a.x_m) / width_m * 1e-6;
        const double y = (b.y_m - a.y_m) / width_m * 1e-6;
        if (lines->count == lines->room) {
            lines->room = 2 * lines->room + 16;
            lines->items =
                realloc(lines->items, lines->room * sizeof *lines->items);
        }
        lines->items[lines->count++] =
            line_of(judge, (struct fw_point){a.x_m - x, a.y_m - y},
                    (struct fw_point){b.x_m + x, b.y_m + y});
    }
    GEOSGeom_destroy_r(judge->geos, middle);
}

static struct fw_point foot_on(struct fw_point p, struct fw_point a,
                               struct fw_point b)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double t =
        ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / (x * x + y * y);
    const double in = fmin(1, fmax(0, t));
    return (struct fw_point){a.x_m + in * x, a.y_m + in * y};
}

static GEOSGeometry *apart(const struct judge *judge)
{
    struct lines lines = {0};
    for (size_t v = 0; v < judge->count; v++)
        for (size_t r = 0; r < judge->ring_count; r++) {
            size_t before = judge->ring_start[r + 1] - 1;
            for (size_t i = judge->ring_start[r]; i < judge->ring_start[r + 1];
                 before = i++)
                try_segment(judge, judge->points[v],
                            foot_on(judge->points[v], judge->points[before],
                                    judge->points[i]),
                            &lines);
        }
    GEOSGeometry *cuts = GEOSGeom_createCollection_r(
        judge->geos, GEOS_MULTILINESTRING, lines.items, (unsigned)lines.count);
    GEOSGeometry *thin = GEOSBuffer_r(judge->geos, cuts, 1e-5, 1);
    GEOSGeometry *faces = GEOSDifference_r(judge->geos, judge->ground, thin);
    GEOSGeom_destroy_r(judge->geos, cuts);
    GEOSGeom_destroy_r(judge->geos, thin);
    free(lines.items);
    return faces;
}

/* Which pieces of the ground taken in lie in faces that are great enough? As
 * points in them. */
static size_t points_that_count(const struct judge *judge,
                                const GEOSGeometry *inner, GEOSGeometry **out,
                                size_t room, bool *near)
{
    const double least_m2 = FW_NECK_LEAST_SHARE * judge->m2;
    GEOSGeometry *faces = apart(judge);
    const int face_count = GEOSGetNumGeometries_r(judge->geos, faces);
    size_t count = 0;
    for (int i = 0; i < pieces_of(judge, inner); i++) {
        GEOSGeometry *at = GEOSPointOnSurface_r(
            judge->geos, GEOSGetGeometryN_r(judge->geos, inner, i));
        double face_m2 = 0;
        for (int k = 0; k < face_count; k++) {
            const GEOSGeometry *face =
                GEOSGetGeometryN_r(judge->geos, faces, k);
            if (GEOSContains_r(judge->geos, face, at) == 1)
                face_m2 = geos_area(judge->geos, face);
        }
        *near = *near || fabs(face_m2 / least_m2 - 1) < 1e-3;
        if (face_m2 >= least_m2 && count < room)
            out[count++] = at;
        else
            GEOSGeom_destroy_r(judge->geos, at);
    }
    GEOSGeom_destroy_r(judge->geos, faces);
    return count;
}

/* Do all these points lie in one piece? */
static bool are_together(const struct judge *judge, double width_m,
                         GEOSGeometry **points, size_t count)
{
    GEOSGeometry *inner = taken_in(judge, width_m, very_fine);
    bool together = false;
    for (int i = 0; i < pieces_of(judge, inner); i++) {
        const GEOSGeometry *piece = GEOSGetGeometryN_r(judge->geos, inner, i);
        size_t in = 0;
        for (size_t k = 0; k < count; k++)
            in += GEOSContains_r(judge->geos, piece, points[k]) == 1;
        together = together || in == count;
    }
    GEOSGeom_destroy_r(judge->geos, inner);
    return together;
}

/* ---- against fw_ways_neck ---- */

static bool is_near_threshold(const struct judge *judge)
{
    const int at = piece_count(judge, judge->wide_m);
    return piece_count(judge, 0.99 * judge->wide_m) != at ||
           piece_count(judge, 1.01 * judge->wide_m) != at;
}

static void assert_width(const struct judge *judge, const struct fw_neck *neck,
                         GEOSGeometry **points, size_t count, const char *what)
{
    /* The chords of the arcs are within 4e-6 of their radius. */
    if (neck->width_m > 1e-3 &&
        !are_together(judge, neck->width_m * (1 - 1e-6), points, count))
        fail_msg("%s: a neck of %.9g m; it is narrower", what, neck->width_m);
    if (are_together(judge, neck->width_m * (1 + 1e-5) + 1e-6, points, count))
        fail_msg("%s: a neck of %.9g m; it is wider", what, neck->width_m);
    const double apart_m =
        hypot(neck->a.x_m - neck->b.x_m, neck->a.y_m - neck->b.y_m);
    assert_near(apart_m, neck->width_m, 1e-8);
    assert_true(neck->beyond_m2 >=
                FW_NECK_LEAST_SHARE * judge->m2 * (1 - 1e-9));
    assert_true(neck->beyond_m2 <= 0.5 * judge->m2 * (1 + 1e-9));
}

static void compare(const struct judge *judge, const struct fw_neck *neck,
                    const GEOSGeometry *inner, GEOSGeometry **parts,
                    size_t count, const char *what)
{
    if (neck->fits != (pieces_of(judge, inner) > 0))
        fail_msg("%s: %g m fits: %d", what, judge->wide_m, neck->fits);
    if (neck->found != (count > 1))
        fail_msg("%s: %zu parts of %d at %g m, neck %d of %g m at %.3f, %.3f",
                 what, count, pieces_of(judge, inner), judge->wide_m,
                 neck->found, neck->width_m, neck->a.x_m, neck->a.y_m);
    if (neck->found)
        assert_width(judge, neck, parts, count, what);
}

static void judge_ground(struct judge *judge, const char *what,
                         struct tally *tally)
{
    enum { most_parts = 64 };
    GEOSGeometry *parts[most_parts];
    struct fw_neck neck;
    struct fw_error err;
    if (fw_ways_neck(judge->points, judge->ring_start, judge->ring_count,
                     judge->wide_m, &neck, &err))
        fail_msg("%s: %s", what, err.text);
    bool near = is_near_threshold(judge);
    GEOSGeometry *inner = taken_in(judge, judge->wide_m, fine);
    const size_t count =
        points_that_count(judge, inner, parts, most_parts, &near);
    if (!near)
        compare(judge, &neck, inner, parts, count, what);
    for (size_t i = 0; i < count; i++)
        GEOSGeom_destroy_r(judge->geos, parts[i]);
    GEOSGeom_destroy_r(judge->geos, inner);
    tally->judged += !near;
    tally->near += near;
    tally->found += !near && neck.found;
    tally->fits += !near && neck.fits;
}

static void print_tally(const struct tally *tally)
{
    print_message("# %zu judged, %zu have a neck, in %zu the width fits; %zu "
                  "too near to tell\n",
                  tally->judged, tally->found, tally->fits, tally->near);
}

/* ---- random ground ---- */

static void judge_plot(GEOSContextHandle_t geos, const struct plot *plot,
                       double wide_m, const char *what, struct tally *tally)
{
    struct fw_point points[most_points];
    struct judge judge;
    points_of(&plot->field, points);
    start_judge(&judge, geos, points, plot->field.ring_start,
                plot->field.ring_count, wide_m);
    judge_ground(&judge, what, tally);
    end_judge(&judge);
}

static void necks_of_random_ground_are_those_of_geos(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(31);
    struct tally tally = {0};
    for (size_t i = 0; i < rounds(400); i++) {
        struct plot plot;
        char what[32];
        snprintf(what, sizeof what, "round %zu", i);
        if (i % 2)
            draw_plot(geos, &plot, &seed);
        else
            draw_jagged(geos, &plot, &seed);
        plot.field.vertices = plot.vertices;
        plot.field.ring_start = plot.ring_start;
        judge_plot(geos, &plot, draw(&seed, 1, i % 2 ? 80 : 20), what, &tally);
    }
    print_tally(&tally);
    assert_true(tally.found > tally.judged / 20);
    GEOS_finish_r(geos);
}

/* ---- boxes on a grid ---- */

/* The greatest piece of boxes laid over each other on a grid of a metre, then
 * turned: sides in line, ways of equal width, corners that touch. */
static GEOSGeometry *boxes(GEOSContextHandle_t geos, uint64_t *seed)
{
    GEOSGeometry *all = GEOSGeom_createEmptyPolygon_r(geos);
    for (size_t i = draw_count(seed, 3, 14); i > 0; i--) {
        const double x = floor(draw(seed, 0, 30)), y = floor(draw(seed, 0, 30));
        const double a = floor(draw(seed, 1, 16)), b = floor(draw(seed, 1, 16));
        const struct fw_point ring[] = {
            {x, y}, {x + a, y}, {x + a, y + b}, {x, y + b}};
        const size_t start[] = {0, 4};
        GEOSGeometry *box = geos_polygon(geos, ring, start, 1);
        GEOSGeometry *more = GEOSUnion_r(geos, all, box);
        GEOSGeom_destroy_r(geos, box);
        GEOSGeom_destroy_r(geos, all);
        all = more;
    }
    const GEOSGeometry *best = all;
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, all); i++) {
        const GEOSGeometry *piece = GEOSGetGeometryN_r(geos, all, i);
        if (best == all || geos_area(geos, piece) > geos_area(geos, best))
            best = piece;
    }
    GEOSGeometry *out = GEOSGeom_clone_r(geos, best);
    GEOSGeom_destroy_r(geos, all);
    return out;
}

static void take_ring(GEOSContextHandle_t geos, const GEOSGeometry *ring,
                      double deg, struct plot *plot)
{
    struct fw_point points[most_points];
    const GEOSCoordSequence *line = GEOSGeom_getCoordSeq_r(geos, ring);
    const int count = GEOSGeomGetNumPoints_r(geos, ring) - 1;
    for (int i = 0; i < count; i++) {
        GEOSCoordSeq_getXY_r(geos, line, (unsigned)i, &points[i].x_m,
                             &points[i].y_m);
        points[i] = turned(points[i], deg);
    }
    add_ring(plot, points, (size_t)count);
}

static void necks_between_boxes_are_those_of_geos(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(77);
    struct tally tally = {0};
    for (size_t i = 0; i < rounds(400); i++) {
        char what[32];
        struct plot plot = {.ring_start = {0}};
        GEOSGeometry *ground = boxes(geos, &seed);
        const double deg = i % 2 ? draw(&seed, 0, 360) : 0;
        const int holes = GEOSGetNumInteriorRings_r(geos, ground);
        take_ring(geos, GEOSGetExteriorRing_r(geos, ground), deg, &plot);
        for (int k = 0; k < holes && k + 1 < most_rings; k++)
            take_ring(geos, GEOSGetInteriorRingN_r(geos, ground, k), deg,
                      &plot);
        GEOSGeom_destroy_r(geos, ground);
        snprintf(what, sizeof what, "round %zu", i);
        judge_plot(geos, &plot, 1.5 + (double)(i % 4), what, &tally);
    }
    print_tally(&tally);
    assert_true(tally.found > tally.judged / 20);
    GEOS_finish_r(geos);
}

/* ---- real ground ---- */

static void judge_field(struct judge *judge, GEOSContextHandle_t geos,
                        const struct fw_field *field, const char *what,
                        double wide_m, struct tally *tally)
{
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    points_of(field, points);
    start_judge(judge, geos, points, field->ring_start, field->ring_count,
                wide_m);
    judge_ground(judge, what, tally);
    end_judge(judge);
    free(points);
}

static const double wide_m[] = {3, 12, 40};

static void necks_of_fields_of_our_own_are_those_of_geos(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    struct judge judge;
    uint64_t seed = seeded(31);
    for (size_t map = 0; map < own_maps; map++) {
        struct real_fields own = own_fields(map, &seed);
        for (size_t i = 0; i < own.count; i++)
            for (size_t k = 0; k < COUNT(wide_m); k++) {
                char what[64];
                snprintf(what, sizeof what, "%s %lld", own_map(map),
                         own.fids[i]);
                judge_field(&judge, geos, own.fields[i], what, wide_m[k],
                            &tally);
            }
        release_fields(&own);
    }
    print_tally(&tally);
    assert_true(tally.judged > 120 && tally.found > 20);
    GEOS_finish_r(geos);
}

static void necks_of_real_fields_are_those_of_geos(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    struct judge judge;
    for (size_t map = 0; map < COUNT(chosen_maps); map++) {
        struct real_fields real = read_chosen(data, map);
        for (size_t i = 0; i < real.count; i++) {
            char what[64];
            snprintf(what, sizeof what, "map %zu, field %lld", map,
                     real.fids[i]);
            judge_field(&judge, geos, real.fields[i], what, wide_m[i % 3],
                        &tally);
        }
        release_fields(&real);
    }
    print_tally(&tally);
    assert_true(tally.judged > 250);
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(necks_of_random_ground_are_those_of_geos),
        cmocka_unit_test(necks_between_boxes_are_those_of_geos),
        cmocka_unit_test(necks_of_fields_of_our_own_are_those_of_geos),
        data_test(necks_of_real_fields_are_those_of_geos),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
