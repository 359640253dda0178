/* The figures of paddocks, fields, lines, posts, troughs and openings, each
 * reckoned again from the places that the plan has, on farms at random. Their
 * maps are equal-area, so that a sum over map coordinates is an area. */
#include "random_plan.h"

enum { farms = 60 };

static const double full_turn_deg = 360;

static struct fw_point at(const struct fw_plan_field *field, size_t vertex)
{
    return field->vertices[vertex].plane;
}

static double apart_m(struct fw_point a, struct fw_point b)
{
    return hypot(a.x_m - b.x_m, a.y_m - b.y_m);
}

/* ---- rings ---- */

struct measured {
    double plane_m2, map_m2, round_m, outer_m;
};

static struct measured measure(const struct fw_plan_field *field,
                               const struct fw_plan_rings *rings)
{
    struct measured out = {0};
    for (size_t r = 0; r < rings->ring_count; r++) {
        const size_t first = rings->ring_start[r];
        const size_t count = rings->ring_start[r + 1] - first;
        for (size_t i = 0; i < count; i++) {
            const struct fw_vertex *a =
                &field->vertices[rings->vertices[first + i]];
            const struct fw_vertex *b =
                &field->vertices[rings->vertices[first + (i + 1) % count]];
            out.plane_m2 +=
                (a->plane.x_m * b->plane.y_m - b->plane.x_m * a->plane.y_m) / 2;
            out.map_m2 += (a->file.x * b->file.y - b->file.x * a->file.y) / 2;
            out.round_m += apart_m(a->plane, b->plane);
            out.outer_m += r == 0 ? apart_m(a->plane, b->plane) : 0;
        }
    }
    return out;
}

/* A box about a ring that is turned. */
static void box_at(const struct fw_plan_field *field,
                   const struct fw_plan_rings *rings, double angle,
                   double *narrow_m, double *ratio)
{
    const double c = cos(angle), s = sin(angle);
    double low[2] = {HUGE_VAL, HUGE_VAL}, high[2] = {-HUGE_VAL, -HUGE_VAL};
    for (size_t i = 0; i < rings->ring_start[1]; i++) {
        const struct fw_point p = at(field, rings->vertices[i]);
        const double xy[2] = {p.x_m * c + p.y_m * s, p.y_m * c - p.x_m * s};
        for (int k = 0; k < 2; k++) {
            low[k] = fmin(low[k], xy[k]);
            high[k] = fmax(high[k], xy[k]);
        }
    }
    *narrow_m = fmin(high[0] - low[0], high[1] - low[1]);
    *ratio = fmax(high[0] - low[0], high[1] - low[1]) / *narrow_m;
}

/* Is it length over width of the narrowest box, or of one that is hardly less
 * narrow? A fifth of a degree off, a box of 8 by 1 is 3 % less narrow. */
static bool is_box_ratio(const struct fw_plan_field *field,
                         const struct fw_plan_rings *rings, double told)
{
    enum { turns = 900 };
    double narrow_m[turns], ratio[turns], least_m = HUGE_VAL;
    for (int i = 0; i < turns; i++) {
        box_at(field, rings, acos(-1) * i / turns, &narrow_m[i], &ratio[i]);
        least_m = fmin(least_m, narrow_m[i]);
    }
    for (int i = 0; i < turns; i++)
        if (narrow_m[i] <= 1.02 * least_m && fabs(ratio[i] / told - 1) < 0.03)
            return true;
    return false;
}

static bool is_convex(const struct fw_plan_field *field,
                      const struct fw_plan_rings *rings)
{
    const size_t count = rings->ring_start[1];
    for (size_t i = 0; i < count; i++) {
        const struct fw_point a = at(field, rings->vertices[i]);
        const struct fw_point b = at(field, rings->vertices[(i + 1) % count]);
        const struct fw_point c = at(field, rings->vertices[(i + 2) % count]);
        if ((b.x_m - a.x_m) * (c.y_m - b.y_m) -
                (b.y_m - a.y_m) * (c.x_m - b.x_m) <
            -1e-3)
            return false;
    }
    return rings->piece_count == 1;
}

