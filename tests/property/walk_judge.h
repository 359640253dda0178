/* Shortest ways the slow way: a graph of all corners that see each other, over
 * every wall for every pair, and sums over a net of points. */
#ifndef FW_WALK_JUDGE_H
#define FW_WALK_JUDGE_H

#include "geo/geo.h"
#include "unit/test.h"

struct walk_wall {
    struct fw_point a, b;
};

struct walk_judge {
    struct walk_wall *walls; /* what stands in the way */
    size_t wall_count;
    struct walk_wall *edges; /* of the ground; those are walls too */
    size_t edge_count;
    struct fw_point *nodes; /* about which a way can turn; the first is the
                               place that is walked to */
    double *walked_m;
    size_t node_count;
};

static inline double judge_cross(struct fw_point a, struct fw_point b,
                                 struct fw_point c)
{
    return (b.x_m - a.x_m) * (c.y_m - a.y_m) -
           (b.y_m - a.y_m) * (c.x_m - a.x_m);
}

static inline bool judge_is_inside(const struct walk_judge *judge,
                                   struct fw_point at)
{
    bool inside = false;
    for (size_t i = 0; i < judge->edge_count; i++) {
        const struct fw_point a = judge->edges[i].a, b = judge->edges[i].b;
        if ((a.y_m > at.y_m) != (b.y_m > at.y_m) &&
            at.x_m <
                a.x_m + (at.y_m - a.y_m) * (b.x_m - a.x_m) / (b.y_m - a.y_m))
            inside = !inside;
    }
    return inside;
}

static inline bool judge_crosses(const struct walk_wall *walls, size_t count,
                                 struct fw_point p, struct fw_point q)
{
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = walls[i].a, b = walls[i].b;
        if (judge_cross(p, q, a) * judge_cross(p, q, b) < 0 &&
            judge_cross(a, b, p) * judge_cross(a, b, q) < 0)
            return true;
    }
    return false;
}

static inline bool judge_sees(const struct walk_judge *judge, struct fw_point p,
                              struct fw_point q)
{
    const struct fw_point middle = {(p.x_m + q.x_m) / 2, (p.y_m + q.y_m) / 2};
    if (judge_crosses(judge->edges, judge->edge_count, p, q) ||
        judge_crosses(judge->walls, judge->wall_count, p, q))
        return false;
    if (judge->edge_count == 0 || judge_is_inside(judge, middle))
        return true;
    /* Along a side of the ground rounding decides. */
    for (size_t i = 0; i < judge->edge_count; i++)
        if (fw_segment_distance_m(middle, judge->edges[i].a,
                                  judge->edges[i].b) < 1e-9)
            return true;
    return false;
}

static inline void judge_walk(struct walk_judge *judge)
{
    bool *done = calloc(judge->node_count, sizeof *done);
    judge->walked_m = calloc(judge->node_count, sizeof *judge->walked_m);
    for (size_t i = 1; i < judge->node_count; i++)
        judge->walked_m[i] = HUGE_VAL;
    for (size_t turn = 0; turn < judge->node_count; turn++) {
        size_t next = judge->node_count;
        for (size_t i = 0; i < judge->node_count; i++)
            if (!done[i] && (next == judge->node_count ||
                             judge->walked_m[i] < judge->walked_m[next]))
                next = i;
        if (judge->walked_m[next] == HUGE_VAL)
            break;
        done[next] = true;
        for (size_t i = 0; i < judge->node_count; i++) {
            const double m =
                judge->walked_m[next] +
                hypot(judge->nodes[i].x_m - judge->nodes[next].x_m,
                      judge->nodes[i].y_m - judge->nodes[next].y_m);
            if (m < judge->walked_m[i] &&
                judge_sees(judge, judge->nodes[next], judge->nodes[i]))
                judge->walked_m[i] = m;
        }
    }
    free(done);
}

struct judge_turn {
    double m;
    size_t node;
};

