/* Choosing where the fences go: every pattern at every direction, the least
 * moved wire among the layouts that a person can use. */
#ifndef FW_LAYOUT_H
#define FW_LAYOUT_H

#include <foldwright/error.h>
#include <foldwright/geo.h>

#ifdef __cplusplus
extern "C" {
#endif

enum fw_last {
    FW_LAST_SHORT, /* full paddocks, then what is left; less than 10 % of a
                      paddock is no paddock but goes to the last full one */
    FW_LAST_EVEN   /* as many paddocks as fit, to the nearest, every one the
                      same share of its target */
};

struct fw_layout_request {
    const struct fw_field *field;
    const double *target_m2; /* what each paddock in turn must hold */
    size_t target_count;     /* more than the field holds is fine; when there
                                are fewer, the last one is repeated */
    enum fw_last last;
    const struct fw_point *start; /* gate or water: the first paddock lies at
                                     the end nearer to it; NULL: any end */
    bool direction_given;
    double direction_deg; /* of the sweep, when given; with a start, it is
                             walked this way or the opposite one */
    int directions;       /* how many to try over half a turn; 0: 180 */
};

struct fw_layout {
    const char *pattern; /* a row's name of the table of patterns */
    double
        direction_deg; /* in which the flock moves, anticlockwise from east */
    struct fw_partition partition; /* paddocks in grazing order */
    size_t full_count;             /* paddocks that hold their target or more */
    double last_share; /* of its target that the last one holds: 1 if full,
                          up to 1.1 with what was left over */
    double share;      /* FW_LAST_EVEN: of the target that each one holds */
    size_t
        broken_count; /* paddocks in more than one piece: 0 where it can be */
    double line_m;    /* all cuts */
};

/* The layout with the least line whose paddocks are each in one piece, or with
 * the fewest broken ones where there is none. Fences parallel to a long
 * straight side are preferred when they cost no more than 3 % more line.
 * FW_EPLAN: the field holds less than half of one paddock; FW_EINPUT: a target
 * is not over 0, or the paddocks are more than 100,000. Release the layout's
 * partition when done. */
FW_API enum fw_status fw_layout_choose(const struct fw_layout_request *request,
                                       struct fw_layout *out,
                                       struct fw_error *err);

/* Lower bound of all interior fence for connected paddocks of these areas in a
 * field of that boundary (with its holes) with so many vertices and holes: the
 * greater of the isoperimetric and the straight-fence bound; never negative.
 * Paddocks smaller than the greatest count by the isoperimetric one in both.
 * The proof stands in docs/guide/layout.md. */
FW_API double fw_layout_bound_m(const double *area_m2, size_t count,
                                double boundary_m, size_t vertices,
                                size_t holes);

#ifdef __cplusplus
}
#endif
#endif
