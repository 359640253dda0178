/* A field of a farm by itself. */
#ifndef FW_FARM_FARM_H
#define FW_FARM_FARM_H

#include <foldwright/farm.h>

void fw_farm__field_release(struct fw_farm_field *field);

#endif
