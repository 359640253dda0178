/* Voltages of power lines: a number read a thousandfold too low brings a fence
 * within 3 m of a line that wants 8. */
#include "farm_help.h"
#include "table.h"

static const char *const from_words[] = {[FW_KV_UNTOLD] = "untold",
                                         [FW_KV_MAP] = "map",
                                         [FW_KV_HIGHER] = "higher",
                                         [FW_KV_ODD] = "odd",
                                         [FW_KV_FARM] = "farm"};

/* A line past the field for each of the properties, '|' between. */
static void put_lines(const char *properties)
{
    char text[4096];
    int length = snprintf(text, sizeof text,
                          "{\"type\":\"FeatureCollection\",\"features\":[");
    const char *before = "";
    while (*properties) {
        const int bytes = (int)strcspn(properties, "|");
        length += snprintf(text + length, sizeof text - (size_t)length,
                           "%s{\"type\":\"Feature\",\"properties\":%.*s,"
                           "\"geometry\":{\"type\":\"LineString\","
                           "\"coordinates\":[[8.99,50.999],[9.01,50.999]]}}",
                           before, bytes, properties);
        before = ",";
        properties += bytes + (properties[bytes] == '|');
    }
    snprintf(text + length, sizeof text - (size_t)length, "]}");
    put_text("lines.geojson", text);
}

static struct fw_farm *farm_with(const char *kv, struct fw_notes *notes)
{
    char text[256];
    snprintf(text, sizeof text,
             "fields: {source: field.geojson}\n"
             "maps: [{role: power-line, source: lines.geojson%s%s}]\n",
             *kv ? ", kv: " : "", kv);
    put_text("farm.yaml", text);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .fields_only = true};
    struct fw_farm *farm = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, notes, &err))
        fail_msg("%s", err.text);
    return farm;
}

static void next(const char **list)
{
    *list += strcspn(*list, "|");
    *list += **list == '|';
}

static void voltages_mean_what_the_map_says(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "farm_voltages.tsv");
    while (table_next(&table, 5)) {
        put_lines(table.cells[1]);
        struct fw_farm *farm = farm_with(table.cells[0], NULL);
        const char *kv = table.cells[2], *from = table.cells[3];
        for (size_t i = 0; i < farm->feature_count; i++) {
            const struct fw_farm_feature *line = &farm->features[i];
            const char *word = from_words[line->kv_from];
            assert_true(*kv);
            if (!(fabs(line->kv - strtod(kv, NULL)) <= 1e-12))
                fail_msg("farm_voltages.tsv:%d: %s: line %zu is of %g kV; "
                         "expected %s",
                         table.line, table.cells[1], i + 1, line->kv, kv);
            if (strncmp(from, word, strlen(word)) != 0)
                fail_msg("farm_voltages.tsv:%d: %s: line %zu is from %s; "
                         "expected %s",
                         table.line, table.cells[1], i + 1, word, from);
            next(&kv);
            next(&from);
        }
        assert_false(*kv || *from);
        fw_farm_free(farm);
    }
    table_close(&table);
}

/* Of lines that no standard has the voltage of, and of those read as the
 * higher of two, a person is told with the map's own words. */
static void doubt_is_said(void **state)
{
    (void)state;
    static const struct {
        const char *kv, *lines, *wanted;
    } rows[] = {
        {"", "{\"voltage\":\"400\"}",
         "1 of its power lines near a field gives a number that may be volts "
         "or kilovolts (the first: voltage \"400\"): taken as kilovolts"},
        {"", "{\"voltage\":\"99\"}|{\"voltage\":\"98\"}",
         "2 of its power lines near a field give no standard voltage (the "
         "first: voltage \"99\"): treated as the highest"},
        {"", "{\"voltage\":null}", "has no voltage: treated as the highest"},
        {"21 kV", "{\"voltage\":null}", "21 kV is no standard voltage"},
        {"20 kV", "{\"voltage\":null}", NULL},
        {"", "{\"voltage\":\"110,000\"}", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_notes notes = {0};
        put_lines(rows[i].lines);
        fw_farm_free(farm_with(rows[i].kv, &notes));
        bool said = false;
        for (size_t k = 0; k < notes.count; k++) {
            const char *text = notes.items[k].text;
            said |= rows[i].wanted ? strstr(text, rows[i].wanted) != NULL
                                   : strstr(text, "voltage") != NULL;
        }
        if (said != (rows[i].wanted != NULL))
            fail_msg("row %zu: %s", i,
                     notes.count ? notes.items[0].text : "nothing is said");
        fw_notes_release(&notes);
    }
}

static void the_maps_own_words_are_kept(void **state)
{
    (void)state;
    put_lines("{\"voltage\":\"110,000\",\"kv\":20}|{\"voltage\":null}");
    struct fw_farm *farm = farm_with("", NULL);
    assert_string_equal(farm->features[0].kv_text,
                        "voltage \"110,000\", kv \"20\"");
    assert_null(farm->features[1].kv_text);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(voltages_mean_what_the_map_says),
        cmocka_unit_test(doubt_is_said),
        cmocka_unit_test(the_maps_own_words_are_kept),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
