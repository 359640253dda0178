/* The one process-wide state of the library: the names of temporary files that
 * are being written. A signal handler has no argument, may take no lock and
 * no memory, and still must find them; so they stand in a table of fixed
 * size. */
#include "io/io.h"
#include "io/put.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

enum { most_files = 16, most_path = 4096 };
enum { entry_free, entry_busy, entry_armed };

static struct {
    int state;
    char path[most_path];
} table[most_files];

int fw_io__remember(const char *path)
{
    const size_t size = strlen(path) + 1;
    if (size > most_path)
        return -1;
    for (int i = 0; i < most_files; i++) {
        int expected = entry_free;
        if (!__atomic_compare_exchange_n(&table[i].state, &expected, entry_busy,
                                         0, __ATOMIC_ACQUIRE, __ATOMIC_RELAXED))
            continue;
        memcpy(table[i].path, path, size);
        __atomic_store_n(&table[i].state, entry_armed, __ATOMIC_RELEASE);
        return i;
    }
    return -1;
}

void fw_io__forget(int entry)
{
    if (entry >= 0)
        __atomic_store_n(&table[entry].state, entry_free, __ATOMIC_RELEASE);
}

void fw_file_abandon(void)
{
    const int before = errno;
    for (int i = 0; i < most_files; i++)
        if (__atomic_load_n(&table[i].state, __ATOMIC_ACQUIRE) == entry_armed)
            unlink(table[i].path);
    errno = before;
}
