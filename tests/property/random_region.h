/* A region at random, as a GeoPackage: fields of our own with roads, railways,
 * power lines, streams, ponds and buildings among them, under the names that
 * OpenStreetMap has for their layers and tags. */
#ifndef FW_RANDOM_REGION_H
#define FW_RANDOM_REGION_H

#include "random_farm.h"

enum { region_fields = 16, region_wide = 4, region_most = 64 };

struct region_layer {
    const char *name;
    enum fw_feature_kind kind;
    size_t count;
    double least_m, most_m; /* of a step of a line, or across */
    const char *highway[5];
};

static const struct region_layer region_layers[] = {
    {"land", FW_FEATURE_POLYGON, region_fields, 0, 0, {""}},
    {"roads",
     FW_FEATURE_LINE,
     48,
     60,
     240,
     {"residential", "track", "path", "steps", "tertiary"}},
    {"railways", FW_FEATURE_LINE, 8, 100, 300, {""}},
    {"power_lines", FW_FEATURE_LINE, 16, 100, 300, {""}},
    {"waterways", FW_FEATURE_LINE, 24, 30, 150, {""}},
    {"water", FW_FEATURE_POLYGON, 48, 5, 40, {""}},
    {"buildings", FW_FEATURE_POLYGON, 64, 4, 15, {""}},
};
enum { region_layer_count = sizeof region_layers / sizeof region_layers[0] };

/* Metres from the region's south-western corner; as exact as it need be, for
 * what is judged is what the file says. */
static inline struct fw_xy region_place(double x_m, double y_m)
{
    return (struct fw_xy){11.5 + x_m / 71600, 49.97 + y_m / 111200};
}

static inline void draw_thing(struct drawn *drawn, uint64_t *seed,
                              const struct region_layer *layer, size_t index)
{
    const double apart = 450, side = region_wide * apart;
    struct fw_xy at = {draw(seed, 0, side), draw(seed, 0, side)};
    *drawn = (struct drawn){.count = 0};
    if (strcmp(layer->name, "land") == 0) {
        at = (struct fw_xy){apart * (double)(index % region_wide),
                            apart * (double)(index / region_wide)};
        draw_outline(drawn, seed, (enum outline)(index % OUTLINES));
        for (size_t i = 0; i < drawn->count; i++) {
            drawn->points[i].x += at.x - outline_away_m;
            drawn->points[i].y += at.y - outline_away_m;
        }
    } else if (layer->kind == FW_FEATURE_POLYGON) {
        draw_star(drawn, seed, at, draw(seed, layer->least_m, layer->most_m),
                  false);
    } else {
        double course = draw(seed, 0, 2 * acos(-1));
        for (size_t steps = draw_count(seed, 2, 7); steps > 0; steps--) {
            const double m = draw(seed, layer->least_m, layer->most_m);
            put_xy(drawn, at.x, at.y);
            course += draw(seed, -0.6, 0.6);
            at.x += m * cos(course);
            at.y += m * sin(course);
        }
        end_ring(drawn);
    }
    for (size_t i = 0; i < drawn->count; i++)
        drawn->points[i] = region_place(drawn->points[i].x, drawn->points[i].y);
}

/* What is drawn, layer by layer, so that a map of it can be written otherwise.
 * A map may have as many more pieces. */
struct region_map {
    struct drawn drawn[region_layer_count][2 * region_most];
    size_t number[region_layer_count][2 * region_most]; /* as it was drawn */
    size_t count[region_layer_count];
};

static inline void draw_region(struct region_map *map, uint64_t *seed)
{
    for (size_t l = 0; l < region_layer_count; l++) {
        map->count[l] = region_layers[l].count;
        for (size_t i = 0; i < map->count[l]; i++) {
            draw_thing(&map->drawn[l][i], seed, &region_layers[l], i);
            map->number[l][i] = i;
        }
    }
}

/* Every other thing has a name, and so has all land. */
static inline void name_thing(char room[24], size_t l, size_t number)
{
    const bool named =
        number % 2 == 0 || region_layers[l].count == region_fields;
    *room = '\0';
    if (named)
        snprintf(room, 24, "%s %zu", region_layers[l].name, number);
}

static inline void put_region_map(const char *path, struct region_map *map)
{
    static const struct fw_column columns[] = {{"highway", FW_COLUMN_TEXT},
                                               {"name", FW_COLUMN_TEXT}};
    static struct fw_row rows[region_layer_count][2 * region_most];
    static struct fw_value values[region_layer_count][2 * region_most][2];
    static char names[region_layer_count][2 * region_most][24];
    /* Every polygon is one piece. */
    static size_t ends[region_layer_count][2 * region_most][2];
    struct fw_table tables[region_layer_count];
    struct fw_error err;
    for (size_t l = 0; l < region_layer_count; l++) {
        const struct region_layer *layer = &region_layers[l];
        for (size_t i = 0; i < map->count[l]; i++) {
            struct drawn *thing = &map->drawn[l][i];
            const size_t number = map->number[l][i];
            const size_t highway = layer->highway[1] ? number % 5 : 0;
            ends[l][i][1] = thing->rings;
            name_thing(names[l][i], l, number);
            values[l][i][0] = (struct fw_value){
                .present = true, .text = (char *)layer->highway[highway]};
            values[l][i][1] =
                (struct fw_value){.present = true, .text = names[l][i]};
            rows[l][i] = (struct fw_row){.kind = layer->kind,
                                         .points = thing->points,
                                         .point_count = thing->count,
                                         .ring_start = thing->starts,
                                         .ring_count = thing->rings,
                                         .piece_ring = ends[l][i],
                                         .piece_count = 1,
                                         .values = values[l][i]};
        }
        tables[l] = (struct fw_table){.name = layer->name,
                                      .kind = layer->name,
                                      .geometry = layer->kind,
                                      .columns = columns,
                                      .column_count = 2,
                                      .rows = rows[l],
                                      .row_count = map->count[l]};
    }
    if (fw_gpkg_write(path, tables, region_layer_count, "EPSG:4326", 0, NULL,
                      NULL, &err))
        fail_msg("%s", err.text);
}

static inline void put_region(const char *path, uint64_t *seed)
{
    static struct region_map map;
    draw_region(&map, seed);
    put_region_map(path, &map);
}

#endif
