/* One stretch of work with GDAL: its options set for this thread only, its
 * messages kept instead of printed, and both put back afterwards. */
#ifndef FW_IO_SESSION_H
#define FW_IO_SESSION_H

#include <foldwright/error.h>
#include <stdbool.h>

#define FW_IO__OPTIONS 16
#define FW_IO__WARNINGS 8
#define FW_IO__PATIENCE_S 60 /* common practice, no source */

/* How a source is reached. */
enum fw_io__way {
    FW_IO__FILE,     /* on this machine, in an archive or not */
    FW_IO__TABLE,    /* one of several in a file: "GPKG:dem.gpkg:heights" */
    FW_IO__PAGE,     /* fetched whole, then read as a file is */
    FW_IO__STORE,    /* GDAL's /vsicurl/ and its kin: read piece by piece */
    FW_IO__SERVICE,  /* its driver asks and asks again */
    FW_IO__DATABASE, /* its driver has a connection of its own */
};

struct fw_io__session {
    struct {
        const char *key;
        char *before; /* NULL: the thread had none */
    } options[FW_IO__OPTIONS];
    size_t option_count;
    int failures;
    char failure[512]; /* the first one, in one line */
    int warnings;      /* all of them; the texts of the first few that differ */
    char warning[FW_IO__WARNINGS][256];
    size_t warning_count;
    const char *source; /* whose secrets are kept out of what is said */
    bool may_fetch;     /* by GDAL's web client */
    int patience_s;     /* how long to wait for what does not come */
};

/* The session must stay where it is until fw_io__leave. Nothing that a file
 * names is fetched, whatever the way: a store is read through the one file
 * system, a service by the web client alone. */
void fw_io__enter(struct fw_io__session *session, enum fw_io__way way);
void fw_io__leave(struct fw_io__session *session);

/* No password of the source, which lives as long, gets into a message. */
void fw_io__keep_secret(struct fw_io__session *session, const char *source);

/* Set one more option until fw_io__leave. */
void fw_io__option(struct fw_io__session *session, const char *key,
                   const char *value);

/* What GDAL said first, or the given words when it said nothing. */
const char *fw_io__said(const struct fw_io__session *session,
                        const char *otherwise);

/* Forget what was said so far. */
void fw_io__hush(struct fw_io__session *session);

#endif
