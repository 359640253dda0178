/* plan.json as a file: finding it, its bounds, and the files beside it. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/plan_read.h"
#include "io/words.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static const size_t most_bytes = 268435456; /* 256 MiB */
enum { most_depth = 32, most_files = 64 };

static bool is_folder(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

/* The file itself, or plan.json in the folder; free with fw_free. */
static char *path_of(const char *path)
{
    if (!is_folder(path))
        return fw_strdup(path);
    const size_t room = strlen(path) + sizeof "/plan.json";
    char *file = fw_alloc(room, 1);
    if (file)
        snprintf(file, room, "%s/plan.json", path);
    return file;
}

static enum fw_status parse(const char *bytes, size_t count,
                            struct json_object **root, struct fw_error *err)
{
    struct json_tokener *tokener = json_tokener_new_ex(most_depth);
    if (!tokener)
        return fw_fail_memory(err);
    json_tokener_set_flags(tokener,
                           JSON_TOKENER_STRICT | JSON_TOKENER_VALIDATE_UTF8);
    const struct fw_text_locale locale = fw_text_locale_enter();
    /* With its NUL, or a file cut short would count as "more to come". */
    *root = json_tokener_parse_ex(tokener, bytes, (int)count + 1);
    fw_text_locale_leave(locale);
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
    if (strcmp(format, FW_IO__PLAN_FORMAT) == 0)
        return FW_OK;
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

/* ---- the files of the same plan ---- */

static enum fw_status compare_file(const char *folder, const char *name,
                                   size_t size, unsigned crc32,
                                   struct fw_notes *notes, struct fw_error *err)
{
    const size_t room = strlen(folder) + strlen(name) + 2;
    char *path = fw_alloc(room, 1);
    if (!path)
        return fw_fail_memory(err);
    snprintf(path, room, "%s%s", folder, name);
    char *bytes = NULL;
    size_t count = 0;
    const char *what = NULL;
    struct fw_error reason = {0};
    enum fw_status status = fw_file_get(path, size, &bytes, &count, &reason);
    struct stat info;
    if (status && stat(path, &info))
        what = "is missing; plan again to have it back";
    else if (status == FW_EINPUT || count != size ||
             fw_file_crc32(bytes, count) != crc32)
        what = "is not the one that was written with plan.json";
    fw_file_free(bytes);
    if (status == FW_ENOMEM)
        status = fw_fail_memory(err);
    else
        status =
            what ? fw_notes_add(notes, FW_LEVEL_WARNING, path, err, "%s", what)
                 : FW_OK;
    fw_free(path);
    return status;
}

static enum fw_status check_file(struct json_object *row, const char *folder,
                                 struct fw_notes *notes, struct fw_error *err)
{
    struct json_object *name, *size, *sum;
    if (!json_object_object_get_ex(row, "name", &name) ||
        !json_object_object_get_ex(row, "size", &size) ||
        !json_object_object_get_ex(row, "crc32", &sum) ||
        !json_object_is_type(name, json_type_string) ||
        !json_object_is_type(size, json_type_int) ||
        !json_object_is_type(sum, json_type_int))
        return fw_fail(err, FW_EINPUT,
                       ".files: expected name, size and crc32 of each file");
    const char *text = json_object_get_string(name);
    /* A name, not a way out of the folder. */
    if (!*text || strchr(text, '/') || strlen(text) > 255)
        return fw_fail(err, FW_EINPUT,
                       ".files: \"%.60s\" is not the name of a file", text);
    const int64_t bytes = json_object_get_int64(size);
    const int64_t crc32 = json_object_get_int64(sum);
    if (bytes < 0 || bytes > (int64_t)4 * (int64_t)most_bytes || crc32 < 0 ||
        crc32 > 0xffffffffLL)
        return fw_fail(err, FW_EINPUT, ".files: %.60s has an absurd size",
                       text);
    return compare_file(folder, text, (size_t)bytes, (unsigned)crc32, notes,
                        err);
}

static enum fw_status check_files(struct json_object *root, const char *path,
                                  struct fw_notes *notes, struct fw_error *err)
{
    struct json_object *files;
    if (!json_object_object_get_ex(root, "files", &files) ||
        !json_object_is_type(files, json_type_array) ||
        json_object_array_length(files) > most_files)
        return fw_fail(err, FW_EINPUT, ".files: expected a list of up to %d",
                       most_files);
    char *folder = fw_strdup(path);
    if (!folder)
        return fw_fail_memory(err);
    folder[fw_io__base_name(path) - path] = '\0';
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < json_object_array_length(files) && !status; i++) {
        struct json_object *row = json_object_array_get_idx(files, i);
        status =
            json_object_is_type(row, json_type_object)
                ? check_file(row, folder, notes, err)
                : fw_fail(err, FW_EINPUT, ".files: expected a list of objects");
    }
    fw_free(folder);
    return status;
}

/* ---- the whole ---- */

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
        status = check_files(root, path, notes, err);
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
    fw_file_free(bytes);
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

enum fw_status fw_plan_json_read(const char *path, struct fw_plan **out,
                                 struct fw_notes *notes, struct fw_error *err)
{
    char *file = path_of(path);
    if (!file)
        return fw_fail_memory(err);
    enum fw_status status = read_path(file, out, notes, err);
    fw_free(file);
    return status;
}

/* The format is the first member of what fw_plan_json_write makes, and stays
 * near the beginning through the tools that keep members in order. A map may be
 * hundreds of megabytes long and is not read for this. */
enum { first_bytes = 65536 };

static bool names_format(const char *bytes)
{
    const char *at = bytes + strspn(bytes, " \t\r\n");
    if (*at != '{')
        return false;
    const char *end = "\"foldwright-plan/"; /* of any age */
    for (at = strstr(at, "\"format\""); at; at = strstr(at + 1, "\"format\"")) {
        const char *value = at + strlen("\"format\"");
        value += strspn(value, " \t\r\n");
        if (*value != ':')
            continue;
        value += 1 + strspn(value + 1, " \t\r\n");
        if (!strncmp(value, end, strlen(end)))
            return true;
    }
    return false;
}

static size_t read_beginning(const char *path, char *room)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return 0;
    const size_t count = fread(room, 1, first_bytes, file);
    fclose(file);
    return count;
}

bool fw_plan_json_is(const char *path)
{
    char *file = path_of(path);
    char *bytes = fw_alloc(first_bytes + 1, 1);
    struct stat info;
    /* A pipe can be read only once, and is for those who want its content. */
    const bool is = file && bytes && stat(file, &info) == 0 &&
                    S_ISREG(info.st_mode) && read_beginning(file, bytes) > 0 &&
                    names_format(bytes);
    fw_free(bytes);
    fw_free(file);
    return is;
}
