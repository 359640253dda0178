/* Cautions as data, and the distances that a map can prove.
 *
 * Nothing here says that a fence is safe: it says what was checked, against
 * which published distance. Local codes, the maker's instructions, the utility
 * and a licensed electrician come first. */
#ifndef FW_SAFETY_H
#define FW_SAFETY_H

#include <foldwright/error.h>
#include <foldwright/geo.h>
#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What is true of this plan, so that the page holds what concerns it. */
enum fw_concern {
    FW_CONCERN_ALWAYS = 0,
    FW_CONCERN_UNTRAINED = 1 << 0, /* not trained, or nobody said so */
    FW_CONCERN_LEGUME = 1 << 1,
    FW_CONCERN_LAMBS = 1 << 2,
    FW_CONCERN_LATE_GESTATION = 1 << 3,
    FW_CONCERN_LACTATION = 1 << 4,
    FW_CONCERN_SHORN = 1 << 5,
    FW_CONCERN_POWER_LINE = 1 << 6,
    FW_CONCERN_ROAD = 1 << 7,
    FW_CONCERN_POND = 1 << 8,
    FW_CONCERN_COLD = 1 << 9,  /* days of the cold half of the year there */
    FW_CONCERN_HEAT = 1 << 10, /* days of the warm half */
    FW_CONCERN_DRY_SOIL = 1 << 11
};

struct fw_caution {
    const char *id;    /* "heart", "power-line", "bloat" */
    bool people;       /* the first half of the page; else sheep */
    unsigned concerns; /* shown when any of these holds; 0: always */
    const char *text;
    const char *source; /* publication, or "common practice, no source" */
};

FW_API const struct fw_caution *fw_safety_cautions(size_t *count);

/* Is the caution part of a page with these concerns? */
FW_API bool fw_safety_applies(const struct fw_caution *caution,
                              unsigned concerns);

enum fw_role {
    FW_ROLE_POWER_LINE,
    FW_ROLE_TELECOM,
    FW_ROLE_ROAD,
    FW_ROLE_PATH,
    FW_ROLE_BUILDING,
    FW_ROLE_POND,
    FW_ROLE_WATERCOURSE,
    FW_ROLE_OTHER_ELECTRIC,
    FW_ROLE_KEEP_CLEAR,
    FW_ROLE_LANE,
    FW_ROLE_TRACK,
    FW_ROLE_EXISTING_FENCE,
    FW_ROLE_WATER,
    FW_ROLE_SOURCE,
    FW_ROLE_GATE,
    FW_ROLE_ENERGIZER,
    FW_ROLE_COUNT
};

FW_API const char *fw_safety_role_word(enum fw_role role);
FW_API enum fw_status fw_safety_role_find(const char *word, enum fw_role *out,
                                          struct fw_error *err);

/* One check: hot fence (or the energizer and its earth) nearer than wanted_m
 * to a feature of that role. A feature may be covered by several rules. */
struct fw_distance_rule {
    const char *id;
    enum fw_role role;
    double least_kv; /* power lines: the row for lines over this ... */
    double most_kv;  /* ... and up to this; unknown voltage: the last row */
    double wanted_m;
    bool of_energizer; /* measured from the energizer, not from the fence */
    double sign_interval_m; /* warning signs alongside; 0: the rule has none */
    enum fw_level level;
    const char *text; /* what to do, one line */
    const char *source;
};

FW_API const struct fw_distance_rule *fw_safety_rules(size_t *count);

/* Does the rule hold for a feature of that role? kv counts for power lines
 * only; not over 0: not told, and then as for the highest. */
FW_API bool fw_safety_covers(const struct fw_distance_rule *rule,
                             enum fw_role role, double kv);

/* Signs along so many metres, both ends counted; 0 without a length or an
 * interval. */
FW_API int fw_safety_sign_count(double along_m, double interval_m);

/* Least distance in the plane between the line a and the line or area b, and
 * where on a it is (`where` may be NULL). A closed a is a fence all round; a
 * closed b is an area: a line that crosses it or lies inside has distance 0. A
 * count of 1 is a point. Infinite when a or b has no points. Closed lines
 * repeat no point. */
FW_API double fw_safety_distance_m(const struct fw_point *a, size_t a_count,
                                   bool a_closed, const struct fw_point *b,
                                   size_t b_count, bool b_closed,
                                   struct fw_point *where);

#ifdef __cplusplus
}
#endif
#endif
