/* What today's weather comes to at one move of a plan: how far the fence goes,
 * which paddock suits better, how much hay, how many lines to set before the
 * ground freezes. src/weather knows what the weather asks for; here it meets
 * the ground. Nothing of it changes the plan. */
#ifndef FW_TODAY_TODAY_H
#define FW_TODAY_TODAY_H

#include "plan/plan.h"

struct fw_today {
    const struct fw_plan *plan; /* borrowed */
    size_t move;
    struct fw_weather weather;

    /* The paddock that they are let into. */
    size_t to; /* FW_NONE: out of the last one */
    struct fw_weather_need here;
    double lasts_days; /* that it feeds them; less than its stay where they need
                          more, and it is fenced already */

    /* The fence that is set, where more ground is asked of it. */
    size_t fence;  /* FW_NONE: none is set and counted, or nothing more asked */
    size_t bounds; /* the paddock behind it */
    double more_share;
    bool known; /* in paces: */
    int ends[2], meant[2];
    bool line_ends; /* it goes less far than is asked */
    bool rest;      /* no fence: all that is left of the block is theirs */

    /* Another paddock, where that one does not suit. */
    enum fw_weather_kind asks; /* FW_WEATHER_COUNT: no weather asks for one */
    bool unsuited;
    size_t instead; /* FW_NONE: none that is left suits */
    bool beside;    /* it lies beside what they have */
    size_t *lines;  /* to set about it, as things stand */
    size_t line_count;
    int line_posts;

    double hay_kg;  /* as fed, a day, in place of the grass; 0: none */
    double water_l; /* on a hot day; 0: it is none */

    /* Before the ground freezes. */
    size_t *ahead; /* lines that are set while it lasts */
    size_t ahead_count;
    int ahead_posts, standing_posts; /* of them; of what stands already */
};

/* FW_ENOMEM. Release it when done. */
enum fw_status fw_today(const struct fw_plan *plan, size_t move,
                        const struct fw_weather *weather, struct fw_today *out,
                        struct fw_error *err);
void fw_today_release(struct fw_today *today);

/* How things are before a move. */
struct fw_plan__days;

/* instead.c, ahead.c */
enum fw_status fw_today__instead(struct fw_today *today,
                                 const struct fw_plan__days *days,
                                 struct fw_error *err);
enum fw_status fw_today__ahead(struct fw_today *today,
                               const struct fw_plan__days *days,
                               struct fw_error *err);

#endif
