/* One stretch of work with GDAL: its options set for this thread only, its
 * messages kept instead of printed, and both put back afterwards. */
#ifndef FW_IO_SESSION_H
#define FW_IO_SESSION_H

#include <foldwright/error.h>
#include <stdbool.h>

#define FW_IO__OPTIONS 8
#define FW_IO__WARNINGS 8

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
};

/* The session must stay where it is until fw_io__leave. Offline: nothing that
 * a file names may be fetched. */
void fw_io__enter(struct fw_io__session *session, bool offline);
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
