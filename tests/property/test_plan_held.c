/* What nothing but moved lines holds, by brute force: every night and every
 * piece of fence of farms at random, beside a road, a railway, other people's
 * stock and ground that is not grazed. Distances are closed forms between
 * straight pieces; what a line parts is looked up a centimetre to its sides. */
#include "random_plan.h"

#include "choice/days.h"

enum { farms = 160, most_nights = 1000, most_cells = 500, most_text = 2000 };

static const double reach_m = 20;

/* From the least bad on. */
enum open { HELD, NO_LAMBS, UNTOLD, LIVE_ONLY, NOTHING };

struct world {
    const struct fw_farm *farm;
    const struct fw_plan *plan;
    size_t field;
    int first, count; /* nights from the field's first stay to its last */
    const struct fw_plan_rings *cells[most_cells];
    size_t cell_of[most_cells], cell_count;
    bool *ground; /* by night and cell */
    bool *stands; /* by night and fence */
    enum open worst[most_nights];
};

struct thing {
    struct fw_point points[8];
    size_t count;
    bool area;
};

struct tally {
    size_t open, lines, bordered, left_out;
};

/* ---- geometry ---- */

static double left_of(struct fw_point a, struct fw_point b, struct fw_point p)
{
    return (b.x_m - a.x_m) * (p.y_m - a.y_m) -
           (b.y_m - a.y_m) * (p.x_m - a.x_m);
}

static bool cross(struct fw_point a, struct fw_point b, struct fw_point c,
                  struct fw_point d)
{
    return left_of(a, b, c) * left_of(a, b, d) <= 0 &&
           left_of(c, d, a) * left_of(c, d, b) <= 0;
}

static double pieces_m(struct fw_point a, struct fw_point b, struct fw_point c,
                       struct fw_point d)
{
    if (cross(a, b, c, d))
        return 0;
    return fmin(
        fmin(fw_segment_distance_m(a, c, d), fw_segment_distance_m(b, c, d)),
        fmin(fw_segment_distance_m(c, a, b), fw_segment_distance_m(d, a, b)));
}

static size_t sides_of(const struct thing *thing)
{
    return thing->area ? thing->count : thing->count - 1;
}

static bool is_inside(const struct thing *thing, struct fw_point p)
{
    bool inside = false;
    for (size_t i = 0; thing->area && i < thing->count; i++) {
        const struct fw_point a = thing->points[i];
        const struct fw_point b = thing->points[(i + 1) % thing->count];
        if ((a.y_m > p.y_m) != (b.y_m > p.y_m) &&
            (left_of(a, b, p) > 0) == (b.y_m > a.y_m))
            inside = !inside;
    }
    return inside;
}

static double away_m(const struct thing *thing, struct fw_point a,
                     struct fw_point b)
{
    double least_m = is_inside(thing, a) ? 0 : HUGE_VAL;
    for (size_t i = 0; i < sides_of(thing); i++)
        least_m =
            fmin(least_m, pieces_m(a, b, thing->points[i],
                                   thing->points[(i + 1) % thing->count]));
    return least_m;
}

static struct fw_point nearest(const struct thing *thing, struct fw_point p)
{
    struct fw_point best = p;
    double least_m = is_inside(thing, p) ? 0 : HUGE_VAL;
    for (size_t i = 0; i < sides_of(thing); i++) {
        const struct fw_point a = thing->points[i];
        const struct fw_point b = thing->points[(i + 1) % thing->count];
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        const double t =
            ((p.x_m - a.x_m) * x + (p.y_m - a.y_m) * y) / (x * x + y * y);
        const double in = fmin(1, fmax(0, t));
        const struct fw_point at = {a.x_m + in * x, a.y_m + in * y};
        const double m = hypot(at.x_m - p.x_m, at.y_m - p.y_m);
        if (m < least_m) {
            least_m = m;
            best = at;
        }
    }
    return best;
}

static struct fw_point at(const struct world *world, size_t vertex)
{
    return world->plan->fields[world->field].vertices[vertex].plane;
}

static struct fw_point between(struct fw_point a, struct fw_point b, double t)
{
    return (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                             a.y_m + t * (b.y_m - a.y_m)};
}

