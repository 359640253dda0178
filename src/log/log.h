/* The log: what a person says of each day, and what comes of it beside the
 * plan.
 *
 * A file of text beside the farm file, one line a day, that a person reads and
 * mends:
 *
 *   2027-05-20; of A03; left 9 cm; bellies full; head 61; note rain at noon
 *
 * Lines are only added. One with `correct` puts its parts in place of those of
 * the day, one with `undo` takes back the line before. What is no such line is
 * told by its number and left alone; the others count. A day without a line
 * went as planned, and nobody looked.
 *
 * Which move a day was, where the flock came from and what stood there comes
 * of the plan and the lines, anew each time: nothing else is kept. */
#ifndef FW_LOG_LOG_H
#define FW_LOG_LOG_H

#include "base/text.h"
#include "days/days.h"
#include "figures/mark.h"
#include "plan/on.h"
#include <foldwright/quantity.h>

/* ---- the parts of a line ---- */

/* In the order of the card. */
enum fw_log_part {
    FW_LOG_LEFT,
    FW_LOG_BELLIES,
    FW_LOG_OPEN_V,
    FW_LOG_HEAD,
    FW_LOG_LAMBS,
    FW_LOG_FLOCK,
    FW_LOG_WEANED,
    FW_LOG_INTO,
    FW_LOG_FENCE,
    FW_LOG_MINUTES,
    FW_LOG_HAY,
    FW_LOG_MISSED,
    FW_LOG_WEATHER,
    FW_LOG_NOTE, /* last: it takes the rest of the line */
    FW_LOG_PARTS
};

enum fw_log_how {
    FW_LOG_BY_HEIGHT, /* or one of the words */
    FW_LOG_BY_WORD,
    FW_LOG_BY_VOLTS, /* 5.6kV@FENCE */
    FW_LOG_BY_COUNT,
    FW_LOG_BY_CLASS, /* ewes 52, rams 0 */
    FW_LOG_BY_LAMBS, /* 96 28kg, 0 */
    FW_LOG_BY_PACES, /* 14,11 */
    FW_LOG_BY_MINUTES,
    FW_LOG_BY_MASS,
    FW_LOG_BY_YES, /* takes no value */
    FW_LOG_BY_TEXT
};

/* One row a part: the option of `record`, the word in a line, the column of a
 * CSV, the row of the help and of the guide. */
struct fw_log_part_row {
    const char *name; /* "open-v" */
    enum fw_log_how how;
    const char *words;   /* that it may be, a space between; NULL: none */
    const char *example; /* NULL: it takes no value */
    const char *help;
};
const struct fw_log_part_row *fw_log_part_row(enum fw_log_part part);

/* FW_LOG_PARTS: there is none of that name. */
enum fw_log_part fw_log_part_named(const char *name, size_t length);

#define FW_LOG_TEXT FW_EFFORT(240)

struct fw_log_value {
    bool told;
    char text[FW_LOG_TEXT]; /* as written */
    double
        number;   /* m, V, head, paces at A, minutes, kg; NaN: a word is told */
    double other; /* paces at B; NaN: told for A alone. Of weaned lambs: kg of
                     one; NaN: none stay */
    int word;     /* of the row's words; -1: none of them */
    char at[FW_ID]; /* volts: the fence; "": somewhere */
};

enum fw_log_left {
    FW_LOG_SHORT,
    FW_LOG_RIGHT,
    FW_LOG_LONG,
    FW_LOG_CLEAN,
    FW_LOG_SOME,
    FW_LOG_THIRD,
    FW_LOG_HALF
};
enum fw_log_bellies { FW_LOG_HOLLOW, FW_LOG_FULL };
enum fw_log_weather { FW_LOG_WET, FW_LOG_FROST, FW_LOG_HEAT };

/* FW_EINPUT: what it is not, with the text and what works. */
enum fw_status fw_log_value_read(struct fw_quantities *quantities,
                                 enum fw_log_part part, const char *text,
                                 enum fw_units units, struct fw_log_value *out,
                                 struct fw_error *err);

/* ---- a line ---- */

enum fw_log_kind { FW_LOG_DAY, FW_LOG_CORRECT, FW_LOG_UNDO };

struct fw_log_line {
    int day; /* FW_NO_DAY: not told */
    enum fw_log_kind kind;
    char of[FW_ID]; /* the paddock that was left; "": not told */
    struct fw_log_value values[FW_LOG_PARTS];
    size_t number; /* in its file, from 1 */
};

enum fw_status fw_log_line_read(struct fw_quantities *quantities,
                                const char *text, size_t length,
                                enum fw_units units, struct fw_log_line *out,
                                struct fw_error *err);
/* With its newline. */
void fw_log_line_write(struct fw_text *text, const struct fw_log_line *line);

/* ---- all lines ---- */

struct fw_log_lines {
    struct fw_log_line *items;
    size_t count, capacity;
    bool torn; /* the end of its file has no newline */
};

struct fw_log_source {
    const char *path; /* for messages */
    const char *bytes;
    size_t count;
    enum fw_units units;
};

