#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/length.h"
#include "base/origin.h"
#include "base/progress.h"
#include "base/text.h"
#include "base/whole.h"
#include "comma_locale.h"
#include "test.h"
#include <float.h>
#include <foldwright/date.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* splitmix64: the same numbers everywhere. */
static uint64_t next_random(uint64_t *state)
{
    uint64_t z = (*state += UINT64_C(0x9E3779B97F4A7C15));
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static uint64_t seed(void)
{
    const char *given = getenv("FW_SEED");
    const uint64_t seed = given ? strtoull(given, NULL, 0) : 20260504;
    print_message("# FW_SEED=%llu\n", (unsigned long long)seed);
    return seed;
}

/* ---- memory ---- */

static void room_is_zeroed_and_may_be_empty(void **state)
{
    (void)state;
    char *block = fw_alloc(100, 3);
    assert_non_null(block);
    for (size_t i = 0; i < 300; i++)
        assert_int_equal(block[i], 0);
    fw_free(block);
    void *empty = fw_alloc(0, 8);
    assert_non_null(empty);
    empty = fw_realloc(empty, 0, 8);
    assert_non_null(empty);
    fw_free(empty);
    fw_free(NULL);
}

static void sizes_that_overflow_get_no_room(void **state)
{
    (void)state;
    assert_null(fw_alloc(SIZE_MAX / 2, 3));
    char *block = fw_strdup("kept");
    assert_null(fw_realloc(block, SIZE_MAX / 2, 3));
    assert_string_equal(block, "kept");
    fw_free(block);
}

static void arrays_keep_their_items_and_zero_the_rest(void **state)
{
    (void)state;
    double *items = NULL;
    size_t capacity = 0;
    for (size_t n = 1; n <= 1000; n++) {
        assert_int_equal(
            fw_array_reserve(&items, &capacity, n, sizeof *items, NULL), FW_OK);
        assert_true(capacity >= n);
        for (size_t i = n; i < capacity; i++)
            assert_true(items[i] == 0);
        items[n - 1] = (double)n;
    }
    for (size_t i = 0; i < 1000; i++)
        assert_true(items[i] == (double)(i + 1));
    fw_free(items);
}

static void an_array_without_room_stays_as_it_is(void **state)
{
    (void)state;
    double *items = NULL;
    size_t capacity = 0;
    struct fw_error err = {0};
    assert_int_equal(fw_array_reserve(&items, &capacity, 5, 8, &err), FW_OK);
    items[0] = 7;
    const double *before = items;
    const size_t had = capacity;
    assert_int_equal(fw_array_reserve(&items, &capacity, SIZE_MAX, 8, &err),
                     FW_ENOMEM);
    assert_int_equal(err.status, FW_ENOMEM);
    assert_ptr_equal(items, before);
    assert_int_equal(capacity, had);
    assert_true(items[0] == 7);
    fw_free(items);
}

/* ---- errors and notes ---- */

static void an_error_says_what_and_then_where(void **state)
{
    (void)state;
    struct fw_error err = {0};
    assert_int_equal(fw_fail(&err, FW_EINPUT, "gap is %g m", 2.5), FW_EINPUT);
    assert_int_equal(fw_fail_where(&err, "feature %d: ", 12), FW_EINPUT);
    assert_int_equal(fw_fail_where(&err, "%s: ", "north.geojson"), FW_EINPUT);
    assert_string_equal(err.text, "north.geojson: feature 12: gap is 2.5 m");
}

static void an_error_may_quote_itself(void **state)
{
    (void)state;
    struct fw_error err = {0};
    fw_fail(&err, FW_EINPUT, "inner");
    fw_fail(&err, FW_EPLAN, "outer (%s)", err.text);
    assert_string_equal(err.text, "outer (inner)");
    fw_fail_where(&err, "[%s] ", err.text);
    assert_string_equal(err.text, "[outer (inner)] outer (inner)");
}

static void without_an_error_the_status_is_still_told(void **state)
{
    (void)state;
    assert_int_equal(fw_fail(NULL, FW_EUSAGE, "x"), FW_EUSAGE);
    assert_int_equal(fw_fail_memory(NULL), FW_ENOMEM);
    assert_int_not_equal(fw_fail_where(NULL, "x"), FW_OK);
}

/* C0, C1, DEL, line and paragraph ends, overrides of direction: Unicode 15,
 * chapters 23.1 and 23.2. What is beside them stays. */
static void what_steers_a_terminal_becomes_spaces(void **state)
{
    (void)state;
    const struct {
        const char *text, *clean;
    } rows[] = {
        {"", ""},
        {"field A", "field A"},
        {"a\x1b[2Jb\x7f"
         "c\x01",
         "a [2Jb c "},
        {"a\xC2\x80"
         "b\xC2\x9F"
         "c",
         "a  b  c"},
        {"a\xC2\xA0"
         "b",
         "a\xC2\xA0"
         "b"},
        {"\xE2\x80\xA7\xE2\x80\xA8\xE2\x80\xAE\xE2\x80\xAF",
         "\xE2\x80\xA7      \xE2\x80\xAF"},
        {"\xE2\x81\xA5\xE2\x81\xA6\xE2\x81\xA9\xE2\x81\xAA",
         "\xE2\x81\xA5      \xE2\x81\xAA"},
        {"J\xC3\xB5"
         "e\xC3\xA4\xC3\xA4r \xE2\x82\xAC",
         "J\xC3\xB5"
         "e\xC3\xA4\xC3\xA4r \xE2\x82\xAC"},
        {"a\x9B"
         "31m\xC3",
         "a?31m?"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[64];
        snprintf(text, sizeof text, "%s", rows[i].text);
        assert_string_equal(fw_text_clean(text), rows[i].clean);
    }
}

static void an_error_is_one_line(void **state)
{
    (void)state;
    struct fw_error err = {0};
    fw_fail(&err, FW_EINPUT, "a\nb\tc\x1b[31m\x7f");
    assert_string_equal(err.text, "a b c [31m ");
}

static void a_long_error_ends_with_a_whole_letter(void **state)
{
    (void)state;
    char name[4000];
    for (size_t n = 0; n < 8; n++) {
        /* The euro sign, and a letter whose bytes are odd. */
        const char *letter = n < 4 ? "\xE2\x82\xAC" : "\xE3\x83\x83";
        const size_t shift = n % 4;
        memset(name, 'x', shift);
        for (size_t i = shift; i + 3 < sizeof name; i += 3)
            memcpy(name + i, letter, 4);
        struct fw_error err = {0};
        fw_fail(&err, FW_EINPUT, "%s", name);
        assert_int_equal((strlen(err.text) - shift) % 3, 0);
        assert_in_range(strlen(err.text), sizeof err.text - 4,
                        sizeof err.text - 1);
        fw_fail_where(&err, "%s", name);
        assert_in_range(strlen(err.text), sizeof err.text - 7,
                        sizeof err.text - 1);
    }
}

static void a_long_place_leaves_room_for_what_happened(void **state)
{
    (void)state;
    char path[3000];
    memset(path, 'p', sizeof path);
    path[sizeof path - 1] = '\0';
    struct fw_error err = {0};
    fw_fail(&err, FW_EINPUT, "gate is outside");
    fw_fail_where(&err, "%s: ", path);
    assert_non_null(strstr(err.text, "gate is outside"));
}

static void notes_are_kept_in_order(void **state)
{
    (void)state;
    struct fw_notes notes = {0};
    for (int i = 0; i < 50; i++)
        assert_int_equal(fw_notes_add(&notes, FW_LEVEL_WARNING, "hill.yaml",
                                      NULL, "note\n%d", i),
                         FW_OK);
    assert_int_equal(fw_notes_add(&notes, FW_LEVEL_NOTE, NULL, NULL, "%s", ""),
                     FW_OK);
    assert_int_equal(notes.count, 51);
    assert_string_equal(notes.items[49].text, "note 49");
    assert_string_equal(notes.items[49].where, "hill.yaml");
    assert_int_equal(notes.items[49].level, FW_LEVEL_WARNING);
    assert_string_equal(notes.items[50].text, "");
    assert_string_equal(notes.items[50].where, "");
    fw_notes_release(&notes);
    assert_null(notes.items);
    assert_int_equal(notes.count, 0);
    assert_int_equal(fw_notes_add(NULL, FW_LEVEL_NOTE, "", NULL, "x"), FW_OK);
}

static void levels_have_words(void **state)
{
    (void)state;
    assert_string_equal(fw_level_name(FW_LEVEL_NOTE), "note");
    assert_string_equal(fw_level_name(FW_LEVEL_WARNING), "warning");
    assert_string_equal(fw_level_name(FW_LEVEL_DANGER), "danger");
}

/* ---- text ---- */

static void assert_text(struct fw_text *text, const char *wanted)
{
    assert_int_equal(fw_text_done(text, NULL), FW_OK);
    assert_string_equal(text->bytes, wanted);
    assert_int_equal(text->length, strlen(wanted));
    fw_text_release(text);
    assert_null(text->bytes);
}

static void text_grows_by_pieces_of_any_length(void **state)
{
    (void)state;
    char wanted[5000] = "";
    struct fw_text text = {0};
    for (int i = 1; i <= 80; i++) {
        char piece[128];
        snprintf(piece, sizeof piece, "%0*d,", i, i);
        strcat(wanted, piece);
        fw_text_addf(&text, "%0*d", i, i);
        fw_text_add_bytes(&text, ",;", 1);
    }
    char long_piece[1000];
    memset(long_piece, 'z', sizeof long_piece);
    long_piece[999] = '\0';
    strcat(wanted, long_piece);
    fw_text_addf(&text, "%s", long_piece);
    assert_text(&text, wanted);
}

static void a_failed_text_tells_at_its_end(void **state)
{
    (void)state;
    struct fw_text text = {0};
    fw_text_add_bytes(&text, "", SIZE_MAX);
    fw_text_add(&text, "more");
    struct fw_error err = {0};
    assert_int_equal(fw_text_done(&text, &err), FW_ENOMEM);
    assert_int_equal(err.status, FW_ENOMEM);
    fw_text_release(&text);
}

static double random_double(uint64_t *state)
{
    const uint64_t bits = next_random(state);
    double number;
    memcpy(&number, &bits, sizeof number);
    return number;
}

/* The oracle tries every number of digits from one on. */
static void shortest_by_trial(double number, char *spelling, size_t size)
{
    for (int digits = 1; digits <= 17; digits++) {
        snprintf(spelling, size, "%.*g", digits, number);
        if (strtod(spelling, NULL) == number)
            return;
    }
}

/* How far the digits of a spelling go, trailing zeros and exponent aside. */
static size_t digit_count(const char *spelling)
{
    size_t count = 0, zeros = 0;
    for (; *spelling && *spelling != 'e'; spelling++) {
        if (!strchr("0123456789", *spelling) || (*spelling == '0' && !count))
            continue;
        count++;
        zeros = *spelling == '0' ? zeros + 1 : 0;
    }
    return count - zeros;
}

static void numbers_have_the_fewest_digits_that_read_back(void **state)
{
    (void)state;
    uint64_t random = seed();
    for (size_t i = 0; i < 20000; i++) {
        /* any bits, then coordinates of up to twelve decimals */
        double number = random_double(&random);
        if (i % 2)
            number = (double)(int64_t)(next_random(&random) >> 16) / 1e12;
        if (!isfinite(number))
            continue;
        char wanted[64];
        shortest_by_trial(number, wanted, sizeof wanted);
        struct fw_text text = {0};
        fw_text_add_number(&text, number);
        assert_true(strtod(text.bytes, NULL) == number);
        assert_int_equal(digit_count(text.bytes), digit_count(wanted));
        fw_text_release(&text);
    }
}

/* Decimals of so many digits, a power of ten up and down, about all that goes
 * the quick way and a little beyond. */
static void decimals_of_every_size_have_their_own_digits(void **state)
{
    (void)state;
    uint64_t random = seed();
    for (int exponent = -7; exponent <= 17; exponent++)
        for (int digits = 1; digits <= 17; digits++)
            for (int round = 0; round < 6; round++) {
                char decimal[64], wanted[64];
                snprintf(
                    decimal, sizeof decimal, "%s%d.%0*llue%d",
                    round & 1 ? "-" : "", 1 + (int)(next_random(&random) % 9),
                    digits > 1 ? digits - 1 : 1,
                    digits > 1 ? (unsigned long long)(next_random(&random) %
                                                      (unsigned long long)pow(
                                                          10, digits - 1))
                               : 0ull,
                    exponent);
                const double number = strtod(decimal, NULL);
                struct fw_text text = {0};
                shortest_by_trial(number, wanted, sizeof wanted);
                fw_text_add_number(&text, number);
                if (strtod(text.bytes, NULL) != number ||
                    digit_count(text.bytes) != digit_count(wanted))
                    fail_msg("%s is written %s", decimal, text.bytes);
                fw_text_release(&text);
            }
}

static void numbers_look_as_people_write_them(void **state)
{
    (void)state;
    const struct {
        double number;
        const char *wanted;
    } cases[] = {
        {0, "0"},
        {-0.0, "-0"},
        {0.1, "0.1"},
        {62, "62"},
        {-3.101, "-3.101"},
        {0.1 + 0.2, "0.30000000000000004"},
        {1e15, "1e+15"},
        {365, "365"},
        {(double)NAN, "null"},
        {(double)INFINITY, "null"},
        {-(double)INFINITY, "null"},
        {5e-324, "5e-324"},
        {52.402000000000001, "52.402"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fw_text text = {0};
        fw_text_add_number(&text, cases[i].number);
        assert_text(&text, cases[i].wanted);
    }
}

static void fixed_numbers_drop_their_zeros(void **state)
{
    (void)state;
    const struct {
        double number;
        int decimals;
        const char *wanted;
    } cases[] = {
        {1.5, 3, "1.5"},
        {100, 0, "100"},
        {1200, 2, "1200"},
        {0.004, 2, "0"},
        {-0.004, 2, "0"},
        {-0.0, 0, "0"},
        {-0.006, 2, "-0.01"},
        {0.125, 2, "0.12"},
        {2.375, 2, "2.38"},
        {9.999, 2, "10"},
        {-3.1010000001, 9, "-3.101"},
        {(double)NAN, 2, "null"},
        {-(double)INFINITY, 2, "null"},
        {7, -3, "7"},
        {0.5, 100, "0.5"},
        {1e22, 2, "10000000000000000000000"},
        {2e6, 1, "2000000"},
        {-1e-14, 12, "0"},
        {-1.5e-12, 12, "-0.000000000002"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fw_text text = {0};
        fw_text_add_fixed(&text, cases[i].number, cases[i].decimals);
        assert_text(&text, cases[i].wanted);
    }
    struct fw_text text = {0};
    fw_text_add_fixed(&text, -1.7976931348623157e308, 17);
    assert_int_equal(text.length, 310);
    fw_text_release(&text);
}

/* The escapes: RFC 8259, section 7. */
static void json_strings_are_escaped(void **state)
{
    (void)state;
    const struct {
        const char *string, *wanted;
    } cases[] = {
        {"", "\"\""},
        {"hill", "\"hill\""},
        {"a\"b\\c/d", "\"a\\\"b\\\\c/d\""},
        {"\n\t\r\x01\x1f\x7f", "\"\\n\\t\\u000d\\u0001\\u001f\\u007f\""},
        {"\xC3\xA9\xE2\x82\xAC\xF0\x9F\x90\x91",
         "\"\xC3\xA9\xE2\x82\xAC\xF0\x9F\x90\x91\""},
        {"\xFF", "\"\xEF\xBF\xBD\""},
        {"a\xC3", "\"a\xEF\xBF\xBD\""},
        {"\xC0\xAF", "\"\xEF\xBF\xBD\xEF\xBF\xBD\""},
        {"\xED\xA0\x80", "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\""},
        {"\xF4\x90\x80\x80",
         "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\""},
        {"\xE0\x9F\xBF", "\"\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\""},
        {"\xE2\x82", "\"\xEF\xBF\xBD\xEF\xBF\xBD\""},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct fw_text text = {0};
        fw_text_add_json(&text, cases[i].string);
        assert_text(&text, cases[i].wanted);
    }
}

/* Every code point as UTF-8 has it (Unicode 15, table 3-6), and what its bytes
 * become when one of them is spoiled. */
static size_t encode(unsigned long point, char room[5])
{
    static const unsigned char lead[] = {0, 0, 0xC0, 0xE0, 0xF0};
    const size_t bytes = point < 0x80      ? 1
                         : point < 0x800   ? 2
                         : point < 0x10000 ? 3
                                           : 4;
    for (size_t i = bytes; i-- > 1; point >>= 6)
        room[i] = (char)(0x80 | (point & 0x3F));
    room[0] = (char)(lead[bytes] | point);
    room[bytes] = '\0';
    return bytes;
}

static bool steers(unsigned long point)
{
    return point < 0x20 || (point >= 0x7F && point <= 0x9F) ||
           (point >= 0x2028 && point <= 0x202E) ||
           (point >= 0x2066 && point <= 0x2069);
}

static void every_letter_of_unicode_is_one(void **state)
{
    (void)state;
    for (unsigned long point = 0; point < 0x110000; point++) {
        char text[5];
        const size_t bytes = encode(point, text);
        const bool surrogate = point >= 0xD800 && point < 0xE000;
        const size_t wanted = surrogate ? 0 : bytes;
        if (fw_text_letter(text) != wanted ||
            (wanted && fw_text_is_control(text) != steers(point)))
            fail_msg("U+%04lX: %zu bytes", point, fw_text_letter(text));
        for (size_t i = 1; i < bytes; i++) {
            const char kept = text[i];
            text[i] ^= (char)(point & 1 ? 0x40 : 0x80);
            assert_int_equal(fw_text_letter(text), 0);
            text[i] = '\0'; /* cut off */
            assert_int_equal(fw_text_letter(text), 0);
            text[i] = kept;
        }
    }
    static const char *const none[] = {"\x80",
                                       "\xBF",
                                       "\xC0\x80",
                                       "\xC1\xBF",
                                       "\xE0\x80\x80",
                                       "\xE0\x9F\xBF",
                                       "\xF0\x80\x80\x80",
                                       "\xF0\x8F\xBF\xBF",
                                       "\xF4\x90\x80\x80",
                                       "\xF5\x80\x80\x80",
                                       "\xFF"};
    for (size_t i = 0; i < COUNT(none); i++)
        assert_int_equal(fw_text_letter(none[i]), 0);
}

static void blanks_at_both_ends_are_trimmed(void **state)
{
    (void)state;
    static const struct {
        const char *from;
        size_t length;
        const char *wanted;
    } rows[] = {
        {"  ab ", 5, "ab"},
        {"  ab ", 3, "a"},
        {"\ta b\n", 5, "a b"},
        {"   ", 3, ""},
        {"", 0, ""},
        {"a", 1, "a"},
        {" x abcdefgh", 11, "x abcde"}, /* what fits */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char room[8];
        assert_string_equal(
            fw_text_trim(rows[i].from, rows[i].length, room, sizeof room),
            rows[i].wanted);
    }
}

static void clipping_keeps_whole_letters(void **state)
{
    (void)state;
    char room[5];
    assert_string_equal(fw_text_clip("abc", room, sizeof room), "abc");
    assert_string_equal(fw_text_clip("abcd", room, sizeof room), "abcd");
    assert_string_equal(fw_text_clip("abcde", room, sizeof room), "abcd");
    assert_string_equal(fw_text_clip("abc\xC3\xA9", room, sizeof room), "abc");
    assert_string_equal(fw_text_clip("ab\xC3\xA9z", room, sizeof room),
                        "ab\xC3\xA9");
    assert_string_equal(fw_text_clip("", room, sizeof room), "");
}

static void the_nearest_word_is_found(void **state)
{
    (void)state;
    const char *const words[] = {"weight", "water", "gate", "head", "height"};
    const struct {
        const char *word, *wanted;
    } cases[] = {
        {"weight", "weight"}, {"wieght", "weight"}, {"wight", "weight"},
        {"heigt", "height"},  {"Gate", "gate"},     {"GATES", "gate"},
        {"waterr", "water"},  {"hed", "head"},      {"xyz", NULL},
        {"", NULL},           {"gt", NULL},         {"eight", "weight"},
        {"wodr", NULL},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        const char *got = fw_text_nearest(cases[i].word, words, COUNT(words));
        if (cases[i].wanted) {
            assert_non_null(got);
            assert_string_equal(got, cases[i].wanted);
        } else
            assert_null(got);
    }
    char long_word[200];
    memset(long_word, 'w', sizeof long_word);
    long_word[199] = '\0';
    assert_null(fw_text_nearest(long_word, words, COUNT(words)));
    const char *const long_words[] = {long_word, "www"};
    assert_string_equal(fw_text_nearest("wwww", long_words, 2), "www");
    assert_null(fw_text_nearest("gate", words, 0));
}

static void a_comma_locale_changes_nothing(void **state)
{
    (void)state;
    assert_non_null(setlocale(LC_ALL, COMMA_LOCALE));
    char comma[16];
    snprintf(comma, sizeof comma, "%.1f", 1.5);
    struct fw_text text = {0};
    fw_text_add_number(&text, 1.5);
    fw_text_addf(&text, " %.2f ", 2.25);
    fw_text_add_fixed(&text, 3.5, 2);
    const char *end;
    const double read = fw_text_number("4.5", &end);
    char again[16];
    snprintf(again, sizeof again, "%.1f", 1.5);
    setlocale(LC_ALL, "C");
    assert_string_equal(comma, "1,5");
    assert_string_equal(again, "1,5");
    assert_text(&text, "1.5 2.25 3.5");
    assert_true(read == 4.5);
    assert_int_equal(*end, 0);
}

/* ---- dates ---- */

static int day_of(const char *text)
{
    int day = FW_NO_DAY;
    struct fw_error err = {0};
    if (fw_date_read(text, &day, &err))
        fail_msg("%s", err.text);
    return day;
}

/* The calendar of the C library is the judge of every day. */
static void every_day_of_three_centuries_agrees_with_gmtime(void **state)
{
    (void)state;
    const int first = day_of("1900-01-01");
    const int last = day_of("2200-12-31");
    /* 301 years, 73 of them leap: 1904 to 2196 without 2100, and not 2200 */
    assert_int_equal(last - first + 1, 301 * 365 + 73);
    for (int day = first; day <= last; day++) {
        const time_t seconds = (time_t)day * 86400;
        struct tm tm;
        assert_non_null(gmtime_r(&seconds, &tm));
        char wanted[32], got[FW_DATE_TEXT];
        strftime(wanted, sizeof wanted, "%Y-%m-%d", &tm);
        assert_string_equal(fw_date_write(day, got), wanted);
        assert_int_equal(day_of(got), day);
        assert_int_equal(fw_date_weekday(day), (tm.tm_wday + 6) % 7);
        assert_int_equal(fw_date_month(day), tm.tm_mon + 1);
        assert_int_equal(fw_date_year(day), tm.tm_year + 1900);
        const int begun = day - tm.tm_mday + 1;
        assert_int_equal(fw_date_first(tm.tm_year + 1900, tm.tm_mon + 1),
                         begun);
        /* The same month by the numbers of other years. */
        for (int years = -2; years <= 2; years++)
            assert_int_equal(fw_date_first(tm.tm_year + 1900 + years,
                                           tm.tm_mon + 1 - 12 * years),
                             begun);
    }
    assert_int_equal(fw_date_month(FW_NO_DAY), 0);
    assert_int_equal(fw_date_year(FW_NO_DAY), 0);
}

/* Lists of any length, and a list that is released is an empty one. */
static void inputs_and_origins_are_copied_whole(void **state)
{
    (void)state;
    char names[5][4];
    struct fw_input items[5];
    for (size_t i = 0; i < 5; i++) {
        snprintf(names[i], sizeof names[i], "f%zu", i);
        items[i] = (struct fw_input){names[i], 10.0 * (double)i,
                                     (unsigned)i + 7, i % 2};
    }
    for (size_t count = 0; count <= 5; count++) {
        const struct fw_inputs from = {items, count, count};
        struct fw_inputs to = {0};
        assert_int_equal(fw_inputs_copy(&to, &from, NULL), FW_OK);
        assert_int_equal(to.count, count);
        for (size_t i = 0; i < count; i++) {
            assert_string_equal(to.items[i].path, names[i]);
            assert_true(to.items[i].path != names[i]);
            assert_true(to.items[i].size == items[i].size &&
                        to.items[i].crc32 == items[i].crc32 &&
                        to.items[i].known == items[i].known);
        }
        fw_inputs_release(&to);
        assert_true(!to.items && to.count == 0 && to.capacity == 0);
    }
    struct fw_copied copied[] = {{(char *)"name", (char *)"Top"},
                                 {(char *)"soil", NULL}};
    for (size_t count = 0; count <= 2; count++) {
        const struct fw_origin from = {.fid = 12,
                                       .layer = count ? (char *)"fields" : NULL,
                                       .copied = copied,
                                       .copied_count = count};
        struct fw_origin to;
        assert_int_equal(fw_origin_copy(&from, &to, NULL), FW_OK);
        assert_true(to.fid == 12 && to.copied_count == count);
        assert_true(count ? strcmp(to.layer, "fields") == 0 : !to.layer);
        if (count > 0)
            assert_string_equal(to.copied[0].value, "Top");
        if (count > 1) {
            assert_string_equal(to.copied[1].column, "soil");
            assert_null(to.copied[1].value);
        }
        fw_origin_release(&to);
        assert_true(to.fid == 0 && !to.layer && !to.copied &&
                    to.copied_count == 0 && to.copied_capacity == 0);
    }
}

static void days_are_counted_from_1970(void **state)
{
    (void)state;
    assert_int_equal(day_of("1970-01-01"), 0);
    assert_int_equal(day_of("1969-12-31"), -1);
    assert_int_equal(day_of("2000-03-01") - day_of("2000-02-28"), 2);
    assert_int_equal(day_of("1900-03-01") - day_of("1900-02-28"), 1);
    assert_int_equal(day_of("2100-03-01") - day_of("2100-02-28"), 1);
    /* 2000-01-01 was a Saturday, 1900-01-01 a Monday. */
    assert_int_equal(fw_date_weekday(day_of("2000-01-01")), 5);
    assert_int_equal(fw_date_weekday(day_of("1900-01-01")), 0);
}

static void days_outside_are_written_as_nothing(void **state)
{
    (void)state;
    const int days[] = {FW_NO_DAY, day_of("1900-01-01") - 1,
                        day_of("2200-12-31") + 1, 2147483647, -2147483647};
    for (size_t i = 0; i < COUNT(days); i++) {
        char text[FW_DATE_TEXT] = "x";
        assert_string_equal(fw_date_write(days[i], text), "");
        assert_in_range(fw_date_weekday(days[i]), 0, 6);
    }
}

static void dates_that_are_none_are_refused_with_the_reason(void **state)
{
    (void)state;
    const struct {
        const char *text, *says;
    } cases[] = {
        {"", "2026-05-04"},
        {"2026-5-4", "year-month-day"},
        {"04/05/2026", "year-month-day"},
        {"2026-05-04 ", "year-month-day"},
        {" 2026-05-04", "year-month-day"},
        {"2026-05-04T00:00", "year-month-day"},
        {"2026/05/04", "year-month-day"},
        {"20260504", "year-month-day"},
        {"2026-05-0x", "year-month-day"},
        {"+026-05-04", "year-month-day"},
        {"tomorrow", "year-month-day"},
        {"2026-02-29", "1 to 28"},
        {"1900-02-29", "1 to 28"},
        {"2000-02-30", "1 to 29"},
        {"2026-04-31", "1 to 30"},
        {"2026-01-32", "1 to 31"},
        {"2026-01-00", "1 to 31"},
        {"2026-00-10", "1 to 12"},
        {"2026-13-10", "1 to 12"},
        {"1899-12-31", "1900 to 2200"},
        {"2201-01-01", "1900 to 2200"},
        {"0000-01-01", "1900 to 2200"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        int day = 42;
        struct fw_error err = {0};
        assert_int_equal(fw_date_read(cases[i].text, &day, &err), FW_EINPUT);
        assert_int_equal(err.status, FW_EINPUT);
        if (!strstr(err.text, cases[i].says))
            fail_msg("\"%s\" says: %s", cases[i].text, err.text);
        assert_int_equal(day, 42);
        assert_int_equal(fw_date_read(cases[i].text, &day, NULL), FW_EINPUT);
    }
}

static void any_double_has_a_whole_number(void **state)
{
    (void)state;
    static const struct {
        double value;
        int whole;
    } rows[] = {
        {0.4999, 0},
        {0.5, 1},
        {-0.5, -1},
        {2.5, 3},
        {1e9, 1000000000},
        {1e300, 1000000000},
        {-1e300, -1000000000},
        {HUGE_VAL, 1000000000},
        {-HUGE_VAL, -1000000000},
        {(double)NAN, 0},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        assert_int_equal(fw_whole(rows[i].value), rows[i].whole);
}

/* The C library's hypot is right to a last bit or two; and triangles of whole
 * sides. */
static void a_length_is_that_of_hypot(void **state)
{
    (void)state;
    const double sides[][3] = {
        {3, 4, 5}, {-5, 12, 13}, {8, -15, 17}, {0, 7, 7}};
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
        assert_true(fw_length(sides[i][0], sides[i][1]) == sides[i][2]);
    for (int power = -150; power <= 150; power += 10)
        for (int i = 0; i <= 90; i++) {
            const double size = pow(10, power), turn = i / 57.0;
            const double x = size * cos(turn), y = size * sin(turn);
            assert_true(fabs(fw_length(x, y) - hypot(x, y)) <=
                        hypot(x, y) * 4 * DBL_EPSILON);
        }
}

/* ---- work that tells how far it is ---- */

struct heard {
    const char *doing;
    double share[64];
    size_t count;
};

static void hear(const char *doing, double share, void *data)
{
    struct heard *heard = data;
    assert_true(heard->count < COUNT(heard->share));
    heard->doing = doing;
    heard->share[heard->count++] = share;
}

/* Three fields, the second of four layouts of which each is looked at twice. */
static void work_in_parts(void)
{
    fw_progress_begin("counting sheep");
    for (size_t field = 0; field < 3; field++) {
        const struct fw_progress all = fw_progress_enter(field, 3);
        for (size_t layout = 0; field == 1 && layout < 4; layout++) {
            const struct fw_progress one = fw_progress_enter(layout, 4);
            fw_progress_leave(fw_progress_enter(1, 2));
            fw_progress_leave(one);
        }
        fw_progress_leave(all);
    }
}

static void work_tells_what_share_of_it_is_done(void **state)
{
    (void)state;
    const double twelfth = 1 / 12.0;
    const double wanted[] = {0, 0,   4, 4, /* the first field */
                             4, 4.5, 5, 5,   5, 5.5,
                             6, 6,   6, 6.5, 7, 7, /* three layouts */
                             7, 7.5, 8, 8,   8,    /* the last */
                             8, 12};
    struct heard heard = {0};
    work_in_parts(); /* nobody hears */
    fw_progress_hear(hear, &heard);
    work_in_parts();
    fw_progress_hear(NULL, NULL);
    const size_t count = heard.count;
    work_in_parts();
    assert_string_equal(heard.doing, "counting sheep");
    assert_int_equal(heard.count, count);
    assert_int_equal(count, COUNT(wanted));
    for (size_t i = 0; i < count; i++)
        assert_true(fabs(heard.share[i] - wanted[i] * twelfth) < 1e-12);
}

/* What is done over again is no step back; something new begins at nothing. */
static void work_done_again_is_no_step_back(void **state)
{
    (void)state;
    struct heard heard = {0};
    fw_progress_hear(hear, &heard);
    fw_progress_begin("counting sheep");
    for (int again = 0; again < 2; again++)
        fw_progress_leave(fw_progress_enter(1, 4));
    fw_progress_begin("counting them again");
    fw_progress_hear(NULL, NULL);
    const double wanted[] = {0, 0.25, 0.5, 0.5, 0.5, 0};
    assert_int_equal(heard.count, COUNT(wanted));
    for (size_t i = 0; i < COUNT(wanted); i++)
        assert_true(fabs(heard.share[i] - wanted[i]) < 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_length_is_that_of_hypot),
        cmocka_unit_test(room_is_zeroed_and_may_be_empty),
        cmocka_unit_test(sizes_that_overflow_get_no_room),
        cmocka_unit_test(arrays_keep_their_items_and_zero_the_rest),
        cmocka_unit_test(an_array_without_room_stays_as_it_is),
        cmocka_unit_test(an_error_says_what_and_then_where),
        cmocka_unit_test(an_error_may_quote_itself),
        cmocka_unit_test(without_an_error_the_status_is_still_told),
        cmocka_unit_test(what_steers_a_terminal_becomes_spaces),
        cmocka_unit_test(an_error_is_one_line),
        cmocka_unit_test(a_long_error_ends_with_a_whole_letter),
        cmocka_unit_test(a_long_place_leaves_room_for_what_happened),
        cmocka_unit_test(notes_are_kept_in_order),
        cmocka_unit_test(levels_have_words),
        cmocka_unit_test(text_grows_by_pieces_of_any_length),
        cmocka_unit_test(a_failed_text_tells_at_its_end),
        cmocka_unit_test(numbers_have_the_fewest_digits_that_read_back),
        cmocka_unit_test(decimals_of_every_size_have_their_own_digits),
        cmocka_unit_test(numbers_look_as_people_write_them),
        cmocka_unit_test(fixed_numbers_drop_their_zeros),
        cmocka_unit_test(json_strings_are_escaped),
        cmocka_unit_test(every_letter_of_unicode_is_one),
        cmocka_unit_test(blanks_at_both_ends_are_trimmed),
        cmocka_unit_test(clipping_keeps_whole_letters),
        cmocka_unit_test(the_nearest_word_is_found),
        locale_test(a_comma_locale_changes_nothing),
        cmocka_unit_test(every_day_of_three_centuries_agrees_with_gmtime),
        cmocka_unit_test(any_double_has_a_whole_number),
        cmocka_unit_test(inputs_and_origins_are_copied_whole),
        cmocka_unit_test(work_tells_what_share_of_it_is_done),
        cmocka_unit_test(work_done_again_is_no_step_back),
        cmocka_unit_test(days_are_counted_from_1970),
        cmocka_unit_test(days_outside_are_written_as_nothing),
        cmocka_unit_test(dates_that_are_none_are_refused_with_the_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
