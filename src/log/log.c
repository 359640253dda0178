/* A log that is open beside its plan. */
#include "log/follow.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "io/io.h"

#include <stdio.h>
#include <string.h>

static const size_t most_bytes = FW_BOUND(16777216);

static const char beginning[] =
    "# What really happened, a line a day; foldwright record adds to it.\n"
    "# date; of PADDOCK; part value; ... A note is last. To change a day add\n"
    "# date; correct; part value. To take back the line before: date; undo.\n";

/* Of another season, or a slip of the pen: a move is late by no more days than
 * were missed; and where what is left is cut anew, it lasts for twice as long
 * at most. */
static bool is_far(const struct fw_log *log, int day)
{
    const struct fw_time *time = &log->base->time;
    const int first = log->base->start_day;
    int last = time->moves[time->move_count - 1].day;
    if (log->making.go_on)
        last += last - first;
    for (size_t i = 0; i < log->lines.count; i++)
        last += log->lines.items[i].values[FW_LOG_MISSED].told;
    return day < first || day > last;
}

static enum fw_status settle(struct fw_log *log, bool on, struct fw_error *err)
{
    struct fw_log_lines *days = &log->by_day;
    size_t kept = 0;
    fw_log_lines_release(days);
    const enum fw_status status = fw_log_lines_by_day(&log->lines, days, err);
    if (status)
        return status;
    for (size_t i = 0; i < days->count; i++)
        if (!is_far(log, days->items[i].day))
            days->items[kept++] = days->items[i];
    days->count = kept;
    return fw_log__follow(log, on, err);
}

/* ---- open ---- */

static enum fw_status check_days(struct fw_log *log, const char *path,
                                 struct fw_notes *notes, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < log->day_count; i++) {
        const struct fw_log_day *day = &log->days[i];
        char where[512];
        if (!day->said || !day->wrong.status)
            continue;
        snprintf(where, sizeof where, "%.480s:%zu", path, day->said->number);
        status = fw_notes_add(notes, FW_LEVEL_WARNING, where, err, "%s",
                              day->wrong.text);
    }
    if (!status && log->not_anew.status)
        status = fw_notes_add(notes, FW_LEVEL_WARNING, path, err,
                              "what is left is not cut anew: %s",
                              log->not_anew.text);
    return status;
}

static enum fw_status tell_far(const struct fw_log *log, const char *path,
                               struct fw_notes *notes, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < log->lines.count; i++) {
        const struct fw_log_line *line = &log->lines.items[i];
        char where[512], date[FW_DATE_TEXT];
        if (!is_far(log, line->day))
            continue;
        snprintf(where, sizeof where, "%.480s:%zu", path, line->number);
        status = fw_notes_add(notes, FW_LEVEL_WARNING, where, err,
                              "%s is no day of this plan; the line is not "
                              "counted",
                              fw_date_write(line->day, date));
    }
    return status;
}

static enum fw_status read(struct fw_log *log, const char *path,
                           struct fw_notes *notes, struct fw_error *err)
{
    struct fw_log_source source = {.path = path, .units = log->plan->units};
    source.bytes = fw_added_bytes(log->file, &source.count);
    enum fw_status status = fw_log_lines_read(&source, &log->lines, notes, err);
    if (source.count == 0)
        fw_text_add(&log->more, beginning);
    if (log->lines.torn)
        fw_text_add(&log->more, " # torn\n");
    if (!status)
        status = tell_far(log, path, notes, err);
    if (!status)
        status = settle(log, false, err);
    return status ? status : check_days(log, path, notes, err);
}

enum fw_status fw_log_open(const struct fw_plan *plan,
                           const struct fw_log_request *request,
                           struct fw_log **out, struct fw_notes *notes,
                           struct fw_error *err)
{
    struct fw_log *log = fw_alloc(1, sizeof *log);
    if (!log)
        return fw_fail_memory(err);
    log->base = log->plan = plan;
    log->making = request->making;
    log->size = fw_alloc(plan->field_count, sizeof *log->size);
    log->heads = fw_alloc(plan->class_count, sizeof *log->heads);
    log->bought = fw_alloc(plan->class_count, sizeof *log->bought);
    log->on_size = fw_alloc(plan->field_count, sizeof *log->on_size);
    log->on_heads = fw_alloc(plan->class_count, sizeof *log->on_heads);
    log->on_bought = fw_alloc(plan->class_count, sizeof *log->on_bought);
    enum fw_status status =
        !log->size || !log->heads || !log->bought || !log->on_size ||
                !log->on_heads || !log->on_bought
            ? fw_fail_memory(err)
        : plan->time.move_count
            ? FW_OK
            : fw_fail(err, FW_EPLAN, "the plan has no moves to write down");
    if (!status)
        status = fw_added_open(request->path, most_bytes, request->writer,
                               &log->file, err);
    if (!status)
        status = read(log, request->path, notes, err);
    if (status)
        fw_log_free(log);
    else
        *out = log;
    return status;
}

