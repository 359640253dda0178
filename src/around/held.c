/* Where only moved lines, or nothing, stands between the flock and what it
 * must not reach. The rule is told in docs/guide/safety.md. */
#include "around/around.h"
#include "around/nights.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Nearer than this the way to a thing touches a side. */
static const double touching_m = FW_TOLERANCE(0.001);

static const struct fw_safety_rule *rule_of(const struct fw_plan__thing *thing,
                                            enum fw_check check)
{
    size_t count;
    const struct fw_safety_rule *rules = fw_safety_rules(&count);
    for (size_t i = 0; i < count; i++)
        if (rules[i].check == check &&
            fw_safety_covers(&rules[i], thing->feature->role,
                             thing->feature->kv, thing->drawn))
            return &rules[i];
    return NULL;
}

/* What a part of the boundary that does not hold this flock is, from the least
 * bad on. Only of the last one may it be said that nothing stands there. */
enum open { HELD, NO_LAMBS, UNTOLD, LIVE_ONLY, NOTHING };

static enum open open_of(const struct fw_plan__around *around,
                         const struct fw_plan_fence *fence)
{
    const struct fw_plan *plan = around->job->plan;
    const struct fw_plan_field *field = &plan->fields[around->field];
    const bool edge = fence->side == FW_NONE;
    const enum fw_holds told =
        edge ? field->hole_holds : field->sides[fence->side].holds;
    const bool hot = !edge && field->sides[fence->side].hot == FW_YES;
    switch (told) {
    case FW_HOLDS_LAMBS:
        return HELD;
    case FW_HOLDS_SHEEP:
        return fw_flock_lambs(plan->classes, plan->class_count) ? NO_LAMBS
                                                                : HELD;
    case FW_HOLDS_NOTHING:
        return hot ? LIVE_ONLY : NOTHING;
    case FW_HOLDS_UNTOLD:
        break;
    }
    return UNTOLD;
}

static bool holds(const struct fw_plan__around *around,
                  const struct fw_plan_fence *fence)
{
    return open_of(around, fence) == HELD;
}

static const struct fw_plan_fence *fence_of(const struct fw_plan__around *of,
                                            const struct fw_plan__line *line)
{
    return &of->job->plan->fences[line->fence];
}

/* ---- nights, as ranges of days ---- */

struct nights {
    unsigned char *worst; /* one a night of the field: enum open, of all that
                             they lie against; of a line only whether they do */
    int first, count;
};

static enum fw_status nights_init(struct nights *nights,
                                  const struct fw_plan *plan,
                                  const struct fw_plan_field *field,
                                  struct fw_error *err)
{
    const struct fw_nights all =
        fw_plan_nights_of(plan, (size_t)(field - plan->fields));
    *nights = (struct nights){.first = all.from, .count = all.to - all.from};
    nights->worst = fw_alloc((size_t)(nights->count > 0 ? nights->count : 0),
                             sizeof *nights->worst);
    return nights->worst ? FW_OK : fw_fail_memory(err);
}

static void set_nights(struct nights *nights, const struct fw_plan__spans *of,
                       size_t which, enum open open)
{
    size_t count;
    const struct fw_plan__span *spans = fw_plan__spans_of(of, which, &count);
    for (size_t i = 0; i < count; i++)
        for (int day = spans[i].nights.from; day < spans[i].nights.to; day++)
            if (day >= nights->first && day < nights->first + nights->count &&
                nights->worst[day - nights->first] < open)
                nights->worst[day - nights->first] = (unsigned char)open;
}

/* Nights as bad as that, or worse. */
static int night_count(const struct nights *nights, enum open least)
{
    int count = 0;
    for (int i = 0; i < nights->count; i++)
        count += nights->worst[i] >= least;
    return count;
}

/* "2027-05-17 to 2027-05-20, 2027-05-24", and what is beyond three ranges by
 * its number. */
static void tell_nights(struct fw_text *text, const struct nights *nights,
                        enum open least)
{
    enum { most_ranges = FW_EFFORT(3) };
    int ranges = 0, left = night_count(nights, least);
    for (int i = 0; i < nights->count && ranges < most_ranges; i++) {
        char from[FW_DATE_TEXT], to[FW_DATE_TEXT];
        if (nights->worst[i] < least)
            continue;
        const int start = i;
        while (i + 1 < nights->count && nights->worst[i + 1] >= least)
            i++;
        fw_text_addf(text, "%s%s", ranges++ ? ", " : "",
                     fw_date_write(nights->first + start, from));
        if (i > start)
            fw_text_addf(text, " to %s", fw_date_write(nights->first + i, to));
        left -= i - start + 1;
    }
    if (left > 0)
        fw_text_addf(text, " and %d more", left);
}

