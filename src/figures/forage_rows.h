/* Forage: weight by height, the share that is eaten, how long a stay is. */
/* clang-format off */

/* Pounds to the acre and inch, the range and its middle. */
#define LB_ACRE_IN (FW_POUND_KG / FW_ACRE_HA / (100 * FW_INCH_M))
#define SWARD(id, word, label, low, high, source)                              \
    FIGURE(SWARD_##id, "sward." word, ((low) + (high)) / 2.0 * LB_ACRE_IN,     \
           "kg/ha/cm", (low) * LB_ACRE_IN, (high) * LB_ACRE_IN, PUBLISHED,     \
           label ": " #low " to " #high                            \
           " lb/acre-inch", source, "src/forage/density.c")

SWARD(BLUEGRASS_THIN, "bluegrass-clover.thin",
    "thin bluegrass and clover", 150, 200, STICK)
SWARD(BLUEGRASS_GOOD, "bluegrass-clover.good",
    "good bluegrass and clover", 250, 300, STICK)
SWARD(BLUEGRASS_THICK, "bluegrass-clover.thick",
    "thick bluegrass and clover", 350, 400, STICK)
SWARD(RYEGRASS_THIN, "ryegrass-clover.thin",
    "thin perennial ryegrass and clover", 150, 200, STICK)
SWARD(RYEGRASS_GOOD, "ryegrass-clover.good",
    "good perennial ryegrass and clover", 250, 300, STICK)
SWARD(RYEGRASS_THICK, "ryegrass-clover.thick",
    "thick perennial ryegrass and clover", 350, 400, STICK)
SWARD(ORCHARDGRASS_THIN, "orchardgrass-legume.thin",
    "thin orchardgrass (cocksfoot) and legume", 150, 200, STICK)
SWARD(ORCHARDGRASS_GOOD, "orchardgrass-legume.good",
    "good orchardgrass (cocksfoot) and legume", 250, 300, STICK)
SWARD(ORCHARDGRASS_THICK, "orchardgrass-legume.thick",
    "thick orchardgrass (cocksfoot) and legume", 300, 350, STICK)
SWARD(TIMOTHY_THIN, "timothy-legume.thin",
    "thin timothy and legume", 150, 200, STICK)
SWARD(TIMOTHY_GOOD, "timothy-legume.good",
    "good timothy and legume", 250, 300, STICK)
SWARD(TIMOTHY_THICK, "timothy-legume.thick",
    "thick timothy and legume", 300, 350, STICK)
SWARD(FESCUE_NITROGEN_THIN, "fescue-nitrogen.thin",
    "thin tall fescue with nitrogen", 100, 150, STICK)
SWARD(FESCUE_NITROGEN_GOOD, "fescue-nitrogen.good",
    "good tall fescue with nitrogen", 200, 250, STICK)
SWARD(FESCUE_NITROGEN_THICK, "fescue-nitrogen.thick",
    "thick tall fescue with nitrogen", 350, 400, STICK)
SWARD(FESCUE_LEGUME_GOOD, "fescue-legume.good",
    "good tall fescue and legume", 200, 300,
    "Indiana pasture stick: 75 to 90 % cover")
SWARD(MIXED_THIN, "mixed.thin", "thin mixed pasture", 150, 200, STICK)
SWARD(MIXED_GOOD, "mixed.good", "good mixed pasture", 250, 300, STICK)
SWARD(MIXED_THICK, "mixed.thick", "thick mixed pasture", 300, 350, STICK)
SWARD(PENNSYLVANIA_GOOD, "pennsylvania-typical.good",
    "typical Pennsylvania pasture", 300, 300, "Penn State, four steps, step 4")
#undef SWARD

CURVE(FORAGE_USE, "forage.use", LIST(1, 2, 3, 4, 5, 6, 7), "days",
    LIST(.80, .75, .75, .70, .65, .60, .60), "share", PUBLISHED,
    "share of what stands above the residual that they eat, by days of stay",
    "Penn State Agronomy Guide, table 1.8-9", "src/forage/usable.c")
COUNT(STAY_DAYS, "stay", 1, "days", 1, 60, PRACTICE,
    "days in a paddock, at most those of the range", COMMON,
    "src/told/build.c src/keys/week.c src/forage/stay.c "
    "src/make/given.c src/make/given_time.c")

/* ---- the year ---- */

COUNT(WARM_MONTH, "season.warm", 4, "", 4, 4, PRACTICE,
    "month in which the warm half of the year begins north of the equator; six "
    "later south of it", COMMON, "src/forage/season.c")
COUNT(WARM_LAST_MONTH, "season.warm-last", 9, "", 9, 9, PRACTICE,
    "its last month", COMMON, "src/forage/season.c")
