/* A plan from a field in memory and a few settings, without any file.
 *
 *   cc make_plan.c $(pkg-config --cflags --libs foldwright) && ./a.out
 */
#include <foldwright/foldwright.h>
#include <stdio.h>

int main(void)
{
    static const struct fw_lonlat corners[] = {
        {-8.100, 52.600}, {-8.096, 52.600}, {-8.096, 52.602}, {-8.100, 52.602}};
    static const size_t ring_start[] = {0, 4};
    const struct fw_farm_rings field = {"river ley", corners, ring_start, 1};
    const struct fw_farm_setting told[] = {
        {"start", "2027-05-03", "start"},
        {"flock[0].head", "80", "head"},
        {"flock[0].weight", "65 kg", "weight"},
        {"flock[0].state", "lactation-twins", "class"},
        {"forage.mass", "2400 kg/ha", "mass"},
        {"forage.residual", "1400 kg/ha", "residual"},
        {"gate", "corner:1", "gate"},
    };
    const struct fw_farm_request request = {
        .rings = &field,
        .rings_count = 1,
        .settings = told,
        .setting_count = sizeof told / sizeof told[0],
    };
    struct fw_error err;
    struct fw_notes notes = {0};
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    enum fw_status status = fw_farm_read(&request, &farm, NULL, &notes, &err);
    if (!status)
        status = fw_plan_make(farm, &plan, &err);
    if (status)
        fprintf(stderr, "%s\n", err.text);
    const struct fw_plan_totals *sums = fw_plan_sums(plan);
    if (sums)
        printf("%d paddocks, %.0f m of wire moved, %.1f minutes a move\n",
               sums->paddocks, sums->moved_wire_m, sums->minutes_per_move);
    fw_plan_free(plan);
    fw_farm_free(farm);
    fw_notes_release(&notes);
    return status;
}
