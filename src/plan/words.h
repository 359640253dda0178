/* The words of choices, as the farm file and the files of a plan have them:
 * each at the place of its value, NULL for what nobody told. */
#ifndef FW_PLAN_WORDS_H
#define FW_PLAN_WORDS_H

#include "plan/plan.h"

enum { FW_PLAN__KEEPS = 2 }; /* enum fw_keep of a farm has as many */

/* What came of trying a caution on a plan. */
enum fw_tried {
    FW_TRIED_NO,
    FW_TRIED_LOOKED, /* by a person */
    FW_TRIED_KEPT,
    FW_TRIED_BROKEN
};

extern const char *const fw_plan__units_words[FW_US + 1];
extern const char *const fw_plan__season_words[FW_SEASON_DORMANT + 1];
extern const char *const fw_plan__field_order_words[FW_ORDER_NEAREST + 1];
extern const char *const fw_plan__holds_words[FW_HOLDS_LAMBS + 1];
extern const char *const fw_plan__air_words[FW_AIR_COUNT];
extern const char *const fw_plan__answer_words[FW_YES + 1];
extern const char *const fw_plan__coat_words[FW_SHORN + 1];
extern const char *const fw_plan__use_of_words[FW_USE_STANDING + 1];
extern const char *const fw_plan__bonded_words[FW_BONDED_EVERY + 1];
extern const char *const fw_plan__role_words[FW_FENCE_MOVED + 1];
extern const char *const fw_plan__why_words[FW_POST_CROSSING + 1];
extern const char *const fw_plan__ground_words[FW_GROUND_COUNT];
extern const char *const fw_plan__keep_words[FW_PLAN__KEEPS];
extern const char *const fw_plan__untold_words[FW_WALK_TOO_MUCH + 1];
extern const char *const fw_plan__tried_words[FW_TRIED_BROKEN + 1];
extern const char *const fw_plan__step_words[FW_STEP_COUNT_OF];

#endif
