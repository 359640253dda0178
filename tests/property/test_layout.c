/* Layouts of real fields: how near the line comes to its bound, and that every
 * paddock is in one piece and reached. Of odd shapes: a true layout or a plain
 * no, in time. Found through FW_TEST_DATA, skipped without it. */
#include "layout_fields.h"
#include "random_farm.h"

enum { paddocks = 30 };

struct figures {
    double ratios[2 * chosen_of_each];
    size_t count;     /* of ratios */
    size_t fields;    /* tried */
    size_t long_thin; /* with a bound that tells nothing */
    size_t none;      /* without a layout */
    size_t untrue;    /* with a candidate that is no true map */
    size_t apart;     /* the best has a paddock that is not reached */
    size_t reached;   /* of these, with another candidate that has none */
    size_t candidates;
    double spent_s;
};

static int by_size(const void *left, const void *right)
{
    const double *a = left, *b = right;
    return *a < *b ? -1 : *a > *b;
}

static void judge_best(const struct fw_field *field,
                       const struct fw_layout_list *list,
                       struct figures *figures)
{
    const struct fw_layout *best = least_line(list);
    const double bound_m = bound_of(field, best);
    if (bound_m < 0.1 * (field->perimeter_m + field->holes_m))
        figures->long_thin++;
    else
        figures->ratios[figures->count++] = best->line_m / bound_m;
    size_t least = best->apart_count;
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].apart_count < least)
            least = list->items[i].apart_count;
    figures->apart += best->apart_count > 0;
    figures->reached += best->apart_count > 0 && least == 0;
}

static void try_field(const struct fw_field *field, const char *map,
                      long long fid, bool bends, struct figures *figures)
{
    const double target = field->area_m2 / paddocks;
    const struct fw_layout_request request = {
        .field = field,
        .target = &target,
        .target_count = 1,
        .last = FW_LAST_EVEN,
        .start = &field->vertices[field->corners[0]].plane,
        .bends = bends};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    char why[300];
    const double before_s = cpu_s();
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    figures->spent_s += cpu_s() - before_s;
    figures->fields++;
    if (status) {
        print_message("# %s %lld: %s\n", map, fid, err.text);
        assert_int_equal(status, FW_EPLAN);
        figures->none++;
        return;
    }
    figures->candidates += list.count;
    if (!all_are_true(&request, &list, why, sizeof why)) {
        print_message("# %s %lld: %s\n", map, fid, why);
        figures->untrue++;
    }
    judge_best(field, &list, figures);
    if (getenv("FW_TELL"))
        print_message("# %s %lld: %s, %.4f of the bound, %zu apart\n", map, fid,
                      least_line(&list)->name,
                      least_line(&list)->line_m /
                          bound_of(field, least_line(&list)),
                      least_line(&list)->apart_count);
    fw_layout_list_release(&list);
}

static double mean(const double *values, size_t count)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return sum / (double)count;
}

static void real_fields_come_near_their_bound(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    struct figures figures[2] = {{.count = 0}, {.count = 0}};
    for (size_t m = 0; m < COUNT(chosen_maps); m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i++)
            for (int bends = 0; bends < 2; bends++)
                try_field(real.fields[i], chosen_maps[m].path, real.fids[i],
                          bends, &figures[bends]);
        release_fields(&real);
    }
    for (int bends = 0; bends < 2; bends++) {
        struct figures *f = &figures[bends];
        qsort(f->ratios, f->count, sizeof *f->ratios, by_size);
        print_message(
            "# %s: fence over bound of %zu fields in %d paddocks: median %.4f, "
            "mean %.4f, 9 in 10 under %.4f, worst %.3f\n",
            bends ? "bent" : "straight", f->count, paddocks,
            f->ratios[f->count / 2], mean(f->ratios, f->count),
            f->ratios[f->count * 9 / 10], f->ratios[f->count - 1]);
        print_message("# %zu fields, %zu long and thin, %zu without a layout, "
                      "%zu not true, %zu with a paddock that is not reached "
                      "(%zu of them have a candidate without), %.1f candidates "
                      "and %.2f ms a field\n",
                      f->fields, f->long_thin, f->none, f->untrue, f->apart,
                      f->reached, (double)f->candidates / (double)f->fields,
                      1e3 * f->spent_s / (double)f->fields);
    }
    for (int bends = 0; bends < 2; bends++) {
        assert_int_equal(figures[bends].fields, 2 * chosen_of_each);
        assert_int_equal(figures[bends].none, 0);
        assert_int_equal(figures[bends].untrue, 0);
        assert_int_equal(figures[bends].apart, 0);
    }
    const struct figures *bent = &figures[1];
    assert_true(bent->count > 200);
    assert_true(bent->ratios[bent->count / 2] <= 1.12);
    assert_true(mean(bent->ratios, bent->count) <= 1.18);
    assert_true(bent->ratios[bent->count * 9 / 10] < 1.25);
}

