#include "farm/reader.h"

#include <stdio.h>
#include <string.h>

static bool can_open(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file)
        fclose(file);
    return file != NULL;
}

/* A colon may be part of a file's name, or stand after a driver's word
 * ("PG:dbname=farm"), which is nothing beside the farm file. */
enum fw_status fw_farm__source(struct fw_farm__reader *reader,
                               const struct fw_farm__text *source,
                               const char **out, struct fw_error *err)
{
    *out = source->text;
    const char *farm_path = reader->request->farm_path;
    const char *slash = farm_path ? strrchr(farm_path, '/') : NULL;
    if (source->at.where || !slash || source->text[0] == '/')
        return FW_OK;
    const size_t folder = (size_t)(slash - farm_path) + 1;
    char joined[4096];
    const int length = snprintf(joined, sizeof joined, "%.*s%s", (int)folder,
                                farm_path, source->text);
    if (length < 0 || (size_t)length >= sizeof joined)
        return fw_fail(err, FW_EINPUT, "%.80s...: the path is too long",
                       joined);
    if (strchr(source->text, ':') && !can_open(joined))
        return FW_OK;
    return fw_farm__keep(reader, joined, (size_t)length, out, err);
}
