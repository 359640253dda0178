/* The keys of a farm file and of the command line: one table for both, so that
 * a value is read and refused the same way wherever it was written. */
#ifndef FW_KEYS_H
#define FW_KEYS_H

#include <foldwright/error.h>
#include <foldwright/geo.h>
#include <foldwright/power.h>
#include <foldwright/quantity.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A value from the command line: which key of the schema it sets
 * ("flock[0].weight"), and what to call it in a message ("--weight"). */
struct fw_farm_setting {
    const char *key;
    const char *value;
    const char *where;
};

/* A field in memory, in longitude and latitude: the first ring is its outer
 * one, the others are holes; not closed, in either direction. */
struct fw_farm_rings {
    const char *name; /* NULL: named by its number */
    const struct fw_lonlat *points;
    const size_t *ring_start; /* ring_count + 1, the first 0 */
    size_t ring_count;
};

struct fw_farm_request {
    const char *farm_path;            /* NULL: no farm file */
    const char *const *field_sources; /* without one: field files */
    size_t field_source_count;
    const struct fw_farm_rings *rings; /* fields in memory, without any file */
    size_t rings_count;
    const struct fw_farm_setting *settings; /* go over what the file says */
    size_t setting_count;
    bool fields_only; /* read the fields, ask for no flock, grass or date */
    bool every_field; /* note each bad feature and go on; the caller counts */
};

/* Does the file look like a farm file (YAML with keys of ours), not a map? */
FW_API bool fw_farm_is_farm_file(const char *path);

/* One key of the schema, for help and the man page. */
struct fw_farm_key {
    const char *path;    /* "flock[].weight" */
    const char *option;  /* "--weight", or NULL */
    const char *example; /* "62 kg" */
    const char *help;    /* one line */
};
FW_API const struct fw_farm_key *fw_farm_keys(size_t *count);

/* What may stand there, "1 m to 50 m"; and what holds when it is not told, "8 m
 * (common practice, no source)", NULL when nothing does. For a row of the table
 * only. Each fills and returns text. */
#define FW_FARM_KEY_WORDS 400
FW_API const char *fw_farm_key_range(const struct fw_farm_key *key,
                                     char text[FW_FARM_KEY_WORDS]);
FW_API const char *fw_farm_key_otherwise(const struct fw_farm_key *key,
                                         char text[FW_FARM_KEY_WORDS]);

/* Keys that there were once. They are refused; help says why, and what to write
 * in their place. */
FW_API const struct fw_farm_key *fw_farm_gone_keys(size_t *count);

/* A word of the table, or a data sheet's "3.82 ohm/m"; row may be NULL, and
 * *row is NULL for the latter. */
FW_API enum fw_status
fw_power_conductor_read(struct fw_quantities *quantities, const char *text,
                        enum fw_units units, double *ohm_m,
                        const struct fw_conductor **row, struct fw_error *err);

/* A word of the table, or "1000 ohm.km", 10 or more; row as for the conductor.
 */
FW_API enum fw_status fw_power_leakage_read(struct fw_quantities *quantities,
                                            const char *text,
                                            enum fw_units units, double *ohm_km,
                                            const struct fw_leakage_row **row,
                                            struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
