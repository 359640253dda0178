/* Power: joules, volts, wires, what leaks, soils, earth rods, what feeds it. */
/* clang-format off */

/* ---- volts ---- */

#define TOUCHED "touched: NRCS Iowa job sheet, Fence: Electric"
FIGURE(VOLTS_HAIR_V, "volts.hair", 3000, "V", 3000, 3000, PRACTICE,
    "wanted on a tester for hair sheep, or freshly shorn ones, that are trained",
    "hair or fresh shorn, trained: " COMMON "; " TOUCHED, "src/power/wanted.c")
FIGURE(VOLTS_WOOL_V, "volts.wool", 4000, "V", 4000, 4500, PUBLISHED,
    "wanted on a tester for wool", "Bavarian LfL, Elektrische Einzäunung; " TOUCHED,
    "src/power/wanted.c")
FIGURE(VOLTS_DRY_V, "volts.dry", 5000, "V", 4000, 5000, PUBLISHED,
    "wanted on a tester on dry soil, whatever the coat",
    "dry soil: a seller's page that quotes DIN VDE 0131, no authority was found; "
    TOUCHED, "src/power/wanted.c")
FIGURE(VOLTS_TOUCHED_V, "volts.touched", 2000, "V", 2000, 2000, PUBLISHED,
    "wanted while a sheep touches the wire", TOUCHED, "src/power/wanted.c")

/* ---- the standard ---- */

#define IEC "EN 60335-2-76 as quoted in a maker's handbook, 2015"
#define IEC_TABLE_1                                                            \
    "table 1 from BS EN 60335-2-76, professional-electrician.com, Electric "   \
    "Fence Controllers: What are the requirements?"
#define IEC_MEMORY "IEC 60335-2-76, 22.108 and figure 102, from memory"
FIGURE(PULSE_APART_S, "pulse.apart", 1, "s", 1, 1, PUBLISHED,
    "least from one pulse to the next", IEC_TABLE_1, "src/power/limits.c")
FIGURE(PULSE_MOST_S, "pulse.longest", 0.01, "s", 0.01, 0.01, PUBLISHED,
    "longest that a pulse may last", IEC_TABLE_1, "src/power/limits.c")
FIGURE(PULSE_MOST_J, "pulse.most", 5, "J", 5, 5, PUBLISHED,
    "most joules of a pulse at any load of 50 to 500 ohm", IEC,
    "src/live/power.c src/live/size.c src/power/limits.c "
    "src/report/power.c src/export/power_json.c")
FIGURE(PULSE_DELAYED_J, "pulse.delayed", 15, "J", 15, 15, PUBLISHED,
    "most joules of a pulse that comes only after a delay", IEC,
    "src/power/limits.c")
FIGURE(PULSE_SHORT_S, "pulse.short", 0.0001, "s", 0.0001, 0.0001, MEMORY,
    "a current-limited pulse up to so long may have its most current",
    IEC_MEMORY, "src/power/limits.c")
FIGURE(PULSE_SHORT_A, "pulse.short-current", 15.7, "A", 15.7, 15.7, MEMORY,
    "that current", IEC_MEMORY, "src/power/limits.c")
FIGURE(PULSE_CURVE_MS, "pulse.curve", 41885, "ms", 41885, 41885, MEMORY,
    "of a longer one: duration in ms = this x mA ^ -1.34", IEC_MEMORY,
    "src/power/limits.c")
FIGURE(PULSE_CURVE_POWER, "pulse.curve-power", 1.34, "", 1.34, 1.34, MEMORY,
    "the power in that curve", IEC_MEMORY, "src/power/limits.c")
FIGURE(PULSE_S, "pulse.length", 0.0001, "s", 0.00002, 0.00015, COMPUTED,
    "how long a pulse lasts when only its joules are told",
    "5 kV into 500 ohm are 10 A, and 5 J in 100 us; makers span 20 to 150",
    "src/live/size.c src/power/source.c")

/* ---- joules ---- */

FIGURE(RULE_MILE_M, "rule.mile", FW_MILE_M, "m", FW_MILE_M, FW_MILE_M, PUBLISHED,
    "fence that a joule feeds by the rule of 1 J a mile",
    "Gerrish, Common fencing mistakes, beefmagazine.com",
    "src/power/energizer.c")
