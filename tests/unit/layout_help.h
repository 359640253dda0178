/* Fields in the plane, and whether a layout of one is a true map of it: found
 * from its rings alone, by other means than the library's. */
#ifndef FW_LAYOUT_HELP_H
#define FW_LAYOUT_HELP_H

#include "test.h"

#include "geo/geo.h"
#include <foldwright/layout.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>

#ifndef COUNT
#define COUNT(array) (sizeof(array) / sizeof *(array))
#endif
#ifndef PI
#define PI 3.14159265358979323846
#endif

enum { most_points = 600, most_rings = 8 };

/* Every vertex of the outer ring is a corner. */
struct plot {
    struct fw_field field;
    struct fw_vertex vertices[most_points];
    size_t ring_start[most_rings + 1];
    size_t corners[most_points];
};

static inline void add_ring(struct plot *plot, const struct fw_point *points,
                            size_t count)
{
    struct fw_field *field = &plot->field;
    double twice = 0, around_m = 0;
    for (size_t i = 0, j = count - 1; i < count; j = i++) {
        const struct fw_point a = points[j], b = points[i];
        plot->vertices[field->vertex_count + i].plane = b;
        twice += a.x_m * b.y_m - b.x_m * a.y_m;
        around_m += hypot(b.x_m - a.x_m, b.y_m - a.y_m);
    }
    *(field->ring_count ? &field->holes_m : &field->perimeter_m) += around_m;
    if (field->ring_count == 0)
        for (size_t i = 0; i < count; i++)
            plot->corners[field->corner_count++] = count - 1 - i;
    field->vertex_count += count;
    plot->ring_start[++field->ring_count] = field->vertex_count;
    field->vertices = plot->vertices;
    field->ring_start = plot->ring_start;
    field->corners = plot->corners;
    field->area_m2 += twice / 2;
}

static inline struct fw_point turned(struct fw_point p, double deg)
{
    const double c = cos(deg * PI / 180), s = sin(deg * PI / 180);
    return (struct fw_point){p.x_m * c - p.y_m * s, p.x_m * s + p.y_m * c};
}

static inline void make_rectangle(struct plot *plot, double a, double b,
                                  double deg)
{
    struct fw_point ring[] = {{0, 0}, {a, 0}, {a, b}, {0, b}};
    for (size_t i = 0; i < 4; i++)
        ring[i] = turned(ring[i], deg);
    add_ring(plot, ring, 4);
}

static inline void make_l(struct plot *plot)
{
    const struct fw_point ring[] = {{0, 0},     {200, 0},   {200, 100},
                                    {100, 100}, {100, 200}, {0, 200}};
    add_ring(plot, ring, COUNT(ring));
}

static inline void make_square_ring(struct plot *plot, double outer,
                                    double hole)
{
    const double a = outer / 2, b = hole / 2;
    const struct fw_point ring[] = {{-a, -a}, {a, -a}, {a, a}, {-a, a}};
    const struct fw_point pond[] = {{-b, -b}, {-b, b}, {b, b}, {b, -b}};
    add_ring(plot, ring, 4);
    add_ring(plot, pond, 4);
}

static inline double boundary_m(const struct fw_field *field)
{
    return field->perimeter_m + field->holes_m;
}

/* ---- is it a true map? ---- */

struct map_side { /* of a ring, as it runs */
    size_t from, to, owner;
    double length_m;
};

struct map_door { /* what two grounds share */
    size_t a, b;
    double length_m;
};

struct map_check {
    const struct fw_layout_request *request;
    const struct fw_field *field;
    const struct fw_layout *layout;
    size_t *place; /* of each vertex, itself; of the field's own, the first at
                      the same place: rings of a field may touch */
    struct map_side *sides; /* sorted by ends */
    size_t side_count;
    struct map_door *doors; /* both ways, sorted */
    size_t door_count;
    double inner_m;     /* of sides with a neighbour, counted from both */
    size_t inner_count; /* of them */
    char why[200];      /* not, when it is not */
};

#define NOT_TRUE(check, ...)                                                   \
    do {                                                                       \
        snprintf((check)->why, sizeof(check)->why, __VA_ARGS__);               \
        return false;                                                          \
    } while (0)

static inline struct fw_point map_point(const struct map_check *check,
                                        size_t vertex)
{
    const size_t given = check->field->vertex_count;
    return vertex < given ? check->field->vertices[vertex].plane
                          : check->layout->added[vertex - given].point;
}

