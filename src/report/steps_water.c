/* Where the trough goes, for whom and until when, and what to fill. */
#include "report/steps.h"

#include "figures/plan.h"
#include "figures/say.h"

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
    if (!saying->outline)
        say_filling(line, saying, trough);
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
        fw_text_add(line, "The trough stays; mineral last.");
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
    fw_text_add(line, "; mineral last.");
}
