/* Grass of another condition: in one open break they clear what is leafy and
 * hardly touch what is rank, so that a zone of another condition is a part of
 * its field that is laid out, fenced and grazed for itself. */
#include "keys/schema.h"
#include "mapped/near.h"
#include "told/split.h"

#include "base/alloc.h"
#include "base/array.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include <stdio.h>
#include <string.h>

enum { name_room = FW_EFFORT(192) };

struct parting {
    struct fw_farm__reader *reader;
    struct fw_farm__near *near;   /* by feature */
    struct fw_farm_field *fields; /* what becomes of them all */
    size_t field_count, field_capacity;
};

/* ---- zones on one field ---- */

struct zones {
    struct fw_kind_zone *items;
    struct fw_point **points; /* of each of them */
    size_t count;
    bool differ; /* some are of another condition than the field */
};

static void zones_release(struct zones *zones)
{
    for (size_t i = 0; i < zones->count; i++)
        fw_free(zones->points[i]);
    fw_free(zones->items);
    fw_free(zones->points);
}

static enum fw_status find_zones(const struct parting *parting,
                                 const struct fw_field *field, int base,
                                 struct zones *out, struct fw_error *err)
{
    const struct fw_farm *farm = parting->reader->farm;
    const struct fw_farm__near around = fw_farm__near_field(field);
    out->items = fw_alloc(farm->feature_count, sizeof *out->items);
    out->points = fw_alloc(farm->feature_count, sizeof *out->points);
    if (!out->items || !out->points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        if (feature->role != FW_ROLE_ZONE ||
            feature->kind != FW_FEATURE_POLYGON ||
            !fw_farm__near_meets(&around, &parting->near[i], 0))
            continue;
        struct fw_point *points =
            fw_farm__in_plane(&field->plane, feature, err);
        if (!points)
            return FW_ENOMEM;
        const double told = feature->zone.condition;
        const int kind = told > 0 ? (int)told : base;
        out->points[out->count] = points;
        out->items[out->count++] = (struct fw_kind_zone){
            points, feature->ring_start, feature->ring_count, kind};
        out->differ |= kind != base;
    }
    return FW_OK;
}

/* ---- one field ---- */

static enum fw_status push(struct parting *parting, struct fw_farm_field *field,
                           struct fw_error *err)
{
    const enum fw_status status = fw_array_reserve(
        &parting->fields, &parting->field_capacity, parting->field_count + 1,
        sizeof *parting->fields, err);
    if (status)
        return status;
    parting->fields[parting->field_count++] = *field;
    *field = (struct fw_farm_field){0};
    return FW_OK;
}

/* "Long Bottom/rank", "Long Bottom/rank/2", and what nobody has told of "Long
 * Bottom/other": the name of the whole field means all of them. */
static void name_part(const struct fw_kind_parts *parts, size_t at,
                      char name[name_room])
{
    const struct fw_kind_part *part = &parts->items[at];
    const char *kind =
        part->kind ? fw_forage_condition_words[part->kind] : "other";
    size_t number = 1;
    for (size_t i = 0; i < at; i++)
        number += parts->items[i].kind == part->kind;
    if (number > 1)
        snprintf(name, name_room, "%.140s/%s/%zu", part->field->name, kind,
                 number);
    else
        snprintf(name, name_room, "%.140s/%s", part->field->name, kind);
}

static size_t next_in_ring(const struct fw_field *shape, size_t ring, size_t v)
{
    return v + 1 < shape->ring_start[ring + 1] ? v + 1
                                               : shape->ring_start[ring];
}

static bool is_place(const struct fw_vertex *a, const struct fw_vertex *b)
{
    return a->plane.x_m == b->plane.x_m && a->plane.y_m == b->plane.y_m;
}

/* The part, from 1, along which the edge from one vertex to the other runs the
 * other way round: their corners are the same to the last bit. */
