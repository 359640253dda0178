/* The unit of a quantity, without its number.
 *
 * What is written is taken apart into words, exponents and operators, and put
 * together again for UDUNITS with the farm's words replaced. Numbers, logs,
 * time stamps and offsets, which UDUNITS would read as well, do not get that
 * far. Each operand goes into brackets, since a hyphen binds closer than a
 * slash on a farm ("lb/acre-inch") and not to UDUNITS. */
#include "base/fail.h"
#include "base/text.h"
#include "units/quantity.h"
#include <ctype.h>
#include <math.h>
#include <pthread.h>
#include <string.h>
#include <strings.h>
#include <udunits2.h>

struct word {
    const char *says; /* in any mixture of big and small letters */
    const char *means;
};

/* Where UDUNITS means something else (gal: a Galileo; acre: of survey feet; oz:
 * a fluid ounce), or nothing. The gallon of 231 cubic inches, its parts, the
 * acre of 4840 square yards, the ounce: NIST Handbook 44, appendix C. The
 * imperial gallon of 4.54609 L, the stone of 14 lb: the Weights and Measures
 * Act 1985, schedule 1. */
static const struct word words[] = {
    {"kg", "kg"},
    {"kgs", "kg"},
    {"kilo", "kg"},
    {"kilos", "kg"},
    {"lb", "lb"},
    {"lbs", "lb"},
    {"pound", "lb"},
    {"pounds", "lb"},
    {"oz", "(0.0625 lb)"},
    {"ounce", "(0.0625 lb)"},
    {"ounces", "(0.0625 lb)"},
    {"stone", "(14 lb)"},
    {"tonne", "t"},
    {"tonnes", "t"},
    {"metric ton", "t"},
    {"metric tons", "t"},
    {"short ton", "short_ton"},
    {"short tons", "short_ton"},
    {"long ton", "long_ton"},
    {"long tons", "long_ton"},
    {"long_tons", "long_ton"},
    {"short_tons", "short_ton"},
    {"cm", "cm"},
    {"km", "km"},
    {"in", "inch"},
    {"ins", "inch"},
    {"inch", "inch"},
    {"inches", "inch"},
    {"ft", "(12 inch)"},
    {"foot", "(12 inch)"},
    {"feet", "(12 inch)"},
    {"yd", "(36 inch)"},
    {"yds", "(36 inch)"},
    {"yard", "(36 inch)"},
    {"yards", "(36 inch)"},
    {"ha", "hectare"},
    {"hectare", "hectare"},
    {"hectares", "hectare"},
    {"ac", "(4840 yard^2)"},
    {"acre", "(4840 yard^2)"},
    {"acres", "(4840 yard^2)"},
    {"sq m", "(m^2)"},
    {"sqm", "(m^2)"},
    {"sq ft", "(foot^2)"},
    {"sqft", "(foot^2)"},
    {"sq yd", "(yard^2)"},
    {"square feet", "(foot^2)"},
    {"square yards", "(yard^2)"},
    {"square metres", "(m^2)"},
    {"square meters", "(m^2)"},
    {"gal", "(231 inch^3)"},
    {"gals", "(231 inch^3)"},
    {"gallon", "(231 inch^3)"},
    {"gallons", "(231 inch^3)"},
    {"us gallon", "(231 inch^3)"},
    {"us gallons", "(231 inch^3)"},
    {"us_gallon", "(231 inch^3)"},
    {"us_gallons", "(231 inch^3)"},
    {"imperial gallon", "(4.54609 L)"},
    {"imperial gallons", "(4.54609 L)"},
    {"imperial_gallon", "(4.54609 L)"},
    {"imperial_gallons", "(4.54609 L)"},
    {"quart", "(57.75 inch^3)"},
    {"quarts", "(57.75 inch^3)"},
    {"qt", "(57.75 inch^3)"},
    {"qts", "(57.75 inch^3)"},
    {"pint", "(28.875 inch^3)"},
    {"pints", "(28.875 inch^3)"},
    {"pt", "(28.875 inch^3)"},
    {"pts", "(28.875 inch^3)"},
    {"fl oz", "(1.8046875 inch^3)"},
    {"fluid ounce", "(1.8046875 inch^3)"},
    {"fluid ounces", "(1.8046875 inch^3)"},
    {"gpm", "(231 inch^3/min)"},
    {"gph", "(231 inch^3/hour)"},
    {"day", "day"},
    {"days", "day"},
    {"week", "week"},
    {"weeks", "week"},
    {"wk", "week"},
    {"wks", "week"},
    {"hour", "hour"},
    {"hours", "hour"},
    {"hr", "hour"},
    {"hrs", "hour"},
    {"mins", "min"},
    {"minute", "min"},
    {"minutes", "min"},
    {"v", "V"},
    {"volt", "V"},
    {"volts", "V"},
    {"kv", "kV"},
    {"ah", "(A.hour)"},
    {"wh", "(W.hour)"},
    {"kwh", "(kW.hour)"},
    {"joule", "J"},
    {"joules", "J"},
    {"ohm", "ohm"},
    {"ohms", "ohm"},
    {"kohm", "kohm"},
    {"kohms", "kohm"},
    /* UDUNITS reads "kilohm" as a thousand hectometres. */
    {"kilohm", "kohm"},
    {"kilohms", "kohm"},
    {"deg", "degree"},
    {"head", "(1)"},
};

