/* The picture of the fields, read back as SVG 1.1 has it: every path, label and
 * mark against the geometry that it stands for. */
#include "comma_locale.h"
#include "fields_by_hand.h"
#include "svg_tags.h"

#include "io/io.h"
#include "picture/picture.h"
#include "report/reports.h"

/* ---- reading ---- */

enum { most_points = 40 };

static char *drawn(const struct fw_farm *farm)
{
    struct fw_error err;
    static char *svg;
    if (fw_report_field_svg(farm, &svg, &err))
        fail_msg("%s", err.text);
    return svg;
}

/* The rings of a path of M, L and Z, one after the other; their ends. */
static size_t rings_of(const char *path, struct fw_xy *points, size_t ends[4])
{
    size_t count = 0, rings = 0;
    const char *at = attribute(path, "d");
    while (*at != '"') {
        char *end = NULL;
        if (*at == 'Z')
            ends[rings++] = count;
        if (*at != 'M' && *at != 'L') {
            assert_non_null(strchr("Z ", *at));
            at++;
            continue;
        }
        /* A ring begins with M, and with nothing else. */
        assert_int_equal(*at == 'M',
                         count == 0 || (rings > 0 && count == ends[rings - 1]));
        assert_true(count < most_points && rings < 4);
        points[count].x = strtod(at + 1, &end);
        points[count++].y = strtod(end, &end);
        at = end;
    }
    return rings;
}

/* ---- where the fields lie on it ---- */

/* As the page is made: the longer way of a field is 640 units, with 70 about
 * it, under a line of 30 for its name. */
struct view {
    double x0, y1, scale, top;
};

static struct view view_of(const struct fw_field *field, double *top)
{
    double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
    for (size_t i = 0; i < field->vertex_count; i++) {
        const struct fw_point p = field->vertices[i].plane;
        x0 = p.x_m < x0 ? p.x_m : x0;
        x1 = p.x_m > x1 ? p.x_m : x1;
        y0 = p.y_m < y0 ? p.y_m : y0;
        y1 = p.y_m > y1 ? p.y_m : y1;
    }
    const double longer = x1 - x0 > y1 - y0 ? x1 - x0 : y1 - y0;
    const struct view view = {x0, y1, 640 / longer, *top};
    *top += 30 + 70 + (y1 - y0) * view.scale + 70;
    return view;
}

static struct fw_xy on_page(const struct view *view, struct fw_point p)
{
    const struct fw_xy at = {70 + (p.x_m - view->x0) * view->scale,
                             view->top + 100 +
                                 (view->y1 - p.y_m) * view->scale};
    return at;
}

static struct fw_point off_page(const struct view *view, double x, double y)
{
    const struct fw_point p = {view->x0 + (x - 70) / view->scale,
                               view->y1 - (y - view->top - 100) / view->scale};
    return p;
}

static void is_at(struct fw_xy got, struct fw_xy wanted)
{
    assert_near(got.x, wanted.x, 0.0501);
    assert_near(got.y, wanted.y, 0.0501);
}

/* ---- tests ---- */

static void paths_are_the_rings_of_the_fields(void **state)
{
    (void)state;
    const struct fw_farm farm = fields_by_hand();
    char *svg = drawn(&farm);
    const char *at = strstr(svg, "<path fill=\"#e8eed9\"");
    double top = 0;
    for (size_t f = 0; f < farm.field_count; f++) {
        const struct fw_field *field = farm.fields[f].shape;
        const struct view view = view_of(field, &top);
        struct fw_xy points[most_points];
        size_t ends[4];
        assert_non_null(at);
        assert_int_equal(rings_of(at, points, ends), field->ring_count);
        for (size_t r = 0; r < field->ring_count; r++)
            assert_int_equal(ends[r], field->ring_start[r + 1]);
        for (size_t i = 0; i < field->vertex_count; i++)
            is_at(points[i], on_page(&view, field->vertices[i].plane));
        /* A pond is no part of it. */
        assert_true(has(at, "fill-rule", "evenodd"));
        at = strstr(at + 1, "<path fill=\"#e8eed9\"");
    }
    assert_null(at);
    fw_bytes_free(svg);
}