static size_t part_beyond(const struct fw_kind_parts *parts,
                          const struct fw_vertex *from,
                          const struct fw_vertex *to)
{
    for (size_t i = 0; i < parts->count; i++) {
        const struct fw_field *shape = parts->items[i].field;
        for (size_t r = 0; r < shape->ring_count; r++)
            for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1];
                 v++)
                if (is_place(&shape->vertices[v], to) &&
                    is_place(&shape->vertices[next_in_ring(shape, r, v)], from))
                    return i + 1;
    }
    return 0;
}

static enum fw_status find_border(const struct fw_kind_parts *parts, size_t at,
                                  struct fw_farm_border *out,
                                  struct fw_error *err)
{
    const struct fw_field *shape = parts->items[at].field;
    out->number = at + 1;
    out->beyond = fw_alloc(shape->vertex_count, sizeof *out->beyond);
    if (!out->beyond)
        return fw_fail_memory(err);
    for (size_t r = 0; r < shape->ring_count; r++)
        for (size_t v = shape->ring_start[r]; v < shape->ring_start[r + 1]; v++)
            out->beyond[v] =
                part_beyond(parts, &shape->vertices[v],
                            &shape->vertices[next_in_ring(shape, r, v)]);
    return FW_OK;
}

static enum fw_status keep_whole(struct parting *parting,
                                 struct fw_farm_field *field,
                                 struct fw_error *err)
{
    struct fw_farm *farm = parting->reader->farm;
    const enum fw_status status =
        fw_array_reserve(&farm->wholes, &farm->whole_capacity,
                         farm->whole_count + 1, sizeof *farm->wholes, err);
    if (status)
        return status;
    if (field->grazed != field->shape)
        fw_field_free(field->grazed);
    farm->wholes[farm->whole_count++] = field->shape;
    field->shape = field->grazed = NULL;
    return FW_OK;
}

static enum fw_status tell(const struct parting *parting,
                           const struct fw_farm_field *part,
                           struct fw_error *err)
{
    if (!part->border.condition)
        return FW_OK;
    return fw_notes_add(
        parting->reader->notes, FW_LEVEL_NOTE, part->shape->name, err,
        "its grass is %s, and other grass lies beside it: in one break they "
        "clear what is leafy and hardly touch what is rank, so that it is "
        "fenced and grazed for itself",
        fw_forage_condition_words[part->border.condition]);
}

static enum fw_status tell_joined(const struct parting *parting,
                                  const struct fw_farm_field *field,
                                  double joined_m2, struct fw_error *err)
{
    return fw_notes_add(
        parting->reader->notes, FW_LEVEL_WARNING, field->shape->name, err,
        "%.0f m2 of grass of another condition are too small or too narrow to "
        "be fenced for themselves, or lie in the midst of other grass: there "
        "they clear what is leafy and hardly touch what is rank. Draw the zone "
        "up to the field's edge, or fence it by hand and leave it out",
        joined_m2);
}

/* Takes the parts' fields, and the whole one. */
static enum fw_status push_parts(struct parting *parting,
                                 struct fw_farm_field *field, int base,
                                 struct fw_kind_parts *parts,
                                 struct fw_error *err)
{
    struct fw_farm_border *borders = fw_alloc(parts->count, sizeof *borders);
    enum fw_status status = borders ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < parts->count; i++)
        status = find_border(parts, i, &borders[i], err);
    const struct fw_field *whole = field->shape;
    for (size_t i = 0; !status && i < parts->count; i++) {
        struct fw_farm_field own = {0};
        struct fw_kind_part *part = &parts->items[i];
        char name[name_room];
        name_part(parts, i, name);
        status = fw_farm__piece(field, part->field, name, &own, err);
        part->field = NULL;
        own.border = borders[i];
        own.border.whole = whole;
        borders[i].beyond = NULL;
        if (part->kind != base)
            own.border.condition = (enum fw_condition)part->kind;
        if (i == 0)
            own.excluded_m2 = field->excluded_m2;
        if (!status)
            status = tell(parting, &own, err);
        if (!status)
            status = push(parting, &own, err);
        fw_farm__field_release(&own);
    }
    for (size_t i = 0; borders && i < parts->count; i++)
        fw_free(borders[i].beyond);
    fw_free(borders);
    return status ? status : keep_whole(parting, field, err);
}

