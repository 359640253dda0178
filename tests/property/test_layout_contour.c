/* Strips along the contour of fields of our own on ground whose heights are a
 * formula, and of real fields on real ground. */
#include "layout_fields.h"
#include "random_farm.h"
#include "slope.h"

#include "geo/herbage.h"

enum { fields_tried = 60, paddocks_wanted = 12 };

static struct fw_raster *heights_of(struct fw_raster_file *file,
                                    struct fw_crs *crs,
                                    const struct fw_field *field)
{
    struct fw_grid grid = {0};
    struct fw_raster *raster = NULL;
    const size_t count = field->ring_start[1];
    struct fw_lonlat *places = calloc(count, sizeof *places);
    struct fw_error err = {0};
    for (size_t i = 0; i < count; i++)
        places[i] = field->vertices[i].lonlat;
    if (fw_raster_read(file, crs, places, count, &grid, NULL, &err) ||
        fw_raster_new(&grid, crs, &field->plane, &raster, &err))
        fail_msg("%s", err.text);
    fw_grid_release(&grid);
    free(places);
    return raster;
}

struct tally {
    size_t fields, strips, layouts, bent;
};

static void judge(const struct fw_field *field, const struct fw_raster *heights,
                  struct tally *tally)
{
    struct fw_layout_list list = {0};
    char why[300] = "";
    const double target_m2 = field->area_m2 / (paddocks_wanted - 0.3);
    const struct fw_layout_request request = {.field = field,
                                              .heights = heights,
                                              .target = &target_m2,
                                              .target_count = 1,
                                              .last = FW_LAST_SHORT,
                                              .pattern = "contour"};
    tally->fields++;
    if (fw_layout_candidates(&request, &list, NULL))
        return;
    tally->strips++;
    tally->layouts += list.count;
    if (!all_are_true(&request, &list, why, sizeof why))
        fail_msg("%s", why);
    for (size_t i = 0; i < list.count; i++)
        for (size_t l = 0; l < list.items[i].line_count; l++) {
            size_t bends = list.items[i].lines[l].count - 2;
            assert_in_range(bends, 0, 4);
            tally->bent += bends > 0;
        }
    fw_layout_list_release(&list);
}

static void fields_of_our_own_on_a_slope_get_true_maps(void **state)
{
    (void)state;
    struct tally tally = {0};
    uint64_t seed = seeded(91);
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++) {
            struct fw_raster *heights = slope_about(own.fields[i], &seed);
            judge(own.fields[i], heights, &tally);
            fw_raster_free(heights);
        }
        release_fields(&own);
    }
    print_message("# %zu of %zu fields get strips along the contour: %zu "
                  "layouts, %zu bent lines\n",
                  tally.strips, tally.fields, tally.layouts, tally.bent);
    assert_true(tally.strips > tally.fields / 4 && tally.bent > 20);
}

static void real_fields_on_real_slopes_get_true_maps(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    char tif[4096];
    snprintf(tif, sizeof tif, "%s/dem/bayreuth_srtm3_4326.tif", data);
    struct fw_raster_file *file = NULL;
    struct fw_error err = {0};
    struct tally tally = {0};
    if (fw_raster_open(&(struct fw_raster_request){.source = tif}, &file, NULL,
                       &err))
        fail_msg("%s", err.text);
    struct fw_crs *crs = open_crs(fw_raster_crs(file));
    struct real_fields real =
        read_fields(data, chosen_maps[1].path, chosen_maps[1].layer, 0.8, 40);
    thin_out(&real, fields_tried);
    for (size_t i = 0; i < real.count; i++) {
        struct fw_raster *heights = heights_of(file, crs, real.fields[i]);
        judge(real.fields[i], heights, &tally);
        fw_raster_free(heights);
    }
    printf("# %zu of %zu fields get strips along the contour: %zu layouts, "
           "%zu bent lines\n",
           tally.strips, tally.fields, tally.layouts, tally.bent);
    assert_true(tally.strips > 0);
    release_fields(&real);
    fw_crs_free(crs);
    fw_raster_close(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_of_our_own_on_a_slope_get_true_maps),
        data_test(real_fields_on_real_slopes_get_true_maps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
