/* The registers' own fields: areas against the geodesic and the register's,
 * and every strip of every field against GEOS. Found through FW_TEST_DATA,
 * skipped without it. */
#include "unit/test.h"

#include "crs/crs.h"
#include "geo/geo.h"
#include "io/io.h"
#include <foldwright/layout.h>

#include <geos_c.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

struct tally {
    size_t fields, refused, judged;
    double worst_geodesic, worst_register, worst_strip;
};

/* ---- areas.csv ---- */

struct known {
    char src[32];
    long long fid;
    double register_ha, geodesic_ha;
    int parts, valid;
};

static struct known *known;
static size_t known_count;

/* The landuse column may hold commas in quotes: read from the right. */
static bool read_line(char *line, struct known *out)
{
    char *cells[16];
    size_t n = 0;
    bool quoted = false;
    cells[n++] = line;
    for (char *c = line; *c && *c != '\n' && *c != '\r'; c++) {
        if (*c == '"')
            quoted = !quoted;
        else if (*c == ',' && !quoted && n < 16) {
            *c = '\0';
            cells[n++] = c + 1;
        }
    }
    if (n != 13)
        return false;
    snprintf(out->src, sizeof out->src, "%.31s", cells[0]);
    out->fid = atoll(cells[1]);
    out->register_ha = cells[6][0] ? atof(cells[6]) : (double)NAN;
    out->geodesic_ha = atof(cells[7]);
    out->parts = atoi(cells[11]);
    out->valid = atoi(cells[12]);
    return true;
}

static void read_known(const char *data)
{
    char path[4096], line[4096];
    snprintf(path, sizeof path, "%s/areas.csv", data);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    known = calloc(20000, sizeof *known);
    while (fgets(line, sizeof line, file) && known_count < 20000)
        known_count += read_line(line, &known[known_count]);
    fclose(file);
    assert_true(known_count > 5000);
}

static const struct known *find_known(const char *src, long long fid)
{
    for (size_t i = 0; i < known_count; i++)
        if (known[i].fid == fid && strcmp(known[i].src, src) == 0)
            return &known[i];
    return NULL;
}

/* What the data page says that a register's own area can prove. */
static double register_tolerance(const char *src)
{
    static const char *const close[] = {"be_vlg", "be_wal", "cz"};
    static const char *const planar[] = {"de_sh", "de_bb", "es_alava", "at_"};
    for (size_t i = 0; i < 3; i++)
        if (strncmp(src, close[i], strlen(close[i])) == 0)
            return 0.001;
    for (size_t i = 0; i < 4; i++)
        if (strncmp(src, planar[i], strlen(planar[i])) == 0)
            return 0.002;
    return (double)INFINITY; /* declared or legal areas: never an error */
}

/* The area inside geodesics between the file's own vertices, as the table of
 * areas has it: no edge of ours in between. */
static double vertices_ha(const struct fw_field *field)
{
    double area_m2 = 0;
    struct fw_lonlat *ring = calloc(field->vertex_count, sizeof *ring);
    for (size_t r = 0; r < field->ring_count; r++) {
        size_t count = 0;
        for (size_t i = field->ring_start[r]; i < field->ring_start[r + 1]; i++)
            if (field->vertices[i].kind == FW_VERTEX_INPUT)
                ring[count++] = field->vertices[i].lonlat;
        area_m2 += fw_geo_area_m2(ring, count);
    }
    free(ring);
    return area_m2 / 1e4;
}

/* Our own edges are straight in the file's system. In a projected one they
 * are geodesics as near as matters here; in longitude and latitude an edge of
 * 500 m that runs east and west parts from the geodesic by centimetres, which
 * is some hundred-thousandths of a small field. */
