/* What a GIS finds in plan.geojson and plan.gpkg: where a field came from, how
 * each layer is drawn, and a farm on the 180th meridian. GDAL is the judge. */
#include "farm_help.h"

#include "export/export.h"
#include "export/styles.h"
#include "make/make.h"
#include "plan/plan.h"
#include "report/reports.h"
#include "store/store.h"

#include <cpl_minixml.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <ogr_api.h>

/* 200 m by 200 m, some of it on either side. */
#define MERIDIAN_RING                                                          \
    "[[179.9988,-16.8],[-179.999,-16.8001],[-179.9991,-16.7983],"              \
    "[179.9989,-16.7982],[179.9988,-16.8]]"

static struct fw_plan *plan;
static GDALDatasetH geojson, gpkg;

static GDALDatasetH opened(const char *path, char *bytes, size_t count)
{
    VSILFILE *file = VSIFOpenL(path, "wb");
    assert_int_equal(VSIFWriteL(bytes, 1, count, file), count);
    VSIFCloseL(file);
    fw_bytes_free(bytes);
    GDALDatasetH data = GDALOpenEx(path, GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(data);
    return data;
}

static int set_up(void **state)
{
    struct fw_error err = {0};
    struct fw_table tables[FW_REPORT_LAYERS];
    char *bytes;
    size_t count;
    if (farm_set_up(state))
        return -1;
    GDALAllRegister();
    put_text("field.geojson",
             COLLECTION(
                 "{\"type\":\"Feature\",\"id\":41,\"properties\":"
                 "{\"name\":\"Headland\",\"parcel\":\"F-0012\","
                 "\"area_ha\":6.1},\"geometry\":" POLYGON(MERIDIAN_RING) "}"));
    struct fw_farm *farm = farm_of(
        "farm: Both\nstart: 2027-06-07\nstay: 1 day\n"
        "flock: {head: 140, weight: 62 kg, state: dry}\n"
        "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 75 %}\n"
        "fields: {source: field.geojson, copy: [parcel, area_ha], each: "
        "{field: Headland, gate: corner:4}}\n",
        false, &err);
    if (!farm || fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    fw_farm_free(farm);
    assert_int_equal(fw_report_geojson(plan, &bytes, &count, &err), FW_OK);
    geojson = opened("/vsimem/plan.geojson", bytes, count);
    assert_int_equal(fw_report_tables(plan, NULL, tables, &err), FW_OK);
    assert_int_equal(fw_gpkg_bytes(tables, FW_REPORT_LAYERS, plan->crs, 0,
                                   &bytes, &count, &err),
                     FW_OK);
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    gpkg = opened("/vsimem/plan.gpkg", bytes, count);
    return 0;
}

static int tear_down(void **state)
{
    GDALClose(geojson);
    GDALClose(gpkg);
    VSIUnlink("/vsimem/plan.geojson");
    VSIUnlink("/vsimem/plan.gpkg");
    fw_plan_free(plan);
    return farm_tear_down(state);
}

static const char *text_of(OGRFeatureH feature, const char *column)
{
    const int index = OGR_F_GetFieldIndex(feature, column);
    if (index < 0)
        fail_msg("no column %s", column);
    return OGR_F_GetFieldAsString(feature, index);
}

/* ---- the 180th meridian ---- */

/* Square degrees of a polygon or several, east longitudes throughout. */
static double area_of(OGRGeometryH geometry)
{
    double sum = 0;
    const bool polygon =
        OGR_GT_Flatten(OGR_G_GetGeometryType(geometry)) == wkbPolygon;
    if (!polygon) {
        for (int i = 0; i < OGR_G_GetGeometryCount(geometry); i++)
            sum += area_of(OGR_G_GetGeometryRef(geometry, i));
        return sum;
    }
    OGRGeometryH ring = OGR_G_GetGeometryRef(geometry, 0);
    const int count = OGR_G_GetPointCount(ring);
    for (int i = 0; i + 1 < count; i++) {
        const double x[] = {fmod(OGR_G_GetX(ring, i) + 360, 360) - 180,
                            fmod(OGR_G_GetX(ring, i + 1) + 360, 360) - 180};
        sum += x[0] * (OGR_G_GetY(ring, i + 1) + 16.8) -
               x[1] * (OGR_G_GetY(ring, i) + 16.8);
    }
    return sum / 2;
}

static void lies_on_one_side(OGRGeometryH geometry)
{
    OGREnvelope box;
    const int count = OGR_G_GetGeometryCount(geometry);
    const OGRwkbGeometryType type =
        OGR_GT_Flatten(OGR_G_GetGeometryType(geometry));
    if (OGR_GT_IsSubClassOf(type, wkbGeometryCollection)) {
        for (int i = 0; i < count; i++)
            lies_on_one_side(OGR_G_GetGeometryRef(geometry, i));
        return;
    }
    OGR_G_GetEnvelope(geometry, &box);
    assert_true(box.MinX >= -180 && box.MaxX <= 180);
    assert_true(box.MaxX - box.MinX < 0.01);
    assert_true(OGR_G_IsValid(geometry));
}

static void nothing_runs_round_the_earth(void **state)
{
    (void)state;
    OGRLayerH layer = GDALDatasetGetLayer(geojson, 0);
    double field = 0, paddocks = 0;
    size_t apart = 0, lines = 0;
    OGRFeatureH feature;
    while ((feature = OGR_L_GetNextFeature(layer))) {
        OGRGeometryH geometry = OGR_F_GetGeometryRef(feature);
        const char *kind = text_of(feature, "kind");
        if (geometry)
            lies_on_one_side(geometry);
        if (strcmp(kind, "field") == 0)
            field += area_of(geometry);
        if (strcmp(kind, "paddock") == 0) {
            paddocks += area_of(geometry);
            apart += OGR_G_GetGeometryCount(geometry) > 1;
        }
        lines += geometry && OGR_GT_Flatten(OGR_G_GetGeometryType(geometry)) ==
                                 wkbMultiLineString;
        OGR_F_Destroy(feature);
    }
    /* The ring's own by the shoelace formula: (-12, 0), (10, -1) and so on in
     * units of 1e-4 degrees from the meridian and 16.8 south. */
    assert_relative(field,
                    1e-8 / 2 *
                        (-12 * -1 - 10 * 0 + 10 * 17 - 9 * -1 + 9 * 18 -
                         -11 * 17 + -11 * 0 - -12 * 18),
                    1e-5);
    assert_relative(paddocks, field, 1e-5);
    assert_true(apart > 0);
    assert_true(lines > 0);
}

/* Each corner of the field is still the file's number. */
static void gpkg_keeps_the_numbers_of_the_file(void **state)
{
    (void)state;
    OGRLayerH layer = GDALDatasetGetLayerByName(gpkg, "fields");
    OGRFeatureH feature = OGR_L_GetNextFeature(layer);
    OGRGeometryH ring = OGR_G_GetGeometryRef(
        OGR_G_GetGeometryRef(OGR_F_GetGeometryRef(feature), 0), 0);
    static const double x[] = {179.9988, -179.999, -179.9991, 179.9989};
    for (size_t k = 0; k < 4; k++) {
        int met = 0;
        for (int i = 0; i < OGR_G_GetPointCount(ring); i++) {
            met += OGR_G_GetX(ring, i) == x[k];
            assert_true(fabs(OGR_G_GetX(ring, i)) > 179.99);
        }
        assert_true(met > 0);
    }
    OGR_F_Destroy(feature);
}

/* ---- back to the source ---- */

static void a_field_says_where_it_came_from(OGRFeatureH feature)
{
    assert_string_equal(text_of(feature, "source_layer"), "field");
    assert_string_equal(text_of(feature, "source_fid"), "41");
    assert_string_equal(text_of(feature, "parcel"), "F-0012");
    assert_string_equal(text_of(feature, "source_area_ha"), "6.1");
    assert_true(strtod(text_of(feature, "area_ha"), NULL) < 5);
}

static void fid_layer_and_columns_are_in_both_maps(void **state)
{
    (void)state;
    OGRLayerH layer = GDALDatasetGetLayerByName(gpkg, "fields");
    OGR_L_ResetReading(layer);
    OGRFeatureH feature = OGR_L_GetNextFeature(layer);
    a_field_says_where_it_came_from(feature);
    OGR_F_Destroy(feature);
    layer = GDALDatasetGetLayer(geojson, 0);
    OGR_L_SetAttributeFilter(layer, "kind = 'field'");
    feature = OGR_L_GetNextFeature(layer);
    a_field_says_where_it_came_from(feature);
    OGR_F_Destroy(feature);
    OGR_L_SetAttributeFilter(layer, NULL);
}

static void plan_json_keeps_them(void **state)
{
    (void)state;
    struct fw_error err = {0};
    struct fw_plan *again;
    char *bytes;
    size_t count;
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err),
                     FW_OK);
    put_text("plan.json", bytes);
    fw_bytes_free(bytes);
    if (fw_plan_json_read("plan.json", &again, NULL, &err))
        fail_msg("%s", err.text);
    const struct fw_origin *origin = &again->fields[0].origin;
    assert_int_equal(origin->fid, 41);
    assert_string_equal(origin->layer, "field");
    assert_int_equal(origin->copied_count, 2);
    assert_string_equal(origin->copied[0].column, "parcel");
    assert_string_equal(origin->copied[0].value, "F-0012");
    assert_string_equal(origin->copied[1].value, "6.1");
    fw_plan_free(again);
}

