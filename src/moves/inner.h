/* What the files of this folder share while a time is being made. */
#ifndef FW_MOVES_INNER_H
#define FW_MOVES_INNER_H

#include <foldwright/moves.h>

/* A line over whole stays. It goes up in the course of move `up` (FW_NONE: it
 * stood before) and comes down in that of move `down`; from stay `need` on it
 * encloses the flock, or holds a line that does. Before that it stands for the
 * paddock that is fenced ahead. */
struct fw_moves__span {
    size_t line, up, down, need;
};

struct fw_moves__spans {
    struct fw_moves__span *items; /* by line, then by time */
    size_t count, capacity;
};

/* The stays of one field that follow each other: [first, end). */
struct fw_moves__visit {
    size_t field, first, end;
};
struct fw_moves__visit fw_moves__visit_at(const struct fw_land *land,
                                          const struct fw_time *time,
                                          size_t stay);

/* spans.c */
enum fw_status fw_moves__find_spans(const struct fw_land *land,
                                    const struct fw_time *time,
                                    const struct fw_habits *habits,
                                    const struct fw_time_start *start,
                                    struct fw_moves__spans *out,
                                    struct fw_error *err);

/* The lanes and aprons that lead from a cell to the field's water, when it has
 * none of its own: put in `out`, which has room for all cells; how many. */
size_t fw_moves__way_to_water(const struct fw_land *land, size_t cell,
                              double way_m, size_t *out);

/* Does the opening of that move stay open until the next one? */
bool fw_moves__drifts(const struct fw_habits *habits,
                      const struct fw_time *time, size_t stay);

/* start.c: what is before the first move. In which cell was the flock, and since
 * when, before a stay; FW_NONE: outside. */
size_t fw_moves__cell_before(const struct fw_time *time,
                             const struct fw_time_start *start, size_t stay);
/* Was the opening of the move into that cell to stay open until the next one? */
bool fw_moves__drifted_before(const struct fw_habits *habits,
                              const struct fw_time *time,
                              const struct fw_time_start *start, size_t stay);
bool fw_moves__was_grazed(const struct fw_time_start *start, size_t cell);
bool fw_moves__stood(const struct fw_time_start *start, size_t line);

/* feed.c: turn every line so that its first end is the fed one. */
void fw_moves__feed(struct fw_land *land);

/* ---- making moves ---- */

struct fw_moves__making {
    struct fw_land *land;
    const struct fw_habits *habits;
    struct fw_time *time;
    const struct fw_time_start *start; /* or NULL */
    struct fw_moves__spans spans;
    size_t *up, *up_first;     /* spans by the move in which they go up */
    size_t *down, *down_first; /* and come down */
    bool *stands;              /* by line, as the move goes on */
    bool *grazed;              /* by cell */
    bool *open_door;           /* by door: left open */
    size_t *opening_of;        /* by door: its opening, or FW_NONE */
    size_t *gate_of;           /* by field: its gate's, or FW_NONE */
    size_t *left_open, left_open_count; /* openings */
    size_t *to_open, to_open_count;     /* of this move, in the order of the
                                           walk */
    size_t *room; /* for some cells */
    struct fw_opening *before; /* open ones, as the start has them */
};

/* items.c: lists grow at the end of time->items. */
struct fw_list fw_moves__list(const struct fw_time *time);
enum fw_status fw_moves__put(struct fw_time *time, struct fw_list *list,
                             size_t item, struct fw_error *err);
enum fw_status fw_moves__add_step(struct fw_time *time, enum fw_step_kind kind,
                                  size_t field, struct fw_step **out,
                                  struct fw_error *err);

/* openings.c: the opening in a door, made when there is none yet. */
enum fw_status fw_moves__opening(struct fw_moves__making *making, size_t door,
                                 size_t from, size_t to, size_t *out,
                                 struct fw_error *err);
enum fw_status fw_moves__gates(struct fw_moves__making *making,
                               struct fw_error *err);
/* start.c: those that are open before the first move. Doors keep their numbers
 * where lines are turned: the first is called before, the second after that. */
enum fw_status fw_moves__find_open(struct fw_moves__making *making,
                                   struct fw_error *err);
enum fw_status fw_moves__take_open(struct fw_moves__making *making,
                                   struct fw_error *err);
/* Does that line get its current through the other one alone? */
bool fw_moves__hangs_on(const struct fw_land *land, size_t line, size_t on,
                        bool far_hooked);

/* ways.c: from where the flock is to a cell or to the gate. */
struct fw_moves__way {
    size_t *doors; /* to be opened or passed, in the order of the walk */
    size_t door_count;
    size_t *cells; /* ungrazed ones that are crossed */
    size_t cell_count;
    double over_m, way_m;
    bool found;
};
struct fw_moves__walk {
    const struct fw_land *land;
    const bool *stands, *grazed, *open_door; /* by line, cell, door */
    double way_m; /* a door that is shorter is no way while there is another */
};
/* From a cell, or from the field's gate (FW_NONE); to a cell, or to the gate.
 * Release the way when done. */
enum fw_status fw_moves__find_way(const struct fw_moves__walk *walk,
                                  size_t field, size_t from, size_t to,
                                  struct fw_moves__way *out,
                                  struct fw_error *err);
void fw_moves__way_release(struct fw_moves__way *way);

#endif
