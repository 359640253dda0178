/* The files that a dataset is read from. */
#ifndef FW_IO_DATASET_H
#define FW_IO_DATASET_H

#include "io/io.h"
#include <gdal.h>

/* Every file that the dataset is read from; the source itself where that names
 * none. inputs may be NULL. */
enum fw_status fw_io__add_dataset(struct fw_inputs *inputs, GDALDatasetH data,
                                  const char *source, struct fw_error *err);

#endif
