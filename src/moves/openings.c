/* Where a line is opened. Polywire does not open in mid-run: its end A is
 * unhooked, so that it is dead, and carried back, in the corner first where the
 * sheep come along the fence; where that end is not beside the right ground,
 * its end B is; and where neither is, a handle that was put in when the line
 * was set. Common practice, no source. */
#include "moves/inner.h"

#include "base/array.h"

#include "geo/ways.h"

#include <math.h>

/* A handle stands off the post of another line by so much. */
static const double off_post_m = 2;

struct station {
    enum fw_opening_kind kind;
    double at_m;
};

static bool is_bad(const struct fw_moves__making *making, size_t line,
                   double at_m)
{
    const struct fw_habits *habits = making->habits;
    return habits->is_bad &&
           habits->is_bad(habits->of, making->land->lines[line].field,
                          fw_land_along(making->land, line, at_m));
}

/* In the order in which they are liked. */
static size_t list_places(const struct fw_land *land,
                          const struct fw_door *door, double width_m,
                          struct station places[4])
{
    const double half_m = width_m / 2;
    const double long_m = land->lines[door->line].length_m;
    size_t count = 0;
    if (door->from_m <= fw_moves__same_m)
        places[count++] = (struct station){FW_OPENING_A, half_m};
    if (door->to_m >= long_m - fw_moves__same_m)
        places[count++] = (struct station){FW_OPENING_B, long_m - half_m};
    const double near_m = fmin(door->from_m + off_post_m + half_m,
                               (door->from_m + door->to_m) / 2);
    const double far_m =
        fmax(door->to_m - off_post_m - half_m, (door->from_m + door->to_m) / 2);
    places[count++] = (struct station){FW_OPENING_JOINT, near_m};
    places[count++] = (struct station){FW_OPENING_JOINT, far_m};
    return count;
}

/* How deep the ground is on the shallower side of the opening. Where the edge
 * comes in aslant at an end of it, they do with what they need of its width. */
static double room_m(const struct fw_moves__making *making,
                     const struct fw_door *door, double at_m, double width_m)
{
    const struct fw_land *land = making->land;
    const double deep_m = making->habits->room_m;
    const double spare_m = fmax(0, width_m - making->habits->way_m);
    double best_m = 0;
    /* The spare on one end, on both, on the other. */
    for (int k = -1; k <= 1 && best_m < deep_m; k++) {
        const double half_m = (width_m - spare_m) / 2;
        const double middle_m = at_m + k * spare_m / 2;
        const struct fw_point a =
            fw_land_along(land, door->line, middle_m - half_m);
        const struct fw_point b =
            fw_land_along(land, door->line, middle_m + half_m);
        double here_m = deep_m;
        const size_t beside[2] = {door->a, door->b};
        for (int e = 0; e < 2; e++) {
            const struct fw_cell *cell = &land->cells[beside[e]];
            if (cell->kind != FW_CELL_GRAZED)
                here_m = fmin(
                    here_m, fw_ways_room_m(a, b, land->ring_points,
                                           land->ring_start + cell->first_ring,
                                           cell->ring_count, deep_m));
        }
        best_m = fmax(best_m, here_m);
    }
    return best_m;
}

/* The first where nothing is in the way, else the one with the most room. */
static struct station choose(const struct fw_moves__making *making,
                             const struct fw_door *door, double width_m,
                             double *room)
{
    struct station places[4];
    const size_t count = list_places(making->land, door, width_m, places);
    size_t best = 0;
    double most = -HUGE_VAL;
    *room = 0;
    for (size_t i = 0; i < count && most < making->habits->room_m; i++) {
        const double here_m = room_m(making, door, places[i].at_m, width_m);
        const double worth = is_bad(making, door->line, places[i].at_m)
                                 ? here_m - making->habits->room_m
                                 : here_m;
        if (worth > most + fw_moves__same_m) {
            most = worth;
            best = i;
            *room = here_m;
        }
    }
    return places[best];
}

static enum fw_status add(struct fw_time *time,
                          const struct fw_opening *opening,
                          struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&time->openings, &time->opening_capacity,
                         time->opening_count + 1, sizeof *opening, err);
    if (!status)
        time->openings[time->opening_count++] = *opening;
    return status;
}

enum fw_status fw_moves__opening(struct fw_moves__making *making, size_t index,
                                 size_t from, size_t to, size_t *out,
                                 struct fw_error *err)
{
    const struct fw_land *land = making->land;
    const struct fw_door *door = &land->doors[index];
    struct fw_time *time = making->time;
    *out = making->opening_of[index];
    if (*out != FW_NONE)
        return FW_OK;
    const double width_m =
        fmin(making->habits->opening_m, door->to_m - door->from_m);
    double room = 0;
    const struct station place = choose(making, door, width_m, &room);
    const struct fw_opening opening = {
        .kind = place.kind,
        .field = land->lines[door->line].field,
        .line = door->line,
        .door = index,
        .from = from,
        .to = to,
        .move = time->move_count - 1,
        .at_m = place.at_m,
        .width_m = width_m,
        .room_m = room,
        .place = fw_land_along(land, door->line, place.at_m),
    };
    *out = making->opening_of[index] = time->opening_count;
    making->replay.door_of[*out] = index;
    return add(time, &opening, err);
}

bool fw_opening_is_tight(const struct fw_opening *opening,
                         const struct fw_habits *habits)
{
    return opening->line != FW_NONE &&
           (opening->width_m < habits->way_m - fw_moves__same_m ||
            opening->room_m < habits->room_m - fw_moves__same_m);
}

enum fw_status fw_moves__gates(struct fw_moves__making *making,
                               struct fw_error *err)
{
    const struct fw_land *land = making->land;
    enum fw_status status = FW_OK;
    for (size_t f = 0; !status && f < land->field_count; f++) {
        making->gate_of[f] = FW_NONE;
        if (!land->fields[f].gate_given)
            continue;
        making->gate_of[f] = making->time->opening_count;
        status = add(making->time,
                     &(struct fw_opening){.kind = FW_OPENING_GATE,
                                          .field = f,
                                          .line = FW_NONE,
                                          .door = FW_NONE,
                                          .from = FW_NONE,
                                          .to = FW_NONE,
                                          .move = FW_NONE,
                                          .place = land->fields[f].gate},
                     err);
    }
    return status;
}

bool fw_moves__hangs_on(const struct fw_land *land, size_t line, size_t on,
                        bool far_hooked)
{
    for (size_t i = 0; i <= land->line_count; i++) {
        const struct fw_land_line *of = &land->lines[line];
        if (line == on)
            return true;
        const size_t host = of->host[0];
        /* Its other end may be hooked on to what is live all the same. */
        if (far_hooked && of->host[1] == FW_NONE &&
            of->feeds[1] != FW_FEEDS_NOTHING)
            return false;
        if (host == FW_NONE)
            return false;
        line = host;
    }
    return false;
}