/* ---- paddocks ---- */

static void look_at_paddock(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_paddock *paddock = &plan->paddocks[index];
    const struct fw_plan_field *field = &plan->fields[paddock->field];
    const struct measured here = measure(field, &paddock->rings);
    char id[FW_ID];
    snprintf(id, sizeof id, "%c%02zu", (char)('A' + paddock->field),
             index - field->first_paddock + 1);
    assert_string_equal(paddock->id, id);
    assert_int_equal(paddock->seq, index + 1);
    assert_int_equal(paddock->pieces, paddock->rings.piece_count);
    assert_relative(paddock->plane_m2, here.plane_m2, 1e-6);
    assert_relative(paddock->area_ha * 1e4, here.map_m2, 1e-4);
    assert_relative(paddock->perimeter_m, here.round_m, 1e-4);
    assert_relative(paddock->usable_kg,
                    here.plane_m2 * field->usable_kg_ha / 1e4, 1e-6);
    assert_relative(paddock->demand_kg,
                    paddock->stay_days * plan->flock.demand_kg_day, 1e-9);
    assert_near(stay_in(plan, index)->target_kg, paddock->demand_kg, 1e-9);
    assert_relative(paddock->head_per_ha, plan->flock.head * 1e4 / here.map_m2,
                    1e-4);
    assert_relative(paddock->liveweight_kg_ha,
                    plan->flock.liveweight_kg * 1e4 / here.map_m2, 1e-4);
    assert_true(paddock->elongation >= 1);
    assert_true(paddock->elongation > 8 || !is_convex(field, &paddock->rings) ||
                is_box_ratio(field, &paddock->rings, paddock->elongation));
    assert_string_equal(paddock->keep, "");
}

/* ---- fields ---- */

static void look_at_spot(const struct fw_farm_field *from,
                         const struct fw_spot *told,
                         const struct fw_plan_place *place)
{
    assert_int_equal(place->given, told->given);
    if (!told->given)
        return;
    assert_near(place->plane.x_m, told->point.x_m, 0);
    assert_near(place->plane.y_m, told->point.y_m, 0);
    const struct fw_point back =
        fw_plane_forward(&from->shape->plane, place->lonlat);
    assert_true(apart_m(back, told->point) < 1e-5);
    for (size_t i = 0; i < from->shape->vertex_count; i++) {
        const struct fw_vertex *vertex = &from->shape->vertices[i];
        if (apart_m(vertex->plane, told->point) > 1e-9)
            continue;
        assert_near(place->file.x, vertex->file.x, 0.01);
        assert_near(place->file.y, vertex->file.y, 0.01);
    }
}

static void look_at_sums(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    double days = 0, paddocks_ha = 0, paddocks_m2 = 0, lanes_m2 = 0;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        assert_int_equal(paddock->field, index);
        days += paddock->stay_days;
        paddocks_ha += paddock->area_ha;
        paddocks_m2 += paddock->plane_m2;
    }
    for (size_t i = 0; i < plan->lane_count; i++)
        if (plan->lanes[i].field == index) {
            const struct measured lane = measure(field, &plan->lanes[i].rings);
            assert_relative(plan->lanes[i].plane_m2, lane.plane_m2, 1e-6);
            assert_relative(plan->lanes[i].area_ha * 1e4, lane.map_m2, 1e-4);
            lanes_m2 += lane.plane_m2;
        }
    if (field->paddock_count == 0) {
        assert_true(field->no_plan && field->no_plan[0]);
        assert_near(field->grazed_ha + field->rotation_days, 0, 0);
        return;
    }
    const struct fw_plan_paddock *last =
        &plan->paddocks[field->first_paddock + field->paddock_count - 1];
    assert_near(field->rotation_days, days, 1e-9);
    assert_relative(field->grazed_ha, paddocks_ha, 1e-6);
    assert_relative(field->plane_m2, paddocks_m2 + lanes_m2, 1e-9);
    assert_near(field->left_kg, last->usable_kg - last->demand_kg, 1e-6);
    assert_true(
        !strncmp(field->layout, field->pattern, strlen(field->pattern)));
    assert_true(field->last_share > 0 && field->last_share < 2);
}

