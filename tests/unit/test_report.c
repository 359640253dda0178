/* What is written and printed, on the plan of the sample farm: read back by
 * json-c where it is JSON, by hand where it is text. */
#include "sample_plan.h"

#include "export/export.h"
#include "io/io.h"
#include "report/reports.h"
#include "store/store.h"

#include "report/words.h"

#include <json-c/json.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* ---- words ---- */

static void people_read_two_or_three_figures(void **state)
{
    (void)state;
    char text[FW_WORDS];
    assert_string_equal(fw_report_area(0.16049, FW_METRIC, text), "0.16 ha");
    assert_string_equal(fw_report_area(0.16049, FW_US, text), "0.4 acres");
    assert_string_equal(fw_report_area(12.34, FW_METRIC, text), "12.3 ha");
    assert_string_equal(fw_report_length(142.7, FW_METRIC, text), "143 m");
    assert_string_equal(fw_report_length(100, FW_US, text), "328 ft");
    assert_string_equal(fw_report_length(4.96, FW_METRIC, text), "5 m");
    assert_string_equal(fw_report_mass(62, FW_METRIC, text), "62 kg");
    assert_string_equal(fw_report_mass(65.77, FW_US, text), "145 lb");
    assert_string_equal(fw_report_volume(252.4, FW_METRIC, text), "252 L");
    assert_string_equal(fw_report_volume(378.5, FW_US, text), "100 gal");
    assert_string_equal(fw_report__mass_per_area(2604, FW_METRIC, text),
                        "2600 kg/ha");
    assert_string_equal(fw_report_number(99.7, text), "100");
    assert_string_equal(fw_report_number(0, text), "0");
}

static void days_are_named(void **state)
{
    (void)state;
    char text[FW_WORDS];
    int day;
    assert_int_equal(fw_date_read("2027-05-17", &day, NULL), FW_OK);
    assert_string_equal(fw_report_day(day, true, text), "Mon 17 May 2027");
    assert_string_equal(fw_report_day(day + 6, false, text), "Sun 23 May");
}

static void bearings_have_their_names(void **state)
{
    (void)state;
    assert_string_equal(fw_report_compass(0), "north");
    assert_string_equal(fw_report_compass(359), "north");
    assert_string_equal(fw_report_compass(46), "north-east");
    assert_string_equal(fw_report_compass(270), "west");
}

static void lines_are_folded_and_indented(void **state)
{
    (void)state;
    struct fw_text text = {0};
    char words[400] = "";
    for (int i = 0; i < 40; i++)
        strcat(words, "sheep ");
    fw_report_fold(&text, 4, words);
    size_t longest = 0, column = 4;
    for (const char *c = text.bytes; *c; c++) {
        column = *c == '\n' ? 0 : column + 1;
        longest = column > longest ? column : longest;
    }
    assert_true(longest <= 78 && longest > 70);
    assert_non_null(strstr(text.bytes, "\n    sheep"));
    fw_text_release(&text);
}

/* ---- plan.geojson ---- */

static double ring_twice(struct json_object *ring)
{
    double sum = 0;
    const size_t count = json_object_array_length(ring);
    for (size_t i = 0; i + 1 < count; i++) {
        struct json_object *a = json_object_array_get_idx(ring, i);
        struct json_object *b = json_object_array_get_idx(ring, i + 1);
        const double ax =
            json_object_get_double(json_object_array_get_idx(a, 0));
        const double ay =
            json_object_get_double(json_object_array_get_idx(a, 1));
        const double bx =
            json_object_get_double(json_object_array_get_idx(b, 0));
        const double by =
            json_object_get_double(json_object_array_get_idx(b, 1));
        /* In parts of a millionth of a degree round a near place, so that no
         * digit is lost. */
        sum += (ax - 25.54) * 1e6 * (by - 58.27) * 1e6 -
               (bx - 25.54) * 1e6 * (ay - 58.27) * 1e6;
    }
    return sum;
}

static struct json_object *member(struct json_object *of, const char *key)
{
    struct json_object *found = NULL;
    if (!json_object_object_get_ex(of, key, &found))
        fail_msg("no member %s", key);
    return found;
}

static bool is_of(struct json_object *feature, const char *kind,
                  const char *field)
{
    struct json_object *properties = member(feature, "properties");
    return strcmp(json_object_get_string(member(properties, "kind")), kind) ==
               0 &&
           strcmp(json_object_get_string(member(properties, "field")), field) ==
               0;
}