FIGURE(RULE_KM_M, "rule.km", 1000, "m", 1000, 1250, PUBLISHED,
    "by the rule of 1 J a kilometre of clean fence",
    "mrepaca.fr (sheep); lecarrefarago.com", "src/power/energizer.c")
FIGURE(RULE_WEEDY_M, "rule.weedy", 2000 * FW_FOOT_M, "m", 2000 * FW_FOOT_M,
    2000 * FW_FOOT_M, PUBLISHED,
    "by the rule of 1 J for 2,000 ft of fence full of weeds",
    "a maker's farm web log, June 2018; no authority was found", "src/power/energizer.c")
SIZES(ENERGIZER_SIZES_J, "energizer.sizes", LIST(0.25, 0.5, 1, 2, 3, 4, 5, 6, 8,
    10, 12, 15), "J", PRACTICE, "common sizes of energizers, by output joules",
    COMMON, "src/power/energizer.c")
CURVE(GUESS_OPEN_V, "energizer.open-guess", LIST(0.25, 0.5, 1, 2, 3, 5), "J",
    LIST(8500, 9000, 9000, 9500, 9500, 9800), "V", MEMORY,
    "volts without a fence of an energizer of which only the joules are told",
    "the joules alone: an order of magnitude, from memory",
    "src/live/power.c src/live/cure.c src/live/day.c "
    "src/live/save.c src/live/size.c src/power/source.c")
CURVE(GUESS_OHM, "energizer.internal-guess", LIST(0.25, 0.5, 1, 2, 3, 5), "J",
    LIST(917, 684, 500, 364, 292, 221), "ohm", MEMORY,
    "what such an energizer itself resists",
    "the joules alone: an order of magnitude, from memory",
    "src/power/source.c")

/* ---- earth rods by the joules ---- */

#define ROD_RULE                                                               \
    "3 ft of rod a joule, three rods at least: Gerrish, beefmagazine.com; "    \
    "NRCS Virginia 382(c), 2009; Univ. of Arkansas"
#define ROD_TEST "beefmagazine.com, Testing an energizer's ground wire"
#define LAST_ROD "the last earth rod reads no more in that test"
#define ONE_ROD                                                                \
    "one 2 ft rod may do for a portable set in moist soil: "                   \
    "electric-horse-fence.com"
FIGURE(ROD_A_JOULE_M, "rods.a-joule", 0.9144, "m", 0.9144, 0.9144,
    PUBLISHED, "rod for each output joule: 3 ft", ROD_RULE,
    "src/live/power.c src/power/energizer.c")
FIGURE(ROD_M, "rods.length", 6 * FW_FOOT_M, "m", 6 * FW_FOOT_M, 8 * FW_FOOT_M,
    PUBLISHED, "length of an earth rod: 6 ft", ROD_RULE,
    "src/power/earth.c src/power/energizer.c")
COUNT(RODS_LEAST, "rods.least", 3, "", 3, 3, PUBLISHED,
    "earth rods at least", ROD_RULE, "src/power/energizer.c")
FIGURE(ROD_PORTABLE_M, "rods.portable", 2 * FW_FOOT_M, "m", 2 * FW_FOOT_M,
    2 * FW_FOOT_M, PUBLISHED, "length of the one rod of a small portable set: 2 ft",
    ONE_ROD, "src/power/energizer.c")
FIGURE(ROD_PORTABLE_J, "rods.portable-most", 0.5, "J", 0.5, 0.5, PRACTICE,
    "most joules of a set that is small in that", COMMON,
    "src/power/energizer.c")

FIGURE(ROD_THICK_M, "rods.diameter", 0.016, "m", 0.0127, 0.016, PUBLISHED,
    "how thick an earth rod is: 5/8 in, 16 mm",
    "1/2 to 5/8 in: NRCS Virginia 382(c), 2009; NRCS Rhode Island",
    "src/power/earth.c")
FIGURE(RODS_APART_M, "rods.apart", 10 * FW_FOOT_M, "m", 10 * FW_FOOT_M,
    10 * FW_FOOT_M, PUBLISHED, "from one earth rod to the next: 10 ft",
    "Gerrish, beefmagazine.com; NRCS Virginia 382(c), 2009", "src/make/perimeter.c src/power/earth.c")

/* ---- earth rods by the test ---- */

FIGURE(RODS_SHORTED_V, "rods.shorted", 2000, "V", 2000, 2000, PUBLISHED,
    "a tester reads no more on the fence that is shorted to test the earth",
    ROD_TEST,
    "src/live/size.c src/power/earth.c")