static void the_page_holds_what_is_drawn(void **state)
{
    (void)state;
    const struct fw_farm farm = fields_by_hand();
    char *svg = drawn(&farm);
    double top = 0;
    for (size_t f = 0; f < farm.field_count; f++)
        view_of(farm.fields[f].shape, &top);
    char box[80];
    snprintf(box, sizeof box, "0 0 780 %.0f", top);
    assert_memory_equal(svg, FW_REPORT_SVG_BEGIN, strlen(FW_REPORT_SVG_BEGIN));
    const char *root = after(svg, "<svg ");
    assert_true(has(root, "viewBox", box));
    assert_near(number(root, "width"), 780, 0);
    assert_near(number(root, "height"), top, 0.5);
    const char *ground = after(svg, "<rect ");
    assert_near(number(ground, "width"), 780, 0);
    assert_near(number(ground, "height"), top, 0.5);
    assert_non_null(strstr(svg, "<desc>Local codes, the maker's"));
    assert_string_equal(svg + strlen(svg) - strlen("</svg>\n"), "</svg>\n");
    fw_bytes_free(svg);
}

/* North is up: an arrow head above its letter, in the right upper corner. */
static void an_arrow_points_north(void **state)
{
    (void)state;
    const struct fw_farm farm = fields_by_hand();
    char *svg = drawn(&farm);
    double x[3], y[3];
    const char *arrow = after(svg, "<path d=\"M");
    assert_int_equal(sscanf(attribute(arrow, "d"), "M%lf %lf L%lf %lf L%lf %lf",
                            &x[0], &y[0], &x[1], &y[1], &x[2], &y[2]),
                     6);
    assert_near(x[1], (x[0] + x[2]) / 2, 0);
    assert_near(x[2] - x[0], 16, 0);
    assert_near(y[0], y[2], 0);
    assert_near(y[1], 20, 0);
    assert_near(y[0], 48, 0);
    assert_near(780 - x[1], 40, 0);
    const char *letter = after(arrow, "<text ");
    assert_near(number(letter, "x"), x[1], 0);
    assert_near(number(letter, "y"), 64, 0);
    assert_true(has(letter, "text-anchor", "middle"));
    assert_memory_equal(strchr(letter, '>'), ">N</text>", 9);
    fw_bytes_free(svg);
}

static const char *words_of(const char *tag, char room[100])
{
    const char *from = strchr(tag, '>') + 1;
    snprintf(room, 100, "%.*s", (int)(strchr(from, '<') - from), from);
    return room;
}

/* Where the words run away from the boundary. */
static void is_anchored(const char *label, double away_x, double away)
{
    const double share = away_x / away;
    assert_true(has(label, "text-anchor",
                    share > 0.3    ? "start"
                    : share < -0.3 ? "end"
                                   : "middle"));
}

/* A corner's number is as far from either side, and outside; a side's length
 * stands off its middle, square to it. */
