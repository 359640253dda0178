/* A GeoPackage 1.3 (OGC 12-128r17), built in memory by SQLite. The same tables
 * give the same bytes, so the time that the format wants is given, not taken.
 * GDAL writes the same, and needs five times as long for a row. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/gpkg_shape.h"
#include "io/session.h"
#include <foldwright/date.h>

#include <cpl_conv.h>
#include <math.h>
#include <ogr_srs_api.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { wgs84 = 4326, first_own_system = 100000 };

struct writer {
    sqlite3 *base;
    OGRSpatialReferenceH srs;
    int srs_id;
    char stamp[40];
    struct fw_text blob; /* the geometry at hand */
};

static enum fw_status wrong(const struct writer *writer, struct fw_error *err)
{
    if (!writer->base || sqlite3_errcode(writer->base) == SQLITE_NOMEM)
        return fw_fail_memory(err);
    return fw_fail(err, FW_EOUTPUT, "GeoPackage: %s",
                   sqlite3_errmsg(writer->base));
}

/* The statement that is given as sqlite3_mprintf takes it; NULL when SQLite
 * refuses it. */
static sqlite3_stmt *prepare(const struct writer *writer, const char *format,
                             ...)
{
    va_list args;
    va_start(args, format);
    char *sql = sqlite3_vmprintf(format, args);
    va_end(args);
    sqlite3_stmt *statement = NULL;
    if (sql)
        sqlite3_prepare_v2(writer->base, sql, -1, &statement, NULL);
    sqlite3_free(sql);
    return statement;
}

static enum fw_status run(const struct writer *writer, sqlite3_stmt *statement,
                          struct fw_error *err)
{
    const bool done = statement && sqlite3_step(statement) == SQLITE_DONE;
    const enum fw_status status = done ? FW_OK : wrong(writer, err);
    sqlite3_finalize(statement);
    return status;
}

/* ---- rows ---- */

/* What is not bound is null. */
static void bind_value(sqlite3_stmt *insert, int at, enum fw_column_type type,
                       const struct fw_value *value)
{
    const double number = value->number;
    char date[FW_DATE_TEXT];
    if (!value->present || (type != FW_COLUMN_TEXT && !isfinite(number)))
        return;
    if (type == FW_COLUMN_TEXT)
        sqlite3_bind_text(insert, at, value->text, -1, SQLITE_STATIC);
    else if (type == FW_COLUMN_NUMBER)
        sqlite3_bind_double(insert, at, number);
    else if (type == FW_COLUMN_WHOLE && fabs(number) < 9e15)
        sqlite3_bind_int64(insert, at, (sqlite3_int64)number);
    else if (type == FW_COLUMN_DATE && fabs(number) < 1e6)
        sqlite3_bind_text(insert, at, fw_date_write((int)number, date), -1,
                          SQLITE_TRANSIENT);
}

/* The geometry comes first, then the columns. */
static enum fw_status write_row(struct writer *writer,
                                const struct fw_table *table,
                                const struct fw_row *row, sqlite3_stmt *insert,
                                struct fw_error *err)
{
    struct fw_text *blob = &writer->blob;
    int at = 1;
    sqlite3_reset(insert);
    sqlite3_clear_bindings(insert);
    if (table->geometry != FW_FEATURE_NONE) {
        blob->length = 0;
        if (row->kind != FW_FEATURE_NONE)
            fw_io__gpkg_shape(blob, row, table->multi, writer->srs_id);
        if (blob->length)
            sqlite3_bind_blob64(insert, at, blob->bytes, blob->length,
                                SQLITE_STATIC);
        at++;
    }
    for (size_t i = 0; i < table->column_count; i++)
        bind_value(insert, at++, table->columns[i].type, &row->values[i]);
    if (sqlite3_step(insert) != SQLITE_DONE)
        return wrong(writer, err);
    return fw_text_done(blob, err);
}

/* ---- tables ---- */

