/* foldwright on the path of a test: has a program that is already loaded run
 * what it is asked, and ends as that does. It links nothing but the C library,
 * and so starts in a few milliseconds instead of a hundred.
 *
 * It becomes the real program where there is no server, where FW_COLD is set,
 * where something is to be loaded before the program, and where one of the
 * descriptors that are handed over is closed. */
#define _GNU_SOURCE /* O_PATH */
#include "warm.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

static _Noreturn void broken(const char *what)
{
    fprintf(stderr, "tests/warm: %s: %s\n", what, strerror(errno));
    exit(WARM_BROKEN);
}

static _Noreturn void become_real(char **argv)
{
    execv(WARM_PROGRAM, argv);
    broken(WARM_PROGRAM);
}

static uint32_t count(char **words, uint64_t *length)
{
    uint32_t n = 0;
    for (; words[n]; n++)
        *length += strlen(words[n]) + 1;
    return n;
}

static struct warm_request asked(char **argv)
{
    struct warm_request request = {0};
    request.words = count(argv, &request.length);
    request.settings = count(environ, &request.length);
    for (int n = 1; n <= WARM_SIGNALS; n++) {
        struct sigaction now;
        if (sigaction(n, NULL, &now) == 0 && now.sa_handler == SIG_IGN)
            request.ignored |= (uint64_t)1 << (n - 1);
    }
    sigprocmask(SIG_SETMASK, NULL, &request.blocked);
    request.mask = umask(0);
    umask(request.mask);
    for (int n = 0; n < RLIM_NLIMITS; n++)
        if (getrlimit((__rlimit_resource_t)n, &request.limits[n]))
            broken("limits");
    return request;
}

static int connected(const char *name)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    size_t length = strnlen(name, sizeof address.sun_path - 1);
    memcpy(address.sun_path + 1, name, length);
    int server = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (server < 0 ||
        connect(
            server, (struct sockaddr *)&address,
            (socklen_t)(offsetof(struct sockaddr_un, sun_path) + 1 + length)))
        broken("no server at " WARM_SOCKET);
    return server;
}

/* Whether it has all that is handed over. */
static int is_whole(void)
{
    return fcntl(0, F_GETFD) >= 0 && fcntl(1, F_GETFD) >= 0 &&
           fcntl(2, F_GETFD) >= 0;
}

static void hand_over(int server, const struct warm_request *request)
{
    int folder = open(".", O_PATH | O_DIRECTORY | O_CLOEXEC);
    int sent[WARM_DESCRIPTORS] = {0, 1, 2, folder};
    union {
        struct cmsghdr head;
        char room[CMSG_SPACE(sizeof sent)];
    } control = {.head = {.cmsg_level = SOL_SOCKET,
                          .cmsg_type = SCM_RIGHTS,
                          .cmsg_len = CMSG_LEN(sizeof sent)}};
    memcpy(CMSG_DATA(&control.head), sent, sizeof sent);
    struct iovec piece = {(void *)request, sizeof *request};
    struct msghdr message = {.msg_iov = &piece,
                             .msg_iovlen = 1,
                             .msg_control = &control,
                             .msg_controllen = sizeof control.room};
    if (sendmsg(server, &message, MSG_NOSIGNAL) != (ssize_t)sizeof *request)
        broken("request");
}

static void send_words(int server, char **words)
{
    for (; *words; words++) {
        const char *at = *words, *end = at + strlen(at) + 1;
        while (at < end) {
            ssize_t n = send(server, at, (size_t)(end - at), MSG_NOSIGNAL);
            if (n < 0)
                broken("words");
            at += n;
        }
    }
}

static _Noreturn void end_as(int status)
{
    if (!WIFSIGNALED(status))
        exit(WEXITSTATUS(status));
    struct rlimit none = {0};
    setrlimit(RLIMIT_CORE, &none);
    signal(WTERMSIG(status), SIG_DFL);
    raise(WTERMSIG(status));
    exit(128 + WTERMSIG(status));
}

int main(int argc, char **argv)
{
    (void)argc;
    const char *socket_name = getenv(WARM_SOCKET);
    if (!socket_name || getenv("FW_COLD") || getenv("LD_PRELOAD") ||
        !is_whole())
        become_real(argv);
    struct warm_request request = asked(argv);
    int server = connected(socket_name);
    hand_over(server, &request);
    send_words(server, argv);
    send_words(server, environ);
    int status;
    if (recv(server, &status, sizeof status, MSG_WAITALL) != sizeof status)
        broken("the server is gone");
    end_as(status);
}
