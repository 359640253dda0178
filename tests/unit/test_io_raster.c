/* Rasters: which part is read, what counts as no data, what is refused. */
#include "geo_help.h"
#include "scratch.h"

#include "io/io.h"
#include <cpl_conv.h>
#include <gdal.h>
#include <ogr_srs_api.h>

static struct scratch scratch;

static int set_up(void **state)
{
    (void)state;
    scratch_make(&scratch);
    GDALAllRegister();
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    scratch_remove(scratch.path);
    return 0;
}

/* An invented raster: 40 by 30 cells of 10 m in UTM 32N about 9 east 51 north;
 * the cell's value is its column + 100 times its row. */
struct made {
    double turn_deg;
    double nodata; /* NaN: none is told */
    bool without_crs, without_place;
    int bands;
    int finer; /* cells of 10 m / finer */
};

static const char *make(const char *name, struct made made)
{
    const char *path = in_scratch(&scratch, name);
    const int finer = made.finer ? made.finer : 1;
    const int columns = 40 * finer, rows = 30 * finer;
    const int bands = made.bands ? made.bands : 1;
    GDALDatasetH data = GDALCreate(GDALGetDriverByName("GTiff"), path, columns,
                                   rows, bands, GDT_Float64, NULL);
    assert_non_null(data);
    const double c = cos(made.turn_deg * PI / 180) * 10 / finer;
    const double s = sin(made.turn_deg * PI / 180) * 10 / finer;
    double affine[] = {499800, c, s, 5650150, s, -c};
    if (!made.without_place)
        GDALSetGeoTransform(data, affine);
    OGRSpatialReferenceH srs = OSRNewSpatialReference(NULL);
    OSRImportFromEPSG(srs, 32632);
    if (!made.without_crs)
        GDALSetSpatialRef(data, srs);
    OSRDestroySpatialReference(srs);
    double *values = calloc((size_t)columns, sizeof *values);
    for (int b = 1; b <= bands; b++) {
        GDALRasterBandH band = GDALGetRasterBand(data, b);
        if (!isnan(made.nodata))
            GDALSetRasterNoDataValue(band, made.nodata);
        for (int row = 0; row < rows; row++) {
            for (int i = 0; i < columns; i++)
                values[i] = i + 100 * row + 10000 * (b - 1);
            assert_int_equal(GDALRasterIO(band, GF_Write, 0, row, columns, 1,
                                          values, columns, 1, GDT_Float64, 0,
                                          0),
                             CE_None);
        }
    }
    free(values);
    GDALClose(data);
    return path;
}

/* Centres of cells of the file, as places. */
static void places_of(const struct made *made, const double cells[][2],
                      size_t count, struct fw_lonlat *out)
{
    struct fw_crs *crs = open_crs("EPSG:32632");
    const double c = cos(made->turn_deg * PI / 180) * 10;
    const double s = sin(made->turn_deg * PI / 180) * 10;
    for (size_t i = 0; i < count; i++) {
        const double u = cells[i][0] + 0.5, v = cells[i][1] + 0.5;
        const struct fw_xy at = {499800 + c * u + s * v,
                                 5650150 + s * u - c * v};
        assert_int_equal(fw_crs_to_lonlat(crs, &at, &out[i], 1, NULL, NULL),
                         FW_OK);
    }
    fw_crs_free(crs);
}

static struct fw_raster_file *opened(const struct fw_raster_request *request)
{
    struct fw_raster_file *file = NULL;
    struct fw_error err = {0};
    if (fw_raster_open(request, &file, NULL, &err))
        fail_msg("%s", err.text);
    return file;
}

/* Read the part under cells (8, 5) to (12, 9). */
static struct fw_grid read_part(const char *path, const struct made *made,
                                struct fw_raster_request request,
                                size_t *averaged)
{
    static const double cells[][2] = {{8, 5}, {12, 9}, {8, 9}};
    struct fw_lonlat places[3];
    struct fw_grid grid = {0};
    struct fw_error err = {0};
    request.source = path;
    struct fw_raster_file *file = opened(&request);
    struct fw_crs *crs = open_crs(fw_raster_crs(file));
    places_of(made, cells, 3, places);
    if (fw_raster_read(file, crs, places, 3, &grid, averaged, &err))
        fail_msg("%s", err.text);
    fw_raster_close(file);
    fw_crs_free(crs);
    return grid;
}

