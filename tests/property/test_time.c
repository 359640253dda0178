/* Time on the ground of real fields: every plan's moves are gone through step
 * by step, by the replay and by a tally of our own of what stands and what is
 * open. Nothing may ever be wrong with the fence; what is allowed and not liked
 * is counted by setting. Found through FW_TEST_DATA, skipped without it.
 *
 * Every run takes each field in some of its settings; FW_TEST_EVERY=1 takes
 * all of them. */
#include "random_farm.h"
#include "time_farms.h"
#include "time_watch.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- what is counted ---- */

/* With FW_TELL each one that is counted is named. */
static void name_it(const struct watch *watch, const char *what)
{
    if (getenv("FW_TELL"))
        print_message("# %s, %s: %s\n", watch->where,
                      watch->plan->fields[0].layout, what);
}

static void count_lines(const struct watch *watch)
{
    const struct fw_plan *plan = watch->plan;
    struct tally *tally = watch->tally;
    double lost_m2 = 0, all_m2 = 0;
    size_t standing = 0;
    for (size_t f = 0; f < plan->field_count; f++)
        if (plan->fields[f].paddock_count > 0)
            all_m2 += plan->fields[f].plane_m2;
    for (size_t i = 0; i < plan->lane_count; i++)
        lost_m2 += plan->lanes[i].plane_m2;
    for (size_t i = 0; i < plan->fence_count; i++)
        standing += plan->fences[i].role == FW_FENCE_LANE ||
                    plan->fences[i].role == FW_FENCE_STANDING;
    tally->lossy += lost_m2 > 0.05 * all_m2;
    if (lost_m2 > 0.05 * all_m2)
        name_it(watch, "over 5 % of the grass is lost");
    if (!watch->setting.dormant || watch->setting.back_fence)
        return;
    tally->standing += standing > 0;
    if (standing > 0)
        name_it(watch, "block lines or lanes");
    if (plan->totals.kit.reels > 2 * plan->moved.strands)
        name_it(watch, "over two reels a strand");
    const bool two = plan->totals.kit.reels <= 2 * plan->moved.strands;
    tally->on_two_reels += two;
    tally->third_line += !two && standing == 0;
}

/* ---- the plans ---- */

static const char *no_plan_of(const struct fw_plan *plan)
{
    for (size_t f = 0; f < plan->field_count; f++)
        if (plan->fields[f].no_plan)
            return plan->fields[f].no_plan;
    return NULL;
}

static void try_farm(struct fw_field **shapes, size_t count, char *crs,
                     const char *name, size_t index, struct tally *tally)
{
    static struct farm_room room;
    char setting[80], where[200];
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    make_farm(&room, shapes, count, crs, setting_of(index));
    snprintf(where, sizeof where, "%s, %s", name, setting_name(index, setting));
    const enum fw_status status = fw_plan_make(&room.farm, &plan, &err);
    if (status) {
        print_message("# %s: %s\n", where, err.text);
        assert_int_equal(status, FW_EPLAN);
        tally->none++;
        return;
    }
    if (no_plan_of(plan)) {
        print_message("# %s: %s\n", where, no_plan_of(plan));
        tally->none++;
    }
    struct watch watch = {.plan = plan,
                          .where = where,
                          .setting = setting_of(index),
                          .tally = tally};
    const size_t dry = tally->dry;
    go_through(&watch);
    count_lines(&watch);
    if (tally->dry > dry)
        name_it(&watch, "nights without water");
    look_at_places(plan, &watch.land, &tally->off);
    fw_land_release(&watch.land);
    fw_plan_free(plan);
    tally->plans++;
}

/* ---- is a fault found? ---- */

