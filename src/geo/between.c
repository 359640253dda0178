/* Places on lines of vertices. */
#include "geo/inner.h"

#include "base/length.h"

#include <math.h>

/* On the line as it is drawn, in each kind of coordinate: what is straight on
 * the ground is not quite straight in a map. */
struct fw_vertex fw_geo__between(const struct fw_vertex *a,
                                 const struct fw_vertex *b, double t,
                                 double turn)
{
    if (t >= 1) /* to the last bit */
        return *b;
    const double degrees = 360;
    const double lon = fw_unwrap(b->lonlat.lon_deg, a->lonlat.lon_deg, degrees);
    const double x = fw_unwrap(b->file.x, a->file.x, turn);
    struct fw_vertex place = {
        .file = {a->file.x + t * (x - a->file.x),
                 a->file.y + t * (b->file.y - a->file.y)},
        .lonlat = {a->lonlat.lon_deg + t * (lon - a->lonlat.lon_deg),
                   a->lonlat.lat_deg +
                       t * (b->lonlat.lat_deg - a->lonlat.lat_deg)},
        .plane = {a->plane.x_m + t * (b->plane.x_m - a->plane.x_m),
                  a->plane.y_m + t * (b->plane.y_m - a->plane.y_m)},
        .kind = FW_VERTEX_CUT,
    };
    if (lon != b->lonlat.lon_deg)
        place.lonlat.lon_deg = fw_unwrap(place.lonlat.lon_deg, 0, degrees);
    if (x != b->file.x)
        place.file.x = fw_unwrap(place.file.x, 0, turn);
    return place;
}

double fw_geo__nearest_on(struct fw_point from, struct fw_point to,
                          struct fw_point at, double *away_m)
{
    const double x = to.x_m - from.x_m, y = to.y_m - from.y_m;
    const double px = at.x_m - from.x_m, py = at.y_m - from.y_m;
    const double square = x * x + y * y;
    const double t =
        square > 0 ? fmin(1, fmax(0, (px * x + py * y) / square)) : 0;
    *away_m = fw_length(px - t * x, py - t * y);
    return t;
}
