/* Ground made by hand: cells and lines by their corners. A corner that lies on
 * a side or a line of others becomes a vertex of these too, so that a map can
 * be written down as it is drawn. */
#ifndef FW_LAND_BY_HAND_H
#define FW_LAND_BY_HAND_H

#include "land/land.h"
#include "test.h"

#include <stdlib.h>
#include <string.h>

enum { hand_corners = 12 };

/* A cell or a line, before the corners of others are put in. */
struct hand_shape {
    int kind; /* fw_cell_kind, or fw_land_role */
    enum fw_feeds feeds[2];
    struct fw_land_work work;
    struct fw_point corners[hand_corners];
    size_t count;
};

struct hand {
    struct hand_shape *cells, *lines;
    size_t cell_count, line_count, cell_room, line_room;
    bool gate_given, water_given, park_given, come_given;
    struct fw_point gate, water, park, come;
    /* Filled by hand_map. */
    struct fw_point *points;
    size_t point_count;
    size_t *ring_vertices, *ring_start, *cell_ring, *line_vertices;
    enum fw_cell_kind *kinds;
    struct fw_land_map_line *map_lines;
};

static inline void *hand_more(void *items, size_t count, size_t *room,
                              size_t size)
{
    if (items && count < *room)
        return items;
    *room = *room ? 2 * *room : 16;
    void *more = realloc(items, *room * size);
    assert_non_null(more);
    return more;
}

static inline struct hand_shape *hand_cell(struct hand *hand,
                                           enum fw_cell_kind kind,
                                           const struct fw_point *corners,
                                           size_t count)
{
    hand->cells = hand_more(hand->cells, hand->cell_count, &hand->cell_room,
                            sizeof *hand->cells);
    struct hand_shape *cell = &hand->cells[hand->cell_count++];
    *cell = (struct hand_shape){.kind = (int)kind, .count = count};
    for (size_t i = 0; i < count; i++)
        cell->corners[i] = corners[i];
    return cell;
}

static inline void hand_box(struct hand *hand, enum fw_cell_kind kind, double x,
                            double y, double to_x, double to_y)
{
    const struct fw_point corners[] = {
        {x, y}, {to_x, y}, {to_x, to_y}, {x, to_y}};
    hand_cell(hand, kind, corners, 4);
}

/* Two reels a line, a post every 10 m, two strands. */
static inline struct fw_land_work hand_work(double length_m)
{
    return (struct fw_land_work){
        .reels = 2,
        .posts = (int)ceil(length_m / 10) + 1,
        .wire_m = 2 * length_m,
        .set_min = length_m / 40,
        .down_min = length_m / 50,
        .set_passes = 2,
        .down_passes = 3,
    };
}

static inline struct hand_shape *hand_line(struct hand *hand,
                                           enum fw_land_role role, double x,
                                           double y, double to_x, double to_y)
{
    hand->lines = hand_more(hand->lines, hand->line_count, &hand->line_room,
                            sizeof *hand->lines);
    struct hand_shape *line = &hand->lines[hand->line_count++];
    *line = (struct hand_shape){
        .kind = (int)role,
        .feeds = {FW_FEEDS_PERHAPS, FW_FEEDS_PERHAPS},
        .work = hand_work(hypot(to_x - x, to_y - y)),
        .corners = {{x, y}, {to_x, to_y}},
        .count = 2,
    };
    return line;
}

static inline void hand_gate(struct hand *hand, double x, double y)
{
    hand->gate_given = true;
    hand->gate = (struct fw_point){x, y};
}

static inline void hand_water(struct hand *hand, double x, double y)
{
    hand->water_given = true;
    hand->water = (struct fw_point){x, y};
}

static inline void hand_park(struct hand *hand, double x, double y)
{
    hand->park_given = true;
    hand->park = (struct fw_point){x, y};
}

static inline void hand_come(struct hand *hand, double x, double y)
{
    hand->come_given = true;
    hand->come = (struct fw_point){x, y};
}

static inline size_t hand_point(struct hand *hand, struct fw_point at)
{
    size_t i = 0;
    while (i < hand->point_count && hypot(hand->points[i].x_m - at.x_m,
                                          hand->points[i].y_m - at.y_m) > 1e-9)
        i++;
    if (i == hand->point_count)
        hand->points[hand->point_count++] = at;
    return i;
}

