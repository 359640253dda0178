/* A field drawn to scale: where its ground, its lines, its signs and its words
 * come to lie on the page, against the ground and against GEOS. */
#include "plan_help.h"

#include "figures/say.h"
#include "paper/paper.h"
#include "sheet/drawing.h"

#include <math.h>
#include <string.h>

/* A page of which a part is the drawing's frame, of the pond's farm. */
struct drawn {
    struct fw_farm *farm;
    struct fw_plan *plan;
    struct fw_paper *paper;
    struct fw_drawing drawing;
};

static void draw_outline(struct drawn *drawn, const struct outline *outline,
                         double share)
{
    struct fw_error err = {0};
    struct fw_extent extent = {0};
    drawn->farm = farm_of(outline, NULL);
    drawn->plan = plan_of(drawn->farm);
    if (fw_paper_new("Drawn", &drawn->paper, &err))
        fail_msg("%s", err.text);
    drawn->drawing =
        (struct fw_drawing){.paper = drawn->paper,
                            .page = fw_paper_page(drawn->paper, 600, 700, 0),
                            .plan = drawn->plan,
                            .field = 0,
                            .at = {40, 60},
                            .size = {500, 420}};
    fw_extent_add_rings(&extent, &drawn->plan->fields[0],
                        &drawn->plan->fields[0].rings);
    extent.x1 = extent.x0 + share * (extent.x1 - extent.x0);
    extent.y1 = extent.y0 + share * (extent.y1 - extent.y0);
    fw_drawing_fit(&drawn->drawing, &extent, 30);
}

static void draw_field(struct drawn *drawn, double share)
{
    draw_outline(drawn, &pond, share);
}

static void free_drawn(struct drawn *drawn)
{
    fw_drawing_release(&drawn->drawing);
    fw_paper_free(drawn->paper);
    fw_plan_free(drawn->plan);
    fw_farm_free(drawn->farm);
}

static const struct fw_paper_mark *mark(const struct drawn *drawn, size_t i)
{
    assert_true(i < drawn->drawing.page->count);
    return &drawn->drawing.page->marks[i];
}

/* ---- scale ---- */

/* North is up, a metre as long either way, the middle of the ground in the
 * middle of the frame; the greatest round scale that leaves the edge. */
static void ground_is_to_scale_in_its_frame(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_drawing *drawing = &drawn.drawing;
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    const double pt_m = 72 / 0.0254 / drawing->scale;
    double low_x = HUGE_VAL, high_x = -HUGE_VAL, low_y = HUGE_VAL,
           high_y = -HUGE_VAL;
    for (size_t i = 0; i < field->rings.ring_start[1]; i++) {
        const struct fw_point p =
            field->vertices[field->rings.vertices[i]].plane;
        const struct fw_xy at = fw_drawing_at(drawing, p);
        const struct fw_xy east =
            fw_drawing_at(drawing, (struct fw_point){p.x_m + 30, p.y_m});
        const struct fw_xy north =
            fw_drawing_at(drawing, (struct fw_point){p.x_m, p.y_m + 30});
        assert_near(east.x - at.x, 30 * pt_m, 1e-9);
        assert_near(east.y, at.y, 1e-9);
        assert_near(at.y - north.y, 30 * pt_m, 1e-9);
        assert_near(north.x, at.x, 1e-9);
        low_x = fmin(low_x, at.x);
        high_x = fmax(high_x, at.x);
        low_y = fmin(low_y, at.y);
        high_y = fmax(high_y, at.y);
    }
    assert_near((low_x + high_x) / 2, 40 + 250, 1e-9);
    assert_near((low_y + high_y) / 2, 60 + 210, 1e-9);
    const double free_pt = fmin(440 - (high_x - low_x), 360 - (high_y - low_y));
    assert_true(free_pt >= 0);
    assert_true((high_x - low_x) * 1.51 > 440 || (high_y - low_y) * 1.51 > 360);
    free_drawn(&drawn);
}

static void a_place_is_shown_within_its_frame(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    static const double x[] = {46, 290, 534}, y[] = {66, 270, 474};
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            const double out_x = i - 1, out_y = k - 1;
            assert_true(
                fw_drawing_shows(&drawn.drawing, (struct fw_xy){x[i], y[k]}));
            if (i != 1)
                assert_false(fw_drawing_shows(
                    &drawn.drawing, (struct fw_xy){x[i] + 0.01 * out_x, y[k]}));
            if (k != 1)
                assert_false(fw_drawing_shows(
                    &drawn.drawing, (struct fw_xy){x[i], y[k] + 0.01 * out_y}));
        }
    free_drawn(&drawn);
}

static void an_extent_holds_all_that_was_added(void **state)
{
    (void)state;
    struct fw_extent extent = {0};
    const struct fw_point points[] = {{-5, 7}, {3, 2}, {1, 9}, {-8, 4}};
    for (size_t i = 0; i < 4; i++)
        fw_extent_add(&extent, points[i]);
    assert_true(extent.any);
    assert_near(extent.x0, -8, 0);
    assert_near(extent.x1, 3, 0);
    assert_near(extent.y0, 2, 0);
    assert_near(extent.y1, 9, 0);
    struct drawn drawn;
    draw_field(&drawn, 1);
    for (size_t f = 0; f < drawn.plan->fence_count; f++) {
        const struct fw_plan_fence *fence = &drawn.plan->fences[f];
        double least = HUGE_VAL, most = -HUGE_VAL;
        extent = (struct fw_extent){0};
        fw_extent_add_fence(&extent, drawn.plan, f);
        for (size_t i = 0; i < fence->line_count; i++) {
            const double at =
                drawn.plan->fields[0].vertices[fence->line[i]].plane.x_m;
            least = fmin(least, at);
            most = fmax(most, at);
        }
        assert_near(extent.x0, least, 0);
        assert_near(extent.x1, most, 0);
    }
    free_drawn(&drawn);
}

/* ---- what lies within ---- */

static GEOSGeometry *geometry(GEOSContextHandle_t geos,
                              const struct fw_xy *points, size_t count,
                              bool ring)
{
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)(count + ring), 2);
    for (size_t i = 0; i < count + ring; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, points[i % count].x,
                             points[i % count].y);
    return ring ? GEOSGeom_createPolygon_r(
                      geos, GEOSGeom_createLinearRing_r(geos, line), NULL, 0)
                : GEOSGeom_createLineString_r(geos, line);
}

static GEOSGeometry *frame_of(GEOSContextHandle_t geos)
{
    return geometry(
        geos, (struct fw_xy[]){{40, 60}, {540, 60}, {540, 480}, {40, 480}}, 4,
        true);
}

static uint64_t seed = 20270601;

static double drawn_up_to(double most)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return most * (double)(seed >> 33) / 2147483648.0;
}

