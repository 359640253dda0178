/* What nobody has told the program and is dangerous not to know, and what the
 * plan itself should warn of. */
#include "base/fail.h"
#include "choice/limits.h"
#include "figures/mark.h"
#include "figures/say.h"
#include "make/parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static enum fw_status ask(struct fw_plan *plan, const char *where,
                          const char *text, struct fw_error *err)
{
    return fw_notes_add(&plan->untold, FW_LEVEL_DANGER, where, err, "%s", text);
}

/* The sides of a field that have that answer, as "1, 3, 4". */
struct sides {
    char text[160];
    size_t count, of; /* how many of how many that are no front */
    bool edges;       /* also where ground is taken off, which has no number */
};

enum question { HOLDS, HOT };

/* A front is no side to ask about; a side that comes in several parts is asked
 * about once. */
static bool is_asked(const struct fw_plan_field *field, size_t side)
{
    const size_t number = fw_plan_side_number(field, side);
    if (number == 0)
        return field->sides[side].hot != FW_YES;
    for (size_t i = 0; field->side_number_count && i < side; i++)
        if (field->side_numbers[i] == number)
            return false;
    return true;
}

static struct sides sides_with(const struct fw_plan_field *field,
                               enum question question, int answer)
{
    struct sides sides = {.count = 0};
    size_t length = 0;
    for (size_t i = 0; i < field->corner_count; i++) {
        const int given = question == HOT ? (int)field->sides[i].hot
                                          : (int)field->sides[i].holds;
        if (!is_asked(field, i))
            continue;
        sides.of++;
        if (given != answer)
            continue;
        sides.count++;
        const size_t number = fw_plan_side_number(field, i);
        if (number == 0) {
            sides.edges = true;
            continue;
        }
        const int n = snprintf(sides.text + length, sizeof sides.text - length,
                               "%s%zu", length ? ", " : "", number);
        if (n > 0 && (size_t)n < sizeof sides.text - length)
            length += (size_t)n;
    }
    return sides;
}

/* "side 3", "sides 1, 4", or "the boundary" when it is all of them. Are they
 * several? */
static bool name_sides(const struct sides *sides, char *text, size_t room)
{
    static const char edges[] = "the edge of what is not grazed";
    const bool several = strchr(sides->text, ',') != NULL;
    if (sides->count == sides->of)
        snprintf(text, room, "the boundary");
    else if (!sides->text[0])
        snprintf(text, room, "%s", edges);
    else
        snprintf(text, room, "side%s %s%s%s", several ? "s" : "", sides->text,
                 sides->edges ? " and " : "", sides->edges ? edges : "");
    return sides->count < sides->of && sides->text[0] &&
           (several || sides->edges);
}

static enum fw_status ask_boundary(struct fw_plan *plan, size_t index,
                                   struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    char where[220], text[512];
    enum fw_status status = FW_OK;
    struct sides sides = sides_with(field, HOLDS, FW_HOLDS_UNTOLD);
    if (sides.count) {
        const bool several = name_sides(&sides, where, sizeof where);
        snprintf(text, sizeof text,
                 "%s %s hold sheep? Walk it before they come",
                 several ? "do" : "does", where);
        status = ask(plan, field->name, text, err);
    }
    sides = sides_with(field, HOT, FW_UNTOLD);
    if (!status && sides.count > 0 && sides.count == sides.of)
        status = ask(plan, field->name,
                     "is the boundary fence hot? A moved line must be fed "
                     "from somewhere",
                     err);
    if (!status && field->rings.ring_count > 1 &&
        field->hole_holds == FW_HOLDS_UNTOLD)
        status = ask(plan, field->name,
                     "does anything keep sheep out of the pond or the ground "
                     "cut out of this field?",
                     err);
    return status;
}

static enum fw_status warn_sides(struct fw_plan *plan,
                                 const struct fw_plan_field *field,
                                 enum fw_holds holds, const char *what,
                                 struct fw_error *err)
{
    const struct sides sides = sides_with(field, HOLDS, (int)holds);
    if (sides.count == 0)
        return FW_OK;
    char where[220];
    const bool several = name_sides(&sides, where, sizeof where);
    return fw_notes_add(&plan->notes, FW_LEVEL_DANGER, field->name, err,
                        "%s hold%s %s", where, several ? "" : "s", what);
}

static enum fw_status warn_boundary(struct fw_plan *plan, size_t index,
                                    bool lambs, struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    enum fw_status status =
        warn_sides(plan, field, FW_HOLDS_NOTHING,
                   "nothing: fence it before the flock comes", err);
    if (!status && lambs)
        status =
            warn_sides(plan, field, FW_HOLDS_SHEEP,
                       "grown sheep but not lambs, and there are lambs", err);
    if (!status && field->rings.ring_count > 1 &&
        field->hole_holds == FW_HOLDS_NOTHING)
        status = fw_notes_add(&plan->notes, FW_LEVEL_DANGER, field->name, err,
                              "nothing keeps sheep out of the pond or the "
                              "ground cut out of this field: fence it off");
    return status;
}

static enum fw_status ask_flock(struct fw_plan *plan, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < plan->class_count; i++) {
        const struct fw_flock_class *sheep = &plan->classes[i];
        if (sheep->trained == FW_UNTOLD)
            status = ask(plan, sheep->name,
                         "are they trained to electric fence? Sheep that do "
                         "not know it walk through",
                         err);
        else if (sheep->trained == FW_NO)
            status =
                fw_notes_add(&plan->notes, FW_LEVEL_DANGER, sheep->name, err,
                             "they are not trained to electric fence: "
                             "train them first, inside a boundary that "
                             "holds them");
    }
    return status;
}

