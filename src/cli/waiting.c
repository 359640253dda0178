/* A word to whoever waits at a terminal: for how long it has been at work. */
#include "cli/cli.h"

#include <signal.h>
#include <string.h>
#include <sys/time.h>
#include <unistd.h>

enum { every_s = 2 };

static volatile sig_atomic_t waited_s;

/* Only write() may be called here. */
static void tell(int signal)
{
    static const char text[] = "\rfoldwright: at work, 00000 s ";
    char line[sizeof text];
    (void)signal;
    memcpy(line, text, sizeof text);
    waited_s += every_s;
    int rest = waited_s % 100000;
    for (char *digit = strstr(line, "00000") + 4; rest > 0; rest /= 10)
        *digit-- = (char)('0' + rest % 10);
    for (char *digit = strstr(line, ", ") + 2; *digit == '0'; digit++)
        *digit = ' ';
    if (write(STDERR_FILENO, line, sizeof line - 1) < 0)
        return; /* nobody is left to tell */
}

static void set_timer(int seconds)
{
    const struct itimerval timer = {{seconds, 0}, {seconds, 0}};
    setitimer(ITIMER_REAL, &timer, NULL);
}

void cli_wait_begin(bool quiet)
{
    struct sigaction action = {.sa_handler = tell, .sa_flags = SA_RESTART};
    if (quiet || !isatty(STDERR_FILENO))
        return;
    sigemptyset(&action.sa_mask);
    if (sigaction(SIGALRM, &action, NULL) == 0)
        set_timer(every_s);
}

void cli_wait_end(void)
{
    const bool told = waited_s > 0;
    set_timer(0);
    waited_s = 0;
    if (told && write(STDERR_FILENO, "\n", 1) < 0)
        return;
}
