/* Pages as they come out: the ink of pictures, weighed by another library from
 * the PNG, against lengths, widths and areas by hand. */
#include "test.h"

#include "paper/paper.h"

#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <string.h>

/* How dark each dot is, 0 to 1. */
struct ink {
    int wide, high;
    double dot_pt;
    double *dark;
};

static struct fw_paper *new_paper(void)
{
    struct fw_paper *paper = NULL;
    struct fw_error err = {0};
    if (fw_paper_new("Ink", &paper, &err))
        fail_msg("%s", err.text);
    return paper;
}

static struct fw_page *drawing(struct fw_paper *paper, double wide, double high)
{
    struct fw_page *page = fw_paper_page(paper, wide, high, 0);
    page->drawing = true;
    return page;
}

static struct ink ink_of(const struct fw_paper *paper, double wide_pt)
{
    static const char name[] = "/vsimem/ink.png";
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    if (fw_paper_draw(paper, FW_PAPER_PNG, 0, &bytes, &count, &err))
        fail_msg("%s", err.text);
    GDALAllRegister();
    VSIFCloseL(VSIFileFromMemBuffer(name, (GByte *)bytes, count, FALSE));
    GDALDatasetH picture = GDALOpen(name, GA_ReadOnly);
    assert_non_null(picture);
    struct ink ink = {.wide = GDALGetRasterXSize(picture),
                      .high = GDALGetRasterYSize(picture)};
    const size_t dots = (size_t)ink.wide * (size_t)ink.high;
    ink.dot_pt = wide_pt / ink.wide;
    ink.dark = malloc(dots * sizeof *ink.dark);
    for (int band = 1; band <= 3; band++) {
        double *read = malloc(dots * sizeof *read);
        assert_int_equal(GDALRasterIO(GDALGetRasterBand(picture, band), GF_Read,
                                      0, 0, ink.wide, ink.high, read, ink.wide,
                                      ink.high, GDT_Float64, 0, 0),
                         CE_None);
        for (size_t i = 0; i < dots; i++) {
            const double dark = 1 - read[i] / 255;
            if (band > 1) /* there are no colours */
                assert_near(dark, ink.dark[i], 0);
            ink.dark[i] = dark;
        }
        free(read);
    }
    GDALClose(picture);
    VSIUnlink(name);
    fw_bytes_free(bytes);
    return ink;
}

static double at(const struct ink *ink, int i, int j)
{
    return ink->dark[(size_t)j * (size_t)ink->wide + (size_t)i];
}

/* Of the dots whose middle lies in that window: square points of black. */
static double weigh(const struct ink *ink, double x0, double y0, double x1,
                    double y1)
{
    double sum = 0;
    for (int j = 0; j < ink->high; j++)
        for (int i = 0; i < ink->wide; i++) {
            const double x = (i + 0.5) * ink->dot_pt;
            const double y = (j + 0.5) * ink->dot_pt;
            if (x > x0 && x < x1 && y > y0 && y < y1)
                sum += at(ink, i, j);
        }
    return sum * ink->dot_pt * ink->dot_pt;
}

static double weigh_all(const struct ink *ink)
{
    return weigh(ink, -1, -1, 1e9, 1e9);
}

/* What one mark of 288 by 144 points weighs. */
static double weigh_page(struct fw_paper *paper)
{
    const struct ink ink = ink_of(paper, 288);
    const double sum = weigh_all(&ink);
    free(ink.dark);
    fw_paper_free(paper);
    return sum;
}

/* ---- lines ---- */

static double drawn_pt(const double *dash, int count, double length)
{
    double drawn = 0;
    if (count == 0)
        return length;
    for (int i = 0; length > 0; i++) {
        const double piece = fmin(dash[i % count], length);
        drawn += i % 2 ? 0 : piece;
        length -= piece;
    }
    return drawn;
}

/* A line is as wide and as dark as its pen, and dashed as that is: by these
 * looks people tell them apart in print. */
