#include "figures/say.h"

#include "figures/units.h"

#include <math.h>
#include <string.h>

/* Digits after the point that are all nought say nothing. */
static void drop_noughts(char *number)
{
    if (!strchr(number, '.'))
        return;
    char *end = number + strlen(number) - 1;
    while (*end == '0')
        *end-- = '\0';
    if (*end == '.')
        *end = '\0';
}

static const char *fixed(double value, int decimals, const char *unit,
                         char text[FW_SAID])
{
    char number[32];
    fw_text_format(number, sizeof number, "%.*f", decimals, value);
    drop_noughts(number);
    fw_text_format(text, FW_SAID, "%s%s%s", number, unit[0] ? " " : "", unit);
    return text;
}

/* Three figures below 100, whole numbers above: nobody sets a post by the
 * centimetre. */
static const char *say(double value, const char *unit, char text[FW_SAID])
{
    const double size = fabs(value);
    const int decimals = size >= 99.5 || size == 0 ? 0 : size >= 10 ? 1 : 2;
    return fixed(value, decimals, unit, text);
}

const char *fw_say_number(double value, char text[FW_SAID])
{
    return say(value, "", text);
}

const char *fw_say_temperature(double c, enum fw_units units,
                               char text[FW_SAID])
{
    const double freezing_f = 32, a_degree_f = 1.8;
    return units == FW_US ? fixed(c * a_degree_f + freezing_f, 0, "F", text)
                          : fixed(c, 0, "C", text);
}

const char *fw_say_area(double ha, enum fw_units units, char text[FW_SAID])
{
    return units == FW_US ? say(ha / FW_ACRE_HA, "acres", text)
                          : say(ha, "ha", text);
}

const char *fw_say_length(double m, enum fw_units units, char text[FW_SAID])
{
    if (units == FW_US)
        return say(round(m / FW_FOOT_M), "ft", text);
    return say(m < 10 ? round(m * 10) / 10 : round(m), "m", text);
}

const char *fw_say_mass(double kg, enum fw_units units, char text[FW_SAID])
{
    return units == FW_US ? say(kg / FW_POUND_KG, "lb", text)
                          : say(kg, "kg", text);
}

const char *fw_say_volume(double litres, enum fw_units units,
                          char text[FW_SAID])
{
    return units == FW_US ? say(round(litres / FW_GALLON_L), "gal", text)
                          : say(round(litres), "L", text);
}

const char *fw_say_flow(double l_min, enum fw_units units, char text[FW_SAID])
{
    return units == FW_US ? say(l_min / FW_GALLON_L, "gal/min", text)
                          : say(l_min, "L/min", text);
}

const char *fw_say_speed(double m_s, enum fw_units units, char text[FW_SAID])
{
    return units == FW_US ? say(m_s / FW_FOOT_M, "ft/s", text)
                          : say(m_s, "m/s", text);
}

const char *fw_say_pressure(double kpa, enum fw_units units, char text[FW_SAID])
{
    const double kpa_bar = 100;
    return units == FW_US ? say(kpa / FW_PSI_KPA, "psi", text)
                          : say(kpa / kpa_bar, "bar", text);
}

double fw_in_mass_per_area(double kg_ha, enum fw_units units)
{
    return units == FW_US ? kg_ha / FW_POUND_KG * FW_ACRE_HA : kg_ha;
}

const char *fw_mass_per_area_unit(enum fw_units units)
{
    return units == FW_US ? "lb/acre" : "kg/ha";
}

const char *fw_say_mass_per_area(double kg_ha, enum fw_units units,
                                 char text[FW_SAID])
{
    return say(round(fw_in_mass_per_area(kg_ha, units) / 10) * 10,
               fw_mass_per_area_unit(units), text);
}

/* ---- rounded towards caution ---- */

double fw_say_round(double value, int decimals, enum fw_toward toward)
{
    const double scale = pow(10, decimals);
    const double scaled = value * scale;
    if (toward == FW_DOWN)
        return floor(scaled) / scale;
    if (toward == FW_UP)
        return ceil(scaled) / scale;
    return round(scaled) / scale;
}

/* A whole number comes out of a division a hair beside itself. */
static double whole(double value, enum fw_toward toward)
{
    const double hair = 1e-9;
    return fw_say_round(value + (toward == FW_UP     ? -hair
                                 : toward == FW_DOWN ? hair
                                                     : 0),
                        0, toward);
}

const char *fw_say_height(double m, enum fw_units units, enum fw_toward toward,
                          char text[FW_SAID])
{
    const double value = units == FW_US ? m / FW_INCH_M : m * 100;
    return fixed(whole(value, toward), 0, units == FW_US ? "in" : "cm", text);
}

