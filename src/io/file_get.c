/* Whole files, folders, and the sum that tells one content from another. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/put.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <zlib.h>

static enum fw_status not_read(const char *path, int code, struct fw_error *err)
{
    if (code == ENOENT || code == ENOTDIR)
        return fw_io__no_such_file(path, path, err);
    if (code == EACCES || code == EPERM)
        return fw_fail(err, FW_EINPUT, "%s: may not be read by you", path);
    if (code == EISDIR)
        return fw_fail(err, FW_EINPUT, "%s: is a folder; expected a file",
                       path);
    return fw_fail(err, FW_EINPUT, "%s: cannot be read: %s", path,
                   strerror(code));
}

static enum fw_status too_long(const char *path, size_t most,
                               struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT, "%s: is over %zu bytes; expected less", path,
                   most);
}

struct growing {
    char *bytes;
    size_t length, room;
};

/* read, whatever signal comes in between. */
static ssize_t read_some(int file, char *to, size_t count)
{
    ssize_t done;
    do
        done = read(file, to, count);
    while (done < 0 && errno == EINTR);
    return done;
}

/* One byte more than `most` is asked for, to tell a file that is longer, and
 * one is kept for the NUL. */
static enum fw_status read_all(int file, const char *path, size_t most,
                               struct growing *into, struct fw_error *err)
{
    for (;;) {
        const ssize_t done = read_some(file, into->bytes + into->length,
                                       into->room + 1 - into->length);
        if (done < 0)
            return not_read(path, errno, err);
        if (done == 0)
            return FW_OK;
        into->length += (size_t)done;
        if (into->length > most)
            return too_long(path, most, err);
        if (into->length <= into->room)
            continue;
        into->room = into->room > most / 2 ? most : 2 * into->room;
        char *longer = fw_realloc(into->bytes, into->room + 2, 1);
        if (!longer)
            return fw_fail_memory(err);
        into->bytes = longer;
    }
}

enum fw_status fw_io__get_open(int file, const char *path, size_t most,
                               char **bytes, size_t *count,
                               struct fw_error *err)
{
    struct stat info;
    if (fstat(file, &info))
        return not_read(path, errno, err);
    if (S_ISDIR(info.st_mode))
        return not_read(path, EISDIR, err);
    struct growing into = {
        .room = S_ISREG(info.st_mode) ? (size_t)info.st_size : 65536,
    };
    if (into.room > most)
        into.room = most;
    into.bytes = fw_alloc(into.room + 2, 1);
    if (!into.bytes)
        return fw_fail_memory(err);
    enum fw_status status = read_all(file, path, most, &into, err);
    if (status) {
        fw_free(into.bytes);
        return status;
    }
    into.bytes[into.length] = '\0';
    *bytes = into.bytes;
    *count = into.length;
    return FW_OK;
}

enum fw_status fw_file_get(const char *path, size_t most, char **bytes,
                           size_t *count, struct fw_error *err)
{
    const int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return not_read(path, errno, err);
    enum fw_status status =
        fw_io__get_open(file, path, most, bytes, count, err);
    close(file);
    return status;
}

/* One that has no writer would never open. */
enum fw_status fw_io__get_plain(const char *path, size_t most, char **bytes,
                                size_t *count, struct fw_error *err)
{
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return not_read(path, errno, err);
    struct stat info;
    enum fw_status status = FW_OK;
    if (!fstat(file, &info) && !S_ISREG(info.st_mode))
        status = fw_fail(err, FW_EINPUT, "%s: is no plain file", path);
    if (!status)
        status = fw_io__get_open(file, path, most, bytes, count, err);
    close(file);
    return status;
}

/* ---- folders ---- */

static enum fw_status make_one(const char *path, struct fw_error *err)
{
    if (mkdir(path, 0777) == 0)
        return FW_OK;
    const int code = errno;
    struct stat info;
    if (stat(path, &info) == 0) {
        if (S_ISDIR(info.st_mode))
            return FW_OK;
        return fw_fail(err, FW_EOUTPUT,
                       "%s: is a file; expected a folder, or a name that is "
                       "free",
                       path);
    }
    return fw_fail(err, FW_EOUTPUT, "%s: the folder cannot be made: %s", path,
                   code == EACCES || code == EPERM ? "you may not write there"
                                                   : strerror(code));
}

enum fw_status fw_folder_make(const char *path, struct fw_error *err)
{
    char *part = fw_strdup(path);
    if (!part)
        return fw_fail_memory(err);
    enum fw_status status = FW_OK;
    for (char *at = part + (*part != '\0'); *at && !status; at++) {
        if (*at != '/')
            continue;
        *at = '\0';
        status = make_one(part, err);
        *at = '/';
    }
    if (!status)
        status = make_one(path, err);
    fw_free(part);
    return status;
}

unsigned fw_file_crc32(const void *bytes, size_t count)
{
    return (unsigned)crc32_z(0, bytes, count);
}
