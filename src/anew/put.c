/* The cuts of a chain as paddocks and fences of the plan. Whatever ran past its
 * sides gets the ends of the new fences as vertices, so that the map stays one
 * coverage without gaps; names keep their ground, one after the other. */
#include "anew/anew.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "choice/limits.h"
#include "figures/mark.h"
#include "geo/inner.h"
#include "geo/points.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct put {
    struct fw_plan_job *job;
    size_t index; /* of the field */
    const struct fw_plan__anew *anew;
    struct fw_plan_field *field;
    size_t (*ends)[FW_SIDES]; /* vertices, by line */
};

/* ---- vertices ---- */

/* Anew one longer, with that vertex at that place. */
static enum fw_status insert(size_t **list, size_t count, size_t place,
                             size_t vertex, struct fw_error *err)
{
    size_t *more = fw_realloc(*list, count + 1, sizeof *more);
    if (!more)
        return fw_fail_memory(err);
    memmove(more + place + 1, more + place, (count - place) * sizeof *more);
    more[place] = vertex;
    *list = more;
    return FW_OK;
}

static bool joins(size_t a, size_t b, const size_t edge[2])
{
    return (a == edge[0] && b == edge[1]) || (a == edge[1] && b == edge[0]);
}

static enum fw_status into_rings(struct fw_plan_rings *rings,
                                 const size_t edge[2], size_t vertex,
                                 struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t r = 0; !status && r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r];
             !status && i < rings->ring_start[r + 1]; i++) {
            const size_t end = rings->ring_start[r + 1];
            const size_t next = i + 1 < end ? i + 1 : rings->ring_start[r];
            if (!joins(rings->vertices[i], rings->vertices[next], edge))
                continue;
            status =
                insert(&rings->vertices, rings->ring_start[rings->ring_count],
                       i + 1, vertex, err);
            for (size_t k = r + 1; !status && k <= rings->ring_count; k++)
                rings->ring_start[k]++;
            i++;
        }
    return status;
}

static enum fw_status into_line(struct fw_plan_fence *fence,
                                const size_t edge[2], size_t vertex,
                                struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i + 1 < fence->line_count; i++)
        if (joins(fence->line[i], fence->line[i + 1], edge)) {
            status =
                insert(&fence->line, fence->line_count, i + 1, vertex, err);
            fence->line_count += !status;
            i++;
        }
    return status;
}

/* Wherever that edge is one of the map. */
static enum fw_status into_map(const struct put *put, const size_t edge[2],
                               size_t vertex, struct fw_error *err)
{
    struct fw_plan *plan = put->job->plan;
    const struct fw_plan_field *field = put->field;
    enum fw_status status = into_rings(&put->field->rings, edge, vertex, err);
    for (size_t i = 0; !status && i < field->paddock_count; i++)
        status = into_rings(&plan->paddocks[field->first_paddock + i].rings,
                            edge, vertex, err);
    for (size_t i = 0; !status && i < plan->lane_count; i++)
        if (plan->lanes[i].field == put->index)
            status = into_rings(&plan->lanes[i].rings, edge, vertex, err);
    for (size_t i = 0; !status && i < field->fence_count; i++)
        status =
            into_line(&plan->fences[field->first_fence + i], edge, vertex, err);
    return status;
}

static bool is_boundary(const struct fw_plan_rings *rings, const size_t edge[2])
{
    for (size_t r = 0; r < rings->ring_count; r++)
        for (size_t i = rings->ring_start[r]; i < rings->ring_start[r + 1]; i++)
            if (joins(rings->vertices[i],
                      rings->vertices[i + 1 < rings->ring_start[r + 1]
                                          ? i + 1
                                          : rings->ring_start[r]],
                      edge))
                return true;
    return false;
}

/* On the boundary it stands, in the file's coordinates, on the straight line
 * between its neighbours, so that a GIS sees it there. */
static enum fw_status place(const struct put *put, const size_t edge[2],
                            struct fw_vertex *vertex, struct fw_error *err)
{
    const struct fw_plan_job *job = put->job;
    const struct fw_plan_field *field = put->field;
    struct fw_crs *crs = job->crs[put->index];
    const struct fw_vertex *a = &field->vertices[edge[0]];
    const struct fw_vertex *b = &field->vertices[edge[1]];
    vertex->lonlat = fw_plane_inverse(&field->plane, vertex->plane);
    if (!is_boundary(&field->rings, edge))
        return job->farm->world->from_lonlat(crs, &vertex->lonlat,
                                             &vertex->file, 1, err);
    const double turn = job->farm->world->turn(crs);
    const double t = fw_point_apart_m(vertex->plane, a->plane) /
                     fw_point_apart_m(b->plane, a->plane);
    const double b_x = fw_unwrap(b->file.x, a->file.x, turn);
    vertex->file.x = a->file.x + t * (b_x - a->file.x);
    if (b_x != b->file.x) /* the side runs over the 180th meridian */
        vertex->file.x = fw_unwrap(vertex->file.x, 0, turn);
    vertex->file.y = a->file.y + t * (b->file.y - a->file.y);
    return FW_OK;
}

