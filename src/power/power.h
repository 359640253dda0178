/* The sums around an energizer: joules by a named rule, what a data sheet says
 * of it, the wire it feeds and what leaks from it, its earth, what feeds it.
 * Rules in print differ three- to fivefold: the one used is named, and each
 * figure carries its source and a mark that says what the source is worth. The
 * volts along a fence are circuit.h's business. */
#ifndef FW_POWER_POWER_H
#define FW_POWER_POWER_H

#include <foldwright/error.h>
#include <foldwright/figures.h>
#include <stdbool.h>
#include <stddef.h>

/* ---- joules, rods and volts wanted: the first sizes ---- */

enum fw_joule_rule {
    FW_RULE_MILE,  /* 1 J a mile of fence, whatever the strands */
    FW_RULE_KM,    /* 1 J a kilometre of clean fence, sheep */
    FW_RULE_WEEDY, /* 1 J for 610 m of fence full of weeds */
    FW_RULE_COUNT
};

struct fw_joule_row {
    enum fw_joule_rule rule;
    const char *word; /* "mile", "km", "weedy" */
    const char *label;
    double m_per_joule;
    const char *source;
    const char *decides;  /* what to say where it sets the size, and ... */
    const char *short_of; /* ... where no size gives enough volts */
};

const struct fw_joule_row *fw_power_rule(enum fw_joule_rule rule);
enum fw_status fw_power_rule_find(const char *word, enum fw_joule_rule *out,
                                  struct fw_error *err);

struct fw_energizer {
    double need_j;     /* by the rule */
    double joules;     /* the next common size, or the farm's own; over
                          15 J, where no common size is, whole joules */
    bool given;        /* joules came from the farm */
    int rods;          /* earth rods of rod_m each */
    double rod_m;      /* 1.83: six feet; 0.61 for the one rod of a small
                          portable set in soil that is not dry */
    double rod_metres; /* metres of rod that the rule asks for */
    double open_v;     /* wanted on a tester, for this coat and soil */
    double touched_v;  /* wanted while touched */
    const char *rule_source, *rod_source, *volt_source;
};

/* hot_m is the length of all fence that is live at once; coat and soil change
 * the volts wanted (fw_coat and dry soil: the numbers of flock.h are taken as
 * plain flags here). given_j 0: size it. FW_EINPUT: negative or not finite. */
enum fw_status fw_power_size(double hot_m, enum fw_joule_rule rule,
                             double given_j, bool woolled, bool dry_soil,
                             bool portable, struct fw_energizer *out,
                             struct fw_error *err);

/* What a tester should read, and what should be left of it while a sheep
 * touches the fence. Dry soil counts whatever the coat. */
struct fw_power_wanted {
    double open_v, touched_v;
    const char *source; /* of both */
    enum fw_mark mark;  /* of open_v; touched_v is published */
};

struct fw_power_wanted fw_power_wanted_volts(bool woolled, bool dry_soil);
bool fw_power_meets(const struct fw_power_wanted *wanted, double open_v,
                    double touched_v);

/* ---- the energizer on its data sheet ---- */

struct fw_power_source {
    double open_v;       /* without a fence */
    double internal_ohm; /* what takes volts away under load */
    const char *source;
    enum fw_mark mark;
};

/* Volts without load and at a load, 500 ohm on most sheets. FW_EINPUT: a value
 * is not over 0, or the volts do not fall under load. */
enum fw_status fw_power_source_volts(double open_v, double load_v,
                                     double load_ohm,
                                     struct fw_power_source *out,
                                     struct fw_error *err);

/* Volts without load and joules at a load: the joules of a pulse that lasts
 * like one of 100 microseconds. */
enum fw_status fw_power_source_joules(double open_v, double joules,
                                      double load_ohm,
                                      struct fw_power_source *out,
                                      struct fw_error *err);

/* Joules alone: an order of magnitude, from a table of 0.25 to 5 J, between its
 * rows along the logarithm of the joules. FW_EINPUT: outside of it. */
enum fw_status fw_power_source_guess(double joules, struct fw_power_source *out,
                                     struct fw_error *err);

