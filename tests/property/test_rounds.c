/* Round after round on what has grown, on small fields of our own and on real
 * ones: every step of the moves encloses the flock; ground rests as long as the
 * published table says; no day is short; and each day what stood and what grew
 * is what stands, what was eaten and what was trodden. The grass is reckoned
 * here day by day from the plan's own figures, and by closed form over each
 * rest. */
#include "random_farm.h"
#include "time_farms.h"
#include "time_watch.h"

#include "make/make.h"

static const double use = 0.8, stays_kg_ha = 1500, stood_kg_ha = 2500;
static const double ceiling_kg_ha = 6000;
enum { until_days = 150, most_paddocks = 600 };

/* ---- the table of rests, once more ---- */

/* Farm Advisory Service, sheet on rotational grazing: spring 15 to 21 days,
 * summer 25 to 30, autumn 30 to 40, winter 90 to 100. */
static double least_rest(int day)
{
    const int month = fw_date_month(day);
    return month <= 2 || month == 12 ? 90
           : month <= 5              ? 15
           : month <= 8              ? 25
                                     : 30;
}

static void look_at_rest(const char *name, const char *id, int left, int day)
{
    const double first = least_rest(left), last = least_rest(day - 1);
    const int days = day - left;
    double done = 0;
    for (int d = left; d < day; d++)
        done += 1 / least_rest(d);
    if (done < 1 - 1e-9 || days < fmin(first, last) ||
        (first == last && days < first))
        fail_msg("%s: %s rests %d days from %d on", name, id, days, left);
}

/* ---- grass ---- */

struct law {
    enum fw_growth_shape shape;
    double kg_ha_day;
};

/* The logistic law's mean over 1,500 to 2,500 kg/ha of m (1 - m / K). */
static double mean(void)
{
    return 2000 -
           (1500.0 * 1500 + 1500.0 * 2500 + 2500.0 * 2500) / 3 / ceiling_kg_ha;
}

/* After so many days, by closed form. */
static double stands_after(struct law law, double kg_ha, int days)
{
    const double grown = law.kg_ha_day * days;
    if (law.shape == FW_GROWTH_FLAT)
        return fmin(ceiling_kg_ha, kg_ha + grown);
    return ceiling_kg_ha /
           (1 + (ceiling_kg_ha / kg_ha - 1) * exp(-grown / mean()));
}

/* What one day grows where so much stands; the logistic law as what falls of
 * K / m - 1 in a day. */
static double grows(struct law law, double kg_ha)
{
    if (law.shape == FW_GROWTH_FLAT)
        return fmin(law.kg_ha_day, ceiling_kg_ha - kg_ha);
    const double odds = (ceiling_kg_ha - kg_ha) / kg_ha;
    return ceiling_kg_ha / (1 + odds * exp(-law.kg_ha_day / mean())) - kg_ha;
}

struct sward { /* of one paddock */
    double kg_ha, left_kg_ha;
    int left; /* the day on which they left; when they never were there: 0 */
};

struct ledger { /* of the whole field, kg */
    double stood, grown, eaten, trodden;
};

/* The share of what stands above the residual that goes in the stay. */
static double share_of(const struct fw_plan *plan,
                       const struct fw_time_stay *stay, double kg_ha)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[stay->cell];
    const double holds_kg =
        use * (kg_ha - stays_kg_ha) * paddock->plane_m2 / 1e4;
    return fmin(1, stay->target_kg / holds_kg);
}

static void enter(const struct fw_plan *plan, const struct fw_time_stay *stay,
                  struct law law, const struct sward *sward, const char *name)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[stay->cell];
    const double holds_kg =
        use * (sward->kg_ha - stays_kg_ha) * paddock->plane_m2 / 1e4;
    const double closed =
        sward->left
            ? stands_after(law, sward->left_kg_ha, stay->enter - sward->left)
            : stands_after(law, stood_kg_ha, stay->enter - plan->start_day);
    assert_near(sward->kg_ha / closed, 1, 1e-9);
    if (stay->round == 0)
        assert_near(paddock->usable_kg / holds_kg, 1, 1e-9);
    else if (holds_kg < stay->target_kg * (1 - 1e-9))
        fail_msg("%s: %s holds %.12g kg of %.12g", name, paddock->id, holds_kg,
                 stay->target_kg);
}

/* Day by day: where they are it falls evenly to what they leave, elsewhere it
 * grows. */
