/* Seasons written down day by day: what a log comes to is the same whether it
 * grew from day to day or is read from its file, byte for byte; and it is read
 * fast. FW_SEED chooses others, FW_SEASONS how many. */
#include "make/make.h"
#include "random_farm.h"
#include "time_farms.h"
#include "unit/scratch.h"

#include "log/log.h"
#include "store/store.h"

#include <stdlib.h>
#include <time.h>

enum { usual_seasons = 10, season_days = 200 };

static char what[400];

static enum fw_status go_on(const void *farm, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err)
{
    return fw_plan_go_on(farm, on, out, err);
}

struct season {
    struct farm_room room;
    struct fw_plan *base;
    struct fw_log *log;
    char path[512];
    uint64_t *seed;
    size_t days, refused, recuts, fences;
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

static void draw_line(struct season *season, struct fw_quantities *quantities,
                      struct fw_log_line *line)
{
    static const char *const lefts[] = {"short", "right", "right", "long"};
    uint64_t *seed = season->seed;
    int paces[2];
    char text[40];
    const double dice = draw(seed, 0, 1);
    if (dice < 0.05) {
        put(quantities, line, FW_LOG_MISSED, "yes");
        return;
    }
    if (dice < 0.7)
        put(quantities, line, FW_LOG_LEFT, lefts[draw_count(seed, 0, 3)]);
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

static bool one_day(struct season *season, struct fw_quantities *quantities)
{
    struct fw_log_line line = {.day = FW_NO_DAY};
    struct fw_error err = {0};
    if (season->log->next_move >= season->log->plan->time.move_count)
        return false;
    draw_line(season, quantities, &line);
    if (fw_log_say(season->log, &line, &err)) {
        season->refused++;
        line = (struct fw_log_line){.day = FW_NO_DAY};
        if (fw_log_say(season->log, &line, &err))
            return false; /* past its last move */
    }
    season->days++;
    season->recuts += season->log->days[season->log->day_count - 1].anew;
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
    for (int day = 0; day < season_days && one_day(season, quantities); day++) {
    }
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

static void a_log_that_is_read_is_as_it_was_written(void **state)
{
    (void)state;
    static struct season season;
    const char *given = getenv("FW_SEASONS");
    const size_t wanted = given ? strtoull(given, NULL, 10) : usual_seasons;
    struct fw_quantities *quantities;
    struct scratch scratch;
    uint64_t seed = seeded(33);
    size_t seasons = 0;
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    scratch_make(&scratch);
    snprintf(season.path, sizeof season.path, "%s",
             in_scratch(&scratch, "days.txt"));
    season.seed = &seed;
    for (size_t map = 0; seasons < wanted; map = (map + 1) % own_maps) {
        struct real_fields own = own_fields(map, &seed);
        for (size_t i = 0; i + 2 <= own.count && seasons < wanted; i += 6) {
            const size_t setting = draw_count(&seed, 0, setting_count - 1);
            char name[80];
            snprintf(what, sizeof what, "season %zu, %s %lld, %s", seasons,
                     own_map(map), own.fids[i], setting_name(setting, name));
            make_farm(&season.room, &own.fields[i], 2, own.crs,
                      setting_of(setting));
            season.room.flock.head =
                1 + season.room.flock.head * wanted_paddocks / season_days;
            season.room.farm.stay_told = true;
            if (fw_plan_make(&season.room.farm, &season.base, NULL))
                continue;
            one_season(&season, quantities);
            fw_plan_free(season.base);
            seasons++;
        }
        release_fields(&own);
    }
    print_message(
        "# %zu seasons, %zu days, %zu fences, cut anew %zu times, %zu "
        "refused; the slowest is read in %.0f ms\n",
        seasons, season.days, season.fences, season.recuts, season.refused,
        season.worst_ms);
    assert_true(season.recuts > 5 * seasons);
    assert_true(season.refused < season.days / 10);
    scratch_remove(scratch.path);
    fw_quantities_free(quantities);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_log_that_is_read_is_as_it_was_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
