/* Where a line that somebody drew, and lines beside it, cross a field. */
#include "cutting/lane_line.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include "geo/points.h"

#include <math.h>

struct crossing {
    double at; /* piece of the line, and how far along */
    size_t ring, side;
    double t;
};

static struct fw_point unit(struct fw_point a, struct fw_point b)
{
    const struct fw_point way = fw_point_minus(b, a);
    const double length_m = fw_length(way.x_m, way.y_m);
    return (struct fw_point){way.x_m / length_m, way.y_m / length_m};
}

static struct fw_point at(const struct fw_point *points, double place)
{
    const size_t i = (size_t)place;
    const double t = place - (double)i;
    return (struct fw_point){
        points[i].x_m + (points[i + 1].x_m - points[i].x_m) * t,
        points[i].y_m + (points[i + 1].y_m - points[i].y_m) * t};
}

/* ---- crossings ---- */

static bool cross_side(struct fw_point a, struct fw_point b, struct fw_point p,
                       struct fw_point q, double *along, double *t)
{
    const struct fw_point way = fw_point_minus(b, a),
                          side = fw_point_minus(q, p);
    const double turn = fw_point_cross(way, side);
    if (!(fabs(turn) > 0))
        return false;
    *along = fw_point_cross(fw_point_minus(p, a), side) / turn;
    *t = fw_point_cross(fw_point_minus(p, a), way) / turn;
    return *along >= 0 && *along < 1 && *t >= 0 && *t < 1;
}

/* The nearest crossings before and after a place of the line; at infinity where
 * there are none. */
static void nearest(const struct fw_field *field, const struct fw_point *points,
                    size_t count, double place, struct crossing *before,
                    struct crossing *after)
{
    *before = (struct crossing){.at = -HUGE_VAL};
    *after = (struct crossing){.at = HUGE_VAL};
    for (size_t r = 0; r < field->ring_count; r++)
        for (size_t s = field->ring_start[r]; s < field->ring_start[r + 1];
             s++) {
            const size_t next =
                s + 1 < field->ring_start[r + 1] ? s + 1 : field->ring_start[r];
            for (size_t i = 0; i + 1 < count; i++) {
                double along, t;
                if (!cross_side(points[i], points[i + 1],
                                field->vertices[s].plane,
                                field->vertices[next].plane, &along, &t))
                    continue;
                const struct crossing here = {(double)i + along, r, s, t};
                if (here.at <= place && here.at > before->at)
                    *before = here;
                if (here.at > place && here.at < after->at)
                    *after = here;
            }
        }
}

/* ---- the way ---- */

static double reach_m(const struct fw_field *field, struct fw_point from)
{
    double most_m = 0;
    for (size_t i = 0; i < field->ring_start[1]; i++) {
        const struct fw_point way =
            fw_point_minus(field->vertices[i].plane, from);
        most_m = fmax(most_m, fw_length(way.x_m, way.y_m));
    }
    return 2 * most_m + 1;
}

static struct fw_point beyond(const struct fw_field *field, struct fw_point a,
                              struct fw_point b)
{
    const struct fw_point way = unit(a, b);
    const double m = reach_m(field, b);
    return (struct fw_point){b.x_m + way.x_m * m, b.y_m + way.y_m * m};
}

/* Points that come twice are one. */
static void take(struct fw_lane_way *way, const struct fw_point *points,
                 size_t count, bool back)
{
    size_t n = 1;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point p = points[back ? count - 1 - i : i];
        const struct fw_point step = fw_point_minus(p, way->points[n - 1]);
        if (n == 1 || fw_length(step.x_m, step.y_m) > 0)
            way->points[n++] = p;
    }
    way->count = n + 1;
    if (n < FW_PARTS(3))
        return;
    way->points[0] = beyond(way->field, way->points[2], way->points[1]);
    way->points[n] = beyond(way->field, way->points[n - 2], way->points[n - 1]);
}

static double between_m(const struct fw_point *points, double from, double to)
{
    struct fw_point last = at(points, from);
    double sum_m = 0;
    for (size_t i = (size_t)from + 1; (double)i < to; i++) {
        sum_m += fw_point_apart_m(points[i], last);
        last = points[i];
    }
    const struct fw_point end = at(points, to);
    return sum_m + fw_point_apart_m(end, last);
}

