/* Every step of every move, with the fences that stand: GEOS cuts the field
 * along them, with a gap where a line is open, and is asked which ground the
 * flock has. The replay, which counts doors, must say the same. */
#include "plan_help.h"
#include <foldwright/told.h>

/* ---- what stands, and what the flock has ---- */

struct yard {
    const struct fw_plan *plan;
    GEOSContextHandle_t geos;
    size_t cell_count;    /* paddocks, then lanes */
    GEOSGeometry **spots; /* a point in each cell */
    bool *standing;       /* each fence of the plan */
    bool *gap;            /* each gate that is an open place in a fence */
    bool *has;            /* each cell that the flock can walk in */
    size_t seen_from;     /* what has[] was filled for: the cell, and what */
    bool *seen;           /* stood and what was open then */
    double ground_m2;
    double gate_m, water_m; /* from the field's own to that ground */
};

static const struct fw_plan_rings *rings_of(const struct fw_plan *plan,
                                            size_t cell, size_t *field)
{
    const size_t count = plan->paddock_count;
    *field = cell < count ? plan->paddocks[cell].field
                          : plan->lanes[cell - count].field;
    return cell < count ? &plan->paddocks[cell].rings
                        : &plan->lanes[cell - count].rings;
}

static double plane_m2_of(const struct fw_plan *plan, size_t cell)
{
    const size_t count = plan->paddock_count;
    return cell < count ? plan->paddocks[cell].plane_m2
                        : plan->lanes[cell - count].plane_m2;
}

static const char *name_of(const struct fw_plan *plan, size_t cell)
{
    const size_t count = plan->paddock_count;
    return cell < count ? plan->paddocks[cell].id
                        : plan->lanes[cell - count].id;
}

static void yard_open(struct yard *yard, const struct fw_plan *plan)
{
    const size_t cells = plan->paddock_count + plan->lane_count;
    *yard = (struct yard){
        .plan = plan,
        .geos = GEOS_init_r(),
        .cell_count = cells,
        .spots = calloc(cells, sizeof(void *)),
        .standing = calloc(plan->fence_count, sizeof(bool)),
        .gap = calloc(plan->gate_count + 1, sizeof(bool)),
        .has = calloc(cells, sizeof(bool)),
        .seen_from = FW_NONE,
        .seen = calloc(plan->fence_count + plan->gate_count + 1, sizeof(bool)),
    };
    for (size_t c = 0; c < cells; c++) {
        size_t field;
        const struct fw_plan_rings *rings = rings_of(plan, c, &field);
        GEOSGeometry *polygon =
            polygon_of(yard->geos, &plan->fields[field], rings, 0);
        yard->spots[c] = GEOSPointOnSurface_r(yard->geos, polygon);
        GEOSGeom_destroy_r(yard->geos, polygon);
    }
}

static void yard_close(struct yard *yard)
{
    for (size_t c = 0; c < yard->cell_count; c++)
        GEOSGeom_destroy_r(yard->geos, yard->spots[c]);
    free(yard->spots);
    free(yard->standing);
    free(yard->gap);
    free(yard->has);
    free(yard->seen);
    GEOS_finish_r(yard->geos);
}

/* A fence as it stands, less what is open of it. */
static GEOSGeometry *fence_of(const struct yard *yard, size_t index)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_plan_fence *fence = &plan->fences[index];
    GEOSGeometry *line = line_of(yard->geos, &plan->fields[fence->field],
                                 fence->line, fence->line_count, false);
    for (size_t g = 0; g < plan->gate_count; g++) {
        if (!yard->gap[g] || plan->gates[g].fence != index)
            continue;
        GEOSGeometry *middle = GEOSGeom_createPointFromXY_r(
            yard->geos, plan->gates[g].place.plane.x_m,
            plan->gates[g].place.plane.y_m);
        GEOSGeometry *round = GEOSBuffer_r(yard->geos, middle,
                                           plan->gates[g].width_m / 2 * 0.9, 8);
        GEOSGeometry *rest = GEOSDifference_r(yard->geos, line, round);
        GEOSGeom_destroy_r(yard->geos, line);
        GEOSGeom_destroy_r(yard->geos, round);
        GEOSGeom_destroy_r(yard->geos, middle);
        line = rest;
    }
    return line;
}

