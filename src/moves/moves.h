/* Time on the ground: when the flock is where, what is done at each move step
 * by step, and so what stands, what is open and which ground the flock has
 * after every step. Nothing else in the program decides that.
 *
 * fw_time_make decides: from stays and habits it says which line stands over
 * which nights, and what is done in which order. fw_replay tells what comes of
 * it, step by step, knowing nothing of how it was decided. fw_time_judge asks
 * the replay at every step whether the flock is enclosed, and adds up what it
 * costs.
 *
 * A move leads into a stay; the last one of all leads out of the last field and
 * clears it. A day's state is that after its last step. Days are those of
 * date.h. docs/guide/plan.md says in words what is decided and why,
 * docs/guide/moves.md how to ask. */
#ifndef FW_MOVES_MOVES_H
#define FW_MOVES_MOVES_H

#include "land/land.h"
#include <foldwright/date.h>
#include <foldwright/error.h>

/* ---- what is asked ---- */

struct fw_time_stay {
    size_t cell;
    int enter, leave; /* days; leave is that of the next move, and later */
    double target_kg; /* dry matter that the cell is to give them */
    double left_kg;   /* what was left, when told; else NaN */
    int round; /* 0 is the first. fw_time_make and who reads a time number them:
                  fw_time_number. Of those before the first move: against
                  the last one of them */
};

/* How a person works, and what the sheep need. */
struct fw_habits {
    bool back_fence;  /* grazed ground is shut off behind them */
    bool set_first;   /* the new front is set before they are let in; else the
                         next paddock is fenced ahead, and the old line is wound
                         and set beyond when they are in */
    bool all_stand;   /* block lines stand all the time */
    bool trough;      /* water goes with them */
    bool far_hooked;  /* the far end of a line is hooked on too */
    int strands;      /* of a line, 1 or more */
    double opening_m; /* how wide an opening is, where the door allows it */
    double way_m;     /* no flock goes where there is less, if there is another
                         way */
    double room_m;    /* to be free on either side of an opening */
    /* Lambs are under 3 weeks old from the first day to before the other one:
     * then a move takes two visits. FW_NO_DAY: there are none. */
    int young_from, young_to;
    /* From the first day to before the other one an opening within a field
     * stays open until the next move. FW_NO_DAY: none does. */
    int drift_from, drift_to;
    double walk_m_min; /* of a person, metres a minute */
    double end_min;    /* to undo or to tie one end */
    /* Wet ground, or water where they would jam; NULL: nothing is bad. The
     * field is that of the land. */
    bool (*is_bad)(const void *of, size_t field, struct fw_point at);
    const void *of; /* handed to is_bad */
};

/* How things are before the first move; NULL in its place, or of one of these:
 * nothing stands but edges, nothing was grazed but cells of that kind, nothing
 * is open. */
struct fw_opening;
struct fw_time_start {
    const bool *stands; /* by line */
    const bool *grazed; /* by cell */
    /* The stays before, the last two at most: the flock is in the cell of the
     * last one. None: it is outside. Days may be FW_NO_DAY: not known. */
    const struct fw_time_stay *before;
    size_t before_count;
    /* In lines that stand, left open with a lead across: by line, where along
     * it, kind and width. */
    const struct fw_opening *open;
    size_t open_count;
    /* Of a season that is under way: how many moves are made, and which lines
     * they set and took down, in the order in which they did. */
    size_t made;
    const struct fw_time_work {
        size_t line, move;
        bool down;  /* taken, else set */
        bool ahead; /* set for the paddock after the one that they came into */
    } * works;
    size_t work_count;
};

/* ---- what is decided ---- */

struct fw_list { /* in fw_time.items; of a move's steps, in fw_time.steps */
    size_t first, count;
};

struct fw_time_when {
    size_t move; /* FW_NONE: before the first, or never */
    size_t step; /* in fw_time.steps; FW_NONE without a move */
};

/* A line over a time. It can have many, one after the other. */
struct fw_standing {
    size_t line;
    struct fw_time_when up;   /* the step that sets it; without a move: it stood
                                 before */
    struct fw_time_when down; /* the step that takes it down; without a move: it
                                 stands to the end */
};

enum fw_step_kind {
    FW_STEP_SET,       /* put up the lines, dead */
    FW_STEP_HOOK,      /* hook their ends A on, last, so that they are hot */
    FW_STEP_READ,      /* read the tester at the ends B */
    FW_STEP_CARRY,     /* water and mineral */
    FW_STEP_OPEN,      /* a line, dead first; or the gate */
    FW_STEP_WALK,      /* walk with them to the opening, over `cells` */
    FW_STEP_LATER,     /* walk out what they left: as a second visit, or after
                          they drifted */
    FW_STEP_COUNT,     /* count them through */
    FW_STEP_BRIDGE,    /* leave it open, with a lead across so that the line
                          stays hot */
    FW_STEP_CLOSE,     /* and the line is hot again */
    FW_STEP_TAKE_DOWN, /* the lines */
    FW_STEP_COUNT_OF
};

