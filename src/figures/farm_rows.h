/* Farm: what holds when the farm file does not tell it. */
/* clang-format off */

CHOICE(SEASON, "season", "growth from April to September north of the equator, "
    "from October to March south of it", PRACTICE,
    "whether the grass grows", "the first day and the hemisphere: " COMMON, "src/told/defaults.c")
CHOICE(BACK_FENCE, "back-fence", "yes in growth, no when dormant", PRACTICE,
    "whether a fence behind the flock keeps it off grazed ground",
    "grazed ground open for 3 days at most in growth, always when dormant: "
    COMMON, "src/told/defaults.c")
CHOICE(LAST, "last", "fit", PRACTICE, "how the last paddock is made", COMMON,
    "src/told/defaults.c")
CHOICE(WORK_ORDER, "work.order", "leapfrog", PRACTICE,
    "in which order a move is done", COMMON, "src/told/defaults.c")
CHOICE(LAMBING_WAY, "lambing.way", "daily", PRACTICE,
    "how they are moved while they lamb", COMMON, "src/told/defaults.c")
CHOICE(PARK, "park", "at the gate", PRACTICE,
    "where vehicle and spare posts stand", COMMON, "src/told/defaults.c")
CHOICE(SOIL, "soil", "moist", PRACTICE, "whether the ground is dry", COMMON,
    "src/told/defaults.c")
CHOICE(REEL_USE, "fence.reel-use", "one-a-strand", PRACTICE,
    "how the strands go on the reels", COMMON, "src/told/defaults.c")
CHOICE(LAMBS, "fence.lambs", "hold", PRACTICE,
    "whether the lowest wire holds lambs", COMMON, "src/keys/rows.h")
CHOICE(LAY_FLAT, "fence.lay-flat", "yes", PRACTICE,
    "whether tall grass is laid flat along a line before it is set", COMMON,
    "src/keys/rows.h")
CHOICE(TROUGH_MOVES, "hauling.trough-moves", "yes", PRACTICE,
    "whether a trough goes with the flock", COMMON, "src/told/defaults.c")
CHOICE(CONDUCTOR, "conductor", "poly-6x0.20", PRACTICE,
    "the wire of the moved fence", COMMON,
    "src/plan/wiring.c")
CHOICE(PERIMETER_CONDUCTOR, "perimeter-conductor", "steel-2.5", PRACTICE,
    "the live wire of the boundary", COMMON,
    "src/plan/wiring.c")
CHOICE(LEAD_CONDUCTOR, "lead.conductor", "steel-2.5", PRACTICE,
    "the wire of the lead from the energizer", COMMON, "src/plan/wiring.c")
CHOICE(BONDED, "bonded", "live-end", PRACTICE,
    "where the strands of a moved line are joined", COMMON,
    "src/told/defaults.c")
CHOICE(LEAKAGE, "leakage", "by its height, docs/guide/power.md", PRACTICE,
    "grass on the lowest wire", COMMON, "src/told/defaults.c")
CHOICE(EARTH_SOIL, "earth.soil", "loam", PRACTICE,
    "the soil that the earth rods stand in", COMMON,
    "src/plan/wiring.c")
FIGURE(EARTH_DRY_OHM_M, "earth.soil-dry", 400, "ohm m", 400, 400, PRACTICE,
    "what that soil resists where the ground is told to be dry", COMMON,
    "src/told/power.c")
FIGURE(PULSE_INTERVAL_S, "energizer.pulse", 1.5, "s", 1, 10, PUBLISHED,
    "from one pulse to the next of a set on a battery",
    "a maker's handbook; no authority has it", "src/plan/wiring.c")
FIGURE(CHARGE_DAYS, "energizer.charge", 7, "days", 1, 366, PRACTICE,
    "days between two charges of the energizer's battery", COMMON,
    "src/plan/wiring.c")
FIGURE(SUN_H, "energizer.sun", 4, "h", 0.5, 16, PUBLISHED,
    "hours of full sun a day on a solar panel",
    "a farm catalogue: 4 to 6 h; no authority has it", "src/plan/wiring.c")

