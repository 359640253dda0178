#include "keys/schema.h"

#include "figures/farm.h"
#include "figures/fence.h"
#include "figures/layout.h"
#include "figures/plan.h"

#include <string.h>

static const char *const words_units[] = {"metric", "us", NULL};
static const char *const words_last[] = {"fit", "short", "even", NULL};
static const char *const words_first[] = {"near", "far", NULL};
static const char *const words_field_order[] = {"given", "nearest", NULL};
static const char *const words_work_order[] = {"leapfrog", "set-first", NULL};
static const char *const words_lambing_way[] = {"daily", "hold", "drift", NULL};
static const char *const words_season[] = {"growth", "dormant", NULL};
static const char *const words_prefer[] = {"work", "fence", "kit",
                                           "cost", "walk",  NULL};
static const char *const words_limits[] = {"on", "off", NULL};
static const char *const words_block_lines[] = {"needed", "all", NULL};
/* In the order of their enums, the untold value left out: hence the 1. */
static const char *const words_coat[] = {"hair", "wool", "shorn", NULL};
static const char *const words_use_of[] = {"above-residual", "standing", NULL};
static const char *const words_holds[] = {"nothing", "sheep", "lambs", NULL};
static const char *const words_soil[] = {"moist", "dry", NULL};

_Static_assert(FW_METRIC == 0 && FW_US == 1, "words_units");
_Static_assert(FW_LAST_FIT == 0 && FW_LAST_SHORT == 1 && FW_LAST_EVEN == 2,
               "words_last");
_Static_assert(FW_ORDER_GIVEN == 0 && FW_ORDER_NEAREST == 1,
               "words_field_order");
_Static_assert(FW_WORK_LEAPFROG == 0 && FW_WORK_SET_FIRST == 1,
               "words_work_order");
_Static_assert(FW_LAMBING_DAILY == 0 && FW_LAMBING_HOLD == 1 &&
                   FW_LAMBING_DRIFT == 2,
               "words_lambing_way");
_Static_assert(FW_SEASON_GROWTH == 0 && FW_SEASON_DORMANT == 1, "words_season");
_Static_assert(FW_PREFER_WORK == 0 && FW_PREFER_FENCE == 1 &&
                   FW_PREFER_KIT == 2 && FW_PREFER_COST == 3 &&
                   FW_PREFER_WALK == 4,
               "words_prefer");
_Static_assert(FW_HAIR == 1 && FW_WOOL == 2 && FW_SHORN == 3, "words_coat");
_Static_assert(FW_USE_ABOVE_RESIDUAL == 1 && FW_USE_STANDING == 2,
               "words_use_of");
_Static_assert(FW_HOLDS_NOTHING == 1 && FW_HOLDS_SHEEP == 2 &&
                   FW_HOLDS_LAMBS == 3,
               "words_holds");

static const char *const words_reel_use[] = {"one-a-strand", "out-and-back",
                                             NULL};
static const char *const words_lambs[] = {"hold", "creep", NULL};
static const char *const words_far_end[] = {"loose", "hooked", NULL};

#define FIRST_far_end 0
#define FIRST_lambs 0
#define FIRST_reel_use 0
#define FIRST_units 0
#define FIRST_last 0
#define FIRST_first 0
#define FIRST_work_order 0
#define FIRST_lambing_way 0
#define FIRST_season 0
#define FIRST_field_order 0
#define FIRST_prefer 0
#define FIRST_limits 0
#define FIRST_block_lines 0
#define FIRST_coat 1
#define FIRST_use_of 1
#define FIRST_holds 1
#define FIRST_soil 0

#define PLACE "corner:N, side:N@40m, FENCE@65m, a waypoint's name, or lon,lat"
#define ALONG                                                                  \
    "two places or more, with to between them, or a fence of the plan made "   \
    "before"
#define MONEY_RANGE "a plain number, 0 to 1000000"

#define SLOT(owner_, type, member)                                             \
    .owner = owner_, .offset = offsetof(struct type, member)
#define OF_FARM(member) SLOT(FW_OWNER_FARM, fw_farm__draft, member)
#define OF_CLASS(member) SLOT(FW_OWNER_CLASS, fw_farm__class, member)
#define OF_FORAGE(member) SLOT(FW_OWNER_FORAGE, fw_farm__forage, member)
#define OF_PERIMETER(member)                                                   \
    SLOT(FW_OWNER_PERIMETER, fw_farm__perimeter, member)
#define OF_EDGE(member) SLOT(FW_OWNER_EDGE, fw_farm__edge, member)
#define OF_EACH(member) SLOT(FW_OWNER_EACH, fw_farm__each, member)
#define OF_MAP(member) SLOT(FW_OWNER_MAP, fw_farm__map, member)

#define TEXT .set = fw_farm__set_text, .most = 1000
#define QUANTITY(kind_, least_, most_)                                         \
    .set = fw_farm__set_quantity, .kind = kind_, .least = least_, .most = most_
/* With the range that the register has of it. */
#define FIGURED(kind_, id) QUANTITY(kind_, FW_##id##_LEAST, FW_##id##_MOST)
#define SECONDS(id) FIGURED(FW_KIND_DURATION, id), .scale = 86400
#define NUMBER .set = fw_farm__set_number
#define MONEY .set = fw_farm__set_money, .most = 1e6
#define CHOICE(name)                                                           \
    .set = fw_farm__set_choice, .words = words_##name, .least = FIRST_##name
#define ANSWER .set = fw_farm__set_answer

#define ROW(path_, option_, example_, range_, help_, otherwise_, ...)          \
    {.path = path_,                                                            \
     .option = option_,                                                        \
     .example = example_,                                                      \
     .help = help_,                                                            \
     .range = range_,                                                          \
     .otherwise = otherwise_},
static const struct fw_farm_key keys[] = {
#include "keys/rows.h"
};
#undef ROW

#define ROW(path_, option_, example_, range_, help_, otherwise_, ...)          \
    {.range = range_, .example = example_, __VA_ARGS__},
static const struct fw_farm__reading readings[] = {
#include "keys/rows.h"
};
#undef ROW

#define ROWS (sizeof(keys) / sizeof(keys[0]))

const struct fw_farm_key *fw_farm_keys(size_t *count)
{
    *count = ROWS;
    return keys;
}

static const struct fw_farm_key gone[] = {
    {.path = "reserve",
     .option = "--reserve",
     .example = "yes",
     .help = "with work: {order: leapfrog}, the default, the next paddock is "
             "always fenced ahead",
     .range = "yes or no"},
};

#define GONE (sizeof(gone) / sizeof(gone[0]))

const struct fw_farm_key *fw_farm_gone_keys(size_t *count)
{
    *count = GONE;
    return gone;
}

size_t fw_farm__row_count(void)
{
    return ROWS;
}

const struct fw_farm__reading *fw_farm__reading(size_t row)
{
    return &readings[row];
}

const char *fw_farm__path(size_t row)
{
    return keys[row].path;
}

const char *fw_farm__leaf(size_t row, const char *group)
{
    const char *leaf = keys[row].path;
    const size_t length = strlen(group);
    if (length > 0) {
        if (strncmp(leaf, group, length) != 0 || leaf[length] != '.')
            return NULL;
        leaf += length + 1;
    }
    return strpbrk(leaf, ".[") ? NULL : leaf;
}

size_t fw_farm__find(const char *group, const char *leaf)
{
    for (size_t row = 0; row < ROWS; row++) {
        const char *here = fw_farm__leaf(row, group);
        if (here && strcmp(here, leaf) == 0)
            return row;
    }
    return FW_NO_ROW;
}
