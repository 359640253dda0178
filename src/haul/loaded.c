/* The loaded tank tried against what its way is made of: the gate's width, the
 * fences that stand on that day, soft and steep ground, the hose, the load. */
#include "around/around.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "choice/days.h"
#include "figures/mark.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "figures/water.h"
#include "geo/points.h"
#include "haul/haul.h"
#include "haul/way.h"

#include <math.h>
#include <string.h>

/* The worst place of a field's ways, and to which paddock that way leads. */
struct worst {
    double value;
    size_t paddock;
    struct fw_point at;
};

/* What is found in one field. */
struct tried {
    size_t ways;        /* of the tank, one a trough */
    size_t crossed;     /* of them, with a fence to be opened */
    size_t first;       /* the first such passage; FW_NONE: there is none */
    struct worst hose;  /* m that reach with nothing opened */
    struct worst soft;  /* m over soft ground, on one way */
    struct worst slope; /* rise over run */
    size_t narrow;      /* a fence that opens too little; FW_NONE */
    double narrow_m;
};

struct trying {
    struct fw_plan_job *job;
    struct fw_plan__days days;
    double wanted_m; /* how wide an opening has to be */
    double step_m;   /* between two looks at the ground */
    struct tried *fields;
};

static double slope_most(const struct fw_plan *plan)
{
    return plan->hauling.slope > 0 ? plan->hauling.slope : FW_HAUL_SLOPE;
}

static bool is_soft(const struct fw_plan_job *job, size_t field,
                    struct fw_point at)
{
    return job->farm->fields[field].soft ||
           ((job->farm->mapped & 1U << FW_ROLE_SOFT) &&
            fw_plan__on_soft_ground(job, field, at));
}

static void take_worst(struct worst *worst, double value, size_t paddock,
                       struct fw_point at)
{
    if (value > worst->value + FW_TOLERANCE(1e-9))
        *worst = (struct worst){value, paddock, at};
}

/* ---- one way ---- */

static void look_at_ground(struct trying *trying, size_t paddock,
                           const struct fw_way *way)
{
    const struct fw_plan_job *job = trying->job;
    const size_t field = job->plan->paddocks[paddock].field;
    const struct fw_raster *heights = job->farm->fields[field].heights;
    const double cell_m = heights ? fmax(1, fw_raster_cell_m(heights) / 2) : 0;
    struct tried *tried = &trying->fields[field];
    struct fw_way_drive drive =
        fw_way_drive(way, job->plan->hauling.hose_m, trying->step_m);
    double soft_m = 0;
    struct fw_point soft_at = {0}, before = {0};
    for (bool first = true; fw_way_drive_on(&drive); first = false) {
        const struct fw_point at = drive.place;
        if (heights)
            take_worst(&tried->slope, fw_raster_slope(heights, cell_m / 2, at),
                       paddock, at);
        if (is_soft(job, field, at)) {
            soft_at = soft_m > 0 ? soft_at : at;
            soft_m += first ? 0 : fw_point_apart_m(before, at);
        }
        before = at;
    }
    take_worst(&tried->soft, soft_m, paddock, soft_at);
}

static enum fw_status keep_pass(struct trying *trying, size_t move,
                                const struct fw_way_pass *pass, bool opened,
                                struct fw_error *err)
{
    struct fw_plan *plan = trying->job->plan;
    enum fw_status status =
        fw_array_reserve(&plan->passages, &plan->passage_capacity,
                         plan->passage_count + 1, sizeof *plan->passages, err);
    if (status)
        return status;
    struct fw_plan_passage *passage = &plan->passages[plan->passage_count];
    *passage = (struct fw_plan_passage){
        .move = move,
        .fence = pass->line,
        .opened = opened,
        .at_m = pass->at_m,
        .at_flock = pass->at_flock,
        .rest_m = pass->rest_m,
    };
    status = fw_plan__place(trying->job, plan->fences[pass->line].field,
                            pass->place, &passage->place, err);
    plan->passage_count += status == FW_OK;
    return status;
}