/* The lines of a log that count, in its order: those taken back are gone.
 * What is no line, and what does not go with those before it, becomes a note
 * whose place is "PATH:7". */
enum fw_status fw_log_lines_read(const struct fw_log_source *source,
                                 struct fw_log_lines *out,
                                 struct fw_notes *notes, struct fw_error *err);
enum fw_status fw_log_lines_add(struct fw_log_lines *lines,
                                const struct fw_log_line *line,
                                struct fw_error *err);
/* Each day once, corrected, in the order of days. */
enum fw_status fw_log_lines_by_day(const struct fw_log_lines *lines,
                                   struct fw_log_lines *out,
                                   struct fw_error *err);
const struct fw_log_line *fw_log_lines_at(const struct fw_log_lines *by_day,
                                          int day);
void fw_log_lines_release(struct fw_log_lines *lines);

/* Days of a CSV, its first row the names of the parts and "date", "correct". */
enum fw_status fw_log_csv_read(const char *path, enum fw_units units,
                               struct fw_log_lines *out, struct fw_error *err);

/* ---- the plan and what really happened ---- */

/* Where an end of a fence is set: on from the fence before, where one ends on
 * the same side or line, else as the plan counts it. */
struct fw_log_paces {
    int paces;
    int way;  /* 1: more of them make the paddock that it bounds larger; -1:
                 smaller; 0: it is the end that a fence turns about, or nobody
                 can say */
    bool on;  /* from the fence before */
    int room; /* that it can go on before the side or line ends */
};
/* A day from the plan's first to the last of the log. */
struct fw_log_day {
    int day;
    const struct fw_log_line *said; /* NULL: as planned, nobody looked */
    size_t move; /* of the plan as it stood then, made that day; FW_NONE: none
                    was */
    double planned_min; /* that it takes by that, at the rates of the farm */
    double set_m;       /* of line that it sets */
    bool missed;        /* one was due, and nobody came */
    size_t paddock;     /* that was left; FW_NONE: none, or from outside */
    size_t to;          /* that they came into; FW_NONE: none, or out */
    int entered;        /* the day on which they came into it */
    struct fw_days_offer offer; /* of that paddock, when there is one, by the
                                   plan as it stood when they came into it */
    double told_kg_ha; /* that stood there by the forage as it was told */
    bool looked;
    struct fw_days_look look;
    double stood_kg_ha; /* by the look */
    bool too_low;       /* below what must stay, for too long a stay */
    int head;           /* grown sheep that were in it */
    size_t fence;       /* set that day, whose paces are counted; or FW_NONE */
    struct fw_log_paces a, b; /* of it, by the plan as it stood */
    double most;              /* how large, of the plan's 1, it could bound */
    bool anew;                /* what is not grazed was cut anew that evening */
    struct fw_error wrong;    /* what is said does not fit; FW_OK: it does */
    double size; /* as it was set, of the plan's 1: the paddock that it
                    bounds */
    struct fw_days_guess guess; /* of the paddock's field, after the look */
};

/* How the next fence that is set should stand. */
struct fw_log_next {
    size_t move, fence; /* FW_NONE: none is set any more */
    size_t paddock;     /* that it bounds */
    double size;        /* of the plan's 1 */
    bool shared;        /* what is left of its block is shared out evenly, so
                           that it is another than is asked */
    double step;        /* from the one that was set last */
    double paces; /* on along both sides from where the plan has it; negative:
                     back. 0 where that was cut anew */
    bool known;   /* in paces: */
    int ends[2], meant[2]; /* where A and B are set, and were to be before what
                              was said last */
    bool rest;             /* all that is left of the block is theirs */
    enum fw_days_why why;
};

/* Who makes the plan that goes on from where they are; {0}: nobody, and the
 * moves go on as the plan has them. */
struct fw_log_making {
    const void *farm; /* handed to it */
    enum fw_status (*go_on)(const void *farm, const struct fw_plan_on *on,
                            struct fw_plan **out, struct fw_error *err);
};

struct fw_log {
    const struct fw_plan *base; /* that the log began beside; borrowed */
    const struct fw_plan *plan; /* as things stand: base, or one gone on */
    struct fw_log_making making;
    struct fw_plan *own, *before; /* that plan, and the one that it went on
                                     from when no move of it is made yet */
    struct fw_plan_on on; /* how it went on, with the lists as they were: */
    int *on_heads, *on_bought; /* by class */
    double *on_size;           /* by field */
    double *size;              /* by field: of the ground that the forage as
                                  told asks for */
    int head;                  /* grown sheep */
    int *heads, *bought; /* by class of the base: as told last, and the day
                            since      which there are more; FW_NO_DAY: never */
    struct fw_plan_weaned weaned;
    double minutes_share; /* of the farm's rates, that the plan reckons with */
    struct fw_error not_anew;   /* why it is not cut anew; FW_OK: it is */
    struct fw_log_lines lines;  /* as added */
    struct fw_log_lines by_day; /* what they come to */
    struct fw_log_day *days;
    size_t day_count, day_capacity;
    struct fw_plan_season_stay *season; /* so far; of the last one only when
                                           they came into it */
    size_t season_count, season_capacity;
    struct fw_plan_season_line *works; /* lines set and taken down so far */
    size_t work_count, work_capacity;
    size_t made; /* moves so far */
    struct fw_days_eye *eye;
    struct fw_log__so_far *so_far; /* that goes on from day to day */
    int next_day;                  /* after the last that was recorded */
    int late_days;                 /* that the moves are behind the base */
    int late_now;                  /* and behind the plan as things stand */
    size_t next_move;
    struct fw_log_next next;
    struct fw_added *file; /* NULL: not to be written */
    struct fw_text more;   /* to be added to it */
    int said_day;          /* since it was opened, the last one */
    size_t said_count;
    int silent_days; /* that were passed over: they went as planned */
};

