/* The units of a farm, so that UDUNITS and its tables, which take some
 * milliseconds to read, are asked for rare ones only. What is understood here
 * means the same to UDUNITS: a test asks both. */
#include "base/text.h"
#include "units/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct measure {
    double si; /* in kilograms, metres, seconds and amperes */
    int kg, m, s, a;
};

/* Pound, inch, yard, mile and tons by the agreement of 1959: NIST Handbook 44,
 * appendix C. */
static const struct named {
    const char *name;
    struct measure is;
} units[] = {
    {"kg", {1, 1, 0, 0, 0}},
    {"g", {1e-3, 1, 0, 0, 0}},
    {"t", {1e3, 1, 0, 0, 0}},
    {"lb", {0.45359237, 1, 0, 0, 0}},
    {"short_ton", {2000 * 0.45359237, 1, 0, 0, 0}},
    {"long_ton", {2240 * 0.45359237, 1, 0, 0, 0}},
    {"m", {1, 0, 1, 0, 0}},
    {"mm", {1e-3, 0, 1, 0, 0}},
    {"cm", {1e-2, 0, 1, 0, 0}},
    {"km", {1e3, 0, 1, 0, 0}},
    {"inch", {0.0254, 0, 1, 0, 0}},
    {"foot", {0.3048, 0, 1, 0, 0}},
    {"yard", {0.9144, 0, 1, 0, 0}},
    {"mile", {1609.344, 0, 1, 0, 0}},
    {"hectare", {1e4, 0, 2, 0, 0}},
    {"L", {1e-3, 0, 3, 0, 0}},
    {"mL", {1e-6, 0, 3, 0, 0}},
    {"s", {1, 0, 0, 1, 0}},
    {"min", {60, 0, 0, 1, 0}},
    {"hour", {3600, 0, 0, 1, 0}},
    {"h", {3600, 0, 0, 1, 0}},
    {"day", {86400, 0, 0, 1, 0}},
    {"week", {7 * 86400.0, 0, 0, 1, 0}},
    {"kPa", {1e3, 1, -1, -2, 0}},
    {"bar", {1e5, 1, -1, -2, 0}},
    {"A", {1, 0, 0, 0, 1}},
    {"W", {1, 1, 2, -3, 0}},
    {"kW", {1e3, 1, 2, -3, 0}},
    {"J", {1, 1, 2, -2, 0}},
    {"kJ", {1e3, 1, 2, -2, 0}},
    {"V", {1, 1, 2, -3, -1}},
    {"kV", {1e3, 1, 2, -3, -1}},
    {"ohm", {1, 1, 2, -3, -2}},
    {"kohm", {1e3, 1, 2, -3, -2}},
};

static struct measure times(struct measure a, struct measure b, int power)
{
    return (struct measure){a.si * pow(b.si, power), a.kg + power * b.kg,
                            a.m + power * b.m, a.s + power * b.s,
                            a.a + power * b.a};
}

struct reading {
    const char *at;
    int depth;
    bool known;
};

static const int most_depth = 32;

static struct measure product(struct reading *r);

static struct measure name(struct reading *r)
{
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        const size_t length = strlen(units[i].name);
        if (strncmp(r->at, units[i].name, length) == 0 &&
            (r->at[length] == '\0' || strchr("()./ ^", r->at[length]))) {
            r->at += length;
            return units[i].is;
        }
    }
    r->known = false;
    return (struct measure){0};
}

static struct measure operand(struct reading *r)
{
    struct measure is = {0};
    if (*r->at == '(' && ++r->depth <= most_depth) {
        r->at++;
        is = product(r);
        r->known &= *r->at == ')';
        r->at += r->known;
        r->depth--;
    } else if (*r->at >= '0' && *r->at <= '9') {
        const char *end = r->at;
        is.si = fw_text_number(r->at, &end);
        r->known &= end > r->at;
        r->at = end;
    } else {
        is = name(r);
    }
    if (r->known && *r->at == '^') {
        const bool negative = r->at[1] == '-';
        const char digit = r->at[1 + negative];
        r->known &= digit >= '1' && digit <= '3';
        r->at += r->known ? 2 + negative : 0;
        return times((struct measure){.si = 1}, is,
                     (negative ? -1 : 1) * (digit - '0'));
    }
    return is;
}

/* Points, slashes and spaces bind alike, from the left. */
static struct measure product(struct reading *r)
{
    struct measure is = operand(r);
    while (r->known && *r->at && *r->at != ')') {
        const int power = *r->at == '/' ? -1 : 1;
        r->known &= strchr("./ ", *r->at) != NULL;
        r->at += r->known;
        is = times(is, operand(r), power);
    }
    return is;
}

static bool measure(const char *text, struct measure *out)
{
    struct reading r = {.at = text, .known = true};
    *out = product(&r);
    return r.known && *r.at == '\0';
}

bool fw_unit__usual(const char *unit, const char *inside, double *factor,
                    bool *same)
{
    struct measure from, to;
    if (!measure(unit, &from) || !measure(inside, &to))
        return false;
    *same =
        from.kg == to.kg && from.m == to.m && from.s == to.s && from.a == to.a;
    *factor = fw_unit__rounded(from.si / to.si);
    return true;
}
