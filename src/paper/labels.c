/* Boxes of labels, turned or not: what overlaps what. Two convex shapes are
 * apart when a side of one of them has the other all on its far side. */
#include "paper/paper.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/array.h"
#include "base/length.h"

#include <math.h>

static void corners_of(const struct fw_box *box, struct fw_xy corners[4])
{
    const double c = cos(box->turn_deg / FW_RADIAN_DEG),
                 s = sin(box->turn_deg / FW_RADIAN_DEG);
    static const double side[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (int i = 0; i < 4; i++) {
        const double x = side[i][0] * box->wide / 2,
                     y = side[i][1] * box->high / 2;
        corners[i] =
            (struct fw_xy){box->x + c * x - s * y, box->y + s * x + c * y};
    }
}

/* How far the box reaches to both sides of `from`, along a direction. */
static bool beside(const struct fw_box *a, const struct fw_box *b, double x,
                   double y)
{
    struct fw_xy of_a[4], of_b[4];
    double least_a = (double)INFINITY, most_a = -(double)INFINITY;
    double least_b = (double)INFINITY, most_b = -(double)INFINITY;
    corners_of(a, of_a);
    corners_of(b, of_b);
    for (int i = 0; i < 4; i++) {
        const double on_a = x * of_a[i].x + y * of_a[i].y;
        const double on_b = x * of_b[i].x + y * of_b[i].y;
        least_a = fmin(least_a, on_a);
        most_a = fmax(most_a, on_a);
        least_b = fmin(least_b, on_b);
        most_b = fmax(most_b, on_b);
    }
    return most_a <= least_b || most_b <= least_a;
}

bool fw_box_overlap(const struct fw_box *a, const struct fw_box *b)
{
    /* No box reaches farther than half its sides together. */
    const double at_most = (a->wide + a->high + b->wide + b->high) / 2;
    if (fabs(a->x - b->x) >= at_most || fabs(a->y - b->y) >= at_most)
        return false;
    const double reach =
        fw_length(a->wide, a->high) / 2 + fw_length(b->wide, b->high) / 2;
    if (fw_length(a->x - b->x, a->y - b->y) >= reach)
        return false;
    const double turn[2] = {a->turn_deg / FW_RADIAN_DEG,
                            b->turn_deg / FW_RADIAN_DEG};
    for (int i = 0; i < 2; i++) {
        const double c = cos(turn[i]), s = sin(turn[i]);
        if (beside(a, b, c, s) || beside(a, b, -s, c))
            return false;
    }
    return true;
}

/* `outer` is not turned. */
bool fw_box_within(const struct fw_box *inner, const struct fw_box *outer)
{
    struct fw_xy corners[4];
    corners_of(inner, corners);
    for (int i = 0; i < 4; i++)
        if (fabs(corners[i].x - outer->x) > outer->wide / 2 ||
            fabs(corners[i].y - outer->y) > outer->high / 2)
            return false;
    return true;
}

bool fw_labels_are_free(const struct fw_labels *labels,
                        const struct fw_box *box)
{
    if (labels->area.wide > 0 && !fw_box_within(box, &labels->area))
        return false;
    for (size_t i = 0; i < labels->count; i++)
        if (fw_box_overlap(box, &labels->boxes[i]))
            return false;
    return true;
}

bool fw_labels_take(struct fw_labels *labels, const struct fw_box *box)
{
    if (fw_array_reserve(&labels->boxes, &labels->capacity, labels->count + 1,
                         sizeof *labels->boxes, NULL))
        return false;
    labels->boxes[labels->count++] = *box;
    return true;
}

void fw_labels_release(struct fw_labels *labels)
{
    fw_free(labels->boxes);
    *labels = (struct fw_labels){.area = labels->area};
}
