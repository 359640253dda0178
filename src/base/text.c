#include "base/text.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include <ctype.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool reserve(struct fw_text *text, size_t more)
{
    if (text->failed || more > (size_t)-1 - text->length - 1 ||
        fw_array_reserve(&text->bytes, &text->capacity, text->length + more + 1,
                         1, NULL))
        text->failed = true;
    return !text->failed;
}

void fw_text_add_bytes(struct fw_text *text, const char *bytes, size_t n)
{
    if (!reserve(text, n))
        return;
    if (n)
        memcpy(text->bytes + text->length, bytes, n);
    text->length += n;
    text->bytes[text->length] = '\0';
}

void fw_text_add(struct fw_text *text, const char *string)
{
    fw_text_add_bytes(text, string, strlen(string));
}

void fw_text_addv(struct fw_text *text, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    char small[128];
    const int length = fw_text_print(small, sizeof small, format, args);
    if (length < 0)
        text->failed = true;
    else if ((size_t)length < sizeof small)
        fw_text_add_bytes(text, small, (size_t)length);
    else if (reserve(text, (size_t)length)) {
        fw_text_print(text->bytes + text->length, (size_t)length + 1, format,
                      again);
        text->length += (size_t)length;
    }
    va_end(again);
}

void fw_text_addf(struct fw_text *text, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    fw_text_addv(text, format, args);
    va_end(args);
}

/* ---- numbers, the quick way ---- */

/* Printing and reading back each number by the C library is most of what a
 * plan's files cost. With a long double of 64 bits a whole number of 17 digits
 * and a power of ten up to 27 are exact (from 0.0001 on, 20 is the greatest
 * that is asked for), so that one division tells whether so many digits read
 * back the same. What is outside that, or so near to half way
 * that the second rounding could go wrong, takes the slow way. */
enum { most_power = 20 };

static long double power_of_ten(int power)
{
    static const long double powers[most_power + 1] = {
        1e0L,  1e1L,  1e2L,  1e3L,  1e4L,  1e5L,  1e6L,
        1e7L,  1e8L,  1e9L,  1e10L, 1e11L, 1e12L, 1e13L,
        1e14L, 1e15L, 1e16L, 1e17L, 1e18L, 1e19L, 1e20L};
    return powers[power];
}

/* digits / 10^power as a decimal, without zeros at its end. */
static void add_decimal(struct fw_text *text, bool minus,
                        unsigned long long digits, int power)
{
    char spelling[64];
    char *end = spelling + sizeof spelling, *at = end;
    while (power > 0 && digits % 10 == 0) {
        digits /= 10;
        power--;
    }
    int written = 0;
    do {
        *--at = (char)('0' + digits % 10);
        digits /= 10;
        if (++written == power)
            *--at = '.';
    } while (digits > 0 || written <= power);
    if (minus)
        *--at = '-';
    fw_text_add_bytes(text, at, (size_t)(end - at));
}

enum answer { NO, YES, UNSURE };

static enum answer reads_back(unsigned long long digits, int power, double size)
{
    const long double quotient = (long double)digits / power_of_ten(power);
    const double nearest = (double)quotient;
    const long double off = quotient - (long double)nearest;
    const long double beside = (long double)nearest + 2 * off;
    if (off != 0 && (long double)(double)beside == beside)
        return UNSURE; /* half way between two doubles, but for its rounding */
    return nearest == size ? YES : NO;
}

static bool add_quickly(struct fw_text *text, double number)
{
    const double size = fabs(number);
    if (LDBL_MANT_DIG < 64 || !(size >= 1e-4 && size < 1e15))
        return false;
    const int exponent = (int)floor(log10(size));
    for (int digits = DBL_DIG; digits <= 17; digits++) {
        const int power = digits - 1 - exponent;
        if (power < 0) /* a little under 1e15, whose logarithm rounds up */
            return false;
        const unsigned long long whole = (unsigned long long)llrintl(
            (long double)size * power_of_ten(power));
        const enum answer answer = reads_back(whole, power, size);
        if (answer == UNSURE)
            return false;
        if (answer == YES) {
            add_decimal(text, number < 0, whole, power);
            return true;
        }
    }
    return false;
}

/* Any decimal of up to 15 digits survives the way into a double and back, so
 * that 15 digits find the shortest spelling if it has so few; below the
 * smallest normal number doubles are so sparse that even one digit may do. */
void fw_text_add_number(struct fw_text *text, double number)
{
    if (!isfinite(number)) {
        fw_text_add(text, "null");
        return;
    }
    if (!(fabs(number) > 0)) {
        fw_text_add(text, signbit(number) ? "-0" : "0");
        return;
    }
    if (add_quickly(text, number))
        return;
    char spelling[64];
    const struct fw_locale now = fw_locale_enter();
    int digits = fabs(number) < DBL_MIN ? 1 : DBL_DIG;
    do
        snprintf(spelling, sizeof spelling, "%.*g", digits, number);
    while (++digits <= 17 && strtod(spelling, NULL) != number);
    fw_locale_leave(now);
    fw_text_add(text, spelling);
}

