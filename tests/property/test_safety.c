/* Every field of a real region against its roads, paths, tracks, railways,
 * power lines, streams, ponds and buildings: crossings and least distances of
 * the plans against GEOS in another projection (UTM), all pairs that lie near
 * each other, and the time that the checks take. Found through FW_TEST_DATA,
 * skipped without it; regions at random need none. */
#include "region_farm.h"
#include "unit/scratch.h"
#include "unit/test.h"

#include "make/make.h"
#include "plan/plan.h"
#include <foldwright/told.h>

#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ---- the plans ---- */

static double now_ms(void)
{
    struct timespec at;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec * 1e3 + (double)at.tv_nsec / 1e6;
}

/* NULL: no layout was found for it. */
static struct fw_plan *plan_of(const struct fw_farm *farm, double *ms)
{
    struct fw_plan *plan = NULL;
    struct fw_error err;
    const double before = now_ms();
    const enum fw_status status = fw_plan_make(farm, &plan, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s: %s", farm->fields[0].shape->name, err.text);
    *ms = now_ms() - before;
    return plan;
}

/* What was found over all fields of a farm. */
struct region {
    size_t fields, findings, signs, unplanned;
    double mean_ms, most_ms;
};

static void judge_farm(struct judge *judge, const struct fw_farm *farm,
                       struct region *region)
{
    double total_ms = 0;
    *region = (struct region){.fields = farm->field_count};
    for (size_t i = 0; i < farm->field_count; i++) {
        struct fw_farm one = *farm, bare;
        struct fw_flock_class flock = farm->classes[0];
        double ms, bare_ms;
        flock.head = head_for(farm->fields[i].shape);
        one.fields = &farm->fields[i];
        one.field_count = 1;
        one.classes = &flock;
        bare = one;
        bare.feature_count = 0;
        fw_plan_free(plan_of(&bare, &bare_ms));
        struct fw_plan *plan = plan_of(&one, &ms);
        if (!plan) {
            region->unplanned++;
            continue;
        }
        judge_field(judge, plan);
        region->findings += plan->finding_count;
        for (size_t k = 0; k < plan->post_count; k++)
            region->signs += plan->posts[k].why == FW_POST_SIGN;
        total_ms += ms - bare_ms;
        region->most_ms = fmax(region->most_ms, ms - bare_ms);
        fw_plan_free(plan);
    }
    region->mean_ms = total_ms / (double)farm->field_count;
}

static void tell(const struct judge *judge, const struct region *region)
{
    print_message("# %zu fields, %zu things: %zu findings, %zu signs\n",
                  region->fields, judge->thing_count, region->findings,
                  region->signs);
    print_message("# %zu fields without a plan\n", region->unplanned);
    print_message("# %zu crossings, %zu told, the worst %.2g m off; %zu "
                  "distances; %zu too close to call\n",
                  judge->crossings, judge->told, judge->worst_m,
                  judge->distances, judge->close_calls);
    print_message("# checks take %.3f ms a field, %.3f ms at most\n",
                  region->mean_ms, region->most_ms);
}

static struct judge new_judge(void)
{
    struct judge judge = {.geos = GEOS_init_r()};
    struct fw_error err;
    assert_int_equal(fw_crs_new("EPSG:25832", &judge.utm, &err), FW_OK);
    return judge;
}

static void release_judge(struct judge *judge)
{
    for (size_t i = 0; i < judge->thing_count; i++) {
        GEOSGeom_destroy_r(judge->geos, judge->things[i].shape);
        GEOSGeom_destroy_r(judge->geos, judge->things[i].outline);
    }
    free(judge->things);
    GEOSSTRtree_destroy_r(judge->geos, judge->tree);
    fw_crs_free(judge->utm);
    GEOS_finish_r(judge->geos);
}

static void every_field_of_a_region_agrees_with_another_library(void **state)
{
    const char *data = getenv("FW_TEST_DATA");
    char path[4096];
    struct region region;
    snprintf(path, sizeof path, "%s/osm/north-bayreuth.gpkg", data);
    struct judge judge = new_judge();
    struct fw_farm *farm = read_region(*state, path, false);
    read_things(&judge, path);
    judge_farm(&judge, farm, &region);
    tell(&judge, &region);
    assert_true(region.unplanned < region.fields / 50);
    assert_true(judge.crossings > 300);
    assert_true(judge.distances > 300);
    assert_true(judge.close_calls < 20);
    assert_true(region.mean_ms < 5);
    fw_farm_free(farm);
    release_judge(&judge);
}

static void so_does_every_field_of_regions_at_random(void **state)
{
    enum { regions = 4 };
    uint64_t seed = seeded(24);
    for (int i = 0; i < regions; i++) {
        const char *path = in_scratch(*state, "region.gpkg");
        struct region region;
        struct judge judge = new_judge();
        put_region(path, &seed);
        struct fw_farm *farm = read_region(*state, path, false);
        read_things(&judge, path);
        judge_farm(&judge, farm, &region);
        tell(&judge, &region);
        assert_true(region.unplanned <= 1);
        assert_true(judge.crossings > 50);
        assert_true(judge.distances > 5);
        assert_true(judge.close_calls < 10);
        fw_farm_free(farm);
        release_judge(&judge);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(so_does_every_field_of_regions_at_random),
        scratch_data_test(every_field_of_a_region_agrees_with_another_library),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