/* Holes run clockwise and take off by themselves. */
static double polygon_twice(struct json_object *feature)
{
    struct json_object *rings =
        member(member(feature, "geometry"), "coordinates");
    double sum = 0;
    for (size_t r = 0; r < json_object_array_length(rings); r++) {
        struct json_object *ring = json_object_array_get_idx(rings, r);
        const size_t count = json_object_array_length(ring);
        const double twice = ring_twice(ring);
        assert_true(count >= 4);
        assert_true(
            json_object_equal(json_object_array_get_idx(ring, 0),
                              json_object_array_get_idx(ring, count - 1)));
        assert_true(r == 0 ? twice > 0 : twice < 0);
        sum += twice;
    }
    return sum;
}

static void paddocks_of_the_geojson_add_up_to_their_field(void **state)
{
    (void)state;
    struct fw_error err;
    char *text;
    size_t count;
    assert_int_equal(fw_report_geojson(plan, &text, &count, &err), FW_OK);
    assert_int_equal(strlen(text), count);
    struct json_object *root = json_tokener_parse(text);
    assert_non_null(root);
    struct json_object *features = member(root, "features");
    for (size_t f = 0; f < plan->field_count; f++) {
        double whole = 0, sum = 0;
        size_t paddocks = 0;
        for (size_t i = 0; i < json_object_array_length(features); i++) {
            struct json_object *feature =
                json_object_array_get_idx(features, i);
            struct json_object *properties = member(feature, "properties");
            const char *kind =
                json_object_get_string(member(properties, "kind"));
            if (strcmp(kind, "field") && strcmp(kind, "paddock"))
                continue;
            if (is_of(feature, "field", plan->fields[f].name))
                whole = polygon_twice(feature);
            if (is_of(feature, "paddock", plan->fields[f].name)) {
                sum += polygon_twice(feature);
                paddocks++;
            }
        }
        assert_int_equal(paddocks, plan->fields[f].paddock_count);
        assert_relative(sum, whole, 1e-12);
    }
    json_object_put(root);
    fw_bytes_free(text);
}

static void two_runs_write_the_same_bytes(void **state)
{
    (void)state;
    struct fw_error err;
    struct fw_plan *again;
    assert_int_equal(fw_plan_make(farm, &again, &err), FW_OK);
    char *first, *second;
    size_t count, other;
    assert_int_equal(fw_report_geojson(plan, &first, &count, &err), FW_OK);
    assert_int_equal(fw_report_geojson(again, &second, &other, &err), FW_OK);
    assert_int_equal(count, other);
    assert_memory_equal(first, second, count);
    fw_bytes_free(first);
    fw_bytes_free(second);
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &first, &count, &err),
                     FW_OK);
    assert_int_equal(fw_plan_json_write(again, NULL, 0, &second, &other, &err),
                     FW_OK);
    assert_int_equal(count, other);
    assert_memory_equal(first, second, count);
    fw_bytes_free(first);
    fw_bytes_free(second);
    fw_plan_free(again);
}

/* ---- tables, CSV, JSON ---- */

static void own_vertices_are_written_as_they_came(void **state)
{
    (void)state;
    struct fw_table tables[FW_REPORT_LAYERS];
    struct fw_error err;
    assert_int_equal(fw_report_tables(plan, NULL, tables, &err), FW_OK);
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        const struct fw_row *row = &tables[0].rows[f];
        size_t written = 0, met = 0;
        for (size_t v = 0; v < field->rings.ring_start[field->rings.ring_count];
             v++)
            written +=
                field->vertices[field->rings.vertices[v]].kind != FW_VERTEX_BOW;
        assert_int_equal(row->point_count, written);
        for (size_t v = 0; v < field->vertex_count; v++)
            for (size_t i = 0; i < row->point_count; i++)
                met += field->vertices[v].kind == FW_VERTEX_INPUT &&
                       memcmp(&field->vertices[v].file, &row->points[i],
                              sizeof row->points[i]) == 0;
        assert_true(met >= field->corner_count);
    }
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
}

/* ---- the files agree ---- */

/* Absent is null in the layers; a text that is not told is empty in plan.json,
 * and of the boundary nothing is built, which counts nothing there. */
static bool is_absent(struct json_object *value, bool boundary)
{
    if (json_object_is_type(value, json_type_string))
        return json_object_get_string_len(value) == 0;
    if (json_object_is_type(value, json_type_array))
        return boundary && json_object_array_length(value) == 0;
    return !value || (boundary && json_object_is_type(value, json_type_int) &&
                      json_object_get_int64(value) == 0);
}

