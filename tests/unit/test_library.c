/* The library as a program outside has it: what its headers promise. */
#include "test.h"

#include <foldwright/foldwright.h>
#include <string.h>

static const struct fw_point ring[] = {{0, 0}, {200, 0}, {200, 100}, {0, 100}};
static const size_t ring_start[] = {0, 4};

static struct fw_field *a_field(void)
{
    struct fw_field *field = NULL;
    struct fw_error err;
    if (fw_field_from_rings(ring, ring_start, 1, "ley", &field, &err))
        fail_msg("%s", err.text);
    return field;
}

static struct fw_layout_list laid_out(const struct fw_field *field,
                                      const double *target, size_t count)
{
    struct fw_layout_list list = {0};
    struct fw_error err;
    const struct fw_layout_request request = {.field = field,
                                              .target = target,
                                              .target_count = count,
                                              .last = FW_LAST_GIVEN};
    if (fw_layout_candidates(&request, &list, &err))
        fail_msg("%s", err.text);
    assert_true(list.count > 0);
    return list;
}

/* In any order of size, and with the least of rests. */
static void paddocks_hold_exactly_the_targets_given(void **state)
{
    (void)state;
    struct fw_field *field = a_field();
    static const double targets[] = {3000, 500, 4000, 1500, 6000};
    for (size_t count = 1; count <= 5; count++) {
        struct fw_layout_list list = laid_out(field, targets, count);
        for (size_t i = 0; i < list.count; i++) {
            const struct fw_layout *layout = &list.items[i];
            assert_int_equal(layout->paddock_count, count + 1);
            double left = 20000;
            for (size_t k = 0; k < count; k++) {
                assert_near(layout->paddock_m2[k], targets[k], 1e-8);
                left -= targets[k];
            }
            assert_near(layout->paddock_m2[count], left, 1e-8);
        }
        fw_layout_list_release(&list);
    }
    static const double all[] = {12000, 7999, 1};
    struct fw_layout_list list = laid_out(field, all, 3);
    assert_int_equal(list.items[0].paddock_count, 3);
    fw_layout_list_release(&list);
    list = laid_out(field, all, 2); /* 1 m2 is over */
    assert_int_equal(list.items[0].paddock_count, 3);
    fw_layout_list_release(&list);

    static const double more[] = {12000, 8001};
    struct fw_error err;
    const struct fw_layout_request request = {.field = field,
                                              .target = more,
                                              .target_count = 2,
                                              .last = FW_LAST_GIVEN};
    assert_int_equal(fw_layout_candidates(&request, &list, &err), FW_EPLAN);
    assert_non_null(strstr(err.text, "has 20000 m2"));
    assert_non_null(strstr(err.text, "20001 m2"));
    fw_field_free(field);
}

/* Area by the shoelace over what fw_layout_point says. */
static void points_of_a_layout_are_told_by_index(void **state)
{
    (void)state;
    struct fw_field *field = a_field();
    const double target = 3000;
    struct fw_layout_list list = laid_out(field, &target, 1);
    const struct fw_layout *layout = &list.items[0];
    const size_t piece = layout->paddock_piece[0];
    const size_t r = layout->piece_ring[piece];
    const size_t from = layout->ring_start[r], to = layout->ring_start[r + 1];
    double twice_m2 = 0;
    for (size_t i = from; i < to; i++) {
        struct fw_point a, b;
        const size_t next = i + 1 < to ? i + 1 : from;
        assert_true(
            fw_layout_point(layout, field, layout->ring_vertices[i], &a));
        assert_true(
            fw_layout_point(layout, field, layout->ring_vertices[next], &b));
        twice_m2 += a.x_m * b.y_m - b.x_m * a.y_m;
    }
    assert_near(twice_m2 / 2, 3000, 1e-8);
    struct fw_point at = {7, 7};
    const size_t count = layout->vertex_count + layout->added_count;
    assert_true(fw_layout_point(layout, field, count - 1, &at));
    at = (struct fw_point){7, 7};
    assert_false(fw_layout_point(layout, field, count, &at));
    assert_false(fw_layout_point(layout, field, FW_NONE, &at));
    assert_false(fw_layout_point(NULL, field, 0, &at));
    assert_false(fw_layout_point(layout, NULL, 0, &at));
    assert_false(fw_layout_point(layout, field, 0, NULL));
    assert_true(at.x_m == 7 && at.y_m == 7);
    fw_layout_list_release(&list);
    fw_field_free(field);
}

