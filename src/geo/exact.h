/* Sums whose rounding is carried along: a high part and what it lost. */
#ifndef FW_GEO_EXACT_H
#define FW_GEO_EXACT_H

#include <math.h>

struct fw_sum {
    double high;
    double low;
};

/* Knuth's sum of two: the rounding of a + b is known exactly. */
static inline void fw_sum_add(struct fw_sum *sum, double term)
{
    const double total = sum->high + term;
    const double part = total - sum->high;
    sum->low += (sum->high - (total - part)) + (term - part);
    sum->high = total;
}

static inline void fw_sum_add_product(struct fw_sum *sum, double a, double b)
{
    const double product = a * b;
    fw_sum_add(sum, product);
    sum->low += fma(a, b, -product);
}

static inline double fw_sum_value(struct fw_sum sum)
{
    return sum.high + sum.low;
}

#endif
