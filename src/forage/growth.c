/* What stands on a day: rates through the year, and the law by which they go
 * with what stands. Where a day grows, the shape's own curve is followed, in
 * closed form where it has one. */
#include "forage/growth.h"

#include "base/fail.h"
#include "figures/growth.h"
#include "figures/mark.h"
#include "forage/forage.h"
#include <foldwright/date.h>

#include <math.h>

/* ---- rates through the year ---- */

struct stretch { /* in days since 1970 */
    double begin, end;
    double kg_ha_day;
};

/* The k-th of that year; before its first and after its last one are those of
 * the years beside it. */
static struct stretch stretch_of(const struct fw_growth *growth, int year,
                                 long k)
{
    const long count = (long)growth->count;
    const long i = (k % count + count) % count;
    const int in = year + (int)((k - i) / count);
    const struct fw_growth_rate *rate = &growth->rates[i];
    const int begin = fw_date_first(in, rate->month) + rate->of_month - 1;
    const int end =
        rate->days ? begin + rate->days : fw_date_first(in, rate->month + 1);
    return (struct stretch){begin, end, rate->kg_ha_day};
}

static double middle(const struct stretch *stretch)
{
    return (stretch->begin + stretch->end) / 2;
}

/* A leap day may lie between two weeks that follow each other. */
static bool follow(const struct stretch *a, const struct stretch *b)
{
    return b->begin - a->end <= 1;
}

/* Between the middles of stretches that follow each other it goes straight; at
 * the ends of a table that has no whole year, a stretch's rate is its own. */
static double rate_at(const struct fw_growth *growth, double t)
{
    if (growth->steady)
        return growth->rates[0].kg_ha_day;
    const int year = fw_date_year((int)floor(t));
    long k = -1;
    struct stretch a, b = stretch_of(growth, year, k);
    do {
        a = b;
        b = stretch_of(growth, year, ++k);
    } while (middle(&b) <= t && k <= 2 * (long)growth->count);
    if (follow(&a, &b))
        return a.kg_ha_day + (b.kg_ha_day - a.kg_ha_day) * (t - middle(&a)) /
                                 (middle(&b) - middle(&a));
    if (t < a.end)
        return a.kg_ha_day;
    return t >= b.begin ? b.kg_ha_day : (double)NAN;
}

double fw_growth_rate_kg_ha(const struct fw_growth *growth, int day)
{
    return growth->count ? rate_at(growth, day + 0.5) : 0;
}

/* Over a day. Middles are whole or half days, so that two straight pieces are
 * exact. */
static double grown_kg_ha(const struct fw_growth *growth, int day)
{
    const double quarter = FW_PARTS(4);
    return (rate_at(growth, day + 1 / quarter) +
            rate_at(growth, day + 1 - 1 / quarter)) /
           2;
}

struct fw_growth fw_growth_slowed(const struct fw_growth *growth, double share)
{
    struct fw_growth slowed = *growth;
    for (size_t i = 0; i < slowed.count; i++)
        if (slowed.rates[i].kg_ha_day > 0)
            slowed.rates[i].kg_ha_day *= share;
    return slowed;
}

int fw_growth_unknown(const struct fw_growth *growth, int from, int to)
{
    for (int day = from; growth->count && !growth->steady && day < to; day++)
        if (isnan(grown_kg_ha(growth, day)))
            return day;
    return FW_NO_DAY;
}

/* ---- shapes ---- */

static double ceiling_of(const struct fw_growth *growth)
{
    return growth->ceiling_kg_ha > 0 ? growth->ceiling_kg_ha
                                     : FW_GROWTH_CEILING_KG_HA;
}

/* What a day does to whatever stands. */
struct passing {
    const struct fw_growth *growth;
    double kept;    /* share that winter leaves */
    double grown;   /* kg/ha, at the rate */
    double ceiling; /* kg/ha */
    double fallen;  /* logistic: what K/B - 1 becomes, as a share */
};

/* dB/dG = B (1 - B/K) / mean, where the mean is that over what stands: G kg
 * later K/B - 1 has fallen to its exp(-G/mean). */
static double logistic_fall(double grown, double ceiling)
{
    const double from = FW_GROWTH_MEAN_FROM_KG_HA, to = FW_GROWTH_MEAN_TO_KG_HA;
    const double mean = (from + to) / 2 - (from * from + from * to + to * to) /
                                              FW_PARTS(3) / ceiling;
    return exp(-grown / mean);
}

static double net(double mass)
{
    const double organic = mass * FW_GROWTH_ORGANIC;
    return FW_GROWTH_GROSS_KG_HA *
               (1 - exp(-FW_GROWTH_GROSS_PER_KG * organic)) -
           FW_GROWTH_DYING_KG_HA - FW_GROWTH_DYING_SHARE * organic;
}

static double mean_net(void)
{
    const double from = FW_GROWTH_MEAN_FROM_KG_HA * FW_GROWTH_ORGANIC;
    const double to = FW_GROWTH_MEAN_TO_KG_HA * FW_GROWTH_ORGANIC;
    const double rise = FW_GROWTH_GROSS_PER_KG;
    return FW_GROWTH_GROSS_KG_HA * (1 - (exp(-rise * from) - exp(-rise * to)) /
                                            (rise * (to - from))) -
           FW_GROWTH_DYING_KG_HA - FW_GROWTH_DYING_SHARE * (from + to) / 2;
}

