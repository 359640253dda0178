/* Which layer, and where its coordinates count from. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/map.h"
#include "io/words.h"

#include <cpl_conv.h>
#include <ogr_srs_api.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

static bool has_polygons(OGRLayerH layer)
{
    const OGRwkbGeometryType type = OGR_GT_Flatten(OGR_L_GetGeomType(layer));
    return OGR_GT_IsSubClassOf(type, wkbSurface) ||
           OGR_GT_IsSubClassOf(type, wkbMultiSurface);
}

static bool has_shapes(OGRLayerH layer)
{
    return OGR_FD_GetGeomFieldCount(OGR_L_GetLayerDefn(layer)) > 0;
}

static bool may_be_of_any_type(OGRLayerH layer)
{
    const OGRwkbGeometryType type = OGR_GT_Flatten(OGR_L_GetGeomType(layer));
    return has_shapes(layer) &&
           (type == wkbUnknown || type == wkbGeometryCollection);
}

static void list_layers(GDALDatasetH data, bool (*wanted)(OGRLayerH),
                        char *room, size_t size)
{
    struct fw_text text = {0};
    const int count = GDALDatasetGetLayerCount(data);
    for (int i = 0; i < count; i++) {
        OGRLayerH layer = GDALDatasetGetLayer(data, i);
        if (layer && wanted(layer))
            fw_text_addf(&text, "%s%s", text.length ? ", " : "",
                         OGR_L_GetName(layer));
    }
    fw_io__one_line(room, size, text.length ? text.bytes : "none");
    fw_text_release(&text);
}

static bool any_layer(OGRLayerH layer)
{
    (void)layer;
    return true;
}

static enum fw_status no_such_layer(GDALDatasetH data,
                                    const struct fw_map_request *request,
                                    struct fw_error *err)
{
    const char *names[64];
    size_t count = 0;
    for (int i = 0; i < GDALDatasetGetLayerCount(data) && count < 64; i++)
        names[count++] = OGR_L_GetName(GDALDatasetGetLayer(data, i));
    const char *near = fw_text_nearest(request->layer, names, count);
    if (near)
        return fw_fail(err, FW_EINPUT,
                       "%s: has no layer \"%s\"; did you mean \"%s\"?",
                       request->source, request->layer, near);
    char list[600];
    list_layers(data, any_layer, list, sizeof list);
    return fw_fail(err, FW_EINPUT, "%s: has no layer \"%s\"; its layers are %s",
                   request->source, request->layer, list);
}

static OGRLayerH layer_by_name(GDALDatasetH data, const char *name)
{
    const int count = GDALDatasetGetLayerCount(data);
    OGRLayerH loosely = NULL;
    for (int i = 0; i < count; i++) {
        OGRLayerH layer = GDALDatasetGetLayer(data, i);
        if (!strcmp(OGR_L_GetName(layer), name))
            return layer;
        if (!loosely && !strcasecmp(OGR_L_GetName(layer), name))
            loosely = layer;
    }
    /* A database does not list all that it has. */
    return loosely ? loosely : GDALDatasetGetLayerByName(data, name);
}

/* FW_OK with *out NULL: no layer is of that sort. */
static enum fw_status only_one(GDALDatasetH data, const char *source,
                               bool (*wanted)(OGRLayerH), const char *what,
                               OGRLayerH *out, struct fw_error *err)
{
    const int count = GDALDatasetGetLayerCount(data);
    int found = 0;
    OGRLayerH last = NULL;
    for (int i = 0; i < count; i++) {
        OGRLayerH layer = GDALDatasetGetLayer(data, i);
        if (layer && wanted(layer)) {
            last = layer;
            found++;
        }
    }
    if (found <= 1) {
        *out = last;
        return FW_OK;
    }
    char list[600];
    list_layers(data, wanted, list, sizeof list);
    return fw_fail(err, FW_EINPUT,
                   "%s: has several layers%s; name the one that is meant: %s",
                   source, what, list);
}

/* A GPX file always has the same five layers, most of them empty. */
static OGRLayerH gpx_layer(GDALDatasetH data)
{
    static const char *const order[] = {"tracks", "routes", "waypoints"};
    for (size_t i = 0; i < 3; i++) {
        OGRLayerH layer = GDALDatasetGetLayerByName(data, order[i]);
        if (layer && OGR_L_GetFeatureCount(layer, TRUE) > 0)
            return layer;
    }
    return GDALDatasetGetLayerByName(data, "tracks");
}

