/* A day that was written down and what follows from it, and all days. */
#include "record/record.h"

#include "base/fail.h"
#include "figures/units.h"
#include "report/report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct fw_log_value *told(const struct fw_log_day *day,
                                       enum fw_log_part part)
{
    return day->said && day->said->values[part].told ? &day->said->values[part]
                                                     : NULL;
}

static const struct fw_log_day *day_of(const struct fw_log *log, int day)
{
    const int first = log->base->start_day;
    return day < first || (size_t)(day - first) >= log->day_count
               ? NULL
               : &log->days[day - first];
}

/* "12 % more", "as much", with words after it. */
static void say_share(struct fw_text *line, double share, const char *than)
{
    const double percent = round(100 * (share - 1));
    if (percent == 0)
        fw_text_addf(line, "as much %s", than[0] == 't' ? "as" : than);
    else
        fw_text_addf(line, "%.0f %% %s", fabs(percent),
                     percent > 0 ? "more" : "less");
    if (percent != 0)
        fw_text_addf(line, " %s", than);
    fw_text_add(line, percent == 0 && than[0] == 't' ? " the plan says" : "");
}

/* What is left as people say it: a height where the plan knows one. */
static const char *left_words(const struct fw_plan *plan,
                              const struct fw_log_day *day, double kg_ha,
                              char text[FW_WORDS])
{
    const double density = fw_log_density(plan, day->paddock);
    if (!(density > 0))
        return fw_report__mass_per_area(kg_ha, plan->units, text);
    if (plan->units != FW_US)
        fw_text_format(text, FW_WORDS, "%.1f cm", 100 * kg_ha / density);
    else
        fw_text_format(text, FW_WORDS, "%.1f in", kg_ha / density / FW_INCH_M);
    return text;
}

static void say_title(struct fw_text *text, const struct fw_plan *plan,
                      const struct fw_log_day *day)
{
    struct fw_text line = {0};
    char date[FW_WORDS];
    fw_text_addf(&line,
                 "%s, written down: ", fw_report_day(day->day, true, date));
    if (day->missed)
        fw_text_add(&line, "nobody came, and they stayed where they were.");
    else if (day->move == FW_NONE)
        fw_text_add(&line, "no move was due.");
    else if (day->paddock != FW_NONE)
        fw_text_addf(&line, "out of %s", plan->paddocks[day->paddock].id);
    if (day->move != FW_NONE) {
        if (day->to == FW_NONE)
            fw_text_add(&line, ", the last.");
        else
            fw_text_addf(&line, "%sinto %s.",
                         day->paddock != FW_NONE ? " and " : "",
                         plan->paddocks[day->to].id);
    }
    fw_report__fold_text(text, 0, &line);
}

static void say_left(struct fw_text *text, const struct fw_log *log,
                     const struct fw_log_day *day)
{
    const struct fw_plan *plan = log->plan;
    struct fw_text line = {0};
    char left[FW_WORDS], meant[FW_WORDS];
    if (day->paddock == FW_NONE)
        return;
    const char *id = plan->paddocks[day->paddock].id;
    if (!day->looked) {
        fw_text_addf(&line,
                     "Nobody looked at what they left in %s: it counts as "
                     "planned.",
                     id);
    } else {
        fw_text_addf(
            &line, "They left %s in %s, where %s were meant: it had ",
            left_words(plan, day, day->look.left_kg_ha, left), id,
            left_words(plan, day, fw_days_left_kg_ha(&day->offer), meant));
        if (day->look.limit)
            fw_text_add(&line, day->stood_kg_ha < day->told_kg_ha ? "at least "
                                                                  : "at most ");
        say_share(&line, day->stood_kg_ha / day->told_kg_ha,
                  "than the plan says");
        fw_text_add(&line, ".");
    }
    fw_report__fold_text(text, 0, &line);
    if (!day->too_low)
        return;
    fw_text_addf(&line,
                 "%s had to feed them for %d day%s: by the plan it was eaten "
                 "below what must stay. Look at their flanks and at the "
                 "grass, and open the next paddock at its full size.",
                 id, day->day - day->entered,
                 day->day - day->entered == 1 ? "" : "s");
    fw_report__fold_text(text, 0, &line);
}

static void say_guess(struct fw_text *text, const struct fw_log *log,
                      const struct fw_log_day *day)
{
    struct fw_text line = {0};
    if (day->paddock == FW_NONE || !day->looked)
        return;
    fw_text_addf(
        &line, "By all looks so far %s has ",
        log->plan->fields[log->plan->paddocks[day->paddock].field].name);
    say_share(&line, day->guess.share, "than the plan says");
    fw_text_addf(&line,
                 "; of ten of its paddocks nine have between %.0f and %.0f %% "
                 "of it.",
                 100 * day->guess.low, 100 * day->guess.high);
    fw_report__fold_text(text, 0, &line);
}

