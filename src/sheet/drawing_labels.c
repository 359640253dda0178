/* Where the labels of a drawing go. Each tries its places in turn, and takes
 * the first that is free; what comes first has the better choice. */
#include "sheet/drawing.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/length.h"
#include "plan/place.h"

#include <math.h>
#include <stdlib.h>

static bool try_box(struct fw_drawing *drawing, const char *words,
                    struct fw_type type, struct fw_box box)
{
    if (!fw_labels_are_free(&drawing->labels, &box))
        return false;
    drawing->paper->failed |= !fw_labels_take(&drawing->labels, &box);
    type.turn_deg = box.turn_deg;
    fw_paper_words_in(drawing->paper, drawing->page, words, &type, &box);
    return true;
}

bool fw_drawing_beside(struct fw_drawing *drawing, struct fw_xy at, double away,
                       const char *words, const struct fw_type *type)
{
    /* right, left, above, below, and aslant, as a map's reader looks */
    static const double side[][2] = {{1, 0},  {-1, 0},  {0, -1}, {0, 1},
                                     {1, -1}, {-1, -1}, {1, 1},  {-1, 1}};
    enum { sides = sizeof side / sizeof *side };
    const double most = 4 * away + 12;
    double wide, high;
    struct fw_type haloed = *type;
    haloed.behind = FW_BEHIND_HALO;
    fw_paper_measure(drawing->paper, words, type, &wide, &high);
    for (int clear = 1; clear >= 0; clear--) /* of lines, if it can be */
        for (int more = 0; more < most; more += 3)
            for (size_t i = 0; i < sides; i++) {
                const bool aslant = side[i][0] != 0 && side[i][1] != 0;
                const double off = (aslant ? 0.7 : 1) * (away + more);
                const struct fw_box box = {at.x + side[i][0] * (off + wide / 2),
                                           at.y + side[i][1] * (off + high / 2),
                                           wide, high, 0};
                if ((!clear || fw_labels_are_free(&drawing->lines, &box)) &&
                    try_box(drawing, words, haloed, box))
                    return true;
            }
    return false;
}

/* To be read without standing on one's head. */
static double upright_deg(double x, double y)
{
    const double deg = atan2(y, x) * FW_RADIAN_DEG;
    return deg > 90 ? deg - 180 : deg <= -90 ? deg + 180 : deg;
}

/* The label, as wide and high as it is and so far aside (its y), along the
 * piece of the line that has the place so far along it; false: it is too short.
 */
static bool lay_along(const struct fw_xy *at, size_t count, double along,
                      const struct fw_box *label, struct fw_box *box)
{
    for (size_t i = 0; i + 1 < count; i++) {
        const double x = at[i + 1].x - at[i].x, y = at[i + 1].y - at[i].y;
        const double length = fw_length(x, y);
        if (along > length && i + 2 < count) {
            along -= length;
            continue;
        }
        if (!(length > label->wide))
            return false;
        /* A label that would stick out at a bend is pushed back. */
        const double half = label->wide / 2;
        const double t = fmin(fmax(along, half), length - half) / length;
        *box = (struct fw_box){at[i].x + t * x + label->y * y / length,
                               at[i].y + t * y - label->y * x / length,
                               label->wide, label->high, upright_deg(x, y)};
        return true;
    }
    return false;
}

bool fw_drawing_along(struct fw_drawing *drawing, const size_t *line,
                      size_t count, double aside, const char *words,
                      double size_pt)
{
    static const double shares[] = {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8};
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    const struct fw_type type = {.size_pt = size_pt,
                                 .behind = aside == 0 ? FW_BEHIND_BLANK
                                                      : FW_BEHIND_HALO};
    struct fw_box label = {.y = aside}, box = {0};
    struct fw_xy *at = fw_alloc(count, sizeof *at);
    double length = 0;
    bool done = false;
    for (size_t i = 0; at && i < count; i++) {
        at[i] = fw_drawing_at(drawing, fw_plan__at(field, line[i]));
        if (i)
            length += fw_length(at[i].x - at[i - 1].x, at[i].y - at[i - 1].y);
    }
    fw_paper_measure(drawing->paper, words, &type, &label.wide, &label.high);
    for (size_t i = 0; at && !done && i < sizeof shares / sizeof *shares; i++)
        done = lay_along(at, count, shares[i] * length, &label, &box) &&
               try_box(drawing, words, type, box);
    drawing->paper->failed |= !at;
    fw_free(at);
    return done;
}

