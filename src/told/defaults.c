/* What a plan needs and nobody told, with what to write; and what was taken in
 * place of what nobody told, with its source. What is dangerous not to know
 * (what the boundary holds, where it is live, whether the sheep know electric
 * fence, their coat) has no default: it stays untold. */
#include "keys/schema.h"
#include "told/feed.h"

#include "base/array.h"
#include "base/text.h"
#include "figures/farm.h"
#include "figures/fence.h"
#include "figures/forage.h"
#include "figures/mark.h"
#include "figures/say.h"
#include "plan/words.h"
#include <foldwright/figures.h>
#include <stdio.h>
#include <string.h>

/* ---- what is missing ---- */

static void missing(struct fw_text *list, size_t *count, const char *what,
                    const char *say)
{
    fw_text_addf(list, "%s%s: %s", *count ? "; " : "", what, say);
    ++*count;
}

static void need_flock(const struct fw_farm__draft *draft, enum fw_units units,
                       struct fw_text *list, size_t *count)
{
    static const struct fw_farm__class nobody;
    char say[FW_FARM_KEY_WORDS];
    size_t i = 0;
    do {
        const struct fw_farm__class *sheep =
            draft->class_count ? &draft->classes[i] : &nobody;
        if (!sheep->head.at.given)
            missing(list, count, "how many sheep",
                    fw_farm__tell("flock[].head", i, say));
        if (!sheep->weight_kg.at.given)
            missing(list, count, "how heavy",
                    fw_farm__tell_in(units, "flock[].weight", i, say));
        if (!sheep->state.at.given && !sheep->intake.at.given)
            missing(list, count, "what they are doing",
                    fw_farm__tell("flock[].state", i, say));
    } while (++i < draft->class_count);
}

static void need_mass(const struct fw_farm_field *field, enum fw_units units,
                      const char *where, struct fw_text *list, size_t *count)
{
    char what[128], sward[FW_FARM_KEY_WORDS], height[FW_FARM_KEY_WORDS],
        mass[FW_FARM_KEY_WORDS];
    snprintf(what, sizeof what, "how much grass stands%s", where);
    fw_farm__tell("forage.sward", 0, sward);
    fw_farm__tell_in(units, "forage.height", 0, height);
    if (field->sward.height_m > 0) {
        missing(list, count, what, sward);
        fw_text_add(list, ", which turns the height into a weight");
    } else if (field->sward.name[0]) {
        missing(list, count, what, height);
    } else {
        missing(list, count, what, sward);
        fw_text_addf(list, " and %s, or %s", height,
                     fw_farm__tell_in(units, "forage.mass", 0, mass));
    }
}

/* The first field that lacks something speaks for the others. */
static void need_grass(const struct fw_farm *farm, struct fw_text *list,
                       size_t *count)
{
    bool mass = true, rest = true;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_farm_field *field = &farm->fields[i];
        char where[112] = "";
        if (farm->field_count > 1)
            snprintf(where, sizeof where, " on %.80s", field->shape->name);
        if (mass && !fw_farm__has_mass(&field->sward)) {
            need_mass(field, farm->units, where, list, count);
            mass = false;
        }
        if (rest && !fw_farm__has_rest(&field->sward)) {
            char what[128], say[FW_FARM_KEY_WORDS];
            snprintf(what, sizeof what, "what must stay%s", where);
            missing(list, count, what,
                    fw_farm__tell_in(farm->units, "forage.leave", 0, say));
            fw_text_addf(
                list, ", or %s",
                fw_farm__tell_in(farm->units, "forage.residual", 0, say));
            rest = false;
        }
    }
}

enum fw_status fw_farm__needs(struct fw_farm__reader *reader,
                              struct fw_error *err)
{
    struct fw_text list = {0};
    size_t count = 0;
    char say[FW_FARM_KEY_WORDS];
    const char *path = reader->request->farm_path;
    if (reader->request->fields_only)
        return FW_OK;
    need_flock(&reader->draft, reader->farm->units, &list, &count);
    need_grass(reader->farm, &list, &count);
    if (reader->farm->start_day == FW_NO_DAY)
        missing(&list, &count, "the first day", fw_farm__tell("start", 0, say));
    enum fw_status status = fw_text_done(&list, err);
    if (!status && count > 0)
        status = fw_fail(err, FW_EINPUT, "%s%sa plan still needs %s",
                         path ? path : "", path ? ": " : "", list.bytes);
    fw_text_release(&list);
    return status;
}

