/* Lengths and areas on the ellipsoid: PROJ's transcription of Karney's
 * algorithms (doi:10.1007/s00190-012-0578-z). */
#include "crs/crs.h"
#include "crs/inner.h"
#include "geo/inner.h"

#include <geodesic.h>

static struct geod_geodesic wgs84(void)
{
    struct geod_geodesic ellipsoid;
    geod_init(&ellipsoid, 6378137.0, 1 / 298.257223563);
    return ellipsoid;
}

double fw_geo_distance_m(struct fw_lonlat a, struct fw_lonlat b)
{
    const struct geod_geodesic ellipsoid = wgs84();
    double distance_m = 0;
    geod_inverse(&ellipsoid, a.lat_deg, a.lon_deg, b.lat_deg, b.lon_deg,
                 &distance_m, NULL, NULL);
    return distance_m;
}

double fw_geo_bearing_deg(struct fw_lonlat a, struct fw_lonlat b)
{
    const struct geod_geodesic ellipsoid = wgs84();
    double bearing_deg = 0;
    geod_inverse(&ellipsoid, a.lat_deg, a.lon_deg, b.lat_deg, b.lon_deg, NULL,
                 &bearing_deg, NULL);
    if (bearing_deg < 0)
        bearing_deg += 360;
    /* -1e-20 rounds to 360, and -0 is 0. */
    return bearing_deg < 360 ? bearing_deg + 0.0 : 0;
}

void fw_geo_ring_sums(const struct fw_lonlat *ring, size_t count,
                      double *area_m2, double *length_m)
{
    const struct geod_geodesic ellipsoid = wgs84();
    struct geod_polygon polygon;
    geod_polygon_init(&polygon, 0);
    for (size_t i = 0; i < count; i++)
        geod_polygon_addpoint(&ellipsoid, &polygon, ring[i].lat_deg,
                              ring[i].lon_deg);
    /* Signed, so that a clockwise ring is not "the ellipsoid minus A", which
     * loses the digits that 5e14 m2 has no room for. */
    geod_polygon_compute(&ellipsoid, &polygon, 0, 1, area_m2, length_m);
}

double fw_geo_area_m2(const struct fw_lonlat *ring, size_t count)
{
    double area_m2 = 0;
    fw_geo_ring_sums(ring, count, &area_m2, NULL);
    return area_m2;
}

double fw_geo_length_m(const struct fw_lonlat *line, size_t count, bool closed)
{
    const struct geod_geodesic ellipsoid = wgs84();
    struct geod_polygon polygon;
    geod_polygon_init(&polygon, 1);
    for (size_t i = 0; i < count; i++)
        geod_polygon_addpoint(&ellipsoid, &polygon, line[i].lat_deg,
                              line[i].lon_deg);
    if (closed && count > 1)
        geod_polygon_addpoint(&ellipsoid, &polygon, line[0].lat_deg,
                              line[0].lon_deg);
    double length_m = 0;
    geod_polygon_compute(&ellipsoid, &polygon, 0, 1, NULL, &length_m);
    return length_m;
}
