/* Whether all candidates for a field are true. */
#ifndef FW_LAYOUT_FIELDS_H
#define FW_LAYOUT_FIELDS_H

#include "geo/geo.h"
#include "real_fields.h"
#include "unit/layout_help.h"
#include <foldwright/layout.h>

#include <time.h>

/* The bound for the field's own corners: vertices that keep an edge straight
 * in the file within a millimetre are none. */
static inline double bound_of(const struct fw_field *field,
                              const struct fw_layout *layout)
{
    size_t corners = 0;
    for (size_t i = 0; i < field->vertex_count; i++)
        corners += field->vertices[i].kind == FW_VERTEX_INPUT;
    return fw_layout_bound_m(layout->paddock_m2, layout->paddock_count,
                             field->perimeter_m + field->holes_m, corners,
                             field->ring_count - 1);
}

/* Is every candidate a true map, not under its bound? */
static inline bool all_are_true(const struct fw_layout_request *request,
                                const struct fw_layout_list *list, char *why,
                                size_t room)
{
    struct map_check check;
    for (size_t i = 0; i < list->count; i++) {
        const struct fw_layout *layout = &list->items[i];
        const double bound_m = bound_of(request->field, layout);
        if (!map_is_true(&check, request, layout, request->field->area_m2,
                         1e-9)) {
            snprintf(why, room, "%s: %s", layout->name, check.why);
            return false;
        }
        if (layout->broken_count != 0 ||
            layout->line_m < bound_m * (1 - 1e-6)) {
            snprintf(why, room, "%s: %zu broken, %.9g m of line, bound %.9g",
                     layout->name, layout->broken_count, layout->line_m,
                     bound_m);
            return false;
        }
    }
    return true;
}

static inline double cpu_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static inline double time_factor(void)
{
    const char *given = getenv("FW_BENCH_FACTOR");
    return given ? strtod(given, NULL) : 1;
}

#endif
