/* A map says the same however it is drawn: in which order its things stand,
 * where a ring begins and which way it runs, and into how many pieces a line is
 * cut. Plans and findings of regions at random, against those of the same
 * region drawn otherwise. */
#include "make/make.h"
#include "region_farm.h"

#include <stdlib.h>
#include <string.h>

static char place[40], what[120]; /* for messages: region and way; field */

/* ---- drawn otherwise ---- */

static size_t other_way(const struct drawn *from, size_t ring, size_t i,
                        size_t shift, bool back)
{
    const size_t first = from->starts[ring];
    const size_t count = from->starts[ring + 1] - first;
    return first + (back ? 2 * count - 1 - i + shift : i + shift) % count;
}

/* Rings begin elsewhere, and half of all run the other way. */
static void turn(struct drawn *thing, enum fw_feature_kind kind, uint64_t *seed)
{
    const struct drawn from = *thing;
    for (size_t r = 0; r < from.rings; r++) {
        const size_t count = from.starts[r + 1] - from.starts[r];
        const bool area = kind == FW_FEATURE_POLYGON;
        const size_t shift = area ? draw_count(seed, 0, count - 1) : 0;
        const bool back = draw_count(seed, 0, 1);
        for (size_t i = 0; i < count; i++)
            thing->points[from.starts[r] + i] =
                from.points[other_way(&from, r, i, shift, back)];
    }
}

static void turn_all(struct region_map *map, uint64_t *seed)
{
    for (size_t l = 0; l < region_layer_count; l++)
        for (size_t i = 0; i < map->count[l]; i++)
            turn(&map->drawn[l][i], region_layers[l].kind, seed);
}

static void shuffle_all(struct region_map *map, uint64_t *seed)
{
    for (size_t l = 0; l < region_layer_count; l++)
        for (size_t i = map->count[l]; i > 1; i--) {
            const size_t k = draw_count(seed, 0, i - 1);
            const struct drawn kept = map->drawn[l][i - 1];
            const size_t number = map->number[l][i - 1];
            map->drawn[l][i - 1] = map->drawn[l][k];
            map->number[l][i - 1] = map->number[l][k];
            map->drawn[l][k] = kept;
            map->number[l][k] = number;
        }
}

/* Every line in two at one of its corners, but for those without any. */
static void cut_all(struct region_map *map, uint64_t *seed)
{
    for (size_t l = 0; l < region_layer_count; l++) {
        const size_t whole = map->count[l];
        for (size_t i = 0; i < whole; i++) {
            struct drawn *thing = &map->drawn[l][i];
            if (region_layers[l].kind != FW_FEATURE_LINE || thing->count < 3)
                continue;
            struct drawn *rest = &map->drawn[l][map->count[l]];
            const size_t at = draw_count(seed, 1, thing->count - 2);
            *rest = (struct drawn){.count = thing->count - at,
                                   .rings = 1,
                                   .starts = {0, thing->count - at}};
            memcpy(rest->points, thing->points + at,
                   rest->count * sizeof *rest->points);
            thing->count = thing->starts[1] = at + 1;
            map->number[l][map->count[l]++] = map->number[l][i];
        }
    }
}

/* ---- the same plan ---- */

/* About a pond, where it begins as the pond does. */
static bool is_closed(const struct fw_plan_fence *fence)
{
    return fence->line[0] == fence->line[fence->line_count - 1];
}

/* Its k-th one, or any. */
static bool has_corner(const struct fw_plan *plan,
                       const struct fw_plan_fence *fence, size_t k, bool any,
                       struct fw_point at)
{
    for (size_t i = any ? 0 : k; i < (any ? fence->line_count : k + 1); i++) {
        const struct fw_point here =
            plan->fields[0].vertices[fence->line[i]].plane;
        if (hypot(here.x_m - at.x_m, here.y_m - at.y_m) < 1e-6)
            return true;
    }
    return false;
}

static void same_fences(const struct fw_plan *a, const struct fw_plan *b)
{
    assert_int_equal(a->paddock_count, b->paddock_count);
    assert_int_equal(a->fence_count, b->fence_count);
    for (size_t i = 0; i < a->fence_count; i++) {
        const struct fw_plan_fence *one = &a->fences[i], *other = &b->fences[i];
        if (strcmp(one->id, other->id) != 0 ||
            one->line_count != other->line_count ||
            fabs(one->length_m - other->length_m) > 1e-6)
            fail_msg("%s: fence %s of %g m is %s of %g m", what, one->id,
                     one->length_m, other->id, other->length_m);
        for (size_t k = 0; k < one->line_count; k++)
            if (!has_corner(b, other, k, is_closed(one),
                            a->fields[0].vertices[one->line[k]].plane))
                fail_msg("%s: fence %s runs elsewhere", what, one->id);
    }
}

