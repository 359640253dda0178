/* The map of a field: everything in its place for the whole of the plan. Who
 * looks at it sees the field's outline thick, in it the paddocks with their
 * names in the order of grazing, every fence with its length, and where to
 * begin: gate, water, energizer. */
#include "report/report.h"
#include "sheet/sheet.h"

#include "plan/place.h"

#include <math.h>
#include <stdio.h>

static const double strip_pt = 54; /* below the map: bar, north, legend */

/* ---- labels, the most wanted first ---- */

/* Those that an end of a fence is counted from, before all others. */
static bool is_counted_from(const struct fw_plan *plan, size_t field,
                            size_t corner)
{
    for (size_t i = 0; i < plan->fence_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[i];
        const struct fw_plan_paced *ends[] = {&fence->a, &fence->b};
        for (int k = 0; fence->field == field && k < 2; k++)
            if (ends[k]->by == FW_PACED_SIDE &&
                (ends[k]->corner == corner || ends[k]->towards == corner))
                return true;
    }
    return false;
}

static void corners(struct fw_drawing *drawing)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    for (int wanted = 1; wanted >= 0; wanted--)
        for (size_t i = 0; i < field->corner_count; i++)
            if (is_counted_from(drawing->plan, drawing->field, i) ==
                (wanted == 1))
                fw_drawing_corner(drawing, i, 8);
}

static void paddocks(struct fw_drawing *drawing)
{
    static const double sizes[] = {11, 9, 7.5, 6};
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_field *field = &plan->fields[drawing->field];
    const size_t end = field->first_paddock + field->paddock_count;
    for (size_t i = field->first_paddock; i < end; i++)
        drawing->numbers_left +=
            !fw_drawing_inside(drawing, &plan->paddocks[i].rings,
                               plan->paddocks[i].id, sizes, 4, 1);
}

/* Day and size, where a paddock has room for more than its name. */
static void paddock_days(struct fw_drawing *drawing)
{
    static const double size[] = {7};
    const size_t weekday = sizeof "Mon" - 1;
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_field *field = &plan->fields[drawing->field];
    const struct fw_list stays = fw_plan_stays_of(plan, drawing->field);
    for (size_t i = stays.first; i < stays.first + stays.count; i++) {
        const size_t cell = plan->time.stays[i].cell;
        char day[FW_WORDS], area[FW_WORDS], words[2 * FW_WORDS];
        if (cell < field->first_paddock || cell >= plan->paddock_count)
            continue;
        snprintf(
            words, sizeof words, "%s\n%s",
            fw_report_day(plan->time.stays[i].enter, false, day) + weekday + 1,
            fw_report_area(plan->paddocks[cell].area_ha, plan->units, area));
        fw_drawing_inside(drawing, &plan->paddocks[cell].rings, words, size, 1,
                          1);
    }
}

static void length_of(struct fw_drawing *drawing, size_t fence)
{
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_fence *of = &plan->fences[fence];
    const bool named =
        of->role == FW_FENCE_STANDING || of->role == FW_FENCE_LANE;
    char length[FW_WORDS], words[FW_ID + FW_WORDS + 2];
    fw_report_length(of->length_m, plan->units, length);
    snprintf(words, sizeof words, "%s%s%s", named ? of->id : "",
             named ? " " : "", length);
    drawing->lengths_left +=
        !fw_drawing_along(drawing, of->line, of->line_count, 0, words, 6.5);
}

/* The whole side from corner to corner, outside it. */
static void side_of(struct fw_drawing *drawing, size_t fence)
{
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_fence *of = &plan->fences[fence];
    const struct fw_plan_field *field = &plan->fields[of->field];
    char length[FW_WORDS], words[2 * FW_WORDS];
    if (of->side == FW_NONE || !fw_plan_side_number(field, of->side))
        return;
    fw_report_length(of->length_m, plan->units, length);
    snprintf(words, sizeof words, "side %zu, %s",
             fw_plan_side_number(field, of->side), length);
    if (!fw_drawing_along(drawing, of->line, of->line_count, 8, words, 7) &&
        !fw_drawing_along(drawing, of->line, of->line_count, -8, words, 7))
        drawing->lengths_left++;
}