static struct fw_plan *a_plan(void)
{
    static const struct fw_lonlat corners[] = {
        {24.100, 58.600}, {24.105, 58.600}, {24.105, 58.602}, {24.100, 58.602}};
    const struct fw_farm_rings rings = {"river ley", corners, ring_start, 1};
    const struct fw_farm_setting told[] = {
        {"start", "2027-05-03", "start"},
        {"flock[0].head", "80", "head"},
        {"flock[0].weight", "65 kg", "weight"},
        {"flock[0].state", "dry", "class"},
        {"forage.mass", "2400 kg/ha", "mass"},
        {"forage.residual", "1400 kg/ha", "residual"},
        {"gate", "corner:1", "gate"},
    };
    const struct fw_farm_request request = {.rings = &rings,
                                            .rings_count = 1,
                                            .settings = told,
                                            .setting_count =
                                                sizeof told / sizeof *told};
    struct fw_error err;
    struct fw_farm *farm = NULL;
    struct fw_plan *plan = NULL;
    if (fw_farm_read(&request, &farm, NULL, NULL, &err) ||
        fw_plan_make(farm, &plan, &err))
        fail_msg("%s", err.text);
    fw_farm_free(farm);
    return plan;
}

/* The paddocks of a plan follow each other day by day, and their rings enclose
 * what they are said to have. */
static void a_plan_tells_its_paddocks_and_fences(void **state)
{
    (void)state;
    struct fw_plan *plan = a_plan();
    const size_t count = fw_plan_paddock_count(plan);
    assert_true(count > 1);
    assert_int_equal(fw_plan_sums(plan)->paddocks, count);
    int day = FW_NO_DAY;
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock = fw_plan_paddock_at(plan, i);
        int enter = 0, leave = 0;
        assert_true(fw_plan_stay_in(plan, i, &enter, &leave));
        assert_true(leave > enter && (day == FW_NO_DAY || enter == day));
        day = leave;
        double twice_m2 = 0;
        const struct fw_plan_rings *rings = &paddock->rings;
        for (size_t k = 0; k < rings->ring_start[1]; k++) {
            const size_t next = k + 1 < rings->ring_start[1] ? k + 1 : 0;
            const struct fw_point a =
                fw_plan_vertex_at(plan, paddock->field, rings->vertices[k])
                    ->plane;
            const struct fw_point b =
                fw_plan_vertex_at(plan, paddock->field, rings->vertices[next])
                    ->plane;
            twice_m2 += a.x_m * b.y_m - b.x_m * a.y_m;
        }
        assert_near(twice_m2 / 2, paddock->plane_m2, 1e-6);
    }
    assert_true(fw_plan_fence_count(plan) > 0);
    assert_non_null(fw_plan_fence_at(plan, 0));

    int enter = 7, leave = 7;
    assert_null(fw_plan_paddock_at(plan, count));
    assert_null(fw_plan_fence_at(plan, fw_plan_fence_count(plan)));
    assert_null(fw_plan_vertex_at(plan, 1, 0));
    assert_null(fw_plan_vertex_at(plan, 0, FW_NONE));
    assert_false(fw_plan_stay_in(plan, count, &enter, &leave));
    assert_true(enter == 7 && leave == 7);
    fw_plan_free(plan);
}

struct heard {
    const char *doing[8];
    double share[8]; /* the last of each */
    size_t count, told;
};

