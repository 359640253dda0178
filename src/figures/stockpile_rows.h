/* Stockpile: what stands in winter by the day of the last removal, how good it
 * is, what sheep take of it and what they need. Days of the year are those of a
 * common year: 152 is 1 June, 244 is 1 September. */
/* clang-format off */

/* ---- lines: mass by the day of the last removal ---- */
#define BURNS "Burns and Chamblee 2000 (Agronomy Journal 92:211)"
#define BURNS_2 "Burns and Chamblee 2000, part II (Agronomy Journal 92:217)"
#define RAYBURN "Rayburn 1979 (Virginia)"
#define LOONEY "Looney 2021 (Irish Journal of Agricultural and Food Research)"
#define ONTARIO "Ontario agriculture ministry, two pages on stockpiling"
CURVE(STOCK_CAROLINA, "stockpile.north-carolina", LIST(152, 244), "day of the year",
    LIST((4070 + 5440) / 2.0, (4070 + 5440) / 2.0 - 195 * 92 / 7.0), "kg/ha", COMPUTED,
    "North Carolina, tall fescue cut in mid-November: the middle of the years on 1 June, "
    "195 kg/ha less for a week", BURNS, "src/stockpile/line.c")
CURVE(STOCK_VIRGINIA, "stockpile.virginia", LIST(152, 244), "day of the year",
    LIST(3920, 840), "kg/ha", PUBLISHED,
    "Virginia, tall fescue cut in December", RAYBURN, "src/stockpile/line.c")
CURVE(STOCK_ONTARIO, "stockpile.ontario", LIST(196, 227), "day of the year",
    LIST(4500, 2600), "kg/ha", PUBLISHED,
    "Ontario, grass closed in mid-July and mid-August", ONTARIO, "src/stockpile/line.c")
CURVE(STOCK_IRELAND, "stockpile.ireland", LIST(268, 343), "day of the year",
    LIST((1301 + 703) / 2.0 + 16 * 75 / 2.0, (1301 + 703) / 2.0 - 16 * 75 / 2.0), "kg/ha",
    COMPUTED, "Ireland, grass closed from 25 September to 9 December, what stood in spring: "
    "16 kg/ha a day, through the middle of the two masses in print", LOONEY,
    "src/stockpile/line.c")

/* When the mass was measured: growth had ended, winter's loss begins. */
COUNT(STOCK_CAROLINA_CUT, "stockpile.north-carolina.cut", 319, "", 319, 319, PUBLISHED,
    "day of the year when its mass was cut: mid-November", BURNS, "src/stockpile/line.c")
COUNT(STOCK_VIRGINIA_CUT, "stockpile.virginia.cut", 349, "", 335, 365, PUBLISHED,
    "day of the year when its mass was cut: December", RAYBURN, "src/stockpile/line.c")
/* First hard frost, where nothing is told. */
COUNT(STOCK_CAROLINA_FROST, "stockpile.north-carolina.frost", 319, "", 319, 319, PUBLISHED,
    "day of the year of the first hard frost: that of the cut", BURNS, "src/stockpile/line.c")
COUNT(STOCK_VIRGINIA_FROST, "stockpile.virginia.frost", 309, "", 309, 309, PRACTICE,
    "day of the year of the first hard frost", COMMON, "src/stockpile/line.c")
COUNT(STOCK_ONTARIO_FROST, "stockpile.ontario.frost", 288, "", 288, 288, PRACTICE,
    "day of the year of the first hard frost", COMMON, "src/stockpile/line.c")
COUNT(STOCK_IRELAND_FROST, "stockpile.ireland.frost", 343, "", 343, 343, PUBLISHED,
    "day of the year of the last closing that was tried", LOONEY, "src/stockpile/line.c")
FIGURE(STOCK_CAROLINA_LAT, "stockpile.north-carolina.latitude", 36, "deg", 34, 37, PRACTICE,
    "how far north", COMMON, "src/stockpile/line.c")
