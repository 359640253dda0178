/* The plan tried on its own cautions: those with a figure for which no map is
 * needed. What a map shows is tried in safety.c. */
#include "make/kept.h"

#include "around/around.h"
#include "around/nights.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/units.h"

#include <math.h>

struct breach {
    const struct fw_safety_rule *rule;
    enum fw_level level;
    size_t field; /* FW_NONE: of the whole plan, and then about that */
    const char *about;
};

static struct breach of_field(const struct fw_plan_job *job, size_t field,
                              const struct fw_safety_rule *rule)
{
    return (struct breach){rule, rule->level, field,
                           job->plan->fields[field].name};
}

/* What is so, and what the rule has to say to it. The words are released. */
static enum fw_status tell(struct fw_plan_job *job, const struct breach *breach,
                           struct fw_text *words, struct fw_error *err)
{
    struct fw_plan__around around = {.job = job, .field = breach->field};
    fw_text_addf(words, ": %s", breach->rule->text);
    enum fw_status status = fw_text_done(words, err);
    const struct fw_plan__found found = {
        .rule = breach->rule,
        .fence = FW_NONE,
        .wanted_m = -1,
        .level = breach->level,
        .text = words->bytes,
        .about = breach->about,
    };
    if (!status)
        status = fw_plan__find(&around, &found, err);
    fw_text_release(words);
    return status;
}

static bool is_us(const struct fw_plan_job *job)
{
    return job->plan->units == FW_US;
}

/* To a tenth, towards caution: 7.99 cm left are no 8. */
static void say_height(struct fw_text *words, const struct fw_plan_job *job,
                       double m, double (*towards)(double))
{
    const double rounding = FW_TOLERANCE(1e-6);
    const double exact = is_us(job) ? 10 * m / FW_INCH_M : 10 * 100 * m;
    const double near =
        fabs(exact - round(exact)) < rounding ? round(exact) : towards(exact);
    fw_text_addf(words, "%g %s", near / 10, is_us(job) ? "in" : "cm");
}

/* ---- worms ---- */

double fw_plan__left_m(const struct fw_plan_job *job, size_t index)
{
    const struct fw_sward *sward = &job->farm->fields[index].sward;
    const double one_m = 1, half_m = 0.5;
    if (!(sward->residual_kg_ha > 0) && sward->leave_m > 0)
        return sward->leave_m;
    /* Half a metre of it weighs as much, and so what is left stands so high. */
    const struct fw_sward weighed = {
        .density = sward->density,
        .density_kg_ha_cm = sward->density_kg_ha_cm,
        .height_m = one_m,
        .leave_m = half_m,
        .legume = sward->legume,
    };
    struct fw_sward named = weighed;
    struct fw_usable usable;
    fw_text_clip(sward->name, named.name, sizeof named.name);
    if (fw_forage_usable(&named, 1, &usable, NULL) ||
        !(usable.residual_kg_ha > 0))
        return -1;
    const double left_kg_ha = sward->residual_kg_ha > 0
                                  ? sward->residual_kg_ha
                                  : job->usable[index].left_kg_ha;
    return half_m * left_kg_ha / usable.residual_kg_ha;
}

static enum fw_status worms_left(struct fw_plan_job *job, size_t index,
                                 struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("worms-left");
    const double left_m = fw_plan__left_m(job, index),
                 rounding = FW_TOLERANCE(1e-9);
    if (left_m < 0 || left_m >= rule->wanted_m - rounding)
        return FW_OK;
    struct fw_text words = {0};
    const struct breach breach = of_field(job, index, rule);
    say_height(&words, job, left_m, floor);
    fw_text_add(&words, " of grass are left");
    return tell(job, &breach, &words, err);
}

