#include "keys/reader.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static bool is_there(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0;
}

static enum fw_status hide_one(struct fw_farm__reader *reader,
                               struct fw_farm__text *source,
                               struct fw_error *err)
{
    if (!source->at.given)
        return FW_OK;
    char *shown = fw_source_shown(source->text);
    if (!shown)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    if (strcmp(shown, source->text) != 0) {
        source->secret = source->text;
        status =
            fw_farm__keep(reader, shown, strlen(shown), &source->text, err);
    }
    fw_bytes_free(shown);
    return status;
}

enum fw_status fw_farm__hide(struct fw_farm__reader *reader,
                             struct fw_error *err)
{
    struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm__text *const single[] = {&draft->source, &draft->dem.source,
                                            &draft->forage_map.source};
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < sizeof single / sizeof single[0] && !status; i++)
        status = hide_one(reader, single[i], err);
    for (size_t i = 0; i < draft->map_count && !status; i++)
        status = hide_one(reader, &draft->maps[i].source, err);
    return status;
}

/* A colon may be part of a file's name, or stand after a driver's word
 * ("PG:dbname=farm"), which is nothing in a folder. */
static enum fw_status in_folder(struct fw_farm__reader *reader,
                                const char *folder, size_t length,
                                const char *path, const char **out,
                                struct fw_error *err)
{
    char joined[4096];
    *out = path;
    if (path[0] == '/')
        return FW_OK;
    const int count =
        snprintf(joined, sizeof joined, "%.*s%s%s", (int)length, folder,
                 length && folder[length - 1] != '/' ? "/" : "", path);
    if (count < 0 || (size_t)count >= sizeof joined)
        return fw_fail(err, FW_EINPUT, "%.80s...: the path is too long",
                       joined);
    if (strchr(path, ':') && !is_there(joined))
        return FW_OK;
    return fw_farm__keep(reader, joined, (size_t)count, out, err);
}

/* Whoever handed on what was told may mean another network. */
static enum fw_status not_here(const char *path, struct fw_error *err)
{
    char *shown = fw_source_shown(path);
    if (!shown)
        return fw_fail_memory(err);
    fw_fail(err, FW_EINPUT,
            "%s: a plan that was written sends nobody to a network or a "
            "database; name a file of this machine, and plan again",
            shown);
    fw_bytes_free(shown);
    return FW_EINPUT;
}

enum fw_status fw_farm__told_path(struct fw_farm__reader *reader,
                                  const char *path, const char **out,
                                  struct fw_error *err)
{
    const char *folder = reader->request->folder;
    *out = path;
    if (!folder)
        return FW_OK;
    const enum fw_status status =
        in_folder(reader, folder, strlen(folder), path, out, err);
    return status || fw_source_is_here(*out) ? status : not_here(path, err);
}

enum fw_status fw_farm__source(struct fw_farm__reader *reader,
                               const struct fw_farm__text *source,
                               const char **out, struct fw_error *err)
{
    const char *text = source->secret ? source->secret : source->text;
    if (source->at.where)
        return fw_farm__told_path(reader, text, out, err);
    const char *farm_path = reader->request->farm_path;
    const char *slash = farm_path ? strrchr(farm_path, '/') : NULL;
    *out = text;
    return slash ? in_folder(reader, farm_path, (size_t)(slash - farm_path) + 1,
                             text, out, err)
                 : FW_OK;
}
