/* Today's weather in words: a line each, for the terminal and for the card. */
#ifndef FW_REPORT_WEATHER_H
#define FW_REPORT_WEATHER_H

#include "report/report.h"
#include "today/today.h"

/* Nothing where the weather asks for nothing. Lines end with a line feed. */
void fw_report_say_today(struct fw_text *lines, const struct fw_today *today);

/* A heading, and the lines folded. */
void fw_report__today(struct fw_text *text, const struct fw_today *today,
                      bool colour);

/* The card of a move with the weather of its day, as JSON too. */
enum fw_status fw_report_move_in(const struct fw_plan *plan, size_t move,
                                 const struct fw_weather *weather, unsigned how,
                                 char **out, struct fw_error *err);

#endif
