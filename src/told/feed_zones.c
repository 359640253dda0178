/* Feed by zones: each has the field's sward but for what it says itself. */
#include "mapped/near.h"
#include "told/feed.h"
#include "told/split.h"

#include "base/alloc.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include <math.h>

struct laying {
    struct fw_farm__reader *reader;
    size_t field;
    const struct fw_farm_feature **features; /* on the field */
    struct fw_herbage_zone *zones;
    struct fw_point **points;
    size_t count;
};

static void release(struct laying *laying)
{
    for (size_t i = 0; i < laying->count; i++)
        fw_free(laying->points[i]);
    fw_free(laying->points);
    fw_free(laying->zones);
    fw_free(laying->features);
}

static enum fw_status fail_zone(const struct laying *laying,
                                const struct fw_farm_feature *feature,
                                struct fw_error *err)
{
    const struct fw_farm__reader *reader = laying->reader;
    char name[FW_FARM__FEATURE];
    return fw_fail_where(
        err, "%s: %s: ", reader->draft.maps[feature->map].source.text,
        fw_farm__feature(feature->row, feature->fid, feature->name, name));
}

/* ---- which zones ---- */

static enum fw_status check_zone(const struct laying *laying,
                                 const struct fw_farm_feature *feature,
                                 struct fw_error *err)
{
    const struct fw_farm_zone *zone = &feature->zone;
    if (feature->kind != FW_FEATURE_POLYGON) {
        fw_fail(err, FW_EINPUT, "is a %s; expected the area of a zone",
                feature->kind == FW_FEATURE_LINE ? "line" : "point");
        return fail_zone(laying, feature, err);
    }
    if (zone->mass_kg_ha < 0 && zone->residual_kg_ha < 0 &&
        zone->height_m < 0 && zone->leave_m < 0 && zone->use < 0 &&
        zone->quality < 0 && zone->condition < 0) {
        fw_fail(err, FW_EINPUT,
                "tells nothing of its grass; expected a column mass, height, "
                "residual, leave, use, quality or condition, or "
                "maps[].forage");
        return fail_zone(laying, feature, err);
    }
    return FW_OK;
}

static enum fw_status add_zone(struct laying *laying,
                               const struct fw_field *shape,
                               const struct fw_farm_feature *feature,
                               struct fw_error *err)
{
    const enum fw_status status = check_zone(laying, feature, err);
    if (status)
        return status;
    struct fw_point *points = fw_farm__in_plane(&shape->plane, feature, err);
    if (!points)
        return FW_ENOMEM;
    laying->points[laying->count] = points;
    laying->features[laying->count] = feature;
    laying->zones[laying->count++] =
        (struct fw_herbage_zone){.points = points,
                                 .ring_start = feature->ring_start,
                                 .ring_count = feature->ring_count};
    return FW_OK;
}

/* Does it belong to another part of the field? */
static bool is_elsewhere(const struct laying *laying,
                         const struct fw_farm_zone *zone)
{
    const struct fw_farm__reader *reader = laying->reader;
    const struct fw_farm_border *border =
        &reader->farm->fields[laying->field].border;
    const enum fw_condition base =
        fw_farm__condition(reader, reader->each_of[laying->field]);
    const enum fw_condition own = border->condition ? border->condition : base;
    return border->whole &&
           (zone->condition > 0 ? (enum fw_condition)zone->condition : base) !=
               own;
}

static enum fw_status find_zones(struct laying *laying, struct fw_error *err)
{
    const struct fw_farm *farm = laying->reader->farm;
    const struct fw_field *shape = farm->fields[laying->field].grazed;
    const struct fw_farm__near around = fw_farm__near_field(shape);
    size_t most = 0;
    for (size_t i = 0; i < farm->feature_count; i++)
        most += farm->features[i].role == FW_ROLE_ZONE;
    if (most == 0)
        return FW_OK;
    laying->features = fw_alloc(most, sizeof(*laying->features));
    laying->zones = fw_alloc(most, sizeof *laying->zones);
    laying->points = fw_alloc(most, sizeof *laying->points);
    if (!laying->features || !laying->zones || !laying->points)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_ZONE ||
            is_elsewhere(laying, &feature->zone))
            continue;
        const struct fw_farm__near box = fw_farm__near_feature(feature);
        if (fw_farm__near_meets(&around, &box, 0))
            status = add_zone(laying, shape, feature, err);
    }
    return status;
}

/* ---- their swards ---- */

static void lay_over(struct fw_sward *sward, const struct fw_farm_zone *zone)
{
    if (zone->mass_kg_ha >= 0) {
        sward->mass_kg_ha = zone->mass_kg_ha;
        sward->height_m = 0;
    }
    if (zone->height_m >= 0) {
        sward->height_m = zone->height_m;
        sward->mass_kg_ha = 0;
    }
    if (zone->residual_kg_ha >= 0) {
        sward->residual_kg_ha = zone->residual_kg_ha;
        sward->leave_m = 0;
    }
    if (zone->leave_m >= 0) {
        sward->leave_m = zone->leave_m;
        sward->residual_kg_ha = 0;
    }
    if (zone->condition > 0) {
        sward->condition = (enum fw_condition)zone->condition;
        sward->use = 0;
    }
    if (zone->use > 0)
        sward->use = zone->use;
}

/* Nothing stands there, or none of it is eaten. */
static bool is_bare(const struct fw_farm_zone *zone)
{
    const bool none = zone->mass_kg_ha == 0 || zone->height_m == 0;
    return none || zone->use == 0 || zone->quality == 0;
}

