/* Files in and out: maps by GDAL, and the one function
 * that puts bytes in place on the user's disk.
 *
 * Reading leaves no trace beside the input. Writing is all or nothing: a file
 * is whole, or it is the one that was there before. */
#ifndef FW_IO_IO_H
#define FW_IO_IO_H

#include "base/origin.h"
#include "geo/geo.h"
#include "geo/herbage.h"
#include <foldwright/error.h>
#include <foldwright/quantity.h>

#include <stdbool.h>

struct fw_crs;

/* ---- what was read ---- */

/* Add the file that the source names, where there is one; no time of a file
 * counts. inputs may be NULL. */
enum fw_status fw_inputs_add(struct fw_inputs *inputs, const char *source,
                             struct fw_error *err);
/* The same, with paths as from that folder; without the file of that name in
 * it, whose place is taken. NULL: all of them. */
enum fw_status fw_inputs_from(const char *folder, const char *without,
                              const struct fw_inputs *inputs,
                              struct fw_inputs *out, struct fw_error *err);

/* What was told, with its folder as from that one, where there is anything. */
enum fw_status fw_told_from(const char *folder, const struct fw_told *told,
                            struct fw_told *out, struct fw_error *err);

/* Is it on this machine, so that nobody is sent to a network for it? */
bool fw_source_is_here(const char *source);

/* The source as it may be shown: "***" in place of a password. Free with
 * fw_bytes_free; NULL: there is no memory. */
char *fw_source_shown(const char *source);

/* ---- reading maps ---- */

/* One part of one feature of a layer. Z and M are dropped, curves made
 * straight, coordinates turned to x east, y north. */
struct fw_feature {
    long long fid;
    size_t row;   /* counting the layer's features from 1 */
    size_t part;  /* counting from 1 */
    size_t parts; /* of the feature */
    enum fw_feature_kind kind;
    struct fw_shape shape; /* a point or line is one ring; as in the file */
    char *name;            /* of the name column; NULL when there is none */
    char **values;   /* as text, one for each column that was asked for, then
                        one for each of the map's volt_columns; NULL where the
                        feature has none */
    const char *odd; /* NULL, or why the geometry is none: "a geometry
                        collection", static text */
};

struct fw_map {
    char *source; /* as the person wrote it, without its password */
    char *layer;
    char *crs;       /* WKT, or --crs; NULL when the file names none */
    char *type_name; /* of the layer's geometry, for messages */
    struct fw_feature *features;
    size_t feature_count, feature_capacity;
    struct fw_feature
        *waypoints; /* of a GPX file; points with names, lon/lat */
    size_t waypoint_count, waypoint_capacity;
    size_t column_count; /* of the values that were asked for */
    char **volt_columns; /* names of those that speak of a voltage */
    size_t volt_column_count;
};

#define FW_MOST_COLUMNS 32

/* What is NULL is not given. */
struct fw_map_request {
    const char *source; /* a file, a bare zip, or an address: see below */
    const char *layer;
    const char *where; /* an attribute filter, OGR SQL */
    const char
        *name_column; /* else "name", "NAME", "field", ... if it exists */
    const char *crs;  /* used in place of the file's own */
    bool close_lines; /* a GPX track or closed line counts as a polygon */
    const char *const *columns; /* whose values to keep, where they exist */
    size_t column_count;        /* at most FW_MOST_COLUMNS */
    bool columns_must_exist;    /* FW_EINPUT when one does not */
    struct fw_inputs *inputs;   /* gets the files that were read; may be NULL */
    int patience_s; /* the longest wait for the next feature; 0: 60 */
    bool voltages;  /* keep those of columns that speak of a voltage too; of
                       OpenStreetMap's other_tags what its tags say of one */
};

/* A source is a file, by one of a list of GDAL's drivers, also in an archive
 * ("/vsizip/fields.zip/north.shp"). Only a source itself may lie elsewhere:
 * "https:" is fetched whole and then read as a file; "WFS:", "OAPIF:", "PG:",
 * "MySQL:" and "MSSQL:" go to their own driver; "/vsicurl/" and its kin are
 * read piece by piece. What a map, a VRT or a link names is never followed out
 * of this machine, nor is a VRT out of its own folder.
 *
 * Read a whole layer. FW_EINPUT: missing, not a map, no such layer or column
 * (nearest suggested), several layers with polygons and none named (they are
 * listed), a broken file, absurd sizes. Messages start with the source. */
