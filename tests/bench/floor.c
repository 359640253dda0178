/* What GDAL and PROJ ask for a plan's work, without the plan: the libraries
 * loaded, a field read, its corners carried to WGS 84 and the tables of a plan
 * that is there already written again. tests/bench/ogr_ratio --instructions
 * counts it step by step, so that what reading the old plan costs comes off:
 *
 *     floor start
 *     floor read FIELD
 *     floor way FIELD
 *     floor gather FIELD PLAN.gpkg           its tables are read
 *     floor write FIELD PLAN.gpkg OUT.gpkg   and written again */
#include <cpl_conv.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>
#include <proj.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { most_tables = 32, most_features = 20000 };

struct table {
    OGRLayerH layer;
    OGRFeatureH features[most_features];
    int count;
};

static struct table tables[most_tables];
static int table_count;

static void stop(const char *what)
{
    fprintf(stderr, "floor: %s\n", what);
    exit(1);
}

static GDALDatasetH opened(const char *path)
{
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    if (!data)
        stop(path);
    return data;
}

static PJ *read_system(PJ_CONTEXT *context, OGRSpatialReferenceH srs)
{
    char *wkt = NULL;
    static const char *const options[] = {"FORMAT=WKT2_2019", NULL};
    if (OSRExportToWktEx(srs, &wkt, options))
        stop("no system");
    PJ *read = proj_create(context, wkt);
    CPLFree(wkt);
    return read;
}

/* As the program does: a context of its own, the ways sought, some points
 * carried there and back. */
static void carry(OGRSpatialReferenceH srs, OGRGeometryH ring)
{
    PJ_CONTEXT *context = proj_context_create();
    proj_context_set_enable_network(context, 0);
    PJ *from = read_system(context, srs);
    PJ *wgs84 = proj_create(context, "EPSG:4326");
    if (from && wgs84 &&
        !proj_is_equivalent_to_with_ctx(
            context, from, wgs84,
            PJ_COMP_EQUIVALENT_EXCEPT_AXIS_ORDER_GEOGCRS)) {
        PJ *raw =
            proj_create_crs_to_crs_from_pj(context, from, wgs84, NULL, NULL);
        PJ *way = proj_normalize_for_visualization(context, raw);
        for (int i = 0; i < OGR_G_GetPointCount(ring); i++) {
            PJ_COORD at =
                proj_coord(OGR_G_GetX(ring, i), OGR_G_GetY(ring, i), 0, 0);
            at = proj_trans(way, PJ_FWD, at);
            proj_trans(way, PJ_INV, at);
        }
        proj_destroy(way);
        proj_destroy(raw);
    }
    proj_destroy(wgs84);
    proj_destroy(from);
    proj_context_destroy(context);
}

static void gather(GDALDatasetH data)
{
    table_count = GDALDatasetGetLayerCount(data);
    if (table_count > most_tables)
        stop("too many tables");
    for (int i = 0; i < table_count; i++) {
        struct table *table = &tables[i];
        table->layer = GDALDatasetGetLayer(data, i);
        OGRFeatureH feature;
        while ((feature = OGR_L_GetNextFeature(table->layer))) {
            if (table->count == most_features)
                stop("too many rows");
            table->features[table->count++] = feature;
        }
    }
}

static void write_table(GDALDatasetH data, const struct table *table,
                        OGRSpatialReferenceH srs)
{
    OGRFeatureDefnH columns = OGR_L_GetLayerDefn(table->layer);
    char id[64];
    snprintf(id, sizeof id, "FID=%s", OGR_L_GetFIDColumn(table->layer));
    const char *const options[] = {"GEOMETRY_NAME=geom", id, "SPATIAL_INDEX=NO",
                                   NULL};
    OGRLayerH layer = GDALDatasetCreateLayer(
        data, OGR_L_GetName(table->layer), srs, OGR_L_GetGeomType(table->layer),
        (char **)options);
    for (int i = 0; i < OGR_FD_GetFieldCount(columns); i++)
        OGR_L_CreateField(layer, OGR_FD_GetFieldDefn(columns, i), FALSE);
    for (int i = 0; i < table->count; i++) {
        OGRFeatureH row = OGR_F_Create(OGR_L_GetLayerDefn(layer));
        OGR_F_SetFrom(row, table->features[i], TRUE);
        if (OGR_L_CreateFeature(layer, row))
            stop("a row");
        OGR_F_Destroy(row);
    }
}

/* In memory first, as the program does. */
static void write_all(const char *path, OGRSpatialReferenceH srs)
{
    static const char *const options[] = {"VERSION=1.3", NULL};
    const char *inside = "/vsimem/floor.gpkg";
    CPLSetConfigOption("GDAL_VALIDATE_CREATION_OPTIONS", "NO");
    GDALDatasetH data = GDALCreate(GDALGetDriverByName("GPKG"), inside, 0, 0, 0,
                                   GDT_Unknown, (char **)options);
    if (!data || GDALDatasetStartTransaction(data, FALSE))
        stop(path);
    for (int i = 0; i < table_count; i++)
        write_table(data, &tables[i], srs);
    GDALDatasetCommitTransaction(data);
    GDALClose(data);
    vsi_l_offset size = 0;
    const GByte *bytes = VSIGetMemFileBuffer(inside, &size, FALSE);
    FILE *out = fopen(path, "wb");
    if (!out || fwrite(bytes, 1, (size_t)size, out) != size || fclose(out))
        stop(path);
}

int main(int argc, char **argv)
{
    static const char *const steps[] = {"start", "read", "way", "gather",
                                        "write"};
    int step = 0;
    while (argc > 1 && step < 5 && strcmp(argv[1], steps[step]) != 0)
        step++;
    if (argc != (int[]){2, 3, 3, 4, 5, 0}[step])
        stop("start | read FIELD | way FIELD | gather FIELD PLAN.gpkg | write "
             "FIELD PLAN.gpkg OUT.gpkg");
    GDALAllRegister();
    if (step == 0)
        return 0;
    GDALDatasetH map = opened(argv[2]);
    OGRLayerH layer = GDALDatasetGetLayer(map, 0);
    OGRFeatureH field = OGR_L_GetNextFeature(layer);
    OGRSpatialReferenceH srs = OGR_L_GetSpatialRef(layer);
    if (step > 1)
        carry(srs, OGR_G_GetGeometryRef(OGR_F_GetGeometryRef(field), 0));
    if (step > 2)
        gather(opened(argv[3]));
    if (step > 3)
        write_all(argv[4], srs);
    return 0;
}
