/* Growth: rates by place, how they go with what stands, what winter takes. */
/* clang-format off */

FIGURE(GROWTH_CEILING_KG_HA, "forage.ceiling", 6000, "kg/ha", 3000, 12000, PUBLISHED,
    "what the sward can carry: growth ends there",
    "set by one trial: Lee, Donaghy, Roche 2008 (Agronomy Journal), left 4 and 8 cm",
    "src/forage/growth.c src/make/grown.c src/stockpile/stand.c")
FIGURE(GROWTH_MEAN_FROM_KG_HA, "growth.mean-from", 1500, "kg/ha", 1500, 1500, PRACTICE,
    "a rate is the mean over what stands, from here", COMMON, "src/forage/growth.c")
FIGURE(GROWTH_MEAN_TO_KG_HA, "growth.mean-to", 2500, "kg/ha", 2500, 2500, PRACTICE,
    "to here", COMMON, "src/forage/growth.c")
FIGURE(GROWTH_MOST_KG_HA, "growth.most", 168, "kg/ha/day", 168, 168, PUBLISHED,
    "no published rate is higher: 150 lb/acre a day in spring",
    "Brougham 1955 (Australian Journal of Agricultural Research)", "src/forage/growth.c")

FIGURE(GROWTH_ORDINARY_KG_HA, "growth.ordinary", 40, "kg/ha/day", 40, 40, PRACTICE,
    "ordinary spring growth, where nobody told any: Northern Ireland's April has 38", COMMON,
    "src/make/grown.c src/report/text_grown.c")
FIGURE(GROWTH_OFF_SHARE, "growth.off", 0.2, "share", 0.2, 0.2, PRACTICE,
    "a practised eye is so far out, and no plan need be nearer", COMMON,
    "src/make/grown.c src/picture/ahead_left.c src/picture/ahead_winter_svg.c src/report/text_grown.c")
FIGURE(GROWTH_SHAPE_SHARE, "growth.shape", 0.05, "share", 0.05, 0.05, PRACTICE,
    "where shapes of growth differ by more, both are told", COMMON, "src/report/text_grown.c")
FIGURE(GROWTH_SLOW_SHARE, "growth.slow", 1 / 3.0, "share", 1 / 3.0, 1 / 3.0, PRACTICE,
    "of the told growth that comes in a bad time: what ahead.svg asks beside it", COMMON,
    "src/make/ahead.c")
FIGURE(GROWTH_SHORT_SHARE, "growth.short", 0.8, "share", 0.8, 0.8, PRACTICE,
    "of its need: a stay that finds less of it is short", COMMON, "src/picture/ahead_svg.c")
FIGURE(GROWTH_SPARE, "growth.spare", 1.5, "times", 1.5, 1.5, PRACTICE,
    "what is eaten: where more grows a field can be shut up", COMMON, "src/make/covers.c")

/* Rests by season, from the one that begins in March north of the equator. */
#define REST "Farm Advisory Service (Scotland), sheet on rotational grazing"
CURVE(REST_LEAST, "rest.least", LIST(3, 6, 9, 12), "month", LIST(15, 25, 30, 90), "days", PUBLISHED,
    "least rest before ground is grazed again, by season from its first month", REST,
    "src/forage/rest.c")
CURVE(REST_LONGEST, "rest.longest", LIST(3, 6, 9, 12), "month", LIST(21, 30, 40, 100), "days",
    PUBLISHED, "longest rest where there is grass enough, by season from its first month", REST,
    "src/forage/rest.c")

/* The flock never leaves: gross growth less what dies, in organic matter. */
#define BIRCHAM "Bircham and Hodgson, continuous stocking with sheep, 500 to 1,700 kg/ha"
FIGURE(GROWTH_GROSS_KG_HA, "growth.gross", 118, "kg/ha/day", 118, 118, PUBLISHED,
    "gross growth where much stands", BIRCHAM, "src/forage/growth.c")
FIGURE(GROWTH_GROSS_PER_KG, "growth.gross-rise", 0.001604, "ha/kg", 0.001604, 0.001604, COMPUTED,
    "how fast gross growth rises to it", "fitted to " BIRCHAM, "src/forage/growth.c")
FIGURE(GROWTH_DYING_KG_HA, "growth.dying", 7, "kg/ha/day", 7, 7, COMPUTED,
    "what dies where nothing stands, carried on", "line through " BIRCHAM, "src/forage/growth.c")
FIGURE(GROWTH_DYING_SHARE, "growth.dying-share", 0.02, "1/day", 0.02, 0.02, COMPUTED,
    "and what dies of what stands", "line through " BIRCHAM, "src/forage/growth.c")
FIGURE(GROWTH_ORGANIC, "growth.organic", 0.9, "share", 0.9, 0.9, PRACTICE,
    "organic matter in dry matter", COMMON, "src/forage/growth.c")

COUNT(WINTER_DAYS, "growth.winter-days", 120, "days", 120, 120, COMPUTED,
    "of a winter that takes its loss: November to March",
    "Dierking et al. 2008 (Crop Science 48:2463)",
    "src/forage/growth.c src/picture/ahead_left.c src/stockpile/stand.c")

