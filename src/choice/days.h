/* The state of a plan on any of its days, for what asks day by day. */
#ifndef FW_CHOICE_DAYS_H
#define FW_CHOICE_DAYS_H

#include "choice/job.h"

struct fw_plan__days {
    const struct fw_plan *plan;
    struct fw_land land;
    struct fw_plan_start start;
    struct fw_replay replay;
    size_t move; /* the last one done; FW_NONE: none */
};

enum fw_status fw_plan__days_init(struct fw_plan__days *days,
                                  const struct fw_plan *plan,
                                  struct fw_error *err);
void fw_plan__days_release(struct fw_plan__days *days);

/* Back to before the first step. */
enum fw_status fw_plan__days_again(struct fw_plan__days *days,
                                   struct fw_error *err);

/* days->replay as it is when that day ends. */
enum fw_status fw_plan__days_to(struct fw_plan__days *days, int day,
                                struct fw_error *err);

/* The same as it is after that step of the plan's time. */
enum fw_status fw_plan__days_to_step(struct fw_plan__days *days, size_t step,
                                     struct fw_error *err);

/* Is the line hooked on, as far as the move at hand goes? It is not from when
 * it is set or opened until it is hooked on, bridged or closed; when the move
 * is over every line is. */
bool fw_plan__days_hooked(const struct fw_plan__days *days, size_t line);

#endif
