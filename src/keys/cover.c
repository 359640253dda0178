/* What stands in each field, as a person walked it. */
#include "keys/schema.h"

#include "base/array.h"
#include "base/text.h"
#include "figures/mark.h"

#include <string.h>

enum { piece_room = FW_EFFORT(128) };

static enum fw_status check(const struct fw_farm__covers *covers,
                            const struct fw_farm__cover *cover,
                            const struct fw_farm__reading *row,
                            struct fw_error *err)
{
    for (size_t i = 0; i < covers->count; i++)
        if (strcmp(covers->items[i].field, cover->field) == 0)
            return fw_fail(err, FW_EINPUT, "tells %.80s twice; keep one",
                           cover->field);
    if (cover->kg_ha >= row->least && cover->kg_ha <= row->most)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "%.80s has %g kg/ha; expected %g to %g kg/ha", cover->field,
                   cover->kg_ha, row->least, row->most);
}

static enum fw_status add(struct fw_farm__reader *reader,
                          const struct fw_farm__reading *row, const char *name,
                          const char *mass, struct fw_farm__covers *covers,
                          struct fw_error *err)
{
    struct fw_farm__cover cover = {0};
    enum fw_status status = fw_farm__quantity(
        reader, mass, FW_KIND_MASS_PER_AREA, &cover.kg_ha, err);
    if (!status)
        status = fw_farm__keep(reader, name, strlen(name), &cover.field, err);
    if (!status)
        status = check(covers, &cover, row, err);
    if (!status)
        status = fw_array_reserve(&covers->items, &covers->capacity,
                                  covers->count + 1, sizeof cover, err);
    if (!status)
        covers->items[covers->count++] = cover;
    return status;
}

/* "Long Bottom = 2400 kg/ha, Hill = 1900 kg/ha", or with colons, as a file
 * tells its keys one by one. A name may have commas. */
FW_SETTER(fw_farm__set_covers)
{
    enum fw_status status = FW_OK;
    while (!status && text) {
        char name[piece_room], mass[piece_room];
        const size_t end = strcspn(text, ":=");
        if (!text[end])
            return fw_fail(err, FW_EINPUT,
                           "\"%.60s\" is no field with its cover; expected "
                           "such as Long Bottom = 2400 kg/ha",
                           text);
        const char *value = text + end + 1, *comma = strchr(value, ',');
        fw_text_trim(text, end, name, sizeof name);
        fw_text_trim(value, comma ? (size_t)(comma - value) : strlen(value),
                     mass, sizeof mass);
        status = add(reader, row, name, mass, to, err);
        text = comma ? comma + 1 : NULL;
    }
    return status;
}
