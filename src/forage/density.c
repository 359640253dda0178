/* Mass by height: kilograms a hectare for each centimetre, by sward. */
#include <foldwright/forage.h>

#include "base/fail.h"

#include <string.h>

/* 1 lb/(acre in) in kg/(ha cm). */
#define LB (0.45359237 / 0.40468564224 / 2.54)
#define ONE(a, b, c)                                                           \
    {                                                                          \
        (a) * LB, (b)*LB, (c)*LB                                               \
    }
#define RANGE(a, b, c, d, e, f) ONE(a, c, e), ONE(b, d, f)

#define STICK "Cornell and NRCS pasture stick, University of Maine, appendix D"

static const struct fw_density_row rows[] = {
    {"bluegrass-clover", "bluegrass and clover",
     RANGE(150, 200, 250, 300, 350, 400), STICK},
    {"ryegrass-clover", "perennial ryegrass and clover",
     RANGE(150, 200, 250, 300, 350, 400), STICK},
    {"orchardgrass-legume", "orchardgrass (cocksfoot) and legume",
     RANGE(150, 200, 250, 300, 300, 350), STICK},
    {"timothy-legume", "timothy and legume",
     RANGE(150, 200, 250, 300, 300, 350), STICK},
    {"fescue-nitrogen", "tall fescue with nitrogen",
     RANGE(100, 150, 200, 250, 350, 400), STICK},
    {"fescue-legume", "tall fescue and legume", RANGE(0, 0, 200, 300, 0, 0),
     "Indiana pasture stick: 75 to 90 % cover"},
    {"mixed", "mixed pasture", RANGE(150, 200, 250, 300, 300, 350), STICK},
    {"pennsylvania-typical", "typical Pennsylvania pasture",
     RANGE(0, 0, 300, 300, 0, 0), "Penn State, four steps, step 4"},
};

const struct fw_density_row *fw_forage_rows(size_t *count)
{
    *count = sizeof rows / sizeof rows[0];
    return rows;
}

enum fw_status fw_forage_find(const char *word,
                              const struct fw_density_row **out,
                              struct fw_error *err)
{
    enum { count = sizeof rows / sizeof rows[0] };
    const char *words[count];
    for (size_t i = 0; i < count; i++) {
        words[i] = rows[i].word;
        if (strcmp(word, rows[i].word) == 0) {
            *out = &rows[i];
            return FW_OK;
        }
    }
    const char *near = fw_text_nearest(word, words, count);
    if (near)
        return fw_fail(err, FW_EINPUT,
                       "\"%.60s\" is not a known sward; did you mean %s?", word,
                       near);
    return fw_fail(err, FW_EINPUT,
                   "\"%.60s\" is not a known sward; expected bluegrass-clover, "
                   "ryegrass-clover, orchardgrass-legume, timothy-legume, "
                   "fescue-nitrogen, fescue-legume, mixed or "
                   "pennsylvania-typical",
                   word);
}