COUNT(RODS_DRIVEN, "rods.most", 12, "", 12, 12, PRACTICE,
    "earth rods that somebody would drive at most", COMMON, "src/power/earth.c")
FIGURE(ROD_STRICT_V, "rods.volts-strict", 200, "V", 200, 200, PUBLISHED,
    LAST_ROD, ROD_TEST,
    "src/power/earth.c")
FIGURE(ROD_USUAL_V, "earth.test", 300, "V", 100, 1000, PUBLISHED,
    LAST_ROD ", where nobody tells another", "a dealer's page",
    "src/plan/wiring.c src/power/earth.c")
FIGURE(ROD_LENIENT_V, "rods.volts-lenient", 400, "V", 400, 400, PUBLISHED,
    LAST_ROD, "studylibfr.com 2913701", "src/power/earth.c")
FIGURE(ROD_MOST_V, "rods.volts-most", 500, "V", 500, 500, PUBLISHED, LAST_ROD,
    "a maker's handbook, manualslib.fr 51956 p. 11", "src/power/earth.c")

/* ---- the ground under the hooves ---- */

#define HOOVES "majatekrogalin.pl, what sheep do to a sward"
FIGURE(HOOVES_SHEEP_KG, "hooves.sheep", 70, "kg", 70, 70, PUBLISHED,
    "a sheep whose hooves are known", HOOVES, "src/power/earth.c")
FIGURE(HOOVES_KG_M2, "hooves.presses", 14000, "kg/m2", 14000, 14000, PUBLISHED,
    "how it presses on the ground", HOOVES, "src/power/earth.c")
FIGURE(HOOVES_SOIL_OHM_M, "hooves.soil", 100, "ohm m", 100, 100, PRACTICE,
    "the ground that the 500 ohm of a body in print have in them: loam", COMMON,
    "src/power/earth.c")

/* ---- what feeds it ---- */

FIGURE(FEED_EFFICIENCY, "feeding.efficiency", 0.6, "share", 0.6, 0.6, COMPUTED,
    "output joules over what the battery gives",
    "within 9 % of a maker's handbook, no authority has it: 1, 2, 3 J at 12 V "
    "take 90, 170, 280 mA at a pulse each 1.5 s, 55, 105, 170 at 2.5 s",
    "src/power/feeding.c")
FIGURE(BATTERY_SHARE, "feeding.battery", 0.59, "share", 0.59, 0.59, COMPUTED,
    "of a battery that may be used",
    "all five rows of a maker's handbook for 8 days, no authority has them: 60, "
    "100, 195, 320, 450 mA are 20, 35, 65, 105, 150 Ah", "src/power/feeding.c")
FIGURE(BATTERY_STEP_AH, "feeding.battery-step", 5, "Ah", 5, 5, PRACTICE,
    "batteries are told to the next of so many", COMMON, "src/power/feeding.c")
FIGURE(BATTERY_V, "feeding.battery-volts", 12, "V", 12, 12, PUBLISHED,
    "battery of an energizer", "a farm catalogue; no authority has it",
    "src/live/power.c")
FIGURE(PANEL_MARGIN, "feeding.margin", 1.2, "times", 1.2, 1.2, PUBLISHED,
    "panel beyond the sum, for losses", "a farm catalogue; no authority has it",
    "src/live/power.c")
FIGURE(LOOK_STEP_SHARE, "fault.step", 0.05, "share", 0.05, 0.05, PRACTICE,
    "of what a place reads on a sound fence: less lost a tester does not show",
    COMMON, "src/live/look.c")
FIGURE(CURE_LEAST_V, "volts.cure", 5, "V", 5, 5, PRACTICE,
    "a cure that gains a sheep less is not told", OWN, "src/live/power.c")
SIZES(PANEL_SIZES_W, "feeding.panels", LIST(5, 10, 20, 30, 40, 50, 60, 80, 100,
    120, 150, 200), "W", PRACTICE, "common sizes of solar panels", COMMON,
    "src/power/feeding.c")
FIGURE(MONTH_DAYS, "feeding.month", 365.25 / 12, "days", 365.25 / 12,
    365.25 / 12, PUBLISHED, "days of a month, on average", "the calendar",
    "src/power/feeding.c")

/* ---- wires ---- */