static inline size_t map_grounds(const struct map_check *check)
{
    return check->layout->paddock_count + check->layout->common_count;
}

static inline double map_apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

static inline int map_by_ends(const void *left, const void *right)
{
    const struct map_side *a = left, *b = right;
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    return a->to < b->to ? -1 : a->to > b->to;
}

static inline const struct map_side *map_side(const struct map_check *check,
                                              size_t from, size_t to)
{
    const struct map_side key = {from, to, 0, 0};
    return bsearch(&key, check->sides, check->side_count, sizeof key,
                   map_by_ends);
}

/* In long double, about a point of the ring itself. */
static inline double map_ring_m2(const struct map_check *check, size_t ring)
{
    const size_t *v = check->layout->ring_vertices;
    const size_t start = check->layout->ring_start[ring];
    const size_t end = check->layout->ring_start[ring + 1];
    const struct fw_point o = map_point(check, v[start]);
    long double twice = 0;
    for (size_t i = start; i + 1 < end; i++) {
        const struct fw_point a = map_point(check, v[i]);
        const struct fw_point b = map_point(check, v[i + 1]);
        twice += (long double)(a.x_m - o.x_m) * (long double)(b.y_m - o.y_m) -
                 (long double)(a.y_m - o.y_m) * (long double)(b.x_m - o.x_m);
    }
    return (double)(twice / 2);
}

/* One piece each: an outer ring, then holes. Areas as told. */
static inline bool map_rings_are_told(struct map_check *check)
{
    const struct fw_layout *out = check->layout;
    const size_t vertices = out->vertex_count + out->added_count;
    double sum_m2 = 0;
    if (out->vertex_count != check->field->vertex_count ||
        out->paddock_count == 0 || out->piece_count != map_grounds(check))
        NOT_TRUE(check, "%zu grounds in %zu pieces, %zu field vertices",
                 map_grounds(check), out->piece_count, out->vertex_count);
    for (size_t p = 0; p < map_grounds(check); p++) {
        const size_t piece = out->paddock_piece[p];
        double m2 = 0;
        if (out->paddock_piece[p + 1] - piece != 1)
            NOT_TRUE(check, "paddock %zu is in %zu pieces", p,
                     out->paddock_piece[p + 1] - piece);
        for (size_t r = out->piece_ring[piece]; r < out->piece_ring[piece + 1];
             r++) {
            const double ring_m2 = map_ring_m2(check, r);
            if (out->ring_start[r + 1] < out->ring_start[r] + 3 ||
                (ring_m2 > 0) != (r == out->piece_ring[piece]))
                NOT_TRUE(check, "ring %zu of paddock %zu: %zu corners, %g m2",
                         r, p, out->ring_start[r + 1] - out->ring_start[r],
                         ring_m2);
            m2 += ring_m2;
            for (size_t i = out->ring_start[r]; i < out->ring_start[r + 1]; i++)
                if (out->ring_vertices[i] >= vertices)
                    NOT_TRUE(check, "there is no vertex %zu",
                             out->ring_vertices[i]);
        }
        if (!(fabs(out->paddock_m2[p] / m2 - 1) <= 1e-11))
            NOT_TRUE(check, "paddock %zu is told to have %.15g m2, has %.15g",
                     p, out->paddock_m2[p], m2);
        sum_m2 += m2;
    }
    if (!(fabs(sum_m2 / check->field->area_m2 - 1) <= 1e-12))
        NOT_TRUE(check, "all grounds have %.17g m2, the field %.17g", sum_m2,
                 check->field->area_m2);
    return true;
}

struct map_at {
    struct fw_point point;
    size_t vertex;
};

static inline int map_by_place(const void *left, const void *right)
{
    const struct map_at *a = left, *b = right;
    if (a->point.x_m < b->point.x_m || a->point.x_m > b->point.x_m)
        return a->point.x_m < b->point.x_m ? -1 : 1;
    if (a->point.y_m < b->point.y_m || a->point.y_m > b->point.y_m)
        return a->point.y_m < b->point.y_m ? -1 : 1;
    return a->vertex < b->vertex ? -1 : a->vertex > b->vertex;
}