static void lines_have_the_ink_of_their_pen(void **state)
{
    (void)state;
    static const struct {
        enum fw_pen pen;
        double wide_pt, grey, dash[4];
        int dash_count;
    } rows[] = {
        {FW_PEN_HAIR, 0.4, 0.45, {0}, 0},
        {FW_PEN_FINE, 0.5, 0, {0}, 0},
        {FW_PEN_PLAIN, 1, 0, {0}, 0},
        {FW_PEN_HEAVY, 2, 0, {0}, 0},
        {FW_PEN_DOUBLE, 2.8 - 1.4, 0, {0}, 0},
        {FW_PEN_BOLD, 3, 0, {0}, 0},
        {FW_PEN_DASHED, 1, 0, {4, 2.5}, 2},
        {FW_PEN_LONG, 1.6, 0, {11, 3}, 2},
        {FW_PEN_DOTTED, 1.2, 0, {7, 2, 1.2, 2}, 4},
        {FW_PEN_BAR, 2.4, 0, {0}, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_paper *paper = new_paper();
        const struct fw_xy line[] = {{20, 20}, {20, 120}, {260, 120}};
        fw_paper_line(paper, drawing(paper, 288, 144), rows[i].pen, line, 3);
        const double ink = weigh_page(paper);
        /* The corner is round: less than its square of ink is missing. */
        assert_near(ink,
                    drawn_pt(rows[i].dash, rows[i].dash_count, 340) *
                        rows[i].wide_pt * (1 - rows[i].grey),
                    0.03 * ink + rows[i].wide_pt * rows[i].wide_pt / 4);
    }
}

/* The same ink, but white between two: across, dark, white and dark. */
static void a_double_line_is_two(void **state)
{
    (void)state;
    struct fw_paper *paper = new_paper();
    const struct fw_xy line[] = {{20, 72}, {260, 72}};
    fw_paper_line(paper, drawing(paper, 288, 144), FW_PEN_DOUBLE, line, 2);
    const struct ink ink = ink_of(paper, 288);
    assert_near(weigh(&ink, 0, 70, 288, 72), 240 * 0.7, 5);
    assert_near(weigh(&ink, 0, 72, 288, 74), 240 * 0.7, 5);
    assert_near(weigh(&ink, 0, 71.76, 288, 72.24), 0, 1e-9);
    free(ink.dark);
    fw_paper_free(paper);
}

/* ---- areas ---- */

static double weigh_rectangle(enum fw_pen pen, struct fw_xy size)
{
    struct fw_paper *paper = new_paper();
    fw_paper_rectangle(paper, drawing(paper, 288, 144), pen,
                       (struct fw_xy){48, 24}, size);
    return weigh_page(paper);
}

static void areas_have_the_ink_of_their_pen(void **state)
{
    (void)state;
    const struct fw_xy size = {120, 60};
    assert_near(weigh_rectangle(FW_PEN_SOLID, size), 7200, 1);
    assert_relative(weigh_rectangle(FW_PEN_SHADED, size), 0.12 * 7200, 0.02);
    /* its edge alone: 0.7 points of 360 */
    assert_relative(weigh_rectangle(FW_PEN_WHITE, size), 0.7 * 360, 0.01);
    struct fw_paper *paper = new_paper();
    struct fw_page *page = drawing(paper, 288, 144);
    fw_paper_rectangle(paper, page, FW_PEN_SOLID, (struct fw_xy){48, 24}, size);
    fw_paper_rectangle(paper, page, FW_PEN_WHITE, (struct fw_xy){60, 36},
                       (struct fw_xy){72, 24});
    assert_near(weigh_page(paper), 7200 - (72 - 0.7) * (24 - 0.7), 3);
}

/* A disc is a ring of 24 corners: 12 r^2 sin(15 degrees). */
static void a_disc_is_as_large_as_its_corners_have_it(void **state)
{
    (void)state;
    struct fw_paper *paper = new_paper();
    fw_paper_disc(paper, drawing(paper, 288, 144), FW_PEN_SOLID,
                  (struct fw_xy){150, 70}, 50);
    const struct ink ink = ink_of(paper, 288);
    const double all = 12 * 2500 * sin(acos(-1.0) / 12);
    assert_relative(weigh_all(&ink), all, 1e-3);
    for (int i = 0; i < 4; i++) {
        const double x = i % 2 ? 150 : 0, y = i / 2 ? 70 : 0;
        assert_relative(weigh(&ink, x, y, x + 150, y + 70), all / 4, 0.03);
    }
    free(ink.dark);
    fw_paper_free(paper);
}

/* Lines of half a point, 3.5 points apart along a side, so 3.5 / sqrt(2) from
 * each other: a share of 0.202 everywhere, to the corners. Two areas side by
 * side are hatched as one. */
static void hatching_is_even_to_the_corners(void **state)
{
    (void)state;
    const double share = 0.5 / (3.5 / sqrt(2));
    struct fw_paper *paper = new_paper();
    struct fw_page *page = drawing(paper, 288, 144);
    const struct fw_xy size = {70, 56};
    fw_paper_rectangle(paper, page, FW_PEN_HATCHED, (struct fw_xy){31, 22},
                       size);
    fw_paper_rectangle(paper, page, FW_PEN_HATCHED, (struct fw_xy){101, 22},
                       size);
    const struct ink ink = ink_of(paper, 288);
    for (double x = 33; x < 160; x += 14)
        for (double y = 24; y < 70; y += 10)
            if (fabs(x + 7 - 101) > 8)
                assert_relative(weigh(&ink, x, y, x + 10.5, y + 7),
                                73.5 * share, 0.25);
    assert_relative(weigh(&ink, 33, 24, 99, 76), 66 * 52 * share, 0.03);
    assert_relative(weigh(&ink, 103, 24, 169, 76), 66 * 52 * share, 0.03);
    /* the edges, half a point wide */
    const double edges = 0.5 * (4 * 70 + 3 * 56);
    assert_relative(weigh_all(&ink), 140 * 56 * share + edges * (1 - share),
                    0.02);
    /* From one to the other the lines go on: as far along, as dark. */
    double apart = 0;
    for (double y = 26; y < 70; y += 0.5) {
        const double left = weigh(&ink, 96, y, 98, y + 1);
        const double right = weigh(&ink, 106.5, y, 108.5, y + 1);
        apart += fabs(left - right); /* 10.5 points are three gaps */
    }
    assert_true(apart / 88 < 0.25);
    free(ink.dark);
    fw_paper_free(paper);
}

static void rings_within_rings_are_holes(void **state)
{
    (void)state;
    const size_t start[] = {0, 4, 8};
    for (int same = 0; same < 2; same++) {
        const struct fw_xy points[] = {
            {20, 20},  {140, 20},
            {140, 80}, {20, 80},
            {40, 40},  {same ? 80 : 40, same ? 40 : 60},
            {80, 60},  {same ? 40 : 80, same ? 60 : 40}};
        struct fw_paper *paper = new_paper();
        fw_paper_area(paper, drawing(paper, 288, 144), FW_PEN_SOLID, points,
                      start, 2);
        assert_near(weigh_page(paper), 7200 - 800, 1);
        paper = new_paper();
        fw_paper_area(paper, drawing(paper, 288, 144), FW_PEN_HATCHED, points,
                      start, 2);
        const struct ink ink = ink_of(paper, 288);
        assert_near(weigh(&ink, 41, 41, 79, 59), 0, 1e-9);
        free(ink.dark);
        fw_paper_free(paper);
    }
}

/* ---- words ---- */

static const char words[] = "Long Bottom 7";

static struct fw_paper *with_words(struct fw_type type, bool on_black)
{
    struct fw_paper *paper = new_paper();
    struct fw_page *page = drawing(paper, 288, 144);
    struct fw_box box = {.x = 144, .y = 72, .turn_deg = type.turn_deg};
    fw_paper_measure(paper, words, &type, &box.wide, &box.high);
    if (on_black)
        fw_paper_rectangle(paper, page, FW_PEN_SOLID, (struct fw_xy){24, 2},
                           (struct fw_xy){240, 140});
    fw_paper_words_in(paper, page, words, &type, &box);
    return paper;
}

/* Turned clockwise about the middle of their box, all of them in it; as much
 * ink, and to both of its ends. */
static void words_lie_in_their_box_however_turned(void **state)
{
    (void)state;
    struct fw_type type = {.size_pt = 14};
    double wide, high;
    struct fw_paper *paper = with_words(type, false);
    fw_paper_measure(paper, words, &type, &wide, &high);
    const double plain = weigh_page(paper);
    for (int turn = -90; turn <= 90; turn += 45) {
        const double angle = turn * acos(-1.0) / 180;
        type.turn_deg = turn;
        paper = with_words(type, false);
        const struct ink ink = ink_of(paper, 288);
        assert_relative(weigh_all(&ink), plain, 0.03);
        double least = 1e9, most = -1e9;
        for (int j = 0; j < ink.high; j++)
            for (int i = 0; i < ink.wide; i++) {
                if (at(&ink, i, j) < 0.3)
                    continue;
                const double x = (i + 0.5) * ink.dot_pt - 144;
                const double y = (j + 0.5) * ink.dot_pt - 72;
                const double along = x * cos(angle) + y * sin(angle);
                const double across = y * cos(angle) - x * sin(angle);
                assert_true(fabs(along) <= wide / 2 + 0.5);
                assert_true(fabs(across) <= high / 2 + 0.5);
                least = fmin(least, along);
                most = fmax(most, along);
            }
        assert_near(least, -wide / 2, 2.5);
        assert_near(most, wide / 2, 2.5);
        free(ink.dark);
        fw_paper_free(paper);
    }
}

/* White behind words: nothing, what lies within 1.1 points of a letter, or the
 * whole box. */
static void what_is_behind_words_is_white(void **state)
{
    (void)state;
    struct fw_type type = {.size_pt = 14};
    struct fw_paper *paper = with_words(type, false);
    double wide, high;
    fw_paper_measure(paper, words, &type, &wide, &high);
    const struct ink bare = ink_of(paper, 288);
    const double letters = weigh_all(&bare);
    fw_paper_free(paper);
    assert_near(weigh_page(with_words(type, true)), 240 * 140, 1);
    type.behind = FW_BEHIND_BLANK;
    assert_near(weigh_page(with_words(type, true)),
                240 * 140 - wide * high + letters, 3);
    type.behind = FW_BEHIND_HALO;
    const double halo = weigh_page(with_words(type, true));
    double about = 0; /* dots within 1.1 points of a letter's edge */
    const int reach = (int)ceil(1.1 / bare.dot_pt);
    for (int j = reach; j < bare.high - reach; j++)
        for (int i = reach; i < bare.wide - reach; i++) {
            double near = 0;
            for (int q = -reach; q <= reach; q++)
                for (int p = -reach; p <= reach; p++)
                    if (hypot(p, q) * bare.dot_pt <= 1.1)
                        near = fmax(near, at(&bare, i + p, j + q));
            about += near * bare.dot_pt * bare.dot_pt;
        }
    assert_relative(240 * 140 - halo, about - letters, 0.15);
    type.bold = true;
    type.behind = FW_BEHIND_NOTHING;
    assert_true(weigh_page(with_words(type, false)) > 1.2 * letters);
    free(bare.dark);
}

/* ---- pictures ---- */

/* One below the other, each from its own corner; what is no drawing is left
 * out. */
static void drawings_follow_each_other_downwards(void **state)
{
    (void)state;
    struct fw_paper *paper = new_paper();
    const struct fw_xy size = {24, 24};
    static const struct {
        double wide, high, x, y;
        bool drawing;
    } rows[] = {{144, 96, 12, 6, true},
                {720, 720, 12, 6, false},
                {288, 48, 240, 18, true},
                {96, 144, 48, 96, true}};
    for (size_t i = 0; i < 4; i++) {
        struct fw_page *page =
            fw_paper_page(paper, rows[i].wide, rows[i].high, 0);
        page->drawing = rows[i].drawing;
        fw_paper_rectangle(paper, page, FW_PEN_SOLID,
                           (struct fw_xy){rows[i].x, rows[i].y}, size);
    }
    const struct ink ink = ink_of(paper, 288);
    assert_int_equal(ink.wide, 600); /* 288 points at 150 dots an inch */
    assert_int_equal(ink.high, 600);
    double top = 0;
    for (size_t i = 0; i < 4; i++) {
        if (!rows[i].drawing)
            continue;
        const double x = rows[i].x, y = top + rows[i].y;
        assert_near(weigh(&ink, x - 1, y - 1, x + 25, y + 25), 576, 0.2);
        top += rows[i].high;
    }
    assert_near(weigh_all(&ink), 3 * 576, 0.5);
    free(ink.dark);
    fw_paper_free(paper);
}

/* Not over 16,000 dots either way. */
static void a_long_picture_has_fewer_dots(void **state)
{
    (void)state;
    for (int high = 0; high < 2; high++) {
        struct fw_paper *paper = new_paper();
        struct fw_page *page =
            drawing(paper, high ? 10 : 20000, high ? 20000 : 10);
        fw_paper_rectangle(
            paper, page, FW_PEN_SOLID,
            high ? (struct fw_xy){0, 5000} : (struct fw_xy){5000, 0},
            high ? (struct fw_xy){10, 10000} : (struct fw_xy){10000, 10});
        const struct ink ink = ink_of(paper, high ? 10 : 20000);
        assert_int_equal(high ? ink.high : ink.wide, 16000);
        assert_int_equal(high ? ink.wide : ink.high, 8);
        assert_relative(weigh_all(&ink), 1e5, 1e-6);
        free(ink.dark);
        fw_paper_free(paper);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_have_the_ink_of_their_pen),
        cmocka_unit_test(a_double_line_is_two),
        cmocka_unit_test(areas_have_the_ink_of_their_pen),
        cmocka_unit_test(a_disc_is_as_large_as_its_corners_have_it),
        cmocka_unit_test(hatching_is_even_to_the_corners),
        cmocka_unit_test(rings_within_rings_are_holes),
        cmocka_unit_test(words_lie_in_their_box_however_turned),
        cmocka_unit_test(what_is_behind_words_is_white),
        cmocka_unit_test(drawings_follow_each_other_downwards),
        cmocka_unit_test(a_long_picture_has_fewer_dots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