/* ---- what was taken ---- */

struct taken {
    const struct fw_farm__reader *reader;
    struct fw_farm *farm;
    bool failed; /* no memory: the rest is not listed any more */
};

__attribute__((format(printf, 5, 6))) static void
add(struct taken *list, bool taken, const char *what, const char *source,
    const char *format, ...)
{
    struct fw_farm *farm = list->farm;
    if (!taken || list->failed)
        return;
    list->failed =
        fw_array_reserve(&farm->defaults, &farm->default_capacity,
                         farm->default_count + 1, sizeof *farm->defaults, NULL);
    if (list->failed)
        return;
    struct fw_farm_default *row = &farm->defaults[farm->default_count++];
    char value[sizeof row->value];
    va_list args;
    va_start(args, format);
    fw_text_print(value, sizeof value, format, args);
    va_end(args);
    fw_text_clip(what, row->what, sizeof row->what);
    fw_text_clip(value, row->value, sizeof row->value);
    fw_text_clip(source, row->source, sizeof row->source);
}

/* At which somebody must stand for want of another place. */
static bool any_gate(const struct fw_farm *farm)
{
    for (size_t i = 0; i < farm->field_count; i++)
        if (farm->fields[i].gate.given && !farm->fields[i].park.given)
            return true;
    return false;
}

