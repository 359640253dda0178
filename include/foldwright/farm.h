/* What a person has told of a farm: read by told.h, planned by make.h. */
#ifndef FW_FARM_H
#define FW_FARM_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct fw_farm;

FW_API void fw_farm_free(struct fw_farm *farm);

#ifdef __cplusplus
}
#endif
#endif
