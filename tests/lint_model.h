/* What clang-tidy is told, which looks at one file at a time: a call that says
 * what went wrong returns the status that it was given, never FW_OK. */
#include "base/fail.h"

#define fw_fail(err, status, ...) (fw_fail(err, status, __VA_ARGS__), status)
#define fw_fail_memory(err) (fw_fail_memory(err), FW_ENOMEM)
#ifdef FW_KEYS_READER_H
#define fw_farm__fail_at(...) (fw_farm__fail_at(__VA_ARGS__), FW_EINPUT)
#endif
