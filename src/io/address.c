/* The ways to a source that are open. A file's content never opens one: what a
 * map, a VRT or a link names is no source of ours. */

/* GDAL's VSIStatBufL is a struct stat64, which glibc declares only then. */
#define _LARGEFILE64_SOURCE

#include "io/address.h"
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/put.h"
#include "io/words.h"
#include <inttypes.h>

#include <cpl_conv.h>
#include <cpl_http.h>
#include <cpl_string.h>
#include <cpl_vsi.h>
#include <ctype.h>
#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

/* A file beyond this is a mistake. */
static const long long most_bytes = 17179869184LL; /* 16 GiB */

static const struct {
    const char *word;
    struct fw_io__address address;
} addresses[] = {
    {"http:", {FW_IO__PAGE, NULL, NULL}},
    {"https:", {FW_IO__PAGE, NULL, NULL}},
    {"ftp:", {FW_IO__PAGE, NULL, NULL}},
    {"WFS:", {FW_IO__SERVICE, "WFS", NULL}},
    {"OAPIF:", {FW_IO__SERVICE, "OAPIF", NULL}},
    {"PG:", {FW_IO__DATABASE, "PostgreSQL", NULL}},
    {"MySQL:", {FW_IO__DATABASE, "MySQL", NULL}},
    {"MSSQL:", {FW_IO__DATABASE, "MSSQLSpatial", NULL}},
    {"GPKG:", {FW_IO__TABLE, NULL, "GPKG"}},
};
static const char known_words[] =
    "http:, https:, ftp:, WFS:, OAPIF:, PG:, MySQL:, MSSQL: or GPKG:";

/* GDAL's file systems: archives, and what goes to the network. The others have
 * no use here, and one of them reads what a text of its own names. */
static const char *const archives[] = {"vsizip", "vsigzip", "vsitar", "vsimem",
                                       NULL};
static const char *const stores[] = {"vsicurl",
                                     "vsicurl_streaming",
                                     "vsis3",
                                     "vsis3_streaming",
                                     "vsigs",
                                     "vsigs_streaming",
                                     "vsiaz",
                                     "vsiaz_streaming",
                                     "vsiadls",
                                     "vsioss",
                                     "vsioss_streaming",
                                     "vsiswift",
                                     "vsiswift_streaming",
                                     "vsiwebhdfs",
                                     NULL};

static bool is_there(const char *path)
{
    VSIStatBufL info;
    return VSIStatExL(path, &info, VSI_STAT_EXISTS_FLAG) == 0;
}

static bool is_one_of(const char *word, size_t length, const char *const *list)
{
    for (; *list; list++)
        if (strlen(*list) == length && !strncmp(word, *list, length))
            return true;
    return false;
}

/* "/vsizip//vsicurl/https://..." is reached over the network. */
static enum fw_status chain(const char *source, struct fw_io__address *out,
                            struct fw_error *err)
{
    for (const char *at = strstr(source, "/vsi"); at;
         at = strstr(at + 1, "/vsi")) {
        size_t length = 3;
        while (islower((unsigned char)at[1 + length]) ||
               isdigit((unsigned char)at[1 + length]) || at[1 + length] == '_')
            length++;
        if (at[1 + length] != '/')
            continue; /* the beginning of a file's name */
        if (is_one_of(at + 1, length, stores))
            out->way = FW_IO__STORE;
        else if (!is_one_of(at + 1, length, archives))
            return fw_fail(err, FW_EINPUT,
                           "%s: %.*s/ is not read here; expected a file, "
                           "/vsizip/, /vsigzip/, /vsitar/, or /vsicurl/ and "
                           "its kin",
                           source, (int)length + 1, at);
    }
    return FW_OK;
}

enum fw_status fw_io__address(const char *source, struct fw_io__address *out,
                              struct fw_error *err)
{
    *out = (struct fw_io__address){.way = FW_IO__FILE};
    if (!strncmp(source, "/vsi", 4))
        return chain(source, out, err);
    size_t length = 0;
    while (isalnum((unsigned char)source[length]) || source[length] == '_')
        length++;
    if (length < 2 || source[length] != ':' || is_there(source))
        return FW_OK;
    for (size_t i = 0; i < sizeof addresses / sizeof addresses[0]; i++)
        if (strlen(addresses[i].word) == length + 1 &&
            !strncasecmp(source, addresses[i].word, length + 1)) {
            *out = addresses[i].address;
            return FW_OK;
        }
    return fw_fail(err, FW_EINPUT,
                   "%s: no such file, and %.*s: is no way to a source; "
                   "expected a file, or one that begins with %s",
                   source, (int)length, source, known_words);
}

