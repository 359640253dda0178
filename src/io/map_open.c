/* Finding the driver for a source, without leaving a trace beside it. */

/* GDAL's VSIStatBufL is a struct stat64, which glibc declares only then. */
#define _LARGEFILE64_SOURCE

#include "base/alloc.h"
#include "base/fail.h"
#include "io/map.h"
#include "io/words.h"

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <stdio.h>
#include <string.h>

#define CONNECT_S "10" /* common practice, no source */

/* GDAL has 200 drivers. These read the files that people have; the others
 * would be asked about each file as well, and some of them go to the network
 * for what the file names. */
static const char *const file_drivers[] = {
    "GeoJSON", "GeoJSONSeq", "ESRIJSON",     "TopoJSON", "ESRI Shapefile",
    "GPKG",    "FlatGeobuf", "OpenFileGDB",  "LIBKML",   "KML",
    "GML",     "GPX",        "MapInfo File", "CSV",      "DXF",
    "OSM",     NULL,
};
static const char *const folder_drivers[] = {
    "ESRI Shapefile",
    "OpenFileGDB",
    "MapInfo File",
    NULL,
};
static const char known[] = "GeoJSON, shapefile, GeoPackage, GPX, KML, GML, "
                            "FlatGeobuf, file geodatabase, MapInfo, DXF, CSV "
                            "with WKT, OSM, or a zip of one of these";

static bool has_content(const char *path, const char *suffix)
{
    const size_t length = strlen(path) + strlen(suffix) + 1;
    char *beside = fw_alloc(length, 1);
    if (!beside)
        return true;
    snprintf(beside, length, "%s%s", path, suffix);
    VSIStatBufL info;
    const bool has =
        !VSIStatExL(beside, &info, VSI_STAT_EXISTS_FLAG | VSI_STAT_SIZE_FLAG) &&
        info.st_size > 0;
    fw_free(beside);
    return has;
}

/* A GeoPackage in write-ahead mode makes two files beside it even when it is
 * only read, unless it is said to be immutable. When somebody is at work on
 * it, what counts stands in those files, and must be read. */
static bool gpkg_at_rest(const char *path)
{
    return !has_content(path, "-wal") && !has_content(path, "-journal");
}

/* A driver that is given an option of another one complains, so each has a
 * list of its own. */
static const char *const *options_of(const char *driver, const char *path)
{
    static const char *const gpkg[] = {"IMMUTABLE=YES", NULL};
    static const char *const gml[] = {"WRITE_GFS=NO", "DOWNLOAD_SCHEMA=NO",
                                      NULL};
    static const char *const csv[] = {
        "GEOM_POSSIBLE_NAMES=WKT,geom,geometry,the_geom,wkt_geom,shape",
        "X_POSSIBLE_NAMES=lon,long,longitude,x,easting",
        "Y_POSSIBLE_NAMES=lat,latitude,y,northing", NULL};
    if (!strcmp(driver, "GPKG"))
        return gpkg_at_rest(path) ? gpkg : NULL;
    if (!strcmp(driver, "GML"))
        return gml;
    return strcmp(driver, "CSV") ? NULL : csv;
}

static enum fw_status not_a_map(const char *source, bool folder,
                                struct fw_error *err)
{
    if (folder)
        return fw_fail(err, FW_EINPUT,
                       "%s: is a folder without a shapefile or geodatabase in "
                       "it; name the map's file",
                       source);
    return fw_fail(err, FW_EINPUT, "%s: is not a map that can be read; try %s",
                   source, known);
}

/* A shapefile whose index was left behind is the commonest broken map. */
static enum fw_status not_readable(const char *source, const char *path,
                                   const struct fw_io__session *session,
                                   struct fw_error *err)
{
    VSIStatBufL info;
    const size_t length = strlen(path);
    char *index = fw_io__ends_with(path, ".shp") ? fw_strdup(path) : NULL;
    bool lost = false;
    if (index) {
        index[length - 1] += 'x' - 'p';
        lost = VSIStatExL(index, &info, VSI_STAT_EXISTS_FLAG) != 0;
        fw_free(index);
    }
    if (lost)
        return fw_fail(err, FW_EINPUT,
                       "%s: has no .shx file beside it; copy all the files of "
                       "the shapefile (.shp, .shx, .dbf, .prj)",
                       source);
    return fw_fail(err, FW_EINPUT, "%s: cannot be read: %s", source,
                   fw_io__said(session, "its content is broken"));
}

