/* Necks and rooms of random and real ground, with GEOS as the slow judge: the
 * ground taken in by half the width falls into as many pieces as there are
 * parts; taken in by a hair less than half the neck's width it joins them, by a
 * hair more it does not. FW_SEED chooses others, FW_FIELDS how many. */
#include "random_plot.h"

#include "layout_fields.h"

#include <foldwright/ways.h>

enum { fine = 32, very_fine = 400 }; /* segments of a quarter circle */

struct judge {
    GEOSContextHandle_t geos;
    GEOSGeometry *ground, *edge;
    struct fw_point *points;
    const size_t *ring_start;
    size_t ring_count, count;
    double m2, wide_m;
};

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

static void start_judge(struct judge *judge, GEOSContextHandle_t geos,
                        const struct fw_point *points, const size_t *ring_start,
                        size_t ring_count, double wide_m)
{
    *judge = (struct judge){.geos = geos,
                            .ring_start = ring_start,
                            .ring_count = ring_count,
                            .count = ring_start[ring_count],
                            .wide_m = wide_m};
    judge->points = calloc(judge->count, sizeof *judge->points);
    memcpy(judge->points, points, judge->count * sizeof *points);
    judge->ground = geos_polygon(geos, points, ring_start, ring_count);
    judge->edge = GEOSBoundary_r(geos, judge->ground);
    judge->m2 = geos_area(geos, judge->ground);
}

static void end_judge(struct judge *judge)
{
    GEOSGeom_destroy_r(judge->geos, judge->edge);
    GEOSGeom_destroy_r(judge->geos, judge->ground);
    free(judge->points);
}

static size_t rounds(size_t usual)
{
    const char *given = getenv("FW_FIELDS");
    return given ? (size_t)strtoull(given, NULL, 10) : usual;
}

/* ---- random ground ---- */

/* Jagged: radii from a fifth to the whole, so that the arms of the star have
 * ways of every width between them. */
static void draw_jagged(GEOSContextHandle_t geos, struct plot *plot,
                        uint64_t *seed)
{
    bool valid = false;
    while (!valid) {
        struct fw_point points[60];
        const size_t count = draw_count(seed, 5, 60);
        *plot = (struct plot){.ring_start = {0}};
        for (size_t i = 0; i < count; i++) {
            const double angle = 2 * PI * (double)i / (double)count;
            const double r = draw(seed, 20, 100);
            points[i] = (struct fw_point){r * cos(angle), r * sin(angle)};
        }
        add_ring(plot, points, count);
        for (size_t i = draw_count(seed, 0, 3); i > 0; i--)
            add_star(
                plot, seed,
                (struct fw_point){draw(seed, -40, 40), draw(seed, -40, 40)},
                draw(seed, 2, 30), draw_count(seed, 3, 9), true);
        GEOSGeometry *field = geos_field(geos, &plot->field);
        valid = GEOSisValid_r(geos, field) == 1;
        GEOSGeom_destroy_r(geos, field);
    }
}

static void judge_plot(GEOSContextHandle_t geos, const struct plot *plot,
                       double wide_m, const char *what, struct tally *tally)
{
    struct fw_point points[most_points];
    struct judge judge;
    for (size_t i = 0; i < plot->field.vertex_count; i++)
        points[i] = plot->field.vertices[i].plane;
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
    print_message("# %zu judged, %zu have a neck, in %zu the width fits; %zu "
                  "too near to tell\n",
                  tally.judged, tally.found, tally.fits, tally.near);
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
    print_message("# %zu judged, %zu have a neck, in %zu the width fits; %zu "
                  "too near to tell\n",
                  tally.judged, tally.found, tally.fits, tally.near);
    assert_true(tally.found > tally.judged / 20);
    GEOS_finish_r(geos);
}

/* ---- real ground ---- */

static void necks_of_real_fields_are_those_of_geos(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    if (!data) {
        print_message("# FW_TEST_DATA is not set: 300 fields skipped\n");
        skip();
    }
    GEOSContextHandle_t geos = GEOS_init_r();
    struct tally tally = {0};
    for (size_t map = 0; map < COUNT(chosen_maps); map++) {
        struct real_fields real = read_chosen(data, map);
        for (size_t i = 0; i < real.count; i++) {
            const struct fw_field *field = real.fields[i];
            const double wide_m[] = {3, 12, 40};
            struct fw_point *points =
                calloc(field->vertex_count, sizeof *points);
            char what[64];
            snprintf(what, sizeof what, "map %zu, field %lld", map,
                     real.fids[i]);
            for (size_t k = 0; k < field->vertex_count; k++)
                points[k] = field->vertices[k].plane;
            struct judge judge;
            start_judge(&judge, geos, points, field->ring_start,
                        field->ring_count, wide_m[i % 3]);
            judge_ground(&judge, what, &tally);
            end_judge(&judge);
            free(points);
        }
        release_fields(&real);
    }
    print_message("# %zu judged, %zu have a neck, in %zu the width fits; %zu "
                  "too near to tell\n",
                  tally.judged, tally.found, tally.fits, tally.near);
    assert_true(tally.judged > 250);
    GEOS_finish_r(geos);
}