static double fence_away_m(const struct world *world,
                           const struct fw_plan_fence *fence,
                           const struct thing *thing)
{
    double least_m = HUGE_VAL;
    for (size_t i = 1; i < fence->line_count; i++)
        least_m = fmin(least_m, away_m(thing, at(world, fence->line[i - 1]),
                                       at(world, fence->line[i])));
    return least_m;
}

/* ---- the field's nights ---- */

static void find_cells(struct world *world, const struct fw_land *land)
{
    const struct fw_plan *plan = world->plan;
    const struct fw_plan_field *field = &plan->fields[world->field];
    size_t common = land->fields[world->field].first_common;
    assert_true(field->paddock_count + plan->lane_count < most_cells);
    for (size_t i = 0; i < field->paddock_count; i++) {
        world->cell_of[world->cell_count] = field->first_paddock + i;
        world->cells[world->cell_count++] =
            &plan->paddocks[field->first_paddock + i].rings;
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == world->field) {
            world->cell_of[world->cell_count] = common++;
            world->cells[world->cell_count++] = &plan->lanes[i].rings;
        }
}

static struct world new_world(const struct fw_farm *farm,
                              const struct fw_plan *plan, size_t field)
{
    struct world world = {.farm = farm, .plan = plan, .field = field};
    const struct fw_list stays = fw_plan_stays_of(plan, field);
    struct fw_plan__days days;
    world.first = fw_time_nights(&plan->time, stays.first).from;
    world.count =
        fw_time_nights(&plan->time, stays.first + stays.count - 1).to -
        world.first;
    assert_true(world.count < most_nights);
    assert_int_equal(fw_plan__days_init(&days, plan, NULL), FW_OK);
    find_cells(&world, &days.land);
    world.ground = calloc((size_t)world.count * world.cell_count, 1);
    world.stands = calloc((size_t)world.count * plan->fence_count, 1);
    for (int n = 0; n < world.count; n++) {
        bool *ground = world.ground + (size_t)n * world.cell_count;
        size_t held; /* asked for, so that it is found anew */
        assert_int_equal(fw_plan__days_to(&days, world.first + n, NULL), FW_OK);
        fw_replay_ground(&days.replay, &held);
        for (size_t i = 0; i < world.cell_count; i++)
            ground[i] = days.replay.ground[world.cell_of[i]];
        for (size_t i = 0; i < plan->fence_count; i++)
            world.stands[(size_t)n * plan->fence_count + i] =
                days.replay.stands[i];
    }
    fw_plan__days_release(&days);
    return world;
}

static void release(struct world *world)
{
    free(world->ground);
    free(world->stands);
}

/* ---- what is to be said ---- */

static int nights_of(const struct world *world, enum open least)
{
    int count = 0;
    for (int n = 0; n < world->count; n++)
        count += world->worst[n] >= least;
    return count;
}

/* "2027-05-17 to 2027-05-20, 2027-05-24 and 2 more" */
static void put_nights(const struct world *world, enum open least, char *text)
{
    int ranges = 0, more = 0, from = -1;
    char day[FW_DATE_TEXT];
    for (int n = 0; n <= world->count; n++) {
        const bool in = n < world->count && world->worst[n] >= least;
        if (in && from < 0)
            from = n;
        if (in || from < 0)
            continue;
        ranges++;
        if (ranges > 3) {
            more += n - from;
        } else {
            if (ranges > 1)
                strcat(text, ", ");
            strcat(text, fw_date_write(world->first + from, day));
            if (n - 1 > from) {
                strcat(text, " to ");
                strcat(text, fw_date_write(world->first + n - 1, day));
            }
        }
        from = -1;
    }
    if (more)
        sprintf(text + strlen(text), " and %d more", more);
}

static void put_open(const struct world *world, const char *what, char *text)
{
    static const char *const sides[] = {
        "", "a side that holds sheep but no lambs",
        "a side of which nobody has said what it holds",
        "a side that is live and holds nothing"};
    const int bare = nights_of(world, NOTHING);
    const int open = nights_of(world, NO_LAMBS);
    enum open weaker = HELD;
    for (int n = 0; n < world->count; n++)
        if (world->worst[n] != NOTHING && world->worst[n] > weaker)
            weaker = world->worst[n];
    sprintf(text, "nothing known to hold this flock parts it from %s: ", what);
    if (bare) {
        strcat(text, "nothing at all on the nights of ");
        put_nights(world, NOTHING, text);
    }
    if (open > bare) {
        strcat(text, bare ? ", only " : "only ");
        strcat(text, sides[weaker]);
        strcat(text, bare ? " on some others" : " on the nights of ");
        if (!bare)
            put_nights(world, NO_LAMBS, text);
    }
    if (open == world->count)
        return;
    char from[FW_DATE_TEXT], to[FW_DATE_TEXT];
    sprintf(text + strlen(text), "%sonly moved lines on %s nights of %s to %s",
            open ? ", " : "", open ? "the other" : "all",
            fw_date_write(world->first, from),
            fw_date_write(world->first + world->count - 1, to));
}

