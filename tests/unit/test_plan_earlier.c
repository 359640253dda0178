/* Plans that go on from a fence of a plan made before, by its name. What stands
 * then is told by the steps of that plan, counted here with a list and no more;
 * what comes is that plan's own rest, where nothing has changed. */
#include "farm_help.h"

#include <foldwright/plan.h>

/* 200 m by 100 m, and an L of 2 ha. */
#define RECTANGLE                                                              \
    "[[9.0,51.0],[9.0028501,51.0],[9.0028501,51.0008988],[9.0,51.0008988],"    \
    "[9.0,51.0]]"
#define ELL                                                                    \
    "[[9.0,51.0],[9.0028501,51.0],[9.0028501,51.0006],[9.0014,51.00065],"      \
    "[9.0013,51.0018],[9.0,51.0018],[9.0,51.0]]"

#define GRASS "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha, use: 0.75}\n"
#define FLOCK(head, state)                                                     \
    "flock: [{head: " head ", weight: 68 kg, state: " state ", trained: "      \
    "yes}]\n"
#define REST                                                                   \
    "perimeter: {holds: lambs, hot: yes}\n"                                    \
    "gate: corner:4\nwater: side:4@20m\n"

static struct fw_plan *plan_from(const struct fw_farm_request *request,
                                 struct fw_error *err)
{
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    if (!fw_farm_read(request, &farm, NULL, NULL, err) &&
        fw_plan_make(farm, &plan, err))
        plan = NULL;
    fw_farm_free(farm);
    return plan;
}

static struct fw_plan *plan_of_text(const char *text, struct fw_error *err)
{
    const struct fw_farm_request request = {.farm_path = "farm.yaml"};
    put_text("farm.yaml", text);
    return plan_from(&request, err);
}

static struct fw_plan *good_plan(const char *text)
{
    struct fw_error err = {0};
    struct fw_plan *plan = plan_of_text(text, &err);
    if (!plan)
        fail_msg("%s\nsaid of:\n%s", err.text, text);
    return plan;
}

/* The farm with more keys at its beginning. */
__attribute__((format(printf, 2, 3))) static const char *
with(const char *farm, const char *format, ...)
{
    static char room[8192];
    va_list args;
    va_start(args, format);
    const int length = vsnprintf(room, sizeof room / 2, format, args);
    va_end(args);
    snprintf(room + length, sizeof room - (size_t)length, "%s", farm);
    return room;
}

static void save(const struct fw_plan *plan, const char *path)
{
    char *bytes;
    size_t count;
    assert_int_equal(fw_plan_json_write(plan, NULL, 0, &bytes, &count, NULL),
                     FW_OK);
    assert_int_equal(fw_file_put(path, bytes, count, NULL), FW_OK);
    fw_file_free(bytes);
}

static const char *date(int day)
{
    static char text[FW_DATE_TEXT];
    return fw_date_write(day, text);
}

/* ---- move by move ---- */

/* Which farm, which fence. */
static char what[4096];

