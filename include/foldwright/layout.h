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
    FW_LAST_SHORT, /* full paddocks, then what is left */
    FW_LAST_EVEN   /* every paddock the same share of its target */
};

struct fw_layout_request {
    const struct fw_field *field;
    const double *target_m2; /* what each paddock in turn must hold */
    size_t target_count;     /* more than the field holds is fine */
    enum fw_last last;
    const struct fw_point *start; /* gate or water: the first paddock lies at
                                     the end nearer to it; NULL: any end */
    bool direction_given;
    double direction_deg; /* of the sweep, when given */
    int directions;       /* how many to try over half a turn; 0: 180 */
};

struct fw_layout {
    const char *pattern; /* a row's name of the table of patterns */
    double direction_deg; /* in which the flock moves, anticlockwise from east */
    struct fw_partition partition; /* paddocks in grazing order */
    size_t full_count;    /* paddocks that hold their target */
    double last_share;    /* of its target that the last one holds: 1 if full */
    double share;         /* FW_LAST_EVEN: of the target that each one holds */
    size_t broken_count;  /* paddocks in more than one piece: 0 where it can be */
    double line_m;        /* all cuts */
};

/* FW_EPLAN: the field holds less than half of one paddock; FW_EINPUT: a target
 * is not over 0. Release the layout's partition when done. */
FW_API enum fw_status fw_layout_choose(const struct fw_layout_request *request,
                                       struct fw_layout *out,
                                       struct fw_error *err);

/* Lower bound of all interior fence for paddocks of these areas in a field of
 * that boundary with so many vertices and holes: the greater of the
 * isoperimetric and the straight-fence bound; never negative. The proof stands
 * in docs/guide/layout.md. */
FW_API double fw_layout_bound_m(const double *area_m2, size_t count,
                                double boundary_m, size_t vertices,
                                size_t holes);

#ifdef __cplusplus
}
#endif
#endif