static inline void map_list_places(struct map_check *check)
{
    const size_t given = check->layout->vertex_count;
    const size_t count = given + check->layout->added_count;
    struct map_at *at = calloc(given, sizeof *at);
    check->place = calloc(count, sizeof *check->place);
    for (size_t i = 0; i < count; i++)
        check->place[i] = i;
    for (size_t i = 0; i < given; i++)
        at[i] = (struct map_at){map_point(check, i), i};
    qsort(at, given, sizeof *at, map_by_place);
    for (size_t i = 0, first = 0; i < given; i++) {
        if (map_apart_m(at[first].point, at[i].point) > 0)
            first = i;
        check->place[at[i].vertex] = at[first].vertex;
    }
    free(at);
}

static inline bool map_list_sides(struct map_check *check)
{
    const struct fw_layout *out = check->layout;
    check->sides =
        calloc(out->ring_start[out->ring_count], sizeof *check->sides);
    map_list_places(check);
    for (size_t p = 0; p < map_grounds(check); p++)
        for (size_t r = out->piece_ring[p]; r < out->piece_ring[p + 1]; r++)
            for (size_t i = out->ring_start[r]; i < out->ring_start[r + 1];
                 i++) {
                const size_t next =
                    i + 1 < out->ring_start[r + 1] ? i + 1 : out->ring_start[r];
                const size_t a = check->place[out->ring_vertices[i]];
                const size_t b = check->place[out->ring_vertices[next]];
                if (a != b)
                    check->sides[check->side_count++] = (struct map_side){
                        a, b, p,
                        map_apart_m(map_point(check, a), map_point(check, b))};
            }
    qsort(check->sides, check->side_count, sizeof *check->sides, map_by_ends);
    for (size_t i = 1; i < check->side_count; i++)
        if (map_by_ends(&check->sides[i - 1], &check->sides[i]) == 0)
            NOT_TRUE(check, "paddocks %zu and %zu both have the side %zu-%zu",
                     check->sides[i - 1].owner, check->sides[i].owner,
                     check->sides[i].from, check->sides[i].to);
    return true;
}

struct map_stand { /* a vertex on a side of the field */
    size_t edge, vertex;
    double t;
};

static inline int map_by_stand(const void *left, const void *right)
{
    const struct map_stand *a = left, *b = right;
    if (a->edge != b->edge)
        return a->edge < b->edge ? -1 : 1;
    return a->t < b->t ? -1 : a->t > b->t;
}

static inline bool map_has_no_neighbour(const struct map_check *check,
                                        const struct map_side *side)
{
    return side && !map_side(check, side->to, side->from);
}

/* The first of all sides that starts at the vertex, or later. */
static inline size_t map_first_from(const struct map_check *check,
                                    size_t vertex)
{
    size_t low = 0, high = check->side_count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (check->sides[middle].from < vertex)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Of the sides without a neighbour, those from one vertex straight to the
 * other, over corners of other rings that touch the way there. 0: not there. */
static inline size_t map_edges_between(const struct map_check *check,
                                       size_t from, size_t to)
{
    const size_t b = check->place[to];
    size_t a = check->place[from], steps = 0;
    while (a != b) {
        const struct map_side *found = map_side(check, a, b);
        const struct fw_point p = map_point(check, a), q = map_point(check, b);
        for (size_t i = map_first_from(check, a);
             !found && i < check->side_count && check->sides[i].from == a; i++)
            if (check->sides[i].to < check->layout->vertex_count &&
                map_has_no_neighbour(check, &check->sides[i]) &&
                fw_segment_distance_m(map_point(check, check->sides[i].to), p,
                                      q) <= 1e-8)
                found = &check->sides[i];
        if (!map_has_no_neighbour(check, found) || steps++ > 1000)
            return 0;
        a = found->to;
    }
    return steps;
}

/* The sides without a neighbour are the field's own, parted where something
 * stands on them. */
static inline bool map_edge_is_the_fields(struct map_check *check)
{
    const struct fw_field *field = check->field;
    const struct fw_layout *out = check->layout;
    struct map_stand *stands = calloc(out->added_count + 1, sizeof *stands);
    size_t count = 0, at = 0, edges = 0, met = 0, strange = FW_INSIDE;
    for (size_t i = 0; i < out->added_count; i++)
        if (out->added[i].edge != FW_INSIDE)
            stands[count++] = (struct map_stand){
                out->added[i].edge, out->vertex_count + i, out->added[i].t};
    qsort(stands, count, sizeof *stands, map_by_stand);
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t v = field->ring_start[r]; v < field->ring_start[r + 1];
             v++) {
            size_t from = v;
            const size_t next =
                v + 1 < field->ring_start[r + 1] ? v + 1 : field->ring_start[r];
            bool last = false;
            while (!last) {
                last = at == count || stands[at].edge != v;
                const size_t to = last ? next : stands[at++].vertex;
                const size_t steps = map_edges_between(check, from, to);
                if (steps == 0 && check->place[from] != check->place[to])
                    strange = v;
                met += steps;
                from = to;
            }
        }
    free(stands);
    for (size_t i = 0; i < check->side_count; i++) {
        const struct map_side *side = &check->sides[i];
        if (map_has_no_neighbour(check, side)) {
            edges++;
        } else {
            check->inner_m += side->length_m;
            check->inner_count++;
        }
    }
    if (strange != FW_INSIDE || at != count || met != edges)
        NOT_TRUE(check,
                 "side %zd of the field is no edge of the map, which has %zu "
                 "of %zu",
                 (ssize_t)strange, edges, met);
    return true;
}

