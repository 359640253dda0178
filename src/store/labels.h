/* Names by which one part of a plan.json refers to another. A name that
 * stands several times in its array gets a number from its second place on:
 * "north", "north (2)". */
#ifndef FW_STORE_LABELS_H
#define FW_STORE_LABELS_H

#include "store/members.h"

struct fw_io__labels {
    char **items;  /* by index */
    size_t *order; /* indexes, sorted by label */
    size_t count;
};

enum fw_status fw_io__labels_make(struct fw_io__labels *labels,
                                  const struct fw_plan *plan,
                                  enum fw_io__target target,
                                  struct fw_error *err);
void fw_io__labels_release(struct fw_io__labels *labels);

/* The index of the label; FW_NONE when there is none. */
size_t fw_io__labels_find(const struct fw_io__labels *labels, const char *text);

#endif
