/* Paddocks from cuts, without an overlay library: every vertex is labelled
 * with its paddock, so that a side meets exactly the cuts between the labels
 * of its ends, whatever rounding does; along each cut the crossings where the
 * field begins and those where it ends are sorted and paired, the first with
 * the first and so on. There are as many of the one as of the other, since
 * every ring comes back to its start, so pairing cannot fail. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "geo/sweep.h"

#include <string.h>

static const size_t most_crossings = 1000000000;

static enum fw_status check(const double *position_m, size_t count,
                            struct fw_error *err)
{
    if (count > most_crossings)
        return fw_fail(err, FW_EUSAGE, "%zu cuts; expected at most %zu", count,
                       most_crossings);
    for (size_t k = 0; k < count; k++)
        if (!isfinite(position_m[k]) ||
            (k > 0 && !(position_m[k] >= position_m[k - 1])))
            return fw_fail(err, FW_EUSAGE,
                           "cut %zu is at %g m; expected rising positions", k,
                           position_m[k]);
    return FW_OK;
}

/* The arrays of one entry a cut grow together. */
static enum fw_status reserve_cuts(struct fw_sweep *sweep, size_t cuts,
                                   struct fw_error *err)
{
    uint32_t **const arrays[] = {&sweep->whole_first, &sweep->end_start,
                                 &sweep->entering_count, &sweep->leaving_count};
    size_t room = 0;
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++) {
        room = sweep->cut_capacity;
        const enum fw_status status = fw_array_reserve(
            arrays[i], &room, cuts + 1, sizeof **arrays[i], err);
        if (status)
            return status;
    }
    sweep->cut_capacity = room;
    return FW_OK;
}

static void label_vertices(struct fw_sweep *sweep, const double *position_m,
                           size_t cuts)
{
    const double *u = sweep->u;
    const double snap_m = sweep->snap_m;
    uint32_t *on_cut = sweep->spare;
    uint32_t on_count = 0, paddock = 0;
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t vertex = sweep->order[i];
        while (paddock < cuts && position_m[paddock] - u[vertex] <= snap_m)
            paddock++;
        sweep->label[vertex] = paddock;
        if (paddock > 0 && u[vertex] - position_m[paddock - 1] <= snap_m)
            on_cut[on_count++] = vertex;
    }
    for (uint32_t i = 0; i < on_count; i++) {
        uint32_t *label = &sweep->label[on_cut[i]];
        if (fw_sweep__stays(sweep, on_cut[i], position_m[*label - 1]))
            --*label;
    }
}

/* Number the crossings along each ring; false when there are too many. */
static bool number_crossings(struct fw_sweep *sweep)
{
    const uint32_t *label = sweep->label;
    size_t total = 0;
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t here = label[i], there = label[sweep->next[i]];
        sweep->first_crossing[i] = (uint32_t)total;
        total += here < there ? there - here : here - there;
        if (total > most_crossings)
            return false;
    }
    sweep->first_crossing[sweep->count] = (uint32_t)total;
    return true;
}

static enum fw_status reserve_work(struct fw_sweep *sweep, struct fw_error *err)
{
    const size_t crossings = sweep->first_crossing[sweep->count];
    const size_t vertices = sweep->count + 2 * crossings;
    const struct {
        void *array;
        size_t *capacity, wanted, size;
    } rooms[] = {
        {&sweep->crossings, &sweep->crossing_capacity, crossings,
         sizeof *sweep->crossings},
        {&sweep->entering, &sweep->entering_capacity, crossings / 2,
         sizeof *sweep->entering},
        {&sweep->leaving, &sweep->leaving_capacity, crossings / 2,
         sizeof *sweep->leaving},
        {&sweep->spare_ends, &sweep->spare_end_capacity, crossings / 2,
         sizeof *sweep->spare_ends},
        {&sweep->rings, &sweep->ring_capacity, vertices / 3 + 1,
         sizeof *sweep->rings},
        {&sweep->shuffle, &sweep->shuffle_capacity, vertices,
         sizeof *sweep->shuffle},
    };
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof rooms / sizeof *rooms; i++)
        status = fw_array_reserve(rooms[i].array, rooms[i].capacity,
                                  rooms[i].wanted, rooms[i].size, err);
    return status;
}

