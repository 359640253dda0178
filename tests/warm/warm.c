/* A test with a program that is already loaded.
 *
 *   warm COMMAND [ARGUMENT...]
 *
 * To load GDAL and what it needs takes longer than most runs of foldwright that
 * the tests make. This one has loaded all of it, runs the command with FW_WARM
 * set, and for each client.c that asks forks itself: the copy takes over the
 * client's words, environment, folder, descriptors, signals and limits, and is
 * foldwright from its main to its exit. What such a run has not: the loader's
 * work, and what libraries read from the environment while they are loaded.
 *
 * It ends with the command, and as it ended; the command and the copies end
 * with it, and a copy with its client. */
#define _GNU_SOURCE /* pidfd_open, close_range, ucred */
#include "warm.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/pidfd.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

int foldwright_main(int argc, char **argv); /* src/cli/main.c */

/* A copy and who asked for it. More clients than that wait for their turn. */
struct job {
    pid_t pid;
    int ended, client;
};
enum { MOST_JOBS = 64 };

static _Noreturn void broken(const char *what)
{
    fprintf(stderr, "tests/warm: %s: %s\n", what, strerror(errno));
    _exit(WARM_BROKEN);
}

/* ---- the copy ---- */

static void end_with_parent(pid_t parent, int number)
{
    if (prctl(PR_SET_PDEATHSIG, number) || getppid() != parent)
        _exit(WARM_BROKEN);
}

static void take_request(int client, struct warm_request *request, int *taken)
{
    size_t size = sizeof *taken * WARM_DESCRIPTORS;
    union {
        struct cmsghdr head;
        char room[CMSG_SPACE(sizeof *taken * WARM_DESCRIPTORS)];
    } control;
    struct iovec piece = {request, sizeof *request};
    struct msghdr message = {.msg_iov = &piece,
                             .msg_iovlen = 1,
                             .msg_control = &control,
                             .msg_controllen = sizeof control.room};
    if (recvmsg(client, &message, MSG_WAITALL) != (ssize_t)sizeof *request)
        broken("request");
    struct cmsghdr *head = CMSG_FIRSTHDR(&message);
    if (!head || head->cmsg_type != SCM_RIGHTS ||
        head->cmsg_len != CMSG_LEN(size))
        broken("descriptors");
    memcpy(taken, CMSG_DATA(head), size);
}

/* So many of the words that lie one after the other; the list ends with NULL.
 */
static char **list(char **at, uint32_t count)
{
    char **words = calloc((size_t)count + 1, sizeof *words);
    if (!words)
        broken("words");
    for (uint32_t i = 0; i < count; i++) {
        words[i] = *at;
        *at += strlen(*at) + 1;
    }
    return words;
}

/* What a process gets from who started it. */
static void take_over(const struct warm_request *request, const int *taken)
{
    for (int i = 0; i <= 2; i++)
        if (dup2(taken[i], i) < 0)
            broken("descriptors");
    if (fchdir(taken[3]))
        broken("folder");
    if (close_range(3, ~0U, 0))
        broken("descriptors");
    umask(request->mask);
    for (int n = 0; n < RLIM_NLIMITS; n++)
        if (setrlimit((__rlimit_resource_t)n, &request->limits[n]))
            broken("limits");
    for (int n = 1; n <= WARM_SIGNALS; n++)
        signal(n, request->ignored >> (n - 1) & 1 ? SIG_IGN : SIG_DFL);
    sigprocmask(SIG_SETMASK, &request->blocked, NULL);
}

/* What has been registered since main has had its turn by now. What libraries
 * made while they were loaded is left: to take it down touches a page of each,
 * and takes five times as long as all else here. Sanitizers and coverage come
 * after it. */
static void end_early(int status, void *unused)
{
    (void)unused;
#ifndef WARM_WHOLE_EXIT
    fflush(NULL);
    _exit(status);
#else
    (void)status;
#endif
}

/* Words and settings stay in use until the end, as those of any program do. */
static char *words;
static char **argv_of_client;

