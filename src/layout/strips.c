/* Parallel strips: the field swept in one direction, a fence across it at the
 * end of every paddock.
 *
 * The length of the fences comes from the sweep without building a paddock, so
 * all directions are ranked by it first, and the paddocks are built in that
 * order until they are all in one piece. A direction that keeps the fences
 * parallel to a long straight side of the field is preferred at a small price:
 * whoever sets the fence then paces the same distance from that side. */
#include "base/alloc.h"
#include "base/fail.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

/* A fence that is longer by this much is a fair price for pacing along a
 * side. */
static const double side_price = 0.03;

/* A side that counts is at least so long a share of the boundary, and so near
 * the line from corner to corner. */
static const double long_side = 0.1;
static const double straight_side = 0.999;

enum { most_sides = 10, usual_directions = 180 };

struct direction {
    double deg;
    bool along_side;
};

/* A direction, walked one way or the other. */
struct candidate {
    size_t direction;
    bool back;
    double line_m;
    double rank; /* line_m without its last digits, which rounding decides */
    bool tried, fits; /* fits: is walked from the right end */
    size_t broken_count;
};

enum way { UNKNOWN, FORTH, BACK, EITHER };

struct search {
    const struct fw_layout_request *request;
    const struct fw_layout_shares *shares;
    struct fw_sweep *sweep;
    struct direction *directions;
    enum way *ways; /* of each direction: the end that is near the start */
    size_t direction_count;
    struct candidate *candidates;
    size_t candidate_count;
    bool all_tried;
    double *position_m, *length_m;
    struct fw_partition partition;
};

static double in_half_turn(double deg)
{
    const double rest = fmod(deg, 180);
    return rest < 0 ? rest + 180 : rest;
}

static int by_deg(const void *left, const void *right)
{
    const struct direction *a = left, *b = right;
    if (a->deg < b->deg || a->deg > b->deg)
        return a->deg < b->deg ? -1 : 1;
    return (int)a->along_side - (int)b->along_side;
}

static int by_rank(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    if (a->rank < b->rank || a->rank > b->rank)
        return a->rank < b->rank ? -1 : 1;
    if (a->direction != b->direction)
        return a->direction < b->direction ? -1 : 1;
    return (int)a->back - (int)b->back;
}

/* The boundary between two corners may bend a little, so the line from corner
 * to corner is what one sees. */
static void add_sides(struct search *search)
{
    const struct fw_field *field = search->request->field;
    double around_m = 0;
    for (size_t i = 0; i < field->corner_count; i++)
        around_m += fw_field_side_m(field, i);
    size_t found = 0;
    for (size_t i = 0; i < field->corner_count && found < most_sides; i++) {
        const size_t next = field->corners[(i + 1) % field->corner_count];
        const struct fw_point a = field->vertices[field->corners[i]].plane;
        const struct fw_point b = field->vertices[next].plane;
        const double x_m = b.x_m - a.x_m, y_m = b.y_m - a.y_m;
        if (!(hypot(x_m, y_m) >= long_side * around_m) ||
            !(hypot(x_m, y_m) >= straight_side * fw_field_side_m(field, i)))
            continue;
        search->directions[search->direction_count++] = (struct direction){
            in_half_turn(atan2(y_m, x_m) * 180 / pi + 90), true};
        found++;
    }
}

static void list_directions(struct search *search, size_t regular)
{
    const struct fw_layout_request *request = search->request;
    if (request->direction_given) {
        search->directions[0] = (struct direction){request->direction_deg, 0};
        search->direction_count = 1;
        return;
    }
    for (size_t i = 0; i < regular; i++)
        search->directions[i] =
            (struct direction){180.0 * (double)i / (double)regular, false};
    search->direction_count = regular;
    add_sides(search);
    qsort(search->directions, search->direction_count,
          sizeof *search->directions, by_deg);
}

static double cut(struct search *search, bool back)
{
    const struct fw_layout_shares *shares = search->shares;
    return fw_sweep_cut(
        search->sweep, back ? shares->ahead_m2 : shares->behind_m2,
        shares->count - 1, search->position_m, search->length_m);
}

/* Both ways along each direction, unless the shares are alike from both ends:
 * then the fences stand at the same places. */
static void rank(struct search *search)
{
    const struct fw_layout_request *request = search->request;
    const bool both =
        !search->shares->alike && (!request->direction_given || request->start);
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < search->direction_count; i++) {
        fw_sweep_turn(search->sweep, search->directions[i].deg);
        for (int back = 0; back <= (both ? 1 : 0); back++) {
            const double line_m = cut(search, back != 0);
            search->candidates[search->candidate_count++] = (struct candidate){
                .direction = i, .back = back != 0, .line_m = line_m};
            least_m = fmin(least_m, line_m);
        }
    }
    for (size_t i = 0; i < search->candidate_count; i++) {
        struct candidate *candidate = &search->candidates[i];
        candidate->rank =
            least_m > 0 ? rint(candidate->line_m / (least_m * 1e-9)) : 0;
    }
    qsort(search->candidates, search->candidate_count,
          sizeof *search->candidates, by_rank);
}

