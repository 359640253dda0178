/* What a plan takes over, figure by figure, from the plan made before that it
 * goes on from; and what is told anew. */
#include "plan_help.h"

static const char *const layouts[] = {"strips", "blocks", "lane", "turning"};

/* Taken as a farm file takes it: the farm owns the plan before. */
static struct fw_plan *rest_of(struct fw_farm *farm, struct fw_plan *before,
                               size_t fence)
{
    const size_t move = before->fences[fence].from;
    farm->earlier = before;
    farm->start_day = before->time.moves[move + 1].day;
    farm->fields[0].front =
        (struct fw_farm_front){.named = true, .fence = fence};
    return plan_of(farm);
}

/* The moved fence of the last paddock up to that one which has one: at a
 * block's end there is none. */
static size_t moved_of(const struct fw_plan *plan, size_t paddock)
{
    size_t found = FW_NONE;
    for (size_t i = 0; i < plan->fence_count; i++)
        if (plan->fences[i].role == FW_FENCE_MOVED &&
            plan->fences[i].from <= paddock &&
            (found == FW_NONE ||
             plan->fences[i].from > plan->fences[found].from))
            found = i;
    assert_true(found != FW_NONE);
    return found;
}

static void same_list(const size_t *a, const size_t *b, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_int_equal(a[i], b[i]);
}

static void same_rings(const struct fw_plan_rings *a,
                       const struct fw_plan_rings *b)
{
    assert_int_equal(a->ring_count, b->ring_count);
    assert_int_equal(a->piece_count, b->piece_count);
    same_list(a->ring_start, b->ring_start, a->ring_count + 1);
    same_list(a->piece_ring, b->piece_ring, a->piece_count + 1);
    same_list(a->vertices, b->vertices, a->ring_start[a->ring_count]);
}

static void same_field(const struct fw_plan_field *a,
                       const struct fw_plan_field *b)
{
    assert_string_equal(a->name, b->name);
    assert_string_equal(a->source, b->source);
    assert_string_equal(a->crs, b->crs);
    assert_string_equal(a->layout, b->layout);
    assert_string_equal(a->pattern, b->pattern);
    assert_near(a->crs_accuracy_m, b->crs_accuracy_m, 0);
    assert_near(a->area_ha, b->area_ha, 0);
    assert_near(a->plane_m2, b->plane_m2, 0);
    assert_near(a->perimeter_m, b->perimeter_m, 0);
    assert_near(a->usable_kg_ha, b->usable_kg_ha, 1e-9);
    assert_near(a->mass_kg_ha, b->mass_kg_ha, 1e-9);
    assert_near(a->residual_kg_ha, b->residual_kg_ha, 1e-9);
    assert_near(a->use, b->use, 1e-12);
    assert_near(a->grass_m, b->grass_m, 1e-12);
    assert_near(a->left_m, b->left_m, 1e-12);
    assert_near(a->direction_deg, b->direction_deg, 0);
    assert_int_equal(a->use_of, b->use_of);
    assert_int_equal(a->far_first, b->far_first);
    assert_int_equal(a->hole_holds, b->hole_holds);
    assert_int_equal(a->corner_count, b->corner_count);
    assert_int_equal(a->corner_number_count, b->corner_number_count);
    assert_int_equal(a->side_number_count, b->side_number_count);
    assert_int_equal(a->paddock_count, b->paddock_count);
    assert_int_equal(a->fence_count, b->fence_count);
    same_list(a->corners, b->corners, a->corner_count);
    same_list(a->corner_numbers, b->corner_numbers, a->corner_number_count);
    same_list(a->side_numbers, b->side_numbers, a->side_number_count);
    for (size_t i = 0; i < a->corner_count; i++) {
        assert_int_equal(a->sides[i].holds, b->sides[i].holds);
        assert_int_equal(a->sides[i].hot, b->sides[i].hot);
    }
    assert_int_equal(a->vertex_count, b->vertex_count);
    assert_memory_equal(a->vertices, b->vertices,
                        a->vertex_count * sizeof *a->vertices);
    same_rings(&a->rings, &b->rings);
}

static void same_paddock(const struct fw_plan_paddock *a,
                         const struct fw_plan_paddock *b, bool grazed)
{
    assert_string_equal(a->id, b->id);
    assert_string_equal(a->block, b->block);
    assert_string_equal(a->keep, b->keep);
    assert_int_equal(a->seq, b->seq);
    assert_int_equal(a->pieces, b->pieces);
    assert_near(a->area_ha, b->area_ha, 0);
    assert_near(a->plane_m2, b->plane_m2, 0);
    assert_near(a->perimeter_m, b->perimeter_m, 0);
    assert_near(a->elongation, b->elongation, 0);
    assert_relative(grazed ? 0 : a->usable_kg, b->usable_kg, 1e-9);
    assert_relative(grazed ? 0 : a->head_per_ha, b->head_per_ha, 1e-9);
    assert_relative(grazed ? 0 : a->liveweight_kg_ha, b->liveweight_kg_ha,
                    1e-9);
    same_rings(&a->rings, &b->rings);
}

