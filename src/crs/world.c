/* What the core asks, answered by PROJ and GEOS. */
#include "crs/inner.h"

const struct fw_world fw_crs_world = {
    .lend = fw_crs_lend,
    .give_back = fw_crs_give_back,
    .turn = fw_crs_turn,
    .from_lonlat = fw_crs_from_lonlat,
    .area_m2 = fw_crs_area_m2,
    .bearing_deg = fw_geo_bearing_deg,
    .length_m = fw_geo_length_m,
    .apart_m2 = fw_herbage_apart_m2,
};
