/* A file that is not there, and one beside it whose name is nearly that. */
#include "base/fail.h"
#include "base/text.h"
#include "io/put.h"

#include <dirent.h>
#include <string.h>

enum { longest = 256 };

/* Of two names as near the lesser one, in whatever order a folder has them. */
static void look_at(const char *wanted, const char *name, char best[longest])
{
    const bool lesser = strcmp(name, best) < 0;
    const char *const two[] = {lesser ? name : best, lesser ? best : name};
    const char *near = best[0] ? fw_text_nearest(wanted, two, 2)
                               : fw_text_nearest(wanted, &name, 1);
    if (near == name)
        fw_text_clip(name, best, longest);
}

enum fw_status fw_io__no_such_file(const char *path, const char *said,
                                   struct fw_error *err)
{
    char folder[4096], best[longest] = "";
    const char *slash = strrchr(path, '/');
    const size_t length = slash ? (size_t)(slash - path) + 1 : 0;
    DIR *open = NULL;
    if (length < sizeof folder) {
        memcpy(folder, path, length);
        folder[length] = '\0';
        open = opendir(length ? folder : ".");
    }
    for (struct dirent *entry; open && (entry = readdir(open));)
        if (entry->d_name[0] != '.')
            look_at(path + length, entry->d_name, best);
    if (open)
        closedir(open);
    fw_text_clean(best);
    return fw_fail(err, FW_EINPUT, "%s: no such file%s%s%s", said,
                   best[0] ? "; did you mean " : "", best, best[0] ? "?" : "");
}