static enum fw_status add_vertex(const struct put *put, struct fw_point point,
                                 const size_t edge[2], size_t *out,
                                 struct fw_error *err)
{
    struct fw_plan_field *field = put->field;
    struct fw_vertex vertex = {.plane = point, .kind = FW_VERTEX_CUT};
    enum fw_status status = place(put, edge, &vertex, err);
    if (status)
        return status;
    struct fw_vertex *more =
        fw_realloc(field->vertices, field->vertex_count + 1, sizeof *more);
    if (!more)
        return fw_fail_memory(err);
    field->vertices = more;
    *out = field->vertex_count;
    more[field->vertex_count++] = vertex;
    return into_map(put, edge, *out, err);
}

/* The vertex at which a line ends: one of the side's, or a new one. `last` is
 * that of the line before, which may stand on the same edge. */
static enum fw_status find_end(const struct put *put, size_t line, size_t side,
                               struct fw_error *err)
{
    const struct fw_plan__chain *chain = &put->anew->chain;
    const struct fw_plan__chain_side *of = &chain->sides[side];
    const struct fw_plan__chain_end end = put->anew->lines[line].ends[side];
    size_t *out = &put->ends[line][side];
    if (!(end.share > 0) || end.share >= 1) {
        *out = of->vertices[end.share > 0 ? end.edge + 1 : end.edge];
        return FW_OK;
    }
    size_t edge[2] = {of->vertices[end.edge], of->vertices[end.edge + 1]};
    if (line > 0) {
        const struct fw_plan__chain_end before =
            put->anew->lines[line - 1].ends[side];
        if (before.edge == end.edge && before.share >= end.share) {
            *out = put->ends[line - 1][side]; /* it turns about that end */
            return FW_OK;
        }
        if (before.edge == end.edge)
            edge[0] = put->ends[line - 1][side];
    }
    return add_vertex(put, fw_plan__chain_point(chain, side, end), edge, out,
                      err);
}

static enum fw_status find_ends(const struct put *put, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t line = 0; !status && line <= put->anew->count; line++)
        for (size_t side = 0; !status && side < FW_SIDES; side++)
            status = find_end(put, line, side, err);
    return status;
}

/* ---- paddocks ---- */

static void add(size_t *ring, size_t *count, size_t vertex)
{
    if (*count == 0 || ring[*count - 1] != vertex)
        ring[(*count)++] = vertex;
}

/* Between two lines, anticlockwise. Vertices that others set on its edges
 * meanwhile are the ends of its own lines and no more. */
static enum fw_status ring_of(const struct put *put, size_t k,
                              struct fw_plan_rings *rings, struct fw_error *err)
{
    const struct fw_plan__anew *anew = put->anew;
    const struct fw_plan__chain *chain = &anew->chain;
    const struct fw_plan__chain_end *from = anew->lines[k].ends;
    const struct fw_plan__chain_end *to = anew->lines[k + 1].ends;
    size_t count = 0;
    size_t *ring = fw_alloc(fw_plan__chain_most(chain), sizeof *ring);
    rings->vertices = ring;
    rings->ring_start = fw_alloc(2, sizeof *rings->ring_start);
    rings->piece_ring = fw_alloc(2, sizeof *rings->piece_ring);
    if (!ring || !rings->ring_start || !rings->piece_ring)
        return fw_fail_memory(err);
    add(ring, &count, put->ends[k][0]);
    for (size_t i = from[0].edge + 1; i <= to[0].edge; i++)
        add(ring, &count, chain->sides[0].vertices[i]);
    add(ring, &count, put->ends[k + 1][0]);
    for (size_t i = 0; k + 1 == anew->count && i < chain->cap_counts[1]; i++)
        add(ring, &count, chain->caps[1][i]);
    add(ring, &count, put->ends[k + 1][1]);
    for (size_t i = to[1].edge + 1; i-- > from[1].edge + 1;)
        add(ring, &count, chain->sides[1].vertices[i]);
    add(ring, &count, put->ends[k][1]);
    for (size_t i = 0; k == 0 && i < chain->cap_counts[0]; i++)
        add(ring, &count, chain->caps[0][i]);
    while (count > 1 && ring[count - 1] == ring[0])
        count--;
    rings->ring_start[1] = count;
    rings->piece_ring[1] = rings->ring_count = rings->piece_count = 1;
    return count < FW_PARTS(3)
               ? fw_fail(err, FW_EFAULT,
                         "a paddock that was cut anew came out without ground")
               : FW_OK;
}