static const struct fw_plan_finding *find(const struct world *world,
                                          const char *rule, size_t fence)
{
    const struct fw_plan_finding *found = NULL;
    for (size_t i = 0; i < world->plan->finding_count; i++) {
        const struct fw_plan_finding *finding = &world->plan->findings[i];
        if (finding->field == world->field && !strcmp(finding->rule, rule) &&
            (fence == FW_NONE || finding->fence == fence)) {
            assert_null(found); /* each is told once */
            found = finding;
        }
    }
    return found;
}

static void is_told(const struct fw_plan_finding *found, const char *text)
{
    assert_true(strlen(text) < sizeof found->text); /* not cut */
    assert_string_equal(found->text, text);
    assert_int_equal(found->level, FW_LEVEL_DANGER);
}

/* ---- open sides ---- */

static enum open open_of(const struct world *world,
                         const struct fw_plan_fence *fence)
{
    const struct fw_farm_field *field = &world->farm->fields[world->field];
    const bool hole = fence->side == FW_NONE;
    const enum fw_holds holds =
        hole ? field->hole_holds : field->sides[fence->side].holds;
    bool lambs = false;
    for (size_t i = 0; i < world->farm->class_count; i++)
        lambs |=
            fw_flock_row(world->farm->classes[i].state)->lambs != FW_LAMBS_NONE;
    if (holds == FW_HOLDS_LAMBS || (holds == FW_HOLDS_SHEEP && !lambs))
        return HELD;
    if (holds == FW_HOLDS_SHEEP)
        return NO_LAMBS;
    if (holds == FW_HOLDS_UNTOLD)
        return UNTOLD;
    return !hole && field->sides[fence->side].hot == FW_YES ? LIVE_ONLY
                                                            : NOTHING;
}

static bool is_side(const struct world *world, size_t fence)
{
    return world->plan->fences[fence].field == world->field &&
           world->plan->fences[fence].role == FW_FENCE_PERIMETER;
}

/* Does the ground lie against that place? */
static bool lies_at(const struct world *world,
                    const struct fw_plan_rings *rings, struct fw_point place)
{
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++)
            if (fw_segment_distance_m(
                    place, at(world, rings->vertices[first + i]),
                    at(world, rings->vertices[first + (i + 1) % count])) < 1e-6)
                return true;
    }
    return false;
}

static void put_worst(struct world *world, size_t cell, enum open open)
{
    for (int n = 0; n < world->count; n++)
        if (world->ground[(size_t)n * world->cell_count + cell] &&
            world->worst[n] < open)
            world->worst[n] = open;
}

static void look_along(struct world *world, const struct fw_plan_fence *fence,
                       const struct thing *thing, double within_m)
{
    for (size_t k = 1; k < fence->line_count; k++) {
        const struct fw_point a = at(world, fence->line[k - 1]);
        const struct fw_point b = at(world, fence->line[k]);
        if (away_m(thing, a, b) > within_m)
            continue;
        for (size_t i = 0; i < world->cell_count; i++)
            if (lies_at(world, world->cells[i], between(a, b, 0.5)))
                put_worst(world, i, open_of(world, fence));
    }
}

/* The nearest open side within that of it, FW_NONE: there is none. */
static size_t look_open(struct world *world, const struct thing *thing,
                        double within_m, double *least_m)
{
    size_t found = FW_NONE;
    *least_m = HUGE_VAL;
    for (size_t i = 0; i < world->plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &world->plan->fences[i];
        if (!is_side(world, i) || open_of(world, fence) == HELD)
            continue;
        const double m = fence_away_m(world, fence, thing);
        if (m > within_m)
            continue;
        look_along(world, fence, thing, within_m);
        if (m < *least_m) {
            *least_m = m;
            found = i;
        }
    }
    return found;
}

/* ---- lines ---- */

