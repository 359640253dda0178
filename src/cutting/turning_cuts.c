/* Choosing the fences by dynamic programming.
 *
 * The ground behind each fence is given, so a fence whose one end is chosen
 * has no choice of the other: what is behind it grows evenly while that end
 * moves along an edge. Among the places for the one end, the fences of least
 * length in all are sought whose ends follow each other on both sides. Of one
 * cut's fences any two cross each other, so as the one end moves on, the other
 * moves back; those that may stand behind a given fence therefore follow each
 * other, and their best is a minimum over a window that slides. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/turning.h"
#include "geo/points.h"

#include <math.h>
#include <string.h>

enum { most_refined = 2 * FW_MOST_REACH + 1 };

enum fw_status fw_turning_init(struct fw_turning *turning, struct fw_error *err)
{
    const size_t cut_count = turning->cut_count;
    if (turning->place_count < most_refined)
        turning->place_count = most_refined;
    turning->chords =
        fw_alloc(cut_count * turning->place_count, sizeof *turning->chords);
    turning->chord_count = fw_alloc(cut_count, sizeof *turning->chord_count);
    turning->queue = fw_alloc(turning->place_count, sizeof *turning->queue);
    turning->path = fw_alloc(cut_count, sizeof *turning->path);
    if (turning->chords && turning->chord_count && turning->queue &&
        turning->path)
        return FW_OK;
    fw_turning_release(turning);
    return fw_fail_memory(err);
}

void fw_turning_release(struct fw_turning *turning)
{
    fw_free(turning->chords);
    fw_free(turning->chord_count);
    fw_free(turning->queue);
    fw_free(turning->path);
    *turning = (struct fw_turning){0};
}

double fw_turning_behind_m2(const struct fw_boundary *boundary,
                            const struct fw_turning_fence *chord)
{
    return boundary->fan_m2[boundary->count] -
           fw_boundary_fan_m2(boundary, chord->far) +
           fw_boundary_fan_m2(boundary, chord->near) +
           fw_point_cross(fw_boundary_point(boundary, chord->near),
                          fw_boundary_point(boundary, chord->far)) /
               2;
}

/* One end of a chord, and what is behind it with its other end at a node; the
 * node after the last one is the first one again. */
struct end {
    const struct fw_boundary *boundary;
    struct fw_boundary_station place;
    struct fw_point point;
    double fan_m2;
};

static struct end end_at(const struct fw_boundary *boundary,
                         struct fw_boundary_station place)
{
    return (struct end){boundary, place, fw_boundary_point(boundary, place),
                        fw_boundary_fan_m2(boundary, place)};
}

static double behind_node(const struct end *end, size_t node)
{
    const struct fw_boundary *boundary = end->boundary;
    const struct fw_point p =
        boundary->nodes[node < boundary->count ? node : 0].point;
    return boundary->fan_m2[boundary->count] - boundary->fan_m2[node] +
           end->fan_m2 + fw_point_cross(end->point, p) / 2;
}

/* t of the way along an edge, where what is behind falls from the node on. */
static bool make_chord(const struct end *end, size_t edge, double t,
                       struct fw_turning_fence *out)
{
    const struct fw_boundary *boundary = end->boundary;
    const struct fw_boundary_station far = {edge, t};
    if (!fw_boundary_sees(boundary, end->place, far))
        return false;
    const struct fw_point p = fw_boundary_point(boundary, far);
    *out = (struct fw_turning_fence){
        .near = end->place,
        .far = far,
        .near_m = fw_boundary_along_m(boundary, end->place),
        .far_m = fw_boundary_along_m(boundary, far),
        .length_m = fw_point_apart_m(p, end->point),
    };
    return true;
}

bool fw_turning_fence_at(const struct fw_turning *turning,
                         struct fw_boundary_station near, double behind_m2,
                         size_t from_edge, struct fw_turning_fence *out)
{
    const struct fw_boundary *boundary = turning->boundary;
    const struct end end = end_at(boundary, near);
    int way = 0;
    for (size_t edge = from_edge;
         edge >= turning->end && edge < boundary->count;) {
        const double most = behind_node(&end, edge);
        const double least = behind_node(&end, edge + 1);
        const bool may =
            boundary->nodes[edge].side != FW_INSIDE && least < most;
        if (may && behind_m2 >= least && behind_m2 <= most)
            return make_chord(&end, edge, (most - behind_m2) / (most - least),
                              out);
        if (way == 0)
            way = behind_m2 > most ? -1 : 1;
        if (way < 0 && edge == 0)
            return false;
        edge = way < 0 ? edge - 1 : edge + 1;
    }
    return false;
}

