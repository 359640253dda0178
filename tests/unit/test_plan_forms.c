/* Whatever a key is told by, it leads to the same plan: keys one below the
 * other or within brackets, a single value or a list, an option in place of the
 * file's or without any file. What another value leads to is another plan, so
 * that a key which nobody reads is seen as well. */
#include "forms_maps.h"
#include "table.h"

#include "keys/schema.h"
#include "make/make.h"
#include "plan/plan.h"
#include "store/store.h"

/* ---- a farm as pairs of key and value ---- */

enum { most_pairs = 24, text_room = 4096 };

struct pair {
    char key[64], value[160];
};

struct told {
    struct pair pairs[most_pairs];
    size_t count;
};

static const struct told base = {{
                                     {"farm", "Forms"},
                                     {"start", "2027-05-17"},
                                     {"flock[].head", "60"},
                                     {"flock[].weight", "60 kg"},
                                     {"flock[].state", "dry"},
                                     {"forage.mass", "2500 kg/ha"},
                                     {"forage.residual", "1500 kg/ha"},
                                     {"fields.source", "one.geojson"},
                                     {"gate", "corner:1"},
                                     {"maps[0].role", "road"},
                                     {"maps[0].source", "road.geojson"},
                                 },
                                 11};

static struct pair *find(struct told *told, const char *key)
{
    for (size_t i = 0; i < told->count; i++)
        if (strcmp(told->pairs[i].key, key) == 0)
            return &told->pairs[i];
    return NULL;
}

/* Without a value it is left out. */
static void tell(struct told *told, const char *key, const char *value)
{
    struct pair *pair = find(told, key);
    if (pair && !value[0]) {
        memmove(pair, pair + 1,
                (size_t)(told->pairs + --told->count - pair) * sizeof *pair);
        return;
    }
    if (!pair) {
        assert_true(told->count < most_pairs);
        pair = &told->pairs[told->count++];
        snprintf(pair->key, sizeof pair->key, "%s", key);
    }
    snprintf(pair->value, sizeof pair->value, "%s", value);
}

static void tell_all(struct told *told, const char *cell)
{
    char text[512];
    snprintf(text, sizeof text, "%s", cell);
    for (char *next = text; next && *next;) {
        char *key = next;
        next = strchr(next, ';');
        if (next)
            *next++ = '\0';
        char *value = strchr(key, '=');
        assert_non_null(value);
        *value++ = '\0';
        tell(told, key, value);
    }
}

/* ---- as a file ---- */

struct file {
    char text[text_room];
    size_t length;
    bool brackets; /* else one below the other */
};

static void add(struct file *file, const char *text)
{
    const size_t length = strlen(text);
    assert_true(file->length + length < sizeof file->text);
    memcpy(file->text + file->length, text, length + 1);
    file->length += length;
}

static void add_line(struct file *file, size_t deep)
{
    add(file, file->brackets ? " " : "\n");
    for (size_t i = 0; !file->brackets && i < deep; i++)
        add(file, "  ");
}

/* "a & b" is a list; what is a list, keys or in quotes stands as it is. */
static void add_value(struct file *file, const char *value)
{
    const char *parted = strstr(value, " & ");
    const bool plain = strchr("[{\"'", value[0]) != NULL;
    const bool quoted =
        !plain && (file->brackets || strstr(value, ": ") || strchr(value, ','));
    add(file, parted ? "[" : "");
    for (; parted; value = parted + 3, parted = strstr(value, " & ")) {
        char one[160];
        snprintf(one, sizeof one, "\"%.*s\", ", (int)(parted - value), value);
        add(file, one);
        if (!strstr(parted + 3, " & ")) {
            snprintf(one, sizeof one, "\"%s\"]", parted + 3);
            add(file, one);
            return;
        }
    }
    add(file, quoted ? "\"" : "");
    add(file, value);
    add(file, quoted ? "\"" : "");
}

/* What follows the group in the key, up to a dot or a bracket; 0: another. */
static size_t part_of(const char *key, const char *group, const char **part)
{
    const size_t length = strlen(group);
    *part = key + length;
    return strncmp(key, group, length) == 0 ? strcspn(*part, ".[") : 0;
}

static bool comes_first(const struct told *told, size_t index, size_t length)
{
    for (size_t i = 0; i < index; i++)
        if (strncmp(told->pairs[i].key, told->pairs[index].key, length) == 0 &&
            strchr(".[", told->pairs[i].key[length]))
            return false;
    return true;
}

static void add_group(struct file *file, const struct told *told,
                      const char *group, size_t deep);

