/* Weather: what it asks for beside the plan. */
/* clang-format off */

#define OHIO_COLD                                                              \
    "Ohio State University, winter feeding guidelines, 2019"
#define DAKOTA_COLD                                                            \
    "North Dakota State University, December 2014: a quarter of a pound of "   \
    "digestible nutrients for 10 F"

FIGURE(WEATHER_WET_MORE, "weather.wet-more", 0.10, "share", 0, 1, PRACTICE,
    "more ground while it rains, for what is trodden in", COMMON,
    "src/weather/weather.c")
FIGURE(WEATHER_SOFT_MORE, "weather.soft-more", 0.25, "share", 0, 1, COMPUTED,
    "the same where it is soft: a fifth of the grass is lost",
    "Agriculture Victoria, from Mickan 2011: 20 to 40 % less is used where "
    "cattle tread wet ground; of sheep nothing was found",
    "src/weather/weather.c")
FIGURE(WEATHER_SOFT_SHARE, "weather.soft-share", 0.2, "share", 0.2, 0.2, PRACTICE,
    "so much of a paddock is soft, and it is no place for a wet day", OWN,
    "src/weather/place.c")
FIGURE(WEATHER_COLD_WOOL_C, "weather.cold-wool", -2.2, "C", -40, 30,
    PUBLISHED, "in fleece they need more below: 28 F with 2.5 in of it",
    OHIO_COLD, "src/weather/weather.c")
FIGURE(WEATHER_COLD_SHORN_C, "weather.cold-shorn", 10, "C", -40, 30,
    PUBLISHED, "the same when just shorn: 50 F", OHIO_COLD,
    "src/weather/weather.c")
FIGURE(WEATHER_COLD_HAIR_C, "weather.cold-hair", 0, "C", -40, 30,
    PUBLISHED, "the same in a coat of hair, or in one that nobody told: 32 F, "
    "which is said of goats", OHIO_COLD, "src/weather/weather.c")
FIGURE(WEATHER_COLD_WET_C, "weather.cold-wet", 14.4, "C", -40, 30,
    PUBLISHED, "the same wet to the skin, all but those in fleece, which sheds "
    "rain: 58 F", OHIO_COLD, "src/weather/weather.c")
FIGURE(WEATHER_COLD_MORE_KG, "weather.cold-more",
    0.034, "kg", 0, 0.2, COMPUTED,
    "dry matter more a head and day for each degree below, 60 % of it "
    "digestible; 1 % of the feed for 1 F would be as little as 20 g", DAKOTA_COLD,
    "src/weather/weather.c")
FIGURE(WEATHER_HEAT_FROM_C, "weather.heat-from", 28, "C", 15, 45, PUBLISHED,
    "from there on they want shade, and their water two looks a day",
    "Sheep Connect South Australia", "src/weather/weather.c")
COUNT(WEATHER_HEAT_LOOKS, "weather.heat-looks", 2, "", 1, 6, PUBLISHED,
    "at the water on a hot day", "Sheep Connect South Australia",
    "src/weather/weather.c")
FIGURE(WEATHER_SNOW_FROM_M, "weather.snow-from", 6 * FW_INCH_M, "m", 0.02, 1,
    PUBLISHED, "deeper they dig for too little, and want hay: 6 in",
    "University of Nebraska-Lincoln, grazing through snow and ice",
    "src/weather/weather.c")
FIGURE(WEATHER_FROZEN_C, "weather.frozen-from", -5, "C", -40, 5, PRACTICE,
    "so cold, the ground freezes that a foot pushes posts into", COMMON,
    "src/weather/weather.c")
COUNT(WEATHER_LASTS_DAYS, "weather.lasts", 3, "days", 1, 60, PRACTICE,
    "that such weather lasts, where nobody says it", COMMON,
    "src/weather/weather.c")
CHOICE(WEATHER_WET_TO, "weather.wet-to", "firm", PRACTICE,
    "ground for a wet day", COMMON, "src/keys/rows.h")
CHOICE(WEATHER_COLD_TO, "weather.cold-to", "shelter", PRACTICE,
    "ground for a cold day", COMMON, "src/keys/rows.h")
CHOICE(WEATHER_HEAT_TO, "weather.heat-to", "shade", PRACTICE,
    "ground for a hot day", COMMON, "src/keys/rows.h")
CHOICE(WEATHER_SNOW_TO, "weather.snow-to", "shelter", PRACTICE,
    "ground for snow", COMMON, "src/keys/rows.h")
