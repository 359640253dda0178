/* The parts of a plan. The files of this folder each add theirs, in the order
 * of make.c: fields and paddocks first, then fences, gates, water, the moves,
 * and last what is summed over all of it. */
#ifndef FW_MAKE_PARTS_H
#define FW_MAKE_PARTS_H

#include "choice/job.h"

/* make.c */
enum fw_status fw_plan__measure_grass(struct fw_plan_job *job, size_t field,
                                      struct fw_error *err);

/* holds.c: what the flock may take of a paddock, as its field's grass stands.
 */
enum fw_status fw_plan__holds(const struct fw_plan__grass *grass,
                              const struct fw_plan_paddock *paddock,
                              double *usable_kg, struct fw_error *err);

/* ahead.c: what each stay in the last field that was planned would find today,
 * and if growth fell. */
enum fw_status fw_plan__ahead(struct fw_plan_job *job, size_t field,
                              struct fw_error *err);

/* rounds.c: stays in the same paddocks again, when all fields are grazed once.
 */
enum fw_status fw_plan__rounds(struct fw_plan_job *job, struct fw_error *err);

/* grown.c: what growth makes of the last field that was planned. */
void fw_plan__grown(struct fw_plan_job *job, size_t field);

/* given.c: the ground of a plan made before, which a front's name says. */
enum fw_status fw_plan__given(struct fw_plan_job *job, size_t field,
                              struct fw_error *err);
/* given_time.c: stays in what is left of it; and how that plan's moves left
 * things. */
enum fw_status fw_plan__given_stays(struct fw_plan_job *job, size_t field,
                                    size_t grazed, struct fw_error *err);
enum fw_status fw_plan__given_start(struct fw_plan_job *job, size_t field,
                                    struct fw_error *err);

/* A field of the plan that this one goes on from: its ground, what of it is
 * done, and stays in the rest, cut anew where it holds another number of days.
 */
enum fw_status fw_plan__gone_on(struct fw_plan_job *job, size_t field,
                                struct fw_error *err);
/* season.c: the stays that are over before those that are ahead, and how things
 * were before the first of them. */
enum fw_status fw_plan__season(struct fw_plan_job *job, struct fw_error *err);
/* The paddock of that name; FW_EFAULT: there is none. */
enum fw_status fw_plan__was_grazed(const struct fw_plan *plan, const char *id,
                                   size_t *out, struct fw_error *err);
/* going.c */
enum fw_status fw_plan__going_stays(struct fw_plan_job *job, size_t field,
                                    size_t grazed, struct fw_error *err);

/* Why a field has no plan, to be told beside its name. field.c */
const char *fw_plan__reason(const struct fw_error *why, const char *name);

/* field.c, paddocks.c */
struct fw_plan__chosen { /* starts as {0} */
    struct fw_plan_targets targets;
    struct fw_layout layout;
    struct fw_plan_score score;
    struct fw_plan_score wished; /* the best with any kit */
};
void fw_plan__chosen_release(struct fw_plan__chosen *chosen);
enum fw_status fw_plan__lay_out(struct fw_plan_job *job, size_t field,
                                struct fw_plan__chosen *out,
                                struct fw_error *err);
enum fw_status fw_plan__field(struct fw_plan_job *job, size_t field,
                              struct fw_error *err);
/* The area of rings of a field's vertices, as the files draw them. */
enum fw_status fw_plan__area_ha(const struct fw_plan_job *job, size_t field,
                                const struct fw_plan_rings *rings, double *out,
                                struct fw_error *err);
/* Its area, its outline and its shape, of its rings. */
enum fw_status fw_plan__measure_paddock(const struct fw_plan_job *job,
                                        struct fw_plan_paddock *paddock,
                                        struct fw_error *err);
enum fw_status fw_plan__paddocks(struct fw_plan_job *job, size_t field,
                                 const struct fw_layout *layout,
                                 const struct fw_plan_targets *targets,
                                 const size_t *map, struct fw_error *err);

enum fw_status fw_plan__take_spots(struct fw_plan_job *job, size_t field,
                                   struct fw_error *err);

/* The side of the boundary that a side of the grazed ground is, and the number
 * that people call it by; 0: none. sides.c */
struct fw_farm_side fw_plan__side_of(const struct fw_farm_field *from,
                                     size_t side, size_t *number);
enum fw_status fw_plan__edge_feeds(struct fw_plan_job *job, size_t field,
                                   struct fw_error *err);

/* schedule.c: the time of all fields together, and what it settles: which end
 * of each line is fed, gates and openings, whether the kit will do. */
enum fw_status fw_plan__schedule(struct fw_plan_job *job, struct fw_error *err);

/* settled.c: in the plan's list of what nobody told. */
void fw_plan__settle_defaults(const struct fw_plan_job *job);

/* fences.c, posts.c */
enum fw_status fw_plan__lines(struct fw_plan_job *job, size_t field,
                              const struct fw_layout *layout, const size_t *map,
                              struct fw_error *err);
enum fw_status fw_plan__perimeter(struct fw_plan_job *job, size_t field,
                                  struct fw_error *err);
enum fw_status fw_plan__count_parts(const struct fw_plan_job *job,
                                    struct fw_plan_fence *fence,
                                    struct fw_error *err);
/* Its length and its bearing, its posts and its wire. */
enum fw_status fw_plan__measure_line(const struct fw_plan_job *job,
                                     struct fw_plan_fence *fence,
                                     struct fw_error *err);
enum fw_status fw_plan__posts(struct fw_plan_job *job, struct fw_error *err);
enum fw_status fw_plan__pace_ends(struct fw_plan_job *job, size_t field,
                                  struct fw_error *err);
/* One pace on along both sides of each moved fence, as a share of a day's feed.
 */
void fw_plan__pace_shares(struct fw_plan *plan, size_t field);

/* The most ends that stand at once and that no other line holds; is the line
 * so long that its ends must be held? ties.c */
enum fw_status fw_plan__most_ties(const struct fw_plan_job *job, int *most,
                                  struct fw_error *err);
bool fw_plan__is_tied(const struct fw_plan_fence *fence);
/* order_notes.c */
enum fw_status fw_plan__order_notes(const struct fw_plan_job *job,
                                    struct fw_error *err);
/* wires.c: do they hold the smallest of the flock? */
enum fw_status fw_plan__note_wires(struct fw_plan_job *job,
                                   struct fw_error *err);
enum fw_status fw_plan__untold(struct fw_plan_job *job, struct fw_error *err);
enum fw_status fw_plan__totals(struct fw_plan_job *job, struct fw_error *err);

/* wares.c: what feeds a fence, as rows of a list to buy. */
struct fw_material fw_plan__energizer_row(const struct fw_energizer *energizer,
                                          const struct fw_prices *prices);
struct fw_material fw_plan__rod_row(const struct fw_energizer *energizer,
                                    enum fw_units units,
                                    const struct fw_prices *prices);

#endif
