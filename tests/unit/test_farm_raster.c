/* Both sides of each limit on rasters: masses that are none, cells without
 * data, heights and steps that no ground has. Cells of 10 m, ten by eight,
 * which are the field to the edge. */
#include "forms_maps.h"

#include "forage/forage.h"

enum { columns = 10, rows = 8 };

#define FIELDS "fields: {source: field.geojson}\n"
#define REST "forage: {residual: 1400 kg/ha, use: 75 %}\n"
#define GRASS "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 75 %}\n"
#define MASS FIELDS "forage-map: {source: cells.asc, crs: EPSG:4326}\n"
#define HEIGHTS FIELDS "dem: {source: cells.asc, crs: EPSG:4326}\n"

static double cells[rows][columns]; /* from the north-west */
static double margin_m;

static void fill(double value)
{
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++)
            cells[j][i] = value;
}

static void put_cells(void)
{
    char text[4096];
    size_t length = (size_t)snprintf(
        text, sizeof text,
        "ncols %d\nnrows %d\nxllcorner %.9f\nyllcorner %.9f\ndx %.12f\n"
        "dy %.12f\nNODATA_value -9999\n",
        columns, rows, 8.9992875 - 0.00001425 * margin_m,
        50.9996405 - 0.000719 / 80 * margin_m,
        0.00001425 * (100 + 2 * margin_m) / columns,
        0.000719 / 80 * (80 + 2 * margin_m) / rows);
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++)
            length +=
                (size_t)snprintf(text + length, sizeof text - length, "%.10g%c",
                                 cells[j][i], i + 1 < columns ? ' ' : '\n');
    put_text("cells.asc", text);
}

/* What is said, note or refusal; "" of neither. */
static const char *said(const char *farm_text, bool *taken)
{
    static char text[2048];
    struct fw_notes notes = {0};
    struct fw_error err = {.text = ""};
    struct fw_farm *farm = NULL;
    put_cells();
    put_text("farm.yaml", farm_text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    *taken = fw_farm_read(&request, &farm, NULL, &notes, &err) == FW_OK;
    snprintf(text, sizeof text, "%s",
             !*taken       ? err.text
             : notes.count ? notes.items[0].text
                           : "");
    assert_true(notes.count < 2);
    fw_notes_release(&notes);
    fw_farm_free(farm);
    return text;
}

static void is_taken(const char *farm_text, const char *wanted)
{
    bool taken;
    const char *text = said(farm_text, &taken);
    if (!taken || !strstr(text, wanted) || (!*wanted && *text))
        fail_msg("%s: \"%s\"; expected \"%s\"", taken ? "taken" : "refused",
                 text, wanted);
}

static void is_refused(const char *farm_text, const char *wanted)
{
    bool taken;
    const char *text = said(farm_text, &taken);
    if (taken || !strstr(text, wanted))
        fail_msg("%s: \"%s\"; expected \"%s\"", taken ? "taken" : "refused",
                 text, wanted);
}

/* ---- masses ---- */

static void masses_are_believed_up_to_thirty_tonnes(void **state)
{
    (void)state;
    margin_m = 0;
    fill(2000);
    is_taken(REST MASS, "");
    cells[3][4] = 30000;
    is_taken(REST MASS, "");
    cells[3][4] = 30001;
    is_refused(REST MASS, "has masses of up to 30001 kg/ha");
}

/* One in twenty, of eighty. */
static void a_few_cells_may_be_below_nothing(void **state)
{
    (void)state;
    margin_m = 0;
    fill(2000);
    cells[3][4] = 0;
    is_taken(REST MASS, "");
    for (size_t i = 0; i < 4; i++)
        cells[3][i] = -10.0 * (double)(i + 1);
    is_taken(REST MASS, "4 of 80 cells of the forage raster have a negative");
    cells[3][9] = -5;
    is_refused(REST MASS,
               "has negative masses, down to -40 kg/ha, in 5 of 80 cells");
}

static void cells_without_data_are_told(void **state)
{
    (void)state;
    margin_m = 0;
    fill(2000);
    for (size_t j = 0; j < rows; j++)
        cells[j][2] = -9999;
    is_taken(GRASS MASS, "has no data on 800 m2 of");
    is_taken(GRASS MASS, "there the grass of the field holds");
    is_taken(REST MASS, "there its mean holds");
    fill(-9999);
    is_refused(GRASS MASS, "has no data on this field");
    cells[0][0] = 2000;
    is_taken(GRASS MASS, "has no data on 7901 m2 of 8001");
}

/* The mean of what is there; bare where it is below nothing. */
static void the_mean_is_that_of_the_cells(void **state)
{
    (void)state;
    margin_m = 0;
    double sum = 0;
    size_t told = 0;
    fill(2000);
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++)
            cells[j][i] += 50.0 * (double)i + 20.0 * (double)j;
    cells[0][0] = -30;
    cells[7][9] = -9999;
    for (size_t j = 0; j < rows; j++)
        for (size_t i = 0; i < columns; i++) {
            told += cells[j][i] > -9999;
            sum += cells[j][i] > 0 ? cells[j][i] : 0;
        }
    put_cells();
    struct fw_farm *farm = good_farm(REST MASS);
    assert_relative(farm->fields[0].sward.mass_kg_ha, sum / (double)told, 1e-3);
    fw_farm_free(farm);
}