static void lines_are_cut_at_the_frame(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *frame = frame_of(geos);
    struct drawn drawn;
    draw_field(&drawn, 1);
    int cut = 0, parts = 0;
    for (int i = 0; i < 400; i++) {
        struct fw_xy line[7];
        const size_t count = 2 + (size_t)i % 6;
        for (size_t k = 0; k < count; k++)
            line[k] = (struct fw_xy){drawn_up_to(600), drawn_up_to(600)};
        if (i % 7 == 0) /* up and down, and along the page */
            line[1].x = line[0].x;
        if (i % 7 == 1)
            line[1].y = line[0].y;
        for (size_t k = 1; i % 3 == 2 && k < count; k++)
            line[k].x = line[k - 1].x + 1 + drawn_up_to(120); /* no crossing */
        const size_t before = drawn.drawing.page->count;
        fw_drawing_line(&drawn.drawing, FW_PEN_PLAIN, line, count);
        GEOSGeometry *whole = geometry(geos, line, count, false);
        GEOSGeometry *wanted = GEOSIntersection_r(geos, whole, frame);
        double wanted_pt = 0, drawn_pt = 0, whole_pt = 0;
        GEOSLength_r(geos, wanted, &wanted_pt);
        GEOSLength_r(geos, whole, &whole_pt);
        for (size_t m = before; m < drawn.drawing.page->count; m++) {
            const struct fw_paper_mark *of = mark(&drawn, m);
            assert_int_equal(of->kind, FW_PAPER_LINE);
            assert_int_equal(of->pen, FW_PEN_PLAIN);
            for (size_t k = 0; k < of->count; k++) {
                assert_true(of->points[k].x > 40 - 1e-9 &&
                            of->points[k].x < 540 + 1e-9);
                assert_true(of->points[k].y > 60 - 1e-9 &&
                            of->points[k].y < 480 + 1e-9);
                if (k)
                    drawn_pt += hypot(of->points[k].x - of->points[k - 1].x,
                                      of->points[k].y - of->points[k - 1].y);
            }
        }
        assert_near(drawn_pt, wanted_pt, 1e-6);
        /* What goes on within is one line, for its dashes. */
        if (i % 3 == 2)
            assert_int_equal(
                drawn.drawing.page->count - before,
                wanted_pt > 0 ? GEOSGetNumGeometries_r(geos, wanted) : 0);
        cut += wanted_pt < whole_pt - 1e-6 && wanted_pt > 0;
        parts += drawn.drawing.page->count - before > 1;
        GEOSGeom_destroy_r(geos, wanted);
        GEOSGeom_destroy_r(geos, whole);
    }
    assert_true(cut > 100 && parts > 50);
    free_drawn(&drawn);
    GEOSGeom_destroy_r(geos, frame);
    GEOS_finish_r(geos);
}

/* Stars, so that no ring crosses itself. */
static void ground_is_cut_at_the_frame(void **state)
{
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *frame = frame_of(geos);
    struct drawn drawn;
    draw_field(&drawn, 1);
    int cut = 0, none = 0;
    for (int i = 0; i < 300; i++) {
        enum { most = 12 };
        struct fw_xy ring[6 * most + 16], room[6 * most + 16];
        const size_t count = 3 + (size_t)i % (most - 2);
        const struct fw_xy middle = {drawn_up_to(620), drawn_up_to(560)};
        for (size_t k = 0; k < count; k++) {
            const double angle = 2 * acos(-1.0) * (double)k / (double)count;
            const double away = 20 + drawn_up_to(180);
            ring[k] = (struct fw_xy){middle.x + away * cos(angle),
                                     middle.y + away * sin(angle)};
        }
        GEOSGeometry *whole = geometry(geos, ring, count, true);
        GEOSGeometry *wanted = GEOSIntersection_r(geos, whole, frame);
        double whole_pt2 = 0, wanted_pt2 = 0, got_pt2 = 0;
        GEOSArea_r(geos, whole, &whole_pt2);
        GEOSArea_r(geos, wanted, &wanted_pt2);
        const size_t kept =
            fw_drawing_clip_ring(&drawn.drawing, ring, count, room);
        for (size_t k = 0; k < kept; k++) {
            const struct fw_xy a = ring[k], b = ring[(k + 1) % kept];
            got_pt2 += (a.x * b.y - b.x * a.y) / 2;
            assert_true(a.x > 40 - 1e-9 && a.x < 540 + 1e-9);
            assert_true(a.y > 60 - 1e-9 && a.y < 480 + 1e-9);
        }
        assert_near(fabs(got_pt2), wanted_pt2, 1e-6 * (1 + whole_pt2));
        cut += wanted_pt2 > 0 && wanted_pt2 < whole_pt2 - 1e-6;
        none += kept == 0;
        GEOSGeom_destroy_r(geos, wanted);
        GEOSGeom_destroy_r(geos, whole);
    }
    assert_true(cut > 80 && none > 5);
    free_drawn(&drawn);
    GEOSGeom_destroy_r(geos, frame);
    GEOS_finish_r(geos);
}

/* ---- grid, frame, ponds ---- */

static void crosses_stand_so_many_metres_apart(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_xy zero =
        fw_drawing_at(&drawn.drawing, (struct fw_point){0, 0});
    const double step = fw_scale_points(drawn.drawing.scale, 50);
    fw_drawing_grid(&drawn.drawing, 50);
    size_t wanted = 0, lines = 0;
    for (int i = -100; i <= 100; i++)
        for (int k = -100; k <= 100; k++)
            wanted += fw_drawing_shows(
                &drawn.drawing,
                (struct fw_xy){zero.x + i * step, zero.y + k * step});
    for (size_t m = 0; m < drawn.drawing.page->count; m += 2) {
        const struct fw_paper_mark *flat = mark(&drawn, m);
        const struct fw_paper_mark *up = mark(&drawn, m + 1);
        const struct fw_xy at = {(flat->points[0].x + flat->points[1].x) / 2,
                                 flat->points[0].y};
        assert_near(flat->points[1].x - flat->points[0].x, 5, 1e-9);
        assert_near(flat->points[1].y, at.y, 1e-9);
        assert_near(up->points[0].x, at.x, 1e-9);
        assert_near(up->points[1].x, at.x, 1e-9);
        assert_near((up->points[0].y + up->points[1].y) / 2, at.y, 1e-9);
        assert_near(up->points[1].y - up->points[0].y, 5, 1e-9);
        assert_near(remainder(at.x - zero.x, step), 0, 1e-6);
        assert_near(remainder(at.y - zero.y, step), 0, 1e-6);
        lines += flat->pen == FW_PEN_HAIR && up->pen == FW_PEN_HAIR;
    }
    assert_int_equal(lines, wanted);
    assert_true(wanted > 20);
    free_drawn(&drawn);
}

