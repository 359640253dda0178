/* Water: how far they walk to it, and where a trough stands. */
/* clang-format off */

FIGURE(WATER_FAR_M, "water.far", 250, "m", 250, 250, PUBLISHED,
    "farthest that any point of a paddock should be from water: 800 ft",
    "University of Kentucky, March 2012; Teagasc", "src/water/walk.c")
FIGURE(WATER_TOO_FAR_M, "water.too-far", 600, "m", 600, 600, PUBLISHED,
    "most that sheep should walk to water in summer",
    "DPIRD Western Australia, AgMemo, December 2018", "src/water/walk.c")
FIGURE(TROUGH_CLEAR_SHARE, "trough.clear", 0.9, "share", 0.9, 0.9, PRACTICE,
    "without room for the distance from fence, a trough has at least that share "
    "of the most there is", OWN, "src/water/place.c")
FIGURE(TROUGH_GAIN, "trough.gain", 0.1, "share", 0.1, 0.1, PRACTICE,
    "a place for a trough that is clearer by less is not looked for", OWN,
    "src/water/place.c")
