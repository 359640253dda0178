/* Seasons written down day by day: what a log comes to is the same whether it
 * grew from day to day or is read from its file, byte for byte; it is read
 * fast; and the plan of the whole season has each day that is over as it was.
 * FW_SEED chooses others, FW_SEASONS how many. */
#include "make/make.h"
#include "random_farm.h"
#include "time_farms.h"
#include "unit/scratch.h"

#include "log/log.h"
#include "store/store.h"

#include <stdlib.h>
#include <time.h>

enum { usual_seasons = 10, few_seasons = 2, season_days = 200 };

static char what[400];

static enum fw_status go_on(const void *farm, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err)
{
    return fw_plan_go_on(farm, on, out, err);
}

/* A move as it was made, by the plan of the evening before. */
struct made {
    int day;
    char into[FW_ID];
    char work[400]; /* the lines that were set and taken down */
    char out_of[FW_ID];
    double left_m2; /* of what they left */
};

struct season {
    struct made made[season_days];
    size_t made_count;
    struct farm_room room;
    struct fw_plan *base;
    struct fw_log *log;
    char path[512];
    uint64_t *seed;
    bool round; /* it goes round after round, and nobody misses a day */
    size_t days, refused, recuts, fences, taken, later;
    double worst_ms;
};

static void open_log(struct season *season)
{
    const struct fw_log_request request = {
        .path = season->path,
        .writer = true,
        .making = {&season->room.farm, go_on}};
    struct fw_notes notes = {0};
    struct fw_error err;
    if (fw_log_open(season->base, &request, &season->log, &notes, &err))
        fail_msg("%s: %s", what, err.text);
    for (size_t i = 0; i < notes.count; i++)
        fail_msg("%s: %s: %s", what, notes.items[i].where, notes.items[i].text);
    fw_notes_release(&notes);
}

/* All that there is of it, as one text. */
static char *state_of(const struct fw_log *log)
{
    struct fw_plan *now = NULL;
    struct fw_error err;
    char *text = NULL;
    if (fw_log_now(log, &now, &err))
        fail_msg("%s: %s", what, err.text);
    if (fw_plan_json_write(now ? now : log->base, NULL, 0, &text, &(size_t){0},
                           &err))
        fail_msg("%s: %s", what, err.text);
    fw_plan_free(now);
    return text;
}

static void put(struct fw_quantities *quantities, struct fw_log_line *line,
                enum fw_log_part part, const char *text)
{
    struct fw_error err;
    if (fw_log_value_read(quantities, part, text, FW_METRIC,
                          &line->values[part], &err))
        fail_msg("%s: %s", text, err.text);
}

/* The fence of the next move, if it is counted in paces. */
static bool next_fence(const struct fw_log *log, int out[2])
{
    double share;
    if (log->next_move >= log->plan->time.move_count)
        return false;
    const size_t fence = fw_log_fence(log->plan, log->next_move, &share);
    if (fence == FW_NONE)
        return false;
    out[0] = fw_log_paces(log->plan, fence, true).paces;
    out[1] = fw_log_paces(log->plan, fence, false).paces;
    return out[0] > 4 && out[1] > 4;
}

static bool is_later(const struct fw_log *log, size_t move)
{
    const size_t stay = log->plan->time.moves[move].stay;
    return stay != FW_NONE && log->plan->time.stays[stay].round > 0;
}

/* One that is yet to come in the field of the next, before its turn. */
static const char *draw_other(const struct season *season)
{
    const struct fw_log *log = season->log;
    const struct fw_plan *plan = log->plan;
    const size_t next = fw_plan_move_to(plan, log->next_move);
    if (next == FW_NONE || (!log->own && log->next_move == 0) ||
        is_later(log, log->next_move))
        return NULL;
    const struct fw_list stays =
        fw_plan_stays_of(plan, plan->paddocks[next].field);
    const size_t end = stays.first + stays.count;
    return plan
        ->paddocks[plan->time
                       .stays[draw_count(season->seed, log->next_move, end - 1)]
                       .cell]
        .id;
}

