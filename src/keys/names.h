/* A table of names, each with a number: finds a field by name, and makes names
 * unique, in time that grows with their count. */
#ifndef FW_KEYS_NAMES_H
#define FW_KEYS_NAMES_H

#include <foldwright/error.h>
#include <stdbool.h>

struct fw_farm__name {
    const char *text; /* not owned; NULL: the place is free */
    size_t number;
    size_t next; /* suffix to try next, for a name that several want */
};

struct fw_farm__names {
    struct fw_farm__name *places;
    size_t size; /* a power of two */
};

/* Room for at most `most` names. */
enum fw_status fw_farm__names_init(struct fw_farm__names *names, size_t most,
                                   struct fw_error *err);
void fw_farm__names_release(struct fw_farm__names *names);

/* The name's place, or NULL. */
struct fw_farm__name *fw_farm__names_find(const struct fw_farm__names *names,
                                          const char *text);

/* Put in a name that is not there yet. */
void fw_farm__names_put(struct fw_farm__names *names, const char *text,
                        size_t number);

#endif
