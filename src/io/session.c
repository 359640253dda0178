#include "io/session.h"
#include "io/secret.h"
#include "io/words.h"

#include <cpl_conv.h>
#include <cpl_error.h>
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

void fw_io__enter(struct fw_io__session *session, bool offline)
{
    *session = (struct fw_io__session){0};
    CPLPushErrorHandlerEx(listen, session);
    if (!GDALGetDriverByName("GPKG"))
        GDALAllRegister();
    fw_io__option(session, "GDAL_PAM_ENABLED", "NO");
    fw_io__option(session, "CPL_TMPDIR", scratch_folder());
    /* Slower, and reads files whose nodes are in no order as well. */
    fw_io__option(session, "OSM_USE_CUSTOM_INDEXING", "NO");
    if (offline) {
        /* A GeoJSON may name its coordinate system by a link, and GDAL would
         * fetch it. Port 9 of this machine discards, and mostly refuses. */
        fw_io__option(session, "GDAL_HTTP_PROXY", "127.0.0.1:9");
        fw_io__option(session, "GDAL_HTTPS_PROXY", "127.0.0.1:9");
        fw_io__option(session, "GDAL_HTTP_TIMEOUT", "1");
    }
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
