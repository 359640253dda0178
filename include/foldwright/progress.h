/* How far long work has come, for whoever waits for it. */
#ifndef FW_PROGRESS_H
#define FW_PROGRESS_H

#include <foldwright/error.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What is being done, in words that last, and the share of it that is done: 0
 * to 1, never less than before while the words stay the same. */
typedef void fw_progress_told(const char *doing, double share, void *data);

/* Who hears of the work that this thread does from here on; NULL: nobody.
 * Called between the parts of the work, in this thread. */
FW_API void fw_progress_hear(fw_progress_told *told, void *data);

#ifdef __cplusplus
}
#endif
#endif
