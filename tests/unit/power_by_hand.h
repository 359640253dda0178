/* A plan with lines made by hand, and what its circuit has. */
#ifndef FW_TEST_POWER_BY_HAND_H
#define FW_TEST_POWER_BY_HAND_H

#include "plan_help.h"

#include "keys/fault.h"
#include "keys/keys.h"
#include <foldwright/told.h>

#include "live/live.h"

#include <stdlib.h>
#include <string.h>

/* ---- a field of 300 m by 200 m, and lines across it ---- */

enum { most_lines = 400, fixed = 4 };

static const int first_day = 20576; /* 2026-05-03, and grass grows */

struct world {
    struct fw_plan plan;
    struct fw_plan_field field;
    struct fw_vertex vertices[fixed + 4 * most_lines];
    struct fw_farm_side sides[4];
    size_t corners[4];
    struct fw_plan_paddock paddock;
    struct fw_plan_fence fences[4 + most_lines];
    size_t side_lines[4][2 + 2 * most_lines];
    size_t lines[most_lines][2];
    size_t outline[4], ring_start[2], piece_ring[2];
    int up[most_lines], down[most_lines]; /* days */
    struct fw_time_stay stays[2 * most_lines];
    struct fw_move moves[2 * most_lines + 1];
    struct fw_step steps[10 * most_lines + 5];
    struct fw_standing standings[most_lines];
    size_t items[2 * most_lines];
};

static inline struct world *new_world(void)
{
    static const double xy[4][2] = {{0, 0}, {300, 0}, {300, 200}, {0, 200}};
    struct world *w = calloc(1, sizeof *w);
    assert_non_null(w);
    struct fw_plan *plan = &w->plan;
    *plan = (struct fw_plan){
        .fields = &w->field,
        .field_count = 1,
        .paddocks = &w->paddock,
        .paddock_count = 1,
        .fences = w->fences,
        .start_day = first_day,
        .end_day = first_day + 30,
        .energizer = {.joules = 1,
                      .rods = 3,
                      .rod_m = 1.83,
                      .open_v = 4000,
                      .touched_v = 2000},
        .wiring = fw_farm_wiring_default(),
        .power = {.open_v = 8000, .internal_ohm = 300, .earth_ohm = 20},
    };
    w->field = (struct fw_plan_field){
        .name = (char *)"Field",
        .plane = {.centre = {5, 50}},
        .vertices = w->vertices,
        .vertex_count = 4,
        .corners = w->corners,
        .corner_count = 4,
        .sides = w->sides,
    };
    w->ring_start[1] = 4;
    w->piece_ring[1] = 1;
    w->paddock = (struct fw_plan_paddock){.id = "A01",
                                          .rings = {.vertices = w->outline,
                                                    .ring_start = w->ring_start,
                                                    .ring_count = 1,
                                                    .piece_ring = w->piece_ring,
                                                    .piece_count = 1}};
    for (size_t i = 0; i < 4; i++) {
        w->vertices[i].plane = (struct fw_point){xy[i][0], xy[i][1]};
        w->corners[i] = w->outline[i] = i;
        w->sides[i].hot = FW_YES;
        w->fences[i] = (struct fw_plan_fence){
            .role = FW_FENCE_PERIMETER,
            .side = i,
            .line = w->side_lines[i],
            .line_count = 2,
            .length_m = i % 2 ? 200 : 300,
        };
        snprintf(w->fences[i].id, FW_ID, "A-side-%zu", i + 1);
        w->side_lines[i][0] = i;
        w->side_lines[i][1] = (i + 1) % 4;
    }
    plan->fence_count = 4;
    /* A boundary that costs nothing, so that a line alone is what is seen. */
    plan->wiring.perimeter_ohm_m = 1e-12;
    plan->wiring.perimeter_leak_ohm_km = (double)INFINITY;
    plan->wiring.moved_leak_ohm_km = 1000;
    plan->wiring.moved_ohm_m = 3.82;
    return w;
}