static void draw_line(struct season *season, struct fw_quantities *quantities,
                      struct fw_log_line *line)
{
    static const char *const lefts[] = {"short", "right", "right", "long"};
    uint64_t *seed = season->seed;
    int paces[2];
    char text[40];
    const double dice = draw(seed, 0, 1);
    if (dice < 0.05 && !season->round) {
        put(quantities, line, FW_LOG_MISSED, "yes");
        return;
    }
    if (dice < 0.7)
        put(quantities, line, FW_LOG_LEFT, lefts[draw_count(seed, 0, 3)]);
    const char *other = dice > 0.55 && dice < 0.6 ? draw_other(season) : NULL;
    if (other) {
        put(quantities, line, FW_LOG_INTO, other);
        season->taken++;
    }
    if (dice > 0.6 && next_fence(season->log, paces)) {
        snprintf(text, sizeof text, "%d,%d",
                 (int)(paces[0] * draw(seed, 0.8, 1.25)) + 1,
                 (int)(paces[1] * draw(seed, 0.8, 1.25)) + 1);
        put(quantities, line, FW_LOG_FENCE, text);
        season->fences++;
    }
    if (dice > 0.95) {
        snprintf(text, sizeof text, "%d",
                 (int)(season->log->head * draw(seed, 0.9, 1.1)) + 1);
        put(quantities, line, FW_LOG_HEAD, text);
    }
}

/* ---- the whole season ---- */

static void tell_work(const struct fw_plan *plan, size_t move, char *out,
                      size_t size)
{
    const struct fw_move *of = &plan->time.moves[move];
    out[0] = '\0';
    for (size_t s = 0; s < of->steps.count; s++) {
        const struct fw_step *step = &plan->time.steps[of->steps.first + s];
        if (step->kind != FW_STEP_SET && step->kind != FW_STEP_TAKE_DOWN)
            continue;
        for (size_t k = 0; k < step->lines.count; k++) {
            const size_t line = plan->time.items[step->lines.first + k];
            const size_t length = strlen(out);
            snprintf(out + length, size - length, "%s%s ",
                     step->kind == FW_STEP_SET ? "+" : "-",
                     plan->fences[line].id);
        }
    }
}

static struct made next_of(const struct fw_log *log)
{
    const struct fw_plan *plan = log->plan;
    const size_t to = fw_plan_move_to(plan, log->next_move);
    const size_t from = log->own || log->next_move
                            ? fw_plan_move_from(plan, log->next_move)
                            : FW_NONE;
    struct made made = {0};
    if (to != FW_NONE)
        memcpy(made.into, plan->paddocks[to].id, sizeof made.into);
    if (from != FW_NONE) {
        memcpy(made.out_of, plan->paddocks[from].id, sizeof made.out_of);
        made.left_m2 = plan->paddocks[from].plane_m2;
    }
    tell_work(plan, log->next_move, made.work, sizeof made.work);
    return made;
}

static const struct fw_plan_paddock *named(const struct fw_plan *plan,
                                           const char *id)
{
    for (size_t i = 0; i < plan->paddock_count; i++)
        if (strcmp(plan->paddocks[i].id, id) == 0)
            return &plan->paddocks[i];
    fail_msg("%s: %s is gone", what, id);
    return NULL;
}

static void days_that_are_over_are_as_they_were(const struct season *season,
                                                const struct fw_plan *plan)
{
    char work[400];
    for (size_t m = 0; m < season->made_count; m++) {
        const struct made *made = &season->made[m];
        const size_t to = fw_plan_move_to(plan, m);
        assert_int_equal(plan->time.moves[m].day, made->day);
        assert_string_equal(to == FW_NONE ? "" : plan->paddocks[to].id,
                            made->into);
        if (made->out_of[0])
            assert_near(named(plan, made->out_of)->plane_m2 / made->left_m2, 1,
                        1e-9);
        tell_work(plan, m, work, sizeof work);
        if (made->work[0] && strcmp(work, made->work) != 0)
            fail_msg("%s: move %zu, %s is told as %s", what, m, made->work,
                     work);
    }
}

