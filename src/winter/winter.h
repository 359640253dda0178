/* The winter's grass of a farm: its flock on its parts, month by month; fenced
 * apart or in one break; which part when; what topping did; what moves the
 * result; and by which day of the last removal the wanted days come out.
 *
 * The sums are those of src/stockpile. Nothing here grows or grazes by itself:
 * published figures are laid side by side. */
#ifndef FW_WINTER_WINTER_H
#define FW_WINTER_WINTER_H

#include "farm/farm.h"
#include "figures/mark.h"
#include "stockpile/stockpile.h"

enum { FW_WINTER_MONTHS = FW_PARTS(8) };

/* A part, if all of it were grazed on that day. */
struct fw_winter_row {
    int day;
    struct fw_stockpile_stand stand;
    double share; /* that they take, fenced apart */
    double taken_kg;
    struct fw_stockpile_fed fed[FW_STOCKPILE_CLASS_COUNT];
};

/* What topping a part did, or would have. */
struct fw_winter_topping {
    bool done;          /* else: would have been */
    bool cuts;          /* there is grass above that height */
    int after_days;     /* the grazing; -1: it was not grazed */
    bool late;          /* more days than regrowth bears */
    double swath_kg_ha; /* that lies there */
    bool heavy;         /* so much that it rots on what grows */
    double hours;
    struct fw_winter_row with, without; /* in the middle of the wanted days */
    struct fw_winter_row without_best;  /* old grass as good as it can be */
};

struct fw_winter_part {
    const struct fw_stockpile_part *part;
    bool measured; /* its line was, for that last removal */
    struct fw_winter_row rows[FW_WINTER_MONTHS]; /* by month */
    struct fw_winter_row middle;                 /* of the wanted days */
    struct fw_winter_topping topping;
    double open_share; /* taken if all parts lie in one break */
    bool leafy;        /* of parts that differ: the one they clear then */
    double left_m;     /* how high they leave it, fenced apart */
    double seen_m;     /* and did, as told; negative: not told */
    double seen_share; /* what they took by that */
};

/* All parts one after the other, through the wanted days. */
struct fw_winter_order {
    size_t *parts;    /* which is grazed first, second, ... */
    int *from_days;   /* when each has its turn; FW_NO_DAY: never */
    double other_kg;  /* other feed, all in all */
    int days_at_need; /* on grass alone */
    int days_fed;     /* on grass, with other feed or without */
};

struct fw_winter_effect {
    const char *what;
    char from[64], to[64]; /* what was tried */
    double from_days, to_days;
};
enum { FW_WINTER_EFFECTS = FW_PARTS(5) };

/* What all parts would be, closed on one day at the stop height. */
struct fw_winter_closing {
    int day;
    bool measured;
    struct fw_winter_row row; /* in the middle of the wanted days */
    bool other_measured;      /* the same by the other line of that sward */
    double other_kg_ha;
};

struct fw_winter {
    const struct fw_farm *farm;
    struct fw_stockpile_flock flock;
    int left_out; /* lambs: not there in winter, or not told of */
    double area_ha;
    struct fw_winter_part *parts;
    size_t part_count, row_count;
    int middle_day, last_day;      /* of the wanted days */
    enum fw_stockpile_class class; /* in the middle of them */

    bool differ;     /* some parts are leafier than others */
    int cleared_day; /* in one break: the leafy ones are */
    struct fw_winter_order poor_first, good_first;
    bool good_is_better;
    struct fw_winter_effect effects[FW_WINTER_EFFECTS]; /* greatest first */
    size_t effect_count;
    const struct fw_stockpile_line *other_line; /* NULL: there is none */
    struct fw_winter_closing *closings;         /* from 1 June to the frost */
    size_t closing_count;
};

/* FW_EINPUT: no part or no flock is told. */
enum fw_status fw_winter_make(const struct fw_farm *farm,
                              struct fw_winter **out, struct fw_error *err);
void fw_winter_free(struct fw_winter *winter);

/* What a person saw that they left in a part: "heavy", 0.06. FW_EINPUT: there
 * is no such part, or more was left than stood. */
enum fw_status fw_winter_left(struct fw_winter *winter, const char *name,
                              double left_m, struct fw_error *err);

/* Which the flock is on a day, by its lambing. */
enum fw_stockpile_class fw_winter_class(const struct fw_winter *winter,
                                        int day);

/* The longest stretch of days on any of which all parts may be closed, and feed
 * them as that class for the wanted days on grass alone: its first and last
 * index in closings; false: there is none. */
bool fw_winter_window(const struct fw_winter *winter,
                      enum fw_stockpile_class class, size_t *first,
                      size_t *last);

/* winter.c, for this folder: the flock on a part of that stand. */
void fw_winter__row(const struct fw_winter *winter,
                    const struct fw_stockpile_winter *through,
                    const struct fw_stockpile_part *part, int day,
                    struct fw_winter_row *out);
void fw_winter__topping(const struct fw_winter *winter,
                        struct fw_winter_part *part);
enum fw_status fw_winter__orders(struct fw_winter *winter,
                                 struct fw_error *err);
void fw_winter__effects(struct fw_winter *winter);
enum fw_status fw_winter__closings(struct fw_winter *winter,
                                   struct fw_error *err);

#endif
