/* Every allocation of a whole plan fails in turn: out of memory is said, and
 * nothing leaks. */
#include "unit/test.h"

#include "fault/alloc.h"

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

/* The first hundreds one by one, then in strides that share no factor with
 * anything: a whole plan makes thousands of them. */
static void each_refused_allocation_is_said_and_leaks_nothing(void **state)
{
    (void)state;
    struct fw_error err;
    fault_refuse(0);
    if (whole_plan(&err))
        fail_msg("%s", err.text);
    const size_t all = fault_made();
    const size_t held = fault_held();
    print_message("# a whole plan makes %zu allocations\n", all);
    assert_true(all > 100);
    const char *every = getenv("FW_FAULT_EVERY");
    const size_t stride = every ? 1 : all / 400 + 1;
    for (size_t n = 1; n <= all; n += n < 200 ? 1 : stride) {
        memset(&err, 0, sizeof err);
        fault_refuse(n);
        const enum fw_status status = whole_plan(&err);
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
    };
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    char clean[4200];
    snprintf(clean, sizeof clean, "rm -rf %s", template);
    return system(clean) ? 1 : failed;
}
