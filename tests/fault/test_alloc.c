/* Every allocation of a whole plan fails in turn: out of memory is said, and
 * nothing leaks. */
#include "unit/test.h"

#include "fault/refuse.h"

#include "export/export.h"
#include "geo/geo.h"
#include "keys/fault.h"
#include "keys/keys.h"
#include "log/log.h"
#include "make/make.h"
#include "picture/picture.h"
#include "plan/plan.h"
#include "power/circuit_use.h"
#include "report/reports.h"
#include "report/stockpile.h"
#include "store/store.h"
#include <foldwright/layout.h>
#include <foldwright/told.h>

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char farm_path[4096], folder[4096];
static const struct fw_report_out as_it_is = {.epoch_s = -1};

static enum fw_status whole_plan(struct fw_error *err)
{
    const struct fw_farm_request request = {.farm_path = farm_path};
    struct fw_notes notes = {0};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL, *again = NULL;
    char *text = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, &notes, err);
    if (!status)
        status = fw_plan_make(farm, &plan, err);
    if (!status)
        status = fw_report_text(plan, FW_REPORT_ALL, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_move(plan, 1, 0, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_cautions(plan, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_check(farm, false, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_field_svg(farm, &text, err);
    fw_bytes_free(text);
    if (!status)
        status = fw_report_folder(plan, folder, &as_it_is, err);
    if (!status)
        status = fw_plan_json_read(folder, &again, &notes, err);
    fw_plan_free(again);
    fw_plan_free(plan);
    fw_farm_free(farm);
    fw_notes_release(&notes);
    return status;
}

/* The winter's grass of two parts: its sums, the page, the pictures. */
static enum fw_status whole_winter(struct fw_error *err)
{
    const struct fw_farm_setting told[] = {
        {"stockpile.line", "virginia", "--line"},
        {"stockpile.parts",
         "a: area=2 ha, sward=fescue-nitrogen, grazed=2027-06-20", "--part"},
        {"stockpile.parts",
         "b: area=2 ha, sward=fescue-nitrogen, grazed=2027-08-10", "--part"}};
    const struct fw_farm_request request = {.farm_path = farm_path,
                                            .settings = told,
                                            .setting_count = 3,
                                            .fields_only = true,
                                            .winter = true};
    struct fw_farm *farm = NULL;
    struct fw_winter *winter = NULL;
    char *text[4] = {NULL, NULL, NULL, NULL};
    enum fw_status status = fw_farm_read(&request, &farm, NULL, NULL, err);
    if (!status)
        status = fw_winter_make(farm, &winter, err);
    if (!status)
        status = fw_report_stockpile(winter, false, &text[0], err);
    if (!status)
        status = fw_report_stockpile_json(winter, &text[1], err);
    if (!status)
        status = fw_report_stockpile_svg(winter, FW_NO_DAY, &text[2], err);
    if (!status)
        status = fw_report_stockpile_parts_svg(winter, &text[3], err);
    for (int i = 0; i < 4; i++)
        fw_bytes_free(text[i]);
    fw_winter_free(winter);
    fw_farm_free(farm);
    return status;
}

/* The register of figures, for people and for machines, and a word of none. */
static enum fw_status whole_register(struct fw_error *err)
{
    const char *const word = "zebra";
    char *text = NULL;
    enum fw_status status = fw_report_sources(NULL, 0, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_sources_json(NULL, 0, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (status)
        return status;
    status = fw_report_sources(&word, 1, &text, err);
    assert_null(text);
    return status == FW_EINPUT ? FW_OK : status;
}

/* A ring with a spur: solved, with a fault in it, and fitted to a reading. */
static enum fw_status whole_circuit(struct fw_error *err)
{
    const struct fw_circuit_section sections[] = {
        {0, 1, 300, 3.82, 1e-6, 0}, {1, 2, 200, 3.82, 1e-6, 0},
        {2, 0, 300, 3.82, 1e-6, 0}, {0, 3, 300, 3.82, 1e-6, 0},
        {3, 2, 300, 3.82, 1e-6, 0}, {1, 3, 300, 3.82, 1e-6, 0}};
    const struct fw_circuit_source source = {0, 8000, 300, 20};
    const struct fw_circuit_station place = {0, 100};
    const struct fw_circuit_reading reading = {.place = place, .open_v = 5000};
    struct fw_circuit net = {.node_count = 4}, faulty = {0};
    struct fw_circuit_answer answer = {0};
    struct fw_circuit_fit fit;
    enum fw_status status = fw_circuit_set_source(&net, &source, err);
    for (size_t i = 0; i < 6 && !status; i++)
        status = fw_circuit_add_section(&net, &sections[i], err);
    if (!status)
        status = fw_circuit_short(&net, place, 100, &faulty, err);
    if (!status)
        status = fw_circuit_solve(&faulty, &answer, err);
    if (!status)
        status = fw_circuit_fit(&net, &reading, 1, &fit, err);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&faulty);
    fw_circuit_release(&net);
    return status;
}

static struct fw_plan *kept; /* made before any allocation is refused */

static enum fw_status power_of_a_plan(struct fw_error *err)
{
    struct fw_plan_fault fault;
    struct fw_plan_looks looks = {.count = 0};
    struct fw_plan_measured reading;
    struct fw_circuit_fit fit;
    struct fw_cure cures[FW_CURE_COUNT];
    struct fw_plan_power_day rows[64];
    size_t count;
    const int day = kept->start_day + 3;
    char *text = NULL;
    assert_true(kept->power_day_count <= 64);
    enum fw_status status =
        fw_plan_fault_read(kept, "short:A-side-1@20m:300ohm", &fault, err);
    if (!status)
        status = fw_plan_look_for(kept, day, &fault, NULL, &looks, err);
    if (!status)
        status = fw_report_looks(kept, day, "short", &looks, &text, err);
    fw_plan_looks_release(&looks);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status =
            fw_plan_measured_read(kept, day, "5.5kV@corner:2", &reading, err);
    if (!status)
        status = fw_plan_learn(kept, day, &reading, 1, &fit, rows, err);
    if (!status)
        status = fw_plan_cures(kept, 3, cures, &count, err);
    if (!status)
        status = fw_report_power(kept, &fit, rows, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_power_json(kept, NULL, NULL, &text, err);
    fw_bytes_free(text);
    return status;
}

/* An L with a pond that leaves a narrow way on both sides, by every pattern. */
static enum fw_status all_layouts(bool bends, const struct fw_herbage *ground,
                                  double target, struct fw_error *err)
{
    static const double ring[][2] = {{0, 0},    {90, 0},  {90, 40}, {40, 40},
                                     {40, 100}, {0, 100}, {5, 50},  {5, 90},
                                     {35, 90},  {35, 50}};
    struct fw_vertex vertices[10] = {{.kind = FW_VERTEX_INPUT}};
    size_t start[] = {0, 6, 10}, corners[] = {5, 4, 3, 2, 1, 0};
    for (size_t i = 0; i < 10; i++)
        vertices[i].plane = (struct fw_point){ring[i][0], ring[i][1]};
    const struct fw_field field = {.vertices = vertices,
                                   .vertex_count = 10,
                                   .ring_start = start,
                                   .ring_count = 2,
                                   .corners = corners,
                                   .corner_count = 6,
                                   .area_m2 = 6000 - 1200,
                                   .perimeter_m = 380,
                                   .holes_m = 140};
    const struct fw_point gate = {60, 0}, water = {30, 20};
    const double targets[] = {target, target * 0.8};
    const char *pattern = NULL;
    enum fw_status status = FW_OK;
    for (size_t row = 0; !status && (pattern = fw_layout_pattern(row, NULL));
         row++) {
        const struct fw_layout_request request = {.field = &field,
                                                  .ground = ground,
                                                  .target = targets,
                                                  .target_count = 2,
                                                  .start = &gate,
                                                  .water = &water,
                                                  .pattern = pattern,
                                                  .directions = 6,
                                                  .bends = bends};
        struct fw_layout_list list = {0};
        status = fw_layout_candidates(&request, &list, err);
        if (status == FW_EPLAN)
            status = FW_OK; /* not by this pattern */
        fw_layout_list_release(&list);
    }
    return status;
}

static enum fw_status straight_layouts(struct fw_error *err)
{
    return all_layouts(false, NULL, 300, err);
}

static enum fw_status bent_layouts(struct fw_error *err)
{
    return all_layouts(true, NULL, 300, err);
}

static enum fw_status layouts_on_even_ground(struct fw_error *err)
{
    struct fw_herbage *ground = NULL;
    enum fw_status status = fw_herbage_even(0.2, &ground, err);
    if (!status)
        status = all_layouts(false, ground, 60, err);
    fw_herbage_free(ground);
    return status;
}

static void each_refused_allocation_is_said_and_leaks_nothing(void **state)
{
    (void)state;
    refuse_each("a whole plan", whole_plan, 100);
}

static void circuit_says_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("a circuit", whole_circuit, 15);
}

static void sources_say_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("the register", whole_register, 15);
}

static void winters_grass_says_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("the winter's grass", whole_winter, 100);
}

static void power_of_a_plan_says_each_refused_allocation_too(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    const struct fw_farm_request request = {.farm_path = farm_path};
    fault_refuse(0);
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &kept, &err))
        fail_msg("%s", err.text);
    refuse_each("the power of a plan", power_of_a_plan, 100);
    fw_plan_free(kept);
    fw_farm_free(farm);
}

