/* The outer boundary as a person walks it: sides between corners. */
#ifndef FW_MAKE_EDGE_H
#define FW_MAKE_EDGE_H

#include "plan/plan.h"

struct fw_plan__edge {
    const struct fw_plan_field *field;
    size_t count;
    double *along_m; /* with the ring, to each of its vertices; the last entry
                        is all round */
    size_t *where;   /* of each vertex of the field in it, or FW_NONE */
    size_t *side;    /* of each of its vertices; of a corner the side that
                        begins there */
    bool *front;     /* is a front between this vertex and the next? */
};

enum fw_status fw_plan__edge_init(struct fw_plan__edge *edge,
                                  const struct fw_plan *plan,
                                  const struct fw_plan_field *field,
                                  struct fw_error *err);
void fw_plan__edge_release(struct fw_plan__edge *edge);

/* Count to a vertex along its side from the nearest corner that people have a
 * number for. False: it is on no side, or nobody can say on which. */
bool fw_plan__edge_count(const struct fw_plan__edge *edge, size_t vertex,
                         double pace_m, struct fw_plan_paced *out);

/* From one vertex to another along the side that `paced` goes along; negative:
 * they do not both stand on it. */
double fw_plan__edge_between_m(const struct fw_plan__edge *edge,
                               const struct fw_plan_paced *paced, size_t a,
                               size_t b);

#endif
