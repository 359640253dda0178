#include "comma_locale.h"
#include "table.h"
#include <foldwright/quantity.h>
#include <pthread.h>
#include <udunits2.h>

#include "units/quantity.h"

static enum fw_kind kind_named(const char *name, const struct table *table)
{
    static const char *const names[] = {
        [FW_KIND_MASS] = "mass",
        [FW_KIND_LENGTH] = "length",
        [FW_KIND_AREA] = "area",
        [FW_KIND_VOLUME] = "volume",
        [FW_KIND_DURATION] = "duration",
        [FW_KIND_SHARE] = "share",
        [FW_KIND_MASS_PER_AREA] = "mass/area",
        [FW_KIND_SWARD_DENSITY] = "density",
        [FW_KIND_MASS_PER_DAY] = "mass/day",
        [FW_KIND_GROWTH] = "growth",
        [FW_KIND_VOLTAGE] = "voltage",
        [FW_KIND_ENERGY] = "energy",
        [FW_KIND_RESISTANCE] = "resistance",
        [FW_KIND_SOIL_RESISTIVITY] = "resistivity",
        [FW_KIND_ANGLE] = "angle",
        [FW_KIND_COUNT] = "count",
        [FW_KIND_FLOW] = "flow",
        [FW_KIND_PRESSURE] = "pressure",
        [FW_KIND_WIRE_RESISTANCE] = "wire",
        [FW_KIND_LEAKAGE] = "leakage",
        [FW_KIND_TEMPERATURE] = "temperature",
    };
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(name, names[i]) == 0)
            return (enum fw_kind)i;
    fail_msg("%s:%d: \"%s\" is not a kind", table->name, table->line, name);
    return FW_KIND_MASS;
}

static struct fw_quantities *new_quantities(void)
{
    struct fw_quantities *quantities = NULL;
    assert_int_equal(fw_quantities_new(&quantities, NULL), FW_OK);
    assert_non_null(quantities);
    return quantities;
}

/* Every spelling that a message names in quotes after "try" must read. */
static void check_hints(struct fw_quantities *quantities, const char *message,
                        enum fw_kind kind, enum fw_units units, int given)
{
    const char *start = strstr(message, "; try \"");
    assert_non_null(start);
    for (const char *next; (next = strstr(start + 1, "; try \"")) != NULL;)
        start = next;
    for (start = strchr(start, '"'); start; start = strchr(start, '"')) {
        const char *end = strchr(++start, '"');
        assert_non_null(end);
        char spelling[256];
        snprintf(spelling, sizeof spelling, "%.*s", (int)(end - start), start);
        double value;
        struct fw_error err = {0};
        if (fw_quantity_read(quantities, spelling, kind, units, given, &value,
                             &err))
            fail_msg("the hint of [%s] is refused: %s", message, err.text);
        start = end + 1;
    }
}

static void check_row(struct fw_quantities *quantities,
                      const struct table *table)
{
    const char *text = table->cells[0];
    const enum fw_kind kind = kind_named(table->cells[1], table);
    const int given = strcmp(table->cells[2], "-") != 0;
    const enum fw_units units =
        strcmp(table->cells[2], "us") == 0 ? FW_US : FW_METRIC;
    const double untouched = -12345;
    double value = untouched;
    struct fw_error err = {0};
    const enum fw_status status =
        fw_quantity_read(quantities, text, kind, units, given, &value, &err);

    if (strcmp(table->cells[3], "refused") != 0) {
        const double wanted = table_number(table, 3);
        if (status)
            fail_msg("%s:%d: %s", table->name, table->line, err.text);
        if (!(fabs(value - wanted) <= 1e-13 * fabs(wanted)))
            fail_msg("%s:%d: \"%s\" is %.17g; expected %.17g", table->name,
                     table->line, text, value, wanted);
        return;
    }
    if (status != FW_EINPUT || err.status != FW_EINPUT)
        fail_msg("%s:%d: \"%s\" is read as %.17g", table->name, table->line,
                 text, value);
    if (!strstr(err.text, table->cells[4]) ||
        !strstr(err.text, fw_kind_name(kind)))
        fail_msg("%s:%d: says [%s]; expected [%s] in it", table->name,
                 table->line, err.text, table->cells[4]);
    assert_true(value == untouched);
    check_hints(quantities, err.text, kind, units, given);
}

