/* Straight lines across a field: where they stand, how long they are, and into
 * how many pieces they part it. */
#ifndef FW_LAYOUT_ACROSS_H
#define FW_LAYOUT_ACROSS_H

#include "figures/layout.h"
#include "random_plot.h"

static inline struct fw_point at(const struct plot *plot, size_t i)
{
    return plot->vertices[i].plane;
}

/* What lies before a line square to a way, by the ground's own corners and
 * where the line meets its sides. */
static inline double before_m2(const struct plot *plot, double deg, double u_m)
{
    const double c = cos(deg * PI / 180), s = sin(deg * PI / 180);
    long double twice = 0;
    for (size_t r = 0; r < plot->field.ring_count; r++)
        for (size_t i = plot->ring_start[r], j = plot->ring_start[r + 1] - 1;
             i < plot->ring_start[r + 1]; j = i++) {
            double u[2] = {at(plot, j).x_m * c + at(plot, j).y_m * s - u_m,
                           at(plot, i).x_m * c + at(plot, i).y_m * s - u_m};
            double v[2] = {at(plot, j).y_m * c - at(plot, j).x_m * s,
                           at(plot, i).y_m * c - at(plot, i).x_m * s};
            if (u[0] >= 0 && u[1] >= 0)
                continue;
            const double on = v[0] + (v[1] - v[0]) * u[0] / (u[0] - u[1]);
            for (int e = 0; e < 2; e++)
                if (u[e] > 0) {
                    u[e] = 0;
                    v[e] = on;
                }
            twice += (long double)(u[0] + u[1]) * (long double)(v[1] - v[0]);
        }
    return (double)(twice / 2);
}

struct hit {
    double v_m;
    size_t ring;
};

static inline int by_v(const void *left, const void *right)
{
    const struct hit *a = left, *b = right;
    return a->v_m < b->v_m ? -1 : a->v_m > b->v_m;
}

static inline size_t top(const size_t *under, size_t i)
{
    while (under[i] != i)
        i = under[i];
    return i;
}

/* By Euler: rings are what the pieces of fence hang on, and each fence that
 * closes a circle sets a piece off. */
static inline size_t pieces_of(const struct plot *plot, double deg, double u_m,
                               double *length_m)
{
    const double c = cos(deg * PI / 180), s = sin(deg * PI / 180);
    struct hit hits[most_points];
    size_t n = 0, under[most_rings], pieces = 1;
    for (size_t r = 0; r < plot->field.ring_count; r++) {
        under[r] = r;
        for (size_t i = plot->ring_start[r], j = plot->ring_start[r + 1] - 1;
             i < plot->ring_start[r + 1]; j = i++) {
            const double u0 = at(plot, j).x_m * c + at(plot, j).y_m * s - u_m;
            const double u1 = at(plot, i).x_m * c + at(plot, i).y_m * s - u_m;
            const double v0 = at(plot, j).y_m * c - at(plot, j).x_m * s;
            const double v1 = at(plot, i).y_m * c - at(plot, i).x_m * s;
            if ((u0 > 0) != (u1 > 0))
                hits[n++] = (struct hit){v0 + (v1 - v0) * u0 / (u0 - u1), r};
        }
    }
    qsort(hits, n, sizeof *hits, by_v);
    *length_m = 0;
    for (size_t i = 0; i + 1 < n; i += 2) {
        const size_t a = top(under, hits[i].ring);
        const size_t b = top(under, hits[i + 1].ring);
        *length_m += hits[i + 1].v_m - hits[i].v_m;
        pieces += a == b;
        under[a] = b;
    }
    return pieces;
}

static inline double place_across(const struct plot *plot, double deg,
                                  double m2)
{
    double low = -2000, high = 2000;
    for (int i = 0; i < 60; i++) {
        const double middle = (low + high) / 2;
        *(before_m2(plot, deg, middle) < m2 ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

#endif
