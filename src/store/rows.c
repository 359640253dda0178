/* Rows of values of a plan.json: their names, once, and their shape. */
#include "base/fail.h"
#include "base/text.h"
#include "store/reading.h"

#include <stdio.h>
#include <string.h>

/* "lon, lat, x, y" */
static enum fw_status fail_names(const struct fw_io__kind *kind,
                                 const char *before, struct fw_error *err)
{
    struct fw_text names = {0};
    for (size_t i = 0; i < kind->count; i++)
        fw_text_addf(&names, "%s%s", i ? ", " : "", kind->members[i].name);
    enum fw_status status = fw_text_done(&names, err);
    if (!status)
        status = fw_fail(err, FW_EINPUT, "%s%s%s", before, names.bytes,
                         kind->least < kind->count ? ", or all but the last two"
                                                   : "");
    fw_text_release(&names);
    return status;
}

static bool are_names(const struct fw_io__kind *kind, struct json_object *from)
{
    if (!json_object_is_type(from, json_type_array) ||
        json_object_array_length(from) != kind->count)
        return false;
    for (size_t i = 0; i < kind->count; i++) {
        struct json_object *name = json_object_array_get_idx(from, i);
        if (!json_object_is_type(name, json_type_string) ||
            strcmp(json_object_get_string(name), kind->members[i].name) != 0)
            return false;
    }
    return true;
}

enum fw_status fw_io__check_columns(struct json_object *root,
                                    struct fw_error *err)
{
    struct json_object *columns = json_object_object_get(root, "columns");
    if (!json_object_is_type(columns, json_type_object))
        return fw_fail(err, FW_EINPUT, ".columns: expected an object");
    for (size_t k = 0; k < FW_IO__ROW_KINDS; k++) {
        const struct fw_io__columns *row = &fw_io__columns[k];
        if (are_names(row->of, json_object_object_get(columns, row->name)))
            continue;
        fail_names(row->of, "expected ", err);
        return fw_fail_where(err, ".columns.%s: ", row->name);
    }
    return FW_OK;
}

enum fw_status fw_io__check_row(const struct fw_io__kind *kind,
                                struct json_object *row, struct fw_error *err)
{
    char before[80];
    if (!json_object_is_type(row, json_type_array))
        return fail_names(kind, ": expected a row of ", err);
    const size_t count = json_object_array_length(row);
    if (count == kind->count || count == kind->least)
        return FW_OK;
    snprintf(before, sizeof before, ": has %zu values; expected %zu: ", count,
             kind->count);
    return fail_names(kind, before, err);
}
