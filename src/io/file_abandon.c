/* The one process-wide state of the library: the names of temporary files that
 * are being written. A signal handler has no argument, may take no lock and
 * no memory, and still must find them; so they stand in a table of fixed
 * size. */
#include "io/put.h"
#include <foldwright/io.h>

#include <errno.h>
#include <string.h>
#include <unistd.h>

enum { slots = 16, most_path = 4096 };
enum { slot_free, slot_busy, slot_armed };

static struct {
    int state;
    char path[most_path];
} table[slots];

int fw_io__remember(const char *path)
{
    const size_t size = strlen(path) + 1;
    if (size > most_path)
        return -1;
    for (int i = 0; i < slots; i++) {
        int expected = slot_free;
        if (!__atomic_compare_exchange_n(&table[i].state, &expected, slot_busy,
                                         0, __ATOMIC_ACQUIRE, __ATOMIC_RELAXED))
            continue;
        memcpy(table[i].path, path, size);
        __atomic_store_n(&table[i].state, slot_armed, __ATOMIC_RELEASE);
        return i;
    }
    return -1;
}

void fw_io__forget(int slot)
{
    if (slot >= 0)
        __atomic_store_n(&table[slot].state, slot_free, __ATOMIC_RELEASE);
}

void fw_file_abandon(void)
{
    const int before = errno;
    for (int i = 0; i < slots; i++)
        if (__atomic_load_n(&table[i].state, __ATOMIC_ACQUIRE) == slot_armed)
            unlink(table[i].path);
    errno = before;
}