/* Never back, and never beyond the end. */
static void hear(const char *doing, double share, void *data)
{
    struct heard *heard = data;
    const size_t last = heard->count - 1;
    heard->told++;
    if (heard->count == 0 || strcmp(heard->doing[last], doing) != 0) {
        assert_true(heard->count < 8);
        assert_near(share, 0, 0);
        heard->doing[heard->count++] = doing;
    } else {
        assert_true(share >= heard->share[last] && share <= 1 + 1e-12);
    }
    heard->share[heard->count - 1] = share;
}

static void a_plan_tells_how_far_it_has_come(void **state)
{
    (void)state;
    struct heard heard = {.count = 0};
    fw_progress_hear(hear, &heard);
    fw_plan_free(a_plan());
    fw_progress_hear(NULL, NULL);
    const size_t told = heard.told;
    fw_plan_free(a_plan());
    assert_int_equal(heard.told, told);
    assert_int_equal(heard.count, 3);
    assert_near(heard.share[0], 1, 1e-12);
    assert_near(heard.share[1], 1, 1e-12);
    /* More than begun and done of the one field: its layouts are told. */
    assert_true(told > 10);
}

#define REFUSED(call)                                                          \
    do {                                                                       \
        struct fw_error err = {FW_OK, ""};                                     \
        assert_int_equal(call, FW_EUSAGE);                                     \
        if (!strstr(err.text, " is NULL; the call needs it"))                  \
            fail_msg("%s: \"%s\"", #call, err.text);                           \
    } while (0)

static void what_is_left_out_is_answered(void **state)
{
    (void)state;
    struct fw_field *field = a_field();
    struct fw_plan *plan = a_plan();
    struct fw_circuit net = {.node_count = 2};
    struct fw_circuit_answer answer = {0};
    struct fw_circuit_volts volts;
    const struct fw_circuit_station place = {0, 0};
    struct fw_layout_list list;
    struct fw_quantities *quantities = NULL;
    struct fw_point at;
    double value;
    char *text;
    size_t count;
    int day;
    REFUSED(
        fw_circuit_add_section(NULL, &(struct fw_circuit_section){0}, &err));
    REFUSED(fw_circuit_add_section(&net, NULL, &err));
    REFUSED(fw_circuit_add_shunt(NULL, 0, 1, &err));
    REFUSED(fw_circuit_add_pair(NULL, &(struct fw_circuit_pair){0}, &err));
    REFUSED(fw_circuit_add_pair(&net, NULL, &err));
    REFUSED(fw_circuit_set_source(NULL, &(struct fw_circuit_source){0}, &err));
    REFUSED(fw_circuit_set_source(&net, NULL, &err));
    REFUSED(fw_circuit_copy(NULL, &net, &err));
    REFUSED(fw_circuit_copy(&net, NULL, &err));
    REFUSED(fw_circuit_solve(NULL, &answer, &err));
    REFUSED(fw_circuit_solve(&net, NULL, &err));
    REFUSED(fw_circuit_at(NULL, &answer, place, &volts, &err));
    REFUSED(fw_circuit_at(&net, NULL, place, &volts, &err));
    REFUSED(fw_circuit_at(&net, &answer, place, NULL, &err));
    REFUSED(fw_circuit_across(NULL, &answer, 0, 0, &volts, &err));
    REFUSED(fw_circuit_across(&net, NULL, 0, 0, &volts, &err));
    REFUSED(fw_circuit_across(&net, &answer, 0, 0, NULL, &err));
    REFUSED(fw_date_read(NULL, &day, &err));
    REFUSED(fw_date_read("2027-05-03", NULL, &err));
    REFUSED(fw_field_from_rings(NULL, ring_start, 1, "ley", &field, &err));
    REFUSED(fw_field_from_rings(ring, NULL, 1, "ley", &field, &err));
    REFUSED(fw_field_from_rings(ring, ring_start, 1, "ley", NULL, &err));
    REFUSED(fw_field_place(NULL, 0, 0, &at, &err));
    REFUSED(fw_field_place(field, 0, 0, NULL, &err));
    REFUSED(fw_layout_candidates(NULL, &list, &err));
    REFUSED(fw_layout_candidates(
        &(struct fw_layout_request){.field = field, .target_count = 1}, &list,
        &err));
    REFUSED(fw_quantities_new(NULL, &err));
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    REFUSED(fw_quantity_read(NULL, "1 m", FW_KIND_LENGTH, FW_METRIC, 0, &value,
                             &err));
    REFUSED(fw_quantity_read(quantities, NULL, FW_KIND_LENGTH, FW_METRIC, 0,
                             &value, &err));
    REFUSED(fw_quantity_read(quantities, "1 m", FW_KIND_LENGTH, FW_METRIC, 0,
                             NULL, &err));
    REFUSED(fw_farm_read(NULL, &(struct fw_farm *){NULL}, NULL, NULL, &err));
    REFUSED(fw_farm_read(&(struct fw_farm_request){0}, NULL, NULL, NULL, &err));
    REFUSED(fw_plan_make(NULL, &plan, &err));
    REFUSED(fw_plan_json_read(NULL, &plan, NULL, &err));
    REFUSED(fw_plan_json_read("out", NULL, NULL, &err));
    REFUSED(fw_report_text(NULL, 0, &text, &err));
    REFUSED(fw_report_text(plan, 0, NULL, &err));
    REFUSED(fw_report_move(NULL, 0, 0, &text, &err));
    REFUSED(fw_report_move(plan, 0, 0, NULL, &err));
    REFUSED(fw_report_cautions(plan, NULL, &err));
    REFUSED(fw_report_geojson(NULL, &text, &count, &err));
    REFUSED(fw_report_gpx(NULL, 0, &text, &count, &err));
    REFUSED(fw_report_moves_csv(NULL, &text, &count, &err));
    REFUSED(fw_report_materials_csv(plan, &text, NULL, &err));
    REFUSED(fw_report_folder(plan, NULL, &(struct fw_report_out){0}, &err));
    REFUSED(fw_report_folder(plan, "out", NULL, &err));

    fw_bytes_free(NULL);
    fw_notes_release(NULL);
    fw_circuit_release(NULL);
    fw_circuit_answer_release(NULL);
    fw_farm_free(NULL);
    fw_field_free(NULL);
    fw_layout_release(NULL);
    fw_layout_list_release(NULL);
    fw_plan_free(NULL);
    fw_quantities_free(NULL);
    assert_near(fw_field_side_m(NULL, 0), 0, 0);
    assert_near(fw_field_side_m(field, 99), 0, 0);
    assert_false(fw_field_contains(NULL, (struct fw_point){0, 0}, 1));
    assert_near(fw_layout_bound_m(NULL, 1, 1, 4, 0), 0, 0);
    assert_null(fw_figures_find(NULL));
    assert_null(fw_text_nearest(NULL, NULL, 0));
    assert_int_equal(fw_plan_paddock_count(NULL), 0);
    assert_int_equal(fw_plan_fence_count(NULL), 0);
    assert_null(fw_plan_paddock_at(NULL, 0));
    assert_null(fw_plan_fence_at(NULL, 0));
    assert_null(fw_plan_vertex_at(NULL, 0, 0));
    assert_null(fw_plan_sums(NULL));
    assert_false(fw_plan_stay_in(NULL, 0, &day, &day));

    fw_quantities_free(quantities);
    fw_circuit_release(&net);
    fw_plan_free(plan);
    fw_field_free(field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paddocks_hold_exactly_the_targets_given),
        cmocka_unit_test(points_of_a_layout_are_told_by_index),
        cmocka_unit_test(a_plan_tells_its_paddocks_and_fences),
        cmocka_unit_test(a_plan_tells_how_far_it_has_come),
        cmocka_unit_test(what_is_left_out_is_answered),
    };
    return cmocka_run_group_tests_name("library", tests, NULL, NULL);
}
