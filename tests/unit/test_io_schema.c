/* docs/plan.schema.json says what plan.json holds, no more and no less. */
#include "farm/farm.h"
#include "io/io.h"
#include "make/make.h"
#include "plan_on_earth.h"
#include "store/store.h"
#include <foldwright/told.h>

#include <json-c/json.h>
#include <stdlib.h>
#include <string.h>

/* ---- JSON Schema, as far as that file uses it ---- */

static struct json_object *schema_root;

static struct json_object *of(struct json_object *object, const char *key)
{
    struct json_object *found = NULL;
    if (json_object_is_type(object, json_type_object))
        json_object_object_get_ex(object, key, &found);
    return found;
}

static bool type_is(struct json_object *value, const char *type)
{
    if (!strcmp(type, "number"))
        return json_object_is_type(value, json_type_int) ||
               json_object_is_type(value, json_type_double);
    if (!strcmp(type, "integer"))
        return json_object_is_type(value, json_type_int);
    return !strcmp(type, json_type_to_name(json_object_get_type(value)));
}

static bool has_type(struct json_object *types, struct json_object *value)
{
    if (json_object_is_type(types, json_type_string))
        return type_is(value, json_object_get_string(types));
    for (size_t i = 0; i < json_object_array_length(types); i++)
        if (type_is(value, json_object_get_string(
                               json_object_array_get_idx(types, i))))
            return true;
    return false;
}

static bool conforms(struct json_object *schema, struct json_object *value);

static bool members_conform(struct json_object *schema,
                            struct json_object *value)
{
    struct json_object *properties = of(schema, "properties");
    struct json_object *required = of(schema, "required");
    for (size_t i = 0; required && i < json_object_array_length(required);
         i++) {
        const char *key =
            json_object_get_string(json_object_array_get_idx(required, i));
        if (!json_object_object_get_ex(value, key, NULL)) {
            print_error("%s is missing\n", key);
            return false;
        }
    }
    json_object_object_foreach(value, key, member)
    {
        struct json_object *own = of(properties, key);
        if (!own || !conforms(own, member)) {
            print_error("%s is not as in the schema\n", key);
            return false;
        }
    }
    return true;
}

static bool items_conform(struct json_object *schema, struct json_object *value)
{
    struct json_object *all = of(schema, "items");
    struct json_object *first = of(schema, "prefixItems");
    const size_t count = json_object_array_length(value);
    struct json_object *least = of(schema, "minItems");
    struct json_object *most = of(schema, "maxItems");
    if ((least && (int64_t)count < json_object_get_int64(least)) ||
        (most && (int64_t)count > json_object_get_int64(most)))
        return false;
    for (size_t i = 0; i < count; i++) {
        struct json_object *item = json_object_array_get_idx(value, i);
        struct json_object *own = first && i < json_object_array_length(first)
                                      ? json_object_array_get_idx(first, i)
                                      : all;
        if (own && !conforms(own, item))
            return false;
    }
    return true;
}

static bool is_among(struct json_object *words, struct json_object *value)
{
    for (size_t i = 0; i < json_object_array_length(words); i++)
        if (json_object_equal(json_object_array_get_idx(words, i), value))
            return true;
    return false;
}

static bool in_range(struct json_object *schema, struct json_object *value)
{
    struct json_object *least = of(schema, "minimum");
    struct json_object *most = of(schema, "maximum");
    struct json_object *over = of(schema, "exclusiveMinimum");
    struct json_object *length = of(schema, "maxLength");
    if (json_object_is_type(value, json_type_string))
        return !length || json_object_get_string_len(value) <=
                              json_object_get_int64(length);
    if (!json_object_is_type(value, json_type_int) &&
        !json_object_is_type(value, json_type_double))
        return true;
    const double is = json_object_get_double(value);
    return (!least || is >= json_object_get_double(least)) &&
           (!most || is <= json_object_get_double(most)) &&
           (!over || is > json_object_get_double(over));
}

