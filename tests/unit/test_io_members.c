/* docs/plan.schema.json and docs/guide/members.md come from the table of
 * members; BLESS=1 writes them anew. */
#include "test.h"

#include "export/csv.h"
#include "export/export.h"
#include "export/layers.h"

#include <json-c/json.h>
#include <stdlib.h>
#include <string.h>

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

/* ---- JSON Schema ---- */

static struct json_object *parsed(const char *text)
{
    struct json_object *made = json_tokener_parse(text);
    assert_non_null(made);
    return made;
}

static void put(struct json_object *to, const char *key, const char *text)
{
    json_object_object_add(to, key, json_object_new_string(text));
}

static struct json_object *types_of(const char *type, bool may_be_null)
{
    if (!may_be_null)
        return json_object_new_string(type);
    struct json_object *types = json_object_new_array();
    json_object_array_add(types, json_object_new_string(type));
    json_object_array_add(types, json_object_new_string("null"));
    return types;
}

static struct json_object *typed(const char *type, bool may_be_null)
{
    struct json_object *made = json_object_new_object();
    json_object_object_add(made, "type", types_of(type, may_be_null));
    return made;
}

static struct json_object *one_of(const struct fw_io__member *member)
{
    struct json_object *words = json_object_new_array();
    if (member->untold == FW_IO__IF_EMPTY)
        json_object_array_add(words, NULL);
    for (size_t i = 0; i < member->word_count; i++)
        json_object_array_add(
            words,
            member->words[i] ? json_object_new_string(member->words[i]) : NULL);
    struct json_object *made = json_object_new_object();
    json_object_object_add(made, "enum", words);
    return made;
}

static struct json_object *list_of(struct json_object *item)
{
    struct json_object *made = typed("array", false);
    json_object_object_add(made, "items", item);
    return made;
}

static struct json_object *reference(const char *name)
{
    char path[64];
    snprintf(path, sizeof path, "#/$defs/%s", name);
    struct json_object *made = json_object_new_object();
    put(made, "$ref", path);
    return made;
}

static struct json_object *object_of(const struct fw_io__kind *kind);

/* Rows of values are told once. */
static struct json_object *struct_of(const struct fw_io__kind *kind)
{
    for (size_t i = 0; i < FW_IO__ROW_KINDS; i++)
        if (fw_io__columns[i].of == kind)
            return reference(fw_io__columns[i].name);
    return object_of(kind);
}

static struct json_object *number_of(const struct fw_io__member *member,
                                     const char *type)
{
    struct json_object *made = typed(type, member->untold != FW_IO__TOLD);
    if (member->untold == FW_IO__IF_ZERO)
        json_object_object_add(made, "exclusiveMinimum",
                               json_object_new_int(0));
    if (member->untold == FW_IO__IF_NEGATIVE || member->type == FW_IO__SIZE ||
        member->type == FW_IO__UNSIGNED)
        json_object_object_add(made, "minimum", json_object_new_int(0));
    if (member->type == FW_IO__UNSIGNED)
        json_object_object_add(made, "maximum",
                               json_object_new_int64(4294967295));
    if (member->most > 0) {
        json_object_object_add(made,
                               member->over ? "exclusiveMinimum" : "minimum",
                               json_object_new_double(member->least));
        json_object_object_add(made, "maximum",
                               json_object_new_double(member->most));
    }
    return made;
}

static struct json_object *text_of(const struct fw_io__member *member)
{
    struct json_object *made = typed("string", member->untold != FW_IO__TOLD);
    if (member->type == FW_IO__DAY)
        put(made, "pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$");
    if (member->type == FW_IO__TEXT || member->type == FW_IO__SAID)
        json_object_object_add(
            made, "maxLength",
            json_object_new_int64((int64_t)member->size - 1));
    return made;
}