static inline size_t new_vertex(struct world *w, double x, double y)
{
    w->vertices[w->field.vertex_count].plane = (struct fw_point){x, y};
    return w->field.vertex_count++;
}

/* All lines that are set, or taken down, on a day. */
static inline void add_step(struct world *w, enum fw_step_kind kind,
                            const int *days, int day)
{
    struct fw_time *time = &w->plan.time;
    struct fw_step *step = &w->steps[time->step_count];
    *step = (struct fw_step){
        .kind = kind, .opening = FW_NONE, .lines = {time->item_count, 0}};
    const struct fw_time_when now = {time->move_count, time->step_count};
    for (size_t k = 0; k < w->plan.fence_count - 4; k++) {
        if (days[k] != day)
            continue;
        w->items[time->item_count++] = k + 4;
        step->lines.count++;
        if (kind == FW_STEP_SET)
            w->standings[time->standing_count++] =
                (struct fw_standing){k + 4, now, {FW_NONE, FW_NONE}};
        for (size_t i = 0; i < time->standing_count; i++)
            if (kind == FW_STEP_TAKE_DOWN && w->standings[i].line == k + 4)
                w->standings[i].down = now;
    }
    time->step_count++;
}

/* The first day after that one on which a line is set or taken down. */
static inline int next_day(const struct world *w, int after)
{
    int next = FW_NO_DAY;
    for (size_t k = 0; k < w->plan.fence_count - 4; k++) {
        const int days[2] = {w->up[k], w->down[k]};
        for (int i = 0; i < 2; i++)
            if (days[i] > after && (next == FW_NO_DAY || days[i] < next))
                next = days[i];
    }
    return next;
}

/* They are in the one paddock all the time; on the last of those days they
 * leave. */
static inline void settle_time(struct world *w)
{
    w->plan.time = (struct fw_time){.stays = w->stays,
                                    .standings = w->standings,
                                    .moves = w->moves,
                                    .steps = w->steps,
                                    .items = w->items};
    struct fw_time *time = &w->plan.time;
    int day = next_day(w, 0);
    w->field.paddock_count = 1;
    w->field.fence_count = w->plan.fence_count;
    while (day != FW_NO_DAY) {
        const int next = next_day(w, day);
        const size_t first = time->step_count;
        const bool last = next == FW_NO_DAY;
        add_step(w, FW_STEP_TAKE_DOWN, w->down, day);
        add_step(w, FW_STEP_SET, w->up, day);
        for (int kind = FW_STEP_HOOK; kind <= FW_STEP_READ; kind++) {
            w->steps[time->step_count] = w->steps[time->step_count - 1];
            w->steps[time->step_count++].kind = (enum fw_step_kind)kind;
        }
        w->steps[time->step_count++] =
            (struct fw_step){.kind = FW_STEP_COUNT, .opening = FW_NONE};
        if (!last)
            w->stays[time->stay_count++] =
                (struct fw_time_stay){.enter = day, .leave = next};
        w->moves[time->move_count] =
            (struct fw_move){.day = day,
                             .stay = last ? FW_NONE : time->move_count,
                             .steps = {first, 5},
                             .later = FW_NONE,
                             .opening = FW_NONE};
        time->move_count++;
        day = next;
    }
}

/* A line across at x, its end A on side 1; that side's and side 3's vertices
 * stay in order when lines come from the left to the right. */
