/* Whole commands, one allocation of each refused after the other: the run ends
 * with 5 and says that memory ran out, or says what it says with all of it,
 * where it can do without; nothing leaks, and what was written down before is
 * as it was. */
#include "unit/cli_help.h"

#include "fault/alloc.h"

#include "crs/crs.h"

#include <stdlib.h>

static int set_up(void **state)
{
    return planned_farm(state, "tank: 300 L, trough: 200 L, road: 1 km") ||
           run_into("said-out", &cli_record,
                    "record --quiet out --date 2027-05-17") ||
           run_into("said-out", &cli_record,
                    "record --quiet out --date 2027-05-18 --left 7cm");
}

/* Of a run that was disturbed; true: it came through all the same. */
static bool came_through(const char *words, size_t n, int code)
{
    if (code != 0 && code != 5)
        fail_msg("%s: allocation %zu: it ends with %d: %s", words, n, code,
                 whole_file("said-err"));
    char *said = whole_file(code ? "said-err" : "said-now");
    char *wanted = code ? NULL : whole_file("said-all");
    if (code ? !strstr(said, "memory") : strcmp(said, wanted) != 0)
        fail_msg("%s: allocation %zu: it ends with %d and says:\n%s", words, n,
                 code, said);
    free(said);
    free(wanted);
    return code == 0;
}

static void refuse_each(const struct cli_command *command, const char *words)
{
    const size_t tries = getenv("FW_THOROUGH") ? 400 : 8;
    size_t without = 0;
    char *days = whole_file("farm.days.txt");
    /* Once before: what a run leaves for the next one is there. */
    if (run_into("said-all", command, words))
        fail_msg("%s: %s", words, whole_file("said-err"));
    fw_crs_forget();
    const size_t held = fault_held();
    fault_refuse(0);
    if (run_into("said-all", command, words))
        fail_msg("%s: %s", words, whole_file("said-err"));
    fw_crs_forget();
    const size_t all = fault_made();
    for (size_t n = 1; n <= all; n += all / tries + 1) {
        fault_refuse(n);
        const int code = run_into("said-now", command, words);
        fault_refuse(0);
        fw_crs_forget();
        without += came_through(words, n, code);
        if (fault_held() != held)
            fail_msg("%s: allocation %zu of %zu: %zu blocks leak", words, n,
                     all, fault_held() - held);
    }
    char *now = whole_file("farm.days.txt");
    assert_string_equal(now, days);
    free(now);
    free(days);
    print_message(
        "# %s: %zu allocations, %zu of those tried are done without\n", words,
        all, without);
}

static void what_is_said_of_a_day(void **state)
{
    (void)state;
    refuse_each(&cli_move, "move --quiet out");
    refuse_each(&cli_move,
                "move --quiet farm.yaml --on 2027-05-19 --wet --json");
    refuse_each(&cli_move, "move --quiet out --cold -15C");
    refuse_each(&cli_record, "record --quiet out --show");
}

static void what_a_plan_has(void **state)
{
    (void)state;
    refuse_each(&cli_cautions, "cautions out");
    refuse_each(&cli_materials, "materials out --json");
    refuse_each(&cli_power, "power out --on 2027-05-19");
    refuse_each(&cli_power, "power out --fault rain");
}

static void what_a_farm_could_have(void **state)
{
    (void)state;
    refuse_each(&cli_compare, "compare --quiet farm.yaml --json");
    refuse_each(&cli_water, "water --quiet farm.yaml");
    refuse_each(&cli_water, "water --quiet farm.yaml --json");
    refuse_each(&cli_plan_command,
                "plan --quiet --force --format data farm.yaml -o again");
}

static void what_winter_needs(void **state)
{
    (void)state;
    char words[5000];
    const char *samples = getenv("FW_SAMPLES");
    assert_non_null(samples);
    snprintf(words, sizeof words,
             "stockpile --quiet %s/winter-halves/farm.yaml --json", samples);
    refuse_each(&cli_stockpile, words);
    snprintf(words, sizeof words,
             "plan --quiet --force --format data %s/winter-halves/farm.yaml -o "
             "cold",
             samples);
    refuse_each(&cli_plan_command, words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_said_of_a_day),
        cmocka_unit_test(what_a_plan_has),
        cmocka_unit_test(what_a_farm_could_have),
        cmocka_unit_test(what_winter_needs),
    };
    return cmocka_run_group_tests(tests, set_up, farm_tear_down);
}
