/* Fence: what holds when nothing is told, and the minutes of a move.
 *
 * Work rates: no time study of moved sheep fence on foot was found. One timed
 * demonstration, three strands from a small vehicle, took 20 minutes for 300 m
 * (agribourgogne.fr, 5 July 2024); tests/unit/test_fence.c has it. */
/* clang-format off */

COUNT(FENCE_STRANDS, "fence.strands", 2, "", 1, 8, PUBLISHED,
    "live wires of a moved fence, one above the other", WEB_LOG_2006,
    "src/fence/spec.c")
FIGURE(FENCE_POST_GAP_M, "fence.post-gap", 8, "m", 1, 50, PRACTICE,
    "widest gap between two posts of a moved fence on flat ground",
    COMMON ": 8 m flat, 6 m rolling, 4 m broken", "src/fence/spec.c")
FIGURE(FENCE_BEND_DEG, "fence.bend", 15, "degrees", 15, 15, PRACTICE,
    "a moved fence that turns more has a post there", COMMON,
    "src/fence/spec.c")
FIGURE(FENCE_SLACK, "fence.slack", 0.04, "share", 0, 0.5, PRACTICE,
    "wire beyond the length of a moved fence, for sag and knots",
    COMMON ": 3 to 5 %", "src/fence/spec.c")
FIGURE(FENCE_REEL_M, "fence.reel", 400, "m", 10, 2000, PRACTICE,
    "wire on one reel", COMMON, "src/fence/spec.c")
FIGURE(FENCE_TOP_M, "fence.top", 0.55, "m", 0.2, 1.5, PUBLISHED,
    "height of a moved fence's highest wire", WEB_LOG_2006 ": 22 in",
    "src/fence/heights.c src/fence/spec.c")
FIGURE(FENCE_BOTTOM_M, "fence.bottom", 0.35, "m", 0.05, 1, PUBLISHED,
    "height of a moved fence's lowest wire", WEB_LOG_2006 ": 14 in",
    "src/fence/heights.c src/fence/spec.c")
FIGURE(FENCE_TOP_OF_THREE_M, "fence.top-of-three", 0.69, "m", 0.69, 0.69,
    PUBLISHED, "height of the highest of three wires",
    "Press, 9 June 1956: 27 in", "src/fence/heights.c")
FIGURE(FENCE_TOP_OF_MORE_M, "fence.top-of-more", 0.90, "m", 0.90, 1.05,
    PUBLISHED, "height of the highest of four wires or more",
    "LEL Baden-Wuerttemberg, sheep guide, p. 71", "src/fence/heights.c")
FIGURE(FENCE_BOTTOM_WEANED_M, "fence.bottom-weaned", 0.30, "m", 0.30, 0.30,
    PUBLISHED, "the lowest wire that keeps weaned lambs in",
    "landwirt-media.com", "src/fence/heights.c")
FIGURE(FENCE_BOTTOM_AT_FOOT_M, "fence.bottom-at-foot", 0.23, "m", 0.20, 0.25,
    PUBLISHED, "the lowest wire with lambs at foot",
    "Press, 9 June 1956: 9 in; 20 cm: schwarzwaelder-bote.de",
    "src/fence/heights.c")
FIGURE(FENCE_MOST_AT_FOOT_M, "fence.most-at-foot", 0.25, "m", 0.20, 0.25,
    PRACTICE, "lambs at foot slip under a lowest wire over that", COMMON,
    "src/fence/heights.c")
COUNT(FENCE_STRANDS_AT_FOOT, "fence.strands-at-foot", 3, "", 3, 3, PUBLISHED,
    "wires that hold lambs at foot better: fewer are told so",
    "Press, 9 June 1956: 9, 18 and 27 in", "src/make/wires.c")
COUNT(FENCE_REELS_AT_ONCE, "fence.reels-at-once", 3, "", 3, 3, PUBLISHED,
    "wires that are paid out in one walk, from reels on a pole",
    "Press, 9 June 1956", "src/fence/labour.c")

COUNT(PERIMETER_STRANDS, "perimeter-fence.strands", 5, "", 1, 8, PUBLISHED,
    "live wires of a permanent electric fence", WEB_LOG_2006,
    "src/fence/spec.c")