static void keep_the_books(const struct fw_plan *plan, struct law law,
                           const char *name)
{
    static struct sward swards[most_paddocks];
    const size_t count = plan->paddock_count;
    struct ledger ledger = {0};
    size_t stay = 0;
    double falls = 0, fed_kg = 0;
    assert_true(count <= most_paddocks);
    for (size_t i = 0; i < count; i++) {
        swards[i] = (struct sward){.kg_ha = stood_kg_ha};
        ledger.stood += stood_kg_ha * plan->paddocks[i].plane_m2 / 1e4;
    }
    for (int day = plan->start_day; day < plan->end_day; day++) {
        const struct fw_time_stay *here = &plan->time.stays[stay];
        double stands = 0;
        if (day == here->enter) {
            enter(plan, here, law, &swards[here->cell], name);
            const double above = swards[here->cell].kg_ha - stays_kg_ha;
            falls = share_of(plan, here, swards[here->cell].kg_ha) * above /
                    (here->leave - here->enter);
        }
        for (size_t i = 0; i < count; i++) {
            const double ha = plan->paddocks[i].plane_m2 / 1e4;
            if (i == here->cell) {
                swards[i].kg_ha -= falls;
                ledger.eaten += use * falls * ha;
                ledger.trodden += (1 - use) * falls * ha;
            } else {
                const double grown = grows(law, swards[i].kg_ha);
                swards[i].kg_ha += grown;
                ledger.grown += grown * ha;
            }
            stands += swards[i].kg_ha * ha;
        }
        assert_near((ledger.stood + ledger.grown) /
                        (stands + ledger.eaten + ledger.trodden),
                    1, 1e-9);
        if (day + 1 == here->leave) {
            assert_true(swards[here->cell].kg_ha >= stays_kg_ha * (1 - 1e-9));
            swards[here->cell].left = here->leave;
            swards[here->cell].left_kg_ha = swards[here->cell].kg_ha;
            fed_kg += fmin(here->target_kg,
                           here->round ? HUGE_VAL
                                       : plan->paddocks[here->cell].usable_kg);
            stay++;
        }
    }
    assert_int_equal(stay, plan->time.stay_count);
    assert_near(ledger.eaten / fed_kg, 1, 1e-9);
}

/* ---- stays ---- */

/* How many days they are fed where they are is returned. */
static int look_at_stays(const struct fw_plan *plan, int until,
                         const char *name)
{
    const size_t first = fw_plan_first_stays(plan);
    int fed_days = 0;
    static int left[most_paddocks], grazed_in[most_paddocks];
    const struct fw_time *time = &plan->time;
    for (size_t i = 0; i < plan->paddock_count; i++)
        left[i] = grazed_in[i] = -1;
    for (size_t i = 0; i < time->stay_count; i++) {
        const struct fw_time_stay *stay = &time->stays[i];
        const char *id = plan->paddocks[stay->cell].id;
        if (i > 0)
            assert_int_equal(stay->enter, time->stays[i - 1].leave);
        assert_true(grazed_in[stay->cell] < stay->round);
        grazed_in[stay->cell] = stay->round;
        if (stay->round > 0) {
            look_at_rest(name, id, left[stay->cell], stay->enter);
            assert_true(stay->leave <= until);
            /* Whole days of grass; then at most three on which they are fed. */
            const double days = stay->target_kg / plan->flock.demand_kg_day;
            const int fed = stay->leave - stay->enter - (int)round(days);
            assert_near(days, round(days), 1e-9);
            assert_in_range((int)round(days), 1, 3);
            assert_in_range(fed, 0, 3);
            fed_days += fed;
        }
        if (i + 1 == first && i + 1 < time->stay_count)
            fed_days +=
                stay->leave - stay->enter -
                (int)ceil(stay->target_kg / plan->flock.demand_kg_day - 0.02);
        left[stay->cell] = stay->leave;
    }
    assert_int_equal(plan->end_day, time->stays[time->stay_count - 1].leave);
    return fed_days;
}

static bool says(const struct fw_plan *plan, const char *words)
{
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, words))
            return true;
    return false;
}

/* ---- plans ---- */

struct count {
    size_t plans, refused, stays, again, ended, fed_days;
    struct tally tally;
};