/* ---- styles ---- */

static const char *const roles[] = {"perimeter", "standing", "lane", "moved"};

static void each_role_has_a_stroke_of_its_own(void **state)
{
    (void)state;
    const char *strokes[4] = {NULL};
    for (size_t i = 0; i < 4; i++) {
        struct fw_column column = {"role", FW_COLUMN_TEXT};
        struct fw_value value = {.present = true, .text = (char *)roles[i]};
        const struct fw_row row = {.values = &value};
        const struct fw_table table = {.columns = &column, .column_count = 1};
        strokes[i] = fw_export__style_of(&table, FW_LAYER_FENCES, &row)->colour;
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(strokes[i], strokes[k]);
    }
    OGRLayerH layer = GDALDatasetGetLayer(geojson, 0);
    OGR_L_ResetReading(layer);
    OGRFeatureH feature;
    size_t met = 0;
    while ((feature = OGR_L_GetNextFeature(layer))) {
        const char *role = text_of(feature, "role");
        for (size_t i = 0; i < 4; i++)
            if (strcmp(role, roles[i]) == 0) {
                assert_string_equal(text_of(feature, "stroke"), strokes[i]);
                met |= (size_t)1 << i;
            }
        OGR_F_Destroy(feature);
    }
    assert_true(met & 1 && met & 8);
}

