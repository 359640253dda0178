/* Grazing of random ground in random order by random habits, without a map. */
#ifndef FW_RANDOM_MOVES_H
#define FW_RANDOM_MOVES_H

#include "unit/moves_by_hand.h"

enum { most_lines = 64, most_cells = 64, most_doors = 256 };

static uint64_t seed, round_seed;

static inline double draw(double least, double most)
{
    seed ^= seed >> 12;
    seed ^= seed << 25;
    seed ^= seed >> 27;
    return least +
           (most - least) * ((double)((seed * 2685821657736338717u) >> 11) /
                             9007199254740992.0);
}

static inline size_t draw_count(size_t least, size_t most)
{
    return least + (size_t)(draw(0, 1) * (double)(most - least + 1));
}

static inline bool toss(double likely)
{
    return draw(0, 1) < likely;
}

/* ---- ground ---- */

static inline enum fw_feeds draw_feeds(void)
{
    return (enum fw_feeds)draw_count(0, 2);
}

/* Cut from side to side, each half again. */
static inline void cut(struct hand *hand, double x, double y, double to_x,
                       double to_y, size_t deep)
{
    const double wide = to_x - x, tall = to_y - y;
    if (deep == 0 || (wide < 12 && tall < 12) || toss(0.1)) {
        hand_box(hand, FW_CELL_PADDOCK, x, y, to_x, to_y);
        return;
    }
    const bool upright = wide > tall;
    const double at =
        upright ? x + draw(0.3, 0.7) * wide : y + draw(0.3, 0.7) * tall;
    const enum fw_land_role role =
        deep > 3 && toss(0.7) ? FW_LAND_STANDING : FW_LAND_MOVED;
    const double ends[4] = {upright ? at : x, upright ? y : at,
                            upright ? at : to_x, upright ? to_y : at};
    const int way = toss(0.5) ? 2 : 0;
    struct hand_shape *line = hand_line(hand, role, ends[way], ends[way + 1],
                                        ends[2 - way], ends[3 - way]);
    line->feeds[0] = draw_feeds();
    line->feeds[1] = draw_feeds();
    line->work.reels = (int)draw_count(1, 4);
    if (upright) {
        cut(hand, x, y, at, to_y, deep - 1);
        cut(hand, at, y, to_x, to_y, deep - 1);
    } else {
        cut(hand, x, y, to_x, at, deep - 1);
        cut(hand, x, at, to_x, to_y, deep - 1);
    }
}

static inline void put_in(const struct hand_shape *cell, struct fw_point *out)
{
    *out = (struct fw_point){draw(cell->corners[0].x_m, cell->corners[2].x_m),
                             draw(cell->corners[0].y_m, cell->corners[2].y_m)};
}

/* One cell may be a lane, with lines that stand all the time; where it is told
 * the water is in some cell, more often in the lane. */
static inline struct hand draw_field(void)
{
    struct hand hand = {0};
    const size_t deep = draw_count(1, 5);
    cut(&hand, 0, 0, draw(40, 160), draw(40, 160), deep);
    const size_t lane = draw_count(0, hand.cell_count - 1);
    const bool has_lane = hand.cell_count > 2 && toss(0.4);
    if (has_lane) {
        hand.cells[lane].kind = FW_CELL_LANE;
        for (size_t l = 0; l < hand.line_count; l++)
            for (int e = 0; e < 4; e++)
                if (hand_along(hand.lines[l].corners[0],
                               hand.lines[l].corners[1],
                               (struct fw_point){
                                   (hand.cells[lane].corners[e].x_m +
                                    hand.cells[lane].corners[(e + 1) % 4].x_m) /
                                       2,
                                   (hand.cells[lane].corners[e].y_m +
                                    hand.cells[lane].corners[(e + 1) % 4].y_m) /
                                       2}) > 0)
                    hand.lines[l].kind = FW_LAND_LANE;
    }
    const size_t gate = draw_count(0, hand.cell_count - 1);
    const size_t water =
        has_lane && toss(0.7) ? lane : draw_count(0, hand.cell_count - 1);
    hand.gate_given = toss(0.9);
    put_in(&hand.cells[has_lane && toss(0.7) ? lane : gate], &hand.gate);
    hand.water_given = toss(0.8);
    put_in(&hand.cells[water], &hand.water);
    hand.park_given = toss(0.5);
    hand.come_given = toss(0.5);
    hand.come = (struct fw_point){draw(0, 160), draw(0, 160)};
    return hand;
}

/* ---- order and habits ---- */

struct tried {
    struct made made;
    struct fw_time_stay stays[2 * most_cells];
    size_t count;
    bool stands[most_lines], grazed[most_cells];
    struct fw_time_start start;
    int visit_of[2 * most_cells]; /* by stay */
};

static inline bool adjoins(const struct fw_land *land, size_t cell,
                           const bool *taken)
{
    for (size_t d = 0; d < land->door_count; d++)
        if ((land->doors[d].a == cell && taken[land->doors[d].b]) ||
            (land->doors[d].b == cell && taken[land->doors[d].a]))
            return true;
    return false;
}

/* The paddocks of a field in an order in which each adjoins one before it, or
 * in any. */
