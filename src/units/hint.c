/* What to write instead. Candidates are made from what was written, from the
 * closest to the general example of the kind, and each is read before it is
 * named: a hint that is refused in its turn helps nobody. */
#include "base/text.h"
#include "units/quantity.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { plain_room = 128 };

/* The text in ASCII where it can be: unbroken spaces, dashes, quotes and
 * fractions as word processors put them. */
static void make_plain(const char *text, char plain[plain_room])
{
    static const struct {
        const char *from, *to;
    } pairs[] = {
        {"\xC2\xA0", " "},      {"\xE2\x80\x89", " "}, {"\xE2\x80\xAF", " "},
        {"\xE2\x80\x93", "-"},  {"\xE2\x80\x94", "-"}, {"\xE2\x88\x92", "-"},
        {"\xE2\x80\x99", "'"},  {"\xE2\x80\xB2", "'"}, {"\xE2\x80\x9D", "\""},
        {"\xE2\x80\xB3", "\""}, {"\xC2\xBD", " 1/2"},  {"\xC2\xBC", " 1/4"},
        {"\xC2\xBE", " 3/4"},
    };
    size_t length = 0;
    while (*text && length + 5 < plain_room) {
        size_t i = 0;
        const size_t count = sizeof pairs / sizeof *pairs;
        while (i < count &&
               strncmp(text, pairs[i].from, strlen(pairs[i].from)) != 0)
            i++;
        if (i < count) {
            memcpy(plain + length, pairs[i].to, strlen(pairs[i].to));
            length += strlen(pairs[i].to);
            text += strlen(pairs[i].from);
        } else
            plain[length++] = *text++;
    }
    while (length > 0 && plain[length - 1] == ' ')
        length--;
    plain[length] = '\0';
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Where the numbers end and the unit starts: "4-6 in" and "4 to 6 in" at the
 * "in", 9' at the quote. */
static size_t numbers_length(const char *plain)
{
    size_t length = 0;
    for (;;) {
        length += strspn(plain + length, "0123456789 .,'/+-");
        if (length == 0 || strncmp(plain + length, "to ", 3) != 0 ||
            !is_digit(plain[length + 3]))
            break;
        length += 3;
    }
    while (length > 0 && !is_digit(plain[length - 1]))
        length--;
    return length;
}

/* A number without separators, as we read it ourselves. */
static bool read_plain(const char *text, size_t length, double *out)
{
    char copy[fw_number_room];
    if (length == 0 || length >= sizeof copy)
        return false;
    memcpy(copy, text, length);
    copy[length] = '\0';
    struct fw_number number;
    if (fw_quantity__number(copy, &number) || *number.rest)
        return false;
    *out = number.value;
    return true;
}

static bool write_number(double number, char fixed[fw_number_room])
{
    struct fw_text text = {0};
    fw_text_add_fixed(&text, number, 6);
    const bool fits = !text.failed && text.length < fw_number_room;
    if (fits)
        memcpy(fixed, text.bytes, text.length + 1);
    fw_text_release(&text);
    return fits;
}

/* "2 1/2", "1/2" */
static bool fix_fraction(const char *text, char fixed[fw_number_room])
{
    const char *slash = strchr(text, '/');
    if (!slash)
        return false;
    const char *top = slash;
    while (top > text && is_digit(top[-1]))
        top--;
    double whole = 0, numerator, denominator;
    if (!read_plain(top, (size_t)(slash - top), &numerator) ||
        !read_plain(slash + 1, strlen(slash + 1), &denominator))
        return false;
    if (top > text && !read_plain(text, (size_t)(top - text), &whole))
        return false;
    if (!(denominator > 0) || !(whole >= 0))
        return false;
    return write_number(whole + numerator / denominator, fixed);
}

/* "4-6", "4 to 6": the middle */
static bool fix_range(const char *text, char fixed[fw_number_room])
{
    const char *dash = strchr(text, '-');
    const char *to = strstr(text, "to");
    const char *between = to ? to : dash;
    if (!between || between == text)
        return false;
    const char *after = between + (to ? 2 : 1);
    double low, high;
    if (!read_plain(text, (size_t)(between - text), &low) ||
        !read_plain(after, strlen(after), &high))
        return false;
    return write_number((low + high) / 2, fixed);
}

/* Groups of three digits, the first of one to three: then what stands between
 * them separates thousands. */
static bool in_thousands(const char *text, size_t length, char between)
{
    size_t run = 0;
    bool first = true;
    for (size_t i = 0; i <= length; i++) {
        if (i < length && is_digit(text[i])) {
            run++;
            continue;
        }
        if (i < length && text[i] != between)
            return false;
        if (first ? run < 1 || run > 3 : run != 3)
            return false;
        first = false;
        run = 0;
    }
    return true;
}

/* "1,500", "1 500", "1.500,5", "1,5": the last comma or point stands before the
 * decimals, unless all there is are thousands. */
static bool fix_separators(const char *text, char fixed[fw_number_room])
{
    const size_t length = strlen(text);
    if (length >= fw_number_room)
        return false;
    const char *between = strpbrk(text, " ,.'");
    if (!between)
        return false;

    size_t whole = length;
    if (!in_thousands(text, length, *between)) {
        const char *point = strrchr(text, '.');
        const char *comma = strrchr(text, ',');
        const char *last = !comma || (point && point > comma) ? point : comma;
        if (!last)
            return false;
        whole = (size_t)(last - text);
        const bool digits_only = strspn(text, "0123456789") == whole;
        if (!digits_only && !in_thousands(text, whole, *between))
            return false;
    }
    size_t n = 0;
    for (size_t i = 0; i < length; i++)
        if (is_digit(text[i]))
            fixed[n++] = text[i];
        else if (i == whole)
            fixed[n++] = '.';
    fixed[n] = '\0';
    return true;
}

/* The one number that was meant; false when it cannot be told. */
static bool fix_number(const char *text, char fixed[fw_number_room])
{
    double number;
    if (read_plain(text, strlen(text), &number)) {
        memcpy(fixed, text, strlen(text) + 1);
        return true;
    }
    return fix_fraction(text, fixed) || fix_range(text, fixed) ||
           fix_separators(text, fixed);
}

struct hints {
    const struct fw_asked *asked;
    char *text;
    int count;
};

/* Put the spelling into the hint when it reads well. */
static bool offer(struct hints *hints, const char *spelling)
{
    double value;
    enum fw_fault fault;
    if (fw_quantity__try(hints->asked, spelling, &value, &fault, NULL) || fault)
        return false;
    const size_t length = strlen(hints->text);
    snprintf(hints->text + length, fw_hint_room - length, "%s\"%s\"",
             hints->count ? " or " : "", spelling);
    hints->count++;
    return true;
}

static bool offer_with(struct hints *hints, const char *number,
                       const char *unit)
{
    char spelling[fw_number_room + plain_room];
    const int length = snprintf(spelling, sizeof spelling, "%s%s%s", number,
                                *unit ? " " : "", unit);
    /* "1 day", not "1 days", where that is a unit as well. */
    if (strcmp(number, "1") == 0 && spelling[length - 1] == 's') {
        spelling[length - 1] = '\0';
        if (offer(hints, spelling))
            return true;
        spelling[length - 1] = 's';
    }
    return offer(hints, spelling);
}

/* A common unit, of whatever kind: no slip of a letter. */
static bool is_common(const char *unit)
{
    for (int kind = 0; kind < FW_KIND_COUNT_OF_KINDS; kind++) {
        const char *const *spelling =
            fw_quantity__row((enum fw_kind)kind)->spellings;
        for (; *spelling; spelling++)
            if (strcmp(*spelling, unit) == 0)
                return true;
    }
    return false;
}

/* A word of two letters is too short to have a nearest one ("gr", "kf"): then
 * the first letter counts. What starts with a slash lost its whole top. */
static const char *nearest_unit(const struct fw_kind_row *row, const char *unit)
{
    if (*unit == '/' || is_common(unit))
        return NULL;
    size_t count = 0;
    while (row->spellings[count])
        count++;
    const char *nearest = fw_text_nearest(unit, row->spellings, count);
    for (size_t i = 0; !nearest && strlen(unit) == 2 && i < count; i++)
        if (*row->spellings[i] == *unit && strlen(row->spellings[i]) <= 2)
            nearest = row->spellings[i];
    return nearest;
}

/* "62 kg kg": its first word may do. */
static bool offer_first_word(struct hints *hints, const char *number,
                             const char *unit)
{
    char word[plain_room];
    const size_t length = strcspn(unit, " ");
    memcpy(word, unit, length);
    word[length] = '\0';
    return unit[length] && offer_with(hints, number, word);
}

/* The usual unit of the farm; while that is not said, of whoever writes "lb/"
 * or "gal". */
static const char *usual_unit(const struct fw_asked *asked, const char *unit)
{
    const char *const *spellings = fw_quantity__row(asked->kind)->spellings;
    if (!asked->units_given && strncmp(unit, spellings[FW_US], 2) == 0 &&
        strncmp(unit, spellings[FW_METRIC], 2) != 0)
        return spellings[FW_US];
    return spellings[asked->units];
}

/* The unit, or the nearest to it, or the usual one. A unit with digits in it
 * is no slip of a letter: then the number may be wrong as well. */
static bool offer_units(struct hints *hints, const char *number,
                        const char *unit)
{
    const struct fw_kind_row *row = fw_quantity__row(hints->asked->kind);
    if (strcmp(unit, "\"") == 0 && offer_with(hints, number, "in"))
        return true;
    if (strcmp(unit, "'") == 0 && offer_with(hints, number, "ft"))
        return true;
    const char *nearest = nearest_unit(row, unit);
    return offer_with(hints, number, unit) ||
           (nearest && offer_with(hints, number, nearest)) ||
           offer_first_word(hints, number, unit) ||
           (!strpbrk(unit, "0123456789") &&
            offer_with(hints, number, usual_unit(hints->asked, unit)));
}

/* Which ton was meant is not ours to guess: name all three. */
static bool offer_tons(struct hints *hints, const char *number,
                       const char *unit)
{
    static const char *const tons[] = {"tonne", "short_ton", "long_ton"};
    const char *ton = unit;
    while ((ton = strpbrk(ton, "tT")) != NULL && strncmp(ton + 1, "on", 2) != 0)
        ton++;
    if (!ton)
        return false;
    const char *after = ton + 3;
    after += *after == 's';
    for (size_t i = 0; i < sizeof tons / sizeof *tons; i++) {
        char full[2 * plain_room];
        snprintf(full, sizeof full, "%.*s%s%s", (int)(ton - unit), unit,
                 tons[i], after);
        if (strlen(full) < plain_room)
            offer_with(hints, number, full);
    }
    return hints->count > 0;
}

/* A bare number: with the unit of the farm, or with both while it is not said
 * which the farm uses. */
static bool offer_both(struct hints *hints, const char *number)
{
    const struct fw_asked *asked = hints->asked;
    const struct fw_kind_row *row = fw_quantity__row(asked->kind);
    const char *metric = row->spellings[FW_METRIC];
    const char *us = row->spellings[FW_US];
    if (asked->units_given)
        return offer_with(hints, number, row->spellings[asked->units]);
    offer_with(hints, number, metric);
    if (strcmp(metric, us) != 0)
        offer_with(hints, number, us);
    return hints->count > 0;
}

static bool offer_fixed(struct hints *hints, const char *text,
                        enum fw_fault fault)
{
    char room[plain_room], number[plain_room], fixed[fw_number_room];
    make_plain(text, room);
    const char *plain = fw_quantity__skip_spaces(room);
    const size_t length = numbers_length(plain);
    memcpy(number, plain, length);
    number[length] = '\0';
    const char *unit = fw_quantity__skip_spaces(plain + length);
    const bool drop_sign = fault == FW_FAULT_NEGATIVE &&
                           !fw_quantity__has_sign(hints->asked->kind);
    if (!fix_number(number + (drop_sign && *number == '-'), fixed))
        return false;

    switch (fault) {
    case FW_FAULT_TON:
        return offer_tons(hints, fixed, unit);
    case FW_FAULT_NO_UNIT:
        return offer_both(hints, fixed);
    case FW_FAULT_BARE_SHARE:
        return offer_with(hints, fixed, "%");
    case FW_FAULT_NOT_WHOLE:
        fixed[strcspn(fixed, ".")] = '\0';
        return offer(hints, fixed);
    case FW_FAULT_SIZE:
        return false;
    case FW_FAULT_NONE:
    case FW_FAULT_NO_NUMBER:
    case FW_FAULT_SHAPE:
    case FW_FAULT_NEGATIVE:
    case FW_FAULT_UNIT:
        break;
    }
    return offer_units(hints, fixed, unit);
}

void fw_hint__write(const struct fw_asked *asked, const char *text,
                    enum fw_fault fault, char hint[fw_hint_room])
{
    struct hints hints = {.asked = asked, .text = hint};
    hint[0] = '\0';
    if (!offer_fixed(&hints, text, fault))
        snprintf(hint, fw_hint_room, "\"%s\"",
                 fw_quantity__row(asked->kind)->examples[asked->units]);
}
