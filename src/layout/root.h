/* Cholesky's root of a matrix whose rows begin with many zeros: paddocks adjoin
 * few others, most of them near in the order. */
#ifndef FW_LAYOUT_ROOT_H
#define FW_LAYOUT_ROOT_H

#include <stdbool.h>
#include <stddef.h>

/* Of a symmetric matrix, row by row, of which only the lower half is read; its
 * root takes that half's place, and left (n of them) the first column of each
 * row that is not 0. False: it has none, as far as rounding tells. */
bool fw_layout__root(double *matrix, size_t *left, size_t n);

/* w becomes the solution for the right-hand side that it holds. */
void fw_layout__root_solve(const double *root, const size_t *left, size_t n,
                           double *w);

#endif
