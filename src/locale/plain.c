#include "locale/plain.h"

/* Making the "C" locale takes no memory and cannot fail on glibc and musl;
 * elsewhere the host's locale stays in force when it does. */
struct fw_locale fw_locale_enter(void)
{
    struct fw_locale now = {.own = newlocale(LC_ALL_MASK, "C", (locale_t)0)};
    if (now.own)
        now.before = uselocale(now.own);
    return now;
}

void fw_locale_leave(struct fw_locale now)
{
    if (!now.own)
        return;
    uselocale(now.before);
    freelocale(now.own);
}
