/* The winter's grass: what stands of a part by the day of its last removal, how
 * good it is, what sheep take of it, and for how long that is enough.
 *
 * Published lines are laid side by side, and nothing is fitted between them: a
 * line holds where it was measured and says where it did not. Old grass that
 * the last removal left above the stop height is carried over. What a flock
 * eats otherwise, and where the fields lie, is others' business. */
#ifndef FW_STOCKPILE_STOCKPILE_H
#define FW_STOCKPILE_STOCKPILE_H

#include <foldwright/date.h>
#include <foldwright/error.h>
#include <stdbool.h>

/* ---- lines ---- */

struct fw_stockpile_curve { /* by the day of a common year */
    const double *at, *values;
    int count;
};

struct fw_stockpile_line {
    const char *word;  /* "north-carolina" */
    const char *place; /* what, where, when, for people */
    const char *source;
    const char *swards[3]; /* of the density table; NULL ends them */
    struct fw_stockpile_curve mass_kg_ha;
    struct fw_stockpile_curve digest;      /* share, when it was measured */
    struct fw_stockpile_curve digest_late; /* in March; none: `grasses` says */
    struct fw_stockpile_curve protein;     /* share; none: not published */
    bool grasses;      /* quality falls as that of Wisconsin's seven grasses */
    bool spring;       /* measured after the winter: nothing is lost any more */
    int cut_of_year;   /* when its mass was cut; 0: at the frost */
    int frost_of_year; /* first hard frost there */
};

const struct fw_stockpile_line *fw_stockpile_lines(size_t *count);

double fw_stockpile_lat_deg(const struct fw_stockpile_line *line);

/* FW_EINPUT: there is no such line; the nearest word is suggested. */
enum fw_status fw_stockpile_find(const char *word,
                                 const struct fw_stockpile_line **out,
                                 struct fw_error *err);

/* Was the line measured on that sward? FW_EINPUT: not; a line that has it is
 * named, or the nearest one. */
enum fw_status fw_stockpile_suits(const struct fw_stockpile_line *line,
                                  const char *sward, struct fw_error *err);

/* On the straight line through a curve's points; beyond its ends it goes on,
 * or, when `held`, stays. */
double fw_stockpile_at(const struct fw_stockpile_curve *curve, double of_year,
                       bool held);

/* The day of a common year, and the day of that number in the given one. */
double fw_stockpile_of_year(int day);
int fw_stockpile_day(int year, int of_year);

/* Was the line measured for grass last removed on that day? */
bool fw_stockpile_measured(const struct fw_stockpile_line *line, int day);

/* What winter takes of standing grass where that was measured. */
struct fw_stockpile_loss {
    const char *word;   /* "missouri" */
    double share;       /* November to March */
    double least, most; /* in print there */
};

const struct fw_stockpile_loss *fw_stockpile_losses(size_t *count);

/* FW_EINPUT: it was not measured there; the nearest word is suggested. */
enum fw_status fw_stockpile_loss_find(const char *word,
                                      const struct fw_stockpile_loss **out,
                                      struct fw_error *err);

/* ---- a part and its winter ---- */

struct fw_stockpile_part {
    char name[64];
    double area_ha;
    int grazed_day;         /* FW_NO_DAY: not grazed, only topped */
    double left_m;          /* what the grazing left */
    int topped_day;         /* FW_NO_DAY: not topped */
    double topped_m;        /* to that height */
    double nitrogen_kg_ha;  /* more, or less, than the line had */
    double stop_m;          /* what stands below it does not count */
    double density_kg_ha_m; /* of old grass, above the stop height */
};

struct fw_stockpile_winter {
    const struct fw_stockpile_line *line;
    double loss;          /* share that the winter takes, 0 to 0.75 */
    double nitrogen_gain; /* kg of grass a kg; 0: the cautious one in print */
    double base_nitrogen_kg_ha; /* what the line had; negative: unknown */
    int frost_day;              /* growth ends */
    double break_days;          /* of feed in one break; 0: all of it */
    double lat_deg;             /* of the fields */
};

/* Can it be? FW_EINPUT: topped before grazed, closed after the frost, a winter
 * of the southern half, more nitrogen than any trial gave. */
enum fw_status fw_stockpile_check(const struct fw_stockpile_part *part,
                                  const struct fw_stockpile_winter *winter,
                                  struct fw_error *err);

enum fw_stockpile_condition {
    FW_STOCKPILE_FRESH,
    FW_STOCKPILE_AGED,
    FW_STOCKPILE_RANK,
    FW_STOCKPILE_CONDITION_COUNT
};

struct fw_stockpile_stand {
    int closed_day;       /* of the last removal */
    double carried_kg_ha; /* old grass, when it was closed */
    double mass_kg_ha;    /* both, on the day */
    double old_share;     /* of it */
    double digest;        /* share; old grass at its worst */
    double digest_best;   /* old grass at its best */
    double protein;       /* share; NaN: not published */
    double dead;          /* share of the mass */
    enum fw_stockpile_condition condition;
};

/* What stands on a day from the frost on. */
void fw_stockpile_stands(const struct fw_stockpile_part *part,
                         const struct fw_stockpile_winter *winter, int day,
                         struct fw_stockpile_stand *out);

/* The same of a part that was never topped. */
struct fw_stockpile_part
fw_stockpile_untopped(const struct fw_stockpile_part *part);

/* ---- what they take ---- */

/* Fenced apart: by the days of feed in a break (0: all of it), and by what is
 * dead. */
double fw_stockpile_share(double break_days, double dead);

/* Two parts in one open break: the leafy one is cleared, and of the other one
 * as much goes as they pick beside it. Masses in kg, of the whole part. */
struct fw_stockpile_open {
    double leafy_share, rank_share;
};
struct fw_stockpile_open fw_stockpile_open(double leafy_kg, double rank_kg);

/* ---- what they need ---- */

enum fw_stockpile_class {
    FW_STOCKPILE_DRY,
    FW_STOCKPILE_EARLY,      /* in the first 15 weeks of gestation */
    FW_STOCKPILE_LATE,       /* the last 4, their intake limited by weight */
    FW_STOCKPILE_LATE_FIBRE, /* the same, limited by fibre */
    FW_STOCKPILE_CLASS_COUNT
};

struct fw_stockpile_flock {
    double head;
    double weight_kg;                         /* of one */
    double need_kg[FW_STOCKPILE_CLASS_COUNT]; /* dry matter, one and day */
};

struct fw_stockpile_fed {
    double need_kg;      /* dry matter, of one a day */
    double energy_kg;    /* of it, digestible nutrients */
    double limit_kg;     /* what she can eat of this grass */
    double grass_kg;     /* what she eats of it */
    double other_kg;     /* other feed beside it; 0: she is at need on grass */
    double days_at_need; /* on grass alone, for all; 0: she cannot be */
    double days_with_feed; /* for all, with other_kg beside it */
    double plain_days;     /* mass by dry matter, whatever its quality */
    double worth_days;     /* as many days need as it holds, eaten or not */
};

/* The flock on taken_kg of such grass. */
void fw_stockpile_feeds(const struct fw_stockpile_flock *flock,
                        enum fw_stockpile_class class, double digest,
                        double protein, double taken_kg,
                        struct fw_stockpile_fed *out);

#endif