/* What was added stands where it says, and on a ring. */
static inline bool map_added_stand(struct map_check *check)
{
    const struct fw_layout *out = check->layout;
    for (size_t i = 0; i < out->added_count; i++) {
        const struct fw_layout_vertex *added = &out->added[i];
        const size_t key = check->place[out->vertex_count + i];
        const size_t from = map_first_from(check, key);
        if (from == check->side_count || check->sides[from].from != key)
            NOT_TRUE(check, "added vertex %zu stands on no ring", i);
        if (added->edge == FW_INSIDE)
            continue;
        size_t r = 0;
        while (added->edge >= check->field->ring_start[r + 1])
            r++;
        const size_t next = added->edge + 1 < check->field->ring_start[r + 1]
                                ? added->edge + 1
                                : check->field->ring_start[r];
        const struct fw_point a = check->field->vertices[added->edge].plane;
        const struct fw_point b = check->field->vertices[next].plane;
        const struct fw_point on = {a.x_m + (b.x_m - a.x_m) * added->t,
                                    a.y_m + (b.y_m - a.y_m) * added->t};
        if (!(map_apart_m(on, added->point) <= 1e-8))
            NOT_TRUE(check, "added vertex %zu stands %g m off its side", i,
                     map_apart_m(on, added->point));
    }
    return true;
}

static inline bool map_line_is_told(struct map_check *check,
                                    const struct fw_layout_line *line)
{
    const struct fw_layout *out = check->layout;
    double length_m = 0;
    size_t first = FW_INSIDE, last = 0;
    const size_t end = line->first + line->count - 1;
    for (size_t i = line->first; i < end; i++) {
        const size_t a = check->place[out->line_vertices[i]];
        const size_t b = check->place[out->line_vertices[i + 1]];
        const struct map_side *left = map_side(check, a, b);
        const struct map_side *right = map_side(check, b, a);
        if (!left || !right || left->owner != out->left[i] ||
            right->owner != out->right[i])
            NOT_TRUE(check, "piece %zu of the lines parts not who it says", i);
        length_m += left->length_m;
        const size_t beside[2] = {left->owner, right->owner};
        for (int k = 0; k < 2; k++)
            if (beside[k] < out->paddock_count) {
                first = beside[k] < first ? beside[k] : first;
                last = beside[k] > last ? beside[k] : last;
            }
    }
    if (out->left[end] != FW_INSIDE || out->right[end] != FW_INSIDE ||
        first != line->from || last != line->to ||
        !(fabs(length_m - line->length_m) <= 1e-11 * length_m))
        NOT_TRUE(check,
                 "a line from %zu to %zu of %g m is told as %zu to %zu, %g m",
                 first, last, length_m, line->from, line->to, line->length_m);
    return true;
}

/* Does an end of one line lie amid another one? */
static inline bool map_is_tied(const struct fw_layout *out, size_t line,
                               size_t on)
{
    const struct fw_layout_line *tied = &out->lines[line];
    const struct fw_layout_line *to = &out->lines[on];
    for (size_t i = to->first + 1; line != on && i + 1 < to->first + to->count;
         i++)
        if (out->line_vertices[i] == out->line_vertices[tied->first] ||
            out->line_vertices[i] ==
                out->line_vertices[tied->first + tied->count - 1])
            return true;
    return false;
}