/* "flock[].head" and "maps[1].role": the items are told in their order. */
static void add_items(struct file *file, const struct told *told,
                      const char *list, size_t deep)
{
    const size_t length = strlen(list);
    add(file, file->brackets ? " [" : "");
    for (size_t i = 0, items = 0; i < told->count; i++) {
        const char *key = told->pairs[i].key;
        char item[64];
        if (strncmp(key, list, length) != 0 || key[length] != '[')
            continue;
        const size_t end = (size_t)(strchr(key + length, ']') - key) + 2;
        snprintf(item, sizeof item, "%.*s", (int)end, key);
        if (!comes_first(told, i, end - 1))
            continue;
        add(file, file->brackets && items++ ? ", " : "");
        add_line(file, deep);
        add(file, file->brackets ? "{" : "-");
        add_group(file, told, item, deep + 1);
        add(file, file->brackets ? "}" : "");
    }
    add(file, file->brackets ? "]" : "");
}

static void add_group(struct file *file, const struct told *told,
                      const char *group, size_t deep)
{
    size_t keys = 0;
    for (size_t i = 0; i < told->count; i++) {
        const char *part;
        const size_t length = part_of(told->pairs[i].key, group, &part);
        const size_t whole = strlen(group) + length;
        char below[64];
        if (!length || !comes_first(told, i, whole))
            continue;
        if (file->brackets && deep > 0 && keys++)
            add(file, ",");
        if (file->brackets && deep == 0)
            add(file, "\n");
        else
            add_line(file, deep);
        snprintf(below, sizeof below, "%.*s", (int)length, part);
        add(file, below);
        add(file, ": ");
        snprintf(below, sizeof below, "%.*s%s", (int)whole, told->pairs[i].key,
                 part[length] == '.' ? "." : "");
        if (part[length] == '[') {
            add_items(file, told, below, deep + 1);
        } else if (part[length] == '.') {
            add(file, file->brackets ? "{" : "");
            add_group(file, told, below, deep + 1);
            add(file, file->brackets ? "}" : "");
        } else {
            add_value(file, told->pairs[i].value);
        }
    }
}

static void write_file(const struct told *told, bool brackets)
{
    static struct file file;
    file.length = 0;
    file.text[0] = '\0';
    file.brackets = brackets;
    add_group(&file, told, "", 0);
    add(&file, "\n");
    put_text("farm.yaml", file.text);
}

/* ---- as options ---- */

struct options {
    struct fw_farm_setting settings[2 * most_pairs];
    char rooms[2 * most_pairs][160];
    size_t count;
};

static void add_option(struct options *options, const struct pair *pair)
{
    for (const char *next = pair->value; next;) {
        const char *end = strstr(next, " & ");
        char *room = options->rooms[options->count];
        snprintf(room, sizeof options->rooms[0], "%.*s",
                 end ? (int)(end - next) : (int)strlen(next), next);
        options->settings[options->count++] =
            (struct fw_farm_setting){pair->key, room, pair->key};
        next = end ? end + 3 : NULL;
    }
}

/* ---- the plan ---- */

static int refused;

static char *no_plan(struct fw_farm *farm, struct fw_plan *plan,
                     const struct fw_error *err, const char *what)
{
    print_error("%s: %s\n", what, err->text);
    refused++;
    fw_plan_free(plan);
    fw_farm_free(farm);
    return calloc(1, 1);
}

/* Of what it was made is not looked at: a farm file is one file more. The list
 * of a bare field comes after it. */
static char *plan_of(const struct fw_farm_request *request, const char *what)
{
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    struct fw_material rows[64];
    double line_m = 0;
    size_t count = 0, length = 0;
    char *bytes = NULL;
    if (fw_farm_read(request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err) ||
        fw_plan_perimeter_list(farm, rows, 64, &count, &line_m, &err))
        return no_plan(farm, plan, &err, what);
    fw_inputs_release(&plan->inputs);
    fw_told_release(&plan->told);
    if (fw_plan_json_write(plan, NULL, 0, &bytes, &length, &err))
        fail_msg("%s: %s", what, err.text);
    char *all = calloc(length + 65 * 512, 1);
    memcpy(all, bytes, length);
    for (size_t i = 0; i < count; i++)
        length += (size_t)sprintf(all + length, "%s %s %.9g %.9g %.9g %s\n",
                                  rows[i].item, rows[i].unit, rows[i].quantity,
                                  rows[i].owned, rows[i].price, rows[i].note);
    const struct fw_fence_yearly yearly = fw_fence_yearly(1000, &farm->terms);
    length += (size_t)sprintf(all + length, "%.9g %.9g %.9g\n", yearly.worn,
                              yearly.interest, yearly.upkeep);
    fw_bytes_free(bytes);
    fw_plan_free(plan);
    fw_farm_free(farm);
    return all;
}

static char *plan_by_file(const struct told *told, bool brackets,
                          const char *what)
{
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    write_file(told, brackets);
    return plan_of(&request, what);
}

/* The file says otherwise, and the option goes over it. */
static char *plan_over(const struct told *other, const struct pair *pair,
                       const char *what)
{
    struct options options = {.count = 0};
    add_option(&options, pair);
    const struct fw_farm_request request = {.farm_path = "farm.yaml",
                                            .settings = options.settings,
                                            .setting_count = options.count};
    write_file(other, false);
    return plan_of(&request, what);
}

