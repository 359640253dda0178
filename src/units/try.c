/* A number and its unit, as one figure of the kind that is asked for. */
#include "units/quantity.h"

#include <math.h>
#include <string.h>
#include <strings.h>

static const double most_head = 1e9;

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

/* Read here, since its scale does not begin at 0: 32 F are 0 C, and each 9 F
 * beyond 5 C more. */
static enum fw_fault read_temperature(const struct fw_number *number,
                                      double *out)
{
    static const char *const before[] = {"\xC2\xB0", "degrees", "degree",
                                         "deg"};
    const char *unit = number->rest;
    if (*unit == '\0')
        return FW_FAULT_NO_UNIT;
    for (size_t i = 0; i < sizeof before / sizeof *before; i++)
        if (strncmp(unit, before[i], strlen(before[i])) == 0) {
            unit = fw_quantity__skip_spaces(unit + strlen(before[i]));
            break;
        }
    const bool celsius =
        strcasecmp(unit, "C") == 0 || strcasecmp(unit, "celsius") == 0;
    if (!celsius && strcasecmp(unit, "F") != 0 &&
        strcasecmp(unit, "fahrenheit") != 0)
        return FW_FAULT_UNIT;
    *out = celsius ? number->value
                   : fw_unit__rounded((number->value - 32) * 5 / 9);
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
    else if (asked->kind == FW_KIND_TEMPERATURE)
        *fault = read_temperature(&number, out);
    else
        return convert(asked, &number, out, fault, err);
    return FW_OK;
}
