/* Fields that need no maps: the small ones of tests/data, and others at random,
 * of the shapes that make a layout hard. All that is random comes from the
 * seed. Farms are made of them by time_farms.h. */
#ifndef FW_RANDOM_FARM_H
#define FW_RANDOM_FARM_H

#include "crs/crs.h"
#include "draw.h"
#include "real_fields.h"

#include <math.h>

/* ---- tests/data ---- */

static const char *const invented_maps[] = {"degrees.geojson",
                                            "metres.geojson"};
enum { invented_map_count = 2, least_invented = 20 }; /* in each of them */

static inline struct real_fields read_invented(size_t map)
{
    struct real_fields fields = read_fields(
        getenv("FW_INVENTED"), invented_maps[map], NULL, 0, HUGE_VAL);
    assert_true(fields.count >= least_invented);
    return fields;
}

/* ---- at random ---- */

enum outline { STAR, ELL, NECK, COMB, STRIP, TRIANGLE, NOTCH, OUTLINES };
enum { most_outline = 64 };

struct drawn {
    struct fw_xy points[3 * most_outline];
    size_t count, starts[4], rings;
};

static inline void put_xy(struct drawn *drawn, double x, double y)
{
    drawn->points[drawn->count++] = (struct fw_xy){x, y};
}

static inline void end_ring(struct drawn *drawn)
{
    drawn->starts[++drawn->rings] = drawn->count;
}

/* Against the sun, or a pond with it; r is as far as it goes at most. */
static inline void draw_star(struct drawn *drawn, uint64_t *seed,
                             struct fw_xy centre, double r, bool pond)
{
    const size_t count = draw_count(seed, pond ? 3 : 8, pond ? 12 : 40);
    const double turn = acos(-1) * (pond ? -2 : 2) / (double)count;
    for (size_t i = 0; i < count; i++) {
        const double m = r * draw(seed, 0.7, 1), angle = turn * (double)i;
        put_xy(drawn, centre.x + m * cos(angle), centre.y + m * sin(angle));
    }
    end_ring(drawn);
}

static inline void draw_comb(struct drawn *drawn, uint64_t *seed)
{
    const size_t teeth = draw_count(seed, 2, 5);
    const double tooth = draw(seed, 20, 60), gap = draw(seed, 5, 30);
    const double back = draw(seed, 30, 80), high = back + draw(seed, 20, 120);
    const double step = tooth + gap;
    put_xy(drawn, 0, 0);
    put_xy(drawn, step * (double)teeth - gap, 0);
    for (size_t k = teeth; k-- > 0;) {
        put_xy(drawn, step * (double)k + tooth, high);
        put_xy(drawn, step * (double)k, high);
        if (k > 0) {
            put_xy(drawn, step * (double)k, back);
            put_xy(drawn, step * (double)k - gap, back);
        }
    }
    end_ring(drawn);
}

static inline void draw_corners(struct drawn *drawn, uint64_t *seed,
                                enum outline outline)
{
    const double w = draw(seed, 120, 300), h = draw(seed, 80, 200);
    const double part = draw(seed, 0.3, 0.7), half = part * h;
    if (outline == ELL) {
        const double xy[][2] = {{0, 0},           {w, 0},        {w, half},
                                {part * w, half}, {part * w, h}, {0, h}};
        for (size_t i = 0; i < 6; i++)
            put_xy(drawn, xy[i][0], xy[i][1]);
    } else if (outline == NECK) {
        const double neck = draw(seed, 2, 12), way = draw(seed, 5, 40);
        const double xy[][2] = {
            {0, 0},           {w, 0},        {w, half},
            {w + way, half},  {w + way, 0},  {2 * w, -0.1 * h},
            {2 * w, h},       {w + way, h},  {w + way, half + neck},
            {w, half + neck}, {w, h + neck}, {0, h}};
        for (size_t i = 0; i < 12; i++)
            put_xy(drawn, xy[i][0], xy[i][1]);
    } else if (outline == STRIP) {
        put_xy(drawn, 0, 0);
        put_xy(drawn, 3 * w, draw(seed, -30, 30));
        put_xy(drawn, 3 * w, 30 + h / 10);
        put_xy(drawn, 0, draw(seed, 12, 40));
    } else if (outline == TRIANGLE) {
        put_xy(drawn, 0, 0);
        put_xy(drawn, w, draw(seed, -20, 20));
        put_xy(drawn, part * w, h);
    } else { /* a corner that all but touches the other side */
        put_xy(drawn, 0, 0);
        put_xy(drawn, w, 0);
        put_xy(drawn, w, h);
        put_xy(drawn, part * w, draw(seed, 0.3, 8));
        put_xy(drawn, 0, h);
    }
    end_ring(drawn);
}