/* With one step left out, whichever it is. */
static size_t plant(struct fw_plan *plan, struct setting setting,
                    struct tally *tally)
{
    size_t missed = 0;
    for (size_t s = 0; s < plan->time.step_count; s++) {
        struct fw_step *step = &plan->time.steps[s];
        const struct fw_step kept = *step;
        struct tally found = {.quiet = true};
        if (kept.kind != FW_STEP_SET && kept.kind != FW_STEP_OPEN &&
            kept.kind != FW_STEP_CLOSE && kept.kind != FW_STEP_BRIDGE &&
            kept.kind != FW_STEP_TAKE_DOWN)
            continue;
        step->kind = FW_STEP_READ;
        struct watch watch = {
            .plan = plan, .setting = setting, .tally = &found};
        go_through(&watch);
        fw_land_release(&watch.land);
        *step = kept;
        size_t sum = 0;
        for (int k = 0; k < FAULTS; k++) {
            sum += found.faults[k];
            tally->faults[k] += found.faults[k];
        }
        missed += sum == 0;
        if (sum == 0 && getenv("FW_TELL"))
            print_message("# kind %d of step %zu in %s\n", kept.kind, s,
                          plan->fields[0].layout);
        tally->steps++;
    }
    return missed;
}

static void a_step_left_out_is_found(void **state)
{
    (void)state;
    static struct farm_room room;
    static const double xy[][2] = {{0, 0}, {260, 30}, {310, 190}, {-20, 180}};
    static char crs_text[] =
        "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m";
    struct fw_shape shape = {.points = calloc(COUNT(xy), sizeof(struct fw_xy)),
                             .ring_start = calloc(2, sizeof(size_t)),
                             .point_count = COUNT(xy),
                             .ring_count = 1};
    for (size_t i = 0; i < COUNT(xy); i++)
        shape.points[i] = (struct fw_xy){xy[i][0], xy[i][1]};
    shape.ring_start[1] = COUNT(xy);
    struct fw_crs *crs;
    struct fw_field *field;
    struct fw_error err;
    assert_int_equal(fw_crs_new(crs_text, &crs, &err), FW_OK);
    assert_int_equal(fw_field_new(&shape, "", crs, &field, &err), FW_OK);
    struct tally tally = {.quiet = true};
    for (size_t k = 0; k < setting_count; k++) {
        struct fw_plan *plan;
        make_farm(&room, &field, 1, crs_text, setting_of(k));
        assert_int_equal(fw_plan_make(&room.farm, &plan, &err), FW_OK);
        assert_int_equal(plant(plan, setting_of(k), &tally), 0);
        fw_plan_free(plan);
    }
    for (int k = 0; k < FAULTS; k++)
        print_message("# %zu times: %s\n", tally.faults[k], fault_words[k]);
    assert_true(tally.faults[LOOSE] > 0 && tally.faults[BEHIND] > 0 &&
                tally.faults[UNTIED] > 0 && tally.faults[LEFT] > 0 &&
                tally.faults[OVERNIGHT] > 0 && tally.faults[NOT_THERE] > 0);
    fw_field_free(field);
    fw_crs_free(crs);
    free(shape.points);
    free(shape.ring_start);
}

/* ---- what is said ---- */

static void tell(const struct tally *tally, const char *name)
{
    print_message("# %s: %zu plans, %zu without, %zu moves, %zu steps\n", name,
                  tally->plans, tally->none, tally->moves, tally->steps);
    print_message(
        "#   over 5 %% lost %zu; standing lines %zu, two reels a strand do %zu "
        "(dormant without back fence); ungrazed crossings %zu moves of %zu "
        "plans, %.0f m; dry nights %zu of %zu in %zu plans\n",
        tally->lossy, tally->standing, tally->on_two_reels, tally->crossings,
        tally->crossed, tally->crossed_m, tally->dry, tally->nights,
        tally->dry_plans);
    print_message("#   outside: troughs %zu of %zu, openings %zu of %zu; paces "
                  "over their side %zu of %zu, over their line %zu of %zu, the "
                  "most %.2f m\n",
                  tally->off.troughs, tally->off.trough_count,
                  tally->off.openings, tally->off.opening_count,
                  tally->off.over_side, tally->off.side_count,
                  tally->off.over_line, tally->off.line_count,
                  fmax(0, tally->off.over_m));
    for (int k = 0; k < FAULTS; k++)
        if (tally->faults[k])
            print_message("#   %zu times: %s\n", tally->faults[k],
                          fault_words[k]);
}