static struct json_object *value_of(const struct fw_io__member *member)
{
    struct json_object *made;
    switch (member->type) {
    case FW_IO__NUMBER:
    case FW_IO__DEGREES:
    case FW_IO__METRES:
    case FW_IO__FILE_UNITS:
        return number_of(member, "number");
    case FW_IO__INT:
    case FW_IO__UNSIGNED:
    case FW_IO__SIZE:
        return number_of(member, "integer");
    case FW_IO__BOOL:
        return typed("boolean", false);
    case FW_IO__DAY:
    case FW_IO__TEXT:
    case FW_IO__STRING:
    case FW_IO__SOURCE:
    case FW_IO__REF:
    case FW_IO__SAID:
        return member->words ? one_of(member) : text_of(member);
    case FW_IO__WORD:
        return one_of(member);
    case FW_IO__BITS:
        return list_of(one_of(member));
    case FW_IO__REFS:
        return list_of(typed("string", false));
    case FW_IO__OBJECT:
        made = object_of(member->of);
        if (member->untold != FW_IO__TOLD)
            json_object_object_add(made, "type", types_of("object", true));
        return made;
    case FW_IO__PLACE:
        return reference("place");
    case FW_IO__PACED:
        return reference("paced");
    case FW_IO__RINGS:
        return reference("rings");
    case FW_IO__SIZES:
        return list_of(parsed(member->untold == FW_IO__IF_ZERO
                                  ? "{\"type\": [\"integer\", \"null\"], "
                                    "\"minimum\": 1}"
                                  : "{\"type\": \"integer\", \"minimum\": 0}"));
    case FW_IO__POSTS:
    case FW_IO__ARRAY:
    case FW_IO__ARRAY_SAME:
        return list_of(struct_of(member->of));
    }
    fail_msg("%s is of no type", member->name);
    return NULL;
}

/* Every member is always written. */
static void require(struct json_object *object, const char *key,
                    struct json_object *value)
{
    json_object_array_add(json_object_object_get(object, "required"),
                          json_object_new_string(key));
    json_object_object_add(json_object_object_get(object, "properties"), key,
                           value);
}

static struct json_object *empty_object(void)
{
    return parsed("{\"type\": \"object\", \"additionalProperties\": false, "
                  "\"required\": [], \"properties\": {}}");
}

static void add_members(struct json_object *object,
                        const struct fw_io__kind *kind)
{
    for (size_t i = 0; i < kind->count; i++) {
        struct json_object *value = value_of(&kind->members[i]);
        if (kind->members[i].most <= 0 && kind->members[i].least > 0)
            json_object_object_add(
                value, "minItems",
                json_object_new_int((int)kind->members[i].least));
        put(value, "description", kind->members[i].says);
        require(object, kind->members[i].name, value);
    }
}

static struct json_object *object_of(const struct fw_io__kind *kind)
{
    struct json_object *made = empty_object();
    add_members(made, kind);
    return made;
}

/* The first values of a row. */
static struct json_object *row_of(const struct fw_io__kind *kind, size_t count)
{
    struct json_object *values = json_object_new_array();
    for (size_t i = 0; i < count; i++) {
        struct json_object *value = value_of(&kind->members[i]);
        put(value, "title", kind->members[i].name);
        put(value, "description", kind->members[i].says);
        json_object_array_add(values, value);
    }
    struct json_object *made = typed("array", false);
    json_object_object_add(made, "minItems",
                           json_object_new_int64((int64_t)count));
    json_object_object_add(made, "maxItems",
                           json_object_new_int64((int64_t)count));
    json_object_object_add(made, "prefixItems", values);
    return made;
}

/* Of any length that it may have; a place and a way to it may be null. */
static struct json_object *rows_of(const struct fw_io__kind *kind)
{
    struct json_object *ways = json_object_new_array();
    if (kind == &fw_io__place_kind || kind == &fw_io__paced_kind)
        json_object_array_add(ways, typed("null", false));
    if (kind->least < kind->count)
        json_object_array_add(ways, row_of(kind, kind->least));
    if (json_object_array_length(ways) == 0) {
        json_object_put(ways);
        return row_of(kind, kind->count);
    }
    json_object_array_add(ways, row_of(kind, kind->count));
    struct json_object *made = json_object_new_object();
    json_object_object_add(made, "oneOf", ways);
    return made;
}

static struct json_object *columns(void)
{
    struct json_object *made = empty_object();
    put(made, "description",
        "The names of the values of each kind of row, in their order. The last "
        "two of place and vertices are left off where x and y are lon and "
        "lat.");
    for (size_t i = 0; i < FW_IO__ROW_KINDS; i++) {
        const struct fw_io__kind *kind = fw_io__columns[i].of;
        struct json_object *names = json_object_new_array();
        for (size_t k = 0; k < kind->count; k++)
            json_object_array_add(
                names, json_object_new_string(kind->members[k].name));
        struct json_object *value = json_object_new_object();
        json_object_object_add(value, "const", names);
        require(made, fw_io__columns[i].name, value);
    }
    return made;
}

