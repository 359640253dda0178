/* What is printed of real fields: no label on another, none outside the page,
 * measured from the marks by GEOS. Every run takes 30 of the 300 fields,
 * FW_TEST_EVERY=1 all of them. */
#include "time_farms.h"
#include "unit/paper_judge.h"

#include "make/make.h"
#include "report/reports.h"
#include "sheet/paper.h"

static void judge(const struct fw_paper *paper, const char *name,
                  struct paper_faults *sum)
{
    const struct paper_faults faults = paper_judge(paper);
    if (faults.overlaps || faults.overflows)
        print_message("# %s: %zu overlaps, %zu outside: %s\n", name,
                      faults.overlaps, faults.overflows, faults.first);
    sum->words += faults.words;
    sum->overlaps += faults.overlaps;
    sum->overflows += faults.overflows;
}

/* false: it has no plan. */
static bool try_field(struct fw_field *field, char *crs, size_t index,
                      const char *name, struct paper_faults *sum)
{
    struct farm_room room = {0};
    struct fw_plan *plan = NULL;
    struct fw_paper *paper = NULL;
    struct fw_error err;
    make_farm(&room, &field, 1, crs, setting_of(index % setting_count));
    room.farm.units = index % 2 ? FW_US : FW_METRIC;
    if (fw_plan_make(&room.farm, &plan, &err))
        return false;
    if (fw_sheet__sheet_paper(plan, true, &paper, &err))
        fail_msg("%s", err.text);
    judge(paper, name, sum);
    fw_paper_free(paper);
    if (fw_sheet__card_paper(plan, index % plan->time.move_count, &paper, &err))
        fail_msg("%s", err.text);
    judge(paper, name, sum);
    fw_paper_free(paper);
    fw_plan_free(plan);
    return true;
}

static void labels_of_real_fields_keep_apart(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA"), *every = getenv("FW_TEST_EVERY");
    const size_t step = every && strcmp(every, "1") == 0 ? 1 : 10;
    struct paper_faults sum = {0};
    size_t planned = 0, none = 0;
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i += step) {
            char name[80];
            snprintf(name, sizeof name, "%s %lld", chosen_maps[m].path,
                     real.fids[i]);
            if (try_field(real.fields[i], real.crs, i / step, name, &sum))
                planned++;
            else
                none++;
        }
        release_fields(&real);
    }
    print_message("# %zu fields, %zu without a plan, %zu words, %zu overlaps, "
                  "%zu outside\n",
                  planned, none, sum.words, sum.overlaps, sum.overflows);
    assert_true(planned >= 10 * none && planned > 0);
    assert_int_equal(sum.overlaps, 0);
    assert_int_equal(sum.overflows, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        data_test(labels_of_real_fields_keep_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
