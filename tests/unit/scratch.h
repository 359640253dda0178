/* A scratch folder for tests that write files, and what stands in it. */
#ifndef FW_SCRATCH_H
#define FW_SCRATCH_H

#include "test.h"
#include <dirent.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct scratch {
    char path[64];
};

static inline void scratch_make(struct scratch *scratch)
{
    snprintf(scratch->path, sizeof scratch->path, "/tmp/foldwright-XXXXXX");
    if (!mkdtemp(scratch->path))
        fail_msg("no scratch folder in /tmp");
}

/* path/name; the text lives until four more were asked for. */
static inline const char *in_scratch(const struct scratch *scratch,
                                     const char *name)
{
    static char rooms[4][512];
    static int turn;
    char *room = rooms[turn++ % 4];
    snprintf(room, sizeof rooms[0], "%s/%s", scratch->path, name);
    return room;
}

static inline void put_text(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    if (!file)
        fail_msg("%s cannot be written", path);
    fwrite(text, 1, strlen(text), file);
    fclose(file);
}

static inline bool exists(const char *path)
{
    struct stat info;
    return lstat(path, &info) == 0;
}

static inline int by_text(const void *a, const void *b)
{
    return strcmp(a, b);
}

/* Names, sizes and times of all that stands in the folder, sorted; free it. */
static inline char *listing(const char *folder)
{
    enum { most = 200, wide = 400 };
    char(*rows)[wide] = calloc(most, wide);
    DIR *open = opendir(folder);
    size_t count = 0;
    for (struct dirent *entry; open && (entry = readdir(open));) {
        if (!strcmp(entry->d_name, ".") || !strcmp(entry->d_name, ".."))
            continue;
        char path[4096 + 300];
        struct stat info = {0};
        snprintf(path, sizeof path, "%.4000s/%s", folder, entry->d_name);
        lstat(path, &info);
        assert_true(count < most);
        snprintf(rows[count++], wide, "%s %lld %lld.%09ld\n", entry->d_name,
                 (long long)info.st_size, (long long)info.st_mtim.tv_sec,
                 info.st_mtim.tv_nsec);
    }
    if (open)
        closedir(open);
    qsort(rows, count, wide, by_text);
    char *all = calloc(count * wide + 1, 1);
    for (size_t i = 0; i < count; i++)
        strcat(all, rows[i]);
    free(rows);
    return all;
}

static inline void scratch_remove(const char *folder)
{
    DIR *open = opendir(folder);
    for (struct dirent *entry; open && (entry = readdir(open));) {
        if (!strcmp(entry->d_name, ".") || !strcmp(entry->d_name, ".."))
            continue;
        char path[4096 + 300];
        struct stat info;
        snprintf(path, sizeof path, "%.4000s/%s", folder, entry->d_name);
        if (lstat(path, &info) == 0 && S_ISDIR(info.st_mode))
            scratch_remove(path);
        else
            unlink(path);
    }
    if (open)
        closedir(open);
    rmdir(folder);
}

static inline int scratch_setup(void **state)
{
    struct scratch *scratch = calloc(1, sizeof *scratch);
    scratch_make(scratch);
    *state = scratch;
    return 0;
}

static inline int scratch_teardown(void **state)
{
    struct scratch *scratch = *state;
    scratch_remove(scratch->path);
    free(scratch);
    return 0;
}

#define scratch_test(name)                                                     \
    cmocka_unit_test_setup_teardown(name, scratch_setup, scratch_teardown)

/* As data_test, in a folder of its own. */
#define scratch_data_test(function)                                            \
    (getenv("FW_TEST_DATA") ? (struct CMUnitTest)scratch_test(function)        \
                            : data_test(function))

#endif
