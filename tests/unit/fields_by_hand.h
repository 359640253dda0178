/* A farm of fields drawn by hand in metres, so that pictures of them can be
 * read back: an L with a vertex that is no corner and a pond, and a slanted
 * one, higher than it is wide. It is static: never free it. */
#ifndef FW_FIELDS_BY_HAND_H
#define FW_FIELDS_BY_HAND_H

#include "test.h"

#include "farm/farm.h"
#include <foldwright/date.h>

/* Outer rings run against the clock, as files have them, and corners with it;
 * both begin in the south-west. */
static struct fw_vertex ell[] = {
    {.plane = {10, 20}, .lonlat = {9.000, 51.000}},
    {.plane = {70, 20}, .lonlat = {9.006, 51.000}},
    {.plane = {70, 60}, .lonlat = {9.006, 51.004}},
    {.plane = {130, 60}, .lonlat = {9.012, 51.004}},
    {.plane = {130, 100}, .lonlat = {9.012, 51.008}},
    {.plane = {60, 100}, .lonlat = {9.005, 51.008}},
    {.plane = {10, 100}, .lonlat = {9.000, 51.008}},
    {.plane = {30, 40}},
    {.plane = {30, 50}},
    {.plane = {50, 50}},
    {.plane = {50, 40}},
};
static size_t ell_rings[] = {0, 7, 11};
static size_t ell_corners[] = {0, 6, 4, 3, 2, 1};

/* Its sides lean by 1 in 4 and by 1 in 3. */
static struct fw_vertex slant[] = {
    {.plane = {4, 20}, .lonlat = {9.000, 51.000}},
    {.plane = {40, 8}, .lonlat = {9.004, 50.999}},
    {.plane = {66, 86}, .lonlat = {9.006, 51.006}},
    {.plane = {24, 100}, .lonlat = {9.002, 51.008}},
};
static size_t slant_rings[] = {0, 4};
static size_t slant_corners[] = {0, 3, 2, 1};

static struct fw_field shapes[] = {
    {.name = (char *)"Low <meadow> & \"more\"\x01",
     .vertices = ell,
     .vertex_count = 11,
     .ring_start = ell_rings,
     .ring_count = 2,
     .corners = ell_corners,
     .corner_count = 6,
     .area_m2 = 7000.5,
     .ellipsoid_m2 = 7001.5,
     .perimeter_m = 400.75,
     .holes_m = 60.25},
    {.name = (char *)"Slant",
     .vertices = slant,
     .vertex_count = 4,
     .ring_start = slant_rings,
     .ring_count = 1,
     .corners = slant_corners,
     .corner_count = 4,
     .area_m2 = 3500.5,
     .ellipsoid_m2 = 3501.5,
     .perimeter_m = 240.5},
};

static struct fw_farm_field farm_fields[] = {
    {.shape = &shapes[0], .source = (char *)"low.gpkg", .crs_accuracy_m = -1},
    {.shape = &shapes[1],
     .crs_accuracy_m = 0.5,
     .gate = {.given = true, .point = {14, 60}, .text = "side:1@40m"},
     .water = {.given = true, .point = {66, 86}, .text = "corner:3"}},
};

static inline struct fw_farm fields_by_hand(void)
{
    return (struct fw_farm){
        .name = (char *)"Hill",
        .units = FW_METRIC,
        .fields = farm_fields,
        .field_count = 2,
        .start_day = FW_NO_DAY,
    };
}

/* In a ring of a field, by the parity of what lies to its right. */
static inline bool is_inside(const struct fw_field *field, struct fw_point p)
{
    bool inside = false;
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1];
             i++) {
            const size_t next =
                i + 1 < field->ring_start[r + 1] ? i + 1 : field->ring_start[r];
            const struct fw_point a = field->vertices[i].plane;
            const struct fw_point b = field->vertices[next].plane;
            if ((a.y_m > p.y_m) != (b.y_m > p.y_m) &&
                p.x_m <
                    a.x_m + (b.x_m - a.x_m) * (p.y_m - a.y_m) / (b.y_m - a.y_m))
                inside = !inside;
        }
    return inside;
}

#endif
