/* Where a value goes: the member of its row, in the draft or in the item that
 * the cursor is on. */
#include "keys/walk.h"

#include "base/array.h"
#include <string.h>

static void *owner_of(struct fw_farm__reader *reader, enum fw_farm__owner owner)
{
    const struct fw_farm__cursor *cursor = &reader->cursor;
    switch (owner) {
    case FW_OWNER_FARM:
        return &reader->draft;
    case FW_OWNER_CLASS:
        return cursor->sheep;
    case FW_OWNER_FORAGE:
        return cursor->forage;
    case FW_OWNER_PERIMETER:
        return cursor->perimeter;
    case FW_OWNER_EDGE:
        return cursor->edge;
    case FW_OWNER_EACH:
        return cursor->each;
    case FW_OWNER_MAP:
        return cursor->map;
    case FW_OWNER_PART:
        return cursor->part;
    }
    return NULL;
}

enum fw_status fw_farm__put(struct fw_farm__reader *reader, size_t row,
                            const struct fw_farm__at *at, const char *text,
                            struct fw_error *err)
{
    const struct fw_farm__reading *reading = fw_farm__reading(row);
    char *to = owner_of(reader, reading->owner);
    to += reading->offset;
    const enum fw_status status = reading->set(reader, reading, to, text, err);
    if (status)
        return status;
    *(struct fw_farm__at *)(void *)to = *at;
    if (reading->owner == FW_OWNER_FORAGE)
        reader->cursor.forage->at = *at;
    return FW_OK;
}

void fw_farm__enter(struct fw_farm__reader *reader, size_t row, bool option)
{
    struct fw_farm__cursor *cursor = &reader->cursor;
    struct fw_farm__each *each = cursor->each;
    const char *path = fw_farm__path(row);
    if (strcmp(path, "forage") == 0)
        cursor->forage =
            option ? &reader->draft.option_forage : &reader->draft.forage;
    else if (strcmp(path, "perimeter") == 0)
        cursor->perimeter = &reader->draft.perimeter;
    else if (strcmp(path, "fields.each[].forage") == 0)
        cursor->forage = &each->forage;
    else if (strcmp(path, "maps[].forage") == 0)
        cursor->forage = &cursor->map->forage;
    else if (strcmp(path, "fields.each[].perimeter") == 0)
        cursor->perimeter = &each->perimeter;
}

#define ADD(items, count, capacity)                                            \
    fw_array_reserve(&(items), &(capacity), (count) + 1, sizeof *(items), err)

/* Room for one more, then the cursor on item `index`; equal to the count: a
 * new one. */
enum fw_status fw_farm__enter_item(struct fw_farm__reader *reader, size_t row,
                                   size_t index, struct fw_error *err)
{
    struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm__cursor *cursor = &reader->cursor;
    struct fw_farm__perimeter *perimeter = cursor->perimeter;
    enum fw_status status = FW_OK;
    size_t *count = fw_farm__item_count(reader, row);
    switch (fw_farm__reading(row)->owner) {
    case FW_OWNER_CLASS:
        status = ADD(draft->classes, *count, draft->class_capacity);
        cursor->sheep = status ? NULL : &draft->classes[index];
        break;
    case FW_OWNER_EDGE:
        status = ADD(perimeter->sides, *count, perimeter->side_capacity);
        cursor->edge = status ? NULL : &perimeter->sides[index];
        break;
    case FW_OWNER_EACH:
        status = ADD(draft->each, *count, draft->each_capacity);
        cursor->each = status ? NULL : &draft->each[index];
        break;
    case FW_OWNER_PART:
        status = ADD(draft->winter.parts, *count, draft->winter.part_capacity);
        cursor->part = status ? NULL : &draft->winter.parts[index];
        break;
    default:
        status = ADD(draft->maps, *count, draft->map_capacity);
        cursor->map = status ? NULL : &draft->maps[index];
        break;
    }
    if (!status && index == *count)
        ++*count;
    return status;
}

size_t *fw_farm__item_count(struct fw_farm__reader *reader, size_t row)
{
    struct fw_farm__draft *draft = &reader->draft;
    switch (fw_farm__reading(row)->owner) {
    case FW_OWNER_CLASS:
        return &draft->class_count;
    case FW_OWNER_EDGE:
        return &reader->cursor.perimeter->side_count;
    case FW_OWNER_EACH:
        return &draft->each_count;
    case FW_OWNER_PART:
        return &draft->winter.part_count;
    default:
        return &draft->map_count;
    }
}
