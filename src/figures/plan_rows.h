/* Plan: what a person and a flock can use, how wide the ways are, what a layout
 * is chosen and warned by. */
/* clang-format off */

FIGURE(LEAST_WIDTH_M, "least-width", 15, "m", 1, 200, PRACTICE,
    "least width of a paddock between its fences", COMMON, "src/choice/limits.c")
FIGURE(LEAST_WIDTH_CROWDED_M, "least-width.crowded", 20, "m", 20, 20, PRACTICE,
    "the same over a crowd's head count, or with lambs", COMMON,
    "src/choice/limits.c")
FIGURE(LEAST_WIDTH_FEW_M, "least-width.few", 10, "m", 10, 10, PRACTICE,
    "the same for few sheep", COMMON, "src/choice/limits.c")
COUNT(CROWD_HEAD, "least-width.crowd", 200, "head", 200, 200, PRACTICE,
    "more sheep than that are a crowd", COMMON, "src/choice/limits.c")
COUNT(FEW_HEAD, "least-width.few-head", 30, "head", 30, 30, PRACTICE,
    "fewer sheep than that are few", COMMON, "src/choice/limits.c")

CURVE(OPENING_M, "opening.width", LIST(0, 61, 201), "head", LIST(4, 6, 8), "m",
    PRACTICE, "how wide they are let in, by the head count from which it holds",
    COMMON ": so wide that they do not jam", "src/choice/habits.c")
CURVE(WAY_M, "opening.way-width", LIST(0, 101, 301), "head", LIST(3, 4, 6), "m",
    PRACTICE, "how wide a way they are led, by the head count from which it "
    "holds", COMMON, "src/choice/habits.c")
FIGURE(OPENING_ROOM_M, "opening.room", 3, "m", 3, 3, PRACTICE,
    "room between an opening and a corner", COMMON, "src/choice/habits.c")
FIGURE(OPENING_FROM_WATER_M, "opening.from-water", 10, "m", 10, 10, PRACTICE,
    "an opening nearer to water is where they jam", COMMON, "src/choice/habits.c")
COUNT(LAMB_YOUNG_DAYS, "lambs.young", 21, "days", 21, 21, PRACTICE,
    "lambs younger than that are looked for after a move", COMMON,
    "src/choice/habits.c")
FIGURE(TROUGH_KEEP_M, "trough.keep", 10, "m", 10, 10, PRACTICE,
    "from a trough to fence and opening, so that sheep pass on every side",
    COMMON, "src/haul/shade.c src/haul/shared.c src/haul/water.c")
FIGURE(TROUGH_REACH_M, "trough.reach", 1, "m", 1, 1, PRACTICE,
    "water so near to a fence serves both sides of it", COMMON,
    "src/choice/choose.c src/choice/walk.c src/haul/loaded.c src/haul/placing.c")
FIGURE(TROUGH_WET_DAYS, "trough.wet", 1, "days", 1, 3, PRACTICE,
    "wet days in the log, one after the other up to that evening, on which the "
    "ground about a trough that stays over winter is looked at", COMMON,
    "src/record/trough.c")
FIGURE(TROUGH_APART_M, "trough.apart", 20, "m", 20, 20, PRACTICE,
    "from where a trough under a line stood last, so that no ground is trodden "
    "twice", COMMON, "src/haul/shared.c")
FIGURE(TROUGH_SLEEVE_M, "trough.sleeve", 2, "m", 2, 2, PRACTICE,
    "of wire that is sleeved over a trough under a line", COMMON,
    "src/make/totals.c src/report/steps_water.c")
FIGURE(TROUGH_RAISED_M, "trough.raised", 0.9, "m", 0.9, 0.9, PRACTICE,
    "how high the wires are raised over it in place of that", COMMON,
    "src/report/steps_water.c")
