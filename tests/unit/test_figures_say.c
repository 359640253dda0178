/* How quantities are said: read back, a figure never says more room than was
 * measured, nor less than is wanted. */
#include "figures/say.h"
#include "test.h"

#include <string.h>

static const double foot_m = 0.3048; /* NIST SP 811, exact */

static void lengths_beside_a_limit_never_read_like_it(void **state)
{
    (void)state;
    static const struct {
        double m, limit_m;
        enum fw_units units;
        enum fw_toward toward;
        const char *said;
    } rows[] = {
        {3.97, 4, FW_METRIC, FW_DOWN, "3.9 m"},
        {3.999999, 4, FW_METRIC, FW_DOWN, "3.9 m"},
        {14.96, 15, FW_METRIC, FW_DOWN, "14.9 m"},
        {14.4, 15, FW_METRIC, FW_DOWN, "14.4 m"},
        {12.9, 15, FW_METRIC, FW_DOWN, "12 m"},
        {0.8, 4, FW_METRIC, FW_DOWN, "0.8 m"},
        {0, 4, FW_METRIC, FW_DOWN, "0 m"},
        {3.97, 4, FW_US, FW_DOWN, "13 ft"},   /* 13.02 */
        {7.99, 8, FW_US, FW_DOWN, "26.2 ft"}, /* 26.21 */
        {2.5, 8, FW_US, FW_DOWN, "8.2 ft"},   /* 8.202 */
        {100.01, 100, FW_METRIC, FW_UP, "100.1 m"},
        {140.01, 100, FW_METRIC, FW_UP, "141 m"},
        {30.49, 30.48, FW_US, FW_UP, "100.1 ft"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[FW_SAID];
        fw_say_measured(rows[i].m, rows[i].limit_m, rows[i].units,
                        rows[i].toward, text);
        if (strcmp(text, rows[i].said) != 0)
            fail_msg("row %zu: %s; expected %s", i, text, rows[i].said);
    }
}

static void what_is_wanted_is_said_in_whole_feet(void **state)
{
    (void)state;
    static const struct {
        double m;
        enum fw_units units;
        enum fw_toward toward;
        const char *said;
    } rows[] = {
        {4, FW_METRIC, FW_UP, "4 m"},       {2.5, FW_METRIC, FW_UP, "2.5 m"},
        {0.15, FW_METRIC, FW_UP, "0.15 m"}, {4, FW_US, FW_UP, "14 ft"},
        {3, FW_US, FW_UP, "10 ft"},         {3, FW_US, FW_DOWN, "9 ft"},
        {8, FW_US, FW_UP, "27 ft"},         {2.5, FW_US, FW_UP, "9 ft"},
        {3.048, FW_US, FW_UP, "10 ft"},     {3.048, FW_US, FW_DOWN, "10 ft"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[FW_SAID];
        fw_say_wanted(rows[i].m, rows[i].units, rows[i].toward, text);
        if (strcmp(text, rows[i].said) != 0)
            fail_msg("row %zu: %s; expected %s", i, text, rows[i].said);
    }
}

/* Read back, whatever the length: within a unit, and on the cautious side. */
static void said_lengths_read_back_on_the_cautious_side(void **state)
{
    (void)state;
    for (int i = 1; i < 20000; i++) {
        const double m = i * i * 1.37e-6 + i * 0.0031;
        for (int us = 0; us < 2; us++) {
            const enum fw_units units = us ? FW_US : FW_METRIC;
            const double unit_m = us ? foot_m : 1;
            char text[FW_SAID];
            fw_say_measured(m, 15, units, FW_DOWN, text);
            const double down_m = strtod(text, NULL) * unit_m;
            assert_true(down_m <= m + 1e-12 && down_m > m - unit_m);
            fw_say_measured(m, 15, units, FW_UP, text);
            const double up_m = strtod(text, NULL) * unit_m;
            assert_true(up_m >= m - 1e-6 && up_m < m + unit_m);
            fw_say_wanted(m, FW_US, FW_UP, text);
            assert_true(strtod(text, NULL) * foot_m >= m - 1e-6);
            fw_say_wanted(m, FW_US, FW_DOWN, text);
            assert_true(strtod(text, NULL) * foot_m <= m + 1e-6);
        }
    }
}

/* What is too near never reads as far enough. */
static void too_near_never_reads_as_enough(void **state)
{
    (void)state;
    static const double limits_m[] = {1, 2, 2.5, 3, 4, 8, 10, 15, 20, 50};
    for (size_t k = 0; k < sizeof limits_m / sizeof limits_m[0]; k++)
        for (int i = 1; i <= 1000; i++)
            for (int us = 0; us < 2; us++) {
                const double m = limits_m[k] * (1 - i * i / 1e6) - 1e-9;
                char near[FW_SAID], far[FW_SAID];
                const enum fw_units units = us ? FW_US : FW_METRIC;
                fw_say_measured(m, limits_m[k], units, FW_DOWN, near);
                fw_say_wanted(limits_m[k], units, FW_UP, far);
                assert_true(strtod(near, NULL) < strtod(far, NULL));
            }
}

static void quantities_in_words_are_said_in_the_farms_units(void **state)
{
    (void)state;
    static const struct {
        const char *words, *metric, *us;
    } rows[] = {
        {"keep {>4 m} away", "keep 4 m away", "keep 14 ft away"},
        {"no wire over {<3 m} high", "no wire over 3 m high",
         "no wire over 9 ft high"},
        {"{>3, 4 or 8 m} by volts", "3, 4 or 8 m by volts",
         "10, 14 or 27 ft by volts"},
        {"at {20 to 25 cm}.", "at 20 to 25 cm.", "at 8 to 10 in."},
        {"{>2.5 m}; {>15 cm}", "2.5 m; 15 cm", "9 ft; 6 in"},
        {"from {<28 C}", "from 28 C", "from 82 F"},
        {"a ewe of {70 kg}", "a ewe of 70 kg", "a ewe of 154 lb"},
        {"33 kV, {at: PLACE}; {>1 m}", "33 kV, {at: PLACE}; 1 m",
         "33 kV, {at: PLACE}; 4 ft"},
        {"open { brace", "open { brace", "open { brace"},
        {"{9 m} or {>0.5 m}", "9 m or 0.5 m", "30 ft or 2 ft"},
        {"{>4 strands}", "4 strands", "4 strands"}, /* no unit of ours */
        {"", "", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char said[80];
        for (int units = FW_METRIC; units <= FW_US; units++) {
            struct fw_text text = {0};
            fw_text_add(&text, "so: ");
            fw_text_add_said(&text, rows[i].words, (enum fw_units)units);
            assert_string_equal(text.bytes + 4,
                                units == FW_US ? rows[i].us : rows[i].metric);
            fw_text_release(&text);
        }
        assert_string_equal(
            fw_say_words(rows[i].words, FW_METRIC, said, sizeof said),
            rows[i].metric);
        assert_string_equal(
            fw_say_words(rows[i].words, FW_US, said, sizeof said), rows[i].us);
    }
}

static void heights_are_said_in_centimetres_or_inches(void **state)
{
    (void)state;
    char text[FW_SAID];
    assert_string_equal(fw_say_height(0.9, FW_METRIC, FW_UP, text), "90 cm");
    assert_string_equal(fw_say_height(0.901, FW_METRIC, FW_UP, text), "91 cm");
    assert_string_equal(fw_say_height(0.9, FW_US, FW_UP, text), "36 in");
    assert_string_equal(fw_say_height(0.9144, FW_US, FW_UP, text), "36 in");
    assert_string_equal(fw_say_height(0.9, FW_US, FW_DOWN, text), "35 in");
}

/* Units by their definitions: an acre 0.40468564224 ha, a pound 0.45359237 kg,
 * a US gallon 3.785411784 L, a psi 6.894757 kPa. */
static void quantities_have_two_or_three_digits(void **state)
{
    (void)state;
    typedef const char *saying(double value, enum fw_units units,
                               char text[FW_SAID]);
    static const struct {
        saying *say;
        double value;
        const char *metric, *us;
    } rows[] = {
        {fw_say_area, 1, "1 ha", "2.47 acres"},
        {fw_say_area, 8 * 0.40468564224, "3.24 ha", "8 acres"},
        {fw_say_area, 45.06, "45.1 ha", "111 acres"},
        {fw_say_length, 9.94, "9.9 m", "33 ft"},
        {fw_say_length, 9.96, "10 m", "33 ft"},
        {fw_say_length, 123.4, "123 m", "405 ft"},
        {fw_say_length, 0.26, "0.3 m", "1 ft"},
        {fw_say_mass, 3.5 * 0.45359237, "1.59 kg", "3.5 lb"},
        {fw_say_mass, 1234.4, "1234 kg", "2721 lb"},
        {fw_say_volume, 2.6 * 3.785411784, "10 L", "3 gal"},
        {fw_say_volume, 2.6, "3 L", "1 gal"},
        {fw_say_flow, 12.34, "12.3 L/min", "3.26 gal/min"},
        {fw_say_speed, 0.3048, "0.3 m/s", "1 ft/s"},
        {fw_say_pressure, 250, "2.5 bar", "36.3 psi"},
        {fw_say_mass_per_area, 1234, "1230 kg/ha", "1100 lb/acre"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[FW_SAID];
        assert_string_equal(rows[i].say(rows[i].value, FW_METRIC, text),
                            rows[i].metric);
        assert_string_equal(rows[i].say(rows[i].value, FW_US, text),
                            rows[i].us);
    }
}

static void numbers_lose_their_noughts(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *said;
    } rows[] = {
        {0, "0"},        {0.5, "0.5"},    {1.234, "1.23"},   {9.994, "9.99"},
        {9.996, "10"},   {10, "10"},      {10.04, "10"},     {10.06, "10.1"},
        {99.44, "99.4"}, {99.49, "99.5"}, {99.5, "100"},     {99.51, "100"},
        {100.4, "100"},  {-0.5, "-0.5"},  {-12.34, "-12.3"}, {-123.4, "-123"},
        {2000, "2000"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[FW_SAID];
        assert_string_equal(fw_say_number(rows[i].value, text), rows[i].said);
    }
    assert_near(fw_say_round(2.36, 1, FW_DOWN), 2.3, 1e-15);
    assert_near(fw_say_round(2.31, 1, FW_UP), 2.4, 1e-15);
    assert_near(fw_say_round(2.36, 1, FW_NEAREST), 2.4, 1e-15);
    /* A metre from the limit is far enough for whole metres, less is not. */
    char text[FW_SAID];
    assert_string_equal(fw_say_measured(21.25, 20.25, FW_METRIC, FW_DOWN, text),
                        "21 m");
    assert_string_equal(fw_say_measured(21.25, 20.3, FW_METRIC, FW_DOWN, text),
                        "21.2 m");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lengths_beside_a_limit_never_read_like_it),
        cmocka_unit_test(what_is_wanted_is_said_in_whole_feet),
        cmocka_unit_test(said_lengths_read_back_on_the_cautious_side),
        cmocka_unit_test(too_near_never_reads_as_enough),
        cmocka_unit_test(quantities_in_words_are_said_in_the_farms_units),
        cmocka_unit_test(heights_are_said_in_centimetres_or_inches),
        cmocka_unit_test(quantities_have_two_or_three_digits),
        cmocka_unit_test(numbers_lose_their_noughts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