/* How many posts a fence has is how many stand under it. */
static bool is_count(struct json_object *rows, double count, bool boundary)
{
    return !boundary && (double)json_object_array_length(rows) == count;
}

static bool is_same(struct json_object *wanted, const struct fw_value *got,
                    enum fw_column_type type, bool boundary)
{
    char day[FW_DATE_TEXT];
    if (got->present && json_object_is_type(wanted, json_type_array))
        return is_count(wanted, got->number, boundary);
    if (!got->present)
        return is_absent(wanted, boundary);
    if (type == FW_COLUMN_TEXT || type == FW_COLUMN_DATE)
        return json_object_is_type(wanted, json_type_string) &&
               strcmp(json_object_get_string(wanted),
                      type == FW_COLUMN_TEXT
                          ? got->text
                          : fw_date_write((int)got->number, day)) == 0;
    return (json_object_is_type(wanted, json_type_int) ||
            json_object_is_type(wanted, json_type_double)) &&
           json_object_get_double(wanted) == got->number;
}

/* How many members of that name both have, each compared in every row. */
static size_t rows_agree(struct json_object *rows, const struct fw_table *table)
{
    size_t shared = 0;
    assert_int_equal(json_object_array_length(rows), table->row_count);
    for (size_t i = 0; i < table->row_count; i++) {
        struct json_object *row = json_object_array_get_idx(rows, i), *value;
        const bool boundary =
            json_object_object_get_ex(row, "role", &value) &&
            strcmp(json_object_get_string(value), "perimeter") == 0;
        shared = 0;
        for (size_t c = 0; c < table->column_count; c++) {
            const char *name = table->columns[c].name;
            if (!json_object_object_get_ex(row, name, &value))
                continue;
            shared++;
            if (!is_same(value, &table->rows[i].values[c],
                         table->columns[c].type, boundary))
                fail_msg("%s of %s %zu is %s in plan.json", name, table->kind,
                         i, json_object_get_string(value));
        }
    }
    return shared;
}

/* Of that kind, in their order; put it away when done. */
static struct json_object *properties_of(struct json_object *geojson,
                                         const char *kind)
{
    struct json_object *features = member(geojson, "features");
    struct json_object *found = json_object_new_array();
    for (size_t i = 0; i < json_object_array_length(features); i++) {
        struct json_object *of =
            member(json_object_array_get_idx(features, i), "properties");
        if (strcmp(json_object_get_string(member(of, "kind")), kind) == 0)
            json_object_array_add(found, json_object_get(of));
    }
    return found;
}

/* A list of plan.json whose rows are values, as one of objects. */
static void name_values(struct json_object *json, const char *list)
{
    struct json_object *names = member(member(json, "columns"), list);
    struct json_object *rows = member(json, list);
    for (size_t i = 0; i < json_object_array_length(rows); i++) {
        struct json_object *row = json_object_array_get_idx(rows, i);
        struct json_object *named = json_object_new_object();
        assert_int_equal(json_object_array_length(row),
                         json_object_array_length(names));
        for (size_t k = 0; k < json_object_array_length(names); k++)
            json_object_object_add(
                named,
                json_object_get_string(json_object_array_get_idx(names, k)),
                json_object_get(json_object_array_get_idx(row, k)));
        json_object_array_put_idx(rows, i, named);
    }
}

static void files_agree_on(const struct fw_plan *of, bool with_lanes)
{
    static const struct {
        const char *list, *kind;
        size_t least; /* members of the same name in plan.json */
        bool on_map;
    } rows[] = {
        {"paddocks", "paddock", 17, true}, {"lanes", "lane", 3, true},
        {"fences", "fence", 11, true},     {"gates", "gate", 7, true},
        {"stays", "stay", 4, false},
    };
    struct fw_table tables[FW_REPORT_LAYERS];
    struct fw_error err;
    char *bytes;
    size_t count;
    assert_int_equal(fw_plan_json_write(of, NULL, 0, &bytes, &count, &err),
                     FW_OK);
    struct json_object *json = json_tokener_parse(bytes);
    name_values(json, "stays");
    fw_bytes_free(bytes);
    assert_int_equal(fw_report_geojson(of, &bytes, &count, &err), FW_OK);
    struct json_object *geojson = json_tokener_parse(bytes);
    fw_bytes_free(bytes);
    assert_int_equal(fw_report_tables(of, NULL, tables, &err), FW_OK);
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        const struct fw_table *table = NULL;
        for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
            if (strcmp(tables[i].name, rows[r].list) == 0)
                table = &tables[i];
        assert_non_null(table);
        const size_t shared = rows_agree(member(json, rows[r].list), table);
        if (strcmp(rows[r].list, "lanes") == 0)
            assert_true((table->row_count > 0) == with_lanes);
        else
            assert_true(table->row_count > 0);
        if (table->row_count)
            assert_true(shared >= rows[r].least);
        if (!rows[r].on_map)
            continue;
        struct json_object *map = properties_of(geojson, rows[r].kind);
        if (table->row_count)
            assert_int_equal(rows_agree(map, table), table->column_count);
        json_object_put(map);
    }
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        fw_table_release(&tables[i]);
    json_object_put(geojson);
    json_object_put(json);
}

