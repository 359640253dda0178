/* Maps come zipped, often one folder down, sometimes without ".zip" in their
 * name. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/map.h"
#include "io/words.h"

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* What surely is a map, and what may be a legend or a table: asked for only
 * when there is nothing of the first kind. */
static const char *const maps[] = {".shp",     ".gpkg", ".gdb", ".fgb",
                                   ".geojson", ".gml",  ".kml", ".kmz",
                                   ".gpx",     ".tab",  ".mif", NULL};
static const char *const perhaps[] = {".json", ".xml", ".osm", ".pbf",
                                      ".dxf",  ".csv", NULL};
enum { most_listed = 12 };

static bool is_map(const char *name, const char *const *ends)
{
    /* Rubbish that one archiver adds beside each file. */
    if (!strncmp(name, "__MACOSX/", 9) ||
        !strncmp(fw_io__base_name(name), "._", 2))
        return false;
    for (size_t i = 0; ends[i]; i++)
        if (fw_io__ends_with(name, ends[i]))
            return true;
    return false;
}

/* A folder is listed with a slash at its end. */
static void drop_slash(char *name)
{
    const size_t length = strlen(name);
    if (length && name[length - 1] == '/')
        name[length - 1] = '\0';
}

static bool stem_is(const char *name, const char *layer)
{
    const char *base = fw_io__base_name(name);
    const char *dot = strrchr(base, '.');
    return dot && strlen(layer) == (size_t)(dot - base) &&
           !strncasecmp(base, layer, strlen(layer));
}

static enum fw_status several(const char *source, char **names,
                              const char *const *ends, struct fw_error *err)
{
    struct fw_text text = {0};
    int listed = 0;
    for (char **name = names; *name && listed < most_listed; name++)
        if (is_map(*name, ends))
            fw_text_addf(&text, "%s/vsizip/%s/%s", listed++ ? ", " : "", source,
                         *name);
    enum fw_status status = fw_text_done(&text, err);
    if (!status)
        status = fw_fail(
            err, FW_EINPUT,
            "%s: holds several maps; name the one that is meant: %.600s",
            source, text.bytes);
    fw_text_release(&text);
    return status;
}

static enum fw_status choose(const char *source, const char *layer,
                             char **names, const char *const *ends,
                             const char **out, struct fw_error *err)
{
    size_t count = 0, named = 0;
    const char *last = NULL, *meant = NULL;
    for (char **name = names; *name; name++) {
        if (!is_map(*name, ends))
            continue;
        count++;
        last = *name;
        if (layer && stem_is(*name, layer)) {
            named++;
            meant = *name;
        }
    }
    if (count > 1 && named != 1)
        return several(source, names, ends, err);
    *out = count > 1 ? meant : last;
    return FW_OK;
}

static enum fw_status choose_any(const char *source, const char *layer,
                                 char **names, const char **out,
                                 struct fw_error *err)
{
    enum fw_status status = choose(source, layer, names, maps, out, err);
    if (!status && !*out)
        status = choose(source, layer, names, perhaps, out, err);
    if (!status && !*out)
        return fw_fail(
            err, FW_EINPUT,
            "%s: is a zip without a map in it; expected a shapefile, "
            "GeoPackage, GeoJSON, GML, KML or GPX inside",
            source);
    return status;
}

/* The braces tell GDAL where the zip's own path ends. */
static char *braced(const char *source, const char *inner)
{
    const size_t room = strlen(source) + strlen(inner) + 16;
    char *path = fw_alloc(room, 1);
    if (path)
        snprintf(path, room, "/vsizip/{%s}%s%s", source, *inner ? "/" : "",
                 inner);
    return path;
}

enum fw_status fw_io__zip_inner(const char *source, const char *path,
                                const char *layer, char **out,
                                struct fw_error *err)
{
    char *root = braced(path, "");
    if (!root)
        return fw_fail_memory(err);
    char **names = VSIReadDirRecursive(root);
    fw_free(root);
    if (!names)
        return fw_fail(err, FW_EINPUT,
                       "%s: is a zip that cannot be read, or an empty one",
                       source);
    for (char **name = names; *name; name++)
        drop_slash(*name);
    const char *inner = NULL;
    enum fw_status status = choose_any(source, layer, names, &inner, err);
    if (!status) {
        *out = braced(path, inner);
        if (!*out)
            status = fw_fail_memory(err);
    }
    CSLDestroy(names);
    return status;
}