/* Open the log at that path, to add to it or to read; none there is an empty
 * one. */
struct fw_log_request {
    const char *path;
    bool writer;
    struct fw_log_making making;
};
enum fw_status fw_log_open(const struct fw_plan *plan,
                           const struct fw_log_request *request,
                           struct fw_log **out, struct fw_notes *notes,
                           struct fw_error *err);
void fw_log_free(struct fw_log *log);

/* Say a day; without a date the next one. Nothing is written yet, and after a
 * failure nothing has changed. FW_EINPUT: what does not fit the plan, or the
 * days before. */
enum fw_status fw_log_say(struct fw_log *log, const struct fw_log_line *line,
                          struct fw_error *err);

/* Take back the last line. */
enum fw_status fw_log_undo(struct fw_log *log, int *day, struct fw_error *err);

/* The whole plan as things stand, with all that is told of it; NULL: that is
 * the base still. Free it. */
enum fw_status fw_log_now(const struct fw_log *log, struct fw_plan **out,
                          struct fw_error *err);
/* The same of the whole season: days that are over as they were, and what is
 * ahead. */
enum fw_status fw_log_season(const struct fw_log *log, struct fw_plan **out,
                             struct fw_error *err);

/* Put on the disk what was said. */
enum fw_status fw_log_keep(struct fw_log *log, struct fw_error *err);

/* ---- work.c: how long this person takes ---- */

/* Of the moves that minutes are told of. */
struct fw_log_work {
    size_t moves;
    double said_min, planned_min; /* planned: at the rates of the farm */
    double set_m;                 /* of line */
    double share; /* that they take of what the farm's rates say; 1 until there
                     are some */
};
struct fw_log_work fw_log_work(const struct fw_log *log);

/* ---- offer.c: a paddock by the plan ---- */

/* So much stands there by the forage as it was told, whatever was seen since.
 */
double fw_log_told_kg_ha(const struct fw_log *log, size_t paddock);

struct fw_days_offer fw_log_offer(const struct fw_plan *plan, size_t paddock);

/* kg/ha in a metre of its grass; 0: nobody told. */
double fw_log_density(const struct fw_plan *plan, size_t paddock);

/* How a person says what is left there: dormant grass lies flat, and without a
 * sward nobody knows what a height holds. */
enum fw_log_said_as { FW_LOG_AS_HEIGHT, FW_LOG_AS_WORD, FW_LOG_AS_SHARE };
enum fw_log_said_as fw_log_said_as(const struct fw_plan *plan, size_t paddock);

/* What that part of a line says is left; false: it says nothing that can be
 * weighed. *limit: they could get no more. */
bool fw_log_left(const struct fw_plan *plan, size_t paddock,
                 const struct fw_days_offer *offer,
                 const struct fw_log_line *line, double *left_kg_ha,
                 bool *limit);

/* The same of one word. */
double fw_log_word_left(const struct fw_days_offer *offer, int word);

/* The fence that is set at a move and counted in paces, and by how much of the
 * paddock that it bounds one pace along both sides makes it larger; FW_NONE:
 * none is, or nobody can say. */
size_t fw_log_fence(const struct fw_plan *plan, size_t move, double *share);

/* How large, of the plan's 1, that paddock is with all that lies ahead of it in
 * its block: no fence is set then. */
double fw_log_most(const struct fw_plan *plan, size_t paddock);

struct fw_log_paces fw_log_paces(const struct fw_plan *plan, size_t fence,
                                 bool at_a);

/* The next move's fence in paces, as the ends of a track on a map have it:
 * "14,11"; notes where the track bends and the fence does not. FW_EINPUT: it
 * has no track, or one of another field, or off what the fence ends on. */
enum fw_status fw_log_walked(const struct fw_log *log, const char *path,
                             char out[FW_LOG_TEXT], struct fw_notes *notes,
                             struct fw_error *err);

/* Paces at A and at B for a fence that is set so many on along both sides, or
 * back: never less than is asked for, where there is room. */
enum fw_log_anew {
    FW_LOG_NOBODY_KNOWS,
    FW_LOG_ANEW,
    FW_LOG_LINE_ENDS /* it is set where the side or line ends: less far */
};
enum fw_log_anew fw_log_paces_anew(const struct fw_plan *plan, size_t fence,
                                   double on, int out[2]);

#endif
