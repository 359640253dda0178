/* Classes of sheep: what they eat and drink in a day.
 *
 * Dry-matter intake comes from a published table by state and weight, or from
 * the shepherd's own figure. Unweaned lambs count with their dam until about
 * six weeks, then as lambs at foot. */
#ifndef FW_FLOCK_FLOCK_H
#define FW_FLOCK_FLOCK_H

#include <foldwright/error.h>
#include <stdbool.h>

enum fw_state {
    FW_DRY,
    FW_FLUSHING,         /* 2 weeks before tupping and its first 3 */
    FW_EARLY_GESTATION,  /* first 15 weeks */
    FW_LATE_GESTATION,   /* last 4 weeks */
    FW_LACTATION_SINGLE, /* first 6 to 8 weeks */
    FW_LACTATION_TWINS,
    FW_LATE_LACTATION_SINGLE, /* from then on: the lamb is a class of its own */
    FW_LATE_LACTATION_TWINS,
    FW_LAMB_AT_FOOT, /* from week 6 or 7 to weaning: grazes part of its diet */
    FW_WEANED_LAMB,
    FW_EWE_LAMB, /* kept for breeding */
    FW_RAM_LAMB,
    FW_HOGGET, /* from its first winter to its first shearing */
    FW_RAM,
    FW_STATE_COUNT
};

/* The smallest that go with a class, since a fence has to hold them too. */
enum fw_lambs { FW_LAMBS_NONE, FW_LAMBS_WEANED, FW_LAMBS_AT_FOOT };

enum fw_coat { FW_COAT_UNTOLD, FW_HAIR, FW_WOOL, FW_SHORN };
enum fw_answer { FW_UNTOLD, FW_NO, FW_YES };

struct fw_flock_class {
    char name[64];    /* as the farm calls it */
    int head;         /* 1 to 100,000 */
    double weight_kg; /* 1 to 200 */
    enum fw_state state;
    double intake_share;  /* of live weight a day; 0: by the table */
    double intake_kg_day; /* a head and day; 0: by the table or the share */
    enum fw_coat coat;
    enum fw_answer trained; /* to electric fence */
};

/* One row of the intake table: dry matter a day at the listed weights,
 * straight lines between them, the share of the end weight beyond. */
struct fw_intake_row {
    const char *label; /* "dry ewe" */
    int points;
    double weight_kg[6];
    double intake_kg[6];
    const char *source; /* the publication, and "from memory" where it is */
    const char *basis;  /* "read", "memory" or "common practice": the weakest
                           among its values */
    enum fw_lambs lambs;
};

/* As farm files, --class and plan.json write it: "dry". */
extern const char *const fw_flock_state_words[FW_STATE_COUNT];

struct fw_intake {
    double kg_day;      /* dry matter a head and day */
    double share;       /* of live weight */
    const char *source; /* the table's row, or "given" */
};

/* NULL: there is no such state. */
const struct fw_intake_row *fw_flock_row(enum fw_state state);

/* The smallest that go with any of the classes. */
enum fw_lambs fw_flock_lambs(const struct fw_flock_class *classes,
                             size_t count);

/* Are there ewes in their first weeks of milk, with young lambs? */
bool fw_flock_suckles(const struct fw_flock_class *classes, size_t count);

/* Are there ewes in milk? No head counts their lambs, but that of a class of
 * lambs at foot. */
bool fw_flock_milks(const struct fw_flock_class *classes, size_t count);

/* The state for a word ("dry", "dry-ewe", "lactation-twins", ...); FW_EINPUT
 * with the nearest word suggested. */
enum fw_status fw_flock_state(const char *word, enum fw_state *out,
                              struct fw_error *err);

/* FW_EINPUT: a value is out of its range. */
enum fw_status fw_flock_intake(const struct fw_flock_class *sheep,
                               struct fw_intake *out, struct fw_error *err);

struct fw_flock_sums {
    int head; /* all classes */
    double liveweight_kg;
    double demand_kg_day; /* dry matter */
    double water_l_day;   /* what to have on hand, see water_source */
    const char *water_source;
};

enum fw_status fw_flock_sum(const struct fw_flock_class *classes, size_t count,
                            struct fw_flock_sums *out, struct fw_error *err);

/* Daily water of one head, litres: the planning figure by state and weight,
 * with its source. */
double fw_flock_water_l_day(const struct fw_flock_class *sheep,
                            const char **source);

#endif
