/* Preloaded before the program: the nth call that puts bytes on the disk fails
 * as a full disk does. FW_FAIL_WRITE says which; calls on standard output and
 * error do not count. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/types.h>
#include <unistd.h>

static int calls;

static int fails(void)
{
    const char *nth = getenv("FW_FAIL_WRITE");
    return nth && ++calls == atoi(nth);
}

static int refuse(void)
{
    errno = ENOSPC;
    return -1;
}

ssize_t write(int fd, const void *bytes, size_t count)
{
    ssize_t (*next)(int, const void *, size_t) =
        (ssize_t(*)(int, const void *, size_t))dlsym(RTLD_NEXT, "write");
    return fd > 2 && fails() ? refuse() : next(fd, bytes, count);
}

int fsync(int fd)
{
    int (*next)(int) = (int (*)(int))dlsym(RTLD_NEXT, "fsync");
    return fails() ? refuse() : next(fd);
}

int rename(const char *from, const char *to)
{
    int (*next)(const char *, const char *) =
        (int (*)(const char *, const char *))dlsym(RTLD_NEXT, "rename");
    return fails() ? refuse() : next(from, to);
}

int mkstemp(char *name)
{
    int (*next)(char *) = (int (*)(char *))dlsym(RTLD_NEXT, "mkstemp");
    return fails() ? refuse() : next(name);
}
