/* The fields: each polygon of the field maps, repaired and taken into a plane
 * of its own. One coordinate system a map, not a field: making one costs
 * milliseconds, a field microseconds. */
#include "keys/schema.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/text.h"
#include "crs/crs.h"
#include "figures/mark.h"
#include "told/rings.h"
#include <stdio.h>
#include <string.h>

enum { label_room = FW_EFFORT(512) };

/* One map while its features are taken. */
struct intake {
    struct fw_farm__reader *reader;
    struct fw_map *map;
    const char *source; /* as written */
    struct fw_crs *crs;
};

/* "fields.geojson: feature 12 (FID 11, Long Bottom) part 2" */
static void write_label(const struct intake *in,
                        const struct fw_feature *feature, bool of_part,
                        char label[label_room])
{
    char name[FW_FARM__FEATURE], part[32] = "";
    if (of_part && feature->parts > 1)
        snprintf(part, sizeof part, " part %zu", feature->part);
    snprintf(label, label_room, "%.300s: %s%s", in->map->source,
             fw_farm__feature(feature->row, feature->fid, feature->name, name),
             part);
}

/* Without every_field the first bad feature ends the reading; with it each is
 * noted and counted. Running out of memory always ends it. */
static enum fw_status refuse(struct intake *in,
                             const struct fw_feature *feature, bool of_part,
                             struct fw_error *err)
{
    struct fw_farm__reader *reader = in->reader;
    if (err->status != FW_EINPUT)
        return err->status;
    char label[label_room];
    write_label(in, feature, of_part, label);
    struct fw_error said = *err;
    fw_fail(err, FW_EINPUT,
            "%s: %.400s; mend it in a GIS, or leave it out with fields.where "
            "(--where)",
            label, said.text);
    if (reader->bad_count++ == 0)
        reader->first_bad = *err;
    if (!reader->request->every_field)
        return FW_EINPUT;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, label, err, "%s",
                        said.text);
}

static enum fw_status not_polygon(const struct fw_feature *feature,
                                  struct fw_error *err)
{
    switch (feature->kind) {
    case FW_FEATURE_POINT:
        return fw_fail(err, FW_EINPUT, "is a point, not a polygon");
    case FW_FEATURE_LINE:
        return fw_fail(err, FW_EINPUT, "is a line, not a polygon");
    case FW_FEATURE_OTHER:
        return fw_fail(err, FW_EINPUT, "is %s, not a polygon",
                       feature->odd ? feature->odd : "another geometry");
    default:
        return fw_fail(err, FW_EINPUT, "is empty: it has no geometry");
    }
}

/* Asked only of a part that was refused, so its cost does not matter. */
static bool is_small(struct intake *in, const struct fw_shape *shape)
{
    const size_t count = shape->ring_count ? shape->ring_start[1] : 0;
    if (count < FW_PARTS(3))
        return true;
    struct fw_lonlat *ring = fw_alloc(count, sizeof *ring);
    bool small = false;
    if (ring &&
        !fw_crs_to_lonlat(in->crs, shape->points, ring, count, NULL, NULL)) {
        const double area_m2 = fw_geo_area_m2(ring, count);
        small = area_m2 < FW_LEAST_FIELD_M2 && area_m2 > -FW_LEAST_FIELD_M2;
    }
    fw_free(ring);
    return small;
}

static enum fw_status take_origin(const struct intake *in,
                                  const struct fw_feature *feature,
                                  struct fw_origin *out, struct fw_error *err)
{
    const struct fw_farm__words *copy = &in->reader->draft.copy;
    struct fw_copied copied[FW_MOST_COLUMNS];
    for (size_t i = 0; i < copy->count; i++)
        copied[i] = (struct fw_copied){
            .column = (char *)copy->names[i].text,
            .value = feature->values ? feature->values[i] : NULL,
        };
    const struct fw_origin seen = {
        .fid = feature->fid < 0 ? FW_NO_FID : (size_t)feature->fid,
        .layer = in->map->layer,
        .copied = copied,
        .copied_count = copy->count,
    };
    return fw_origin_copy(&seen, out, err);
}

static enum fw_status add_field(struct intake *in,
                                const struct fw_feature *feature,
                                struct fw_field *shape, struct fw_error *err)
{
    struct fw_farm *farm = in->reader->farm;
    struct fw_farm_field field = {
        .shape = shape,
        .grazed = shape,
        .crs_accuracy_m = fw_crs_accuracy_m(in->crs),
        .source = fw_strdup(in->source),
        .crs = fw_strdup(in->map->crs),
        .sides = fw_alloc(shape->corner_count, sizeof *field.sides),
    };
    enum fw_status status = FW_OK;
    if (!field.source || !field.crs || !field.sides)
        status = fw_fail_memory(err);
    if (!status)
        status = take_origin(in, feature, &field.origin, err);
    if (!status)
        status = fw_array_reserve(&farm->fields, &farm->field_capacity,
                                  farm->field_count + 1, sizeof field, err);
    if (status) {
        fw_field_free(shape);
        fw_free(field.source);
        fw_free(field.crs);
        fw_free(field.sides);
        fw_origin_release(&field.origin);
        return status;
    }
    farm->fields[farm->field_count++] = field;
    return FW_OK;
}