static bool is_in_cell(const struct world *world, int night, struct fw_point p)
{
    for (size_t c = 0; c < world->cell_count; c++) {
        const struct fw_plan_rings *rings = world->cells[c];
        bool inside = false;
        if (!world->ground[(size_t)night * world->cell_count + c])
            continue;
        for (size_t r = 0; r < rings->ring_count; r++) {
            const size_t first = rings->ring_start[r];
            const size_t count = rings->ring_start[r + 1] - first;
            for (size_t i = 0; i < count; i++) {
                const struct fw_point a = at(world, rings->vertices[first + i]);
                const struct fw_point b =
                    at(world, rings->vertices[first + (i + 1) % count]);
                if ((a.y_m > p.y_m) != (b.y_m > p.y_m) &&
                    (left_of(a, b, p) > 0) == (b.y_m > a.y_m))
                    inside = !inside;
            }
        }
        if (inside)
            return true;
    }
    return false;
}

static bool bounds(const struct world *world, size_t index, int night)
{
    const struct fw_plan_fence *fence = &world->plan->fences[index];
    if (!world->stands[(size_t)night * world->plan->fence_count + index])
        return false;
    for (size_t k = 1; k < fence->line_count; k++) {
        const struct fw_point a = at(world, fence->line[k - 1]);
        const struct fw_point b = at(world, fence->line[k]);
        const double m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        const struct fw_point mid = between(a, b, 0.5);
        const double x = 0.01 * (a.y_m - b.y_m) / m;
        const double y = 0.01 * (b.x_m - a.x_m) / m;
        const struct fw_point left = {mid.x_m + x, mid.y_m + y};
        const struct fw_point right = {mid.x_m - x, mid.y_m - y};
        if (is_in_cell(world, night, left) != is_in_cell(world, night, right))
            return true;
    }
    return false;
}

/* Does a side that holds stand on the way? */
static bool is_held(const struct world *world, const struct thing *thing,
                    struct fw_point from)
{
    const struct fw_point to = nearest(thing, from);
    for (size_t i = 0; i < world->plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &world->plan->fences[i];
        if (!is_side(world, i) || open_of(world, fence) != HELD)
            continue;
        for (size_t k = 1; k < fence->line_count; k++)
            if (pieces_m(from, to, at(world, fence->line[k - 1]),
                         at(world, fence->line[k])) <= 0.001)
                return true;
    }
    return false;
}

static struct fw_point along(const struct world *world,
                             const struct fw_plan_fence *fence, double m)
{
    struct fw_point b = at(world, fence->line[0]);
    for (size_t k = 1; k < fence->line_count; k++) {
        const struct fw_point a = b;
        b = at(world, fence->line[k]);
        const double long_m = hypot(b.x_m - a.x_m, b.y_m - a.y_m);
        if (m <= long_m)
            return between(a, b, m / long_m);
        m -= long_m;
    }
    return b;
}

/* 1: unheld in the middle of a part within reach; 0: nowhere; -1: so coarse a
 * walk cannot tell. */