static double away_m(GEOSContextHandle_t geos, const GEOSGeometry *face,
                     struct fw_point from)
{
    double m = (double)NAN;
    GEOSGeometry *point =
        GEOSGeom_createPointFromXY_r(geos, from.x_m, from.y_m);
    GEOSDistance_r(geos, face, point, &m);
    GEOSGeom_destroy_r(geos, point);
    return m;
}

/* Whether has[] is still that of this cell: nothing was put up, taken down,
 * opened or closed since. */
static bool is_seen(struct yard *yard, size_t where)
{
    const size_t fences = yard->plan->fence_count,
                 gates = yard->plan->gate_count;
    const bool same = yard->seen_from == where &&
                      memcmp(yard->seen, yard->standing, fences) == 0 &&
                      memcmp(yard->seen + fences, yard->gap, gates) == 0;
    yard->seen_from = where;
    memcpy(yard->seen, yard->standing, fences);
    memcpy(yard->seen + fences, yard->gap, gates);
    return same;
}

/* Fills has[] and ground_m2 for a flock that is in that cell. */
static void look(struct yard *yard, size_t where)
{
    if (is_seen(yard, where))
        return;
    const struct fw_plan *plan = yard->plan;
    GEOSContextHandle_t geos = yard->geos;
    size_t index, other;
    rings_of(plan, where, &index);
    const struct fw_plan_field *field = &plan->fields[index];
    GEOSGeometry *lines[4096];
    unsigned n = 0;
    for (size_t r = 0; r < field->rings.ring_count; r++)
        lines[n++] = line_of(
            geos, field, field->rings.vertices + field->rings.ring_start[r],
            field->rings.ring_start[r + 1] - field->rings.ring_start[r], true);
    for (size_t i = 0; i < field->fence_count; i++)
        if (yard->standing[field->first_fence + i])
            lines[n++] = fence_of(yard, field->first_fence + i);
    GEOSGeometry *all =
        GEOSGeom_createCollection_r(geos, GEOS_GEOMETRYCOLLECTION, lines, n);
    GEOSGeometry *noded = GEOSUnaryUnion_r(geos, all);
    const GEOSGeometry *const parts[] = {noded};
    GEOSGeometry *faces = GEOSPolygonize_r(geos, parts, 1);
    memset(yard->has, 0, yard->cell_count * sizeof *yard->has);
    yard->ground_m2 = (double)NAN;
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces); i++) {
        const GEOSGeometry *face = GEOSGetGeometryN_r(geos, faces, i);
        if (GEOSContains_r(geos, face, yard->spots[where]) != 1)
            continue;
        yard->ground_m2 = area_of(geos, face);
        yard->gate_m = away_m(geos, face, field->gate.plane);
        yard->water_m = away_m(geos, face, field->water.plane);
        const GEOSPreparedGeometry *ready = GEOSPrepare_r(geos, face);
        for (size_t c = 0; c < yard->cell_count; c++) {
            rings_of(plan, c, &other);
            yard->has[c] =
                other == index &&
                GEOSPreparedContains_r(geos, ready, yard->spots[c]) == 1;
        }
        GEOSPreparedGeom_destroy_r(geos, ready);
    }
    GEOSGeom_destroy_r(geos, faces);
    GEOSGeom_destroy_r(geos, noded);
    GEOSGeom_destroy_r(geos, all);
}

/* ---- one step ---- */

struct moment {
    const struct fw_move *move;
    size_t number, step;
    size_t from, to; /* cells, or FW_NONE */
    size_t where;    /* the cell that the flock is in, or FW_NONE */
    size_t late;     /* where some stayed behind, until that is closed */
    size_t counted;  /* the step at which it is through */
    bool hot;        /* what was set is live */
    bool opened;     /* something is open that is to be closed again */
    bool through;
    size_t lines_opened;
};

static size_t cell_of_stay(const struct fw_plan *plan, size_t stay)
{
    return stay == FW_NONE ? FW_NONE : plan->time.stays[stay].cell;
}

/* Counted through what was opened; where lambs drift over until the next move,
 * nobody counts, and they are through when it is open. */
