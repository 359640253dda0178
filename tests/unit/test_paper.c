/* Pages as marks: round scales and bars by the rows of rulers, boxes that
 * overlap by GEOS, words that are measured as they are drawn, bytes that are
 * the same each time. */
#include "paper_judge.h"
#include "scratch.h"

#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* ---- scales ---- */

/* One inch is 25.4 mm, and 72 points. */
static const double m_pt = 0.0254 / 72;

static bool is_round(double number, const double *row, size_t count)
{
    while (number >= 10)
        number /= 10;
    while (number < 1)
        number *= 10;
    for (size_t i = 0; i < count; i++)
        if (fabs(number - row[i]) < 1e-9)
            return true;
    return false;
}

static void a_scale_is_round_and_the_next_greater_one_does_not_fit(void **state)
{
    (void)state;
    static const double metric[] = {1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 7.5};
    static const double engineers[] = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 8};
    const struct fw_xy room = {500, 700};
    for (double m = 10; m < 20000; m *= 1.013)
        for (int feet = 0; feet < 2; feet++) {
            const double scale = fw_scale_of(m, m, room, feet);
            assert_true(is_round(feet ? scale / 12 : scale,
                                 feet ? engineers : metric, 9));
            assert_true(m / scale / m_pt <= 500 * (1 + 1e-6));
            /* No two of a row are farther apart than by a factor of 1.5. */
            assert_true(m / (scale / 1.51) / m_pt > 500);
        }
    assert_near(fw_scale_of(176.3, 1, (struct fw_xy){500, 700}, false), 1000,
                1e-9); /* 500 pt are 176.4 m at 1 : 1000 */
    assert_near(fw_scale_of(1, 493.8, (struct fw_xy){500, 700}, false), 2000,
                1e-9); /* 700 pt are 493.9 m at 1 : 2000 */
    assert_near(fw_scale_points(1000, 25.4), 72, 1e-12);
    /* Nothing is drawn larger than it is: life size, and a foot to the inch. */
    assert_near(fw_scale_of(0.01, 0.02, room, false), 1, 0);
    assert_near(fw_scale_of(0.01, 0.02, room, true), 12, 0);
}

static void a_bar_is_the_longest_of_one_two_or_five(void **state)
{
    (void)state;
    const double ft = 0.3048;
    const double wanted[][2] = {{99, 50},   {100, 100}, {199, 100}, {200, 200},
                                {501, 500}, {0.7, 0.5}, {9.9, 5},   {10, 10}};
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        assert_relative(fw_scale_bar_m(wanted[i][0], false), wanted[i][1],
                        1e-12);
        assert_relative(fw_scale_bar_m(wanted[i][0] * ft, true),
                        wanted[i][1] * ft, 1e-12);
    }
}

/* ---- boxes ---- */

static double random_up_to(unsigned *seed, double most)
{
    *seed = *seed * 1664525u + 1013904223u;
    return most * (*seed >> 8) / (1 << 24);
}

static void boxes_overlap_as_geos_has_it(void **state)
{
    (void)state;
    unsigned seed = 7;
    size_t over = 0, apart = 0;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int i = 0; i < 20000; i++) {
        struct fw_box boxes[2];
        for (int k = 0; k < 2; k++)
            boxes[k] = (struct fw_box){
                random_up_to(&seed, 60), random_up_to(&seed, 60),
                1 + random_up_to(&seed, 50), 1 + random_up_to(&seed, 12),
                random_up_to(&seed, 360) - 180};
        const double shared = paper_shared(geos, &boxes[0], &boxes[1]);
        if (shared > 0 && shared < 1e-6)
            continue; /* on the brink */
        assert_int_equal(fw_box_overlap(&boxes[0], &boxes[1]), shared > 0);
        over += shared > 0;
        apart += shared == 0;
    }
    GEOS_finish_r(geos);
    assert_true(over > 3000 && apart > 3000);
}

