/* Leakage and earth from readings: least squares in the logarithms of both, so
 * that they stay positive, by Levenberg's and Marquardt's steps. Every step is
 * a function of the one before alone. */
#include "power/circuit.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "figures/mark.h"
#include <math.h>

enum { leakage, earth, most_unknowns };

/* Below this share of the squares the places tell the two unknowns as one. */
static const double least_apart = FW_TOLERANCE(1e-6);

struct fit {
    const struct fw_circuit *net;
    const struct fw_circuit_reading *readings;
    size_t count;
    struct fw_circuit trial; /* a copy of net with the unknowns put in */
    bool with_earth;
    double *model_v, *above_v, *below_v; /* one a reading */
    double at[most_unknowns];            /* logarithms */
};

static int unknowns(const struct fit *fit)
{
    return fit->with_earth ? most_unknowns : 1;
}

/* Sums at one place: residuals' squares, slope and curvature. */
struct sums {
    double squares;
    double down[most_unknowns];
    double curve[most_unknowns][most_unknowns];
};

static void put_in(const struct fw_circuit *net, double factor,
                   double earth_ohm, struct fw_circuit *out)
{
    for (size_t i = 0; i < net->section_count; i++)
        out->sections[i].siemens_m = net->sections[i].siemens_m * factor;
    out->source.earth_ohm = earth_ohm;
}

/* What the tester shows of the model. */
static enum fw_status shown_v(const struct fw_circuit *net,
                              const struct fw_circuit_answer *answer,
                              const struct fw_circuit_reading *reading,
                              double *out, struct fw_error *err)
{
    struct fw_circuit_volts here, other = {.open_v = 0};
    enum fw_status status =
        fw_circuit_at(net, answer, reading->place, &here, err);
    if (!status && reading->across)
        status = fw_circuit_at(net, answer, reading->other, &other, err);
    if (!status)
        *out = here.open_v - other.open_v;
    return status;
}

static enum fw_status model(struct fit *fit, const double at[most_unknowns],
                            double *volts, struct fw_error *err)
{
    put_in(fit->net, exp(at[leakage]),
           fit->with_earth ? exp(at[earth]) : fit->net->source.earth_ohm,
           &fit->trial);
    struct fw_circuit_answer answer;
    enum fw_status status = fw_circuit_solve(&fit->trial, &answer, err);
    if (status)
        return status;
    for (size_t i = 0; i < fit->count && !status; i++)
        status =
            shown_v(&fit->trial, &answer, &fit->readings[i], &volts[i], err);
    fw_circuit_answer_release(&answer);
    return status;
}

static double squares(const struct fit *fit, const double *volts)
{
    double sum = 0;
    for (size_t i = 0; i < fit->count; i++) {
        const double off_v = fit->readings[i].open_v - volts[i];
        sum += off_v * off_v;
    }
    return sum;
}

/* Slopes by central differences into *above_v, one unknown after the other. */
static enum fw_status slope(struct fit *fit, int unknown, double *out,
                            struct fw_error *err)
{
    const double step = FW_TOLERANCE(1e-4);
    double at[most_unknowns] = {fit->at[leakage], fit->at[earth]};
    at[unknown] = fit->at[unknown] + step;
    enum fw_status status = model(fit, at, out, err);
    at[unknown] = fit->at[unknown] - step;
    if (!status)
        status = model(fit, at, fit->below_v, err);
    for (size_t i = 0; i < fit->count && !status; i++)
        out[i] = (out[i] - fit->below_v[i]) / (2 * step);
    return status;
}

static enum fw_status sum_up(struct fit *fit, struct sums *out,
                             struct fw_error *err)
{
    double *slopes[most_unknowns] = {fit->above_v, fit->above_v + fit->count};
    *out = (struct sums){0};
    enum fw_status status = model(fit, fit->at, fit->model_v, err);
    for (int k = 0; k < unknowns(fit) && !status; k++)
        status = slope(fit, k, slopes[k], err);
    if (status)
        return status;
    out->squares = squares(fit, fit->model_v);
    for (int j = 0; j < unknowns(fit); j++)
        for (size_t i = 0; i < fit->count; i++) {
            out->down[j] +=
                slopes[j][i] * (fit->readings[i].open_v - fit->model_v[i]);
            for (int k = 0; k < unknowns(fit); k++)
                out->curve[j][k] += slopes[j][i] * slopes[k][i];
        }
    return FW_OK;
}

