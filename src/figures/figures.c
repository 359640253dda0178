#include "figures/sources.h"
#include "figures/units.h"
#include <foldwright/figures.h>

#include <string.h>

#define HEAD(name_, mark_, what_, source_, used_)                              \
    .name = name_, .subject = SUBJECT, .what = what_, .source = source_,       \
    .used = used_, .mark = FW_MARK_##mark_
#define FIGURE(id, name, value_, unit_, least_, most_, ...)                    \
    {HEAD(name, __VA_ARGS__), .unit = unit_, .value = value_, .least = least_, \
     .most = most_},
#define COUNT FIGURE
#define LIST(...)                                                              \
    {                                                                          \
        __VA_ARGS__                                                            \
    }
/* How many a list has: the place that the list pushes into the last. */
#define LAST(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, count, ...)    \
    count
#define POINTS(...)                                                            \
    LAST(__VA_ARGS__, 17, 16, 15, 14, 13, 12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2,  \
         1, 0)
#define CURVE(id, name, at_, at_unit_, values_, unit_, ...)                    \
    {HEAD(name, __VA_ARGS__), .unit = unit_,                                   \
     .points = POINTS(at_),   .at = at_,                                       \
     .at_unit = at_unit_,     .values = values_},
#define SIZES(id, name, values_, unit_, ...)                                   \
    {HEAD(name, __VA_ARGS__), .unit = unit_, .points = POINTS(values_),        \
     .values = values_},
#define CHOICE(id, name, word_, ...)                                           \
    {HEAD(name, __VA_ARGS__), .word = word_, .unit = ""},

static const struct fw_figure rows[] = {
#include "figures/pages.h"
};

enum { row_count = sizeof rows / sizeof rows[0] };

const struct fw_figure *fw_figures(size_t *count)
{
    *count = row_count;
    return rows;
}

const struct fw_figure *fw_figures_find(const char *name)
{
    if (!name)
        return NULL;
    for (size_t i = 0; i < row_count; i++)
        if (strcmp(rows[i].name, name) == 0)
            return &rows[i];
    return NULL;
}

const char *fw_figures_mark(enum fw_mark mark)
{
    static const char *const names[FW_MARK_COUNT] = {
        [FW_MARK_PUBLISHED] = "published",
        [FW_MARK_COMPUTED] = "computed",
        [FW_MARK_MEMORY] = "from memory",
        [FW_MARK_PRACTICE] = "common practice",
    };
    return (unsigned)mark < FW_MARK_COUNT ? names[mark] : NULL;
}
