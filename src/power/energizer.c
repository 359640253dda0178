#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "power/power.h"
#include "power/words.h"

#include <math.h>
#include <string.h>

#define RULE(rule, word, label, m_per_joule, source)                           \
    {                                                                          \
        rule, word, label, m_per_joule, source, "by the rule of " label,       \
            "by the rule of " label "; no size is enough"                      \
    }

static const struct fw_joule_row rules[FW_RULE_COUNT] = {
    RULE(FW_RULE_MILE, "mile", "1 J a mile of fence", FW_RULE_MILE_M,
         FW_RULE_MILE_M_SOURCE),
    RULE(FW_RULE_KM, "km", "1 J a kilometre of clean fence", FW_RULE_KM_M,
         FW_RULE_KM_M_SOURCE),
    RULE(FW_RULE_WEEDY, "weedy",
         "1 J for 610 m (2,000 ft) of fence full of weeds", FW_RULE_WEEDY_M,
         FW_RULE_WEEDY_M_SOURCE),
};

static const double joule_rounding = FW_TOLERANCE(1e-9);

const struct fw_joule_row *fw_power_rule(enum fw_joule_rule rule)
{
    for (size_t i = 0; i < FW_RULE_COUNT; i++)
        if (rules[i].rule == rule)
            return &rules[i];
    return NULL;
}

enum fw_status fw_power_rule_find(const char *word, enum fw_joule_rule *out,
                                  struct fw_error *err)
{
    const char *words[FW_RULE_COUNT];
    for (size_t i = 0; i < FW_RULE_COUNT; i++) {
        words[i] = rules[i].word;
        if (strcmp(word, rules[i].word) == 0) {
            *out = rules[i].rule;
            return FW_OK;
        }
    }
    const char *near = fw_text_nearest(word, words, FW_RULE_COUNT);
    return fw_fail(err, FW_EINPUT, "\"%s\" is not a joule rule; try %s%s", word,
                   near ? near : "mile, km or weedy",
                   near ? " (there are mile, km and weedy)" : "");
}

static double next_size_j(double need_j)
{
    const size_t count =
        sizeof FW_ENERGIZER_SIZES_J / sizeof *FW_ENERGIZER_SIZES_J;
    for (size_t i = 0; i < count; i++)
        if (need_j <= FW_ENERGIZER_SIZES_J[i] * (1 + joule_rounding))
            return FW_ENERGIZER_SIZES_J[i];
    return ceil(need_j * (1 - joule_rounding));
}

/* Three rods at least, but for a small portable set in soil that is not dry,
 * where the rule asks for no more than 18 in. */
static bool one_rod_may_do(double joules, bool portable, bool dry_soil)
{
    return portable && !dry_soil && joules <= FW_ROD_PORTABLE_J;
}

int fw_power__rods_by_joules(double joules, double rod_m, bool portable,
                             bool dry_soil)
{
    const double rods =
        ceil(joules * FW_ROD_A_JOULE_M / rod_m * (1 - joule_rounding));
    return (int)fmax(
        one_rod_may_do(joules, portable, dry_soil) ? 1 : FW_RODS_LEAST, rods);
}

static void add_earth(struct fw_energizer *set, bool portable, bool dry_soil)
{
    const bool one = one_rod_may_do(set->joules, portable, dry_soil);
    set->rod_metres = FW_ROD_A_JOULE_M * set->joules;
    set->rod_m = one ? FW_ROD_PORTABLE_M : FW_ROD_M;
    set->rod_source = one ? FW_ROD_PORTABLE_M_SOURCE : FW_ROD_A_JOULE_M_SOURCE;
    set->rods =
        fw_power__rods_by_joules(set->joules, set->rod_m, portable, dry_soil);
}

enum fw_status fw_power_size(double hot_m, enum fw_joule_rule rule,
                             double given_j, bool woolled, bool dry_soil,
                             bool portable, struct fw_energizer *out,
                             struct fw_error *err)
{
    const double most_m = FW_BOUND(1e6), most_j = FW_BOUND(100);
    const struct fw_joule_row *row = fw_power_rule(rule);
    if (!row)
        return fw_fail(err, FW_EINPUT, "joule rule %d is not one of 0 to %d",
                       (int)rule, FW_RULE_COUNT - 1);
    if (!(hot_m >= 0 && hot_m <= most_m))
        return fw_fail(err, FW_EINPUT,
                       "live fence is %g m long; expected 0 to %.0f m", hot_m,
                       most_m);
    if (!(given_j >= 0 && given_j <= most_j))
        return fw_fail(err, FW_EINPUT,
                       "energizer is %g J; expected 0 (size it) to %.0f J "
                       "of output",
                       given_j, most_j);

    struct fw_energizer set = {
        .need_j = hot_m / row->m_per_joule,
        .given = given_j > 0,
        .rule_source = row->source,
    };
    set.joules = set.given ? given_j : next_size_j(set.need_j);
    add_earth(&set, portable, dry_soil);
    const struct fw_power_wanted wanted =
        fw_power_wanted_volts(woolled, dry_soil);
    set.open_v = wanted.open_v;
    set.touched_v = wanted.touched_v;
    set.volt_source = wanted.source;
    *out = set;
    return FW_OK;
}