/* How far along a side a point lies, from 0 to 1; negative: not inside it. */
static inline double hand_along(struct fw_point a, struct fw_point b,
                                struct fw_point at)
{
    const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
    const double long_m = hypot(x, y);
    const double off_m = ((at.x_m - a.x_m) * y - (at.y_m - a.y_m) * x) / long_m;
    const double t =
        ((at.x_m - a.x_m) * x + (at.y_m - a.y_m) * y) / (long_m * long_m);
    return fabs(off_m) < 1e-9 && t > 1e-9 && t < 1 - 1e-9 ? t : -1;
}

/* The vertices of one side without its last one, in order. */
static inline size_t hand_side(const struct hand *hand, size_t from, size_t to,
                               size_t *out)
{
    const struct fw_point a = hand->points[from], b = hand->points[to];
    size_t count = 0;
    double last = 0;
    out[count++] = from;
    for (;;) {
        size_t next = SIZE_MAX;
        double least = 2;
        for (size_t i = 0; i < hand->point_count; i++) {
            const double t = hand_along(a, b, hand->points[i]);
            if (t > last && t < least) {
                least = t;
                next = i;
            }
        }
        if (next == SIZE_MAX)
            return count;
        out[count++] = next;
        last = least;
    }
}

static inline size_t hand_chain(struct hand *hand,
                                const struct hand_shape *shape, bool closed,
                                size_t *out)
{
    size_t count = 0;
    for (size_t i = 0; i + !closed < shape->count; i++)
        count +=
            hand_side(hand, hand_point(hand, shape->corners[i]),
                      hand_point(hand, shape->corners[(i + 1) % shape->count]),
                      out + count);
    if (!closed)
        out[count++] = hand_point(hand, shape->corners[shape->count - 1]);
    return count;
}

static inline void hand_points(struct hand *hand)
{
    const size_t most =
        hand_corners * (hand->cell_count + hand->line_count) + 1;
    hand->points = calloc(most, sizeof *hand->points);
    assert_non_null(hand->points);
    for (size_t c = 0; c < hand->cell_count; c++)
        for (size_t i = 0; i < hand->cells[c].count; i++)
            hand_point(hand, hand->cells[c].corners[i]);
    for (size_t l = 0; l < hand->line_count; l++)
        for (size_t i = 0; i < hand->lines[l].count; i++)
            hand_point(hand, hand->lines[l].corners[i]);
}

static inline size_t *hand_indexes(size_t count)
{
    size_t *made = calloc(count + 1, sizeof *made);
    assert_non_null(made);
    return made;
}

/* The map belongs to the hand. */
static inline struct fw_land_map hand_map(struct hand *hand)
{
    hand_points(hand);
    const size_t side = hand->point_count + 1;
    hand->cell_ring = hand_indexes(hand->cell_count + 1);
    hand->ring_start = hand_indexes(hand->cell_count + 1);
    hand->ring_vertices = hand_indexes(8 * side + 4 * side * hand->cell_count);
    hand->line_vertices = hand_indexes(side * (hand->line_count + 1));
    hand->kinds = calloc(hand->cell_count + 1, sizeof *hand->kinds);
    hand->map_lines = calloc(hand->line_count + 1, sizeof *hand->map_lines);
    assert_true(hand->kinds && hand->map_lines);
    for (size_t c = 0; c < hand->cell_count; c++) {
        const size_t first = hand->ring_start[c];
        hand->kinds[c] = (enum fw_cell_kind)hand->cells[c].kind;
        hand->ring_start[c + 1] =
            first + hand_chain(hand, &hand->cells[c], true,
                               hand->ring_vertices + first);
        hand->cell_ring[c + 1] = c + 1;
    }
    size_t *next = hand->line_vertices;
    for (size_t l = 0; l < hand->line_count; l++) {
        const struct hand_shape *from = &hand->lines[l];
        const size_t count = hand_chain(hand, from, false, next);
        hand->map_lines[l] = (struct fw_land_map_line){
            .role = (enum fw_land_role)from->kind,
            .vertices = next,
            .count = count,
            .feeds = {from->feeds[0], from->feeds[1]},
            .work = from->work,
        };
        next += count;
    }
    return (struct fw_land_map){
        .points = hand->points,
        .point_count = hand->point_count,
        .ring_vertices = hand->ring_vertices,
        .ring_start = hand->ring_start,
        .cell_ring = hand->cell_ring,
        .kinds = hand->kinds,
        .cell_count = hand->cell_count,
        .lines = hand->map_lines,
        .line_count = hand->line_count,
        .gate = hand->gate_given ? &hand->gate : NULL,
        .water = hand->water_given ? &hand->water : NULL,
        .park = hand->park_given ? &hand->park : NULL,
        .come = hand->come_given ? &hand->come : NULL,
    };
}

