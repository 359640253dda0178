/* Every allocation of what is done with shapes fails in turn: repair, the cut
 * at the 180th meridian, what is taken off a field, systems and rounds. */
#include "fault/refuse.h"

#include "base/alloc.h"

#include "geo/geo.h"
#include "geo/herbage.h"

/* Equal-area and true to scale at its centre; bare, as people write it. */
static const char *const metres =
    "+proj=laea +lat_0=58.3 +lon_0=25.5 +datum=WGS84 +units=m";

static enum fw_status shape_of(const struct fw_xy *points, size_t count,
                               size_t hole, struct fw_shape *out,
                               struct fw_error *err)
{
    *out = (struct fw_shape){
        .points = fw_alloc(count, sizeof *out->points),
        .ring_start = fw_alloc(3, sizeof *out->ring_start),
    };
    if (!out->points || !out->ring_start) {
        fw_shape_release(out);
        if (err)
            *err = (struct fw_error){FW_ENOMEM, "out of memory"};
        return FW_ENOMEM;
    }
    memcpy(out->points, points, count * sizeof *points);
    out->point_count = count;
    out->ring_count = hole ? 2 : 1;
    out->ring_start[1] = count - hole;
    out->ring_start[out->ring_count] = count;
    return FW_OK;
}

/* ---- repair ---- */

/* A closing edge that crosses the first one, a hundredth of a metre off; a ring
 * the wrong way round with its first point told twice, and a hole. */
static enum fw_status repairs(struct fw_error *err)
{
    static const struct fw_xy crossed[] = {
        {-0.5, 0}, {1000, 0}, {1000, 1000}, {0, 1000}, {0, -0.5}};
    static const struct fw_xy turned[] = {{0, 0},     {0, 900},   {0, 900},
                                          {900, 900}, {900, 0},   {300, 300},
                                          {300, 400}, {400, 400}, {400, 300}};
    struct fw_notes notes = {0};
    struct fw_shape shape = {0};
    enum fw_status status = shape_of(crossed, 5, 0, &shape, err);
    if (!status)
        status = fw_shape_repair(&shape, "hill", &notes, err);
    fw_shape_release(&shape);
    if (!status)
        status = shape_of(turned, 9, 4, &shape, err);
    if (!status)
        status = fw_shape_repair(&shape, "hill", &notes, err);
    fw_shape_release(&shape);
    fw_notes_release(&notes);
    return status;
}

/* ---- the 180th meridian ---- */

static enum fw_status cuts(struct fw_error *err)
{
    static struct fw_xy pond[] = {{179, 0},      {-179, 0},    {-179, 1},
                                  {179, 1},      {179.5, 0.2}, {179.5, 0.8},
                                  {-179.5, 0.8}, {-179.5, 0.2}};
    static size_t start[] = {0, 4, 8}, pieces[] = {0, 2};
    static struct fw_xy plain[] = {{9, 51}, {9.1, 51}, {9.1, 51.1}, {9, 51.1}};
    static size_t plain_start[] = {0, 4}, plain_pieces[] = {0, 1};
    const struct fw_areas over = {pond, start, 2, pieces, 1},
                          beside = {plain, plain_start, 1, plain_pieces, 1};
    struct fw_areas out = {0};
    enum fw_status status = fw_geo_cut_areas(&over, &out, err);
    if (!status)
        fw_areas_release(&out);
    if (!status)
        status = fw_geo_cut_areas(&beside, &out, err);
    if (!status)
        fw_areas_release(&out);
    if (!status)
        status = fw_geo_cut_line(pond, 4, &out, err);
    if (!status)
        fw_areas_release(&out);
    return status;
}

/* ---- what is taken off ---- */

static const struct fw_xy field_ring[] = {
    {0, 0}, {300, 0}, {300, 200}, {0, 200}};

static enum fw_status with_field(enum fw_status (*work)(const struct fw_field *,
                                                        struct fw_crs *,
                                                        struct fw_error *),
                                 struct fw_error *err)
{
    struct fw_crs *crs = NULL;
    struct fw_field *field = NULL;
    struct fw_shape shape = {0};
    enum fw_status status = fw_crs_new(metres, &crs, err);
    if (!status)
        status = shape_of(field_ring, 4, 0, &shape, err);
    if (!status)
        status = fw_field_new(&shape, "hill", crs, &field, err);
    fw_shape_release(&shape);
    if (!status)
        status = work(field, crs, err);
    fw_field_free(field);
    fw_crs_free(crs);
    return status;
}

