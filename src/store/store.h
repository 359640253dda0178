/* plan.json, both ways. */
#ifndef FW_STORE_STORE_H
#define FW_STORE_STORE_H

#include "plan/plan.h"
#include <foldwright/store.h>

/* A file of the same plan, listed in plan.json with its size and CRC. */
struct fw_plan_file {
    char name[32];
    size_t size;
    unsigned crc32;
};

/* The text of plan.json; free with fw_bytes_free. */
enum fw_status fw_plan_json_write(const struct fw_plan *plan,
                                  const struct fw_plan_file *files,
                                  size_t file_count, char **bytes,
                                  size_t *count, struct fw_error *err);

#endif
