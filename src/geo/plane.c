/* Lambert azimuthal equal-area on the ellipsoid (Snyder, "Map Projections: A
 * Working Manual", USGS Professional Paper 1395, 1987, pp. 182-190).
 *
 * Snyder's formulas subtract sines and cosines of angles that hardly differ
 * when all of the map lies within a few kilometres: each loses 1e-16 of the
 * earth's radius, which is a nanometre, and near a pole far more. So
 * everything here is written in differences from the centre, each with all of
 * its digits: d_lat and d_lon in radians. Southern centres are mirrored, and
 * then latitudes enter by their distance from the pole. */
#include "base/angle.h"
#include "base/fail.h"
#include "base/length.h"
#include "geo/inner.h"

#include <math.h>

static const double axis_m = 6378137.0;
static const double e2 = (2 - 1 / 298.257223563) / 298.257223563;

/* Snyder's q(s) is the authalic function of the sine of the latitude; this is
 * q(s) - q(s - ds), exact also where ds is tiny. */
static double q_step(double s, double ds)
{
    const double e = sqrt(e2);
    const double s0 = s - ds;
    const double ratio =
        ds * (1 + e2 * s * s0) / ((1 - e2 * s * s) * (1 - e2 * s0 * s0));
    return (1 - e2) * (ratio + atanh(e * ds / (1 - e2 * s * s0)) / e);
}

struct authalic {
    double sine;
    double cosine;
};

/* Authalic latitude of the place colat radians from the pole. */
static struct authalic authalic(double qp, double colat)
{
    const double half = sin(colat / 2);
    const double gap = q_step(1, 2 * half * half) / qp; /* 1 - sine */
    return (struct authalic){.sine = 1 - gap, .cosine = sqrt(gap * (2 - gap))};
}

static double centre_colat(const struct fw_plane *plane)
{
    return (90 - fabs(plane->centre.lat_deg)) / FW_RADIAN_DEG;
}

/* The centre's authalic sine as if it lay in the north. */
static double centre_sine(const struct fw_plane *plane)
{
    return fabs(plane->beta_sin);
}

/* What a step of d_lat from the centre is in authalic latitude: its sine. */
struct step {
    struct authalic there;
    double sine_step;  /* of the sine of the authalic latitude */
    double angle_sine; /* sine of the authalic step */
};

static struct step step_north(const struct fw_plane *plane, double d_lat)
{
    const double colat0 = centre_colat(plane);
    const double colat = fmax(colat0 - d_lat, 0);
    const double half = sin(d_lat / 2);
    const double ds = 2 * sin(colat0 - d_lat / 2) * half;
    struct step step = {.there = authalic(plane->qp, colat)};
    step.sine_step = q_step(cos(colat), ds) / plane->qp;
    /* sin(b - b0) = cos b0 (sin b - sin b0) + sin b0 (cos b0 - cos b) */
    const double cosines = plane->beta_cos + step.there.cosine;
    const double sines = step.there.sine + centre_sine(plane);
    step.angle_sine = plane->beta_cos * step.sine_step;
    if (cosines > 0)
        step.angle_sine +=
            centre_sine(plane) * step.sine_step * sines / cosines;
    return step;
}

enum fw_status fw_plane_init(struct fw_plane *plane, struct fw_lonlat centre,
                             struct fw_error *err)
{
    if (!(fabs(centre.lat_deg) <= 90) || !(fabs(centre.lon_deg) <= 360))
        return fw_fail(err, FW_EINPUT,
                       "centre of the local plane is %.9g, %.9g; expected a "
                       "longitude and a latitude in degrees",
                       centre.lon_deg, centre.lat_deg);
    struct fw_plane made = {.centre = centre};
    made.qp = q_step(1, 1);
    made.rq = axis_m * sqrt(made.qp / 2);
    const double colat = centre_colat(&made);
    const struct authalic beta = authalic(made.qp, colat);
    made.beta_sin = copysign(beta.sine, centre.lat_deg);
    made.beta_cos = beta.cosine;
    const double s = cos(colat);
    const double m = sin(colat) / sqrt(1 - e2 * s * s);
    /* At the pole itself both are 0, and their ratio goes to 1. */
    made.d = colat > 0 ? axis_m * m / (made.rq * beta.cosine) : 1;
    *plane = made;
    return FW_OK;
}

