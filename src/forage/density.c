/* Mass by height: kilograms a hectare for each centimetre, by sward. */
#include "forage/forage.h"

#include "base/fail.h"
#include "figures/forage.h"

#include <string.h>

/* Where no density is published. */
enum { FW_NONE_LEAST = 0, FW_NONE_MOST = 0 };

#define ROW(word, label, thin, good, thick)                                    \
    {                                                                          \
        word, label,                                                           \
            {FW_##thin##_LEAST, FW_##good##_LEAST, FW_##thick##_LEAST},        \
            {FW_##thin##_MOST, FW_##good##_MOST, FW_##thick##_MOST},           \
            FW_##good##_SOURCE                                                 \
    }

static const struct fw_density_row rows[] = {
    ROW("bluegrass-clover", "bluegrass and clover", SWARD_BLUEGRASS_THIN,
        SWARD_BLUEGRASS_GOOD, SWARD_BLUEGRASS_THICK),
    ROW("ryegrass-clover", "perennial ryegrass and clover", SWARD_RYEGRASS_THIN,
        SWARD_RYEGRASS_GOOD, SWARD_RYEGRASS_THICK),
    ROW("orchardgrass-legume", "orchardgrass (cocksfoot) and legume",
        SWARD_ORCHARDGRASS_THIN, SWARD_ORCHARDGRASS_GOOD,
        SWARD_ORCHARDGRASS_THICK),
    ROW("timothy-legume", "timothy and legume", SWARD_TIMOTHY_THIN,
        SWARD_TIMOTHY_GOOD, SWARD_TIMOTHY_THICK),
    ROW("fescue-nitrogen", "tall fescue with nitrogen",
        SWARD_FESCUE_NITROGEN_THIN, SWARD_FESCUE_NITROGEN_GOOD,
        SWARD_FESCUE_NITROGEN_THICK),
    ROW("fescue-legume", "tall fescue and legume", NONE,
        SWARD_FESCUE_LEGUME_GOOD, NONE),
    ROW("mixed", "mixed pasture", SWARD_MIXED_THIN, SWARD_MIXED_GOOD,
        SWARD_MIXED_THICK),
    ROW("pennsylvania-typical", "typical Pennsylvania pasture", NONE,
        SWARD_PENNSYLVANIA_GOOD, NONE),
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