static void the_part_under_the_places_is_read_with_a_rim(void **state)
{
    (void)state;
    const double turns[] = {0, 25, -140};
    for (size_t n = 0; n < COUNT(turns); n++) {
        const struct made made = {.nodata = (double)NAN, .turn_deg = turns[n]};
        const char *path = make("part.tif", made);
        size_t averaged = 0;
        struct fw_grid grid =
            read_part(path, &made, (struct fw_raster_request){0}, &averaged);
        assert_int_equal(averaged, 1);
        assert_int_equal(grid.first_column, 6);
        assert_int_equal(grid.first_row, 3);
        assert_int_equal(grid.columns, 9);
        assert_int_equal(grid.rows, 9);
        for (size_t j = 0; j < 9; j++)
            for (size_t i = 0; i < 9; i++)
                assert_near(grid.values[j * 9 + i],
                            (double)(6 + i + 100 * (3 + j)), 0);
        assert_near(grid.affine[0],
                    499800 + 6 * grid.affine[1] + 3 * grid.affine[2], 1e-6);
        fw_grid_release(&grid);
    }
}

static void no_data_and_what_lies_beyond_the_file_are_nan(void **state)
{
    (void)state;
    const struct made made = {.nodata = 507};
    const char *path = make("nodata.tif", made);
    struct fw_grid grid =
        read_part(path, &made, (struct fw_raster_request){0}, NULL);
    for (size_t n = 0; n < 81; n++)
        assert_true(isnan(grid.values[n]) == (n == 2 * 9 + 1));
    fw_grid_release(&grid);

    const double cells[][2] = {{0, 0}, {2, 1}};
    struct fw_lonlat places[2];
    places_of(&made, cells, 2, places);
    struct fw_raster_file *file =
        opened(&(struct fw_raster_request){.source = path});
    struct fw_crs *crs = open_crs(fw_raster_crs(file));
    assert_int_equal(fw_raster_read(file, crs, places, 2, &grid, NULL, NULL),
                     FW_OK);
    assert_int_equal(grid.first_column, -2);
    assert_int_equal(grid.first_row, -2);
    for (size_t j = 0; j < grid.rows; j++)
        for (size_t i = 0; i < grid.columns; i++)
            assert_true(isnan(grid.values[j * grid.columns + i]) ==
                        (i < 2 || j < 2));
    fw_grid_release(&grid);
    fw_raster_close(file);
    fw_crs_free(crs);
}

static void scale_offset_and_band_are_heeded(void **state)
{
    (void)state;
    const struct made made = {.nodata = (double)NAN, .bands = 3};
    const char *path = make("bands.tif", made);
    struct fw_grid grid = read_part(
        path, &made,
        (struct fw_raster_request){.band = 2, .scale = 0.5, .offset = -7},
        NULL);
    assert_near(grid.values[0], 0.5 * (10000 + 306) - 7, 1e-9);
    fw_grid_release(&grid);
}

static void too_many_cells_are_averaged(void **state)
{
    (void)state;
    const struct made made = {.nodata = (double)NAN, .finer = 40};
    const struct made coarse = {.nodata = (double)NAN};
    const char *path = make("fine.tif", made);
    const double cells[][2] = {{3, 3}, {36, 26}}; /* of 10 m */
    struct fw_lonlat places[2];
    struct fw_grid grid = {0};
    size_t averaged = 0;
    places_of(&coarse, cells, 2, places);
    struct fw_raster_file *file =
        opened(&(struct fw_raster_request){.source = path});
    struct fw_crs *crs = open_crs(fw_raster_crs(file));
    assert_int_equal(
        fw_raster_read(file, crs, places, 2, &grid, &averaged, NULL), FW_OK);
    assert_int_equal(averaged, 2);
    assert_true(grid.columns * grid.rows <= FW_MOST_CELLS);
    /* The mean of a slope is its middle. */
    const double u = (double)grid.first_column + 2 * 50 + 0.5;
    const double v = (double)grid.first_row + 2 * 70 + 0.5;
    assert_near(grid.values[70 * grid.columns + 50], u + 100 * v, 1e-6);
    assert_near(grid.affine[1], 0.5, 1e-12);
    fw_grid_release(&grid);
    fw_raster_close(file);
    fw_crs_free(crs);
}