FIGURE(STOCK_VIRGINIA_LAT, "stockpile.virginia.latitude", 38, "deg", 36.5, 39.5, PRACTICE,
    "how far north", COMMON, "src/stockpile/line.c")
FIGURE(STOCK_ONTARIO_LAT, "stockpile.ontario.latitude", 44, "deg", 42, 47, PRACTICE,
    "how far north", COMMON, "src/stockpile/line.c")
FIGURE(STOCK_IRELAND_LAT, "stockpile.ireland.latitude", 53, "deg", 51.5, 55.5, PRACTICE,
    "how far north", COMMON, "src/stockpile/line.c")

/* ---- quality, share of dry matter ---- */
CURVE(STOCK_DIGEST, "stockpile.digestible", LIST(152, 182, 244), "day of the year",
    LIST(.590, .590, .717), "share", PUBLISHED,
    "tall fescue: digestible in October by the day of the last removal", BURNS_2,
    "src/stockpile/line.c")
CURVE(STOCK_DIGEST_LATE, "stockpile.digestible-late", LIST(152, 182, 244), "day of the year",
    LIST(.539, .539, .623), "share", PUBLISHED,
    "the same in March", BURNS_2,
    "src/stockpile/line.c")
CURVE(STOCK_DIGEST_ONTARIO, "stockpile.ontario.digestible", LIST(196, 227), "day of the year",
    LIST(.585, .634), "share", PUBLISHED,
    "Ontario: total digestible nutrients", ONTARIO,
    "src/stockpile/line.c")
CURVE(STOCK_DIGEST_IRELAND, "stockpile.ireland.digestible", LIST(268, 343), "day of the year",
    LIST(.825, .852), "share", PUBLISHED,
    "Ireland: digestible organic matter in spring", LOONEY,
    "src/stockpile/line.c")
CURVE(STOCK_PROTEIN, "stockpile.protein", LIST(152, 244), "day of the year",
    LIST(.121, .121), "share", PUBLISHED,
    "tall fescue in North Carolina: protein, November to March", BURNS_2,
    "src/stockpile/line.c")
CURVE(STOCK_PROTEIN_VIRGINIA, "stockpile.virginia.protein", LIST(152, 244), "day of the year",
    LIST(.094, .113), "share", PUBLISHED,
    "tall fescue in Virginia: protein in December", RAYBURN,
    "src/stockpile/line.c")
CURVE(STOCK_PROTEIN_ONTARIO, "stockpile.ontario.protein", LIST(196, 227), "day of the year",
    LIST(.103, .147), "share", PUBLISHED, "Ontario: protein", ONTARIO,
    "src/stockpile/line.c")
/* Seven grasses of Wisconsin, October and March. */
#define HEDTCKE "Hedtcke and others 2002, seven grasses in Wisconsin"
CURVE(STOCK_GRASSES_DIGEST, "stockpile.grasses.digestible", LIST(10, 15), "month", LIST(.734, .655), "share", PUBLISHED,
    "digestible in October and in March, mean of seven grasses", HEDTCKE,
    "src/stockpile/quality.c src/stockpile/need.c")
CURVE(STOCK_GRASSES_PROTEIN, "stockpile.grasses.protein", LIST(10, 15), "month", LIST(.116, .107), "share", PUBLISHED,
    "their protein in October and in March", HEDTCKE, "src/stockpile/quality.c")
CURVE(STOCK_GRASSES_FIBRE, "stockpile.grasses.fibre", LIST(10, 15), "month", LIST(.594, .667), "share", PUBLISHED,
    "their neutral detergent fibre in October and in March", HEDTCKE,
    "src/stockpile/need.c")
COUNT(STOCK_OCTOBER, "stockpile.october", 288, "", 274, 304, PUBLISHED,
    "day of the year taken for October: its middle", BURNS_2, "src/stockpile/quality.c")
