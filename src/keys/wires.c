/* A wire, what leaks from it and the soil of its earth, as people write them: a
 * word of the table, or what a data sheet says. */
#include "keys/schema.h"

#include "plan/words.h"

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

/* ---- setters ---- */

static enum fw_status need_quantities(struct fw_farm__reader *reader,
                                      struct fw_error *err)
{
    return reader->quantities ? FW_OK
                              : fw_quantities_new(&reader->quantities, err);
}

FW_SETTER(fw_farm__set_conductor)
{
    double ohm_m = 0;
    enum fw_status status = need_quantities(reader, err);
    if (!status)
        status = fw_power_conductor_read(reader->quantities, text,
                                         reader->units, &ohm_m, NULL, err);
    if (!status && !(ohm_m <= FW_BOUND(1000)))
        status = fw_fail(err, FW_EINPUT,
                         "\"%.60s\" is %g ohm/m; expected over 0 to 1000", text,
                         ohm_m);
    if (!status)
        ((struct fw_farm__number *)to)->value = ohm_m;
    return status;
}

FW_SETTER(fw_farm__set_leakage)
{
    double ohm_km = 0;
    enum fw_status status = need_quantities(reader, err);
    if (!status)
        status = fw_power_leakage_read(reader->quantities, text, reader->units,
                                       &ohm_km, NULL, err);
    if (!status)
        ((struct fw_farm__number *)to)->value = ohm_km;
    return status;
}

FW_SETTER(fw_farm__set_soil)
{
    const double most_ohm_m = FW_BOUND(1e5);
    const struct fw_soil_row *soil;
    double ohm_m;
    enum fw_status status;
    if (strpbrk(text, "0123456789")) {
        status = fw_farm__quantity(reader, text, FW_KIND_SOIL_RESISTIVITY,
                                   &ohm_m, err);
        if (!status && !(ohm_m > 0 && ohm_m <= most_ohm_m))
            status = fw_fail(err, FW_EINPUT,
                             "\"%.60s\" is out of range; expected %s, over 0 "
                             "to 100000 ohm m",
                             text, row->range);
    } else {
        status = fw_power_soil_find(text, &soil, err);
        ohm_m = status ? 0 : soil->ohm_m;
    }
    if (!status)
        ((struct fw_farm__number *)to)->value = ohm_m;
    return status;
}

FW_SETTER(fw_farm__set_bonded)
{
    static const char every[] = "every ";
    double gap_m = 0;
    if (strcmp(text, fw_plan__bonded_words[FW_BONDED_BOTH_ENDS]) == 0) {
        gap_m = -1;
    } else if (strncmp(text, every, sizeof every - 1) == 0) {
        const enum fw_status status = fw_farm__quantity(
            reader, text + sizeof every - 1, FW_KIND_LENGTH, &gap_m, err);
        if (status)
            return status;
        if (!(gap_m >= row->least && gap_m <= row->most))
            return fw_fail(err, FW_EINPUT,
                           "\"%.60s\" is out of range; expected every %g m to "
                           "%g m",
                           text, row->least, row->most);
    } else if (strcmp(text, fw_plan__bonded_words[FW_BONDED_LIVE_END]) != 0) {
        return fw_fail(err, FW_EINPUT, "\"%.60s\" is unknown; expected %s",
                       text, row->range);
    }
    ((struct fw_farm__number *)to)->value = gap_m;
    return FW_OK;
}