static void check_document(OGRFeatureH style, const char *column)
{
    CPLXMLNode *root = CPLParseXMLString(text_of(style, column));
    if (!root)
        fail_msg("%s of %s is no XML", column, text_of(style, "styleName"));
    CPLDestroyXMLNode(root);
}

/* The columns are those of the table that QGIS 3 makes. */
static void every_layer_of_the_gpkg_has_a_style(void **state)
{
    (void)state;
    OGRLayerH styles = GDALDatasetGetLayerByName(gpkg, "layer_styles");
    assert_non_null(styles);
    assert_string_equal(OGR_L_GetFIDColumn(styles), "id");
    size_t count = 0, maps = 0;
    OGRFeatureH style;
    while ((style = OGR_L_GetNextFeature(styles))) {
        OGRLayerH of =
            GDALDatasetGetLayerByName(gpkg, text_of(style, "f_table_name"));
        assert_non_null(of);
        assert_string_equal(OGR_L_GetGeometryColumn(of),
                            text_of(style, "f_geometry_column"));
        assert_string_equal(text_of(style, "useAsDefault"), "1");
        check_document(style, "styleQML");
        check_document(style, "styleSLD");
        count++;
        OGR_F_Destroy(style);
    }
    for (int i = 0; i < GDALDatasetGetLayerCount(gpkg); i++)
        maps += OGR_L_GetGeomType(GDALDatasetGetLayer(gpkg, i)) != wkbNone;
    assert_int_equal(count, maps);
}

static void style_of_fences_knows_every_role(void **state)
{
    (void)state;
    OGRLayerH styles = GDALDatasetGetLayerByName(gpkg, "layer_styles");
    OGR_L_SetAttributeFilter(styles, "f_table_name = 'fences'");
    OGRFeatureH style = OGR_L_GetNextFeature(styles);
    CPLXMLNode *root = CPLParseXMLString(text_of(style, "styleQML"));
    CPLXMLNode *renderer = CPLGetXMLNode(root, "=qgis.renderer-v2");
    assert_string_equal(CPLGetXMLValue(renderer, "attr", ""), "role");
    const CPLXMLNode *category = CPLGetXMLNode(renderer, "categories")->psChild;
    const CPLXMLNode *symbol = CPLGetXMLNode(renderer, "symbols")->psChild;
    for (size_t i = 0; i < 4; i++) {
        unsigned r, g, b;
        char colour[40];
        assert_string_equal(CPLGetXMLValue(category, "value", ""), roles[i]);
        assert_string_equal(CPLGetXMLValue(category, "symbol", ""),
                            CPLGetXMLValue(symbol, "name", "none"));
        const struct fw_report_style *drawn = NULL;
        for (size_t k = 0; k < fw_export__style_count; k++)
            if (fw_export__styles[k].layer == FW_LAYER_FENCES &&
                strcmp(fw_export__styles[k].value, roles[i]) == 0)
                drawn = &fw_export__styles[k];
        assert_non_null(drawn);
        assert_int_equal(sscanf(drawn->colour, "#%2x%2x%2x", &r, &g, &b), 3);
        snprintf(colour, sizeof colour, "%u,%u,%u,255", r, g, b);
        assert_string_equal(CPLGetXMLValue(symbol, "layer.prop.v", ""), colour);
        category = category->psNext;
        symbol = symbol->psNext;
    }
    assert_null(category);
    assert_null(symbol);
    CPLDestroyXMLNode(root);
    OGR_F_Destroy(style);
    OGR_L_SetAttributeFilter(styles, NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_runs_round_the_earth),
        cmocka_unit_test(gpkg_keeps_the_numbers_of_the_file),
        cmocka_unit_test(fid_layer_and_columns_are_in_both_maps),
        cmocka_unit_test(plan_json_keeps_them),
        cmocka_unit_test(each_role_has_a_stroke_of_its_own),
        cmocka_unit_test(every_layer_of_the_gpkg_has_a_style),
        cmocka_unit_test(style_of_fences_knows_every_role),
    };
    return cmocka_run_group_tests_name("report_gis", tests, set_up, tear_down);
}