COUNT(LEAPFROG_LINES, "kit.leapfrog", 3, "lines", 3, 3, COMPUTED,
    "lines that the farm's reels must make so that one stands on the far side of "
    "gate or water while two leapfrog", "two that leapfrog and the third",
    "src/choice/choose.c")

COUNT(OPEN_STAY_DAYS, "stay.open-behind", 3, "days", 3, 3, PRACTICE,
    "longest stay that is chosen without a back fence when none is told",
    COMMON, "src/make/field.c")
FIGURE(REGROWTH_DAYS, "back-fence.regrowth", 3, "days", 3, 3, PRACTICE,
    "grass in growth sprouts, and is bitten again, after so long", COMMON,
    "src/make/order_notes.c src/make/rounds.c")
FIGURE(PACE_SHARE, "pace.most-share", 0.1, "share", 0.1, 0.1, PRACTICE,
    "of a day's feed that one pace too many may be", COMMON,
    "src/make/field.c")
FIGURE(LOST_SHARE, "layout.most-lost", 0.05, "share", 0.05, 0.05, PRACTICE,
    "of the grass that a layout may lose to lanes and the like", COMMON,
    "src/choice/score.c")
FIGURE(POST_AS_WIRE_M, "kit.post-as-wire", 5, "m", 5, 5, PRACTICE,
    "wire that is as much to carry as a post", COMMON, "src/choice/choose.c")
FIGURE(STAY_UNMISSED_DAYS, "stay.unmissed", 0.02, "days", 0.02, 0.02, PRACTICE,
    "of a day's feed that the last paddock lacks, and is not missed", OWN,
    "src/choice/calendar.c src/report/move.c")
FIGURE(STAY_LITTLE_DAYS, "stay.little", 0.05, "days", 0.05, 0.05, PRACTICE,
    "the same where a plan goes on from one made before", OWN,
    "src/make/given_time.c src/make/going.c src/plan/grazed.c")
FIGURE(FRONT_FROM_END_M, "front.from-end", 5, "m", 5, 5, PRACTICE,
    "from a front's end to where grazing beyond it is thought to begin", OWN,
    "src/choice/front.c")

FIGURE(SLACK_LINE_M, "fence.slack-line", 10, "m", 10, 10, PRACTICE,
    "a shorter line is slack enough for a bare step-in post", COMMON,
    "src/make/ties.c")
FIGURE(CREST_SHARE, "fence.crest", 0.5, "share", 0.5, 0.5, PRACTICE,
    "of the lowest wire's height that a brow may rise between two posts", COMMON,
    "src/choice/slope.c")
FIGURE(STEEP_SLOPE, "steep.slope", 0.3, "share", 0.3, 0.3, PRACTICE,
    "steeper ground beside live fence is told", COMMON, "src/around/steep.c")
FIGURE(CROSSING_GATE_M, "crossing.gate", 5, "m", 5, 5, PRACTICE,
    "a gate so near to a crossing is at it", COMMON, "src/around/crossings.c")
FIGURE(FEATURES_MEET_M, "map.meet", 1, "m", 1, 1, PRACTICE,
    "ends of lines on a map so near to each other meet", OWN,
    "src/around/group.c")
FIGURE(LEGUME_SHARE, "forage.legume", 0.25, "share", 0, 1, PRACTICE,
    "share of legume from which bloat is warned of, and where nobody told it",
    COMMON, "src/log/anew.c src/make/totals.c src/report/correct.c")
COUNT(GESTATION_DAYS, "lambing.gestation", 147, "days", 147, 147, PRACTICE,
    "from tupping to lambing", COMMON, "src/make/kept.c")
COUNT(SPRING_MONTH, "season.spring", 3, "", 3, 3, PRACTICE,
    "month in which spring begins north of the equator; six later south of it",
    COMMON, "src/make/totals.c src/forage/rest.c")
COUNT(SEASON_MONTHS, "season.months", 3, "", 3, 3, PUBLISHED,
    "months of a season", "the calendar", "src/make/totals.c src/forage/rest.c")
