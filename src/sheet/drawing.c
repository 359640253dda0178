/* A field to scale: its lines and its ground. */
#include "sheet/drawing.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/length.h"
#include "plan/place.h"

#include <math.h>

void fw_extent_add(struct fw_extent *extent, struct fw_point point)
{
    if (!extent->any)
        *extent = (struct fw_extent){true, point.x_m, point.y_m, point.x_m,
                                     point.y_m};
    extent->x0 = fmin(extent->x0, point.x_m);
    extent->y0 = fmin(extent->y0, point.y_m);
    extent->x1 = fmax(extent->x1, point.x_m);
    extent->y1 = fmax(extent->y1, point.y_m);
}

void fw_extent_add_rings(struct fw_extent *extent,
                         const struct fw_plan_field *field,
                         const struct fw_plan_rings *rings)
{
    for (size_t r = 0; r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1]; i++)
            fw_extent_add(extent, fw_plan__at(field, rings->vertices[i]));
}

void fw_extent_add_fence(struct fw_extent *extent, const struct fw_plan *plan,
                         size_t fence)
{
    const struct fw_plan_fence *of = &plan->fences[fence];
    for (size_t i = 0; i < of->line_count; i++)
        fw_extent_add(extent,
                      fw_plan__at(&plan->fields[of->field], of->line[i]));
}

void fw_drawing_fit(struct fw_drawing *drawing, const struct fw_extent *extent,
                    double edge)
{
    const struct fw_xy room = {drawing->size.x - 2 * edge,
                               drawing->size.y - 2 * edge};
    drawing->middle = (struct fw_point){(extent->x0 + extent->x1) / 2,
                                        (extent->y0 + extent->y1) / 2};
    drawing->scale =
        fw_scale_of(extent->x1 - extent->x0, extent->y1 - extent->y0, room,
                    drawing->plan->units == FW_US);
    drawing->labels.area =
        (struct fw_box){drawing->at.x + drawing->size.x / 2,
                        drawing->at.y + drawing->size.y / 2,
                        drawing->size.x - 2, drawing->size.y - 2, 0};
}

void fw_drawing_release(struct fw_drawing *drawing)
{
    fw_labels_release(&drawing->labels);
    fw_labels_release(&drawing->lines);
}

struct fw_xy fw_drawing_at(const struct fw_drawing *drawing,
                           struct fw_point point)
{
    return (struct fw_xy){
        drawing->at.x + drawing->size.x / 2 +
            fw_scale_points(drawing->scale, point.x_m - drawing->middle.x_m),
        drawing->at.y + drawing->size.y / 2 -
            fw_scale_points(drawing->scale, point.y_m - drawing->middle.y_m)};
}

bool fw_drawing_shows(const struct fw_drawing *drawing, struct fw_xy at)
{
    const double edge = 6;
    return at.x >= drawing->at.x + edge && at.y >= drawing->at.y + edge &&
           at.x <= drawing->at.x + drawing->size.x - edge &&
           at.y <= drawing->at.y + drawing->size.y - edge;
}

enum fw_pen fw_drawing_pen(enum fw_fence_role role)
{
    static const enum fw_pen pens[] = {
        [FW_FENCE_PERIMETER] = FW_PEN_HEAVY,
        [FW_FENCE_STANDING] = FW_PEN_LONG,
        [FW_FENCE_LANE] = FW_PEN_DOTTED,
        [FW_FENCE_MOVED] = FW_PEN_DASHED,
    };
    return pens[role];
}

void fw_drawing_frame(struct fw_drawing *drawing)
{
    const struct fw_xy a = drawing->at,
                       b = {a.x + drawing->size.x, a.y + drawing->size.y};
    const struct fw_xy points[] = {a, {b.x, a.y}, b, {a.x, b.y}, a};
    fw_paper_line(drawing->paper, drawing->page, FW_PEN_HAIR, points, 5);
}

static void cross(struct fw_drawing *drawing, struct fw_xy at)
{
    const double arm = 2.5;
    const struct fw_xy points[2][2] = {
        {{at.x - arm, at.y}, {at.x + arm, at.y}},
        {{at.x, at.y - arm}, {at.x, at.y + arm}}};
    for (int i = 0; i < 2; i++)
        fw_paper_line(drawing->paper, drawing->page, FW_PEN_HAIR, points[i], 2);
}