/* ---- zones ---- */

/* The western half is eaten as its quality says; at 0 none of it is. */
static void a_zone_is_eaten_by_its_quality(void **state)
{
    (void)state;
    static const double qualities[] = {0, 0.25, 1};
    double kg[3];
    for (size_t i = 0; i < 3; i++) {
        char text[600];
        snprintf(text, sizeof text,
                 "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":"
                 "\"Feature\",\"properties\":{\"quality\":%g},\"geometry\":"
                 "{\"type\":\"Polygon\",\"coordinates\":[[[8.99,50.99],"
                 "[9.0,50.99],[9.0,51.01],[8.99,51.01],[8.99,50.99]]]}}]}",
                 qualities[i]);
        put_text("zones.geojson", text);
        struct fw_farm *farm = good_farm(
            GRASS FIELDS "maps: {role: zone, source: zones.geojson}\n");
        const struct fw_field *field = farm->fields[0].grazed;
        struct fw_point points[16];
        for (size_t k = 0; k < field->vertex_count; k++)
            points[k] = field->vertices[k].plane;
        kg[i] = fw_herbage_mass_kg(farm->fields[0].ground, points,
                                   field->ring_start, field->ring_count);
        fw_farm_free(farm);
    }
    /* 1200 kg/ha above what must stay, three quarters of it, on 0.8 ha. */
    assert_relative(kg[2], 1200 * 0.75 * 0.8, 1e-3);
    assert_relative(kg[0], kg[2] / 2, 1e-3);
    assert_relative(kg[1], kg[2] * (1 + 0.25) / 2, 1e-3);
}

#define ZONES FIELDS "maps: {role: zone, source: zones.geojson}\n"

/* The western one up to there, the eastern one from there. */
static void put_zones(double to, double from)
{
    const struct drawn zones[] = {{"\"mass\":3000", BOX(-5, -5, to, 85), 0},
                                  {"\"mass\":2000", BOX(from, -5, 105, 85), 0}};
    draw_map("zones.geojson", zones, 2);
}

static void zones_that_overlap_or_leave_ground_are_told(void **state)
{
    (void)state;
    put_zones(51, 49);
    is_taken(GRASS ZONES, "zones overlap on 160 m2; there the later one");
    put_zones(49, 51);
    is_taken(GRASS ZONES, "zones leave 160 m2 of 8001; there the grass");
    put_zones(50, 50);
    is_taken(GRASS ZONES, "");
    put_zones(50.006, 49.996); /* under a square metre */
    is_taken(GRASS ZONES, "");
    put_zones(49.996, 50.006);
    is_taken(GRASS ZONES, "");
    put_zones(50.02, 50);
    is_taken(GRASS ZONES, "zones overlap on 2 m2");
    put_zones(50, 50.02);
    is_taken(GRASS ZONES, "zones leave 2 m2");
}