/* A line is needed as long as any of those that are tied to it, and so on. */
static inline bool map_needs_are_told(struct map_check *check)
{
    const struct fw_layout *out = check->layout;
    size_t *from = calloc(out->line_count + 1, sizeof *from);
    size_t *to = calloc(out->line_count + 1, sizeof *to);
    size_t wrong = FW_INSIDE;
    for (size_t l = 0; l < out->line_count; l++) {
        from[l] = out->lines[l].from;
        to[l] = out->lines[l].to;
    }
    for (bool more = true; more;) {
        more = false;
        for (size_t l = 0; l < out->line_count; l++)
            for (size_t on = 0; on < out->line_count; on++) {
                if (!map_is_tied(out, l, on))
                    continue;
                more |= from[l] < from[on] || to[l] > to[on];
                from[on] = from[l] < from[on] ? from[l] : from[on];
                to[on] = to[l] > to[on] ? to[l] : to[on];
            }
    }
    for (size_t on = 0; on < out->line_count; on++) {
        bool holds = false;
        for (size_t l = 0; l < out->line_count; l++)
            holds |= map_is_tied(out, l, on);
        if (out->lines[on].holds_ends != holds ||
            out->lines[on].needed_from != from[on] ||
            out->lines[on].needed_to != to[on])
            wrong = on;
    }
    free(from);
    free(to);
    if (wrong != FW_INSIDE)
        NOT_TRUE(check, "line %zu does not tell how long it is needed", wrong);
    return true;
}

/* Each side between two grounds is a piece of one line. */
static inline bool map_lines_are_told(struct map_check *check)
{
    const struct fw_layout *out = check->layout;
    size_t pieces = 0;
    double moved_m = 0, standing_m = 0;
    for (size_t l = 0; l < out->line_count; l++) {
        const struct fw_layout_line *line = &out->lines[l];
        if (line->count < 2 || !map_line_is_told(check, line))
            return false;
        pieces += line->count - 1;
        *(line->role == FW_LINE_MOVED ? &moved_m : &standing_m) +=
            line->length_m;
    }
    if (2 * pieces != check->inner_count)
        NOT_TRUE(check, "%zu pieces of line, %zu sides between grounds", pieces,
                 check->inner_count);
    const double line_m = check->inner_m / 2;
    if (!(fabs(line_m - out->line_m) <= 1e-11 * line_m) ||
        !(fabs(moved_m - out->moved_m) <= 1e-11 * line_m) ||
        !(fabs(standing_m - out->standing_m) <= 1e-11 * line_m))
        NOT_TRUE(check, "%.12g m of line is told as %.12g = %.12g + %.12g",
                 line_m, out->line_m, out->moved_m, out->standing_m);
    return true;
}

/* ---- does every paddock hold what it should? ---- */

static inline double map_target(const struct fw_layout_request *request,
                                size_t k)
{
    return request
        ->target[k < request->target_count ? k : request->target_count - 1];
}

/* What is left beside full paddocks decides; where a lane is given it depends
 * on what is left by either way. */
static inline bool map_is_even_where_it_should(const struct map_check *check,
                                               double all)
{
    const struct fw_layout_request *request = check->request;
    const bool even = check->layout->even;
    const double rounding = 1e-6;
    if (request->last != FW_LAST_FIT)
        return even == (request->last == FW_LAST_EVEN);
    size_t full = 0;
    double rest = all;
    for (; rest >= map_target(request, full) * (1 - rounding); full++)
        rest -= map_target(request, full);
    const double share = rest / map_target(request, full);
    return request->lane || fabs(share - 0.1) < rounding ||
           fabs(share - 0.5) < rounding ||
           even == (full > 0 && share > 0.1 && share < 0.5 &&
                    all <= 1.15 * (all - rest));
}

