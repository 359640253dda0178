/* Seasons in which a plan is gone on from day after day: fences are set where
 * somebody set them, sheep come and go, the grass is more or less than it was
 * thought to be. Whatever happens, the ground is conserved. FW_SEED chooses
 * others, FW_SEASONS how many. */
#include "make/make.h"
#include "random_farm.h"
#include "time_farms.h"
#include "time_watch.h"
#include "unit/plan_rest.h"

#include <stdlib.h>

enum { usual_seasons = 100, few_seasons = 10, season_days = 200 };

/* ---- the ground, counted here ---- */

static struct fw_point at(const struct fw_plan_field *field, size_t vertex)
{
    return field->vertices[vertex].plane;
}

static double area_m2(const struct fw_plan_field *field,
                      const struct fw_plan_rings *rings)
{
    const struct fw_point zero = at(field, field->rings.vertices[0]);
    double sum = 0;
    for (size_t r = 0; r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < rings->ring_start[r + 1] ? i + 1 : rings->ring_start[r];
            const struct fw_point a = at(field, rings->vertices[i]);
            const struct fw_point b = at(field, rings->vertices[next]);
            sum += (a.x_m - zero.x_m) * (b.y_m - zero.y_m) -
                   (b.x_m - zero.x_m) * (a.y_m - zero.y_m);
        }
    return sum / 2;
}

struct edge {
    size_t from, to;
};

static int by_edge(const void *left, const void *right)
{
    const struct edge *a = left, *b = right;
    return a->from != b->from ? (a->from < b->from ? -1 : 1)
           : a->to != b->to   ? (a->to < b->to ? -1 : 1)
                              : 0;
}

static size_t list_edges(const struct fw_plan_rings *rings, struct edge *edges,
                         bool back)
{
    size_t n = 0;
    for (size_t r = 0; r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1];
             i++) {
            const size_t a = rings->vertices[i];
            const size_t b = rings->vertices[i + 1 < rings->ring_start[r + 1]
                                                 ? i + 1
                                                 : rings->ring_start[r]];
            edges[n++] = back ? (struct edge){b, a} : (struct edge){a, b};
        }
    return n;
}

/* Every side of a paddock has another one's along it, run the other way, or
 * the field's own. */
static void is_coverage(const struct fw_plan *plan, size_t f)
{
    static struct edge edges[200000];
    const struct fw_plan_field *field = &plan->fields[f];
    size_t n = list_edges(&field->rings, edges, true);
    double sum_m2 = 0;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        const double m2 = area_m2(field, &paddock->rings);
        assert_true(m2 > 0);
        assert_near(m2, paddock->plane_m2, 1e-6 + 1e-9 * m2);
        sum_m2 += m2;
        n += list_edges(&paddock->rings, edges + n, false);
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == f) {
            sum_m2 += area_m2(field, &plan->lanes[i].rings);
            n += list_edges(&plan->lanes[i].rings, edges + n, false);
        }
    const double all_m2 = area_m2(field, &field->rings);
    if (!(fabs(sum_m2 - all_m2) <= 1e-9 * all_m2))
        fail_msg("%s: %.12g of %.12g m2", what, sum_m2, all_m2);
    qsort(edges, n, sizeof *edges, by_edge);
    for (size_t i = 0; i < n; i++) {
        const struct edge twin = {edges[i].to, edges[i].from};
        if (!bsearch(&twin, edges, n, sizeof *edges, by_edge) ||
            (i > 0 && by_edge(&edges[i], &edges[i - 1]) == 0))
            fail_msg("%s: edge %zu-%zu", what, edges[i].from, edges[i].to);
    }
}

/* What is grazed stays where it was grazed. */
static void is_kept(const struct fw_plan *before, const struct fw_plan *plan,
                    size_t paddock)
{
    const struct fw_plan_paddock *a = &before->paddocks[paddock];
    const struct fw_plan_paddock *b = &plan->paddocks[paddock];
    assert_same(!strcmp(a->id, b->id));
    assert_same(a->field == b->field);
    if (a->plane_m2 != b->plane_m2)
        fail_msg("%s: %s had %.12g m2 and has %.12g", what, a->id, a->plane_m2,
                 b->plane_m2);
}

