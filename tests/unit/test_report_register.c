/* The register as people read it: every row's figures, units, range, source and
 * use, read back from the page. */
#include "read_back.h"

#include "keys/keys.h"
#include "report/register.h"
#include "report/report.h"

#include <ctype.h>

/* Where reading has come to, and what row it is of. */
struct reader {
    const char *at, *name;
};

static void expect(struct reader *reader, const char *words)
{
    if (strncmp(reader->at, words, strlen(words)) != 0)
        fail_msg("%s: \"%s\" expected at \"%.120s\"", reader->name, words,
                 reader->at);
    reader->at += strlen(words);
}

/* Short numbers to the last digit, others to four of them; those that convert
 * units as they are. */
static void expect_number(struct reader *reader, const struct fw_figure *row,
                          double value)
{
    const double shown = strcmp(row->unit, "share") ? value : 100 * value;
    const double room = strcmp(row->subject, "units") ? 5.1e-4 : 1e-11;
    char *end = NULL;
    const double got = strtod(reader->at, &end);
    if (end == reader->at || !(fabs(got - shown) <= room * fabs(shown)))
        fail_msg("%s: %.12g expected at \"%.60s\"", reader->name, shown,
                 reader->at);
    /* No more digits than there are; a million and more is written out. */
    if (fabs(shown) < 1000 && strcmp(row->subject, "units") != 0)
        assert_true(end - reader->at <= 9);
    reader->at = end;
}

static void expect_unit(struct reader *reader, const struct fw_figure *row,
                        double value)
{
    if (!strcmp(row->unit, "share")) {
        expect(reader, " %");
    } else if (!strcmp(row->unit, "days") && value == 1) {
        expect(reader, " day");
    } else if (row->unit[0]) {
        expect(reader, " ");
        expect(reader, row->unit);
    }
}

static void expect_worth(struct reader *reader, const struct fw_figure *row)
{
    if (row->word) {
        expect(reader, row->word);
        return;
    }
    if (!row->points) {
        expect_number(reader, row, row->value);
        expect_unit(reader, row, row->value);
        return;
    }
    for (int i = 0; i < row->points; i++) {
        expect(reader, i ? ", " : "");
        expect_number(reader, row, row->values[i]);
    }
    expect_unit(reader, row, 0);
    for (int i = 0; row->at_unit && i < row->points; i++) {
        char *end = NULL;
        expect(reader, i ? ", " : " at ");
        assert_near(strtod(reader->at, &end), row->at[i],
                    5.1e-4 * fabs(row->at[i]));
        reader->at = end;
    }
    if (row->at_unit) {
        expect(reader, " ");
        expect(reader, row->at_unit);
    }
}

/* An address stays as it is typed. */
static void expect_source(struct reader *reader, const struct fw_figure *row)
{
    const char *mark = fw_figures_mark(row->mark);
    const bool says_so =
        row->mark == FW_MARK_PRACTICE || strstr(row->source, mark);
    char said[700];
    snprintf(said, sizeof said, " %s%s%s.", says_so ? "" : mark,
             says_so ? "" : ": ", row->source);
    const size_t word = strcspn(said + 1, " ");
    const char *point = memchr(said + 1, '.', word);
    /* Unless it is the full stop of the only word. */
    if (!point)
        said[1] = (char)toupper((unsigned char)said[1]);
    expect(reader, said);
}

static void expect_range(struct reader *reader, const struct fw_figure *row)
{
    expect_number(reader, row, row->least);
    expect(reader, " to ");
    expect_number(reader, row, row->most);
    expect_unit(reader, row, row->most);
}

static const struct fw_farm_key *key_of(const struct fw_figure *row)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++)
        if (!strcmp(keys[i].path, row->name))
            return &keys[i];
    return NULL;
}

static void expect_use(struct reader *reader, const struct fw_figure *row)
{
    const struct fw_farm_key *key = key_of(row);
    const bool range = row->most > row->least;
    if (key && key->option) {
        expect(reader, " A farm file may tell it (");
        expect(reader, key->option);
        expect(reader, ")");
    } else if (key) {
        expect(reader, " A farm file may tell it");
    } else if (range) {
        expect(reader, " In print ");
    }
    if (key && range)
        expect(reader, ": ");
    if (range)
        expect_range(reader, row);
    expect(reader, key || range ? "; used in " : " Used in ");
    expect(reader, row->used);
    expect(reader, ".\n");
}

