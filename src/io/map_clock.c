/* A filter, or a view that a file brings along, may be a query without an end.
 * SQLite asks us now and then whether to go on. */
#include "io/map.h"

#include <gdal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

static const int steps_between = 100000; /* a millisecond or so */

static long long now_s(void)
{
    struct timespec now = {0};
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long long)now.tv_sec;
}

void fw_io__row_came(struct fw_io__clock *clock)
{
    clock->since_s = now_s();
}

/* Not 0: SQLite gives up, and GDAL reports a failure. */
static int is_late(void *user)
{
    struct fw_io__clock *clock = user;
    struct fw_io__session *session = clock->session;
    if (now_s() - clock->since_s < session->patience_s)
        return 0;
    clock->late = true;
    if (session->failures++ == 0)
        snprintf(session->failure, sizeof session->failure,
                 "nothing more came for %d s; has the filter or the view of "
                 "this layer an end?",
                 session->patience_s);
    return 1;
}

void fw_io__watch(const struct fw_io__opened *opened,
                  struct fw_io__session *session, struct fw_io__clock *clock)
{
    *clock = (struct fw_io__clock){.session = session, .since_s = now_s()};
    if (!strcmp(opened->driver, "GPKG")) {
        sqlite3 *base = GDALGetInternalHandle(opened->data, "SQLITE_HANDLE");
        if (base)
            sqlite3_progress_handler(base, steps_between, is_late, clock);
    } else if (!strcmp(opened->driver, "PostgreSQL")) {
        char order[64];
        snprintf(order, sizeof order, "SET statement_timeout = %d",
                 1000 * session->patience_s);
        GDALDatasetReleaseResultSet(
            opened->data,
            GDALDatasetExecuteSQL(opened->data, order, NULL, NULL));
    }
}