static void ground_and_ponds_have_their_area(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    const double pt_m = 72 / 0.0254 / drawn.drawing.scale;
    fw_drawing_rings(&drawn.drawing, &field->rings, FW_PEN_SHADED);
    fw_drawing_holes(&drawn.drawing);
    fw_drawing_frame(&drawn.drawing);
    assert_int_equal(drawn.drawing.page->count, 3);
    const struct fw_paper_mark *all = mark(&drawn, 0), *hole = mark(&drawn, 1);
    assert_int_equal(all->pen, FW_PEN_SHADED);
    assert_int_equal(hole->pen, FW_PEN_HATCHED);
    assert_int_equal(all->count, 2);
    assert_int_equal(hole->count, 1);
    double areas[3] = {0, 0, 0};
    const struct fw_paper_mark *const marks[] = {all, all, hole};
    for (size_t i = 0; i < 3; i++) {
        const size_t ring = i == 1;
        const size_t first = marks[i]->ring_start[ring];
        const size_t count = marks[i]->ring_start[ring + 1] - first;
        for (size_t k = 0; k < count; k++) {
            const struct fw_xy a = marks[i]->points[first + k];
            const struct fw_xy b = marks[i]->points[first + (k + 1) % count];
            areas[i] += (a.x * b.y - b.x * a.y) / 2 / pt_m / pt_m;
        }
    }
    /* The outline by hand, and a pond of 8 m by 8 m. */
    const double(*xy)[2] = pond.xy;
    double outline = 0;
    for (size_t i = 0; i < 4; i++)
        outline +=
            (xy[i][0] * xy[(i + 1) % 4][1] - xy[(i + 1) % 4][0] * xy[i][1]) / 2;
    assert_relative(fabs(areas[0]), outline, 1e-4);
    assert_relative(fabs(areas[1]), 64, 1e-3);
    assert_relative(fabs(areas[2]), 64, 1e-3);
    const struct fw_paper_mark *frame = mark(&drawn, 2);
    static const struct fw_xy corners[] = {
        {40, 60}, {540, 60}, {540, 480}, {40, 480}, {40, 60}};
    assert_int_equal(frame->count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_near(frame->points[i].x, corners[i].x, 0);
        assert_near(frame->points[i].y, corners[i].y, 0);
    }
    free_drawn(&drawn);
}

static void each_fence_lies_where_it_stands(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    static const enum fw_pen pens[] = {[FW_FENCE_PERIMETER] = FW_PEN_HEAVY,
                                       [FW_FENCE_STANDING] = FW_PEN_LONG,
                                       [FW_FENCE_LANE] = FW_PEN_DOTTED,
                                       [FW_FENCE_MOVED] = FW_PEN_DASHED};
    for (int role = FW_FENCE_PERIMETER; role <= FW_FENCE_MOVED; role++)
        assert_int_equal(fw_drawing_pen((enum fw_fence_role)role), pens[role]);
    for (size_t f = 0; f < drawn.plan->fence_count; f++) {
        const struct fw_plan_fence *fence = &drawn.plan->fences[f];
        const size_t before = drawn.drawing.page->count;
        fw_drawing_fence(&drawn.drawing, f, FW_PEN_BOLD);
        assert_int_equal(drawn.drawing.page->count, before + 1);
        const struct fw_paper_mark *line = mark(&drawn, before);
        assert_int_equal(line->count, fence->line_count);
        for (size_t i = 0; i < line->count; i++) {
            const struct fw_xy at = fw_drawing_at(
                &drawn.drawing,
                drawn.plan->fields[0].vertices[fence->line[i]].plane);
            assert_near(line->points[i].x, at.x, 1e-9);
            assert_near(line->points[i].y, at.y, 1e-9);
        }
        /* Words that can, keep off it: a box two points wide on each piece. */
        const struct fw_labels *lines = &drawn.drawing.lines;
        assert_true(lines->count >= fence->line_count - 1);
        for (size_t i = 0; i + 1 < line->count; i++) {
            const struct fw_box *box =
                &lines->boxes[lines->count - (line->count - 1) + i];
            const struct fw_xy a = line->points[i], b = line->points[i + 1];
            assert_near(box->x, (a.x + b.x) / 2, 1e-9);
            assert_near(box->y, (a.y + b.y) / 2, 1e-9);
            assert_near(box->wide, hypot(b.x - a.x, b.y - a.y), 1e-9);
            assert_near(box->high, 2, 0);
            const double turn = box->turn_deg * acos(-1.0) / 180;
            assert_near((b.x - a.x) * sin(turn), (b.y - a.y) * cos(turn), 1e-6);
        }
    }
    free_drawn(&drawn);
}

/* ---- signs ---- */

/* As far as a mark goes from a place, to each side. */
static void reach_of(const struct fw_paper_mark *of, struct fw_xy at,
                     double reach[4])
{
    for (int i = 0; i < 4; i++)
        reach[i] = -HUGE_VAL;
    const size_t count =
        of->kind == FW_PAPER_AREA ? of->ring_start[of->count] : of->count;
    for (size_t i = 0; i < count; i++) {
        reach[0] = fmax(reach[0], at.x - of->points[i].x);
        reach[1] = fmax(reach[1], of->points[i].x - at.x);
        reach[2] = fmax(reach[2], at.y - of->points[i].y);
        reach[3] = fmax(reach[3], of->points[i].y - at.y);
    }
}

static double area_of_mark(const struct fw_paper_mark *of)
{
    double sum = 0;
    const size_t count = of->ring_start[1];
    for (size_t i = 0; i < count; i++) {
        const struct fw_xy a = of->points[i], b = of->points[(i + 1) % count];
        sum += (a.x * b.y - b.x * a.y) / 2;
    }
    return fabs(sum);
}

/* A square of 8 points, crossed or not; a drop that is as wide on either side,
 * pointed above; a flash that is high and thin. */
static void signs_are_known_by_their_shape(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    static const struct {
        enum fw_sign sign;
        size_t marks;
        enum fw_pen pen;
        double left, right, up, down, area;
    } rows[] = {
        {FW_SIGN_GATE, 3, FW_PEN_WHITE, 4, 4, 4, 4, 64},
        {FW_SIGN_WATER, 1, FW_PEN_SOLID, 3.2, 3.2, 6, 4, 44.4},
        {FW_SIGN_ENERGIZER, 1, FW_PEN_SOLID, 4, 4, 7, 7, 31.5},
        {FW_SIGN_PARK, 1, FW_PEN_WHITE, 4, 4, 4, 4, 64},
    };
    const struct fw_xy at = {300, 200};
    for (size_t i = 0; i < 4; i++) {
        const size_t before = drawn.drawing.page->count;
        fw_drawing_sign_at(&drawn.drawing, rows[i].sign, at);
        assert_int_equal(drawn.drawing.page->count - before, rows[i].marks);
        const struct fw_paper_mark *of = mark(&drawn, before);
        double reach[4];
        reach_of(of, at, reach);
        assert_int_equal(of->pen, rows[i].pen);
        assert_near(reach[0], rows[i].left, 1e-9);
        assert_near(reach[1], rows[i].right, 1e-9);
        assert_near(reach[2], rows[i].up, 1e-9);
        assert_near(reach[3], rows[i].down, 1e-9);
        assert_near(area_of_mark(of), rows[i].area, 1e-9);
        if (rows[i].sign == FW_SIGN_WATER)
            for (size_t k = 0; k < of->ring_start[1]; k++) {
                bool mirrored = false;
                for (size_t m = 0; m < of->ring_start[1]; m++)
                    mirrored |= fabs(of->points[m].x -
                                     (600 - of->points[k].x)) < 1e-9 &&
                                fabs(of->points[m].y - of->points[k].y) < 1e-9;
                assert_true(mirrored);
            }
        for (size_t k = 1; k < rows[i].marks; k++) { /* from corner to corner */
            const struct fw_paper_mark *bar = mark(&drawn, before + k);
            const double way = k == 1 ? 1 : -1;
            assert_near(bar->points[0].x, 296, 0);
            assert_near(bar->points[1].x, 304, 0);
            assert_near(bar->points[0].y, 200 - 4 * way, 0);
            assert_near(bar->points[1].y, 200 + 4 * way, 0);
        }
    }
    free_drawn(&drawn);
}

