#include "base/array.h"
#include "base/alloc.h"
#include "base/fail.h"
#include <stdint.h>
#include <string.h>

/* Half as much again, so that adding one at a time stays cheap. */
static size_t grown(size_t capacity, size_t wanted)
{
    const size_t least = 8;
    size_t room = capacity < least ? least : capacity;
    if (room <= SIZE_MAX - room / 2)
        room += room / 2;
    return room < wanted ? wanted : room;
}

enum fw_status fw_array_reserve(void *items, size_t *capacity, size_t wanted,
                                size_t size, struct fw_error *err)
{
    if (wanted <= *capacity)
        return FW_OK;

    /* The pointer has the caller's type; only its bytes may be touched. */
    char *block;
    memcpy(&block, items, sizeof block);
    const size_t room = grown(*capacity, wanted);
    char *moved = fw_realloc(block, room, size);
    if (!moved)
        return fw_fail_memory(err);
    memset(moved + *capacity * size, 0, (room - *capacity) * size);
    memcpy(items, &moved, sizeof moved);
    *capacity = room;
    return FW_OK;
}