COUNT(STOCK_TO_MARCH, "stockpile.to-march", 151, "days", 151, 151, COMPUTED,
    "from the middle of October to that of March", "the calendar", "src/stockpile/quality.c")
FIGURE(STOCK_GREEN, "stockpile.green", .714, "share", .714, .714, PUBLISHED,
    "green grass: digestible", BURNS_2, "src/stockpile/quality.c")
FIGURE(STOCK_DEAD, "stockpile.dead", .393, "share", .393, .46, PUBLISHED,
    "dead grass: digestible", BURNS_2 "; Francis and Smetham (Lincoln) have 46 %",
    "src/stockpile/quality.c")

/* ---- what changes the mass ---- */
#define OREGON_LOSS .25
FIGURE(STOCK_LOSS, "forage.winter-loss", OREGON_LOSS, "share", 0, .75, PUBLISHED,
    "what winter takes of what stands, November to March: Oregon's, of all places",
    "stockpile.loss.oregon, and from stockpile.loss.tennessee to stockpile.loss.missouri",
    "src/stockpile/check.c src/told/growth.c src/told/stockpile.c src/winter/effect.c")
FIGURE(LOSS_OREGON, "stockpile.loss.oregon", OREGON_LOSS, "share", OREGON_LOSS, OREGON_LOSS, PUBLISHED,
    "winter takes of tall fescue, typically, whatever its nitrogen and the day of its closing",
    "Oregon State tall fescue monograph", "src/stockpile/loss.c")
FIGURE(LOSS_MISSOURI, "stockpile.loss.missouri", .535, "share", .32, .75, COMPUTED,
    "and in Missouri, November to March: the middle of 32 and over 75 %",
    "Dierking et al. 2008 (Crop Science 48:2463)", "src/stockpile/loss.c")
FIGURE(LOSS_WISCONSIN, "stockpile.loss.wisconsin", .5, "share", .5, .5, PUBLISHED,
    "and of seven grasses in Wisconsin, December to March: about half",
    "University of Wisconsin, outline on stockpiling", "src/stockpile/loss.c")
FIGURE(LOSS_TENNESSEE, "stockpile.loss.tennessee", 0, "share", 0, 0, PUBLISHED,
    "and in Tennessee and Alabama: more stood in February than in October, clipped in cages",
    "14 farms, 2021 to 2023", "src/stockpile/loss.c")
#undef OREGON_LOSS
FIGURE(STOCK_NITROGEN_GAIN, "stockpile.nitrogen-gain", 5, "kg/kg", 5, 20, PUBLISHED,
    "grass for each kilogram of nitrogen: the least in print for more of it, the most for less",
    "5 to 20 by trial; Singer 2003 (Crop Management): 15 in a wet year, 19 in a dry one",
    "src/stockpile/stand.c src/winter/effect.c")
FIGURE(STOCK_NITROGEN_MOST, "stockpile.nitrogen-most", 100 * FW_POUND_KG / FW_ACRE_HA, "kg/ha",
    112.085, 112.086, PUBLISHED, "no trial gave more nitrogen: 100 lb/acre",
    "Singer 2003 (Crop Management)",
    "src/keys/set.c src/stockpile/check.c src/winter/effect.c")

/* ---- what they take ---- */
CURVE(STOCK_TAKEN, "stockpile.taken", LIST(3, 14), "days", LIST(.70, .50), "share", COMPUTED,
    "share that is taken by the days of feed in a break",
    "Missouri forage centre, cattle: 70 % at 3 days; 40 % more grazing days than at 14 (Kentucky and Missouri). "
    "Ewes did alike from daily to twice weekly: Keady and Hanrahan",
    "src/stockpile/share.c src/told/stockpile.c src/winter/effect.c")
