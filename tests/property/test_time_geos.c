/* On each distinct ground of real plans another library is asked: GEOS cuts the
 * field along what stands, with a gap where a line is open, and must agree with
 * the replay about which paddocks and lanes the flock has. Found through
 * FW_TEST_DATA, skipped without it.
 *
 * Every run takes 40 of the fixed list's fields in one setting each, another
 * one for each field; FW_TEST_EVERY=1 takes all 300 in four. */
#include "make/make.h"
#include "random_farm.h"
#include "time_farms.h"

#include <geos_c.h>

struct judge {
    GEOSContextHandle_t geos;
    size_t plans, none, steps, grounds, cells, wrong;
};

struct yard {
    struct judge *judge;
    const struct fw_plan *plan;
    const char *where;
    struct fw_land land;
    struct fw_replay replay;
    GEOSGeometry **spots; /* by cell: a point in it */
    GEOSGeometry **lines; /* by fence, as it stands unopened */
    uint64_t *seen;       /* grounds that were looked at */
    size_t seen_count;
};

/* ---- shapes ---- */

static GEOSGeometry *line_of(GEOSContextHandle_t geos,
                             const struct fw_point *points, size_t count,
                             bool closed)
{
    GEOSCoordSequence *to =
        GEOSCoordSeq_create_r(geos, (unsigned)(count + closed), 2);
    for (size_t i = 0; i < count + closed; i++)
        GEOSCoordSeq_setXY_r(geos, to, (unsigned)i, points[i % count].x_m,
                             points[i % count].y_m);
    return GEOSGeom_createLineString_r(geos, to);
}

static double area_of(GEOSContextHandle_t geos, const GEOSGeometry *geometry)
{
    double area = 0;
    GEOSArea_r(geos, geometry, &area);
    return area;
}

/* In the greatest face of the cell's rings that is its ground: in which a point
 * is within an odd number of them. */
static GEOSGeometry *spot_in(GEOSContextHandle_t geos,
                             const struct fw_land *land,
                             const struct fw_cell *cell)
{
    GEOSGeometry *all = GEOSGeom_createEmptyPolygon_r(geos);
    for (size_t r = cell->first_ring; r < cell->first_ring + cell->ring_count;
         r++) {
        const size_t first = land->ring_start[r];
        GEOSGeometry *line = line_of(geos, land->ring_points + first,
                                     land->ring_start[r + 1] - first, true);
        GEOSGeometry *ring = GEOSGeom_createLinearRing_r(
            geos,
            GEOSCoordSeq_clone_r(geos, GEOSGeom_getCoordSeq_r(geos, line)));
        GEOSGeometry *polygon = GEOSGeom_createPolygon_r(geos, ring, NULL, 0);
        GEOSGeometry *both = GEOSSymDifference_r(geos, all, polygon);
        GEOSGeom_destroy_r(geos, line);
        GEOSGeom_destroy_r(geos, polygon);
        GEOSGeom_destroy_r(geos, all);
        all = both;
    }
    const GEOSGeometry *best = all;
    double most = -1;
    for (int i = 0; all && i < GEOSGetNumGeometries_r(geos, all); i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, all, i);
        if (area_of(geos, part) > most) {
            most = area_of(geos, part);
            best = part;
        }
    }
    GEOSGeometry *spot = best ? GEOSPointOnSurface_r(geos, best) : NULL;
    GEOSGeom_destroy_r(geos, all);
    return spot;
}

/* A fence as it stands, less what is open of it. */
static GEOSGeometry *fence_now(const struct yard *yard, size_t index)
{
    const double share = 0.99; /* so that no rounding closes it */
    GEOSContextHandle_t geos = yard->judge->geos;
    GEOSGeometry *line = GEOSGeom_clone_r(geos, yard->lines[index]);
    for (size_t g = 0; g < yard->plan->gate_count; g++) {
        const struct fw_plan_gate *gate = &yard->plan->gates[g];
        if (!yard->replay.open[g] || gate->fence != index)
            continue;
        GEOSGeometry *middle = GEOSGeom_createPointFromXY_r(
            geos, gate->place.plane.x_m, gate->place.plane.y_m);
        GEOSGeometry *round =
            GEOSBuffer_r(geos, middle, gate->width_m / 2 * share, 8);
        GEOSGeometry *rest = GEOSDifference_r(geos, line, round);
        GEOSGeom_destroy_r(geos, line);
        GEOSGeom_destroy_r(geos, round);
        GEOSGeom_destroy_r(geos, middle);
        line = rest;
    }
    return line;
}

