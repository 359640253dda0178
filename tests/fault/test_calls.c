/* Each call of the system fails in turn, or is interrupted, while files are
 * written and read: a set is the old one or the new one or marked, nothing else
 * is left beside it, and what is read is whole or is said not to be. */
#define _GNU_SOURCE
#include "unit/scratch.h"
#include "unit/test.h"

#include "io/io.h"
#include "locale/plain.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- these stand before the C library's own ---- */

static int made, nth, code; /* the nth fails so; 0: none does */

static bool fails(void)
{
    made++;
    if (made != nth)
        return false;
    errno = code;
    return true;
}

/* By its name for large files, or its own where it has no other. */
static void *own(const char *large, const char *name)
{
    void *found = dlsym(RTLD_NEXT, large);
    return found ? found : dlsym(RTLD_NEXT, name);
}

/* POSIX's own way to turn what dlsym gives into a function. */
#define NEXT(next, large, name) *(void **)&(next) = own(large, name)

int open(const char *path, int flags, ...)
{
    int (*next)(const char *, int, ...);
    va_list rest;
    va_start(rest, flags);
    const int mode = flags & O_CREAT ? va_arg(rest, int) : 0;
    va_end(rest);
    NEXT(next, "open64", "open");
    return fails() ? -1 : next(path, flags, mode);
}

int close(int file)
{
    int (*next)(int);
    NEXT(next, "close", "close");
    const bool failed = fails();
    const int answer = next(file);
    if (failed)
        errno = code;
    return failed ? -1 : answer;
}

int fsync(int file)
{
    int (*next)(int);
    NEXT(next, "fsync", "fsync");
    return fails() ? -1 : next(file);
}

int flock(int file, int how)
{
    int (*next)(int, int);
    NEXT(next, "flock", "flock");
    return fails() ? -1 : next(file, how);
}

int fstat(int file, struct stat *info)
{
    int (*next)(int, struct stat *);
    NEXT(next, "fstat64", "fstat");
    return fails() ? -1 : next(file, info);
}

ssize_t write(int file, const void *bytes, size_t count)
{
    ssize_t (*next)(int, const void *, size_t);
    NEXT(next, "write", "write");
    return fails() ? -1 : next(file, bytes, count);
}

ssize_t read(int file, void *bytes, size_t count)
{
    ssize_t (*next)(int, void *, size_t);
    NEXT(next, "read", "read");
    return fails() ? -1 : next(file, bytes, count);
}

ssize_t pread(int file, void *bytes, size_t count, off_t from)
{
    ssize_t (*next)(int, void *, size_t, off_t);
    NEXT(next, "pread64", "pread");
    return fails() ? -1 : next(file, bytes, count, from);
}

locale_t newlocale(int mask, const char *name, locale_t base)
{
    locale_t (*next)(int, const char *, locale_t);
    NEXT(next, "newlocale", "newlocale");
    return fails() ? (locale_t)0 : next(mask, name, base);
}

static void let_fail(int which, int how)
{
    made = 0;
    nth = which;
    code = how;
}

static const int codes[] = {EIO, EACCES, EINVAL};

/* ---- a set ---- */

static const char *const names[] = {"one.csv", "two.txt", "three.txt"};
enum { name_count = 3 };

static enum fw_status write_set(const char *folder, struct fw_error *err)
{
    const struct fw_set_rules rules = {.force = true};
    struct fw_set *set = NULL;
    enum fw_status status =
        fw_set_begin(folder, names, name_count, &rules, &set, err);
    for (int i = 0; !status && i < name_count; i++)
        status = fw_set_put(set, "new", 3, err);
    if (!status)
        status = fw_set_done(set, err);
    fw_set_free(set);
    return status;
}

static void put_old(const struct scratch *scratch)
{
    for (int i = 0; i < name_count; i++)
        put_text(in_scratch(scratch, names[i]), "old");
}

