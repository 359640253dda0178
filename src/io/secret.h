/* Passwords in sources, and keeping them out of whatever is shown. */
#ifndef FW_IO_SECRET_H
#define FW_IO_SECRET_H

#include <stddef.h>

#define FW_IO__SECRETS 8

/* Where the secrets of a source lie; those beyond the last run to its end. */
struct fw_io__secrets {
    struct {
        size_t from, to;
    } spans[FW_IO__SECRETS];
    size_t count;
};

struct fw_io__secrets fw_io__secrets_in(const char *source);

/* Every word of a secret of the source goes out of the text, in place. */
void fw_io__hide_secrets(const char *source, char *text);

#endif
