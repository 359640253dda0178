/* The words of `power --fault` and `power --measured`, on the plan of a seed:
 * the first line is a fault, each other one a reading of the same day. */
#include "fuzz.h"

#include "io/io.h"
#include "keys/fault.h"
#include "report/reports.h"
#include "store/store.h"

#include <stdlib.h>
#include <string.h>

enum { most_readings = 8 };

static struct fw_error refusal;

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

/* Read once; a seed that is refused here is refused by fuzz_plan.c too. */
static const struct fw_plan *seed_plan(void)
{
    static struct fw_plan *plan;
    struct fw_error err = {0};
    if (!plan && fw_plan_json_read(FUZZ_PLAN, &plan, NULL, &err))
        abort();
    return plan;
}

static void print(enum fw_status status, char *text, const struct fw_error *err)
{
    if (is_read(status, err))
        fw_bytes_free(text);
}

static void look(const struct fw_plan *plan, int day, const char *words)
{
    struct fw_error err = {0};
    struct fw_plan_fault fault;
    struct fw_plan_looks looks = {.count = 0};
    char *text = NULL;
    if (!is_read(fw_plan_fault_read(plan, words, &fault, &err), &err))
        return;
    if (fault.kind != FW_FAULT_RAIN &&
        (fault.fence >= plan->fence_count ||
         !(fault.at_m >= 0 &&
           fault.at_m <= plan->fences[fault.fence].length_m + 1e-6)))
        abort();
    if (!is_read(fw_plan_look_for(plan, day, &fault, NULL, &looks, &err), &err))
        return;
    const enum fw_status status =
        fw_report_looks(plan, day, words, &looks, &text, &err);
    print(status, text, &err);
    fw_plan_looks_release(&looks);
}

static void learn(const struct fw_plan *plan, int day, char *lines)
{
    struct fw_error err = {0};
    struct fw_plan_measured readings[most_readings];
    struct fw_circuit_fit fit;
    size_t count = 0;
    char *rest = NULL, *text = NULL;
    for (char *line = strtok_r(lines, "\n", &rest);
         line && count < most_readings; line = strtok_r(NULL, "\n", &rest)) {
        if (!is_read(
                fw_plan_measured_read(plan, day, line, &readings[count], &err),
                &err))
            return;
        if (readings[count].fence >= plan->fence_count ||
            !(readings[count].open_v >= 0))
            abort();
        count++;
    }
    struct fw_plan_power_day *rows =
        calloc(plan->power_day_count + 1, sizeof *rows);
    if (rows && count > 0 &&
        is_read(fw_plan_learn(plan, day, readings, count, &fit, rows, &err),
                &err)) {
        const enum fw_status status =
            fw_report_power(plan, &fit, rows, &text, &err);
        print(status, text, &err);
    }
    free(rows);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    const struct fw_plan *plan = seed_plan();
    const int day = plan->power_days[fw_plan_worst_day(plan)].from;
    char *words = calloc(count + 1, 1);
    if (!words)
        return 0;
    if (count > 0)
        memcpy(words, bytes, count);
    refusal = (struct fw_error){0};
    char *end = strchr(words, '\n');
    if (end)
        *end = '\0';
    look(plan, day, words);
    if (end)
        learn(plan, day, end + 1);
    free(words);
    return 0;
}
