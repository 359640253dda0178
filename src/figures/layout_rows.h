/* Layout: what a paddock, a lane and an apron are like, and how the search
 * weighs what it finds. */
/* clang-format off */

FIGURE(LANE_WIDTH_M, "lane-width", 6, "m", 2, 50, PRACTICE,
    "how wide a lane is that the layout lays", COMMON, "src/layout/lane.c")
FIGURE(APRON_M, "apron", 8, "m", 0, 50, PRACTICE,
    "radius of the bare ground about a water point that wedges meet at", COMMON,
    "src/told/build.c src/layout/wedges.c")
FIGURE(DOOR_M, "layout.door", 4, "m", 4, 4, PRACTICE,
    "a flock does not pass where two paddocks share less, and each has so much "
    "of its lane", COMMON,
    "src/layout/lane_sides.c src/layout/order.c src/layout/turning.c")
FIGURE(LAST_EVEN_SHARE, "last.even", 1.15, "paddocks", 1.15, 1.15, PRACTICE,
    "most that a paddock may hold of its own where a short last one is shared "
    "out", COMMON, "src/layout/share.c src/anew/cut.c")
FIGURE(LAST_HALF_SHARE, "last.half", 0.5, "paddocks", 0.5, 0.5, PRACTICE,
    "where so much of a paddock is left, or more, it makes one more", COMMON,
    "src/layout/share.c src/anew/cut.c src/make/field.c")
FIGURE(LAST_CRUMB_SHARE, "last.crumb", 0.1, "paddocks", 0.1, 0.1, PRACTICE,
    "where less of a paddock is left, the last full one takes it in", COMMON,
    "src/layout/share.c src/anew/cut.c src/make/field.c")
FIGURE(KEEP_REACH_M, "keep.reach", 5, "m", 5, 5, PRACTICE,
    "shade or shelter so near to a paddock is at it: a hedge is drawn to within "
    "a few metres, and shelters more", COMMON,
    "src/around/grounds.c src/layout/keep.c")
FIGURE(KEEP_MISSED_DAYS, "keep.missed", 0.1, "days", 0.1, 0.1, PRACTICE,
    "of the days that are kept back and are not missed", OWN,
    "src/layout/keep.c src/choice/choose.c src/choice/keep.c")
COUNT(BLOCKS_FEWEST, "layout.blocks-fewest", 4, "", 4, 4, PRACTICE,
    "paddocks that a field has at least to be cut into blocks", OWN,
    "src/layout/blocks.c src/layout/limbs.c")
COUNT(LANE_FEWEST, "layout.lane-fewest", 3, "", 3, 3, PRACTICE,
    "paddocks that a lane leads to at least", OWN, "src/layout/lane.c")
COUNT(WEDGES_MOST, "layout.wedges-most", 12, "", 12, 12, PRACTICE,
    "wedges about one water point: more are too thin there", COMMON,
    "src/layout/wedges.c src/layout/wedges_cut.c")

FIGURE(CONTOUR_RANGE_M, "contour.range", 2, "m", 2, 2, PRACTICE,
    "ground whose heights differ less has no contour worth following", COMMON,
    "src/layout/contour.c")
FIGURE(CONTOUR_SLOPE, "contour.slope", 0.03, "share", 0.03, 0.03, PRACTICE,
    "ground that is flatter has none either", COMMON, "src/layout/contour.c")
FIGURE(CONTOUR_CLEAR_M, "contour.clear", 2, "m", 2, 2, PRACTICE,
    "lines along the contour keep so far from each other and from corners", OWN,
    "src/layout/contour.c")
FIGURE(CONTOUR_CLEAR_SHARE, "contour.clear-share", 0.05, "share", 0.05, 0.05,
    PRACTICE, "or, in small paddocks, that share of a square one's side", OWN,
    "src/layout/contour.c")
FIGURE(CONTOUR_BEND_SHARE, "contour.bend", 0.1, "share", 0.1, 0.1, PRACTICE,
    "of a strip's width: a bend that gains less is left out", OWN,
    "src/layout/contour.c")
FIGURE(CONTOUR_CLIMB, "contour.climb", 0.25, "share", 0.25, 0.25, PRACTICE,
    "of the field's heights: a line that climbs more follows no contour", OWN,
    "src/layout/contour.c")
FIGURE(CONTOUR_POINT_M, "contour.point", 0.2, "m", 0.2, 0.2, PRACTICE,
    "over which the grass of a place is taken", OWN,
    "src/layout/contour_surface.c")