/* The last reading of that fence that was due by then. */
static const struct fw_plan_reading *reading_of(const struct fw_plan *plan,
                                                const struct fw_log_day *day,
                                                const char *fence)
{
    const struct fw_plan_reading *found = NULL;
    const size_t move = fw_time_move_by(&plan->time, day->day);
    const size_t last_step = move == FW_NONE
                                 ? 0
                                 : plan->time.moves[move].steps.first +
                                       plan->time.moves[move].steps.count;
    for (size_t i = 0; i < plan->reading_count; i++)
        if (plan->readings[i].step < last_step &&
            strcmp(plan->fences[plan->readings[i].fence].id, fence) == 0)
            found = &plan->readings[i];
    return found;
}

static void say_volts(struct fw_text *text, const struct fw_log *log,
                      const struct fw_log_day *day)
{
    const struct fw_log_value *volts = told(day, FW_LOG_OPEN_V);
    struct fw_text line = {0};
    char has[FW_WORDS], wanted[FW_WORDS];
    if (!volts || !volts->at[0])
        return;
    const struct fw_plan_reading *reading =
        reading_of(log->base, day, volts->at);
    if (!reading || !(reading->wanted_v > volts->number))
        return;
    fw_report_kv_beside(volts->number, reading->wanted_v, has, wanted);
    fw_text_addf(&line,
                 "%s kV at %s is a fault: %s are wanted there. Look for it "
                 "first of all.",
                 has, volts->at, wanted);
    fw_report__fold_text(text, 0, &line);
}

/* Why it is not made smaller, where that was asked. */
static const char *why_not(enum fw_days_why why)
{
    return why == FW_DAYS_NOT_WET
               ? "after one look in the rain; look again tomorrow"
           : why == FW_DAYS_NOT_LEGUME
               ? "since hungry sheep bloat on so much legume"
               : "since hungry sheep bloat on frosted grass";
}

static void say_next(struct fw_text *text, const struct fw_log *log)
{
    const struct fw_plan *plan = log->plan;
    const struct fw_log_next *next = &log->next;
    struct fw_text line = {0};
    char date[FW_WORDS];
    if (next->fence == FW_NONE)
        return;
    const int day = plan->time.moves[next->move].day + log->late_now;
    fw_text_addf(&line, "%s: set %s ", fw_report_day(day, false, date),
                 plan->fences[next->fence].id);
    const bool other = next->known && (next->ends[0] != next->meant[0] ||
                                       next->ends[1] != next->meant[1]);
    if (next->rest)
        fw_text_add(&line, "not at all, all that is left of the block is "
                           "theirs: ");
    else if (other)
        fw_text_addf(&line, "at %d paces at A and %d at B, not %d and %d: ",
                     next->ends[0], next->ends[1], next->meant[0],
                     next->meant[1]);
    else
        fw_text_add(&line, "as meant: ");
    fw_text_addf(&line, "%s ", plan->paddocks[next->paddock].id);
    const double percent = round(100 * fabs(next->size - 1));
    if (next->why >= FW_DAYS_NOT_WET)
        fw_text_addf(&line, "is made no smaller %s.", why_not(next->why));
    else if (percent == 0)
        fw_text_add(&line, "is as large as they need by the plan.");
    else
        fw_text_addf(&line, "is made %.0f %% %s than they need by the plan.",
                     percent, next->size > 1 ? "larger" : "smaller");
    if (next->shared)
        fw_text_add(&line, " What is left of its block is shared out evenly.");
    fw_report__fold_text(text, 0, &line);
}

/* Where it was told otherwise that day, and the plan has it since. */
static void say_flock(struct fw_text *text, const struct fw_log *log,
                      const struct fw_log_day *day)
{
    const struct fw_plan *plan = log->plan;
    struct fw_text line = {0};
    if ((!told(day, FW_LOG_FLOCK) && !told(day, FW_LOG_WEANED)) ||
        plan == log->base)
        return;
    fw_text_addf(&line, "From the next move on they are %d:", plan->flock.head);
    for (size_t i = 0; i < plan->class_count; i++)
        fw_text_addf(&line, "%s %d %s", i ? "," : "", plan->classes[i].head,
                     plan->classes[i].name);
    fw_text_add(&line, told(day, FW_LOG_WEANED) ? "; the ewes dry off." : ".");
    fw_report__fold_text(text, 0, &line);
}

static void say_late(struct fw_text *text, const struct fw_log *log)
{
    struct fw_text line = {0};
    if (log->late_days <= 0)
        return;
    fw_text_addf(&line,
                 "Moves are %d day%s behind the plan; their order stays.",
                 log->late_days, log->late_days == 1 ? "" : "s");
    fw_report__fold_text(text, 0, &line);
}