static enum fw_status unnamed(const struct fw_io__opened *opened,
                              const char *source, OGRLayerH *out,
                              struct fw_error *err)
{
    if (!strcmp(opened->driver, "GPX")) {
        *out = gpx_layer(opened->data);
        return FW_OK;
    }
    static const struct {
        bool (*wanted)(OGRLayerH);
        const char *what;
    } rows[] = {{has_polygons, " with polygons"},
                {may_be_of_any_type, ""},
                {has_shapes, ""}};
    *out = NULL;
    for (size_t i = 0; i < 3 && !*out; i++) {
        enum fw_status status = only_one(opened->data, source, rows[i].wanted,
                                         rows[i].what, out, err);
        if (status)
            return status;
    }
    return FW_OK;
}

/* The OSM reader fills all its layers at once, and stops when those that
 * nobody reads have grown too long. */
static void want_only(GDALDatasetH data, OGRLayerH layer)
{
    char command[128];
    snprintf(command, sizeof command, "SET interest_layers = %s",
             OGR_L_GetName(layer));
    GDALDatasetReleaseResultSet(
        data, GDALDatasetExecuteSQL(data, command, NULL, NULL));
}

enum fw_status fw_io__layer(const struct fw_io__opened *opened,
                            const struct fw_map_request *request,
                            OGRLayerH *out, struct fw_error *err)
{
    if (GDALDatasetGetLayerCount(opened->data) > FW_IO__MOST_LAYERS)
        return fw_fail(err, FW_EINPUT, "%s: has over %d layers",
                       request->source, FW_IO__MOST_LAYERS);
    OGRLayerH layer = NULL;
    if (request->layer) {
        layer = layer_by_name(opened->data, request->layer);
        if (!layer)
            return no_such_layer(opened->data, request, err);
    } else {
        enum fw_status status = unnamed(opened, request->source, &layer, err);
        if (status)
            return status;
    }
    if (!layer || !has_shapes(layer))
        return fw_fail(err, FW_EINPUT,
                       "%s: %s%sholds no shapes, only a table; expected a map "
                       "of the fields",
                       request->source, layer ? OGR_L_GetName(layer) : "",
                       layer ? ": " : "");
    if (!strcmp(opened->driver, "OSM"))
        want_only(opened->data, layer);
    *out = layer;
    return FW_OK;
}

/* ---- where coordinates count from ---- */

/* What stands for "nobody knows" in GeoPackages and behind an empty .prj. A
 * system without a name may be as good as any: MapInfo's have none. */
static bool is_told(OGRSpatialReferenceH srs)
{
    const char *name = OSRGetName(srs);
    return !(name && !strncasecmp(name, "undefined", 9)) && !OSRIsLocal(srs);
}

static bool same_axes(OGRSpatialReferenceH a, OGRSpatialReferenceH b)
{
    int count_a = 0, count_b = 0;
    const int *axes_a = OSRGetDataAxisToSRSAxisMapping(a, &count_a);
    const int *axes_b = OSRGetDataAxisToSRSAxisMapping(b, &count_b);
    return count_a >= 2 && count_b >= 2 && axes_a[0] == axes_b[0] &&
           axes_a[1] == axes_b[1];
}

static enum fw_status wkt_of(OGRSpatialReferenceH srs, char **wkt,
                             struct fw_error *err)
{
    static const char *const options[] = {"FORMAT=WKT2_2019", NULL};
    char *text = NULL;
    if (OSRExportToWktEx(srs, &text, options) || !text || !*text) {
        CPLFree(text);
        return FW_OK;
    }
    *wkt = fw_strdup(text);
    CPLFree(text);
    return *wkt ? FW_OK : fw_fail_memory(err);
}

enum fw_status fw_io__crs(OGRLayerH layer, char **wkt, bool *swapped,
                          struct fw_error *err)
{
    *wkt = NULL;
    *swapped = false;
    OGRSpatialReferenceH srs = OGR_L_GetSpatialRef(layer);
    if (!srs || !is_told(srs))
        return FW_OK;
    OGRSpatialReferenceH east_first = OSRClone(srs);
    if (!east_first)
        return fw_fail_memory(err);
    OSRSetAxisMappingStrategy(east_first, OAMS_TRADITIONAL_GIS_ORDER);
    *swapped = !same_axes(srs, east_first);
    enum fw_status status = wkt_of(srs, wkt, err);
    OSRDestroySpatialReference(east_first);
    return status;
}
