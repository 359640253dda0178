/* Cautions as data, and the distances that a map can prove.
 *
 * Nothing here says that a fence is safe: it says what was checked, against
 * which published distance. Local codes, the maker's instructions, the utility
 * and a licensed electrician come first. */
#ifndef FW_SAFETY_SAFETY_H
#define FW_SAFETY_SAFETY_H

#include "geo/geo.h"
#include <foldwright/error.h>
#include <stdbool.h>

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
    FW_CONCERN_DRY_SOIL = 1 << 11,
    FW_CONCERN_SPRING = 1 << 12, /* days of March to May; south of the equator
                                    of September to November */
    FW_CONCERN_WATERCOURSE = 1 << 13,
    FW_CONCERN_FESCUE =
        1 << 14, /* tall fescue, or nobody said that it is not */
    FW_CONCERN_TUPPING = 1 << 15 /* ewes that a ram may be put to */
};

/* When a person wants to know it; the headings of the page. */
enum fw_when {
    FW_WHEN_FIRST,
    FW_WHEN_BEFORE, /* before the work begins */
    FW_WHEN_BUILDING,
    FW_WHEN_DAILY,
    FW_WHEN_WEATHER, /* storm, fire, frost, heat */
    FW_WHEN_VISITORS,
    FW_WHEN_COUNT
};

/* "before you begin", "every day". */
const char *fw_safety_when_word(enum fw_when when);

struct fw_caution {
    const char *id; /* "heart", "power-line", "bloat" */
    bool people;    /* the first half of the page; else sheep */
    enum fw_when when;
    unsigned concerns;  /* shown when any of these holds; 0: always */
    unsigned seasons;   /* and, when not 0, any of these too */
    const char *brief;  /* a few words, for a report */
    const char *text;   /* {>3 m} in either is a quantity for the reader's
                           units: > at least, < at most */
    const char *source; /* publication, or "common practice, no source" */
    const char *tried;  /* ids of the rules that try it on a plan, a space
                           between  them; NULL: it has no figure to try */
};

const struct fw_caution *fw_safety_cautions(size_t *count);

/* Is that rule one of those that try the caution? */
bool fw_safety_tries(const struct fw_caution *caution, const char *rule);

/* Is the caution part of a page with these concerns? */
bool fw_safety_applies(const struct fw_caution *caution, unsigned concerns);

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
    FW_ROLE_RAILWAY,
    FW_ROLE_OTHER_STOCK, /* ground where other people's animals graze */
    FW_ROLE_ZONE,        /* grass of its own */
    FW_ROLE_EXCLUSION,   /* not grazed: wood, crop, yard */
    FW_ROLE_SHADE,
    FW_ROLE_SHELTER,
    FW_ROLE_SOFT,       /* wet ground */
    FW_ROLE_HARD_GOING, /* ditch, bank, row of trees */
    FW_ROLE_FRONT,      /* the front fence that stands already */
    FW_ROLE_COUNT
};

const char *fw_safety_role_word(enum fw_role role);
enum fw_status fw_safety_role_find(const char *word, enum fw_role *out,
                                   struct fw_error *err);

/* What the features of a role are drawn as; the bits add up. */
enum fw_drawn {
    FW_DRAWN_POINTS = 1 << 0,
    FW_DRAWN_LINES = 1 << 1,
    FW_DRAWN_AREAS = 1 << 2
};

/* What the role wants; anything else is used as it is drawn, with a warning. */
unsigned fw_safety_role_drawn(enum fw_role role);

/* ---- the checks, one table ---- */

enum fw_check {
    FW_CHECK_NEAR,     /* hot fence nearer than wanted_m, and no crossing of a
                          kind that has rows of its own */
    FW_CHECK_HEIGHT,   /* the same, only to say how high wires may stand */
    FW_CHECK_EARTH,    /* the energizer and its earth nearer than wanted_m */
    FW_CHECK_CROSS,    /* hot fence crosses or touches it at under most_deg */
    FW_CHECK_PARALLEL, /* hot fence within wanted_m and at most most_deg off
                          its direction, for more than least_m */
    FW_CHECK_ALONG,    /* hot fence within wanted_m: signs */
    FW_CHECK_HELD,     /* within wanted_m and only moved lines between */
    FW_CHECK_BORDER,  /* ground taken off a field: an edge that holds nothing */
    FW_CHECK_CIRCUIT, /* wants the currents of the plan's fences */
    FW_CHECK_GROUND,  /* wants a model of the ground */
    FW_CHECK_PLAN,    /* no map: the plan itself against a caution */
    FW_CHECK_HAUL,    /* where a trough stands, and the way of its tank */
    FW_CHECK_PRINTED  /* no map can prove it: the page of cautions says it */
};

/* One check. A feature may be covered by several; of each kind of check the
 * weightiest row that is broken makes the finding. */