static void labels_of(const char **at, const struct fw_farm *farm, size_t f,
                      const struct view *view)
{
    const struct fw_field *field = farm->fields[f].shape;
    const size_t n = field->corner_count;
    for (size_t i = 0; i < n; i++) {
        const struct fw_point p = field->vertices[field->corners[i]].plane;
        const struct fw_point q =
            field->vertices[field->corners[(i + 1) % n]].plane;
        const struct fw_point o =
            field->vertices[field->corners[(i + n - 1) % n]].plane;
        const struct fw_xy here = on_page(view, p);
        char room[100], wanted[24];
        const char *dot = after(*at, "<circle ");
        is_at((struct fw_xy){number(dot, "cx"), number(dot, "cy")}, here);
        assert_near(number(dot, "r"), 4, 0);
        const char *name = after(dot, "<text ");
        const double dx = number(name, "x") - here.x;
        const double dy = number(name, "y") - here.y;
        assert_near(hypot(dx, dy), 14, 0.15);
        is_anchored(name, dx, 14);
        snprintf(wanted, sizeof wanted, "%zu", i + 1);
        assert_string_equal(words_of(name, room), wanted);
        assert_false(is_inside(
            field, off_page(view, number(name, "x"), number(name, "y"))));
        /* In metres, y upwards: the same angle to both sides. */
        const double in = ((p.x_m - o.x_m) * dx - (p.y_m - o.y_m) * dy) /
                          hypot(p.x_m - o.x_m, p.y_m - o.y_m);
        const double out = ((q.x_m - p.x_m) * dx - (q.y_m - p.y_m) * dy) /
                           hypot(q.x_m - p.x_m, q.y_m - p.y_m);
        assert_near(in, -out, 0.15);

        const char *side = after(name + 1, "<text ");
        const struct fw_xy middle = on_page(
            view, (struct fw_point){(p.x_m + q.x_m) / 2, (p.y_m + q.y_m) / 2});
        const double sx = number(side, "x") - middle.x;
        const double sy = number(side, "y") - middle.y;
        assert_near(hypot(sx, sy), 15, 0.15);
        assert_near(((q.x_m - p.x_m) * sx - (q.y_m - p.y_m) * sy) /
                        hypot(q.x_m - p.x_m, q.y_m - p.y_m),
                    0, 0.15);
        assert_false(is_inside(
            field, off_page(view, number(side, "x"), number(side, "y"))));
        is_anchored(side, sx, 15);
        /* Between these two corners the sides by hand are straight. */
        const double unit_m = farm->units == FW_US ? 0.3048 : 1;
        const char *words = words_of(side, room);
        assert_near(strtod(words, NULL) * unit_m,
                    hypot(q.x_m - p.x_m, q.y_m - p.y_m), 0.51 * unit_m);
        assert_string_equal(strchr(words, ' '),
                            farm->units == FW_US ? " ft" : " m");
        assert_true(has(side, "dominant-baseline", "middle"));
        *at = side;
    }
}

static void labels_stand_outside(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    for (int us = 0; us < 2; us++) {
        farm.units = us ? FW_US : FW_METRIC;
        char *svg = drawn(&farm);
        const char *at = svg;
        double top = 0;
        for (size_t f = 0; f < farm.field_count; f++) {
            const struct view view = view_of(farm.fields[f].shape, &top);
            at = after(at, "font-size=\"18\"");
            labels_of(&at, &farm, f, &view);
        }
        fw_bytes_free(svg);
    }
}

/* Where two sides turn right back a number still has its place. */
static void a_spike_has_its_number(void **state)
{
    (void)state;
    static struct fw_vertex spike[] = {
        {.plane = {0, 0}}, {.plane = {0, 50}}, {.plane = {0, 25}}};
    static size_t starts[] = {0, 3}, three[] = {0, 1, 2};
    struct fw_field shape = {.name = (char *)"spike",
                             .vertices = spike,
                             .vertex_count = 3,
                             .ring_start = starts,
                             .ring_count = 1,
                             .corners = three,
                             .corner_count = 3};
    struct fw_farm_field only = {.shape = &shape};
    struct fw_farm farm = fields_by_hand();
    farm.fields = &only;
    farm.field_count = 1;
    char *svg = drawn(&farm);
    static const char *const odd[] = {"\"nan", "\"-nan", "\"inf", "\"-inf"};
    for (size_t i = 0; i < 4; i++)
        assert_null(strstr(svg, odd[i]));
    fw_bytes_free(svg);
}

static void gate_and_water_stand_where_they_are(void **state)
{
    (void)state;
    const struct fw_farm farm = fields_by_hand();
    char *svg = drawn(&farm);
    double top = 0;
    view_of(farm.fields[0].shape, &top);
    const struct view view = view_of(farm.fields[1].shape, &top);
    const char *gate = after(after(svg, "<rect ") + 1, "<rect ");
    const struct fw_xy middle = {number(gate, "x") + number(gate, "width") / 2,
                                 number(gate, "y") +
                                     number(gate, "height") / 2};
    is_at(middle, on_page(&view, farm.fields[1].gate.point));
    assert_near(number(gate, "width"), 12, 0);
    assert_near(number(gate, "height"), 12, 0);
    assert_memory_equal(strchr(gate, '>'), "><title>gate</title></rect>", 27);
    assert_null(strstr(gate + 1, "<rect "));
    const char *water = after(gate, "<circle ");
    is_at((struct fw_xy){number(water, "cx"), number(water, "cy")},
          on_page(&view, farm.fields[1].water.point));
    assert_near(number(water, "r"), 7, 0);
    assert_non_null(strstr(water, "<title>water</title></circle>"));
    fw_bytes_free(svg);
}

