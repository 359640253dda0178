/* Which ways lead to a source, what a file must be, how it is said that it
 * cannot be written, and what is kept of what GDAL says. */
#include "scratch.h"

#include "base/alloc.h"
#include "io/address.h"
#include "io/inputs.h"
#include "io/io.h"
#include "io/put.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <sys/time.h>
#include <time.h>

/* ---- addresses ---- */

static void sources_are_reached_as_they_are_written(void **state)
{
    (void)state;
    static const struct {
        const char *source;
        enum fw_io__way way;
        const char *map, *raster;
    } rows[] = {
        {"fields.geojson", FW_IO__FILE, NULL, NULL},
        {"a folder/fields.shp", FW_IO__FILE, NULL, NULL},
        {"c:/maps/fields.shp", FW_IO__FILE, NULL, NULL},
        {"", FW_IO__FILE, NULL, NULL},
        {"http://x.example/a.zip", FW_IO__PAGE, NULL, NULL},
        {"HTTPS://x.example/a.zip", FW_IO__PAGE, NULL, NULL},
        {"ftp://x.example/a.zip", FW_IO__PAGE, NULL, NULL},
        {"wfs:https://x.example/wfs", FW_IO__SERVICE, "WFS", NULL},
        {"OAPIF:https://x.example", FW_IO__SERVICE, "OAPIF", NULL},
        {"PG:dbname=farm", FW_IO__DATABASE, "PostgreSQL", NULL},
        {"MySQL:farm", FW_IO__DATABASE, "MySQL", NULL},
        {"MSSQL:server=db", FW_IO__DATABASE, "MSSQLSpatial", NULL},
        {"GPKG:dem.gpkg:heights", FW_IO__TABLE, NULL, "GPKG"},
        {"/vsizip/a.zip/b.shp", FW_IO__FILE, NULL, NULL},
        {"/vsizip//vsitar/a.tar/b.zip/c.shp", FW_IO__FILE, NULL, NULL},
        {"/vsigzip/a.gz", FW_IO__FILE, NULL, NULL},
        {"/vsimem/a.shp", FW_IO__FILE, NULL, NULL},
        {"/vsizip/maps/vsicurl.zip/b.shp", FW_IO__FILE, NULL, NULL},
        {"/vsizip//maps/vsi.zip", FW_IO__FILE, NULL, NULL},
        {"/vsicurl/https://x.example/a.gpkg", FW_IO__STORE, NULL, NULL},
        {"/vsizip//vsicurl/https://x.example/a.zip", FW_IO__STORE, NULL, NULL},
        {"/vsicurl_streaming/https://x.example/a", FW_IO__STORE, NULL, NULL},
        {"/vsis3/bucket/a.gpkg", FW_IO__STORE, NULL, NULL},
        {"/vsiadls/bucket/a.gpkg", FW_IO__STORE, NULL, NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_io__address got = {.map_driver = "none"};
        struct fw_error err = {.text = ""};
        if (fw_io__address(rows[i].source, &got, &err))
            fail_msg("%s", err.text);
        if (got.way != rows[i].way)
            fail_msg("%s: way %d", rows[i].source, (int)got.way);
        const char *const drivers[2][2] = {{got.map_driver, rows[i].map},
                                           {got.raster_driver, rows[i].raster}};
        for (size_t k = 0; k < 2; k++) {
            assert_int_equal(!drivers[k][0], !drivers[k][1]);
            if (drivers[k][0])
                assert_string_equal(drivers[k][0], drivers[k][1]);
        }
    }
}

static void other_ways_are_refused_by_name(void **state)
{
    static const struct {
        const char *source, *said;
    } rows[] = {
        {"foo:bar", "foo: is no way to a source"},
        {"a_1:b", "a_1: is no way to a source"},
        {"xhttp:b", "xhttp: is no way to a source"},
        {"htt:b", "htt: is no way to a source"},
        {"/vsisubfile/0_9,/etc/passwd", "/vsisubfile/ is not read here"},
        {"/vsistdin/", "/vsistdin/ is not read here"},
        {"/vsizip//vsisparse/a.xml", "/vsisparse/ is not read here"},
        {"/vsis/a", "/vsis/ is not read here"},
        {"/vsizi/a", "/vsizi/ is not read here"},
        {"/vsicur/a", "/vsicur/ is not read here"},
    };
    struct fw_io__address got;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct fw_error err = {.text = ""};
        assert_int_equal(fw_io__address(rows[i].source, &got, &err), FW_EINPUT);
        if (strncmp(err.text, rows[i].source, strlen(rows[i].source)) != 0 ||
            !strstr(err.text, rows[i].said))
            fail_msg("%s", err.text);
    }
    /* A file of that name is a file. */
    char before[4096];
    assert_non_null(getcwd(before, sizeof before));
    assert_int_equal(chdir(((struct scratch *)*state)->path), 0);
    put_text("foo:bar", "x");
    assert_int_equal(fw_io__address("foo:bar", &got, NULL), FW_OK);
    assert_int_equal(got.way, FW_IO__FILE);
    assert_int_equal(chdir(before), 0);
}

