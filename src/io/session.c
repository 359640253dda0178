#include "io/session.h"
#include "io/secret.h"
#include "io/words.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_http.h>
#include <cpl_string.h>
#include <gdal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* GDAL ends some messages with what to set in its own options, which is no
 * advice for the people here. */
static void clean(const struct fw_io__session *session, char *room, size_t size,
                  const char *text)
{
    static const char *const advice[] = {". Set ", ". Use ", ". To avoid ",
                                         ". Try "};
    char *whole = CPLStrdup(text);
    if (session->source)
        fw_io__hide_secrets(session->source, whole);
    fw_io__one_line(room, size, whole);
    CPLFree(whole);
    for (size_t i = 0; i < sizeof advice / sizeof advice[0]; i++) {
        char *at = strstr(room, advice[i]);
        if (at)
            *at = '\0';
    }
    const size_t length = strlen(room);
    if (length && room[length - 1] == '.')
        room[length - 1] = '\0';
}

static void keep_warning(struct fw_io__session *session, const char *text)
{
    session->warnings++;
    if (session->warning_count == FW_IO__WARNINGS)
        return;
    char *kept = session->warning[session->warning_count];
    clean(session, kept, sizeof session->warning[0], text);
    for (size_t i = 0; i < session->warning_count; i++)
        if (!strcmp(session->warning[i], kept))
            return;
    session->warning_count++;
}

static void CPL_STDCALL listen(CPLErr level, CPLErrorNum number,
                               const char *text)
{
    (void)number;
    struct fw_io__session *session = CPLGetErrorHandlerUserData();
    if (level == CE_Warning)
        keep_warning(session, text);
    if (level < CE_Failure)
        return;
    if (session->failures++ == 0)
        clean(session, session->failure, sizeof session->failure, text);
}

void fw_io__option(struct fw_io__session *session, const char *key,
                   const char *value)
{
    if (session->option_count == FW_IO__OPTIONS)
        return;
    const char *before = CPLGetThreadLocalConfigOption(key, NULL);
    session->options[session->option_count].key = key;
    session->options[session->option_count].before =
        before ? CPLStrdup(before) : NULL;
    session->option_count++;
    CPLSetThreadLocalConfigOption(key, value);
}

/* Scratch files of the OSM reader would go to the working folder. */
static const char *scratch_folder(void)
{
    const char *folder = getenv("TMPDIR");
    return folder && *folder ? folder : "/tmp";
}

/* All of GDAL's web client comes through here: a GeoJSON that names its
 * coordinate system by a link, a schema, a service. A result of ours ends it;
 * none lets it go on. No proxy has a say in this. */
static CPLHTTPResult *refuse_link(const char *url, CSLConstList options,
                                  GDALProgressFunc progress, void *progress_arg,
                                  CPLHTTPFetchWriteFunc write, void *write_arg,
                                  void *user)
{
    struct fw_io__session *session = user;
    (void)options;
    (void)progress;
    (void)progress_arg;
    (void)write;
    (void)write_arg;
    if (session->may_fetch)
        return NULL;
    CPLError(CE_Failure, CPLE_AppDefined,
             "it names %.200s, and no link in a map is followed", url);
    CPLHTTPResult *result = CPLCalloc(1, sizeof *result);
    result->nStatus = 1;
    result->pszErrBuf = CPLStrdup("no link in a map is followed");
    return result;
}

static void close_network(struct fw_io__session *session, enum fw_io__way way)
{
    CPLHTTPPushFetchCallback(refuse_link, session);
    session->may_fetch = way == FW_IO__SERVICE;
    if (way != FW_IO__STORE) /* the only name that its file systems take */
        fw_io__option(session, "CPL_VSIL_CURL_ALLOWED_FILENAME", "none");
    fw_io__option(session, "CPL_CURL_ENABLE_VSIMEM", "NO");
    fw_io__option(session, "GDAL_HTTP_CONNECTTIMEOUT", "20");
    fw_io__option(session, "GDAL_HTTP_LOW_SPEED_TIME", "60");
    fw_io__option(session, "GDAL_HTTP_LOW_SPEED_LIMIT", "1");
}

/* What a file may make GDAL do beyond being read. */
static void close_doors(struct fw_io__session *session)
{
    fw_io__option(session, "GDAL_VRT_ENABLE_PYTHON", "NO");
    fw_io__option(session, "OGR_SQLITE_ALLOW_EXTERNAL_ACCESS", "NO");
    fw_io__option(session, "OGR_SQLITE_LIST_VIRTUAL_OGR", "NO");
    fw_io__option(session, "OGR_SQLITE_LOAD_EXTENSIONS", NULL);
    fw_io__option(session, "GML_SKIP_RESOLVE_ELEMS", "ALL");
}

void fw_io__enter(struct fw_io__session *session, enum fw_io__way way)
{
    *session = (struct fw_io__session){.patience_s = FW_IO__PATIENCE_S};
    CPLPushErrorHandlerEx(listen, session);
    if (!GDALGetDriverByName("GPKG"))
        GDALAllRegister();
    fw_io__option(session, "GDAL_PAM_ENABLED", "NO");
    fw_io__option(session, "CPL_TMPDIR", scratch_folder());
    /* Slower, and reads files whose nodes are in no order as well. */
    fw_io__option(session, "OSM_USE_CUSTOM_INDEXING", "NO");
    close_network(session, way);
    close_doors(session);
    fw_io__hush(session);
}

void fw_io__keep_secret(struct fw_io__session *session, const char *source)
{
    session->source = source;
}

void fw_io__leave(struct fw_io__session *session)
{
    while (session->option_count) {
        session->option_count--;
        CPLSetThreadLocalConfigOption(
            session->options[session->option_count].key,
            session->options[session->option_count].before);
        CPLFree(session->options[session->option_count].before);
    }
    CPLHTTPPopFetchCallback();
    CPLPopErrorHandler();
    CPLErrorReset();
}

const char *fw_io__said(const struct fw_io__session *session,
                        const char *otherwise)
{
    if (session->failures)
        return session->failure;
    return session->warning_count ? session->warning[0] : otherwise;
}

void fw_io__hush(struct fw_io__session *session)
{
    session->failures = session->warnings = 0;
    session->warning_count = 0;
    session->failure[0] = '\0';
    CPLErrorReset();
}
