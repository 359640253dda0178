/* Coordinate systems, by PROJ. One context each, so that systems in different
 * threads share nothing; no network and no messages of PROJ's own. */
#include "crs/crs.h"
#include "base/alloc.h"
#include "base/angle.h"
#include "base/fail.h"
#include "crs/inner.h"
#include "geo/inner.h"

#include <math.h>
#include <proj.h>
#include <stdio.h>
#include <string.h>

struct fw_crs {
    PJ_CONTEXT *context;
    PJ *shift; /* file to WGS 84 longitude and latitude; NULL: the same */
    char *definition;
    char *name;
    double turn;       /* units of longitude in a full circle; 0: projected */
    double accuracy_m; /* negative: none stated */
    bool accuracy_known;
};

/* How far, in the file's unit of length, a coordinate may be from where PROJ's
 * inverse puts it back. Grid shifts stay within a millimetre or so; outside
 * its domain a projection is off by kilometres. */
static const double most_astray = 1;

/* ---- reading a definition ---- */

/* A bare PROJ string means an operation unless it is marked. */
static enum fw_status read_definition(PJ_CONTEXT *context,
                                      const char *definition, PJ **out,
                                      struct fw_error *err)
{
    const bool bare =
        strchr(definition, '[') == NULL && strchr(definition, '{') == NULL &&
        (strstr(definition, "proj=") || strstr(definition, "init=")) &&
        !strstr(definition, "type=crs");
    const char *mark = " +type=crs";
    const size_t room = strlen(definition) + strlen(mark) + 1;
    char *marked = fw_alloc(room, 1);
    if (!marked)
        return fw_fail_memory(err);
    snprintf(marked, room, "%s%s", definition, bare ? mark : "");
    *out = proj_create(context, marked);
    fw_free(marked);
    return FW_OK;
}

/* The horizontal part: heights play no role here. */
static PJ *horizontal(PJ_CONTEXT *context, PJ *read)
{
    if (proj_get_type(read) != PJ_TYPE_COMPOUND_CRS)
        return read;
    PJ *part = proj_crs_get_sub_crs(context, read, 0);
    if (!part)
        return read;
    proj_destroy(read);
    return part;
}

static bool is_geographic(PJ_TYPE type)
{
    return type == PJ_TYPE_GEOGRAPHIC_2D_CRS ||
           type == PJ_TYPE_GEOGRAPHIC_3D_CRS;
}

/* The type below a bound system ("with +towgs84"). */
static PJ_TYPE inner_type(PJ_CONTEXT *context, const PJ *read)
{
    const PJ_TYPE type = proj_get_type(read);
    if (type != PJ_TYPE_BOUND_CRS)
        return type;
    PJ *source = proj_get_source_crs(context, read);
    const PJ_TYPE inside = source ? proj_get_type(source) : PJ_TYPE_UNKNOWN;
    proj_destroy(source);
    return inside;
}

/* Full circle in the unit of the longitude axis: 360 degrees or 400 gon. */
static double full_turn(PJ_CONTEXT *context, const PJ *read)
{
    double radians = 0;
    PJ *source = proj_get_type(read) == PJ_TYPE_BOUND_CRS
                     ? proj_get_source_crs(context, read)
                     : NULL;
    PJ *axes = proj_crs_get_coordinate_system(context, source ? source : read);
    if (axes)
        proj_cs_get_axis_info(context, axes, 0, NULL, NULL, NULL, &radians,
                              NULL, NULL, NULL);
    proj_destroy(axes);
    proj_destroy(source);
    return radians > 0 ? rint(2 * FW_PI / radians * 1e6) / 1e6 : 360;
}

/* ---- making and freeing ---- */

static void say_nothing(void *user, int level, const char *text)
{
    (void)user;
    (void)level;
    (void)text;
}

/* PROJ says on standard error that its table is missing, whatever the level,
 * unless it is given somebody else to tell. */
static PJ_CONTEXT *quiet_context(void)
{
    PJ_CONTEXT *context = proj_context_create();
    if (!context)
        return NULL;
    proj_log_level(context, PJ_LOG_NONE);
    proj_log_func(context, NULL, say_nothing);
    proj_context_set_enable_network(context, 0);
    return context;
}