enum fw_status fw_map_read(const struct fw_map_request *request,
                           struct fw_map **out, struct fw_notes *notes,
                           struct fw_error *err);
void fw_map_free(struct fw_map *map);

/* ---- reading rasters ---- */

/* What is 0 or NULL is not given. */
struct fw_raster_request {
    const char *source; /* a file or an address, as for maps */
    int band;           /* from 1; 0: the only one */
    double scale;       /* value = scale * what the file has + offset; 0: 1 */
    double offset;
    const char *crs;          /* used in place of the file's own */
    struct fw_inputs *inputs; /* gets the files that were read; may be NULL */
};

/* Open, so that many fields read their parts. Not to be shared between
 * threads. */
struct fw_raster_file;

/* FW_EINPUT: missing, no raster, several bands and none named, no place on the
 * map, absurd sizes. Messages start with the source. */
enum fw_status fw_raster_open(const struct fw_raster_request *request,
                              struct fw_raster_file **out,
                              struct fw_notes *notes, struct fw_error *err);
void fw_raster_close(struct fw_raster_file *file);

/* Of the file, or of the request: what fw_crs_new takes; NULL when neither
 * names one. */
const char *fw_raster_crs(const struct fw_raster_file *file);

#define FW_MOST_CELLS 1000000

/* The part under the places and two cells beyond, NaN where the file has no
 * data or ends. More than FW_MOST_CELLS are averaged in squares of *averaged
 * by *averaged cells (1: none are). The grid's system is fw_raster_crs, opened
 * by the caller. FW_EINPUT: the file does not reach any of the places, or is
 * broken there. */
enum fw_status fw_raster_read(struct fw_raster_file *file, struct fw_crs *crs,
                              const struct fw_lonlat *places, size_t count,
                              struct fw_grid *out, size_t *averaged,
                              struct fw_error *err);

/* ---- writing ---- */

/* Put bytes in place: temporary file in the same folder, write, fsync, close,
 * rename, fsync of the folder. FW_EOUTPUT says why; the temporary file is
 * gone, and a file that was there before is as it was. A link is replaced, not
 * followed. A .gpkg with a -wal or -journal beside it is refused: it is open
 * in another program. */
enum fw_status fw_file_put(const char *path, const void *bytes, size_t count,
                           struct fw_error *err);

/* Read a whole file of at most `most` bytes, with a NUL after its end. */
enum fw_status fw_file_get(const char *path, size_t most, char **bytes,
                           size_t *count, struct fw_error *err);

/* A file that only grows, open for one writer, or for readers. Nothing that
 * stands in it is ever written over: what was added is on the disk when
 * fw_added_put comes back, and a run that is killed before leaves at most an
 * end without its newline. */
struct fw_added;

/* Wait until whoever writes there has ended. A file that is not there is empty
 * to a reader, and made by a writer with the first bytes. FW_EINPUT,
 * FW_EOUTPUT: it cannot be read, or is over `most` bytes; another run holds
 * it. */
enum fw_status fw_added_open(const char *path, size_t most, bool writer,
                             struct fw_added **out, struct fw_error *err);
/* What stood there when it was opened, with a NUL after its end. */
const char *fw_added_bytes(const struct fw_added *file, size_t *count);
enum fw_status fw_added_put(struct fw_added *file, const char *bytes,
                            size_t count, struct fw_error *err);
void fw_added_close(struct fw_added *file);

/* A file of the disk, that can be read twice: no folder, and no pipe, which
 * would be waited for. */
bool fw_file_is_plain(const char *path);

/* Make the folder (and its parents) if it is not there. */
enum fw_status fw_folder_make(const char *path, struct fw_error *err);

/* A set of files that belong together in one folder, which has to be there: all
 * take their places, or those of before stay. Where a run is ended between
 * the two, the folder says so, and fw_plan_json_read refuses it. */