CURVE(STOCK_CONDITION, "stockpile.condition", LIST(1, 2, 3), "fresh, aged, rank",
    LIST(.70, .48, .315), "share", COMPUTED,
    "share of grass kept for winter that is taken above the residual, by its condition",
    "mid-January, closed 1 September, 1 August and 1 July, breaks of 3 days: the two curves "
    "of shares taken, and " BURNS_2, "src/forage/usable.c")
FIGURE(STOCK_TAKEN_FREE, "stockpile.taken-free", .35, "share", .30, .40, PUBLISHED,
    "share that is taken where they have all of it", "Missouri forage centre, cattle",
    "src/stockpile/share.c")
CURVE(STOCK_TAKEN_DEAD, "stockpile.taken-dead", LIST(.17, .44), "share", LIST(.60, .27), "share",
    PUBLISHED, "share that is taken by what is dead of it",
    "Francis and Smetham (Lincoln)", "src/stockpile/share.c")
FIGURE(STOCK_CLEARED, "stockpile.cleared", .80, "share", .80, .80, PUBLISHED,
    "share taken of what is cleared: over 80 % above 3 inches", "Hay and Forage Grower, strip grazed stockpile",
    "src/stockpile/share.c")
FIGURE(STOCK_LEAFY, "stockpile.leafy", .955, "share", .92, .99, PUBLISHED,
    "grazing time of ewes on leafy grass beside headed grass: the middle",
    "usefulness of grazing tests (abstract)",
    "src/stockpile/share.c src/winter/winter.c")
COUNT(STOCK_FRESH_DAYS, "stockpile.fresh", 91, "days", 91, 91, COMPUTED,
    "grass is fresh that stood so long since the last removal to the stop height when frost ended growth",
    "half way between the closings of " BURNS_2 ", which differ in quality",
    "src/stockpile/stand.c")
COUNT(STOCK_AGED_DAYS, "stockpile.aged", 122, "days", 122, 122, COMPUTED,
    "and aged up to here, rank beyond", "the earlier of those closings, " BURNS_2,
    "src/stockpile/stand.c")

FIGURE(STOCK_OLD_KG_HA, "stockpile.old", 500, "kg/ha", 500, 500, PRACTICE,
    "old grass left above the stop height that makes a part rank", COMMON,
    "src/stockpile/stand.c")

/* ---- what they need ---- */
#define NRC_45 "NRC 1985, table 1, p. 45"
FIGURE(STOCK_NEED_DRY, "stockpile.need.dry", .66 / 1.2, "share", .55, .557, COMPUTED,
    "digestible nutrients in what a dry ewe needs", NRC_45 ": 0.66 of 1.2 kg at 70 kg",
    "src/stockpile/need.c")
FIGURE(STOCK_NEED_EARLY, "stockpile.need.early", .77 / 1.4, "share", .55, .55, COMPUTED,
    "the same in the first 15 weeks of gestation", NRC_45 ": 0.77 of 1.4 kg at 70 kg",
    "src/stockpile/need.c")
FIGURE(STOCK_NEED_LATE, "stockpile.need.late", 2.7 / 4.0, "share", .575, .675, COMPUTED,
    "the same in the last 4 weeks, with twins",
    "Weaver (North Carolina State): 2.7 of 4.0 lb; NRC 1985: 2.3 of 4.0 lb with fewer lambs",
    "src/stockpile/need.c")
FIGURE(STOCK_PROTEIN_DRY, "stockpile.protein.dry", .25 / 2.6, "share", .09, .10, COMPUTED,
    "protein in what a dry ewe needs", "NRC 1985, 0.25 of 2.6 lb, at second hand", "src/stockpile/need.c")
FIGURE(STOCK_PROTEIN_EARLY, "stockpile.protein.early", .29 / 3.1, "share", .09, .10, COMPUTED,
    "the same in the first 15 weeks", "NRC 1985, 0.29 of 3.1 lb, at second hand", "src/stockpile/need.c")
