/* Reading one layer of a map, whatever its format. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "crs/crs.h"
#include "io/dataset.h"
#include "io/map.h"
#include "io/map_volts.h"
#include "io/secret.h"
#include "io/words.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static void features_free(struct fw_feature *features, size_t count,
                          size_t columns)
{
    for (size_t i = 0; i < count; i++) {
        for (size_t v = 0; features[i].values && v < columns; v++)
            fw_free(features[i].values[v]);
        fw_free(features[i].values);
        fw_free(features[i].name);
        fw_shape_release(&features[i].shape);
    }
    fw_free(features);
}

void fw_map_free(struct fw_map *map)
{
    if (!map)
        return;
    features_free(map->features, map->feature_count,
                  map->column_count + map->volt_column_count);
    features_free(map->waypoints, map->waypoint_count, 0);
    for (size_t i = 0; i < map->volt_column_count; i++)
        fw_free(map->volt_columns[i]);
    fw_free(map->volt_columns);
    fw_free(map->source);
    fw_free(map->layer);
    fw_free(map->crs);
    fw_free(map->type_name);
    fw_free(map);
}

/* ---- columns ---- */

struct columns {
    int name; /* negative: there is none */
    int tags; /* of the OSM reader: "voltage"=>"110000" among others */
    int wanted[FW_MOST_COLUMNS + FW_IO__MOST_VOLTAGES];
    size_t wanted_count; /* by the request, then of voltages */
};

static int column(OGRFeatureDefnH layer, const char *name)
{
    const int count = OGR_FD_GetFieldCount(layer);
    for (int i = 0; i < count; i++)
        if (!strcasecmp(OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(layer, i)),
                        name))
            return i;
    return -1;
}

static int usual_name(OGRFeatureDefnH layer)
{
    static const char *const usual[] = {
        "name",       "field",     "field_name", "fieldname", "label",
        "title",      "parcel",    "plot",       "block",     "field_id",
        "identifier", "reference", "text",
    };
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        const int found = column(layer, usual[i]);
        if (found >= 0)
            return found;
    }
    return -1;
}

static enum fw_status no_such_column(OGRFeatureDefnH layer,
                                     const struct fw_map_request *request,
                                     const char *wanted, struct fw_error *err)
{
    const char *names[256];
    size_t count = 0;
    struct fw_text text = {0};
    for (int i = 0; i < OGR_FD_GetFieldCount(layer) && count < 256; i++) {
        names[count] = OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(layer, i));
        fw_text_addf(&text, "%s%s", count ? ", " : "", names[count]);
        count++;
    }
    char list[400];
    fw_io__one_line(list, sizeof list, text.length ? text.bytes : "none");
    fw_text_release(&text);
    const char *near = fw_text_nearest(wanted, names, count);
    if (near)
        return fw_fail(err, FW_EINPUT,
                       "%s: has no column \"%s\"; did you mean \"%s\"?",
                       request->source, wanted, near);
    return fw_fail(err, FW_EINPUT,
                   "%s: has no column \"%s\"; its columns are %s",
                   request->source, wanted, list);
}

static void find_voltages(OGRFeatureDefnH layer, struct columns *out)
{
    const size_t most = out->wanted_count + FW_IO__MOST_VOLTAGES;
    out->tags = column(layer, "other_tags");
    if (out->tags >= 0)
        out->wanted[out->wanted_count++] = out->tags;
    for (int i = 0; i < OGR_FD_GetFieldCount(layer); i++)
        if (out->wanted_count < most && fw_io__is_of_voltage(OGR_Fld_GetNameRef(
                                            OGR_FD_GetFieldDefn(layer, i))))
            out->wanted[out->wanted_count++] = i;
}

static enum fw_status find_columns(OGRLayerH layer,
                                   const struct fw_map_request *request,
                                   struct columns *out, struct fw_error *err)
{
    OGRFeatureDefnH definition = OGR_L_GetLayerDefn(layer);
    out->tags = -1;
    for (size_t i = 0; i < request->column_count; i++) {
        out->wanted[i] = column(definition, request->columns[i]);
        if (out->wanted[i] < 0 && request->columns_must_exist)
            return no_such_column(definition, request, request->columns[i],
                                  err);
    }
    out->wanted_count = request->column_count;
    if (request->voltages)
        find_voltages(definition, out);
    if (!request->name_column) {
        out->name = usual_name(definition);
        return FW_OK;
    }
    out->name = column(definition, request->name_column);
    return out->name < 0
               ? no_such_column(definition, request, request->name_column, err)
               : FW_OK;
}

