/* What work does when each of its allocations fails: it says so, and nothing
 * leaks. */
#ifndef FW_FAULT_REFUSE_H
#define FW_FAULT_REFUSE_H

#include "fault/alloc.h"
#include "unit/test.h"

#include "crs/crs.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The first so many one by one, then in strides that share no factor with
 * anything: a whole plan makes thousands of them. Some may be done without, as
 * a list that only makes a read quicker. */
static inline void refuse_after(const char *what,
                                enum fw_status (*work)(struct fw_error *),
                                size_t least, size_t one_by_one, size_t without)
{
    struct fw_error err;
    fault_refuse(0);
    fw_crs_forget();
    if (work(&err))
        fail_msg("%s", err.text);
    fw_crs_forget();
    const size_t all = fault_made();
    const size_t held = fault_held();
    print_message("# %s makes %zu allocations\n", what, all);
    assert_true(all > least);
    const char *every = getenv("FW_FAULT_EVERY");
    const size_t tries = getenv("FW_THOROUGH") ? 400 : 50;
    if (!getenv("FW_THOROUGH"))
        one_by_one /= 4;
    const size_t stride = every ? 1 : all / tries + 1;
    for (size_t n = 1; n <= all; n += n < one_by_one ? 1 : stride) {
        memset(&err, 0, sizeof err);
        fault_refuse(n);
        const enum fw_status status = work(&err);
        fault_refuse(0);
        fw_crs_forget();
        if (status == FW_OK && without > 0)
            without--;
        else if (status != FW_ENOMEM)
            fail_msg("allocation %zu of %zu: status %d: %s", n, all,
                     (int)status, err.text);
        assert_true(!status || err.text[0] != '\0');
        if (fault_held() != held)
            fail_msg("allocation %zu of %zu: %zu blocks leak", n, all,
                     fault_held() - held);
    }
}

static inline void refuse_each(const char *what,
                               enum fw_status (*work)(struct fw_error *),
                               size_t least)
{
    refuse_after(what, work, least, 200, 0);
}

#endif