/* ---- open sides ---- */

/* Does a piece of that paddock's edge lie on the open line, within reach of
 * the thing? */
static bool lies_open(const struct fw_plan__around *around,
                      const struct fw_plan__thing *thing,
                      const struct fw_plan__line *line,
                      const struct fw_plan_rings *rings, double reach_m)
{
    const struct fw_plan_fence *fence = fence_of(around, line);
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const size_t a = rings->vertices[first + i];
            const size_t b = rings->vertices[first + (i + 1) % count];
            for (size_t k = 1; k < fence->line_count; k++) {
                const size_t c = fence->line[k - 1], d = fence->line[k];
                if (!((a == c && b == d) || (a == d && b == c)))
                    continue;
                if (fw_safety_shape_distance_m(&line->points[k - 1], 2,
                                               &thing->shape, NULL) <= reach_m)
                    return true;
            }
        }
    }
    return false;
}

/* In paddocks and in lanes: where the flock is at night, it can lie against
 * an open side. A field's lanes are the first of what its cells share. */
static void open_nights(const struct fw_plan__around *around,
                        const struct fw_plan__thing *thing,
                        const struct fw_plan__line *line, double reach_m,
                        struct nights *nights)
{
    const struct fw_plan_job *job = around->job;
    const struct fw_plan *plan = job->plan;
    const struct fw_land_field *field = &job->land.fields[around->field];
    const enum open open = open_of(around, fence_of(around, line));
    for (size_t i = 0; i < field->paddock_count; i++) {
        const size_t cell = field->first_paddock + i;
        if (lies_open(around, thing, line, &plan->paddocks[cell].rings,
                      reach_m))
            set_nights(nights, job->cell_nights, cell, open);
    }
    size_t cell = field->first_common;
    for (size_t i = 0; i < plan->lane_count; i++) {
        if (plan->lanes[i].field != around->field)
            continue;
        if (lies_open(around, thing, line, &plan->lanes[i].rings, reach_m))
            set_nights(nights, job->cell_nights, cell, open);
        cell++;
    }
}

struct open_side {
    size_t fence;
    double distance_m;
    struct fw_point where;
};

/* "nothing at all on the nights of ...", where nothing stands; else what does,
 * the worst of it. */
static void tell_open_nights(struct fw_text *text, const struct nights *nights)
{
    static const char *const sides[] = {
        [NO_LAMBS] = "a side that holds sheep but no lambs",
        [UNTOLD] = "a side of which nobody has said what it holds",
        [LIVE_ONLY] = "a side that is live and holds nothing",
    };
    const int bare = night_count(nights, NOTHING);
    enum open worst = NO_LAMBS;
    for (int i = 0; i < nights->count; i++)
        if (nights->worst[i] > worst && nights->worst[i] < NOTHING)
            worst = (enum open)nights->worst[i];
    if (bare) {
        fw_text_add(text, "nothing at all on the nights of ");
        tell_nights(text, nights, NOTHING);
    }
    if (night_count(nights, NO_LAMBS) == bare)
        return;
    fw_text_addf(text, "%sonly %s on ", bare ? ", " : "", sides[worst]);
    if (bare)
        fw_text_add(text, "some others");
    else {
        fw_text_add(text, "the nights of ");
        tell_nights(text, nights, NO_LAMBS);
    }
}

static enum fw_status
tell_open(struct fw_plan__around *around, const struct fw_plan__thing *thing,
          const struct fw_safety_rule *rule, const struct open_side *side,
          const struct nights *nights, struct fw_error *err)
{
    struct fw_text text = {0};
    const int open = night_count(nights, NO_LAMBS);
    fw_text_addf(&text, "nothing known to hold this flock parts it from %s: ",
                 rule->text);
    tell_open_nights(&text, nights);
    if (open < nights->count) {
        char from[FW_DATE_TEXT], to[FW_DATE_TEXT];
        fw_text_addf(&text, "%sonly moved lines on %s nights of %s to %s",
                     open ? ", " : "", open ? "the other" : "all",
                     fw_date_write(nights->first, from),
                     fw_date_write(nights->first + nights->count - 1, to));
    }
    enum fw_status status = fw_text_done(&text, err);
    const struct fw_plan__found found = {
        .rule = rule,
        .thing = thing,
        .fence = side->fence,
        .where = &side->where,
        .distance_m = side->distance_m,
        .wanted_m = rule->check == FW_CHECK_BORDER ? -1 : rule->wanted_m,
        .level = rule->level,
        .text = text.bytes,
    };
    if (!status)
        status = fw_plan__find(around, &found, err);
    fw_text_release(&text);
    return status;
}

