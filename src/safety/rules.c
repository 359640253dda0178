/* The distances that a map can prove, as data. A level says what happens when
 * the thing is nearer: "danger" may hurt someone, "warning" wants a look,
 * "note" is good to know. */
#include "base/fail.h"
#include "base/text.h"
#include <foldwright/safety.h>

#include <limits.h>
#include <math.h>
#include <string.h>

#define ANNEX_BB "IEC 60335-2-76 Annex BB.1 as reprinted in makers' handbooks"
#define SA_OTR                                                                 \
    "Office of the Technical Regulator, South Australia, Electric Fence "      \
    "Safety, May 2004"
#define OUR_NUMBER "; distance common practice, no source"

static const struct fw_distance_rule rules[] = {
    /* The rows of power lines end with the one for an unknown voltage. */
    {.id = "power-line-earth",
     .role = FW_ROLE_POWER_LINE,
     .most_kv = (double)INFINITY,
     .wanted_m = 10,
     .of_energizer = true,
     .level = FW_LEVEL_WARNING,
     .text = "a power line is near the energizer: its poles may carry an "
             "earth; set the fence's earth rods 10 m or more from it",
     .source = ANNEX_BB},
    {.id = "power-line-height-low",
     .role = FW_ROLE_POWER_LINE,
     .most_kv = 1,
     .wanted_m = 2,
     .level = FW_LEVEL_NOTE,
     .text = "within 2 m beside a power line up to 1 kV no wire or lead "
             "stands over 3 m high",
     .source = ANNEX_BB},
    {.id = "power-line-height-high",
     .role = FW_ROLE_POWER_LINE,
     .least_kv = 1,
     .most_kv = (double)INFINITY,
     .wanted_m = 15,
     .level = FW_LEVEL_NOTE,
     .text = "within 15 m beside a power line over 1 kV no wire or lead stands "
             "over 3 m high; do not run far alongside it",
     .source = ANNEX_BB},
    {.id = "power-line-low",
     .role = FW_ROLE_POWER_LINE,
     .most_kv = 1,
     .wanted_m = 3,
     .level = FW_LEVEL_DANGER,
     .text = "a power line up to 1 kV: keep wire and leads 3 m away, or cross "
             "under it near a right angle as the utility allows",
     .source = ANNEX_BB},
    {.id = "power-line-middle",
     .role = FW_ROLE_POWER_LINE,
     .least_kv = 1,
     .most_kv = 33,
     .wanted_m = 4,
     .level = FW_LEVEL_DANGER,
     .text = "a power line up to 33 kV: keep wire and leads 4 m away, or cross "
             "under it near a right angle as the utility allows",
     .source = ANNEX_BB},
    {.id = "power-line-high",
     .role = FW_ROLE_POWER_LINE,
     .least_kv = 33,
     .most_kv = (double)INFINITY,
     .wanted_m = 8,
     .level = FW_LEVEL_DANGER,
     .text = "a power line over 33 kV or of unknown voltage: keep wire and "
             "leads 8 m away, or cross under it near a right angle as the "
             "utility allows",
     .source = ANNEX_BB},

    {.id = "telecom",
     .role = FW_ROLE_TELECOM,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "a telephone or data line: keep wire and leads 2 m away, and "
             "nothing on its poles",
     .source = "a British energizer handbook, manuals.online"},
    {.id = "telecom-earth",
     .role = FW_ROLE_TELECOM,
     .wanted_m = 10,
     .of_energizer = true,
     .level = FW_LEVEL_WARNING,
     .text = "a telephone or data line is near the energizer: set the fence's "
             "earth rods 10 m or more from any earth of it",
     .source = ANNEX_BB},

    {.id = "road-cross",
     .role = FW_ROLE_ROAD,
     .wanted_m = 1,
     .level = FW_LEVEL_DANGER,
     .text = "the fence meets a road: no live wire over it; a lead goes under "
             "it in conduit once the road authority has agreed",
     .source = "makers' handbooks" OUR_NUMBER},
    {.id = "road-near",
     .role = FW_ROLE_ROAD,
     .wanted_m = 5,
     .sign_interval_m = 90,
     .level = FW_LEVEL_WARNING,
     .text = "a public road runs alongside: hang warning signs at both ends "
             "and each 90 m, or as local law says",
     .source = ANNEX_BB "; 90 m: EFA code of practice" OUR_NUMBER},
    {.id = "path-cross",
     .role = FW_ROLE_PATH,
     .wanted_m = 1,
     .level = FW_LEVEL_DANGER,
     .text = "the fence meets a public path: make a gate or stile that is not "
             "live, signs on both sides, 1 m of tube over the wire",
     .source = ANNEX_BB "; Cornwall Council"},
    {.id = "path-width",
     .role = FW_ROLE_PATH,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "the fence narrows a path: keep its whole width free for two "
             "people to pass, and the wire 2 m off its edge",
     .source = "carmarthenshire.gov.wales; ramblers.zendesk.com" OUR_NUMBER},
    {.id = "path-near",
     .role = FW_ROLE_PATH,
     .wanted_m = 5,
     .sign_interval_m = 50,
     .level = FW_LEVEL_WARNING,
     .text = "a public path runs alongside: hang warning signs at both ends "
             "and each 50 m, or as local law says",
     .source = ANNEX_BB "; 50 m: Cornwall Council" OUR_NUMBER},
    {.id = "track-cross",
     .role = FW_ROLE_TRACK,
     .wanted_m = 1,
     .level = FW_LEVEL_NOTE,
     .text = "the fence meets a farm track: hang an insulated gate handle and "
             "a sign, or bury the lead under it",
     .source = "common practice, no source"},

    {.id = "building-earth",
     .role = FW_ROLE_BUILDING,
     .wanted_m = 10,
     .of_energizer = true,
     .level = FW_LEVEL_DANGER,
     .text = "a building is near the energizer: set the fence's earth rods 10 "
             "m or more from any earth of mains or telephone",
     .source = ANNEX_BB "; older Australasian text: 40 m"},
    {.id = "building-gap",
     .role = FW_ROLE_BUILDING,
     .wanted_m = 2,
     .level = FW_LEVEL_WARNING,
     .text = "hot wire close to a building: leave no narrow gap where someone "
             "can be held against it",
     .source = SA_OTR OUR_NUMBER},
    {.id = "building-near",
     .role = FW_ROLE_BUILDING,
     .wanted_m = 20,
     .level = FW_LEVEL_NOTE,
     .text = "a building within 20 m: tell those who live or play there, and "
             "hang a sign",
     .source = "a British seller's page" OUR_NUMBER},

    {.id = "pond",
     .role = FW_ROLE_POND,
     .wanted_m = 3,
     .level = FW_LEVEL_WARNING,
     .text = "water's edge: take more care there, keep live wire 3 m back and "
             "out of the water, and away from bathing places",
     .source = SA_OTR OUR_NUMBER},
    {.id = "watercourse",
     .role = FW_ROLE_WATERCOURSE,
     .wanted_m = 3,
     .level = FW_LEVEL_WARNING,
     .text =
         "a stream or ditch: where the fence crosses, a flood gate on its own "
         "limited lead, low wires clear of the water",
     .source = SA_OTR "; a handbook on river crossings, 2020" OUR_NUMBER},
    {.id = "other-electric",
     .role = FW_ROLE_OTHER_ELECTRIC,
     .wanted_m = 2.5,
     .level = FW_LEVEL_DANGER,
     .text = "another electric fence: with an energizer of its own its wires "
             "stay 2.5 m away; never join the two",
     .source = ANNEX_BB},
    {.id = "keep-clear",
     .role = FW_ROLE_KEEP_CLEAR,
     .wanted_m = 3,
     .level = FW_LEVEL_WARNING,
     .text = "a place marked to be kept clear is nearer than 3 m",
     .source = "common practice, no source"},
    {.id = "water-gap",
     .role = FW_ROLE_WATER,
     .wanted_m = 1,
     .level = FW_LEVEL_NOTE,
     .text = "hot wire within 1 m of a trough: set it over the trough's middle "
             "or farther off, so that no sheep is held between",
     .source = SA_OTR OUR_NUMBER},
};