/* Larvae wait for warmth, and so does the warning. */
static enum fw_status worms_days(struct fw_plan_job *job, size_t index,
                                 struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("worms-days");
    const struct fw_plan_field *field = &job->plan->fields[index];
    size_t longest = FW_NONE, over = 0;
    int most = rule->most_days;
    for (size_t i = 0; i < field->paddock_count; i++) {
        const size_t paddock = field->first_paddock + i;
        size_t count;
        const struct fw_plan__span *spans =
            fw_plan__spans_of(job->cell_nights, paddock, &count);
        int here = 0;
        for (size_t k = 0; k < count; k++) {
            const int nights = spans[k].nights.to - spans[k].nights.from;
            here = nights > here ? nights : here;
        }
        over += here > rule->most_days;
        if (here > most) {
            most = here;
            longest = paddock;
        }
    }
    if (longest == FW_NONE)
        return FW_OK;
    struct fw_text words = {0};
    fw_text_addf(&words, "they have %s for %d nights on end",
                 job->plan->paddocks[longest].id, most);
    if (over > 1)
        fw_text_addf(&words, ", and %zu more for over %d", over - 1,
                     rule->most_days);
    struct breach breach = of_field(job, index, rule);
    if (job->plan->season != FW_SEASON_GROWTH)
        breach.level = FW_LEVEL_NOTE;
    return tell(job, &breach, &words, err);
}

/* ---- water ---- */

static enum fw_status no_water(struct fw_plan_job *job, size_t index,
                               struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_plan_field *field = &plan->fields[index];
    const size_t grazed = fw_plan_grazed_before(plan, index);
    size_t dry = 0, first = FW_NONE;
    for (size_t i = grazed; i < field->paddock_count; i++) {
        const size_t paddock = field->first_paddock + i;
        if (plan->paddocks[paddock].water != FW_NONE)
            continue;
        first = first == FW_NONE ? paddock : first;
        dry++;
    }
    if (dry == 0)
        return FW_OK;
    const struct breach breach =
        of_field(job, index, fw_safety_rule_find("no-water"));
    struct fw_text words = {0};
    fw_text_addf(&words, "%zu of %zu paddocks, first %s, have no water", dry,
                 field->paddock_count - grazed, plan->paddocks[first].id);
    return tell(job, &breach, &words, err);
}

/* Is the water carried only when there is an opening into where it goes? */
static bool comes_late(const struct fw_time *time, const struct fw_move *move)
{
    bool open = false;
    for (size_t i = 0; i < move->steps.count; i++) {
        const enum fw_step_kind kind = time->steps[move->steps.first + i].kind;
        if (kind == FW_STEP_CARRY)
            return open;
        open |= kind == FW_STEP_OPEN;
    }
    return move->carries;
}

static enum fw_status water_first(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("water-first");
    const struct fw_time *time = &job->plan->time;
    enum fw_status status = FW_OK;
    for (size_t m = 0; !status && m < time->move_count; m++) {
        char day[FW_DATE_TEXT];
        struct fw_text words = {0};
        const struct breach breach = of_field(job, time->moves[m].field, rule);
        if (!comes_late(time, &time->moves[m]))
            continue;
        fw_text_addf(&words, "on %s", fw_date_write(time->moves[m].day, day));
        status = tell(job, &breach, &words, err);
    }
    return status;
}

/* ---- lambs ---- */

/* Those that are small enough to creep. */
static bool has_small_lambs(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->class_count; i++) {
        const enum fw_state state = plan->classes[i].state;
        if (state == FW_LAMB_AT_FOOT || state == FW_LACTATION_SINGLE ||
            state == FW_LACTATION_TWINS)
            return true;
    }
    return false;
}

/* Then lambs that creep are found again. */
static bool boundary_holds_lambs(const struct fw_plan *plan)
{
    for (size_t i = 0; i < plan->field_count; i++) {
        const struct fw_plan_field *field = &plan->fields[i];
        if (field->rings.ring_count > 1 && field->hole_holds != FW_HOLDS_LAMBS)
            return false;
        for (size_t k = 0; k < field->corner_count; k++)
            if (field->sides[k].holds != FW_HOLDS_LAMBS)
                return false;
    }
    return true;
}