static struct json_object *definitions(void)
{
    struct json_object *made = json_object_new_object();
    for (size_t i = 0; i < FW_IO__ROW_KINDS; i++)
        json_object_object_add(made, fw_io__columns[i].name,
                               rows_of(fw_io__columns[i].of));
    json_object_object_add(
        made, "rings",
        parsed("{\"description\": \"Pieces; each is a list of rings, the outer "
               "one first; each ring is a list of vertices and not closed.\", "
               "\"type\": \"array\", \"minItems\": 1, \"items\": {\"type\": "
               "\"array\", \"minItems\": 1, \"items\": {\"type\": \"array\", "
               "\"minItems\": 3, \"items\": {\"type\": \"integer\", "
               "\"minimum\": 0}}}}"));
    return made;
}

static struct json_object *rest_list(const struct fw_io__kind *kind,
                                     const char *says)
{
    struct json_object *made = list_of(object_of(kind));
    put(made, "description", says);
    return made;
}

static const char rules_say[] =
    "What the findings by one rule say in common, told once.";
static const char files_say[] =
    "The other files of the plan, to tell a set that is not of one piece.";

static struct json_object *schema(void)
{
    struct json_object *made = json_object_new_object();
    put(made, "$schema", "https://json-schema.org/draft/2020-12/schema");
    put(made, "title", "A plan of foldwright (plan.json)");
    put(made, "description",
        "Every figure of a plan, in the unit that ends its name; masses are of "
        "dry matter, days as ISO 8601; what is not known is null. What there "
        "is much of is a row of values, whose names stand once, in columns. "
        "Places on the map are indexes, from 0, into the vertices of their "
        "field. A name that stands several times in its list is referred to "
        "with a number from its second place on: \"north (2)\".");
    struct json_object *object = empty_object();
    require(object, "format",
            parsed("{\"const\": \"" FW_IO__PLAN_FORMAT "\"}"));
    add_members(object, &fw_io__plan_kind);
    require(object, "rules", rest_list(&fw_io__rule_kind, rules_say));
    require(object, "columns", columns());
    struct json_object *files = rest_list(&fw_io__file_kind, files_say);
    json_object_object_add(files, "maxItems", json_object_new_int(64));
    require(object, "files", files);
    json_object_object_foreach(object, key, value)
        json_object_object_add(made, key, json_object_get(value));
    json_object_put(object);
    json_object_object_add(made, "$defs", definitions());
    return made;
}

/* ---- the page of the guide ---- */

static bool ends_in(const char *name, const char *end)
{
    const size_t length = strlen(name), tail = strlen(end);
    return length >= tail && strcmp(name + length - tail, end) == 0;
}

/* By the end of its name; NULL: it has none. */
static const char *unit_of(const char *name)
{
    static const struct {
        const char *end, *unit;
    } units[] = {
        {"soil_ohm_m", "ohm m"},
        {"_leak_ohm_km", "ohm km"},
        {"_ohm_m", "ohm/m"},
        {"_ohm", "ohm"},
        {"_kg_ha", "kg/ha"},
        {"_kg_day", "kg/day"},
        {"_l_day", "l/day"},
        {"litres_day", "l/day"},
        {"_per_m", "1/m"},
        {"_per_ha", "1/ha"},
        {"_ha", "ha"},
        {"_m2", "m2"},
        {"_m", "m"},
        {"_kg", "kg"},
        {"_l", "l"},
        {"_deg", "degrees"},
        {"_c", "degrees Celsius"},
        {"_v", "V"},
        {"_j", "J"},
        {"joules", "J"},
        {"_min", "min"},
        {"minutes", "min"},
        {"_per_move", "a move"},
        {"_days", "days"},
        {"_s", "s"},
        {"_h", "h"},
        {"share", "share"},
        {"lon", "degrees"},
        {"lat", "degrees"},
    };
    for (size_t i = 0; i < COUNT_OF(units); i++)
        if (ends_in(name, units[i].end))
            return units[i].unit;
    return NULL;
}

