/* The map of a day: where the flock is, what stands, what is set in bold, what
 * comes down dashed, and where to begin to pace. */
#include "report/steps.h"
#include "sheet/card.h"
#include "sheet/drawing.h"

#include "plan/place.h"

#include <stdio.h>
#include <string.h>

struct map {
    struct fw_drawing drawing;
    const struct fw_card_day *day;
};

static const struct fw_move *move_of(const struct fw_card_day *day)
{
    return &day->plan->time.moves[day->move];
}

/* Is the line in the list of a step of that kind, today? */
static bool is_in(const struct fw_card_day *day, enum fw_step_kind kind,
                  size_t fence)
{
    const struct fw_time *time = &day->plan->time;
    const struct fw_list *steps = &move_of(day)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        for (size_t k = 0;
             time->steps[i].kind == kind && k < time->steps[i].lines.count; k++)
            if (time->items[time->steps[i].lines.first + k] == fence)
                return true;
    return false;
}

static bool is_opened(const struct fw_card_day *day, size_t fence)
{
    const struct fw_time *time = &day->plan->time;
    const struct fw_list *steps = &move_of(day)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        if (time->steps[i].kind == FW_STEP_OPEN &&
            day->plan->gates[time->steps[i].opening].fence == fence)
            return true;
    return false;
}

/* ---- what is shown ---- */

static bool is_here(const struct fw_card_day *day, size_t paddock)
{
    return paddock != FW_NONE &&
           day->plan->paddocks[paddock].field == move_of(day)->field;
}

static void add_paddock(struct fw_extent *extent, const struct fw_card_day *day,
                        size_t paddock)
{
    if (is_here(day, paddock))
        fw_extent_add_rings(extent, &day->plan->fields[move_of(day)->field],
                            &day->plan->paddocks[paddock].rings);
}

/* The corner that an end is counted from, so that it can be found. */
static void add_paced(struct fw_extent *extent,
                      const struct fw_plan_field *field,
                      const struct fw_plan_paced *end)
{
    if (end->by == FW_PACED_SIDE && end->corner < field->corner_count)
        fw_extent_add(extent, fw_plan__at(field, field->corners[end->corner]));
}

static struct fw_extent shown(const struct fw_card_day *day)
{
    const struct fw_plan *plan = day->plan;
    const size_t field = move_of(day)->field;
    struct fw_extent extent = {0};
    add_paddock(&extent, day, fw_plan_move_from(plan, day->move));
    add_paddock(&extent, day, fw_plan_move_to(plan, day->move));
    for (size_t i = 0; i < plan->fence_count; i++) {
        const bool set = is_in(day, FW_STEP_SET, i);
        if (plan->fences[i].field != field)
            continue;
        if (set || is_in(day, FW_STEP_TAKE_DOWN, i))
            fw_extent_add_fence(&extent, plan, i);
        if (set) {
            add_paced(&extent, &plan->fields[field], &plan->fences[i].a);
            add_paced(&extent, &plan->fields[field], &plan->fences[i].b);
        }
    }
    const struct fw_plan_place *gate = &plan->fields[field].gate;
    if (gate->given && is_opened(day, FW_NONE))
        fw_extent_add(&extent, gate->plane);
    if (!extent.any)
        fw_extent_add_rings(&extent, &plan->fields[field],
                            &plan->fields[field].rings);
    return extent;
}

/* ---- lines ---- */

/* Where the next part of the field begins there is no boundary, but moved
 * fence as long as that stands. */
static void side(struct map *map, size_t fence)
{
    const size_t border = fw_plan_border_along(map->day->plan, fence);
    if (border == FW_NONE)
        fw_drawing_fence(&map->drawing, fence, FW_PEN_DOUBLE);
    else if (map->day->stands[border])
        fw_drawing_fence(&map->drawing, fence, FW_PEN_PLAIN);
}

