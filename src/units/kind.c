/* What each kind of quantity is called, and how people write it. */
#include "units/quantity.h"

#include <string.h>

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
    [FW_KIND_TEMPERATURE] = {"a temperature",
                             NULL,
                             {"-15 C", "5 F"},
                             SPELLINGS("C", "F", "degrees C", "degrees F",
                                       "celsius", "fahrenheit")},
};

const struct fw_kind_row *fw_quantity__row(enum fw_kind kind)
{
    return &kinds[kind];
}

bool fw_quantity__has_sign(enum fw_kind kind)
{
    return kind == FW_KIND_ANGLE || kind == FW_KIND_GROWTH ||
           kind == FW_KIND_TEMPERATURE;
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
