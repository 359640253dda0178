/* Real fields out of a map, and whether all candidates for one are true. */
#ifndef FW_LAYOUT_FIELDS_H
#define FW_LAYOUT_FIELDS_H

#include "unit/layout_help.h"

#include <foldwright/io.h>
#include <time.h>

struct real_fields {
    struct fw_field **fields;
    long long *fids;
    size_t count;
};

static inline void release_fields(struct real_fields *real)
{
    for (size_t i = 0; i < real->count; i++)
        fw_field_free(real->fields[i]);
    free(real->fields);
    free(real->fids);
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
enum { chosen_of_each = 150 };

static inline struct real_fields read_chosen(const char *data, size_t map)
{
    struct real_fields real = read_fields(data, chosen_maps[map].path,
                                          chosen_maps[map].layer, 0.8, 40);
    thin_out(&real, chosen_of_each);
    return real;
}

/* The bound for the field's own corners: vertices that keep an edge straight
 * in the file within a millimetre are none. */
static inline double bound_of(const struct fw_field *field,
                              const struct fw_layout *layout)
{
    size_t corners = 0;
    for (size_t i = 0; i < field->vertex_count; i++)
        corners += field->vertices[i].kind == FW_VERTEX_INPUT;
    return fw_layout_bound_m(layout->paddock_m2, layout->paddock_count,
                             field->perimeter_m + field->holes_m, corners,
                             field->ring_count - 1);
}

/* Is every candidate a true map, not under its bound? */
static inline bool all_are_true(const struct fw_layout_request *request,
                                const struct fw_layout_list *list, char *why,
                                size_t room)
{
    struct map_check check;
    for (size_t i = 0; i < list->count; i++) {
        const struct fw_layout *layout = &list->items[i];
        const double bound_m = bound_of(request->field, layout);
        if (!map_is_true(&check, request, layout, request->field->area_m2,
                         1e-9)) {
            snprintf(why, room, "%s: %s", layout->name, check.why);
            return false;
        }
        if (layout->broken_count != 0 ||
            layout->line_m < bound_m * (1 - 1e-6)) {
            snprintf(why, room, "%s: %zu broken, %.9g m of line, bound %.9g",
                     layout->name, layout->broken_count, layout->line_m,
                     bound_m);
            return false;
        }
    }
    return true;
}

static inline double cpu_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static inline double time_factor(void)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    return given ? strtod(given, NULL) : 1;
}

#endif
