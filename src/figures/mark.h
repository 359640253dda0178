/* Numbers that are no figures: nobody measured them, and no result hangs on
 * them. tests/check_figures refuses any other number outside of the register,
 * so each of these says what it is. */
#ifndef FW_FIGURES_MARK_H
#define FW_FIGURES_MARK_H

/* Closer than that two numbers are the same: at most a hundredth of their
 * unit, or of their size. */
#define FW_TOLERANCE(number) (number)

/* How far a search goes, or how much room it has; a whole number. */
#define FW_EFFORT(number) (number)

/* As many as a shape has: corners of a triangle, quarters of a square. */
#define FW_PARTS(number) (number)

/* A whole number of a formula whose source stands beside it. */
#define FW_FORMULA(number) (number)

/* Beyond that an input is a slip of the pen, and is refused. */
#define FW_BOUND(number) (number)

#endif
