/* The farm of a region: all its land as fields, and all else that it has as
 * maps. */
#ifndef FW_REGION_FARM_H
#define FW_REGION_FARM_H

#include "random_region.h"
#include "safety_judge.h"
#include "unit/scratch.h"

#include "farm/farm.h"
#include "keys/keys.h"
#include "plan/plan.h"
#include <foldwright/told.h>

/* last_first: its maps are told the other way round. */
static inline struct fw_farm *read_region(const struct scratch *scratch,
                                          const char *path, bool last_first)
{
    char text[8192];
    int n = snprintf(text, sizeof text,
                     "start: 2027-05-17\n"
                     "flock: [{head: 50, weight: 60 kg, intake: 2 kg/day}]\n"
                     "forage: {mass: 2500 kg/ha, residual: 1500 kg/ha, use: 80 "
                     "%%}\n"
                     "fields: {source: \"%s\", layer: land}\nmaps:\n",
                     path);
    for (size_t k = 0; k < layer_count; k++) {
        const struct layer *map = &layers[last_first ? layer_count - 1 - k : k];
        n += snprintf(text + n, sizeof text - (size_t)n,
                      "  - {role: %s, source: \"%s\", layer: %s%s%s%s}\n",
                      fw_safety_role_word(map->role), path, map->layer,
                      map->where ? ", where: \"" : "",
                      map->where ? map->where : "", map->where ? "\"" : "");
    }
    put_text(in_scratch(scratch, "farm.yaml"), text);
    const struct fw_farm_request request = {
        .farm_path = in_scratch(scratch, "farm.yaml"), .every_field = true};
    struct fw_farm *farm = NULL;
    struct fw_notes notes = {0};
    struct fw_error err;
    size_t bad = 0;
    if (fw_farm_read(&request, &farm, &bad, &notes, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < notes.count && bad; i++)
        if (notes.items[i].level != FW_LEVEL_NOTE)
            print_message("# %s: %s\n", notes.items[i].where,
                          notes.items[i].text);
    assert_true(bad <= 1);
    fw_notes_release(&notes);
    return farm;
}

/* Six days or so of grass, whatever the field. */
static inline int head_for(const struct fw_field *field)
{
    return 1 + (int)(60 * field->area_m2 / 1e4);
}

#endif
