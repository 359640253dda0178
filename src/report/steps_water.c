/* Where the trough goes, for whom and until when, and what to fill. */
#include "report/steps.h"

#include "base/whole.h"
#include "figures/plan.h"
#include "figures/say.h"
#include "figures/water.h"

#include <math.h>
#include <string.h>

/* The trough that the stay of a move drinks from; NULL: it has none. */
static const struct fw_plan_water *trough_of(const struct fw_plan *plan,
                                             size_t move)
{
    const size_t to = fw_plan_move_to(plan, move);
    const size_t water = to == FW_NONE ? FW_NONE : plan->paddocks[to].water;
    return water != FW_NONE &&
                   strcmp(plan->waters[water].kind_of, "trough") == 0
               ? &plan->waters[water]
               : NULL;
}

/* Of those that follow the last one that it serves without a shift. */
static size_t last_served(const struct fw_plan *plan, size_t move)
{
    const struct fw_plan_water *trough = trough_of(plan, move);
    while (move + 1 < plan->time.move_count &&
           trough_of(plan, move + 1) == trough)
        move++;
    return move;
}

/* "33 paces from the gate of Tammik, bearing 45 (north-east)" */
static void say_place(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_water *trough)
{
    const struct fw_plan_gate *gate = &plan->gates[trough->opening];
    fw_text_addf(line, ", %d paces from ", trough->paces);
    if (gate->fence != FW_NONE)
        fw_text_addf(line, "the opening in %s", plan->fences[gate->fence].id);
    else if (plan->field_count > 1)
        fw_text_addf(line, "the gate of %s", plan->fields[gate->field].name);
    else
        fw_text_add(line, "the gate");
    fw_text_addf(line, ", bearing %.0f (%s)", trough->bearing_deg,
                 fw_report_compass(trough->bearing_deg));
}

/* Grass may be so wet that they hardly come. */
static const double hardly_l = 1;

static void say_fill(struct fw_text *line, const struct fw_plan *plan,
                     const struct fw_plan_water *trough)
{
    char expected[FW_WORDS], hot[FW_WORDS];
    fw_report_volume(trough->litres_day, plan->units, expected);
    fw_report_volume(trough->hot_l_day, plan->units, hot);
    if (trough->litres_day < hardly_l)
        fw_text_addf(line, " On grass so wet they may hardly drink, have %s by",
                     fw_report_volume(trough->on_hand_l, plan->units, hot));
    else
        fw_text_addf(line, " Fill %s a day, in heat %s", expected, hot);
}

static void say_filling(struct fw_text *line,
                        const struct fw_report_saying *saying,
                        const struct fw_plan_water *trough)
{
    const struct fw_plan *plan = saying->plan;
    const size_t last = last_served(plan, saying->move);
    const struct fw_nights nights =
        fw_time_nights(&plan->time, plan->time.moves[last].stay);
    char until[FW_WORDS];
    say_fill(line, plan, trough);
    fw_text_addf(line, "; it stays until %s. Mineral last, well away.",
                 fw_report_day(nights.to, false, until));
    if (plan->season == FW_SEASON_DORMANT)
        fw_text_add(line,
                    " Keep it on firm ground, by a track where there is one, "
                    "and move it when the ground about it is mud, whatever "
                    "the day. In frost bring it in two small hauls, drain the "
                    "hose after each and break the ice twice.");
    if (saying->move > 0 && trough_of(plan, saying->move - 1) &&
        trough_of(plan, saying->move - 1) != trough)
        fw_text_add(line, " No full trough is shifted: two leapfrog, or they "
                          "drink the old one down.");
}

/* A line that is hot hangs over it. */
static void say_under(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_water *trough)
{
    char raised[FW_SAID], sleeved[FW_SAID];
    const char *fence = plan->fences[trough->fence].id;
    fw_text_addf(
        line,
        " Half of it on either side of %s, which is unhooked and read "
        "dead meanwhile: raise its wires over the trough to %s, or "
        "sleeve them for %s, hook on and read again.",
        fence, fw_say_wanted(FW_TROUGH_RAISED_M, plan->units, FW_UP, raised),
        fw_say_wanted(FW_TROUGH_SLEEVE_M, plan->units, FW_UP, sleeved));
}

