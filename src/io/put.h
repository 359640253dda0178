/* Temporary files on their way to their place. */
#ifndef FW_IO_PUT_H
#define FW_IO_PUT_H

/* Remember a temporary file, so that a signal can remove it. -1: no room for
 * it; the file is written all the same. */
int fw_io__remember(const char *path);
void fw_io__forget(int slot);

#endif
