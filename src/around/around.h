/* What stands around a field, and the field's own fences, in its plane: what
 * the checks of a plan work on. */
#ifndef FW_AROUND_AROUND_H
#define FW_AROUND_AROUND_H

#include "choice/job.h"

struct fw_plan__box {
    double low_x, high_x, low_y, high_y;
};

/* Roles with signs have a list of their own. */
enum { FW_PLAN__ROAD_SIGNS, FW_PLAN__PATH_SIGNS, FW_PLAN__SIGN_KINDS };

struct fw_plan__line { /* one fence */
    size_t fence;
    bool hot;
    struct fw_point *points;
    size_t count;
    struct fw_plan__box box;
    struct fw_stretches along[FW_PLAN__SIGN_KINDS];
};

struct fw_plan__around { /* one field */
    struct fw_plan_job *job;
    size_t field;
    struct fw_plan__line *lines;
    size_t line_count;
    size_t first_finding; /* of the feature at hand */
    const bool *near;     /* by feature: is it worth a look? */
    const size_t *group;  /* by feature: the first of those it belongs to */
};

struct fw_plan__thing { /* one feature near it */
    const struct fw_farm_feature *feature;
    enum fw_drawn drawn;
    struct fw_safety_shape shape;
    struct fw_point *points; /* the shape's, owned */
    struct fw_plan__box box;
    char name[80]; /* "power line of 20 kV", "road Village road" */
};

/* around.c */
enum fw_status fw_plan__around_init(struct fw_plan__around *around,
                                    struct fw_plan_job *job, size_t field,
                                    struct fw_error *err);
void fw_plan__around_release(struct fw_plan__around *around);
enum fw_status fw_plan__thing_init(struct fw_plan__thing *thing,
                                   const struct fw_plan__around *around,
                                   const struct fw_farm_feature *feature,
                                   struct fw_error *err);
void fw_plan__thing_release(struct fw_plan__thing *thing);
double fw_plan__gap_m(const struct fw_plan__box *a,
                      const struct fw_plan__box *b);
bool fw_plan__is_road_like(enum fw_role role, size_t *signs);

/* What is found: `where` NULL for no place, `fence` FW_NONE for the energizer,
 * wanted_m negative for nothing measured, text NULL for the rule's own, thing
 * NULL for none of a map. */
struct fw_plan__found {
    const struct fw_safety_rule *rule;
    const struct fw_plan__thing *thing;
    size_t fence;
    const struct fw_point *where;
    double distance_m, wanted_m;
    enum fw_level level;
    const char *text;
    const char *about; /* NULL: the fence and the thing; else it is of the
                          field, or where that is FW_NONE of the whole plan */
};
enum fw_status fw_plan__find(struct fw_plan__around *around,
                             const struct fw_plan__found *found,
                             struct fw_error *err);

/* crossings.c */
enum fw_status fw_plan__crossings(struct fw_plan__around *around,
                                  const struct fw_plan__thing *thing,
                                  const struct fw_plan__line *line,
                                  const struct fw_crossings *crossings,
                                  struct fw_error *err);

/* along.c: parallel runs, and what runs along roads and paths, which want
 * signs so far apart */
enum fw_status fw_plan__beside(struct fw_plan__around *around,
                               const struct fw_plan__thing *thing,
                               struct fw_error *err);
const struct fw_safety_rule *fw_plan__sign_rule(enum fw_role role);
double fw_plan__sign_gap_m(const struct fw_farm *farm,
                           const struct fw_safety_rule *rule);

/* sign_stations.c */
enum fw_status fw_plan__signs(struct fw_plan__around *around,
                              struct fw_error *err);

/* steep.c */
enum fw_status fw_plan__steep(struct fw_plan__around *around,
                              const struct fw_safety_rule *rule,
                              struct fw_error *err);

/* group.c: group[i] is the first of the features that make one power line
 * with feature i. */
enum fw_status fw_plan__group(const struct fw_farm *farm, size_t *group,
                              struct fw_error *err);

/* held.c */
enum fw_status fw_plan__bordered(struct fw_plan__around *around,
                                 struct fw_error *err);
enum fw_status fw_plan__held(struct fw_plan__around *around,
                             const struct fw_plan__thing *thing,
                             struct fw_error *err);

/* grounds.c: what of each paddock is soft, and where there is shade and
 * shelter.
 */
enum fw_status fw_plan__grounds(struct fw_plan_job *job, struct fw_error *err);

/* walked.c: how far it is to water in each paddock, once that is placed. */
enum fw_status fw_plan__walks(struct fw_plan_job *job, struct fw_error *err);

/* signs.c: the most warning signs that hang at once. */
enum fw_status fw_plan__most_signs(const struct fw_plan_job *job, int *out,
                                   struct fw_error *err);

/* What the maps prove: safety.c. */
enum fw_status fw_plan__findings(struct fw_plan_job *job, struct fw_error *err);

#endif