static bool is_needed(const struct columns *columns, int index)
{
    for (size_t i = 0; i < columns->wanted_count; i++)
        if (columns->wanted[i] == index)
            return true;
    return index == columns->name;
}

/* Most of the time of reading a register goes into columns nobody looks at. */
static void pass_over_others(OGRLayerH layer, const struct columns *columns)
{
    if (!OGR_L_TestCapability(layer, OLCIgnoreFields))
        return;
    OGRFeatureDefnH definition = OGR_L_GetLayerDefn(layer);
    const int count = OGR_FD_GetFieldCount(definition);
    const char **ignored = fw_alloc((size_t)count + 1, sizeof *ignored);
    if (!ignored)
        return; /* slower, and as right */
    size_t kept = 0;
    for (int i = 0; i < count; i++)
        if (!is_needed(columns, i))
            ignored[kept++] =
                OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(definition, i));
    OGR_L_SetIgnoredFields(layer, ignored);
    fw_free(ignored);
}

static const char *text_of(OGRFeatureH feature, int index)
{
    if (index < 0 || !OGR_F_IsFieldSetAndNotNull(feature, index))
        return NULL;
    return OGR_F_GetFieldAsString(feature, index);
}

/* ---- features ---- */

/* Each part of a feature has what the feature has. */
static enum fw_status take_values(OGRFeatureH feature,
                                  const struct columns *columns,
                                  struct fw_feature *part, struct fw_error *err)
{
    if (columns->wanted_count == 0)
        return FW_OK;
    part->values = fw_alloc(columns->wanted_count, sizeof *part->values);
    if (!part->values)
        return fw_fail_memory(err);
    for (size_t i = 0; i < columns->wanted_count; i++) {
        char clean[FW_IO__MOST_VALUE + 1] = "", tagged[FW_IO__MOST_NAME + 1];
        const char *text = text_of(feature, columns->wanted[i]);
        if (text && columns->wanted[i] == columns->tags) {
            fw_io__tags_of_voltage(text, tagged, sizeof tagged);
            text = tagged;
        }
        if (text)
            fw_io__one_line(clean, sizeof clean, text);
        if (!*clean)
            continue;
        part->values[i] = fw_strdup(clean);
        if (!part->values[i])
            return fw_fail_memory(err);
    }
    return FW_OK;
}

static enum fw_status take_features(OGRLayerH layer,
                                    const struct columns *columns,
                                    struct fw_io__taker *taker,
                                    struct fw_io__clock *clock,
                                    struct fw_error *err)
{
    const struct fw_io__session *session = clock->session;
    OGR_L_ResetReading(layer);
    enum fw_status status = FW_OK;
    OGRFeatureH feature = NULL;
    for (size_t row = 1; !status; row++) {
        fw_io__row_came(clock);
        feature = OGR_L_GetNextFeature(layer);
        if (session->failures)
            status = fw_fail(err, FW_EINPUT, "feature %zu: %s", row,
                             session->failure);
        if (status || !feature)
            break;
        const struct fw_feature part = {
            .fid = OGR_F_GetFID(feature),
            .row = row,
        };
        char name[FW_IO__MOST_NAME + 1] = "";
        const char *text = text_of(feature, columns->name);
        if (text)
            fw_io__one_line(name, sizeof name, text);
        struct fw_map *map = taker->map;
        size_t taken = map->feature_count;
        status = fw_io__take(taker, OGR_F_GetGeometryRef(feature), &part,
                             *name ? name : NULL, err);
        for (; !status && taken < map->feature_count; taken++)
            status = take_values(feature, columns, &map->features[taken], err);
        if (status)
            fw_fail_where(err, "feature %zu (FID %lld): ", row, part.fid);
        OGR_F_Destroy(feature);
        feature = NULL;
    }
    if (feature)
        OGR_F_Destroy(feature);
    return status;
}

