/* Is it a plan? Asked of every input, so without reading all of it. */
#include "base/alloc.h"
#include "io/io.h"
#include "io/plan_files.h"

#include <limits.h>
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

/* Without asking for memory, the want of which must not pass for a no. */
bool fw_plan_json_is(const char *path)
{
    char file[PATH_MAX], bytes[first_bytes + 1];
    struct stat info;
    const int length = snprintf(file, sizeof file, "%s%s", path,
                                is_folder(path) ? "/plan.json" : "");
    /* A pipe can be read only once, and is for those who want its content. */
    if (length >= (int)sizeof file || stat(file, &info) != 0 ||
        !S_ISREG(info.st_mode))
        return false;
    bytes[read_beginning(file, bytes)] = '\0';
    return names_format(bytes);
}