/* ---- seasons ---- */

struct season {
    struct farm_room room;
    struct fw_plan *plan;
    size_t move;   /* of it, the last one made; FW_NONE: none */
    size_t grazed; /* paddocks, the last one they are in */
    double size[most_fields];
    uint64_t *seed;
    size_t recuts, refused, moved, days;
    struct setting setting;
    struct tally tally;
};

/* The fence that is set at a move and has a paddock of its own. */
static size_t set_at(const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    size_t found = FW_NONE;
    for (size_t i = 0; i < steps->count; i++) {
        const struct fw_step *step = &plan->time.steps[steps->first + i];
        if (step->kind == FW_STEP_SET && step->lines.count)
            found = plan->time.items[step->lines.first + step->lines.count - 1];
    }
    return found != FW_NONE && plan->fences[found].role == FW_FENCE_MOVED
               ? found
               : FW_NONE;
}

/* Step by step: what stands encloses them, and all of it comes down. */
static void watch_moves(struct season *season, const struct fw_plan *plan)
{
    struct watch watch = {.plan = plan,
                          .where = what,
                          .setting = season->setting,
                          .tally = &season->tally};
    go_through(&watch);
    fw_land_release(&watch.land);
}

static void cut_anew(struct season *season, size_t fence, double on_m)
{
    const struct fw_plan *plan = season->plan;
    struct fw_plan *next = NULL;
    struct fw_error err = {0};
    const struct fw_plan_on on = {
        .from = plan,
        .move = season->move,
        .day = plan->time.moves[season->move + 1].day,
        .head = season->room.flock.head,
        .size = season->size,
        .fence = fence,
        .on_m = {on_m, on_m * draw(season->seed, 0.7, 1.3)},
        .brief = draw(season->seed, 0, 1) < 0.9,
    };
    const enum fw_status status =
        fw_plan_go_on(&season->room.farm, &on, &next, &err);
    if (status == FW_EINPUT && fence != FW_NONE) { /* it cannot stand there */
        season->refused++;
        if (getenv("FW_SAY"))
            print_message("# %s: %s\n", what, err.text);
        return;
    }
    if (status)
        fail_msg("%s: %s", what, err.text);
    for (size_t f = 0; f < next->field_count; f++)
        is_coverage(next, f);
    /* The front of where they are may be set otherwise on the same day. */
    const size_t kept =
        fence != FW_NONE && plan->fences[fence].from + 1 < season->grazed
            ? plan->fences[fence].from
        : fence != FW_NONE && plan->fences[fence].from + 1 == season->grazed
            ? season->grazed - 1
            : season->grazed;
    for (size_t i = 0; i < kept; i++)
        is_kept(plan, next, i);
    watch_moves(season, next);
    season->recuts++;
    fw_plan_free(season->plan);
    season->plan = next;
    season->move = FW_NONE;
}

static bool one_day(struct season *season)
{
    const struct fw_plan *plan = season->plan;
    const size_t move = season->move == FW_NONE ? 0 : season->move + 1;
    if (fw_plan_move_to(plan, move + 1) == FW_NONE)
        return false;
    season->move = move;
    season->grazed = fw_plan_move_to(plan, move) + 1;
    season->days++;
    const size_t fence = set_at(plan, move);
    const double dice = draw(season->seed, 0, 1);
    if (dice < 0.3 && fence != FW_NONE) {
        const struct fw_plan_fence *of = &plan->fences[fence];
        const double depth_m = plan->paddocks[of->from].plane_m2 / of->length_m;
        season->moved++;
        cut_anew(season, fence, depth_m * draw(season->seed, -0.4, 0.4));
    } else if (dice < 0.5) {
        for (size_t f = 0; f < plan->field_count; f++)
            season->size[f] *= draw(season->seed, 0.8, 1.25);
        cut_anew(season, FW_NONE, 0);
    } else if (dice < 0.6) {
        season->room.flock.head =
            (int)(season->room.flock.head * draw(season->seed, 0.9, 1.12)) + 1;
        cut_anew(season, FW_NONE, 0);
    } else if (dice < 0.7) {
        cut_anew(season, FW_NONE, 0);
    }
    return true;
}