static void look_at_field(const struct fw_farm *farm,
                          const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_farm_field *from = &farm->fields[index];
    const struct measured here = measure(field, &field->rings);
    assert_string_equal(field->name, from->shape->name);
    assert_relative(field->area_ha * 1e4, here.map_m2, 1e-4);
    assert_relative(field->plane_m2, here.plane_m2, 1e-9);
    assert_relative(field->perimeter_m, here.outer_m, 1e-4);
    assert_relative(field->usable_kg_ha,
                    (from->sward.mass_kg_ha - 1500) * from->sward.use, 1e-9);
    assert_near(field->mass_kg_ha, from->sward.mass_kg_ha, 1e-9);
    assert_near(field->residual_kg_ha, 1500, 1e-9);
    assert_near(field->use, from->sward.use, 0);
    assert_near(field->crs_accuracy_m, from->crs_accuracy_m, 0);
    assert_int_equal(field->hole_holds, from->hole_holds);
    assert_int_equal(field->corner_count, from->shape->corner_count);
    for (size_t i = 0; i < field->corner_count; i++) {
        assert_int_equal(field->sides[i].holds, from->sides[i].holds);
        assert_int_equal(field->sides[i].hot, from->sides[i].hot);
        assert_int_equal(fw_plan_corner_number(field, i), i + 1);
        assert_int_equal(fw_plan_side_number(field, i), i + 1);
        assert_int_equal(field->corners[i], from->shape->corners[i]);
    }
    look_at_spot(from, &from->gate, &field->gate);
    look_at_spot(from, &from->water, &field->water);
    look_at_spot(from, &from->park, &field->park);
    look_at_sums(plan, index);
}

/* ---- lines and their posts ---- */

static double length_m(const struct fw_plan_field *field,
                       const struct fw_plan_fence *fence)
{
    double sum_m = 0;
    for (size_t i = 1; i < fence->line_count; i++)
        sum_m +=
            apart_m(at(field, fence->line[i - 1]), at(field, fence->line[i]));
    return sum_m;
}

/* The place so far along the line. */
static struct fw_point along(const struct fw_plan_field *field,
                             const struct fw_plan_fence *fence, double m)
{
    struct fw_point a = at(field, fence->line[0]), b = a;
    for (size_t i = 1; i < fence->line_count; i++) {
        a = at(field, fence->line[i - 1]);
        b = at(field, fence->line[i]);
        const double piece_m = apart_m(a, b);
        if (m <= piece_m)
            return (struct fw_point){a.x_m + (b.x_m - a.x_m) * m / piece_m,
                                     a.y_m + (b.y_m - a.y_m) * m / piece_m};
        m -= piece_m;
    }
    return b;
}

static void look_at_post(const struct fw_plan *plan,
                         const struct fw_plan_fence *fence,
                         const struct fw_plan_post *post)
{
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_point wanted = along(field, fence, post->at_m);
    const struct fw_point there =
        fw_plane_forward(&field->plane, post->place.lonlat);
    assert_true(post->place.given);
    assert_true(apart_m(post->place.plane, wanted) < 1e-6);
    assert_true(apart_m(there, wanted) < 0.005);
    assert_true(strncmp(post->id, fence->id, strlen(fence->id)) == 0 &&
                post->id[strlen(fence->id)] == '/');
}

