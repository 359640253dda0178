/* Every allocation of a whole plan fails in turn: out of memory is said, and
 * nothing leaks. */
#include "unit/test.h"

#include "fault/alloc.h"

#include <foldwright/circuit.h>
#include <foldwright/plan.h>
#include <foldwright/report.h>

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char farm_path[4096], folder[4096];

static enum fw_status whole_plan(struct fw_error *err)
{
    const struct fw_farm_request request = {.farm_path = farm_path};
    struct fw_notes notes = {0};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL, *again = NULL;
    char *text = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, &notes, err);
    if (!status)
        status = fw_plan_make(farm, &plan, err);
    if (!status)
        status = fw_report_text(plan, false, &text, err);
    fw_file_free(text);
    text = NULL;
    if (!status)
        status = fw_report_move(plan, 1, false, &text, err);
    fw_file_free(text);
    text = NULL;
    if (!status)
        status = fw_report_cautions(plan, &text, err);
    fw_file_free(text);
    text = NULL;
    if (!status)
        status = fw_report_check(farm, false, &text, err);
    fw_file_free(text);
    text = NULL;
    if (!status)
        status = fw_report_field_svg(farm, &text, err);
    fw_file_free(text);
    if (!status)
        status = fw_report_folder(plan, folder, NULL, -1, err);
    if (!status)
        status = fw_plan_json_read(folder, &again, &notes, err);
    fw_plan_free(again);
    fw_plan_free(plan);
    fw_farm_free(farm);
    fw_notes_release(&notes);
    return status;
}

/* A ring with a spur: solved, with a fault in it, and fitted to a reading. */
static enum fw_status whole_circuit(struct fw_error *err)
{
    const struct fw_circuit_section sections[] = {
        {0, 1, 300, 3.82, 1e-6, 0}, {1, 2, 200, 3.82, 1e-6, 0},
        {2, 0, 300, 3.82, 1e-6, 0}, {0, 3, 300, 3.82, 1e-6, 0},
        {3, 2, 300, 3.82, 1e-6, 0}, {1, 3, 300, 3.82, 1e-6, 0}};
    const struct fw_circuit_source source = {0, 8000, 300, 20};
    const struct fw_circuit_place place = {0, 100};
    const struct fw_circuit_reading reading = {place, 5000};
    struct fw_circuit net = {.node_count = 4}, faulty = {0};
    struct fw_circuit_answer answer = {0};
    struct fw_circuit_fit fit;
    enum fw_status status = fw_circuit_set_source(&net, &source, err);
    for (size_t i = 0; i < 6 && !status; i++)
        status = fw_circuit_add_section(&net, &sections[i], err);
    if (!status)
        status = fw_circuit_short(&net, place, 100, &faulty, err);
    if (!status)
        status = fw_circuit_solve(&faulty, &answer, err);
    if (!status)
        status = fw_circuit_fit(&net, &reading, 1, &fit, err);
    fw_circuit_answer_release(&answer);
    fw_circuit_release(&faulty);
    fw_circuit_release(&net);
    return status;
}

/* The first hundreds one by one, then in strides that share no factor with
 * anything: a whole plan makes thousands of them. */
static void refuse_each(const char *what,
                        enum fw_status (*work)(struct fw_error *), size_t least)
{
    struct fw_error err;
    fault_refuse(0);
    if (work(&err))
        fail_msg("%s", err.text);
    const size_t all = fault_made();
    const size_t held = fault_held();
    print_message("# %s makes %zu allocations\n", what, all);
    assert_true(all > least);
    const char *every = getenv("FW_FAULT_EVERY");
    const size_t stride = every ? 1 : all / 400 + 1;
    for (size_t n = 1; n <= all; n += n < 200 ? 1 : stride) {
        memset(&err, 0, sizeof err);
        fault_refuse(n);
        const enum fw_status status = work(&err);
        fault_refuse(0);
        if (status != FW_ENOMEM)
            fail_msg("allocation %zu of %zu: status %d: %s", n, all,
                     (int)status, err.text);
        assert_true(err.text[0] != '\0');
        if (fault_held() != held)
            fail_msg("allocation %zu of %zu: %zu blocks leak", n, all,
                     fault_held() - held);
    }
}

static void each_refused_allocation_is_said_and_leaks_nothing(void **state)
{
    (void)state;
    refuse_each("a whole plan", whole_plan, 100);
}

static void circuit_says_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("a circuit", whole_circuit, 15);
}

int main(void)
{
    const char *samples = getenv("FW_SAMPLES");
    char template[] = "/tmp/foldwright-fault-XXXXXX";
    if (!samples || !mkdtemp(template)) {
        fputs("FW_SAMPLES must name the folder samples/\n", stderr);
        return 1;
    }
    snprintf(farm_path, sizeof farm_path, "%s/three-fields/farm.yaml", samples);
    snprintf(folder, sizeof folder, "%s", template);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_refused_allocation_is_said_and_leaks_nothing),
        cmocka_unit_test(circuit_says_each_refused_allocation_too),
    };
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    char clean[4200];
    snprintf(clean, sizeof clean, "rm -rf %s", template);
    return system(clean) ? 1 : failed;
}