FIGURE(STOCK_PROTEIN_LATE, "stockpile.protein.late", .42 / 4.0, "share", .10, .105, COMPUTED,
    "the same in the last 4 weeks", "NRC 1985, 0.42 of 4.0 lb, at second hand", "src/stockpile/need.c")
FIGURE(STOCK_LIMIT_WEIGHT, "stockpile.limit.weight", .015, "share", .014, .015, PUBLISHED,
    "what a ewe late in lamb eats at most of her weight in roughage a day",
    "Meat Promotion Wales: 1.5 % on average hay; Vet Times: 1.4 % on good silage",
    "src/report/stockpile.c src/stockpile/need.c")
FIGURE(STOCK_LIMIT_FIBRE, "stockpile.limit.fibre", .012, "share", .012, .012, PUBLISHED,
    "fibre that sheep eat at most of their weight a day",
    "Victoria, feeding livestock: 120 / fibre %",
    "src/report/stockpile.c src/stockpile/need.c")
FIGURE(STOCK_FEED_DIGEST, "stockpile.feed.digestible", .80, "share", .75, .85, PRACTICE,
    "digestible nutrients in other feed: grain or ewe nuts", COMMON, "src/stockpile/need.c")
FIGURE(STOCK_FEED_PROTEIN, "stockpile.feed.protein", .16, "share", .12, .20, PRACTICE,
    "its protein", COMMON, "src/stockpile/need.c")
COUNT(STOCK_LATE_DAYS, "stockpile.late", 28, "days", 28, 42, PUBLISHED,
    "before lambing: late gestation", "NRC 1985, table 1: the last 4 weeks",
    "src/winter/row.c")
COUNT(STOCK_GESTATION_DAYS, "stockpile.gestation", 147, "days", 144, 152, PRACTICE,
    "from tupping to lambing", COMMON, "src/winter/row.c")
COUNT(STOCK_FIRST_CLOSING, "stockpile.first-closing", 152, "", 152, 152, PUBLISHED,
    "day of the year: the earliest closing that was tried, 1 June", BURNS, "src/winter/closing.c")
COUNT(STOCK_DATE_DAYS, "stockpile.date-days", 14, "days", 14, 14, PRACTICE,
    "earlier and later, to see what a date moves", COMMON, "src/winter/effect.c")
COUNT(STOCK_WANTED_DAYS, "stockpile.days", 60, "days", 1, 200, PUBLISHED,
    "for how long the winter's grass is wanted", "Penn State: 60 to 90 more days of grazing",
    "src/told/stockpile.c")

/* ---- topping ---- */
COUNT(STOCK_TOP_BEST, "stockpile.top.best", 1, "days", 1, 1, PUBLISHED,
    "from grazing to topping, best", "AHDB Dairy: within 24 hours", "src/winter/topping.c")
COUNT(STOCK_TOP_LAST, "stockpile.top.last", 3, "days", 3, 3, PUBLISHED,
    "at most: regrowth is cut too", "topping costs 2 to 3 days of growth (Irish Farmers Journal)",
    "src/report/stockpile.c src/winter/topping.c")
FIGURE(STOCK_SWATH, "stockpile.swath", 500, "kg/ha", 500, 500, PRACTICE,
    "cut grass that rots on what grows below it", COMMON, "src/winter/topping.c")
FIGURE(STOCK_TOP_HA_HOUR, "stockpile.top.ha-an-hour", 1, "ha/h", .6, 1.5, PRACTICE,
    "topped in an hour with a mower of 2 m", COMMON, "src/winter/topping.c")
FIGURE(STOCK_STOP_M, "stockpile.stop", 3 * FW_INCH_M, "m", 3 * FW_INCH_M, 4 * FW_INCH_M, PUBLISHED,
    "stop height where no field says what must stay: 3 to 4 inches",
    "Virginia Tech, August 2004; Penn State",
    "src/told/stockpile.c")
