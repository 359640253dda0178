/* Gates, water, corners, dangers, the bar and the north of a drawing. */
#include "sheet/drawing.h"

#include "base/angle.h"
#include "base/length.h"
#include "base/whole.h"
#include "plan/place.h"
#include "report/words.h"

#include <math.h>
#include <stdio.h>

static void take(struct fw_drawing *drawing, struct fw_xy at, double side)
{
    const struct fw_box box = {at.x, at.y, side, side, 0};
    drawing->paper->failed |= !fw_labels_take(&drawing->labels, &box);
}

static void polygon(struct fw_drawing *drawing, enum fw_pen pen,
                    struct fw_xy at, const double (*corners)[2], size_t count)
{
    const size_t start[] = {0, count};
    struct fw_xy points[8];
    for (size_t i = 0; i < count; i++)
        points[i] = (struct fw_xy){at.x + corners[i][0], at.y + corners[i][1]};
    fw_paper_area(drawing->paper, drawing->page, pen, points, start, 1);
}

/* A square that is crossed, a drop, a flash, a square: known by shape. */
void fw_drawing_sign_at(struct fw_drawing *drawing, enum fw_sign sign,
                        struct fw_xy at)
{
    static const double square[][2] = {{-4, -4}, {4, -4}, {4, 4}, {-4, 4}};
    static const double drop[][2] = {{0, -6},   {3.2, -1}, {3.2, 2.2},
                                     {1.2, 4},  {-1.2, 4}, {-3.2, 2.2},
                                     {-3.2, -1}};
    static const double flash[][2] = {{1.5, -7}, {-4, 1}, {-0.5, 1},
                                      {-2, 7},   {4, -2}, {0.5, -2}};
    const struct fw_xy bars[2][2] = {
        {{at.x - 4, at.y - 4}, {at.x + 4, at.y + 4}},
        {{at.x - 4, at.y + 4}, {at.x + 4, at.y - 4}}};
    switch (sign) {
    case FW_SIGN_GATE:
        polygon(drawing, FW_PEN_WHITE, at, square, 4);
        for (int i = 0; i < 2; i++)
            fw_paper_line(drawing->paper, drawing->page, FW_PEN_PLAIN, bars[i],
                          2);
        break;
    case FW_SIGN_WATER:
        polygon(drawing, FW_PEN_SOLID, at, drop, 7);
        break;
    case FW_SIGN_ENERGIZER:
        polygon(drawing, FW_PEN_SOLID, at, flash, 6);
        break;
    case FW_SIGN_PARK:
        polygon(drawing, FW_PEN_WHITE, at, square, 4);
        break;
    }
}

static const double sign_side[] = {[FW_SIGN_GATE] = 12,
                                   [FW_SIGN_WATER] = 12,
                                   [FW_SIGN_ENERGIZER] = 14,
                                   [FW_SIGN_PARK] = 12};

/* At the place itself, else as near to it as nothing is in the way: gate and
 * water may be told at one corner. */
static struct fw_xy stand(const struct fw_drawing *drawing, struct fw_xy at,
                          double side)
{
    static const double ways[][2] = {{1, 0},  {-1, 0},  {0, 1}, {0, -1},
                                     {1, -1}, {-1, -1}, {1, 1}, {-1, 1}};
    const double step = 3;
    enum { most_steps = 10 };
    for (int steps = 0; steps <= most_steps; steps++)
        for (size_t i = 0; i < (steps ? sizeof ways / sizeof *ways : 1); i++) {
            const struct fw_box box = {at.x + steps * step * ways[i][0],
                                       at.y + steps * step * ways[i][1], side,
                                       side, 0};
            if (fw_labels_are_free(&drawing->labels, &box))
                return (struct fw_xy){box.x, box.y};
        }
    return at;
}