/* ---- the ground ---- */

/* The faces that all lines of the flock's field make, the boundary's too. */
static GEOSGeometry *cut(const struct yard *yard)
{
    GEOSContextHandle_t geos = yard->judge->geos;
    const struct fw_land_field *field = &yard->land.fields[yard->replay.field];
    GEOSGeometry **lines = calloc(field->line_count + 1, sizeof *lines);
    unsigned n = 0;
    for (size_t l = field->first_line;
         l < field->first_line + field->line_count; l++)
        if (yard->replay.stands[l])
            lines[n++] = fence_now(yard, l);
    GEOSGeometry *all =
        GEOSGeom_createCollection_r(geos, GEOS_GEOMETRYCOLLECTION, lines, n);
    GEOSGeometry *noded = GEOSUnaryUnion_r(geos, all);
    const GEOSGeometry *const parts[] = {noded};
    GEOSGeometry *faces = GEOSPolygonize_r(geos, parts, 1);
    GEOSGeom_destroy_r(geos, noded);
    GEOSGeom_destroy_r(geos, all);
    free(lines);
    return faces;
}

static size_t face_of(GEOSContextHandle_t geos, const GEOSGeometry *faces,
                      const GEOSGeometry *spot)
{
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces); i++)
        if (GEOSIntersects_r(geos, GEOSGetGeometryN_r(geos, faces, i), spot) ==
            1)
            return (size_t)i;
    return FW_NONE;
}

static const char *cell_name(const struct fw_plan *plan, size_t cell)
{
    return cell < plan->paddock_count
               ? plan->paddocks[cell].id
               : plan->lanes[cell - plan->paddock_count].id;
}

static void compare(struct yard *yard, size_t step)
{
    struct judge *judge = yard->judge;
    const struct fw_replay *replay = &yard->replay;
    const struct fw_plan *plan = yard->plan;
    GEOSGeometry *faces = cut(yard);
    const size_t theirs =
        face_of(judge->geos, faces, yard->spots[replay->cell]);
    judge->grounds++;
    for (size_t k = 0; k < fw_land_cell_count(&yard->land, replay->field);
         k++) {
        const size_t cell = fw_land_cell(&yard->land, replay->field, k);
        const size_t face = face_of(judge->geos, faces, yard->spots[cell]);
        judge->cells++;
        if (theirs != FW_NONE && (face == theirs) == replay->ground[cell])
            continue;
        judge->wrong++;
        if (judge->wrong <= 20 || getenv("FW_TELL"))
            print_message("# %s, %s, move %zu, step %zu: from %s they %s %s\n",
                          yard->where, plan->fields[replay->field].layout,
                          replay->move + 1, step + 1,
                          cell_name(plan, replay->cell),
                          replay->ground[cell] ? "do not reach" : "reach",
                          cell_name(plan, cell));
    }
    GEOSGeom_destroy_r(judge->geos, faces);
}

/* Has that ground been looked at: what stands, what is open, where they are? */
static bool is_new(struct yard *yard)
{
    const uint64_t prime = 0x100000001b3U;
    uint64_t hash = 0xcbf29ce484222325U;
    for (size_t l = 0; l < yard->land.line_count; l++)
        hash = (hash ^ yard->replay.stands[l]) * prime;
    for (size_t g = 0; g < yard->plan->gate_count; g++)
        hash = (hash ^ yard->replay.open[g]) * prime;
    hash = (hash ^ yard->replay.cell) * prime;
    for (size_t i = 0; i < yard->seen_count; i++)
        if (yard->seen[i] == hash)
            return false;
    yard->seen[yard->seen_count++] = hash;
    return true;
}

/* ---- a plan ---- */