static const char *geometry_type(const struct fw_table *table)
{
    switch (table->geometry) {
    case FW_FEATURE_POINT:
        return "POINT";
    case FW_FEATURE_LINE:
        return "LINESTRING";
    case FW_FEATURE_POLYGON:
        return table->multi ? "MULTIPOLYGON" : "POLYGON";
    default:
        return "GEOMETRY";
    }
}

static const char *const column_types[] = {
    [FW_COLUMN_TEXT] = "TEXT",
    [FW_COLUMN_NUMBER] = "REAL",
    [FW_COLUMN_WHOLE] = "INTEGER",
    [FW_COLUMN_DATE] = "DATE",
};

/* *insert fills one row, whose number is given out. */
static enum fw_status create(const struct writer *writer,
                             const struct fw_table *table,
                             sqlite3_stmt **insert, struct fw_error *err)
{
    const bool shapes = table->geometry != FW_FEATURE_NONE;
    sqlite3_str *columns = sqlite3_str_new(writer->base);
    sqlite3_str *rooms = sqlite3_str_new(writer->base);
    if (shapes)
        sqlite3_str_appendf(columns, "," FW_GPKG_GEOMETRY " %s",
                            geometry_type(table));
    for (size_t i = 0; i < table->column_count; i++)
        sqlite3_str_appendf(columns, ",\"%w\" %s", table->columns[i].name,
                            column_types[table->columns[i].type]);
    for (size_t i = 0; i < table->column_count + shapes; i++)
        sqlite3_str_appendall(rooms, ",?");
    char *named = sqlite3_str_finish(columns);
    char *empty = sqlite3_str_finish(rooms);
    const enum fw_status status =
        run(writer,
            prepare(writer, "CREATE TABLE \"%w\"(\"%w\" INTEGER PRIMARY KEY%s)",
                    table->name, table->id ? table->id : "fid", named),
            err);
    if (!status)
        *insert = prepare(writer, "INSERT INTO \"%w\" VALUES(NULL%s)",
                          table->name, empty);
    sqlite3_free(named);
    sqlite3_free(empty);
    return status || *insert ? status : wrong(writer, err);
}

static enum fw_status list(const struct writer *writer,
                           const struct fw_table *table, struct fw_error *err)
{
    const bool shapes = table->geometry != FW_FEATURE_NONE;
    struct fw_io__box box = FW_IO__NOWHERE;
    for (size_t i = 0; i < table->row_count; i++)
        fw_io__box_extend(&box, &table->rows[i]);
    sqlite3_stmt *contents = prepare(
        writer, "INSERT INTO gpkg_contents VALUES(%Q,%Q,%Q,'',%Q,?,?,?,?,%d)",
        table->name, shapes ? "features" : "attributes", table->name,
        writer->stamp, shapes ? writer->srs_id : 0);
    const double sides[] = {box.least_x, box.least_y, box.most_x, box.most_y};
    for (int i = 0; i < 4 && isfinite(sides[i]); i++)
        sqlite3_bind_double(contents, 1 + i, sides[i]);
    const enum fw_status status = run(writer, contents, err);
    return status || !shapes
               ? status
               : run(writer,
                     prepare(writer,
                             "INSERT INTO gpkg_geometry_columns "
                             "VALUES(%Q,'" FW_GPKG_GEOMETRY "',%Q,%d,0,0)",
                             table->name, geometry_type(table), writer->srs_id),
                     err);
}

/* No spatial index: the largest plan has some 400,000 posts, of which a GIS
 * finds those in its window within a second by looking at all, while the index
 * costs more to write than all else that is in the file. */
static enum fw_status write_table(struct writer *writer,
                                  const struct fw_table *table,
                                  struct fw_error *err)
{
    sqlite3_stmt *insert = NULL;
    enum fw_status status = create(writer, table, &insert, err);
    for (size_t i = 0; i < table->row_count && !status; i++)
        status = write_row(writer, table, &table->rows[i], insert, err);
    sqlite3_finalize(insert);
    return status ? status : list(writer, table, err);
}