/* As GIS programs ask for it: the same WGS 84 as OGC:CRS84, whose axes are in
 * the other order (put right below). For that one PROJ picks other ways, 0.2 mm
 * off from what a map comes to elsewhere, and seeks them half as long again. */
static enum fw_status wgs84_of(PJ_CONTEXT *context, PJ **out,
                               struct fw_error *err)
{
    *out = proj_create(context, "EPSG:4326");
    if (*out)
        return FW_OK;
    return fw_fail(err, FW_EFAULT,
                   "PROJ's table of coordinate systems, proj.db, is missing or "
                   "cannot be read: install PROJ's data (proj-data), or unset "
                   "PROJ_LIB and PROJ_DATA");
}

enum fw_status fw_crs_ready(struct fw_error *err)
{
    PJ_CONTEXT *context = quiet_context();
    if (!context)
        return fw_fail_memory(err);
    PJ *wgs84 = NULL;
    const enum fw_status status = wgs84_of(context, &wgs84, err);
    proj_destroy(wgs84);
    proj_context_destroy(context);
    return status;
}

static enum fw_status find_shift(struct fw_crs *crs, const PJ *read,
                                 const PJ *wgs84, struct fw_error *err)
{
    if (proj_is_equivalent_to_with_ctx(
            crs->context, read, wgs84,
            PJ_COMP_EQUIVALENT_EXCEPT_AXIS_ORDER_GEOGCRS)) {
        crs->accuracy_known = true;
        return FW_OK;
    }
    PJ *raw =
        proj_create_crs_to_crs_from_pj(crs->context, read, wgs84, NULL, NULL);
    if (raw)
        crs->shift = proj_normalize_for_visualization(crs->context, raw);
    proj_destroy(raw);
    if (!crs->shift)
        return fw_fail(
            err, FW_EINPUT,
            "coordinate system \"%s\" has no way to WGS 84; expected "
            "one that is tied to the earth",
            crs->name);
    crs->accuracy_m =
        proj_coordoperation_get_accuracy(crs->context, crs->shift);
    return FW_OK;
}

static enum fw_status understand(struct fw_crs *crs, const PJ *read,
                                 struct fw_error *err)
{
    const char *name = proj_get_name(read);
    crs->name = fw_strdup(name && *name ? name : "unnamed");
    if (!crs->name)
        return fw_fail_memory(err);
    const PJ_TYPE type = inner_type(crs->context, read);
    if (!is_geographic(type) && type != PJ_TYPE_PROJECTED_CRS)
        return fw_fail(err, FW_EINPUT,
                       "coordinate system \"%s\" is not one of a map; expected "
                       "longitude and latitude, or a map projection",
                       crs->name);
    if (is_geographic(type))
        crs->turn = full_turn(crs->context, read);
    PJ *wgs84 = NULL;
    enum fw_status status = wgs84_of(crs->context, &wgs84, err);
    if (!status)
        status = find_shift(crs, read, wgs84, err);
    proj_destroy(wgs84);
    return status;
}

static enum fw_status open_crs(struct fw_crs *crs, const char *definition,
                               struct fw_error *err)
{
    crs->definition = fw_strdup(definition);
    crs->context = quiet_context();
    if (!crs->definition || !crs->context)
        return fw_fail_memory(err);
    PJ *read = NULL;
    enum fw_status status =
        read_definition(crs->context, definition, &read, err);
    if (status)
        return status;
    if (!read && fw_crs_ready(err))
        return FW_EFAULT;
    if (!read)
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is not a coordinate system that PROJ knows; "
                       "try a code like EPSG:25832",
                       definition);
    read = horizontal(crs->context, read);
    status = understand(crs, read, err);
    proj_destroy(read);
    return status;
}

enum fw_status fw_crs_new(const char *definition, struct fw_crs **out,
                          struct fw_error *err)
{
    if (!definition || !*definition)
        return fw_fail(err, FW_EINPUT,
                       "no coordinate system is given; try a code like "
                       "EPSG:25832");
    struct fw_crs *crs = fw_alloc(1, sizeof *crs);
    if (!crs)
        return fw_fail_memory(err);
    const enum fw_status status = open_crs(crs, definition, err);
    if (status) {
        fw_crs_free(crs);
        return status;
    }
    *out = crs;
    return FW_OK;
}