COUNT(CONTOUR_CORNER_CLEAR, "contour.corner", 4, "", 4, 4, PRACTICE,
    "so many times the distance kept, a field's corner is not where a line ends",
    OWN, "src/cutting/contour_settle.c")

FIGURE(SLIVER_SINE, "layout.sliver", 0.05, "sine", 0.05, 0.05, PRACTICE,
    "a fence that leaves an edge at a smaller angle, 3 degrees, parts off a "
    "sliver", OWN, "src/cutting/contour_settle.c src/cutting/boundary_sight.c")
FIGURE(JUTTING_SINE, "layout.jutting", 0.02, "sine", 0.02, 0.02, PRACTICE,
    "of the turn of an edge at a corner that juts in", OWN,
    "src/cutting/chord_corners.c")
FIGURE(WAY_NEAR, "layout.way-near", 0.5, "times", 0.5, 0.5, PRACTICE,
    "of its length that the ends of a narrow way's fence may lie apart and be "
    "the same one in the next round", OWN, "src/layout/limbs.c")
FIGURE(WAY_FAR, "layout.way-far", 4, "times", 4, 4, PRACTICE,
    "the same where there is no other layout", OWN, "src/layout/limbs.c")
FIGURE(LONG_SIDE_SHARE, "layout.long-side", 0.1, "share", 0.1, 0.1, PRACTICE,
    "of the boundary that a side has at least for strips along it", OWN,
    "src/layout/strips.c")
FIGURE(STRAIGHT_SIDE_SHARE, "layout.straight-side", 0.999, "share", 0.999, 0.999,
    PRACTICE, "of its length from corner to corner: a side that is straight",
    OWN, "src/layout/strips.c")
FIGURE(LANE_SAME_WAY_DEG, "layout.lane-same-way", 5, "degrees", 5, 5, PRACTICE,
    "lanes that lie at a smaller angle are tried as one", OWN,
    "src/layout/lane.c")
FIGURE(LANE_HALF_SHARE, "layout.lane-half", 0.8, "share", 0.8, 0.8, PRACTICE,
    "of a lane's half that the paddocks beside it fill at least: a side may "
    "want a little more", OWN, "src/layout/lane_given.c")
FIGURE(LANE_BEND_COSINE, "layout.lane-bend", 0.25, "cosine", 0.25, 0.25,
    PRACTICE, "of half the turn at a lane's bend, at least: the corner beside "
    "it stands out by four times the distance", OWN, "src/cutting/lane_line.c")
FIGURE(TURNING_CLEAR_SHARE, "layout.turning-clear", 0.125, "share", 0.125, 0.125,
    PRACTICE, "of a paddock's size: room that is enough in small ones", OWN,
    "src/layout/turning.c")
FIGURE(TURNING_GAP_SHARE, "layout.turning-gap", 0.25, "share", 0.25, 0.25,
    PRACTICE, "of that room, between the ends of two fences", OWN,
    "src/layout/turning.c")
FIGURE(TURNING_PLACE_M, "layout.turning-place", 0.03, "m", 0.03, 0.03, PRACTICE,
    "a fence whose place is known so well is as good as the best", OWN,
    "src/layout/turning.c")
FIGURE(TURNING_DEG, "layout.turning", 3, "degrees", 3, 3, PRACTICE,
    "fences that turn by less in all are parallel strips", OWN,
    "src/layout/turning.c")
FIGURE(TURNING_END_SHARE, "layout.turning-end", 0.04, "share", 0.04, 0.04,
    PRACTICE, "of the field's greatest width: a corner that juts out by less is "
    "no end", OWN, "src/cutting/turning_ends.c")
FIGURE(OTHER_WAY_DEG, "layout.other-way", 30, "degrees", 30, 30, PRACTICE,
    "sweeps that differ by so much go different ways", OWN,
    "src/cutting/turning_ends.c")
FIGURE(OTHER_WAY_PRICE, "layout.other-price", 1.5, "times", 1.5, 1.5, PRACTICE,
    "as much fence as the best may cost one that goes a different way", OWN,
    "src/cutting/turning_ends.c")
FIGURE(WEDGES_REACH_M, "layout.wedges-reach", 1, "m", 1, 1, PRACTICE,
    "water so near to the edge stands on it", OWN, "src/layout/wedges.c")
FIGURE(WEDGES_REACH_APRON, "layout.wedges-apron", 1.25, "times", 1.25, 1.25,
    PRACTICE, "as far as the apron reaches: water nearer to the edge stands on "
    "it", OWN, "src/layout/wedges.c")
