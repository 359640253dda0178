/* A VRT is a text that names other rasters, and GDAL opens whatever it names:
 * any file of this machine, byte by byte, or one of the network. Only what
 * surely names rasters below the VRT's own folder is read. */
#define _LARGEFILE64_SOURCE /* see address.c */
#define _XOPEN_SOURCE 700   /* realpath */

#include "base/alloc.h"
#include "base/fail.h"
#include "io/address.h"
#include "io/words.h"

#include <cpl_minixml.h>
#include <cpl_string.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { most_depth = 8, most_path = 4096 };

/* What gdalbuildvrt and gdal_translate write to put rasters side by side, cut
 * or scale them. Anything else (warping, sharpening, raw bytes, code) is
 * refused: a GeoTIFF made of it reads the same. */
static const char *const elements[] = {
    "VRTDataset",
    "VRTRasterBand",
    "SRS",
    "GeoTransform",
    "Metadata",
    "MDI",
    "Description",
    "NoDataValue",
    "NODATA",
    "HideNoDataValue",
    "ColorInterp",
    "ColorTable",
    "Entry",
    "CategoryNames",
    "Category",
    "UnitType",
    "Offset",
    "Scale",
    "SimpleSource",
    "ComplexSource",
    "SourceFilename",
    "SourceBand",
    "SourceProperties",
    "SrcRect",
    "DstRect",
    "ScaleOffset",
    "ScaleRatio",
    "LUT",
    "UseMaskBand",
    "MaskBand",
    "Histograms",
    "HistItem",
    "HistMin",
    "HistMax",
    "BucketCount",
    "IncludeOutOfRange",
    "Approximate",
    "HistCounts",
    "BlockXSize",
    "BlockYSize",
    "OverviewList",
    "GCPList",
    "GCP",
    NULL,
};
static const char *const band_kinds[] = {"VRTRasterBand",
                                         "VRTSourcedRasterBand", NULL};

struct virtual_raster {
    const char *path;
    const char *const *drivers;
    char folder[most_path]; /* with its slash; resolved */
    int depth;
};

static bool is_in(const char *word, const char *const *list)
{
    for (; *list; list++)
        if (!strcmp(word, *list))
            return true;
    return false;
}

/* Names without links and "..", where the disk can tell. */
static bool resolve(const char *path, char room[most_path])
{
    const bool archived = !strncmp(path, "/vsi", 4);
    char *real = archived ? NULL : realpath(path, NULL);
    const char *found = archived ? path : real;
    const bool fits = found && strlen(found) < most_path - 1;
    if (fits)
        snprintf(room, most_path, "%s", found);
    free(real);
    return fits;
}

static bool find_folder(const char *path, char room[most_path])
{
    if (!resolve(path, room))
        return false;
    char *slash = strrchr(room, '/');
    if (!slash)
        return false;
    slash[1] = '\0';
    return true;
}

static enum fw_status is_plain(const char *path, const char *driver,
                               const char *const *drivers, int depth,
                               struct fw_error *err);

static enum fw_status not_below(const struct virtual_raster *of,
                                const char *name, struct fw_error *err)
{
    char shown[200];
    return fw_fail(err, FW_EINPUT,
                   "%s: names \"%s\"; a VRT may only name rasters that lie in "
                   "its own folder or below: put them there, or make one "
                   "GeoTIFF of them with gdal_translate",
                   of->path, fw_io__one_line(shown, sizeof shown, name));
}

static enum fw_status check_source(const struct virtual_raster *of,
                                   const CPLXMLNode *node, struct fw_error *err)
{
    char joined[most_path], real[most_path];
    const char *name = CPLGetXMLValue(node, NULL, "");
    const bool beside =
        strcmp(CPLGetXMLValue(node, "relativeToVRT", "0"), "0") != 0;
    const int length =
        snprintf(joined, sizeof joined, "%s%s", beside ? of->folder : "", name);
    VSIStatBufL info;
    if (!*name || strstr(name, "/vsi") || strstr(name, "..") ||
        (size_t)length >= sizeof joined || !resolve(joined, real) ||
        strncmp(real, of->folder, strlen(of->folder)) != 0)
        return not_below(of, name, err);
    if (VSIStatExL(joined, &info,
                   VSI_STAT_EXISTS_FLAG | VSI_STAT_NATURE_FLAG) ||
        !VSI_ISREG(info.st_mode))
        return not_below(of, name, err);
    /* Asked of all drivers, as GDAL will. */
    GDALDriverH found =
        GDALIdentifyDriverEx(joined, GDAL_OF_RASTER, NULL, NULL);
    const char *driver = found ? GDALGetDriverShortName(found) : "";
    if (!is_in(driver, of->drivers))
        return not_below(of, name, err);
    return is_plain(joined, driver, of->drivers, of->depth + 1, err);
}