/* ---- rooms ---- */

/* The strip before the opening, from a hand's breadth off it to so deep, less
 * so much at either end. */
static bool strip_is_inside(const struct judge *judge, struct fw_point a,
                            struct fw_point b, double deep_m, double less_m)
{
    const double width_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    const struct fw_point u = {(b.x_m - a.x_m) / width_m,
                               (b.y_m - a.y_m) / width_m};
    const double at[4][2] = {{less_m, 0.02},
                             {width_m - less_m, 0.02},
                             {width_m - less_m, deep_m},
                             {less_m, deep_m}};
    const size_t start[] = {0, 4};
    struct fw_point ring[4];
    for (int i = 0; i < 4; i++)
        ring[i] =
            (struct fw_point){a.x_m + at[i][0] * u.x_m - at[i][1] * u.y_m,
                              a.y_m + at[i][0] * u.y_m + at[i][1] * u.x_m};
    GEOSGeometry *strip = geos_polygon(judge->geos, ring, start, 1);
    const bool inside = GEOSContains_r(judge->geos, judge->ground, strip) == 1;
    GEOSGeom_destroy_r(judge->geos, strip);
    return inside;
}

static void rooms_of_random_ground_are_those_of_geos(void **state)
{
    (void)state;
    const double deep_m = 60;
    GEOSContextHandle_t geos = GEOS_init_r();
    uint64_t seed = seeded(5);
    size_t shallow = 0, judged = 0;
    for (size_t i = 0; i < rounds(1000); i++) {
        struct plot plot;
        struct judge judge;
        struct fw_point points[most_points];
        draw_jagged(geos, &plot, &seed);
        for (size_t k = 0; k < plot.field.vertex_count; k++)
            points[k] = plot.vertices[k].plane;
        start_judge(&judge, geos, points, plot.ring_start,
                    plot.field.ring_count, 1);
        const size_t edge = draw_count(&seed, 0, plot.ring_start[1] - 1);
        const struct fw_point p = points[edge];
        const struct fw_point q =
            points[edge + 1 < plot.ring_start[1] ? edge + 1 : 0];
        const double side_m = hypot(q.x_m - p.x_m, q.y_m - p.y_m);
        if (side_m > 6) {
            /* The ring runs anticlockwise: the ground is on the left. */
            const double from = draw(&seed, 0.1, side_m - 4.1) / side_m;
            const double to = from + 4 / side_m;
            const struct fw_point a = {p.x_m + from * (q.x_m - p.x_m),
                                       p.y_m + from * (q.y_m - p.y_m)};
            const struct fw_point b = {p.x_m + to * (q.x_m - p.x_m),
                                       p.y_m + to * (q.y_m - p.y_m)};
            const double room_m = fw_ways_room_m(a, b, points, plot.ring_start,
                                                 plot.field.ring_count, deep_m);
            if (room_m > 0.03 &&
                !strip_is_inside(&judge, a, b, room_m - 1e-4, 2e-6))
                fail_msg("round %zu: %.9g m of room; there is less", i, room_m);
            if (room_m < deep_m &&
                strip_is_inside(&judge, a, b, fmax(room_m + 1e-4, 0.03), 0))
                fail_msg("round %zu: %.9g m of room; there is more", i, room_m);
            shallow += room_m < deep_m;
            judged++;
        }
        end_judge(&judge);
    }
    print_message("# %zu judged, %zu of them less than %g m deep\n", judged,
                  shallow, deep_m);
    assert_true(shallow > judged / 10);
    GEOS_finish_r(geos);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(necks_of_random_ground_are_those_of_geos),
        cmocka_unit_test(necks_between_boxes_are_those_of_geos),
        cmocka_unit_test(necks_of_real_fields_are_those_of_geos),
        cmocka_unit_test(rooms_of_random_ground_are_those_of_geos),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
