/* The flock of a day by its classes: sold, bought, rams in and out; and lambs
 * that are weaned. */
#include "log/follow.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* As many as a farm file may have of a class. */
static const long most_head = FW_BOUND(100000);

static enum fw_status no_class(const struct fw_plan *plan, const char *name,
                               struct fw_error *err)
{
    const char **names = fw_alloc(plan->class_count, sizeof *names);
    if (!names)
        return fw_fail_memory(err);
    for (size_t i = 0; i < plan->class_count; i++)
        names[i] = plan->classes[i].name;
    const char *near = fw_text_nearest(name, names, plan->class_count);
    const char *such = near ? near : names[0];
    fw_free(names);
    return fw_fail(err, FW_EINPUT,
                   "flock: the farm has no class \"%.60s\"; expected such as "
                   "%s 52, or put the class into the farm file",
                   name, such);
}

/* "ewes with twins 52": the number is the last word. */
static enum fw_status read_entry(const struct fw_plan *plan, const char *entry,
                                 int *heads, struct fw_error *err)
{
    char name[FW_LOG_TEXT];
    char *end = NULL;
    const char *space = strrchr(entry, ' ');
    const long head = space ? strtol(space + 1, &end, FW_PARTS(10)) : -1;
    if (!space || !end || end == space + 1 || *end || head < 0 ||
        head > most_head)
        return fw_fail(err, FW_EINPUT,
                       "flock: \"%.60s\" is no class and how many of it there "
                       "are; expected such as %s 52, rams 0",
                       entry, plan->classes[0].name);
    fw_text_trim(entry, (size_t)(space - entry), name, sizeof name);
    for (size_t i = 0; i < plan->class_count; i++)
        if (strcmp(plan->classes[i].name, name) == 0) {
            heads[i] = (int)head;
            return FW_OK;
        }
    return no_class(plan, name, err);
}

enum fw_status fw_log__flock(const struct fw_plan *plan, const char *text,
                             int *heads, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    long all = 0;
    for (const char *at = text; !status && at;) {
        char entry[FW_LOG_TEXT];
        const size_t length = strcspn(at, ",");
        fw_text_trim(at, length, entry, sizeof entry);
        status = read_entry(plan, entry, heads, err);
        at = at[length] ? at + length + 1 : NULL;
    }
    for (size_t i = 0; i < plan->class_count; i++)
        all += heads[i];
    if (!status && all == 0)
        status = fw_fail(err, FW_EINPUT,
                         "flock: nobody would be left of it; end the log here");
    return status;
}

enum fw_status fw_log__fits_flock(const struct fw_log *log,
                                  const struct fw_log_day *day,
                                  struct fw_error *err)
{
    const struct fw_log_value *flock = &day->said->values[FW_LOG_FLOCK];
    if (!flock->told)
        return FW_OK;
    int *heads = fw_alloc(log->base->class_count, sizeof *heads);
    if (!heads)
        return fw_fail_memory(err);
    memcpy(heads, log->heads, log->base->class_count * sizeof *heads);
    const enum fw_status status =
        fw_log__flock(log->base, flock->text, heads, err);
    fw_free(heads);
    return status;
}

/* Of a class of which there are more some are new. */
static enum fw_status take_classes(struct fw_log *log, int day,
                                   const char *text, struct fw_error *err)
{
    const size_t count = log->base->class_count;
    int *before = fw_alloc(count, sizeof *before);
    if (!before)
        return fw_fail_memory(err);
    memcpy(before, log->heads, count * sizeof *before);
    const enum fw_status status =
        fw_log__flock(log->base, text, log->heads, err);
    log->head = log->weaned.given ? log->weaned.head : 0;
    for (size_t i = 0; i < count; i++) {
        log->head += log->heads[i];
        if (log->heads[i] > before[i])
            log->bought[i] = day;
    }
    fw_free(before);
    return status;
}

/* Lambs at foot are no class of their own any more: they stay as weaned ones,
 * or go. */
static void take_weaned(struct fw_log *log, const struct fw_log_value *said)
{
    const int before = log->weaned.given ? log->weaned.head : 0;
    log->weaned = (struct fw_plan_weaned){true, (int)said->number,
                                          said->number > 0 ? said->other : 0};
    log->head += log->weaned.head - before;
    for (size_t i = 0; i < log->base->class_count; i++)
        if (log->base->classes[i].state == FW_LAMB_AT_FOOT) {
            log->head -= log->heads[i];
            log->heads[i] = 0;
        }
}

enum fw_status fw_log__take_flock(struct fw_log *log,
                                  const struct fw_log_day *day,
                                  struct fw_error *err)
{
    const struct fw_log_value *values = day->said ? day->said->values : NULL;
    enum fw_status status = FW_OK;
    if (!values || day->wrong.status)
        return FW_OK;
    if (values[FW_LOG_FLOCK].told)
        status = take_classes(log, day->day, values[FW_LOG_FLOCK].text, err);
    if (!status && values[FW_LOG_WEANED].told)
        take_weaned(log, &values[FW_LOG_WEANED]);
    if (values[FW_LOG_HEAD].told) /* counted through, for the next stay */
        log->head = (int)values[FW_LOG_HEAD].number;
    return status;
}
