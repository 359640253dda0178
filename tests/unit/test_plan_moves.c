/* Every step of every move, with the fences that stand: GEOS cuts the field
 * along them, with a gap where a line is open, and is asked which ground the
 * flock has. */
#include "plan_help.h"

/* ---- what stands, and what the flock has ---- */

struct yard {
    const struct fw_plan *plan;
    GEOSContextHandle_t geos;
    GEOSGeometry **spots; /* a point in each paddock */
    bool *standing;       /* each fence of the plan */
    bool *gap;            /* each gate that is an open place in a fence */
    bool *has;            /* each paddock that the flock can walk in */
    double ground_m2;
    double gate_m; /* from the field's gate to that ground */
};

static void yard_open(struct yard *yard, const struct fw_plan *plan)
{
    *yard = (struct yard){
        .plan = plan,
        .geos = GEOS_init_r(),
        .spots = calloc(plan->paddock_count, sizeof(void *)),
        .standing = calloc(plan->fence_count, sizeof(bool)),
        .gap = calloc(plan->gate_count + 1, sizeof(bool)),
        .has = calloc(plan->paddock_count, sizeof(bool)),
    };
    for (size_t p = 0; p < plan->paddock_count; p++) {
        GEOSGeometry *polygon =
            polygon_of(yard->geos, &plan->fields[plan->paddocks[p].field],
                       &plan->paddocks[p].rings, 0);
        yard->spots[p] = GEOSPointOnSurface_r(yard->geos, polygon);
        GEOSGeom_destroy_r(yard->geos, polygon);
    }
}

static void yard_close(struct yard *yard)
{
    for (size_t p = 0; p < yard->plan->paddock_count; p++)
        GEOSGeom_destroy_r(yard->geos, yard->spots[p]);
    free(yard->spots);
    free(yard->standing);
    free(yard->gap);
    free(yard->has);
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
        GEOSGeometry *round = GEOSBuffer_r(
            yard->geos, middle, plan->gates[g].width_m / 2 * 0.99, 8);
        GEOSGeometry *rest = GEOSDifference_r(yard->geos, line, round);
        GEOSGeom_destroy_r(yard->geos, line);
        GEOSGeom_destroy_r(yard->geos, round);
        GEOSGeom_destroy_r(yard->geos, middle);
        line = rest;
    }
    return line;
}

/* Fills has[] and ground_m2 for a flock that is in that paddock. */
static void look(struct yard *yard, size_t where)
{
    const struct fw_plan *plan = yard->plan;
    GEOSContextHandle_t geos = yard->geos;
    const size_t index = plan->paddocks[where].field;
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
    memset(yard->has, 0, plan->paddock_count * sizeof *yard->has);
    yard->ground_m2 = (double)NAN;
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces); i++) {
        const GEOSGeometry *face = GEOSGetGeometryN_r(geos, faces, i);
        if (GEOSContains_r(geos, face, yard->spots[where]) != 1)
            continue;
        yard->ground_m2 = area_of(geos, face);
        GEOSGeometry *gate = GEOSGeom_createPointFromXY_r(
            geos, field->gate.plane.x_m, field->gate.plane.y_m);
        GEOSDistance_r(geos, face, gate, &yard->gate_m);
        GEOSGeom_destroy_r(geos, gate);
        for (size_t p = 0; p < plan->paddock_count; p++)
            yard->has[p] = plan->paddocks[p].field == index &&
                           GEOSContains_r(geos, face, yard->spots[p]) == 1;
    }
    GEOSGeom_destroy_r(geos, faces);
    GEOSGeom_destroy_r(geos, noded);
    GEOSGeom_destroy_r(geos, all);
}

/* ---- one step ---- */

struct moment {
    size_t move, step;
    size_t where; /* the paddock that the flock is in, or FW_NONE */
    bool hot;     /* what was set is live */
    bool let_out; /* they may walk back over what is grazed */
    bool opened;  /* they may walk on into the next */
    bool through; /* and have */
    bool back_fence;
    bool at_gate; /* the flock can walk in there */
};