/* Lists that the kind has no use for are empty, metres 0. */
struct fw_step {
    enum fw_step_kind kind;
    size_t field;         /* where it is done; of a walk, that is entered */
    size_t opening;       /* OPEN, CLOSE, BRIDGE; else FW_NONE */
    struct fw_list lines; /* SET, HOOK, READ, TAKE_DOWN: in the order of work,
                             those that hold others first up and last down */
    struct fw_list dead;  /* OPEN: other lines that bound the flock's ground and
                             are dead meanwhile */
    struct fw_list cells; /* WALK: ungrazed ones that they cross, in order */
    double over_m;        /* WALK: over ungrazed ground, or where no fence parts
                             them from it */
    double way_m;         /* WALK: in all, without the way from field to field;
                             0 from paddock to paddock */
};

enum fw_opening_kind {
    FW_OPENING_GATE, /* of the field: no line */
    FW_OPENING_A,    /* at the line's end A, where it is unhooked */
    FW_OPENING_B,    /* at its other end */
    FW_OPENING_JOINT /* at a handle put in when the line was set */
};

struct fw_opening {
    enum fw_opening_kind kind;
    size_t field;
    size_t line;     /* FW_NONE: the gate */
    size_t door;     /* in fw_land.doors, while a time is made; FW_NONE: a gate.
                        A time that was read has none: ask at_m */
    size_t from, to; /* cells, at its first use; FW_NONE: a gate */
    size_t move;    /* of its first use; FW_NONE: a gate, at any, or one that is
                       open before the first */
    double at_m;    /* along the line from A to its middle; of a gate 0 */
    double width_m; /* of a gate 0: nobody told */
    double room_m;  /* free on its shallower side, as far as was looked */
    struct fw_point place; /* the middle */
    bool open;             /* before the first move */
};

struct fw_move {
    int day; /* that of the stay before its end, and of this one's beginning */
    size_t stay;  /* that it leads into; FW_NONE: out of the last field */
    size_t field; /* that is entered; of the last move, that is left */
    struct fw_list steps; /* in fw_time.steps */
    size_t later;   /* step with which the second visit begins, or FW_NONE */
    size_t opening; /* the last on the way, through which they come into the
                       stay, or leave; FW_NONE: none is opened */
    bool ahead;     /* a paddock is fenced ahead when it is over */
    bool carries;   /* water goes with them */
    /* Reckoned by fw_time_judge, 0 before: minutes of one person, from where
     * the vehicle stands and back; times along a line on foot. */
    double minutes, passes;
};

/* One for all fields of a land; {0} is an empty one. */

struct fw_time {
    struct fw_time_stay *stays;
    size_t stay_count, stay_capacity;
    struct fw_standing *standings;
    size_t standing_count, standing_capacity;
    struct fw_move *moves; /* one a stay, and the last one */
    size_t move_count, move_capacity;
    struct fw_step *steps;
    size_t step_count, step_capacity;
    struct fw_opening *openings; /* first the gates that are told */
    size_t opening_count, opening_capacity;
    size_t *items; /* lines and cells of the steps */
    size_t item_count, item_capacity;
    struct fw_time_stay before[2]; /* the start's last ones, in their order */
    size_t before_count;
};

/* Decide. Stays follow each other, those of one field too. Lines are turned so
 * that their first end is the one that is fed. The stays are copied.
 * FW_EINPUT: no stay, or one that ends before it begins, or begins before the
 * one before it has ended, or in a cell that there is not. FW_ENOMEM. Nothing
 * is refused for what comes of it: that is for fw_time_judge. */
enum fw_status fw_time_make(struct fw_land *land,
                            const struct fw_time_stay *stays, size_t count,
                            const struct fw_habits *habits,
                            const struct fw_time_start *start,
                            struct fw_time *out, struct fw_error *err);
void fw_time_release(struct fw_time *time);

/* A round ends where they come to a cell that they grazed in it before; what
 * was grazed in it has grown again, and is shut off, when the next one comes to
 * its field. Numbers the stays; cells are under cell_count, and `grazed` is
 * which of them were grazed before the first one, or NULL. FW_ENOMEM. */
enum fw_status fw_time_number(struct fw_time *time, size_t cell_count,
                              const bool *grazed, struct fw_error *err);

/* Is it too narrow for that flock, or has too little room beside it? Of a gate
 * nobody knows: no. */
bool fw_opening_is_tight(const struct fw_opening *opening,
                         const struct fw_habits *habits);

/* The nights of a stay: from its first day to before the other one. */
struct fw_nights {
    int from, to;
};
struct fw_nights fw_time_nights(const struct fw_time *time, size_t stay);

/* When each cell is first entered and last left, each line first put up and
 * last taken down: FW_NO_DAY where that never is, or was before. What it had in
 * between is not told: ask a replay. Arrays of as many as the land has, to be
 * freed with fw_time_dates_release. FW_ENOMEM. */
struct fw_time_dates {
    struct fw_nights *cells, *lines;
};
enum fw_status fw_time_dates(const struct fw_time *time, size_t cell_count,
                             size_t line_count, struct fw_time_dates *out,
                             struct fw_error *err);
void fw_time_dates_release(struct fw_time_dates *dates);

