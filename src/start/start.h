/* A farm file to begin with. */
#ifndef FW_START_START_H
#define FW_START_START_H

#include "report/reports.h"
#include <foldwright/request.h>

/* What is asked for: a key of the farm file, what its answer may look like, and
 * how to find it out at the gate. Those that follow each other in one group
 * stand on one line. What matters most comes first. */
struct fw_start_ask {
    const char *path;    /* "flock[].weight" */
    const char *example; /* "62 kg" */
    const char *us;      /* the same for who reads pounds; NULL: as it is */
    const char *how;     /* {side}, {length}: a side of the field, its length */
};
const struct fw_start_ask *fw_start_asks(size_t *count);

struct fw_start {
    const struct fw_farm *farm; /* its fields are all that is asked of it */
    const char *source;         /* the map, as from the farm file's folder */
    const char *path;           /* of the farm file */
    bool guessed;               /* the units, by where the fields lie */
    const struct fw_farm_setting *told;
    size_t told_count;
};

/* The lines that wait for an answer begin with this. */
#define FW_START_MARK "#? "

enum fw_status fw_start_write(const struct fw_start *start, char **out,
                              struct fw_error *err);

/* What is asked and what was told, for machines. */
enum fw_status fw_start_json(const struct fw_start *start, char **out,
                             struct fw_error *err);

#endif
