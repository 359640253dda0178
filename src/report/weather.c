#include "report/weather.h"

#include "base/fail.h"
#include "figures/days.h"
#include "figures/water.h"
#include "haul/haul.h"
#include "plan/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* "cold of -15 C", "snow of 8 in" */
static void say_kind(struct fw_text *line, const struct fw_today *today,
                     enum fw_weather_kind kind)
{
    const struct fw_weather *weather = &today->weather;
    const enum fw_units units = today->plan->units;
    char words[FW_WORDS];
    switch (kind) {
    case FW_WEATHER_WET:
        fw_text_add(line, "rain");
        return;
    case FW_WEATHER_COLD:
        fw_text_addf(line, "cold of %s",
                     fw_say_temperature(weather->cold_c, units, words));
        return;
    case FW_WEATHER_HEAT:
        fw_text_addf(line, "heat of %s",
                     fw_say_temperature(weather->heat_c, units, words));
        return;
    case FW_WEATHER_SNOW:
        fw_text_addf(line, "snow of %s",
                     fw_report_height(weather->snow_m, units, words));
        return;
    case FW_WEATHER_COUNT:
        return;
    }
}

static void say_names(struct fw_text *line, const struct fw_plan *plan,
                      const size_t *fences, size_t count)
{
    for (size_t i = 0; i < count; i++)
        fw_text_addf(line, "%s%s",
                     i == 0           ? ""
                     : i + 1 == count ? " and "
                                      : ", ",
                     plan->fences[fences[i]].id);
}

/* ---- another paddock ---- */

static const char *has_ground(enum fw_weather_ground ground)
{
    static const char *const words[FW_GROUND_COUNT] = {
        [FW_GROUND_ANY] = "any ground",
        [FW_GROUND_FIRM] = "firm ground",
        [FW_GROUND_SHADE] = "shade",
        [FW_GROUND_SHELTER] = "shelter",
    };
    return words[ground];
}

static void say_lacks(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    const struct fw_plan_paddock *to = &plan->paddocks[today->to];
    const enum fw_weather_ground ground = plan->weather.ground[today->asks];
    if (ground == FW_GROUND_FIRM)
        fw_text_addf(line, "%s is too soft, over %.0f %% of it", to->id,
                     100 * to->soft_share);
    else
        fw_text_addf(line, "%s has no %s", to->id, has_ground(ground));
}

static void say_way(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    fw_text_addf(line, "; %s",
                 today->beside ? "it lies beside what they have"
                               : "lead them there");
    if (today->line_count == 0)
        return;
    fw_text_add(line, ", and set ");
    say_names(line, plan, today->lines, today->line_count);
    fw_text_addf(line, " first, %d posts", today->line_posts);
}

static void say_instead(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    if (!today->unsuited)
        return;
    const char *ground = has_ground(plan->weather.ground[today->asks]);
    fw_text_add(line, "For ");
    say_kind(line, today, today->asks);
    fw_text_add(line, " ");
    say_lacks(line, today);
    if (today->instead == FW_NONE) {
        fw_text_addf(line, ", and no paddock that is left in %s has %s.\n",
                     plan->fields[plan->paddocks[today->to].field].name,
                     ground);
        return;
    }
    const struct fw_plan_paddock *instead = &plan->paddocks[today->instead];
    fw_text_addf(line, "; go into %s instead, which has %s%s", instead->id,
                 ground,
                 strcmp(instead->keep, "storm") == 0 ? " and is kept for storms"
                 : strcmp(instead->keep, "heat") == 0 ? " and is kept for heat"
                                                      : "");
    say_way(line, today);
    fw_text_addf(line, ". The others come later; write it down as into %s.\n",
                 instead->id);
}

/* ---- feed ---- */

/* What asks for more, as a share of a paddock. */
static void say_why(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    char kg[FW_WORDS];
    if (today->weather.wet)
        fw_text_add(line, ", for what is trodden in");
    if (today->here.cold_kg > 0)
        fw_text_addf(line, "%s the cold: %s more a day to eat",
                     today->weather.wet ? " and" : ", for",
                     fw_report_mass(today->here.cold_kg, plan->units, kg));
}