static void check_area(const char *src, long long fid,
                       const struct fw_field *field, bool geographic,
                       struct tally *tally)
{
    const struct known *of = find_known(src, fid);
    if (!of || of->parts != 1 || !of->valid || of->geodesic_ha < 0.1)
        return;
    const double ha = field->ellipsoid_m2 / 1e4;
    const double off = fabs(vertices_ha(field) / of->geodesic_ha - 1);
    const double edges = fabs(ha / of->geodesic_ha - 1);
    if (off > 1e-5 || edges > (geographic ? 2e-4 : 1e-5))
        fail_msg("%s %lld: %.9g ha, %.9g by its vertices; geodesic %.9g", src,
                 fid, ha, vertices_ha(field), of->geodesic_ha);
    tally->worst_geodesic = fmax(tally->worst_geodesic, off);
    const double allowed = register_tolerance(src);
    if (isnan(of->register_ha) || isinf(allowed))
        return;
    const double from_register = fabs(ha / of->register_ha - 1);
    tally->worst_register = fmax(tally->worst_register, from_register);
    if (from_register > allowed)
        fail_msg("%s %lld: %.9g ha; register %.9g", src, fid, ha,
                 of->register_ha);
}

/* ---- GEOS, the slow judge ---- */

static GEOSGeometry *ring_of(GEOSContextHandle_t geos,
                             const struct fw_point *points, size_t count)
{
    GEOSCoordSequence *line =
        GEOSCoordSeq_create_r(geos, (unsigned)count + 1, 2);
    for (size_t i = 0; i <= count; i++)
        GEOSCoordSeq_setXY_r(geos, line, (unsigned)i, points[i % count].x_m,
                             points[i % count].y_m);
    return GEOSGeom_createLinearRing_r(geos, line);
}

static GEOSGeometry *field_of(GEOSContextHandle_t geos,
                              const struct fw_point *points,
                              const struct fw_field *field)
{
    GEOSGeometry **holes = calloc(field->ring_count, sizeof *holes);
    GEOSGeometry *outer = NULL;
    for (size_t r = 0; r < field->ring_count; r++) {
        GEOSGeometry *ring =
            ring_of(geos, points + field->ring_start[r],
                    field->ring_start[r + 1] - field->ring_start[r]);
        if (r == 0)
            outer = ring;
        else
            holes[r - 1] = ring;
    }
    GEOSGeometry *polygon = GEOSGeom_createPolygon_r(
        geos, outer, holes, (unsigned)(field->ring_count - 1));
    free(holes);
    return polygon;
}

/* The strip between two positions of the line, as a long box. */
static GEOSGeometry *box_of(GEOSContextHandle_t geos, double direction_deg,
                            double from_m, double to_m)
{
    const double far = 40000, turn = direction_deg * acos(-1) / 180;
    const double ux = cos(turn), uy = sin(turn);
    struct fw_point box[4];
    const double at[4][2] = {
        {from_m, -far}, {to_m, -far}, {to_m, far}, {from_m, far}};
    for (int i = 0; i < 4; i++) {
        box[i].x_m = at[i][0] * ux - at[i][1] * uy;
        box[i].y_m = at[i][0] * uy + at[i][1] * ux;
    }
    return GEOSGeom_createPolygon_r(geos, ring_of(geos, box, 4), NULL, 0);
}

static void judge(const char *src, long long fid, const struct fw_field *field,
                  struct tally *tally)
{
    enum { cuts = 9 };
    struct fw_error err;
    struct fw_point *points = calloc(field->vertex_count, sizeof *points);
    for (size_t i = 0; i < field->vertex_count; i++)
        points[i] = field->vertices[i].plane;
    struct fw_sweep *sweep;
    assert_int_equal(fw_sweep_new(points, field->ring_start, field->ring_count,
                                  &sweep, &err),
                     FW_OK);
    const double direction_deg = (double)(fid * 37 % 180);
    fw_sweep_turn(sweep, direction_deg);
    double behind[cuts], position[cuts], length[cuts];
    const double total = fw_sweep_area_m2(sweep);
    for (int i = 0; i < cuts; i++)
        behind[i] = total * (i + 1) / (cuts + 1);
    fw_sweep_cut(sweep, behind, cuts, position, length);
    struct fw_partition partition = {0};
    assert_int_equal(fw_sweep_build(sweep, position, cuts, &partition, &err),
                     FW_OK);
    GEOSContextHandle_t geos = GEOS_init_r();
    GEOSGeometry *whole = field_of(geos, points, field);
    double sum = 0;
    for (size_t i = 0; i < partition.paddock_count; i++) {
        const double share = partition.paddock_m2[i] / (total / (cuts + 1));
        if (fabs(share - 1) > 1e-9)
            fail_msg("%s %lld: paddock %zu holds %.17g of its target", src, fid,
                     i, share);
        sum += partition.paddock_m2[i];
        GEOSGeometry *box =
            box_of(geos, direction_deg, i ? position[i - 1] : -30000,
                   i < cuts ? position[i] : 30000);
        GEOSGeometry *strip = GEOSIntersection_r(geos, whole, box);
        double area = (double)NAN;
        if (strip)
            GEOSArea_r(geos, strip, &area);
        const double off = fabs(area / partition.paddock_m2[i] - 1);
        if (!(off < 1e-6))
            fail_msg("%s %lld: paddock %zu: %.12g m2; GEOS %.12g", src, fid, i,
                     partition.paddock_m2[i], area);
        tally->worst_strip = fmax(tally->worst_strip, off);
        GEOSGeom_destroy_r(geos, strip);
        GEOSGeom_destroy_r(geos, box);
    }
    if (fabs(sum / field->area_m2 - 1) > 1e-12)
        fail_msg("%s %lld: paddocks add up to %.17g m2 of %.17g", src, fid, sum,
                 field->area_m2);
    tally->judged++;
    GEOSGeom_destroy_r(geos, whole);
    GEOS_finish_r(geos);
    fw_partition_release(&partition);
    fw_sweep_free(sweep);
    free(points);
}

