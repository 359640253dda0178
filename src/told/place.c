/* Places as people name them: a corner, a way along a side, a waypoint, a pair
 * of coordinates. */
#include "keys/reader.h"

#include "base/text.h"
#include "figures/mark.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char expected[] = "expected corner:N, side:N@40m, FENCE@65m, "
                               "lon,lat or a waypoint's name";

bool fw_farm__spot_is_of_field(const char *text)
{
    return strncmp(text, "corner:", 7) == 0 || strncmp(text, "side:", 5) == 0;
}

double fw_farm__distance_m(const struct fw_field *field, struct fw_point point)
{
    double least_m = HUGE_VAL;
    if (fw_field_contains(field, point, 0))
        return 0;
    for (size_t r = 0; r < field->ring_count; r++) {
        const size_t start = field->ring_start[r];
        size_t before = field->ring_start[r + 1] - 1;
        for (size_t i = start; i < field->ring_start[r + 1]; before = i++)
            least_m =
                fmin(least_m,
                     fw_segment_distance_m(point, field->vertices[before].plane,
                                           field->vertices[i].plane));
    }
    return least_m;
}

/* A corner's number, counted from 1, at the start of the text. */
static enum fw_status corner_number(const struct fw_field *field,
                                    const char *text, size_t *corner,
                                    const char **rest, struct fw_error *err)
{
    enum { shown_digits = FW_EFFORT(12) };
    const size_t digits = strspn(text, "0123456789");
    const unsigned long number =
        digits > 0 && digits < FW_EFFORT(8) ? strtoul(text, NULL, 10) : 0;
    if (digits == 0)
        return fw_fail(err, FW_EINPUT,
                       "\"%.40s\" is no number; expected 1 to "
                       "%zu, as check shows them",
                       text, field->corner_count);
    if (number < 1 || number > field->corner_count)
        return fw_fail(err, FW_EINPUT,
                       "there is no corner %.*s; field \"%.80s\" has corners 1 "
                       "to %zu, as check shows them",
                       (int)(digits < shown_digits ? digits : shown_digits),
                       text, field->name, field->corner_count);
    *corner = number - 1;
    *rest = text + digits;
    return FW_OK;
}

static enum fw_status at_corner(const struct fw_field *field, const char *text,
                                struct fw_point *out, struct fw_error *err)
{
    size_t corner = 0;
    const char *rest = text;
    const enum fw_status status =
        corner_number(field, text, &corner, &rest, err);
    if (status)
        return status;
    if (*rest)
        return fw_fail(err, FW_EINPUT, "\"corner:%.40s\" is no place; %s", text,
                       expected);
    return fw_field_place(field, corner, 0, out, err);
}

static enum fw_status on_side(struct fw_farm__reader *reader,
                              const struct fw_field *field, const char *text,
                              struct fw_point *out, struct fw_error *err)
{
    size_t corner = 0;
    const char *rest = text;
    enum fw_status status = corner_number(field, text, &corner, &rest, err);
    if (status)
        return status;
    const double side_m = fw_field_side_m(field, corner);
    double along_m = side_m / 2;
    if (*rest && *rest != '@')
        return fw_fail(err, FW_EINPUT, "\"side:%.40s\" is no place; %s", text,
                       expected);
    if (*rest)
        status =
            fw_farm__quantity(reader, rest + 1, FW_KIND_LENGTH, &along_m, err);
    if (status)
        return status;
    if (!(along_m <= side_m))
        return fw_fail(err, FW_EINPUT,
                       "side %zu of field \"%.80s\" is %.1f m long; %.1f m is "
                       "beyond its end",
                       corner + 1, field->name, side_m, along_m);
    return fw_field_place(field, corner, along_m, out, err);
}

/* "-3.101,52.402": true when it is a pair of numbers at all. */
static bool read_pair(const char *text, double *lon, double *lat)
{
    const char *end = text;
    *lon = fw_text_number(text, &end);
    if (end == text)
        return false;
    end += strspn(end, " ");
    if (*end != ',')
        return false;
    const char *second = end + 1 + strspn(end + 1, " ");
    *lat = fw_text_number(second, &end);
    return end != second && !*end;
}

static enum fw_status at_pair(double lon, double lat, const char *text,
                              struct fw_lonlat *out, struct fw_error *err)
{
    if (!(fabs(lon) <= 180 && fabs(lat) <= 90))
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" is no place on earth; expected degrees, "
                       "longitude first, such as -3.101,52.402",
                       text);
    *out = (struct fw_lonlat){lon, lat};
    return FW_OK;
}

static enum fw_status no_such_place(const struct fw_farm__reader *reader,
                                    const char *text, struct fw_error *err)
{
    enum { shown = FW_EFFORT(8) };
    const char *names[shown];
    size_t count = 0;
    struct fw_text list = {0};
    for (; count < reader->waypoint_count && count < shown; count++) {
        names[count] = reader->waypoints[count].name;
        fw_text_addf(&list, "%s%.40s", count ? ", " : "", names[count]);
    }
    const char *near = fw_text_nearest(text, names, count);
    if (near)
        fw_fail(err, FW_EINPUT,
                "\"%.60s\" is no place; did you mean \"%.60s\"?", text, near);
    else if (count > 0 && !list.failed)
        fw_fail(err, FW_EINPUT, "\"%.60s\" is no place; %s (here: %s)", text,
                expected, list.bytes);
    else
        fw_fail(err, FW_EINPUT, "\"%.60s\" is no place; %s (the map has none)",
                text, expected);
    fw_text_release(&list);
    return FW_EINPUT;
}

static enum fw_status at_waypoint(const struct fw_farm__reader *reader,
                                  const char *text, struct fw_lonlat *out,
                                  struct fw_error *err)
{
    for (size_t i = 0; i < reader->waypoint_count; i++)
        if (strcmp(reader->waypoints[i].name, text) == 0) {
            *out = reader->waypoints[i].lonlat;
            return FW_OK;
        }
    return no_such_place(reader, text, err);
}

/* A waypoint that somebody called as a fence is called is meant. */
static bool is_fence(const struct fw_farm__reader *reader, const char *text)
{
    for (size_t i = 0; i < reader->waypoint_count; i++)
        if (strcmp(reader->waypoints[i].name, text) == 0)
            return false;
    return fw_farm__is_fence(reader, text);
}

enum fw_status fw_farm__spot(struct fw_farm__reader *reader,
                             const struct fw_field *field, const char *text,
                             struct fw_spot *out, struct fw_error *err)
{
    struct fw_spot spot = {.given = true};
    enum fw_status status;
    double lon, lat;
    fw_text_clip(text, spot.text, sizeof spot.text);
    if (fw_farm__spot_is_of_field(text)) {
        status = text[0] == 'c' ? at_corner(field, text + strlen("corner:"),
                                            &spot.point, err)
                                : on_side(reader, field, text + strlen("side:"),
                                          &spot.point, err);
        if (!status)
            spot.lonlat = fw_plane_inverse(&field->plane, spot.point);
    } else {
        status = read_pair(text, &lon, &lat)
                     ? at_pair(lon, lat, text, &spot.lonlat, err)
                 : is_fence(reader, text)
                     ? fw_farm__on_fence(reader, text, &spot.lonlat, err)
                     : at_waypoint(reader, text, &spot.lonlat, err);
        if (!status)
            spot.point = fw_plane_forward(&field->plane, spot.lonlat);
    }
    if (!status)
        *out = spot;
    return status;
}
