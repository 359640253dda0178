/* Flock: what they need and drink. What they eat is a table of its own,
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
#define EWES_NEED(id, name, low, middle, high, what)                           \
    CURVE(WATER_NEED_##id, "drinking.need-" name,                              \
          LIST(130 * FW_POUND_KG, 160 * FW_POUND_KG, 200 * FW_POUND_KG), "kg", \
          LIST(LITRES(low), LITRES(middle), LITRES(high)), "L", PUBLISHED,     \
          what ", a day, at 130, 160 and 200 lb: " #low ", " #middle ", " #high \
          " gal", "South Dakota State University 2022, from NRC 2007: lower of " \
          "its range", "src/flock/drinks.c")
EWES_NEED(MAINTENANCE, "maintenance", 0.60, 0.70, 0.83,
    "need of a dry ewe when it is cool, that of her feed included")
EWES_NEED(PREGNANT, "pregnant", 1.21, 1.41, 1.67, "the same of a ewe in lamb")
#undef EWES_NEED
FIGURE(WATER_TWINS, "drinking.twins", 2, "times", 2, 2, PUBLISHED,
    "as much as with one lamb, what a ewe with twins drinks", EWES_DRINK,
    "src/flock/water.c")
FIGURE(WATER_LAMB_SHARE, "drinking.lamb", 0.1, "share", 0.1, 0.1, PUBLISHED,
    "of its live weight that a lamb drinks a day",
    "10 % of live weight a day: Meat & Livestock Australia, DPIRD",
    "src/flock/water.c")
CURVE(WATER_AIR, "drinking.air", LIST(10, 17.5, 25), "C", LIST(1, 1.25, 1.5),
    "times", MEMORY,
    "of the need on a cool day, under 15 C; 15 to 20 C; warmer",
    "ARC: 2, 2.5 and 3 L a kg of dry matter, from memory", "src/flock/drinks.c")
FIGURE(WATER_HOT, "drinking.hot", 1.8, "times", 1.4, 1.8, PUBLISHED,
    "of the need on a cool day, in extreme heat",
    "Meat & Livestock Australia, DPIRD: up to 80 % more; summer 40 %",
    "src/flock/drinks.c")
FIGURE(GRASS_WATER, "hauling.grass-water", 0.8, "share", 0, 0.9, PUBLISHED,
    "water in the fresh weight of the grass: at 80 % it carries 4 L a kg of dry "
    "matter, which can cover a dry ewe whole", "Green, NRCS Missouri",
    "src/flock/drinks.c")
FIGURE(GRASS_WATER_DORMANT, "drinking.grass-dormant", 0.5, "share", 0.3, 0.7,
    PRACTICE, "the same of grass that is kept for winter", COMMON,
    "src/flock/drinks.c")
FIGURE(GRASS_WATER_HOT, "drinking.grass-hot", 0.7, "share", 0.6, 0.8, PRACTICE,
    "water in the fresh weight of the grass on a hot day, at most", COMMON,
    "src/flock/drinks.c")
FIGURE(SALT_L_G, "drinking.salt", 0.04, "L", 0.033, 0.047, COMPUTED,
    "drunk more for each gram of salt",
    "Peirce 1957, AR9570711, and AR9630815: means of their trials",
    "src/flock/drinks.c")
FIGURE(SALT_G, "drinking.salt-eaten", 5, "g", 0.5, 8.6, PUBLISHED,
    "salt that a sheep takes a day where it may",
    "Iowa Research Bulletin 94: lambs, lots of 1,306", "src/flock/drinks.c")
