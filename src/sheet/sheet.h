/* The parts of the field sheet. */
#ifndef FW_SHEET_SHEET_H
#define FW_SHEET_SHEET_H

#include "sheet/drawing.h"
#include "sheet/flow.h"

/* sheet_map.c: a page with the map of one field. */
void fw_sheet_map(struct fw_paper *paper, const struct fw_plan *plan,
                  size_t field);

/* sheet_lists.c: what follows the maps. */
void fw_sheet_moves(struct fw_flow *flow, const struct fw_plan *plan);
void fw_sheet_materials(struct fw_flow *flow, const struct fw_plan *plan);
void fw_sheet_cautions(struct fw_flow *flow, const struct fw_plan *plan);

/* card.c: the pocket card of the week from a move on, with what the weather of
 * its first day comes to. */
struct fw_weather;
struct fw_card_asked {
    const struct fw_plan *plan;
    size_t move;
    const struct fw_weather *weather; /* NULL: nobody told of it */
};
enum fw_status fw_sheet_card(const struct fw_card_asked *of, long long epoch_s,
                             char **out, size_t *count, struct fw_error *err);

/* Of the paper that the plan's people have: A4, or Letter in the US. */
struct fw_xy fw_sheet_size(const struct fw_plan *plan);
#define FW_SHEET_MARGIN 30.0
#define FW_SHEET_FOOT 30.0 /* kept free for what stands at the foot */

#endif