static void yard_open(struct yard *yard)
{
    GEOSContextHandle_t geos = yard->judge->geos;
    const struct fw_plan *plan = yard->plan;
    struct fw_error err;
    if (fw_plan_land(plan, &yard->land, &err) ||
        fw_replay_begin(&yard->land, &plan->time, NULL, &yard->replay, &err))
        fail_msg("%s", err.text);
    yard->spots = calloc(yard->land.cell_count, sizeof *yard->spots);
    yard->lines = calloc(yard->land.line_count, sizeof *yard->lines);
    yard->seen = calloc(plan->time.step_count, sizeof *yard->seen);
    for (size_t c = 0; c < yard->land.cell_count; c++)
        yard->spots[c] = spot_in(geos, &yard->land, &yard->land.cells[c]);
    for (size_t l = 0; l < yard->land.line_count; l++)
        yard->lines[l] =
            line_of(geos, yard->land.line_points + yard->land.lines[l].first,
                    yard->land.lines[l].count, false);
}

static void yard_close(struct yard *yard)
{
    for (size_t c = 0; c < yard->land.cell_count; c++)
        GEOSGeom_destroy_r(yard->judge->geos, yard->spots[c]);
    for (size_t l = 0; l < yard->land.line_count; l++)
        GEOSGeom_destroy_r(yard->judge->geos, yard->lines[l]);
    free(yard->spots);
    free(yard->lines);
    free(yard->seen);
    fw_replay_end(&yard->replay);
    fw_land_release(&yard->land);
}

static void go_through(struct yard *yard)
{
    yard_open(yard);
    for (const struct fw_step *step;
         (step = fw_replay_step(&yard->replay)) != NULL;) {
        size_t count;
        yard->judge->steps++;
        fw_replay_ground(&yard->replay, &count);
        if (yard->replay.cell == FW_NONE || !is_new(yard))
            continue;
        const struct fw_move *move = &yard->plan->time.moves[yard->replay.move];
        compare(yard,
                (size_t)(step - yard->plan->time.steps) - move->steps.first);
    }
    yard_close(yard);
}

static void try_field(struct judge *judge, struct fw_field **shape, char *crs,
                      const char *map, long long fid, size_t index)
{
    static struct farm_room room;
    char setting[80], where[200];
    struct fw_plan *plan = NULL;
    struct fw_error err = {0};
    make_farm(&room, shape, 1, crs, setting_of(index));
    if (fw_plan_make(&room.farm, &plan, &err)) {
        assert_int_equal(err.status, FW_EPLAN);
        judge->none++;
        return;
    }
    snprintf(where, sizeof where, "%s %lld, %s", map, fid,
             setting_name(index, setting));
    struct yard yard = {.judge = judge, .plan = plan, .where = where};
    go_through(&yard);
    fw_plan_free(plan);
    judge->plans++;
}

static void tell(const struct judge *judge)
{
    print_message("# %zu plans, %zu without, %zu steps: GEOS was asked on %zu "
                  "grounds about %zu cells and disagreed on %zu\n",
                  judge->plans, judge->none, judge->steps, judge->grounds,
                  judge->cells, judge->wrong);
    assert_int_equal(judge->wrong, 0);
}

static void it_agrees_on_fields_of_our_own(void **state)
{
    (void)state;
    struct judge judge = {.geos = GEOS_init_r()};
    uint64_t seed = seeded(77);
    size_t setting = 0;
    for (size_t m = 0; m < own_maps; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i += 4)
            try_field(&judge, &own.fields[i], own.crs, own_map(m), own.fids[i],
                      setting++ % setting_count);
        release_fields(&own);
    }
    GEOS_finish_r(judge.geos);
    tell(&judge);
    assert_true(judge.grounds > 200);
}

static void another_library_agrees_on_every_ground(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    const char *every = getenv("FW_TEST_EVERY");
    const bool all = every && strcmp(every, "1") == 0;
    const size_t each = all ? chosen_of_each : 20;
    const size_t settings = all ? 4 : 1;
    struct judge judge = {.geos = GEOS_init_r()};
    for (size_t m = 0; m < chosen_map_count; m++) {
        struct real_fields real = read_chosen(data, m);
        thin_out(&real, each);
        for (size_t i = 0; i < real.count; i++)
            for (size_t k = 0; k < settings; k++)
                try_field(&judge, &real.fields[i], real.crs,
                          chosen_maps[m].path, real.fids[i],
                          (i + k * setting_count / settings) % setting_count);
        release_fields(&real);
    }
    GEOS_finish_r(judge.geos);
    tell(&judge);
    assert_true(judge.grounds > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_agrees_on_fields_of_our_own),
        data_test(another_library_agrees_on_every_ground),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
