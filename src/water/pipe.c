#include "water/pipe.h"

#include "base/angle.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/units.h"
#include "figures/water.h"

#include <math.h>

/* Beside the register's bores, in their order. */
static const char *const names[] = {"3/4 in", "1 in", "1 1/4 in", "1 1/2 in",
                                    "2 in"};
enum { size_count = sizeof names / sizeof names[0] };
_Static_assert(sizeof FW_PIPE_BORES_M / sizeof FW_PIPE_BORES_M[0] == size_count,
               "each bore has a name");

double fw_water_head_m(double kpa)
{
    return kpa / FW_WATER_KPA_M;
}

double fw_water_kpa(double head_m)
{
    return head_m * FW_WATER_KPA_M;
}

/* Metres lost at 1 gal/min; with the flow's power it is what a flow loses. */
static double loss_m(const struct fw_pipe *pipe)
{
    return FW_PIPE_LOSS / 100 * pipe->length_m *
           pow(100 / pipe->c, FW_PIPE_FLOW_POWER) /
           pow(pipe->bore_m / FW_INCH_M, FW_PIPE_BORE_POWER);
}

static enum fw_status check(const struct fw_pipe *pipe, struct fw_error *err)
{
    if (!(pipe->length_m >= FW_BOUND(0.1) && pipe->length_m <= FW_BOUND(1e5)))
        return fw_fail(err, FW_EINPUT,
                       "the pipe's length is %g m; expected 0.1 m to 100 km",
                       pipe->length_m);
    if (!(pipe->bore_m >= FW_BOUND(0.004) && pipe->bore_m <= FW_BOUND(0.5)))
        return fw_fail(err, FW_EINPUT,
                       "the pipe's bore is %g m; expected 0.004 m to 0.5 m "
                       "inside, such as 26.6 mm",
                       pipe->bore_m);
    if (!(pipe->flow_l_min >= FW_BOUND(0.01) &&
          pipe->flow_l_min <= FW_BOUND(1e4)))
        return fw_fail(err, FW_EINPUT,
                       "the flow is %g L/min; expected 0.01 L/min to 10,000 "
                       "L/min, such as 20 L/min",
                       pipe->flow_l_min);
    if (!(pipe->c >= FW_BOUND(40) && pipe->c <= FW_BOUND(160)))
        return fw_fail(err, FW_EINPUT,
                       "C of the pipe is %g; expected 40 to 160: new plastic "
                       "has 150, galvanised steel 100",
                       pipe->c);
    if (fabs(pipe->head_m) > FW_BOUND(1000)) /* untold is not */
        return fw_fail(err, FW_EINPUT,
                       "the source stands %g m over the trough, its pressure "
                       "as metres of water added; expected -1000 m to 1000 m",
                       pipe->head_m);
    if (!(pipe->valve_m >= 0 && pipe->valve_m <= FW_BOUND(200)))
        return fw_fail(err, FW_EINPUT,
                       "the valve wants %g m of water; expected 0 m to 200 m",
                       pipe->valve_m);
    return FW_OK;
}

enum fw_status fw_water_pipe(const struct fw_pipe *pipe,
                             struct fw_pipe_run *out, struct fw_error *err)
{
    const enum fw_status status = check(pipe, err);
    if (status)
        return status;
    const double at_one_m = loss_m(pipe);
    const double radius_m = pipe->bore_m / 2;
    const double m2 = FW_PI * radius_m * radius_m;
    const double spare_m = pipe->head_m - pipe->valve_m;
    struct fw_pipe_run run = {
        .head_loss_m =
            at_one_m * pow(pipe->flow_l_min / FW_GALLON_L, FW_PIPE_FLOW_POWER),
        .velocity_m_s = pipe->flow_l_min / 1000 / 60 / m2,
        .most_l_min = isnan(spare_m) ? spare_m
                      : spare_m > 0  ? FW_GALLON_L * pow(spare_m / at_one_m,
                                                         1 / FW_PIPE_FLOW_POWER)
                                     : 0,
    };
    run.left_m = pipe->head_m - run.head_loss_m;
    run.slow = run.velocity_m_s <= FW_PIPE_FASTEST_M_S;
    run.enough = run.slow && (isnan(run.left_m) || run.left_m >= pipe->valve_m);
    *out = run;
    return FW_OK;
}

size_t fw_water_pipe_sizes(void)
{
    return size_count;
}

struct fw_pipe_size fw_water_pipe_size(size_t index)
{
    return (struct fw_pipe_size){names[index], FW_PIPE_BORES_M[index]};
}

size_t fw_water_pipe_least(const struct fw_pipe *pipe)
{
    for (size_t i = 0; i < size_count; i++) {
        struct fw_pipe other = *pipe;
        struct fw_pipe_run run;
        other.bore_m = FW_PIPE_BORES_M[i];
        if (!fw_water_pipe(&other, &run, NULL) && run.enough)
            return i;
    }
    return size_count;
}