/* Put up, take down and open what the step says. */
static void take_step(struct yard *yard, const struct fw_steps *steps,
                      const struct fw_step *step, struct moment *at)
{
    const struct fw_plan_move *move = &yard->plan->moves[at->move];
    const size_t *fences = steps->fences + step->first;
    switch (step->kind) {
    case FW_STEP_SET:
        at->hot = false;
        for (size_t i = 0; i < step->count; i++) {
            assert_false(yard->standing[fences[i]]);
            yard->standing[fences[i]] = true;
        }
        break;
    case FW_STEP_HOOK:
        at->hot = true;
        break;
    case FW_STEP_LET_OUT:
    case FW_STEP_OPEN:
        assert_true(at->hot); /* next is hot before another is touched */
        if (step->gate != FW_NONE &&
            yard->plan->gates[step->gate].fence != FW_NONE) {
            assert_int_equal(step->count, 1);
            assert_int_equal(yard->plan->gates[step->gate].fence, fences[0]);
            assert_true(yard->standing[fences[0]]);
            yard->gap[step->gate] = true;
        }
        at->let_out |= step->kind == FW_STEP_LET_OUT;
        at->opened |= step->kind == FW_STEP_OPEN;
        break;
    case FW_STEP_COUNT:
        assert_true(at->opened);
        at->through = true;
        at->where = move->to;
        break;
    case FW_STEP_CLOSE:
        assert_true(at->through);
        yard->gap[step->gate == FW_NONE ? yard->plan->gate_count : step->gate] =
            false;
        at->opened = false;
        break;
    case FW_STEP_TAKE_DOWN:
    case FW_STEP_CLEAR:
        assert_true(at->through);
        for (size_t i = 0; i < step->count; i++) {
            assert_true(yard->standing[fences[i]]);
            yard->standing[fences[i]] = false;
            at->opened &= fences[i] != move->front;
        }
        break;
    case FW_STEP_READ:
    case FW_STEP_CARRY:
        break;
    }
}

/* Where they are they must be, in the next they may be while it is open, on
 * grazed ground where no back fence stands or while they walk back; and on
 * ground that waits never. */
static void assert_no_more_than(const struct yard *yard,
                                const struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_plan_move *move = &plan->moves[at->move];
    double sum_m2 = 0;
    if (!yard->has[at->where])
        fail_msg("move %zu step %zu: no ground is fenced round the flock",
                 at->move, at->step);
    for (size_t p = 0; p < plan->paddock_count; p++) {
        if (!yard->has[p])
            continue;
        sum_m2 += plan->paddocks[p].plane_m2;
        const bool grazed = p < move->to && (!at->back_fence || at->let_out ||
                                             (at->opened && p + 1 == move->to));
        const bool next = p == move->to && (at->opened || at->through);
        if (p != at->where && !grazed && !next)
            fail_msg("move %zu step %zu: from %s they reach %s", at->move,
                     at->step, plan->paddocks[at->where].id,
                     plan->paddocks[p].id);
    }
    /* Ground that is no paddock: the lane, while they walk along it. */
    double most_m2 = sum_m2;
    if (at->let_out) {
        const struct fw_plan_field *field = &plan->fields[move->field];
        most_m2 += field->plane_m2;
        for (size_t p = 0; p < field->paddock_count; p++)
            most_m2 -= plan->paddocks[field->first_paddock + p].plane_m2;
    }
    if (!(yard->ground_m2 > sum_m2 - 1e-3 && yard->ground_m2 < most_m2 + 1e-3))
        fail_msg("%s move %zu step %zu: %.4f m2 of ground; expected %.4f to "
                 "%.4f",
                 plan->fields[move->field].layout, at->move, at->step,
                 yard->ground_m2, sum_m2, most_m2);
}

/* At the count the way is open from the last paddock to the next, or from the
 * gate where the layout has it at the first one or at a lane. */
