/* The draft by itself. */
#include "keys/reader.h"

#include "base/alloc.h"

void fw_farm__draft_release(struct fw_farm__draft *draft)
{
    for (size_t i = 0; i < draft->each_count; i++)
        fw_free(draft->each[i].perimeter.sides);
    fw_free(draft->each);
    fw_free(draft->classes);
    fw_free(draft->away.days);
    fw_free(draft->only.names);
    fw_free(draft->copy.names);
    fw_free(draft->covers.items);
    fw_free(draft->perimeter.sides);
    fw_free(draft->maps);
    fw_free(draft->winter.parts);
    *draft = (struct fw_farm__draft){0};
}
