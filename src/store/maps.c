#include "store/maps.h"

#include <math.h>

enum fw_status fw_io__maps_make(struct fw_io__maps *maps,
                                const struct fw_plan *plan,
                                struct fw_error *err)
{
    *maps = (struct fw_io__maps){.plan = plan};
    enum fw_status status =
        fw_time_dates(&plan->time, plan->paddock_count + plan->lane_count,
                      plan->fence_count, &maps->dates, err);
    for (int i = 0; i < FW_IO__TARGETS && !status; i++)
        status = fw_io__labels_make(&maps->labels[i], plan,
                                    (enum fw_io__target)i, err);
    return status;
}

void fw_io__maps_release(struct fw_io__maps *maps)
{
    fw_time_dates_release(&maps->dates);
    for (int i = 0; i < FW_IO__TARGETS; i++)
        fw_io__labels_release(&maps->labels[i]);
}

enum fw_column_type fw_io__column_type(const struct fw_io__member *member)
{
    switch (member->type) {
    case FW_IO__NUMBER:
    case FW_IO__METRES:
        return FW_COLUMN_NUMBER;
    case FW_IO__INT:
    case FW_IO__SIZE:
        return FW_COLUMN_WHOLE;
    case FW_IO__DAY:
        return FW_COLUMN_DATE;
    default:
        return FW_COLUMN_TEXT;
    }
}

static struct fw_io__worth number(double number)
{
    return (struct fw_io__worth){.number = number};
}

static struct fw_io__worth text(const char *text)
{
    return (struct fw_io__worth){.number = (double)NAN, .text = text};
}

static struct fw_io__worth day(int day)
{
    return number(day == FW_NO_DAY ? (double)NAN : day);
}

struct fw_io__worth fw_io__map_value(const struct fw_io__maps *maps,
                                     const struct fw_io__member *member,
                                     const void *of, size_t i)
{
    if (member->work)
        return member->work(maps, of, i);
    if (fw_io__column_type(member) == FW_COLUMN_TEXT)
        return text(fw_io__words_of(member, of, maps->labels));
    double found;
    return number(fw_io__number_of(member, of, &found) ? found : (double)NAN);
}

/* ---- what is worked out ---- */

/* The boundary has no posts. */
static struct fw_io__worth whole_or_none(int whole)
{
    return number(whole ? whole : (double)NAN);
}

static struct fw_io__worth field(const struct fw_io__maps *maps, size_t field)
{
    return text(maps->labels[FW_IO__FIELDS].items[field]);
}

/* Moves and steps are counted from 1 as the card does; a line that stood before
 * has no first ones. */
static struct fw_io__worth when(const struct fw_io__maps *maps,
                                struct fw_time_when at)
{
    return at.move == FW_NONE ? day(FW_NO_DAY)
                              : day(maps->plan->time.moves[at.move].day);
}

static struct fw_io__worth move_of(struct fw_time_when at)
{
    return number(at.move == FW_NONE ? (double)NAN : (double)at.move + 1);
}

static struct fw_io__worth step_of(const struct fw_io__maps *maps,
                                   struct fw_time_when at)
{
    if (at.move == FW_NONE)
        return number((double)NAN);
    const size_t first = maps->plan->time.moves[at.move].steps.first;
    return number((double)(at.step - first + 1));
}

#define WORK(name, worth)                                                      \
    FW_IO__WORK(name)                                                          \
    {                                                                          \
        return worth;                                                          \
    }
WORK(energizer, text("energizer"))
WORK(open_v, number(maps->plan->power.open_v))
WORK(enter, day(maps->dates.cells[i].from))
WORK(leave, day(maps->dates.cells[i].to))
WORK(ground, text(maps->plan->lanes[i].apron ? "apron" : "lane"))
WORK(post, text(maps->plan->posts[i].id))
WORK(post_fence,
     text(maps->labels[FW_IO__FENCES].items[maps->plan->posts[i].fence]))
WORK(posts, whole_or_none(maps->plan->fences[i].posts))
WORK(up, day(maps->dates.lines[i].from))
WORK(down, day(maps->dates.lines[i].to))
WORK(text, text(maps->plan->findings[i].text))
WORK(source, text(maps->plan->findings[i].source))
WORK(number, number((double)i + 1))
WORK(stay_field,
     field(maps, maps->plan->paddocks[maps->plan->time.stays[i].cell].field))
WORK(stay_round, number(maps->plan->time.stays[i].round + 1.0))
WORK(standing_field,
     field(maps, maps->plan->fences[maps->plan->time.standings[i].line].field))
WORK(up_day, when(maps, maps->plan->time.standings[i].up))
WORK(up_move, move_of(maps->plan->time.standings[i].up))
WORK(up_step, step_of(maps, maps->plan->time.standings[i].up))
WORK(down_day, when(maps, maps->plan->time.standings[i].down))
WORK(down_move, move_of(maps->plan->time.standings[i].down))
WORK(down_step, step_of(maps, maps->plan->time.standings[i].down))
