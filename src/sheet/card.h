/* The parts of the pocket card. */
#ifndef FW_SHEET_CARD_H
#define FW_SHEET_CARD_H

#include "choice/days.h"
#include "sheet/flow.h"
#include "today/today.h"

/* A move, and how things are before its first step. */
struct fw_card_day {
    const struct fw_plan *plan;
    size_t move;
    const bool *stands;           /* by fence */
    const size_t *ground;         /* the cells that the flock has */
    size_t ground_count;          /* 0: it is outside */
    const struct fw_today *today; /* its weather; NULL: nobody told of it */
};

/* card_map.c: the day's ground in that frame; the bar and the north stand
 * beside it, from `beside` down. */
void fw_card_map(struct fw_paper *paper, struct fw_page *page,
                 const struct fw_card_day *day, struct fw_xy at,
                 struct fw_xy size, struct fw_xy beside);

/* card_day.c: the page of a move. */
void fw_card_day(struct fw_flow *flow, const struct fw_card_day *day);

/* card_words.c: the way of the tank on each of these moves, where a fence is in
 * it; no page where none is. */
void fw_card_tank(struct fw_flow *flow, const struct fw_plan *plan,
                  size_t first, size_t end);

/* card_words.c: before the first day, and the week. */
void fw_card_before(struct fw_flow *flow, const struct fw_plan *plan);
void fw_card_week(struct fw_flow *flow, const struct fw_plan *plan,
                  size_t first, size_t end);

/* What a move takes: of all lines that it sets. */
struct fw_card_kit {
    size_t lines;
    int posts, reels;
    double wire_m;
};
struct fw_card_kit fw_card_kit(const struct fw_plan *plan, size_t move);

#define FW_CARD_SIZE 9.0 /* no letter is smaller */
#define FW_CARD_MARGIN 13.0
#define FW_CARD_FOOT 12.0

#endif