static void a_crs_that_is_told_goes_over_the_files(void **state)
{
    (void)state;
    const struct made made = {.nodata = (double)NAN, .without_crs = true};
    const char *path = make("bare.tif", made);
    struct fw_raster_file *file =
        opened(&(struct fw_raster_request){.source = path});
    assert_null(fw_raster_crs(file));
    fw_raster_close(file);
    file = opened(
        &(struct fw_raster_request){.source = path, .crs = "EPSG:32632"});
    assert_string_equal(fw_raster_crs(file), "EPSG:32632");
    fw_raster_close(file);
}

static void what_cannot_be_used_is_refused_with_its_reason(void **state)
{
    (void)state;
    const struct made many = {.nodata = (double)NAN, .bands = 3};
    const struct made nowhere = {.nodata = (double)NAN, .without_place = true};
    const char *text = in_scratch(&scratch, "text.tif");
    put_text(text, "this is no picture");
    const struct {
        const char *source;
        int band;
        const char *says;
    } rows[] = {
        {"", 0, "no raster is named"},
        {"nowhere/none.tif", 0, "no such file"},
        {scratch.path, 0, "is a folder"},
        {text, 0, "is not a raster"},
        {make("many.tif", many), 0, "has 3 bands"},
        {make("many.tif", many), 4, "has no band 4"},
        {make("nowhere.tif", nowhere), 0, "where it lies"},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct fw_raster_file *file = NULL;
        struct fw_error err = {0};
        const struct fw_raster_request request = {.source = rows[i].source,
                                                  .band = rows[i].band};
        assert_int_equal(fw_raster_open(&request, &file, NULL, &err),
                         FW_EINPUT);
        assert_null(file);
        if (!strstr(err.text, rows[i].says))
            fail_msg("%s", err.text);
    }
}

static void a_raster_elsewhere_does_not_reach_the_field(void **state)
{
    (void)state;
    const struct made made = {.nodata = (double)NAN};
    const char *path = make("far.tif", made);
    struct fw_raster_file *file =
        opened(&(struct fw_raster_request){.source = path});
    struct fw_crs *crs = open_crs(fw_raster_crs(file));
    const struct fw_lonlat places[] = {{9.1, 51.2}, {9.101, 51.201}};
    struct fw_grid grid = {0};
    struct fw_error err = {0};
    assert_int_equal(fw_raster_read(file, crs, places, 2, &grid, NULL, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "does not reach the field"));
    assert_null(grid.values);
    fw_raster_close(file);
    fw_crs_free(crs);
}

static void reading_leaves_no_trace(void **state)
{
    (void)state;
    const struct made made = {.nodata = (double)NAN};
    const char *path = make("trace.tif", made);
    char *before = listing(scratch.path);
    struct fw_grid grid =
        read_part(path, &made, (struct fw_raster_request){0}, NULL);
    char *after = listing(scratch.path);
    assert_string_equal(before, after);
    fw_grid_release(&grid);
    free(before);
    free(after);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_part_under_the_places_is_read_with_a_rim),
        cmocka_unit_test(no_data_and_what_lies_beyond_the_file_are_nan),
        cmocka_unit_test(scale_offset_and_band_are_heeded),
        cmocka_unit_test(too_many_cells_are_averaged),
        cmocka_unit_test(a_crs_that_is_told_goes_over_the_files),
        cmocka_unit_test(what_cannot_be_used_is_refused_with_its_reason),
        cmocka_unit_test(a_raster_elsewhere_does_not_reach_the_field),
        cmocka_unit_test(reading_leaves_no_trace),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