/* The first cut that has at least so much behind it. */
static size_t first_cut(const double *behind_m2, size_t count, double least)
{
    size_t low = 0, high = count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (behind_m2[middle] < least)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* All cuts' chords from one place. Two chords from one place to what they see
 * lie one behind the other, so each cut has one at most. */
static void add_chords(struct fw_turning *turning, const double *behind_m2,
                       struct fw_boundary_station near)
{
    const struct fw_boundary *boundary = turning->boundary;
    const struct end end = end_at(boundary, near);
    double least = behind_node(&end, boundary->count);
    for (size_t edge = boundary->count; edge-- > turning->end;) {
        const double most = behind_node(&end, edge);
        if (boundary->nodes[edge].side != FW_INSIDE && least < most)
            for (size_t k = first_cut(behind_m2, turning->cut_count, least);
                 k < turning->cut_count && behind_m2[k] <= most; k++) {
                struct fw_turning_fence *chords =
                    turning->chords + k * turning->place_count;
                const size_t n = turning->chord_count[k];
                const bool has = n > 0 && chords[n - 1].near.t == near.t &&
                                 chords[n - 1].near.edge == near.edge;
                if (!has && make_chord(&end, edge,
                                       (most - behind_m2[k]) / (most - least),
                                       &chords[n]))
                    turning->chord_count[k] = n + 1;
            }
        least = most;
    }
}

/* The best of the cut before for each chord of cut k. */
static void reach(struct fw_turning *turning, size_t k, double gap_m)
{
    struct fw_turning_fence *chords =
        turning->chords + k * turning->place_count;
    const struct fw_turning_fence *last = chords - turning->place_count;
    const size_t last_count = turning->chord_count[k - 1];
    size_t *queue = turning->queue;
    size_t head = 0, tail = 0, next = 0;
    for (size_t j = 0; j < turning->chord_count[k]; j++) {
        while (next < last_count &&
               last[next].near_m + gap_m <= chords[j].near_m) {
            while (tail > head &&
                   last[queue[tail - 1]].sum_m > last[next].sum_m)
                tail--;
            queue[tail++] = next++;
        }
        while (head < tail && last[queue[head]].far_m - gap_m < chords[j].far_m)
            head++;
        chords[j].before = head < tail ? queue[head] : 0;
        chords[j].sum_m = (head < tail ? last[queue[head]].sum_m : HUGE_VAL) +
                          chords[j].length_m;
    }
}

static bool choose(struct fw_turning *turning, double gap_m)
{
    for (size_t j = 0; j < turning->chord_count[0]; j++)
        turning->chords[j].sum_m = turning->chords[j].length_m;
    for (size_t k = 1; k < turning->cut_count; k++)
        reach(turning, k, gap_m);
    size_t k = turning->cut_count - 1;
    const struct fw_turning_fence *chords =
        turning->chords + k * turning->place_count;
    size_t best = 0;
    for (size_t j = 1; j < turning->chord_count[k]; j++)
        if (chords[j].sum_m < chords[best].sum_m)
            best = j;
    if (turning->chord_count[k] == 0 || isinf(chords[best].sum_m))
        return false;
    turning->line_m = chords[best].sum_m;
    for (;; k--) {
        turning->path[k] = turning->chords[k * turning->place_count + best];
        best = turning->path[k].before;
        if (k == 0)
            return true;
    }
}

bool fw_turning_seek(struct fw_turning *turning, const double *behind_m2)
{
    const struct fw_boundary *boundary = turning->boundary;
    const size_t places = turning->place_count;
    memset(turning->chord_count, 0,
           turning->cut_count * sizeof *turning->chord_count);
    struct fw_boundary_station place = {0, 0};
    for (size_t i = 0; i < places; i++) {
        const double along_m = boundary->along_m[turning->end] *
                               ((double)i + 0.5) / (double)places;
        place = fw_boundary_at(boundary, along_m, place.edge);
        if (boundary->nodes[place.edge].side != FW_INSIDE)
            add_chords(turning, behind_m2, place);
    }
    return choose(turning, 0);
}

static void add_near(struct fw_turning *turning, size_t k, double behind_m2,
                     double step_m, int reach)
{
    const struct fw_boundary *boundary = turning->boundary;
    const struct fw_turning_fence *known = &turning->path[k];
    struct fw_turning_fence *chords =
        turning->chords + k * turning->place_count;
    const double most_m = boundary->along_m[turning->end];
    size_t n = 0;
    for (int i = -reach; i <= reach; i++) {
        const double along_m = known->near_m + step_m * i;
        if (!(along_m >= 0) || along_m > most_m)
            continue;
        const struct fw_boundary_station near =
            fw_boundary_at(boundary, along_m, known->near.edge);
        if (near.edge < turning->end &&
            boundary->nodes[near.edge].side != FW_INSIDE)
            n += fw_turning_fence_at(turning, near, behind_m2, known->far.edge,
                                     &chords[n]);
    }
    turning->chord_count[k] = n;
}

bool fw_turning_refine(struct fw_turning *turning, const double *behind_m2,
                       double step_m, int reach, double gap_m)
{
    for (size_t k = 0; k < turning->cut_count; k++)
        add_near(turning, k, behind_m2[k], step_m, reach);
    return choose(turning, gap_m);
}
