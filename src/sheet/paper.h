/* What is printed, before it is drawn and after. Free the pages with
 * fw_paper_free. */
#ifndef FW_SHEET_PAPER_H
#define FW_SHEET_PAPER_H

#include "farm/farm.h"
#include "plan/plan.h"
#include <foldwright/error.h>

struct fw_paper;       /* paper.h */
struct fw_plan_scores; /* choice.h */

/* The pages of the sheet before they are drawn, with or without what follows
 * the maps. Free with fw_paper_free. */
enum fw_status fw_sheet__sheet_paper(const struct fw_plan *plan, bool lists,
                                     struct fw_paper **out,
                                     struct fw_error *err);

/* The same of the card of seven days from a move on. */
enum fw_status fw_sheet__card_paper(const struct fw_plan *plan, size_t move,
                                    struct fw_paper **out,
                                    struct fw_error *err);

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
enum fw_status fw_sheet__compare_paper(const struct fw_farm *farm,
                                       const struct fw_plan_scores *scores,
                                       struct fw_paper **out,
                                       struct fw_error *err);

#endif
