/* What every unit test includes: cmocka with its headers in the order that it
 * wants, and comparison in double. */
#ifndef FW_TEST_H
#define FW_TEST_H

/* clang-format off */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>
/* clang-format on */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* cmocka's own compares as float. NaN is never near. */
#define assert_near(got, wanted, tolerance)                                    \
    do {                                                                       \
        const double got_ = (got), wanted_ = (wanted);                         \
        if (!(fabs(got_ - wanted_) <= (tolerance)))                            \
            fail_msg("%s is %.17g; expected %.17g within %g", #got, got_,      \
                     wanted_, (double)(tolerance));                            \
    } while (0)

#define assert_relative(got, wanted, tolerance)                                \
    assert_near(got, wanted, (tolerance)*fabs((double)(wanted)))

/* A test that wants the maps which FW_TEST_DATA names; without them it is
 * counted as skipped, as TAP has it. */
static inline void not_tried(void **state)
{
    (void)state;
}

#define data_test(function)                                                    \
    (getenv("FW_TEST_DATA")                                                    \
         ? (struct CMUnitTest){#function, function, NULL, NULL, NULL}          \
         : (struct CMUnitTest){#function " # SKIP FW_TEST_DATA is not set",    \
                               not_tried, NULL, NULL, NULL})

#endif