/* ---- what a file must be ---- */

static void a_file_is_looked_at_before_gdal_is_asked(void **state)
{
    const char *path = in_scratch(*state, "map");
    struct fw_error err = {.text = ""};
    bool folder = true;
    assert_int_equal(fw_io__look_at("the map", path, &folder, &err), FW_EINPUT);
    assert_string_equal(err.text, "the map: no such file");
    assert_false(fw_file_is_plain(path));
    put_text(path, "");
    assert_int_equal(fw_io__look_at("the map", path, &folder, &err), FW_EINPUT);
    assert_string_equal(err.text, "the map: is empty");
    assert_true(fw_file_is_plain(path));
    put_text(path, "x");
    assert_int_equal(fw_io__look_at("the map", path, &folder, &err), FW_OK);
    assert_false(folder);
    /* Sixteen times 2^30 bytes, and one more; nothing is written. */
    const off_t most = 17179869184;
    if (truncate(path, most) == 0) {
        assert_int_equal(fw_io__look_at("the map", path, &folder, &err), FW_OK);
        assert_int_equal(truncate(path, most + 1), 0);
        assert_int_equal(fw_io__look_at("the map", path, &folder, &err),
                         FW_EINPUT);
        assert_non_null(strstr(err.text, "the map: is over 16 GiB"));
    }
    const char *place = ((struct scratch *)*state)->path;
    assert_int_equal(fw_io__look_at("it", place, &folder, &err), FW_OK);
    assert_true(folder);
    assert_false(fw_file_is_plain(place));
    const char *pipe = in_scratch(*state, "pipe");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    assert_int_equal(fw_io__look_at("it", pipe, &folder, &err), FW_EINPUT);
    assert_string_equal(err.text, "it: is a pipe or a device, not a file");
    assert_false(fw_file_is_plain(pipe));
}

static void refuses_to_get(const char *path, const char *said)
{
    char *bytes = NULL;
    size_t count = 0;
    struct fw_error err = {.text = ""};
    assert_int_equal(fw_file_get(path, 100, &bytes, &count, &err), FW_EINPUT);
    assert_null(bytes);
    if (strncmp(err.text, path, strlen(path)) != 0 ||
        strcmp(err.text + strlen(path), said) != 0)
        fail_msg("%s", err.text);
}

