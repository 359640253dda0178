/* One paddock after the other cut off what is left of a field. */
#ifndef FW_CUTTING_PEEL_H
#define FW_CUTTING_PEEL_H

#include "cutting/subdivision.h"

/* As fw_design has it; data is the number of plots, a size_t. Each plot lies
 * beside the one before, so that their order stands whatever they hold. */
enum fw_status fw_layout__peel(const void *data,
                               struct fw_subdivision *subdivision,
                               const double *behind, struct fw_region *paddocks,
                               struct fw_region *common, size_t *common_count,
                               bool *whole, struct fw_error *err);

#endif