/* Rates by month. */
CURVE(GROWTH_NORTHERN_IRELAND, "growth.northern-ireland", LIST(4, 5, 6, 7, 8, 9, 10), "month",
    LIST(38, 69, 70, 59, 60, 50, 32), "kg/ha/day", COMPUTED,
    "Northern Ireland, mean of six counties, 2017 to 2022",
    "means of the weekly grass bulletins of AgriSearch", "src/forage/growth_tables.c")
#define LB_ACRE (FW_POUND_KG / FW_ACRE_HA)
CURVE(GROWTH_OHIO, "growth.ohio", LIST(108, 115, 122, 129, 136, 143, 150, 157, 164, 171),
    "day of the year", LIST(60.9 * LB_ACRE, 75.2 * LB_ACRE, 78.6 * LB_ACRE, 86.4 * LB_ACRE,
    100 * LB_ACRE, 75.7 * LB_ACRE, 58.4 * LB_ACRE, 51 * LB_ACRE, 48.3 * LB_ACRE, 47.4 * LB_ACRE),
    "kg/ha/day", PUBLISHED, "Ohio, mean of five years, weeks from 18 April to 20 June",
    "Ohio State University pasture measurement project, 2010", "src/forage/growth_tables.c")

/* Shares of a year's growth by month, of six kinds of pasture in Pennsylvania. */
#define PENNSYLVANIA "Penn State Agronomy Guide, table 1.8-8, worked back to shares"
CURVE(GROWTH_BLUEGRASS, "growth.pennsylvania-bluegrass-clover", LIST(4, 5, 6, 7, 8, 9, 10), "month",
    LIST(.05, .45, .20, .05, .05, .12, .08), "share", COMPUTED, "Pennsylvania, bluegrass and white clover",
    PENNSYLVANIA, "src/forage/growth_tables.c")
CURVE(GROWTH_TALL_GRASS, "growth.pennsylvania-tall-grass", LIST(4, 5, 6, 7, 8, 9, 10), "month",
    LIST(.05, .35, .20, .10, .12, .15, .03), "share", COMPUTED, "Pennsylvania, tall grass with nitrogen",
    PENNSYLVANIA, "src/forage/growth_tables.c")
CURVE(GROWTH_ALFALFA, "growth.pennsylvania-alfalfa-grass", LIST(5, 6, 7, 8, 9, 10), "month",
    LIST(.30, .20, .15, .15, .10, .06), "share", COMPUTED, "Pennsylvania, alfalfa and grass",
    PENNSYLVANIA, "src/forage/growth_tables.c")
CURVE(GROWTH_RED_CLOVER, "growth.pennsylvania-red-clover-grass", LIST(5, 6, 7, 8, 9, 10), "month",
    LIST(.30, .20, .12, .12, .16, .08), "share", COMPUTED, "Pennsylvania, red clover and grass",
    PENNSYLVANIA, "src/forage/growth_tables.c")
CURVE(GROWTH_TREFOIL, "growth.pennsylvania-trefoil-grass", LIST(5, 6, 7, 8, 9, 10), "month",
    LIST(.27, .24, .15, .15, .15, .03), "share", COMPUTED, "Pennsylvania, birdsfoot trefoil and grass",
    PENNSYLVANIA, "src/forage/growth_tables.c")
CURVE(GROWTH_WARM_GRASS, "growth.pennsylvania-warm-season-grass", LIST(6, 7, 8, 9), "month",
    LIST(.20, .30, .30, .15), "share", COMPUTED, "Pennsylvania, warm-season grass",
    PENNSYLVANIA, "src/forage/growth_tables.c")

/* What grows in a year there, from and to: short tons an acre. */
#define YEAR(id, word, label, low, high)                                       \
    FIGURE(YEAR_##id, "growth." word ".year", ((low) + (high)) / 2.0 * 2000 * LB_ACRE, \
           "kg/ha", (low) * 2000 * LB_ACRE, (high) * 2000 * LB_ACRE, PUBLISHED, \
           label ": " #low " to " #high " short tons an acre in a year",       \
           "Penn State Agronomy Guide, table 1.8-8", "src/forage/growth_tables.c")
YEAR(BLUEGRASS, "pennsylvania-bluegrass-clover", "bluegrass and white clover", 1, 3)
YEAR(TALL_GRASS, "pennsylvania-tall-grass", "tall grass with nitrogen", 2, 4.5)
YEAR(ALFALFA, "pennsylvania-alfalfa-grass", "alfalfa and grass", 3, 6)
YEAR(RED_CLOVER, "pennsylvania-red-clover-grass", "red clover and grass", 2, 4.5)
YEAR(TREFOIL, "pennsylvania-trefoil-grass", "birdsfoot trefoil and grass", 2, 3.5)
YEAR(WARM_GRASS, "pennsylvania-warm-season-grass", "warm-season grass", 3, 5)
#undef REST
#undef YEAR