/* A plan that is read, and all that is said of its moves. */
static enum fw_status read_and_say(struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    struct fw_notes notes = {0};
    char *text = NULL;
    size_t count;
    enum fw_status status = fw_plan_json_read(folder, &plan, &notes, err);
    for (size_t i = 0; !status && i < plan->time.move_count; i++) {
        status = fw_report_move(plan, i, 0, &text, err);
        fw_bytes_free(text);
        text = NULL;
        if (!status)
            status = fw_report_move_json(plan, i, &text, err);
        fw_bytes_free(text);
        text = NULL;
    }
    if (!status)
        status = fw_report_moves_csv(plan, &text, &count, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_geojson(plan, &text, &count, err);
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_notes_release(&notes);
    return status;
}

static void reading_says_each_refused_allocation_too(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    const struct fw_farm_request request = {.farm_path = farm_path};
    fault_refuse(0);
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err) ||
        fw_report_folder(plan, folder, &as_it_is, &err))
        fail_msg("%s", err.text);
    fw_plan_free(plan);
    fw_farm_free(farm);
    refuse_each("reading a plan", read_and_say, 1000);
}

static struct fw_farm *compared; /* likewise */

static enum fw_status compare_layouts(struct fw_error *err)
{
    struct fw_plan_scores scores = {0};
    struct fw_plan *plan = NULL;
    char *text = NULL;
    enum fw_status status = fw_plan_compare(compared, &scores, err);
    if (!status)
        status = fw_report_compare(compared, &scores, false, &text, err);
    fw_bytes_free(text);
    text = NULL;
    if (!status)
        status = fw_report_compare_json(compared, &scores, &text, err);
    fw_bytes_free(text);
    fw_plan_scores_release(&scores);
    if (!status) /* with a way back along a lane */
        status = fw_plan_make(compared, &plan, err);
    fw_plan_free(plan);
    return status;
}

