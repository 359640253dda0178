#include "fence/line.h"

#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "geo/points.h"
#include <math.h>

/* Coordinates are good to a nanometre or so: under a micrometre a side has no
 * direction that means anything, and would make bends of noise. */
static const double same_m = FW_TOLERANCE(1e-6);

/* A turn drawn as 15 degrees comes out a hair over or under it. */
static const double rounding_deg = FW_TOLERANCE(1e-6);

static double distance_m(struct fw_point a, struct fw_point b)
{
    return fw_point_apart_m(b, a);
}

double fw_fence__turn_deg(struct fw_point a, struct fw_point b,
                          struct fw_point c)
{
    const double ux = b.x_m - a.x_m, uy = b.y_m - a.y_m;
    const double vx = c.x_m - b.x_m, vy = c.y_m - b.y_m;
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy) * FW_RADIAN_DEG;
}

/* Copy the points that differ from the one before; returns how many. */
static size_t copy_distinct(const struct fw_point *points, size_t count,
                            bool closed, struct fw_point *out)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || !(distance_m(out[kept - 1], points[i]) < same_m))
            out[kept++] = points[i];
    if (closed && kept > 1 && distance_m(out[kept - 1], out[0]) < same_m)
        kept--;
    return kept;
}

static size_t first_sharp(const struct fw_point *ring, size_t count,
                          double bend_deg)
{
    for (size_t i = 0; i < count; i++) {
        const double turn = fw_fence__turn_deg(ring[(i + count - 1) % count],
                                               ring[i], ring[(i + 1) % count]);
        if (fabs(turn) > bend_deg + rounding_deg)
            return i;
    }
    return 0;
}

static void rotate(const struct fw_point *ring, size_t count, size_t start,
                   struct fw_point *out)
{
    for (size_t i = 0; i <= count; i++)
        out[i] = ring[(start + i) % count];
}

/* A bend is a turn sharper than bend_deg, or the place where a curve of small
 * turns has come round that far since the last bend: a wire pulled past it
 * would leave the line. */
static void mark_bends(struct fw_fence__line *line, double bend_deg)
{
    double turned = 0;
    line->marks[0] = 0;
    line->mark_count = 1;
    for (size_t i = 1; i + 1 < line->count; i++) {
        const double turn = fw_fence__turn_deg(
            line->points[i - 1], line->points[i], line->points[i + 1]);
        turned += turn;
        if (fmax(fabs(turn), fabs(turned)) > bend_deg + rounding_deg) {
            line->marks[line->mark_count++] = line->at_m[i];
            turned = 0;
        }
    }
    line->marks[line->mark_count] = line->length_m;
}

static void measure(struct fw_fence__line *line)
{
    line->at_m[0] = 0;
    for (size_t i = 1; i < line->count; i++)
        line->at_m[i] = line->at_m[i - 1] +
                        distance_m(line->points[i - 1], line->points[i]);
    line->length_m = line->at_m[line->count - 1];
}

static double length_to(const struct fw_point *points, size_t last)
{
    double sum = 0;
    for (size_t i = 1; i <= last; i++)
        sum += distance_m(points[i - 1], points[i]);
    return sum;
}

enum fw_status fw_fence__line_new(const struct fw_point *points, size_t count,
                                  bool closed, double bend_deg,
                                  struct fw_fence__line *out,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    struct fw_fence__line line = {.closed = closed};
    struct fw_point *distinct = fw_alloc(count, sizeof *distinct);
    line.points = fw_alloc(count + 1, sizeof *line.points);
    line.at_m = fw_alloc(count + 1, sizeof *line.at_m);
    line.marks = fw_alloc(count + 1, sizeof *line.marks);
    if (!distinct || !line.points || !line.at_m || !line.marks) {
        status = fw_fail_memory(err);
        goto done;
    }

    const size_t kept = copy_distinct(points, count, closed, distinct);
    if (kept < 2) {
        status = fw_fail(err, FW_EFAULT,
                         "a fence line of %zu points has no length", count);
        goto done;
    }
    const size_t start = closed ? first_sharp(distinct, kept, bend_deg) : 0;
    line.offset_m = length_to(distinct, start);
    line.count = kept + (closed ? 1 : 0);
    if (closed)
        rotate(distinct, kept, start, line.points);
    else
        for (size_t i = 0; i < kept; i++)
            line.points[i] = distinct[i];

    measure(&line);
    if (!isfinite(line.length_m)) {
        status = fw_fail(err, FW_EFAULT,
                         "a fence line has a point that is not finite");
        goto done;
    }
    mark_bends(&line, bend_deg);
    *out = line;
    line = (struct fw_fence__line){0};
done:
    fw_free(distinct);
    fw_fence__line_release(&line);
    return status;
}

void fw_fence__line_release(struct fw_fence__line *line)
{
    fw_free(line->points);
    fw_free(line->at_m);
    fw_free(line->marks);
    *line = (struct fw_fence__line){0};
}

struct fw_point fw_fence__line_point(const struct fw_fence__line *line,
                                     double at_m)
{
    size_t low = 0, high = line->count - 1;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (line->at_m[middle] <= at_m)
            low = middle;
        else
            high = middle;
    }
    const struct fw_point a = line->points[low], b = line->points[high];
    const double side_m = line->at_m[high] - line->at_m[low];
    const double t = fmin(1, fmax(0, (at_m - line->at_m[low]) / side_m));
    /* The ends exactly as they came, so that posts at corners agree with the
     * map to the last digit. */
    if (t >= 1)
        return b;
    return (struct fw_point){a.x_m + t * (b.x_m - a.x_m),
                             a.y_m + t * (b.y_m - a.y_m)};
}
