/* Files that only grow. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/put.h"
#include "io/words.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

struct fw_added {
    char *path;
    int file;    /* -1: there is none yet */
    bool is_new; /* its folder has to be on the disk too */
    char *bytes;
    size_t count;
};

/* An editor puts another file in its place: what is open must be what has the
 * name, or the lock is one of a file that nobody reads any more. */
static bool is_named(int file, const char *path)
{
    struct stat open_one, named;
    return !fstat(file, &open_one) && !stat(path, &named) &&
           open_one.st_dev == named.st_dev && open_one.st_ino == named.st_ino;
}

static enum fw_status held(const char *path, bool writer, struct fw_error *err)
{
    return fw_fail(err, writer ? FW_EOUTPUT : FW_EINPUT,
                   "%s: another run is at work on it; try again when it has "
                   "ended",
                   path);
}

static enum fw_status open_locked(struct fw_added *file, bool writer,
                                  struct fw_error *err)
{
    const int most_tries = 100;
    for (int i = 0; i < most_tries; i++) {
        struct stat info;
        file->is_new = stat(file->path, &info) != 0;
        file->file = open(file->path,
                          writer ? O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC
                                 : O_RDONLY | O_CLOEXEC,
                          0666);
        if (file->file < 0 && !writer && errno == ENOENT)
            return FW_OK;
        if (file->file < 0)
            return writer ? fw_io__refuse(file->path, errno, err)
                          : fw_fail(err, FW_EINPUT, "%s: cannot be read: %s",
                                    file->path, strerror(errno));
        if (fw_io__wait(file->file, writer) == FW_IO__HELD)
            return held(file->path, writer, err);
        if (is_named(file->file, file->path))
            return FW_OK;
        close(file->file);
        file->file = -1;
    }
    return held(file->path, writer, err);
}

enum fw_status fw_added_open(const char *path, size_t most, bool writer,
                             struct fw_added **out, struct fw_error *err)
{
    struct fw_added *file = fw_alloc(1, sizeof *file);
    if (!file)
        return fw_fail_memory(err);
    file->file = -1;
    file->path = fw_strdup(path);
    enum fw_status status =
        file->path ? open_locked(file, writer, err) : fw_fail_memory(err);
    if (!status && file->file >= 0)
        status = fw_io__get_open(file->file, path, most, &file->bytes,
                                 &file->count, err);
    if (status) {
        fw_added_close(file);
        return status;
    }
    *out = file;
    return FW_OK;
}

const char *fw_added_bytes(const struct fw_added *file, size_t *count)
{
    *count = file->count;
    return file->bytes ? file->bytes : "";
}

/* Half of what was to be added is taken back: it is ours. Where that fails too,
 * an end without its newline is left, and told when it is read. */
static enum fw_status give_up(struct fw_added *file, off_t before, int code,
                              struct fw_error *err)
{
    (void)!ftruncate(file->file, before);
    return fw_io__refuse(file->path, code, err);
}

static enum fw_status sync_folder_of(const char *path, struct fw_error *err)
{
    char *folder = fw_strdup(path);
    if (!folder)
        return fw_fail_memory(err);
    folder[fw_io__base_name(path) - path] = '\0';
    const enum fw_status status = fw_io__sync_folder(folder, err);
    fw_free(folder);
    return status;
}

enum fw_status fw_added_put(struct fw_added *file, const char *bytes,
                            size_t count, struct fw_error *err)
{
    const off_t before = lseek(file->file, 0, SEEK_END);
    if (before < 0)
        return fw_io__refuse(file->path, errno, err);
    if (fw_io__write_all(file->file, bytes, count))
        return give_up(file, before, errno, err);
    if (fsync(file->file) && errno != EINVAL && errno != EROFS)
        return give_up(file, before, errno, err);
    return file->is_new ? sync_folder_of(file->path, err) : FW_OK;
}

void fw_added_close(struct fw_added *file)
{
    if (!file)
        return;
    struct stat info;
    if (file->file >= 0 && file->is_new && !fstat(file->file, &info) &&
        info.st_size == 0)
        unlink(file->path); /* nothing came of it */
    if (file->file >= 0)
        close(file->file);
    fw_bytes_free(file->bytes);
    fw_free(file->path);
    fw_free(file);
}