/* ---- one register ---- */

static void try_map(const char *data, const char *folder, const char *src,
                    struct tally *tally)
{
    char path[4096];
    struct fw_error err;
    struct fw_map *map;
    struct fw_crs *crs;
    snprintf(path, sizeof path, "%s/%s%s.gpkg", data, folder, src);
    const struct fw_map_request request = {.source = path};
    if (fw_map_read(&request, &map, NULL, &err))
        fail_msg("%s", err.text);
    assert_int_equal(fw_crs_new(map->crs, &crs, &err), FW_OK);
    for (size_t i = 0; i < map->feature_count; i++) {
        struct fw_feature *feature = &map->features[i];
        struct fw_field *field;
        tally->fields++;
        if (feature->kind != FW_FEATURE_POLYGON ||
            fw_shape_repair(&feature->shape, "", NULL, &err) ||
            fw_field_new(&feature->shape, "", crs, &field, &err)) {
            tally->refused++;
            continue;
        }
        if (feature->parts == 1)
            check_area(src, feature->fid, field, fw_crs_is_geographic(crs),
                       tally);
        judge(src, feature->fid, field, tally);
        fw_field_free(field);
    }
    fw_crs_free(crs);
    fw_map_free(map);
}

static void registers_agree_with_geodesic_and_geos(void **state)
{
    (void)state;
    static const char *const registers[] = {"at_block2021",
                                            "at_schlaege2024",
                                            "at_schlaege2025",
                                            "be_vlg2023",
                                            "be_wal2022",
                                            "cz2023",
                                            "de_bb",
                                            "de_sh",
                                            "dk2023",
                                            "dk2026",
                                            "es_alava2025",
                                            "fi",
                                            "fr2022",
                                            "in_10k",
                                            "jp_fude2024",
                                            "kh_ai4sf",
                                            "nl2023",
                                            "nl_block",
                                            "nl_waterland2020",
                                            "rw2021",
                                            "se2023",
                                            "vn_ai4sf"};
    const char *data = getenv("FW_TEST_DATA");
    read_known(data);
    struct tally tally = {0};
    for (size_t i = 0; i < sizeof registers / sizeof registers[0]; i++)
        try_map(data, "parcels/", registers[i], &tally);
    assert_true(tally.judged > 6000);
    assert_true(tally.refused < tally.fields / 50);
    /* The same and others in longitude and latitude, and the shapes that made
     * other libraries stumble, as large as fields. */
    try_map(data, "", "fields_public", &tally);
    try_map(data, "stress/", "stress_scaled_utm32", &tally);
    print_message("# %zu fields, %zu refused, %zu judged; worst against "
                  "geodesic %.1e, register %.1e, GEOS strip %.1e\n",
                  tally.fields, tally.refused, tally.judged,
                  tally.worst_geodesic, tally.worst_register,
                  tally.worst_strip);
    assert_true(tally.judged > 13000);
    free(known);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        data_test(registers_agree_with_geodesic_and_geos),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
