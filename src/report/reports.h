/* What is written and printed, one file of source for each. */
#ifndef FW_REPORT_REPORTS_H
#define FW_REPORT_REPORTS_H

#include "farm/farm.h"
#include "io/io.h"
#include "live/plan_power.h"
#include "plan/plan.h"
#include "power/circuit_use.h"
#include "power/power.h"
#include <foldwright/error.h>
#include <foldwright/report.h>

struct fw_paper;       /* paper.h */
struct fw_plan_scores; /* choice.h */

/* Texts end with a line feed; free with fw_bytes_free. `colour` asks for the
 * terminal's bold and red on what is dangerous. */

/* The rows of the register that have each of the words in their name, what they
 * are, or where they are from; all of them without a word. FW_EINPUT: none
 * has. */
enum fw_status fw_report_sources(const char *const *words, size_t count,
                                 char **out, struct fw_error *err);
enum fw_status fw_report_sources_json(const char *const *words, size_t count,
                                      char **out, struct fw_error *err);

/* Materials as a table to read; what is sold by the metre in the reader's
 * units. */
enum fw_status fw_report_materials(const struct fw_material *rows, size_t count,
                                   enum fw_units units, const char *currency,
                                   char **out, struct fw_error *err);

/* What `check` says of the farm: fields with corners numbered, sides lengthed,
 * north up, drawn in letters when there are few; what is missing. */
enum fw_status fw_report_check(const struct fw_farm *farm, bool colour,
                               char **out, struct fw_error *err);

/* One field as a picture: corners numbered, sides lengthed, north up. It begins
 * with the line by which an older one is known for ours. */
#define FW_REPORT_SVG_BEGIN "<!-- foldwright: fields and their corners -->"
enum fw_status fw_report_field_svg(const struct fw_farm *farm, char **out,
                                   struct fw_error *err);

/* The next stays as bars: what stands for them today, what grows until their
 * day, what they need, and what there is if growth falls to a third. */
#define FW_REPORT_AHEAD_BEGIN "<!-- foldwright: the grass ahead -->"
enum { FW_REPORT_AHEAD_STAYS = 30 };
enum fw_status fw_report_ahead_svg(const struct fw_plan *plan, char **out,
                                   size_t *count, struct fw_error *err);

/* The pages of the sheet before they are drawn, with or without what follows
 * the maps. Free with fw_paper_free. */
enum fw_status fw_report__sheet_paper(const struct fw_plan *plan, bool lists,
                                      struct fw_paper **out,
                                      struct fw_error *err);

/* The same of the card of seven days from a move on. */
enum fw_status fw_report__card_paper(const struct fw_plan *plan, size_t move,
                                     struct fw_paper **out,
                                     struct fw_error *err);

/* What a tester shows along one run, what a sheep gets, and what is wanted. */
enum fw_status fw_report_power_line(const struct fw_circuit_run *run,
                                    const struct fw_circuit_run_volts *volts,
                                    const struct fw_power_wanted *wanted,
                                    char **out, struct fw_error *err);

/* What one pipe brings, and what other bores would; a struct fw_pipe of
 * water/pipe.h. */
struct fw_pipe;
enum fw_status fw_report_water_pipe(const struct fw_pipe *pipe,
                                    enum fw_units units, char **out,
                                    struct fw_error *err);
enum fw_status fw_report_water_pipe_json(const struct fw_pipe *pipe, char **out,
                                         struct fw_error *err);

/* The power of a plan: energizer, earth, what feeds it, its days and fences,
 * and what would help. With a fit, rows are the days as it predicts them; NULL
 * both for the plan's own. */
enum fw_status fw_report_power(const struct fw_plan *plan,
                               const struct fw_circuit_fit *fit,
                               const struct fw_plan_power_day *rows, char **out,
                               struct fw_error *err);

/* What a tester reads from post to post on a day, with a fault and without. */
enum fw_status fw_report_looks(const struct fw_plan *plan, int day,
                               const char *fault,
                               const struct fw_plan_looks *looks, char **out,
                               struct fw_error *err);

/* The same facts for machines, as JSON. */
enum fw_status fw_report_power_json(const struct fw_plan *plan,
                                    const struct fw_circuit_fit *fit,
                                    const struct fw_plan_power_day *rows,
                                    char **out, struct fw_error *err);
enum fw_status fw_report_looks_json(const struct fw_plan *plan, int day,
                                    const char *fault,
                                    const struct fw_plan_looks *looks,
                                    char **out, struct fw_error *err);

enum fw_status fw_report_power_line_json(
    const struct fw_circuit_run *run, const struct fw_circuit_run_volts *volts,
    const struct fw_power_wanted *wanted, char **out, struct fw_error *err);
enum fw_status fw_report_check_json(const struct fw_farm *farm, char **out,
                                    struct fw_error *err);
enum fw_status fw_report_move_json(const struct fw_plan *plan, size_t move,
                                   char **out, struct fw_error *err);
enum fw_status fw_report_materials_json(const struct fw_material *rows,
                                        size_t count, const char *currency,
                                        char **out, struct fw_error *err);
enum fw_status fw_report_cautions_json(const struct fw_plan *plan, char **out,
                                       struct fw_error *err);

/* The candidates of `foldwright compare`. */
enum fw_status fw_report_compare(const struct fw_farm *farm,
                                 const struct fw_plan_scores *scores,
                                 bool colour, char **out, struct fw_error *err);
enum fw_status fw_report_compare_json(const struct fw_farm *farm,
                                      const struct fw_plan_scores *scores,
                                      char **out, struct fw_error *err);

/* The same to look at: small maps to one scale, figures below, what plan takes
 * first. */
struct fw_report_drawn {
    bool svg;          /* else PDF */
    long long epoch_s; /* as of a sheet */
};
enum fw_status fw_report_compare_drawn(const struct fw_farm *farm,
                                       const struct fw_plan_scores *scores,
                                       const struct fw_report_drawn *how,
                                       char **out, size_t *count,
                                       struct fw_error *err);
enum fw_status fw_report__compare_paper(const struct fw_farm *farm,
                                        const struct fw_plan_scores *scores,
                                        struct fw_paper **out,
                                        struct fw_error *err);

/* The layers of plan.gpkg in its coordinate system (crs NULL: the plan's);
 * FW_REPORT_LAYERS tables. */
#define FW_REPORT_LAYERS 13
enum fw_status fw_report_tables(const struct fw_plan *plan, const char *crs,
                                struct fw_table tables[FW_REPORT_LAYERS],
                                struct fw_error *err);

#endif