FIGURE(PERIMETER_POST_GAP_M, "perimeter-fence.post-gap", 15, "m", 1, 50,
    PUBLISHED, "widest gap between two of its line posts",
    "lecarrefarago.com: 15 to 20 m", "src/fence/spec.c")
FIGURE(PERIMETER_BEND_DEG, "perimeter-fence.bend", 20, "degrees", 20, 20,
    PUBLISHED, "a permanent fence that turns more has a post there that bears it",
    "NRCS Maine 382A, 2008", "src/fence/spec.c")
FIGURE(PERIMETER_BRACE_DEG, "perimeter-fence.brace-bend", 60, "degrees", 20, 180,
    PRACTICE, "and where it turns more, a corner post that is braced both ways",
    COMMON "; NRCS Maine 382A, 2008, braces from 20 degrees on", "src/fence/spec.c")
FIGURE(PERIMETER_TOLERANCE_M, "perimeter-fence.tolerance", 2, "m", 0, 20,
    PRACTICE, "how far a new permanent fence may leave the line of the map",
    COMMON, "src/fence/spec.c")
FIGURE(PERIMETER_GRID_SHARE, "perimeter-fence.grid", 0.01, "share", 0.01, 0.01,
    PRACTICE, "of the distance of strainer posts in line, that a stretch may be "
    "over it without another one: so far is a map's grid off",
    COMMON, "src/fence/perimeter.c")
FIGURE(PERIMETER_BRACE_WIRE_M, "perimeter-fence.brace-wire", 11, "m", 11, 11,
    PRACTICE, "wire of one brace: twice round posts 2.4 m apart, aslant, with its ends",
    COMMON, "src/fence/perimeter.c")
FIGURE(PERIMETER_SLACK, "perimeter-fence.slack", 0.04, "share", 0, 0.5,
    PRACTICE, "its wire beyond the length of the line", COMMON ": 3 to 5 %",
    "src/fence/spec.c")
FIGURE(PERIMETER_ROLL_M, "perimeter-fence.roll", 1219.2, "m", 1219.2, 1219.2,
    PRACTICE, "high-tensile wire on a roll: 4,000 ft", COMMON,
    "src/fence/perimeter.c src/fence/spec.c src/fence/wares.c")
FIGURE(PERIMETER_TOP_M, "perimeter-fence.top", 1.07, "m", 1.07, 1.07, PUBLISHED,
    "height of its highest wire", WEB_LOG_2006 ": 42 in", "src/fence/spec.c")
FIGURE(PERIMETER_BOTTOM_M, "perimeter-fence.bottom", 0.18, "m", 0.18, 0.18,
    PUBLISHED, "height of its lowest wire", WEB_LOG_2006 ": 7 in",
    "src/fence/spec.c")
FIGURE(PERIMETER_IN_LINE_M, "perimeter-fence.in-line", 402.336, "m", 402.336,
    402.336, PUBLISHED,
    "farthest from one strainer post in line to the next: 1,320 ft",
    "NRCS Maine 382A, 2008; NRCS Colorado specification guide, 2014",
    "src/fence/perimeter.c")

COUNT(PERIMETER_GATES, "perimeter-fence.gates", 1, "", 0, 20, PRACTICE,
    "gates of a field's new fence", COMMON,
    "src/fence/perimeter.c src/fence/spec.c")
FIGURE(PERIMETER_GATE_M, "perimeter-fence.gate", 14 * FW_FOOT_M, "m",
    12 * FW_FOOT_M, 16 * FW_FOOT_M, PRACTICE, "how wide a gate is: 14 ft",
    COMMON ": 12 to 16 ft", "src/fence/spec.c")
FIGURE(PERIMETER_UNDER_GATE_M, "perimeter-fence.under-gate", 2, "m", 2, 2,
    PRACTICE, "cable under a gate beyond its width: down, and up again", COMMON,
    "src/fence/perimeter.c")
FIGURE(PERIMETER_LEAD_OUT_M, "perimeter-fence.lead-out", 20, "m", 20, 20,
    PRACTICE, "cable from the energizer to the fence, where no lead is told",
    COMMON, "src/make/perimeter.c")
