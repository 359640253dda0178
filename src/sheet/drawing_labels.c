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
    const double gap = 1.5; /* or two labels read as one word */
    struct fw_box apart = box;
    apart.wide += 2 * gap;
    if (!fw_labels_are_free(&drawing->labels, &apart))
        return false;
    drawing->paper->failed |= !fw_labels_take(&drawing->labels, &box);
    type.turn_deg = box.turn_deg;
    fw_paper_words_in(drawing->paper, drawing->page, words, &type, &box);
    return true;
}

static bool try_round(struct fw_drawing *drawing, struct fw_xy at, double away,
                      const char *words, const struct fw_type *type, bool clear)
{
    /* right, left, above, below, and aslant, as a map's reader looks */
    static const double side[][2] = {{1, 0},  {-1, 0},  {0, -1}, {0, 1},
                                     {1, -1}, {-1, -1}, {1, 1},  {-1, 1}};
    enum { sides = sizeof side / sizeof *side };
    double wide, high;
    fw_paper_measure(drawing->paper, words, type, &wide, &high);
    for (size_t i = 0; i < sides; i++) {
        const bool aslant = side[i][0] != 0 && side[i][1] != 0;
        const double off = (aslant ? 0.7 : 1) * away;
        const struct fw_box box = {at.x + side[i][0] * (off + wide / 2),
                                   at.y + side[i][1] * (off + high / 2), wide,
                                   high, 0};
        if ((!clear || fw_labels_are_free(&drawing->lines, &box)) &&
            try_box(drawing, words, *type, box))
            return true;
    }
    return false;
}

/* Clear of lines, if it can be within that distance. */
static bool try_within(struct fw_drawing *drawing, struct fw_xy at, double away,
                       double most, const char *words,
                       const struct fw_type *type)
{
    struct fw_type haloed = *type;
    haloed.behind = FW_BEHIND_HALO;
    for (int clear = 1; clear >= 0; clear--)
        for (int more = 0; away + more < most; more += 3)
            if (try_round(drawing, at, away + more, words, &haloed, clear == 1))
                return true;
    return false;
}

bool fw_drawing_close_by(struct fw_drawing *drawing, struct fw_xy at,
                         double away, const char *words,
                         const struct fw_type *type)
{
    const double near = 9; /* farther off it could be another place's */
    return try_within(drawing, at, away, away + near, words, type);
}

bool fw_drawing_beside(struct fw_drawing *drawing, struct fw_xy at, double away,
                       const char *words, const struct fw_type *type)
{
    return fw_drawing_close_by(drawing, at, away, words, type) ||
           try_within(drawing, at, away, 5 * away + 12, words, type);
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
    double turn_deg;   /* of its longest side */
    double high_share; /* of words' height that has to be inside */
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
 * a paddock. Of a slim one only so much of the letters' height. */
static bool holds(const struct inside *inside, const struct fw_box *box)
{
    const double c = cos(box->turn_deg / FW_RADIAN_DEG),
                 s = sin(box->turn_deg / FW_RADIAN_DEG);
    for (int i = -1; i <= 1; i++)
        for (int k = -1; k <= 1; k++) {
            const double x = i * box->wide / 2,
                         y = k * inside->high_share * box->high / 2;
            if (!contains(inside, box->x + c * x - s * y,
                          box->y + s * x + c * y))
                return false;
        }
    return true;
}

/* Places over the piece, from the middle outward, in rows that are turned so:
 * the middle row of a slim one runs along it. */
struct places {
    double c, s; /* of the turn */
    struct fw_xy least, most;
    int around, across, down;
};
enum { place_steps = 10 };

static struct fw_xy turned(struct fw_xy at, double c, double s)
{
    return (struct fw_xy){c * at.x + s * at.y, c * at.y - s * at.x};
}

static struct places places_of(const struct inside *inside, double turn_deg)
{
    struct places places = {.c = cos(turn_deg / FW_RADIAN_DEG),
                            .s = sin(turn_deg / FW_RADIAN_DEG),
                            .down = -1};
    places.least = places.most = turned(inside->ring[0], places.c, places.s);
    for (size_t i = 1; i < inside->count; i++) {
        const struct fw_xy at = turned(inside->ring[i], places.c, places.s);
        places.least.x = fmin(places.least.x, at.x);
        places.least.y = fmin(places.least.y, at.y);
        places.most.x = fmax(places.most.x, at.x);
        places.most.y = fmax(places.most.y, at.y);
    }
    return places;
}

/* False: there are no more. */
static bool next_place(struct places *places, struct fw_xy *at)
{
    do {
        if (++places->down > places->around) {
            places->down = -places->around;
            if (++places->across > places->around) {
                places->around++;
                places->across = places->down = -places->around;
            }
        }
    } while (abs(places->across) != places->around &&
             abs(places->down) != places->around);
    const double wide = places->most.x - places->least.x,
                 high = places->most.y - places->least.y;
    *at = turned(
        (struct fw_xy){
            places->least.x + wide * (0.5 + 0.5 * places->across / place_steps),
            places->least.y + high * (0.5 + 0.5 * places->down / place_steps)},
        places->c, -places->s);
    return places->around <= place_steps;
}

static bool try_inside(struct fw_drawing *drawing, const struct inside *inside,
                       const char *words, const struct fw_type *type,
                       double turn_deg)
{
    struct fw_box box = {.turn_deg = turn_deg};
    struct places places = places_of(inside, turn_deg);
    struct fw_xy at;
    fw_paper_measure(drawing->paper, words, type, &box.wide, &box.high);
    while (next_place(&places, &at)) {
        box.x = at.x;
        box.y = at.y;
        if (holds(inside, &box) && try_box(drawing, words, *type, box))
            return true;
    }
    return false;
}

static double longest_side_deg(const struct inside *inside)
{
    double longest = 0, deg = 0;
    for (size_t i = 0; i < inside->count; i++) {
        const struct fw_xy a = inside->ring[i],
                           b = inside->ring[(i + 1) % inside->count];
        if (fw_length(b.x - a.x, b.y - a.y) > longest) {
            longest = fw_length(b.x - a.x, b.y - a.y);
            deg = upright_deg(b.x - a.x, b.y - a.y);
        }
    }
    return deg;
}

/* The greatest piece of the ground, on the page; false: memory ran out. */
static bool take_piece(struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, struct inside *inside)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    struct fw_point *ring = fw_plan__ring(
        field, rings, fw_plan__greatest_ring(field, rings), &inside->count);
    inside->ring = ring ? fw_alloc(inside->count, sizeof *inside->ring) : NULL;
    for (size_t i = 0; inside->ring && i < inside->count; i++)
        inside->ring[i] = fw_drawing_at(drawing, ring[i]);
    if (inside->ring)
        inside->turn_deg = longest_side_deg(inside);
    drawing->paper->failed |= !inside->ring;
    fw_free(ring);
    return inside->ring != NULL;
}