static void comparing_says_each_refused_allocation_too(void **state)
{
    (void)state;
    struct fw_error err;
    const struct fw_farm_setting settings[] = {
        {"layout", "lane", "--layout"},
        {"fields.only", "Tammik", "--only"},
    };
    const struct fw_farm_request request = {
        .farm_path = farm_path, .settings = settings, .setting_count = 2};
    fault_refuse(0);
    if (fw_farm_read(&request, &compared, NULL, NULL, &err))
        fail_msg("%s", err.text);
    refuse_each("comparing layouts", compare_layouts, 100);
    fw_farm_free(compared);
}

/* ---- what is written down, and the plan that goes on from it ---- */

static char days_path[4200];
static struct fw_farm *followed; /* likewise */
static struct fw_plan *begun;

static enum fw_status goes_on(const void *farm, const struct fw_plan_on *on,
                              struct fw_plan **out, struct fw_error *err)
{
    return fw_plan_go_on(farm, on, out, err);
}

static enum fw_status read_log(struct fw_error *err)
{
    const struct fw_log_request request = {.path = days_path,
                                           .making = {followed, goes_on}};
    struct fw_notes notes = {0};
    struct fw_log *log = NULL;
    struct fw_plan *now = NULL;
    enum fw_status status = fw_log_open(begun, &request, &log, &notes, err);
    if (!status)
        status = fw_log_now(log, &now, err);
    fw_plan_free(now);
    fw_log_free(log);
    fw_notes_release(&notes);
    return status;
}