/* b - a in degrees, the short way round, with no digit lost. */
static double turn_deg(double a, double b)
{
    const double total = b - a;
    const double part = total + a;
    const double lost = (b - part) - (a - (part - total));
    return remainder(total, 360) + lost;
}

struct fw_point fw_plane_forward(const struct fw_plane *plane,
                                 struct fw_lonlat place)
{
    const bool south = plane->centre.lat_deg < 0;
    const double d_lat =
        (place.lat_deg - plane->centre.lat_deg) / FW_RADIAN_DEG;
    const double d_lon =
        turn_deg(plane->centre.lon_deg, place.lon_deg) / FW_RADIAN_DEG;
    const struct step step = step_north(plane, south ? -d_lat : d_lat);
    const double half = sin(d_lon / 2);
    const double away = 2 * half * half; /* 1 - cos d_lon */
    const double s0 = centre_sine(plane);
    const double cosine = step.there.cosine;
    const double north = step.angle_sine + s0 * cosine * away;
    const double towards =
        1 + s0 * step.there.sine + plane->beta_cos * cosine * (1 - away);
    const double b = plane->rq * sqrt(2 / towards);
    const double y_m = north * b / plane->d;
    return (struct fw_point){.x_m = b * plane->d * cosine * sin(d_lon),
                             .y_m = south ? -y_m : y_m};
}

/* The step in geographic latitude whose authalic step is `angle`. The
 * derivative hardly changes over a field: two or three rounds are enough. */
static double geographic_step(const struct fw_plane *plane, double angle)
{
    const double s = cos(centre_colat(plane));
    const double w = 1 - e2 * s * s;
    const double slope = 2 * (1 - e2) * plane->d * sqrt(plane->qp / 2) /
                         (plane->qp * w * sqrt(w));
    double d_lat = angle / slope;
    for (int round = 0; round < 12; round++) {
        const double sine = step_north(plane, d_lat).angle_sine;
        const double change = (angle - asin(fmax(-1, fmin(1, sine)))) / slope;
        d_lat += change;
        if (!(fabs(change) > 1e-17))
            break;
    }
    return d_lat;
}

struct fw_lonlat fw_plane_inverse(const struct fw_plane *plane,
                                  struct fw_point point)
{
    const bool south = plane->centre.lat_deg < 0;
    const double x = point.x_m / plane->d;
    const double y = (south ? -point.y_m : point.y_m) * plane->d;
    /* Half the angle from the centre, then the direction cosines of the point
     * on the authalic sphere: east and north of the centre, and along it. */
    const double half = fmin(1, fw_length(x, y) / (2 * plane->rq));
    const double scale = sqrt(1 - half * half) / plane->rq;
    const double east = x * scale;
    const double north = y * scale;
    const double along = 1 - 2 * half * half;
    const double s0 = centre_sine(plane);
    const double axis = along * plane->beta_cos - north * s0;
    const double cosine = fw_length(axis, east);
    const double gap = axis > 0 ? east * east / (cosine + axis) : cosine - axis;
    const double angle = asin(fmax(-1, fmin(1, north - s0 * gap)));
    const double d_lat = geographic_step(plane, angle) * FW_RADIAN_DEG;
    const double d_lon = atan2(east, axis) * FW_RADIAN_DEG;

    double lat_deg = plane->centre.lat_deg + (south ? -d_lat : d_lat);
    lat_deg = fmax(-90, fmin(90, lat_deg));
    double lon_deg = plane->centre.lon_deg + d_lon;
    if (lon_deg > 180)
        lon_deg -= 360;
    if (lon_deg < -180)
        lon_deg += 360;
    return (struct fw_lonlat){.lon_deg = lon_deg, .lat_deg = lat_deg};
}