struct rewriting {
    const char *at;
    char out[1024];
    size_t length;
    const struct fw_asked *asked;
    enum fw_fault fault;
};

static void put(struct rewriting *r, const char *bytes, size_t n)
{
    if (n >= sizeof r->out - r->length) {
        r->fault = FW_FAULT_UNIT;
        return;
    }
    memcpy(r->out + r->length, bytes, n);
    r->length += n;
    r->out[r->length] = '\0';
}

static void put_text(struct rewriting *r, const char *text)
{
    put(r, text, strlen(text));
}

/* Bytes of the unit letter at text, 0 when there is none: the micro and ohm
 * signs each exist twice in Unicode. */
static size_t letter(const char *text)
{
    static const char *const signs[] = {"\xC2\xB0", "\xC2\xB5", "\xCE\xBC",
                                        "\xCE\xA9", "\xE2\x84\xA6"};
    if (isalpha((unsigned char)*text) && (unsigned char)*text < 0x80)
        return 1;
    if (*text == '_' || *text == '%')
        return 1;
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return strlen(signs[i]);
    return 0;
}

static size_t word_length(const char *text)
{
    size_t length = 0;
    for (size_t bytes; (bytes = letter(text + length)) > 0;)
        length += bytes;
    return length;
}

static bool starts_with_word(const char *text, const char *word)
{
    const size_t length = strlen(word);
    return strncasecmp(text, word, length) == 0 && letter(text + length) == 0;
}

static void put_ton(struct rewriting *r)
{
    if (!r->asked->units_given)
        r->fault = FW_FAULT_TON;
    put_text(r, r->asked->units == FW_US ? "short_ton" : "t");
}

/* "DM", dry matter, is the one word that needs its capitals: a dm is a tenth
 * of a metre. "gr" is a grain to some and a gram to others. */
static void put_word(struct rewriting *r)
{
    const size_t length = word_length(r->at);
    if (length == 0 || starts_with_word(r->at, "gr")) {
        r->fault = FW_FAULT_UNIT;
        return;
    }
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (starts_with_word(r->at, words[i].says)) {
            put_text(r, words[i].means);
            r->at += strlen(words[i].says);
            return;
        }
    if (starts_with_word(r->at, "ton") || starts_with_word(r->at, "tons"))
        put_ton(r);
    else if (length == 2 && strncmp(r->at, "DM", 2) == 0)
        put_text(r, "(1)");
    else
        put(r, r->at, length);
    r->at += length;
}

/* 2, ^2, -1, or a raised 2 or 3; a hyphen before a word is none. */
static void put_exponent(struct rewriting *r)
{
    if (strncmp(r->at, "\xC2\xB2", 2) == 0 ||
        strncmp(r->at, "\xC2\xB3", 2) == 0) {
        put_text(r, r->at[1] == '\xB2' ? "^2" : "^3");
        r->at += 2;
        return;
    }
    const char *at = r->at + (*r->at == '^');
    const bool negative = *at == '-';
    at += negative;
    if (*at >= '1' && *at <= '3' && !isdigit((unsigned char)at[1])) {
        put_text(r, negative ? "^-" : "^");
        put(r, at, 1);
        r->at = at + 1;
    }
}

/* One word, or several that hyphens join. */
static void put_operand(struct rewriting *r)
{
    put_text(r, "(");
    put_word(r);
    put_exponent(r);
    while (!r->fault && *r->at == '-' && letter(r->at + 1)) {
        r->at++;
        put_text(r, ".");
        put_word(r);
        put_exponent(r);
    }
    put_text(r, ")");
}

static void skip_spaces(struct rewriting *r)
{
    r->at = fw_quantity__skip_spaces(r->at);
}

