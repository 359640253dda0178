/* Real fields out of a map; the fixed list of them that the tests share. */
#ifndef FW_REAL_FIELDS_H
#define FW_REAL_FIELDS_H

#include "unit/test.h"

#include "crs/crs.h"
#include "io/io.h"
#include <stdlib.h>
#include <string.h>

struct real_fields {
    struct fw_field **fields;
    long long *fids;
    size_t count;
    char *crs; /* as fw_crs_new takes it */
};

static inline void release_fields(struct real_fields *real)
{
    for (size_t i = 0; i < real->count; i++)
        fw_field_free(real->fields[i]);
    free(real->fields);
    free(real->fids);
    free(real->crs);
}

/* Every polygon of a layer that makes a field of such a size; an error where
 * the map cannot be read. */
static inline struct real_fields read_fields(const char *data, const char *path,
                                             const char *layer, double least_ha,
                                             double most_ha)
{
    char source[4096];
    struct fw_map *map = NULL;
    struct fw_crs *crs = NULL;
    struct fw_error err = {0};
    struct real_fields real = {0};
    snprintf(source, sizeof source, "%s/%s", data, path);
    const struct fw_map_request request = {.source = source, .layer = layer};
    if (fw_map_read(&request, &map, NULL, &err) ||
        fw_crs_new(map->crs, &crs, &err))
        fail_msg("%s", err.text);
    real.fields = calloc(map->feature_count, sizeof(struct fw_field *));
    real.fids = calloc(map->feature_count, sizeof *real.fids);
    for (size_t i = 0; i < map->feature_count; i++) {
        struct fw_feature *feature = &map->features[i];
        struct fw_field *field = NULL;
        if (feature->kind != FW_FEATURE_POLYGON ||
            fw_shape_repair(&feature->shape, "", NULL, NULL) ||
            fw_field_new(&feature->shape, "", crs, &field, NULL))
            continue;
        if (field->area_m2 < least_ha * 1e4 || field->area_m2 > most_ha * 1e4) {
            fw_field_free(field);
            continue;
        }
        real.fids[real.count] = feature->fid;
        real.fields[real.count++] = field;
    }
    real.crs = calloc(strlen(map->crs) + 1, 1);
    strcpy(real.crs, map->crs);
    fw_crs_free(crs);
    fw_map_free(map);
    return real;
}

/* Keep so many, evenly spread over the list as the file has it. */
static inline void thin_out(struct real_fields *real, size_t most)
{
    size_t kept = 0;
    for (size_t i = 0, next = 0; i < real->count; i++) {
        if (kept == most || i < next) {
            fw_field_free(real->fields[i]);
            continue;
        }
        real->fids[kept] = real->fids[i];
        real->fields[kept++] = real->fields[i];
        next = kept * real->count / most;
    }
    real->count = kept;
}

/* The 300 fields of these tests. The rule was set before any of them was laid
 * out: of the Dutch parcels and of the land around a German town, those of
 * 0.8 to 40 ha, and of these as many as 150 each, evenly spread over the file
 * in its own order. Nothing is left out for its shape. */
struct chosen_map {
    const char *path, *layer;
};
static const struct chosen_map chosen_maps[] = {
    {"parcels/nl_waterland2020.gpkg", NULL},
    {"osm/north-bayreuth.gpkg", "land"},
};
enum { chosen_of_each = 150, chosen_map_count = 2 };

static inline struct real_fields read_chosen(const char *data, size_t map)
{
    struct real_fields real = read_fields(data, chosen_maps[map].path,
                                          chosen_maps[map].layer, 0.8, 40);
    thin_out(&real, chosen_of_each);
    return real;
}

#endif