static void fences(struct map *map)
{
    const struct fw_card_day *day = map->day;
    const struct fw_plan *plan = day->plan;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->field != map->drawing.field)
            continue;
        if (is_in(day, FW_STEP_SET, i))
            fw_drawing_fence(&map->drawing, i, FW_PEN_BOLD);
        else if (is_in(day, FW_STEP_TAKE_DOWN, i))
            fw_drawing_fence(&map->drawing, i, FW_PEN_DASHED);
        else if (fence->role == FW_FENCE_PERIMETER)
            side(map, i);
        else if (day->stands[i])
            fw_drawing_fence(&map->drawing, i, FW_PEN_PLAIN);
    }
}

/* ---- labels ---- */

static struct fw_xy end_of(const struct map *map,
                           const struct fw_plan_fence *fence, bool far)
{
    const struct fw_plan_field *field = &map->day->plan->fields[fence->field];
    return fw_drawing_at(
        &map->drawing,
        fw_plan__at(field, fence->line[far ? fence->line_count - 1 : 0]));
}

static void set_lines(struct map *map)
{
    const struct fw_type letter = {.size_pt = FW_CARD_SIZE, .bold = true};
    const struct fw_plan *plan = map->day->plan;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->field != map->drawing.field ||
            !is_in(map->day, FW_STEP_SET, i))
            continue;
        for (int far = 0; far < 2; far++)
            fw_drawing_beside(&map->drawing, end_of(map, fence, far), 2,
                              far ? "B" : "A", &letter);
    }
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].field == map->drawing.field &&
            is_in(map->day, FW_STEP_SET, i))
            fw_drawing_along(&map->drawing, plan->fences[i].line,
                             plan->fences[i].line_count, 8, plan->fences[i].id,
                             FW_CARD_SIZE);
}

/* What is opened, and then, past all signs, the letter of the step that opens
 * it. */
static void openings(struct map *map, bool letters)
{
    const struct fw_type type = {.size_pt = FW_CARD_SIZE, .bold = true};
    const struct fw_plan *plan = map->day->plan;
    const struct fw_list *steps = &move_of(map->day)->steps;
    for (size_t i = steps->first; i < steps->first + steps->count; i++) {
        const struct fw_report_saying saying = {plan, map->day->move,
                                                &plan->time.steps[i], i, false};
        const size_t opening = saying.step->opening;
        if (saying.step->kind != FW_STEP_OPEN ||
            plan->gates[opening].fence == FW_NONE ||
            plan->gates[opening].field != map->drawing.field)
            continue;
        const char letter[2] = {fw_report_letter_of(&saying, opening), '\0'};
        const struct fw_xy at =
            fw_drawing_at(&map->drawing, plan->gates[opening].place.plane);
        if (!fw_drawing_shows(&map->drawing, at))
            continue;
        if (letters)
            fw_drawing_beside(&map->drawing, at, 5, letter, &type);
        else
            fw_drawing_ring(&map->drawing, at);
    }
}

static void corners(struct map *map)
{
    const struct fw_plan *plan = map->day->plan;
    const struct fw_plan_field *field = &plan->fields[map->drawing.field];
    for (int wanted = 1; wanted >= 0; wanted--)
        for (size_t c = 0; c < field->corner_count; c++) {
            bool counted = false;
            for (size_t i = 0; i < plan->fence_count && !counted; i++) {
                const struct fw_plan_fence *fence = &plan->fences[i];
                counted =
                    fence->field == map->drawing.field &&
                    is_in(map->day, FW_STEP_SET, i) &&
                    ((fence->a.by == FW_PACED_SIDE && fence->a.corner == c) ||
                     (fence->b.by == FW_PACED_SIDE && fence->b.corner == c));
            }
            if (counted == (wanted == 1))
                fw_drawing_corner(&map->drawing, c, FW_CARD_SIZE);
        }
}

