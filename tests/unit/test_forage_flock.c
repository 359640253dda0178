/* Worked examples that run from the flock to the area, as people print them. */
#include "table.h"

#include "flock/flock.h"
#include "forage/forage.h"

static const double pound_kg = 0.45359237;
static const double acre_ha = 0.40468564224;

struct example {
    double kg, ha; /* the units that it is printed in */
    struct fw_flock_class sheep;
    struct fw_sward sward;
    double days;
};

static struct example read(const struct table *table)
{
    const bool us = strcmp(table->cells[0], "us") == 0;
    struct example of = {.kg = us ? pound_kg : 1, .ha = us ? acre_ha : 1};
    of.sheep = (struct fw_flock_class){
        .name = "sheep",
        .head = (int)table_number(table, 1),
        .weight_kg = table_number(table, 2) * of.kg,
        .intake_share = table_number(table, 3) / 100,
        .intake_kg_day = table_number(table, 4) * of.kg,
    };
    of.days = table_number(table, 5);
    of.sward = (struct fw_sward){
        .mass_kg_ha = table_number(table, 6) * of.kg / of.ha,
        .residual_kg_ha = table_number(table, 7) * of.kg / of.ha,
        .use = table_number(table, 8),
    };
    return of;
}

static double figure(const struct example *of, const char *what)
{
    struct fw_flock_sums flock;
    struct fw_usable usable;
    struct fw_error err;
    if (fw_flock_sum(&of->sheep, 1, &flock, &err) ||
        fw_forage_usable(&of->sward, of->days, &usable, &err))
        fail_msg("%s", err.text);
    const double area_ha = fw_forage_paddock_ha(flock.demand_kg_day, of->days,
                                                usable.usable_kg_ha);
    if (strcmp(what, "area") == 0)
        return area_ha / of->ha;
    if (strcmp(what, "head") == 0)
        return flock.head / (area_ha / of->ha);
    if (strcmp(what, "weight") == 0)
        return flock.liveweight_kg / of->kg / (area_ha / of->ha);
    assert_string_equal(what, "days");
    return fw_forage_days(of->ha, usable.usable_kg_ha, flock.demand_kg_day);
}

static void flock_and_grass_give_the_printed_figures(void **state)
{
    (void)state;
    struct table table;
    table_open(&table, "forage_flock.tsv");
    while (table_next(&table, 13)) {
        const struct example of = read(&table);
        const double got = figure(&of, table.cells[9]);
        const double wanted = table_number(&table, 10);
        if (!(fabs(got - wanted) <= table_number(&table, 11)))
            fail_msg("%s:%d: %g; printed %g", table.name, table.line, got,
                     wanted);
    }
    table_close(&table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flock_and_grass_give_the_printed_figures),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