/* Each given place of the field has its sign there, and its word beside it; one
 * that is not shown has none. */
static void places_have_their_signs(void **state)
{
    (void)state;
    static const char *const words[] = {"gate", "water", "vehicle",
                                        "energizer"};
    for (int given = 0; given < 16; given++) {
        struct drawn drawn;
        draw_field(&drawn, 1);
        struct fw_plan_field *field = &drawn.plan->fields[0];
        struct fw_plan_place *const places[] = {&field->gate, &field->water,
                                                &field->park,
                                                &drawn.plan->energizer_place};
        for (int i = 0; i < 4; i++) {
            const struct fw_vertex *at = &field->vertices[i];
            *places[i] = (struct fw_plan_place){.given = given >> i & 1,
                                                .lonlat = at->lonlat,
                                                .plane = at->plane};
        }
        fw_drawing_places(&drawn.drawing);
        fw_drawing_names(&drawn.drawing, 4);
        for (int i = 0; i < 4; i++) {
            size_t said = 0;
            for (size_t m = 0; m < drawn.drawing.page->count; m++) {
                const struct fw_paper_mark *of = mark(&drawn, m);
                if (of->kind != FW_PAPER_WORDS || strcmp(of->words, words[i]))
                    continue;
                said++;
                const struct fw_xy at =
                    fw_drawing_at(&drawn.drawing, field->vertices[i].plane);
                double gap = fmax(fabs(of->box.x - at.x) - of->box.wide / 2,
                                  fabs(of->box.y - at.y) - of->box.high / 2);
                assert_true(gap > 4 && gap < 50);
                /* The sign itself lies there. */
                bool found = false;
                for (size_t k = 0; k < drawn.drawing.page->count; k++) {
                    const struct fw_paper_mark *sign = mark(&drawn, k);
                    double reach[4];
                    if (sign->kind != FW_PAPER_AREA)
                        continue;
                    reach_of(sign, at, reach);
                    found |= reach[0] > 0 && reach[0] < 7.1 && reach[1] > 0 &&
                             reach[1] < 7.1 && reach[2] > 0 && reach[2] < 7.1 &&
                             reach[3] > 0 && reach[3] < 7.1;
                }
                assert_true(found);
            }
            assert_int_equal(said, given >> i & 1);
        }
        free_drawn(&drawn);
    }
    struct drawn drawn;
    draw_field(&drawn, 0.3); /* the field goes on beyond the frame */
    const struct fw_point far = drawn.plan->fields[0].vertices[2].plane;
    fw_drawing_sign(&drawn.drawing, FW_SIGN_GATE, far, "gate");
    fw_drawing_danger(&drawn.drawing, far, 3);
    assert_int_equal(drawn.drawing.page->count, 0);
    free_drawn(&drawn);
}

/* All of them at one corner: the first stands there, each of the others beside
 * those before it, near by, and has its own name nearest to it. */
static void places_at_one_corner_stand_beside_each_other(void **state)
{
    (void)state;
    static const double side[] = {12, 12, 12, 14};
    static const char *const words[] = {"gate", "water", "vehicle",
                                        "energizer"};
    struct drawn drawn;
    draw_field(&drawn, 1);
    struct fw_plan_field *field = &drawn.plan->fields[0];
    for (size_t c = 0; c < field->corner_count; c++) {
        const struct fw_vertex *at = &field->vertices[field->corners[c]];
        const struct fw_plan_place place = {
            .given = true, .lonlat = at->lonlat, .plane = at->plane};
        const struct fw_xy told = fw_drawing_at(&drawn.drawing, at->plane);
        field->gate = field->water = field->park = place;
        drawn.plan->energizer_place = place;
        fw_drawing_release(&drawn.drawing);
        drawn.drawing.sign_count = 0;
        const size_t before = drawn.drawing.page->count;
        fw_drawing_places(&drawn.drawing);
        assert_int_equal(drawn.drawing.sign_count, 4);
        assert_near(drawn.drawing.signs[0].at.x, told.x, 1e-9);
        assert_near(drawn.drawing.signs[0].at.y, told.y, 1e-9);
        for (int i = 1; i < 4; i++) {
            const struct fw_xy here = drawn.drawing.signs[i].at;
            assert_true(hypot(here.x - told.x, here.y - told.y) < 28);
            for (int k = 0; k < i; k++) {
                const struct fw_xy other = drawn.drawing.signs[k].at;
                assert_true(
                    fmax(fabs(here.x - other.x), fabs(here.y - other.y)) >=
                    (side[i] + side[k]) / 2 - 1e-9);
            }
        }
        /* No names before they are asked for, and each once. */
        for (size_t m = before; m < drawn.drawing.page->count; m++)
            assert_true(mark(&drawn, m)->kind != FW_PAPER_WORDS);
        fw_drawing_names(&drawn.drawing, 2);
        fw_drawing_names(&drawn.drawing, 4);
        size_t named[4] = {0};
        for (size_t m = before; m < drawn.drawing.page->count; m++) {
            const struct fw_paper_mark *of = mark(&drawn, m);
            for (int i = 0; of->kind == FW_PAPER_WORDS && i < 4; i++) {
                const struct fw_xy here = drawn.drawing.signs[i].at;
                if (strcmp(of->words, words[i]))
                    continue;
                named[i]++;
                assert_true(fmax(fabs(of->box.x - here.x) - of->box.wide / 2,
                                 fabs(of->box.y - here.y) - of->box.high / 2) <
                            side[i] / 2 + 1 + 9);
            }
        }
        assert_true(named[0] == 1 && named[1] == 1);
        assert_true(named[2] <= 1 && named[3] <= 1);
    }
    free_drawn(&drawn);
}

/* One that is in the way by a point goes aside by no more than it must. */
static void a_sign_goes_aside_no_farther_than_it_must(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const double pt_m = 72 / 0.0254 / drawn.drawing.scale;
    const struct fw_point here = drawn.drawing.middle;
    for (int apart = 0; apart < 20; apart++) {
        const struct fw_point there = {here.x_m + apart / pt_m, here.y_m};
        const double told = fw_drawing_at(&drawn.drawing, there).x;
        fw_drawing_release(&drawn.drawing);
        drawn.drawing.sign_count = 0;
        fw_drawing_sign(&drawn.drawing, FW_SIGN_GATE, here, NULL);
        fw_drawing_sign(&drawn.drawing, FW_SIGN_WATER, there, NULL);
        const struct fw_sign_place *signs = drawn.drawing.signs;
        assert_true(fmax(fabs(signs[1].at.x - signs[0].at.x),
                         fabs(signs[1].at.y - signs[0].at.y)) >= 12 - 1e-9);
        assert_true(hypot(signs[1].at.x - told, signs[1].at.y - signs[0].at.y) <
                    fmax(12 - apart, 0) + 3);
        if (apart >= 12)
            assert_near(signs[1].at.x, told, 1e-9);
    }
    const size_t before = drawn.drawing.page->count;
    for (int i = 0; i < 20; i++) /* more than there is room for */
        fw_drawing_sign(&drawn.drawing, FW_SIGN_PARK, here, "vehicle");
    fw_drawing_names(&drawn.drawing, 100);
    assert_true(drawn.drawing.page->count - before <= 16);
    free_drawn(&drawn);
}

