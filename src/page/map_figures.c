/* What the page tells of a paddock, a fence, a place that is tapped: the plan's
 * figures as its report says them. */
#include "page/map_page.h"

#include "report/report.h"

#include <math.h>

/* Each row's label, told once for all. */
enum head {
    WHAT,
    IN_FIELD,
    SIZE,
    STAYS,
    FEEDS,
    HOLDS,
    NEED,
    WALK,
    DRINKS,
    NARROW,
    KEPT,
    LENGTH,
    WIRE,
    POSTS,
    REELS,
    STANDS,
    END_A,
    END_B,
    TESTER,
    TOUCHED,
    LIVE,
    KEEPS_IN,
    WIDTH,
    FIRST_USED,
    LEADS,
    DAYS,
    LITRES,
    HOT,
    JOULES,
    RODS,
    LEVEL,
    DISTANCE,
    SAYS,
    SOURCE,
    HEADS
};
static const char *const heads[HEADS] = {
    [WHAT] = "what it is",
    [IN_FIELD] = "field",
    [SIZE] = "size",
    [STAYS] = "flock there",
    [FEEDS] = "feeds them",
    [HOLDS] = "they may take",
    [NEED] = "they need",
    [WALK] = "walk to water",
    [DRINKS] = "water",
    [NARROW] = "too narrow at",
    [KEPT] = "kept back for",
    [LENGTH] = "length",
    [WIRE] = "wire",
    [POSTS] = "posts",
    [REELS] = "reels",
    [STANDS] = "stands",
    [END_A] = "end A",
    [END_B] = "end B",
    [TESTER] = "tester, least",
    [TOUCHED] = "a sheep gets, least",
    [LIVE] = "live",
    [KEEPS_IN] = "holds",
    [WIDTH] = "width",
    [FIRST_USED] = "first used",
    [LEADS] = "leads",
    [DAYS] = "days",
    [LITRES] = "a day",
    [HOT] = "on a hot day",
    [JOULES] = "stored energy",
    [RODS] = "earth rods",
    [LEVEL] = "how bad",
    [DISTANCE] = "distance",
    [SAYS] = "what",
    [SOURCE] = "source",
};

void fw_map_heads(struct fw_text *json)
{
    fw_text_add(json, "\"heads\":[");
    for (size_t i = 0; i < HEADS; i++) {
        fw_text_add(json, i ? "," : "");
        fw_text_add_json(json, heads[i]);
    }
    fw_text_add(json, "]");
}

/* A comma comes between two pairs, and none before the first. */
static void add(struct fw_text *json, enum head head, const char *words)
{
    const bool first = json->length > 0 && json->bytes[json->length - 1] == '[';
    fw_text_addf(json, "%s[%d,", first ? "" : ",", head);
    fw_text_add_json(json, words);
    fw_text_add(json, "]");
}

static void add_text(struct fw_text *json, enum head head,
                     struct fw_text *words)
{
    json->failed |= words->failed;
    if (!words->failed && words->length > 0)
        add(json, head, words->bytes);
    fw_text_release(words);
}

static void begin(struct fw_text *json)
{
    fw_text_add(json, "[");
}

static void end(struct fw_text *json)
{
    fw_text_add(json, "]");
}

static void in_field(struct fw_text *json, const struct fw_plan *plan,
                     size_t field)
{
    if (field != FW_NONE && plan->field_count > 1)
        add(json, IN_FIELD, plan->fields[field].name);
}

static void length(struct fw_text *json, const struct fw_plan *plan,
                   enum head head, double m)
{
    char words[FW_WORDS];
    add(json, head, fw_report_length(m, plan->units, words));
}

/* "Mon 4 May to Tue 5 May 2026" */
static void say_days(struct fw_text *words, int from, int to)
{
    char first[FW_WORDS], last[FW_WORDS];
    fw_text_addf(words, "%s%s to %s", words->length > 0 ? "; " : "",
                 fw_report_day(from, false, first),
                 fw_report_day(to, true, last));
}

/* ---- ground ---- */

static void stays(struct fw_text *json, const struct fw_plan *plan,
                  size_t paddock)
{
    struct fw_text words = {0};
    for (size_t i = 0; i < plan->time.stay_count; i++) {
        const struct fw_nights nights = fw_time_nights(&plan->time, i);
        if (plan->time.stays[i].cell == paddock)
            say_days(&words, nights.from, nights.to);
    }
    if (fw_plan_is_grazed(plan, paddock) && words.length == 0)
        fw_text_add(&words, "grazed before");
    add_text(json, STAYS, &words);
}

