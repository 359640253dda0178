/* A wire and what leaks from it, as people write them: a word of the table, or
 * what a data sheet says. */
#include "base/fail.h"
#include "figures/mark.h"
#include <foldwright/keys.h>

#include <ctype.h>
#include <string.h>

/* Words start with a letter. */
static bool is_quantity(const char *text)
{
    return !isalpha((unsigned char)text[strspn(text, " \t")]);
}

enum fw_status fw_power_conductor_read(struct fw_quantities *quantities,
                                       const char *text, enum fw_units units,
                                       double *ohm_m,
                                       const struct fw_conductor **row,
                                       struct fw_error *err)
{
    const struct fw_conductor *found = NULL;
    double value = 0;
    enum fw_status status;
    if (is_quantity(text)) {
        status = fw_quantity_read(quantities, text, FW_KIND_WIRE_RESISTANCE,
                                  units, 0, &value, err);
        if (!status && !(value > 0))
            status = fw_fail(err, FW_EINPUT,
                             "\"%.60s\": expected a resistance over 0", text);
    } else {
        status = fw_power_conductor_find(text, &found, err);
    }
    if (status)
        return status;
    *ohm_m = found ? found->ohm_m : value;
    if (row)
        *row = found;
    return FW_OK;
}

/* No fence leaks like that; earth does, and its unit is near. */
static const double least_ohm_km = FW_BOUND(10);

static enum fw_status read_ohm_km(struct fw_quantities *quantities,
                                  const char *text, enum fw_units units,
                                  double *out, struct fw_error *err)
{
    const enum fw_status status =
        fw_quantity_read(quantities, text, FW_KIND_LEAKAGE, units, 0, out, err);
    if (status || *out >= least_ohm_km)
        return status;
    return fw_fail(err, FW_EINPUT,
                   "\"%.60s\" is %g ohm km; expected %g or more, such as %g "
                   "for an overgrown fence",
                   text, *out, least_ohm_km,
                   fw_power_leakage(FW_LEAKAGE_HEAVY)->ohm_km);
}

enum fw_status fw_power_leakage_read(struct fw_quantities *quantities,
                                     const char *text, enum fw_units units,
                                     double *ohm_km,
                                     const struct fw_leakage_row **row,
                                     struct fw_error *err)
{
    const struct fw_leakage_row *found = NULL;
    double value = 0;
    enum fw_status status;
    if (is_quantity(text)) {
        status = read_ohm_km(quantities, text, units, &value, err);
    } else {
        enum fw_leakage leakage;
        status = fw_power_leakage_find(text, &leakage, err);
        if (!status)
            found = fw_power_leakage(leakage);
    }
    if (status)
        return status;
    *ohm_km = found ? found->ohm_km : value;
    if (row)
        *row = found;
    return FW_OK;
}
