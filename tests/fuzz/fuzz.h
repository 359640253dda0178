/* The entry that libFuzzer calls, and replay.c in its place. */
#ifndef FW_FUZZ_H
#define FW_FUZZ_H

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count);

/* Why the last input was refused; NULL: it was read to its end. A seed that is
 * refused early fuzzes nothing beyond that place, so that replay.c asks. */
const char *fuzz_refused(void);

#endif
