/* Tracks of the maps that the tank may be driven along. */
#ifndef FW_MAPPED_ROAD_H
#define FW_MAPPED_ROAD_H

#include "keys/reader.h"
#include "mapped/outline.h"

/* A feature of a map: a track is kept, and where the tank is filled. */
enum fw_status fw_farm__road_take(struct fw_farm__reader *reader,
                                  enum fw_role role,
                                  const struct fw_farm__outline *outline,
                                  struct fw_error *err);

#endif
