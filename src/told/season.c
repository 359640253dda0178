/* Does the grass grow? By the first day and the hemisphere when nobody says.
 * With it goes whether there is a fence behind the flock: grass in growth
 * sprouts again within days of being grazed, and must not be bitten then. */
#include "keys/reader.h"

static enum fw_season season_of(const struct fw_farm *farm)
{
    if (farm->start_day == FW_NO_DAY || farm->field_count == 0)
        return FW_SEASON_GROWTH;
    return fw_forage_is_warm(farm->start_day,
                             farm->fields[0].shape->plane.centre.lat_deg)
               ? FW_SEASON_GROWTH
               : FW_SEASON_DORMANT;
}

enum fw_status fw_farm__season(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    (void)err;
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm *farm = reader->farm;
    farm->season = draft->season.at.given ? (enum fw_season)draft->season.value
                                          : season_of(farm);
    farm->back_fence_told = draft->back_fence.at.given;
    farm->back_fence = farm->back_fence_told ? draft->back_fence.value != 0
                                             : farm->season == FW_SEASON_GROWTH;
    return FW_OK;
}