static enum fw_status open_path(const char *source, const char *path,
                                bool folder, struct fw_io__session *session,
                                struct fw_io__opened *out, struct fw_error *err)
{
    const char *const *drivers = folder ? folder_drivers : file_drivers;
    GDALDriverH driver =
        GDALIdentifyDriverEx(path, GDAL_OF_VECTOR, drivers, NULL);
    if (!driver)
        return not_a_map(source, folder, err);
    const char *name = GDALGetDriverShortName(driver);
    const char *const only[] = {name, NULL};
    fw_io__hush(session);
    out->data = GDALOpenEx(
        path, GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, only,
        options_of(name, path), NULL);
    out->driver = name;
    return out->data ? FW_OK : not_readable(source, path, session, err);
}

/* A port where nobody answers is not waited for, unless the person says so. */
static char *with_patience(const char *source, const char *driver)
{
    const char *more = "";
    if (!strcmp(driver, "PostgreSQL") && !strstr(source, "connect_timeout") &&
        !strstr(source, "://"))
        more = " connect_timeout=" CONNECT_S;
    else if (!strcmp(driver, "MySQL") && !strstr(source, "timeout="))
        more = ",timeout=" CONNECT_S;
    const size_t room = strlen(source) + strlen(more) + 1;
    char *text = fw_alloc(room, 1);
    if (text)
        snprintf(text, room, "%s%s", source, more);
    return text;
}

/* By its own driver alone: what it names is no source for another. */
static enum fw_status open_address(const char *source, const char *driver,
                                   struct fw_io__session *session,
                                   struct fw_io__opened *out,
                                   struct fw_error *err)
{
    const char *const only[] = {driver, NULL};
    if (!driver)
        return fw_fail(err, FW_EINPUT, "%s: holds rasters, not a map of fields",
                       source);
    if (!GDALGetDriverByName(driver))
        return fw_fail(err, FW_EINPUT,
                       "%s: this machine's GDAL has no driver %s", source,
                       driver);
    char *text = with_patience(source, driver);
    if (!text)
        return fw_fail_memory(err);
    fw_io__hush(session);
    out->data = GDALOpenEx(
        text, GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, only,
        NULL, NULL);
    fw_free(text);
    out->driver = driver;
    if (out->data)
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "%s: cannot be opened: %s", source,
                   fw_io__said(session, "nothing answers there"));
}

static bool is_zip(const char *path)
{
    char head[4] = {0};
    VSILFILE *file = VSIFOpenL(path, "rb");
    if (!file)
        return false;
    VSIFReadL(head, 1, sizeof head, file);
    VSIFCloseL(file);
    return !memcmp(head, "PK\3\4", 4) && !fw_io__ends_with(path, ".kmz");
}

/* Messages name the source; the path is the same, or where it was put. */
static enum fw_status open_file(const char *source, const char *path,
                                const char *layer,
                                struct fw_io__session *session,
                                struct fw_io__opened *out, struct fw_error *err)
{
    bool folder = false;
    char *inner;
    enum fw_status status = fw_io__look_at(source, path, &folder, err);
    if (status)
        return status;
    if (folder || !is_zip(path))
        return open_path(source, path, folder, session, out, err);
    status = fw_io__zip_inner(source, path, layer, &inner, err);
    if (status)
        return status;
    status = open_path(source, inner, fw_io__ends_with(inner, ".gdb"), session,
                       out, err);
    fw_free(inner);
    return status;
}

enum fw_status fw_io__open(const char *source, const char *layer,
                           const struct fw_io__address *address,
                           struct fw_io__session *session,
                           struct fw_io__opened *out, struct fw_error *err)
{
    enum fw_status status;
    switch (address->way) {
    case FW_IO__PAGE:
        status = fw_io__fetch(source, session, &out->fetched, err);
        return status
                   ? status
                   : open_file(source, out->fetched, layer, session, out, err);
    case FW_IO__SERVICE:
    case FW_IO__DATABASE:
    case FW_IO__TABLE:
        return open_address(source, address->map_driver, session, out, err);
    default:
        return open_file(source, source, layer, session, out, err);
    }
}

void fw_io__close(struct fw_io__opened *opened)
{
    if (opened->data)
        GDALClose(opened->data);
    fw_io__unfetch(opened->fetched);
}
