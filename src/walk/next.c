/* Corners to be gone on from, the nearest first. */
#include "walk/inner.h"

#include "base/array.h"

static bool is_nearer(const struct fw_walk__next *a,
                      const struct fw_walk__next *b)
{
    return a->walked_m != b->walked_m ? a->walked_m < b->walked_m
                                      : a->corner < b->corner;
}

enum fw_status fw_walk__push(struct fw_walk_ground *ground,
                             struct fw_walk__next next, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&ground->heap, &ground->heap_capacity,
                         ground->heap_count + 1, sizeof *ground->heap, err);
    if (status)
        return status;
    size_t at = ground->heap_count++;
    while (at > 0 && is_nearer(&next, &ground->heap[(at - 1) / 2])) {
        ground->heap[at] = ground->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    ground->heap[at] = next;
    return FW_OK;
}

struct fw_walk__next fw_walk__pop(struct fw_walk_ground *ground)
{
    struct fw_walk__next *heap = ground->heap;
    const struct fw_walk__next first = heap[0];
    const struct fw_walk__next last = heap[--ground->heap_count];
    const size_t count = ground->heap_count;
    size_t at = 0;
    for (;;) {
        size_t child = 2 * at + 1;
        if (child >= count)
            break;
        if (child + 1 < count && is_nearer(&heap[child + 1], &heap[child]))
            child++;
        if (!is_nearer(&heap[child], &last))
            break;
        heap[at] = heap[child];
        at = child;
    }
    heap[at] = last;
    return first;
}