static void what_cannot_be_read_is_said(void **state)
{
    const char *path = in_scratch(*state, "file");
    char name[400], long_name[300];
    put_text(path, "abc");
    refuses_to_get(in_scratch(*state, "none"), ": no such file");
    snprintf(name, sizeof name, "%s/beyond", path);
    refuses_to_get(name, ": no such file");
    refuses_to_get(((struct scratch *)*state)->path,
                   ": is a folder; expected a file");
    memset(long_name, 'n', sizeof long_name);
    long_name[299] = '\0';
    refuses_to_get(long_name, ": cannot be read: File name too long");
    /* Nothing of a process lies at 0. */
    refuses_to_get("/proc/self/mem", ": cannot be read: Input/output error");
    struct fw_error err = {.text = ""};
    char *bytes = NULL;
    size_t count = 0;
    assert_int_equal(fw_io__get_plain("/dev/null", 9, &bytes, &count, &err),
                     FW_EINPUT);
    assert_string_equal(err.text, "/dev/null: is no plain file");
    assert_int_equal(fw_io__get_plain(path, 3, &bytes, &count, &err), FW_OK);
    assert_int_equal(count, 3);
    assert_string_equal(bytes, "abc");
    fw_bytes_free(bytes);
    assert_int_equal(fw_io__get_plain(path, 2, &bytes, &count, &err),
                     FW_EINPUT);
    assert_non_null(strstr(err.text, "is over 2 bytes; expected less"));
}

/* ---- a pipe that is interrupted, and one that is long ---- */

struct pouring {
    const char *path;
    size_t count;
};

static void *pour_slowly(void *of)
{
    const struct pouring *pouring = of;
    sigset_t alarms;
    sigemptyset(&alarms);
    sigaddset(&alarms, SIGALRM);
    pthread_sigmask(SIG_BLOCK, &alarms, NULL);
    FILE *file = fopen(pouring->path, "wb");
    for (size_t i = 0; file && i < pouring->count; i++) {
        if (i == pouring->count / 2) {
            fflush(file);
            nanosleep(&(struct timespec){0, 60000000}, NULL);
        }
        fputc('a' + (int)(i % 26), file);
    }
    if (file)
        fclose(file);
    return NULL;
}

static void do_nothing(int number)
{
    (void)number;
}

static void pipe_is_read_whatever_comes_in_between(void **state)
{
    const char *path = in_scratch(*state, "pipe");
    assert_int_equal(mkfifo(path, 0600), 0);
    struct sigaction before, quiet = {.sa_handler = do_nothing};
    assert_int_equal(sigaction(SIGALRM, &quiet, &before), 0);
    /* Beside 65,536 bytes and their double, room for which is made by and by.
     */
    static const size_t counts[] = {100, 65535, 65536, 65537, 131073, 300000};
    for (size_t k = 0; k < sizeof counts / sizeof *counts; k++) {
        const struct pouring pouring = {path, counts[k]};
        const struct itimerval soon = {{0, 10000}, {0, 20000}}, never = {0};
        pthread_t thread;
        assert_int_equal(
            pthread_create(&thread, NULL, pour_slowly, (void *)&pouring), 0);
        /* Opening waits for the other end, and is not begun again. */
        const int held = open(path, O_RDONLY);
        assert_int_equal(setitimer(ITIMER_REAL, &soon, NULL), 0);
        char *bytes = NULL;
        size_t count = 0;
        struct fw_error err = {.text = ""};
        const enum fw_status status =
            fw_file_get(path, 300000, &bytes, &count, &err);
        setitimer(ITIMER_REAL, &never, NULL);
        close(held);
        pthread_join(thread, NULL);
        if (status)
            fail_msg("%s", err.text);
        assert_int_equal(count, counts[k]);
        for (size_t i = 0; i < count; i++)
            if (bytes[i] != 'a' + (int)(i % 26))
                fail_msg("byte %zu of %zu", i, count);
        assert_int_equal(bytes[count], '\0');
        fw_bytes_free(bytes);
    }
    sigaction(SIGALRM, &before, NULL);
}

/* ---- folders, and what cannot be written ---- */