static bool holds(const struct scratch *scratch, const char *text)
{
    int count = 0;
    for (int i = 0; i < name_count; i++) {
        char got[8] = "";
        FILE *file = fopen(in_scratch(scratch, names[i]), "rb");
        assert_non_null(file);
        got[fread(got, 1, sizeof got - 1, file)] = '\0';
        fclose(file);
        count += strcmp(got, text) == 0;
    }
    return count == name_count;
}

static int files_in(const char *folder)
{
    int count = 0;
    DIR *open_one = opendir(folder);
    assert_non_null(open_one);
    while (readdir(open_one))
        count++;
    closedir(open_one);
    return count - 2; /* itself, and above it */
}

/* Or it is marked as unfinished, and no reader takes it. */
static void a_set_is_the_old_one_or_the_new_one(void **state)
{
    const struct scratch *scratch = *state;
    int refused = 0, done = 0;
    for (size_t c = 0; c < sizeof codes / sizeof *codes; c++)
        for (int n = 1;; n++) {
            struct fw_error err = {.text = ""};
            put_old(scratch);
            let_fail(n, codes[c]);
            const enum fw_status status = write_set(scratch->path, &err);
            const bool reached = made >= n;
            let_fail(0, 0);
            const bool marked =
                exists(in_scratch(scratch, ".foldwright-unfinished"));
            if (status) {
                assert_int_equal(status, FW_EOUTPUT);
                assert_true(strlen(err.text) > 0);
                assert_true(marked || holds(scratch, "old") ||
                            holds(scratch, "new"));
            } else {
                assert_true(holds(scratch, "new") && !marked);
            }
            assert_int_equal(files_in(scratch->path), name_count + marked);
            unlink(in_scratch(scratch, ".foldwright-unfinished"));
            refused += status != FW_OK;
            done += status == FW_OK;
            if (!reached)
                break;
        }
    assert_true(refused > 10 && done > 10);
}

/* ---- one file ---- */

static void a_file_is_written_whole_or_not(void **state)
{
    const struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "a.txt");
    for (size_t c = 0; c < sizeof codes / sizeof *codes; c++)
        for (int n = 1; n < 12; n++) {
            struct fw_error err;
            put_text(path, "old");
            let_fail(n, codes[c]);
            const enum fw_status status = fw_file_put(path, "newer", 5, &err);
            let_fail(0, 0);
            char *bytes = NULL;
            size_t count;
            assert_int_equal(fw_file_get(path, 9, &bytes, &count, NULL), FW_OK);
            assert_true(strcmp(bytes, "newer") == 0 ||
                        (status && strcmp(bytes, "old") == 0));
            fw_bytes_free(bytes);
            assert_int_equal(files_in(scratch->path), 1);
        }
}

/* A stream has no file of before; what it got cannot be taken back. */
static void a_stream_that_breaks_is_said(void **state)
{
    const struct scratch *scratch = *state;
    (void)scratch;
    int refused = 0;
    for (int n = 1; n < 5; n++) {
        struct fw_error err = {.text = ""};
        let_fail(n, EIO);
        const enum fw_status status =
            fw_file_put("/dev/null", "sheep", 5, &err);
        const bool reached = made >= n;
        let_fail(0, 0);
        assert_int_equal(status, reached ? FW_EOUTPUT : FW_OK);
        refused += status != FW_OK;
    }
    assert_int_equal(refused, 3); /* opened, written, closed */
}

/* ---- reading ---- */

static void what_is_read_is_whole_or_refused(void **state)
{
    const struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "a.txt");
    put_text(path, "ewes and lambs");
    int refused = 0;
    for (size_t c = 0; c < sizeof codes / sizeof *codes; c++)
        for (int n = 1; n < 12; n++) {
            struct fw_error err = {.text = ""};
            char *bytes = NULL;
            size_t count = 0;
            let_fail(n, codes[c]);
            const enum fw_status status =
                fw_file_get(path, 100, &bytes, &count, &err);
            let_fail(0, 0);
            if (status) {
                assert_int_equal(status, FW_EINPUT);
                assert_non_null(strstr(err.text, "a.txt"));
                refused++;
            } else {
                assert_string_equal(bytes, "ewes and lambs");
                assert_int_equal(count, 14);
            }
            fw_bytes_free(bytes);
        }
    assert_true(refused > 3);
}

