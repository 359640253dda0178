/* Where a source lies: on this machine, or where only a person may send us. */
#ifndef FW_IO_ADDRESS_H
#define FW_IO_ADDRESS_H

#include "io/session.h"

struct fw_io__address {
    enum fw_io__way way;
    const char *map_driver;    /* the one that may open it; NULL: none, or for
                                  a file any of our own list */
    const char *raster_driver; /* the same for rasters */
};

/* How the source, as a person wrote it, is reached. FW_EINPUT: in a way that is
 * not on the list. Messages start with the source. */
enum fw_status fw_io__address(const char *source, struct fw_io__address *out,
                              struct fw_error *err);

/* Fetch a page whole into memory, under a name that GDAL can open; *path to
 * fw_io__unfetch. A session that is offline fetches nothing else. */
enum fw_status fw_io__fetch(const char *source, struct fw_io__session *session,
                            char **path, struct fw_error *err);
void fw_io__unfetch(char *path);

/* What a person can mend before GDAL is asked: is the file there, a file or a
 * folder, not empty, not absurd? */
enum fw_status fw_io__look_at(const char *source, const char *path,
                              bool *folder, struct fw_error *err);

/* May GDAL read this raster, found to be of that driver? A VRT may only name
 * rasters of the listed drivers below its own folder. Masks and overviews that
 * lie beside a raster are looked at too. Messages start with the path. */
enum fw_status fw_io__raster_is_plain(const char *path, const char *driver,
                                      const char *const *drivers,
                                      struct fw_error *err);

#endif
