#include "plan/place.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "plan/post.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

struct fw_point fw_plan__at(const struct fw_plan_field *field, size_t vertex)
{
    return field->vertices[vertex].plane;
}

bool fw_plan__is_one_place(struct fw_point a, struct fw_point b)
{
    const double same_m = FW_TOLERANCE(1e-3);
    return fabs(a.x_m - b.x_m) <= same_m && fabs(a.y_m - b.y_m) <= same_m;
}

enum { letters = 'Z' - 'A' + 1 };

/* As spreadsheet columns are: A to Z, AA, AB, ... */
static void write_letter(size_t number, char text[8])
{
    char reversed[8];
    size_t n = 0;
    for (size_t rest = number + 1; rest > 0 && n + 1 < sizeof reversed;
         rest = (rest - 1) / letters)
        reversed[n++] = (char)('A' + (rest - 1) % letters);
    for (size_t i = 0; i < n; i++)
        text[i] = reversed[n - 1 - i];
    text[n] = '\0';
}

static size_t read_letter(const char *id)
{
    size_t number = 0;
    for (; *id >= 'A' && *id <= 'Z'; id++)
        number = letters * number + (size_t)(*id - 'A') + 1;
    return number > 0 ? number - 1 : 0;
}

/* Fields are lettered in their order; where the first one has its names from a
 * plan made before, it and the field whose letter that is change theirs. */
char fw_plan__letter(const struct fw_plan *plan, size_t field, char text[8])
{
    const struct fw_plan_field *first = &plan->fields[0];
    const size_t number =
        first->paddock_count > 0 && first->first_paddock < plan->paddock_count
            ? read_letter(plan->paddocks[first->first_paddock].id)
            : 0;
    write_letter(field == 0 ? number : field == number ? 0 : field, text);
    return text[0];
}

bool fw_plan__is_used(const struct fw_plan *plan, size_t fence)
{
    return plan->fences[fence].role == FW_FENCE_PERIMETER ||
           plan->fences[fence].stood || fw_plan_is_set(plan, fence);
}

/* Names are short; one that is not is cut, which a person can live with. */
void fw_plan__id(char id[FW_ID], const char *format, ...)
{
    va_list args;
    va_start(args, format);
    vsnprintf(id, FW_ID, format, args);
    va_end(args);
}

void fw_plan__post_id(char id[FW_ID], const char *fence, enum fw_post_why why,
                      size_t number)
{
    snprintf(id, FW_ID, "%.18s/%s%u", fence, why == FW_POST_SIGN ? "s" : "",
             (unsigned)number);
}

struct fw_point *fw_plan__ring(const struct fw_plan_field *field,
                               const struct fw_plan_rings *rings, size_t ring,
                               size_t *count)
{
    const size_t first = rings->ring_start[ring];
    *count = rings->ring_start[ring + 1] - first;
    struct fw_point *points = fw_alloc(*count, sizeof *points);
    if (!points)
        return NULL;
    for (size_t i = 0; i < *count; i++)
        points[i] = fw_plan__at(field, rings->vertices[first + i]);
    return points;
}

struct fw_point *fw_plan__line(const struct fw_plan_field *field,
                               const struct fw_plan_fence *fence)
{
    struct fw_point *points = fw_alloc(fence->line_count, sizeof *points);
    for (size_t i = 0; points && i < fence->line_count; i++)
        points[i] = fw_plan__at(field, fence->line[i]);
    return points;
}

/* Twice the area by the plain shoelace: only to compare pieces. */
static double rough_area(const struct fw_plan_field *field,
                         const struct fw_plan_rings *rings, size_t ring)
{
    const size_t first = rings->ring_start[ring];
    const size_t count = rings->ring_start[ring + 1] - first;
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a =
            fw_plan__at(field, rings->vertices[first + i]);
        const struct fw_point b =
            fw_plan__at(field, rings->vertices[first + (i + 1) % count]);
        sum += a.x_m * b.y_m - b.x_m * a.y_m;
    }
    return fabs(sum);
}

size_t fw_plan__greatest_ring(const struct fw_plan_field *field,
                              const struct fw_plan_rings *rings)
{
    size_t best = rings->piece_ring[0];
    double best_area = rough_area(field, rings, best);
    for (size_t piece = 1; piece < rings->piece_count; piece++) {
        const size_t ring = rings->piece_ring[piece];
        const double area = rough_area(field, rings, ring);
        if (area > best_area) {
            best = ring;
            best_area = area;
        }
    }
    return best;
}