static void what_is_ahead_is_the_same(const struct fw_plan *plan,
                                      const struct fw_plan *now)
{
    const struct fw_plan ahead = fw_plan_ahead(plan);
    const struct fw_plan to_come = fw_plan_ahead(now);
    assert_int_equal(ahead.time.stay_count, to_come.time.stay_count);
    for (size_t i = 0; i < to_come.time.stay_count; i++) {
        const struct fw_time_stay *stay = &to_come.time.stays[i];
        const struct fw_plan_paddock *of = &now->paddocks[stay->cell];
        assert_int_equal(ahead.time.stays[i].enter, stay->enter);
        assert_int_equal(ahead.time.stays[i].leave, stay->leave);
        assert_near(named(plan, of->id)->plane_m2 / of->plane_m2, 1, 1e-9);
        if (stay->round == 0)
            assert_near(named(plan, of->id)->usable_kg, of->usable_kg, 1e-6);
    }
    char here[400], there[400];
    const size_t first = fw_plan_next_move(now);
    for (size_t m = 0; first + m < now->time.move_count; m++) {
        tell_work(plan, fw_plan_next_move(plan) + m, here, sizeof here);
        tell_work(now, first + m, there, sizeof there);
        if (strcmp(here, there) != 0)
            fail_msg("%s: move %zu of those ahead, %s, is told as %s", what, m,
                     there, here);
    }
}

static void no_ground_is_grazed_twice(const struct fw_plan *plan)
{
    for (size_t i = 1; i < fw_plan_first_stays(plan); i++)
        assert_true(plan->time.stays[i - 1].cell < plan->time.stays[i].cell);
}

static void ground_is_conserved(const struct fw_plan *plan)
{
    for (size_t f = 0; f < plan->field_count; f++) {
        const struct fw_plan_field *field = &plan->fields[f];
        double sum_m2 = 0, sum_ha = 0;
        for (size_t i = 0; i < field->paddock_count; i++) {
            sum_m2 += plan->paddocks[field->first_paddock + i].plane_m2;
            sum_ha += plan->paddocks[field->first_paddock + i].area_ha;
        }
        if (field->paddock_count == 0)
            continue;
        assert_near(field->grazed_ha / sum_ha, 1, 1e-9);
        for (size_t i = 0; i < plan->lane_count; i++)
            if (plan->lanes[i].field == f)
                sum_m2 += plan->lanes[i].plane_m2;
        assert_near(sum_m2 / field->plane_m2, 1, 1e-6);
    }
}

static void judge_season(const struct season *season)
{
    struct fw_plan *plan = NULL, *now = NULL;
    struct fw_error err;
    if (fw_log_season(season->log, &plan, &err) ||
        fw_log_now(season->log, &now, &err))
        fail_msg("%s: %s", what, err.text);
    if (plan) {
        days_that_are_over_are_as_they_were(season, plan);
        ground_is_conserved(plan);
        no_ground_is_grazed_twice(plan);
    }
    if (now) {
        what_is_ahead_is_the_same(plan, now);
        assert_int_equal(
            now->time.moves[fw_plan_next_move(now)].day,
            season->log->plan->time.moves[season->log->next_move].day);
    }
    fw_plan_free(plan);
    fw_plan_free(now);
}

static bool one_day(struct season *season, struct fw_quantities *quantities)
{
    struct fw_log_line line = {.day = FW_NO_DAY};
    struct fw_error err = {0};
    if (season->log->next_move >= season->log->plan->time.move_count)
        return false;
    struct made made = next_of(season->log);
    draw_line(season, quantities, &line);
    if (fw_log_say(season->log, &line, &err)) {
        season->refused++;
        line = (struct fw_log_line){.day = FW_NO_DAY};
        if (fw_log_say(season->log, &line, &err))
            return false; /* past its last move */
    }
    const struct fw_log_day *day =
        &season->log->days[season->log->day_count - 1];
    made.day = day->day;
    if (line.values[FW_LOG_INTO].told) {
        snprintf(made.into, sizeof made.into, "%.31s",
                 line.values[FW_LOG_INTO].text);
        made.work[0] = '\0'; /* no plan of an evening before has it */
    }
    if (day->move != FW_NONE)
        season->made[season->made_count++] = made;
    season->days++;
    season->later += day->move != FW_NONE && day->to != FW_NONE &&
                     is_later(season->log, day->move);
    season->recuts += day->anew;
    return true;
}

static double now_ms(void)
{
    struct timespec at;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec * 1e3 + (double)at.tv_nsec * 1e-6;
}

