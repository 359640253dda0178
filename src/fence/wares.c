/* What is sold: under which price, in which packs, with how much to spare; and
 * what is bought of it. */
#include "fence/fence.h"
#include "fence/list.h"
#include "figures/fence.h"
#include "figures/mark.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char fw_fence_clamps[] = "where strands are joined: on both sides of "
                               "each gate, where the lead comes to the fence, "
                               "and one for each roll of wire";
const char fw_fence_cable[] =
    "from the energizer to the fence and to its earth rods, and buried in a "
    "pipe under each gate";

/* By enum fw_ware: the words are the keys of the prices. */
#define WORD(ware, word) [FW_WARE_##ware] = word
const char *const fw_ware_words[FW_WARE_COUNT] = {
    WORD(POST, "post"),
    WORD(REEL, "reel"),
    WORD(WIRE, "wire"),
    WORD(CORNER_POST, "corner-post"),
    WORD(LINE_POST, "line-post"),
    WORD(BRACE_POST, "brace-post"),
    WORD(BRACE_RAIL, "brace-rail"),
    WORD(STRAINER, "strainer"),
    WORD(PERIMETER_WIRE, "perimeter-wire"),
    WORD(GATE, "gate"),
    WORD(INSULATOR, "insulator"),
    WORD(STAPLE, "staple"),
    WORD(CLAMP, "clamp"),
    WORD(SIGN, "sign"),
    WORD(ANCHOR, "anchor"),
    WORD(HANDLE, "handle"),
    WORD(SLEEVE, "sleeve"),
    WORD(ENERGIZER, "energizer"),
    WORD(EARTH_ROD, "earth-rod"),
    WORD(LEAD, "lead"),
    WORD(SWITCH, "switch"),
};

static const struct ware {
    size_t price_at; /* in struct fw_prices */
    double pack;     /* 0: sold singly */
    double spare;    /* of what is needed */
    bool by_length;
} wares[FW_WARE_COUNT] = {
    [FW_WARE_POST] = {offsetof(struct fw_prices, post), 0, FW_SPARE_SHARE,
                      false},
    [FW_WARE_REEL] = {offsetof(struct fw_prices, reel), 0, 0, false},
    [FW_WARE_WIRE] = {offsetof(struct fw_prices, wire_m), FW_PACK_WIRE_M, 0,
                      true},
    [FW_WARE_CORNER_POST] = {offsetof(struct fw_prices, corner_post), 0, 0,
                             false},
    [FW_WARE_LINE_POST] = {offsetof(struct fw_prices, line_post), 0,
                           FW_SPARE_SHARE, false},
    [FW_WARE_BRACE_POST] = {offsetof(struct fw_prices, brace_post), 0, 0,
                            false},
    [FW_WARE_BRACE_RAIL] = {offsetof(struct fw_prices, brace_rail), 0, 0,
                            false},
    [FW_WARE_STRAINER] = {offsetof(struct fw_prices, strainer), 0,
                          FW_SPARE_SHARE, false},
    [FW_WARE_PERIMETER_WIRE] = {offsetof(struct fw_prices, perimeter_wire_m),
                                FW_PERIMETER_ROLL_M, 0, true},
    [FW_WARE_GATE] = {offsetof(struct fw_prices, gate), 0, 0, false},
    [FW_WARE_INSULATOR] = {offsetof(struct fw_prices, insulator),
                           FW_PACK_INSULATORS, FW_SPARE_SHARE, false},
    [FW_WARE_STAPLE] = {offsetof(struct fw_prices, staple), FW_PACK_STAPLES,
                        FW_SPARE_SHARE, false},
    [FW_WARE_CLAMP] = {offsetof(struct fw_prices, clamp), FW_PACK_CLAMPS,
                       FW_SPARE_SHARE, false},
    [FW_WARE_SIGN] = {offsetof(struct fw_prices, sign), 0, 0, false},
    [FW_WARE_ANCHOR] = {offsetof(struct fw_prices, anchor), 0, 0, false},
    [FW_WARE_HANDLE] = {offsetof(struct fw_prices, handle), 0, FW_SPARE_SHARE,
                        false},
    [FW_WARE_SLEEVE] = {offsetof(struct fw_prices, sleeve), 0, 0, false},
    [FW_WARE_ENERGIZER] = {offsetof(struct fw_prices, energizer), 0, 0, false},
    [FW_WARE_EARTH_ROD] = {offsetof(struct fw_prices, earth_rod), 0, 0, false},
    [FW_WARE_LEAD] = {offsetof(struct fw_prices, lead_m), FW_PACK_LEAD_M, 0,
                      true},
    [FW_WARE_SWITCH] = {offsetof(struct fw_prices, cut_out), 0, 0, false},
};

struct fw_material fw_fence_material(enum fw_ware ware, double quantity,
                                     const struct fw_prices *prices)
{
    struct fw_material row = {.ware = ware, .quantity = quantity};
    if (!prices)
        prices = &fw_fence__no_prices;
    memcpy(&row.price, (const char *)prices + wares[ware].price_at,
           sizeof row.price);
    snprintf(row.unit, sizeof row.unit, "%s",
             wares[ware].by_length ? "m" : "each");
    return row;
}

void fw_fence_settle(struct fw_material *rows, size_t count,
                     const struct fw_owned *owned)
{
    struct fw_owned left = {{0}};
    if (owned)
        left = *owned;
    for (size_t i = 0; i < count; i++) {
        struct fw_material *row = &rows[i];
        const struct ware *ware = &wares[row->ware];
        row->spare =
            ware->spare > 0
                ? ceil(ware->spare * row->quantity - FW_TOLERANCE(1e-9))
                : 0;
        row->pack = ware->pack;
        row->owned = fmin(left.of[row->ware], row->quantity + row->spare);
        left.of[row->ware] -= row->owned;
    }
}

static double wanted(const struct fw_material *row, bool only_rest)
{
    return fmax(0, row->quantity + row->spare - (only_rest ? row->owned : 0));
}

double fw_fence_packs(const struct fw_material *row, bool only_rest)
{
    return row->pack > 0
               ? ceil(wanted(row, only_rest) / row->pack - FW_TOLERANCE(1e-9))
               : 0;
}

double fw_fence_bought(const struct fw_material *row, bool only_rest)
{
    const double all = wanted(row, only_rest);
    if (row->pack > 0)
        return row->pack * fw_fence_packs(row, only_rest);
    return strcmp(row->unit, "m") == 0 ? all : ceil(all - FW_TOLERANCE(1e-9));
}