static const char *const role_words[FW_ROLE_COUNT] = {
    [FW_ROLE_POWER_LINE] = "power-line",
    [FW_ROLE_TELECOM] = "telecom",
    [FW_ROLE_ROAD] = "road",
    [FW_ROLE_PATH] = "path",
    [FW_ROLE_BUILDING] = "building",
    [FW_ROLE_POND] = "pond",
    [FW_ROLE_WATERCOURSE] = "watercourse",
    [FW_ROLE_OTHER_ELECTRIC] = "other-electric",
    [FW_ROLE_KEEP_CLEAR] = "keep-clear",
    [FW_ROLE_LANE] = "lane",
    [FW_ROLE_TRACK] = "track",
    [FW_ROLE_EXISTING_FENCE] = "existing-fence",
    [FW_ROLE_WATER] = "water",
    [FW_ROLE_SOURCE] = "source",
    [FW_ROLE_GATE] = "gate",
    [FW_ROLE_ENERGIZER] = "energizer",
};

const struct fw_distance_rule *fw_safety_rules(size_t *count)
{
    *count = sizeof rules / sizeof rules[0];
    return rules;
}

bool fw_safety_covers(const struct fw_distance_rule *rule, enum fw_role role,
                      double kv)
{
    if (rule->role != role)
        return false;
    if (role != FW_ROLE_POWER_LINE)
        return true;
    /* 0 stands in many a map where nobody knew. */
    if (!(kv > 0))
        return isinf(rule->most_kv);
    return kv > rule->least_kv && kv <= rule->most_kv;
}

int fw_safety_sign_count(double along_m, double interval_m)
{
    /* 500.0000001 m at 50 m are eleven signs, not twelve. */
    const double rounding = 1e-6;
    if (!(along_m > 0) || !(interval_m > 0))
        return 0;
    const double signs = ceil(along_m / interval_m - rounding) + 1;
    return signs < INT_MAX ? (int)signs : INT_MAX;
}

const char *fw_safety_role_word(enum fw_role role)
{
    return (unsigned)role < FW_ROLE_COUNT ? role_words[role] : NULL;
}

enum fw_status fw_safety_role_find(const char *word, enum fw_role *out,
                                   struct fw_error *err)
{
    for (int i = 0; i < FW_ROLE_COUNT; i++)
        if (strcmp(word, role_words[i]) == 0) {
            *out = (enum fw_role)i;
            return FW_OK;
        }
    const char *near = fw_text_nearest(word, role_words, FW_ROLE_COUNT);
    return fw_fail(err, FW_EINPUT,
                   "\"%s\" is not a role of a map layer; try %s", word,
                   near ? near : "power-line, road, path, building or pond");
}
