/* The entry that libFuzzer calls, and replay.c in its place. */
#ifndef FW_FUZZ_H
#define FW_FUZZ_H

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count);

#endif