static void look_at_posts(const struct fw_farm *farm,
                          const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const double long_m = length_m(&plan->fields[fence->field], fence);
    const bool tied = fence->length_m >= 10;
    double before_m = -1;
    int posts = 0;
    for (size_t i = 0; i < plan->post_count; i++) {
        const struct fw_plan_post *post = &plan->posts[i];
        if (post->fence != index)
            continue;
        look_at_post(plan, fence, post);
        if (post->why == FW_POST_SIGN)
            continue;
        const bool end = posts == 0 || posts + 1 == fence->posts;
        if (posts == 0)
            assert_near(post->at_m, 0, 0);
        else
            assert_true(post->at_m > before_m &&
                        post->at_m <= before_m + farm->moved.post_gap_m + 1e-6);
        if (end)
            assert_int_equal(post->why, tied ? FW_POST_TIE : FW_POST_END);
        else
            assert_true(post->why != FW_POST_END);
        before_m = post->at_m;
        posts++;
    }
    assert_int_equal(posts, fence->posts);
    assert_near(before_m, long_m, 1e-6);
}

/* From a to b over the plane, whose y is north. */
static void look_at_bearing(double bearing_deg, struct fw_point a,
                            struct fw_point b)
{
    const double wanted =
        atan2(b.x_m - a.x_m, b.y_m - a.y_m) * full_turn_deg / 2 / acos(-1);
    assert_true(bearing_deg >= 0 && bearing_deg < full_turn_deg);
    assert_near(remainder(bearing_deg - wanted, full_turn_deg), 0, 0.1);
}

static void look_at_line(const struct fw_farm *farm, const struct fw_plan *plan,
                         size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    const struct fw_fence_spec *spec = &farm->moved;
    const double strand_m = fence->length_m * (1 + spec->slack);
    assert_relative(fence->length_m, length_m(field, fence), 1e-5);
    assert_near(fence->ground_m, fence->length_m, 1e-9);
    look_at_bearing(fence->bearing_deg, at(field, fence->line[0]),
                    at(field, fence->line[fence->line_count - 1]));
    assert_int_equal(fence->strands, spec->strands);
    assert_near(fence->wire_m, strand_m * spec->strands, 1e-9);
    const int wires = spec->out_and_back ? spec->strands / 2 : 0;
    const int single = spec->strands - 2 * wires;
    assert_int_equal(fence->reels,
                     wires * (int)ceil(2 * strand_m / spec->reel_m) +
                         single * (int)ceil(strand_m / spec->reel_m));
    look_at_posts(farm, plan, index);
}

static void look_at_side(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_fence *fence = &plan->fences[index];
    const struct fw_plan_field *field = &plan->fields[fence->field];
    char id[FW_ID];
    assert_relative(fence->length_m, length_m(field, fence), 1e-5);
    assert_near(fence->ground_m, fence->length_m, 1e-9);
    assert_near(fence->wire_m + fence->posts + fence->reels, 0, 0);
    assert_int_equal(fence->from == FW_NONE && fence->to == FW_NONE, 1);
    if (fence->side == FW_NONE) {
        snprintf(id, sizeof id, "%c-inner-1", (char)('A' + fence->field));
        assert_int_equal(fence->line[0], fence->line[fence->line_count - 1]);
    } else {
        const size_t next = (fence->side + 1) % field->corner_count;
        snprintf(id, sizeof id, "%c-side-%zu", (char)('A' + fence->field),
                 fence->side + 1);
        assert_int_equal(fence->line[0], field->corners[fence->side]);
        assert_int_equal(fence->line[fence->line_count - 1],
                         field->corners[next]);
    }
    assert_string_equal(fence->id, id);
}

/* ---- water and openings ---- */

static size_t water_of(const struct fw_plan *plan, size_t stay)
{
    return plan->paddocks[plan->time.stays[stay].cell].water;
}

/* Of the stays that drink from one trough, those next to each other, the first
 * and the last: in growth each has its own. */