static enum fw_status check_element(const struct virtual_raster *of,
                                    const CPLXMLNode *node,
                                    struct fw_error *err)
{
    const char *kind = CPLGetXMLValue(node, "subClass", NULL);
    const bool band = !strcmp(node->pszValue, "VRTRasterBand");
    if (!is_in(node->pszValue, elements) ||
        (kind && !(band && is_in(kind, band_kinds))))
        return fw_fail(err, FW_EINPUT,
                       "%s: is a VRT with %.80s, which is not read here; make "
                       "a GeoTIFF of it with gdal_translate",
                       of->path, kind ? kind : node->pszValue);
    if (!strcmp(node->pszValue, "Metadata") &&
        !strcmp(CPLGetXMLValue(node, "domain", ""), "OVERVIEWS"))
        return not_below(of, "overviews", err);
    return strcmp(node->pszValue, "SourceFilename")
               ? FW_OK
               : check_source(of, node, err);
}

/* The nodes of one level and, by itself, those below them. */
static enum fw_status check_nodes(const struct virtual_raster *of,
                                  const CPLXMLNode *node, int level,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (level > most_depth)
        return fw_fail(err, FW_EINPUT, "%s: is nested too deep", of->path);
    for (; !status && node; node = node->psNext) {
        if (node->eType != CXT_Element || node->pszValue[0] == '?')
            continue;
        status = check_element(of, node, err);
        if (!status)
            status = check_nodes(of, node->psChild, level + 1, err);
    }
    return status;
}

static enum fw_status check_virtual(const char *path,
                                    const char *const *drivers, int depth,
                                    struct fw_error *err)
{
    if (depth >= most_depth)
        return fw_fail(err, FW_EINPUT, "%s: VRTs name each other without end",
                       path);
    struct virtual_raster *of = fw_alloc(1, sizeof *of);
    if (!of)
        return fw_fail_memory(err);
    *of = (struct virtual_raster){
        .path = path, .drivers = drivers, .depth = depth};
    CPLXMLNode *root = CPLParseXMLFile(path);
    enum fw_status status = FW_OK;
    if (!root || !find_folder(path, of->folder))
        status =
            fw_fail(err, FW_EINPUT, "%s: is not a VRT that can be read", path);
    else
        status = check_nodes(of, root, 0, err);
    CPLDestroyXMLNode(root);
    fw_free(of);
    return status;
}

/* GDAL opens x.tif.msk and x.tif.ovr by any driver too. */
static enum fw_status check_beside(const char *path, const char *const *drivers,
                                   struct fw_error *err)
{
    static const char *const ends[] = {".msk", ".MSK", ".ovr", ".OVR"};
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        char beside[most_path];
        VSIStatBufL info;
        const int length =
            snprintf(beside, sizeof beside, "%s%s", path, ends[i]);
        if ((size_t)length >= sizeof beside ||
            VSIStatExL(beside, &info, VSI_STAT_EXISTS_FLAG))
            continue;
        GDALDriverH found =
            GDALIdentifyDriverEx(beside, GDAL_OF_RASTER, NULL, NULL);
        const char *driver = found ? GDALGetDriverShortName(found) : "";
        if (!strcmp(driver, "VRT") || !is_in(driver, drivers))
            return fw_fail(err, FW_EINPUT,
                           "%s: is no mask or overview that can be read; move "
                           "it away from the raster beside it",
                           beside);
    }
    return FW_OK;
}

static enum fw_status is_plain(const char *path, const char *driver,
                               const char *const *drivers, int depth,
                               struct fw_error *err)
{
    const enum fw_status status = check_beside(path, drivers, err);
    if (status || strcmp(driver, "VRT") != 0)
        return status;
    return check_virtual(path, drivers, depth, err);
}

enum fw_status fw_io__raster_is_plain(const char *path, const char *driver,
                                      const char *const *drivers,
                                      struct fw_error *err)
{
    return is_plain(path, driver, drivers, 0, err);
}