static size_t step_of_count(const struct fw_plan *plan,
                            const struct fw_move *move)
{
    size_t opened = FW_NONE;
    for (size_t s = 0; s < move->steps.count; s++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + s];
        if (step->kind == FW_STEP_OPEN ||
            (opened != FW_NONE && step->kind == FW_STEP_WALK))
            opened = s;
        if (step->kind == FW_STEP_COUNT && opened != FW_NONE)
            return s;
    }
    for (size_t s = 0; opened == FW_NONE && s < move->steps.count; s++)
        if (plan->time.steps[move->steps.first + s].kind == FW_STEP_COUNT)
            return s;
    return opened;
}

/* Put up, take down and open what the step says. */
static void take_step(struct yard *yard, const struct fw_step *step,
                      struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    const size_t *fences = plan->time.items + step->lines.first;
    const size_t gate = step->opening;
    const bool in_line = gate != FW_NONE && plan->gates[gate].fence != FW_NONE;
    switch (step->kind) {
    case FW_STEP_SET:
        at->hot = false;
        for (size_t i = 0; i < step->lines.count; i++) {
            assert_false(yard->standing[fences[i]]);
            yard->standing[fences[i]] = true;
        }
        break;
    case FW_STEP_HOOK:
        at->hot = true;
        break;
    case FW_STEP_OPEN:
        assert_true(at->hot); /* next is hot before another is touched */
        if (in_line) {
            assert_true(yard->standing[plan->gates[gate].fence]);
            at->lines_opened += !at->through;
        }
        if (at->through) /* only on to the water, from where they are */
            assert_true(
                in_line &&
                plan->time.openings[gate].to >= plan->paddock_count &&
                (plan->time.openings[gate].from == at->to ||
                 plan->time.openings[gate].from >= plan->paddock_count));
        assert_false(yard->gap[gate]);
        yard->gap[gate] = at->opened = true;
        break;
    case FW_STEP_CLOSE:
        assert_true(yard->gap[gate]);
        yard->gap[gate] = false;
        at->late = FW_NONE;
        break;
    case FW_STEP_BRIDGE:
        assert_true(in_line && yard->gap[gate]);
        assert_true(at->through || /* before they go and come again */
                    at->move->later != FW_NONE);
        break;
    case FW_STEP_TAKE_DOWN:
        assert_true(at->through);
        for (size_t i = 0; i < step->lines.count; i++) {
            assert_true(yard->standing[fences[i]]);
            yard->standing[fences[i]] = false;
            for (size_t g = 0; g < plan->gate_count; g++)
                if (plan->gates[g].fence == fences[i])
                    yard->gap[g] = false;
        }
        break;
    default:
        break;
    }
    if (at->step == at->counted) {
        at->through = true;
        at->where = at->to;
    }
}

/* The same from the replay, cell for cell and to the square metre. */
static void assert_replayed(const struct yard *yard, struct fw_replay *replay,
                            const struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    double sum_m2 = 0;
    size_t count;
    fw_replay_ground(replay, &count);
    for (size_t c = 0; c < yard->cell_count; c++) {
        if (replay->ground[c] != yard->has[c])
            fail_msg("%s move %zu step %zu: from %s they reach %s by %s alone",
                     plan->fields[at->move->field].layout, at->number, at->step,
                     name_of(plan, at->where), name_of(plan, c),
                     yard->has[c] ? "GEOS" : "the replay");
        sum_m2 += yard->has[c] ? plane_m2_of(plan, c) : 0;
        count -= yard->has[c];
    }
    assert_int_equal(count, 0);
    if (!(fabs(yard->ground_m2 - sum_m2) < 1e-3))
        fail_msg("%s move %zu step %zu: %.4f m2 of ground; expected %.4f",
                 plan->fields[at->move->field].layout, at->number, at->step,
                 yard->ground_m2, sum_m2);
}

/* Was the cell grazed before that move? */
static bool was_grazed(const struct fw_plan *plan, size_t cell, size_t move)
{
    for (size_t k = 0; k < move && k < plan->time.stay_count; k++)
        if (plan->time.stays[k].cell == cell)
            return true;
    return false;
}

/* Where they are they must be; in the next while it is open, on grazed ground
 * where no back fence stands or while they walk, and in lanes they may be; and
 * on ground that waits never, but while they are walked over it. */
