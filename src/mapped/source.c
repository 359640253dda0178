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
 * ("PG:dbname=farm"), which is nothing beside the farm file. */
enum fw_status fw_farm__source(struct fw_farm__reader *reader,
                               const struct fw_farm__text *source,
                               const char **out, struct fw_error *err)
{
    const char *text = source->secret ? source->secret : source->text;
    *out = text;
    const char *farm_path = reader->request->farm_path;
    const char *slash = farm_path ? strrchr(farm_path, '/') : NULL;
    if (source->at.where || !slash || text[0] == '/')
        return FW_OK;
    const size_t folder = (size_t)(slash - farm_path) + 1;
    char joined[4096];
    const int length =
        snprintf(joined, sizeof joined, "%.*s%s", (int)folder, farm_path, text);
    if (length < 0 || (size_t)length >= sizeof joined)
        return fw_fail(err, FW_EINPUT, "%.80s...: the path is too long",
                       joined);
    if (strchr(text, ':') && !is_there(joined))
        return FW_OK;
    return fw_farm__keep(reader, joined, (size_t)length, out, err);
}
