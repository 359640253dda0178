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

/* What `check` says of the farm: fields with corners numbered, sides lengthed,
 * north up, drawn in letters when there are few; what is missing. */
enum fw_status fw_report_check(const struct fw_farm *farm, bool colour,
                               char **out, struct fw_error *err);

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

/* As JSON, for machines. */
enum fw_status fw_report_cautions_json(const struct fw_plan *plan, char **out,
                                       struct fw_error *err);
enum fw_status fw_report_looks_json(const struct fw_plan *plan, int day,
                                    const char *fault,
                                    const struct fw_plan_looks *looks,
                                    char **out, struct fw_error *err);
enum fw_status fw_report_power_line_json(
    const struct fw_circuit_run *run, const struct fw_circuit_run_volts *volts,
    const struct fw_power_wanted *wanted, char **out, struct fw_error *err);

/* The candidates of `foldwright compare`. */
enum fw_status fw_report_compare(const struct fw_farm *farm,
                                 const struct fw_plan_scores *scores,
                                 bool colour, char **out, struct fw_error *err);
enum fw_status fw_report_compare_json(const struct fw_farm *farm,
                                      const struct fw_plan_scores *scores,
                                      char **out, struct fw_error *err);

#endif