/* ---- the system ---- */

/* Its number in EPSG's table, where what stands there is the same; it is taken
 * from there then, with the numbers of its parts. Else one for own systems. */
static int find_number(OGRSpatialReferenceH srs)
{
    if (!OSRGetAuthorityName(srs, NULL))
        OSRAutoIdentifyEPSG(srs);
    const char *table = OSRGetAuthorityName(srs, NULL);
    const char *code = OSRGetAuthorityCode(srs, NULL);
    if (!table || !code || strcmp(table, "EPSG") != 0)
        return first_own_system;
    const int number = atoi(code);
    OGRSpatialReferenceH same = OSRNewSpatialReference(NULL);
    const bool known =
        same && !OSRImportFromEPSGA(same, number) && OSRIsSame(srs, same);
    OSRDestroySpatialReference(same);
    return known && !OSRImportFromEPSG(srs, number) ? number : first_own_system;
}

/* GeoPackage knows longitude and latitude on WGS 84 by one name only. */
static enum fw_status find_system(struct writer *writer, const char *crs,
                                  struct fw_error *err)
{
    const bool lonlat = !strcasecmp(crs, "OGC:CRS84");
    writer->srs = OSRNewSpatialReference(NULL);
    if (!writer->srs)
        return fw_fail_memory(err);
    if (OSRSetFromUserInput(writer->srs, lonlat ? "EPSG:4326" : crs))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is not a coordinate system; try \"EPSG:\" "
                       "and a number",
                       crs);
    writer->srs_id = find_number(writer->srs);
    return FW_OK;
}

/* The newer notation for what the older one has no words for. */
static enum fw_status list_system(const struct writer *writer,
                                  OGRSpatialReferenceH srs, int id,
                                  struct fw_error *err)
{
    static const char *const newer[] = {"FORMAT=WKT2_2019", NULL};
    char *wkt = NULL;
    if (OSRExportToWkt(srs, &wkt)) {
        CPLFree(wkt);
        OSRExportToWktEx(srs, &wkt, newer);
    }
    const char *table = id < first_own_system ? "EPSG" : "NONE";
    sqlite3_stmt *statement = prepare(
        writer, "INSERT INTO gpkg_spatial_ref_sys VALUES(%Q,%d,%Q,%d,%Q,NULL)",
        OSRGetName(srs), id, table, id, wkt);
    CPLFree(wkt);
    return run(writer, statement, err);
}

/* That of WGS 84 is in every GeoPackage. */
static enum fw_status list_systems(const struct writer *writer,
                                   struct fw_error *err)
{
    enum fw_status status =
        list_system(writer, writer->srs, writer->srs_id, err);
    if (status || writer->srs_id == wgs84)
        return status;
    OGRSpatialReferenceH always = OSRNewSpatialReference(NULL);
    status = always && !OSRImportFromEPSG(always, wgs84)
                 ? list_system(writer, always, wgs84, err)
                 : fw_fail_memory(err);
    OSRDestroySpatialReference(always);
    return status;
}

/* ---- the whole ---- */

static void set_time(struct writer *writer, long long epoch_s)
{
    const long long day_s = 86400;
    long long days = epoch_s / day_s, rest = epoch_s % day_s;
    if (rest < 0) {
        rest += day_s;
        days--;
    }
    char date[FW_DATE_TEXT];
    snprintf(writer->stamp, sizeof writer->stamp, "%sT%02d:%02d:%02dZ",
             fw_date_write((int)days, date), (int)(rest / 3600),
             (int)(rest / 60 % 60), (int)(rest % 60));
}