static void a_log_says_each_refused_allocation_too(void **state)
{
    (void)state;
    static const char lines[] =
        "2027-05-18; of A01; left short\n"
        "2027-05-19; of A02; left 9cm; fence 50,40\n"
        "2027-05-20; of A03; flock ewes with twins 70, rams 0\n"
        "2027-05-21; missed\n"
        "2027-05-24; left long; fence nonsense\n";
    struct fw_error err;
    const struct fw_farm_request request = {.farm_path = farm_path};
    fault_refuse(0);
    snprintf(days_path, sizeof days_path, "%s/days.txt", folder);
    FILE *file = fopen(days_path, "wb");
    assert_non_null(file);
    fputs(lines, file);
    assert_int_equal(fclose(file), 0);
    if (fw_farm_read(&request, &followed, NULL, NULL, &err) ||
        fw_plan_make(followed, &begun, &err))
        fail_msg("%s", err.text);
    refuse_each("what is written down", read_log, 100);
    fw_plan_free(begun);
    fw_farm_free(followed);
}

/* ---- what is printed ---- */

static struct fw_plan *printed; /* likewise */

static enum fw_status print_plan(struct fw_error *err)
{
    char *bytes = NULL;
    size_t count = 0;
    enum fw_status status = fw_report_card(printed, 0, -1, &bytes, &count, err);
    fw_bytes_free(bytes);
    bytes = NULL;
    if (!status)
        status = fw_report_sheet(printed, "pdf", -1, &bytes, &count, err);
    fw_bytes_free(bytes);
    bytes = NULL;
    if (!status)
        status = fw_report_map_page(printed, NULL, &bytes, &count, err);
    fw_bytes_free(bytes);
    bytes = NULL;
    if (!status)
        status = fw_report_sheet(printed, "svg", -1, &bytes, &count, err);
    fw_bytes_free(bytes);
    return status;
}

/* A page takes thousands of allocations, and the fonts are opened anew each
 * time: some of them, in strides. */
static void printing_says_each_refused_allocation_too(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_farm *farm = NULL;
    const struct fw_farm_setting settings[] = {
        {"fields.only", "Kivine", "--only"}};
    const struct fw_farm_request request = {
        .farm_path = farm_path, .settings = settings, .setting_count = 1};
    fault_refuse(0);
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &printed, &err) || print_plan(&err))
        fail_msg("%s", err.text);
    fault_refuse(0);
    if (print_plan(&err))
        fail_msg("%s", err.text);
    const size_t all = fault_made(), held = fault_held();
    assert_true(all > 1000);
    const size_t tries = getenv("FW_THOROUGH") ? 47 : 12;
    for (size_t n = 1; n <= all; n += n < 8 ? 1 : all / tries) {
        fault_refuse(n);
        const enum fw_status status = print_plan(&err);
        fault_refuse(0);
        if (status != FW_ENOMEM)
            fail_msg("allocation %zu of %zu: status %d: %s", n, all,
                     (int)status, status ? err.text : "");
        assert_int_equal(fault_held(), held);
    }
    fw_plan_free(printed);
    fw_farm_free(farm);
}

/* ---- what lies on the ground ---- */

#define RING(w, s, e, n)                                                       \
    "{\"type\":\"Polygon\",\"coordinates\":[[[" w "," s "],[" e "," s "],[" e  \
    "," n "],[" w "," n "],[" w "," s "]]]}"
#define ONE(properties, ring)                                                  \
    "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","     \
    "\"properties\":{" properties "},\"geometry\":" ring "}]}"

static char at[4][4200]; /* field, zone, ditch, raster */

