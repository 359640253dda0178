/* What the files of this folder share while a time is being made. */
#ifndef FW_MOVES_INNER_H
#define FW_MOVES_INNER_H

#include "figures/mark.h"

#include "moves/moves.h"

/* Closer than that two places or two lengths are the same. */
static const double fw_moves__same_m = FW_TOLERANCE(1e-6);

/* ---- ground.c: whose ground is it ---- */

/* The stays of one field and one round that follow each other: [first, end). */
struct fw_moves__visit {
    size_t field, first, end;
};
struct fw_moves__visit fw_moves__visit_at(const struct fw_land *land,
                                          const struct fw_time *time,
                                          size_t stay);

/* The stay so many before that one, those before the first move too; NULL:
 * there is none. */
const struct fw_time_stay *fw_moves__stay_back(const struct fw_time *time,
                                               size_t stay, size_t back);
/* Its cell, or FW_NONE. */
size_t fw_moves__cell_back(const struct fw_time *time, size_t stay,
                           size_t back);

/* Does a stay begin a visit? */
bool fw_moves__comes_new(const struct fw_land *land, const struct fw_time *time,
                         size_t stay);

/* What was grazed long ago and is grazed again in the visit that begins with
 * this stay waits for it; and no lane is theirs yet. */
void fw_moves__regrow(const struct fw_land *land, const struct fw_time *time,
                      size_t stay, bool *grazed);

/* Over lanes and aprons to the field's water, from a cell that has none of its
 * own: each cell with the door that leads into it. Put in `out`, which has room
 * for all cells twice; how many. */
struct fw_moves__hop {
    size_t cell, door;
    size_t before; /* while it is being found */
};
size_t fw_moves__way_to_water(const struct fw_land *land, size_t cell,
                              struct fw_moves__hop *out);

/* The longest stretch that two cells share, where a flock gets through;
 * FW_NONE: there is none. */
size_t fw_moves__shared_door(const struct fw_land *land, size_t from, size_t to,
                             double way_m);

/* The door that they drift through in the move into the stay so many before
 * that one: what was opened there stays open until the next move. FW_NONE: they
 * come all at once. */
size_t fw_moves__drift_door(const struct fw_land *land,
                            const struct fw_habits *habits,
                            const struct fw_time *time, size_t stay,
                            size_t back);

/* ---- spans.c: over which stays each line stands ---- */

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

enum fw_status fw_moves__find_spans(const struct fw_land *land,
                                    const struct fw_time *time,
                                    const struct fw_habits *habits,
                                    const struct fw_time_start *start,
                                    struct fw_moves__spans *out,
                                    struct fw_error *err);

/* A line that would be wound at one move and set again at the next is left. */
static const size_t fw_moves__short_gap = 1;

/* work.c: the same, but that the moves that are made set and took down what
 * they did. */
enum fw_status fw_moves__as_made(const struct fw_land *land,
                                 const struct fw_habits *habits,
                                 const struct fw_time_start *start,
                                 struct fw_moves__spans *spans,
                                 struct fw_error *err);
/* Lines of a move that is made, in the order that it had; false: it is not. */
bool fw_moves__order_made(const struct fw_time_start *start, size_t move,
                          bool down, size_t *lines, size_t count);

/* start.c: what is before the first move. */
bool fw_moves__was_grazed(const struct fw_time_start *start, size_t cell);
bool fw_moves__stood(const struct fw_time_start *start, size_t line);

/* fed.c: turn every line so that its first end is the fed one. */
void fw_moves__feed(struct fw_land *land);

/* ---- making moves ---- */

struct fw_moves__making {
    struct fw_land *land;
    const struct fw_habits *habits;
    struct fw_time *time;
    struct fw_moves__spans spans;
    size_t *up, *up_first;     /* spans by the move in which they go up */
    size_t *down, *down_first; /* and come down */
    struct fw_replay replay;   /* what has come of the moves so far */
    size_t *standing_of;       /* by line: its last standing, from 1 */
    bool *stands;              /* by line, as the move goes on */
    bool *grazed;              /* by cell */
    bool *open_door;           /* by door: left open */
    size_t *opening_of;        /* by door: its opening, or FW_NONE */
    size_t *gate_of;           /* by field: its gate's, or FW_NONE */
    size_t *left_open, left_open_count; /* openings */
    size_t *to_open, to_open_count;     /* of this move, in the order of the
                                           walk */
    struct fw_moves__hop *hops;         /* for a way to the water */
    struct fw_moves__search *search;    /* for any other */
    const struct fw_time_start *start;  /* or NULL */
    struct fw_opening *before;          /* what is open in it */
    size_t before_count;
};

/* From where the flock is to a cell or to the gate. */
struct fw_moves__way {
    size_t first;  /* the cell where it begins */
    size_t *doors; /* to be opened or passed, in the order of the walk */
    size_t door_count;
    size_t *cells; /* ungrazed ones that are crossed */
    size_t cell_count;
    double over_m, way_m;
};