static inline int judge_by_m(const void *a, const void *b)
{
    const double x = ((const struct judge_turn *)a)->m;
    const double y = ((const struct judge_turn *)b)->m;
    return (x > y) - (x < y);
}

/* From any point of the ground. */
static inline double judge_walk_m(const struct walk_judge *judge,
                                  struct fw_point at)
{
    struct judge_turn *turns = calloc(judge->node_count, sizeof *turns);
    for (size_t i = 0; i < judge->node_count; i++)
        turns[i] = (struct judge_turn){judge->walked_m[i] +
                                           hypot(judge->nodes[i].x_m - at.x_m,
                                                 judge->nodes[i].y_m - at.y_m),
                                       i};
    qsort(turns, judge->node_count, sizeof *turns, judge_by_m);
    double found_m = HUGE_VAL;
    for (size_t i = 0; i < judge->node_count && found_m == HUGE_VAL; i++)
        if (judge_sees(judge, judge->nodes[turns[i].node], at))
            found_m = turns[i].m;
    free(turns);
    return found_m;
}

static inline void judge_release(struct walk_judge *judge)
{
    free(judge->walls);
    free(judge->edges);
    free(judge->nodes);
    free(judge->walked_m);
}

static inline void judge_put_edges(struct walk_judge *judge,
                                   const struct fw_point *points,
                                   const size_t *ring_start, size_t ring_count)
{
    judge->edges = calloc(ring_start[ring_count], sizeof *judge->edges);
    for (size_t r = 0; r < ring_count; r++)
        for (size_t i = ring_start[r]; i < ring_start[r + 1]; i++)
            judge->edges[judge->edge_count++] = (struct walk_wall){
                points[i],
                points[i + 1 < ring_start[r + 1] ? i + 1 : ring_start[r]]};
}

static inline int judge_by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Mean over the ground within some of its rings, and the longest that is met:
 * in rows, so many places on each. */
static inline void judge_mean(const struct walk_judge *judge,
                              const struct walk_judge *within, size_t rows,
                              size_t places, double *mean_m, double *most_m)
{
    double low = HUGE_VAL, high = -HUGE_VAL, m2 = 0, m3 = 0;
    double *x = calloc(within->edge_count, sizeof *x);
    *most_m = 0;
    for (size_t i = 0; i < within->edge_count; i++) {
        low = fmin(low, within->edges[i].a.y_m);
        high = fmax(high, within->edges[i].a.y_m);
    }
    for (size_t row = 0; row < rows; row++) {
        const double y =
            low + (high - low) * ((double)row + 0.5) / (double)rows;
        size_t count = 0;
        for (size_t i = 0; i < within->edge_count; i++) {
            const struct fw_point a = within->edges[i].a;
            const struct fw_point b = within->edges[i].b;
            if ((a.y_m > y) != (b.y_m > y))
                x[count++] =
                    a.x_m + (y - a.y_m) * (b.x_m - a.x_m) / (b.y_m - a.y_m);
        }
        qsort(x, count, sizeof *x, judge_by_size);
        for (size_t k = 0; k + 1 < count; k += 2) {
            const double step = (x[k + 1] - x[k]) / (double)places;
            for (size_t i = 0; i < places; i++) {
                const double m = judge_walk_m(
                    judge,
                    (struct fw_point){x[k] + step * ((double)i + 0.5), y});
                m2 += step;
                m3 += step * m;
                *most_m = fmax(*most_m, m);
            }
        }
    }
    *mean_m = m3 / m2;
    free(x);
}

/* The same, straight, whatever lies between. */
static inline double judge_straight_m(const struct walk_judge *within,
                                      struct fw_point to, size_t rows,
                                      size_t places)
{
    struct walk_judge none = {.nodes = &to, .node_count = 1};
    double zero = 0, mean_m, most_m;
    none.walked_m = &zero;
    judge_mean(&none, within, rows, places, &mean_m, &most_m);
    return mean_m;
}

#endif