static void every_row_reads_back(void **state)
{
    (void)state;
    struct fw_report__register all;
    struct fw_error err;
    char *text = NULL, last[40];
    size_t subjects = 0, keyed = 0, ranged = 0, curves = 0, days = 0;
    assert_int_equal(fw_report__register(&all, &err), FW_OK);
    assert_int_equal(fw_report_sources(NULL, 0, &text, &err), FW_OK);
    unfold(text, 4);
    struct reader reader = {text, "the page"};
    for (size_t i = 0; i < all.count; i++) {
        const struct fw_figure *row = &all.rows[i];
        reader.name = row->name;
        if (i == 0 || strcmp(row->subject, all.rows[i - 1].subject) != 0) {
            expect(&reader, subjects++ ? "\nFIGURES: " : "FIGURES: ");
            expect(&reader, row->subject);
            expect(&reader, "\n\n");
        }
        char what[600];
        snprintf(what, sizeof what, " %c%s.", toupper(row->what[0]),
                 row->what + 1);
        expect(&reader, row->name);
        expect(&reader, ": ");
        expect_worth(&reader, row);
        expect(&reader, what);
        expect_source(&reader, row);
        expect_use(&reader, row);
        keyed += key_of(row) != NULL;
        ranged += row->most > row->least;
        curves += row->points > 0;
        days += !strcmp(row->unit, "days");
    }
    snprintf(last, sizeof last, "\n%zu figures.\n", all.count);
    assert_string_equal(reader.at, last);
    assert_true(subjects > 5 && keyed > 5 && ranged > 5 && curves > 5 && days);
    fw_report__register_release(&all);
    fw_bytes_free(text);
}

/* The same for machines. */
static void every_row_is_json(void **state)
{
    (void)state;
    struct fw_report__register all;
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(fw_report__register(&all, &err), FW_OK);
    assert_int_equal(fw_report_sources_json(NULL, 0, &text, &err), FW_OK);
    struct json_object *list = parsed(text), *none;
    assert_int_equal(json_object_array_length(list), all.count);
    for (size_t i = 0; i < all.count; i++) {
        const struct fw_figure *row = &all.rows[i];
        struct json_object *told = at(list, i);
        const struct fw_farm_key *key = key_of(row);
        is_text(told, "name", row->name);
        is_text(told, "subject", row->subject);
        is_text(told, "what", row->what);
        is_text(told, "mark", fw_figures_mark(row->mark));
        is_text(told, "source", row->source);
        is_text(told, "used", row->used);
        is_flag(told, "farm_key", key != NULL);
        const bool option = key && key->option;
        assert_int_equal(json_object_object_get_ex(told, "option", &none),
                         option);
        if (option)
            is_text(told, "option", key->option);
        assert_int_equal(json_object_object_get_ex(told, "unit", &none),
                         !row->word);
        const bool single = !row->word && !row->points;
        assert_int_equal(json_object_object_get_ex(told, "value", &none),
                         single);
        const bool range = single && row->most > row->least;
        assert_int_equal(json_object_object_get_ex(told, "range", &none),
                         range);
        if (range) {
            assert_near(json_object_get_double(at(none, 0)), row->least, 0);
            assert_near(json_object_get_double(at(none, 1)), row->most, 0);
            assert_int_equal(json_object_array_length(none), 2);
        }
        const bool places = !row->word && row->points && row->at_unit;
        assert_int_equal(json_object_object_get_ex(told, "at", &none), places);
        for (int k = 0; places && k < row->points; k++)
            assert_near(json_object_get_double(at(none, (size_t)k)), row->at[k],
                        0);
        if (places)
            is_text(told, "at_unit", row->at_unit);
    }
    json_object_put(list);
    fw_bytes_free(text);
    fw_report__register_release(&all);
}

/* One row is one figure. */
static void one_figure_is_one(void **state)
{
    (void)state;
    const char *const word = "perimeter-fence.post-gap";
    struct fw_error err;
    char *text = NULL;
    assert_int_equal(fw_report_sources(&word, 1, &text, &err), FW_OK);
    has_words(text, "\n1 figure.\n");
    fw_bytes_free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_reads_back),
        cmocka_unit_test(every_row_is_json),
        cmocka_unit_test(one_figure_is_one),
    };
    return cmocka_run_group_tests_name("report_register", tests, NULL, NULL);
}