static size_t all_faults(const struct tally *tally)
{
    size_t sum = 0, plans = 0, none = 0, moves = 0, steps = 0;
    for (size_t i = 0; i < setting_count; i++) {
        char name[80];
        if (tally[i].plans + tally[i].none == 0)
            continue;
        tell(&tally[i], setting_name(i, name));
        for (int k = 0; k < FAULTS; k++)
            sum += tally[i].faults[k];
        plans += tally[i].plans;
        none += tally[i].none;
        moves += tally[i].moves;
        steps += tally[i].steps;
    }
    print_message("# in all %zu plans, %zu without; %zu moves, %zu steps, %zu "
                  "faults\n",
                  plans, none, moves, steps, sum);
    return sum;
}

/* Every run takes each field in so many of its settings, another ones for each
 * field. */
static bool is_taken(size_t field, size_t setting, size_t some)
{
    const char *every = getenv("FW_TEST_EVERY");
    if (every && strcmp(every, "1") == 0)
        return true;
    for (size_t k = 0; k < some; k++)
        if ((field + k * setting_count / some) % setting_count == setting)
            return true;
    return false;
}

static void every_step_encloses_the_flock(void **state)
{
    (void)state;
    static struct tally tally[setting_count];
    const char *data = getenv("FW_TEST_DATA");
    const size_t at_most = 3; /* without a plan, in any setting */
    /* Fields whose fronts are longer than a reel or in two pieces. */
    const size_t long_fronts = 3;
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i++)
            for (size_t k = 0; k < setting_count; k++) {
                char name[80];
                snprintf(name, sizeof name, "%s %lld", chosen_maps[m].path,
                         real.fids[i]);
                if (is_taken(i, k, 2))
                    try_farm(&real.fields[i], 1, real.crs, name, k, &tally[k]);
            }
        release_fields(&real);
    }
    const size_t faults = all_faults(tally);
    for (size_t k = 0; k < setting_count; k++) {
        assert_true(tally[k].none <= at_most);
        assert_int_equal(tally[k].off.openings, 0);
        if (setting_of(k).trough && setting_of(k).places == NO_PLACES)
            assert_true(tally[k].third_line <= long_fronts);
    }
    assert_int_equal(faults, 0);
}

/* Three fields each that follow each other in the list. */
static void so_it_is_from_field_to_field(void **state)
{
    (void)state;
    static struct tally tally[setting_count];
    const char *data = getenv("FW_TEST_DATA");
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        const size_t apart = 5;
        for (size_t i = 0; i + most_fields <= real.count; i += apart)
            for (size_t k = 0; k < setting_count; k++) {
                char name[80];
                snprintf(name, sizeof name, "%s %lld %lld %lld",
                         chosen_maps[m].path, real.fids[i], real.fids[i + 1],
                         real.fids[i + 2]);
                if (is_taken(i / apart, k, 1))
                    try_farm(&real.fields[i], most_fields, real.crs, name, k,
                             &tally[k]);
            }
        release_fields(&real);
    }
    assert_int_equal(all_faults(tally), 0);
}

/* So it is on fields of our own, that need no maps; how good the plans are is
 * asked of real ones. */
static void every_step_encloses_it_on_fields_of_our_own(void **state)
{
    (void)state;
    static struct tally tally[setting_count];
    uint64_t seed = seeded(24);
    size_t plans = 0, none = 0;
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++)
            for (size_t k = 0; k < setting_count; k++) {
                char name[80];
                snprintf(name, sizeof name, "%s %lld", own_map(m), own.fids[i]);
                if (is_taken(i, k, 2))
                    try_farm(&own.fields[i], 1, own.crs, name, k, &tally[k]);
            }
        release_fields(&own);
    }
    assert_int_equal(all_faults(tally), 0);
    for (size_t k = 0; k < setting_count; k++) {
        assert_int_equal(tally[k].off.openings, 0);
        plans += tally[k].plans;
        none += tally[k].none;
    }
    assert_true(plans > 9 * none);
}

/* With the beginning of a name only those tests. */
int main(int argc, char **argv)
{
    char only[80] = "*";
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_step_left_out_is_found),
        cmocka_unit_test(every_step_encloses_it_on_fields_of_our_own),
        data_test(every_step_encloses_the_flock),
        data_test(so_it_is_from_field_to_field),
    };
    if (argc > 1)
        snprintf(only, sizeof only, "%s*", argv[1]);
    cmocka_set_test_filter(only);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
