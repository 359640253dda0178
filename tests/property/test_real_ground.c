/* A real raster in another system than the fields: the mass of each field over
 * it against every cell cut by GEOS into a hundred. Found through
 * FW_TEST_DATA, skipped without it. */
#include "unit/ground_help.h"

#include "crs/crs.h"
#include "io/io.h"

struct judge {
    struct fw_raster_file *file;
    struct fw_crs *crs;
    size_t fields, beyond;
    double worst, worst_even, worst_parts;
};

static struct fw_grid part_of(struct judge *judge, const struct fw_field *field)
{
    struct fw_grid grid = {0};
    const size_t count = field->ring_start[1];
    struct fw_lonlat *places = calloc(count, sizeof *places);
    for (size_t i = 0; i < count; i++)
        places[i] = field->vertices[i].lonlat;
    if (fw_raster_read(judge->file, judge->crs, places, count, &grid, NULL,
                       NULL))
        grid.columns = 0;
    free(places);
    return grid;
}

static struct fw_herbage *lay(struct judge *judge, const struct fw_field *field,
                              const struct fw_grid *grid)
{
    struct fw_raster *raster = NULL;
    struct fw_herbage *ground = NULL;
    struct fw_error err = {0};
    if (fw_raster_new(grid, judge->crs, &field->plane, &raster, &err) ||
        fw_herbage_cells(field, 0.1, raster, &ground, NULL, &err))
        fail_msg("%s: %s", field->name, err.text);
    return ground;
}

static double mass_of(const struct fw_herbage *ground,
                      const struct fw_field *field)
{
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    const double mass = fw_herbage_mass_kg(ground, points, field->ring_start,
                                           field->ring_count);
    free(points);
    return mass;
}

static double judged(const struct fw_field *field, const struct fw_grid *grid)
{
    double mass = 0;
    struct fw_point *ring = calloc(field->vertex_count, sizeof *ring);
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t start = field->ring_start[r];
        const size_t count = field->ring_start[r + 1] - start;
        for (size_t i = 0; i < count; i++)
            ring[i] = field->vertices[start + i].plane;
        const double part =
            judged_cells(field, grid, "EPSG:32631", 10, 0.1, ring, count);
        mass += r == 0 ? part : -part;
    }
    free(ring);
    return mass;
}

/* A cut at random makes two parts, which have all of the mass. */
static double parts_off(const struct fw_herbage *ground,
                        const struct fw_field *field, double all, double at)
{
    const size_t count = field->ring_start[1];
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    struct fw_sweep *sweep = NULL;
    struct fw_partition parts = {0};
    double behind = at * field->area_m2, position, length, mass = 0;
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    assert_true(count > 2);
    assert_int_equal(fw_sweep_new(points, field->ring_start, field->ring_count,
                                  &sweep, NULL),
                     FW_OK);
    fw_sweep_turn(sweep, 360 * at);
    fw_sweep_cut(sweep, &behind, 1, &position, &length);
    assert_int_equal(fw_sweep_build(sweep, &position, 1, &parts, NULL), FW_OK);
    struct fw_point *ring = calloc(parts.ring_vertex_count, sizeof *ring);
    for (size_t i = 0; i < parts.ring_vertex_count; i++)
        ring[i] = fw_sweep_point(sweep, &parts, parts.ring_vertices[i]);
    mass = fw_herbage_mass_kg(ground, ring, parts.ring_start, parts.ring_count);
    free(ring);
    free(points);
    fw_partition_release(&parts);
    fw_sweep_free(sweep);
    return fabs(mass - all) / all;
}

static void judge_field(struct judge *judge, const struct fw_field *field,
                        bool finely)
{
    struct fw_grid grid = part_of(judge, field);
    if (grid.columns == 0) {
        judge->beyond++;
        return;
    }
    for (size_t i = 0; i < grid.columns * grid.rows; i++)
        grid.values[i] = fmax(0, 0.05 + 0.3 * grid.values[i]);
    struct fw_herbage *ground = lay(judge, field, &grid);
    const double mass = mass_of(ground, field);
    if (finely)
        judge->worst =
            fmax(judge->worst, fabs(mass / judged(field, &grid) - 1));
    judge->worst_parts =
        fmax(judge->worst_parts, parts_off(ground, field, mass, 0.37));
    fw_herbage_free(ground);
    for (size_t i = 0; i < grid.columns * grid.rows; i++)
        grid.values[i] = 0.23;
    ground = lay(judge, field, &grid);
    judge->worst_even =
        fmax(judge->worst_even,
             fabs(mass_of(ground, field) / (0.23 * field->area_m2) - 1));
    fw_herbage_free(ground);
    fw_grid_release(&grid);
    judge->fields++;
}

static void masses_of_real_fields_over_a_real_raster(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    char tif[4096], gpkg[4096];
    snprintf(tif, sizeof tif, "%s/dem/waterland_ndvi_s2_utm31n.tif", data);
    snprintf(gpkg, sizeof gpkg, "%s/parcels/nl_waterland2020.gpkg", data);
    struct judge judge = {0};
    struct fw_map *map = NULL;
    struct fw_error err = {0};
    if (fw_raster_open(&(struct fw_raster_request){.source = tif}, &judge.file,
                       NULL, &err) ||
        fw_map_read(&(struct fw_map_request){.source = gpkg}, &map, NULL, &err))
        fail_msg("%s", err.text);
    judge.crs = open_crs(fw_raster_crs(judge.file));
    struct fw_crs *crs = open_crs(map->crs);
    for (size_t i = 0; i < map->feature_count; i += 3) {
        struct fw_feature *feature = &map->features[i];
        struct fw_field *field = NULL;
        if (feature->kind != FW_FEATURE_POLYGON ||
            fw_shape_repair(&feature->shape, "", NULL, NULL) ||
            fw_field_new(&feature->shape, "field", crs, &field, NULL))
            continue;
        judge_field(&judge, field, i % 240 == 0);
        fw_field_free(field);
    }
    printf("# %zu fields, %zu beyond the raster: worst %.2g against cells cut "
           "in 100, %.2g of an even one, %.2g in two parts\n",
           judge.fields, judge.beyond, judge.worst, judge.worst_even,
           judge.worst_parts);
    assert_true(judge.fields > 500);
    assert_true(judge.worst <= 1e-6);
    assert_true(judge.worst_even <= 1e-9);
    assert_true(judge.worst_parts <= 1e-9);
    fw_crs_free(crs);
    fw_crs_free(judge.crs);
    fw_map_free(map);
    fw_raster_close(judge.file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        data_test(masses_of_real_fields_over_a_real_raster),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