FIGURE(PACE_M, "pace", 0.8, "m", 0.3, 1.5, PRACTICE,
    "one pace: the card says where to stand in paces", COMMON,
    "src/told/build.c")
FIGURE(LEAST_FACE_M, "least-face", 0.3, "m", 0.05, 5, PRACTICE,
    "least front of a paddock for each head, without a back fence", COMMON,
    "src/told/build.c")
FIGURE(LONGEST_SHAPE, "longest-shape", 4, "", 1, 100, PRACTICE,
    "how many times as long as wide a paddock may be", COMMON,
    "src/told/build.c")

FIGURE(MAP_NEAR_M, "map.near", 200, "m", 200, 200, PRACTICE,
    "what lies farther from every field is left out: twice what any rule asks "
    "for", OWN, "src/mapped/features.c")
FIGURE(MAP_THROUGH_M, "map.through", 5, "m", 5, 5, PRACTICE,
    "a line on a map runs through a field that has so much of it", OWN,
    "src/told/way_in.c")
FIGURE(MAP_PIECE_SHARE, "map.piece", 0.02, "share", 0.02, 0.02, PRACTICE,
    "of what is left beside ponds and exclusions: smaller pieces are given up",
    OWN, "src/told/exclude.c")
FIGURE(MAP_PART_WIDTH_M, "map.part-width", 6, "m", 6, 6, PRACTICE,
    "grass of another condition that is nowhere wider is not fenced for itself",
    OWN, "src/told/conditions.c")
FIGURE(MAP_NEGATIVE_SHARE, "map.negative", 0.05, "share", 0.05, 0.05, PRACTICE,
    "of a raster's cells that may be below zero, and count as nothing", OWN,
    "src/told/feed_cells.c")
FIGURE(MAP_GAP_SHARE, "map.gap", 0.01, "share", 0.01, 0.01, PRACTICE,
    "of a field that its zones may leave out and still tell its mass", OWN,
    "src/told/feed_zones.c")
FIGURE(MAP_TOLD_SHARE, "map.told", 0.0001, "share", 0.0001, 0.0001, PRACTICE,
    "of a field: less that overlaps or has no data is not told", OWN,
    "src/told/feed_cells.c src/told/feed_zones.c")
SIZES(MAP_STAND_INS_M, "map.stand-ins", LIST(-100, -99, 0, 255), "m", PRACTICE,
    "heights that stand for no height where the rest of the ground lies far above",
    COMMON, "src/told/heights.c")
FIGURE(MAP_FAR_ABOVE_M, "map.far-above", 15, "m", 15, 15, PRACTICE,
    "so far above", COMMON, "src/told/heights.c")
FIGURE(MAP_PLAIN_V, "map.plain-volts", 1000, "V", 1000, 1000, PRACTICE,
    "a power line's number without a unit is volts from there on: lines of so "
    "many kilovolts there are hardly", COMMON, "src/mapped/voltage.c")
FIGURE(FRONT_SAME_M, "front.same", 0.05, "m", 0.05, 0.05, PRACTICE,
    "places of a plan made before that are nearer are one", OWN,
    "src/told/front.c")
FIGURE(EDGE_BOW_M, "map.bow", 0.0005, "m", 0.0005, 0.0005, PRACTICE,
    "an edge that bows more between its ends in the map's own system is parted",
    OWN, "src/mapped/outline.c")
FIGURE(EDGE_SHORT_M, "map.short", 100, "m", 100, 100, COMPUTED,
    "a shorter edge bows by less in any system in use",
    "a chord's height over a great circle, length squared over 8 radii",
    "src/mapped/outline.c")
FIGURE(SHEET_LOAD_OHM, "energizer.sheet-load", 500, "ohm", 100, 50000, PUBLISHED,
    "load at which a data sheet tells volts and joules",
    "IEC 60335-2-76 as quoted in print; sheets have 100 to 50,000 ohm too",
    "src/told/power.c")