static void say_ends(struct fw_text *line, const struct fw_today *today)
{
    const int a = today->ends[0] - today->meant[0];
    const int b = today->ends[1] - today->meant[1];
    const int on = abs(a) > abs(b) ? abs(a) : abs(b);
    fw_text_addf(line, "%d at A, %d at B, %d pace%s on from where it was meant",
                 today->ends[0], today->ends[1], on, on == 1 ? "" : "s");
    if (today->line_ends)
        fw_text_add(line, ", where the line ends");
}

static void say_fence(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    if (today->fence == FW_NONE)
        return;
    const char *bounds = plan->paddocks[today->bounds].id;
    const char *fence = plan->fences[today->fence].id;
    if (today->rest) {
        fw_text_addf(line, "Set no %s: all that is left of the block is %s",
                     fence, bounds);
    } else if (today->known) {
        fw_text_addf(line, "Set %s at ", fence);
        say_ends(line, today);
        fw_text_addf(line, ": %s %s %.0f %% larger", bounds,
                     today->line_ends ? "should be" : "is",
                     100 * today->more_share);
    } else {
        fw_text_addf(line, "Set %s so that %s is %.0f %% larger", fence, bounds,
                     100 * today->more_share);
    }
    say_why(line, today);
    fw_text_add(line, ".\n");
}

/* What it is short of: as it is eaten, less what is trodden in. */
static double short_kg(const struct fw_today *today, double fed_days)
{
    const double demand_kg = today->plan->flock.demand_kg_day;
    return fed_days * (demand_kg + today->here.cold_kg -
                       demand_kg / (1 + today->here.tread_share));
}

static void say_fenced(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    const size_t stay = plan->time.moves[today->move].stay;
    const double fed_days = fw_plan_fed_days(plan, stay);
    const double day_h = 24;
    char hours[FW_WORDS], kg[FW_WORDS], of[FW_WORDS];
    if (!(today->lasts_days < fed_days) || today->here.deep)
        return;
    fw_text_addf(
        line,
        "%s is fenced as it is and lasts them %s hours of %s: let "
        "them on then, or give %s of hay.\n",
        plan->paddocks[today->to].id,
        fw_report_number(floor(today->lasts_days * day_h), hours),
        fw_report_number(round(fed_days * day_h), of),
        fw_report_mass(ceil(short_kg(today, fed_days) / FW_DAYS_HAY_DRY),
                       plan->units, kg));
}

static void say_coat(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    for (size_t i = 0; today->here.cold_kg > 0 && i < plan->class_count; i++)
        if (plan->classes[i].coat == FW_COAT_UNTOLD) {
            fw_text_add(line, "Nobody has told their coat, so that it is taken "
                              "for hair: in fleece (coat: wool) they need much "
                              "less.\n");
            return;
        }
}

/* ---- heat, snow, frost ---- */

static void say_heat(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    char water[FW_WORDS];
    if (!today->here.hot)
        return;
    fw_text_addf(line,
                 "Look at the water %d times: they drink up to %s. Move them "
                 "in the cool of the day.\n",
                 plan->weather.heat_looks,
                 fw_report_volume(today->water_l, plan->units, water));
}

static void say_snow(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    char deep[FW_WORDS], kg[FW_WORDS];
    if (isnan(today->weather.snow_m))
        return;
    fw_report_height(plan->weather.snow_from_m, plan->units, deep);
    if (today->here.deep)
        fw_text_addf(line,
                     "Snow from %s on: give %s of hay a day in place of the "
                     "grass below it.\n",
                     deep,
                     fw_report_mass(ceil(today->hay_kg), plan->units, kg));
    else
        fw_text_addf(line,
                     "Under %s of snow they graze; look whether they "
                     "get through its crust.\n",
                     deep);
}