static char *plan_by_options(const struct told *told, const char *what)
{
    struct options options = {.count = 0};
    const char *source = NULL;
    for (size_t i = 0; i < told->count; i++)
        if (strcmp(told->pairs[i].key, "fields.source") == 0)
            source = told->pairs[i].value;
        else
            add_option(&options, &told->pairs[i]);
    const struct fw_farm_request request = {.field_sources = &source,
                                            .field_source_count = 1,
                                            .settings = options.settings,
                                            .setting_count = options.count};
    return plan_of(&request, what);
}

/* Takes the second one. */
static int differ(const char *one, char *two, const char *what, bool wanted)
{
    size_t at = 0;
    while (one[at] && one[at] == two[at])
        at++;
    const bool same = one[at] == two[at];
    if (same != wanted)
        print_error("%s: %s\n%.200s\n%.200s\n", what,
                    wanted ? "another plan" : "the same plan",
                    one + (at > 60 ? at - 60 : 0),
                    two + (at > 60 ? at - 60 : 0));
    free(two);
    return same != wanted;
}

static int each_spelling(const struct told *told, const struct table *table,
                         const char *plan, const char *what)
{
    char text[512];
    int wrong = 0;
    snprintf(text, sizeof text, "%s", table->cells[2]);
    for (char *next = text; next && *next;) {
        struct told spelt = *told;
        char *end = strstr(next, " ~ ");
        if (end)
            *end = '\0';
        tell(&spelt, table->cells[0], next);
        wrong += differ(plan, plan_by_file(&spelt, false, what), next, true);
        next = end ? end + 3 : NULL;
    }
    return wrong;
}

static int look_at_row(const struct table *table)
{
    const char *key = table->cells[0];
    const bool alike = strcmp(table->cells[3], "=") == 0;
    struct told told = base, other = base;
    char what[256];
    int wrong = 0;
    snprintf(what, sizeof what, "forms.tsv:%d: %.60s: %.100s", table->line, key,
             table->cells[1]);
    tell_all(&told, table->cells[4]);
    tell(&told, key, table->cells[1]);
    tell_all(&other, table->cells[4]);
    tell(&other, key, alike ? table->cells[1] : table->cells[3]);
    char *plan = plan_by_file(&told, false, what);
    wrong += differ(plan, plan_by_options(&told, what), what, true);
    wrong +=
        differ(plan, plan_over(&other, find(&told, key), what), what, true);
    wrong += each_spelling(&told, table, plan, what);
    if (!alike)
        wrong += differ(plan, plan_by_file(&other, true, what), what, false);
    else
        wrong += differ(plan, plan_by_file(&told, true, what), what, true);
    free(plan);
    return wrong;
}

/* ---- the tests ---- */

static void every_form_of_a_key_leads_to_the_same_plan(void **state)
{
    (void)state;
    struct table table;
    int wrong = 0;
    table_open(&table, "forms.tsv");
    while (table_next(&table, 5))
        wrong += look_at_row(&table);
    table_close(&table);
    assert_int_equal(wrong + refused, 0);
}

/* Whichever way its items are counted. */
static bool is_key(const char *told, const char *path)
{
    for (; *told && *path; told++, path++) {
        if (*told != *path)
            return false;
        if (*told == '[')
            told = strchr(told, ']') - 1;
    }
    return !*told && !*path;
}

static void no_key_is_missing_from_the_table(void **state)
{
    (void)state;
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    bool *seen = calloc(count, sizeof *seen);
    struct table table;
    table_open(&table, "forms.tsv");
    while (table_next(&table, 5))
        for (size_t i = 0; i < count; i++)
            seen[i] |= is_key(table.cells[0], keys[i].path);
    table_close(&table);
    for (size_t i = 0; i < count; i++) {
        const enum fw_farm__shape shape = fw_farm__reading(i)->shape;
        if (shape != FW_SHAPE_GROUP && shape != FW_SHAPE_LIST && !seen[i])
            fail_msg("tests/tables/forms.tsv lacks %s", keys[i].path);
    }
    free(seen);
}

static void put_plan(const char *path, const char *start)
{
    struct told told = base;
    tell(&told, "start", start);
    tell(&told, "fence-bearing",
         strcmp(path, "before.json") ? "90 deg" : "0 deg");
    char *plan = plan_by_file(&told, false, path);
    char *end = strrchr(plan, '}');
    end[1] = '\0';
    put_text(path, plan);
    free(plan);
}

static int set_up(void **state)
{
    const int status = farm_set_up(state);
    draw_maps();
    put_text("rates.csv", "month, kg/ha/day\n# of the lower fields\nmay, 69\n"
                          "jun, 70\njuly, 59\n8, 60 kg/ha/day\n");
    put_plan("before.json", "2027-05-17");
    put_plan("later.json", "2027-05-16");
    return status;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_of_a_key_leads_to_the_same_plan),
        cmocka_unit_test(no_key_is_missing_from_the_table),
    };
    return cmocka_run_group_tests(tests, set_up, farm_tear_down);
}
