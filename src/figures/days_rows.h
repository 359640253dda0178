/* Days: what a look is worth, and what follows from it. */
/* clang-format off */

#define MAINE_EYE                                                              \
    "University of Maine, grazing lesson 5: an eye is within 20 % after "      \
    "practice"
#define WEEKLY                                                                 \
    "weekly growth within a month differs by 19 % (AgriSearch bulletins, "     \
    "Northern Ireland 2017 to 2022): of 60 kg/ha a day 80 kg in a week, 3 % " \
    "of 2,500 kg/ha"
#define SWARD_FLOOR                                                            \
    "Morris and others, ewes with twins and triplets: 4 cm is enough, 2 cm "   \
    "clearly too low; 3 cm between them is our own choice"

FIGURE(DAYS_EYE, "days.eye", 0.20, "share", 0.20, 0.20, PUBLISHED,
    "spread of what stands about what an eye says of it", MAINE_EYE,
    "src/days/eye.c")
FIGURE(DAYS_COMMON, "days.common", 0.5, "share", 0.5, 0.5, PRACTICE,
    "part of that (of its square) that is the eye's own and the same in all "
    "fields", OWN, "src/days/eye.c")
FIGURE(DAYS_DRIFT, "days.drift", 0.012, "share", 0.012, 0.012, COMPUTED,
    "by so much a field's grass drifts off the plan in a day", WEEKLY,
    "src/days/eye.c")
FIGURE(DAYS_SPOT, "days.spot", 0.05, "share", 0.05, 0.05, PRACTICE,
    "by so much one paddock of a field differs from the next", OWN,
    "src/days/eye.c")
FIGURE(DAYS_LOOK, "days.look", 0.15, "share", 0.15, 0.15, PRACTICE,
    "by so much a look at what is left is off: within it they left what was "
    "meant", OWN, "src/days/eye.c src/days/rule.c")
COUNT(DAYS_KNOWN, "days.known", 10, "looks", 10, 10, PRACTICE,
    "looks that it takes to outweigh what is thought of looks before", OWN,
    "src/days/eye.c")
FIGURE(DAYS_BAND, "days.band", 1.6448536, "", 1.6448536, 1.6448536, COMPUTED,
    "standard deviations either way between which nine of ten lie",
    "normal distribution", "src/days/eye.c")
FIGURE(DAYS_FLOOR_M, "days.floor", 0.03, "m", 0.02, 0.04, PUBLISHED,
    "sheep graze no lower, and are hungry where they have come so far",
    SWARD_FLOOR, "src/log/offer.c")

FIGURE(DAYS_MORE_LEAST, "days.more-least", 0.10, "share", 0.10, 0.10, PRACTICE,
    "a paddock that is made larger is so by this part at least", OWN,
    "src/days/rule.c")
FIGURE(DAYS_MORE_MOST, "days.more-most", 0.50, "share", 0.50, 0.50, PRACTICE,
    "and at most by this part at once", OWN, "src/days/rule.c")
FIGURE(DAYS_LESS_PART, "days.less-part", 0.5, "share", 0.5, 0.5, PRACTICE,
    "of what it might be smaller it is made so by this part", OWN,
    "src/days/rule.c")
FIGURE(DAYS_LESS_MOST, "days.less-most", 0.25, "share", 0.25, 0.25, PRACTICE,
    "and at most by this part at once", OWN, "src/days/rule.c")
FIGURE(DAYS_OFF, "days.off", 0.25, "share", 0.25, 0.25, PRACTICE,
    "of what was meant to stay, by which short is less and long is more", OWN,
    "src/log/offer.c")
SIZES(DAYS_DORMANT, "days.dormant", LIST(0, 1.0 / 6, 1.0 / 3, 1.0 / 2), "share",
    PRACTICE, "of what they could take, what clean, some, a third and half "
    "left of dormant grass say", OWN, "src/log/offer.c")
FIGURE(DAYS_HAY_DRY, "days.hay-dry", 0.85, "share", 0.8, 0.9, PRACTICE,
    "dry matter of hay as it is fed", COMMON,
    "src/log/follow.c src/report/weather.c src/today/today.c")
COUNT(DAYS_TIMED, "days.timed", 5, "moves", 5, 5, PRACTICE,
    "whose minutes are told before the plan that is gone on from reckons with "
    "them", OWN, "src/log/work.c")
FIGURE(DAYS_SLOWEST, "days.slowest", 3, "times", 3, 3, PRACTICE,
    "as long as the farm's rates say, or as short, at most", OWN,
    "src/log/work.c")
COUNT(DAYS_TRAIN, "days.train", 2, "days", 1, 2, PUBLISHED,
    "after which most sheep have learnt what the wire is: 12 to 48 h beside a "
    "live fence", "NRCS Louisiana, LA-382-1", "src/anew/told.c")
FIGURE(DAYS_WALKED_FAR_M, "days.walked-far", 100, "m", 100, 100, PRACTICE,
    "a track that ends so far from where the fence was to be set is of another "
    "one", OWN, "src/log/walked.c")
FIGURE(DAYS_WALKED_ASIDE_M, "days.walked-aside", 15, "m", 15, 15, PRACTICE,
    "a track may end so far aside of what the fence ends on: three times what a "
    "phone is off by", OWN, "src/log/walked.c")
COUNT(DAYS_LAMBS_MOST, "days.lambs-most", 4, "lambs", 4, 4, PRACTICE,
    "of a ewe that are counted or weaned: more are a slip of the pen", COMMON,
    "src/log/fits.c")