const char *fw_say_wanted(double m, enum fw_units units, enum fw_toward toward,
                          char text[FW_SAID])
{
    if (units == FW_US)
        return fixed(whole(m / FW_FOOT_M, toward), 0, "ft", text);
    return fixed(whole(m * 100, toward) / 100, 2, "m", text);
}

const char *fw_say_measured(double m, double limit_m, enum fw_units units,
                            enum fw_toward toward, char text[FW_SAID])
{
    /* 300.0000001 m of fence are no 301. */
    const double rounding = 1e-6, unit_m = units == FW_US ? FW_FOOT_M : 1;
    const double value = m / unit_m, limit = limit_m / unit_m;
    const bool fine = value < 10 || fabs(value - limit) < 1;
    const double said = toward == FW_UP ? value - rounding : value;
    return fixed(fw_say_round(said, fine ? 1 : 0, toward), 1,
                 units == FW_US ? "ft" : "m", text);
}

/* ---- words with quantities in them ---- */

struct unit {
    const char *metric, *us;
    double scale, offset; /* US = metric * scale + offset */
};

static const struct unit unit_rows[] = {
    {"m", "ft", 1 / FW_FOOT_M, 0},
    {"cm", "in", 0.01 / FW_INCH_M, 0},
    {"kg", "lb", 1 / FW_POUND_KG, 0},
    {"C", "F", 1.8, 32},
};

/* The unit at the end of what stands between the braces. */
static const struct unit *unit_of(const char *from, const char *to)
{
    const char *word = to;
    while (word > from && word[-1] != ' ')
        word--;
    for (size_t i = 0; i < sizeof unit_rows / sizeof unit_rows[0]; i++)
        if (strlen(unit_rows[i].metric) == (size_t)(to - word) &&
            !strncmp(word, unit_rows[i].metric, (size_t)(to - word)))
            return &unit_rows[i];
    return NULL;
}

/* What fits of so many bytes. */
static size_t append(char *room, size_t size, size_t used, const char *bytes,
                     size_t count)
{
    if (count > size - 1 - used)
        count = size - 1 - used;
    memcpy(room + used, bytes, count);
    room[used + count] = '\0';
    return used + count;
}

enum { quantity_room = 96 };

static void say_quantity(const char *from, const char *to, enum fw_units units,
                         char said[quantity_room])
{
    const enum fw_toward toward = *from == '>'   ? FW_UP
                                  : *from == '<' ? FW_DOWN
                                                 : FW_NEAREST;
    const struct unit *unit = unit_of(from, to);
    size_t used = 0;
    from += toward != FW_NEAREST;
    if (!unit || units != FW_US) {
        append(said, quantity_room, 0, from, (size_t)(to - from));
        return;
    }
    const char *last = to - strlen(unit->metric);
    while (from < last) {
        const char *end = from + 1;
        char number[FW_SAID];
        if (*from >= '0' && *from <= '9') {
            const double metric = fw_text_number(from, &end);
            fixed(whole(metric * unit->scale + unit->offset, toward), 0, "",
                  number);
            used = append(said, quantity_room, used, number, strlen(number));
        } else {
            used = append(said, quantity_room, used, from, 1);
        }
        from = end;
    }
    append(said, quantity_room, used, unit->us, strlen(unit->us));
}

/* A farm file's own braces, "{at: PLACE}", hold no quantity. */
static const char *next_quantity(const char *words)
{
    for (; (words = strchr(words, '{')); words++) {
        const char first = words[1 + (words[1] == '>' || words[1] == '<')];
        if (first >= '0' && first <= '9' && strchr(words, '}'))
            return words;
    }
    return NULL;
}

void fw_text_add_said(struct fw_text *text, const char *words,
                      enum fw_units units)
{
    const char *open;
    while ((open = next_quantity(words))) {
        const char *close = strchr(open, '}');
        char said[quantity_room];
        fw_text_add_bytes(text, words, (size_t)(open - words));
        say_quantity(open + 1, close, units, said);
        fw_text_add(text, said);
        words = close + 1;
    }
    fw_text_add(text, words);
}

char *fw_say_words(const char *words, enum fw_units units, char *room,
                   size_t size)
{
    const char *open;
    size_t used = 0;
    while ((open = next_quantity(words))) {
        const char *close = strchr(open, '}');
        char said[quantity_room];
        used = append(room, size, used, words, (size_t)(open - words));
        say_quantity(open + 1, close, units, said);
        used = append(room, size, used, said, strlen(said));
        words = close + 1;
    }
    append(room, size, used, words, strlen(words));
    return room;
}
