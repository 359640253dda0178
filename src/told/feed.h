/* Feed on one field, by zones or by the cells of a raster. */
#ifndef FW_TOLD_FEED_H
#define FW_TOLD_FEED_H

#include "keys/reader.h"

/* Is the sward told well enough to say what may be eaten? Else the farm's
 * needs say what is missing, and nothing is laid. */
bool fw_farm__has_rest(const struct fw_sward *sward);
bool fw_farm__has_mass(const struct fw_sward *sward);

/* What may be eaten of that sward: 0 where nothing stands above what must stay.
 */
enum fw_status fw_farm__usable(const struct fw_farm__reader *reader,
                               const struct fw_sward *sward,
                               struct fw_usable *out, struct fw_error *err);

/* Room for the field's parts and what stands on them. */
enum fw_status fw_farm__parts(struct fw_farm_field *field, size_t parts,
                              size_t stands, struct fw_error *err);

/* *any: zones lie on the field. */
enum fw_status fw_farm__feed_zones(struct fw_farm__reader *reader, size_t field,
                                   bool *any, struct fw_error *err);

/* The grid holds kg/ha. */
enum fw_status fw_farm__feed_cells(struct fw_farm__reader *reader, size_t field,
                                   const struct fw_grid *grid,
                                   struct fw_crs *crs, struct fw_error *err);

#endif
