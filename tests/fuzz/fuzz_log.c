/* A log beside the plan of a seed: read, followed day by day, and told of; each
 * of its lines, written anew, says the same. The same bytes as a CSV of days.
 */
#include "fuzz.h"

#include "log/log.h"
#include "record/record.h"
#include "store/store.h"

#include <foldwright/date.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct fw_error refusal;
static char path[] = "/tmp/foldwright-fuzz-log-XXXXXX";

const char *fuzz_refused(void)
{
    return refusal.text[0] ? refusal.text : NULL;
}

/* What is refused is said in one line, and never with nothing. */
static bool is_read(enum fw_status status, const struct fw_error *err)
{
    if (!status)
        return true;
    if (!err->text[0] || strchr(err->text, '\n'))
        abort();
    refusal = *err;
    return false;
}

static void forget(void)
{
    unlink(path);
}

/* Read once; a seed that is refused here is refused by fuzz_plan.c too. */
static const struct fw_plan *seed_plan(void)
{
    static struct fw_plan *plan;
    struct fw_error err = {0};
    if (plan)
        return plan;
    const int file = mkstemp(path);
    if (file < 0 || close(file) || atexit(forget) ||
        fw_plan_json_read(FUZZ_PLAN, &plan, NULL, &err))
        abort();
    return plan;
}

static void put(const uint8_t *bytes, size_t count)
{
    FILE *file = fopen(path, "wb");
    if (!file || fwrite(bytes, 1, count, file) != count || fclose(file))
        abort();
}

/* What a line says, written and read again, is written as before. */
static void again(struct fw_quantities *quantities,
                  const struct fw_log_line *line)
{
    struct fw_text one = {0}, two = {0};
    struct fw_log_line read;
    struct fw_error err = {0};
    fw_log_line_write(&one, line);
    if (one.failed || one.length < 1 ||
        fw_log_line_read(quantities, one.bytes, one.length - 1, FW_METRIC,
                         &read, &err))
        abort();
    fw_log_line_write(&two, &read);
    if (two.failed || strcmp(one.bytes, two.bytes))
        abort();
    fw_text_release(&one);
    fw_text_release(&two);
}

static void print(enum fw_status status, char *text, const struct fw_error *err)
{
    if (is_read(status, err))
        fw_bytes_free(text);
}

static void tell(const struct fw_log *log)
{
    struct fw_error err = {0};
    char *text = NULL;
    size_t count = 0;
    for (size_t i = 0; i < log->day_count; i++) {
        print(fw_report_recorded(log, log->days[i].day, &text, &err), text,
              &err);
        print(fw_report_recorded_json(log, log->days[i].day, &text, &err), text,
              &err);
    }
    print(fw_report_days(log, false, &text, &err), text, &err);
    print(fw_report_days_csv(log, &text, &count, &err), text, &err);
    print(fw_report_grazed(log, &text, &count, &err), text, &err);
}

static void as_log(const struct fw_plan *plan)
{
    struct fw_error err = {0};
    struct fw_notes notes = {0};
    struct fw_log *log = NULL;
    const struct fw_log_request request = {.path = path};
    if (is_read(fw_log_open(plan, &request, &log, &notes, &err), &err)) {
        struct fw_quantities *quantities = NULL;
        if (fw_quantities_new(&quantities, &err))
            abort();
        for (size_t i = 0; i < log->lines.count; i++)
            again(quantities, &log->lines.items[i]);
        fw_quantities_free(quantities);
        tell(log);
        fw_log_free(log);
    }
    if (notes.count > 0)
        snprintf(refusal.text, sizeof refusal.text, "%s", notes.items[0].text);
    fw_notes_release(&notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    const struct fw_plan *plan = seed_plan();
    struct fw_error err = {0};
    struct fw_log_lines lines = {0};
    put(bytes, count);
    if (!fw_log_csv_read(path, FW_METRIC, &lines, &err))
        fw_log_lines_release(&lines);
    else if (!err.text[0])
        abort();
    refusal = (struct fw_error){0};
    as_log(plan);
    return 0;
}
