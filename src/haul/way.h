/* The way of the loaded tank over a field, from its gate to a trough, as the
 * lines stand at one step of a replay: as few of those that stand are passed as
 * can be, and of such ways the one that is short. Legs are straight from one
 * line to the next. */
#ifndef FW_HAUL_WAY_H
#define FW_HAUL_WAY_H

#include "moves/moves.h"

/* A line that stands across the way. */
struct fw_way_pass {
    size_t line;
    double at_m;   /* along it from its end A: where it is opened */
    double room_m; /* so wide may it be opened there */
    bool at_flock; /* on either side is ground that the flock has */
    struct fw_point place;
    double rest_m;         /* from where the tank can come nearest to the trough
                              with this line shut, straight ... */
    struct fw_point stand; /* ... and where that is */
};

struct fw_way {
    bool known; /* the field's gate is told, and leads to the trough's ground */
    struct fw_point *points; /* from the gate to the trough */
    size_t count;
    struct fw_way_pass *passes; /* in the order of the way */
    size_t pass_count;
    size_t *pass_at; /* the index in points where each pass is */
};

/* To a trough in that cell; the vehicle is so wide. Release it when done.
 * FW_ENOMEM. */
enum fw_status fw_way_find(struct fw_replay *replay, size_t cell,
                           struct fw_point trough, double width_m,
                           struct fw_way *out, struct fw_error *err);
void fw_way_release(struct fw_way *way);

/* How many of the passes have to be opened where a hose of so many metres goes
 * on from there: all of them without one. */
size_t fw_way_opened(const struct fw_way *way, double hose_m);

/* Along the way as far as the tank is driven then, every step_m or less: the
 * k-th place; false: it is not driven so far. */
struct fw_way_drive {
    const struct fw_way *way;
    double hose_m, step_m;
    size_t opened;  /* of the passes */
    size_t leg, at; /* of the points; steps of the leg that are done */
    bool over;
    struct fw_point place;
};
struct fw_way_drive fw_way_drive(const struct fw_way *way, double hose_m,
                                 double step_m);
bool fw_way_drive_on(struct fw_way_drive *drive);

#endif
