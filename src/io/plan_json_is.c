/* Is it a plan? Asked of every input, so without reading all of it. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/plan_files.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static bool is_folder(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

char *fw_io__plan_path(const char *path)
{
    if (!is_folder(path))
        return fw_strdup(path);
    const size_t room = strlen(path) + sizeof "/plan.json";
    char *file = fw_alloc(room, 1);
    if (file)
        snprintf(file, room, "%s/plan.json", path);
    return file;
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

enum fw_status fw_io__is_plan(const char *path, bool *out, struct fw_error *err)
{
    char *file = fw_io__plan_path(path);
    char *bytes = fw_alloc(first_bytes + 1, 1);
    struct stat info;
    /* A pipe can be read only once, and is for those who want its content. */
    *out = file && bytes && stat(file, &info) == 0 && S_ISREG(info.st_mode) &&
           read_beginning(file, bytes) > 0 && names_format(bytes);
    const bool room = file && bytes;
    fw_free(bytes);
    fw_free(file);
    return room ? FW_OK : fw_fail_memory(err);
}

bool fw_plan_json_is(const char *path)
{
    bool is = false;
    return !fw_io__is_plan(path, &is, NULL) && is;
}