static bool conforms(struct json_object *schema, struct json_object *value)
{
    struct json_object *ref = of(schema, "$ref");
    if (ref) /* "#/$defs/place" */
        schema = of(of(schema_root, "$defs"),
                    strrchr(json_object_get_string(ref), '/') + 1);
    assert_non_null(schema);
    struct json_object *one = of(schema, "oneOf");
    for (size_t i = 0; one && i < json_object_array_length(one); i++)
        if (conforms(json_object_array_get_idx(one, i), value))
            return true;
    if (one || !in_range(schema, value) ||
        (of(schema, "type") && !has_type(of(schema, "type"), value)) ||
        (of(schema, "enum") && !is_among(of(schema, "enum"), value)) ||
        (of(schema, "const") && !json_object_equal(of(schema, "const"), value)))
        return false;
    if (json_object_is_type(value, json_type_object))
        return members_conform(schema, value);
    return !json_object_is_type(value, json_type_array) ||
           items_conform(schema, value);
}

/* ---- what is written ---- */

static int read_schema(void **state)
{
    (void)state;
    char path[4096];
    snprintf(path, sizeof path, "%s/../docs/plan.schema.json",
             getenv("FW_SAMPLES"));
    schema_root = json_object_from_file(path);
    return schema_root ? 0 : -1;
}

static int free_schema(void **state)
{
    (void)state;
    json_object_put(schema_root);
    return 0;
}

static struct json_object *write_json(const struct fw_plan *plan)
{
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    struct json_object *root = json_tokener_parse(bytes);
    fw_bytes_free(bytes);
    assert_non_null(root);
    return root;
}

static void written_plan_is_as_the_schema_says(void **state)
{
    (void)state;
    const struct fw_plan plan = by_hand_on_earth();
    struct json_object *root = write_json(&plan);
    assert_true(conforms(schema_root, root));
    json_object_object_add(root, "more", NULL);
    assert_false(conforms(schema_root, root));
    json_object_object_del(root, "more");
    json_object_object_del(root, "moves");
    assert_false(conforms(schema_root, root));
    json_object_put(root);
}

static void plan_of_the_sample_farm_is_as_the_schema_says(void **state)
{
    (void)state;
    char path[4096];
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_request request = {.farm_path = path};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    struct json_object *root = write_json(plan);
    assert_true(conforms(schema_root, root));
    json_object_put(root);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Every member is always written, so that each is asked for. */
static void check_required(struct json_object *schema, const char *name)
{
    struct json_object *properties = of(schema, "properties");
    struct json_object *required = of(schema, "required");
    if (properties && required) {
        if ((int)json_object_array_length(required) !=
            json_object_object_length(properties))
            fail_msg("%s: not every member is asked for", name);
        for (size_t i = 0; i < json_object_array_length(required); i++)
            assert_non_null(
                of(properties, json_object_get_string(
                                   json_object_array_get_idx(required, i))));
    } else if (properties &&
               json_object_is_type(properties, json_type_object)) {
        fail_msg("%s: its members are not asked for", name);
    }
    if (json_object_is_type(schema, json_type_object)) {
        json_object_object_foreach(schema, key, value)
            check_required(value, key);
    }
    for (size_t i = 0; json_object_is_type(schema, json_type_array) &&
                       i < json_object_array_length(schema);
         i++)
        check_required(json_object_array_get_idx(schema, i), name);
}

static void schema_asks_for_every_member(void **state)
{
    (void)state;
    check_required(schema_root, "plan");
}

/* The titles of a row's values are its columns. */
static void check_titles(struct json_object *row, const char *name)
{
    struct json_object *names =
        of(of(of(of(of(schema_root, "properties"), "columns"), "properties"),
              name),
           "const");
    struct json_object *values = of(row, "prefixItems");
    const size_t count = json_object_array_length(values);
    assert_in_range(count, 2, json_object_array_length(names));
    assert_int_equal(json_object_get_int64(of(row, "minItems")), count);
    assert_int_equal(json_object_get_int64(of(row, "maxItems")), count);
    for (size_t i = 0; i < count; i++)
        if (!json_object_equal(
                of(json_object_array_get_idx(values, i), "title"),
                json_object_array_get_idx(names, i)))
            fail_msg("value %zu of %s is called otherwise", i, name);
}

static void rows_have_the_names_of_their_columns(void **state)
{
    (void)state;
    static const char *const lists[] = {
        "place",    "vertices", "paced",     "posts", "power_days",
        "readings", "stays",    "standings", "moves", "steps"};
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        struct json_object *shape = of(of(schema_root, "$defs"), lists[i]);
        struct json_object *one = of(shape, "oneOf");
        if (!one)
            check_titles(shape, lists[i]);
        for (size_t k = 0; one && k < json_object_array_length(one); k++) {
            struct json_object *way = json_object_array_get_idx(one, k);
            if (of(way, "prefixItems"))
                check_titles(way, lists[i]);
        }
    }
}