/* Told at one corner, or all but, they stand beside each other: no part of the
 * disc lies on the square, and neither is far from where it was told. */
static void gate_and_water_at_one_corner_stand_beside_each_other(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    const struct fw_spot told = farm.fields[1].water;
    double top = 0;
    view_of(farm.fields[0].shape, &top);
    const struct view view = view_of(farm.fields[1].shape, &top);
    for (int i = 0; i < 49; i++) {
        const struct fw_point gate = farm.fields[1].gate.point;
        const double step_m = 4 / view.scale; /* on the page */
        farm.fields[1].water.point = (struct fw_point){
            gate.x_m + step_m * (i % 7 - 3), gate.y_m + step_m * (i / 7 - 3)};
        char *svg = drawn(&farm);
        const char *square = after(after(svg, "<rect ") + 1, "<rect ");
        const char *disc = after(square, "<circle ");
        const struct fw_xy at = {number(disc, "cx"), number(disc, "cy")};
        const struct fw_xy low = {number(square, "x"), number(square, "y")};
        is_at((struct fw_xy){low.x + 6, low.y + 6}, on_page(&view, gate));
        const double x = fmax(0, fabs(at.x - low.x - 6) - 6),
                     y = fmax(0, fabs(at.y - low.y - 6) - 6);
        assert_true(hypot(x, y) >= 7);
        const struct fw_xy there = on_page(&view, farm.fields[1].water.point);
        assert_true(hypot(at.x - there.x, at.y - there.y) <= 14.1);
        fw_bytes_free(svg);
    }
    farm.fields[1].water = told;
}

/* Above its field, with its area; what XML keeps for itself is written so. */
static void names_stand_above_their_fields(void **state)
{
    (void)state;
    struct fw_farm farm = fields_by_hand();
    char *svg = drawn(&farm);
    double top = 0;
    char room[100];
    const char *at = after(svg, "font-size=\"18\"");
    assert_string_equal(words_of(at, room),
                        "Low &lt;meadow> &amp; \"more\", 0.7 ha");
    const char *name = after(after(svg, "font-size=\"14\""), "<text ");
    assert_near(number(name, "x"), 70, 0);
    assert_near(number(name, "y"), 26, 0);
    const double before = top;
    view_of(farm.fields[0].shape, &top);
    assert_true(before < top);
    at = after(at + 1, "font-size=\"18\"");
    while (*at != '<')
        at--;
    assert_near(number(at, "y"), top + 26, 0.0501);
    fw_bytes_free(svg);
    farm.units = FW_US;
    svg = drawn(&farm);
    /* 7001.5 m2 / 4046.8564 */
    assert_non_null(strstr(svg, "\"more\", 1.73 acres</text>"));
    fw_bytes_free(svg);
}

static void a_comma_locale_draws_the_same(void **state)
{
    (void)state;
    const struct fw_farm farm = fields_by_hand();
    char *usual = drawn(&farm);
    assert_non_null(setlocale(LC_ALL, COMMA_LOCALE));
    char *comma = drawn(&farm);
    setlocale(LC_ALL, "C");
    assert_string_equal(usual, comma);
    fw_bytes_free(usual);
    fw_bytes_free(comma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paths_are_the_rings_of_the_fields),
        cmocka_unit_test(the_page_holds_what_is_drawn),
        cmocka_unit_test(an_arrow_points_north),
        cmocka_unit_test(labels_stand_outside),
        cmocka_unit_test(a_spike_has_its_number),
        cmocka_unit_test(gate_and_water_stand_where_they_are),
        cmocka_unit_test(gate_and_water_at_one_corner_stand_beside_each_other),
        cmocka_unit_test(names_stand_above_their_fields),
        locale_test(a_comma_locale_draws_the_same),
    };
    return cmocka_run_group_tests_name("report_svg", tests, NULL, NULL);
}
