/* What of lines and ground lies within the frame of a drawing: a card shows a
 * day's ground, and the field goes on beyond it. */
#include "sheet/drawing.h"

#include "base/alloc.h"

#include <math.h>

struct frame {
    double least[2], most[2]; /* x, y */
};

static struct frame frame_of(const struct fw_drawing *drawing)
{
    return (struct frame){
        {drawing->at.x, drawing->at.y},
        {drawing->at.x + drawing->size.x, drawing->at.y + drawing->size.y}};
}

/* ---- lines ---- */

/* From where to where along a piece it is within the frame, 0 to 1 (Liang and
 * Barsky, 1984). */
static bool within(const struct frame *frame, struct fw_xy a, struct fw_xy b,
                   double *from, double *to)
{
    const double start[2] = {a.x, a.y}, way[2] = {b.x - a.x, b.y - a.y};
    *from = 0;
    *to = 1;
    for (int i = 0; i < 2; i++) {
        if (way[i] == 0) {
            if (start[i] < frame->least[i] || start[i] > frame->most[i])
                return false;
            continue;
        }
        const double t0 = (frame->least[i] - start[i]) / way[i];
        const double t1 = (frame->most[i] - start[i]) / way[i];
        *from = fmax(*from, fmin(t0, t1));
        *to = fmin(*to, fmax(t0, t1));
    }
    return *from < *to;
}

static struct fw_xy between(struct fw_xy a, struct fw_xy b, double t)
{
    return t <= 0 ? a
           : t >= 1
               ? b
               : (struct fw_xy){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* Runs of pieces that go on within the frame are one line, so that its dashes
 * do too. */
void fw_drawing_line(struct fw_drawing *drawing, enum fw_pen pen,
                     const struct fw_xy *points, size_t count)
{
    const struct frame frame = frame_of(drawing);
    struct fw_xy *run = fw_alloc(count + 1, sizeof *run);
    size_t length = 0;
    drawing->paper->failed |= !run;
    for (size_t i = 0; run && i + 1 < count; i++) {
        double from, to;
        const bool in = within(&frame, points[i], points[i + 1], &from, &to);
        if (length > 1 && (!in || from > 0)) {
            fw_paper_line(drawing->paper, drawing->page, pen, run, length);
            length = 0;
        }
        if (!in)
            continue;
        if (length == 0)
            run[length++] = between(points[i], points[i + 1], from);
        run[length++] = between(points[i], points[i + 1], to);
        if (to < 1) {
            fw_paper_line(drawing->paper, drawing->page, pen, run, length);
            length = 0;
        }
    }
    if (run && length > 1)
        fw_paper_line(drawing->paper, drawing->page, pen, run, length);
    fw_free(run);
}

/* ---- ground ---- */

static double side_of(struct fw_xy p, double edge, int axis, double sign)
{
    return sign * ((axis == 0 ? p.x : p.y) - edge);
}

/* What of a ring lies on the near side of an edge (Sutherland and Hodgman,
 * 1974). */
static size_t cut(const struct fw_xy *ring, size_t count, double edge, int axis,
                  double sign, struct fw_xy *out)
{
    size_t n = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_xy a = ring[i], b = ring[(i + 1) % count];
        const double of_a = side_of(a, edge, axis, sign);
        const double of_b = side_of(b, edge, axis, sign);
        if (of_a >= 0)
            out[n++] = a;
        if ((of_a >= 0) != (of_b >= 0))
            out[n++] = between(a, b, of_a / (of_a - of_b));
    }
    return n;
}

size_t fw_drawing_clip_ring(const struct fw_drawing *drawing,
                            struct fw_xy *ring, size_t count,
                            struct fw_xy *room)
{
    const struct frame frame = frame_of(drawing);
    for (int axis = 0; axis < 2; axis++) {
        count = cut(ring, count, frame.least[axis], axis, 1, room);
        count = cut(room, count, frame.most[axis], axis, -1, ring);
    }
    return count;
}
