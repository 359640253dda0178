/* A GeoPackage, built in memory: GDAL's own writing to a disk says nothing
 * when the disk is full. The same tables give the same bytes, so the time that
 * the format wants is given, not taken. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/session.h"
#include <foldwright/date.h>
#include <foldwright/io.h>

#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <math.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

struct writer {
    struct fw_io__session session;
    char path[64]; /* in memory */
    GDALDatasetH data;
    OGRSpatialReferenceH srs;
};

static enum fw_status wrong(const struct writer *writer, struct fw_error *err)
{
    return fw_fail(err, FW_EOUTPUT, "GeoPackage: %s",
                   fw_io__said(&writer->session, "it cannot be built"));
}

/* ---- geometries ---- */

static OGRGeometryH line_of(const struct fw_xy *points, size_t count,
                            bool closed)
{
    OGRGeometryH line =
        OGR_G_CreateGeometry(closed ? wkbLinearRing : wkbLineString);
    if (count == 0)
        return line;
    OGR_G_SetPoints(line, (int)count, &points->x, sizeof *points, &points->y,
                    sizeof *points, NULL, 0);
    if (closed)
        OGR_G_AddPoint_2D(line, points[0].x, points[0].y);
    return line;
}

static OGRGeometryH polygon_of(const struct fw_row *row, size_t first,
                               size_t end)
{
    OGRGeometryH polygon = OGR_G_CreateGeometry(wkbPolygon);
    for (size_t r = first; r < end; r++)
        OGR_G_AddGeometryDirectly(
            polygon,
            line_of(row->points + row->ring_start[r],
                    row->ring_start[r + 1] - row->ring_start[r], true));
    return polygon;
}

/* Rows of one polygon need not list their pieces. */
static OGRGeometryH polygons_of(const struct fw_row *row, bool multi)
{
    const size_t whole[2] = {0, row->ring_count};
    const size_t pieces = row->piece_ring ? row->piece_count : 1;
    const size_t *piece_ring = row->piece_ring ? row->piece_ring : whole;
    if (!multi && pieces == 1)
        return polygon_of(row, piece_ring[0], piece_ring[1]);
    OGRGeometryH all = OGR_G_CreateGeometry(wkbMultiPolygon);
    for (size_t i = 0; i < pieces; i++)
        OGR_G_AddGeometryDirectly(
            all, polygon_of(row, piece_ring[i], piece_ring[i + 1]));
    return all;
}

static OGRGeometryH geometry_of(const struct fw_row *row, bool multi)
{
    switch (row->kind) {
    case FW_FEATURE_POINT: {
        OGRGeometryH point = OGR_G_CreateGeometry(wkbPoint);
        OGR_G_SetPoint_2D(point, 0, row->points[0].x, row->points[0].y);
        return point;
    }
    case FW_FEATURE_LINE:
        return line_of(row->points, row->point_count, false);
    case FW_FEATURE_POLYGON:
        return polygons_of(row, multi);
    default:
        return NULL;
    }
}

/* ---- columns and rows ---- */

static OGRwkbGeometryType layer_type(const struct fw_table *table)
{
    switch (table->geometry) {
    case FW_FEATURE_POINT:
        return wkbPoint;
    case FW_FEATURE_LINE:
        return wkbLineString;
    case FW_FEATURE_POLYGON:
        return table->multi ? wkbMultiPolygon : wkbPolygon;
    case FW_FEATURE_NONE:
        return wkbNone;
    default:
        return wkbUnknown;
    }
}

static OGRFieldType column_type(enum fw_column_type type)
{
    switch (type) {
    case FW_COLUMN_NUMBER:
        return OFTReal;
    case FW_COLUMN_WHOLE:
        return OFTInteger64;
    case FW_COLUMN_DATE:
        return OFTDate;
    default:
        return OFTString;
    }
}

static void set_date(OGRFeatureH feature, int column, int day)
{
    char text[FW_DATE_TEXT];
    int parts[3];
    if (sscanf(fw_date_write(day, text), "%d-%d-%d", &parts[0], &parts[1],
               &parts[2]) == 3)
        OGR_F_SetFieldDateTime(feature, column, parts[0], parts[1], parts[2], 0,
                               0, 0, 0);
}

