/* What today's weather asks for: the usual, and what is told in its place. */
#include "keys/reader.h"

#include <math.h>
#include <stdio.h>

static void put(const struct fw_farm__number *told, double *to)
{
    if (told->at.given)
        *to = told->value;
}

static void put_whole(const struct fw_farm__number *told, int *to)
{
    if (told->at.given)
        *to = (int)lround(told->value);
}

enum fw_status fw_farm__weather(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    const struct fw_farm__weather *told = &reader->draft.weather;
    struct fw_weather_table *to = &reader->farm->weather;
    (void)err;
    *to = fw_weather_usual();
    put(&told->wet_more, &to->wet_more);
    put(&told->soft_more, &to->soft_more);
    put(&told->wool_c, &to->wool_c);
    put(&told->shorn_c, &to->shorn_c);
    put(&told->hair_c, &to->hair_c);
    put(&told->wet_c, &to->wet_c);
    put(&told->cold_more_kg, &to->cold_more_kg);
    put(&told->heat_from_c, &to->heat_from_c);
    put_whole(&told->heat_looks, &to->heat_looks);
    put(&told->snow_from_m, &to->snow_from_m);
    put(&told->frozen_from_c, &to->frozen_from_c);
    put_whole(&told->lasts_days, &to->lasts_days);
    for (size_t i = 0; i < FW_WEATHER_COUNT; i++) {
        if (told->ground[i].at.given)
            to->ground[i] = (enum fw_weather_ground)told->ground[i].value;
        if (told->say[i].at.given)
            snprintf(to->say[i], sizeof to->say[i], "%s", told->say[i].text);
    }
    return FW_OK;
}