void fw_text_add_fixed(struct fw_text *text, double number, int decimals)
{
    if (!isfinite(number)) {
        fw_text_add(text, "null");
        return;
    }
    const int most = DBL_DIG + 2;
    const int shown_quickly = 10;
    if (LDBL_MANT_DIG >= 64 && decimals >= 0 && decimals <= shown_quickly &&
        fabs(number) < (decimals == shown_quickly ? 1e5 : 1e6)) {
        const unsigned long long whole = (unsigned long long)llrintl(
            (long double)fabs(number) * power_of_ten(decimals));
        add_decimal(text, number < 0 && whole > 0, whole, decimals);
        return;
    }
    const int shown = decimals < 0 ? 0 : decimals > most ? most : decimals;
    char spelling[DBL_MAX_10_EXP + 32];
    const struct fw_locale now = fw_locale_enter();
    snprintf(spelling, sizeof spelling, "%.*f", shown, number);
    fw_locale_leave(now);

    size_t length = strlen(spelling);
    if (shown > 0) {
        while (spelling[length - 1] == '0')
            length--;
        if (spelling[length - 1] == '.')
            length--;
    }
    /* What rounds to nothing has no sign. */
    const bool negative_zero = length == 2 && memcmp(spelling, "-0", 2) == 0;
    fw_text_add_bytes(text, spelling + negative_zero, length - negative_zero);
}

char *fw_text_clip(const char *string, char *room, size_t size)
{
    size_t length = strlen(string);
    if (length > size - 1) {
        length = size - 1;
        while (length > 0 && ((unsigned char)string[length] & 0xC0) == 0x80)
            length--;
    }
    memcpy(room, string, length);
    room[length] = '\0';
    return room;
}

char *fw_text_trim(const char *string, size_t length, char *room, size_t size)
{
    while (length > 0 && isspace((unsigned char)string[0])) {
        string++;
        length--;
    }
    while (length > 0 && isspace((unsigned char)string[length - 1]))
        length--;
    if (length >= size)
        length = size - 1;
    memcpy(room, string, length);
    room[length] = '\0';
    return room;
}

static void add_json_letter(struct fw_text *text, const char *letter,
                            size_t bytes)
{
    const unsigned char c = (unsigned char)*letter;
    if (bytes == 0)
        fw_text_add(text, "\xEF\xBF\xBD"); /* U+FFFD: not a letter */
    else if (c == '"' || c == '\\') {
        fw_text_add(text, "\\");
        fw_text_add_bytes(text, letter, 1);
    } else if (c == '\n')
        fw_text_add(text, "\\n");
    else if (c == '\t')
        fw_text_add(text, "\\t");
    else if (c < ' ' || c == 127)
        fw_text_addf(text, "\\u%04x", (unsigned)c);
    else
        fw_text_add_bytes(text, letter, bytes);
}

/* Bytes up to what is no letter of ASCII, or needs a backslash. */
static size_t plain_bytes(const char *string)
{
    size_t n = 0;
    while (string[n] >= ' ' && string[n] < 127 && string[n] != '"' &&
           string[n] != '\\')
        n++;
    return n;
}

void fw_text_add_json(struct fw_text *text, const char *string)
{
    fw_text_add(text, "\"");
    while (*string) {
        const size_t plain = plain_bytes(string);
        fw_text_add_bytes(text, string, plain);
        string += plain;
        if (!*string)
            break;
        const size_t bytes = fw_text_letter(string);
        add_json_letter(text, string, bytes);
        string += bytes ? bytes : 1;
    }
    fw_text_add(text, "\"");
}

enum fw_status fw_text_done(const struct fw_text *text, struct fw_error *err)
{
    return text->failed ? fw_fail_memory(err) : FW_OK;
}

void fw_text_release(struct fw_text *text)
{
    fw_free(text->bytes);
    *text = (struct fw_text){0};
}

enum { longest_word = 63 };

static bool same_letter(char a, char b)
{
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

/* Letters to add, drop, change, or swap with a neighbour, to make b of a. Big
 * and small letters count as the same. */
static size_t edits(const char *a, size_t a_length, const char *b,
                    size_t b_length)
{
    size_t rows[3][longest_word + 1];
    for (size_t j = 0; j <= b_length; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= a_length; i++) {
        size_t *row = rows[i % 3];
        const size_t *above = rows[(i - 1) % 3];
        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            const bool same = same_letter(a[i - 1], b[j - 1]);
            size_t least = above[j - 1] + !same;
            if (above[j] + 1 < least)
                least = above[j] + 1;
            if (row[j - 1] + 1 < least)
                least = row[j - 1] + 1;
            if (i > 1 && j > 1 && same_letter(a[i - 1], b[j - 2]) &&
                same_letter(a[i - 2], b[j - 1]) &&
                rows[(i - 2) % 3][j - 2] + 1 < least)
                least = rows[(i - 2) % 3][j - 2] + 1;
            row[j] = least;
        }
    }
    return rows[a_length % 3][b_length];
}

const char *fw_text_nearest(const char *word, const char *const *words,
                            size_t count)
{
    if (!word || !words)
        return NULL;
    const size_t length = strlen(word);
    if (length > longest_word)
        return NULL;
    const char *nearest = NULL;
    size_t least = length / 3 + 1;
    for (size_t i = 0; i < count; i++) {
        const size_t other = strlen(words[i]);
        if (other > longest_word)
            continue;
        const size_t distance = edits(word, length, words[i], other);
        if (distance < least) {
            least = distance;
            nearest = words[i];
        }
    }
    return nearest;
}

void fw_bytes_free(char *bytes)
{
    fw_free(bytes);
}
