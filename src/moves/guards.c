/* Lines that a way asks for. Where the next paddock does not adjoin the last
 * one the flock is led back over grazed ground, and what waits beside that
 * ground has to be shut off for this one move, though with a back fence nothing
 * stands there any more. */
#include "moves/inner.h"

#include "base/array.h"

#include <string.h>

static bool is_open(const struct fw_moves__making *making, size_t door)
{
    if (!making->stands[making->land->doors[door].line] ||
        making->open_door[door])
        return true;
    for (size_t i = 0; i < making->to_open_count; i++) {
        const struct fw_opening *opening =
            &making->time->openings[making->to_open[i]];
        if (opening->line != FW_NONE && opening->door == door)
            return true;
    }
    return false;
}

static enum fw_status add(struct fw_moves__guards *guards, size_t line,
                          size_t stay, struct fw_error *err)
{
    for (size_t i = guards->count; i-- > 0 && guards->items[i].stay == stay;)
        if (guards->items[i].line == line)
            return FW_OK;
    const enum fw_status status =
        fw_array_reserve(&guards->items, &guards->capacity, guards->count + 1,
                         sizeof *guards->items, err);
    if (!status)
        guards->items[guards->count++] = (struct fw_moves__guard){line, stay};
    return status;
}

/* Over all that they can walk to when everything is open; not on over ground
 * that waits. */
enum fw_status fw_moves__guard(const struct fw_moves__moving *moving,
                               struct fw_error *err)
{
    struct fw_moves__making *making = moving->making;
    const struct fw_land *land = making->land;
    size_t *list = making->room, count = 0;
    enum fw_status status = FW_OK;
    if (moving->left != moving->entered || !moving->over_grazed ||
        moving->out.door_count < 2)
        return FW_OK;
    memset(making->seen, 0, land->cell_count * sizeof *making->seen);
    making->seen[moving->from] = making->seen[moving->to] = true;
    list[count++] = moving->from;
    for (size_t i = 0; !status && i < count; i++) {
        const struct fw_cell *cell = &land->cells[list[i]];
        for (size_t k = 0; !status && k < cell->door_count; k++) {
            const size_t door = land->doors_of[cell->first_door + k];
            const size_t other = fw_land_beyond(land, door, list[i]);
            if (making->seen[other] || !is_open(making, door))
                continue;
            if (land->cells[other].kind == FW_CELL_PADDOCK &&
                !making->grazed[other]) {
                status = add(making->guards, land->doors[door].line,
                             moving->number, err);
                continue;
            }
            making->seen[other] = true;
            list[count++] = other;
        }
    }
    return status;
}
