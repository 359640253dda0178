/* What the reports share beyond words.h. */
#ifndef FW_REPORT_REPORT_H
#define FW_REPORT_REPORT_H

#include "report/reports.h"

#include "live/plan_power.h"
#include "report/words.h"

/* The words that stand first on every page and in every file: as text, folded,
 * with an empty line; as a member "first" of JSON, without a comma. */
extern const char fw_report_first_words[];
void fw_report_first(struct fw_text *text);
void fw_report_first_json(struct fw_text *text);

/* Kilovolts to a decimal, rounded down. */
double fw_report_down_kv(double volts);

/* Both in kilovolts, to a decimal: what there is rounded down and what is
 * wanted up, so that too little never reads as enough. More decimals where with
 * one enough would read as too little. */
void fw_report_kv_beside(double has_v, double wanted_v, char has[FW_WORDS],
                         char wanted[FW_WORDS]);

/* What ends every page of sums about a circuit. */
extern const char fw_report_sum_words[];

/* check.c: a field drawn in letters, its corners numbered, its sides lengthed;
 * of many fields a line each. */
void fw_report__field_seen(struct fw_text *text, const struct fw_farm *farm,
                           size_t field);

/* One finding, folded, with its distance, what was wanted and its source. */
void fw_report__finding(struct fw_text *text, const struct fw_plan *plan,
                        const struct fw_plan_finding *finding, bool colour,
                        bool with_source);

/* The number of a finding on the maps, from 1: those that say the same have the
 * same, and one of them is the first. 0: it is no danger or warning, or has no
 * place. */
size_t fw_report_drawn_number(const struct fw_plan *plan, size_t finding,
                              bool *first);

/* What nobody has said, then the dangers; nothing when there is neither. Of a
 * move after the first those that touch its ground, and how many more there
 * are. FW_NONE: all of them. */
void fw_report_dangers(struct fw_text *text, const struct fw_plan *plan,
                       size_t move, bool colour);

/* Every caution of the plan with where it is from and whether it was tried;
 * plan NULL: all there are. */
void fw_report_cautions_whole(struct fw_text *text, const struct fw_plan *plan);

/* Cautions of the plan in a few words each: what kills, with how many more
 * there are; all of them, people and sheep. */
void fw_report__cautions_first(struct fw_text *words,
                               const struct fw_plan *plan);
void fw_report__cautions_brief(struct fw_text *text,
                               const struct fw_plan *plan);

/* text_end.c: what to look at beyond dangers, what was taken for granted, the
 * cautions; in short, or all of it. */
void fw_report__rest(struct fw_text *text, const struct fw_plan *plan,
                     bool all);

/* Where an end of a line stands, after its name: "A: 41 paces from corner 3
 * towards corner 2, 31 paces on from A03-04". */
void fw_report_say_end(struct fw_text *line, const struct fw_plan *plan,
                       const struct fw_plan_field *field, const char *name,
                       const struct fw_plan_paced *end);

/* What people call the side that an end is counted along, and the corner that
 * it is counted towards; 0: nothing. */
size_t fw_report_side(const struct fw_plan_field *field,
                      const struct fw_plan_paced *end);
size_t fw_report_towards(const struct fw_plan_field *field,
                         const struct fw_plan_paced *end);

/* What there is to mind about a candidate, each as a sentence with its mark. */
struct fw_plan_score;
void fw_report_candidate_marks(struct fw_text *text, const struct fw_farm *farm,
                               const struct fw_plan_score *score);
/* How far they walk in it: "57 m", "57 m to 64 m", "at least 57 m". */
void fw_report_candidate_walk(struct fw_text *text,
                              const struct fw_plan_score *score,
                              enum fw_units units);

/* walk.c: "climbs 4 m there and 14 m back" after what stands before it, where
 * that is worth a word beside the way; else nothing. */
void fw_report_climb(struct fw_text *words, const char *before,
                     const struct fw_plan_paddock *paddock,
                     enum fw_units units);
void fw_report__walk(struct fw_text *words, const struct fw_plan *plan);

/* text_rounds.c: the rounds after the first. */
void fw_report__rounds(struct fw_text *text, const struct fw_plan *plan);

/* text_grown.c: what growth makes of each field; and under the title that
 * nobody told any. */
void fw_report__grown(struct fw_text *text, const struct fw_plan *plan);
void fw_report__ungrown(struct fw_text *text, const struct fw_plan *plan);

/* text_field.c: the paragraphs of one field. */
void fw_report__field(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_plan_field *field, bool all);

/* check_volts.c: the power lines near a field, each with its voltage. */
void fw_report__check_volts(struct fw_text *text, const struct fw_farm *farm);
void fw_report_check_volts_json(struct fw_text *text,
                                const struct fw_farm *farm);

/* check_covers.c: what walked covers say, where they are told. FW_EINPUT: what
 * else must be told for that is not. */
enum fw_status fw_report__check_covers(struct fw_text *text,
                                       const struct fw_farm *farm,
                                       struct fw_error *err);
enum fw_status fw_report_check_covers_json(struct fw_text *text,
                                           const struct fw_farm *farm,
                                           struct fw_error *err);

/* The numbered work of one move, and how things stand after it; in outline
 * without what the page around it says. */
void fw_report__steps(struct fw_text *text, const struct fw_plan *plan,
                      size_t index, bool outline);

/* correct.c: where the fence of a move goes by what they left, and what to do
 * if nobody comes. */
void fw_report__correction(struct fw_text *text, const struct fw_plan *plan,
                           size_t move, bool colour);

/* "Thu 20 May 2027: into A04 (Long Bottom, block A-2)" */
void fw_report_move_title(struct fw_text *line, const struct fw_plan *plan,
                          size_t index);

#endif