static void lengths(struct fw_drawing *drawing)
{
    static const enum fw_fence_role order[] = {
        FW_FENCE_STANDING, FW_FENCE_LANE, FW_FENCE_MOVED, FW_FENCE_PERIMETER};
    const struct fw_plan *plan = drawing->plan;
    for (size_t k = 0; k < sizeof order / sizeof *order; k++)
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            if (fence->field != drawing->field || fence->role != order[k] ||
                !fw_plan__is_used(plan, i))
                continue;
            if (fence->role == FW_FENCE_PERIMETER)
                side_of(drawing, i);
            else
                length_of(drawing, i);
        }
}

static void dangers(struct fw_drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    for (size_t i = 0; i < plan->finding_count; i++) {
        bool first;
        const size_t number = fw_report_drawn_number(plan, i, &first);
        if (plan->findings[i].field == drawing->field && number)
            fw_drawing_danger(drawing, plan->findings[i].place.plane, number);
    }
}

/* ---- lines ---- */

/* Where the next part of the field begins there is no boundary. */
static enum fw_fence_role looks_like(const struct fw_plan *plan, size_t fence)
{
    return fw_plan_border_along(plan, fence) == FW_NONE
               ? plan->fences[fence].role
               : FW_FENCE_MOVED;
}

static void fences(struct fw_drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    for (int role = FW_FENCE_MOVED; role >= FW_FENCE_PERIMETER; role--)
        for (size_t i = 0; i < plan->fence_count; i++)
            if (plan->fences[i].field == drawing->field &&
                (int)plan->fences[i].role == role && fw_plan__is_used(plan, i))
                fw_drawing_fence(drawing, i,
                                 fw_drawing_pen(looks_like(plan, i)));
}

static void lanes(struct fw_drawing *drawing)
{
    for (size_t i = 0; i < drawing->plan->lane_count; i++)
        if (drawing->plan->lanes[i].field == drawing->field)
            fw_drawing_rings(drawing, &drawing->plan->lanes[i].rings,
                             FW_PEN_SHADED);
}

/* ---- round the map ---- */

static double head(struct fw_drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_field *field = &plan->fields[drawing->field];
    const double wide = drawing->page->wide - 2 * FW_SHEET_MARGIN;
    const struct fw_type title = {
        .size_pt = 15, .bold = true, .wide_pt = wide, .most_lines = 2};
    const struct fw_type under = {
        .size_pt = 9.5, .wide_pt = wide, .most_lines = 2};
    struct fw_xy at = {FW_SHEET_MARGIN, FW_SHEET_MARGIN};
    struct fw_text words = {0};
    char area[FW_WORDS], from[FW_WORDS], to[FW_WORDS];
    fw_text_addf(&words, "%s: %s", plan->farm_name, field->name);
    if (!words.failed)
        at.y += fw_paper_words(drawing->paper, drawing->page, words.bytes,
                               &title, at);
    drawing->paper->failed |= words.failed;
    fw_text_release(&words);
    fw_text_addf(&words, "%s",
                 fw_report_area(field->area_ha, plan->units, area));
    const struct fw_list stays = fw_plan_stays_of(plan, drawing->field);
    if (stays.count > 0)
        fw_text_addf(
            &words, "; %zu paddock%s, %s to %s; %d head", field->paddock_count,
            field->paddock_count == 1 ? "" : "s",
            fw_report_day(plan->time.stays[stays.first].enter, false, from),
            fw_report_day(plan->time.stays[stays.first + stays.count - 1].leave,
                          true, to),
            plan->flock.head);
    if (field->no_plan)
        fw_text_addf(&words, "; no plan: %s", field->no_plan);
    if (!words.failed)
        at.y += fw_paper_words(drawing->paper, drawing->page, words.bytes,
                               &under, at);
    drawing->paper->failed |= words.failed;
    fw_text_release(&words);
    return at.y + 4;
}

