/* One plan in the making: what all who make it share, and how its layouts are
 * weighed. */
#ifndef FW_CHOICE_JOB_H
#define FW_CHOICE_JOB_H

#include "choice/choice.h"
#include "plan/on.h"
#include "plan/place.h"

/* The trough of a stay. */
struct fw_plan__shared {
    size_t with; /* the stay for which it was put there: itself, or an earlier
                    one */
    size_t line; /* that it stands under; FW_NONE: under none */
    struct fw_point at;
};

struct fw_plan_job {
    const struct fw_farm *farm;
    struct fw_plan *plan;
    const struct fw_plan_on *on; /* that it goes on from; NULL: it begins */
    int told_day;                /* on which grass and lambs are as told */
    struct fw_crs **crs; /* one a field, shared between fields of one system */
    struct fw_usable *usable;   /* one a field */
    int *every_days;            /* one a field: the stay where none is told; 0:
                                   as the farm's pattern has it */
    enum fw_feeds **edge_feeds; /* one a field: of each of its grazed ground's
                                   sides, from the vertex of that index */
    int day;                    /* on which the next paddock is entered */
    bool set_first;             /* how this plan's moves are done */
    struct fw_time_stay *stays; /* of the fields so far */
    size_t stay_count, stay_capacity;
    struct fw_land land;        /* of the plan, with what each line takes */
    struct fw_time_sums sums;   /* of its time */
    struct fw_plan_start start; /* before the first move */
    struct fw_opening *open;    /* left open then, in lines that stand */
    size_t open_count;
    struct fw_time_stay before[2]; /* the last stays then */
    size_t before_count;
    struct fw_time_work *works; /* of a season that is under way */
    size_t work_count;
    bool *led; /* by lane and apron of that field: the flock has it then */
    size_t led_count, led_field;
    bool *wet;                      /* by stay: they have the field's water */
    struct fw_plan__shared *shared; /* by stay; NULL: each has its own */
    struct fw_plan__spans *cell_nights, *line_nights; /* nights.h */
    struct fw_plan__obstacle *obstacles;              /* of the field in hand */
    size_t obstacle_count;
    struct fw_plan__shape *shapes; /* of the plan's paddocks */
    size_t shape_count, shape_capacity;
};

/* grass.c: a field's grass from the first day on, for days that follow each
 * other. Release it when done. */
struct fw_plan__grass {
    const struct fw_plan_job *job;
    size_t field;
    double share;         /* of its growth that comes; 1 unless set */
    bool other_shape;     /* as another shape of growth has it */
    bool bare;            /* nothing has to stay */
    int day;              /* in the morning of which it stands so: */
    double *stands_kg_ha; /* by part of the field's ground; one where it is even
                           */
    size_t count;
};
enum fw_status fw_plan__grass_of(const struct fw_plan_job *job, size_t field,
                                 struct fw_plan__grass *out,
                                 struct fw_error *err);
void fw_plan__grass_release(struct fw_plan__grass *grass);
/* Does it grow or go while it waits? */
bool fw_plan__grass_changes(const struct fw_plan_job *job, size_t field);
/* To the morning of that day. FW_EINPUT: nobody told how it grows on a day on
 * the way. */
enum fw_status fw_plan__grass_pass(struct fw_plan__grass *grass, int day,
                                   struct fw_error *err);
/* They were there, and leave on that day: what they ate of what they may take,
 * as a share, is gone, and what they trod with it. What grows meanwhile is not
 * counted. */
void fw_plan__grass_eaten(struct fw_plan__grass *grass, double share, int left);
/* FW_EPLAN: nothing stands above what must stay. */
enum fw_status fw_plan__grass_gone(const struct fw_plan__grass *grass,
                                   struct fw_error *err);
/* What may be taken where it is even. FW_EPLAN: nothing any more. Where it is
 * not, its ground; free it. */
double fw_plan__grass_even_kg_ha(const struct fw_plan__grass *grass);
enum fw_status fw_plan__grass_usable(const struct fw_plan__grass *grass,
                                     double *usable_kg_ha,
                                     struct fw_error *err);
enum fw_status fw_plan__grass_ground(const struct fw_plan__grass *grass,
                                     struct fw_herbage **out,
                                     struct fw_error *err);

/* calendar.c */
struct fw_plan_targets {
    double
        *target; /* m2, or kg of the first day's ground where it is unequal */
    int *days;
    double *usable_kg_ha; /* on the day they enter: of the field's sward, or the
                             mean of its ground */
    struct fw_layout_day *day; /* of unequal ground that changes; else NULL */
    size_t count;
    double holds;        /* the field, of what targets are of */
    const char *pattern; /* only this one; NULL: all */
};
enum fw_status fw_plan__targets(const struct fw_plan_job *job, size_t field,
                                struct fw_plan_targets *out,
                                struct fw_error *err);
/* FW_EINPUT: the field would be grazed beyond FW_LAST_DAY. */
enum fw_status fw_plan__too_late(const struct fw_plan_job *job, size_t field,
                                 struct fw_error *err);
/* Adds to a refusal for want of grass that days away make the stay that starts
 * today so long, where they do. FW_EPLAN. */
enum fw_status fw_plan__name_away(const struct fw_plan_job *job, int days,
                                  struct fw_error *err);
void fw_plan__targets_release(struct fw_plan_targets *targets);
/* How many days they stay from that day on, to one on which the farm moves
 * them: as its pattern has it, or where `least` is given at least so many. */
int fw_plan__stay_days(const struct fw_plan_job *job, size_t field, int day,
                       int least);

/* What is cut: the field less what is not grazed. */
static inline const struct fw_field *
fw_plan__grazed(const struct fw_farm_field *field)
{
    return field->grazed ? field->grazed : field->shape;
}

