/* The root of a matrix within its envelope: what is 0 before the first entry
 * of a row stays 0. */
#include "layout/root.h"

#include "figures/mark.h"

#include <math.h>

/* A pivot below that much of its entry is 0 but for rounding. */
static const double no_pivot = FW_TOLERANCE(1e-14);

static size_t first_of(const double *row, size_t end)
{
    size_t first = 0;
    while (first < end && !(row[first] < 0) && !(row[first] > 0))
        first++;
    return first;
}

static double dot(const double *a, const double *b, size_t from, size_t to)
{
    double sum = 0;
    for (size_t i = from; i < to; i++)
        sum += a[i] * b[i];
    return sum;
}

bool fw_layout__root(double *matrix, size_t *left, size_t n)
{
    for (size_t j = 0; j < n; j++) {
        double *row = matrix + j * n;
        left[j] = first_of(row, j);
        for (size_t k = left[j]; k < j; k++) {
            const double *other = matrix + k * n;
            const size_t from = left[j] > left[k] ? left[j] : left[k];
            row[k] = (row[k] - dot(row, other, from, k)) / other[k];
        }
        const double rest = row[j] - dot(row, row, left[j], j);
        if (!(rest > row[j] * no_pivot))
            return false;
        row[j] = sqrt(rest);
    }
    return true;
}

void fw_layout__root_solve(const double *root, const size_t *left, size_t n,
                           double *w)
{
    for (size_t i = 0; i < n; i++) {
        const double *row = root + i * n;
        w[i] = (w[i] - dot(row, w, left[i], i)) / row[i];
    }
    for (size_t i = n; i-- > 0;) {
        const double *row = root + i * n;
        w[i] /= row[i];
        for (size_t k = left[i]; k < i; k++)
            w[k] -= row[k] * w[i];
    }
}
