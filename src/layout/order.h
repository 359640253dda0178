/* The search for an order, shared by order.c and keep.c. */
#ifndef FW_LAYOUT_ORDER_H
#define FW_LAYOUT_ORDER_H

#include "layout/pattern.h"

struct fw_layout__door {
    size_t from, to;
    double length_m;
};

struct fw_layout__search {
    const struct fw_layout *layout;
    const struct fw_field *field;
    struct fw_layout__door *doors; /* both ways, sorted */
    size_t door_count;
    size_t *first_door; /* of each ground; one past the last too */
    bool *done;
    bool *walked; /* lanes and the like on which the flock comes from the start;
                     index from 0 */
    size_t *kept; /* by plot: held back to the end for which of the request's,
                     from 1; 0: not */
    size_t *room; /* one a plot, to try an order in */
    const double *behind; /* what the first, the first two … must hold; NULL:
                             the cuts will be made again for the order */
};

struct fw_layout__trial {
    size_t apart, turns;
};

/* The best order that begins with that plot and ends with those held back:
 * up the plots and down, down and up, or from paddock to paddock. */
struct fw_layout__trial
fw_layout__find_order(const struct fw_layout__search *search, size_t first,
                      size_t *order);

/* Hold back what the request wants kept, as far as every other paddock is still
 * reached. Changes order and trial, and fills the layout's keep and barred.
 * keep.c */
enum fw_status fw_layout__keep(struct fw_layout__search *search,
                               struct fw_layout *layout,
                               const struct fw_layout_request *request,
                               const struct fw_layout_shares *shares,
                               size_t *order, struct fw_layout__trial *trial,
                               struct fw_error *err);

#endif