static void a_label_keeps_off_others_and_within_its_area(void **state)
{
    (void)state;
    struct fw_labels labels = {.area = {50, 50, 100, 100, 0}};
    const struct fw_box first = {50, 50, 30, 10, 0};
    assert_true(fw_labels_are_free(&labels, &first));
    assert_true(fw_labels_take(&labels, &first));
    assert_false(fw_labels_are_free(&labels, &first));
    /* beside it, to a hair */
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){80, 50, 30, 10, 0}));
    assert_false(
        fw_labels_are_free(&labels, &(struct fw_box){79.9, 50, 30, 10, 0}));
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){20, 50, 30, 10, 0}));
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){50, 60, 30, 10, 0}));
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){50, 40, 30, 10, 0}));
    /* up to the edge, and over it, plainly and by its turned corner */
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){85, 5, 30, 10, 0}));
    assert_false(
        fw_labels_are_free(&labels, &(struct fw_box){85.1, 5, 30, 10, 0}));
    assert_false(
        fw_labels_are_free(&labels, &(struct fw_box){85, 4.9, 30, 10, 0}));
    assert_false(
        fw_labels_are_free(&labels, &(struct fw_box){90, 90, 30, 10, 0}));
    assert_true(
        fw_labels_are_free(&labels, &(struct fw_box){84, 20, 30, 10, 0}));
    assert_false(
        fw_labels_are_free(&labels, &(struct fw_box){90, 20, 20, 10, 45}));
    fw_labels_release(&labels);
}

/* A long label turned a little: of its four corners one alone is outside, by
 * each edge of the area in turn. */
static void a_turned_label_is_held_by_its_farthest_corner(void **state)
{
    (void)state;
    const struct fw_box area = {50, 50, 100, 100, 0};
    const double turn = acos(-1.0) / 18; /* 10 degrees */
    const double wide = 40 * cos(turn) + 10 * sin(turn);
    const double high = 40 * sin(turn) + 10 * cos(turn);
    for (int edge = 0; edge < 4; edge++)
        for (int turned = -1; turned <= 1; turned += 2)
            for (int over = 0; over < 2; over++) {
                const double in = over ? -0.01 : 0.01;
                struct fw_box box = {50, 50, 40, 10, 10.0 * turned};
                if (edge < 2)
                    box.x = edge ? 100 - wide / 2 - in : wide / 2 + in;
                else
                    box.y = edge == 2 ? high / 2 + in : 100 - high / 2 - in;
                assert_int_equal(fw_box_within(&box, &area), !over);
            }
}

/* ---- words ---- */

static struct fw_paper *new_paper(void)
{
    struct fw_paper *paper = NULL;
    struct fw_error err;
    if (fw_paper_new("A farm", &paper, &err))
        fail_msg("%s", err.text);
    return paper;
}

/* In a process of its own, that is told of no fonts before it asks for any. */
static void without_a_font_it_is_said_what_to_install(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "fonts.conf");
    put_text(path, "<?xml version=\"1.0\"?><fontconfig></fontconfig>");
    const pid_t child = fork();
    if (child == 0) {
        struct fw_paper *paper = NULL;
        struct fw_error err = {0};
        setenv("FONTCONFIG_FILE", path, 1);
        const bool told = fw_paper_new("A farm", &paper, &err) == FW_EOUTPUT &&
                          strstr(err.text, "no font to print with") && !paper;
        _exit(told ? 0 : 1);
    }
    int status = 1;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    scratch_remove(scratch.path);
}

static void words_grow_with_their_size_and_fold_to_their_width(void **state)
{
    (void)state;
    struct fw_paper *paper = new_paper();
    const char *words = "forty-one paces from corner 3 towards corner 2";
    double wide, high, twice_wide, twice_high;
    fw_paper_measure(paper, words, &(struct fw_type){.size_pt = 9}, &wide,
                     &high);
    fw_paper_measure(paper, words, &(struct fw_type){.size_pt = 18},
                     &twice_wide, &twice_high);
    assert_relative(twice_wide, 2 * wide, 0.01);
    assert_relative(twice_high, 2 * high, 0.05);
    /* A line is higher than its letters, and not twice as high. */
    assert_true(high > 9 && high < 18);
    struct fw_type folded = {.size_pt = 9, .wide_pt = wide / 2};
    fw_paper_measure(paper, words, &folded, &twice_wide, &twice_high);
    assert_true(twice_wide <= wide / 2);
    assert_true(twice_high >= 2 * high - 0.01);
    folded.most_lines = 1;
    fw_paper_measure(paper, words, &folded, &twice_wide, &twice_high);
    assert_near(twice_high, high, 0.01);
    /* No letter has room in half a point: each has a line. */
    folded = (struct fw_type){.size_pt = 9, .wide_pt = 0.5};
    fw_paper_measure(paper, "corner", &folded, &twice_wide, &twice_high);
    assert_near(twice_high, 6 * high, 0.1);
    assert_int_equal(paper->unknown_count, 0);
    fw_paper_free(paper);
}