enum fw_status fw_report_recorded(const struct fw_log *log, int day, char **out,
                                  struct fw_error *err)
{
    const struct fw_log_day *of = day_of(log, day);
    struct fw_text text = {0};
    if (!of)
        return fw_fail(err, FW_EFAULT, "a day that is not in the log");
    say_title(&text, log->plan, of);
    say_left(&text, log, of);
    say_guess(&text, log, of);
    say_volts(&text, log, of);
    say_flock(&text, log, of);
    say_late(&text, log);
    say_next(&text, log);
    fw_record__say_trough(&text, log, day);
    return fw_report_give(&text, out, NULL, err);
}

/* ---- for machines ---- */

static void add_number(struct fw_text *text, const char *key, double value)
{
    fw_text_addf(text, ", \"%s\": ", key);
    fw_text_add_number(text, value);
}

static void add_id(struct fw_text *text, const char *key, const char *id)
{
    fw_text_addf(text, ", \"%s\": ", key);
    if (id)
        fw_text_add_json(text, id);
    else
        fw_text_add(text, "null");
}

static void next_json(struct fw_text *text, const struct fw_log *log)
{
    static const char *const words[] = {"as-meant", "more",       "less",
                                        "not-wet",  "not-legume", "not-frost"};
    const struct fw_plan *plan = log->plan;
    const struct fw_log_next *next = &log->next;
    fw_text_add(text, ", \"next\": ");
    if (next->fence == FW_NONE) {
        fw_text_add(text, "null");
        return;
    }
    fw_text_add(text, "{\"fence\": ");
    fw_text_add_json(text, plan->fences[next->fence].id);
    add_id(text, "paddock", plan->paddocks[next->paddock].id);
    add_number(text, "size", next->size);
    add_number(text, "a_paces", next->known ? next->ends[0] : (double)NAN);
    add_number(text, "b_paces", next->known ? next->ends[1] : (double)NAN);
    add_id(text, "why", words[next->why]);
    fw_text_add(text, "}");
}

static const char *const trough_words[] = {[FW_RECORD__NO_WORD] = NULL,
                                           [FW_RECORD__LOOK] = "look",
                                           [FW_RECORD__MAY_STAY] = "may-stay"};

enum fw_status fw_report_recorded_json(const struct fw_log *log, int day,
                                       char **out, struct fw_error *err)
{
    const struct fw_plan *plan = log->plan;
    const struct fw_log_day *of = day_of(log, day);
    struct fw_text text = {0};
    char date[FW_DATE_TEXT];
    if (!of)
        return fw_fail(err, FW_EFAULT, "a day that is not in the log");
    fw_text_addf(&text, "{\"date\": \"%s\"", fw_date_write(day, date));
    add_id(&text, "from",
           of->paddock == FW_NONE ? NULL : plan->paddocks[of->paddock].id);
    add_id(&text, "to", of->to == FW_NONE ? NULL : plan->paddocks[of->to].id);
    fw_text_addf(&text, ", \"missed\": %s, \"late_days\": %d",
                 of->missed ? "true" : "false", log->late_days);
    add_number(&text, "left_kg_ha",
               of->looked ? of->look.left_kg_ha : (double)NAN);
    add_number(&text, "stood_kg_ha",
               of->looked ? of->stood_kg_ha : (double)NAN);
    add_number(&text, "share",
               of->paddock == FW_NONE ? (double)NAN : of->guess.share);
    add_number(&text, "share_low",
               of->paddock == FW_NONE ? (double)NAN : of->guess.low);
    add_number(&text, "share_high",
               of->paddock == FW_NONE ? (double)NAN : of->guess.high);
    add_id(&text, "trough", trough_words[fw_record__trough_on(log, day)]);
    next_json(&text, log);
    fw_text_add(&text, "}\n");
    return fw_report_give(&text, out, NULL, err);
}

/* ---- all days ---- */

static void day_row(struct fw_text *text, const struct fw_log *log,
                    const struct fw_log_day *day)
{
    const struct fw_plan *plan = log->plan;
    char date[FW_WORDS], left[FW_WORDS] = "", meant[FW_WORDS] = "";
    const struct fw_log_value *note = told(day, FW_LOG_NOTE);
    if (day->paddock != FW_NONE)
        left_words(plan, day, fw_days_left_kg_ha(&day->offer), meant);
    if (day->looked)
        left_words(plan, day, day->look.left_kg_ha, left);
    struct fw_text line = {0};
    fw_text_addf(&line, "%-10s  %-8s %-8s %-9s %-9s",
                 fw_report_day(day->day, false, date),
                 day->paddock == FW_NONE ? "" : plan->paddocks[day->paddock].id,
                 day->to == FW_NONE ? "" : plan->paddocks[day->to].id, meant,
                 left);
    if (day->looked)
        fw_text_addf(&line, " %4.0f %%",
                     100 * day->stood_kg_ha / day->told_kg_ha);
    else
        fw_text_addf(&line, " %6s", "");
    fw_text_addf(&line, "  %s%s",
                 day->missed                               ? "missed "
                 : day->paddock != FW_NONE && !day->looked ? "not looked at "
                                                           : "",
                 note ? note->text : "");
    while (line.length && line.bytes[line.length - 1] == ' ')
        line.bytes[--line.length] = '\0';
    fw_text_add(text, line.failed ? "" : line.bytes);
    fw_text_add(text, "\n");
    text->failed |= line.failed;
    fw_text_release(&line);
}