/* Of one that cannot be read to its end nothing is known. */
static void a_sum_is_of_the_whole_file_or_none(void **state)
{
    const struct scratch *scratch = *state;
    char paths[2][512];
    unsigned wanted[2];
    double size[2];
    for (int i = 0; i < 2; i++) {
        snprintf(paths[i], sizeof paths[i], "%s/%d.bin", scratch->path, i);
        put_text(paths[i], "0123456789");
        /* The second is so large that its ends are summed. */
        if (i == 1)
            assert_int_equal(truncate(paths[i], (off_t)1 << 33), 0);
        struct fw_inputs inputs = {0};
        assert_int_equal(fw_inputs_add(&inputs, paths[i], NULL), FW_OK);
        assert_true(inputs.items[0].known);
        wanted[i] = inputs.items[0].crc32;
        size[i] = inputs.items[0].size;
        fw_inputs_release(&inputs);
    }
    assert_int_equal(wanted[0], fw_file_crc32("0123456789", 10));
    int unknown = 0;
    for (int i = 0; i < 2; i++)
        for (int n = 1; n < 8; n++) {
            struct fw_inputs inputs = {0};
            let_fail(n, EIO);
            assert_int_equal(fw_inputs_add(&inputs, paths[i], NULL), FW_OK);
            let_fail(0, 0);
            assert_int_equal(inputs.count, 1);
            const struct fw_input *input = &inputs.items[0];
            assert_true(input->known ? input->crc32 == wanted[i] &&
                                           input->size == size[i]
                                     : input->crc32 == 0 && input->size == 0);
            unknown += !input->known;
            fw_inputs_release(&inputs);
        }
    assert_true(unknown >= 6);
}

/* A signal that comes in between changes nothing. */
static void an_interrupted_call_is_made_again(void **state)
{
    const struct scratch *scratch = *state;
    put_old(scratch);
    int whole = 0;
    for (int n = 1; n < 40; n++) {
        struct fw_error err;
        char *bytes = NULL;
        size_t count;
        put_old(scratch);
        let_fail(n, EINTR);
        const enum fw_status written = write_set(scratch->path, &err);
        let_fail(n, EINTR);
        const enum fw_status got = fw_file_get(in_scratch(scratch, "one.csv"),
                                               100, &bytes, &count, &err);
        struct fw_inputs inputs = {0};
        let_fail(n, EINTR);
        assert_int_equal(
            fw_inputs_add(&inputs, in_scratch(scratch, "one.csv"), NULL),
            FW_OK);
        let_fail(0, 0);
        whole +=
            !written && holds(scratch, "new") && !got && inputs.items[0].known;
        fw_bytes_free(bytes);
        fw_inputs_release(&inputs);
    }
    assert_true(whole > 5);
}

/* ---- the locale ---- */

/* Where there is no memory for a plain one the host's stays in force. */
static void without_a_plain_locale_the_hosts_stays(void **state)
{
    (void)state;
    const locale_t before = uselocale((locale_t)0);
    for (int n = 0; n < 2; n++) {
        let_fail(n, ENOMEM);
        const struct fw_locale now = fw_locale_enter();
        const locale_t inside = uselocale((locale_t)0);
        fw_locale_leave(now);
        let_fail(0, 0);
        assert_int_equal(inside == before, n == 1);
        assert_true(uselocale((locale_t)0) == before);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        scratch_test(a_set_is_the_old_one_or_the_new_one),
        scratch_test(a_file_is_written_whole_or_not),
        scratch_test(a_stream_that_breaks_is_said),
        scratch_test(what_is_read_is_whole_or_refused),
        scratch_test(a_sum_is_of_the_whole_file_or_none),
        scratch_test(an_interrupted_call_is_made_again),
        cmocka_unit_test(without_a_plain_locale_the_hosts_stays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
