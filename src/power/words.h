/* Finding a row of a table by its word. */
#ifndef FW_POWER_WORDS_H
#define FW_POWER_WORDS_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

/* The words and what they name: "a conductor"; instead: what may stand in
 * place of a word, "" or NULL for nothing. */
struct fw_power_words {
    const char *const *words;
    size_t count;
    const char *what;
    const char *instead;
};

/* FW_EINPUT: none of the words; the nearest is suggested, or all are named. */
enum fw_status fw_power__find(const struct fw_power_words *table,
                              const char *word, size_t *out,
                              struct fw_error *err);

/* Rods of so many metres by the joules; one may do for a small portable set in
 * soil that is not dry. */
int fw_power__rods_by_joules(double joules, double rod_m, bool portable,
                             bool dry_soil);

#endif
