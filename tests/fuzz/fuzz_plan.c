/* plan.json, and what the commands make of a plan that is read: the cards of
 * its moves, its power with faults and readings, its lists and its files. */
#include "fuzz.h"

#include "export/export.h"
#include "keys/fault.h"
#include "report/reports.h"
#include "store/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { most_moves = 40 }; /* of each plan; it has to be quick */

static struct fw_error refusal;

const char *fuzz_refused(void)
{
    return refusal.text[0] ? refusal.text : NULL;
}

/* What is refused is said in one line, and never with nothing. */
static void check(enum fw_status status, const struct fw_error *err)
{
    if (status && (!err->text[0] || !memchr(err->text, '\0', sizeof err->text)))
        abort();
}

/* By the place of the text: which of the arguments is found first is not
 * told. */
static void drop(enum fw_status status, char **text, const struct fw_error *err)
{
    check(status, err);
    if (status)
        return;
    if (!*text)
        abort();
    fw_bytes_free(*text);
    *text = NULL;
}

static void cards(const struct fw_plan *plan)
{
    struct fw_error err = {0};
    char *text = NULL;
    size_t count = 0;
    for (size_t i = 0; i < plan->time.move_count && i < most_moves; i++) {
        drop(fw_report_move(plan, i, 0, &text, &err), &text, &err);
        drop(fw_report_move_json(plan, i, &text, &err), &text, &err);
        drop(fw_report_gpx(plan, i, &text, &count, &err), &text, &err);
    }
}

static void look(const struct fw_plan *plan, int day, const char *words)
{
    struct fw_error err = {0};
    struct fw_plan_fault fault;
    struct fw_plan_looks looks = {.count = 0};
    char *text = NULL;
    enum fw_status status = fw_plan_fault_read(plan, words, &fault, &err);
    if (!status)
        status = fw_plan_look_for(plan, day, &fault, NULL, &looks, &err);
    check(status, &err);
    if (status)
        return;
    drop(fw_report_looks(plan, day, words, &looks, &text, &err), &text, &err);
    drop(fw_report_looks_json(plan, day, words, &looks, &text, &err), &text,
         &err);
    fw_plan_looks_release(&looks);
}

static void learn(const struct fw_plan *plan, int day)
{
    struct fw_error err = {0};
    struct fw_plan_measured reading;
    struct fw_circuit_fit fit;
    char *text = NULL;
    struct fw_plan_power_day *rows =
        calloc(plan->power_day_count + 1, sizeof *rows);
    enum fw_status status =
        fw_plan_measured_read(plan, day, "5kV@corner:1", &reading, &err);
    if (!status && rows)
        status = fw_plan_learn(plan, day, &reading, 1, &fit, rows, &err);
    check(status, &err);
    if (!status && rows)
        drop(fw_report_power(plan, &fit, rows, &text, &err), &text, &err);
    free(rows);
}

static void power(const struct fw_plan *plan)
{
    struct fw_error err = {0};
    struct fw_plan_circuit circuit;
    char *text = NULL, words[100];
    drop(fw_report_power(plan, NULL, NULL, &text, &err), &text, &err);
    drop(fw_report_power_json(plan, NULL, NULL, &text, &err), &text, &err);
    const size_t worst = fw_plan_worst_day(plan);
    const int day =
        worst == FW_NONE ? plan->start_day : plan->power_days[worst].from;
    look(plan, day, "rain");
    for (size_t i = 0; i < plan->fence_count && i < 4; i++) {
        snprintf(words, sizeof words, "%s:%s@1m", i % 2 ? "broken" : "short",
                 plan->fences[i].id);
        look(plan, day, words);
    }
    learn(plan, day);
    for (int i = 0; i < most_moves; i++) {
        const enum fw_status status =
            fw_plan_circuit_make(plan, plan->start_day + i, &circuit, &err);
        check(status, &err);
        if (!status)
            fw_plan_circuit_release(&circuit);
    }
}

static void lists(const struct fw_plan *plan)
{
    struct fw_error err = {0};
    char *text = NULL;
    size_t count = 0;
    const struct fw_export_list list = {.rows = plan->materials,
                                        .count = plan->material_count,
                                        .units = plan->units,
                                        .currency = plan->currency,
                                        .only_rest = true,
                                        .lacks = fw_export_kit_lacks};
    drop(fw_report_materials(&list, &text, &err), &text, &err);
    drop(fw_report_materials_json(&list, &text, &err), &text, &err);
    drop(fw_report_cautions(plan, &text, &err), &text, &err);
    drop(fw_report_cautions_json(plan, &text, &err), &text, &err);
    drop(fw_report_text(plan, FW_REPORT_ALL, &text, &err), &text, &err);
    drop(fw_report_moves_csv(plan, &text, &count, &err), &text, &err);
    drop(fw_report_materials_csv(plan, &text, &count, &err), &text, &err);
    drop(fw_report_geojson(plan, &text, &count, &err), &text, &err);
}

/* What was read is written as it was, as far as it is known. */
static void again(const struct fw_plan *plan)
{
    struct fw_error err = {0};
    char *text = NULL;
    size_t count = 0;
    drop(fw_plan_json_write(plan, NULL, 0, &text, &count, &err), &text, &err);
}

static void put(const uint8_t *bytes, size_t count, char *path)
{
    const int file = mkstemp(path);
    if (file < 0 || write(file, bytes, count) != (ssize_t)count)
        abort();
    close(file);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    struct fw_error err = {0};
    struct fw_notes notes = {0};
    struct fw_plan *plan = NULL;
    char path[] = "/tmp/foldwright-fuzz-XXXXXX";
    put(bytes, count, path);
    const enum fw_status status = fw_plan_json_read(path, &plan, &notes, &err);
    unlink(path);
    check(status, &err);
    fw_notes_release(&notes);
    refusal = err;
    if (status)
        return 0;
    cards(plan);
    power(plan);
    lists(plan);
    again(plan);
    fw_plan_free(plan);
    return 0;
}