/* A letter for private use has no shape in any font of a distribution. */
static void letters_that_no_font_has_are_told_once(void **state)
{
    (void)state;
    struct fw_paper *paper = new_paper();
    const struct fw_type type = {.size_pt = 9};
    double wide, high;
    for (int i = 0; i < 3; i++)
        fw_paper_measure(paper, "field \xf3\xb0\x84\x82", &type, &wide, &high);
    fw_paper_measure(paper, "field", &type, &wide, &high);
    assert_int_equal(paper->unknown_count, 1);
    assert_string_equal(paper->unknown[0], "field \xf3\xb0\x84\x82");
    fw_paper_free(paper);
    assert_string_equal(fw_paper_font_package("\xe6\xbc\xa2\xe5\xad\x97"),
                        "fonts-noto-cjk");
    assert_string_equal(fw_paper_font_package("abc \xea\xb0\x80"),
                        "fonts-noto-cjk");
    assert_string_equal(fw_paper_font_package("\xe1\x8a\xa0"),
                        "fonts-noto-core"); /* Ethiopic */
}

static size_t put_letter(unsigned long code, char *to)
{
    if (code < 0x10000) {
        to[0] = (char)(0xe0 | code >> 12);
        to[1] = (char)(0x80 | (code >> 6 & 63));
        to[2] = (char)(0x80 | (code & 63));
        return 3;
    }
    to[0] = (char)(0xf0 | code >> 18);
    to[1] = (char)(0x80 | (code >> 12 & 63));
    to[2] = (char)(0x80 | (code >> 6 & 63));
    to[3] = (char)(0x80 | (code & 63));
    return 4;
}

/* A letter of each script, as Unicode has it. */
static void a_script_has_its_package(void **state)
{
    (void)state;
    static const struct {
        unsigned long code;
        const char *package;
    } letters[] = {
        {0x1100, "fonts-noto-cjk"},          /* HANGUL CHOSEONG KIYEOK */
        {0x1161, "fonts-noto-cjk"},          /* HANGUL JUNGSEONG A */
        {0xa960, "fonts-noto-cjk"},          /* CHOSEONG TIKEUT-MIEUM */
        {0xd55c, "fonts-noto-cjk"},          /* HANGUL SYLLABLE HAN */
        {0x6f22, "fonts-noto-cjk"},          /* ideograph, Han */
        {0x20000, "fonts-noto-cjk"},         /* ideograph of extension B */
        {0x3072, "fonts-noto-cjk"},          /* HIRAGANA HI */
        {0x30ab, "fonts-noto-cjk"},          /* KATAKANA KA */
        {0xff76, "fonts-noto-cjk"},          /* the same, halfwidth */
        {0xff21, "fonts-noto-cjk"},          /* A, fullwidth */
        {0x3105, "fonts-noto-cjk"},          /* BOPOMOFO B */
        {0x3001, "fonts-noto-cjk"},          /* IDEOGRAPHIC COMMA */
        {0x1f411, "fonts-noto-color-emoji"}, /* SHEEP */
        {0x1f33e, "fonts-noto-color-emoji"}, /* EAR OF RICE */
        {0xe9, "fonts-noto-core"},           /* LATIN E WITH ACUTE */
        {0x3a9, "fonts-noto-core"},          /* GREEK OMEGA */
        {0x416, "fonts-noto-core"},          /* CYRILLIC ZHE */
        {0x5e9, "fonts-noto-core"},          /* HEBREW SHIN */
        {0x634, "fonts-noto-core"},          /* ARABIC SHEEN */
        {0x905, "fonts-noto-core"},          /* DEVANAGARI A */
        {0xe01, "fonts-noto-core"},          /* THAI KO KAI */
        {0x10d0, "fonts-noto-core"},         /* GEORGIAN AN */
    };
    for (size_t i = 0; i < sizeof letters / sizeof *letters; i++) {
        char words[8] = "a";
        words[1 + put_letter(letters[i].code, words + 1)] = 0;
        assert_string_equal(fw_paper_font_package(words), letters[i].package);
    }
}

/* ---- bytes ---- */

static struct fw_paper *two_pages(void)
{
    struct fw_paper *paper = new_paper();
    for (int i = 0; i < 2; i++) {
        struct fw_page *page = fw_paper_page(paper, 300, 400, 20);
        page->drawing = i == 0;
        fw_paper_words(paper, page, "A01", &(struct fw_type){.size_pt = 12},
                       (struct fw_xy){50, 50});
        fw_paper_rectangle(paper, page, FW_PEN_HATCHED, (struct fw_xy){80, 80},
                           (struct fw_xy){50, 30});
        fw_paper_disc(paper, page, FW_PEN_SHADED, (struct fw_xy){200, 200}, 30);
    }
    return paper;
}

