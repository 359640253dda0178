/* Paddocks kept back for storms and heat: which, for how long, and the words
 * where that is too little. GEOS says which paddocks touch what the map shows.
 */
#include "plan_help.h"

/* The sentence about it, or NULL; there is one at most. */
static const char *kept_note(const struct fw_plan *plan, const char *events)
{
    const char *found = NULL;
    char words[40];
    snprintf(words, sizeof words, "kept for %s", events);
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, words)) {
            assert_null(found);
            assert_int_equal(plan->notes.items[i].level, FW_LEVEL_WARNING);
            found = plan->notes.items[i].text;
        }
    return found;
}

static double days_of(const struct fw_plan *plan, const char *word)
{
    double days = 0;
    for (size_t i = 0; i < plan->paddock_count; i++)
        if (strcmp(plan->paddocks[i].keep, word) == 0)
            days += plan->paddocks[i].stay_days;
    return days;
}

/* Strips whose fences run north and south, the gate in the west. */
static struct fw_farm *strips(void)
{
    struct fw_farm *farm = farm_of(&rectangle, NULL);
    farm->layout = fw_strdup("strips");
    farm->direction_given = true;
    put_spot(farm->fields[0].shape, &farm->fields[0].gate, 0, 100);
    return farm;
}

/* Ten metres a day from the gate on: trees at the far end touch the last two
 * strips, and so two days are kept, whatever is wanted beyond them. */
