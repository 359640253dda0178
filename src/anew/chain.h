/* Paddocks of a block that follow each other, each two parted by one straight
 * fence that goes with the flock, as one piece of ground to be cut anew.
 *
 * Its two sides run on past all of them: the boundary, block lines, whatever
 * the fences end on. Between two fences lie the lines of the pencil that both
 * are of, parallel where the fences are, rays where they meet; before the first
 * one and beyond the last one the parallels to it. A line is told by where it
 * ends on either side, so that one that a person set askew is one too. */
#ifndef FW_ANEW_CHAIN_H
#define FW_ANEW_CHAIN_H

#include "plan/plan.h"

enum { FW_SIDES = 2 }; /* to the right and to the left as the flock goes */

struct fw_plan__chain_end { /* so far along the edge that begins there */
    size_t edge;            /* of the side's vertices */
    double share;
};
struct fw_plan__chain_line {
    struct fw_plan__chain_end ends[FW_SIDES];
};

struct fw_plan__chain_side {
    size_t *vertices; /* of the field */
    struct fw_point *points;
    double *turn; /* each one's: paddocks that lie before it, and a share */
    double *along_m;
    size_t count;
    size_t *stops; /* count + 1 of the chain: where each paddock begins */
};

struct fw_plan__chain {
    const struct fw_plan *plan;
    const struct fw_plan_field *field;
    size_t first, count; /* paddocks of the plan */
    size_t *fences;      /* count + 1: before and behind each; FW_NONE: none
                            of it at the beginning and the end */
    struct fw_plan__chain_side sides[FW_SIDES];
    /* Its ring's vertices between the sides, at the beginning and the end. */
    size_t *caps[2];
    size_t cap_counts[2];
    struct fw_plan__chain_plane { /* how far from the line, towards the next */
        double x, y, c_m;
    } * from, *to; /* by paddock: of the line behind it, and that before it */
};

/* The longest chain of those paddocks, from the first one on; one alone is one
 * where a fence stands before it or behind it. *whole false: it is not such
 * ground. FW_ENOMEM. Release it. */
enum fw_status fw_plan__chain_find(const struct fw_plan *plan, size_t first,
                                   size_t count, struct fw_plan__chain *out,
                                   bool *whole, struct fw_error *err);
void fw_plan__chain_release(struct fw_plan__chain *chain);

/* The line with so many of its paddocks behind it, and a share of the next. */
struct fw_plan__chain_line fw_plan__chain_at(const struct fw_plan__chain *chain,
                                             double turn);
struct fw_point fw_plan__chain_point(const struct fw_plan__chain *chain,
                                     size_t side,
                                     struct fw_plan__chain_end end);
/* An end so far on along its side, at most to where that ends. */
struct fw_plan__chain_end fw_plan__chain_on(const struct fw_plan__chain *chain,
                                            size_t side,
                                            struct fw_plan__chain_end end,
                                            double on_m);
/* The one that is farther on, side by side. */
struct fw_plan__chain_line
fw_plan__chain_far(const struct fw_plan__chain_line *a,
                   const struct fw_plan__chain_line *b);
/* Nowhere behind the other one, and somewhere beyond it. */
bool fw_plan__chain_is_beyond(const struct fw_plan__chain_line *line,
                              const struct fw_plan__chain_line *other);

/* The ground between two lines, anticlockwise; points has room for
 * fw_plan__chain_most. Returns how many. */
size_t fw_plan__chain_most(const struct fw_plan__chain *chain);
size_t fw_plan__chain_ground(const struct fw_plan__chain *chain,
                             const struct fw_plan__chain_line *near,
                             const struct fw_plan__chain_line *far,
                             struct fw_point *points);

/* Does the line keep to the chain's ground, from side to side? */
bool fw_plan__chain_is_inside(const struct fw_plan__chain *chain,
                              const struct fw_plan__chain_line *line);

#endif