static void free_rings(struct fw_plan_rings *rings)
{
    fw_free(rings->vertices);
    fw_free(rings->ring_start);
    fw_free(rings->piece_ring);
    *rings = (struct fw_plan_rings){0};
}

static double plane_m2(const struct fw_plan_field *field,
                       const struct fw_plan_rings *rings)
{
    double sum = 0;
    for (size_t i = 0; i < rings->ring_start[1]; i++)
        sum += fw_point_cross(
            fw_plan__at(field, rings->vertices[i]),
            fw_plan__at(field,
                        rings->vertices[(i + 1) % rings->ring_start[1]]));
    return sum / 2;
}

static bool is_name(const struct fw_plan *plan, size_t from, size_t end,
                    const char *id)
{
    for (size_t i = from; i < end; i++)
        if (strcmp(plan->paddocks[i].id, id) == 0)
            return true;
    return false;
}

/* Where there are more than before: after "A07" come "A07.2" and "A07.3". One
 * that was taken before its turn has kept its name elsewhere. Places from
 * `place` to before `end` have no paddock yet. */
static void name_paddock(const struct fw_plan *plan, size_t place, size_t end,
                         size_t count, char id[FW_ID])
{
    const char *name = plan->paddocks[place - 1].id;
    const char *dot = strchr(name, '.');
    const int length = (int)(dot ? dot - name : (ptrdiff_t)strlen(name));
    char base[FW_ID];
    size_t number = 1;
    if (dot)
        sscanf(dot + 1, "%zu", &number);
    snprintf(base, sizeof base, "%.*s", length, name);
    do
        fw_plan__id(id, "%s.%zu", base, ++number);
    while (is_name(plan, 0, place, id) || is_name(plan, end, count, id));
}

static enum fw_status put_paddock(const struct put *put, size_t k,
                                  struct fw_error *err)
{
    struct fw_plan *plan = put->job->plan;
    struct fw_plan_paddock *paddock =
        &plan->paddocks[put->anew->chain.first + k];
    struct fw_plan_rings rings = {0};
    const enum fw_status status = ring_of(put, k, &rings, err);
    free_rings(&paddock->rings);
    paddock->rings = rings;
    if (status)
        return status;
    put->field->grazed_ha -= paddock->area_ha;
    paddock->area_ha = paddock->perimeter_m = 0; /* until it is measured */
    paddock->plane_m2 = plane_m2(put->field, &paddock->rings);
    paddock->pieces = 1;
    return FW_OK;
}

/* ---- more or fewer of them ---- */

static size_t moved(const struct put *put, size_t paddock)
{
    const struct fw_plan__anew *anew = put->anew;
    const size_t end = anew->chain.first + anew->chain.count;
    return paddock == FW_NONE || paddock < end
               ? paddock
               : paddock + anew->count - anew->chain.count;
}

static enum fw_status more_paddocks(const struct put *put, struct fw_error *err)
{
    struct fw_plan_job *job = put->job;
    struct fw_plan *plan = job->plan;
    const struct fw_plan__anew *anew = put->anew;
    const size_t end = anew->chain.first + anew->chain.count;
    const size_t more = anew->count - anew->chain.count;
    enum fw_status status = fw_array_reserve(
        &plan->paddocks, &plan->paddock_capacity, plan->paddock_count + more,
        sizeof *plan->paddocks, err);
    if (!status)
        status =
            fw_array_reserve(&job->shapes, &job->shape_capacity,
                             job->shape_count + more, sizeof *job->shapes, err);
    if (status)
        return status;
    memmove(plan->paddocks + end + more, plan->paddocks + end,
            (plan->paddock_count - end) * sizeof *plan->paddocks);
    for (size_t k = 0; k < more; k++) {
        struct fw_plan_paddock *paddock = &plan->paddocks[end + k];
        *paddock = plan->paddocks[end - 1];
        paddock->rings = (struct fw_plan_rings){0};
        paddock->area_ha = 0;
        name_paddock(plan, end + k, end + more, plan->paddock_count + more,
                     paddock->id);
        job->shapes[job->shape_count++] = job->shapes[0];
    }
    plan->paddock_count += more;
    put->field->paddock_count += more;
    return FW_OK;
}