static void assert_no_more_than(const struct yard *yard,
                                const struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_step *steps = plan->time.steps + at->move->steps.first;
    if (!yard->has[at->where])
        fail_msg("move %zu step %zu: no ground is fenced round the flock",
                 at->number, at->step);
    for (size_t c = 0; c < plan->paddock_count; c++) {
        if (!yard->has[c] || c == at->where || c == at->late)
            continue;
        bool may = c == at->to ? at->opened || at->through
                               : was_grazed(plan, c, at->number) &&
                                     (!plan->back_fence || at->opened);
        for (size_t s = 0; at->opened && s < at->move->steps.count; s++)
            may |= steps[s].cells.count > 0;
        if (!may)
            fail_msg("%s move %zu step %zu: from %s they reach %s",
                     plan->fields[at->move->field].layout, at->number, at->step,
                     name_of(plan, at->where), name_of(plan, c));
    }
}

/* What they are let into is fenced on all sides before anything is opened. */
static void assert_closed(struct yard *yard, size_t cell, size_t move)
{
    look(yard, cell);
    if (!(fabs(yard->ground_m2 - yard->plan->paddocks[cell].plane_m2) < 1e-3))
        fail_msg("move %zu: %s has %.4f m2 about it; expected %.4f", move,
                 yard->plan->paddocks[cell].id, yard->ground_m2,
                 yard->plan->paddocks[cell].plane_m2);
}

/* When they are to go the way is open: from the last paddock to the next, or to
 * the gate and from the gate. */
static void assert_way(struct yard *yard, const struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_plan_field *fields = plan->fields;
    size_t left = FW_NONE, entered = FW_NONE;
    if (at->from != FW_NONE)
        rings_of(plan, at->from, &left);
    if (at->to != FW_NONE)
        rings_of(plan, at->to, &entered);
    if (left == entered) {
        look(yard, at->to);
        if (!yard->has[at->from])
            fail_msg("%s move %zu: no open way from %s to %s",
                     fields[entered].layout, at->number,
                     name_of(plan, at->from), name_of(plan, at->to));
        return;
    }
    const size_t ends[2] = {at->from, at->to}, in[2] = {left, entered};
    for (int e = 0; e < 2; e++) {
        if (in[e] == FW_NONE || !fields[in[e]].gate.given)
            continue;
        look(yard, ends[e]);
        if (!(yard->gate_m < 1e-3))
            fail_msg("%s move %zu: from %s it is %.4f m to the gate",
                     fields[in[e]].layout, at->number, name_of(plan, ends[e]),
                     yard->gate_m);
    }
}

/* Nothing is left open but what a lead bridges, between ground that they have
 * both. */
static void assert_shut(struct yard *yard, const struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    if (at->to != FW_NONE)
        look(yard, at->to);
    for (size_t g = 0; g < plan->gate_count; g++) {
        if (!yard->gap[g])
            continue;
        const struct fw_opening *opening = &plan->time.openings[g];
        assert_true(opening->line != FW_NONE && at->to != FW_NONE);
        assert_true(yard->has[opening->from] && yard->has[opening->to]);
    }
    if (at->to == FW_NONE)
        for (size_t f = 0; f < plan->fence_count; f++)
            assert_false(yard->standing[f]);
}

static bool is_drifting(const struct moment *at, const struct fw_plan *plan)
{
    for (size_t s = 0; s < at->move->steps.count; s++)
        if (plan->time.steps[at->move->steps.first + s].kind == FW_STEP_COUNT &&
            s >= at->counted)
            return false;
    return true;
}

/* With a back fence and a trough the flock has its paddock and nothing else. */
static void assert_night(struct yard *yard, const struct moment *at,
                         bool water_moves)
{
    const struct fw_plan *plan = yard->plan;
    if (at->to == FW_NONE)
        return;
    look(yard, at->to);
    for (size_t c = 0; c < plan->paddock_count; c++)
        if (yard->has[c] && c != at->to)
            assert_true(was_grazed(plan, c, at->number) &&
                        (!plan->back_fence || is_drifting(at, plan)));
    if (plan->back_fence && water_moves && !is_drifting(at, plan))
        assert_near(yard->ground_m2, plan->paddocks[at->to].plane_m2, 1e-3);
    if (plan->back_fence && !is_drifting(at, plan))
        for (size_t c = plan->paddock_count;
             water_moves && c < yard->cell_count; c++)
            assert_false(yard->has[c]);
    if (at->move->ahead)
        assert_closed(yard, plan->time.stays[at->move->stay + 1].cell,
                      at->number);
}

