/* From a double to an int, whatever the double is: C leaves it undefined beyond
 * the range of int and for what is no number. */
#ifndef FW_BASE_WHOLE_H
#define FW_BASE_WHOLE_H

#include <math.h>

#define FW_MOST_WHOLE 1000000000

/* The nearest whole number, half away from zero; at most FW_MOST_WHOLE either
 * way; 0 for what is no number. */
static inline int fw_whole(double value)
{
    if (isnan(value))
        return 0;
    return (int)round(fmax(-FW_MOST_WHOLE, fmin(FW_MOST_WHOLE, value)));
}

#endif
