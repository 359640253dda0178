/* Names of files, and their paths in a folder. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "io/put.h"

#include <stdio.h>
#include <string.h>

char *fw_io__path_in(const char *folder, const char *name)
{
    const size_t length = strlen(folder);
    const bool slash = length && folder[length - 1] != '/';
    char *path = fw_alloc(length + strlen(name) + 2, 1);
    if (path)
        snprintf(path, length + strlen(name) + 2, "%s%s%s", folder,
                 slash ? "/" : "", name);
    return path;
}

void fw_io__names_release(struct fw_io__names *names)
{
    for (size_t i = 0; i < names->count; i++)
        fw_free(names->items[i]);
    fw_free(names->items);
    *names = (struct fw_io__names){0};
}

bool fw_io__names_have(const struct fw_io__names *names, const char *name)
{
    for (size_t i = 0; i < names->count; i++)
        if (!strcmp(names->items[i], name))
            return true;
    return false;
}

enum fw_status fw_io__names_add(struct fw_io__names *names, const char *name,
                                struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&names->items, &names->capacity, names->count + 1,
                         sizeof *names->items, err);
    if (status)
        return status;
    names->items[names->count] = fw_strdup(name);
    return names->items[names->count++] ? FW_OK : fw_fail_memory(err);
}
