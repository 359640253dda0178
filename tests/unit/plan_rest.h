/* Is a plan that goes on from another one that one's own rest, move by move?
 * What stands is told by its steps, counted here with a list and no more. */
#ifndef FW_PLAN_REST_H
#define FW_PLAN_REST_H

#include "test.h"

#include "plan/plan.h"

#include <stdbool.h>
#include <string.h>

/* Which farm, which fence. */
static char what[4096];

#define assert_same(yes)                                                       \
    do {                                                                       \
        if (!(yes))                                                            \
            fail_msg("not " #yes ":\n%s", what);                               \
    } while (0)

static inline void same_lines(const struct fw_plan *a, const struct fw_list *p,
                              const struct fw_plan *b, const struct fw_list *q)
{
    assert_same(p->count == q->count);
    for (size_t i = 0; i < p->count; i++)
        assert_same(!strcmp(a->fences[a->time.items[p->first + i]].id,
                            b->fences[b->time.items[q->first + i]].id));
}

static inline void same_opening(const struct fw_plan *a, size_t p,
                                const struct fw_plan *b, size_t q)
{
    assert_same((p == FW_NONE) == (q == FW_NONE));
    if (p == FW_NONE)
        return;
    const struct fw_plan_gate *x = &a->gates[p], *y = &b->gates[q];
    assert_same((x->fence == FW_NONE) == (y->fence == FW_NONE));
    if (x->fence == FW_NONE)
        return;
    assert_same(!strcmp(a->fences[x->fence].id, b->fences[y->fence].id));
    assert_same(x->where == y->where);
    assert_near(x->at_m, y->at_m, 1e-6);
    assert_near(x->width_m, y->width_m, 1e-6);
}

static inline void same_step(const struct fw_plan *a, const struct fw_step *x,
                             const struct fw_plan *b, const struct fw_step *y)
{
    assert_same(x->kind == y->kind);
    same_opening(a, x->opening, b, y->opening);
    same_lines(a, &x->lines, b, &y->lines);
    same_lines(a, &x->dead, b, &y->dead);
    assert_same(x->cells.count == y->cells.count);
    assert_near(x->over_m, y->over_m, 1e-6);
}

static inline const char *name_of(const struct fw_plan *plan, size_t paddock)
{
    return paddock == FW_NONE ? "" : plan->paddocks[paddock].id;
}

static inline void same_move(const struct fw_plan *a, size_t m,
                             const struct fw_plan *b, size_t n)
{
    const struct fw_move *x = &a->time.moves[m], *y = &b->time.moves[n];
    assert_same(x->day == y->day);
    assert_same(!strcmp(name_of(a, fw_plan_move_from(a, m)),
                        name_of(b, fw_plan_move_from(b, n))));
    assert_same(!strcmp(name_of(a, fw_plan_move_to(a, m)),
                        name_of(b, fw_plan_move_to(b, n))));
    assert_same(x->steps.count == y->steps.count);
    for (size_t i = 0; i < x->steps.count; i++)
        same_step(a, &a->time.steps[x->steps.first + i], b,
                  &b->time.steps[y->steps.first + i]);
    same_opening(a, x->opening, b, y->opening);
    assert_same(x->ahead == y->ahead);
    assert_same(x->carries == y->carries);
    assert_same((x->later == FW_NONE) == (y->later == FW_NONE));
    assert_near(x->minutes, y->minutes, 1e-6);
}

/* What stands after a move: set and not taken down since. */
static inline bool stands_after(const struct fw_plan *plan, size_t fence,
                                size_t move)
{
    bool stands = plan->fences[fence].stood;
    const struct fw_list *last = &plan->time.moves[move].steps;
    for (size_t i = 0; i < last->first + last->count; i++) {
        const struct fw_step *step = &plan->time.steps[i];
        for (size_t k = 0; k < step->lines.count; k++)
            if (plan->time.items[step->lines.first + k] == fence)
                stands = step->kind == FW_STEP_SET         ? true
                         : step->kind == FW_STEP_TAKE_DOWN ? false
                                                           : stands;
    }
    return stands;
}

static inline void same_ground(const struct fw_plan *a, const struct fw_plan *b)
{
    assert_same(a->paddock_count == b->paddock_count);
    assert_same(a->fence_count == b->fence_count);
    assert_same(a->lane_count == b->lane_count);
    for (size_t i = 0; i < a->paddock_count; i++) {
        assert_same(!strcmp(a->paddocks[i].id, b->paddocks[i].id));
        assert_same(!strcmp(a->paddocks[i].block, b->paddocks[i].block));
        assert_true(a->paddocks[i].plane_m2 == b->paddocks[i].plane_m2);
    }
    for (size_t i = 0; i < a->fence_count; i++) {
        assert_same(!strcmp(a->fences[i].id, b->fences[i].id));
        assert_near(a->fences[i].length_m, b->fences[i].length_m, 1e-9);
    }
}

static inline void compare_rest(const struct fw_plan *before, size_t move,
                                const struct fw_plan *rest)
{
    const size_t done = move + 1;
    same_ground(before, rest);
    assert_same(rest->time.move_count + done == before->time.move_count);
    assert_same(rest->end_day == before->end_day);
    for (size_t i = 0; i < rest->fence_count; i++)
        assert_same(rest->fences[i].stood == stands_after(before, i, move));
    for (size_t m = 0; m < rest->time.move_count; m++)
        same_move(before, m + done, rest, m);
    for (size_t i = 0; i < rest->time.stay_count; i++)
        assert_near(rest->time.stays[i].target_kg,
                    before->time.stays[i + done].target_kg, 1e-6);
}

#endif
