/* Growing arrays: a pointer, a count and a capacity in the struct that owns
 * them. fw_array_reserve makes room for `wanted` items in all. */
#ifndef FW_BASE_ARRAY_H
#define FW_BASE_ARRAY_H

#include <foldwright/error.h>

/* items is the address of the array's pointer, size that of one item. The new
 * room is zeroed. On FW_ENOMEM nothing has changed. */
enum fw_status fw_array_reserve(void *items, size_t *capacity, size_t wanted,
                                size_t size, struct fw_error *err);

#endif
