/* The road of the loaded tank, where nobody told it: along the tracks, lanes
 * and roads of the maps, from where it is filled to each field's gate. */
#include "mapped/road.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/say.h"
#include "figures/water.h"
#include "geo/points.h"

#include <math.h>

static bool is_driven(enum fw_role role)
{
    return role == FW_ROLE_TRACK || role == FW_ROLE_LANE ||
           role == FW_ROLE_ROAD;
}

static bool is_wanted(const struct fw_farm__reader *reader)
{
    return reader->draft.tank_l.at.given && !reader->draft.road_m.at.given &&
           reader->farm->field_count > 0;
}

static enum fw_status add_source(struct fw_farm__road *road,
                                 struct fw_lonlat at, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&road->sources, &road->source_capacity,
                         road->source_count + 1, sizeof *road->sources, err);
    if (!status)
        road->sources[road->source_count++] =
            fw_plane_forward(&road->plane, at);
    return status;
}

/* Of a map that may be of a whole county only what is in reach is kept. */
static enum fw_status add_track(struct fw_farm__road *road,
                                const struct fw_lonlat *points, size_t count,
                                struct fw_error *err)
{
    struct fw_point *plane = fw_alloc(count, sizeof *plane);
    bool near = false;
    if (!plane)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++) {
        plane[i] = fw_plane_forward(&road->plane, points[i]);
        near |= fw_point_apart_m(plane[i], (struct fw_point){0, 0}) <=
                FW_ROADS_REACH_M;
    }
    const enum fw_status status =
        near ? fw_water_roads_add(&road->tracks, plane, count, err) : FW_OK;
    fw_free(plane);
    return status;
}

enum fw_status fw_farm__road_take(struct fw_farm__reader *reader,
                                  enum fw_role role,
                                  const struct fw_farm__outline *outline,
                                  struct fw_error *err)
{
    struct fw_farm__road *road = &reader->road;
    enum fw_status status = FW_OK;
    if (!is_wanted(reader) || (role != FW_ROLE_SOURCE && !is_driven(role)))
        return FW_OK;
    road->plane = reader->farm->fields[0].shape->plane;
    if (role == FW_ROLE_SOURCE)
        return add_source(road, outline->points[0], err);
    if (outline->kind != FW_FEATURE_LINE)
        return FW_OK;
    for (size_t r = 0; !status && r < outline->ring_count; r++)
        status =
            add_track(road, outline->points + outline->ring_start[r],
                      outline->ring_start[r + 1] - outline->ring_start[r], err);
    return status;
}

/* Where no map shows where the tank is filled, it may be at a field's water. */
static enum fw_status add_waters(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    enum fw_status status = FW_OK;
    if (reader->road.source_count > 0)
        return FW_OK;
    for (size_t i = 0; !status && i < farm->field_count; i++)
        if (farm->fields[i].water.given)
            status =
                add_source(&reader->road, farm->fields[i].water.lonlat, err);
    return status;
}

static enum fw_status say_gap(const struct fw_farm__reader *reader,
                              const struct fw_farm_field *field,
                              const struct fw_roads_way *way,
                              struct fw_error *err)
{
    char gap[FW_SAID], road[FW_SAID];
    const bool at_gate = way->to_gap_m >= way->from_gap_m;
    const double gap_m = at_gate ? way->to_gap_m : way->from_gap_m;
    if (!(gap_m > FW_ROADS_GAP_M))
        return FW_OK;
    return fw_notes_add(
        reader->notes, FW_LEVEL_WARNING, field->shape->name, err,
        "the tracks of the maps %s %s; the road of %s for the tank has that "
        "straight across: draw the track on, or tell hauling.road",
        at_gate ? "end short of the gate by"
                : "begin away from where the tank is filled by",
        fw_say_length(gap_m, reader->farm->units, gap),
        fw_say_length(way->way_m, reader->farm->units, road));
}

enum fw_status fw_farm__road(struct fw_farm__reader *reader,
                             struct fw_error *err)
{
    struct fw_farm__road *road = &reader->road;
    struct fw_farm *farm = reader->farm;
    if (!is_wanted(reader) || road->tracks.count == 0)
        return FW_OK;
    const bool shown = road->source_count > 0;
    enum fw_status status = add_waters(reader, err);
    for (size_t i = 0; !status && i < farm->field_count; i++) {
        struct fw_farm_field *field = &farm->fields[i];
        struct fw_roads_way way = {0};
        if (!field->gate.given)
            continue;
        status = fw_water_roads_way(
            &road->tracks, road->sources, road->source_count,
            fw_plane_forward(&road->plane, field->gate.lonlat), &way, err);
        /* Water that no track leads to is not where the tank is filled. */
        if (!status && way.known &&
            (shown || way.from_gap_m <= FW_ROADS_GAP_M)) {
            field->road_m = way.way_m;
            status = say_gap(reader, field, &way, err);
        }
    }
    return status;
}

void fw_farm__road_release(struct fw_farm__road *road)
{
    fw_water_roads_release(&road->tracks);
    fw_free(road->sources);
}
