/* The least interior fence that paddocks of given areas can do with. The proof
 * of both bounds stands in docs/guide/layout.md. */
#include <foldwright/layout.h>

#include "base/angle.h"
#include "figures/mark.h"

#include <math.h>

/* Paddocks that differ by less are one size to the bound. */
static const double alike = FW_TOLERANCE(1e-6);

/* Perimeter of a regular polygon of `sides` (any real number from 3) and area
 * 1: no polygon with so many sides has less. */
static double polygon_perimeter(double sides)
{
    return sqrt(FW_PARTS(4) * sides * tan(FW_PI / sides));
}

double fw_layout_bound_m(const double *area_m2, size_t count, double boundary_m,
                         size_t vertices, size_t holes)
{
    if (!area_m2)
        return 0;
    double greatest_m2 = 0, round_m = 0;
    for (size_t i = 0; i < count; i++) {
        greatest_m2 = fmax(greatest_m2, area_m2[i]);
        round_m += 2 * sqrt(FW_PI * area_m2[i]);
    }
    /* The straight-fence bound for the paddocks of the full size, the round
     * one for the others (a short last one), which have 3 sides at least. */
    double full = 0, least_m2 = greatest_m2, other_m = 0;
    for (size_t i = 0; i < count; i++) {
        if (area_m2[i] >= greatest_m2 * (1 - alike)) {
            full++;
            least_m2 = fmin(least_m2, area_m2[i]);
        } else {
            other_m += 2 * sqrt(FW_PI * area_m2[i]);
        }
    }
    /* Of the cells of a map, on average, and of any of them (Euler). */
    const double most_sides = FW_PARTS(6), least_sides = FW_PARTS(3);
    const double n = (double)count;
    const double sides = most_sides * n + (double)vertices - most_sides +
                         most_sides * (double)holes - least_sides * (n - full);
    double straight_m = 0;
    if (full > 0 && sides >= least_sides * full)
        straight_m =
            other_m + full * polygon_perimeter(sides / full) * sqrt(least_m2);
    return fmax(0, (fmax(round_m, straight_m) - boundary_m) / 2);
}
