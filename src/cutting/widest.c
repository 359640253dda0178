#include "cutting/widest.h"
#include "base/angle.h"
#include "geo/points.h"

#include <math.h>

static struct fw_point corner(const struct fw_field *field, size_t i)
{
    return field->vertices[field->corners[i]].plane;
}

static size_t farthest(const struct fw_field *field, double angle)
{
    const double c = cos(angle), s = sin(angle);
    size_t best = 0;
    double most_m = -HUGE_VAL;
    for (size_t i = 0; i < field->corner_count; i++) {
        const struct fw_point p = corner(field, i);
        const double m = p.x_m * c + p.y_m * s;
        if (m > most_m) {
            most_m = m;
            best = i;
        }
    }
    return best;
}

/* Rising, each once. */
static size_t list_outer(const struct fw_field *field,
                         size_t out[FW_MANY_CORNERS])
{
    const double turn = 2 * FW_PI;
    size_t count = 0;
    if (field->corner_count <= FW_MANY_CORNERS) {
        for (; count < field->corner_count; count++)
            out[count] = count;
        return count;
    }
    for (size_t k = 0; k < FW_MANY_CORNERS; k++) {
        const size_t found =
            farthest(field, turn * (double)k / FW_MANY_CORNERS);
        size_t at = count;
        while (at > 0 && out[at - 1] > found)
            at--;
        if (at > 0 && out[at - 1] == found)
            continue;
        for (size_t i = count++; i > at; i--)
            out[i] = out[i - 1];
        out[at] = found;
    }
    return count;
}

double fw_layout__widest(const struct fw_field *field, size_t *a, size_t *b)
{
    size_t outer[FW_MANY_CORNERS];
    const size_t count = list_outer(field, outer);
    double most_m = -1;
    *a = *b = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++) {
            const struct fw_point p = corner(field, outer[i]);
            const struct fw_point q = corner(field, outer[k]);
            const double m = fw_point_apart_m(p, q);
            if (m > most_m) {
                most_m = m;
                *a = outer[i];
                *b = outer[k];
            }
        }
    return most_m;
}

bool fw_layout__side_counts(const struct fw_field *field, double side_m)
{
    return field->corner_count <= FW_MANY_CORNERS ||
           side_m > field->perimeter_m / FW_MANY_CORNERS;
}