void fw_drawing_sign(struct fw_drawing *drawing, enum fw_sign sign,
                     struct fw_point place, const char *words)
{
    const struct fw_xy told = fw_drawing_at(drawing, place);
    const size_t most = sizeof drawing->signs / sizeof *drawing->signs;
    if (!fw_drawing_shows(drawing, told) || drawing->sign_count == most)
        return;
    const struct fw_xy at = stand(drawing, told, sign_side[sign]);
    fw_drawing_sign_at(drawing, sign, at);
    take(drawing, at, sign_side[sign]);
    drawing->signs[drawing->sign_count++] =
        (struct fw_sign_place){at, sign_side[sign] / 2 + 1, words};
}

void fw_drawing_names(struct fw_drawing *drawing, size_t count)
{
    const struct fw_type type = {.size_pt = 9};
    for (size_t i = 0; i < drawing->sign_count && i < count; i++) {
        struct fw_sign_place *sign = &drawing->signs[i];
        if (sign->words)
            fw_drawing_close_by(drawing, sign->at, sign->away, sign->words,
                                &type);
        sign->words = NULL;
    }
}

void fw_drawing_ring(struct fw_drawing *drawing, struct fw_xy at)
{
    const double radius = 3.5;
    fw_paper_disc(drawing->paper, drawing->page, FW_PEN_WHITE, at, radius);
    take(drawing, at, 2 * radius);
}

/* Outside, along the line that halves the corner. */
static struct fw_xy outward(const struct fw_drawing *drawing, size_t corner)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    const size_t n = field->corner_count;
    const struct fw_xy before = fw_drawing_at(
        drawing, fw_plan__at(field, field->corners[(corner + n - 1) % n]));
    const struct fw_xy here =
        fw_drawing_at(drawing, fw_plan__at(field, field->corners[corner]));
    const struct fw_xy next = fw_drawing_at(
        drawing, fw_plan__at(field, field->corners[(corner + 1) % n]));
    const double in =
        fmax(fw_length(here.x - before.x, here.y - before.y), 1e-6);
    const double out = fmax(fw_length(next.x - here.x, next.y - here.y), 1e-6);
    /* Corners run clockwise, so that outside is to the left. */
    const struct fw_xy normal = {
        (here.y - before.y) / in + (next.y - here.y) / out,
        -(here.x - before.x) / in - (next.x - here.x) / out};
    const double length = fmax(fw_length(normal.x, normal.y), 1e-6);
    return (struct fw_xy){normal.x / length, normal.y / length};
}

/* Straight out, else a little to the side, else farther: a gate or a trough may
 * stand at the corner. */
static bool find_place(struct fw_drawing *drawing, struct fw_xy at,
                       struct fw_xy out, double radius, struct fw_box *box)
{
    static const double turns_deg[] = {0, 35, -35, 70, -70};
    static const double more[] = {0, 7, 14};
    for (size_t i = 0; i < sizeof more / sizeof *more; i++)
        for (size_t k = 0; k < sizeof turns_deg / sizeof *turns_deg; k++) {
            const double c = cos(turns_deg[k] / FW_RADIAN_DEG),
                         s = sin(turns_deg[k] / FW_RADIAN_DEG);
            const double away = radius + 3 + more[i];
            const struct fw_box ring = {at.x + away * (c * out.x - s * out.y),
                                        at.y + away * (s * out.x + c * out.y),
                                        2 * radius, 2 * radius, 0};
            if (!fw_labels_are_free(&drawing->labels, &ring))
                continue;
            drawing->paper->failed |= !fw_labels_take(&drawing->labels, &ring);
            box->x = ring.x;
            box->y = ring.y;
            return true;
        }
    return false;
}

bool fw_drawing_corner(struct fw_drawing *drawing, size_t corner,
                       double size_pt)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    const size_t number = fw_plan_corner_number(field, corner);
    const struct fw_type type = {.size_pt = size_pt};
    const struct fw_xy at =
        fw_drawing_at(drawing, fw_plan__at(field, field->corners[corner]));
    char words[16];
    struct fw_box box = {0};
    if (!number || !fw_drawing_shows(drawing, at))
        return false;
    snprintf(words, sizeof words, "%u", (unsigned)number);
    fw_paper_measure(drawing->paper, words, &type, &box.wide, &box.high);
    const double radius = fw_length(box.wide, box.high * 0.75) / 2 + 1;
    if (!find_place(drawing, at, outward(drawing, corner), radius, &box))
        return false;
    fw_paper_disc(drawing->paper, drawing->page, FW_PEN_WHITE,
                  (struct fw_xy){box.x, box.y}, radius);
    fw_paper_words_in(drawing->paper, drawing->page, words, &type, &box);
    return true;
}

