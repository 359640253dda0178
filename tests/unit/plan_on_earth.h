/* The plan by hand for plan.json, which tells of each place where it is on the
 * earth: here that follows from where it is in the plane, and posts stand on
 * their line. */
#ifndef FW_PLAN_ON_EARTH_H
#define FW_PLAN_ON_EARTH_H

#include "geo/geo.h"
#include "plan_by_hand.h"

static inline void on_earth(struct fw_plan_place *place)
{
    if (place->given)
        place->lonlat = fw_plane_inverse(&fields[0].plane, place->plane);
}

/* A share of the way from one vertex to another, in each kind of coordinate. */
static inline struct fw_plan_place part_way(const struct fw_vertex *a,
                                            const struct fw_vertex *b, double t)
{
    const double left = 1 - t;
    return (struct fw_plan_place){
        true,
        {left * a->plane.x_m + t * b->plane.x_m,
         left * a->plane.y_m + t * b->plane.y_m},
        {left * a->lonlat.lon_deg + t * b->lonlat.lon_deg,
         left * a->lonlat.lat_deg + t * b->lonlat.lat_deg},
        {left * a->file.x + t * b->file.x, left * a->file.y + t * b->file.y}};
}

static inline void put_on_earth(struct fw_lonlat middle)
{
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        if (fw_plane_init(&fields[i].plane, middle, NULL))
            fail_msg("no plane");
        on_earth(&fields[i].gate);
        on_earth(&fields[i].park);
    }
    for (size_t i = 0; i < sizeof vertices / sizeof *vertices; i++)
        vertices[i].lonlat =
            fw_plane_inverse(&fields[0].plane, vertices[i].plane);
    for (size_t i = 0; i < sizeof waters / sizeof *waters; i++)
        on_earth(&waters[i].place);
    for (size_t i = 0; i < sizeof gates / sizeof *gates; i++)
        on_earth(&gates[i].place);
    for (size_t i = 0; i < sizeof findings / sizeof *findings; i++)
        on_earth(&findings[i].place);
    posts[0].place = part_way(&vertices[line[0]], &vertices[line[1]], 0.25);
    posts[1].place = part_way(&vertices[line[0]], &vertices[line[1]], 0.75);
}

static inline struct fw_plan by_hand_on_earth(void)
{
    struct fw_plan plan = by_hand();
    put_on_earth((struct fw_lonlat){10.5, 46.5});
    on_earth(&plan.energizer_place);
    return plan;
}

#endif