void fw_crs_free(struct fw_crs *crs)
{
    if (!crs)
        return;
    proj_destroy(crs->shift);
    if (crs->context) /* NULL would destroy what others share */
        proj_context_destroy(crs->context);
    fw_free(crs->definition);
    fw_free(crs->name);
    fw_free(crs);
}

const char *fw_crs_name(const struct fw_crs *crs)
{
    return crs->name;
}

const char *fw_crs_definition(const struct fw_crs *crs)
{
    return crs->definition;
}

bool fw_crs_is_wgs84_lonlat(const struct fw_crs *crs)
{
    return !crs->shift;
}

bool fw_crs_is_geographic(const struct fw_crs *crs)
{
    return crs->turn > 0;
}

double fw_crs_accuracy_m(const struct fw_crs *crs)
{
    return crs->accuracy_m;
}

double fw_crs_turn(const struct fw_crs *crs)
{
    return crs->turn;
}

/* ---- coordinates ---- */

static enum fw_status refuse(const struct fw_crs *crs, struct fw_xy at,
                             size_t index, const char *why, size_t *bad,
                             struct fw_error *err)
{
    if (bad)
        *bad = index;
    return fw_fail(err, FW_EINPUT, "vertex %zu (x %.10g, y %.10g) %s \"%s\"%s",
                   index + 1, at.x, at.y, why, crs->name,
                   crs->turn > 0
                       ? "; is it the right coordinate system for the file?"
                       : "");
}

/* Also what catches metres under an empty .prj, which reads as longitude and
 * latitude without a datum. */
static bool within_circle(double turn, struct fw_xy at)
{
    return !(turn > 0) || (fabs(at.x) <= turn && fabs(at.y) <= turn / 4);
}

static enum fw_status check_in(const struct fw_crs *crs, const struct fw_xy *in,
                               size_t count, size_t *bad, struct fw_error *err)
{
    for (size_t i = 0; i < count; i++) {
        if (!isfinite(in[i].x) || !isfinite(in[i].y))
            return refuse(crs, in[i], i, "is not finite, in", bad, err);
        if (!within_circle(crs->turn, in[i]))
            return refuse(crs, in[i], i, "is outside its CRS", bad, err);
    }
    return FW_OK;
}

static void transform(struct fw_crs *crs, PJ_DIRECTION direction,
                      struct fw_xy *points, size_t count)
{
    proj_errno_reset(crs->shift);
    proj_trans_generic(crs->shift, direction, &points->x, sizeof *points, count,
                       &points->y, sizeof *points, count, NULL, 0, 0, NULL, 0,
                       0);
}

static bool comes_back(const struct fw_crs *crs, struct fw_xy was,
                       struct fw_xy is)
{
    double dx = is.x - was.x;
    double dy = is.y - was.y;
    if (crs->turn > 0) {
        const double metre = crs->turn / 4e7; /* a quadrant is 10,000 km */
        const double to_radian = 6.283185307179586 / crs->turn;
        dx = remainder(dx, crs->turn) * cos(was.y * to_radian) / metre;
        dy /= metre;
    }
    return fabs(dx) <= most_astray && fabs(dy) <= most_astray;
}

/* The points that reach farthest each way: what lies outside a projection's
 * domain is among them, and all points would cost as much as the transform. */
static size_t outermost(const struct fw_xy *in, size_t count, size_t most[4])
{
    size_t west = 0, east = 0, south = 0, north = 0;
    for (size_t i = 1; i < count; i++) {
        west = in[i].x < in[west].x ? i : west;
        east = in[i].x > in[east].x ? i : east;
        south = in[i].y < in[south].y ? i : south;
        north = in[i].y > in[north].y ? i : north;
    }
    most[0] = west;
    most[1] = east;
    most[2] = south;
    most[3] = north;
    return 4;
}

static enum fw_status check_there(struct fw_crs *crs, const struct fw_xy *in,
                                  const struct fw_xy *there, size_t count,
                                  size_t *bad, struct fw_error *err)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(there[i].x) || !(fabs(there[i].y) <= 90))
            return refuse(crs, in[i], i, "is outside its CRS", bad, err);
    size_t most[4];
    struct fw_xy back[4];
    const size_t tried = outermost(in, count, most);
    for (size_t i = 0; i < tried; i++)
        back[i] = there[most[i]];
    transform(crs, PJ_INV, back, tried);
    for (size_t i = 0; i < tried; i++)
        if (!comes_back(crs, in[most[i]], back[i]))
            return refuse(crs, in[most[i]], most[i], "is outside its CRS", bad,
                          err);
    return FW_OK;
}