/* Waypoints are read as a map of their own, and its features then moved. */
static enum fw_status take_waypoints(GDALDatasetH data, struct fw_map *map,
                                     struct fw_io__clock *clock,
                                     struct fw_error *err)
{
    OGRLayerH layer = GDALDatasetGetLayerByName(data, "waypoints");
    if (!layer)
        return FW_OK;
    struct fw_map points = {0};
    const struct columns columns = {
        .name = column(OGR_L_GetLayerDefn(layer), "name"),
        .tags = -1,
    };
    struct fw_io__taker taker = {.map = &points, .source = map->source};
    enum fw_status status = take_features(layer, &columns, &taker, clock, err);
    if (status) {
        features_free(points.features, points.feature_count, 0);
        return status;
    }
    map->waypoints = points.features;
    map->waypoint_count = points.feature_count;
    map->waypoint_capacity = points.feature_capacity;
    return FW_OK;
}

static enum fw_status keep_words(struct fw_map *map, OGRLayerH layer,
                                 const struct fw_map_request *request,
                                 bool *swapped, struct fw_error *err)
{
    char *wkt;
    enum fw_status status = fw_io__crs(layer, &wkt, swapped, err);
    if (status)
        return status;
    char name[FW_IO__MOST_NAME + 1];
    fw_io__one_line(name, sizeof name, OGR_L_GetName(layer));
    map->layer = fw_strdup(name);
    map->type_name = fw_strdup(OGRGeometryTypeToName(OGR_L_GetGeomType(layer)));
    map->crs = wkt;
    if (request->crs) {
        fw_free(wkt);
        map->crs = fw_strdup(request->crs);
    }
    if (!map->layer || !map->type_name || (request->crs && !map->crs))
        return fw_fail_memory(err);
    return FW_OK;
}

static enum fw_status keep_volt_columns(struct fw_map *map, OGRLayerH layer,
                                        const struct columns *columns,
                                        struct fw_error *err)
{
    OGRFeatureDefnH definition = OGR_L_GetLayerDefn(layer);
    const size_t count = columns->wanted_count - map->column_count;
    if (count == 0)
        return FW_OK;
    map->volt_columns = fw_alloc(count, sizeof *map->volt_columns);
    if (!map->volt_columns)
        return fw_fail_memory(err);
    for (; map->volt_column_count < count; map->volt_column_count++) {
        const int index =
            columns->wanted[map->column_count + map->volt_column_count];
        char name[FW_IO__MOST_NAME + 1];
        fw_io__one_line(
            name, sizeof name,
            OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(definition, index)));
        char *kept = fw_strdup(name);
        if (!kept)
            return fw_fail_memory(err);
        map->volt_columns[map->volt_column_count] = kept;
    }
    return FW_OK;
}

static enum fw_status filter(OGRLayerH layer,
                             const struct fw_map_request *request,
                             const struct columns *columns,
                             const struct fw_io__session *session,
                             struct fw_error *err)
{
    if (!request->where) {
        pass_over_others(layer, columns);
        return FW_OK;
    }
    if (OGR_L_SetAttributeFilter(layer, request->where) || session->failures)
        return fw_io__bad_filter(layer, request, session, err);
    return FW_OK;
}

static enum fw_status pass_warnings_on(const struct fw_io__session *session,
                                       struct fw_notes *notes,
                                       const char *source, struct fw_error *err)
{
    for (size_t i = 0; i < session->warning_count; i++) {
        enum fw_status status = fw_notes_add(notes, FW_LEVEL_WARNING, source,
                                             err, "%s", session->warning[i]);
        if (status)
            return status;
    }
    return FW_OK;
}

/* What GDAL complained of while it opened the map is mostly a coordinate
 * system that it does not know; who names one needs the map's no more. */
static enum fw_status opened_well(const struct fw_map_request *request,
                                  struct fw_io__session *session,
                                  struct fw_notes *notes, struct fw_error *err)
{
    if (!session->failures)
        return FW_OK;
    if (fw_crs_ready(err))
        return FW_EFAULT;
    if (!request->crs)
        return fw_fail(err, FW_EINPUT,
                       "is not understood in full: %s; if it is the coordinate "
                       "system, name it yourself",
                       session->failure);
    enum fw_status status =
        fw_notes_add(notes, FW_LEVEL_WARNING, request->source, err,
                     "is not understood in full: %s", session->failure);
    session->failures = 0;
    return status;
}

static enum fw_status note_empty(const struct fw_map *map,
                                 struct fw_notes *notes, struct fw_error *err)
{
    if (map->feature_count || map->waypoint_count)
        return FW_OK;
    return fw_notes_add(notes, FW_LEVEL_WARNING, map->source, err,
                        "layer %s holds no features", map->layer);
}

