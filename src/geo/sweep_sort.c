/* Sorting for the sweep: what is nearly in order already by insertion, what is
 * not by as many buckets as there are vertices first, and what crowds in few
 * buckets by merging, so that no input makes it slow. All compare indexes last,
 * so every machine has the same order. */
#include "geo/sweep.h"

#include <string.h>

/* Vertices that insertion may have in disorder before it is given up. */
enum { first_few = 64 };

static bool comes_before(const double *u, uint32_t a, uint32_t b)
{
    return u[a] < u[b] || (u[a] <= u[b] && a < b);
}

/* False as soon as more than so many steps a vertex were needed, but for the
 * first few; the array is then a permutation all the same. */
static bool insert(uint32_t *order, uint32_t count, const double *u,
                   size_t steps_a_vertex)
{
    size_t steps = 0;
    for (uint32_t i = 1; i < count; i++) {
        const uint32_t moved = order[i];
        uint32_t j = i;
        while (j > 0 && comes_before(u, moved, order[j - 1])) {
            order[j] = order[j - 1];
            j--;
        }
        order[j] = moved;
        steps += i - j;
        if (steps > steps_a_vertex * (i + first_few))
            return false;
    }
    return true;
}

static void merge(const uint32_t *from, uint32_t *to, uint32_t low,
                  uint32_t middle, uint32_t high, const double *u)
{
    uint32_t a = low, b = middle;
    for (uint32_t i = low; i < high; i++)
        to[i] = b >= high || (a < middle && !comes_before(u, from[b], from[a]))
                    ? from[a++]
                    : from[b++];
}

/* False when all stand at one place. The starts of the buckets stand where a
 * build will have the first crossings. */
static bool fill_buckets(struct fw_sweep *sweep)
{
    const uint32_t count = sweep->count;
    const double *u = sweep->u;
    uint32_t *start = sweep->first_crossing;
    double least = u[0], most = u[0];
    for (uint32_t i = 1; i < count; i++) {
        least = u[i] < least ? u[i] : least;
        most = u[i] > most ? u[i] : most;
    }
    const double a_metre = (count - 1) / (most - least);
    if (!(most > least) || !isfinite(a_metre))
        return false;
    memset(start, 0, (count + 1) * sizeof *start);
    for (uint32_t i = 0; i < count; i++)
        start[(uint32_t)((u[i] - least) * a_metre) + 1]++;
    for (uint32_t b = 1; b < count; b++)
        start[b] += start[b - 1];
    for (uint32_t i = 0; i < count; i++)
        sweep->order[start[(uint32_t)((u[i] - least) * a_metre)]++] = i;
    return true;
}

static void merge_all(struct fw_sweep *sweep)
{
    const uint32_t count = sweep->count;
    uint32_t *from = sweep->order, *to = sweep->spare;
    for (size_t width = 1; width < count; width *= 2) {
        for (size_t low = 0; low < count; low += 2 * width) {
            const size_t middle = low + width < count ? low + width : count;
            const size_t high =
                low + 2 * width < count ? low + 2 * width : count;
            merge(from, to, (uint32_t)low, (uint32_t)middle, (uint32_t)high,
                  sweep->u);
        }
        uint32_t *swap = from;
        from = to;
        to = swap;
    }
    if (from != sweep->order)
        memcpy(sweep->order, from, count * sizeof *from);
}

void fw_sweep__sort(struct fw_sweep *sweep)
{
    const size_t many = 24, few = 2; /* steps a vertex */
    const size_t steps = sweep->turns_far ? few : many;
    const uint32_t count = sweep->count;
    sweep->turns_far = !insert(sweep->order, count, sweep->u, steps);
    if (sweep->turns_far &&
        !(fill_buckets(sweep) && insert(sweep->order, count, sweep->u, many)))
        merge_all(sweep);
}

static bool end_before(struct fw_sweep_end a, struct fw_sweep_end b)
{
    return a.v < b.v || (a.v <= b.v && a.crossing < b.crossing);
}

static void insert_ends(struct fw_sweep_end *ends, uint32_t count)
{
    for (uint32_t i = 1; i < count; i++) {
        const struct fw_sweep_end moved = ends[i];
        uint32_t j = i;
        while (j > 0 && end_before(moved, ends[j - 1])) {
            ends[j] = ends[j - 1];
            j--;
        }
        ends[j] = moved;
    }
}

static void merge_ends(const struct fw_sweep_end *from, struct fw_sweep_end *to,
                       size_t low, size_t middle, size_t high)
{
    size_t a = low, b = middle;
    for (size_t i = low; i < high; i++)
        to[i] = b >= high || (a < middle && !end_before(from[b], from[a]))
                    ? from[a++]
                    : from[b++];
}

void fw_sweep__sort_ends(struct fw_sweep_end *ends, uint32_t count,
                         struct fw_sweep_end *spare)
{
    const size_t few = 16;
    for (size_t low = 0; low < count; low += few)
        insert_ends(ends + low,
                    (uint32_t)(low + few < count ? few : count - low));
    struct fw_sweep_end *from = ends, *to = spare;
    for (size_t width = few; width < count; width *= 2) {
        for (size_t low = 0; low < count; low += 2 * width) {
            const size_t middle = low + width < count ? low + width : count;
            const size_t high =
                low + 2 * width < count ? low + 2 * width : count;
            merge_ends(from, to, low, middle, high);
        }
        struct fw_sweep_end *swap = from;
        from = to;
        to = swap;
    }
    if (from != ends)
        memcpy(ends, from, count * sizeof *from);
}