struct fw_pulse {
    double interval_s; /* from one to the next */
    double duration_s; /* of one */
    double joules;     /* the most at any load of 50 to 500 ohm */
    double current_a;  /* of a current-limited energizer; 0: its energy is
                          what is limited */
    bool time_delay;   /* gives more than 5 J, only after a delay */
};

enum fw_pulse_limit {
    FW_LIMIT_NONE,     /* none of them is broken */
    FW_LIMIT_INTERVAL, /* 1 s or more */
    FW_LIMIT_DURATION, /* 10 ms or less */
    FW_LIMIT_ENERGY,   /* 5 J or less, 15 J after a delay */
    FW_LIMIT_CURRENT,  /* what fw_power_most_current_a gives */
    FW_LIMIT_COUNT
};

/* The first limit of IEC 60335-2-76, as quoted in print, that the pulse breaks.
 * A maker vouches for an energizer; this catches a wrong digit. */
enum fw_pulse_limit fw_power_limit_broken(const struct fw_pulse *pulse);
const char *fw_power_limit_text(enum fw_pulse_limit limit);
const char *fw_power_limit_source(enum fw_pulse_limit limit);

/* Current-limited energizers, from memory: 15.7 A up to 0.1 ms, less after. */
double fw_power_most_current_a(double duration_s);

/* ---- the wire and what leaks from it ---- */

struct fw_conductor {
    const char *word; /* "poly-6x0.20" */
    const char *label;
    double ohm_m;
    const char *source;
    enum fw_mark mark;
};

const struct fw_conductor *fw_power_conductors(size_t *count);

/* FW_EINPUT: no such conductor; the nearest word is suggested. */
enum fw_status fw_power_conductor_find(const char *word,
                                       const struct fw_conductor **out,
                                       struct fw_error *err);

enum fw_leakage {
    FW_LEAKAGE_CLEAN,
    FW_LEAKAGE_NORMAL,
    FW_LEAKAGE_LIGHT,
    FW_LEAKAGE_MODERATE,
    FW_LEAKAGE_HEAVY,
    FW_LEAKAGE_COUNT
};

struct fw_leakage_row {
    enum fw_leakage leakage;
    const char *word; /* "clean", "normal", ... */
    const char *label;
    double ohm_km; /* a kilometre of wire has so many ohms to the ground */
    const char *source;
    enum fw_mark mark;
};

const struct fw_leakage_row *fw_power_leakage(enum fw_leakage leakage);
enum fw_status fw_power_leakage_find(const char *word, enum fw_leakage *out,
                                     struct fw_error *err);

/* The class of the bottom strand when nobody told it: the grass reaches it
 * while it grows. */
enum fw_leakage fw_power_leakage_untold(bool growing);

/* The same by how high the grass stands under the lowest wire, in metres: that
 * of a mown line up to half its height, what holds untold up to it, and beyond
 * it moderate, over twice as high heavy, unless it was laid flat: light (common
 * practice). Grass of 0: nobody knows how high. */
enum fw_leakage fw_power_leakage_under(double grass_m, double wire_m,
                                       bool laid_flat, bool growing);

/* The leakage of one strand, 0 being the bottom one, whose class is given:
 * while grass grows those above are one class better (common practice). 0: no
 * such class. */
double fw_power_leakage_ohm_km(enum fw_leakage bottom, int strand,
                               bool growing);

/* Strands of one conductor, joined at both ends: the fence as a single wire.
 * leak_ohm_km has one figure a strand. FW_EINPUT: none, or one not over 0. */
enum fw_status fw_power_bond(double ohm_m, const double *leak_ohm_km,
                             size_t strands, double *fence_ohm_m,
                             double *fence_leak_ohm_km, struct fw_error *err);

/* ---- the earth ---- */

struct fw_soil_row {
    const char *word; /* "loam" */
    const char *label;
    double low_ohm_m, ohm_m, high_ohm_m; /* the range in print, and what is
                                            reckoned with */
    const char *source;
    enum fw_mark mark;
};

const struct fw_soil_row *fw_power_soils(size_t *count);
enum fw_status fw_power_soil_find(const char *word,
                                  const struct fw_soil_row **out,
                                  struct fw_error *err);

/* What the ground under the four hooves of a sheep that touches one wire puts
 * in series with it, beyond what the 500 ohm of a body have of it: in loam and
 * better soil nothing. */