static void put(char path[4200], const char *name, const char *text)
{
    snprintf(path, 4200, "%s/%.40s", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

static void put_ground(void)
{
    put(at[0], "field.geojson",
        ONE("\"name\":\"Foreland\"",
            RING("9.000", "51.000", "9.003", "51.001")));
    put(at[1], "zone.geojson",
        ONE("\"mass\":\"3000 kg/ha\"",
            RING("8.999", "51.000", "9.001", "51.002")));
    put(at[2], "ditch.geojson",
        ONE("\"setback\":2", RING("9.0015", "50.999", "9.0016", "51.002")));
    put(at[3], "mass.asc",
        "ncols 5\nnrows 3\nxllcorner 8.999\nyllcorner 50.999\n"
        "cellsize 0.001\nNODATA_value -9\n"
        "2000 2100 -9 2300 2400\n2000 2100 2200 2300 2400\n"
        "2000 2100 2200 2300 2400\n");
}

static enum fw_status read_ground(const struct fw_farm_setting *settings,
                                  size_t count, struct fw_error *err)
{
    const char *const source = at[0];
    const struct fw_farm_request request = {
        .field_sources = &source,
        .field_source_count = 1,
        .settings = settings,
        .setting_count = count,
        .fields_only = true,
    };
    struct fw_notes notes = {0};
    struct fw_farm *farm = NULL;
    const enum fw_status status =
        fw_farm_read(&request, &farm, NULL, &notes, err);
    fw_farm_free(farm);
    fw_notes_release(&notes);
    return status;
}

static enum fw_status zones_and_a_ditch(struct fw_error *err)
{
    char zone[4300], ditch[4300];
    snprintf(zone, sizeof zone, "zone=%s", at[1]);
    snprintf(ditch, sizeof ditch, "watercourse=%s", at[2]);
    const struct fw_farm_setting settings[] = {
        {"forage.residual", "1400 kg/ha", "--residual"},
        {"forage.mass", "2600 kg/ha", "--mass"},
        {"forage.use", "75 %", "--use"},
        {"maps[+]", zone, "--map"},
        {"maps[+]", ditch, "--map"},
    };
    return read_ground(settings, 5, err);
}

static enum fw_status rasters(struct fw_error *err)
{
    const struct fw_farm_setting settings[] = {
        {"forage.residual", "1400 kg/ha", "--residual"},
        {"forage.use", "75 %", "--use"},
        {"forage-map.source", at[3], "--forage"},
        {"forage-map.crs", "EPSG:4326", "--forage-crs"},
        {"dem.source", at[3], "--dem"},
        {"dem.crs", "EPSG:4326", "--dem-crs"},
    };
    return read_ground(settings, 6, err);
}

static enum fw_status rough_ground(struct fw_error *err)
{
    char ditch[4300];
    const char *const source = at[0];
    snprintf(ditch, sizeof ditch, "hard-going=%s", at[2]);
    const struct fw_farm_setting settings[] = {
        {"flock[0].head", "200", "--head"},
        {"flock[0].weight", "60 kg", "--weight"},
        {"flock[0].state", "dry", "--class"},
        {"forage.residual", "1400 kg/ha", "--residual"},
        {"forage.mass", "2600 kg/ha", "--mass"},
        {"forage.use", "75 %", "--use"},
        {"start", "2027-05-03", "--start"},
        {"gate", "corner:1", "--gate"},
        {"front", "side:1@30m to side:3@60m", "--front"},
        {"maps[+]", ditch, "--map"},
        {"maps[0].posts", "2", "maps[].posts"},
        {"maps[0].sheep-cross", "no", "maps[].sheep-cross"},
        {"dem.source", at[3], "--dem"},
        {"dem.crs", "EPSG:4326", "--dem-crs"},
    };
    const struct fw_farm_request request = {
        .field_sources = &source,
        .field_source_count = 1,
        .settings = settings,
        .setting_count = sizeof settings / sizeof settings[0],
    };
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, NULL, err);
    if (!status)
        status = fw_plan_make(farm, &plan, err);
    fw_plan_free(plan);
    fw_farm_free(farm);
    return status;
}

static void ground_says_each_refused_allocation_too(void **state)
{
    (void)state;
    put_ground();
    refuse_each("a field of zones", zones_and_a_ditch, 40);
    refuse_each("a field under rasters", rasters, 30);
    refuse_each("rough ground beyond a front", rough_ground, 200);
    for (size_t i = 0; i < 4; i++)
        unlink(at[i]);
}

static void layouts_say_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("straight layouts", straight_layouts, 1000);
    refuse_each("bent layouts", bent_layouts, 1000);
    refuse_each("layouts by mass", layouts_on_even_ground, 1000);
}

/* ---- the order of grazing ---- */

static enum fw_status ordered(struct fw_error *err)
{
    char hedge[4300];
    snprintf(hedge, sizeof hedge, "shelter=%s", at[0]);
    const struct fw_farm_setting settings[] = {
        {"keep.storm", "2 days", "--keep-storm"},
        {"keep.heat", "1 day", "--keep-heat"},
        {"field-order", "nearest", "--field-order"},
        {"first", "far", "--first"},
        {"maps[+]", hedge, "--map"},
    };
    const struct fw_farm_request request = {
        .farm_path = farm_path, .settings = settings, .setting_count = 5};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    struct fw_notes notes = {0};
    char *text = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, &notes, err);
    if (!status)
        status = fw_plan_make(farm, &plan, err);
    if (!status)
        status = fw_report_text(plan, FW_REPORT_ALL, &text, err);
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
    fw_notes_release(&notes);
    return status;
}