static enum fw_status take_part(struct intake *in, struct fw_feature *feature,
                                struct fw_error *err)
{
    char label[label_room], name[160];
    struct fw_farm__reader *reader = in->reader;
    if (feature->kind != FW_FEATURE_POLYGON) {
        not_polygon(feature, err);
        return refuse(in, feature, true, err);
    }
    if (feature->name)
        fw_text_clip(feature->name, name, sizeof name);
    else
        snprintf(name, sizeof name, "field %zu", feature->row);
    write_label(in, feature, true, label);
    struct fw_field *shape = NULL;
    enum fw_status status =
        fw_shape_repair(&feature->shape, label, reader->notes, err);
    reader->farm->turned_rings += feature->shape.turned_rings;
    reader->farm->repeated_points += feature->shape.repeated_points;
    if (!status)
        status = fw_field_new(&feature->shape, name, in->crs, &shape, err);
    if (!status)
        return add_field(in, feature, shape, err);
    if (status == FW_EINPUT && feature->parts > 1 &&
        is_small(in, &feature->shape))
        return fw_notes_add(reader->notes, FW_LEVEL_NOTE, label, err,
                            "left out: it has under %.0f m2",
                            FW_LEAST_FIELD_M2);
    return refuse(in, feature, true, err);
}

/* "Long Bottom part 2", once it is known that several parts are fields. The
 * number is that of the part in the map. */
static enum fw_status name_part(struct fw_farm_field *field, size_t part,
                                struct fw_error *err)
{
    char name[192];
    snprintf(name, sizeof name, "%s part %zu", field->shape->name, part);
    char *copy = fw_strdup(name);
    if (!copy)
        return fw_fail_memory(err);
    fw_free(field->shape->name);
    field->shape->name = copy;
    return FW_OK;
}

static enum fw_status name_parts(struct intake *in, const size_t *part_of,
                                 size_t first, struct fw_error *err)
{
    struct fw_farm *farm = in->reader->farm;
    enum fw_status status = FW_OK;
    if (farm->field_count - first < 2)
        return FW_OK;
    for (size_t i = first; !status && i < farm->field_count; i++)
        status = name_part(&farm->fields[i], part_of[i - first], err);
    return status;
}

/* All parts of one feature: features[0 .. count). */
static enum fw_status take_feature(struct intake *in,
                                   struct fw_feature *features, size_t count,
                                   struct fw_error *err)
{
    struct fw_farm *farm = in->reader->farm;
    const size_t first = farm->field_count;
    const size_t bad = in->reader->bad_count;
    if (count == 1)
        return take_part(in, features, err);
    size_t *part_of = fw_alloc(count, sizeof *part_of);
    enum fw_status status = part_of ? FW_OK : fw_fail_memory(err);
    for (size_t i = 0; !status && i < count; i++) {
        const size_t before = farm->field_count;
        status = take_part(in, &features[i], err);
        if (farm->field_count > before)
            part_of[before - first] = features[i].part;
    }
    if (!status)
        status = name_parts(in, part_of, first, err);
    fw_free(part_of);
    if (!status && farm->field_count == first && in->reader->bad_count == bad) {
        fw_fail(err, FW_EINPUT, "has no part of %.0f m2 or more",
                FW_LEAST_FIELD_M2);
        return refuse(in, features, false, err);
    }
    return status;
}

static enum fw_status take_features(struct intake *in, struct fw_error *err)
{
    struct fw_map *map = in->map;
    size_t next;
    for (size_t i = 0; i < map->feature_count; i = next) {
        for (next = i + 1; next < map->feature_count &&
                           map->features[next].row == map->features[i].row;)
            next++;
        const enum fw_status status =
            take_feature(in, &map->features[i], next - i, err);
        if (status)
            return status;
    }
    return FW_OK;
}

static enum fw_status keep_waypoints(struct intake *in, struct fw_error *err)
{
    struct fw_farm__reader *reader = in->reader;
    for (size_t i = 0; i < in->map->waypoint_count; i++) {
        const struct fw_feature *point = &in->map->waypoints[i];
        if (!point->name || point->shape.point_count == 0)
            continue;
        enum fw_status status = fw_array_reserve(
            &reader->waypoints, &reader->waypoint_capacity,
            reader->waypoint_count + 1, sizeof *reader->waypoints, err);
        char *name = status ? NULL : fw_strdup(point->name);
        if (!name)
            return status ? status : fw_fail_memory(err);
        reader->waypoints[reader->waypoint_count++] =
            (struct fw_farm__waypoint){
                .name = name,
                .lonlat = {point->shape.points[0].x, point->shape.points[0].y},
            };
    }
    return FW_OK;
}

