/* Work tells how far it has come; work within work tells of its part. */
#ifndef FW_BASE_PROGRESS_H
#define FW_BASE_PROGRESS_H

#include <foldwright/progress.h>
#include <stddef.h>

/* The part of what is being done that is at work now. */
struct fw_progress {
    double from, to; /* 0 to 1 */
};

/* Something new is being done; `doing` lasts as long as the program. */
void fw_progress_begin(const char *doing);

/* Part `number` (from 0) of `of` equal ones of the part at work begins, and is
 * the part at work until fw_progress_leave is given what this returns. */
struct fw_progress fw_progress_enter(size_t number, size_t of);

/* That part is done; `whole` is at work again. */
void fw_progress_leave(struct fw_progress whole);

#endif