static inline size_t add_line(struct world *w, double x, int strands, int up,
                              int down)
{
    const size_t k = w->plan.fence_count - 4;
    struct fw_plan_fence *fence = &w->fences[w->plan.fence_count];
    const size_t a = new_vertex(w, x, 0), b = new_vertex(w, x, 200);
    struct fw_plan_fence *low = &w->fences[0], *high = &w->fences[2];
    low->line[low->line_count] = low->line[low->line_count - 1];
    low->line[low->line_count - 1] = a;
    low->line_count++;
    memmove(high->line + 2, high->line + 1,
            (high->line_count - 1) * sizeof *high->line);
    high->line[1] = b;
    high->line_count++;
    w->lines[k][0] = a;
    w->lines[k][1] = b;
    *fence = (struct fw_plan_fence){
        .role = FW_FENCE_MOVED,
        .side = FW_NONE,
        .line = w->lines[k],
        .line_count = 2,
        .length_m = 200,
        .strands = strands,
    };
    snprintf(fence->id, FW_ID, "A%02zu-%02zu", k + 1, k + 2);
    w->plan.fence_count++;
    w->up[k] = up;
    w->down[k] = down;
    settle_time(w);
    return k + 4;
}

/* Another one over the same days. */
static inline struct fw_plan_fence *add_like(struct world *w, size_t fence)
{
    const size_t added = w->plan.fence_count++;
    w->fences[added] = w->fences[fence];
    w->up[added - 4] = w->up[fence - 4];
    w->down[added - 4] = w->down[fence - 4];
    settle_time(w);
    return &w->fences[added];
}

static inline size_t line_at(struct world *w, double x, int strands)
{
    return add_line(w, x, strands, first_day, first_day + 30);
}

/* ---- what a place has ---- */

static inline struct fw_circuit_volts
volts_on(const struct world *w, size_t fence, int strand, double at_m)
{
    struct fw_error err;
    struct fw_plan_circuit circuit = {0};
    struct fw_circuit_answer answer;
    struct fw_circuit_station place;
    struct fw_circuit_volts volts;
    if (fw_plan_circuit_make(&w->plan, first_day, &circuit, &err) ||
        fw_circuit_solve(&circuit.net, &answer, &err))
        fail_msg("%s", err.text);
    assert_true(fw_plan_circuit_place(&circuit, fence, strand, at_m, &place));
    if (fw_circuit_at(&circuit.net, &answer, place, &volts, &err))
        fail_msg("%s", err.text);
    fw_circuit_answer_release(&answer);
    fw_plan_circuit_release(&circuit);
    return volts;
}

static inline struct fw_circuit_run_volts
run_of(const struct world *w, double ohm_m, double leak_ohm_km, double more_ohm)
{
    const struct fw_circuit_run run = {
        .length_m = 200,
        .ohm_m = ohm_m,
        .leakage_ohm_km = leak_ohm_km,
        .open_v = w->plan.power.open_v,
        .internal_ohm = w->plan.power.internal_ohm + more_ohm,
        .earth_ohm = w->plan.power.earth_ohm,
    };
    struct fw_circuit_run_volts volts;
    assert_int_equal(fw_circuit_run(&run, &volts, NULL), FW_OK);
    return volts;
}

static inline struct fw_plan_power_day worst_of(const struct world *w)
{
    struct fw_error err;
    struct fw_plan__solver solver = {0};
    struct fw_plan_power_day day = {.from = first_day, .to = first_day + 1};
    if (fw_plan__circuits_init(&solver.circuits, &w->plan, &w->plan.wiring,
                               &err) ||
        fw_plan__solve_day(&solver, first_day, &w->plan.power, &day, &err))
        fail_msg("%s", err.text);
    fw_plan__solver_release(&solver);
    return day;
}

/* ---- a plan of the sample farm ---- */

static inline struct fw_plan *
sample_with(const struct fw_farm_setting *settings, size_t count)
{
    const char *samples = getenv("FW_SAMPLES");
    char path[4096];
    struct fw_error err;
    struct fw_farm *farm;
    struct fw_plan *plan = NULL;
    assert_non_null(samples);
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml", samples);
    const struct fw_farm_request request = {
        .farm_path = path, .settings = settings, .setting_count = count};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    if (fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    fw_farm_free(farm);
    return plan;
}

static inline struct fw_plan *sample_plan(const char *joules)
{
    const struct fw_farm_setting setting = {"energizer.joules", joules,
                                            "--joules"};
    return sample_with(&setting, joules != NULL);
}

#endif