/* Short last paddocks, and targets that grow by a third or fall: cuts for one
 * order want another one. */
static void unequal_targets_find_their_order(void **state)
{
    (void)state;
    const char *data = getenv("FW_TEST_DATA");
    static const char *const kinds[] = {"a short last one", "growing targets",
                                        "falling targets"};
    size_t none[COUNT(kinds)] = {0}, led_in[COUNT(kinds)] = {0};
    size_t untrue = 0, fields = 0;
    for (size_t m = 0; m < COUNT(chosen_maps); m++) {
        struct real_fields real = read_chosen(data, m);
        for (size_t i = 0; i < real.count; i++, fields++)
            for (size_t kind = 0; kind < COUNT(kinds); kind++) {
                const struct fw_field *field = real.fields[i];
                double targets[paddocks];
                for (size_t k = 0; k < paddocks; k++) {
                    const double grown = (double)k / paddocks / 3;
                    targets[k] = field->area_m2 / (paddocks - 0.6);
                    targets[k] *= kind == 1   ? 5. / 6 + grown
                                  : kind == 2 ? 7. / 6 - grown
                                              : 1;
                }
                const struct fw_layout_request request = {
                    .field = field,
                    .target = targets,
                    .target_count = paddocks,
                    .start = &field->vertices[field->corners[0]].plane};
                struct fw_layout_list list = {0};
                struct fw_error err = {0};
                char why[300];
                const enum fw_status status =
                    fw_layout_candidates(&request, &list, &err);
                if (status && status != FW_EPLAN)
                    fail_msg("%s", err.text);
                if (status)
                    print_message("# %s %lld, %s: %s\n", chosen_maps[m].path,
                                  real.fids[i], kinds[kind], err.text);
                none[kind] += status != FW_OK;
                bool fine = all_are_true(&request, &list, why, sizeof why);
                if (!fine && kind > 0) {
                    /* No order from the gate settles: they are led in. */
                    struct fw_layout_request anywhere = request;
                    anywhere.start = NULL;
                    fine = all_are_true(&anywhere, &list, why, sizeof why);
                    led_in[kind] += fine;
                }
                if (!fine) {
                    print_message("# %s %lld: %s\n", chosen_maps[m].path,
                                  real.fids[i], why);
                    untrue++;
                }
                fw_layout_list_release(&list);
            }
        release_fields(&real);
    }
    for (size_t kind = 0; kind < COUNT(kinds); kind++)
        print_message("# %s: %zu of %zu fields without a layout\n", kinds[kind],
                      none[kind], fields);
    assert_int_equal(untrue, 0);
    assert_int_equal(none[0], 0);
    /* Where the gate lies amid the plots it may be in one paddock when the cuts
     * are made for it to be in another, and the other way about. */
    assert_true(none[1] <= 1 && none[2] <= 1);
    assert_true(led_in[1] <= fields / 40 && led_in[2] <= fields / 40);
}

/* ---- odd shapes ---- */