static enum fw_status
read_layer(const struct fw_io__opened *opened, OGRLayerH layer,
           const struct fw_map_request *request, struct fw_io__session *session,
           struct fw_map *map, struct fw_notes *notes, struct fw_error *err)
{
    const bool gpx = !strcmp(opened->driver, "GPX");
    const char *name = OGR_L_GetName(layer);
    struct columns columns;
    struct fw_io__clock clock;
    enum fw_status status = find_columns(layer, request, &columns, err);
    if (status)
        return status; /* begins with the source already */
    struct fw_io__taker taker = {
        .map = map,
        .source = map->source,
        .close_lines = request->close_lines,
        .tracks = gpx && (!strcmp(name, "tracks") || !strcmp(name, "routes")),
        .notes = notes,
    };
    fw_io__watch(opened, session, &clock);
    status = keep_words(map, layer, request, &taker.swapped, err);
    if (!status)
        status = opened_well(request, session, notes, err);
    if (!status)
        status = keep_volt_columns(map, layer, &columns, err);
    if (!status)
        status = filter(layer, request, &columns, session, err);
    if (!status)
        status = take_features(layer, &columns, &taker, &clock, err);
    /* A database says so only when it is asked for the first one. */
    if (status && request->where && session->failures && !clock.late &&
        map->feature_count == 0)
        status = fw_io__bad_filter(layer, request, session, err);
    if (!status && gpx)
        status = take_waypoints(opened->data, map, &clock, err);
    if (!status)
        status = pass_warnings_on(session, notes, map->source, err);
    if (!status)
        status = note_empty(map, notes, err);
    return status ? fw_fail_where(err, "%s: ", request->source) : FW_OK;
}

static enum fw_status read_opened(const struct fw_io__opened *opened,
                                  const struct fw_map_request *request,
                                  struct fw_io__session *session,
                                  struct fw_map **out, struct fw_notes *notes,
                                  struct fw_error *err)
{
    OGRLayerH layer;
    enum fw_status status = fw_io__layer(opened, request, &layer, err);
    if (status)
        return status;
    struct fw_map *map = fw_alloc(1, sizeof *map);
    if (!map)
        return fw_fail_memory(err);
    map->source = fw_strdup(request->source);
    map->column_count = request->column_count;
    status = map->source
                 ? read_layer(opened, layer, request, session, map, notes, err)
                 : fw_fail_memory(err);
    if (status)
        fw_map_free(map);
    else
        *out = map;
    return status;
}

/* Open it by its source as it is; whatever is said tells it as it may be
 * shown. */
static enum fw_status read_source(const struct fw_map_request *request,
                                  const char *shown, struct fw_map **out,
                                  struct fw_notes *notes, struct fw_error *err)
{
    struct fw_map_request told = *request;
    told.source = shown;
    struct fw_io__address address;
    enum fw_status status = fw_io__address(request->source, &address, err);
    if (status)
        return status;
    struct fw_io__session session;
    fw_io__enter(&session, address.way);
    fw_io__keep_secret(&session, request->source);
    if (request->patience_s > 0)
        session.patience_s = request->patience_s;
    struct fw_io__opened opened = {0};
    status = fw_io__open(request->source, request->layer, &address, &session,
                         &opened, err);
    if (!status)
        status = read_opened(&opened, &told, &session, out, notes, err);
    if (!status)
        status = fw_io__add_dataset(request->inputs, opened.data,
                                    request->source, err);
    fw_io__close(&opened);
    fw_io__leave(&session);
    return status;
}

enum fw_status fw_map_read(const struct fw_map_request *request,
                           struct fw_map **out, struct fw_notes *notes,
                           struct fw_error *err)
{
    if (!request->source || !*request->source)
        return fw_fail(err, FW_EINPUT, "no map is named");
    if (request->column_count > FW_MOST_COLUMNS)
        return fw_fail(err, FW_EUSAGE, "%zu columns; expected at most %d",
                       request->column_count, FW_MOST_COLUMNS);
    char *shown = fw_source_shown(request->source);
    if (!shown)
        return fw_fail_memory(err);
    struct fw_map *map = NULL;
    const enum fw_status status = read_source(request, shown, &map, notes, err);
    fw_free(shown);
    if (status) {
        fw_map_free(map);
        if (err)
            fw_io__hide_secrets(request->source, err->text);
        return status;
    }
    *out = map;
    return FW_OK;
}