static inline size_t draw_order(const struct fw_land *land, size_t field,
                                size_t *out)
{
    const struct fw_land_field *of = &land->fields[field];
    bool taken[most_cells] = {false};
    const bool connected = toss(0.7);
    size_t count = 0;
    while (count < of->paddock_count) {
        size_t ready[most_cells], n = 0;
        for (size_t k = 0; k < of->paddock_count; k++)
            if (!taken[of->first_paddock + k] &&
                (!connected || count == 0 ||
                 adjoins(land, of->first_paddock + k, taken)))
                ready[n++] = of->first_paddock + k;
        for (size_t k = 0; n == 0 && k < of->paddock_count; k++)
            if (!taken[of->first_paddock + k])
                ready[n++] = of->first_paddock + k;
        out[count] = ready[draw_count(0, n - 1)];
        taken[out[count++]] = true;
    }
    return count;
}

/* Fields one after the other; some in two parts, some twice. */
static inline void draw_stays(struct tried *tried)
{
    const struct fw_land *land = &tried->made.land;
    size_t order[4][most_cells], length[4], done[4] = {0};
    int day = (int)draw_count(0, 400);
    for (size_t f = 0; f < land->field_count; f++)
        length[f] = draw_order(land, f, order[f]);
    size_t left = 0;
    for (size_t f = 0; f < land->field_count; f++)
        left += length[f];
    tried->count = 0;
    size_t field = 0;
    int visit = -1;
    for (size_t last = FW_NONE; left > 0;
         field = (field + 1) % land->field_count) {
        while (done[field] == length[field])
            field = (field + 1) % land->field_count;
        const size_t rest = length[field] - done[field];
        const size_t part =
            land->field_count > 1 && toss(0.3) ? draw_count(1, rest) : rest;
        visit += field != last;
        last = field;
        for (size_t k = 0; k < part; k++, left--) {
            tried->visit_of[tried->count] = visit;
            struct fw_time_stay *stay = &tried->stays[tried->count++];
            stay->cell = order[field][done[field]++];
            stay->enter = day;
            stay->leave = day += (int)draw_count(1, 3);
            day += toss(0.05);
        }
    }
}

/* Are both stays, and all between them, in one field? */
static inline bool in_one_field(const struct tried *tried, size_t from,
                                size_t to)
{
    const struct fw_land *land = &tried->made.land;
    bool one = true;
    for (size_t k = from; k < to; k++)
        one &= land->cells[tried->stays[k].cell].field ==
               land->cells[tried->stays[k + 1].cell].field;
    return one;
}

/* A second round over what the first one grazed; some of it waits. Without back
 * fences nothing that was grazed would rest. */
static inline void draw_round(struct tried *tried)
{
    const struct fw_land *land = &tried->made.land;
    const size_t first = tried->count;
    int day = tried->stays[first - 1].leave;
    int visit = tried->visit_of[first - 1];
    size_t last = FW_NONE;
    for (size_t k = 0; k < first; k++) {
        const size_t cell = tried->stays[k].cell;
        if (toss(0.2) || cell == tried->stays[tried->count - 1].cell)
            continue;
        visit += land->cells[cell].field != last;
        last = land->cells[cell].field;
        tried->visit_of[tried->count] = visit;
        tried->stays[tried->count++] = (struct fw_time_stay){
            .cell = cell, .enter = day, .leave = day + (int)draw_count(1, 3)};
        day = tried->stays[tried->count - 1].leave + toss(0.05);
    }
}

static inline void draw_habits(struct fw_habits *habits, int day)
{
    *habits = hand_habits(toss(0.5), toss(0.5));
    habits->all_stand = toss(0.2);
    habits->trough = toss(0.5);
    habits->far_hooked = toss(0.3);
    habits->opening_m = draw(3, 9);
    habits->way_m = draw(1, 6);
    if (toss(0.4)) {
        habits->young_from = day + (int)draw_count(0, 5);
        habits->young_to = habits->young_from + (int)draw_count(1, 20);
    }
    if (toss(0.3)) {
        habits->drift_from = day + (int)draw_count(0, 5);
        habits->drift_to = habits->drift_from + (int)draw_count(1, 20);
    }
}

/* ---- all of it ---- */

static inline void make_all(struct tried *tried)
{
    struct made *made = &tried->made;
    struct fw_error err = {0};
    tried->start = (struct fw_time_start){.stands = tried->stands,
                                          .grazed = tried->grazed};
    made->start = &tried->start;
    if (fw_time_make(&made->land, tried->stays, tried->count, &made->habits,
                     made->start, &made->time, &err) ||
        fw_time_judge(&made->land, &made->time, &made->habits, made->start,
                      &made->sums, &err))
        fail_msg("%s", err.text);
}

static inline void begin(struct tried *tried)
{
    struct hand fields[3] = {0};
    *tried = (struct tried){0};
    const size_t count = draw_count(1, 3);
    for (size_t f = 0; f < count; f++)
        do {
            hand_release(&fields[f]);
            fields[f] = draw_field();
        } while (fields[f].cell_count > most_cells / 3);
    hand_land(fields, count, &tried->made.land);
    draw_stays(tried);
    draw_habits(&tried->made.habits, tried->stays[0].enter);
    if (tried->made.habits.back_fence && toss(0.6))
        draw_round(tried);
}

static inline int tell_seed(void **state)
{
    (void)state;
    print_message("# FW_SEED=%llu\n", (unsigned long long)round_seed);
    return 0;
}

#endif