static void corners_have_their_numbers_outside(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    GEOSContextHandle_t geos = GEOS_init_r();
    struct fw_xy ring[400];
    const size_t count = field->rings.ring_start[1];
    for (size_t i = 0; i < count; i++)
        ring[i] = fw_drawing_at(
            &drawn.drawing, field->vertices[field->rings.vertices[i]].plane);
    GEOSGeometry *ground = geometry(geos, ring, count, true);
    for (size_t c = 0; c < field->corner_count; c++) {
        const size_t before = drawn.drawing.page->count;
        assert_true(fw_drawing_corner(&drawn.drawing, c, 9));
        assert_int_equal(drawn.drawing.page->count, before + 2);
        const struct fw_paper_mark *disc = mark(&drawn, before);
        const struct fw_paper_mark *words = mark(&drawn, before + 1);
        char number[16];
        snprintf(number, sizeof number, "%zu", fw_plan_corner_number(field, c));
        assert_string_equal(words->words, number);
        const struct fw_xy at = fw_drawing_at(
            &drawn.drawing, field->vertices[field->corners[c]].plane);
        double reach[4];
        reach_of(disc, (struct fw_xy){words->box.x, words->box.y}, reach);
        const double radius = reach[0];
        for (int i = 1; i < 4; i++)
            assert_near(reach[i], radius, 0.1);
        assert_true(radius * 2 > words->box.wide);
        const double away = hypot(words->box.x - at.x, words->box.y - at.y);
        assert_near(away, radius + 3, 1e-6);
        /* Half the corner's angle from either side: straight out. */
        GEOSGeometry *middle =
            GEOSGeom_createPointFromXY_r(geos, words->box.x, words->box.y);
        double off = 0;
        GEOSDistance_r(geos, ground, middle, &off);
        assert_near(off, away, 1e-6); /* the corner is what is nearest */
        GEOSGeom_destroy_r(geos, middle);
        const struct fw_point p = field->vertices[field->corners[c]].plane;
        const size_t n = field->corner_count;
        const struct fw_point q =
            field->vertices[field->corners[(c + 1) % n]].plane;
        const struct fw_point r =
            field->vertices[field->corners[(c + n - 1) % n]].plane;
        const double ux = (words->box.x - at.x) / away;
        const double uy = -(words->box.y - at.y) / away;
        const double to_q = ((q.x_m - p.x_m) * ux + (q.y_m - p.y_m) * uy) /
                            hypot(q.x_m - p.x_m, q.y_m - p.y_m);
        const double to_r = ((r.x_m - p.x_m) * ux + (r.y_m - p.y_m) * uy) /
                            hypot(r.x_m - p.x_m, r.y_m - p.y_m);
        assert_near(to_q, to_r, 1e-6);
    }
    GEOSGeom_destroy_r(geos, ground);
    GEOS_finish_r(geos);
    /* Its place is taken: it goes to a side, and farther, until none is. */
    size_t more = 0;
    const struct fw_xy corner_at =
        fw_drawing_at(&drawn.drawing, field->vertices[field->corners[0]].plane);
    const struct fw_box first = mark(&drawn, 1)->box;
    const double straight = atan2(first.y - corner_at.y, first.x - corner_at.x);
    const double near_pt = hypot(first.y - corner_at.y, first.x - corner_at.x);
    for (;; more++) {
        const size_t before = drawn.drawing.page->count;
        if (!fw_drawing_corner(&drawn.drawing, 0, 9))
            break;
        const struct fw_box *box = &mark(&drawn, before + 1)->box;
        const double turned =
            remainder(atan2(box->y - corner_at.y, box->x - corner_at.x) -
                          straight,
                      2 * acos(-1.0)) *
            180 / acos(-1.0);
        const double away =
            hypot(box->y - corner_at.y, box->x - corner_at.x) - near_pt;
        assert_near(remainder(turned, 35), 0, 1e-6);
        assert_true(fabs(turned) < 71);
        assert_near(remainder(away, 7), 0, 1e-6);
        assert_true(away > -1 && away < 15);
    }
    assert_true(more >= 2 && more < 15);
    free_drawn(&drawn);
}

/* Where something stands straight out, a little to one side of it the number
 * goes 35 degrees to the other. */
static void a_number_goes_aside_of_what_is_in_its_way(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    const double degree = acos(-1.0) / 180;
    for (size_t c = 0; c < 4; c++)
        for (int way = -1; way <= 1; way += 2) {
            const struct fw_xy at = fw_drawing_at(
                &drawn.drawing, field->vertices[field->corners[c]].plane);
            fw_drawing_release(&drawn.drawing);
            assert_true(fw_drawing_corner(&drawn.drawing, c, 9));
            const struct fw_box *first =
                &mark(&drawn, drawn.drawing.page->count - 1)->box;
            const double out = atan2(first->y - at.y, first->x - at.x);
            const double away = hypot(first->y - at.y, first->x - at.x);
            const struct fw_box in_the_way = {
                at.x + away * cos(out - way * 30 * degree),
                at.y + away * sin(out - way * 30 * degree), 0.2, 0.2, 0};
            fw_drawing_release(&drawn.drawing);
            assert_true(fw_labels_take(&drawn.drawing.labels, &in_the_way));
            assert_true(fw_drawing_corner(&drawn.drawing, c, 9));
            const struct fw_box *then =
                &mark(&drawn, drawn.drawing.page->count - 1)->box;
            assert_near(then->x, at.x + away * cos(out + way * 35 * degree),
                        1e-6);
            assert_near(then->y, at.y + away * sin(out + way * 35 * degree),
                        1e-6);
        }
    free_drawn(&drawn);
}

static void dangers_have_their_number(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_point place = drawn.plan->fields[0].vertices[1].plane;
    const struct fw_xy at = fw_drawing_at(&drawn.drawing, place);
    fw_drawing_danger(&drawn.drawing, place, 12);
    assert_int_equal(drawn.drawing.page->count, 2);
    const struct fw_paper_mark *kite = mark(&drawn, 0),
                               *words = mark(&drawn, 1);
    double reach[4];
    reach_of(kite, at, reach);
    for (int i = 0; i < 4; i++)
        assert_near(reach[i], 6, 1e-9);
    assert_near(area_of_mark(kite), 72, 1e-9);
    assert_int_equal(kite->pen, FW_PEN_HATCHED);
    assert_string_equal(words->words, "!12");
    assert_true(words->type.bold);
    assert_near(
        hypot(words->box.x - words->box.wide / 2 - at.x, words->box.y - at.y),
        6, 1e-6);
    free_drawn(&drawn);
}

/* ---- bar and arrow ---- */