static void say_frozen(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    const int wanted = today->ahead_posts + today->standing_posts;
    if (!today->here.frozen)
        return;
    if (today->ahead_count > 0) {
        fw_text_add(line, "Before the ground freezes set the posts of ");
        say_names(line, plan, today->ahead, today->ahead_count);
        fw_text_addf(line, ": %zu line%s for %d days, %d posts",
                     today->ahead_count, today->ahead_count == 1 ? "" : "s",
                     today->here.days, today->ahead_posts);
        if (wanted > plan->totals.kit.posts)
            fw_text_addf(line,
                         ", and those that stand come out no more: %d more "
                         "than the plan has need of else",
                         wanted - plan->totals.kit.posts);
        fw_text_add(line, ". ");
    }
    fw_text_add(line, "Until it thaws move only wire.\n");
}

/* Of what is hauled, else of the water that is there. */
static void say_ice(struct fw_text *line, const struct fw_today *today)
{
    const struct fw_plan *plan = today->plan;
    const size_t water = plan->paddocks[today->to].water;
    const struct fw_plan_water *at =
        water == FW_NONE ? NULL : &plan->waters[water];
    const struct fw_haul haul = fw_plan__haul(plan);
    struct fw_frost frost;
    char each[FW_WORDS];
    if (!at || !(today->weather.cold_c <= FW_FROST_C))
        return;
    const double least_l = 1; /* on wet grass they may hardly come */
    const double litres =
        at->litres_day < least_l ? at->on_hand_l : at->litres_day;
    if (strcmp(at->kind_of, "trough") != 0 ||
        fw_water_frost(&haul, litres, &frost, NULL))
        fw_text_addf(line, "Break the ice on the water %d times a day.\n",
                     FW_FROST_HAULS);
    else
        fw_text_addf(line,
                     "Frost: bring the day's water in %d hauls of %s, drain "
                     "the hose after each, and break the ice each time.\n",
                     frost.hauls,
                     fw_report_volume(frost.each_l, plan->units, each));
}

static void say_own(struct fw_text *line, const struct fw_today *today)
{
    for (int kind = 0; kind < FW_WEATHER_COUNT; kind++) {
        const char *own = today->plan->weather.say[kind];
        if (fw_weather_is(&today->weather, (enum fw_weather_kind)kind) &&
            own[0])
            fw_text_addf(line, "%s\n", own);
    }
}

void fw_report_say_today(struct fw_text *lines, const struct fw_today *today)
{
    if (today->to != FW_NONE) {
        say_instead(lines, today);
        say_fence(lines, today);
        say_fenced(lines, today);
        say_coat(lines, today);
        say_heat(lines, today);
        say_snow(lines, today);
        say_frozen(lines, today);
        say_ice(lines, today);
    }
    say_own(lines, today);
}

/* "WEATHER: RAIN, COLD OF -15 C" */
static void heading(struct fw_text *line, const struct fw_today *today)
{
    const char *before = "TODAY'S WEATHER: ";
    for (int kind = 0; kind < FW_WEATHER_COUNT; kind++)
        if (fw_weather_is(&today->weather, (enum fw_weather_kind)kind)) {
            fw_text_add(line, before);
            say_kind(line, today, (enum fw_weather_kind)kind);
            before = ", ";
        }
}

void fw_report__today(struct fw_text *text, const struct fw_today *today,
                      bool colour)
{
    struct fw_text lines = {0}, line = {0};
    fw_report_say_today(&lines, today);
    heading(&line, today);
    fw_report__heading_text(text, colour, &line);
    for (const char *at = lines.bytes; !lines.failed && at && *at;) {
        const size_t length = strcspn(at, "\n");
        fw_text_add_bytes(&line, at, length);
        fw_report__fold_text(text, 0, &line);
        at += length + (at[length] == '\n');
    }
    if (!lines.length)
        fw_report_fold(text, 0, "It asks for nothing beside the plan.");
    fw_text_add(text, "\n");
    text->failed |= lines.failed;
    fw_text_release(&lines);
}
