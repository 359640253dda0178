/* One paddock after the other: each by the shortest fence that cuts it off what
 * is left, beside the paddock before. */
#include "cutting/peel.h"
#include "cutting/chord.h"
#include "figures/mark.h"

enum {
    chords_tried = FW_EFFORT(24),
    most_work =
        FW_EFFORT(6000), /* of a field, in all: cuts and looks for them */
    size_of_work = FW_EFFORT(200) /* vertices that make one worth another */
};

struct peel {
    struct fw_subdivision *subdivision;
    const double *behind;
    size_t count;
    struct fw_region rest;
    size_t last; /* support of the last fence; before the first one FW_INSIDE */
    size_t work;
};

static size_t work_of(const struct peel *peel)
{
    return 1 + fw_region_size(&peel->rest) / size_of_work;
}

static bool lies_beside(const struct fw_region *region, size_t support)
{
    bool found = support == FW_INSIDE;
    for (size_t i = 0; !found && i < region->ring_start[1]; i++)
        found = region->supports[i] == support;
    return found;
}

/* Cut by the chord; *done false, and all as it was, when that makes no paddock
 * beside the last one. */
static enum fw_status try_chord(struct peel *peel, const struct fw_chord *chord,
                                struct fw_region *out, bool *done,
                                struct fw_error *err)
{
    struct fw_subdivision *subdivision = peel->subdivision;
    const struct fw_subdivision before = *subdivision;
    struct fw_region parts[2];
    bool whole = false;
    peel->work += work_of(peel);
    enum fw_status status = fw_layout__cut_chord(subdivision, &peel->rest,
                                                 chord, parts, &whole, err);
    *done = !status && whole && lies_beside(&parts[0], peel->last);
    if (*done) {
        fw_region_release(&peel->rest);
        peel->rest = parts[1];
        peel->last = before.support_count;
        *out = parts[0];
        return FW_OK;
    }
    if (!status && whole) {
        fw_region_release(&parts[0]);
        fw_region_release(&parts[1]);
    }
    subdivision->vertex_count = before.vertex_count;
    subdivision->support_count = before.support_count;
    subdivision->line_count = before.line_count;
    return status;
}

static enum fw_status peel_one(struct peel *peel, size_t plot,
                               struct fw_region *out, bool *done,
                               struct fw_error *err)
{
    struct fw_chord chords[chords_tried];
    size_t found = 0;
    *done = false;
    peel->work += work_of(peel);
    enum fw_status status = fw_layout__chords(
        peel->subdivision, &peel->rest, peel->behind + plot,
        plot > 0 ? peel->behind[plot - 1] : 0, peel->count - plot, 1, chords,
        chords_tried, &found, err);
    for (size_t i = 0; !status && !*done && i < found; i++)
        status = try_chord(peel, &chords[i], out, done, err);
    return status;
}

enum fw_status fw_layout__peel(const void *data,
                               struct fw_subdivision *subdivision,
                               const double *behind, struct fw_region *paddocks,
                               struct fw_region *common, size_t *common_count,
                               bool *whole, struct fw_error *err)
{
    (void)common;
    struct peel peel = {.subdivision = subdivision,
                        .behind = behind,
                        .count = *(const size_t *)data,
                        .last = FW_INSIDE};
    size_t made = 0;
    *whole = true;
    *common_count = 0;
    enum fw_status status = fw_subdivision_whole(subdivision, &peel.rest, err);
    if (status)
        return status;
    while (!status && *whole && made + 1 < peel.count) {
        *whole = peel.work <= most_work;
        if (*whole)
            status = peel_one(&peel, made, &paddocks[made], whole, err);
        made += !status && *whole;
    }
    if (!status && *whole) {
        paddocks[made] = peel.rest;
        return FW_OK;
    }
    fw_region_release(&peel.rest);
    while (made > 0)
        fw_region_release(&paddocks[--made]);
    *whole = false;
    return status;
}