double fw_power_hooves_ohm(double soil_ohm_m);

struct fw_rod {
    double length_m, diameter_m;
    double spacing_m; /* in a line */
};

/* Six feet of 16 mm, ten feet apart. */
struct fw_rod fw_power_rod(void);

/* Rods in a line, driven to their heads. FW_EINPUT: a value is out of range. */
enum fw_status fw_power_earth_ohm(double soil_ohm_m, const struct fw_rod *rod,
                                  int rods, double *out, struct fw_error *err);

/* How rods in a line hinder each other: 1 for two, 5/3 for three, ...; 0 for
 * one. */
double fw_power_rods_factor(int rods);

struct fw_rod_limit {
    double volts; /* the last rod reads no more with the fence shorted */
    const char *source;
    enum fw_mark mark;
};

/* The limits in print; they differ, so that the limit is a setting. */
const struct fw_rod_limit *fw_power_rod_limits(size_t *count);

enum fw_earth_rule {
    FW_EARTH_JOULES,
    FW_EARTH_TEST,
    FW_EARTH_MOST /* no number passes the test: the most that would be driven,
                     since each one more still helps */
};

struct fw_earth_ask {
    double joules;
    double open_v, internal_ohm; /* of the energizer */
    double soil_ohm_m;
    struct fw_rod rod;
    double most_rod_v; /* 0: the usual one, 300 */
    int most_rods;     /* a number that somebody would drive; 0: 12 */
    bool portable;     /* of 0.5 J or less in soil that is not dry: one rod may
                          do by the joules */
    bool dry_soil;
};

struct fw_earth {
    int rods;               /* to drive */
    int by_joules, by_test; /* by_test 0: no sensible number passes the test */
    enum fw_earth_rule decided;
    double ohm;      /* of those rods together */
    double rod_v;    /* what the last of them should read in the test */
    double test_ohm; /* an earth of no more than this passes it */
};

/* How many rods: by the joules, and by the test that a shepherd makes, fence
 * shorted until a tester reads 2 kV. The greater number holds. The stronger
 * the energizer, by joules and by volts, the more rods, never fewer. FW_EINPUT:
 * a value is out of range. */
enum fw_status fw_power_earth(const struct fw_earth_ask *ask,
                              struct fw_earth *out, struct fw_error *err);

/* Where the soil gives no earth, a strand does. */
struct fw_earth_return {
    const char *wiring; /* which strand is the earth, and why */
    const char *cost;   /* what that costs in holding sheep */
    const char *source;
    enum fw_mark mark;
};

const struct fw_earth_return *fw_power_earth_return(int strands);

/* Strand 0 is the bottom one. */
bool fw_power_is_earth_strand(int strand, int strands);

/* The strand of the other kind that a sheep touches with that one. */
int fw_power_beside(int strand);

/* ---- what feeds the energizer ---- */

/* Watts it takes for its output joules, a pulse each interval_s. FW_EINPUT:
 * joules are not over 0 to 100, or the interval not 1 to 10 s. */
enum fw_status fw_power_draw_w(double joules, double interval_s, double *out,
                               struct fw_error *err);

/* The battery for so many days between charges, in steps of 5 Ah. FW_EINPUT: a
 * value is not over 0, or the battery over 10,000 Ah. */
enum fw_status fw_power_battery_ah(double draw_a, double days, double *out,
                                   struct fw_error *err);

struct fw_solar {
    double wh_day, ah_day; /* what the energizer takes */
    double charge_a;       /* what gives that in the hours of sun */
    double panel_w;        /* with the margin for losses */
    double buy_w;          /* the next common panel */
};

/* sun_h hours of full sun a day; margin 1.2 is 20 % more panel. FW_EINPUT: a
 * value is out of range, or no common panel is large enough. */
enum fw_status fw_power_solar(double draw_a, double battery_v, double sun_h,
                              double margin, struct fw_solar *out,
                              struct fw_error *err);

/* Kilowatt hours and money a month. FW_EINPUT: watts are not over 0 to 1,000,
 * or the price is negative. */
enum fw_status fw_power_mains(double watts, double price_kwh, double *kwh_month,
                              double *cost_month, struct fw_error *err);

#endif
