/* Which ground suits which weather. */
#include "weather/weather.h"

#include "figures/weather.h"

#include <math.h>

bool fw_weather_suits(const struct fw_weather_place *place,
                      enum fw_weather_ground ground)
{
    switch (ground) {
    case FW_GROUND_FIRM:
        return !(place->soft_share >= FW_WEATHER_SOFT_SHARE);
    case FW_GROUND_SHADE:
        return place->shade != FW_NO;
    case FW_GROUND_SHELTER:
        return place->shelter != FW_NO;
    case FW_GROUND_ANY:
    case FW_GROUND_COUNT:
        break;
    }
    return true;
}

/* Below its critical temperature a flock is cold, whatever the figure says of
 * the night. */
enum fw_weather_kind fw_weather_asks(const struct fw_weather_table *table,
                                     const struct fw_weather *weather,
                                     const struct fw_weather_need *need)
{
    const bool asks[FW_WEATHER_COUNT] = {
        [FW_WEATHER_WET] = weather->wet,
        [FW_WEATHER_COLD] = need->cold_kg > 0,
        [FW_WEATHER_HEAT] = need->hot,
        [FW_WEATHER_SNOW] = weather->snow_m > 0,
    };
    static const enum fw_weather_kind order[] = {
        FW_WEATHER_SNOW, FW_WEATHER_COLD, FW_WEATHER_HEAT, FW_WEATHER_WET};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        if (asks[order[i]] && table->ground[order[i]] != FW_GROUND_ANY)
            return order[i];
    return FW_WEATHER_COUNT;
}