static void same_fence(const struct fw_plan_fence *a,
                       const struct fw_plan_fence *b)
{
    assert_string_equal(a->id, b->id);
    assert_int_equal(a->field, b->field);
    assert_int_equal(a->role, b->role);
    assert_int_equal(a->from, b->from);
    assert_int_equal(a->to, b->to);
    assert_int_equal(a->rank, b->rank);
    assert_int_equal(a->side, b->side);
    assert_int_equal(a->line_count, b->line_count);
    same_list(a->line, b->line, a->line_count);
    assert_near(a->length_m, b->length_m, 0);
    assert_near(a->ground_m, b->ground_m, 0);
    assert_near(a->bearing_deg, b->bearing_deg, 0);
    assert_near(a->wire_m, b->wire_m, 1e-9);
    assert_int_equal(a->posts, b->posts);
    assert_int_equal(a->reels, b->reels);
    assert_int_equal(a->strands, b->strands);
}

static void same_lanes(const struct fw_plan *a, const struct fw_plan *b)
{
    assert_int_equal(a->lane_count, b->lane_count);
    for (size_t i = 0; i < a->lane_count; i++) {
        assert_string_equal(a->lanes[i].id, b->lanes[i].id);
        assert_int_equal(a->lanes[i].field, b->lanes[i].field);
        assert_int_equal(a->lanes[i].apron, b->lanes[i].apron);
        assert_near(a->lanes[i].area_ha, b->lanes[i].area_ha, 0);
        assert_near(a->lanes[i].plane_m2, b->lanes[i].plane_m2, 0);
        same_rings(&a->lanes[i].rings, &b->lanes[i].rings);
    }
}

static void check_rest(const struct fw_plan *before, const struct fw_plan *rest,
                       size_t grazed)
{
    double left_ha = 0;
    same_field(&before->fields[0], &rest->fields[0]);
    assert_int_equal(before->paddock_count, rest->paddock_count);
    for (size_t p = 0; p < rest->paddock_count; p++) {
        same_paddock(&before->paddocks[p], &rest->paddocks[p], p < grazed);
        left_ha += p < grazed ? 0 : rest->paddocks[p].area_ha;
    }
    assert_near(rest->fields[0].grazed_ha, left_ha, 1e-9);
    assert_int_equal(before->fence_count, rest->fence_count);
    for (size_t i = 0; i < rest->fence_count; i++)
        same_fence(&before->fences[i], &rest->fences[i]);
    same_lanes(before, rest);
}

/* From fences at the beginning, in the middle and next to the end, with trees
 * for storms at one corner and a ditch across. */
static void all_that_is_ground_is_the_same(void **state)
{
    (void)state;
    static const struct outline *const outlines[] = {&rectangle, &pond,
                                                     &corner};
    static const double trees[][2] = {{60, 150}, {70, 150}, {70, 160}};
    static const double ditch[][2] = {{50, -10}, {55, 250}};
    size_t kept = 0, blocks = 0, lanes = 0, holes = 0, crossed = 0;
    for (size_t n = 0; n < 12; n++) {
        struct fw_farm *farm = farm_of(outlines[n % 3], NULL);
        farm->layout = fw_strdup(layouts[n / 3]);
        farm->limits_off = true;
        farm->fields[0].sward.density_kg_ha_cm = 250;
        farm->fields[0].hole_holds = FW_HOLDS_SHEEP;
        farm->fields[0].sides[1].holds = FW_HOLDS_LAMBS;
        farm->fields[0].sides[2].hot = FW_YES;
        farm->fields[0].crs_accuracy_m = 0.5;
        put_spot(farm->fields[0].shape, &farm->fields[0].gate, 1, 1);
        add_feature(farm, FW_ROLE_SHELTER, true, trees, 3);
        add_feature(farm, FW_ROLE_HARD_GOING, false, ditch, 2);
        farm->features[1].posts = 2;
        farm->features[1].minutes = 1;
        farm->features[1].sheep_cross = -1;
        farm->keep_days[FW_KEEP_STORM] = 1;
        struct fw_plan *before = NULL;
        struct fw_error err;
        if (fw_plan_make(farm, &before, &err)) {
            fw_farm_free(farm);
            continue;
        }
        const size_t count = before->paddock_count;
        const size_t from[] = {2, count / 2, count - 2};
        for (size_t i = 0; i < 3; i++) {
            const size_t fence = moved_of(before, from[i]);
            struct fw_plan *rest = rest_of(farm, before, fence);
            check_rest(before, rest, before->fences[fence].from + 1);
            fw_plan_free(rest);
        }
        for (size_t p = 0; p < count; p++) {
            kept += before->paddocks[p].keep[0] != 0;
            blocks += before->paddocks[p].block[0] != 0;
        }
        lanes += before->lane_count;
        holes += before->fields[0].rings.ring_count > 1;
        crossed += before->crossing_count;
        fw_farm_free(farm);
    }
    assert_true(kept && blocks && lanes && holes && crossed);
}

