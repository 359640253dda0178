/* The parts that fw_map_read is made of. */
#ifndef FW_IO_MAP_H
#define FW_IO_MAP_H

#include "io/address.h"
#include "io/io.h"
#include <gdal.h>
#include <ogr_api.h>

/* More than any register of fields has; a file beyond these is a mistake. */
#define FW_IO__MOST_FEATURES 4000000
#define FW_IO__MOST_POINTS 100000000
#define FW_IO__MOST_LAYERS 4096
#define FW_IO__MOST_VOLTAGES 8 /* columns that speak of a voltage */

struct fw_io__opened {
    GDALDatasetH data;
    const char *driver; /* "GPX"; of the driver's own table */
    char *fetched;      /* in memory; NULL: it was not */
};

/* Open the source. A zip is looked into; `layer` (may be NULL) then also picks
 * the file of that name inside. */
enum fw_status fw_io__open(const char *source, const char *layer,
                           const struct fw_io__address *address,
                           struct fw_io__session *session,
                           struct fw_io__opened *out, struct fw_error *err);
void fw_io__close(struct fw_io__opened *opened);

/* From now on a query that finds no row for session->patience_s ends with a
 * failure; call it again at each row. Only SQLite can be without an end here;
 * a server is told to mind the clock itself. */
struct fw_io__clock {
    struct fw_io__session *session;
    long long since_s;
    bool late; /* it was given up */
};
void fw_io__watch(const struct fw_io__opened *opened,
                  struct fw_io__session *session, struct fw_io__clock *clock);
void fw_io__row_came(struct fw_io__clock *clock);

/* The path of the map inside a zip, for GDAL; free with fw_free. *picked says
 * that the layer's name chose it. */
enum fw_status fw_io__zip_inner(const char *source, const char *path,
                                const char *layer, char **out,
                                struct fw_error *err);

/* The layer by name, or the only one that can hold fields. */
enum fw_status fw_io__layer(const struct fw_io__opened *opened,
                            const struct fw_map_request *request,
                            OGRLayerH *out, struct fw_error *err);

/* FW_EINPUT, with what is wrong with request->where and how it can be put. */
enum fw_status fw_io__bad_filter(OGRLayerH layer,
                                 const struct fw_map_request *request,
                                 const struct fw_io__session *session,
                                 struct fw_error *err);

/* The layer's coordinate system as WKT, NULL when it has none, and whether x
 * and y must change places to be east and north. */
enum fw_status fw_io__crs(OGRLayerH layer, char **wkt, bool *swapped,
                          struct fw_error *err);

/* The geometry as parts. Curves are made straight. `feature` is copied for
 * each part, without its name, which is given to each. */
struct fw_io__taker {
    struct fw_map *map;
    const char *source;
    bool swapped;
    bool close_lines;
    bool tracks;   /* lines are walked tracks: they close over a gap */
    size_t points; /* taken so far, of all features */
    struct fw_notes *notes;
};
enum fw_status fw_io__take(struct fw_io__taker *taker, OGRGeometryH geometry,
                           const struct fw_feature *feature, const char *name,
                           struct fw_error *err);

#endif