/* The longest stretch in the field, from crossing to crossing. */
static bool find_stretch(struct fw_lane_way *way)
{
    struct crossing before, after;
    double most_m = 0;
    for (double place = 0;; place = after.at) {
        nearest(way->field, way->points, way->count, place, &before, &after);
        if (isinf(after.at))
            return most_m > 0;
        const double middle = (before.at + after.at) / 2;
        if (isinf(before.at) || before.ring > 0 || after.ring > 0 ||
            !fw_field_contains(way->field, at(way->points, middle), 0))
            continue;
        const struct fw_point from = at(way->points, before.at);
        const struct fw_point to = at(way->points, after.at);
        const double m = between_m(way->points, before.at, after.at);
        if (!(m > most_m))
            continue;
        most_m = m;
        way->middle = middle;
        way->deg = atan2(to.y_m - from.y_m, to.x_m - from.x_m) * 180 / FW_PI;
    }
}

enum fw_status fw_lane_way_init(struct fw_lane_way *way,
                                const struct fw_field *field,
                                const struct fw_point *points, size_t count,
                                bool back, bool *inside, struct fw_error *err)
{
    *way = (struct fw_lane_way){.field = field};
    way->points = fw_alloc(count + 2, sizeof *way->points);
    way->beside = fw_alloc(count + 2, sizeof *way->beside);
    if (!way->points || !way->beside) {
        fw_lane_way_release(way);
        return fw_fail_memory(err);
    }
    take(way, points, count, back);
    *inside = way->count >= FW_PARTS(4) && find_stretch(way);
    if (!*inside)
        fw_lane_way_release(way);
    return FW_OK;
}

void fw_lane_way_release(struct fw_lane_way *way)
{
    fw_free(way->points);
    fw_free(way->beside);
    *way = (struct fw_lane_way){0};
}

/* ---- beside it ---- */

/* Where the lines beside the pieces before and after a point meet. */
static bool corner_beside(const struct fw_lane_way *way, size_t i,
                          double left_m, struct fw_point *out)
{
    const struct fw_point p = way->points[i];
    const struct fw_point here =
        unit(i > 0 ? way->points[i - 1] : p, i > 0 ? p : way->points[1]);
    const struct fw_point next =
        i + 1 < way->count ? unit(p, way->points[i + 1]) : here;
    const double x_m = -(here.y_m + next.y_m), y_m = here.x_m + next.x_m;
    const double square = x_m * x_m + y_m * y_m; /* 4 cosines squared */
    if (square < FW_PARTS(4) * FW_LANE_BEND_COSINE * FW_LANE_BEND_COSINE)
        return false;
    *out = (struct fw_point){p.x_m + x_m * 2 * left_m / square,
                             p.y_m + y_m * 2 * left_m / square};
    return true;
}

/* Does each piece beside still run the way of its own? */
static bool runs_along(const struct fw_lane_way *way,
                       const struct fw_point *beside)
{
    for (size_t i = 0; i + 1 < way->count; i++) {
        const struct fw_point own =
            fw_point_minus(way->points[i + 1], way->points[i]);
        const struct fw_point its = fw_point_minus(beside[i + 1], beside[i]);
        if (!(own.x_m * its.x_m + own.y_m * its.y_m > 0))
            return false;
    }
    return true;
}

static enum fw_lane_found find_line(const struct fw_lane_way *way,
                                    const struct fw_point *beside,
                                    struct fw_lane_line *line)
{
    const struct fw_field *field = way->field;
    struct crossing before, after;
    if (!fw_field_contains(field, at(beside, way->middle), 0))
        return FW_LANE_OUTSIDE;
    nearest(field, beside, way->count, way->middle, &before, &after);
    if (isinf(before.at) || isinf(after.at) || before.ring > 0 ||
        after.ring > 0)
        return FW_LANE_BLOCKED;
    line->from_side = before.side;
    line->from_t = before.t;
    line->to_side = after.side;
    line->to_t = after.t;
    line->by_count = 0;
    for (size_t i = (size_t)before.at + 1; (double)i < after.at; i++)
        line->by[line->by_count++] = beside[i];
    return FW_LANE_FOUND;
}

enum fw_lane_found fw_lane_line_at(const struct fw_lane_way *way, double left_m,
                                   struct fw_lane_line *line)
{
    for (size_t i = 0; i < way->count; i++)
        if (!corner_beside(way, i, left_m, &way->beside[i]))
            return FW_LANE_BLOCKED;
    return runs_along(way, way->beside) ? find_line(way, way->beside, line)
                                        : FW_LANE_BLOCKED;
}