static enum fw_status look_at_fences(struct trying *trying, size_t move,
                                     size_t paddock, const struct fw_way *way,
                                     struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    struct tried *tried = &trying->fields[plan->paddocks[paddock].field];
    const size_t opened = fw_way_opened(way, plan->hauling.hose_m);
    enum fw_status status = FW_OK;
    tried->ways++;
    for (size_t i = 0; !status && i < way->pass_count; i++) {
        const struct fw_way_pass *pass = &way->passes[i];
        status = keep_pass(trying, move, pass, i < opened, err);
        if (i < opened && pass->room_m < trying->wanted_m &&
            (tried->narrow == FW_NONE || pass->room_m < tried->narrow_m)) {
            tried->narrow = pass->line;
            tried->narrow_m = pass->room_m;
        }
    }
    if (status || opened == 0)
        return status;
    if (tried->crossed++ == 0)
        tried->first = plan->passage_count - way->pass_count;
    take_worst(&tried->hose, way->passes[0].rest_m, paddock,
               way->passes[0].stand);
    return FW_OK;
}

/* The paddock to which the tank comes: a trough that stays where it stood is
 * in that of an earlier stay; under a line it is at both. Of a move into a
 * paddock with a trough. */
static size_t leads_to(const struct trying *trying, size_t move)
{
    const struct fw_plan_job *job = trying->job;
    const struct fw_time *time = &job->plan->time;
    const size_t paddock = fw_plan_move_to(job->plan, move);
    const size_t water = job->plan->paddocks[paddock].water;
    return job->shared && job->plan->waters[water].fence == FW_NONE
               ? time->stays[job->shared[time->moves[move].stay].with].cell
               : paddock;
}

static enum fw_status try_way(struct trying *trying, size_t move,
                              struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const size_t paddock = fw_plan_move_to(plan, move);
    const size_t water =
        paddock == FW_NONE ? FW_NONE : plan->paddocks[paddock].water;
    struct fw_way way;
    if (water == FW_NONE || strcmp(plan->waters[water].kind_of, "trough") != 0)
        return FW_OK;
    enum fw_status status = fw_way_find(
        &trying->days.replay, leads_to(trying, move),
        plan->waters[water].place.plane, trying->wanted_m, &way, err);
    if (status || !way.known)
        return status;
    /* Under a line it is filled from either side of it. */
    while (plan->waters[water].fence != FW_NONE && way.pass_count > 0 &&
           way.passes[way.pass_count - 1].rest_m <= FW_TROUGH_REACH_M)
        way.pass_count--;
    look_at_ground(trying, paddock, &way);
    status = look_at_fences(trying, move, paddock, &way, err);
    fw_way_release(&way);
    return status;
}

/* As the lines stand when the trough is carried. */
static enum fw_status try_ways(struct trying *trying, struct fw_error *err)
{
    struct fw_replay *replay = &trying->days.replay;
    enum fw_status status = FW_OK;
    for (const struct fw_step *step = fw_replay_step(replay); !status && step;
         step = fw_replay_step(replay))
        if (step->kind == FW_STEP_CARRY)
            status = try_way(trying, replay->move, err);
    return status;
}

/* ---- in words ---- */

struct found {
    const char *rule;
    size_t field; /* FW_NONE: of the tank itself */
    size_t fence; /* or FW_NONE */
    const struct fw_point *where;
};