static int unheld(const struct world *world, const struct fw_plan_fence *fence,
                  const struct thing *thing)
{
    const double step_m = 0.05, off_m = 0.2;
    double all_m = 0, from_m = -1, last_m = -1;
    int answer = 0;
    for (size_t k = 1; k < fence->line_count; k++) {
        const struct fw_point a = at(world, fence->line[k - 1]);
        const struct fw_point b = at(world, fence->line[k]);
        all_m += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    const int steps = (int)ceil(all_m / step_m);
    for (int i = 0; i <= steps + 1; i++) {
        const double m = fmin(all_m, all_m * i / steps);
        const struct fw_point p = along(world, fence, m);
        const bool in = i <= steps && away_m(thing, p, p) <= reach_m;
        if (in && from_m < 0) {
            if (last_m >= 0 && m - last_m < off_m)
                return -1;
            from_m = m;
        }
        if (in)
            last_m = m;
        if (in || from_m < 0)
            continue;
        const double mid_m = (from_m + last_m) / 2;
        const bool held = is_held(world, thing, along(world, fence, mid_m));
        if (last_m - from_m < off_m)
            return -1;
        for (int k = -1; k <= 1; k += 2)
            if (is_held(world, thing,
                        along(world, fence, mid_m + k * step_m)) != held)
                return -1;
        answer |= !held;
        from_m = -1;
    }
    return answer;
}

static void look_at_line(struct world *world, size_t index,
                         const struct thing *thing, const char *rule,
                         const char *what, struct tally *tally)
{
    const struct fw_plan_fence *fence = &world->plan->fences[index];
    const struct fw_plan_finding *found = find(world, rule, index);
    char text[most_text];
    if (fence->field != world->field || is_side(world, index))
        return;
    for (int n = 0; n < world->count; n++)
        world->worst[n] = bounds(world, index, n) ? NOTHING : HELD;
    const int answer = unheld(world, fence, thing);
    tally->left_out += answer < 0;
    if (answer < 0)
        return;
    if (found == NULL && answer && nights_of(world, NOTHING))
        fail_msg("%s is not told", fence->id);
    assert_int_equal(found != NULL, answer && nights_of(world, NOTHING));
    if (!found)
        return;
    sprintf(text,
            "this line alone stands between the flock and %s on the nights "
            "of ",
            what);
    put_nights(world, NOTHING, text);
    is_told(found, text);
    assert_near(found->distance_m, fence_away_m(world, fence, thing), 1e-6);
    assert_near(found->wanted_m, reach_m, 0);
    tally->lines++;
}

/* ---- a thing, and ground that is not grazed ---- */

static struct thing thing_of(const struct world *world,
                             const struct fw_farm_feature *feature)
{
    struct thing thing = {.count = feature->ring_start[1],
                          .area = feature->kind == FW_FEATURE_POLYGON};
    for (size_t i = 0; i < thing.count; i++)
        thing.points[i] = fw_plane_forward(
            &world->plan->fields[world->field].plane, feature->points[i]);
    return thing;
}

static void look_at_thing(struct world *world,
                          const struct fw_farm_feature *feature,
                          struct tally *tally)
{
    const struct thing thing = thing_of(world, feature);
    const bool road = feature->role == FW_ROLE_ROAD;
    const bool rail = feature->role == FW_ROLE_RAILWAY;
    const char *rule = road   ? "road-held"
                       : rail ? "railway-held"
                              : "other-stock-held";
    const char *what = road   ? "a road"
                       : rail ? "a railway"
                              : "other people's stock";
    char text[most_text] = "";
    double least_m;
    memset(world->worst, 0, sizeof world->worst);
    const size_t side = look_open(world, &thing, reach_m, &least_m);
    if (side == FW_NONE) {
        for (size_t i = 0; i < world->plan->fence_count; i++)
            look_at_line(world, i, &thing, rule, what, tally);
        return;
    }
    const struct fw_plan_finding *found = find(world, rule, FW_NONE);
    assert_non_null(found);
    put_open(world, what, text);
    is_told(found, text);
    assert_int_equal(found->fence, side);
    assert_near(found->distance_m, least_m, 1e-6);
    assert_near(found->wanted_m, reach_m, 0);
    assert_near(away_m(&thing, found->place.plane, found->place.plane), least_m,
                1e-6);
    tally->open++;
}

static void look_at_ground(struct world *world, struct tally *tally)
{
    const struct fw_plan_finding *found =
        find(world, "exclusion-held", FW_NONE);
    double nearest_m = HUGE_VAL;
    size_t count = 0, side = FW_NONE;
    char text[most_text] = "", name[80] = "exclusion";
    memset(world->worst, 0, sizeof world->worst);
    for (size_t i = 0; i < world->farm->feature_count; i++) {
        const struct fw_farm_feature *feature = &world->farm->features[i];
        const struct thing thing = thing_of(world, feature);
        const double within_m =
            1 + fmax(0, feature->setback_m) + fmax(0, feature->width_m) / 2;
        double m;
        if (feature->role != FW_ROLE_EXCLUSION)
            continue;
        const size_t here = look_open(world, &thing, within_m, &m);
        count += here != FW_NONE;
        if (m < nearest_m) {
            nearest_m = m;
            side = here;
        }
    }
    assert_int_equal(found != NULL, count > 0);
    if (!found)
        return;
    put_open(world, "ground not grazed", text);
    is_told(found, text);
    assert_int_equal(found->fence, side);
    assert_false(found->measured);
    if (count > 1)
        sprintf(name, "exclusion and %zu more", count - 1);
    assert_string_equal(found->feature, name);
    tally->bordered++;
}

/* ---- at random ---- */

static void draw_thing(uint64_t *seed, struct fw_farm *farm)
{
    static const enum fw_role roles[] = {FW_ROLE_ROAD, FW_ROLE_RAILWAY,
                                         FW_ROLE_OTHER_STOCK};
    const enum fw_role role = roles[draw_count(seed, 0, 2)];
    const double x = draw(seed, 20, 230), y = draw(seed, 20, 150);
    const double w = draw(seed, 8, 60), h = draw(seed, 8, 50);
    const double off = draw(seed, 2, 24);
    const double lines[][2][2] = {
        {{-50, -off}, {350, -off}},    /* below it */
        {{-off, y}, {-off, y + h}},    /* beside a part of it */
        {{x, y}, {x + w - 30, y + h}}, /* in it */
        {{x, -40}, {x + w - 30, 260}}, /* through it */
        {{-30, y}, {60, y + draw(seed, -20, 20)}}};
    const double areas[][4][2] = {
        {{x, -off - h}, {x + w, -off - h}, {x + w, -off}, {x, -off}},
        {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}};
    if (chance(seed, 0.7))
        add_feature(farm, role, false, lines[draw_count(seed, 0, 4)], 2);
    else
        add_feature(farm, role, true, areas[draw_count(seed, 0, 1)], 4);
}

static void draw_ground(uint64_t *seed, struct fw_farm *farm)
{
    const size_t count = draw_count(seed, 0, 4);
    for (size_t i = 0; i < count; i++) {
        const double x = draw(seed, 0, 250), off = draw(seed, 0.1, 4);
        const double y = draw(seed, 0, 150), w = draw(seed, 5, 90);
        const double below[4][2] = {
            {x, -off - 20}, {x + w, -off - 20}, {x + w, -off}, {x, -off}};
        const double left[4][2] = {
            {-off - 20, y}, {-off, y}, {-off, y + w}, {-off - 20, y + w}};
        add_feature(farm, FW_ROLE_EXCLUSION, true,
                    chance(seed, 0.5) ? below : left, 4);
        struct fw_farm_feature *feature =
            &farm->features[farm->feature_count - 1];
        feature->setback_m = chance(seed, 0.5) ? draw(seed, 0, 3) : -1;
        feature->width_m = chance(seed, 0.5) ? draw(seed, 0, 6) : -1;
    }
}

static struct fw_farm *draw_one(uint64_t *seed)
{
    static const struct outline *const outlines[] = {&rectangle, &leaning,
                                                     &corner, &pond};
    const bool two = chance(seed, 0.2);
    struct fw_farm *farm =
        farm_of(outlines[draw_count(seed, 0, 3)], two ? &rectangle : NULL);
    const enum fw_holds all =
        chance(seed, 0.7) ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP;
    const bool alike = chance(seed, 0.35);
    draw_flock(seed, farm);
    draw_days(seed, farm);
    draw_work(seed, farm);
    farm->wiring = fw_farm_wiring_default();
    for (size_t i = 0; i < farm->field_count; i++) {
        struct fw_farm_field *field = &farm->fields[i];
        draw_field(seed, field);
        for (size_t k = 0; alike && k < field->shape->corner_count; k++)
            field->sides[k].holds = all;
        if (alike)
            field->hole_holds = all;
    }
    draw_thing(seed, farm);
    draw_ground(seed, farm);
    return farm;
}

static void look_at_plan(const struct fw_farm *farm, const struct fw_plan *plan,
                         struct tally *tally)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        if (plan->fields[i].paddock_count == 0)
            continue;
        struct world world = new_world(farm, plan, i);
        look_at_thing(&world, &farm->features[0], tally);
        look_at_ground(&world, tally);
        release(&world);
    }
}

static void what_moved_lines_alone_hold_is_told_to_the_night(void **state)
{
    (void)state;
    uint64_t seed = seeded(311);
    struct tally tally = {0};
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_one(&seed);
        struct fw_plan *plan = plan_at_random(farm);
        if (plan)
            look_at_plan(farm, plan, &tally);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu open sides, %zu lines, %zu times ground not grazed; "
                  "%zu lines too close to call\n",
                  tally.open, tally.lines, tally.bordered, tally.left_out);
    assert_true(tally.open > 20);
    assert_true(tally.lines > 20);
    assert_true(tally.bordered > 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_moved_lines_alone_hold_is_told_to_the_night),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
