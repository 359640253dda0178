/* On which side of a line a place lies. Where rounding could turn the answer
 * the six products are summed without any, as a list of numbers that do not
 * overlap.
 */
#include "walk/inner.h"

#include <math.h>

/* Three roundings of a unit each, and a little for those of the bound. */
static const double doubt = FW_TOLERANCE(3.4e-16);

enum { products = FW_FORMULA(6), terms_most = 2 * products };

struct terms {
    double of[terms_most + 1];
    size_t count;
};

static void add(struct terms *terms, double value)
{
    size_t count = 0;
    for (size_t i = 0; i < terms->count; i++) {
        const double total = value + terms->of[i];
        const double part = total - value;
        const double lost = (value - (total - part)) + (terms->of[i] - part);
        if (lost != 0)
            terms->of[count++] = lost;
        value = total;
    }
    if (value != 0)
        terms->of[count++] = value;
    terms->count = count;
}

static void add_product(struct terms *terms, double a, double b)
{
    const double product = a * b;
    add(terms, fma(a, b, -product));
    add(terms, product);
}

static double summed(struct fw_point a, struct fw_point b, struct fw_point c)
{
    struct terms terms = {.count = 0};
    add_product(&terms, a.x_m, b.y_m);
    add_product(&terms, -a.x_m, c.y_m);
    add_product(&terms, -c.x_m, b.y_m);
    add_product(&terms, -a.y_m, b.x_m);
    add_product(&terms, a.y_m, c.x_m);
    add_product(&terms, c.y_m, b.x_m);
    return terms.count > 0 ? terms.of[terms.count - 1] : 0;
}

double fw_walk__left(struct fw_point a, struct fw_point b, struct fw_point c)
{
    const double p = (a.x_m - c.x_m) * (b.y_m - c.y_m);
    const double q = (a.y_m - c.y_m) * (b.x_m - c.x_m);
    const double left = p - q;
    if (fabs(left) > doubt * (fabs(p) + fabs(q)))
        return left;
    return summed(a, b, c);
}
