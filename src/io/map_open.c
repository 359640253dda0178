/* Finding the driver for a source, without leaving a trace beside it. */

/* GDAL's VSIStatBufL is a struct stat64, which glibc declares only then. */
#define _LARGEFILE64_SOURCE

#include "base/alloc.h"
#include "base/fail.h"
#include "io/map.h"
#include "io/words.h"

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <ctype.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>

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

bool fw_io__is_address(const char *source)
{
    size_t letters = 0;
    while (isalnum((unsigned char)source[letters]))
        letters++;
    if (letters < 2 || source[letters] != ':')
        return false;
    VSIStatBufL info;
    return VSIStatExL(source, &info, VSI_STAT_EXISTS_FLAG) != 0;
}

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

/* Databases and the network, asked for by their prefix: any driver may. */
static enum fw_status open_address(const char *source,
                                   struct fw_io__session *session,
                                   struct fw_io__opened *out,
                                   struct fw_error *err)
{
    out->data = GDALOpenEx(
        source, GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, NULL,
        NULL, NULL);
    if (!out->data)
        return fw_fail(err, FW_EINPUT, "%s: cannot be opened: %s", source,
                       fw_io__said(session, "nothing answers there"));
    out->driver = GDALGetDriverShortName(GDALGetDatasetDriver(out->data));
    return FW_OK;
}

static enum fw_status not_there(const char *source, struct fw_error *err)
{
    if (errno == EACCES)
        return fw_fail(err, FW_EINPUT, "%s: may not be read by you", source);
    return fw_fail(err, FW_EINPUT, "%s: no such file", source);
}

/* What a person can mend before GDAL is asked. */
static enum fw_status look_at(const char *source, bool *folder, bool *zip,
                              struct fw_error *err)
{
    VSIStatBufL info;
    errno = 0;
    if (VSIStatExL(source, &info,
                   VSI_STAT_EXISTS_FLAG | VSI_STAT_NATURE_FLAG |
                       VSI_STAT_SIZE_FLAG))
        return not_there(source, err);
    *folder = VSI_ISDIR(info.st_mode);
    if (*folder)
        return FW_OK;
    if (!VSI_ISREG(info.st_mode))
        return fw_fail(err, FW_EINPUT,
                       "%s: is a pipe or a device; expected a file", source);
    if (info.st_size == 0)
        return fw_fail(err, FW_EINPUT, "%s: is empty", source);
    if ((long long)info.st_size > FW_IO__MOST_BYTES)
        return fw_fail(err, FW_EINPUT,
                       "%s: is over 16 GiB; cut it to the land "
                       "that matters first",
                       source);
    errno = 0;
    VSILFILE *file = VSIFOpenL(source, "rb");
    if (!file)
        return not_there(source, err);
    char head[4] = {0};
    VSIFReadL(head, 1, sizeof head, file);
    VSIFCloseL(file);
    *zip = !memcmp(head, "PK\3\4", 4) && !fw_io__ends_with(source, ".kmz");
    return FW_OK;
}

enum fw_status fw_io__open(const char *source, const char *layer,
                           struct fw_io__session *session,
                           struct fw_io__opened *out, struct fw_error *err)
{
    if (fw_io__is_address(source))
        return open_address(source, session, out, err);
    bool folder = false, zip = false;
    enum fw_status status = look_at(source, &folder, &zip, err);
    if (status)
        return status;
    if (!zip)
        return open_path(source, source, folder, session, out, err);
    char *inner;
    status = fw_io__zip_inner(source, layer, &inner, err);
    if (status)
        return status;
    status = open_path(source, inner, fw_io__ends_with(inner, ".gdb"), session,
                       out, err);
    fw_free(inner);
    return status;
}