static void the_files_of_a_plan_agree(void **state)
{
    (void)state;
    files_agree_on(plan, false);
}

static void the_files_of_a_plan_with_a_lane_agree(void **state)
{
    (void)state;
    char path[4096];
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_setting settings[] = {
        {"layout", "lane", "--layout"},
        {"fields.only", "Tammik", "--only"},
    };
    const struct fw_farm_request request = {
        .farm_path = path, .settings = settings, .setting_count = 2};
    struct fw_farm *with_lane;
    struct fw_plan *laned = NULL;
    struct fw_error err;
    if (fw_farm_read(&request, &with_lane, NULL, NULL, &err) ||
        fw_plan_make(with_lane, &laned, &err))
        fail_msg("%s", err.text);
    files_agree_on(laned, true);
    fw_plan_free(laned);
    fw_farm_free(with_lane);
}

/* ---- moves.csv ---- */

static size_t lines_of(const char *text)
{
    size_t lines = 0;
    for (const char *c = text; *c; c++)
        lines += *c == '\n';
    return lines;
}

static void every_move_has_its_row(void **state)
{
    (void)state;
    struct fw_error err;
    char *text;
    size_t count;
    assert_int_equal(fw_report_moves_csv(plan, &text, &count, &err), FW_OK);
    assert_int_equal(lines_of(text), plan->time.move_count + 1);
    size_t commas = 0, first = 0;
    bool quoted = false;
    for (const char *c = text; *c; c++) {
        quoted ^= *c == '"';
        commas += *c == ',' && !quoted;
        if (*c == '\n') {
            first = first ? first : commas;
            assert_int_equal(commas, first);
            commas = 0;
        }
    }
    fw_bytes_free(text);
}

/* What a spreadsheet begins a formula with (CWE-1236), and what it does not. */
static void no_cell_of_a_csv_is_a_formula(void **state)
{
    (void)state;
    const struct {
        const char *name, *cell;
    } rows[] = {
        {"=1+1", "'=1+1,"},
        {"+1", "'+1,"},
        {"-1", "'-1,"},
        {"@SUM(A1)", "'@SUM(A1),"},
        {"=\"a\",b", "\"'=\"\"a\"\",b\","},
        {"\t=1", "'\t=1,"},
        {"a=1", "a=1,"},
        {"1-2", "1-2,"},
        {"", ","},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_material item = {.quantity = -2, .price = -1};
        struct fw_plan only = {.materials = &item, .material_count = 1};
        char *text;
        size_t count;
        snprintf(item.item, sizeof item.item, "%s", rows[i].name);
        assert_int_equal(fw_report_materials_csv(&only, &text, &count, NULL),
                         FW_OK);
        const char *line = strchr(text, '\n') + 1;
        assert_memory_equal(line, rows[i].cell, strlen(rows[i].cell));
        assert_non_null(strstr(line, ",-2,")); /* a number is no text */
        fw_bytes_free(text);
    }
}

static void no_name_in_moves_csv_is_a_formula(void **state)
{
    (void)state;
    struct fw_plan odd = *plan;
    struct fw_plan_field *fields = calloc(plan->field_count, sizeof *fields);
    char *text;
    size_t count, rows = 0;
    memcpy(fields, plan->fields, plan->field_count * sizeof *fields);
    for (size_t i = 0; i < plan->field_count; i++)
        fields[i].name = (char *)"=cmd|'/c calc'!A1";
    odd.fields = fields;
    assert_int_equal(fw_report_moves_csv(&odd, &text, &count, NULL), FW_OK);
    for (const char *at = strstr(text, "=cmd"); at; at = strstr(at + 1, "=cmd"))
        rows += at[-1] == '\'' && at[-2] == ',';
    assert_int_equal(rows, plan->time.move_count);
    fw_bytes_free(text);
    free(fields);
}

