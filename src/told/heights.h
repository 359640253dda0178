/* Can these be the heights of a field? */
#ifndef FW_TOLD_HEIGHTS_H
#define FW_TOLD_HEIGHTS_H

#include "geo/herbage.h"

/* FW_EINPUT: a value that is no height, or ground that no sheep could stand
 * on; the message says which and where. Asked only of cells that the field's
 * heights come from: beyond them a map may show what it likes. */
enum fw_status fw_farm__heights(const struct fw_raster *heights,
                                const struct fw_field *field,
                                struct fw_error *err);

#endif