static void a_bar_is_as_long_as_it_says(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    for (int i = 0; i < 12; i++) {
        const bool feet = i % 2;
        const double most = 60 + 31 * i, pace = i % 3 ? 0.8 : 0;
        drawn.plan->units = feet ? FW_US : FW_METRIC;
        const size_t before = drawn.drawing.page->count;
        const double wide = fw_drawing_bar(
            &drawn.drawing, (struct fw_xy){70, 500}, most, 9, pace);
        const struct fw_paper_mark *bar = mark(&drawn, before);
        const double pt = bar->points[1].x - bar->points[0].x;
        const double m = pt * 0.0254 / 72 * drawn.drawing.scale;
        const double round = feet ? m / 0.3048 : m;
        const double lead = round / pow(10, floor(log10(round * 1.000001)));
        assert_true(fabs(lead - 1) < 1e-6 || fabs(lead - 2) < 1e-6 ||
                    fabs(lead - 5) < 1e-6);
        assert_true(pt <= most + 1e-6 && pt * 2.5001 > most);
        char words[100], length[FW_SAID];
        fw_say_length(m, drawn.plan->units, length);
        if (pace > 0)
            snprintf(words, sizeof words, "%s, %.0f paces", length,
                     floor(m / pace + 0.5 + 1e-6));
        else
            snprintf(words, sizeof words, "%s", length);
        const struct fw_paper_mark *said = mark(&drawn, before + 3);
        assert_string_equal(said->words, words);
        assert_near(said->box.x - said->box.wide / 2, 70, 1e-6);
        assert_near(said->box.y - said->box.high / 2, 503, 1e-6);
        assert_near(wide, fmax(pt, said->box.wide), 1e-9);
        assert_int_equal(bar->pen, FW_PEN_BAR);
        for (size_t k = 0; k < 2; k++) {
            const struct fw_paper_mark *end = mark(&drawn, before + 1 + k);
            assert_near(end->points[0].x, bar->points[k].x, 0);
            assert_near(end->points[1].x, bar->points[k].x, 0);
            assert_near(end->points[0].y, 497, 0);
            assert_near(end->points[1].y, 503, 0);
        }
    }
    free_drawn(&drawn);
}

static void north_is_up(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_xy at = {300, 500};
    fw_drawing_north(&drawn.drawing, at, 9);
    const struct fw_paper_mark *arrow = mark(&drawn, 0), *n = mark(&drawn, 1);
    double reach[4];
    reach_of(arrow, at, reach);
    assert_near(reach[0], reach[1], 1e-9);
    assert_near(reach[2], 0, 1e-9);
    assert_near(reach[3], 15, 1e-9);
    assert_near(reach[0], 4.5, 1e-9);
    /* less the notch: 9 by 15 halved, less 9 by 4 halved */
    assert_near(area_of_mark(arrow), 67.5 - 18, 1e-9);
    assert_string_equal(n->words, "N");
    assert_near(n->box.x, at.x, 1e-6);
    assert_near(n->box.y - n->box.high / 2, at.y + 15, 1e-6);
    free_drawn(&drawn);
}

/* ---- words ---- */

/* Along the line, upright, that far to its side, and nowhere where the piece is
 * shorter than the words. */
static void words_go_along_their_line(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    int laid = 0, refused = 0;
    for (size_t f = 0; f < drawn.plan->fence_count; f++)
        for (int k = 0; k < 3; k++) {
            const struct fw_plan_fence *fence = &drawn.plan->fences[f];
            const double aside = k == 0 ? 0 : k == 1 ? 6 : -6;
            const size_t before = drawn.drawing.page->count;
            fw_drawing_release(&drawn.drawing);
            const bool done =
                fw_drawing_along(&drawn.drawing, fence->line, fence->line_count,
                                 aside, "A01-02", 7);
            double longest = 0;
            for (size_t i = 0; i + 1 < fence->line_count; i++) {
                const struct fw_vertex *v = drawn.plan->fields[0].vertices;
                const struct fw_point a = v[fence->line[i]].plane;
                const struct fw_point b = v[fence->line[i + 1]].plane;
                longest =
                    fmax(longest,
                         fw_scale_points(drawn.drawing.scale,
                                         hypot(b.x_m - a.x_m, b.y_m - a.y_m)));
            }
            laid += done;
            refused += !done;
            if (!done)
                continue;
            const struct fw_paper_mark *words = mark(&drawn, before);
            const struct fw_box *box = &words->box;
            assert_true(longest > box->wide);
            assert_true(box->turn_deg > -90 && box->turn_deg <= 90);
            assert_int_equal(words->type.behind,
                             k == 0 ? FW_BEHIND_BLANK : FW_BEHIND_HALO);
            double least = HUGE_VAL, turn = 0;
            for (size_t i = 0; i + 1 < fence->line_count; i++) {
                const struct fw_vertex *v = drawn.plan->fields[0].vertices;
                const struct fw_xy a =
                    fw_drawing_at(&drawn.drawing, v[fence->line[i]].plane);
                const struct fw_xy b =
                    fw_drawing_at(&drawn.drawing, v[fence->line[i + 1]].plane);
                const double x = b.x - a.x, y = b.y - a.y;
                const double t =
                    fmin(fmax(((box->x - a.x) * x + (box->y - a.y) * y) /
                                  (x * x + y * y),
                              0),
                         1);
                const double off =
                    hypot(box->x - a.x - t * x, box->y - a.y - t * y);
                if (off < least) {
                    least = off;
                    turn = atan2(y, x);
                    /* the side: y points down */
                    const double side = x * (box->y - a.y) - y * (box->x - a.x);
                    assert_true(k == 0 || side * aside < 0 || off > 7);
                }
            }
            assert_near(least, fabs(aside), 1e-6);
            assert_near(sin(turn - box->turn_deg * acos(-1.0) / 180), 0, 1e-9);
        }
    assert_true(laid > 20 && refused + laid > 30);
    free_drawn(&drawn);
}

/* All of the words in the paddock, in the greatest letters for which there is a
 * place. */
