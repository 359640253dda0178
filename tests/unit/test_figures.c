#include "table.h"

#include <foldwright/figures.h>
#include <foldwright/quantity.h>

static const struct fw_figure *figure(const char *name)
{
    const struct fw_figure *found = fw_figures_find(name);
    if (!found)
        fail_msg("no figure is called %s", name);
    return found;
}

static void every_row_is_whole(void **state)
{
    (void)state;
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    assert_true(count > 0);
    for (size_t i = 0; i < count; i++) {
        const struct fw_figure *row = &rows[i];
        assert_true(row->name[0] && row->what[0] && row->source[0]);
        assert_true(row->subject[0] && row->used[0]);
        assert_non_null(row->unit);
        assert_non_null(fw_figures_mark(row->mark));
        if (fw_figures_find(row->name) != row)
            fail_msg("two rows are called %s", row->name);
    }
    assert_null(fw_figures_find("no-such-figure"));
    assert_null(fw_figures_find(""));
    assert_null(fw_figures_mark(FW_MARK_COUNT));
}

/* One of a kind: a choice, a number within its range, a curve whose places
 * rise, or sizes that do. */
static void a_row_is_a_word_a_number_or_a_list(void **state)
{
    (void)state;
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    for (size_t i = 0; i < count; i++) {
        const struct fw_figure *row = &rows[i];
        if (row->word) {
            assert_true(row->word[0] && row->points == 0);
        } else if (row->points > 0) {
            assert_true(row->points <= FW_FIGURE_POINTS);
            const double *rising = row->at_unit ? row->at : row->values;
            for (int k = 0; k < row->points; k++)
                assert_true(isfinite(row->values[k]));
            for (int k = 1; k < row->points; k++)
                if (!(rising[k] > rising[k - 1]))
                    fail_msg("%s: place %d does not rise", row->name, k);
        } else if (!(row->least <= row->value && row->value <= row->most)) {
            fail_msg("%s is %g; its range %g to %g", row->name, row->value,
                     row->least, row->most);
        }
        if (strcmp(row->unit, "share") == 0 && !row->points)
            assert_true(row->value >= 0 && row->value <= 1);
    }
}

/* What has no source says so, and what is from memory too. */
static void mark_and_source_agree(void **state)
{
    (void)state;
    size_t count;
    const struct fw_figure *rows = fw_figures(&count);
    for (size_t i = 0; i < count; i++) {
        const char *source = rows[i].source;
        const bool practice = strstr(source, "no source") != NULL;
        const bool memory = strstr(source, "from memory") != NULL;
        if ((rows[i].mark == FW_MARK_PRACTICE) != practice)
            fail_msg("%s: %s, but \"%s\"", rows[i].name,
                     fw_figures_mark(rows[i].mark), source);
        if (memory && rows[i].mark != FW_MARK_MEMORY)
            fail_msg("%s: %s, but \"%s\"", rows[i].name,
                     fw_figures_mark(rows[i].mark), source);
    }
}

static enum fw_kind kind_of(const char *unit, const struct table *table)
{
    static const struct {
        const char *unit;
        enum fw_kind kind;
    } kinds[] = {
        {"m", FW_KIND_LENGTH},
        {"kg", FW_KIND_MASS},
        {"ha", FW_KIND_AREA},
        {"L", FW_KIND_VOLUME},
        {"share", FW_KIND_SHARE},
        {"V", FW_KIND_VOLTAGE},
        {"ohm/m", FW_KIND_WIRE_RESISTANCE},
        {"J", FW_KIND_ENERGY},
        {"ohm m", FW_KIND_SOIL_RESISTIVITY},
        {"ohm km", FW_KIND_LEAKAGE},
        {"C", FW_KIND_TEMPERATURE},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kinds[i].unit, unit) == 0)
            return kinds[i].kind;
    fail_msg("%s:%d: no kind of quantity is in %s", table->name, table->line,
             unit);
    return FW_KIND_COUNT_OF_KINDS;
}

/* Figures as print has them, turned into SI by UDUNITS. */
static void figures_are_what_print_has(void **state)
{
    (void)state;
    struct fw_quantities *quantities = NULL;
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    struct table table;
    table_open(&table, "figures.tsv");
    while (table_next(&table, 4)) {
        const struct fw_figure *row = figure(table.cells[0]);
        double printed;
        struct fw_error err = {0};
        if (fw_quantity_read(quantities, table.cells[1],
                             kind_of(row->unit, &table), FW_US, 1, &printed,
                             &err))
            fail_msg("%s:%d: %s", table.name, table.line, err.text);
        if (!(fabs(row->value - printed) <=
              table_number(&table, 2) * fabs(printed)))
            fail_msg("%s is %.12g %s; print has %s = %.12g", row->name,
                     row->value, row->unit, table.cells[1], printed);
    }
    table_close(&table);
    fw_quantities_free(quantities);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_is_whole),
        cmocka_unit_test(a_row_is_a_word_a_number_or_a_list),
        cmocka_unit_test(mark_and_source_agree),
        cmocka_unit_test(figures_are_what_print_has),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
