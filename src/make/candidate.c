/* One candidate of a comparison as a plan of its field alone, to look at. */
#include "base/fail.h"
#include "make/make.h"

#include <stdio.h>

enum fw_status fw_plan_candidate(const struct fw_farm *farm,
                                 const struct fw_plan_score *score, int day,
                                 struct fw_plan **out, struct fw_error *err)
{
    struct fw_farm one = *farm;
    char layout[sizeof score->layout];
    snprintf(layout, sizeof layout, "%s", score->layout);
    one.fields = &farm->fields[score->field];
    one.field_count = 1;
    one.layout = layout;
    one.start_day = day;
    if (score->field > 0) /* it is told in the first field's plane */
        one.energizer = (struct fw_spot){0};
    const enum fw_status status = fw_plan_make(&one, out, err);
    return status ? fw_fail_where(err, "%s: ", score->layout) : FW_OK;
}
