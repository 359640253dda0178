/* Where a field or a feature came from, for people and for files. */
#include "farm/reader.h"

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

void fw_origin_release(struct fw_origin *origin)
{
    for (size_t i = 0; i < origin->copied_count; i++) {
        fw_free(origin->copied[i].column);
        fw_free(origin->copied[i].value);
    }
    fw_free(origin->copied);
    fw_free(origin->layer);
    *origin = (struct fw_origin){0};
}

static bool copy(const char *from, char **to)
{
    *to = from ? fw_strdup(from) : NULL;
    return *to || !from;
}

enum fw_status fw_origin_copy(const struct fw_origin *from,
                              struct fw_origin *to, struct fw_error *err)
{
    const size_t count = from->copied_count;
    *to = (struct fw_origin){
        .fid = from->fid,
        .copied = fw_alloc(count, sizeof *to->copied),
    };
    bool done = to->copied && copy(from->layer, &to->layer);
    for (size_t i = 0; done && i < count; i++) {
        to->copied_count = to->copied_capacity = i + 1;
        done = copy(from->copied[i].column, &to->copied[i].column) &&
               copy(from->copied[i].value, &to->copied[i].value);
    }
    return done ? FW_OK : fw_fail_memory(err);
}