static inline void hand_release(struct hand *hand)
{
    free(hand->cells);
    free(hand->lines);
    free(hand->points);
    free(hand->ring_vertices);
    free(hand->ring_start);
    free(hand->cell_ring);
    free(hand->line_vertices);
    free(hand->kinds);
    free(hand->map_lines);
    *hand = (struct hand){0};
}

/* The land of fields drawn by hand, which are released. */
static inline void hand_land(struct hand *fields, size_t count,
                             struct fw_land *out)
{
    struct fw_land_map *maps = calloc(count, sizeof *maps);
    struct fw_error err = {0};
    assert_non_null(maps);
    for (size_t f = 0; f < count; f++)
        maps[f] = hand_map(&fields[f]);
    if (fw_land_new(maps, count, out, &err))
        fail_msg("%s", err.text);
    for (size_t f = 0; f < count; f++)
        hand_release(&fields[f]);
    free(maps);
}

/* ---- maps that several tests ask ---- */

/* Strips of 10 x 100 m from west to east; line k lies between strips k and
 * k + 1, drawn from the south. The gate is in the west side at 50 m. */
static inline struct hand hand_strips(size_t count)
{
    struct hand hand = {0};
    for (size_t k = 0; k < count; k++)
        hand_box(&hand, FW_CELL_PADDOCK, 10.0 * (double)k, 0,
                 10.0 * (double)(k + 1), 100);
    for (size_t k = 0; k + 1 < count; k++)
        hand_line(&hand, FW_LAND_MOVED, 10.0 * (double)(k + 1), 0,
                  10.0 * (double)(k + 1), 100);
    hand_gate(&hand, 0, 50);
    return hand;
}

/* Two blocks of four strips, 10 x 50 m each, parted by line 0 from west to
 * east. In the south lines 1 to 3 from the edge to the block line, in the north
 * lines 4 to 6 from the block line to the edge. Cells 0 to 3 lie in the south,
 * 4 to 7 in the north, each from the west. The gate is in the south-west. */
static inline struct hand hand_blocks(void)
{
    struct hand hand = {0};
    for (int block = 0; block < 2; block++)
        for (int k = 0; k < 4; k++)
            hand_box(&hand, FW_CELL_PADDOCK, 10 * k, 50 * block, 10 * (k + 1),
                     50 * (block + 1));
    hand_line(&hand, FW_LAND_STANDING, 0, 50, 40, 50);
    for (int block = 0; block < 2; block++)
        for (int k = 1; k < 4; k++)
            hand_line(&hand, FW_LAND_MOVED, 10 * k, 50 * block, 10 * k,
                      50 * (block + 1));
    hand_gate(&hand, 0, 25);
    return hand;
}

/* Four lines about a box, each from the edge to the next one: none can be set
 * first with both its ends tied. */
static inline struct hand hand_pinwheel(void)
{
    struct hand hand = {0};
    hand_box(&hand, FW_CELL_PADDOCK, 0, 0, 60, 40);
    hand_box(&hand, FW_CELL_PADDOCK, 60, 0, 100, 60);
    hand_box(&hand, FW_CELL_PADDOCK, 40, 60, 100, 100);
    hand_box(&hand, FW_CELL_PADDOCK, 0, 40, 40, 100);
    hand_box(&hand, FW_CELL_PADDOCK, 40, 40, 60, 60);
    hand_line(&hand, FW_LAND_MOVED, 0, 40, 60, 40);
    hand_line(&hand, FW_LAND_MOVED, 60, 0, 60, 60);
    hand_line(&hand, FW_LAND_MOVED, 100, 60, 40, 60);
    hand_line(&hand, FW_LAND_MOVED, 40, 100, 40, 40);
    return hand;
}

#endif