static void fewer_paddocks(const struct put *put)
{
    struct fw_plan_job *job = put->job;
    struct fw_plan *plan = job->plan;
    const struct fw_plan__anew *anew = put->anew;
    const size_t end = anew->chain.first + anew->chain.count;
    const size_t less = anew->chain.count - anew->count;
    for (size_t k = 1; k <= less; k++) {
        put->field->grazed_ha -= plan->paddocks[end - k].area_ha;
        free_rings(&plan->paddocks[end - k].rings);
    }
    memmove(plan->paddocks + end - less, plan->paddocks + end,
            (plan->paddock_count - end) * sizeof *plan->paddocks);
    plan->paddock_count -= less;
    put->field->paddock_count -= less;
    job->shape_count -= less;
}

static enum fw_status count_paddocks(const struct put *put,
                                     struct fw_error *err)
{
    const struct fw_plan__anew *anew = put->anew;
    enum fw_status status = FW_OK;
    if (anew->count > anew->chain.count)
        status = more_paddocks(put, err);
    else
        fewer_paddocks(put);
    struct fw_plan *plan = put->job->plan;
    const size_t first = put->field->first_paddock;
    for (size_t i = 0; !status && i < put->field->paddock_count; i++)
        plan->paddocks[first + i].seq = (int)(first + i + 1);
    return status;
}

/* ---- fences ---- */

/* In the plan's list where its chain ends. */
static enum fw_status count_fences(const struct put *put, struct fw_error *err)
{
    struct fw_plan *plan = put->job->plan;
    const struct fw_plan__anew *anew = put->anew;
    const struct fw_plan__chain *chain = &anew->chain;
    size_t last = chain->fences[0];
    for (size_t k = 1; k < chain->count; k++)
        if (last == FW_NONE || chain->fences[k] > last)
            last = chain->fences[k];
    if (last == FW_NONE)
        return FW_OK;
    if (anew->count > chain->count) {
        const size_t more = anew->count - chain->count;
        const enum fw_status status = fw_array_reserve(
            &plan->fences, &plan->fence_capacity, plan->fence_count + more,
            sizeof *plan->fences, err);
        if (status)
            return status;
        memmove(plan->fences + last + 1 + more, plan->fences + last + 1,
                (plan->fence_count - last - 1) * sizeof *plan->fences);
        for (size_t k = 1; k <= more; k++) {
            plan->fences[last + k] = plan->fences[last];
            plan->fences[last + k].line = NULL;
            plan->fences[last + k].line_count = 0;
            plan->fences[last + k].stood = false;
            for (size_t i = 0; i < put->job->open_count; i++)
                if (put->job->open[i].line > last + k - 1)
                    put->job->open[i].line++;
        }
        plan->fence_count += more;
        put->field->fence_count += more;
        return FW_OK;
    }
    for (size_t k = anew->count; k < chain->count; k++) {
        /* those beyond, from the last one on, so that none is moved before */
        const size_t gone = chain->fences[chain->count - 1 - (k - anew->count)];
        fw_free(plan->fences[gone].line);
        memmove(plan->fences + gone, plan->fences + gone + 1,
                (plan->fence_count - gone - 1) * sizeof *plan->fences);
        plan->fence_count--;
        put->field->fence_count--;
        for (size_t i = 0; i < put->job->open_count; i++)
            if (put->job->open[i].line > gone)
                put->job->open[i].line--;
    }
    return FW_OK;
}

/* The one that is the k-th of the chain now. */
static size_t fence_of(const struct put *put, size_t k)
{
    const struct fw_plan__chain *chain = &put->anew->chain;
    size_t last = chain->fences[0], place = 0;
    for (size_t i = 1; i < chain->count; i++) {
        if (i == k)
            return chain->fences[i];
        if (last == FW_NONE || chain->fences[i] > last)
            last = chain->fences[i];
        place = i;
    }
    return last + (k - place);
}

/* "A07-08" of "A07" and "A08". */
static void name_fence(const struct put *put, struct fw_plan_fence *fence)
{
    const struct fw_plan *plan = put->job->plan;
    char letter[8];
    fw_plan__letter(plan, put->index, letter);
    const size_t length = strlen(letter);
    fw_plan__id(fence->id, "%s%.12s-%.12s", letter,
                plan->paddocks[fence->from].id + length,
                plan->paddocks[fence->to].id + length);
}

