/* Grass on hand, what must stay, what the flock may take, and the sums that
 * follow: paddock size, number of paddocks, stock density, days.
 *
 * The share that is used has two bases in print, and mixing them is wrong by
 * about two: a share of all that stands, or a share of what stands above the
 * residual. It is always named, and a residual is never taken off twice. */
#ifndef FW_FORAGE_FORAGE_H
#define FW_FORAGE_FORAGE_H

#include <foldwright/error.h>
#include <stdbool.h>

enum fw_use_of {
    FW_USE_UNTOLD, /* above the residual when one is given, else standing */
    FW_USE_ABOVE_RESIDUAL,
    FW_USE_STANDING
};

enum fw_density { FW_DENSITY_THIN, FW_DENSITY_GOOD, FW_DENSITY_THICK };
extern const char *const fw_forage_density_words[FW_DENSITY_THICK + 1];

/* Of grass kept for winter, by how long it stood since its last removal down to
 * the stop height; which parts are which, src/stockpile says. */
enum fw_condition {
    FW_CONDITION_UNTOLD,
    FW_CONDITION_FRESH,
    FW_CONDITION_AGED,
    FW_CONDITION_RANK,
    FW_CONDITION_COUNT
};
extern const char *const fw_forage_condition_words[FW_CONDITION_COUNT];

/* Mass by measured kg/ha, or by height and density; what is 0 is not given. */
struct fw_sward {
    char name[32]; /* a word of the density table, "" when mass is given */
    enum fw_density density;
    double density_kg_ha_cm; /* overrides the table */
    double height_m;         /* now */
    double leave_m;          /* height to leave behind */
    double mass_kg_ha;       /* overrides height */
    double residual_kg_ha;   /* overrides leave_m */
    double use;              /* 0 to 1; 0: the default for daily moves */
    enum fw_use_of use_of;
    enum fw_condition condition; /* told: it says the share, where none is */
    double legume; /* share of the sward, 0 to 1; negative: not told */
};

struct fw_density_row {
    const char *word; /* "ryegrass-clover" */
    const char *label;
    double low_kg_ha_cm[3]; /* thin, good, thick: the published range; 0: none
                               is published */
    double high_kg_ha_cm[3];
    const char *source;
};

const struct fw_density_row *fw_forage_rows(size_t *count);

/* FW_EINPUT: no such sward; the nearest word is suggested. */
enum fw_status fw_forage_find(const char *word,
                              const struct fw_density_row **out,
                              struct fw_error *err);

struct fw_usable {
    double mass_kg_ha;
    double residual_kg_ha; /* 0 when none is given */
    double use;
    enum fw_use_of use_of;      /* never FW_USE_UNTOLD */
    double usable_kg_ha;        /* what the flock may take */
    double left_kg_ha;          /* what stands afterwards */
    const char *density_source; /* NULL when mass was given */
    const char *use_source;     /* "given", or the default's source */
};

/* stay_days, over 0 to 366, picks the default share for moves of that length.
 * FW_EINPUT: a value is out of range or missing, a residual with use of
 * standing, use above a residual that nobody gave. FW_EPLAN: nothing stands
 * above the residual. */
enum fw_status fw_forage_usable(const struct fw_sward *sward, double stay_days,
                                struct fw_usable *out, struct fw_error *err);

/* The same where nothing may stand above what must stay: 0 is usable then. */
enum fw_status fw_forage_measure(const struct fw_sward *sward, double stay_days,
                                 struct fw_usable *out, struct fw_error *err);

/* What stands when they have eaten that share of what they may take: of what
 * stands above the residual the rest is trodden, and does not count again. */
double fw_forage_after_kg_ha(const struct fw_usable *usable,
                             double stands_kg_ha, double share);

/* The same of a day on which so much stands: the residual and the share stay.
 * 0 where nothing stands above what must stay. */
double fw_forage_usable_of_kg_ha(const struct fw_usable *usable,
                                 double stands_kg_ha);

/* How high the grass stands now, and what they leave; 0 where nobody told how
 * much stands in a centimetre. */
void fw_forage_heights(const struct fw_sward *sward,
                       const struct fw_usable *usable, double *grass_m,
                       double *left_m);

/* Area that feeds the demand for the stay. */
double fw_forage_paddock_ha(double demand_kg_day, double stay_days,
                            double usable_kg_ha);

/* Paddocks for a rest with stays of so many days: rest / stay + 1, rounded up
 * (Penn State; University of Connecticut). */
double fw_forage_paddocks_for_rest(double rest_days, double stay_days);

/* Days that area feeds the flock. */
double fw_forage_days(double area_ha, double usable_kg_ha,
                      double demand_kg_day);

/* The stay list: what each paddock in turn must hold. */
struct fw_stay {
    double days[7];    /* Monday to Sunday: the stay that starts on that day;
                          0: no move that day (an earlier stay runs over it) */
    int *away;         /* pairs: first and last day away, no move on them */
    size_t away_count; /* pairs */
};

/* April to September are the warm half of the year north of the equator, the
 * cold half south of it. */
bool fw_forage_is_warm(int day, double lat_deg);

/* The length of the stay that starts on the day: the pattern's, made longer to
 * the next day on which a move can be made. 1 to 60 days. */
int fw_forage_stay_from(const struct fw_stay *stay, int day);

/* The length that most of the stays have that come from that day on; of two
 * that come as often the one that did so first. */
int fw_forage_common_stay(const struct fw_stay *stay, int from_day);

#endif