/* The nearest open side within reach of the thing, and the nights on which the
 * flock lies against any. */
static struct open_side look_open(const struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  double reach_m, struct nights *nights)
{
    struct open_side nearest = {FW_NONE, (double)INFINITY, {0, 0}};
    for (size_t i = 0; i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        struct fw_point where = {0, 0};
        if (fence_of(around, line)->role != FW_FENCE_PERIMETER ||
            holds(around, fence_of(around, line)) ||
            fw_plan__gap_m(&line->box, &thing->box) > reach_m)
            continue;
        const double distance_m = fw_safety_shape_distance_m(
            line->points, line->count, &thing->shape, &where);
        if (distance_m > reach_m)
            continue;
        open_nights(around, thing, line, reach_m, nights);
        if (distance_m < nearest.distance_m)
            nearest = (struct open_side){line->fence, distance_m, where};
    }
    return nearest;
}

static enum fw_status open_sides(struct fw_plan__around *around,
                                 const struct fw_plan__thing *thing,
                                 const struct fw_safety_rule *rule, bool *any,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = around->job->plan;
    struct nights nights;
    enum fw_status status =
        nights_init(&nights, plan, &plan->fields[around->field], err);
    if (status)
        return status;
    const struct open_side nearest =
        look_open(around, thing, rule->wanted_m, &nights);
    *any = nearest.fence != FW_NONE;
    if (*any)
        status = tell_open(around, thing, rule, &nearest, &nights, err);
    fw_free(nights.worst);
    return status;
}

/* ---- moved lines near a thing inside the boundary ---- */

/* Does a side that holds stand on the way from there to the thing? */
static bool is_held(const struct fw_plan__around *around,
                    const struct fw_plan__thing *thing, struct fw_point from)
{
    const struct fw_point way[2] = {
        from, fw_safety_shape_nearest(&thing->shape, from)};
    for (size_t i = 0; i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        if (fence_of(around, line)->role == FW_FENCE_PERIMETER &&
            holds(around, fence_of(around, line)) &&
            fw_safety_distance_m(way, 2, false, line->points, line->count,
                                 false, NULL) <= touching_m)
            return true;
    }
    return false;
}

/* A line is looked at in the middle of each part within reach: its very end
 * stands on the boundary, whatever that is. */
static enum fw_status first_unheld(const struct fw_plan__around *around,
                                   const struct fw_plan__thing *thing,
                                   const struct fw_plan__line *line,
                                   double reach_m, bool *unheld,
                                   struct fw_error *err)
{
    struct fw_stretches parts = {0};
    const enum fw_status status = fw_stretches_find(
        line->points, line->count, &thing->shape, reach_m, 90, &parts, err);
    fw_stretches_join(&parts, 0);
    *unheld = false;
    for (size_t i = 0; !status && i < parts.count && !*unheld; i++)
        *unheld = !is_held(
            around, thing,
            fw_safety_along(line->points, line->count,
                            (parts.items[i].from_m + parts.items[i].to_m) / 2));
    fw_stretches_release(&parts);
    return status;
}

static enum fw_status tell_line(struct fw_plan__around *around,
                                const struct fw_plan__thing *thing,
                                const struct fw_safety_rule *rule,
                                const struct fw_plan__line *line,
                                struct fw_error *err)
{
    const struct fw_plan *plan = around->job->plan;
    struct nights nights;
    enum fw_status status =
        nights_init(&nights, plan, &plan->fields[around->field], err);
    if (status)
        return status;
    set_nights(&nights, around->job->line_nights, line->fence, NOTHING);
    struct fw_text text = {0};
    fw_text_addf(&text,
                 "this line alone stands between the flock and %s on the "
                 "nights of ",
                 rule->text);
    tell_nights(&text, &nights, NOTHING);
    status = fw_text_done(&text, err);
    struct fw_point where = {0, 0};
    const struct fw_plan__found found = {
        .rule = rule,
        .thing = thing,
        .fence = line->fence,
        .where = &where,
        .distance_m = fw_safety_shape_distance_m(line->points, line->count,
                                                 &thing->shape, &where),
        .wanted_m = rule->wanted_m,
        .level = rule->level,
        .text = text.bytes,
    };
    if (!status && night_count(&nights, NOTHING))
        status = fw_plan__find(around, &found, err);
    fw_text_release(&text);
    fw_free(nights.worst);
    return status;
}

