/* Flock: what they drink. What they eat is a table of its own,
 * src/flock/intake.c. */
/* clang-format off */

#define EWES_DRINK                                                             \
    "South Dakota State University 2022, from NRC 2007: upper of its range"
#define LITRES(gal) (gal) * FW_GALLON_L
#define EWES(id, name, low, middle, high, what)                                \
    CURVE(WATER_##id, "drinking." name,                                        \
          LIST(130 * FW_POUND_KG, 160 * FW_POUND_KG, 200 * FW_POUND_KG), "kg", \
          LIST(LITRES(low), LITRES(middle), LITRES(high)), "L", PUBLISHED,     \
          what ", a day, at 130, 160 and 200 lb: " #low ", " #middle ", " #high \
          " gal", EWES_DRINK, "src/flock/water.c")
EWES(MAINTENANCE, "maintenance", 0.82, 0.96, 1.13, "dry ewe and any other sheep")
EWES(PREGNANT, "pregnant", 1.63, 1.90, 2.25, "ewe in lamb")
EWES(LACTATING, "lactating", 2.02, 2.36, 2.79, "ewe with a single lamb")
#undef EWES
FIGURE(WATER_TWINS, "drinking.twins", 2, "times", 2, 2, PUBLISHED,
    "as much as with one lamb, what a ewe with twins drinks", EWES_DRINK,
    "src/flock/water.c")
FIGURE(WATER_LAMB_SHARE, "drinking.lamb", 0.1, "share", 0.1, 0.1, PUBLISHED,
    "of its live weight that a lamb drinks a day",
    "10 % of live weight a day: Meat & Livestock Australia, DPIRD",
    "src/flock/water.c")
