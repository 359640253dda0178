/* What the core asks of the world, where the world is flat. */
#include "core.h"

#include "geo/points.h"
#include <math.h>

static struct fw_plane plane(void)
{
    struct fw_plane made;
    fw_plane_init(&made, (struct fw_lonlat){0, 0}, NULL);
    return made;
}

struct fw_lonlat flat_place(struct fw_point at)
{
    const struct fw_plane flat = plane();
    return fw_plane_inverse(&flat, at);
}

static struct fw_point point(struct fw_lonlat place)
{
    const struct fw_plane flat = plane();
    return fw_plane_forward(&flat, place);
}

static enum fw_status lend(const char *definition, struct fw_crs **out,
                           struct fw_error *err)
{
    (void)definition;
    (void)err;
    *out = NULL;
    return FW_OK;
}

static void give_back(struct fw_crs *crs)
{
    (void)crs;
}

static double turn(const struct fw_crs *crs)
{
    (void)crs;
    return 0;
}

static enum fw_status from_lonlat(struct fw_crs *crs,
                                  const struct fw_lonlat *in, struct fw_xy *out,
                                  size_t count, struct fw_error *err)
{
    (void)crs;
    (void)err;
    for (size_t i = 0; i < count; i++) {
        const struct fw_point at = point(in[i]);
        out[i] = (struct fw_xy){at.x_m, at.y_m};
    }
    return FW_OK;
}

static enum fw_status area_m2(struct fw_crs *crs, const struct fw_plane *of,
                              const struct fw_xy *ring, size_t count,
                              double *out, struct fw_error *err)
{
    (void)crs;
    (void)of;
    (void)err;
    double twice = 0;
    for (size_t i = 0; i < count; i++) {
        const struct fw_xy a = ring[i], b = ring[(i + 1) % count];
        twice += a.x * b.y - b.x * a.y;
    }
    *out = twice / 2;
    return FW_OK;
}

static double bearing_deg(struct fw_lonlat a, struct fw_lonlat b)
{
    const struct fw_point from = point(a), to = point(b);
    double deg = atan2(to.x_m - from.x_m, to.y_m - from.y_m) * 180 / acos(-1);
    if (deg < 0)
        deg += 360;
    return deg < 360 ? deg : 0; /* -1e-20 rounds to 360 */
}

static double length_m(const struct fw_lonlat *line, size_t count, bool closed)
{
    double m = 0;
    for (size_t i = 0; i + 1 < count + closed; i++)
        m += fw_point_apart_m(point(line[i]), point(line[(i + 1) % count]));
    return m;
}

static enum fw_status apart_m2(const struct fw_point *points,
                               const size_t *ring_start, size_t ring_count,
                               const struct fw_bar *bar, double *out,
                               struct fw_error *err)
{
    (void)points;
    (void)ring_start;
    (void)ring_count;
    (void)bar;
    (void)err;
    *out = 0; /* asked of hard going only, and here is none */
    return FW_OK;
}

const struct fw_world flat_world = {lend,    give_back,   turn,     from_lonlat,
                                    area_m2, bearing_deg, length_m, apart_m2};