void fw_drawing_grid(struct fw_drawing *drawing, double gap_m)
{
    const double step = fw_scale_points(drawing->scale, gap_m);
    const struct fw_xy zero = fw_drawing_at(drawing, (struct fw_point){0, 0});
    const struct fw_xy first = {
        zero.x + step * ceil((drawing->at.x - zero.x) / step),
        zero.y + step * ceil((drawing->at.y - zero.y) / step)};
    const double right = drawing->at.x + drawing->size.x;
    const double bottom = drawing->at.y + drawing->size.y;
    for (int i = 0; first.y + i * step < bottom; i++)
        for (int k = 0; first.x + k * step < right; k++) {
            const struct fw_xy at = {first.x + k * step, first.y + i * step};
            if (fw_drawing_shows(drawing, at))
                cross(drawing, at);
        }
}

/* A ring on the page, as far as the frame goes; how many points it has then. */
static size_t put_ring(const struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, size_t ring,
                       struct fw_xy *at, struct fw_xy *room)
{
    const struct fw_plan_field *field = &drawing->plan->fields[drawing->field];
    const size_t from = rings->ring_start[ring];
    const size_t count = rings->ring_start[ring + 1] - from;
    for (size_t i = 0; i < count; i++)
        at[i] = fw_drawing_at(drawing,
                              fw_plan__at(field, rings->vertices[from + i]));
    return fw_drawing_clip_ring(drawing, at, count, room);
}

static void draw_rings(struct fw_drawing *drawing,
                       const struct fw_plan_rings *rings, size_t first,
                       size_t count, enum fw_pen pen)
{
    const size_t points =
        6 * (rings->ring_start[first + count] - rings->ring_start[first]) +
        16 * count;
    struct fw_xy *at = fw_alloc(points, sizeof *at);
    struct fw_xy *room = fw_alloc(points, sizeof *room);
    size_t *start = fw_alloc(count + 1, sizeof *start);
    size_t used = 0, kept = 0;
    const bool failed = !at || !room || !start;
    for (size_t r = 0; !failed && r < count; r++) {
        const size_t n = put_ring(drawing, rings, first + r, at + used, room);
        start[kept] = used;
        if (n > 2) { /* else nothing of it is on the map */
            used += n;
            kept++;
        }
    }
    if (kept > 0) {
        start[kept] = used;
        fw_paper_area(drawing->paper, drawing->page, pen, at, start, kept);
    }
    drawing->paper->failed |= failed;
    fw_free(at);
    fw_free(room);
    fw_free(start);
}

void fw_drawing_rings(struct fw_drawing *drawing,
                      const struct fw_plan_rings *rings, enum fw_pen pen)
{
    draw_rings(drawing, rings, 0, rings->ring_count, pen);
}

void fw_drawing_holes(struct fw_drawing *drawing)
{
    const struct fw_plan_rings *rings =
        &drawing->plan->fields[drawing->field].rings;
    for (size_t p = 0; p < rings->piece_count; p++)
        for (size_t r = rings->piece_ring[p] + 1; r < rings->piece_ring[p + 1];
             r++)
            draw_rings(drawing, rings, r, 1, FW_PEN_HATCHED);
}

/* Each straight piece as a thin box. */
static void keep_clear(struct fw_drawing *drawing, const struct fw_xy *at,
                       size_t count)
{
    const double wide_pt = 2;
    for (size_t i = 0; i + 1 < count; i++) {
        const double x = at[i + 1].x - at[i].x, y = at[i + 1].y - at[i].y;
        const struct fw_box box = {(at[i].x + at[i + 1].x) / 2,
                                   (at[i].y + at[i + 1].y) / 2, fw_length(x, y),
                                   wide_pt, atan2(y, x) * FW_RADIAN_DEG};
        drawing->paper->failed |= !fw_labels_take(&drawing->lines, &box);
    }
}

void fw_drawing_fence(struct fw_drawing *drawing, size_t fence, enum fw_pen pen)
{
    const struct fw_plan_fence *of = &drawing->plan->fences[fence];
    struct fw_xy *at = fw_alloc(of->line_count, sizeof *at);
    for (size_t i = 0; at && i < of->line_count; i++)
        at[i] = fw_drawing_at(
            drawing,
            fw_plan__at(&drawing->plan->fields[of->field], of->line[i]));
    if (at) {
        fw_drawing_line(drawing, pen, at, of->line_count);
        keep_clear(drawing, at, of->line_count);
    } else
        drawing->paper->failed = true;
    fw_free(at);
}
