/* Fields in memory as a map. */
#ifndef FW_TOLD_RINGS_H
#define FW_TOLD_RINGS_H

#include "io/io.h"
#include "keys/keys.h"

/* Free it as one that was read. */
enum fw_status fw_farm__map_of_rings(const struct fw_farm_rings *rings,
                                     size_t count, struct fw_map **out,
                                     struct fw_error *err);

#endif
