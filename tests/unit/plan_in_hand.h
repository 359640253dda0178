/* The plan made by hand with arrays of its own, for tests that change them. */
#ifndef FW_PLAN_IN_HAND_H
#define FW_PLAN_IN_HAND_H

#include "plan_by_hand.h"

#include <string.h>

struct hand {
    struct fw_plan plan;
    struct fw_plan_field fields[3];
    struct fw_farm_side sides[3];
    struct fw_plan_paddock paddocks[3];
    struct fw_plan_fence fences[5];
    struct fw_plan_gate gates[5];
    struct fw_plan_water waters[2];
    struct fw_plan_post posts[2];
    struct fw_plan_reading readings[1];
    struct fw_plan_crossing crossings[1];
    struct fw_plan_passage passages[1];
    struct fw_plan_finding findings[2];
    struct fw_flock_class classes[2];
    struct fw_material materials[2];
    struct fw_note notes[2];
    struct fw_time_stay stays[3];
    struct fw_move moves[4];
    struct fw_step steps[26];
};

#define TAKE_IN_HAND(name)                                                     \
    (memcpy(hand->name, name, sizeof name), hand->plan.name = hand->name)

static inline void take_in_hand(struct hand *hand)
{
    hand->plan = by_hand();
    TAKE_IN_HAND(fields);
    TAKE_IN_HAND(paddocks);
    TAKE_IN_HAND(fences);
    TAKE_IN_HAND(gates);
    TAKE_IN_HAND(waters);
    TAKE_IN_HAND(posts);
    TAKE_IN_HAND(readings);
    TAKE_IN_HAND(crossings);
    TAKE_IN_HAND(passages);
    TAKE_IN_HAND(findings);
    TAKE_IN_HAND(classes);
    TAKE_IN_HAND(materials);
    memcpy(hand->sides, sides, sizeof sides);
    hand->fields[0].sides = hand->sides;
    memcpy(hand->notes, notes, sizeof notes);
    hand->plan.notes.items = hand->plan.untold.items = hand->notes;
    memcpy(hand->stays, stays, sizeof stays);
    memcpy(hand->moves, moves, sizeof moves);
    memcpy(hand->steps, steps, sizeof steps);
    hand->plan.time.stays = hand->stays;
    hand->plan.time.moves = hand->moves;
    hand->plan.time.steps = hand->steps;
    hand->plan.units = FW_METRIC;
}

#endif