/* How far the two columns of slopes are from one: 1 at right angles. */
static double apart(const struct sums *sums)
{
    const double across =
        sums->curve[leakage][leakage] * sums->curve[earth][earth];
    const double along = sums->curve[leakage][earth];
    return across > 0 ? 1 - along * along / across : 0;
}

/* Logarithms. Beyond them a reading is a slip of the pen. */
static double lowest(int unknown)
{
    const double least_factor = FW_BOUND(1e-3), least_ohm = FW_BOUND(1e-2);
    return log(unknown == leakage ? least_factor : least_ohm);
}

static double highest(int unknown)
{
    const double most_factor = FW_BOUND(1e3), most_ohm = FW_BOUND(1e4);
    return log(unknown == leakage ? most_factor : most_ohm);
}

static double bounded(int unknown, double at)
{
    return fmin(fmax(at, lowest(unknown)), highest(unknown));
}

static bool pushed_out(const struct fit *fit, const struct sums *sums,
                       int unknown)
{
    const double at = fit->at[unknown], down = sums->down[unknown];
    return (at <= lowest(unknown) && down < 0) ||
           (at >= highest(unknown) && down > 0);
}

static bool is_held(const struct fit *fit, const struct sums *sums, int unknown)
{
    return unknown >= unknowns(fit) || !(sums->curve[unknown][unknown] > 0) ||
           pushed_out(fit, sums, unknown);
}

/* The next place to try; an unknown that a bound holds stays. */
static void step_from(const struct fit *fit, const struct sums *sums,
                      double damping, double out[most_unknowns])
{
    const double longest = 2; /* a factor of 7 */
    double down[most_unknowns], curve[most_unknowns];
    double cross = sums->curve[leakage][earth];
    for (int k = 0; k < most_unknowns; k++) {
        const bool held = is_held(fit, sums, k);
        down[k] = held ? 0 : sums->down[k];
        curve[k] = held ? 1 : sums->curve[k][k] * (1 + damping);
        cross = held ? 0 : cross;
    }
    const double det = curve[leakage] * curve[earth] - cross * cross;
    const double step[most_unknowns] = {
        (down[leakage] * curve[earth] - down[earth] * cross) / det,
        (down[earth] * curve[leakage] - down[leakage] * cross) / det};
    for (int k = 0; k < most_unknowns; k++)
        out[k] =
            bounded(k, fit->at[k] + fmin(fmax(step[k], -longest), longest));
}

static enum fw_status descend(struct fit *fit, struct sums *sums,
                              struct fw_error *err)
{
    const int most_steps = FW_EFFORT(200);
    const double still = FW_TOLERANCE(1e-12), most_damping = FW_BOUND(1e12);
    double damping = FW_TOLERANCE(1e-3);
    enum fw_status status = sum_up(fit, sums, err);
    for (int i = 0; i < most_steps && damping < most_damping && !status; i++) {
        double to[most_unknowns];
        step_from(fit, sums, damping, to);
        const double moved = fmax(fabs(to[leakage] - fit->at[leakage]),
                                  fabs(to[earth] - fit->at[earth]));
        if (moved <= still)
            break;
        status = model(fit, to, fit->model_v, err);
        if (status)
            break;
        if (!(squares(fit, fit->model_v) < sums->squares)) {
            damping *= 10;
            continue;
        }
        damping = fmax(damping / 10, still);
        fit->at[leakage] = to[leakage];
        fit->at[earth] = to[earth];
        status = sum_up(fit, sums, err);
    }
    return status;
}

static bool is_at_bound(const struct fit *fit)
{
    for (int j = 0; j < unknowns(fit); j++)
        if (fit->at[j] <= lowest(j) || fit->at[j] >= highest(j))
            return true;
    return false;
}

/* Standard errors from the curvature; of a logarithm, so relative. */
static void add_spread(const struct fit *fit, const struct sums *sums,
                       struct fw_circuit_fit *out)
{
    if (fit->count <= (size_t)unknowns(fit) || out->at_bound)
        return;
    const double variance =
        sums->squares / (double)(fit->count - (size_t)unknowns(fit));
    const double free_part = fit->with_earth ? apart(sums) : 1;
    if (!(free_part > least_apart) || !(sums->curve[leakage][leakage] > 0))
        return;
    out->spread_known = true;
    out->leakage_spread =
        out->leakage_factor *
        sqrt(variance / (sums->curve[leakage][leakage] * free_part));
    if (fit->with_earth)
        out->earth_spread_ohm =
            out->earth_ohm *
            sqrt(variance / (sums->curve[earth][earth] * free_part));
}

