/* The card for one move: what is dangerous, then the work in its order. */
#include "base/fail.h"
#include "figures/plan.h"
#include "report/report.h"
#include "report/weather.h"

#include <math.h>
#include <stdio.h>

/* "Thu 20 May 2027: into A04 (Tammik, block A-2)" */
void fw_report_move_title(struct fw_text *line, const struct fw_plan *plan,
                          size_t index)
{
    const struct fw_move *move = &plan->time.moves[index];
    const size_t to = fw_plan_move_to(plan, index);
    char day[FW_WORDS];
    fw_report_day(move->day, true, day);
    if (to == FW_NONE) {
        fw_text_addf(line, "%s: out of %s, which is cleared", day,
                     plan->fields[move->field].name);
        return;
    }
    const struct fw_plan_paddock *paddock = &plan->paddocks[to];
    fw_text_addf(line, "%s: into %s (%s%s%s", day, paddock->id,
                 plan->fields[move->field].name,
                 paddock->block[0] ? ", block " : "", paddock->block);
    if (plan->time.stays[move->stay].round > 0)
        fw_text_addf(line, ", round %d",
                     plan->time.stays[move->stay].round + 1);
    fw_text_add(line, ")");
}

/* For how long; where that is too little, what to do. Between rounds it is
 * planned that they stay on when the grass is gone. */
static void say_fed(struct fw_text *line, const struct fw_plan *plan,
                    size_t stay)
{
    const struct fw_nights nights = fw_time_nights(&plan->time, stay);
    const double fed_days = fw_plan_fed_days(plan, stay);
    const int more =
        nights.to - nights.from - (int)ceil(fed_days - FW_STAY_UNMISSED_DAYS);
    const bool bridged = more > 0 && stay + 1 >= fw_plan_first_stays(plan) &&
                         stay + 1 < plan->time.stay_count;
    const bool lacks = fw_plan_lack_days(plan, stay) > 0;
    char days[FW_WORDS];
    /* A day but for a little is a day. */
    fw_report_number(lacks ? fed_days : fmax(fed_days, nights.to - nights.from),
                     days);
    if (!bridged && lacks) {
        fw_text_addf(line,
                     ", which feeds them %s day%s of the %d that they stay: "
                     "feed hay, or let them on when it is eaten",
                     days, fed_days > 1 ? "s" : "", nights.to - nights.from);
        return;
    }
    fw_text_addf(line, " for %s %s", days, fed_days > 1 ? "days" : "day");
    if (bridged)
        fw_text_addf(line, ", then %d day%s on hay", more,
                     more == 1 ? "" : "s");
}

static void head(struct fw_text *text, const struct fw_plan *plan, size_t index,
                 bool colour)
{
    const struct fw_move *move = &plan->time.moves[index];
    const size_t to = fw_plan_move_to(plan, index);
    char area[FW_WORDS], minutes[FW_WORDS];
    struct fw_text line = {0};
    fw_report_move_title(&line, plan, index);
    fw_report__heading_text(text, colour, &line);
    fw_text_addf(&line, "%d head", plan->flock.head);
    if (to != FW_NONE) {
        fw_text_addf(
            &line, " on %s",
            fw_report_area(plan->paddocks[to].area_ha, plan->units, area));
        say_fed(&line, plan, move->stay);
    }
    fw_text_addf(&line, "; about %s minutes%s.",
                 fw_report_number(ceil(move->minutes), minutes),
                 move->later != FW_NONE ? " in two visits" : "");
    fw_report__fold_text(text, 0, &line);
}

/* What no care in setting it would mend stands before all else. */
static void too_little(struct fw_text *text, const struct fw_plan *plan,
                       size_t index, bool colour)
{
    const struct fw_list *steps = &plan->time.moves[index].steps;
    bool any = false;
    for (size_t i = 0; i < plan->reading_count; i++) {
        const struct fw_plan_reading *reading = &plan->readings[i];
        char has[FW_WORDS], wanted[FW_WORDS], words[256];
        if (reading->step < steps->first ||
            reading->step >= steps->first + steps->count ||
            (reading->far_v > 0 && reading->far_v >= reading->wanted_v))
            continue;
        if (!any)
            fw_report__heading(text, colour, "TOO LITTLE BY THE PLAN ITSELF");
        any = true;
        fw_report_kv_beside(reading->touched_v, plan->energizer.touched_v, has,
                            wanted);
        if (reading->far_v > 0)
            snprintf(words, sizeof words,
                     "a sheep gets %s kV of it (%s are wanted), however well "
                     "it is set; what would help: foldwright power",
                     has, wanted);
        else
            snprintf(words, sizeof words,
                     "nothing feeds it; what would help: foldwright power");
        fw_report__danger(text, colour, plan->fences[reading->fence].id, words);
    }
    if (any)
        fw_text_add(text, "\n");
}

/* What today's weather asks for stands before the work. */
static enum fw_status weather_of(struct fw_text *text,
                                 const struct fw_plan *plan, size_t move,
                                 const struct fw_weather *weather, bool colour,
                                 struct fw_error *err)
{
    struct fw_today today;
    const enum fw_status status = fw_today(plan, move, weather, &today, err);
    if (status)
        return status;
    fw_report__today(text, &today, colour);
    fw_today_release(&today);
    return FW_OK;
}

enum fw_status fw_report_move_in(const struct fw_plan *plan, size_t move,
                                 const struct fw_weather *weather, unsigned how,
                                 char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    const bool colour = how & FW_REPORT_COLOUR;
    fw_report_first(&text);
    too_little(&text, plan, move, colour);
    fw_report_dangers(&text, plan, how & FW_REPORT_ALL ? FW_NONE : move,
                      colour);
    head(&text, plan, move, colour);
    fw_text_add(&text, "\n");
    const enum fw_status status =
        weather ? weather_of(&text, plan, move, weather, colour, err) : FW_OK;
    if (status) {
        fw_text_release(&text);
        return status;
    }
    fw_report__steps(&text, plan, move, false);
    fw_report__correction(&text, plan, move, colour);
    return fw_report_give(&text, out, NULL, err);
}

enum fw_status fw_report_move(const struct fw_plan *plan, size_t move,
                              unsigned how, char **out, struct fw_error *err)
{
    if (!plan || !out)
        return fw_fail_null(err, "a plan, or where its card goes,");
    return fw_report_move_in(plan, move, NULL, how, out, err);
}
