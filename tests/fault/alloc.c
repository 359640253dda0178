/* The library's memory, with one allocation that is refused. Stands in place of
 * src/base/alloc.c when a test is linked. */
#include "fault/alloc.h"

#include "base/alloc.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static size_t made, refused_at, held;

void fault_refuse(size_t nth)
{
    made = 0;
    refused_at = nth;
}

size_t fault_made(void)
{
    return made;
}

size_t fault_held(void)
{
    return held;
}

static __attribute__((noinline)) bool refused(void)
{
    return ++made == refused_at;
}

void *fw_alloc(size_t count, size_t size)
{
    if (refused())
        return NULL;
    void *block = calloc(count ? count : 1, size);
    held += block != NULL;
    return block;
}

void *fw_realloc(void *block, size_t count, size_t size)
{
    if (refused() || (size && count > SIZE_MAX / size))
        return NULL;
    void *moved = realloc(block, count && size ? count * size : 1);
    held += !block && moved;
    return moved;
}

char *fw_strdup(const char *text)
{
    const size_t bytes = strlen(text) + 1;
    char *copy = fw_alloc(bytes, 1);
    return copy ? memcpy(copy, text, bytes) : NULL;
}

void fw_free(void *block)
{
    held -= block != NULL;
    free(block);
}