void fw_log_free(struct fw_log *log)
{
    if (!log)
        return;
    fw_log_lines_release(&log->lines);
    fw_log_lines_release(&log->by_day);
    fw_days_eye_free(log->eye);
    fw_added_close(log->file);
    fw_text_release(&log->more);
    fw_plan_free(log->own);
    fw_plan_free(log->before);
    fw_free(log->size);
    fw_free(log->heads);
    fw_free(log->bought);
    fw_free(log->so_far);
    fw_free(log->season);
    fw_free(log->works);
    fw_free(log->on_heads);
    fw_free(log->on_bought);
    fw_free(log->on_size);
    fw_free(log->days);
    fw_free(log);
}

/* ---- say ---- */

static enum fw_status check_date(const struct fw_log *log,
                                 const struct fw_log_line *line,
                                 struct fw_error *err)
{
    const struct fw_time *time = &log->plan->time;
    const int last = time->moves[time->move_count - 1].day + log->late_now;
    const bool said = fw_log_lines_at(&log->by_day, line->day);
    char day[FW_DATE_TEXT], bound[FW_DATE_TEXT];
    fw_date_write(line->day, day);
    if (line->day < log->base->start_day)
        return fw_fail(err, FW_EINPUT, "%s is before the plan's first day, %s",
                       day, fw_date_write(log->base->start_day, bound));
    if (line->day > last)
        return fw_fail(err, FW_EINPUT,
                       "%s is after the plan's last move, %s; make a new plan "
                       "from where they are",
                       day, fw_date_write(last, bound));
    if (line->kind == FW_LOG_DAY && said)
        return fw_fail(err, FW_EINPUT,
                       "%s is written down already; to change it add "
                       "--correct, to take back the last line use --undo",
                       day);
    if (line->kind == FW_LOG_CORRECT && !said)
        return fw_fail(err, FW_EINPUT,
                       "%s is not written down yet, so there is nothing to "
                       "correct",
                       day);
    return FW_OK;
}

static const struct fw_log_day *day_of(const struct fw_log *log, int day)
{
    return &log->days[day - log->base->start_day];
}

/* As it is to stand in the file: with the paddock that was left. */
static void name_paddock(const struct fw_log *log, struct fw_log_line *line)
{
    const size_t paddock = day_of(log, line->day)->paddock;
    if (!line->of[0] && paddock != FW_NONE && line->kind == FW_LOG_DAY)
        snprintf(line->of, sizeof line->of, "%s",
                 log->plan->paddocks[paddock].id);
}

enum fw_status fw_log_say(struct fw_log *log, const struct fw_log_line *told,
                          struct fw_error *err)
{
    struct fw_log_line line = *told;
    if (line.day == FW_NO_DAY)
        line.day = log->next_day;
    const int silent_days = line.day - log->next_day;
    enum fw_status status = check_date(log, &line, err);
    if (!status)
        status = fw_log_lines_add(&log->lines, &line, err);
    if (status)
        return status;
    status = settle(log, silent_days >= 0 && line.kind == FW_LOG_DAY, err);
    if (!status && day_of(log, line.day)->wrong.status) {
        status = day_of(log, line.day)->wrong.status;
        if (err)
            *err = day_of(log, line.day)->wrong;
    }
    if (status) {
        log->lines.count--;
        return settle(log, false, NULL) ? fw_fail_memory(err) : status;
    }
    name_paddock(log, &line);
    log->lines.items[log->lines.count - 1] = line;
    fw_log_line_write(&log->more, &line);
    log->said_day = line.day;
    log->said_count++;
    log->silent_days += silent_days > 0 ? silent_days : 0;
    return settle(log, true, err);
}

enum fw_status fw_log_undo(struct fw_log *log, int *day, struct fw_error *err)
{
    if (log->lines.count == 0)
        return fw_fail(err, FW_EINPUT,
                       "there is no line to take back: nothing is written down "
                       "yet");
    const struct fw_log_line undo = {
        .day = log->lines.items[log->lines.count - 1].day,
        .kind = FW_LOG_UNDO,
    };
    log->lines.count--;
    *day = undo.day;
    fw_log_line_write(&log->more, &undo);
    return settle(log, false, err);
}

enum fw_status fw_log_keep(struct fw_log *log, struct fw_error *err)
{
    enum fw_status status = fw_text_done(&log->more, err);
    if (!status && log->more.length)
        status =
            fw_added_put(log->file, log->more.bytes, log->more.length, err);
    fw_text_release(&log->more);
    return status;
}