static void set_value(OGRFeatureH feature, int column, enum fw_column_type type,
                      const struct fw_value *value)
{
    if (!value->present ||
        (type == FW_COLUMN_TEXT ? !value->text : !isfinite(value->number))) {
        OGR_F_SetFieldNull(feature, column);
        return;
    }
    switch (type) {
    case FW_COLUMN_TEXT:
        OGR_F_SetFieldString(feature, column, value->text);
        return;
    case FW_COLUMN_NUMBER:
        OGR_F_SetFieldDouble(feature, column, value->number);
        return;
    case FW_COLUMN_WHOLE:
        if (fabs(value->number) < 9e15)
            OGR_F_SetFieldInteger64(feature, column, (GIntBig)value->number);
        return;
    case FW_COLUMN_DATE:
        if (fabs(value->number) < 1e6)
            set_date(feature, column, (int)value->number);
        return;
    }
}

static bool write_row(OGRLayerH layer, const struct fw_table *table,
                      const struct fw_row *row)
{
    OGRFeatureH feature = OGR_F_Create(OGR_L_GetLayerDefn(layer));
    if (!feature)
        return false;
    for (size_t i = 0; i < table->column_count; i++)
        set_value(feature, (int)i, table->columns[i].type, &row->values[i]);
    OGRGeometryH geometry = geometry_of(row, table->multi);
    if (geometry)
        OGR_F_SetGeometryDirectly(feature, geometry);
    const bool done = OGR_L_CreateFeature(layer, feature) == OGRERR_NONE;
    OGR_F_Destroy(feature);
    return done;
}

static bool write_columns(OGRLayerH layer, const struct fw_table *table)
{
    bool done = true;
    for (size_t i = 0; i < table->column_count && done; i++) {
        OGRFieldDefnH column = OGR_Fld_Create(
            table->columns[i].name, column_type(table->columns[i].type));
        done = OGR_L_CreateField(layer, column, FALSE) == OGRERR_NONE;
        OGR_Fld_Destroy(column);
    }
    return done;
}

/* No spatial index: the largest plan has some 400,000 posts, of which a GIS
 * finds those in its window within a second by looking at all, while the index
 * costs more to write than all else that is in the file. */
static enum fw_status write_table(struct writer *writer,
                                  const struct fw_table *table,
                                  struct fw_error *err)
{
    char id[64];
    snprintf(id, sizeof id, "FID=%s", table->id ? table->id : "fid");
    const char *const options[] = {"GEOMETRY_NAME=" FW_GPKG_GEOMETRY, id,
                                   "SPATIAL_INDEX=NO", NULL};
    OGRLayerH layer =
        GDALDatasetCreateLayer(writer->data, table->name, writer->srs,
                               layer_type(table), (char **)options);
    if (!layer || !write_columns(layer, table))
        return wrong(writer, err);
    for (size_t i = 0; i < table->row_count; i++)
        if (!write_row(layer, table, &table->rows[i]))
            return wrong(writer, err);
    return FW_OK;
}

/* ---- the whole ---- */

/* A system that is written out and has a number is taken by its number where
 * that is the same: PROJ looks through all names of its table for the parts of
 * one that is written out. */
static void take_by_number(struct writer *writer)
{
    OGRSpatialReferenceH srs = writer->srs;
    const char *table = OSRGetAuthorityName(srs, NULL);
    const char *number = OSRGetAuthorityCode(srs, NULL);
    OGRSpatialReferenceH same = OSRNewSpatialReference(NULL);
    if (same && table && number && !strcmp(table, "EPSG") &&
        !OSRImportFromEPSGA(same, atoi(number)) && OSRIsSame(srs, same))
        OSRImportFromEPSG(srs, atoi(number));
    OSRDestroySpatialReference(same);
    fw_io__hush(&writer->session); /* there may be no such number */
}

static enum fw_status set_system(struct writer *writer, const char *crs,
                                 struct fw_error *err)
{
    /* GeoPackage knows longitude and latitude on WGS 84 by one name only. */
    const bool lonlat = !strcasecmp(crs, "OGC:CRS84");
    writer->srs = OSRNewSpatialReference(NULL);
    if (!writer->srs)
        return fw_fail_memory(err);
    if (OSRSetFromUserInput(writer->srs, lonlat ? "EPSG:4326" : crs))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is not a coordinate system; try \"EPSG:\" "
                       "and a number",
                       crs);
    take_by_number(writer);
    OSRSetAxisMappingStrategy(writer->srs, OAMS_TRADITIONAL_GIS_ORDER);
    return FW_OK;
}