struct odd {
    size_t tried, none, untrue, late, apart;
    double longest_s;
};

static void try_odd(const struct fw_field *field, const char *map,
                    long long fid, size_t count, double limit_s,
                    struct odd *odd)
{
    const double target = field->area_m2 / (double)count;
    const struct fw_layout_request request = {
        .field = field,
        .target = &target,
        .target_count = 1,
        .last = FW_LAST_EVEN,
        .start = &field->vertices[field->corners[0]].plane};
    struct fw_layout_list list = {0};
    struct fw_error err = {0};
    char why[300];
    const double before_s = cpu_s();
    const enum fw_status status = fw_layout_candidates(&request, &list, &err);
    const double spent_s = cpu_s() - before_s;
    odd->longest_s = fmax(odd->longest_s, spent_s);
    odd->tried++;
    if (spent_s > limit_s) {
        odd->late++;
        print_message("# %s %lld in %zu: %.1f s for %zu vertices\n", map, fid,
                      count, spent_s, field->vertex_count);
    }
    if (status) {
        if (getenv("FW_TELL"))
            print_message("# %s %lld in %zu: %s\n", map, fid, count, err.text);
        assert_int_equal(status, FW_EPLAN);
        assert_true(err.text[0] != '\0');
        odd->none++;
        return;
    }
    if (!all_are_true(&request, &list, why, sizeof why)) {
        print_message("# %s %lld in %zu: %s\n", map, fid, count, why);
        odd->untrue++;
    }
    odd->apart += least_line(&list)->apart_count > 0;
    fw_layout_list_release(&list);
}

static void odd_shapes_get_a_true_layout_or_none(void **state)
{
    (void)state;
    static const size_t counts[] = {3, 10, 40};
    const char *data = getenv("FW_TEST_DATA");
    size_t untrue = 0, late = 0;
    struct real_fields real =
        read_fields(data, "stress/stress_scaled_utm32.gpkg", NULL, 0, HUGE_VAL);
    assert_true(real.count > 400);
    for (size_t k = 0; k < COUNT(counts); k++) {
        struct odd odd = {0};
        for (size_t i = 0; i < real.count; i++)
            try_odd(real.fields[i], "stress", real.fids[i], counts[k],
                    5 * time_factor(), &odd);
        print_message("# odd shapes in %zu paddocks: %zu tried, %zu without a "
                      "layout, %zu not true, %zu too late, %zu with a paddock "
                      "not reached; %.2f s at most\n",
                      counts[k], odd.tried, odd.none, odd.untrue, odd.late,
                      odd.apart, odd.longest_s);
        untrue += odd.untrue;
        late += odd.late;
    }
    release_fields(&real);
    assert_int_equal(untrue, 0);
    assert_int_equal(late, 0);
}

/* Of the random ones ten times as many, for a layout takes milliseconds. */
static void fields_of_our_own_get_a_true_layout(void **state)
{
    (void)state;
    static const size_t counts[] = {2, 5, 12};
    uint64_t seed = seeded(24);
    struct odd odd = {0};
    for (size_t m = 0; m < invented_map_count + 10; m++) {
        struct real_fields own = own_fields(m, &seed);
        for (size_t i = 0; i < own.count; i++)
            for (size_t k = 0; k < COUNT(counts); k++)
                try_odd(own.fields[i], own_map(m), own.fids[i], counts[k],
                        5 * time_factor(), &odd);
        release_fields(&own);
    }
    print_message("# fields of our own: %zu tried, %zu without a layout, %zu "
                  "not true, %zu too late; %.2f s at most\n",
                  odd.tried, odd.none, odd.untrue, odd.late, odd.longest_s);
    assert_int_equal(odd.untrue, 0);
    assert_int_equal(odd.late, 0);
    assert_true(odd.none <= odd.tried / 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_of_our_own_get_a_true_layout),
        data_test(real_fields_come_near_their_bound),
        data_test(unequal_targets_find_their_order),
        data_test(odd_shapes_get_a_true_layout_or_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
