/* Where a field or a feature came from, for people and for files. */
#include "keys/reader.h"

#include "base/alloc.h"
#include "base/fail.h"
#include <stdio.h>

const char *fw_farm__feature(size_t row, long long fid, const char *name,
                             char room[FW_FARM__FEATURE])
{
    char number[32] = "", called[96] = "";
    if (fid >= 0)
        snprintf(number, sizeof number, "FID %lld", fid);
    if (name)
        snprintf(called, sizeof called, "%s%.80s", *number ? ", " : "", name);
    snprintf(room, FW_FARM__FEATURE,
             *number || *called ? "feature %zu (%s%s)" : "feature %zu", row,
             number, called);
    return room;
}
