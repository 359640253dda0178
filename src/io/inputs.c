#include "io/inputs.h"
#include "io/dataset.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/origin.h"

#include <cpl_string.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>
#include <zlib.h>

/* ---- a file on the disk ---- */

static const long long end_bytes = 1048576; /* of a large file: 1 MiB */

static bool add_range(int file, long long from, long long to, unsigned *sum)
{
    unsigned char block[65536];
    while (from < to) {
        const long long rest = to - from;
        const size_t wanted =
            rest < (long long)sizeof block ? (size_t)rest : sizeof block;
        const ssize_t got = pread(file, block, wanted, (off_t)from);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0)
            return false;
        *sum = (unsigned)crc32_z(*sum, block, (size_t)got);
        from += got;
    }
    return true;
}

/* Of what is no plain file nothing is known, and it is not waited for. */
static void measure(const char *path, struct fw_input *input)
{
    struct stat info;
    if (stat(path, &info) || !S_ISREG(info.st_mode))
        return;
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return;
    const long long size = fstat(file, &info) ? -1 : (long long)info.st_size;
    unsigned sum = 0;
    bool read = size >= 0;
    if (size <= FW_INPUT_WHOLE)
        read = read && add_range(file, 0, size, &sum);
    else
        read = add_range(file, 0, end_bytes, &sum) &&
               add_range(file, size - end_bytes, size, &sum);
    close(file);
    input->known = read;
    input->size = read ? (double)size : 0;
    input->crc32 = read ? sum : 0;
}

static bool is_file(const char *path)
{
    struct stat info;
    return !stat(path, &info) && !S_ISDIR(info.st_mode);
}

/* ---- from a source to its file ---- */

/* The first part of the path that is a file: of "fields.zip/a/b.shp" the
 * zip. */
static bool cut_to_file(char *path)
{
    for (;;) {
        if (*path && is_file(path))
            return true;
        char *slash = strrchr(path, '/');
        if (!slash || slash == path)
            return false;
        *slash = '\0';
    }
}

/* "/vsizip/{fields.zip}/a.shp", "/vsigzip//vsitar/...": what is inside. */
static char *past_handlers(char *path)
{
    while (!strncmp(path, "/vsi", 4)) {
        char *slash = strchr(path + 4, '/');
        if (!slash)
            return path;
        path = slash + 1;
        if (*path == '{') {
            path++;
            char *brace = strrchr(path, '}');
            if (brace)
                *brace = '\0';
        }
    }
    return path;
}

/* "GPKG:fields.gpkg:north": between two colons. */
static bool between_colons(char *text)
{
    for (char *from = strchr(text, ':'); from; from = strchr(from + 1, ':')) {
        char *start = from + 1 + strspn(from + 1, "\"'");
        char *end = start + strlen(start);
        for (; end > start; end--) {
            if (*end && !strchr(":\"'", *end))
                continue;
            const char kept = *end;
            *end = '\0';
            if (is_file(start)) {
                memmove(text, start, strlen(start) + 1);
                return true;
            }
            *end = kept;
        }
    }
    return false;
}

/* A path that is on the disk, or NULL: it names none, or *failed. */
static char *file_of(const char *source, bool *failed)
{
    char *copy = fw_strdup(source);
    *failed = !copy;
    if (!copy)
        return NULL;
    char *path = past_handlers(copy);
    memmove(copy, path, strlen(path) + 1);
    if (is_file(source) || cut_to_file(copy))
        return copy;
    memcpy(copy, source, strlen(source) + 1);
    if (between_colons(copy))
        return copy;
    fw_free(copy);
    return NULL;
}

/* ---- the list ---- */

static bool has(const struct fw_inputs *inputs, const char *path)
{
    for (size_t i = 0; i < inputs->count; i++)
        if (!strcmp(inputs->items[i].path, path))
            return true;
    return false;
}

/* The path becomes the list's. */
enum fw_status fw_inputs_add(struct fw_inputs *inputs, const char *source,
                             struct fw_error *err)
{
    if (!inputs)
        return FW_OK;
    bool failed;
    char *path = file_of(source, &failed);
    if (failed)
        return fw_fail_memory(err);
    struct fw_input input = {.path = path};
    if (path)
        measure(path, &input);
    else
        input.path = fw_source_shown(source);
    if (input.path && has(inputs, input.path)) {
        fw_free(input.path);
        return FW_OK;
    }
    return fw_inputs__add(inputs, input, err);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* A folder lists its files in any order. */
enum fw_status fw_io__add_dataset(struct fw_inputs *inputs, GDALDatasetH data,
                                  const char *source, struct fw_error *err)
{
    if (!inputs)
        return FW_OK;
    char **files = GDALGetFileList(data);
    const int count = CSLCount(files);
    if (count)
        qsort(files, (size_t)count, sizeof *files, by_name);
    enum fw_status status = FW_OK;
    for (int i = 0; i < count && !status; i++)
        status = fw_inputs_add(inputs, files[i], err);
    CSLDestroy(files);
    return count || status ? status : fw_inputs_add(inputs, source, err);
}

/* ---- has it changed? ---- */

static enum fw_status check(const struct fw_input *input,
                            struct fw_notes *notes, struct fw_error *err)
{
    struct fw_input now = {.known = false};
    struct stat info;
    if (!input->known)
        return fw_notes_add(notes, FW_LEVEL_NOTE, input->path, err,
                            "whether it has changed since this plan was made "
                            "is not known");
    if (stat(input->path, &info))
        return fw_notes_add(notes, FW_LEVEL_WARNING, input->path, err,
                            "this plan was made from it, and it is not there "
                            "any more");
    measure(input->path, &now);
    if (!now.known)
        return fw_notes_add(notes, FW_LEVEL_WARNING, input->path, err,
                            "this plan was made from it, and it cannot be "
                            "read any more");
    if (now.size == input->size && now.crc32 == input->crc32)
        return FW_OK;
    return fw_notes_add(notes, FW_LEVEL_WARNING, input->path, err,
                        "has changed since this plan was made; plan again to "
                        "use it");
}

enum fw_status fw_io__check_inputs(const struct fw_inputs *inputs,
                                   struct fw_notes *notes, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < inputs->count && !status; i++)
        status = check(&inputs->items[i], notes, err);
    return status;
}
