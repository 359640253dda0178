/* Earth rods: what they resist in a soil, and how many of them are enough. */
#include "base/angle.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/power.h"
#include "power/power.h"
#include "power/words.h"

#include <math.h>

static const int most_reckoned = FW_BOUND(100);

#define LIMIT(id)                                                              \
    {                                                                          \
        FW_##id, FW_##id##_SOURCE, FW_##id##_MARK                              \
    }

static const struct fw_rod_limit limits[] = {
    LIMIT(ROD_STRICT_V), LIMIT(ROD_USUAL_V), LIMIT(ROD_LENIENT_V),
    LIMIT(ROD_MOST_V)};

const struct fw_rod_limit *fw_power_rod_limits(size_t *count)
{
    *count = sizeof limits / sizeof limits[0];
    return limits;
}

struct fw_rod fw_power_rod(void)
{
    return (struct fw_rod){
        .length_m = FW_ROD_M,
        .diameter_m = FW_ROD_THICK_M,
        .spacing_m = FW_RODS_APART_M,
    };
}

static enum fw_status check(double soil_ohm_m, const struct fw_rod *rod,
                            struct fw_error *err)
{
    const double most_soil_ohm_m = FW_BOUND(1e6);
    const double longest_m = FW_BOUND(30), widest_m = FW_BOUND(1000);
    const double most_thick = FW_BOUND(0.25); /* of its length */
    if (!(soil_ohm_m > 0 && soil_ohm_m <= most_soil_ohm_m))
        return fw_fail(err, FW_EINPUT,
                       "soil is %g ohm m; expected over 0 to %.0f", soil_ohm_m,
                       most_soil_ohm_m);
    if (!(rod->length_m > 0 && rod->length_m <= longest_m))
        return fw_fail(err, FW_EINPUT,
                       "earth rod is %g m long; expected over 0 to %.0f m",
                       rod->length_m, longest_m);
    if (!(rod->diameter_m > 0 && rod->diameter_m <= most_thick * rod->length_m))
        return fw_fail(err, FW_EINPUT,
                       "earth rod is %g mm thick; expected over 0 to a "
                       "quarter of its length",
                       rod->diameter_m * 1000);
    if (!(rod->spacing_m > 0 && rod->spacing_m <= widest_m))
        return fw_fail(err, FW_EINPUT,
                       "earth rods stand %g m apart; expected over 0 to %.0f m",
                       rod->spacing_m, widest_m);
    return FW_OK;
}

/* A disc on the ground has soil / (4 radius), as IEEE 80 takes a foot (from
 * memory); four of them, far apart beside their size: 12.5 cm2 a hoof. The 500
 * ohm of a body in print stand for it and the ground that it commonly stands
 * on, 100 to 500 ohm of them for itself (a farm catalogue). */
double fw_power_hooves_ohm(double soil_ohm_m)
{
    const int hooves = FW_PARTS(4);
    const double hoof_m2 = FW_HOOVES_SHEEP_KG / FW_HOOVES_KG_M2 / hooves;
    const double radius_m = sqrt(hoof_m2 / FW_PI);
    return fmax(soil_ohm_m - FW_HOOVES_SOIL_OHM_M, 0) /
           (hooves * FW_FORMULA(4) * radius_m);
}

/* Dwight's rod. It is 8 L over the diameter, or 4 L over the radius: with 4 L
 * over the diameter, as a calculator on the web has it, 2.44 m of 15.9 mm at
 * 100 ohm m come to 35 ohm in place of 39.9. */
static double rod_ohm(double soil_ohm_m, const struct fw_rod *rod)
{
    return soil_ohm_m / (2 * FW_PI * rod->length_m) *
           (log(FW_FORMULA(8) * rod->length_m / rod->diameter_m) - 1);
}

/* BS 7430, from memory: its printed factors (1.00, 1.66, 2.15, ...) are this
 * series rounded down a little. */
double fw_power_rods_factor(int rods)
{
    double sum = 0;
    for (int k = 1; k < rods; k++)
        sum += (double)(rods - k) / k;
    return rods > 1 ? 2 * sum / rods : 0;
}

static double earth_ohm(double soil_ohm_m, const struct fw_rod *rod, int rods)
{
    const double one_ohm = rod_ohm(soil_ohm_m, rod);
    const double near = soil_ohm_m / (2 * FW_PI * one_ohm * rod->spacing_m);
    return one_ohm * (1 + fw_power_rods_factor(rods) * near) / rods;
}

enum fw_status fw_power_earth_ohm(double soil_ohm_m, const struct fw_rod *rod,
                                  int rods, double *out, struct fw_error *err)
{
    const enum fw_status status = check(soil_ohm_m, rod, err);
    if (status)
        return status;
    if (rods < 1 || rods > most_reckoned)
        return fw_fail(err, FW_EINPUT, "%d earth rods; expected 1 to %d", rods,
                       most_reckoned);
    *out = earth_ohm(soil_ohm_m, rod, rods);
    return FW_OK;
}

