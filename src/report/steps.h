/* The steps of a move, each in the words of who does it. */
#ifndef FW_REPORT_STEPS_H
#define FW_REPORT_STEPS_H

#include "report/report.h"

/* The step at hand, and how its openings are called. */
struct fw_report_saying {
    const struct fw_plan *plan;
    size_t move;
    const struct fw_step *step;
    size_t index; /* of the step */
    bool outline; /* what the rest of the page says is left out */
};

/* steps.c */
const struct fw_move *fw_report__move_of(const struct fw_report_saying *saying);
size_t fw_report__line_of(const struct fw_report_saying *saying, size_t i);
char fw_report_letter_of(const struct fw_report_saying *saying, size_t opening);

/* "at A", "at A and at B", "at A (both ends of each wire)": all that makes the
 * line live. */
const char *fw_report__hooked(const struct fw_plan *plan, size_t fence);

/* steps_line.c: setting, hooking on, reading and taking down */
void fw_report__say_set(struct fw_text *text,
                        const struct fw_report_saying *saying);
void fw_report__say_hook(struct fw_text *line,
                         const struct fw_report_saying *saying);
void fw_report__say_read(struct fw_text *line,
                         const struct fw_report_saying *saying);
void fw_report__say_take_down(struct fw_text *line,
                              const struct fw_report_saying *saying);
/* A line of its own below the step. */
void fw_report__add_more(struct fw_text *text, struct fw_text *line);
void fw_report__name_fences(struct fw_text *line, const struct fw_plan *plan,
                            const size_t *fences, size_t count);

/* What parts of fields are fenced apart with before the first move. */
void fw_report_say_borders(struct fw_text *text, const struct fw_plan *plan);

/* steps_water.c: where the trough goes and what to fill */
void fw_report__say_carry(struct fw_text *line,
                          const struct fw_report_saying *saying);
/* In outline the tank's way is left to the card's page of it. */
void fw_report__say_carry_brief(struct fw_text *line,
                                const struct fw_report_saying *saying);
/* " Tank through A03 at B and A-line-1 63 from A: each dead first, hot again
 * behind it; hold them off A03.", where a tank brings the move's trough. */
void fw_report_say_tank_brief(struct fw_text *line, const struct fw_plan *plan,
                              size_t move);
/* Is a fence in the way of the tank that brings the move's trough? */
bool fw_report_has_tank(const struct fw_plan *plan, size_t move);

/* steps_brief.c: any step in a few words, for a card with a map */
void fw_report_say_brief(struct fw_text *line,
                         const struct fw_report_saying *saying);

/* steps_flock.c: opening, closing, and the flock */

/* Do they walk into the paddock by themselves, once that is open? */
bool fw_report__lets_in(const struct fw_report_saying *saying);
/* Lambs that go with their dams and are in no class of their own. */
bool fw_report__counts_lambs(const struct fw_plan *plan);
/* Does this count let them in, since nobody has told the gate? */
bool fw_report__comes_in_untold(const struct fw_report_saying *saying);
void fw_report__say_open(struct fw_text *line,
                         const struct fw_report_saying *saying);
void fw_report__say_close(struct fw_text *line,
                          const struct fw_report_saying *saying);
void fw_report__say_bridge(struct fw_text *line,
                           const struct fw_report_saying *saying);
void fw_report__say_walk(struct fw_text *line,
                         const struct fw_report_saying *saying);
void fw_report__say_count(struct fw_text *line,
                          const struct fw_report_saying *saying);
void fw_report__say_later(struct fw_text *line,
                          const struct fw_report_saying *saying);

#endif
