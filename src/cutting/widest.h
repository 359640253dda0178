/* The two corners of a field that are farthest apart. */
#ifndef FW_CUTTING_WIDEST_H
#define FW_CUTTING_WIDEST_H

#include "geo/geo.h"

/* More corners than a person draws: not each of them is looked at. */
enum { FW_MANY_CORNERS = 360 };

/* As indexes of the field's corners, a before b. Of more than many corners
 * those are taken that are farthest out in one of as many directions: to
 * within a thousandth. Returns how far apart they are. */
double fw_layout__widest(const struct fw_field *field, size_t *a, size_t *b);

/* Is it worth looking at a side of that length? Where there are more
 * than many, only at one that is over that part of the boundary. */
bool fw_layout__side_counts(const struct fw_field *field, double side_m);

#endif