static void spellings_read_or_are_refused_as_the_table_says(void **state)
{
    (void)state;
    struct fw_quantities *quantities = new_quantities();
    struct table table;
    table_open(&table, "quantities.tsv");
    while (table_next(&table, 5))
        check_row(quantities, &table);
    assert_true(table.rows >= 120);
    table_close(&table);
    fw_quantities_free(quantities);
}

static void the_message_is_the_one_promised(void **state)
{
    (void)state;
    struct fw_quantities *quantities = new_quantities();
    double value = 1;
    struct fw_error err = {0};
    assert_int_equal(fw_quantity_read(quantities, "62 kgz", FW_KIND_MASS,
                                      FW_METRIC, 0, &value, &err),
                     FW_EINPUT);
    assert_string_equal(err.text, "\"62 kgz\" is not a mass; try \"62 kg\"");
    assert_int_equal(fw_quantity_read(quantities, "62 kgz", FW_KIND_MASS,
                                      FW_METRIC, 0, &value, NULL),
                     FW_EINPUT);
    assert_true(value == 1);
    fw_quantities_free(quantities);
    fw_quantities_free(NULL);
}

static uint64_t next_random(uint64_t *state)
{
    *state =
        *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return *state >> 11;
}

static uint64_t seed(void)
{
    const char *given = getenv("FW_SEED");
    const uint64_t seed = given ? strtoull(given, NULL, 0) : 20260504;
    print_message("# FW_SEED=%llu\n", (unsigned long long)seed);
    return seed;
}

/* Every digit that is written counts: no rounding on the way. */
static void numbers_in_the_unit_inside_keep_every_bit(void **state)
{
    (void)state;
    struct fw_quantities *quantities = new_quantities();
    uint64_t random = seed();
    for (int i = 0; i < 2000; i++) {
        const double wanted = (double)next_random(&random) /
                              9007199254740993.0 *
                              pow(10, (double)(next_random(&random) % 30) - 15);
        char text[64];
        snprintf(text, sizeof text, "%.17g kg", wanted);
        double got = -1;
        assert_int_equal(fw_quantity_read(quantities, text, FW_KIND_MASS,
                                          FW_METRIC, 0, &got, NULL),
                         FW_OK);
        assert_true(got == wanted);
    }
    fw_quantities_free(quantities);
}

/* Bits of spellings in any order: read as a finite number of 0 or more, or
 * refused in one line with hints that read. */
static void shuffled_spellings_never_get_a_bad_hint(void **state)
{
    (void)state;
    static const char *const bits[] = {
        "1",     "2",   "500",      ",",
        ".",     "-",   "/",        " ",
        " ",     "kg",  "lb",       "in",
        "ac",    "ton", "%",        "e",
        "E9",    "'",   "\"",       "(",
        ")",     "^2",  "per",      "\xC2\xBD",
        "DM",    "day", "\xC2\xB2", "\xE2\x80\x93",
        "\xFF",  "\n",  "nan",      "0x",
        "to",    "gal", "m",        "ohm",
        "since", "*",   "@",        "999999999999999999999"};
    struct fw_quantities *quantities = new_quantities();
    uint64_t random = seed();
    for (int i = 0; i < 4000; i++) {
        char text[512] = "";
        for (size_t n = next_random(&random) % 9; n > 0; n--)
            strcat(text,
                   bits[next_random(&random) % (sizeof bits / sizeof *bits)]);
        const enum fw_kind kind =
            (enum fw_kind)(next_random(&random) % FW_KIND_COUNT_OF_KINDS);
        const enum fw_units units = (enum fw_units)(next_random(&random) % 2);
        const int given = (int)(next_random(&random) % 2);
        double value = -1;
        struct fw_error err = {0};
        if (fw_quantity_read(quantities, text, kind, units, given, &value,
                             &err)) {
            assert_null(strchr(err.text, '\n'));
            check_hints(quantities, err.text, kind, units, given);
        } else
            assert_true(isfinite(value) &&
                        (value >= 0 || kind == FW_KIND_ANGLE));
    }
    fw_quantities_free(quantities);
}

