/* Reading a voltage from a map's text. OpenStreetMap wants volts without unit
 * or separator, several with a semicolon between (wiki, Key:voltage); registers
 * write kilovolts, units, thousands apart and decimal commas. A text that can
 * be read in several ways is read as the highest standard voltage that it can
 * mean, for the higher one wants the greater distance. */
#include "mapped/voltage.h"

#include "base/text.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

enum { most_numbers = FW_EFFORT(16), most_digits = FW_EFFORT(32) };

/* Digits of a group of them. */
enum { thousands = FW_PARTS(3) };

/* What a comma, a point or a space between digits is. */
enum style {
    LISTED,  /* a comma stands between numbers, a point before decimals */
    GROUPED, /* between thousands, where three digits follow */
    DECIMAL  /* a comma after one to three digits stands before decimals */
};

struct number {
    double value;
    enum fw_farm__volt_unit unit;
    bool has_unit;
};

/* ---- one number ---- */

/* Bytes of a separator of thousands: , . ' a space, a narrow or hard one. */
static size_t separator(const char *at)
{
    static const char *const marks[] = {
        ",", ".", "'", " ", "\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x99"};
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (!strncmp(at, marks[i], strlen(marks[i])))
            return strlen(marks[i]);
    return 0;
}

static size_t digits(const char *at)
{
    size_t count = 0;
    while (isdigit((unsigned char)at[count]))
        count++;
    return count;
}

/* Takes count digits over, as far as there is room. */
static void take(const char **at, size_t count, char *room, size_t *length)
{
    for (size_t i = 0; i < count; i++)
        if (*length + 2 < most_digits)
            room[(*length)++] = (*at)[i];
    *at += count;
}

/* Begins at a digit. */
static double number_at(const char **at, enum style style)
{
    char room[most_digits];
    size_t length = 0;
    const size_t first = digits(*at);
    const bool may_group =
        style == GROUPED && first <= thousands && **at != '0';
    take(at, first, room, &length);
    for (size_t apart = separator(*at);
         may_group && apart && digits(*at + apart) == thousands;
         apart = separator(*at)) {
        *at += apart;
        take(at, thousands, room, &length);
    }
    const bool naught = length == 1 && room[0] == '0';
    const bool point =
        **at == '.' ||
        (**at == ',' && ((style == DECIMAL && first <= thousands) || naught));
    if (point && digits(*at + 1)) {
        ++*at;
        room[length++] = '.';
        take(at, digits(*at), room, &length);
    }
    room[length] = '\0';
    const char *end;
    return fw_text_number(room, &end);
}

/* The unit in front, "kV" or "-kV" or " volts"; none leaves all as it is. */
static bool unit_at(const char **at, enum fw_farm__volt_unit *out)
{
    const char *word = *at + strspn(*at, " -_");
    size_t length = 0;
    while (isalpha((unsigned char)word[length]))
        length++;
    if (!strncasecmp(word, "kv", 2) || !strncasecmp(word, "kilov", 5))
        *out = FW_FARM__KILOVOLTS;
    else if ((length == 1 && (*word == 'v' || *word == 'V')) ||
             !strncasecmp(word, "volt", 4) || !strncasecmp(word, "vac", 3) ||
             !strncasecmp(word, "vdc", 3))
        *out = FW_FARM__VOLTS;
    else
        return false;
    *at = word + length;
    return true;
}

/* A unit counts for the numbers before it that have none: "20/0.4 kV". What is
 * under zero is a register's word for nothing. */
static size_t numbers_of(const char *text, enum style style,
                         struct number numbers[most_numbers])
{
    size_t count = 0, without = 0;
    text += strspn(text, " ");
    if (*text == '-')
        return 0;
    while (*text && count < most_numbers) {
        if (!isdigit((unsigned char)*text)) {
            text++;
            continue;
        }
        numbers[count++] = (struct number){.value = number_at(&text, style)};
        enum fw_farm__volt_unit unit;
        if (!unit_at(&text, &unit))
            continue;
        for (; without < count; without++) {
            numbers[without].unit = unit;
            numbers[without].has_unit = true;
        }
    }
    return count;
}

/* ---- all of a text ---- */

void fw_farm__volt_units_in(const char *text, bool *volts, bool *kilovolts)
{
    struct number numbers[most_numbers];
    const size_t count = numbers_of(text, LISTED, numbers);
    for (size_t i = 0; i < count; i++) {
        *kilovolts |=
            numbers[i].has_unit && numbers[i].unit == FW_FARM__KILOVOLTS;
        *volts |= numbers[i].has_unit ? numbers[i].unit == FW_FARM__VOLTS
                                      : numbers[i].value >= FW_MAP_PLAIN_V;
    }
}

static struct fw_farm__voltage read_as(const char *text, enum style style,
                                       enum fw_farm__volt_unit bare)
{
    struct number numbers[most_numbers];
    struct fw_farm__voltage voltage = {0};
    const size_t count = numbers_of(text, style, numbers);
    for (size_t i = 0; i < count; i++) {
        const double value = numbers[i].value;
        const enum fw_farm__volt_unit unit =
            numbers[i].has_unit ? numbers[i].unit : bare;
        const bool volts = unit == FW_FARM__VOLTS ||
                           (unit == FW_FARM__EITHER && value >= FW_MAP_PLAIN_V);
        const double kv = volts ? value / 1000 : value;
        if (!(value > 0))
            continue;
        voltage.told = true;
        if (voltage.kv < 0 || !fw_safety_is_nominal_kv(kv)) {
            voltage.kv = -1;
            continue;
        }
        if (!(kv > voltage.kv))
            continue;
        voltage.kv = kv;
        voltage.either = unit == FW_FARM__EITHER && !volts &&
                         fw_safety_is_nominal_kv(value / 1000);
    }
    return voltage;
}

struct fw_farm__voltage fw_farm__voltage(const char *text,
                                         enum fw_farm__volt_unit bare)
{
    static const enum style styles[] = {LISTED, GROUPED, DECIMAL};
    struct fw_farm__voltage best = {0};
    for (size_t i = 0; i < sizeof styles / sizeof styles[0]; i++) {
        const struct fw_farm__voltage one = read_as(text, styles[i], bare);
        if (!one.told || (best.told && one.kv < best.kv))
            continue;
        const bool plain = best.told && one.kv <= best.kv && !best.either;
        best = one;
        best.either &= !plain;
    }
    return best;
}

enum fw_farm__volt_unit fw_farm__volt_unit_of(const char *column)
{
    const size_t length = strlen(column);
    for (size_t i = 0; i + 2 <= length; i++)
        if (!strncasecmp(column + i, "kv", 2) &&
            !isalpha((unsigned char)column[i + 2]))
            return FW_FARM__KILOVOLTS;
    static const char kilovolts[] = "kilovolts";
    for (size_t i = 0; i + strlen(kilovolts) <= length; i++)
        if (!strncasecmp(column + i, kilovolts, strlen(kilovolts)))
            return FW_FARM__KILOVOLTS;
    if (!strcasecmp(column, "volts"))
        return FW_FARM__VOLTS;
    return length > 2 && !strcasecmp(column + length - 2, "_v")
               ? FW_FARM__VOLTS
               : FW_FARM__EITHER;
}