static enum fw_status split(struct parting *parting,
                            struct fw_farm_field *field, int base,
                            const struct zones *zones, struct fw_error *err)
{
    struct fw_crs *crs = NULL;
    struct fw_kind_parts parts = {0};
    const struct fw_kind_zones kinds = {.base = base,
                                        .zones = zones->items,
                                        .count = zones->count,
                                        .least_width_m = FW_MAP_PART_WIDTH_M};
    enum fw_status status = fw_crs_lend(field->crs, &crs, err);
    if (!status)
        status = fw_field_part(field->grazed, &kinds, crs, &parts, err);
    fw_crs_give_back(crs);
    if (status)
        return fw_fail_where(err, "%s: ", field->shape->name);
    if (parts.joined_m2 >= FW_LEAST_FIELD_M2)
        status = tell_joined(parting, field, parts.joined_m2, err);
    if (!status && parts.count > 1)
        status = push_parts(parting, field, base, &parts, err);
    else if (!status)
        status = push(parting, field, err);
    fw_kind_parts_release(&parts);
    return status;
}

/* Its keys are looked for by its name alone: others are told for whole fields,
 * before parts have names. */
static int base_of(const struct fw_farm__reader *reader, const char *name)
{
    const struct fw_farm__draft *draft = &reader->draft;
    size_t each = 0;
    for (size_t i = 0; !each && i < draft->each_count; i++)
        if (draft->each[i].field.at.given &&
            strcmp(draft->each[i].field.text, name) == 0)
            each = i + 1;
    return (int)fw_farm__condition(reader, each);
}

static enum fw_status one_field(struct parting *parting,
                                struct fw_farm_field *field,
                                struct fw_error *err)
{
    const int base = base_of(parting->reader, field->shape->name);
    struct zones zones = {0};
    enum fw_status status =
        find_zones(parting, field->grazed, base, &zones, err);
    if (!status)
        status = zones.differ ? split(parting, field, base, &zones, err)
                              : push(parting, field, err);
    zones_release(&zones);
    return status;
}

static enum fw_status run(struct parting *parting, struct fw_error *err)
{
    struct fw_farm *farm = parting->reader->farm;
    bool any = false;
    parting->near = fw_alloc(farm->feature_count, sizeof *parting->near);
    if (!parting->near)
        return fw_fail_memory(err);
    for (size_t i = 0; i < farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &farm->features[i];
        any |= feature->role == FW_ROLE_ZONE && feature->zone.condition > 0;
        parting->near[i] = fw_farm__near_feature(feature);
    }
    enum fw_status status = FW_OK;
    for (size_t i = 0; any && !status && i < farm->field_count; i++)
        status = one_field(parting, &farm->fields[i], err);
    if (status || !any)
        return status;
    for (size_t i = 0; i < farm->field_count; i++)
        fw_farm__field_release(&farm->fields[i]);
    fw_free(farm->fields);
    farm->fields = parting->fields;
    farm->field_count = parting->field_count;
    farm->field_capacity = parting->field_capacity;
    parting->fields = NULL;
    parting->field_count = 0;
    return FW_OK;
}

/* A boundary fence is that of the whole field, and the parts of `stockpile`
 * are told for themselves. */
enum fw_status fw_farm__conditions(struct fw_farm__reader *reader,
                                   struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    struct parting parting = {.reader = reader};
    if (request->winter || (request->fields_only && !request->every_field))
        return FW_OK;
    const enum fw_status status = run(&parting, err);
    for (size_t i = 0; i < parting.field_count; i++)
        fw_farm__field_release(&parting.fields[i]);
    fw_free(parting.fields);
    fw_free(parting.near);
    return status;
}
