/* What the report says of the rounds after the first one: from when, how many
 * stays, how long they are, and how long the ground rested before. */
#include "report/report.h"

#include "base/alloc.h"

#include <limits.h>

struct span { /* least and most of some whole numbers; empty: most under least
               */
    int least, most;
};

static const struct span empty = {INT_MAX, INT_MIN};

static void reach(struct span *span, int number)
{
    span->least = number < span->least ? number : span->least;
    span->most = number > span->most ? number : span->most;
}

/* "26 days", "26 to 41 days" */
static void say(struct fw_text *words, struct span span)
{
    if (span.least < span.most)
        fw_text_addf(words, "%d to ", span.least);
    fw_text_addf(words, "%d day%s", span.most, span.most == 1 ? "" : "s");
}

/* On from the stay with which it begins; left[] is by paddock the day on which
 * they left it last. */
static size_t one_round(struct fw_text *text, const struct fw_plan *plan,
                        size_t first, int *left)
{
    const struct fw_time *time = &plan->time;
    const int round = time->stays[first].round;
    struct span days = empty, rests = empty;
    struct fw_text words = {0};
    char from[FW_WORDS];
    size_t end = first;
    for (; end < time->stay_count && time->stays[end].round == round; end++) {
        const struct fw_nights nights = fw_time_nights(time, end);
        const size_t cell = time->stays[end].cell;
        reach(&days, nights.to - nights.from);
        reach(&rests, nights.from - left[cell]);
        left[cell] = nights.to;
    }
    const size_t count = end - first;
    fw_text_addf(&words, "%d, from %s: %zu of %zu paddocks for ", round + 1,
                 fw_report_day(fw_time_nights(time, first).from, false, from),
                 count, fw_plan_first_stays(plan));
    say(&words, days);
    fw_text_add(&words, ", rested ");
    say(&words, rests);
    fw_text_addf(&words, ", until %s.",
                 fw_report_day(fw_time_nights(time, end - 1).to, false, from));
    fw_report__line(text, "Round", &words);
    return end;
}

void fw_report__rounds(struct fw_text *text, const struct fw_plan *plan)
{
    const size_t first = fw_plan_first_stays(plan);
    int *left = fw_alloc(plan->paddock_count, sizeof *left);
    if (!left) {
        text->failed = true;
        return;
    }
    for (size_t i = 0; i < first; i++)
        left[plan->time.stays[i].cell] = fw_time_nights(&plan->time, i).to;
    for (size_t i = first; i < plan->time.stay_count;)
        i = one_round(text, plan, i, left);
    fw_free(left);
}