/* The arrays of one entry a paddock grow together. */
static enum fw_status reserve_paddocks(struct fw_partition *out,
                                       size_t paddocks, struct fw_error *err)
{
    size_t room = out->paddock_capacity, same = room, also = room;
    enum fw_status status =
        fw_array_reserve(&out->paddock_piece, &room, paddocks + 1,
                         sizeof *out->paddock_piece, err);
    if (!status)
        status = fw_array_reserve(&out->paddock_m2, &same, paddocks + 1,
                                  sizeof *out->paddock_m2, err);
    if (!status)
        status = fw_array_reserve(&out->greatest_m2, &also, paddocks + 1,
                                  sizeof *out->greatest_m2, err);
    if (!status)
        out->paddock_capacity = room;
    return status;
}

/* All the room that a build can need, so that it cannot fail half way. Each
 * crossing stands once in either paddock; a ring has three vertices. */
static enum fw_status reserve_out(const struct fw_sweep *sweep, size_t cuts,
                                  struct fw_partition *out,
                                  struct fw_error *err)
{
    const size_t crossings = sweep->first_crossing[sweep->count];
    const size_t vertices = sweep->count + 2 * crossings;
    const struct {
        void *array;
        size_t *capacity, wanted, size;
    } rooms[] = {
        {&out->added, &out->added_capacity, crossings, sizeof *out->added},
        {&out->ring_vertices, &out->ring_vertex_capacity, vertices,
         sizeof *out->ring_vertices},
        {&out->ring_start, &out->ring_capacity, vertices / 3 + 1,
         sizeof *out->ring_start},
        {&out->piece_ring, &out->piece_capacity, vertices / 3 + 1,
         sizeof *out->piece_ring},
        {&out->segments, &out->segment_capacity, crossings,
         sizeof *out->segments},
        {&out->cut_start, &out->cut_capacity, cuts + 1, sizeof *out->cut_start},
    };
    enum fw_status status = reserve_paddocks(out, cuts + 1, err);
    for (size_t i = 0; !status && i < sizeof rooms / sizeof *rooms; i++)
        status = fw_array_reserve(rooms[i].array, rooms[i].capacity,
                                  rooms[i].wanted, rooms[i].size, err);
    return status;
}

/* How many fences stand on each cut: a side that rises from label a to b
 * begins the field on the cuts a to b - 1. */
static void count_ends(struct fw_sweep *sweep, size_t cuts)
{
    uint32_t *begun = sweep->entering_count;
    memset(begun, 0, (cuts + 1) * sizeof *begun);
    for (uint32_t i = 0; i < sweep->count; i++) {
        const uint32_t here = sweep->label[i];
        const uint32_t there = sweep->label[sweep->next[i]];
        if (here < there) {
            begun[here]++;
            begun[there]--; /* wraps, and the sum below wraps back */
        }
    }
    uint32_t fences = 0, total = 0;
    for (size_t k = 0; k < cuts; k++) {
        sweep->end_start[k] = total;
        fences += begun[k];
        total += fences;
    }
    sweep->end_start[cuts] = total;
    memset(begun, 0, (cuts + 1) * sizeof *begun);
    memset(sweep->leaving_count, 0, (cuts + 1) * sizeof *begun);
}

/* A crossing at a vertex is that vertex, not a new one beside it. */
static uint32_t crossing_vertex(const struct fw_sweep *sweep, uint32_t i,
                                double u_m, struct fw_partition *out, double *v)
{
    const uint32_t on = fw_sweep__end_on(sweep, i, u_m);
    if (on != FW_SWEEP_NONE) {
        *v = sweep->v[on];
        return fw_sweep__name(sweep, on);
    }
    const uint32_t side = fw_sweep__side(sweep, i), end = sweep->after[side];
    const double along = fw_sweep__along(sweep, side, u_m);
    const struct fw_point a = sweep->points[side], b = sweep->points[end];
    *v = fw_sweep__between(sweep->v[side], sweep->v[end], along);
    out->added[out->added_count] = (struct fw_cut_vertex){
        .plane = {fw_sweep__between(a.x_m, b.x_m, along),
                  fw_sweep__between(a.y_m, b.y_m, along)},
        .edge = side,
        .t = along,
    };
    return sweep->given + (uint32_t)out->added_count++;
}