static char *draw(const struct fw_paper *paper, enum fw_paper_form form,
                  long long epoch_s, size_t *count)
{
    char *bytes = NULL;
    struct fw_error err;
    if (fw_paper_draw(paper, form, epoch_s, &bytes, count, &err))
        fail_msg("%s", err.text);
    return bytes;
}

static bool holds(const char *bytes, size_t count, const char *words)
{
    const size_t length = strlen(words);
    for (size_t i = 0; i + length <= count; i++)
        if (memcmp(bytes + i, words, length) == 0)
            return true;
    return false;
}

/* Other papers come between, as in a run over many farms. */
static void the_same_paper_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int form = FW_PAPER_PDF; form <= FW_PAPER_PNG; form++) {
        char *bytes[2];
        size_t count[2];
        for (int i = 0; i < 2; i++) {
            struct fw_paper *paper = two_pages();
            bytes[i] =
                draw(paper, (enum fw_paper_form)form, 1777852800, &count[i]);
            fw_paper_free(paper);
        }
        assert_int_equal(count[0], count[1]);
        assert_memory_equal(bytes[0], bytes[1], count[0]);
        fw_bytes_free(bytes[0]);
        fw_bytes_free(bytes[1]);
    }
}

static void a_pdf_is_of_the_day_it_was_told(void **state)
{
    (void)state;
    struct fw_paper *paper = two_pages();
    size_t count;
    /* 2026-05-04T13:46:39Z, by any calendar */
    char *bytes = draw(paper, FW_PAPER_PDF, 1777852800 + 49599, &count);
    assert_memory_equal(bytes, "%PDF-", 5);
    assert_true(holds(bytes, count, "/CreationDate (20260504134639Z)") ||
                holds(bytes, count, "/CreationDate (D:20260504134639Z)"));
    assert_true(holds(bytes, count, "/ModDate (20260504134639Z)") ||
                holds(bytes, count, "/ModDate (D:20260504134639Z)"));
    assert_true(holds(bytes, count, "/Title (A farm)"));
    assert_true(holds(bytes, count, "/MediaBox [ 0 0 300 400 ]"));
    assert_true(holds(bytes, count, "/Count 2"));
    fw_bytes_free(bytes);
    fw_paper_free(paper);
}

/* The first page alone is a drawing: 300 by 400 points. */
static void pictures_have_the_drawings_alone(void **state)
{
    (void)state;
    struct fw_paper *paper = two_pages();
    size_t count;
    char *svg = draw(paper, FW_PAPER_SVG, 0, &count);
    assert_true(holds(svg, count, "viewBox=\"0 0 300 400\""));
    fw_bytes_free(svg);
    unsigned char *png = (unsigned char *)draw(paper, FW_PAPER_PNG, 0, &count);
    /* PNG: the header's width and height, big-endian, from byte 16 on; 150
     * dots an inch make 625 by 834 of them */
    assert_memory_equal(png + 1, "PNG", 3);
    assert_int_equal(png[16] << 24 | png[17] << 16 | png[18] << 8 | png[19],
                     625);
    assert_int_equal(png[20] << 24 | png[21] << 16 | png[22] << 8 | png[23],
                     834);
    fw_bytes_free((char *)png);
    fw_paper_free(paper);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_font_it_is_said_what_to_install),
        cmocka_unit_test(
            a_scale_is_round_and_the_next_greater_one_does_not_fit),
        cmocka_unit_test(a_bar_is_the_longest_of_one_two_or_five),
        cmocka_unit_test(boxes_overlap_as_geos_has_it),
        cmocka_unit_test(a_label_keeps_off_others_and_within_its_area),
        cmocka_unit_test(a_turned_label_is_held_by_its_farthest_corner),
        cmocka_unit_test(words_grow_with_their_size_and_fold_to_their_width),
        cmocka_unit_test(letters_that_no_font_has_are_told_once),
        cmocka_unit_test(a_script_has_its_package),
        cmocka_unit_test(the_same_paper_gives_the_same_bytes),
        cmocka_unit_test(a_pdf_is_of_the_day_it_was_told),
        cmocka_unit_test(pictures_have_the_drawings_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