static void name_paddocks(const struct outline *outline, const double *sizes,
                          const char *more, int by_size[3], int *turned,
                          int *middle)
{
    struct drawn drawn;
    draw_outline(&drawn, outline, 1);
    GEOSContextHandle_t geos = GEOS_init_r();
    int named = 0;
    for (size_t p = 0; p < drawn.plan->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &drawn.plan->paddocks[p];
        const size_t before = drawn.drawing.page->count;
        fw_drawing_release(&drawn.drawing);
        char name[60];
        snprintf(name, sizeof name, "%s%s", paddock->id, more);
        if (!fw_drawing_inside(&drawn.drawing, &paddock->rings, name, sizes, 3,
                               1))
            continue;
        named++;
        const struct fw_paper_mark *words = mark(&drawn, before);
        struct fw_xy ring[400], box[4];
        const size_t count = paddock->rings.ring_start[1];
        for (size_t i = 0; i < count; i++)
            ring[i] = fw_drawing_at(&drawn.drawing,
                                    drawn.plan->fields[0]
                                        .vertices[paddock->rings.vertices[i]]
                                        .plane);
        const double turn = words->box.turn_deg * acos(-1.0) / 180;
        for (int i = 0; i < 4; i++) {
            const double x = (i == 1 || i == 2 ? 0.5 : -0.5) * words->box.wide;
            const double y = (i < 2 ? -0.5 : 0.5) * words->box.high;
            box[i] =
                (struct fw_xy){words->box.x + x * cos(turn) - y * sin(turn),
                               words->box.y + x * sin(turn) + y * cos(turn)};
        }
        GEOSGeometry *ground = geometry(geos, ring, count, true);
        GEOSGeometry *lies = geometry(geos, box, 4, true);
        GEOSGeometry *out = GEOSDifference_r(geos, lies, ground);
        double over = 1;
        GEOSArea_r(geos, out, &over);
        assert_near(over, 0, 1e-6);
        GEOSGeom_destroy_r(geos, out);
        GEOSGeom_destroy_r(geos, lies);
        GEOSGeom_destroy_r(geos, ground);
        for (int i = 0; i < 3; i++)
            by_size[i] += words->type.size_pt == sizes[i];
        assert_int_equal(words->type.bold, sizes[0] > 8);
        /* In the very middle, where there is room. */
        double low_x = HUGE_VAL, high_x = -HUGE_VAL, low_y = HUGE_VAL,
               high_y = -HUGE_VAL;
        for (size_t i = 0; i < count; i++) {
            low_x = fmin(low_x, ring[i].x);
            high_x = fmax(high_x, ring[i].x);
            low_y = fmin(low_y, ring[i].y);
            high_y = fmax(high_y, ring[i].y);
        }
        for (int i = 0; i < 4; i++)
            box[i] = (struct fw_xy){
                (low_x + high_x) / 2 +
                    (i == 1 || i == 2 ? 0.5 : -0.5) * words->box.wide,
                (low_y + high_y) / 2 + (i < 2 ? -0.5 : 0.5) * words->box.high};
        lies = geometry(geos, box, 4, true);
        ground = geometry(geos, ring, count, true);
        if (GEOSContains_r(geos, ground, lies)) {
            assert_near(words->box.x, (low_x + high_x) / 2, 1e-6);
            assert_near(words->box.y, (low_y + high_y) / 2, 1e-6);
            assert_near(words->box.turn_deg, 0, 0);
            ++*middle;
        }
        GEOSGeom_destroy_r(geos, lies);
        GEOSGeom_destroy_r(geos, ground);
        /* Along the page, or along its longest side and upright. */
        double longest = 0, along = 0;
        for (size_t i = 0; i < count; i++) {
            const struct fw_xy a = ring[i], b = ring[(i + 1) % count];
            if (hypot(b.x - a.x, b.y - a.y) > longest + 1e-6) {
                longest = hypot(b.x - a.x, b.y - a.y);
                along = atan2(b.y - a.y, b.x - a.x);
            }
        }
        assert_true(words->box.turn_deg > -90 && words->box.turn_deg <= 90);
        if (words->box.turn_deg != 0) {
            assert_near(sin(turn - along), 0, 1e-6);
            ++*turned;
        }
    }
    assert_true(named > 5);
    free_drawn(&drawn);
    GEOS_finish_r(geos);
}

static void names_lie_in_their_paddock(void **state)
{
    (void)state;
    static const double great[] = {30, 22, 5}, small[] = {8, 7, 5};
    int by_size[3] = {0, 0, 0}, turned = 0, middle = 0;
    name_paddocks(&pond, great, "", by_size, &turned, &middle);
    assert_true(by_size[0] > 0 && by_size[1] > 0);
    name_paddocks(&leaning, great, " and more", by_size, &turned, &middle);
    name_paddocks(&leaning, small, " and more", by_size, &turned, &middle);
    name_paddocks(&corner, great, " and more words", by_size, &turned, &middle);
    print_message("# %d turned, %d %d %d by size\n", turned, by_size[0],
                  by_size[1], by_size[2]);
    assert_true(turned > 5 && middle > 20);
}

/* Words beside ground: a line leads from inside it to the edge of their box. */
static void a_line_leads_to_words_beside_the_ground(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_outline(&drawn, &leaning, 1);
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    const struct fw_type type = {.size_pt = 9};
    GEOSContextHandle_t geos = GEOS_init_r();
    for (size_t p = 0; p < drawn.plan->paddock_count; p++) {
        const struct fw_plan_rings *rings = &drawn.plan->paddocks[p].rings;
        const size_t before = drawn.drawing.page->count;
        fw_drawing_release(&drawn.drawing);
        assert_true(fw_drawing_led(&drawn.drawing, rings, "flock", &type));
        assert_int_equal(drawn.drawing.page->count, before + 3);
        const struct fw_box *box = &mark(&drawn, before)->box;
        const struct fw_paper_mark *leader = mark(&drawn, before + 2);
        assert_int_equal(leader->kind, FW_PAPER_LINE);
        struct fw_xy ring[400];
        const size_t count = rings->ring_start[1];
        for (size_t i = 0; i < count; i++)
            ring[i] = fw_drawing_at(&drawn.drawing,
                                    field->vertices[rings->vertices[i]].plane);
        GEOSGeometry *ground = geometry(geos, ring, count, true);
        GEOSGeometry *from = GEOSGeom_createPointFromXY_r(
            geos, leader->points[0].x, leader->points[0].y);
        assert_int_equal(GEOSContains_r(geos, ground, from), 1);
        GEOSGeom_destroy_r(geos, from);
        GEOSGeom_destroy_r(geos, ground);
        const double x = fabs(leader->points[1].x - box->x) - box->wide / 2,
                     y = fabs(leader->points[1].y - box->y) - box->high / 2;
        assert_near(fmax(x, y), 0, 1e-9);
    }
    free_drawn(&drawn);
    GEOS_finish_r(geos);
}

/* In a strip slimmer than the letters are high they lie along its middle, with
 * half their height inside; not when all of it has to be. */
static void words_lie_over_the_lines_of_a_slim_strip(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_outline(&drawn, &leaning, 1);
    const double one[] = {9};
    double wide_pt = HUGE_VAL;
    const struct fw_plan_rings *rings = &drawn.plan->paddocks[3].rings;
    struct fw_xy ring[400];
    const size_t count = rings->ring_start[1];
    GEOSContextHandle_t geos = GEOS_init_r();
    /* Smaller and smaller, until the strip is as wide as three quarters of
     * the words are high. */
    for (int i = 0; i < 200 && wide_pt > 0.75 * 11; i++) {
        drawn.drawing.scale *= 1.05;
        for (size_t k = 0; k < count; k++)
            ring[k] = fw_drawing_at(
                &drawn.drawing,
                drawn.plan->fields[0].vertices[rings->vertices[k]].plane);
        GEOSGeometry *ground = geometry(geos, ring, count, true);
        GEOSGeometry *across = GEOSMinimumWidth_r(geos, ground);
        GEOSLength_r(geos, across, &wide_pt);
        GEOSGeom_destroy_r(geos, across);
        GEOSGeom_destroy_r(geos, ground);
    }
    fw_drawing_release(&drawn.drawing);
    assert_false(fw_drawing_inside(&drawn.drawing, rings, "A", one, 1, 1));
    const size_t before = drawn.drawing.page->count;
    assert_true(fw_drawing_inside(&drawn.drawing, rings, "A", one, 1, 0.5));
    const struct fw_box *box = &mark(&drawn, before)->box;
    GEOSGeometry *ground = geometry(geos, ring, count, true);
    GEOSGeometry *middle = GEOSGeom_createPointFromXY_r(geos, box->x, box->y);
    assert_int_equal(GEOSContains_r(geos, ground, middle), 1);
    GEOSGeom_destroy_r(geos, middle);
    GEOSGeom_destroy_r(geos, ground);
    free_drawn(&drawn);
    GEOS_finish_r(geos);
}