/* The stay before had it already. */
static bool is_there(const struct fw_plan *plan, size_t move)
{
    return move > 0 && trough_of(plan, move - 1) == trough_of(plan, move);
}

/* ---- the way of the tank ---- */

struct passages { /* of one move, in the order of the way */
    const struct fw_plan_passage *items;
    size_t count, opened;
};

static struct passages passages_of(const struct fw_plan *plan, size_t move)
{
    struct passages of = {0};
    for (size_t i = 0; i < plan->passage_count; i++) {
        if (plan->passages[i].move != move)
            continue;
        if (of.count++ == 0)
            of.items = &plan->passages[i];
        of.opened += plan->passages[i].opened;
    }
    return of;
}

/* Else it is laid flat there: polywire does not open in mid-run. */
static bool is_at_end(const struct fw_plan *plan,
                      const struct fw_plan_passage *passage)
{
    const double long_m = plan->fences[passage->fence].length_m;
    return fmin(passage->at_m, long_m - passage->at_m) <= FW_HAUL_OPENING_M;
}

/* "at its end A", "63 paces from its end A"; brief "at A", "63 from A" */
static void say_where(struct fw_text *line, const struct fw_plan *plan,
                      const struct fw_plan_passage *passage, bool brief)
{
    const double from_b_m =
        plan->fences[passage->fence].length_m - passage->at_m;
    const bool at_b = from_b_m < passage->at_m;
    const char *end = at_b ? "B" : "A";
    const int paces =
        fw_whole((at_b ? from_b_m : passage->at_m) / plan->pace_m);
    if (is_at_end(plan, passage))
        fw_text_addf(line, brief ? " at %s" : " at its end %s", end);
    else
        fw_text_addf(line, brief ? " %d from %s" : ", %d paces from its end %s",
                     paces, end);
}

static const char *say_rest(const struct fw_plan *plan,
                            const struct fw_plan_passage *passage,
                            char text[FW_WORDS])
{
    return fw_say_measured(passage->rest_m, 0, plan->units, FW_UP, text);
}

/* Through the fences that are opened. */
static void say_opened(struct fw_text *line, const struct fw_plan *plan,
                       const struct passages *of)
{
    size_t flock = FW_NONE;
    bool flat = false;
    char rest[FW_WORDS];
    fw_text_add(line, " The tank comes through");
    for (size_t i = 0; i < of->opened; i++) {
        fw_text_addf(line, "%s %s",
                     i == 0               ? ""
                     : i + 1 < of->opened ? ","
                                          : " and",
                     plan->fences[of->items[i].fence].id);
        say_where(line, plan, &of->items[i], false);
        flat |= !is_at_end(plan, &of->items[i]);
        if (of->items[i].at_flock)
            flock = of->items[i].fence;
    }
    fw_text_addf(line, "%s dead first%s, and closed and hot again behind it",
                 of->opened > 1 ? ": each" : ":",
                 flat ? ", in mid-run laid flat under a board" : "");
    if (flock != FW_NONE)
        fw_text_addf(line, "; hold the flock off %s", plan->fences[flock].id);
    if (of->opened == of->count)
        fw_text_addf(line,
                     ". Or it stops before %s, and hose or buckets go "
                     "the last %s",
                     plan->fences[of->items[0].fence].id,
                     say_rest(plan, &of->items[0], rest));
    fw_text_add(line, ".");
}

static void say_tank(struct fw_text *line, const struct fw_plan *plan,
                     size_t move)
{
    const struct passages of = passages_of(plan, move);
    char rest[FW_WORDS];
    if (of.opened > 0)
        say_opened(line, plan, &of);
    if (of.opened < of.count)
        fw_text_addf(line,
                     " %s before %s, and the hose goes on under it, %s; keep "
                     "it off the wire.",
                     of.opened > 0 ? "It stops" : "The tank stops",
                     plan->fences[of.items[of.opened].fence].id,
                     say_rest(plan, &of.items[of.opened], rest));
}

