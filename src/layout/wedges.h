/* Wedges about a water point: all fences run from it to the field's edge. */
#ifndef FW_LAYOUT_WEDGES_H
#define FW_LAYOUT_WEDGES_H

#include "cutting/boundary.h"
#include "cutting/plots.h"

#include "figures/layout.h"
#include "figures/mark.h"

enum {
    FW_MOST_APRON = FW_EFFORT(25) /* corners of the apron; the last one may be
                          the first */
};

struct fw_wedges {
    struct fw_boundary
        boundary; /* of a field without holes: edge i is side i */
    struct fw_point centre;
    bool on_edge;   /* the water stands on the field's edge */
    double water_m; /* there, along the walk */
    double begin_m; /* where the first wedge begins along the walk */
    struct fw_point apron[FW_MOST_APRON]; /* anticlockwise about the centre */
    size_t apron_count; /* 0: the fences run to the very centre */
    double apron_m;
    size_t count;
};

/* *possible false: the field is not seen all over from the water, or has
 * holes; nothing is left to release. */
enum fw_status fw_wedges_init(struct fw_wedges *wedges,
                              const struct fw_field *field,
                              struct fw_point water, double apron_m,
                              bool *possible, struct fw_error *err);
void fw_wedges_release(struct fw_wedges *wedges);

/* What the apron holds. */
enum fw_status fw_wedges_lost(const struct fw_wedges *wedges,
                              const struct fw_subdivision *subdivision,
                              double *out, struct fw_error *err);

/* The length of all fences from the centre when the first one ends begin_m
 * along the walk and the wedges have so much of the field's area each, behind
 * them cumulated; behind_m2[count - 1] is all of it. */
double fw_wedges_line_m(const struct fw_wedges *wedges, double begin_m,
                        const double *behind_m2, size_t count);

/* Cut the field from begin_m on; as fw_design has it, data being the wedges. */
enum fw_status fw_wedges_cut(const void *data, struct fw_plots *plots,
                             struct fw_error *err);

#endif