/* Along a bent line: half-way along all of it, pushed back from a bend that it
 * would stick out at; where that piece is too short, at the next share. */
static void words_go_along_the_piece_that_has_their_place(void **state)
{
    (void)state;
    static const double shares[] = {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8};
    struct drawn drawn;
    draw_outline(&drawn, &leaning, 1);
    const struct fw_plan_field *field = &drawn.plan->fields[0];
    int tried = 0;
    for (size_t from = 0; from < field->corner_count; from++)
        for (size_t count = 2; count <= field->corner_count; count++) {
            size_t line[16];
            struct fw_xy at[16];
            double length = 0;
            for (size_t i = 0; i < count; i++) {
                line[i] = field->corners[(from + i) % field->corner_count];
                at[i] = fw_drawing_at(&drawn.drawing,
                                      field->vertices[line[i]].plane);
                if (i)
                    length +=
                        hypot(at[i].x - at[i - 1].x, at[i].y - at[i - 1].y);
            }
            const char *words = count % 2 ? "A01" : "a line with many words";
            fw_drawing_release(&drawn.drawing);
            const size_t before = drawn.drawing.page->count;
            if (!fw_drawing_along(&drawn.drawing, line, count, 0, words, 9))
                continue;
            const struct fw_box *box = &mark(&drawn, before)->box;
            bool found = false;
            for (size_t k = 0; k < 7 && !found; k++) {
                double rest = shares[k] * length;
                size_t i = 0;
                double piece = 0;
                for (;; i++) {
                    piece = hypot(at[i + 1].x - at[i].x, at[i + 1].y - at[i].y);
                    if (rest <= piece || i + 2 == count)
                        break;
                    rest -= piece;
                }
                if (piece <= box->wide)
                    continue;
                const double t =
                    fmin(fmax(rest, box->wide / 2), piece - box->wide / 2) /
                    piece;
                const double x = at[i].x + t * (at[i + 1].x - at[i].x);
                const double y = at[i].y + t * (at[i + 1].y - at[i].y);
                const struct fw_box wanted = {x, y, box->wide, box->high,
                                              box->turn_deg};
                if (!fw_box_within(&wanted, &drawn.drawing.labels.area))
                    continue;
                assert_near(box->x, x, 1e-6);
                assert_near(box->y, y, 1e-6);
                found = true;
            }
            assert_true(found);
            tried++;
        }
    assert_true(tried > 12);
    free_drawn(&drawn);
}

/* Right of the place first, then left, above and below, aslant, and farther; no
 * two on each other. */
static void words_beside_a_place_take_turns(void **state)
{
    (void)state;
    struct drawn drawn;
    draw_field(&drawn, 1);
    const struct fw_xy at = {290, 270};
    const struct fw_type type = {.size_pt = 8};
    static const double sides[][2] = {{1, 0},  {-1, 0},  {0, -1}, {0, 1},
                                      {1, -1}, {-1, -1}, {1, 1},  {-1, 1}};
    for (size_t i = 0; i < 8; i++) {
        assert_true(fw_drawing_beside(&drawn.drawing, at, 6, "gate", &type));
        const struct fw_paper_mark *words = mark(&drawn, i);
        const struct fw_box *box = &words->box;
        const double x = box->x - at.x, y = box->y - at.y;
        if (i < 4) {
            assert_near(x, sides[i][0] * (6 + box->wide / 2), 1e-9);
            assert_near(y, sides[i][1] * (6 + box->high / 2), 1e-9);
        }
        assert_int_equal(words->type.behind, FW_BEHIND_HALO);
        for (size_t k = 0; k < i; k++)
            assert_false(fw_box_overlap(box, &mark(&drawn, k)->box));
    }
    int more = 0;
    while (fw_drawing_beside(&drawn.drawing, at, 6, "gate", &type) && more < 90)
        more++;
    assert_true(more > 3 && more < 90);
    const struct fw_box *last =
        &mark(&drawn, drawn.drawing.page->count - 1)->box;
    assert_true(fabs(last->x - at.x) < 6 + 36 + last->wide &&
                fabs(last->y - at.y) < 6 + 36 + last->high);
    /* Close by there is room for fewer, none of them far. */
    fw_drawing_release(&drawn.drawing);
    int close = 0;
    while (fw_drawing_close_by(&drawn.drawing, at, 6, "gate", &type))
        close++;
    assert_true(close >= 4 && close < more + 8);
    const struct fw_box *far =
        &mark(&drawn, drawn.drawing.page->count - 1)->box;
    assert_true(fmax(fabs(far->x - at.x) - far->wide / 2,
                     fabs(far->y - at.y) - far->high / 2) <= 6 + 9);
    /* Where lines run below it is beside them, if it can be. */
    fw_drawing_release(&drawn.drawing);
    const struct fw_box line = {320, 270, 60, 2, 0};
    assert_true(fw_labels_take(&drawn.drawing.lines, &line));
    const size_t before = drawn.drawing.page->count;
    assert_true(fw_drawing_beside(&drawn.drawing, at, 6, "gate", &type));
    assert_true(mark(&drawn, before)->box.x < at.x);
    free_drawn(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ground_is_to_scale_in_its_frame),
        cmocka_unit_test(a_place_is_shown_within_its_frame),
        cmocka_unit_test(an_extent_holds_all_that_was_added),
        cmocka_unit_test(lines_are_cut_at_the_frame),
        cmocka_unit_test(ground_is_cut_at_the_frame),
        cmocka_unit_test(crosses_stand_so_many_metres_apart),
        cmocka_unit_test(ground_and_ponds_have_their_area),
        cmocka_unit_test(each_fence_lies_where_it_stands),
        cmocka_unit_test(signs_are_known_by_their_shape),
        cmocka_unit_test(places_have_their_signs),
        cmocka_unit_test(places_at_one_corner_stand_beside_each_other),
        cmocka_unit_test(a_sign_goes_aside_no_farther_than_it_must),
        cmocka_unit_test(corners_have_their_numbers_outside),
        cmocka_unit_test(a_number_goes_aside_of_what_is_in_its_way),
        cmocka_unit_test(dangers_have_their_number),
        cmocka_unit_test(a_bar_is_as_long_as_it_says),
        cmocka_unit_test(north_is_up),
        cmocka_unit_test(words_go_along_their_line),
        cmocka_unit_test(names_lie_in_their_paddock),
        cmocka_unit_test(a_line_leads_to_words_beside_the_ground),
        cmocka_unit_test(words_lie_over_the_lines_of_a_slim_strip),
        cmocka_unit_test(words_go_along_the_piece_that_has_their_place),
        cmocka_unit_test(words_beside_a_place_take_turns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
