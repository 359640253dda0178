/* Putting bytes in place: a file is whole, or it is the one that was there
 * before, also when the disk is full or the power goes. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/put.h"
#include "io/words.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
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

enum fw_status fw_io__refuse(const char *path, int code, struct fw_error *err)
{
    return fw_fail(err, FW_EOUTPUT, "%s: cannot be written: %s", path,
                   why(code));
}

enum fw_status fw_io__write_all(int file, const char *bytes, size_t count)
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

/* ---- what may be replaced ---- */

/* An open GIS keeps changes in a -wal, or a transaction in a -journal, beside
 * the file; put beside a new file they would be replayed onto it. */
static enum fw_status look_beside(const char *path, const char *suffix,
                                  bool also_empty, bool *used,
                                  struct fw_error *err)
{
    const size_t room = strlen(path) + strlen(suffix) + 1;
    char *beside = fw_alloc(room, 1);
    if (!beside)
        return fw_fail_memory(err);
    snprintf(beside, room, "%s%s", path, suffix);
    struct stat info;
    *used |= !stat(beside, &info) && (also_empty || info.st_size > 0);
    fw_free(beside);
    return FW_OK;
}

static enum fw_status check_unused(const char *path, struct fw_error *err)
{
    bool used = false;
    if (!fw_io__ends_with(path, ".gpkg"))
        return FW_OK;
    enum fw_status status = look_beside(path, "-wal", false, &used, err);
    if (!status)
        status = look_beside(path, "-journal", true, &used, err);
    if (status || !used)
        return status;
    return fw_fail(err, FW_EOUTPUT,
                   "%s is open in another program; close it there, or choose "
                   "another -o",
                   path);
}

/* A rename asks only the folder. Who took the right to write from a file meant
 * the file, and root is asked as well. */
static int writable(const char *path, const struct stat *info)
{
    if (!(info->st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)))
        return EACCES;
    const int file = open(path, O_WRONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return errno;
    close(file);
    return 0;
}

enum fw_status fw_io__may_replace(const char *target, struct stat *before,
                                  bool *exists, struct fw_error *err)
{
    *exists = false;
    if (lstat(target, before))
        return errno == ENOENT ? check_unused(target, err)
                               : fw_io__refuse(target, errno, err);
    if (S_ISDIR(before->st_mode))
        return fw_io__refuse(target, EISDIR, err);
    if (S_ISLNK(before->st_mode))
        return check_unused(target, err);
    if (!S_ISREG(before->st_mode))
        return fw_fail(err, FW_EOUTPUT,
                       "%s: is a pipe or a device; expected a file, or a name "
                       "that is free",
                       target);
    const int code = writable(target, before);
    if (code)
        return fw_io__refuse(target, code, err);
    *exists = true;
    return check_unused(target, err);
}

/* ---- the temporary file ---- */

void fw_io__discard(struct fw_io__temporary *temporary)
{
    if (!temporary->path)
        return;
    if (temporary->file >= 0)
        close(temporary->file);
    unlink(temporary->path);
    fw_io__forget(temporary->entry);
    fw_free(temporary->path);
    temporary->path = NULL;
}

/* In the same folder, or a rename could not put it in place at once. Its mode
 * is what the user's mask makes of 666, or that of the file before. */
static enum fw_status begin(struct fw_io__temporary *temporary,
                            const char *target, const struct stat *before)
{
    const size_t room = strlen(target) + 64;
    const size_t folder = (size_t)(fw_io__base_name(target) - target);
    *temporary = (struct fw_io__temporary){fw_alloc(room, 1), -1, -1};
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
    temporary->entry = fw_io__remember(temporary->path);
    if (before)
        (void)!fchmod(temporary->file, before->st_mode & 07777);
    return FW_OK;
}

static enum fw_status finish(struct fw_io__temporary *temporary)
{
    if (fsync(temporary->file) && errno != EINVAL && errno != EROFS)
        return FW_EOUTPUT;
    const int file = temporary->file;
    temporary->file = -1;
    return close(file) ? FW_EOUTPUT : FW_OK;
}

enum fw_status fw_io__write_beside(const char *target,
                                   const struct stat *before, const void *bytes,
                                   size_t count, struct fw_io__temporary *out,
                                   struct fw_error *err)
{
    enum fw_status status = begin(out, target, before);
    if (!status)
        status = fw_io__write_all(out->file, bytes, count);
    if (!status)
        status = finish(out);
    const int code = errno;
    if (status)
        fw_io__discard(out);
    if (status == FW_ENOMEM)
        return fw_fail_memory(err);
    return status ? fw_io__refuse(target, code, err) : FW_OK;
}

enum fw_status fw_io__put_in_place(struct fw_io__temporary *temporary,
                                   const char *target, struct fw_error *err)
{
    if (rename(temporary->path, target)) {
        const int code = errno;
        fw_io__discard(temporary);
        return fw_io__refuse(target, code, err);
    }
    fw_io__forget(temporary->entry);
    fw_free(temporary->path);
    temporary->path = NULL;
    return FW_OK;
}

/* ---- one file ---- */

/* A pipe or a device has no content to lose, and cannot be renamed over. */
static enum fw_status pour(const char *path, const void *bytes, size_t count,
                           struct fw_error *err)
{
    const int file = open(path, O_WRONLY | O_CLOEXEC);
    if (file < 0)
        return fw_io__refuse(path, errno, err);
    enum fw_status status = fw_io__write_all(file, bytes, count);
    int code = errno;
    if (close(file) && !status) {
        code = errno;
        status = FW_EOUTPUT;
    }
    return status ? fw_io__refuse(path, code, err) : FW_OK;
}

/* /dev/stdout is a link, and behind it may be a file. */
static bool takes_a_stream(const char *path)
{
    struct stat info;
    return !strncmp(path, "/dev/", 5) || !strncmp(path, "/proc/", 6) ||
           (!stat(path, &info) && !S_ISREG(info.st_mode) &&
            !S_ISDIR(info.st_mode));
}

int fw_io__open_folder(const char *folder)
{
    return open(*folder ? folder : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

/* Some file systems cannot be asked for that, and say EINVAL; a folder that may
 * be written may be one that may not be read. */
enum fw_status fw_io__sync_folder(const char *folder, struct fw_error *err)
{
    const int file = fw_io__open_folder(folder);
    if (file < 0)
        return FW_OK;
    const bool synced = !fsync(file) || errno == EINVAL || errno == EROFS;
    const int code = errno;
    close(file);
    return synced ? FW_OK : fw_io__refuse(folder, code, err);
}

enum fw_status fw_file_put(const char *path, const void *bytes, size_t count,
                           struct fw_error *err)
{
    if (takes_a_stream(path))
        return pour(path, bytes, count, err);
    struct stat before;
    bool exists;
    struct fw_io__temporary temporary;
    enum fw_status status = fw_io__may_replace(path, &before, &exists, err);
    if (!status)
        status = fw_io__write_beside(path, exists ? &before : NULL, bytes,
                                     count, &temporary, err);
    if (!status)
        status = fw_io__put_in_place(&temporary, path, err);
    if (status)
        return status;
    char *folder = fw_strdup(path);
    if (!folder)
        return fw_fail_memory(err);
    folder[fw_io__base_name(path) - path] = '\0';
    status = fw_io__sync_folder(folder, err);
    fw_free(folder);
    return status;
}