static void one_season(struct season *season, struct fw_quantities *quantities)
{
    struct fw_error err;
    unlink(season->path);
    open_log(season);
    season->made_count = 0;
    for (int day = 0; day < season_days && one_day(season, quantities); day++)
        if (day % 50 == 49)
            judge_season(season);
    judge_season(season);
    char *grown = state_of(season->log);
    if (fw_log_keep(season->log, &err))
        fail_msg("%s", err.text);
    fw_log_free(season->log);
    const double before_ms = now_ms();
    open_log(season);
    char *read = state_of(season->log);
    season->worst_ms = fmax(season->worst_ms, now_ms() - before_ms);
    if (strcmp(grown, read) != 0)
        fail_msg("%s: read otherwise than written", what);
    fw_bytes_free(grown);
    fw_bytes_free(read);
    fw_log_free(season->log);
}

/* What grows in a season on the fields of the farm, and until when. */
static void go_round(struct farm_room *room)
{
    room->farm.until_given = room->farm.back_fence = true;
    room->farm.until_day = room->farm.start_day + season_days;
    for (size_t i = 0; i < room->farm.field_count; i++)
        room->fields[i].growth =
            (struct fw_growth){.rates = {{.kg_ha_day = 60}},
                               .count = 1,
                               .steady = true,
                               .ceiling_kg_ha = 6000};
}

static void all_seasons(struct season *season, size_t wanted)
{
    struct fw_quantities *quantities;
    struct scratch scratch;
    uint64_t seed = seeded(33);
    size_t seasons = 0;
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    scratch_make(&scratch);
    snprintf(season->path, sizeof season->path, "%s",
             in_scratch(&scratch, "days.txt"));
    season->seed = &seed;
    for (size_t map = 0; seasons < wanted; map = (map + 1) % own_maps) {
        struct real_fields own = own_fields(map, &seed);
        for (size_t i = 0; i + 2 <= own.count && seasons < wanted; i += 6) {
            const size_t setting = draw_count(&seed, 0, setting_count - 1);
            char name[80];
            snprintf(what, sizeof what, "season %zu, %s %lld, %s", seasons,
                     own_map(map), own.fids[i], setting_name(setting, name));
            make_farm(&season->room, &own.fields[i], 2, own.crs,
                      setting_of(setting));
            season->room.flock.head = 1 + season->room.flock.head *
                                              wanted_paddocks / season_days *
                                              (season->round ? 5 : 1);
            season->room.farm.stay_told = true;
            if (season->round)
                go_round(&season->room);
            if (fw_plan_make(&season->room.farm, &season->base, NULL))
                continue;
            one_season(season, quantities);
            fw_plan_free(season->base);
            seasons++;
        }
        release_fields(&own);
    }
    print_message(
        "# %zu seasons, %zu days, %zu fences, %zu before their turn, cut anew "
        "%zu times, %zu refused, %zu moves into ground that had grown again; "
        "the slowest is read in %.0f ms\n",
        seasons, season->days, season->fences, season->taken, season->recuts,
        season->refused, season->later, season->worst_ms);
    assert_true(season->refused < season->days / 10);
    scratch_remove(scratch.path);
    fw_quantities_free(quantities);
}

static size_t wanted_seasons(void)
{
    const char *given = getenv("FW_SEASONS");
    const size_t usual = getenv("FW_THOROUGH") ? usual_seasons : few_seasons;
    return given ? strtoull(given, NULL, 10) : usual;
}

static void a_log_that_is_read_is_as_it_was_written(void **state)
{
    (void)state;
    static struct season season;
    const size_t wanted = wanted_seasons();
    all_seasons(&season, wanted);
    assert_true(season.taken > 2 * wanted);
    assert_true(season.recuts > 5 * wanted);
}

/* The first round is cut anew day by day; then the same ground comes again. */
static void a_log_goes_round_after_round(void **state)
{
    (void)state;
    static struct season season = {.round = true};
    const size_t wanted = 1 + wanted_seasons() / 3;
    all_seasons(&season, wanted);
    assert_true(season.recuts > 2 * wanted);
    assert_true(season.later > 20 * wanted);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_that_is_read_is_as_it_was_written),
        cmocka_unit_test(a_log_goes_round_after_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