static bool one_season(struct season *season, struct fw_field **shapes,
                       size_t count, char *crs, size_t setting)
{
    season->setting = setting_of(setting);
    make_farm(&season->room, shapes, count, crs, season->setting);
    season->room.flock.head =
        1 + season->room.flock.head * wanted_paddocks / season_days;
    season->room.farm.stay_told = true;
    for (size_t f = 0; f < most_fields; f++)
        season->size[f] = 1;
    season->plan = NULL;
    season->move = FW_NONE;
    if (fw_plan_make(&season->room.farm, &season->plan, NULL))
        return false;
    for (int day = 0; day < season_days && one_day(season); day++) {
    }
    fw_plan_free(season->plan);
    return true;
}

static void ground_is_conserved(void **state)
{
    (void)state;
    static struct season season;
    const char *given = getenv("FW_SEASONS");
    const size_t usual = getenv("FW_THOROUGH") ? usual_seasons : few_seasons;
    const size_t wanted = given ? strtoull(given, NULL, 10) : usual;
    uint64_t seed = seeded(31);
    size_t seasons = 0;
    season.seed = &seed;
    for (size_t map = 0; seasons < wanted; map = (map + 1) % own_maps) {
        struct real_fields own = own_fields(map, &seed);
        for (size_t i = 0; i + 2 <= own.count && seasons < wanted; i += 2) {
            const size_t setting = draw_count(&seed, 0, setting_count - 1);
            char name[80];
            snprintf(what, sizeof what, "season %zu, %s %lld, %s", seasons,
                     own_map(map), own.fids[i], setting_name(setting, name));
            seasons += one_season(&season, &own.fields[i], 2, own.crs, setting);
        }
        release_fields(&own);
    }
    print_message("# %zu seasons, %zu days, gone on %zu times, %zu fences set "
                  "otherwise, %zu refused\n",
                  seasons, season.days, season.recuts, season.moved,
                  season.refused);
    size_t faults = 0;
    for (int k = 0; k < FAULTS; k++)
        faults += season.tally.faults[k];
    print_message("# %zu moves, %zu steps, %zu faults\n", season.tally.moves,
                  season.tally.steps, faults);
    assert_int_equal(faults, 0);
    assert_true(season.recuts > 10 * seasons);
    assert_true(season.refused < season.moved / 5);
}

/* ---- nothing happened ---- */

static void nothing_new_is_the_rest_of_the_plan(void **state)
{
    (void)state;
    static struct farm_room room;
    uint64_t seed = seeded(32);
    size_t plans = 0;
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i + 2 <= own.count; i += 2) {
            const size_t setting = (i / 2 + m) % setting_count;
            char name[80];
            struct fw_plan *before = NULL, *rest = NULL;
            struct fw_error err = {0};
            snprintf(what, sizeof what, "%s %lld, %s", own_map(m), own.fids[i],
                     setting_name(setting, name));
            make_farm(&room, &own.fields[i], 2, own.crs, setting_of(setting));
            if (fw_plan_make(&room.farm, &before, NULL))
                continue;
            const size_t move =
                draw_count(&seed, 0, before->time.move_count - 3);
            const struct fw_plan_on on = {
                .from = before,
                .move = move,
                .day = before->time.moves[move + 1].day,
                .fence = FW_NONE,
            };
            if (fw_plan_go_on(&room.farm, &on, &rest, &err))
                fail_msg("%s: %s", what, err.text);
            compare_rest(before, move, rest);
            fw_plan_free(rest);
            fw_plan_free(before);
            plans++;
        }
        release_fields(&own);
    }
    print_message("# %zu plans\n", plans);
    assert_true(plans >= 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_new_is_the_rest_of_the_plan),
        cmocka_unit_test(ground_is_conserved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
