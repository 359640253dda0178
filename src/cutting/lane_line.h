/* Lines beside a given line, from edge to edge of a field. */
#ifndef FW_CUTTING_LANE_LINE_H
#define FW_CUTTING_LANE_LINE_H

#include "cutting/subdivision.h"

/* The given line, drawn out straight at both ends to beyond the field. */
struct fw_lane_way {
    const struct fw_field *field;
    struct fw_point *points;
    struct fw_point *beside; /* room for a line beside it */
    size_t count;
    double middle; /* of its longest stretch in the field: which of its pieces,
                      and how far along */
    double deg;    /* from end to end of that stretch */
};

/* *inside false: it does not cross the field from edge to edge. */
enum fw_status fw_lane_way_init(struct fw_lane_way *way,
                                const struct fw_field *field,
                                const struct fw_point *points, size_t count,
                                bool back, bool *inside, struct fw_error *err);
void fw_lane_way_release(struct fw_lane_way *way);

/* What of a line lies in the field. */
struct fw_lane_line {
    size_t from_side, to_side;
    double from_t, to_t;
    struct fw_point *by; /* room for all of the way's points */
    size_t by_count;
};

enum fw_lane_found {
    FW_LANE_FOUND,
    FW_LANE_OUTSIDE, /* nothing of it lies in the field there */
    FW_LANE_BLOCKED  /* a hole, or a bend too sharp */
};

/* The line so far to the left of the way; line->by is the caller's. */
enum fw_lane_found fw_lane_line_at(const struct fw_lane_way *way, double left_m,
                                   struct fw_lane_line *line);

#endif