bool fw_source_is_here(const char *source)
{
    struct fw_io__address address;
    return !fw_io__address(source, &address, NULL) &&
           (address.way == FW_IO__FILE || address.way == FW_IO__TABLE);
}

/* ---- pages ---- */

/* Without what follows a question mark: "https://x.example/fields.zip?key". */
static char *name_in_memory(const char *source)
{
    const size_t length = strcspn(source, "?#");
    const size_t room = length + 80;
    char *path = fw_alloc(room, 1);
    if (!path)
        return NULL;
    size_t start = length;
    while (start > 0 && source[start - 1] != '/')
        start--;
    /* Its own address is a name that no other page has. */
    const uintptr_t own = (uintptr_t)path;
    snprintf(path, room, "/vsimem/foldwright-page-%" PRIxPTR "/%.*s", own,
             (int)(length - start), source + start);
    return path;
}

static enum fw_status keep_page(const char *source,
                                const struct fw_io__session *session,
                                CPLHTTPResult *page, char **path,
                                struct fw_error *err)
{
    if (page && page->pszErrBuf)
        return fw_fail(err, FW_EINPUT, "%s: cannot be fetched: %.300s", source,
                       page->pszErrBuf);
    if (!page || page->nDataLen == 0)
        return fw_fail(err, FW_EINPUT, "%s: cannot be fetched: %s", source,
                       fw_io__said(session, "nothing comes from there"));
    *path = name_in_memory(source);
    if (!*path)
        return fw_fail_memory(err);
    VSILFILE *file = VSIFileFromMemBuffer(*path, page->pabyData,
                                          (vsi_l_offset)page->nDataLen, TRUE);
    if (!file) {
        fw_free(*path);
        return fw_fail_memory(err);
    }
    page->pabyData = NULL; /* the file's now */
    VSIFCloseL(file);
    return FW_OK;
}

enum fw_status fw_io__fetch(const char *source, struct fw_io__session *session,
                            char **path, struct fw_error *err)
{
    char slow[40];
    snprintf(slow, sizeof slow, "LOW_SPEED_TIME=%d", session->patience_s);
    const char *const options[] = {"CONNECTTIMEOUT=20", slow,
                                   "LOW_SPEED_LIMIT=1",
                                   "MAX_FILE_SIZE=1073741824", NULL};
    fw_io__hush(session);
    session->may_fetch = true;
    CPLHTTPResult *page = CPLHTTPFetch(source, (char **)options);
    session->may_fetch = false;
    const enum fw_status status = keep_page(source, session, page, path, err);
    CPLHTTPDestroyResult(page);
    return status;
}

void fw_io__unfetch(char *path)
{
    if (path) {
        VSIUnlink(path);
        *strrchr(path, '/') = '\0';
        VSIRmdir(path);
    }
    fw_free(path);
}

/* ---- files ---- */

static enum fw_status not_there(const char *source, const char *path,
                                struct fw_error *err)
{
    if (errno == EACCES)
        return fw_fail(err, FW_EINPUT, "%s: may not be read by you", source);
    return fw_io__no_such_file(path, source, err);
}

enum fw_status fw_io__look_at(const char *source, const char *path,
                              bool *folder, struct fw_error *err)
{
    VSIStatBufL info;
    errno = 0;
    if (VSIStatExL(path, &info,
                   VSI_STAT_EXISTS_FLAG | VSI_STAT_NATURE_FLAG |
                       VSI_STAT_SIZE_FLAG))
        return not_there(source, path, err);
    *folder = VSI_ISDIR(info.st_mode);
    if (*folder)
        return FW_OK;
    if (!VSI_ISREG(info.st_mode)) /* a pipe would be waited for without end */
        return fw_fail(err, FW_EINPUT, "%s: is a pipe or a device, not a file",
                       source);
    if (info.st_size == 0)
        return fw_fail(err, FW_EINPUT, "%s: is empty", source);
    if ((long long)info.st_size > most_bytes)
        return fw_fail(err, FW_EINPUT,
                       "%s: is over 16 GiB; cut it to the land that matters "
                       "first",
                       source);
    errno = 0;
    VSILFILE *file = VSIFOpenL(path, "rb");
    if (!file)
        return not_there(source, path, err);
    VSIFCloseL(file);
    return FW_OK;
}

bool fw_file_is_plain(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISREG(info.st_mode);
}
