/* A word to whoever waits at a terminal: for how long it has been at work, what
 * is being done, and how long that will take yet. */
#include "cli/cli.h"

#include <foldwright/progress.h>
#include <signal.h>
#include <stdatomic.h>
#include <string.h>
#include <sys/time.h>
#include <unistd.h>

enum {
    every_s = 2,
    wide = 79,      /* of a line: a terminal's last column is left alone */
    least_done = 20 /* thousandths: before that nothing is known of the rest */
};

static volatile sig_atomic_t waited_s;

/* What is being done, since when, and how many thousandths of it are. */
static const char *_Atomic doing;
static volatile sig_atomic_t since_s, done;

/* ---- the line; only write() and what touches no more than its arguments may
 * be called in a signal's handler ---- */

struct line {
    char text[wide + 1];
    size_t length;
};

static void add(struct line *line, const char *text)
{
    size_t length = strlen(text);
    if (length > wide - line->length)
        length = wide - line->length;
    memcpy(line->text + line->length, text, length);
    line->length += length;
}

static void add_number(struct line *line, int number)
{
    char digits[12];
    char *digit = digits + sizeof digits - 1;
    *digit = '\0';
    do
        *--digit = (char)('0' + number % 10);
    while ((number /= 10) > 0);
    add(line, digit);
}

static void add_span(struct line *line, int seconds)
{
    const bool long_span = seconds >= 120;
    add_number(line, long_span ? (seconds + 59) / 60 : seconds);
    add(line, long_span ? " min" : " s");
}

/* It began between two words to the terminal: on average half way. */
static int left_s(void)
{
    const int taken_s = waited_s - since_s - every_s / 2;
    return (int)((long long)taken_s * (1000 - done) / done);
}

static void tell(int signal)
{
    struct line line = {.text = "\r", .length = 1};
    (void)signal;
    waited_s += every_s;
    add(&line, "foldwright: at work, ");
    add_span(&line, waited_s);
    if (doing) {
        add(&line, "; ");
        add(&line, doing);
    }
    if (doing && done >= least_done) {
        add(&line, ": about ");
        add_span(&line, left_s());
        add(&line, " left");
    }
    while (line.length < wide)
        line.text[line.length++] = ' ';
    if (write(STDERR_FILENO, line.text, line.length) < 0)
        return; /* nobody is left to tell */
}

static void hear(const char *what, double share, void *data)
{
    (void)data;
    if (doing != what) {
        since_s = waited_s;
        doing = what;
    }
    done = (int)(1000 * share);
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
    fw_progress_hear(hear, NULL);
    sigemptyset(&action.sa_mask);
    if (sigaction(SIGALRM, &action, NULL) == 0)
        set_timer(every_s);
}

void cli_wait_end(void)
{
    const bool told = waited_s > 0;
    set_timer(0);
    fw_progress_hear(NULL, NULL);
    waited_s = 0;
    doing = NULL;
    if (told && write(STDERR_FILENO, "\n", 1) < 0)
        return;
}
