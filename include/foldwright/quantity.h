/* Quantities as people write them: "62 kg", "145lb", "2100 lb/acre", "9 in".
 *
 * The number is read here: digits, one point, a sign where it makes sense,
 * an exponent. The unit is read by UDUNITS with the words that farmers use
 * mapped over its own (gal is the US gallon, ac the international acre).
 * Every kind has one unit inside, named below; a bare number is refused except
 * for a count or a share. */
#ifndef FW_QUANTITY_H
#define FW_QUANTITY_H

#include <foldwright/error.h>
#include <foldwright/figures.h>

#ifdef __cplusplus
extern "C" {
#endif

enum fw_kind {
    FW_KIND_MASS,             /* kg */
    FW_KIND_LENGTH,           /* m */
    FW_KIND_AREA,             /* ha */
    FW_KIND_VOLUME,           /* L */
    FW_KIND_DURATION,         /* days */
    FW_KIND_SHARE,            /* 1: "75 %" is 0.75; 0 to 1 also bare */
    FW_KIND_MASS_PER_AREA,    /* kg/ha */
    FW_KIND_SWARD_DENSITY,    /* kg/ha per cm of height */
    FW_KIND_MASS_PER_DAY,     /* kg/day */
    FW_KIND_GROWTH,           /* kg/ha a day; may be negative */
    FW_KIND_VOLTAGE,          /* V */
    FW_KIND_ENERGY,           /* J */
    FW_KIND_RESISTANCE,       /* ohm */
    FW_KIND_SOIL_RESISTIVITY, /* ohm m */
    FW_KIND_ANGLE,            /* degrees */
    FW_KIND_COUNT,            /* a whole number, 0 to 1e9; "90" or "90 head" */
    FW_KIND_FLOW,             /* L/min */
    FW_KIND_PRESSURE,         /* kPa */
    FW_KIND_WIRE_RESISTANCE,  /* ohm/m */
    FW_KIND_LEAKAGE,          /* ohm km: so many ohms a kilometre of wire */
    FW_KIND_TEMPERATURE,      /* degrees Celsius; may be below 0 */
    FW_KIND_COUNT_OF_KINDS
};

/* Reads the unit database once, at the first quantity that needs it; not to be
 * shared between threads, but each thread may have its own. */
struct fw_quantities;

FW_API enum fw_status fw_quantities_new(struct fw_quantities **out,
                                        struct fw_error *err);
FW_API void fw_quantities_free(struct fw_quantities *quantities);

/* Read text as a quantity of that kind into its unit inside. The units say
 * what an ambiguous word means ("ton": 907.18474 kg under FW_US, refused with
 * the choices otherwise unless units_given is set, then 1000 kg under
 * FW_METRIC). FW_EINPUT: the text is no such quantity; the message gives the
 * text, what was expected and a spelling that works: '"62 kgz" is not a mass;
 * try "62 kg"'. Only an angle, a
 * growth and a temperature may be negative. On failure *out is unchanged. */
FW_API enum fw_status fw_quantity_read(struct fw_quantities *quantities,
                                       const char *text, enum fw_kind kind,
                                       enum fw_units units, int units_given,
                                       double *out, struct fw_error *err);

/* "a mass", "a length", ... for messages. */
FW_API const char *fw_kind_name(enum fw_kind kind);

#ifdef __cplusplus
}
#endif
#endif