static void plan_one(struct fw_field **shapes, size_t fields, char *crs,
                     struct law law, const char *name, struct count *count)
{
    static struct farm_room room;
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    const struct setting setting = {
        .back_fence = true, .trough = true, .places = TOGETHER};
    make_farm(&room, shapes, fields, crs, setting);
    room.farm.until_given = true;
    room.farm.until_day = room.farm.start_day + until_days;
    for (size_t i = 0; i < fields; i++)
        room.fields[i].growth =
            (struct fw_growth){.rates = {{.kg_ha_day = law.kg_ha_day}},
                               .count = 1,
                               .steady = true,
                               .shape = law.shape,
                               .ceiling_kg_ha = ceiling_kg_ha,
                               .lat_deg = 50};
    if (fw_plan_make(&room.farm, &plan, &err)) {
        print_message("# %s: %s\n", name, err.text);
        count->refused++;
        return;
    }
    struct watch watch = {.plan = plan,
                          .where = name,
                          .setting = setting,
                          .tally = &count->tally};
    go_through(&watch);
    fw_land_release(&watch.land);
    const int fed_days = look_at_stays(plan, room.farm.until_day, name);
    char fed[40];
    snprintf(fed, sizeof fed, "on %d day", fed_days);
    if (says(plan, "no paddock has rested and has a day's feed: they stay") !=
            (fed_days > 0) ||
        (fed_days > 0 && !says(plan, fed)))
        fail_msg("%s: they are fed on %d days", name, fed_days);
    count->fed_days += (size_t)fed_days;
    keep_the_books(plan, law, name);
    if (plan->end_day < room.farm.until_day && !says(plan, "the plan ends on"))
        fail_msg("%s: ends before its day, and does not say so", name);
    count->plans++;
    count->stays += plan->time.stay_count;
    count->again += plan->time.stay_count - fw_plan_first_stays(plan);
    count->ended += plan->end_day < room.farm.until_day;
    fw_plan_free(plan);
}

static struct law law_of(size_t index)
{
    static const struct law laws[] = {{FW_GROWTH_LOGISTIC, 40},
                                      {FW_GROWTH_FLAT, 25},
                                      {FW_GROWTH_LOGISTIC, 70},
                                      {FW_GROWTH_FLAT, 12}};
    return laws[index % 4];
}

static void tell(const struct count *count)
{
    size_t faults = 0;
    for (int k = 0; k < FAULTS; k++)
        faults += count->tally.faults[k];
    print_message(
        "# %zu plans, %zu refused; %zu stays, %zu of them in later "
        "rounds; %zu plans end before their day; fed on %zu days; %zu "
        "steps, %zu "
        "faults\n",
        count->plans, count->refused, count->stays, count->again, count->ended,
        count->fed_days, count->tally.steps, faults);
    assert_int_equal(faults, 0);
    assert_true(count->again > count->stays / 4);
}

/* One field at a time, and two that follow each other. */
static void plan_map(struct real_fields *fields, const char *map, size_t every,
                     struct count *count)
{
    for (size_t i = 0; i < fields->count; i += every) {
        char name[128];
        snprintf(name, sizeof name, "%s, FID %lld", map, fields->fids[i]);
        plan_one(&fields->fields[i], 1, fields->crs, law_of(i / every), name,
                 count);
        if (i + 1 < fields->count && i / every % 3 == 0)
            plan_one(&fields->fields[i], 2, fields->crs, law_of(i / every + 1),
                     name, count);
    }
}

static void rounds_on_fields_of_our_own(void **state)
{
    (void)state;
    uint64_t seed = 17;
    static struct count count;
    for (size_t map = 0; map < own_maps; map++) {
        struct real_fields fields = own_fields(map, &seed);
        plan_map(&fields, own_map(map), 1, &count);
        release_fields(&fields);
    }
    tell(&count);
    assert_true(count.plans >= 60 && count.refused * 20 <= count.plans);
}

/* One field in six, or all of them. */
static void rounds_on_real_fields(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA"), *all = getenv("FW_TEST_EVERY");
    static struct count count;
    for (size_t map = 0; map < chosen_map_count; map++) {
        struct real_fields fields = read_chosen(data, map);
        plan_map(&fields, chosen_maps[map].path, all ? 1 : 6, &count);
        release_fields(&fields);
    }
    tell(&count);
    assert_true(count.refused * 25 <= count.plans);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rounds_on_fields_of_our_own),
        data_test(rounds_on_real_fields),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
