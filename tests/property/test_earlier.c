/* Real fields, in the settings of whole plans: whichever fence the flock stands
 * behind, the plan that goes on from it is the rest of the one before. Found
 * through FW_TEST_DATA, skipped without it. */
#include "make/make.h"
#include "random_farm.h"
#include "time_farms.h"
#include "unit/plan_rest.h"

#include <stdlib.h>

/* One field in so many is looked at, in a setting of its own. */
enum { one_in = 10, fronts_of_each = 6 };

static size_t go_on(struct farm_room *room, struct fw_plan *before)
{
    size_t count = 0;
    const size_t fences = before->fields[0].fence_count;
    const size_t step = 1 + fences / fronts_of_each;
    for (size_t i = 0; i < fences; i += step) {
        const struct fw_plan_fence *fence = &before->fences[i];
        struct fw_plan *rest = NULL;
        struct fw_error err = {0};
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const size_t move = fence->from;
        assert_int_equal(fw_plan_move_to(before, move), fence->from);
        room->farm.earlier = before;
        room->farm.start_day = before->time.moves[move + 1].day;
        room->fields[0].front =
            (struct fw_farm_front){.named = true, .fence = i};
        if (fw_plan_make(&room->farm, &rest, &err))
            fail_msg("%s: %s", what, err.text);
        compare_rest(before, move, rest);
        fw_plan_free(rest);
        count++;
    }
    return count;
}

static size_t try_field(struct fw_field **shapes, size_t count, char *crs,
                        size_t setting)
{
    static struct farm_room room;
    struct fw_plan *before = NULL;
    size_t fronts = 0;
    make_farm(&room, shapes, count, crs, setting_of(setting));
    if (fw_plan_make(&room.farm, &before, NULL))
        return 0;
    if (!before->fields[0].no_plan)
        fronts = go_on(&room, before);
    fw_plan_free(before);
    return fronts;
}

static void the_rest_is_the_same_on_real_fields(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    size_t fronts = 0;
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i + 2 <= real.count; i += one_in) {
            const size_t setting = (i / one_in + m) % setting_count;
            char name[80];
            snprintf(what, sizeof what, "%s %lld, %s", chosen_maps[m].path,
                     real.fids[i], setting_name(setting, name));
            fronts += try_field(&real.fields[i], 1 + i / one_in % 2, real.crs,
                                setting);
        }
        release_fields(&real);
    }
    print_message("# %zu fronts\n", fronts);
    assert_true(fronts >= 50);
}

static void the_rest_is_the_same_on_fields_of_our_own(void **state)
{
    (void)state;
    uint64_t seed = seeded(24);
    size_t fronts = 0;
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i += 2) {
            const size_t setting = (i / 2 + m) % setting_count;
            char name[80];
            snprintf(what, sizeof what, "%s %lld, %s", own_map(m), own.fids[i],
                     setting_name(setting, name));
            fronts += try_field(&own.fields[i], 1, own.crs, setting);
        }
        release_fields(&own);
    }
    print_message("# %zu fronts\n", fronts);
    assert_true(fronts >= 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rest_is_the_same_on_fields_of_our_own),
        data_test(the_rest_is_the_same_on_real_fields),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
