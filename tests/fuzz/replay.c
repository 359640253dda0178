/* Gives a fuzz harness the files of its corpus, one after the other, without a
 * fuzzer: replay_farm tests/fuzz/corpus/farm */
#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { most_bytes = 8 << 20 };

static int replay_file(const char *path)
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
    return 0;
}

static int replay_folder(const char *path, size_t *files)
{
    struct dirent **entries;
    const int count = scandir(path, &entries, NULL, alphasort);
    int failed = count < 0;
    for (int i = 0; i < count; i++) {
        char name[4096];
        snprintf(name, sizeof name, "%s/%s", path, entries[i]->d_name);
        if (entries[i]->d_name[0] != '.') {
            failed |= replay_file(name);
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