static _Noreturn void be_foldwright(int client)
{
    struct warm_request request;
    int taken[WARM_DESCRIPTORS];
    take_request(client, &request, taken);
    words = malloc(request.length);
    if (!words || recv(client, words, request.length, MSG_WAITALL) !=
                      (ssize_t)request.length)
        broken("words");
    char *at = words;
    argv_of_client = list(&at, request.words);
    environ = list(&at, request.settings);
    take_over(&request, taken);
    on_exit(end_early, NULL);
    exit(foldwright_main((int)request.words, argv_of_client));
}

/* ---- the server ---- */

static int listening(void)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    socklen_t size = sizeof address.sun_family; /* the kernel names it */
    int listener = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (listener < 0 || bind(listener, (struct sockaddr *)&address, size) ||
        listen(listener, MOST_JOBS))
        broken("socket");
    size = sizeof address;
    if (getsockname(listener, (struct sockaddr *)&address, &size))
        broken("socket");
    size_t length = size - offsetof(struct sockaddr_un, sun_path) - 1;
    char name[sizeof address.sun_path] = "";
    memcpy(name, address.sun_path + 1, length);
    if (setenv(WARM_SOCKET, name, 1))
        broken("socket");
    return listener;
}

static struct job started(pid_t pid, int client)
{
    struct job job = {pid, pid < 0 ? -1 : pidfd_open(pid, 0), client};
    if (job.ended < 0)
        broken("a new process");
    return job;
}

static struct job start_command(char **argv)
{
    pid_t parent = getpid(), pid = fork();
    if (pid)
        return started(pid, -1);
    end_with_parent(parent, SIGTERM);
    execvp(argv[0], argv);
    broken(argv[0]);
}

/* A name of the abstract kind is open to everyone on the machine. */
static int is_ours(int client)
{
    struct ucred peer;
    socklen_t size = sizeof peer;
    return getsockopt(client, SOL_SOCKET, SO_PEERCRED, &peer, &size) == 0 &&
           peer.uid == getuid();
}

static void start_copy(int listener, struct job *jobs, size_t *count)
{
    int client = accept(listener, NULL, NULL);
    if (client < 0 || !is_ours(client)) {
        close(client);
        return;
    }
    pid_t parent = getpid(), pid = fork();
    if (pid == 0) {
        end_with_parent(parent, SIGKILL);
        be_foldwright(client);
    }
    jobs[(*count)++] = started(pid, client);
}

static void end_copy(struct job *job)
{
    int status;
    waitpid(job->pid, &status, 0);
    send(job->client, &status, sizeof status, MSG_NOSIGNAL);
    close(job->ended);
    close(job->client);
}

/* Until the command is over. */
static void serve(const struct job *command, int listener)
{
    struct job jobs[MOST_JOBS];
    size_t count = 0;
    for (;;) {
        struct pollfd look[2 + 2 * MOST_JOBS] = {
            {.fd = command->ended, .events = POLLIN},
            {.fd = count < MOST_JOBS ? listener : -1, .events = POLLIN}};
        for (size_t i = 0; i < count; i++) {
            look[2 + 2 * i] =
                (struct pollfd){.fd = jobs[i].ended, .events = POLLIN};
            look[3 + 2 * i] = (struct pollfd){.fd = jobs[i].client};
        }
        if (poll(look, 2 + 2 * count, -1) < 0 && errno != EINTR)
            broken("poll");
        if (look[0].revents)
            return;
        for (size_t i = count; i-- > 0;) {
            if (look[3 + 2 * i].revents) /* the client has been killed */
                kill(jobs[i].pid, SIGKILL);
            if (look[2 + 2 * i].revents) {
                end_copy(&jobs[i]);
                jobs[i] = jobs[--count];
            }
        }
        if (look[1].revents)
            start_copy(listener, jobs, &count);
    }
}

/* What is called in libraries is looked up once, here, and not by each copy. */
static void bind_now(char **argv)
{
    if (getenv("LD_BIND_NOW"))
        unsetenv("LD_BIND_NOW");
    else if (setenv("LD_BIND_NOW", "1", 1) || execv("/proc/self/exe", argv))
        broken("/proc/self/exe");
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        fputs("warm COMMAND [ARGUMENT...]\n", stderr);
        return WARM_BROKEN;
    }
    bind_now(argv);
    int listener = listening();
    struct job command = start_command(argv + 1);
    serve(&command, listener);
    int status;
    waitpid(command.pid, &status, 0);
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}
