/* Where a line is opened. Polywire does not open in mid-run: its end A is
 * unhooked, so that it is dead, and carried back, in the corner first where the
 * sheep come along the fence; where that end is not beside the right ground,
 * its end B is; and where neither is, a handle that was put in when the line
 * was set. Common practice, no source. */
#include "moves/inner.h"

#include "base/array.h"

#include <math.h>

/* A handle stands off the post of another line by so much. */
static const double off_post_m = 2;

struct place {
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
                          struct place places[4])
{
    const double slack_m = 1e-6;
    const double half_m = width_m / 2;
    const double long_m = land->lines[door->line].length_m;
    size_t count = 0;
    if (door->from_m <= slack_m)
        places[count++] = (struct place){FW_OPENING_A, half_m};
    if (door->to_m >= long_m - slack_m)
        places[count++] = (struct place){FW_OPENING_B, long_m - half_m};
    const double near_m = fmin(door->from_m + off_post_m + half_m,
                               (door->from_m + door->to_m) / 2);
    const double far_m =
        fmax(door->to_m - off_post_m - half_m, (door->from_m + door->to_m) / 2);
    places[count++] = (struct place){FW_OPENING_JOINT, near_m};
    places[count++] = (struct place){FW_OPENING_JOINT, far_m};
    return count;
}

static struct place choose(const struct fw_moves__making *making,
                           const struct fw_door *door, double width_m)
{
    struct place places[4];
    const size_t count = list_places(making->land, door, width_m, places);
    for (size_t i = 0; i < count; i++)
        if (!is_bad(making, door->line, places[i].at_m))
            return places[i];
    return places[0];
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
    const struct place place = choose(making, door, width_m);
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
        .place = fw_land_along(land, door->line, place.at_m),
    };
    *out = making->opening_of[index] = time->opening_count;
    making->replay.door_of[*out] = index;
    return add(time, &opening, err);
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
