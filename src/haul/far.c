/* A walk that is longer than print has it for sheep, or that nobody can tell.
 */
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "figures/say.h"
#include "haul/haul.h"
#include "plan/words.h"
#include "water/water.h"

#include <math.h>

/* That there is no water is told as a danger. */
static enum fw_status note_untold(struct fw_plan *plan,
                                  enum fw_walk_untold untold,
                                  struct fw_error *err)
{
    const struct fw_plan_paddock *first = NULL;
    size_t without = 0;
    const size_t count = fw_plan_first_stays(plan);
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[i].cell];
        if (paddock->walk_untold != untold)
            continue;
        without++;
        first = first ? first : paddock;
    }
    if (!first)
        return FW_OK;
    char others[FW_ID] = "";
    if (without > 1)
        fw_text_format(others, sizeof others, ", as in %zu of %zu paddocks",
                       without, count);
    return fw_notes_add(&plan->notes, FW_LEVEL_WARNING, first->id, err,
                        "the walk to water is not told%s: %s", others,
                        fw_plan__untold_words[untold]);
}

enum { climb_words = FW_EFFORT(240) };

/* As long as on the level. */
static double level_m(const struct fw_plan_paddock *paddock)
{
    return fw_water_level_m(paddock->walk_max_m, paddock->climb_to_m,
                            paddock->climb_back_m);
}

/* ", with 22 m of climb on the way there and 3 m back as tiring as 385 m on the
 * level" */
static const char *say_climb(const struct fw_plan *plan,
                             const struct fw_plan_paddock *paddock,
                             char words[climb_words])
{
    char there[FW_SAID], back[FW_SAID], level[FW_SAID];
    *words = 0;
    if (fw_water_climbs(paddock->walk_max_m, paddock->climb_to_m,
                        paddock->climb_back_m))
        fw_text_format(words, climb_words,
                       ", with %s of climb on the way there and %s back as "
                       "tiring as %s on the level",
                       fw_say_length(paddock->climb_to_m, plan->units, there),
                       fw_say_length(paddock->climb_back_m, plan->units, back),
                       fw_say_length(level_m(paddock), plan->units, level));
    return words;
}

enum fw_status fw_plan__note_far_water(struct fw_plan *plan,
                                       struct fw_error *err)
{
    const struct fw_plan_paddock *farthest = NULL;
    size_t far = 0;
    enum fw_status status = FW_OK;
    for (int i = FW_WALK_CUT_OFF; !status && i <= FW_WALK_TOO_MUCH; i++)
        status = note_untold(plan, (enum fw_walk_untold)i, err);
    const size_t count = fw_plan_first_stays(plan);
    for (size_t i = 0; i < count; i++) {
        const struct fw_plan_paddock *paddock =
            &plan->paddocks[plan->time.stays[i].cell];
        if (!fw_water_distance_word(level_m(paddock)))
            continue;
        far++;
        if (!farthest || level_m(paddock) > level_m(farthest))
            farthest = paddock;
    }
    if (status || !farthest)
        return status;
    char others[FW_ID] = "", longest[FW_SAID], climb[climb_words];
    if (far > 1)
        fw_text_format(others, sizeof others, ", as in %zu of %zu paddocks",
                       far, count);
    return fw_notes_add(
        &plan->notes, FW_LEVEL_WARNING, farthest->id, err,
        "the walk to water is up to %s%s%s: %s; nearer water, or water at more "
        "places, shortens it (foldwright water)",
        fw_say_length(farthest->walk_max_m, plan->units, longest),
        say_climb(plan, farthest, climb), others,
        fw_water_distance_word(level_m(farthest)));
}