static void begin_move(const struct fw_plan *plan, size_t index,
                       struct moment *at)
{
    const struct fw_move *move = &plan->time.moves[index];
    const size_t late = index > 1 && is_drifting(at, plan) ? at->from : FW_NONE;
    *at = (struct moment){
        .move = move,
        .number = index,
        .from = index > 0 ? cell_of_stay(plan, plan->time.moves[index - 1].stay)
                          : FW_NONE,
        .to = cell_of_stay(plan, move->stay),
        .where = at->where,
        .late = late,
        .counted = step_of_count(plan, move),
        .hot = true};
    assert_true(at->where == at->from);
    assert_true(at->counted < move->steps.count);
}

static void make_move(struct yard *yard, size_t index, struct fw_replay *replay,
                      struct moment *at, bool water_moves)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_move *move = &plan->time.moves[index];
    begin_move(plan, index, at);
    bool changed = true;
    for (size_t s = 0; s < move->steps.count; s++) {
        const struct fw_step *step = &plan->time.steps[move->steps.first + s];
        at->step = s;
        if (step->kind == FW_STEP_OPEN && !at->opened && at->to != FW_NONE)
            assert_closed(yard, at->to, index);
        if (s == at->counted && step->kind == FW_STEP_COUNT)
            assert_way(yard, at);
        take_step(yard, step, at);
        if (s == at->counted && step->kind != FW_STEP_COUNT)
            assert_way(yard, at);
        assert_ptr_equal(fw_replay_step(replay), step);
        assert_int_equal(replay->cell, at->where);
        assert_int_equal(replay->move, index);
        for (size_t f = 0; f < plan->fence_count; f++)
            if (plan->fences[f].role != FW_FENCE_PERIMETER)
                assert_int_equal(replay->stands[f], yard->standing[f]);
        changed |= step->kind != FW_STEP_HOOK && step->kind != FW_STEP_READ &&
                   step->kind != FW_STEP_CARRY;
        if (at->where == FW_NONE || !changed)
            continue;
        look(yard, at->where);
        assert_replayed(yard, replay, at);
        assert_no_more_than(yard, at);
        changed = false;
    }
    assert_true(at->through && at->hot);
    assert_shut(yard, at);
    assert_night(yard, at, water_moves);
}

struct seen {
    size_t back;   /* moves on which more than one line is opened */
    size_t wet;    /* nights with the field's water */
    size_t drifts; /* nights on which the way stays open */
};

static struct seen assert_enclosed(const struct fw_farm *farm,
                                   const struct fw_plan *plan)
{
    struct yard yard;
    struct moment at = {.where = FW_NONE};
    struct seen seen = {0};
    struct fw_land land = {0};
    struct fw_replay replay;
    struct fw_error err;
    if (fw_plan_land(plan, &land, &err) ||
        fw_replay_begin(&land, &plan->time, NULL, &replay, &err))
        fail_msg("%s", err.text);
    assert_int_equal(land.cell_count, plan->paddock_count + plan->lane_count);
    yard_open(&yard, plan);
    for (size_t m = 0; m < plan->time.move_count; m++) {
        make_move(&yard, m, &replay, &at, farm->water_moves);
        seen.back += at.lines_opened > 1;
        seen.drifts += at.to != FW_NONE && is_drifting(&at, plan);
        if (at.to != FW_NONE && plan->fields[at.move->field].water.given) {
            look(&yard, at.to);
            seen.wet += yard.water_m < 1;
            assert_int_equal(yard.water_m < 1, fw_replay_has_water(&replay));
        }
    }
    assert_null(fw_replay_step(&replay));
    yard_close(&yard);
    fw_replay_end(&replay);
    fw_land_release(&land);
    return seen;
}

/* ---- tests ---- */

static const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                                 &pond};
enum { outline_count = sizeof outlines / sizeof *outlines };

enum { way_count = 8 };

static void work_in(struct fw_farm *farm, unsigned ways)
{
    farm->back_fence = ways & 1;
    farm->all_stand = ways & 2;
    farm->work_order = ways & 4 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
}

