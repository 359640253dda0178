/* What nobody told and the plan settled otherwise than by the usual figure: the
 * list of what was taken for granted says what was taken. */
#include "choice/job.h"
#include "make/parts.h"

#include <stdio.h>
#include <string.h>

static struct fw_farm_default *find(struct fw_plan *plan, const char *what)
{
    for (size_t i = 0; i < plan->default_count; i++)
        if (strcmp(plan->defaults[i].what, what) == 0)
            return &plan->defaults[i];
    return NULL;
}

/* "1 to 3 days, by field" */
static void settle_stay(const struct fw_plan_job *job)
{
    const struct fw_plan *plan = job->plan;
    struct fw_farm_default *row = find(job->plan, "stay");
    int least = 0, most = 0;
    for (size_t i = 0; i < plan->field_count; i++) {
        const int days = job->every_days[i] > 0 ? job->every_days[i] : 1;
        if (plan->fields[i].paddock_count == 0)
            continue;
        least = least == 0 || days < least ? days : least;
        most = days > most ? days : most;
    }
    if (!row || most < 2)
        return;
    if (least == most)
        snprintf(row->value, sizeof row->value, "%d days", most);
    else
        snprintf(row->value, sizeof row->value, "%d to %d days, by field",
                 least, most);
}

static void settle_order(const struct fw_plan_job *job)
{
    struct fw_farm_default *row = find(job->plan, "order of work");
    if (row && job->set_first)
        snprintf(row->value, sizeof row->value, "set-first");
}

void fw_plan__settle_defaults(const struct fw_plan_job *job)
{
    settle_stay(job);
    settle_order(job);
}
