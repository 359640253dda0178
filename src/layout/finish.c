/* The map of a subdivision: rings with every vertex that stands on them, lines
 * with their ties, and who lies beside whom. */
#include "base/alloc.h"
#include "base/fail.h"
#include "cutting/subdivision_inner.h"
#include "geo/points.h"
#include "layout/pattern.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The vertices of each support between its ends, in order along it. */
struct stand {
    size_t support, vertex;
    double t;
};

struct finish {
    const struct fw_plots *plots;
    const struct fw_subdivision *subdivision; /* theirs */
    size_t *same; /* of each vertex, the one that stands for all at its place:
                     fences that meet on a line from both sides share a tie */
    size_t *name; /* of each vertex, its index in the layout */
    struct stand *stands;
    size_t stand_count;
    size_t *first_stand; /* of each support; support_count + 1 */
    struct fw_layout *out;
    size_t ring_vertex_count;
};

static int by_place(const void *left, const void *right)
{
    const struct stand *a = left, *b = right;
    if (a->support != b->support)
        return a->support < b->support ? -1 : 1;
    if (a->t < b->t || a->t > b->t)
        return a->t < b->t ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

/* Of stands at one place only the first stays. */
static void merge_stands(struct finish *finish)
{
    const struct fw_subdivision_vertex *vertices =
        finish->subdivision->vertices;
    size_t n = 0;
    for (size_t i = 0; i < finish->stand_count; i++) {
        const struct stand *stand = &finish->stands[i];
        const struct stand *last = n > 0 ? &finish->stands[n - 1] : NULL;
        if (last && last->support == stand->support &&
            fw_subdivision__same_place(vertices[last->vertex].point,
                                       vertices[stand->vertex].point))
            finish->same[stand->vertex] = last->vertex;
        else
            finish->stands[n++] = *stand;
    }
    finish->stand_count = n;
}

static void name_vertices(struct finish *finish)
{
    const size_t given = finish->subdivision->field->vertex_count;
    struct fw_layout *out = finish->out;
    out->vertex_count = given;
    for (size_t i = 0; i < finish->subdivision->vertex_count; i++)
        if (finish->same[i] == i)
            finish->name[i] = i < given ? i : given + out->added_count++;
    for (size_t i = given; i < finish->subdivision->vertex_count; i++)
        finish->name[i] = finish->name[finish->same[i]];
}

static enum fw_status list_stands(struct finish *finish, struct fw_error *err)
{
    const struct fw_subdivision *subdivision = finish->subdivision;
    finish->same = fw_alloc(subdivision->vertex_count, sizeof *finish->same);
    finish->name = fw_alloc(subdivision->vertex_count, sizeof *finish->name);
    finish->stands =
        fw_alloc(subdivision->vertex_count, sizeof *finish->stands);
    finish->first_stand =
        fw_alloc(subdivision->support_count + 1, sizeof *finish->first_stand);
    if (!finish->same || !finish->name || !finish->stands ||
        !finish->first_stand)
        return fw_fail_memory(err);
    for (size_t i = 0; i < subdivision->vertex_count; i++)
        finish->same[i] = i;
    for (size_t i = subdivision->field->vertex_count;
         i < subdivision->vertex_count; i++)
        if (subdivision->vertices[i].support != FW_INSIDE)
            finish->stands[finish->stand_count++] =
                (struct stand){subdivision->vertices[i].support, i,
                               subdivision->vertices[i].t};
    qsort(finish->stands, finish->stand_count, sizeof *finish->stands,
          by_place);
    merge_stands(finish);
    name_vertices(finish);
    size_t at = 0;
    for (size_t c = 0; c <= subdivision->support_count; c++) {
        while (at < finish->stand_count && finish->stands[at].support < c)
            at++;
        finish->first_stand[c] = at;
    }
    return FW_OK;
}

/* What stands on the support between two places of it, in the order of the
 * walk. Returns how many. */
static size_t between(const struct finish *finish, size_t support, size_t from,
                      size_t to, size_t *out)
{
    const double a = fw_subdivision__along(finish->subdivision, from, support);
    const double b = fw_subdivision__along(finish->subdivision, to, support);
    const size_t first = finish->first_stand[support];
    const size_t end = finish->first_stand[support + 1];
    size_t n = 0;
    for (size_t i = first; i < end; i++) {
        const struct stand *stand =
            &finish->stands[a < b ? i : first + end - 1 - i];
        if (stand->t > fmin(a, b) && stand->t < fmax(a, b) &&
            stand->vertex != finish->same[from] &&
            stand->vertex != finish->same[to]) {
            if (out)
                out[n] = finish->name[stand->vertex];
            n++;
        }
    }
    return n;
}

/* With out NULL only counts. */
static size_t thread(const struct finish *finish,
                     const struct fw_region *region, size_t ring, size_t *out)
{
    const size_t first = region->ring_start[ring];
    const size_t end = region->ring_start[ring + 1];
    size_t n = 0;
    for (size_t i = first; i < end; i++) {
        const size_t next = i + 1 < end ? i + 1 : first;
        if (finish->name[region->vertices[i]] ==
            finish->name[region->vertices[next]])
            continue;
        if (out)
            out[n] = finish->name[region->vertices[i]];
        n++;
        n += between(finish, region->supports[i], region->vertices[i],
                     region->vertices[next], out ? out + n : NULL);
    }
    return n;
}

static const struct fw_region *region_of(const struct fw_plots *plots, size_t i)
{
    return i < plots->count ? &plots->regions[i]
                            : &plots->common[i - plots->count];
}

static enum fw_status make_room(struct finish *finish, struct fw_error *err)
{
    struct fw_layout *out = finish->out;
    const size_t regions = out->paddock_count + out->common_count;
    size_t rings = 0, vertices = 0;
    for (size_t i = 0; i < regions; i++) {
        const struct fw_region *region = region_of(finish->plots, i);
        rings += region->ring_count;
        for (size_t r = 0; r < region->ring_count; r++)
            vertices += thread(finish, region, r, NULL);
    }
    out->added = fw_alloc(out->added_count, sizeof *out->added);
    out->ring_vertices = fw_alloc(vertices, sizeof *out->ring_vertices);
    out->ring_start = fw_alloc(rings + 1, sizeof *out->ring_start);
    out->piece_ring = fw_alloc(regions + 1, sizeof *out->piece_ring);
    out->paddock_piece = fw_alloc(regions + 1, sizeof *out->paddock_piece);
    out->paddock_m2 = fw_alloc(regions, sizeof *out->paddock_m2);
    out->holds = fw_alloc(regions, sizeof *out->holds);
    return out->added && out->ring_vertices && out->ring_start &&
                   out->piece_ring && out->paddock_piece && out->paddock_m2 &&
                   out->holds
               ? FW_OK
               : fw_fail_memory(err);
}

static void take_added(const struct finish *finish)
{
    const struct fw_subdivision *subdivision = finish->subdivision;
    struct fw_layout *out = finish->out;
    for (size_t i = out->vertex_count; i < subdivision->vertex_count; i++) {
        const struct fw_subdivision_vertex *from = &subdivision->vertices[i];
        const bool edge = from->support < subdivision->field->vertex_count;
        if (finish->same[i] == i)
            out->added[finish->name[i] - out->vertex_count] =
                (struct fw_layout_vertex){from->point,
                                          edge ? from->support : FW_INSIDE,
                                          edge ? from->t : 0};
    }
}

/* A region is one piece. */
static enum fw_status take_region(struct finish *finish, size_t index,
                                  struct fw_error *err)
{
    const struct fw_region *region = region_of(finish->plots, index);
    struct fw_layout *out = finish->out;
    const size_t size = fw_region_size(region);
    struct fw_point *points = fw_alloc(size, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < size; i++)
        points[i] =
            finish->subdivision->vertices[finish->same[region->vertices[i]]]
                .point;
    out->paddock_piece[index] = index;
    out->piece_ring[index] = out->ring_count;
    for (size_t r = 0; r < region->ring_count; r++) {
        const size_t first = region->ring_start[r];
        out->paddock_m2[index] +=
            fw_ring_area_m2(points + first, region->ring_start[r + 1] - first);
        out->ring_start[out->ring_count++] = finish->ring_vertex_count;
        finish->ring_vertex_count += thread(
            finish, region, r, out->ring_vertices + finish->ring_vertex_count);
    }
    out->ring_start[out->ring_count] = finish->ring_vertex_count;
    out->piece_count = index + 1;
    out->piece_ring[index + 1] = out->ring_count;
    out->paddock_piece[index + 1] = index + 1;
    out->holds[index] = fw_subdivision__measure(
        finish->subdivision, points, region->ring_start, region->ring_count);
    fw_free(points);
    return FW_OK;
}

static double length_m(const struct finish *finish, const size_t *line,
                       size_t count)
{
    const struct fw_field *field = finish->subdivision->field;
    double sum = 0;
    for (size_t i = 1; i < count; i++) {
        const struct fw_point a =
            fw_layout__point(finish->out, field, line[i - 1]);
        const struct fw_point b = fw_layout__point(finish->out, field, line[i]);
        sum += fw_point_apart_m(a, b);
    }
    return sum;
}

static size_t thread_line(const struct finish *finish,
                          const struct fw_subdivision_line *line, size_t *out)
{
    size_t n = 0;
    for (size_t c = line->support; c < line->support + line->support_count;
         c++) {
        const struct fw_subdivision_support *support =
            &finish->subdivision->supports[c];
        if (out)
            out[n] = finish->name[support->from];
        n++;
        n += between(finish, c, support->from, support->to,
                     out ? out + n : NULL);
        if (out)
            out[n] = finish->name[support->to];
    }
    return n + 1;
}

static enum fw_status take_lines(struct finish *finish, struct fw_error *err)
{
    const struct fw_subdivision *subdivision = finish->subdivision;
    struct fw_layout *out = finish->out;
    size_t vertices = 0;
    for (size_t i = 0; i < subdivision->line_count; i++)
        vertices += thread_line(finish, &subdivision->lines[i], NULL);
    out->lines = fw_alloc(subdivision->line_count, sizeof *out->lines);
    out->line_vertices = fw_alloc(vertices, sizeof *out->line_vertices);
    out->left = fw_alloc(vertices, sizeof *out->left);
    out->right = fw_alloc(vertices, sizeof *out->right);
    if (!out->lines || !out->line_vertices || !out->left || !out->right)
        return fw_fail_memory(err);
    size_t at = 0;
    for (size_t i = 0; i < subdivision->line_count; i++) {
        const size_t count = thread_line(finish, &subdivision->lines[i],
                                         out->line_vertices + at);
        const double line_m = length_m(finish, out->line_vertices + at, count);
        out->lines[i] = (struct fw_layout_line){
            .role = subdivision->lines[i].role,
            .first = at,
            .count = count,
            .length_m = line_m,
        };
        out->line_m += line_m;
        *(subdivision->lines[i].role == FW_LINE_MOVED ? &out->moved_m
                                                      : &out->standing_m) +=
            line_m;
        at += count;
    }
    out->line_count = subdivision->line_count;
    return FW_OK;
}

double fw_layout__holds_kg(const struct fw_layout *layout,
                           const struct fw_field *field, size_t paddock,
                           const struct fw_herbage *ground)
{
    const size_t ring = layout->piece_ring[layout->paddock_piece[paddock]];
    const size_t end = layout->piece_ring[layout->paddock_piece[paddock + 1]];
    const size_t first = layout->ring_start[ring];
    const size_t count = layout->ring_start[end] - first;
    struct fw_point *points = fw_alloc(count, sizeof *points);
    size_t *start = fw_alloc(end - ring + 1, sizeof *start);
    double kg = (double)NAN;
    if (points && start) {
        for (size_t i = 0; i < count; i++)
            points[i] = fw_layout__point(layout, field,
                                         layout->ring_vertices[first + i]);
        for (size_t r = ring; r <= end; r++)
            start[r - ring] = layout->ring_start[r] - first;
        kg = fw_herbage_mass_kg(ground, points, start, end - ring);
    }
    fw_free(points);
    fw_free(start);
    return kg;
}

void fw_layout_release(struct fw_layout *layout)
{
    if (!layout)
        return;
    fw_free(layout->added);
    fw_free(layout->ring_vertices);
    fw_free(layout->ring_start);
    fw_free(layout->piece_ring);
    fw_free(layout->paddock_piece);
    fw_free(layout->paddock_m2);
    fw_free(layout->holds);
    fw_free(layout->line_vertices);
    fw_free(layout->left);
    fw_free(layout->right);
    fw_free(layout->lines);
    fw_free(layout->keep);
    fw_free(layout->barred);
    *layout = (struct fw_layout){0};
}

enum fw_status fw_layout__finish(const struct fw_plots *plots,
                                 struct fw_layout *out, struct fw_error *err)
{
    struct fw_layout layout = {.paddock_count = plots->count,
                               .common_count = plots->common_count};
    struct finish finish = {
        .plots = plots, .subdivision = &plots->subdivision, .out = &layout};
    enum fw_status status = list_stands(&finish, err);
    if (!status)
        status = make_room(&finish, err);
    if (!status)
        take_added(&finish);
    for (size_t i = 0; !status && i < plots->count + plots->common_count; i++)
        status = take_region(&finish, i, err);
    if (!status)
        status = take_lines(&finish, err);
    if (!status)
        status = fw_layout__beside(&layout, err);
    fw_free(finish.same);
    fw_free(finish.name);
    fw_free(finish.stands);
    fw_free(finish.first_stand);
    if (status)
        fw_layout_release(&layout);
    else
        *out = layout;
    return status;
}
