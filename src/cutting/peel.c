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
    struct fw_plots *plots;
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

/* Cut by the chord; not whole, and all as it was, when that makes no paddock
 * beside the last one. */
static enum fw_status try_chord(struct peel *peel, const struct fw_chord *chord,
                                size_t plot, struct fw_error *err)
{
    struct fw_subdivision *subdivision = &peel->plots->subdivision;
    const struct fw_subdivision_size before = fw_subdivision_size(subdivision);
    struct fw_region parts[2];
    bool whole = false;
    peel->work += work_of(peel);
    enum fw_status status = fw_layout__cut_chord(subdivision, &peel->rest,
                                                 chord, parts, &whole, err);
    peel->plots->whole = !status && whole && lies_beside(&parts[0], peel->last);
    if (peel->plots->whole) {
        fw_region_release(&peel->rest);
        peel->rest = parts[1];
        peel->last = before.supports;
        peel->plots->regions[plot] = parts[0];
        return FW_OK;
    }
    if (!status && whole)
        fw_regions_release(parts, 2);
    fw_subdivision_go_back(subdivision, before);
    return status;
}

static enum fw_status peel_one(struct peel *peel, size_t plot,
                               struct fw_error *err)
{
    struct fw_plots *plots = peel->plots;
    struct fw_chord room[chords_tried];
    struct fw_chords chords = {.items = room, .most = chords_tried};
    const struct fw_part part = {&peel->rest, plot, plots->count - plot};
    plots->whole = false;
    peel->work += work_of(peel);
    enum fw_status status = fw_layout__chords(plots, &part, 1, &chords, err);
    for (size_t i = 0; !status && !plots->whole && i < chords.count; i++)
        status = try_chord(peel, &chords.items[i], plot, err);
    return status;
}

enum fw_status fw_layout__peel(const void *data, struct fw_plots *plots,
                               struct fw_error *err)
{
    (void)data;
    struct peel peel = {.plots = plots, .last = FW_INSIDE};
    size_t made = 0;
    enum fw_status status =
        fw_subdivision_whole(&plots->subdivision, &peel.rest, err);
    if (status)
        return status;
    while (!status && plots->whole && made + 1 < plots->count) {
        plots->whole = peel.work <= most_work;
        if (plots->whole)
            status = peel_one(&peel, made, err);
        made += !status && plots->whole;
    }
    plots->regions[made] = peel.rest;
    if (status || !plots->whole)
        fw_regions_release(plots->regions, made + 1);
    return status;
}
