/* What a plan was made from: the files, and whether they are as they were. */
#ifndef FW_IO_INPUTS_H
#define FW_IO_INPUTS_H

#include "io/io.h"

/* Paths told as from the folder become such as can be opened. */
enum fw_status fw_io__place_inputs(struct fw_inputs *inputs, const char *folder,
                                   struct fw_error *err);

/* The same with the folder that the paths of what was told count from. */
enum fw_status fw_io__place_told(struct fw_told *told, const char *folder,
                                 struct fw_error *err);

/* Note what has changed, or is gone, or cannot be told. */
enum fw_status fw_io__check_inputs(const struct fw_inputs *inputs,
                                   struct fw_notes *notes,
                                   struct fw_error *err);

#endif