static void walk(struct fw_text *json, const struct fw_plan *plan,
                 const struct fw_plan_paddock *paddock)
{
    char mean[FW_WORDS], most[FW_WORDS];
    struct fw_text words = {0};
    if (paddock->water != FW_NONE)
        add(json, DRINKS, plan->waters[paddock->water].id);
    if (!paddock->walk_known)
        return;
    fw_text_addf(&words, "%s on average, %s at most",
                 fw_report_length(paddock->walk_fed_m, plan->units, mean),
                 fw_report_length(paddock->walk_max_m, plan->units, most));
    fw_report_climb(&words, "; ", paddock, plan->units);
    add_text(json, WALK, &words);
}

void fw_map_paddock_figures(struct fw_text *json, const struct fw_plan *plan,
                            size_t index)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[index];
    char words[FW_WORDS];
    struct fw_text feeds = {0};
    begin(json);
    add(json, SIZE, fw_report_area(paddock->area_ha, plan->units, words));
    stays(json, plan, index);
    fw_text_addf(&feeds, "%s day%s",
                 fw_report_number(paddock->stay_days, words),
                 paddock->stay_days > 1 ? "s" : "");
    add_text(json, FEEDS, &feeds);
    add(json, HOLDS, fw_report_mass(paddock->usable_kg, plan->units, words));
    add(json, NEED, fw_report_mass(paddock->demand_kg, plan->units, words));
    walk(json, plan, paddock);
    if (paddock->narrow_m > 0)
        length(json, plan, NARROW, paddock->narrow_m);
    if (paddock->keep[0])
        add(json, KEPT, paddock->keep);
    in_field(json, plan, paddock->field);
    end(json);
}

void fw_map_lane_figures(struct fw_text *json, const struct fw_plan *plan,
                         size_t index)
{
    const struct fw_plan_lane *lane = &plan->lanes[index];
    char words[FW_WORDS];
    begin(json);
    add(json, WHAT,
        lane->apron ? "ground about the water, not grazed"
                    : "a way for stock, not grazed");
    add(json, SIZE, fw_report_area(lane->area_ha, plan->units, words));
    in_field(json, plan, lane->field);
    end(json);
}

/* ---- fences ---- */

static void stands(struct fw_text *json, const struct fw_plan *plan,
                   size_t fence)
{
    const struct fw_time *time = &plan->time;
    struct fw_text words = {0};
    for (size_t i = 0; i < time->standing_count; i++) {
        const struct fw_standing *standing = &time->standings[i];
        char day[FW_WORDS];
        if (standing->line != fence)
            continue;
        const size_t up = standing->up.move, down = standing->down.move;
        fw_text_add(&words, words.length > 0 ? "; " : "");
        if (up == FW_NONE)
            fw_text_add(&words, "from before");
        else
            fw_text_addf(
                &words, "from %s",
                fw_report_day(time->moves[up].day, down == FW_NONE, day));
        if (down == FW_NONE)
            fw_text_add(&words, " on");
        else
            fw_text_addf(&words, " to %s",
                         fw_report_day(time->moves[down].day, true, day));
    }
    add_text(json, STANDS, &words);
}

static void where_end(struct fw_text *json, const struct fw_plan *plan,
                      const struct fw_plan_fence *fence, bool far)
{
    const struct fw_plan_paced *at = far ? &fence->b : &fence->a;
    struct fw_text words = {0};
    if (!at->by)
        return;
    fw_report_say_end(&words, plan, &plan->fields[fence->field], "", at);
    add_text(json, far ? END_B : END_A, &words);
}

static void volts(struct fw_text *json, const struct fw_plan_fence *fence)
{
    char words[FW_WORDS];
    if (!fence->volts_known)
        return;
    if (!(fence->open_v > 0)) {
        add(json, TESTER, "nothing feeds it");
        return;
    }
    fw_text_format(words, sizeof words, "%.1f kV",
                   fw_report_down_kv(fence->open_v));
    add(json, TESTER, words);
    fw_text_format(words, sizeof words, "%.1f kV",
                   fw_report_down_kv(fence->touched_v));
    add(json, TOUCHED, words);
}

static void side(struct fw_text *json, const struct fw_plan *plan,
                 const struct fw_plan_fence *fence)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    struct fw_text what = {0};
    if (fence->side == FW_NONE) {
        add(json, WHAT, "the edge of ground that is cut out");
        return;
    }
    const struct fw_farm_side *of = &field->sides[fence->side];
    const size_t number = fw_plan_side_number(field, fence->side);
    fw_text_add(&what, "a side of the boundary");
    if (number)
        fw_text_addf(&what, ", side %zu", number);
    add_text(json, WHAT, &what);
    add(json, KEEPS_IN,
        of->holds == FW_HOLDS_UNTOLD    ? "nobody said whether it holds sheep"
        : of->holds == FW_HOLDS_NOTHING ? "nothing"
        : of->holds == FW_HOLDS_SHEEP   ? "grown sheep, not lambs"
                                        : "sheep and lambs");
    add(json, LIVE,
        of->hot == FW_UNTOLD ? "nobody said"
        : of->hot == FW_NO   ? "no"
                             : "yes");
}