static struct seen enclosed_by(struct fw_farm *farm)
{
    struct fw_plan *plan = plan_of(farm);
    const struct seen seen = assert_enclosed(farm, plan);
    fw_plan_free(plan);
    return seen;
}

static void put_gate(struct fw_farm *farm)
{
    farm->fields[0].gate.given = true;
    farm->fields[0].gate.point = farm->fields[0].shape->vertices[0].plane;
}

static void strips_enclose_the_flock_at_every_step(void **state)
{
    (void)state;
    for (size_t o = 0; o < outline_count; o++)
        for (unsigned ways = 0; ways < way_count; ways++) {
            struct fw_farm *farm = farm_of(outlines[o], outlines[(o + 1) % 4]);
            farm->layout = fw_strdup("strips");
            work_in(farm, ways);
            enclosed_by(farm);
            fw_farm_free(farm);
        }
}

/* The plan by each candidate in turn, with each way to work; where time is
 * short with two of them, which are others for the next candidate. */
static size_t enclosed_by_each(struct fw_farm *farm, size_t most)
{
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    const unsigned stride = getenv("FW_THOROUGH") ? 1 : way_count / 2;
    unsigned first = 0;
    size_t back = 0;
    if (fw_plan_compare(farm, &scores, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < scores.count; i++) {
        /* Those that walk back are few: all of them, and some of the rest. */
        if (i % (1 + scores.count / most) && scores.items[i].turns == 0)
            continue;
        fw_free(farm->layout);
        farm->layout = fw_strdup(scores.items[i].layout);
        first = (first + 1) % stride;
        for (unsigned ways = first; ways < way_count; ways += stride) {
            work_in(farm, ways);
            back += enclosed_by(farm).back;
        }
    }
    fw_plan_scores_release(&scores);
    return back;
}

static void every_candidate_encloses_the_flock(void **state)
{
    (void)state;
    size_t back = 0;
    for (size_t o = 0; o < outline_count; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        back += enclosed_by_each(farm, 6);
        put_gate(farm);
        fw_free(farm->layout);
        farm->layout = NULL;
        back += enclosed_by_each(farm, 3);
        fw_farm_free(farm);
    }
    assert_true(back > 0); /* or a walk back would never have been looked at */
}

/* From every corner as the gate. */
static void far_end_first_encloses_the_flock(void **state)
{
    (void)state;
    int far = 0;
    for (size_t o = 0; o < outline_count; o++) {
        struct fw_farm *farm = farm_of(outlines[o], NULL);
        struct fw_farm_field *field = &farm->fields[0];
        farm->layout = fw_strdup("lane");
        farm->far_first = true;
        field->gate.given = true;
        for (size_t v = 0; v < field->shape->ring_start[1]; v++) {
            field->gate.point = field->shape->vertices[v].plane;
            struct fw_plan *plan = plan_of(farm);
            if (plan->fields[0].far_first)
                assert_enclosed(farm, plan);
            far += plan->fields[0].far_first;
            fw_plan_free(plan);
        }
        fw_farm_free(farm);
    }
    assert_true(far > 0);
}

/* Some lines stand long, since one of their paddocks comes last. */
static void kept_paddocks_enclose_the_flock(void **state)
{
    (void)state;
    static const double hedge[][2] = {{0, 90}, {300, 95}};
    size_t kept = 0;
    for (size_t o = 0; o < outline_count; o++)
        for (unsigned ways = 0; ways < way_count; ways++) {
            struct fw_farm *farm = farm_of(outlines[o], NULL);
            put_gate(farm);
            add_feature(farm, FW_ROLE_SHELTER, false, hedge, 2);
            farm->keep_days[FW_KEEP_STORM] = 3;
            farm->last = FW_LAST_SHORT;
            work_in(farm, ways);
            struct fw_plan *plan = plan_of(farm);
            for (size_t i = 0; i < plan->paddock_count; i++)
                kept += plan->paddocks[i].keep[0] != 0;
            assert_enclosed(farm, plan);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
    assert_true(kept > 8);
}

static void bent_lines_enclose_the_flock(void **state)
{
    (void)state;
    for (size_t o = 0; o < outline_count; o++) {
        struct fw_farm *farm = farm_of(outlines[o], outlines[(o + 1) % 4]);
        farm->limits_off = true;
        farm->prefer = FW_PREFER_FENCE;
        enclosed_by(farm);
        fw_farm_free(farm);
    }
}

static struct fw_point between(const struct fw_farm *farm, size_t a, size_t b,
                               double t)
{
    const struct fw_vertex *at = farm->fields[0].shape->vertices;
    return (struct fw_point){
        at[a].plane.x_m + t * (at[b].plane.x_m - at[a].plane.x_m),
        at[a].plane.y_m + t * (at[b].plane.y_m - at[a].plane.y_m)};
}

/* Water that stays where it is, at the end of the lane and in the middle of the
 * wedges: by night they have the way to it too, whatever they graze. */
static void ways_to_the_water_are_open_every_night(void **state)
{
    (void)state;
    for (unsigned ways = 0; ways < 2 * way_count; ways++) {
        const bool lane = ways < way_count;
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        field->gate.given = field->water.given = true;
        field->gate.point = between(farm, 0, 3, 0.485);
        field->water.point =
            lane ? field->gate.point : between(farm, 0, 2, 0.5);
        farm->water_moves = false;
        farm->layout = fw_strdup(lane ? "lane-0-14" : "wedges");
        farm->classes[0].head = lane ? 80 : 240;
        work_in(farm, ways);
        struct fw_plan *plan = plan_of(farm);
        assert_int_equal(plan->lane_count, 1);
        const struct seen seen = assert_enclosed(farm, plan);
        assert_int_equal(seen.wet, plan->time.stay_count);
        for (size_t i = 0; i < plan->finding_count; i++)
            assert_string_not_equal(plan->findings[i].rule, "no-water");
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* On dormant grass the order begins at the water. With the gate at the other
 * end they are let in over ground that waits, and the card says over which. */
static void dormant_grass_is_entered_from_the_other_end(void **state)
{
    (void)state;
    static const char *const layouts[] = {"strips", "blocks", "turning"};
    for (unsigned how = 0; how < 12; how++) {
        struct fw_farm *farm = farm_of(&rectangle, NULL);
        struct fw_farm_field *field = &farm->fields[0];
        field->gate.given = field->water.given = true;
        field->gate.point = between(farm, 0, 3, 0.485);
        field->water.point = between(farm, 1, 2, 0.485);
        farm->season = FW_SEASON_DORMANT;
        farm->back_fence = false;
        farm->water_moves = how & 1;
        farm->work_order = how & 2 ? FW_WORK_SET_FIRST : FW_WORK_LEAPFROG;
        farm->layout = fw_strdup(layouts[how / 4]);
        struct fw_plan *plan = plan_of(farm);
        const struct fw_move *first = &plan->time.moves[0];
        const size_t cell = fw_plan_move_to(plan, 0);
        size_t opened = 0, crossed = 0;
        double over_m = 0;
        for (size_t s = 0; s < first->steps.count; s++) {
            const struct fw_step *step =
                &plan->time.steps[first->steps.first + s];
            if (step->kind == FW_STEP_OPEN &&
                plan->gates[step->opening].fence != FW_NONE)
                opened += plan->time.openings[step->opening].to == cell;
            crossed += step->cells.count;
            over_m += step->over_m;
        }
        /* It holds at every step, with the gate at the end of the way. */
        assert_enclosed(farm, plan);
        if (crossed) {
            assert_int_equal(opened, 1);
            assert_true(over_m > 0);
        } else {
            struct yard yard;
            yard_open(&yard, plan);
            look(&yard, cell);
            assert_near(yard.gate_m, 0, 1);
            yard_close(&yard);
        }
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Young lambs: a second visit, or a way left open until the next move. */
static void lambs_that_come_late_are_enclosed_too(void **state)
{
    (void)state;
    size_t drifts = 0;
    for (unsigned ways = 0; ways < 2 * way_count; ways++) {
        struct fw_farm *farm = farm_of(&leaning, NULL);
        put_gate(farm);
        work_in(farm, ways);
        farm->lambing = (struct fw_lambing){
            .given = true,
            .from = farm->start_day + 3,
            .to = farm->start_day + 20,
            .way = ways / way_count ? FW_LAMBING_DRIFT : FW_LAMBING_DAILY};
        drifts += enclosed_by(farm).drifts;
        fw_farm_free(farm);
    }
    assert_int_equal(drifts, 18 * way_count);
}

static void sample_farm_encloses_the_flock(void **state)
{
    (void)state;
    char path[4096];
    struct fw_error err;
    struct fw_farm *farm;
    snprintf(path, sizeof path, "%s/three-fields/farm.yaml",
             getenv("FW_SAMPLES"));
    const struct fw_farm_request request = {.farm_path = path};
    if (fw_farm_read(&request, &farm, NULL, NULL, &err))
        fail_msg("%s", err.text);
    for (unsigned ways = 0; ways < way_count; ways++) {
        work_in(farm, ways);
        enclosed_by(farm);
    }
    fw_farm_free(farm);
}

/* Standings and dates tell the same story as the steps, and all that was put up
 * comes down again. */
static void look_at_standings(const struct fw_plan *plan)
{
    const struct fw_time *time = &plan->time;
    const size_t cells = plan->paddock_count + plan->lane_count;
    size_t *up = calloc(plan->fence_count, sizeof *up);
    size_t next = 0;
    struct fw_time_dates dates;
    assert_int_equal(
        fw_time_dates(time, cells, plan->fence_count, &dates, NULL), FW_OK);
    for (size_t m = 0; m < time->move_count; m++)
        for (size_t s = 0; s < time->moves[m].steps.count; s++) {
            const size_t index = time->moves[m].steps.first + s;
            const struct fw_step *step = &time->steps[index];
            for (size_t i = 0; i < step->lines.count; i++) {
                const size_t fence = time->items[step->lines.first + i];
                if (step->kind == FW_STEP_SET) {
                    const struct fw_standing *standing = &time->standings[next];
                    assert_int_equal(standing->line, fence);
                    assert_int_equal(standing->up.move, m);
                    assert_int_equal(standing->up.step, index);
                    up[fence] = ++next;
                } else if (step->kind == FW_STEP_TAKE_DOWN) {
                    const struct fw_standing *standing =
                        &time->standings[up[fence] - 1];
                    assert_int_equal(standing->line, fence);
                    assert_int_equal(standing->down.move, m);
                    assert_int_equal(standing->down.step, index);
                }
            }
        }
    assert_int_equal(next, time->standing_count);
    for (size_t i = 0; i < next; i++)
        assert_int_not_equal(time->standings[i].down.move, FW_NONE);
    for (size_t i = 0; i < plan->fence_count; i++) {
        const size_t first = move_that(plan, FW_STEP_SET, i);
        const size_t last = move_that(plan, FW_STEP_TAKE_DOWN, i);
        const bool edge = plan->fences[i].role == FW_FENCE_PERIMETER;
        assert_int_equal(edge, first == FW_NONE);
        assert_int_equal(dates.lines[i].from,
                         edge ? FW_NO_DAY : time->moves[first].day);
        assert_int_equal(dates.lines[i].to,
                         edge ? FW_NO_DAY : time->moves[last].day);
    }
    fw_time_dates_release(&dates);
    free(up);
}

static void what_was_put_up_comes_down_on_its_day(void **state)
{
    (void)state;
    for (unsigned ways = 0; ways < way_count; ways++) {
        struct fw_farm *farm = farm_of(&leaning, &rectangle);
        work_in(farm, ways);
        struct fw_plan *plan = plan_of(farm);
        look_at_standings(plan);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(strips_enclose_the_flock_at_every_step),
        cmocka_unit_test(every_candidate_encloses_the_flock),
        cmocka_unit_test(far_end_first_encloses_the_flock),
        cmocka_unit_test(kept_paddocks_enclose_the_flock),
        cmocka_unit_test(bent_lines_enclose_the_flock),
        cmocka_unit_test(ways_to_the_water_are_open_every_night),
        cmocka_unit_test(dormant_grass_is_entered_from_the_other_end),
        cmocka_unit_test(lambs_that_come_late_are_enclosed_too),
        cmocka_unit_test(sample_farm_encloses_the_flock),
        cmocka_unit_test(what_was_put_up_comes_down_on_its_day),
    };
    return cmocka_run_group_tests_name("plan_moves", tests, NULL, NULL);
}