/* `holds` of the paddocks, and of the whole field. */
static inline bool map_targets_are_met(struct map_check *check,
                                       const double *holds, double all,
                                       double tolerance)
{
    const struct fw_layout *out = check->layout;
    const struct fw_layout_request *request = check->request;
    const bool even = out->even;
    const size_t count = out->paddock_count;
    double before = 0, targets = 0;
    if (!map_is_even_where_it_should(check, all))
        NOT_TRUE(check, "%g in %zu paddocks, %s", all, count,
                 even ? "even" : "the last one short");
    for (size_t k = 0; k < count; k++)
        targets += map_target(request, k);
    const double share = even ? all / targets : 1;
    for (size_t k = 0; k < count; k++) {
        const double target = map_target(request, k);
        const double wanted =
            even || k + 1 < count ? target * share : all - before;
        if (!(fabs(holds[k] - wanted) <= tolerance * target))
            NOT_TRUE(check, "paddock %zu holds %.15g of %.15g (off by %.2g)", k,
                     holds[k], wanted, holds[k] / wanted - 1);
        before += wanted;
    }
    const double target = map_target(request, count - 1);
    const double last =
        even ? share : (all - (before - holds[count - 1])) / target;
    const size_t full =
        even ? (share >= 1 - 1e-9 ? count : 0) : count - (last < 1 - 1e-9);
    if (out->full_count != full || !(fabs(out->share - share) <= 1e-9) ||
        !(fabs(out->last_share - (even ? share : last)) <= 1e-9))
        NOT_TRUE(check,
                 "%zu full, share %.12g, last %.12g told as %zu, %.12g, "
                 "%.12g",
                 full, share, last, out->full_count, out->share,
                 out->last_share);
    const double crumb = (last - 1) * target / map_target(request, count);
    if (!even && count > 1 && !(last >= 0.1 && crumb < 0.1))
        NOT_TRUE(check, "the last paddock holds %g of its target", last);
    return true;
}

/* ---- is it grazed in an order that can be walked? ---- */

static inline int map_by_pair(const void *left, const void *right)
{
    const struct map_door *a = left, *b = right;
    if (a->a != b->a)
        return a->a < b->a ? -1 : 1;
    return a->b < b->b ? -1 : a->b > b->b;
}

static inline void map_list_doors(struct map_check *check)
{
    check->doors = calloc(check->side_count + 1, sizeof *check->doors);
    size_t n = 0;
    for (size_t i = 0; i < check->side_count; i++) {
        const struct map_side *other =
            map_side(check, check->sides[i].to, check->sides[i].from);
        if (other && other->owner != check->sides[i].owner)
            check->doors[n++] = (struct map_door){
                check->sides[i].owner, other->owner, check->sides[i].length_m};
    }
    qsort(check->doors, n, sizeof *check->doors, map_by_pair);
    for (size_t i = 0; i < n; i++) {
        struct map_door *last = &check->doors[check->door_count];
        if (check->door_count && map_by_pair(last - 1, &check->doors[i]) == 0)
            last[-1].length_m += check->doors[i].length_m;
        else
            check->doors[check->door_count++] = check->doors[i];
    }
}

static inline double map_to_paddock_m(const struct map_check *check, size_t p,
                                      struct fw_point from)
{
    double least = HUGE_VAL, round = 0;
    for (size_t i = 0; i < check->side_count; i++) {
        if (check->sides[i].owner != p)
            continue;
        const struct fw_point a = map_point(check, check->sides[i].from);
        const struct fw_point b = map_point(check, check->sides[i].to);
        const double x = b.x_m - a.x_m, y = b.y_m - a.y_m;
        round += remainder(atan2(b.y_m - from.y_m, b.x_m - from.x_m) -
                               atan2(a.y_m - from.y_m, a.x_m - from.x_m),
                           2 * acos(-1));
        const double t =
            ((from.x_m - a.x_m) * x + (from.y_m - a.y_m) * y) / (x * x + y * y);
        const double in = fmin(1, fmax(0, t));
        least =
            fmin(least, map_apart_m(from, (struct fw_point){a.x_m + in * x,
                                                            a.y_m + in * y}));
    }
    /* From inside one turns once all the way round. */
    return fabs(round) > acos(-1) ? 0 : least;
}

/* No paddock is farther, and the lane that adjoins it begins at the start. */
static inline bool map_far_is_first(struct map_check *check,
                                    struct fw_point start, double first_m,
                                    bool by_lane)
{
    const struct fw_layout *out = check->layout;
    double lane_m = HUGE_VAL;
    for (size_t p = 1; p < map_grounds(check); p++) {
        const double m = map_to_paddock_m(check, p, start);
        if (p >= out->paddock_count)
            lane_m = fmin(lane_m, m);
        else if (m > first_m + 1e-5)
            NOT_TRUE(check, "paddock %zu is %g m from the gate, the first %g",
                     p, m, first_m);
    }
    if (!check->request->far_first || !by_lane || lane_m > 1 || out->gate_m > 0)
        NOT_TRUE(check, "the far end is first; the lane is %g m off", lane_m);
    return true;
}

