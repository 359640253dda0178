/* A ring in metres, cut into paddocks of 2,000 m2: the layout with the least
 * line.
 *
 *   cc cut_ring.c $(pkg-config --cflags --libs foldwright) && ./a.out
 */
#include <foldwright/foldwright.h>
#include <stdio.h>

int main(void)
{
    static const struct fw_point ring[] = {
        {0, 0}, {180, -20}, {240, 90}, {120, 150}, {-10, 130}};
    static const size_t ring_start[] = {0, 5};
    struct fw_error err;
    struct fw_field *field = NULL;
    struct fw_layout_list list = {0};
    const double target_m2 = 2000;

    enum fw_status status =
        fw_field_from_rings(ring, ring_start, 1, "ley", &field, &err);
    if (!status) {
        const struct fw_layout_request request = {
            .field = field, .target = &target_m2, .target_count = 1};
        status = fw_layout_candidates(&request, &list, &err);
    }
    const struct fw_layout *least = NULL;
    for (size_t i = 0; !status && i < list.count; i++)
        if (!least || list.items[i].line_m < least->line_m)
            least = &list.items[i];
    if (least)
        printf("%.0f m2: %s, %zu paddocks, %.1f m of line\n", field->area_m2,
               least->name, least->paddock_count, least->line_m);
    for (size_t i = 0; least && i < least->paddock_count; i++)
        printf("paddock %zu: %.2f m2\n", i + 1, least->paddock_m2[i]);
    if (status)
        fprintf(stderr, "%s\n", err.text);
    fw_layout_list_release(&list);
    fw_field_free(field);
    return status;
}
