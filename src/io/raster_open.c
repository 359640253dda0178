/* Opening a raster, and what must be known of it before it is read. */

/* GDAL's VSIStatBufL is a struct stat64, which glibc declares only then. */
#define _LARGEFILE64_SOURCE

#include "base/alloc.h"
#include "base/fail.h"
#include "io/inputs.h"
#include "io/map.h"
#include "io/raster.h"
#include "io/secret.h"

#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <math.h>
#include <ogr_srs_api.h>
#include <string.h>

/* See map_open.c: these read the files that people have. */
static const char *const raster_drivers[] = {
    "GTiff",          "VRT",     "HFA",     "AAIGrid", "EHdr",
    "ENVI",           "SRTMHGT", "DTED",    "GPKG",    "PNG",
    "JP2OpenJPEG",    "SAGA",    "USGSDEM", "XYZ",     "RST",
    "GRASSASCIIGrid", NULL,
};
static const char known[] =
    "GeoTIFF, ASCII grid, HGT, IMG, JPEG 2000, GeoPackage or VRT";

static enum fw_status look_at(const char *source, struct fw_error *err)
{
    VSIStatBufL info;
    if (VSIStatExL(source, &info,
                   VSI_STAT_EXISTS_FLAG | VSI_STAT_NATURE_FLAG |
                       VSI_STAT_SIZE_FLAG))
        return fw_fail(err, FW_EINPUT, "%s: no such file", source);
    if (VSI_ISDIR(info.st_mode))
        return fw_fail(err, FW_EINPUT,
                       "%s: is a folder; name the raster's file", source);
    if (!VSI_ISREG(info.st_mode))
        return fw_fail(err, FW_EINPUT,
                       "%s: is a pipe or a device; expected a file", source);
    if (info.st_size == 0)
        return fw_fail(err, FW_EINPUT, "%s: is empty", source);
    return FW_OK;
}

static enum fw_status open_data(struct fw_raster_file *file, const char *source,
                                struct fw_io__session *session,
                                struct fw_error *err)
{
    const bool address = fw_io__is_address(source);
    const enum fw_status status = address ? FW_OK : look_at(source, err);
    if (status)
        return status;
    fw_io__hush(session);
    file->data = GDALOpenEx(
        source, GDAL_OF_RASTER | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR,
        address ? NULL : raster_drivers, NULL, NULL);
    if (file->data)
        return FW_OK;
    return fw_fail(
        err, FW_EINPUT, "%s: is not a raster that can be read: %s; try %s",
        file->source, fw_io__said(session, "its kind is unknown"), known);
}

static enum fw_status pick_band(struct fw_raster_file *file, int band,
                                struct fw_error *err)
{
    const int count = GDALGetRasterCount(file->data);
    if (count == 0)
        return fw_fail(err, FW_EINPUT, "%s: has no bands", file->source);
    if (band == 0 && count > 1)
        return fw_fail(err, FW_EINPUT,
                       "%s: has %d bands; say which holds the values",
                       file->source, count);
    if (band < 0 || band > count)
        return fw_fail(err, FW_EINPUT, "%s: has no band %d; expected 1 to %d",
                       file->source, band, count);
    file->band = GDALGetRasterBand(file->data, band ? band : 1);
    return FW_OK;
}

static enum fw_status find_place(struct fw_raster_file *file,
                                 struct fw_error *err)
{
    file->columns = GDALGetRasterXSize(file->data);
    file->rows = GDALGetRasterYSize(file->data);
    if (GDALGetGeoTransform(file->data, file->affine) == CE_None &&
        GDALInvGeoTransform(file->affine, file->inverse))
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "%s: does not say where it lies on the map; expected a "
                   "raster with a place and a cell size, such as a GeoTIFF",
                   file->source);
}

/* What the band itself says about its numbers comes first. */
static void find_scale(struct fw_raster_file *file,
                       const struct fw_raster_request *request)
{
    int told = 0;
    const double scale = GDALGetRasterScale(file->band, &told);
    const double own_scale = told ? scale : 1;
    const double offset = GDALGetRasterOffset(file->band, &told);
    const double own_offset = told ? offset : 0;
    const double factor = request->scale != 0 ? request->scale : 1;
    file->scale = factor * own_scale;
    file->offset = factor * own_offset + request->offset;
}

static enum fw_status find_crs(struct fw_raster_file *file, const char *crs,
                               struct fw_error *err)
{
    char *text = NULL;
    static const char *const options[] = {"FORMAT=WKT2_2019", NULL};
    OGRSpatialReferenceH srs = GDALGetSpatialRef(file->data);
    if (!crs && srs && !OSRIsLocal(srs) &&
        OSRExportToWktEx(srs, &text, options) == OGRERR_NONE && *text)
        file->crs = fw_strdup(text);
    else if (crs)
        file->crs = fw_strdup(crs);
    const bool lost = !file->crs && (crs || (text && *text));
    CPLFree(text);
    return lost ? fw_fail_memory(err) : FW_OK;
}

static enum fw_status pass_warnings_on(const struct fw_raster_file *file,
                                       const struct fw_io__session *session,
                                       struct fw_notes *notes,
                                       struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < session->warning_count; i++)
        status = fw_notes_add(notes, FW_LEVEL_WARNING, file->source, err, "%s",
                              session->warning[i]);
    return status;
}

static enum fw_status find_all(struct fw_raster_file *file,
                               const struct fw_raster_request *request,
                               struct fw_io__session *session,
                               struct fw_notes *notes, struct fw_error *err)
{
    enum fw_status status = open_data(file, request->source, session, err);
    if (!status)
        status = pick_band(file, request->band, err);
    if (!status)
        status = find_place(file, err);
    if (!status)
        status = find_crs(file, request->crs, err);
    if (status)
        return status;
    find_scale(file, request);
    status =
        fw_io__add_dataset(request->inputs, file->data, request->source, err);
    if (status)
        return status;
    return pass_warnings_on(file, session, notes, err);
}

enum fw_status fw_raster_open(const struct fw_raster_request *request,
                              struct fw_raster_file **out,
                              struct fw_notes *notes, struct fw_error *err)
{
    if (!request->source || !*request->source)
        return fw_fail(err, FW_EINPUT, "no raster is named");
    struct fw_raster_file *file = fw_alloc(1, sizeof *file);
    if (!file)
        return fw_fail_memory(err);
    file->source = fw_source_shown(request->source);
    file->secret = fw_strdup(request->source);
    file->offline = !fw_io__is_address(request->source) &&
                    strncmp(request->source, "/vsi", 4) != 0;
    enum fw_status status =
        file->source && file->secret ? FW_OK : fw_fail_memory(err);
    if (!status) {
        struct fw_io__session session;
        fw_io__enter(&session, file->offline);
        fw_io__keep_secret(&session, file->secret);
        status = find_all(file, request, &session, notes, err);
        fw_io__leave(&session);
    }
    if (status && err)
        fw_io__hide_secrets(request->source, err->text);
    if (status)
        fw_raster_close(file);
    else
        *out = file;
    return status;
}

void fw_raster_close(struct fw_raster_file *file)
{
    if (!file)
        return;
    if (file->data) {
        struct fw_io__session session;
        fw_io__enter(&session, file->offline);
        GDALClose(file->data);
        fw_io__leave(&session);
    }
    fw_free(file->source);
    fw_free(file->secret);
    fw_free(file->crs);
    fw_free(file);
}

const char *fw_raster_crs(const struct fw_raster_file *file)
{
    return file->crs;
}
