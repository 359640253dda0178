/* Which end of a line is fed: A, where it is hooked on. A line hangs on the
 * edge that it ends on, or on the line that holds it when that one is fed. */
#include "geo/points.h"
#include "moves/inner.h"

#include <math.h>

/* A boundary that is told to be hot is the best to hook on to; then one of
 * which nothing is told, or a line that is fed. */
static enum fw_feeds gives(const struct fw_land *land, size_t line, int end)
{
    const size_t host = land->lines[line].host[end];
    if (host == FW_NONE)
        return land->lines[line].feeds[end];
    return fw_land_fed(land, host) == FW_FEEDS_NOTHING ? FW_FEEDS_NOTHING
                                                       : FW_FEEDS_PERHAPS;
}

enum fw_feeds fw_land_fed(const struct fw_land *land, size_t index)
{
    /* Lines that hold each other in a ring feed nothing. */
    for (size_t i = 0; i <= land->line_count; i++) {
        const struct fw_land_line *line = &land->lines[index];
        if (line->role == FW_LAND_EDGE || line->host[0] == FW_NONE)
            return line->feeds[0];
        index = line->host[0];
    }
    return FW_FEEDS_NOTHING;
}

static double away_m(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(a, b);
}

/* What feeds better is A; where both ends are alike, the one nearer to where
 * the shepherd comes from. */
static bool is_better_last(const struct fw_land *land, size_t index)
{
    const struct fw_land_line *line = &land->lines[index];
    const struct fw_land_field *field = &land->fields[line->field];
    const enum fw_feeds first = gives(land, index, 0);
    const enum fw_feeds last = gives(land, index, 1);
    if (first != last)
        return last > first;
    if (!field->come_given)
        return false;
    const struct fw_point *at = land->line_points + line->first;
    return away_m(at[line->count - 1], field->come) <
           away_m(at[0], field->come) - fw_moves__same_m;
}

/* What holds a line is turned before it. */
static void feed_field(struct fw_land *land, const struct fw_land_field *field)
{
    const size_t end = field->first_line + field->line_count;
    size_t deepest = 0;
    for (size_t l = field->first_line; l < end; l++)
        if (land->lines[l].depth > deepest)
            deepest = land->lines[l].depth;
    for (size_t depth = 0; depth <= deepest; depth++)
        for (size_t l = field->first_line; l < end; l++)
            if (land->lines[l].depth == depth && land->lines[l].count > 1 &&
                land->lines[l].role != FW_LAND_EDGE && is_better_last(land, l))
                fw_land_turn(land, l);
}

void fw_moves__feed(struct fw_land *land)
{
    for (size_t f = 0; f < land->field_count; f++)
        feed_field(land, &land->fields[f]);
}