/* Away from the middle of the system: PROJ's inverse has that point itself
 * exactly, and those about it by a series, 1.5 mm off at 16.8 degrees. */
static const double outline_away_m = 1000;

static inline void draw_outline(struct drawn *drawn, uint64_t *seed,
                                enum outline outline)
{
    *drawn = (struct drawn){.count = 0};
    if (outline == COMB) {
        draw_comb(drawn, seed);
    } else if (outline == STAR) {
        const double r = draw(seed, 70, 150);
        draw_star(drawn, seed, (struct fw_xy){0, 0}, r, false);
        const size_t ponds = draw_count(seed, 0, 2);
        for (size_t i = 0; i < ponds; i++)
            draw_star(drawn, seed, (struct fw_xy){i ? -r / 3 : r / 3, 0},
                      draw(seed, 0.05, 0.25) * r, true);
    } else {
        draw_corners(drawn, seed, outline);
    }
    const double turn = draw(seed, 0, 2 * acos(-1));
    const double c = cos(turn), s = sin(turn);
    for (size_t i = 0; i < drawn->count; i++) {
        const struct fw_xy p = drawn->points[i];
        drawn->points[i] = (struct fw_xy){outline_away_m + p.x * c - p.y * s,
                                          outline_away_m + p.x * s + p.y * c};
    }
}

/* One of each outline after the other, in one of three places of the earth:
 * north, south, and across the 180th meridian. */
static inline struct real_fields draw_fields(uint64_t *seed, size_t count)
{
    static const char *const places[] = {
        "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m",
        "+proj=laea +lat_0=-46.2 +lon_0=168.9 +datum=WGS84 +units=m",
        "+proj=laea +lat_0=-16.8 +lon_0=180 +datum=WGS84 +units=m"};
    const char *place = places[draw_count(seed, 0, 2)];
    struct real_fields out = {.fields =
                                  calloc(count, sizeof(struct fw_field *)),
                              .fids = calloc(count, sizeof *out.fids),
                              .count = count,
                              .crs = calloc(strlen(place) + 1, 1)};
    struct fw_crs *crs = NULL;
    struct fw_error err;
    strcpy(out.crs, place);
    if (fw_crs_new(place, &crs, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < count; i++) {
        struct drawn drawn;
        draw_outline(&drawn, seed, (enum outline)(i % OUTLINES));
        const struct fw_shape shape = {.points = drawn.points,
                                       .point_count = drawn.count,
                                       .ring_start = drawn.starts,
                                       .ring_count = drawn.rings};
        if (fw_field_new(&shape, "", crs, &out.fields[i], &err))
            fail_msg("field %zu: %s", i, err.text);
        out.fids[i] = (long long)i + 1;
    }
    fw_crs_free(crs);
    return out;
}

/* ---- both ---- */

/* The maps of tests/data, then a place at random. */
enum { own_maps = invented_map_count + 1, drawn_fields = 3 * OUTLINES };

static inline struct real_fields own_fields(size_t map, uint64_t *seed)
{
    return map < invented_map_count ? read_invented(map)
                                    : draw_fields(seed, drawn_fields);
}

static inline const char *own_map(size_t map)
{
    return map < invented_map_count ? invented_maps[map] : "random";
}

#endif
