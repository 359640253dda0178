/* Rows of values of a plan.json: their names, once, and their shape. */
#include "base/fail.h"
#include "base/text.h"
#include "store/reading.h"

#include <stdio.h>
#include <string.h>

static bool lacks(unsigned lacking, size_t column)
{
    return lacking >> column & 1;
}

/* "lon, lat, x, y" */
static enum fw_status fail_names(const struct fw_io__kind *kind,
                                 unsigned lacking, const char *before,
                                 struct fw_error *err)
{
    struct fw_text names = {0};
    for (size_t i = 0; i < kind->count; i++)
        if (!lacks(lacking, i))
            fw_text_addf(&names, "%s%s", names.length ? ", " : "",
                         kind->members[i].name);
    enum fw_status status = fw_text_done(&names, err);
    if (!status)
        status = fw_fail(err, FW_EINPUT, "%s%s%s", before, names.bytes,
                         kind->least < kind->count ? ", or all but the last two"
                                                   : "");
    fw_text_release(&names);
    return status;
}

static bool is_text(struct json_object *from, const char *text)
{
    return json_object_is_type(from, json_type_string) &&
           strcmp(json_object_get_string(from), text) == 0;
}

/* All names, in their order, but for those of what may be null. */
static bool find_lacking(const struct fw_io__kind *kind,
                         struct json_object *from, unsigned *lacking)
{
    if (!json_object_is_type(from, json_type_array))
        return false;
    size_t at = 0;
    for (size_t i = 0; i < kind->count; i++) {
        const struct fw_io__member *member = &kind->members[i];
        if (is_text(json_object_array_get_idx(from, at), member->name))
            at++;
        else if (fw_io__may_be_null(member))
            *lacking |= 1u << i;
        else
            return false;
    }
    return at == json_object_array_length(from);
}

enum fw_status fw_io__read_columns(struct fw_io__reader *reader,
                                   struct json_object *root)
{
    struct json_object *columns = json_object_object_get(root, "columns");
    if (!json_object_is_type(columns, json_type_object))
        return fw_fail(reader->err, FW_EINPUT, ".columns: expected an object");
    for (size_t k = 0; k < FW_IO__ROW_KINDS; k++) {
        const struct fw_io__columns *row = &fw_io__columns[k];
        if (find_lacking(row->of, json_object_object_get(columns, row->name),
                         &reader->lacking[k]))
            continue;
        fail_names(row->of, 0, "expected ", reader->err);
        return fw_fail_where(reader->err, ".columns.%s: ", row->name);
    }
    return FW_OK;
}

static unsigned lacking_of(const struct fw_io__reader *reader,
                           const struct fw_io__kind *kind)
{
    for (size_t k = 0; k < FW_IO__ROW_KINDS; k++)
        if (fw_io__columns[k].of == kind)
            return reader->lacking[k];
    return 0;
}

enum fw_status fw_io__check_row(struct fw_io__reader *reader,
                                const struct fw_io__kind *kind,
                                struct json_object *row, unsigned *lacking)
{
    char before[80];
    *lacking = lacking_of(reader, kind);
    if (!json_object_is_type(row, json_type_array))
        return fail_names(kind, *lacking, ": expected a row of ", reader->err);
    size_t wanted = kind->count;
    for (size_t i = 0; i < kind->count; i++)
        wanted -= lacks(*lacking, i);
    const size_t count = json_object_array_length(row);
    const bool is_short = kind->least < kind->count && count == kind->least;
    if (count == wanted || is_short)
        return FW_OK;
    snprintf(before, sizeof before, ": has %zu values; expected %zu: ", count,
             wanted);
    return fail_names(kind, *lacking, before, reader->err);
}
