/* A list to buy while it is put together. */
#ifndef FW_FENCE_LIST_H
#define FW_FENCE_LIST_H

#include "fence/fence.h"

struct fw_fence__list {
    const struct fw_prices *prices;
    struct fw_material *rows;
    size_t most;
    size_t count; /* may pass `most`: then the rows do not fit */
};

/* Nothing where the quantity is not over 0. */
void fw_fence__add(struct fw_fence__list *list, enum fw_ware ware,
                   const char *item, double quantity, const char *note);
enum fw_status fw_fence__list_done(const struct fw_fence__list *list,
                                   size_t *count, struct fw_error *err);

extern const struct fw_prices fw_fence__no_prices;

#endif