/* What is so, and what the rule has to say to it. The words are released. */
static enum fw_status tell(const struct trying *trying,
                           const struct found *what, struct fw_text *words,
                           struct fw_error *err)
{
    const struct fw_safety_rule *rule = fw_safety_rule_find(what->rule);
    struct fw_plan__around around = {.job = trying->job, .field = what->field};
    fw_text_addf(words, ": %s", rule->text);
    enum fw_status status = fw_text_done(words, err);
    const struct fw_plan__found found = {
        .rule = rule,
        .fence = what->fence,
        .where = what->where,
        .wanted_m = -1,
        .level = rule->level,
        .text = words->bytes,
        .about = what->field == FW_NONE
                     ? "water tank"
                     : trying->job->plan->fields[what->field].name,
    };
    if (!status)
        status = fw_plan__find(&around, &found, err);
    fw_text_release(words);
    return status;
}

static enum fw_status tell_gate(const struct trying *trying, size_t field,
                                struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const struct tried *tried = &trying->fields[field];
    const double width_m = plan->hauling.vehicle_width_m;
    const double gate_m = trying->job->farm->fields[field].gate_width_m;
    const struct fw_plan_place *gate = &plan->fields[field].gate;
    const bool at_gate = gate_m > 0 && gate_m < trying->wanted_m;
    char vehicle[FW_SAID], wanted[FW_SAID], room[FW_SAID];
    struct fw_text words = {0};
    if (!(width_m > 0) || (!at_gate && tried->narrow == FW_NONE))
        return FW_OK;
    const double room_m = at_gate ? gate_m : tried->narrow_m;
    fw_text_addf(
        &words, "the vehicle is %s wide and wants %s, and ",
        fw_say_measured(width_m, room_m, plan->units, FW_UP, vehicle),
        fw_say_measured(trying->wanted_m, room_m, plan->units, FW_UP, wanted));
    fw_say_measured(room_m, trying->wanted_m, plan->units, FW_DOWN, room);
    if (at_gate)
        fw_text_addf(&words, "the gate has %s", room);
    else
        fw_text_addf(&words, "%s opens by %s", plan->fences[tried->narrow].id,
                     room);
    const struct found found = {"haul-gate", field,
                                at_gate ? FW_NONE : tried->narrow,
                                at_gate && gate->given ? &gate->plane : NULL};
    return tell(trying, &found, &words, err);
}

/* Without a hose: how often, the first, and the hose that would do. */
static enum fw_status tell_fence(const struct trying *trying, size_t field,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const struct tried *tried = &trying->fields[field];
    const double hose_m = plan->hauling.hose_m;
    char longest[FW_SAID], told[FW_SAID], day[FW_DATE_TEXT];
    struct fw_text words = {0};
    if (tried->crossed == 0)
        return FW_OK;
    const struct fw_plan_passage *first = &plan->passages[tried->first];
    fw_say_measured(tried->hose.value, hose_m, plan->units, FW_UP, longest);
    if (hose_m > 0)
        fw_text_addf(&words,
                     "from where the tank can stand the hose of %s is too "
                     "short on %zu of %zu moves, first on %s before %s; %s, "
                     "for %s, reach on all of them",
                     fw_say_length(hose_m, plan->units, told), tried->crossed,
                     tried->ways,
                     fw_date_write(plan->time.moves[first->move].day, day),
                     plan->fences[first->fence].id, longest,
                     plan->paddocks[tried->hose.paddock].id);
    else
        fw_text_addf(&words,
                     "on %zu of %zu moves fences stand across the way of the "
                     "tank to the trough, first %s on %s; a hose of %s reaches "
                     "on all of them with none opened",
                     tried->crossed, tried->ways, plan->fences[first->fence].id,
                     fw_date_write(plan->time.moves[first->move].day, day),
                     longest);
    const struct found found = {hose_m > 0 ? "haul-hose" : "haul-fence", field,
                                first->fence, &tried->hose.at};
    return tell(trying, &found, &words, err);
}