/* Inside in the greatest letters that fit; over the lines of slim ground; else
 * beside it with a line to its middle, since words on other ground mislead. */
static void name_paddock(struct map *map, size_t paddock, const char *words,
                         const char *less)
{
    static const double sizes[] = {12, 10, FW_CARD_SIZE};
    const struct fw_type type = {.size_pt = FW_CARD_SIZE, .bold = true};
    const struct fw_plan *plan = map->day->plan;
    const struct fw_plan_rings *rings = &plan->paddocks[paddock].rings;
    if (!fw_drawing_inside(&map->drawing, rings, words, sizes, 3, 1) &&
        !fw_drawing_inside(&map->drawing, rings, less, sizes, 3, 1) &&
        !fw_drawing_inside(&map->drawing, rings, less, &type.size_pt, 1, 0.5))
        fw_drawing_led(&map->drawing, rings, less, &type);
}

static void paddocks(struct map *map)
{
    const struct fw_plan *plan = map->day->plan;
    const size_t to = fw_plan_move_to(plan, map->day->move);
    const size_t from = fw_plan_move_from(plan, map->day->move);
    char words[FW_ID + 8];
    if (is_here(map->day, to)) {
        snprintf(words, sizeof words, "to %s", plan->paddocks[to].id);
        name_paddock(map, to, words, plan->paddocks[to].id);
    }
    if (is_here(map->day, from)) {
        snprintf(words, sizeof words, "flock\n%s", plan->paddocks[from].id);
        name_paddock(map, from, words, "flock");
    }
}

/* The water of the paddock that they go into: of a trough that moves, its
 * place. NULL: they have none there that could be drawn. */
static const struct fw_plan_place *water(const struct map *map)
{
    const struct fw_plan *plan = map->day->plan;
    const size_t to = fw_plan_move_to(plan, map->day->move);
    if (!is_here(map->day, to) || plan->paddocks[to].water == FW_NONE)
        return NULL;
    const struct fw_plan_water *of = &plan->waters[plan->paddocks[to].water];
    return of->place.given && strcmp(of->kind_of, "trough") == 0 ? &of->place
                                                                 : NULL;
}

void fw_card_map(struct fw_paper *paper, struct fw_page *page,
                 const struct fw_card_day *day, struct fw_xy at,
                 struct fw_xy size, struct fw_xy beside)
{
    struct map map = {.drawing = {.paper = paper,
                                  .page = page,
                                  .plan = day->plan,
                                  .field = move_of(day)->field,
                                  .at = at,
                                  .size = size},
                      .day = day};
    const struct fw_extent extent = shown(day);
    const size_t to = fw_plan_move_to(day->plan, day->move);
    fw_drawing_fit(&map.drawing, &extent, 17);
    if (is_here(day, to))
        fw_drawing_rings(&map.drawing, &day->plan->paddocks[to].rings,
                         FW_PEN_SHADED);
    fw_drawing_holes(&map.drawing);
    fences(&map);
    fw_drawing_frame(&map.drawing);
    /* Signs come before the letters, their names after them. */
    openings(&map, false);
    const struct fw_plan_place *trough = water(&map);
    if (trough)
        fw_drawing_sign(&map.drawing, FW_SIGN_WATER, trough->plane, "water");
    const size_t moved = map.drawing.sign_count;
    fw_drawing_places(&map.drawing);
    openings(&map, true);
    fw_drawing_names(&map.drawing, moved);
    paddocks(&map);
    set_lines(&map);
    fw_drawing_names(&map.drawing, map.drawing.sign_count);
    corners(&map);
    fw_drawing_north(&map.drawing, (struct fw_xy){beside.x + 6, beside.y},
                     FW_CARD_SIZE);
    fw_drawing_bar(&map.drawing, (struct fw_xy){beside.x + 20, beside.y + 8},
                   56, FW_CARD_SIZE, 0);
    fw_drawing_release(&map.drawing);
}
