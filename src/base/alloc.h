/* All memory of the library comes from here, so that a test can refuse it.
 * tests/fault replaces alloc.c as a whole: keep every function in that file. */
#ifndef FW_BASE_ALLOC_H
#define FW_BASE_ALLOC_H

#include <stddef.h>

/* Zeroed room for count items of size bytes; NULL when there is none or the
 * product overflows. count 0 gives a pointer that can be freed. */
void *fw_alloc(size_t count, size_t size);

/* As realloc, with the overflow checked; the old block stays on failure. */
void *fw_realloc(void *block, size_t count, size_t size);

char *fw_strdup(const char *text);
void fw_free(void *block);

#endif
