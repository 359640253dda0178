/* plan.json of the plan by hand: written, spoiled, read. */
#ifndef FW_PLAN_TEXT_H
#define FW_PLAN_TEXT_H

#include "io/io.h"
#include "plan_on_earth.h"
#include "scratch.h"
#include "store/store.h"

#include <json-c/json.h>

static inline char *write_plan(const struct fw_plan *plan)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {0};
    if (fw_plan_json_write(plan, NULL, 0, &bytes, &count, &err))
        fail_msg("%s", err.text);
    assert_int_equal(strlen(bytes), count);
    return bytes;
}

static inline struct fw_plan *read_plan(const char *path)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &plan, NULL, &err))
        fail_msg("%s", err.text);
    return plan;
}

static inline void refuses(const char *path, const char *expected)
{
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    if (fw_plan_json_read(path, &plan, NULL, &err) == FW_OK)
        fail_msg("a plan with a bad %s was read", expected);
    assert_int_equal(err.status, FW_EINPUT);
    assert_null(plan);
    if (!strstr(err.text, expected) || !strstr(err.text, "plan.json: "))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

static inline struct json_object *parse_by_hand(void)
{
    const struct fw_plan plan = by_hand_on_earth();
    char *bytes = write_plan(&plan);
    struct json_object *root = json_tokener_parse(bytes);
    assert_non_null(root);
    fw_bytes_free(bytes);
    return root;
}

static inline void put_json(const char *path, struct json_object *root)
{
    put_text(path, json_object_to_json_string(root));
}

/* Into a row of the list; where it is one of values, by its column. */
static inline void put_value(struct json_object *root, const char *list,
                             size_t row, const char *member,
                             struct json_object *value)
{
    struct json_object *object =
        json_object_array_get_idx(json_object_object_get(root, list), row);
    struct json_object *names =
        json_object_object_get(json_object_object_get(root, "columns"), list);
    if (json_object_is_type(object, json_type_object)) {
        json_object_object_add(object, member, value);
        return;
    }
    for (size_t i = 0; i < json_object_array_length(names); i++)
        if (!strcmp(json_object_get_string(json_object_array_get_idx(names, i)),
                    member)) {
            json_object_array_put_idx(object, i, value);
            return;
        }
    fail_msg("%s has no column %s", list, member);
}

static inline void change(const char *path, const char *list,
                          const char *member, const char *value,
                          const char *expected)
{
    struct json_object *root = parse_by_hand();
    if (list && value)
        put_value(root, list, 0, member, json_tokener_parse(value));
    else if (!value)
        json_object_object_del(list ? json_object_array_get_idx(
                                          json_object_object_get(root, list), 0)
                                    : root,
                               member);
    else
        json_object_object_add(root, member, json_tokener_parse(value));
    put_json(path, root);
    json_object_put(root);
    refuses(path, expected);
}

#endif
