#include "io/plan_files.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/words.h"

#include <stdio.h>
#include <string.h>

static const int64_t most_bytes = 1LL << 30;
enum { most_files = 64, most_name = 255 };

/* ---- one file ---- */

enum state { SAME, OTHER, GONE };

static enum fw_status look(const char *path, size_t size, unsigned crc32,
                           enum state *out, struct fw_error *err)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error reason = {0};
    const enum fw_status status =
        fw_io__get_plain(path, size, &bytes, &count, &reason);
    struct stat info;
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    if (status)
        *out = lstat(path, &info) ? GONE : OTHER;
    else
        *out = count == size && fw_file_crc32(bytes, count) == crc32 ? SAME
                                                                     : OTHER;
    fw_bytes_free(bytes);
    return FW_OK;
}

/* A GIS writes into a GeoPackage as soon as it opens it. Any other file that
 * differs was changed by hand or is of another plan, and whoever has one of
 * each at the gate sets the wrong fence. */
static enum fw_status judge(const char *path, enum state state,
                            struct fw_notes *notes, struct fw_error *err)
{
    if (state == SAME)
        return FW_OK;
    if (state == GONE)
        return fw_notes_add(notes, FW_LEVEL_WARNING, path, err,
                            "is missing; plan again to have it back");
    if (fw_io__ends_with(path, ".gpkg"))
        return fw_notes_add(notes, FW_LEVEL_WARNING, path, err,
                            "is not as it was written with plan.json: changed "
                            "by a GIS, or of another plan");
    return fw_fail(err, FW_EINPUT,
                   ".files: %s is not the one that was written with this "
                   "plan: it is of another plan, or was changed; plan again, "
                   "or take it out of the folder",
                   path);
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
    if (!*text || strchr(text, '/') || strlen(text) > most_name)
        return fw_fail(err, FW_EINPUT,
                       ".files: \"%.60s\" is not the name of a file", text);
    const int64_t bytes = json_object_get_int64(size);
    const int64_t crc32 = json_object_get_int64(sum);
    if (bytes < 0 || bytes > most_bytes || crc32 < 0 || crc32 > 0xffffffffLL)
        return fw_fail(err, FW_EINPUT, ".files: %.60s has an absurd size",
                       text);
    if (!notes)
        return FW_OK;
    char *path = fw_io__path_in(folder, text);
    if (!path)
        return fw_fail_memory(err);
    enum state state = SAME;
    enum fw_status status =
        look(path, (size_t)bytes, (unsigned)crc32, &state, err);
    if (!status)
        status = judge(path, state, notes, err);
    fw_free(path);
    return status;
}

enum fw_status fw_io__check_files(struct json_object *root, const char *folder,
                                  struct fw_notes *notes, struct fw_error *err)
{
    struct json_object *files;
    if (!json_object_object_get_ex(root, "files", &files) ||
        !json_object_is_type(files, json_type_array) ||
        json_object_array_length(files) > most_files)
        return fw_fail(err, FW_EINPUT, ".files: expected a list of up to %d",
                       most_files);
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < json_object_array_length(files) && !status; i++) {
        struct json_object *row = json_object_array_get_idx(files, i);
        status =
            json_object_is_type(row, json_type_object)
                ? check_file(row, folder, notes, err)
                : fw_fail(err, FW_EINPUT, ".files: expected a list of objects");
    }
    return status;
}

/* ---- the names alone ---- */

/* The list ends the file, and every name of it is short. */
enum { tail_bytes = 65536 };

static size_t read_tail(const char *path, char *room)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return 0;
    if (fseek(file, -tail_bytes, SEEK_END)) /* it is shorter */
        rewind(file);
    const size_t count = fread(room, 1, tail_bytes, file);
    fclose(file);
    return count;
}

/* Quotes within texts are escaped, so that the last "files" is the key. */
static const char *list_in(const char *tail)
{
    static const char key[] = "\"files\"";
    const char *last = NULL;
    for (const char *at = strstr(tail, key); at; at = strstr(at + 1, key))
        last = at;
    return last ? strchr(last, '[') : NULL;
}

static enum fw_status add_names(struct json_object *list,
                                struct fw_io__names *out, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    const size_t count = json_object_is_type(list, json_type_array)
                             ? json_object_array_length(list)
                             : 0;
    for (size_t i = 0; i < count && !status; i++) {
        struct json_object *name;
        if (json_object_object_get_ex(json_object_array_get_idx(list, i),
                                      "name", &name) &&
            json_object_is_type(name, json_type_string))
            status = fw_io__names_add(out, json_object_get_string(name), err);
    }
    return status;
}

enum fw_status fw_io__listed(const char *path, struct fw_io__names *out,
                             struct fw_error *err)
{
    char *tail = fw_alloc(tail_bytes + 1, 1);
    struct json_tokener *tokener = json_tokener_new();
    if (!tail || !tokener) {
        fw_free(tail);
        if (tokener)
            json_tokener_free(tokener);
        return fw_fail_memory(err);
    }
    const size_t count = read_tail(path, tail);
    const char *list = count ? list_in(tail) : NULL;
    struct json_object *parsed =
        list ? json_tokener_parse_ex(tokener, list, (int)strlen(list)) : NULL;
    const enum fw_status status = parsed ? add_names(parsed, out, err) : FW_OK;
    json_object_put(parsed);
    json_tokener_free(tokener);
    fw_free(tail);
    return status;
}