static void folders_are_made_or_it_is_said_why_not(void **state)
{
    char path[700], long_name[300];
    struct fw_error err = {.text = ""};
    memset(long_name, 'n', sizeof long_name);
    long_name[299] = '\0';
    const char *file = in_scratch(*state, "file");
    put_text(file, "x");
    assert_int_equal(fw_folder_make(file, &err), FW_EOUTPUT);
    assert_non_null(strstr(err.text, "file: is a file; expected a folder"));
    snprintf(path, sizeof path, "%s/in/side", file);
    assert_int_equal(fw_folder_make(path, &err), FW_EOUTPUT);
    assert_non_null(strstr(err.text, "file: is a file; expected a folder"));
    snprintf(path, sizeof path, "%s/new/%s", ((struct scratch *)*state)->path,
             long_name);
    assert_int_equal(fw_folder_make(path, &err), FW_EOUTPUT);
    assert_non_null(
        strstr(err.text, "the folder cannot be made: File name too long"));
    assert_true(exists(in_scratch(*state, "new")));
    snprintf(path, sizeof path, "%s/a//b/", ((struct scratch *)*state)->path);
    assert_int_equal(fw_folder_make(path, &err), FW_OK);
    assert_true(exists(in_scratch(*state, "a/b")));
    assert_int_equal(fw_folder_make("/", &err), FW_OK);
}

