/* How long a way of so far across and so far up is. The square root of a sum
 * of squares is as good as the C library's hypot for what is measured in
 * metres, a few times as fast, and rounded alike everywhere, where each
 * library's hypot has last bits of its own. It holds for lengths from 1e-150
 * to 1e150; nothing on this earth is outside. */
#ifndef FW_BASE_LENGTH_H
#define FW_BASE_LENGTH_H

#include <math.h>

static inline double fw_length(double x, double y)
{
    return sqrt(x * x + y * y);
}

#endif
