/* Fields from standard input, cut up with nothing but the core: no maps, no
 * earth, no files. Each line of input is a ring, "x y x y ..."; a line "field
 * PADDOCKS" ends a field. Prints every candidate with its figures. */
#include "geo/geo.h"
#include <foldwright/layout.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { most_points = 4096, most_rings = 64 };

static struct fw_point points[most_points];
static size_t ring_start[most_rings + 1], ring_count;

static void read_ring(char *line)
{
    size_t count = ring_start[ring_count];
    char *end = line;
    for (;;) {
        points[count].x_m = strtod(line, &end);
        if (end == line)
            break;
        points[count].y_m = strtod(end, &line);
        count++;
    }
    ring_start[++ring_count] = count;
}

static void show(const struct fw_layout *layout)
{
    printf("%s %s: %zu paddocks, %zu lines, broken %zu, apart %zu, turns %zu\n",
           layout->pattern, layout->name, layout->paddock_count,
           layout->line_count, layout->broken_count, layout->apart_count,
           layout->turn_count);
    printf("  %.17g %.17g %.17g\n", layout->line_m, layout->gate_m,
           layout->last_share);
    for (size_t i = 0; i < layout->paddock_count; i++)
        printf("  %zu %.17g\n",
               layout->piece_ring[layout->paddock_piece[i] + 1] -
                   layout->piece_ring[layout->paddock_piece[i]],
               layout->paddock_m2[i]);
    for (size_t i = 0; i < layout->added_count; i++)
        printf("  %.17g %.17g\n", layout->added[i].point.x_m,
               layout->added[i].point.y_m);
}

static int lay_out(double paddocks)
{
    struct fw_field *field = NULL;
    struct fw_layout_list list = {0};
    struct fw_error err = {.text = ""};
    enum fw_status status =
        fw_field_from_rings(points, ring_start, ring_count, "", &field, &err);
    if (!status) {
        const double target_m2 = field->area_m2 / paddocks;
        const struct fw_layout_request request = {
            .field = field,
            .target = &target_m2,
            .target_count = 1,
            .start = &field->vertices[field->corners[0]].plane,
            .directions = 36,
        };
        status = fw_layout_candidates(&request, &list, &err);
    }
    printf("field of %zu rings in %g: ", ring_count, paddocks);
    if (status)
        printf("%s\n", err.text);
    else
        printf("%zu layouts\n", list.count);
    for (size_t i = 0; i < list.count; i++)
        show(&list.items[i]);
    fw_layout_list_release(&list);
    fw_field_free(field);
    ring_count = 0;
    return status == FW_OK ? 0 : 1;
}

int main(void)
{
    static char line[65536];
    int failed = 0;
    while (fgets(line, sizeof line, stdin))
        if (strncmp(line, "field ", 6) == 0)
            failed |= lay_out(strtod(line + 6, NULL));
        else
            read_ring(line);
    return failed;
}
