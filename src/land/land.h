/* Ground without time: the cells that a flock can be in, the lines of fence
 * between them, and the doors in those lines, where one cell lies on either
 * side. Nothing here has a date; whatever is grazed when, cells and lines are
 * the same. A land is made of a candidate layout or of a plan, so that both are
 * asked the same questions.
 *
 * Cells are numbered field after field: all paddocks of all fields, then what
 * is common to several paddocks of each. Lines are numbered field after field.
 * Everything is an index; places are metres in the plane of their field, so
 * that those of two fields have nothing to do with each other.
 * docs/guide/plan.md says it in words, docs/guide/moves.md how to use it. */
#ifndef FW_LAND_LAND_H
#define FW_LAND_LAND_H

#include "geo/geo.h"
#include <foldwright/error.h>

/* No such index. */
#ifndef FW_NONE
#endif

enum fw_cell_kind {
    FW_CELL_PADDOCK,
    FW_CELL_LANE,  /* a way for stock */
    FW_CELL_APRON, /* bare ground about a water point */
    FW_CELL_GRAZED /* grazed before the first day */
};

enum fw_land_role {
    FW_LAND_MOVED,    /* goes with the flock */
    FW_LAND_STANDING, /* parts two blocks */
    FW_LAND_LANE,     /* along a lane or an apron: stands all the time */
    FW_LAND_EDGE      /* the boundary, or the edge of a pond: always there */
};

/* What the ground's edge gives to a line that ends on it. */
enum fw_feeds {
    FW_FEEDS_NOTHING, /* it is not live, or a pond's */
    FW_FEEDS_PERHAPS, /* nobody told */
    FW_FEEDS_SURELY
};

/* What one line takes, each counted by who knows how; all 0: nothing, or
 * nobody counted. */
struct fw_land_work {
    int reels, posts;
    double wire_m;                  /* of all strands, slack included */
    double set_min, down_min;       /* at the line itself */
    double set_passes, down_passes; /* along it on foot */
};

struct fw_cell {
    size_t field;
    enum fw_cell_kind kind;
    bool at_gate;  /* the field's gate stands in it, or within 1 m of it */
    bool at_water; /* so does the field's water; false when none is told */
    size_t first_ring, ring_count; /* in fw_land.ring_start */
    size_t first_door, door_count; /* in fw_land.doors_of */
};

struct fw_land_line {
    size_t field;
    enum fw_land_role role;
    size_t first, count;    /* in fw_land.line_points, 2 or more */
    double length_m;        /* in the plane */
    size_t host[2];         /* the line that holds its first and its last end;
                               FW_NONE: the ground's edge does, or an anchor.
                               Never in a ring: there one end has an anchor */
    enum fw_feeds feeds[2]; /* of its first and its last end, where an edge
                               holds it */
    size_t depth;           /* 0: no line holds it; else one more than those */
    size_t first_door, door_count; /* in fw_land.doors */
    struct fw_land_work work;
};

/* A stretch of a line with one cell on either side; seen from the line's first
 * point a lies to the left. Two cells may have several doors between them. A
 * stretch with ground on one side only is no door. */
struct fw_door {
    size_t line, a, b;
    double from_m, to_m; /* along the line; from_m is the lesser */
};

/* What is not given has no place. */
struct fw_land_field {
    size_t whole; /* fields of one number, from 1, are parts of one: they go
                     from one to the other without a gate; 0: it is whole */
    bool gate_given, water_given, park_given, come_given;
    struct fw_point gate, water;
    struct fw_point park; /* where vehicle and spare posts stand, if not at the
                             gate */
    struct fw_point come; /* from where a person comes to hook on: the
                             energizer, else the gate, else the water */
    size_t first_line, line_count;
    size_t first_paddock, paddock_count; /* in fw_land.cells */
    size_t first_common, common_count;
};

struct fw_land {
    struct fw_land_field *fields;
    size_t field_count;
    struct fw_cell *cells;
    size_t cell_count;
    struct fw_land_line *lines;
    size_t line_count;
    struct fw_door *doors; /* line after line */
    size_t door_count;
    size_t *doors_of;             /* cell after cell */
    struct fw_point *line_points; /* line after line */
    double *line_at_m;            /* how far along its line each of them is */
    struct fw_point *ring_points; /* cell after cell */
    size_t *ring_start;           /* of all rings; one more than there are */
};

/* One field's ground as its maker has it: rings and lines are indexes into
 * points, and where two share a place they have the same index. Rings run with
 * their cell to the left, as everywhere, and none is closed. */
struct fw_land_map_line {
    enum fw_land_role role;
    const size_t *vertices;
    size_t count; /* 2 or more */
    enum fw_feeds feeds[2];
    struct fw_land_work work;
};

struct fw_land_map {
    size_t whole; /* as of the field */
    const struct fw_point *points;
    size_t point_count;
    const size_t *ring_vertices;
    const size_t *ring_start;       /* of all rings; one more than there are */
    const size_t *cell_ring;        /* cell_count + 1: the first ring of each */
    const enum fw_cell_kind *kinds; /* paddocks come first */
    size_t cell_count;
    const struct fw_land_map_line *lines;
    size_t line_count;
    const struct fw_point *gate, *water, *park, *come; /* NULL: not told */
};

/* A land of so many fields. Arrays are copied. FW_ENOMEM is all that can fail:
 * that indexes fit is for the caller to see to. Release the land when done; {0}
 * is an empty one, and what a release leaves. */
enum fw_status fw_land_new(const struct fw_land_map *maps, size_t count,
                           struct fw_land *out, struct fw_error *err);
void fw_land_release(struct fw_land *land);

/* The cell on the other side of a door of that cell. */
size_t fw_land_beyond(const struct fw_land *land, size_t door, size_t cell);

/* How many cells a field has; the number in the land of its k-th, paddocks
 * first; and back from that number to k. */
size_t fw_land_cell_count(const struct fw_land *land, size_t field);
size_t fw_land_cell(const struct fw_land *land, size_t field, size_t k);
size_t fw_land_local(const struct fw_land *land, size_t cell);

/* The place so far along a line from its first point; beyond an end, that end.
 */
struct fw_point fw_land_along(const struct fw_land *land, size_t line,
                              double at_m);

/* Let a line run the other way round: its first end becomes its last. Doors
 * keep their numbers, and their cells change sides. */
void fw_land_turn(struct fw_land *land, size_t line);

/* How far the farthest corner of a cell lies from a place of its field,
 * straight. */
double fw_land_far_m(const struct fw_land *land, size_t cell,
                     struct fw_point from);

#endif
