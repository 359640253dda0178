/* Open addressing with at most half of the places taken; the hash is FNV-1a,
 * whose constants are those of its authors. */
#include "keys/names.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include <stdint.h>
#include <string.h>

enum fw_status fw_farm__names_init(struct fw_farm__names *names, size_t most,
                                   struct fw_error *err)
{
    size_t size = FW_EFFORT(16);
    while (size / 2 < most && size < SIZE_MAX / FW_PARTS(4))
        size *= 2;
    names->places = fw_alloc(size, sizeof *names->places);
    names->size = names->places ? size : 0;
    return names->places ? FW_OK : fw_fail_memory(err);
}

void fw_farm__names_release(struct fw_farm__names *names)
{
    fw_free(names->places);
    *names = (struct fw_farm__names){0};
}

/* Where the name is, or the free place where it would be. */
static struct fw_farm__name *place_of(const struct fw_farm__names *names,
                                      const char *text)
{
    uint64_t hash = 0xcbf29ce484222325U;
    for (const char *c = text; *c; c++)
        hash = (hash ^ (unsigned char)*c) * 0x100000001b3U;
    size_t i = (size_t)hash & (names->size - 1);
    while (names->places[i].text && strcmp(names->places[i].text, text) != 0)
        i = (i + 1) & (names->size - 1);
    return &names->places[i];
}

struct fw_farm__name *fw_farm__names_find(const struct fw_farm__names *names,
                                          const char *text)
{
    if (names->size == 0)
        return NULL;
    struct fw_farm__name *place = place_of(names, text);
    return place->text ? place : NULL;
}

void fw_farm__names_put(struct fw_farm__names *names, const char *text,
                        size_t number)
{
    *place_of(names, text) =
        (struct fw_farm__name){.text = text, .number = number, .next = 2};
}