static bool has_role(const struct fw_drawing *drawing, enum fw_fence_role role)
{
    for (size_t i = 0; i < drawing->plan->fence_count; i++)
        if (drawing->plan->fences[i].field == drawing->field &&
            drawing->plan->fences[i].role == role &&
            fw_plan__is_used(drawing->plan, i))
            return true;
    return false;
}

static bool has_danger(const struct fw_drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    bool first;
    for (size_t i = 0; i < plan->finding_count; i++)
        if (plan->findings[i].field == drawing->field &&
            fw_report_drawn_number(plan, i, &first))
            return true;
    return false;
}

static void legend_row(struct fw_drawing *drawing, struct fw_xy *at,
                       enum fw_pen pen, bool area, const char *words)
{
    const struct fw_type type = {.size_pt = 8};
    const double wide = 34, line = 11.5;
    const struct fw_xy points[] = {{at->x, at->y + 5.5},
                                   {at->x + wide, at->y + 5.5}};
    if (area)
        fw_paper_rectangle(drawing->paper, drawing->page, pen,
                           (struct fw_xy){at->x, at->y + 1.5},
                           (struct fw_xy){wide, 8});
    else
        fw_paper_line(drawing->paper, drawing->page, pen, points, 2);
    fw_paper_words(drawing->paper, drawing->page, words, &type,
                   (struct fw_xy){at->x + wide + 5, at->y});
    at->y += line;
}

static void legend(struct fw_drawing *drawing, struct fw_xy at)
{
    static const struct {
        enum fw_fence_role role;
        const char *words;
    } rows[] = {
        {FW_FENCE_PERIMETER, "boundary"},
        {FW_FENCE_STANDING, "block line: stands till its block is done"},
        {FW_FENCE_LANE, "lane fence: stands"},
        {FW_FENCE_MOVED, "moved fence: goes with the flock"},
    };
    const double column = 205;
    struct fw_xy row = at;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (has_role(drawing, rows[i].role))
            legend_row(drawing, &row, fw_drawing_pen(rows[i].role), false,
                       rows[i].words);
    row = (struct fw_xy){at.x + column, at.y};
    if (drawing->plan->fields[drawing->field].rings.ring_count >
        drawing->plan->fields[drawing->field].rings.piece_count)
        legend_row(drawing, &row, FW_PEN_HATCHED, true, "not grazed");
    for (size_t i = 0; i < drawing->plan->lane_count; i++)
        if (drawing->plan->lanes[i].field == drawing->field) {
            legend_row(drawing, &row, FW_PEN_SHADED, true, "lane, apron");
            break;
        }
    const struct fw_type type = {.size_pt = 8};
    if (has_danger(drawing))
        fw_paper_words(drawing->paper, drawing->page,
                       "!1  danger: see the list", &type, row);
}

static void say_scale(struct fw_drawing *drawing, struct fw_xy at,
                      double grid_m)
{
    const struct fw_type type = {.size_pt = 8};
    char grid[FW_WORDS];
    struct fw_text words = {0};
    fw_report_length(grid_m, drawing->plan->units, grid);
    if (drawing->plan->units == FW_US)
        fw_text_addf(&words, "1 inch is %.0f ft", drawing->scale / 12);
    else
        fw_text_addf(&words, "1 : %.0f", drawing->scale);
    fw_text_addf(&words, "; crosses every %s", grid);
    if (!words.failed)
        fw_paper_words(drawing->paper, drawing->page, words.bytes, &type, at);
    drawing->paper->failed |= words.failed;
    fw_text_release(&words);
}