static enum fw_status zone_part(const struct laying *laying,
                                const struct fw_farm_feature *feature,
                                struct fw_farm_part *out, struct fw_error *err)
{
    struct fw_farm__reader *reader = laying->reader;
    const struct fw_farm_zone *zone = &feature->zone;
    const struct fw_farm__forage *told =
        &reader->draft.maps[feature->map].forage;
    struct fw_sward sward;
    char text[FW_GROWTH_TEXT];
    *out = (struct fw_farm_part){.quality =
                                     zone->quality >= 0 ? zone->quality : 1};
    if (is_bare(zone))
        return FW_OK;
    fw_farm__sward(reader, laying->field, told, &sward);
    lay_over(&sward, zone);
    enum fw_status status = fw_farm__usable(reader, &sward, &out->usable, err);
    if (status) {
        fail_zone(laying, feature, err);
        return status;
    }
    return fw_farm__growth(reader, laying->field, told, &out->growth, text,
                           err);
}

static double usable_kg_m2(const struct fw_farm_part *part)
{
    return part->usable.usable_kg_ha / 1e4 * part->quality;
}

/* ---- the field ---- */

/* The mean of masses that the zones tell, when they tell all of it. */
static enum fw_status take_mean(struct laying *laying, struct fw_error *err)
{
    struct fw_farm_field *field = &laying->reader->farm->fields[laying->field];
    struct fw_herbage *ground;
    struct fw_herbage_told cover;
    for (size_t i = 0; i < laying->count; i++) {
        laying->zones[i].kg_m2 = laying->features[i]->zone.mass_kg_ha / 1e4;
        if (laying->features[i]->zone.mass_kg_ha < 0)
            return FW_OK;
    }
    const enum fw_status status = fw_herbage_zones(
        field->grazed, 0, laying->zones, laying->count, &ground, &cover, err);
    if (status)
        return status;
    const double mass_kg = fw_herbage_field_kg(ground, field->grazed);
    fw_herbage_free(ground);
    if (cover.gap_m2 <= FW_MAP_GAP_SHARE * field->grazed->area_m2)
        field->sward.mass_kg_ha = mass_kg / cover.told_m2 * 1e4;
    return FW_OK;
}

static enum fw_status tell(const struct laying *laying,
                           const struct fw_herbage_told *cover,
                           struct fw_error *err)
{
    const struct fw_farm_field *field =
        &laying->reader->farm->fields[laying->field];
    struct fw_notes *notes = laying->reader->notes;
    const char *name = field->shape->name;
    const double least_m2 = fmax(1, FW_MAP_TOLD_SHARE * field->grazed->area_m2);
    enum fw_status status = FW_OK;
    if (cover->overlap_m2 >= least_m2)
        status = fw_notes_add(notes, FW_LEVEL_WARNING, name, err,
                              "zones overlap on %.0f m2; there the later one "
                              "in the map holds",
                              cover->overlap_m2);
    if (!status && cover->gap_m2 >= least_m2)
        status = fw_notes_add(notes, FW_LEVEL_WARNING, name, err,
                              "zones leave %.0f m2 of %.0f; there the grass of "
                              "the field holds",
                              cover->gap_m2, field->grazed->area_m2);
    return status;
}

/* The base, then the zones as they are on the map. */
static enum fw_status take_parts(struct laying *laying,
                                 struct fw_farm_field *field,
                                 struct fw_error *err)
{
    enum fw_status status =
        fw_farm__parts(field, 1 + laying->count, 1 + laying->count, err);
    if (status)
        return status;
    field->parts[0] =
        (struct fw_farm_part){.quality = 1, .growth = field->growth};
    status = fw_farm__usable(laying->reader, &field->sward,
                             &field->parts[0].usable, err);
    for (size_t i = 0; !status && i < laying->count; i++)
        status =
            zone_part(laying, laying->features[i], &field->parts[1 + i], err);
    for (size_t i = 0; !status && i <= laying->count; i++)
        field->stands_kg_ha[i] = field->parts[i].usable.mass_kg_ha;
    for (size_t i = 0; !status && i < laying->count; i++)
        laying->zones[i].kg_m2 = usable_kg_m2(&field->parts[1 + i]);
    return status;
}

static enum fw_status lay(struct laying *laying, struct fw_error *err)
{
    struct fw_farm_field *field = &laying->reader->farm->fields[laying->field];
    struct fw_herbage_told cover;
    enum fw_status status = FW_OK;
    if (!fw_farm__has_mass(&field->sward))
        status = take_mean(laying, err);
    if (status || !fw_farm__has_mass(&field->sward) ||
        !fw_farm__has_rest(&field->sward))
        return status;
    status = take_parts(laying, field, err);
    if (!status)
        status = fw_herbage_zones(field->grazed, usable_kg_m2(&field->parts[0]),
                                  laying->zones, laying->count, &field->ground,
                                  &cover, err);
    return status ? status : tell(laying, &cover, err);
}

enum fw_status fw_farm__feed_zones(struct fw_farm__reader *reader, size_t field,
                                   bool *any, struct fw_error *err)
{
    struct laying laying = {.reader = reader, .field = field};
    enum fw_status status = find_zones(&laying, err);
    *any = laying.count > 0;
    if (!status && *any)
        status = lay(&laying, err);
    release(&laying);
    return status;
}
