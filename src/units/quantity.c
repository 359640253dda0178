#include "units/quantity.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include <math.h>
#include <string.h>

static const double most_head = 1e9;

#define SPELLINGS(...) ((const char *const[]){__VA_ARGS__, NULL})

static const struct fw_kind_row kinds[] = {
    [FW_KIND_MASS] = {"a mass",
                      "kg",
                      {"62 kg", "145 lb"},
                      SPELLINGS("kg", "lb", "g", "tonne", "short_ton",
                                "long_ton", "pounds", "kilograms", "grams",
                                "tonnes", "oz", "ounces", "stone")},
    [FW_KIND_LENGTH] = {"a length",
                        "m",
                        {"400 m", "400 ft"},
                        SPELLINGS("m", "ft", "cm", "in", "mm", "km", "yd",
                                  "mile", "metres", "meters", "feet", "inches",
                                  "yards", "miles", "centimetres",
                                  "centimeters")},
    [FW_KIND_AREA] = {"an area",
                      "hectare",
                      {"1.5 ha", "4 acres"},
                      SPELLINGS("ha", "acres", "m2", "ft2", "hectares", "acre",
                                "yd2", "km2")},
    [FW_KIND_VOLUME] = {"a volume",
                        "L",
                        {"300 L", "80 gal"},
                        SPELLINGS("L", "gal", "litres", "liters", "gallons",
                                  "pints", "m3", "mL", "quarts",
                                  "imperial_gallons")},
    [FW_KIND_DURATION] = {"a duration",
                          "day",
                          {"1 day", "1 day"},
                          SPELLINGS("days", "days", "day", "hours", "hour", "h",
                                    "min", "minutes", "weeks", "week", "s",
                                    "seconds")},
    [FW_KIND_SHARE] = {"a share",
                       NULL,
                       {"75 %", "75 %"},
                       SPELLINGS("%", "%", "percent")},
    [FW_KIND_MASS_PER_AREA] = {"a mass per area",
                               "kg/hectare",
                               {"2600 kg/ha", "2300 lb/acre"},
                               SPELLINGS("kg/ha", "lb/acre", "t/ha", "lb/ac",
                                         "g/m2", "kg DM/ha")},
    [FW_KIND_SWARD_DENSITY] = {"a sward density",
                               "kg/hectare/cm",
                               {"110 kg/ha/cm", "250 lb/acre/in"},
                               SPELLINGS("kg/ha/cm", "lb/acre/in", "lb/ac/in",
                                         "lb/acre-inch")},
    [FW_KIND_MASS_PER_DAY] = {"a mass per day",
                              "kg/day",
                              {"1.6 kg/day", "3.5 lb/day"},
                              SPELLINGS("kg/day", "lb/day", "g/day",
                                        "kg/head/day")},
    [FW_KIND_GROWTH] = {"a growth",
                        "kg/hectare/day",
                        {"40 kg/ha/day", "36 lb/acre/day"},
                        SPELLINGS("kg/ha/day", "lb/acre/day", "lb/ac/day",
                                  "kg/ha/week", "t/ha/week")},
    [FW_KIND_VOLTAGE] = {"a voltage",
                         "V",
                         {"8 kV", "8 kV"},
                         SPELLINGS("V", "V", "kV", "volts")},
    [FW_KIND_ENERGY] = {"an energy",
                        "J",
                        {"3 J", "3 J"},
                        SPELLINGS("J", "J", "Wh", "kWh", "kJ", "joules")},
    [FW_KIND_RESISTANCE] = {"a resistance",
                            "ohm",
                            {"300 ohm", "300 ohm"},
                            SPELLINGS("ohm", "ohm", "kohm", "ohms")},
    [FW_KIND_SOIL_RESISTIVITY] =
        {"a resistivity",
         "ohm.m",
         {"100 ohm.m", "100 ohm.m"},
         SPELLINGS("ohm.m", "ohm.m", "ohm m", "ohm.cm", "ohm.km")},
    [FW_KIND_ANGLE] = {"an angle",
                       "degree",
                       {"15 degrees", "15 degrees"},
                       SPELLINGS("degrees", "degrees", "degree", "deg", "rad",
                                 "radians")},
    [FW_KIND_COUNT] = {"a count",
                       NULL,
                       {"90", "90"},
                       SPELLINGS("head", "head")},
    [FW_KIND_FLOW] = {"a flow",
                      "L/min",
                      {"19 L/min", "5 gal/min"},
                      SPELLINGS("L/min", "gal/min", "gpm", "L/s", "L/h",
                                "L/day", "m3/h", "gal/day")},
    [FW_KIND_PRESSURE] = {"a pressure",
                          "kPa",
                          {"3 bar", "45 psi"},
                          SPELLINGS("bar", "psi", "kPa", "mbar", "MPa")},
    [FW_KIND_WIRE_RESISTANCE] = {"a resistance per length",
                                 "ohm/m",
                                 {"3.82 ohm/m", "1.16 ohm/ft"},
                                 SPELLINGS("ohm/m", "ohm/ft", "ohm/km",
                                           "ohm/mile")},
    [FW_KIND_LEAKAGE] = {"a leakage",
                         "ohm.km",
                         {"1000 ohm.km", "1000 ohm.km"},
                         SPELLINGS("ohm.km", "ohm.km", "ohm km", "kohm.km",
                                   "ohm.mile")},
};