/* ---- inside ---- */

struct inside {
    struct fw_xy *ring; /* on the page */
    size_t count;
    struct fw_xy least, most;
    double turn_deg; /* of its longest side */
};

static bool contains(const struct inside *inside, double x, double y)
{
    bool in = false;
    for (size_t i = 0, k = inside->count - 1; i < inside->count; k = i++) {
        const struct fw_xy a = inside->ring[i], b = inside->ring[k];
        if ((a.y > y) != (b.y > y) &&
            x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x)
            in = !in;
    }
    return in;
}

/* Its corners and the middles of its sides, which does for what is as plain as
 * a paddock. */
static bool holds(const struct inside *inside, const struct fw_box *box)
{
    const double c = cos(box->turn_deg / FW_RADIAN_DEG),
                 s = sin(box->turn_deg / FW_RADIAN_DEG);
    for (int i = -1; i <= 1; i++)
        for (int k = -1; k <= 1; k++) {
            const double x = i * box->wide / 2, y = k * box->high / 2;
            if (!contains(inside, box->x + c * x - s * y,
                          box->y + s * x + c * y))
                return false;
        }
    return true;
}

static bool try_inside(struct fw_drawing *drawing, const struct inside *inside,
                       const char *words, const struct fw_type *type,
                       double turn_deg)
{
    enum { steps = 10 }; /* places across, from the middle outward */
    struct fw_box box = {.turn_deg = turn_deg};
    fw_paper_measure(drawing->paper, words, type, &box.wide, &box.high);
    const double wide = inside->most.x - inside->least.x,
                 high = inside->most.y - inside->least.y;
    for (int around = 0; around <= steps; around++)
        for (int i = -around; i <= around; i++)
            for (int k = -around; k <= around; k++) {
                if (abs(i) != around && abs(k) != around)
                    continue;
                box.x = inside->least.x + wide * (0.5 + 0.5 * i / steps);
                box.y = inside->least.y + high * (0.5 + 0.5 * k / steps);
                if (holds(inside, &box) && try_box(drawing, words, *type, box))
                    return true;
            }
    return false;
}

static void measure_ring(struct inside *inside)
{
    double longest = 0;
    inside->least = inside->most = inside->ring[0];
    for (size_t i = 0; i < inside->count; i++) {
        const struct fw_xy a = inside->ring[i],
                           b = inside->ring[(i + 1) % inside->count];
        inside->least.x = fmin(inside->least.x, a.x);
        inside->least.y = fmin(inside->least.y, a.y);
        inside->most.x = fmax(inside->most.x, a.x);
        inside->most.y = fmax(inside->most.y, a.y);
        if (fw_length(b.x - a.x, b.y - a.y) > longest) {
            longest = fw_length(b.x - a.x, b.y - a.y);
            inside->turn_deg = upright_deg(b.x - a.x, b.y - a.y);
        }
    }
}

bool fw_drawing_inside(struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, const char *words,
                       const double *sizes_pt, size_t count)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    struct inside inside = {0};
    bool done = false;
    struct fw_point *ring = fw_plan__ring(
        field, rings, fw_plan__greatest_ring(field, rings), &inside.count);
    inside.ring = fw_alloc(inside.count, sizeof *inside.ring);
    if (ring && inside.ring) {
        for (size_t i = 0; i < inside.count; i++)
            inside.ring[i] = fw_drawing_at(drawing, ring[i]);
        measure_ring(&inside);
        for (size_t i = 0; i < count && !done; i++) {
            const struct fw_type type = {.size_pt = sizes_pt[i],
                                         .bold = sizes_pt[0] > 8,
                                         .behind = FW_BEHIND_HALO};
            done = try_inside(drawing, &inside, words, &type, 0) ||
                   try_inside(drawing, &inside, words, &type, inside.turn_deg);
        }
    }
    drawing->paper->failed |= !ring || !inside.ring;
    fw_free(ring);
    fw_free(inside.ring);
    return done;
}
