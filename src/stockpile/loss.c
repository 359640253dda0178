/* What winter takes of standing grass, by where it was measured. */
#include "stockpile/stockpile.h"

#include "base/fail.h"
#include "base/text.h"
#include "figures/stockpile.h"

#include <string.h>

static const struct fw_stockpile_loss losses[] = {
    {"oregon", FW_LOSS_OREGON, FW_LOSS_OREGON_LEAST, FW_LOSS_OREGON_MOST},
    {"missouri", FW_LOSS_MISSOURI, FW_LOSS_MISSOURI_LEAST,
     FW_LOSS_MISSOURI_MOST},
    {"wisconsin", FW_LOSS_WISCONSIN, FW_LOSS_WISCONSIN_LEAST,
     FW_LOSS_WISCONSIN_MOST},
    {"tennessee", FW_LOSS_TENNESSEE, FW_LOSS_TENNESSEE_LEAST,
     FW_LOSS_TENNESSEE_MOST},
};
enum { loss_count = sizeof losses / sizeof *losses };

const struct fw_stockpile_loss *fw_stockpile_losses(size_t *count)
{
    *count = loss_count;
    return losses;
}

enum fw_status fw_stockpile_loss_find(const char *word,
                                      const struct fw_stockpile_loss **out,
                                      struct fw_error *err)
{
    const char *words[loss_count];
    for (size_t i = 0; i < loss_count; i++) {
        words[i] = losses[i].word;
        if (strcmp(word, words[i]) == 0) {
            *out = &losses[i];
            return FW_OK;
        }
    }
    const char *near = fw_text_nearest(word, words, loss_count);
    return fw_fail(err, FW_EINPUT,
                   "\"%.60s\" is no place where winter's loss was measured; "
                   "%s%s%s",
                   word, near ? "did you mean " : "expected a share such as ",
                   near ? near
                        : "25 %, or oregon, missouri, wisconsin or tennessee",
                   near ? "?" : "");
}