void fw_crs__as_new(struct fw_crs *crs)
{
    crs->accuracy_known = !crs->shift;
    if (crs->shift)
        crs->accuracy_m =
            proj_coordoperation_get_accuracy(crs->context, crs->shift);
}

/* PROJ chooses among several shifts by the place, so the accuracy is known
 * once a place is. Asking costs a copy of the operation: once. */
static void learn_accuracy(struct fw_crs *crs)
{
    if (crs->accuracy_known)
        return;
    crs->accuracy_known = true;
    PJ *used = proj_trans_get_last_used_operation(crs->shift);
    if (used)
        crs->accuracy_m = proj_coordoperation_get_accuracy(crs->context, used);
    proj_destroy(used);
}

static struct fw_lonlat as_lonlat(double x, double y)
{
    if (x > 180)
        x -= 360;
    if (x < -180)
        x += 360;
    return (struct fw_lonlat){.lon_deg = x, .lat_deg = y};
}

static enum fw_status shift_there(struct fw_crs *crs, const struct fw_xy *in,
                                  struct fw_lonlat *out, size_t count,
                                  size_t *bad, struct fw_error *err)
{
    struct fw_xy *there = fw_alloc(count, sizeof *there);
    if (!there)
        return fw_fail_memory(err);
    memcpy(there, in, count * sizeof *there);
    transform(crs, PJ_FWD, there, count);
    learn_accuracy(crs);
    const enum fw_status status = check_there(crs, in, there, count, bad, err);
    for (size_t i = 0; !status && i < count; i++)
        out[i] = as_lonlat(there[i].x, there[i].y);
    fw_free(there);
    return status;
}

enum fw_status fw_crs_to_lonlat(struct fw_crs *crs, const struct fw_xy *in,
                                struct fw_lonlat *out, size_t count,
                                size_t *bad, struct fw_error *err)
{
    const enum fw_status status = check_in(crs, in, count, bad, err);
    if (status || count == 0)
        return status;
    if (crs->shift)
        return shift_there(crs, in, out, count, bad, err);
    for (size_t i = 0; i < count; i++)
        out[i] = as_lonlat(in[i].x, in[i].y);
    return FW_OK;
}

static enum fw_status shift_back(struct fw_crs *crs, const struct fw_lonlat *in,
                                 struct fw_xy *out, size_t count,
                                 struct fw_error *err)
{
    struct fw_xy *back = fw_alloc(count, sizeof *back);
    if (!back)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        back[i] = (struct fw_xy){in[i].lon_deg, in[i].lat_deg};
    transform(crs, PJ_INV, back, count);
    size_t good = 0;
    while (good < count && isfinite(back[good].x) && isfinite(back[good].y))
        good++;
    if (good == count)
        memcpy(out, back, count * sizeof *back);
    fw_free(back);
    if (good == count)
        return FW_OK;
    return fw_fail(err, FW_EINPUT,
                   "longitude %.10g, latitude %.10g is outside \"%s\"",
                   in[good].lon_deg, in[good].lat_deg, crs->name);
}

enum fw_status fw_crs_from_lonlat(struct fw_crs *crs,
                                  const struct fw_lonlat *in, struct fw_xy *out,
                                  size_t count, struct fw_error *err)
{
    for (size_t i = 0; i < count; i++)
        if (!(fabs(in[i].lon_deg) <= 360) || !(fabs(in[i].lat_deg) <= 90))
            return fw_fail(err, FW_EINPUT,
                           "longitude %.10g, latitude %.10g is no place; "
                           "expected -180 to 180 and -90 to 90",
                           in[i].lon_deg, in[i].lat_deg);
    if (count == 0)
        return FW_OK;
    if (crs->shift)
        return shift_back(crs, in, out, count, err);
    for (size_t i = 0; i < count; i++)
        out[i] = (struct fw_xy){in[i].lon_deg, in[i].lat_deg};
    return FW_OK;
}