static inline bool map_order_is_told(struct map_check *check)
{
    const double least_door_m = 4;
    const struct fw_layout *out = check->layout;
    size_t apart = 0, turns = 0;
    map_list_doors(check);
    bool *reached = calloc(map_grounds(check), sizeof *reached);
    bool *follows = calloc(map_grounds(check), sizeof *follows);
    for (size_t i = 0; i < check->door_count; i++) {
        const struct map_door *door = &check->doors[i];
        if (door->length_m < least_door_m)
            continue;
        reached[door->a] |= door->b < door->a || door->b >= out->paddock_count;
        follows[door->a] |= door->b + 1 == door->a;
    }
    for (size_t p = 1; p < out->paddock_count; p++) {
        apart += !reached[p];
        turns += !follows[p];
    }
    const bool reached_first = out->paddock_count > 0 && reached[0];
    free(reached);
    free(follows);
    if (apart != out->apart_count || turns != out->turn_count)
        NOT_TRUE(check, "%zu paddocks apart and %zu turns are told as %zu, %zu",
                 apart, turns, out->apart_count, out->turn_count);
    if (!check->request->start)
        return true;
    const struct fw_point start = *check->request->start;
    const double first_m = map_to_paddock_m(check, 0, start);
    if (out->far_first)
        return map_far_is_first(check, start, first_m, reached_first);
    double gate_m = first_m;
    for (size_t p = 1; p < map_grounds(check); p++) {
        const double m = map_to_paddock_m(check, p, start);
        if (p >= out->paddock_count)
            gate_m = fmin(gate_m, m);
        else if (check->request->one_way && p + 1 < out->paddock_count)
            continue; /* they only pass it on the way to the nearer end */
        else if (m < first_m - 1e-5)
            NOT_TRUE(check, "paddock %zu is %g m from the gate, the first %g",
                     p, m, first_m);
    }
    if (!(fabs(gate_m - out->gate_m) <= 1e-5))
        NOT_TRUE(check, "the gate is %g m off, not %g", gate_m, out->gate_m);
    return true;
}

/* ---- all of it ---- */

static inline void map_check_release(struct map_check *check)
{
    free(check->place);
    free(check->sides);
    free(check->doors);
    check->place = NULL;
    check->sides = NULL;
    check->doors = NULL;
}

/* Rings, edge and lines only. */
static inline bool map_fits(struct map_check *check,
                            const struct fw_field *field,
                            const struct fw_layout *layout)
{
    *check = (struct map_check){.field = field, .layout = layout};
    return map_rings_are_told(check) && map_list_sides(check) &&
           map_edge_is_the_fields(check) && map_added_stand(check) &&
           map_lines_are_told(check) && map_needs_are_told(check);
}

/* `all` is what the whole field holds; `tolerance` of what a paddock holds.
 * Afterwards check->why tells what is not true. */
static inline bool map_is_true(struct map_check *check,
                               const struct fw_layout_request *request,
                               const struct fw_layout *layout, double all,
                               double tolerance)
{
    bool fine = map_fits(check, request->field, layout);
    check->request = request;
    /* What a lane or an apron holds is not grazed. */
    for (size_t p = 0; fine && p < layout->common_count; p++)
        all -= layout->holds[layout->paddock_count + p];
    fine = fine && map_targets_are_met(check, layout->holds, all, tolerance) &&
           map_order_is_told(check);
    map_check_release(check);
    return fine;
}

/* Of even ground. */
static inline void assert_map(const struct fw_layout_request *request,
                              const struct fw_layout *layout)
{
    struct map_check check;
    if (!map_is_true(&check, request, layout, request->field->area_m2, 1e-9))
        fail_msg("%s: %s", layout->name, check.why);
    for (size_t p = 0; p < layout->paddock_count; p++)
        assert_near(layout->holds[p], layout->paddock_m2[p], 0);
    assert_int_equal(layout->broken_count, 0);
    assert_int_equal(layout->apart_count, 0);
}

static inline const struct fw_layout *
least_line(const struct fw_layout_list *list)
{
    const struct fw_layout *best = NULL;
    for (size_t i = 0; i < list->count; i++)
        if (!best || list->items[i].line_m < best->line_m)
            best = &list->items[i];
    return best;
}

#endif