/* In the plane the field's middle is 0, 0. */
static enum fw_status less(const struct fw_field *field, struct fw_crs *crs,
                           struct fw_error *err)
{
    static const struct fw_point ditch[] = {{20, -150}, {25, 0}, {20, 150}},
                                 pond[] = {{-90, -20}, {-60, -20}, {-60, 20},
                                           {-90, 20},  {-80, -5},  {-80, 5},
                                           {-70, 5},   {-70, -5}},
                                 well[] = {{100, 40}};
    static const size_t three[] = {0, 3}, both[] = {0, 4, 8}, one[] = {0, 1};
    const struct fw_bar bars[] = {{ditch, three, 1, false, 2},
                                  {pond, both, 2, true, 3},
                                  {well, one, 1, false, 5}};
    struct fw_field **pieces = NULL;
    size_t count = 0;
    double m2;
    enum fw_status status =
        fw_field_less(field, bars, 3, crs, &pieces, &count, &m2, err);
    if (!status) {
        assert_true(count == 2);
        fw_fields_free(pieces, count);
    }
    static const struct fw_point ground[] = {
        {-100, -80}, {100, -80}, {100, 80}, {-100, 80}};
    static const size_t ground_start[] = {0, 4};
    for (int k = 0; !status && k < 3; k++)
        status =
            fw_herbage_apart_m2(ground, ground_start, 1, &bars[k], &m2, err);
    return status;
}

static enum fw_status beyond(const struct fw_field *field, struct fw_crs *crs,
                             struct fw_error *err)
{
    /* Out over the edge and in again, so that several pieces come of it. */
    static const struct fw_point line[] = {
        {-140, -101}, {-60, 60}, {0, 130}, {60, 60}, {90, -101}};
    struct fw_beyond out = {.field = NULL};
    const enum fw_status status = fw_field_beyond(
        field, line, 5, (struct fw_point){0, -90}, crs, &out, err);
    if (!status)
        fw_beyond_release(&out);
    return status;
}

static enum fw_status zones(const struct fw_field *field, struct fw_crs *crs,
                            struct fw_error *err)
{
    (void)crs;
    static const struct fw_point
        west[] = {{-200, -150}, {10, -150}, {10, 150}, {-200, 150}},
        middle[] = {{-40, -30}, {40, -30}, {40, 30}, {-40, 30}};
    static const size_t start[] = {0, 4};
    const struct fw_herbage_zone told[] = {{west, start, 1, 0.2},
                                           {middle, start, 1, 0.3}};
    struct fw_herbage *ground = NULL;
    struct fw_herbage_told cover;
    const enum fw_status status =
        fw_herbage_zones(field, 0.1, told, 2, &ground, &cover, err);
    fw_herbage_free(ground);
    return status;
}

static enum fw_status bars_off_a_field(struct fw_error *err)
{
    return with_field(less, err);
}

static enum fw_status beyond_a_line(struct fw_error *err)
{
    return with_field(beyond, err);
}

static enum fw_status zones_on_a_field(struct fw_error *err)
{
    return with_field(zones, err);
}

/* ---- systems and rounds ---- */

static enum fw_status systems(struct fw_error *err)
{
    static const char *const definitions[] = {"EPSG:4326", "EPSG:28992",
                                              "+proj=utm +zone=35 +datum=WGS84",
                                              "EPSG:7415" /* with heights */};
    static const struct fw_lonlat places[] = {
        {5.4, 52.1}, {5.5, 52.1}, {5.5, 52.2}, {5.4, 52.2}};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof definitions / sizeof *definitions;
         i++) {
        struct fw_crs *crs = NULL;
        struct fw_xy there[4];
        struct fw_lonlat back[4];
        size_t bad;
        status = fw_crs_new(definitions[i], &crs, err);
        if (!status)
            status = fw_crs_from_lonlat(crs, places, there, 4, err);
        if (!status)
            status = fw_crs_to_lonlat(crs, there, back, 4, &bad, err);
        fw_crs_free(crs);
    }
    return status;
}

static enum fw_status rounds(struct fw_error *err)
{
    struct fw_lonlat places[12];
    size_t order[12];
    double round_m;
    for (size_t i = 0; i < 12; i++)
        places[i] = (struct fw_lonlat){9 + (double)(i * 7 % 12) / 100,
                                       51 + (double)(i * 5 % 12) / 100};
    const enum fw_status status = fw_geo_tour(places, 6, order, &round_m, err);
    return status ? status : fw_geo_tour(places, 12, order, &round_m, err);
}

static void shapes_say_each_refused_allocation_too(void **state)
{
    (void)state;
    refuse_each("repair", repairs, 10);
    refuse_each("the meridian", cuts, 10);
    refuse_each("bars", bars_off_a_field, 30);
    refuse_each("beyond a line", beyond_a_line, 20);
    refuse_each("zones", zones_on_a_field, 20);
    refuse_each("systems", systems, 10);
    refuse_each("rounds", rounds, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shapes_say_each_refused_allocation_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
