/* The list of files that were read. */
#ifndef FW_BASE_ORIGIN_H
#define FW_BASE_ORIGIN_H

#include <foldwright/origin.h>

/* Takes the input's path, also when it fails. */
enum fw_status fw_inputs__add(struct fw_inputs *inputs, struct fw_input input,
                              struct fw_error *err);

#endif