static void assert_way(const struct yard *yard, const struct moment *at)
{
    const struct fw_plan_move *move = &yard->plan->moves[at->move];
    if (move->to == yard->plan->fields[move->field].first_paddock) {
        if (at->at_gate)
            assert_near(yard->gate_m, 0, 1e-6);
        return;
    }
    if (!yard->has[move->from])
        fail_msg("%s move %zu: no open way from %s to %s",
                 yard->plan->fields[move->field].layout, at->move,
                 yard->plan->paddocks[move->from].id,
                 yard->plan->paddocks[move->to].id);
}

static void make_move(struct yard *yard, size_t index, struct moment *at)
{
    const struct fw_plan *plan = yard->plan;
    const struct fw_plan_move *move = &plan->moves[index];
    const struct fw_plan_field *field = &plan->fields[move->field];
    for (size_t f = field->first_fence;
         f < field->first_fence + field->fence_count; f++)
        if (plan->fences[f].role != FW_FENCE_PERIMETER)
            assert_int_equal(yard->standing[f],
                             fw_plan_stands(&plan->fences[f], index));
    struct fw_steps steps;
    assert_int_equal(fw_plan_steps(plan, index, &steps, NULL), FW_OK);
    assert_true(steps.count <= FW_MOST_STEPS);
    *at = (struct moment){.move = index,
                          .where = move->from,
                          .hot = true,
                          .back_fence = at->back_fence,
                          .at_gate = at->at_gate};
    bool changed = true;
    for (size_t s = 0; s < steps.count; s++) {
        at->step = s;
        take_step(yard, &steps, &steps.items[s], at);
        changed |= steps.items[s].kind != FW_STEP_HOOK &&
                   steps.items[s].kind != FW_STEP_READ &&
                   steps.items[s].kind != FW_STEP_CARRY;
        if (at->where == FW_NONE || !changed)
            continue;
        look(yard, at->where);
        assert_no_more_than(yard, at);
        if (steps.items[s].kind == FW_STEP_COUNT)
            assert_way(yard, at);
        changed = false;
    }
    fw_steps_release(&steps);
    assert_true(at->through && !at->opened);
    if (at->back_fence) /* the flock has its paddock and nothing else */
        assert_near(yard->ground_m2, plan->paddocks[move->to].plane_m2, 1e-3);
}

/* How many moves there were on which the flock walks back. */
static size_t assert_enclosed(const struct fw_plan *plan, bool at_gate)
{
    struct yard yard;
    struct moment at = {.back_fence = plan->back_fence, .at_gate = at_gate};
    size_t back = 0;
    yard_open(&yard, plan);
    for (size_t m = 0; m < plan->move_count; m++) {
        make_move(&yard, m, &at);
        back += plan->moves[m].way_back != FW_NONE;
    }
    yard_close(&yard);
    return back;
}

/* ---- tests ---- */

static const struct outline *const outlines[] = {&rectangle, &leaning, &corner,
                                                 &pond};
enum { outline_count = sizeof outlines / sizeof *outlines };

