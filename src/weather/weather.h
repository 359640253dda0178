/* What today's weather asks for beside the plan.
 *
 * A table of the farm says it: how much more ground in the rain, from which
 * temperature on they need more to eat and how much, where they are to be in
 * heat or in snow. It is the shepherd's: each of its figures has a default with
 * a source, and each can be told otherwise. What it comes to in paces, and
 * which paddock suits, is for whoever has the plan. */
#ifndef FW_WEATHER_WEATHER_H
#define FW_WEATHER_WEATHER_H

#include "figures/mark.h"
#include "flock/flock.h"
#include <stddef.h>

enum fw_weather_kind {
    FW_WEATHER_WET,
    FW_WEATHER_COLD,
    FW_WEATHER_HEAT,
    FW_WEATHER_SNOW,
    FW_WEATHER_COUNT
};

/* The ground that suits a day. */
enum fw_weather_ground {
    FW_GROUND_ANY,
    FW_GROUND_FIRM,
    FW_GROUND_SHADE,
    FW_GROUND_SHELTER,
    FW_GROUND_COUNT
};

enum { FW_WEATHER_WORDS = FW_EFFORT(160) };

struct fw_weather_table {
    double wet_more, soft_more;            /* of the ground; where it is soft */
    double wool_c, shorn_c, hair_c, wet_c; /* below which they need more; wet:
                                              but for those in fleece */
    double cold_more_kg; /* dry matter a head and day, for a degree below */
    double heat_from_c;
    int heat_looks; /* at the water, in a day */
    double snow_from_m;
    double frozen_from_c; /* no post goes into the ground */
    int lasts_days;       /* such weather, where nobody says it */
    enum fw_weather_ground ground[FW_WEATHER_COUNT];
    char say[FW_WEATHER_COUNT][FW_WEATHER_WORDS]; /* in the shepherd's own
                                                     words; "": nothing */
};

/* What holds where nobody told anything. */
struct fw_weather_table fw_weather_usual(void);

/* Of a day, or of as many as it lasts. */
struct fw_weather {
    bool wet;
    double cold_c; /* the lowest of the night; NaN: nobody said */
    double heat_c; /* the highest of the day; the same */
    double snow_m; /* lying; the same */
    int days;      /* 0: nobody said */
};
struct fw_weather fw_weather_none(void);
bool fw_weather_is(const struct fw_weather *weather, enum fw_weather_kind kind);

/* Below which the class needs more. */
double fw_weather_critical_c(const struct fw_weather_table *table,
                             enum fw_coat coat, bool wet);

/* What comes of it for a flock on ground that is soft in such a part of it. */
struct fw_weather_need {
    double tread_share; /* more ground, since some is trodden in */
    double cold_kg;     /* more dry matter a day, of the whole flock */
    double more_share;  /* more ground in all */
    bool hot;           /* shade, looks at the water */
    bool deep;          /* snow: hay in place of grass */
    bool frozen;        /* posts stay where they are */
    int days;           /* that it lasts */
};
struct fw_weather_need fw_weather_need(const struct fw_weather_table *table,
                                       const struct fw_weather *weather,
                                       const struct fw_flock_class *classes,
                                       size_t class_count, double demand_kg_day,
                                       double soft_share);

/* ---- place.c: where they are to be ---- */

/* Of a paddock; untold: no map shows any. */
struct fw_weather_place {
    double soft_share; /* NaN: no map shows soft ground */
    enum fw_answer shade, shelter;
};

/* Does the place suit such ground? Yes where nobody can tell. */
bool fw_weather_suits(const struct fw_weather_place *place,
                      enum fw_weather_ground ground);

/* The weather that asks for a place most of all, and which: snow before cold,
 * cold before heat, heat before rain. FW_WEATHER_COUNT: none asks for one. */
enum fw_weather_kind fw_weather_asks(const struct fw_weather_table *table,
                                     const struct fw_weather *weather,
                                     const struct fw_weather_need *need);

#endif