static const char *kind_of(const struct fw_io__member *member)
{
    static const char *const kinds[] = {
        [FW_IO__NUMBER] = "number",
        [FW_IO__DEGREES] = "number",
        [FW_IO__METRES] = "number",
        [FW_IO__FILE_UNITS] = "number",
        [FW_IO__INT] = "whole number",
        [FW_IO__UNSIGNED] = "whole number",
        [FW_IO__SIZE] = "whole number",
        [FW_IO__BOOL] = "true or false",
        [FW_IO__DAY] = "day",
        [FW_IO__TEXT] = "text",
        [FW_IO__STRING] = "text",
        [FW_IO__SOURCE] = "text",
        [FW_IO__WORD] = "word",
        [FW_IO__BITS] = "list of words",
        [FW_IO__REF] = "name",
        [FW_IO__REFS] = "list of names",
        [FW_IO__OBJECT] = "object",
        [FW_IO__PLACE] = "place",
        [FW_IO__PACED] = "paced",
        [FW_IO__RINGS] = "rings",
        [FW_IO__SIZES] = "list of whole numbers",
        [FW_IO__POSTS] = "list of posts",
        [FW_IO__SAID] = "text",
        [FW_IO__ARRAY] = "list",
        [FW_IO__ARRAY_SAME] = "list",
    };
    return kinds[member->type];
}

static void print_words(FILE *to, const struct fw_io__member *member)
{
    const char *before = " One of ";
    for (size_t i = 0; i < member->word_count; i++) {
        if (!member->words[i])
            continue;
        fprintf(to, "%s`%s`", before, member->words[i]);
        before = ", ";
    }
    fputs(member->word_count ? "." : "", to);
}

/* A column that plan.json has not comes from elsewhere in it. */
static void print_row(FILE *to, const struct fw_io__member *member)
{
    const char *unit = unit_of(member->name);
    fprintf(to, "| `%s` | %s | %s | %s | %s | %s", member->name,
            kind_of(member),
            unit && strcmp(kind_of(member), "number") == 0 ? unit : "",
            fw_io__may_be_null(member) ? "may be" : "",
            member->work      ? "only"
            : member->on_maps ? "too"
                              : "",
            member->says);
    print_words(to, member);
    fputs(" |\n", to);
}

struct page {
    FILE *to;
    const struct fw_io__kind *told[64];
    size_t count;
};

static const char *layer_of(const struct fw_io__kind *kind)
{
    for (size_t i = 0; i < FW_REPORT_LAYERS; i++)
        if (fw_export__layers[i].of == kind)
            return fw_export__layers[i].name;
    return NULL;
}

static void print_kind(struct page *page, const char *name, const char *says,
                       const struct fw_io__kind *kind)
{
    for (size_t i = 0; i < page->count; i++)
        if (page->told[i] == kind)
            return;
    assert_true(page->count < COUNT_OF(page->told));
    page->told[page->count++] = kind;
    fprintf(page->to, "\n## %s\n\n%s", name, says);
    if (layer_of(kind))
        fprintf(page->to, " On maps the layer `%s`.", layer_of(kind));
    fputs(kind->least ? " A row of values.\n\n" : "\n\n", page->to);
    fputs("| member | type | unit | null | on maps | what |\n"
          "| --- | --- | --- | --- | --- | --- |\n",
          page->to);
    for (size_t i = 0; i < kind->all_count; i++)
        print_row(page->to, &kind->all[i]);
    for (size_t i = 0; i < kind->count; i++)
        if (kind->members[i].of)
            print_kind(page, kind->members[i].name, kind->members[i].says,
                       kind->members[i].of);
}

/* A table as text for spreadsheets. */
static void print_csv(FILE *to, const struct fw_export__csv *csv)
{
    fprintf(to,
            "\n## %s\n\n| column | of | member | what |\n"
            "| --- | --- | --- | --- |\n",
            csv->name);
    for (size_t i = 0; i < csv->count; i++) {
        const struct fw_export__column *column = &csv->columns[i];
        const struct fw_io__member *member = fw_export__column_member(column);
        assert_int_equal(member != NULL, column->member != NULL);
        fprintf(to, "| `%s` | %s | %s%s%s | %s |\n", column->name,
                fw_export__about_words[column->about], member ? "`" : "",
                member ? member->name : "", member ? "`" : "",
                column->says ? column->says : member->says);
    }
}