static void a_very_long_text_is_refused_in_short(void **state)
{
    (void)state;
    struct fw_quantities *quantities = new_quantities();
    static char text[100000];
    const char *const fillers[] = {"1", "k", " ", "kg ", "(", "\xC2\xBD", "m."};
    for (size_t i = 0; i < sizeof fillers / sizeof *fillers; i++) {
        const size_t bytes = strlen(fillers[i]);
        memcpy(text, "5 ", 3);
        for (size_t n = 2; n + bytes < sizeof text; n += bytes)
            memcpy(text + n, fillers[i], bytes + 1);
        double value;
        struct fw_error err = {0};
        const enum fw_status status = fw_quantity_read(
            quantities, text, FW_KIND_MASS, FW_METRIC, 0, &value, &err);
        assert_int_equal(status, FW_EINPUT);
        assert_true(strlen(err.text) < 300);
    }
    fw_quantities_free(quantities);
}

/* What is read without UDUNITS means what UDUNITS makes of it: products of up
 * to three units with exponents, each against each. */
static void own_units_mean_the_same_to_udunits(void **state)
{
    (void)state;
    static const char *const names[] = {
        "kg",      "g",    "t",   "lb",   "short_ton",    "long_ton",    "m",
        "mm",      "cm",   "km",  "inch", "foot",         "yard",        "mile",
        "hectare", "L",    "mL",  "s",    "min",          "hour",        "h",
        "day",     "week", "A",   "W",    "kW",           "J",           "kJ",
        "V",       "kV",   "ohm", "kohm", "(231 inch^3)", "(0.0625 lb)", "(1)"};
    static const char *const joins[] = {".", "/", " "};
    static const char *const powers[] = {"", "", "^2", "^3", "^-1", "^-2"};
    enum { count = sizeof names / sizeof *names, tries = 20000 };
    unsigned seed = 20261126;
    size_t alike = 0;
    ut_error_message_handler before = ut_set_error_message_handler(ut_ignore);
    ut_system *system = ut_read_xml(NULL);
    assert_non_null(system);
    for (int i = 0; i < tries; i++) {
        char unit[2][200];
        for (int u = 0; u < 2; u++) {
            const char *part[7];
            for (int k = 0; k < 7; k++) {
                seed = seed * 1103515245U + 12345U;
                const unsigned draw = seed >> 12;
                part[k] = k == 0 || k == 3 || k == 5 ? names[draw % count]
                          : k == 2 || k == 4         ? joins[draw % 3]
                                                     : powers[draw % 6];
            }
            /* One to three units. */
            snprintf(unit[u], sizeof unit[u], "(%s%s)%s%s%s%s", part[0],
                     part[1], i % 3 ? part[2] : "", i % 3 ? part[3] : "",
                     i % 3 == 2 ? part[4] : "", i % 3 == 2 ? part[5] : "");
        }
        double factor = 0;
        bool same = false;
        assert_true(fw_unit__usual(unit[0], unit[1], &factor, &same));
        ut_unit *from = ut_parse(system, unit[0], UT_UTF8);
        ut_unit *to = ut_parse(system, unit[1], UT_UTF8);
        if (!from || !to)
            fail_msg("%s or %s is nothing to UDUNITS", unit[0], unit[1]);
        cv_converter *way =
            ut_are_convertible(from, to) ? ut_get_converter(from, to) : NULL;
        /* To UDUNITS a second and a hertz can be converted too. */
        if (same) {
            assert_non_null(way);
            const double one = cv_convert_double(way, 1);
            if (!(fabs(factor - one) <= 1e-14 * one))
                fail_msg("%s in %s is %.17g, not %.17g", unit[0], unit[1], one,
                         factor);
            alike++;
        }
        cv_free(way);
        ut_free(from);
        ut_free(to);
    }
    ut_free_system(system);
    ut_set_error_message_handler(before);
    print_message("# %zu of %d pairs of one kind\n", alike, tries);
    assert_true(alike > tries / 100);
}

/* A share of a kind is none of another. */
static void own_units_of_another_kind_are_refused(void **state)
{
    (void)state;
    static const char *const odd[] = {"",    "kg..m", "kg^4",   "(kg",
                                      "kg)", "kg/",   "parsec", "kgm",
                                      "^2",  "2e",    "kg^-",   "kg^-4"};
    double factor;
    bool same = true;
    assert_true(fw_unit__usual("kg/hectare", "kg/m", &factor, &same));
    assert_false(same);
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++)
        if (fw_unit__usual(odd[i], "kg", &factor, &same))
            fail_msg("\"%s\" is read", odd[i]);
}

