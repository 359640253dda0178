/* Opening a raster, and what must be known of it before it is read. */

#include "base/alloc.h"
#include "base/fail.h"
#include "io/dataset.h"
#include "io/map.h"
#include "io/raster.h"
#include "io/secret.h"

#include <cpl_conv.h>
#include <math.h>
#include <ogr_srs_api.h>

/* See map_open.c: these read the files that people have. */
static const char *const raster_drivers[] = {
    "GTiff",          "VRT",     "HFA",     "AAIGrid", "EHdr",
    "ENVI",           "SRTMHGT", "DTED",    "GPKG",    "PNG",
    "JP2OpenJPEG",    "SAGA",    "USGSDEM", "XYZ",     "RST",
    "GRASSASCIIGrid", NULL,
};
static const char known[] =
    "GeoTIFF, ASCII grid, HGT, IMG, JPEG 2000, GeoPackage or VRT";

static enum fw_status not_a_raster(const struct fw_raster_file *file,
                                   const struct fw_io__session *session,
                                   struct fw_error *err)
{
    return fw_fail(
        err, FW_EINPUT, "%s: is not a raster that can be read: %s; try %s",
        file->source, fw_io__said(session, "its kind is unknown"), known);
}

/* Overviews may be told inside a raster too, and are opened by any driver. */
static enum fw_status open_by(struct fw_raster_file *file, const char *path,
                              const char *driver,
                              struct fw_io__session *session,
                              struct fw_error *err)
{
    const char *const only[] = {driver, NULL};
    fw_io__hush(session);
    file->data = GDALOpenEx(
        path, GDAL_OF_RASTER | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, only,
        NULL, NULL);
    if (!file->data)
        return not_a_raster(file, session, err);
    if (GDALGetMetadataItem(file->data, "OVERVIEW_FILE", "OVERVIEWS"))
        return fw_fail(err, FW_EINPUT,
                       "%s: names another file for its overviews; copy it with "
                       "gdal_translate",
                       file->source);
    return FW_OK;
}

static enum fw_status open_file(struct fw_raster_file *file, const char *path,
                                struct fw_io__session *session,
                                struct fw_error *err)
{
    bool folder = false;
    enum fw_status status = fw_io__look_at(file->source, path, &folder, err);
    if (status)
        return status;
    if (folder)
        return fw_fail(err, FW_EINPUT,
                       "%s: is a folder; name the raster's file", file->source);
    GDALDriverH driver =
        GDALIdentifyDriverEx(path, GDAL_OF_RASTER, raster_drivers, NULL);
    if (!driver)
        return not_a_raster(file, session, err);
    const char *name = GDALGetDriverShortName(driver);
    status = fw_io__raster_is_plain(path, name, raster_drivers, err);
    return status ? status : open_by(file, path, name, session, err);
}

static enum fw_status open_data(struct fw_raster_file *file,
                                struct fw_io__session *session,
                                struct fw_error *err)
{
    enum fw_status status;
    switch (file->address.way) {
    case FW_IO__PAGE:
        status = fw_io__fetch(file->secret, session, &file->fetched, err);
        return status ? status : open_file(file, file->fetched, session, err);
    case FW_IO__FILE:
    case FW_IO__STORE:
        return open_file(file, file->secret, session, err);
    default:
        if (!file->address.raster_driver)
            return fw_fail(err, FW_EINPUT, "%s: holds no raster; try %s",
                           file->source, known);
        return open_by(file, file->secret, file->address.raster_driver, session,
                       err);
    }
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
    enum fw_status status = open_data(file, session, err);
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
    enum fw_status status =
        file->source && file->secret ? FW_OK : fw_fail_memory(err);
    if (!status)
        status = fw_io__address(request->source, &file->address, err);
    if (!status) {
        struct fw_io__session session;
        fw_io__enter(&session, file->address.way);
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
        fw_io__enter(&session, file->address.way);
        GDALClose(file->data);
        fw_io__leave(&session);
    }
    fw_io__unfetch(file->fetched);
    fw_free(file->source);
    fw_free(file->secret);
    fw_free(file->crs);
    fw_free(file);
}

const char *fw_raster_crs(const struct fw_raster_file *file)
{
    return file->crs;
}