static void set_time(struct writer *writer, long long epoch_s)
{
    const long long day_s = 86400;
    long long days = epoch_s / day_s, rest = epoch_s % day_s;
    if (rest < 0) {
        rest += day_s;
        days--;
    }
    char date[FW_DATE_TEXT], stamp[40];
    snprintf(stamp, sizeof stamp, "%sT%02d:%02d:%02dZ",
             fw_date_write((int)days, date), (int)(rest / 3600),
             (int)(rest / 60 % 60), (int)(rest % 60));
    fw_io__option(&writer->session, "OGR_CURRENT_DATE", stamp);
}

static enum fw_status build(struct writer *writer,
                            const struct fw_table *tables, size_t count,
                            struct fw_error *err)
{
    static const char *const options[] = {"VERSION=1.3", NULL};
    GDALDriverH driver = GDALGetDriverByName("GPKG");
    if (driver)
        writer->data = GDALCreate(driver, writer->path, 0, 0, 0, GDT_Unknown,
                                  (char **)options);
    if (!writer->data ||
        GDALDatasetStartTransaction(writer->data, FALSE) != OGRERR_NONE)
        return wrong(writer, err);
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < count && !status; i++)
        status = write_table(writer, &tables[i], err);
    if (!status && GDALDatasetCommitTransaction(writer->data) != OGRERR_NONE)
        status = wrong(writer, err);
    return status;
}

static enum fw_status take_bytes(struct writer *writer, char **bytes,
                                 size_t *size, struct fw_error *err)
{
    GDALClose(writer->data); /* only now is the file whole */
    writer->data = NULL;
    vsi_l_offset length = 0;
    const GByte *built = VSIGetMemFileBuffer(writer->path, &length, FALSE);
    if (writer->session.failures || !built)
        return wrong(writer, err);
    char *copy = fw_alloc((size_t)length + 1, 1);
    if (!copy)
        return fw_fail_memory(err);
    memcpy(copy, built, (size_t)length);
    *bytes = copy;
    *size = (size_t)length;
    return FW_OK;
}

enum fw_status fw_gpkg_bytes(const struct fw_table *tables, size_t count,
                             const char *crs, long long epoch_s, char **bytes,
                             size_t *size, struct fw_error *err)
{
    struct writer writer = {.data = NULL};
    /* Memory files are shared by the whole process; the address of this one
     * struct is nobody else's while it lives. */
    snprintf(writer.path, sizeof writer.path, "/vsimem/foldwright-%p.gpkg",
             (void *)&writer);
    fw_io__enter(&writer.session, FW_IO__FILE);
    set_time(&writer, epoch_s);
    /* Ours are right; checked, each costs a list of all that there are. */
    fw_io__option(&writer.session, "GDAL_VALIDATE_CREATION_OPTIONS", "NO");
    enum fw_status status = set_system(&writer, crs, err);
    if (!status)
        status = build(&writer, tables, count, err);
    if (!status)
        status = take_bytes(&writer, bytes, size, err);
    if (writer.data)
        GDALClose(writer.data);
    VSIUnlink(writer.path);
    if (writer.srs)
        OSRDestroySpatialReference(writer.srs);
    fw_io__leave(&writer.session);
    return status;
}

enum fw_status fw_gpkg_write(const char *path, const struct fw_table *tables,
                             size_t count, const char *crs, long long epoch_s,
                             unsigned *crc, size_t *size, struct fw_error *err)
{
    char *bytes = NULL;
    size_t length = 0;
    enum fw_status status =
        fw_gpkg_bytes(tables, count, crs, epoch_s, &bytes, &length, err);
    if (status)
        return fw_fail_where(err, "%s: ", path);
    status = fw_file_put(path, bytes, length, err);
    if (!status && crc)
        *crc = fw_file_crc32(bytes, length);
    if (!status && size)
        *size = length;
    fw_file_free(bytes);
    return status;
}