/* The map comes in degrees now: the same places, in its figures. */
static void places_are_told_in_the_map_s_system_of_today(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    struct fw_plan *before = plan_of(farm);
    fw_free(farm->fields[0].crs);
    farm->fields[0].crs = fw_strdup("OGC:CRS84");
    struct fw_plan *rest = rest_of(farm, before, moved_of(before, 1));
    const struct fw_plan_field *field = &rest->fields[0];
    assert_string_equal(field->crs, "OGC:CRS84");
    for (size_t i = 0; i < field->vertex_count; i++) {
        const struct fw_vertex *old = &before->fields[0].vertices[i];
        const struct fw_vertex *now = &field->vertices[i];
        assert_near(now->file.x, old->lonlat.lon_deg, 1e-9);
        assert_near(now->file.y, old->lonlat.lat_deg, 1e-9);
        assert_near(now->lonlat.lon_deg, old->lonlat.lon_deg, 0);
        assert_near(now->plane.x_m, old->plane.x_m, 0);
    }
    fw_plan_free(rest);
    fw_farm_free(farm);
}

/* What stands on each side, flock and grass are told anew. */
static void what_is_told_anew_counts(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&leaning, NULL);
    farm->layout = fw_strdup("strips");
    struct fw_plan *before = plan_of(farm);
    const size_t corners = farm->fields[0].shape->corner_count;
    assert_int_equal(corners, before->fields[0].corner_count);
    for (size_t i = 0; i < corners; i++)
        farm->fields[0].sides[i] = (struct fw_farm_side){
            i % 2 ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP, i % 3 ? FW_YES : FW_NO};
    farm->classes[0].head = 40;
    farm->classes[0].weight_kg = 70;
    farm->fields[0].sward.mass_kg_ha = 2600;
    struct fw_plan *rest = rest_of(farm, before, moved_of(before, 2));
    for (size_t i = 0; i < corners; i++) {
        assert_int_equal(rest->fields[0].sides[i].holds,
                         i % 2 ? FW_HOLDS_LAMBS : FW_HOLDS_SHEEP);
        assert_int_equal(rest->fields[0].sides[i].hot, i % 3 ? FW_YES : FW_NO);
    }
    for (size_t p = 3; p < rest->paddock_count; p++) {
        const struct fw_plan_paddock *paddock = &rest->paddocks[p];
        assert_relative(paddock->head_per_ha, 40 / paddock->area_ha, 1e-12);
        assert_relative(paddock->liveweight_kg_ha, 2800 / paddock->area_ha,
                        1e-12);
        /* (2600 - 1500) by 0.8 of it, a hectare of the plane. */
        assert_relative(paddock->usable_kg, paddock->plane_m2 * 0.088, 1e-9);
    }
    const char *said = NULL;
    for (size_t i = 0; i < rest->notes.count; i++)
        if (strncmp(rest->notes.items[i].text, "layout: ", 8) == 0)
            said = rest->notes.items[i].text;
    char wanted[200];
    snprintf(wanted, sizeof wanted,
             "layout: strips is not looked at here: the ground is that of the "
             "plan made before, %s",
             before->fields[0].layout);
    assert_string_equal(said ? said : "", wanted);
    fw_plan_free(rest);
    fw_farm_free(farm);
}

/* From Friday to Monday they have a paddock of three days: for a tenth more
 * sheep it lacks three times as much as the others. */
static void the_stay_that_lacks_most_is_named(void **state)
{
    (void)state;
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->stay.days[5] = farm->stay.days[6] = 0;
    farm->stay_told = true;
    struct fw_plan *before = plan_of(farm);
    farm->classes[0].head = 88;
    struct fw_plan *rest = rest_of(farm, before, moved_of(before, 1));
    size_t count = 0, worst = FW_NONE;
    double worst_days = 0;
    for (size_t i = 0; i < rest->time.stay_count; i++) {
        const struct fw_time_stay *stay = &rest->time.stays[i];
        const double days =
            stay->leave - stay->enter - rest->paddocks[stay->cell].stay_days;
        count += days > 0.05;
        if (days > worst_days + 1e-9) {
            worst_days = days;
            worst = stay->cell;
        }
    }
    assert_true(count > 5 && worst_days > 0.2 && worst > 2);
    char wanted[200];
    snprintf(wanted, sizeof wanted,
             "%zu of its paddocks, as large as the plan made before has them, "
             "feed this flock for less than the stay, %s for %.1f of a day "
             "less: ",
             count, rest->paddocks[worst].id, worst_days);
    size_t told = 0;
    for (size_t i = 0; i < rest->notes.count; i++)
        told += !strncmp(rest->notes.items[i].text, wanted, strlen(wanted));
    assert_int_equal(told, 1);
    assert_near(rest->fields[0].last_share, 1, 0);
    double days = 0;
    for (size_t p = 2; p < rest->paddock_count; p++)
        days += rest->paddocks[p].stay_days;
    assert_near(rest->fields[0].rotation_days, days, 1e-9);
    fw_plan_free(rest);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_that_is_ground_is_the_same),
        cmocka_unit_test(places_are_told_in_the_map_s_system_of_today),
        cmocka_unit_test(what_is_told_anew_counts),
        cmocka_unit_test(the_stay_that_lacks_most_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
