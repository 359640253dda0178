/* Grass that grows, or weathers, while it waits for the flock.
 *
 * A rate is how fast a sward grows where about as much stands as a flock finds
 * (1,500 to 2,500 kg/ha); the shape says how that changes with what stands. A
 * rate of a month or a week holds in its middle, and goes straight from middle
 * to middle: no steps. Which rate it is, is a fact of a place; growth between
 * years and farms differs by far more than any shape does. */
#ifndef FW_FORAGE_GROWTH_H
#define FW_FORAGE_GROWTH_H

#include "figures/mark.h"
#include <foldwright/error.h>
#include <stdbool.h>

enum fw_growth_shape {
    FW_GROWTH_LOGISTIC,    /* fastest half way to the ceiling; after grazing */
    FW_GROWTH_FLAT,        /* the rate, whatever stands */
    FW_GROWTH_SET_STOCKED, /* as measured where the flock never left */
    FW_GROWTH_SHAPE_COUNT
};

enum { FW_GROWTH_MOST = FW_PARTS(53) }; /* weeks of a year that begin in it */

struct fw_growth_rate {
    int month, of_month; /* where its stretch of the year begins */
    int days;            /* of it; 0: the whole month */
    double kg_ha_day;    /* below 0: more is lost than grows */
};

struct fw_growth {
    struct fw_growth_rate rates[FW_GROWTH_MOST]; /* as they follow in a year */
    size_t count;                                /* 0: nobody has told any */
    bool steady; /* the first one's rate holds all the time */
    enum fw_growth_shape shape;
    double ceiling_kg_ha; /* what the sward can carry; 0: the register's */
    double winter_loss;   /* share of dormant grass that goes over a winter, 0
                             to under 1 */
    double lat_deg;       /* says which months are winter */
};

/* Is it a growth that can be? FW_EINPUT: stretches that overlap, a rate over
 * any that is published, one below 0 in the warm half of the year, a share or a
 * ceiling out of range. */
enum fw_status fw_growth_check(const struct fw_growth *growth,
                               struct fw_error *err);

/* FW_EINPUT: more stands at first than it lets the sward carry. */
enum fw_status fw_growth_starts(const struct fw_growth *growth,
                                double mass_kg_ha, struct fw_error *err);

/* The rate in the middle of that day, kg/ha a day, whatever stands; NaN where
 * the table says nothing of that time of the year. 0 when none is told. */
double fw_growth_rate_kg_ha(const struct fw_growth *growth, int day);

/* The same where only that share of it grows; what is lost is lost whole. */
struct fw_growth fw_growth_slowed(const struct fw_growth *growth, double share);

/* The first day from `from` on and before `to` of which the table says nothing;
 * FW_NO_DAY when there is none. */
int fw_growth_unknown(const struct fw_growth *growth, int from, int to);

/* One day of it: from the morning of `day` to that of the next, for many
 * masses. NaN where its rate is unknown. */
void fw_growth_pass(const struct fw_growth *growth, int day, double *mass_kg_ha,
                    size_t count);

/* What stands in the morning of `to` where mass_kg_ha stood in that of `from`
 * and nothing was eaten. Each day first loses its share where it is winter,
 * then grows. NaN where a rate on the way is unknown; `to` not after `from`:
 * mass_kg_ha. */
double fw_growth_stands_kg_ha(const struct fw_growth *growth, double mass_kg_ha,
                              int from, int to);

/* A table that somebody has published, and where it was measured. */
struct fw_growth_table {
    const char *word;  /* "northern-ireland" */
    const char *place; /* what and where, for people */
    const char *source;
    const double *values, *at; /* rates, or shares of a year's growth; by month,
                                  or by day of the year that begins a week */
    size_t count;
    bool weekly, shares;
    double low_kg_ha, high_kg_ha; /* of shares: a year's growth; else 0 */
};

const struct fw_growth_table *fw_growth_tables(size_t *count);

/* FW_EINPUT: there is no such table; the nearest word is suggested. */
enum fw_status fw_growth_find(const char *word,
                              const struct fw_growth_table **out,
                              struct fw_error *err);

/* The table's rates, in place of those of *growth. year_kg_ha is what grows in
 * a year, for a table of shares; 0: the middle of its range. Returns the sum of
 * its shares, 0 to 1, as printed and never scaled; 1 for a table of rates. */
double fw_growth_take(const struct fw_growth_table *table, double year_kg_ha,
                      struct fw_growth *growth);

#endif
