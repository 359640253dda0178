/* The keys of a farm file and of the command line: one table for both, so that
 * a value is read and refused the same way wherever it was written. */
#ifndef FW_KEYS_KEYS_H
#define FW_KEYS_KEYS_H

#include "figures/mark.h"
#include "geo/geo.h"
#include "power/power.h"
#include <foldwright/error.h>
#include <foldwright/quantity.h>
#include <foldwright/request.h>

/* Does the file look like a farm file (YAML with keys of ours), not a map? */
bool fw_farm_is_farm_file(const char *path);

/* Is one of its words a unit of the US? Who writes such reads such. */
bool fw_farm_says_us(const char *text);

/* One key of the schema, for help and the man page. */
struct fw_farm_key {
    const char *path;    /* "flock[].weight" */
    const char *option;  /* "--weight", or NULL */
    const char *example; /* "62 kg" */
    const char *help;    /* one line */
};
const struct fw_farm_key *fw_farm_keys(size_t *count);
/* As its option is told: that of a list is a line of its own form. */
const char *fw_farm_key_option_example(const struct fw_farm_key *key);

/* What may stand there, "1 m to 50 m"; and what holds when it is not told, "8 m
 * (common practice, no source)", NULL when nothing does. For a row of the table
 * only. Each fills and returns text. */
enum { FW_FARM_KEY_WORDS = FW_EFFORT(400) }; /* bytes */
const char *fw_farm_key_range(const struct fw_farm_key *key,
                              char text[FW_FARM_KEY_WORDS]);
const char *fw_farm_key_otherwise(const struct fw_farm_key *key,
                                  char text[FW_FARM_KEY_WORDS]);

/* Keys that there were once. They are refused; help says why, and what to write
 * in their place. */
const struct fw_farm_key *fw_farm_gone_keys(size_t *count);

/* A word of the table, or a data sheet's "3.82 ohm/m"; row may be NULL, and
 * *row is NULL for the latter. */
enum fw_status fw_power_conductor_read(struct fw_quantities *quantities,
                                       const char *text, enum fw_units units,
                                       double *ohm_m,
                                       const struct fw_conductor **row,
                                       struct fw_error *err);

/* A word of the table, or "1000 ohm.km", 10 or more; row as for the conductor.
 */
enum fw_status fw_power_leakage_read(struct fw_quantities *quantities,
                                     const char *text, enum fw_units units,
                                     double *ohm_km,
                                     const struct fw_leakage_row **row,
                                     struct fw_error *err);

#endif
