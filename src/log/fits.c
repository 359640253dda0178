/* What does not fit: a day beside the plan, in words for who said it. */
#include "log/follow.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/days.h"

#include <math.h>
#include <string.h>

static const struct fw_log_value *told(const struct fw_log_day *day,
                                       enum fw_log_part part)
{
    const struct fw_log_value *value = &day->said->values[part];
    return value->told ? value : NULL;
}

static enum fw_status fits_move(const struct fw_log_day *day,
                                struct fw_error *err)
{
    if (!told(day, FW_LOG_MISSED)) {
        if (day->move != FW_NONE)
            return FW_OK;
        if (told(day, FW_LOG_LEFT))
            return fw_fail(err, FW_EINPUT,
                           "left: no move is due that day, so they leave no "
                           "paddock; say it on the day of the next move");
        return told(day, FW_LOG_FENCE)
                   ? fw_fail(err, FW_EINPUT,
                             "fence: no move is due that day, so none is set")
                   : FW_OK;
    }
    if (!day->missed)
        return fw_fail(err, FW_EINPUT,
                       "missed: no move was due that day, so none was missed");
    if (told(day, FW_LOG_LEFT) || told(day, FW_LOG_FENCE) ||
        told(day, FW_LOG_MINUTES) || told(day, FW_LOG_INTO))
        return fw_fail(err, FW_EINPUT,
                       "missed: nobody came, so left, into, fence and minutes "
                       "cannot be told as well");
    return FW_OK;
}

static enum fw_status fits_left(const struct fw_log *log,
                                const struct fw_log_day *day,
                                struct fw_error *err)
{
    const struct fw_log_value *left = told(day, FW_LOG_LEFT);
    if (!left || day->move == FW_NONE)
        return FW_OK;
    if (day->paddock == FW_NONE)
        return fw_fail(err, FW_EINPUT,
                       "left: on the first day they come from outside, and "
                       "leave no paddock of the plan");
    const char *id = log->plan->paddocks[day->paddock].id;
    const double density = fw_log_density(log->plan, day->paddock);
    const enum fw_log_said_as as = fw_log_said_as(log->plan, day->paddock);
    if (left->word < 0 && as == FW_LOG_AS_SHARE)
        return fw_fail(err, FW_EINPUT,
                       "left: dormant grass lies flat, so a height says "
                       "nothing; say clean, some, third or half");
    if (left->word < 0 && as == FW_LOG_AS_WORD)
        return fw_fail(err, FW_EINPUT,
                       "left: the plan has the mass of %s and no sward, so a "
                       "height says nothing; say short, right or long",
                       id);
    const double height_cm =
        density > 0 ? 100 * day->offer.stands_kg_ha / density : 0;
    if (left->word < 0 && 100 * left->number > height_cm)
        return fw_fail(err, FW_EINPUT,
                       "left: %.3g cm are more than stood in %s before they "
                       "came, %.3g cm by the plan",
                       100 * left->number, id, height_cm);
    return FW_OK;
}

static enum fw_status fits_fence(const struct fw_log *log,
                                 const struct fw_log_day *day,
                                 struct fw_error *err)
{
    const struct fw_log_value *fence = told(day, FW_LOG_FENCE);
    if (!fence || day->move == FW_NONE)
        return FW_OK;
    if (told(day, FW_LOG_INTO))
        return fw_fail(err, FW_EINPUT,
                       "fence: of a paddock that is taken before its turn the "
                       "lines stand where the card has them; leave fence out");
    if (day->fence == FW_NONE)
        return fw_fail(err, FW_EINPUT,
                       "fence: no fence that is counted in paces is set that "
                       "day");
    const char *id = log->plan->fences[day->fence].id;
    const bool has_end = (fence->number > 0 || day->a.way == 0) &&
                         (!(fence->other <= 0) || day->b.way == 0);
    if (day->size > 0 && has_end && day->size <= day->most)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "fence: %s at %s paces lies %s; by the plan it is set at "
                   "%d,%d, counted as the card does",
                   id, fence->text,
                   day->size > 1 ? "beyond the block or the field"
                                 : "on ground that is grazed",
                   day->a.paces, day->b.paces);
}