static void orders_say_each_refused_allocation_too(void **state)
{
    (void)state;
    put(at[0], "hedge.geojson",
        ONE("", RING("25.5428", "58.2761", "25.5430", "58.2775")));
    refuse_each("a plan in order", ordered, 100);
    unlink(at[0]);
}

/* ---- going on from a plan made before ---- */

/* The one that the first test leaves in its folder. */
static enum fw_status gone_on(struct fw_error *err)
{
    const struct fw_farm_setting settings[] = {
        {"earlier", folder, "--earlier"},
        {"front", "A01-02", "--front"},
        {"park", "A01-02@5m", "--park"},
    };
    const struct fw_farm_request request = {
        .farm_path = farm_path, .settings = settings, .setting_count = 3};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    char *text = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, NULL, err);
    if (!status)
        status = fw_plan_make(farm, &plan, err);
    if (!status)
        status = fw_report_text(plan, FW_REPORT_ALL, &text, err);
    fw_bytes_free(text);
    fw_plan_free(plan);
    fw_farm_free(farm);
    return status;
}

static void going_on_says_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("a plan that goes on from another", gone_on, 200);
}

/* ---- a plan of one field, each allocation of it ---- */

static enum fw_status one_field(struct fw_error *err)
{
    struct fw_plan *plan = NULL;
    const enum fw_status status = fw_plan_make(compared, &plan, err);
    fw_plan_free(plan);
    return status;
}

/* The farm is read before. */
static void refuse_all(const char *what, const struct fw_farm_setting *settings,
                       size_t count)
{
    struct fw_error err;
    const struct fw_farm_request request = {
        .farm_path = farm_path, .settings = settings, .setting_count = count};
    fault_refuse(0);
    if (fw_farm_read(&request, &compared, NULL, NULL, &err))
        fail_msg("%s", err.text);
    refuse_after(what, one_field, 100, SIZE_MAX, 0);
    fw_farm_free(compared);
}

static void a_field_says_each_refused_allocation_too(void **state)
{
    (void)state;
    const struct fw_farm_setting afresh[] = {
        {"fields.only", "Tammik", "--only"},
        {"flock[0].head", "300", "--head"},
        {"energizer.joules", "2 J", "--joules"},
        {"layout", "strips", "--layout"},
    };
    const struct fw_farm_setting goes_on[] = {
        {"fields.only", "Tammik", "--only"},
        {"energizer.joules", "2 J", "--joules"},
        {"earlier", folder, "--earlier"},
        {"front", "A01-02", "--front"},
        {"layout", "strips", "--layout"},
    };
    refuse_all("a plan of one field", afresh, 4);
    refuse_all("one that goes on", goes_on, 5);
}

int main(void)
{
    const char *samples = getenv("FW_SAMPLES");
    char template[] = "/tmp/foldwright-fault-XXXXXX";
    if (!samples || !mkdtemp(template)) {
        fputs("FW_SAMPLES must name the folder samples/\n", stderr);
        return 1;
    }
    snprintf(farm_path, sizeof farm_path, "%s/three-fields/farm.yaml", samples);
    snprintf(folder, sizeof folder, "%s", template);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_refused_allocation_is_said_and_leaks_nothing),
        cmocka_unit_test(reading_says_each_refused_allocation_too),
        cmocka_unit_test(circuit_says_each_refused_allocation_too),
        cmocka_unit_test(sources_say_each_refused_allocation_too),
        cmocka_unit_test(winters_grass_says_each_refused_allocation_too),
        cmocka_unit_test(layouts_say_each_refused_allocation_too),
        cmocka_unit_test(comparing_says_each_refused_allocation_too),
        cmocka_unit_test(a_log_says_each_refused_allocation_too),
        cmocka_unit_test(printing_says_each_refused_allocation_too),
        cmocka_unit_test(power_of_a_plan_says_each_refused_allocation_too),
        cmocka_unit_test(ground_says_each_refused_allocation_too),
        cmocka_unit_test(orders_say_each_refused_allocation_too),
        cmocka_unit_test(going_on_says_each_refused_allocation_too),
        cmocka_unit_test(a_field_says_each_refused_allocation_too),
    };
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    char clean[4200];
    snprintf(clean, sizeof clean, "rm -rf %s", template);
    return system(clean) ? 1 : failed;
}
