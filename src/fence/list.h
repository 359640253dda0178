/* A list to buy while it is put together. */
#ifndef FW_FENCE_LIST_H
#define FW_FENCE_LIST_H

#include "fence/fence.h"

struct fw_fence__list {
    struct fw_material *rows;
    size_t most;
    size_t count; /* may pass `most`: then the rows do not fit */
};

/* Nothing where the quantity is not over 0. */
void fw_fence__add(struct fw_fence__list *list, const char *item,
                   const char *unit, double quantity, double price,
                   const char *note);
enum fw_status fw_fence__list_done(const struct fw_fence__list *list,
                                   size_t *count, struct fw_error *err);

extern const struct fw_prices fw_fence__no_prices;

#endif
