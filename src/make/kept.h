/* A plan against the cautions that it carries. */
#ifndef FW_MAKE_KEPT_H
#define FW_MAKE_KEPT_H

#include "choice/job.h"

/* How high the grass is left in a field, as told, or by what its mass weighs a
 * centimetre; negative: nothing tells. */
double fw_plan__left_m(const struct fw_plan_job *job, size_t field);

/* The days on which red clover is to be kept from ewes, when the dates of
 * lambing tell those of tupping; the second is the day after. */
bool fw_plan__near_tupping(const struct fw_farm *farm, int *from, int *to);

/* What a caution wants of the plan and the plan does not keep, as findings. */
enum fw_status fw_plan__kept(struct fw_plan_job *job, struct fw_error *err);

/* tried.c: what was not looked at, and what a person has looked at; then the
 * page of cautions, each with what came of trying it. */
enum fw_status fw_plan__unchecked(struct fw_plan_job *job,
                                  struct fw_error *err);
enum fw_status fw_plan__cautions(struct fw_plan_job *job, struct fw_error *err);

#endif