/* The first lane of the map that meets the field; no points: there is none.
 * Free them. lane.c */
struct fw_plan__lane {
    struct fw_point *points;
    size_t count;
    double width_m; /* 0: the usual one */
};
enum fw_status fw_plan__map_lane(const struct fw_plan_job *job, size_t field,
                                 struct fw_plan__lane *out,
                                 struct fw_error *err);

/* Where lanes are asked for, name those of the map that lie outside every
 * field. */
enum fw_status fw_plan__note_lanes(struct fw_plan_job *job,
                                   struct fw_error *err);

/* NULL where every square metre counts alike. */
const struct fw_herbage *fw_plan__ground(const struct fw_plan_job *job,
                                         size_t field);

/* A front that stands already: front.c. The place to begin at; its runs as
 * lines of the layout, after those of its own. */
bool fw_plan__front_start(const struct fw_farm_field *field,
                          struct fw_point *out);
enum fw_status fw_plan__add_front(const struct fw_farm_field *field,
                                  struct fw_layout *layout,
                                  struct fw_error *err);

/* work.c */
struct fw_plan__line_work {
    struct fw_land_work takes;
    double ground_m; /* its length along the ground */
};
/* To lay the grass flat along a line of so many metres on the ground; 0 where
 * it stands no taller than the lowest wire, or nobody knows. */
double fw_plan__lay_min(const struct fw_plan_job *job, size_t field,
                        double ground_m);
enum fw_status fw_plan__line_work(const struct fw_plan_job *job, size_t field,
                                  const struct fw_point *line, size_t count,
                                  struct fw_plan__line_work *out,
                                  struct fw_error *err);
/* score.c, choose.c */
enum fw_status fw_plan__score(const struct fw_plan_job *job, size_t field,
                              const struct fw_layout *layout,
                              const struct fw_plan_targets *targets,
                              struct fw_plan_score *out, struct fw_error *err);
enum fw_status fw_plan__scores(const struct fw_plan_job *job, size_t field,
                               const struct fw_plan_targets *targets,
                               struct fw_plan_score **out, size_t *count,
                               struct fw_error *err);

enum fw_status fw_plan__look_closer(const struct fw_plan_job *job, size_t field,
                                    const struct fw_layout *layout,
                                    const struct fw_plan_targets *targets,
                                    struct fw_plan_score *score,
                                    struct fw_error *err);

/* score_walk.c: how far they walk in the layouts that nobody looked at closer,
 * once one is taken. */
enum fw_status fw_plan__walk_all(const struct fw_plan_job *job, size_t field,
                                 const struct fw_layout_list *list,
                                 const struct fw_plan_targets *targets,
                                 struct fw_plan_score *scores,
                                 struct fw_error *err);

/* How far that kit goes beyond what the farm owns, as a share; 0: not at all.
 * What lanes and aprons take, as a share of all. score.c */
double fw_plan__kit_lack(const struct fw_farm *farm, const struct fw_kit *kit);
double fw_plan__lost(const struct fw_layout *layout);
bool fw_plan__is_lossy(double lost); /* more than anyone gives up */

/* A stay of so many days from *day on, which feeds them for some of that; moves
 * *day on. */
struct fw_time_stay fw_plan__stay_of(const struct fw_plan_job *job, size_t cell,
                                     int days, double fed_days, int *day);

/* The stay in paddock k of a layout, as cell `cell`, from day *day on; moves
 * *day on. */
struct fw_time_stay fw_plan__stay(const struct fw_plan_job *job, size_t field,
                                  const struct fw_layout *layout,
                                  const struct fw_plan_targets *targets,
                                  size_t k, size_t cell, int *day);

/* start.c */
struct fw_time_stay fw_plan__stay_unknown(size_t cell); /* its days are */
/* What lies behind a field's front, and was grazed; FW_NONE: it has none. */
size_t fw_plan__cell_before(const struct fw_land *land, size_t field);
/* How many of a field's paddocks were entered by then. */
size_t fw_plan__done_in(const struct fw_plan_on *on, size_t field);
enum fw_status fw_plan__start(const struct fw_plan *plan,
                              const struct fw_land *land,
                              const struct fw_time_stay *stays, size_t count,
                              struct fw_plan_start *out, struct fw_error *err);

/* The least line that paddocks of these areas can do with. */
double fw_plan__bound_m(const struct fw_field *shape,
                        const struct fw_layout *layout);

/* Length over width of the narrowest box round a ring. */
double fw_plan__elongation(const struct fw_point *ring, size_t count);

enum fw_status fw_plan__choose(const struct fw_plan_job *job, size_t field,
                               const struct fw_plan_targets *targets,
                               struct fw_layout *out,
                               struct fw_plan_score *score,
                               struct fw_plan_score *wished,
                               struct fw_error *err);

/* hard.c: the hard going near a field, for its lines. */
enum fw_status fw_plan__obstacles(struct fw_plan_job *job, size_t field,
                                  struct fw_error *err);
void fw_plan__obstacles_release(struct fw_plan_job *job);
enum fw_status fw_plan__hard_going(struct fw_plan_job *job, size_t field,
                                   struct fw_error *err);

/* narrow.c: places in paddocks where this flock does not get through. */
enum fw_status fw_plan__narrow(struct fw_plan_job *job, struct fw_error *err);

/* Is the place on ground that the map calls soft? */
bool fw_plan__on_soft_ground(const struct fw_plan_job *job, size_t field,
                             struct fw_point at);

/* put.c */
enum fw_status fw_plan__place(struct fw_plan_job *job, size_t field,
                              struct fw_point point, struct fw_plan_place *out,
                              struct fw_error *err);

#endif