/* The move at hand. */
struct fw_moves__moving {
    struct fw_moves__making *making;
    size_t number;        /* of the move, and of the stay that it leads into */
    bool last;            /* out of the last field */
    size_t from, to;      /* cells; FW_NONE: outside */
    size_t left, entered; /* fields; FW_NONE: none */
    size_t drift;         /* the door that they drift through, or FW_NONE */
    struct fw_moves__way out, in; /* to the gate, or all of it; and from it */
    bool over_grazed;             /* in the same field, over nothing ungrazed */
    bool bridged;                 /* what is open has a lead across the gap */
};

/* move.c: all steps of one move. */
enum fw_status fw_moves__move(struct fw_moves__making *making, size_t number,
                              struct fw_error *err);

/* lines.c */
enum fw_status fw_moves__stand(struct fw_moves__making *making, size_t line,
                               struct fw_time_when up, struct fw_error *err);
bool fw_moves__comes_down(const struct fw_moves__moving *moving, size_t line);
/* Those that must stand before the flock comes, or the others. */
enum fw_status fw_moves__set(const struct fw_moves__moving *moving, bool before,
                             struct fw_error *err);
/* Those of one field. */
enum fw_status fw_moves__take_down(const struct fw_moves__moving *moving,
                                   size_t field, struct fw_error *err);

/* doors.c */
enum fw_status fw_moves__plan_openings(const struct fw_moves__moving *moving,
                                       struct fw_error *err);
enum fw_status fw_moves__open_all(const struct fw_moves__moving *moving,
                                  struct fw_error *err);
enum fw_status fw_moves__bridge_all(struct fw_moves__moving *moving,
                                    struct fw_error *err);
enum fw_status fw_moves__close_all(const struct fw_moves__moving *moving,
                                   struct fw_error *err);
/* What was left open before, between their ground and other ground now. */
enum fw_status fw_moves__close_old(const struct fw_moves__moving *moving,
                                   struct fw_error *err);
/* Those that were left behind are brought on, and what was left open for them
 * is closed. */
enum fw_status fw_moves__gather(const struct fw_moves__moving *moving,
                                struct fw_error *err);
/* Where they have no water, the way to it is opened. */
enum fw_status fw_moves__open_water(const struct fw_moves__moving *moving,
                                    struct fw_error *err);

/* openings.c: the opening in a door, made when there is none yet. */
enum fw_status fw_moves__opening(struct fw_moves__making *making, size_t door,
                                 size_t from, size_t to, size_t *out,
                                 struct fw_error *err);
enum fw_status fw_moves__gates(struct fw_moves__making *making,
                               struct fw_error *err);
/* start.c: the door that an opening is in, by where along its line it is: a
 * plan that was read tells no more. FW_NONE: none, or a gate's. */
size_t fw_moves__door_at(const struct fw_land *land,
                         const struct fw_opening *opening);
/* Those that are open before the first move. Doors keep their numbers
 * where lines are turned: the first is called before, the second after that. */
enum fw_status fw_moves__find_open(struct fw_moves__making *making,
                                   struct fw_error *err);
enum fw_status fw_moves__take_open(struct fw_moves__making *making,
                                   struct fw_error *err);
/* Does that line get its current through the other one alone? */
bool fw_moves__hangs_on(const struct fw_land *land, size_t line, size_t on,
                        bool far_hooked);

/* ways.c */
struct fw_moves__search;
enum fw_status fw_moves__search_new(const struct fw_land *land,
                                    struct fw_moves__search **out,
                                    struct fw_error *err);
void fw_moves__search_free(struct fw_moves__search *search);
struct fw_moves__walk {
    const struct fw_land *land;
    const bool *stands, *grazed, *open_door; /* by line, cell, door */
    double way_m; /* a door that is shorter is no way while there is another */
    size_t water_door; /* is opened whichever way they come, or FW_NONE */
};
/* From a cell, or from the field's gate (FW_NONE); to a cell, or to the gate.
 * Release the way when done. */
enum fw_status fw_moves__find_way(struct fw_moves__search *search,
                                  const struct fw_moves__walk *walk,
                                  size_t field, size_t from, size_t to,
                                  struct fw_moves__way *out,
                                  struct fw_error *err);
void fw_moves__way_release(struct fw_moves__way *way);

/* items.c: lists grow at the end of time->items. */
struct fw_list fw_moves__list(const struct fw_time *time);
enum fw_status fw_moves__put(struct fw_time *time, struct fw_list *list,
                             size_t item, struct fw_error *err);
enum fw_status fw_moves__add_step(struct fw_time *time, enum fw_step_kind kind,
                                  size_t field, struct fw_step **out,
                                  struct fw_error *err);
/* A step of the move at hand, and nothing more. */
enum fw_status fw_moves__plain_step(const struct fw_moves__moving *moving,
                                    enum fw_step_kind kind,
                                    struct fw_error *err);
/* A step of the last move is not needed. */
void fw_moves__drop_step(struct fw_moves__making *making, size_t step);

/* replay.c: with room for openings that are still to come. */
enum fw_status
fw_moves__replay_begin(const struct fw_land *land, const struct fw_time *time,
                       const struct fw_time_start *start, size_t opening_room,
                       struct fw_replay *out, struct fw_error *err);

#endif
