/* The energizer and its earth, first sums: joules by a named rule, rods by the
 * joules. Rules in print differ three- to fivefold; the one used is named. */
#ifndef FW_POWER_H
#define FW_POWER_H

#include <foldwright/error.h>
#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

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
};

FW_API const struct fw_joule_row *fw_power_rule(enum fw_joule_rule rule);
FW_API enum fw_status fw_power_rule_find(const char *word,
                                         enum fw_joule_rule *out,
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
FW_API enum fw_status fw_power_size(double hot_m, enum fw_joule_rule rule,
                                    double given_j, bool woolled, bool dry_soil,
                                    bool portable, struct fw_energizer *out,
                                    struct fw_error *err);

#define FW_MOST_JOULES_AT_500_OHM 5.0 /* IEC 60335-2-76 as quoted in print */

#ifdef __cplusplus
}
#endif
#endif
