/* What is left of the winter's grass, day by day, and its picture. */
#ifndef FW_PICTURE_AHEAD_H
#define FW_PICTURE_AHEAD_H

#include "base/text.h"
#include "figures/mark.h"
#include "plan/plan.h"

enum { FW_REPORT_LEFT_DAYS = FW_BOUND(400) };

enum fw_report_left_way {
    FW_REPORT_LEFT_PLAN,  /* as the plan counts it */
    FW_REPORT_LEFT_LEAST, /* a fifth less than the eye saw, the greatest loss */
    FW_REPORT_LEFT_MOST,  /* a fifth more, the least loss */
    FW_REPORT_LEFT_WAYS
};

/* Above the stop height, in the morning of each day from the plan's first on.
 * The flock takes one stay's ground after the other, whatever the plan's days
 * are; what goes while they are in it is not counted. */
struct fw_picture__left {
    double kg[FW_REPORT_LEFT_DAYS];
    int days; /* after so many nothing is left */
};

void fw_picture__left(const struct fw_plan *plan, enum fw_report_left_way way,
                      struct fw_picture__left *out);

/* Does the plan use up grass that is dormant, and nobody told that it grows? */
bool fw_picture__is_winter(const struct fw_plan *plan);

void fw_picture__winter_svg(const struct fw_plan *plan, struct fw_text *text);

#endif