void fw_drawing_danger(struct fw_drawing *drawing, struct fw_point place,
                       size_t number)
{
    static const double kite[][2] = {{0, -6}, {6, 0}, {0, 6}, {-6, 0}};
    const double high = 12, taken = 9; /* its corners are slim */
    const struct fw_type type = {.size_pt = 8, .bold = true};
    const struct fw_xy found = fw_drawing_at(drawing, place);
    char words[24];
    if (!fw_drawing_shows(drawing, found))
        return;
    const struct fw_xy at = stand(drawing, found, 2 * high - taken);
    polygon(drawing, FW_PEN_HATCHED, at, kite, 4);
    take(drawing, at, taken);
    snprintf(words, sizeof words, "!%u", (unsigned)number);
    fw_drawing_beside(drawing, at, 6, words, &type);
}

static void place(struct fw_drawing *drawing, enum fw_sign sign,
                  const struct fw_plan_place *of, const char *words)
{
    if (of->given)
        fw_drawing_sign(drawing, sign, of->plane, words);
}

void fw_drawing_places(struct fw_drawing *drawing)
{
    const struct fw_plan *plan = drawing->plan;
    const struct fw_plan_field *field = &plan->fields[drawing->field];
    place(drawing, FW_SIGN_GATE, &field->gate, "gate");
    place(drawing, FW_SIGN_WATER, &field->water, "water");
    place(drawing, FW_SIGN_PARK, &field->park, "vehicle");
    if (plan->energizer_place.given)
        fw_drawing_sign(
            drawing, FW_SIGN_ENERGIZER,
            fw_plane_forward(&field->plane, plan->energizer_place.lonlat),
            "energizer");
}

double fw_drawing_bar(struct fw_drawing *drawing, struct fw_xy at,
                      double most_pt, double size_pt, double pace_m)
{
    const double point_m = 1 / fw_scale_points(drawing->scale, 1);
    const double bar_m =
        fw_scale_bar_m(most_pt * point_m, drawing->plan->units == FW_US);
    const double length = fw_scale_points(drawing->scale, bar_m);
    const struct fw_type type = {.size_pt = size_pt};
    const struct fw_xy bar[] = {at, {at.x + length, at.y}};
    char words[80], metres[FW_WORDS];
    fw_report_length(bar_m, drawing->plan->units, metres);
    if (pace_m > 0)
        snprintf(words, sizeof words, "%s, %d paces", metres,
                 fw_whole(bar_m / pace_m));
    else
        snprintf(words, sizeof words, "%s", metres);
    fw_paper_line(drawing->paper, drawing->page, FW_PEN_BAR, bar, 2);
    for (int i = 0; i < 2; i++) {
        const struct fw_xy end[] = {{bar[i].x, at.y - 3}, {bar[i].x, at.y + 3}};
        fw_paper_line(drawing->paper, drawing->page, FW_PEN_PLAIN, end, 2);
    }
    struct fw_xy beside = {at.x, at.y + 3};
    fw_paper_words(drawing->paper, drawing->page, words, &type, beside);
    double wide, high;
    fw_paper_measure(drawing->paper, words, &type, &wide, &high);
    return fmax(length, wide);
}

void fw_drawing_north(struct fw_drawing *drawing, struct fw_xy at,
                      double size_pt)
{
    static const double arrow[][2] = {{0, 0}, {4.5, 15}, {0, 11}, {-4.5, 15}};
    const struct fw_type type = {.size_pt = size_pt, .bold = true};
    double wide, high;
    polygon(drawing, FW_PEN_SOLID, at, arrow, 4);
    fw_paper_measure(drawing->paper, "N", &type, &wide, &high);
    fw_paper_words(drawing->paper, drawing->page, "N", &type,
                   (struct fw_xy){at.x - wide / 2, at.y + 15});
}