/* "GPKG" and the version of the format, and the tables that it asks for. */
static const char *const frame =
    "PRAGMA application_id=1196444487;"
    "PRAGMA user_version=10300;"
    "BEGIN;"
    "CREATE TABLE gpkg_spatial_ref_sys(srs_name TEXT NOT NULL,"
    "srs_id INTEGER PRIMARY KEY,organization TEXT NOT NULL,"
    "organization_coordsys_id INTEGER NOT NULL,definition TEXT NOT NULL,"
    "description TEXT);"
    "INSERT INTO gpkg_spatial_ref_sys VALUES"
    "('Undefined Cartesian SRS',-1,'NONE',-1,'undefined',NULL),"
    "('Undefined geographic SRS',0,'NONE',0,'undefined',NULL);"
    "CREATE TABLE gpkg_contents(table_name TEXT NOT NULL PRIMARY KEY,"
    "data_type TEXT NOT NULL,identifier TEXT UNIQUE,"
    "description TEXT DEFAULT '',last_change DATETIME NOT NULL DEFAULT "
    "(strftime('%Y-%m-%dT%H:%M:%fZ','now')),min_x DOUBLE,min_y DOUBLE,"
    "max_x DOUBLE,max_y DOUBLE,srs_id INTEGER "
    "REFERENCES gpkg_spatial_ref_sys(srs_id));"
    "CREATE TABLE gpkg_geometry_columns(table_name TEXT NOT NULL UNIQUE "
    "REFERENCES gpkg_contents(table_name),column_name TEXT NOT NULL,"
    "geometry_type_name TEXT NOT NULL,srs_id INTEGER NOT NULL "
    "REFERENCES gpkg_spatial_ref_sys(srs_id),z TINYINT NOT NULL,"
    "m TINYINT NOT NULL,PRIMARY KEY(table_name,column_name));";

static enum fw_status build(struct writer *writer,
                            const struct fw_table *tables, size_t count,
                            struct fw_error *err)
{
    if (sqlite3_open(":memory:", &writer->base) ||
        sqlite3_exec(writer->base, frame, NULL, NULL, NULL))
        return wrong(writer, err);
    enum fw_status status = list_systems(writer, err);
    for (size_t i = 0; i < count && !status; i++)
        status = write_table(writer, &tables[i], err);
    return status ? status : run(writer, prepare(writer, "COMMIT"), err);
}

static enum fw_status take_bytes(const struct writer *writer, char **bytes,
                                 size_t *size, struct fw_error *err)
{
    sqlite3_int64 length = 0;
    unsigned char *built = sqlite3_serialize(writer->base, "main", &length, 0);
    char *copy = built ? fw_realloc(NULL, (size_t)length, 1) : NULL;
    if (copy) {
        memcpy(copy, built, (size_t)length);
        *bytes = copy;
        *size = (size_t)length;
    }
    sqlite3_free(built);
    return copy ? FW_OK : fw_fail_memory(err);
}

enum fw_status fw_gpkg_bytes(const struct fw_table *tables, size_t count,
                             const char *crs, long long epoch_s, char **bytes,
                             size_t *size, struct fw_error *err)
{
    struct writer writer = {.base = NULL};
    struct fw_io__session session; /* keeps what is said of a system */
    fw_io__enter(&session, FW_IO__FILE);
    set_time(&writer, epoch_s);
    enum fw_status status = find_system(&writer, crs, err);
    if (!status)
        status = build(&writer, tables, count, err);
    if (!status)
        status = take_bytes(&writer, bytes, size, err);
    fw_text_release(&writer.blob);
    sqlite3_close(writer.base);
    OSRDestroySpatialReference(writer.srs);
    fw_io__leave(&session);
    return status;
}

enum fw_status fw_gpkg_write(const char *path, const struct fw_table *tables,
                             size_t count, const char *crs, long long epoch_s,
                             unsigned *crc, size_t *size, struct fw_error *err)
{
    char *bytes = NULL;
    size_t length = 0;
    enum fw_status status =
        fw_gpkg_bytes(tables, count, crs, epoch_s, &bytes, &length, err);
    if (status)
        return fw_fail_where(err, "%s: ", path);
    status = fw_file_put(path, bytes, length, err);
    if (!status && crc)
        *crc = fw_file_crc32(bytes, length);
    if (!status && size)
        *size = length;
    fw_bytes_free(bytes);
    return status;
}
