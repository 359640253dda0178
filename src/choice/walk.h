/* How far the flock walks to water on the ground that a replay says it has. */
#ifndef FW_CHOICE_WALK_H
#define FW_CHOICE_WALK_H

#include "choice/walk_map.h"

/* What is walked on. */
struct fw_plan__walk_on {
    const struct fw_land *land;
    size_t index; /* of the field, or of the one cell */
    struct fw_plan__walk_map map;
    struct fw_walk_ground *ground; /* NULL: none yet */
};

/* The ground of one field after the other: at first {0}, or with the farm that
 * knows what lies behind fronts, and which of its fields is the land's first.
 */
struct fw_plan__walk {
    const struct fw_farm *farm;
    size_t first_field;
    struct fw_plan__walk_on field;
    struct fw_plan__walk_on cell;  /* where that is all they have: what a back
                                      fence leaves them needs no other ground */
    const struct fw_herbage *feed; /* on the cell that is asked for; NULL: it
                                      lies evenly */
    bool straight, alone; /* as the way was that was asked for last: seen whole,
                             in the one cell */
    double passed;        /* in all searches, as fw_walk_passed has it */
};

/* From every point of a cell, over all that the flock has now, to a place of
 * the cell's field. It is known where they reach it, or come as near as a
 * trough is reached. FW_ENOMEM. */
enum fw_status fw_plan__walk_to(struct fw_plan__walk *walk,
                                struct fw_replay *replay, size_t cell,
                                struct fw_point water, struct fw_walk_sums *out,
                                struct fw_error *err);
/* The same without leaving the cell, whatever else they have: no way is
 * shorter by that. */
enum fw_status fw_plan__walk_within(struct fw_plan__walk *walk,
                                    const struct fw_land *land, size_t cell,
                                    struct fw_point water,
                                    struct fw_walk_sums *out,
                                    struct fw_error *err);
/* After either: such a way from one place of the cell to the water. Free the
 * points; none: it is not reached. FW_ENOMEM. */
enum fw_status fw_plan__walk_way(const struct fw_plan__walk *walk, size_t cell,
                                 struct fw_point from, struct fw_point water,
                                 struct fw_point **out, size_t *count,
                                 struct fw_error *err);
/* After that: is the shape of all the ground known that the flock has now? */
bool fw_plan__walk_is_drawn(const struct fw_plan__walk *walk,
                            struct fw_replay *replay);
void fw_plan__walk_release(struct fw_plan__walk *walk);

#endif