static void same_time(const struct fw_plan *a, const struct fw_plan *b)
{
    assert_int_equal(a->time.move_count, b->time.move_count);
    assert_int_equal(a->time.step_count, b->time.step_count);
    for (size_t i = 0; i < a->time.step_count; i++)
        assert_int_equal(a->time.steps[i].kind, b->time.steps[i].kind);
    for (size_t i = 0; i < a->time.move_count; i++)
        assert_int_equal(a->time.moves[i].day, b->time.moves[i].day);
    assert_near(a->totals.minutes_per_move, b->totals.minutes_per_move, 1e-6);
}

static size_t same_signs(const struct fw_plan *a, const struct fw_plan *b)
{
    size_t signs = 0;
    assert_int_equal(a->post_count, b->post_count);
    for (size_t i = 0; i < a->post_count; i++) {
        if (is_closed(&a->fences[a->posts[i].fence]))
            continue;
        assert_int_equal(a->posts[i].why, b->posts[i].why);
        if (fabs(a->posts[i].at_m - b->posts[i].at_m) > 1e-6)
            fail_msg("%s: post %s stands elsewhere", what, a->posts[i].id);
        signs += a->posts[i].why == FW_POST_SIGN;
    }
    return signs;
}

/* ---- the same findings ---- */

static double apart_m(const struct fw_plan_finding *a,
                      const struct fw_plan_finding *b)
{
    return hypot(a->place.plane.x_m - b->place.plane.x_m,
                 a->place.plane.y_m - b->place.plane.y_m);
}

/* What touches a thing does so in more than one place, and of several fences
 * that end at a pond rounding says which is the nearest. */
static bool touches(const struct fw_plan_finding *finding)
{
    return finding->measured && finding->distance_m < 1e-6;
}

static bool is_same(const struct fw_plan_finding *a,
                    const struct fw_plan_finding *b)
{
    if (strcmp(a->rule, b->rule) != 0 || strcmp(a->feature, b->feature) != 0 ||
        a->level != b->level || strcmp(a->text, b->text) != 0)
        return false;
    if (touches(a))
        return touches(b);
    return strcmp(a->about, b->about) == 0 &&
           fabs(a->distance_m - b->distance_m) < 1e-6 && apart_m(a, b) < 1e-3;
}

/* One for each of the other plan's, in any order. */
static void same_findings(const struct fw_plan *a, const struct fw_plan *b)
{
    bool *taken = calloc(b->finding_count + 1, sizeof *taken);
    for (size_t i = 0; i < a->finding_count; i++) {
        size_t k = 0;
        while (k < b->finding_count &&
               (taken[k] || !is_same(&a->findings[i], &b->findings[k])))
            k++;
        if (k == b->finding_count)
            fail_msg("%s: %s, %s at %g m is lost", what, a->findings[i].rule,
                     a->findings[i].about, a->findings[i].distance_m);
        taken[k] = true;
    }
    free(taken);
    assert_int_equal(a->finding_count, b->finding_count);
}

/* What is told of one thing: how near it is at least, the worst of it, and
 * whether a fence crosses it, which is measured by nothing. */
struct of_thing {
    double least_m;
    int level;
    bool crossed;
};

static struct of_thing thing_told(const struct fw_plan *plan,
                                  const char *feature)
{
    struct of_thing told = {HUGE_VAL, -1, false};
    for (size_t i = 0; i < plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &plan->findings[i];
        const int level = (int)finding->level;
        if (strcmp(finding->feature, feature) != 0)
            continue;
        told.level = level > told.level ? level : told.level;
        told.least_m = fmin(told.least_m, finding->distance_m);
        told.crossed |= !finding->measured;
    }
    return told;
}

static bool is_told_there(const struct fw_plan *plan,
                          const struct fw_plan_finding *crossing)
{
    for (size_t i = 0; i < plan->finding_count; i++)
        if (is_same(crossing, &plan->findings[i]))
            return true;
    return false;
}

/* Each piece is told by itself. What is told of the whole is told of them, no
 * farther and no milder; nothing else is, but that a piece which ends beside a
 * fence that the other one crosses is near it as well. */
