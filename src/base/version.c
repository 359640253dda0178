#include <foldwright/error.h>

/* FW_VERSION is what the build says. */
const char *fw_version(void)
{
    return FW_VERSION;
}
