/* Corners: all those of triangles in one place that no wall parts are one. */
#include "walk/inner.h"

#include "geo/points.h"

size_t fw_walk__turn_left(const struct fw_walk_ground *ground, size_t corner)
{
    const size_t side = fw_walk__before(corner);
    return fw_walk__passable(ground, side) ? ground->sides[side].beyond
                                           : FW_NONE;
}

size_t fw_walk__turn_right(const struct fw_walk_ground *ground, size_t corner)
{
    return fw_walk__passable(ground, corner)
               ? fw_walk__after(ground->sides[corner].beyond)
               : FW_NONE;
}

/* Does the ground take up more than half a turn about the point between the
 * wall to the right of one corner and that to the left of the other? */
static bool can_turn(const struct fw_walk_ground *ground, size_t right,
                     size_t left)
{
    const struct fw_point here = fw_walk__at(ground, right);
    const struct fw_point from = fw_walk__at(ground, fw_walk__before(left));
    const struct fw_point to = fw_walk__at(ground, fw_walk__after(right));
    const double turn = fw_walk__left(from, here, to);
    const struct fw_point a = fw_point_minus(from, here);
    const struct fw_point b = fw_point_minus(to, here);
    return turn < 0 || (turn == 0 && a.x_m * b.x_m + a.y_m * b.y_m > 0);
}

struct fw_walk__corner fw_walk__about(struct fw_walk_ground *ground,
                                      size_t corner)
{
    if (ground->turns[corner].search == ground->search)
        return ground->turns[corner];
    size_t right = corner, next = fw_walk__turn_right(ground, corner);
    while (next != FW_NONE && next != corner) {
        right = next;
        next = fw_walk__turn_right(ground, right);
    }
    const bool walled = next == FW_NONE;
    size_t left = right;
    for (next = fw_walk__turn_left(ground, left);
         next != FW_NONE && next != right;
         next = fw_walk__turn_left(ground, left))
        left = next;
    const struct fw_walk__corner found = {
        ground->search, walled ? right : FW_NONE,
        walled && can_turn(ground, right, left)};
    for (next = right; next != FW_NONE;
         next = next == left ? FW_NONE : fw_walk__turn_left(ground, next))
        ground->turns[next] = found;
    return found;
}