static void say_left_out(struct fw_drawing *drawing, struct fw_xy at)
{
    const struct fw_type type = {
        .size_pt = 8, .wide_pt = drawing->page->wide - 2 * FW_SHEET_MARGIN};
    struct fw_text words = {0};
    if (drawing->numbers_left)
        fw_text_addf(&words,
                     "%zu paddock%s too small here for a name: the names run "
                     "in the order of grazing. ",
                     drawing->numbers_left,
                     drawing->numbers_left == 1 ? " is" : "s are");
    if (drawing->lengths_left)
        fw_text_addf(&words,
                     "%zu length%s no room here: the list of moves has those "
                     "of moved fences.",
                     drawing->lengths_left,
                     drawing->lengths_left == 1 ? " has" : "s have");
    if (words.bytes && !words.failed)
        fw_paper_words(drawing->paper, drawing->page, words.bytes, &type, at);
    drawing->paper->failed |= words.failed;
    fw_text_release(&words);
}

static void round_the_map(struct fw_drawing *drawing, double grid_m)
{
    const struct fw_xy below = {drawing->at.x,
                                drawing->at.y + drawing->size.y + 6};
    fw_drawing_north(drawing, (struct fw_xy){below.x + 8, below.y}, 9);
    fw_drawing_bar(drawing, (struct fw_xy){below.x + 26, below.y + 6}, 130, 8,
                   drawing->plan->pace_m);
    say_scale(drawing, (struct fw_xy){below.x, below.y + 28}, grid_m);
    say_left_out(drawing, (struct fw_xy){below.x, below.y + 40});
    legend(drawing, (struct fw_xy){below.x + 172, below.y - 3});
}

/* The page lies the way in which the field comes out greater; upright, if both
 * do as well. */
static struct fw_xy lies(const struct fw_plan *plan,
                         const struct fw_extent *extent)
{
    const double round_pt = 160; /* what stands above and below the map */
    const struct fw_xy upright = fw_sheet_size(plan);
    const struct fw_xy across = {upright.y, upright.x};
    const double wide = extent->x1 - extent->x0, high = extent->y1 - extent->y0;
    const double up = fmax(wide / upright.x, high / (upright.y - round_pt));
    const double over = fmax(wide / across.x, high / (across.y - round_pt));
    return over < up ? across : upright;
}

static void draw(struct fw_drawing *drawing)
{
    const double least_cross_pt = 60;
    const double grid_m =
        fw_scale_bar_m(2 * least_cross_pt / fw_scale_points(drawing->scale, 1),
                       drawing->plan->units == FW_US);
    fw_drawing_frame(drawing);
    fw_drawing_grid(drawing, grid_m);
    lanes(drawing);
    fw_drawing_holes(drawing);
    fences(drawing);
    fw_drawing_places(drawing);
    fw_drawing_names(drawing, drawing->sign_count);
    paddocks(drawing);
    corners(drawing);
    dangers(drawing);
    paddock_days(drawing);
    lengths(drawing);
    round_the_map(drawing, grid_m);
}

void fw_sheet_map(struct fw_paper *paper, const struct fw_plan *plan,
                  size_t field)
{
    struct fw_extent extent = {0};
    const struct fw_plan_field *of = &plan->fields[field];
    const double foot = strip_pt + FW_SHEET_FOOT;
    fw_extent_add_rings(&extent, of, &of->rings);
    const struct fw_xy size = lies(plan, &extent);
    struct fw_drawing drawing = {
        .paper = paper,
        .page = fw_paper_page(paper, size.x, size.y, FW_SHEET_MARGIN),
        .plan = plan,
        .field = field,
    };
    if (!drawing.page)
        return;
    drawing.page->drawing = true;
    drawing.at = (struct fw_xy){FW_SHEET_MARGIN, head(&drawing)};
    drawing.size =
        (struct fw_xy){size.x - 2 * FW_SHEET_MARGIN,
                       size.y - drawing.at.y - FW_SHEET_MARGIN - foot};
    fw_drawing_fit(&drawing, &extent, 26);
    draw(&drawing);
    fw_drawing_release(&drawing);
}
