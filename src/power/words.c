#include "power/words.h"

#include "base/fail.h"
#include "base/text.h"
#include "power/power.h"

#include <string.h>

static enum fw_status unknown(const struct fw_power_words *table,
                              const char *word, struct fw_error *err)
{
    char shown[64];
    fw_text_clip(word, shown, sizeof shown);
    const char *near = fw_text_nearest(word, table->words, table->count);
    if (near)
        return fw_fail(err, FW_EINPUT, "\"%s\" is not %s; did you mean %s?",
                       shown, table->what, near);
    struct fw_text all = {0};
    for (size_t i = 0; i < table->count; i++)
        fw_text_addf(&all, "%s%s", i ? ", " : "", table->words[i]);
    if (table->instead)
        fw_text_addf(&all, " or %s", table->instead);
    enum fw_status status = fw_text_done(&all, err);
    if (!status)
        status = fw_fail(err, FW_EINPUT, "\"%s\" is not %s; expected %s", shown,
                         table->what, all.bytes);
    fw_text_release(&all);
    return status;
}

enum fw_status fw_power__find(const struct fw_power_words *table,
                              const char *word, size_t *out,
                              struct fw_error *err)
{
    for (size_t i = 0; i < table->count; i++)
        if (strcmp(word, table->words[i]) == 0) {
            *out = i;
            return FW_OK;
        }
    return unknown(table, word, err);
}
