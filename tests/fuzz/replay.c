/* Gives a fuzz harness the files of its corpus, one after the other, without a
 * fuzzer: replay_farm tests/fuzz/corpus/farm
 *
 * What lies in a folder named "broken" may be refused. Any other file is a seed
 * that has to be read to its end: one that no longer is has gone stale. */
#include "fuzz.h"

#include <dirent.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { most_bytes = 8 << 20 };

static int replay_file(const char *path, bool may_be_refused)
{
    FILE *file = fopen(path, "rb");
    if (!file) {
        fprintf(stderr, "%s cannot be read\n", path);
        return 1;
    }
    unsigned char *room = malloc(most_bytes);
    const size_t count = room ? fread(room, 1, most_bytes, file) : 0;
    fclose(file);
    /* In a block of just that size, a sanitizer sees the first byte beyond. */
    unsigned char *bytes = malloc(count ? count : 1);
    if (!room || !bytes) {
        free(room);
        free(bytes);
        return 1;
    }
    memcpy(bytes, room, count);
    free(room);
    LLVMFuzzerTestOneInput(bytes, count);
    free(bytes);
    const char *why = fuzz_refused();
    if (why && !may_be_refused)
        fprintf(stderr, "%s is meant to be read, but: %s\n", path, why);
    return why && !may_be_refused;
}

static bool is_folder(const char *path)
{
    struct stat about;
    return !stat(path, &about) && S_ISDIR(about.st_mode);
}

static int replay_folder(const char *path, size_t *files)
{
    struct dirent **entries;
    const int count = scandir(path, &entries, NULL, alphasort);
    const char *last = strrchr(path, '/');
    const bool broken = !strcmp(last ? last + 1 : path, "broken");
    int failed = count < 0;
    for (int i = 0; i < count; i++) {
        char name[4096];
        snprintf(name, sizeof name, "%s/%s", path, entries[i]->d_name);
        if (entries[i]->d_name[0] == '.') {
            ;
        } else if (is_folder(name)) {
            failed |= replay_folder(name, files);
        } else {
            failed |= replay_file(name, broken);
            ++*files;
        }
        free(entries[i]);
    }
    if (count >= 0)
        free(entries);
    return failed;
}

int main(int argc, char **argv)
{
    size_t files = 0;
    int failed = 0;
    for (int i = 1; i < argc; i++)
        failed |= replay_folder(argv[i], &files);
    printf("%zu inputs replayed\n", files);
    return failed || files == 0;
}
