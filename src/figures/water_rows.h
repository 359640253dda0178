/* Water: how far they walk to it, where a trough stands, what a pipe brings,
 * what hauling takes. */
/* clang-format off */

FIGURE(WATER_FAR_M, "water.far", 250, "m", 250, 250, PUBLISHED,
    "farthest that any point of a paddock should be from water: 800 ft",
    "University of Kentucky, March 2012; Teagasc",
    "src/haul/shared.c src/water/walk.c")
FIGURE(WATER_TOO_FAR_M, "water.too-far", 600, "m", 600, 600, PUBLISHED,
    "most that sheep should walk to water in summer",
    "DPIRD Western Australia, AgMemo, December 2018", "src/water/walk.c")
FIGURE(CLIMB_LEVEL_M, "water.climb", 28 / 2.6, "m", 28 / 2.6, 28 / 2.6, MEMORY,
    "on the level that tires them as 1 m of climb does: 28 J/kg upwards, 2.6 J/kg "
    "along", "AFRC, energy and protein requirements of ruminants, 1993, from "
    "memory", "src/water/walk.c")
FIGURE(CLIMB_WAVERS_M, "water.wavers", 0.5, "m", 0.2, 1, PRACTICE,
    "heights of a map that rise and fall by less on the way are no climb", OWN,
    "src/choice/slope.c")
FIGURE(CLIMB_SAID_SHARE, "water.climb-said", 0.1, "share", 0.1, 0.1, PRACTICE,
    "a way to water whose climb tires them by no more of its length is told "
    "without it", OWN, "src/water/walk.c")
FIGURE(TROUGH_CLEAR_SHARE, "trough.clear", 0.9, "share", 0.9, 0.9, PRACTICE,
    "without room for the distance from fence, a trough has at least that share "
    "of the most there is", OWN, "src/water/place.c")
FIGURE(TROUGH_GAIN, "trough.gain", 0.1, "share", 0.1, 0.1, PRACTICE,
    "a place for a trough that is clearer by less is not looked for", OWN,
    "src/water/place.c")

/* Loss of head in a pipe: this x (100 / C) ^ flow's power x flow ^ the same /
 * bore ^ its power, in feet a 100 ft, gallons a minute and inches. */
#define HAZEN "Hazen and Williams, as engineeringtoolbox.com has them (d_797)"
FIGURE(PIPE_LOSS, "pipe.loss", 0.2083, "ft a 100 ft", 0.2083, 0.2083, PUBLISHED,
    "loss of head at 1 gal/min in 1 in of bore with C 100", HAZEN,
    "src/water/pipe.c")
FIGURE(PIPE_FLOW_POWER, "pipe.flow-power", 1.852, "", 1.85, 1.852, PUBLISHED,
    "the power of the flow in that", HAZEN, "src/water/pipe.c")
FIGURE(PIPE_BORE_POWER, "pipe.bore-power", 4.8655, "", 4.8655, 4.871, PUBLISHED,
    "the power of the bore in that", HAZEN, "src/water/pipe.c")
FIGURE(PIPE_C, "pipe.c", 140, "", 130, 150, PUBLISHED,
    "how smooth a plastic pipe is; new ones have 150, steel 140, galvanised 100",
    HAZEN, "src/cli/water_pipe.c")
FIGURE(PIPE_FASTEST_M_S, "pipe.fastest", 5 * FW_FOOT_M, "m/s", 5 * FW_FOOT_M,
    5 * FW_FOOT_M, PRACTICE, "most that water should run in a pipe: 5 ft/s",
    COMMON, "src/report/water_pipe.c src/water/pipe.c")
SIZES(PIPE_BORES_M, "pipe.bores", LIST(0.824 * FW_INCH_M, 1.049 * FW_INCH_M,
    1.380 * FW_INCH_M, 1.610 * FW_INCH_M, 2.067 * FW_INCH_M), "m", MEMORY,
    "inside of 3/4, 1, 1 1/4, 1 1/2 and 2 in pipe: 0.824, 1.049, 1.380, 1.610, "
    "2.067 in", "ASTM D2239 and schedule 40, from memory", "src/water/pipe.c")
FIGURE(PIPE_VALVE_KPA, "pipe.valve", 20, "kPa", 10, 50, PRACTICE,
    "what the valve of a trough wants while it fills: 0.2 bar", COMMON,
    "src/cli/water_pipe.c")