struct fw_safety_rule {
    const char *id;
    enum fw_check check;
    enum fw_role role; /* FW_ROLE_COUNT: of no map layer */
    unsigned drawn;    /* enum fw_drawn, features that it is for; 0: all */
    double least_kv;   /* power lines: the row for lines over this ... */
    double most_kv;    /* ... and up to this; unknown voltage: the last row */
    double wanted_m;
    double most_deg;
    double least_m;
    double sign_interval_m; /* 0: the rule has no signs */
    int most_days;          /* of the plan; 0: none is wanted */
    double most_share;      /* of the sward; 0: none is wanted */
    enum fw_level level;
    const char *text; /* what to do, one line; quantities as in a caution */
    const char *source;
};

const struct fw_safety_rule *fw_safety_rules(size_t *count);

/* The rule of that id; NULL: there is none. */
const struct fw_safety_rule *fw_safety_rule_find(const char *id);

/* Does the rule hold for a feature of that role? kv counts for power lines
 * only; not over 0: not told, and then as for the highest. `drawn` is one bit
 * of enum fw_drawn. */
bool fw_safety_covers(const struct fw_safety_rule *rule, enum fw_role role,
                      double kv, enum fw_drawn drawn);

/* Are power lines built for that voltage, within 0.5 % (IEC 60038, ANSI C84.1)?
 */
bool fw_safety_is_nominal_kv(double kv);
/* Has the role checks that want a map of it? */
bool fw_safety_is_checked(enum fw_role role);

/* The farthest that any check looks. */
double fw_safety_reach_m(void);

/* In older codes no wire near a power line stands higher. */
#define FW_SAFETY_OLDER_HEIGHT_M 2.0

/* Signs along so many metres, both ends counted; 0 without a length or an
 * interval. */
int fw_safety_sign_count(double along_m, double interval_m);

/* The order of magnitude of the current, in mA, through a person at a bare
 * fence that runs so far beside a line of 345 kV, 9 m off: one published case,
 * scaled by length alone. 0 for a line of another voltage. */
double fw_safety_induced_ma(double kv, double along_m);

/* ---- distances in the plane ---- */

/* Least distance in the plane between the line a and the line or area b, and
 * where on a it is (`where` may be NULL). A closed a is a fence all round; a
 * closed b is an area: a line that crosses it or lies inside has distance 0. A
 * count of 1 is a point. Infinite when a or b has no points. Closed lines
 * repeat no point. */
double fw_safety_distance_m(const struct fw_point *a, size_t a_count,
                            bool a_closed, const struct fw_point *b,
                            size_t b_count, bool b_closed,
                            struct fw_point *where);

/* A feature of a map in the plane: points, lines, or the rings of an area with
 * its holes, none closed. */
struct fw_safety_shape {
    const struct fw_point *points;
    const size_t *ring_start; /* ring_count + 1 */
    size_t ring_count;
    bool area;
};

/* As fw_safety_distance_m, from an open line to a shape; a hole of an area is
 * outside it. */
double fw_safety_shape_distance_m(const struct fw_point *line, size_t count,
                                  const struct fw_safety_shape *shape,
                                  struct fw_point *where);

/* The nearest place of the shape to a point of the plane. */
struct fw_point fw_safety_shape_nearest(const struct fw_safety_shape *shape,
                                        struct fw_point from);

/* A part of a line, in metres from its first point. */
struct fw_stretch {
    double from_m, to_m;
};

struct fw_stretches { /* starts as {0} */
    struct fw_stretch *items;
    size_t count, capacity;
};

void fw_stretches_release(struct fw_stretches *stretches);

/* Add the parts of the open line that lie within reach_m of the shape, exactly;
 * with most_deg under 90 only what runs beside sides of it whose direction is
 * at most so far from the line's, not beyond their ends. They come as found;
 * see fw_stretches_join. */
enum fw_status fw_stretches_find(const struct fw_point *line, size_t count,
                                 const struct fw_safety_shape *shape,
                                 double reach_m, double most_deg,
                                 struct fw_stretches *out,
                                 struct fw_error *err);

/* Put them in order and make one of those that overlap or have less than gap_m
 * between them. */
void fw_stretches_join(struct fw_stretches *stretches, double gap_m);

/* Where the line crosses or touches the shape's outline. */
struct fw_crossing {
    double at_m; /* along the line */
    struct fw_point where;
    double angle_deg; /* between the two, 0 to 90 */
};

struct fw_crossings { /* starts as {0} */
    struct fw_crossing *items;
    size_t count, capacity;
    bool lies_along; /* some part of the line lies on the outline */
};

void fw_crossings_release(struct fw_crossings *crossings);

/* Fill `out` in the order of the line. Where line and outline share more than
 * half a metre they do not cross but lie along each other. */
enum fw_status fw_crossings_find(const struct fw_point *line, size_t count,
                                 const struct fw_safety_shape *shape,
                                 struct fw_crossings *out,
                                 struct fw_error *err);

/* The point of a line so far along it. */
struct fw_point fw_safety_along(const struct fw_point *line, size_t count,
                                double at_m);

#endif
