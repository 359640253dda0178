/* Which round of grazing a stay is in. */
#include "moves/moves.h"

#include "base/alloc.h"
#include "base/fail.h"

enum fw_status fw_time_number(struct fw_time *time, size_t cell_count,
                              const bool *grazed, struct fw_error *err)
{
    int *seen = fw_alloc(cell_count, sizeof *seen); /* one more than in which */
    int round = 0;
    if (!seen)
        return fw_fail_memory(err);
    for (size_t c = 0; grazed && c < cell_count; c++)
        seen[c] = grazed[c];
    for (size_t i = 0; i < time->stay_count; i++) {
        struct fw_time_stay *stay = &time->stays[i];
        round += seen[stay->cell] > round;
        stay->round = round;
        seen[stay->cell] = round + 1;
    }
    fw_free(seen);
    return FW_OK;
}