const struct fw_kind_row *fw_quantity__row(enum fw_kind kind)
{
    return &kinds[kind];
}

bool fw_quantity__has_sign(enum fw_kind kind)
{
    return kind == FW_KIND_ANGLE || kind == FW_KIND_GROWTH;
}

const char *fw_kind_name(enum fw_kind kind)
{
    return kinds[kind].name;
}

const char *fw_quantity__skip_spaces(const char *text)
{
    static const char *const spaces[] = {" ", "\t", "\xC2\xA0", "\xE2\x80\x89",
                                         "\xE2\x80\xAF"};
    for (size_t i = 0; i < sizeof spaces / sizeof *spaces;) {
        const size_t bytes = strlen(spaces[i]);
        if (strncmp(text, spaces[i], bytes) == 0) {
            text += bytes;
            i = 0;
        } else
            i++;
    }
    return text;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_digits(const char *text)
{
    while (is_digit(*text))
        text++;
    return text;
}

/* The end of sign, digits, point, digits, exponent; NULL when there are no
 * digits. An "e" without digits belongs to the unit. */
static const char *number_end(const char *text)
{
    text += *text == '+' || *text == '-';
    const char *end = skip_digits(text);
    size_t digits = (size_t)(end - text);
    if (*end == '.') {
        const char *decimals = end + 1;
        end = skip_digits(decimals);
        digits += (size_t)(end - decimals);
    }
    if (digits == 0)
        return NULL;
    if (*end == 'e' || *end == 'E') {
        const char *exponent = end + 1;
        exponent += *exponent == '+' || *exponent == '-';
        if (is_digit(*exponent))
            end = skip_digits(exponent);
    }
    return end;
}

/* A second number right behind the first: "1 500", "1,500", "2 1/2", "4-6". */
static bool goes_on(const char *rest)
{
    static const char *const between[] = {
        ",", ".", "'", "/", "-", "\xE2\x80\x93", "\xE2\x80\x99"};
    if (is_digit(*rest))
        return true;
    for (size_t i = 0; i < sizeof between / sizeof *between; i++) {
        const size_t bytes = strlen(between[i]);
        if (strncmp(rest, between[i], bytes) == 0 &&
            is_digit(*fw_quantity__skip_spaces(rest + bytes)))
            return true;
    }
    return false;
}

enum fw_fault fw_quantity__number(const char *text, struct fw_number *out)
{
    text = fw_quantity__skip_spaces(text);
    const char *end = number_end(text);
    if (!end)
        return FW_FAULT_NO_NUMBER;
    const size_t length = (size_t)(end - text);
    if (length >= sizeof out->spelling)
        return FW_FAULT_SIZE;
    memcpy(out->spelling, text, length);
    out->spelling[length] = '\0';
    out->rest = fw_quantity__skip_spaces(end);
    if (goes_on(out->rest))
        return FW_FAULT_SHAPE;

    /* -0 is 0: nothing later should print a sign. */
    out->value = fw_text_number(out->spelling, NULL) + 0.0;
    const size_t before_exponent = strcspn(out->spelling, "eE");
    const bool is_zero = strcspn(out->spelling, "123456789") >= before_exponent;
    if (!isfinite(out->value) || (out->value == 0) != is_zero)
        return FW_FAULT_SIZE;
    return FW_FAULT_NONE;
}

static bool is_one_of(const char *text, const char *const *words)
{
    for (; *words; words++)
        if (strcmp(text, *words) == 0)
            return true;
    return false;
}

static enum fw_fault read_share(const struct fw_number *number, double *out)
{
    static const char *const percent[] = {"%", "percent", "per cent", "pct",
                                          NULL};
    if (*number->rest == '\0') {
        if (number->value > 1)
            return FW_FAULT_BARE_SHARE;
        *out = number->value;
        return FW_FAULT_NONE;
    }
    if (!is_one_of(number->rest, percent))
        return FW_FAULT_UNIT;
    *out = number->value / 100;
    return FW_FAULT_NONE;
}

static enum fw_fault read_count(const struct fw_number *number, double *out)
{
    if (*number->rest && strcmp(number->rest, "head") != 0)
        return FW_FAULT_UNIT;
    if (number->value > most_head || number->value != floor(number->value))
        return FW_FAULT_NOT_WHOLE;
    *out = number->value;
    return FW_FAULT_NONE;
}

/* To UDUNITS an angle is a plain number, and so is a share: without a list,
 * "50 %" would be 28.6 degrees. */
static bool is_angle_unit(const char *unit)
{
    static const char *const words[] = {"degree",   "degrees", "deg",
                                        "\xC2\xB0", "rad",     "radian",
                                        "radians",  NULL};
    return is_one_of(unit, words);
}

static enum fw_status convert(const struct fw_asked *asked,
                              const struct fw_number *number, double *out,
                              enum fw_fault *fault, struct fw_error *err)
{
    *fault = FW_FAULT_NO_UNIT;
    if (*number->rest == '\0')
        return FW_OK;
    *fault = FW_FAULT_UNIT;
    if (asked->kind == FW_KIND_ANGLE && !is_angle_unit(number->rest))
        return FW_OK;

    double factor;
    enum fw_status status =
        fw_unit__factor(asked, number->rest, &factor, fault, err);
    if (status || *fault)
        return status;
    double value = number->value;
    if (factor != 1) {
        value = fw_unit__rounded(number->value * factor);
        if (!isfinite(value) || (value == 0) != (number->value == 0)) {
            *fault = FW_FAULT_SIZE;
            return FW_OK;
        }
    }
    *out = value;
    return FW_OK;
}

enum fw_status fw_quantity__try(const struct fw_asked *asked, const char *text,
                                double *out, enum fw_fault *fault,
                                struct fw_error *err)
{
    char tidy[256];
    const size_t length = strlen(text);
    *fault = FW_FAULT_UNIT;
    if (length >= sizeof tidy)
        return FW_OK;
    memcpy(tidy, text, length + 1);
    for (size_t end = length; end > 0 && strchr(" \t", tidy[end - 1]);)
        tidy[--end] = '\0';

    struct fw_number number;
    *fault = fw_quantity__number(tidy, &number);
    if (*fault)
        return FW_OK;
    if (number.value < 0 && !fw_quantity__has_sign(asked->kind)) {
        *fault = FW_FAULT_NEGATIVE;
        return FW_OK;
    }
    if (asked->kind == FW_KIND_SHARE)
        *fault = read_share(&number, out);
    else if (asked->kind == FW_KIND_COUNT)
        *fault = read_count(&number, out);
    else
        return convert(asked, &number, out, fault, err);
    return FW_OK;
}

static const char *reason(enum fw_fault fault)
{
    switch (fault) {
    case FW_FAULT_NO_NUMBER:
        return ": expected a number first";
    case FW_FAULT_SHAPE:
        return ": expected one number, a point for its decimals and nothing "
               "else in it";
    case FW_FAULT_SIZE:
        return ": the number is too large or too small";
    case FW_FAULT_NEGATIVE:
        return ": expected 0 or more";
    case FW_FAULT_NO_UNIT:
        return ": it has no unit";
    case FW_FAULT_TON:
        return ": there are three tons";
    case FW_FAULT_NOT_WHOLE:
        return ": expected a whole number up to 1000000000";
    case FW_FAULT_BARE_SHARE:
        return ": a bare number is 0 to 1";
    case FW_FAULT_UNIT:
    case FW_FAULT_NONE:
        break;
    }
    return "";
}

enum fw_status fw_quantity_read(struct fw_quantities *quantities,
                                const char *text, enum fw_kind kind,
                                enum fw_units units, int units_given,
                                double *out, struct fw_error *err)
{
    if (!quantities || !text || !out)
        return fw_fail_null(err,
                            "the quantities, a text, or where the value goes,");
    const struct fw_asked asked = {quantities, kind, units, units_given};
    double value;
    enum fw_fault fault;
    enum fw_status status = fw_quantity__try(&asked, text, &value, &fault, err);
    if (status)
        return status;
    if (!fault) {
        *out = value;
        return FW_OK;
    }
    if (!err)
        return FW_EINPUT;

    char hint[fw_hint_room];
    char shown[64];
    fw_hint__write(&asked, text, fault, hint);
    return fw_fail(err, FW_EINPUT, "\"%s\" is not %s%s; try %s",
                   fw_text_clip(text, shown, sizeof shown), kinds[kind].name,
                   reason(fault), hint);
}

/* The unit database takes some 5 ms to read, which many a run can do
 * without: it waits for the first unit. */
enum fw_status fw_quantities_new(struct fw_quantities **out,
                                 struct fw_error *err)
{
    if (!out)
        return fw_fail_null(err, "where the quantities go");
    struct fw_quantities *quantities = fw_alloc(1, sizeof *quantities);
    if (!quantities)
        return fw_fail_memory(err);
    *out = quantities;
    return FW_OK;
}

void fw_quantities_free(struct fw_quantities *quantities)
{
    if (!quantities)
        return;
    fw_unit__close(quantities->system);
    fw_free(quantities);
}