static enum fw_status put_fence(const struct put *put, size_t k,
                                size_t side_of_a, struct fw_error *err)
{
    struct fw_plan *plan = put->job->plan;
    const size_t from = put->anew->chain.first + k - 1;
    struct fw_plan_fence *fence = &plan->fences[fence_of(put, k)];
    size_t *line = fw_realloc(fence->line, 2, sizeof *line);
    if (!line)
        return fw_fail_memory(err);
    fence->line = line;
    fence->line_count = 2;
    line[0] = put->ends[k][side_of_a];
    line[1] = put->ends[k][1 - side_of_a];
    fence->from = from;
    fence->to = from + 1;
    fence->rank = from - put->field->first_paddock;
    fence->length_m = 0; /* until it is measured */
    name_fence(put, fence);
    return FW_OK;
}

static bool runs_along(const struct fw_plan_fence *fence,
                       const struct fw_plan_rings *rings)
{
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r],
                     end = rings->ring_start[r + 1];
        for (size_t i = first; i < end; i++) {
            const size_t edge[2] = {
                rings->vertices[i],
                rings->vertices[i + 1 < end ? i + 1 : first]};
            for (size_t v = 0; v + 1 < fence->line_count; v++)
                if (joins(fence->line[v], fence->line[v + 1], edge))
                    return true;
        }
    }
    return false;
}

/* Lines that its fences end on have others beside them now. */
static void find_beside(const struct put *put, struct fw_plan_fence *fence)
{
    const struct fw_plan *plan = put->job->plan;
    const struct fw_plan__anew *anew = put->anew;
    const size_t first = anew->chain.first;
    const size_t old_end = first + anew->chain.count;
    const size_t end = first + anew->count;
    const bool from = fence->from >= first && fence->from < old_end;
    const bool to = fence->to >= first && fence->to < old_end;
    fence->from = moved(put, fence->from);
    fence->to = moved(put, fence->to);
    size_t least = FW_NONE, most = FW_NONE;
    for (size_t i = first; (from || to) && i < end; i++)
        if (runs_along(fence, &plan->paddocks[i].rings)) {
            least = least == FW_NONE ? i : least;
            most = i;
        }
    if (from && least != FW_NONE)
        fence->from = least;
    if (to && most != FW_NONE)
        fence->to = most;
}

static void settle_rank(const struct put *put, struct fw_plan_fence *fence)
{
    const size_t base = put->field->first_paddock;
    const size_t rank = moved(put, base + fence->rank) - base;
    fence->rank = rank > fence->from - base ? fence->from - base : rank;
}

static bool is_of_chain(const struct put *put, size_t fence)
{
    for (size_t k = 1; k < put->anew->count; k++)
        if (fence_of(put, k) == fence)
            return true;
    return false;
}

static enum fw_status put_fences(const struct put *put, size_t side_of_a,
                                 struct fw_error *err)
{
    struct fw_plan *plan = put->job->plan;
    enum fw_status status = FW_OK;
    for (size_t i = put->field->first_fence;
         i < put->field->first_fence + put->field->fence_count; i++) {
        struct fw_plan_fence *fence = &plan->fences[i];
        if (fence->role == FW_FENCE_PERIMETER || is_of_chain(put, i))
            continue;
        find_beside(put, fence);
        settle_rank(put, fence);
    }
    for (size_t k = 1; !status && k < put->anew->count; k++)
        status = put_fence(put, k, side_of_a, err);
    return status;
}

/* On which side the end A of its fences is. */
static size_t side_of_a(const struct put *put)
{
    const struct fw_plan__chain *chain = &put->anew->chain;
    const size_t k = chain->count > 1 ? 1 : 0;
    const struct fw_plan_fence *fence =
        &put->job->plan->fences[chain->fences[k]];
    const struct fw_plan__chain_side *right = &chain->sides[0];
    return fence->line[0] == right->vertices[right->stops[k]] ? 0 : 1;
}

/* ---- all of it ---- */

enum fw_status fw_plan__anew_put(struct fw_plan_job *job, size_t index,
                                 const struct fw_plan__anew *anew,
                                 struct fw_error *err)
{
    struct put put = {
        .job = job,
        .index = index,
        .anew = anew,
        .field = &job->plan->fields[index],
        .ends = fw_alloc(anew->count + 1, sizeof *put.ends),
    };
    if (!put.ends)
        return fw_fail_memory(err);
    const size_t a = side_of_a(&put);
    enum fw_status status = find_ends(&put, err);
    if (!status)
        status = count_paddocks(&put, err);
    for (size_t k = 0; !status && k < anew->count; k++)
        status = put_paddock(&put, k, err);
    if (!status)
        status = count_fences(&put, err);
    if (!status)
        status = put_fences(&put, a, err);
    fw_free(put.ends);
    return status;
}