static int loud(const char *format, va_list args)
{
    (void)format;
    (void)args;
    return 0;
}

/* The handler of UDUNITS' messages is the host program's. */
static void the_host_keeps_its_message_handler(void **state)
{
    (void)state;
    struct fw_quantities *quantities = new_quantities();
    ut_error_message_handler before = ut_set_error_message_handler(loud);
    double value;
    fw_quantity_read(quantities, "5 nonsense", FW_KIND_MASS, FW_METRIC, 0,
                     &value, NULL);
    assert_true(ut_set_error_message_handler(before) == loud);
    fw_quantities_free(quantities);
}

static void *read_often(void *result)
{
    struct fw_quantities *quantities = NULL;
    int *wrong = result;
    *wrong = fw_quantities_new(&quantities, NULL) != FW_OK;
    for (int i = 0; !*wrong && i < 300; i++) {
        double value = 0;
        *wrong = fw_quantity_read(quantities, "2 hectogram/acre",
                                  FW_KIND_MASS_PER_AREA, FW_METRIC, 0, &value,
                                  NULL) ||
                 fabs(value - 0.2 / 0.40468564224) > 1e-12;
    }
    fw_quantities_free(quantities);
    return NULL;
}

static void threads_with_their_own_readers_do_not_meet(void **state)
{
    (void)state;
    pthread_t threads[4];
    int wrong[4];
    for (int i = 0; i < 4; i++)
        assert_int_equal(
            pthread_create(&threads[i], NULL, read_often, &wrong[i]), 0);
    for (int i = 0; i < 4; i++) {
        pthread_join(threads[i], NULL);
        assert_int_equal(wrong[i], 0);
    }
}

static void a_comma_locale_reads_the_same(void **state)
{
    (void)state;
    assert_non_null(setlocale(LC_ALL, COMMA_LOCALE));
    struct fw_quantities *quantities = new_quantities();
    double value = 0;
    const enum fw_status status = fw_quantity_read(
        quantities, "1.5 lb", FW_KIND_MASS, FW_METRIC, 0, &value, NULL);
    fw_quantities_free(quantities);
    setlocale(LC_ALL, "C");
    assert_int_equal(status, FW_OK);
    assert_near(value, 1.5 * 0.45359237, 1e-15);
}

/* Without its database no rare unit can be read, and the message says what to
 * do; what needs none still works. */
static void a_missing_database_is_told(void **state)
{
    (void)state;
    setenv("UDUNITS2_XML_PATH", "/nowhere/units.xml", 1);
    struct fw_quantities *quantities = new_quantities();
    double value = -1;
    struct fw_error err = {0};
    assert_int_equal(fw_quantity_read(quantities, "620 hectogram", FW_KIND_MASS,
                                      FW_METRIC, 0, &value, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "/nowhere/units.xml"));
    assert_true(value == -1);
    assert_int_equal(fw_quantity_read(quantities, "75 %", FW_KIND_SHARE,
                                      FW_METRIC, 0, &value, &err),
                     FW_OK);
    assert_int_equal(fw_quantity_read(quantities, "62 kg", FW_KIND_MASS,
                                      FW_METRIC, 0, &value, &err),
                     FW_OK);
    unsetenv("UDUNITS2_XML_PATH");
    assert_int_equal(fw_quantity_read(quantities, "620 hectogram", FW_KIND_MASS,
                                      FW_METRIC, 0, &value, &err),
                     FW_OK);
    assert_near(value, 62, 1e-12);
    fw_quantities_free(quantities);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spellings_read_or_are_refused_as_the_table_says),
        cmocka_unit_test(the_message_is_the_one_promised),
        cmocka_unit_test(numbers_in_the_unit_inside_keep_every_bit),
        cmocka_unit_test(shuffled_spellings_never_get_a_bad_hint),
        cmocka_unit_test(a_very_long_text_is_refused_in_short),
        cmocka_unit_test(own_units_mean_the_same_to_udunits),
        cmocka_unit_test(own_units_of_another_kind_are_refused),
        cmocka_unit_test(the_host_keeps_its_message_handler),
        cmocka_unit_test(threads_with_their_own_readers_do_not_meet),
        locale_test(a_comma_locale_reads_the_same),
        cmocka_unit_test(a_missing_database_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
