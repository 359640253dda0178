/* The library's memory with a fence behind each block. Stands in place of
 * src/base/alloc.c when a test is linked, so that room that is too small, and
 * what is read beyond its end, is found without a sanitizer. */
#include "base/alloc.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { fence_bytes = 64, fence = 0xA5, gone = 0x5A };

/* As long as any type is aligned. */
struct head {
    size_t bytes, seal;
};

static size_t held;

/* Blocks that are out; threads have their share in it. */
size_t guarded_held(void);
size_t guarded_held(void)
{
    return __atomic_load_n(&held, __ATOMIC_RELAXED);
}

static const size_t own_seal = 0x666f6c64;

static unsigned char *put_up(size_t bytes)
{
    struct head *head = calloc(1, sizeof *head + bytes + fence_bytes);
    if (!head)
        return NULL;
    *head = (struct head){bytes, own_seal ^ bytes};
    unsigned char *block = (unsigned char *)(head + 1);
    memset(block + bytes, fence, fence_bytes);
    __atomic_add_fetch(&held, 1, __ATOMIC_RELAXED);
    return block;
}

static void give_up(const char *why, size_t bytes)
{
    printf("# a block of %zu bytes: %s\n", bytes, why);
    fflush(stdout);
    abort();
}

static struct head *head_of(unsigned char *block)
{
    struct head *head = (struct head *)(void *)block - 1;
    if (head->seal != (own_seal ^ head->bytes))
        give_up("it is none of the library's, or was written before its "
                "beginning",
                0);
    for (size_t i = 0; i < fence_bytes; i++)
        if (block[head->bytes + i] != fence)
            give_up("it was written beyond its end", head->bytes);
    return head;
}

void *fw_alloc(size_t count, size_t size)
{
    if (size && count > (SIZE_MAX >> 1) / size)
        return NULL;
    return put_up(count * size);
}

/* Always elsewhere: who keeps the old place finds rubbish there. */
void *fw_realloc(void *block, size_t count, size_t size)
{
    unsigned char *moved = fw_alloc(count, size);
    if (!moved)
        return NULL;
    memset(moved, fence, count * size);
    if (!block)
        return moved;
    const size_t before = head_of(block)->bytes;
    memcpy(moved, block, before < count * size ? before : count * size);
    fw_free(block);
    return moved;
}

char *fw_strdup(const char *text)
{
    const size_t bytes = strlen(text) + 1;
    char *copy = fw_alloc(bytes, 1);
    if (copy)
        memcpy(copy, text, bytes);
    return copy;
}

void fw_free(void *block)
{
    if (!block)
        return;
    struct head *head = head_of(block);
    memset(block, gone, head->bytes);
    head->seal = 0;
    __atomic_sub_fetch(&held, 1, __ATOMIC_RELAXED);
    free(head);
}
