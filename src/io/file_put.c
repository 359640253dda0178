/* Putting bytes in place: a file is whole, or it is the one that was there
 * before, also when the disk is full or the power goes. */

/* realpath is of POSIX's X/Open part. */
#define _XOPEN_SOURCE 700

#include "base/alloc.h"
#include "base/fail.h"
#include "io/put.h"
#include "io/words.h"
#include <foldwright/io.h>

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *why(int code)
{
    switch (code) {
    case ENOSPC:
    case EDQUOT:
        return "the disk is full";
    case EFBIG:
        return "it is larger than this system allows";
    case EACCES:
    case EPERM:
        return "you may not write there";
    case EROFS:
        return "that disk can only be read";
    case ENOENT:
    case ENOTDIR:
        return "that folder is not there";
    case EISDIR:
        return "it is a folder";
    case ENAMETOOLONG:
        return "the name is too long";
    case EIO:
        return "the disk does not answer";
    default:
        return strerror(code);
    }
}

static enum fw_status refuse(const char *path, int code, struct fw_error *err)
{
    return fw_fail(err, FW_EOUTPUT, "%s: cannot be written: %s", path,
                   why(code));
}

static enum fw_status write_all(int file, const char *bytes, size_t count)
{
    const size_t most_at_once = 1u << 30;
    while (count) {
        const ssize_t done =
            write(file, bytes, count < most_at_once ? count : most_at_once);
        if (done < 0 && errno == EINTR)
            continue;
        if (done < 0)
            return FW_EOUTPUT;
        bytes += done;
        count -= (size_t)done;
    }
    return FW_OK;
}

/* An open GIS keeps changes in a -wal, or a transaction in a -journal, beside
 * the file; put beside a new file they would be replayed onto it. */
static bool lies_beside(const char *path, const char *suffix, bool also_empty)
{
    const size_t room = strlen(path) + strlen(suffix) + 1;
    char *beside = fw_alloc(room, 1);
    if (!beside)
        return true;
    snprintf(beside, room, "%s%s", path, suffix);
    struct stat info;
    const bool lies = !stat(beside, &info) && (also_empty || info.st_size > 0);
    fw_free(beside);
    return lies;
}

static enum fw_status check_unused(const char *path, const char *target,
                                   struct fw_error *err)
{
    if (!fw_io__ends_with(target, ".gpkg") ||
        (!lies_beside(target, "-wal", false) &&
         !lies_beside(target, "-journal", true)))
        return FW_OK;
    return fw_fail(err, FW_EOUTPUT,
                   "%s is open in another program; close it there, or choose "
                   "another -o",
                   path);
}

/* ---- the temporary file ---- */

struct temporary {
    char *path;
    int file;
    int slot;
};

static void discard(struct temporary *temporary)
{
    if (temporary->file >= 0)
        close(temporary->file);
    if (temporary->path)
        unlink(temporary->path);
    fw_io__forget(temporary->slot);
    fw_free(temporary->path);
}

/* In the same folder, or a rename could not put it in place at once. Its mode
 * is what the user's mask makes of 666, or that of the file before. */
static enum fw_status begin(struct temporary *temporary, const char *target,
                            const struct stat *before)
{
    const size_t room = strlen(target) + 64;
    const size_t folder = (size_t)(fw_io__base_name(target) - target);
    temporary->path = fw_alloc(room, 1);
    if (!temporary->path)
        return FW_ENOMEM;
    for (int attempt = 0; attempt < 1000 && temporary->file < 0; attempt++) {
        snprintf(temporary->path, room, "%.*s.foldwright-%ld-%d.tmp",
                 (int)folder, target, (long)getpid(), attempt);
        temporary->file =
            open(temporary->path,
                 O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0666);
        if (temporary->file < 0 && errno != EEXIST)
            break;
    }
    if (temporary->file < 0) {
        fw_free(temporary->path); /* it is nobody's to remove */
        temporary->path = NULL;
        return FW_EOUTPUT;
    }
    temporary->slot = fw_io__remember(temporary->path);
    if (before)
        (void)!fchmod(temporary->file, before->st_mode & 07777);
    return FW_OK;
}

/* The rename lasts only once the folder is on the disk as well; some file
 * systems cannot be asked for that, and say EINVAL. */
static bool sync_folder(const char *target)
{
    char folder[PATH_MAX];
    const size_t length = (size_t)(fw_io__base_name(target) - target);
    if (length >= sizeof folder)
        return true;
    snprintf(folder, sizeof folder, "%.*s", length ? (int)length : 1,
             length ? target : ".");
    const int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) /* a folder that may be written but not read */
        return true;
    const bool synced = !fsync(file) || errno == EINVAL || errno == EROFS;
    const int why = errno;
    close(file);
    errno = why;
    return synced;
}

static enum fw_status finish(struct temporary *temporary, const char *target)
{
    if (fsync(temporary->file) && errno != EINVAL && errno != EROFS)
        return FW_EOUTPUT;
    const int file = temporary->file;
    temporary->file = -1;
    if (close(file))
        return FW_EOUTPUT;
    if (rename(temporary->path, target))
        return FW_EOUTPUT;
    fw_io__forget(temporary->slot);
    temporary->slot = -1;
    fw_free(temporary->path);
    temporary->path = NULL;
    return sync_folder(target) ? FW_OK : FW_EOUTPUT;
}

static enum fw_status replace(const char *path, const char *target,
                              const struct stat *before, const void *bytes,
                              size_t count, struct fw_error *err)
{
    struct temporary temporary = {NULL, -1, -1};
    enum fw_status status = begin(&temporary, target, before);
    if (!status)
        status = write_all(temporary.file, bytes, count);
    if (!status)
        status = finish(&temporary, target);
    const int code = errno;
    if (status)
        discard(&temporary);
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    return status ? refuse(path, code, err) : FW_OK;
}

/* A pipe or a device has no content to lose, and cannot be renamed over. */
static enum fw_status pour(const char *path, const void *bytes, size_t count,
                           struct fw_error *err)
{
    const int file = open(path, O_WRONLY | O_CLOEXEC);
    if (file < 0)
        return refuse(path, errno, err);
    enum fw_status status = write_all(file, bytes, count);
    int code = errno;
    if (close(file) && !status) {
        code = errno;
        status = FW_EOUTPUT;
    }
    return status ? refuse(path, code, err) : FW_OK;
}

enum fw_status fw_file_put(const char *path, const void *bytes, size_t count,
                           struct fw_error *err)
{
    struct stat before;
    const bool exists = stat(path, &before) == 0;
    if (exists && S_ISDIR(before.st_mode))
        return refuse(path, EISDIR, err);
    if (exists && !S_ISREG(before.st_mode))
        return pour(path, bytes, count, err);
    if (exists && access(path, W_OK))
        return refuse(path, errno, err); /* a rename would not ask */
    /* Behind a link stands the file that is meant. realpath's memory is the C
     * library's own. */
    char *linked = exists ? realpath(path, NULL) : NULL;
    const char *target = linked ? linked : path;
    enum fw_status status = check_unused(path, target, err);
    if (!status)
        status =
            replace(path, target, exists ? &before : NULL, bytes, count, err);
    free(linked);
    return status;
}