/* By field: the day on which the first of its lines goes up and that on which
 * the last one comes down, both of them; `from` after `to` where none ever
 * stands. Lines that stood before, or are left, have the least or the greatest
 * of days. out has room for all fields of the land. */
void fw_time_field_days(const struct fw_time *time, const struct fw_land *land,
                        struct fw_nights *out);

/* The last move that was made when that day ends; FW_NONE: none was. */
size_t fw_time_move_by(const struct fw_time *time, int day);

/* Stays and moves so many days later, or earlier when negative; nothing else
 * changes. */
void fw_time_shift(struct fw_time *time, int days);

/* ---- what comes of it ---- */

/* Read its members, change none. Land and time are borrowed and must not change
 * meanwhile. */
struct fw_replay {
    const struct fw_land *land;
    const struct fw_time *time;
    bool *stands;                 /* by line; edges always do */
    bool *open;                   /* by opening */
    size_t *opened, opened_count; /* those that are open */
    unsigned char *open_door; /* by door: how many openings in it are open */
    size_t *door_of;          /* by opening; FW_NONE: a gate */
    bool *grazed; /* by cell: entered, or grazed before; no more when they come
                     into its field anew and it is to be grazed again */
    bool *ground; /* by cell: what the flock has now */
    size_t *list; /* the cells that the flock has */
    size_t list_count;
    size_t wet;        /* how many of them have the water */
    size_t field;      /* where they are; FW_NONE: outside */
    size_t cell;       /* where they are; FW_NONE: outside */
    size_t move, step; /* the next one to be done, in fw_time; after a step
                          `move` is still its own */
    unsigned long key;
    unsigned long found; /* how often the list was begun anew */
    bool stale; /* `ground` has to be found anew: fw_replay_ground does */
};

/* As things are before the first step: the flock is outside. `start` is what
 * the time was made with. FW_ENOMEM. End it when done. */

enum fw_status fw_replay_begin(const struct fw_land *land,
                               const struct fw_time *time,
                               const struct fw_time_start *start,
                               struct fw_replay *out, struct fw_error *err);
void fw_replay_end(struct fw_replay *replay);

/* Do one step; NULL when all are done. replay->move is its move. */
const struct fw_step *fw_replay_step(struct fw_replay *replay);

/* Equal at two places of one replay when the same lines stand there. */
unsigned long fw_replay_key(const struct fw_replay *replay);

/* The line that was set last of those of a field that stand, edges apart;
 * FW_NONE: none does. */
size_t fw_replay_newest(const struct fw_replay *replay, size_t field);

/* Go on to the end of that move; a replay that is past it stays where it is.
 * False: there is no such move. */
bool fw_replay_to_move(struct fw_replay *replay, size_t move);

/* The cells that the flock can walk to as things are, its own first; none when
 * it is outside. They belong to the replay, until the next call. */
const size_t *fw_replay_ground(struct fw_replay *replay, size_t *count);

/* Is that cell of it? */
bool fw_replay_has_ground(struct fw_replay *replay, size_t cell);

/* Does that ground have the field's water? */
bool fw_replay_has_water(struct fw_replay *replay);

/* ---- what it is worth ---- */

enum fw_fault_of_time {
    FW_TIME_LOOSE,   /* what stands does not enclose the flock */
    FW_TIME_UNTIED,  /* an end is tied to a line that is not there */
    FW_TIME_CROSSED, /* ungrazed ground on the way */
    FW_TIME_DRY,     /* a stay without water */
    FW_TIME_NO_FEED, /* a line that nothing live leads to */
    FW_TIME_NARROW,  /* an opening too narrow for this flock, or with too
                        little room on either side */
    FW_TIME_FAULTS
};

struct fw_time_sums {
    int reels, posts; /* the most that stands at once */
    double wire_m;    /* so is this, of all strands */
    double line_m;    /* and this, in the plane */
    int joints;       /* handles in mid-line that are there at once, most */
    int night_reels;  /* the most over a night */
    double minutes, passes;        /* of all moves together */
    double days;                   /* in the stays, in all */
    size_t faults[FW_TIME_FAULTS]; /* steps, ends, lines or openings with it */
    size_t first[FW_TIME_FAULTS]; /* the move of the first of each; 0 when there
                                     is none */
    double crossed_m;             /* over ungrazed ground, in all */
    size_t nights, dry_nights; /* those of the stays, and those without water */
};

/* Faults are counted, not refused; with FW_TIME_LOOSE or FW_TIME_UNTIED a time
 * is not to be used. Fills minutes and passes of time->moves too. FW_ENOMEM. */
enum fw_status fw_time_judge(const struct fw_land *land, struct fw_time *time,
                             const struct fw_habits *habits,
                             const struct fw_time_start *start,
                             struct fw_time_sums *out, struct fw_error *err);

/* Is the line hooked on to something live at its end A, its first, as far as is
 * told? A line that hangs on another has what that one has; FW_FEEDS_PERHAPS:
 * nobody said whether the edge is live. */
enum fw_feeds fw_land_fed(const struct fw_land *land, size_t line);

#endif