/* What each field turned out to be, and what the eye is worth. */
static void sums(struct fw_text *text, const struct fw_log *log, bool colour)
{
    const struct fw_plan *plan = log->plan;
    struct fw_text line = {0};
    bool looked = false;
    for (size_t f = 0; f < plan->field_count; f++) {
        size_t looks = 0;
        for (size_t i = 0; i < log->day_count; i++)
            looks += log->days[i].looked &&
                     plan->paddocks[log->days[i].paddock].field == f;
        if (looks == 0)
            continue;
        if (!looked)
            fw_report__heading(text, colour, "WHAT IT COMES TO");
        looked = true;
        const struct fw_days_guess guess = fw_days_eye_zone(log->eye, f);
        fw_text_addf(&line, "%s has ", plan->fields[f].name);
        say_share(&line, guess.share, "than the plan says");
        fw_text_addf(&line, " (%.0f to %.0f %%), by %zu look%s.",
                     100 * guess.low, 100 * guess.high, looks,
                     looks == 1 ? "" : "s");
        fw_report__fold_text(text, 2, &line);
    }
    if (!looked)
        return;
    const struct fw_days_guess bias = fw_days_eye_bias(log->eye);
    fw_text_add(&line, "Of all fields together there is ");
    say_share(&line, bias.share, "than the plan says");
    fw_text_addf(&line,
                 " (give or take %.0f %%), and a look at what is left is off "
                 "by %.0f %%.",
                 100 * bias.spread, 100 * fw_days_eye_noise(log->eye));
    fw_report__fold_text(text, 2, &line);
}

/* Minutes told, beside those of the plan for the same moves; of fence that was
 * set, so that days with much and with little of it compare. */
static void minutes(struct fw_text *text, const struct fw_log *log)
{
    const bool us = log->base->units == FW_US;
    const double each_m = us ? 300 * FW_FOOT_M : 100;
    const struct fw_log_work work = fw_log_work(log);
    struct fw_text line = {0};
    if (!(work.said_min > 0))
        return;
    fw_text_addf(&line, "Moves took %.0f minutes, where the plan has %.0f",
                 work.said_min, work.planned_min);
    if (work.set_m > 0)
        fw_text_addf(&line,
                     ": %.1f minutes for 100 %s of fence that was set, not "
                     "%.1f",
                     work.said_min * each_m / work.set_m, us ? "yd" : "m",
                     work.planned_min * each_m / work.set_m);
    fw_text_add(&line, ".");
    if (work.share != 1 && log->own)
        fw_text_add(&line, " The cards reckon with that.");
    fw_report__fold_text(text, 2, &line);
}

/* "A01 12, A02 11": days since they left. */
static void rest(struct fw_text *text, const struct fw_log *log)
{
    struct fw_text line = {0};
    char date[FW_WORDS];
    size_t count = 0;
    for (size_t i = 0; i < log->day_count; i++) {
        const struct fw_log_day *day = &log->days[i];
        if (day->paddock == FW_NONE)
            continue;
        if (count++ == 0)
            fw_text_addf(&line, "Days of rest by %s: ",
                         fw_report_day(log->next_day - 1, false, date));
        fw_text_addf(&line, "%s%s %d", count > 1 ? ", " : "",
                     log->plan->paddocks[day->paddock].id,
                     log->next_day - 1 - day->day);
    }
    if (count) {
        fw_text_add(&line, ".");
        fw_report__fold_text(text, 2, &line);
    }
    fw_text_release(&line);
}

enum fw_status fw_report_days(const struct fw_log *log, bool colour, char **out,
                              struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_addf(&text, "%-10s  %-8s %-8s %-9s %-9s %6s\n", "", "out of",
                 "into", "meant", "left", "stood");
    for (size_t i = 0; i < log->day_count; i++)
        day_row(&text, log, &log->days[i]);
    if (log->day_count == 0)
        fw_text_add(&text, "Nothing is written down yet.\n");
    else
        fw_text_add(&text, "\n");
    sums(&text, log, colour);
    minutes(&text, log);
    rest(&text, log);
    say_late(&text, log);
    say_next(&text, log);
    return fw_report_give(&text, out, NULL, err);
}