static void strips_enclose_the_flock_at_every_step(void **state)
{
    (void)state;
    for (size_t o = 0; o < outline_count; o++)
        for (int back = 0; back < 2; back++) {
            struct fw_farm *farm = farm_of(outlines[o], outlines[(o + 1) % 4]);
            farm->layout = fw_strdup("strips");
            farm->back_fence = back;
            struct fw_plan *plan = plan_of(farm);
            assert_enclosed(plan, false);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
}

/* The plan by each candidate in turn, once with each way to set fences. */
static size_t enclosed_by_each(struct fw_farm *farm, size_t most)
{
    struct fw_plan_scores scores = {0};
    struct fw_error err;
    size_t back = 0;
    if (fw_plan_compare(farm, &scores, &err))
        fail_msg("%s", err.text);
    for (size_t i = 0; i < scores.count; i++) {
        /* Those that walk back are few: all of them, and some of the rest. */
        if (i % (1 + scores.count / most) && scores.items[i].turns == 0)
            continue;
        fw_free(farm->layout);
        farm->layout = fw_strdup(scores.items[i].layout);
        for (unsigned ways = 0; ways < 4; ways++) {
            farm->back_fence = ways & 1;
            farm->all_stand = ways & 2;
            struct fw_plan *plan = plan_of(farm);
            back += assert_enclosed(plan, farm->fields[0].gate.given &&
                                              scores.items[i].gate_m < 1e-6);
            fw_plan_free(plan);
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
        farm->fields[0].gate.given = true;
        farm->fields[0].gate.point = farm->fields[0].shape->vertices[0].plane;
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
                assert_enclosed(plan, true);
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
        for (unsigned ways = 0; ways < 4; ways++) {
            struct fw_farm *farm = farm_of(outlines[o], NULL);
            farm->fields[0].gate.given = true;
            farm->fields[0].gate.point =
                farm->fields[0].shape->vertices[0].plane;
            add_feature(farm, FW_ROLE_SHELTER, false, hedge, 2);
            farm->keep_days[FW_KEEP_STORM] = 3;
            farm->last = FW_LAST_SHORT;
            farm->back_fence = ways & 1;
            farm->all_stand = ways & 2;
            struct fw_plan *plan = plan_of(farm);
            for (size_t i = 0; i < plan->paddock_count; i++)
                kept += plan->paddocks[i].keep[0] != 0;
            assert_enclosed(plan, false);
            fw_plan_free(plan);
            fw_farm_free(farm);
        }
    assert_true(kept > 4);
}

static void bent_lines_enclose_the_flock(void **state)
{
    (void)state;
    for (size_t o = 0; o < outline_count; o++) {
        struct fw_farm *farm = farm_of(outlines[o], outlines[(o + 1) % 4]);
        farm->limits_off = true;
        farm->prefer = FW_PREFER_FENCE;
        struct fw_plan *plan = plan_of(farm);
        assert_enclosed(plan, false);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
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
    for (unsigned ways = 0; ways < 4; ways++) {
        farm->back_fence = ways & 1;
        farm->all_stand = ways & 2;
        struct fw_plan *plan = plan_of(farm);
        assert_enclosed(plan, false);
        fw_plan_free(plan);
    }
    fw_farm_free(farm);
}

/* The fences' own dates tell the same story as the steps; what is left when
 * the flock leaves a field stands until that day. */
static void fences_stand_from_up_to_down(void **state)
{
    (void)state;
    for (unsigned ways = 0; ways < 4; ways++) {
        struct fw_farm *farm = farm_of(&leaning, &rectangle);
        farm->back_fence = ways & 1;
        farm->all_stand = ways & 2;
        struct fw_plan *plan = plan_of(farm);
        int *up = calloc(plan->fence_count, sizeof *up);
        int *down = calloc(plan->fence_count, sizeof *down);
        for (size_t m = 0; m < plan->move_count; m++) {
            struct fw_steps steps;
            assert_int_equal(fw_plan_steps(plan, m, &steps, NULL), FW_OK);
            for (size_t s = 0; s < steps.count; s++)
                for (size_t i = 0; i < steps.items[s].count; i++) {
                    const struct fw_step *step = &steps.items[s];
                    const size_t fence = steps.fences[step->first + i];
                    if (step->kind == FW_STEP_SET)
                        up[fence] = plan->moves[m].day;
                    if (step->kind == FW_STEP_TAKE_DOWN ||
                        step->kind == FW_STEP_CLEAR)
                        down[fence] = plan->moves[m].day;
                }
            fw_steps_release(&steps);
        }
        for (size_t i = 0; i < plan->fence_count; i++) {
            const struct fw_plan_fence *fence = &plan->fences[i];
            if (fence->role == FW_FENCE_PERIMETER)
                continue;
            assert_int_equal(fence->up, up[i]);
            assert_int_equal(fence->down, down[i] ? down[i] : plan->end_day);
        }
        free(up);
        free(down);
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
        cmocka_unit_test(sample_farm_encloses_the_flock),
        cmocka_unit_test(fences_stand_from_up_to_down),
    };
    return cmocka_run_group_tests_name("plan_moves", tests, NULL, NULL);
}