static enum fw_status ask_road(struct fw_plan_job *job, struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    if ((farm->mapped | farm->looked) & 1U << FW_ROLE_ROAD)
        return FW_OK;
    return ask(job->plan, "",
               "what stands between the flock and the nearest road? No map of "
               "roads was given: look, and say so (looked: [road])",
               err);
}

static enum fw_status warn_pieces(struct fw_plan *plan, size_t index,
                                  struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    enum fw_status status = FW_OK;
    for (size_t i = fw_plan_grazed_before(plan, index);
         !status && i < field->paddock_count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[field->first_paddock + i];
        if (paddock->pieces > 1)
            status =
                fw_notes_add(&plan->notes, FW_LEVEL_WARNING, paddock->id, err,
                             "lies in %d pieces: the flock "
                             "reaches only the one with the opening",
                             paddock->pieces);
    }
    return status;
}

/* Ground that waits and is walked over is told on the move's own step too. */
static enum fw_status warn_crossing(struct fw_plan *plan, struct fw_error *err)
{
    const struct fw_time *time = &plan->time;
    enum fw_status status = FW_OK;
    for (size_t m = 0; !status && m < time->move_count; m++) {
        const struct fw_list *steps = &time->moves[m].steps;
        for (size_t i = steps->first; i < steps->first + steps->count; i++) {
            const struct fw_step *step = &time->steps[i];
            const size_t to = fw_plan_move_to(plan, m);
            char day[FW_DATE_TEXT], over[FW_SAID];
            if (!(step->over_m > 0))
                continue;
            status = fw_notes_add(
                &plan->notes, FW_LEVEL_WARNING, plan->fields[step->field].name,
                err,
                "on %s they are walked over %s of ungrazed grass, the "
                "first of it in %s, %s%s: walk with them, and do not let them "
                "stop",
                fw_date_write(time->moves[m].day, day),
                fw_say_measured(ceil(step->over_m), 0, plan->units, FW_UP,
                                over),
                plan->paddocks[time->items[step->cells.first]].id,
                to == FW_NONE ? "on the way out" : "to ",
                to == FW_NONE ? "" : plan->paddocks[to].id);
        }
    }
    return status;
}

/* A part of a field without a plan has no fence that keeps them off it. */
static enum fw_status warn_part(struct fw_plan *plan, size_t index,
                                struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    if (!field->no_plan || !field->part_of)
        return FW_OK;
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, field->name, err,
        "has no plan, so that nothing here fences it off from the rest of %s: "
        "do that before they come, or they go over it with the rest",
        field->part_of);
}

static enum fw_status note_border(struct fw_plan *plan, size_t fence,
                                  struct fw_error *err)
{
    const struct fw_plan_field *field =
        &plan->fields[plan->fences[fence].field];
    return fw_notes_add(
        &plan->notes, FW_LEVEL_NOTE, field->name, err,
        "is a part of %s, for the condition of its grass: %s on its border "
        "stands from the first day until their turn there, and they come in "
        "through it, not by the gate",
        field->part_of, plan->fences[fence].id);
}

/* What stands behind a front is not in the plan. */
static enum fw_status note_front(struct fw_plan *plan, size_t index,
                                 struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    for (size_t i = field->first_fence;
         i < field->first_fence + field->fence_count; i++)
        if (fw_plan_is_border(plan, i))
            return note_border(plan, i, err);
        else if (plan->fences[i].stood && fw_plan_is_outer_front(plan, i))
            return fw_notes_add(
                &plan->notes, FW_LEVEL_NOTE, field->name, err,
                "goes on from the front %s, which stands: its posts and wire "
                "count, what stands behind it does not",
                plan->fences[i].id);
    return FW_OK;
}

static enum fw_status note_last(struct fw_plan *plan, size_t index,
                                struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    const struct fw_plan_paddock *last =
        &plan->paddocks[field->first_paddock + field->paddock_count -
                        (field->paddock_count > 0)];
    if (field->paddock_count == 0 ||
        !(field->last_share < 1 - FW_TOLERANCE(0.005)) || last->stay_days >= 1)
        return FW_OK;
    return fw_notes_add(&plan->notes, FW_LEVEL_NOTE, last->id, err,
                        "the last paddock of %s feeds them for %.1f of a day "
                        "only",
                        field->name, last->stay_days);
}

static enum fw_status warn_accuracy(struct fw_plan *plan, size_t index,
                                    struct fw_error *err)
{
    const struct fw_plan_field *field = &plan->fields[index];
    char within[FW_SAID];
    if (!(field->crs_accuracy_m > 1))
        return FW_OK;
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, field->name, err,
        "its coordinate system is known to within %s on the "
        "ground: a phone will stand that far off",
        fw_say_measured(field->crs_accuracy_m, 0, plan->units, FW_UP, within));
}

enum fw_status fw_plan__untold(struct fw_plan_job *job, struct fw_error *err)
{
    struct fw_plan *plan = job->plan;
    const bool lambs =
        fw_flock_lambs(plan->classes, plan->class_count) != FW_LAMBS_NONE;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < plan->field_count; i++)
        status = ask_boundary(plan, i, err);
    if (!status)
        status = ask_flock(plan, err);
    if (!status)
        status = ask_road(job, err);
    for (size_t i = 0; !status && i < plan->field_count; i++) {
        status = warn_boundary(plan, i, lambs, err);
        if (!status)
            status = warn_pieces(plan, i, err);
        if (!status)
            status = note_front(plan, i, err);
        if (!status)
            status = warn_part(plan, i, err);
        if (!status)
            status = fw_plan__warn_limits(job, i, err);
        if (!status)
            status = note_last(plan, i, err);
        if (!status)
            status = warn_accuracy(plan, i, err);
    }
    if (!status)
        status = fw_plan__note_wires(job, err);
    return status ? status : warn_crossing(plan, err);
}