static void reasons_are_told_in_words(void **state)
{
    (void)state;
    static const struct {
        int code;
        const char *why;
    } rows[] = {
        {ENOSPC, "the disk is full"},
        {EDQUOT, "the disk is full"},
        {EFBIG, "it is larger than this system allows"},
        {EACCES, "you may not write there"},
        {EPERM, "you may not write there"},
        {EROFS, "that disk can only be read"},
        {ENOENT, "that folder is not there"},
        {ENOTDIR, "that folder is not there"},
        {EISDIR, "it is a folder"},
        {ENAMETOOLONG, "the name is too long"},
        {EIO, "the disk does not answer"},
        {EMFILE, "Too many open files"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char wanted[200];
        struct fw_error err;
        snprintf(wanted, sizeof wanted, "a/b: cannot be written: %s",
                 rows[i].why);
        assert_int_equal(fw_io__refuse("a/b", rows[i].code, &err), FW_EOUTPUT);
        assert_string_equal(err.text, wanted);
    }
}

static void some_unfinished_files_are_remembered(void **state)
{
    enum { room = 16 };
    char paths[room][120];
    int slots[room];
    for (int i = 0; i < room; i++) {
        snprintf(paths[i], sizeof paths[i], "%s/%d",
                 ((struct scratch *)*state)->path, i);
        put_text(paths[i], "x");
        slots[i] = fw_io__remember(paths[i]);
        assert_true(slots[i] >= 0);
        for (int k = 0; k < i; k++)
            assert_int_not_equal(slots[i], slots[k]);
    }
    assert_int_equal(fw_io__remember("one more"), -1);
    fw_io__forget(-1);
    fw_io__forget(slots[3]);
    fw_io__forget(slots[15]);
    errno = 77;
    fw_file_abandon();
    assert_int_equal(errno, 77);
    for (int i = 0; i < room; i++) {
        assert_int_equal(exists(paths[i]), i == 3 || i == 15);
        fw_io__forget(slots[i]);
    }
    /* With its NUL a path has 4,096 bytes at most. */
    static char long_path[4097];
    memset(long_path, 'p', 4096);
    assert_int_equal(fw_io__remember(long_path), -1);
    long_path[4095] = '\0';
    const int slot = fw_io__remember(long_path);
    assert_int_equal(slot, slots[0]);
    fw_io__forget(slot);
}

/* Of this process, which may have had the number of one that died: ten minutes
 * on it is left behind. */
static void temporaries_are_swept_when_they_are_old(void **state)
{
    char name[60];
    const char *folder = ((struct scratch *)*state)->path;
    static const struct {
        long age_s;
        const char *before, *after; /* the number of the process */
        bool gone;
    } rows[] = {
        {601, ".foldwright-", "-0.tmp", true},
        {595, ".foldwright-", "-1.tmp", false},
        {9999, ".foldwright-", "-2.tmp", true},
        {9999, ".foldwright-", "-.tmp", false},
        {9999, ".foldwright-", "-3.tmpx", false},
        {9999, ".foldwright-", "x3.tmp", false},
        {9999, "foldwright-", "-3.tmp", false},
        {9999, ".foldwright-0", "-33.tmp", true},
        {9999, ".foldwright--", "-3.tmp", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        snprintf(name, sizeof name, "%s%ld%s", rows[i].before, (long)getpid(),
                 rows[i].after);
        const char *path = in_scratch(*state, name);
        put_text(path, "x");
        const time_t then = time(NULL) - rows[i].age_s;
        const struct timespec times[2] = {{then, 0}, {then, 0}};
        assert_int_equal(utimensat(AT_FDCWD, path, times, 0), 0);
        fw_io__sweep(folder);
        if (exists(path) == rows[i].gone)
            fail_msg("%s", name);
    }
}

/* ---- inputs ---- */

static void empty_file_is_an_input(void **state)
{
    const char *path = in_scratch(*state, "empty");
    struct fw_inputs inputs = {0};
    put_text(path, "");
    assert_int_equal(fw_inputs_add(&inputs, path, NULL), FW_OK);
    assert_int_equal(fw_inputs_add(&inputs, path, NULL), FW_OK); /* once */
    assert_int_equal(inputs.count, 1);
    assert_true(inputs.items[0].known);
    assert_near(inputs.items[0].size, 0, 0);
    assert_int_equal(inputs.items[0].crc32, 0);
    fw_inputs_release(&inputs);
}

static void inputs_of_no_folder_or_no_file(void **state)
{
    struct fw_error err = {.text = ""};
    char gone[] = "/nowhere/gone.geojson";
    struct fw_input items[] = {{.path = gone, .known = true, .size = 3}};
    const struct fw_inputs inputs = {.items = items, .count = 1};
    struct fw_inputs out = {0};
    const char *none = in_scratch(*state, "none");
    assert_int_equal(fw_inputs_from(none, "plan.json", &inputs, &out, &err),
                     FW_EOUTPUT);
    assert_non_null(strstr(err.text, "none: that folder is not there"));
    assert_int_equal(out.count, 0);
    /* What is not there is told as it was. */
    assert_int_equal(fw_inputs_from(((struct scratch *)*state)->path,
                                    "plan.json", &inputs, &out, &err),
                     FW_OK);
    assert_int_equal(out.count, 1);
    assert_string_equal(out.items[0].path, gone);
    assert_true(out.items[0].known);
    fw_inputs_release(&out);
    /* From the root all paths begin with a name. */
    char before[4096], real[4096], file[4200];
    assert_non_null(getcwd(before, sizeof before));
    assert_int_equal(chdir(((struct scratch *)*state)->path), 0);
    assert_non_null(getcwd(real, sizeof real));
    assert_int_equal(chdir(before), 0);
    snprintf(file, sizeof file, "%s/here", real);
    put_text(file, "abc");
    items[0].path = file;
    assert_int_equal(fw_inputs_from("/", "plan.json", &inputs, &out, &err),
                     FW_OK);
    assert_string_equal(out.items[0].path, file + 1);
    fw_inputs_release(&out);
}

/* ---- what GDAL says ---- */

static void warnings_are_kept_once_and_some(void **state)
{
    (void)state;
    struct fw_io__session session;
    fw_io__enter(&session, FW_IO__FILE);
    assert_string_equal(fw_io__said(&session, "nothing"), "nothing");
    CPLError(CE_Warning, CPLE_AppDefined, "One is odd. Set THIS to that.");
    CPLError(CE_Warning, CPLE_AppDefined, "One is odd.");
    assert_int_equal(session.warnings, 2);
    assert_int_equal(session.warning_count, 1);
    assert_string_equal(session.warning[0], "One is odd");
    assert_string_equal(fw_io__said(&session, "nothing"), "One is odd");
    for (int i = 0; i < FW_IO__WARNINGS + 3; i++)
        CPLError(CE_Warning, CPLE_AppDefined, "Number %d.", i);
    assert_int_equal(session.warning_count, FW_IO__WARNINGS);
    assert_string_equal(session.warning[1], "Number 0");
    assert_int_equal(session.failures, 0);
    CPLError(CE_Failure, CPLE_AppDefined, "It failed. Use something. Try it");
    CPLError(CE_Failure, CPLE_AppDefined, "Again");
    assert_int_equal(session.failures, 2);
    assert_string_equal(session.failure, "It failed");
    assert_string_equal(fw_io__said(&session, "nothing"), "It failed");
    fw_io__hush(&session);
    assert_int_equal(session.failures + session.warnings, 0);
    assert_string_equal(fw_io__said(&session, "nothing"), "nothing");
    CPLError(CE_Debug, CPLE_AppDefined, "Talk");
    assert_int_equal(session.warnings + session.failures, 0);
    fw_io__leave(&session);
}

static void options_hold_for_a_session_alone(void **state)
{
    (void)state;
    struct fw_io__session session;
    static const struct {
        const char *told, *used;
    } rows[] = {{NULL, "/tmp"}, {"", "/tmp"}, {"/var/tmp", "/var/tmp"}};
    char *before = getenv("TMPDIR");
    char *kept = before ? fw_strdup(before) : NULL;
    for (size_t i = 0; i < 3; i++) {
        if (rows[i].told)
            setenv("TMPDIR", rows[i].told, 1);
        else
            unsetenv("TMPDIR");
        CPLSetThreadLocalConfigOption("GML_SKIP_RESOLVE_ELEMS", "MINE");
        fw_io__enter(&session, i ? FW_IO__STORE : FW_IO__SERVICE);
        assert_string_equal(CPLGetConfigOption("CPL_TMPDIR", ""), rows[i].used);
        assert_string_equal(CPLGetConfigOption("GML_SKIP_RESOLVE_ELEMS", ""),
                            "ALL");
        assert_string_equal(CPLGetConfigOption("GDAL_PAM_ENABLED", ""), "NO");
        assert_string_equal(CPLGetConfigOption("GDAL_VRT_ENABLE_PYTHON", ""),
                            "NO");
        assert_string_equal(
            CPLGetConfigOption("OGR_SQLITE_ALLOW_EXTERNAL_ACCESS", ""), "NO");
        assert_string_equal(CPLGetConfigOption("CPL_CURL_ENABLE_VSIMEM", ""),
                            "NO");
        assert_string_equal(
            CPLGetConfigOption("CPL_VSIL_CURL_ALLOWED_FILENAME", "any"),
            i ? "any" : "none");
        assert_int_equal(session.may_fetch, !i);
        /* No more than there is room for. */
        for (int k = 0; k < FW_IO__OPTIONS + 2; k++)
            fw_io__option(&session, "FW_TEST", "x");
        assert_int_equal(session.option_count, FW_IO__OPTIONS);
        fw_io__leave(&session);
        assert_null(CPLGetThreadLocalConfigOption("CPL_TMPDIR", NULL));
        assert_null(CPLGetThreadLocalConfigOption("FW_TEST", NULL));
        assert_string_equal(
            CPLGetThreadLocalConfigOption("GML_SKIP_RESOLVE_ELEMS", ""),
            "MINE");
        CPLSetThreadLocalConfigOption("GML_SKIP_RESOLVE_ELEMS", NULL);
    }
    if (kept)
        setenv("TMPDIR", kept, 1);
    else
        unsetenv("TMPDIR");
    fw_free(kept);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sources_are_reached_as_they_are_written),
        scratch_test(other_ways_are_refused_by_name),
        scratch_test(a_file_is_looked_at_before_gdal_is_asked),
        scratch_test(what_cannot_be_read_is_said),
        scratch_test(pipe_is_read_whatever_comes_in_between),
        scratch_test(folders_are_made_or_it_is_said_why_not),
        cmocka_unit_test(reasons_are_told_in_words),
        scratch_test(some_unfinished_files_are_remembered),
        scratch_test(temporaries_are_swept_when_they_are_old),
        scratch_test(empty_file_is_an_input),
        scratch_test(inputs_of_no_folder_or_no_file),
        cmocka_unit_test(warnings_are_kept_once_and_some),
        cmocka_unit_test(options_hold_for_a_session_alone),
    };
    return cmocka_run_group_tests_name("io_bounds", tests, NULL, NULL);
}
