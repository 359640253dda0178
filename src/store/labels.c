#include "store/labels.h"
#include "base/alloc.h"
#include "base/fail.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static size_t count_of(const struct fw_plan *plan, enum fw_io__target target)
{
    switch (target) {
    case FW_IO__FIELDS:
        return plan->field_count;
    case FW_IO__PADDOCKS:
        return plan->paddock_count;
    case FW_IO__LANES:
        return plan->lane_count;
    case FW_IO__FENCES:
        return plan->fence_count;
    case FW_IO__WATERS:
        return plan->water_count;
    default:
        return plan->gate_count;
    }
}

static const char *name_of(const struct fw_plan *plan,
                           enum fw_io__target target, size_t i)
{
    switch (target) {
    case FW_IO__FIELDS:
        return plan->fields[i].name ? plan->fields[i].name : "";
    case FW_IO__PADDOCKS:
        return plan->paddocks[i].id;
    case FW_IO__LANES:
        return plan->lanes[i].id;
    case FW_IO__FENCES:
        return plan->fences[i].id;
    case FW_IO__WATERS:
        return plan->waters[i].id;
    default:
        return plan->gates[i].id;
    }
}

/* qsort hands no context to its comparison, so that what is sorted carries its
 * own text. */
struct entry {
    const char *text;
    size_t index;
};

static int compare(const void *a, const void *b)
{
    const struct entry *first = a, *second = b;
    const int order = strcmp(first->text, second->text);
    if (order)
        return order;
    return (first->index > second->index) - (first->index < second->index);
}

static bool is_taken(const struct entry *sorted, size_t count, const char *text)
{
    size_t low = 0, high = count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const int order = strcmp(sorted[middle].text, text);
        if (order == 0)
            return true;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return false;
}

/* The next free number for a name that stands before already; *number is the
 * last one that its namesakes have. */
static char *numbered(const struct entry *sorted, size_t count,
                      const char *name, size_t *number)
{
    const size_t room = strlen(name) + 32;
    char *text = fw_alloc(room, 1);
    if (!text)
        return NULL;
    do
        snprintf(text, room, "%s (%zu)", name, ++*number);
    while (is_taken(sorted, count, text));
    return text;
}

static bool label_all(struct fw_io__labels *labels, const struct entry *sorted)
{
    size_t number = 1;
    for (size_t k = 0; k < labels->count; k++) {
        const bool again = k && !strcmp(sorted[k].text, sorted[k - 1].text);
        if (!again)
            number = 1;
        char *label =
            again ? numbered(sorted, labels->count, sorted[k].text, &number)
                  : fw_strdup(sorted[k].text);
        if (!label)
            return false;
        labels->items[sorted[k].index] = label;
    }
    return true;
}

static void sort_labels(struct fw_io__labels *labels, struct entry *room)
{
    for (size_t i = 0; i < labels->count; i++)
        room[i] = (struct entry){labels->items[i], i};
    qsort(room, labels->count, sizeof *room, compare);
    for (size_t i = 0; i < labels->count; i++)
        labels->order[i] = room[i].index;
}

enum fw_status fw_io__labels_make(struct fw_io__labels *labels,
                                  const struct fw_plan *plan,
                                  enum fw_io__target target,
                                  struct fw_error *err)
{
    const size_t count = count_of(plan, target);
    *labels = (struct fw_io__labels){.count = count};
    struct entry *sorted = fw_alloc(count, sizeof *sorted);
    labels->items = fw_alloc(count, sizeof *labels->items);
    labels->order = fw_alloc(count, sizeof *labels->order);
    bool done = sorted && labels->items && labels->order;
    if (done) {
        for (size_t i = 0; i < count; i++)
            sorted[i] = (struct entry){name_of(plan, target, i), i};
        if (count)
            qsort(sorted, count, sizeof *sorted, compare);
        done = label_all(labels, sorted);
    }
    if (done && count)
        sort_labels(labels, sorted);
    fw_free(sorted);
    if (!done)
        fw_io__labels_release(labels);
    return done ? FW_OK : fw_fail_memory(err);
}

void fw_io__labels_release(struct fw_io__labels *labels)
{
    for (size_t i = 0; labels->items && i < labels->count; i++)
        fw_free(labels->items[i]);
    fw_free(labels->items);
    fw_free(labels->order);
    *labels = (struct fw_io__labels){0};
}

size_t fw_io__labels_find(const struct fw_io__labels *labels, const char *text)
{
    size_t low = 0, high = labels->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const size_t index = labels->order[middle];
        const int order = strcmp(labels->items[index], text);
        if (order == 0)
            return index;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return FW_NONE;
}