static enum fw_status find(struct fit *fit, struct fw_circuit_fit *out,
                           struct fw_error *err)
{
    struct sums sums;
    fit->at[earth] = bounded(earth, log(fmax(fit->net->source.earth_ohm, 1)));
    fit->with_earth = fit->count > 1;
    enum fw_status status = sum_up(fit, &sums, err);
    if (status)
        return status;
    if (fit->with_earth && !(apart(&sums) > least_apart))
        fit->with_earth = false;
    status = descend(fit, &sums, err);
    if (status)
        return status;
    struct fw_circuit_fit found = {
        .unknowns = unknowns(fit),
        .leakage_factor = exp(fit->at[leakage]),
        .earth_ohm =
            fit->with_earth ? exp(fit->at[earth]) : fit->net->source.earth_ohm,
        .misfit_v = sqrt(sums.squares / (double)fit->count),
        .at_bound = is_at_bound(fit),
    };
    add_spread(fit, &sums, &found);
    *out = found;
    return FW_OK;
}

/* ---- what cannot be ---- */

static enum fw_status check_reading(const struct fw_circuit *net,
                                    const struct fw_circuit_answer *answer,
                                    const struct fw_circuit_reading *reading,
                                    size_t index, struct fw_error *err)
{
    double here_v = 0;
    const enum fw_status status = shown_v(net, answer, reading, &here_v, err);
    if (status) {
        fw_fail_where(err, "reading %zu: ", index + 1);
        return status;
    }
    if (!(reading->open_v > 0 && reading->open_v <= net->source.open_v))
        return fw_fail(err, FW_EINPUT,
                       "reading %zu is %g V; expected over 0, to the %g V that "
                       "the energizer has open (0 V is a broken wire or a dead "
                       "energizer, not leakage)",
                       index + 1, reading->open_v, net->source.open_v);
    if (!(here_v > 0))
        return fw_fail(err, FW_EINPUT,
                       "reading %zu is %g V where no path leads to the "
                       "energizer; mend the network first",
                       index + 1, reading->open_v);
    return FW_OK;
}

static enum fw_status check(const struct fw_circuit *net,
                            const struct fw_circuit_reading *readings,
                            size_t count, struct fw_error *err)
{
    const size_t most = FW_BOUND(10000);
    if (count == 0 || count > most)
        return fw_fail(err, FW_EINPUT, "%zu readings; expected 1 to %zu", count,
                       most);
    struct fw_circuit_answer answer;
    enum fw_status status = fw_circuit_solve(net, &answer, err);
    if (status)
        return status;
    bool leaks = false;
    for (size_t i = 0; i < net->section_count; i++)
        leaks = leaks ||
                (answer.sections[i].live &&
                 net->sections[i].siemens_m * net->sections[i].length_m > 0);
    if (!leaks)
        status = fw_fail(err, FW_EINPUT,
                         "no section leaks, so that no factor on the leakage "
                         "can be found; give the fence a leakage first");
    for (size_t i = 0; i < count && !status; i++)
        status = check_reading(net, &answer, &readings[i], i, err);
    fw_circuit_answer_release(&answer);
    return status;
}

enum fw_status fw_circuit_fit(const struct fw_circuit *net,
                              const struct fw_circuit_reading *readings,
                              size_t count, struct fw_circuit_fit *out,
                              struct fw_error *err)
{
    enum fw_status status = check(net, readings, count, err);
    if (status)
        return status;
    struct fit fit = {.net = net, .readings = readings, .count = count};
    status = fw_circuit_copy(net, &fit.trial, err);
    if (status)
        return status;
    double *room = fw_alloc((2 + most_unknowns) * count, sizeof *room);
    if (room) {
        fit.model_v = room;
        fit.below_v = room + count;
        fit.above_v = room + 2 * count;
        status = find(&fit, out, err);
    } else {
        status = fw_fail_memory(err);
    }
    fw_free(room);
    fw_circuit_release(&fit.trial);
    return status;
}

enum fw_status fw_circuit_fitted(const struct fw_circuit *net,
                                 const struct fw_circuit_fit *fit,
                                 struct fw_circuit *out, struct fw_error *err)
{
    struct fw_circuit fitted;
    const enum fw_status status = fw_circuit_copy(net, &fitted, err);
    if (status)
        return status;
    put_in(net, fit->leakage_factor, fit->earth_ohm, &fitted);
    *out = fitted;
    return FW_OK;
}