static size_t broken(const struct fw_partition *partition)
{
    size_t count = 0;
    for (size_t i = 0; i < partition->paddock_count; i++)
        count +=
            partition->paddock_piece[i + 1] - partition->paddock_piece[i] > 1;
    return count;
}

/* From a point to a paddock; 0 inside. */
static double distance_m(const struct fw_sweep *sweep,
                         const struct fw_partition *partition, size_t paddock,
                         struct fw_point from)
{
    double least_m = HUGE_VAL;
    bool inside = false;
    const size_t first =
        partition->piece_ring[partition->paddock_piece[paddock]];
    const size_t end =
        partition->piece_ring[partition->paddock_piece[paddock + 1]];
    for (size_t ring = first; ring < end; ring++) {
        const size_t start = partition->ring_start[ring];
        const size_t stop = partition->ring_start[ring + 1];
        struct fw_point a = fw_sweep_point(sweep, partition,
                                           partition->ring_vertices[stop - 1]);
        for (size_t i = start; i < stop; i++) {
            const struct fw_point b =
                fw_sweep_point(sweep, partition, partition->ring_vertices[i]);
            least_m = fmin(least_m, fw_segment_distance_m(from, a, b));
            if ((a.y_m > from.y_m) != (b.y_m > from.y_m) &&
                (from.x_m < a.x_m + (b.x_m - a.x_m) * (from.y_m - a.y_m) /
                                        (b.y_m - a.y_m)))
                inside = !inside;
            a = b;
        }
    }
    return inside ? 0 : least_m;
}

static enum fw_status build(struct search *search, bool back,
                            struct fw_error *err)
{
    cut(search, back);
    return fw_sweep_build(search->sweep, search->position_m,
                          search->shares->count - 1, &search->partition, err);
}

/* Which way to walk the direction that the sweep has: with the paddocks of
 * the way forth laid out, the end nearer to the start is the first. */
static enum fw_status find_way(struct search *search, size_t direction,
                               struct fw_error *err)
{
    const struct fw_layout_request *request = search->request;
    enum way *way = &search->ways[direction];
    if (*way != UNKNOWN)
        return FW_OK;
    if (!request->start) {
        *way =
            request->direction_given || search->shares->alike ? FORTH : EITHER;
        return FW_OK;
    }
    const enum fw_status status = build(search, false, err);
    if (status)
        return status;
    const double first_m =
        distance_m(search->sweep, &search->partition, 0, *request->start);
    const double last_m =
        distance_m(search->sweep, &search->partition, search->shares->count - 1,
                   *request->start);
    const double same_m = 1e-6; /* as far as a person can tell */
    if (fabs(first_m - last_m) <= same_m)
        *way = search->shares->alike ? FORTH : EITHER;
    else
        *way = first_m < last_m ? FORTH : BACK;
    return FW_OK;
}

static enum fw_status try_candidate(struct search *search,
                                    struct candidate *candidate,
                                    struct fw_error *err)
{
    if (candidate->tried)
        return FW_OK;
    fw_sweep_turn(search->sweep, search->directions[candidate->direction].deg);
    enum fw_status status = find_way(search, candidate->direction, err);
    if (status)
        return status;
    const enum way way = search->ways[candidate->direction];
    candidate->tried = true;
    candidate->fits = search->shares->alike || way == EITHER ||
                      (way == BACK) == candidate->back;
    if (!candidate->fits)
        return FW_OK;
    status = build(search, candidate->back, err);
    if (!status)
        candidate->broken_count = broken(&search->partition);
    return status;
}

static int by_direction(const void *left, const void *right)
{
    const struct candidate *a = *(struct candidate *const *)left;
    const struct candidate *b = *(struct candidate *const *)right;
    if (a->direction != b->direction)
        return a->direction < b->direction ? -1 : 1;
    return (int)a->back - (int)b->back;
}

/* In the order of their directions, which is cheapest for the sweep. */
static enum fw_status try_all(struct search *search, struct fw_error *err)
{
    const size_t count = search->candidate_count;
    if (search->all_tried)
        return FW_OK;
    search->all_tried = true;
    struct candidate **sorted = fw_alloc(count, sizeof *sorted);
    if (!sorted)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        sorted[i] = &search->candidates[i];
    qsort(sorted, count, sizeof *sorted, by_direction);
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < count; i++)
        status = try_candidate(search, sorted[i], err);
    fw_free(sorted);
    return status;
}