/* After an operand: what joins it to the next. A space alone multiplies. */
static void put_operator(struct rewriting *r)
{
    const char *before = r->at;
    skip_spaces(r);
    if (*r->at == '\0')
        return;
    if (*r->at == '/' || starts_with_word(r->at, "per")) {
        put_text(r, "/");
        r->at += *r->at == '/' ? 1 : 3;
    } else if (*r->at == '.' || *r->at == '*') {
        put_text(r, ".");
        r->at++;
    } else if (strncmp(r->at, "\xC2\xB7", 2) == 0) {
        put_text(r, ".");
        r->at += 2;
    } else if (r->at > before)
        put_text(r, ".");
    else
        r->fault = FW_FAULT_UNIT;
    skip_spaces(r);
}

static enum fw_fault rewrite(struct rewriting *r)
{
    skip_spaces(r);
    do {
        for (; *r->at == '('; r->at++)
            put_text(r, "(");
        put_operand(r);
        for (; *r->at == ')'; r->at++)
            put_text(r, ")");
        /* "145 lbs." ends with a point, as abbreviations do. */
        if (strcmp(r->at, ".") == 0)
            r->at++;
        put_operator(r);
    } while (!r->fault && *r->at);
    if (!r->fault && strchr("./", r->out[r->length - 1]))
        r->fault = FW_FAULT_UNIT;
    return r->fault;
}

/* Multiplications only: an offset, as temperatures have, is refused. */
static bool factor_between(ut_unit *from, ut_unit *to, double *factor)
{
    if (!ut_are_convertible(from, to))
        return false;
    cv_converter *converter = ut_get_converter(from, to);
    if (!converter)
        return false;
    const double zero = cv_convert_double(converter, 0);
    const double one = cv_convert_double(converter, 1);
    cv_free(converter);
    if (zero != 0 || !isfinite(one) || !(one > 0))
        return false;
    *factor = fw_unit__rounded(one);
    return true;
}

static enum fw_status open_system(struct fw_quantities *quantities,
                                  struct fw_error *err)
{
    if (quantities->system)
        return FW_OK;
    quantities->system = ut_read_xml(NULL);
    if (quantities->system)
        return FW_OK;
    ut_status status;
    return fw_fail(err, FW_EINPUT,
                   "the units of UDUNITS cannot be read from \"%s\"; install "
                   "them or set UDUNITS2_XML_PATH",
                   ut_get_path_xml(NULL, &status));
}

/* UDUNITS' parser and its message handler belong to the whole process, so that
 * one thread at a time may be in it, and the handler is put back after. */
static enum fw_status ask_udunits(const struct fw_asked *asked,
                                  const char *unit, double *factor,
                                  enum fw_fault *fault, struct fw_error *err)
{
    static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;
    pthread_mutex_lock(&one_at_a_time);
    ut_error_message_handler before = ut_set_error_message_handler(ut_ignore);
    const struct fw_locale now = fw_locale_enter();

    *fault = FW_FAULT_UNIT;
    enum fw_status status = open_system(asked->quantities, err);
    if (!status) {
        ut_system *system = asked->quantities->system;
        ut_unit *from = ut_parse(system, unit, UT_UTF8);
        ut_unit *to =
            ut_parse(system, fw_quantity__row(asked->kind)->inside, UT_UTF8);
        if (from && to && factor_between(from, to, factor))
            *fault = FW_FAULT_NONE;
        ut_free(from);
        ut_free(to);
    }

    fw_locale_leave(now);
    ut_set_error_message_handler(before);
    pthread_mutex_unlock(&one_at_a_time);
    return status;
}

enum fw_status fw_unit__factor(const struct fw_asked *asked, const char *unit,
                               double *factor, enum fw_fault *fault,
                               struct fw_error *err)
{
    const size_t longest_unit = 63;
    *fault = FW_FAULT_UNIT;
    if (strlen(unit) > longest_unit)
        return FW_OK;
    struct rewriting rewriting = {.at = unit, .asked = asked};
    *fault = rewrite(&rewriting);
    if (*fault)
        return FW_OK;
    bool same;
    if (fw_unit__usual(rewriting.out, fw_quantity__row(asked->kind)->inside,
                       factor, &same)) {
        *fault = same ? FW_FAULT_NONE : FW_FAULT_UNIT;
        return FW_OK;
    }
    return ask_udunits(asked, rewriting.out, factor, fault, err);
}

void fw_unit__close(void *system)
{
    if (system)
        ut_free_system(system);
}
