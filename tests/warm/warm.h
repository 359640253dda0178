/* What the two sides of tests/warm say to each other. */
#ifndef WARM_H
#define WARM_H

#include <signal.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/resource.h>
#include <sys/types.h>

/* The environment's name for the socket: an abstract one, given by the kernel,
 * which leaves nothing behind in any folder. */
#define WARM_SOCKET "FW_WARM"

/* Comes with four descriptors: 0, 1, 2 and the folder. After it come the words
 * of the command and then those of the environment, each with its zero. The
 * answer is one int, the status as of waitpid. */
struct warm_request {
    uint32_t words, settings;
    uint64_t length;  /* bytes that follow */
    uint64_t ignored; /* bit n - 1 for signal n */
    sigset_t blocked;
    mode_t mask;
    struct rlimit limits[RLIM_NLIMITS];
};

enum { WARM_DESCRIPTORS = 4, WARM_SIGNALS = 64, WARM_BROKEN = 125 };

#endif