struct fw_set;

struct fw_set_rules {
    const struct fw_inputs *inputs; /* none is written over; may be NULL */
    bool force;        /* over files that no plan.json there lists as well */
    const char *begin; /* a file that begins so was written by us; may be NULL
                        */
    /* Names of no file of the set: one that a plan.json there lists is removed
     * with it, so that nobody takes the old one for part of the new set. */
    const char *const *outdated;
    size_t outdated_count;
};

/* Lock the folder, look at every target before a byte is written, and remove
 * what a killed run has left. The names stay the caller's; the last one takes
 * its place last. FW_EOUTPUT: a target is what was read (by device and inode),
 * cannot be written, is open in a GIS, or is nobody's own; or another run is
 * at work there. */
enum fw_status fw_set_begin(const char *folder, const char *const *names,
                            size_t count, const struct fw_set_rules *rules,
                            struct fw_set **out, struct fw_error *err);

/* The next file of the set, under a temporary name and on the disk. */
enum fw_status fw_set_put(struct fw_set *set, const void *bytes, size_t count,
                          struct fw_error *err);

/* All of them in their places. */
enum fw_status fw_set_done(struct fw_set *set, struct fw_error *err);

/* What is not in its place is removed. */
void fw_set_free(struct fw_set *set);

/* Temporary files that this process has not finished yet: removed by the
 * program's signal handler. Async-signal-safe. */
void fw_file_abandon(void);

/* CRC-32 as in zlib. */
unsigned fw_file_crc32(const void *bytes, size_t count);

/* ---- tables of features, which the reports fill and the writers write ---- */

enum fw_column_type {
    FW_COLUMN_TEXT,
    FW_COLUMN_NUMBER,
    FW_COLUMN_WHOLE,
    FW_COLUMN_DATE
};

struct fw_column {
    const char *name;
    enum fw_column_type type;
};

struct fw_value { /* absent is null in every file */
    bool present;
    double number; /* number, whole number, or day */
    char *text;    /* owned by the table */
};

struct fw_row {
    enum fw_feature_kind kind; /* FW_FEATURE_NONE: null geometry */
    struct fw_xy *points;      /* owned by the table */
    size_t point_count;
    size_t *ring_start; /* as in fw_shape, for all polygons of the row */
    size_t ring_count;
    size_t *piece_ring; /* first ring of each polygon, and the end */
    size_t piece_count;
    struct fw_value *values; /* one for each column */
};

#define FW_GPKG_GEOMETRY "geom" /* the column of geometries in a GeoPackage */

struct fw_table {
    const char *name;              /* of the layer: "paddocks" */
    const char *kind;              /* of one feature: "paddock" */
    enum fw_feature_kind geometry; /* FW_FEATURE_OTHER: of any type */
    bool multi;                    /* polygons written as multipolygons */
    const struct fw_column *columns;
    size_t column_count;
    struct fw_row *rows;
    size_t row_count, row_capacity;
    struct fw_column *own_columns; /* the columns, with their names, where they
                                      are the table's; NULL: they are not */
    const char *id;                /* the column of row numbers; NULL: "fid" */
};

void fw_table_release(struct fw_table *table);

/* A GeoPackage of the tables in that system (WKT or "EPSG:n"), in memory
 * first, then put in place. day stamps it (00:00Z of it, or the time of
 * SOURCE_DATE_EPOCH when epoch is not negative), so that the same plan gives
 * the same bytes. *crc and *size tell what was written; both may be NULL. */
enum fw_status fw_gpkg_write(const char *path, const struct fw_table *tables,
                             size_t count, const char *crs, long long epoch_s,
                             unsigned *crc, size_t *size, struct fw_error *err);

/* The same bytes, without the file; free with fw_bytes_free. */
enum fw_status fw_gpkg_bytes(const struct fw_table *tables, size_t count,
                             const char *crs, long long epoch_s, char **bytes,
                             size_t *size, struct fw_error *err);

/* Is this path a plan: a folder with plan.json, or such a file? By content. */
bool fw_plan_json_is(const char *path);

#endif