#define STAINLESS                                                              \
    "drawn stainless steel at 0.72 uohm m (0.69 in print: 4 % less)"
#define STEEL "steel at 0.172 uohm m"
#define ALUMINIUM "aluminium at 0.0283 uohm m; alloys have 15 % more"
#define COPPER_IN "; make-up: old.lafranceagricole.fr; copper at 0.0173 uohm m"
#define WIRE(id, word, ohm_m, least, most, mark, what, source)                 \
    FIGURE(WIRE_##id, "wire." word, ohm_m, "ohm/m", least, most, mark, what,   \
           source, "src/power/conductors.c")
WIRE(STEEL_25, "steel-2.5", 56 / FW_MILE_M, 0.03, 0.05, PUBLISHED,
    "galvanized steel, 2.5 mm (12.5 gauge)",
    "a maker's handbook: what affects the resistance of a fence, no authority "
    "was found; 30 to 50 ohm/km: techniquesdelevage.fr")
WIRE(STEEL_20, "steel-2.0", 0.0547, 0.0547, 0.0547, COMPUTED,
    "galvanized steel, 2.0 mm (about 14 gauge)", STEEL)
WIRE(STEEL_18, "steel-1.8", 0.0676, 0.0676, 0.0676, COMPUTED,
    "galvanized steel, 1.8 mm", STEEL)
WIRE(STEEL_16, "steel-1.6", 0.0855, 0.08, 0.1, COMPUTED,
    "galvanized steel, 1.6 mm (16 gauge)",
    STEEL "; 80 to 100 ohm/km: techniquesdelevage.fr")
WIRE(STEEL_CABLE, "steel-stranded", 0.2, 0.2, 0.2, PUBLISHED,
    "steel cable of several strands, 1.8 mm",
    "about 200 ohm/km: techniquesdelevage.fr")
WIRE(ALUMINIUM_25, "aluminium-2.5", 0.00577, 0.00577, 0.00577, COMPUTED,
    "aluminium, 2.5 mm (12.5 gauge)", ALUMINIUM)
WIRE(ALUMINIUM_20, "aluminium-2.0", 0.00901, 0.00901, 0.00901, COMPUTED,
    "aluminium, 2.0 mm (about 14 gauge)", ALUMINIUM)
WIRE(COATED_25, "aluminium-coated-2.5", 56 / FW_MILE_M / 3, 56 / FW_MILE_M / 3,
    56 / FW_MILE_M / 3, PUBLISHED, "steel coated with aluminium, 2.5 mm",
    "a third of plain steel: informedfarmers.com")
WIRE(POLY_3_15, "poly-3x0.15", 13.6, 13.6, 13.6, COMPUTED,
    "polywire, 3 steel strands of 0.15 mm", STAINLESS)
WIRE(POLY_3_20, "poly-3x0.20", 7.64, 7.64, 7.64, COMPUTED,
    "polywire, 3 steel strands of 0.20 mm", STAINLESS)
WIRE(POLY_6_16, "poly-6x0.16", 5.97, 5.97, 5.97, COMPUTED,
    "polywire, 6 steel strands of 0.16 mm", STAINLESS)
WIRE(POLY_6_20, "poly-6x0.20", 3.82, 3.66, 3.82, COMPUTED,
    "polywire, 6 steel strands of 0.20 mm", STAINLESS)
WIRE(POLY_9_20, "poly-9x0.20", 2.55, 2.55, 2.55, COMPUTED,
    "polywire, 9 steel strands of 0.20 mm", STAINLESS)
WIRE(COPPER_1_40, "poly-copper-1x0.40", 0.131, 0.131, 0.131, COMPUTED,
    "polywire, 1 tinned copper strand of 0.40 mm and 8 of steel, 0.20 mm",
    STAINLESS COPPER_IN)
WIRE(COPPER_3_25, "poly-copper-3x0.25", 0.114, 0.114, 0.114, COMPUTED,
    "polywire, 3 tinned copper strands of 0.25 mm and 6 of steel, 0.20 mm",
    STAINLESS COPPER_IN)
/* A worn net has fewer live strings than a new one, and knots: five of the
 * usual seven or so are taken. */
WIRE(NETTING, "netting", 7.64 / 5, 7.64 / 5, 7.64 / 5, PRACTICE,
    "netting, the whole of it: no figure was found; assumed are five live "
    "strings of 3 steel strands of 0.20 mm, joined at both ends",
    "no source; assumed make-up, " STAINLESS)
