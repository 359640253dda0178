/* What a farm tells, beside a plan that is gone on from: the flock as it was
 * counted, the same fields, the days on which somebody comes. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "forage/forage.h"

#include <math.h>
#include <string.h>

/* Those that were counted: the difference is one of the class that has most. */
enum fw_status fw_plan__anew_flock(const struct fw_farm *farm, int head,
                                   struct fw_flock_class **out,
                                   struct fw_error *err)
{
    struct fw_flock_class *classes =
        fw_alloc(farm->class_count, sizeof *classes);
    size_t most = 0;
    int all = 0;
    if (!classes)
        return fw_fail_memory(err);
    memcpy(classes, farm->classes, farm->class_count * sizeof *classes);
    for (size_t i = 0; i < farm->class_count; i++) {
        all += classes[i].head;
        most = classes[i].head > classes[most].head ? i : most;
    }
    if (head > 0)
        classes[most].head += head - all;
    *out = classes;
    if (classes[most].head > 0)
        return FW_OK;
    fw_free(classes);
    *out = NULL;
    return fw_fail(err, FW_EINPUT,
                   "head: %d counted, where the farm has %d: that is more than "
                   "are gone of its %s; tell the flock anew",
                   head, all, farm->classes[most].name);
}

enum fw_status fw_plan__anew_fields(const struct fw_farm *farm,
                                    const struct fw_plan *from,
                                    struct fw_error *err)
{
    if (farm->field_count != from->field_count)
        return fw_fail(err, FW_EINPUT,
                       "the farm has %zu fields now, and the plan %zu",
                       farm->field_count, from->field_count);
    for (size_t i = 0; i < farm->field_count; i++)
        if (strcmp(farm->fields[i].shape->name, from->fields[i].name) != 0)
            return fw_fail(err, FW_EINPUT,
                           "field %zu is \"%.80s\" now, and \"%.80s\" in the "
                           "plan",
                           i + 1, farm->fields[i].shape->name,
                           from->fields[i].name);
    return FW_OK;
}

/* That day, or the first one after it on which somebody moves the flock. */
int fw_plan__anew_day(const struct fw_farm *farm, int day)
{
    struct fw_stay stay = farm->stay;
    for (int k = 0; k < FW_PARTS(7); k++)
        stay.days[k] = fmin(stay.days[k], 1);
    return day - 1 + fw_forage_stay_from(&stay, day - 1);
}
