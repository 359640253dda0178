/* The keys of a farm file and of the command line: one table for both, so that
 * a value is read and refused the same way wherever it was written. */
#ifndef FW_REQUEST_H
#define FW_REQUEST_H

#include <foldwright/field.h>
#include <stdbool.h>
#include <stddef.h>

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
    /* Of a plan that was written: where its sources and settings were told.
     * Their paths count from there, and files of this machine alone are read.
     * NULL: where the program runs. What the farm file tells lies beside it. */
    const char *folder;
    bool fields_only; /* read the fields, ask for no flock, grass or date */
    bool winter; /* the winter's grass too: each part of it must be whole */
    bool every_field; /* note each bad feature and go on; the caller counts */
};

#ifdef __cplusplus
}
#endif
#endif
