/* Rain, cold, heat and snow as more to eat, more ground, and what else. */
#include "weather/weather.h"

#include "figures/weather.h"

#include <math.h>

struct fw_weather_table fw_weather_usual(void)
{
    return (struct fw_weather_table){
        .wet_more = FW_WEATHER_WET_MORE,
        .soft_more = FW_WEATHER_SOFT_MORE,
        .wool_c = FW_WEATHER_COLD_WOOL_C,
        .shorn_c = FW_WEATHER_COLD_SHORN_C,
        .hair_c = FW_WEATHER_COLD_HAIR_C,
        .wet_c = FW_WEATHER_COLD_WET_C,
        .cold_more_kg = FW_WEATHER_COLD_MORE_KG,
        .heat_from_c = FW_WEATHER_HEAT_FROM_C,
        .heat_looks = FW_WEATHER_HEAT_LOOKS,
        .snow_from_m = FW_WEATHER_SNOW_FROM_M,
        .frozen_from_c = FW_WEATHER_FROZEN_C,
        .lasts_days = FW_WEATHER_LASTS_DAYS,
        .ground = {[FW_WEATHER_WET] = FW_GROUND_FIRM,
                   [FW_WEATHER_COLD] = FW_GROUND_SHELTER,
                   [FW_WEATHER_HEAT] = FW_GROUND_SHADE,
                   [FW_WEATHER_SNOW] = FW_GROUND_SHELTER},
    };
}

struct fw_weather fw_weather_none(void)
{
    const double untold = (double)NAN;
    return (struct fw_weather){
        .cold_c = untold, .heat_c = untold, .snow_m = untold};
}

bool fw_weather_is(const struct fw_weather *weather, enum fw_weather_kind kind)
{
    const bool is[FW_WEATHER_COUNT] = {
        [FW_WEATHER_WET] = weather->wet,
        [FW_WEATHER_COLD] = !isnan(weather->cold_c),
        [FW_WEATHER_HEAT] = !isnan(weather->heat_c),
        [FW_WEATHER_SNOW] = !isnan(weather->snow_m),
    };
    return is[kind];
}

/* Rain runs off a fleece; hair and shorn skin are wet through. */
double fw_weather_critical_c(const struct fw_weather_table *table,
                             enum fw_coat coat, bool wet)
{
    if (coat == FW_WOOL)
        return table->wool_c;
    const double dry_c = coat == FW_SHORN ? table->shorn_c : table->hair_c;
    return wet ? fmax(dry_c, table->wet_c) : dry_c;
}

static double cold_kg(const struct fw_weather_table *table,
                      const struct fw_weather *weather,
                      const struct fw_flock_class *classes, size_t class_count)
{
    const bool wet = weather->wet || weather->snow_m > 0;
    double sum_kg = 0;
    if (isnan(weather->cold_c))
        return 0;
    for (size_t i = 0; i < class_count; i++) {
        const double below_c =
            fw_weather_critical_c(table, classes[i].coat, wet) -
            weather->cold_c;
        sum_kg += classes[i].head * fmax(0, below_c) * table->cold_more_kg;
    }
    return sum_kg;
}

/* Soft by its part, firm by the rest. */
static double tread(const struct fw_weather_table *table, double soft_share)
{
    const double soft = isnan(soft_share) ? 0 : soft_share;
    return (1 - soft) * table->wet_more + soft * table->soft_more;
}

struct fw_weather_need fw_weather_need(const struct fw_weather_table *table,
                                       const struct fw_weather *weather,
                                       const struct fw_flock_class *classes,
                                       size_t class_count, double demand_kg_day,
                                       double soft_share)
{
    struct fw_weather_need need = {
        .tread_share = weather->wet ? tread(table, soft_share) : 0,
        .cold_kg = cold_kg(table, weather, classes, class_count),
        .hot = weather->heat_c >= table->heat_from_c,
        .deep = weather->snow_m >= table->snow_from_m,
        .frozen = weather->cold_c <= table->frozen_from_c,
        .days = weather->days > 0 ? weather->days : table->lasts_days,
    };
    need.more_share =
        (1 + need.tread_share) * (1 + need.cold_kg / demand_kg_day) - 1;
    return need;
}
