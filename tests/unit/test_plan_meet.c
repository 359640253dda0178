/* Both sides of where things meet: pieces of one power line, a path and a gate,
 * and what of a line is near enough. On a field of 300 by 200 m. */
#include "plan_help.h"

#include "safety/safety.h"

static struct fw_farm *farm_with_sides(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->classes[0].head = 240;
    farm->layout = fw_strdup("strips");
    farm->direction_given = true; /* fences run north and south */
    for (size_t i = 0; i < 4; i++)
        farm->fields[0].sides[i] =
            (struct fw_farm_side){FW_HOLDS_LAMBS, FW_YES};
    return farm;
}

static size_t told(const struct fw_plan *plan, const char *rule,
                   enum fw_level level)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += !strcmp(plan->findings[i].rule, rule) &&
                 plan->findings[i].level == level;
    return count;
}

/* ---- one power line in pieces ---- */

struct pieces {
    double gap_x, gap_y; /* from the end of one to the beginning of the next */
    double kv[2];        /* in turn */
    const char *names[2];
    size_t wanted; /* lines of which so much is beside the field */
};

/* Five pieces of 58 m, 30 m south of a side of 300 m: none alone is long enough
 * for what a line of 110 kV puts on a fence. */
static size_t beside(const struct pieces *pieces)
{
    struct fw_farm *farm = farm_with_sides();
    for (size_t i = 0; i < 5; i++) {
        const double x = (58 + pieces->gap_x) * (double)i;
        const double y = -30 - pieces->gap_y * (double)i;
        const double xy[2][2] = {{x, y}, {x + 58, y}};
        add_feature(farm, FW_ROLE_POWER_LINE, false, xy, 2);
        farm->features[i].kv = pieces->kv[i % 2];
        if (pieces->names[i % 2])
            farm->features[i].name = fw_strdup(pieces->names[i % 2]);
    }
    struct fw_plan *plan = plan_of(farm);
    size_t count = 0;
    for (size_t i = 0; i < plan->finding_count; i++)
        count += strcmp(plan->findings[i].rule, "power-line-beside-high") == 0;
    fw_plan_free(plan);
    fw_farm_free(farm);
    return count;
}

static void pieces_that_meet_are_one_line(void **state)
{
    (void)state;
    static const struct pieces rows[] = {
        {0, 0, {110, 110}, {NULL, NULL}, 1},
        {0.95, 0, {110, 110}, {NULL, NULL}, 1},
        {1.05, 0, {110, 110}, {NULL, NULL}, 0},
        {0, 0.95, {110, 110}, {NULL, NULL}, 1},
        {0, 1.05, {110, 110}, {NULL, NULL}, 0},
        {0.6, 0.6, {110, 110}, {NULL, NULL}, 1},
        {0.8, 0.8, {110, 110}, {NULL, NULL}, 0},
        {0, 0, {110, 220}, {NULL, NULL}, 0},
        {0, 0, {-1, 0}, {NULL, NULL}, 1}, /* nobody knows either */
        {0, 0, {-1, 110}, {NULL, NULL}, 0},
        {1.8, 0, {110, 110}, {"North", "North"}, 1},
        {1.8, 0, {110, 110}, {"North", "South"}, 2}, /* 174 and 116 m */
        {0, 0, {110, 110}, {"", ""}, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (beside(&rows[i]) != rows[i].wanted)
            fail_msg("row %zu: %zu lines", i, beside(&rows[i]));
}

/* ---- a gate where a path crosses ---- */

/* A path through the western and the eastern side at 80 m; 5 m are near. */
static void a_gate_within_five_metres_takes_the_danger(void **state)
{
    (void)state;
    static const struct {
        double x, y;
        bool own;
        size_t notes;
    } rows[] = {
        {0, 84.9, false, 1}, {0, 85.1, false, 0},    {0, 75.1, true, 1},
        {0, 74.9, true, 0},  {-3.5, 83.5, false, 1}, {-3.6, 83.6, false, 0},
        {300, 80, false, 1}, {300, 80, true, 1},     {150, 80, true, 0},
    };
    const double path[2][2] = {{-50, 80}, {350, 80}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_farm *farm = farm_with_sides();
        const double at[1][2] = {{rows[i].x, rows[i].y}};
        add_feature(farm, FW_ROLE_PATH, false, path, 2);
        if (rows[i].own) {
            put_spot(farm->fields[0].shape, &farm->fields[0].gate, rows[i].x,
                     rows[i].y);
        } else {
            add_feature(farm, FW_ROLE_GATE, false, at, 1);
            farm->features[1].kind = FW_FEATURE_POINT;
        }
        struct fw_plan *plan = plan_of(farm);
        size_t moved = 0, near = 0;
        for (size_t f = 0; f < plan->fence_count; f++) {
            const struct fw_plan_fence *fence = &plan->fences[f];
            moved += fence->role == FW_FENCE_MOVED;
            if (fence->role != FW_FENCE_MOVED || rows[i].x < 1 ||
                rows[i].x > 299)
                continue;
            const double x =
                plan->fields[0].vertices[fence->line[0]].plane.x_m -
                plan->fields[0].vertices[0].plane.x_m;
            near += fabs(x - rows[i].x) <= 5;
        }
        assert_int_equal(told(plan, "path-cross", FW_LEVEL_NOTE),
                         rows[i].notes + near);
        assert_int_equal(told(plan, "path-cross", FW_LEVEL_DANGER),
                         2 + moved - rows[i].notes - near);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Through a corner: two sides end there, and it is crossed once. */
static void a_corner_is_crossed_once(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_with_sides();
    const double path[2][2] = {{-50, -50}, {50, 50}};
    add_feature(farm, FW_ROLE_PATH, false, path, 2);
    struct fw_plan *plan = plan_of(farm);
    const struct fw_point corner_at = plan->fields[0].vertices[0].plane;
    size_t there = 0;
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_point at = plan->findings[i].place.plane;
        there += !strcmp(plan->findings[i].rule, "path-cross") &&
                 hypot(at.x_m - corner_at.x_m, at.y_m - corner_at.y_m) < 0.5;
    }
    assert_int_equal(there, 1);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_that_meet_are_one_line),
        cmocka_unit_test(a_gate_within_five_metres_takes_the_danger),
        cmocka_unit_test(a_corner_is_crossed_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