void fw_report__say_carry(struct fw_text *line,
                          const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_water *trough = trough_of(plan, saying->move);
    const char *into = plan->paddocks[fw_plan_move_to(plan, saying->move)].id;
    if (!trough) {
        fw_text_addf(line, "Move water and mineral into %s.", into);
        return;
    }
    if (is_there(plan, saying->move))
        fw_text_addf(line, "The trough stays where it stands, and serves %s",
                     into);
    else if (trough->fence != FW_NONE)
        fw_text_addf(line, "Trough under %s", plan->fences[trough->fence].id);
    else
        fw_text_addf(line, "Trough into %s", into);
    if (trough->opening != FW_NONE && !is_there(plan, saying->move))
        say_place(line, plan, trough);
    fw_text_add(line, ".");
    if (trough->fence != FW_NONE && !is_there(plan, saying->move))
        say_under(line, plan, trough);
    if (saying->outline)
        return;
    say_tank(line, plan, saying->move);
    say_filling(line, saying, trough);
}

bool fw_report_has_tank(const struct fw_plan *plan, size_t move)
{
    return passages_of(plan, move).count > 0;
}

void fw_report_say_tank_brief(struct fw_text *line, const struct fw_plan *plan,
                              size_t move)
{
    const struct passages of = passages_of(plan, move);
    bool flat = false;
    size_t flock = FW_NONE;
    char rest[FW_WORDS];
    for (size_t i = 0; i < of.opened; i++) {
        const struct fw_plan_passage *passage = &of.items[i];
        fw_text_addf(line, "%s %s",
                     i == 0              ? " Tank through"
                     : i + 1 < of.opened ? ","
                                         : " and",
                     plan->fences[passage->fence].id);
        say_where(line, plan, passage, true);
        flat |= !is_at_end(plan, passage);
        if (passage->at_flock)
            flock = passage->fence;
    }
    if (of.opened > 0)
        fw_text_addf(line, ": %sdead first%s, hot again behind it",
                     of.opened > 1 ? "each " : "",
                     flat ? ", flat under a board" : "");
    if (flock != FW_NONE)
        fw_text_addf(line, "; hold them off %s", plan->fences[flock].id);
    if (of.opened > 0)
        fw_text_add(line, ".");
    if (of.opened < of.count)
        fw_text_addf(line, " %s before %s, hose %s on under it, off the wire.",
                     of.opened > 0 ? "It stops" : "Tank stops",
                     plan->fences[of.items[of.opened].fence].id,
                     say_rest(plan, &of.items[of.opened], rest));
}

void fw_report__say_carry_brief(struct fw_text *line,
                                const struct fw_report_saying *saying)
{
    const struct fw_plan *plan = saying->plan;
    const struct fw_plan_water *trough = trough_of(plan, saying->move);
    const char *into = plan->paddocks[fw_plan_move_to(plan, saying->move)].id;
    if (!trough) {
        fw_text_addf(line, "Water and mineral into %s.", into);
        return;
    }
    if (is_there(plan, saying->move)) {
        fw_text_add(line, plan->season == FW_SEASON_DORMANT
                              ? "The trough stays, but out of mud; mineral "
                                "last."
                              : "The trough stays; mineral last.");
        return;
    }
    const char letter = trough->opening == FW_NONE
                            ? '?'
                            : fw_report_letter_of(saying, trough->opening);
    if (trough->opening == FW_NONE)
        fw_text_addf(line, "Trough into %s", into);
    else if (plan->gates[trough->opening].fence == FW_NONE || letter == '?')
        fw_text_addf(
            line, "Trough: %d from the %s, bearing %.0f", trough->paces,
            plan->gates[trough->opening].fence == FW_NONE ? "gate" : "opening",
            trough->bearing_deg);
    else /* as its map has it */
        fw_text_addf(line, "Trough: %d from %c, bearing %.0f", trough->paces,
                     letter, trough->bearing_deg);
    if (trough->fence != FW_NONE)
        fw_text_addf(line, ", under %s, dead meanwhile, then raised or sleeved",
                     plan->fences[trough->fence].id);
    if (saying->outline && fw_report_has_tank(plan, saying->move)) {
        fw_text_add(line, "; tank: its page.");
        return;
    }
    fw_text_add(line, "; mineral last.");
    fw_report_say_tank_brief(line, plan, saying->move);
}
