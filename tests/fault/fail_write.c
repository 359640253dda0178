/* Preloaded before the program: the nth call that puts bytes on the disk fails
 * as a full disk does, where FW_FAIL_WRITE says which; or the process is killed
 * before it, where FW_KILL_CALL does. Calls on standard output and error do not
 * count. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/types.h>
#include <unistd.h>

static int calls;

static int fails(void)
{
    const char *nth = getenv("FW_FAIL_WRITE");
    const char *last = getenv("FW_KILL_CALL");
    calls++;
    if (last && calls == atoi(last))
        raise(SIGKILL);
    return nth && calls == atoi(nth);
}

static int refuse(void)
{
    errno = ENOSPC;
    return -1;
}

/* POSIX's own way to turn what dlsym gives into a function. */
#define NEXT(name, next) *(void **)&(next) = dlsym(RTLD_NEXT, name)

/* These must be seen before the C library's own. */
#pragma GCC visibility push(default)

ssize_t write(int fd, const void *bytes, size_t count)
{
    ssize_t (*next)(int, const void *, size_t);
    NEXT("write", next);
    return fd > 2 && fails() ? refuse() : next(fd, bytes, count);
}

int fsync(int fd)
{
    int (*next)(int);
    NEXT("fsync", next);
    return fails() ? refuse() : next(fd);
}

int rename(const char *from, const char *to)
{
    int (*next)(const char *, const char *);
    NEXT("rename", next);
    return fails() ? refuse() : next(from, to);
}

int unlink(const char *path)
{
    int (*next)(const char *);
    NEXT("unlink", next);
    return fails() ? refuse() : next(path);
}