/* Zones that tell nearly all of it make a mean, where no mass is told; a
 * hundredth may be left. */
static void zones_make_a_mean_of_nearly_all(void **state)
{
    (void)state;
    static const struct {
        double to, from, kg_ha;
    } pairs[] = {{50, 50, 2500},
                 {49.6, 50.5, (49.6 * 3000 + 49.5 * 2000) / 99.1},
                 {49.4, 50.5, 0},
                 {60, 60, 2600},
                 {51, 49, (49 * 3000 + 51 * 2000) / 100}};
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        put_zones(pairs[i].to, pairs[i].from);
        struct fw_farm *farm = good_farm(REST ZONES);
        assert_near(farm->fields[0].sward.mass_kg_ha, pairs[i].kg_ha, 2);
        fw_farm_free(farm);
    }
}

/* ---- heights ---- */

static void heights_are_those_of_ground(void **state)
{
    (void)state;
    margin_m = 10;
    static const struct {
        double all, odd;
        const char *refused; /* NULL: it is taken */
    } cases[] = {
        {-499, -500, NULL},
        {-499, -501, "has a height of -501 m"},
        {9000, 8990, NULL},
        {8999, 9001, "has a height of 9001 m"},
        {16, 0, "has a height of exactly 0 m"},
        {15, 0, NULL},
        {16, 0.5, NULL},
        {0, 0, NULL}, /* all of it is flat, at the sea */
        {255, 255, NULL},
        {-80, -99, "has a height of exactly -99 m"},
        {-85, -99, NULL},
        {-80, -100, "has a height of exactly -100 m"},
        {275, 255, "has a height of exactly 255 m"},
        {268, 255, NULL},
        {240, 255, NULL},
        {100, 135, NULL},
        {100, 139, "goes from 100 m to 139 m within"},
        {100, 61, "goes from 100 m to 61 m within"},
        {100, 65, NULL},
    };
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++)
        for (int where = 0; where < 3; where++) {
            fill(cases[k].all);
            cells[where == 0   ? 0
                  : where == 1 ? 7
                               : 4][where == 0   ? 0
                                    : where == 1 ? 9
                                                 : 5] = cases[k].odd;
            if (!cases[k].refused)
                is_taken(HEIGHTS, "");
            else if (!strstr(cases[k].refused, "goes"))
                is_refused(HEIGHTS, cases[k].refused);
            else
                is_refused(HEIGHTS, "which no ground does");
        }
}

/* To the next cell of a row, and of a column. */
static void a_step_along_a_row_or_a_column_is_seen(void **state)
{
    (void)state;
    margin_m = 10;
    for (int high = 0; high < 2; high++) {
        fill(100);
        for (size_t j = 0; j < rows; j++)
            for (size_t i = 5; i < columns; i++)
                cells[j][i] = high ? 139 : 135;
        if (high)
            is_refused(HEIGHTS, "goes from 100 m to 139 m within 12 m");
        else
            is_taken(HEIGHTS, "");
        fill(100);
        for (size_t i = 0; i < columns; i++)
            for (size_t j = 3; j < rows; j++)
                cells[j][i] = high ? 139 : 135;
        if (high)
            is_refused(HEIGHTS, "which no ground does");
        else
            is_taken(HEIGHTS, "");
    }
}