#undef WIRE

/* ---- what leaks ---- */

#define LEAKS(id, word, ohm_km, least, most, what, source)                     \
    FIGURE(LEAKS_##id, "leaks." word, ohm_km, "ohm km", least, most,         \
           COMPUTED, what, source, "src/power/leakage.c")
LEAKS(CLEAN, "clean", 10000, 4000, 12900, "clean, dry, mown under the wire",
    "from 1 to 2 A a mile at 5 to 7 kV: Virginia Cooperative Extension SPES-204")
LEAKS(NORMAL, "normal", 5000, 4000, 11300,
    "kept, a little grass here and there",
    "the lower half of what follows from Virginia Cooperative Extension SPES-204")
LEAKS(LIGHT, "light", 2000, 2000, 2570, "light grass on the low wire",
    "from 1 J a mile (2,570 ohm km): Gerrish, beefmagazine.com")
LEAKS(MODERATE, "moderate", 1000, 980, 1600, "grass on much of the low wire",
    "from 1 J for 610 m of weeds (980 ohm km): a maker's farm web log, June 2018")
LEAKS(HEAVY, "heavy", 500, 290, 780, "overgrown or wet",
    "from 11 kV falling to 6 in summer grass on two low wires (290 to 780 ohm "
    "km): new-libertyfarm.blogspot.com, March 2006")
#undef LEAKS

/* ---- soils ----
 * Where print has a range and no middle, its upper end is reckoned with: too
 * many rods do no harm. */

#define AVERAGES                                                               \
    "saecanet.com, table of averages; no authority was found with one"
#define RANGES                                                                 \
    "table 1 of an earthing note after IEEE 142 and BS 7430 (Pangonilo)"
#define GROUND(id, word, least, ohm_m, most, mark, what, source)               \
    FIGURE(SOIL_##id, "soil." word, ohm_m, "ohm m", least, most, mark, what,   \
           source, "src/power/soil.c")
GROUND(BOG, "bog", 30, 30, 30, PUBLISHED, "bog", AVERAGES)
GROUND(CLAY, "clay", 3.4, 40, 163, PUBLISHED, "heavy clay",
    "US Bureau of Standards, report 108, as quoted in a maker's book on testing "
    "earths: clay, shale, gumbo, loam 40.6 on average")
GROUND(LOAM, "loam", 100, 100, 100, MEMORY, "loam, silt, sandy clay, humus",
    "IEEE 80, table 8, moist soil (from memory); the same: saecanet.com")
GROUND(SILT_CLAY, "silt-clay", 30, 80, 80, PUBLISHED,
    "silty or clayey sand that sticks a little", RANGES)
GROUND(CLAY_SAND, "clay-sand", 50, 200, 200, PUBLISHED, "clayey sand", RANGES)
GROUND(MOIST_SAND, "moist-sand", 50, 200, 3000, PUBLISHED, "moist sand",
    AVERAGES)
GROUND(SILT_SAND, "silt-sand", 100, 800, 800, PUBLISHED, "silty sand", RANGES)
GROUND(CLAY_GRAVEL, "clay-gravel", 200, 400, 400, PUBLISHED, "clayey gravel",
    RANGES)
GROUND(MOIST_GRAVEL, "moist-gravel", 590, 1000, 4580, PUBLISHED, "moist gravel",
    "US Bureau of Standards, report 108, as quoted in a maker's book on testing "
    "earths: gravel, sand, stones with little clay 940 on average")
GROUND(PEAT, "peat", 200, 1200, 1200, PUBLISHED, "peat", AVERAGES)
GROUND(GRAVEL, "gravel", 600, 1000, 1000, PUBLISHED, "gravel of all sizes",
    RANGES)
GROUND(COARSE_GRAVEL, "coarse-gravel", 1000, 2500, 2500, PUBLISHED,
    "gravel of one size", RANGES)
GROUND(FROZEN, "frozen", 300, 790, 3300, PUBLISHED,
    "frozen at -5 C, sandy loam",
    "a maker's book on testing earths, table of temperature: 300 as ice at 0 C, "
    "790 at -5, 3,300 at -15; 72 at 20 C")
GROUND(STONY, "stony", 2000, 2000, 2000, PUBLISHED, "stony or on rock",
    AVERAGES)
#undef GROUND