static void too_few_days_are_told_with_both_figures(void **state)
{
    (void)state;
    static const double trees[][2] = {{287, 50}, {299, 50}, {299, 60}};
    static const struct {
        double wanted_days;
        const char *says;
    } rows[] = {
        {1, NULL},
        {2, NULL},
        {2.09, NULL},
        {2.2, "kept for storms are 2 of 2.2 days: no other paddock holds or "
              "touches shelter"},
        {5, "kept for storms are 2 of 5 days: no other paddock holds or "
            "touches shelter"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_farm *farm = strips();
        add_feature(farm, FW_ROLE_SHELTER, true, trees, 3);
        farm->keep_days[FW_KEEP_STORM] = rows[i].wanted_days;
        struct fw_plan *plan = plan_of(farm);
        const char *said = kept_note(plan, "storms");
        const double days = days_of(plan, "storm");
        assert_near(days, rows[i].wanted_days > 1 ? 2 : 1, 0.01);
        if (rows[i].says)
            assert_string_equal(said ? said : "", rows[i].says);
        else
            assert_null(said);
        assert_null(kept_note(plan, "heat"));
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* The same for heat and shade, so that neither looks at the other's. */
static void heat_goes_by_shade(void **state)
{
    (void)state;
    static const double far[][2] = {{500, 50}, {520, 50}};
    static const double trees[][2] = {{285, 50}, {299, 50}, {299, 60}};
    struct fw_farm *farm = strips();
    add_feature(farm, FW_ROLE_SHADE, false, far, 2);
    add_feature(farm, FW_ROLE_SHELTER, true, trees, 3);
    farm->keep_days[FW_KEEP_HEAT] = 2;
    struct fw_plan *plan = plan_of(farm);
    assert_string_equal(kept_note(plan, "heat"),
                        "no paddock is kept for heat: no paddock holds or "
                        "touches shade");
    assert_null(kept_note(plan, "storms"));
    assert_near(days_of(plan, "heat") + days_of(plan, "storm"), 0, 0);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Trees right across the middle strips: whoever keeps one of those bars the
 * way to the rest. They are named, all of those that GEOS finds. */
static void those_in_the_way_are_named(void **state)
{
    (void)state;
    static const double ends_m[] = {129.5, 115.5};
    const double reach_m = 5; /* near enough to shelter them: our own rule */
    for (int i = 0; i < 2; i++) {
        const double wood[][2] = {{ends_m[i], 90}, {130.5, 90}};
        struct fw_farm *farm = strips();
        farm->classes[0].head = 160; /* strips of 20 m */
        add_feature(farm, FW_ROLE_SHELTER, false, wood, 2);
        farm->keep_days[FW_KEEP_STORM] = 3;
        struct fw_plan *plan = plan_of(farm);
        GEOSContextHandle_t geos = GEOS_init_r();
        const struct fw_plan_field *field = &plan->fields[0];
        GEOSCoordSequence *ends = GEOSCoordSeq_create_r(geos, 2, 2);
        for (unsigned k = 0; k < 2; k++) {
            const struct fw_point p =
                fw_plane_forward(&field->plane, farm->features[0].points[k]);
            GEOSCoordSeq_setXY_r(geos, ends, k, p.x_m, p.y_m);
        }
        GEOSGeometry *line = GEOSGeom_createLineString_r(geos, ends);
        char names[200] = "";
        size_t count = 0;
        for (size_t p = 0; p < plan->paddock_count; p++) {
            GEOSGeometry *ground =
                polygon_of(geos, field, &plan->paddocks[p].rings, 0);
            double away_m = HUGE_VAL;
            GEOSDistance_r(geos, ground, line, &away_m);
            if (away_m <= reach_m)
                snprintf(names + strlen(names), sizeof names - strlen(names),
                         "%s%s", count++ ? ", " : "", plan->paddocks[p].id);
            GEOSGeom_destroy_r(geos, ground);
        }
        char wanted[400];
        snprintf(wanted, sizeof wanted,
                 "no paddock is kept for storms: %s %s shelter too, but the "
                 "way in or to other paddocks leads across",
                 names, count > 1 ? "have" : "has");
        assert_int_equal(count > 1, i);
        assert_string_equal(kept_note(plan, "storms"), wanted);
        GEOSGeom_destroy_r(geos, line);
        GEOS_finish_r(geos);
        fw_plan_free(plan);
        fw_farm_free(farm);
    }
}

/* Both at once: at the far end are two days, in the middle one is barred. */
static void what_is_kept_and_what_is_barred_are_told_together(void **state)
{
    (void)state;
    static const double trees[][2] = {{287, 50}, {299, 50}, {299, 60}};
    static const double tree[][2] = {{134.5, 90}, {136, 90}};
    struct fw_farm *farm = strips();
    add_feature(farm, FW_ROLE_SHELTER, true, trees, 3);
    add_feature(farm, FW_ROLE_SHELTER, false, tree, 2);
    farm->keep_days[FW_KEEP_STORM] = 4;
    struct fw_plan *plan = plan_of(farm);
    const char *said = kept_note(plan, "storms");
    assert_int_equal(strncmp(said, "kept for storms are 2 of 4 days: A", 34),
                     0);
    assert_non_null(strstr(said,
                           " have shelter too, but the way in or to other "
                           "paddocks leads across"));
    fw_plan_free(plan);
    fw_farm_free(farm);
}

/* Once, however many fields there are; and a second field has its own. */
static void fields_are_told_apart(void **state)
{
    (void)state;
    static const double trees[][2] = {{285, 50}, {299, 50}, {299, 60}};
    struct fw_farm *farm = farm_of(&rectangle, &rectangle);
    farm->keep_days[FW_KEEP_STORM] = 1;
    farm->keep_days[FW_KEEP_HEAT] = 1;
    struct fw_plan *plan = plan_of(farm);
    assert_string_equal(
        kept_note(plan, "storms"),
        "no map shows shelter, so that no paddock is kept for storms (maps: - "
        "{role: shelter, source: ...})");
    assert_string_equal(
        kept_note(plan, "heat"),
        "no map shows shade, so that no paddock is kept for heat (maps: - "
        "{role: shade, source: ...})");
    for (size_t i = 0; i < plan->notes.count; i++)
        if (strstr(plan->notes.items[i].text, "no map shows"))
            assert_string_equal(plan->notes.items[i].where, "keep");
    fw_plan_free(plan);
    farm->keep_days[FW_KEEP_HEAT] = 0;
    add_feature(farm, FW_ROLE_SHELTER, true, trees, 3);
    plan = plan_of(farm);
    const char *said = kept_note(plan, "storms"); /* of the second alone */
    assert_string_equal(said, "no paddock is kept for storms: no paddock holds "
                              "or touches shelter");
    for (size_t i = 0; i < plan->notes.count; i++)
        if (plan->notes.items[i].text == said)
            assert_string_equal(plan->notes.items[i].where, "Second");
    for (size_t i = 0; i < plan->paddock_count; i++)
        if (plan->paddocks[i].field == 1)
            assert_string_equal(plan->paddocks[i].keep, "");
    assert_true(days_of(plan, "storm") >= 0.9);
    fw_plan_free(plan);
    fw_farm_free(farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(too_few_days_are_told_with_both_figures),
        cmocka_unit_test(heat_goes_by_shade),
        cmocka_unit_test(those_in_the_way_are_named),
        cmocka_unit_test(what_is_kept_and_what_is_barred_are_told_together),
        cmocka_unit_test(fields_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