enum fw_status fw_plan__held(struct fw_plan__around *around,
                             const struct fw_plan__thing *thing,
                             struct fw_error *err)
{
    const struct fw_safety_rule *rule = rule_of(thing, FW_CHECK_HELD);
    const struct fw_plan *plan = around->job->plan;
    bool open = false;
    if (!rule || plan->fields[around->field].paddock_count == 0)
        return FW_OK;
    enum fw_status status = open_sides(around, thing, rule, &open, err);
    for (size_t i = 0; !status && !open && i < around->line_count; i++) {
        const struct fw_plan__line *line = &around->lines[i];
        bool unheld = false;
        if (fence_of(around, line)->role == FW_FENCE_PERIMETER ||
            fw_plan__gap_m(&line->box, &thing->box) > rule->wanted_m)
            continue;
        status =
            first_unheld(around, thing, line, rule->wanted_m, &unheld, err);
        if (!status && unheld)
            status = tell_line(around, thing, rule, line, err);
    }
    return status;
}

/* ---- ground that is not grazed ---- */

/* The edge of a setback is a little inside its circles. */
static double border_m(const struct fw_farm_feature *feature)
{
    const double slack_m = 1;
    return slack_m + fmax(0, feature->setback_m) +
           fmax(0, feature->width_m) / 2;
}

/* All of it that an open edge borders on. */
struct bordered {
    size_t feature, count; /* the nearest, and how many */
    struct open_side side;
    struct nights nights;
};

static enum fw_status look_at_ground(const struct fw_plan__around *around,
                                     size_t index, struct bordered *all,
                                     struct fw_error *err)
{
    const struct fw_farm_feature *feature = &around->job->farm->features[index];
    struct fw_plan__thing thing = {0};
    struct open_side side = {.fence = FW_NONE};
    const enum fw_status status =
        fw_plan__thing_init(&thing, around, feature, err);
    if (!status)
        side = look_open(around, &thing, border_m(feature), &all->nights);
    fw_plan__thing_release(&thing);
    all->count += side.fence != FW_NONE;
    if (side.fence != FW_NONE && side.distance_m < all->side.distance_m) {
        all->side = side;
        all->feature = index;
    }
    return status;
}

static enum fw_status tell_ground(struct fw_plan__around *around,
                                  const struct bordered *all,
                                  struct fw_error *err)
{
    struct fw_plan__thing thing = {0};
    enum fw_status status = fw_plan__thing_init(
        &thing, around, &around->job->farm->features[all->feature], err);
    const size_t length = strlen(thing.name);
    if (!status && all->count > 1)
        snprintf(thing.name + length, sizeof thing.name - length,
                 " and %zu more", all->count - 1);
    if (!status)
        status = tell_open(around, &thing, rule_of(&thing, FW_CHECK_BORDER),
                           &all->side, &all->nights, err);
    fw_plan__thing_release(&thing);
    return status;
}

enum fw_status fw_plan__bordered(struct fw_plan__around *around,
                                 struct fw_error *err)
{
    const struct fw_farm *farm = around->job->farm;
    const struct fw_plan *plan = around->job->plan;
    const struct fw_plan_field *field = &plan->fields[around->field];
    struct bordered all = {.side = {FW_NONE, (double)INFINITY, {0, 0}}};
    if (field->paddock_count == 0)
        return FW_OK;
    enum fw_status status = nights_init(&all.nights, plan, field, err);
    for (size_t i = 0; !status && i < farm->feature_count; i++)
        if (around->near[i] && farm->features[i].role == FW_ROLE_EXCLUSION)
            status = look_at_ground(around, i, &all, err);
    if (!status && all.count > 0)
        status = tell_ground(around, &all, err);
    fw_free(all.nights.worst);
    return status;
}