static void look_for_run(const struct fw_plan *plan, size_t stay, size_t *first,
                         size_t *last)
{
    const size_t water = water_of(plan, stay);
    *first = *last = stay;
    while (*first > 0 && water_of(plan, *first - 1) == water)
        --*first;
    while (*last + 1 < plan->time.stay_count &&
           water_of(plan, *last + 1) == water)
        ++*last;
    assert_true(*first == *last || plan->season == FW_SEASON_DORMANT);
}

static void look_at_water(const struct fw_plan *plan, size_t stay)
{
    const size_t cell = plan->time.stays[stay].cell;
    const struct fw_plan_paddock *paddock = &plan->paddocks[cell];
    const struct fw_list all = fw_plan_stays_of(plan, paddock->field);
    size_t first, end;
    char id[FW_ID];
    if (paddock->water == FW_NONE)
        return;
    const struct fw_plan_water *water = &plan->waters[paddock->water];
    const bool trough = !strcmp(water->kind_of, "trough");
    const size_t last = all.first + all.count - 1;
    first = all.first;
    end = last;
    if (trough)
        look_for_run(plan, stay, &first, &end);
    if (trough)
        snprintf(id, sizeof id, "trough %.20s",
                 plan->paddocks[plan->time.stays[first].cell].id);
    else
        snprintf(id, sizeof id, "water %c", (char)('A' + paddock->field));
    assert_string_equal(water->id, id);
    assert_int_equal(water->field, paddock->field);
    assert_int_equal(water->from, fw_time_nights(&plan->time, first).from);
    assert_int_equal(water->to, fw_time_nights(&plan->time, end).to);
    if (!trough)
        assert_memory_equal(&water->place, &plan->fields[water->field].water,
                            sizeof water->place);
}

static void look_at_opening(const struct fw_plan *plan, size_t index)
{
    const struct fw_plan_gate *gate = &plan->gates[index];
    const struct fw_opening *from = &plan->time.openings[index];
    const struct fw_plan_field *field = &plan->fields[gate->field];
    assert_int_equal(gate->field, from->field);
    assert_int_equal(gate->fence, from->line);
    assert_near(gate->width_m, from->width_m, 0);
    if (gate->fence == FW_NONE) {
        char id[FW_ID];
        snprintf(id, sizeof id, "gate %c", (char)('A' + gate->field));
        assert_string_equal(gate->id, id);
        assert_int_equal(gate->on, FW_NO_DAY);
        assert_memory_equal(&gate->place, &field->gate, sizeof gate->place);
        return;
    }
    const struct fw_plan_fence *fence = &plan->fences[gate->fence];
    const struct fw_point there = along(field, fence, gate->at_m);
    assert_true(strstr(gate->id, fence->id) != NULL);
    assert_int_equal(gate->on, plan->time.moves[from->move].day);
    assert_true(apart_m(gate->place.plane, there) < 1e-3);
    for (size_t i = 0; i < index; i++)
        assert_string_not_equal(plan->gates[i].id, gate->id);
}

/* ---- all of it ---- */

static void look_at_plan(const struct fw_farm *farm, const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++)
        look_at_field(farm, plan, i);
    for (size_t i = 0; i < plan->paddock_count; i++)
        look_at_paddock(plan, i);
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_PERIMETER)
            look_at_side(plan, i);
        else
            look_at_line(farm, plan, i);
    for (size_t i = 0; i < plan->time.stay_count; i++)
        look_at_water(plan, i);
    for (size_t i = 0; i < plan->gate_count; i++)
        look_at_opening(plan, i);
}

static void figures_are_those_of_the_places(void **state)
{
    (void)state;
    uint64_t seed = seeded(302);
    size_t made = 0;
    for (size_t i = 0; i < farms; i++) {
        struct fw_farm *farm = draw_farm(&seed);
        struct fw_plan *plan = plan_at_random(farm);
        if (plan)
            look_at_plan(farm, plan);
        made += plan != NULL;
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
    print_message("# %zu plans\n", made);
    assert_true(made > farms / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_those_of_the_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