static void cross_side(struct fw_sweep *sweep, uint32_t side,
                       const double *position_m, struct fw_partition *out)
{
    const uint32_t first = sweep->first_crossing[side];
    const uint32_t end = sweep->first_crossing[side + 1];
    const uint32_t label = sweep->label[side];
    const bool rising = label < sweep->label[sweep->next[side]];
    uint32_t *filled = rising ? sweep->entering_count : sweep->leaving_count;
    struct fw_sweep_end *ends = rising ? sweep->entering : sweep->leaving;
    sweep->crossed[sweep->ring_of[side]] = true;
    for (uint32_t i = first; i < end; i++) {
        const uint32_t cut =
            rising ? label + (i - first) : label - 1 - (i - first);
        double v;
        const uint32_t vertex =
            crossing_vertex(sweep, side, position_m[cut], out, &v);
        sweep->crossings[i] = (struct fw_sweep_crossing){
            .vertex = vertex,
            .after = i + 1 < end ? FW_SWEEP_NONE : sweep->next[side],
        };
        ends[sweep->end_start[cut] + filled[cut]++] =
            (struct fw_sweep_end){v, i};
    }
}

static bool one_place(const struct fw_sweep *sweep, uint32_t a, uint32_t b)
{
    return a == b || (a < sweep->given && b < sweep->given &&
                      sweep->same[a] == sweep->same[b]);
}

static void pair_ends(struct fw_sweep *sweep, size_t cuts,
                      struct fw_partition *out)
{
    out->segment_count = 0;
    for (size_t k = 0; k < cuts; k++) {
        const uint32_t start = sweep->end_start[k];
        const uint32_t count = sweep->end_start[k + 1] - start;
        out->cut_start[k] = out->segment_count;
        if (count == 0)
            continue;
        struct fw_sweep_end *entering = sweep->entering + start;
        struct fw_sweep_end *leaving = sweep->leaving + start;
        if (count > 1) {
            fw_sweep__sort_ends(entering, count, sweep->spare_ends);
            fw_sweep__sort_ends(leaving, count, sweep->spare_ends);
        }
        for (uint32_t i = 0; i < count; i++) {
            struct fw_sweep_crossing *low =
                &sweep->crossings[entering[i].crossing];
            struct fw_sweep_crossing *high =
                &sweep->crossings[leaving[i].crossing];
            low->partner = leaving[i].crossing;
            high->partner = entering[i].crossing;
            if (one_place(sweep, low->vertex, high->vertex))
                continue;
            out->segments[2 * out->segment_count] = low->vertex;
            out->segments[2 * out->segment_count + 1] = high->vertex;
            out->segment_count++;
        }
    }
    out->cut_start[cuts] = out->segment_count;
    out->cut_count = cuts;
}

enum fw_status fw_sweep_build(struct fw_sweep *sweep, const double *position_m,
                              size_t count, struct fw_partition *out,
                              struct fw_error *err)
{
    enum fw_status status = check(position_m, count, err);
    if (!status)
        status = reserve_cuts(sweep, count, err);
    if (status)
        return status;
    label_vertices(sweep, position_m, count);
    if (!number_crossings(sweep))
        return fw_fail(err, FW_EINPUT,
                       "%zu cuts meet the sides of the field more than %zu "
                       "times; ask for fewer paddocks",
                       count, most_crossings);
    status = reserve_work(sweep, err);
    if (!status)
        status = reserve_out(sweep, count, out, err);
    if (status)
        return status;
    count_ends(sweep, count);
    memset(sweep->crossed, 0, sweep->ring_count * sizeof *sweep->crossed);
    out->vertex_count = sweep->given;
    out->added_count = 0;
    for (uint32_t i = 0; i < sweep->count; i++)
        if (sweep->first_crossing[i] != sweep->first_crossing[i + 1])
            cross_side(sweep, i, position_m, out);
    pair_ends(sweep, count, out);
    fw_sweep__walk(sweep, count, out);
    return FW_OK;
}

void fw_partition_release(struct fw_partition *partition)
{
    fw_free(partition->added);
    fw_free(partition->ring_vertices);
    fw_free(partition->ring_start);
    fw_free(partition->piece_ring);
    fw_free(partition->paddock_piece);
    fw_free(partition->segments);
    fw_free(partition->cut_start);
    fw_free(partition->paddock_m2);
    fw_free(partition->greatest_m2);
    *partition = (struct fw_partition){0};
}
