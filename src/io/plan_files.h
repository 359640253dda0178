/* The files that a plan.json lists: those of the same plan. */
#ifndef FW_IO_PLAN_FILES_H
#define FW_IO_PLAN_FILES_H

#include "io/put.h"
#include <json-c/json.h>

/* The file itself, or plan.json in the folder; free with fw_free. */
char *fw_io__plan_path(const char *path);

/* The other files of the plan in that folder. FW_EINPUT names one that is of
 * another plan, or was changed; what is missing or changed by a GIS is
 * noted. */
enum fw_status fw_io__check_files(struct json_object *root, const char *folder,
                                  struct fw_notes *notes, struct fw_error *err);

/* Their names alone, without reading all of the plan; none when the list
 * cannot be read. */
enum fw_status fw_io__listed(const char *path, struct fw_io__names *out,
                             struct fw_error *err);

#endif