static enum fw_status fits_volts(const struct fw_log *log,
                                 const struct fw_log_day *day,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    const struct fw_log_value *volts = told(day, FW_LOG_OPEN_V);
    if (!volts || !volts->at[0])
        return FW_OK;
    const char **names = fw_alloc(plan->fence_count + 1, sizeof *names);
    if (!names)
        return fw_fail_memory(err);
    bool found = false;
    for (size_t i = 0; i < plan->fence_count; i++) {
        names[i] = plan->fences[i].id;
        found |= strcmp(names[i], volts->at) == 0;
    }
    const char *near =
        found ? NULL : fw_text_nearest(volts->at, names, plan->fence_count);
    fw_free(names);
    if (found)
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "open-v: there is no fence %s%s%s%s",
                   volts->at, near ? "; did you mean " : "", near ? near : "",
                   near ? "?" : "");
}

static enum fw_status fits_of(const struct fw_log *log,
                              const struct fw_log_day *day,
                              struct fw_error *err)
{
    const char *of = day->said->of;
    const char *is = day->paddock == FW_NONE
                         ? "no paddock"
                         : log->plan->paddocks[day->paddock].id;
    if (!of[0] || strcmp(of, is) == 0)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "of: they left %s that day by the line, and %s by the plan "
                   "as it is now; what it says of the grass is not weighed",
                   of, is);
}

static int ewes_in_milk(const struct fw_log *log)
{
    int ewes = 0;
    for (size_t i = 0; i < log->base->class_count; i++)
        if (fw_flock_milks(&log->base->classes[i], 1))
            ewes += log->heads[i];
    return ewes;
}

/* Where a flock has no ewes in milk, those that are counted are a class of
 * their own, and none are weaned. */
static enum fw_status fits_lambs(const struct fw_log *log,
                                 const struct fw_log_day *day,
                                 enum fw_log_part part, struct fw_error *err)
{
    const struct fw_log_value *lambs = told(day, part);
    if (!lambs)
        return FW_OK;
    if (part == FW_LOG_WEANED &&
        !fw_flock_milks(log->base->classes, log->base->class_count))
        return fw_fail(err, FW_EINPUT,
                       "weaned: no class of the farm has lambs with it; tell "
                       "the flock by its classes (flock)");
    const int ewes = ewes_in_milk(log);
    if (ewes == 0 || lambs->number <= (double)FW_DAYS_LAMBS_MOST * ewes)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "%s: %g lambs of %d ewes; expected up to %d of each, %d: "
                   "count them again, or correct the ewes first (flock)",
                   fw_log_part_row(part)->name, lambs->number, ewes,
                   FW_DAYS_LAMBS_MOST, FW_DAYS_LAMBS_MOST * ewes);
}

enum fw_status fw_log__fits(const struct fw_log *log,
                            const struct fw_log_day *day, struct fw_error *err)
{
    const struct fw_log_value *head = told(day, FW_LOG_HEAD);
    enum fw_status status = fits_of(log, day, err);
    if (!status)
        status = fits_move(day, err);
    if (!status)
        status = fits_left(log, day, err);
    if (!status)
        status = fits_fence(log, day, err);
    if (!status)
        status = fits_volts(log, day, err);
    if (!status)
        status = fw_log__fits_flock(log, day, err);
    if (!status)
        status = fits_lambs(log, day, FW_LOG_LAMBS, err);
    if (!status)
        status = fits_lambs(log, day, FW_LOG_WEANED, err);
    if (!status && head && head->number < 1)
        status = fw_fail(err, FW_EINPUT, "head: %g; expected 1 or more",
                         head->number);
    return status;
}