static enum fw_status tell_soft(const struct trying *trying, size_t field,
                                struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const struct worst *soft = &trying->fields[field].soft;
    char far[FW_SAID];
    struct fw_text words = {0};
    if (!(soft->value > 0))
        return FW_OK;
    fw_text_addf(&words,
                 "the loaded tank comes over %s of soft ground to the trough "
                 "of %s, where none will do",
                 fw_say_measured(soft->value, 0, plan->units, FW_UP, far),
                 plan->paddocks[soft->paddock].id);
    const struct found found = {"haul-soft", field, FW_NONE, &soft->at};
    return tell(trying, &found, &words, err);
}

static enum fw_status tell_slope(const struct trying *trying, size_t field,
                                 struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const struct worst *slope = &trying->fields[field].slope;
    const double most = slope_most(plan);
    struct fw_text words = {0};
    if (!(slope->value > most + FW_TOLERANCE(1e-6)))
        return FW_OK;
    fw_text_addf(&words,
                 "the way of the loaded tank to the trough of %s is as steep "
                 "as %.0f %%, over %g %%",
                 plan->paddocks[slope->paddock].id,
                 fw_say_round(100 * slope->value, 0, FW_UP), 100 * most);
    const struct found found = {"haul-slope", field, FW_NONE, &slope->at};
    return tell(trying, &found, &words, err);
}

static enum fw_status tell_load(const struct trying *trying,
                                struct fw_error *err)
{
    const struct fw_plan *plan = trying->job->plan;
    const struct fw_farm_hauling *told = &plan->hauling;
    const double full_kg = plan->tank_l + told->tank_kg; /* a litre is 1 kg */
    char full[FW_SAID], most[FW_SAID], fill[FW_SAID];
    struct fw_text words = {0};
    if (!(told->payload_kg > 0) || !(full_kg > told->payload_kg))
        return FW_OK;
    fw_text_addf(
        &words,
        "full it weighs %s%s, and the vehicle may carry %s: fill it "
        "to %s",
        fw_say_mass(full_kg, plan->units, full),
        told->tank_kg > 0 ? " in all" : " of water",
        fw_say_mass(told->payload_kg, plan->units, most),
        fw_say_volume(told->payload_kg - told->tank_kg, plan->units, fill));
    const struct found found = {"haul-load", FW_NONE, FW_NONE, NULL};
    return tell(trying, &found, &words, err);
}

static enum fw_status tell_all(const struct trying *trying,
                               struct fw_error *err)
{
    enum fw_status (*const tells[])(const struct trying *, size_t,
                                    struct fw_error *) = {
        tell_gate, tell_fence, tell_soft, tell_slope};
    bool hauled = false;
    enum fw_status status = FW_OK;
    for (size_t f = 0; !status && f < trying->job->plan->field_count; f++) {
        if (trying->fields[f].ways == 0)
            continue;
        hauled = true;
        for (size_t i = 0; !status && i < sizeof tells / sizeof *tells; i++)
            status = tells[i](trying, f, err);
    }
    return status || !hauled ? status : tell_load(trying, err);
}

enum fw_status fw_plan__loaded(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_plan *plan = job->plan;
    const double width_m = plan->hauling.vehicle_width_m;
    const double look_m = 2;
    struct trying trying = {
        .job = job,
        .wanted_m =
            width_m > 0 ? width_m + 2 * FW_HAUL_SIDE_M : FW_HAUL_OPENING_M,
        .step_m = look_m,
    };
    if (!(plan->tank_l > 0))
        return FW_OK;
    trying.fields = fw_alloc(plan->field_count, sizeof *trying.fields);
    enum fw_status status = trying.fields
                                ? fw_plan__days_init(&trying.days, plan, err)
                                : fw_fail_memory(err);
    for (size_t f = 0; trying.fields && f < plan->field_count; f++)
        trying.fields[f].first = trying.fields[f].narrow = FW_NONE;
    if (!status) {
        status = try_ways(&trying, err);
        if (!status)
            status = tell_all(&trying, err);
        fw_plan__days_release(&trying.days);
    }
    fw_free(trying.fields);
    return status;
}