static enum fw_status check_ask(const struct fw_earth_ask *ask,
                                struct fw_error *err)
{
    const double most_j = FW_BOUND(100);
    if (!(ask->joules > 0 && ask->joules <= most_j))
        return fw_fail(err, FW_EINPUT,
                       "energizer is %g J; expected over 0 to %.0f J",
                       ask->joules, most_j);
    if (!(ask->open_v > FW_RODS_SHORTED_V && isfinite(ask->open_v)))
        return fw_fail(err, FW_EINPUT,
                       "open voltage is %g V; expected over the %.0f V that "
                       "the fence is shorted to for the test of the earth",
                       ask->open_v, FW_RODS_SHORTED_V);
    if (!(ask->internal_ohm > 0 && isfinite(ask->internal_ohm)))
        return fw_fail(err, FW_EINPUT,
                       "internal resistance is %g ohm; expected over 0",
                       ask->internal_ohm);
    if (!(ask->most_rod_v >= 0 && isfinite(ask->most_rod_v)))
        return fw_fail(err, FW_EINPUT,
                       "earth rod may read %g V; expected 0 (%.0f V) or more",
                       ask->most_rod_v, FW_ROD_USUAL_V);
    if (ask->most_rods < 0 || ask->most_rods > most_reckoned)
        return fw_fail(err, FW_EINPUT,
                       "%d earth rods at most; expected 0 (%d) to %d",
                       ask->most_rods, FW_RODS_DRIVEN, most_reckoned);
    return check(ask->soil_ohm_m, &ask->rod, err);
}

/* With the fence shorted to 2 kV, what is left drives its current through the
 * energizer and the earth. */
static double test_rod_v(const struct fw_earth_ask *ask, double ohm)
{
    return (ask->open_v - FW_RODS_SHORTED_V) * ohm / (ask->internal_ohm + ohm);
}

/* The earth that reads just that; any, where the energizer cannot push more. */
static double test_ohm(const struct fw_earth_ask *ask, double most_rod_v)
{
    const double left_v = ask->open_v - FW_RODS_SHORTED_V - most_rod_v;
    return left_v > 0 ? most_rod_v * ask->internal_ohm / left_v
                      : (double)INFINITY;
}

static int rods_by_test(const struct fw_earth_ask *ask, double most_ohm,
                        int most)
{
    for (int rods = 1; rods <= most; rods++)
        if (earth_ohm(ask->soil_ohm_m, &ask->rod, rods) <= most_ohm)
            return rods;
    return 0;
}

enum fw_status fw_power_earth(const struct fw_earth_ask *ask,
                              struct fw_earth *out, struct fw_error *err)
{
    const enum fw_status status = check_ask(ask, err);
    if (status)
        return status;
    const double most_rod_v =
        ask->most_rod_v > 0 ? ask->most_rod_v : FW_ROD_USUAL_V;
    const int most = ask->most_rods > 0 ? ask->most_rods : FW_RODS_DRIVEN;
    struct fw_earth earth = {
        .by_joules = fw_power__rods_by_joules(ask->joules, ask->rod.length_m,
                                              ask->portable, ask->dry_soil),
        .test_ohm = test_ohm(ask, most_rod_v),
    };
    const int tried = most > earth.by_joules ? most : earth.by_joules;
    earth.by_test = rods_by_test(ask, earth.test_ohm, tried);
    earth.rods = earth.by_joules;
    if (earth.by_test == 0) {
        earth.decided = FW_EARTH_MOST;
        earth.rods = tried;
    } else if (earth.by_test > earth.by_joules) {
        earth.decided = FW_EARTH_TEST;
        earth.rods = earth.by_test;
    }
    earth.ohm = earth_ohm(ask->soil_ohm_m, &ask->rod, earth.rods);
    earth.rod_v = test_rod_v(ask, earth.ohm);
    *out = earth;
    return FW_OK;
}

#define ALTERNATE                                                              \
    "hot, earth, hot, three strands or more: NRCS Oregon 382E, 2003"

static const struct fw_earth_return returns[] = {
    {"one strand cannot be hot and earth at once: add a second, and join the "
     "lower of the two to the rods",
     "one hot strand failed at every height on the farm that tried it; it asks "
     "for a flock that knows the fence well",
     ALTERNATE "; one strand: new-libertyfarm.blogspot.com, March 2006",
     FW_MARK_PRACTICE},
    /* The other way round the hot strand would stand in the grass, and the
     * earth where nothing but a neck reaches it. */
    {"let the lower strand be the earth and join it to the rods: it stands in "
     "the grass, where as an earth it leaks nothing, and the upper one stays "
     "hot and clean",
     "a sheep feels the fence only when it touches both strands at once, and "
     "nothing hot stops one that goes under: lambs and sheep that do not know "
     "the fence get out; a third strand (hot, earth, hot) holds them better",
     ALTERNATE "; of two, the lower: common practice, no source",
     FW_MARK_PRACTICE},
    {"let every second strand from the bottom be an earth, joined to the rods: "
     "hot, earth, hot",
     "a sheep that touches hot strands alone feels little in such soil; one "
     "that pushes through touches both kinds and feels the whole fence",
     ALTERNATE, FW_MARK_PUBLISHED},
};

const struct fw_earth_return *fw_power_earth_return(int strands)
{
    return &returns[strands <= 1 ? 0 : strands == 2 ? 1 : 2];
}

bool fw_power_is_earth_strand(int strand, int strands)
{
    if (strand < 0 || strand >= strands)
        return false;
    return strands == 2 ? strand == 0 : strand % 2 == 1;
}

int fw_power_beside(int strand)
{
    return strand > 0 ? strand - 1 : 1;
}
