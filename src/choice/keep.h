/* What is kept back for storms and heat. */
#ifndef FW_CHOICE_KEEP_H
#define FW_CHOICE_KEEP_H

#include "choice/job.h"

/* For a layout's request: wanted and count. */
struct fw_plan__keep {
    struct fw_layout_keep wanted[FW_KEEP_COUNT];
    struct fw_layout_mark *marks[FW_KEEP_COUNT];
    size_t count;
};
enum fw_status fw_plan__keep_init(const struct fw_plan_job *job, size_t field,
                                  struct fw_plan__keep *out,
                                  struct fw_error *err);
void fw_plan__keep_release(struct fw_plan__keep *keep);

/* "storm" for what a layout says is kept, "" for nothing. */
const char *fw_plan__keep_word(size_t kept);

/* What could not be kept, and why. */
enum fw_status fw_plan__keep_notes(const struct fw_plan_job *job, size_t field,
                                   const struct fw_layout *layout,
                                   struct fw_error *err);

#endif