static void line(struct fw_text *json, const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    char words[FW_WORDS];
    add(json, WHAT,
        fence->role == FW_FENCE_STANDING ? "a block line"
        : fence->role == FW_FENCE_LANE   ? "a lane's fence"
                                         : "a moved fence");
    stands(json, plan, index);
    if (fence->wire_m > 0)
        length(json, plan, WIRE, fence->wire_m);
    fw_text_format(words, sizeof words, "%d", fence->posts);
    add(json, POSTS, words);
    fw_text_format(words, sizeof words, "%d", fence->reels);
    add(json, REELS, words);
    where_end(json, plan, fence, false);
    where_end(json, plan, fence, true);
}

void fw_map_fence_figures(struct fw_text *json, const struct fw_plan *plan,
                          size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    begin(json);
    if (fence->role == FW_FENCE_PERIMETER)
        side(json, plan, fence);
    else
        line(json, plan, index);
    length(json, plan, LENGTH, fence->length_m);
    volts(json, fence);
    in_field(json, plan, fence->field);
    end(json);
}

/* ---- places ---- */

void fw_map_gate_figures(struct fw_text *json, const struct fw_plan *plan,
                         size_t index)
{
    const struct fw_plan_gate *gate = &plan->gates[index];
    char day[FW_WORDS];
    struct fw_text leads = {0};
    begin(json);
    if (gate->fence == FW_NONE)
        add(json, WHAT, "a gate");
    else
        add(json, WHAT,
            gate->where == FW_OPENING_A   ? "an opening at end A"
            : gate->where == FW_OPENING_B ? "an opening at end B"
                                          : "an opening at handles");
    if (gate->width_m > 0)
        length(json, plan, WIDTH, gate->width_m);
    if (gate->on != FW_NO_DAY)
        add(json, FIRST_USED, fw_report_day(gate->on, true, day));
    if (gate->from != FW_NONE)
        fw_text_addf(&leads, "from %s", plan->paddocks[gate->from].id);
    if (gate->to != FW_NONE)
        fw_text_addf(&leads, "%sinto %s", leads.length > 0 ? " " : "",
                     plan->paddocks[gate->to].id);
    add_text(json, LEADS, &leads);
    if (gate->tight)
        add(json, SAYS, "it is tight: a few at a time");
    in_field(json, plan, gate->field);
    end(json);
}

void fw_map_water_figures(struct fw_text *json, const struct fw_plan *plan,
                          size_t index)
{
    const struct fw_plan_water *water = &plan->waters[index];
    char words[FW_WORDS];
    struct fw_text days = {0};
    begin(json);
    add(json, WHAT, water->kind_of);
    if (water->from != FW_NO_DAY && water->to > water->from) {
        say_days(&days, water->from, water->to);
        add_text(json, DAYS, &days);
    }
    add(json, LITRES, fw_report_volume(water->litres_day, plan->units, words));
    add(json, HOT, fw_report_volume(water->hot_l_day, plan->units, words));
    in_field(json, plan, water->field);
    end(json);
}

void fw_map_energizer_figures(struct fw_text *json, const struct fw_plan *plan)
{
    char words[FW_WORDS], figure[FW_WORDS];
    begin(json);
    add(json, WHAT, "the energizer");
    if (plan->totals.energizer_j > 0) {
        fw_text_format(words, sizeof words, "%s J",
                       fw_report_number(plan->totals.energizer_j, figure));
        add(json, JOULES, words);
    }
    fw_text_format(words, sizeof words, "%d", plan->totals.earth_rods);
    add(json, RODS, words);
    end(json);
}

void fw_map_finding_figures(struct fw_text *json, const struct fw_plan *plan,
                            size_t index)
{
    const struct fw_plan_finding *finding = &plan->findings[index];
    begin(json);
    add(json, LEVEL,
        finding->level == FW_LEVEL_DANGER    ? "danger"
        : finding->level == FW_LEVEL_WARNING ? "warning"
                                             : "note");
    add(json, SAYS, finding->text);
    if (finding->measured)
        length(json, plan, DISTANCE, finding->distance_m);
    if (finding->source[0])
        add(json, SOURCE, finding->source);
    end(json);
}

void fw_map_numbers(struct fw_text *json, const size_t *numbers, size_t count)
{
    fw_text_add(json, "[");
    for (size_t i = 0; i < count; i++)
        fw_text_addf(json, "%s%zu", i ? "," : "", numbers[i]);
    fw_text_add(json, "]");
}
