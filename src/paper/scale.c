/* Round scales and bars. */
#include "paper/paper.h"

#include "figures/units.h"

#include <math.h>

static const double point_m = FW_INCH_M / 72;

double fw_scale_points(double scale, double m)
{
    return m / scale / point_m;
}

/* The least number of the row times a power of ten that is not under `least`;
 * a hair is forgiven, so that 500 comes of 500. */
static double round_up(double least, const double *row, size_t count)
{
    const double hair = 1 - 1e-9;
    const double power = pow(10, floor(log10(least)));
    for (int more = 0; more < 3; more++)
        for (size_t i = 0; i < count; i++) {
            const double tried = row[i] * power / 10 * pow(10, more);
            if (tried >= least * hair)
                return tried;
        }
    return 100 * power;
}

double fw_scale_of(double wide_m, double high_m, struct fw_xy room_pt,
                   bool feet)
{
    /* Those of rulers: metric ones, and an engineer's in feet to the inch. */
    static const double metric[] = {1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 7.5};
    static const double engineers[] = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 8};
    const double inches = 12;
    const double least = fmax(1, fmax(wide_m / (room_pt.x * point_m),
                                      high_m / (room_pt.y * point_m)));
    return feet ? inches * round_up(fmax(1, least / inches), engineers,
                                    sizeof engineers / sizeof *engineers)
                : round_up(least, metric, sizeof metric / sizeof *metric);
}

double fw_scale_bar_m(double most_m, bool feet)
{
    static const double row[] = {5, 2, 1};
    const double unit_m = feet ? FW_FOOT_M : 1;
    const double most = most_m / unit_m * (1 + 1e-9);
    const double power = pow(10, floor(log10(most)));
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        if (row[i] * power <= most)
            return row[i] * power * unit_m;
    return power * unit_m;
}
