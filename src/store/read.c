/* plan.json as a file: finding it, its bounds, and the files beside it. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/inputs.h"
#include "io/plan_files.h"
#include "io/words.h"
#include "plan/place.h"
#include "store/reading.h"
#include "store/store.h"

#include <string.h>
#include <unistd.h>

static const size_t most_bytes = 268435456; /* 256 MiB */
enum { most_depth = 32 };

static enum fw_status parse(const char *bytes, size_t count,
                            struct json_object **root, struct fw_error *err)
{
    struct json_tokener *tokener = json_tokener_new_ex(most_depth);
    if (!tokener)
        return fw_fail_memory(err);
    json_tokener_set_flags(tokener,
                           JSON_TOKENER_STRICT | JSON_TOKENER_VALIDATE_UTF8);
    const struct fw_locale locale = fw_locale_enter();
    /* With its NUL, or a file cut short would count as "more to come". */
    *root = json_tokener_parse_ex(tokener, bytes, (int)count + 1);
    fw_locale_leave(locale);
    const enum json_tokener_error code = json_tokener_get_error(tokener);
    const size_t end = json_tokener_get_parse_end(tokener);
    json_tokener_free(tokener);
    if (code == json_tokener_success && *root)
        return FW_OK;
    json_object_put(*root);
    *root = NULL;
    return fw_fail(err, FW_EINPUT,
                   "is broken at byte %zu: %s; let it be planned again", end,
                   code == json_tokener_success
                       ? "there is nothing in it"
                       : json_tokener_error_desc(code));
}

static const char *format_of(struct json_object *root)
{
    struct json_object *format;
    return json_object_is_type(root, json_type_object) &&
                   json_object_object_get_ex(root, "format", &format) &&
                   json_object_is_type(format, json_type_string)
               ? json_object_get_string(format)
               : "";
}

static enum fw_status check_format(struct json_object *root,
                                   struct fw_error *err)
{
    const char *format = format_of(root);
    const bool is_ours = strcmp(format, FW_IO__PLAN_FORMAT) == 0;
    if (is_ours && json_object_object_get_ex(root, "columns", NULL))
        return FW_OK;
    if (is_ours)
        return fw_fail(err, FW_EINPUT,
                       " is a plan of before its rows were numbers under "
                       "`columns`; let the farm be planned again");
    if (strcmp(format, "foldwright-plan/1") == 0)
        return fw_fail(
            err, FW_EINPUT,
            " is a plan of the older kind \"foldwright-plan/1\", "
            "which told its moves otherwise; let the farm be planned "
            "again");
    return fw_fail(err, FW_EINPUT,
                   " is not a plan: its \"format\" is not "
                   "\"" FW_IO__PLAN_FORMAT "\"");
}

/* ---- the whole ---- */

/* Free with fw_free. */
static char *folder_of(const char *path)
{
    char *folder = fw_strdup(path);
    if (folder)
        folder[fw_io__base_name(path) - path] = '\0';
    return folder;
}

static enum fw_status look_around(struct fw_plan *plan,
                                  struct json_object *root, const char *path,
                                  struct fw_notes *notes, struct fw_error *err)
{
    char *folder = folder_of(path);
    if (!folder)
        return fw_fail_memory(err);
    enum fw_status status = fw_io__check_files(root, folder, notes, err);
    if (!status)
        status = fw_io__place_inputs(&plan->inputs, folder, err);
    if (!status)
        status = fw_io__place_told(&plan->told, folder, err);
    if (!status && notes)
        status = fw_io__check_inputs(&plan->inputs, notes, err);
    fw_free(folder);
    return status;
}

static enum fw_status read_root(struct json_object *root, const char *path,
                                struct fw_plan **out, struct fw_notes *notes,
                                struct fw_error *err)
{
    const enum fw_status format = check_format(root, err);
    if (format)
        return format;
    struct fw_plan *plan = fw_alloc(1, sizeof *plan);
    if (!plan)
        return fw_fail_memory(err);
    enum fw_status status = fw_io__plan_fill(plan, root, err);
    if (!status)
        status = fw_io__plan_check(plan, err);
    if (!status)
        status = fw_plan__number_rounds(plan, err);
    if (!status)
        status = look_around(plan, root, path, notes, err);
    if (status)
        fw_plan_free(plan);
    else
        *out = plan;
    return status;
}

static enum fw_status read_path(const char *path, struct fw_plan **out,
                                struct fw_notes *notes, struct fw_error *err)
{
    char *bytes;
    size_t count;
    enum fw_status status = fw_file_get(path, most_bytes, &bytes, &count, err);
    if (status)
        return status; /* begins with the path */
    struct json_object *root = NULL;
    status = parse(bytes, count, &root, err);
    if (status)
        fw_fail_where(err, " ");
    fw_bytes_free(bytes);
    if (!status)
        status = read_root(root, path, out, notes, err);
    json_object_put(root);
    if (!status || !err)
        return status;
    /* ".fields[2].area_ha: ..." becomes "plan.json: fields[2].area_ha: ..." */
    if (*err->text == '.' || *err->text == ' ')
        memmove(err->text, err->text + 1, strlen(err->text));
    return fw_fail_where(err, "%s: ", path);
}

static enum fw_status check_mark(const char *folder, struct fw_error *err)
{
    bool marked = false;
    const enum fw_status status = fw_io__find_mark(folder, &marked, err);
    if (status || !marked)
        return status;
    return fw_fail(err, FW_EINPUT,
                   "%s: the writing of a plan was cut off here, so that the "
                   "files are of two plans: plan again",
                   *folder ? folder : ".");
}

/* Nobody writes there meanwhile. */
static enum fw_status read_locked(const char *file, const char *folder,
                                  struct fw_plan **out, struct fw_notes *notes,
                                  struct fw_error *err)
{
    int lock;
    enum fw_status status = fw_io__lock(folder, false, &lock, err);
    if (status)
        return status;
    if (notes)
        status = check_mark(folder, err);
    if (!status)
        status = read_path(file, out, notes, err);
    if (lock >= 0)
        close(lock);
    return status;
}

enum fw_status fw_plan_json_read(const char *path, struct fw_plan **out,
                                 struct fw_notes *notes, struct fw_error *err)
{
    if (!path || !out)
        return fw_fail_null(err, "a path, or where the plan goes,");
    char *file = fw_io__plan_path(path);
    char *folder = file ? folder_of(file) : NULL;
    const enum fw_status status =
        folder ? read_locked(file, folder, out, notes, err)
               : fw_fail_memory(err);
    fw_free(folder);
    fw_free(file);
    return status;
}
