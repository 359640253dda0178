/* One paddock after the other cut off what is left of a field. */
#ifndef FW_CUTTING_PEEL_H
#define FW_CUTTING_PEEL_H

#include "cutting/plots.h"

/* As fw_design has it; there are no data. Each plot lies beside the one before,
 * so that their order stands whatever they hold. */
enum fw_status fw_layout__peel(const void *data, struct fw_plots *plots,
                               struct fw_error *err);

#endif