static char *guide(void)
{
    char *text = NULL;
    size_t count = 0;
    struct page page = {.to = open_memstream(&text, &count)};
    assert_non_null(page.to);
    fputs("# The members of a plan\n\n"
          "What `plan.json` holds, and the columns of `plan.gpkg` and\n"
          "`plan.geojson`, from the table in `src/store/members.c`. *On maps*: "
          "`too` is a\ncolumn of that name and the same value, `only` one that "
          "`plan.json` has not, since\nit follows from the rest. What nobody "
          "told, and what there is none of, is null in\neach of these files. "
          "Every member is written, null too, and the schema asks for "
          "all;\nwho reads a plan takes one that may be null and is not "
          "there for null, since the\nbuild that wrote it may be older than "
          "the member: all others must be there. io.md\ntells how the file is "
          "written and checked, plan.md what follows from what.\n",
          page.to);
    print_kind(&page, "plan", "The whole of it.", &fw_io__plan_kind);
    print_kind(&page, "rules", rules_say, &fw_io__rule_kind);
    print_kind(&page, "files", files_say, &fw_io__file_kind);
    print_kind(&page, "place", "A point that is no vertex.",
               &fw_io__place_kind);
    print_kind(&page, "paced", "How a person finds the end of a line.",
               &fw_io__paced_kind);
    for (size_t i = 0; i < FW_EXPORT__CSVS; i++)
        print_csv(page.to, &fw_export__csvs[i]);
    assert_int_equal(fclose(page.to), 0);
    return text;
}

/* ---- what stands in docs ---- */

static void is_in_docs(const char *name, const char *wanted)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/../docs/%s", getenv("FW_SAMPLES"), name);
    FILE *file = fopen(path, getenv("BLESS") ? "w+b" : "rb");
    assert_non_null(file);
    if (getenv("BLESS"))
        fputs(wanted, file);
    rewind(file);
    char *got = calloc(1, strlen(wanted) + 2);
    assert_non_null(got);
    const size_t count = fread(got, 1, strlen(wanted) + 1, file);
    fclose(file);
    if (count != strlen(wanted) || strcmp(got, wanted) != 0)
        fail_msg("docs/%s is not what the table of members says: BLESS=1 "
                 "writes it",
                 name);
    free(got);
}

static void schema_is_that_of_the_table(void **state)
{
    (void)state;
    struct json_object *made = schema();
    char *text = NULL;
    size_t count = 0;
    FILE *to = open_memstream(&text, &count);
    assert_non_null(to);
    fprintf(to, "%s\n",
            json_object_to_json_string_ext(
                made, JSON_C_TO_STRING_PRETTY | JSON_C_TO_STRING_SPACED |
                          JSON_C_TO_STRING_NOSLASHESCAPE));
    fclose(to);
    is_in_docs("plan.schema.json", text);
    free(text);
    json_object_put(made);
}

static void guide_is_that_of_the_table(void **state)
{
    (void)state;
    char *text = guide();
    is_in_docs("guide/members.md", text);
    free(text);
}

/* A reader sees from the name what a number is of. */
static void check_units(const struct fw_io__kind *kind)
{
    static const char *const plain[] = {
        "slack",      "use",         "legume",    "elongation", "quantity",
        "price",      "cost",        "earth_rod", "joule",      "passes",
        "size",       "x",           "y",         "pipe_price", "trough_price",
        "tank_price", "grass_water", "spare",     "owned",      "pack",
    };
    for (size_t i = 0; i < kind->all_count; i++) {
        const struct fw_io__member *member = &kind->all[i];
        bool is_plain = false;
        for (size_t k = 0; k < COUNT_OF(plain); k++)
            is_plain |= strcmp(member->name, plain[k]) == 0;
        if (strcmp(kind_of(member), "number") == 0 && !unit_of(member->name) &&
            !is_plain)
            fail_msg("%s has no unit in its name", member->name);
        const char *end = member->says + strlen(member->says) - 1;
        if (*end != '.' && *end != '?')
            fail_msg("what %s is is no sentence", member->name);
        if (member->of)
            check_units(member->of);
    }
}

static void names_have_units_and_sentences(void **state)
{
    (void)state;
    check_units(&fw_io__plan_kind);
    check_units(&fw_io__rule_kind);
    check_units(&fw_io__file_kind);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(schema_is_that_of_the_table),
        cmocka_unit_test(guide_is_that_of_the_table),
        cmocka_unit_test(names_have_units_and_sentences),
    };
    return cmocka_run_group_tests_name("io_members", tests, NULL, NULL);
}