/* Cells of 6 m, where three up for one along is 18 m: 30 m are a wall yet. */
static void a_step_of_thirty_metres_is_ground_however_steep(void **state)
{
    (void)state;
    enum { across = 20, down = 17 };
    for (int high = 0; high < 2; high++) {
        char text[4096];
        size_t length = (size_t)snprintf(
            text, sizeof text,
            "ncols %d\nnrows %d\nxllcorner %.9f\nyllcorner %.9f\n"
            "dx %.12f\ndy %.12f\n",
            across, down, 8.9992875 - 0.00001425 * 10,
            50.9996405 - 0.000719 / 80 * 11, 0.00001425 * 6, 0.000719 / 80 * 6);
        for (size_t j = 0; j < down; j++)
            for (size_t i = 0; i < across; i++)
                length += (size_t)snprintf(
                    text + length, sizeof text - length, "%s%c",
                    i < 9 ? "100" : (high ? "130.5" : "129.5"),
                    i + 1 < across ? ' ' : '\n');
        put_text("steps.asc", text);
        put_text("farm.yaml", FIELDS "dem: {source: steps.asc, "
                                     "crs: EPSG:4326}\n");
        const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                                .fields_only = true};
        struct fw_error err = {.text = ""};
        struct fw_farm *farm = NULL;
        assert_int_equal(fw_farm_read(&request, &farm, NULL, NULL, &err),
                         high ? FW_EINPUT : FW_OK);
        assert_true(!high ||
                    strstr(err.text, "from 100 m to 130.5 m within 6"));
        fw_farm_free(farm);
    }
}

/* A margin of cells without heights leaves corners bare. */
static void corners_without_a_height_are_counted(void **state)
{
    (void)state;
    margin_m = 10;
    fill(100);
    for (size_t j = 0; j < rows; j++)
        cells[j][0] = cells[j][1] = -9999;
    is_taken(HEIGHTS, "has no height at 2 of its 4 corners");
    fill(-9999);
    is_refused(HEIGHTS, "has no data on this field");
}

/* ---- the file itself ---- */

static void a_file_may_be_thirty_two_deep(void **state)
{
    (void)state;
    for (int lists = 31; lists <= 32; lists++) {
        char text[200] = "farm: ";
        struct fw_error err = {0};
        for (int i = 0; i < lists; i++)
            strcat(text, "[");
        for (int i = 0; i < lists; i++)
            strcat(text, "]");
        strcat(text, "\n" FIELDS);
        assert_null(farm_of(text, true, &err));
        assert_says(&err, lists == 31 ? "farm: is a list; expected one value"
                                      : "farm.yaml:1: is nested over 32 deep");
    }
}

static void what_is_no_yaml_is_said_with_its_line(void **state)
{
    (void)state;
    static const char *const texts[][2] = {
        {"farm: a\nunits: us\n\tstart: 2027-05-04\n", "farm.yaml:3: not YAML"},
        {"farm: a\nunits: us\n\tstart: 2027-05-04\n",
         "; indent with spaces, not with tabs"},
        {"farm: a\nunits: [us\nstart: b\n", "farm.yaml:3: not YAML"},
        {"farm: a\nunits: us\nlayout: \xff\n", "farm.yaml:3: not YAML"},
        {"farm: a\nunits: us\nlayout: \xff\n", "; save the file as UTF-8"},
        {"farm: a\n---\nunits: us\n", "farm.yaml:2: a second document"},
        {"farm: a\nunits: &x us\n", "farm.yaml:2: anchors and aliases"},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        struct fw_error err = {0};
        assert_null(farm_of(texts[i][0], true, &err));
        assert_says(&err, texts[i][1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(masses_are_believed_up_to_thirty_tonnes),
        cmocka_unit_test(a_few_cells_may_be_below_nothing),
        cmocka_unit_test(cells_without_data_are_told),
        cmocka_unit_test(the_mean_is_that_of_the_cells),
        cmocka_unit_test(a_zone_is_eaten_by_its_quality),
        cmocka_unit_test(zones_that_overlap_or_leave_ground_are_told),
        cmocka_unit_test(zones_make_a_mean_of_nearly_all),
        cmocka_unit_test(heights_are_those_of_ground),
        cmocka_unit_test(a_step_along_a_row_or_a_column_is_seen),
        cmocka_unit_test(a_step_of_thirty_metres_is_ground_however_steep),
        cmocka_unit_test(corners_without_a_height_are_counted),
        cmocka_unit_test(a_file_may_be_thirty_two_deep),
        cmocka_unit_test(what_is_no_yaml_is_said_with_its_line),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
