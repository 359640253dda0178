/* What a call says when it refuses a value. */
#ifndef FW_TEST_SAID_H
#define FW_TEST_SAID_H

#include "test.h"

#include <foldwright/error.h>

#include <string.h>

/* The call failed, and says so. */
static inline void said(enum fw_status status, struct fw_error *err,
                        const char *says)
{
    assert_int_equal(status, FW_EINPUT);
    if (!strstr(err->text, says))
        fail_msg("\"%s\" does not say \"%s\"", err->text, says);
    *err = (struct fw_error){.text = ""};
}

#endif
