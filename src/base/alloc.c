#include "base/alloc.h"
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Zero bytes become one, since malloc(0) may answer NULL, which here means
 * that there was no room. */
void *fw_realloc(void *block, size_t count, size_t size)
{
    if (count == 0 || size == 0)
        return realloc(block, 1);
    if (count > SIZE_MAX / size)
        return NULL;
    return realloc(block, count * size);
}

/* Not calloc, which in glibc before 2.41 passes by the blocks that a thread
 * has just freed: that cost a plan a twentieth of its time. */
void *fw_alloc(size_t count, size_t size)
{
    void *block = fw_realloc(NULL, count, size);
    if (block)
        memset(block, 0, count * size);
    return block;
}

char *fw_strdup(const char *text)
{
    const size_t bytes = strlen(text) + 1;
    char *copy = fw_realloc(NULL, bytes, 1);
    if (copy)
        memcpy(copy, text, bytes);
    return copy;
}

void fw_free(void *block)
{
    free(block);
}
