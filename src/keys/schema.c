#include "keys/schema.h"

#include "figures/farm.h"
#include "figures/fence.h"
#include "figures/flock.h"
#include "figures/forage.h"
#include "figures/growth.h"
#include "figures/layout.h"
#include "figures/plan.h"
#include "figures/power.h"
#include "figures/stockpile.h"
#include "figures/water.h"
#include "figures/weather.h"
#include "plan/words.h"

#include <string.h>

/* Words that only the farm file has; plan/words.h has the others. */
static const char *const last_words[] = {
    [FW_LAST_FIT] = "fit", [FW_LAST_SHORT] = "short", [FW_LAST_EVEN] = "even"};
static const char *const work_order_words[] = {
    [FW_WORK_LEAPFROG] = "leapfrog", [FW_WORK_SET_FIRST] = "set-first"};
static const char *const lambing_way_words[] = {
    [FW_LAMBING_DAILY] = "daily",
    [FW_LAMBING_HOLD] = "hold",
    [FW_LAMBING_DRIFT] = "drift",
};
static const char *const prefer_words[] = {
    [FW_PREFER_WORK] = "work", [FW_PREFER_FENCE] = "fence",
    [FW_PREFER_KIT] = "kit",   [FW_PREFER_COST] = "cost",
    [FW_PREFER_WALK] = "walk",
};
static const char *const growth_shape_words[] = {
    [FW_GROWTH_LOGISTIC] = "logistic",
    [FW_GROWTH_FLAT] = "flat",
    [FW_GROWTH_SET_STOCKED] = "set-stocked"};
_Static_assert(sizeof growth_shape_words / sizeof *growth_shape_words ==
                   FW_GROWTH_SHAPE_COUNT,
               "a shape without a word");
/* Of two the second is the one that is true. */
static const char *const first_words[] = {"near", "far"};
static const char *const limits_words[] = {"on", "off"};
static const char *const block_lines_words[] = {"needed", "all"};
static const char *const soil_words[] = {"moist", "dry"};
static const char *const reel_use_words[] = {"one-a-strand", "out-and-back"};
static const char *const lambs_words[] = {"hold", "creep"};
static const char *const far_end_words[] = {"loose", "hooked"};

#define PLACE "corner:N, side:N@40m, FENCE@65m, a waypoint's name, or lon,lat"
#define ALONG                                                                  \
    "two places or more, with to between them, or a fence of the plan made "   \
    "before"
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
#define OF_PART(member) SLOT(FW_OWNER_PART, fw_farm__part, member)

/* A setter, and what it takes in words. */
#define BY(setter, words_) .set = fw_farm__set_##setter, .range = words_
#define TEXT(words) BY(text, words), .most = 1000
#define DAY BY(day, "a date, year-month-day")
#define ANSWER BY(answer, "yes or no")
#define NUMBER BY(number, "a plain number")
#define MONEY BY(money, "a plain number, 0 to 1000000"), .most = 1e6
#define CHOICE(list)                                                           \
    .set = fw_farm__set_pick, .words = list,                                   \
    .word_count = sizeof(list) / sizeof(list)[0]
#define GROUP .shape = FW_SHAPE_GROUP, .range = "keys below it"
#define LIKE(group)                                                            \
    .shape = FW_SHAPE_GROUP, .like = group, .range = "the keys of " group
#define LIST .shape = FW_SHAPE_LIST, .range = "a list"
#define QUANTITY(kind_, least_, most_)                                         \
    .set = fw_farm__set_quantity, .kind = kind_, .least = least_, .most = most_
/* What holds otherwise, and the range, as the register has them. */
#define OF_REGISTER(id) .figure = FW_##id##_NAME
#define RANGE_OF(id)                                                           \
    .least = FW_##id##_LEAST, .most = FW_##id##_MOST, OF_REGISTER(id)
#define FIGURED(kind_, id)                                                     \
    .set = fw_farm__set_quantity, .kind = kind_, RANGE_OF(id)
#define SECONDS(id) FIGURED(FW_KIND_DURATION, id), .scale = 86400
#define HOURS(id) FIGURED(FW_KIND_DURATION, id), .scale = 24
#define ALSO(words) .also = words
#define OTHERWISE(words) .otherwise = words

#define ROW(path_, option_, example_, help_, ...)                              \
    {.path = path_, .option = option_, .example = example_, .help = help_},
static const struct fw_farm_key keys[] = {
#include "keys/rows.h"
};
#undef ROW

#define ROW(path_, option_, example_, help_, ...)                              \
    {.example = example_, __VA_ARGS__},
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

const char *fw_farm_key_option_example(const struct fw_farm_key *key)
{
    static const struct {
        const char *path, *example;
    } lists[] = {
        {"maps", "power-line=power.geojson"},
        {"stockpile.parts", "heavy: area=1.2 ha, grazed=2027-06-10"},
    };
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
        if (strcmp(key->path, lists[i].path) == 0)
            return lists[i].example;
    return key->example;
}

static const struct fw_farm_key gone[] = {
    {.path = "reserve",
     .option = "--reserve",
     .example = "yes",
     .help = "with work: {order: leapfrog}, the default, the next paddock is "
             "always fenced ahead"},
};

#define GONE (sizeof(gone) / sizeof(gone[0]))

const struct fw_farm_key *fw_farm_gone_keys(size_t *count)
{
    *count = GONE;
    return gone;
}

const char *fw_farm_key_range(const struct fw_farm_key *key,
                              char text[FW_FARM_KEY_WORDS])
{
    return fw_farm__range(&readings[key - keys], text);
}

const char *fw_farm_key_otherwise(const struct fw_farm_key *key,
                                  char text[FW_FARM_KEY_WORDS])
{
    return fw_farm__otherwise(&readings[key - keys], text);
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