/* No closed form: fourth order in steps of a few kilograms. */
static double set_stocked(double mass, double grown)
{
    const double step_kg = FW_EFFORT(5);
    const int steps = (int)ceil(grown / step_kg);
    const double h = grown / (steps * mean_net());
    for (int i = 0; i < steps; i++) {
        const double a = net(mass);
        const double b = net(mass + h / 2 * a);
        const double c = net(mass + h / 2 * b);
        const double d = net(mass + h * c);
        mass += h / FW_PARTS(6) * (a + 2 * b + 2 * c + d);
    }
    return mass;
}

static double grow(const struct passing *day, double mass)
{
    const double ceiling = day->ceiling, grown = day->grown;
    if (!(grown > 0) || !(mass > 0) || mass >= ceiling)
        return fmax(0, mass + fmin(0, grown));
    switch (day->growth->shape) {
    case FW_GROWTH_LOGISTIC:
        return ceiling / (1 + (ceiling / mass - 1) * day->fallen);
    case FW_GROWTH_SET_STOCKED:
        return fmin(set_stocked(mass, grown), ceiling);
    default:
        return fmin(mass + grown, ceiling);
    }
}

static struct passing passing_of(const struct fw_growth *growth, int day)
{
    const bool winter =
        growth->winter_loss > 0 && !fw_forage_is_warm(day, growth->lat_deg);
    struct passing passing = {
        .growth = growth,
        .kept = winter ? pow(1 - growth->winter_loss, 1.0 / FW_WINTER_DAYS) : 1,
        .grown = growth->count ? grown_kg_ha(growth, day) : 0,
        .ceiling = ceiling_of(growth),
    };
    passing.fallen = logistic_fall(passing.grown, passing.ceiling);
    return passing;
}

void fw_growth_pass(const struct fw_growth *growth, int day, double *mass_kg_ha,
                    size_t count)
{
    const struct passing passing = passing_of(growth, day);
    for (size_t i = 0; i < count; i++)
        mass_kg_ha[i] = isnan(passing.grown)
                            ? (double)NAN
                            : grow(&passing, mass_kg_ha[i] * passing.kept);
}

double fw_growth_stands_kg_ha(const struct fw_growth *growth, double mass_kg_ha,
                              int from, int to)
{
    for (int day = from; day < to && !isnan(mass_kg_ha); day++)
        fw_growth_pass(growth, day, &mass_kg_ha, 1);
    return mass_kg_ha;
}

/* ---- what can be ---- */

static enum fw_status check_rate(const struct fw_growth *growth, size_t i,
                                 struct fw_error *err)
{
    const double rate = growth->rates[i].kg_ha_day;
    const int day = fw_date_first(FW_COMMON_YEAR, growth->rates[i].month);
    if (!(fabs(rate) <= FW_GROWTH_MOST_KG_HA))
        return fw_fail(
            err, FW_EINPUT,
            "growth is %g kg/ha a day; no published rate is over "
            "%.0f: a rate of a week or a month, divided by its days?",
            rate, FW_GROWTH_MOST_KG_HA);
    if (rate < 0 && (growth->steady || fw_forage_is_warm(day, growth->lat_deg)))
        return fw_fail(err, FW_EINPUT,
                       "growth is %g kg/ha a day in the warm half of the year; "
                       "expected 0 or more: what winter takes is winter-loss",
                       rate);
    return FW_OK;
}

enum fw_status fw_growth_check(const struct fw_growth *growth,
                               struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (!(growth->winter_loss >= 0 && growth->winter_loss < 1))
        return fw_fail(err, FW_EINPUT,
                       "winter-loss is %g; expected a share from 0 to under 1, "
                       "such as 0.25",
                       growth->winter_loss);
    if (!(growth->ceiling_kg_ha >= 0))
        return fw_fail(err, FW_EINPUT,
                       "the sward's ceiling is %g kg/ha; expected over 0, such "
                       "as %.0f",
                       growth->ceiling_kg_ha, FW_GROWTH_CEILING_KG_HA);
    for (size_t i = 0; !status && i < growth->count; i++) {
        status = check_rate(growth, i, err);
        if (status || growth->steady || growth->count == 1)
            continue;
        const struct stretch a = stretch_of(growth, FW_COMMON_YEAR, (long)i);
        const struct stretch b =
            stretch_of(growth, FW_COMMON_YEAR, (long)i + 1);
        if (b.begin < a.end)
            status = fw_fail(err, FW_EINPUT,
                             "two rates of growth hold for day %d of month %d; "
                             "expected one after the other through the year",
                             growth->rates[(i + 1) % growth->count].of_month,
                             growth->rates[(i + 1) % growth->count].month);
    }
    return status;
}

enum fw_status fw_growth_starts(const struct fw_growth *growth,
                                double mass_kg_ha, struct fw_error *err)
{
    const double ceiling = ceiling_of(growth);
    if (growth->count == 0 || mass_kg_ha <= ceiling)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "%.0f kg/ha stand, above the %.0f that the sward is said to "
                   "carry (forage.ceiling): it would not grow; tell a higher "
                   "ceiling, or measure again",
                   mass_kg_ha, ceiling);
}