struct choice {
    const struct candidate *best; /* the first by rank with the fewest broken */
    const struct candidate *side; /* as good, along a side, at a fair price */
};

static bool is_fair(const struct choice *choice,
                    const struct candidate *candidate)
{
    return choice->best &&
           candidate->line_m <= choice->best->line_m * (1 + side_price);
}

static void weigh(struct choice *choice, const struct candidate *candidate,
                  bool along_side)
{
    const struct candidate *best = choice->best;
    if (!candidate->fits)
        return;
    if (!best || candidate->broken_count < best->broken_count) {
        choice->best = candidate;
        choice->side = along_side ? candidate : NULL;
    } else if (candidate->broken_count == best->broken_count && along_side &&
               !choice->side && is_fair(choice, candidate)) {
        choice->side = candidate;
    }
}

static enum fw_status pick(struct search *search, struct candidate *out,
                           struct fw_error *err)
{
    const size_t few = 12; /* mostly enough to find a whole one */
    struct choice choice = {NULL, NULL};
    for (size_t i = 0; i < search->candidate_count; i++) {
        struct candidate *candidate = &search->candidates[i];
        const bool along_side =
            search->directions[candidate->direction].along_side;
        const bool whole = choice.best && choice.best->broken_count == 0;
        if (whole && (choice.side || !is_fair(&choice, candidate)))
            break;
        if (whole && !along_side)
            continue;
        const enum fw_status status =
            i >= few && !whole ? try_all(search, err)
                               : try_candidate(search, candidate, err);
        if (status)
            return status;
        weigh(&choice, candidate, along_side);
    }
    if (!choice.best)
        return fw_fail(err, FW_EFAULT, "no direction fits the start");
    *out = choice.side ? *choice.side : *choice.best;
    return FW_OK;
}

/* Once more in the direction of the flock, so that the partition comes out in
 * grazing order. */
static enum fw_status finish(struct search *search,
                             const struct candidate *chosen,
                             struct fw_layout *out, struct fw_error *err)
{
    const struct direction *direction = &search->directions[chosen->direction];
    const bool back = search->shares->alike
                          ? search->ways[chosen->direction] == BACK
                          : chosen->back;
    double deg = fmod(direction->deg + (back ? 180 : 0), 360);
    if (deg < 0)
        deg += 360;
    fw_sweep_turn(search->sweep, deg);
    const double line_m = cut(search, false);
    const enum fw_status status =
        fw_sweep_build(search->sweep, search->position_m,
                       search->shares->count - 1, &search->partition, err);
    if (status)
        return status;
    out->direction_deg = deg;
    out->line_m = line_m;
    out->broken_count = broken(&search->partition);
    out->partition = search->partition;
    search->partition = (struct fw_partition){0};
    return FW_OK;
}

static enum fw_status sweep_over(const struct fw_field *field,
                                 struct fw_sweep **out, struct fw_error *err)
{
    struct fw_point *points = fw_alloc(field->vertex_count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    const enum fw_status status =
        fw_sweep_new(points, field->ring_start, field->ring_count, out, err);
    fw_free(points);
    return status;
}

enum fw_status fw_layout__strips(const struct fw_layout_request *request,
                                 const struct fw_layout_shares *shares,
                                 struct fw_layout *out, struct fw_error *err)
{
    const size_t regular = request->directions > 0 ? (size_t)request->directions
                                                   : usual_directions;
    struct search search = {.request = request, .shares = shares};
    enum fw_status status = sweep_over(request->field, &search.sweep, err);
    if (status)
        return status;
    const size_t most = regular + most_sides;
    search.directions = fw_alloc(most, sizeof *search.directions);
    search.ways = fw_alloc(most, sizeof *search.ways);
    search.candidates = fw_alloc(2 * most, sizeof *search.candidates);
    search.position_m = fw_alloc(shares->count, sizeof(double));
    search.length_m = fw_alloc(shares->count, sizeof(double));
    struct candidate chosen = {0};
    if (!search.directions || !search.ways || !search.candidates ||
        !search.position_m || !search.length_m) {
        status = fw_fail_memory(err);
    } else {
        list_directions(&search, regular);
        rank(&search);
        status = pick(&search, &chosen, err);
    }
    if (!status)
        status = finish(&search, &chosen, out, err);
    fw_partition_release(&search.partition);
    fw_free(search.length_m);
    fw_free(search.position_m);
    fw_free(search.candidates);
    fw_free(search.ways);
    fw_free(search.directions);
    fw_sweep_free(search.sweep);
    return status;
}