bool fw_drawing_inside(struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, const char *words,
                       const double *sizes_pt, size_t count, double high_share)
{
    struct inside inside = {.high_share = high_share};
    bool done = false;
    if (!take_piece(drawing, rings, &inside))
        return false;
    for (size_t i = 0; i < count && !done; i++) {
        const struct fw_type type = {.size_pt = sizes_pt[i],
                                     .bold = sizes_pt[0] > 8,
                                     .behind = FW_BEHIND_HALO,
                                     .centred = true};
        done = try_inside(drawing, &inside, words, &type, 0) ||
               try_inside(drawing, &inside, words, &type, inside.turn_deg);
    }
    fw_free(inside.ring);
    return done;
}

static const double dot_pt = 1.5;

static struct fw_box dot_at(struct fw_xy at)
{
    return (struct fw_box){at.x, at.y, 2 * dot_pt, 2 * dot_pt, 0};
}

/* From a dot to the words that were set last; no other words over the dot. */
static void lead(struct fw_drawing *drawing, struct fw_xy at)
{
    const struct fw_box dot = dot_at(at);
    const struct fw_box *box =
        &drawing->labels.boxes[drawing->labels.count - 1];
    const struct fw_xy leader[] = {
        at,
        {fmin(fmax(at.x, box->x - box->wide / 2), box->x + box->wide / 2),
         fmin(fmax(at.y, box->y - box->high / 2), box->y + box->high / 2)}};
    fw_paper_disc(drawing->paper, drawing->page, FW_PEN_SOLID, at, dot_pt);
    fw_paper_line(drawing->paper, drawing->page, FW_PEN_FINE, leader, 2);
    drawing->paper->failed |= !fw_labels_take(&drawing->labels, &dot);
}

bool fw_drawing_led(struct fw_drawing *drawing,
                    const struct fw_plan_rings *rings, const char *words,
                    const struct fw_type *type)
{
    const double away = 8;
    struct inside inside = {0};
    struct fw_xy at;
    bool done = false;
    if (!take_piece(drawing, rings, &inside))
        return false;
    struct places places = places_of(&inside, inside.turn_deg);
    while (next_place(&places, &at)) {
        const struct fw_box dot = dot_at(at);
        if (contains(&inside, at.x, at.y) &&
            fw_labels_are_free(&drawing->labels, &dot)) {
            done = fw_drawing_beside(drawing, at, away, words, type);
            break;
        }
    }
    if (done && !drawing->paper->failed)
        lead(drawing, at);
    fw_free(inside.ring);
    return done;
}