static void odd_row_is_not_as_the_schema_says(void **state)
{
    (void)state;
    static const char *const odd[] = {
        "[[1, \"gap\", 10.5]]",
        "[[1, \"gap\", 10.5, 46.5, 0]]",
        "[[1, \"prop\", 10.5, 46.5]]",
        "[[\"1\", \"gap\", 10.5, 46.5]]",
        "[{\"at_m\": 1}]",
    };
    const struct fw_plan plan = by_hand_on_earth();
    struct json_object *root = write_json(&plan);
    struct json_object *fence =
        json_object_array_get_idx(of(root, "fences"), 0);
    json_object_object_add(fence, "posts",
                           json_tokener_parse("[[1, \"gap\", 10.5, 46.5]]"));
    assert_true(conforms(schema_root, root));
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
        json_object_object_add(fence, "posts", json_tokener_parse(odd[i]));
        assert_false(conforms(schema_root, root));
    }
    json_object_put(root);
}

static bool is_null(struct json_object *rows, size_t row, size_t value)
{
    return !json_object_array_get_idx(json_object_array_get_idx(rows, row),
                                      value);
}

/* Metres of a step that is no walk, volts of a day on which nothing is live,
 * what a farm lacks that has not told what it owns. */
static void what_there_is_not_is_null(void **state)
{
    (void)state;
    struct fw_plan plan = by_hand_on_earth();
    plan.totals.lack_known = false;
    struct json_object *root = write_json(&plan);
    struct json_object *told = of(root, "steps");
    struct json_object *days = of(root, "power_days");
    size_t walks = 0;
    for (size_t i = 0; i < plan.time.step_count; i++) {
        const bool walk = plan.time.steps[i].kind == FW_STEP_WALK;
        assert_int_equal(is_null(told, i, 6), !walk);
        assert_int_equal(is_null(told, i, 7), !walk);
        walks += walk;
    }
    assert_true(walks > 0);
    for (size_t value = 3; value < 11; value++) {
        const bool anywhere = value < 7 || value == 10;
        assert_false(is_null(days, 0, value));
        assert_int_equal(is_null(days, 1, value), anywhere);
    }
    assert_true(conforms(schema_root, root));
    assert_null(of(of(root, "totals"), "lack"));
    json_object_put(root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_there_is_not_is_null),
        cmocka_unit_test(written_plan_is_as_the_schema_says),
        cmocka_unit_test(plan_of_the_sample_farm_is_as_the_schema_says),
        cmocka_unit_test(schema_asks_for_every_member),
        cmocka_unit_test(rows_have_the_names_of_their_columns),
        cmocka_unit_test(odd_row_is_not_as_the_schema_says),
    };
    return cmocka_run_group_tests_name("io_schema", tests, read_schema,
                                       free_schema);
}