static enum fw_status take_map(struct intake *in, struct fw_error *err)
{
    const struct fw_map *map = in->map;
    char say[FW_FARM_KEY_WORDS];
    if (map->feature_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "%s: holds no fields%s; expected polygons", map->source,
                       in->reader->draft.where.at.given
                           ? " that meet fields.where (--where)"
                           : "");
    if (!map->crs)
        return fw_fail(err, FW_EINPUT,
                       "%s: names no coordinate system; say which, such as %s",
                       map->source, fw_farm__tell("fields.crs", 0, say));
    enum fw_status status = fw_crs_lend(map->crs, &in->crs, err);
    if (status) {
        const struct fw_farm__text *told = &in->reader->draft.crs;
        if (told->at.given)
            return fw_farm__fail_at(in->reader, &told->at, "fields.crs", err);
        return fw_fail_where(err, "%s: ", map->source);
    }
    status = take_features(in, err);
    if (!status)
        status = keep_waypoints(in, err);
    fw_crs_give_back(in->crs);
    return status;
}

static const char *text_of(const struct fw_farm__text *told)
{
    return told->at.given ? told->text : NULL;
}

static enum fw_status read_map(struct fw_farm__reader *reader, const char *path,
                               const char *as_written, struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const char *columns[FW_MOST_COLUMNS];
    for (size_t i = 0; i < draft->copy.count; i++)
        columns[i] = draft->copy.names[i].text;
    const struct fw_map_request request = {
        .source = path,
        .layer = text_of(&draft->layer),
        .where = text_of(&draft->where),
        .name_column = text_of(&draft->name_column),
        .crs = text_of(&draft->crs),
        .close_lines = true,
        .inputs = &reader->farm->inputs,
        .columns = columns,
        .column_count = draft->copy.count,
        .columns_must_exist = true,
    };
    struct intake in = {.reader = reader, .source = as_written};
    enum fw_status status = fw_map_read(&request, &in.map, reader->notes, err);
    if (status)
        return status;
    status = take_map(&in, err);
    fw_map_free(in.map);
    return status;
}

static enum fw_status take_rings(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    struct intake in = {.reader = reader, .source = "rings"};
    enum fw_status status = fw_farm__map_of_rings(
        request->rings, request->rings_count, &in.map, err);
    if (status)
        return status;
    status = take_map(&in, err);
    fw_map_free(in.map);
    return status;
}

/* One of several maps that cannot be read is one more thing to note, when the
 * caller wants to hear of all. */
static enum fw_status read_one_of_many(struct fw_farm__reader *reader,
                                       const char *path, struct fw_error *err)
{
    char *shown = fw_source_shown(path);
    if (!shown)
        return fw_fail_memory(err);
    enum fw_status status = fw_farm__told_path(reader, path, &path, err);
    if (!status)
        status = read_map(reader, path, shown, err);
    fw_bytes_free(shown);
    const struct fw_farm_request *request = reader->request;
    if (status != FW_EINPUT || !request->every_field ||
        request->field_source_count < 2)
        return status;
    if (reader->bad_count++ == 0)
        reader->first_bad = *err;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, "", err, "%s",
                        err->text);
}

static enum fw_status read_all(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    const struct fw_farm__text *told = &reader->draft.source;
    const char *path;
    if (request->rings_count > 0)
        return take_rings(reader, err);
    if (request->field_source_count == 0 && !told->at.given) {
        if (request->farm_path)
            return fw_fail(err, FW_EINPUT,
                           "%s: fields.source is missing: it names the map "
                           "with the fields, such as \"fields: {%s}\"",
                           request->farm_path, fw_farm__example("fields"));
        return fw_fail(err, FW_EINPUT,
                       "no farm file and no map of fields; name one, such as "
                       "farm.yaml or fields.geojson");
    }
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < request->field_source_count; i++)
        status = read_one_of_many(reader, request->field_sources[i], err);
    if (request->field_source_count > 0)
        return status;
    status = fw_farm__source(reader, told, &path, err);
    return status ? status : read_map(reader, path, told->text, err);
}

enum fw_status fw_farm__fields(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    enum fw_status status = read_all(reader, err);
    if (status)
        return status;
    struct fw_farm *farm = reader->farm;
    if (farm->field_count == 0)
        return fw_fail(err, FW_EINPUT,
                       "no field can be used; the first of %zu reasons: %s",
                       reader->bad_count, reader->first_bad.text);
    farm->fields_source = fw_source_shown(request->rings_count ? "rings"
                                          : request->field_source_count
                                              ? request->field_sources[0]
                                              : reader->draft.source.text);
    return farm->fields_source ? FW_OK : fw_fail_memory(err);
}