FIGURE(WATER_KPA_M, "pipe.head", 9.80665, "kPa", 9.78, 9.83, COMPUTED,
    "the pressure of 1 m of water", "standard gravity on 1,000 kg/m3",
    "src/water/pipe.c")
#undef HAZEN

FIGURE(HAUL_DRIVE_M_MIN, "hauling.drive-a-minute", 250, "m", 20, 1000, PRACTICE,
    "how far a loaded tank is driven in a minute: 15 km/h", COMMON,
    "src/haul/hauling.c")
FIGURE(HAUL_FILL_L_MIN, "hauling.fill", 40, "L/min", 1, 2000, PRACTICE,
    "how fast a tank is filled, and emptied again", COMMON, "src/haul/hauling.c")
FIGURE(HAUL_HANDLE_MIN, "haul.handle", 5, "min", 2, 15, PRACTICE,
    "hitching, hoses and lids on each trip", COMMON, "src/haul/hauling.c")
FIGURE(HAUL_SLOPE, "hauling.slope", 0.10, "share", 0.02, 0.4, PUBLISHED,
    "steepest ground that the loaded tank is driven over: 1 in 10; less where "
    "the vehicle's handbook says less",
    "Health and Safety Executive (Great Britain), workplace transport, traffic "
    "routes", "src/haul/loaded.c")
FIGURE(HAUL_SIDE_M, "haul.side", 0.3, "m", 0.2, 0.5, PRACTICE,
    "room on either side of a loaded vehicle in a gate or an opening", COMMON,
    "src/haul/loaded.c")
FIGURE(HAUL_OPENING_M, "haul.opening", 3, "m", 2.5, 4, PRACTICE,
    "how wide a fence is opened for a vehicle whose width nobody told", COMMON,
    "src/haul/loaded.c src/report/steps_water.c")
FIGURE(ROADS_JOIN_M, "haul.join", 5, "m", 1, 10, PRACTICE,
    "tracks of a map that come so near to each other meet", COMMON,
    "src/water/roads.c")
FIGURE(ROADS_GAP_M, "haul.gap", 25, "m", 10, 50, PRACTICE,
    "a track that ends farther than that from the gate, or begins so from where "
    "the tank is filled, is said to", COMMON, "src/haul/track.c src/mapped/road.c")
FIGURE(ROADS_REACH_M, "haul.reach", 20000, "m", 5000, 50000, PRACTICE,
    "tracks of a map are followed so far from the first field", OWN,
    "src/mapped/road.c")
COUNT(FROST_HAULS, "haul.frost", 2, "", 2, 3, PRACTICE,
    "hauls on a day of frost at least, so that less stands in the trough to "
    "freeze; the ice is broken as often", COMMON,
    "src/water/haul.c src/report/weather.c")
FIGURE(FROST_C, "water.ice", 0, "C", 0, 0, PUBLISHED,
    "at that cold there is ice on the trough and in the hose",
    "melting point of ice at one atmosphere", "src/report/weather.c")
FIGURE(TROUGH_SHIFT_MIN, "trough.shift", 5, "min", 2, 15, PRACTICE,
    "emptying a trough that moves with the flock and setting it anew", COMMON,
    "src/haul/hauled.c")
FIGURE(TROUGH_PEAK_H, "trough.peak", 4, "h", 4, 4, PUBLISHED,
    "hours in which a flock drinks the day's water",
    "Agriculture Victoria, sheep notes, spring 2024: 21 L/min for 500 dry sheep",
    "src/water/haul.c")
FIGURE(TROUGH_FLOW_L_MIN, "trough.flow", 60 / 300.0, "L/min", 60 / 300.0,
    60 / 300.0, PUBLISHED, "flow for each head: 1 L/s for 300 sheep",
    "SheepConnect South Australia, temporary water troughs", "src/water/haul.c")
FIGURE(STORED_DAYS, "haul.stored-days", 2, "days", 2, 3, PUBLISHED,
    "of water stored, or so much as is drunk in 6 h at the peak where that is "
    "more", "Saskatchewan, water storage facilities", "src/water/haul.c")
FIGURE(STORED_PEAK_H, "haul.stored-peak", 6, "h", 6, 6, PUBLISHED,
    "hours at the peak that are stored, where that is more",
    "Saskatchewan, water storage facilities", "src/water/haul.c")
