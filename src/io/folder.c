/* What runs of the program leave for each other in a folder: a lock while one
 * writes, temporaries of one that died, and the mark of a set that stands by
 * halves. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/io.h"
#include "io/plan_files.h"
#include "io/put.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <time.h>
#include <unistd.h>

/* ---- the lock ---- */

static const long longest_wait_ms = 5000, look_ms = 20;

enum fw_io__locked fw_io__wait(int file, bool alone)
{
    const int kind = (alone ? LOCK_EX : LOCK_SH) | LOCK_NB;
    int answer = flock(file, kind);
    for (long ms = 0; answer && errno == EWOULDBLOCK && ms < longest_wait_ms;
         ms += look_ms) {
        nanosleep(&(struct timespec){0, look_ms * 1000000}, NULL);
        answer = flock(file, kind);
    }
    return !answer                ? FW_IO__LOCKED
           : errno == EWOULDBLOCK ? FW_IO__HELD
                                  : FW_IO__NO_LOCKS;
}

enum fw_status fw_io__lock(const char *folder, bool alone, int *out,
                           struct fw_error *err)
{
    *out = -1;
    const int file = fw_io__open_folder(folder);
    if (file < 0)
        return FW_OK; /* who reads or writes there says why */
    const enum fw_io__locked locked = fw_io__wait(file, alone);
    if (locked == FW_IO__LOCKED) {
        *out = file;
        return FW_OK;
    }
    const bool held = locked == FW_IO__HELD;
    close(file);
    if (!held)
        return FW_OK; /* the file system knows no locks */
    return fw_fail(err, alone ? FW_EOUTPUT : FW_EINPUT,
                   "%s: another run is at work on the files there; try again "
                   "when it has ended%s",
                   *folder ? folder : ".",
                   alone ? ", or choose another -o" : "");
}

/* ---- temporaries ---- */

/* Its process is gone, or has our number and left it long ago. */
static bool is_left_behind(const char *path, long owner)
{
    const double old_s = 600;
    struct stat info;
    if (owner != (long)getpid())
        return kill((pid_t)owner, 0) && errno == ESRCH;
    return !lstat(path, &info) && difftime(time(NULL), info.st_mtime) > old_s;
}

static void sweep_one(const char *folder, const char *name)
{
    static const char begin[] = ".foldwright-";
    if (strncmp(name, begin, sizeof begin - 1) != 0)
        return;
    char *rest;
    const long owner = strtol(name + sizeof begin - 1, &rest, 10);
    const size_t digits = *rest == '-' ? strspn(rest + 1, "0123456789") : 0;
    if (owner <= 0 || !digits || strcmp(rest + 1 + digits, ".tmp") != 0)
        return;
    char *path = fw_io__path_in(folder, name);
    if (path && is_left_behind(path, owner))
        unlink(path);
    fw_free(path);
}

void fw_io__sweep(const char *folder)
{
    DIR *open = opendir(*folder ? folder : ".");
    for (struct dirent *entry; open && (entry = readdir(open));)
        sweep_one(folder, entry->d_name);
    if (open)
        closedir(open);
}

/* ---- the mark ---- */

static const size_t most_mark_bytes = 65536;

enum fw_status fw_io__find_mark(const char *folder, bool *out,
                                struct fw_error *err)
{
    struct stat info;
    char *path = fw_io__path_in(folder, FW_IO__MARK);
    if (!path)
        return fw_fail_memory(err);
    *out = !lstat(path, &info);
    fw_free(path);
    return FW_OK;
}

enum fw_status fw_io__mark(const char *folder, const char *const *names,
                           size_t count, struct fw_error *err)
{
    struct fw_text text = {0};
    char *path = fw_io__path_in(folder, FW_IO__MARK);
    for (size_t i = 0; i < count; i++)
        fw_text_addf(&text, "%s\n", names[i]);
    enum fw_status status =
        path ? fw_text_done(&text, err) : fw_fail_memory(err);
    if (!status)
        status = fw_file_put(path, text.bytes, text.length, err);
    fw_text_release(&text);
    fw_free(path);
    return status;
}

enum fw_status fw_io__unmark(const char *folder, struct fw_error *err)
{
    char *path = fw_io__path_in(folder, FW_IO__MARK);
    if (!path)
        return fw_fail_memory(err);
    enum fw_status status =
        unlink(path) ? fw_io__refuse(path, errno, err) : FW_OK;
    fw_free(path);
    return status ? status : fw_io__sync_folder(folder, err);
}

/* A name a line. */
static enum fw_status add_lines(struct fw_io__names *names, char *text,
                                struct fw_error *err)
{
    enum fw_status status = FW_OK;
    while (*text && !status) {
        char *end = strchr(text, '\n');
        if (end)
            *end = '\0';
        status = fw_io__names_add(names, text, err);
        text = end ? end + 1 : "";
    }
    return status;
}

/* No mark, no lines. */
static enum fw_status add_marked(const char *mark, struct fw_io__names *names,
                                 struct fw_error *err)
{
    char *bytes = NULL;
    size_t count;
    enum fw_status status =
        fw_io__get_plain(mark, most_mark_bytes, &bytes, &count, err);
    if (!status)
        status = add_lines(names, bytes, err);
    fw_bytes_free(bytes);
    return status == FW_EINPUT ? FW_OK : status;
}

enum fw_status fw_io__written_before(const char *folder,
                                     struct fw_io__names *out,
                                     struct fw_error *err)
{
    char *mark = fw_io__path_in(folder, FW_IO__MARK);
    char *plan = fw_io__path_in(folder, "plan.json");
    enum fw_status status = mark && plan ? FW_OK : fw_fail_memory(err);
    if (!status)
        status = add_marked(mark, out, err);
    if (!status && fw_plan_json_is(plan)) {
        status = fw_io__names_add(out, "plan.json", err);
        if (!status)
            status = fw_io__listed(plan, out, err);
    }
    fw_free(mark);
    fw_free(plan);
    return status;
}