/* Cell k of a row of moves.csv; on the sample farm only the note is quoted. */
static const char *cell_of(const char *row, size_t k, char room[2000])
{
    for (; k > 0; k--)
        row = strchr(row, ',') + 1;
    snprintf(room, 2000, "%.*s", (int)strcspn(row, ",\r"), row);
    return room;
}

static size_t parts_of(const char *cell)
{
    size_t parts = *cell ? 1 : 0;
    for (; *cell; cell++)
        parts += *cell == ';';
    return parts;
}

static void a_row_tells_the_steps_of_its_move(void **state)
{
    (void)state;
    static const char head[] =
        "date,field,from,to,round,stay_days,area_ha,set,bearing_deg,length_m,"
        "wire_m,"
        "posts,reels,a_from,a_towards,a_paces,b_from,b_towards,b_paces,"
        "pace_share,open,take_down,steps,minutes,water,"
        "litres_day,hot_l_day,gate_m,walk_mean_m,walk_max_m,climb_to_m,"
        "climb_back_m,walk_untold,note\r\n";
    enum { set = 7, open = 20, take_down = 21, steps = 22 };
    struct fw_error err;
    char *text, room[2000], day[FW_DATE_TEXT];
    size_t count;
    assert_int_equal(fw_report_moves_csv(plan, &text, &count, &err), FW_OK);
    assert_memory_equal(text, head, strlen(head));
    const char *row = text + strlen(head);
    for (size_t m = 0; m < plan->time.move_count; m++) {
        const struct fw_move *move = &plan->time.moves[m];
        size_t lines[FW_STEP_COUNT_OF] = {0}, opened = 0;
        for (size_t i = 0; i < move->steps.count; i++) {
            const struct fw_step *step =
                &plan->time.steps[move->steps.first + i];
            lines[step->kind] += step->lines.count;
            opened += step->kind == FW_STEP_OPEN;
        }
        assert_string_equal(cell_of(row, 0, room),
                            fw_date_write(move->day, day));
        assert_int_equal(parts_of(cell_of(row, set, room)), lines[FW_STEP_SET]);
        assert_int_equal(parts_of(cell_of(row, open, room)), opened);
        assert_int_equal(parts_of(cell_of(row, take_down, room)),
                         lines[FW_STEP_TAKE_DOWN]);
        assert_int_equal(parts_of(cell_of(row, steps, room)),
                         move->steps.count);
        row = strchr(row, '\n') + 1;
    }
    fw_bytes_free(text);
}

static void parse_and_free(char *text)
{
    struct json_object *root = json_tokener_parse(text);
    if (!root)
        fail_msg("not JSON: %.200s", text);
    json_object_put(root);
    fw_bytes_free(text);
}

static void what_is_for_machines_is_json(void **state)
{
    (void)state;
    struct fw_error err;
    char *text;
    assert_int_equal(fw_report_check_json(farm, &text, &err), FW_OK);
    parse_and_free(text);
    assert_int_equal(fw_report_cautions_json(plan, &text, &err), FW_OK);
    parse_and_free(text);
    assert_int_equal(fw_report_materials_json(
                         &(struct fw_export_list){.rows = plan->materials,
                                                  .count = plan->material_count,
                                                  .units = plan->units,
                                                  .currency = "EUR"},
                         &text, &err),
                     FW_OK);
    parse_and_free(text);
    for (size_t i = 0; i < plan->time.move_count; i++) {
        assert_int_equal(fw_report_move_json(plan, i, &text, &err), FW_OK);
        parse_and_free(text);
    }
}

