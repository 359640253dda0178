/* Fields in memory, as a map that was read would have them. */
#include "told/rings.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "keys/keys.h"

static enum fw_status take(const struct fw_farm_rings *rings,
                           struct fw_feature *out, struct fw_error *err)
{
    const size_t count =
        rings->ring_count ? rings->ring_start[rings->ring_count] : 0;
    struct fw_shape *shape = &out->shape;
    out->kind = FW_FEATURE_POLYGON;
    out->name = rings->name ? fw_strdup(rings->name) : NULL;
    shape->points = fw_alloc(count, sizeof *shape->points);
    shape->ring_start =
        fw_alloc(rings->ring_count + 1, sizeof *shape->ring_start);
    if ((rings->name && !out->name) || !shape->points || !shape->ring_start)
        return fw_fail_memory(err);
    shape->point_count = count;
    shape->ring_count = rings->ring_count;
    for (size_t i = 0; i < count; i++)
        shape->points[i] =
            (struct fw_xy){rings->points[i].lon_deg, rings->points[i].lat_deg};
    for (size_t r = 0; r <= rings->ring_count; r++)
        shape->ring_start[r] = rings->ring_count ? rings->ring_start[r] : 0;
    return FW_OK;
}

enum fw_status fw_farm__map_of_rings(const struct fw_farm_rings *rings,
                                     size_t count, struct fw_map **out,
                                     struct fw_error *err)
{
    struct fw_map *map = fw_alloc(1, sizeof *map);
    if (!map)
        return fw_fail_memory(err);
    map->source = fw_strdup("rings");
    map->crs = fw_strdup("OGC:CRS84");
    map->features = fw_alloc(count, sizeof *map->features);
    enum fw_status status =
        map->source && map->crs && map->features ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < count; i++) {
        struct fw_feature *feature = &map->features[i];
        *feature =
            (struct fw_feature){.fid = -1, .row = i + 1, .part = 1, .parts = 1};
        map->feature_count = map->feature_capacity = i + 1;
        status = take(&rings[i], feature, err);
    }
    if (status)
        fw_map_free(map);
    else
        *out = map;
    return status;
}