/* A choice of the register, and a number of it. */
#define CHOSEN(untold, what, id)                                               \
    add(list, untold, what, FW_##id##_SOURCE, "%s", FW_##id)
#define FIGURED(untold, what, id, ...)                                         \
    add(list, untold, what, FW_##id##_SOURCE, __VA_ARGS__)

static void add_plain(struct taken *list)
{
    const struct fw_farm__reader *reader = list->reader;
    const struct fw_farm__draft *draft = &reader->draft;
    const struct fw_farm *farm = list->farm;
    char pace[FW_SAID];
    add(list, !reader->units_given, "units",
        reader->us_words
            ? "a value was written in pounds, acres, feet or inches"
            : "nothing says otherwise",
        "%s", fw_plan__units_words[farm->units]);
    FIGURED(!draft->stay.at.given, "stay", STAY_DAYS, "%d day", FW_STAY_DAYS);
    CHOSEN(!draft->last.at.given, "last paddock", LAST);
    FIGURED(!draft->season.at.given, "season", SEASON, "%s",
            fw_plan__season_words[farm->season]);
    FIGURED(!farm->back_fence_told, "back fence", BACK_FENCE, "%s",
            farm->back_fence ? "yes" : "no");
    CHOSEN(!farm->work_told, "order of work", WORK_ORDER);
    CHOSEN(farm->lambing.given && !draft->lambing_way.at.given,
           "moves at lambing", LAMBING_WAY);
    CHOSEN(!draft->park.at.given && any_gate(farm), "vehicle and spare posts",
           PARK);
    FIGURED(!draft->pace_m.at.given, "pace", PACE_M, "%s",
            fw_say_measured(farm->pace_m, 0, farm->units, FW_NEAREST, pace));
    CHOSEN(!draft->soil.at.given, "soil", SOIL);
}

/* Where the height of the lowest one is from. */
static const char *source_of_wires(const struct fw_farm *farm)
{
    static const char *const names[] = {"fence.bottom", "fence.bottom-weaned",
                                        "fence.bottom-at-foot"};
    return fw_figures_find(names[fw_farm_held(farm)])->source;
}

static void add_fence(struct taken *list)
{
    const struct fw_farm__spec *told = &list->reader->draft.fence;
    const struct fw_farm *farm = list->farm;
    const struct fw_fence_spec *spec = &farm->moved;
    char said[FW_SAID], top[FW_SAID];
    FIGURED(!told->strands.at.given, "strands", FENCE_STRANDS, "%d",
            spec->strands);
    FIGURED(
        !told->post_gap_m.at.given, "post gap", FENCE_POST_GAP_M, "%s",
        fw_say_measured(spec->post_gap_m, 0, farm->units, FW_NEAREST, said));
    FIGURED(!told->slack.at.given, "slack of the wire", FENCE_SLACK, "%g %%",
            100 * spec->slack);
    FIGURED(!told->reel_m.at.given, "wire on a reel", FENCE_REEL_M, "%s",
            fw_say_length(spec->reel_m, farm->units, said));
    CHOSEN(!told->reel_use.at.given, "use of the reels", REEL_USE);
    add(list, !told->top_m.at.given || !told->bottom_m.at.given, "wire heights",
        source_of_wires(farm), "%s and %s",
        fw_say_height(spec->height_bottom_m, farm->units, FW_NEAREST, said),
        fw_say_height(spec->height_top_m, farm->units, FW_NEAREST, top));
}

static void add_power(struct taken *list)
{
    const struct fw_farm__draft *draft = &list->reader->draft;
    const struct fw_farm *farm = list->farm;
    const struct fw_joule_row *rule = fw_power_rule(farm->joule_rule);
    const struct fw_farm__wiring *told = &draft->wiring;
    add(list, !draft->rule.at.given && draft->joules.at.given, "joule rule",
        rule->source, "%s", rule->word);
    CHOSEN(!told->conductor.at.given, "wire of moved fence", CONDUCTOR);
    FIGURED(!told->perimeter_conductor.at.given, "live wire of the boundary",
            PERIMETER_CONDUCTOR, "%d of %s", farm->wiring.perimeter_strands,
            FW_PERIMETER_CONDUCTOR);
    CHOSEN(!told->bonded.at.given, "strands joined", BONDED);
    CHOSEN(!told->leakage.at.given, "grass on the lowest wire", LEAKAGE);
    FIGURED(!told->soil.at.given && !told->earth.at.given,
            "soil at the earth rods", EARTH_SOIL, "%g ohm m",
            farm->wiring.soil_ohm_m);
    CHOSEN(!draft->trough_moves.at.given, "trough moves with the flock",
           TROUGH_MOVES);
}

static void add_intake(struct taken *list)
{
    const struct fw_farm *farm = list->farm;
    for (size_t i = 0; i < farm->class_count; i++) {
        const struct fw_flock_class *sheep = &farm->classes[i];
        const struct fw_farm__class *told = &list->reader->draft.classes[i];
        char what[96], day[FW_SAID];
        struct fw_intake intake;
        snprintf(what, sizeof what, "state of %s", sheep->name);
        add(list, !told->state.at.given && told->intake.at.given, what,
            "their intake is told", "%s", fw_flock_state_words[FW_DRY]);
        if (told->intake.at.given || !told->weight_kg.at.given ||
            !told->head.at.given || !told->state.at.given ||
            fw_flock_intake(sheep, &intake, NULL))
            continue;
        snprintf(what, sizeof what, "intake of %s", sheep->name);
        add(list, true, what, intake.source, "%s a day, %.1f %%",
            fw_say_mass(intake.kg_day, farm->units, day), 100 * intake.share);
    }
}

/* Fields mostly share one answer; it is listed once for as long as it is the
 * same. */
static void add_grass(struct taken *list)
{
    const struct fw_farm *farm = list->farm;
    const int stay_days = fw_forage_common_stay(&farm->stay, farm->start_day);
    double listed_use = -1;
    bool listed_density = false;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_sward *sward = &farm->fields[i].sward;
        struct fw_usable usable;
        if (fw_forage_usable(sward, stay_days, &usable, NULL))
            continue;
        if (!(sward->use > 0) && usable.use != listed_use) {
            add(list, true, "use of the grass", usable.use_source, "%.0f %%",
                100 * usable.use);
            listed_use = usable.use;
        }
        if (usable.density_source && !listed_density &&
            sward->density_kg_ha_cm <= 0) {
            add(list, true, "weight of the grass by height",
                usable.density_source, "%s, middle of the range", sward->name);
            listed_density = true;
        }
    }
}

enum fw_status fw_farm__defaults(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    struct taken list = {.reader = reader, .farm = reader->farm};
    add_plain(&list);
    add_intake(&list);
    add_grass(&list);
    add_fence(&list);
    add_power(&list);
    return list.failed ? fw_fail_memory(err) : FW_OK;
}