FIGURE(PERIMETER_EARTH_LEAD_M, "perimeter-fence.earth-lead", 10, "m", 10, 10,
    PUBLISHED, "cable from the energizer to its first rod, as far as that stands "
    "from any other earth", "diegruene.ch 548260", "src/make/perimeter.c")
FIGURE(PERIMETER_SIGN_M, "perimeter-fence.signs", 90, "m", 50, 100, PRACTICE,
    "between two warning signs on it, where no other distance is told",
    COMMON ": 50 to 100 m", "src/fence/spec.c")
COUNT(STAPLES_AN_INSULATOR, "perimeter-fence.insulator-staples", 2, "", 2, 2,
    PRACTICE, "staples that hold an insulator to a wooden post", COMMON,
    "src/fence/perimeter.c")
COUNT(STAPLES_A_BRACE, "perimeter-fence.brace-staples", 4, "", 4, 4, PRACTICE,
    "staples that hold the wire of a brace", COMMON, "src/fence/perimeter.c")
FIGURE(SPARE_SHARE, "spares", 0.05, "share", 0.03, 0.05, PRACTICE,
    "posts, insulators, staples, clamps, strainers and handles to spare",
    COMMON ": 3 to 5 in 100 step-in posts are lost a year", "src/fence/wares.c")
FIGURE(PACK_WIRE_M, "packs.wire", 400, "m", 200, 500, PRACTICE,
    "polywire on a roll, as it is sold", COMMON, "src/fence/wares.c")
FIGURE(PACK_LEAD_M, "packs.lead", 50, "m", 25, 100, PRACTICE,
    "insulated cable on a roll", COMMON, "src/fence/wares.c")
COUNT(PACK_INSULATORS, "packs.insulator", 25, "", 10, 125, PRACTICE,
    "insulators in a pack", COMMON, "src/fence/wares.c")
COUNT(PACK_STAPLES, "packs.staple", 100, "", 50, 500, PRACTICE,
    "staples in a pack", COMMON, "src/fence/wares.c")
COUNT(PACK_CLAMPS, "packs.clamp", 10, "", 5, 50, PRACTICE,
    "joint clamps in a pack", COMMON, "src/fence/wares.c")
COUNT(PERIMETER_LIFE_YEARS, "perimeter-fence.life", 25, "", 5, 60, PUBLISHED,
    "years that a permanent electric fence lasts",
    FENCE_COSTS ", table 6: five strands; woven and barbed wire 20",
    "src/fence/yearly.c")
FIGURE(PERIMETER_UPKEEP, "perimeter-fence.upkeep", 0.05, "share", 0, 0.5,
    PUBLISHED, "of its first cost, that upkeep takes a year",
    FENCE_COSTS ", table 6: five strands; woven and barbed wire 8 %",
    "src/fence/yearly.c")
FIGURE(PRICES_INTEREST, "prices.interest", 0.08, "share", 0, 0.5, PUBLISHED,
    "interest a year, on half of what a fence costs",
    FENCE_COSTS ", table 6: its interest by half of depreciation times life",
    "src/fence/yearly.c")

FIGURE(WORK_WALK_M_MIN, "work.walk-a-minute", 75, "m/min", 10, 200, PRACTICE,
    "how far a person walks in a minute", COMMON, "src/fence/labour.c")
FIGURE(WORK_WIND_M_MIN, "work.wind-a-minute", 60, "m/min", 5, 300, PRACTICE,
    "wire wound up in a minute on a geared reel", COMMON, "src/fence/labour.c")
FIGURE(WORK_SET_POST_S, "work.set-post", 8, "s", 1, 600, PRACTICE,
    "setting one step-in post", COMMON, "src/fence/labour.c")
FIGURE(WORK_PULL_POST_S, "work.pull-post", 5, "s", 1, 600, PRACTICE,
    "pulling one step-in post", COMMON, "src/fence/labour.c")
FIGURE(WORK_END_S, "work.tie-end", 45, "s", 1, 3600, PRACTICE,
    "tying or clipping one end of a wire", COMMON, "src/fence/labour.c")
COUNT(WORK_ARMFUL, "work.posts-an-armful", 20, "", 1, 200, PRACTICE,
    "step-in posts that a person carries at once", COMMON ": 20 to 25",
    "src/fence/labour.c")