static void no_less_for_its_pieces(const struct fw_plan *whole,
                                   const struct fw_plan *cut)
{
    const struct fw_plan *both[] = {whole, cut};
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 0; i < both[k]->finding_count; i++) {
            const struct fw_plan_finding *finding = &both[k]->findings[i];
            const struct of_thing one = thing_told(whole, finding->feature);
            const struct of_thing other = thing_told(cut, finding->feature);
            const bool same = other.level == one.level &&
                              fabs(other.least_m - one.least_m) < 1e-6;
            const bool more = one.crossed && other.level >= one.level &&
                              other.least_m < one.least_m + 1e-6;
            if (!same && !more)
                fail_msg("%s: %s, %s at %g m, of its pieces %g m", what,
                         finding->rule, finding->about, one.least_m,
                         other.least_m);
            if (!finding->measured && finding->place.given &&
                !is_told_there(both[1 - k], finding))
                fail_msg("%s: %s, %s is told of one alone", what, finding->rule,
                         finding->about);
        }
}

/* ---- regions ---- */

enum way { TURNED, SHUFFLED, CUT, WAYS };
static const char *const way_names[] = {"turned", "shuffled", "cut"};

static struct fw_plan *plan_of(const struct fw_farm *farm, size_t field)
{
    struct fw_farm one = *farm;
    struct fw_flock_class flock = farm->classes[0];
    struct fw_plan *plan = NULL;
    struct fw_error err;
    flock.head = head_for(farm->fields[field].shape);
    one.fields = &farm->fields[field];
    one.field_count = 1;
    one.classes = &flock;
    const enum fw_status status = fw_plan_make(&one, &plan, &err);
    if (status && status != FW_EPLAN)
        fail_msg("%s: %s", farm->fields[field].shape->name, err.text);
    return plan;
}

static const char *name_of(const struct fw_farm *farm, size_t field)
{
    return farm->fields[field].shape->name;
}

/* That of the other farm; what a field falls into has its name, the greatest
 * first. */
static size_t same_field(const struct fw_farm *farm, size_t field,
                         const struct fw_farm *other)
{
    size_t before = 0;
    for (size_t i = 0; i < field; i++)
        before += strcmp(name_of(farm, i), name_of(farm, field)) == 0;
    for (size_t i = 0; i < other->field_count; i++)
        if (strcmp(name_of(other, i), name_of(farm, field)) == 0 &&
            before-- == 0)
            return i;
    fail_msg("%s has no %s", place, name_of(farm, field));
    return 0;
}

struct seen {
    size_t plans, findings, signs;
};

static void compare(const struct fw_farm *as_drawn,
                    const struct fw_farm *otherwise, enum way way,
                    struct seen *seen)
{
    assert_int_equal(as_drawn->field_count, otherwise->field_count);
    for (size_t i = 0; i < as_drawn->field_count; i++) {
        const size_t k = same_field(as_drawn, i, otherwise);
        snprintf(what, sizeof what, "%s, %.40s", place, name_of(as_drawn, i));
        struct fw_plan *a = plan_of(as_drawn, i);
        struct fw_plan *b = plan_of(otherwise, k);
        assert_int_equal(!a, !b);
        if (a) {
            same_fences(a, b);
            same_time(a, b);
            seen->signs += same_signs(a, b);
            if (way == CUT) {
                no_less_for_its_pieces(a, b);
            } else {
                same_findings(a, b);
            }
            seen->plans++;
            seen->findings += a->finding_count;
        }
        fw_plan_free(a);
        fw_plan_free(b);
    }
}

static void a_map_says_the_same_however_it_is_drawn(void **state)
{
    enum { regions = 2 };
    static struct region_map map, other;
    uint64_t seed = seeded(24);
    struct seen seen = {0};
    for (int i = 0; i < regions; i++) {
        const char *path = in_scratch(*state, "region.gpkg");
        draw_region(&map, &seed);
        put_region_map(path, &map);
        struct fw_farm *as_drawn = read_region(*state, path, false);
        for (int way = 0; way < WAYS; way++) {
            const char *again = in_scratch(*state, "other.gpkg");
            other = map;
            if (way == TURNED)
                turn_all(&other, &seed);
            else if (way == SHUFFLED)
                shuffle_all(&other, &seed);
            else
                cut_all(&other, &seed);
            put_region_map(again, &other);
            struct fw_farm *otherwise =
                read_region(*state, again, way == SHUFFLED);
            snprintf(place, sizeof place, "region %d %s", i, way_names[way]);
            compare(as_drawn, otherwise, (enum way)way, &seen);
            fw_farm_free(otherwise);
        }
        fw_farm_free(as_drawn);
    }
    print_message("# %zu plans, %zu findings, %zu signs\n", seen.plans,
                  seen.findings, seen.signs);
    assert_true(seen.plans >= 2 * WAYS * (region_fields - 1));
    assert_true(seen.findings > 200);
    assert_true(seen.signs > 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(a_map_says_the_same_however_it_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