static enum fw_status lambs_wire(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("lambs-wire");
    const struct fw_plan *plan = job->plan;
    const double lowest_m = plan->moved.height_bottom_m,
                 rounding = FW_TOLERANCE(1e-9);
    if (!has_small_lambs(plan) || plan->totals.kit.reels == 0 ||
        lowest_m <= rule->wanted_m + rounding)
        return FW_OK;
    struct breach breach = {rule, rule->level, FW_NONE, "moved fence"};
    struct fw_text words = {0};
    fw_text_add(&words, "the lowest wire is at ");
    say_height(&words, job, lowest_m, ceil);
    if (boundary_holds_lambs(plan)) {
        fw_text_add(&words, ", and only the boundary holds lambs");
        breach.level = FW_LEVEL_NOTE;
    }
    return tell(job, &breach, &words, err);
}

/* ---- legumes ---- */

static enum fw_status bloat(struct fw_plan_job *job, size_t index,
                            struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("bloat");
    const double legume = job->farm->fields[index].sward.legume;
    if (!(legume > rule->most_share))
        return FW_OK;
    const struct breach breach = of_field(job, index, rule);
    struct fw_text words = {0};
    fw_text_addf(&words, "%.0f %% of the sward are legumes", 100 * legume);
    return tell(job, &breach, &words, err);
}

bool fw_plan__near_tupping(const struct fw_farm *farm, int *from, int *to)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find("red-clover");
    if (!farm->lambing.given)
        return false;
    *from = farm->lambing.from - FW_GESTATION_DAYS - rule->most_days;
    *to = farm->lambing.to - FW_GESTATION_DAYS + rule->most_days + 1;
    return true;
}

static enum fw_status red_clover(struct fw_plan_job *job, size_t index,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const struct fw_nights nights = fw_plan_nights_of(plan, index);
    int from, to;
    /* None of it, by the farm's own word. */
    const double legume = job->farm->fields[index].sward.legume;
    if (!(legume < 0 || legume > 0) || nights.from == FW_NO_DAY ||
        !fw_plan__near_tupping(job->farm, &from, &to))
        return FW_OK;
    const int first = nights.from, last = nights.to;
    if (last <= from || first >= to)
        return FW_OK;
    const struct breach breach =
        of_field(job, index, fw_safety_rule_find("red-clover"));
    struct fw_text words = {0};
    char begins[FW_DATE_TEXT], ends[FW_DATE_TEXT];
    fw_text_addf(&words, "from %s to %s ewes are within 6 weeks of tupping",
                 fw_date_write(from > first ? from : first, begins),
                 fw_date_write((to < last ? to : last) - 1, ends));
    return tell(job, &breach, &words, err);
}

/* ---- signs ---- */

static enum fw_status signs(struct fw_plan_job *job, const char *id,
                            double told_m, struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find(id);
    const struct breach breach = {rule, rule->level, FW_NONE, "signs"};
    struct fw_text words = {0};
    if (!(told_m > rule->sign_interval_m))
        return FW_OK;
    fw_text_addf(
        &words, "%.0f %s, not %.0f", is_us(job) ? told_m / FW_FOOT_M : told_m,
        is_us(job) ? "ft" : "m",
        is_us(job) ? rule->sign_interval_m / FW_FOOT_M : rule->sign_interval_m);
    return tell(job, &breach, &words, err);
}

static enum fw_status try_field(struct fw_plan_job *job, size_t index,
                                struct fw_error *err)
{
    enum fw_status (*const tries[])(struct fw_plan_job *, size_t,
                                    struct fw_error *) = {
        no_water, worms_left, worms_days, bloat, red_clover};
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < sizeof tries / sizeof *tries; i++)
        status = tries[i](job, index, err);
    return status;
}

enum fw_status fw_plan__kept(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < job->plan->field_count; i++)
        if (job->plan->fields[i].paddock_count > 0)
            status = try_field(job, i, err);
    if (!status)
        status = water_first(job, err);
    if (!status)
        status = lambs_wire(job, err);
    if (!status)
        status = signs(job, "path-signs", farm->sign_path_m, err);
    return status ? status : signs(job, "road-signs", farm->sign_road_m, err);
}