#define assert_same(yes)                                                       \
    do {                                                                       \
        if (!(yes))                                                            \
            fail_msg("not " #yes ":\n%s", what);                               \
    } while (0)

static void same_lines(const struct fw_plan *a, const struct fw_list *p,
                       const struct fw_plan *b, const struct fw_list *q)
{
    assert_same(p->count == q->count);
    for (size_t i = 0; i < p->count; i++)
        assert_same(!strcmp(a->fences[a->time.items[p->first + i]].id,
                            b->fences[b->time.items[q->first + i]].id));
}

static void same_opening(const struct fw_plan *a, size_t p,
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

static void same_step(const struct fw_plan *a, const struct fw_step *x,
                      const struct fw_plan *b, const struct fw_step *y)
{
    assert_same(x->kind == y->kind);
    same_opening(a, x->opening, b, y->opening);
    same_lines(a, &x->lines, b, &y->lines);
    same_lines(a, &x->dead, b, &y->dead);
    assert_same(x->cells.count == y->cells.count);
    assert_near(x->over_m, y->over_m, 1e-6);
}

static const char *name_of(const struct fw_plan *plan, size_t paddock)
{
    return paddock == FW_NONE ? "" : plan->paddocks[paddock].id;
}

static void same_move(const struct fw_plan *a, size_t m,
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
static bool stands_after(const struct fw_plan *plan, size_t fence, size_t move)
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

static void same_ground(const struct fw_plan *a, const struct fw_plan *b)
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

static void compare_rest(const struct fw_plan *before, size_t move,
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

/* From every fence that goes with the flock. How many there are. */
static size_t go_on_everywhere(const char *farm)
{
    struct fw_plan *before = good_plan(with(farm, "start: 2027-06-07\n"));
    size_t count = 0;
    save(before, "before.json");
    for (size_t i = 0; i < before->fence_count; i++) {
        const struct fw_plan_fence *fence = &before->fences[i];
        if (fence->role != FW_FENCE_MOVED)
            continue;
        const size_t move = fence->from; /* of one field: its stay, its move */
        assert_int_equal(fw_plan_move_to(before, move), fence->from);
        snprintf(what, sizeof what, "%s%s", farm, fence->id);
        struct fw_plan *rest =
            good_plan(with(farm, "start: %s\nearlier: before.json\nfront: %s\n",
                           date(before->time.moves[move + 1].day), fence->id));
        compare_rest(before, move, rest);
        fw_plan_free(rest);
        count++;
    }
    fw_plan_free(before);
    return count;
}

#define FARM(layout, head, state, rest)                                        \
    GRASS FLOCK(head, state) REST                                              \
        "fields: {source: field.geojson}\nlayout: " layout "\n" rest

static void rest_of_a_plan_is_its_own_rest(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "lane", "turning",
                                          "wedges"};
    static const char *const habits[] = {
        "work: {order: leapfrog}\nback-fence: yes\n",
        "work: {order: leapfrog}\nback-fence: no\n",
        "work: {order: set-first}\nback-fence: yes\n",
        "work: {order: set-first}\nback-fence: no\n",
        "work: {order: leapfrog}\nback-fence: yes\n"
        "hauling: {trough-moves: no}\n",
        "work: {order: leapfrog}\nback-fence: no\n"
        "hauling: {trough-moves: no}\nblock-lines: all\n",
        "work: {order: leapfrog}\nback-fence: yes\n"
        "stay: {mon-wed: 3 days, thu-sun: 4 days}\n",
    };
    static const char *const rings[] = {RECTANGLE, ELL};
    size_t count = 0;
    for (size_t r = 0; r < 2; r++) {
        char map[1024];
        snprintf(map, sizeof map,
                 COLLECTION(FEATURE("Foreland", POLYGON("%s"))), rings[r]);
        put_text("field.geojson", map);
        for (size_t l = 0; l < sizeof layouts / sizeof *layouts; l++)
            for (size_t h = 0; h < sizeof habits / sizeof *habits; h++) {
                char farm[2048];
                struct fw_error err = {0};
                snprintf(farm, sizeof farm, FARM("%s", "150", "dry", "%s"),
                         layouts[l], habits[h]);
                struct fw_plan *plan =
                    plan_of_text(with(farm, "start: 2027-06-07\n"), &err);
                if (!plan) /* not every pattern fits every field */
                    continue;
                fw_plan_free(plan);
                count += go_on_everywhere(farm);
            }
    }
    assert_true(count > 300);
}

static void young_lambs_are_waited_for_as_before(void **state)
{
    (void)state;
    put_text("field.geojson",
             COLLECTION(FEATURE("Foreland", POLYGON(RECTANGLE))));
    assert_true(go_on_everywhere(FARM(
                    "strips", "60", "lactation-twins",
                    "lambing: {from: 2027-06-05, to: 2027-06-10, way: drift}\n"
                    "back-fence: yes\n")) > 3);
    assert_true(go_on_everywhere(FARM(
                    "blocks", "60", "lactation-twins",
                    "lambing: {from: 2027-06-05, to: 2027-06-10, way: daily}\n"
                    "back-fence: no\n")) > 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rest_of_a_plan_is_its_own_rest),
        cmocka_unit_test(young_lambs_are_waited_for_as_before),
    };
    return cmocka_run_group_tests(tests, farm_set_up, farm_tear_down);
}