/* One row a feature, however many parts it has; poles have none. */
static void check_lists_voltages_by_feature(void **state)
{
    (void)state;
    static struct fw_farm_feature lines[] = {
        {.kv = 110,
         .kv_from = FW_KV_MAP,
         .kv_text = "voltage \"110,000\"",
         .name = "Upper line",
         .row = 4,
         .map = 1},
        {.kv = 110,
         .kv_from = FW_KV_MAP,
         .kv_text = "voltage \"110,000\"",
         .name = "Upper line",
         .row = 4,
         .map = 1},
        {.kv = 400, .kv_from = FW_KV_HIGHER, .row = 5, .map = 1},
        {.kv = -1, .kv_from = FW_KV_ODD, .row = 6, .map = 1},
        {.kv = -1, .kv_from = FW_KV_UNTOLD, .row = 7, .map = 1},
        {.kv = 0.4, .kv_from = FW_KV_FARM, .row = 8, .map = 1},
        {.kv = -1, .row = 9, .map = 1, .kind = FW_FEATURE_POINT},
    };
    static const char *const wanted[] = {
        "maps[1], feature 4, Upper line: 110 kV (voltage \"110,000\")\n",
        "feature 5: 400 kV: volts or kilovolts, taken as the higher\n",
        "feature 6: unknown, so as over 33 kV: no standard voltage\n",
        "feature 7: unknown, so as over 33 kV: nobody says it\n",
        "feature 8: 0.4 kV: as maps[].kv says\n",
    };
    struct fw_farm around = *farm;
    around.features = lines;
    around.feature_count = sizeof lines / sizeof lines[0];
    for (size_t i = 0; i + 1 < around.feature_count; i++)
        lines[i].kind = FW_FEATURE_LINE;
    struct fw_error err;
    char *text;
    assert_int_equal(fw_report_check(&around, false, &text, &err), FW_OK);
    const char *at = text;
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        at = strstr(at, wanted[i]);
        assert_non_null(at);
        at++;
    }
    assert_null(strstr(at, "feature 9"));
    size_t rows = 0;
    for (at = text; (at = strstr(at, "maps[1]")); at++)
        rows++;
    assert_int_equal(rows, 5);
    fw_bytes_free(text);
    assert_int_equal(fw_report_check_json(&around, &text, &err), FW_OK);
    struct json_object *root = json_tokener_parse(text), *list, *kv;
    assert_true(json_object_object_get_ex(root, "power_lines", &list));
    assert_int_equal(json_object_array_length(list), 5);
    assert_true(json_object_object_get_ex(json_object_array_get_idx(list, 0),
                                          "kv", &kv));
    assert_near(json_object_get_double(kv), 110, 0);
    assert_true(json_object_object_get_ex(json_object_array_get_idx(list, 2),
                                          "kv", &kv));
    assert_null(kv);
    json_object_put(root);
    fw_bytes_free(text);
}

/* Common to every page about live fence; and no page ever says the word. */
static void every_page_defers_and_none_says_safe(void **state)
{
    (void)state;
    struct fw_error err;
    char *pages[3];
    assert_int_equal(fw_report_text(plan, FW_REPORT_ALL, &pages[0], &err),
                     FW_OK);
    assert_int_equal(fw_report_move(plan, 2, 0, &pages[1], &err), FW_OK);
    assert_int_equal(fw_report_cautions(plan, &pages[2], &err), FW_OK);
    for (size_t i = 0; i < 3; i++) {
        assert_non_null(strstr(pages[i], "Local codes, the maker's"));
        assert_non_null(strstr(pages[i], "licensed electrician"));
        assert_null(strstr(pages[i], " safe "));
        assert_null(strstr(pages[i], " safe."));
        fw_bytes_free(pages[i]);
    }
}

static void dangers_stand_first(void **state)
{
    (void)state;
    struct fw_error err;
    char *page;
    assert_int_equal(fw_report_move(plan, 2, 0, &page, &err), FW_OK);
    const char *danger = strstr(page, "! ");
    const char *work = strstr(page, " 1  ");
    assert_true(danger && work && danger < work);
    fw_bytes_free(page);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(people_read_two_or_three_figures),
        cmocka_unit_test(days_are_named),
        cmocka_unit_test(bearings_have_their_names),
        cmocka_unit_test(lines_are_folded_and_indented),
        cmocka_unit_test(paddocks_of_the_geojson_add_up_to_their_field),
        cmocka_unit_test(two_runs_write_the_same_bytes),
        cmocka_unit_test(own_vertices_are_written_as_they_came),
        cmocka_unit_test(the_files_of_a_plan_agree),
        cmocka_unit_test(the_files_of_a_plan_with_a_lane_agree),
        cmocka_unit_test(every_move_has_its_row),
        cmocka_unit_test(no_cell_of_a_csv_is_a_formula),
        cmocka_unit_test(no_name_in_moves_csv_is_a_formula),
        cmocka_unit_test(a_row_tells_the_steps_of_its_move),
        cmocka_unit_test(what_is_for_machines_is_json),
        cmocka_unit_test(check_lists_voltages_by_feature),
        cmocka_unit_test(every_page_defers_and_none_says_safe),
        cmocka_unit_test(dangers_stand_first),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
